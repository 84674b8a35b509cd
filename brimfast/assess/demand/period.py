"""Does a rack count as rigid or as flexible? Its natural period decides."""

from __future__ import annotations

import math
from dataclasses import dataclass

RIGID_PERIOD = 0.06  # s, ASCE 7-16 section 11.2 (component, rigid) and section 15.4.2


@dataclass(frozen=True)
class Swing:
    """The period that decides (s), and where it comes from."""

    period: float
    said: str
    shortest: float | None = None  # of the frame's two, where they are not the file's one

    @property
    def between(self) -> tuple[float, float]:
        """The shortest and the longest that it may be (s): a standard whose force is not largest at the longest needs both."""
        return (self.period if self.shortest is None else self.shortest), self.period

    @property
    def rigid(self) -> bool:
        return self.period <= RIGID_PERIOD


def period_text(period: float) -> str:
    return f"{period:.2g} s" if math.isfinite(period) else "endless"


def swing(given: float | None, frame: tuple[float, float] | None) -> Swing | None:
    """A period that the file gives, else the longer one of the frame; None where neither is known."""
    by_frame = None
    if frame is not None:
        said = f"by the frame {period_text(frame[0])} along, {period_text(frame[1])} across"
        by_frame = Swing(max(frame), said, min(frame))
    if given is None:
        return by_frame
    said = f"{given:g} s given in the file"
    if by_frame is not None:
        differ = "which is on the other side of 0.06 s" if by_frame.rigid != (given <= RIGID_PERIOD) else "to compare"
        said += f"; {by_frame.said}, {differ}"
    return Swing(given, said)


def counts_as(kind: str, swing: Swing | None) -> str:
    """The table row's key: a rack whose period is 0.06 s or less is a rigid component; unknown is flexible."""
    return f"rigid {kind}" if swing is not None and swing.rigid and kind.endswith("rack") else kind


def period_note(swing: Swing | None, other: float, force: float) -> str:
    """What is said of the period beside the force, with the force (N) as the other kind where that differs."""
    if swing is None:
        return ""
    mine, theirs = ("rigid", "flexible") if swing.rigid else ("flexible", "rigid")
    differs = f"; as a {theirs} component its force would be {other / force:.2f} times this" if other != force else ""
    return f"; {mine}: period {swing.said}{differs}"
