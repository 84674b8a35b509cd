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
MOVES = 6  # of a greedy round: the most promising by themselves
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
            other.left.shortfall <= one.left.shortfall + SAME and other.left.overload <= one.left.overload + SAME
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
    """Up to about `most` sets: all, where they are no more. Else each measure alone, the steepest way up from nothing, the

    ways down from the dearest and the cheapest of every group, what is best without each of its measures, and then the
    cheapest that are left.
    """
    total = math.prod(len(group) + 1 for group in groups)
    tries = _Tries(groups, cost, outcomes)
    if total > most:
        tries.take([NONE, *(frozenset({number}) for group in groups for number in group)])
        _up(tries, most // 2)
        for top in (max, min):
            _down(tries, frozenset(top(group, key=lambda number: cost[number]) for group in groups), most)
        _lighten(tries, most)
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

    def with_one(self, chosen: Chosen, number: int) -> Chosen:
        """The set with a measure, in place of another of its group."""
        group = next(group for group in self.groups if number in group)
        return (chosen - frozenset(group)) | {number}


def _down(tries: _Tries, here: Chosen, most: int) -> None:
    """From a set down: group by group the alternative that leaves least, until none leaves less."""
    moved = True
    while moved and len(tries.left) < most:
        moved = False
        for group in tries.groups:
            without = here - frozenset(group)
            moves = [without, *(without | {number} for number in group)]
            tries.take(moves)
            best = min(moves, key=lambda one: (round(tries.value(one), 6), tries.price(one)))
            if best != here:
                here, moved = best, True
            if len(tries.left) >= most:
                return


def _up(tries: _Tries, most: int) -> None:
    """From nothing up: each time the measure that takes most off, of the promising ones; then without each in turn."""
    here = NONE
    alone = sorted(
        (number for group in tries.groups for number in group), key=lambda number: tries.value(frozenset({number}))
    )
    while len(tries.left) < most:
        ahead = [tries.with_one(here, number) for number in alone if number not in here]
        tries.take([one for one in ahead if one not in tries.left][:MOVES])
        best = min(ahead, key=tries.value, default=here)
        if tries.value(best) >= tries.value(here) - SAME:
            break
        here = best


def _lighten(tries: _Tries, most: int) -> None:
    """What the best sets are without each of their measures."""
    found = [Point(tries.price(one), left, one) for one, left in tries.left.items() if left is not None]
    for point in sorted(front_of(found), key=lambda one: one.left.shortfall):
        if len(tries.left) >= most:
            return
        tries.take([point.chosen - {number} for number in sorted(point.chosen)])


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
    return tuple(front[index] for index in sorted(keep))
