"""Which points and elements does a frame have, and in which order are its unknowns best eliminated?

Points inside a bay of a beam meet few others: they are condensed first, round by round. What is left is sorted into
levels, each of which meets only its neighbours: a block tridiagonal system.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from brimfast.assess.frame import elements

Array = NDArray[np.float64]
Indices = NDArray[np.int64]
GROUND = -1
MANY = 8  # variants from which adding layer by layer is the faster way


@dataclass(frozen=True)
class Topology:
    """Points (n, 3) in m, elements by their end points (GROUND for none), compatibility (e, 6, 12), held movements.

    first: points that are condensed in a round of their own, numbered from 1 in the order of the rounds; 0 for the
    others. level numbers those where the maker knows an order in which each meets only its neighbours (the post
    lines of a rack); without it they are counted off from the first point.
    """

    points: Array
    ends: Indices
    compatibility: Array
    fixed: NDArray[np.bool_]
    first: Indices
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
    """Numbers that are added up by their place, the places with most of them first.

    layers: the first number of each place, then the second of those that have one, and so on.
    """

    rows: Indices
    starts: Indices
    layers: tuple[Indices, ...]
    places: Indices

    def of(self, values: Array) -> Array:
        """Sums along the first axis."""
        if values.shape[1] < MANY:
            return np.asarray(np.add.reduceat(values[self.rows], self.starts, axis=0))
        out = values[self.layers[0]]
        for layer in self.layers[1:]:
            out[: len(layer)] += values[layer]
        return out

    def along(self, values: Array) -> Array:
        """Sums along the second axis."""
        if values.shape[0] < MANY:
            return np.asarray(np.add.reduceat(values[:, self.rows], self.starts, axis=1))
        out = values[:, self.layers[0]]
        for layer in self.layers[1:]:
            out[:, : len(layer)] += values[:, layer]
        return out


@dataclass(frozen=True)
class Round:
    """Groups of points that meet only their neighbours: G groups of m unknowns with b neighbours."""

    G: int
    m: int
    b: int
    at: int  # where its G · m · m numbers begin in the store; its G · b · m follow
    inner: Indices  # (G · m) movement of each unknown; ground where padded
    near: Indices  # (G · b)
    condensed: Sums  # of G · b · b numbers into the store
    onto: Sums  # of G · b numbers onto movements


@dataclass(frozen=True)
class Plan:
    """Where each number goes: rounds of groups, then L levels of p unknowns."""

    rounds: tuple[Round, ...]
    L: int
    p: int
    at: int  # where the levels' L · p · p numbers begin; those from level to level follow
    outer: Indices  # (L · p)
    size: int
    terms: Sums  # of all terms of K
    factors: Indices  # the coefficient (e · 8) of each term
    weights: Array  # (terms, 1)
    ones: Indices  # diagonal places that belong to no free movement
    loose: Indices  # diagonal places of free movements
    ends: Sums  # of end movements (e · 12) onto movements
    free: NDArray[np.bool_]  # (n · 6)


def _components(nodes: list[int], near: list[set[int]]) -> list[list[int]]:
    left, found = set(nodes), []
    while left:
        group, front = [], [min(left)]
        left.discard(front[0])
        while front:
            node = front.pop()
            group.append(node)
            for other in sorted(near[node] & left):
                left.discard(other)
                front.append(other)
        found.append(sorted(group))
    return found


def _levels(frame: Topology, near: list[set[int]]) -> list[list[int]]:
    nodes = [int(node) for node in np.flatnonzero(frame.first == 0)]
    if frame.level is not None:
        numbers = frame.level
        apart = max((abs(int(numbers[a] - numbers[b])) for a in nodes for b in near[a]), default=0)
        if apart <= 1:
            return [[node for node in nodes if numbers[node] == number] for number in np.unique(numbers[nodes])]
    left, level, levels = set(nodes), nodes[:1], []
    while left:
        left -= set(level)
        levels.append(level)
        level = sorted({other for node in level for other in near[node]} & left) or sorted(left)[:1]
    return levels


def _sums(rows: Indices, places: Indices) -> Sums:
    unique, which, counts = np.unique(places, return_inverse=True, return_counts=True)
    rank = np.empty(len(unique), dtype=np.int64)
    by_count = np.argsort(-counts, kind="stable")
    rank[by_count] = np.arange(len(unique))
    order = np.argsort(rank[which], kind="stable")
    counts = counts[by_count]
    starts = np.cumsum(counts) - counts
    ordered = rows[order]
    layers = tuple(ordered[starts[counts > depth] + depth] for depth in range(int(counts.max(initial=0))))
    return Sums(ordered, starts, layers, unique[by_count])


class _Places:
    """Where the stiffness between two movements is stored: with the one that is eliminated first."""

    def __init__(self, movements: int) -> None:
        self.block, self.inside, self.turn = (np.full(movements, -1, dtype=np.int64) for _ in range(3))
        self.tables: list[tuple[int, int, int, Indices]] = []  # per round: at, m, b, place of each neighbour
        self.levels = (0, 0, 0)  # at, L, p

    def rows(self, lists: list[list[int]], free: NDArray[np.bool_], turn: int | None) -> Indices:
        """Movements of each list of points, padded with the ground; noted where they belong to this turn."""
        ground = len(self.block) - 1
        each = []
        for nodes in lists:
            rows = (np.array(nodes, dtype=np.int64)[:, None] * 6 + np.arange(6)).ravel()
            each.append(rows[free[rows]])
        table = np.full((len(lists), max(map(len, each), default=0)), ground, dtype=np.int64)
        for index, rows in enumerate(each):
            table[index, : len(rows)] = rows
            if turn is not None:
                self.block[rows], self.inside[rows], self.turn[rows] = index, np.arange(len(rows)), turn
        return table

    def __call__(self, row: Indices, column: Indices) -> Indices:
        """Place of each pair; -1 where it is the mirror image of a stored one."""
        turn, other = self.turn[column], self.turn[row]
        out = np.full(row.shape, -1, dtype=np.int64)
        for number, (at, m, b, near) in enumerate(self.tables):
            mine = turn == number
            g = np.where(mine, self.block[column], 0)
            both = mine & (other == number)
            out = np.where(both, at + (g * m + self.inside[row]) * m + self.inside[column], out)
            later = mine & (other > number)
            coupled = at + len(near) * m * m + (g * b + near[g, row]) * m + self.inside[column]
            out = np.where(later, coupled, out)
        at, L, p = self.levels
        last = len(self.tables)
        low, high = self.block[row], self.block[column]
        first = np.where(low == high, at, at + L * p * p)
        outer = first + (low * p + self.inside[row]) * p + self.inside[column]
        upper = (turn == last) & (other == last) & ((high == low) | (high == low + 1))
        return np.where(upper, outer, out)


def _plan(frame: Topology) -> Plan:
    n = frame.points.shape[0]
    ground = 6 * n
    near: list[set[int]] = [set() for _ in range(n)]
    for i, j in frame.ends.tolist():
        if GROUND not in (i, j) and i != j:
            near[i].add(j)
            near[j].add(i)
    free = np.append(~frame.fixed.ravel(), False)
    place = _Places(ground + 1)
    rounds, at = [], 0
    for number in range(1, int(frame.first.max(initial=0)) + 1):
        groups = _components([int(node) for node in np.flatnonzero(frame.first == number)], near)
        edges = [sorted({other for node in group for other in near[node]} - set(group)) for group in groups]
        for group, edge in zip(groups, edges, strict=True):
            for node in edge:
                near[node] = (near[node] | set(edge)) - {node} - set(group)
        inner, neighbours = place.rows(groups, free, len(rounds)), place.rows(edges, free, None)
        G, m, b = len(groups), inner.shape[1], neighbours.shape[1]
        table = np.full((G, ground + 1), -1, dtype=np.int64)
        for g, edge_rows in enumerate(neighbours):
            table[g, edge_rows] = np.arange(b)
        place.tables.append((at, m, b, table))
        rounds.append((G, m, b, at, inner, neighbours))
        at += G * m * m + G * b * m
    outer = place.rows(_levels(frame, near), free, len(rounds))
    L, p = outer.shape
    place.levels = (at, L, p)
    basis = elements.basis(frame.compatibility)
    element, k, a, c = np.nonzero(basis)
    row, column = frame.movements[element, a], frame.movements[element, c]
    places = np.where(free[row] & free[column], place(row, column), -1)
    kept = np.flatnonzero(places >= 0)
    terms = _sums(np.arange(len(kept), dtype=np.int64), places[kept])
    diagonal = []
    for G, m, _, first, _, _ in rounds:
        diagonal.append(first + ((np.arange(G)[:, None] * m + np.arange(m)) * m + np.arange(m)).ravel())
    diagonal.append(at + ((np.arange(L)[:, None] * p + np.arange(p)) * p + np.arange(p)).ravel())
    padded = np.concatenate([*(inner.ravel() for *_, inner, _ in rounds), outer.ravel()]) == ground
    finished = []
    for G, m, b, first, inner, neighbours in rounds:
        r = np.broadcast_to(neighbours[:, :, None], (G, b, b)).ravel()
        s = np.broadcast_to(neighbours[:, None, :], (G, b, b)).ravel()
        targets = np.where((r != ground) & (s != ground), place(r, s), -1)
        sources = np.flatnonzero(targets >= 0)
        real = np.flatnonzero(neighbours.ravel() != ground)
        onto = _sums(real, neighbours.ravel()[real])
        condensed = _sums(sources, targets[sources])
        finished.append(Round(G, m, b, first, inner.ravel(), neighbours.ravel(), condensed, onto))
    ends = frame.movements.ravel()
    everything = np.concatenate(diagonal)
    return Plan(
        tuple(finished),
        L,
        p,
        at,
        outer.ravel(),
        at + 2 * L * p * p,
        terms,
        (element * elements.COEFFICIENTS + k)[kept],
        basis[element, k, a, c][kept][:, None],
        everything[padded],
        everything[~padded],
        _sums(np.arange(len(ends), dtype=np.int64), ends),
        free[:-1],
    )
