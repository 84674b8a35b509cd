"""Diagonals, X-braces, knees, panels and wall ties where the rack has nothing yet."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

from brimfast.assess.joints.braces import WHERE
from brimfast.assess.measures.asked import rack_asks
from brimfast.assess.measures.fasteners import bolts_worth
from brimfast.assess.measures.measure import Measure, Need, brace_ends
from brimfast.assess.measures.stock import Bolt, feet, written
from brimfast.assess.pipeline import Assessment
from brimfast.assess.resolve import RackParts
from brimfast.data_tables.loader import strength_class
from brimfast.shared.constants import INCH
from brimfast.shared.edits import Edit
from brimfast.shared.installation.rack import FACES, Rack
from brimfast.shared.units import System

THICK = {"us": 1.5 * INCH, "si": 0.045}
BOARD = {"us": "2x4", "si": "45x95 mm"}
ITEM = "brace timber 2x4"
SHEET = 2.44 * 1.22  # m²
PANEL = {
    "us": {"thickness": "15/32 in", "nail": "0.131 in", "edge_spacing": "4 in"},
    "si": {"thickness": "12 mm", "nail": "3.4 mm", "edge_spacing": "100 mm"},
}
STUDS = 16 * INCH  # usual distance of wall studs
NEAR_WALL = 3.5 * INCH  # a gap that blocking fills
IN_STUD = 2.5 * INCH  # of thread and tip
GYPSUM = 0.5 * INCH
ASKS = ("joint/{}/beam to post/(earthquake|across)", "leaning/{}/", "sway/{}/", "member/{}/post/", "tipping/rack {}/", "joint/{}/brace", "member/{}/brace", "joint/{}/panel", "member/{}/beam/earthquake")  # fmt: skip
ACCESS = "a braced bay can no longer be reached into from that side: choose the bay that you need least"


def bracing_measures(assessment: Assessment) -> Iterator[Measure]:
    for name in assessment.installation.racks:
        if not rack_asks(assessment, name, *ASKS):
            continue
        for direction in FACES:
            yield from _direction(assessment, name, direction)
        yield from _ends(assessment, name)
        yield from _wall(assessment, name)


def timber(rack: Rack, system: System) -> str:
    """The board as the file writes it, of the wood of the beams and treated as the posts are."""
    species = rack.beam.species or ("C24" if system == "si" else "hem-fir")
    species = species.upper() if strength_class(species) is not None else species
    words = [BOARD[system], species, rack.beam.grade or "", "treated" if rack.post.treated else ""]
    return " ".join(word for word in words if word)


def bolted_end(assessment: Assessment, name: str, size: int, count: int) -> dict[str, Any] | None:
    """How each end of a brace is bolted to its post."""
    system, parts = assessment.installation.system, assessment.resolved.racks[name]
    bolt = Bolt(size, system)
    length = bolt.length(THICK[system] + parts.post.thickness)
    if length is None:
        return None
    return {
        "kind": "through-bolt",
        "diameter": bolt.text,
        "length": written(length, system, 2, 5.0, up=True),
        "count": count,
    }


def _joint(assessment: Assessment, name: str) -> tuple[Edit, ...] | None:
    """Braces need a joint: the file's own, or a bolt at each end."""
    fasteners = bolted_end(assessment, name, 1, 1)
    if fasteners is None:
        return None
    item = {"rack": name, "where": WHERE, "fasteners": fasteners}
    return (Edit(("joints",), item, "ensure", ("rack", "where")),)


def _free_bays(rack: Rack, face: str) -> list[int]:
    """Bays of a face that nothing stiffens in any storey."""
    taken = {(at, bay) for at, bay, _ in rack.stiffened} | {
        (brace.face, brace.bay) for brace in rack.braces if brace.kind == "knee"
    }
    return [bay for bay in range(1, rack.bays_of(face) + 1) if (face, bay) not in taken]


def _direction(assessment: Assessment, name: str, direction: str) -> Iterator[Measure]:
    """The same in as many bays of both faces: one, or the two end bays; every storey."""
    rack, system = assessment.installation.racks[name], assessment.installation.system
    parts = assessment.resolved.racks[name]
    both = {face: _free_bays(rack, face) for face in FACES[direction]}
    room = min(len(bays) for bays in both.values())
    group = f"{name}/{direction}"
    joint = _joint(assessment, name)
    for count in range(1, min(room, 2) + 1):
        places = [(face, bay) for face, bays in both.items() for bay in _ends_first(bays)[:count]]
        if joint is not None:
            for kind in ("single", "x"):
                if kind == "single" and count > 1:
                    continue
                yield _braced(assessment, name, direction, group, kind, places, joint)
        if count == 1:
            yield _panelled(name, rack, parts, system, direction, group, places)
    if direction == "along" and room == rack.bays and joint is not None and len(rack.decks) == 1:
        yield from _knees(assessment, name, group, joint)


def _ends_first(bays: list[int]) -> list[int]:
    return [bays[0], *reversed(bays[1:])]


def _rises(rack: Rack) -> list[float]:
    """Height of each storey, floor or deck to deck (m)."""
    return [high - low for low, high in zip((0.0, *rack.decks), rack.decks, strict=False)]


def _place_words(places: list[tuple[str, int]], rack: Rack) -> str:
    faces: dict[str, list[int]] = {}
    for face, bay in places:
        faces.setdefault(face, []).append(bay)
    parts = [
        f"{face} (bay {' and '.join(map(str, bays))})" if rack.bays_of(face) > 1 else face
        for face, bays in faces.items()
    ]
    return " and ".join(parts)


def _braced(
    assessment: Assessment,
    name: str,
    direction: str,
    group: str,
    kind: str,
    places: list[tuple[str, int]],
    joint: tuple[Edit, ...],
) -> Measure:
    rack, system = assessment.installation.racks[name], assessment.installation.system
    member, each = timber(rack, system), 2 if kind == "x" else 1
    middle = {"bolted_at_middle": "yes"} if kind == "x" else {}
    edits = [
        Edit(
            ("racks", name, "braces"),
            {"face": face, "bay": bay, "storey": storey, "kind": kind, "member": member, **middle},
            "add",
        )
        for face, bay in places
        for storey in range(1, len(rack.decks) + 1)
    ]
    beyond = 14 * Bolt(1, system).diameter  # seven bolt diameters of wood past the bolt at each end
    lengths = [math.hypot(rack.run(face), rise) + beyond for face, _ in places for rise in _rises(rack)]
    bars = each * len(lengths)
    needs = [
        Need(
            ITEM,
            each * sum(feet(length) for length in lengths),
            f"{member}, pieces up to {_feet(max(lengths), system)}",
        ),
        Need("fit a brace", bars, "diagonal, cut and set"),
        *_end_bolts(assessment, name, 2 * bars, joint),
    ]
    if kind == "x":
        bolt = Bolt(0, system)
        long = bolt.length(2 * THICK[system] + assessment.resolved.racks[name].post.thickness)
        assert long is not None
        size = f"{bolt.text} x {written(long, system, 2, 5.0, up=True)}, through the two of an X and the block between them"
        needs.append(Need(bolt.item, len(lengths), size))
    where = _place_words(places, rack)
    what = "an X of two diagonals" if kind == "x" else "a single diagonal"
    return Measure(
        f"{group}/{kind} in {'; '.join(f'{face} {bay}' for face, bay in places)}",
        group,
        (f"rack {name}",),
        f"rack {name}, {direction}",
        f"{what} in {where}",
        (*edits, *joint),
        tuple(needs),
        (
            "from the foot of one post to the beam at the next, a bolt through brace and post at each end",
            "four bolt diameters of wood beyond each bolt's edge, seven beyond its end",
            *(
                (
                    "one diagonal outside the posts, one inside, a block as thick as the post between them where they cross, a bolt through all three",
                )
                if kind == "x"
                else ()
            ),
            *((ACCESS,) if direction == "along" else ()),
        ),
    )


def _feet(length: float, system: System) -> str:
    return f"{math.ceil(feet(length))} ft" if system == "us" else f"{math.ceil(length * 10) / 10:g} m"


def _end_bolts(assessment: Assessment, name: str, ends: int, joint: tuple[Edit, ...]) -> list[Need]:
    """What holds the ends: the file's own kind of joint where it has one."""
    there = assessment.installation.joints_of(name).get(WHERE)
    if there is not None:
        kind, count = there.fasteners.kind, there.fasteners.count
        item = "through-bolt 1/2" if kind == "through-bolt" else "structural screw"
        return [Need(item, ends * count, f"{kind} as at the braces that are there", name)]
    fasteners = joint[0].value["fasteners"]
    what = f"{fasteners['diameter']} x {fasteners['length']}, with nut and two washers, for the braces' ends"
    return [Need("through-bolt 1/2", ends * fasteners["count"], what, name)]


def _panelled(
    name: str,
    rack: Rack,
    parts: RackParts,
    system: System,
    direction: str,
    group: str,
    places: list[tuple[str, int]],
) -> Measure:
    storeys = range(1, len(rack.decks) + 1)
    edits = tuple(
        Edit(("racks", name, "panels"), {"face": face, "bay": bay, "storey": storey, **PANEL[system]}, "add")
        for face, bay in places
        for storey in storeys
    )
    areas = [rack.run(face) * rise for face, _ in places for rise in _rises(rack)]
    sheets = sum(max(math.ceil(2 * area / SHEET) / 2, 0.5) for area in areas)
    return Measure(
        f"{group}/panel in {'; '.join(f'{face} {bay}' for face, bay in places)}",
        group,
        (f"rack {name}",),
        f"rack {name}, {direction}",
        f"a plywood panel over {_place_words(places, rack)}",
        edits,
        (
            Need("plywood panel", sheets, f"sheets of {PANEL[system]['thickness']}, nails {PANEL[system]['nail']}"),
            Need(
                ITEM,
                sum(feet(rack.run(face)) for face, _ in places) * len(storeys),
                f"{timber(rack, system)}, a rail under each panel",
            ),
        ),
        (
            f"nails every {PANEL[system]['edge_spacing']} along all four edges, into posts, beam and a bottom rail",
            "it wants to lift its end posts: see the anchors",
            *((ACCESS,) if direction == "along" else ()),
        ),
    )


def _knees(assessment: Assessment, name: str, group: str, joint: tuple[Edit, ...]) -> Iterator[Measure]:
    """Short braces up to the beam in every bay of both long faces."""
    rack, system = assessment.installation.racks[name], assessment.installation.system
    leg = min(0.4 * rack.deck_height, 0.3 * rack.bay_length)
    if leg < 6 * INCH:
        return
    text, member = written(leg, system, 1, 10.0), timber(rack, system)
    places = [(face, bay) for face in FACES["along"] for bay in range(1, rack.bays + 1)]
    edits = tuple(
        Edit(
            ("racks", name, "braces"), {"face": face, "bay": bay, "kind": "knee", "leg": text, "member": member}, "add"
        )
        for face, bay in places
    )
    bars = 2 * len(places)
    yield Measure(
        f"{group}/knees",
        group,
        (f"rack {name}",),
        f"rack {name}, along",
        "knee braces from every post up to the beam, front and back",
        (*edits, *joint),
        (
            Need(ITEM, bars * feet(math.sqrt(2) * leg + 4 * INCH), f"{member}, in short pieces"),
            Need("fit a brace", bars / 2, "two knees, cut and set"),
            *_end_bolts(assessment, name, 2 * bars, joint),
        ),
        (f"{text} below and beside the joint of beam and post, at 45 degrees", "a bolt at each end"),
    )


def _ends(assessment: Assessment, name: str) -> Iterator[Measure]:
    """More at the ends of the braces that are there."""
    rack, system = assessment.installation.racks[name], assessment.installation.system
    group = f"{name}/brace ends"
    there = assessment.installation.joints_of(name).get(WHERE)
    if not rack.braces or not rack_asks(assessment, name, "joint/{}/brace"):
        return
    ends = brace_ends(rack)
    for size, count in ((2, 1), (1, 2)):
        fasteners = bolted_end(assessment, name, size, count)
        if fasteners is None:
            continue
        if count > 1:
            fasteners["spread"] = written(4 * Bolt(size, system).diameter, system)
        bolt = Bolt(size, system)
        if there is not None and bolts_worth(there.fasteners) >= count * bolt.diameter**2:
            continue
        text = f"{count} bolts {bolt.text}" if count > 1 else f"a bolt {bolt.text}"
        yield Measure(
            f"{group}/{count} x {bolt.text}",
            group,
            (f"rack {name}",),
            f"rack {name}, {WHERE}",
            f"{text} at each end of every brace",
            (Edit(("joints",), {"rack": name, "where": WHERE, "fasteners": fasteners}, "match", ("rack", "where")),),
            (
                Need(
                    bolt.item,
                    ends * count,
                    f"{bolt.text} x {fasteners['length']}, with nut and two washers, for the braces' ends",
                    name,
                ),
            ),
            (f"hole {bolt.hole()}; keep the distances to edges and ends",),
        )


def _wall(assessment: Assessment, name: str) -> Iterator[Measure]:
    """A row of lag screws into the studs at deck height, where a wall stands close behind."""
    rack, system = assessment.installation.racks[name], assessment.installation.system
    if rack.wall_ties or rack.wall_gap is None or not THICK[system] * 0.99 <= rack.wall_gap <= NEAR_WALL:
        return
    rail = rack.wall_gap
    length = rail + GYPSUM + IN_STUD
    count = min(max(int(rack.length / STUDS), 1), rack.posts // 2 * 2)
    group = f"{name}/wall"
    diameter, inches = ("3/8 in", 3 / 8 * INCH) if system == "us" else ("10 mm", 0.010)
    tie: dict[str, Any] = {
        "height": written(rack.deck_height, system),
        "count": count,
        "into": "stud",
        "gypsum": written(GYPSUM, system),
        "rail": written(rail, system),
        "diameter": diameter,
        "length": written(length, system, 2, 10.0, up=True),
    }
    yield Measure(
        f"{group}/ties",
        group,
        (f"rack {name}",),
        f"rack {name}, wall",
        f"{count} lag screws from a rail at deck height into the wall's studs",
        (Edit(("racks", name, "wall_ties"), tie, "add"),),
        (
            Need("wall tie", count, f"lag screw {diameter} x {tie['length']} with washer"),
            Need(
                ITEM, feet(rack.length), f"{timber(rack, system)}, the rail, with packing to fill the gap to the wall"
            ),
        ),
        (
            "find the studs first, and ask the landlord: gypsum board holds nothing",
            f"lead hole {written(0.55 * inches, system, 64, 0.1)} in the stud, into its middle, {written(IN_STUD, system)} deep",
            "a wall of brick or concrete needs other anchors, by their maker's table",
        ),
    )
