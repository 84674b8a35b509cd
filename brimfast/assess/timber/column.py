"""How much does a post or a brace carry before it buckles?"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.shared.findings import Step, step

Array = NDArray[np.float64]
MOST_SLENDER = 50.0  # NDS 2018 section 3.7.1.4


def buckling_stress(E_min: ArrayLike, slenderness: ArrayLike) -> Array:
    """Critical buckling stress (Pa): F_cE = 0.822 E_min' / (l_e/d)². NDS 2018 section 3.7.1.5."""
    return np.asarray(0.822 * np.asarray(E_min, float) / np.asarray(slenderness, float) ** 2)


def column_stability(F_c_star: ArrayLike, E_min: ArrayLike, slenderness: ArrayLike, c: float = 0.8) -> Array:
    """Column stability factor C_P = (1+r)/2c − √([(1+r)/2c]² − r/c), r = F_cE/F_c*.

    F_c* compression value without C_P (Pa), E_min' (Pa), slenderness l_e/d from 0 to 50 (NaN above), c 0.8
    for sawn lumber. Source: NDS 2018 (3.7-1).
    """
    slenderness = np.asarray(slenderness, float)
    with np.errstate(divide="ignore", invalid="ignore"):
        r = buckling_stress(E_min, slenderness) / np.asarray(F_c_star, float)
        half = (1 + r) / (2 * c)
        C_P = half - np.sqrt(half**2 - r / c)
    C_P = np.where(slenderness == 0, 1.0, C_P)
    return np.asarray(np.where(slenderness > MOST_SLENDER, np.nan, C_P))


def column_step(F_c_star: float, E_min: float, slenderness: float, note: str) -> tuple[float, Step]:
    """C_P of sawn lumber and its line of calculation."""
    C_P = float(column_stability(F_c_star, E_min, slenderness))
    inputs = {"r": float(buckling_stress(E_min, slenderness)) / F_c_star}
    expression = "(1 + r)/1.6 - sqrt(((1 + r)/1.6)**2 - r/0.8)"
    return C_P, step("C_P", expression, inputs, C_P, "NDS 2018 (3.7-1), c = 0.8", note)


def bending_and_compression(
    f_c: ArrayLike, F_c: ArrayLike, F_cE: ArrayLike, f_b: ArrayLike, F_b: ArrayLike, e_d: ArrayLike = 0.0
) -> Array:
    """Interaction of compression, bending and an eccentric load; holds up to 1.

    (f_c/F_c')² + [f_b + 6 e/d f_c (1 + 0.234 f_c/F_cE)] / [F_b' (1 − f_c/F_cE)]. f_c axial and f_b bending
    stress, F_c' with C_P, F_cE in the plane of bending (Pa), e_d eccentricity over depth in that plane.
    Infinite where f_c reaches F_cE. Source: NDS 2018 (3.9-3) and (15.4-1) (the latter from memory).
    """
    f_c, F_c, F_cE = (np.asarray(item, float) for item in (f_c, F_c, F_cE))
    f_b, F_b, e_d = (np.asarray(item, float) for item in (f_b, F_b, e_d))
    with np.errstate(divide="ignore", invalid="ignore"):
        bending = (f_b + 6 * e_d * f_c * (1 + 0.234 * f_c / F_cE)) / (F_b * (1 - f_c / F_cE))
        index = (f_c / F_c) ** 2 + bending
    return np.asarray(np.where(f_c >= F_cE, np.inf, index))
