"""Whether doorways, pumps, pipes and drains lie where water can go through them."""

from __future__ import annotations

from brimfast.shared.errors import KeyPath, Problem
from brimfast.shared.installation.model import Installation
from brimfast.shared.installation.site import DOOR, Drain, NextRoom, Room
from brimfast.shared.units import show


def doorways(installation: Installation) -> list[Problem]:
    """A doorway is no wider than the longest wall of the rooms on its two sides."""
    room = installation.room
    rooms: list[tuple[Room | NextRoom, float | None, float, KeyPath]] = [
        (room, room.door, max(room.length, room.width), ("room",))
    ]
    for index, one in enumerate(room.next):
        most = min(max(one.length, one.width), max(room.length, room.width))
        rooms.append((one, one.door, most, ("room", "next", index)))
    problems = []
    for place, door, most, path in rooms:
        if (DOOR if door is None else door) > most + 1e-6:
            found = show(DOOR if door is None else door, "distance", installation.system)
            taken = "" if "door" in place.model_fields_set else ", taken where door is not given"
            longest = show(most, "distance", installation.system)
            message = f"found a doorway {found} wide{taken}; expected at most the longest wall that it can stand in, {longest}"
            problems.append(Problem("E-FIT-001", message, (*path, "door")))
    return problems


def pumps(installation: Installation) -> list[Problem]:
    problems: list[Problem] = []
    vessels = {vessel.name: vessel for vessel in installation.vessels}
    for index, pump in enumerate(installation.pumps):
        source, receiver = vessels.get(pump.source), vessels.get(pump.receiver)
        if source and source.depth is not None and pump.intake > source.depth:
            problems.append(
                Problem(
                    "E-FIT-001",
                    f"found an intake above the rim of {pump.source!r}; expected at most its depth",
                    ("pumps", index, "intake"),
                )
            )
        if receiver and receiver.depth is not None and pump.outlet is not None and pump.outlet > receiver.depth + 3.0:
            problems.append(
                Problem(
                    "E-FIT-001",
                    f"found an outlet more than 3 m (10 ft) above the rim of {pump.receiver!r}; expected it near",
                    ("pumps", index, "outlet"),
                )
            )
    return problems


def pipes(installation: Installation) -> list[Problem]:
    """Pipes begin within their vessel, do not run uphill, and do not go round in a ring without water."""
    problems: list[Problem] = []
    vessels = {vessel.name: vessel for vessel in installation.vessels}
    for index, pipe in enumerate(installation.pipes):
        source, receiver = vessels.get(pipe.source), vessels.get(pipe.receiver)
        for key, height in (("intake", pipe.intake), ("starts_at", pipe.starts_at)):
            if source and source.depth is not None and height is not None and height > source.depth:
                message = f"found {key} above the rim of {pipe.source!r}; expected at most its depth"
                problems.append(Problem("E-FIT-001", message, ("pipes", index, key)))
        if source is None or receiver is None:
            continue
        begins = installation.base_of(source) + max(pipe.intake, pipe.starts_at or 0.0)
        if installation.base_of(receiver) + pipe.outlet > begins + 1e-6:
            message = "found a pipe that ends higher than it begins; expected it to run downhill (a pump lifts water)"
            problems.append(Problem("E-FIT-001", message, ("pipes", index, "outlet")))
    ring = _dry_ring(installation)
    if ring:
        message = f"found a ring of pipes without water in it: {', '.join(repr(name) for name in ring)}; expected water in one"
        problems.append(Problem("E-FIT-001", message, ("vessels", _index(installation, ring[0]), "water")))
    return problems


def _index(installation: Installation, vessel: str) -> int:
    return [one.name for one in installation.vessels].index(vessel)


def _dry_ring(installation: Installation) -> tuple[str, ...]:
    """The vessels of a ring of pumps and pipes that hold no water at all."""
    dry = {vessel.name for vessel in installation.vessels if vessel.water == 0.0}
    links = [(pump.source, pump.receiver) for pump in installation.pumps]
    links += [(pipe.source, pipe.receiver) for pipe in installation.pipes]
    ahead = {name: [to for source, to in links if source == name and to in dry] for name in sorted(dry)}
    for start in ahead:
        trail: list[tuple[str, tuple[str, ...]]] = [(start, (start,))]
        seen = {start}
        while trail:
            name, way = trail.pop()
            for to in ahead[name]:
                if to == start:
                    return way
                if to not in seen:
                    seen.add(to)
                    trail.append((to, (*way, to)))
    return ()


def floor_drains(installation: Installation) -> list[Problem]:
    problems: list[Problem] = []
    room = installation.room
    places: list[tuple[tuple[str | int, ...], list[Drain]]] = [(("room", "drains"), room.drains)]
    places += [(("room", "next", index, "drains"), one.drains) for index, one in enumerate(room.next)]
    for path, drains in places:
        for index, drain in enumerate(drains):
            if drain.height > 0:
                shown = show(drain.height, "length", installation.system)
                message = f"found a drain {shown} above its floor; expected 0, or less where it lies in a low place"
                problems.append(Problem("E-FIT-001", message, (*path, index, "height")))
    return problems
