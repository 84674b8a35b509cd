"""Every ratio of an installation as a function of what is not known, learned from the pipeline.

Along each unknown the whole pipeline is run at a few values, all others at their middle. The logarithm of each ratio is
taken as the sum of what each unknown by itself does to it, straight between the values in the logarithm of the unknown:
exact for products of powers, which forces, friction and weights mostly are. Shaking acts on everything: with each other
unknown it is run in pairs, and what the pair does beyond both is added. How far the sum is from the pipeline is measured
on runs in which all unknowns differ at once.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from brimfast.assess.doubt.unknowns import Unknown

Array = NDArray[np.float64]
LEAST, MOST = 1e-3, 1e6  # ratios and volumes (L) beyond are as good as these
SHAKING = (0.01, 0.1, 0.25, 0.5, 0.75, 1.0, 1.3, 1.7, 2.2, 3.0, 4.0)  # over the design earthquake
SHARES = (0.0, 0.5, 1.0)  # of an unknown's spread, where the pipeline is run
PAIRED = (SHAKING[3], SHAKING[8])  # of the shaking, with the ends of another unknown

Outputs = Mapping[str, float]  # by name: ratio, index, way or volume; NaN where it is not assessed


@dataclass(frozen=True)
class Axis:
    """An unknown, and the values at which the pipeline is run; `log`: straight in the logarithm between them."""

    unknown: Unknown
    nodes: tuple[float, ...]
    middle: int

    @property
    def log(self) -> bool:
        return self.nodes[0] > 0

    def coordinate(self, x: Array | Sequence[float]) -> Array:
        values = np.asarray(x, float)
        return np.log(np.maximum(values, 1e-300)) if self.log else values

    def weights(self, x: Array) -> Array:
        """Shares of the nodes (samples × nodes) at each x; beyond the ends as at the ends."""
        at, grid = self.coordinate(x), self.coordinate(self.nodes)
        at = np.clip(at, grid[0], grid[-1])
        index = np.clip(np.searchsorted(grid, at, side="right") - 1, 0, len(grid) - 2)
        part = (at - grid[index]) / (grid[index + 1] - grid[index])
        found = np.zeros((len(at), len(grid)))
        rows = np.arange(len(at))
        found[rows, index] = 1 - part
        found[rows, index + 1] += part
        return found


def shaking_of(axes: Sequence[Axis]) -> int:
    """Which axis the shaking is."""
    return next(number for number, axis in enumerate(axes) if axis.unknown.role == "shaking")


def axis_of(unknown: Unknown) -> Axis:
    if unknown.role == "shaking":
        return Axis(unknown, SHAKING, int(np.argmin(np.abs(np.log(SHAKING)))))
    nodes = tuple(float(one) for one in unknown.spread.quantile(np.array(SHARES)))
    return Axis(unknown, nodes, len(nodes) // 2)


@dataclass(frozen=True)
class Setting:
    """One run of the pipeline: which unknowns stand where (by number); the others at their middle."""

    at: tuple[tuple[int, float], ...] = ()


def together(axes: Sequence[Axis], x: Array) -> list[Setting]:
    """One setting for each row of x (samples × axes): all that the pipeline takes, at once."""
    moved = [number for number, axis in enumerate(axes) if axis.unknown.role in ("file", "shaking")]
    return [Setting(tuple((number, float(row[number])) for number in moved)) for row in x]


def settings(axes: Sequence[Axis]) -> list[Setting]:
    """The middle, then along each axis, then shaking in pairs with the ends of the others."""
    found = [Setting()]
    moved = [number for number, axis in enumerate(axes) if axis.unknown.role in ("file", "shaking")]
    for number in moved:
        axis = axes[number]
        found += [Setting(((number, x),)) for index, x in enumerate(axis.nodes) if index != axis.middle]
    shaking = shaking_of(axes)
    for number in moved:
        if number != shaking:
            ends = (axes[number].nodes[0], axes[number].nodes[-1])
            found += [Setting(((shaking, s), (number, x))) for s in (PAIRED[0], PAIRED[1]) for x in ends]
    return found


@dataclass(frozen=True)
class Response:
    """names: of the outputs; tables: ln of each at each node of an axis; pairs: what shaking and another add beyond both."""

    axes: tuple[Axis, ...]
    names: tuple[str, ...]
    base: Array  # outputs
    tables: Mapping[int, Array]  # by axis: nodes × outputs, less the base
    pairs: Mapping[int, Array] = field(default_factory=dict)  # by axis: 2 shakings × 2 ends × outputs
    shifts: Mapping[int, Array] = field(default_factory=dict)  # by axis: share of ln x that an output loses

    @property
    def shaking(self) -> int:
        return shaking_of(self.axes)

    def at_middle(self, shaking: float = 1.0) -> Array:
        """ln of every output with every unknown at its middle but the shaking."""
        x = np.array([[axis.unknown.spread.middle for axis in self.axes]])
        x[0, self.shaking] = shaking
        return np.asarray(self.ln(x)[0])

    def only(self, columns: slice) -> Response:
        """Of some outputs."""
        return Response(
            self.axes,
            self.names[columns],
            self.base[columns],
            {number: table[:, columns] for number, table in self.tables.items()},
            {number: pair[:, :, columns] for number, pair in self.pairs.items()},
            {number: shift[columns] for number, shift in self.shifts.items()},
        )

    def ln(self, x: Array) -> Array:
        """ln of every output (samples × outputs) at the unknowns x (samples × axes)."""
        total = np.repeat(self.base[None, :], len(x), axis=0)
        for number, table in self.tables.items():
            total += self.axes[number].weights(x[:, number]) @ table
        for number, loses in self.shifts.items():
            total -= np.log(x[:, number])[:, None] * loses[None, :]
        if self.pairs:
            strength = _sides(np.log(x[:, self.shaking]), math.log(PAIRED[0]), math.log(PAIRED[1]))
            for number, pair in self.pairs.items():
                axis = self.axes[number]
                grid = axis.coordinate(axis.nodes)
                end = _sides(axis.coordinate(x[:, number]) - grid[axis.middle], *(grid[[0, -1]] - grid[axis.middle]))
                total += np.einsum("ni,nj,ijk->nk", strength, end, pair)
        return np.asarray(total)


def _sides(at: Array, low: float, high: float) -> Array:
    """How far towards the lower and the upper end (samples × 2), 0 in the middle, at most 1."""
    return np.stack([np.clip(at / low, 0.0, 1.0), np.clip(at / high, 0.0, 1.0)], axis=1)


def learn(axes: Sequence[Axis], runs: Mapping[Setting, Outputs], losing: Mapping[int, frozenset[str]]) -> Response:
    """From what the pipeline said of each setting. losing: outputs that fall as an unknown strength rises, by axis."""
    middle = runs[Setting()]
    names = tuple(name for name, value in middle.items() if not math.isnan(value))

    def logs(setting: Setting) -> Array:
        found = runs[setting]
        values = np.array([found.get(name, math.nan) for name in names])
        with np.errstate(divide="ignore"):
            return np.asarray(np.log(np.clip(values, LEAST, MOST)))

    base = logs(Setting())
    tables: dict[int, Array] = {}
    pairs: dict[int, Array] = {}
    shaking = shaking_of(axes)
    for number, axis in enumerate(axes):
        if axis.unknown.role not in ("file", "shaking"):
            continue
        rows = [base if index == axis.middle else logs(Setting(((number, x),))) for index, x in enumerate(axis.nodes)]
        tables[number] = _without_gaps(np.stack(rows)) - base
    for number, table in tables.items():
        if number == shaking:
            continue
        ends = (axes[number].nodes[0], axes[number].nodes[-1])
        alone = axes[shaking].weights(np.array([PAIRED[0], PAIRED[1]])) @ tables[shaking]
        pair = np.empty((2, 2, len(names)))
        for i, s in enumerate((PAIRED[0], PAIRED[1])):
            for j, x in enumerate(ends):
                both = logs(Setting(((shaking, s), (number, x))))
                pair[i, j] = both - base - alone[i] - table[0 if j == 0 else -1]
        pairs[number] = np.where(np.isnan(pair), 0.0, pair)
    shifts = {number: np.array([1.0 if name in loses else 0.0 for name in names]) for number, loses in losing.items()}
    return Response(tuple(axes), names, base, tables, pairs, shifts)


def misfit(response: Response, x: Array, answers: Sequence[Outputs]) -> Array:
    """ln of the learned output less ln of the pipeline's (samples × outputs); NaN where it is not assessed."""
    plain = Response(response.axes, response.names, response.base, response.tables, response.pairs)
    true = np.array([[answer.get(name, math.nan) for name in response.names] for answer in answers])
    return np.asarray(plain.ln(x) - np.log(np.clip(true, LEAST, MOST)))


def _without_gaps(table: Array) -> Array:
    """Where a question is not assessed at a value, as at the nearest value where it is."""
    filled = table.copy()
    for column in range(table.shape[1]):
        known = np.flatnonzero(~np.isnan(table[:, column]))
        for row in np.flatnonzero(np.isnan(table[:, column])):
            filled[row, column] = table[known[np.argmin(np.abs(known - row))], column]
    return filled
