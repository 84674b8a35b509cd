"""Do the rails carry what hangs from them, still and in an earthquake?"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.assess.hung.swing import TOPIC
from brimfast.assess.members.common import TOPIC as MEMBERS
from brimfast.assess.members.common import Stress, shear, strongest_claim, unbraced, with_stability, without_values
from brimfast.assess.parts import Member
from brimfast.assess.timber.beam import biaxial_bending, section_modulus
from brimfast.assess.timber.service import Service, service_of
from brimfast.assess.timber.strength import Adjusted, adjusted, adjusted_step
from brimfast.data_tables.loader import factor_si, factor_used
from brimfast.shared.constants import GRAVITY
from brimfast.shared.findings import Finding, Step, always, finding, not_assessed, step
from brimfast.shared.installation.hung import Hung
from brimfast.shared.installation.rack import Rack

Array = NDArray[np.float64]
QUESTION = "Does the rail carry what hangs from it?"
NOTE = "all of it in the middle of one bay, the rail as a simple span on edge; its fastening to the posts not assessed"


def rail_moment(W: ArrayLike, w: ArrayLike, L: ArrayLike) -> Array:
    """Largest moment of a simple span (N·m) under W in its middle and w along it: W L/4 + w L²/8. Statics.

    W (N), w (N/m), L span (m).
    """
    L = np.asarray(L, float)
    return np.asarray(np.asarray(W, float) * L / 4 + np.asarray(w, float) * L**2 / 8)


def rail_findings(name: str, rack: Rack, rails: tuple[Member, ...], hung: list[Hung]) -> list[Finding]:
    """Each rail that something hangs from: resting, and 1.4 times the weight down and sideways at once."""
    found: list[Finding] = []
    for number, (rail, member) in enumerate(zip(rack.rails, rails, strict=True), start=1):
        things = [thing for thing in hung if thing.held_by == name and thing.rail == number]
        if not things:
            continue
        id, subject = f"member/{name}/rail {number}", f"rack {name}, rail {number}"
        if member.strength is None:
            found.append(without_values(id, subject, QUESTION, member))
            continue
        span = max(rack.run(face) for face in rail.faces)
        W = GRAVITY * math.fsum(thing.mass for thing in things)
        service = service_of(rack)
        found += [
            always(_at_rest(id, subject, member, service, W, span)),
            _shaken(id, subject, member, service, W, span),
        ]
    return found


def support_finding(thing: Hung) -> Finding | None:
    """What holds a thing that hangs from no rail is not in the file."""
    if thing.rail is not None:
        return None
    reason = (
        "nothing in the file says what the ceiling carries there: ask who built it, or an engineer"
        if thing.from_ceiling
        else "the file does not say which rail it hangs from: add rails to the rack, and rail"
    )
    question = "Does what it hangs from carry it?"
    return not_assessed(f"hung/{thing.name}/support", TOPIC, thing.name, question, "force", reason)


def _at_rest(id: str, subject: str, member: Member, service: Service, W: float, L: float) -> Finding:
    assert member.strength is not None
    values = adjusted(member.strength, "permanent", service, member.incised)
    w = member.area * member.density * GRAVITY
    M, S = float(rail_moment(W, w, L)), float(section_modulus(member.thickness, member.width))
    inputs: dict[str, float | tuple[float, str]] = {"W": (W, "N"), "w": (w, "N/m"), "L": (L, "m")}
    moment = step("M", "W*L/4 + w*L**2/8", inputs, (M, "N·m"), "statics: simple span", NOTE)
    f_b = step("f_b", "M/S", {"M": (M, "N·m"), "S": (S, "m³")}, (M / S, "N/m²"), "NDS 2018 (3.3-1)")
    C_L, _, lines = _held(member, values, L)
    allowed, most = with_stability(values, C_L)
    bent = Stress("bending", M / S, allowed, (f_b, adjusted_step("F_b", member.strength, values), *lines, most))
    end = step("V", "W + w*L/2", inputs, (W + w * L / 2, "N"), "statics: what hangs may hang beside a post")
    cut = shear(member, values, W + w * L / 2)
    cut = Stress(cut.what, cut.stress, cut.allowed, (end, *cut.steps))
    used = (*member.values, *values.values)
    return strongest_claim(id, subject, QUESTION, [bent, cut], f"D; {NOTE}", used, "rails", (moment,))


def _shaken(id: str, subject: str, member: Member, service: Service, W: float, L: float) -> Finding:
    assert member.strength is not None
    values = adjusted(member.strength, "earthquake", service, member.incised)
    k, w = factor_si("hung_load"), member.area * member.density * GRAVITY
    M = k * float(rail_moment(W, w, L))
    edge = M / float(section_modulus(member.thickness, member.width))
    flat = M / float(section_modulus(member.width, member.thickness))
    C_L, F_bE, lines = _held(member, values, L)
    refused = C_L == 0
    index = math.inf if refused else float(biaxial_bending(edge, values.F_b * C_L, flat, values.F_b, F_bE))
    pa = "N/m²"
    before = (
        step(
            "M",
            "k*(W*L/4 + w*L**2/8)",
            {"k": k, "W": (W, "N"), "w": (w, "N/m"), "L": (L, "m")},
            (M, "N·m"),
            "ASCE 7-16 section 13.5.1, exception; statics",
            "the same down and sideways at once; on the rail's own weight as well",
        ),
        step(
            "f_b1",
            "6*M/(b*d**2)",
            {"M": (M, "N·m"), "b": (member.thickness, "m"), "d": (member.width, "m")},
            (edge, pa),
        ),
        step(
            "f_b2",
            "6*M/(d*b**2)",
            {"M": (M, "N·m"), "b": (member.thickness, "m"), "d": (member.width, "m")},
            (flat, pa),
        ),
        adjusted_step("F_b", member.strength, values),
        *lines,
    )
    if math.isfinite(index):
        total = step(
            "I",
            "f_b1/(F_b*C_L) + f_b2/(F_b*(1 - (f_b1/F_bE)**2))",
            {"f_b1": (edge, pa), "F_b": (values.F_b, pa), "C_L": C_L, "f_b2": (flat, pa), "F_bE": (F_bE, pa)},
            index,
            "NDS 2018 (3.9-3)",
            "no axial load; no flat-use factor: the safe side",
        )
        before = (*before, total)
    return finding(
        f"{id}/earthquake",
        MEMBERS,
        subject,
        "Does the rail carry it, down and sideways at once?",
        index,
        1.0,
        "number",
        f"ASCE 7-16 section 13.5.1, exception; NDS 2018 section 3.9.2; {NOTE}",
        advice_key="rails",
        steps=before,
        values=(*member.values, *values.values, factor_used("hung_load")),
    )


def _held(member: Member, values: Adjusted, L: float) -> tuple[float, float, tuple[Step, ...]]:
    """C_L and F_bE of a rail held upright at its ends only; C_L 0 where the standard refuses it as too slender."""
    held = unbraced(member, values, L)
    slender = held.slenderness(member, "l_e = 2.06 times the span: the largest of Table 3.3.3")
    if held.C_L == 0:
        return 0.0, held.F_bE, (slender,)
    pa = "N/m²"
    buckling = step(
        "F_bE",
        "1.2*E_min/R_B**2",
        {"E_min": (values.E_min, pa), "R_B": held.R_B},
        (held.F_bE, pa),
        "NDS 2018 3.3.3.8",
    )
    line = step(
        "C_L",
        "(1 + F_bE/F_b)/1.9 - sqrt(((1 + F_bE/F_b)/1.9)**2 - F_bE/F_b/0.95)",
        {"F_bE": (held.F_bE, pa), "F_b": (values.F_b, pa)},
        held.C_L,
        "NDS 2018 (3.3-6)",
    )
    return held.C_L, held.F_bE, (slender, buckling, line)
