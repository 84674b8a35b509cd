"""Are the fasteners far enough from edges, ends and each other, and what does a shortfall cost?"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Distances:
    """Least distances and those for full value, in diameters (NDS 2018 Tables 12.5.1A to C, softwood, D ≥ 1/4 in)."""

    least: float
    full: float


END_TENSION = Distances(3.5, 7.0)  # load along the grain, towards the end
END_ACROSS = Distances(2.0, 4.0)  # load across the grain
SPACING_ROW = Distances(3.0, 4.0)
EDGE_ALONG = Distances(1.5, 1.5)
EDGE_LOADED = Distances(4.0, 4.0)
# Under 1/4 in: no factor; recommended distances without predrilling (NDS Commentary C12.1, from memory).
SMALL_EDGE = Distances(2.5, 2.5)
SMALL_END = Distances(10.0, 15.0)


def geometry_factor(actual: ArrayLike, D: ArrayLike, distances: Distances) -> Array:
    """C_Δ = actual / full, at most 1; NaN below the least distance, where the standard lets nothing count.

    actual distance and D diameter (m). Source: NDS 2018 section 12.5.1.
    """
    actual, D = np.asarray(actual, float), np.asarray(D, float)
    factor = np.minimum(actual / (distances.full * D), 1.0)
    return np.asarray(np.where(actual < distances.least * D * (1 - 1e-9), np.nan, factor))
