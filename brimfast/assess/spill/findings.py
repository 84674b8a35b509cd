"""Does the room cope with the worst single mishap, with two at once, and with the worst that one earthquake can do?"""

from __future__ import annotations

from brimfast.assess.network.faults import AS_DESCRIBED, QUAKE
from brimfast.assess.network.model import Network
from brimfast.assess.network.runs import NOTHING, Run
from brimfast.assess.parts import FloorParts
from brimfast.assess.spill.assess import Spill, socket_mark
from brimfast.assess.spill.lines import run_lines
from brimfast.assess.spill.pans import TOPIC, pan_findings
from brimfast.assess.spill.room import pond_pressure
from brimfast.data_tables.loader import factor_used
from brimfast.shared.constants import GRAVITY, WATER_DENSITY
from brimfast.shared.findings import Finding, Value, finding, not_assessed, step
from brimfast.shared.installation.model import Installation
from brimfast.shared.units import duration

DRAINS = "drain: weir, opening and pipe (HEC-22, Manning), with the blocked share"
BASIS = "water network in time, balance of volumes; HEC-22, Darcy-Weisbach, Torricelli, Manning"


def spill_findings(spill: Spill, installation: Installation, floor: FloorParts) -> list[Finding]:
    found = [_held(which, one, spill) for which, one in spill.floods.items()]
    if spill.pair is not None:
        found.insert(1, _held("pair", spill.pair, spill))
    found += _as_described(spill)
    found += _given_up(spill)
    if spill.singles:
        found += _drained(spill, installation)
    found += _sockets(spill, installation)
    found += pan_findings(spill.network, spill.caught)
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
        reason="" if room.sill > 0 else "the lowest sill is 0: what reaches the floor runs out of the door",
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
    one = next((one for one in spill.runs if one.event.id == AS_DESCRIBED.id), None)
    if one is None or one.reached <= NOTHING:
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
        first = min((at for one in spill.runs for name, at in one.wets if name == socket_mark(index)), default=None)
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
