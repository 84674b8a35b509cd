"""Changes of an installation file, as data: what is put where in its plain values."""

from __future__ import annotations

import copy
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any, Literal

from brimfast.shared.errors import KeyPath

ORDER = ("put", "add", "ensure", "match", "remove", "rename")
LATER = ("remove", "rename")


@dataclass(frozen=True)
class Edit:
    """One change.

    put: the value stands at the path, groups on the way are made where missing. add: the value is one more item of
    the list there. ensure: as add, unless an item agrees with it in the `by` keys. match: what the value says is put
    into the item that agrees with it in the `by` keys, or added where none does. remove: what stands at the path goes,
    if anything does. rename: the key at the path is called by the value, and keeps its place.
    """

    path: KeyPath
    value: Any
    how: Literal["put", "add", "ensure", "match", "remove", "rename"] = "put"
    by: tuple[str, ...] = ()


def edited(tree: Any, edits: Iterable[Edit]) -> Any:
    """A changed copy."""
    result = copy.deepcopy(tree)
    apply(result, edits)
    return result


def apply(tree: Any, edits: Iterable[Edit]) -> None:
    """Changes the tree in place."""
    for edit in sorted(edits, key=lambda one: ORDER.index(one.how)):
        if edit.how == "put":
            node = _walk(tree, edit.path[:-1])
            node[_key(node, edit.path[-1])] = copy.deepcopy(edit.value)
            continue
        if edit.how in LATER:
            _take_away(tree, edit)
            continue
        items = _list(tree, edit.path)
        there = next((item for item in items if edit.by and _agree(item, edit)), None)
        if edit.how == "match" and there is not None:
            for key, value in edit.value.items():
                if key not in edit.by:
                    there[_key(there, key)] = copy.deepcopy(value)
        elif edit.how == "add" or there is None:
            items.append(copy.deepcopy(edit.value))


def _take_away(tree: Any, edit: Edit) -> None:
    node: Any = tree
    for step in edit.path[:-1]:
        node = _child(node, step)
    last = edit.path[-1]
    if _child(node, last, _NOTHING) is _NOTHING:
        return
    key: Any = _key(node, last)
    if edit.how == "remove":
        del node[key]
        return
    renamed = {edit.value if name == key else name: value for name, value in node.items()}
    node.clear()
    node.update(renamed)


_NOTHING = object()


def _child(node: Any, step: str | int, default: Any = None) -> Any:
    key: Any = _key(node, step)
    if isinstance(node, dict):
        return node.get(key, default)
    there = isinstance(node, list) and isinstance(key, int) and 0 <= key < len(node)
    return node[key] if there else default


def _agree(item: Any, edit: Edit) -> bool:
    def plain(value: Any) -> str:
        return str(value).strip()

    return isinstance(item, dict) and all(plain(item.get(key)) == plain(edit.value[key]) for key in edit.by)


def _key(node: Any, step: str | int) -> str | int:
    """The key as the file spells it: names may stand there with blanks around them."""
    if isinstance(step, int) or not isinstance(node, dict) or step in node:
        return step
    return next((key for key in node if isinstance(key, str) and key.strip() == step), step)


def _walk(tree: Any, path: KeyPath) -> Any:
    node: Any = tree
    for step in path:
        key: Any = _key(node, step)
        child = node[key] if isinstance(node, list) or key in node else None
        if not isinstance(child, (dict, list)):
            child = {}
            node[key] = child
        node = child
    return node


def _list(tree: Any, path: KeyPath) -> Any:
    """The list at a path, made where there is none (or a word such as 'none')."""
    parent = _walk(tree, path[:-1])
    key = _key(parent, path[-1])
    if not isinstance(parent.get(key), list):
        parent[key] = []
    return parent[key]
