"""The installation file: read, validated, every problem with its place."""

from __future__ import annotations

import hashlib
import stat
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from brimfast.shared.errors import InputError, KeyPath, Problem
from brimfast.shared.installation.disagreements import disagreements
from brimfast.shared.installation.model import Installation
from brimfast.shared.validation import details_of, problem_of, without_misspelt
from brimfast.shared.yaml_text import Places, decode, loaded

MOST_PROBLEMS = 25
Besides = Callable[[Any], list[Problem]]


def nothing_besides(raw: Any) -> list[Problem]:
    return []


@dataclass(frozen=True)
class Source:
    """An installation, where each part stands in its file, and what the file's bytes hash to."""

    installation: Installation
    file: str
    sha256: str
    places: Places
    raw: Any
    text: str
    data: bytes
    root: Any = field(default=None, compare=False, repr=False)  # nodes of the text


def located(problems: list[Problem], source: Source) -> list[Problem]:
    """The problems with their place in the file and their key path, in the order of the file."""
    return _sorted(problems, source.places, source.file, source.raw)


def read_file(path: Path, besides: Besides = nothing_besides) -> Source:
    try:
        if path.is_dir():
            raise InputError([Problem("E-FILE-001", "this is a folder; expected an installation file", file=str(path))])
        if stat.S_ISFIFO(path.stat().st_mode) and not str(path).startswith(("/dev/", "/proc/self/fd/")):
            raise InputError([Problem("E-FILE-001", "this is a pipe; expected an installation file", file=str(path))])
        with path.open("rb") as stream:
            data = stream.read(4 * 1024 * 1024)
    except OSError as error:
        reason = (error.strerror or "can't be opened").lower()
        raise InputError([Problem("E-FILE-001", f"can't be read: {reason}", file=str(path))]) from None
    except ValueError:
        raise InputError([Problem("E-FILE-001", "can't be read: not a file name", file=repr(str(path)))]) from None
    return read_bytes(data, str(path), besides)


def read_bytes(data: bytes, file: str, besides: Besides = nothing_besides, ours: bool = False) -> Source:
    """Raises InputError with every problem found, in the order of the file.

    besides: finds in the raw values what this floor cannot know, such as the keys of a standard. ours: written by this
    program from a file that was read before.
    """
    text = decode(data, file)
    found = loaded(text, file, ours)
    raw, places = found.raw, found.places
    try:
        installation = Installation.model_validate(raw)
    except ValidationError as error:
        details = details_of(error)
        details.sort(key=lambda detail: places.of(detail["loc"], detail["type"] == "extra_forbidden"))
        first = without_misspelt(details[: 4 * MOST_PROBLEMS], Installation)
        problems = [problem_of(detail, Installation, raw) for detail in first] + besides(raw)
        rest = max(len(details) - 4 * MOST_PROBLEMS, 0)
        raise InputError(_sorted(problems, places, file, raw, rest)) from None
    problems = disagreements(installation) + besides(raw)
    if problems:
        raise InputError(_sorted(problems, places, file, raw))
    return Source(installation, file, hashlib.sha256(data).hexdigest(), places, raw, text, data, found.root)


def wrong_in(raw: Any, besides: Besides = nothing_besides) -> tuple[Installation | None, list[Problem]]:
    """What is wrong with plain values that stand in no file yet, and the installation where nothing is."""
    try:
        installation = Installation.model_validate(raw)
    except ValidationError as error:
        first = without_misspelt(details_of(error)[: 4 * MOST_PROBLEMS], Installation)
        return None, [problem_of(detail, Installation, raw) for detail in first] + besides(raw)
    return installation, disagreements(installation) + besides(raw)


def path_text(path: KeyPath, raw: Any) -> str:
    """'vessels['carp tank'].depth': list items by their name where they have one, else by number from 1."""
    text = ""
    node = raw
    for step in path:
        child: Any = None
        if isinstance(step, int):
            child = node[step] if isinstance(node, list) and step < len(node) else None
            name = child.get("name") if isinstance(child, dict) else None
            text += f"[{name[:40]!r}]" if isinstance(name, str) and name.isprintable() else f"[#{step + 1}]"
        else:
            child = node.get(step) if isinstance(node, dict) else None
            shown = step if step.isprintable() and len(step) <= 40 else repr(step[:40])
            text += f".{shown}" if text else shown
        node = child
    return text


def _sorted(problems: list[Problem], places: Places, file: str, raw: Any, unread: int = 0) -> list[Problem]:
    located = [problem.at(file, *places.of(problem.path, problem.at_key)) for problem in problems]
    located.sort(key=lambda problem: (problem.line, problem.column))
    lines = []
    for problem in located[:MOST_PROBLEMS]:
        key_path = path_text(problem.path, raw)
        message = f"{key_path}: {problem.message}" if key_path else problem.message
        lines.append(Problem(problem.code, message, problem.path, file, problem.line, problem.column))
    rest = len(located) - len(lines) + unread
    if rest:
        lines.append(Problem(located[-1].code, f"and {rest} more problems after these", (), file))
    return lines
