"""What must hold a run that turns a corner to the rack from which it turns?"""

from __future__ import annotations

from brimfast.assess.frame import lines as frame_lines
from brimfast.assess.frame.cases import ALLOWABLE
from brimfast.assess.joints.case import RackCase
from brimfast.assess.sway.amount import TOPIC
from brimfast.shared.findings import Finding, not_assessed


def corner(case: RackCase) -> list[Finding]:
    """What holds a run that turns to the rack it turns from."""
    turn = case.rack.turns_from
    if turn is None:
        return []
    id, subject = f"sway/{case.name}/corner", f"rack {case.name}"
    question = f"Do the bolts at the corner hold it to rack {turn.rack}? (each post)"
    if case.frame is None:
        return [not_assessed(id, TOPIC, subject, question, "force", case.why_no_frame)]
    picks = case.frame.pick(None, *ALLOWABLE)
    if not len(picks):
        reason = case.without_frame("along")
        return [not_assessed(id, TOPIC, subject, question, "force", reason)]
    R = case.frame.corner.total["R"][:, picks]
    reason = (
        "the bolts at the corner are not in the file; runs of different stiffness pull there: let an engineer size them"
    )
    return [not_assessed(id, TOPIC, subject, question, "force", reason, frame_lines.SOURCE, demand=float(R.max()))]
