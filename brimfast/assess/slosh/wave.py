"""How hard is the design earthquake for what sloshes, and how high does the wave rise at the wall?"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.data_tables.loader import factor_si

Array = NDArray[np.float64]
WAVE = "ASCE 7-16 (15.7-13)"
STEEP = 0.2  # wave over length or depth, beyond which it is only an index


def convective_acceleration(T_c: ArrayLike, S_DS: ArrayLike, S_D1: ArrayLike) -> Array:
    """Spectral acceleration of what sloshes, 0.5 % damping (g).

    S_ac = 1.5 S_D1/T_c, at most 1.5 S_DS. T_c period (s, above 0; else NaN), S_DS and S_D1 (g). The steeper fall beyond T_L
    is not used: the safe side. Source: ASCE 7-16 (15.7-10); ACI 350.3-20 section 9.4.2.
    """
    T_c = np.asarray(T_c, float)
    T_c = np.where(T_c > 0, T_c, np.nan)
    more = factor_si("sloshing_amplification")
    falling = np.asarray(S_D1, float) / T_c
    return np.asarray(more * np.minimum(falling, np.asarray(S_DS, float)))


def wave_height(L: ArrayLike, S_ac: ArrayLike, I_e: ArrayLike = 1.0) -> Array:
    """Rise of the water at the wall above its level at rest (m): δ_s = 0.42 L I_e S_ac.

    L inside length in the direction of the shaking, of a round vessel its diameter (m); S_ac (g). Linear first mode: exact
    are 0.418 (round) and 0.405. An index where it exceeds a fifth of length or depth. Source: ASCE 7-16 (15.7-13).
    """
    return np.asarray(
        factor_si("wave_coefficient") * np.asarray(L, float) * np.asarray(I_e, float) * np.asarray(S_ac, float)
    )


def is_index(d: ArrayLike, L: ArrayLike, h: ArrayLike) -> NDArray[np.bool_]:
    """Where a wave d (m) is steeper than linear theory covers: over a fifth of length L or depth h (m)."""
    least = np.minimum(np.asarray(L, float), np.asarray(h, float))
    return np.asarray(np.asarray(d, float) > STEEP * least * (1 + 1e-12))


def reaches(d: ArrayLike, h: ArrayLike) -> Array:
    """The wave as far as its shape can reach (m): min(d, h), for its trough cannot sink below the bottom. h depth (m)."""
    return np.asarray(np.minimum(np.asarray(d, float), np.asarray(h, float)))


def sloshing_coefficient(
    S_ac: ArrayLike,
    S_c: ArrayLike,
    h: ArrayLike,
    L: ArrayLike,
    I_e: ArrayLike = 1.0,
    R_c: ArrayLike | None = None,
) -> Array:
    """Sideways force of the sloshing part over its weight: C_c = S_ac I_e/1.5, ASCE 7-16 (15.7-6).

    What floor and rack add to the ground's S_c counts only as far as the wave can rise: C_c is at most h/(0.42 L), the
    unreduced value of a wave as high as the water is deep, and never less than S_c I_e/1.5. S_ac with floor and rack (g;
    infinite where they build the waves up), S_c without (g), h depth, L length (m). R_c: another divisor than 1.5.
    """
    R_c = np.asarray(factor_si("convective_R") if R_c is None else R_c, float)
    reach = np.asarray(h, float) / (factor_si("wave_coefficient") * np.asarray(L, float))
    ground = np.asarray(S_c, float) * np.asarray(I_e, float) / R_c
    return np.asarray(np.minimum(np.asarray(S_ac, float) * np.asarray(I_e, float) / R_c, np.maximum(ground, reach)))
