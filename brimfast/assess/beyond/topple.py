"""Does a block that has begun to rock fall over?

Uplift asks for acceleration, falling for velocity as well: a large block of the same slenderness is harder to fell.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.shared.constants import GRAVITY

Array = NDArray[np.float64]
SHARE = 0.4  # of the velocity by energy, at which blocks began to fall in tests and simulations
SOURCE = "Ishiyama 1982: 0.4 of the velocity by energy"


def energy_velocity(b: ArrayLike, h: ArrayLike) -> Array:
    """Sudden velocity of the floor (m/s) whose energy just lifts a block over its edge: V = √(8 g R (1 − cos α)/3).

    b from the centre of mass to the edge, h its height (m, above 0); R = √(b² + h²), tan α = b/h, so R (1 − cos α) = R − h.
    For a rectangular block, inertia 4/3 m R² about its edge; angular momentum alone would give R/h times as much, and this
    is the safe side. Source: Housner 1963 (from memory).
    """
    b, h = np.asarray(b, float), np.asarray(h, float)
    return np.asarray(np.sqrt(8 * GRAVITY * (np.hypot(b, h) - h) / 3))


def falling_velocity(b: ArrayLike, h: ArrayLike) -> Array:
    """Peak floor velocity (m/s) under which a block does not fall: v_0 = 0.4 √(8 g R (1 − cos α)/3).

    b, h as in energy_velocity. Source: Ishiyama 1982, Earthquake Engineering and Structural Dynamics 10(5) (from memory).
    """
    return np.multiply(SHARE, energy_velocity(b, h))


def least_falling_index(a: ArrayLike, a_0: ArrayLike, V: ArrayLike, v_0: ArrayLike) -> Array:
    """The smaller of a/a_0 and V/v_0 (−): both must be passed to fall."""
    by_acceleration = np.asarray(a, float) / np.asarray(a_0, float)
    return np.asarray(np.minimum(by_acceleration, np.asarray(V, float) / np.asarray(v_0, float)))
