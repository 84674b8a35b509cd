"""Do the posts carry the beams, upright and in an earthquake?"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.assess import combinations
from brimfast.assess.frame import lines as frame_lines
from brimfast.assess.joints.case import RackCase
from brimfast.assess.joints.statics import face_share, sideways_shares
from brimfast.assess.members.common import TOPIC, Stress, on_posts, strongest_claim, without_values
from brimfast.assess.members.swayed import balanced, sheared
from brimfast.assess.timber.beam import section_modulus
from brimfast.assess.timber.column import MOST_SLENDER, bending_and_compression, buckling_stress, column_step
from brimfast.assess.timber.strength import adjusted, adjusted_step
from brimfast.assess.wall_support import counted_tie
from brimfast.data_tables.loader import factor_si, factor_used
from brimfast.shared.constants import INCH, PSI
from brimfast.shared.findings import Finding, Step, always, finding, step

LOW = combinations.EARTHQUAKE_SHARE
Array = NDArray[np.float64]


def posts(case: RackCase) -> list[Finding]:
    """Weight alone (permanent) and with the earthquake along the rack: one interaction each."""
    id, subject, member = f"member/{case.name}/post", f"rack {case.name}, posts", case.parts.post
    if member.strength is None:
        return [without_values(id, subject, "Do the posts carry it?", member)]
    P = case.gravity.post_worst
    line = step("P", "P_D", {"P_D": (P, "N")}, (P, "N"), "statics", "the heaviest post")
    weight = _interaction(
        case, f"{id}/weight", subject, "Do the posts carry the weight?", "permanent", [_Load(P, 0.0, (line,))]
    )
    question = "Do the posts carry weight and earthquake?"
    loads = [_by_statics(case, way) for way in ("along", "across") if case.acts(way) is None]
    return [
        always(weight),
        _interaction(case, f"{id}/earthquake", subject, question, "earthquake", loads),
        always(_foot(case, id, subject)),
        *_shear(case, id, subject),
    ]


def _shear(case: RackCase, id: str, subject: str) -> list[Finding]:
    """Shear of the posts in the frame: between a foot or a tie and a beam it can be large."""
    acts = case.frame
    picks = balanced(case)
    if acts is None or not len(picks):
        return []
    asked = (f"{id}/shear", subject, "Do the posts carry the earthquake's shear?")
    return [sheared(case, acts.posts, acts, picks, 1.0, case.parts.post, asked, "posts")]


@dataclass(frozen=True)
class _Load:
    """Push on a post (N), bending stress (N/m²), and how they come about."""

    P: float
    f_b: float
    lines: tuple[Step, ...]


def _by_statics(case: RackCase, direction: str) -> _Load:
    P = case.gravity.post_worst * float(combinations.allowable_down(case.vertical)) + _push(case, direction)
    moment = LOW * sideways_shares(case)[1] if direction == "along" else 0.0
    f_b = moment / float(section_modulus(case.parts.post.thickness, case.parts.post.width))
    line = step("P", "P_D", {"P_D": (P, "N")}, (P, "N"), "plain statics", _load_note(case, "earthquake"))
    return _Load(P, f_b, (line,))


def _by_frame(case: RackCase, index_of: Callable[[Array, Array], Array]) -> list[_Load]:
    """The worst stretch of a post in the cases that balance; bending about both axes added: the safe side."""
    acts, member = case.frame, case.parts.post
    picks = balanced(case)
    if acts is None or not len(picks):
        return []
    S_1 = float(section_modulus(member.thickness, member.width))
    S_2 = float(section_modulus(member.width, member.thickness))
    posts = acts.posts
    P, M_1, M_2 = (posts.total[name][:, picks] for name in ("P", "M_along", "M_across"))
    f_b = M_1 / S_1 + M_2 / S_2
    largest = frame_lines.worst(index_of(np.maximum(P, 0.0), f_b), picks)
    place, column = largest.place, largest.column
    inputs: dict[str, float | tuple[float, str]] = {
        "M_1": (float(M_1[place, column]), "N·m"),
        "S_1": (S_1, "m³"),
        "M_2": (float(M_2[place, column]), "N·m"),
        "S_2": (S_2, "m³"),
    }
    bent = float(f_b[place, column])
    lines = (
        frame_lines.total("P", posts, acts, place, largest.number),
        step("f_b", "M_1/S_1 + M_2/S_2", inputs, (bent, "N/m²"), "bending along (1) and across (2) added"),
    )
    return [_Load(max(float(P[place, column]), 0.0), bent, lines)]


def _interaction(case: RackCase, id: str, subject: str, question: str, duration: str, loads: list[_Load]) -> Finding:
    """Compression with the beam's eccentric seat and bending. NDS 2018 (3.9-3), (15.4-1)."""
    member, rack = case.parts.post, case.rack
    assert member.strength is not None
    values = adjusted(member.strength, duration, case.service(), member.incised)
    slender, sways, slender_note = _slenderness(case)
    if slender > MOST_SLENDER:
        P = max(load.P for load in [*loads, *(_by_frame(case, lambda P, _: P) if duration == "earthquake" else [])])
        reason = f"its slenderness of {slender:.0f} is over 50 (NDS 2018 section 3.7.1.4)"
        return _refused(id, subject, question, P, "NDS 2018 section 3.7.1.4", reason)
    side = rack.beam_seat == "on the side" and not rack.paired
    eccentric = (member.thickness + case.parts.beam.thickness) / 2 / member.thickness if side else 0.0
    C_P, stability = column_step(values.F_c_star, values.E_min, slender, slender_note)
    F_c = values.F_c_star * C_P
    F_cE = float(buckling_stress(values.E_min, slender))

    def index_of(P: ArrayLike, f_b: ArrayLike) -> Array:
        return bending_and_compression(np.asarray(P, float) / member.area, F_c, F_cE, f_b, values.F_b, eccentric)

    if duration == "earthquake":
        loads = [*loads, *_by_frame(case, index_of)]
    worst = max(loads, key=lambda load: float(index_of(load.P, load.f_b)))
    P, f_b, index = worst.P, worst.f_b, float(index_of(worst.P, worst.f_b))
    f_c = P / member.area
    if not math.isfinite(index):
        reason = f"its stress of {f_c / PSI:,.0f} psi is past the stress at which it buckles, {F_cE / PSI:,.0f} psi"
        return _refused(id, subject, question, P, "NDS 2018 section 3.9.2", reason)
    pa = "N/m²"
    lines: tuple[Step, ...] = (
        adjusted_step("F_c", member.strength, values),
        adjusted_step("F_b", member.strength, values),
        stability,
        *worst.lines,
        step("f_c", "max(P, 0)/A", {"P": (P, "N"), "A": (member.area, "m²")}, (f_c, pa), "statics"),
        step(
            "I",
            "(f_c/(F_cstar*C_P))**2 + (f_b + 6*e_d*f_c*(1 + 0.234*f_c/F_cE))/(F_b*(1 - f_c/F_cE))",
            {
                "f_c": (f_c, pa),
                "F_cstar": (values.F_c_star, pa),
                "C_P": C_P,
                "f_b": (f_b, pa),
                "e_d": eccentric,
                "F_cE": (F_cE, pa),
                "F_b": (values.F_b, pa),
            },
            index,
            "NDS 2018 (3.9-3), (15.4-1)",
            "e_d: the beam hangs beside the post, so far out over the post's thickness"
            if side
            else "beam over the post",
        ),
    )
    basis = "NDS 2018 sections 3.7, 3.9, 15.4; " + ("D" if duration == "permanent" else "0.7 E_h, allowable level")
    return finding(
        id,
        TOPIC,
        subject,
        question,
        index,
        1.0,
        "number",
        basis,
        advice_key="posts",
        steps=lines,
        values=(*member.values, *values.values, *((factor_used("K_e_sway"),) if sways else ())),
    )


def _slenderness(case: RackCase) -> tuple[float, bool, str]:
    """Of a post, by its tallest storey; whether the rack may sway, and the note of both."""
    member, rack = case.parts.post, case.rack
    sways = not rack.braced("along") or not (rack.braced("across") or counted_tie(rack) is not None)
    K_e = factor_si("K_e_sway") if sways else 1.0
    length = K_e * case.weight.tallest_storey
    slender = length / min(member.thickness, member.width)
    height_note = f", over the tallest storey, {length / K_e / INCH:.0f} in" if rack.upper_tiers else ""
    sway_note = f", K_e {K_e:g}: nothing keeps the rack from swaying" if sways else ""
    return slender, sways, f"r = F_cE/F_c*; slenderness {slender:.1f}{height_note}{sway_note}"


def _refused(id: str, subject: str, question: str, P: float, source: str, reason: str) -> Finding:
    """A post that may carry nothing of its push P (N)."""
    return finding(id, TOPIC, subject, question, P, 0.0, "force", source, reason=reason, advice_key="posts")


def _push(case: RackCase, direction: str) -> float:
    """What tipping and braces add to a post (N), allowable level: the couple over the joints, and a brace's upright part.

    Along: the couple on the two end posts of a side; across: the joint's share. Braces: the face's force by its
    slope over the braced bays; of several storeys all, one above the other, the whole force in each. Statics.
    """
    couple = LOW * case.couple(direction)
    if not case.rack.braced(direction):
        return couple
    k_f, n = face_share(case, direction)
    run = case.rack.bay_length if direction == "along" else case.across
    return couple + LOW * k_f * case.force.horizontal / n * case.weight.beam_centres[-1] / run


def _load_note(case: RackCase, duration: str) -> str:
    post = "the heaviest post" + (", all tiers together" if case.rack.upper_tiers else "")
    return post if duration == "permanent" else f"{post}, with the tipping couple and the braces' upright part"


def _foot(case: RackCase, id: str, subject: str) -> Finding:
    """End-grain bearing of the post on its foot, F_c* on the whole section."""
    member = case.parts.post
    assert member.strength is not None
    values = adjusted(member.strength, "permanent", case.service(), member.incised)
    f = case.gravity.post_worst / member.area
    line = step(
        "f_end",
        "P/A",
        {"P": (case.gravity.post_worst, "N"), "A": (member.area, "m²")},
        (f, "N/m²"),
        "NDS 2018 section 3.10.1",
    )
    stress = Stress("bearing on end grain", f, values.F_c_star, (line, adjusted_step("F_c", member.strength, values)))
    stresses, values_used = [stress], values.values
    sill = case.parts.sill
    if sill is not None and sill.strength is not None:
        below = adjusted(sill.strength, "permanent", case.service(), sill.incised)
        stresses.append(on_posts(sill, below, case.gravity.posts, member.area, member.width, "bearing on the sill"))
        values_used = (*values.values, *below.values)
    return strongest_claim(f"{id}/foot", subject, "Do the posts' feet bear it?", stresses, "D", values_used, "posts")
