"""How hard does a fastener resist being pulled out, or its head pulled through?"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.shared.constants import INCH, POUND_FORCE
from brimfast.shared.findings import Step, Value, step

Array = NDArray[np.float64]
PER_INCH = POUND_FORCE / INCH  # lb/in in N/m


def withdrawal_lag(G: ArrayLike, D: ArrayLike) -> Array:
    """Lag screw, side grain (N a metre of thread, tip not counted): W = 1800 G^1.5 D^0.75 lb/in, D in inches.

    G specific gravity, D nominal diameter (m here). Source: NDS 2018 (12.2-1).
    """
    return np.asarray(1800 * np.asarray(G, float) ** 1.5 * (np.asarray(D, float) / INCH) ** 0.75 * PER_INCH)


def withdrawal_screw(G: ArrayLike, D: ArrayLike) -> Array:
    """Wood screw, side grain (N a metre of thread): W = 2850 G² D lb/in. NDS 2018 (12.2-2). Never in end grain."""
    return np.asarray(2850 * np.asarray(G, float) ** 2 * (np.asarray(D, float) / INCH) * PER_INCH)


def withdrawal_nail(G: ArrayLike, D: ArrayLike) -> Array:
    """Smooth nail, side grain (N a metre of penetration): W = 1380 G^2.5 D lb/in. NDS 2018 (12.2-3)."""
    return np.asarray(1380 * np.asarray(G, float) ** 2.5 * (np.asarray(D, float) / INCH) * PER_INCH)


_REFERENCE = {
    "lag screw": (withdrawal_lag, "1800*G**1.5*D**0.75", "NDS 2018 (12.2-1)"),
    "wood screw": (withdrawal_screw, "2850*G**2*D", "NDS 2018 (12.2-2)"),
    "structural screw": (withdrawal_screw, "2850*G**2*D", "NDS 2018 (12.2-2)"),
    "nail": (withdrawal_nail, "1380*G**2.5*D", "NDS 2018 (12.2-3)"),
}


def reference_withdrawal(kind: str, G: float, D: float) -> tuple[float, Step]:
    """W of a kind of fastener (N a metre) and its line of calculation; D nominal diameter (m)."""
    function, expression, source = _REFERENCE[kind]
    W = float(function(G, D))
    line = step("W", expression, {"G": G, "D": (D / INCH, "in")}, (W / PER_INCH, "lb/in"), source, any_units=False)
    return W, line


def thread_length(kind: str, D: float, length: float, given: float | None) -> tuple[float, tuple[Value, ...]]:
    """Thread of a screw with its tip (m), as the file gives it; else of a wood screw the larger of 4 D and 2/3 of its

    length, of a lag screw half of its length and 1/2 in. Source: NDS 2018 Appendix L.
    """
    if given is not None:
        return given, ()
    thread = length / 2 + 0.5 * INCH if kind == "lag screw" else max(4 * D, 2 * length / 3)
    source = "NDS 2018 Appendix L: wood screws the larger of 4 D and 2/3 of the length; lag screws half and 1/2 in"
    text = f"{thread / INCH:.2f} in"
    return thread, (Value(f"thread of a {kind}", text, source, "from memory", "NDS Tables L2, L3"),)


def pull_through(G: ArrayLike, D_H: ArrayLike, t: ArrayLike) -> Array:
    """Head pulled through the side member (N): W_H = 690 π D_H G² t for t ≤ 2.5 D_H, 1725 π D_H² G² above (lb, in).

    G of the side member, D_H head and t member thickness (m here). Source: NDS 2018 (12.2-6a), (12.2-6b).
    """
    G, D_H, t = (np.asarray(item, float) for item in (G, D_H, t))
    head, thick = D_H / INCH, t / INCH
    thin = 690 * np.pi * head * G**2 * thick
    full = 1725 * np.pi * head**2 * G**2
    return np.asarray(np.where(thick <= 2.5 * head, thin, full) * POUND_FORCE)


def combined_screw(Z: ArrayLike, Wp: ArrayLike, alpha: ArrayLike) -> Array:
    """Lag and wood screws under lateral and withdrawal load (N): W'p Z' / (W'p cos²α + Z' sin²α).

    α (rad) between the load and the wood's surface. Source: NDS 2018 (12.4-1).
    """
    Z, Wp, alpha = (np.asarray(item, float) for item in (Z, Wp, alpha))
    return np.asarray(Wp * Z / (Wp * np.cos(alpha) ** 2 + Z * np.sin(alpha) ** 2))


def combined_nail(Z: ArrayLike, Wp: ArrayLike, alpha: ArrayLike) -> Array:
    """Nails under lateral and withdrawal load (N): W'p Z' / (W'p cos α + Z' sin α). NDS 2018 (12.4-2)."""
    Z, Wp, alpha = (np.asarray(item, float) for item in (Z, Wp, alpha))
    return np.asarray(Wp * Z / (Wp * np.cos(alpha) + Z * np.sin(alpha)))
