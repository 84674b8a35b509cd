"""Do the beams carry weight and earthquake together, bent upright and sideways and pulled or pushed along?"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from brimfast.assess.frame import lines as frame_lines
from brimfast.assess.frame.actions import Acting, RackActions
from brimfast.assess.frame.cases import ALLOWABLE
from brimfast.assess.joints.case import RackCase
from brimfast.assess.members.beam import at_fasteners, depth_beyond, far_from_ends
from brimfast.assess.members.common import TOPIC, Stress
from brimfast.assess.parts import Member
from brimfast.assess.timber.beam import section_modulus, shear_stress
from brimfast.assess.timber.strength import Adjusted, adjusted, adjusted_step
from brimfast.shared.findings import Finding, finding, not_assessed, step


def swayed_beams(case: RackCase) -> list[Finding]:
    """The worst stretch of a beam in the frame's cases that balance: the three shares of its strength added.

    N/(A F') + M_up/(S_1 F_b') + M_side/(S_2 F_b'), F' the lesser of F_t' and F_c*, for a beam that the deck holds upright
    (a beam in one piece is checked with its free bottom edge under weight); no flat-use factor. After NDS 2018 section 3.9.
    """
    id, subject, member = f"member/{case.name}/beam/earthquake", f"rack {case.name}, beams", case.parts.beam
    question = "Do the beams carry weight and earthquake?"
    acts = case.frame
    picks = balanced(case)
    if member.strength is None:
        return []
    if acts is None or not len(picks):
        return [not_assessed(id, TOPIC, subject, question, "number", case.without_frame("along"))]
    values = adjusted(member.strength, "earthquake", case.service(), member.incised)
    plies = 2.0 if case.rack.paired else 1.0
    S_1 = float(section_modulus(member.thickness, member.width))
    S_2 = float(section_modulus(member.width, member.thickness))
    F_a = min(values.F_t, values.F_c_star)
    N, M_1, M_2 = (np.abs(acts.beams.total[name][:, picks]) / plies for name in ("N", "M_up", "M_side"))
    index = N / (member.area * F_a) + M_1 / (S_1 * values.F_b) + M_2 / (S_2 * values.F_b)
    largest = frame_lines.worst(index, picks)
    place, column = largest.place, largest.column
    note = frame_lines.said(acts, largest.number, acts.beams.where[place])
    pa = "N/m²"
    line = step(
        "I",
        "N/(A*F_a) + M_1/(S_1*F_b) + M_2/(S_2*F_b)",
        {
            "N": (float(N[place, column]), "N"),
            "A": (member.area, "m²"),
            "F_a": (F_a, pa),
            "M_1": (float(M_1[place, column]), "N·m"),
            "S_1": (S_1, "m³"),
            "M_2": (float(M_2[place, column]), "N·m"),
            "S_2": (S_2, "m³"),
            "F_b": (values.F_b, pa),
        },
        largest.value,
        f"{frame_lines.SOURCE}; NDS 2018 section 3.9, shares added",
        note,
    )
    steps = (
        adjusted_step("F_b", member.strength, values),
        adjusted_step("F_t", member.strength, values),
        adjusted_step("F_c", member.strength, values),
        line,
    )
    basis = "NDS 2018 section 3.9; 0.7 E_h, allowable level"
    asked = (f"{id}/shear", subject, "Do the beams carry its shear?")
    shear = (
        _sheared_at_fasteners(case, acts, picks, plies, asked)
        if case.rack.beam_seat == "on the side"
        else sheared(case, acts.beams, acts, picks, plies, member, asked, "beams")
    )
    return [
        finding(
            id,
            TOPIC,
            subject,
            question,
            largest.value,
            1.0,
            "number",
            basis,
            advice_key="beams",
            steps=(*case.force.steps, *steps),
            values=values.values,
        ),
        shear,
    ]


def balanced(case: RackCase) -> NDArray[np.int64]:
    """Allowable-level cases of the directions in which the frame balances; none where there is no frame."""
    return case.frame.pick_balanced(*ALLOWABLE) if case.frame is not None else np.array([], dtype=np.int64)


def _sheared_at_fasteners(
    case: RackCase, acts: RackActions, picks: NDArray[np.int64], plies: float, asked: tuple[str, str, str]
) -> Finding:
    """Shear of beams that hang by fasteners, as under their weight: (3.4-6) up to 5 d from an end, (3.4-7) beyond."""
    member = case.parts.beam
    assert member.strength is not None
    values = adjusted(member.strength, "earthquake", case.service(), member.incised)
    d, d_e = member.width, depth_beyond(case, member)
    V = np.abs(acts.beams.total["V"][:, picks]) / plies
    beyond = acts.beams_from_ends >= 5 * d if far_from_ends(case, member) else np.zeros(len(V), dtype=bool)
    largest = frame_lines.worst(V / np.where(beyond, 1.0, (d_e / d) ** 2)[:, None], picks)
    place = largest.place
    V_1 = float(V[place, largest.column])
    note = frame_lines.said(acts, largest.number, acts.beams.where[place])
    line = step("V_1", "V/n", {"V": (V_1 * plies, "N"), "n": plies}, (V_1, "N"), frame_lines.SOURCE, note)
    stress = at_fasteners(member, values, V_1, d, d_e, at_end=not beyond[place])
    return _asked_of_shear(case, asked, replace(stress, steps=(line, *stress.steps)), values, "beams")


def sheared(
    case: RackCase,
    acting: Acting,
    acts: RackActions,
    picks: NDArray[np.int64],
    plies: float,
    member: Member,
    asked: tuple[str, str, str],
    advice_key: str,
) -> Finding:
    """Shear of the worst stretch in the frame, 3 V/(2 A) against F_v'. NDS 2018 (3.4-2)."""
    assert member.strength is not None
    values = adjusted(member.strength, "earthquake", case.service(), member.incised)
    largest = frame_lines.worst(np.abs(acting.total["V"][:, picks]) / plies, picks)
    note = frame_lines.said(acts, largest.number, acting.where[largest.place])
    f_v = float(shear_stress(largest.value, member.thickness, member.width))
    inputs: dict[str, float | tuple[float, str]] = {"V": (largest.value, "N"), "A": (member.area, "m²")}
    line = step("f_v", "3*V/(2*A)", inputs, (f_v, "N/m²"), frame_lines.SOURCE, note)
    stress = Stress("shear", f_v, values.F_v, (adjusted_step("F_v", member.strength, values), line))
    return _asked_of_shear(case, asked, stress, values, advice_key)


def _asked_of_shear(
    case: RackCase, asked: tuple[str, str, str], stress: Stress, values: Adjusted, advice_key: str
) -> Finding:
    id, subject, question = asked
    return finding(
        id,
        TOPIC,
        subject,
        question,
        stress.stress,
        stress.allowed,
        "stress",
        "NDS 2018 section 3.4; 0.7 E_h, allowable level",
        advice_key=advice_key,
        steps=(*case.force.steps, *stress.steps),
        values=values.values,
    )
