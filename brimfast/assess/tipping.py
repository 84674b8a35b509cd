"""Does a body tip?"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.assess import combinations
from brimfast.assess.bodies import Direction, FreeBody
from brimfast.assess.demand.force import Force
from brimfast.assess.demand.vertical import Vertical
from brimfast.shared.findings import Finding, Step, finding, step

Array = NDArray[np.float64]


def overturning_moment(F: ArrayLike, h: ArrayLike) -> Array:
    """Moment about the base (N·m): M = F h; F sideways force (N) at the centre of mass, h its height (m)."""
    return np.asarray(np.asarray(F, float) * np.asarray(h, float))


def resisting_moment(W: ArrayLike, arm: ArrayLike, share: ArrayLike) -> Array:
    """Moment of the weight about the tipping edge (N·m): M = share · W · arm.

    W weight (N), arm from the centre of mass to the edge (m), share of the weight that the combination
    lets count. A negative share counts as nothing.
    """
    return np.asarray(np.maximum(np.asarray(share, float), 0.0) * np.asarray(W, float) * np.asarray(arm, float))


def tipping_acceleration(arm: ArrayLike, h: ArrayLike) -> Array:
    """Steady sideways acceleration (g) at which an edge starts to lift: arm / h. Mechanics of a rigid block."""
    return np.asarray(np.asarray(arm, float) / np.asarray(h, float))


@dataclass(frozen=True)
class Overturning:
    """Moment about the base at strength level (N·m), and how it stands in an equation."""

    moment: float
    formula: str
    inputs: dict[str, float | tuple[float, str]]
    steps: tuple[Step, ...]
    note: str
    sloshing_governs: bool


def overturning(body: FreeBody, direction: Direction, force: Force) -> Overturning:
    """All water rigid, or sloshing where the body holds free water: the larger."""
    F, h, sloshing = force.horizontal, body.height, direction.sloshing
    M = float(overturning_moment(F, h))
    inputs: dict[str, float | tuple[float, str]] = {"F": (F, "N"), "h": (h, "m")}
    if sloshing is None:
        return Overturning(M, "F*h", inputs, (), "", False)
    inputs["M_slosh"] = (sloshing.moment, "N·m")
    note = "all water rigid, or sloshing: the larger"
    larger = max(M, sloshing.moment)
    return Overturning(larger, "max(F*h, M_slosh)", inputs, sloshing.steps, note, sloshing.moment > M)


def moments(body: FreeBody, direction: Direction, force: Force, v: Vertical) -> tuple[Step, ...]:
    """Strength- and allowable-level moments, as steps: M_OT and M_R of either."""
    W = body.weight
    strength, allowable = float(combinations.strength_resisting(v)), float(combinations.allowable_resisting(v))
    W_pair, arm_pair = (W, "N"), (direction.arm, "m")
    low = combinations.EARTHQUAKE_SHARE

    def moment(value: float) -> tuple[float, str]:
        return value, "N·m"

    over = overturning(body, direction, force)
    return (
        *over.steps,
        step("M_OT_strength", over.formula, over.inputs, moment(over.moment), "", over.note),
        step(
            "M_R_strength",
            f"max(0.9 - {v.times()}, 0)*W*arm",
            {**v.inputs, "W": W_pair, "arm": arm_pair},
            moment(float(resisting_moment(W, direction.arm, strength))),
            v.source,
            combinations.strength(v),
        ),
        step("M_OT_allowable", f"0.7*{over.formula}", over.inputs, moment(low * over.moment)),
        step(
            "M_R_allowable",
            f"max(0.6 - {v.times(low)}, 0)*W*arm",
            {**v.inputs, "W": W_pair, "arm": arm_pair},
            moment(float(resisting_moment(W, direction.arm, allowable))),
            v.source,
            combinations.allowable(v),
        ),
    )


def tipping_finding(body: FreeBody, direction: Direction, force: Force, v: Vertical) -> Finding:
    """The worse of the two levels, in one direction, by the body's own weight alone."""
    steps = moments(body, direction, force, v)
    M = [line.result.value for line in steps[-4:]]
    demand, capacity, combination = combinations.worse_level((M[0], M[1]), (M[2], M[3]), v)
    start = float(tipping_acceleration(direction.arm, body.height))
    start_step = step(
        "a_tip",
        "arm/h",
        {"arm": (direction.arm, "m"), "h": (body.height, "m")},
        (start, "g"),
        "mechanics of a rigid block",
    )
    sloshing = direction.sloshing
    details = {"starts to tip at": f"{start:.2f} g", "combination": combination, "direction": direction.name}
    basis = f"{force.basis}; {combination}"
    if sloshing is not None:
        rigid = float(overturning_moment(force.horizontal, body.height))
        details["sloshing over all water rigid"] = f"{sloshing.moment / rigid:.2f}"
        basis += f"; {sloshing.words}" if sloshing.moment > rigid else "; all water rigid"
    return finding(
        f"tipping/{body.name}/{direction.name}",
        "stability",
        body.name,
        f"Does it tip {direction.name}?",
        demand,
        capacity,
        "moment",
        basis,
        advice_key="tipping",
        steps=(*force.steps, *steps, start_step),
        values=(*force.values, *(sloshing.values if sloshing is not None else ())),
        details=details,
    )
