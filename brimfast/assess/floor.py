"""Does the floor carry it?"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.assess.bodies import FreeBody
from brimfast.assess.gravity import Gravity
from brimfast.assess.parts import FloorParts, Member, RackParts
from brimfast.assess.timber.beam import section_modulus
from brimfast.assess.timber.service import Service
from brimfast.assess.timber.strength import adjusted, adjusted_step
from brimfast.data_tables.loader import factor_si, factor_used
from brimfast.shared.constants import INCH, POUND_FORCE, PSI
from brimfast.shared.findings import Finding, Step, Value, finding, not_assessed, step

Array = NDArray[np.float64]
TOPIC = "floor"
SLAB = (
    "a slab on the ground has no tabulated live load: its thickness and the soil decide; measure the slab's "
    "thickness, or type in live_load with its source"
)


def mean_pressure(W: ArrayLike, A: ArrayLike) -> Array:
    """Pressure over a footprint (Pa): p = W / A; W weight (N), A area (m²)."""
    return np.asarray(np.asarray(W, float) / np.asarray(A, float))


def body_pressure(body: FreeBody, floor: FloorParts) -> Finding:
    """Mean pressure over the footprint against the floor's live load."""
    p = float(mean_pressure(body.weight, body.base_area))
    line = step("p", "W/A", {"W": (body.weight, "N"), "A": (body.base_area, "m²")}, (p, "N/m²"), "statics")
    id, question = f"floor/{body.name}/mean", "Does the floor carry it? (mean over the footprint)"
    return _against(id, body.name, question, p, floor, (line,), ())


def post_pressure(name: str, gravity: Gravity, parts: RackParts, plate: float | None, floor: FloorParts) -> Finding:
    """The heaviest post's load spread over the standard patch against the floor's live load."""
    patch = factor_si("floor_patch")
    p = float(mean_pressure(gravity.post_worst, patch**2))
    foot = (plate or parts.post.width) * (plate or parts.post.thickness)
    under = float(mean_pressure(gravity.post_worst, foot))
    lines = (
        step("p", "P/a**2", {"P": (gravity.post_worst, "N"), "a": (patch, "m")}, (p, "N/m²"), "ASCE 7 section 4.4"),
        step(
            "p_foot",
            "P/A_foot",
            {"P": (gravity.post_worst, "N"), "A_foot": (foot, "m²")},
            (under, "N/m²"),
            "statics",
            "under the foot itself: what tile, screed or an old board feels",
        ),
    )
    question = "Does the floor carry one post? (spread over a square patch)"
    return _against(f"floor/{name}/post", f"rack {name}", question, p, floor, lines, (factor_used("floor_patch"),))


def strip_pressure(name: str, gravity: Gravity, length: float, floor: FloorParts) -> Finding:
    """One row of posts spread over a strip as wide as the standard patch: along the joists of a floor, or across."""
    patch = factor_si("floor_patch")
    P = math.fsum(gravity.posts)
    area = max(length, patch) * patch
    p = float(mean_pressure(P, area))
    line = step(
        "p",
        "P/(L*a)",
        {"P": (P, "N"), "L": (max(length, patch), "m"), "a": (patch, "m")},
        (p, "N/m²"),
        "statics: the posts of one long side over a strip",
    )
    question = "Does the floor carry one row of posts? (over a strip)"
    return _against(f"floor/{name}/strip", f"rack {name}", question, p, floor, (line,), (factor_used("floor_patch"),))


def slab_punching(f_c: ArrayLike, foot: ArrayLike, h: ArrayLike) -> Array:
    """Load (N) at which a square foot may press on a plain concrete slab by punching, allowable level.

    φ V_n/1.4, V_n = 2.66 √f'c b_o h (psi, in), b_o = 4 (foot + h), φ = 0.60, h the slab's thickness less 2 in
    where it is cast on the ground. f'c (Pa), foot and h (m). The soil's help is not counted. Source: ACI 318-19
    section 14.5.5 and 14.5.1.7 (from memory).
    """
    f_c, foot, h = np.asarray(f_c, float) / PSI, np.asarray(foot, float) / INCH, np.asarray(h, float) / INCH
    deep = np.maximum(h - 2, 0.0)
    return np.asarray(0.60 / 1.4 * 2.66 * np.sqrt(f_c) * 4 * (foot + deep) * deep * POUND_FORCE)


def slab_bearing(f_c: ArrayLike, area: ArrayLike) -> Array:
    """Load (N) that a foot may bear on concrete, allowable level: φ 0.85 f'c A/1.4, φ = 0.60. ACI 318-19 14.5.6 (from memory)."""
    return np.asarray(0.60 / 1.4 * 0.85 * np.asarray(f_c, float) * np.asarray(area, float))


def post_on_slab(name: str, gravity: Gravity, parts: RackParts, plate: float | None, slab: float | None) -> Finding:
    """A post on a slab of known thickness: the less of bearing and punching, on the plain-concrete side."""
    id, subject, question = f"floor/{name}/slab", f"rack {name}", "Does the slab carry a post's foot?"
    P = gravity.post_worst
    if slab is None:
        reason = (
            "the slab's thickness is not in the file (floor: slab_thickness); drill a small hole or ask who built it"
        )
        return not_assessed(id, TOPIC, subject, question, "force", reason, demand=P, advice_key="floor slab")
    foot = plate or min(parts.post.thickness, parts.post.width)
    f_c = factor_si("slab_concrete")
    area = foot**2
    punching, bears = float(slab_punching(f_c, foot, slab)), float(slab_bearing(f_c, area))
    lines = (
        step(
            "P_punch",
            "0.60/1.4*2.66*sqrt(f_c)*4*(foot + h - 2)*(h - 2)",
            {"f_c": (f_c / PSI, "psi"), "foot": (foot / INCH, "in"), "h": (slab / INCH, "in")},
            (punching / POUND_FORCE, "lb"),
            "ACI 318-19 section 14.5.5 (plain concrete)",
            "2 in taken off a slab on the ground; the soil's help is not counted",
            any_units=False,
        ),
        step(
            "P_bear",
            "0.60/1.4*0.85*f_c*A",
            {"f_c": (f_c / PSI, "psi"), "A": (area / INCH**2, "in²")},
            (bears / POUND_FORCE, "lb"),
            "ACI 318-19 section 14.5.6",
            any_units=False,
        ),
    )
    value = Value(
        "strength of plain concrete",
        "phi 0.60; punching 2.66 sqrt(f'c); load factor 1.4",
        "ACI 318-19 chapter 14",
        "from memory",
        "ACI 318 chapter 14",
    )
    return finding(
        id,
        TOPIC,
        subject,
        question,
        P,
        min(punching, bears),
        "force",
        "ACI 318-19 sections 14.5.5 and 14.5.6, load factor 1.4",
        advice_key="floor slab",
        steps=lines,
        values=(value, factor_used("slab_concrete")),
    )


def posts_on_joist(span: float, P: float, spacings: tuple[tuple[int, float], ...]) -> float:
    """Largest moment (N·m) that posts put on one joist of a span, wherever they stand on it: one, or as many of a row as fit.

    spacings: how many posts stand in a row, and how far apart (m). Under a post the moment of n is largest where the middle
    of the span halves the way e from it to the middle of the row: R = n P (1 − e/L)/2, M = R (L − e)/2 − Σ P a over the posts
    beyond it. Absolute maximum moment of a row of loads, any text on statics. A post past a support only takes off, so that
    fewer posts count as the worse.
    """
    worst = P * span / 4
    for count, apart in spacings:
        for n in range(2, count + 1):
            for index in range((n + 1) // 2):  # the other half is its mirror image
                e = ((n - 1) / 2 - index) * apart
                if e < span:  # else the post itself is past the support
                    beyond = apart * index * (index + 1) / 2
                    worst = max(worst, P * (n * (span - e) ** 2 / (4 * span) - beyond))
    return worst


def post_on_joist(
    name: str, gravity: Gravity, joist: Member | None, span: float | None, spacings: tuple[tuple[int, float], ...]
) -> Finding:
    """The rack's posts on one floor joist that carries them alone: the worst of a single one and of its rows."""
    id, subject, question = f"floor/{name}/joist", f"rack {name}", "Does one floor joist carry the posts?"
    P = gravity.post_worst
    if joist is None or span is None:
        reason = (
            "the floor's joists are not in the file: measure their size and span from below (joist_size, joist_span)"
        )
        return not_assessed(id, TOPIC, subject, question, "moment", reason, advice_key="floor")
    if joist.strength is None:
        return not_assessed(id, TOPIC, subject, question, "moment", joist.without_strength, advice_key="floor")
    values = adjusted(joist.strength, "permanent", Service(False), joist.incised)
    S = float(section_modulus(joist.thickness, joist.width))
    M, allowed = posts_on_joist(span, P, spacings), values.F_b * S
    rows = ", ".join(f"{count} posts {apart / INCH:.3g} in apart" for count, apart in spacings)
    lines = (
        step(
            "M",
            "P*L*k",
            {"P": (P, "N"), "L": (span, "m"), "k": M / (P * span)},
            (M, "N·m"),
            f"statics: k is 1/4 for one post in the middle, more where posts of a row stand on the joist ({rows}), "
            "set where they bend it most",
        ),
        adjusted_step("F_b", joist.strength, values),
        step(
            "M_allow", "F_b*S", {"F_b": (values.F_b, "N/m²"), "S": (S, "m³")}, (allowed, "N·m"), "NDS 2018 section 3.3"
        ),
    )
    return finding(
        id,
        TOPIC,
        subject,
        question,
        M,
        allowed,
        "moment",
        "NDS 2018 section 3.3, bending; no other joist helps; the floor's own and other loads, shear and sag are not in it",
        advice_key="floor",
        steps=lines,
        values=(*joist.values, *values.values),
    )


def _against(
    id: str,
    subject: str,
    question: str,
    p: float,
    floor: FloorParts,
    lines: tuple[Step, ...],
    values: tuple[Value, ...],
) -> Finding:
    if floor.live_load is None or floor.value is None:
        return not_assessed(
            id,
            TOPIC,
            subject,
            question,
            "pressure",
            SLAB,
            demand=p,
            advice_key="floor slab",
            steps=lines,
            values=values,
        )
    return finding(
        id,
        TOPIC,
        subject,
        question,
        p,
        floor.live_load,
        "pressure",
        f"live load: {floor.value.source}",
        advice_key="floor",
        steps=lines,
        values=(*values, floor.value),
    )
