"""What the posts of a rack carry by themselves, and how a mass at a point is pushed."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from brimfast.assess.frame.builder import Builder, PostPoint
from brimfast.assess.frame.places import SIDES
from brimfast.assess.frame.rack_input import RackInput
from brimfast.shared.constants import GRAVITY

Array = NDArray[np.float64]


def push(builder: Builder, one: RackInput, axes: Array, point: int, weight: float, along: Array, across: Array) -> None:
    moved = np.stack([along * axes[0, way] + across * axes[1, way] for way in (0, 1)], axis=1)
    builder.loads.append((one.name, point, weight, moved))


def post_masses(builder: Builder, one: RackInput, axes: Array, post: PostPoint) -> None:
    """What the posts carry by themselves, shared by the points where it is; the rest of its height as a moment."""
    rack, weight = one.rack, one.weight
    ends = list(SIDES)
    for part in weight.weighing.parts:
        if part.tier:
            continue
        shares: dict[int, float] = {}
        if part.part == "posts":
            for line in range(rack.bays + 1):
                for side in ends:
                    chain = builder.posts[one.name, line, side]
                    z = [builder.points[point][2] for point in chain]
                    total = z[-1] - z[0]
                    for a, b in zip(range(len(chain) - 1), range(1, len(chain)), strict=True):
                        for index in (a, b):
                            shares[chain[index]] = shares.get(chain[index], 0.0) + (z[b] - z[a]) / total / 2
        else:
            height = 0.0 if part.part == "sills" else part.height
            for line in range(rack.bays + 1):
                for side in ends:
                    shares[post(line, side, height)] = 1.0
        whole = sum(shares.values())
        mean = sum(share * builder.points[point][2] for point, share in shares.items()) / whole
        for point, share in shares.items():
            w = part.mass * GRAVITY * share / whole
            along, across = np.zeros(6), np.zeros(6)
            along[:3], across[:3] = w * axes[0], w * axes[1]
            along[3:] = w * (part.height - mean) * np.cross(axes[2], axes[0])
            across[3:] = w * (part.height - mean) * np.cross(axes[2], axes[1])
            push(builder, one, axes, point, w, along, across)
