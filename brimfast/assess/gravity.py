"""How does the weight go down: from deck to joists, beams, joints and posts?"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from brimfast.assess.bodies import bearing, rack_offsets
from brimfast.assess.continuous_beam import Load, continuous_reactions, within
from brimfast.assess.weight import HUNG, RackWeight, VesselWeight
from brimfast.shared.constants import GRAVITY
from brimfast.shared.installation.model import Installation


@dataclass(frozen=True)
class TierGravity:
    """Loads of one tier of a rack (N): per beam-to-post joint of one side, per joist end."""

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
    posts: tuple[float, ...]  # what it puts on each post of one side, left to right


@dataclass(frozen=True)
class Gravity:
    """Loads of one rack (N), tier by tier from below; its posts carry all tiers.

    Asked for a joint, a beam or a joist it answers for the tier where that is worst: one kind of joint serves all.
    """

    tiers: tuple[TierGravity, ...]
    posts: tuple[float, ...]  # one side, left to right
    total: float

    @property
    def post_worst(self) -> float:
        return max(self.posts)

    @property
    def worst_tier(self) -> int:
        """The tier of the worst beam-to-post joint, counted from 1."""
        return max(range(len(self.tiers)), key=lambda index: self.tiers[index].joint_worst) + 1

    @property
    def _worst(self) -> TierGravity:
        return self.tiers[self.worst_tier - 1]

    @property
    def loads(self) -> tuple[Load, ...]:
        return self._worst.loads

    @property
    def joint_worst(self) -> float:
        return self._worst.joint_worst

    @property
    def joint_worst_post(self) -> int:
        return self._worst.joint_worst_post

    @property
    def joint_simple(self) -> float:
        return self._worst.joint_simple

    @property
    def joint_added(self) -> float:
        return self._worst.joint_added

    @property
    def side_weight(self) -> float:
        """Of the worst joint's tier."""
        return self._worst.side_weight

    @property
    def end_of_beam(self) -> float:
        return max(tier.end_of_beam for tier in self.tiers)

    @property
    def largest_end(self) -> float:
        return max(tier.largest_end for tier in self.tiers)

    @property
    def joist_end(self) -> float:
        return max(tier.joist_end for tier in self.tiers)

    @property
    def joist_line_load(self) -> float:
        return max(tier.joist_line_load for tier in self.tiers)


def rack_gravity(
    installation: Installation, name: str, weight: RackWeight, vessels: dict[str, VesselWeight]
) -> Gravity:
    """Each side carries half; vessels stand in the middle of the width.

    A post carries what every tier puts on it, and its share of what hangs on the posts themselves (braces, panels,
    rails, sills, the posts): an even one; of what hangs from the rack each post carries all, as it may hang beside it.
    """
    rack = installation.racks[name]
    tiers = tuple(
        _tier_gravity(installation, name, tier, weight, vessels) for tier in range(1, len(weight.beam_tops) + 1)
    )
    on_posts = [part for part in weight.weighing.parts if part.tier == 0]
    hung = sum(part.mass for part in on_posts if part.part.startswith(HUNG)) * GRAVITY
    own_post = (sum(part.mass for part in on_posts) * GRAVITY - hung) / rack.posts
    posts = tuple(sum(on_it) + own_post + hung for on_it in zip(*(tier.posts for tier in tiers), strict=True))
    total = sum(load for tier in tiers for _, _, load in tier.loads) + own_post * rack.posts + hung
    return Gravity(tiers, posts, total)


def _tier_loads(
    installation: Installation, name: str, tier: int, weight: RackWeight, vessels: dict[str, VesselWeight]
) -> list[Load]:
    """Everything that a tier's beams of both sides carry: tier and kit throughout, then each vessel where it bears."""
    rack, offsets = installation.racks[name], rack_offsets(installation, name)
    spread = sum(part.mass for part in weight.weighing.parts if part.tier == tier) * GRAVITY
    loads: list[Load] = [(0.0, rack.length, spread)]
    for vessel in installation.on_rack(name):
        if vessel.tier != tier:
            continue
        loads.append((*bearing(vessel, offsets[vessel.name]), vessels[vessel.name].mass * GRAVITY))
    return loads


def _tier_gravity(
    installation: Installation, name: str, tier: int, weight: RackWeight, vessels: dict[str, VesselWeight]
) -> TierGravity:
    """Beams of one bay each: simple spans, each beam end on its own fasteners. A beam in one piece: a joint
    takes what the simple spans on both sides give it, and what continuity adds; where continuity would
    relieve it, nothing is taken off: the safe side.
    """
    rack = installation.racks[name]
    loads = _tier_loads(installation, name, tier, weight, vessels)
    on_joists = [part.mass for part in weight.weighing.parts if part.tier == tier and not part.part.startswith("beams")]
    line = sum(on_joists) * GRAVITY / rack.length
    heaviest = max((load / (end - start) for start, end, load in loads[1:]), default=0.0)
    simple, added = continuous_reactions(rack.bay_length, rack.bays, loads)
    one_piece = rack.beam_runs == "whole length"
    extra = np.maximum(added, 0.0) / 2 if one_piece else np.zeros_like(added)
    ends = np.array([_largest_end(rack.bay_length, rack.bays, loads, post) for post in range(rack.bays + 1)])
    share = (simple if one_piece else ends) / 2
    joints = share + extra
    worst = int(np.argmax(joints))
    line_load = heaviest + line
    return TierGravity(
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
        tuple(float(post) for post in simple / 2 + extra),
    )


def _largest_end(span: float, spans: int, loads: list[Load], post: int) -> float:
    """The larger of the two beam ends that meet at a post, both sides of the rack together (N)."""
    ends = []
    for bay in (post - 1, post):
        if 0 <= bay < spans:
            inside = within(loads, bay * span, (bay + 1) * span)
            ends.append(float(continuous_reactions(span, 1, inside)[0][1 if bay == post - 1 else 0]))
    return max(ends)
