"""How member checks are written down: stress against adjusted value, deflection against span."""

from __future__ import annotations

from dataclasses import dataclass

from brimfast.assess.joints.case import RackCase
from brimfast.assess.parts import Member
from brimfast.assess.timber.beam import (
    MOST_SLENDER_BEAM,
    beam_slenderness,
    beam_stability,
    bearing_area_factor,
    shear_stress,
)
from brimfast.assess.timber.strength import Adjusted, adjusted_step
from brimfast.data_tables.loader import factor_si, factor_used
from brimfast.shared.findings import Finding, Step, Value, finding, not_assessed, step

TOPIC = "members"


@dataclass(frozen=True)
class Stress:
    """One stress against its adjusted value (Pa): the steps that led to either."""

    what: str
    stress: float
    allowed: float
    steps: tuple[Step, ...]


def named(case: RackCase, tier: int, member: str, members: str) -> tuple[str, str]:
    """Id and subject of a tier's members; the tier is said only where there are several."""
    if not case.rack.upper_tiers:
        return f"member/{case.name}/{member}", f"rack {case.name}, {members}"
    return f"member/{case.name}/tier {tier}/{member}", f"rack {case.name}, tier {tier}, {members}"


def without_values(id: str, subject: str, question: str, member: Member) -> Finding:
    return not_assessed(id, TOPIC, subject, question, "stress", member.without_strength, advice_key="describe timber")


def strongest_claim(
    id: str,
    subject: str,
    question: str,
    stresses: list[Stress],
    combination: str,
    values: tuple[Value, ...],
    advice_key: str,
    before: tuple[Step, ...] = (),
) -> Finding:
    """The stress with the highest ratio; the steps of all are shown."""
    worst = max(stresses, key=lambda item: item.stress / item.allowed if item.allowed > 0 else float("inf"))
    return finding(
        id,
        TOPIC,
        subject,
        f"{question} ({worst.what})",
        worst.stress,
        worst.allowed,
        "stress",
        f"NDS 2018 chapter 3 and Table 4.3.1 (strength classes: EN 338 by k_mod and partial factors); {combination}",
        advice_key=advice_key,
        steps=(*before, *(line for item in stresses for line in item.steps)),
        values=values,
        details={item.what: f"{item.stress / item.allowed:.2f}" for item in stresses if item.allowed > 0},
    )


def bending(member: Member, values: Adjusted, M: float, S: float) -> Stress:
    assert member.strength is not None
    f_b = M / S
    line = step("f_b", "M/S", {"M": (M, "N·m"), "S": (S, "m³")}, (f_b, "N/m²"), "NDS 2018 (3.3-1)")
    return Stress("bending", f_b, values.F_b, (line, adjusted_step("F_b", member.strength, values)))


def shear(member: Member, values: Adjusted, V: float) -> Stress:
    assert member.strength is not None
    f_v = float(shear_stress(V, member.thickness, member.width))
    line = step("f_v", "3*V/(2*A)", {"V": (V, "N"), "A": (member.area, "m²")}, (f_v, "N/m²"), "NDS 2018 (3.4-2)")
    return Stress("shear", f_v, values.F_v, (line, adjusted_step("F_v", member.strength, values)))


def across_the_grain(
    member: Member, values: Adjusted, R: float, area: float, C_b: float, what: str = "bearing"
) -> Stress:
    """Bearing across the grain: f_c⊥ = R/A against F_c⊥' C_b."""
    assert member.strength is not None
    f = R / area
    allowed = values.F_cperp * C_b
    lines = (
        step("f_cperp", "R/A_b", {"R": (R, "N"), "A_b": (area, "m²")}, (f, "N/m²"), "NDS 2018 section 3.10"),
        adjusted_step("F_cperp", member.strength, values),
        step(
            "F_bearing",
            "F_cperp*C_b",
            {"F_cperp": (values.F_cperp, "N/m²"), "C_b": C_b},
            (allowed, "N/m²"),
            "NDS 2018 (3.10-2)",
        ),
    )
    return Stress(what, f, allowed, lines)


def on_posts(
    member: Member, values: Adjusted, loads: tuple[float, ...], area: float, post: float, what: str = "bearing"
) -> Stress:
    """The worst bearing of a member in one piece on a row of posts (loads N): its ends have no wood beyond, so no C_b."""
    C_b = float(bearing_area_factor(post))
    ends, inner = max(loads[0], loads[-1]), max(loads[1:-1], default=0.0)
    if ends >= inner / C_b:
        return across_the_grain(member, values, ends, area, 1.0, what)
    return across_the_grain(member, values, inner, area, C_b, what)


@dataclass(frozen=True)
class Unbraced:
    """A beam on edge that nothing holds over a length: l_e (m), R_B, F_bE (Pa), C_L; C_L 0 where the standard refuses it."""

    l_e: float
    R_B: float
    F_bE: float
    C_L: float

    def slenderness(self, member: Member, note: str) -> Step:
        return step(
            "R_B",
            "sqrt(l_e*d/b**2)",
            {"l_e": (self.l_e, "m"), "d": (member.width, "m"), "b": (member.thickness, "m")},
            self.R_B,
            "NDS 2018 (3.3-5)",
            note,
        )


def unbraced(member: Member, values: Adjusted, L: float) -> Unbraced:
    """Held at the ends of a length L (m) only: l_e = 2.06 L, the largest of NDS 2018 Table 3.3.3."""
    l_e = 2.06 * L
    R_B = float(beam_slenderness(l_e, member.width, member.thickness))
    C_L = 0.0 if R_B > MOST_SLENDER_BEAM else float(beam_stability(values.F_b, values.E_min, R_B))
    return Unbraced(l_e, R_B, 1.2 * values.E_min / R_B**2, C_L)


def with_stability(values: Adjusted, C_L: float) -> tuple[float, Step]:
    """F_b' C_L (Pa): what bending may come to on edge."""
    allowed = values.F_b * C_L
    inputs: dict[str, float | tuple[float, str]] = {"F_b": (values.F_b, "N/m²"), "C_L": C_L}
    return allowed, step("F_bL", "F_b*C_L", inputs, (allowed, "N/m²"), "NDS 2018 Table 4.3.1")


def is_european(member: Member) -> bool:
    return member.strength is not None and member.strength.size_class == "european"


def sag(
    id: str,
    subject: str,
    immediate: float,
    span: float,
    wet: bool,
    lines: tuple[Step, ...],
    values: tuple[Value, ...],
    european: bool = False,
) -> Finding:
    """Long-term deflection against span over 240: K_cr (NDS) or 1 + k_def (EN 1995-1-1) times the immediate one."""
    key = f"{'K_long_en' if european else 'K_cr'}_{'wet' if wet else 'dry'}"
    K, limit = factor_si(key), factor_si("deflection_limit")
    total = K * immediate
    line = step(
        "delta_long",
        "K_cr*delta",
        {"K_cr": K, "delta": (immediate, "m")},
        (total, "m"),
        "EN 1995-1-1 (2.7), Table 3.2" if european else "NDS 2018 (3.5-1)",
        "water and fill are permanent: creep",
    )
    most = step("delta_max", "L/k", {"L": (span, "m"), "k": limit}, (span / limit, "m"), "common practice")
    return finding(
        f"{id}/sag",
        TOPIC,
        subject,
        "Does it stay straight enough over the years?",
        total,
        span / limit,
        "length",
        f"{'EN 1995-1-1 section 2.2.3' if european else 'NDS 2018 section 3.5'}; span over {limit:g}",
        advice_key="member sag",
        steps=(*lines, line, most),
        values=(*values, factor_used(key), factor_used("deflection_limit")),
    )
