"""The installation file: read, validated, every problem with its place."""

from __future__ import annotations

import hashlib
import stat
from dataclasses import dataclass
from pathlib import Path
from typing import Any, get_args, get_origin

from pydantic import BaseModel, ValidationError

from brimfast.shared.errors import InputError, Problem
from brimfast.shared.installation.fields import kind_of_value, nearest, nearest_word
from brimfast.shared.installation.model import Installation, disagreements
from brimfast.shared.yaml_text import KeyPath, Places, decode, load

MOST_PROBLEMS = 25


@dataclass(frozen=True)
class Source:
    """An installation, where each part stands in its file, and what the file's bytes hash to."""

    installation: Installation
    file: str
    sha256: str
    places: Places
    raw: Any
    text: str


def located(problems: list[Problem], source: Source) -> list[Problem]:
    """The problems with their place in the file and their key path, in the order of the file."""
    return _sorted(problems, source.places, source.file, source.raw)


def read_file(path: Path) -> Source:
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
    return read_bytes(data, str(path))


def read_bytes(data: bytes, file: str) -> Source:
    """Raises InputError with every problem found, in the order of the file."""
    text = decode(data, file)
    raw, places = load(text, file)
    try:
        installation = Installation.model_validate(raw)
    except ValidationError as error:
        details: list[dict[str, Any]] = [
            dict(detail) for detail in error.errors(include_url=False, include_input=False)
        ]
        details.sort(key=lambda detail: places.of(detail["loc"], detail["type"] == "extra_forbidden"))
        problems = [_problem(detail, raw) for detail in _without_misspelt(details[: 4 * MOST_PROBLEMS])]
        rest = max(len(details) - 4 * MOST_PROBLEMS, 0)
        raise InputError(_sorted(problems, places, file, raw, rest)) from None
    problems = disagreements(installation)
    if problems:
        raise InputError(_sorted(problems, places, file, raw))
    return Source(installation, file, hashlib.sha256(data).hexdigest(), places, raw, text)


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


def _problem(detail: dict[str, Any], raw: Any) -> Problem:
    kind = str(detail["type"])
    path = tuple(step for step in detail["loc"] if isinstance(step, int) or step != "[key]")
    if kind.startswith("E-"):
        return Problem(kind, str(detail["msg"]), path)
    if kind == "extra_forbidden":
        known = _known_keys(path[:-1])
        key = str(path[-1])
        listed = f"; known here: {', '.join(known)}" if not nearest(key, known) and len(known) <= 12 else ""
        return Problem("E-KEY-001", f"unknown key{nearest(key, known)}{listed}", path, at_key=True)
    if kind == "missing":
        return Problem("E-KEY-002", f"missing the key {str(path[-1])!r}", path[:-1])
    found = kind_of_value(_at(raw, path))
    context = detail.get("ctx") or {}
    if kind in {"too_long", "too_short"}:
        bound = (
            f"at most {context.get('max_length')}" if kind == "too_long" else f"at least {context.get('min_length')}"
        )
        return Problem("E-RANGE-001", f"found {context.get('actual_length')} entries; expected {bound}", path)
    wanted = {
        "model_type": "a group of keys",
        "model_attributes_type": "a group of keys",
        "dict_type": "a group of keys",
        "list_type": "a list (lines that begin with '- ')",
        "string_type": "a text",
        "finite_number": "a finite number",
    }.get(kind, str(detail["msg"]))
    return Problem("E-TYPE-001", f"found {found}; expected {wanted}", path)


def _without_misspelt(details: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """A missing key that stands misspelt beside is one problem, not two."""
    meant = set()
    for detail in details:
        if detail["type"] == "extra_forbidden":
            group, key = detail["loc"][:-1], detail["loc"][-1]
            meant.add((*group, nearest_word(key, _known_keys(group))))
    return [detail for detail in details if detail["type"] != "missing" or detail["loc"] not in meant]


def _at(raw: Any, path: KeyPath) -> Any:
    node = raw
    for step in path:
        try:
            node = node[step]
        except (KeyError, IndexError, TypeError):
            return None
    return node


def _known_keys(path: KeyPath) -> list[str]:
    """The keys that the model knows at a path."""
    annotation: Any = Installation
    for step in path:
        annotation = _step(annotation, step)
    model = _model_in(annotation)
    if model is None:
        return []
    return [field.alias or name for name, field in model.model_fields.items()]


def _model_in(annotation: Any) -> type[BaseModel] | None:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    return next((model for part in get_args(annotation) if (model := _model_in(part)) is not None), None)


def _step(annotation: Any, step: str | int) -> Any:
    if get_origin(annotation) in (list, dict):
        return get_args(annotation)[-1]
    model = _model_in(annotation)
    if model is None:
        return None
    for name, field in model.model_fields.items():
        if step in (name, field.alias):
            return field.annotation
    return annotation
