"""One typed row class per table; every row carries its source and provenance."""

from __future__ import annotations

from dataclasses import dataclass
from typing import cast

from brimfast.shared.constants import PSI
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
class LongPeriodCoefficient(Row):
    site_class: str
    S_1: float
    F_v: float


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


PLANNING_CURRENCY = "USD"  # of all money in the tables


@dataclass(frozen=True, kw_only=True)
class BendingYield(Row):
    kind: str
    diameter_from_in: float
    diameter_to_in: float
    F_yb_ksi: float

    @property
    def yield_strength(self) -> float:
        """F_yb (Pa)."""
        return self.F_yb_ksi * 1000 * PSI


@dataclass(frozen=True, kw_only=True)
class ScrewRoot(Row):
    kind: str
    name: str
    diameter_in: float
    root_in: float
    tip_in: float
    head_in: float  # 0: not tabulated


@dataclass(frozen=True, kw_only=True)
class Factor(Row):
    key: str
    value: float
    unit: str
    what: str


@dataclass(frozen=True, kw_only=True)
class HazardShape(Row):
    """Shaking over that of once in 500 years, and once in how many years it is passed."""

    times: float
    years: float


@dataclass(frozen=True, kw_only=True)
class LumberValues(Row):
    """Reference design values in psi."""

    species: str
    grade: str
    size_class: str
    width_to: float
    F_b: float
    F_t: float
    F_v: float
    F_cperp: float
    F_c: float
    E: float
    E_min: float


@dataclass(frozen=True, kw_only=True)
class SizeFactor(Row):
    group: str
    width: float
    C_F_b: float
    C_F_b_4_thick: float
    C_F_t: float
    C_F_c: float


@dataclass(frozen=True, kw_only=True)
class StrengthClass(Row):
    """Characteristic values in N/mm² and kg/m³."""

    strength_class: str
    f_m_k: float
    f_t_k: float
    f_c_k: float
    f_cperp_k: float
    f_v_k: float
    E_mean: float
    E_05: float
    rho_k: float
    rho_mean: float


@dataclass(frozen=True, kw_only=True)
class DeckPanel(Row):
    """Capacities a foot of width: lb·in/ft, lb·in²/ft, lb/ft."""

    span_rating: str
    thickness_from_in: float
    thickness_to_in: float
    F_b_S: float
    E_I: float
    F_s_IbQ: float


@dataclass(frozen=True, kw_only=True)
class PipeMaterial(Row):
    material: str
    roughness_mm: float
    hazen_williams_C: float


@dataclass(frozen=True, kw_only=True)
class PanelShear(Row):
    thickness_in: float
    nail_in: float
    nail_name: str
    edge_spacing_in: float
    nominal_plf: float


@dataclass(frozen=True, kw_only=True)
class UnitCost(Row):
    """Planning figures in USD for each square foot; year: of the prices."""

    part: str
    what: str
    low_usd_ft2: float
    high_usd_ft2: float
    year: str


@dataclass(frozen=True, kw_only=True)
class FloorCovering(Row):
    """Whether it holds water back for a while from what is below it: yes or no."""

    flooring: str
    holds: str


@dataclass(frozen=True, kw_only=True)
class DepthDamage(Row):
    """Damage in percent of the structure's value, at a depth of flood water over the first floor."""

    depth_ft: float
    structure_percent: float
    contents_percent: float


@dataclass(frozen=True, kw_only=True)
class WorkItem(Row):
    """What one piece of hardware or work takes: money for the parts, hours of a handy person."""

    item: str
    unit: str
    low_usd: float
    high_usd: float
    low_hours: float
    high_hours: float
    year: str


@dataclass(frozen=True, kw_only=True)
class Place(Row):
    """Design values of a place by an edition of a standard, as keys of `site`: a hint, never used in a computation."""

    place: str
    country: str
    latitude: float
    longitude: float
    standard: str
    edition: str
    values: str
