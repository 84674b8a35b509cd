"""Do the fasteners between two racks that stand beam against beam hold them together?"""

from __future__ import annotations

import math

import numpy as np

from brimfast.assess.frame import lines as frame_lines
from brimfast.assess.frame.cases import ALLOWABLE
from brimfast.assess.joints.capacity import FastenerCapacity, Sides, lateral
from brimfast.assess.joints.case import TOPIC, RackCase
from brimfast.assess.joints.pull import PullCapacity, pull_capacity
from brimfast.assess.timber.fastener import NotAssessableError
from brimfast.shared.findings import Finding, Step, finding, not_assessed, step

QUESTION = "Do the fasteners to the rack that it is joined to hold them together? (each post)"


def joined(case: RackCase) -> list[Finding]:
    """The worst post: force in the plane of the beams, with the pull of what goes by withdrawal; shared evenly."""
    join = case.rack.joined_to
    if join is None:
        return []
    id, subject = f"joint/{case.name}/joined", f"rack {case.name}, joined to {join.rack}"
    if case.frame is None:
        return [not_assessed(id, TOPIC, subject, QUESTION, "force", f"it needs the frame: {case.why_no_frame}")]
    picks = case.frame.pick(None, *ALLOWABLE)
    if not len(picks):
        return [not_assessed(id, TOPIC, subject, QUESTION, "force", case.without_frame("along"))]
    acting, beam = case.frame.join, case.parts.beam
    try:
        sides = Sides(beam.thickness, beam.G, beam.thickness, beam.G)
        capacity = lateral(join.fasteners, sides, "earthquake", case.service())
        pull = pull_capacity(join.fasteners, capacity, beam.G, beam.G, False)
    except NotAssessableError as error:
        return [not_assessed(id, TOPIC, subject, QUESTION, "force", str(error), frame_lines.SOURCE)]
    H, V, P = (acting.total[name][:, picks] for name in ("H", "V", "P"))
    sizes, n = np.hypot(H, V), capacity.acting
    theta = np.arctan2(np.abs(V), np.abs(H))
    may = capacity.each(theta, theta) * n
    off = np.abs(P) if pull.each is not None else np.zeros_like(P)
    if pull.each is not None:
        may = pull.combine(may / n, np.arctan2(off, sizes)) * n
    total = np.hypot(sizes, off)
    place, column = (int(at) for at in np.unravel_index(int(np.argmax(total / may)), total.shape))
    number = int(picks[column])
    lines: tuple[Step, ...] = tuple(
        frame_lines.total(letter, acting, case.frame, place, number) for letter in ("H", "V", "P")
    )
    force = float(sizes[place, column])
    pair = {"H": (float(H[place, column]), "N"), "V": (float(V[place, column]), "N")}
    lines += (step("R", "sqrt(H**2 + V**2)", dict(pair), (force, "N"), "statics", "in the plane of the beams"),)
    angle = float(theta[place, column])
    mode, steps = capacity.steps(angle, angle)
    each, allowed, demand = float(capacity.each(angle, angle)), float(may[place, column]), float(total[place, column])
    after = _allowed(pull, capacity, n, each, allowed, force, float(P[place, column]), demand)
    return [
        finding(
            id,
            TOPIC,
            subject,
            QUESTION,
            demand,
            allowed,
            "force",
            f"{case.force.basis}; {frame_lines.SOURCE}; {capacity.basis}",
            advice_key="joined",
            steps=(*case.force.steps, *lines, *steps, *after),
            values=(*case.force.values, *capacity.values, *pull.values),
            details={"governs": mode, "worst": acting.where[place], "pull": pull.reason},
        )
    ]


def _allowed(
    pull: PullCapacity,
    capacity: FastenerCapacity,
    n: float,
    each: float,
    allowed: float,
    R: float,
    P: float,
    R_P: float,
) -> tuple[Step, ...]:
    """How n fasteners, each good for so much in the beams' plane (N), come to what they may hold of R and P (N)."""
    if pull.each is None:
        inputs: dict[str, float | tuple[float, str]] = {"n": float(n), "Z_each": (each, "N")}
        return (step("R_allow", "n*Z_each", inputs, (allowed, "N"), capacity.basis),)
    symbols: dict[str, float | tuple[float, str]] = {
        "n": float(n),
        "W_p": (pull.each, "N"),
        "Z_each": (each, "N"),
        "alpha": (math.atan2(abs(P), R), "rad"),
    }
    return (
        *pull.steps,
        step("R_P", "sqrt(R**2 + P**2)", {"R": (R, "N"), "P": (P, "N")}, (R_P, "N")),
        step("R_allow", f"n*{pull.expression}", symbols, (allowed, "N"), pull.source),
    )
