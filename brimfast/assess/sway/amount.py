"""How far does a rack sway in the design earthquake?

The frame's movement is elastic and belongs to a reduced force. What really happens is taken as the same movement
under the full force (equal displacements): the elastic one times the force that was neither divided nor capped over the one
that was.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from brimfast.assess.frame import lines as frame_lines
from brimfast.assess.frame.actions import RackActions
from brimfast.assess.frame.cases import IN_PLACE, STRENGTH
from brimfast.assess.joints.case import RackCase
from brimfast.assess.joints.layout import beam_to_post_layout
from brimfast.assess.joints.stiffness import beam_joint_stiffness
from brimfast.data_tables.loader import factor_si, factor_used
from brimfast.shared.findings import Step, Value, step

Array = NDArray[np.float64]
TOPIC = "sway"


@dataclass(frozen=True)
class Sway:
    """The largest real sway of a rack's deck in a direction (m), elastic sway, and how it comes about."""

    real: float
    elastic: float
    lines: tuple[Step, ...]
    values: tuple[Value, ...]


def sway(case: RackCase, acts: RackActions, direction: str, tier: int) -> Sway:
    """The farthest point of a tier's beams in a direction, strength level, whichever way it is pushed.

    Added to it is what bolts play in their holes, in every storey up to there, before they hold.
    """
    note = "R: what the standard divided the force by, and what its cap cut off"
    loose = sum(play(case, direction, storey) for storey in range(1, tier + 1))
    return _largest(case, acts, direction, acts.moved(tier), "", note, loose)


def storey_drift(case: RackCase, acts: RackActions, direction: str, tier: int) -> Sway:
    """The drift of an upper storey at the post where it is largest, with the play of its bolts."""
    moved, loose = acts.between(*case.weight.storey(tier)), play(case, direction, tier)
    return _largest(case, acts, direction, moved, f"storey {tier}", "", loose)


def _largest(
    case: RackCase, acts: RackActions, direction: str, moved: Array, where: str, more: str, loose: float
) -> Sway:
    """The largest of movements (points, 3, C) in a direction; loose: what to add for the play of bolts."""
    picks = acts.pick(None, *STRENGTH, feet=IN_PLACE)
    largest = frame_lines.worst(np.abs(moved[:, 0 if direction == "along" else 1][:, picks]), picks)
    factor = case.force.sways
    real = factor * largest.value + loose
    note = "; ".join(part for part in (frame_lines.said(acts, largest.number, where), more) if part)
    note += "; play: of bolts in their holes" if loose else ""
    inputs: dict[str, float | tuple[float, str]] = {"R": factor, "delta": (largest.value, "m"), "play": (loose, "m")}
    line = step("Delta", "R*delta + play", inputs, (real, "m"), frame_lines.SOURCE, note)
    return Sway(real, largest.value, (line,), (factor_used("bolt_play"),) if loose else ())


def play(case: RackCase, direction: str, storey: int) -> float:
    """How far bolts let a storey lean before they hold (m): 2 c/s · h where joints hold it, 2 c · L/run with braces.

    c play of one bolt between two members, s their spread in the joint, h height of the storey; L/run of a brace from
    post to post, both ends. Where knees of a leg a alone hold it 2 √2 c/a · h: a knee at half a right angle is a/√2 from
    its corner. Screws and nails have none.
    """
    c = factor_si("bolt_play")
    braces, joint = case.joints.get("brace to post"), case.joints.get("beam to post")
    foot, top = case.weight.storey(storey)
    bolted = braces is not None and braces.fasteners.kind == "through-bolt"
    if case.rack.braced(direction):
        run = case.rack.bay_length if direction == "along" else case.across
        return 2 * c * math.hypot(top - foot, run) / run if bolted else 0.0
    if direction == "across":
        return 0.0
    if joint is not None and joint.fasteners.kind == "through-bolt":
        layout = beam_to_post_layout(case.rack, case.parts, joint.fasteners, leans=False)
        spread = float(np.ptp(layout.places[:, 1]))
        if spread > 0:
            return 2 * c / spread * (top - foot)
    knees = [brace.leg for brace in case.rack.braces if brace.leg is not None and brace.storey == storey]
    if bolted and knees and not beam_joint_stiffness(case.rack, case.parts, joint).rotation:
        return 2 * math.sqrt(2) * c / min(knees) * (top - foot)
    return 0.0


def farthest(case: RackCase, tier: int) -> tuple[Sway | None, str]:
    """The larger real sway of a tier in both directions; None and the reason where it does not balance in one."""
    ways = [(way, case.acts(way)) for way in ("along", "across")]
    for way, acts in ways:
        if acts is None:
            return None, case.without_frame(way)
        if not acts.stays(way):
            return None, f"pushed {way} the loose rack slides or tips as a whole, and how far is not computed"
    both = [sway(case, acts, way, tier) for way, acts in ways if acts is not None]
    return max(both, key=lambda item: item.real), ""
