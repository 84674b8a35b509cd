"""The PDF: complete, the same bytes for the same input, nobody's markup but ours."""

import json

import pypdfium2
import pytest
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.platypus import CondPageBreak, KeepTogether, PageBreak, Paragraph

from brimfast.reports import choice
from brimfast.reports.equations import step_markup
from brimfast.reports.pdf_calculation import engineer
from brimfast.reports.pdf_flow import BODY, H1, H2, KEYED, PART, QUIET_SMALL, plain
from brimfast.reports.pdf_parts import findings
from brimfast.reports.pdf_style import REGULAR, drawable, safe
from brimfast.reports.sheet import sheet
from brimfast.shared.demo import DEMOS, demo
from brimfast.shared.findings import step
from tests.builders import RACK, TIERS, WEIGHED, assessed, assessed_demo
from tests.reported import assessed_of, pages_of, pdf, pdf_of, reader, reader_of


@pytest.mark.parametrize("name", DEMOS)
def test_says_everything(name):
    assessment, installation = assessed_demo(name), demo(name).installation
    found, pages = reader_of(name, installation.system), pages_of(name, installation.system)
    text = " ".join(" ".join(pages).split())
    assert installation.installation in pages[0]
    assert "licensed structural engineer" in " ".join(pages[0].split())
    assert "licensed structural engineer" in " ".join(pages[-1].split())
    assert "invented" in pages[0]
    for title in choice.TOPICS.values():
        if any(
            finding.topic == topic
            for topic, one in choice.TOPICS.items()
            if one == title
            for finding in assessment.findings
        ):
            assert title in text
    for number in choice.finding_numbers(assessment).values():
        assert number in text
    for word in ("Cautions", "Taken for granted", "Confirm before relying on it", "Calculation", "From above"):
        assert word in text
    assert f"page 1 of {len(pages)}" in pages[0]
    assert all("0123456789ab" in page and "2026-11-25" in page for page in pages)
    assert "safe" not in text.lower().replace("safe side", "")
    assert found.metadata.title.startswith("brimfast report")
    assert len(found.outline) >= 8


def test_same_input_same_bytes():
    assert pdf(assessed_demo("nursery")) == pdf_of("nursery")


@pytest.mark.parametrize("what", [*DEMOS, TIERS], ids=[*DEMOS, "tiers"])
def test_nothing_leaves_the_page_or_its_table(what):
    """By the box of each letter, as a reader of somebody else's places it."""
    system = assessed_of(what).installation.system
    letters = 0
    for page in pypdfium2.PdfDocument(pdf_of(what, system)):
        width, height = page.get_size()
        text = page.get_textpage()
        for index in range(text.count_chars()):
            if text.get_text_range(index, 1).strip():
                letters += 1
                left, bottom, right, top = text.get_charbox(index, loose=True)
                assert left >= 40 and right <= width - 40
                assert bottom >= 20 and top <= height - 30
    assert letters == sum(len("".join(page.split())) for page in pages_of(what, system))


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
    assessment = assessed(WEIGHED.replace("name: tank", f"name: {json.dumps(name, ensure_ascii=False)}"))
    pages = reader(pdf(assessment)).pages
    text = "".join("".join(page.extract_text() for page in pages).split())
    assert "".join(drawable(name).split()) in text
    assert not any(page.images for page in pages)


@pytest.mark.parametrize("text", ["plain  words,\n on two lines ", "a < b & c > d", "", "tank 🐟 \u202e", "x" * 300])
def test_text_that_is_no_markup_is_set_as_a_parser_would_set_it(text):
    """The same pieces with the same looks, the same lines; asked again for a width, or for another, the same as at first."""
    for style in (BODY, QUIET_SMALL):
        mine, parsed = plain(text, style), Paragraph(safe(text), style)
        assert [vars(one) for one in mine.frags] == [vars(one) for one in parsed.frags]
        for width in (300, 300, 90, 300):
            assert mine.wrap(width, 500) == parsed.wrap(width, 500)
            assert len(mine.blPara.lines) == len(parsed.blPara.lines)
        assert len(mine.split(90, 30)) == len(parsed.split(90, 30))


def test_words_are_as_wide_as_their_letters():
    font = pdfmetrics.getFont(REGULAR)
    for text, size in (("through-bolt", 8.0), ("through-bolt", 8.0), ("through-bolt", 9.5), ("", 8.0)):
        assert font.stringWidth(text, size) == TTFont.stringWidth(font, text, size)


def test_what_the_font_lacks_is_shown_as_a_box():
    assert drawable("tank 🐟") == "tank □"
    assert safe("<a&b>") == "&lt;a&amp;b&gt;"


def test_a_large_installation_still_fits():
    barrels = "".join(
        f"  - {{name: barrel {index}, kind: barrel, diameter: 1 ft, depth: 2 ft, water: 1 ft}}\n" for index in range(40)
    )
    assessment = assessed(RACK.replace("  - {name: tank, kind: tank", barrels + "  - {name: tank, kind: tank"))
    assert len(assessment.vessels) == 42
    assert len(reader(pdf(assessment)).pages) > 10


def test_names_with_an_underscore_are_not_taken_for_symbols():
    named = assessed(WEIGHED.replace("name: tank,", "name: tank_2,"))
    first = reader(pdf(named)).pages[0].extract_text()
    assert "tank_2" in first
    assert "S_DS" not in first  # set with a subscript


@pytest.mark.parametrize("text", [RACK, TIERS, WEIGHED])
def test_no_heading_can_stand_alone_at_the_foot_of_a_page(text):
    """Before each stands a page's beginning or the demand for room below, or it is bound to what follows."""
    assessment = assessed(text)
    numbered = sheet(assessment)
    story = [*findings(assessment, numbered, "us", 500), *engineer(assessment, numbered, "us", 500)]
    styles = (PART, H1, H2, KEYED)
    heads = [index for index, one in enumerate(story) if isinstance(one, Paragraph) and one.style in styles]
    assert len(heads) > 6
    for index in heads:
        assert isinstance(story[index - 1], (CondPageBreak, PageBreak)), story[index].text
    bound = [one._content for one in story if isinstance(one, KeepTogether)]
    assert all(not isinstance(one[-1], Paragraph) or one[-1].style not in styles for one in bound)


def test_what_a_frame_leaves_of_a_zero_is_not_printed():
    line = step("N", "A + B + C", {"A": (-7.8e-4, "N"), "B": (2e-9, "N·m"), "C": (1.7e-7, "rad")}, (-4e-10, "N"))
    for system in ("us", "si"):
        assert "0.000" not in " ".join(step_markup(line, system))


def test_anchors_that_are_only_required_are_said_to_be():
    required = WEIGHED.replace(
        "holds: 50 gal",
        "holds: 50 gal, anchors: {count: 4, tension: 900 lb, shear: 900 lb, source: 'required: by the plan'}",
    )
    published = required.replace("required: by the plan", "table 3 of the maker")
    for text, there in ((required, True), (published, False)):
        assessment = assessed(text)
        pages = reader(pdf(assessment)).pages
        said = " ".join(" ".join(page.extract_text() for page in pages).split())
        assert ("Anchors that are not yet confirmed" in said) == there
        assert ("against a required value" in said) == there
        assert ("allowable value: table 3" in said) != there
        named = [value for value in assessment.values_to_confirm() if value.provenance == "required, not confirmed"]
        assert bool(named) == there
