"""How hard does wood, steel or concrete bear on a dowel?"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.shared.constants import INCH, PSI

Array = NDArray[np.float64]
SMALL_DOWEL = 0.25 * INCH
ROUNDED_TO = 50 * PSI  # the printed tables, and so we


def _rounded(strength: Array) -> Array:
    return np.asarray(np.floor(strength / ROUNDED_TO + 0.5) * ROUNDED_TO)


def bearing_parallel(G: ArrayLike) -> Array:
    """Dowel bearing strength along the grain (Pa), D ≥ 1/4 in: F_e∥ = 11200 G psi.

    G specific gravity (oven-dry). Rounded to 50 psi as NDS 2018 Table 12.3.3, footnote 2.
    """
    return _rounded(11200 * np.asarray(G, float) * PSI)


def bearing_perpendicular(G: ArrayLike, D: ArrayLike) -> Array:
    """Dowel bearing strength across the grain (Pa), D ≥ 1/4 in: F_e⊥ = 6100 G^1.45 / √D psi, D in inches.

    D nominal diameter (m here). Rounded to 50 psi as NDS 2018 Table 12.3.3, footnote 2.
    """
    return _rounded(6100 * np.asarray(G, float) ** 1.45 / np.sqrt(np.asarray(D, float) / INCH) * PSI)


def bearing_small(G: ArrayLike) -> Array:
    """Dowel bearing strength in any direction (Pa), D < 1/4 in: F_e = 16600 G^1.84 psi.

    Rounded to 50 psi as NDS 2018 Table 12.3.3, footnote 2.
    """
    return _rounded(16600 * np.asarray(G, float) ** 1.84 * PSI)


def hankinson(parallel: ArrayLike, perpendicular: ArrayLike, theta: ArrayLike) -> Array:
    """Strength at an angle θ (rad) to the grain: F_∥ F_⊥ / (F_∥ sin²θ + F_⊥ cos²θ). NDS 2018 (12.3-11)."""
    parallel, perpendicular = np.asarray(parallel, float), np.asarray(perpendicular, float)
    sine, cosine = np.sin(np.asarray(theta, float)), np.cos(np.asarray(theta, float))
    return np.asarray(parallel * perpendicular / (parallel * sine**2 + perpendicular * cosine**2))


def bearing(G: ArrayLike, D: ArrayLike, theta: ArrayLike) -> Array:
    """Dowel bearing strength of wood (Pa) for a nominal diameter D (m) at an angle θ (rad) to the grain."""
    D = np.asarray(D, float)
    large = hankinson(bearing_parallel(G), bearing_perpendicular(G, D), theta)
    return np.asarray(np.where(D < SMALL_DOWEL * (1 - 1e-9), bearing_small(G), large))
