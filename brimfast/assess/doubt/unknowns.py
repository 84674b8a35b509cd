"""What of an installation is not known for certain: the ranges of its file, and what is uncertain in all of them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any, Literal

from pydantic import BaseModel

from brimfast.assess.demand.inputs import read_factors, read_inputs
from brimfast.assess.demand.standard import standard_of
from brimfast.assess.doubt.spread import Spread, around, of
from brimfast.assess.doubt.targets import FillWeight, FrictionUnder, Levels, Masses, Nowhere, Target, There
from brimfast.assess.resolve import FrictionUsed, Resolved
from brimfast.data_tables.loader import factor, factor_si
from brimfast.shared.edits import KeyPath
from brimfast.shared.findings import Value
from brimfast.shared.installation.model import Installation
from brimfast.shared.installation.vessel import Fill
from brimfast.shared.reading import path_text
from brimfast.shared.uncertain import Uncertain, looks_uncertain

Role = Literal["file", "shaking", "joints", "timber"]
GIVEN = "the installation file"


@dataclass(frozen=True)
class Unknown:
    """One number that is not known; `measure` tells what would make it better known."""

    name: str
    spread: Spread
    target: Target
    value: Value
    measure: str
    role: Role = "file"


def unknowns(installation: Installation, raw: Any, resolved: Resolved) -> tuple[Unknown, ...]:
    """In a fixed order: the ground, the hands, then what the file names."""
    doubt = installation.doubt
    found = [
        Unknown(
            "the shaking itself",
            around(1.0, doubt.shaking or factor_si("doubt_shaking")),
            Nowhere(),
            _used("doubt_shaking", doubt.shaking, "β"),
            "nothing at home: earthquakes of one strength differ",
            "shaking",
        )
    ]
    if installation.racks or any(vessel.anchors for vessel in installation.vessels):
        strength = doubt.fasteners
        found.append(
            Unknown(
                "strength of joints",
                around(strength.median, strength.spread or factor_si("doubt_fasteners")),
                Nowhere(),
                _used("doubt_fasteners", strength.spread, f"median {strength.median:g}, β"),
                "look at every joint: fastener, length, pre-drilling, splits, rust",
                "joints",
            )
        )
    if installation.racks:
        strength = doubt.timber
        found.append(
            Unknown(
                "strength of the timber",
                around(strength.median, strength.spread or factor_si("doubt_timber")),
                Nowhere(),
                _used("doubt_timber", strength.spread, f"median {strength.median:g}, β"),
                "read the grade stamps; look for knots, splits and rot",
                "timber",
            )
        )
    found += _frictions(installation, resolved)
    found += _fills(installation, resolved)
    found += _levels(installation)
    found += _masses(installation)
    found += ranges_of_file(installation, raw)
    return tuple(found)


def _used(key: str, own: float | None, what: str) -> Value:
    row = factor(key)
    if own is not None:
        return Value(row.what, f"{what} {100 * own:g} %", GIVEN, "given in the file")
    return row.used(row.what, f"{what} {row.value:g} {row.unit}".strip())


def _frictions(installation: Installation, resolved: Resolved) -> Iterator[Unknown]:
    """One for each pair of what stands on what."""
    pairs: dict[tuple[str, str, float, float], list[KeyPath]] = {}
    of_pair: dict[tuple[str, str, float, float], FrictionUsed] = {}

    def add(friction: FrictionUsed, path: KeyPath) -> None:
        key = (friction.foot, friction.on, friction.low, friction.high)
        of_pair[key] = friction
        pairs.setdefault(key, []).append(path)

    for name in installation.racks:
        add(resolved.racks[name].friction, ("racks", name))
    for index, vessel in enumerate(installation.vessels):
        add(resolved.vessels[vessel.name].friction, ("vessels", index))
    for key, paths in pairs.items():
        foot, on, low, high = key
        if not low < high:
            continue
        yield Unknown(
            f"friction of {foot} on {on}",
            Spread("even", low, high),
            FrictionUnder(tuple(paths)),
            of_pair[key].value,
            "pull it sideways with a spring scale: force over weight",
        )


def _fills(installation: Installation, resolved: Resolved) -> Iterator[Unknown]:
    by_kind: dict[tuple[str | None, float, float], list[int]] = {}
    for index, vessel in enumerate(installation.vessels):
        if vessel.fill is not None and not _any_uncertain(vessel.fill):
            parts = resolved.vessels[vessel.name]
            by_kind.setdefault((vessel.fill.name, parts.porosity, parts.grain_density), []).append(index)
    own = installation.doubt.fill
    share = own or factor_si("doubt_fill")
    for (name, porosity, grain_density), vessels in by_kind.items():
        yield Unknown(
            f"weight of the flooded {name or 'fill'}",
            Spread("lognormal", 1 / (1 + share), 1 + share),
            FillWeight(tuple(vessels), name, porosity, grain_density),
            _used("doubt_fill", own, "give or take"),
            "weigh a bucket of it, flooded to the top of the stones",
        )


def _any_uncertain(fill: Fill) -> bool:
    return isinstance(fill.porosity, Uncertain) or isinstance(fill.grain_density, Uncertain)


def _levels(installation: Installation) -> Iterator[Unknown]:
    found = tuple(
        (index, vessel.water, vessel.depth)
        for index, vessel in enumerate(installation.vessels)
        if vessel.water is not None
        and vessel.depth is not None
        and not isinstance(vessel.water, Uncertain)
        and not isinstance(vessel.depth, Uncertain)
    )
    own = installation.doubt.water
    by = own or factor_si("doubt_water")
    if found:
        value = _used("doubt_water", None, "give or take")
        if own is not None:
            value = Value(value.name, f"give or take {own:.3g} m", GIVEN, "given in the file")
        yield Unknown(
            "levels of the water",
            Spread("even", -by, by),
            Levels(found),
            value,
            "mark the level, and read it for a month",
        )


def _masses(installation: Installation) -> Iterator[Unknown]:
    found = tuple(
        (index, vessel.mass, vessel.holds)
        for index, vessel in enumerate(installation.vessels)
        if vessel.mass is not None and not isinstance(vessel.mass, Uncertain)
    )
    own = installation.doubt.weights
    share = own or factor_si("doubt_weights")
    if found:
        yield Unknown(
            "weights that were given",
            Spread("lognormal", 1 / (1 + share), 1 + share),
            Masses(found),
            _used("doubt_weights", own, "give or take"),
            "weigh them again, full",
        )


def ranges_of_file(installation: Installation, raw: Any) -> tuple[Unknown, ...]:
    """Ranges and spreads that the file gives, those of its standard's own keys among them."""
    site = installation.site
    standard = standard_of(site)
    factors = [rack.component for rack in installation.racks.values()]
    factors += [vessel.component for vessel in installation.vessels]
    read: list[BaseModel] = [installation, read_inputs(standard.inputs, site)]
    read += [own for one in factors if (own := read_factors(standard.factors, one)) is not None]
    known = {one.text: one for node in read for one in _uncertain(node)}
    found = []
    for path, text in _texts(raw, ()):
        number = known.get(text.strip())
        if number is not None:
            name = path_text(path, raw)
            value = Value(name, number.text, GIVEN, "given in the file")
            found.append(Unknown(name, of(number), There(path), value, "measure it"))
    return tuple(found)


def _uncertain(node: Any) -> Iterator[Uncertain]:
    if isinstance(node, Uncertain):
        yield node
    elif isinstance(node, BaseModel):
        for name in type(node).model_fields:
            yield from _uncertain(getattr(node, name))
    elif isinstance(node, dict):
        for child in node.values():
            yield from _uncertain(child)
    elif isinstance(node, (list, tuple)):
        for child in node:
            yield from _uncertain(child)


def _texts(node: Any, path: KeyPath) -> Iterator[tuple[KeyPath, str]]:
    if isinstance(node, str):
        if looks_uncertain(node):
            yield path, node
        return
    children: Iterable[tuple[Any, Any]] = ()
    if isinstance(node, dict):
        children = node.items()
    elif isinstance(node, list):
        children = enumerate(node)
    for key, child in children:
        yield from _texts(child, (*path, key))
