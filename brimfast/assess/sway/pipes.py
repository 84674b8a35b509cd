"""Can the pipes follow between a rack that sways and what does not sway with it?"""

from __future__ import annotations

from brimfast.assess.frame import lines as frame_lines
from brimfast.assess.joints.case import RackCase
from brimfast.assess.sway.amount import TOPIC, farthest
from brimfast.shared.findings import Finding, Step, finding, not_assessed, step
from brimfast.shared.installation.model import Installation


def pipes(cases: list[RackCase], installation: Installation) -> list[Finding]:
    """Pipes between a rack that sways and what does not sway with it: both movements added, the safe side."""
    by_name = {case.name: case for case in cases}
    found = []
    for pump in installation.pumps:
        ends = [installation.vessel(pump.source), installation.vessel(pump.receiver)]
        racks = [by_name.get(vessel.on) for vessel in ends]
        same = racks[0] is racks[1] and ends[0].tier == ends[1].tier
        if same or racks == [None, None]:
            continue
        id, subject = f"sway/pipe/{pump.name}", f"pipe of {pump.name}"
        question = f"Can its pipe follow from {pump.source} to {pump.receiver}?"
        total, why = 0.0, ""
        lines: list[Step] = []
        for letter, case, vessel in zip(("a", "b"), racks, ends, strict=True):
            if case is None:
                continue
            real, steps, reason = farthest(case, vessel.tier)
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
        if pump.slack is None:
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
                id, TOPIC, subject, question, total, pump.slack, "length", basis, advice_key="pipes", steps=tuple(lines)
            )
        )
    return found
