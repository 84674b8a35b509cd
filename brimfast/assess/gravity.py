"""How does the weight go down: from deck to joists, beams, joints and posts?"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.assess.bodies import rack_offsets
from brimfast.assess.resolve import RackParts
from brimfast.assess.weight import RackWeight, VesselWeight
from brimfast.data_tables.loader import factor_si
from brimfast.shared.constants import GRAVITY
from brimfast.shared.installation.model import Installation
from brimfast.shared.installation.rack import Rack

Array = NDArray[np.float64]


def span_reactions(span: ArrayLike, start: ArrayLike, end: ArrayLike, load: ArrayLike) -> tuple[Array, Array]:
    """Left and right reaction (N) of a simple span under a uniform load on part of it.

    span (m); the load (N in all) lies from start to end (m from the left support). Statics: the right
    reaction is load · (start + end) / (2 span).
    """
    load = np.asarray(load, float)
    right = load * (np.asarray(start, float) + np.asarray(end, float)) / (2 * np.asarray(span, float))
    return np.asarray(load - right), np.asarray(right)


@dataclass(frozen=True)
class Gravity:
    """Loads of one rack (N): per beam-to-post joint of one side, per joist end, per post."""

    joint_worst: float
    joint_worst_post: int  # counted from 1 at the left end
    joint_share: float  # before the allowance for a beam over several posts
    continuity: float
    joist_end: float
    joist_line_load: float  # N per m of rack, heaviest place
    posts: tuple[float, ...]  # one side, left to right, with the allowance
    post_worst: float
    total: float


def rack_gravity(
    installation: Installation,
    name: str,
    parts: RackParts,
    weight: RackWeight,
    vessels: dict[str, VesselWeight],
) -> Gravity:
    """Simple spans post to post; each side carries half. Vessels stand in the middle of the width.

    A beam that runs over more than two posts takes more at a middle post than its halves: 1.25 times is
    allowed for there (two equal spans), and its ends are given no less than their halves: the safe side.
    """
    rack = installation.racks[name]
    offsets = rack_offsets(installation, name)
    dead = {part.part: part.mass * GRAVITY for part in weight.weighing.parts}
    spread = dead["beams"] + dead["joists"] + dead["deck"] + dead.get("kit", 0.0)
    loads: list[tuple[float, float, float]] = [(0.0, rack.length, spread)]
    line = (dead["joists"] + dead["deck"]) / rack.length
    heaviest = 0.0
    for vessel in installation.on_rack(name):
        found = vessels[vessel.name]
        inner = vessel.footprint[0] if vessel.footprint else vessel.diameter or vessel.length or 0.0
        start = offsets[vessel.name]
        loads.append((start, start + inner, found.mass * GRAVITY))
        heaviest = max(heaviest, found.mass * GRAVITY / inner)
    left, right = _bay_reactions(rack, loads)
    continuity = factor_si("continuous_beam_reaction") if rack.beam_runs == "whole length" and rack.bays > 1 else 1.0
    joints: list[float] = []
    shares: list[float] = []
    posts: list[float] = []
    own_post = dead["posts"] / rack.posts
    for post in range(rack.bays + 1):
        from_left = right[post - 1] if post > 0 else 0.0
        from_right = left[post] if post < rack.bays else 0.0
        middle = 0 < post < rack.bays
        factor = continuity if middle else 1.0
        both = (from_left + from_right) / 2
        share = both if rack.beam_runs == "whole length" else max(from_left, from_right) / 2
        shares.append(share)
        joints.append(share * factor)
        posts.append(both * factor + own_post)
    worst = int(np.argmax(joints))
    middle = 0 < worst < rack.bays
    line_load = heaviest + line
    return Gravity(
        joints[worst],
        worst + 1,
        shares[worst],
        continuity if middle else 1.0,
        line_load * rack.joist.spacing / 2,
        line_load,
        tuple(posts),
        max(posts),
        float(sum(load for _, _, load in loads)) + dead["posts"],
    )


def _bay_reactions(rack: Rack, loads: list[tuple[float, float, float]]) -> tuple[list[float], list[float]]:
    left, right = [0.0] * rack.bays, [0.0] * rack.bays
    for start, end, load in loads:
        for bay in range(rack.bays):
            low = max(start, bay * rack.bay_length)
            high = min(end, (bay + 1) * rack.bay_length)
            if high <= low:
                continue
            part = load * (high - low) / (end - start)
            origin = bay * rack.bay_length
            at_left, at_right = span_reactions(rack.bay_length, low - origin, high - origin, part)
            left[bay] += float(at_left)
            right[bay] += float(at_right)
    return left, right
