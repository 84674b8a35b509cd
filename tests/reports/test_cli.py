"""The command line as a user meets it."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pypdf
import pytest

from brimfast.reports.cli import app
from tests.builders import RACK, WEIGHED
from tests.commands import process, run

QUIET = WEIGHED.replace("S_DS: 1.0", "S_DS: 0.05").replace("sill: 1 in", "sill: 8 in")


def test_exit_codes(tmp_path, rack):
    quiet = tmp_path / "quiet.yaml"
    quiet.write_text(QUIET)
    assert process("check", quiet).returncode == 0
    assert process("check", rack).returncode == 1
    assert process("check", tmp_path / "missing.yaml").returncode == 2
    assert process("check").returncode == 2
    assert process("chekc", rack).returncode == 2


def test_missing_file_is_one_line(tmp_path):
    done = run("check", tmp_path / "missing.yaml")
    assert done.stderr.count("\n") == 1
    assert "no such file" in done.stderr


def test_units_can_be_switched(rack):
    assert " kg" in run("check", rack, "--units", "si").stdout
    assert " lb" in run("check", rack, "--units", "us").stdout
    assert run("check", rack, "--units", "metric").returncode == 2


def test_json_is_json_and_nothing_else(rack):
    done = run("check", rack, "--json")
    assert done.returncode == 1
    assert json.loads(done.stdout)["installation"]["name"] == "test rack"


def test_colour_only_on_a_terminal_and_never_with_no_color(rack):
    for more in ((), ("--all",)):
        assert "\x1b[" in run("check", rack, *more, FORCE_COLOR="1").stdout
        assert "\x1b[3" not in run("check", rack, *more, FORCE_COLOR="1", NO_COLOR="1").stdout
    assert "\x1b" not in run("check", rack, "--plain", FORCE_COLOR="1").stdout


def test_narrow_terminal_and_plain_locale(rack):
    narrow = run("check", rack, COLUMNS="40")
    assert narrow.returncode == 1
    plain = process("check", rack, LC_ALL="C", PYTHONUTF8="0", PYTHONIOENCODING="ascii")
    assert plain.returncode == 1, plain.stderr
    assert "x " in plain.stdout and "?" not in plain.stdout.replace("? ", "").replace("?\n", "")


def test_report_is_written_whole_or_not_at_all(tmp_path, rack):
    target = tmp_path / "out.pdf"
    assert run("report", rack, "-o", target).returncode == 0
    assert target.read_bytes().startswith(b"%PDF")
    target.write_bytes(b"old")
    assert run("report", rack, "-o", target).returncode == 0
    assert target.read_bytes().startswith(b"%PDF")
    assert run("report", rack, "-o", tmp_path).returncode == 2
    assert run("report", rack, "-o", tmp_path / "no" / "folder.pdf").returncode == 2
    assert sorted(path.name for path in tmp_path.iterdir()) == ["out.pdf", "rack.yaml"]


def test_report_date(tmp_path, rack):
    target = tmp_path / "1.pdf"
    run("report", rack, "-o", target, "--date", "2026-01-02")
    pages = pypdf.PdfReader(target).pages
    assert all("2026-01-02" in page.extract_text() for page in (pages[0], pages[-1]))
    assert run("report", rack, "--date", "tomorrow").returncode == 2


def test_the_ending_chooses_the_kind_of_report(tmp_path, rack):
    for name in ("out.html", "OUT.HTML"):
        target = tmp_path / name
        assert run("report", rack, "-o", target, "--date", "2026-01-02").returncode == 0
        assert target.read_bytes().startswith(b"<!doctype html>\n")
    assert (tmp_path / "out.html").read_bytes() == (tmp_path / "OUT.HTML").read_bytes()
    for name in ("out.doc", "out", "out.html.zip", ".html"):
        done = run("report", rack, "-o", tmp_path / name)
        assert (done.returncode, done.stdout) == (2, "")
        assert done.stderr.count("\n") == 1 and "ends in .pdf or .html" in done.stderr
        assert run("demo", "porch", "-o", name, cwd=tmp_path).returncode == 2
    assert sorted(path.name for path in tmp_path.iterdir()) == ["OUT.HTML", "out.html", "rack.yaml"]


def test_demo_leaves_a_pdf_here(tmp_path):
    done = run("demo", cwd=tmp_path)
    assert done.returncode == 0
    assert (tmp_path / "brimfast-nursery.pdf").read_bytes().startswith(b"%PDF")
    assert run("demo", "nursry", cwd=tmp_path).returncode == 2
    assert "did you mean 'nursery'" in run("demo", "nursry", cwd=tmp_path).stderr


def test_demo_file_can_be_checked(tmp_path):
    path = tmp_path / "own.yaml"
    path.write_text(run("demo", "porch", "--file").stdout)
    assert run("check", path).returncode == 1


@pytest.mark.parametrize("shape", ["weighed", "rack", "tanks"])
@pytest.mark.parametrize("units", ["us", "si"])
def test_starter_is_right_as_it_is(tmp_path, shape, units):
    path = tmp_path / "mine.yaml"
    name = "Rosie's: #1 {room} 水"
    done = run("start", path, "--shape", shape, "--units", units, "--name", name, "--s-ds", "0.9")
    assert done.returncode == 0, done.stderr
    assert path.read_text(encoding="utf-8").count("#") > 10
    result = json.loads(run("check", path, "--json").stdout)
    assert result["installation"] == {"name": name, "invented": False, "units": "si"}
    assert result["site"]["S_DS"] == 0.9


def test_starter_never_overwrites_and_refuses_nonsense(tmp_path):
    path = tmp_path / "mine.yaml"
    assert run("start", path, "--room", "9 gal x 2 m").returncode == 2
    assert run("start", path, "--category", "D9").returncode == 2
    assert not path.exists()
    assert run("start", path).returncode == 0
    before = path.read_text()
    assert run("start", path, "--units", "si").returncode == 2
    assert path.read_text() == before
    assert run("start", path, "--units", "si", "--force").returncode == 0
    assert path.read_text() != before


def test_what_cannot_be_written_is_said_before_anything_is_asked_or_searched(tmp_path, rack):
    there = tmp_path / "there.yaml"
    there.write_text("mine")
    done = run("start", there, "--ask")  # no answers: asked at all, it would say that they ended
    assert (done.returncode, done.stdout) == (2, "") and "--force to replace it" in done.stderr
    done = run("start", tmp_path / "no" / "room.yaml", "--ask", "--force")
    assert (done.returncode, done.stdout) == (2, "") and "its folder does not exist" in done.stderr
    assert there.read_text() == "mine"
    nowhere = tmp_path / "no" / "folder.pdf"
    for command in (("report", rack), ("demo", "porch")):
        script = (
            "import sys\nfrom brimfast.reports import cli, run\n"
            "run.assess_source = lambda _: print('computed')\n"
            f"sys.argv = {['brimfast', *map(str, command), '-o', str(nowhere)]!r}\ncli.main()\n"
        )
        done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=False)
        assert (done.returncode, done.stdout) == (2, "") and "its folder does not exist" in done.stderr


def asked(path, answers, run=run):
    done = run("start", path, "--ask", given=answers)
    assert done.returncode == 0, done.stderr
    return done


def test_starter_asks_on_request(tmp_path):
    path = tmp_path / "asked.yaml"
    answers = "tanks\nback room\nsi\n0.7\n5 gal x 3 m\n5 m x 3 m\n20 mm\n2 of 3\nown room\n"
    done = asked(path, answers, process)
    assert "a volume" in done.stdout  # the wrong answer was explained, and asked again
    site = json.loads(run("check", path, "--json").stdout)["site"]
    assert (site["S_DS"], site["height_ratio"]) == (0.7, 0.33)
    assert "below: own room" in path.read_text()


def test_starter_asks_for_what_another_standard_needs(tmp_path):
    path = tmp_path / "asked.yaml"
    answers = (
        "tanks\nback room\nsi\neurocode8\na_g: 9, ground: C, spectrum: type 1\na_g: 0.3, ground: B, spectrum: type 1\n"
    )
    done = asked(path, answers + "5 m x 3 m\n20 mm\n1 of 1\n")
    assert "from 0.01 to 1.2" in done.stdout  # the wrong answer was explained, and asked again
    site = json.loads(run("check", path, "--json").stdout)["site"]
    assert site["standard"] == "eurocode8" and "a_g: 0.3" in path.read_text()


@pytest.mark.parametrize("name", ["asce7-16", "eurocode8", "nbc2015", "nbc2020", "nzs1170.5"])
def test_starter_of_every_standard_is_right_as_it_is(tmp_path, name):
    path = tmp_path / "room.yaml"
    assert run("start", path, "--standard", name, "--shape", "tanks").returncode == 0
    assert json.loads(run("check", path, "--json").stdout)["site"]["standard"] == name


@pytest.mark.parametrize(
    "given,says",
    [
        (["--standard", "euro"], "did you mean 'eurocode8'"),
        (["--standard", "eurocode8", "--s-ds", "1"], "belong to ASCE 7"),
        (["--standard", "eurocode8", "--site", "a_g 0.3"], "keys with values"),
        (["--site", "a_g: 0.3"], "another standard"),
    ],
)
def test_starter_refuses_what_does_not_go_together(tmp_path, given, says):
    done = run("start", tmp_path / "room.yaml", *given)
    assert done.returncode == 2 and says in done.stderr
    assert not (tmp_path / "room.yaml").exists()


def test_schema_is_a_json_schema():
    schema = json.loads(run("schema").stdout)
    assert schema["$schema"].startswith("https://json-schema.org/")
    assert {"installation", "site", "room", "vessels"} <= set(schema["properties"])
    assert schema["additionalProperties"] is False


@pytest.mark.parametrize("argument", ["--version", "--help"])
def test_start_up_imports_nothing_heavy(argument):
    script = (
        "import sys\nfrom brimfast.reports.cli import main\n"
        f"sys.argv = ['brimfast', {argument!r}]\n"
        "try:\n    main()\nexcept SystemExit:\n    pass\n"
        "heavy = {'numpy', 'pint', 'reportlab', 'pydantic', 'ruamel', 'rich', 'starlette', 'uvicorn', 'anyio', 'multipart'} & set(sys.modules)\n"
        "print('HEAVY', sorted(heavy), file=sys.stderr)\n"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert "HEAVY []" in done.stderr


def test_every_command_is_in_the_readme():
    readme = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")
    commands = [one.name or one.callback.__name__ for one in app.registered_commands]
    assert len(commands) >= 10
    for command in commands:
        assert f"brimfast {command}" in readme


def test_the_report_never_replaces_its_own_input(tmp_path, rack):
    before = rack.read_bytes()
    link = tmp_path / "link.pdf"
    link.symlink_to(rack)
    pretender = tmp_path / "mine.pdf"
    pretender.write_text(RACK)
    for arguments in (("report", rack, "-o", rack), ("report", rack, "-o", link), ("report", pretender)):
        done = run(*arguments)
        assert done.returncode == 2
        assert "this is the installation file" in done.stderr
    assert rack.read_bytes() == before
    assert pretender.read_text() == RACK


def test_pipes_and_devices_are_no_targets_and_no_sources(tmp_path, rack):
    pipe = tmp_path / "pipe.pdf"
    os.mkfifo(pipe)
    assert run("check", pipe).returncode == 2
    assert run("report", rack, "-o", pipe).returncode == 2
    loop = tmp_path / "loop.pdf"
    loop.symlink_to(loop)
    assert run("report", rack, "-o", loop).returncode == 2
    assert loop.is_symlink()
    assert run("report", rack, "-o", tmp_path / ("a" * 300 + ".pdf")).returncode == 2
    assert process("check", "/dev/stdin", given=RACK).returncode == 1


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs a device that is always full")
def test_a_full_disk_behind_stdout(rack):
    script = f"{sys.executable} -m brimfast check {rack} > /dev/full"
    done = subprocess.run(["bash", "-c", script], capture_output=True, text=True, check=False, timeout=60)
    assert done.returncode == 2
    assert done.stderr.count("\n") == 1
    assert "no space left" in done.stderr


def test_file_names_cannot_talk_to_the_terminal(tmp_path, rack):
    odd = tmp_path / "q\x1b[31m\nx.yaml"
    done = run("check", odd)
    assert "\x1b" not in done.stderr
    assert done.stderr.count("\n") == 1
    assert "\x1b" not in run("report", rack, "-o", tmp_path / "p\x1b[31m.pdf").stdout


@pytest.mark.parametrize(
    "arguments", [("check", "--units", "US", "x.yaml"), ("check",), ("frobnicate",), ("check", "--nope", "x")]
)
def test_wrong_options_are_one_line(arguments):
    done = run(*arguments)
    assert done.returncode == 2
    assert done.stderr.startswith("brimfast: ")
    assert done.stderr.count("\n") == 1


def test_starter_refuses_what_check_would_refuse(tmp_path):
    path = tmp_path / "x.yaml"
    for arguments in (("--category", "E"), ("--s-ds", "zzz"), ("--room", "9 ft"), ("--name", "a\x07b")):
        done = run("start", path, *arguments)
        assert done.returncode == 2, arguments
        assert ".yaml:" not in done.stderr
        assert not path.exists()
    assert run("start", path, "--ask", given="tanks\n").returncode == 2
    assert not path.exists()


def test_the_demos_are_right_by_the_schema():
    """jsonschema, a general-purpose library, reads our schema as an editor would."""
    import jsonschema
    from ruamel.yaml import YAML

    from brimfast.shared.demo import DEMOS, demo_bytes

    schema = json.loads(run("schema").stdout)
    jsonschema.Draft202012Validator.check_schema(schema)
    validator = jsonschema.Draft202012Validator(schema)
    for name in DEMOS:
        value = YAML(typ="safe", pure=True).load(demo_bytes(name).decode())
        assert [error.message for error in validator.iter_errors(value)] == []
    assert not validator.is_valid({**value, "lenght": "3 ft"})


@pytest.mark.parametrize(("words", "wanted"), [("brimfast ch", "check"), ("brimfast check --to", "--topic")])
def test_the_shell_completes_commands_and_options(words, wanted):
    done = process(_BRIMFAST_COMPLETE="complete_bash", COMP_WORDS=words, COMP_CWORD=str(words.count(" ")))
    assert wanted in done.stdout.split(), (done.stdout, done.stderr)
