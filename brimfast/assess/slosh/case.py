"""One vessel shaken in one direction: period, spectrum, wave, masses, heights, each with its step."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from brimfast.assess.demand.motion import Corner, GroundMotion
from brimfast.assess.slosh import equivalents as eq
from brimfast.assess.slosh.support import Support, support
from brimfast.assess.slosh.water import FreeWater, free_water
from brimfast.assess.slosh.wave import (
    WAVE,
    convective_acceleration,
    is_index,
    reaches,
    sloshing_coefficient,
    wave_height,
)
from brimfast.assess.weight import VesselWeight
from brimfast.data_tables.loader import factor_si, factor_used
from brimfast.shared.constants import GRAVITY
from brimfast.shared.findings import Step, Value, step
from brimfast.shared.installation.model import Installation
from brimfast.shared.installation.site import Site
from brimfast.shared.installation.vessel import Lid, Vessel

Periods = dict[str, tuple[float, float] | None]


@dataclass(frozen=True)
class Slosh:
    """What the water of a vessel does in one direction; numbers are NaN where why says that it is not assessed."""

    vessel: str
    on: str
    way: str  # along, across, any
    water: FreeWater
    period: float  # s
    acceleration: float  # g, with what floor and rack add
    coefficient: float  # force of what sloshes over its weight
    wave: float  # m, as far as its shape can reach
    index: bool  # steeper than linear theory covers
    rigid: float  # N, weight that moves with the vessel
    sloshing: float  # N
    rigid_height: float  # m above the water's bottom, with the pressure on the bottom
    sloshing_height: float
    steps: tuple[Step, ...]
    masses: tuple[Step, ...]
    values: tuple[Value, ...]
    why: str = ""
    builds_up: str = ""
    near: str = ""
    reduction: tuple[Value, ...] = ()  # what its force was divided by
    lid: Lid | None = None

    @property
    def length(self) -> float:
        return self.water.lengths[self.way]

    @property
    def assessed(self) -> bool:
        return not self.why


def vessel_sloshes(
    vessel: Vessel, weight: VesselWeight, site: Site, motion: GroundMotion, periods: tuple[float, ...]
) -> list[Slosh]:
    """In each of its directions. periods: of its rack, along and across, or one where that is all that is known."""
    water = free_water(vessel, weight)
    if water is None:
        return []
    found = []
    for way in water.lengths:
        both = way == "any" or len(periods) < 2
        known = periods if both else (periods[0 if way == "along" else 1],)
        found.append(replace(_slosh(water, way, vessel.on, known, site, motion, motion.corner), lid=vessel.lid))
    return found


def rack_periods(installation: Installation, on: str, periods: Periods) -> tuple[float, ...]:
    """By the frame, else as the file gives it. A vessel's length lies along its rack."""
    if on == "floor":
        return ()
    pair = periods.get(on)
    if pair is not None:
        return pair
    given = installation.racks[on].period
    return () if given is None else (given,)


def _slosh(
    water: FreeWater,
    way: str,
    on: str,
    rack_periods: tuple[float, ...],
    site: Site,
    motion: GroundMotion,
    corner: Corner,
) -> Slosh:
    L, h, shape = water.lengths[way], water.depth, water.shape
    why = water.why_not(way) or (corner.why_not if math.isnan(corner.T_S) else "")
    if why:
        nan = math.nan
        return Slosh(water.vessel, on, way, water, nan, nan, nan, nan, False, nan, nan, nan, nan, (), (), (), why)
    k = shape.wave
    T_c = float(eq.sloshing_period(h, L, shape))
    period = step(
        "T_c",
        f"2*pi*sqrt(L/({k:g}*g*tanh({k:g}*h/L)))",
        {"L": (L, "m"), "h": (h, "m"), "g": (GRAVITY, "m/s²")},
        (T_c, "s"),
        eq.SOURCE[shape.name],
        "h: water above the fill",
    )
    held = support(site, T_c, None if on == "floor" else on, rack_periods)
    spectrum, S_c, S_ac, d, index = _wave(water, L, T_c, held, motion, corner)
    C_c, push = _push(math.inf if held.why else S_ac, S_c, water, L, motion)
    masses, sizes = _masses(water, L)
    values = (
        *corner.values,
        *held.values,
        *motion.sloshing_values,
        factor_used("wave_coefficient"),
    )
    steps = (period, *corner.steps, *held.steps, *spectrum)
    return Slosh(
        water.vessel,
        on,
        way,
        water,
        T_c,
        S_ac,
        C_c,
        d,
        index,
        *sizes,
        steps,
        (*masses, push),
        values,
        builds_up=held.why,
        near=held.near,
        reduction=motion.convective_values,
    )


def _wave(
    water: FreeWater, L: float, T_c: float, held: Support, motion: GroundMotion, corner: Corner
) -> tuple[tuple[Step, ...], float, float, float, bool]:
    """Steps, spectral acceleration without and with floor and rack (g), the wave that its shape can reach (m), whether it is an index."""
    h, I_e = water.depth, motion.importance
    S_c = float(convective_acceleration(T_c, motion.plateau, motion.plateau * corner.T_S))
    capped = f"its cap 1.5 {motion.symbol} governs; " if T_c <= corner.T_S else ""
    lines = [
        step(
            "S_c",
            f"{factor_si('sloshing_amplification'):g}*{motion.symbol}*min(1, T_S/T_c)",
            {motion.symbol: (motion.plateau, "g"), "T_S": (corner.T_S, "s"), "T_c": (T_c, "s")},
            (S_c, "g"),
            motion.sloshing,
            f"0.5 % damping; {capped}{motion.tail} not used (safe side)",
        )
    ]
    coefficient = factor_si("wave_coefficient")
    if held.why:
        S_ac = max(held.H_f * S_c, h / (coefficient * L * I_e))
        lines += [
            step(
                "S_ac",
                f"max(H_f*S_c, h/({coefficient:g}*L*I_e))",
                {"H_f": held.H_f, "S_c": (S_c, "g"), "h": (h, "m"), "L": (L, "m"), "I_e": I_e},
                (S_ac, "g"),
                "no formula: that of a wave as high as the water is deep, or more",
                held.why,
            ),
            step("d", "h", {"h": (h, "m")}, (h, "m"), "its trough cannot sink below the bottom", held.why),
        ]
        return tuple(lines), S_c, S_ac, h, True
    S_ac = held.H_f * held.A * S_c
    d_1 = float(wave_height(L, S_ac, I_e))
    d = float(reaches(d_1, h))
    lines += [
        step(
            "S_ac",
            "H_f*A*S_c",
            {"H_f": held.H_f, "A": held.A, "S_c": (S_c, "g")},
            (S_ac, "g"),
            "floor and rack taken to sway more at every period: the safe side",
        ),
        step(
            "d_1",
            f"{coefficient:g}*L*I_e*S_ac",
            {"L": (L, "m"), "I_e": I_e, "S_ac": (S_ac, "g")},
            (d_1, "m"),
            WAVE,
            "linear; for an owner's estimate, at the site's importance",
        ),
        step(
            "d", "min(d_1, h)", {"d_1": (d_1, "m"), "h": (h, "m")}, (d, "m"), "its trough cannot sink below the bottom"
        ),
    ]
    return tuple(lines), S_c, S_ac, d, bool(is_index(d_1, L, h))


def _push(S_ac: float, S_c: float, water: FreeWater, L: float, motion: GroundMotion) -> tuple[float, Step]:
    """Force of the sloshing part over its weight. S_ac is infinite where floor or rack build the waves up."""
    I_e, R_c, coefficient = motion.importance, motion.convective_R, factor_si("wave_coefficient")
    C_c = float(sloshing_coefficient(S_ac, S_c, water.depth, L, I_e, R_c))
    reduced = "" if R_c == 1 else f"/{R_c:g}"
    reach = f"max(S_c*I_e{reduced}, h/({coefficient:g}*L))"
    inputs: dict[str, float | tuple[float, str]] = {
        "S_c": (S_c, "g"),
        "I_e": I_e,
        "h": (water.depth, "m"),
        "L": (L, "m"),
    }
    if math.isfinite(S_ac):
        reach, inputs = f"min(S_ac*I_e{reduced}, {reach})", {"S_ac": (S_ac, "g"), **inputs}
    note = "what floor and rack add counts only as far as the wave can rise"
    if R_c == 1:
        note += "; not reduced"
    return C_c, step("C_c", reach, inputs, C_c, "ASCE 7-16 (15.7-6)", note)


def _masses(water: FreeWater, L: float) -> tuple[tuple[Step, ...], tuple[float, float, float, float]]:
    """Weights and heights of the two parts, the pressure on the bottom counted."""
    h, W, shape = water.depth, water.weight, water.shape
    c, k, source = shape.share, shape.wave, eq.SOURCE[shape.name]
    size: dict[str, float | tuple[float, str]] = {"L": (L, "m"), "h": (h, "m")}
    W_i = W * float(eq.impulsive_share(h, L))
    W_c = W * float(eq.convective_share(h, L, shape))
    h_i, h_c = float(eq.impulsive_height_with_base(h, L)), float(eq.convective_height_with_base(h, L, shape))
    low = bool(eq.much_deeper_than_long(h, L))
    lines = (
        step("W_i", "tanh(0.866*L/h)/(0.866*L/h)*W_w", {**size, "W_w": (W, "N")}, (W_i, "N"), source, "moves along"),
        step("W_c", f"{c:.3f}*L/h*tanh({k:g}*h/L)*W_w", {**size, "W_w": (W, "N")}, (W_c, "N"), source, "sloshes"),
        step(
            "h_i",
            "0.45*h" if low else "(0.866*L/h/(2*tanh(0.866*L/h)) - 1/8)*h",
            {"h": (h, "m")} if low else size,
            (h_i, "m"),
            source,
            "with the pressure on the bottom",
        ),
        step(
            "h_c",
            f"(1 - (cosh({k:g}*h/L) - 2.01)/({k:g}*h/L*sinh({k:g}*h/L)))*h",
            size,
            (h_c, "m"),
            source,
            "with the pressure on the bottom",
        ),
    )
    return lines, (W_i, W_c, h_i, h_c)
