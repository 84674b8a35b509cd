"""Which measures are worth doing, in which order? Each alone, then the least sets, each proven by the pipeline."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from typing import Any, Literal

from brimfast.assess.measures.measure import Measure, Need, Takes, shopping, takes
from brimfast.assess.measures.propose import propose
from brimfast.assess.measures.water import WATER
from brimfast.assess.memo import Memo
from brimfast.assess.pipeline import Assessment, assess
from brimfast.assess.plan.bench import Bench
from brimfast.assess.plan.fronts import NONE, SAME, Chosen, Enough, Point, front_of, least_cost, merged
from brimfast.assess.plan.refine import Rank, Refined, refining
from brimfast.assess.plan.score import RUN, Answer, Change, Outcome, Score, changes, fits, outcome, score
from brimfast.assess.plan.search import Searched, beside_each_other, searching
from brimfast.shared.edits import Edit
from brimfast.shared.findings import HOLDS_UP_TO
from brimfast.shared.installation.model import Installation

By = Literal["effort", "cost"]
TRIES = 64  # sets of measures that are tried for one part of the installation
HALF = 0.5  # of the overload that can be taken away, for the cheap plan
SETS, POLISH = "sets of measures, part by part", "the plans: other measures, and without each"
WORTH = 0.02  # of ln r: what counts as a gain
TOGETHER = 0.05  # of ln r: more than this, and parts act on each other
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
    unproven: int  # how many of its measures it was not tried without, because the tries ran out

    @property
    def edits(self) -> tuple[Edit, ...]:
        return tuple(edit for measure in self.measures for edit in measure.edits)


@dataclass(frozen=True)
class Improvement:
    """What could be done about an installation."""

    assessment: Assessment
    before: Outcome
    now: Score
    by: By  # what plans spare
    asked: By  # and what they were to spare: hours stand in for money where a price is not known
    unpriced: int  # measures of which a price is not known
    ranked: tuple[Ranked, ...]  # most gain first
    unfit: tuple[Measure, ...]  # those that by themselves cannot be built with what is there
    parts: tuple[Part, ...]
    plans: tuple[Plan, ...]  # cheap, balanced, thorough
    front: tuple[Point, ...]
    thinned: bool  # whether sets of parts, put together, were too many to keep all that nothing beats
    combinations: int  # that the search covered
    assessed: int  # sets that went through the pipeline


@dataclass
class _Setting:
    """Measures that act on several parts at once, taken or left, and the search of the parts beside them."""

    chosen: Chosen
    cost: float
    left: Score  # change against nothing done
    parts: dict[str, Searched] = field(default_factory=dict)

    def beside(self, point: Point) -> Point:
        """What a set of the parts comes to beside its own."""
        return Point(point.cost + self.cost, point.left + self.left, point.chosen | self.chosen)

    def least(self, enough: Enough) -> float:
        """No set of those that stand for it costs less, and leaves no more than enough."""
        most, always = enough.most - getattr(self.left, enough.figure), enough.always - self.left.always
        within = Enough(enough.figure, most, always)
        return self.cost + least_cost([one.front for one in self.parts.values()], within)


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
    unpriced = sum(one.money is None for one in each)
    spares: By = "effort" if unpriced else by
    cost = [_price(one, spares, number, not unpriced) for number, one in enumerate(each)]
    with Bench(raw, measures, memo, processes) as bench:
        bench.found[NONE] = before
        work = _Work(bench, installation, before, cost, tries, report)
        ranked, unfit = work.alone(each)
        settings = work.settings()
        parts = [Part(name, one.tried, one.of, one.untried) for name, one in settings[0].parts.items()]
        wholes = [merged([one.front for one in setting.parts.values()]) for setting in settings]
        front = front_of(
            [setting.beside(point) for setting, one in zip(settings, wholes, strict=True) for point in one.points]
        )
        thinned = any(one.thinned for one in wholes)
        plans = work.plans(front, settings, thinned)
    return Improvement(
        assessment,
        before,
        work.now,
        spares,
        by,
        unpriced,
        tuple(ranked),
        tuple(unfit),
        tuple(parts),
        tuple(plans),
        front,
        thinned,
        sum(math.prod(one.tried for one in setting.parts.values()) for setting in settings),
        bench.tried,
    )


def _price(one: Takes, by: By, number: int, all_priced: bool) -> float:
    """What a plan spares: hours or money, a little of the other, and of what is alike the first.

    all_priced: whether money is known of every measure; else hours alone count, since what is not known cannot be weighed.
    """
    if not all_priced or one.money is None:
        return one.hours + 1e-8 * number
    if by == "cost":
        return one.money + 0.01 * one.hours + 1e-6 * number
    return one.hours + 0.0001 * one.money + 1e-8 * number


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
        self.together = _frames(installation)
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
            if set(measure.parts) == set(WATER) and _same_runs(self.before, after):
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
        parts = self._parts()
        each = [searching(groups, self.cost, self.tries) for groups in parts.values()]
        plain.parts.update(zip(parts, beside_each_other(each, self._changes), strict=True))
        joint = self._useful()
        sets = [joint | point.chosen for one in plain.parts.values() for point in one.front]
        whole, *lefts = self.scores([joint, *sets], "the same beside what acts on several parts") if joint else [None]
        if whole is None:
            return [plain]
        beside, left = _Setting(joint, self._cost(joint), whole - self.now), iter(lefts)
        for name, found in plain.parts.items():
            known = [(point, next(left)) for point in found.front]
            points = [Point(point.cost, one - whole, point.chosen) for point, one in known if one is not None]
            beside.parts[name] = Searched(front_of(points), len(points), found.of, found.untried)
        return [plain, beside]

    def _parts(self) -> dict[str, list[list[int]]]:
        """Groups of measures that act on one part only, by part."""
        found: dict[str, dict[str, list[int]]] = {}
        for number in self.fits:
            if not self._acts_on_several(number) and number not in self.idle:
                (part,) = self._of(number)
                found.setdefault(part, {}).setdefault(self.measures[number].group, []).append(number)
        return {name: list(groups.values()) for name, groups in found.items()}

    def _of(self, number: int) -> set[str]:
        return {self.together.get(part, part) for part in self.measures[number].parts}

    def _acts_on_several(self, number: int) -> bool:
        return len(self._of(number)) > 1

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

    def _changes(self, sets: Sequence[Chosen]) -> list[Score | None]:
        """How the score changes against nothing done."""
        return [None if left is None else left - self.now for left in self.scores(sets, SETS)]

    def plans(self, front: Sequence[Point], settings: Sequence[_Setting], thinned: bool) -> list[Plan]:
        """Cheap: half of the overload that can be taken away, all of it that is there day and night; balanced: all of it;

        thorough: all that is left as well. Each name goes to the set that, as a whole, is best for what it stands for.
        """
        wanted = _chosen(front, self.now)
        starts = [one for one in wanted if one.point.chosen]
        expected = {one.point.chosen: self.now + one.point.left for one in starts}
        slack = {one.name: self._slack(one, settings) if thinned else 0.0 for one in starts}
        several = self._several()
        asking = [refining(one.point.chosen, one.rank, several, self.cost, self.tries) for one in starts]
        refined = beside_each_other(asking, lambda sets: self.scores(sets, POLISH))
        unproven = {one.chosen: one.unproven for one in sorted(refined, key=lambda one: -one.unproven)}
        gaps: dict[Chosen, float] = {}
        for one, end in zip(starts, refined, strict=True):
            gap = max(self._gap(end.chosen, settings[0]), slack[one.name])
            gaps[end.chosen] = max(gaps.get(end.chosen, 0.0), gap)
        done = itertools.count(1)

        def step() -> None:
            if self.report is not None:
                self.report("plans, assessed as a whole", next(done), len(unproven))

        found: list[tuple[Plan, float]] = []
        whole = self.bench.assessments(list(unproven), step)
        for (chosen, left), assessment in zip(unproven.items(), whole, strict=True):
            if assessment is not None:
                plan = self._plan(Refined(chosen, left), assessment, expected.get(chosen), gaps[chosen])
                found.append((plan, self._cost(chosen)))
        names: dict[int, list[str]] = {number: [] for number in range(len(found))}
        for one in wanted if found else ():
            ranked = [one.rank(plan.left, cost) for plan, cost in found]
            names[ranked.index(min(ranked))].append(one.name)
        return [replace(found[number][0], names=tuple(mine)) for number, mine in names.items() if mine]

    def _plan(self, refined: Refined, assessment: Assessment, expected: Score | None, gap: float) -> Plan:
        """expected: by the parts' gains added up; None where the set was changed since."""
        chosen = refined.chosen
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
            gap,
            0.0 if expected is None else left.shortfall - expected.shortfall,
            refined.unproven,
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

    def _slack(self, wanted: _Wanted, settings: Sequence[_Setting]) -> float:
        """What the parts' sets, put together in the best way, could at most cost less than the point that was kept."""
        most = getattr(wanted.point.left, wanted.enough.figure)
        enough = replace(wanted.enough, most=max(most, wanted.enough.most))
        return max(wanted.point.cost - min(setting.least(enough) for setting in settings), 0.0)

    def _several(self) -> list[list[int]]:
        """Groups of measures that act on several parts; first those with the measure that by itself takes most off."""
        groups: dict[str, list[int]] = {}
        for number in filter(self._acts_on_several, self.fits):
            groups.setdefault(self.measures[number].group, []).append(number)
        gain = {number: self._gain(number) for group in groups.values() for number in group}
        return sorted(groups.values(), key=lambda group: -max(gain[number] for number in group))

    def _gain(self, number: int) -> float:
        after = self.bench.found[frozenset({number})]
        fitting = after is not None and fits(after, self.before)
        return self.now.shortfall - score(after, self.before).shortfall if after is not None and fitting else -math.inf


def _frames(installation: Installation) -> dict[str, str]:
    """Racks that turn into each other, or are joined, stand in one frame, and are one part: the name of that, by the names of theirs."""
    found: dict[str, list[str]] = {}
    for name, rack in installation.racks.items():
        found.setdefault(rack.stands_with or name, []).append(f"rack {name}")
    return {name: " and ".join(names) for names in found.values() for name in names}


def _same_runs(before: Outcome, after: Outcome) -> bool:
    """Whether no finding of water, and no run that comes near what the room holds, comes to anything else."""
    for id in dict.fromkeys((*before, *after)):
        one, other = before.get(id), after.get(id)
        if id.startswith(RUN):
            if (
                max(each.ratio or 0.0 for each in (one, other) if each is not None) < HOLDS_UP_TO
            ):  # less of the room is no reason for a measure
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


@dataclass(frozen=True)
class _Wanted:
    """A plan's name, the point of the front that it starts from, and what it is for: of scores and costs the least."""

    name: str
    point: Point
    rank: Rank
    enough: Enough


def _chosen(front: Sequence[Point], now: Score) -> list[_Wanted]:
    """Of the front one point a plan."""
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

    half = Enough("overload", HALF * most, always) if most < -SAME else Enough("shortfall", HALF * least)
    kinds: tuple[tuple[str, Rank, Enough], ...] = (
        ("cheap", cheap, half),
        ("balanced", balanced, Enough("overload", most) if most < -SAME else half),
        ("thorough", thorough, Enough("shortfall", least)),
    )
    return [
        _Wanted(name, min(front, key=lambda point, rank=rank: rank(now + point.left, point.cost)), rank, enough)  # type: ignore[misc]
        for name, rank, enough in kinds
    ]
