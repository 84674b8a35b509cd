"""Which heights and stations along a rack are points of its frame?"""

from __future__ import annotations

from collections.abc import Iterable

from brimfast.shared.installation.rack import FACES, Rack

SAME = 0.03  # m: points nearer than this are one
SIDES = ("front", "back")


def merged(heights: Iterable[float], fixed: Iterable[float]) -> list[float]:
    """Sorted heights in which those of `fixed` take in what lies near them."""
    kept = sorted(fixed)
    for height in sorted(heights):
        if all(abs(height - other) > SAME for other in kept):
            kept.append(height)
    return sorted(kept)


def nearest(values: list[float], wanted: float) -> int:
    return min(range(len(values)), key=lambda index: abs(values[index] - wanted))


def face_posts(rack: Rack, face: str) -> list[tuple[tuple[int, str], tuple[int, str]]]:
    """Pairs of neighbouring posts (line, side) of a face, bay by bay."""
    if face in FACES["along"]:
        return [((bay, face), (bay + 1, face)) for bay in range(rack.bays)]
    line = 0 if face == "left" else rack.bays
    return [((line, "front"), (line, "back"))]
