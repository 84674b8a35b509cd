"""What does one foot of a rack pull up or hold sideways, by the frame?"""

from __future__ import annotations

from brimfast.assess.frame import lines
from brimfast.assess.frame.actions import RackActions
from brimfast.assess.frame.cases import ANCHORS
from brimfast.shared.findings import Step, step


def foot_by_frame(frame: RackActions, what: str, way: str | None, each: float) -> tuple[float, Step]:
    """The largest uplift (N) or sideways hold (H) of one foot, shared by its anchors."""
    picks = frame.pick(way, ANCHORS)
    sign = -1.0 if what == "N" else 1.0
    largest = lines.worst(sign * frame.feet.total[what][:, picks], picks)
    worst = max(largest.value, 0.0)
    where = lines.said(frame, largest.number, frame.feet.where[largest.place])
    symbol = "T_frame" if what == "N" else "V_frame"
    inputs: dict[str, float | tuple[float, str]] = {f"{what}_foot": (sign * worst if worst else 0.0, "N"), "n_a": each}
    line = step(
        symbol, f"{'-' if what == 'N' else ''}{what}_foot/n_a", inputs, (worst / each, "N"), lines.SOURCE, where
    )
    return worst / each, line
