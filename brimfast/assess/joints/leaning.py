"""Is there anything that stops the rack from leaning, sliding away under itself or folding up?"""

from __future__ import annotations

from brimfast.assess import combinations
from brimfast.assess.frame import lines as frame_lines
from brimfast.assess.joints.case import TOPIC, RackCase
from brimfast.assess.wall_support import counted_tie
from brimfast.shared.findings import Finding, finding

ENDS = {"along": "the front and the back are not both braced", "across": "the two short ends are not both braced"}


def leaning(case: RackCase) -> list[Finding]:
    """A direction in which nothing balances the push: by the frame, else by what the file has of braces and joints."""
    found = []
    for direction in ENDS:
        why, basis = (_by_frame if case.frame is not None else _by_statics)(case, direction)
        if not why:
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
                f"{case.force.basis}; {basis}",
                reason=why,
                advice_key=f"leaning {direction}",
                steps=case.force.steps,
                values=case.force.values,
            )
        )
    return found


def _by_frame(case: RackCase, direction: str) -> tuple[str, str]:
    assert case.frame is not None
    way = case.frame.gives_way(direction)
    return (f"{way}; the prying of fasteners is not relied on" if way else ""), frame_lines.SOURCE


def _by_statics(case: RackCase, direction: str) -> tuple[str, str]:
    tied = direction == "across" and counted_tie(case.rack) is not None
    by_joints = direction == "along" and case.rack.beam_seat == "on the side" and "beam to post" in case.joints
    held = case.rack.braced(direction) or tied or by_joints
    reason = f"{ENDS[direction]}, and the prying of fasteners is not relied on"
    return ("" if held else reason), "plain statics with hinged joints"
