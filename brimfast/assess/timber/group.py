"""How does a group of fasteners share a force and a moment?"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def row_positions(count: int, spread: float) -> Array:
    """Places of `count` fasteners evenly over `spread` (m), about their middle."""
    return np.linspace(-spread / 2, spread / 2, count) if count > 1 else np.zeros(1)


def worst_in_row(H: ArrayLike, V: ArrayLike, M: ArrayLike, positions: Array) -> tuple[Array, Array]:
    """Force across and along a straight upright row on its worst fastener (N): elastic method about the centroid.

    H horizontal and V vertical force on the group (N), M moment in the plane of the joint (N·m), positions
    (m) along the row. Each takes H/n, V/n, and M r / Σr² at right angles to the row. Returns the largest
    horizontal and the vertical force. A moment on a row with no spread has no arm: infinite.
    """
    n = positions.size
    polar = float(np.sum(positions**2))
    moment = np.abs(np.asarray(M, float))
    if polar > 0:
        from_moment = moment * float(np.max(np.abs(positions))) / polar
    else:
        from_moment = np.where(moment > 0, np.inf, 0.0)
    horizontal = np.abs(np.asarray(H, float)) / n + from_moment
    return np.asarray(horizontal), np.asarray(np.abs(np.asarray(V, float)) / n)
