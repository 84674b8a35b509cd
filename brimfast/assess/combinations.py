"""Which load combination is used where?

Tipping and sliding: strength and allowable level both, the worse is reported. Anchors, timber, fasteners and
all typed-in values: allowable level. E_h is the sideways earthquake effect at strength level, D the permanent
load: dead load with water and fill, which stay for years. The shares of D are those of ASCE 7 for every standard (others
have 1.0 D with the earthquake: 0.9 up and 1.2 down are the safe side), the vertical earthquake is the standard's.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from brimfast.assess.demand.vertical import Vertical

Array = NDArray[np.float64]

SOURCE = "ASCE 7-16 sections 2.3.6 and 2.4.5, combinations 7 and 10 (8 downward), with section 12.4.2"
EARTHQUAKE_SHARE = 0.7  # allowable-stress level of E


def strength(v: Vertical) -> str:
    return f"(0.9 - {v.words()}) D + 1.0 E_h"


def allowable(v: Vertical, overstrength: str = "") -> str:
    return f"(0.6 - {v.words(EARTHQUAKE_SHARE)}) D + 0.7 {overstrength}E_h"


def allowable_down_words(v: Vertical) -> str:
    return f"(1.0 + {v.words(EARTHQUAKE_SHARE)}) D + 0.7 E_h"


def strength_down_words(v: Vertical) -> str:
    return f"(1.2 + {v.words()}) D + 1.0 E_h"


def strength_resisting(v: Vertical) -> Array:
    """Share of D that resists uplift at strength level: 0.9 − E_v/W (combination 7)."""
    return np.asarray(0.9 - v.factor * np.asarray(v.value, float))


def allowable_resisting(v: Vertical) -> Array:
    """Share of D that resists uplift at allowable level: 0.6 − 0.7 E_v/W (combination 10)."""
    return np.asarray(0.6 - EARTHQUAKE_SHARE * v.factor * np.asarray(v.value, float))


def worse_level(
    strength_level: tuple[float, float], allowable_level: tuple[float, float], v: Vertical
) -> tuple[float, float, str]:
    """Demand, resistance and combination of the level whose ratio is the worse; each a pair (demand, resistance)."""
    # cross-multiplied, so that no resistance at all counts as the worse
    if allowable_level[0] * strength_level[1] >= strength_level[0] * allowable_level[1]:
        return (*allowable_level, allowable(v))
    return (*strength_level, strength(v))


def allowable_down(v: Vertical) -> Array:
    """Share of D acting downward at allowable level: 1.0 + 0.7 E_v/W (combination 8)."""
    return np.asarray(1.0 + EARTHQUAKE_SHARE * v.factor * np.asarray(v.value, float))


def strength_down(v: Vertical) -> Array:
    """Share of D acting downward at strength level: 1.2 + E_v/W (combination 6)."""
    return np.asarray(1.2 + v.factor * np.asarray(v.value, float))
