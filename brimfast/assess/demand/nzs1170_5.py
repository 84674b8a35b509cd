"""NZS 1170.5:2004, section 8: forces on parts and components."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Annotated

import numpy as np
from numpy.typing import ArrayLike, NDArray
from pydantic import Field, model_validator

from brimfast.assess.demand import elastic
from brimfast.assess.demand.elsewhere import combined, no_rule, sloshing, sloshing_values, taken_over
from brimfast.assess.demand.force import Body, Force, amplification
from brimfast.assess.demand.inputs import read_factors, read_inputs
from brimfast.assess.demand.motion import Corner, GroundMotion
from brimfast.assess.demand.standard import Attachment, HazardPoint, Standard
from brimfast.assess.demand.vertical import Vertical, vertical_step
from brimfast.data_tables.loader import table_named
from brimfast.data_tables.rows import Row
from brimfast.shared.findings import Step, Value, step
from brimfast.shared.installation.fields import Part, Quantity, Words, YesNo, refuse
from brimfast.shared.installation.site import Site

Array = NDArray[np.float64]
BASIS = "NZS 1170.5:2004 section 8, equations 8.2(1) and 8.5(1)"
VERTICAL = "NZS 1170.5:2004 section 5.4; three tenths of it together with the sideways force"
MOST_Z_R = 0.7  # section 3.1.1
N_MAX = 1.72  # Table 3.7, from 5 s on
Soil = Annotated[str, Words(("A", "B", "C", "D", "E"))]
Category = Annotated[str, Words(("P.1", "P.2", "P.3", "P.4"))]


@dataclass(frozen=True, kw_only=True)
class ShapeRow(Row):
    soil: str
    C_h_0: float
    C_h_max: float
    C_h_long: float  # C_h(T) is no more than this over T (s)


@dataclass(frozen=True, kw_only=True)
class CategoryRow(Row):
    part: str
    what: str
    R_p: float


@dataclass(frozen=True, kw_only=True)
class ResponseRow(Row):
    mu_p: float
    C_ph: float


@dataclass(frozen=True, kw_only=True)
class PartRow(Row):
    body: str
    row: str
    mu_p: float


class Inputs(Part):
    """Hazard factor, ground and return period of the design earthquake; the category of the parts."""

    Z: Annotated[
        Annotated[float, Quantity("acceleration", "0.05", "0.6")], Field(description="hazard factor, Table 3.3 or map")
    ]
    soil: Annotated[Soil, Field(description="site subsoil class, A to E")]
    R_u: Annotated[
        Annotated[float, Quantity("number", "0.2", "1.8")],
        Field(description="return period factor; 1.0 for importance level 2"),
    ] = 1.0
    near_fault: Annotated[
        YesNo | None, Field(description="within 20 km of a major fault of Table 3.6; not said counts as yes")
    ] = None
    height: Annotated[
        Annotated[float, Quantity("distance", "0 m", "200 m")] | None,
        Field(description="height h_i of the floor above the ground, beside height_ratio"),
    ] = None
    part: Annotated[Category, Field(description="category of parts, P.1 to P.4, Table 8.1")] = "P.3"


class Factors(Part):
    """What the file may choose for one body; the response by C_ph itself or by the ductility mu_p."""

    C_ph: Annotated[float, Quantity("number", "0.45", "1")] | None = None
    mu_p: Annotated[float, Quantity("number", "1", "3")] | None = None
    R_p: Annotated[float, Quantity("number", "0.5", "4")] | None = None
    T_p: Annotated[float, Quantity("period", "0.01 s", "5 s")] | None = None

    @model_validator(mode="after")
    def _one_response(self) -> Factors:
        if self.C_ph is not None and self.mu_p is not None:
            raise refuse("E-KEY-003", "found C_ph and mu_p; expected one of them")
        return self


def height_coefficient(ratio: ArrayLike, h_i: ArrayLike = np.inf) -> Array:
    """Floor height coefficient C_Hi: the least that applies of 1 + h_i/6 (h_i < 12 m), 1 + 10 h_i/h_n (under 0.2), 3.0.

    ratio = h_i/h_n from 0 to 1 (else NaN), h_i height of the floor above the ground (m; infinite where not known).
    Source: NZS 1170.5:2004 8.3(1) to 8.3(3), section 8.3.
    """
    ratio, h_i = np.asarray(ratio, float), np.asarray(h_i, float)
    ratio = np.where((ratio >= 0) & (ratio <= 1), ratio, np.nan)
    by_ratio = np.where(ratio >= 0.2, 3.0, 1 + 10 * ratio) + 0 * ratio
    return np.asarray(np.where(h_i < 12, np.minimum(1 + np.minimum(h_i, 12) / 6, by_ratio), by_ratio))


def part_shape(T_p: ArrayLike) -> Array:
    """Spectral shape of a part: C_i(T_p) = 2.0 up to 0.75 s, 0.5 from 1.5 s on, 2 (1.75 − T_p) between.

    T_p period of the part (s; negative: NaN). Source: NZS 1170.5:2004 section 8.4.
    """
    T_p = np.asarray(T_p, float)
    return np.asarray(np.clip(2 * (1.75 - np.where(T_p >= 0, T_p, np.nan)), 0.5, 2.0))


def part_response(mu_p: ArrayLike) -> Array:
    """Response factor C_ph of a part by its ductility, straight lines between the values of Table 8.2; NaN under 1.

    Source: NZS 1170.5:2004 section 8.6, Table 8.2.
    """
    rows = table_named(ResponseRow, "nzs1170_5_response")
    mu_p = np.asarray(mu_p, float)
    found = np.interp(mu_p, [row.mu_p for row in rows], [row.C_ph for row in rows])
    return np.asarray(np.where(mu_p >= 1, found, np.nan))


def hazard(Z: ArrayLike, R: ArrayLike, C_h: ArrayLike, N: ArrayLike = 1.0) -> Array:
    """Elastic site spectrum (g): C = C_h Z R N, Z R no more than 0.7. Source: NZS 1170.5:2004 3.1(1), section 3.1.1."""
    Z_R = np.minimum(np.asarray(Z, float) * np.asarray(R, float), MOST_Z_R)
    return np.asarray(np.asarray(C_h, float) * Z_R * np.asarray(N, float))


def unlimited_force(
    C_0: ArrayLike, C_Hi: ArrayLike, C_i: ArrayLike, C_ph: ArrayLike, R_p: ArrayLike, W_p: ArrayLike
) -> Array:
    """C(0) C_Hi C_i C_ph R_p W_p (unit of W_p); see part_force. Source: NZS 1170.5:2004 8.2(1), 8.5(1)."""
    C_0, C_Hi, C_i, C_ph, R_p, W_p = (np.asarray(item, float) for item in (C_0, C_Hi, C_i, C_ph, R_p, W_p))
    return np.asarray(C_0 * C_Hi * C_i * C_ph * R_p * W_p)


def part_force(
    C_0: ArrayLike, C_Hi: ArrayLike, C_i: ArrayLike, C_ph: ArrayLike, R_p: ArrayLike, W_p: ArrayLike
) -> Array:
    """Horizontal force on a part (unit of W_p): F_ph = C_p C_ph R_p W_p, no more than 3.6 W_p; C_p = C(0) C_Hi C_i.

    C_0 site hazard coefficient at 0 s (g). Source: NZS 1170.5:2004 8.2(1), 8.5(1).
    """
    return np.asarray(np.minimum(unlimited_force(C_0, C_Hi, C_i, C_ph, R_p, W_p), 3.6 * np.asarray(W_p, float)))


def vertical_share(C_max: ArrayLike) -> Array:
    """E_v over W beside the full sideways force: 0.3 · 0.7 C_max; the vertical spectrum is 0.7 of the horizontal one.

    Source: NZS 1170.5:2004 section 5.4 (0.7); three tenths of it at the same time is practice, no source.
    """
    return np.asarray(0.3 * 0.7 * np.asarray(C_max, float))


def _shape(soil: str) -> ShapeRow:
    return next(row for row in table_named(ShapeRow, "nzs1170_5_shape") if row.soil == soil)


def _product(symbol: str, shape: str, C_h: float, given: Inputs) -> Step:
    value = float(hazard(given.Z, given.R_u, C_h))
    inputs = {shape: C_h, "Z": given.Z, "R_u": given.R_u}
    note = "Z R_u no more than 0.7" if given.Z * given.R_u > MOST_Z_R else ""
    return step(symbol, f"{shape}*min(Z*R_u, {MOST_Z_R:g})", inputs, (value, "g"), "NZS 1170.5:2004 3.1(1)", note)


def motion(site: Site) -> GroundMotion:
    given = read_inputs(Inputs, site)
    row = _shape(given.soil)
    C_0, C_max = _product("C_0", "C_h0", row.C_h_0, given), _product("C_max", "C_hmax", row.C_h_max, given)
    k_v = float(vertical_share(C_max.result.value))
    N = 1.0 if given.near_fault is False or given.R_u <= 0.75 else N_MAX
    T_S = row.C_h_long * N / row.C_h_max
    near = "" if N == 1 else "N: the most there is near a major fault (Table 3.7)"
    if N > 1 and given.near_fault is None:
        near += ", as the file does not say that there is none"
    corner = step(
        "T_S",
        "C_hlong*N/C_hmax",
        {"C_hlong": (row.C_h_long, "s"), "N": N, "C_hmax": row.C_h_max},
        (T_S, "s"),
        "NZS 1170.5:2004 Tables 3.1 and 3.7",
        "; ".join(part for part in ("the spectrum is no more than C_hlong/T", near) if part),
        any_units=False,
    )
    upright = step(
        "k_v",
        "0.3*0.7*C_max",
        {"C_max": C_max.result.value},
        k_v,
        VERTICAL,
        "three tenths: as in EN 1998-1 4.3.3.5.2(4)",
    )
    used = row.used(f"spectral shape, site subsoil class {row.soil}", f"C_h(0) {row.C_h_0:g}, most {row.C_h_max:g}")
    at_once = no_rule(
        "vertical earthquake together with the sideways one",
        "0.3 of 0.7 of the spectrum's plateau",
        "NZS 1170.5 section 5.4 for the 0.7 (from memory); 0.3 as other standards have it",
        "NZS 1170.5 sections 5.4 and 8.5",
    )
    fault = Value(
        "near-fault factor of slow swings",
        f"N {N:g}",
        "NZS 1170.5:2004 Table 3.7, in an open transcription by New Zealand engineers",
        "published",
        "NZS 1170.5 section 3.1.6",
    )
    return GroundMotion(
        plateau=C_max.result.value,
        symbol="C_max",
        how=f"Z = {given.Z:g}, R_u = {given.R_u:g}, site subsoil class {given.soil}",
        peak=C_0.result.value,
        peak_words="C(0)",
        vertical=Vertical(1.0, "k_v", k_v, combined(VERTICAL), VERTICAL, (at_once,)),
        corner=Corner(T_S, (corner,), (used, fault)),
        spectrum="NZS 1170.5:2004 section 3.1",
        equations="NZS 1170.5:2004 3.1(1), Table 3.1",
        sloshing_values=sloshing_values(),
        sloshing=sloshing("NZS 1170.5:2004 3.1(1), Table 3.1"),
        tail="the steeper fall beyond 3 s",
        steps=(C_0, C_max, upright),
        values=(used, at_once),
    )


def _height(z_h: float, h_i: float | None) -> tuple[float, Step]:
    """Where h_i and the share of the height say different things (one at the ground, one not), the higher counts."""
    if h_i is not None and (h_i > 0) != (z_h > 0):
        if z_h > 0:
            h_i = None
        elif h_i < 12:
            C_Hi = float(height_coefficient(1.0, h_i))
            note = "height_ratio is not given"
            line = step(
                "C_Hi", "min(1 + h_i/6, 3)", {"h_i": (h_i, "m")}, C_Hi, "NZS 1170.5:2004 8.3(1)", note, any_units=False
            )
            return C_Hi, line
        else:
            return 3.0, step("C_Hi", "3.0", {}, 3.0, "NZS 1170.5:2004 8.3(3)", "height_ratio is not given: the most")
    C_Hi = float(height_coefficient(z_h, math.inf if h_i is None else h_i))
    by_ratio = float(height_coefficient(z_h))
    inputs: dict[str, float | tuple[float, str]] = {"z_h": z_h}
    if C_Hi < by_ratio and h_i is not None:
        return C_Hi, step("C_Hi", "1 + h_i/6", {"h_i": (h_i, "m")}, C_Hi, "NZS 1170.5:2004 8.3(1)", any_units=False)
    if z_h < 0.2:
        return C_Hi, step("C_Hi", "1 + 10*z_h", inputs, C_Hi, "NZS 1170.5:2004 8.3(2)", "z_h is h_i/h_n")
    return C_Hi, step("C_Hi", "3.0", {}, C_Hi, "NZS 1170.5:2004 8.3(3)", "from a fifth of the building's height on")


def height(site: Site, z_h: float) -> tuple[float, Step]:
    """C_Hi of a floor at a share of the building's height; the file's h_i is that of the installation's own floor."""
    h_i = read_inputs(Inputs, site).height
    C_Hi, line = _height(z_h, h_i if z_h == site.height_ratio else None)
    return C_Hi, replace(line, symbol="H_f", note="; ".join(part for part in ("C_Hi of the floor", line.note) if part))


def force(body: Body, site: Site, motion: GroundMotion) -> Force:
    """The force on one body, with the table row that its factors come from."""
    inputs, given = read_inputs(Inputs, site), read_factors(Factors, body.factors)
    row = next(row for row in table_named(PartRow, "nzs1170_5_parts") if row.body == body.kind)
    category = next(one for one in table_named(CategoryRow, "nzs1170_5_categories") if one.part == inputs.part)
    mu_p, R_p, name = row.mu_p, category.R_p, row.row
    C_ph = float(part_response(mu_p))
    values = [*motion.values]
    if given is not None and body.factors is not None:
        mu_p, R_p = given.mu_p or mu_p, given.R_p or R_p
        C_ph = given.C_ph or float(part_response(mu_p))
        mu_p = 1 / C_ph if given.C_ph is not None else mu_p
        name = f"chosen in the file: {body.factors.reason}"
        text = f"C_ph {C_ph:.3g}, R_p {R_p:g}"
        values.append(Value(f"factors of {body.name}", text, body.factors.reason, "given in the file"))
    else:
        values.append(row.used(f"ductility of the part, {row.row}", f"mu_p {mu_p:g}"))
        response = table_named(ResponseRow, "nzs1170_5_response")[0]
        values.append(response.used("response factor of the part by its ductility", f"C_ph {C_ph:g}"))
        values.append(category.used(f"part risk factor, category {category.part}", f"R_p {R_p:g}"))
    T_p = given.T_p if given is not None else None
    if T_p is None and body.swing is not None and math.isfinite(body.swing.between[0]):
        T_p = body.swing.between[0]  # C_i falls with the period
    C_i = 2.0 if T_p is None else float(part_shape(T_p))
    if T_p is None:
        shape = step("C_i", "2.0", {}, C_i, "NZS 1170.5:2004 section 8.4", "period of the part not known: the most")
    else:
        note = f"T_p {body.swing.said}; the shorter counts, both ways" if body.swing is not None else ""
        expression = "min(max(2*(1.75 - T_p), 0.5), 2.0)"
        shape = step("C_i", expression, {"T_p": (T_p, "s")}, C_i, "NZS 1170.5:2004 section 8.4", note, any_units=False)
    C_Hi, risen = _height(site.height_ratio, inputs.height)
    C_0, W = motion.steps[0].result.value, body.weight
    F_ph = float(part_force(C_0, C_Hi, C_i, C_ph, R_p, W))
    governs = "the upper limit" if F_ph >= 3.6 * W * (1 - 1e-12) else "the formula"
    steps = (
        risen,
        shape,
        step(
            "F_ph",
            "min(C_0*C_Hi*C_i*C_ph*R_p, 3.6)*W_p",
            {"C_0": C_0, "C_Hi": C_Hi, "C_i": C_i, "C_ph": C_ph, "R_p": R_p, "W_p": (W, "N")},
            (F_ph, "N"),
            "NZS 1170.5:2004 8.2(1), 8.5(1)",
            f"row: {name}; category {category.part}; {governs} governs",
        ),
        vertical_step(motion.vertical, W),
    )
    anchors = float(part_force(C_0, C_Hi, C_i, 1.0, R_p, W))
    return Force(
        body.name,
        W,
        F_ph,
        motion.vertical.share * W,
        anchors / F_ph,
        name,
        governs,
        BASIS,
        steps,
        tuple(values),
        overstrength_source="C_ph of 1.0, so that anchors stay elastic",
        sways=amplification(max(mu_p, 1.0), float(unlimited_force(C_0, C_Hi, C_i, 1.0, R_p, W)), F_ph),
    )


def attachment(component: str, site: Site, motion: GroundMotion) -> Attachment:
    value = Value(
        "when an attachment is asked for",
        "parts that can hurt people when they fall, with their connections",
        "NZS 1170.5:2004 sections 8.1 and 8.7",
        "from memory",
        "NZS 1170.5 sections 8.1 and 8.7; NZS 4219",
    )
    return Attachment(
        True,
        "NZS 1170.5:2004 section 8: a part and its connections resist its force",
        "nothing attaches it, and friction is not counted as a connection",
        value,
    )


def hazard_point(site: Site) -> HazardPoint:
    """R = 1 stands for once in 500 years; the site's own earthquake is R_u times as strong, less where Z R_u is cut."""
    given = read_inputs(Inputs, site)
    value = Value(
        "how often the shaking of R = 1 is passed",
        "once in 500 years",
        "NZS 1170.5:2004 Table 3.5, as open code cites it",
        "published",
        "NZS 1170.5 Table 3.5",
    )
    return HazardPoint(float(hazard(given.Z, 1.0, 1.0) / hazard(given.Z, given.R_u, 1.0)), 500.0, value)


STANDARD = Standard(
    name="nzs1170.5",
    title="NZS 1170.5:2004, section 8",
    where="New Zealand",
    inputs=Inputs,
    factors=Factors,
    needs="Z, soil",
    example="Z: 0.4, soil: C",
    official="Table 3.3 or the maps of the standard; the subsoil class from a geotechnical engineer or the council",
    motion=motion,
    force=force,
    in_the_open=elastic.force,
    height=height,
    attachment=attachment,
    in_the_open_attachment=elastic.IN_THE_OPEN,
    in_the_open_basis="NZS 1170.5:2004",
    hazard=hazard_point,
    freeboard="an estimate of spilling; what New Zealand's guides to tanks ask of freeboard is not checked",
    tables=(
        (ShapeRow, "nzs1170_5_shape"),
        (CategoryRow, "nzs1170_5_categories"),
        (ResponseRow, "nzs1170_5_response"),
        (PartRow, "nzs1170_5_parts"),
    ),
    assumptions=(
        *taken_over("NZS 1170.5:2004"),
        "Parts count as such whose failure can hurt people (P.1 to P.4), under the earthquake of the ultimate limit state; "
        "the milder one of categories P.5 to P.7 is not used.",
        "For slow swings the spectrum is bounded by its branch in 1/T, which is above the printed values between.",
    ),
)
