"""Which points, members, joints, braces, feet and ties does a rack have as a frame, and where do its masses sit?

One rack, or several that turn corners into each other. In a rack's own directions x runs along from its left end, y
across from the front posts' line to the back's, z up.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from brimfast.assess.bodies import inner_length, rack_offsets
from brimfast.assess.frame import elements
from brimfast.assess.frame.topology import GROUND, Topology
from brimfast.assess.joints.stiffness import UNKNOWN_SLIP, beam_joint_stiffness, brace_stiffness
from brimfast.assess.resolve import Member, RackParts
from brimfast.assess.timber.column import MOST_SLENDER
from brimfast.assess.timber.density import timber_density
from brimfast.assess.timber.group import slip_modulus
from brimfast.assess.timber.racking import diagonal_for_panel, diagonal_for_shear, panel_stiffness
from brimfast.assess.timber.service import Service
from brimfast.assess.timber.strength import adjusted
from brimfast.assess.wall_support import counted_tie
from brimfast.assess.weight import RackWeight, VesselWeight
from brimfast.data_tables.loader import factor_si, wood_species
from brimfast.shared.constants import GRAVITY
from brimfast.shared.installation.joint import Joint
from brimfast.shared.installation.model import Installation
from brimfast.shared.installation.rack import FACES, Brace, Rack, SheathedPanel

Array = NDArray[np.float64]
SAME = 0.03  # m: points nearer than this are one
MOST_STATIONS = 8  # joists a bay that are modelled one by one; more are taken together
RIGID = 1e7  # N·m/rad
SIDES = ("front", "back")
PostPoint = Callable[[int, str, float], int]  # the point of a post (line, side) nearest to a height


class NoFrameError(Exception):
    """The rack can't be modelled as a frame: `why` says so in words."""

    def __init__(self, why: str) -> None:
        super().__init__(why)
        self.why = why


@dataclass(frozen=True)
class Element:
    """What an element of the frame is. number: post line, bay, or place in the file's list, counted from 0."""

    kind: str  # post, beam, joist, rail, deck, sill, brace, knee, panel, joint, corner, foot, tie, tie along
    rack: str
    face: str = ""
    tier: int = 0  # tier, or storey
    number: int = 0


@dataclass(frozen=True)
class Place:
    """Where a rack stands in the frame: its left front post, and its own directions (rows: along, across, up)."""

    origin: Array
    axes: Array


@dataclass(frozen=True)
class Masses:
    """Masses at points: weight (N), and what a push by that weight along X or Y puts on the point's movements."""

    racks: NDArray[np.str_]
    points: NDArray[np.int64]
    weights: Array  # (k,)
    pushed: Array  # (k, 6, 2)

    def onto(self, movements: int, shares: Array) -> Array:
        """Loads (movements, 2) where each mass is pushed by a share (k, 2) of its weight."""
        out = np.zeros((movements, 2))
        rows = self.points[:, None] * 6 + np.arange(6)
        np.add.at(out, rows, self.pushed * shares[:, None, :])
        return out

    def moved(self, movements: Array) -> Array:
        """How far each mass goes in X and in Y (k, 2) when the points move by columns for X and for Y."""
        rows = self.points[:, None] * 6 + np.arange(6)
        return np.asarray(np.einsum("kmd,kmd->kd", self.pushed, movements[rows]) / self.weights[:, None])


@dataclass(frozen=True)
class Frame:
    topology: Topology
    coefficients: Array  # (e, 8)
    hinged: Array  # (e, 8) the same with beam-to-post joints that turn freely
    axes: Array  # (e, 3, 3) local axes as rows
    lengths: Array  # (e,)
    elements: tuple[Element, ...]
    places: dict[str, Place]
    posts: dict[tuple[str, int, str], tuple[int, ...]]  # points of each post from foot to top
    decks: dict[tuple[str, int], tuple[tuple[int, int], ...]]  # points of a tier's beams, front and back, left to right
    anchored: dict[str, bool]  # whether a rack's feet are
    one_piece: dict[str, bool]  # whether a rack's beams run through over the posts
    joist_counts: NDArray[np.int64]  # (e,) joists that an element stands for
    one_way: NDArray[np.bool_]  # (e,) only pulled: too slender to be pushed, or an X
    weight: Array  # (6 n,) loads of the weight
    masses: Masses

    def pushed(self, rack: str) -> Array:
        """Loads (6 n, 2) of a rack's masses pushed by their weight along X and along Y."""
        mine = self.masses.racks == rack
        return self.masses.onto(len(self.weight), np.broadcast_to(mine[:, None], (len(mine), 2)).astype(float))

    def of(self, *kinds: str, rack: str | None = None) -> NDArray[np.int64]:
        """Indices of the elements of these kinds."""
        return np.array(
            [
                index
                for index, element in enumerate(self.elements)
                if element.kind in kinds and rack in (None, element.rack)
            ],
            dtype=np.int64,
        )


@dataclass
class _Builder:
    points: list[Array] = field(default_factory=list)
    first: list[int] = field(default_factory=list)
    level: list[int] = field(default_factory=list)
    ends: list[tuple[int, int]] = field(default_factory=list)
    compatibility: list[Array] = field(default_factory=list)
    coefficients: list[Array] = field(default_factory=list)
    hinged: dict[int, Array] = field(default_factory=dict)
    axes: list[Array] = field(default_factory=list)
    lengths: list[float] = field(default_factory=list)
    elements: list[Element] = field(default_factory=list)
    posts: dict[tuple[str, int, str], tuple[int, ...]] = field(default_factory=dict)
    decks: dict[tuple[str, int], tuple[tuple[int, int], ...]] = field(default_factory=dict)
    one_way: list[bool] = field(default_factory=list)
    stands_for: list[int] = field(default_factory=list)
    loads: list[tuple[str, int, float, Array]] = field(default_factory=list)  # rack, point, weight, pushed moments

    def point(self, place: Array, level: int, first: int = 0) -> int:
        self.points.append(place)
        self.first.append(first)
        self.level.append(level)
        return len(self.points) - 1

    def member(self, what: Element, i: int, j: int, coefficients: Array, up: Array) -> None:
        L, axes = elements.local_axes(self.points[i], self.points[j], up)
        self._add(what, i, j, elements.member_compatibility(float(L), axes), coefficients, axes, float(L))

    def bar(self, what: Element, i: int, j: int, stiffness: float, one_way: bool = False) -> None:
        """A straight element that is only pulled or pushed (N/m)."""
        along = self.points[j] - self.points[i]
        up = np.array([0.0, 0.0, 1.0]) if abs(along[2]) < 0.9 * np.linalg.norm(along) else np.array([1.0, 0.0, 0.0])
        coefficients = np.zeros(elements.COEFFICIENTS)
        coefficients[0] = stiffness
        self.member(what, i, j, coefficients, up)
        self.one_way[-1] = one_way

    def link(self, what: Element, i: int, j: int, stiffness: Iterable[float]) -> None:
        coefficients = elements.link_coefficients(np.array(list(stiffness)))
        self._add(what, i, j, elements.link_compatibility(), coefficients, np.eye(3), 0.0)

    def _add(self, what: Element, i: int, j: int, A: Array, coefficients: Array, axes: Array, L: float) -> None:
        self.elements.append(what)
        self.ends.append((i, j))
        self.compatibility.append(A)
        self.coefficients.append(coefficients)
        self.axes.append(axes)
        self.lengths.append(L)
        self.one_way.append(False)
        self.stands_for.append(1)


@dataclass(frozen=True)
class RackInput:
    """All that the frame needs to know of one rack."""

    name: str
    rack: Rack
    parts: RackParts
    weight: RackWeight
    joints: dict[str, Joint]
    loads: tuple[tuple[float, float, int, float, float], ...]  # weight N, height m, tier, start and end along it (m)

    @property
    def across(self) -> float:
        """From post line to post line (m)."""
        return self.rack.width - self.parts.post.width


def rack_input(
    installation: Installation,
    name: str,
    parts: RackParts,
    weight: RackWeight,
    vessels: dict[str, VesselWeight],
) -> RackInput:
    rack, offsets = installation.racks[name], rack_offsets(installation, name)
    loads = []
    for part in weight.weighing.parts:
        if part.tier:
            loads.append((part.mass * GRAVITY, part.height, part.tier, 0.0, rack.length))
    for vessel in installation.on_rack(name):
        found, start, length = vessels[vessel.name], offsets[vessel.name], inner_length(vessel)
        trim = (1 - math.pi / 4) / 2 * length if vessel.round else 0.0
        height = rack.decks[vessel.tier - 1] + found.height
        loads.append((found.mass * GRAVITY, height, vessel.tier, start + trim, start + length - trim))
    joints = {joint.where: joint for joint in installation.joints if joint.rack == name}
    return RackInput(name, rack, parts, weight, joints, tuple(loads))


def build(racks: list[RackInput]) -> Frame:
    """The frame of one rack, or of a straight one with those that turn from it. Raises NoFrameError."""
    builder = _Builder()
    places: dict[str, Place] = {}
    main = next((one for one in racks if one.rack.turns_from is None), racks[0])
    places[main.name] = Place(np.zeros(3), np.eye(3))
    extra: dict[str, list[float]] = {"front": [], "back": []}
    turned = [one for one in racks if one is not main]
    for one in turned:
        turn = one.rack.turns_from
        assert turn is not None
        places[one.name], stations = _turned_place(one, main, turn.end, turn.side)
        extra[turn.side] += stations
    _rack(builder, main, places[main.name], sorted(extra["front"] + extra["back"]))
    for one in turned:
        _rack(builder, one, places[one.name], [])
        _corner(builder, one, main)
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
        np.array(builder.axes),
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


def _stiff(member: Member, rack: Rack) -> float:
    """Modulus of elasticity in service (N/m²). Raises NoFrameError where the tables have none."""
    if member.strength is None:
        raise NoFrameError(f"the tables have no stiffness for {member.species}")
    return adjusted(member.strength, "permanent", Service(rack.wet, rack.heat.split()[2]), member.incised).E


def _section(member: Member, E: float, L: float, upright: float, level: float, plies: int = 1) -> Array:
    """Coefficients without end springs: upright is the side (m) in the local z direction."""
    I_y, I_z = level * upright**3 / 12, upright * level**3 / 12
    long, short = max(upright, level), min(upright, level)
    J = long * short**3 / 3 * (1 - 0.63 * short / long)
    G = E * factor_si("wood_shear_share")
    EA, GJ, EI_y, EI_z = (np.array([plies * value]) for value in (E * member.area, G * J, E * I_y, E * I_z))
    return np.asarray(elements.member_coefficients(EA, GJ, EI_y, EI_z, np.array([L]))[0])


def _hinged(member: Member, E: float, L: float) -> Array:
    """A member that turns freely at both ends but does not spin: normal force and torque."""
    out = np.zeros(elements.COEFFICIENTS)
    out[0] = E * member.area / L
    out[1] = _section(member, E, L, member.width, member.thickness)[1]
    return out


def _merged(heights: Iterable[float], fixed: Iterable[float]) -> list[float]:
    """Sorted heights in which those of `fixed` take in what lies near them."""
    kept = sorted(fixed)
    for height in sorted(heights):
        if all(abs(height - other) > SAME for other in kept):
            kept.append(height)
    return sorted(kept)


def _nearest(values: list[float], wanted: float) -> int:
    return min(range(len(values)), key=lambda index: abs(values[index] - wanted))


def _rack(builder: _Builder, one: RackInput, place: Place, extra: list[float]) -> None:
    rack, parts = one.rack, one.parts
    lines = [index * rack.bay_length for index in range(rack.bays + 1)]
    axes = place.axes

    def at(x: float, y: float, z: float) -> Array:
        return np.asarray(place.origin + np.array([x, y, z]) @ axes)

    heights = _post_heights(one)
    post_at: dict[tuple[int, str, int], int] = {}  # line, side, index in heights
    E_post = _stiff(parts.post, rack)
    for line, x in enumerate(lines):
        for side, y in (("front", 0.0), ("back", one.across)):
            points = [builder.point(at(x, y, z), line) for z in heights[side]]
            for index, point in enumerate(points):
                post_at[line, side, index] = point
            for index, (low, high) in enumerate(itertools.pairwise(points)):
                L = heights[side][index + 1] - heights[side][index]
                section = _section(parts.post, E_post, L, parts.post.width, parts.post.thickness)
                builder.member(Element("post", one.name, side, index, line), low, high, section, axes[0])
            builder.posts[one.name, line, side] = tuple(points)
            k = factor_si("foot_stiffness")
            builder.link(Element("foot", one.name, side, 0, line), points[0], GROUND, (k, k, k, 0, 0, 0))

    def post(line: int, side: str, z: float) -> int:
        return post_at[line, side, _nearest(heights[side], z)]

    for tier in range(1, len(rack.decks) + 1):
        _tier(builder, one, place, tier, lines, post, extra)
    for index, (brace, timber) in enumerate(zip(rack.braces, parts.braces, strict=True)):
        _brace(builder, one, index, brace, timber, post)
    for index, panel in enumerate(rack.panels):
        _panel(builder, one, index, panel, post)
    for index, (rail, timber) in enumerate(zip(rack.rails, parts.rails, strict=True)):
        E = _stiff(timber, rack)
        faces = ("front", "back", "left", "right") if rail.face == "all" else (rail.face,)
        for face in faces:
            for a, b in _face_posts(rack, face):
                i, j = post(*a, rail.height), post(*b, rail.height)
                L = float(np.linalg.norm(builder.points[j] - builder.points[i]))
                coefficients = _hinged(timber, E, L)
                builder.member(Element("rail", one.name, face, index, a[0]), i, j, coefficients, axes[2])
    if parts.sill is not None:
        E = _stiff(parts.sill, rack)
        for side in SIDES:
            for line in range(rack.bays):
                stiffness = E * parts.sill.area / rack.bay_length
                what = Element("sill", one.name, side, 0, line)
                builder.bar(what, post(line, side, 0.0), post(line + 1, side, 0.0), stiffness)
    _wall_tie(builder, one, axes, post)
    _masses(builder, one, axes, post)


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
            for side in SIDES if brace.face in FACES["across"] else (brace.face,):
                more[side].append(top - brace.leg)
    return {side: _merged(found, fixed) for side, found in more.items()}


def _face_posts(rack: Rack, face: str) -> list[tuple[tuple[int, str], tuple[int, str]]]:
    """Pairs of neighbouring posts (line, side) of a face, bay by bay."""
    if face in FACES["along"]:
        return [((bay, face), (bay + 1, face)) for bay in range(rack.bays)]
    line = 0 if face == "left" else rack.bays
    return [((line, "front"), (line, "back"))]


def _stations(one: RackInput, tier: int, lines: list[float], more: list[float]) -> tuple[list[float], list[int]]:
    """Places along a tier's beams (m), and how many joists lie at each."""
    rack = one.rack
    step = -(-round(rack.bay_length / rack.joist.spacing) // MOST_STATIONS)
    joists = [min(index * rack.joist.spacing, rack.length) for index in range(one.weight.joist_count)]
    places = _merged([*joists[step // 2 :: step]], _merged(more, lines))
    counts = [0] * len(places)
    for x in joists:
        counts[_nearest(places, x)] += 1
    return places, counts


def _tier(
    builder: _Builder,
    one: RackInput,
    place: Place,
    tier: int,
    lines: list[float],
    post: PostPoint,
    extra: list[float],
) -> None:
    """Beams from station to station, joists and deck between them, and the joints to the posts."""
    rack, parts, z, axes = one.rack, one.parts, one.weight.beam_centres[tier - 1], place.axes
    knees = {
        x
        for brace in rack.braces
        if brace.leg is not None and brace.storey == tier
        for x in (lines[brace.bay - 1] + brace.leg, lines[brace.bay] - brace.leg)
    }
    stations, counts = _stations(one, tier, lines, sorted(knees) + (extra if tier == 1 else []))
    points: list[tuple[int, int]] = []
    fresh = 0
    special = [*knees, *(extra if tier == 1 else [])]
    for x in stations:
        line = _nearest(lines, x)
        on_line = abs(lines[line] - x) < 1e-9
        outer = on_line or any(abs(x - other) < SAME for other in special)
        fresh = 0 if on_line else fresh + 1
        first = 0 if outer else 2 - fresh % 2
        front, back = (builder.point(place.origin + np.array([x, y, z]) @ axes, line, first) for y in (0.0, one.across))
        points.append((front, back))
    builder.decks[one.name, tier] = tuple(points)
    _beams(builder, one, tier, stations, points, lines, axes)
    _joints(builder, one, tier, stations, points, lines, axes, post)
    E = _stiff(parts.joist, rack)
    Gt = (
        factor_si(f"sheet_shear_{parts.deck_material}") * parts.deck_thickness if parts.deck_material in SHEETS else 0.0
    )
    for index, ((front, back), count) in enumerate(zip(points, counts, strict=True)):
        if count:
            what = Element("joist", one.name, "", tier, index)
            builder.bar(what, front, back, count * E * parts.joist.area / one.across)
            builder.stands_for[-1] = count
        if index and Gt:
            before = points[index - 1]
            k = float(diagonal_for_shear(Gt, stations[index] - stations[index - 1], one.across))
            builder.bar(Element("deck", one.name, "", tier, index), before[0], back, k)
            builder.bar(Element("deck", one.name, "", tier, index), before[1], front, k)
    for weight, height, on, start, end in one.loads:
        if on == tier:
            _spread(builder, one, axes, stations, points, weight, height - z, hats(stations, start, end))


SHEETS = ("plywood", "osb", "wood")


def _beams(
    builder: _Builder,
    one: RackInput,
    tier: int,
    stations: list[float],
    points: list[tuple[int, int]],
    lines: list[float],
    axes: Array,
) -> None:
    rack, beam = one.rack, one.parts.beam
    E, plies = _stiff(beam, rack), 2 if rack.paired else 1
    turn = beam_joint_stiffness(rack, one.parts, one.joints.get("beam to post")).rotation
    at_post = [min(abs(x - line) for line in lines) < 1e-9 for x in stations]
    for index in range(len(stations) - 1):
        L = stations[index + 1] - stations[index]
        bay = _nearest([line + rack.bay_length / 2 for line in lines[:-1]], (stations[index] + stations[index + 1]) / 2)
        coefficients = _section(beam, E, L, beam.width, beam.thickness, plies)
        hinged = coefficients.copy()
        if rack.beam_runs == "each bay" and (at_post[index] or at_post[index + 1]):
            # each bay's beam ends at its own fasteners
            I_y, I_z = beam.thickness * beam.width**3 / 12, beam.width * beam.thickness**3 / 12
            k_y = [np.array([turn if ends else np.inf]) for ends in at_post[index : index + 2]]
            k_z = [np.array([0.0 if ends else np.inf]) for ends in at_post[index : index + 2]]
            coefficients[2:5] = np.array(elements.bending(plies * E * I_y, L, k_y[0], k_y[1])).ravel()
            coefficients[5:8] = np.array(elements.bending(plies * E * I_z, L, k_z[0], k_z[1])).ravel()
            hinged = coefficients.copy()
            hinged[2:5] = np.array(elements.bending(plies * E * I_y, L, k_z[0], k_z[1])).ravel()
        for side, face in enumerate(SIDES):
            what = Element("beam", one.name, face, tier, bay)
            builder.hinged[len(builder.elements)] = hinged
            builder.member(what, points[index][side], points[index + 1][side], coefficients, axes[2])


def _joints(
    builder: _Builder,
    one: RackInput,
    tier: int,
    stations: list[float],
    points: list[tuple[int, int]],
    lines: list[float],
    axes: Array,
    post: PostPoint,
) -> None:
    """What holds a beam to a post: slip in every direction, and a turn in the plane of the long face.

    The beam rolls and turns in plan freely: the prying of fasteners is not relied on. Beams of one bay each have
    their turn at their own ends.
    """
    rack = one.rack
    stiffness = beam_joint_stiffness(rack, one.parts, one.joints.get("beam to post"))
    whole = rack.beam_runs == "whole length"
    for line, x in enumerate(lines):
        index = _nearest(stations, x)
        ends = 1 if whole or line in (0, rack.bays) else 2
        turns = np.abs(np.array([0.0, stiffness.rotation if whole else RIGID, 0.0]) @ axes)
        slip = stiffness.slip * ends
        for side, face in enumerate(SIDES):
            i = post(line, face, one.weight.beam_centres[tier - 1])
            what = Element("joint", one.name, face, tier, line)
            if whole:
                builder.hinged[len(builder.elements)] = elements.link_coefficients(np.array([slip] * 3 + [0.0] * 3))
            builder.link(what, i, points[index][side], (slip, slip, slip, *turns))


def hats(stations: list[float], start: float, end: float) -> Array:
    """Share of an even load from start to end (m) that each station takes: its sum and its centre are kept."""
    share = np.zeros(len(stations))
    for index in range(len(stations) - 1):
        low, high = stations[index], stations[index + 1]
        a, b = max(start, low), min(end, high)
        if b > a:
            right = ((a + b) / 2 - low) / (high - low)
            share[index] += (b - a) * (1 - right)
            share[index + 1] += (b - a) * right
    return np.asarray(share / share.sum())


def _spread(
    builder: _Builder,
    one: RackInput,
    axes: Array,
    stations: list[float],
    points: list[tuple[int, int]],
    weight: float,
    arm: float,
    share: Array,
) -> None:
    """A mass on a deck: its weight, and its push in its own height: forces at the beams and the couple as up and down.

    Along, the couple presses on the deck as far as the mass reaches, evenly rising; across, on front and back.
    """
    x = np.array(stations) - float(share @ np.array(stations))
    spread = float(share @ x**2)
    for index, part in enumerate(share):
        if part == 0:
            continue
        for side, point in enumerate(points[index]):
            w = weight * part / 2
            along, across = np.zeros(6), np.zeros(6)
            along[:3] = w * axes[0]
            if spread > SAME**2:
                along[2] -= w * arm * x[index] / spread
            else:
                along[3:] += w * arm * np.cross(axes[2], axes[0])
            across[:3] = w * axes[1]
            across[2] += (1 if side == 0 else -1) * weight * part * arm / one.across
            _push(builder, one, axes, point, w, along, across)


def _push(
    builder: _Builder, one: RackInput, axes: Array, point: int, weight: float, along: Array, across: Array
) -> None:
    moved = np.stack([along * axes[0, way] + across * axes[1, way] for way in (0, 1)], axis=1)
    builder.loads.append((one.name, point, weight, moved))


def _masses(builder: _Builder, one: RackInput, axes: Array, post: PostPoint) -> None:
    """What the posts carry by themselves, shared by the points where it is; the rest of its height as a moment."""
    rack, weight = one.rack, one.weight
    ends = list(SIDES)
    for part in weight.weighing.parts:
        if part.tier:
            continue
        shares: dict[int, float] = {}
        if part.part == "posts":
            for line in range(rack.bays + 1):
                for side in ends:
                    chain = builder.posts[one.name, line, side]
                    z = [builder.points[point][2] for point in chain]
                    total = z[-1] - z[0]
                    for a, b in zip(range(len(chain) - 1), range(1, len(chain)), strict=True):
                        for index in (a, b):
                            shares[chain[index]] = shares.get(chain[index], 0.0) + (z[b] - z[a]) / total / 2
        else:
            height = 0.0 if part.part == "sills" else part.height
            for line in range(rack.bays + 1):
                for side in ends:
                    shares[post(line, side, height)] = 1.0
        whole = sum(shares.values())
        mean = sum(share * builder.points[point][2] for point, share in shares.items()) / whole
        for point, share in shares.items():
            w = part.mass * GRAVITY * share / whole
            along, across = np.zeros(6), np.zeros(6)
            along[:3], across[:3] = w * axes[0], w * axes[1]
            along[3:] = w * (part.height - mean) * np.cross(axes[2], axes[0])
            across[3:] = w * (part.height - mean) * np.cross(axes[2], axes[1])
            _push(builder, one, axes, point, w, along, across)


def _brace(builder: _Builder, one: RackInput, index: int, brace: Brace, timber: Member, post: PostPoint) -> None:
    rack, parts = one.rack, one.parts
    E = _stiff(timber, rack)
    joint = one.joints.get("brace to post")
    fasteners = joint.fasteners if joint is not None else None
    foot, top = one.weight.storey(brace.storey)
    (a, b) = _face_posts(rack, brace.face)[brace.bay - 1]
    pairs: list[tuple[int, int]] = []
    if brace.leg is not None:
        stations = builder.decks[one.name, brace.storey]
        side = SIDES.index(brace.face)
        for (line, face), way in ((a, 1), (b, -1)):
            wanted = builder.points[post(line, face, top)] + way * brace.leg * _along(builder, one)
            beam = min(
                (pair[side] for pair in stations), key=lambda p: float(np.linalg.norm(builder.points[p] - wanted))
            )
            pairs.append((post(line, face, top - brace.leg), beam))
    else:
        pairs.append((post(*a, foot), post(*b, top)))
        if brace.kind == "x":
            pairs.append((post(*b, foot), post(*a, top)))
    for i, j in pairs:
        L = float(np.linalg.norm(builder.points[j] - builder.points[i]))
        k = brace_stiffness(E * timber.area, L, fasteners, timber, parts.post)
        slender = L / min(timber.thickness, timber.width) > MOST_SLENDER
        what = Element("knee" if brace.leg is not None else "brace", one.name, brace.face, brace.storey, index)
        builder.bar(what, i, j, k, one_way=brace.kind == "x" or (brace.kind == "single" and slender))


def _along(builder: _Builder, one: RackInput) -> Array:
    first = builder.posts[one.name, 0, "front"][0]
    last = builder.posts[one.name, one.rack.bays, "front"][0]
    return np.asarray((builder.points[last] - builder.points[first]) / one.rack.length)


def _panel(builder: _Builder, one: RackInput, index: int, panel: SheathedPanel, post: PostPoint) -> None:
    rack, parts = one.rack, one.parts
    foot, top = one.weight.storey(panel.storey)
    (a, b) = _face_posts(rack, panel.face)[panel.bay - 1]
    pairs = [(post(*a, foot), post(*b, top)), (post(*b, foot), post(*a, top))]
    rho = float(timber_density(min(parts.post.G, parts.beam.G), 0.12))
    K = float(slip_modulus(rho, panel.nail, predrilled=False))
    Gt = factor_si("sheet_shear_plywood") * panel.thickness
    length, height = float(np.linalg.norm((builder.points[pairs[0][1]] - builder.points[pairs[0][0]])[:2])), top - foot
    k = diagonal_for_panel(panel_stiffness(Gt, length, height, K, panel.edge_spacing), length, height)
    for i, j in pairs:
        builder.bar(Element("panel", one.name, panel.face, panel.storey, index), i, j, float(k))


def _wall_tie(builder: _Builder, one: RackInput, axes: Array, post: PostPoint) -> None:
    """The highest row of ties into studs, each at the post nearest to it: what they hold across, and along."""
    rack, tie = one.rack, counted_tie(one.rack)
    if tie is None:
        return
    rho = float(timber_density(wood_species(tie.stud).G, 0.12))
    slip = float(slip_modulus(rho, tie.diameter))
    counts = [0] * (rack.bays + 1)
    for index in range(tie.count):
        counts[round((index + 0.5) / tie.count * rack.bays)] += 1
    for line, count in enumerate(counts):
        if count:
            for kind, k in (("tie", (0.0, factor_si("tie_stiffness"), 0.0)), ("tie along", (slip, 0.0, 0.0))):
                stiffness = np.abs(np.array(k) @ axes) * count
                what = Element(kind, one.name, "back", count, line)
                builder.link(what, post(line, "back", tie.height), GROUND, (*stiffness, 0, 0, 0))


def _corner(builder: _Builder, one: RackInput, main: RackInput) -> None:
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
