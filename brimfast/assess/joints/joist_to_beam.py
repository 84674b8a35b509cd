"""Do the fasteners that hold the joists between the beams carry their ends?"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from brimfast.assess import combinations
from brimfast.assess.frame import lines as frame_lines
from brimfast.assess.frame.cases import ALLOWABLE
from brimfast.assess.joints.capacity import Sides, lateral
from brimfast.assess.joints.case import TOPIC, UPRIGHT, RackCase
from brimfast.assess.joints.sheet_steel import tie_steel
from brimfast.assess.joints.statics import shared
from brimfast.assess.timber.fastener import NotAssessableError
from brimfast.shared.findings import Finding, Step, Value, always, not_assessed, step
from brimfast.shared.installation.joint import Fasteners

WHERE = "joist to beam"


def joist_to_beam(case: RackCase) -> list[Finding]:
    """Joists on the beams bear on them; joists between them hang on ties, nails or screws."""
    return [*map(always, _weight(case)), *_earthquake(case)]


def _sides(case: RackCase, fasteners: Fasteners) -> tuple[Sides, bool]:
    """The two woods of the joint, and whether the fasteners stand in the joist's end grain.

    A tie nails into joist and beam; toe-nails go through the joist into the beam; others through the beam into
    the joist's end grain. A joist on the beam is held by what goes down through it, or by a tie.
    """
    parts = case.parts
    if fasteners.kind == "framing tie" or fasteners.toe_nailed:
        return Sides(parts.joist.thickness, parts.joist.G, parts.beam.thickness, parts.beam.G), False
    if case.rack.joist.seat == "on beams":
        return Sides(parts.joist.width, parts.joist.G, parts.beam.width, parts.beam.G), False
    return Sides(parts.beam.thickness, parts.beam.G, case.rack.width, parts.joist.G), fasteners.allowable is None


def _earthquake(case: RackCase) -> list[Finding]:
    """The joist's share of the push across, what the frame passes through the joist, and its upright load."""
    id, question = "earthquake", "Do the joists' ends carry weight and earthquake across the rack?"
    w, s = case.gravity.joist_line_load, case.rack.joist.spacing
    acts = case.acts("across")
    if acts is None:
        reason = case.without_frame("across")
        return [not_assessed(f"joint/{case.name}/{WHERE}/{id}", TOPIC, case.subject(WHERE), question, "force", reason)]
    picks = acts.pick(None, *ALLOWABLE)
    largest = frame_lines.worst(np.abs(acts.joists.total["N"][:, picks]), picks)
    N = largest.value
    c, low = case.force.coefficient, combinations.EARTHQUAKE_SHARE
    arm = max(case.body.height - case.weight.beam_centre, 0.0)
    H = low * c * w * s / 2 + N
    share = float(combinations.allowable_down(case.vertical))
    hangs = case.rack.joist.seat != "on beams"
    V = share * w * s / 2 + low * c * w * s * arm / case.across if hangs else 0.0
    R = math.hypot(H, V)
    inputs: dict[str, float | tuple[float, str]] = {"c": c, "w": (w, "N/m"), "s": (s, "m")}
    place = f"{acts.joists.where[largest.place]}, {acts.push_words(largest.number)}"
    note = f"N_j: {place}; c: the rack's push over its weight"
    lines: tuple[Step, ...] = (
        step("H", "0.7*c*w*s/2 + N_j", {**inputs, "N_j": (N, "N")}, (H, "N"), frame_lines.SOURCE, note),
    )
    if hangs:
        upright = {**inputs, **case.vertical.inputs, "h_a": (arm, "m"), "base": (case.across, "m")}
        expression = f"(1 + {case.vertical.times(low)})*w*s/2 + 0.7*c*w*s*h_a/base"
        more = "h_a: centre of mass above the beams; a joist between beams hangs on the fasteners"
        lines = (*lines, step("V", expression, upright, (V, "N"), case.vertical.source, more))
        lines = (*lines, step("R_j", "sqrt(H**2 + V**2)", {"H": (H, "N"), "V": (V, "N")}, (R, "N")))
    everything = (*case.force.steps, *lines)
    joint = case.joints.get(WHERE)
    if joint is None:
        where = "how the joists are fastened to the beams is not in the file; friction does not count"
        return [case.outside(id, WHERE, question, R, where, everything, False)]
    fasteners = joint.fasteners
    sides, end_grain = _sides(case, fasteners)
    most = math.inf
    most_step: tuple[Step, ...] = ()
    steel_values: tuple[Value, ...] = ()
    try:
        capacity = lateral(fasteners, sides, "earthquake", case.service(joint), end_grain=end_grain)
        if fasteners.kind == "framing tie" and fasteners.allowable is None:
            most, most_step, steel_values = _steel(fasteners)
    except NotAssessableError as error:
        return [case.outside(id, WHERE, question, R, str(error), everything)]
    found = shared(
        f"joint/{case.name}/{WHERE}/{id}",
        case.subject(WHERE),
        question,
        R,
        capacity,
        UPRIGHT if hangs else 0.0,
        UPRIGHT,
        everything,
        f"{combinations.allowable_down_words(case.vertical)}; what pulls the fasteners out of the wood is not assessed",
        "joist gravity",
        most=most,
        most_step=most_step,
    )
    return [replace(found, values=(*found.values, *steel_values))]


def _steel(fasteners: Fasteners) -> tuple[float, tuple[Step, ...], tuple[Value, ...]]:
    steel, line, values = tie_steel(fasteners)
    total = steel * fasteners.count
    all_ties = step("T_all", "T_steel*count", {"T_steel": (steel, "N"), "count": float(fasteners.count)}, (total, "N"))
    return total, (line, all_ties), values


def _weight(case: RackCase) -> list[Finding]:
    if case.rack.joist.seat == "on beams":
        return []
    joint = case.joints.get(WHERE)
    if joint is None:
        return [case.missing(WHERE, "joists hang between the beams, and by what is not in the file")]
    question = "Do the fasteners carry the joist's end, day and night?"
    fasteners, demand = joint.fasteners, case.gravity.joist_end
    line = step(
        "R",
        "w*s/2",
        {"w": (case.gravity.joist_line_load, "N/m"), "s": (case.rack.joist.spacing, "m")},
        (demand, "N"),
        "plain statics: the heaviest stretch of the deck over one joist spacing, half to each end",
    )
    tie = fasteners.kind == "framing tie"
    sides, end_grain = _sides(case, fasteners)
    most = math.inf
    most_step: tuple[Step, ...] = ()
    steel_values: tuple[Value, ...] = ()
    try:
        capacity = lateral(
            fasteners,
            sides,
            "permanent",
            case.service(joint),
            end_grain=end_grain,
        )
        if tie and fasteners.allowable is None:
            most, most_step, steel_values = _steel(fasteners)
    except NotAssessableError as error:
        return [case.outside("gravity", WHERE, question, demand, str(error), (line,))]
    found = shared(
        f"joint/{case.name}/{WHERE}/gravity",
        case.subject(WHERE),
        question,
        demand,
        capacity,
        UPRIGHT,
        UPRIGHT,
        (line,),
        "D",
        "joist gravity",
        most=most,
        most_step=most_step,
    )
    return [replace(found, values=(*found.values, *steel_values))]
