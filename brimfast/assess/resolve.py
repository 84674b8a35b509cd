"""Which table rows does this installation use? Every word of the file is looked up once, here.

Words that no table has are the user's to mend, so they are gathered as problems with their key path.
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from typing import TypeVar

from brimfast.assess.timber.density import timber_density
from brimfast.assess.timber.gusset import gusset_run, gusset_spacing
from brimfast.assess.timber.strength import Strength, strength_of_class, strength_of_lumber
from brimfast.data_tables import loader
from brimfast.data_tables.loader import NotInTableError, factor_si, factor_used
from brimfast.data_tables.rows import LumberValues
from brimfast.shared.constants import INCH, PSF
from brimfast.shared.errors import InputError, Problem
from brimfast.shared.findings import Value
from brimfast.shared.installation.model import Installation
from brimfast.shared.installation.rack import Friction, Rack
from brimfast.shared.installation.timber import Timber
from brimfast.shared.installation.vessel import Vessel

T = TypeVar("T")

INCISED_WHEN_TREATED = ("douglas fir-larch", "hem-fir", "spruce-pine-fir")
LEAST_DIMENSION = 1.4  # in: dressed thickness of the thinnest dimension lumber
NAILS_APART = 15  # diameters along the grain without predrilling: NDS Commentary Table C12.1.6.6, from memory
IN_PAN = "smooth floor"  # what stands in a pan slides on its wet bottom
FLOOR_SURFACES = {
    "sealed concrete": "concrete",
    "bare concrete": "concrete",
    "tile": "smooth floor",
    "vinyl": "smooth floor",
    "laminate": "smooth floor",
    "wood": "wood",
    "carpet": "carpet",
}


@dataclass(frozen=True)
class Member:
    """One timber member: dressed section (m), specific gravity, density beside water (kg/m³), reference strength."""

    size: str
    species: str
    grade: str
    thickness: float
    width: float
    G: float
    density: float
    treated: bool
    incised: bool
    strength: Strength | None
    values: tuple[Value, ...]

    @property
    def area(self) -> float:
        return self.thickness * self.width

    @property
    def without_strength(self) -> str:
        """Why there is none."""
        return f"the tables have no strength values for {self.species} of {self.size}"


@dataclass(frozen=True)
class FrictionUsed:
    foot: str
    on: str
    low: float
    high: float
    value: Value


@dataclass(frozen=True)
class RackParts:
    post: Member
    beam: Member
    joist: Member
    braces: tuple[Member, ...]
    rails: tuple[Member, ...]  # in the order of the file, as the braces
    sill: Member | None
    deck_material: str
    deck_thickness: float
    deck_density: float
    friction: FrictionUsed
    values: tuple[Value, ...]


@dataclass(frozen=True)
class VesselParts:
    wall_thickness: float
    wall_density: float
    liner: float
    porosity: float
    grain_density: float
    friction: FrictionUsed
    sides: Member | None
    values: tuple[Value, ...]


@dataclass(frozen=True)
class FloorParts:
    live_load: float | None  # Pa
    value: Value | None
    joist: Member | None = None


class _LookUp:
    """Tries each look-up and gathers what no table has."""

    def __init__(self) -> None:
        self.problems: list[Problem] = []

    def __call__(self, action: Callable[[], T], *path: str | int) -> T | None:
        try:
            return action()
        except NotInTableError as error:
            self.problems.append(Problem("E-DATA-001", str(error), path))
            return None


@dataclass(frozen=True)
class Resolved:
    racks: dict[str, RackParts]
    vessels: dict[str, VesselParts]
    floor: FloorParts


def resolve(installation: Installation) -> Resolved:
    """All table rows of an installation. Raises InputError with every word that no table has."""
    look_up = _LookUp()
    racks: dict[str, RackParts | None] = {}
    vessels: dict[str, VesselParts | None] = {}
    surface = FLOOR_SURFACES[installation.exposure.flooring]
    for name, rack in installation.racks.items():
        racks[name] = _rack(name, rack, surface, look_up)
    for index, vessel in enumerate(installation.vessels):
        below = "wood" if vessel.on != "floor" else IN_PAN if vessel.pan is not None else surface
        vessels[vessel.name] = _vessel(index, vessel, below, look_up)
    look_up.problems.extend(_spreads(installation, racks))
    look_up.problems.extend(_headroom(installation, racks))
    floor = look_up(lambda: _floor(installation), "room", "use")
    joist_size = installation.room.floor.joist_size
    if joist_size is not None and floor is not None:
        joist = look_up(lambda: member(joist_size), "room", "floor", "joist_size")
        floor = FloorParts(floor.live_load, floor.value, joist)
    for item in installation.prices:
        look_up(partial(loader.work_item, item), "prices", item)
    if look_up.problems or floor is None:
        raise InputError(look_up.problems)
    return Resolved(
        {name: parts for name, parts in racks.items() if parts is not None},
        {name: parts for name, parts in vessels.items() if parts is not None},
        floor,
    )


def member(timber: Timber) -> Member:
    """Raises NotInTableError for a size, species or grade that the tables do not have."""
    thickness, width, size_values = _section(timber.size)
    moisture = factor_si("wood_moisture")
    european = loader.strength_class(timber.species or "")
    if european is not None:
        name = european.strength_class
        G = european.rho_k / 1000  # characteristic density: on the light side for a dowel's grip
        density = european.rho_mean * (1 + moisture) / 1.12
        class_strength = strength_of_class(european)
        used = european.used(f"strength class {name}", f"f_m,k {european.f_m_k:g} N/mm²")
        values = (*size_values, used, factor_used("wood_moisture"))
        return Member(
            timber.size,
            name,
            name,
            thickness,
            width,
            G,
            density,
            timber.treated,
            timber.incised,
            class_strength,
            values,
        )
    species = loader.wood_species(timber.species or "")
    density = float(timber_density(species.G, moisture))
    grade = timber.grade or "No.2"
    values = (
        *size_values,
        species.used(f"specific gravity of {species.species}", f"{species.G:.2f}"),
        factor_used("wood_moisture"),
    )
    strength: Strength | None = None
    listed = any(row.species == species.species for row in loader.table(LumberValues))
    if listed and _has_values(thickness / INCH, width / INCH):
        row = loader.lumber_values(species.species, grade, thickness / INCH, width / INCH)
        strength = strength_of_lumber(row, thickness, width)
        values = (
            *values,
            row.used(f"design values of {species.species} {grade}", f"F_b {row.F_b:g} psi, F_c {row.F_c:g} psi"),
        )
        if timber.grade is None:
            values = (
                *values,
                Value(
                    "grade of the timber",
                    "No.2",
                    "Usual yard stock where no grade is given",
                    "common practice, no source",
                    "the grade stamp on the wood",
                ),
            )
    incised = timber.incised
    if timber.treated and not incised and species.species in INCISED_WHEN_TREATED:
        incised = True
        values = (
            *values,
            Value(
                f"treated {species.species} is taken as incised",
                "C_i 0.80",
                "Western species are incised so that the treatment goes in",
                "common practice, no source",
                "look for rows of small slits in the wood",
            ),
        )
    return Member(
        timber.size,
        species.species,
        grade,
        thickness,
        width,
        species.G,
        density,
        timber.treated,
        incised,
        strength,
        values,
    )


def _has_values(thickness: float, width: float) -> bool:
    """Whether the tables' size classes cover a section (in): 2 in nominal and thicker; no beams and stringers.

    NDS Supplement 2018: Table 4A for dimension lumber, 4D for posts and timbers, no more than 2 in wider than thick.
    """
    return thickness >= LEAST_DIMENSION and (thickness < 4.9 or width <= thickness + 2.01)


def _section(size: str) -> tuple[float, float, tuple[Value, ...]]:
    """Thickness and width (m): a metric size as it stands, a nominal size by the table of dressed sizes."""
    if "mm" in size.casefold():
        match = re.fullmatch(r"([0-9]{1,3})\s?x\s?([0-9]{1,3})\s?mm", size.strip(), re.IGNORECASE)
        smaller, larger = sorted(int(part) / 1000 for part in match.groups()) if match else (0.0, 0.0)
        if not 0.015 <= smaller <= larger <= 0.4:
            raise NotInTableError(f"found the size {size!r}; expected two sides from 15 to 400 mm such as '45x145 mm'")
        return smaller, larger, ()
    row = loader.lumber_size(size)
    text = f"{row.thickness_in:g} in by {row.width_in:g} in"
    return row.thickness_in * INCH, row.width_in * INCH, (row.used(f"dressed size of {row.size}", text),)


def _rack(name: str, rack: Rack, surface: str, look_up: _LookUp) -> RackParts | None:
    def timber(item: Timber, *path: str | int) -> Member | None:
        if item.species is None:  # as the beam
            item = item.model_copy(update={"species": rack.beam.species or "", "grade": item.grade or rack.beam.grade})
        return look_up(lambda: member(item), "racks", name, *path)

    post = timber(rack.post, "post")
    beam = timber(rack.beam, "beam")
    joist = timber(rack.joist.size, "joist", "size")
    braces = [timber(brace.member, "braces", index, "member") for index, brace in enumerate(rack.braces)]
    rails = [timber(rail.member, "rails", index, "member") for index, rail in enumerate(rack.rails)]
    deck = look_up(lambda: loader.sheet_material(rack.deck.material), "racks", name, "deck")
    on = rack.feet.on or (IN_PAN if rack.pan is not None else surface)
    friction = look_up(lambda: _friction(rack.feet.foot, on, rack.friction), "racks", name, "feet")
    for index, tie in enumerate(rack.wall_ties):
        look_up(partial(loader.wood_species, tie.stud), "racks", name, "wall_ties", index, "stud")
    sill = timber(rack.feet.sill, "feet", "sill") if rack.feet.sill is not None else None
    if post is None or beam is None or joist is None or deck is None or friction is None:
        return None
    if None in braces or None in rails:
        return None
    look_up.problems.extend(_misfits(name, rack, post, beam, joist, sill))
    known_braces = tuple(brace for brace in braces if brace is not None)
    known_rails = tuple(rail for rail in rails if rail is not None)
    values = [
        *post.values,
        *beam.values,
        *joist.values,
        *(value for timber in (*known_braces, *known_rails) for value in timber.values),
        deck.used(f"density of {deck.material}", f"{deck.density_kg_m3:g} kg/m³"),
    ]
    return RackParts(
        post,
        beam,
        joist,
        known_braces,
        known_rails,
        sill,
        deck.material,
        rack.deck.thickness,
        deck.density_kg_m3,
        friction,
        tuple(values),
    )


def _misfits(name: str, rack: Rack, post: Member, beam: Member, joist: Member, sill: Member | None) -> list[Problem]:
    """What cannot be built with the dressed sizes."""
    stacked = rack.deck.thickness + (joist.width if rack.joist.seat == "on beams" else 0.0) + beam.width
    problems = []
    if stacked > rack.deck_height:
        message = f"deck, joists and beams together are {stacked / INCH:.2f} in high; expected deck_height above that"
        problems.append(Problem("E-FIT-001", f"found a deck too low: {message}", ("racks", name, "deck_height")))
    for index, (below, above) in enumerate(itertools.pairwise(rack.decks)):
        if stacked >= above - below:
            message = (
                f"found a tier whose deck, joists and beams, {stacked / INCH:.2f} in high, fill the space to the deck "
                "below; expected it higher"
            )
            problems.append(Problem("E-FIT-001", message, ("racks", name, "upper_tiers", index, "deck_height")))
    problems.extend(_knee_misfits(name, rack, stacked - beam.width / 2))
    problems.extend(_gusset_misfits(name, rack, post, beam, stacked - beam.width / 2))
    problems.extend(_rail_misfits(name, rack, stacked, beam))
    bolt = rack.feet.bolt
    if bolt is not None and sill is not None and bolt[1] < sill.thickness + 4 * bolt[0]:
        message = "found an anchor bolt that ends less than 4 diameters below the sill; expected a longer one"
        problems.append(Problem("E-FIT-001", message, ("racks", name, "feet", "bolt")))
    if rack.width <= 2 * post.width:
        problems.append(
            Problem("E-FIT-001", "found a rack no wider than two posts; expected it wider", ("racks", name, "width"))
        )
    return problems


def _rail_misfits(name: str, rack: Rack, stacked: float, beam: Member) -> list[Problem]:
    """Rails on a long side where a beam is: two members in one place."""
    problems = []
    for index, rail in enumerate(rack.rails):
        for deck in rack.decks:
            low, high = deck - stacked, deck - stacked + beam.width
            if rail.face not in ("left", "right") and low < rail.height <= high:
                message = (
                    f"found a rail at the height of a beam, {low / INCH:.1f} to {high / INCH:.1f} in above the floor; expected it "
                    "above or below"
                )
                problems.append(Problem("E-FIT-001", message, ("racks", name, "rails", index, "height")))
    return problems


def _knee_misfits(name: str, rack: Rack, from_deck_to_beam: float) -> list[Problem]:
    """Knees that would cross in their bay, or reach the floor or the deck below."""
    problems = []
    decks = (0.0, *rack.decks)
    for index, brace in enumerate(rack.braces):
        if brace.leg is None or brace.storey > len(rack.decks):
            continue
        rise = decks[brace.storey] - from_deck_to_beam - decks[brace.storey - 1]
        most = min(rack.run(brace.face) / 2, rise)
        if brace.leg >= most:
            message = (
                f"found a leg of {brace.leg / INCH:.1f} in; expected less than {most / INCH:.1f} in: half the bay, and "
                "the height from the floor or deck below to the beam's middle"
            )
            problems.append(Problem("E-FIT-001", message, ("racks", name, "braces", index, "leg")))
    return problems


def _gusset_misfits(name: str, rack: Rack, post: Member, beam: Member, from_deck_to_beam: float) -> list[Problem]:
    """Gussets that would meet in their bay or reach the floor or the deck below; nails too near each other."""
    problems = []
    decks = (0.0, *rack.decks)
    for index, gusset in enumerate(rack.gussets):
        if gusset.storey > len(rack.decks):
            continue
        rise = decks[gusset.storey] - from_deck_to_beam - decks[gusset.storey - 1]
        most, beyond = min(rack.bay_length / 2, rise), max(post.width, beam.width) / 2
        apart = gusset_spacing(gusset.leg, gusset.nails, beyond)
        if gusset.leg >= most:
            message = (
                f"found a leg of {gusset.leg / INCH:.1f} in; expected less than {most / INCH:.1f} in: half the bay, and "
                "the height from the floor or deck below to the beam's middle"
            )
            problems.append(Problem("E-FIT-001", message, ("racks", name, "gussets", index, "leg")))
        elif gusset_run(gusset.leg, beyond) <= 0:
            message = (
                f"found a leg of {gusset.leg / INCH:.1f} in; expected a longer one: {beyond / INCH:.2f} in of it lie over the "
                "other timber, and its nails stand past that"
            )
            problems.append(Problem("E-FIT-001", message, ("racks", name, "gussets", index, "leg")))
        elif apart < NAILS_APART * gusset.nail[0] * (1 - 1e-9):
            message = (
                f"found {gusset.nails} nails in a leg of {gusset.leg / INCH:.1f} in, past the other timber's edge: {apart / INCH:.2f} in from "
                "one to the next; "
                f"expected {NAILS_APART} diameters or more, {NAILS_APART * gusset.nail[0] / INCH:.2f} in"
            )
            problems.append(Problem("E-FIT-001", message, ("racks", name, "gussets", index, "nails")))
    return problems


def _spreads(installation: Installation, racks: dict[str, RackParts | None]) -> list[Problem]:
    """Fasteners that would stand outside the wood they hold."""
    problems = []
    for index, joint in enumerate(installation.joints):
        parts, spread = racks.get(joint.rack), joint.fasteners.spread
        if parts is None or spread is None:
            continue
        depth = {"beam to post": parts.beam.width, "joist to beam": parts.joist.width}.get(joint.where)
        if depth is not None and spread >= depth:
            message = f"found a spread of {spread / INCH:.1f} in; expected less than the member's depth, {depth / INCH:.2f} in"
            problems.append(Problem("E-FIT-001", message, ("joints", index, "fasteners", "spread")))
    return problems


def _headroom(installation: Installation, racks: dict[str, RackParts | None]) -> list[Problem]:
    """Vessels that would stand in the joists of the tier above."""
    problems = []
    for index, vessel in enumerate(installation.vessels):
        parts = racks.get(vessel.on)
        decks = installation.racks[vessel.on].decks if vessel.on in installation.racks else ()
        if parts is None or vessel.depth is None or vessel.tier >= len(decks):
            continue
        under = decks[vessel.tier] - decks[vessel.tier - 1] - parts.deck_thickness - parts.joist.width
        if vessel.raised + vessel.depth > under + 1e-6:
            message = (
                f"found {vessel.name!r} higher than the space to the joists above, {under / INCH:.1f} in; "
                "expected it lower, or the tier above higher"
            )
            problems.append(Problem("E-FIT-001", message, ("vessels", index, "depth")))
    return problems


def _friction(foot: str, on: str, given: Friction | None) -> FrictionUsed:
    if given is not None:
        text = f"{given.low:g} to {given.high:g}"
        value = Value(f"friction, {foot} on {on}", text, "the installation file", "given in the file")
        return FrictionUsed(foot, on, given.low, given.high, value)
    row = loader.friction(foot, on)
    value = row.used(f"friction, {row.foot} on {row.on}", f"{row.low:g} to {row.high:g}")
    return FrictionUsed(row.foot, row.on, row.low, row.high, value)


def _vessel(index: int, vessel: Vessel, surface: str, look_up: _LookUp) -> VesselParts | None:
    values: list[Value] = []
    wall_thickness = wall_density = liner = grain_density = 0.0
    porosity = 1.0  # without fill all is water
    foot = vessel.base or ("wood" if vessel.kind == "bed" else "plastic")
    if not vessel.weighed:
        default = loader.vessel_default(vessel.kind)
        material_name = vessel.wall.material if vessel.wall else default.wall_material
        wall = look_up(lambda: loader.sheet_material(material_name), "vessels", index, "wall")
        if wall is None:
            return None
        wall_thickness = vessel.wall.thickness if vessel.wall else default.wall_thickness_in * INCH
        wall_density, liner = wall.density_kg_m3, default.liner_kg_m2
        foot = vessel.base or wall.surface
        if vessel.empty_mass is None:
            values.append(wall.used(f"density of {wall.material}", f"{wall.density_kg_m3:g} kg/m³"))
            if vessel.wall is None:
                text = f"{default.wall_material}, {default.wall_thickness_in:g} in"
                values.append(default.used(f"wall of a {vessel.kind} whose wall is not given", text))
        if vessel.fill is not None:
            fill_name = vessel.fill.name
            if vessel.fill.porosity is not None and vessel.fill.grain_density is not None:
                porosity, grain_density = vessel.fill.porosity, vessel.fill.grain_density
            else:
                row = look_up(lambda: loader.fill(fill_name or ""), "vessels", index, "fill")
                if row is None:
                    return None
                porosity = vessel.fill.porosity or row.porosity
                grain_density = vessel.fill.grain_density or row.grain_density_kg_m3
                values.append(
                    row.used(
                        f"fill {row.name}", f"porosity {porosity:g}, grains {grain_density:g} kg/m³ with their water"
                    )
                )
    place = "base" if vessel.base else "name"
    friction = look_up(lambda: _friction(foot, surface, vessel.friction), "vessels", index, place)
    if friction is None:
        return None
    sides = None
    if vessel.sides is not None:
        timber = vessel.sides
        sides = look_up(lambda: member(timber), "vessels", index, "sides")
    return VesselParts(wall_thickness, wall_density, liner, porosity, grain_density, friction, sides, tuple(values))


def _floor(installation: Installation) -> FloorParts:
    floor, use = installation.room.floor, installation.room.use
    if floor.live_load is not None:
        source = floor.live_load_source or "the installation file"
        text = f"{floor.live_load / PSF:.0f} psf"
        return FloorParts(floor.live_load, Value("live load of the floor", text, source, "given in the file"))
    if use is None and floor.kind == "slab on grade":
        return FloorParts(None, None)
    row = loader.live_load(use or "dwelling")
    said = "" if use else " (assumed: use is not given)"
    value = row.used(f"live load of the floor, room used as {row.use}{said}", f"{row.live_load_psf:g} psf")
    return FloorParts(row.live_load_psf * PSF, value)
