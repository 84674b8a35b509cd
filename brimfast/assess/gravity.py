"""How does the weight go down: from deck to joists, beams, joints and posts?"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from brimfast.assess.bodies import inner_length, rack_offsets
from brimfast.assess.continuous_beam import Load, continuous_reactions, within
from brimfast.assess.weight import RackWeight, VesselWeight
from brimfast.shared.constants import GRAVITY
from brimfast.shared.installation.model import Installation


@dataclass(frozen=True)
class Gravity:
    """Loads of one rack (N): per beam-to-post joint of one side, per joist end, per post."""

    loads: tuple[Load, ...]  # what the beams of both sides carry; the first is spread over the whole rack
    joint_worst: float
    joint_worst_post: int  # counted from 1 at the left end
    joint_simple: float  # its share by simple spans
    joint_added: float  # what a beam in one piece adds to it
    side_weight: float  # what one side carries in all
    end_of_beam: float  # larger reaction at the two ends of the rack, both sides together
    largest_end: float  # largest end reaction of a single span, both sides together
    joist_end: float
    joist_line_load: float  # N per m of rack, heaviest place
    posts: tuple[float, ...]  # one side, left to right
    post_worst: float
    total: float


def _rack_loads(
    installation: Installation, name: str, weight: RackWeight, vessels: dict[str, VesselWeight]
) -> list[Load]:
    """Everything that the beams of both sides carry: rack and kit throughout, then each vessel over its length.

    A round vessel bears on the middle π/4 of its diameter: as heavy a metre as the circle is in its middle.
    """
    rack, offsets = installation.racks[name], rack_offsets(installation, name)
    dead = {part.part: part.mass * GRAVITY for part in weight.weighing.parts}
    spread = dead["beams"] + dead["joists"] + dead["deck"] + dead.get("kit", 0.0)
    loads: list[Load] = [(0.0, rack.length, spread)]
    for vessel in installation.on_rack(name):
        length = inner_length(vessel)
        start = offsets[vessel.name] + ((1 - math.pi / 4) / 2 * length if vessel.round else 0.0)
        end = start + (math.pi / 4 * length if vessel.round else length)
        loads.append((start, end, vessels[vessel.name].mass * GRAVITY))
    return loads


def rack_gravity(
    installation: Installation, name: str, weight: RackWeight, vessels: dict[str, VesselWeight]
) -> Gravity:
    """Each side carries half; vessels stand in the middle of the width.

    Beams of one bay each: simple spans, each beam end on its own fasteners. A beam in one piece: a joint
    takes what the simple spans on both sides give it, and what continuity adds; where continuity would
    relieve it, nothing is taken off: the safe side.
    """
    rack = installation.racks[name]
    dead = {part.part: part.mass * GRAVITY for part in weight.weighing.parts}
    own_post = (dead["posts"] + dead.get("braces", 0.0) + dead.get("panels", 0.0) + dead.get("sills", 0.0)) / rack.posts
    loads = _rack_loads(installation, name, weight, vessels)
    line = (dead["joists"] + dead["deck"] + dead.get("kit", 0.0)) / rack.length
    heaviest = max((load / (end - start) for start, end, load in loads[1:]), default=0.0)
    simple, added = continuous_reactions(rack.bay_length, rack.bays, loads)
    one_piece = rack.beam_runs == "whole length"
    extra = np.maximum(added, 0.0) / 2 if one_piece else np.zeros_like(added)
    ends = np.array([_largest_end(rack.bay_length, rack.bays, loads, post) for post in range(rack.bays + 1)])
    share = (simple if one_piece else ends) / 2
    joints = share + extra
    posts = simple / 2 + extra + own_post
    worst = int(np.argmax(joints))
    line_load = heaviest + line
    return Gravity(
        tuple(loads),
        float(joints[worst]),
        worst + 1,
        float(share[worst]),
        float(extra[worst]),
        float(simple.sum() / 2),
        float(max(simple[0], simple[-1])),
        float(ends.max() + 2 * extra.max()),
        line_load * rack.joist.spacing / 2,
        line_load,
        tuple(float(post) for post in posts),
        float(posts.max()),
        float(sum(load for _, _, load in loads)) + own_post * rack.posts,
    )


def _largest_end(span: float, spans: int, loads: list[Load], post: int) -> float:
    """The larger of the two beam ends that meet at a post, both sides of the rack together (N)."""
    ends = []
    for bay in (post - 1, post):
        if 0 <= bay < spans:
            inside = within(loads, bay * span, (bay + 1) * span)
            ends.append(float(continuous_reactions(span, 1, inside)[0][1 if bay == post - 1 else 0]))
    return max(ends)
