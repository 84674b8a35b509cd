"""improve and compare as a user meets them."""

import json
import re

import pytest

from brimfast.assess.pipeline import assess
from brimfast.shared.reading import read_bytes
from tests.builders import ONE_BAY, RACK
from tests.commands import process, run
from tests.reports.test_cli import QUIET
from tests.reports.test_terminal import READ_BADLY

ROOM = """# my small room
installation: test room
site: {standard: asce7-16, S_DS: 1.0}   # from the office
room: {length: 12 ft, width: 10 ft, sill: 0.3 in}
vessels:
  # the one by the window
  - {name: tank, kind: tank, mass: 500 lb, centre_of_mass: 30 in, footprint: 48 in x 18 in, holds: 50 gal}
"""


@pytest.fixture
def room(tmp_path):
    path = tmp_path / "room.yaml"
    path.write_text(ROOM)
    return path


@pytest.fixture(scope="module")
def shown(tmp_path_factory):
    folder = tmp_path_factory.mktemp("room")
    (folder / "room.yaml").write_text(ROOM)
    done = process("improve", "room.yaml", "--write", "better.yaml", cwd=folder)
    return done, folder


@pytest.fixture(scope="module")
def told(shown):
    """The same as JSON."""
    return json.loads(run("improve", "room.yaml", "--json", cwd=shown[1]).stdout)


def test_the_plan_is_shown_in_order_on_eighty_columns(shown):
    done, _ = shown
    out = done.stdout
    order = [
        "As it stands",
        "Each measure by itself",
        "Plans",
        "Before and after",
        "What to buy",
        "How it is done",
        "Mind",
    ]
    places = [out.index(word) for word in order]
    assert places == sorted(places)
    assert all(len(line) <= 80 for line in out.splitlines())
    assert "\x1b" not in out and done.stderr == ""
    assert " safe" not in " ".join(out.split()).replace("safe side", "")
    assert "licensed" in out[:300] and "licensed" in out[-400:]


def test_plain_says_the_same_in_sentences(shown, told):
    """Every answer of the tables with its title and verdict, every measure, step and caution; no signs, no boxes."""
    _, folder = shown
    done = run("improve", "room.yaml", "--plain", cwd=folder, FORCE_COLOR="1")
    assert (done.returncode, done.stderr) == (0, "")
    lines = done.stdout.splitlines()
    assert READ_BADLY.findall(done.stdout) == [] and not any("  " in line for line in lines)
    before = [line for line in lines if "; balanced" in line]
    assert len(before) > 5
    assert all(re.search(r"before (short|close|holds|not asked|not assessed)\b", line) for line in before)
    plan = next(one for one in told["plans"] if "balanced" in one["names"])
    title = {one["id"]: one["title"] for one in told["measures"]}
    for number, measure in enumerate(plan["measures"], start=1):
        assert sum(line.startswith(f"{number}. ") and title[measure] in line for line in lines) >= 2
    for heading in ("Plans.", "Before and after.", "How it is done.", "Mind."):
        assert heading in lines
    assert not any(line.startswith("together: about") and "USD" not in line for line in lines)
    assert sum(line.startswith("together: about") for line in lines) == 1


def test_plain_and_json_exclude_each_other(room):
    for command in (("improve", room), ("doubt", room)):
        done = run(*command, "--plain", "--json")
        assert (done.returncode, done.stdout, done.stderr.count("\n")) == (2, "", 1)
        assert "--plain does not go with --json" in done.stderr


def test_compare_in_sentences(shown):
    _, folder = shown
    done = run("compare", "room.yaml", "better.yaml", "--plain", cwd=folder)
    assert done.returncode == 0
    assert READ_BADLY.findall(done.stdout) == []
    assert "\nroom.sill: A 0.3 in; B " in done.stdout
    assert "\nvessels tank anchors: A nothing; B count: 4, tension: " in done.stdout
    better = done.stdout.partition("Better in B.\n")[2].splitlines()[0]
    assert re.fullmatch(r".+[?)]:? A short.*; B (holds \d.*|not asked)\.", better)


def test_in_a_locale_of_seven_bits(shown):
    done, folder = shown
    there = done.stdout + run("compare", "room.yaml", "better.yaml", cwd=folder).stdout
    bare = {"LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"}
    here = [
        process(*words, cwd=folder, **bare)
        for words in (("improve", "room.yaml"), ("compare", "room.yaml", "better.yaml"))
    ]
    text = "".join(one.stdout for one in here)
    assert [one.stderr for one in here] == ["", ""] and text.isascii()
    assert text.count("?") == there.count("?") and text.count("->") == there.count("→") > 0


def test_one_side_only_does_not_count_as_alike(shown):
    """By hand: findings of both files with the same answer."""
    _, folder = shown
    before, after = (
        {one["id"]: (one["verdict"], one["ratio"]) for one in json.loads(done)["findings"] if not one["practice"]}
        for done in (run("check", name, "--json", cwd=folder).stdout for name in ("room.yaml", "better.yaml"))
    )
    same = sum(after.get(id) == answer for id, answer in before.items())
    told = run("compare", "room.yaml", "better.yaml", cwd=folder).stdout
    assert before.keys() - after.keys() and f"\n{same} other findings come out alike" in told


def test_what_is_written_keeps_its_comments_and_checks_as_promised(shown):
    done, folder = shown
    text = (folder / "better.yaml").read_text()
    for comment in ("# my small room", "# from the office", "# the one by the window"):
        assert comment in text
    assert done.returncode == 0, "the plan leaves nothing short"
    assert run("check", "better.yaml", cwd=folder).returncode == 0
    assert (folder / "room.yaml").read_text() == ROOM


def test_json_holds_the_figures_of_the_written_file(room, tmp_path):
    better = tmp_path / "better.yaml"
    done = run("improve", room, "--json", "--plan", "thorough", "--write", better)
    whole = json.loads(done.stdout)
    plan = next(one for one in whole["plans"] if "thorough" in one["names"])
    checked = json.loads(run("check", better, "--json").stdout)
    figures = {
        one["id"]: {"verdict": one["verdict"], "ratio": one["ratio"]}
        for one in checked["findings"]
        if not one["practice"]
    }
    assert plan["findings"] == figures
    assert whole["before"]["short"] > plan["short"] == 0
    assert {one["id"] for one in whole["measures"]} >= set(plan["measures"])
    assert all(part["tried"] == part["of"] for part in whole["search"]["parts"])


def test_exit_code_follows_the_plan(room):
    assert run("improve", room, "--plan", "cheap").returncode == 1
    assert run("improve", room, "--plan", "thorough", "--by", "cost").returncode == 0


def test_prices_that_are_not_known_are_not_weighed_against_hours(tmp_path):
    """In euros, of which the file prices only the hour: plans spare hours, and both faces say so."""
    file = tmp_path / "room.yaml"
    file.write_text(ROOM + "exposure: {currency: EUR}\nprices: {hour of work: 30}\n")
    whole = json.loads(run("improve", file, "--by", "cost", "--json").stdout)
    assert (whole["spares"], whole["asked_to_spare"]) == ("effort", "cost")
    assert 0 < whole["measures_without_a_price"] <= len(whole["measures"]) + len(whole["cannot_be_built"])
    shown = " ".join(run("improve", file, "--by", "cost").stdout.split())
    assert "plans spare hours, not money" in shown
    assert "plans spare hours, not money" not in " ".join(run("improve", file).stdout.split())


def test_a_sum_with_a_price_that_is_not_known_is_at_least_so_much(tmp_path):
    file = tmp_path / "room.yaml"
    file.write_text(ROOM + "exposure: {currency: EUR}\nprices: {door curb: 40}\n")
    whole = json.loads(run("improve", file, "--json", "--plan", "thorough").stdout)
    plan = next(one for one in whole["plans"] if "thorough" in one["names"])
    curbs = sum(need["count"] for need in plan["needs"] if need["item"] == "door curb")
    others = [need for need in plan["needs"] if need["item"] != "door curb"]
    assert curbs and others
    assert (plan["takes"]["low"], plan["takes"]["at_least"]) == (None, pytest.approx(40 * curbs))
    shown = " ".join(run("improve", file, "--plan", "thorough").stdout.split())
    assert "at least" in shown and "some prices are not known" in shown


def test_whether_a_measure_was_tried_left_out_is_said(shown, told):
    assert [plan["not_tried_without"] for plan in told["plans"]] == [0] * len(told["plans"])
    out = " ".join(shown[0].stdout.split())
    assert out.count("Each of its measures was left out in turn and is missed.") == len(told["plans"]) > 0


def test_nothing_to_do_is_said(tmp_path):
    quiet = tmp_path / "quiet.yaml"
    quiet.write_text(QUIET)
    done = run("improve", quiet)
    assert done.returncode == 0
    assert "Nothing is short or close" in done.stdout
    done = run("improve", quiet, "--write", tmp_path / "better.yaml")
    assert (done.returncode, done.stderr.count("\n")) == (0, 1)
    assert "nothing written" in done.stderr and not (tmp_path / "better.yaml").exists()


@pytest.mark.parametrize(
    ("target", "words"),
    [
        ("room.yaml", "this is the installation file"),
        ("old.yaml", "--force"),
        (".", "a folder"),
        ("no/b.yaml", "folder"),
    ],
)
def test_what_cannot_be_written_is_said_before_the_work(room, tmp_path, target, words):
    (tmp_path / "old.yaml").write_text("old")
    done = run("improve", room, "--write", tmp_path / target)
    assert (done.returncode, done.stderr.count("\n")) == (2, 1)
    assert words in done.stderr and done.stdout == ""
    assert (tmp_path / "old.yaml").read_text() == "old" and room.read_text() == ROOM


def test_force_replaces(room, tmp_path):
    (tmp_path / "old.yaml").write_text("old")
    assert run("improve", room, "--write", tmp_path / "old.yaml", "--force").returncode == 0
    assert "anchors" in (tmp_path / "old.yaml").read_text()


@pytest.mark.parametrize("option", [("--plan", "best"), ("--by", "beauty"), ("--tries", "3"), ("--jobs", "-1")])
def test_a_wrong_option_is_one_line(room, option):
    done = run("improve", room, *option)
    assert (done.returncode, done.stderr.count("\n")) == (2, 1)


def test_a_wrong_file_is_refused_at_its_place(tmp_path):
    bad = tmp_path / "bad.yaml"
    bad.write_text(ROOM.replace("48 in x 18 in", "48 x 18 in"))
    for command in (("improve", bad), ("compare", bad, bad)):
        done = run(*command)
        assert done.returncode == 2 and "bad.yaml:7:" in done.stderr
    bad.write_text(ROOM + "prices: {curb: 12}\n")
    done = run("improve", bad)
    assert done.returncode == 2 and "bad.yaml:8:" in done.stderr and "E-DATA-001" in done.stderr


def test_compare_shows_keys_and_answers_that_differ(shown):
    _, folder = shown
    done = run("compare", "room.yaml", "better.yaml", cwd=folder)
    assert done.returncode == 0
    out = " ".join(done.stdout.split())
    assert "room.sill" in out and "vessels['tank'].anchors" in out and "Better in B" in out
    assert all(len(line) <= 80 for line in done.stdout.splitlines())
    back = run("compare", "better.yaml", "room.yaml", cwd=folder)
    assert back.returncode == 1 and "Worse or new in B" in back.stdout
    same = run("compare", "room.yaml", "room.yaml", cwd=folder)
    assert "The files say the same" in same.stdout and "No finding that matters" in same.stdout


def test_things_are_matched_by_their_names(tmp_path):
    """Another order alone changes nothing; a vessel more is one line."""
    one, other = tmp_path / "one.yaml", tmp_path / "other.yaml"
    barrel = "  - {name: barrel, kind: barrel, mass: 90 lb, centre_of_mass: 9 in, footprint: 20 in x 20 in}\n"
    one.write_text(ROOM)
    head, tank = ROOM.split("vessels:\n")
    other.write_text(f"{head}vessels:\n{barrel}{tank}")
    out = run("compare", one, other).stdout
    assert "vessels['barrel']" in out and "vessels['tank']" not in out


def test_a_rack_with_few_tries(tmp_path):
    """Bolts, braces and anchors: not all sets are tried, and it says so; its file is what it promised."""
    rack, better = tmp_path / "rack.yaml", tmp_path / "better.yaml"
    rack.write_text(ONE_BAY)
    done = run("improve", rack, "--tries", "8", "--jobs", "1", "--json", "--plan", "thorough", "--write", better)
    whole = json.loads(done.stdout)
    part = next(one for one in whole["search"]["parts"] if one["part"] == "rack r")
    assert part["tried"] < part["of"] and part["cheapest_untried"] is not None
    plan = next(one for one in whole["plans"] if "thorough" in one["names"])
    found = assess(read_bytes(better.read_bytes(), "better.yaml").installation)
    assert {one.id: one.ratio for one in found.findings if not one.practice} == {
        id: one["ratio"] for id, one in plan["findings"].items()
    }
    assert plan["shortfall"] < whole["before"]["shortfall"]


@pytest.mark.parametrize("ending", ["\n", "\r\n"])
def test_what_is_written_differs_in_the_changed_lines_only(tmp_path, ending):
    """Byte order mark and line ends stay."""
    one, other = tmp_path / "one.yaml", tmp_path / "other.yaml"
    one.write_bytes(b"\xef\xbb\xbf" + ROOM.replace("\n", ending).encode())
    assert run("improve", one, "--write", other).returncode == 0
    before, after = one.read_bytes().split(b"\n"), other.read_bytes().split(b"\n")
    changed = [old for old, new in zip(before, after, strict=True) if old != new]
    assert [b"room:" in line or b"name: tank" in line for line in changed] == [True, True]
    assert other.read_bytes().count(b"\r\n") == one.read_bytes().count(b"\r\n")


def test_names_keep_the_owners_spelling(tmp_path):
    path = tmp_path / "room.yaml"
    path.write_text(ROOM.replace("name: tank", "name: t0"))
    out = run("improve", path).stdout
    assert ". t0: " in out and "T0" not in out
    assert "The doorway: " in out


FOREIGN = {"si": r"\d ?(in|ft|lb|gal|psf|gal/min)\b", "us": r"\d ?(mm|cm|kg|kN|N|kPa|L|L/min)\b"}


@pytest.mark.parametrize("units", ["us", "si"])
def test_improve_speaks_the_units_that_are_asked_for(tmp_path, units):
    """In what is said, bought and done; the file keeps its own units, and what is written checks as promised."""
    rack, better = tmp_path / "rack.yaml", tmp_path / "better.yaml"
    rack.write_text(RACK.replace("beam_runs: each bay", "beam_runs: each bay\n    wall_gap: 2.5 in"))
    options = ("--tries", "8", "--jobs", "1", "--units", units, "--write", better)
    out = run("improve", rack, *options).stdout
    assert "What to buy" in out and "How it is done" in out
    assert not re.search(FOREIGN[units], out)
    found = read_bytes(better.read_bytes(), "better.yaml").installation
    assert found.system == "us" and found != read_bytes(rack.read_bytes(), "rack.yaml").installation


def test_a_requirement_stays_one_in_the_written_file(shown):
    _, folder = shown
    out = " ".join(run("check", "better.yaml", "--all", cwd=folder).stdout.split())
    assert "Anchors that are not yet confirmed" in out and "against a required value" in out
    whole = json.loads(run("check", "better.yaml", "--json", cwd=folder).stdout)
    assert any("not yet confirmed" in one["title"] for one in whole["cautions"])
    anchors = [
        one for one in whole["findings"] if one["id"].startswith("anchors/") and one["capacity"] and one["unit"] == "N"
    ]
    assert anchors and all("not yet confirmed" in one["details"]["allowable value"] for one in anchors)
    assert not any(
        "not yet confirmed" in one["title"]
        for one in json.loads(run("check", "room.yaml", "--json", cwd=folder).stdout)["cautions"]
    )
