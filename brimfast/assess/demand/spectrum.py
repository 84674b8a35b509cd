"""How hard is the design earthquake at one period, and for what hardly damps?"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.assess.demand.ground_motion import GroundMotion
from brimfast.data_tables.loader import NotInTableError, factor_si, factor_used, long_period_coefficient
from brimfast.shared.findings import Step, Value, step
from brimfast.shared.installation.site import Site

Array = NDArray[np.float64]
SITE_SPECIFIC_FROM = 0.2  # g, S_1 on site class D
NOT_KNOWN = "D default"  # section 11.4.3: class D where the ground is not known


def one_second_acceleration(S_1: ArrayLike, F_v: ArrayLike, increase: ArrayLike = 1.0) -> Array:
    """Design spectral acceleration at 1 s (g): S_D1 = 2/3 F_v S_1, times 1.5 where section 11.4.8 asks for it.

    S_1 mapped acceleration (g), F_v site coefficient. Source: ASCE 7-16 (11.4-2), (11.4-4), section 11.4.8.
    """
    return np.asarray(2.0 / 3.0 * np.asarray(increase, float) * np.asarray(F_v, float) * np.asarray(S_1, float))


def design_spectrum(T: ArrayLike, S_DS: ArrayLike, T_S: ArrayLike) -> Array:
    """Design spectral acceleration (g), 5 % damping: S_a = S_DS up to T_S, S_DS T_S/T = S_D1/T beyond.

    T period (s, above 0; else NaN), T_S = S_D1/S_DS. Neither the rise before T_0 nor the steeper fall after T_L is
    used: the safe side. Source: ASCE 7-16 section 11.4.6, (11.4-6), (11.4-7).
    """
    T = np.asarray(T, float)
    T = np.where(T > 0, T, np.nan)
    return np.asarray(np.asarray(S_DS, float) * np.minimum(1.0, np.asarray(T_S, float) / T))


def damping_correction(xi: ArrayLike) -> Array:
    """Spectrum at damping xi over that at 5 %: η = √(10/(5 + ξ)), at least 0.55.

    xi in percent of critical, 0 or more (else NaN). Source: EN 1998-1:2004 3.2.2.2(3), (3.6).
    """
    xi = np.asarray(xi, float)
    xi = np.where(xi >= 0, xi, np.nan)
    return np.asarray(np.maximum(np.sqrt(10.0 / (5.0 + xi)), 0.55))


def damping_coefficient(xi: ArrayLike) -> Array:
    """What a spectrum at 5 % is divided by for damping xi: B_1 = 4/(5.6 − ln ξ).

    xi in percent of critical, above 0 and under 100 (else NaN). Source: ASCE 41-17 (2-3).
    """
    xi = np.asarray(xi, float)
    xi = np.where((xi > 0) & (xi < 100), xi, np.nan)
    return np.asarray(4.0 / (5.6 - np.log(xi)))


def light_damping(xi: ArrayLike) -> Array:
    """The larger of the two rules, as neither was fitted to such light damping: max(η, 1/B_1)."""
    return np.asarray(np.maximum(damping_correction(xi), 1.0 / damping_coefficient(xi)))


@dataclass(frozen=True)
class Corner:
    """Where the spectrum's plateau ends (s); NaN where the standard asks for a site-specific study."""

    T_S: float
    steps: tuple[Step, ...]
    values: tuple[Value, ...]
    why_not: str = ""


def corner_period(site: Site, motion: GroundMotion) -> Corner:
    """T_S = S_D1/S_DS from S_1 and the site class; without S_1 as long as anywhere on default soil: the safe side."""
    if site.S_1 is None:
        T_S = factor_si("corner_period_unknown")
        line = step("T_S", f"{T_S:g}", {}, (T_S, "s"), "", "S_1 is not given: the safe side", any_units=False)
        return Corner(T_S, (line,), (factor_used("corner_period_unknown"),))
    site_class = site.site_class or NOT_KNOWN
    try:
        F_v, row = long_period_coefficient(site_class, site.S_1)
    except NotInTableError as error:
        return Corner(float("nan"), (), (), str(error))
    said = f"site class {site_class}" if site.site_class else "site class not given, taken as D"
    values = [row.used(f"site coefficient F_v, {said}", f"{F_v:.3f}")]
    increase, note = 1.0, ""
    if site_class in ("D", "D default") and site.S_1 >= SITE_SPECIFIC_FROM:
        increase, note = factor_si("long_period_increase"), "k: in place of a site-specific study, section 11.4.8"
        values.append(factor_used("long_period_increase"))
    if site.standard == "asce7-22":
        note = "; ".join(part for part in (note, "7-22 has no F_v: estimate by 7-16") if part)
    S_D1 = float(one_second_acceleration(site.S_1, F_v, increase))
    T_S = S_D1 / motion.S_DS
    lines = (
        step(
            "S_D1",
            "2/3*k*F_v*S_1",
            {"k": increase, "F_v": F_v, "S_1": (site.S_1, "g")},
            (S_D1, "g"),
            "ASCE 7-16 (11.4-2), (11.4-4)",
            note,
        ),
        step(
            "T_S",
            "S_D1/S_DS",
            {"S_D1": (S_D1, "g"), "S_DS": (motion.S_DS, "g")},
            (T_S, "s"),
            "ASCE 7-16 section 11.4.6",
        ),
    )
    return Corner(T_S, lines, tuple(values))
