"""An installation file changed in place: where nothing changes its text stays as it is, to the byte."""

from __future__ import annotations

import io
import re
from collections.abc import Iterable, Iterator
from typing import Any

from brimfast.shared.edits import LATER, Edit, edited
from brimfast.shared.yaml_text import load

MOST_IN_A_LINE = 8  # keys of a new group that stand in one line; where there are more, each has its own
LONGEST_LINE = 4096  # so that no group is broken over lines
OFFSET = 2  # of a list's dash beyond its key, where the file has no list yet
LINE_END = re.compile(r"\r\n|\n|\r")
COMMENTED = re.compile(r"[ \t]*(,?)[ \t]+#[^\r\n]*")  # the rest of a line after a value, its comment with it


def rewritten(text: str, edits: Iterable[Edit], raw: Any = None, root: Any = None) -> str:
    """The file's text after the edits, with its own line ends; text without a byte order mark.

    Changed values are replaced where they stand, new keys follow the last one of their group, new items the last one of
    their list. What is removed takes its lines with it, and the comments on them. Comments inside a group that is replaced
    as a whole move to the line above it.

    raw, root: the plain values and the nodes of this very text, where they are known.
    """
    edits = list(edits)
    before = load(text, "")[0] if raw is None else raw
    first = [edit for edit in edits if edit.how not in LATER]
    later = [edit for edit in edits if edit.how in LATER]
    between = edited(before, first)
    if first or not later:
        text = _Rewriting(text, root).after(before, between)
        root = None
    return _Rewriting(text, root, taking=True).after(between, edited(between, later)) if later else text


class _Rewriting:
    def __init__(self, text: str, root: Any = None, taking: bool = False) -> None:
        """taking: what the edits take out is taken out; else a group that has fewer keys is written anew."""
        from ruamel.yaml import YAML

        self.text, self.taking = text, taking
        self.root: Any = root or YAML(typ="rt", pure=True).compose(io.StringIO(text, newline=""))
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
        elif not (self.taking and self._taken(node, before, after)):
            self._replaced(node, after, key)

    def _taken(self, node: Any, before: Any, after: Any) -> bool:
        """Keys or items that are taken out, or a key that is called otherwise; whether that is what happened."""
        if isinstance(before, dict) and isinstance(after, dict) and after:
            if after.keys() < before.keys():
                self._fewer_keys(node, before, after)
                return True
            names = _renamed(before, after)
            if names is not None:
                key = next(key for key, _ in _pairs(node) if key.value == names[0])
                self.changes.append((key.start_mark.index, key.end_mark.index, _plain(names[1])))
                return True
        if isinstance(before, list) and isinstance(after, list) and after:
            gone = _gone(before, after)
            self._without(node, _items(node), gone)
            return bool(gone)
        return False

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

    def _fewer_keys(self, node: Any, before: dict[str, Any], after: dict[str, Any]) -> None:
        pairs = _pairs(node)
        for key, value in pairs:
            if key.value in after:
                self._value(value, before[key.value], after[key.value], key)
        self._without(node, pairs, [index for index, (key, _) in enumerate(pairs) if key.value not in after])

    def _without(self, node: Any, parts: list[Any], gone: list[int]) -> None:
        """Pairs or items taken out, each with the rest of its lines."""
        for first, last in _runs(gone):
            (start, _), (_, end) = self._reach(parts[first]), self._reach(parts[last])
            following = self._reach(parts[last + 1])[0] if last + 1 < len(parts) else None
            if not node.flow_style:
                self._without_lines(node, parts[first], start, end, following)
            elif following is not None:
                self.changes.append((start, following, ""))
            else:
                since = self._reach(parts[first - 1])[1] if first else start
                commented = COMMENTED.match(self.text, since) is not None
                self.changes.append((start if commented else since, end, ""))

    def _without_lines(self, node: Any, part: Any, start: int, end: int, following: int | None) -> None:
        found = LINE_END.search(self.text, end)
        stop = found.end() if found else len(self.text)
        if not isinstance(part, tuple):
            self.changes.append((self._dash_line(part, node.start_mark.column), stop, ""))
            return
        line = self._line_start(part[0].start_mark)
        behind_a_dash = bool(self.text[line:start].strip(" "))
        if behind_a_dash and following is not None:  # the next key takes its place
            self.changes.append((start, following, ""))
        else:
            self.changes.append((line, stop, ""))

    def _reach(self, part: Any) -> tuple[int, int]:
        first, last = part if isinstance(part, tuple) else (part, part)
        end = self._end(last, first if isinstance(part, tuple) else None)
        return min(int(first.start_mark.index), end), end

    def _dash_line(self, item: Any, column: int) -> int:
        at = self._line_start(item.start_mark)
        while at > 0 and self.text[at + column : at + column + 1] != "-":
            at = max(self.text.rfind(mark, 0, at - 1) + 1 for mark in "\r\n")
        return at

    def _lines(self, name: str, value: Any, column: int) -> list[str]:
        """A new key of a block group: lists one item a line, groups in one line unless they are long."""
        head = f"{' ' * column}{_plain(name)}:"
        if isinstance(value, list) and value:
            return [head, *self._dashed(value, column + self.offset)]
        if isinstance(value, dict) and len(value) > MOST_IN_A_LINE:
            return [head, *(line for key, item in value.items() for line in self._lines(key, item, column + 2))]
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


def _renamed(before: dict[str, Any], after: dict[str, Any]) -> tuple[str, str] | None:
    """The one key that is called otherwise, at the same place and with the same value."""
    if len(before) != len(after):
        return None
    differ = [pair for pair in zip(before, after, strict=True) if pair[0] != pair[1]]
    if len(differ) != 1 or list(before.values()) != list(after.values()):
        return None
    return differ[0]


def _gone(before: list[Any], after: list[Any]) -> list[int]:
    """Which items are no longer there, where all others are the same; none where that is not what happened."""
    found, at = [], 0
    for index, item in enumerate(before):
        if at < len(after) and item == after[at]:
            at += 1
        else:
            found.append(index)
    return found if at == len(after) else []


def _runs(numbers: list[int]) -> list[tuple[int, int]]:
    """First and last of each stretch of numbers that follow each other."""
    found: list[tuple[int, int]] = []
    for number in numbers:
        if found and number == found[-1][1] + 1:
            found[-1] = (found[-1][0], number)
        else:
            found.append((number, number))
    return found


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
