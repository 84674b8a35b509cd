"""Which water is free to slosh? Only what stands above the fill, in a vessel whose sizes are known."""

from __future__ import annotations

from dataclasses import dataclass

from brimfast.assess.slosh.equivalents import DEEPEST, RECTANGULAR, ROUND, SHALLOWEST, Shape
from brimfast.assess.weight import VesselWeight
from brimfast.shared.constants import GRAVITY, WATER_DENSITY
from brimfast.shared.installation.vessel import Vessel

WAYS = {"along": "along its length", "across": "across its width", "any": "in any direction"}


@dataclass(frozen=True)
class FreeWater:
    """Water above the fill; lengths in m, bottom and rim above the vessel's base, weight in N."""

    vessel: str
    shape: Shape
    lengths: dict[str, float]  # inside, by way
    depth: float
    freeboard: float
    bottom: float
    area: float

    @property
    def weight(self) -> float:
        return self.area * self.depth * WATER_DENSITY * GRAVITY

    @property
    def volume(self) -> float:
        return self.area * self.depth

    def why_not(self, way: str) -> str:
        """Why the equivalents do not answer in this direction; empty where they do."""
        ratio = self.depth / self.lengths[way]
        if ratio < SHALLOWEST * (1 - 1e-12):
            return "its free water is shallower than a tenth of its length: bores run in it, for which there is no formula here"
        if ratio > DEEPEST * (1 + 1e-12):
            return "its water is deeper than twice its length, where the formulas are not compared with exact theory"
        return ""


def free_water(vessel: Vessel, weight: VesselWeight) -> FreeWater | None:
    """None where no water stands above the fill, or where only the weight is known."""
    if vessel.weighed or vessel.water is None or vessel.depth is None:
        return None
    depth = vessel.water - vessel.filled
    if depth <= 1e-9:
        return None
    part = next(part for part in weight.weighing.parts if part.part == "water")
    if vessel.diameter is not None:
        lengths = {"any": vessel.diameter}
    else:
        assert vessel.length is not None and vessel.width is not None
        lengths = {"along": vessel.length, "across": vessel.width}
    shape = ROUND if vessel.round else RECTANGULAR
    return FreeWater(
        vessel.name, shape, lengths, depth, vessel.depth - vessel.water, part.height - depth / 2, weight.area
    )
