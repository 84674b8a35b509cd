"""Is there anything that stops the rack from leaning?"""

from __future__ import annotations

from brimfast.assess import combinations
from brimfast.assess.joints.case import TOPIC, RackCase
from brimfast.assess.wall_support import counted_tie
from brimfast.shared.findings import Finding, finding

ENDS = {"along": "the front and the back are not both braced", "across": "the two short ends are not both braced"}


def leaning(case: RackCase) -> list[Finding]:
    """A direction with no brace or panel on both faces, no wall tie, and no joint that holds a moment."""
    found = []
    for direction, why in ENDS.items():
        tied = direction == "across" and counted_tie(case.rack) is not None
        by_joints = direction == "along" and case.rack.beam_seat == "on the side" and "beam to post" in case.joints
        if case.rack.braced(direction) or tied or by_joints:
            continue
        found.append(
            finding(
                f"leaning/{case.name}/{direction}",
                TOPIC,
                f"rack {case.name}",
                f"Is there anything that stops it from leaning {direction}?",
                combinations.EARTHQUAKE_SHARE * case.force.horizontal,
                0.0,
                "force",
                f"{case.force.basis}; plain statics with hinged joints",
                reason=f"{why}, and the prying of fasteners is not relied on",
                advice_key=f"leaning {direction}",
                steps=case.force.steps,
                values=case.force.values,
            )
        )
    return found
