"""From the set that the parts' search names for a plan to one that, as a whole, cannot be bettered by one change."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from brimfast.assess.plan.fronts import Chosen
from brimfast.assess.plan.score import Score
from brimfast.assess.plan.search import Asking

Rank = Callable[[Score, float], tuple[float, float]]  # of what a set leaves and costs: the least is best
SHARE, LEAST = 4, 32  # of the tries, for measures that act on several parts; and so many in any case
UNBUILT = (math.inf, math.inf)


@dataclass(frozen=True)
class Refined:
    """A set; and how many of its measures it was not tried without, because the tries ran out."""

    chosen: Chosen
    unproven: int


def refining(
    start: Chosen, rank: Rank, several: Sequence[Sequence[int]], cost: Sequence[float], tries: int
) -> Asking[Refined]:
    """several: groups of measures that act on several parts, which the parts' search could not weigh; the most promising

    first, of which few tries reach only some.
    """
    best = _Best(start, rank, cost)
    yield from best.first()
    yield from _swapped(best, several, max(tries // SHARE, LEAST))
    unproven = yield from _pruned(best, tries)
    return Refined(best.here, unproven)


class _Best:
    """The best set so far, and its rank."""

    def __init__(self, here: Chosen, rank: Rank, cost: Sequence[float]) -> None:
        self.here, self.rank, self.cost = here, rank, cost
        self.value = UNBUILT

    def first(self) -> Asking[None]:
        self.value = (yield from self.ranked([self.here]))[0]

    def ranked(self, sets: list[Chosen]) -> Asking[list[tuple[float, float]]]:
        lefts = yield sets
        prices = [math.fsum(self.cost[number] for number in one) for one in sets]
        return [UNBUILT if left is None else self.rank(left, price) for left, price in zip(lefts, prices, strict=True)]

    def better(self, sets: list[Chosen]) -> Asking[list[Chosen]]:
        """Those that are better than the best so far; the best of them takes its place."""
        ranks = yield from self.ranked(sets)
        before = self.value
        first, one = min(zip(ranks, sets, strict=True), key=lambda pair: (pair[0], sorted(pair[1])))
        if first < before:
            self.value, self.here = first, one
        return [each for value, each in zip(ranks, sets, strict=True) if value < before]


def _swapped(best: _Best, groups: Sequence[Sequence[int]], most: int) -> Asking[None]:
    """One by one taken in, left out or changed for another, while that ranks better.

    Where there are too many: taken in or changed, as many as may be; what is needless falls out later.
    """
    spent = 0
    while True:
        here = best.here
        others = [(here - set(group)) | {number} for group in groups for number in group if number not in here]
        without = [here - set(group) for group in groups if here & set(group)]
        moves = [*others, *without]
        if not spent and len(moves) > most:
            moves = others[:most]
        if not moves or spent + len(moves) > most:
            return
        spent += len(moves)
        if not (yield from best.better(moves)):
            return


def _pruned(best: _Best, most: int) -> Asking[int]:
    """Without each of its measures in turn, the dearest first, until every one is missed; returns how many were not tried.

    Those that are not missed are left out together if that is best, else the one whose loss is best.
    """
    spent = 0
    while best.here:
        full = best.here
        lighter = [full - {number} for number in sorted(full, key=lambda number: (-best.cost[number], number))]
        tried = lighter[: max(most - spent, 0)]
        spent += len(tried)
        needless = (yield from best.better(tried)) if tried else []
        if not needless:
            return len(lighter) - len(tried)
        if len(needless) > 1:
            spent += 1
            yield from best.better([frozenset.intersection(*needless)])
    return 0
