"""Diagonals, X-braces, knees, panels and wall ties where the rack has nothing yet."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

from brimfast.assess.joints.braces import WHERE
from brimfast.assess.measures.asked import rack_asks
from brimfast.assess.measures.faces import (
    ACCESS,
    ITEM,
    THICK,
    Places,
    ends_first,
    free_bays,
    place_words,
    rises,
    timber,
)
from brimfast.assess.measures.fasteners import bolts_worth
from brimfast.assess.measures.gussets import gussets
from brimfast.assess.measures.measure import Measure, Need, brace_ends, fastener_item, fastener_size
from brimfast.assess.measures.panels import panelled
from brimfast.assess.measures.reach import pulled_out, tight
from brimfast.assess.measures.stock import Bolt, feet, lag_hole, long, written
from brimfast.assess.pipeline import Assessment
from brimfast.shared.constants import INCH
from brimfast.shared.edits import Edit
from brimfast.shared.installation.joint import Fasteners
from brimfast.shared.installation.rack import FACES
from brimfast.shared.units import System

STUDS = {"us": 16 * INCH, "si": 0.6}  # usual distance of wall studs
NEAR_WALL = 3.5 * INCH  # a gap that blocking fills
IN_STUD = 2.5 * INCH  # of thread and tip
GYPSUM = 0.5 * INCH
NEEDS_OUTSIDE = 2.5 * INCH  # a brace outside the posts, and the heads of its bolts
ASKS = ("joint/{}/beam to post/(earthquake|across)", "leaning/{}/", "sway/{}/", "member/{}/post/", "tipping/rack {}/", "joint/{}/brace", "member/{}/brace", "joint/{}/panel", "member/{}/beam/earthquake")  # fmt: skip


def bracing_measures(assessment: Assessment) -> Iterator[Measure]:
    for name in assessment.installation.racks:
        if not rack_asks(assessment, name, *ASKS):
            continue
        for direction in FACES:
            yield from _direction(assessment, name, direction)
        yield from _ends(assessment, name)
        yield from _wall(assessment, name)


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


def _direction(assessment: Assessment, name: str, direction: str) -> Iterator[Measure]:
    """The same in as many bays of both faces: one, or the two end bays; every storey."""
    installation = assessment.installation
    rack = installation.racks[name]
    near = tight(installation, name)
    both = {face: free_bays(installation, name, face) for face in FACES[direction]}
    room = min(len(bays) for bays in both.values())
    group = f"{name}/{direction}"
    joint = _joint(assessment, name)
    for count in range(1, min(room, 2) + 1):
        places = [(face, bay) for face, bays in both.items() for bay in ends_first(bays)[:count]]
        if joint is not None:
            for kind in ("single", "x"):
                if kind == "single" and count > 1:
                    continue
                if kind == "x" and any(near.get(face, NEEDS_OUTSIDE) < NEEDS_OUTSIDE for face, _ in places):
                    continue
                yield _braced(assessment, name, direction, group, kind, places, joint)
        if count == 1:
            yield panelled(installation, name, direction, group, places)
    if direction == "along" and room == rack.bays and joint is not None and len(rack.decks) == 1:
        yield from _knees(assessment, name, group, joint)
        yield from gussets(assessment, name, group)


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
    lengths = [math.hypot(rack.run(face), rise) + beyond for face, _ in places for rise in rises(rack)]
    bars = each * len(lengths)
    needs = [
        Need(
            ITEM,
            each * sum(feet(length) for length in lengths),
            f"{member}, {bars} pieces up to {long(max(lengths), system)}",
        ),
        Need("fit a brace", bars, "diagonal, cut and set"),
        *_end_bolts(assessment, name, 2 * bars, joint),
    ]
    if kind == "x":
        bolt = Bolt(0, system)
        fits = bolt.length(2 * THICK[system] + assessment.resolved.racks[name].post.thickness)
        assert fits is not None
        size = f"{bolt.text} x {written(fits, system, 2, 5.0, up=True)}, through the two of an X and the block between them"
        needs.append(Need(bolt.item, len(lengths), size))
    where = place_words(places, rack)
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
            f"from the foot of one post (or the deck below) to the beam at the next, {_end_words(assessment, name, joint)} at each end",
            *_inside(assessment, name, places),
            "four bolt diameters of wood beyond each bolt's edge, seven beyond its end",
            *(
                (
                    "one diagonal outside the posts, one inside, an offcut as thick as the post between them where they cross, a bolt through all three",
                )
                if kind == "x"
                else ()
            ),
            *((ACCESS,) if direction == "along" else ()),
        ),
        pulled_out(assessment.installation, name, dict.fromkeys(face for face, _ in places), system),
    )


def _end_bolts(assessment: Assessment, name: str, ends: int, joint: tuple[Edit, ...]) -> list[Need]:
    """What holds the ends: the file's own kind of joint where it has one."""
    there = _there(assessment, name, joint)
    what = f"{fastener_size(there, assessment.installation)}, for the ends of braces"
    return [Need(fastener_item(there), ends * there.count, what, name)]


def _there(assessment: Assessment, name: str, joint: tuple[Edit, ...]) -> Fasteners:
    there = assessment.installation.joints_of(name).get(WHERE)
    return there.fasteners if there is not None else Fasteners.model_validate(joint[0].value["fasteners"])


def _end_words(assessment: Assessment, name: str, joint: tuple[Edit, ...]) -> str:
    there = _there(assessment, name, joint)
    if there.kind == "through-bolt":
        return "a bolt through brace and post" if there.count == 1 else f"{there.count} bolts through brace and post"
    return f"{there.count} {there.kind}{'s' if there.count > 1 else ''} as at the braces that are there"


def _inside(assessment: Assessment, name: str, places: Places) -> tuple[str, ...]:
    """Where a brace outside the posts would not go between rack and wall."""
    near = tight(assessment.installation, name, [face for face, _ in places])
    faces = [face for face, gap in near.items() if gap < NEEDS_OUTSIDE]
    return (f"at the {' and '.join(faces)} on the inside of the posts: outside the wall is too near",) if faces else ()


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
        (
            f"{text} below and beside the joint of beam and post, at 45 degrees",
            f"{_end_words(assessment, name, joint)} or beam at each end",
        ),
        pulled_out(assessment.installation, name, FACES["along"], system),
    )


def _ends(assessment: Assessment, name: str) -> Iterator[Measure]:
    """More at the ends of the braces that are there."""
    rack, system = assessment.installation.racks[name], assessment.installation.system
    group = f"{name}/brace ends"
    there = assessment.installation.joints_of(name).get(WHERE)
    faces = tuple(dict.fromkeys(brace.face for brace in rack.braces))
    if not faces or not rack_asks(assessment, name, "joint/{}/brace"):
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
            pulled_out(assessment.installation, name, faces, system),
        )


def studs_behind(length: float, system: System) -> int:
    """How many studs a wall of usual spacing has at least behind a length (m): whole spacings in it, wherever it begins."""
    return int(length / STUDS[system] + 1e-6)


def _wall(assessment: Assessment, name: str) -> Iterator[Measure]:
    """A row of lag screws into the studs at deck height, where a wall stands close behind."""
    rack, system = assessment.installation.racks[name], assessment.installation.system
    parts = assessment.resolved.racks[name]
    if rack.wall_ties or rack.wall_gap is None or not THICK[system] * 0.99 <= rack.wall_gap <= NEAR_WALL:
        return
    rail = rack.wall_gap
    length = rail + GYPSUM + IN_STUD
    count = min(studs_behind(rack.length, system), rack.posts // 2 * 2)
    bolt = Bolt(0, system)
    bolted = bolt.length(parts.post.thickness + THICK[system])
    if not count or bolted is None:
        return
    bolts, bolt_size = 2 * (rack.bays + 1), f"{bolt.text} x {written(bolted, system, 2, 5.0, up=True)}"
    group = f"{name}/wall"
    diameter, thick = ("3/8 in", 3 / 8 * INCH) if system == "us" else ("10 mm", 0.010)
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
                ITEM,
                feet(rack.length + parts.post.width),
                f"{timber(rack, system)}, the rail, with packing to fill the gap to the wall",
            ),
            Need(bolt.item, bolts, f"{bolt_size}, with nut and two washers, the rail to the back posts"),
        ),
        (
            f"find the studs first, and ask the landlord: gypsum board holds nothing; {count} are taken, with studs "
            f"{written(STUDS[system], system)} apart: count yours and write their number into the file",
            "the rail is bolted to every back post with two bolts, their heads let into it, before the rack goes back; "
            "where the beam lies on the outside of the posts it goes against the beam, with longer bolts; "
            "these bolts are not checked",
            f"lead hole {lag_hole(thick, system)} in the stud, into its middle, {written(IN_STUD, system)} deep",
            "a wall of brick or concrete needs other anchors, by their maker's table",
        ),
        pulled_out(assessment.installation, name, ("back",), system),
    )
