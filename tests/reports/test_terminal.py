"""The terminal: one screen first, the rest on demand, the same for those who listen."""

import io
import re
from itertools import product

import pytest

from brimfast.reports import choice, summary_words, words
from brimfast.reports.cli import Topic
from brimfast.reports.encodings import INSTEAD
from brimfast.reports.plain_terminal import finding_sentence, plain_text, spoken
from brimfast.reports.terminal import print_blocks
from brimfast.reports.terminal_blocks import everything, topics_of
from brimfast.reports.terminal_parts import console
from brimfast.reports.terminal_summary import rest_of, summary
from brimfast.shared import findings
from brimfast.shared.demo import DEMOS
from tests.builders import RACK, TIERS, WEIGHED, assessed, assessed_demo
from tests.commands import process, run
from tests.reports.test_cli import QUIET

FLAT = "mass: 300 lb, centre_of_mass: 18 in, footprint: 24 in x 24 in, holds: 0.1 gal, friction: {low: 0.35, high: 0.5}"
READ_BADLY = re.compile(r"[^\w\s.,;:?!()'\"/%+<>=&^@#*$-]|[^\x00-\x7f]")


@pytest.fixture(scope="module", params=[*DEMOS, "rack", "tiers", "weighed", "quiet"])
def assessment(request):
    texts = {"rack": RACK, "tiers": TIERS, "weighed": WEIGHED, "quiet": QUIET}
    name = request.param
    return assessed(texts[name]) if name in texts else assessed_demo(name)


def shown(blocks, width=80, system="us"):
    out = io.StringIO()
    screen = console(out)
    screen.width = width
    print_blocks(blocks, system, screen)
    return out.getvalue()


def first(assessment, width=80, system="us"):
    return summary(assessment, system, rest_of("room.yaml", assessment), width)


def test_the_summary_is_one_screen(assessment):
    for system in ("us", "si"):
        lines = shown(first(assessment, 80, system), 80, system).splitlines()
        assert 12 <= len(lines) <= 30
        assert all(len(line) <= 80 for line in lines)


def test_the_summary_says_what_matters_in_its_order(assessment):
    text = " ".join(shown(first(assessment)).split())
    number = choice.counts(assessment)
    expected = [assessment.installation.installation, summary_words.headline(assessment), f"{number['short']} short"]
    worst, steps = choice.worst(assessment), summary_words.first_steps(assessment)
    expected += ["Worst first"] * bool(worst) + ["Do first"] * bool(steps)
    expected += ["--all", "--topic", "report room.yaml", "improve room.yaml", words.DEFER]
    places = [text.index(" ".join(one.split())) for one in expected]
    assert places == sorted(places)
    for finding in worst:
        assert (
            f"{words.MARKS[finding.verdict]} {choice.DANGERS[choice.danger(finding)]}, {words.how_much(finding)}"
            in text
        )
        assert f"{finding.subject}. {finding.question}" in text
    for step in steps:
        assert words.capital(step.measure) in text
    assert " safe" not in text.replace("safe side", "")


def test_three_to_five_of_the_worst(assessment):
    """As many as leave it on one screen; three where names are long."""
    marks = [line for line in shown(first(assessment)).splitlines() if re.match("  [✗~] ", line)]
    assert len(marks) == len(choice.worst(assessment, len(marks)))
    assert len(marks) >= min(3, len(choice.worst(assessment, 3))) and len(marks) <= 5
    narrow = shown(first(assessment, 40), 40)
    assert "Worst first" not in narrow or sum(bool(re.match("  [✗~] ", line)) for line in narrow.splitlines()) >= min(
        3, len(choice.worst(assessment, 3))
    )


@pytest.mark.parametrize(
    "demand,capacity,says",
    [(104.0, 100.0, "a little over"), (231.0, 100.0, "2.3 times the limit"), (99.0, 100.0, "99 % used")],
)
def test_how_much_is_over_in_a_word(demand, capacity, says):
    assert words.how_much(findings.finding("x/y", "floor", "y", "Does it?", demand, capacity, "force", "")) == says
    assert (
        words.how_much(findings.finding("x/y", "spill", "y", "Does it?", 5.0, 0.0, "volume", "")) == "nothing holds it"
    )


@pytest.mark.parametrize(
    "demand,says", [(0.2, ": 2 times as much."), (0.105, ": a little more than that."), (0.08, " is held or drained.")]
)
def test_too_much_water_is_told_as_a_multiple_of_what_is_held(demand, says):
    told = words.sentence(findings.finding("x/y", "spill", "y", "Does it?", demand, 0.1, "volume", ""), "si")
    assert told.endswith(f"100 L is held or drained{says}" if ":" in says else says)
    assert "too much" not in told


def test_all_shows_every_finding_and_caution(assessment):
    text = " ".join(shown(everything(assessment, "us"), 4000).split())
    order = ["Weights", "Design earthquake", "Cautions", "Taken for granted", "For a landlord"]
    places = [text.index(word) for word in order]
    assert places == sorted(places)
    for finding in assessment.findings:
        assert " ".join(finding.question.split()) in text and finding.subject in text
        if finding.verdict == "not assessed":
            assert finding.reason in text
    for caution in assessment.cautions:
        assert " ".join(caution.text.split()) in text
    assert all(len(line) <= 80 for line in shown(everything(assessment, "us")).splitlines())


def test_topics_can_be_chosen_and_are_those_of_the_findings():
    assert {one.value for one in Topic} == {*choice.TOPICS, "weights", "earthquake", "cautions"}


def test_the_topics_together_show_every_table(assessment):
    """What `--all` shows in tables, the single topics show as well."""
    together = shown(topics_of([one.value for one in Topic], assessment, "us"))
    for line in shown(everything(assessment, "us")).splitlines():
        if "─" in line or re.search(r"[✗✓~] (short|holds|close)$", line.rstrip()):
            assert line in together


@pytest.mark.parametrize("topic", [one.value for one in Topic])
def test_a_topic_shows_its_findings_and_no_others(topic):
    assessment = assessed(TIERS)
    text = shown(topics_of([topic], assessment, "us"), 4000)
    assert summary_words.headline(assessment) in text
    own = [finding for finding in assessment.findings if finding.topic == topic]
    assert text.count("ratio  verdict") == bool(own)
    for finding in own:
        assert finding.question in text
    if topic in choice.TOPICS and not own:
        assert "so nothing was checked" in text
    once = topics_of([topic, topic], assessment, "us")
    assert once == topics_of([topic], assessment, "us")


def test_plain_has_one_sentence_a_finding_and_no_signs(assessment):
    text = plain_text(everything(assessment, "us"), "us")
    lines = text.splitlines()
    for finding in assessment.findings:
        line = spoken(finding_sentence(finding, "us"))
        assert line in lines
        assert (finding.verdict in line.lower()) and finding.question in line
    assert READ_BADLY.findall(text) == []
    assert not any("  " in line for line in lines)
    brief = plain_text(first(assessment), "us")
    assert READ_BADLY.findall(brief) == []
    assert summary_words.headline(assessment) in brief and "close," in brief


def test_signs_are_spoken_as_words():
    for written, said in (
        ("3,880 lb·ft acts", "3,880 lb ft acts"),
        ("12 N·m", "12 N m"),
        ("356 ft²", "356 square ft"),
        ("62.4 lb/ft³", "62.4 lb per cubic ft"),
        ("22.9 gal/min", "22.9 gal per min"),
        ("S_DS 1 g", "S DS 1 g"),
        ("2020–2026 – or later", "2020 to 2026, or later"),
        ("24 × 30 in", "24 by 30 in"),
        ("90° bend", "90 degrees bend"),
        ("tank_2 and/or my barrel", "tank_2 and/or my barrel"),
        ("aₙ h₁", "aₙ h1"),
        ("vessels['low tank'].water 46 %", "vessels low tank water 46 %"),
        ("2.31 → 0.77", "2.31 then 0.77"),
        ("all that is not `holds`", "all that is not holds"),
        ("{count: 4, source: x}", "count: 4, source: x"),
    ):
        assert spoken(written) == said


def test_options_that_exclude_each_other_are_one_line(rack):
    for one, other in [*product(("--all", "--plain", "--topic=floor"), ("--json", "--standard=nbc2020"))]:
        done = run("check", rack, one, other)
        assert (done.returncode, done.stdout) == (2, "")
        assert done.stderr.count("\n") == 1 and "does not go with" in done.stderr
    done = run("check", rack, "--all", "--topic", "floor")
    assert done.returncode == 2 and "expected it or --topic" in done.stderr
    assert run("check", rack, "--topic", "flor").returncode == 2


def test_as_a_user_calls_it(rack):
    for options in ((), ("--all",), ("--topic", "joints", "--topic", "floor"), ("--plain",), ("--all", "--plain")):
        done = (run if options else process)("check", rack, *options)
        assert done.returncode == 1 and done.stderr == "", options
        assert "come out short" in " ".join(done.stdout.split())
        assert "\x1b" not in done.stdout
    summary_of_it = run("check", rack.name, cwd=rack.parent).stdout
    assert len(summary_of_it.splitlines()) <= 30
    assert "brimfast check rack.yaml --all" in summary_of_it
    assert "Joints" in run("check", rack, "--topic", "joints").stdout


def test_in_a_locale_of_seven_bits(rack):
    bare = {"LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"}
    for options in ((), ("--all",), ("--plain",)):
        done = process("check", rack, *options, **bare)
        assert done.returncode == 1 and done.stderr == ""
        assert done.stdout.isascii()
        there = run("check", rack, *options).stdout
        if options != ("--all",):  # the boxes of tables are others
            assert done.stdout == "".join(INSTEAD.get(one, one) for one in there)
        else:
            assert "x short" in done.stdout


def test_worse_at_the_ends_of_ranges_is_said_on_the_first_screen(tmp_path):
    """Exit code 1 with nothing short in the middle needs its reason in sight."""
    path = tmp_path / "room.yaml"
    path.write_text(
        QUIET.replace("S_DS: 0.05", "S_DS: 0.05 to 0.5")
        .replace("mass: 500 lb, centre_of_mass: 30 in, footprint: 48 in x 18 in, holds: 50 gal", FLAT)
        .replace("sill: 8 in", "sill: 12 in")
    )
    done = run("check", path)
    assert done.returncode == 1 and " 0 short" in done.stdout
    assert "At the ends of the file's ranges more is short" in done.stdout
    path.write_text(path.read_text().replace("0.05 to 0.5", "0.05"))
    assert "At the ends" not in run("check", path).stdout
