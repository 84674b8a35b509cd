"""How far does a rack sway in the design earthquake?

The frame's movement is elastic and belongs to a reduced force. What really happens is taken as the same movement
under the full force (equal displacements): the elastic one times the factor that the standard divided by.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from brimfast.assess.frame import lines as frame_lines
from brimfast.assess.frame.actions import RackActions
from brimfast.assess.joints.case import RackCase
from brimfast.shared.findings import Step, step

TOPIC = "sway"
STRENGTH = ("strength down", "strength up")


@dataclass(frozen=True)
class Sway:
    """The largest real sway of a rack's deck in a direction (m), elastic sway, and how it comes about."""

    real: float
    elastic: float
    lines: tuple[Step, ...]
    words: str


def sway(case: RackCase, acts: RackActions, direction: str, tier: int) -> Sway:
    """The farthest point of a tier's beams, strength level; a rack that twists moves both ways."""
    axis = 0 if direction == "along" else 1
    picks = acts.pick(direction, *STRENGTH)
    moved = np.abs(acts.moved(tier)[:, axis][:, picks])
    _, column = np.unravel_index(int(np.argmax(moved)), moved.shape)
    elastic, factor = float(moved.max()), case.force.sways
    real = factor * elastic
    number = int(picks[column])
    note = f"{acts.push_words(number)}; {frame_lines.WORDS[acts.cases[number].level]}; times the factor by which the standard divided"
    line = step("Delta", "R*delta", {"R": factor, "delta": (elastic, "m")}, (real, "m"), frame_lines.SOURCE, note)
    return Sway(real, elastic, (line,), acts.push_words(number))


def farthest(case: RackCase, tier: int) -> tuple[float, tuple[Step, ...], str]:
    """The larger real sway of a tier in the directions that balance (m); the reason where none or only one does."""
    ways = [(way, case.acts(way)) for way in ("along", "across")]
    missing = [way for way, acts in ways if acts is None]
    if missing:
        return math.nan, (), f"the frame does not balance {missing[0]}: {case.without_frame(missing[0])}"
    both = [sway(case, acts, way, tier) for way, acts in ways if acts is not None]
    worst = max(both, key=lambda item: item.real)
    return worst.real, worst.lines, ""
