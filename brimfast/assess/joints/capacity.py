"""What may one fastener of a joint carry sideways: computed, or by the value that the user typed in?"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.assess.timber.fastener import Dowel, NotAssessableError, calculation, dowel, plated
from brimfast.assess.timber.service import Service
from brimfast.data_tables.loader import factor_si, factor_used
from brimfast.shared.constants import POUND_FORCE
from brimfast.shared.findings import Step, Value, step
from brimfast.shared.installation.joint import Fasteners

Array = NDArray[np.float64]

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
class Sides:
    """The two members of a joint: thickness along the fastener (m) and specific gravity; double shear or single."""

    thickness_side: float
    G_side: float
    thickness_main: float
    G_main: float
    double: bool = False


@dataclass(frozen=True)
class FastenerCapacity:
    """Allowable lateral force of one fastener as a function of the load's angles to both grains."""

    fasteners: Fasteners
    sides: Sides
    data: Dowel | None  # None: typed in
    other: Dowel | None = None  # with a steel plate: the fastener through it into the other member; the weaker counts
    factors: dict[str, float] = field(default_factory=dict)
    typed_in: float = 0.0
    typed_share: float = 1.0
    values: tuple[Value, ...] = ()
    duration: str = "permanent"
    service: Service = field(default_factory=lambda: Service(True))

    @property
    def basis(self) -> str:
        if self.data is None:
            return f"allowable value: {self.fasteners.source}"
        shear = "double" if self.sides.double else "single"
        return f"NDS 2018 section 12.3 ({shear}-shear yield limit), Table 11.3.1"

    @property
    def acting(self) -> int:
        """How many fasteners share the load of one place: of a framing tie the nails into one member."""
        if self.data is not None and self.fasteners.nails is not None:
            return self.fasteners.count * min(self.fasteners.nails)
        return self.fasteners.count

    def each(self, theta_side: ArrayLike, theta_main: ArrayLike) -> Array:
        """Z' (N) for a load at these angles (rad) to the grain of side and main member; broadcasts."""
        product = float(np.prod(list(self.factors.values())))
        if self.data is None:
            shape = np.broadcast_shapes(np.shape(theta_side), np.shape(theta_main))
            return np.full(shape, self.typed_in * self.typed_share * product)
        Z = self.data.modes(theta_main, theta_side, self.sides.double).least()
        if self.other is not None:
            Z = np.minimum(Z, self.other.modes(theta_side, theta_main).least())
        return np.asarray(Z * product)

    def steps(self, theta_side: float, theta_main: float) -> tuple[str, tuple[Step, ...]]:
        """The governing mode and the lines of calculation of Z'."""
        each = float(self.each(theta_side, theta_main))
        if self.data is None:
            line = step(
                "Z_allow",
                "A*C_D*C_M*C_t",
                {"A": (self.typed_in / POUND_FORCE, "lb"), "C_D": self.typed_share, **self.factors},
                (each / POUND_FORCE, "lb"),
                self.fasteners.source or "",
                "typed-in value: lowered for a longer load, never raised for a shorter one",
                any_units=False,
            )
            return "typed in", (line,)
        ways = [(self.data, theta_main, theta_side)]
        if self.other is not None:
            ways.append((self.other, theta_side, theta_main))
        Z, mode, lines = min((calculation(*way, self.sides.double) for way in ways), key=lambda item: item[0])
        line = step(
            "Z_adj",
            "*".join(("Z", *self.factors)),
            {"Z": (Z / POUND_FORCE, "lb"), **self.factors},
            (each / POUND_FORCE, "lb"),
            "NDS 2018 Table 11.3.1",
            f"Z': {self.duration} load, {'wet' if self.service.wet else 'dry'} service, up to {self.service.heat} °F; one fastener of {self.acting}",
            any_units=False,
        )
        return f"mode {mode}", (*lines, line)


def lateral(
    fasteners: Fasteners,
    sides: Sides,
    duration: str,
    service: Service,
    *,
    C_g: float = 1.0,
    C_Delta: float = 1.0,
    end_grain: bool = False,
) -> FastenerCapacity:
    """Z' = Z C_D C_M C_g C_Δ C_eg C_tn as a function of the angles. Source: NDS 2018 Table 11.3.1.

    duration: permanent (C_D 0.9) or earthquake (1.6). Raises NotAssessableError from the fastener, and where
    its distances are below the least (C_Δ NaN).
    """
    C_M = factor_si("C_M_lateral") if service.wet else 1.0
    values: list[Value] = [factor_used("C_M_lateral")] if service.wet else []
    C_t, _, warm = service.temperature(joint=True)
    values.extend(warm)
    if fasteners.allowable is not None:
        share = _TYPED_IN[(fasteners.allowable_for, duration)]
        text = f"{fasteners.allowable / POUND_FORCE:.0f} lb each, for {fasteners.allowable_for} duration"
        values.append(Value("allowable value of a fastener", text, fasteners.source or "", "given in the file"))
        return FastenerCapacity(
            fasteners,
            sides,
            None,
            factors={"C_M": C_M, "C_t": C_t},
            typed_in=fasteners.allowable,
            typed_share=share,
            values=tuple(values),
            duration=duration,
            service=service,
        )
    if np.isnan(C_Delta):
        raise NotAssessableError("the fasteners stand closer to an end or to each other than the standard lets count")
    if sides.double and fasteners.kind != "through-bolt":
        raise NotAssessableError("beams on both sides of the post are assessed with through-bolts only")
    if sides.double and (fasteners.length or 0.0) < 2 * sides.thickness_side + sides.thickness_main:
        raise NotAssessableError("the bolt is shorter than post and both beams together")
    other = None
    if fasteners.plate is None:
        data = dowel(fasteners, sides.thickness_side, sides.G_side, sides.thickness_main, sides.G_main)
    elif sides.double:
        raise NotAssessableError("a steel plate with beams on both sides of the post is not assessed")
    else:
        data = plated(fasteners, sides.thickness_main, sides.G_main)
        other = plated(fasteners, sides.thickness_side, sides.G_side)
    factors = {"C_D": factor_si(f"C_D_{duration}"), "C_M": C_M}
    used = [*data.values, factor_used(f"C_D_{duration}"), *values]
    for name, factor in (("C_t", C_t), ("C_g", C_g), ("C_Delta", C_Delta)):
        if factor != 1.0:
            factors[name] = factor
    if end_grain:
        factors["C_eg"] = factor_si("C_eg_lateral")
        used.append(factor_used("C_eg_lateral"))
    if fasteners.toe_nailed:
        factors["C_tn"] = factor_si("C_tn_lateral")
        used.append(factor_used("C_tn_lateral"))
    return FastenerCapacity(
        fasteners, sides, data, other, factors, values=tuple(used), duration=duration, service=service
    )
