"""The National Building Code of Canada, article 4.1.8.18: what its editions have in common."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Annotated

import numpy as np
from numpy.typing import ArrayLike, NDArray
from pydantic import Field, model_validator

from brimfast.assess.demand import elastic
from brimfast.assess.demand.elsewhere import combined, no_rule, sloshing, sloshing_values, taken_over
from brimfast.assess.demand.force import Body, Force, amplification
from brimfast.assess.demand.inputs import Acceleration, read_factors, read_inputs
from brimfast.assess.demand.motion import Corner, GroundMotion
from brimfast.assess.demand.period import counts_as, period_note
from brimfast.assess.demand.standard import Attachment, HazardPoint, Method, Standard
from brimfast.assess.demand.vertical import Vertical, vertical_step
from brimfast.data_tables.loader import table_named
from brimfast.data_tables.rows import Row
from brimfast.shared.findings import Provenance, Step, Value, step
from brimfast.shared.installation.fields import Part, Quantity, refuse
from brimfast.shared.installation.site import Site
from brimfast.shared.uncertain import Uncertain, as_written

Array = NDArray[np.float64]
VERTICAL = "no rule of the code for elements: 0.2 of the plateau, as ASCE 7 has it"
EXEMPT_UNDER = 0.35
POST_DISASTER = 1.5  # I_E of a building that must serve after an earthquake
LONG_TAIL = 2.45  # s: the most of T S(T) over S(2.0) up to 5 s, where S(5.0) is 0.4 S(2.0) or less
T_S_UNKNOWN = 2.5  # s
IMPORTANCES = (0.8, 1.0, 1.3, 1.5)


@dataclass(frozen=True, kw_only=True)
class ComponentRow(Row):
    body: str
    row: str
    C_p: float
    A_r: float
    R_p: float


class Spectrum(Part):
    """What the editions have in common: importance, and the spectrum at longer periods."""

    I_E: Annotated[
        Annotated[float, Quantity("number", "0.8", "1.5")],
        Field(description="importance of the building: 0.8, 1.0, 1.3 or 1.5"),
    ] = 1.0
    S_05: Annotated[Acceleration | None, Field(description="design spectrum S(0.5), site effect in it, g")] = None
    S_10: Annotated[Acceleration | None, Field(description="design spectrum S(1.0), site effect in it, g")] = None
    S_20: Annotated[Acceleration | None, Field(description="design spectrum S(2.0), site effect in it, g")] = None

    @model_validator(mode="after")
    def _known_importance(self) -> Spectrum:
        if isinstance(self.I_E, Uncertain) or self.I_E not in IMPORTANCES:
            raise refuse("E-RANGE-001", f"found I_E {as_written(self.I_E)}; expected 0.8, 1.0, 1.3 or 1.5")
        longer = (self.S_05, self.S_10, self.S_20)
        if any(value is None for value in longer) and any(value is not None for value in longer):
            raise refuse("E-KEY-003", "found some of S_05, S_10, S_20; expected all three, or none")
        return self


class Factors(Part):
    """What the file may choose for one body."""

    C_p: Annotated[float, Quantity("number", "0.5", "2")] | None = None
    A_r: Annotated[float, Quantity("number", "1", "2.5")] | None = None
    R_p: Annotated[float, Quantity("number", "1", "5")] | None = None


def height_factor(ratio: ArrayLike) -> Array:
    """A_x = 1 + 2 h_x/h_n; ratio = h_x/h_n from 0 to 1 (else NaN). Source: NBC 4.1.8.18.(1)."""
    ratio = np.asarray(ratio, float)
    return np.asarray(1 + 2 * np.where((ratio >= 0) & (ratio <= 1), ratio, np.nan))


def component_factor(C_p: ArrayLike, A_r: ArrayLike, A_x: ArrayLike, R_p: ArrayLike) -> Array:
    """S_p = C_p A_r A_x/R_p, at least 0.7 and at most 4.0. Source: NBC 4.1.8.18.(1)."""
    S_p = np.asarray(C_p, float) * np.asarray(A_r, float) * np.asarray(A_x, float) / np.asarray(R_p, float)
    return np.asarray(np.clip(S_p, 0.7, 4.0))


def component_force(S_02: ArrayLike, I_E: ArrayLike, S_p: ArrayLike, W_p: ArrayLike) -> Array:
    """Lateral force on an element (unit of W_p): V_p = 0.3 S(0.2) I_E S_p W_p; of the 2015 edition S(0.2) = F_a S_a(0.2).

    S_02 (g), site effect in it. Source: NBC 2015 and 2020 4.1.8.18.(1).
    """
    S_02, I_E, S_p, W_p = (np.asarray(item, float) for item in (S_02, I_E, S_p, W_p))
    return np.asarray(0.3 * S_02 * I_E * S_p * W_p)


def longest(T: ArrayLike, S: ArrayLike) -> Array:
    """The most of T S(T) (s·g) where S runs straight between its points: the spectrum is no more than that over T.

    T periods (s), S there (g), along the last axis. In a stretch S = a + b T the most of T S is at T = −a/(2 b).
    """
    T, S = np.asarray(T, float), np.asarray(S, float)
    T_1, T_2, S_1, S_2 = T[..., :-1], T[..., 1:], S[..., :-1], S[..., 1:]
    slope = (S_2 - S_1) / (T_2 - T_1)
    start = S_1 - slope * T_1
    top = np.clip(np.where(slope < 0, -start / (2 * np.where(slope < 0, slope, -1.0)), T_2), T_1, T_2)
    return np.asarray(np.max(top * (start + slope * top), axis=-1))


def _corner(given: Spectrum, S_02: float) -> Corner:
    points = (given.S_05, given.S_10, given.S_20)
    if any(value is None for value in points):
        note = "S(0.5), S(1.0) and S(2.0) are not given: the safe side"
        line = step("T_S", f"{T_S_UNKNOWN:g}", {}, (T_S_UNKNOWN, "s"), "", note, any_units=False)
        value = no_rule(
            "end of the spectrum's plateau where S_05, S_10, S_20 are not given",
            f"{T_S_UNKNOWN:g} s",
            "Safe side: above T S(T) over S(0.2) on the softest ground of the west coast, some 2 s by our own estimate",
            "the government's hazard values for the place, then S_05, S_10, S_20",
        )
        return Corner(T_S_UNKNOWN, (line,), (value,))
    T = np.array([0.2, 0.5, 1.0, 2.0])
    S = np.array([S_02, *(float(value) for value in points if value is not None)])
    most, top = max(float(longest(T, S)), LONG_TAIL * float(S[-1])), float(S.max())
    line = step(
        "T_S",
        "P/S_top",
        {"P": (most, "s"), "S_top": (top, "g")},
        (most / top, "s"),
        "NBC 4.1.8.4.(9)",
        "P: the most of T S(T), S straight between its points; from 2 s to 5 s S(5.0) is taken as 0.4 S(2.0), so that T S(T) is "
        "2.45 S(2.0) at most",
        any_units=False,
    )
    return Corner(most / top, (line,), ())


def motion(given: Spectrum, S_02: float, how: str, edition: str, lines: tuple[Step, ...]) -> GroundMotion:
    """The spectrum with I_E in it: what multiplies every force by this code. S_02 = S(0.2) (g)."""
    top = max(S_02, given.S_05 or 0.0, given.S_10 or 0.0, given.S_20 or 0.0)
    S_max = given.I_E * top
    k_v = 0.2 * S_max
    steps = (
        *lines,
        step("S_max", "I_E*S_top", {"I_E": given.I_E, "S_top": (top, "g")}, (S_max, "g"), f"{edition} 4.1.8.4.(9)"),
        step("k_v", "0.2*S_max", {"S_max": S_max}, k_v, VERTICAL),
    )
    upright = no_rule(
        "vertical earthquake over weight",
        f"0.2 of S_max: {k_v:.2f}",
        "The code has none for elements; the share that ASCE 7 takes of its lower S_DS",
        "a structural engineer",
    )
    return GroundMotion(
        plateau=S_max,
        symbol="S_max",
        how=how,
        peak=0.4 * S_max,
        peak_words="0.4 of S_max, an estimate",
        vertical=Vertical(1.0, "k_v", k_v, combined(VERTICAL), VERTICAL, (upright,)),
        corner=_corner(given, S_02),
        spectrum=f"{edition}, article 4.1.8.4",
        equations=f"{edition} 4.1.8.4.(9)",
        sloshing_values=sloshing_values(),
        sloshing=sloshing(f"{edition} 4.1.8.4.(9)"),
        tail="the steeper fall beyond 2 s",
        steps=steps,
        values=(upright,),
    )


Formula = tuple[str, dict[str, float | tuple[float, str]]]  # S(0.2) as the edition writes it


def force(
    body: Body, site: Site, motion: GroundMotion, given: Spectrum, S_02: float, formula: Formula, edition: str
) -> Force:
    """The force on one body, with the table row that its factors come from."""
    rows = {row.body: row for row in table_named(ComponentRow, "nbc_components")}
    row, chosen = rows[counts_as(body.kind, body.swing)], read_factors(Factors, body.factors)
    C_p, A_r, R_p, name = row.C_p, row.A_r, row.R_p, row.row
    values = [*motion.values]
    if chosen is not None and body.factors is not None:
        C_p, A_r, R_p = chosen.C_p or C_p, chosen.A_r or A_r, chosen.R_p or R_p
        name = f"chosen in the file: {body.factors.reason}"
        text = f"C_p {C_p:g}, A_r {A_r:g}, R_p {R_p:g}"
        values.append(Value(f"factors of {body.name}", text, body.factors.reason, "given in the file"))
    else:
        values.append(row.used(f"factors, {row.row}", f"C_p {C_p:g}, A_r {A_r:g}, R_p {R_p:g}"))
    W, A_x = body.weight, float(height_factor(site.height_ratio))
    S_p = float(component_factor(C_p, A_r, A_x, R_p))
    V_p = float(component_force(S_02, given.I_E, S_p, W))
    plain = C_p * A_r * A_x / R_p
    governs = "the lower limit of S_p" if plain <= 0.7 else "the upper limit of S_p" if plain >= 4 else "the formula"
    note = ""
    if body.swing is not None and body.kind.endswith("rack"):
        other = rows[body.kind if body.swing.rigid else f"rigid {body.kind}"]
        S_other = float(component_factor(other.C_p, other.A_r, A_x, other.R_p))
        note = period_note(body.swing, float(component_force(S_02, given.I_E, S_other, W)), V_p)
    written, inputs = formula
    steps = (
        step("A_x", "1 + 2*z_h", {"z_h": site.height_ratio}, A_x, f"{edition} 4.1.8.18.(1)", "z_h is h_x/h_n"),
        step(
            "S_p",
            "min(max(C_p*A_r*A_x/R_p, 0.7), 4.0)",
            {"C_p": C_p, "A_r": A_r, "A_x": A_x, "R_p": R_p},
            S_p,
            f"{edition} 4.1.8.18.(1)",
            f"row: {name}; {governs} governs{note}",
        ),
        step(
            "V_p",
            f"0.3*{written}*I_E*S_p*W_p",
            {**inputs, "I_E": given.I_E, "S_p": S_p, "W_p": (W, "N")},
            (V_p, "N"),
            f"{edition} 4.1.8.18.(1)",
        ),
        vertical_step(motion.vertical, W),
    )
    anchors = float(component_factor(C_p, A_r, A_x, 1.0))
    return Force(
        body.name,
        W,
        V_p,
        motion.vertical.share * W,
        anchors / S_p,
        name,
        governs,
        f"{edition}, article 4.1.8.18",
        steps,
        tuple(values),
        overstrength_source=f"R_p of 1.0, as {edition} 4.1.8.18.(8) has for connections that do not yield (from memory),",
        sways=amplification(R_p, plain * R_p, S_p),
    )


def height(site: Site, z_h: float) -> tuple[float, Step]:
    A_x = float(height_factor(z_h))
    return A_x, step("H_f", "1 + 2*z_h", {"z_h": z_h}, A_x, "NBC 4.1.8.18.(1)", "A_x of the floor")


def attachment(
    given: Spectrum, S_02: float, low: bool, edition: str, source: str, provenance: Provenance
) -> Attachment:
    """Asked from I_E S(0.2) = 0.35 on, of a building that must serve after an earthquake, and where not all else is low.

    low: what the edition asks besides. Friction from gravity is no connection. Source: NBC 4.1.8.18.(2), (8).
    """
    I_E_S = given.I_E * S_02
    value = Value(
        "when an attachment is asked for",
        f"I_E S(0.2) of {I_E_S:.2f}; from {EXEMPT_UNDER:g} on",
        source,
        provenance,
        f"{edition} article 4.1.8.18",
    )
    return Attachment(
        I_E_S >= EXEMPT_UNDER or given.I_E >= POST_DISASTER or not low,
        f"{edition} 4.1.8.18.(8): fastened without counting friction from gravity",
        "nothing attaches it; the code lets no friction stand in for that",
        value,
        (
            f"With I_E S(0.2) under {EXEMPT_UNDER:g} and no building that must serve after an earthquake, {edition} "
            "4.1.8.18.(2) asks for no attachment of: ",
            ".",
        ),
    )


def hazard(given: Spectrum) -> HazardPoint:
    """The code's spectrum itself is passed once in 2475 years; the design earthquake is I_E times as strong."""
    value = Value(
        "how often the code's shaking is passed",
        "2 % in 50 years, once in 2475 years",
        "National Building Code of Canada 2015 and 2020",
        "from memory",
        "National Building Code of Canada, commentary to 4.1.8",
    )
    return HazardPoint(1.0 / given.I_E, 2475.0, value)


def edition(
    year: str,
    inputs: type[Spectrum],
    needs: str,
    example: str,
    motion: Callable[[Site], GroundMotion],
    force: Method,
    attachment: Callable[[str, Site, GroundMotion], Attachment],
) -> Standard:
    """One edition of the code."""
    return Standard(
        name=f"nbc{year}",
        title=f"National Building Code of Canada {year}, 4.1.8.18",
        where="Canada; as the province has adopted it",
        inputs=inputs,
        factors=Factors,
        needs=needs,
        example=example,
        official="the government's hazard values for the place; the site class from a geotechnical engineer",
        motion=motion,
        force=force,
        in_the_open=elastic.force,
        height=height,
        attachment=attachment,
        in_the_open_attachment=elastic.IN_THE_OPEN,
        in_the_open_basis=f"NBC {year}",
        hazard=lambda site: hazard(read_inputs(inputs, site)),
        freeboard="an estimate of spilling; what Canadian standards ask of freeboard is not checked",
        tables=((ComponentRow, "nbc_components"),),
        assumptions=taken_over(f"the National Building Code of Canada {year}"),
    )
