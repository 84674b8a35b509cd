"""What moves water: pumps and supplies."""

from __future__ import annotations

from typing import Annotated

from pydantic import ConfigDict, Field, model_validator

from brimfast.shared.installation.fields import Bore, Flow, Height, Name, Part, Quantity, YesNo, refuse


class Pump(Part):
    """A pump from one vessel to another.

    intake: height of the lowest point it can draw from, above the source's base.
    outlet: height of the pipe's open end above the receiver's base (a submerged end siphons back).
    """

    model_config = ConfigDict(strict=True, extra="forbid", frozen=True, allow_inf_nan=False, populate_by_name=False)

    name: Name
    source: Name = Field(alias="from")
    receiver: Name = Field(alias="to")
    flow: Flow
    intake: Height = 0.0
    outlet: Height | None = None
    pipe: Bore | None = None
    anti_siphon: YesNo = False
    slack: Height | None = None  # how far its pipe gives sideways where one end moves
    float_switch: YesNo = False

    @model_validator(mode="after")
    def _two_vessels(self) -> Pump:
        if self.source == self.receiver:
            raise refuse("E-FIT-001", "found a pump from a vessel to itself; expected two vessels")
        return self


class Supply(Part):
    """A tap or hose that fills a vessel, and how long it may run unseen."""

    name: Name
    receiver: Name = Field(alias="to")
    flow: Flow
    unattended: Annotated[float, Quantity("time", "1 min", "60 d")]
    float_valve: YesNo = False
