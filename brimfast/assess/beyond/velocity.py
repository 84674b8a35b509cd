"""How fast does the floor move?"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.shared.constants import GRAVITY

AMPLIFICATION = 1.65  # of the spectrum at 1 s over the ground's velocity
SOURCE = "FEMA P-58-1 section 5.3, as read in open code of its simplified analysis"


def peak_velocity(S_1: ArrayLike) -> NDArray[np.float64]:
    """Peak ground velocity (m/s): V = S_1 g t_1/(2π · 1.65); S_1 spectral acceleration at t_1 = 1 s (g).

    For spectra of ordinary ground; pulses near a fault can be faster. Source: FEMA P-58-1 section 5.3.
    """
    return np.asarray(np.asarray(S_1, float) * GRAVITY / (2 * math.pi * AMPLIFICATION))
