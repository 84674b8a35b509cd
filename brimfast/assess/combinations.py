"""Which load combination is used where?

Tipping and sliding: strength and allowable level both, the worse is reported. Anchors, timber, fasteners and
all typed-in values: allowable level. E_h is the sideways earthquake effect at strength level, D the permanent
load: dead load with water and fill, which stay for years.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.data_tables.loader import factor_si

Array = NDArray[np.float64]

STRENGTH = "(0.9 - 0.2 S_DS) D + 1.0 E_h"
ALLOWABLE = "(0.6 - 0.14 S_DS) D + 0.7 E_h"
ALLOWABLE_DOWN = "(1.0 + 0.14 S_DS) D + 0.7 E_h"
STRENGTH_DOWN = "(1.2 + 0.2 S_DS) D + 1.0 E_h"
SOURCE = "ASCE 7-16 sections 2.3.6 and 2.4.5, combinations 7 and 10 (8 downward), with section 12.4.2"
EARTHQUAKE_SHARE = 0.7  # allowable-stress level of E


def strength_resisting(S_DS: ArrayLike) -> Array:
    """Share of D that resists uplift at strength level: 0.9 − 0.2 S_DS (combination 7)."""
    return np.asarray(0.9 - factor_si("vertical_share") * np.asarray(S_DS, float))


def allowable_resisting(S_DS: ArrayLike) -> Array:
    """Share of D that resists uplift at allowable level: 0.6 − 0.7 · 0.2 S_DS (combination 10)."""
    return np.asarray(0.6 - EARTHQUAKE_SHARE * factor_si("vertical_share") * np.asarray(S_DS, float))


def worse_level(strength: tuple[float, float], allowable: tuple[float, float]) -> tuple[float, float, str]:
    """Demand, resistance and combination of the level whose ratio is the worse; each a pair (demand, resistance)."""
    # cross-multiplied, so that no resistance at all counts as the worse
    if allowable[0] * strength[1] >= strength[0] * allowable[1]:
        return (*allowable, ALLOWABLE)
    return (*strength, STRENGTH)


def allowable_down(S_DS: ArrayLike) -> Array:
    """Share of D acting downward at allowable level: 1.0 + 0.7 · 0.2 S_DS (combination 8)."""
    return np.asarray(1.0 + EARTHQUAKE_SHARE * factor_si("vertical_share") * np.asarray(S_DS, float))


def strength_down(S_DS: ArrayLike) -> Array:
    """Share of D acting downward at strength level: 1.2 + 0.2 S_DS (combination 6)."""
    return np.asarray(1.2 + factor_si("vertical_share") * np.asarray(S_DS, float))
