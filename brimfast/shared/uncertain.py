"""Numbers of which only a range or a spread is known: how they stand in a file, and what they are to the computation."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from typing import Any, Literal

from brimfast.shared.units import UnitError, parse

Shape = Literal["even", "normal", "lognormal"]
Z_95 = 1.959963984540054  # of the standard normal distribution: 95 in 100 lie within

_RANGE = re.compile(r"(?P<low>\S.*?)\s+(?:to|–)\s+(?P<high>\S.*)")
_SPREAD = re.compile(r"(?P<middle>\S.*?)\s*(?:±|\+/-|\+-)\s*(?P<by>\S.*)")
_NUMBER_THEN_UNIT = re.compile(r"[+-]?[\d./ -]*\d\s*(?P<unit>[A-Za-z%°'\"″′”’].*)")
_BARE = re.compile(r"[+-]?[\d./ ]*\d")
_SHARE = re.compile(r"(?P<number>\d{1,3}(?:\.\d{1,6})?)\s*%")


class Marked(str):
    """A text of a file that knows where it stands."""

    path: tuple[str | int, ...]

    def __new__(cls, text: str, path: tuple[str | int, ...]) -> Marked:
        found = super().__new__(cls, text)
        found.path = path
        return found


def marked(node: Any, path: tuple[str | int, ...] = ()) -> Any:
    """The tree with each text that may be a range knowing its place."""
    if isinstance(node, str):
        return Marked(node, path) if looks_uncertain(node) else node
    if isinstance(node, dict):
        return {key: marked(child, (*path, key)) for key, child in node.items()}
    if isinstance(node, list):
        return [marked(child, (*path, index)) for index, child in enumerate(node)]
    return node


class Exact(float):
    """A number that is in SI units already, where a file has a text with a unit."""


class Uncertain(float):
    """The middle of what a number may be; to a computation that does not ask for doubt it is that middle.

    text: the very text that it was read from.

    even: anything from low to high alike. normal, lognormal: 95 in 100 lie between low and high.
    """

    low: float
    high: float
    shape: Shape
    text: str

    def __new__(cls, middle: float, low: float, high: float, shape: Shape, text: str) -> Uncertain:
        found = super().__new__(cls, middle)
        found.low, found.high, found.shape, found.text = low, high, shape, text
        return found

    def __getnewargs__(self) -> tuple[Any, ...]:
        return float(self), self.low, self.high, self.shape, self.text


def as_written(number: float) -> str:
    return number.text.strip() if isinstance(number, Uncertain) else f"{number:g}"


@dataclass(frozen=True)
class _Halves:
    first: str
    second: str
    around: bool  # the first is the middle, the second what it may differ by


def _halves(text: str) -> _Halves | None:
    found = _SPREAD.fullmatch(text)
    if found is not None:
        return _Halves(found["middle"], found["by"], True)
    found = _RANGE.fullmatch(text)
    return _Halves(found["low"], found["high"], False) if found is not None else None


def looks_uncertain(text: str) -> bool:
    """Whether a text may be a range or a spread; a name may look so too."""
    halves = _halves(text.strip())
    return halves is not None and all(re.match(r"[+-]?\.?\d", half) for half in (halves.first, halves.second))


def looks_ranged(node: Any) -> bool:
    """Whether any text of a file may be a range or a spread."""
    if isinstance(node, str):
        return looks_uncertain(node)
    if isinstance(node, dict):
        return any(looks_ranged(child) for child in node.values())
    return isinstance(node, list) and any(looks_ranged(child) for child in node)


def _with_unit_of(text: str, other: str) -> str:
    """'14' beside '16 in' is '14 in'."""
    unit = _NUMBER_THEN_UNIT.fullmatch(other)
    return f"{text} {unit['unit']}" if unit is not None and _BARE.fullmatch(text) else text


def read_uncertain(text: str, kind: str) -> Uncertain | None:
    """'0.25 to 0.45', '14 to 16 in', '14 in ± 1 in', '2 kN ± 10 %'; None where the text is none of these.

    Raises UnitError where a half is no quantity of the kind, or the halves do not make a range.
    """
    stripped = text.strip()
    if not looks_uncertain(stripped):
        return None
    halves = _halves(stripped)
    assert halves is not None
    first, second = _with_unit_of(halves.first, halves.second), _with_unit_of(halves.second, halves.first)
    if not halves.around:
        low, high = parse(first, kind), parse(second, kind)
        if not low < high:
            raise UnitError("E-FIT-001", f"found {stripped!r}; expected the lower end first, such as '2 to 3'")
        return Uncertain((low + high) / 2, low, high, "even", text)
    share = _SHARE.fullmatch(halves.second)
    if share is not None and (kind != "share" or "%" not in halves.first):
        middle, part = parse(halves.first, kind), float(share["number"]) / 100
        if middle <= 0 or not 0 < part <= 2:
            raise UnitError("E-FIT-001", f"found {stripped!r}; expected more than 0, give or take up to 200 %")
        return Uncertain(middle, middle / (1 + part), middle * (1 + part), "lognormal", text)
    middle, by = parse(first, kind), parse(second, kind)
    if not by > 0:
        raise UnitError("E-FIT-001", f"found {stripped!r}; expected more than nothing after ±")
    return Uncertain(middle, middle - by, middle + by, "normal", text)


def spread_of(low: float, high: float) -> float:
    """Standard deviation of ln x (−) where 95 in 100 lie between low and high (same unit, above 0): ln(high/low)/(2·1.96)."""
    return math.log(high / low) / (2 * Z_95)
