"""Can the pipes follow between a rack that sways and what does not sway with it?"""

from __future__ import annotations

from functools import cache

from brimfast.assess.frame import lines as frame_lines
from brimfast.assess.joints.case import RackCase
from brimfast.assess.sway.amount import TOPIC, Sway, farthest
from brimfast.shared.findings import Finding, Step, Value, finding, not_assessed, step
from brimfast.shared.installation.flow import Pipe, Pump
from brimfast.shared.installation.model import Installation


def pipes(cases: list[RackCase], installation: Installation) -> list[Finding]:
    """Pipes between a rack that sways and what does not sway with it: both movements added, the safe side."""
    tiers = {(case.name, tier + 1): case for case in cases for tier in range(len(case.rack.decks))}
    vessels = {vessel.name: vessel for vessel in installation.vessels}
    links: tuple[Pump | Pipe, ...] = (*installation.pumps, *installation.pipes)
    sways = cache(lambda place: farthest(tiers[place], place[1]))  # several pipes leave one deck
    found = []
    for link in links:
        ends = [vessels.get(name) for name in (link.source, link.receiver)]  # None: the house's drain
        places = [(vessel.on, vessel.tier) if vessel is not None else ("floor", 1) for vessel in ends]
        moving = {letter: place for letter, place in zip("ab", places, strict=True) if place in tiers}
        if moving and places[0] != places[1]:
            found.append(_pipe(link, {letter: (place[0], *sways(place)) for letter, place in moving.items()}))
    return found


def _pipe(link: Pump | Pipe, moving: dict[str, tuple[str, Sway | None, str]]) -> Finding:
    """moving: of the ends that do the rack, its sway, and why that is not known."""
    id = f"sway/pipe/{link.name}"
    subject = f"pipe of {link.name}" if isinstance(link, Pump) else link.name
    question = f"Can its pipe follow from {link.source} to {link.receiver}?"
    total, lines, values = 0.0, list[Step](), list[Value]()
    for letter, (rack, sway, why) in moving.items():
        if sway is None:
            return not_assessed(id, TOPIC, subject, question, "length", why, advice_key="pipes")
        total += sway.real
        delta = (sway.real, "m")
        lines += [*sway.lines, step(f"Delta_{letter}", "Delta", {"Delta": delta}, delta, "", f"rack {rack}")]
        values += [one for one in sway.values if one not in values]
    basis = f"{frame_lines.SOURCE}; a body on the floor is taken not to slide"
    if link.slack is None:
        reason = "how far the pipe gives sideways is not in the file: give slack, the way its flexible part allows"
        return not_assessed(
            id,
            TOPIC,
            subject,
            question,
            "length",
            reason,
            basis,
            demand=total,
            advice_key="pipes",
            steps=tuple(lines),
            values=tuple(values),
        )
    return finding(
        id,
        TOPIC,
        subject,
        question,
        total,
        link.slack,
        "length",
        basis,
        advice_key="pipes",
        steps=tuple(lines),
        values=tuple(values),
    )
