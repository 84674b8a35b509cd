"""How likely is it that a limit is passed, and which unknown drives it?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr
from scipy.stats import qmc, sobol_indices

from brimfast.assess.doubt.response import Axis, Response

Array = NDArray[np.float64]
PARTS = 8  # independent scrambles of the sequence: what they differ by is the error of their mean
SURE = 1e-6  # ln: under this a ratio does not vary
LEAST_MISFIT = 1e-3  # ln
MOST_NUMBERS = 4_000_000  # at once
DRIVING = 1024  # samples for the indices, a power of two


def sample(axes: Sequence[Axis], count: int, seed: int) -> Array:
    """Scrambled Sobol points (count × axes) through the unknowns' quantiles; count a power of two."""
    points = qmc.Sobol(len(axes), scramble=True, rng=np.random.default_rng(seed)).random_base2(count.bit_length() - 1)
    return values(axes, points)


def values(axes: Sequence[Axis], points: Array) -> Array:
    """The unknowns (samples × axes) at shares 0 to 1 of their spreads."""
    return np.stack([axis.unknown.spread.quantile(points[:, n]) for n, axis in enumerate(axes)], axis=1)


def passing(ln_ratio: Array, misfit: Array) -> Array:
    """Chance (0 to 1) that each ratio passes 1: Φ(ln r/σ), σ what the learned ln r is off by (standard deviation)."""
    return np.asarray(ndtr(ln_ratio / np.maximum(misfit, LEAST_MISFIT)))


@dataclass(frozen=True)
class Chances:
    """chance: of each output (0 to 1); error: one standard error of it; running: of growing shares of the samples."""

    chance: Array
    error: Array
    running: tuple[tuple[int, Array], ...]
    count: int


def chances(response: Response, misfit: Array, count: int, seed: int) -> Chances:
    """At the design earthquake. count samples or a few more: PARTS times a power of two."""
    each = 1 << max(((count - 1) // PARTS).bit_length(), 3)
    seeds = np.random.SeedSequence(seed).generate_state(PARTS)
    means = np.stack([_mean(response, misfit, each, int(one)) for one in seeds])
    running = tuple((each * (n + 1), means[: n + 1].mean(axis=0)) for n in range(PARTS) if n + 1 in (1, 2, 4, 8))
    return Chances(means.mean(axis=0), means.std(axis=0, ddof=1) / np.sqrt(PARTS), running, each * PARTS)


def _mean(response: Response, misfit: Array, count: int, seed: int) -> Array:
    x = sample(response.axes, count, seed)
    total = np.zeros(len(response.names))
    for start in range(0, count, 8192):
        total += passing(response.ln(x[start : start + 8192]), misfit).sum(axis=0)
    return total / count


@dataclass(frozen=True)
class Drivers:
    """Sobol indices of ln r (outputs × axes): first order (alone), total (with all it does together with others)."""

    first: Array
    total: Array


def drivers(response: Response, seed: int, count: int = DRIVING) -> Drivers:
    """Which unknown makes the ratio vary; nothing where it does not vary at all."""
    axes, outputs = response.axes, len(response.names)
    varies = np.ptp(response.ln(sample(axes, 256, seed)), axis=0) > SURE
    first, total = np.zeros((outputs, len(axes))), np.zeros((outputs, len(axes)))
    block = max(MOST_NUMBERS // (count * (len(axes) + 2)), 1)
    for start in range(0, outputs, block):
        columns = slice(start, start + block)
        part, mine = response.only(columns), varies[columns]
        if mine.any():
            first[columns][mine], total[columns][mine] = _indices(part, mine, seed, count)
    return Drivers(np.clip(first, 0, 1), np.clip(total, 0, 1))


def _indices(response: Response, varies: NDArray[np.bool_], seed: int, count: int) -> tuple[Array, Array]:
    axes = response.axes
    if len(axes) == 1:
        return np.ones((int(varies.sum()), 1)), np.ones((int(varies.sum()), 1))
    found = sobol_indices(
        func=lambda x: response.ln(values(axes, x.T)).T[varies],
        n=count,
        dists=[_Even()] * len(axes),
        rng=np.random.default_rng(seed),
    )
    return found.first_order, found.total_order


class _Even:
    """The even distribution from 0 to 1, as the indices' function wants it."""

    def ppf(self, share: Any) -> Any:
        return share
