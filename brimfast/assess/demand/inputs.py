"""The keys that a standard takes in the file: read as it wants them, and what is wrong with them."""

from __future__ import annotations

from typing import Annotated, Any, TypeVar

from pydantic import ValidationError

from brimfast.assess.demand.standard import Standard, standard_named, standards
from brimfast.shared.errors import InputError, KeyPath, Problem
from brimfast.shared.installation.fields import Part, Quantity, nearest
from brimfast.shared.installation.model import Installation
from brimfast.shared.installation.rack import ComponentFactors
from brimfast.shared.installation.site import Building, Site
from brimfast.shared.validation import details_of, problem_of, without_misspelt

P = TypeVar("P", bound=Part)
Acceleration = Annotated[float, Quantity("acceleration", "0.01", "4")]
COMMON, COMPONENT = tuple(Site.model_fields), tuple(ComponentFactors.model_fields)


def read_inputs(model: type[P], site: Site) -> P:
    """The standard's own keys of a site. Raises InputError."""
    try:
        return model.model_validate(site.own)
    except ValidationError:
        raise InputError(input_problems(standard_named(site.standard), site.own, ("site",))) from None


def read_factors(model: type[P], given: ComponentFactors | None) -> P | None:
    """The factors of this standard that the file chooses; None where it chooses none. Raises InputError."""
    own = {key: value for key, value in given.own.items() if key in model.model_fields} if given is not None else {}
    if not own:
        return None
    try:
        return model.model_validate(own)
    except ValidationError as error:
        raise InputError([problem_of(detail, model, own) for detail in details_of(error)]) from None


def file_problems(raw: Any) -> list[Problem]:
    """What is wrong with the standards' keys in a file's raw values; what is no group of keys others will refuse."""
    site = raw.get("site") if isinstance(raw, dict) else None
    if not isinstance(site, dict):
        return []
    name = site.get("standard", Site.model_fields["standard"].default)
    if not isinstance(name, str):
        return []
    try:
        standard = standard_named(name)
    except InputError as error:
        return error.problems
    own = {key: value for key, value in site.items() if key not in COMMON}
    found = input_problems(standard, own, ("site",)) + _also(standard, site.get("also"))
    found += _building(standard, site.get("building"))
    for path, component in _components(raw):
        found += _factors(standard, component, path)
    return found


def check_inputs(installation: Installation) -> None:
    """Raises InputError with what is wrong with the standards' keys."""
    site, building = installation.site, installation.site.building
    said = building.model_dump(include=building.model_fields_set) if building is not None else None
    raw = {
        "site": {**site.own, "standard": site.standard, "also": site.also, "building": said},
        "racks": {name: {"component": _plain(rack.component)} for name, rack in installation.racks.items()},
        "vessels": [{"component": _plain(vessel.component)} for vessel in installation.vessels],
    }
    found = file_problems(raw)
    if found:
        raise InputError(found)


def _plain(component: ComponentFactors | None) -> dict[str, Any] | None:
    return None if component is None else component.own


def input_problems(standard: Standard, own: dict[str, Any], path: KeyPath = ()) -> list[Problem]:
    """Keys that the standard does not take, lacks, or finds outside its limits."""
    try:
        standard.inputs.model_validate(own)
    except ValidationError as error:
        details = without_misspelt(details_of(error), standard.inputs)
        return [_worded(standard, detail, own, path) for detail in details]
    return []


def _worded(standard: Standard, detail: dict[str, Any], own: dict[str, Any], path: KeyPath) -> Problem:
    kind, loc = detail["type"], detail["loc"]
    if kind == "extra_forbidden" and len(loc) == 1:
        known = [*standard.inputs.model_fields, *(COMMON if path == ("site",) else ())]
        others = [name for name, one in standards().items() if loc[0] in one.inputs.model_fields]
        where = f", which {', '.join(others)} {'has' if len(others) == 1 else 'have'}" if others else ""
        near = "" if others else nearest(loc[0], known)
        hint = near or f"; {standard.name} takes: {', '.join(standard.inputs.model_fields)}"
        return Problem("E-KEY-001", f"unknown key{where}{hint}", (*path, *loc), at_key=True)
    if kind == "missing" and len(loc) == 1:
        what = standard.inputs.model_fields[str(loc[0])].description
        message = f"missing the key {loc[0]!r} of {standard.name}: {what}; such as '{standard.example}'"
        return Problem("E-KEY-002", message, path)
    found = problem_of(detail, standard.inputs, own)
    return Problem(found.code, found.message, (*path, *found.path), at_key=found.at_key)


def _building(standard: Standard, building: Any) -> list[Problem]:
    """Keys of the building that this standard has no use for."""
    if not isinstance(building, dict):
        return []
    found = []
    for key in building:
        if key in Building.model_fields and key not in standard.building:
            others = ", ".join(name for name, one in standards().items() if key in one.building)
            message = f"{standard.name} does not use it ({others} do); of the building it takes: {', '.join(standard.building)}"
            found.append(Problem("E-KEY-001", message, ("site", "building", key), at_key=True))
    return found


def _also(standard: Standard, also: Any) -> list[Problem]:
    """The inputs of the standards beside the file's own."""
    found: list[Problem] = []
    if not isinstance(also, dict):
        return found
    for name, group in also.items():
        path = ("site", "also", name)
        try:
            other = standard_named(str(name), path)
        except InputError as error:
            found += [Problem(one.code, one.message, one.path, at_key=True) for one in error.problems]
            continue
        if other is standard:
            message = "the file's own standard; expected another one (its keys stand in site itself)"
            found.append(Problem("E-KEY-003", message, path, at_key=True))
        elif isinstance(group, dict):
            found += input_problems(other, group, path)
    return found


def _components(raw: dict[str, Any]) -> list[tuple[KeyPath, dict[str, Any]]]:
    """Every group of component factors of racks and vessels, with its place."""
    racks, vessels = raw.get("racks"), raw.get("vessels")
    holders: list[tuple[KeyPath, Any]] = []
    if isinstance(racks, dict):
        holders += [(("racks", name), rack) for name, rack in racks.items()]
    if isinstance(vessels, list):
        holders += [(("vessels", index), vessel) for index, vessel in enumerate(vessels)]
    found = [((*path, "component"), item.get("component")) for path, item in holders if isinstance(item, dict)]
    return [(path, component) for path, component in found if isinstance(component, dict)]


def _factors(standard: Standard, component: dict[str, Any], path: KeyPath) -> list[Problem]:
    """Factors of the file's standard are read; those of another one stay for it; what no standard has is refused."""
    fields = standard.factors.model_fields
    anywhere = {key for one in standards().values() for key in one.factors.model_fields}
    found = []
    for key in component:
        if key not in anywhere and key not in COMPONENT:
            hint = nearest(key, list(fields)) or f"; {standard.name} takes: {', '.join(fields)}"
            found.append(Problem("E-KEY-001", f"unknown key{hint}", (*path, key), at_key=True))
    mine = {key: value for key, value in component.items() if key in fields}
    try:
        standard.factors.model_validate(mine)
    except ValidationError as error:
        problems = [problem_of(detail, standard.factors, mine) for detail in details_of(error)]
        found += [Problem(one.code, one.message, (*path, *one.path), at_key=one.at_key) for one in problems]
    return found
