"""Plain statics that several joints share: an even force against n fasteners, the shares of a sideways force."""

from __future__ import annotations

import math
from itertools import pairwise

from brimfast.assess.joints.capacity import FastenerCapacity
from brimfast.assess.joints.case import TOPIC, RackCase
from brimfast.shared.findings import Finding, Step, finding, step


def shared(
    id: str,
    subject: str,
    question: str,
    demand: float,
    capacity: FastenerCapacity,
    theta_side: float,
    theta_main: float,
    lines: tuple[Step, ...],
    combination: str,
    advice_key: str,
    details: dict[str, str] | None = None,
    most: float = math.inf,
    most_step: tuple[Step, ...] = (),
) -> Finding:
    """A force that all fasteners share evenly, against n Z' (and no more than `most`, such as a tie's steel)."""
    each = float(capacity.each(theta_side, theta_main))
    mode, steps = capacity.steps(theta_side, theta_main)
    total = min(each * capacity.acting, most)
    inputs: dict[str, float | tuple[float, str]] = {"n": float(capacity.acting), "Z_each": (each, "N")}
    expression = "n*Z_each"
    if most < math.inf:
        expression, inputs["T_all"] = "min(n*Z_each, T_all)", (most, "N")
    line = step("R_allow", expression, inputs, (total, "N"), capacity.basis)
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
        steps=(*lines, *steps, *most_step, line),
        values=capacity.values,
        details={"governs": mode, "fasteners": f"{capacity.acting}", **(details or {})},
    )


def face_share(case: RackCase, direction: str, storey: int = 1) -> tuple[float, float]:
    """Share of the rack's force on one face, and how many stiff bays of that face share it in a storey.

    Both faces stiff: half on each, over the fewer bays. One alone: it takes all. Every storey is taken to carry the
    whole force: the safe side. Plain statics.
    """
    counts = case.rack.stiff_bays(direction, storey)
    return (0.5, float(min(counts))) if min(counts) else (1.0, float(max(counts)))


def sideways_shares(case: RackCase) -> tuple[float, float, tuple[Step, ...]]:
    """Sideways force (N) and moment (N·m) on one beam-to-post joint along the rack, strength level.

    Braced on both faces: each face takes half, and the joint at a braced bay hands its whole share to the
    brace, in the storey with the fewest; no moment. Otherwise all posts share, hinged at the foot: moment = share × height
    of the beam, with half the way to the beams above where there are more tiers (see `_lever`).
    """
    F, rack = case.force.horizontal, case.rack
    if rack.braced("along"):
        storeys = [face_share(case, "along", storey) for storey in range(1, len(rack.decks) + 1)]
        k_f, bays = min(storeys, key=lambda found: found[1])
        share = k_f * F / bays
        note = "plain statics: each face half; the braced bays of the face share"
        return share, 0.0, (step("V", "F/2/n_b", {"F": (F, "N"), "n_b": bays}, (share, "N"), note),)
    share = F / rack.posts
    lever = _lever(case.weight.beam_centres)
    moment = share * lever
    tiers = "; between tiers its moment changes sign midway" if len(case.weight.beam_centres) > 1 else ""
    first = step(
        "V",
        "F/n_p",
        {"F": (F, "N"), "n_p": float(rack.posts)},
        (share, "N"),
        "plain statics: no brace on both long faces, so all posts share",
    )
    second = step(
        "M",
        "V*h_b",
        {"V": (share, "N"), "h_b": (lever, "m")},
        (moment, "N·m"),
        f"plain statics: post hinged at the foot, held by the joint at the beam's middle{tiers}",
    )
    return share, moment, (first, second)


def _lever(heights: tuple[float, ...]) -> float:
    """Moment over sideways share of the worst joint of a post that no brace holds (m); heights of the beams, from below.

    A beam's joint takes what bends the post below it and above it: from the floor, where it is hinged, or from midway
    between two tiers, to midway to the next. Every storey is taken to carry the whole force: the safe side.
    """
    inner = [(low + high) / 2 for low, high in pairwise(heights)]
    return max(high - low for low, high in pairwise((0.0, *inner, heights[-1])))
