"""How heavy is wood at its moisture content?"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.shared.constants import POUND_PER_CUBIC_FOOT

Array = NDArray[np.float64]


def timber_density(G: ArrayLike, moisture: ArrayLike) -> Array:
    """Density of wood (kg/m³) from specific gravity and moisture content.

    ρ = 62.4 [G / (1 + G · 0.009 · mc)] (1 + mc/100) lb/ft³, mc in percent.

    G: specific gravity on oven-dry weight and volume, 0.3 to 0.75. moisture: a share (0.30 = 30 %),
    0 to 0.30 (swelling ends at fibre saturation). Source: NDS Supplement 2018, section 3.1.3.
    """
    G, percent = np.asarray(G, float), np.asarray(moisture, float) * 100
    return np.asarray(62.4 * (G / (1 + G * 0.009 * percent)) * (1 + percent / 100) * POUND_PER_CUBIC_FOOT)
