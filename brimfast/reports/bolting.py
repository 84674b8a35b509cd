"""What a plan drills, bolts and nails: of each place kind, size, count, hole and distances, read from the changed file."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from brimfast.assess.measures.measure import brace_ends, size
from brimfast.assess.measures.panels import FIELD
from brimfast.assess.measures.stock import bolt_hole, lag_hole
from brimfast.reports.words import both, capital, plain_name
from brimfast.shared.installation.joint import Fasteners, Joint
from brimfast.shared.installation.model import Installation
from brimfast.shared.installation.rack import AnchorValues, Rack
from brimfast.shared.units import System

HEAD = ("where", "what", "how many", "hole", "distances")
BY_MAKER = "as its maker says"


@dataclass(frozen=True)
class Place:
    where: str
    what: str
    count: str
    hole: str
    distances: str

    @property
    def cells(self) -> tuple[str, ...]:
        return self.where, self.what, self.count, self.hole, self.distances


def places(before: Installation, after: Installation) -> list[Place]:
    """Every place at which something is fastened otherwise than before."""
    system = after.system
    found: list[Place] = []
    for name, rack in after.racks.items():
        was = before.racks[name]
        now, then = after.joints_of(name), before.joints_of(name)
        for where, joint in now.items():
            ends = brace_ends(rack) != brace_ends(was) and where == "brace to post"
            if where not in then or then[where].fasteners != joint.fasteners or ends:
                found.append(_joint(name, rack, joint, system))
        found += _rack(name, was, rack, system)
    for vessel, was_vessel in zip(after.vessels, before.vessels, strict=True):
        if vessel.anchors is not None and vessel.anchors != was_vessel.anchors:
            into = "floor" if vessel.on == "floor" else "deck"
            found.append(_anchors(f"{vessel.name}, to the {into}", vessel.anchors.count, vessel.anchors, system))
        if vessel.lid is not None and vessel.lid != was_vessel.lid:
            asked = f" good for {both(vessel.lid.allowable, 'force', system)} of pull" if vessel.lid.allowable else ""
            count = str(vessel.lid.fastenings)
            found.append(Place(f"{vessel.name}, lid", f"fastening{asked}", count, BY_MAKER, "evenly spaced all round"))
    return found


def _joint(name: str, rack: Rack, joint: Joint, system: System) -> Place:
    held = joint.fasteners
    joints = {
        "beam to post": rack.posts * len(rack.decks),
        "brace to post": brace_ends(rack),
    }.get(joint.where)
    count = (
        f"{held.count} in each joint" if joints is None else f"{held.count} in each of {joints}: {held.count * joints}"
    )
    return Place(
        f"{capital(plain_name(f'rack {name}'))}, {joint.where}",
        _kind(held, system),
        count,
        _hole(held, system),
        _apart(held, system),
    )


def _kind(held: Fasteners, system: System) -> str:
    diameter, length = held.nail if held.nail is not None else (held.diameter, held.length)
    if diameter is None or length is None:
        return held.kind
    nails = f", nails {held.nails[0]} + {held.nails[1]}," if held.nails is not None else ""
    return f"{held.kind}{nails} {size(diameter, system, 64)} x {size(length, system)}"


def _hole(held: Fasteners, system: System) -> str:
    if held.diameter is None or held.kind in ("nail", "framing tie"):
        return "none"
    if held.kind == "through-bolt":
        return bolt_hole(held.diameter, system)
    if held.kind == "lag screw":
        return f"{lag_hole(held.diameter, system)} for the thread, full size for the shank"
    return BY_MAKER


def _apart(held: Fasteners, system: System) -> str:
    parts = []
    if held.spread is not None:
        parts.append(f"outermost {size(held.spread, system)} apart up the beam")
    if held.columns > 1 and held.gauge is not None:
        parts.append(f"{held.columns} columns {size(held.gauge, system)} apart")
    if held.end_distance is not None:
        parts.append(f"{size(held.end_distance, system, 8)} from the wood's end")
    if held.diameter is not None and held.kind in ("through-bolt", "lag screw"):
        parts.append(
            f"{size(4 * held.diameter, system)} from a loaded edge, {size(7 * held.diameter, system)} from an end in pull"
        )
    return "; ".join(parts) or "as now"


def _rack(name: str, was: Rack, rack: Rack, system: System) -> Iterator[Place]:
    title = capital(plain_name(f"rack {name}"))
    for brace in rack.braces:
        if brace not in was.braces:
            member = f"{brace.kind} brace, {brace.member.size} {brace.member.species or ''}".strip()
            at = f"{title}, {brace.face} bay {brace.bay}, storey {brace.storey}"
            middle = "bolted where they cross" if brace.bolted_at_middle else "ends: see brace to post"
            yield Place(at, member, "2" if brace.kind in ("x", "knee") else "1", "at its ends", middle)
    for panel in rack.panels:
        if panel not in was.panels:
            sheet = f"sheet of {size(panel.thickness, system, 32)}, nails {size(panel.nail, system, 64)} thick"
            edges = f"every {size(panel.edge_spacing, system)} along all edges, every {FIELD[system]} between"
            yield Place(f"{title}, {panel.face} bay {panel.bay}, storey {panel.storey}", sheet, "1", "none", edges)
    for gusset in rack.gussets:
        if gusset not in was.gussets:
            nail, long = (size(value, system, 64) for value in gusset.nail)
            what = f"two triangles of plywood {size(gusset.thickness, system, 32)}, nails {nail} x {long}"
            apart = (
                f"legs of {size(gusset.leg, system)} from the middles; past the other timber, two rows, evenly spaced"
            )
            at = f"{title}, {gusset.face} bay {gusset.bay}, storey {gusset.storey}"
            yield Place(at, what, f"{gusset.nails} nails in each of 4 legs: {4 * gusset.nails}", "none", apart)
    if rack.joined_to is not None and rack.joined_to != was.joined_to:
        held = rack.joined_to.fasteners
        posts = (rack.bays + 1) * len(rack.decks)
        count = f"{held.count} beside each of {posts} posts: {held.count * posts}"
        where = f"{title}, joined to {plain_name(f'rack {rack.joined_to.rack}')}"
        yield Place(where, _kind(held, system), count, _hole(held, system), _apart(held, system))
    for tie in rack.wall_ties:
        if tie not in was.wall_ties:
            what = f"{tie.kind} {size(tie.diameter, system, 64)} x {size(tie.length, system)} into a {tie.into}"
            height = f"{both(tie.height, 'length', system)} above the floor"
            yield Place(
                f"{title}, to the wall", what, str(tie.count), f"{lag_hole(tie.diameter, system)} in the stud", height
            )
    if rack.feet.anchored and rack.feet != was.feet:
        yield _anchors(f"{title}, feet", rack.posts * rack.feet.anchors_per_post, rack.feet, system)


def _anchors(where: str, count: int, values: AnchorValues, system: System) -> Place:
    asked = [
        f"{both(value, 'force', system)} of {way}"
        for value, way in ((values.tension, "pull"), (values.shear, "push"))
        if value is not None
    ]
    what = f"anchor good for {' and '.join(asked)}" if asked else "anchor"
    return Place(where, what, str(count), BY_MAKER, "from edges and each other as its maker's table asks")
