"""How much water can the waves of one earthquake throw over the rim of a vessel that stands?

A bound by geometry: at each crest the part of the first-mode shape above the rim is lost, one crest each half swing, as
long as the strong shaking lasts, with the wave as high all the while; never more than sinks the water so far that the
crest no longer reaches the rim. Jets and breaking are not in it: a real splash may be less, or in spray more.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.assess.network.model import Event
from brimfast.assess.slosh.case import Slosh
from brimfast.assess.slosh.equivalents import ROUND
from brimfast.assess.slosh.lid import comes_through, under_lid
from brimfast.assess.slosh.water import WAYS
from brimfast.data_tables.loader import factor_si
from brimfast.shared.findings import Step, step

Array = NDArray[np.float64]
FIRST_ZERO = 1.8411837813406593  # of J_1', Abramowitz and Stegun Table 9.5
GRID = 2000
KIND = "slosh"


def _part(d: ArrayLike, f: ArrayLike) -> Array:
    """f/d, from 0 to 1; NaN where there is no wave."""
    d = np.asarray(d, float)
    return np.asarray(np.clip(np.asarray(f, float) / np.where(d > 0, d, np.nan), 0.0, 1.0))


def crest_rectangular(d: ArrayLike, f: ArrayLike) -> Array:
    """Volume above the rim in one crest, over d A: V_1/(d A) = cos(a)/π − (f/d)(1/2 − a/π), a = asin(f/d); 0 from f = d.

    Surface η = d sin(πx/L), x from the middle; d rise at the wall (above 0; else NaN), f freeboard (m), A plan area. Geometry.
    """
    part = _part(d, f)
    angle = np.arcsin(part)
    return np.asarray(np.maximum(np.cos(angle) / np.pi - part * (0.5 - angle / np.pi), 0.0))


def bessel_J1(x: ArrayLike) -> Array:
    """J_1(x) by its power series, for |x| up to 3 (NaN beyond): error under 1e-12. Abramowitz and Stegun (9.1.10)."""
    x = np.asarray(x, float)
    x = np.where(np.abs(x) <= 3, x, np.nan)
    term = x / 2
    total = term.copy()
    for order in range(1, 14):
        term = -term * (x / 2) ** 2 / (order * (order + 1))
        total = total + term
    return np.asarray(total)


def crest_round(d: ArrayLike, f: ArrayLike) -> Array:
    """Volume above the rim in one crest, over d A, in a round vessel; 0 from f = d.

    Surface η = d J_1(λ r/R)/J_1(λ) cos θ, λ = 1.8412: along θ in closed form, along r by the midpoint rule (error under
    1e-5). d rise at the wall (above 0; else NaN), f freeboard (m), A plan area. Geometry.
    """
    part = _part(d, f)[..., None]
    s = (np.arange(GRID) + 0.5) / GRID
    shape = bessel_J1(FIRST_ZERO * s) / bessel_J1(FIRST_ZERO)
    angle = np.arccos(np.minimum(part / shape, 1.0))
    ring = 2 * (shape * np.sin(angle) - part * angle)
    return np.asarray(np.maximum((ring * s).sum(axis=-1) / (GRID * np.pi), 0.0))


def crests(T_c: ArrayLike, t: ArrayLike) -> Array:
    """How many crests reach a rim: one on either side by turns, N = 2 t/T_c; t shaking, T_c period (s)."""
    return np.asarray(2 * np.asarray(t, float) / np.asarray(T_c, float))


def thrown(N: ArrayLike, V_1: ArrayLike, A: ArrayLike, d: ArrayLike, f: ArrayLike) -> Array:
    """Most that N crests throw over the rim (m³): min(N V_1, A (d − f)), at least 0.

    V_1 of one crest (m³), A plan area (m²), d rise (m), f freeboard (m). With d at most the depth, never more than there is.
    """
    most = np.asarray(A, float) * (np.asarray(d, float) - np.asarray(f, float))
    return np.asarray(np.maximum(np.minimum(np.asarray(N, float) * np.asarray(V_1, float), most), 0.0))


def splash(wave: Slosh) -> tuple[float, tuple[Step, ...]]:
    """Volume over the rim in one direction (m³), or out of a lid that stays on, and how it comes about."""
    open_rim = _over_open_rim(wave)
    if wave.assessed and wave.lid is not None and under_lid(wave).stays:
        return comes_through(wave, open_rim[0])
    return open_rim


def _over_open_rim(wave: Slosh) -> tuple[float, tuple[Step, ...]]:
    """0 where the wave does not reach the rim."""
    d, f, water = wave.wave, wave.water.freeboard, wave.water
    if not wave.assessed or not d > f:
        return 0.0, ()
    A, t = water.area, factor_si("shaking_duration")
    sizes: dict[str, float | tuple[float, str]] = {"d": (d, "m"), "f": (f, "m"), "A": (A, "m²")}
    if water.shape is ROUND:
        c = float(crest_round(d, f))
        V_1 = c * d * A
        first = step(
            "V_1",
            "c*d*A",
            {"c": c, "d": (d, "m"), "A": (A, "m²")},
            (V_1, "m³"),
            "geometry",
            "c: share of the shape J_1 (1.8412 r/R) cos θ above the rim, integrated by number",
        )
    else:
        V_1 = float(crest_rectangular(d, f)) * d * A
        formula = "d*A*(cos(asin(f/d))/pi - f/d*(1/2 - asin(f/d)/pi))"
        first = step("V_1", formula, sizes, (V_1, "m³"), "geometry", "one crest of d sin(πx/L) above the rim")
    N = float(crests(wave.period, t))
    V = float(thrown(N, V_1, A, d, f))
    lines = (
        first,
        step("N", "2*t/T_c", {"t": (t, "s"), "T_c": (wave.period, "s")}, N, "", "one crest each half swing"),
        step(
            "V_over",
            "min(N*V_1, A*(d - f))",
            {"N": N, "V_1": (V_1, "m³"), **sizes},
            (V, "m³"),
            "bound by geometry",
            "never more than sinks the water until the crest no longer reaches the rim",
        ),
    )
    return V, lines


def splash_events(waves: tuple[Slosh, ...]) -> tuple[Event, ...]:
    """Each vessel that stands still and yet splashes: both directions together, never more than its free water."""
    by_vessel: dict[str, list[Slosh]] = {}
    for wave in waves:
        by_vessel.setdefault(wave.vessel, []).append(wave)
    found = []
    for name, each in by_vessel.items():
        parts = [(wave, *splash(wave)) for wave in each]
        over = {f"V_{wave.way}": volume for wave, volume, _ in parts if volume > 0}
        if not over:
            continue
        free = each[0].water.volume
        V = min(math.fsum(over.values()), free)
        total = step(
            "V",
            f"min({' + '.join(over)}, V_w)",
            {**{symbol: (volume, "m³") for symbol, volume in over.items()}, "V_w": (free, "m³")},
            (V, "m³"),
            "bound by geometry",
            "both directions added; V_w the water above the fill",
        )
        ways = " and ".join(WAYS[wave.way] for wave, volume, _ in parts if volume > 0)
        steep = any(wave.index for wave, volume, _ in parts if volume > 0)
        note = "at most, by geometry" + ("; an index: the waves are steeper than their theory covers" if steep else "")
        held = each[0].lid is not None and all(under_lid(wave).stays for wave in each if wave.assessed)
        over_what = "out of the openings in the lid" if held else "over the rim"
        text = f"the earthquake throws waves {over_what} of {name} ({ways}), though it stands"
        lines = tuple(line for _, _, steps in parts for line in steps)
        found.append(Event(f"slosh/{name}", KIND, name, text, {}, {name: V}, note, steps=(*lines, total)))
    return tuple(found)
