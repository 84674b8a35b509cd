"""Does the deck keep square enough for liner and fittings?"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from brimfast.assess.frame import lines as frame_lines
from brimfast.assess.frame.actions import RackActions
from brimfast.assess.frame.cases import IN_PLACE, STRENGTH
from brimfast.assess.joints.case import RackCase
from brimfast.assess.sway.amount import TOPIC
from brimfast.data_tables.loader import factor_si, factor_used
from brimfast.shared.findings import Finding, finding, not_assessed, step
from brimfast.shared.installation.model import Installation


def liner(case: RackCase, installation: Installation) -> list[Finding]:
    """A bed on a deck that loses its right angles in plan: how skew, against what a liner and its fittings follow."""
    beds = [vessel for vessel in installation.on_rack(case.name) if vessel.kind == "bed"]
    if not beds:
        return []
    id, subject = f"sway/{case.name}/liner", f"rack {case.name}"
    question = "Does the deck keep square enough for liner and fittings?"
    found = []
    for direction in ("along", "across"):
        acts = case.acts(direction)
        if acts is None:
            reason = case.without_frame(direction)
            return [not_assessed(id, TOPIC, subject, question, "number", reason)]
        if not acts.stays_upright(direction):
            reason = f"pushed {direction} the loose rack tips as a whole"
            return [not_assessed(id, TOPIC, subject, question, "number", reason)]
        picks = acts.pick(direction, *STRENGTH, feet=IN_PLACE)
        for tier in sorted({bed.tier for bed in beds}):
            found.append(_skew(acts, tier, picks) * case.force.sways)
    skew, limit = max(found), factor_si("liner_skew")
    line = step(
        "gamma",
        "R*gamma_e",
        {"R": case.force.sways, "gamma_e": skew / case.force.sways},
        skew,
        frame_lines.SOURCE,
        "change of the right angle between deck edges over one bay, in m per m",
    )
    return [
        finding(
            id,
            TOPIC,
            subject,
            question,
            skew,
            limit,
            "number",
            f"{frame_lines.SOURCE}; common practice for the limit",
            advice_key="deck square",
            steps=(*case.force.steps, line),
            values=(factor_used("liner_skew"),),
        )
    ]


def _skew(acts: RackActions, tier: int, picks: NDArray[np.int64]) -> float:
    """Largest elastic change of angle in plan between neighbouring stations of a deck."""
    pairs = np.array(acts.frame.decks[acts.name, tier])
    moved = acts.moved(tier).reshape(len(pairs), 2, 3, -1)[..., picks]
    points = acts.frame.topology.points[pairs]
    dx = np.linalg.norm(np.diff(points[:, 0], axis=0), axis=1)[:, None]
    dy = float(np.linalg.norm(points[0, 1] - points[0, 0]))
    turn_across = np.diff(moved[:, :, 1].mean(axis=1), axis=0) / dx
    middle = (moved[:-1, :, 0] + moved[1:, :, 0]) / 2
    turn_along = (middle[:, 1] - middle[:, 0]) / dy
    return float(np.abs(turn_across + turn_along).max(initial=0.0))
