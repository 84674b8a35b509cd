"""How far does a body slide that friction alone holds?"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.shared.constants import GRAVITY

Array = NDArray[np.float64]
SCATTER = 0.510  # standard deviation of log10 D of the records
PULSE_SOURCE = "Newmark 1965, one rectangular pulse"
RECORDS_SOURCE = "Jibson 2007, equation 6 and its scatter of 0.51 in log10"


def slide_in_a_pulse(V: ArrayLike, A: ArrayLike, N: ArrayLike) -> Array:
    """Way (m) of a block under one rectangular pulse: D = V²/(2 g N) · (1 − N/A); 0 where A ≤ N.

    V velocity (m/s) and A acceleration (g) of the floor, N acceleration at which it slides (g, above 0; else NaN).
    Source: Newmark 1965, Géotechnique 15(2); derived in Kramer and Stewart, 2nd edition, section 10.9.2.1.
    """
    V, A, N = (np.asarray(one, float) for one in (V, A, N))
    N = np.where(N > 0, N, np.nan)
    ratio = N / np.where(A > 0, A, np.nan)
    D = V**2 / (2 * GRAVITY * N) * (1 - ratio)
    return np.asarray(np.where(ratio >= 1, 0.0, np.maximum(D, 0.0)))


def slide_in_records(A: ArrayLike, N: ArrayLike, above: ArrayLike = 0.0) -> Array:
    """Way (m) by 2270 records: log10 D = 0.215 + log10((1 − r)^2.341 r^−1.438) + above · 0.510, D in cm, r = N/A; 0 from r = 1.

    above: how many standard deviations over the mean. For slopes that slide one way: on level ground the block comes
    back, and the way is less. Source: Jibson 2007, Engineering Geology 91, equation 6 (log10, cm).
    """
    A, N = np.asarray(A, float), np.asarray(N, float)
    r = np.where(N > 0, N, np.nan) / np.where(A > 0, A, np.nan)
    inside = np.clip(r, 1e-12, 1.0)
    return np.asarray(10 ** (0.215 + SCATTER * np.asarray(above, float)) * (1 - inside) ** 2.341 * inside**-1.438 / 100)
