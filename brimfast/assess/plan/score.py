"""How far is an installation from holding everywhere?"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from brimfast.assess.measures.asked import JUST_KEPT
from brimfast.assess.pipeline import Assessment
from brimfast.assess.spill.assess import Spill
from brimfast.shared.findings import CLOSE_UP_TO, HOLDS_UP_TO, Finding, Verdict

SINGLE, PAIR = "spill/single", "spill/pair"
RUN = "run/"  # before the name of a run of water
LEAST_HELD = 1e-3  # m³
WORST = 10.0  # ratio that stands for no capacity at all, and for what can no longer be assessed


@dataclass(frozen=True)
class Answer:
    """What counts of one finding."""

    verdict: Verdict
    ratio: float | None
    subject: str = ""
    question: str = ""
    always: bool = False  # day and night, before any earthquake
    by_theory: bool = False  # not assessed, though the theory answers and comes out below: it covers no breaking waves


Outcome = Mapping[str, Answer]  # by finding


def outcome(assessment: Assessment) -> dict[str, Answer]:
    """Of every finding but those of practice and money alone; and what every run of water comes to, without weight."""
    return outcome_of(assessment.findings, assessment.spill)


def outcome_of(findings: Iterable[Finding], spill: Spill) -> dict[str, Answer]:
    """Of these findings, and of the runs of water."""
    found = answers(findings)
    if SINGLE in found:  # two mishaps are asked about only where they are worse than one
        found.setdefault(PAIR, replace(found[SINGLE], subject="the worst of two mishaps at once"))
    held = max(spill.room.held, LEAST_HELD)
    for run in spill.runs:
        found[f"{RUN}{run.event.id}"] = Answer("not assessed", max(run.need, run.leaves) / held)
    return found


def answers(findings: Iterable[Finding]) -> dict[str, Answer]:
    return {
        one.id: Answer(one.verdict, one.ratio, one.subject, one.question, one.always, _by_theory(one))
        for one in findings
        if not one.practice
    }


def _by_theory(finding: Finding) -> bool:
    """A wave that by the theory stays below the rim, but is steeper than that covers: the one such finding with a demand."""
    return finding.topic == "slosh" and finding.verdict == "not assessed" and finding.demand is not None


def may_reach(id: str) -> float:
    """Up to which ratio a finding leaves nothing to be desired: least distances are kept or not."""
    return CLOSE_UP_TO if id.endswith(JUST_KEPT) else HOLDS_UP_TO


def weight(id: str, now: Answer, before: Answer | None, up_to: float) -> float:
    """ln(r/up_to) of one finding, at least 0: each halving of an overload counts alike; r at most WORST.

    No capacity counts as WORST, and so does a question that was answered before and no longer is. What is answered by a
    theory that does not cover all of it counts as just reached: not as held, and no worse than before where it was short.
    """
    if id.startswith(RUN):
        return 0.0
    if now.by_theory:
        return math.log(CLOSE_UP_TO / up_to)
    if now.verdict == "not assessed":
        lost = before is not None and before.verdict != "not assessed"
        return math.log(WORST / up_to) if lost else 0.0
    if now.ratio is None:
        return math.log(WORST / up_to) if now.verdict == "short" else 0.0
    return max(math.log(min(now.ratio, WORST) / up_to), 0.0) if now.ratio > 0 else 0.0


def fits(now: Outcome, before: Outcome) -> bool:
    """Whether fasteners keep their least distances wherever they did before: else it cannot be built so."""
    return not any(
        answer.verdict == "short" and id.endswith(JUST_KEPT) and not _was_short(before.get(id))
        for id, answer in now.items()
    )


def _was_short(answer: Answer | None) -> bool:
    return answer is not None and answer.verdict == "short"


@dataclass(frozen=True)
class Score:
    """shortfall: Σ ln(r/0.8) over all that is not `holds`. overload: Σ (1 + ln r) over all that is short; always: of that,

    what is short day and night.
    """

    shortfall: float
    overload: float
    always: float = 0.0

    def __sub__(self, other: Score) -> Score:
        return Score(self.shortfall - other.shortfall, self.overload - other.overload, self.always - other.always)

    def __add__(self, other: Score) -> Score:
        return Score(self.shortfall + other.shortfall, self.overload + other.overload, self.always + other.always)


def score(now: Outcome, before: Outcome) -> Score:
    """Of an outcome, against the one before any measure."""
    shortfall = math.fsum(weight(id, answer, before.get(id), may_reach(id)) for id, answer in now.items())
    over = [
        (1.0 + weight(id, answer, before.get(id), CLOSE_UP_TO), answer.always)
        for id, answer in now.items()
        if answer.verdict == "short" or weight(id, answer, before.get(id), CLOSE_UP_TO) > 0
    ]
    return Score(shortfall, math.fsum(one for one, _ in over), math.fsum(one for one, always in over if always))


@dataclass(frozen=True)
class Change:
    """One finding before and after; None where it is not asked."""

    id: str
    before: Answer | None
    after: Answer | None

    @property
    def asked(self) -> Answer:
        """In the words of the first that asks."""
        answer = self.before or self.after
        assert answer is not None
        return answer

    @property
    def newly_known(self) -> bool:
        """Not answered before, or not asked: what comes out short was not found to hold before."""
        return self.before is None or self.before.verdict == "not assessed"


NOTICED = 0.02  # of ln r


def changes(before: Outcome, after: Outcome) -> tuple[list[Change], list[Change]]:
    """What gets better and what gets worse, each the largest step first."""
    better, worse = [], []
    for id in dict.fromkeys((*before, *after)):
        one = Change(id, before.get(id), after.get(id))
        step = _step(one)
        if step < 0:
            better.append((step, one))
        elif step > 0:
            worse.append((-step, one))
    return [one for _, one in sorted(better, key=lambda pair: pair[0])], [
        one for _, one in sorted(worse, key=lambda pair: pair[0])
    ]


def _step(one: Change) -> float:
    """By how much a finding's weight rises (worse) or falls; what is only just noticed counts as nothing."""
    up_to = may_reach(one.id)
    then = weight(one.id, one.before, one.before, up_to) if one.before is not None else 0.0
    now = weight(one.id, one.after, one.before, up_to) if one.after is not None else 0.0
    return now - then if abs(now - then) > NOTICED else 0.0
