"""What may the steel of a framing tie or a strap be pulled with?"""

from __future__ import annotations

from brimfast.data_tables.loader import factor_si, factor_used
from brimfast.shared.constants import INCH, POUND_FORCE, PSI
from brimfast.shared.findings import Step, Value, step
from brimfast.shared.installation.joint import Fasteners


def strap_tension(symbol: str, w: float, t: float, D: float, note: str = "") -> tuple[float, Step, tuple[Value, ...]]:
    """Tension (N) that a steel strap may carry: the less of 0.6 F_y A_g and 0.5 F_u A_n, one hole out.

    w width, t thickness, D the hole's diameter (m). Source: AISC and AISI allowable-stress factors 1.67 and 2.0.
    """
    F_y, F_u = factor_si("F_y_tie_steel"), factor_si("F_u_tie_steel")
    force = min(0.6 * F_y * w * t, 0.5 * F_u * max(w - D, 0.0) * t)
    line = step(
        symbol,
        "min(0.6*F_y*w*t, 0.5*F_u*max(w - D, 0)*t)",
        {
            "F_y": (F_y / PSI, "psi"),
            "F_u": (F_u / PSI, "psi"),
            "w": (w / INCH, "in"),
            "t": (t / INCH, "in"),
            "D": (D / INCH, "in"),
        },
        (force / POUND_FORCE, "lb"),
        "allowable stress of sheet steel in tension (factors 1.67 and 2.0)",
        note,
        any_units=False,
    )
    return force, line, (factor_used("F_y_tie_steel"), factor_used("F_u_tie_steel"))


def tie_steel(fasteners: Fasteners) -> tuple[float, Step, tuple[Value, ...]]:
    """Tension (N) that the steel of one framing tie may carry, one nail hole out of the net section."""
    t = fasteners.steel or factor_si("tie_steel_thickness")
    w = fasteners.steel_width or factor_si("tie_steel_width")
    D = fasteners.nail[0] if fasteners.nail else 0.0
    force, line, values = strap_tension("T_steel", w, t, D, "steel of one tie")
    if fasteners.steel_width is None:
        values = (*values, factor_used("tie_steel_width"))
    return force, line, values
