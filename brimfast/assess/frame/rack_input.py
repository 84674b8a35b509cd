"""What must be known of a rack before its frame can be built."""

from __future__ import annotations

import math
from dataclasses import dataclass

from brimfast.assess.bodies import inner_length, rack_offsets
from brimfast.assess.resolve import RackParts
from brimfast.assess.weight import RackWeight, VesselWeight
from brimfast.shared.constants import GRAVITY
from brimfast.shared.installation.joint import Joint
from brimfast.shared.installation.model import Installation
from brimfast.shared.installation.rack import Rack


@dataclass(frozen=True)
class RackInput:
    """All that the frame needs to know of one rack."""

    name: str
    rack: Rack
    parts: RackParts
    weight: RackWeight
    joints: dict[str, Joint]
    loads: tuple[tuple[float, float, int, float, float], ...]  # weight N, height m, tier, start and end along it (m)

    @property
    def across(self) -> float:
        """From post line to post line (m)."""
        return self.rack.width - self.parts.post.width


def rack_input(
    installation: Installation,
    name: str,
    parts: RackParts,
    weight: RackWeight,
    vessels: dict[str, VesselWeight],
) -> RackInput:
    rack, offsets = installation.racks[name], rack_offsets(installation, name)
    loads = []
    for part in weight.weighing.parts:
        if part.tier:
            loads.append((part.mass * GRAVITY, part.height, part.tier, 0.0, rack.length))
    for vessel in installation.on_rack(name):
        found, start, length = vessels[vessel.name], offsets[vessel.name], inner_length(vessel)
        trim = (1 - math.pi / 4) / 2 * length if vessel.round else 0.0
        height = rack.decks[vessel.tier - 1] + found.height
        loads.append((found.mass * GRAVITY, height, vessel.tier, start + trim, start + length - trim))
    joints = {joint.where: joint for joint in installation.joints if joint.rack == name}
    return RackInput(name, rack, parts, weight, joints, tuple(loads))
