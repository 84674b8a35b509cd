"""What do bending, shear, bearing and deflection ask of a straight rectangular member?"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.shared.constants import INCH

Array = NDArray[np.float64]
MOST_SLENDER_BEAM = 50.0  # NDS 2018 section 3.3.3.7


def centred_moment(P: ArrayLike, L: ArrayLike, b: ArrayLike) -> Array:
    """Largest moment of a simple span (N·m) under a load P spread evenly over b in its middle: P (2L − b)/8. Statics."""
    return np.asarray(np.asarray(P, float) * (2 * np.asarray(L, float) - np.asarray(b, float)) / 8)


def centred_deflection(P: ArrayLike, L: ArrayLike, b: ArrayLike, EI: ArrayLike) -> Array:
    """Deflection (m) of a simple span under P spread evenly over b in its middle: P (8L³ − 4Lb² + b³)/(384 EI).

    b = L gives 5PL³/384EI, b = 0 gives PL³/48EI. Beam theory.
    """
    P, L, b, EI = (np.asarray(item, float) for item in (P, L, b, EI))
    return np.asarray(P * (8 * L**3 - 4 * L * b**2 + b**3) / (384 * EI))


def section_modulus(thickness: ArrayLike, width: ArrayLike) -> Array:
    """S = b d²/6 (m³)."""
    return np.asarray(np.asarray(thickness, float) * np.asarray(width, float) ** 2 / 6)


def second_moment(thickness: ArrayLike, width: ArrayLike) -> Array:
    """I = b d³/12 (m⁴)."""
    return np.asarray(np.asarray(thickness, float) * np.asarray(width, float) ** 3 / 12)


def shear_stress(V: ArrayLike, thickness: ArrayLike, width: ArrayLike) -> Array:
    """f_v = 3V/(2 b d) (Pa). NDS 2018 (3.4-2)."""
    return np.asarray(1.5 * np.asarray(V, float) / (np.asarray(thickness, float) * np.asarray(width, float)))


def shear_at_connection(F_v: ArrayLike, thickness: ArrayLike, d: ArrayLike, d_e: ArrayLike) -> Array:
    """Shear (N) that a member hung by fasteners near its end may carry: (2/3) F_v' b d_e (d_e/d)².

    d_e: depth less the distance from the unloaded edge to the nearest fastener (m); for fasteners nearer
    than 5 d to the end. Source: NDS 2018 (3.4-6).
    """
    d, d_e = np.asarray(d, float), np.asarray(d_e, float)
    return np.asarray(2 / 3 * np.asarray(F_v, float) * np.asarray(thickness, float) * d_e * (d_e / d) ** 2)


def bearing_area_factor(l_b: ArrayLike) -> Array:
    """C_b = (l_b + 0.375 in)/l_b for bearings shorter than 6 in that are not at a member's end. NDS 2018 (3.10-2)."""
    l_b = np.asarray(l_b, float)
    return np.asarray(np.where(l_b < 6 * INCH, (l_b + 0.375 * INCH) / l_b, 1.0))


def beam_slenderness(l_e: ArrayLike, d: ArrayLike, b: ArrayLike) -> Array:
    """R_B = √(l_e d/b²); l_e effective length, d depth, b thickness (m). NDS 2018 (3.3-5)."""
    return np.asarray(np.sqrt(np.asarray(l_e, float) * np.asarray(d, float) / np.asarray(b, float) ** 2))


def beam_stability(F_b_star: ArrayLike, E_min: ArrayLike, R_B: ArrayLike) -> Array:
    """Beam stability factor C_L = (1+r)/1.9 − √([(1+r)/1.9]² − r/0.95), r = F_bE/F_b*, F_bE = 1.2 E_min'/R_B².

    R_B at most 50 (NaN above). Source: NDS 2018 (3.3-6).
    """
    R_B = np.asarray(R_B, float)
    with np.errstate(divide="ignore", invalid="ignore"):
        r = 1.2 * np.asarray(E_min, float) / R_B**2 / np.asarray(F_b_star, float)
        half = (1 + r) / 1.9
        C_L = half - np.sqrt(half**2 - r / 0.95)
    return np.asarray(np.where(R_B > MOST_SLENDER_BEAM, np.nan, np.where(R_B == 0, 1.0, C_L)))


def biaxial_bending(f_b1: ArrayLike, F_b1: ArrayLike, f_b2: ArrayLike, F_b2: ArrayLike, F_bE: ArrayLike) -> Array:
    """Index of bending about both axes, no axial load: f_b1/F_b1' + f_b2/(F_b2' [1 − (f_b1/F_bE)²]), at most 1.

    1 edgewise, with F_b1' by C_L; 2 flatwise; F_bE = 1.20 E_min'/R_B² (all Pa). Infinite where f_b1 reaches F_bE.
    Source: NDS 2018 section 3.9.2, (3.9-3).
    """
    f_b1, F_b1, f_b2, F_b2, F_bE = (np.asarray(item, float) for item in (f_b1, F_b1, f_b2, F_b2, F_bE))
    left = 1 - (f_b1 / F_bE) ** 2
    with np.errstate(divide="ignore", invalid="ignore"):
        index = f_b1 / F_b1 + f_b2 / (F_b2 * left)
    return np.asarray(np.where(f_b1 < F_bE, index, np.inf))
