"""Do the fasteners that hold the joists between the beams carry their ends?"""

from __future__ import annotations

import math
from dataclasses import replace

from brimfast.assess.joints.capacity import Sides, lateral
from brimfast.assess.joints.case import UPRIGHT, RackCase
from brimfast.assess.joints.sheet_steel import tie_steel
from brimfast.assess.joints.statics import shared
from brimfast.assess.timber.fastener import NotAssessableError
from brimfast.shared.findings import Finding, Step, Value, step

WHERE = "joist to beam"


def joist_to_beam(case: RackCase) -> list[Finding]:
    """Joists on the beams bear on them; joists between them hang on ties, nails or screws."""
    if case.rack.joist.seat == "on beams":
        return []
    joint = case.joints.get(WHERE)
    if joint is None:
        return [case.missing(WHERE, "joists hang between the beams, and by what is not in the file")]
    question = "Do the fasteners carry the joist's end, day and night?"
    fasteners, parts, demand = joint.fasteners, case.parts, case.gravity.joist_end
    line = step(
        "R",
        "w*s/2",
        {"w": (case.gravity.joist_line_load, "N/m"), "s": (case.rack.joist.spacing, "m")},
        (demand, "N"),
        "plain statics: the heaviest stretch of the deck over one joist spacing, half to each end",
    )
    tie = fasteners.kind == "framing tie"
    toe = fasteners.toe_nailed
    # A tie nails into joist and beam; toe-nails go through the joist into the beam; others through the beam
    # into the joist's end grain.
    if tie or toe:
        sides = Sides(parts.joist.thickness, parts.joist.G, parts.beam.thickness, parts.beam.G)
    else:
        sides = Sides(parts.beam.thickness, parts.beam.G, case.rack.width, parts.joist.G)
    most = math.inf
    most_step: tuple[Step, ...] = ()
    steel_values: tuple[Value, ...] = ()
    try:
        capacity = lateral(
            fasteners,
            sides,
            "permanent",
            case.service(joint),
            end_grain=not (tie or toe or fasteners.allowable is not None),
        )
        if tie and fasteners.allowable is None:
            steel, steel_line, steel_values = tie_steel(fasteners)
            total = steel * fasteners.count
            all_ties = step(
                "T_all", "T_steel*count", {"T_steel": (steel, "N"), "count": float(fasteners.count)}, (total, "N")
            )
            most, most_step = total, (steel_line, all_ties)
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
