"""ASCE 7, chapter 15: structures that stand by themselves, in the open or in a light greenhouse."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.assess.demand.force import Body, Force
from brimfast.assess.demand.motion import GroundMotion
from brimfast.assess.demand.period import RIGID_PERIOD
from brimfast.assess.demand.vertical import vertical_step
from brimfast.data_tables.loader import factor_si, factor_used
from brimfast.shared.findings import Step, step
from brimfast.shared.installation.site import Site

Array = NDArray[np.float64]
BASIS = "ASCE 7-16 chapter 15, section 15.4"


def rigid_force(S_DS: ArrayLike, W: ArrayLike, I_e: ArrayLike) -> Array:
    """Base shear of a rigid nonbuilding structure (unit of W): V = 0.30 S_DS W I_e.

    Valid for a fundamental period under 0.06 s. Source: ASCE 7-16 (15.4-5).
    """
    return np.asarray(0.30 * np.asarray(S_DS, float) * np.asarray(W, float) * np.asarray(I_e, float))


def flexible_force(S_DS: ArrayLike, W: ArrayLike, R: ArrayLike, I_e: ArrayLike, S_1: ArrayLike | None = None) -> Array:
    """Base shear of a flexible nonbuilding structure (unit of W): V = C_s W, C_s = S_DS / (R/I_e).

    At least 0.044 S_DS I_e and 0.03; where S_1 ≥ 0.6 g also 0.8 S_1 / (R/I_e). The cap by the period is
    not used: the safe side. Source: ASCE 7-16 (12.8-2), (15.4-1), (15.4-2).
    """
    S_DS, I_e, reduction = (
        np.asarray(S_DS, float),
        np.asarray(I_e, float),
        np.asarray(R, float) / np.asarray(I_e, float),
    )
    C_s = np.maximum(np.maximum(S_DS / reduction, 0.044 * S_DS * I_e), 0.03)
    if S_1 is not None:
        S_1 = np.asarray(S_1, float)
        C_s = np.where(S_1 >= 0.6, np.maximum(C_s, 0.8 * S_1 / reduction), C_s)
    return np.asarray(C_s * np.asarray(W, float))


def force(body: Body, site: Site, motion: GroundMotion) -> Force:
    """The force on one body standing by itself; rigid only where its period is known and under 0.06 s."""
    S_DS, W, I_e = motion.plateau, body.weight, motion.importance
    R, Omega_0 = factor_si("nonbuilding_R"), factor_si("nonbuilding_Omega_0")
    main: Step
    said = f"; period {body.swing.said}" if body.swing is not None else ""
    if body.swing is not None and body.swing.period < RIGID_PERIOD:
        V = float(rigid_force(S_DS, W, I_e))
        main = step(
            "V",
            "0.30*S_DS*W*I_e",
            {"S_DS": (S_DS, "g"), "W": (W, "N"), "I_e": I_e},
            (V, "N"),
            "ASCE 7-16 (15.4-5)",
            f"rigid: under 0.06 s{said}",
        )
        governs = "the rigid formula"
    else:
        V = float(flexible_force(S_DS, W, R, I_e, motion.S_1))
        inputs: dict[str, float | tuple[float, str]] = {"S_DS": (S_DS, "g"), "R": R, "I_e": I_e, "W": (W, "N")}
        expression = "max(S_DS/(R/I_e), 0.044*S_DS*I_e, 0.03)*W"
        if motion.S_1 is not None and motion.S_1 >= 0.6:
            expression = "max(S_DS/(R/I_e), 0.044*S_DS*I_e, 0.03, 0.8*S_1/(R/I_e))*W"
            inputs["S_1"] = (motion.S_1, "g")
        main = step(
            "V",
            expression,
            inputs,
            (V, "N"),
            "ASCE 7-16 (12.8-2), (15.4-1), (15.4-2)",
            "flexible; the cap by the period is not used (safe side); redundancy 1.0 (section 12.3.4.1)" + said,
        )
        governs = "the flexible formula"
    steps = (main, vertical_step(motion.vertical, W, "ASCE 7-16 (12.4-4a)"))
    values = tuple(map(factor_used, ("nonbuilding_R", "nonbuilding_Omega_0", "nonbuilding_C_d", "vertical_share")))
    row = "All other self-supporting structures, tanks or vessels not covered elsewhere"
    return Force(
        body.name,
        W,
        V,
        motion.vertical.share * W,
        Omega_0,
        row,
        governs,
        BASIS,
        steps,
        values,
        overstrength_source="ASCE 7-16 Table 15.4-2",
        sways=factor_si("nonbuilding_C_d"),
    )
