"""Which points and elements does a frame have, and in which order are its unknowns best eliminated?

The unit of everything is the 6 × 6 block of two points. Points are eliminated in rounds: those of one round do not
meet, so that one call handles all of them, in all variants. A point of few neighbours goes early: it leaves little.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from brimfast.assess.frame import elements

Array = NDArray[np.float64]
Indices = NDArray[np.int64]
Pair = tuple[int, int]
GROUND = -1
SLACK = 2  # a round takes points of up to so many neighbours more than the fewest: fewer rounds, little more work


@dataclass(frozen=True)
class Topology:
    """Points (n, 3) in m, elements by their end points (GROUND for none), compatibility (e, 6, 12), held movements.

    Two hints that change no result, and that are seldom needed: first numbers points to be eliminated before the
    others (1, 2, ...; 0 for the others); level numbers points so that each meets only its own and the next numbers.
    """

    points: Array
    ends: Indices
    compatibility: Array
    fixed: NDArray[np.bool_]
    first: Indices | None = None
    level: Indices | None = None

    @property
    def unknowns(self) -> int:
        return int((~self.fixed).sum())

    @cached_property
    def movements(self) -> Indices:
        """Row of each element's twelve end movements in the vector of movements; the last row is the ground."""
        ground = self.points.shape[0] * 6
        rows = self.ends[:, :, None] * 6 + np.arange(6)
        return np.where(self.ends[:, :, None] == GROUND, ground, rows).reshape(len(self.ends), 12)

    @cached_property
    def plan(self) -> Plan:
        return _plan(self)


@dataclass(frozen=True)
class Sums:
    """Adds items up by their target: items stand layer by layer, the first of every target, then the second, ..."""

    order: Indices  # of the items
    layers: tuple[tuple[int, int], ...]
    targets: Indices  # those with most items first

    def of(self, items: Array) -> Array:
        """Sums along the first axis, in the items' own memory."""
        out = items[: len(self.targets)]
        for start, end in self.layers[1:]:
            out[: end - start] += items[start:end]
        return out

    def pieces(self, most: int) -> Iterator[tuple[slice, Indices]]:
        """The items piece by piece, no more than so many at once, with their targets: in a piece each is another."""
        for start, end in self.layers:
            for first in range(start, end, most):
                last = min(first + most, end)
                yield slice(first, last), self.targets[first - start : last - start]


@dataclass(frozen=True)
class Round:
    """Points that do not meet, and the blocks that couple them with their neighbours."""

    own: slice  # the points, in the order of elimination
    blocks: slice  # the couplings: first neighbours of all points, then the second ones, ...
    point: Indices  # of each coupling, counted within the round
    near: Indices  # the neighbour of each coupling, in the order of elimination
    back: Sums  # couplings onto points; in order as they are
    left: Indices  # pairs of couplings of one point: what each adds to a later block
    right: Indices
    onto: Sums
    loads: Sums  # couplings onto neighbours


@dataclass(frozen=True)
class Tail:
    """The last points, which are solved together."""

    points: int
    blocks: Indices
    row: Indices  # of each block, counted within the tail
    column: Indices


@dataclass(frozen=True)
class Plan:
    """Blocks stand one after another: the points' own in the order of elimination, then the couplings."""

    order: Indices
    rounds: tuple[Round, ...]
    tails: tuple[Tail, ...]  # what is left before each round, and after the last
    size: int
    element: Indices  # of each part of K
    basis: Array  # (parts, 8, 36): the part per unit of each coefficient
    parts: Sums
    empty: Indices  # blocks that no element has a part in
    weights: Array  # (2, e, 8, 1): the most that each coefficient adds to a shift's and a turn's own stiffness
    ends: Indices  # the element's end (of 2 e) of each force on a point
    turned: Array  # (e, 12, 6): end forces from basic forces
    forces: Sums
    held: Array  # (n, 1, 2, 3): 1 for a held movement, in the order of elimination
    free: Array  # (6 n, 1): 0 for a held movement

    def cut(self, together: int) -> tuple[tuple[Round, ...], Tail]:
        """Rounds until no more than so many points are left, and those."""
        at = next(at for at, tail in enumerate(self.tails) if tail.points <= together)
        return self.rounds[:at], self.tails[at]


def _sums(targets: Indices) -> Sums:
    unique, which, counts = np.unique(targets, return_inverse=True, return_counts=True)
    by_count = np.argsort(-counts, kind="stable")
    rank = np.empty(len(unique), dtype=np.int64)
    rank[by_count] = np.arange(len(unique))
    grouped = np.argsort(rank[which], kind="stable")
    counts = counts[by_count]
    starts = np.cumsum(counts) - counts
    layers = [grouped[starts[counts > depth] + depth] for depth in range(int(counts.max(initial=0)))]
    edges = np.cumsum([0, *map(len, layers)]).tolist()
    order = np.concatenate([np.empty(0, np.int64), *layers])
    return Sums(order, tuple(pairwise(edges)), unique[by_count])


def _eliminate(frame: Topology) -> list[list[tuple[int, list[int]]]]:
    """Rounds of points, each with the neighbours that it has when its turn comes; those with most come first."""
    n = len(frame.points)
    near: list[set[int]] = [set() for _ in range(n)]
    for i, j in frame.ends.tolist():
        if GROUND not in (i, j) and i != j:
            near[i].add(j)
            near[j].add(i)
    first = np.zeros(n, np.int64) if frame.first is None else np.where(frame.first > 0, frame.first, n + 1)
    even = np.zeros(n, np.int64) if frame.level is None else 1 - frame.level % 2
    left, rounds = set(range(n)), []
    while left:
        turn = min(first[point] for point in left)
        ready = sorted((len(near[point]), even[point], point) for point in left if first[point] == turn)
        taken: dict[int, list[int]] = {}
        met: set[int] = set()
        for count, _, point in ready:
            if count <= ready[0][0] + SLACK and point not in met:
                taken[point] = sorted(near[point])
                met |= near[point]
        for point, others in taken.items():
            for other in others:
                near[other] = (near[other] | near[point]) - {other, point}
        left -= taken.keys()
        rounds.append(sorted(taken.items(), key=lambda one: -len(one[1])))
    return rounds


def _round(start: int, near: list[list[int]], couplings: list[Pair], number: dict[Pair, int]) -> Round:
    """near: the neighbours of each of its points, all numbered in the order of elimination."""
    own, blocks = slice(start, start + len(near)), slice(0, 0)
    if couplings:
        blocks = slice(number[couplings[0]], number[couplings[-1]] + 1)
    pairs = [(start + at, a, b) for at, others in enumerate(near) for a in others for b in others if a <= b]
    onto = _sums(_indices([number[a, b] for _, a, b in pairs]))
    left = _indices([number[point, a] - blocks.start for point, a, _ in pairs])[onto.order]
    right = _indices([number[point, b] - blocks.start for point, _, b in pairs])[onto.order]
    point, other = (
        _indices([point - start for point, _ in couplings]),
        _indices([other for _, other in couplings]),
    )
    return Round(own, blocks, point, other, _sums(point), left, right, onto, _sums(other))


def _tail(start: int, n: int, number: dict[Pair, int]) -> Tail:
    left = [pair for pair in number if pair[0] >= start]
    row, column = (_indices([pair[side] - start for pair in left]) for side in (0, 1))
    return Tail(n - start, _indices([number[pair] for pair in left]), row, column)


def _indices(numbers: list[int]) -> Indices:
    return np.array(numbers, dtype=np.int64)


def _plan(frame: Topology) -> Plan:
    n, eliminated = len(frame.points), _eliminate(frame)
    order = _indices([point for each in eliminated for point, _ in each])
    place = np.full(n + 1, GROUND, dtype=np.int64)
    place[order] = np.arange(n)
    number = {(point, point): point for point in range(n)}  # of the block of two points, the earlier one first
    made, start = [], 0
    for each in eliminated:
        near = [sorted(place[others].tolist()) for _, others in each]
        depths = range(len(near[0]))
        couplings = [(start + at, a[depth]) for depth in depths for at, a in enumerate(near) if depth < len(a)]
        number.update({pair: len(number) + at for at, pair in enumerate(couplings)})
        made.append((start, near, couplings))
        start += len(each)
    rounds = tuple(_round(*each, number) for each in made)
    free = np.append(~frame.fixed, np.zeros((1, 6), np.bool_), axis=0)
    mask = free[frame.ends]
    basis = elements.basis(frame.compatibility).reshape(-1, elements.COEFFICIENTS, 2, 6, 2, 6)
    basis = basis * (mask[:, None, :, :, None, None] & mask[:, None, None, None, :, :])
    own = np.einsum("ekxaxa->ekxa", basis).reshape(-1, elements.COEFFICIENTS, 2, 2, 3)
    weights = own.max(axis=(2, 4)).transpose(2, 0, 1)[..., None]
    row, column = place[frame.ends][:, (0, 0, 1, 1)], place[frame.ends][:, (0, 1, 0, 1)]
    element, part = np.nonzero((row != GROUND) & (row <= column))
    pairs = zip(row[element, part].tolist(), column[element, part].tolist(), strict=True)
    parts = _sums(_indices([number[pair] for pair in pairs]))
    element, part = element[parts.order], part[parts.order]
    ends = frame.ends.ravel()
    standing = np.flatnonzero(ends != GROUND)
    forces = _sums(ends[standing])
    return Plan(
        order,
        rounds,
        tuple(_tail(start, n, number) for start in [*(start for start, _, _ in made), n]),
        len(number),
        element,
        np.ascontiguousarray(basis[element, :, part // 2, :, part % 2]).reshape(len(element), -1, 36),
        parts,
        np.setdiff1d(np.arange(len(number)), parts.targets),
        weights,
        standing[forces.order],
        np.ascontiguousarray(frame.compatibility.swapaxes(1, 2)),
        forces,
        frame.fixed[order].reshape(n, 1, 2, 3).astype(float),
        free[:-1].reshape(-1, 1).astype(float),
    )
