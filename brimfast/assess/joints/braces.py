"""Do the braces carry the earthquake: as timber, and at their ends?"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from brimfast.assess import combinations
from brimfast.assess.frame import lines as frame_lines
from brimfast.assess.frame.actions import RackActions
from brimfast.assess.frame.cases import ALLOWABLE
from brimfast.assess.joints.capacity import Sides, lateral
from brimfast.assess.joints.case import UPRIGHT, RackCase
from brimfast.assess.joints.statics import face_share, shared
from brimfast.assess.parts import Member
from brimfast.assess.timber.column import MOST_SLENDER, column_step
from brimfast.assess.timber.fastener import NotAssessableError
from brimfast.assess.timber.strength import Adjusted, adjusted, adjusted_step
from brimfast.shared.constants import INCH, PSI
from brimfast.shared.findings import Finding, Step, always, finding, not_assessed, severity, step
from brimfast.shared.installation.rack import FACES, Brace

WHERE = "brace to post"
LOW = combinations.EARTHQUAKE_SHARE


def brace_force(F: float, run: float, rise: float, n: float) -> float:
    """Force in one of n diagonals that share a face's force F (N): N = F/n · √(run² + rise²)/run. Statics."""
    return F / n * math.hypot(run, rise) / run


def braces(case: RackCase) -> list[Finding]:
    """Per direction: the joint at the ends, and the timber in tension and compression."""
    found: list[Finding] = []
    for direction, pair in FACES.items():
        for knees in (False, True):
            mine = [
                index
                for index, brace in enumerate(case.rack.braces)
                if brace.face in pair and (brace.leg is not None) == knees
            ]
            each = [_direction(case, direction, index) for index in mine]
            found.extend(min(same, key=severity) for same in zip(*each, strict=True))
    return found


@dataclass(frozen=True)
class _Axial:
    """Pull and push of a brace (N), how it comes about, and its slope (rad) and length (m)."""

    pull: float
    push: float
    lines: tuple[Step, ...]
    details: dict[str, str]
    slope: float
    length: float

    @property
    def larger(self) -> float:
        return max(self.pull, self.push)


def _direction(case: RackCase, direction: str, index: int) -> list[Finding]:
    brace, timber = case.rack.braces[index], case.parts.braces[index]
    acts = case.acts(direction)
    if brace.leg is not None:
        if acts is None:
            subject = f"rack {case.name}, knees {direction}"
            reason = f"a knee needs the frame: {case.without_frame(direction)}"
            question = f"Do the knees carry the earthquake {direction} the rack?"
            return [not_assessed(f"member/{case.name}/knee/{direction}", "members", subject, question, "force", reason)]
        axial = _by_frame(acts, "knee", index, math.pi / 4, math.hypot(brace.leg, brace.leg))
    else:
        axial = _by_statics(case, direction, brace)
        if acts is not None:
            whole = brace_force(LOW * case.force.horizontal, math.cos(axial.slope), math.sin(axial.slope), 1)
            framed = _by_frame(acts, "brace", index, axial.slope, axial.length)
            axial = replace(
                framed,
                lines=(*frame_lines.to_compare(axial.lines), *framed.lines),
                details={**framed.details, **frame_lines.compared(framed.larger, axial.larger, whole)},
            )
    lines = (*case.force.steps, *axial.lines)
    found_ends = _ends(case, direction, timber, axial, lines, "knee" if brace.leg is not None else "brace")
    found = [found_ends, *_timber(case, direction, brace, timber, axial, lines)]
    if brace.leg is not None and acts is not None:
        found.append(always(_knee_by_weight(case, acts, direction, index, timber)))
    return found


def _knee_by_weight(case: RackCase, acts: RackActions, direction: str, index: int, timber: Member) -> Finding:
    """A knee props its beam: what the weight alone puts on its fasteners for years."""
    question = "Do the fasteners at the knees' ends carry their part of the weight, day and night?"
    rows = [row for row in acts.frame.of("knee", rack=case.name) if acts.frame.elements[row].number == index]
    N = float(np.abs(acts.result.by_weight[rows, 0]).max())
    line = step("N_D", "N", {"N": (N, "N")}, (N, "N"), frame_lines.SOURCE, "weight alone")
    place, joint = f"knee {direction} weight", case.joints.get(WHERE)
    if joint is None:
        return case.outside(place, WHERE, question, N, "how the knees are fastened is not in the file", (line,), False)
    try:
        sides = Sides(timber.thickness, timber.G, case.parts.post.thickness, case.parts.post.G)
        capacity = lateral(joint.fasteners, sides, "permanent", case.service(joint))
    except NotAssessableError as error:
        return case.outside(place, WHERE, question, N, str(error), (line,))
    id = f"joint/{case.name}/{WHERE}/knee {direction}/gravity"
    return shared(id, case.subject(WHERE), question, N, capacity, 0.0, math.pi / 4, (line,), "D", "brace joint")


def _by_frame(acts: RackActions, kind: str, index: int, slope: float, length: float) -> _Axial:
    """The largest pull and push of a brace's bars in every case (a brace of one face also works when twisted)."""
    picks = acts.pick(None, *ALLOWABLE)
    forces = acts.bars(kind)[index][:, picks]
    lines = []
    for symbol, expression, sign, way in (("T_b", "max(N, 0)", 1.0, "pull"), ("C_b", "max(-N, 0)", -1.0, "push")):
        largest = frame_lines.worst((sign * forces).max(axis=0, keepdims=True), picks)
        note = frame_lines.said(acts, largest.number, way)
        N = {"N": (sign * largest.value, "N")}
        lines.append(step(symbol, expression, N, (max(largest.value, 0.0), "N"), frame_lines.SOURCE, note))
    pull, push = (line.result.value for line in lines)
    return _Axial(pull, push, tuple(lines), {}, slope, length)


def _by_statics(case: RackCase, direction: str, brace: Brace) -> _Axial:
    k_f, n = face_share(case, direction, brace.storey)
    foot, top = case.weight.storey(brace.storey)
    run, rise = case.rack.run(brace.face), top - foot
    axial = brace_force(LOW * k_f * case.force.horizontal, run, rise, n)
    line = step(
        "N_b",
        "0.7*k_f*F/n_b*sqrt(run**2 + rise**2)/run",
        {
            "k_f": k_f,
            "F": (case.force.horizontal, "N"),
            "n_b": n,
            "run": (run, "m"),
            "rise": (rise, "m"),
        },
        (axial, "N"),
        "plain statics; of an X only the pulled diagonal counts",
        "each face half" if k_f < 1 else "one face alone is braced: it takes all; twisting is not in it",
    )
    return _Axial(axial, axial, (line,), {}, math.atan2(rise, run), math.hypot(run, rise))


def _ends(case: RackCase, direction: str, timber: Member, axial: _Axial, lines: tuple[Step, ...], what: str) -> Finding:
    question = f"Do the fasteners at the {what}s' ends carry the earthquake {direction} the rack?"
    place = direction if what == "brace" else f"knee {direction}"
    joint = case.joints.get(WHERE)
    if joint is None:
        why = "how the braces are fastened to the posts is not in the file"
        return case.outside(place, WHERE, question, axial.larger, why, lines, False)
    try:
        sides = Sides(timber.thickness, timber.G, case.parts.post.thickness, case.parts.post.G)
        capacity = lateral(joint.fasteners, sides, "earthquake", case.service(joint))
    except NotAssessableError as error:
        return case.outside(place, WHERE, question, axial.larger, str(error), lines)
    return shared(
        f"joint/{case.name}/{WHERE}/{place}",
        case.subject(WHERE),
        question,
        axial.larger,
        capacity,
        0.0,
        UPRIGHT - axial.slope,
        lines,
        "0.7 E_h, allowable level",
        "brace joint",
        axial.details,
    )


def _timber(
    case: RackCase, direction: str, brace: Brace, timber: Member, axial: _Axial, lines: tuple[Step, ...]
) -> list[Finding]:
    what = "knee" if brace.leg is not None else "brace"
    id, subject = f"member/{case.name}/{what}/{direction}", f"rack {case.name}, {what}s {direction}"
    if timber.strength is None:
        reason = timber.without_strength
        return [
            not_assessed(
                f"{id}/{way}",
                "members",
                subject,
                f"Does the {what}'s timber carry the {push}?",
                "force",
                reason,
                demand=force,
            )
            for way, push, force in (("tension", "pull", axial.pull), ("compression", "push", axial.push))
        ]
    values = adjusted(timber.strength, "earthquake", case.service(), timber.incised)
    found = [_tension(case, id, subject, timber, values, axial.pull, lines)]
    push = axial.pull if brace.kind == "x" else axial.push
    found.append(
        _compression(id, subject, brace, timber, values, push, axial.length, lines, by_frame=bool(axial.details))
    )
    return found


def _tension(
    case: RackCase, id: str, subject: str, timber: Member, values: Adjusted, axial: float, lines: tuple[Step, ...]
) -> Finding:
    """Net tension: F_t' on the section less one hole, 1/16 in over the fastener. NDS 2018 section 3.8."""
    assert timber.strength is not None
    joint = case.joints.get(WHERE)
    D = joint.fasteners.diameter if joint is not None and joint.fasteners.diameter else 0.0
    hole = D + INCH / 16 if D else 0.0
    capacity = values.F_t * timber.thickness * max(timber.width - hole, 0.0)
    line = step(
        "T_allow",
        "F_t*t*max(w - hole, 0)",
        {"F_t": (values.F_t, "N/m²"), "t": (timber.thickness, "m"), "w": (timber.width, "m"), "hole": (hole, "m")},
        (capacity, "N"),
        "NDS 2018 section 3.8",
        "one hole, 1/16 in over the fastener",
    )
    return finding(
        f"{id}/tension",
        "members",
        subject,
        "Does the brace's timber carry the pull?",
        axial,
        capacity,
        "force",
        "NDS 2018 section 3.8; 0.7 E_h, allowable level",
        advice_key="brace timber",
        steps=(*lines, adjusted_step("F_t", timber.strength, values), line),
        values=values.values,
    )


def _compression(
    id: str,
    subject: str,
    brace: Brace,
    timber: Member,
    values: Adjusted,
    axial: float,
    length: float,
    lines: tuple[Step, ...],
    by_frame: bool,
) -> Finding:
    """Buckling about both axes; a bolt where an X crosses halves the length out of the face's plane."""
    assert timber.strength is not None
    question = "Does the brace's timber carry the push?"
    halved = brace.kind == "x" and brace.bolted_at_middle
    flat, deep = (length / 2 if halved else length) / timber.thickness, length / timber.width
    slender = max(flat, deep)
    ratio = step(
        "l_d",
        "max(k_m*L/t, L/w)",
        {
            "k_m": 0.5 if halved else 1.0,
            "L": (length, "m"),
            "t": (timber.thickness, "m"),
            "w": (timber.width, "m"),
        },
        slender,
        "NDS 2018 section 3.7.1",
        "k_m: bolted at the middle, half the length out of plane" if halved else "no bolt at the middle",
    )
    if brace.kind == "x":
        question, axial = "Could the pushed diagonal of the X carry its half?", axial / 2
    if slender > MOST_SLENDER:
        return _too_slender(id, subject, question, brace, values, axial, slender, (*lines, ratio), by_frame)
    note = f"r = 0.822 E_min'/(l_d)²/F_c*, E_min' = {values.E_min / PSI:,.0f} psi"
    C_P, factor = column_step(values.F_c_star, values.E_min, slender, note)
    capacity = values.F_c_star * C_P * timber.area
    line = step(
        "C_allow",
        "F_cstar*C_P*A",
        {"F_cstar": (values.F_c_star, "N/m²"), "C_P": C_P, "A": (timber.area, "m²")},
        (capacity, "N"),
        "NDS 2018 section 3.7",
    )
    return finding(
        f"{id}/compression",
        "members",
        subject,
        question,
        axial,
        capacity,
        "force",
        "NDS 2018 section 3.7; 0.7 E_h, allowable level",
        advice_key="brace timber",
        steps=(*lines, adjusted_step("F_c", timber.strength, values), ratio, factor, line),
        values=values.values,
    )


def _too_slender(
    id: str,
    subject: str,
    question: str,
    brace: Brace,
    values: Adjusted,
    axial: float,
    slender: float,
    lines: tuple[Step, ...],
    by_frame: bool,
) -> Finding:
    """A strut that the standard refuses; of an X, and in the frame, the pulled one alone counts."""
    id, said = f"{id}/compression", f"its slenderness of {slender:.0f} is over 50"
    if brace.kind == "x":
        more = "" if brace.bolted_at_middle else "; bolted together where they cross it would be half"
        reason = f"{said}, so only the pulled diagonal counts{more}"
        return not_assessed(id, "members", subject, question, "force", reason, demand=axial, steps=lines)
    if by_frame:
        reason = f"{said}: the standard refuses it as a strut, so the frame lets it only pull"
        return not_assessed(id, "members", subject, question, "force", reason, steps=lines)
    return finding(
        id,
        "members",
        subject,
        question,
        axial,
        0.0,
        "force",
        "NDS 2018 section 3.7.1.4",
        reason=f"{said}: the standard refuses it as a strut; an X would pull instead",
        advice_key="brace timber",
        steps=lines,
        values=values.values,
    )
