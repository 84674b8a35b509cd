"""Does a pan hold what runs into it in any single mishap?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from brimfast.assess.network.model import Network, over_rim
from brimfast.assess.network.pans import pan_volume, throw_step
from brimfast.assess.network.runs import NOTHING, Run
from brimfast.data_tables.loader import factor_used
from brimfast.shared.findings import Finding, finding, not_assessed

TOPIC = "spill"
BASIS = "water network in time, balance of volumes; free fall of what runs over a rim"
QUESTION = "Does it hold what runs into it in any single mishap?"


@dataclass(frozen=True)
class Caught:
    """Of one pan: the most that runs into it in a single mishap (m³), and in which; empty where nothing does."""

    pan: str
    volume: float
    event: str


def caught(network: Network, singles: Sequence[Run]) -> tuple[Caught, ...]:
    found = []
    for pan in dict.fromkeys(one.pan for one in network.catches.values()):
        most, event = 0.0, ""
        for run in singles:
            rests = next(after for name, _, after in run.held if name == pan)
            over = sum(volume for name, volume in run.paths if name == over_rim(pan))
            if rests + over > max(most, NOTHING):
                most, event = rests + over, run.event.text
        found.append(Caught(pan, most, event))
    return tuple(found)


def pan_findings(network: Network, each: Sequence[Caught]) -> list[Finding]:
    found = []
    for one in each:
        pan = network.node(one.pan)
        over = {name: catch for name, catch in network.catches.items() if catch.pan == one.pan}
        lines = tuple(throw_step(network.node(name), catch) for name, catch in over.items())
        values = (factor_used("overflow_stretch"),)
        past = [name for name, catch in over.items() if not catch.overflow]
        seams = [name for name, catch in over.items() if not catch.torn_seam]
        details = {"event": one.event} if one.event else {}
        if seams:
            details["not counted as caught"] = f"a torn seam of {', '.join(seams)}: its jet can fly past the pan"
        if past and len(past) == len(over):
            reason = f"it does not reach as far as what runs over {', '.join(past)} flies: make it larger"
            found.append(
                not_assessed(
                    f"spill/{one.pan}", TOPIC, one.pan, QUESTION, "volume", reason, BASIS, steps=lines, values=values
                )
            )
            continue
        volume = pan_volume(pan)
        found.append(
            finding(
                f"spill/{one.pan}",
                TOPIC,
                one.pan,
                QUESTION,
                one.volume,
                volume[0],
                "volume",
                BASIS,
                reason="what it does not hold runs on over the floor" if one.volume > volume[0] else "",
                advice_key="pan",
                steps=(*lines, volume[1]),
                values=values,
                details=details,
            )
        )
    return found
