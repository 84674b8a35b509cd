"""Two installations side by side: what differs in the files, and what that changes in the answers."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from brimfast.assess.pipeline import Assessment
from brimfast.assess.plan.score import Change, answers, changes, outcome, score
from brimfast.reports import improve_words as say
from brimfast.reports import words
from brimfast.reports.blocks import Block, Cell, Gap, Grid, Heading, Line
from brimfast.reports.improve_terminal import answer_cell, body_cell
from brimfast.shared.errors import KeyPath, printable
from brimfast.shared.reading import Source, path_text
from brimfast.shared.units import System, show

MOST_KEYS = 60
NONE, NOTHING = "–", "nothing"  # where a key does not stand: for the eye, for the ear


@dataclass(frozen=True)
class Difference:
    """A key that differs: its path in words, and what stands there in either file."""

    where: str
    before: str
    after: str


def differences(one: Source, other: Source) -> list[Difference]:
    """Of the two files, in the order of the first; things with names are matched by their names."""
    found: list[Difference] = []
    _walk(one.raw, other.raw, (), one.raw, other.raw, found)
    return found


def _walk(one: Any, other: Any, path: KeyPath, raw: Any, raw_other: Any, found: list[Difference]) -> None:
    if isinstance(one, dict) and isinstance(other, dict):
        for key in dict.fromkeys((*one, *other)):
            _walk(one.get(key), other.get(key), (*path, key), raw, raw_other, found)
        return
    if isinstance(one, list) and isinstance(other, list):
        pairs = _pairs(one, other)
        for (index, first), (other_index, second) in pairs:
            place = index if index is not None else other_index
            _walk(first, second, (*path, place or 0), raw, raw_other, found)
        return
    if _plain(one) != _plain(other):
        where = path_text(path, raw if one is not None else raw_other)
        found.append(Difference(where, _plain(one), _plain(other)))


Item = tuple[int | None, Any]


def _pairs(one: list[Any], other: list[Any]) -> list[tuple[Item, Item]]:
    """Items of two lists that are the same thing: by name, else by place."""
    names = [item.get("name") if isinstance(item, dict) else None for item in other]
    taken: set[int] = set()
    pairs: list[tuple[Item, Item]] = []
    for index, item in enumerate(one):
        name = item.get("name") if isinstance(item, dict) else None
        match = names.index(name) if name is not None and name in names else index if name is None else -1
        if 0 <= match < len(other) and match not in taken:
            taken.add(match)
            pairs.append(((index, item), (match, other[match])))
        else:
            pairs.append(((index, item), (None, None)))
    pairs += [((None, None), (index, item)) for index, item in enumerate(other) if index not in taken]
    return pairs


def _plain(value: Any) -> str:
    """What stands there, on one line."""
    if value is None:
        return NONE
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, dict):
        return "{" + ", ".join(f"{key}: {_plain(item)}" for key, item in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(_plain(item) for item in value) + "]"
    text = str(value).strip()
    return {"true": "yes", "false": "no"}.get(text.casefold(), text)


def comparison_blocks(
    one: Source, other: Source, before: Assessment, after: Assessment, system: System
) -> Iterator[Block]:
    for mark, source, assessment in (("A", one, before), ("B", other, after)):
        yield Line(f"{mark}  {assessment.installation.installation}  ({printable(source.file)})", style="bold")
    yield Line(words.DEFER, style="dim")
    first, second = outcome(before), outcome(after)
    scores = score(first, first), score(second, first)
    yield Gap()
    yield Line(
        f"Short: {say.short_count(before)} in A, {say.short_count(after)} in B. Shortfall {scores[0].shortfall:.2f} in A, "
        f"{scores[1].shortfall:.2f} in B (the sum of ln(ratio/0.8) over all that is not `holds`). Loaded weight "
        f"{show(before.total_mass, 'mass', system)} in A, {show(after.total_mass, 'mass', system)} in B.",
        style="bold",
    )
    yield from _keys(differences(one, other))
    better, worse = changes(first, second)
    for title, found in (("Better in B", better), ("Worse or new in B", worse)):
        if found:
            yield Heading(title)
            yield _answers(found)
    if not better and not worse:
        yield Heading("No finding that matters comes out another way")
    changed = {one.id for one in (*better, *worse)}
    alike = (answers(before.findings).keys() & answers(after.findings).keys()) - changed
    yield Line(f"{len(alike)} other findings come out alike, or stay below what matters.", style="dim")


def _answers(found: Iterable[Change]) -> Grid:
    rows = [
        (body_cell(one.asked.subject), one.asked.question, answer_cell(one.before), answer_cell(one.after))
        for one in found
    ]
    return Grid((("what", False), ("question", False), ("A", True), ("B", True)), rows, names=2)


def _keys(found: list[Difference]) -> Iterator[Block]:
    if not found:
        yield Heading("The files say the same")
        return
    yield Heading("What differs in the files")
    rows: list[tuple[str | Cell, ...]] = [
        (one.where, *(Cell(text, said=NOTHING if text == NONE else "") for text in (one.before, one.after)))
        for one in found
    ]
    yield Grid((("key", False), ("A", False), ("B", False)), rows[:MOST_KEYS])
    if len(found) > MOST_KEYS:
        yield Line(f"and {len(found) - MOST_KEYS} more.", style="dim")
