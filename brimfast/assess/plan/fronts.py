"""Sets that nothing beats; those of parts that do not act on each other put together, and the least that these can cost."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from brimfast.assess.plan.score import Score

Array = NDArray[np.float64]
Chosen = frozenset[int]  # numbers of measures
NONE: Chosen = frozenset()
SAME = 1e-9
MOST_POINTS = 400
PRICES = np.geomspace(1e-3, 1e4, 141)  # of one unit of what is left, for a bound


@dataclass(frozen=True)
class Point:
    """A set, what it costs, and what it leaves."""

    cost: float
    left: Score
    chosen: Chosen


@dataclass(frozen=True)
class Merged:
    """thinned: whether some that nothing beats were left out, for being too many."""

    points: tuple[Point, ...]
    thinned: bool


def front_of(points: Sequence[Point]) -> tuple[Point, ...]:
    """Those that no other beats: none costs as little and leaves as little, overload and shortfall alike."""
    if not points:
        return ()
    ranked = sorted(points, key=_rank)
    cost, left = np.array([one.cost for one in ranked]), np.array([_figures(one.left) for one in ranked])
    return tuple(ranked[index] for index in _unbeaten(cost, left, np.array([len(one.chosen) for one in ranked])))


def _rank(one: Point) -> tuple[float, float, float, int, tuple[int, ...]]:
    return one.cost, one.left.shortfall, one.left.overload, len(one.chosen), tuple(sorted(one.chosen))


def _figures(left: Score) -> tuple[float, float, float]:
    return left.shortfall, left.overload, left.always


def _unbeaten(cost: Array, left: Array, size: NDArray[np.int64]) -> list[int]:
    """Rows, the cheapest first; left (n, 3)."""
    kept = np.empty_like(left)
    found: list[int] = []
    for row in np.lexsort((size, left[:, 1], left[:, 0], cost)):
        if not (kept[: len(found)] <= left[row] + SAME).all(axis=1).any():
            kept[len(found)] = left[row]
            found.append(int(row))
    return found


def merged(fronts: Sequence[Sequence[Point]]) -> Merged:
    """Sets of parts that do not act on each other, put together: costs and what is taken off add up.

    Each point's `left` is the change against nothing done.
    """
    whole: tuple[Point, ...] = (Point(0.0, Score(0.0, 0.0), NONE),)
    thinned = False
    for front in fronts:
        whole = _both(whole, front)
        fewer = _thinned(whole)
        thinned = thinned or len(fewer) < len(whole)
        whole = fewer
    return Merged(whole, thinned)


def _both(one: Sequence[Point], other: Sequence[Point]) -> tuple[Point, ...]:
    """Every pair of them that no other pair beats."""
    if not other:
        return ()

    def sums(a: Array, b: Array) -> Array:
        return (a[:, None] + b[None]).reshape(len(one) * len(other), -1)

    cost = sums(*(np.array([point.cost for point in each]) for each in (one, other)))[:, 0]
    left = sums(*(np.array([_figures(point.left) for point in each]) for each in (one, other)))
    size = sums(*(np.array([len(point.chosen) for point in each]) for each in (one, other)))[:, 0]
    pairs = (divmod(row, len(other)) for row in _unbeaten(cost, left, size.astype(np.int64)))
    return tuple(
        Point(a.cost + b.cost, a.left + b.left, a.chosen | b.chosen)
        for a, b in ((one[first], other[second]) for first, second in pairs)
    )


def _thinned(front: tuple[Point, ...]) -> tuple[Point, ...]:
    """Evenly fewer where they are very many; the cheapest of those that leave least stay, in every measure of that."""
    if len(front) <= MOST_POINTS:
        return front
    keep = {round(index * (len(front) - 1) / (MOST_POINTS - 1)) for index in range(MOST_POINTS)}
    for number in range(3):
        keep.add(min(range(len(front)), key=lambda index: (_figures(front[index].left)[number], front[index].cost)))
    return tuple(front[index] for index in sorted(keep))


@dataclass(frozen=True)
class Enough:
    """What a set may leave at most: of one figure, and of what is short day and night."""

    figure: Literal["shortfall", "overload"]
    most: float
    always: float = math.inf


def least_cost(fronts: Sequence[Sequence[Point]], enough: Enough) -> float:
    """No combination of the parts' sets that leaves no more than `enough` costs less; infinite where none leaves so little.

    Lagrange's bound: whatever a unit of the figure is priced at, Σ min (cost + price · left) − price · most is no more than
    the least cost. The best of many prices, with what is short day and night kept by each part to its share.
    """
    spare = enough.always - math.fsum(min(point.left.always for point in front) for front in fronts)
    if spare < -SAME:
        return math.inf
    total, left_least = -PRICES * (enough.most + SAME), 0.0
    for front in fronts:
        least = min(point.left.always for point in front)
        allowed = [point for point in front if point.left.always <= least + spare + SAME]
        cost = np.array([point.cost for point in allowed])
        left = np.array([getattr(point.left, enough.figure) for point in allowed])
        total = total + (cost[:, None] + left[:, None] * PRICES).min(axis=0)
        left_least += float(left.min())
    return math.inf if left_least > enough.most + SAME * (1 + len(fronts)) else max(float(total.max()), 0.0)
