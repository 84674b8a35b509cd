"""Do the fasteners that hold the beams carry weight and earthquake along the rack together?"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from brimfast.assess import combinations
from brimfast.assess.frame.actions import RackActions
from brimfast.assess.joints.beam_by_frame import by_frame
from brimfast.assess.joints.beam_joint import WHERE, BeamJoint
from brimfast.assess.joints.case import TOPIC, UPRIGHT
from brimfast.assess.joints.group_lines import group_lines
from brimfast.assess.joints.statics import sideways_shares
from brimfast.assess.joints.stiffness import beam_joint_stiffness
from brimfast.assess.timber.fastener import NotAssessableError
from brimfast.assess.timber.group import group_forces
from brimfast.shared.findings import Finding, Step, finding, step

Array = NDArray[np.float64]
QUESTION = "Do the fasteners carry weight and earthquake along the rack together?"
LOW = combinations.EARTHQUAKE_SHARE
WAYS = np.array([1.0, -1.0])  # the push to the right, and to the left


def along(it: BeamJoint) -> Finding:
    """Each fastener by the elastic method, at its own angle to the grain; the worst is reported."""
    acts = it.case.acts("along")
    return _by_statics(it) if acts is None else _by_frame(it, acts)


def _by_statics(it: BeamJoint) -> Finding:
    case, gravity = it.case, it.case.gravity
    id = f"joint/{case.name}/{WHERE}/earthquake"
    share, moment, lines = sideways_shares(case)
    if moment > 0 and not float((it.layout.places**2).sum()):
        return finding(
            id,
            TOPIC,
            case.subject(WHERE),
            QUESTION,
            LOW * share,
            0.0,
            "force",
            f"{case.force.basis}; plain statics",
            reason="a single fastener, or fasteners in one place, hold no moment: the post hinges and the rack leans",
            advice_key="joint earthquake",
            steps=(*case.force.steps, *lines),
            values=case.force.values,
        )
    h_e = case.couple_height("along")
    vertical = float(combinations.allowable_down(case.vertical)) * gravity.joint_worst + LOW * case.couple("along")
    ways = _either_way(it, LOW * share, vertical, LOW * moment)
    sizes, theta_side = np.hypot(ways[..., 0], ways[..., 1]), np.arctan2(np.abs(ways[..., 1]), np.abs(ways[..., 0]))
    try:
        capacity = it.capacity("earthquake", along=True)
        each = capacity.each(theta_side, UPRIGHT - theta_side)
    except NotAssessableError as error:
        return case.outside("earthquake", WHERE, QUESTION, float(sizes.max()), str(error), (*case.force.steps, *lines))
    way, worst = (int(index) for index in np.unravel_index(int(np.argmax(sizes / each)), sizes.shape))
    sign = float(WAYS[way])
    lines = (*lines, *_worst_lines(it, sign * share, sign * moment, vertical, h_e, ways[way, worst], worst))
    angle = float(theta_side[way, worst])
    mode, steps = capacity.steps(angle, UPRIGHT - angle)
    nails = capacity.acting / capacity.fasteners.count
    stiffness = beam_joint_stiffness(case.rack, case.parts, it.joint).rotation
    return finding(
        id,
        TOPIC,
        case.subject(WHERE),
        QUESTION,
        float(sizes[way, worst]),
        float(each[way, worst]) * nails,
        "force",
        f"{case.force.basis}; {capacity.basis}; {combinations.allowable_down_words(case.vertical)}",
        advice_key="joint earthquake" if moment > 0 else "joint across",
        steps=(*case.force.steps, *lines, *steps),
        values=(*case.force.values, *capacity.values),
        details={
            "governs": mode,
            "fasteners": f"worst of {it.places}",
            "load to the beam's grain": f"{math.degrees(angle):.0f}°",
            "rotational stiffness by slip (EN 1995-1-1 Table 7.1)": f"{stiffness / 1000:.3g} kN·m/rad",
            **it.layout.details,
        },
    )


def _either_way(it: BeamJoint, share: float, vertical: float, moment: float) -> Array:
    """Forces on the fasteners pushed to the right and to the left: of an uneven group another one is the worst."""
    return group_forces(share * WAYS, np.full(2, vertical), moment * WAYS, it.layout.places)


def _worst_lines(
    it: BeamJoint, share: float, moment: float, vertical: float, h_e: float, force: np.ndarray, worst: int
) -> tuple[Step, ...]:
    case = it.case
    other = "" if share >= 0 else "pushed the other way; "
    note = f"fastener {worst + 1} of {it.places}, the worst; {other}{it.layout.note}"
    first = step(
        "V_g",
        f"(1 + {case.vertical.times(LOW)})*R + 0.7*F*h_e/L/2",
        {
            **case.vertical.inputs,
            "R": (case.gravity.joint_worst, "N"),
            "F": (case.force.horizontal, "N"),
            "h_e": (h_e, "m"),
            "L": (case.rack.length, "m"),
        },
        (vertical, "N"),
        case.vertical.source,
        f"{combinations.allowable_down_words(case.vertical)}; h_e: height over which the tipping couple passes through the joints, taken by "
        "the end posts; set on the joint with most weight",
    )
    total = (share, vertical, moment or None)
    return (first, *group_lines(it.layout.places, total, force, worst, note, ("V", "V_g", "M"), "0.7*"))


def _by_frame(it: BeamJoint, acts: RackActions) -> Finding:
    case = it.case
    share, moment, plain = sideways_shares(case)
    vertical = float(combinations.allowable_down(case.vertical)) * case.gravity.joint_worst + LOW * case.couple("along")
    extent = float((it.layout.places**2).sum())
    of_statics = _either_way(it, LOW * share, vertical, LOW * moment if extent else 0.0)
    F = LOW * case.force.horizontal
    couple = F * case.body.height / case.rack.length
    most = _either_way(it, F, vertical + couple, F * case.weight.beam_centres[-1] if extent else 0.0)
    sizes = [float(np.hypot(item[..., 0], item[..., 1]).max()) for item in (of_statics, most)]
    return by_frame(it, acts, "along", "earthquake", QUESTION, plain, sizes[0], sizes[1])
