"""What the checks of pipes share: the steps of friction, loss coefficients, amounts in both systems."""

from __future__ import annotations

import math
from dataclasses import dataclass

from brimfast.assess.network.build import pipe_coefficient
from brimfast.assess.network.friction import churchill_terms, friction_factor, head_loss, reynolds, velocity
from brimfast.assess.network.pipe_flow import pipe_velocity
from brimfast.data_tables.loader import factor_si, factor_used, pipe_material
from brimfast.shared.constants import GRAVITY
from brimfast.shared.findings import Step, Value, step
from brimfast.shared.installation.flow import Pipe, Pump
from brimfast.shared.units import System, show

TOPIC = "pipes"
PRACTICE = "practice, not a code"
DARCY = "Darcy-Weisbach"
TRIALS = 40
CHURCHILL = "Churchill 1977"


@dataclass(frozen=True)
class Run:
    """One run of pipe: bore, length (m), bends, roughness (m), the sum of its loss coefficients, and the values used."""

    D: float
    L: float
    roughness: float
    C: float
    K: float
    K_step: Step
    values: tuple[Value, ...]


def run(pipe: Pump | Pipe) -> Run | None:
    """The run of a pump's line or of a pipe; None where a pump's line has no bore or no length in the file."""
    D = pipe.bore if isinstance(pipe, Pipe) else pipe.pipe
    if D is None or pipe.length is None:
        return None
    row = pipe_material(pipe.material)
    keys = ["K_entrance", "K_exit", "K_bend"]
    entrance, out, bend = (factor_si(key) for key in keys)
    K = pipe_coefficient(pipe.bends, check_valve=pipe.check_valve)
    inputs: dict[str, float | tuple[float, str]] = {"K_e": entrance, "K_x": out, "n": float(pipe.bends), "K_b": bend}
    expression = "K_e + K_x + n*K_b"
    if pipe.check_valve:
        inputs["K_v"] = factor_si("K_check_valve")
        expression += " + K_v"
        keys.append("K_check_valve")
    line = step("K", expression, inputs, K, "handbook loss coefficients", "entrance, exit, n bends, check valve")
    used = row.used(
        f"roughness and C of a pipe of {row.material}", f"{row.roughness_mm:g} mm; {row.hazen_williams_C:g}"
    )
    values = (*(factor_used(key) for key in keys), factor_used("water_viscosity"), used)
    return Run(D, pipe.length, row.roughness_mm / 1000, row.hazen_williams_C, K, line, values)


def full_flow(drop: float, of: Run) -> float:
    """What runs through a full run of pipe under a drop (m³/s), friction and velocity fitted to each other to the end."""
    return math.pi / 4 * of.D**2 * float(pipe_velocity(drop, of.D, of.L, of.K, of.roughness, passes=TRIALS))


def speed_step(Q: float, D: float) -> Step:
    return step(
        "V", "Q/(pi/4*D**2)", {"Q": (Q, "m³/s"), "D": (D, "m")}, (float(velocity(Q, D)), "m/s"), "continuity, full pipe"
    )


def friction_steps(V: float, of: Run) -> tuple[Step, ...]:
    """Reynolds number and friction factor at a velocity above 0, line by line."""
    nu = factor_si("water_viscosity")
    Re = float(reynolds(V, of.D))
    A, B = (float(term) for term in churchill_terms(Re, of.roughness / of.D))
    f = float(friction_factor(Re, of.roughness / of.D))
    return (
        step("Re", "V*D/nu", {"V": (V, "m/s"), "D": (of.D, "m"), "nu": (nu, "m²/s")}, Re, "Reynolds number"),
        step(
            "A",
            "(2.457*ln(1/((7/Re)**0.9 + 0.27*k_s/D)))**16",
            {"Re": Re, "k_s": (of.roughness, "m"), "D": (of.D, "m")},
            A,
            CHURCHILL,
            "k_s: roughness of the wall",
        ),
        step("B", "(37530/Re)**16", {"Re": Re}, B, CHURCHILL),
        step("f", "8*((8/Re)**12 + (A + B)**(-1.5))**(1/12)", {"Re": Re, "A": A, "B": B}, f, CHURCHILL),
    )


def full_steps(drop: float, of: Run, what: str) -> tuple[Step, ...]:
    """The velocity of a full run under a drop, line by line; the last line is the velocity (m/s)."""
    V = float(velocity(full_flow(drop, of), of.D))
    friction = friction_steps(V, of)
    f = friction[-1].result.value
    speed = step(
        "V",
        "sqrt(2*g*H/(K + f*L/D))",
        {"g": (GRAVITY, "m/s²"), "H": (drop, "m"), "K": of.K, "f": f, "L": (of.L, "m"), "D": (of.D, "m")},
        (V, "m/s"),
        f"{DARCY}, full pipe",
        f"H: {what}; f and V by trial, each fits the other",
    )
    return (of.K_step, *friction, speed)


def loss_steps(Q: float, of: Run) -> tuple[Step, ...]:
    """The head lost along a run at a flow, line by line; the last line is the loss (m)."""
    speed = speed_step(Q, of.D)
    V = speed.result.value
    friction = friction_steps(V, of)
    f = friction[-1].result.value
    loss = float(head_loss(Q, of.D, of.L, of.K, of.roughness))
    inputs: dict[str, float | tuple[float, str]] = {
        "K": of.K,
        "f": f,
        "L": (of.L, "m"),
        "D": (of.D, "m"),
        "V": (V, "m/s"),
        "g": (GRAVITY, "m/s²"),
    }
    last = step("h_L", "(K + f*L/D)*V**2/(2*g)", inputs, (loss, "m"), DARCY)
    return (speed, *friction, of.K_step, last)


def both(value: float, kind: str, system: System) -> str:
    """An amount in both systems, the reader's own first."""
    other: System = "si" if system == "us" else "us"
    return f"{show(value, kind, system, 2)} ({show(value, kind, other, 2)})"
