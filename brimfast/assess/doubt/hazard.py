"""How often does the ground shake so hard, and how often in a year does something follow from it?"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.assess.demand.standard import standard_of
from brimfast.data_tables.loader import table
from brimfast.data_tables.rows import HazardShape
from brimfast.shared.findings import Value
from brimfast.shared.installation.model import Installation

Array = NDArray[np.float64]


def power_law(a: ArrayLike, a_0: ArrayLike, H_0: ArrayLike, k: ArrayLike) -> Array:
    """Times a year that shaking a is passed: H = H_0 (a/a_0)^−k. Source: EN 1998-1:2004 2.1(4) Note."""
    return np.asarray(np.asarray(H_0, float) * (np.asarray(a, float) / np.asarray(a_0, float)) ** -np.asarray(k, float))


def yearly_chance(rate: ArrayLike) -> Array:
    """Chance of at least one in a year: 1 − e^−λ; λ mean number a year. Poisson process."""
    return np.asarray(-np.expm1(-np.asarray(rate, float)))


def times_a_year(exceeded: ArrayLike, follows: ArrayLike) -> Array:
    """How often something follows from shaking (1/year): λ = ∫ P(a) |dH(a)|, by trapezia between the levels.

    exceeded: H at rising levels of shaking (1/year, levels); follows: chance, or money, at each level (levels × …). What
    is rarer than the last level follows as at the last; what is weaker than the first counts nothing. Source: total
    probability; FEMA P-58-1, time-based assessment.
    """
    H, P = np.asarray(exceeded, float), np.asarray(follows, float)
    between = (H[:-1] - H[1:]).reshape(-1, *(1,) * (P.ndim - 1)) * (P[:-1] + P[1:]) / 2
    return np.asarray(between.sum(axis=0) + H[-1] * P[-1])


@dataclass(frozen=True)
class Curve:
    """Points of shaking over design shaking and times a year; straight between them in both logarithms, and beyond."""

    points: tuple[tuple[float, float], ...]
    values: tuple[Value, ...]
    given: bool

    def times(self, a: ArrayLike) -> Array:
        """Times a year that a (times the design shaking, above 0) is passed."""
        x, y = np.log(np.array(self.points)).T
        at = np.log(np.asarray(a, float))
        index = np.clip(np.searchsorted(x, at, side="right") - 1, 0, len(x) - 2)
        slope = (y[index + 1] - y[index]) / (x[index + 1] - x[index])
        return np.asarray(np.exp(y[index] + slope * (at - x[index])))

    @property
    def design_years(self) -> float:
        """The design shaking is passed once in so many years."""
        return 1 / float(self.times(1.0))


SHAPE = Value(
    "shape of the hazard curve",
    "as between return periods of 20 and 2500 years in New Zealand",
    "NZS 1170.5:2004 Table 3.5, as open code cites it; taken for other countries too, where it is common practice only",
    "common practice, no source",
    "a hazard curve of the address",
)
FAR = math.e  # times the last point: where a slope goes on


def generic_shape() -> tuple[tuple[float, float], ...]:
    """Shaking over that of once in 500 years, and times a year that it is passed; beyond the table as from 500 to 2500 years."""
    rows = table(HazardShape)
    points = [(row.times, 1 / row.years) for row in rows]
    middle = next(row for row in rows if row.times == 1.0)
    last = rows[-1]
    slope = math.log(last.years / middle.years) / math.log(last.times / middle.times)
    return (*points, (last.times * FAR, float(power_law(FAR, 1.0, points[-1][1], slope))))


def through(shape: tuple[tuple[float, float], ...], times: float, years: float) -> tuple[tuple[float, float], ...]:
    """The shape, stretched along the shaking so that `times` is passed once in so many years."""
    inverse = Curve(tuple((rate, a) for a, rate in reversed(shape)), (), False)
    stretch = times / float(inverse.times(1 / years))
    return tuple((a * stretch, rate) for a, rate in shape)


def curve(installation: Installation) -> Curve:
    """The file's own, or a generic shape through what the standard's design earthquake stands for."""
    doubt = installation.doubt
    own = "the installation file"
    if doubt.hazard:
        text = ", ".join(f"{times:g} once in {1 / rate:.4g} years" for times, rate in doubt.hazard)
        return Curve(tuple(doubt.hazard), (Value("hazard curve", text, own, "given in the file"),), True)
    if doubt.design_years is not None:
        text = f"once in {doubt.design_years:g} years"
        value = Value("how often the design shaking is passed", text, own, "given in the file")
        times, years = 1.0, doubt.design_years
    else:
        point = standard_of(installation.site).hazard(installation.site)
        value, times, years = point.value, point.times, point.years
    if doubt.slope is None:
        return Curve(through(generic_shape(), times, years), (value, SHAPE), False)
    k = doubt.slope
    slope = Value("slope of the hazard curve", f"{k:g}", own, "given in the file")
    return Curve(((times, 1 / years), (times * FAR, float(power_law(FAR, 1.0, 1 / years, k)))), (value, slope), False)
