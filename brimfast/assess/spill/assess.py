"""Does the room cope with the worst single mishap, and with the worst that one earthquake can do?"""

from __future__ import annotations

import math
from dataclasses import dataclass

from brimfast.assess.network.build import network
from brimfast.assess.network.faults import clogged_id, faults, with_drains_clogged
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
from brimfast.shared.units import duration

TOPIC = "spill"
DRAINS = "drain: weir, opening and pipe (HEC-22, Manning), with the blocked share"
BASIS = "water network in time, balance of volumes; HEC-22, Darcy-Weisbach, Torricelli, Manning"
QUAKE, AS_DESCRIBED = "earthquake", "as described"
IN_EARTHQUAKES = (QUAKE, "slosh")
FILM = 1e-4  # m: a floor with less on it counts as dry


@dataclass(frozen=True)
class Spill:
    """Runs that put water on the floor, most first; how many were tried; what would keep the worst of them in."""

    network: Network
    room: RoomBasin
    runs: tuple[Run, ...]
    tried: int
    worst: Run | None  # of the single mishaps
    pair: Run | None  # the worst of two that meet, a clogged floor drain among them, where it is worse than that
    earthquake: Run | None
    contained: dict[str, Contained]  # single: all single mishaps; earthquake
    failing: tuple[str, ...]  # vessels that these checks let go in the earthquake
    failing_volume: float
    splashing: tuple[str, ...]  # vessels that stand, and splash
    splash_volume: float

    @property
    def singles(self) -> tuple[Run, ...]:
        return tuple(one for one in self.runs if _single(one.event))

    @property
    def with_open_drains(self) -> tuple[Run, ...]:
        """Without those that are the same but for clogged floor drains; most water first."""
        ids = {clogged_id(one.event.id) for one in self.runs}
        return tuple(one for one in self.runs if one.event.id not in ids)

    def clogged(self, one: Run) -> Run | None:
        """The same event with the floor drains clogged."""
        return next((other for other in self.runs if other.event.id == clogged_id(one.event.id)), None)

    @property
    def floods(self) -> dict[str, Run]:
        """The two events that are carried on: the worst single mishap, and the earthquake."""
        pairs = (("single", self.worst), (QUAKE, self.earthquake))
        return {name: one for name, one in pairs if one is not None}

    @property
    def most(self) -> Run | None:
        """The run, of all, of which most leaves the room."""
        return max(self.runs, key=_danger, default=None)


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
    events += with_drains_clogged(ways, events)
    runs = [one for one in run(ways, events, heights) if one.reached > NOTHING]
    singles = [one for one in runs if _single(one.event)]
    pairs = [one for one in runs if one.event.pair and one.event.kind not in IN_EARTHQUAKES]
    worst, pair = (max(group, key=_danger, default=None) for group in (singles, pairs))
    earthquake = next((one for one in runs if one.event.id == QUAKE), None)
    kept = {"single": contained(ways, singles)}
    if earthquake is not None:
        kept[QUAKE] = contained(ways, [earthquake])
    standing = [event for event in splashes if event.subject not in failing]
    return Spill(
        ways,
        room,
        tuple(sorted(runs, key=lambda one: -one.reached)),
        len(events),
        worst,
        pair if pair is not None and (worst is None or _danger(pair) > _danger(worst)) else None,
        earthquake,
        kept,
        failing,
        math.fsum(weights[name].water_volume for name in failing),
        tuple(event.subject for event in standing),
        math.fsum(event.volume for event in standing),
    )


def _single(event: Event) -> bool:
    """A mishap by itself; what an earthquake does stands apart."""
    return not event.pair and event.kind not in IN_EARTHQUAKES


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
    if spill.pair is not None:
        found.insert(1, _held("pair", spill.pair, spill))
    found += _as_described(spill)
    found += _given_up(spill)
    if spill.singles:
        found += _drained(spill, installation)
    found += _sockets(spill, installation)
    deepest = max(spill.floods.values(), key=lambda one: one.depth, default=None)
    if deepest is not None and deepest.depth > 0:
        pressure = float(pond_pressure(deepest.depth))
        line = step(
            "p",
            "rho_g*d",
            {"rho_g": (WATER_DENSITY * GRAVITY, "N/m³"), "d": (deepest.depth, "m")},
            (pressure, "N/m²"),
            "hydrostatics",
        )
        id, subject = "spill/weight", "the floor"
        question = "Does the floor carry the water that lies on it, by itself?"
        if floor.live_load is None or floor.value is None:
            reason = "what the floor is planned for is not in the file, nor in a table; a slab on the ground carries it"
            return [
                *found,
                not_assessed(id, TOPIC, subject, question, "pressure", reason, demand=pressure, steps=(line,)),
            ]
        found.append(
            finding(
                id,
                TOPIC,
                subject,
                question,
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
    names = {
        "single": "the worst single mishap",
        "pair": "the worst of two mishaps at once",
        QUAKE: "the worst one earthquake can do",
    }
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
        advice_key="spill earthquake" if which == QUAKE else "spill",
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


def _given_up(spill: Spill) -> list[Finding]:
    """Events that could not be followed to their end."""
    open_ones = [one.event.text for one in spill.runs if not one.finished]
    if not open_ones:
        return []
    more = f" and {len(open_ones) - 2} more" if len(open_ones) > 2 else ""
    reason = (
        f"too much changes too often to follow it to its end ({'; '.join(open_ones[:2])}{more}): figures are the least"
    )
    question = "What do these mishaps come to?"
    return [not_assessed("spill/given up", TOPIC, "the water network", question, "volume", reason)]


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
    """Each socket against the deepest water of all that was run, the drains clogged and the earthquake among it."""
    found = []
    deepest = max(spill.runs, key=lambda one: one.depth, default=None)
    for index, socket in enumerate(installation.room.sockets):
        if deepest is None:
            break
        V = deepest.depth * spill.room.area
        line = step("d", "V_d/A", {"V_d": (V, "m³"), "A": (spill.room.area, "m²")}, (deepest.depth, "m"), BASIS)
        first = min((at for one in spill.runs for name, at in one.wets if name == _socket(index)), default=None)
        reason = "it lies on the floor" if socket.height <= 0 else ""
        if first is not None:
            when = "at once" if first <= 0 else f"after {duration(first)}"
            reason = f"wet {when} at the earliest"
        found.append(
            finding(
                f"spill/socket/{socket.name}",
                TOPIC,
                socket.name,
                "Does it stay above the water in all that was tried?",
                deepest.depth,
                socket.height,
                "length",
                f"{BASIS}; a level floor",
                reason=reason,
                advice_key="socket",
                steps=(line,),
                details={"event": deepest.event.text},
            )
        )
    return found
