"""YAML text into plain Python values, with the place of every node, refusing what could harm."""

from __future__ import annotations

import io
import re
from dataclasses import dataclass, field
from typing import Any

from brimfast.shared.errors import InputError, KeyPath, Problem

MOST_BYTES = 128 * 1024
MOST_DEPTH = 12
MOST_NODES = 20_000

_TOO_MANY_DIGITS = re.compile(r"0x[0-9a-fA-F_]{400,}|[0-9_]{400,}")


@dataclass
class Places:
    """Line and column (from 1) of each key and each value."""

    values: dict[KeyPath, tuple[int, int]] = field(default_factory=dict)
    keys: dict[KeyPath, tuple[int, int]] = field(default_factory=dict)

    def of(self, path: KeyPath, at_key: bool = False) -> tuple[int, int]:
        """The place of a path, or of its nearest parent that stands in the file.

        A value that begins on a later line than its key (a group, a list, nothing) is pointed at by its key.
        """
        while path:
            key, value = self.keys.get(path), self.values.get(path)
            if key is not None and (at_key or value is None or value[0] > key[0]):
                return key
            if value is not None:
                return value
            path = path[:-1]
            at_key = False
        return self.values.get((), (1, 1))


def decode(data: bytes, file: str) -> str:
    if len(data) > MOST_BYTES:
        raise InputError(
            [
                Problem(
                    "E-FILE-002",
                    f"found {len(data):,} bytes; expected an installation of at most {MOST_BYTES:,}",
                    file=file,
                )
            ]
        )
    if data[:2] in (b"\xff\xfe", b"\xfe\xff") or (len(data) > 3 and 0 in data[:4]):
        message = "found a file saved as UTF-16 or binary; expected it saved as UTF-8"
        raise InputError([Problem("E-FILE-001", message, (), file, 1, 1)])
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        raise InputError(
            [
                Problem(
                    "E-FILE-001", "found bytes that are not UTF-8; expected the file saved as UTF-8", (), file, line, 1
                )
            ]
        ) from None
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    for line, content in enumerate(text.split("\n"), start=1):
        digits = _TOO_MANY_DIGITS.search(content)
        if digits:
            message = f"found a number of {len(digits[0])} digits; expected a few"
            raise InputError([Problem("E-RANGE-001", message, (), file, line, digits.start() + 1)])
        if content.isprintable():
            continue
        for column, character in enumerate(content, start=1):
            if not character.isprintable() and character not in "\t\u00a0" and ord(character) < 0xA0:
                message = f"found the control character U+{ord(character):04X}; expected plain text"
                raise InputError([Problem("E-YAML-001", message, (), file, line, column)])
    return text


@dataclass(frozen=True)
class Loaded:
    """Plain values (dict, list, str, int, float, bool, None), their places, and the nodes of the text."""

    raw: Any
    places: Places
    root: Any


def load(text: str, file: str) -> tuple[Any, Places]:
    """Plain values and their places."""
    found = loaded(text, file)
    return found.raw, found.places


def loaded(text: str, file: str, ours: bool = False) -> Loaded:
    """ours: written by this program from a text that was looked through for risks before."""
    import warnings

    from ruamel.yaml import YAML
    from ruamel.yaml.error import MarkedYAMLError

    places = Places()
    try:
        # Warnings (such as one on a %YAML line) never reach the user: the walk below refuses what is odd.
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            if not ours:
                _refuse_risks(text, file)
            yaml = YAML(typ="rt", pure=True)
            root = yaml.compose(io.StringIO(text))
            tree = None if root is None else yaml.constructor.construct_document(root)
        if isinstance(tree, dict):
            return Loaded(_plain(tree, (), places, file), places, root)
    except InputError:
        raise
    except RecursionError:
        raise InputError([Problem("E-FILE-002", "found lists nested too deep", file=file)]) from None
    except MarkedYAMLError as error:
        raise InputError([_yaml_problem(error, file)]) from None
    except Exception:  # whatever the YAML engine stumbles over, it is the file's
        message = "this is not YAML: a value or an escape (\\) in it can't be read"
        raise InputError([Problem("E-YAML-001", message, file=file)]) from None
    found = "nothing" if tree is None else "no keys"
    message = f"found {found}; expected keys such as 'installation:' and 'site:'"
    raise InputError([Problem("E-YAML-004", message, (), file, 1, 1)])


def _refuse_risks(text: str, file: str) -> None:
    """One pass over the events: no aliases, anchors, tags, second documents, depth or bulk."""
    from ruamel.yaml import YAML
    from ruamel.yaml.events import (
        AliasEvent,
        CollectionEndEvent,
        CollectionStartEvent,
        DocumentStartEvent,
        NodeEvent,
        ScalarEvent,
    )

    depth = nodes = documents = 0
    for event in YAML(typ="rt", pure=True).parse(io.StringIO(text)):
        line, column = event.start_mark.line + 1, event.start_mark.column + 1

        def stop(code: str, message: str, line: int = line, column: int = column) -> InputError:
            return InputError([Problem(code, message, (), file, line, column)])

        if isinstance(event, DocumentStartEvent):
            documents += 1
            if documents > 1:
                raise stop("E-YAML-001", "found a second document (---); expected one installation a file")
        if isinstance(event, NodeEvent):
            nodes += 1
            if isinstance(event, AliasEvent):
                raise stop("E-YAML-002", "found an alias (*name); expected every value written out")
            if getattr(event, "anchor", None) is not None:
                raise stop("E-YAML-002", "found an anchor (&name); expected every value written out")
            if getattr(event, "tag", None) is not None:
                raise stop("E-YAML-002", "found a tag (!name); expected plain values")
            if isinstance(event, ScalarEvent) and event.value == "<<" and event.style is None:
                raise stop("E-YAML-002", "found a merge key (<<); expected every value written out")
            if nodes > MOST_NODES:
                raise stop("E-FILE-002", f"found more than {MOST_NODES:,} values; expected fewer")
        if isinstance(event, CollectionStartEvent):
            depth += 1
            if depth > MOST_DEPTH:
                raise stop("E-FILE-002", f"found lists nested over {MOST_DEPTH} deep; expected fewer")
        if isinstance(event, CollectionEndEvent):
            depth -= 1


def _yaml_problem(error: Any, file: str) -> Problem:
    from ruamel.yaml.constructor import DuplicateKeyError

    mark = error.problem_mark or error.context_mark
    line, column = (mark.line + 1, mark.column + 1) if mark else (0, 0)
    said, within = (" ".join(str(part or "").split()) for part in (error.problem, error.context))
    if isinstance(error, DuplicateKeyError):
        match = re.search(r'duplicate key "(.*)" with value', said)
        key = match[1][:40] if match else "a key"
        message = f"found the key {key!r} a second time; expected each key once"
        return Problem("E-YAML-003", message, (), file, line, column)
    if "\\t" in said or "'\t'" in said:
        return Problem("E-YAML-001", "found a tab; expected spaces", (), file, line, column)
    for words, meaning in _MEANINGS:
        if words in said:
            return Problem("E-YAML-001", f"this is not YAML: {meaning}", (), file, line, column)
    for words, meaning in _NOT_CLOSED:
        if words in within and error.context_mark:
            line, column = error.context_mark.line + 1, error.context_mark.column + 1
            return Problem("E-YAML-001", f"this is not YAML: {meaning}", (), file, line, column)
    message = "this is not YAML: check colons, quotes, brackets and indentation here and in the line above"
    return Problem("E-YAML-001", message, (), file, line, column)


_MEANINGS = (
    ("could not find expected ':'", "a key without its colon here or in the line above"),
    ("mapping values are not allowed", "a colon where none may stand: check the line above, or put the text in quotes"),
    ("<block end>", "the indentation does not fit the lines above, or a dash is missing"),
)
# What the text stands in that goes wrong further down: pointed at where it begins.
_NOT_CLOSED = (
    ("flow mapping", "a brace { that is not closed, or a comma missing inside it"),
    ("flow sequence", "a bracket [ that is not closed, or a comma missing inside it"),
    ("quoted scalar", "a quote that is not closed"),
)


def _plain(node: Any, path: KeyPath, places: Places, file: str) -> Any:
    mark = getattr(node, "lc", None)
    if path not in places.values and mark is not None and mark.line is not None:
        places.values[path] = (mark.line + 1, mark.col + 1)
    if isinstance(node, dict):
        result: dict[Any, Any] = {}
        for key, value in node.items():
            if not isinstance(key, str) or not key.strip():
                line, column = places.of(path)
                if mark is not None and mark.data and key in mark.data:
                    line, column = mark.data[key][0] + 1, mark.data[key][1] + 1
                message = "found a key that is not a word; expected a word, or a name in quotes"
                raise InputError([Problem("E-YAML-001", message, (), file, line, column)])
            name = str(key)
            here = (*path, name)
            if mark is not None and mark.data and key in mark.data:
                key_line, key_column, value_line, value_column = mark.data[key]
                places.keys[here] = (key_line + 1, key_column + 1)
                places.values[here] = (value_line + 1, value_column + 1)
            result[name] = _plain(value, here, places, file)
        return result
    if isinstance(node, list):
        items: list[Any] = []
        for index, value in enumerate(node):
            here = (*path, index)
            if mark is not None and mark.data and index in mark.data:
                places.values[here] = (mark.data[index][0] + 1, mark.data[index][1] + 1)
            items.append(_plain(value, here, places, file))
        return items
    if node is None or isinstance(node, bool):
        return node
    if isinstance(node, int):
        return int(node) if abs(node) < 10**15 else float("inf")
    if isinstance(node, float):
        return float(node)
    return str(node)
