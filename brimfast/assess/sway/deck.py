"""What must the deck and its fastening carry in its own plane, to bring the push to where the rack is stiff?"""

from __future__ import annotations

import numpy as np

from brimfast.assess.frame import lines as frame_lines
from brimfast.assess.frame.cases import ALLOWABLE
from brimfast.assess.frame.states import NONE
from brimfast.assess.joints.case import RackCase
from brimfast.assess.sway.amount import TOPIC
from brimfast.shared.findings import Finding, not_assessed


def deck_shear(case: RackCase) -> list[Finding]:
    """The largest shear across the deck, over its width between the beams; how it is nailed is not in the file."""
    acts = case.frame
    if acts is None:
        return []
    rows = acts.frame.of("deck", rack=case.name)
    picks = acts.pick(None, *ALLOWABLE)
    if not len(rows) or not len(picks):
        return []
    forces = acts.result.forces[rows, 0][:, picks].reshape(-1, 2, len(picks))  # two diagonals a field
    fields = acts.frame.lengths[rows].reshape(-1, 2)[:, :1]
    uneven = np.abs(forces[:, 0] - forces[:, 1])
    uneven[uneven <= NONE * np.abs(forces).max()] = 0.0
    shear = uneven * case.across / fields
    largest = frame_lines.worst(shear, picks)
    counts_on = f"the frame counts on a deck of {case.parts.deck_material} fastened all round"
    if largest.value:
        reason = f"{counts_on} ({acts.push_words(largest.number)}), and how it is nailed is not in the file"
    else:
        reason = f"{counts_on}; both sides give alike, so nothing has to cross it; how it is nailed is not in the file"
    return [
        not_assessed(
            f"sway/{case.name}/deck",
            TOPIC,
            f"rack {case.name}, deck",
            "Does the deck's fastening carry the push in its own plane? (over its whole width)",
            "force",
            reason,
            f"{frame_lines.SOURCE}; {acts.cases[largest.number].words}",
            demand=largest.value,
            advice_key="deck square",
        )
    ]
