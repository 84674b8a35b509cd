"""The whole installation, and what must agree across its parts."""

from __future__ import annotations

import itertools
import math
from typing import Annotated

from pydantic import Field

from brimfast.shared.errors import KeyPath, Problem
from brimfast.shared.installation.doubt import Doubt
from brimfast.shared.installation.fields import Name, Part, Words, YesNo, nearest
from brimfast.shared.installation.flow import HOUSE_DRAIN, RESERVED_ENDINGS, RESERVED_PLACES, Pipe, Pump, Supply
from brimfast.shared.installation.hung import CEILING, Hung
from brimfast.shared.installation.joint import Joint
from brimfast.shared.installation.pan import Pan
from brimfast.shared.installation.rack import FACES, Rack
from brimfast.shared.installation.site import DOOR, Drain, Exposure, NextRoom, PriceOrAmount, Room, Site
from brimfast.shared.installation.vessel import Vessel
from brimfast.shared.units import System, show


class Installation(Part):
    installation: Name
    invented: YesNo = False
    units: Annotated[str, Words(("us", "si"))] = "us"
    site: Site
    room: Room
    racks: Annotated[dict[Name, Rack], Field(max_length=30)] = Field(default_factory=dict)
    vessels: Annotated[list[Vessel], Field(min_length=1, max_length=200)]
    joints: Annotated[list[Joint], Field(max_length=200)] = Field(default_factory=list)
    pumps: Annotated[list[Pump], Field(max_length=100)] = Field(default_factory=list)
    pipes: Annotated[list[Pipe], Field(max_length=100)] = Field(default_factory=list)
    supplies: Annotated[list[Supply], Field(max_length=50)] = Field(default_factory=list)
    hung: Annotated[list[Hung], Field(max_length=100)] = Field(default_factory=list)
    exposure: Exposure = Field(default_factory=Exposure)
    doubt: Doubt = Field(default_factory=Doubt)
    prices: Annotated[dict[Name, PriceOrAmount], Field(max_length=100)] = Field(default_factory=dict)

    @property
    def system(self) -> System:
        return "si" if self.units == "si" else "us"

    def vessel(self, name: str) -> Vessel:
        return next(vessel for vessel in self.vessels if vessel.name == name)

    def on_rack(self, rack: str) -> list[Vessel]:
        return [vessel for vessel in self.vessels if vessel.on == rack]

    def joints_of(self, rack: str) -> dict[str, Joint]:
        """By where in the rack they are."""
        return {joint.where: joint for joint in self.joints if joint.rack == rack}

    def base_of(self, vessel: Vessel) -> float:
        """Height of its bottom above the floor (m)."""
        rack = self.racks.get(vessel.on)
        if rack is None:
            return vessel.raised
        return vessel.raised + rack.decks[min(vessel.tier, len(rack.decks)) - 1]

    def on_floor(self) -> list[Vessel]:
        return [vessel for vessel in self.vessels if vessel.on == "floor"]


def plan_size(vessel: Vessel) -> tuple[float, float]:
    """Outside length and width in plan (m), as far as known without wall thickness."""
    if vessel.footprint is not None:
        return vessel.footprint
    if vessel.diameter is not None:
        return vessel.diameter, vessel.diameter
    assert vessel.length is not None and vessel.width is not None
    return vessel.length, vessel.width


def plan_area(vessel: Vessel) -> float:
    length, width = plan_size(vessel)
    return math.pi / 4 * length**2 if vessel.round else length * width


def plan_perimeter(vessel: Vessel) -> float:
    """Round its outside (m)."""
    length, width = plan_size(vessel)
    return math.pi * length if vessel.round else 2 * (length + width)


def _overlap(one: Vessel, other: Vessel) -> bool:
    """Whether two floor vessels with places share floor (two round ones by their circles)."""
    assert one.at is not None and other.at is not None
    size, other_size = plan_size(one), plan_size(other)
    if one.round and other.round:
        apart = math.dist(
            (one.at[0] + size[0] / 2, one.at[1] + size[0] / 2),
            (other.at[0] + other_size[0] / 2, other.at[1] + other_size[0] / 2),
        )
        return apart < (size[0] + other_size[0]) / 2 - 1e-6
    return all(
        one.at[axis] < other.at[axis] + other_size[axis] - 1e-6 and other.at[axis] < one.at[axis] + size[axis] - 1e-6
        for axis in (0, 1)
    )


def disagreements(installation: Installation) -> list[Problem]:
    """What is wrong between the parts: names that point to nothing, things that do not fit."""
    return [
        *_names(installation),
        *_references(installation),
        *_on_racks(installation),
        *_in_room(installation),
        *_pans(installation),
        *_doorways(installation),
        *_pumps(installation),
        *_pipes(installation),
        *_floor_drains(installation),
        *_braces(installation),
        *_tiers(installation),
        *_hung(installation),
    ]


def _names(installation: Installation) -> list[Problem]:
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


def _references(installation: Installation) -> list[Problem]:
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


def _on_racks(installation: Installation) -> list[Problem]:
    problems: list[Problem] = []

    def length_text(value: float) -> str:
        return show(value, "distance", installation.system)

    for name, rack in installation.racks.items():
        used: dict[int, float] = {}
        taken: list[tuple[str, int, float, float]] = []
        for index, vessel in enumerate(installation.vessels):
            if vessel.on != name:
                continue
            length, width = plan_size(vessel)
            start = vessel.offset if vessel.offset is not None else used.get(vessel.tier, 0.0)
            beside = [
                other
                for other, tier, low, high in taken
                if tier == vessel.tier and start < high - 1e-6 and start + length > low + 1e-6
            ]
            taken.append((vessel.name, vessel.tier, start, start + length))
            if beside:
                problems.append(
                    Problem(
                        "E-FIT-001",
                        f"found {vessel.name!r} in the same stretch of the rack as {beside[0]!r}; expected one behind the "
                        "other along it (enter vessels that stand side by side as one)",
                        ("vessels", index),
                    )
                )
            used[vessel.tier] = max(used.get(vessel.tier, 0.0), start + length)
            slack = 1e-6
            if start + length > rack.length + slack or width > rack.width + slack:
                problems.append(
                    Problem(
                        "E-FIT-001",
                        f"found {vessel.name!r} reaching {length_text(start + length)} along and {length_text(width)} "
                        f"across; the deck of rack {name!r} is {length_text(rack.length)} by "
                        f"{length_text(rack.width)}; expected it to stand within",
                        ("vessels", index),
                    )
                )
            if vessel.at is not None:
                problems.append(
                    Problem(
                        "E-KEY-003",
                        "found at for a vessel on a rack; expected offset, its place along the rack",
                        ("vessels", index, "at"),
                    )
                )
    for index, vessel in enumerate(installation.vessels):
        if vessel.on == "floor" and vessel.offset is not None:
            problems.append(
                Problem(
                    "E-KEY-003",
                    "found offset for a vessel on the floor; expected at, its place in the room",
                    ("vessels", index, "offset"),
                )
            )
    return problems


def _in_room(installation: Installation) -> list[Problem]:
    room = installation.room
    problems: list[Problem] = []

    def lengths(x: float, y: float) -> str:
        return f"{show(x, 'distance', installation.system)} by {show(y, 'distance', installation.system)}"

    def inside(what: str, place: tuple[float, float] | None, size: tuple[float, float], *path: str | int) -> None:
        x, y = place or (0.0, 0.0)
        if x + size[0] > room.length + 1e-6 or y + size[1] > room.width + 1e-6:
            problems.append(
                Problem(
                    "E-FIT-001",
                    f"found {what} reaching {lengths(x + size[0], y + size[1])}; the room is "
                    f"{lengths(room.length, room.width)}; expected it to stand within",
                    path,
                )
            )

    for name, rack in installation.racks.items():
        at = rack.at or rack.place_beside(installation.racks)
        inside(f"rack {name!r}", at, rack.plan_size, "racks", name)
    for index, vessel in enumerate(installation.vessels):
        if vessel.on == "floor":
            inside(repr(vessel.name), vessel.at, plan_size(vessel), "vessels", index)
    placed = [
        (index, vessel) for index, vessel in enumerate(installation.vessels) if vessel.on == "floor" and vessel.at
    ]
    for number, (index, vessel) in enumerate(placed):
        for _, other in placed[:number]:
            if _overlap(vessel, other):
                message = f"found {vessel.name!r} standing in {other.name!r}; expected each to have its own place"
                problems.append(Problem("E-FIT-001", message, ("vessels", index, "at")))
    covered = sum(plan_area(vessel) for vessel in installation.on_floor())
    if covered > 0.95 * room.length * room.width:
        share = 100 * covered / (room.length * room.width)
        problems.append(
            Problem(
                "E-FIT-001",
                f"found vessels on the floor that cover {share:.0f} % of the room; expected at most 95 %",
                ("vessels",),
            )
        )
    for index, drain in enumerate(room.drains):
        inside("the drain", drain.at, (0.0, 0.0), "room", "drains", index)
    return problems


def standing_size(vessel: Vessel) -> tuple[float, float]:
    """What a vessel takes of the floor (m): its own size or its stand's, the larger each way."""
    own = plan_size(vessel)
    stand = vessel.stand.footprint if vessel.stand is not None and vessel.stand.footprint is not None else own
    return max(own[0], stand[0]), max(own[1], stand[1])


def _pans(installation: Installation) -> list[Problem]:
    """A pan lies on the floor, takes what stands in it, and the room takes the pan."""
    problems: list[Problem] = []
    system, room = installation.system, installation.room
    under: list[tuple[KeyPath, str, Pan, tuple[float, float]]] = [
        (("racks", name, "pan"), f"rack {name}", rack.pan, (rack.length, rack.width))
        for name, rack in installation.racks.items()
        if rack.pan is not None
    ]
    for index, vessel in enumerate(installation.vessels):
        path: KeyPath = ("vessels", index, "pan")
        if vessel.pan is None:
            continue
        if vessel.on != "floor":
            message = "found a pan under a vessel on a rack; expected it under the rack, or the vessel on the floor"
            problems.append(Problem("E-FIT-001", message, path))
            continue
        under.append((path, vessel.name, vessel.pan, standing_size(vessel)))
    for path, what, pan, size in under:
        if pan.length < size[0] - 1e-6 or pan.width < size[1] - 1e-6:
            needed = " x ".join(show(value, "distance", system) for value in size)
            problems.append(Problem("E-FIT-001", f"found a pan smaller than {what}; expected at least {needed}", path))
        elif max(pan.length, pan.width) > max(room.length, room.width) + 1e-6 or min(pan.length, pan.width) > (
            min(room.length, room.width) + 1e-6
        ):
            problems.append(Problem("E-FIT-001", "found a pan larger than the room; expected it within", path))
    return problems


def _doorways(installation: Installation) -> list[Problem]:
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


def _pumps(installation: Installation) -> list[Problem]:
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


def _pipes(installation: Installation) -> list[Problem]:
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


def _floor_drains(installation: Installation) -> list[Problem]:
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


def _braces(installation: Installation) -> list[Problem]:
    """Each bay of a face is stiffened once a storey, by a brace or a panel; ties reach no higher than the rack."""
    problems: list[Problem] = []
    for name, rack in installation.racks.items():
        seen: set[tuple[str, int, int]] = set()
        stiff = [("braces", index, brace.face, brace.bay, brace.storey) for index, brace in enumerate(rack.braces)]
        stiff += [("panels", index, panel.face, panel.bay, panel.storey) for index, panel in enumerate(rack.panels)]
        for group, index, face, bay, storey in stiff:
            path = ("racks", name, group, index)
            bays, storeys = rack.bays_of(face), len(rack.decks)
            if bay > bays:
                message = f"found bay {bay} on the {face} face, which has {bays}; expected 1 to {bays}"
                problems.append(Problem("E-FIT-001", message, (*path, "bay")))
            elif storey > storeys:
                message = (
                    f"found storey {storey} of a rack with {storeys}; expected 1 to {storeys}, counted from the floor"
                )
                problems.append(Problem("E-FIT-001", message, (*path, "storey")))
            elif group == "braces" and rack.braces[index].kind == "knee" and face in FACES["across"]:
                message = "found a knee on a short end, where no beam lies; expected the front or the back"
                problems.append(Problem("E-FIT-001", message, (*path, "face")))
            elif (face, bay, storey) in seen:
                message = f"found bay {bay} of the {face} face braced or panelled a second time; expected it once"
                problems.append(Problem("E-FIT-001", message, path))
            seen.add((face, bay, storey))
        problems.extend(_gussets(name, rack))
        for index, tie in enumerate(rack.wall_ties):
            if tie.height > rack.top + 1e-6:
                shown = show(rack.top, "length", installation.system)
                message = f"found a tie above the rack; expected it at the rack's top, {shown}, or below"
                problems.append(Problem("E-FIT-001", message, ("racks", name, "wall_ties", index, "height")))
    return problems


def _gussets(name: str, rack: Rack) -> list[Problem]:
    """In bays and storeys that are there, once each, and in none that a panel or a knee fills."""
    problems: list[Problem] = []
    taken = {(panel.face, panel.bay, panel.storey): "a panel" for panel in rack.panels}
    taken |= {(brace.face, brace.bay, brace.storey): "a knee" for brace in rack.braces if brace.kind == "knee"}
    for index, gusset in enumerate(rack.gussets):
        path, place = ("racks", name, "gussets", index), (gusset.face, gusset.bay, gusset.storey)
        if gusset.bay > rack.bays:
            message = f"found bay {gusset.bay} of a rack with {rack.bays}; expected 1 to {rack.bays}"
            problems.append(Problem("E-FIT-001", message, (*path, "bay")))
        elif gusset.storey > len(rack.decks):
            message = f"found storey {gusset.storey} of a rack with {len(rack.decks)}; expected 1 to {len(rack.decks)}, counted from the floor"
            problems.append(Problem("E-FIT-001", message, (*path, "storey")))
        elif place in taken:
            message = f"found a gusset where {taken[place]} is; expected a bay of the {gusset.face} without"
            problems.append(Problem("E-FIT-001", message, path))
        elif rack.paired:
            message = "found gussets beside shared beam pairs; expected beams on one side of the posts"
            problems.append(Problem("E-FIT-001", message, path))
        taken.setdefault(place, "another one")
    return problems


LEAST_BETWEEN_RAILS = 0.0254  # m
NEAR_CORNER = 0.3  # m
LEAST_STOREY = 0.2  # m: decks nearer than this leave no room for joists and beams


def _tiers(installation: Installation) -> list[Problem]:
    """Decks stand one above the other with room for what stands between them; a rail is no double of a beam."""
    problems: list[Problem] = []
    for name, rack in installation.racks.items():
        for index, (below, above) in enumerate(itertools.pairwise(rack.decks)):
            if above < below + LEAST_STOREY:
                shown = show(below + LEAST_STOREY, "length", installation.system)
                message = f"found a tier less than 8 in above the deck below it; expected {shown} or more"
                problems.append(Problem("E-FIT-001", message, ("racks", name, "upper_tiers", index, "deck_height")))
        problems.extend(_doubled_rails(name, rack))
        problems.extend(_turn(installation, name, rack))
        problems.extend(_joined(installation, name, rack))
    for index, vessel in enumerate(installation.vessels):
        on = installation.racks.get(vessel.on)
        if on is None:
            if vessel.tier != 1:
                message = "found tier for a vessel that stands on no rack; expected it only on a rack"
                problems.append(Problem("E-KEY-003", message, ("vessels", index, "tier")))
            continue
        if vessel.tier > len(on.decks):
            message = f"found tier {vessel.tier} of a rack with {len(on.decks)}; expected 1 to {len(on.decks)}, counted from the floor"
            problems.append(Problem("E-FIT-001", message, ("vessels", index, "tier")))
        elif vessel.depth is not None and vessel.tier < len(on.decks):
            room = on.decks[vessel.tier] - on.decks[vessel.tier - 1]
            if vessel.depth + vessel.raised >= room:
                shown = show(room, "length", installation.system)
                message = f"found {vessel.name!r} as high as the space to the deck above, {shown}; expected it lower"
                problems.append(Problem("E-FIT-001", message, ("vessels", index, "depth")))
    return problems


def _doubled_rails(name: str, rack: Rack) -> list[Problem]:
    """Two rails in one place."""
    problems = []
    for index, rail in enumerate(rack.rails):
        for other in rack.rails[:index]:
            share = not set(rail.faces).isdisjoint(other.faces)
            if share and abs(rail.height - other.height) < LEAST_BETWEEN_RAILS:
                message = "found a rail where another one is; expected it 1 in or more above or below"
                problems.append(Problem("E-FIT-001", message, ("racks", name, "rails", index, "height")))
    return problems


def _turn(installation: Installation, name: str, rack: Rack) -> list[Problem]:
    """A run that turns a corner joins a straight one at the same height."""
    turn = rack.turns_from
    if turn is None:
        return []
    path, other = ("racks", name, "turns_from", "rack"), installation.racks.get(turn.rack)
    others = tuple(one for one in installation.racks if one != name)
    if other is None or turn.rack == name:
        listed = ", ".join(repr(one) for one in others[:8]) or "there is none"
        return [Problem("E-NAME-001", f"found {turn.rack!r}; expected the name of another rack: {listed}", path)]
    if other.turns_from is not None:
        return [
            Problem("E-FIT-001", f"found {turn.rack!r}, which turns from a rack itself; expected a straight one", path)
        ]
    if abs(other.deck_height - rack.deck_height) > 1e-3:
        shown = show(other.deck_height, "length", installation.system)
        message = f"found a deck at another height than that of {turn.rack!r}, {shown}; expected the same"
        return [Problem("E-FIT-001", message, ("racks", name, "deck_height"))]
    if rack.width > other.length + 1e-6:
        return [Problem("E-FIT-001", f"found a rack wider than {turn.rack!r} is long; expected it narrower", path)]
    if rack.along == other.along:
        wanted = "width" if other.along == "length" else "length"
        message = f"found a rack that turns from {turn.rack!r} and lies along the same side of the room; expected along: {wanted}"
        return [
            Problem(
                "E-FIT-001", message, ("racks", name, "along" if "along" in rack.model_fields_set else "turns_from")
            )
        ]
    place = rack.turned_at(other)
    if place is not None and min(place) < -1e-6:
        return [Problem("E-FIT-001", "found a corner that reaches out of the room; expected it to stand within", path)]
    if place is not None and rack.at is not None and math.dist(place, rack.at) > NEAR_CORNER:
        shown = " x ".join(show(value, "distance", installation.system) for value in place)
        message = f"found at away from the corner with {turn.rack!r}; expected {shown}, or no at"
        return [Problem("E-FIT-001", message, ("racks", name, "at"))]
    return []


def _joined(installation: Installation, name: str, rack: Rack) -> list[Problem]:
    """Two straight racks of the same bays and heights, back beams to front beams; each joined to one other at most."""
    if rack.joined_to is None:
        return []
    path, main = ("racks", name, "joined_to"), rack.joined_to.rack
    other = installation.racks.get(main)
    if other is None or main == name:
        listed = ", ".join(repr(one) for one in tuple(installation.racks)[:8] if one != name) or "there is none"
        message = f"found {main!r}; expected the name of another rack: {listed}"
        return [Problem("E-NAME-001", message, (*path, "rack"))]
    turns = [one.turns_from.rack for one in installation.racks.values() if one.turns_from is not None]
    if rack.turns_from is not None or other.turns_from is not None or name in turns or main in turns:
        return [Problem("E-FIT-001", "found a joined rack that also turns a corner; expected one of both", path)]
    same = [one.joined_to.rack for one in installation.racks.values() if one.joined_to is not None]
    if other.joined_to is not None or same.count(main) > 1 or name in same:
        message = f"found more than two racks joined with {main!r}; expected two that are joined to no third"
        return [Problem("E-FIT-001", message, (*path, "rack"))]
    if not rack.beams_face(other):
        message = "found a joined rack whose beams are on top of its posts; expected beam_seat: on the side, beam against beam"
        return [Problem("E-FIT-001", message, path)]
    key = rack.unlike(other)
    if key is not None:
        message = (
            f"found another {key} than that of {main!r}, to which it is joined; expected the same, post beside post"
        )
        return [Problem("E-FIT-001", message, ("racks", name, key if key in rack.model_fields_set else "joined_to"))]
    place = rack.place_beside(installation.racks)
    if place is not None and rack.at is not None and math.dist(place, rack.at) > NEAR_CORNER:
        shown = " x ".join(show(value, "distance", installation.system) for value in place)
        message = f"found at away from the back of {main!r}; expected {shown}, or no at"
        return [Problem("E-FIT-001", message, ("racks", name, "at"))]
    return []


def _hung(installation: Installation) -> list[Problem]:
    """What hangs has a rail that is there, and room for its drop."""
    problems: list[Problem] = []
    if installation.hung and CEILING in installation.racks:
        message = "found a rack named 'ceiling' beside hung things; expected another name"
        problems.append(Problem("E-NAME-002", message, ("racks", CEILING), at_key=True))
    for index, thing in enumerate(installation.hung):
        rack = installation.racks.get(thing.held_by)
        if thing.from_ceiling or rack is None:
            continue
        if thing.rail is not None and thing.rail > len(rack.rails):
            message = (
                f"found rail {thing.rail} of a rack with {len(rack.rails)}; expected one of its rails, counted from 1"
            )
            problems.append(Problem("E-FIT-001", message, ("hung", index, "rail")))
            continue
        room = room_to_hang(rack, thing.rail)
        if thing.drop > room + 1e-6:
            shown, from_where = (
                show(room, "length", installation.system),
                "its rail" if thing.rail else "the rack's top",
            )
            below = "to the deck or floor below" if thing.rail else "to the floor"
            message = f"found a drop longer than from {from_where} {below}, {shown}; expected at most that"
            problems.append(Problem("E-FIT-001", message, ("hung", index, "drop")))
    return problems


def room_to_hang(rack: Rack, rail: int | None) -> float:
    """From a rail down to the deck below it, or to the floor; without a rail, from the rack's top to the floor (m)."""
    if rail is None:
        return rack.top
    height = rack.rails[rail - 1].height
    return height - max((deck for deck in rack.decks if deck < height), default=0.0)
