"""What of an installation is not known for certain: the ranges of its file, and what is uncertain in all of them."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any, Literal

from pydantic import BaseModel

from brimfast.assess.demand.inputs import read_factors, read_inputs
from brimfast.assess.demand.standard import standard_of
from brimfast.assess.doubt.spread import Spread, around, of
from brimfast.assess.doubt.targets import (
    Centres,
    FillWeight,
    FrictionUnder,
    Levels,
    Masses,
    Nowhere,
    Target,
    There,
)
from brimfast.assess.parts import FrictionUsed, Resolved
from brimfast.data_tables.loader import factor, factor_si
from brimfast.shared.errors import InputError, KeyPath, Problem
from brimfast.shared.findings import Value
from brimfast.shared.installation.doubt import Strength
from brimfast.shared.installation.model import Installation
from brimfast.shared.installation.vessel import Fill
from brimfast.shared.reading import path_text
from brimfast.shared.uncertain import Z_95, Marked, Uncertain, marked

Role = Literal["file", "shaking", "joints", "timber"]
GIVEN = "the installation file"
MOST_RANGES = 40


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
            _beta("doubt_shaking", doubt.shaking),
            "nothing at home: earthquakes of one strength differ",
            "shaking",
        )
    ]
    anchored = any(vessel.anchors for vessel in installation.vessels)
    strengths: list[tuple[bool, str, str, Strength, str, Role]] = [
        (
            bool(installation.racks) or anchored,
            "strength of joints",
            "doubt_fasteners",
            doubt.fasteners,
            "look at every joint: fastener, length, pre-drilling, splits, rust",
            "joints",
        ),
        (
            bool(installation.racks),
            "strength of the timber",
            "doubt_timber",
            doubt.timber,
            "read the grade stamps; look for knots, splits and rot",
            "timber",
        ),
    ]
    for there, name, key, strength, measure, role in strengths:
        if there:
            spread = around(strength.median, strength.spread or factor_si(key))
            value = _beta(key, strength.spread, strength.median)
            found.append(Unknown(name, spread, Nowhere(), value, measure, role))
    found += _frictions(installation, resolved)
    found += _fills(installation, resolved)
    found += _levels(installation)
    found += _masses(installation)
    # friction is one number between its low and its high, whatever is not known of these
    found += [one for one in ranges_of_file(raw) if "friction" not in _path(one)]
    return tuple(found)


def _path(one: Unknown) -> KeyPath:
    """Of a range of the file."""
    assert isinstance(one.target, There)
    return one.target.path


def _beta(key: str, own: float | None, median: float = 1.0) -> Value:
    """A spread of the logarithm, said as the factor within which 95 in 100 lie."""
    row = factor(key)
    beta = own or factor_si(key)
    text = f"{100 * beta:g} %: within {math.exp(Z_95 * beta):.2g} times"
    if median != 1:
        text = f"{median:g} times the design value, {text}"
    given = own is not None or median != 1
    return Value(row.what, text, GIVEN, "given in the file") if given else row.used(row.what, text)


def _used(key: str, own: float | None, what: str) -> Value:
    row = factor(key)
    if own is not None:
        return Value(row.what, f"{what} {100 * own:g} %", GIVEN, "given in the file")
    return row.used(row.what, f"{what} {row.value:g} {row.unit}".strip())


def _frictions(installation: Installation, resolved: Resolved) -> Iterator[Unknown]:
    """One for each pair of what stands on what; where the file has its own for some bodies, they are named."""
    pairs: dict[tuple[str, str, float, float], list[tuple[str, KeyPath]]] = {}
    of_pair: dict[tuple[str, str, float, float], FrictionUsed] = {}

    def add(friction: FrictionUsed, name: str, path: KeyPath) -> None:
        low = friction.low.low if isinstance(friction.low, Uncertain) else friction.low
        high = friction.high.high if isinstance(friction.high, Uncertain) else friction.high
        key = (friction.foot, friction.on, low, high)
        of_pair[key] = friction
        pairs.setdefault(key, []).append((name, path))

    for name in installation.racks:
        add(resolved.racks[name].friction, f"rack {name}", ("racks", name))
    for index, vessel in enumerate(installation.vessels):
        add(resolved.vessels[vessel.name].friction, vessel.name, ("vessels", index))
    for key, bodies in pairs.items():
        foot, on, low, high = key
        if not low < high:
            continue
        several = sum(1 for other in pairs if other[:2] == key[:2]) > 1
        value = of_pair[key].value
        yield Unknown(
            f"friction of {foot} on {on}" + (f" ({', '.join(name for name, _ in bodies)})" if several else ""),
            Spread("even", low, high),
            FrictionUnder(tuple(path for _, path in bodies)),
            replace(value, text=f"{low:g} to {high:g}"),
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
    """What was weighed, and how high its centre of mass was guessed."""
    found = tuple(
        (index, vessel.mass, vessel.holds)
        for index, vessel in enumerate(installation.vessels)
        if vessel.mass is not None and not isinstance(vessel.mass, Uncertain)
    )
    centres = tuple(
        (index, vessel.centre_of_mass)
        for index, vessel in enumerate(installation.vessels)
        if vessel.centre_of_mass is not None and not isinstance(vessel.centre_of_mass, Uncertain)
    )
    own = installation.doubt.weights
    share = own or factor_si("doubt_weights")
    spread, value = Spread("lognormal", 1 / (1 + share), 1 + share), _used("doubt_weights", own, "give or take")
    if found:
        yield Unknown("weights that were given", spread, Masses(found), value, "weigh them again, full")
    if centres:
        name, how = "heights of centres of mass that were given", "measure stand and water, and work them out"
        yield Unknown(name, spread, Centres(centres), value, how)


def ranges_of_file(raw: Any) -> tuple[Unknown, ...]:
    """Ranges and spreads that the file gives, those of its standard's own keys among them. Raises InputError where too many."""
    installation = Installation.model_validate(marked(raw))
    site = installation.site
    standard = standard_of(site)
    factors = [rack.component for rack in installation.racks.values()]
    factors += [vessel.component for vessel in installation.vessels]
    read: list[BaseModel] = [installation, read_inputs(standard.inputs, site)]
    read += [own for one in factors if (own := read_factors(standard.factors, one)) is not None]
    found = {}
    for node in read:
        for number in _uncertain(node):
            if isinstance(number.text, Marked):
                found[number.text.path] = number
    if len(found) > MOST_RANGES:
        path = list(found)[MOST_RANGES]
        message = f"found {len(found)} ranges in the file; expected at most {MOST_RANGES}: keep those that matter"
        raise InputError([Problem("E-FIT-001", message, path)])
    return tuple(_of_file(path, number, raw) for path, number in found.items())


def _of_file(path: KeyPath, number: Uncertain, raw: Any) -> Unknown:
    name = path_text(path, raw)
    measure = "ask for the official value of the address" if path[0] == "site" else "measure it"
    text = number.text.strip()
    return Unknown(name, of(number), There(path), Value(name, text, GIVEN, "given in the file"), measure)


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
