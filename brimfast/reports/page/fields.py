"""What a key of the installation takes: read off the model, so that no key is described twice."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any, Literal, get_args, get_origin

from pydantic.fields import FieldInfo

from brimfast.assess.demand.standard import standards
from brimfast.shared.installation.fields import Part, Quantity, QuantityPair, Words
from brimfast.shared.units import QUANTITIES, System, parse, show

How = Literal["text", "words", "yes or no", "group", "list", "lines", "named", "plain"]


@dataclass(frozen=True)
class Key:
    """One key of a group.

    how: text of one line (with a quantity, maybe), one of some words, yes or no, a group of keys, a list of groups, a list
    of texts, groups by name, plain values that no form shows. part: of groups, what they are.
    """

    name: str
    how: How
    required: bool
    words: tuple[str, ...] = ()
    quantity: Quantity | QuantityPair | None = None
    part: type[Part] | None = None
    or_text: bool = False  # of a group: a short text says it as well
    default: Any = None
    number: bool = False  # a whole number, an amount of money or a plain number, never a name
    description: str = ""

    def hint(self, system: System) -> str:
        """Limits and an example, of what has a unit."""
        if isinstance(self.quantity, QuantityPair):
            return f"two lengths, such as {PAIRS[system]}"
        if self.quantity is None:
            return ""
        low, high, kind = self.quantity.low, self.quantity.high, self.quantity.kind
        example = QUANTITIES[kind].example
        if QUANTITIES[kind].dimension == (0, 0, 0) and kind != "share":
            return f"{low} to {high}"
        if system == "si":
            low, high, example = (show(parse(text, kind), kind, system, 2) for text in (low, high, example))
        return f"{low} to {high}, such as {example}"


PAIRS: dict[System, str] = {"us": "24 in x 30 in", "si": "600 mm x 750 mm"}


@cache
def keys_of(part: type[Part]) -> dict[str, Key]:
    """By the name that the file has for them."""
    return {field.alias or name: _key(field.alias or name, field) for name, field in part.model_fields.items()}


@cache
def site_keys(standard: str) -> dict[str, Key]:
    """Of a standard, its own keys under site; none for a name that no standard has."""
    found = standards().get(standard)
    return keys_of(found.inputs) if found is not None else {}


def _key(name: str, field: FieldInfo) -> Key:
    marks = list(_marks(field))
    part, many = _part(field.annotation)
    quantity = next((mark for mark in marks if isinstance(mark, (Quantity, QuantityPair))), None)
    words = next((mark.allowed for mark in marks if isinstance(mark, Words)), ())
    plain = set(_plain_types(field.annotation))
    yes_no = bool in plain
    how: How = "text"
    if part is not None:
        how = {"": "group", "list": "list", "dict": "named"}[many]  # type: ignore[assignment]
    elif many == "list":
        how = "lines"
    elif many == "dict":
        how = "plain"
    elif yes_no:
        how = "yes or no"
    elif words:
        how = "words"
    required = field.is_required()
    or_text = part is not None and not many and any(type(mark).__name__ in ("OrText", "_OrAmount") for mark in marks)
    default = None if required or field.default_factory is not None else field.default
    number = bool(plain & {int, float})
    return Key(name, how, required, words, quantity, part, or_text, default, number, field.description or "")


def _marks(field: FieldInfo) -> Iterator[Any]:
    yield from field.metadata
    yield from _inside(field.annotation)


def _inside(annotation: Any) -> Iterator[Any]:
    """Marks of optional types and of what Annotated wraps; not those of a list's items."""
    yield from getattr(annotation, "__metadata__", ())
    if get_origin(annotation) in (list, dict):
        return
    for inner in get_args(annotation):
        if not isinstance(inner, str):
            yield from _inside(inner)


def _plain_types(annotation: Any) -> Iterator[type]:
    if isinstance(annotation, type):
        yield annotation
    elif get_origin(annotation) not in (list, dict, tuple):
        for inner in get_args(annotation):
            if not isinstance(inner, str):
                yield from _plain_types(inner)


def _part(annotation: Any) -> tuple[type[Part] | None, str]:
    """The group that a key holds, and whether as a list or by name."""
    if isinstance(annotation, type) and issubclass(annotation, Part):
        return annotation, ""
    origin = get_origin(annotation)
    if origin in (list, dict):
        inner = get_args(annotation)[-1]
        return _part(inner)[0], "list" if origin is list else "dict"
    for inner in get_args(annotation):
        if not isinstance(inner, str):
            found = _part(inner)
            if found != (None, ""):
                return found
    return None, ""
