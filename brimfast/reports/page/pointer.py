"""Paths of the file as text, as they stand in names and ids of a form: /vessels/0/water."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any
from urllib.parse import quote

from brimfast.shared.errors import KeyPath

LONGEST = 400


def pointer(path: KeyPath) -> str:
    return "".join(f"/{str(step).replace('~', '~0').replace('/', '~1')}" for step in path)


def path_of(text: str, tree: object) -> KeyPath:
    """Numbers where the tree has a list there. An empty path where the text is no pointer."""
    if not text.startswith("/") or len(text) > LONGEST:
        return ()
    path: list[str | int] = []
    node = tree
    for part in text[1:].split("/"):
        step: str | int = part.replace("~1", "/").replace("~0", "~")
        if isinstance(node, list):
            if not (part.isascii() and part.isdigit() and len(part) < 6):
                return ()
            step = int(part)
            node = node[step] if step < len(node) else None
        else:
            node = node.get(step) if isinstance(node, dict) else None
        path.append(step)
    return tuple(path)


def at(tree: object, path: KeyPath) -> object:
    """What stands there; None where nothing does."""
    node = tree
    for step in path:
        if isinstance(node, dict):
            node = node.get(step)
        elif isinstance(node, list) and isinstance(step, int) and 0 <= step < len(node):
            node = node[step]
        else:
            return None
    return node


def dict_of(value: object) -> Mapping[str, Any]:
    """Empty where the file has something else there."""
    return value if isinstance(value, dict) else {}


def list_of(value: object) -> list[Any]:
    return value if isinstance(value, list) else []


def html_id(text: str) -> str:
    """A pointer as the id of its field."""
    return "f" + quote(text, safe="/")
