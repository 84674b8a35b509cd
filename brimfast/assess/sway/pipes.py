"""Can the pipes follow between a rack that sways and what does not sway with it?"""

from __future__ import annotations

from brimfast.assess.frame import lines as frame_lines
from brimfast.assess.joints.case import RackCase
from brimfast.assess.sway.amount import TOPIC, farthest
from brimfast.shared.findings import Finding, Step, finding, not_assessed, step
from brimfast.shared.installation.flow import Pipe, Pump
from brimfast.shared.installation.model import Installation


def pipes(cases: list[RackCase], installation: Installation) -> list[Finding]:
    """Pipes between a rack that sways and what does not sway with it: both movements added, the safe side."""
    by_name = {case.name: case for case in cases}
    found = []
    vessels = {vessel.name: vessel for vessel in installation.vessels}
    links: tuple[Pump | Pipe, ...] = (*installation.pumps, *installation.pipes)
    for link in links:
        ends = [vessels.get(name) for name in (link.source, link.receiver)]  # None: the house's drain
        places = [(vessel.on, vessel.tier) if vessel is not None else ("floor", 1) for vessel in ends]
        racks = [by_name.get(on) for on, _ in places]
        if places[0] == places[1] or racks == [None, None]:
            continue
        id = f"sway/pipe/{link.name}"
        subject = f"pipe of {link.name}" if isinstance(link, Pump) else link.name
        question = f"Can its pipe follow from {link.source} to {link.receiver}?"
        total, why = 0.0, ""
        lines: list[Step] = []
        for letter, case, (_, tier) in zip(("a", "b"), racks, places, strict=True):
            if case is None:
                continue
            real, steps, reason = farthest(case, tier)
            why = why or reason
            total += real
            lines += [
                *steps,
                step(f"Delta_{letter}", "Delta", {"Delta": (real, "m")}, (real, "m"), "", f"rack {case.name}"),
            ]
        if why:
            found.append(not_assessed(id, TOPIC, subject, question, "length", why, advice_key="pipes"))
            continue
        basis = f"{frame_lines.SOURCE}; a body on the floor is taken not to slide"
        if link.slack is None:
            reason = "how far the pipe gives sideways is not in the file: give slack, the way its flexible part allows"
            found.append(
                not_assessed(
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
                )
            )
            continue
        found.append(
            finding(
                id, TOPIC, subject, question, total, link.slack, "length", basis, advice_key="pipes", steps=tuple(lines)
            )
        )
    return found
