"""What is not known for certain, and how often the ground shakes: figures of the user's own."""

from __future__ import annotations

import math
import re
from typing import Annotated, Any

from pydantic import BeforeValidator, Field, model_validator

from brimfast.shared.installation.fields import Part, Quantity, TextOnly, kind_of_value, refuse, shown
from brimfast.shared.uncertain import Uncertain
from brimfast.shared.units import UnitError, parse

Spread = Annotated[float, Quantity("share", "1 %", "150 %")]  # standard deviation of the logarithm
_POINT = re.compile(r"(?P<times>\S+)\s+once in\s+(?P<years>\S+)\s+years?")
MOST_TIMES, MOST_YEARS = 20.0, 1e6
FLATTEST, STEEPEST = 0.3, 10.0  # slopes of a hazard curve
REACH = 2.0  # so many times beyond its points a curve may be asked about the design shaking


def _point(value: Any) -> tuple[float, float]:
    """'0.5 once in 100 years': share of the design shaking, and times a year."""
    if not isinstance(value, str):
        raise refuse("E-TYPE-001", f"found {kind_of_value(value)}; expected a text such as '0.5 once in 100 years'")
    match = _POINT.fullmatch(value.strip())
    try:
        numbers = None if match is None else (parse(match["times"], "number"), parse(match["years"], "number"))
    except UnitError:
        numbers = None
    if numbers is None:
        raise refuse(
            "E-TYPE-001",
            f"found {shown(value)}; expected a share of the design shaking and how often it is passed, "
            "such as '0.5 once in 100 years'",
        )
    times, years = numbers
    if not 0 < times <= MOST_TIMES or not 1 <= years <= MOST_YEARS:
        raise refuse(
            "E-RANGE-001", f"found {shown(value)}; expected a share up to {MOST_TIMES:g}, once in 1 to 1000000 years"
        )
    return times, 1 / years


class Strength(Part):
    """How strong things are against their design value: the middle of it, and its spread."""

    median: Annotated[float, Quantity("number", "0.3", "6")] = 1.0
    spread: Spread | None = None


class Doubt(Part):
    """shaking: of what is felt where the design earthquake is known; fill, weights: 95 in 100 lie within this share;

    water: the level may be so much lower or higher. hazard, or how often the design shaking is passed (design_years) with
    the slope of the curve.
    """

    shaking: Spread | None = None
    fasteners: Strength = Field(default_factory=Strength)
    timber: Strength = Field(default_factory=Strength)
    fill: Annotated[float, Quantity("share", "1 %", "100 %")] | None = None
    weights: Annotated[float, Quantity("share", "1 %", "100 %")] | None = None
    water: Annotated[float, Quantity("length", "0.1 in", "2 ft")] | None = None
    design_years: Annotated[float, Quantity("number", "20", "100000")] | None = None
    slope: Annotated[float, Quantity("number", "0.5", "8")] | None = None
    hazard: Annotated[
        list[Annotated[tuple[float, float], BeforeValidator(_point), TextOnly()]], Field(max_length=50)
    ] = Field(default_factory=list)

    @model_validator(mode="after")
    def _no_ranges(self) -> Doubt:
        numbers = [*dict(self).values(), *dict(self.fasteners).values(), *dict(self.timber).values()]
        for number in numbers:
            if isinstance(number, Uncertain):
                raise refuse("E-TYPE-001", f"found {number.text.strip()!r}; a spread is one number, not a range itself")
        return self

    @model_validator(mode="after")
    def _one_curve(self) -> Doubt:
        if self.hazard and (self.design_years is not None or self.slope is not None):
            raise refuse("E-KEY-003", "found hazard beside design_years or slope; expected one way")
        if len(self.hazard) == 1:
            raise refuse("E-KEY-002", "found one point of the hazard; expected two or more, or design_years")
        for (less, more_often), (more, less_often) in zip(self.hazard, self.hazard[1:], strict=False):
            if not (more > less and less_often < more_often):
                raise refuse(
                    "E-FIT-001",
                    "found hazard points out of order; expected stronger shaking and more years line by line",
                )
            slope = math.log(more_often / less_often) / math.log(more / less)
            if not FLATTEST <= slope <= STEEPEST:
                raise refuse(
                    "E-RANGE-001",
                    f"found hazard points {less:g} and {more:g} with a slope of {slope:.2g}; expected from {FLATTEST:g} to "
                    f"{STEEPEST:g}: real curves are no flatter and no steeper",
                )
        if self.hazard and not self.hazard[0][0] / REACH <= 1 <= self.hazard[-1][0] * REACH:
            raise refuse(
                "E-FIT-001", "found hazard points far from 1, the design shaking; expected points on either side of it"
            )
        return self
