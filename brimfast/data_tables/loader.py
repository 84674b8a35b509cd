"""Reads the CSV tables into typed rows, once, and finds rows in them."""

from __future__ import annotations

import csv
import difflib
from collections.abc import Iterable
from dataclasses import fields
from functools import cache
from importlib.resources import files
from itertools import pairwise
from typing import Any, TypeVar, cast

from brimfast.data_tables import rows
from brimfast.data_tables.rows import Row
from brimfast.shared.constants import GALLON, INCH, PSI
from brimfast.shared.findings import Value

R = TypeVar("R", bound=Row)

PROVENANCES = ("published", "common practice, no source", "from memory")
TABLES: dict[type[Row], str] = {
    rows.LumberSize: "lumber_sizes",
    rows.WoodSpecies: "wood_species",
    rows.FillRow: "fills",
    rows.SheetMaterial: "sheet_materials",
    rows.VesselDefault: "vessel_defaults",
    rows.FrictionPair: "friction",
    rows.LiveLoad: "live_loads",
    rows.SiteCoefficient: "site_coefficients",
    rows.LongPeriodCoefficient: "long_period_coefficients",
    rows.ResidentialCategory: "residential_categories",
    rows.ComponentRow16: "component_factors_asce7_16",
    rows.ComponentRow22: "component_factors_asce7_22",
    rows.BendingYield: "fastener_bending_yield",
    rows.ScrewRoot: "screw_roots",
    rows.Factor: "factors",
    rows.HazardShape: "hazard_shape",
    rows.LumberValues: "lumber_values",
    rows.SizeFactor: "size_factors",
    rows.StrengthClass: "strength_classes",
    rows.DeckPanel: "deck_panels",
    rows.PanelShear: "panel_shear",
    rows.UnitCost: "unit_costs",
    rows.FloorCovering: "floor_coverings",
    rows.DepthDamage: "depth_damage",
    rows.PipeMaterial: "pipe_materials",
    rows.WorkItem: "work_items",
    rows.Place: "places",
}


class NotInTableError(LookupError):
    """A word that no row of a table has; the message names the nearest and what there is."""


@cache
def _read(row_class: type[Row], name: str) -> tuple[Row, ...]:
    kinds = {field.name: field.type for field in fields(row_class)}
    text = files(__package__).joinpath(f"{name}.csv").read_text(encoding="utf-8")
    result = []
    for number, record in enumerate(csv.DictReader(text.splitlines()), start=2):
        if set(record) != set(kinds):
            raise ValueError(f"{name}.csv line {number}: columns {sorted(map(str, record))} are not {sorted(kinds)}")
        if record["provenance"] not in PROVENANCES or not record["source"]:
            raise ValueError(f"{name}.csv line {number}: no source or unknown provenance {record['provenance']!r}")
        values: dict[str, Any] = {key: float(cell) if kinds[key] == "float" else cell for key, cell in record.items()}
        result.append(row_class(**values))
    return tuple(result)


def table(row_class: type[R]) -> tuple[R, ...]:
    """All rows of a table, typed by its class."""
    return table_named(row_class, TABLES[row_class])


def table_named(row_class: type[R], name: str) -> tuple[R, ...]:
    """All rows of the table of this name; a standard keeps its row classes in its own file."""
    return cast(tuple[R, ...], _read(cast(Any, row_class), name))


def _plain(word: str) -> str:
    return " ".join(word.casefold().replace("-", " ").split())


def _by_word(found: Iterable[tuple[str, str, R]], word: str, what: str) -> R:
    """The row whose name or one of whose aliases (parted by ;) is the word."""
    names: dict[str, R] = {}
    listed: list[str] = []
    for name, aliases, row in found:
        listed.append(name)
        for one in (name, *aliases.split(";")):
            if one:
                names.setdefault(_plain(one), row)
    row_found = names.get(_plain(word))
    if row_found is not None:
        return row_found
    near = difflib.get_close_matches(_plain(word), names, n=1, cutoff=0.6)
    hint = f"; did you mean {near[0]!r}?" if near else ""
    raise NotInTableError(f"found the {what} {word[:40]!r}; expected one of: {', '.join(listed)}{hint}")


def lumber_size(size: str) -> rows.LumberSize:
    return _by_word(((row.size, "", row) for row in table(rows.LumberSize)), size, "size")


def wood_species(species: str) -> rows.WoodSpecies:
    return _by_word(((row.species, row.aliases, row) for row in table(rows.WoodSpecies)), species, "species")


def fill(name: str) -> rows.FillRow:
    return _by_word(((row.name, row.aliases, row) for row in table(rows.FillRow)), name, "fill")


def sheet_material(name: str) -> rows.SheetMaterial:
    return _by_word(((row.material, row.aliases, row) for row in table(rows.SheetMaterial)), name, "material")


def live_load(use: str) -> rows.LiveLoad:
    return _by_word(((row.use, row.aliases, row) for row in table(rows.LiveLoad)), use, "use")


def vessel_default(kind: str) -> rows.VesselDefault:
    return _by_word(((row.kind, "", row) for row in table(rows.VesselDefault)), kind, "kind")


def residential_category(category: str) -> rows.ResidentialCategory:
    return _by_word(((row.category, "", row) for row in table(rows.ResidentialCategory)), category, "category")


def friction(foot: str, on: str) -> rows.FrictionPair:
    pairs = [row for row in table(rows.FrictionPair) if _plain(row.on) == _plain(on)]
    if not pairs:
        surfaces = dict.fromkeys(row.on for row in table(rows.FrictionPair))
        raise NotInTableError(f"found the surface {on[:40]!r}; expected one of: {', '.join(surfaces)}")
    return _by_word(((row.foot, "", row) for row in pairs), foot, "foot")


def site_coefficient(site_class: str, S_S: float) -> tuple[float, rows.SiteCoefficient]:
    """F_a by linear interpolation, and the last row that it rests on; flat outside the table's ends.

    Raises NotInTableError beyond the last printed value of a class (class E above S_S = 0.75), where the
    standard asks for a site-specific study.
    """
    printed = [row for row in table(rows.SiteCoefficient) if row.site_class == site_class]
    if min(S_S, 1.5) > printed[-1].S_S:
        raise NotInTableError(
            f"site class {site_class} with S_S = {S_S:g}: the table ends at S_S = {printed[-1].S_S:g}, where the "
            "standard asks for a site-specific study; give S_DS from it"
        )
    return _interpolated(S_S, [(row.S_S, row.F_a) for row in printed], printed)


def _interpolated(x: float, points: list[tuple[float, float]], printed: list[R]) -> tuple[float, R]:
    """Along straight lines between rising points, flat outside them; and the row at the upper end of its line."""
    upper = next((index for index, (at, _) in enumerate(points) if x <= at), len(points) - 1)
    for (low, first), (high, last) in pairwise(points):
        if low < x <= high:
            return first + (x - low) / (high - low) * (last - first), printed[upper]
    return points[upper][1], printed[upper]


def long_period_coefficient(site_class: str, S_1: float) -> tuple[float, rows.LongPeriodCoefficient]:
    """F_v by linear interpolation, and the last row that it rests on; flat outside the table's ends.

    Raises NotInTableError for class E from S_1 = 0.2 on, where the standard asks for a site-specific study.
    """
    printed = [row for row in table(rows.LongPeriodCoefficient) if row.site_class == site_class]
    if site_class == "E" and S_1 >= printed[-1].S_1:
        raise NotInTableError(
            f"site class E with S_1 = {S_1:g}: from {printed[-1].S_1:g} on the standard asks for a site-specific study"
        )
    return _interpolated(S_1, [(row.S_1, row.F_v) for row in printed], printed)


def component_row_16(body: str) -> rows.ComponentRow16:
    return _by_word(((row.body, "", row) for row in table(rows.ComponentRow16)), body, "body")


def component_row_22(body: str) -> rows.ComponentRow22:
    return _by_word(((row.body, "", row) for row in table(rows.ComponentRow22)), body, "body")


def bending_yield(kind: str, diameter: float) -> rows.BendingYield:
    """F_yb by kind and nominal diameter (m); at a limit of two ranges the lower value."""
    inches = diameter / INCH
    for row in reversed([row for row in table(rows.BendingYield) if row.kind == kind]):
        if row.diameter_from_in - 5e-4 <= inches <= row.diameter_to_in + 5e-4:
            return row
    raise NotInTableError(f"a {kind} of {inches:.3f} in has no bending yield strength in the table; give bending_yield")


def screw_root(kind: str, diameter: float) -> rows.ScrewRoot | None:
    """The row of the nearest nominal size not above the diameter (m) by more than 1 %; None if there is none."""
    candidates = [
        row for row in table(rows.ScrewRoot) if row.kind == kind and row.diameter_in <= diameter / INCH * 1.01
    ]
    return max(candidates, key=lambda row: row.diameter_in) if candidates else None


def lumber_values(species: str, grade: str, thickness_in: float, width_in: float) -> rows.LumberValues:
    """Reference values of a species and grade for a dressed size (in); 5 in and thicker are posts and timbers."""
    of_species = [row for row in table(rows.LumberValues) if row.species == species]
    if not of_species:
        raise NotInTableError(f"the species {species!r} has no strength values in the table")
    size_class = "timbers" if thickness_in >= 4.9 else "dimension"
    of_size = [row for row in of_species if row.size_class == size_class]
    of_grade = [row for row in of_size if row.grade == grade]
    if not of_grade:
        grades = ", ".join(dict.fromkeys(row.grade for row in of_size)) or "none of this size"
        raise NotInTableError(f"found the grade {grade[:20]!r} of {species}; expected one of: {grades}")
    for row in of_grade:
        if width_in <= row.width_to + 0.01:
            return row
    raise NotInTableError(f"{species} {grade} is not tabulated for a width of {width_in:g} in")


def size_factor(grade: str, width_in: float) -> rows.SizeFactor:
    """The row of C_F for a dressed width (in)."""
    group = "stud" if grade == "Stud" else "visual"
    candidates = [row for row in table(rows.SizeFactor) if row.group == group and width_in <= row.width + 0.01]
    if not candidates:
        raise NotInTableError(f"no size factor for a {grade} of {width_in:g} in")
    return min(candidates, key=lambda row: row.width)


def strength_class(name: str) -> rows.StrengthClass | None:
    return next((row for row in table(rows.StrengthClass) if row.strength_class == name.upper()), None)


def deck_panel(thickness: float) -> rows.DeckPanel:
    """The span rating that a panel of this thickness (m) is sure to have."""
    inches = thickness / INCH
    for row in table(rows.DeckPanel):
        if row.thickness_from_in <= inches < row.thickness_to_in:
            return row
    raise NotInTableError(f"a panel of {inches:.2f} in has no span rating in the table")


def panel_shear(thickness: float, nail: float, edge_spacing: float) -> rows.PanelShear:
    """The row whose panel, nail and nail spacing are none better than the given ones (m)."""
    candidates = [
        row
        for row in table(rows.PanelShear)
        if row.thickness_in <= thickness / INCH + 0.005
        and row.nail_in <= nail / INCH + 0.001
        and row.edge_spacing_in >= edge_spacing / INCH - 0.01
    ]
    if not candidates:
        raise NotInTableError("no tabulated unit shear for this panel, nail and spacing")
    return max(candidates, key=lambda row: row.nominal_plf)


def unit_cost(part: str, what: str) -> rows.UnitCost:
    """The planning figure of a part of the work: cleaning by water, floor finish by flooring, ceiling, everything."""
    return _by_word(((row.what, "", row) for row in table(rows.UnitCost) if row.part == part), what, part)


def floor_covering(flooring: str) -> rows.FloorCovering:
    return _by_word(((row.flooring, "", row) for row in table(rows.FloorCovering)), flooring, "flooring")


def depth_damage() -> tuple[rows.DepthDamage, ...]:
    """The rows of the depth-damage relation, shallowest first."""
    return tuple(sorted(table(rows.DepthDamage), key=lambda row: row.depth_ft))


def pipe_material(name: str) -> rows.PipeMaterial:
    return _by_word(((row.material, "", row) for row in table(rows.PipeMaterial)), name, "pipe material")


def work_item(item: str) -> rows.WorkItem:
    return _by_word(((row.item, "", row) for row in table(rows.WorkItem)), item, "item of work")


def place(name: str) -> rows.Place:
    return _by_word(((row.place, "", row) for row in table(rows.Place)), name, "place")


@cache
def _factors() -> dict[str, rows.Factor]:
    return {row.key: row for row in table(rows.Factor)}


def factor(key: str) -> rows.Factor:
    return _factors()[key]


_FACTOR_SI = {
    "": 1.0,
    "%": 0.01,
    "in": INCH,
    "in2": INCH**2,
    "mm": 0.001,
    "m": 1.0,
    "ft": 12 * INCH,
    "psi": PSI,
    "ksi": 1000 * PSI,
    "m^0.5/s": 1.0,
    "kN/m": 1000.0,
    "m²/s": 1.0,
    "ft/s": 12 * INCH,
    "gal/h": GALLON / 3600,
    "d": 86400.0,
}


def factor_si(key: str) -> float:
    row = factor(key)
    return row.value * _FACTOR_SI[row.unit]


def factor_used(key: str) -> Value:
    row = factor(key)
    return row.used(row.what, f"{row.value:g} {row.unit}".strip())
