"""What do the anchors of a body carry?"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.assess import combinations
from brimfast.assess.bodies import Anchoring, Direction, FreeBody
from brimfast.assess.demand.force import Force
from brimfast.assess.demand.vertical import Vertical
from brimfast.assess.frame.actions import RackActions
from brimfast.assess.frame.cases import ANCHORS
from brimfast.assess.frame.feet import foot_by_frame
from brimfast.assess.required import UNCONFIRMED, value_of
from brimfast.assess.sliding import pushed
from brimfast.assess.tipping import overturning, resisting_moment
from brimfast.shared.findings import Finding, Step, Value, finding, not_assessed, step
from brimfast.shared.installation.sourced import is_required

Array = NDArray[np.float64]
LOW = combinations.EARTHQUAKE_SHARE


def anchor_tension(M_OT: ArrayLike, M_R: ArrayLike, base: ArrayLike, n: ArrayLike) -> Array:
    """Tension in the anchor that pulls most (N): T = max(M_OT − M_R, 0) / (base · n).

    base from the tipping edge to the farthest anchor (m), n = Σ (d/base)² over the anchors, d from the edge:
    the anchors on the side that lifts where the others stand at the edge, 0.375 N for N spaced evenly round
    a circle. Elastic distribution about the tipping edge.
    """
    net = np.maximum(np.asarray(M_OT, float) - np.asarray(M_R, float), 0.0)
    return np.asarray(net / (np.asarray(base, float) * np.asarray(n, float)))


def _check(
    body: FreeBody,
    what: str,
    question: str,
    demand: float,
    allowable: float | None,
    anchoring: Anchoring,
    force: Force,
    steps: tuple[Step, ...],
    combination: str,
    where: str,
) -> Finding:
    id, basis = f"anchors/{body.name}/{what}{where}", f"{force.basis}; {combination}; Ω₀ on E"
    if allowable is None:
        return not_assessed(
            id,
            "stability",
            body.name,
            question,
            "force",
            f"the anchor's own published {what} value is not in the file (concrete breakout is the maker's to state)",
            basis,
            demand=demand,
            advice_key="anchor value",
            steps=steps,
            values=force.values,
        )
    said, values = value_of(f"{what} ({body.name})", allowable, anchoring.source)
    return finding(
        id,
        "stability",
        body.name,
        question,
        demand,
        allowable,
        "force",
        f"{basis}; {said}",
        advice_key="anchors",
        steps=steps,
        values=(*force.values, *values),
        details={"allowable value": f"required, {UNCONFIRMED}"} if values else {},
    )


def anchor_findings(body: FreeBody, force: Force, v: Vertical, frame: RackActions | None = None) -> list[Finding]:
    """Tension by direction and shear, allowable level, with the overstrength Ω₀ on the earthquake.

    Of a rack by its frame in the directions that balance, with the rigid body's tension to compare.
    """
    anchoring = body.anchoring
    assert anchoring is not None
    push, pushing, sloshing_values = pushed(body, force)
    force = replace(force, values=(*force.values, *sloshing_values))
    found = [_tension(body, anchoring, direction, force, v, frame) for direction in body.directions]
    found.append(_shear(body, anchoring, push, pushing, force, v, frame))
    return [*found, *_together(body, anchoring, force, found)]


def _against(anchoring: Anchoring) -> str:
    return "; against a required value" if is_required(anchoring.source) else ""


def _tension(
    body: FreeBody, anchoring: Anchoring, direction: Direction, force: Force, v: Vertical, frame: RackActions | None
) -> Finding:
    question = f"Anchor tension {direction.name} (each, into {anchoring.into}{_against(anchoring)})"
    if direction.anchors_effective <= 0:
        return not_assessed(
            f"anchors/{body.name}/tension {direction.name}",
            "stability",
            body.name,
            question,
            "force",
            "fewer than four anchors: their places decide, and the file does not have them",
            advice_key="anchor value",
        )
    W, over = body.weight, overturning(body, direction, force)
    M_OT = LOW * force.overstrength * over.moment
    M_R = float(resisting_moment(W, direction.arm, float(combinations.allowable_resisting(v))))
    T = float(anchor_tension(M_OT, M_R, direction.base, direction.anchors_effective))
    steps = (
        *force.steps,
        *over.steps,
        step(
            "T",
            f"max(0.7*Omega_0*{over.formula} - max(0.6 - {v.times(LOW)}, 0)*W*arm, 0)/(base*n)",
            {
                "Omega_0": force.overstrength,
                **over.inputs,
                **v.inputs,
                "W": (W, "N"),
                "arm": (direction.arm, "m"),
                "base": (direction.base, "m"),
                "n": direction.anchors_effective,
            },
            (T, "N"),
            f"{v.source}; {force.overstrength_source} for Ω₀",
            "n: anchors that pull in full, standing at the body's edge (4 at the corners; 0.375 N on a circle)"
            + (f"; {over.note}" if over.note else ""),
        ),
    )
    way = direction.name.split()[0]
    if frame is not None and frame.balances(way) and len(frame.pick(way, ANCHORS)):
        T_frame, line = foot_by_frame(frame, "N", way, anchoring.count / len(frame.feet.where))
        # the frame carries all water as rigid
        T = max(T, T_frame) if over.sloshing_governs else T_frame
        steps = (*steps, line)
    where, combination = f" {direction.name}", combinations.allowable(v)
    return _check(body, "tension", question, T, anchoring.tension, anchoring, force, steps, combination, where)


def _shear(
    body: FreeBody,
    anchoring: Anchoring,
    push: float,
    pushing: tuple[Step, ...],
    force: Force,
    v: Vertical,
    frame: RackActions | None,
) -> Finding:
    """push: what pushes sideways (N), pushing: the lines that lead to it where that is not F."""
    V = LOW * force.overstrength * push / anchoring.count
    symbol = "F_push" if pushing else "F"
    shear = step(
        "V_anchor",
        f"0.7*Omega_0*{symbol}/n",
        {"Omega_0": force.overstrength, symbol: (push, "N"), "n": float(anchoring.count)},
        (V, "N"),
        f"{v.source}; {force.overstrength_source} for Ω₀",
    )
    steps: tuple[Step, ...] = (*force.steps, *pushing, shear)
    if frame is not None and len(frame.pick(None, ANCHORS)):
        by_frame, line = foot_by_frame(frame, "H", None, anchoring.count / len(frame.feet.where))
        steps, V = (*steps, line), max(V, by_frame)
    question = f"Anchor shear (each of {anchoring.count}, into {anchoring.into}{_against(anchoring)})"
    combination = combinations.allowable(v)
    return _check(body, "shear", question, V, anchoring.shear, anchoring, force, steps, combination, "")


def _together(body: FreeBody, anchoring: Anchoring, force: Force, found: list[Finding]) -> list[Finding]:
    """Tension and shear in one anchor: N/N_a + V/V_a at most 1.2. ACI 318-19 section 17.8.3."""
    tensions = [item.ratio for item in found if "/tension" in item.id and item.ratio is not None]
    shears = [item.ratio for item in found if item.id.endswith("/shear") and item.ratio is not None]
    if not tensions or not shears:
        return []
    both = max(tensions) + max(shears)
    line = step(
        "I",
        "r_N + r_V",
        {"r_N": max(tensions), "r_V": max(shears)},
        both,
        "ACI 318-19 section 17.8.3: at most 1.2",
        "ratios of tension and shear",
    )
    value = Value(
        "limit of tension and shear together in an anchor",
        "1.2",
        "ACI 318-19 section 17.8.3",
        "from memory",
        "ACI 318-19 section 17.8.3",
    )
    return [
        finding(
            f"anchors/{body.name}/together",
            "stability",
            body.name,
            f"Anchor tension and shear together (into {anchoring.into})",
            both,
            1.2,
            "number",
            f"{force.basis}; ACI 318-19 section 17.8.3",
            advice_key="anchors",
            steps=(line,),
            values=(*force.values, value),
        )
    ]
