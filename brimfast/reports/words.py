"""Plain words for one finding: what an owner reads first. All faces take their sentences from here."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from brimfast.assess.beyond.assess import Beyond
from brimfast.shared.findings import Finding
from brimfast.shared.installation.model import Installation
from brimfast.shared.units import System, number_text, show

MARKS = {"holds": "✓", "close": "~", "short": "✗", "not assessed": "–"}

DEFER = (
    "This is advice by calculation, not an approval. A licensed structural engineer and the local building code decide."
)


def ratio_text(finding: Finding) -> str:
    if finding.ratio is None:
        return "no capacity" if finding.verdict == "short" else "–"
    return f"{finding.ratio:.2f}" if finding.ratio < 100 else number_text(finding.ratio, 3)


def verdict_text(finding: Finding) -> str:
    return f"{MARKS[finding.verdict]} {finding.verdict}"


def amount(value: float | None, finding: Finding, system: System) -> str:
    return "–" if value is None else show(value, finding.quantity, system)


def sentence(finding: Finding, system: System) -> str:
    """One finding in one plain sentence."""
    demand, capacity = amount(finding.demand, finding, system), amount(finding.capacity, finding, system)
    if finding.verdict == "not assessed":
        return f"not assessed: {finding.reason}."
    if finding.topic == "exposure":
        over = (
            f": {number_text(finding.ratio, 2)} times that" if finding.ratio is not None and finding.ratio > 1 else ""
        )
        return f"{demand} at most by these figures, where the file gives {capacity}{over}. Ask your insurer whether it pays."
    if finding.topic == "slosh" and finding.quantity == "force":
        lifts = ": it lifts the lid and splashes over" if finding.verdict == "short" else ""
        return f"waves could push up with {demand} on each fastening of its lid; {capacity} can be counted on{lifts}."
    if finding.topic == "slosh":
        over = ": it splashes over" if finding.verdict == "short" else ""
        return f"waves could rise {demand} above the water at rest; {capacity} is free up to the rim{over}."
    if finding.ratio is None:
        if finding.topic == "spill":
            return f"{demand} could come, and nothing holds it: {finding.reason}."
        return f"it would have to resist {demand}, and there is nothing to resist it: {finding.reason}."
    times = number_text(finding.ratio, 2)
    if finding.topic == "spill":
        held = f"{demand} could come; {capacity} is held or drained"
        if finding.ratio <= 1:
            return f"{held}."
        return f"{held}: a little more than that." if finding.ratio < 1.1 else f"{held}: {times} times as much."
    if finding.topic == "floor":
        under = f"{demand} under it, where the floor is planned for {capacity} on average: {times} times that"
        spot = "; one heavy spot can still be all right: what carries the floor there decides"
        return under + (spot if finding.ratio > 1 else "") + "."
    if finding.topic == "hung" and finding.id.endswith("/swing"):
        return f"it can swing {demand} to each side; {capacity} is free."
    if finding.id.endswith("/distances"):
        return f"{demand} is the least, {capacity} is there."
    if finding.verdict == "short" and finding.ratio < 1.1:
        return f"{demand} acts, {capacity} can be counted on: a little more than it may carry."
    if finding.verdict == "short":
        return f"{demand} acts, {capacity} can be counted on: {times} times what it may carry."
    if finding.verdict == "close":
        return f"{demand} acts, {capacity} can be counted on: {round(finding.ratio * 100)} % used, little to spare."
    return f"{demand} acts, {capacity} can be counted on: {round(finding.ratio * 100)} % used."


def how_much(finding: Finding) -> str:
    """How far over, or how near, in a word or two."""
    if finding.ratio is None:
        return "nothing resists it" if finding.topic not in ("spill", "slosh") else "nothing holds it"
    if finding.verdict == "short":
        return "a little over" if finding.ratio < 1.1 else f"{number_text(finding.ratio, 2)} times the limit"
    return f"{round(finding.ratio * 100)} % used"


def both(value: float, kind: str, system: System, figures: int = 3) -> str:
    """In the reader's units, and behind them in the other system's: 417 lb (1.86 kN)."""
    other: System = "si" if system == "us" else "us"
    shown, also = show(value, kind, system, figures), show(value, kind, other, figures)
    return shown if shown == also else f"{shown} ({also})"


PRACTICE = (
    "Rules of practice beside the equations of pipe flow: short here means unusual or too little flow, not danger, and counts "
    "neither in the summary nor in the exit code. What an overflow or a siphon spills stands above."
)


def capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def begun(text: str, installation: Installation) -> str:
    """A sentence of ours begins with a capital; one that begins with a name of the file keeps the owner's spelling."""
    it, room = installation, installation.room
    groups: tuple[list[Any], ...] = (it.vessels, it.pumps, it.pipes, it.supplies, it.hung, room.next, room.sockets)
    names = (*it.racks, *(one.name for group in groups for one in group))
    return text if text.startswith(names) else capital(text)


def plain_name(subject: str) -> str:
    """'rack north', but not 'rack the long rack'."""
    rest = subject.removeprefix("rack ")
    return rest if "rack" in rest.casefold().split() else subject


def listed(names: Iterable[str], most: int = 8) -> str:
    """Names parted by commas (by semicolons where a name has a comma), the rest counted."""
    shown = list(names)
    rest = len(shown) - most
    return ("; " if any(", " in name for name in shown) else ", ").join(shown[:most]) + (
        f" and {rest} more" if rest > 0 else ""
    )


HOW_FAR = (
    "May slide: in the design earthquake, from the high friction to the low one with the scatter of records (Newmark 1965, "
    "Jibson 2007); for slopes, so on level ground likely less. What stands against it, and pipes, must take that way."
)

LEAST_SLIDE = 0.005  # m: less is as good as nothing


def may_slide(moving: Beyond | None, system: System) -> str:
    """From least to most, in the units shown."""
    if moving is None:
        return "held"
    if moving.most < LEAST_SLIDE:
        return "hardly"
    most = show(moving.most, "length", system, 2)
    return f"up to {most}" if moving.least < LEAST_SLIDE else f"{show(moving.least, 'length', system, 2)} to {most}"
