"""What a standard is to the rest: one object in each standard's own file, all behind this form.

`standards()` finds them: every module of this folder that has a STANDARD. Nothing is registered, nothing can be changed.
"""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from brimfast.assess import demand
from brimfast.assess.demand.force import Body, Force
from brimfast.assess.demand.motion import GroundMotion
from brimfast.data_tables.rows import Row
from brimfast.shared.errors import InputError, Problem
from brimfast.shared.findings import Step, Value
from brimfast.shared.installation.fields import Part, nearest
from brimfast.shared.installation.site import Site

Method = Callable[[Body, Site, GroundMotion], Force]


@dataclass(frozen=True)
class Attachment:
    """Whether a standard asks that a body be fastened, and where it says so.

    basis, reason and value are for the finding where it does; exempt is said of the bodies of which it does not.
    """

    asked: bool
    basis: str
    reason: str
    value: Value
    exempt: tuple[str, str] = ("", "")  # before and after the bodies' names


@dataclass(frozen=True)
class HazardPoint:
    """How often the ground shakes harder than `times` the site's design earthquake: once in so many years."""

    times: float
    years: float
    value: Value


@dataclass(frozen=True)
class Standard:
    """One standard: its inputs, its methods, and how it is named."""

    name: str  # in the file
    title: str
    where: str  # where it is used
    inputs: type[Part]  # its own keys under site; each says in its description what it is
    factors: type[Part]  # its own keys under component
    needs: str  # the inputs that it cannot do without, in words
    example: str  # of its keys, as they stand in a file
    official: str  # who has the official values
    motion: Callable[[Site], GroundMotion]
    force: Method
    in_the_open: Method  # of what stands by itself outside a building
    height: Callable[[Site, float], tuple[float, Step]]  # what a floor at a share of the building's height adds
    attachment: Callable[[str, Site, GroundMotion], Attachment]  # of a component: vessel, braced rack, unbraced rack
    in_the_open_attachment: str  # why it is not assessed there
    in_the_open_basis: str
    hazard: Callable[[Site], HazardPoint]  # what its design earthquake stands for
    freeboard: str  # what the standard says of the rim above the water of such vessels
    building: tuple[str, ...] = ("period",)  # what it takes of site.building
    tables: tuple[tuple[type[Row], str], ...] = ()  # of its own, by row class and name
    freeboard_values: tuple[Value, ...] = ()
    assumptions: tuple[str, ...] = ()
    last_assumptions: tuple[str, ...] = ()


@cache
def standards() -> Mapping[str, Standard]:
    """Every standard by its name, in the order of the names."""
    modules = (
        importlib.import_module(f"{demand.__name__}.{found.name}") for found in pkgutil.iter_modules(demand.__path__)
    )
    found = {one.name: one for module in modules if isinstance(one := getattr(module, "STANDARD", None), Standard)}
    return MappingProxyType(dict(sorted(found.items())))


def standard_named(name: str, path: tuple[str | int, ...] = ("site", "standard")) -> Standard:
    """Raises InputError for a name that no standard has."""
    known = standards()
    found = known.get(name.casefold())
    if found is None:
        message = f"found {name[:40]!r}; expected one of: {', '.join(known)}{nearest(name, list(known))}"
        raise InputError([Problem("E-WORD-001", message, path)])
    return found


def standard_of(site: Site) -> Standard:
    return standard_named(site.standard)
