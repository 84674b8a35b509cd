"""Does the rack keep clear of the wall beside it?"""

from __future__ import annotations

from brimfast.assess.frame import lines as frame_lines
from brimfast.assess.joints.case import RackCase
from brimfast.assess.sway.amount import TOPIC, farthest
from brimfast.shared.findings import Finding, finding, not_assessed


def wall(case: RackCase) -> list[Finding]:
    """Against the wall beside it, where the file says how far off that is. A rack tied to its wall moves with it."""
    gap = case.rack.wall_gap
    if gap is None:
        return []
    id, subject = f"sway/{case.name}/wall", f"rack {case.name}"
    question = "Does it keep clear of the wall beside it?"
    worst, why = farthest(case, len(case.rack.decks))
    if worst is None:
        return [not_assessed(id, TOPIC, subject, question, "length", why)]
    basis = f"{case.force.basis}; {frame_lines.SOURCE}; the gap in the file"
    steps = (*case.force.steps, *worst.lines)
    return [
        finding(
            id,
            TOPIC,
            subject,
            question,
            worst.real,
            gap,
            "length",
            basis,
            advice_key="sway",
            steps=steps,
            values=worst.values,
        )
    ]
