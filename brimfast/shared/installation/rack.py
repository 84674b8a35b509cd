"""The timber rack: what carries the vessels."""

from __future__ import annotations

import re
from typing import Annotated, Any

from pydantic import BeforeValidator, Field, model_validator

from brimfast.shared.installation.fields import (
    Count,
    Force,
    Name,
    OrText,
    Part,
    Place,
    Quantity,
    Words,
    YesNo,
    kind_of_value,
    refuse,
)
from brimfast.shared.units import UnitError, parse

_SIZE = re.compile(r"(?P<size>\d{1,2}x\d{1,2})\b(?P<rest>.*)", re.IGNORECASE)
_GRADE = re.compile(r"\b(select structural|no\.?\s?[123]|stud|construction)\b", re.IGNORECASE)
_PANEL = re.compile(r"(?P<thickness>[\d./ -]+\s*(?:in|inch|mm|\"))\s+(?P<material>[A-Za-z][A-Za-z -]{1,30})")


class Timber(Part):
    """One member: nominal size, species and grade, and whether it is treated or incised.

    Written in short as '4x6 hem-fir No.2 treated'.
    """

    size: Name
    species: Name | None = None
    grade: Name | None = None
    treated: YesNo = False
    incised: YesNo = False


def _timber(value: Any) -> Any:
    if isinstance(value, dict) and isinstance(value.get("size"), str) and " " in value["size"].strip():
        return {**_timber(value["size"]), **{key: item for key, item in value.items() if key != "size"}}
    if not isinstance(value, str):
        return value
    match = _SIZE.fullmatch(value.strip())
    if match is None:
        raise refuse(
            "E-TYPE-001",
            f"found {value.strip()[:40]!r}; expected a size, a species and a grade such as '4x4 hem-fir No.2 treated'",
        )
    rest = match["rest"]
    found: dict[str, Any] = {"size": match["size"].lower()}
    for flag in ("treated", "incised"):
        rest, count = re.subn(rf"\b{flag}\b", " ", rest, flags=re.IGNORECASE)
        if count:
            found[flag] = True
    grade = _GRADE.search(rest)
    if grade:
        found["grade"] = re.sub(r"no\.?\s?", "No.", grade[1], flags=re.IGNORECASE).strip()
        rest = rest.replace(grade[0], " ")
    species = " ".join(rest.replace(",", " ").split()).lower()
    if species:
        found["species"] = species
    return found


TimberText = Annotated[Timber, BeforeValidator(_timber), OrText()]


class Panel(Part):
    """Sheet material: thickness and what it is, written as '23/32 in plywood'."""

    thickness: Annotated[float, Quantity("length", "1/8 in", "3 in")]
    material: Name


def _panel(value: Any) -> Any:
    if not isinstance(value, str):
        return value
    match = _PANEL.fullmatch(value.strip())
    if match is None:
        raise refuse(
            "E-TYPE-001",
            f"found {value.strip()[:40]!r}; expected a thickness and a material such as '23/32 in plywood'",
        )
    try:
        parse(match["thickness"], "length")
    except UnitError as problem:
        raise refuse(problem.code, problem.message) from None
    return {"thickness": match["thickness"], "material": match["material"].strip().lower()}


PanelText = Annotated[Panel, BeforeValidator(_panel), OrText()]


class Joist(Part):
    size: Name
    spacing: Annotated[float, Quantity("length", "3 in", "8 ft")]
    seat: Annotated[str, Words(("on beams", "between beams"))] = "on beams"


class Brace(Part):
    """A diagonal in one bay of one face of the rack."""

    face: Annotated[str, Words(("front", "back", "left", "right"))]
    bay: Count = 1
    kind: Annotated[str, Words(("single", "x"))] = "single"
    member: TimberText


class Anchors(Part):
    """Anchors to the floor: how many, and what each may carry by its published value."""

    count: Count
    tension: Force | None = None
    shear: Force | None = None
    source: Name | None = None

    @model_validator(mode="after")
    def _value_needs_source(self) -> Anchors:
        if (self.tension is not None or self.shear is not None) and self.source is None:
            raise refuse("E-KEY-003", "found an allowable value without source; expected where it was published")
        return self


class Friction(Part):
    """Friction under a body, where the user knows better than the table."""

    low: Annotated[float, Quantity("number", "0.01", "2")]
    high: Annotated[float, Quantity("number", "0.01", "2")]

    @model_validator(mode="after")
    def _low_below_high(self) -> Friction:
        if self.low > self.high:
            raise refuse("E-FIT-001", f"found low {self.low} above high {self.high}; expected low ≤ high")
        return self


class Feet(Part):
    on: Name | None = None
    foot: Name = "wood"
    anchored: YesNo = False
    anchors_per_post: Count = 1
    tension: Force | None = None
    shear: Force | None = None
    source: Name | None = None
    plate: Annotated[float, Quantity("length", "1 in", "3 ft")] | None = None

    @model_validator(mode="after")
    def _value_needs_source(self) -> Feet:
        if (self.tension is not None or self.shear is not None) and self.source is None:
            raise refuse("E-KEY-003", "found an allowable value without source; expected where it was published")
        return self


class ComponentFactors(Part):
    """The standard's component factors, where the engineer chooses others than the table row.

    asce7-16: a_p, R_p, Omega_0. asce7-22: C_AR, R_po, Omega_0p.
    """

    a_p: Annotated[float, Quantity("number", "1", "2.5")] | None = None
    R_p: Annotated[float, Quantity("number", "1", "12")] | None = None
    Omega_0: Annotated[float, Quantity("number", "1", "3")] | None = None
    C_AR: Annotated[float, Quantity("number", "1", "4")] | None = None
    R_po: Annotated[float, Quantity("number", "1", "3")] | None = None
    Omega_0p: Annotated[float, Quantity("number", "1", "3")] | None = None
    reason: Name


def _braces(value: Any) -> Any:
    return [] if isinstance(value, str) and value.strip().casefold() == "none" else value


def _braces_known(value: Any) -> Any:
    value = _braces(value)
    if not isinstance(value, list):
        raise refuse(
            "E-TYPE-001",
            f"found {kind_of_value(value)}; expected 'none' or a list such as "
            "[{face: back, bay: 1, kind: x, member: 2x4 hem-fir No.2}]",
        )
    return value


class Rack(Part):
    bays: Count
    bay_length: Annotated[float, Quantity("distance", "6 in", "20 ft")]
    width: Annotated[float, Quantity("distance", "6 in", "12 ft")]
    deck_height: Annotated[float, Quantity("length", "4 in", "10 ft")]
    post: TimberText
    beam: TimberText
    joist: Joist
    deck: PanelText
    beam_seat: Annotated[str, Words(("on the side", "on top"))] = "on the side"
    beam_runs: Annotated[str, Words(("each bay", "whole length"))] = "whole length"
    braces: Annotated[list[Brace], BeforeValidator(_braces_known), Field(max_length=100), OrText()] = Field(
        default_factory=list
    )
    feet: Feet = Field(default_factory=Feet)
    kit: Annotated[float, Quantity("mass", "0 lb", "5000 lb")] = 0.0
    wet: YesNo = True
    along: Annotated[str, Words(("length", "width"))] = "length"
    at: Place | None = None
    friction: Friction | None = None
    component: ComponentFactors | None = None
    period: Annotated[float, Quantity("period", "0.01 s", "5 s")] | None = None

    @property
    def length(self) -> float:
        return self.bays * self.bay_length

    @property
    def posts(self) -> int:
        return 2 * (self.bays + 1)
