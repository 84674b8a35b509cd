"""The PDF: complete, the same bytes for the same input, nobody's markup but ours."""

import io
from datetime import date

import pdfplumber
import pypdf
import pytest

from brimfast.assess.pipeline import assess
from brimfast.reports import words
from brimfast.reports.pdf import report_bytes
from brimfast.reports.pdf_style import drawable, safe
from brimfast.shared.demo import DEMOS, demo
from tests.builders import RACK, WEIGHED, assessed

DAY = date(2026, 11, 25)


def pdf(assessment, system="us"):
    return report_bytes(assessment, "0123456789abcdef" * 4, system, DAY)


@pytest.mark.parametrize("name", DEMOS)
def test_says_everything(name):
    source = demo(name)
    assessment = assess(source.installation)
    reader = pypdf.PdfReader(io.BytesIO(pdf(assessment, source.installation.system)))
    pages = [page.extract_text() for page in reader.pages]
    text = " ".join(" ".join(pages).split())
    assert source.installation.installation in pages[0]
    assert "licensed structural engineer" in " ".join(pages[0].split())
    assert "licensed structural engineer" in " ".join(pages[-1].split())
    assert "invented" in pages[0]
    for title in words.TOPICS.values():
        if any(
            finding.topic == topic
            for topic, one in words.TOPICS.items()
            if one == title
            for finding in assessment.findings
        ):
            assert title in text
    for number in words.finding_numbers(assessment).values():
        assert number in text
    for word in ("Cautions", "Taken for granted", "Confirm before relying on it", "Calculation", "From above"):
        assert word in text
    assert f"page 1 of {len(pages)}" in pages[0]
    assert all("0123456789ab" in page and "2026-11-25" in page for page in pages)
    assert "safe" not in text.lower().replace("safe side", "")
    assert reader.metadata.title.startswith("brimfast report")
    assert len(reader.outline) >= 8


def test_same_input_same_bytes():
    assessment = assess(demo("nursery").installation)
    assert pdf(assessment) == pdf(assessment)


@pytest.mark.parametrize("name", DEMOS)
def test_nothing_leaves_the_page_or_its_table(name):
    source = demo(name)
    document = pdfplumber.open(io.BytesIO(pdf(assess(source.installation), source.installation.system)))
    for page in document.pages:
        for word in page.extract_words():
            assert word["x0"] >= 40
            assert word["x1"] <= page.width - 40
            assert word["bottom"] <= page.height - 20
            assert word["top"] >= 30


@pytest.mark.parametrize(
    "name",
    [
        '<img src="/etc/hostname"/>',
        "<b>bold</b> & <para>",
        "]]>&#65;",
        "水槽 аквариум 🐟",
        "x" * 80,
        "[red]not rich[/red]",
        "%s {0} \\n",
    ],
)
def test_names_are_text_and_nothing_else(name):
    import json

    assessment = assessed(WEIGHED.replace("name: tank", f"name: {json.dumps(name, ensure_ascii=False)}"))
    reader = pypdf.PdfReader(io.BytesIO(pdf(assessment)))
    text = "".join("".join(page.extract_text() for page in reader.pages).split())
    assert "".join(drawable(name).split()) in text
    assert not any(page.images for page in reader.pages)


def test_what_the_font_lacks_is_shown_as_a_box():
    assert drawable("tank 🐟") == "tank □"
    assert safe("<a&b>") == "&lt;a&amp;b&gt;"


def test_a_large_installation_still_fits():
    vessels = "\n".join(
        f"  - {{name: barrel {index}, kind: barrel, diameter: 1 ft, depth: 2 ft, water: 1 ft}}" for index in range(40)
    )
    text = RACK.replace("pumps:", vessels + "\npumps:").replace("joints:", "joints:")
    text = text.replace("  - {name: tank, kind: tank", vessels + "\n  - {name: tank, kind: tank")
    text = text.replace("\n" + vessels + "\npumps:", "\npumps:")
    reader = pypdf.PdfReader(io.BytesIO(pdf(assessed(text))))
    assert len(reader.pages) > 10


def test_names_with_an_underscore_are_not_taken_for_symbols():
    named = assessed(WEIGHED.replace("name: tank,", "name: tank_2,"))
    first = pypdf.PdfReader(io.BytesIO(pdf(named))).pages[0].extract_text()
    assert "tank_2" in first
    assert "S_DS" not in first  # set with a subscript
