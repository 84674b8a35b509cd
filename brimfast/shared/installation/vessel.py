"""What holds water: beds, tanks, sumps and barrels, weighed or measured."""

from __future__ import annotations

import math
from typing import Annotated, Any, ClassVar

from pydantic import BeforeValidator, model_validator

from brimfast.shared.constants import WATER_DENSITY
from brimfast.shared.installation.fields import (
    Count,
    Depth,
    Footprint,
    Force,
    Height,
    Name,
    OrText,
    Part,
    Place,
    PlanLength,
    Quantity,
    QuantityPair,
    Volume,
    Weight,
    Words,
    refuse,
    whole_number,
)
from brimfast.shared.installation.pan import Pan
from brimfast.shared.installation.rack import Anchors, ComponentFactors, Friction
from brimfast.shared.installation.sourced import Sourced
from brimfast.shared.installation.timber import PanelText, TimberText

VESSEL_KINDS = ("bed", "tank", "sump", "barrel")
MEASURED_KEYS = (
    "length",
    "width",
    "diameter",
    "depth",
    "water",
    "fill",
    "fill_depth",
    "wall",
    "empty_mass",
    "stand",
    "lid",
)  # none of which a weighed vessel has


class Fill(Part):
    """The medium in a vessel: a row of the table by name, or its porosity and grain density."""

    name: Name | None = None
    porosity: Annotated[float, Quantity("share", "1 %", "95 %")] | None = None
    grain_density: Annotated[float, Quantity("density", "10 kg/m3", "8000 kg/m3")] | None = None

    @model_validator(mode="after")
    def _named_or_given(self) -> Fill:
        if self.name is None and (self.porosity is None or self.grain_density is None):
            raise refuse("E-KEY-003", "found a fill without a name; expected a name, or porosity with grain_density")
        return self


def _fill(value: Any) -> Any:
    return {"name": value} if isinstance(value, str) else value


class Stand(Part):
    """What lifts a vessel off the floor; its footprint is the vessel's unless it is given."""

    height: Annotated[float, Quantity("length", "1 in", "8 ft")]
    mass: Annotated[float, Quantity("mass", "0 lb", "5000 lb")] = 0.0
    footprint: Footprint | None = None


class Lid(Sourced):
    """What covers a vessel and is held down all round; its openings together, for pipes and air."""

    fastenings: Annotated[int, BeforeValidator(whole_number(4, 200))]
    allowable: Force | None = None  # of one of them, upward
    source: Name | None = None
    opening: Annotated[tuple[float, float], QuantityPair("0 in", "3 ft")] | None = None
    mass: Annotated[float, Quantity("mass", "0 lb", "5000 lb")] = 0.0

    SOURCED: ClassVar[tuple[str, ...]] = ("allowable",)

    @property
    def open_area(self) -> float:
        return math.prod(self.opening) if self.opening is not None else 0.0


class Vessel(Part):
    """One vessel. Weighed: mass, centre_of_mass, footprint. Measured: sizes, depth and water."""

    name: Name
    kind: Annotated[str, Words(VESSEL_KINDS)]
    on: Name = "floor"
    tier: Count = 1
    at: Place | None = None
    offset: Annotated[float, Quantity("distance", "0 ft", "200 ft")] | None = None

    mass: Weight | None = None
    centre_of_mass: Annotated[float, Quantity("length", "0.5 in", "12 ft")] | None = None
    footprint: Footprint | None = None
    holds: Volume | None = None

    length: PlanLength | None = None
    width: PlanLength | None = None
    diameter: PlanLength | None = None
    depth: Depth | None = None
    water: Height | None = None
    fill: Annotated[Fill, BeforeValidator(_fill), OrText()] | None = None
    fill_depth: Height | None = None
    wall: PanelText | None = None
    sides: TimberText | None = None
    ties: Annotated[int, BeforeValidator(whole_number(0, 50))] = 0
    empty_mass: Weight | None = None
    kit: Annotated[float, Quantity("mass", "0 lb", "5000 lb")] = 0.0
    stand: Stand | None = None
    lid: Lid | None = None
    pan: Pan | None = None

    base: Name | None = None
    friction: Annotated[Friction, OrText()] | None = None
    anchors: Anchors | None = None
    component: ComponentFactors | None = None

    @property
    def weighed(self) -> bool:
        return self.mass is not None

    @property
    def raised(self) -> float:
        """Height of its bottom above what it stands on (m)."""
        return self.stand.height if self.stand is not None else 0.0

    @property
    def filled(self) -> float:
        """Depth of its fill (m): to the rim unless fill_depth says otherwise; 0 without fill."""
        if self.fill is None or self.depth is None:
            return 0.0
        return self.fill_depth if self.fill_depth is not None else self.depth

    @property
    def round(self) -> bool:
        return self.diameter is not None

    @model_validator(mode="after")
    def _weighed_or_measured(self) -> Vessel:
        weighed = [key for key in ("mass", "centre_of_mass", "footprint") if getattr(self, key) is not None]
        measured = [key for key in MEASURED_KEYS if getattr(self, key) is not None]
        if weighed and measured:
            raise refuse(
                "E-KEY-003",
                f"found {weighed[0]} (a weighed vessel) beside {measured[0]} (a measured one); expected one way",
            )
        if weighed:
            missing = [key for key in ("mass", "centre_of_mass", "footprint") if key not in weighed]
            if missing:
                raise refuse("E-KEY-002", f"found {weighed[0]} without {missing[0]}; a weighed vessel needs both")
            assert self.mass is not None
            if self.holds is not None and self.holds * WATER_DENSITY > self.mass * 1.001:
                raise refuse(
                    "E-FIT-001", "found holds with more water than the vessel weighs; expected the weight when full"
                )
            return self
        if self.holds is not None:
            raise refuse("E-KEY-003", "found holds without mass; expected it only with a weighed vessel")
        if self.diameter is not None and (self.length is not None or self.width is not None):
            raise refuse("E-KEY-003", "found diameter beside length or width; expected a round or a square vessel")
        needed = ["depth", "water"] if self.diameter is not None else ["length", "width", "depth", "water"]
        missing = [key for key in needed if getattr(self, key) is None]
        if missing:
            raise refuse(
                "E-KEY-002",
                f"missing {', '.join(missing)}; expected mass, centre_of_mass and footprint (weighed), or length and "
                "width (or diameter), depth and water (measured)",
            )
        assert self.depth is not None and self.water is not None
        if self.water > self.depth * (1 + 1e-9):
            raise refuse(
                "E-FIT-001", "found water deeper than the vessel's depth; expected water up to the rim at most"
            )
        if self.fill_depth is not None and self.fill is None:
            raise refuse("E-KEY-003", "found fill_depth without fill; expected the name of the fill as well")
        if self.fill_depth is not None and self.fill_depth > self.depth * 1.5:
            raise refuse(
                "E-FIT-001", "found a fill half as high again as the vessel; expected fill_depth up to 1.5 depth"
            )
        return self
