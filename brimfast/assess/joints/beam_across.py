"""Do the fasteners that hold the beams carry weight and earthquake across the rack together?"""

from __future__ import annotations

import math

from brimfast.assess import combinations
from brimfast.assess.joints.beam_by_frame import by_frame
from brimfast.assess.joints.beam_joint import WHERE, BeamJoint
from brimfast.assess.joints.capacity import FastenerCapacity
from brimfast.assess.joints.case import TOPIC, UPRIGHT, RackCase
from brimfast.assess.joints.pull import PullCapacity, pull_capacity
from brimfast.assess.joints.statics import shared
from brimfast.assess.timber.fastener import NotAssessableError
from brimfast.shared.findings import Finding, Step, finding, step

QUESTION = "Do the fasteners carry weight and earthquake across the rack together?"
LOW = combinations.EARTHQUAKE_SHARE


def across(it: BeamJoint) -> Finding:
    """Weight and tipping couple across the rack upright, and the pull of the beam off its post."""
    case = it.case
    V, P, lines = _by_statics(case)
    acts = case.acts("across")
    if acts is not None:
        F, n = LOW * case.force.horizontal, it.places
        couple = F * case.body.height / case.across
        most = math.hypot(float(combinations.allowable_down(case.vertical)) * case.gravity.joint_worst + couple, F) / n
        return by_frame(it, acts, "across", "across", QUESTION, lines, math.hypot(V, P) / n, most)
    try:
        capacity = it.capacity("earthquake")
        pull = pull_capacity(it.joint.fasteners, capacity, case.parts.post.G, case.parts.beam.G, case.rack.paired)
    except NotAssessableError as error:
        return case.outside("across", WHERE, QUESTION, V, str(error), (*case.force.steps, *lines))
    return _combined(it, capacity, pull, V, P, (*case.force.steps, *lines))


def _by_statics(case: RackCase) -> tuple[float, float, tuple[Step, ...]]:
    gravity = case.gravity
    h_e, base, share = case.couple_height("across"), case.across, case.share_of_worst()
    F = case.force.horizontal
    V = float(combinations.allowable_down(case.vertical)) * gravity.joint_worst + LOW * case.couple("across")
    P = LOW * F * share / 2
    lines = (
        step(
            "V_j",
            f"(1 + {case.vertical.times(LOW)})*R + 0.7*F*h_e/base*k_j",
            {
                **case.vertical.inputs,
                "R": (gravity.joint_worst, "N"),
                "F": (F, "N"),
                "h_e": (h_e, "m"),
                "base": (base, "m"),
                "k_j": share,
            },
            (V, "N"),
            case.vertical.source,
            f"{combinations.allowable_down_words(case.vertical)}; k_j: the joint's share of its side's weight",
        ),
        step(
            "P_j",
            "0.7*F*k_j/2",
            {"F": (F, "N"), "k_j": share},
            (P, "N"),
            "plain statics: half of the joint's share on either side of the rack",
            "pull of the beam off its post",
        ),
    )
    return V, P, lines


def _combined(
    it: BeamJoint,
    capacity: FastenerCapacity,
    pull: PullCapacity,
    V: float,
    P: float,
    lines: tuple[Step, ...],
) -> Finding:
    case = it.case
    id = f"joint/{case.name}/{WHERE}/across"
    if pull.each is None:
        return shared(
            id,
            case.subject(WHERE),
            QUESTION,
            V,
            capacity,
            UPRIGHT,
            0.0,
            lines,
            f"{combinations.allowable_down_words(case.vertical)}; {pull.reason}",
            "joint across",
            {"pull": pull.reason},
        )
    each = float(capacity.each(UPRIGHT, 0.0))
    mode, steps = capacity.steps(UPRIGHT, 0.0)
    n = float(capacity.acting)
    alpha, resultant = math.atan2(P, V), math.hypot(V, P)
    together = float(pull.combine(each, alpha))
    symbols: dict[str, float | tuple[float, str]] = {
        "W_p": (pull.each, "N"),
        "Z_each": (each, "N"),
        "alpha": (alpha, "rad"),
        "n": n,
    }
    more = (
        step("R_j", "sqrt(V_j**2 + P_j**2)", {"V_j": (V, "N"), "P_j": (P, "N")}, (resultant, "N")),
        step("R_allow", f"n*{pull.expression}", symbols, (n * together, "N"), pull.source),
    )
    return finding(
        id,
        TOPIC,
        case.subject(WHERE),
        QUESTION,
        resultant,
        n * together,
        "force",
        f"{case.force.basis}; {capacity.basis}; {pull.source}; {combinations.allowable_down_words(case.vertical)}",
        advice_key="joint across",
        steps=(*lines, *steps, *pull.steps, *more),
        values=(*capacity.values, *pull.values),
        details={"governs": mode, "fasteners": f"{capacity.acting}", "pull": pull.reason},
    )
