"""The worst fastener of all beam-to-post joints in the cases of the frame: its force, its pull, what it may carry."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from brimfast.assess.frame import lines as frame_lines
from brimfast.assess.frame.actions import RackActions
from brimfast.assess.frame.cases import ALLOWABLE
from brimfast.assess.joints.beam_joint import WHERE, BeamJoint
from brimfast.assess.joints.case import TOPIC, UPRIGHT
from brimfast.assess.joints.group_lines import group_lines
from brimfast.assess.joints.pull import PullCapacity, pull_capacity
from brimfast.assess.joints.stiffness import beam_joint_stiffness
from brimfast.assess.timber.fastener import NotAssessableError
from brimfast.assess.timber.group import group_forces
from brimfast.shared.findings import Finding, Step, finding, step

Array = NDArray[np.float64]
Indices = NDArray[np.int64]


def by_frame(
    it: BeamJoint,
    acts: RackActions,
    direction: str,
    id: str,
    question: str,
    plain: tuple[Step, ...],
    statics: float,
    most: float,
) -> Finding:
    """Every joint in every case of a direction; each fastener by the elastic method at its own angle to the grain.

    H along, V upright and M in the joint's plane, P off the post, shared evenly. A rack that twists has all of
    them whichever way it is pushed. plain: the lines of plain statics, statics: its force on the worst fastener,
    most: that force if all of the push met one joint.
    """
    case, joints, n = it.case, acts.joints, it.places
    on = _on_joints(it, acts, direction)
    picks, added, forces, sizes, theta = on.picks, on.added, on.forces, on.sizes, on.theta
    H, V, M, P = on.total
    before = (*case.force.steps, *frame_lines.to_compare(plain))
    name = f"joint/{case.name}/{WHERE}/{id}"
    try:
        capacity = it.capacity("earthquake", along=True)
        each = capacity.each(theta, UPRIGHT - theta)
        pull = pull_capacity(it.joint.fasteners, capacity, case.parts.post.G, case.parts.beam.G, case.rack.paired)
    except NotAssessableError as error:
        joint, case_number, _ = (int(i) for i in np.unravel_index(int(np.argmax(sizes)), sizes.shape))
        lines = _totals(acts, joint, int(picks[case_number]), added)
        return case.outside(id, WHERE, question, float(sizes.max()), str(error), (*before, *lines))
    off = (np.abs(P) / n if pull.each is not None else np.zeros_like(P))[..., None]
    resultants = np.hypot(sizes, off)
    may = pull.combine(each, np.arctan2(off, sizes)) if pull.each is not None else each
    place, column, worst = (int(i) for i in np.unravel_index(int(np.argmax(resultants / may)), sizes.shape))
    number = int(picks[column])
    load = acts.cases[number]
    angle, size = float(theta[place, column, worst]), float(sizes[place, column, worst])
    mode, steps = capacity.steps(angle, UPRIGHT - angle)
    nails = capacity.acting / capacity.fasteners.count
    demand, allowed = float(resultants[place, column, worst]), float(may[place, column, worst]) * nails
    lines = (
        *_totals(acts, place, number, added),
        *group_lines(
            it.layout.places,
            (float(H[place, column]), float(V[place, column]), float(M[place, column])),
            forces[place, column, worst],
            worst,
            f"fastener {worst + 1} of {it.places}, the worst; {it.layout.note}",
        ),
    )
    after: tuple[Step, ...] = ()
    if pull.each is not None:
        after = _with_pull(
            pull,
            size,
            float(P[place, column]),
            float(off[place, column, 0]),
            float(each[place, column, worst]),
            n,
            demand,
            allowed,
        )
    turn = beam_joint_stiffness(case.rack, case.parts, it.joint).rotation
    turned = abs(float(M[place, column])) > 0 and not case.rack.braced("along")
    return finding(
        name,
        TOPIC,
        case.subject(WHERE),
        question,
        demand,
        allowed,
        "force",
        f"{case.force.basis}; {frame_lines.SOURCE}; {capacity.basis}; {load.words}",
        advice_key="joint earthquake" if turned else "joint across",
        steps=(*before, *lines, *steps, *after),
        values=(*case.force.values, *capacity.values, *pull.values),
        details={
            "governs": mode,
            "fasteners": f"worst of {n}, {joints.where[place]}",
            "pull": pull.reason,
            "load to the beam's grain": f"{math.degrees(angle):.0f}°",
            "rotational stiffness by slip (EN 1995-1-1 Table 7.1)": f"{turn / 1000:.3g} kN·m/rad",
            **frame_lines.compared(demand, statics, most),
            **it.layout.details,
        },
    )


@dataclass(frozen=True)
class _OnJoints:
    """What acts on every joint (place, case) and on each of its fasteners (place, case, fastener).

    added: what plain statics puts on the worst joint beyond the frame (N), total: H, V with it, M and P; forces on the
    fasteners along and upright, their sizes (N) and their angles to the beam's grain (rad).
    """

    picks: Indices
    added: float
    total: tuple[Array, Array, Array, Array]
    forces: Array
    sizes: Array
    theta: Array


def _on_joints(it: BeamJoint, acts: RackActions, direction: str) -> _OnJoints:
    joints, picks = acts.joints, acts.pick(direction, *ALLOWABLE)
    share = np.array([acts.cases[number].weight for number in picks])
    added = max(it.case.gravity.joint_worst - float(joints.by_weight["V"].max()), 0.0)
    H, V, M, P = (joints.total[name][:, picks] for name in ("H", "V", "M", "P"))
    V = V + share * added
    forces = group_forces(H, V, M, it.layout.places)
    sizes = np.hypot(forces[..., 0], forces[..., 1])
    theta = np.arctan2(np.abs(forces[..., 1]), np.abs(forces[..., 0]))
    return _OnJoints(picks, added, (H, V, M, P), forces, sizes, theta)


def _totals(acts: RackActions, place: int, number: int, added: float) -> tuple[Step, ...]:
    """The joint's forces in one case, and what plain statics adds to the weight on it."""
    joints, load = acts.joints, acts.cases[number]
    lines = []
    for letter, unit in (("H", "N"), ("V", "N"), ("M", "N·m"), ("P", "N")):
        lines.append(frame_lines.total(letter, joints, acts, place, number, unit))
        if letter == "V" and added > 0:
            total = float(joints.total["V"][place, number])
            inputs: dict[str, float | tuple[float, str]] = {"V": (total, "N"), "v": load.weight, "R_x": (added, "N")}
            more = "R_x: what plain statics puts on the worst joint beyond the frame: a post may settle"
            lines.append(step("V", "V + v*R_x", inputs, (total + load.weight * added, "N"), "safe side", more))
    return tuple(lines)


def _with_pull(
    pull: PullCapacity, size: float, P: float, off: float, each: float, n: int, demand: float, allowed: float
) -> tuple[Step, ...]:
    assert pull.each is not None
    alpha = math.atan2(off, size)
    symbols: dict[str, float | tuple[float, str]] = {
        "W_p": (pull.each, "N"),
        "Z_each": (each, "N"),
        "alpha": (alpha, "rad"),
    }
    return (
        *pull.steps,
        step("P_1", "abs(P)/n", {"P": (P, "N"), "n": float(n)}, (off, "N"), "shared evenly"),
        step("R_2", "sqrt(R_1**2 + P_1**2)", {"R_1": (size, "N"), "P_1": (off, "N")}, (demand, "N")),
        step("R_allow", pull.expression, symbols, (allowed, "N"), pull.source),
    )
