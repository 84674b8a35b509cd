"""A beam-to-post joint: its fasteners in their places, and what one of them may carry."""

from __future__ import annotations

from dataclasses import dataclass

from brimfast.assess.joints.capacity import FastenerCapacity, Sides, lateral
from brimfast.assess.joints.case import RackCase
from brimfast.assess.joints.layout import Layout
from brimfast.shared.installation.joint import Joint

WHERE = "beam to post"


@dataclass(frozen=True)
class BeamJoint:
    """The joint with its layout and its capacity by load duration."""

    case: RackCase
    joint: Joint
    layout: Layout

    def capacity(self, duration: str, along: bool = False) -> FastenerCapacity:
        parts, rack = self.case.parts, self.case.rack
        sides = Sides(parts.beam.thickness, parts.beam.G, parts.post.thickness, parts.post.G, rack.paired)
        return lateral(
            self.joint.fasteners,
            sides,
            duration,
            self.case.service(self.joint),
            C_g=self.layout.C_g,
            C_Delta=self.layout.C_Delta_along if along else self.layout.C_Delta,
        )

    @property
    def places(self) -> int:
        return int(self.layout.places.shape[0])
