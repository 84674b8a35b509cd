"""Measures switched on for trial: what they would change, by the whole computation and nothing else."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from brimfast.assess.measures.measure import Measure, shopping, takes
from brimfast.assess.pipeline import Assessment
from brimfast.assess.plan.bench import changed
from brimfast.assess.plan.score import Change, answers, changes, outcome
from brimfast.reports import choice, words
from brimfast.reports.improve_words import answer_text, hours_text, money_text, subject_text
from brimfast.reports.page import page_words
from brimfast.reports.page.calculation import DRAWN, WHOLE, Known
from brimfast.reports.page.opened import Opened, State
from brimfast.shared.edits import edited
from brimfast.shared.installation.model import Installation

MOST_CHANGES = 14


@dataclass(frozen=True)
class Switch:
    """One measure. kind: of those with the same only one can be on."""

    id: str
    kind: str
    title: str
    takes: str
    on: bool


@dataclass(frozen=True)
class Switches:
    """Measures of one part of the installation."""

    part: str
    switches: tuple[Switch, ...]

    @property
    def any_on(self) -> bool:
        return any(one.on for one in self.switches)


@dataclass(frozen=True)
class Row:
    """A ratio before and after."""

    subject: str
    question: str
    before: str
    after: str
    verdict: str


@dataclass(frozen=True)
class Tried:
    """What the measures that are on come to. problem: why they cannot be tried; stage: how far it is.

    more: how many get better beside those that are named; what gets worse is all named.
    """

    stage: int
    chosen: tuple[str, ...]
    problem: str = ""
    better: tuple[Row, ...] = ()
    worse: tuple[Row, ...] = ()
    more: int = 0
    counts: str = ""
    takes: str = ""

    @property
    def whole(self) -> bool:
        return self.stage == WHOLE


def switches(found: Sequence[Measure], chosen: Sequence[str], installation: Installation) -> list[Switches]:
    """By part, in the order in which they are proposed."""
    parts: dict[str, list[Switch]] = {}
    for one in found:
        much = takes(one.needs, installation)
        told = f"{hours_text(much)}, {money_text(much, installation)}"
        title = f"{subject_text(one, installation)}: {one.title}"
        parts.setdefault(", ".join(one.parts), []).append(Switch(one.id, one.group, title, told, one.id in chosen))
    return [Switches(words.capital(part), tuple(group)) for part, group in parts.items()]


def picked(found: Sequence[Measure], chosen: Sequence[str]) -> tuple[list[Measure], str]:
    """Those that are on, and what speaks against trying them together."""
    mine = [one for one in found if one.id in chosen]
    groups: dict[str, Measure] = {}
    for one in mine:
        other = groups.setdefault(one.group, one)
        if other is not one:
            return mine, page_words.ONE_OF_A_KIND.format(first=other.title, second=one.title)
    return mine, ""


def tried(
    opened: Opened, state: State, before: Assessment, mine: Sequence[Measure], stage: int, within: float
) -> Tried:
    """After a stage, as soon as the next is there."""
    assert state.source is not None
    ids = tuple(one.id for one in mine)
    after = changed(state.source.raw, mine)
    if after is None:
        return Tried(WHOLE, ids, page_words.DOES_NOT_FIT)
    raw = edited(state.source.raw, [edit for one in mine for edit in one.edits])
    known = opened.trial((state.revision, *ids), after, raw).after(stage, within)
    if known is None:
        return Tried(WHOLE, ids, page_words.TRIED_ELSEWHERE)
    return _compared(before, known, mine, after)


def _compared(before: Assessment, known: Known, mine: Sequence[Measure], after: Installation) -> Tried:
    ids = tuple(one.id for one in mine)
    if known.stage == DRAWN:
        return Tried(known.stage, ids)
    whole = known.whole
    if whole is not None:
        then, now = outcome(before), outcome(whole)
    else:
        now = answers(known.sketch.findings)
        watery = ("spill", "exposure", "pipes")
        then = answers(one for one in before.findings if one.topic not in watery)
    better, worse = changes(then, now)
    much = takes(tuple(shopping(tuple(mine), before.installation, after)), before.installation)
    counts = ""
    if whole is not None:
        short, was = choice.counts(whole)["short"], choice.counts(before)["short"]
        counts = f"{was} checks are short as it is, {short} with these."
    return Tried(
        known.stage,
        ids,
        "",
        tuple(_row(one) for one in better[:MOST_CHANGES]),
        tuple(_row(one) for one in worse),
        max(len(better) - MOST_CHANGES, 0),
        counts,
        f"{hours_text(much)} of work, {money_text(much, before.installation)} for parts.",
    )


def _row(one: Change) -> Row:
    verdict = one.after.verdict if one.after is not None else "holds"
    return Row(
        words.plain_name(one.asked.subject),
        one.asked.question,
        answer_text(one.before),
        answer_text(one.after),
        verdict,
    )
