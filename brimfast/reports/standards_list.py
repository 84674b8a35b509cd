"""The list of standards, and what each needs."""

from __future__ import annotations

import json
import re
from typing import Any

from rich.console import Console
from rich.text import Text

from brimfast.assess.demand.standard import Standard, standards
from brimfast.reports.terminal_parts import heading, row, table, wrapped
from brimfast.shared.installation.fields import Part
from brimfast.shared.installation.site import Site

OFFICIAL = (
    "The official value for an address comes from the building department, from the government's hazard map or design-value "
    "service, and for the ground from a geotechnical engineer."
)


def _keys(model: type[Part]) -> list[dict[str, Any]]:
    return [
        {"key": name, "what": field.description or "", "required": field.is_required()}
        for name, field in model.model_fields.items()
    ]


def standards_json(utf8: bool) -> str:
    found = [
        {
            "name": one.name,
            "title": one.title,
            "where": one.where,
            "default": one.name == Site.model_fields["standard"].default,
            "needs": one.needs,
            "example": one.example,
            "official_values": one.official,
            "site_keys": _keys(one.inputs),
            "component_keys": list(one.factors.model_fields),
        }
        for one in standards().values()
    ]
    return json.dumps(found, indent=2, ensure_ascii=not utf8)


def print_standards(out: Console) -> None:
    heading("Standards: the word for 'standard' under site, and the keys that go with it", out)
    found = table((("standard", False), ("title and place", False), ("needs", False), ("may have", False)))
    for one in standards().values():
        row(found, Text(one.name, style="bold"), f"{one.title}. {one.where}", one.needs, _optional(one))
    out.print(found)
    for one in standards().values():
        wrapped(f"{one.name}: site: {{standard: {one.name}, {one.example}}}", out, 2)
    out.print()
    wrapped(
        "All of them also take height_ratio, setting and building; under component each takes its own factors with a reason. "
        "Another standard's inputs stand beside, such as 'also: {nzs1170.5: {Z: 0.4, soil: C}}', for: brimfast check FILE "
        "--standard NAME.",
        out,
    )
    wrapped(f"{OFFICIAL} A hint at a place: brimfast standards --near 'Seattle'.", out)


def _optional(one: Standard) -> str:
    """The keys that are not among the needs."""
    named = set(re.findall(r"[A-Za-z]\w*", one.needs))
    return ", ".join(name for name in one.inputs.model_fields if name not in named)
