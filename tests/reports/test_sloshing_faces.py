"""What the faces say of sloshing: both pushes, which is used, splash beside failing vessels."""

import io
import json
from datetime import date

import pypdf
import pytest

from brimfast.reports import choice, spill_words, words
from brimfast.reports.json_face import as_json
from brimfast.reports.pdf import report_bytes
from brimfast.reports.terminal import print_assessment
from brimfast.reports.terminal_parts import console
from tests.builders import RACK, WEIGHED, assessed, found

ANCHORED = RACK.replace(
    "depth: 30 in, water: 27 in",
    "depth: 30 in, water: 27 in, anchors: {count: 6, tension: 20000 lb, shear: 20000 lb, source: t}",
)


def terminal(assessment):
    out = io.StringIO()
    screen = console(out)
    screen.width = 100
    print_assessment(assessment, "us", screen)
    return " ".join(out.getvalue().split())


def pdf(assessment):
    pages = pypdf.PdfReader(io.BytesIO(report_bytes(assessment, "0" * 64, "us", date(2026, 11, 25)))).pages
    return " ".join(" ".join(page.extract_text() for page in pages).split())


@pytest.fixture(scope="module")
def anchored():
    return assessed(ANCHORED)


@pytest.mark.parametrize("face", [terminal, pdf])
def test_text_faces(face, anchored):
    text = face(anchored)
    for part in (
        "Sloshing",
        "with all water rigid (the former is used)",
        "What stands by these checks can still splash",
        *(("throws waves over the rim of tank",) if face is pdf else ()),  # the terminal has the larger ones
    ):
        assert part in text, part


def test_json(anchored):
    result = json.loads(as_json(anchored, "si"))
    wave = result["sloshing"]["waves"][0]
    finding = found(anchored, "slosh/tank/any")
    assert wave["vessel"] == "tank"
    assert wave["wave"] == pytest.approx(1000 * finding.demand)
    assert wave["moves_along"] + wave["sloshes"] == pytest.approx(wave["free_water"], rel=0.12)
    body = result["sloshing"]["bodies"][0]
    assert body["force"] > body["force_all_rigid"] > 0
    spill = result["spill"]
    assert spill["splashing_vessels"] == ["tank"]
    event = next(one for one in spill["events"] if one["kind"] == "slosh")
    assert event["volume"] == pytest.approx(spill["splash_volume"]) == pytest.approx(wave["thrown_over"])


def test_no_waves_no_table():
    assert assessed(WEIGHED).waves == ()
    assert "wave to and fro" not in terminal(assessed(WEIGHED))


def test_plain_sentence(anchored):
    finding = found(anchored, "slosh/tank/any")
    assert choice.danger(finding) == "splashes"
    assert words.sentence(finding, "us") == (
        "waves could rise 27 in above the water at rest; 3 in is free up to the rim: it splashes over."
    )
    assert "can still splash" in spill_words.what_water_does(anchored, "us")
