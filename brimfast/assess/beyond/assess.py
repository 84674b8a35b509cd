"""Of each body that stands free on the floor: how far it may slide, and whether it falls once it rocks."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from brimfast.assess.beyond import slide, topple, velocity
from brimfast.assess.bodies import Direction, FreeBody
from brimfast.assess.demand.height import height_amplification
from brimfast.assess.demand.motion import GroundMotion
from brimfast.assess.demand.spectrum import design_spectrum
from brimfast.assess.tipping import tipping_acceleration
from brimfast.shared.findings import Finding, Step, Value, finding, not_assessed, step
from brimfast.shared.installation.site import Site

LIKE_A_BLOCK = Value(
    "rocking as a rigid block",
    "water, walls and posts as one stiff piece",
    "the published criteria are for solid rectangular blocks; free water makes it an index",
    "common practice, no source",
    "the judgement of a structural engineer",
)
CRITERION = Value(
    "velocity that fells a rocking block",
    "0.4 of the velocity by energy",
    "Ishiyama 1982, Earthquake Engineering and Structural Dynamics 10(5), as later papers quote it",
    "from memory",
    "Ishiyama 1982",
)
VELOCITY = Value(
    "peak velocity of the floor",
    "spectrum at 1 s over 2π and 1.65",
    velocity.SOURCE,
    "published",
    "FEMA P-58-1 section 5.3; near a fault a site study",
)


@dataclass(frozen=True)
class FloorMotion:
    """Acceleration (g) and velocity (m/s) of the floor; NaN velocity where the spectrum at 1 s is not known."""

    acceleration: float
    velocity: float
    steps: tuple[Step, ...]


@dataclass(frozen=True)
class Beyond:
    """One body past its threshold. least and most (m): how far it slides with the high and the low friction.

    falls: index of falling, over 1 it may (−), in its worst direction; NaN where it is not assessed.
    """

    body: str
    least: float
    most: float
    falls: float
    direction: str
    slide_steps: tuple[Step, ...]
    fall_steps: tuple[Step, ...]
    acceleration: float  # of the floor, g
    velocity: float  # of the floor, m/s; NaN where it is not known
    needed: float  # velocity that fells it, m/s


def floor_motion(site: Site, motion: GroundMotion) -> FloorMotion:
    """Of the installation's floor: both grow with the height in the building alike."""
    H_f, line = height_amplification(site, site.height_ratio)
    corner = motion.corner
    inputs: dict[str, float | tuple[float, str]] = {"H_f": H_f, "a_ground": (motion.peak, "g")}
    a = step("a_floor", "H_f*a_ground", inputs, (H_f * motion.peak, "g"), "", f"a_ground: {motion.peak_words}")
    if not math.isfinite(corner.T_S):
        return FloorMotion(a.result.value, math.nan, (line, a))
    S_1 = float(design_spectrum(1.0, motion.plateau, corner.T_S))
    at_1s = step(
        "S_1s",
        f"{motion.symbol}*min(1, T_S/1)",
        {motion.symbol: (motion.plateau, "g"), "T_S": (corner.T_S, "s")},
        (S_1, "g"),
        motion.equations,
        any_units=False,
    )
    V = H_f * float(velocity.peak_velocity(S_1))
    speed = step(
        "V_floor",
        "H_f*S_1s*9.80665/(2*pi*1.65)",
        {"H_f": H_f, "S_1s": (S_1, "g")},
        (V, "m/s"),
        velocity.SOURCE,
        "rises with the height as the acceleration does: the safe side",
        any_units=False,
    )
    return FloorMotion(a.result.value, V, (line, a, *corner.steps, at_1s, speed))


def beyond(bodies: tuple[FreeBody, ...], site: Site, motion: GroundMotion) -> dict[str, Beyond]:
    """By name; of what stands on the floor without anchors and ties."""
    floor = floor_motion(site, motion)
    up = 1 - motion.vertical.share
    return {
        body.name: _one(body, floor, up)
        for body in bodies
        if body.on == "floor" and body.anchoring is None and not body.tied
    }


def _one(body: FreeBody, floor: FloorMotion, up: float) -> Beyond:
    A, V = floor.acceleration, floor.velocity
    low, high = body.friction.low * max(up, 0.05), body.friction.high
    # fmax and fmin pass over what is not known
    most = float(np.fmax(slide.slide_in_records(A, low, 1.0), slide.slide_in_a_pulse(V, A, low)))
    least = float(np.fmin(slide.slide_in_records(A, high), slide.slide_in_a_pulse(V, A, high)))
    inputs: dict[str, float | tuple[float, str]] = {"mu": body.friction.low, "k_up": up}
    N = step(
        "N_low", "mu*max(k_up, 0.05)", inputs, (low, "g"), "", "k_up: 1 less the vertical earthquake over the weight"
    )
    steps = [*floor.steps, N]
    if low < A:
        power = {"N_low": (low, "g"), "a_floor": (A, "g")}
        steps.append(
            step(
                "D_records",
                "10**(0.215 + 0.510)*(1 - N_low/a_floor)**2.341*(a_floor/N_low)**1.438/100",
                power,
                (float(slide.slide_in_records(A, low, 1.0)), "m"),
                slide.RECORDS_SOURCE,
                "mean and one standard deviation; one way, on level ground less",
                any_units=False,
            )
        )
        if math.isfinite(V):
            steps.append(
                step(
                    "D_pulse",
                    "V_floor**2/(2*9.80665*N_low)*(1 - N_low/a_floor)",
                    {"V_floor": (V, "m/s"), **power},
                    (float(slide.slide_in_a_pulse(V, A, low)), "m"),
                    slide.PULSE_SOURCE,
                    any_units=False,
                )
            )
    falls, way, needed, fall_steps = _falls(body, floor)
    return Beyond(body.name, least, most, falls, way, tuple(steps), fall_steps, A, V, needed)


def _falls(body: FreeBody, floor: FloorMotion) -> tuple[float, str, float, tuple[Step, ...]]:
    """Of a vessel, in its worst direction; a rack is no block, and is not assessed."""
    if body.kind == "rack" or not math.isfinite(floor.velocity):
        return math.nan, "", math.nan, ()
    worst: tuple[float, Direction] | None = None
    for direction in body.directions:
        b, h = direction.arm, body.height
        index = float(
            topple.least_falling_index(
                floor.acceleration, tipping_acceleration(b, h), floor.velocity, topple.falling_velocity(b, h)
            )
        )
        if worst is None or index > worst[0]:
            worst = index, direction
    assert worst is not None
    index, direction = worst
    b, h = direction.arm, body.height
    v_0 = float(topple.falling_velocity(b, h))
    a_0 = float(tipping_acceleration(b, h))
    sizes: dict[str, float | tuple[float, str]] = {"b": (b, "m"), "h": (h, "m")}
    steps = (
        *floor.steps,
        step("a_0", "b/h", sizes, (a_0, "g"), "mechanics of a rigid block"),
        step(
            "v_0",
            "0.4*sqrt(8*9.80665*(sqrt(b**2 + h**2) - h)/3)",
            sizes,
            (v_0, "m/s"),
            topple.SOURCE,
            any_units=False,
        ),
        step(
            "I_fall",
            "min(a_floor/a_0, V_floor/v_0)",
            {
                "a_floor": (floor.acceleration, "g"),
                "a_0": (a_0, "g"),
                "V_floor": (floor.velocity, "m/s"),
                "v_0": (v_0, "m/s"),
            },
            index,
            "",
            "both must be passed before it falls",
        ),
    )
    return index, direction.name, v_0, steps


def beyond_findings(known: dict[str, Beyond], tipping: list[Finding]) -> list[Finding]:
    """Of each body that begins to tip: does it fall? By physics alone, beside what the code asks."""
    short = {one.subject for one in tipping if one.id.startswith("tipping/") and one.verdict == "short"}
    found = []
    for name, one in known.items():
        if name not in short:
            continue
        question, basis = "Once it rocks, does it fall over? (physical estimate)", f"{topple.SOURCE}; {velocity.SOURCE}"
        if math.isnan(one.falls):
            why = (
                "a rack of posts is no rigid block" if name.startswith("rack ") else "the spectrum at 1 s is not known"
            )
            found.append(not_assessed(f"falls/{name}", "stability", name, question, "number", why, basis))
            continue
        found.append(
            finding(
                f"falls/{name}",
                "stability",
                name,
                question,
                one.falls,
                1.0,
                "number",
                basis,
                advice_key="tipping",
                steps=one.fall_steps,
                values=(LIKE_A_BLOCK, CRITERION, VELOCITY),
                details={
                    "direction": one.direction,
                    "floor moves at": f"{one.velocity:.2f} m/s",
                    "may fall from": f"{one.needed:.2f} m/s",
                },
            )
        )
    return found
