"""How stiff is a sheet in its plane: a nailed panel in a face, a deck on its joists?"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def panel_stiffness(Gt: ArrayLike, length: ArrayLike, height: ArrayLike, K: ArrayLike, spacing: ArrayLike) -> Array:
    """Sideways force per shift of a panel's top edge (N/m): k = b / (h (1/Gt + 2 s (1/b + 1/h)/K)).

    Gt shear stiffness of the sheet (N/m), b its length and h its height (m), K slip of one nail (N/m), s their
    spacing (m). The second part is the nails' slip along all four edges; for a sheet of 4 by 8 ft it is the
    0.75 h e_n (h in ft, e_n in in) of SDPWS 2015 (C4.3.2-1). The framing's own stretch is left to the frame.
    """
    Gt, b, h, K, s = (np.asarray(item, float) for item in (Gt, length, height, K, spacing))
    return np.asarray(b / (h * (1 / Gt + 2 * s * (1 / b + 1 / h) / K)))


def diagonal_for_panel(k: ArrayLike, length: ArrayLike, height: ArrayLike) -> Array:
    """Stiffness (N/m) of each of two crossed diagonals that resist a shift as the panel does: k d²/(2 b²)."""
    k, b, h = (np.asarray(item, float) for item in (k, length, height))
    return np.asarray(k * (b**2 + h**2) / (2 * b**2))


def diagonal_for_shear(Gt: ArrayLike, a: ArrayLike, b: ArrayLike) -> Array:
    """Stiffness (N/m) of each of two crossed diagonals with the shear energy of a sheet a × b: G t d²/(2 a b)."""
    Gt, a, b = (np.asarray(item, float) for item in (Gt, a, b))
    return np.asarray(Gt * (a**2 + b**2) / (2 * a * b))
