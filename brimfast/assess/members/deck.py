"""Does the deck carry bed and water from joist to joist?"""

from __future__ import annotations

import math

from brimfast.assess.bodies import standing_area
from brimfast.assess.joints.case import RackCase
from brimfast.assess.members.common import TOPIC, named, sag
from brimfast.assess.timber.panel import SOURCE, coefficients, deck_bending_load, deck_deflection, deck_shear_load
from brimfast.assess.weight import VesselWeight
from brimfast.data_tables.loader import NotInTableError, deck_panel, factor_si, factor_used
from brimfast.data_tables.rows import DeckPanel
from brimfast.shared.constants import GRAVITY, INCH, PSF
from brimfast.shared.findings import Finding, Step, finding, not_assessed, step
from brimfast.shared.installation.model import Installation


def deck_load(
    case: RackCase, tier: int, installation: Installation, vessels: dict[str, VesselWeight]
) -> tuple[float, Step]:
    """Heaviest areal load on a tier's deck (Pa), the deck's own weight with it, and its line of calculation."""
    own = case.parts.deck_thickness * case.parts.deck_density * GRAVITY
    standing = [
        (vessels[vessel.name].mass * GRAVITY, standing_area(vessel, vessels[vessel.name]))
        for vessel in installation.on_rack(case.name)
        if vessel.tier == tier
    ]
    weight, area = max(standing, key=lambda one: one[0] / one[1], default=(0.0, 1.0))
    w = own + weight / area
    line = step(
        "w",
        "w_own + W/A",
        {"w_own": (own, "N/m²"), "W": (weight, "N"), "A": (area, "m²")},
        (w, "N/m²"),
        "the heaviest vessel over what it stands on, and the deck itself",
    )
    return w, line


def deck(case: RackCase, tier: int, installation: Installation, vessels: dict[str, VesselWeight]) -> list[Finding]:
    """Published panel capacities, strength axis across the joists, permanent load, wet where the rack is."""
    id, subject = named(case, tier, "deck", "deck")
    question = "Does the deck carry bed and water?"
    w, load = deck_load(case, tier, installation, vessels)
    try:
        row = deck_panel(case.parts.deck_thickness)
    except NotInTableError as error:
        return [not_assessed(id, TOPIC, subject, question, "pressure", str(error), demand=w)]
    material = case.parts.deck_material
    if material not in ("plywood", "osb"):
        reason = f"published capacities are for plywood and OSB, not for {material}"
        return [not_assessed(id, TOPIC, subject, question, "pressure", reason, demand=w)]
    span, wet = case.rack.joist.spacing, case.rack.wet
    counts = _spans(case.rack.length, span)
    values = [row.used(f"panel capacities, span rating {row.span_rating}", f"F_b S {row.F_b_S:g} lb·in/ft")]
    values.append(factor_used("C_D_permanent"))
    if wet:
        values += [factor_used("panel_wet_strength"), factor_used("panel_wet_stiffness")]
    allowed, governs, lines = min((_strength(row, span, spans, wet) for spans in counts), key=lambda one: one[0])
    delta, line = max((_deflection(row, w, span, spans, wet) for spans in counts), key=lambda one: one[0])
    strong = finding(
        id,
        TOPIC,
        subject,
        f"{question} ({governs})",
        w,
        allowed,
        "pressure",
        "APA D510 panel capacities; D",
        advice_key="deck",
        steps=(load, *lines),
        values=tuple(values),
        details={"span rating": row.span_rating},
    )
    return [strong, sag(id, subject, delta, span, wet, (line,), tuple(values))]


def _spans(length: float, spacing: float) -> tuple[int, ...]:
    """How many spans of the formulas stand for the deck's: where the last one is short, it lies between one fewer and
    as many of full length, and the worse of both counts."""
    whole = length / spacing
    return tuple(sorted({min(3, max(1, count)) for count in (math.floor(whole + 1e-9), math.ceil(whole - 1e-9))}))


def _strength(row: DeckPanel, span: float, spans: int, wet: bool) -> tuple[float, str, tuple[Step, ...]]:
    """What it carries in bending and in shear (Pa), which of them governs, and the lines of both."""
    C_D = factor_si("C_D_permanent")
    C_wet = factor_si("panel_wet_strength") if wet else 1.0
    by_bending = float(deck_bending_load(row.F_b_S, span, spans)) * C_D * C_wet
    by_shear = float(deck_shear_load(row.F_s_IbQ, span, spans)) * C_D * C_wet
    k_b, k_s, _ = coefficients(spans)
    factors = {"C_D": C_D, "C_wet": C_wet}
    lines = (
        step(
            "w_b",
            "k_b*F_b_S/l**2*C_D*C_wet",
            {"k_b": k_b, "F_b_S": (row.F_b_S, "lb·in/ft"), "l": (span / INCH, "in"), **factors},
            (by_bending / PSF, "lb/ft²"),
            SOURCE,
            f"span rating {row.span_rating}, {spans} spans" + (" or more" if spans == 3 else ""),
            any_units=False,
        ),
        step(
            "w_s",
            "k_s*F_s_IbQ/(l - 1.5)*C_D*C_wet",
            {"k_s": k_s, "F_s_IbQ": (row.F_s_IbQ, "lb/ft"), "l": (span / INCH, "in"), **factors},
            (by_shear / PSF, "lb/ft²"),
            SOURCE,
            any_units=False,
        ),
    )
    return min(by_bending, by_shear), "bending" if by_bending <= by_shear else "shear", lines


def _deflection(row: DeckPanel, w: float, span: float, spans: int, wet: bool) -> tuple[float, Step]:
    """How far it sags at once (m)."""
    soft = factor_si("panel_wet_stiffness") if wet else 1.0
    delta = float(deck_deflection(w, row.E_I * soft, span, spans))
    inputs: dict[str, float | tuple[float, str]] = {
        "w": (w / PSF, "lb/ft²"),
        "l": (span / INCH, "in"),
        "k": coefficients(spans)[2],
        "EI": (row.E_I, "lb·in²/ft"),
        "C_soft": soft,
    }
    line = step("delta", "w*(l - 1.25)**4/(k*EI*C_soft)", inputs, (delta / INCH, "in"), SOURCE, any_units=False)
    return delta, line
