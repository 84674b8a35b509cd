"""doubt as a user meets it, and ranges in a file that is checked."""

import json
import subprocess
import sys
from dataclasses import replace
from types import SimpleNamespace

import pytest

from brimfast.assess.measures.measure import takes
from brimfast.reports import doubt_words
from brimfast.reports.blocks import Line
from brimfast.reports.doubt_content import chances
from brimfast.reports.doubt_terminal import doubt_blocks
from brimfast.reports.doubting import PlanDoubt
from tests.commands import ENVIRONMENT, process, run
from tests.planned import doubted_tank
from tests.reports.test_terminal import READ_BADLY

ROOM = """# my small room
installation: test room
units: us
site: {standard: asce7-16, S_DS: 0.8 to 1.2}
room: {length: 12 ft, width: 10 ft, sill: 1 in}
vessels:
  - {name: tall, kind: tank, mass: 300 lb, centre_of_mass: 24 in, footprint: 18 in x 24 in, holds: 25 gal}
  - {name: low, kind: tank, length: 30 in, width: 30 in, depth: 20 in, water: 13 to 15 in}
exposure: {flooring: carpet}
"""


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    path = tmp_path_factory.mktemp("room")
    (path / "room.yaml").write_text(ROOM)
    anchors = "holds: 25 gal, anchors: {count: 4, tension: 2000 lb, shear: 2000 lb, source: x}"
    held = ROOM.replace("holds: 25 gal", anchors)
    (path / "anchored.yaml").write_text(held)
    (path / "held.yaml").write_text(held.replace("13 to 15 in", "6 to 8 in"))
    return path


@pytest.fixture(scope="module")
def told(folder):
    return process("doubt", "room.yaml", "--samples", "4000", "--jobs", "1", cwd=folder)


@pytest.fixture(scope="module")
def data(folder):
    done = run("doubt", "room.yaml", "--against", "held.yaml", "--json", "--samples", "4000", "--jobs", "1", cwd=folder)
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


def test_one_screen_in_order_on_eighty_columns(told):
    out = told.stdout
    assert told.returncode == 0 and told.stderr == ""
    order = [
        "In the design earthquake",
        "What may happen",
        "Which limits are passed",
        "What to measure first",
        "How sure these figures are",
        "What was taken as not known",
        "Not in it",
    ]
    places = [out.index(word) for word in order]
    assert places == sorted(places)
    assert all(len(line) <= 80 for line in out.splitlines())
    assert "\x1b" not in out and "licensed" in out[:300] and "licensed" in out[-300:]
    assert " safe" not in " ".join(out.split()).replace("safe side", "")


def test_plain_says_the_same_in_sentences(folder):
    done = run(
        "doubt", "room.yaml", "--against", "held.yaml", "--plain", "--samples", "4000", "--jobs", "1", cwd=folder
    )
    assert (done.returncode, done.stderr) == (0, "")
    lines = done.stdout.splitlines()
    assert READ_BADLY.findall(done.stdout) == [] and not any("  " in line for line in lines)
    tips = [line for line in lines if line.startswith("something falls, or a rack begins to tip: design earthquake ")]
    assert tips and all("; in a year " in line for line in tips)
    limits = [line for line in lines if "; driven by " in line]
    assert limits and all("ratio " in line and "chance " in line and "changed " in line for line in limits)


def test_what_to_measure_first_is_told(told, data):
    """Each unknown that matters, by its share, with how it is measured."""
    part = " ".join(told.stdout.partition("What to measure first")[2].partition("How sure")[0].split())
    assert "% of what is open): " in part
    assert part.startswith("1. ")
    assert part.removeprefix("1. ").startswith(data["measure_first"][0]["name"])


def test_every_spread_is_told_with_where_it_is_from(told, data):
    words = " ".join(told.stdout.split())
    assert "the shaking itself" in words and "0.8 to 1.2 given in the file" in words
    for one in data["unknowns"]:
        assert one["source"] and one["provenance"] in (
            "published",
            "from memory",
            "common practice, no source",
            "given in the file",
        )
    assert {one["name"] for one in data["unknowns"]} >= {"site.S_DS", "vessels['low'].water"}


def test_chances_are_chances_and_shares_are_shares(data):
    for side in (data, data["changed"]):
        for one in side["limits"]:
            assert 0 <= one["chance"] <= 1 and one["standard_error"] >= 0
            assert all(0 <= share <= 1 for share in one["shares"].values())
        assert data["outcomes"]["joints"] is None  # there are none
        for name in ("tips", "water"):
            outcome = side["outcomes"][name]
            assert 0 <= outcome["yearly"] <= outcome["in_ten_years"] <= 1
        assert side["samples"] >= 4000 and len(side["convergence"]) == 3


def test_the_changed_file_stands_beside(data, folder):
    before, after = data["outcomes"], data["changed"]["outcomes"]
    assert after["tips"]["yearly"] < before["tips"]["yearly"]
    assert after["water"]["yearly"] < before["water"]["yearly"]
    assert after["cost"]["yearly_mean"] < before["cost"]["yearly_mean"]
    done = run("doubt", "room.yaml", "--against", "held.yaml", "--samples", "4000", "--jobs", "1", cwd=folder)
    assert "changed" in done.stdout and "What the change does" in done.stdout
    assert "less" in done.stdout[done.stdout.index("What the change does") :][:400]
    (folder / "weak.yaml").write_text((folder / "anchored.yaml").read_text().replace("2000 lb", "40 lb"))
    weak = run("doubt", "room.yaml", "--against", "weak.yaml", "--samples", "2000", "--jobs", "1", cwd=folder)
    listed = weak.stdout[weak.stdout.index("Which limits") : weak.stdout.index("What to measure")]
    assert "not asked" in listed  # also what only the changed file asks
    assert all(len(line) <= 80 for line in done.stdout.splitlines())


def test_the_seed_repeats(folder, told):
    again = run("doubt", "room.yaml", "--samples", "4000", "--jobs", "1", cwd=folder)
    other = run("doubt", "room.yaml", "--samples", "4000", "--jobs", "1", "--seed", "2", cwd=folder)
    assert again.stdout == told.stdout != other.stdout


def test_plans_with_what_they_take_off(folder):
    done = run("doubt", "room.yaml", "--plans", "--samples", "2000", "--jobs", "1", cwd=folder)
    assert done.returncode == 0, done.stderr
    part = done.stdout[done.stdout.index("What each plan takes off") :]
    assert "as it stands" in part and "balanced" in part and "for parts" in part


def test_a_plan_that_costs_water_is_said_to_add():
    found = replace(doubted_tank(), yearly_loss=100.0)
    free = takes((), found.installation)
    improvement = SimpleNamespace(assessment=found)
    for after, says in (
        (150.0, "adds USD 50 to the mean"),
        (40.0, "takes USD 60 off the mean"),
        (101.0, "takes nothing off the mean"),
        (99.0, "takes nothing off the mean"),
    ):
        one = PlanDoubt(SimpleNamespace(names=("cheap",), takes=free), replace(found, yearly_loss=after))
        assert says in doubt_words.plan_text(found, one, improvement)


def test_a_standard_error_is_no_bound():
    assert "no more than" not in doubt_words.accuracy_text(doubted_tank())


def test_limits_that_are_not_assessed_are_always_counted():
    """Also where every limit is listed."""
    found = doubted_tank()
    listed = replace(found, limits=tuple(replace(one, chance=0.5) for one in found.limits[:3]), not_assessed=2)
    lines = [block.text for block in doubt_blocks(listed, None, "us") if isinstance(block, Line)]
    assert "2 limits are not assessed." in lines
    assert chances(listed, "us", 9).limits_note.endswith(" 2 limits are not assessed.")
    assert chances(listed, "us", 2).limits_note.endswith(" 1 more is less likely; 2 limits are not assessed.")


def test_another_installation_is_said_to_be_one(folder):
    (folder / "other.yaml").write_text(ROOM.replace("test room", "other room").replace("0.8 to 1.2", "0.5"))
    done = run("doubt", "room.yaml", "--against", "other.yaml", "--samples", "2000", "--jobs", "1", cwd=folder)
    words = " ".join(done.stdout.split())
    assert "called 'other room'" in words and "do not compare" in words


def test_closed_and_broken_output(folder):
    command = f"{sys.executable} -m brimfast doubt room.yaml --samples 2000 --jobs 1"
    for end in (" >&-", " | head -n 1 >/dev/null; exit ${PIPESTATUS[0]}"):
        done = subprocess.run(
            ["bash", "-c", command + end], cwd=folder, capture_output=True, text=True, env=ENVIRONMENT, check=False
        )
        assert done.returncode == 0 and "fault" not in done.stderr, (end, done.stderr)


def test_comparing_standards_says_that_it_is_of_the_middle(folder):
    done = run("check", "room.yaml", "--standard", "asce7-22", cwd=folder)
    assert "both stand at their middle" in " ".join(done.stdout.split())


def test_metric(folder):
    done = run("doubt", "room.yaml", "--units", "si", "--samples", "2000", "--jobs", "1", cwd=folder)
    assert " L " in done.stdout and " gal" not in done.stdout


def test_check_tells_of_the_ends(folder):
    done = run("check", "room.yaml", "--all", cwd=folder)
    words = " ".join(done.stdout.split())
    assert "Numbers given as ranges" in words and "with site.S_DS at its upper end" in words


def test_short_at_an_end_alone_counts(tmp_path):
    text = """
installation: flat tank
site: {standard: asce7-16, S_DS: 0.05 to 0.5}
room: {length: 12 ft, width: 10 ft, sill: 12 in}
vessels:
  - {name: flat, kind: tank, mass: 300 lb, centre_of_mass: 18 in, footprint: 24 in x 24 in, holds: 0.1 gal,
     friction: {low: 0.35, high: 0.5}}
"""
    (tmp_path / "a.yaml").write_text(text)
    (tmp_path / "b.yaml").write_text(text.replace("0.05 to 0.5", "0.275"))
    ranged, middle = run("check", "a.yaml", "--all", cwd=tmp_path), run("check", "b.yaml", "--all", cwd=tmp_path)
    assert "at its upper end" in " ".join(ranged.stdout.split())
    assert (middle.returncode, ranged.returncode) == (0, 1)


@pytest.mark.parametrize(
    "old,new,says",
    [
        ("13 to 15 in", "15 to 13 in", "room.yaml:8:"),
        ("13 to 15 in", "13 to 25 in", "at the upper end of the range: found water deeper"),
        ("0.8 to 1.2", "0.8 to 9", "from 0.01 to 4"),
        ("exposure:", "doubt: {hazard: [1 once in 500 years]}\nexposure:", "one point of the hazard"),
        ("exposure:", "doubt: {hazard: [1 once in 500 years, 0.5 once in 900 years]}\nexposure:", "out of order"),
        ("exposure:", "doubt: {hazard: [often, rarely]}\nexposure:", "0.5 once in 100 years"),
        ("exposure:", "doubt: {slope: 3, hazard: [0.5 once in 9 years, 1 once in 90 years]}\nexposure:", "one way"),
        ("exposure:", "doubt: {shaking: 900 %}\nexposure:", "from 1 % to 150 %"),
        ("exposure:", "doubt: {shaking: 20 to 40 %}\nexposure:", "a spread is one number"),
        ("exposure:", "doubt: {hazard: [0.3 once in 50 years, 0.31 once in 999999 years]}\nexposure:", "no steeper"),
        ("exposure:", "doubt: {hazard: [10 once in 50 years, 20 once in 100 years]}\nexposure:", "on either side"),
        ("S_DS: 0.8 to 1.2", "S_DS: 1, importance: 1 to 1.5", "found importance 1 to 1.5; expected 1.0 or 1.5"),
        ("exposure:", "doubt: {wind: 3 %}\nexposure:", "unknown key"),
    ],
)
def test_bad_input_is_one_clear_line(tmp_path, old, new, says):
    assert old in ROOM
    (tmp_path / "room.yaml").write_text(ROOM.replace(old, new))
    for command in ("check", "doubt"):
        done = run(command, "room.yaml", cwd=tmp_path)
        assert done.returncode == 2 and done.stdout == "", command
        assert says in done.stderr and "Traceback" not in done.stderr
