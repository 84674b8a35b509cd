"""Which measures are worth doing, in which order? Each alone, then the least sets, each proven by the pipeline."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from functools import partial
from typing import Any, Literal

from brimfast.assess.measures.measure import Measure, Need, Takes, shopping, takes
from brimfast.assess.measures.propose import propose
from brimfast.assess.measures.water import WATER
from brimfast.assess.memo import Memo
from brimfast.assess.pipeline import Assessment, assess
from brimfast.assess.plan.bench import Bench, Chosen
from brimfast.assess.plan.score import RUN, Answer, Change, Outcome, Score, changes, fits, outcome, score
from brimfast.assess.plan.search import NONE, SAME, Point, Searched, front_of, merged, search
from brimfast.shared.edits import Edit
from brimfast.shared.installation.model import Installation

By = Literal["effort", "cost"]
TRIES = 64  # sets of measures that are tried for one part of the installation
HALF = 0.5  # of the overload that can be taken away, for the cheap plan
SHARE, POLISH = 4, "the plans, with what acts on several parts"  # of the tries, for each plan
WORTH = 0.02  # of ln r: what counts as a gain
TOGETHER = 0.05  # of ln r: more than this, and parts act on each other
MATTERS = 0.8  # of what the room holds: runs that come to less are no reason for a measure
Report = Callable[[str, int, int], None]  # what is being done, how far, of how many


@dataclass(frozen=True)
class Ranked:
    """One measure by itself: what it takes, what it makes better and worse."""

    measure: Measure
    takes: Takes
    gain: Score  # what it takes off
    better: tuple[Change, ...]
    worse: tuple[Change, ...]


@dataclass(frozen=True)
class Part:
    """One part of the search: how many sets were tried of how many, and the cheapest that was not."""

    name: str
    tried: int
    of: int
    untried: float


@dataclass(frozen=True)
class Plan:
    """A set of measures, and what the pipeline says of the installation with it."""

    names: tuple[str, ...]  # thorough, balanced, cheap: the same set can be several
    measures: tuple[Measure, ...]
    takes: Takes
    assessment: Assessment
    left: Score
    better: tuple[Change, ...]
    worse: tuple[Change, ...]
    needs: list[Need]
    gap: float  # how much cheaper a set that was not tried could be, at most; 0: none can
    apart: float  # how far the parts' gains, added up, are from what the pipeline says of the whole

    @property
    def edits(self) -> tuple[Edit, ...]:
        return tuple(edit for measure in self.measures for edit in measure.edits)


@dataclass(frozen=True)
class Improvement:
    """What could be done about an installation."""

    assessment: Assessment
    before: Outcome
    now: Score
    by: By
    ranked: tuple[Ranked, ...]  # most gain first
    unfit: tuple[Measure, ...]  # those that by themselves cannot be built with what is there
    parts: tuple[Part, ...]
    plans: tuple[Plan, ...]  # cheap, balanced, thorough
    front: tuple[Point, ...]
    combinations: int  # that the search covered
    assessed: int  # sets that went through the pipeline


@dataclass
class _Setting:
    """Measures that act on several parts at once, taken or left, and the search of the parts beside them."""

    chosen: Chosen
    cost: float
    left: Score  # change against nothing done
    parts: dict[str, Searched] = field(default_factory=dict)


def improve(
    installation: Installation,
    raw: Any,
    *,
    by: By = "effort",
    tries: int = TRIES,
    processes: int = 1,
    report: Report | None = None,
) -> Improvement:
    """raw: the plain values of the file that the installation was read from; `by` what a plan should spare."""
    memo = Memo()
    assessment = assess(installation, memo)
    measures = propose(assessment)
    before = outcome(assessment)
    each = [takes(measure.needs, installation) for measure in measures]
    cost = [_price(one, by, number) for number, one in enumerate(each)]
    with Bench(raw, measures, memo, processes) as bench:
        bench.found[NONE] = before
        work = _Work(bench, installation, before, cost, tries, report)
        ranked, unfit = work.alone(each)
        settings = work.settings()
        parts = [Part(name, one.tried, one.of, one.untried) for name, one in settings[0].parts.items()]
        front = front_of([point for setting in settings for point in work.whole(setting)])
        plans = work.plans(front, settings[0])
    return Improvement(
        assessment,
        before,
        work.now,
        by,
        tuple(ranked),
        tuple(unfit),
        tuple(parts),
        tuple(plans),
        front,
        sum(math.prod(one.tried for one in setting.parts.values()) for setting in settings),
        bench.tried,
    )


def _price(one: Takes, by: By, number: int) -> float:
    """What a plan spares: hours or money, a little of the other, and of what is alike the first."""
    money = one.money
    if by == "cost" and money is not None:
        return money + 0.01 * one.hours + 1e-6 * number
    return one.hours + (0.0001 * money if money is not None else 0.0) + 1e-8 * number


class _Work:
    def __init__(
        self,
        bench: Bench,
        installation: Installation,
        before: Outcome,
        cost: Sequence[float],
        tries: int,
        report: Report | None,
    ) -> None:
        self.bench, self.before, self.cost, self.tries, self.report = bench, before, cost, tries, report
        self.installation = installation
        self.now = score(before, before)
        self.measures = bench.measures
        self.fits: list[int] = []
        self.idle: set[int] = set()  # of the water's measures, those that leave every run that matters as it is

    def scores(self, sets: Sequence[Chosen], what: str) -> list[Score | None]:
        def progress(done: int, of: int) -> None:
            if self.report is not None:
                self.report(what, done, of)

        outcomes = self.bench.outcomes(sets, progress)
        return [None if one is None or not fits(one, self.before) else score(one, self.before) for one in outcomes]

    def alone(self, each: Sequence[Takes]) -> tuple[list[Ranked], list[Measure]]:
        """Every measure by itself; those that take most off first."""
        sets = [frozenset({number}) for number in range(len(self.measures))]
        scores = self.scores(sets, "each measure by itself")
        ranked, unfit = [], []
        for number, (measure, left) in enumerate(zip(self.measures, scores, strict=True)):
            after = self.bench.found[frozenset({number})]
            if after is not None:
                self.fits.append(number)  # what does not fit by itself may fit beside others
            if after is None or left is None:
                unfit.append(measure)
                continue
            if measure.parts == WATER and _same_runs(self.before, after):
                self.idle.add(number)
            better, worse = changes(self.before, after)
            ranked.append(Ranked(measure, each[number], self.now - left, tuple(better), tuple(worse)))
        ranked.sort(key=lambda one: (-one.gain.shortfall, -one.gain.overload, one.takes.hours))
        return ranked, unfit

    def settings(self) -> list[_Setting]:
        """Without the measures that act on several parts, searched; and with those of them that help, tried beside what

        that search found.
        """
        plain = _Setting(NONE, 0.0, Score(0.0, 0.0))
        for name, groups in self._parts().items():
            plain.parts[name] = search(groups, self.cost, partial(self._changes, NONE, name), self.tries)
        joint = self._useful()
        whole = self.scores([joint], "measures that act on several parts")[0] if joint else None
        if whole is None:
            return [plain]
        beside = _Setting(joint, self._cost(joint), whole - self.now)
        for name, found in plain.parts.items():
            sets = [point.chosen for point in found.front]
            lefts = self._changes(joint, name, sets)
            points = [
                Point(point.cost, left, point.chosen)
                for point, left in zip(found.front, lefts, strict=True)
                if left is not None
            ]
            beside.parts[name] = Searched(front_of(points), len(points), found.of, found.untried)
        return [plain, beside]

    def _parts(self) -> dict[str, list[list[int]]]:
        """Groups of measures that act on one part only, by part."""
        found: dict[str, dict[str, list[int]]] = {}
        for number in self.fits:
            measure = self.measures[number]
            if not self._acts_on_several(number) and number not in self.idle:
                found.setdefault(measure.parts[0], {}).setdefault(measure.group, []).append(number)
        return {name: list(groups.values()) for name, groups in found.items()}

    def _acts_on_several(self, number: int) -> bool:
        return len(self.measures[number].parts) > 1

    def _useful(self) -> Chosen:
        """Of the measures that act on several parts, of each group the best that helps and makes nothing worse."""
        best: dict[str, tuple[float, int]] = {}
        for number in filter(self._acts_on_several, self.fits):
            after = self.bench.found[frozenset({number})]
            if after is None or not fits(after, self.before) or changes(self.before, after)[1]:
                continue
            gain, group = self.now.shortfall - score(after, self.before).shortfall, self.measures[number].group
            if gain > WORTH:
                best[group] = max(best.get(group, (0.0, -1)), (gain, number))
        return frozenset(number for _, number in best.values())

    def _changes(self, base: Chosen, name: str, sets: Sequence[Chosen]) -> list[Score | None]:
        """Of sets beside a base: how the score changes against the base alone."""
        start = self.scores([base], name)[0]
        assert start is not None
        lefts = self.scores([base | one for one in sets], name)
        return [None if left is None else left - start for left in lefts]

    def whole(self, setting: _Setting) -> tuple[Point, ...]:
        fronts = [one.front for one in setting.parts.values()]
        return tuple(
            Point(point.cost + setting.cost, point.left + setting.left, point.chosen | setting.chosen)
            for point in merged(fronts)
        )

    def plans(self, front: Sequence[Point], plain: _Setting) -> list[Plan]:
        """Cheap: half of the overload that can be taken away, all of it that is there day and night; balanced: all of it;

        thorough: all that is left as well. Each name goes to the set that, as a whole, is best for what it stands for.
        """
        wanted = _chosen(front, self.now)
        expected = {point.chosen: self.now + point.left for _, point, _ in wanted}
        sets = dict.fromkeys(self._polished(point.chosen, rank) for _, point, rank in wanted if point.chosen)
        found: list[tuple[Plan, float]] = []
        for number, chosen in enumerate(sets):
            if self.report is not None:
                self.report("plans, assessed as a whole", number, len(sets))
            plan = self._plan(chosen, expected.get(chosen), plain)
            if plan is not None:
                found.append((plan, self._cost(chosen)))
        names: dict[int, list[str]] = {number: [] for number in range(len(found))}
        for name, _, rank in wanted if found else ():
            ranked = [rank(plan.left, cost) for plan, cost in found]
            names[ranked.index(min(ranked))].append(name)
        return [replace(found[number][0], names=tuple(mine)) for number, mine in names.items() if mine]

    def _plan(self, chosen: Chosen, expected: Score | None, plain: _Setting) -> Plan | None:
        """expected: by the parts' gains added up; None where the set was changed since."""
        assessment = self.bench.assessment(chosen)
        if assessment is None:
            return None
        after = outcome(assessment)
        better, worse = changes(self.before, after)
        left = score(after, self.before)
        measures = tuple(self.measures[one] for one in sorted(chosen))
        needs = shopping(measures, self.installation, assessment.installation)
        return Plan(
            (),
            measures,
            takes(tuple(needs), self.installation),
            assessment,
            left,
            tuple(better),
            tuple(worse),
            needs,
            self._gap(chosen, plain),
            0.0 if expected is None else left.shortfall - expected.shortfall,
        )

    def _cost(self, chosen: Chosen) -> float:
        return math.fsum(self.cost[number] for number in chosen)

    def _gap(self, chosen: Chosen, plain: _Setting) -> float:
        """What the set costs beyond the cheapest that was not tried.

        A set that was not tried holds an untried one of some part, or a measure that acts on several parts beside
        others: it costs at least as much as the cheapest of these.
        """
        several = [self.cost[number] for number in self.fits if self._acts_on_several(number)]
        least = min([*(one.untried for one in plain.parts.values()), *several], default=math.inf)
        return max(self._cost(chosen) - least, 0.0)

    def _polished(self, chosen: Chosen, rank: Rank) -> Chosen:
        """Measures that act on several parts, one by one taken in, left out or changed for another, while that ranks better."""
        groups: dict[str, list[int]] = {}
        for number in filter(self._acts_on_several, self.fits):
            groups.setdefault(self.measures[number].group, []).append(number)

        def ranked(one: Chosen, left: Score | None) -> tuple[float, float]:
            return (math.inf, math.inf) if left is None else rank(left, self._cost(one))

        here = chosen
        best = ranked(here, self.scores([here], POLISH)[0])
        spent = 0
        while True:
            moves = [
                one
                for group in groups.values()
                for one in (here - set(group), *((here - set(group)) | {number} for number in group))
                if one != here
            ]
            if not moves or (spent and spent + len(moves) > self.tries // SHARE):
                break
            spent += len(moves)
            found = [(ranked(one, left), one) for one, left in zip(moves, self.scores(moves, POLISH), strict=True)]
            first, one = min(found, key=lambda pair: (pair[0], sorted(pair[1])))
            if first >= best:
                break
            best, here = first, one
        return here


def _same_runs(before: Outcome, after: Outcome) -> bool:
    """Whether no finding of water, and no run that comes near what the room holds, comes to anything else."""
    for id in dict.fromkeys((*before, *after)):
        one, other = before.get(id), after.get(id)
        if id.startswith(RUN):
            if max(each.ratio or 0.0 for each in (one, other) if each is not None) < MATTERS:
                continue
        elif not id.startswith("spill/"):
            continue
        if not _near(one, other):
            return False
    return True


def _near(one: Answer | None, other: Answer | None) -> bool:
    if one is None or other is None:
        return one is other
    return one.verdict == other.verdict and math.isclose(one.ratio or 0.0, other.ratio or 0.0, rel_tol=1e-4)


Rank = Callable[[Score, float], tuple[float, float]]


def _chosen(front: Sequence[Point], now: Score) -> list[tuple[str, Point, Rank]]:
    """Of the front one point a plan, and what the plan is for: of scores and costs the least of this."""
    most = min(point.left.overload for point in front)
    least = min(point.left.shortfall for point in front)
    always = min(point.left.always for point in front)

    def cheap(left: Score, cost: float) -> tuple[float, float]:
        if most >= -SAME:
            enough = left.shortfall <= now.shortfall + HALF * least + SAME
        else:
            half = left.overload <= now.overload + HALF * most + SAME
            enough = half and left.always <= now.always + always + SAME
        return (0.0 if enough else 1.0), cost

    def balanced(left: Score, cost: float) -> tuple[float, float]:
        return (round(left.overload, 3), cost) if most < -SAME else cheap(left, cost)

    def thorough(left: Score, cost: float) -> tuple[float, float]:
        return round(left.shortfall, 3), cost

    ranks: dict[str, Rank] = {"cheap": cheap, "balanced": balanced, "thorough": thorough}
    return [
        (name, min(front, key=lambda point, rank=rank: rank(now + point.left, point.cost)), rank)  # type: ignore[misc]
        for name, rank in ranks.items()
    ]
