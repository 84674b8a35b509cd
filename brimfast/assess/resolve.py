"""Which table rows does this installation use? Every word of the file is looked up once, here.

Words that no table has are the user's to mend, so they are gathered as problems with their key path.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import partial
from typing import TypeVar

from brimfast.assess.buildable import fitting_problems, rack_problems
from brimfast.assess.parts import FloorParts, FrictionUsed, Member, RackParts, Resolved, VesselParts
from brimfast.assess.timber.density import timber_density
from brimfast.assess.timber.strength import Strength, strength_of_class, strength_of_lumber
from brimfast.data_tables import loader
from brimfast.data_tables.loader import NotInTableError, factor_si, factor_used
from brimfast.data_tables.rows import LumberValues, StrengthClass
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
    look_up.problems.extend(fitting_problems(installation, racks))
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
    european = loader.strength_class(timber.species or "")
    return _of_species(timber) if european is None else _of_class(timber, european)


def _of_class(timber: Timber, row: StrengthClass) -> Member:
    """Timber of a strength class of EN 338."""
    thickness, width, size_values = _section(timber.size)
    name = row.strength_class
    used = row.used(f"strength class {name}", f"f_m,k {row.f_m_k:g} N/mm²")
    return Member(
        timber.size,
        name,
        name,
        thickness,
        width,
        row.rho_k / 1000,  # characteristic density: on the light side for a dowel's grip
        row.rho_mean * (1 + factor_si("wood_moisture")) / 1.12,
        timber.treated,
        timber.incised,
        strength_of_class(row),
        (*size_values, used, factor_used("wood_moisture")),
    )


def _of_species(timber: Timber) -> Member:
    """Lumber of a species and grade."""
    thickness, width, size_values = _section(timber.size)
    species = loader.wood_species(timber.species or "")
    density = float(timber_density(species.G, factor_si("wood_moisture")))
    grade = timber.grade or "No.2"
    strength, of_strength = _strength(timber, species.species, grade, thickness, width)
    incised, of_treatment = _incised(timber, species.species)
    values = (
        *size_values,
        species.used(f"specific gravity of {species.species}", f"{species.G:.2f}"),
        factor_used("wood_moisture"),
        *of_strength,
        *of_treatment,
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


def _strength(
    timber: Timber, species: str, grade: str, thickness: float, width: float
) -> tuple[Strength | None, tuple[Value, ...]]:
    """Design values of a section (m); None where the tables do not cover it."""
    listed = any(row.species == species for row in loader.table(LumberValues))
    if not listed or not _has_values(thickness / INCH, width / INCH):
        return None, ()
    row = loader.lumber_values(species, grade, thickness / INCH, width / INCH)
    used = row.used(f"design values of {species} {grade}", f"F_b {row.F_b:g} psi, F_c {row.F_c:g} psi")
    taken = Value(
        "grade of the timber",
        "No.2",
        "Usual yard stock where no grade is given",
        "common practice, no source",
        "the grade stamp on the wood",
    )
    return strength_of_lumber(row, thickness, width), (used,) if timber.grade is not None else (used, taken)


def _incised(timber: Timber, species: str) -> tuple[bool, tuple[Value, ...]]:
    """Whether it is slit for treatment: as the file says, or as its species usually is where it is treated."""
    if timber.incised or not timber.treated or species not in INCISED_WHEN_TREATED:
        return timber.incised, ()
    value = Value(
        f"treated {species} is taken as incised",
        "C_i 0.80",
        "Western species are incised so that the treatment goes in",
        "common practice, no source",
        "look for rows of small slits in the wood",
    )
    return True, (value,)


def _has_values(thickness: float, width: float) -> bool:
    """Whether the tables' size classes cover a section (in): 2 in nominal and thicker; no beams and stringers.

    NDS Supplement 2018: Table 4A for dimension lumber, 4D for posts and timbers, no more than 2 in wider than thick.
    """
    return thickness >= LEAST_DIMENSION and (thickness < 4.9 or width <= thickness + 2.01)


def _section(size: str) -> tuple[float, float, tuple[Value, ...]]:
    """Thickness and width (m): a metric size as it stands, a nominal size by the table of dressed sizes."""
    if "mm" in size.casefold():
        match = re.fullmatch(r"([0-9]{1,3})\s?x\s?([0-9]{1,3})\s?mm", size.strip(), re.IGNORECASE)
        sides = sorted(int(part) / 1000 for part in match.groups()) if match else []
        if not sides or sides[0] < 0.015 or sides[1] > 0.4:
            raise NotInTableError(f"found the size {size!r}; expected two sides from 15 to 400 mm such as '45x145 mm'")
        return sides[0], sides[1], ()
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
    look_up.problems.extend(rack_problems(name, rack, post, beam, joist, sill))
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
