"""What moves water: pumps, pipes that it runs through by itself, and supplies."""

from __future__ import annotations

import itertools
import re
from typing import Annotated, Any

from pydantic import BeforeValidator, ConfigDict, Field, model_validator

from brimfast.shared import units
from brimfast.shared.installation.fields import (
    Bore,
    Flow,
    Height,
    Name,
    Part,
    Quantity,
    Share,
    TextOnly,
    Words,
    YesNo,
    refuse,
    shown,
    whole_number,
)

PIPE_MATERIALS = ("pvc", "hose", "copper", "steel")
HOUSE_DRAIN = "house drain"  # where a pipe may end besides in a vessel
# words that stand for places and ways of the water network, so that no vessel, room, pump or pipe may be called so
RESERVED_PLACES = ("the room", "outside", "floor drains", HOUSE_DRAIN, "mains")
RESERVED_ENDINGS = (
    ", back",
    ", on",
    ", way back",
    ", back to the floor",
    ", torn",
    ", torn seam",
    ", broken above",
    ", broken below",
    ", over its rim",
)
PASSES = ("bottom", "wall", "rim")

PipeLength = Annotated[float, Quantity("distance", "1 in", "300 ft")]
Material = Annotated[str, Words(PIPE_MATERIALS)]
Bends = Annotated[int, BeforeValidator(whole_number(0, 50))]


def _curve_point(value: Any) -> tuple[float, float]:
    halves = re.split(r"\s+at\s+", value.strip()) if isinstance(value, str) else []
    if len(halves) != 2:
        raise refuse("E-TYPE-001", f"found {shown(value)}; expected a flow and its head such as '900 gal/h at 6 ft'")
    flow, head = Quantity("flow", "0 gal/h", "200 gal/min"), Quantity("distance", "0 ft", "300 ft")
    try:
        pair = units.parse(halves[0], "flow"), units.parse(halves[1], "distance")
    except units.UnitError as problem:
        raise refuse(problem.code, problem.message) from None
    flow.check(pair[0], halves[0])
    head.check(pair[1], halves[1])
    return pair


CurvePoint = Annotated[tuple[float, float], BeforeValidator(_curve_point), TextOnly()]


class Pump(Part):
    """A pump from one vessel to another.

    flow: what it moves; or curve: what it moves at which head.
    intake: height of the lowest point it can draw from, above the source's base.
    outlet: height of the pipe's open end above the receiver's base (a submerged end siphons back).
    """

    model_config = ConfigDict(strict=True, extra="forbid", frozen=True, allow_inf_nan=False, populate_by_name=False)

    name: Name
    source: Name = Field(alias="from")
    receiver: Name = Field(alias="to")
    given_flow: Flow | None = Field(default=None, alias="flow")
    curve: Annotated[list[CurvePoint], Field(max_length=20)] = Field(default_factory=list)
    intake: Height = 0.0
    outlet: Height | None = None
    pipe: Bore | None = None
    length: PipeLength | None = None
    bends: Bends = 2
    material: Material = "pvc"
    anti_siphon: YesNo = False
    check_valve: YesNo = False
    slack: Height | None = None  # how far its pipe gives sideways where one end moves
    float_switch: YesNo = False

    @property
    def flow(self) -> float:
        """The most that it moves (m³/s)."""
        return self.given_flow if self.given_flow is not None else max(flow for flow, _ in self.curve)

    @model_validator(mode="after")
    def _two_vessels(self) -> Pump:
        if self.source == self.receiver:
            raise refuse("E-FIT-001", "found a pump from a vessel to itself; expected two vessels")
        if (self.given_flow is None) == (not self.curve):
            there = "neither flow nor curve" if self.given_flow is None else "flow beside curve"
            raise refuse("E-KEY-003", f"found {there}; expected one of them")
        if self.curve:
            self._check_curve()
        return self

    def _check_curve(self) -> None:
        points = sorted(self.curve)
        falls = all(b[0] > a[0] and b[1] < a[1] for a, b in itertools.pairwise(points))
        if len(points) < 2 or not falls or points[0][0] > 0:
            raise refuse(
                "E-FIT-001",
                "found a curve that is none; expected two points or more, the head falling as the flow rises, beginning "
                "with the head at which it moves nothing, such as ['0 gal/h at 12 ft', '900 gal/h at 4 ft']",
            )


class Pipe(Part):
    """A pipe through which water runs by itself: a return, an overflow, a standpipe.

    intake: height above the source's base at which water begins to run in. outlet: height of its end above the
    receiver's base. passes: where it leaves the source, so what it lets out when it breaks there. starts_at: of a pipe
    that starts only when the water stands so high, and then runs down to its intake.
    """

    model_config = ConfigDict(strict=True, extra="forbid", frozen=True, allow_inf_nan=False, populate_by_name=False)

    name: Name
    source: Name = Field(alias="from")
    receiver: Name = Field(alias="to")
    bore: Bore
    intake: Height
    outlet: Height = 0.0
    length: PipeLength
    bends: Bends = 2
    material: Material = "pvc"
    blocked: Share = 0.0
    passes: Annotated[str, Words(PASSES)] = "bottom"
    check_valve: YesNo = False
    starts_at: Height | None = None
    slack: Height | None = None  # how far it gives sideways where one end moves

    @model_validator(mode="after")
    def _goes_somewhere(self) -> Pipe:
        if self.source == self.receiver:
            raise refuse("E-FIT-001", "found a pipe from a vessel to itself; expected two vessels, or 'house drain'")
        if self.starts_at is not None and self.starts_at <= self.intake:
            raise refuse("E-FIT-001", "found starts_at at or below intake; expected it above")
        return self


class Supply(Part):
    """A tap or hose that fills a vessel, and how long it may run unseen."""

    name: Name
    receiver: Name = Field(alias="to")
    flow: Flow
    unattended: Annotated[float, Quantity("time", "1 min", "60 d")]
    float_valve: YesNo = False
