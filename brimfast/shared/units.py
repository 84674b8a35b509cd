"""The border between text with units and SI floats.

Text is matched against a strict pattern and an allow-list of unit names before the units library sees
anything of it, so that no text of the user is ever evaluated.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Literal

from brimfast.shared.constants import (
    FOOT,
    GALLON,
    GRAVITY,
    INCH,
    LITRE,
    POUND_FORCE,
    POUND_MASS,
    POUND_PER_CUBIC_FOOT,
    PSF,
    PSI,
)
from brimfast.shared.errors import printable

if TYPE_CHECKING:
    import pint

System = Literal["us", "si"]
CURRENCIES = ("USD", "CAD", "EUR", "GBP", "JPY", "NZD", "AUD", "CHF")
MOST_CHARACTERS = 60

_DEFINITIONS = """
meter = [length]
kilogram = [mass]
second = [time]
millimeter = 0.001 meter
centimeter = 0.01 meter
kilometer = 1000 meter
inch = 0.0254 meter
foot = 12 inch
yard = 3 foot
mile = 5280 foot
liter = 0.001 meter ** 3
milliliter = 0.001 liter
gallon = 231 inch ** 3
quart = gallon / 4
gram = 0.001 kilogram
tonne = 1000 kilogram
pound = 0.45359237 kilogram
ounce = pound / 16
newton = kilogram * meter / second ** 2
kilonewton = 1000 newton
pound_force = 9.80665 * pound * meter / second ** 2
kip = 1000 pound_force
pascal = newton / meter ** 2
kilopascal = 1000 pascal
megapascal = 1000000 pascal
psi = pound_force / inch ** 2
psf = pound_force / foot ** 2
ksi = 1000 psi
pcf = pound / foot ** 3
minute = 60 second
hour = 3600 second
day = 24 hour
gpm = gallon / minute
gph = gallon / hour
percent = 0.01
"""

# Every spelling that is taken, and the registry's name for it.
_SPELLINGS: dict[str, str] = {
    **dict.fromkeys(["m", "meter", "metre", "meters", "metres"], "meter"),
    **dict.fromkeys(["mm", "millimeter", "millimetre", "millimeters", "millimetres"], "millimeter"),
    **dict.fromkeys(["cm", "centimeter", "centimetre", "centimeters", "centimetres"], "centimeter"),
    **dict.fromkeys(["km", "kilometer", "kilometre"], "kilometer"),
    **dict.fromkeys(["in", "inch", "inches", '"', "″", "”"], "inch"),
    **dict.fromkeys(["ft", "foot", "feet", "'", "′", "’"], "foot"),
    **dict.fromkeys(["yd", "yard", "yards"], "yard"),
    **dict.fromkeys(["mi", "mile", "miles"], "mile"),
    **dict.fromkeys(["L", "l", "liter", "litre", "liters", "litres"], "liter"),
    **dict.fromkeys(["mL", "ml"], "milliliter"),
    **dict.fromkeys(["gal", "gallon", "gallons"], "gallon"),
    **dict.fromkeys(["qt", "quart", "quarts"], "quart"),
    **dict.fromkeys(["kg", "kilogram", "kilograms"], "kilogram"),
    **dict.fromkeys(["g", "gram", "grams"], "gram"),
    **dict.fromkeys(["t", "tonne", "tonnes"], "tonne"),
    **dict.fromkeys(["lb", "lbs", "pound", "pounds"], "pound"),
    **dict.fromkeys(["oz", "ounce", "ounces"], "ounce"),
    **dict.fromkeys(["lbf"], "pound_force"),
    **dict.fromkeys(["kip", "kips"], "kip"),
    **dict.fromkeys(["N", "newton", "newtons"], "newton"),
    **dict.fromkeys(["kN", "kilonewton"], "kilonewton"),
    **dict.fromkeys(["Pa", "pascal"], "pascal"),
    **dict.fromkeys(["kPa"], "kilopascal"),
    **dict.fromkeys(["MPa"], "megapascal"),
    **dict.fromkeys(["psi"], "psi"),
    **dict.fromkeys(["psf"], "psf"),
    **dict.fromkeys(["ksi"], "ksi"),
    **dict.fromkeys(["pcf"], "pcf"),
    **dict.fromkeys(["s", "sec", "second", "seconds"], "second"),
    **dict.fromkeys(["min", "minute", "minutes"], "minute"),
    **dict.fromkeys(["h", "hr", "hour", "hours"], "hour"),
    **dict.fromkeys(["d", "day", "days"], "day"),
    **dict.fromkeys(["gpm"], "gpm"),
    **dict.fromkeys(["gph"], "gph"),
    **dict.fromkeys(["%", "percent"], "percent"),
}

_NUMBER = r"(?:\d{1,12}[ -]\d{1,4}/\d{1,4}|\d{1,9}/\d{1,9}|\d{1,12}(?:\.\d{0,30})?(?:[eE][+-]?\d{1,2})?|\.\d{1,12})"
_UNIT_NAME = r"[A-Za-z%°'\"′″’”]+"
_UNIT = rf"{_UNIT_NAME}(?:\^?[23]|[²³])?(?:\s?/\s?{_UNIT_NAME}(?:\^?[23]|[²³])?)?"
_PLAIN = re.compile(rf"(?P<sign>[+-]?)(?P<number>{_NUMBER})\s*(?P<unit>{_UNIT})")
_FEET_INCHES = re.compile(
    rf"(?P<sign>[+-]?)(?P<feet>\d{{1,9}})\s*(?:ft|feet|foot|'|′|’)\s*-?\s*"
    rf"(?P<inches>{_NUMBER})\s*(?:in|inch|inches|\"|″|”)"
)
_BARE_NUMBER = re.compile(rf"[+-]?{_NUMBER}")
_POWERED = re.compile(rf"(?P<name>{_UNIT_NAME})\^?(?P<power>[23²³]?)")


@dataclass(frozen=True)
class Quantity:
    """A kind of quantity: its dimension, how it is spoken of, and how it is shown."""

    name: str
    article_name: str
    dimension: tuple[int, int, int]  # powers of length, mass, time
    example: str
    us: tuple[str, float]  # unit shown, SI per unit
    si: tuple[str, float]
    weighs: bool = False  # a mass is taken for the force it weighs


QUANTITIES: dict[str, Quantity] = {
    quantity.name: quantity
    for quantity in (
        Quantity("length", "a length", (1, 0, 0), "2 ft 6 in", ("in", INCH), ("mm", 0.001)),
        Quantity("distance", "a length", (1, 0, 0), "8 ft 6 in", ("ft", FOOT), ("m", 1.0)),
        Quantity("area", "an area", (2, 0, 0), "12 ft2", ("ft²", FOOT**2), ("m²", 1.0)),
        Quantity("volume", "a volume", (3, 0, 0), "40 gal", ("gal", GALLON), ("L", LITRE)),
        Quantity("mass", "a weight", (0, 1, 0), "480 lb", ("lb", POUND_MASS), ("kg", 1.0)),
        Quantity("force", "a force", (1, 1, -2), "350 lb", ("lb", POUND_FORCE), ("N", 1.0), True),
        Quantity("moment", "a moment", (2, 1, -2), "500 N m", ("lb·ft", POUND_FORCE * FOOT), ("N·m", 1.0)),
        Quantity("flow", "a flow", (3, 0, -1), "800 gal/h", ("gal/min", GALLON / 60), ("L/min", LITRE / 60)),
        Quantity(
            "pressure",
            "a pressure",
            (-1, 1, -2),
            "40 psf",
            ("psf", PSF),
            ("kPa", 1000.0),
            True,
        ),
        Quantity("stress", "a stress", (-1, 1, -2), "45 ksi", ("psi", PSI), ("MPa", 1e6)),
        Quantity(
            "density",
            "a weight per volume",
            (-3, 1, 0),
            "125 lb/ft3",
            ("lb/ft³", POUND_PER_CUBIC_FOOT),
            ("kg/m³", 1.0),
        ),
        Quantity(
            "mass per area",
            "a weight per area",
            (-2, 1, 0),
            "2.3 lb/ft2",
            ("lb/ft²", POUND_MASS / FOOT**2),
            ("kg/m²", 1.0),
        ),
        Quantity("time", "a time", (0, 0, 1), "8 h", ("h", 3600.0), ("h", 3600.0)),
        Quantity("period", "a time", (0, 0, 1), "0.4 s", ("s", 1.0), ("s", 1.0)),
        Quantity("speed", "a speed", (1, 0, -1), "5 ft/s", ("ft/s", FOOT), ("m/s", 1.0)),
        Quantity("share", "a share", (0, 0, 0), "50 %", ("%", 0.01), ("%", 0.01)),
        Quantity("acceleration", "a share of gravity", (0, 0, 0), "1.0", ("g", 1.0), ("g", 1.0)),
        Quantity("number", "a number", (0, 0, 0), "1.5", ("", 1.0), ("", 1.0)),
        *(
            Quantity(f"money {currency}", "an amount of money", (0, 0, 0), "1500", (currency, 1.0), (currency, 1.0))
            for currency in CURRENCIES
        ),
    )
}

_DIMENSION_WORDS: dict[tuple[int, int, int], str] = {
    (1, 0, 0): "a length",
    (2, 0, 0): "an area",
    (3, 0, 0): "a volume",
    (0, 1, 0): "a weight",
    (1, 1, -2): "a force",
    (-1, 1, -2): "a pressure",
    (3, 0, -1): "a flow",
    (-3, 1, 0): "a weight per volume",
    (-2, 1, 0): "a weight per area",
    (0, 0, 1): "a time",
    (0, 0, 0): "a share",
    (1, 0, -1): "a speed",
}


class UnitError(ValueError):
    """A text that is not the quantity that is wanted: code and message in our words."""

    def __init__(self, code: str, message: str, unit: str = "") -> None:
        self.code = code
        self.message = message
        self.unit = unit
        super().__init__(message)


@lru_cache(maxsize=1)
def _registry() -> pint.UnitRegistry:
    import pint

    registry = pint.UnitRegistry(None, cache_folder=None)
    registry.load_definitions([line for line in _DEFINITIONS.splitlines() if line.strip()])
    return registry


@lru_cache(maxsize=256)
def _unit(text: str) -> tuple[float, tuple[int, int, int]]:
    """SI factor and dimension of a unit text that has passed the pattern."""
    expression: list[str] = []
    for part in text.replace(" ", "").split("/"):
        match = _POWERED.fullmatch(part)
        name = _SPELLINGS.get(match["name"]) if match else None
        if match is None or name is None:
            bare = match["name"] if match else part
            raise UnitError("E-UNIT-004", f"the unit {_shown(bare)} is not known", bare)
        power = match["power"].replace("²", "2").replace("³", "3") or "1"
        expression.append(f"{name} ** {power}")
    quantity = _registry().Quantity(1.0, " / ".join(expression)).to_base_units()
    powers = quantity.dimensionality
    dimension = (
        int(powers.get("[length]", 0)),
        int(powers.get("[mass]", 0)),
        int(powers.get("[time]", 0)),
    )
    return float(quantity.magnitude), dimension


def _number(text: str) -> float:
    whole, _, rest = text.replace("-", " ", 1).rpartition(" ") if "/" in text else ("", "", text)
    if "/" in rest:
        over, under = rest.split("/")
        if int(under) == 0:
            raise UnitError("E-UNIT-001", f"{_shown(text)} divides by zero")
        return (float(whole) if whole else 0.0) + int(over) / int(under)
    return float(text)


def _shown(text: str) -> str:
    """A user's text inside a message: short, on one line, nothing invisible."""
    clean = printable(text)
    return repr(clean if len(clean) <= 40 else clean[:37] + "...")


def parse(text: str, kind: str) -> float:
    """The SI value of `text`, a quantity of `kind` (a key of QUANTITIES).

    Raises UnitError where the text is no number with a known unit of that kind.
    """
    quantity = QUANTITIES[kind]
    wanted = f"expected {quantity.article_name} such as {quantity.example!r}"
    stripped = text.strip()
    if kind == "acceleration":
        stripped = re.sub(r"(?<=[\d.])\s*g", "", stripped)
    if len(stripped) > MOST_CHARACTERS:
        raise UnitError("E-UNIT-001", f"found {_shown(stripped)}, too long to be a quantity; {wanted}")
    feet_inches = _FEET_INCHES.fullmatch(stripped)
    if feet_inches:
        value = int(feet_inches["feet"]) * FOOT + _number(feet_inches["inches"]) * INCH
        dimension, sign = (1, 0, 0), feet_inches["sign"]
    elif _BARE_NUMBER.fullmatch(stripped):
        if quantity.dimension != (0, 0, 0):
            raise UnitError("E-UNIT-003", f"found {_shown(stripped)}, which has no unit; {wanted}")
        value, dimension, sign = _number(stripped.lstrip("+-")), (0, 0, 0), stripped[:1]
    else:
        plain = _PLAIN.fullmatch(stripped)
        if plain is None:
            raise UnitError("E-UNIT-001", f"found {_shown(stripped)}, not a number with a unit; {wanted}{_hint(text)}")
        try:
            factor, dimension = _unit(plain["unit"])
        except UnitError as error:
            near = _nearest_unit(error.unit, quantity)
            raise UnitError(
                error.code, f"found {_shown(stripped)}: {error.message}{near}; {wanted}", error.unit
            ) from None
        value, sign = _number(plain["number"]) * factor, plain["sign"]
    if kind == "mass" and dimension == (1, 1, -2):
        value, dimension = value / GRAVITY, quantity.dimension
    if quantity.weighs and dimension == (quantity.dimension[0] - 1, 1, 0):
        value, dimension = value * GRAVITY, quantity.dimension
    if dimension != quantity.dimension:
        found = _DIMENSION_WORDS.get(dimension, "something else")
        raise UnitError("E-UNIT-002", f"found {_shown(stripped)}, {found}; {wanted}")
    return -value if sign == "-" else value


def _nearest_unit(found: str, quantity: Quantity) -> str:
    """'; did you mean …?': a spelling in other capitals first, and only units that would do."""
    import difflib

    known = [name for name in _SPELLINGS if name.isascii() and name.isalpha() and _would_do(name, quantity)]
    same = [name for name in known if name.casefold() == found.casefold()]
    near = same or difflib.get_close_matches(found.casefold(), known, n=1, cutoff=0.5)
    return f"; did you mean {near[0]!r}?" if near else ""


def _would_do(name: str, quantity: Quantity) -> bool:
    dimension = _unit(name)[1]
    weighs = quantity.weighs and dimension == (quantity.dimension[0] - 1, 1, 0)
    return dimension == quantity.dimension or weighs


def _hint(text: str) -> str:
    if re.search(r"\d,\d{3}\b", text):
        return "; write thousands without a comma"
    if re.search(r"\d,\d", text):
        return "; write the decimal sign as a point"
    if re.search("[¼-¾⅐-⅞]", text):
        return "; write a fraction as 1/2 or 8 1/2"
    return ""


def parse_pair(text: str, kind: str) -> tuple[float, float]:
    """Two quantities with an x between them, such as '24 in x 30 in'."""
    halves = re.split(r"\s+[x×]\s+|(?<=[A-Za-z'\"])\s*[x×]\s*(?=[\d.])", text.strip())
    if len(halves) != 2:
        example = QUANTITIES[kind].example
        raise UnitError("E-UNIT-001", f"found {_shown(text)}; expected two lengths such as '{example} x {example}'")
    return parse(halves[0], kind), parse(halves[1], kind)


def unit_of(kind: str, system: System) -> tuple[str, float]:
    """The unit that `kind` is shown in, and its size in SI."""
    quantity = QUANTITIES[kind]
    return quantity.us if system == "us" else quantity.si


NOISE = 1e-9  # nothing that is shown is so small in its own unit: what is left of a sum that should be zero
NOISE_OF_FRAMES = {"N": 1e-3, "N·m": 1e-3, "rad": 1e-6}


def quiet(value: float, unit: str) -> float:
    """A force, moment or angle in SI units without what rounding leaves of a zero in a frame."""
    return 0.0 if abs(value) < NOISE_OF_FRAMES.get(unit, 0.0) else value


def number_text(value: float, figures: int = 3) -> str:
    """A number to a few significant figures, thousands parted, never in powers of ten below 10^9."""
    if math.isnan(value):
        return "?"
    if math.isinf(value):
        return "∞" if value > 0 else "-∞"
    if abs(value) < NOISE:
        return "0"
    decimals = figures - 1 - math.floor(math.log10(abs(value)))
    rounded = round(value, decimals)
    if rounded != 0:
        decimals = figures - 1 - math.floor(math.log10(abs(rounded)))
    if abs(rounded) >= 1e9:
        return f"{rounded:.{figures - 1}e}"
    text = f"{rounded:,.{max(decimals, 0)}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def show(value: float, kind: str, system: System, figures: int = 3) -> str:
    """`value` (SI) as a person reads it, with its unit."""
    (unit, size), quantity = unit_of(kind, system), QUANTITIES[kind]
    if kind == "distance" and system == "us":
        return feet_and_inches(value)
    if unit in CURRENCIES:
        return money(value, unit, figures)
    number = number_text(quiet(value, quantity.si[0]) / size, figures)
    if unit == "%":
        return f"{number} %"
    return f"{number} {unit}".rstrip()


def money_kind(currency: str) -> str:
    """The kind of quantity that an amount in this currency is."""
    return f"money {currency}"


def _money_number(value: float, figures: int) -> str:
    """To a few significant figures, thousands parted, in whole units of the currency."""
    if not math.isfinite(value) or value == 0:
        return number_text(value)
    decimals = figures - 1 - math.floor(math.log10(abs(value)))
    return f"{round(value, min(decimals, 0)):,.0f}"


def money(value: float, currency: str, figures: int = 3) -> str:
    """An amount of money as a person reads it: USD 12,300."""
    return f"{currency} {_money_number(value, figures)}"


def money_range(low: float, high: float, currency: str, figures: int = 2) -> str:
    """USD 1,900 to 12,000; up to USD 12,000 where it may cost nothing; one amount where both read alike."""
    if low == 0 and high > 0:
        return f"up to {money(high, currency, figures)}"
    first, last = (_money_number(value, figures) for value in (low, high))
    return f"{currency} {first}" if first == last else f"{currency} {first} to {last}"


def duration(seconds: float) -> str:
    """A time as a person says it: seconds, minutes, hours or days."""
    for unit, size, up_to in (("s", 1.0, 90.0), ("min", 60.0, 5400.0), ("h", 3600.0, 48 * 3600.0)):
        if seconds < up_to:
            return f"{number_text(seconds / size, 2)} {unit}"
    return f"{number_text(seconds / 86400.0, 2)} d"


def feet_and_inches(value: float) -> str:
    """A length in feet and inches, to the nearest eighth of an inch."""
    eighths = round(abs(value) / INCH * 8)
    feet, rest = divmod(eighths, 96)
    inches, part = divmod(rest, 8)
    sign = "-" if value < 0 and eighths else ""
    fraction = {0: "", 1: "1/8", 2: "1/4", 3: "3/8", 4: "1/2", 5: "5/8", 6: "3/4", 7: "7/8"}[part]
    inch_text = " ".join(text for text in (str(inches) if inches or not fraction else "", fraction) if text)
    if feet == 0:
        return f"{sign}{inch_text} in"
    if inch_text == "0":
        return f"{sign}{feet} ft"
    return f"{sign}{feet} ft {inch_text} in"
