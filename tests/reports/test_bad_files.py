"""Every bad file ends in clear lines with the right place, exit code 2, and nothing written."""

import csv
import re
from pathlib import Path

import pytest

from brimfast.reports.run import assess_source
from brimfast.shared.errors import CODES, InputError
from brimfast.shared.reading import read_file
from tests.commands import process, run

FOLDER = Path(__file__).parent.parent / "bad_files"
with (FOLDER / "expected.csv").open() as stream:
    EXPECTED = list(csv.DictReader(stream))


def test_there_are_at_least_300_kinds_and_none_is_forgotten():
    assert len(EXPECTED) >= 300
    assert {row["file"] for row in EXPECTED} == {path.stem for path in FOLDER.glob("*.yaml")}


@pytest.mark.parametrize("row", EXPECTED, ids=[row["file"] for row in EXPECTED])
def test_bad_file(row):
    path = FOLDER / f"{row['file']}.yaml"
    with pytest.raises(InputError) as caught:
        assess_source(read_file(path))
    problems = caught.value.problems
    lines = [problem.text() for problem in problems]
    first = problems[0]
    assert first.code == row["code"], lines
    assert first.line == int(row["line"]), lines
    assert row["words"] in first.message, lines
    for line in lines:
        assert line.isprintable()
        assert len(line) < 900
    if first.line:
        assert re.match(rf"{re.escape(str(path))}:\d+:\d+: ", lines[0])


def test_several_problems_are_listed_together_in_order():
    with pytest.raises(InputError) as caught:
        read_file(FOLDER / "several_at_once.yaml")
    assert [(problem.code, problem.line) for problem in caught.value.problems] == [("E-UNIT-002", 8), ("E-KEY-001", 9)]
    assert "did you mean 'length'" in caught.value.problems[1].message


@pytest.mark.parametrize(
    ("name", "call"),
    [("unit_wrong_dimension", process), ("yaml_alias_bomb", run), ("motion_category_e", run), ("encoding_utf16", run)],
)
def test_through_the_command_line(name, call, tmp_path):
    """Exit code 2, one line a problem on stderr, no traceback, no PDF, an old one kept."""
    target = tmp_path / "old.pdf"
    target.write_bytes(b"old")
    for command, *options in (["check"], ["check", "--json"], ["report", "-o", target]):
        done = call(command, FOLDER / f"{name}.yaml", *options)
        assert done.returncode == 2
        assert done.stdout == ""
        assert "Traceback" not in done.stderr
        assert all(line.startswith("brimfast: ") for line in done.stderr.splitlines())
    assert target.read_bytes() == b"old"
    assert list(tmp_path.iterdir()) == [target]


def test_every_code_has_its_section_in_the_readme():
    readme = (Path(__file__).parent.parent.parent / "README.md").read_text(encoding="utf-8")
    documented = set(re.findall(r"`(E-[A-Z]+-\d{3})`", readme))
    assert documented == set(CODES)
    assert {row["code"] for row in EXPECTED} <= set(CODES)
