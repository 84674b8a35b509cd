"""Lights and other things that hang on chains or wires, from a rack or from the ceiling."""

from __future__ import annotations

from typing import Annotated, Self

from pydantic import ConfigDict, Field, model_validator

from brimfast.shared.installation.fields import Count, Force, Height, Name, Part, Quantity, refuse

CEILING = "ceiling"


class Hung(Part):
    """One thing on hangers that let it swing.

    drop: from where the hangers begin down to its centre of mass. clearance: how far it may swing to a side before
    it hits something. above_water: its lowest point above the water beneath. allowable: of one hanger, with its hook
    and what holds it. height_ratio: of a ceiling, as the site's of the floor.
    """

    model_config = ConfigDict(strict=True, extra="forbid", frozen=True, allow_inf_nan=False, populate_by_name=False)

    name: Name
    held_by: Name = Field(alias="from")
    mass: Annotated[float, Quantity("mass", "0.1 lb", "2000 lb")]
    drop: Annotated[float, Quantity("length", "1 in", "12 ft")]
    rail: Count | None = None
    hangers: Count = 2
    clearance: Height | None = None
    above_water: Height | None = None
    over: Name | None = None
    allowable: Force | None = None
    source: Name | None = None
    height_ratio: Annotated[float, Quantity("number", "0", "1")] | None = None

    @property
    def from_ceiling(self) -> bool:
        return self.held_by == CEILING

    @model_validator(mode="after")
    def _fits_together(self) -> Self:
        if (self.allowable is None) != (self.source is None):
            there, missing = ("allowable", "source") if self.source is None else ("source", "allowable")
            raise refuse("E-KEY-003", f"found {there} without {missing}; expected both, or neither")
        if self.from_ceiling and self.rail is not None:
            raise refuse("E-KEY-003", "found rail for a thing on the ceiling; expected it only on a rack")
        if not self.from_ceiling and self.height_ratio is not None:
            raise refuse(
                "E-KEY-003",
                "found height_ratio for a thing on a rack; expected it for a ceiling (a rack has the site's)",
            )
        return self
