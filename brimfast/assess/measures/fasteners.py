"""Through-bolts in place of screws, more screws, stronger framing ties: only where they fit the wood."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from itertools import product
from typing import Any

from pydantic import ValidationError

from brimfast.assess.joints.beam_joint import WHERE
from brimfast.assess.joints.joist_to_beam import WHERE as JOISTS
from brimfast.assess.joints.layout import MOST_SPREAD, beam_to_post_layout
from brimfast.assess.measures.asked import rack_asks
from brimfast.assess.measures.faces import wood
from brimfast.assess.measures.measure import Measure, Need, fastener_size
from brimfast.assess.measures.reach import gaps, joined, pulled_out
from brimfast.assess.measures.stock import LONGEST_TIMBER, Bolt, feet, long, written
from brimfast.assess.parts import RackParts
from brimfast.assess.pipeline import Assessment
from brimfast.assess.timber.geometry import END_TENSION
from brimfast.shared.constants import INCH
from brimfast.shared.edits import Edit
from brimfast.shared.installation.joint import Fasteners
from brimfast.shared.installation.model import Installation
from brimfast.shared.installation.rack import FACES, Rack
from brimfast.shared.units import System

MOST_BOLTS = 2  # alternatives for one joint
FULL_NAIL = {"us": ("0.148 in x 1.5 in", "10 + 10"), "si": ("3.8 mm x 38 mm", "10 + 10")}
PROP = "prop the beam from the floor before you take a screw out, and let the water out first"


def fastener_measures(assessment: Assessment) -> Iterator[Measure]:
    for name in assessment.installation.racks:
        yield from _beam_to_post(assessment, name)
        yield from _joists(assessment, name)


def _index(assessment: Assessment, rack: str, where: str) -> int | None:
    joints = assessment.installation.joints
    return next((i for i, joint in enumerate(joints) if joint.rack == rack and joint.where == where), None)


def joints_of_one_kind(rack: Rack) -> int:
    """Groups of fasteners of a rack: one at every post and deck, two where two beams end on a post; beams that are doubled

    have their own unless bolts go through both (see _bolted).
    """
    ends = 2 * rack.bays if rack.ends_meet else rack.bays + 1
    return 2 * ends * len(rack.decks) * (2 if rack.paired else 1)


def each_joint(rack: Rack) -> str:
    return "in every beam's end at every post" if rack.ends_meet else "at every post"


def _beam_to_post(assessment: Assessment, name: str) -> Iterator[Measure]:
    rack, parts = assessment.installation.racks[name], assessment.resolved.racks[name]
    index = _index(assessment, name, WHERE)
    if index is None or rack.beam_seat == "on top" or not rack_asks(assessment, name, "joint/{}/beam to post"):
        return
    system, now = assessment.installation.system, assessment.installation.joints[index].fasteners
    group = f"{name}/beam to post"
    if now.kind in ("structural screw", "wood screw", "lag screw") and now.allowable is None:
        yield from _more_screws(assessment, name, index, now)
    for found in _bolts(rack, parts, now, system, partial(_end_there, rack, parts, now)):
        yield _bolted(assessment, name, index, group, found, beam=None)
    if rack.ends_meet and not joined(assessment.installation, name):
        room = _room_at_ends(assessment.installation, name, parts)
        for found in _bolts(_whole(rack), parts, now, system, partial(_end_of_new, parts, room)):
            assert found.end is not None
            beam = rack.length + found.gauge + 2 * found.end
            if beam <= LONGEST_TIMBER:
                yield _bolted(assessment, name, index, group, found, beam=beam)


def _whole(rack: Rack) -> Rack:
    return rack.model_copy(update={"beam_runs": "whole length"})


End = Callable[[float, float], float | None]


@dataclass(frozen=True)
class Pattern:
    """Bolts of one joint as the file writes them; between their columns, and from the outermost to the beam's end (m)."""

    bolt: Bolt
    count: int
    fasteners: dict[str, Any]
    gauge: float
    end: float | None

    @property
    def worth(self) -> float:
        return self.count * self.bolt.diameter**2

    @property
    def text(self) -> str:
        return f"{self.count} through-bolt{'s' if self.count > 1 else ''} {self.bolt.text}"


def _end_there(rack: Rack, parts: RackParts, now: Fasteners, D: float, gauge: float) -> float | None:
    """From the outermost bolt to the end of a beam that is there (m): as the file gives it, else as of a beam that ends

    flush with its post. None where two beams meet on a post: what half a post leaves is then worked out by the check.
    """
    if rack.ends_meet:
        return None
    if now.end_distance is None:
        return (parts.post.width - gauge) / 2
    columns = (now.gauge or 0.0) * (now.columns - 1)
    return now.end_distance + (columns - gauge) / 2


def _end_of_new(parts: RackParts, room: float, D: float, gauge: float) -> float:
    """Of a new beam: seven diameters, for full value, where there is room at the rack's ends; else flush or in between."""
    flush = (parts.post.width - gauge) / 2
    return max(min(END_TENSION.full * D, flush + room), flush)


def _room_at_ends(installation: Installation, name: str, parts: RackParts) -> float:
    """How far beams may stand out beyond the outer posts at either end (m)."""
    rack, room = installation.racks[name], installation.room
    space = gaps(installation, name)
    of_room = room.length if rack.along == "length" else room.width
    free = min((space[face] for face in FACES["across"] if face in space), default=(of_room - rack.length) / 2)
    return max(free - parts.post.width / 2, 0.0)


def _bolted(
    assessment: Assessment,
    name: str,
    index: int,
    group: str,
    found: Pattern,
    *,
    beam: float | None,
) -> Measure:
    """beam: length of new beams in one piece (m), where they take the place of short ones."""
    installation, bolt, fasteners = assessment.installation, found.bolt, found.fasteners
    rack, system, now = installation.racks[name], installation.system, installation.joints[index].fasteners
    new = rack if beam is None else _whole(rack)
    count = (
        fasteners["count"] * joints_of_one_kind(new) // (2 if rack.paired else 1)
    )  # one bolt goes through both beams
    edits = [Edit(("joints", index, "fasteners"), fasteners)]
    needs = [Need(bolt.item, count, f"{bolt.text} x {fasteners['length']}, with nut and two washers")]
    spread = f", the outermost {fasteners['spread']} apart up the beam" if "spread" in fasteners else ""
    gauge = " in the middle of the post's width"
    edge = written(1.5 * bolt.diameter, system, 8)
    if new.ends_meet:
        gauge = f" at the outer posts in the middle of their width, where two beams meet {edge} from the post's edge in each"
    if "gauge" in fasteners:
        middle = "alike to either side of the middle of the post's width"
        if new.ends_meet:
            middle += f" at the outer posts, where two beams meet the outer column {edge} from the post's edge in each"
        gauge = f" in two columns {fasteners['gauge']} apart, {middle}"
    steps = [
        PROP,
        f"drill through beam and post, hole {bolt.hole()},{gauge}{spread}",
        "a washer under head and nut; retighten after a month, and every year as the wood dries",
        "screws that are left in place are not counted",
    ]
    title = f"{found.text} {each_joint(new)} in place of the {installation.joints[index].fasteners.kind}s"
    if beam is None and "end_distance" in fasteners:
        assumed = ", as of beams that end flush with the outer posts" if now.end_distance is None else ""
        steps.append(
            f"counted with {fasteners['end_distance']} from the outermost bolt to the beam's end{assumed}: measure it, and "
            "write what is there into the file"
        )
    if beam is not None:
        edits.append(Edit(("racks", name, "beam_runs"), "whole length"))
        sides = 4 if rack.paired else 2
        board = wood(rack.beam.size, rack.beam.species, rack.beam.grade, rack.beam.treated)
        what = f"{board}, {sides * len(rack.decks)} pieces {long(beam, system)} long"
        needs.append(Need("beam timber", sides * len(rack.decks) * feet(beam), what))
        steps.insert(1, "unload the rack: beams that run over all posts in one piece take the place of the short ones")
        steps.append(f"{fasteners['end_distance']} of beam beyond the outermost bolt at either end")
        title += ", new beams in one piece"
    return Measure(
        f"{group}/{fasteners['count']} x {bolt.text}{'' if beam is None else '/whole'}",
        group,
        (f"rack {name}",),
        f"rack {name}, {WHERE}",
        title,
        tuple(edits),
        tuple(needs),
        tuple(steps),
        pulled_out(installation, name, FACES["along"], system),
    )


def _bolts(rack: Rack, parts: RackParts, now: Fasteners, system: System, end: End) -> list[Pattern]:
    """Patterns that keep all distances, with posts that lean and bend the joints, and with posts that braces hold."""
    found = [one for leans in (True, False) for one in _strongest(rack, parts, now, system, end, leans)]
    return list({(one.count, one.text): one for one in found}.values())


def _strongest(rack: Rack, parts: RackParts, now: Fasteners, system: System, end: End, leans: bool) -> list[Pattern]:
    """Each stronger than what is cheaper: by their number times diameter squared."""
    grip = parts.post.thickness + parts.beam.thickness * (2 if rack.paired else 1)
    found: list[Pattern] = []
    for size, rows, columns in product(range(3), range(1, 4), (1, 2)):
        bolt = Bolt(size, system)
        length = bolt.length(grip)
        if length is None or bolts_worth(now) >= rows * columns * bolt.diameter**2:
            continue
        pattern = _pattern(rack, parts, bolt, rows, columns, length, system, end, leans)
        if pattern is not None:
            found.append(pattern)
    found.sort(key=lambda one: (one.count, -one.worth))
    chosen: list[Pattern] = []
    strongest = 0.0
    for one in found:
        if one.worth > strongest * 1.02 and (one.count > 1 or len(found) == 1):
            chosen.append(one)
            strongest = one.worth
    return chosen[:MOST_BOLTS]


def bolts_worth(now: Fasteners) -> float:
    """Of bolts that are there already; anything else is weaker."""
    return now.count * (now.diameter or 0.0) ** 2 if now.kind == "through-bolt" else 0.0


def _pattern(
    rack: Rack,
    parts: RackParts,
    bolt: Bolt,
    rows: int,
    columns: int,
    length: float,
    system: System,
    end: End,
    leans: bool,
) -> Pattern | None:
    """As far apart as the wood lets them, columns nearer where else the beam's end would be too near; None where a distance

    is not kept.
    """
    D, step = bolt.diameter, _marked(system)
    found: dict[str, Any] = {
        "kind": "through-bolt",
        "diameter": bolt.text,
        "length": written(length, system, 2, 5.0, up=True),
        "count": rows * columns,
    }
    if rows > 1:
        spread = _even(_room(parts.beam.width, D), system)
        if spread < (rows - 1) * 4 * D:
            return None
        found["spread"] = written(spread, system)
    widest, nearest = math.floor((parts.post.width - 3 * D) / step + 1e-6), math.ceil(2.5 * D / step - 1e-6)
    for gauge in [number * step for number in range(widest, nearest - 1, -1)] if columns > 1 else [0.0]:
        pattern = _with_end(bolt, found, columns, gauge, end(D, gauge), system)
        if _kept(rack, parts, pattern.fasteners, leans):
            return pattern
    return None


def _with_end(
    bolt: Bolt, fasteners: dict[str, Any], columns: int, gauge: float, end: float | None, system: System
) -> Pattern:
    found = dict(fasteners)
    if columns > 1:
        found |= {"columns": columns, "gauge": written(gauge, system)}
    if end is not None:
        eighth = INCH / 8 if system == "us" else 0.001
        end = math.floor(max(end, 0.0) / eighth + 1e-6) * eighth
        found["end_distance"] = written(end, system, 8)
    return Pattern(bolt, found["count"], found, gauge, end)


def _marked(system: System) -> float:
    """What is easily marked: a quarter inch, 5 mm (m)."""
    return 0.25 * INCH if system == "us" else 0.005


def _even(value: float, system: System) -> float:
    """Down to what is easily marked (m)."""
    step = _marked(system)
    return math.floor(value / step + 1e-6) * step


def _room(depth: float, D: float) -> float:
    """How far apart the outermost may be in a beam's depth (m): four diameters from its edges, just short of the most."""
    return min(depth - 8 * D, MOST_SPREAD * (1 - 1e-6))


def _kept(rack: Rack, parts: RackParts, found: dict[str, Any], leans: bool) -> bool:
    """Whether every distance of a pattern is kept."""
    try:
        fasteners = Fasteners.model_validate(found)
    except ValidationError:
        return False
    layout = beam_to_post_layout(rack, parts, fasteners, leans)
    kept = all(one.ratio is not None and one.ratio <= 1.0 for one in layout.findings("", ""))
    return kept and not any(math.isnan(value) for value in (layout.C_Delta, layout.C_Delta_along, layout.C_g))


def _more_screws(assessment: Assessment, name: str, index: int, now: Fasteners) -> Iterator[Measure]:
    """As many more of the same in a row as the wood has room for, and half of that."""
    rack, parts = assessment.installation.racks[name], assessment.resolved.racks[name]
    system = assessment.installation.system
    if now.diameter is None or now.length is None or now.columns > 1:
        return
    D = now.diameter
    room = _even(max(_room(parts.beam.width, D), 0.0), system)
    apart = 15.0 if D < 0.25 * INCH * 0.999 else 4.0  # diameters along the post's grain, thin ones without a lead hole
    most = int(room / (apart * D) + 1e-6) + 1
    group = f"{name}/beam to post"
    for count in sorted({most, (now.count + most + 1) // 2}):
        if count <= now.count:
            continue
        spread = written(room, system)
        changed = {"count": count, "spread": spread}
        fasteners = now.model_copy(update={"count": count, "spread": room})
        distances = beam_to_post_layout(rack, parts, fasteners, leans=True).findings("", "")
        if any(one.ratio is None or one.ratio > 1.0 for one in distances):
            continue
        added = (count - now.count) * joints_of_one_kind(rack)
        what = f"{fastener_size(now, assessment.installation)}, more of the same"
        yield Measure(
            f"{group}/{count} {now.kind}s",
            group,
            (f"rack {name}",),
            f"rack {name}, {WHERE}",
            f"{count} {now.kind}s {each_joint(rack)} instead of {now.count}",
            tuple(Edit(("joints", index, "fasteners", key), value) for key, value in changed.items()),
            (Need(now.kind, added, what),),
            (
                f"spread them evenly over {spread} up the beam, in the middle of the post's width",
                "a lead hole where the wood might split",
            ),
            pulled_out(assessment.installation, name, FACES["along"], system),
        )


def _joists(assessment: Assessment, name: str) -> Iterator[Measure]:
    """A full framing tie at each end of every joist."""
    rack, index = assessment.installation.racks[name], _index(assessment, name, JOISTS)
    if index is None or not rack_asks(assessment, name, "joint/{}/joist to beam"):
        return
    now, system = assessment.installation.joints[index].fasteners, assessment.installation.system
    nail, nails = FULL_NAIL[system]
    if now.kind == "framing tie" and now.nails is not None and min(now.nails) >= 10:
        return
    joists = assessment.racks[name].joist_count * len(rack.decks)
    group = f"{name}/joist to beam"
    yield Measure(
        f"{group}/full ties",
        group,
        (f"rack {name}",),
        f"rack {name}, {JOISTS}",
        "a framing tie with ten nails into each member at both ends of every joist",
        (Edit(("joints", index, "fasteners"), {"kind": "framing tie", "nails": nails, "nail": nail}),),
        (Need("framing tie", 2 * joists, f"for the joists' depth, {nails} nails {nail}, coated for treated wood"),),
        ("fill every round hole with the maker's nail", "the maker's own published value decides: ask for it"),
    )
