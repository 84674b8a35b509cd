"""Names that stand twice, that the tool needs itself, or that point to nothing."""

from __future__ import annotations

from brimfast.shared.errors import Problem
from brimfast.shared.installation.fields import nearest
from brimfast.shared.installation.flow import HOUSE_DRAIN, RESERVED_ENDINGS, RESERVED_PLACES
from brimfast.shared.installation.hung import CEILING
from brimfast.shared.installation.model import Installation


def names(installation: Installation) -> list[Problem]:
    problems: list[Problem] = []
    if "floor" in installation.racks:
        problems.append(
            Problem("E-NAME-002", "found a rack named 'floor'; expected another name", ("racks", "floor"), at_key=True)
        )
    groups: list[tuple[str, list[str]]] = [
        ("vessels", [vessel.name for vessel in installation.vessels]),
        ("pumps", [pump.name for pump in installation.pumps]),
        ("pipes", [pipe.name for pipe in installation.pipes]),
        ("supplies", [supply.name for supply in installation.supplies]),
        ("hung", [thing.name for thing in installation.hung]),
    ]
    taken = {
        "vessels": set(installation.racks),
        "pipes": {pump.name for pump in installation.pumps},
        "supplies": {*(one.name for one in installation.pumps), *(one.name for one in installation.pipes)},
        "hung": {*installation.racks, *(one.name for one in installation.vessels)},
    }
    for group, names in groups:
        seen: set[str] = taken.get(group, set())
        for index, name in enumerate(names):
            if name in seen:
                problems.append(
                    Problem(
                        "E-NAME-002",
                        f"found {name!r} a second time; expected a name of its own",
                        (group, index, "name"),
                    )
                )
            seen.add(name)
            if group != "hung":
                problems += _reserved(name, (group, index, "name"))
    sockets = [socket.name for socket in installation.room.sockets]
    for index, name in enumerate(sockets):
        if name in sockets[:index]:
            message = f"found {name!r} a second time; expected a name of its own"
            problems.append(Problem("E-NAME-002", message, ("room", "sockets", index, "name")))
    rooms = {vessel.name for vessel in installation.vessels}
    for index, neighbour in enumerate(installation.room.next):
        path = ("room", "next", index, "name")
        if neighbour.name in rooms:
            message = f"found {neighbour.name!r} a second time, as a vessel or a room; expected a name of its own"
            problems.append(Problem("E-NAME-002", message, path))
        rooms.add(neighbour.name)
        problems += _reserved(neighbour.name, path)
    return problems


def _reserved(name: str, path: tuple[str | int, ...]) -> list[Problem]:
    """Words of the water network's own."""
    said = name.casefold()
    if (
        said in RESERVED_PLACES
        or said.endswith(RESERVED_ENDINGS)
        or said.startswith(("pan under ", "drain ", "door ", "the door", "other ways out"))
    ):
        return [Problem("E-NAME-002", f"found {name!r}, a word of the tool's own; expected another name", path)]
    return []


def references(installation: Installation) -> list[Problem]:
    racks = tuple(installation.racks)
    vessels = tuple(vessel.name for vessel in installation.vessels)
    problems: list[Problem] = []

    def must_be(name: str, known: tuple[str, ...], what: str, *path: str | int) -> None:
        if name not in known:
            listed = ", ".join(repr(one) for one in known[:8]) or "there is none"
            problems.append(
                Problem("E-NAME-001", f"found {name!r}; expected {what}: {listed}{nearest(name, known)}", path)
            )

    for index, vessel in enumerate(installation.vessels):
        must_be(vessel.on, ("floor", *racks), "floor or a rack", "vessels", index, "on")
    for index, joint in enumerate(installation.joints):
        must_be(joint.rack, racks, "the name of a rack", "joints", index, "rack")
    for index, pump in enumerate(installation.pumps):
        must_be(pump.source, vessels, "the name of a vessel", "pumps", index, "from")
        must_be(pump.receiver, vessels, "the name of a vessel", "pumps", index, "to")
    for index, pipe in enumerate(installation.pipes):
        must_be(pipe.source, vessels, "the name of a vessel", "pipes", index, "from")
        must_be(pipe.receiver, (*vessels, HOUSE_DRAIN), f"a vessel or {HOUSE_DRAIN!r}", "pipes", index, "to")
    for index, supply in enumerate(installation.supplies):
        must_be(supply.receiver, vessels, "the name of a vessel", "supplies", index, "to")
    for index, thing in enumerate(installation.hung):
        must_be(thing.held_by, (CEILING, *racks), "ceiling or a rack", "hung", index, "from")
        if thing.over is not None:
            must_be(thing.over, vessels, "the name of a vessel", "hung", index, "over")
    for index, joint in enumerate(installation.joints):
        rack = installation.racks.get(joint.rack)
        if rack is not None and joint.where == "brace to post" and not rack.braces:
            problems.append(
                Problem(
                    "E-FIT-001",
                    f"found a brace joint on rack {joint.rack!r}, which has no braces; expected braces in the rack",
                    ("joints", index, "where"),
                )
            )
    seen: set[tuple[str, str]] = set()
    for index, joint in enumerate(installation.joints):
        if (joint.rack, joint.where) in seen:
            problems.append(
                Problem(
                    "E-NAME-002",
                    f"found {joint.where!r} of rack {joint.rack!r} a second time; expected each place once",
                    ("joints", index, "where"),
                )
            )
        seen.add((joint.rack, joint.where))
    return problems
