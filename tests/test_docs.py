"""What the documents show is run, what they are made from has not moved on, and what they point to is there."""

import re
import runpy
import shlex
from pathlib import Path

import pytest

from tests.commands import run

TOP = Path(__file__).parent.parent
DOCUMENTS = [TOP / "README.md", TOP / "DEVELOPERS.md", TOP / "CHANGELOG.md", *sorted((TOP / "docs").glob("*.md"))]


def test_the_examples_run(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    names: dict[str, object] = {}
    blocks = re.findall(r"```python\n(.*?)```", (TOP / "docs" / "python.md").read_text(encoding="utf-8"), re.S)
    assert len(blocks) >= 5
    for block in blocks:
        exec(compile(block, "docs/python.md", "exec"), names)
    told = capsys.readouterr().out
    assert "lark.yaml:4:" in told and "E-UNIT-002" in told
    assert (tmp_path / "lark.pdf").read_bytes().startswith(b"%PDF") and (tmp_path / "lark.html").stat().st_size > 10_000


def test_the_guide_can_be_followed(tmp_path):
    """From the first command to the last in one folder, as somebody types them."""
    text = (TOP / "docs" / "guide.md").read_text(encoding="utf-8")
    commands = [line for block in re.findall(r"```sh\n(.*?)```", text, re.S) for line in block.splitlines()]
    assert len(commands) > 12
    for command in commands:
        name, *arguments = shlex.split(command)
        done = run(*arguments, cwd=tmp_path)
        assert name == "brimfast" and done.returncode in (0, 1), (command, done.stderr)
        assert done.stdout and "Traceback" not in done.stderr
    kept = {one.name for one in tmp_path.iterdir()}
    assert kept == {"room.yaml", "rack.yaml", "better.yaml", "room.pdf", "room.html", "rooms.csv"}


def test_the_theory_is_that_of_the_functions():
    made = runpy.run_path(str(TOP / "docs" / "make_theory.py"))["document"]()
    assert made == (TOP / "docs" / "theory.md").read_text(encoding="utf-8"), "make it anew: python docs/make_theory.py"
    assert made.count("\n- **`") > 150


def anchors(text):
    """As Markdown readers make them of headings."""
    titles = re.findall(r"^#+ (.*)$", text, re.M)
    return {re.sub(r"[^\w\- ]", "", title.lower()).replace(" ", "-") for title in titles}


@pytest.mark.parametrize("document", DOCUMENTS, ids=lambda path: path.name)
def test_links_lead_somewhere(document):
    text = document.read_text(encoding="utf-8")
    for target in re.findall(r"\]\(([^)\s]+)\)", text):
        if re.match(r"https?:", target):
            continue
        path, _, anchor = target.partition("#")
        other = document.parent / path if path else document
        assert other.exists(), f"{document.name}: {target}"
        if anchor:
            assert anchor in anchors(other.read_text(encoding="utf-8")), f"{document.name}: {target}"
