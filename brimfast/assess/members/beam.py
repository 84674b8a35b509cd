"""Do the beams carry the joists from post to post?"""

from __future__ import annotations

import numpy as np

from brimfast.assess.continuous_beam import Load, bending_moment
from brimfast.assess.gravity import rack_loads
from brimfast.assess.joints.case import RackCase
from brimfast.assess.members.common import (
    Stress,
    across_the_grain,
    bending,
    sag,
    shear,
    strongest_claim,
    without_values,
)
from brimfast.assess.resolve import Member
from brimfast.assess.timber.beam import bearing_area_factor, second_moment, section_modulus, shear_at_connection
from brimfast.assess.timber.strength import Adjusted, adjusted, adjusted_step
from brimfast.assess.weight import VesselWeight
from brimfast.shared.findings import Finding, step
from brimfast.shared.installation.model import Installation


def beams(case: RackCase, installation: Installation, vessels: dict[str, VesselWeight]) -> list[Finding]:
    """One beam of a long side: simple spans, or in one piece with the moment over the posts as well."""
    id, subject, member = f"member/{case.name}/beam", f"rack {case.name}, beams", case.parts.beam
    question = "Do the beams carry it?"
    if member.strength is None:
        return [without_values(id, subject, question, member)]
    rack, plies = case.rack, 2 if case.rack.beam_pairs else 1
    loads = rack_loads(installation, case.name, case.weight, vessels)
    values = adjusted(member.strength, "permanent", case.service(), member.incised)
    places = np.unique(np.concatenate([np.linspace(0, rack.length, 40 * rack.bays + 1), _breaks(loads, rack.length)]))
    simple = bending_moment(rack.bay_length, rack.bays, loads, places, continuous=False)
    M = float(np.max(np.abs(simple))) / 2
    note = "simple spans"
    if rack.beam_runs == "whole length" and rack.bays > 1:
        over_posts = bending_moment(rack.bay_length, rack.bays, loads, places, continuous=True)
        if float(np.max(np.abs(over_posts))) / 2 > M:
            M, note = float(np.max(np.abs(over_posts))) / 2, "beam in one piece, over the posts"
    V = case.gravity.largest_end / 2
    share = 1.0 / plies
    before = (
        step(
            "M_1", "M*k", {"M": (M, "N·m"), "k": share}, (M * share, "N·m"), "statics: half of the rack's moment", note
        ),
        step("V_1", "V*k", {"V": (V, "N"), "k": share}, (V * share, "N"), "statics: the largest end of a span"),
    )
    S = float(section_modulus(member.thickness, member.width))
    stresses = [bending(member, values, M * share, S)]
    if rack.beam_seat == "on the side":
        stresses.append(_hung(case, member, values, V * share))
    else:
        stresses.append(shear(member, values, V * share))
        post = case.parts.post
        C_b = float(bearing_area_factor(post.width)) if rack.bays > 1 and rack.beam_runs == "whole length" else 1.0
        area = min(member.thickness, post.thickness) * post.width
        stresses.append(across_the_grain(member, values, case.gravity.joint_worst * share, area, C_b))
    found = [strongest_claim(id, subject, question, stresses, "D", (*member.values, *values.values), "beams", before)]
    densest = max(q / (b - a) for a, b, q in loads if b > a)
    w = sum(q / (b - a) for a, b, q in loads[:1]) + (densest if len(loads) > 1 else 0.0)
    I = float(second_moment(member.thickness, member.width))  # noqa: E741
    L = rack.bay_length
    delta = 5 * (w / 2 * share) * L**4 / (384 * values.E * I)
    line = step(
        "delta",
        "5*w*L**4/(384*E*I_x)",
        {"w": (w / 2 * share, "N/m"), "L": (L, "m"), "E": (values.E, "N/m²"), "I_x": (I, "m⁴")},
        (delta, "m"),
        "beam theory: simple span under the heaviest stretch throughout",
    )
    found.append(sag(id, subject, delta, L, rack.wet, (line,), values.values))
    return found


def _breaks(loads: list[Load], length: float) -> list[float]:
    return [min(max(edge, 0.0), length) for start, end, _ in loads for edge in (start, end)]


def _hung(case: RackCase, member: Member, values: Adjusted, V: float) -> Stress:
    """Shear of a beam hung by fasteners: only the depth beyond them from the unloaded edge counts."""
    assert member.strength is not None
    joint = case.joints.get("beam to post")
    spread = joint.fasteners.spread if joint is not None and joint.fasteners.spread else 0.0
    d = member.width
    d_e = d - (d - spread) / 2
    allowed = float(shear_at_connection(values.F_v, member.thickness, d, d_e))
    line = step(
        "V_allow",
        "2/3*F_v*t*d_e*(d_e/d)**2",
        {"F_v": (values.F_v, "N/m²"), "t": (member.thickness, "m"), "d_e": (d_e, "m"), "d": (d, "m")},
        (allowed, "N"),
        "NDS 2018 (3.4-6)",
        "d_e: depth from the loaded edge to the farthest fastener",
    )
    area = member.area
    mean = step("f_hung", "V_1/A", {"V_1": (V, "N"), "A": (area, "m²")}, (V / area, "N/m²"), "over the whole section")
    most = step(
        "F_hung", "V_allow/A", {"V_allow": (allowed, "N"), "A": (area, "m²")}, (allowed / area, "N/m²"), "to compare"
    )
    lines = (adjusted_step("F_v", member.strength, values), line, mean, most)
    return Stress("shear at the fasteners", V / area, allowed / area, lines)
