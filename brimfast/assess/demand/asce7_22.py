"""ASCE 7-22, chapter 13: forces on components."""

from __future__ import annotations

from typing import Annotated

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.assess.demand.asce7_chapter_13 import chapter_13
from brimfast.assess.demand.force import Body, Force, amplification, which_governs
from brimfast.assess.demand.inputs import read_factors
from brimfast.assess.demand.motion import GroundMotion
from brimfast.assess.demand.period import counts_as, period_note
from brimfast.assess.demand.vertical import vertical_step
from brimfast.data_tables.loader import component_row_22, factor_used
from brimfast.shared.findings import Step, Value, step
from brimfast.shared.installation.fields import Part, Quantity
from brimfast.shared.installation.site import Building, Site

Array = NDArray[np.float64]
BASIS = "ASCE 7-22 section 13.3.1, equations (13.3-1) to (13.3-6)"


class Factors(Part):
    """Component factors that the file may choose."""

    C_AR: Annotated[float, Quantity("number", "1", "4")] | None = None
    R_po: Annotated[float, Quantity("number", "1", "3")] | None = None
    Omega_0p: Annotated[float, Quantity("number", "1", "3")] | None = None


def height_factor(z_h: ArrayLike, T_a: ArrayLike | None = None) -> Array:
    """Amplification up the building: H_f = 1 + a_1 (z/h) + a_2 (z/h)^10.

    a_1 = 1/T_a, at most 2.5; a_2 = 1 − (0.4/T_a)², at least 0. Where the building's period T_a (s) is not
    known: H_f = 1 + 2.5 z/h. z/h from 0 to 1 (NaN outside). Source: ASCE 7-22 (13.3-4), (13.3-5).
    """
    ratio = np.asarray(z_h, float)
    ratio = np.where((ratio >= 0) & (ratio <= 1), ratio, np.nan)
    if T_a is None:
        return np.asarray(1 + 2.5 * ratio)
    period = np.asarray(T_a, float)
    a_1 = np.minimum(1 / period, 2.5)
    a_2 = np.maximum(1 - (0.4 / period) ** 2, 0.0)
    return np.asarray(1 + a_1 * ratio + a_2 * ratio**10)


def ductility_reduction(R: ArrayLike, Omega_0: ArrayLike, I_e: ArrayLike) -> Array:
    """Reduction for the building's ductility: R_μ = sqrt(1.1 R / (I_e Ω₀)), at least 1.3.

    Source: ASCE 7-22 (13.3-6). At or below grade R_μ = 1; where the structure is not known, 1.3.
    """
    inside = 1.1 * np.asarray(R, float) / (np.asarray(I_e, float) * np.asarray(Omega_0, float))
    return np.asarray(np.maximum(np.sqrt(inside), 1.3))


def unlimited_force(
    S_DS: ArrayLike,
    W_p: ArrayLike,
    I_p: ArrayLike,
    H_f: ArrayLike,
    R_mu: ArrayLike,
    C_AR: ArrayLike,
    R_po: ArrayLike,
) -> Array:
    """0.4 S_DS I_p W_p (H_f/R_μ) (C_AR/R_po) (unit of W_p); see component_force. Source: ASCE 7-22 (13.3-1)."""
    unit = np.asarray(S_DS, float) * np.asarray(I_p, float) * np.asarray(W_p, float)
    amplified = np.asarray(H_f, float) / np.asarray(R_mu, float)
    return np.asarray(0.4 * unit * amplified * (np.asarray(C_AR, float) / np.asarray(R_po, float)))


def component_force(
    S_DS: ArrayLike,
    W_p: ArrayLike,
    I_p: ArrayLike,
    H_f: ArrayLike,
    R_mu: ArrayLike,
    C_AR: ArrayLike,
    R_po: ArrayLike,
) -> Array:
    """Horizontal design force on a component (unit of W_p), strength level.

    F_p = 0.4 S_DS I_p W_p (H_f/R_μ) (C_AR/R_po), at least 0.3 S_DS I_p W_p, at most 1.6 S_DS I_p W_p.

    S_DS (g), W_p operating weight, I_p 1 or 1.5. Source: ASCE 7-22 (13.3-1) to (13.3-3).
    """
    unit = np.asarray(S_DS, float) * np.asarray(I_p, float) * np.asarray(W_p, float)
    return np.asarray(np.clip(unlimited_force(S_DS, W_p, I_p, H_f, R_mu, C_AR, R_po), 0.3 * unit, 1.6 * unit))


def height_step(z_h: float, T_a: float | None, H_f: float) -> Step:
    if T_a is None:
        return step("H_f", "1 + 2.5*z_h", {"z_h": z_h}, H_f, "ASCE 7-22 (13.3-5)", "period of the building not known")
    return step(
        "H_f",
        "1 + min(1/T_a, 2.5)*z_h + max(1 - (0.4/T_a)**2, 0)*z_h**10",
        {"z_h": z_h, "T_a": (T_a, "s")},
        H_f,
        "ASCE 7-22 (13.3-4)",
        any_units=False,
    )


def _building_factors(site: Site) -> tuple[float, float, tuple[Step, ...]]:
    """H_f, R_μ and how they come about; both 1 at or below grade."""
    z_h = site.height_ratio
    if z_h == 0:
        return 1.0, 1.0, ()
    building = site.building or Building()
    H_f = float(height_factor(z_h, building.period))
    first = height_step(z_h, building.period, H_f)
    if building.R is None or building.Omega_0 is None:
        second = step("R_mu", "1.3", {}, 1.3, "ASCE 7-22 section 13.3.1.2", "structure of the building not known")
        return H_f, 1.3, (first, second)
    R_mu = float(ductility_reduction(building.R, building.Omega_0, building.I_e))
    second = step(
        "R_mu",
        "max(sqrt(1.1*R/(I_e*Omega_0)), 1.3)",
        {"R": building.R, "I_e": building.I_e, "Omega_0": building.Omega_0},
        R_mu,
        "ASCE 7-22 (13.3-6)",
    )
    return H_f, R_mu, (first, second)


def force(body: Body, site: Site, motion: GroundMotion) -> Force:
    """The force on one body, with the table row that its factors come from."""
    row = component_row_22(counts_as(body.kind, body.swing))
    C_AR = row.C_AR_at_grade if site.height_ratio == 0 else row.C_AR_above
    R_po, Omega_0p, name = row.R_po, row.Omega_0p, row.row
    values: list[Value] = [factor_used("vertical_share")]
    given = read_factors(Factors, body.factors)
    if given is not None and body.factors is not None:
        C_AR, R_po, Omega_0p = given.C_AR or C_AR, given.R_po or R_po, given.Omega_0p or Omega_0p
        name = f"chosen in the file: {body.factors.reason}"
        text = f"C_AR {C_AR:g}, R_po {R_po:g}, Ω₀p {Omega_0p:g}"
        values.append(Value(f"factors of {body.name}", text, body.factors.reason, "given in the file"))
    else:
        values.append(row.used(f"factors, {row.row}", f"C_AR {C_AR:g}, R_po {R_po:g}, Ω₀p {Omega_0p:g}"))
    H_f, R_mu, building_steps = _building_factors(site)
    S_DS, W, I_p = motion.plateau, body.weight, motion.importance
    F_p = float(component_force(S_DS, W, I_p, H_f, R_mu, C_AR, R_po))
    governs = which_governs(F_p, S_DS * I_p * W)
    note = ""
    if body.swing is not None and body.kind.endswith("rack"):
        other = component_row_22(body.kind if body.swing.rigid else f"rigid {body.kind}")
        C_other = other.C_AR_at_grade if site.height_ratio == 0 else other.C_AR_above
        note = period_note(body.swing, float(component_force(S_DS, W, I_p, H_f, R_mu, C_other, other.R_po)), F_p)
    grade = "; at or below grade H_f = R_mu = 1" if site.height_ratio == 0 else ""
    steps = (
        *building_steps,
        step(
            "F_p",
            "min(max(0.4*S_DS*I_p*W_p*(H_f/R_mu)*(C_AR/R_po), 0.3*S_DS*I_p*W_p), 1.6*S_DS*I_p*W_p)",
            {
                "S_DS": (S_DS, "g"),
                "I_p": I_p,
                "W_p": (W, "N"),
                "H_f": H_f,
                "R_mu": R_mu,
                "C_AR": C_AR,
                "R_po": R_po,
            },
            (F_p, "N"),
            "ASCE 7-22 (13.3-1), (13.3-2), (13.3-3)",
            f"row: {name}; {governs} governs{grade}{note}",
        ),
        vertical_step(motion.vertical, W, "ASCE 7-22 section 13.3.1 (as 7-16 section 13.3.1.2)"),
    )
    vertical = motion.vertical.share * W
    sways = amplification(R_po, float(unlimited_force(S_DS, W, I_p, H_f, R_mu, C_AR, 1.0)), F_p)
    return Force(body.name, W, F_p, vertical, Omega_0p, name, governs, BASIS, steps, tuple(values), sways=sways)


def height(site: Site, z_h: float) -> tuple[float, Step]:
    T_a = site.building.period if site.building is not None else None
    H = float(height_factor(z_h, T_a))
    return H, height_step(z_h, T_a, H)


STANDARD = chapter_13(
    "7-22", Factors, force, height, "Load combinations, and chapter 15 forces where used, follow ASCE 7-16."
)
