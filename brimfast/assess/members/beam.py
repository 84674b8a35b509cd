"""Do the beams carry the joists from post to post?"""

from __future__ import annotations

import numpy as np

from brimfast.assess.continuous_beam import bending_moment
from brimfast.assess.joints.case import RackCase
from brimfast.assess.joints.layout import beam_to_post_layout
from brimfast.assess.members.common import (
    Stress,
    across_the_grain,
    bending,
    is_european,
    named,
    on_posts,
    sag,
    shear,
    strongest_claim,
    unbraced,
    with_stability,
    without_values,
)
from brimfast.assess.parts import Member
from brimfast.assess.timber.beam import (
    centred_deflection,
    second_moment,
    section_modulus,
    shear_at_connection,
)
from brimfast.assess.timber.strength import Adjusted, adjusted, adjusted_step
from brimfast.shared.findings import Finding, step


def beams(case: RackCase, tier: int) -> list[Finding]:
    """One beam of a long side: simple spans, or in one piece with the moment over the posts as well."""
    (id, subject), member = named(case, tier, "beam", "beams"), case.parts.beam
    question = "Do the beams carry it?"
    if member.strength is None:
        return [without_values(id, subject, question, member)]
    rack, plies, gravity = case.rack, 2 if case.rack.paired else 1, case.gravity.tiers[tier - 1]
    loads = gravity.loads
    values = adjusted(member.strength, "permanent", case.service(), member.incised)
    edges = np.clip([edge for start, end, _ in loads for edge in (start, end)], 0.0, rack.length)
    places = np.unique(np.concatenate([np.linspace(0, rack.length, 40 * rack.bays + 1), edges]))
    simple = bending_moment(rack.bay_length, rack.bays, loads, places, continuous=False)
    M = float(np.max(np.abs(simple))) / 2
    note = "simple spans"
    if rack.one_piece:
        over_posts = bending_moment(rack.bay_length, rack.bays, loads, places, continuous=True)
        if float(np.max(np.abs(over_posts))) / 2 > M:
            M, note = float(np.max(np.abs(over_posts))) / 2, "beam in one piece, over the posts"
    V = gravity.largest_end / 2
    share = 1.0 / plies
    before = (
        step(
            "M_1", "M*k", {"M": (M, "N·m"), "k": share}, (M * share, "N·m"), "statics: half of the rack's moment", note
        ),
        step("V_1", "V*k", {"V": (V, "N"), "k": share}, (V * share, "N"), "statics: the largest end of a span"),
    )
    S = float(section_modulus(member.thickness, member.width))
    stresses = [bending(member, values, M * share, S)]
    if rack.one_piece:
        stresses.append(_unbraced(case, member, values, M * share, S))
    if rack.beam_seat == "on the side":
        stresses.extend(_hung(case, gravity.end_of_beam / 2 * share, member, values, V * share))
    else:
        stresses.append(shear(member, values, V * share))
        post = case.parts.post
        ends = 2 if rack.ends_meet else 1  # that share the post
        area = min(member.thickness, post.thickness) * post.width / ends
        if rack.one_piece:
            loads_on = tuple(load * share for load in gravity.posts)
            stresses.append(on_posts(member, values, loads_on, area, post.width))
        else:
            stresses.append(across_the_grain(member, values, gravity.joint_worst * share, area, 1.0))
    found = [strongest_claim(id, subject, question, stresses, "D", (*member.values, *values.values), "beams", before)]
    densities = [q / (b - a) for a, b, q in loads]
    w = densities[0] + (max(densities) if len(loads) > 1 else 0.0)
    I = float(second_moment(member.thickness, member.width))  # noqa: E741
    L = rack.bay_length
    delta = float(centred_deflection(w / 2 * share * L, L, L, values.E * I))
    line = step(
        "delta",
        "5*w*L**4/(384*E*I_x)",
        {"w": (w / 2 * share, "N/m"), "L": (L, "m"), "E": (values.E, "N/m²"), "I_x": (I, "m⁴")},
        (delta, "m"),
        "beam theory: simple span under the heaviest stretch throughout",
    )
    found.append(sag(id, subject, delta, L, rack.wet, (line,), values.values, is_european(member)))
    return found


def _unbraced(case: RackCase, member: Member, values: Adjusted, M: float, S: float) -> Stress:
    """Over the posts a beam in one piece is pressed at its bottom edge, which nothing holds: C_L over a bay."""
    assert member.strength is not None
    free, f_b = unbraced(member, values, case.rack.bay_length), M / S
    if free.C_L == 0:
        note = "over 50: the standard refuses the beam; it needs its bottom edge held, or a thicker one"
        refused = "bending, bottom edge free: slenderness over 50, refused"
        return Stress(refused, f_b, 0.0, (free.slenderness(member, note),))
    line = step(
        "C_L",
        "(1 + r)/1.9 - sqrt(((1 + r)/1.9)**2 - r/0.95)",
        {"r": free.F_bE / values.F_b},
        free.C_L,
        "NDS 2018 (3.3-6)",
        f"r = 1.20 E_min'/R_B²/F_b*, R_B = {free.R_B:.1f}, l_e = 2.06 times the bay (bottom edge over the posts)",
    )
    stress = step("f_b", "M_1/S", {"M_1": (M, "N·m"), "S": (S, "m³")}, (f_b, "N/m²"), "NDS 2018 (3.3-1)")
    allowed, most = with_stability(values, free.C_L)
    lines = (adjusted_step("F_b", member.strength, values), line, stress, most)
    return Stress("bending, bottom edge free", f_b, allowed, lines)


def _hung(case: RackCase, end: float, member: Member, values: Adjusted, V: float) -> list[Stress]:
    """Shear of a beam hung by fasteners: only the depth beyond them from the unloaded edge counts.

    end is the shear at the beam's ends (N), V the largest. Within 5 d of the beam's end (3.4-6) takes off more than
    farther away (3.4-7).
    """
    d, d_e = member.width, depth_beyond(case, member)
    if far_from_ends(case, member):
        return [
            at_fasteners(member, values, end, d, d_e, at_end=True),
            at_fasteners(member, values, V, d, d_e, at_end=False),
        ]
    return [at_fasteners(member, values, V, d, d_e, at_end=True)]


def far_from_ends(case: RackCase, member: Member) -> bool:
    """Whether the middle posts' fasteners are 5 d and more from the beam's ends."""
    return case.rack.one_piece and case.rack.bay_length >= 5 * member.width


def depth_beyond(case: RackCase, member: Member) -> float:
    """d_e (m): from the loaded edge to the farthest fastener; half of the depth where the fasteners are not known."""
    joint = case.joints.get("beam to post")
    if joint is None:
        return member.width / 2
    layout = beam_to_post_layout(case.rack, case.parts, joint.fasteners, leans=False)
    spread = float(np.ptp(layout.places[:, 1]))
    return (member.width + spread) / 2


def at_fasteners(member: Member, values: Adjusted, V: float, d: float, d_e: float, at_end: bool) -> Stress:
    """V_1 (N) over the whole section against what may pass there, NDS 2018 (3.4-6) near an end, (3.4-7) away from it."""
    assert member.strength is not None
    whole = 2 / 3 * values.F_v * member.thickness * d_e
    allowed = float(shear_at_connection(values.F_v, member.thickness, d, d_e)) if at_end else whole
    inputs: dict[str, float | tuple[float, str]] = {
        "F_v": (values.F_v, "N/m²"),
        "t": (member.thickness, "m"),
        "d_e": (d_e, "m"),
    }
    if at_end:
        inputs["d"] = (d, "m")
    line = step(
        "V_allow",
        "2/3*F_v*t*d_e*(d_e/d)**2" if at_end else "2/3*F_v*t*d_e",
        inputs,
        (allowed, "N"),
        "NDS 2018 (3.4-6)" if at_end else "NDS 2018 (3.4-7)",
        "d_e: depth from the loaded edge to the farthest fastener"
        + ("; within 5 d of the beam's end" if at_end else "; 5 d and more from the beam's end"),
    )
    area = member.area
    mean = step("f_hung", "V_1/A", {"V_1": (V, "N"), "A": (area, "m²")}, (V / area, "N/m²"), "over the whole section")
    most = step(
        "F_hung", "V_allow/A", {"V_allow": (allowed, "N"), "A": (area, "m²")}, (allowed / area, "N/m²"), "to compare"
    )
    lines = (adjusted_step("F_v", member.strength, values), line, mean, most)
    where = "shear at the fasteners" if at_end else "shear at the middle posts' fasteners"
    return Stress(where, V / area, allowed / area, lines)
