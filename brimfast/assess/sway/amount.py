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
from brimfast.assess.joints.layout import beam_to_post_layout
from brimfast.data_tables.loader import factor_si
from brimfast.shared.findings import Step, step

TOPIC = "sway"
STRENGTH = ("strength down", "strength up")
IN_PLACE = ("kept from slipping", "anchored")  # what feet slip besides is not sway


@dataclass(frozen=True)
class Sway:
    """The largest real sway of a rack's deck in a direction (m), elastic sway, and how it comes about."""

    real: float
    elastic: float
    lines: tuple[Step, ...]
    words: str


def sway(case: RackCase, acts: RackActions, direction: str, tier: int) -> Sway:
    """The farthest point of a tier's beams in a direction, strength level, whichever way it is pushed.

    Added to it is what bolts play in their holes before they hold.
    """
    axis = 0 if direction == "along" else 1
    picks = acts.pick(None, *STRENGTH, feet=IN_PLACE)
    moved = np.abs(acts.moved(tier)[:, axis][:, picks])
    _, column = np.unravel_index(int(np.argmax(moved)), moved.shape)
    elastic, factor, loose = float(moved.max()), case.force.sways, play(case, direction)
    real = factor * elastic + loose
    number = int(picks[column])
    note = f"{acts.push_words(number)}; {frame_lines.WORDS[acts.cases[number].level]}; times the factor by which the standard divided"
    inputs: dict[str, float | tuple[float, str]] = {"R": factor, "delta": (elastic, "m"), "play": (loose, "m")}
    note += "; play: of bolts in their holes" if loose else ""
    line = step("Delta", "R*delta + play", inputs, (real, "m"), frame_lines.SOURCE, note)
    return Sway(real, elastic, (line,), acts.push_words(number))


def play(case: RackCase, direction: str) -> float:
    """How far bolts let a rack move before they hold (m): 2 c/s · h where joints alone hold it, 2 c · L/run with braces.

    c play of one bolt between two members, s their spread in the joint, h height of the beam; L/run of a brace, both
    ends. Screws and nails have none.
    """
    c = factor_si("bolt_play")
    braces, joint = case.joints.get("brace to post"), case.joints.get("beam to post")
    if case.rack.braced(direction):
        if braces is None or braces.fasteners.kind != "through-bolt" or not case.rack.braces:
            return 0.0
        rise, run = case.weight.beam_centre, case.rack.bay_length if direction == "along" else case.rack.width
        return 2 * c * math.hypot(rise, run) / run
    if direction == "across" or joint is None or joint.fasteners.kind != "through-bolt":
        return 0.0
    layout = beam_to_post_layout(case.rack, case.parts, joint.fasteners, leans=False)
    spread = float(np.ptp(layout.places[:, 1]))
    return 2 * c / spread * case.weight.beam_centre if spread > 0 else 0.0


def farthest(case: RackCase, tier: int) -> tuple[float, tuple[Step, ...], str]:
    """The larger real sway of a tier in the directions that balance (m); the reason where none or only one does."""
    ways = [(way, case.acts(way)) for way in ("along", "across")]
    for way, acts in ways:
        if acts is None:
            return math.nan, (), case.without_frame(way)
        if not acts.stays(way):
            return math.nan, (), f"pushed {way} the loose rack slides or tips as a whole, and how far is not computed"
    both = [sway(case, acts, way, tier) for way, acts in ways if acts is not None]
    worst = max(both, key=lambda item: item.real)
    return worst.real, worst.lines, ""
