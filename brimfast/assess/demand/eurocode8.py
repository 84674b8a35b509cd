"""Eurocode 8, EN 1998-1:2004 section 4.3.5: forces on non-structural elements."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated

import numpy as np
from numpy.typing import ArrayLike, NDArray
from pydantic import Field, model_validator

from brimfast.assess.demand import elastic
from brimfast.assess.demand.elsewhere import combined, sloshing, sloshing_values, taken_over
from brimfast.assess.demand.force import Body, Force
from brimfast.assess.demand.inputs import read_factors, read_inputs
from brimfast.assess.demand.motion import Corner, GroundMotion
from brimfast.assess.demand.standard import Attachment, HazardPoint, Standard
from brimfast.assess.demand.vertical import Vertical, vertical_step
from brimfast.data_tables.loader import table_named
from brimfast.data_tables.rows import Row
from brimfast.shared.findings import Step, Value, step
from brimfast.shared.installation.fields import Part, Quantity, Words, refuse
from brimfast.shared.installation.site import Site

Array = NDArray[np.float64]
BASIS = "EN 1998-1:2004 section 4.3.5.2, equations (4.24) and (4.25)"
VERTICAL = "EN 1998-1:2004 3.2.2.3 and 4.3.3.5.2(4)"
Ground = Annotated[str, Words(("A", "B", "C", "D", "E"))]
SpectrumType = Annotated[str, Words(("type 1", "type 2"))]
Factor = Annotated[float, Quantity("number", "0.5", "3")]


@dataclass(frozen=True, kw_only=True)
class GroundRow(Row):
    spectrum: str
    ground: str
    S: float
    T_B: float
    T_C: float
    T_D: float


@dataclass(frozen=True, kw_only=True)
class VerticalRow(Row):
    spectrum: str
    a_vg_over_a_g: float


@dataclass(frozen=True, kw_only=True)
class ElementRow(Row):
    body: str
    row: str
    q_a: float


# Shares of g: maps that give m/s² are the likeliest slip, and no European ground passes 1 g.
GroundAcceleration = Annotated[float, Quantity("acceleration", "0.01", "1.2")]


class Inputs(Part):
    """The design earthquake: a_g with the importance of the building in it, or a_gR of the map with gamma_I."""

    a_g: Annotated[
        GroundAcceleration | None,
        Field(description="design ground acceleration on ground type A (a_gR times gamma_I), g"),
    ] = None
    a_gR: Annotated[
        GroundAcceleration | None, Field(description="reference ground acceleration of the national map, g")
    ] = None
    gamma_I: Annotated[
        Annotated[float, Quantity("number", "0.4", "2")] | None,
        Field(description="importance of the building, with a_gR"),
    ] = None
    ground: Annotated[Ground, Field(description="ground type, A to E")]
    spectrum: Annotated[SpectrumType, Field(description="type 1 or type 2, as the National Annex says")]
    S: Annotated[Factor | None, Field(description="soil factor of the National Annex, in place of the recommended")] = (
        None
    )
    T_C: Annotated[
        Annotated[float, Quantity("period", "0.1 s", "3 s")] | None,
        Field(description="end of the plateau by the National Annex"),
    ] = None

    @model_validator(mode="after")
    def _one_acceleration(self) -> Inputs:
        if (self.a_g is None) == (self.a_gR is None):
            found = "a_g and a_gR" if self.a_g is not None else "neither"
            raise refuse("E-KEY-003", f"found {found}; expected a_g, or a_gR with gamma_I, such as 'a_g: 0.25'")
        if self.a_g is not None and self.gamma_I is not None:
            raise refuse("E-KEY-003", "found gamma_I with a_g, which has it in it; expected a_gR with gamma_I")
        return self

    @property
    def acceleration(self) -> float:
        """a_g (g): γ_I a_gR, EN 1998-1 3.2.1(3)."""
        return self.a_g if self.a_g is not None else (self.a_gR or 0.0) * (self.gamma_I or 1.0)


class Factors(Part):
    """What the file may choose for one body."""

    q_a: Annotated[float, Quantity("number", "1", "4")] | None = None
    gamma_a: Annotated[float, Quantity("number", "1", "1.5")] | None = None
    T_a: Annotated[float, Quantity("period", "0.01 s", "5 s")] | None = None


def height_term(z_H: ArrayLike, T_ratio: ArrayLike = 1.0) -> Array:
    """Share of α S that reaches an element: max(3 (1 + z/H)/(1 + (1 − T_a/T_1)²) − 0.5, 1).

    z_H = z/H from 0 to 1 (else NaN); T_ratio = T_a/T_1, 0 rigid, 1 in resonance (negative: NaN). Source: EN 1998-1:2004
    (4.25) (in several public engineering codes; also NTC 2018 (7.2.5)).
    """
    z_H, T_ratio = np.asarray(z_H, float), np.asarray(T_ratio, float)
    z_H = np.where((z_H >= 0) & (z_H <= 1), z_H, np.nan)
    T_ratio = np.where(T_ratio >= 0, T_ratio, np.nan)
    return np.asarray(np.maximum(3 * (1 + z_H) / (1 + (1 - T_ratio) ** 2) - 0.5, 1.0))


def element_force(
    alpha: ArrayLike,
    S: ArrayLike,
    W_a: ArrayLike,
    gamma_a: ArrayLike,
    q_a: ArrayLike,
    z_H: ArrayLike,
    T_ratio: ArrayLike = 1.0,
) -> Array:
    """Horizontal force on a non-structural element (unit of W_a): F_a = S_a W_a γ_a/q_a, S_a = α S · height_term.

    alpha = a_g/g, S soil factor, W_a weight, gamma_a 1 to 1.5, q_a 1 or 2. Source: EN 1998-1:2004 (4.24), (4.25).
    """
    S_a = np.asarray(alpha, float) * np.asarray(S, float) * height_term(z_H, T_ratio)
    return np.asarray(S_a * np.asarray(W_a, float) * np.asarray(gamma_a, float) / np.asarray(q_a, float))


def plateau(a_g: ArrayLike, S: ArrayLike) -> Array:
    """Plateau of the elastic spectrum at 5 % damping (g): S_e = 2.5 a_g S. Source: EN 1998-1:2004 (3.3)."""
    return np.asarray(2.5 * np.asarray(a_g, float) * np.asarray(S, float))


def vertical_share(a_g: ArrayLike, k: ArrayLike) -> Array:
    """E_v over W together with the full horizontal action: 0.3 · 3.0 a_vg, a_vg = k a_g.

    Plateau of the vertical spectrum, (3.9); 0.3 of it with the horizontal one, (4.20). a_g in g.
    Source: EN 1998-1:2004 3.2.2.3, 4.3.3.5.2(4).
    """
    return np.asarray(0.3 * 3.0 * np.asarray(k, float) * np.asarray(a_g, float))


def _soil(given: Inputs) -> tuple[float, float, tuple[Value, ...]]:
    """S and T_C, the National Annex's where the file gives them."""
    row = next(
        row
        for row in table_named(GroundRow, "eurocode8_ground")
        if (row.spectrum, row.ground) == (given.spectrum, given.ground)
    )
    values = []
    if given.S is None or given.T_C is None:
        name = f"recommended soil values, ground type {row.ground}, spectrum {row.spectrum}"
        values.append(row.used(name, f"S {row.S:g}, T_C {row.T_C:g} s"))
    for key, value in (("S", given.S), ("T_C", given.T_C)):
        if value is not None:
            values.append(
                Value(f"{key} of the National Annex", f"{value:g}", "the installation file", "given in the file")
            )
    return given.S or row.S, given.T_C or row.T_C, tuple(values)


def motion(site: Site) -> GroundMotion:
    given = read_inputs(Inputs, site)
    S, T_C, values = _soil(given)
    a_g = given.acceleration
    S_e = float(plateau(a_g, S))
    rise = next(row for row in table_named(VerticalRow, "eurocode8_vertical") if row.spectrum == given.spectrum)
    k_v = float(vertical_share(a_g, rise.a_vg_over_a_g))
    raised = "a_g" if given.a_g is not None else f"a_gR = {given.a_gR:g} g, gamma_I = {given.gamma_I or 1:g}"
    lines: list[Step] = []
    if given.a_gR is not None:
        inputs: dict[str, float | tuple[float, str]] = {"gamma_I": given.gamma_I or 1.0, "a_gR": (given.a_gR, "g")}
        lines.append(step("a_g", "gamma_I*a_gR", inputs, (a_g, "g"), "EN 1998-1:2004 3.2.1(3)"))
    lines += [
        step("S_e", "2.5*a_g*S", {"a_g": (a_g, "g"), "S": S}, (S_e, "g"), "EN 1998-1:2004 (3.3)"),
        step(
            "k_v",
            "0.3*3.0*k*a_g",
            {"k": rise.a_vg_over_a_g, "a_g": (a_g, "g")},
            k_v,
            VERTICAL,
            "k: a_vg over a_g; the plateau of the vertical spectrum, three tenths of it with the sideways force",
        ),
    ]
    corner = step("T_S", "T_C", {"T_C": (T_C, "s")}, (T_C, "s"), "EN 1998-1:2004 Tables 3.2, 3.3")
    start = f"a_g = {a_g:g} g" if raised == "a_g" else raised
    used = rise.used(f"vertical over horizontal ground acceleration, {rise.spectrum}", f"{rise.a_vg_over_a_g:g}")
    return GroundMotion(
        plateau=S_e,
        symbol="S_e",
        how=f"{start} on ground type {given.ground}, spectrum {given.spectrum}",
        peak=a_g * S,
        peak_words="a_g S",
        vertical=Vertical(1.0, "k_v", k_v, combined(VERTICAL), VERTICAL, (used,)),
        corner=Corner(T_C, (corner,), values),
        spectrum="EN 1998-1:2004 section 3.2.2.2",
        equations="EN 1998-1:2004 (3.3), (3.4)",
        sloshing_values=sloshing_values(),
        sloshing=sloshing("EN 1998-1:2004 (3.3), (3.4)"),
        tail="the steeper fall from T_D on",
        steps=tuple(lines),
        values=(*values, used),
    )


def _periods(body: Body, site: Site, given: Factors | None) -> tuple[float | None, float | None]:
    """T_a of the element and T_1 of the building, as far as known (s)."""
    T_a = given.T_a if given is not None else None
    T_1 = site.building.period if site.building is not None else None
    if T_a is None and body.swing is not None and math.isfinite(body.swing.between[0]):
        short, long = body.swing.between
        # of both ways, and of all between, the period nearest to T_1
        T_a = short if T_1 is None else min(max(T_1, short), long)
    return T_a, T_1


def _acceleration(alpha: float, S: float, z_H: float, T_a: float | None, T_1: float | None) -> tuple[Step, str]:
    """S_a, by the periods or in resonance where one of them is not known; and what governs."""
    inputs: dict[str, float | tuple[float, str]] = {"alpha": alpha, "S": S, "z_H": z_H}
    if T_a is None or T_1 is None:
        missing = " and ".join(name for name, T in (("T_a", T_a), ("T_1", T_1)) if T is None)
        S_a = alpha * S * float(height_term(z_H))
        note = f"{missing} not known: in resonance, the most there can be"
        return step("S_a", "alpha*S*(3*(1 + z_H) - 0.5)", inputs, S_a, "EN 1998-1:2004 (4.25)", note), "resonance"
    term = float(height_term(z_H, T_a / T_1))
    line = step(
        "S_a",
        "alpha*S*max(3*(1 + z_H)/(1 + (1 - T_a/T_1)**2) - 0.5, 1)",
        {**inputs, "T_a": (T_a, "s"), "T_1": (T_1, "s")},
        alpha * S * term,
        "EN 1998-1:2004 (4.25)",
    )
    return line, "the lower limit" if term <= 1 else "the formula"


def force(body: Body, site: Site, motion: GroundMotion) -> Force:
    """The force on one body, with the table row that its factors come from."""
    inputs, given = read_inputs(Inputs, site), read_factors(Factors, body.factors)
    S, _, soil = _soil(inputs)
    row = next(row for row in table_named(ElementRow, "eurocode8_elements") if row.body == body.kind)
    q_a, gamma_a, name = row.q_a, 1.0, row.row
    values = [*soil, *motion.vertical.values]
    if given is not None and body.factors is not None:
        q_a, gamma_a = given.q_a or q_a, given.gamma_a or gamma_a
        name = f"chosen in the file: {body.factors.reason}"
        text = f"q_a {q_a:g}, gamma_a {gamma_a:g}"
        values.append(Value(f"factors of {body.name}", text, body.factors.reason, "given in the file"))
    else:
        values += [row.used(f"behaviour factor, {row.row}", f"q_a {q_a:g}"), GAMMA_A]
    alpha, W, z_H = inputs.acceleration, body.weight, site.height_ratio
    T_a, T_1 = _periods(body, site, given)
    line, governs = _acceleration(alpha, S, z_H, T_a, T_1)
    ratio = T_a / T_1 if T_a is not None and T_1 is not None else 1.0
    F_a = float(element_force(alpha, S, W, gamma_a, q_a, z_H, ratio))
    nearest = ", the one nearest to T_1" if T_1 is not None else ""
    said = f"; T_a {body.swing.said}{nearest}" if T_a is not None and body.swing is not None else ""
    steps = (
        line,
        step(
            "F_a",
            "S_a*W_a*gamma_a/q_a",
            {"S_a": line.result.value, "W_a": (W, "N"), "gamma_a": gamma_a, "q_a": q_a},
            (F_a, "N"),
            "EN 1998-1:2004 (4.24)",
            f"row: {name}; z_H is z/H; {governs} governs{said}",
        ),
        vertical_step(motion.vertical, W),
    )
    return Force(
        body.name,
        W,
        F_a,
        motion.vertical.share * W,
        q_a,
        name,
        governs,
        BASIS,
        steps,
        tuple(values),
        overstrength_source="q_a, so that anchors stay elastic (EN 1998-1 has no factor of its own)",
        sways=q_a,
    )


GAMMA_A = Value(
    "importance of the element", "gamma_a 1.0", "EN 1998-1:2004 4.3.5.3", "from memory", "EN 1998-1 4.3.5.3"
)


def height(site: Site, z_h: float) -> tuple[float, Step]:
    """What a floor adds, as for rigid elements over such at grade: 3 (1 + z/H)/2 − 0.5."""
    H = float(height_term(z_h, 0.0))
    return H, step("H_f", "3*(1 + z_h)/2 - 0.5", {"z_h": z_h}, H, "EN 1998-1:2004 (4.25) with T_a = 0")


def attachment(component: str, site: Site, motion: GroundMotion) -> Attachment:
    value = Value(
        "when an attachment is asked for",
        "elements that can hurt people when they fail",
        "EN 1998-1:2004 4.3.5.1(1)P",
        "from memory",
        "EN 1998-1 4.3.5.1, and the National Annex for very low seismicity",
    )
    return Attachment(
        True,
        "EN 1998-1:2004 4.3.5.1: elements that can hurt people are verified together with what holds them",
        "nothing attaches it, and friction is not counted as what holds it",
        value,
    )


def hazard(site: Site) -> HazardPoint:
    """a_gR is passed once in 475 years; a_g is gamma_I times as strong, where the file says so."""
    given = read_inputs(Inputs, site)
    value = Value(
        "how often the reference shaking is passed",
        "10 % in 50 years, once in 475 years",
        "EN 1998-1:2004 2.1(1), as its Ethiopian adoption ES EN 1998:2015 has it",
        "published",
        "the National Annex to EN 1998-1",
    )
    return HazardPoint(1.0 / (given.gamma_I or 1.0), 475.0, value)


STANDARD = Standard(
    name="eurocode8",
    title="Eurocode 8, EN 1998-1:2004, section 4.3.5",
    where="Europe, with each country's National Annex",
    inputs=Inputs,
    factors=Factors,
    needs="a_g (or a_gR, with gamma_I unless 1.0), ground, spectrum",
    example="a_g: 0.25, ground: C, spectrum: type 1",
    official="the National Annex and the national hazard map; the ground type from a geotechnical engineer",
    motion=motion,
    force=force,
    in_the_open=elastic.force,
    height=height,
    attachment=attachment,
    in_the_open_attachment=elastic.IN_THE_OPEN,
    in_the_open_basis="EN 1998-1:2004",
    hazard=hazard,
    freeboard="an estimate of spilling; what EN 1998-4 asks of freeboard is not checked",
    tables=((GroundRow, "eurocode8_ground"), (VerticalRow, "eurocode8_vertical"), (ElementRow, "eurocode8_elements")),
    assumptions=(
        *taken_over("EN 1998-1:2004"),
        "Soil factor, periods and shape of the spectrum and behaviour factors are the recommended values; a National Annex may "
        "have others, and may ask for both types of spectrum: then check with each.",
    ),
)
