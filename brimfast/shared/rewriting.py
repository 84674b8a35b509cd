"""An installation file changed in place: where nothing changes its text stays as it is, to the byte."""

from __future__ import annotations

import io
import re
from collections.abc import Iterable, Iterator
from typing import Any

from brimfast.shared.edits import Edit, edited
from brimfast.shared.yaml_text import load

LONGEST_LINE = 4096  # so that no group is broken over lines
OFFSET = 2  # of a list's dash beyond its key, where the file has no list yet
LINE_END = re.compile(r"\r\n|\n|\r")
COMMENTED = re.compile(r"[ \t]*(,?)[ \t]+#[^\r\n]*")  # the rest of a line after a value, its comment with it


def rewritten(text: str, edits: Iterable[Edit]) -> str:
    """The file's text after the edits, with its own line ends; text without a byte order mark.

    Changed values are replaced where they stand, new keys follow the last one of their group, new items the last one of
    their list. Comments inside a group that is replaced as a whole move to the line above it.
    """
    before = load(text, "")[0]
    return _Rewriting(text).after(before, edited(before, edits))


class _Rewriting:
    def __init__(self, text: str) -> None:
        from ruamel.yaml import YAML

        self.text = text
        self.root: Any = YAML(typ="rt", pure=True).compose(io.StringIO(text, newline=""))
        found = LINE_END.search(text)
        self.newline = found[0] if found else "\n"
        self.offset = next(self._offsets(self.root), OFFSET)
        self.changes: list[tuple[int, int, str]] = []  # from, to, what stands there then

    def after(self, before: Any, after: Any) -> str:
        self._value(self.root, before, after, None)
        pieces, at = [], 0
        for start, end, new in sorted(self.changes, key=lambda change: change[:2]):
            pieces += [self.text[at:start], new]
            at = end
        return "".join((*pieces, self.text[at:]))

    def _offsets(self, node: Any) -> Iterator[int]:
        """Of each block list its dash beyond its key."""
        for key, value in _pairs(node):
            if _is_list(value) and not value.flow_style:
                yield value.start_mark.column - key.start_mark.column
            yield from self._offsets(value)
        for item in _items(node):
            yield from self._offsets(item)

    def _value(self, node: Any, before: Any, after: Any, key: Any) -> None:
        if before == after and isinstance(before, bool) == isinstance(after, bool):
            return
        if isinstance(before, dict) and isinstance(after, dict) and before.keys() <= after.keys():
            self._group(node, before, after)
        elif isinstance(before, list) and isinstance(after, list) and len(before) <= len(after):
            for item, old, new in zip(_items(node), before, after, strict=False):
                self._value(item, old, new, None)
            if after[len(before) :]:
                self._added(node, after[len(before) :], key)
        else:
            self._replaced(node, after, key)

    def _group(self, node: Any, before: dict[str, Any], after: dict[str, Any]) -> None:
        pairs = {key.value: (key, value) for key, value in _pairs(node)}
        for name, (key, value) in pairs.items():
            self._value(value, before[name], after[name], key)
        new = {name: value for name, value in after.items() if name not in pairs}
        if not new:
            return
        if node.flow_style:
            self._into_brackets(node, [f"{_plain(name)}: {_inline(value)}" for name, value in new.items()])
            return
        column = node.value[0][0].start_mark.column
        lines = []
        for name, value in new.items():
            lines += self._lines(name, value, column)
        self._below(node, lines)

    def _lines(self, name: str, value: Any, column: int) -> list[str]:
        """A new key of a block group: lists one item a line, groups in one line."""
        head = f"{' ' * column}{_plain(name)}:"
        if isinstance(value, list) and value:
            return [head, *self._dashed(value, column + self.offset)]
        return [f"{head} {_inline(value)}"]

    def _dashed(self, items: list[Any], column: int) -> list[str]:
        return [f"{' ' * column}- {_inline(item)}" for item in items]

    def _added(self, node: Any, items: list[Any], key: Any) -> None:
        if node.flow_style:
            if not node.value and key is not None and self._in_block(key):
                self._replaced(node, items, key)
            else:
                self._into_brackets(node, [_inline(item) for item in items])
        else:
            self._below(node, self._dashed(items, node.start_mark.column))

    def _into_brackets(self, node: Any, texts: list[str]) -> None:
        """Before a flow group's closing bracket; each on a line of its own where the last one is."""
        if not node.value:
            at = node.start_mark.index + 1
            self.changes.append((at, at, ", ".join(texts)))
            return
        last = node.value[-1]
        first, end = (last[0], last[1]) if isinstance(last, tuple) else (last, last)
        start = first.start_mark
        own_line = not self.text[start.index - start.column : start.index].strip(" ")
        at = self._end(end, first)
        line = f"{self.newline}{' ' * start.column}"
        commented = COMMENTED.match(self.text, at)
        if own_line and commented is not None:  # the comment stays with what it stands beside
            if not commented[1]:
                self.changes.append((at, at, ","))
            added = "".join(f"{line}{text}," for text in texts)
            at = commented.end()
            self.changes.append((at, at, added if commented[1] else added.removesuffix(",")))
            return
        before = f",{line}" if own_line else ", "
        self.changes.append((at, at, "".join(f"{before}{text}" for text in texts)))

    def _below(self, node: Any, lines: list[str], key: Any = None) -> None:
        """On new lines after the last line of a block group."""
        at = self._end(node, key)
        if not self.text[:at].endswith(("\n", "\r")):
            found = LINE_END.search(self.text, at)
            if found is None:
                at = len(self.text)
                self.changes.append((at, at, "".join(f"{self.newline}{line}" for line in lines)))
                return
            at = found.end()
        self.changes.append((at, at, "".join(f"{line}{self.newline}" for line in lines)))

    def _replaced(self, node: Any, value: Any, key: Any) -> None:
        end = self._end(node, key)
        start = min(node.start_mark.index, end)
        comments = list(self._comments(node, start, end))
        block = key is not None and self._in_block(key)
        if block and (_is_group(node) or _is_list(node)) and not node.flow_style:
            colon = self.text.index(":", key.end_mark.index) + 1
            comments = [*self._comments(node, colon, start), *comments]
            start = colon
        if comments:
            at = self._line_start(key.start_mark if key is not None else node.start_mark)
            indent = " " * (key.start_mark.column if block else node.start_mark.column)
            self.changes.append((at, at, "".join(f"{indent}{comment}{self.newline}" for comment in comments)))
        if block and isinstance(value, list) and value and not LINE_END.search(self.text, start, end):
            while self.text[start - 1] == " ":
                start -= 1
            self.changes.append((start, end, ""))
            self._below(node, self._dashed(value, key.start_mark.column + self.offset), key)
            return
        blank = " " if self.text[start - 1] == ":" else ""
        self.changes.append((start, end, f"{blank}{_inline(value)}"))

    def _end(self, node: Any, key: Any) -> int:
        """Where its last character stands; of a block group the mark may be lines below, of nothing anywhere after its key."""
        if (_is_group(node) or _is_list(node)) and not node.flow_style and node.value:
            last = node.value[-1]
            return self._end(last[1], last[0]) if isinstance(last, tuple) else self._end(last, None)
        if key is not None and node is not key and node.start_mark.index == node.end_mark.index:
            return self.text.index(":", key.end_mark.index) + 1
        return int(node.end_mark.index)

    def _in_block(self, key: Any) -> bool:
        return key in self._block_keys

    @property
    def _block_keys(self) -> list[Any]:
        return list(_block_keys(self.root))

    def _line_start(self, mark: Any) -> int:
        return int(mark.index - mark.column)

    def _comments(self, node: Any, start: int, end: int) -> Iterator[str]:
        """Comments in a stretch of the text: what begins with # outside of every scalar."""
        scalars = list(_scalars(node))
        at = start
        while (at := self.text.find("#", at, end)) >= 0:
            if any(first <= at < last for first, last in scalars):
                at += 1
                continue
            found = LINE_END.search(self.text, at)
            stop = found.start() if found else len(self.text)
            yield self.text[at:stop].rstrip()
            at = stop


def _is_group(node: Any) -> bool:
    return bool(node.id == "mapping")


def _is_list(node: Any) -> bool:
    return bool(node.id == "sequence")


def _pairs(node: Any) -> list[tuple[Any, Any]]:
    return list(node.value) if _is_group(node) else []


def _items(node: Any) -> list[Any]:
    return list(node.value) if _is_list(node) else []


def _block_keys(node: Any) -> Iterator[Any]:
    for key, value in _pairs(node):
        if not node.flow_style:
            yield key
        yield from _block_keys(value)
    for item in _items(node):
        yield from _block_keys(item)


def _scalars(node: Any) -> Iterator[tuple[int, int]]:
    if not (_is_group(node) or _is_list(node)):
        yield node.start_mark.index, node.end_mark.index
    for pair in _pairs(node):
        for one in pair:
            yield from _scalars(one)
    for item in _items(node):
        yield from _scalars(item)


def _plain(name: str) -> str:
    """A key as YAML writes it."""
    return _dumped({name: 1}).removeprefix("{").removesuffix(": 1}")


def _inline(value: Any) -> str:
    """A value on one line."""
    return _dumped({"k": value}).removeprefix("{k: ").removesuffix("}")


def _dumped(group: dict[str, Any]) -> str:
    from ruamel.yaml import YAML

    yaml = YAML(typ="rt", pure=True)
    yaml.width = LONGEST_LINE
    out = io.StringIO()
    yaml.dump(_flow(group), out)
    return out.getvalue().strip()


def _flow(value: Any) -> Any:
    from ruamel.yaml.comments import CommentedMap, CommentedSeq

    if isinstance(value, dict):
        group = CommentedMap({key: _flow(item) for key, item in value.items()})
        group.fa.set_flow_style()
        return group
    if isinstance(value, list):
        items = CommentedSeq([_flow(item) for item in value])
        items.fa.set_flow_style()
        return items
    return value
