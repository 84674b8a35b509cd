"""Which joints are overloaded: by the weight, day and night, and with the earthquake?

Plain statics, stated in each finding. Sideways force is strength level times 0.7 (allowable level).
"""

from __future__ import annotations

import math

from brimfast.assess import combinations
from brimfast.assess.bodies import FreeBody, braced
from brimfast.assess.demand.force import Force
from brimfast.assess.gravity import Gravity
from brimfast.assess.joint_capacity import JointCapacity, joint_capacity, positions_spread
from brimfast.assess.resolve import RackParts
from brimfast.assess.timber.fastener import NotAssessableError
from brimfast.assess.timber.group import row_positions, worst_in_row
from brimfast.assess.weight import RackWeight
from brimfast.shared.findings import Finding, Step, finding, not_assessed, step
from brimfast.shared.installation.joint import Joint
from brimfast.shared.installation.model import Installation
from brimfast.shared.installation.rack import Rack

UPRIGHT = math.pi / 2
TOPIC = "joints"


def joint_findings(
    installation: Installation,
    name: str,
    parts: RackParts,
    weight: RackWeight,
    gravity: Gravity,
    body: FreeBody,
    force: Force,
    S_DS: float,
) -> list[Finding]:
    """Gravity first, then the earthquake, then what stops the rack from leaning."""
    rack = installation.racks[name]
    joints = {joint.where: joint for joint in installation.joints if joint.rack == name}
    found: list[Finding] = []
    beam_to_post = joints.get("beam to post")
    if beam_to_post is None:
        found.append(_missing(name, "beam to post", "how the beams are fastened to the posts is not in the file"))
    else:
        found.append(_beam_gravity(name, rack, parts, gravity, beam_to_post))
        found.append(_beam_earthquake(name, rack, parts, weight, gravity, body, force, S_DS, beam_to_post))
        if rack.beam_seat == "on the side":
            found.append(_beam_across(name, rack, parts, weight, gravity, body, force, S_DS, beam_to_post))
    found.extend(_joist_gravity(name, rack, parts, gravity, joints.get("joist to beam")))
    found.extend(_braces(name, rack, parts, weight, force, joints.get("brace to post")))
    found.extend(_leaning(name, rack, force, beam_to_post))
    return found


def _wet(joint: Joint, rack: Rack) -> bool:
    return rack.wet if joint.wet is None else joint.wet


def _missing(name: str, where: str, reason: str) -> Finding:
    return not_assessed(
        f"joint/{name}/{where}",
        TOPIC,
        f"rack {name}, {where}",
        "Do its fasteners carry it?",
        "force",
        reason + "; count them and add them under joints",
        advice_key="describe joint",
    )


def _outside(name: str, where: str, question: str, demand: float, reason: str, steps: tuple[Step, ...]) -> Finding:
    return not_assessed(
        f"joint/{name}/{where}/{question}",
        TOPIC,
        f"rack {name}, {where}",
        question,
        "force",
        reason,
        "NDS 2018 chapter 12",
        demand=demand,
        advice_key="describe joint",
        steps=steps,
    )


def _beam_gravity(name: str, rack: Rack, parts: RackParts, gravity: Gravity, joint: Joint) -> Finding:
    where = "beam to post"
    question = "Do the fasteners carry the full weight, day and night?"
    subject = f"rack {name}, {where}"
    share = step(
        "R",
        "R_simple + R_added",
        {"R_simple": (gravity.joint_simple, "N"), "R_added": (gravity.joint_added, "N")},
        (gravity.joint_worst, "N"),
        "plain statics of simple spans, each side half; R_added: three-moment equation",
        f"worst at post {gravity.joint_worst_post} from the left; R_added is what a beam in one piece adds there",
    )
    if rack.beam_seat == "on top":
        return not_assessed(
            f"joint/{name}/{where}/gravity",
            TOPIC,
            subject,
            question,
            "force",
            "the beam stands on the post: the weight goes down by bearing, not through the fasteners",
            demand=gravity.joint_worst,
            steps=(share,),
        )
    try:
        capacity = joint_capacity(
            joint,
            _wet(joint, rack),
            "permanent",
            parts.beam.thickness,
            parts.beam.G,
            parts.post.thickness,
            parts.post.G,
            theta_side=UPRIGHT,
            theta_main=0.0,
        )
    except NotAssessableError as error:
        return _outside(name, where, question, gravity.joint_worst, str(error), (share,))
    return _compared(
        f"joint/{name}/{where}/gravity",
        subject,
        question,
        gravity.joint_worst,
        capacity,
        (share,),
        "D",
        "joint gravity",
    )


def _compared(
    id: str,
    subject: str,
    question: str,
    demand: float,
    capacity: JointCapacity,
    steps: tuple[Step, ...],
    combination: str,
    advice_key: str,
    details: dict[str, str] | None = None,
) -> Finding:
    total = capacity.each * capacity.count
    line = step(
        "R_allow",
        "n*Z_each",
        {"n": float(capacity.count), "Z_each": (capacity.each, "N")},
        (total, "N"),
        capacity.basis,
    )
    return finding(
        id,
        TOPIC,
        subject,
        question,
        demand,
        total,
        "force",
        f"{capacity.basis}; {combination}",
        advice_key=advice_key,
        steps=(*steps, *capacity.steps, line),
        values=capacity.values,
        details={"governs": capacity.mode, "fasteners": f"{capacity.count}", **(details or {})},
    )


def sideways_shares(rack: Rack, weight: RackWeight, force: Force) -> tuple[float, float, tuple[Step, ...]]:
    """Sideways force (N) and moment (N·m) on one beam-to-post joint along the rack, strength level.

    Braced on both faces: each face takes half, and the joint at a braced bay hands its whole share to the
    brace; no moment. Otherwise all posts share, hinged at the foot: moment = share × height of the beam.
    """
    F = force.horizontal
    if braced(rack, "along"):
        counts = [sum(1 for brace in rack.braces if brace.face == face) for face in ("front", "back")]
        bays = float(min(counts))
        share = F / 2 / bays
        line = step(
            "V",
            "F/2/n_b",
            {"F": (F, "N"), "n_b": bays},
            (share, "N"),
            "plain statics: each face half; the braced bays of the face share",
        )
        return share, 0.0, (line,)
    share = F / rack.posts
    moment = share * weight.beam_centre
    lines = (
        step(
            "V",
            "F/n_p",
            {"F": (F, "N"), "n_p": float(rack.posts)},
            (share, "N"),
            "plain statics: no brace on both long faces, so all posts share",
        ),
        step(
            "M",
            "V*h_b",
            {"V": (share, "N"), "h_b": (weight.beam_centre, "m")},
            (moment, "N·m"),
            "plain statics: post hinged at the foot, held by the joint at the beam's middle",
        ),
    )
    return share, moment, lines


def _beam_earthquake(
    name: str,
    rack: Rack,
    parts: RackParts,
    weight: RackWeight,
    gravity: Gravity,
    body: FreeBody,
    force: Force,
    S_DS: float,
    joint: Joint,
) -> Finding:
    where = "beam to post"
    question = "Do the fasteners carry weight and earthquake along the rack together?"
    id, subject = f"joint/{name}/{where}/earthquake", f"rack {name}, {where}"
    share, moment, lines = sideways_shares(rack, weight, force)
    low = combinations.EARTHQUAKE_SHARE
    down = float(combinations.allowable_down(S_DS))
    h_e = _couple_height(rack, "along", weight, body)
    couple = low * force.horizontal * h_e / rack.length / 2
    vertical = 0.0 if rack.beam_seat == "on top" else down * gravity.joint_worst + couple
    count = joint.fasteners.count
    if rack.beam_seat == "on top":
        moment = 0.0  # nothing but the leaning finding speaks of it
    spread, spread_note = positions_spread(joint.fasteners, parts.beam.width)
    positions = row_positions(count, spread)
    if moment > 0 and not (positions.size > 1 and spread > 0):
        return finding(
            id,
            TOPIC,
            subject,
            question,
            low * share,
            0.0,
            "force",
            f"{force.basis}; plain statics",
            reason="a single fastener, or fasteners in one place, hold no moment: the post hinges and the rack leans",
            advice_key="joint earthquake",
            steps=(*force.steps, *lines),
            values=force.values,
        )
    H, V = worst_in_row(low * share, vertical, low * moment, positions)
    horizontal, upright = float(H), float(V)
    resultant = math.hypot(horizontal, upright)
    theta_side = math.atan2(upright, horizontal)
    r_max = spread / 2
    polar = float((positions**2).sum())
    inputs: dict[str, float | tuple[float, str]] = {"V": (share, "N"), "n": float(count)}
    expression = "0.7*V/n"
    if moment > 0:
        expression = "0.7*V/n + 0.7*M*r/I_r"
        inputs |= {"M": (moment, "N·m"), "r": (r_max, "m"), "I_r": (polar, "m²")}
    lines = (
        *lines,
        step(
            "H_1",
            expression,
            inputs,
            (horizontal, "N"),
            "elastic fastener group",
            f"worst fastener; spread {spread_note}",
        ),
        step(
            "V_1",
            "((1 + 0.14*S_DS)*R + 0.7*F*h_e/L/2)/n" if vertical else "0",
            {
                "S_DS": S_DS,
                "R": (gravity.joint_worst, "N"),
                "F": (force.horizontal, "N"),
                "h_e": (h_e, "m"),
                "L": (rack.length, "m"),
                "n": float(count),
            }
            if vertical
            else {},
            (upright, "N"),
            combinations.SOURCE,
            f"{combinations.ALLOWABLE_DOWN}; h_e: height over which the tipping couple passes through the joints, taken "
            "by the end posts; set on the joint with most weight",
        ),
        step("R_1", "sqrt(H_1**2 + V_1**2)", {"H_1": (horizontal, "N"), "V_1": (upright, "N")}, (resultant, "N")),
    )
    try:
        capacity = joint_capacity(
            joint,
            _wet(joint, rack),
            "earthquake",
            parts.beam.thickness,
            parts.beam.G,
            parts.post.thickness,
            parts.post.G,
            theta_side=theta_side,
            theta_main=UPRIGHT - theta_side,
        )
    except NotAssessableError as error:
        return _outside(name, where, question, resultant, str(error), (*force.steps, *lines))
    per_place = capacity.each * capacity.count / count
    return finding(
        id,
        TOPIC,
        subject,
        question,
        resultant,
        per_place,
        "force",
        f"{force.basis}; {capacity.basis}; {combinations.ALLOWABLE_DOWN}",
        advice_key="joint earthquake",
        steps=(*force.steps, *lines, *capacity.steps),
        values=(*force.values, *capacity.values),
        details={
            "governs": capacity.mode,
            "fasteners": f"worst of {count}",
            "load to the beam's grain": f"{math.degrees(theta_side):.0f}°",
        },
    )


def _couple_height(rack: Rack, direction: str, weight: RackWeight, body: FreeBody) -> float:
    """Height (m) over which the tipping couple reaches the posts through the joints.

    Braces take the couple of the force at the beam's height; what lies above passes through the joints. With
    no braces all of it does.
    """
    if braced(rack, direction):
        return max(body.height - weight.beam_centre, 0.0)
    return body.height


def _beam_across(
    name: str,
    rack: Rack,
    parts: RackParts,
    weight: RackWeight,
    gravity: Gravity,
    body: FreeBody,
    force: Force,
    S_DS: float,
    joint: Joint,
) -> Finding:
    """Weight and the tipping couple across the rack; the pull of the beam off its posts is not in it."""
    where = "beam to post"
    question = "Do the fasteners carry weight and earthquake across the rack together? (upright part)"
    id, subject = f"joint/{name}/{where}/across", f"rack {name}, {where}"
    h_e = _couple_height(rack, "across", weight, body)
    base = body.directions[1].base
    share = gravity.joint_worst / sum(gravity.posts)
    demand = float(combinations.allowable_down(S_DS)) * gravity.joint_worst
    demand += combinations.EARTHQUAKE_SHARE * force.horizontal * h_e / base * share
    line = step(
        "V_j",
        "(1 + 0.14*S_DS)*R + 0.7*F*h_e/base*k_j",
        {
            "S_DS": S_DS,
            "R": (gravity.joint_worst, "N"),
            "F": (force.horizontal, "N"),
            "h_e": (h_e, "m"),
            "base": (base, "m"),
            "k_j": share,
        },
        (demand, "N"),
        combinations.SOURCE,
        f"{combinations.ALLOWABLE_DOWN}; k_j: the joint's share of its side's weight; withdrawal is not assessed",
    )
    try:
        capacity = joint_capacity(
            joint,
            _wet(joint, rack),
            "earthquake",
            parts.beam.thickness,
            parts.beam.G,
            parts.post.thickness,
            parts.post.G,
            theta_side=UPRIGHT,
            theta_main=0.0,
        )
    except NotAssessableError as error:
        return _outside(name, where, question, demand, str(error), (*force.steps, line))
    steps = (*force.steps, line)
    return _compared(id, subject, question, demand, capacity, steps, combinations.ALLOWABLE_DOWN, "joint across")


def _joist_gravity(name: str, rack: Rack, parts: RackParts, gravity: Gravity, joint: Joint | None) -> list[Finding]:
    where = "joist to beam"
    question = "Do the fasteners carry the joist's end, day and night?"
    if rack.joist.seat == "on beams":
        return []
    if joint is None:
        return [_missing(name, where, "joists hang between the beams, and by what is not in the file")]
    share = step(
        "R",
        "w*s/2",
        {"w": (gravity.joist_line_load, "N/m"), "s": (rack.joist.spacing, "m")},
        (gravity.joist_end, "N"),
        "plain statics: the heaviest stretch of the deck over one joist spacing, half to each end",
    )
    try:
        capacity = joint_capacity(
            joint,
            _wet(joint, rack),
            "permanent",
            parts.beam.thickness,
            parts.beam.G,
            parts.joist.thickness if joint.fasteners.kind == "framing tie" else parts.joist.width,
            parts.joist.G,
            theta_side=UPRIGHT,
            theta_main=UPRIGHT,
        )
    except NotAssessableError as error:
        return [_outside(name, where, question, gravity.joist_end, str(error), (share,))]
    subject = f"rack {name}, {where}"
    if joint.fasteners.kind != "framing tie" and joint.fasteners.allowable is None:
        reason = (
            "fasteners driven through the beam into the joist's end stand in end grain; this version does not rely on "
            "them for the weight"
        )
        return [_outside(name, where, question, gravity.joist_end, reason, (share, *capacity.steps))]
    return [
        _compared(
            f"joint/{name}/{where}/gravity",
            subject,
            question,
            gravity.joist_end,
            capacity,
            (share,),
            "D",
            "joist gravity",
        )
    ]


def brace_force(F: float, run: float, rise: float, n: float) -> float:
    """Force in one of n diagonals that share a face's force F (N): N = F/n · sqrt(run² + rise²)/run. Statics."""
    return F / n * math.hypot(run, rise) / run


def _braces(
    name: str, rack: Rack, parts: RackParts, weight: RackWeight, force: Force, joint: Joint | None
) -> list[Finding]:
    where, question = "brace to post", "Do the fasteners at the braces' ends carry the earthquake?"
    if not rack.braces:
        return []
    if joint is None:
        return [_missing(name, where, "how the braces are fastened to the posts is not in the file")]
    found = []
    rise = weight.beam_centre
    for pair, direction, run in (
        (("front", "back"), "along", rack.bay_length),
        (("left", "right"), "across", rack.width),
    ):
        counts = [sum(1 for brace in rack.braces if brace.face == face) for face in pair]
        if max(counts) == 0:
            continue
        both = min(counts) > 0
        n = float(min(counts) if both else max(counts))
        part = force.horizontal / 2 if both else force.horizontal
        first = next(index for index, brace in enumerate(rack.braces) if brace.face in pair)
        timber = parts.braces[first]
        axial = brace_force(combinations.EARTHQUAKE_SHARE * part, run, rise, n)
        slope = math.atan2(rise, run)
        line = step(
            "N_b",
            "0.7*k_f*F/n_b*sqrt(run**2 + rise**2)/run",
            {
                "k_f": 0.5 if both else 1.0,
                "F": (force.horizontal, "N"),
                "n_b": n,
                "run": (run, "m"),
                "rise": (rise, "m"),
            },
            (axial, "N"),
            "plain statics",
            "each face half" if both else "one face alone is braced: it takes all; twisting is not assessed",
        )
        asked = f"{question[:-1]} {direction} the rack?"
        try:
            capacity = joint_capacity(
                joint,
                _wet(joint, rack),
                "earthquake",
                timber.thickness,
                timber.G,
                parts.post.thickness,
                parts.post.G,
                theta_side=0.0,
                theta_main=UPRIGHT - slope,
            )
        except NotAssessableError as error:
            found.append(_outside(name, f"{where} {direction}", asked, axial, str(error), (*force.steps, line)))
            continue
        compared = _compared(
            f"joint/{name}/{where}/{direction}",
            f"rack {name}, {where}",
            asked,
            axial,
            capacity,
            (*force.steps, line),
            "0.7 E_h, allowable level",
            "brace joint",
        )
        found.append(compared)
    return found


def _leaning(name: str, rack: Rack, force: Force, beam_to_post: Joint | None) -> list[Finding]:
    """A direction with no brace on both faces: what is there to stop the rack from leaning?"""
    found = []
    for direction, faces in (("along", "front and back"), ("across", "left and right")):
        if braced(rack, direction):
            continue
        by_joints = direction == "along" and rack.beam_seat == "on the side" and beam_to_post is not None
        if by_joints:
            continue  # the earthquake finding of the joint answers
        found.append(
            finding(
                f"leaning/{name}/{direction}",
                TOPIC,
                f"rack {name}",
                f"Is there anything that stops it from leaning {direction}?",
                combinations.EARTHQUAKE_SHARE * force.horizontal,
                0.0,
                "force",
                f"{force.basis}; plain statics with hinged joints",
                reason=f"no brace on both of its {faces} faces; prying of the fasteners is not relied on",
                advice_key="leaning",
                steps=force.steps,
                values=force.values,
            )
        )
    return found
