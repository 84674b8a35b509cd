"""Do the fasteners that hold a beam on top of its posts keep it there in an earthquake?"""

from __future__ import annotations

import numpy as np

from brimfast.assess import combinations
from brimfast.assess.frame import lines as frame_lines
from brimfast.assess.frame.actions import RackActions
from brimfast.assess.frame.cases import ALLOWABLE, HELD
from brimfast.assess.joints.beam_joint import WHERE
from brimfast.assess.joints.capacity import Sides, lateral
from brimfast.assess.joints.case import UPRIGHT, RackCase
from brimfast.assess.joints.statics import shared, sideways_shares
from brimfast.assess.timber.fastener import NotAssessableError
from brimfast.shared.findings import Finding, Step, step
from brimfast.shared.installation.joint import Joint

LIFTS = 1e-6
DEEP = 1.0  # m: end grain of a post is as deep as any fastener


def on_top(case: RackCase, joint: Joint, direction: str) -> Finding:
    """Fasteners driven down through the beam stand in the post's end grain (C_eg); a tie nails into both sides.

    Each joint takes an even share across; along, what the braced bay hands over.
    """
    question = f"Do the fasteners keep the beams on the posts {direction} the rack?"
    if direction == "along":
        share, _, lines = sideways_shares(case)
    else:
        share = case.force.horizontal * case.share_of_worst() / 2
        line = step(
            "V",
            "F*k_j/2",
            {"F": (case.force.horizontal, "N"), "k_j": case.share_of_worst()},
            (share, "N"),
            "plain statics: the joint's share, half on either side of the rack",
        )
        lines = (line,)
    demand = combinations.EARTHQUAKE_SHARE * share
    down = step("V_low", "0.7*V", {"V": (share, "N")}, (demand, "N"), "allowable level")
    parts, fasteners = case.parts, joint.fasteners
    tie = fasteners.kind == "framing tie"
    details: dict[str, str] = {}
    acts = case.acts(direction)
    if acts is not None:
        statics = demand
        demand, uplift, lines, down, note = _by_frame(acts, direction, (*lines, down))
        details = frame_lines.compared(demand, statics, combinations.EARTHQUAKE_SHARE * case.force.horizontal)
        if uplift > 0 and not tie:
            reason = f"the beam is pulled up off its post by the frame ({note}), and fasteners in end grain do not count in withdrawal"
            id = f"on top {direction}"
            return case.outside(id, WHERE, question, max(demand, uplift), reason, (*case.force.steps, *lines, down))
    sides = (
        Sides(parts.beam.thickness, parts.beam.G, parts.post.thickness, parts.post.G)
        if tie
        else Sides(parts.beam.width, parts.beam.G, DEEP, parts.post.G)
    )
    angle = 0.0 if direction == "along" else UPRIGHT
    everything = (*case.force.steps, *lines, down)
    try:
        capacity = lateral(fasteners, sides, "earthquake", case.service(joint), end_grain=not tie)
    except NotAssessableError as error:
        return case.outside(f"on top {direction}", WHERE, question, demand, str(error), everything)
    return shared(
        f"joint/{case.name}/{WHERE}/on top {direction}",
        case.subject(WHERE),
        question,
        demand,
        capacity,
        angle,
        UPRIGHT,
        everything,
        "0.7 E_h, allowable level; the tipping couple is carried by bearing where the weight exceeds it",
        "joint across",
        details,
    )


def _by_frame(
    acts: RackActions, direction: str, before: tuple[Step, ...]
) -> tuple[float, float, tuple[Step, ...], Step, str]:
    """The worst joint's sideways force with its uplift (N), the uplift, its lines and its place in words."""
    joints, picks = acts.joints, acts.pick(direction, *ALLOWABLE)
    sideways = np.hypot(joints.total["H"][:, picks], joints.total["P"][:, picks])
    # a loose foot that is held down only for the calculation pulls on nothing
    lifts = np.array([acts.cases[number].feet != HELD for number in picks])
    up = np.where(lifts, np.maximum(-joints.total["V"][:, picks], 0.0), 0.0)
    size = np.hypot(sideways, up)
    lifting = float(up.max()) > LIFTS * float(size.max())  # then any joint that lifts is the one to look at
    largest = frame_lines.worst(up if lifting else size, picks)
    place, column, number = largest.place, largest.column, largest.number
    totals = tuple(frame_lines.total(each, joints, acts, place, number) for each in ("H", "P", "V"))
    H, P = (float(joints.total[each][place, number]) for each in ("H", "P"))
    R = float(size[place, column])
    down = step(
        "R_j",
        "sqrt(H**2 + P**2 + U**2)",
        {"H": (H, "N"), "P": (P, "N"), "U": (float(up[place, column]), "N")},
        (R, "N"),
        "sideways, with U, the uplift, where there is any",
    )
    return (
        R,
        float(up[place, column]),
        (*frame_lines.to_compare(before), *totals),
        down,
        frame_lines.said(acts, number, joints.where[place]),
    )
