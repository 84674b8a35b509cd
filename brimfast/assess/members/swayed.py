"""Do the beams carry weight and earthquake together, bent upright and sideways and pulled or pushed along?"""

from __future__ import annotations

import numpy as np

from brimfast.assess.frame import lines as frame_lines
from brimfast.assess.joints.case import RackCase
from brimfast.assess.members.common import TOPIC
from brimfast.assess.timber.beam import section_modulus
from brimfast.assess.timber.strength import adjusted, adjusted_step
from brimfast.shared.findings import Finding, finding, not_assessed, step


def swayed_beams(case: RackCase) -> list[Finding]:
    """The worst stretch of a beam in the frame's cases that balance: the three shares of its strength added.

    N/(A F') + M_up/(S_1 F_b') + M_side/(S_2 F_b'), F' the lesser of F_t' and F_c*: never less than NDS 2018 (3.9-1) and
    (3.9-3) ask of a beam that the deck holds upright; no flat-use factor.
    """
    id, subject, member = f"member/{case.name}/beam/earthquake", f"rack {case.name}, beams", case.parts.beam
    question = "Do the beams carry weight and earthquake?"
    acts = case.frame
    ways = [way for way in ("along", "across") if case.acts(way) is not None]
    if acts is None or not ways or member.strength is None:
        return [] if member.strength is None else [_without(case, id, subject, question)]
    values = adjusted(member.strength, "earthquake", case.service(), member.incised)
    plies = 2.0 if case.rack.paired else 1.0
    S_1 = float(section_modulus(member.thickness, member.width))
    S_2 = float(section_modulus(member.width, member.thickness))
    F_a = min(values.F_t, values.F_c_star)
    picks = np.concatenate([acts.pick(way, "down", "up") for way in ways])
    N, M_1, M_2 = (np.abs(acts.beams.total[name][:, picks]) / plies for name in ("N", "M_up", "M_side"))
    index = N / (member.area * F_a) + M_1 / (S_1 * values.F_b) + M_2 / (S_2 * values.F_b)
    place, column = np.unravel_index(int(np.argmax(index)), index.shape)
    number = int(picks[column])
    note = f"{acts.beams.where[place]}, {acts.push_words(number)}; {frame_lines.WORDS[acts.cases[number].level]}"
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
        float(index[place, column]),
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
    return [
        finding(
            id,
            TOPIC,
            subject,
            question,
            float(index[place, column]),
            1.0,
            "number",
            basis,
            advice_key="beams",
            steps=(*case.force.steps, *steps),
            values=values.values,
        )
    ]


def _without(case: RackCase, id: str, subject: str, question: str) -> Finding:
    why = case.without_frame("along")
    return not_assessed(id, TOPIC, subject, question, "number", f"the frame does not balance: {why}")
