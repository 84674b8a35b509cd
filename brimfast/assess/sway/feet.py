"""Does each loose foot stay where it stands?"""

from __future__ import annotations

import numpy as np

from brimfast.assess.frame import lines as frame_lines
from brimfast.assess.frame.states import NONE
from brimfast.assess.joints.case import RackCase
from brimfast.assess.members.swayed import balanced
from brimfast.assess.sway.amount import TOPIC
from brimfast.shared.findings import Finding, finding, step


def loose_feet(case: RackCase) -> list[Finding]:
    """A foot that stands loose: its sideways hold against friction under its own load, and whether it lifts."""
    acts, picks = case.frame, balanced(case)
    if acts is None or not len(picks) or case.rack.feet.anchored:
        return []
    id, subject = f"sway/{case.name}/feet", f"rack {case.name}, feet"
    question = "Does each loose foot stay where it stands?"
    nothing = np.full(1, NONE * case.body.weight)
    mu = case.parts.friction.low
    N, H = (acts.feet.total[name][:, picks] for name in ("N", "H"))
    held = mu * np.maximum(N, 0.0)
    over = np.where(held > 0, H / np.maximum(held, 1e-9), np.where(nothing < H, np.inf, 0.0))
    unheld = np.isinf(over)  # of those that nothing holds the one pushed most
    largest = frame_lines.worst(np.where(unheld, H, 0.0) if unheld.any() else over, picks)
    place, column = largest.place, largest.column
    note = frame_lines.said(acts, largest.number, acts.feet.where[place])
    inputs: dict[str, float | tuple[float, str]] = {"mu": mu, "N_foot": (float(N[place, column]), "N")}
    line = step("R_foot", "mu*max(N_foot, 0)", inputs, (float(held[place, column]), "N"), frame_lines.SOURCE, note)
    lifts = int((nothing >= N).any(axis=1).sum())
    reason = f"{lifts} of {len(N)} feet lift off or would have to pull" if lifts else ""
    return [
        finding(
            id,
            TOPIC,
            subject,
            question,
            float(H[place, column]),
            float(held[place, column]),
            "force",
            f"{case.force.basis}; {frame_lines.SOURCE}; low friction of {case.parts.friction.foot} on {case.parts.friction.on}",
            reason=reason,
            advice_key="feet",
            steps=(*case.force.steps, line),
            values=(*case.force.values, case.parts.friction.value),
        )
    ]
