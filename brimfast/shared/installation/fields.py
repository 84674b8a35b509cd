"""The building blocks of the installation model: fields that read text with units into SI floats."""

from __future__ import annotations

import difflib
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import BaseModel, BeforeValidator, ConfigDict, GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from brimfast.shared import units
from brimfast.shared.uncertain import Exact, read_uncertain


class Part(BaseModel):
    """A part of the installation: strict, closed, unchangeable."""

    model_config = ConfigDict(strict=True, extra="forbid", frozen=True, allow_inf_nan=False)


def refuse(code: str, message: str) -> PydanticCustomError:
    """An error in our words; braces of the user's text are never expanded."""
    return PydanticCustomError(code, "{message}", {"message": message})


def shown(value: object) -> str:
    """What was found, in short: the text itself where it is one."""
    if isinstance(value, str) or (isinstance(value, float) and not isinstance(value, bool)):
        return repr(value if isinstance(value, float) else value[:40])
    return kind_of_value(value)


def kind_of_value(value: object) -> str:
    if value is None:
        return "nothing"
    if isinstance(value, bool):
        return "yes/no"
    if isinstance(value, (int, float)):
        return "a bare number"
    if isinstance(value, str):
        return "a text"
    if isinstance(value, dict):
        return "a group of keys"
    if isinstance(value, list):
        return "a list"
    return f"a {type(value).__name__}"


@dataclass(frozen=True)
class Quantity:
    """Reads a text with a unit into an SI float within [low, high], both written as the user would."""

    kind: str
    low: str
    high: str

    def read(self, value: Any) -> float:
        quantity = units.QUANTITIES[self.kind]
        if isinstance(value, bool) or not isinstance(value, (str, int, float)):
            raise refuse(
                "E-TYPE-001",
                f"found {kind_of_value(value)}; expected {quantity.article_name} such as {quantity.example!r}",
            )
        if isinstance(value, Exact):
            self.check(value, f"{float(value):g}")
            return float(value)
        text = value if isinstance(value, str) else repr(value)
        try:
            found = read_uncertain(text, self.kind)
            result = units.parse(text, self.kind) if found is None else found
        except units.UnitError as problem:
            raise refuse(problem.code, problem.message) from None
        if found is not None:
            self.check(found.low, text)
            self.check(found.high, text)
        self.check(result, text)
        return result

    def check(self, result: float, text: str) -> None:
        low, high = units.parse(self.low, self.kind), units.parse(self.high, self.kind)
        slack = 1e-9
        if not (low - slack * abs(low) <= result <= high + slack * abs(high)):
            name = units.QUANTITIES[self.kind].article_name
            percent = f"; for {text.strip()} percent write '{text.strip()} %'"
            hint = percent if self.kind == "share" and text.strip().isdigit() else ""
            raise refuse("E-RANGE-001", f"found {text.strip()!r}; expected {name} from {self.low} to {self.high}{hint}")

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self.read)

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        quantity = units.QUANTITIES[self.kind]
        taken = ["string", "number"] if quantity.dimension == (0, 0, 0) else "string"
        return {
            "type": taken,
            "description": f"{quantity.article_name} from {self.low} to {self.high}",
            "examples": [quantity.example],
        }


@dataclass(frozen=True)
class QuantityPair:
    """Two lengths, such as '24 in x 30 in'."""

    low: str
    high: str

    def read(self, value: Any) -> tuple[float, float]:
        if not isinstance(value, str):
            raise refuse("E-TYPE-001", f"found {kind_of_value(value)}; expected two lengths such as '24 in x 30 in'")
        try:
            pair = units.parse_pair(value, "length")
        except units.UnitError as problem:
            raise refuse(problem.code, problem.message) from None
        single = Quantity("length", self.low, self.high)
        for part in pair:
            single.check(part, value)
        return pair

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self.read)

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        return {"type": "string", "examples": ["24 in x 30 in"]}


@dataclass(frozen=True)
class Words:
    """One word of a closed list; the nearest is named where another is found."""

    allowed: tuple[str, ...]

    def read(self, value: Any) -> str:
        if isinstance(value, bool):
            value = "yes" if value else "no"
        if isinstance(value, str) and value.strip().casefold() in {word.casefold() for word in self.allowed}:
            return next(word for word in self.allowed if word.casefold() == value.strip().casefold())
        found = repr(value[:40]) if isinstance(value, str) else kind_of_value(value)
        raise refuse(
            "E-WORD-001",
            f"found {found}; expected one of: {', '.join(self.allowed)}{nearest(value, self.allowed)}",
        )

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self.read)

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        return {"type": "string", "enum": list(self.allowed)}


def nearest_word(found: object, known: Sequence[str]) -> str | None:
    """The known word that the found one most likely means."""
    if not isinstance(found, str):
        return None
    same_words = [word for word in known if sorted(word.casefold().split()) == sorted(found.casefold().split())]
    if same_words:
        return same_words[0]
    inside = [word for word in known if len(found) >= 3 and found.casefold() in word.casefold()]
    if inside:
        return inside[0]
    near = difflib.get_close_matches(found.casefold(), [word.casefold() for word in known], n=1, cutoff=0.6)
    return next((word for word in known if near and word.casefold() == near[0]), None)


def nearest(found: object, known: Sequence[str]) -> str:
    """'; did you mean …?' or nothing."""
    word = nearest_word(found, known)
    return f"; did you mean {word!r}?" if word is not None else ""


def _yes_no(value: Any) -> bool:
    if isinstance(value, bool):
        return value
    if isinstance(value, str) and value.strip().casefold() in {"yes", "no", "true", "false"}:
        return value.strip().casefold() in {"yes", "true"}
    raise refuse("E-TYPE-001", f"found {shown(value)}; expected yes or no")


class _YesNoSchema:
    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        return {"enum": ["yes", "no", True, False]}


def _line_of_text(value: Any) -> str:
    if not isinstance(value, str):
        raise refuse("E-TYPE-001", f"found {kind_of_value(value)}; expected a text (put it in quotes)")
    text = value.strip()
    if not 1 <= len(text) <= 80:
        raise refuse("E-RANGE-001", f"found a text of {len(text)} characters; expected 1 to 80")
    if any(not character.isprintable() for character in text):
        raise refuse("E-TYPE-001", "found a control or invisible character in the text; expected printable text")
    return text


def whole_number(low: int, high: int) -> Callable[[Any], int]:
    def read(value: Any) -> int:
        if isinstance(value, str) and re.fullmatch(r"\d{1,6}", value.strip()):
            value = int(value)
        if isinstance(value, bool) or not isinstance(value, int):
            raise refuse("E-TYPE-001", f"found {shown(value)}; expected a whole number from {low} to {high}")
        if not low <= value <= high:
            raise refuse("E-RANGE-001", f"found {str(value)[:20]}; expected a whole number from {low} to {high}")
        return value

    return read


_MONEY = re.compile(r"\d{1,12}(?:\.\d{1,2})?")
_PER_AREA = re.compile(r"(?P<number>\d{1,9}(?:\.\d{1,4})?)\s*(?:/|per)\s*(?P<unit>ft2|ft²|sq ft|m2|m²)")
_AREAS = {"ft2": "1 ft2", "ft²": "1 ft2", "sq ft": "1 ft2", "m2": "1 m2", "m²": "1 m2"}


def money_amount(value: Any) -> float:
    text = value.strip() if isinstance(value, str) else repr(value)
    if re.fullmatch(r"-\d{1,12}(?:\.\d*)?", text):
        raise refuse("E-RANGE-001", f"found {text}; expected an amount of money of 0 or more")
    if isinstance(value, bool) or not isinstance(value, (str, int, float)) or not _MONEY.fullmatch(text):
        raise refuse(
            "E-TYPE-001", f"found {shown(value)}; expected an amount of money, a plain number such as 1500 or 99.50"
        )
    return float(text)


def _money_per_area(value: Any) -> float:
    match = _PER_AREA.fullmatch(value.strip()) if isinstance(value, str) else None
    if match is None:
        raise refuse("E-TYPE-001", f"found {shown(value)}; expected money per area such as '4.50 / ft2' or '50 / m2'")
    return float(match["number"]) / units.parse(_AREAS[match["unit"]], "area")


class OrText:
    """In the schema: the short text form is taken beside the long one."""

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        return {"anyOf": [{"type": "string"}, handler(schema)]}


class TextOnly:
    """In the schema: what is written is a text."""

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        return {"type": "string"}


YesNo = Annotated[bool, BeforeValidator(_yes_no), _YesNoSchema()]
Name = Annotated[str, BeforeValidator(_line_of_text)]
Count = Annotated[int, BeforeValidator(whole_number(1, 200))]
Bore = Annotated[float, Quantity("length", "1/4 in", "12 in")]
Height = Annotated[float, Quantity("length", "0 in", "12 ft")]
PlanLength = Annotated[float, Quantity("distance", "2 in", "60 ft")]
RoomLength = Annotated[float, Quantity("distance", "2 ft", "200 ft")]
Depth = Annotated[float, Quantity("length", "1 in", "10 ft")]
Share = Annotated[float, Quantity("share", "0 %", "100 %")]
Weight = Annotated[float, Quantity("mass", "0.1 lb", "50000 lb")]
Force = Annotated[float, Quantity("force", "1 lb", "50000 lb")]
Flow = Annotated[float, Quantity("flow", "0.1 gal/h", "200 gal/min")]
Volume = Annotated[float, Quantity("volume", "0.1 gal", "20000 gal")]
Money = Annotated[float, BeforeValidator(money_amount)]
MoneyPerArea = Annotated[float, BeforeValidator(_money_per_area), TextOnly()]
Place = Annotated[tuple[float, float], QuantityPair("0 in", "200 ft")]
Footprint = Annotated[tuple[float, float], QuantityPair("2 in", "60 ft")]
