"""Which part of the water moves with its vessel, which part sloshes, how high do they act, and how slowly?

Housner's equivalents, in the form of ACI 350.3 sections 9.2 (rectangular) and 9.3 (round). h depth of the water (m); L
inside length in the direction of the shaking, of a round vessel its inside diameter D (m). A mass m_i is fixed to the
vessel at h_i, a mass m_c on a spring at h_c. With the pressure on the bottom counted the heights are h_i', h_c': those
belong to the tipping of the whole vessel, the others to its walls. m_i + m_c is not exactly m (0.89 to 1.08 of it).

All hold for stiff upright walls, small waves, 0.1 ≤ h/L ≤ 2; NaN outside. There, against exact potential flow: m_c 1 to
3 % above, the period within 0.6 %, h_c and h_c' within 1.2 %, m_i 4 % below to 11 % above, h_i 9 % below to 2 % above,
h_i' 6 % below to 11 % above.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.shared.constants import GRAVITY

Array = NDArray[np.float64]
SHALLOWEST, DEEPEST = 0.1, 2.0  # h/L
SOURCE = {"rectangular": "ACI 350.3-20 section 9.2", "round": "ACI 350.3-20 section 9.3"}


@dataclass(frozen=True)
class Shape:
    """The two numbers in which the plan shapes differ: of the sloshing mass, and the wave number k L."""

    name: str
    share: float
    wave: float


RECTANGULAR = Shape("rectangular", 0.264, 3.16)
ROUND = Shape("round", 0.230, 3.68)


def depth_ratio(h: ArrayLike, L: ArrayLike) -> Array:
    """h/L where the equivalents hold (0.1 to 2), else NaN."""
    ratio = np.asarray(h, float) / np.asarray(L, float)
    inside = (ratio >= SHALLOWEST * (1 - 1e-12)) & (ratio <= DEEPEST * (1 + 1e-12))
    return np.asarray(np.where(inside, ratio, np.nan))


def impulsive_share(h: ArrayLike, L: ArrayLike) -> Array:
    """Part of the water that moves with its vessel: m_i/m = tanh(0.866 L/h)/(0.866 L/h). ACI 350.3 (9.2.1a), (9.3.1a)."""
    x = 0.866 / depth_ratio(h, L)
    return np.asarray(np.tanh(x) / x)


def convective_share(h: ArrayLike, L: ArrayLike, shape: Shape) -> Array:
    """Part that sloshes: m_c/m = 0.264 (L/h) tanh(3.16 h/L); round: 0.230 and 3.68. ACI 350.3 (9.2.1b), (9.3.1b)."""
    ratio = depth_ratio(h, L)
    return np.asarray(shape.share / ratio * np.tanh(shape.wave * ratio))


def impulsive_height(h: ArrayLike, L: ArrayLike) -> Array:
    """Height of m_i above the bottom (m), walls alone: h_i = (0.5 − 0.09375 L/h) h; 0.375 h from L/h = 1.333 on.

    ACI 350.3 (9.2.2a), (9.2.2b), (9.3.2a), (9.3.2b).
    """
    slender = 1 / depth_ratio(h, L)
    return np.asarray(h, float) * np.where(slender < 1.333, 0.5 - 0.09375 * slender, 0.375 + 0 * slender)


def convective_height(h: ArrayLike, L: ArrayLike, shape: Shape) -> Array:
    """Height of m_c above the bottom (m), walls alone: h_c = h [1 − (cosh x − 1)/(x sinh x)], x = 3.16 h/L or 3.68 h/D.

    ACI 350.3 (9.2.2c), (9.3.2c).
    """
    x = shape.wave * depth_ratio(h, L)
    return np.asarray(h, float) * (1 - (np.cosh(x) - 1) / (x * np.sinh(x)))


def much_deeper_than_long(h: ArrayLike, L: ArrayLike) -> NDArray[np.bool_]:
    """L/h < 0.75, where h_i' is 0.45 h. ACI 350.3 section 9.2.3, 9.3.3."""
    return np.asarray(1 / depth_ratio(h, L) < 0.75 * (1 - 1e-12))


def impulsive_height_with_base(h: ArrayLike, L: ArrayLike) -> Array:
    """Height at which m_i tips the vessel, pressure on the bottom counted (m).

    h_i' = 0.45 h for L/h < 0.75, else [0.866 (L/h)/(2 tanh(0.866 L/h)) − 1/8] h. ACI 350.3 section 9.2.3, 9.3.3.
    """
    x = 0.866 / depth_ratio(h, L)
    return np.asarray(h, float) * np.where(much_deeper_than_long(h, L), 0.45, x / (2 * np.tanh(x)) - 0.125)


def convective_height_with_base(h: ArrayLike, L: ArrayLike, shape: Shape) -> Array:
    """Height at which m_c tips the vessel, pressure on the bottom counted (m).

    h_c' = h [1 − (cosh x − 2.01)/(x sinh x)], x = 3.16 h/L or 3.68 h/D. ACI 350.3 section 9.2.3, 9.3.3.
    """
    x = shape.wave * depth_ratio(h, L)
    return np.asarray(h, float) * (1 - (np.cosh(x) - 2.01) / (x * np.sinh(x)))


def sloshing_period(h: ArrayLike, L: ArrayLike, shape: Shape) -> Array:
    """Time of the first wave to and fro (s): T_c = 2π √(L/(3.16 g tanh(3.16 h/L))); round: 3.68.

    ACI 350.3 (9.2.4), (9.3.4); round: TID-7024 as well.
    """
    ratio = depth_ratio(h, L)
    k = shape.wave
    return np.asarray(2 * np.pi * np.sqrt(np.asarray(L, float) / (k * GRAVITY * np.tanh(k * ratio))))
