"""Holes and valves against siphons, switches, intakes, overflows, supplies, curbs, drains, sockets, flexible pieces, chains."""

from __future__ import annotations

import re
from collections.abc import Iterator

from brimfast.assess.measures.asked import asks
from brimfast.assess.measures.measure import Measure, Need
from brimfast.assess.measures.stock import CURBS, feet, rounded, wider, written
from brimfast.assess.network.model import over_rim
from brimfast.assess.network.runs import NOTHING, Run
from brimfast.assess.pipeline import Assessment
from brimfast.shared.constants import GALLON, INCH, LITRE
from brimfast.shared.edits import Edit
from brimfast.shared.findings import HOLDS_UP_TO
from brimfast.shared.installation.flow import Pipe, Pump
from brimfast.shared.installation.hung import Hung
from brimfast.shared.installation.site import DOOR
from brimfast.shared.units import System

SPILLS = (r"spill/(single|pair|earthquake|drains|as described|given up|socket)",)
HIGH = 5 * INCH
TIMES = ("30 min", "2 h")
HIGH_SOCKETS = {"us": (18 * INCH, 36 * INCH), "si": (0.45, 0.90)}
SLACK = {"us": (4 * INCH, 12 * INCH), "si": (0.10, 0.30)}
SIPHON_HOLE = {"us": "1/4 in", "si": "6 mm"}
WATER = ("water",)
POWER_OFF = "switch the power off first"


def water_measures(assessment: Assessment) -> Iterator[Measure]:
    yield from _flexible(assessment)
    yield from _sockets(assessment)
    yield from _chains(assessment)
    if not asks(assessment, *SPILLS):
        return
    worst = critical(assessment)
    for index, pump in enumerate(assessment.installation.pumps):
        if concerned(worst, pump.name, pump.receiver):
            yield from _pump(assessment, index, pump)
    yield from _overflows(assessment, worst)
    yield from _supplies(assessment, worst)
    yield from _curbs(assessment)
    yield from _drains(assessment)


def critical(assessment: Assessment) -> tuple[Run, ...]:
    """Runs that come near what the room, its drains or a socket may take."""
    spill, room = assessment.spill, assessment.installation.room
    low = min((socket.height for socket in room.sockets), default=float("inf"))
    return tuple(
        run
        for run in spill.runs
        if run.leaves > NOTHING
        or run.need > HOLDS_UP_TO * spill.room.held
        or run.depth > HOLDS_UP_TO * low
        or (not run.event.pair and run.rate > HOLDS_UP_TO * spill.room.at_sill.flow)
    )


def concerned(runs: tuple[Run, ...], name: str, vessel: str) -> bool:
    """Whether a pump, pipe or supply has its part in one of the runs: in what goes wrong, or in the way of the water."""
    return any(
        key == name or key.startswith(f"{name}, ") or key == over_rim(vessel)
        for run in runs
        for key in (*run.event.changes, *(path for path, _ in run.paths))
    )


def _pump(assessment: Assessment, index: int, pump: Pump) -> Iterator[Measure]:
    name, system = pump.name, assessment.installation.system

    def of_pump(id: str, title: str, item: str, need: str, edit: Edit, *steps: str) -> Measure:
        """Of one group are those whose ids begin alike: siphon, siphon/valve."""
        group = f"{name}/{id.split('/')[0]}"
        return Measure(f"{name}/{id}", group, WATER, name, title, (edit,), (Need(item, 1, need),), steps)

    if not pump.anti_siphon and not pump.check_valve:
        yield of_pump(
            "siphon",
            "a siphon hole in its line",
            "siphon hole",
            f"{SIPHON_HOLE[system]} hole in the line of {name}",
            Edit(("pumps", index, "anti_siphon"), "yes"),
            "just under the running level of the vessel that it fills; keep it clean, try it every month",
            POWER_OFF,
        )
        yield of_pump(
            "siphon/valve",
            "a check valve in its line",
            "check valve",
            f"for the line of {name}",
            Edit(("pumps", index, "check_valve"), "yes"),
            POWER_OFF,
            "where it can be reached and cleaned: dirt holds it open",
        )
    if not pump.float_switch:
        yield of_pump(
            "switch",
            "a float switch that stops it before the vessel that it fills runs over",
            "float switch",
            f"normally closed, in the vessel that {name} fills",
            Edit(("pumps", index, "float_switch"), "yes"),
            "by an electrician where it switches mains power",
            "lift it by hand every month: the pump must stop",
        )
    source = assessment.installation.vessel(pump.source)
    if source.water is not None:
        height = rounded(pump.intake + 0.6 * (source.water - pump.intake), system)
        if height > pump.intake + 1 * INCH and height < source.water - 1 * INCH:
            text = written(height, system)
            yield of_pump(
                "intake",
                f"its intake raised to {text}",
                "raise the intake",
                f"{name} to {text} above the bottom of {source.name}",
                Edit(("pumps", index, "intake"), text),
                "what the pump cannot reach it cannot spill; it runs dry sooner, so look after its level",
            )


def _overflows(assessment: Assessment, worst: tuple[Run, ...]) -> Iterator[Measure]:
    """Of each pipe the next size, or a second one a little higher; one where a fed vessel has none."""
    installation, system = assessment.installation, assessment.installation.system
    for index, pipe in enumerate(installation.pipes):
        if not concerned(worst, pipe.name, pipe.source):
            continue
        group = f"{pipe.name}/size"
        bore = wider(pipe.bore, system)
        if bore is not None:
            text = written(bore, system)
            edit = Edit(("pipes", index, "bore"), text)
            yield Measure(
                f"{group}/{text}",
                group,
                WATER,
                pipe.name,
                f"widened to {text}",
                (edit,),
                (Need("overflow pipe", 1, f"{pipe.name}, {text} bore, with its fitting"),),
                ("lower the water below the hole first",),
            )
        higher = pipe.intake + 1 * INCH
        source = installation.vessel(pipe.source)
        if source.depth is None or higher <= source.depth - 0.5 * INCH:
            yield _second(assessment, pipe, higher)


def _second(assessment: Assessment, pipe: Pipe, height: float) -> Measure:
    system = assessment.installation.system
    pumps, pipes = assessment.installation.pumps, assessment.installation.pipes
    taken = {*(one.name for one in pumps), *(one.name for one in pipes)}
    name = next(f"{pipe.name[:70]} {number}" for number in range(2, 200) if f"{pipe.name[:70]} {number}" not in taken)
    item = {
        "name": name,
        "from": pipe.source,
        "to": pipe.receiver,
        "bore": written(pipe.bore, system, 8),
        "intake": written(height, system, 8),
        "outlet": written(pipe.outlet, system, 8),
        "length": written(pipe.length, system, 8),
        "bends": pipe.bends,
        "material": pipe.material,
        "passes": pipe.passes,
    }
    group = f"{pipe.name}/second"
    return Measure(
        group,
        group,
        WATER,
        pipe.name,
        f"a second pipe beside it, {written(height - pipe.intake, system)} higher",
        (Edit(("pipes",), item, "add"),),
        (Need("overflow pipe", 1, f"{item['bore']} bore, from {pipe.source} to {pipe.receiver}, with its fitting"),),
        ("of its own all the way, so that one clog does not close both", "lower the water below the hole first"),
    )


def _supplies(assessment: Assessment, worst: tuple[Run, ...]) -> Iterator[Measure]:
    system = assessment.installation.system
    for index, supply in enumerate(assessment.installation.supplies):
        if not concerned(worst, supply.name, supply.receiver):
            continue
        group = f"{supply.name}/flow"
        for share in (2, 4):
            flow = supply.flow / share
            text = _flow(flow, system)
            yield Measure(
                f"{group}/{text}",
                group,
                WATER,
                supply.name,
                f"throttled to {text}",
                (Edit(("supplies", index, "flow"), text),),
                (Need("flow limiter", 1, f"{text} at the tap's pressure"),),
                ("time it with a bucket",),
            )
        for time in TIMES:
            if supply.unattended > (1.01 * 1800 if time == "30 min" else 1.01 * 7200):
                yield Measure(
                    f"{supply.name}/time/{time}",
                    f"{supply.name}/time",
                    WATER,
                    supply.name,
                    f"a shut-off that closes it after {time}",
                    (Edit(("supplies", index, "unattended"), time),),
                    (Need("water timer", 1, f"at the tap of {supply.name}, {time}"),),
                    ("one that closes when its battery runs out",),
                )


def _flow(flow: float, system: System) -> str:
    return f"{flow / (GALLON / 60):.3g} gal/min" if system == "us" else f"{flow / (LITRE / 60):.3g} L/min"


def _curbs(assessment: Assessment) -> Iterator[Measure]:
    """Every doorway out of the room higher by as much."""
    room, system = assessment.installation.room, assessment.installation.system
    width = sum(one.door for one in room.next) + (
        (room.door or DOOR) if not room.next or room.door is not None else 0.0
    )
    for up in CURBS[system]:
        edits = [Edit(("room", "next", i, "sill"), written(one.sill + up, system)) for i, one in enumerate(room.next)]
        if not room.next or room.door is not None:
            edits.append(Edit(("room", "sill"), written(room.sill + up, system)))
        text = written(up, system)
        yield Measure(
            f"curb/{text}",
            "curb",
            WATER,
            "the doorway" if len(edits) == 1 else "the doorways",
            f"a curb {text} high across the doorway" if len(edits) == 1 else f"curbs {text} high across the doorways",
            tuple(edits),
            (
                Need(
                    "door curb" if up < HIGH else "high door curb",
                    feet(width),
                    f"{text} above the sill that is there, sealed to floor and frame",
                ),
            ),
            ("a thing to stumble over: mark it, and ask the landlord", "walls must be tight down there as well"),
        )


def _drains(assessment: Assessment) -> Iterator[Measure]:
    room, system = assessment.installation.room, assessment.installation.system
    if room.floor.kind == "timber floor":
        return  # no slab to set it in, and a room below
    sizes = (("2 in", "4 in"), ("3 in", "6 in")) if system == "us" else (("50 mm", "100 mm"), ("75 mm", "150 mm"))
    for bore, grate in sizes:
        what = "a further" if room.drains else "a"
        yield Measure(
            f"drain/{bore}",
            "drain",
            WATER,
            "the floor",
            f"{what} floor drain of {bore} with a {grate} grate",
            (Edit(("room", "drains"), {"bore": bore, "grate": grate, "blocked": "50 %"}, "add"),),
            (Need("floor drain", 1, f"{bore}, grate {grate}, by a plumber"),),
            ("a trap that cannot dry out", "ask whether the pipe below takes as much"),
        )


def _sockets(assessment: Assessment) -> Iterator[Measure]:
    system = assessment.installation.system
    for index, socket in enumerate(assessment.installation.room.sockets):
        if not asks(assessment, rf"spill/socket/{re.escape(socket.name)}$"):
            continue
        group = f"{socket.name}/height"
        for high in HIGH_SOCKETS[system]:
            text = written(high, system)
            if high > socket.height * 1.05:
                yield Measure(
                    f"{group}/{text}",
                    group,
                    WATER,
                    socket.name,
                    f"moved up to {text}",
                    (Edit(("room", "sockets", index, "height"), text),),
                    (Need("move a socket", 1, f"{socket.name} to {text}"),),
                    (
                        "by an electrician, with a ground-fault breaker",
                        "cords hang in a loop below it, so that drops fall off",
                    ),
                )


def _flexible(assessment: Assessment) -> Iterator[Measure]:
    """A hose piece in the line of a pump, or in a pipe, where one end sways."""
    system = assessment.installation.system
    on = {vessel.name: vessel.on for vessel in assessment.installation.vessels}
    lines: list[tuple[str, int, Pump | Pipe]] = [
        *(("pumps", index, pump) for index, pump in enumerate(assessment.installation.pumps)),
        *(("pipes", index, pipe) for index, pipe in enumerate(assessment.installation.pipes)),
    ]
    for kind, index, line in lines:
        sways = [f"rack {on[name]}" for name in (line.source, line.receiver) if on.get(name, "floor") != "floor"]
        unknown = any(one.id == f"sway/pipe/{line.name}" and line.slack is None for one in assessment.findings)
        if not sways or not (unknown or asks(assessment, rf"sway/pipe/{re.escape(line.name)}$")):
            continue
        group = f"{line.name}/slack"
        for give in SLACK[system]:
            text = written(give, system)
            if line.slack is None or give > line.slack * 1.05:
                yield Measure(
                    f"{group}/{text}",
                    group,
                    tuple(sways[:1]),
                    line.name,
                    f"a flexible piece in its line that gives {text} to every side",
                    (Edit((kind, index, "slack"), text),),
                    (Need("flexible pipe piece", 1, f"hose with two clamps at each end, {text} of slack"),),
                    ("where the line leaves the rack; clamps of stainless steel",),
                )


def _higher(index: int, thing: Hung, by: float, system: System) -> list[Edit]:
    if thing.above_water is None:
        return []
    return [Edit(("hung", index, "above_water"), written(thing.above_water + by, system))]


def _chains(assessment: Assessment) -> Iterator[Measure]:
    system = assessment.installation.system
    for index, thing in enumerate(assessment.installation.hung):
        if not asks(assessment, rf"hung/{re.escape(thing.name)}/"):
            continue
        group = f"{thing.name}/drop"
        for share in (0.5, 0.25):
            drop = rounded(thing.drop * share, system)
            if drop < 2 * INCH:
                continue
            text = written(drop, system)
            yield Measure(
                f"{group}/{text}",
                group,
                (thing.name,),
                thing.name,
                f"its chains shortened to {text}",
                (Edit(("hung", index, "drop"), text), *_higher(index, thing, thing.drop - drop, system)),
                (Need("shorten the chains", 1, f"{thing.name} to {text}"),),
                (
                    "nothing and no one beneath while it is open",
                    "a lamp so much higher gives less light: see whether that will do",
                ),
            )
        if asks(assessment, rf"hung/{re.escape(thing.name)}/hangers"):
            count = thing.hangers + 2
            yield Measure(
                f"{thing.name}/hangers/{count}",
                f"{thing.name}/hangers",
                (thing.name,),
                thing.name,
                f"{count} hangers instead of {thing.hangers}",
                (Edit(("hung", index, "hangers"), count),),
                (Need("hanger", 2, f"as strong as those of {thing.name}, each with its own closed hook"),),
                ("into the middle of solid wood",),
            )
