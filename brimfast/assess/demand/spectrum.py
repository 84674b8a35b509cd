"""How hard is the design earthquake at one period, and for what hardly damps?"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def design_spectrum(T: ArrayLike, S_DS: ArrayLike, T_S: ArrayLike) -> Array:
    """Design spectral acceleration (g), 5 % damping: S_a = S_DS up to T_S, S_DS T_S/T = S_D1/T beyond.

    T period (s, above 0; else NaN), T_S = S_D1/S_DS; of other standards the plateau and where it ends. Neither the rise before T_0 nor the steeper fall after T_L is
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
