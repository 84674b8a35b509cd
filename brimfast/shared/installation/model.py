"""The whole installation."""

from __future__ import annotations

import math
from typing import Annotated

from pydantic import Field

from brimfast.shared.installation.doubt import Doubt
from brimfast.shared.installation.fields import Name, Part, Words, YesNo
from brimfast.shared.installation.flow import Pipe, Pump, Supply
from brimfast.shared.installation.hung import Hung
from brimfast.shared.installation.joint import Joint
from brimfast.shared.installation.rack import Rack
from brimfast.shared.installation.site import Exposure, PriceOrAmount, Room, Site
from brimfast.shared.installation.vessel import Vessel
from brimfast.shared.units import System


class Installation(Part):
    installation: Name
    invented: YesNo = False
    units: Annotated[str, Words(("us", "si"))] = "us"
    site: Site
    room: Room
    racks: Annotated[dict[Name, Rack], Field(max_length=30)] = Field(default_factory=dict)
    vessels: Annotated[list[Vessel], Field(min_length=1, max_length=200)]
    joints: Annotated[list[Joint], Field(max_length=200)] = Field(default_factory=list)
    pumps: Annotated[list[Pump], Field(max_length=100)] = Field(default_factory=list)
    pipes: Annotated[list[Pipe], Field(max_length=100)] = Field(default_factory=list)
    supplies: Annotated[list[Supply], Field(max_length=50)] = Field(default_factory=list)
    hung: Annotated[list[Hung], Field(max_length=100)] = Field(default_factory=list)
    exposure: Exposure = Field(default_factory=Exposure)
    doubt: Doubt = Field(default_factory=Doubt)
    prices: Annotated[dict[Name, PriceOrAmount], Field(max_length=100)] = Field(default_factory=dict)

    @property
    def system(self) -> System:
        return "si" if self.units == "si" else "us"

    def vessel(self, name: str) -> Vessel:
        return next(vessel for vessel in self.vessels if vessel.name == name)

    def on_rack(self, rack: str) -> list[Vessel]:
        return [vessel for vessel in self.vessels if vessel.on == rack]

    def joints_of(self, rack: str) -> dict[str, Joint]:
        """By where in the rack they are."""
        return {joint.where: joint for joint in self.joints if joint.rack == rack}

    def base_of(self, vessel: Vessel) -> float:
        """Height of its bottom above the floor (m)."""
        rack = self.racks.get(vessel.on)
        if rack is None:
            return vessel.raised
        return vessel.raised + rack.decks[min(vessel.tier, len(rack.decks)) - 1]

    def on_floor(self) -> list[Vessel]:
        return [vessel for vessel in self.vessels if vessel.on == "floor"]


def plan_size(vessel: Vessel) -> tuple[float, float]:
    """Outside length and width in plan (m), as far as known without wall thickness."""
    if vessel.footprint is not None:
        return vessel.footprint
    if vessel.diameter is not None:
        return vessel.diameter, vessel.diameter
    assert vessel.length is not None and vessel.width is not None
    return vessel.length, vessel.width


def plan_area(vessel: Vessel) -> float:
    length, width = plan_size(vessel)
    return math.pi / 4 * length**2 if vessel.round else length * width


def plan_perimeter(vessel: Vessel) -> float:
    """Round its outside (m)."""
    length, width = plan_size(vessel)
    return math.pi * length if vessel.round else 2 * (length + width)


def standing_size(vessel: Vessel) -> tuple[float, float]:
    """What a vessel takes of the floor (m): its own size or its stand's, the larger each way."""
    own = plan_size(vessel)
    stand = vessel.stand.footprint if vessel.stand is not None and vessel.stand.footprint is not None else own
    return max(own[0], stand[0]), max(own[1], stand[1])
