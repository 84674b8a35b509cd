"""What does each part weigh, and where is its centre of mass?"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.assess.parts import RackParts, VesselParts
from brimfast.data_tables.loader import sheet_material
from brimfast.shared.constants import WATER_DENSITY
from brimfast.shared.installation.hung import Hung
from brimfast.shared.installation.model import plan_size
from brimfast.shared.installation.rack import FACES, Rack, Rail
from brimfast.shared.installation.vessel import Vessel

Array = NDArray[np.float64]
HUNG = "hung: "  # before the name of a part that hangs from the rack


def water_in_fill(area: ArrayLike, water: ArrayLike, fill_depth: ArrayLike, porosity: ArrayLike) -> Array:
    """Volume of water (m³) that can drain from a vessel: in the pores up to its level, and free above.

    V = A [n min(h_w, h_f) + max(h_w − h_f, 0)]; A plan area (m²), h_w water and h_f fill depth (m), n porosity.
    """
    area, water, fill_depth = np.asarray(area, float), np.asarray(water, float), np.asarray(fill_depth, float)
    in_pores = np.asarray(porosity, float) * np.minimum(water, fill_depth)
    return np.asarray(area * (in_pores + np.maximum(water - fill_depth, 0.0)))


def grain_mass(area: ArrayLike, fill_depth: ArrayLike, porosity: ArrayLike, grain_density: ArrayLike) -> Array:
    """Mass of the grains (kg): m = A h_f (1 − n) ρ_g."""
    return np.asarray(
        np.asarray(area, float)
        * np.asarray(fill_depth, float)
        * (1 - np.asarray(porosity, float))
        * np.asarray(grain_density, float)
    )


@dataclass(frozen=True)
class Mass:
    """A part: what it is, its mass (kg), the height of its centre (m) above the body's base.

    tier: which tier's beams of a rack carry it, 1 the main one; 0 what the posts carry by themselves.
    """

    part: str
    mass: float
    height: float
    tier: int = 0


@dataclass(frozen=True)
class Weighing:
    """A body as the sum of its parts."""

    name: str
    parts: tuple[Mass, ...]

    @property
    def mass(self) -> float:
        return math.fsum(part.mass for part in self.parts)

    @property
    def height(self) -> float:
        """Height of the centre of mass above the body's base (m)."""
        mass = self.mass
        return math.fsum(part.mass * part.height for part in self.parts) / mass if mass else 0.0


@dataclass(frozen=True)
class VesselWeight:
    weighing: Weighing
    length: float
    width: float
    round: bool
    area: float  # water surface, m²
    water_volume: float  # what can leave, m³
    headroom: float  # what still goes in up to the rim, m³; 0 where only weighed

    @property
    def mass(self) -> float:
        return self.weighing.mass

    @property
    def height(self) -> float:
        return self.weighing.height

    @property
    def base_area(self) -> float:
        """What it covers, its walls with it (m²)."""
        return math.pi / 4 * self.length**2 if self.round else self.length * self.width

    @property
    def brim_mass(self) -> float:
        """Filled to the rim (kg)."""
        return self.mass + self.headroom * WATER_DENSITY


def weigh_vessel(vessel: Vessel, parts: VesselParts) -> VesselWeight:
    """The take-off of one vessel; heights above its own base.

    Walls stand outside the stated inside sizes. Fill reaches the rim unless fill_depth says otherwise.
    """
    length, width = plan_size(vessel)
    if vessel.weighed:
        assert vessel.mass is not None and vessel.centre_of_mass is not None
        items = [Mass("as weighed", vessel.mass, vessel.centre_of_mass)]
        if vessel.kit:
            items.append(Mass("kit", vessel.kit, vessel.centre_of_mass))
        # A vessel that does not say how much it holds counts as all water: the safe side.
        water = vessel.holds if vessel.holds is not None else vessel.mass / WATER_DENSITY
        return VesselWeight(Weighing(vessel.name, tuple(items)), length, width, False, 0.0, water, 0.0)
    assert vessel.depth is not None and vessel.water is not None
    area = math.pi / 4 * length**2 if vessel.round else length * width
    perimeter = math.pi * length if vessel.round else 2 * (length + width)
    t = parts.wall_thickness
    outer = area + perimeter * t + (math.pi if vessel.round else 4.0) * t**2
    has_base = vessel.kind != "bed"  # a bed's bottom is the deck
    lift = vessel.raised
    up = lift + (t if has_base else 0.0)
    items = []
    if vessel.empty_mass is not None:
        items.append(Mass("empty vessel", vessel.empty_mass, lift + vessel.depth / 2))
    else:
        items.append(Mass("walls", (outer - area) * vessel.depth * parts.wall_density, lift + vessel.depth / 2))
        if has_base:
            items.append(Mass("bottom", outer * t * parts.wall_density, lift + t / 2))
        if parts.liner:
            items.append(Mass("liner", (area + perimeter * vessel.depth) * parts.liner, lift + vessel.depth / 3))
    fill_depth, porosity = vessel.filled, parts.porosity
    if vessel.fill is not None:
        grains = float(grain_mass(area, fill_depth, porosity, parts.grain_density))
        items.append(Mass(f"fill ({vessel.fill.name or 'as given'})", grains, up + fill_depth / 2))
    volume = float(water_in_fill(area, vessel.water, fill_depth, porosity))
    in_pores = float(water_in_fill(area, min(vessel.water, fill_depth), fill_depth, porosity))
    free = volume - in_pores
    if in_pores:
        items.append(Mass("water in the fill", in_pores * WATER_DENSITY, up + min(vessel.water, fill_depth) / 2))
    if free > 0:
        items.append(Mass("water", free * WATER_DENSITY, up + (vessel.water + min(fill_depth, vessel.water)) / 2))
    if vessel.kit:
        items.append(Mass("kit", vessel.kit, lift + vessel.depth))
    if vessel.lid is not None and vessel.lid.mass:
        items.append(Mass("lid", vessel.lid.mass, lift + vessel.depth))
    if vessel.stand is not None and vessel.stand.mass:
        items.append(Mass("stand", vessel.stand.mass, lift / 2))
    rim = float(water_in_fill(area, vessel.depth, fill_depth, porosity))
    return VesselWeight(
        Weighing(vessel.name, tuple(items)),
        length + 2 * t,
        width + 2 * t,
        vessel.round,
        area,
        volume,
        rim - volume,
    )


@dataclass(frozen=True)
class RackWeight:
    """A rack without its vessels; heights above the floor, tier by tier from below (m)."""

    weighing: Weighing
    joist_count: int  # of each tier
    beam_tops: tuple[float, ...]
    beam_centres: tuple[float, ...]
    post_top: float

    @property
    def mass(self) -> float:
        return self.weighing.mass

    @property
    def beam_top(self) -> float:
        """Of the main deck."""
        return self.beam_tops[0]

    @property
    def beam_centre(self) -> float:
        """Of the main deck."""
        return self.beam_centres[0]

    def storey(self, number: int) -> tuple[float, float]:
        """Where a diagonal of a storey begins and ends: from the floor, or the beam below, to its beam's middle."""
        return _between(self.beam_centres, number)

    def face(self, number: int) -> tuple[float, float]:
        """What a panel of a storey covers: from the floor, or the beam's top below, to its beam's top."""
        return _between(self.beam_tops, number)

    @property
    def tallest_storey(self) -> float:
        """The longest stretch of a post that no beam holds."""
        return max(top - foot for foot, top in (self.face(number + 1) for number in range(len(self.beam_tops))))


def _between(heights: tuple[float, ...], storey: int) -> tuple[float, float]:
    return ((0.0, *heights)[storey - 1], heights[storey - 1])


def weigh_rack(name: str, rack: Rack, parts: RackParts, hung: tuple[Mass, ...] = ()) -> RackWeight:
    """The take-off of a rack from its sizes.

    Posts reach from the floor to the underside of the highest deck, or to a rail above it; joists lie across from
    beam to beam, one at each spacing and one at each end; every tier is built alike, the kit is on the main deck.
    """
    unders = [height - parts.deck_thickness for height in rack.decks]
    joists_on_top = rack.joist.seat == "on beams"
    beam_tops = tuple(under - (parts.joist.width if joists_on_top else 0.0) for under in unders)
    beam_centres = tuple(top - parts.beam.width / 2 for top in beam_tops)
    post_top = max([unders[-1], *(rail.height for rail in rack.rails)])
    count = math.ceil(rack.length / rack.joist.spacing - 1e-9) + 1
    items = [Mass("posts", rack.posts * post_top * parts.post.area * parts.post.density, post_top / 2)]
    for tier, (deck, under, centre) in enumerate(zip(rack.decks, unders, beam_centres, strict=True), start=1):
        items += _tier(rack, parts, count, deck, under, centre, tier)
    if rack.braces:
        items.append(_together("braces", _brace_masses(rack, parts, beam_centres)))
    if rack.panels:
        items.append(_together("panels", _panel_masses(rack, beam_tops)))
    if rack.gussets:
        items.append(_together("gussets", _gusset_masses(rack, parts, beam_centres)))
    for index, (rail, timber) in enumerate(zip(rack.rails, parts.rails, strict=True), start=1):
        length = sum(_rail_lengths(rack, rail))
        items.append(Mass(f"rail {index}", length * timber.area * timber.density, rail.height))
    if parts.sill is not None:
        mass = 2 * rack.length * parts.sill.area * parts.sill.density
        items.append(Mass("sills", mass, parts.sill.thickness / 2))
    if rack.kit:
        items.append(Mass("kit", rack.kit, rack.deck_height, 1))
    items += hung
    return RackWeight(Weighing(name, tuple(items)), count, beam_tops, beam_centres, post_top)


def hung_masses(name: str, rack: Rack, things: list[Hung]) -> tuple[Mass, ...]:
    """What hangs from a rack, at the height where it hangs: there it pulls, however long its chains."""
    return tuple(
        Mass(f"{HUNG}{thing.name}", thing.mass, rack.rails[thing.rail - 1].height if thing.rail else rack.top)
        for thing in things
        if thing.held_by == name
    )


def _tier(
    rack: Rack, parts: RackParts, count: int, deck: float, under: float, beam_centre: float, tier: int
) -> list[Mass]:
    beams = (4 if rack.paired else 2) * rack.length * parts.beam.area * parts.beam.density
    joists = count * rack.width * parts.joist.area * parts.joist.density
    sheet = rack.length * rack.width * parts.deck_thickness * parts.deck_density
    said = f", tier {tier}" if rack.upper_tiers else ""
    return [
        Mass(f"beams{said}", beams, beam_centre, tier),
        Mass(f"joists{said}", joists, under - parts.joist.width / 2, tier),
        Mass(f"deck{said}", sheet, deck - parts.deck_thickness / 2, tier),
    ]


def _rail_lengths(rack: Rack, rail: Rail) -> list[float]:
    """Of each timber of a rail (m), post to post."""
    return [rack.length if face in FACES["along"] else rack.width for face in rail.faces]


def _brace_masses(rack: Rack, parts: RackParts, beam_centres: tuple[float, ...]) -> list[tuple[float, float]]:
    """Mass of each brace, its length over run and rise of its storey (a knee: two over their legs), and its height."""
    found = []
    for brace, timber in zip(rack.braces, parts.braces, strict=True):
        foot, top = _between(beam_centres, brace.storey)
        if brace.leg is not None:
            length, height = 2 * math.hypot(brace.leg, brace.leg), top - brace.leg / 2
        else:
            diagonals = 2 if brace.kind == "x" else 1
            length, height = diagonals * math.hypot(rack.run(brace.face), top - foot), (foot + top) / 2
        found.append((length * timber.area * timber.density, height))
    return found


def _panel_masses(rack: Rack, beam_tops: tuple[float, ...]) -> list[tuple[float, float]]:
    density = sheet_material("plywood").density_kg_m3
    found = []
    for panel in rack.panels:
        foot, top = _between(beam_tops, panel.storey)
        found.append((panel.thickness * rack.run(panel.face) * (top - foot) * density, (foot + top) / 2))
    return found


def _gusset_masses(rack: Rack, parts: RackParts, beam_centres: tuple[float, ...]) -> list[tuple[float, float]]:
    """Mass of the two triangles of each, a post's or a beam's width wider than their legs, and fillers; and its height."""
    density, found = sheet_material("plywood").density_kg_m3, []
    for gusset in rack.gussets:
        _, top = _between(beam_centres, gusset.storey)
        side = gusset.leg + max(parts.post.width, parts.beam.width)
        mass = 2 * side**2 / 2 * gusset.thickness * density
        if rack.beam_seat == "on the side":
            mass += 2 * gusset.leg * parts.post.width * parts.beam.thickness * parts.beam.density
        found.append((mass, top - gusset.leg / 3))
    return found


def _together(part: str, pieces: list[tuple[float, float]]) -> Mass:
    mass = math.fsum(piece for piece, _ in pieces)
    return Mass(part, mass, math.fsum(piece * height for piece, height in pieces) / mass)
