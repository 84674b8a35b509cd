"""How much head does water lose in a pipe at a flow?"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.data_tables.loader import factor_si
from brimfast.shared.constants import GRAVITY

Array = NDArray[np.float64]
LAMINAR = 1000.0  # below it Churchill's other terms are under 1e-13 of 64/Re, and overflow for still water


def velocity(Q: ArrayLike, D: ArrayLike) -> Array:
    """Mean velocity in a full pipe (m/s): V = Q / (π D²/4); Q flow (m³/s), D bore (m)."""
    return np.asarray(np.asarray(Q, float) / (np.pi / 4 * np.asarray(D, float) ** 2))


def reynolds(V: ArrayLike, D: ArrayLike) -> Array:
    """Reynolds number of water at 20 °C: Re = V D / ν; V velocity (m/s), D bore (m), ν kinematic viscosity (m²/s)."""
    return np.asarray(np.asarray(V, float) * np.asarray(D, float) / factor_si("water_viscosity"))


def churchill_terms(Re: ArrayLike, relative_roughness: ArrayLike) -> tuple[Array, Array]:
    """A and B of Churchill's formula, see friction_factor; Re above 0."""
    Re = np.asarray(Re, float)
    A = _fourth(_fourth(2.457 * np.log(1 / ((7 / Re) ** 0.9 + 0.27 * np.asarray(relative_roughness, float)))))
    return np.asarray(A), _fourth(_fourth(37530 / Re))


def _fourth(x: ArrayLike) -> Array:
    """x⁴ by squaring: a general power takes many times as long."""
    square = np.square(np.asarray(x, float))
    return np.asarray(np.square(square))


def friction_factor(Re: ArrayLike, relative_roughness: ArrayLike) -> Array:
    """Darcy friction factor of all regimes: f = 8 [(8/Re)^12 + (A + B)^−1.5]^(1/12).

    A = {2.457 ln[1 / ((7/Re)^0.9 + 0.27 k_s/D)]}^16, B = (37530/Re)^16; in laminar flow f = 64/Re. Re Reynolds
    number, k_s/D wall roughness over bore. Limits: k_s/D up to 0.05; between Re 2000 and 4000 no formula is sure. NaN where
    Re is not above 0. Source: S. W. Churchill 1977, as documented by the library fluids (friction.Churchill_1977).
    """
    number = np.asarray(Re, dtype=np.float64)
    number = np.where(number > 0, number, np.nan)
    above = np.maximum(number, LAMINAR)
    A, B = churchill_terms(above, relative_roughness)
    rough, laminar = A + B, _fourth(8 / above)
    inner = laminar * laminar * laminar + 1 / (rough * np.sqrt(rough))
    return np.asarray(np.where(number < LAMINAR, 64 / number, 8 * inner ** (1 / 12)))


def head_loss(Q: ArrayLike, D: ArrayLike, L: ArrayLike, K: ArrayLike, roughness: ArrayLike) -> Array:
    """Head lost along a full pipe (m): h = (K + f L/D) V²/(2 g).

    Q flow (m³/s), D bore, L length (m), K sum of the loss coefficients of entrance, exit and fittings, roughness of the wall
    (m). 0 where nothing flows. Source: Darcy and Weisbach, as in any book of hydraulics.
    """
    Q, D, L, K, rough = np.broadcast_arrays(*(np.asarray(one, float) for one in (Q, D, L, K, roughness)))
    V = velocity(Q, D)
    flows = V != 0
    f = friction_factor(reynolds(np.where(flows, np.abs(V), 1.0), D), rough / D)
    return np.asarray(np.where(flows, (K + f * L / D) * V**2 / (2 * GRAVITY), 0.0))


def hazen_williams(Q: ArrayLike, D: ArrayLike, L: ArrayLike, C: ArrayLike) -> Array:
    """Head lost by friction along a full pipe (m), to compare: h = 10.67 L Q^1.852 / (C^1.852 D^4.87).

    Q flow (m³/s), D bore, L length (m), C Hazen-Williams coefficient. Limits: water near 16 °C, turbulent. In SI with these rounded exponents; the form
    0.2083 (100/C)^1.852 Q^1.852 / d^4.8655 (gpm, in, ft per 100 ft) is 1 % above it at 1 in.
    Source: Hazen and Williams, in SI as in reference works on water supply.
    """
    Q, D, L, C = (np.asarray(one, float) for one in (Q, D, L, C))
    return np.asarray(10.67 * L * Q**1.852 / (C**1.852 * D**4.87))
