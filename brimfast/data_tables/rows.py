"""One typed row class per table; every row carries its source and provenance."""

from __future__ import annotations

from dataclasses import dataclass
from typing import cast

from brimfast.shared.findings import Provenance, Value


@dataclass(frozen=True, kw_only=True)
class Row:
    provenance: str
    source: str
    confirm_in: str

    def used(self, name: str, text: str) -> Value:
        """The record that this row's figure was used."""
        return Value(name, text, self.source, cast(Provenance, self.provenance), self.confirm_in)


@dataclass(frozen=True, kw_only=True)
class LumberSize(Row):
    size: str
    thickness_in: float
    width_in: float


@dataclass(frozen=True, kw_only=True)
class WoodSpecies(Row):
    species: str
    aliases: str
    G: float


@dataclass(frozen=True, kw_only=True)
class FillRow(Row):
    name: str
    aliases: str
    porosity: float
    grain_density_kg_m3: float


@dataclass(frozen=True, kw_only=True)
class SheetMaterial(Row):
    material: str
    aliases: str
    density_kg_m3: float
    surface: str


@dataclass(frozen=True, kw_only=True)
class VesselDefault(Row):
    kind: str
    wall_material: str
    wall_thickness_in: float
    liner_kg_m2: float


@dataclass(frozen=True, kw_only=True)
class FrictionPair(Row):
    foot: str
    on: str
    low: float
    high: float


@dataclass(frozen=True, kw_only=True)
class LiveLoad(Row):
    use: str
    aliases: str
    live_load_psf: float


@dataclass(frozen=True, kw_only=True)
class SiteCoefficient(Row):
    site_class: str
    S_S: float
    F_a: float


@dataclass(frozen=True, kw_only=True)
class ResidentialCategory(Row):
    category: str
    S_DS_top: float


@dataclass(frozen=True, kw_only=True)
class ComponentRow16(Row):
    body: str
    row: str
    a_p: float
    R_p: float
    Omega_0: float


@dataclass(frozen=True, kw_only=True)
class ComponentRow22(Row):
    body: str
    row: str
    C_AR_at_grade: float
    C_AR_above: float
    R_po: float
    Omega_0p: float


@dataclass(frozen=True, kw_only=True)
class BendingYield(Row):
    kind: str
    diameter_from_in: float
    diameter_to_in: float
    F_yb_ksi: float


@dataclass(frozen=True, kw_only=True)
class ScrewRoot(Row):
    kind: str
    name: str
    diameter_in: float
    root_in: float
    tip_in: float


@dataclass(frozen=True, kw_only=True)
class Factor(Row):
    key: str
    value: float
    unit: str
    what: str
