"""Does a body tip?"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.assess import combinations
from brimfast.assess.bodies import Direction, FreeBody
from brimfast.assess.demand.force import Force
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


def moments(body: FreeBody, direction: Direction, force: Force, S_DS: float) -> tuple[Step, ...]:
    """Strength- and allowable-level moments, as steps: M_OT and M_R of either."""
    W, h, F = body.weight, body.height, force.horizontal
    strength, allowable = float(combinations.strength_resisting(S_DS)), float(combinations.allowable_resisting(S_DS))
    F_pair, h_pair, W_pair, arm_pair = (F, "N"), (h, "m"), (W, "N"), (direction.arm, "m")
    low = combinations.EARTHQUAKE_SHARE

    def moment(value: float) -> tuple[float, str]:
        return value, "N·m"

    return (
        step("M_OT_strength", "F*h", {"F": F_pair, "h": h_pair}, moment(float(overturning_moment(F, h)))),
        step(
            "M_R_strength",
            "max(0.9 - 0.2*S_DS, 0)*W*arm",
            {"S_DS": S_DS, "W": W_pair, "arm": arm_pair},
            moment(float(resisting_moment(W, direction.arm, strength))),
            combinations.SOURCE,
            combinations.STRENGTH,
        ),
        step("M_OT_allowable", "0.7*F*h", {"F": F_pair, "h": h_pair}, moment(float(overturning_moment(low * F, h)))),
        step(
            "M_R_allowable",
            "max(0.6 - 0.14*S_DS, 0)*W*arm",
            {"S_DS": S_DS, "W": W_pair, "arm": arm_pair},
            moment(float(resisting_moment(W, direction.arm, allowable))),
            combinations.SOURCE,
            combinations.ALLOWABLE,
        ),
    )


def tipping_finding(body: FreeBody, direction: Direction, force: Force, S_DS: float) -> Finding:
    """The worse of the two levels, in one direction, by the body's own weight alone."""
    steps = moments(body, direction, force, S_DS)
    M = [line.result.value for line in steps]
    demand, capacity, combination = combinations.worse_level((M[0], M[1]), (M[2], M[3]))
    start = float(tipping_acceleration(direction.arm, body.height))
    start_step = step(
        "a_tip",
        "arm/h",
        {"arm": (direction.arm, "m"), "h": (body.height, "m")},
        (start, "g"),
        "mechanics of a rigid block",
    )
    return finding(
        f"tipping/{body.name}/{direction.name}",
        "stability",
        body.name,
        f"Does it tip {direction.name}?",
        demand,
        capacity,
        "moment",
        f"{force.basis}; {combination}",
        advice_key="tipping",
        steps=(*force.steps, *steps, start_step),
        values=force.values,
        details={"starts to tip at": f"{start:.2f} g", "combination": combination, "direction": direction.name},
    )
