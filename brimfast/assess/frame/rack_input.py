"""What must be known of a rack before its frame can be built."""

from __future__ import annotations

from dataclasses import dataclass

from brimfast.assess.bodies import bearing, between_posts, rack_offsets
from brimfast.assess.parts import RackParts
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
        return between_posts(self.rack, self.parts)


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
        found, height = vessels[vessel.name], rack.decks[vessel.tier - 1] + vessels[vessel.name].height
        loads.append((found.mass * GRAVITY, height, vessel.tier, *bearing(vessel, offsets[vessel.name])))
    joints = installation.joints_of(name)
    return RackInput(name, rack, parts, weight, joints, tuple(loads))
