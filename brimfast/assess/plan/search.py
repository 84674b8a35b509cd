"""The least that must be done: sets with one or none of each group, tried all where they are few enough.

Nothing here knows what a measure is: a set is a frozenset of numbers, each with a price, and `outcomes` says what sets
come to.
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from brimfast.assess.plan.score import Score

Chosen = frozenset[int]
Outcomes = Callable[[Sequence[Chosen]], list[Score | None]]  # None: cannot be built
NONE: Chosen = frozenset()
SAME = 1e-9
BATCH = 16
MOST_POINTS = 400


@dataclass(frozen=True)
class Point:
    """A set, what it costs, and what it leaves."""

    cost: float
    left: Score
    chosen: Chosen


@dataclass(frozen=True)
class Searched:
    """The sets that nothing beats in cost and in what they leave; how many were tried of how many.

    untried: the least cost of a set that was not tried; infinite where all were.
    """

    front: tuple[Point, ...]
    tried: int
    of: int
    untried: float

    @property
    def exact(self) -> bool:
        return self.tried == self.of


def front_of(points: Sequence[Point]) -> tuple[Point, ...]:
    """Those that no other beats: none costs as little and leaves as little, overload and shortfall alike."""
    kept: list[Point] = []
    for one in sorted(points, key=_rank):
        if not any(
            other.left.shortfall <= one.left.shortfall + SAME
            and other.left.overload <= one.left.overload + SAME
            and other.left.always <= one.left.always + SAME
            for other in kept
        ):
            kept.append(one)
    return tuple(kept)


def _rank(one: Point) -> tuple[float, float, float, int, tuple[int, ...]]:
    return one.cost, one.left.shortfall, one.left.overload, len(one.chosen), tuple(sorted(one.chosen))


def by_cost(groups: Sequence[Sequence[int]], cost: Sequence[float]) -> Iterator[tuple[float, Chosen]]:
    """All sets, the cheapest first."""
    ladders = [sorted([(0.0, -1), *((cost[number], number) for number in group)]) for group in groups]
    start = tuple(0 for _ in ladders)

    def price(steps: tuple[int, ...]) -> float:
        return math.fsum(ladder[step][0] for ladder, step in zip(ladders, steps, strict=True))

    waiting, seen = [(price(start), start)], {start}
    while waiting:
        total, steps = heapq.heappop(waiting)
        yield (
            total,
            frozenset(ladder[step][1] for ladder, step in zip(ladders, steps, strict=True) if ladder[step][1] >= 0),
        )
        for index in range(len(steps)):
            if steps[index] + 1 < len(ladders[index]):
                further = (*steps[:index], steps[index] + 1, *steps[index + 1 :])
                if further not in seen:
                    seen.add(further)
                    heapq.heappush(waiting, (price(further), further))


def search(groups: Sequence[Sequence[int]], cost: Sequence[float], outcomes: Outcomes, most: int) -> Searched:
    """Up to about `most` sets: all, where they are no more. Else each measure alone, the way down from the dearest of every

    group to a set that no change of one group betters, the way back from there to nothing, and then the cheapest that are
    left.
    """
    total = math.prod(len(group) + 1 for group in groups)
    tries = _Tries(groups, cost, outcomes)
    if total > most:
        tries.take([NONE, *(frozenset({number}) for group in groups for number in group)])
        dearest = frozenset(max(group, key=lambda number: cost[number]) for group in groups)
        _lighten(tries, _down(tries, dearest, most), most)
    for _, chosen in by_cost(groups, cost):
        if len(tries.left) + len(tries.waiting) >= most and chosen not in tries.left:
            break
        tries.later(chosen)
    tries.flush()
    untried = next((price for price, chosen in by_cost(groups, cost) if chosen not in tries.left), math.inf)
    points = [Point(tries.price(chosen), left, chosen) for chosen, left in tries.left.items() if left is not None]
    return Searched(front_of(points), len(tries.left), total, untried)


class _Tries:
    def __init__(self, groups: Sequence[Sequence[int]], cost: Sequence[float], outcomes: Outcomes) -> None:
        self.groups, self.cost, self.outcomes = groups, cost, outcomes
        self.left: dict[Chosen, Score | None] = {}
        self.waiting: list[Chosen] = []

    def price(self, chosen: Chosen) -> float:
        return math.fsum(self.cost[number] for number in chosen)

    def take(self, sets: Sequence[Chosen]) -> None:
        new = [one for one in dict.fromkeys(sets) if one not in self.left]
        self.left.update(zip(new, self.outcomes(new), strict=True))

    def later(self, chosen: Chosen) -> None:
        if chosen not in self.left and chosen not in self.waiting:
            self.waiting.append(chosen)
        if len(self.waiting) >= BATCH:
            self.flush()

    def flush(self) -> None:
        self.take(self.waiting)
        self.waiting = []

    def value(self, chosen: Chosen) -> float:
        left = self.left.get(chosen)
        return math.inf if left is None else left.shortfall


def _down(tries: _Tries, here: Chosen, most: int) -> Chosen:
    """From a set down: of every group the alternative that leaves least, all at once or the best alone, until none does."""

    def rank(one: Chosen) -> tuple[float, float]:
        return round(tries.value(one), 6), tries.price(one)

    tries.take([here])
    while len(tries.left) < most:
        ahead: list[list[Chosen]] = []
        for group in tries.groups:
            without = here - frozenset(group)
            ahead.append([without, *(without | {number} for number in group)])
        tries.take([one for moves in ahead for one in moves])
        best = [min(moves, key=rank) for moves in ahead]
        at_once = frozenset(
            number for group, one in zip(tries.groups, best, strict=True) for number in one & frozenset(group)
        )
        tries.take([at_once])
        next_one = min([at_once, *best], key=rank)
        if rank(next_one) >= rank(here):
            break
        here = next_one
    return here


def _lighten(tries: _Tries, here: Chosen, most: int) -> None:
    """From the best set back to nothing, each time without the measure that does least for its price."""
    while here and len(tries.left) < most:
        lighter = [here - {number} for number in sorted(here)]
        tries.take(lighter)

        def loss(one: Chosen, full: Chosen = here) -> float:
            saved = tries.price(full) - tries.price(one)
            return (tries.value(one) - tries.value(full)) / max(saved, SAME)

        here = min(lighter, key=loss)


def merged(fronts: Sequence[Sequence[Point]]) -> tuple[Point, ...]:
    """Sets of parts that do not act on each other, put together: costs and what is taken off add up.

    Each point's `left` is the change against nothing done.
    """
    whole: tuple[Point, ...] = (Point(0.0, Score(0.0, 0.0), NONE),)
    for front in fronts:
        both = [Point(a.cost + b.cost, a.left + b.left, a.chosen | b.chosen) for a in whole for b in front]
        whole = _thinned(front_of(both))
    return whole


def _thinned(front: tuple[Point, ...]) -> tuple[Point, ...]:
    """Evenly fewer where they are very many; both ends stay."""
    if len(front) <= MOST_POINTS:
        return front
    keep = {round(index * (len(front) - 1) / (MOST_POINTS - 1)) for index in range(MOST_POINTS)}
    keep.add(min(range(len(front)), key=lambda index: (front[index].left.shortfall, front[index].cost)))
    keep.add(min(range(len(front)), key=lambda index: (front[index].left.overload, front[index].cost)))
    keep.add(min(range(len(front)), key=lambda index: (front[index].left.always, front[index].cost)))
    return tuple(front[index] for index in sorted(keep))
