"""How far does a thing on chains swing in the design earthquake, and is so much free beside it?"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.assess.demand.height import (
    FAR_ENOUGH,
    building_keeps_time,
    height_amplification,
    support_amplification,
)
from brimfast.assess.demand.motion import GroundMotion
from brimfast.assess.demand.spectrum import design_spectrum, light_damping
from brimfast.data_tables.loader import factor_si, factor_used
from brimfast.shared.constants import GRAVITY
from brimfast.shared.findings import Finding, Step, Value, finding, not_assessed, step
from brimfast.shared.installation.hung import Hung
from brimfast.shared.installation.site import Site

Array = NDArray[np.float64]
TOPIC = "hung"
LINEAR_UP_TO = math.pi / 4  # rad
ROOF = 1.0  # its height over the building's


def pendulum_period(L: ArrayLike) -> Array:
    """Time of one swing to and fro (s), small swings: T = 2π √(L/g). L pivot to centre of mass (m). Mechanics."""
    return np.asarray(2 * np.pi * np.sqrt(np.asarray(L, float) / GRAVITY))


def swing(S_a: ArrayLike, L: ArrayLike) -> Array:
    """Largest swing to a side (m): S_d = S_a (T/2π)² = S_a L, with S_a in g.

    Beyond 45° (S_a over π/4) a pendulum is not linear: then L, which its chain bounds; an index. L length (m).
    """
    S_a, L = np.asarray(S_a, float), np.asarray(L, float)
    return np.asarray(np.where(S_a > LINEAR_UP_TO, L, S_a * L))


def swing_finding(thing: Hung, site: Site, motion: GroundMotion, rack_period: float | None) -> Finding:
    """Swing against what is free beside it; rack_period (s) of the rack that it hangs from, where known."""
    id, question = f"hung/{thing.name}/swing", "Does it swing into something?"
    corner, start = motion.corner, f"pendulum under the spectrum of {motion.spectrum}, at light damping"
    if math.isnan(corner.T_S):
        return not_assessed(id, TOPIC, thing.name, question, "length", corner.why_not, start)
    T = float(pendulum_period(thing.drop))
    S_d, note, lines, values = _swings(thing, site, motion, rack_period, T)
    basis = f"{start}; {note}" if note else start
    details = {
        "one swing to and fro": f"{T:.2f} s",
        "while its hangers hold": "swinging, it only rises above the water",
    }
    if thing.clearance is None:
        reason = "what is free beside it is not in the file: measure it and add clearance"
        return not_assessed(
            id,
            TOPIC,
            thing.name,
            question,
            "length",
            reason,
            basis,
            demand=S_d,
            advice_key="describe hung",
            steps=lines,
            values=values,
            details=details,
        )
    return finding(
        id,
        TOPIC,
        thing.name,
        question,
        S_d,
        thing.clearance,
        "length",
        basis,
        reason="" if S_d <= thing.clearance else "it hits what is nearest, and its chains jerk",
        advice_key="swing",
        steps=lines,
        values=values,
        details=details,
    )


def _swings(
    thing: Hung, site: Site, motion: GroundMotion, rack_period: float | None, T: float
) -> tuple[float, str, tuple[Step, ...], tuple[Value, ...]]:
    """How far (m) at its period T (s), what to note of that, its lines and the values used."""
    L = thing.drop
    height, height_line, height_values = _height(thing, site)
    eta, S_a5, (period, spectrum, damping) = _spectrum(L, T, motion)
    before = (period, *motion.corner.steps, spectrum, damping, height_line)
    A, support_line, support_values, near = _support(thing, site, T, rack_period)
    values = (*motion.corner.values, factor_used("damping_of_chains"), *height_values, *support_values)
    if A is None:
        return L, near, (*before, step("S_d", "L", {"L": (L, "m")}, (L, "m"), "its chain bounds it", near)), values
    I_e = motion.importance
    S_a = eta * height * A * I_e * S_a5
    total = step(
        "S_a",
        "eta*H_f*A*I_e*S_a5",
        {"eta": eta, "H_f": height, "A": A, "I_e": I_e, "S_a5": (S_a5, "g")},
        (S_a, "g"),
        "floor and support taken to sway more at every period: the safe side",
    )
    S_d = float(swing(S_a, L))
    linear = S_a <= LINEAR_UP_TO
    note = "" if linear else "over 45°, where the estimate ends: as far as its chain is long, an index"
    inputs: dict[str, float | tuple[float, str]] = {"S_a": S_a, "L": (L, "m")} if linear else {"L": (L, "m")}
    last = step("S_d", "S_a*L" if linear else "L", inputs, (S_d, "m"), "S_d = S_a (T/2π)² of a pendulum", note)
    return S_d, note, (*before, *support_line, total, last), values


def _spectrum(L: float, T: float, motion: GroundMotion) -> tuple[float, float, tuple[Step, Step, Step]]:
    """Eta of the chains' damping and the spectrum at 5 % (g) at the pendulum's period, and their lines."""
    xi = factor_si("damping_of_chains")
    eta, T_S = float(light_damping(xi)), motion.corner.T_S
    S_a5 = float(design_spectrum(T, motion.plateau, T_S))
    lines = (
        step(
            "T",
            "2*pi*sqrt(L/g)",
            {"L": (L, "m"), "g": (GRAVITY, "m/s²")},
            (T, "s"),
            "mechanics: pendulum, small swings",
        ),
        step(
            "S_a5",
            f"{motion.symbol}*min(1, T_S/T)",
            {motion.symbol: (motion.plateau, "g"), "T_S": (T_S, "s"), "T": (T, "s")},
            (S_a5, "g"),
            motion.equations,
            f"5 % damping; {motion.tail} not used (safe side)",
        ),
        step(
            "eta",
            "max(sqrt(10/(5 + xi)), 0.55, (5.6 - ln(xi))/4)",
            {"xi": (xi, "%")},
            eta,
            "EN 1998-1:2004 (3.6); ASCE 41-17 (2-3)",
            "the larger of the two; neither was fitted to so little damping",
        ),
    )
    return eta, S_a5, lines


def _height(thing: Hung, site: Site) -> tuple[float, Step, tuple[Value, ...]]:
    """How much more the floor or ceiling sways than the ground, as for components; a ceiling not said is the roof's."""
    values: tuple[Value, ...] = ()
    if thing.from_ceiling and thing.height_ratio is None:
        said = "A floor's ceiling sways as the floor above; the roof sways most"
        values = (
            Value(
                "height of the ceiling over the building's, where not given",
                "1 (the roof)",
                said,
                "common practice, no source",
                "height_ratio of what hangs",
            ),
        )
    return (*height_amplification(site, _height_ratio(thing, site)), values)


def _height_ratio(thing: Hung, site: Site) -> float:
    """Height of the floor or ceiling that holds it over the building's."""
    if not thing.from_ceiling:
        return site.height_ratio
    return thing.height_ratio if thing.height_ratio is not None else ROOF


def _support(
    thing: Hung, site: Site, T: float, rack_period: float | None
) -> tuple[float | None, tuple[Step, ...], list[Value], str]:
    """What the rack adds (a ceiling: 1); None where rack or building sway in nearly the same time."""
    if building_keeps_time(site, _height_ratio(thing, site), T):
        return None, (), [], "the building sways in nearly the same time: swings build up"
    if thing.from_ceiling:
        return 1.0, (), [], ""
    values: list[Value] = []
    T_r, note = rack_period, ""
    if T_r is None:
        T_r, note = T / FAR_ENOUGH, "the rack's period is not known: the longest that does not build the swing up"
        said = "Not known: two thirds of the pendulum's; a rack slower than that builds the swing up"
        values.append(
            Value(
                "period of the rack",
                f"{T_r:.2f} s",
                said,
                "common practice, no source",
                "push the rack and time it, or have it computed; then period of the rack",
            )
        )
    A = float(support_amplification(T, T_r))
    if math.isnan(A):
        return None, (), values, "the rack sways in nearly the same time, or slower: swings build up"
    inputs = {"T_r": (T_r, "s"), "T": (T, "s")}
    line = step("A", "1/(1 - (T_r/T)**2)", inputs, A, "steady sway of the rack at the pendulum's period", note)
    return A, (line,), values, ""
