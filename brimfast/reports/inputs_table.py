"""What the file gives, read back from the installation: every key that stands in it, lengths and loads in both systems."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from pydantic import BaseModel

from brimfast.reports.words import both
from brimfast.shared.constants import FOOT
from brimfast.shared.installation.fields import Quantity, QuantityPair
from brimfast.shared.installation.model import Installation
from brimfast.shared.installation.site import Price
from brimfast.shared.installation.timber import Panel, Timber
from brimfast.shared.uncertain import Uncertain
from brimfast.shared.units import System, number_text, show

IN_BOTH = ("length", "distance", "mass", "force", "pressure", "volume", "flow", "stress", "area")
LISTS = ("vessels", "joints", "pumps", "pipes", "supplies", "hung")
NOT_ITS_OWN = ("name", "rack", "where")  # they stand in the first column


def _curve(points: Any, system: System) -> str:
    return ", ".join(f"{both(flow, 'flow', system)} at {both(head, 'distance', system)}" for flow, head in points)


def _nails(nails: Any, _: System) -> str:
    if isinstance(nails, int):
        return str(nails)
    return " + ".join(str(count) for count in nails)


def _hazard(points: Any, _: System) -> str:
    return ", ".join(f"{number_text(times)} once in {number_text(1 / rate, 4)} years" for times, rate in points)


def _costs(costs: Any, system: System) -> str:
    return f"(low {_per_area(costs.low, system)}; high {_per_area(costs.high, system)})"


def _per_area(value: float, system: System) -> str:
    metric, feet = f"{_amount(value)} / m²", f"{_amount(value * FOOT**2)} / ft²"
    return f"{feet} ({metric})" if system == "us" else f"{metric} ({feet})"


def _price(one: Price) -> str:
    return _amount(one.low) if one.low == one.high else f"(low {_amount(one.low)}; high {_amount(one.high)})"


def _amount(value: float) -> str:
    """Money to the cent."""
    return f"{value:,.2f}".removesuffix(".00")


SPELT = {
    "curve": _curve,
    "nails": _nails,
    "hazard": _hazard,
    "costs": _costs,
    "costs_below": _costs,
}  # of which the field does not say how they are written


def input_rows(installation: Installation, system: System) -> list[tuple[str, str]]:
    """What it is, and its keys; what the file does not give stands nowhere."""
    shown = _Shown(system)
    rows = [("site", shown.part(installation.site)), ("room", shown.part(installation.room))]
    rows += [(f"rack {name}", shown.part(rack)) for name, rack in installation.racks.items()]
    rows += [(_named(one), shown.part(one)) for key in LISTS for one in getattr(installation, key)]
    rows += [(key, shown.part(getattr(installation, key))) for key in ("exposure", "doubt")]
    rows.append(("prices", "; ".join(f"{item} {_price(one)}" for item, one in installation.prices.items())))
    return [(what, text) for what, text in rows if text]


def _named(one: Any) -> str:
    return str(one.name) if hasattr(one, "name") else f"rack {one.rack}, {one.where}"


class _Shown:
    def __init__(self, system: System) -> None:
        self.system = system

    def part(self, part: BaseModel) -> str:
        return "; ".join(self._keys(part, NOT_ITS_OWN))

    def _keys(self, part: BaseModel, besides: tuple[str, ...] = ()) -> Iterator[str]:
        fields = type(part).model_fields
        for key in fields:
            if key in part.model_fields_set and key not in besides:
                name = fields[key].alias or key
                value = getattr(part, key)
                if key in SPELT:
                    yield f"{name} {SPELT[key](value, self.system)}"
                    continue
                text = self._value(value, fields[key].metadata, fields[key].annotation)
                if text:
                    yield f"{name} {text}"
        for key, value in (part.model_extra or {}).items():
            yield f"{key} {self._value(value, (), None)}"

    def _value(self, value: Any, metadata: Iterable[Any], annotation: Any) -> str:
        if isinstance(value, bool):
            return "yes" if value else "no"
        if isinstance(value, Timber):
            marks = [word for word in ("treated", "incised") if getattr(value, word)]
            return " ".join(part for part in (value.size, value.species, value.grade, *marks) if part)
        if isinstance(value, Panel):
            return f"{both(value.thickness, 'length', self.system)} {value.material}"
        if isinstance(value, BaseModel):
            return f"({'; '.join(self._keys(value))})"
        if isinstance(value, Mapping):
            return f"({'; '.join(f'{key} {self._value(item, (), None)}' for key, item in value.items())})"
        quantity = _quantity(metadata, annotation)
        if isinstance(value, (int, float)):
            return self._number(value, quantity)
        if isinstance(value, str) or value is None:
            return value or ""
        if isinstance(value, Sequence):
            mark = " x " if isinstance(quantity, QuantityPair) else ", "
            return mark.join(self._value(item, [quantity] if quantity else (), None) for item in value) or "none"
        return str(value)

    def _number(self, value: float, quantity: Quantity | QuantityPair | None) -> str:
        if quantity is None:
            return number_text(value, 4)
        kind = quantity.kind if isinstance(quantity, Quantity) else "distance" if value >= FOOT else "length"
        if isinstance(value, Uncertain):
            low, high = (show(end, kind, self.system) for end in (value.low, value.high))
            return f"{show(value, kind, self.system)} (between {low} and {high})"
        if kind == "number":
            return number_text(value, 4)
        return both(value, kind, self.system) if kind in IN_BOTH else show(value, kind, self.system)


def _quantity(metadata: Iterable[Any], annotation: Any) -> Quantity | QuantityPair | None:
    """The kind of a number, as its field says; optional fields carry it inside."""
    for one in metadata:
        if isinstance(one, (Quantity, QuantityPair)):
            return one
    for inner in getattr(annotation, "__args__", ()):
        found = _quantity(getattr(inner, "__metadata__", ()), inner)
        if found is not None:
            return found
    return None
