"""ASCE 7-16, chapter 13: forces on components."""

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
from brimfast.data_tables.loader import component_row_16, factor_used
from brimfast.shared.findings import Step, Value, step
from brimfast.shared.installation.fields import Part, Quantity
from brimfast.shared.installation.site import Site

Array = NDArray[np.float64]
BASIS = "ASCE 7-16 section 13.3.1, equations (13.3-1) to (13.3-3)"


class Factors(Part):
    """Component factors that the file may choose."""

    a_p: Annotated[float, Quantity("number", "1", "2.5")] | None = None
    R_p: Annotated[float, Quantity("number", "1", "12")] | None = None
    Omega_0: Annotated[float, Quantity("number", "1", "3")] | None = None


def height_factor(z_h: ArrayLike) -> Array:
    """Amplification up the building: 1 + 2 z/h; z/h from 0 to 1 (NaN outside). Source: ASCE 7-16 (13.3-1)."""
    ratio = np.asarray(z_h, float)
    return np.asarray(1 + 2 * np.where((ratio >= 0) & (ratio <= 1), ratio, np.nan))


def unlimited_force(
    S_DS: ArrayLike, W_p: ArrayLike, a_p: ArrayLike, R_p: ArrayLike, I_p: ArrayLike, z_h: ArrayLike
) -> Array:
    """0.4 a_p S_DS W_p (1 + 2 z/h) / (R_p/I_p) (unit of W_p); see component_force. Source: ASCE 7-16 (13.3-1)."""
    S_DS, W_p, a_p, R_p, I_p = (np.asarray(item, float) for item in (S_DS, W_p, a_p, R_p, I_p))
    return np.asarray(0.4 * a_p * S_DS * W_p * height_factor(z_h) / (R_p / I_p))


def component_force(
    S_DS: ArrayLike, W_p: ArrayLike, a_p: ArrayLike, R_p: ArrayLike, I_p: ArrayLike, z_h: ArrayLike
) -> Array:
    """Horizontal design force on a component (unit of W_p), strength level.

    F_p = 0.4 a_p S_DS W_p (1 + 2 z/h) / (R_p/I_p), at least 0.3 S_DS I_p W_p, at most 1.6 S_DS I_p W_p.

    S_DS (g), W_p operating weight, a_p 1 to 2.5, R_p 1 to 12, I_p 1 or 1.5, z_h = z/h from 0 to 1 (a NaN
    outside). Source: ASCE 7-16 (13.3-1), (13.3-2), (13.3-3).
    """
    unit = np.asarray(S_DS, float) * np.asarray(I_p, float) * np.asarray(W_p, float)
    return np.asarray(np.clip(unlimited_force(S_DS, W_p, a_p, R_p, I_p, z_h), 0.3 * unit, 1.6 * unit))


def force(body: Body, site: Site, motion: GroundMotion) -> Force:
    """The force on one body, with the table row that its factors come from."""
    row = component_row_16(counts_as(body.kind, body.swing))
    a_p, R_p, Omega_0 = row.a_p, row.R_p, row.Omega_0
    name = row.row
    values: list[Value] = [factor_used("vertical_share")]
    given = read_factors(Factors, body.factors)
    if given is not None and body.factors is not None:
        a_p, R_p, Omega_0 = given.a_p or a_p, given.R_p or R_p, given.Omega_0 or Omega_0
        name = f"chosen in the file: {body.factors.reason}"
        values.append(
            Value(
                f"factors of {body.name}",
                f"a_p {a_p:g}, R_p {R_p:g}, Ω₀ {Omega_0:g}",
                body.factors.reason,
                "given in the file",
            )
        )
    else:
        values.append(row.used(f"factors, {row.row}", f"a_p {a_p:g}, R_p {R_p:g}, Ω₀ {Omega_0:g}"))
    S_DS, W, I_p, z_h = motion.plateau, body.weight, motion.importance, site.height_ratio
    F_p = float(component_force(S_DS, W, a_p, R_p, I_p, z_h))
    governs = which_governs(F_p, S_DS * I_p * W)
    note = ""
    if body.swing is not None and body.kind.endswith("rack"):
        other = component_row_16(body.kind if body.swing.rigid else f"rigid {body.kind}")
        note = period_note(body.swing, float(component_force(S_DS, W, other.a_p, other.R_p, I_p, z_h)), F_p)
    steps = (
        step(
            "F_p",
            "min(max(0.4*a_p*S_DS*W_p*(1 + 2*z_h)/(R_p/I_p), 0.3*S_DS*I_p*W_p), 1.6*S_DS*I_p*W_p)",
            {"a_p": a_p, "S_DS": (S_DS, "g"), "W_p": (W, "N"), "z_h": z_h, "R_p": R_p, "I_p": I_p},
            (F_p, "N"),
            "ASCE 7-16 (13.3-1), (13.3-2), (13.3-3)",
            f"row: {name}; z_h is z/h; {governs} governs{note}",
        ),
        vertical_step(motion.vertical, W),
    )
    vertical = motion.vertical.share * W
    sways = amplification(R_p, float(unlimited_force(S_DS, W, a_p, 1.0, I_p, z_h)), F_p)
    return Force(body.name, W, F_p, vertical, Omega_0, name, governs, BASIS, steps, tuple(values), sways=sways)


def height(site: Site, z_h: float) -> tuple[float, Step]:
    H = float(height_factor(z_h))
    return H, step("H_f", "1 + 2*z_h", {"z_h": z_h}, H, "ASCE 7-16 (13.3-1)")


STANDARD = chapter_13("7-16", Factors, force, height)
