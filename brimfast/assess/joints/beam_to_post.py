"""Do the fasteners that hold the beams to the posts carry weight and earthquake?

Plain statics, stated in each finding. Sideways force is strength level times 0.7 (allowable level).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from brimfast.assess import combinations
from brimfast.assess.frame import lines as frame_lines
from brimfast.assess.frame.actions import RackActions
from brimfast.assess.joints.capacity import FastenerCapacity, Sides, lateral
from brimfast.assess.joints.case import TOPIC, UPRIGHT, RackCase
from brimfast.assess.joints.layout import Layout, beam_to_post_layout
from brimfast.assess.joints.on_top import on_top
from brimfast.assess.joints.pull import PullCapacity, pull_capacity
from brimfast.assess.joints.statics import shared, sideways_shares
from brimfast.assess.joints.stiffness import beam_joint_stiffness
from brimfast.assess.timber.eurocode import embedment, single_shear_modes, yield_moment
from brimfast.assess.timber.fastener import NotAssessableError
from brimfast.assess.timber.group import group_forces
from brimfast.shared.findings import Finding, Step, finding, not_assessed, step
from brimfast.shared.installation.joint import Joint

WHERE = "beam to post"
LOW = combinations.EARTHQUAKE_SHARE


@dataclass(frozen=True)
class _Joint:
    """The joint with its layout and its capacity by load duration."""

    case: RackCase
    joint: Joint
    layout: Layout

    def capacity(self, duration: str, along: bool = False) -> FastenerCapacity:
        parts, rack = self.case.parts, self.case.rack
        sides = Sides(parts.beam.thickness, parts.beam.G, parts.post.thickness, parts.post.G, rack.paired)
        return lateral(
            self.joint.fasteners,
            sides,
            duration,
            self.case.service(self.joint),
            C_g=self.layout.C_g,
            C_Delta=self.layout.C_Delta_along if along else self.layout.C_Delta,
        )

    @property
    def places(self) -> int:
        return int(self.layout.places.shape[0])


def beam_to_post(case: RackCase) -> list[Finding]:
    """Weight first, then the earthquake along and across, then the fasteners' distances."""
    joint = case.joints.get(WHERE)
    if joint is None:
        return [case.missing(WHERE, "how the beams are fastened to the posts is not in the file")]
    layout = beam_to_post_layout(case.rack, case.parts, joint.fasteners, leans=not case.rack.braced("along"))
    it = _Joint(case, joint, layout)
    if case.rack.beam_seat == "on top":
        return [_weight(it), *(on_top(case, joint, direction) for direction in ("along", "across"))]
    found = [_weight(it), _along(it), _across(it)]
    found.extend(layout.findings(f"joint/{case.name}/{WHERE}", case.subject(WHERE)))
    return found


def _weight(it: _Joint) -> Finding:
    case, gravity = it.case, it.case.gravity
    question = "Do the fasteners carry the full weight, day and night?"
    line = step(
        "R",
        "R_simple + R_added",
        {"R_simple": (gravity.joint_simple, "N"), "R_added": (gravity.joint_added, "N")},
        (gravity.joint_worst, "N"),
        "plain statics of simple spans, each side half; R_added: three-moment equation",
        f"worst at post {gravity.joint_worst_post} from the left; R_added is what a beam in one piece adds there",
    )
    if case.rack.beam_seat == "on top":
        return not_assessed(
            f"joint/{case.name}/{WHERE}/gravity",
            TOPIC,
            case.subject(WHERE),
            question,
            "force",
            "the beam stands on the post: the weight goes down by bearing (see Timber), not through the fasteners",
            demand=gravity.joint_worst,
            steps=(line,),
        )
    demand, lines, details = _heavier(case, line)
    try:
        capacity = it.capacity("permanent")
    except NotAssessableError as error:
        return case.outside("gravity", WHERE, question, demand, str(error), lines)
    return shared(
        f"joint/{case.name}/{WHERE}/gravity",
        case.subject(WHERE),
        question,
        demand,
        capacity,
        UPRIGHT,
        0.0,
        lines,
        "D",
        "joint gravity",
        {**details, **it.layout.details, **_second_opinion(it)},
    )


def _heavier(case: RackCase, line: Step) -> tuple[float, tuple[Step, ...], dict[str, str]]:
    """The weight on the worst joint: by plain statics or by the frame, whichever is more, as a post may settle.

    Beams of one bay each are simple spans, for which plain statics is exact.
    """
    statics = case.gravity.joint_worst
    if case.frame is None or case.rack.beam_runs == "each bay":
        return statics, (line,), {}
    joints = case.frame.joints
    place = int(np.argmax(joints.by_weight["V"]))
    by_frame = float(joints.by_weight["V"][place])
    larger = max(statics, by_frame)
    inputs: dict[str, float | tuple[float, str]] = {"R": (statics, "N"), "R_frame": (by_frame, "N")}
    note = f"R_frame: {joints.where[place]}, {frame_lines.SOURCE}"
    more = step("R_D", "max(R, R_frame)", inputs, (larger, "N"), "the larger counts", note)
    return larger, (line, more), frame_lines.compared(by_frame, statics, case.gravity.side_weight)


def _second_opinion(it: _Joint) -> dict[str, str]:
    """For bolts in strength classes: EN 1995-1-1's characteristic value of one bolt, no rope effect, along the grain."""
    beam, post, fasteners = it.case.parts.beam, it.case.parts.post, it.joint.fasteners
    both = all(member.species.startswith("C") for member in (beam, post))
    if not both or fasteners.kind != "through-bolt" or fasteners.diameter is None:
        return {}
    d = fasteners.diameter * 1000
    f_1, f_2 = (float(embedment(member.G * 1000, d)) for member in (beam, post))
    M_y = float(yield_moment(400.0, d))
    modes = single_shear_modes(f_1, f_2, beam.thickness * 1000, post.thickness * 1000, d, M_y)
    mode, value = min(((name, float(force)) for name, force in modes.items()), key=lambda item: item[1])
    return {"EN 1995-1-1, one bolt of 4.6, characteristic, along the grain": f"{value / 1000:.2f} kN (mode {mode})"}


def _along(it: _Joint) -> Finding:
    """Each fastener by the elastic method, at its own angle to the grain; the worst is reported."""
    acts = it.case.acts("along")
    return _along_by_statics(it) if acts is None else _along_by_frame(it, acts)


QUESTION_ALONG = "Do the fasteners carry weight and earthquake along the rack together?"
QUESTION_ACROSS = "Do the fasteners carry weight and earthquake across the rack together?"


def _along_by_statics(it: _Joint) -> Finding:
    case, gravity = it.case, it.case.gravity
    question = QUESTION_ALONG
    id = f"joint/{case.name}/{WHERE}/earthquake"
    share, moment, lines = sideways_shares(case)
    if moment > 0 and not float((it.layout.places**2).sum()):
        return finding(
            id,
            TOPIC,
            case.subject(WHERE),
            question,
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
    vertical = float(combinations.allowable_down(case.S_DS)) * gravity.joint_worst + LOW * case.couple("along")
    forces = group_forces(LOW * share, vertical, LOW * moment, it.layout.places)
    sizes = np.hypot(forces[:, 0], forces[:, 1])
    theta_side = np.arctan2(np.abs(forces[:, 1]), np.abs(forces[:, 0]))
    worst = int(np.argmax(sizes))
    try:
        capacity = it.capacity("earthquake", along=True)
        each = capacity.each(theta_side, UPRIGHT - theta_side)
        worst = int(np.argmax(sizes / each))
    except NotAssessableError as error:
        return case.outside("earthquake", WHERE, question, float(sizes[worst]), str(error), (*case.force.steps, *lines))
    lines = (*lines, *_worst_lines(it, share, moment, vertical, h_e, forces[worst], worst))
    angle = float(theta_side[worst])
    mode, steps = capacity.steps(angle, UPRIGHT - angle)
    nails = capacity.acting / capacity.fasteners.count
    stiffness = beam_joint_stiffness(case.rack, case.parts, it.joint).rotation
    return finding(
        id,
        TOPIC,
        case.subject(WHERE),
        question,
        float(sizes[worst]),
        float(each[worst]) * nails,
        "force",
        f"{case.force.basis}; {capacity.basis}; {combinations.ALLOWABLE_DOWN}",
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


def _worst_lines(
    it: _Joint, share: float, moment: float, vertical: float, h_e: float, force: np.ndarray, worst: int
) -> tuple[Step, ...]:
    case, places = it.case, it.layout.places
    x, y = float(places[worst, 0]), float(places[worst, 1])
    polar = float((places**2).sum())
    inputs: dict[str, float | tuple[float, str]] = {"V": (share, "N"), "n": float(it.places)}
    across, up = "0.7*V/n", "V_g/n"
    up_inputs: dict[str, float | tuple[float, str]] = {"V_g": (vertical, "N"), "n": float(it.places)}
    if moment > 0:
        extra: dict[str, float | tuple[float, str]] = {"M": (moment, "N·m"), "I_r": (polar, "m²")}
        across, up = "0.7*V/n - 0.7*M*y/I_r", "V_g/n + 0.7*M*x/I_r"
        inputs |= {**extra, "y": (y, "m")}
        up_inputs |= {**extra, "x": (x, "m")}
    note = f"fastener {worst + 1} of {it.places}, the worst; {it.layout.note}"
    first = step(
        "V_g",
        "(1 + 0.14*S_DS)*R + 0.7*F*h_e/L/2",
        {
            "S_DS": case.S_DS,
            "R": (case.gravity.joint_worst, "N"),
            "F": (case.force.horizontal, "N"),
            "h_e": (h_e, "m"),
            "L": (case.rack.length, "m"),
        },
        (vertical, "N"),
        combinations.SOURCE,
        f"{combinations.ALLOWABLE_DOWN}; h_e: height over which the tipping couple passes through the joints, taken by "
        "the end posts; set on the joint with most weight",
    )
    H_1, V_1 = float(force[0]), float(force[1])
    return (
        first,
        step("H_1", across, inputs, (H_1, "N"), "elastic fastener group", note),
        step("V_1", up, up_inputs, (V_1, "N"), "elastic fastener group"),
        step("R_1", "sqrt(H_1**2 + V_1**2)", {"H_1": (H_1, "N"), "V_1": (V_1, "N")}, (math.hypot(H_1, V_1), "N")),
    )


def _across(it: _Joint) -> Finding:
    """Weight and tipping couple across the rack upright, and the pull of the beam off its post."""
    case = it.case
    V, P, lines = _across_by_statics(case)
    details: dict[str, str] = {}
    try:
        capacity = it.capacity("earthquake")
        pull = pull_capacity(it.joint.fasteners, capacity, case.parts.post.G, case.parts.beam.G, case.rack.paired)
    except NotAssessableError as error:
        return case.outside("across", WHERE, QUESTION_ACROSS, V, str(error), (*case.force.steps, *lines))
    acts = case.acts("across")
    if acts is not None:
        V, P, lines, details = _across_by_frame(case, acts, capacity, pull, (V, P), lines)
    return _combined(it, capacity, pull, V, P, (*case.force.steps, *lines), QUESTION_ACROSS, details)


def _across_by_statics(case: RackCase) -> tuple[float, float, tuple[Step, ...]]:
    gravity = case.gravity
    h_e, base, share = case.couple_height("across"), case.across, case.share_of_worst()
    F = case.force.horizontal
    V = float(combinations.allowable_down(case.S_DS)) * gravity.joint_worst + LOW * case.couple("across")
    P = LOW * F * share / 2
    lines = (
        step(
            "V_j",
            "(1 + 0.14*S_DS)*R + 0.7*F*h_e/base*k_j",
            {
                "S_DS": case.S_DS,
                "R": (gravity.joint_worst, "N"),
                "F": (F, "N"),
                "h_e": (h_e, "m"),
                "base": (base, "m"),
                "k_j": share,
            },
            (V, "N"),
            combinations.SOURCE,
            f"{combinations.ALLOWABLE_DOWN}; k_j: the joint's share of its side's weight",
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


def _across_by_frame(
    case: RackCase,
    acts: RackActions,
    capacity: FastenerCapacity,
    pull: PullCapacity,
    statics: tuple[float, float],
    before: tuple[Step, ...],
) -> tuple[float, float, tuple[Step, ...], dict[str, str]]:
    """Upright force and pull of the worst joint and case, set against plain statics."""
    joints, picks = acts.joints, acts.pick("across", "down", "up")
    V, P = np.abs(joints.total["V"][:, picks]), np.abs(joints.total["P"][:, picks])
    R = np.hypot(V, P)
    each = float(capacity.each(UPRIGHT, 0.0))
    may = np.full_like(R, each) if pull.each is None else pull.combine(each, np.arctan2(P, V))
    place, column = np.unravel_index(int(np.argmax((V if pull.each is None else R) / may)), R.shape)
    number = int(picks[column])
    load = acts.cases[number]
    note = f"{joints.where[place]}, {acts.push_words(number)}; {frame_lines.WORDS[load.level]}"
    lines = tuple(
        frame_lines.total(
            letter, load, float(joints.by_weight[letter][place]), float(joints.total[letter][place, number]), "N", note
        )
        for letter in ("V", "P")
    )
    more = (
        step("V_j", "abs(V)", {"V": (float(joints.total["V"][place, number]), "N")}, (float(V[place, column]), "N")),
        step("P_j", "abs(P)", {"P": (float(joints.total["P"][place, number]), "N")}, (float(P[place, column]), "N")),
    )
    F = LOW * case.force.horizontal
    most = math.hypot(load.weight * case.gravity.joint_worst + F * case.body.height / case.across, F)
    details = frame_lines.compared(float(R[place, column]), math.hypot(*statics), most)
    return float(V[place, column]), float(P[place, column]), (*frame_lines.to_compare(before), *lines, *more), details


def _along_by_frame(it: _Joint, acts: RackActions) -> Finding:
    """Every joint in every case along the rack; each fastener by the elastic method at its own angle to the grain."""
    case = it.case
    id = f"joint/{case.name}/{WHERE}/earthquake"
    share, moment, before = sideways_shares(case)
    joints, picks = acts.joints, acts.pick("along", "down", "up")
    H, V, M = (joints.total[name][:, picks] for name in ("H", "V", "M"))
    forces = group_forces(H, V, M, it.layout.places)
    sizes = np.hypot(forces[..., 0], forces[..., 1])
    theta = np.arctan2(np.abs(forces[..., 1]), np.abs(forces[..., 0]))
    lines = (*case.force.steps, *frame_lines.to_compare(before))
    try:
        capacity = it.capacity("earthquake", along=True)
        each = capacity.each(theta, UPRIGHT - theta)
    except NotAssessableError as error:
        place, column, _ = np.unravel_index(int(np.argmax(sizes)), sizes.shape)
        everything = (*lines, *_totals(acts, int(place), int(picks[column])))
        return case.outside("earthquake", WHERE, QUESTION_ALONG, float(sizes.max()), str(error), everything)
    place, column, worst = np.unravel_index(int(np.argmax(sizes / each)), sizes.shape)
    number = int(picks[column])
    load = acts.cases[number]
    totals = _totals(acts, int(place), number)
    size, angle = float(sizes[place, column, worst]), float(theta[place, column, worst])
    mode, steps = capacity.steps(angle, UPRIGHT - angle)
    nails = capacity.acting / capacity.fasteners.count
    vertical = float(combinations.allowable_down(case.S_DS)) * case.gravity.joint_worst + LOW * case.couple("along")
    extent = float((it.layout.places**2).sum())
    of_statics = group_forces(LOW * share, vertical, LOW * moment if extent else 0.0, it.layout.places)
    F = LOW * case.force.horizontal
    couple = F * case.body.height / case.rack.length
    most = group_forces(F, vertical + couple, F * case.weight.beam_centres[-1] if extent else 0.0, it.layout.places)
    turn = beam_joint_stiffness(case.rack, case.parts, it.joint).rotation
    return finding(
        id,
        TOPIC,
        case.subject(WHERE),
        QUESTION_ALONG,
        size,
        float(each[place, column, worst]) * nails,
        "force",
        f"{case.force.basis}; {frame_lines.SOURCE}; {capacity.basis}; {frame_lines.WORDS[load.level]}",
        advice_key="joint earthquake" if abs(float(M[place, column])) > 0 else "joint across",
        steps=(
            *lines,
            *totals,
            *_group_lines(
                it, H[place, column], V[place, column], M[place, column], forces[place, column, worst], int(worst)
            ),
            *steps,
        ),
        values=(*case.force.values, *capacity.values),
        details={
            "governs": mode,
            "fasteners": f"worst of {it.places}, {joints.where[place]}",
            "load to the beam's grain": f"{math.degrees(angle):.0f}°",
            "rotational stiffness by slip (EN 1995-1-1 Table 7.1)": f"{turn / 1000:.3g} kN·m/rad",
            **frame_lines.compared(
                size,
                float(np.hypot(of_statics[..., 0], of_statics[..., 1]).max()),
                float(np.hypot(most[..., 0], most[..., 1]).max()),
            ),
            **it.layout.details,
        },
    )


def _totals(acts: RackActions, place: int, number: int) -> tuple[Step, ...]:
    joints, load = acts.joints, acts.cases[number]
    note = f"{joints.where[place]}, {acts.push_words(number)}; {frame_lines.WORDS[load.level]}"
    return tuple(
        frame_lines.total(
            letter, load, float(joints.by_weight[letter][place]), float(joints.total[letter][place, number]), unit, note
        )
        for letter, unit in (("H", "N"), ("V", "N"), ("M", "N·m"))
    )


def _group_lines(it: _Joint, H: float, V: float, M: float, force: np.ndarray, worst: int) -> tuple[Step, ...]:
    """How the joint's forces come down to its worst fastener."""
    places = it.layout.places
    x, y = float(places[worst, 0]), float(places[worst, 1])
    polar = float((places**2).sum())
    across, up = "H/n", "V/n"
    inputs: dict[str, float | tuple[float, str]] = {"H": (float(H), "N"), "n": float(it.places)}
    up_inputs: dict[str, float | tuple[float, str]] = {"V": (float(V), "N"), "n": float(it.places)}
    if polar > 0:
        extra: dict[str, float | tuple[float, str]] = {"M": (float(M), "N·m"), "I_r": (polar, "m²")}
        across, up = "H/n - M*y/I_r", "V/n + M*x/I_r"
        inputs |= {**extra, "y": (y, "m")}
        up_inputs |= {**extra, "x": (x, "m")}
    note = f"fastener {worst + 1} of {it.places}, the worst; {it.layout.note}"
    H_1, V_1 = float(force[0]), float(force[1])
    return (
        step("H_1", across, inputs, (H_1, "N"), "elastic fastener group", note),
        step("V_1", up, up_inputs, (V_1, "N"), "elastic fastener group"),
        step("R_1", "sqrt(H_1**2 + V_1**2)", {"H_1": (H_1, "N"), "V_1": (V_1, "N")}, (math.hypot(H_1, V_1), "N")),
    )


def _combined(
    it: _Joint,
    capacity: FastenerCapacity,
    pull: PullCapacity,
    V: float,
    P: float,
    lines: tuple[Step, ...],
    question: str,
    more_details: dict[str, str],
) -> Finding:
    case = it.case
    id = f"joint/{case.name}/{WHERE}/across"
    if pull.each is None:
        return shared(
            id,
            case.subject(WHERE),
            question,
            V,
            capacity,
            UPRIGHT,
            0.0,
            lines,
            f"{combinations.ALLOWABLE_DOWN}; {pull.reason}",
            "joint across",
            {"pull": pull.reason, **more_details},
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
        question,
        resultant,
        n * together,
        "force",
        f"{case.force.basis}; {capacity.basis}; {pull.source}; {combinations.ALLOWABLE_DOWN}",
        advice_key="joint across",
        steps=(*lines, *steps, *pull.steps, *more),
        values=(*capacity.values, *pull.values),
        details={"governs": mode, "fasteners": f"{capacity.acting}", "pull": pull.reason, **more_details},
    )
