"""A tier of a rack in its frame: beams from station to station, joists, deck, joints to the posts, what stands on it."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from brimfast.assess.frame import elements
from brimfast.assess.frame.builder import Builder, PostPoint
from brimfast.assess.frame.gussets import gusset_ends
from brimfast.assess.frame.masses import push
from brimfast.assess.frame.model import Element, Place
from brimfast.assess.frame.places import SAME, SIDES, merged, nearest
from brimfast.assess.frame.rack_input import RackInput
from brimfast.assess.frame.sections import modulus, section
from brimfast.assess.joints.stiffness import beam_joint_stiffness
from brimfast.assess.parts import Member
from brimfast.assess.timber.racking import diagonal_for_shear
from brimfast.data_tables.loader import factor_si

Array = NDArray[np.float64]
MOST_STATIONS = 8  # joists a bay that are modelled one by one; more are taken together
RIGID = 1e7  # N·m/rad
SHEETS = ("plywood", "osb", "wood")


def _stations(one: RackInput, lines: list[float], more: list[float]) -> tuple[list[float], list[int]]:
    """Places along a tier's beams (m), and how many joists lie at each."""
    rack = one.rack
    step = max(-(-round(rack.bay_length / rack.joist.spacing) // MOST_STATIONS), 1)
    joists = [min(index * rack.joist.spacing, rack.length) for index in range(one.weight.joist_count)]
    places = merged([*joists[step // 2 :: step]], merged(more, lines))
    counts = [0] * len(places)
    for x in joists:
        counts[nearest(places, x)] += 1
    return places, counts


def add_tier(
    builder: Builder,
    one: RackInput,
    place: Place,
    tier: int,
    lines: list[float],
    post: PostPoint,
    extra: list[float],
) -> None:
    """Beams from station to station, joists and deck between them, and the joints to the posts."""
    rack, parts, z, axes = one.rack, one.parts, one.weight.beam_centres[tier - 1], place.axes
    propped = {
        x
        for brace in rack.braces
        if brace.leg is not None and brace.storey == tier
        for x in (lines[brace.bay - 1] + brace.leg, lines[brace.bay] - brace.leg)
    }
    propped |= {x for gusset in rack.gussets if gusset.storey == tier for _, x in gusset_ends(one, lines, gusset)}
    stations, counts = _stations(one, lines, sorted(propped) + (extra if tier == 1 else []))
    points: list[tuple[int, int]] = []
    fresh = 0
    special = [*propped, *(extra if tier == 1 else [])]
    for x in stations:
        line = nearest(lines, x)
        on_line = abs(lines[line] - x) < 1e-9
        outer = on_line or any(abs(x - other) < SAME for other in special)
        fresh = 0 if on_line else fresh + 1
        first = 0 if outer else 2 - fresh % 2
        front, back = (builder.point(place.origin + np.array([x, y, z]) @ axes, line, first) for y in (0.0, one.across))
        points.append((front, back))
    builder.decks[one.name, tier] = tuple(points)
    _beams(builder, one, tier, stations, points, lines, axes)
    _joints(builder, one, tier, stations, points, lines, axes, post)
    E = modulus(parts.joist, rack)
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
            spread_mass(builder, one, axes, stations, points, weight, height - z, hats(stations, start, end))


def _beams(
    builder: Builder,
    one: RackInput,
    tier: int,
    stations: list[float],
    points: list[tuple[int, int]],
    lines: list[float],
    axes: Array,
) -> None:
    rack, beam = one.rack, one.parts.beam
    E, plies = modulus(beam, rack), 2 if rack.paired else 1
    turn, soft = (
        beam_joint_stiffness(rack, one.parts, one.joints.get("beam to post"), near).rotation for near in (False, True)
    )
    made: dict[tuple[float, bool, bool], tuple[Array, ...]] = {}
    at_post = [min(abs(x - line) for line in lines) < 1e-9 for x in stations]
    for index in range(len(stations) - 1):
        L = stations[index + 1] - stations[index]
        bay = nearest([line + rack.bay_length / 2 for line in lines[:-1]], (stations[index] + stations[index + 1]) / 2)
        ends = at_post[index : index + 2] if rack.beam_runs == "each bay" else [False, False]
        if (L, *ends) not in made:
            made[L, ends[0], ends[1]] = tuple(_stretch(beam, E, L, plies, ends, k) for k in (turn, 0.0, soft))
        coefficients, hinged, yielding = made[L, ends[0], ends[1]]
        for side, face in enumerate(SIDES):
            what = Element("beam", one.name, face, tier, bay)
            builder.hinged[len(builder.elements)] = hinged
            builder.soft[len(builder.elements)] = yielding
            builder.member(what, points[index][side], points[index + 1][side], coefficients, axes[2])


def _stretch(beam: Member, E: float, L: float, plies: int, ends: list[bool], turn: float) -> Array:
    """A stretch of beam; where it ends at fasteners they hold its turn upright by a spring, in plan not at all."""
    at_i, at_j = ends
    k_y = (turn if at_i else np.inf, turn if at_j else np.inf)
    k_z = (0.0 if at_i else np.inf, 0.0 if at_j else np.inf)
    return section(beam, E, L, plies, k_y, k_z)


def _joints(
    builder: Builder,
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
    joint = one.joints.get("beam to post")
    whole = rack.beam_runs == "whole length"
    across = np.abs(axes[1])
    for line, x in enumerate(lines):
        index = nearest(stations, x)
        ends = 1 if whole or line in (0, rack.bays) else 2

        def link(soft: bool, turns: bool, ends: int = ends) -> list[float]:
            stiffness = beam_joint_stiffness(rack, one.parts, joint, soft)
            turn = (stiffness.rotation if turns else 0.0) if whole else RIGID
            return [*[stiffness.slip * ends] * 3, *(across * turn)]

        for side, face in enumerate(SIDES):
            i = post(line, face, one.weight.beam_centres[tier - 1])
            number = len(builder.elements)
            builder.hinged[number] = elements.link_coefficients(np.array(link(False, False)))
            builder.soft[number] = elements.link_coefficients(np.array(link(True, True)))
            builder.link(Element("joint", one.name, face, tier, line), i, points[index][side], link(False, True))


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


def spread_mass(
    builder: Builder,
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
            push(builder, one, axes, point, w, along, across)
