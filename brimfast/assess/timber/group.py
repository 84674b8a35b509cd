"""How does a group of fasteners share a force and a moment, and how much does it turn?"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.shared.constants import INCH, POUND_FORCE

Array = NDArray[np.float64]


def grid(count: int, columns: int, spread: float, gauge: float) -> Array:
    """Places (x, y) in m about their middle: `count` fasteners in upright columns over `spread`, `gauge` apart.

    An uneven count fills the first columns; the group is set about its own centroid.
    """
    rows = -(-count // columns)
    ys = np.linspace(-spread / 2, spread / 2, rows) if rows > 1 else np.zeros(1)
    xs = (np.arange(columns) - (columns - 1) / 2) * gauge
    places = np.array([(x, y) for x in xs for y in ys])[:count]
    return np.asarray(places - places.mean(axis=0))


def group_forces(H: ArrayLike, V: ArrayLike, M: ArrayLike, places: Array) -> Array:
    """Force on each fastener of a group (N), elastic method about the centroid: shape (..., n, 2).

    H horizontal and V vertical force (N), M moment in the plane of the joint (N·m), counter-clockwise;
    each fastener takes H/n, V/n and M r/Σr² at right angles to its radius. A moment on a group with no
    extent has no arm: infinite. Source: elastic (vector) method, any text on connections.
    """
    n = places.shape[0]
    polar = float((places**2).sum())
    H, V, M = (np.asarray(item, float)[..., None] for item in (H, V, M))
    x, y = places[:, 0], places[:, 1]
    if polar > 0:
        from_x, from_y = -M * y / polar, M * x / polar
    else:
        endless = np.where(np.abs(M) > 0, np.inf, 0.0) * np.ones(n)
        from_x, from_y = endless, np.zeros_like(endless)
    return np.stack(np.broadcast_arrays(H / n + from_x, V / n + from_y), axis=-1)


def group_action(
    D: ArrayLike, n: ArrayLike, s: ArrayLike, EA_m: ArrayLike, EA_s: ArrayLike, steel_side: bool = False
) -> Array:
    """Group action factor C_g of n fasteners in a row, s apart (m); 1 for D under 1/4 in and for one fastener.

    C_g = [m (1 − m^2n) / (n [(1 + R_EA m^n)(1 + m) − 1 + m^2n])] (1 + R_EA)/(1 − m), m = u − √(u² − 1),
    u = 1 + γ s/2 (1/EA_m + 1/EA_s), R_EA the smaller of the ratios of EA (N), γ = 180,000 D^1.5 lb/in
    (wood to wood) or 270,000 D^1.5 (steel side plates), D in inches. Source: NDS 2018 (11.3-1).
    """
    D, n, s = (np.asarray(item, float) for item in (D, n, s))
    EA_m, EA_s = np.asarray(EA_m, float), np.asarray(EA_s, float)
    gamma = (270_000 if steel_side else 180_000) * (D / INCH) ** 1.5 * POUND_FORCE / INCH
    u = 1 + gamma * s / 2 * (1 / EA_m + 1 / EA_s)
    m = u - np.sqrt(u**2 - 1)
    R_EA = np.minimum(EA_s / EA_m, EA_m / EA_s)
    with np.errstate(divide="ignore", invalid="ignore"):
        first = m * (1 - m ** (2 * n)) / (n * ((1 + R_EA * m**n) * (1 + m) - 1 + m ** (2 * n)))
        C_g = first * (1 + R_EA) / (1 - m)
    return np.asarray(np.where((D < 0.25 * INCH * (1 - 1e-9)) | (n <= 1) | (s <= 0), 1.0, C_g))


def slip_modulus(rho_mean: ArrayLike, d: ArrayLike, predrilled: bool = True) -> Array:
    """Slip of one fastener and shear plane under service load (N/m): K_ser.

    ρ_m^1.5 d/23 N/mm for bolts, screws and predrilled nails; ρ_m^1.5 d^0.8/30 N/mm for nails that are not;
    ρ_m mean density (kg/m³), d diameter (mm). Source: EN 1995-1-1:2004 Table 7.1.
    """
    rho, millimetres = np.asarray(rho_mean, float), np.asarray(d, float) * 1000
    per_mm = rho**1.5 * millimetres / 23 if predrilled else rho**1.5 * millimetres**0.8 / 30
    return np.asarray(per_mm * 1000)


def rotational_stiffness(K: ArrayLike, places: Array) -> Array:
    """Moment per turn of a fastener group (N·m/rad): k_θ = K Σ r². Elastic method, each fastener a spring K (N/m)."""
    return np.asarray(np.asarray(K, float) * float((places**2).sum()))
