"""The least that must be done: sets with one or none of each group, tried all where they are few enough.

Nothing here knows what a measure is: a set is a frozenset of numbers, each with a price. A search asks what sets come to,
a list of them at a time, so that several run beside each other.
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Callable, Generator, Iterator, Sequence
from dataclasses import dataclass
from typing import TypeVar

from brimfast.assess.plan.fronts import NONE, SAME, Chosen, Point, front_of
from brimfast.assess.plan.score import Score

T = TypeVar("T")
Lefts = list[Score | None]  # None: cannot be built
Outcomes = Callable[[Sequence[Chosen]], Lefts]
Asking = Generator[list[Chosen], Lefts, T]


@dataclass(frozen=True)
class Searched:
    """The sets that nothing beats in cost and in what they leave; how many were tried of how many.

    untried: the least cost of a set that was not tried; infinite where all were.
    """

    front: tuple[Point, ...]
    tried: int
    of: int
    untried: float


def beside_each_other(asking: Sequence[Asking[T]], outcomes: Outcomes) -> list[T]:
    """Runs them all: what each of them asks next is answered together."""
    done: dict[int, T] = {}
    answers: dict[int, Lefts | None] = dict.fromkeys(range(len(asking)))
    while answers:
        asked: dict[int, list[Chosen]] = {}
        for number, answer in answers.items():
            try:
                asked[number] = next(asking[number]) if answer is None else asking[number].send(answer)
            except StopIteration as end:
                done[number] = end.value
        sets = list(dict.fromkeys(one for each in asked.values() for one in each))
        found = dict(zip(sets, outcomes(sets), strict=True)) if sets else {}
        answers = {number: [found[one] for one in each] for number, each in asked.items()}
    return [done[number] for number in range(len(asking))]


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
    return beside_each_other([searching(groups, cost, most)], outcomes)[0]


def searching(groups: Sequence[Sequence[int]], cost: Sequence[float], most: int) -> Asking[Searched]:
    """Up to about `most` sets: all, where they are no more. Else each measure alone, the way down from the dearest of every

    group to a set that no change of one group betters, the way back from there to nothing, and then the cheapest that are
    left.
    """
    total = math.prod(len(group) + 1 for group in groups)
    tries = _Tries(groups, cost)
    if total > most:
        yield from tries.take([NONE, *(frozenset({number}) for group in groups for number in group)])
        dearest = frozenset(max(group, key=lambda number: cost[number]) for group in groups)
        end = yield from _down(tries, dearest, most)
        yield from _lighten(tries, end, most)
    more: list[Chosen] = []
    for _, chosen in by_cost(groups, cost):
        if chosen not in tries.left:
            if len(tries.left) + len(more) >= most:
                break
            more.append(chosen)
    yield from tries.take(more)
    untried = next((price for price, chosen in by_cost(groups, cost) if chosen not in tries.left), math.inf)
    points = [Point(tries.price(chosen), left, chosen) for chosen, left in tries.left.items() if left is not None]
    return Searched(front_of(points), len(tries.left), total, untried)


class _Tries:
    def __init__(self, groups: Sequence[Sequence[int]], cost: Sequence[float]) -> None:
        self.groups, self.cost = groups, cost
        self.left: dict[Chosen, Score | None] = {}

    def price(self, chosen: Chosen) -> float:
        return math.fsum(self.cost[number] for number in chosen)

    def take(self, sets: Sequence[Chosen]) -> Asking[None]:
        new = [one for one in dict.fromkeys(sets) if one not in self.left]
        if new:
            self.left.update(zip(new, (yield new), strict=True))

    def value(self, chosen: Chosen) -> float:
        left = self.left.get(chosen)
        return math.inf if left is None else left.shortfall


def _down(tries: _Tries, here: Chosen, most: int) -> Asking[Chosen]:
    """From a set down: of every group the alternative that leaves least, all at once or the best alone, until none does."""

    def rank(one: Chosen) -> tuple[float, float]:
        return round(tries.value(one), 6), tries.price(one)

    yield from tries.take([here])
    while len(tries.left) < most:
        ahead: list[list[Chosen]] = []
        for group in tries.groups:
            without = here - frozenset(group)
            ahead.append([without, *(without | {number} for number in group)])
        yield from tries.take([one for moves in ahead for one in moves])
        best = [min(moves, key=rank) for moves in ahead]
        at_once = frozenset(
            number for group, one in zip(tries.groups, best, strict=True) for number in one & frozenset(group)
        )
        yield from tries.take([at_once])
        next_one = min([at_once, *best], key=rank)
        if rank(next_one) >= rank(here):
            break
        here = next_one
    return here


def _lighten(tries: _Tries, here: Chosen, most: int) -> Asking[None]:
    """From the best set back to nothing, each time without the measure that does least for its price."""
    while here and len(tries.left) < most:
        lighter = [here - {number} for number in sorted(here)]
        yield from tries.take(lighter)

        def loss(one: Chosen, full: Chosen = here) -> float:
            saved = tries.price(full) - tries.price(one)
            return (tries.value(one) - tries.value(full)) / max(saved, SAME)

        here = min(lighter, key=loss)
