"""Does the room cope with the worst single mishap, and with the worst that one earthquake can do?"""

from __future__ import annotations

import math
from dataclasses import dataclass

from brimfast.assess.network.build import network
from brimfast.assess.network.faults import faults, with_drains_clogged
from brimfast.assess.network.model import Event, Network
from brimfast.assess.network.runs import NOTHING, Run, run
from brimfast.assess.resolve import FloorParts, VesselParts
from brimfast.assess.spill.contain import Contained, contained
from brimfast.assess.spill.flood import Flood, Wet
from brimfast.assess.spill.lines import run_lines
from brimfast.assess.spill.room import RoomBasin, basin, pond_pressure
from brimfast.assess.weight import VesselWeight
from brimfast.data_tables.loader import factor_used
from brimfast.shared.constants import GRAVITY, WATER_DENSITY
from brimfast.shared.findings import Finding, Value, finding, not_assessed, step
from brimfast.shared.installation.model import Installation

TOPIC = "spill"
DRAINS = "drain: weir, opening and pipe (HEC-22, Manning), with the blocked share"
BASIS = "water network in time, balance of volumes; HEC-22, Darcy-Weisbach, Torricelli, Manning"
QUAKE, AS_DESCRIBED = "earthquake", "as described"
REPEATED = 3  # of the worst single mishaps are run again with the floor drains clogged
FILM = 1e-4  # m: a floor with less on it counts as dry


@dataclass(frozen=True)
class Spill:
    """Runs that put water on the floor, most first; how many were tried; what would keep the worst of them in."""

    network: Network
    room: RoomBasin
    runs: tuple[Run, ...]
    tried: int
    worst: Run | None
    earthquake: Run | None
    contained: dict[str, Contained]
    failing: tuple[str, ...]  # vessels that these checks let go in the earthquake
    failing_volume: float
    splashing: tuple[str, ...]  # vessels that stand, and splash
    splash_volume: float

    @property
    def singles(self) -> tuple[Run, ...]:
        return tuple(one for one in self.runs if not one.event.pair and one.event.id != QUAKE)

    @property
    def floods(self) -> dict[str, Run]:
        """The two events that are carried on: the worst single mishap, and the earthquake."""
        pairs = (("single", self.worst), (QUAKE, self.earthquake))
        return {name: one for name, one in pairs if one is not None}


def assess_spill(
    installation: Installation,
    parts: dict[str, VesselParts],
    weights: dict[str, VesselWeight],
    failing: tuple[str, ...],
    splashes: tuple[Event, ...] = (),
) -> Spill:
    """Every fault of the network, and the bound for one earthquake: every vessel and every supply.

    splashes: waves over the rim of each vessel, as if it stood.
    """
    ways = network(installation, parts, weights)
    room = basin(installation, ways)
    heights = tuple((_socket(index), one.height) for index, one in enumerate(installation.room.sockets))
    events = (*faults(installation, ways), *splashes)
    runs = [one for one in run(ways, events, heights) if one.reached > NOTHING]
    by_danger = sorted((one for one in runs if not one.event.pair and one.event.id != QUAKE), key=_danger, reverse=True)
    again = run(ways, with_drains_clogged(ways, [one.event for one in by_danger[:REPEATED]]), heights)
    earthquake = next((one for one in runs if one.event.id == QUAKE), None)
    worst = by_danger[0] if by_danger else None
    ordered = sorted((*runs, *again), key=lambda one: -one.reached)
    standing = [event for event in splashes if event.subject not in failing]
    return Spill(
        ways,
        room,
        tuple(ordered),
        len(events) + len(again),
        worst,
        earthquake,
        contained(ways, [one for one in (worst, earthquake) if one is not None]),
        failing,
        math.fsum(weights[name].water_volume for name in failing),
        tuple(event.subject for event in standing),
        math.fsum(event.volume for event in standing),
    )


def _danger(one: Run) -> tuple[float, float, float]:
    return one.leaves, one.need, one.depth


def _socket(index: int) -> str:
    return f"socket {index + 1}"


def floods(spill: Spill, installation: Installation) -> dict[str, Flood]:
    """Which floors get wet in the two events that are carried on."""
    room = installation.room
    found = {}
    for name, one in spill.floods.items():
        wet = [Wet("the room", spill.room.area, one.depth, installation.exposure.flooring, True)]
        for neighbour, (_, depth) in zip(room.next, one.next_rooms, strict=True):
            if depth > FILM:
                flooring = neighbour.flooring or installation.exposure.flooring
                wet.append(Wet(neighbour.name, neighbour.length * neighbour.width, depth, flooring, False))
        found[name] = Flood(one.event.id, one.event.text, one.reached, one.outside, tuple(wet))
    return found


def spill_findings(spill: Spill, installation: Installation, floor: FloorParts) -> list[Finding]:
    found = [_held(which, one, spill) for which, one in spill.floods.items()]
    found += _as_described(spill)
    if spill.singles:
        found += _drained(spill, installation)
    found += _sockets(spill, installation)
    deepest = max(spill.floods.values(), key=lambda one: one.depth, default=None)
    if deepest is not None and floor.live_load is not None and floor.value is not None and deepest.depth > 0:
        pressure = float(pond_pressure(deepest.depth))
        line = step(
            "p",
            "rho_g*d",
            {"rho_g": (WATER_DENSITY * GRAVITY, "N/m³"), "d": (deepest.depth, "m")},
            (pressure, "N/m²"),
            "hydrostatics",
        )
        found.append(
            finding(
                "spill/weight",
                TOPIC,
                "the floor",
                "Does the floor carry the water that lies on it, by itself?",
                pressure,
                floor.live_load,
                "pressure",
                f"live load: {floor.value.source}",
                advice_key="floor",
                steps=(line,),
                values=(floor.value,),
            )
        )
    return found


def _held(which: str, one: Run, spill: Spill) -> Finding:
    """What the room would have to hold at the worst moment, the drains running, against what lies below its sill."""
    names = {"single": "the worst single mishap", QUAKE: "the worst one earthquake can do"}
    room = spill.room
    return finding(
        f"spill/{which}",
        TOPIC,
        names[which],
        "Does the room hold it below the sill?",
        one.need,
        room.held,
        "volume",
        BASIS,
        reason="" if room.sill > 0 else "no sill is given: what reaches the floor runs out of the door",
        advice_key="spill" if which == "single" else "spill earthquake",
        steps=run_lines(one, spill.network, room),
        values=(*room.at_sill.values, *_used(spill.network)),
        details={"event": one.event.text},
    )


def _used(ways: Network) -> tuple[Value, ...]:
    keys = ["sill_coefficient", "tear_opening", "tear_discharge"]
    if any(link.name.endswith(", back") for link in ways.links):
        keys += ["K_entrance", "K_exit", "K_bend", "water_viscosity"]
    if ways.notes:
        keys += ["pump_pipe_assumed", "pump_pipe_length_assumed"]
    if any(link.float_valve for link in ways.links):
        keys.append("float_valve_travel")
    return tuple(factor_used(key) for key in (*keys, "intake_fades"))


def _as_described(spill: Spill) -> list[Finding]:
    """A network that spills though nothing is broken."""
    one = next((one for one in spill.runs if one.event.id == AS_DESCRIBED), None)
    if one is None:
        return []
    over = [name for name, _ in one.paths]
    reason = (
        f"with nothing broken water reaches the floor ({', '.join(over[:3])}): returns and pumps do not fit together"
    )
    return [
        finding(
            "spill/as described",
            TOPIC,
            "the water network",
            "Does it keep its water while all runs as described?",
            one.reached,
            0.0,
            "volume",
            BASIS,
            reason=reason,
            advice_key="returns",
            steps=run_lines(one, spill.network, spill.room),
            details={"event": one.event.text},
        )
    ]


def _drained(spill: Spill, installation: Installation) -> list[Finding]:
    """The fastest inflow that lasts, against the drains at the sill."""
    fastest = max(spill.singles, key=lambda one: one.rate)
    if fastest.rate <= 0:
        return []
    capacity = spill.room.at_sill
    question = "Do the drains take the fastest inflow?"
    details = {"event": fastest.event.text}
    if not installation.room.drains:
        reason = "there is no floor drain: the room alone must hold what comes, and it never drains by itself"
        return [
            not_assessed(
                "spill/drains",
                TOPIC,
                "the floor drains",
                question,
                "flow",
                reason,
                demand=fastest.rate,
                details=details,
            )
        ]
    return [
        finding(
            "spill/drains",
            TOPIC,
            "the floor drains",
            question,
            fastest.rate,
            capacity.flow,
            "flow",
            DRAINS,
            advice_key="drain",
            steps=capacity.steps,
            values=capacity.values,
            details={**details, "governs": capacity.governs},
        )
    ]


def _sockets(spill: Spill, installation: Installation) -> list[Finding]:
    """Each socket against the deepest water of any single mishap."""
    found = []
    deepest = max(spill.singles, key=lambda one: one.depth, default=None)
    for index, socket in enumerate(installation.room.sockets):
        if deepest is None:
            break
        line = step("d", "d", {"d": (deepest.depth, "m")}, (deepest.depth, "m"), "water network in time")
        details = {"event": deepest.event.text}
        wets = dict(deepest.wets).get(_socket(index))
        if wets is not None:
            details["wet after"] = f"{wets / 60:.0f} min" if wets >= 60 else f"{wets:.0f} s"
        found.append(
            finding(
                f"spill/socket/{socket.name}",
                TOPIC,
                socket.name,
                "Does it stay above the water?",
                deepest.depth,
                socket.height,
                "length",
                "water network in time; a level floor",
                reason="" if socket.height > 0 else "it lies on the floor",
                advice_key="socket",
                steps=(line,),
                details=details,
            )
        )
    return found
