"""What may one joint of the inventory carry: computed, or by the value that the user typed in?"""

from __future__ import annotations

from dataclasses import dataclass

from brimfast.assess.timber.fastener import calculation, dowel
from brimfast.data_tables.loader import factor_si, factor_used
from brimfast.shared.constants import INCH, POUND_FORCE
from brimfast.shared.findings import Step, Value, step
from brimfast.shared.installation.joint import Fasteners, Joint

MOST_SPREAD = 5 * INCH  # across the grain, so that shrinkage does not split the wood (NDS 2018 section 12.5.1.3)

# What a typed-in value counts for under another duration than the one it was published for. It is lowered
# for a longer load, never raised for a shorter one: the safe side.
_TYPED_IN = {
    ("permanent", "permanent"): 1.0,
    ("normal", "permanent"): 0.9,
    ("earthquake", "permanent"): 0.9 / 1.6,
    ("permanent", "earthquake"): 1.0,
    ("normal", "earthquake"): 1.0,
    ("earthquake", "earthquake"): 1.0,
}


@dataclass(frozen=True)
class JointCapacity:
    """Allowable force of one fastener (N) at the angles asked for, and how many act in the joint."""

    each: float
    count: int
    mode: str
    steps: tuple[Step, ...]
    values: tuple[Value, ...]
    basis: str


def positions_spread(fasteners: Fasteners, beam_depth: float) -> tuple[float, str]:
    """Distance between the outermost fasteners (m): given, or what fits in the beam 4 diameters from its edges."""
    if fasteners.spread is not None:
        return fasteners.spread, "given in the file"
    D = fasteners.diameter or (fasteners.nail[0] if fasteners.nail else 0.0)
    spread = min(max(beam_depth - 8 * D, 0.0), MOST_SPREAD) if fasteners.count > 1 else 0.0
    return spread, f"assumed: {spread / INCH:.1f} in, 4 diameters from the beam's edges, 5 in at most (not given)"


def joint_capacity(
    joint: Joint,
    wet: bool,
    duration: str,
    thickness_side: float,
    G_side: float | None,
    thickness_main: float,
    G_main: float,
    theta_side: float,
    theta_main: float,
) -> JointCapacity:
    """Z' = Z C_D C_M of one fastener at the load's angles to the grain of side and main member (rad).

    duration: permanent (C_D 0.9) or earthquake (1.6). Group action and end, edge and spacing distances are
    taken at full value: stated as an assumption. Raises NotAssessableError from the fastener.
    Source: NDS 2018 Table 11.3.1.
    """
    fasteners = joint.fasteners
    C_M = factor_si("C_M_lateral") if wet else 1.0
    wet_values = (factor_used("C_M_lateral"),) if wet else ()
    count = fasteners.count
    if fasteners.allowable is not None:
        share = _TYPED_IN[(fasteners.allowable_for, duration)]
        each = fasteners.allowable * share * C_M
        text = f"{fasteners.allowable / POUND_FORCE:.0f} lb each, for {fasteners.allowable_for} duration"
        value = Value(f"allowable value, {joint.where}", text, fasteners.source or "", "given in the file")
        line = step(
            "Z_allow",
            "A*C_D*C_M",
            {"A": (fasteners.allowable / POUND_FORCE, "lb"), "C_D": share, "C_M": C_M},
            (each / POUND_FORCE, "lb"),
            fasteners.source or "",
            "typed-in value: lowered for a longer load, never raised for a shorter one",
            any_units=False,
        )
        return JointCapacity(
            each, count, "typed in", (line,), (value, *wet_values), f"allowable value: {fasteners.source}"
        )
    data = dowel(fasteners, thickness_side, G_side, thickness_main, G_main)
    C_D = factor_si(f"C_D_{duration}")
    if fasteners.kind == "framing tie" and fasteners.nails is not None:
        acting = count * min(fasteners.nails)
    else:
        acting = count
    Z, mode, steps = calculation(data, theta_main, theta_side)
    each = Z * C_D * C_M
    adjusted = step(
        "Z_adj",
        "Z*C_D*C_M",
        {"Z": (Z / POUND_FORCE, "lb"), "C_D": C_D, "C_M": C_M},
        (each / POUND_FORCE, "lb"),
        "NDS 2018 Table 11.3.1",
        f"Z': {duration} load, {'wet' if wet else 'dry'} service; one fastener of {acting}",
        any_units=False,
    )
    values = (*data.values, factor_used(f"C_D_{duration}"), *wet_values)
    basis = "NDS 2018 section 12.3 (single-shear yield limit), Table 11.3.1"
    return JointCapacity(each, acting, f"mode {mode}", (*steps, adjusted), values, basis)
