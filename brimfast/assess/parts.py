"""The table rows that an installation uses, and what they come to: what `resolve` finds."""

from __future__ import annotations

from dataclasses import dataclass

from brimfast.assess.timber.strength import Strength
from brimfast.shared.findings import Value


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


@dataclass(frozen=True)
class Resolved:
    racks: dict[str, RackParts]
    vessels: dict[str, VesselParts]
    floor: FloorParts
