"""A folder of files: each by itself, in order, a wrong one beside good ones, CSV for spreadsheets."""

import csv
import io
import os

import pytest
from typer.testing import CliRunner

from brimfast.reports import batch
from brimfast.reports.cli import app
from brimfast.shared.errors import InputError, OutputError
from tests.builders import WEIGHED

LIGHT = (
    WEIGHED.replace("S_DS: 1.0", "S_DS: 0.1")
    .replace("30 in, footprint", "4 in, footprint")
    .replace("500 lb", "50 lb")
    .replace("50 gal", "5 gal")
    .replace("sill: 1 in", "sill: 6 in")
)


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "b short.yaml").write_text(WEIGHED)
    (tmp_path / "a light.yml").write_text(LIGHT.replace("test weighed", "=1+1"))
    (tmp_path / "c wrong.yaml").write_text(WEIGHED.replace("500 lb", "500 gal"))
    (tmp_path / "notes.txt").write_text("no installation")
    (tmp_path / ".hidden.yaml").write_text("no installation")
    return tmp_path


def test_each_by_itself_in_order(folder):
    rows = list(batch.checked(batch.files_of(folder), 1))
    assert [(row.file, row.code) for row in rows] == [("a light.yml", 0), ("b short.yaml", 1), ("c wrong.yaml", 2)]
    # it tips, slides, falls, and nothing holds it; 500 lb, and all of its 50 gal on the floor
    assert rows[1].short == 4
    assert rows[1].mass == pytest.approx(500 * 0.45359237)
    assert rows[1].spilt == pytest.approx(50 * 0.003785411784)
    assert "E-UNIT-002" in rows[2].problem and "c wrong.yaml:6" in rows[2].problem
    assert batch.exit_code(rows) == 2 and batch.exit_code(rows[:2]) == 1 and batch.exit_code(rows[:1]) == 0


def test_in_processes_the_same(folder):
    paths = batch.files_of(folder)
    told = []
    rows = list(batch.checked(paths * 3, 2, lambda what, done, of: told.append((done, of))))
    assert rows == list(batch.checked(paths, 1)) * 3
    assert told == [(done, 9) for done in range(1, 10)]


def ends_at_short(paths):
    """Runs in the other process, which it ends."""
    if any("short" in path.name for path in paths):
        os._exit(1)
    return [batch.row_of(path) for path in paths]


def test_a_file_that_ends_its_process_takes_no_other_with_it(folder, monkeypatch):
    monkeypatch.setattr(batch, "_rows", ends_at_short)
    monkeypatch.setattr(batch, "AT_ONCE", 2)
    rows = list(batch.checked(batch.files_of(folder), 2))
    assert [row.code for row in rows] == [0, 3, 2]
    assert rows[1].problem == "the process that checked it ended"
    monkeypatch.undo()
    alone = list(batch.checked(batch.files_of(folder), 1))
    assert (rows[0], rows[2]) == (alone[0], alone[2])


def test_a_fault_of_ours_is_said_and_stops_nothing(folder, monkeypatch):
    real = batch.assess_source

    def fails(source):
        if "short" in source.file:
            raise ZeroDivisionError("no")
        return real(source)

    monkeypatch.setattr(batch, "assess_source", fails)
    rows = list(batch.checked(batch.files_of(folder), 1))
    assert [row.code for row in rows] == [0, 3, 2]
    assert rows[1].problem == "ZeroDivisionError: no"
    assert batch.exit_code(rows) == 3


def test_the_csv_can_be_opened_in_a_spreadsheet(folder):
    rows = list(batch.checked(batch.files_of(folder), 1))
    read = list(csv.DictReader(io.StringIO(batch.as_csv(rows).decode())))
    assert [one["file"] for one in read] == [row.file for row in rows]
    assert read[0]["installation"] == "'=1+1"  # no formula
    assert float(read[1]["loaded weight kg"]) == pytest.approx(rows[1].mass, rel=1e-5)
    assert read[2]["short"] == "" and read[2]["problem"]


def test_on_the_command_line(folder):
    target = folder / "all.csv"
    done = CliRunner().invoke(app, ["check", str(folder), "--csv", str(target), "--jobs", "1"])
    assert done.exit_code == 2
    assert "3 files in" in done.stdout and "1 with something short, 1 without, 1 not read." in done.stdout
    assert target.read_text().count("\n") == 4
    spoken = CliRunner().invoke(app, ["check", str(folder), "--plain", "--jobs", "1"])
    assert "b short.yaml: short" in spoken.stdout and "─" not in spoken.stdout


@pytest.mark.parametrize("name", ["b short.yaml", "new.yaml", "new.YML", "link.csv"])
def test_the_csv_never_replaces_an_installation(folder, name):
    (folder / "link.csv").symlink_to(folder / "b short.yaml")
    with pytest.raises(OutputError) as caught:
        CliRunner().invoke(app, ["check", str(folder), "--csv", str(folder / name)], catch_exceptions=False)
    assert "installation file" in caught.value.problems[0].message
    assert (folder / "b short.yaml").read_text() == WEIGHED
    assert not list(folder.glob("new.*"))


@pytest.mark.parametrize(
    "option", [["--json"], ["--all"], ["--topic", "spill"], ["--units", "si"], ["--standard", "eurocode8"]]
)
def test_what_goes_with_one_file_only_is_refused(folder, option):
    with pytest.raises(InputError) as caught:
        CliRunner().invoke(app, ["check", str(folder), *option], catch_exceptions=False)
    assert "does not go with a folder" in caught.value.problems[0].message


def test_a_folder_without_files_and_csv_of_one_file_are_refused(tmp_path):
    with pytest.raises(InputError):
        batch.files_of(tmp_path)
    file = tmp_path / "a.yaml"
    file.write_text(WEIGHED)
    with pytest.raises(InputError) as caught:
        CliRunner().invoke(app, ["check", str(file), "--csv", str(tmp_path / "x.csv")], catch_exceptions=False)
    assert "belongs to a folder" in caught.value.problems[0].message
