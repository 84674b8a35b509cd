"""Timber and sheet material as an owner writes them: '4x6 hem-fir No.2 treated', '23/32 in plywood'."""

from __future__ import annotations

import re
from typing import Annotated, Any

from pydantic import BeforeValidator

from brimfast.shared.installation.fields import Name, OrText, Part, Quantity, YesNo, refuse
from brimfast.shared.units import UnitError, parse

_SIZE = re.compile(r"(?P<size>[0-9]{1,3}\s?x\s?[0-9]{1,3}(?:\s?mm\b)?)(?P<rest>(?:\s.*)?)", re.IGNORECASE)
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
    found: dict[str, Any] = {"size": match["size"].lower().replace(" ", "").replace("mm", " mm")}
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
