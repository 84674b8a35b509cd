"""EN 1995-1-1 (Eurocode 5): the yield modes of a single-shear joint, as a second opinion."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def embedment(rho_k: ArrayLike, d: ArrayLike) -> Array:
    """Bolts along the grain (N/mm²): f_h,0,k = 0.082 (1 − 0.01 d) ρ_k; d mm, ρ_k kg/m³. EN 1995-1-1 (8.32)."""
    return np.asarray(0.082 * (1 - 0.01 * np.asarray(d, float)) * np.asarray(rho_k, float))


def yield_moment(f_u: ArrayLike, d: ArrayLike) -> Array:
    """M_y,Rk = 0.3 f_u d^2.6 (N·mm); f_u N/mm², d mm. EN 1995-1-1 (8.30)."""
    return np.asarray(0.3 * np.asarray(f_u, float) * np.asarray(d, float) ** 2.6)


def single_shear_modes(
    f_h1: ArrayLike, f_h2: ArrayLike, t_1: ArrayLike, t_2: ArrayLike, d: ArrayLike, M_y: ArrayLike
) -> dict[str, Array]:
    """Modes a to f of EN 1995-1-1 (8.6) without rope effect (N); N/mm², mm, N·mm."""
    f_h1, f_h2, t_1, t_2, d, M_y = (np.asarray(item, float) for item in (f_h1, f_h2, t_1, t_2, d, M_y))
    b, t = f_h2 / f_h1, t_2 / t_1
    base = f_h1 * t_1 * d
    c = base / (1 + b) * (np.sqrt(b + 2 * b**2 * (1 + t + t**2) + b**3 * t**2) - b * (1 + t))
    dd = 1.05 * base / (2 + b) * (np.sqrt(2 * b * (1 + b) + 4 * b * (2 + b) * M_y / (f_h1 * d * t_1**2)) - b)
    e_root = np.sqrt(2 * b**2 * (1 + b) + 4 * b * (1 + 2 * b) * M_y / (f_h1 * d * t_2**2))
    e = 1.05 * f_h1 * t_2 * d / (1 + 2 * b) * (e_root - b)
    f = 1.15 * np.sqrt(2 * b / (1 + b)) * np.sqrt(2 * M_y * f_h1 * d)
    return {"a": base, "b": f_h2 * t_2 * d, "c": c, "d": dd, "e": e, "f": f}
