"""In which load cases is a frame solved: levels, directions, what its feet may do, how stiff its joints and ties are?"""

from __future__ import annotations

from dataclasses import dataclass

from brimfast.assess import combinations
from brimfast.assess.demand.vertical import Vertical

ALLOWABLE, STRENGTH, ANCHORS = ("down", "up"), ("strength down", "strength up"), "anchors"
PLAIN, SOFT_TIES, FREE, SOFT = "", "ties soft", "joints turning freely", "joints soft"  # variants of the stiffness
LOOSE, KEPT, HELD, ANCHORED = "loose", "kept from slipping", "held down", "anchored"  # feet
ANY_FEET = (LOOSE, KEPT, HELD, ANCHORED)
IN_PLACE = (KEPT, ANCHORED)  # what feet slip besides is no sway
WITHOUT_VERTICAL = 0.6  # share of the weight that resists where the vertical earthquake is left out, combination 10


@dataclass(frozen=True)
class LoadCase:
    """One case of the frame: share of the weight, share of the earthquake, direction of the push in the room (0 X, 1 Y)."""

    level: str
    weight: float
    earthquake: float
    way: int
    sign: int
    variant: str
    feet: str
    words: str  # of the combination


def load_cases(
    v: Vertical, variants: tuple[str, ...], feet: tuple[str, ...], some_anchored: bool
) -> tuple[LoadCase, ...]:
    """Both plan directions and both signs, with the vertical earthquake down and up, at either level.

    anchors: allowable level, uplift, the earthquake with the overstrength of each rack. Each case stands once for every
    variant of the stiffness and once for all that the feet may do: the worst of those that balance counts. At strength
    level, which is for sway, joints are soft (K_u); there only ties differ.
    """
    low = combinations.EARTHQUAKE_SHARE
    down, up = float(combinations.allowable_down(v)), max(float(combinations.allowable_resisting(v)), 0.0)
    strength_up = max(float(combinations.strength_resisting(v)), 0.0)
    levels = (
        ("down", down, low, combinations.allowable_down_words(v)),
        ("up", up, low, combinations.allowable(v)),
        ("strength down", float(combinations.strength_down(v)), 1.0, combinations.strength_down_words(v)),
        ("strength up", strength_up, 1.0, combinations.strength(v)),
        *(((ANCHORS, up, low, combinations.allowable(v, "Omega_0 ")),) if some_anchored else ()),
    )
    return tuple(
        LoadCase(level, weight, earthquake, way, sign, variant, foot, words)
        for variant in variants
        for foot in feet
        for level, weight, earthquake, words in levels
        if not (level in STRENGTH and (variant in (FREE, SOFT) or foot == HELD))
        for way in (0, 1)
        for sign in (1, -1)
    )
