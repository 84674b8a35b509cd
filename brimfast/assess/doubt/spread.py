"""How a number that is not known for certain may lie."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import ndtri

from brimfast.shared.uncertain import Z_95, Uncertain, spread_of

Array = NDArray[np.float64]
TAIL = 5e-4  # what lies beyond is taken as if it lay here


@dataclass(frozen=True)
class Spread:
    """even: from low to high alike; log-even: alike in the logarithm; normal, lognormal: 95 in 100 from low to high.

    Of normal and lognormal a thousandth is cut off (TAIL on either side).
    """

    shape: Literal["even", "log-even", "normal", "lognormal"]
    low: float
    high: float

    def quantile(self, share: ArrayLike) -> Array:
        """The value (unit of low and high) that a share (0 to 1) of all lies below."""
        u = np.asarray(share, float)
        if self.shape == "even":
            return np.asarray(self.low + (self.high - self.low) * u)
        if self.shape == "log-even":
            return np.asarray(np.exp(math.log(self.low) + math.log(self.high / self.low) * u))
        z = ndtri(np.clip(u, TAIL, 1 - TAIL))
        if self.shape == "normal":
            return np.asarray((self.low + self.high) / 2 + (self.high - self.low) / (2 * Z_95) * z)
        return np.asarray(math.sqrt(self.low * self.high) * np.exp(spread_of(self.low, self.high) * z))

    @property
    def middle(self) -> float:
        return float(self.quantile(0.5))


def around(median: float, beta: float) -> Spread:
    """Lognormal by its median and the standard deviation beta of its logarithm."""
    return Spread("lognormal", median * math.exp(-Z_95 * beta), median * math.exp(Z_95 * beta))


def of(number: Uncertain) -> Spread:
    return Spread(number.shape, number.low, number.high)
