"""The frame of a rack from its file, or of several that turn corners into each other.

In a rack's own directions x runs along from its left end, y across from the front posts' line to the back's, z up.
"""

from __future__ import annotations

import itertools

import numpy as np
from numpy.typing import NDArray

from brimfast.assess.frame import elements
from brimfast.assess.frame.builder import Builder, PostPoint
from brimfast.assess.frame.gussets import add_gusset, gusset_height
from brimfast.assess.frame.masses import post_masses
from brimfast.assess.frame.model import Element, Frame, Masses, NoFrameError, Place
from brimfast.assess.frame.places import SAME, SIDES, face_posts, merged, nearest
from brimfast.assess.frame.rack_input import RackInput
from brimfast.assess.frame.sections import hinged_member, modulus, section
from brimfast.assess.frame.stiffening import add_brace, add_panel
from brimfast.assess.frame.tier import add_tier
from brimfast.assess.frame.topology import GROUND, Topology
from brimfast.assess.joints.stiffness import ULTIMATE, UNKNOWN_SLIP, fastener_slip, joints_unknown, slip_in
from brimfast.assess.wall_support import counted_tie
from brimfast.data_tables.loader import factor_si, wood_species

Array = NDArray[np.float64]
MOST_BAYS = 30  # of all tiers and runs: more would take minutes


def build(racks: list[RackInput]) -> Frame:
    """The frame of one rack, or of a straight one with those that turn from it or are joined to it. Raises NoFrameError."""
    bays = sum(one.rack.bays * len(one.rack.decks) for one in racks)
    if bays > MOST_BAYS:
        raise NoFrameError(
            f"on all its decks it has {bays} bays, more than the {MOST_BAYS} that are taken as one frame"
        )
    builder = Builder()
    places: dict[str, Place] = {}
    main = next((one for one in racks if one.rack.stands_with is None), racks[0])
    places[main.name] = Place(np.zeros(3), np.eye(3))
    extra: dict[str, list[float]] = {"front": [], "back": []}
    turned = [one for one in racks if one.rack.turns_from is not None]
    for one in turned:
        turn = one.rack.turns_from
        assert turn is not None
        places[one.name], stations = _turned_place(one, main, turn.end, turn.side)
        extra[turn.side] += stations
    _rack(builder, main, places[main.name], sorted(extra["front"] + extra["back"]))
    for one in turned:
        _rack(builder, one, places[one.name], [])
        _corner(builder, one, main)
    for one in racks:
        if one.rack.joined_to is not None:
            places[one.name] = Place(np.array([0.0, main.across, 0.0]), np.eye(3))
            _rack(builder, one, places[one.name], [])
            _join(builder, one, main)
    n = len(builder.points)
    weight = np.zeros(6 * n)
    names, points, loads, moved = zip(*builder.loads, strict=True)
    masses = Masses(np.array(names), np.array(points, dtype=np.int64), np.array(loads), np.array(moved))
    np.subtract.at(weight, masses.points * 6 + 2, masses.weights)
    topology = Topology(
        np.array(builder.points),
        np.array(builder.ends, dtype=np.int64),
        np.array(builder.compatibility),
        np.zeros((n, 6), dtype=np.bool_),
        np.array(builder.first, dtype=np.int64),
        None if turned else np.array(builder.level, dtype=np.int64),
    )
    return Frame(
        topology,
        np.array(builder.coefficients),
        np.array([builder.hinged.get(index, each) for index, each in enumerate(builder.coefficients)]),
        np.array([builder.soft.get(index, each) for index, each in enumerate(builder.coefficients)]),
        any(joints_unknown(one.rack, one.joints) for one in racks),
        np.array(builder.lengths),
        tuple(builder.elements),
        places,
        builder.posts,
        builder.decks,
        {one.name: one.rack.feet.anchored for one in racks},
        {one.name: one.rack.beam_runs == "whole length" for one in racks},
        np.array(builder.stands_for),
        np.array(builder.one_way),
        weight,
        masses,
    )


def _turned_place(one: RackInput, main: RackInput, end: str, side: str) -> tuple[Place, list[float]]:
    """A run that leaves the main rack's front or back at a right angle, flush with its left or right end.

    As in the plan its left end is the lower one and its front on the left, so its own directions are a mirror image.
    """
    start = main.rack.length - one.across if end == "right" else 0.0
    aside = main.across if side == "back" else -one.rack.length
    axes = np.array([[0.0, 1, 0], [1, 0, 0], [0, 0, 1]])
    return Place(np.array([start, aside, 0.0]), axes), [start, start + one.across]


def _rack(builder: Builder, one: RackInput, place: Place, extra: list[float]) -> None:
    rack, parts = one.rack, one.parts
    lines = [index * rack.bay_length for index in range(rack.bays + 1)]
    axes = place.axes

    def at(x: float, y: float, z: float) -> Array:
        return np.asarray(place.origin + np.array([x, y, z]) @ axes)

    heights = _post_heights(one)
    post_at: dict[tuple[int, str, int], int] = {}  # line, side, index in heights
    E_post = modulus(parts.post, rack)
    for line, x in enumerate(lines):
        for side, y in (("front", 0.0), ("back", one.across)):
            points = [builder.point(at(x, y, z), line) for z in heights[side]]
            for index, point in enumerate(points):
                post_at[line, side, index] = point
            for index, (low, high) in enumerate(itertools.pairwise(points)):
                L = heights[side][index + 1] - heights[side][index]
                stiffness = section(parts.post, E_post, L)
                builder.member(Element("post", one.name, side, index, line), low, high, stiffness, axes[0])
            builder.posts[one.name, line, side] = tuple(points)
            k = factor_si("foot_stiffness")
            builder.link(Element("foot", one.name, side, 0, line), points[0], GROUND, (k, k, k, 0, 0, 0))

    def post(line: int, side: str, z: float) -> int:
        return post_at[line, side, nearest(heights[side], z)]

    for tier in range(1, len(rack.decks) + 1):
        add_tier(builder, one, place, tier, lines, post, extra)
    for index, (brace, timber) in enumerate(zip(rack.braces, parts.braces, strict=True)):
        add_brace(builder, one, index, brace, timber, post)
    for index, panel in enumerate(rack.panels):
        add_panel(builder, one, index, panel, post)
    for index, gusset in enumerate(rack.gussets):
        add_gusset(builder, one, index, gusset, lines, axes, post)
    for index, (rail, timber) in enumerate(zip(rack.rails, parts.rails, strict=True)):
        E = modulus(timber, rack)
        for face in rail.faces:
            for a, b in face_posts(rack, face):
                i, j = post(*a, rail.height), post(*b, rail.height)
                L = float(np.linalg.norm(builder.points[j] - builder.points[i]))
                coefficients = hinged_member(timber, E, L)
                builder.member(Element("rail", one.name, face, index, a[0]), i, j, coefficients, axes[2])
    if parts.sill is not None:
        E = modulus(parts.sill, rack)
        for side in SIDES:
            for line in range(rack.bays):
                sill_stiffness = E * parts.sill.area / rack.bay_length
                what = Element("sill", one.name, side, 0, line)
                builder.bar(what, post(line, side, 0.0), post(line + 1, side, 0.0), sill_stiffness)
    _wall_tie(builder, one, axes, post)
    post_masses(builder, one, axes, post)


def _post_heights(one: RackInput) -> dict[str, list[float]]:
    """Heights of the points of the posts of each side: foot, beams, and what else is fastened there."""
    rack, weight = one.rack, one.weight
    fixed = [0.0, *weight.beam_centres]
    more: dict[str, list[float]] = {"front": [], "back": []}
    tie = counted_tie(rack)
    if tie is not None:
        more["back"].append(tie.height)
    for rail in rack.rails:
        for side in SIDES:
            more[side].append(rail.height)
    for brace in rack.braces:
        if brace.leg is not None:
            foot, top = weight.storey(brace.storey)
            if brace.leg >= top - foot - SAME:
                raise NoFrameError("a knee's leg is as long as its storey is high")
            more[brace.face].append(top - brace.leg)
    for gusset in rack.gussets:
        more[gusset.face].append(gusset_height(one, gusset))
    return {side: merged(found, fixed) for side, found in more.items()}


def _wall_tie(builder: Builder, one: RackInput, axes: Array, post: PostPoint) -> None:
    """The highest row of ties into studs, each at the post nearest to it: what they hold across, and along."""
    rack, tie = one.rack, counted_tie(one.rack)
    if tie is None:
        return
    slip = slip_in(wood_species(tie.stud).G, tie.diameter)
    counts = [0] * (rack.bays + 1)
    for place in np.linspace(0, rack.bays, tie.count) if tie.count > 1 else [rack.bays / 2]:
        counts[int(place + 0.5)] += 1
    for line, count in enumerate(counts):
        if count:
            for kind, k in (("tie", (0.0, factor_si("tie_stiffness"), 0.0)), ("tie along", (slip, 0.0, 0.0))):
                stiffness = np.abs(np.array(k) @ axes) * count
                what = Element(kind, one.name, "back", count, line)
                builder.link(what, post(line, "back", tie.height), GROUND, (*stiffness, 0, 0, 0))


def _join(builder: Builder, one: RackInput, main: RackInput) -> None:
    """Beam against beam beside every post, on every deck; the two rows of posts stand in one plane: the safe side.

    What goes through both beams slips in every direction and holds no turn.
    """
    joined = one.rack.joined_to
    assert joined is not None
    slip = fastener_slip(joined.fasteners, one.parts.beam, main.parts.beam) or UNKNOWN_SLIP
    k = slip * joined.fasteners.count
    for tier in range(1, len(one.rack.decks) + 1):
        gap = abs(one.weight.beam_centres[tier - 1] - main.weight.beam_centres[tier - 1])
        if gap > SAME:
            raise NoFrameError(f"its beams lie at another height than those of rack {main.name}, to which it is joined")
        mine, its = (
            [pair[side] for pair in builder.decks[name, tier]] for name, side in ((one.name, 0), (main.name, 1))
        )
        for line in range(one.rack.bays + 1):
            x = line * one.rack.bay_length
            i, j = (min(points, key=lambda p: abs(builder.points[p][0] - x)) for points in (its, mine))
            what = Element("join", one.name, "front", tier, line)
            builder.soft[len(builder.elements)] = elements.link_coefficients(np.array([k * ULTIMATE] * 3 + [0.0] * 3))
            builder.link(what, i, j, (k, k, k, 0.0, 0.0, 0.0))


def _corner(builder: Builder, one: RackInput, main: RackInput) -> None:
    """The posts at the near end of a run that turns are bolted to the main rack's beam."""
    turn = one.rack.turns_from
    assert turn is not None
    side = SIDES.index(turn.side)
    for face in SIDES:
        i = min(
            builder.posts[one.name, 0 if turn.side == "back" else one.rack.bays, face],
            key=lambda point: abs(builder.points[point][2] - one.weight.beam_centre),
        )
        j = min(
            (pair[side] for pair in builder.decks[main.name, 1]),
            key=lambda point: float(np.linalg.norm(builder.points[point] - builder.points[i])),
        )
        if np.linalg.norm(builder.points[i] - builder.points[j]) > 2 * SAME:
            raise NoFrameError(f"its beams lie at another height than those of rack {main.name}, from which it turns")
        builder.link(Element("corner", one.name, face, 1, 0), i, j, (UNKNOWN_SLIP,) * 3 + (0.0,) * 3)
