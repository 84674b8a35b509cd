"""Does the wood side of the feet's anchor bolts hold?"""

from __future__ import annotations

from brimfast.assess import combinations
from brimfast.assess.frame import lines as frame_lines
from brimfast.assess.frame.cases import ANCHORS
from brimfast.assess.frame.feet import foot_by_frame
from brimfast.assess.joints.case import TOPIC, UPRIGHT, RackCase
from brimfast.assess.timber.bearing import bearing
from brimfast.assess.timber.dowel import SOURCE, reduction_terms, single_shear
from brimfast.data_tables.loader import bending_yield, factor_si, factor_used
from brimfast.shared.constants import INCH, POUND_FORCE
from brimfast.shared.findings import Finding, Step, finding, step

LOW = combinations.EARTHQUAKE_SHARE


def sill_bolts(case: RackCase) -> list[Finding]:
    """Anchor bolts through a sill plate: the wood's yield value against concrete, across the sill's grain.

    The concrete's own breakout is the anchor maker's to state (see the anchor findings).
    """
    feet, sill = case.rack.feet, case.parts.sill
    if not feet.anchored or sill is None or feet.bolt is None:
        return []
    D, length = feet.bolt
    demand, shares, details = _share(case)
    F_em, F_es = factor_si("concrete_bearing"), float(bearing(sill.G, D, UPRIGHT))
    F_yb = bending_yield("through-bolt", D).yield_strength
    l_m = length - sill.thickness
    modes = single_shear(D, l_m, sill.thickness, F_em, F_es, F_yb, reduction_terms(D, D, UPRIGHT))
    Z, mode = float(modes.least()), modes.governing()
    C_D, C_M = factor_si("C_D_earthquake"), factor_si("C_M_lateral") if case.rack.wet else 1.0
    C_t, _, warm = case.service().temperature(joint=True)
    each = Z * C_D * C_M * C_t
    lines = (
        *shares,
        step(
            "Z_adj",
            "Z*C_D*C_M*C_t",
            {"Z": (Z / POUND_FORCE, "lb"), "C_D": C_D, "C_M": C_M, "C_t": C_t},
            (each / POUND_FORCE, "lb"),
            f"{SOURCE}; concrete bearing 7,500 psi as NDS Table 12E",
            f"mode {mode}; bolt {D / INCH:.3f} in, {l_m / INCH:.1f} in into the concrete, load across the sill",
            any_units=False,
        ),
    )
    return [
        finding(
            f"joint/{case.name}/sill bolts",
            TOPIC,
            f"rack {case.name}, sill bolts",
            "Does the wood hold at the anchor bolts? (each; not the concrete)",
            demand,
            each,
            "force",
            "NDS 2018 Table 12E basis; Ω₀ on E, allowable level",
            advice_key="anchors",
            steps=(*case.force.steps, *lines),
            values=(
                factor_used("concrete_bearing"),
                factor_used("C_D_earthquake"),
                *((factor_used("C_M_lateral"),) if case.rack.wet else ()),
                *warm,
            ),
            details={"governs": f"mode {mode}", **details},
        )
    ]


def _share(case: RackCase) -> tuple[float, tuple[Step, ...], dict[str, str]]:
    """The most that one bolt holds sideways (N): an even share, or by the frame where that is more."""
    force, each = case.force, case.rack.feet.anchors_per_post
    bolts = case.rack.posts * each
    statics = LOW * force.overstrength * force.horizontal / bolts
    share = step(
        "V_bolt",
        "0.7*Omega_0*F/n",
        {"Omega_0": force.overstrength, "F": (force.horizontal, "N"), "n": float(bolts)},
        (statics, "N"),
        f"{force.overstrength_source} for Omega_0",
    )
    acts = case.frame
    if acts is None or not len(acts.pick(None, ANCHORS)):
        return statics, (share,), {}
    by_frame, line = foot_by_frame(acts, "H", None, float(each))
    details = frame_lines.compared(by_frame, statics, LOW * force.overstrength * force.horizontal)
    return max(statics, by_frame), (share, line), details
