"""Does the room cope with the worst single mishap, and with the worst that one earthquake can do?"""

from __future__ import annotations

import math
from dataclasses import dataclass

from brimfast.assess.resolve import FloorParts, VesselParts
from brimfast.assess.spill.losses import Event, events
from brimfast.assess.spill.room import Outcome, RoomBasin, basin, outcome
from brimfast.assess.weight import VesselWeight
from brimfast.shared.constants import GRAVITY, WATER_DENSITY
from brimfast.shared.findings import Finding, Step, finding, not_assessed, step
from brimfast.shared.installation.model import Installation

TOPIC = "spill"


@dataclass(frozen=True)
class Spill:
    room: RoomBasin
    outcomes: tuple[Outcome, ...]
    worst: Outcome | None
    earthquake: Outcome | None
    failing: tuple[str, ...]  # vessels that these checks let go in the earthquake
    failing_volume: float
    splashing: tuple[str, ...]  # vessels that stand, and splash
    splash_volume: float

    @property
    def everything(self) -> tuple[Outcome, ...]:
        """Each single mishap, then what one earthquake could do at worst."""
        return (*self.outcomes, *((self.earthquake,) if self.earthquake is not None else ()))


def assess_spill(
    installation: Installation,
    parts: dict[str, VesselParts],
    weights: dict[str, VesselWeight],
    failing: tuple[str, ...],
    splashes: tuple[Event, ...] = (),
) -> Spill:
    """All single events, the worst of them, and the bound for one earthquake: every vessel and every supply.

    splashes: waves over the rim of each vessel, as if it stood.
    """
    room = basin(installation, weights)
    singles = sorted((*events(installation, parts, weights), *splashes), key=lambda event: -event.volume)
    outcomes = tuple(outcome(event, room) for event in singles)
    worst = max(outcomes, key=lambda item: (item.leaves, item.depth), default=None)
    quake = _earthquake(installation, weights)
    failing_volume = math.fsum(weights[name].water_volume for name in failing)
    standing = [event for event in splashes if event.subject not in failing]
    return Spill(
        room,
        outcomes,
        worst,
        outcome(quake, room) if quake.volume > 0 else None,
        failing,
        failing_volume,
        tuple(event.subject for event in standing),
        math.fsum(event.volume for event in standing),
    )


def _earthquake(installation: Installation, weights: dict[str, VesselWeight]) -> Event:
    water = math.fsum(weight.water_volume for weight in weights.values())
    supplied = math.fsum(supply.flow * supply.unattended for supply in installation.supplies)
    line = step(
        "V",
        "V_vessels + V_supplies",
        {"V_vessels": (water, "m³"), "V_supplies": (supplied, "m³")},
        (water + supplied, "m³"),
        "sum of all free water, and of every supply's torn line running for its stated time",
    )
    text = "one earthquake breaks every vessel and every supply line: taken as the most that can come"
    return Event("earthquake", "earthquake", "the whole installation", text, water + supplied, None, (line,))


def spill_findings(spill: Spill, installation: Installation, floor: FloorParts) -> list[Finding]:
    found: list[Finding] = []
    for which, result in (("single", spill.worst), ("earthquake", spill.earthquake)):
        if result is None:
            continue
        found.append(_held(which, result, spill.room))
    if spill.outcomes:
        found.extend(_drained(spill))
    deepest = max((item for item in (spill.worst, spill.earthquake) if item), key=lambda item: item.depth, default=None)
    if deepest is not None and floor.live_load is not None and floor.value is not None and deepest.depth > 0:
        line = step(
            "p",
            "rho_g*d",
            {"rho_g": (WATER_DENSITY * GRAVITY, "N/m³"), "d": (deepest.depth, "m")},
            (deepest.pressure, "N/m²"),
            "hydrostatics",
        )
        found.append(
            finding(
                "spill/weight",
                TOPIC,
                "the floor",
                "Does the floor carry the water that lies on it, by itself?",
                deepest.pressure,
                floor.live_load,
                "pressure",
                f"live load: {floor.value.source}",
                advice_key="floor",
                steps=(line,),
                values=(floor.value,),
            )
        )
    return found


def _held(which: str, result: Outcome, room: RoomBasin) -> Finding:
    """By volume below the sill, or, for a slow event, by the drains' flow: whichever is kinder of two truths."""
    event = result.event
    lines: tuple[Step, ...] = (
        *event.steps,
        step(
            "V_hold",
            "A*h_s",
            {"A": (room.area, "m²"), "h_s": (room.sill, "m")},
            (room.held, "m³"),
            "geometry: free floor times the sill's height",
        ),
    )
    names = {"single": "the worst single mishap", "earthquake": "the worst one earthquake can do"}
    question = "Does the room hold it below the sill?"
    drained = room.at_sill.flow
    basis = "balance of volumes; drains not counted while the room fills"
    details = {"event": event.text}
    reason = "" if room.sill > 0 else "no sill is given: what reaches the floor runs out of the door"
    by_volume = event.volume / room.held if room.held > 0 else math.inf
    by_flow = event.rate / drained if event.rate is not None and drained > 0 else math.inf
    if by_flow < by_volume:
        assert event.rate is not None
        return finding(
            f"spill/{which}",
            TOPIC,
            names[which],
            "Do the drains keep it below the sill?",
            event.rate,
            drained,
            "flow",
            "drain: weir, opening and pipe (HEC-22, Manning)",
            reason=reason,
            advice_key="spill",
            steps=(*lines, *room.at_sill.steps),
            values=room.at_sill.values,
            details=details,
        )
    return finding(
        f"spill/{which}",
        TOPIC,
        names[which],
        question,
        event.volume,
        room.held,
        "volume",
        basis,
        reason=reason,
        advice_key="spill" if which == "single" else "spill earthquake",
        steps=lines,
        details=details,
    )


def _drained(spill: Spill) -> list[Finding]:
    """The fastest steady inflow against the drains, at the sill."""
    slow = [item for item in spill.outcomes if item.event.rate is not None]
    if not slow:
        return []
    fastest = max(slow, key=lambda item: item.event.rate or 0.0)
    assert fastest.event.rate is not None
    capacity = spill.room.at_sill
    question = "Do the drains take the fastest steady inflow?"
    if not spill.room.drains:
        reason = "there is no floor drain: the room alone must hold what comes"
        return [
            not_assessed(
                "spill/drains",
                TOPIC,
                "the floor drains",
                question,
                "flow",
                reason,
                demand=fastest.event.rate,
                details={"event": fastest.event.text},
            )
        ]
    return [
        finding(
            "spill/drains",
            TOPIC,
            "the floor drains",
            question,
            fastest.event.rate,
            capacity.flow,
            "flow",
            "drain: weir, opening and pipe (HEC-22, Manning), with the blocked share",
            advice_key="drain",
            steps=capacity.steps,
            values=capacity.values,
            details={"event": fastest.event.text, "governs": capacity.governs},
        )
    ]
