"""What does one fastener of the file carry, by its data and the two woods?"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.assess.timber.bearing import SMALL_DOWEL, bearing, bearing_parallel, bearing_perpendicular
from brimfast.assess.timber.dowel import (
    SOURCE,
    ReductionTerms,
    YieldModes,
    double_shear,
    k_1,
    k_2,
    k_3,
    reduction_terms,
    single_shear,
)
from brimfast.data_tables.loader import NotInTableError, bending_yield, factor_si, factor_used, screw_root
from brimfast.shared.constants import INCH, POUND_FORCE, PSI
from brimfast.shared.findings import Step, Value, step
from brimfast.shared.installation.joint import Fasteners

Array = NDArray[np.float64]
LEAST_PENETRATION = {"nail": 6.0, "wood screw": 6.0, "structural screw": 6.0, "lag screw": 4.0}


def reach_text(inside: float, into: str) -> str:
    return f"it reaches {inside / INCH:.2f} in into {into}" if inside > 0 else f"it does not reach {into}"


class NotAssessableError(Exception):
    """The fastener is outside what the equations are valid for, and why."""


@dataclass(frozen=True)
class Dowel:
    """One fastener across one shear plane: diameters and bearing lengths (m), strengths (Pa), the two woods."""

    kind: str
    D: float
    D_r: float
    F_yb: float
    l_m: float
    l_s: float
    G_m: float
    G_s: float | None  # None: the side member is a steel plate
    F_e_steel: float
    values: tuple[Value, ...]

    def bearing_strengths(self, theta_m: ArrayLike, theta_s: ArrayLike) -> tuple[Array, Array]:
        F_es = np.asarray(self.F_e_steel) if self.G_s is None else bearing(self.G_s, self.D, theta_s)
        return bearing(self.G_m, self.D, theta_m), F_es

    def reductions(self, theta_m: ArrayLike, theta_s: ArrayLike) -> ReductionTerms:
        """R_d by the largest angle to a grain; steel has none."""
        largest = theta_m if self.G_s is None else np.maximum(theta_m, theta_s)
        return reduction_terms(self.D, self.D_r, largest)

    def modes(self, theta_m: ArrayLike, theta_s: ArrayLike, double: bool = False) -> YieldModes:
        """Reference values by mode for a load at θ_m to the main and θ_s to the side member's grain (rad)."""
        F_em, F_es = self.bearing_strengths(theta_m, theta_s)
        shear = double_shear if double else single_shear
        return shear(self.D_r, self.l_m, self.l_s, F_em, F_es, self.F_yb, self.reductions(theta_m, theta_s))


def dowel(
    fasteners: Fasteners, thickness_side: float, G_side: float | None, thickness_main: float, G_main: float
) -> Dowel:
    """The fastener through a side member into a main member.

    Raises NotAssessableError where the penetration is under the standard's least or data are missing.
    """
    if fasteners.kind == "framing tie":
        return _tie_nail(fasteners, min(thickness_side, thickness_main), min(G_side or G_main, G_main))
    kind = fasteners.kind
    D, length = fasteners.diameter, fasteners.length
    if kind == "nail" and fasteners.nail is not None:
        D, length = fasteners.nail
    if D is None or length is None:
        raise NotAssessableError("diameter and length are not in the file")
    values: list[Value] = []
    D_r = _root(fasteners, D, values)
    F_yb = _yield(fasteners, kind, D, values)
    if kind == "through-bolt":
        if length < thickness_side + thickness_main:
            raise NotAssessableError("the bolt is shorter than the two members together")
        l_m = thickness_main
        return Dowel(kind, D, D_r, F_yb, l_m, thickness_side, G_main, G_side, 0.0, tuple(values))
    l_s, reach = toe_nail(length) if fasteners.toe_nailed else (thickness_side, length - thickness_side)
    return Dowel(
        kind, D, D_r, F_yb, _penetration(kind, D, reach, thickness_main), l_s, G_main, G_side, 0.0, tuple(values)
    )


def toe_nail(length: float) -> tuple[float, float]:
    """Of a nail driven slanted: its bearing length in the side member L/3, and how far it reaches into the main one (m).

    p = L cos 30° − L/3: driven at 30° to the side member, a third of its length above the joint. Source: NDS 2018
    section 12.1.6 and Figure 12A (from memory).
    """
    return length / 3, length * math.cos(math.radians(30)) - length / 3


def plated(fasteners: Fasteners, thickness: float, G: float) -> Dowel:
    """The fastener through a steel side plate into one wood; through-bolts and lag screws.

    Plates of 1/4 in and more are hot-rolled (F_e 87,000 psi), thinner ones sheet steel (61,850 psi).
    """
    D, length, plate = fasteners.diameter, fasteners.length, fasteners.plate
    if D is None or length is None or plate is None or fasteners.kind not in ("through-bolt", "lag screw"):
        raise NotAssessableError("a steel plate is assessed with through-bolts or lag screws of known size")
    values: list[Value] = []
    key = "F_e_plate_steel" if plate >= SMALL_DOWEL * (1 - 1e-9) else "F_e_tie_steel"
    values.append(factor_used(key))
    D_r = _root(fasteners, D, values)
    F_yb = _yield(fasteners, fasteners.kind, D, values)
    if fasteners.kind == "through-bolt":
        if length < plate + thickness:
            raise NotAssessableError("the bolt is shorter than plate and member together")
        l_m = thickness
    else:
        l_m = _penetration(fasteners.kind, D, length - plate, thickness)
    return Dowel(fasteners.kind, D, D_r, F_yb, l_m, plate, G, None, factor_si(key), tuple(values))


def _penetration(kind: str, D: float, penetration: float, thickness_main: float) -> float:
    """Bearing length in the main member: the penetration less half the tip (NDS 2018 section 12.3.5)."""
    tip = _tip(kind, D)
    counted = penetration - tip if kind == "lag screw" else penetration
    inside = min(counted, thickness_main)
    least = LEAST_PENETRATION[kind] * D
    if inside < least - 1e-9:
        without = ", tip not counted" if kind == "lag screw" else ""
        raise NotAssessableError(
            f"{reach_text(inside, 'the main member')}{without}; the standard asks for at least "
            f"{LEAST_PENETRATION[kind]:.0f} diameters, {least / INCH:.2f} in"
        )
    return min(penetration - tip / 2, thickness_main)


def _tip(kind: str, D: float) -> float:
    if kind == "lag screw":
        row = screw_root(kind, D)
        return row.tip_in * INCH if row else D
    return 2 * D


def _tie_nail(fasteners: Fasteners, thickness: float, G: float) -> Dowel:
    if fasteners.nail is None:
        raise NotAssessableError("the nails of the framing tie are not in the file")
    D, length = fasteners.nail
    values = [factor_used("F_e_tie_steel")]
    steel = fasteners.steel
    if steel is None:
        steel = factor_si("tie_steel_thickness")
        values.append(factor_used("tie_steel_thickness"))
    F_yb = _yield(fasteners, "nail", D, values)
    l_m = _penetration("nail", D, length - steel, thickness)
    return Dowel("nail", D, D, F_yb, l_m, steel, G, None, factor_si("F_e_tie_steel"), tuple(values))


def _root(fasteners: Fasteners, D: float, values: list[Value]) -> float:
    """Diameter for the equations: root of screws and lag screws, full body of bolts and nails."""
    if fasteners.kind in ("through-bolt", "nail"):
        return D
    if fasteners.root_diameter is not None:
        text = f"{fasteners.root_diameter / INCH:.3f} in"
        values.append(Value("root diameter", text, "the installation file", "given in the file"))
        return fasteners.root_diameter
    if fasteners.kind == "structural screw":
        values.append(factor_used("root_share_structural_screw"))
        return factor_si("root_share_structural_screw") * D
    row = screw_root(fasteners.kind, D)
    if row is None:
        raise NotAssessableError(f"a {fasteners.kind} of {D / INCH:.3f} in is thinner than the table's thinnest")
    values.append(row.used(f"root diameter of a {row.name} {row.kind}", f"{row.root_in:.3f} in"))
    return row.root_in * INCH


def _yield(fasteners: Fasteners, kind: str, D: float, values: list[Value]) -> float:
    if fasteners.bending_yield is not None:
        text = f"{fasteners.bending_yield / PSI:,.0f} psi"
        values.append(Value("bending yield strength", text, "the installation file", "given in the file"))
        return fasteners.bending_yield
    if kind == "structural screw":
        values.append(factor_used("F_yb_structural_screw"))
        return factor_si("F_yb_structural_screw")
    try:
        row = bending_yield(kind, D)
    except NotInTableError as error:
        raise NotAssessableError(str(error)) from None
    values.append(row.used(f"bending yield strength of a {kind} of {D / INCH:.3f} in", f"{row.F_yb_ksi:g} ksi"))
    return row.yield_strength


_EXPRESSIONS = {
    "I_m": ("D*l_m*F_em/R_d", ("D", "l_m", "F_em", "R_d")),
    "I_s": ("D*l_s*F_es/R_d", ("D", "l_s", "F_es", "R_d")),
    "II": ("k_1*D*l_s*F_es/R_d", ("k_1", "D", "l_s", "F_es", "R_d")),
    "III_m": ("k_2*D*l_m*F_em/((1 + 2*R_e)*R_d)", ("k_2", "D", "l_m", "F_em", "R_e", "R_d")),
    "III_s": ("k_3*D*l_s*F_em/((2 + R_e)*R_d)", ("k_3", "D", "l_s", "F_em", "R_e", "R_d")),
    "IV": ("D**2/R_d*sqrt(2*F_em*F_yb/(3*(1 + R_e)))", ("D", "R_d", "F_em", "F_yb", "R_e")),
}
_K_EXPRESSIONS = {
    "II": (
        "k_1",
        "(sqrt(R_e + 2*R_e**2*(1 + R_t + R_t**2) + R_t**2*R_e**3) - R_e*(1 + R_t))/(1 + R_e)",
        ("R_e", "R_t"),
    ),
    "III_m": (
        "k_2",
        "-1 + sqrt(2*(1 + R_e) + 2*F_yb*(1 + 2*R_e)*D**2/(3*F_em*l_m**2))",
        ("R_e", "F_yb", "D", "F_em", "l_m"),
    ),
    "III_s": (
        "k_3",
        "-1 + sqrt(2*(1 + R_e)/R_e + 2*F_yb*(2 + R_e)*D**2/(3*F_em*l_s**2))",
        ("R_e", "F_yb", "D", "F_em", "l_s"),
    ),
}


def calculation(
    fastener: Dowel, theta_m: float, theta_s: float, double: bool = False
) -> tuple[float, str, tuple[Step, ...]]:
    """Z of one fastener (N), its governing mode, and the steps in inches and pounds as the standard has them."""
    F_em, F_es = (float(strength) for strength in fastener.bearing_strengths(theta_m, theta_s))
    modes = fastener.modes(theta_m, theta_s, double)
    mode, Z = modes.governing(), float(modes.least())
    terms = fastener.reductions(theta_m, theta_s)
    R_d = float(terms.I if mode in ("I_m", "I_s") else terms.II if mode == "II" else terms.III_IV)
    R_e, R_t = F_em / F_es, fastener.l_m / fastener.l_s
    numbers: dict[str, float | tuple[float, str]] = {
        "D": (fastener.D_r / INCH, "in"),
        "l_m": (fastener.l_m / INCH, "in"),
        "l_s": (fastener.l_s / INCH, "in"),
        "F_em": (F_em / PSI, "psi"),
        "F_es": (F_es / PSI, "psi"),
        "F_yb": (fastener.F_yb / PSI, "psi"),
        "R_d": R_d,
        "R_e": R_e,
        "R_t": R_t,
    }
    steps = [
        *_bearing_steps("F_em", fastener.G_m, fastener.D, theta_m),
        *(_bearing_steps("F_es", fastener.G_s, fastener.D, theta_s) if fastener.G_s is not None else ()),
        step("R_e", "F_em/F_es", {key: numbers[key] for key in ("F_em", "F_es")}, R_e, SOURCE),
    ]
    if mode in _K_EXPRESSIONS:
        symbol, expression, names = _K_EXPRESSIONS[mode]
        k = float(
            k_1(R_e, R_t)
            if symbol == "k_1"
            else k_2(R_e, fastener.F_yb, fastener.D_r, F_em, fastener.l_m)
            if symbol == "k_2"
            else k_3(R_e, fastener.F_yb, fastener.D_r, F_em, fastener.l_s)
        )
        steps.append(step(symbol, expression, {key: numbers[key] for key in names}, k, SOURCE, any_units=False))
        numbers[symbol] = k
    expression, names = _EXPRESSIONS[mode]
    if double and mode != "I_m":
        expression = f"2*{expression}"
    others = ", ".join(
        f"{name} {float(value) / POUND_FORCE:.0f}" for name, value in modes._asdict().items() if not math.isnan(value)
    )
    steps.append(
        step(
            "Z",
            expression,
            {key: numbers[key] for key in names},
            (Z / POUND_FORCE, "lb"),
            SOURCE,
            f"{'double shear, ' if double else ''}mode {mode} governs; by mode in lb: {others}; R_d by Table 12.3.1B",
            any_units=False,
        )
    )
    return Z, mode, tuple(steps)


def _bearing_steps(symbol: str, G: float, D: float, theta: float) -> tuple[Step, ...]:
    source = "NDS 2018 Table 12.3.3 (rounded to 50 psi as printed there)"
    value = float(bearing(G, D, theta)) / PSI
    if D < SMALL_DOWEL * (1 - 1e-9):
        expression = "50*floor(16600*G**1.84/50 + 1/2)"
        return (step(symbol, expression, {"G": G}, (value, "psi"), source, any_units=False),)
    degrees = math.degrees(theta)
    parallel = float(bearing_parallel(G)) / PSI
    perpendicular = float(bearing_perpendicular(G, D)) / PSI
    if degrees < 1e-6:
        expression = "50*floor(11200*G/50 + 1/2)"
        return (step(symbol, expression, {"G": G}, (value, "psi"), source, "along the grain", any_units=False),)
    across = step(
        symbol if degrees > 90 - 1e-6 else "F_eperp",
        "50*floor(6100*G**1.45/sqrt(D_n)/50 + 1/2)",
        {"G": G, "D_n": (D / INCH, "in")},
        (perpendicular, "psi"),
        source,
        "across the grain; D_n nominal diameter",
        any_units=False,
    )
    if degrees > 90 - 1e-6:
        return (across,)
    along = step(
        "F_epar", "50*floor(11200*G/50 + 1/2)", {"G": G}, (parallel, "psi"), source, "along the grain", any_units=False
    )
    angle = step(
        symbol,
        "F_epar*F_eperp/(F_epar*sin(theta)**2 + F_eperp*cos(theta)**2)",
        {"F_epar": (parallel, "psi"), "F_eperp": (perpendicular, "psi"), "theta": (theta, "rad")},
        (value, "psi"),
        "NDS 2018 (12.3-11)",
        f"load at {degrees:.0f}° to the grain",
        any_units=False,
    )
    return along, across, angle
