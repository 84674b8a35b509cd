"""How all faces show what the water touches and may cost: sentences, rows of one table, the machine's object."""

from __future__ import annotations

import math
from typing import Any

from brimfast.assess.exposure.assess import Affected, Exposed, WetFloor
from brimfast.assess.exposure.wetted import HERE
from brimfast.reports.words import capital
from brimfast.shared.installation.model import Installation
from brimfast.shared.units import System, money, money_range, show, unit_of

EXPOSURE_HEAD = ("event, floor", "finish", "wet area", "depth", "low cost", "high cost")
EVENTS = {"single": "Worst single mishap", "earthquake": "Worst of one earthquake"}
LATER = {"single": "the worst single mishap", "earthquake": "the worst one earthquake can do"}


def exposure_words(exposed: Exposed, installation: Installation) -> str:
    """Two or three sentences for the owner's page; empty where no floor gets wet."""
    if not exposed.floods:
        return ""
    worst = max(exposed.floods, key=lambda one: (one.high or 0.0, one.area(HERE)))
    if worst.low is None or worst.high is None:
        return f"What wet floors cost is not assessed: {worst.why}. Ask your insurer whether it pays for such water."
    by = "US planning figures; get local quotes" if exposed.planned else "the costs in the file"
    amount = money_range(worst.low, worst.high, exposed.currency)
    text = f"Drying and repair after {LATER.get(worst.id, worst.id)} may come to {amount} ({by})."
    text += _against(worst, exposed, installation)
    return f"{text} Ask your insurer, in writing, whether it pays for that."


def cost_in_short(exposed: Exposed) -> str:
    """The range of the costliest event; empty where nothing is known of it."""
    known = [one for one in exposed.floods if one.low is not None and one.high is not None]
    if not known:
        return ""
    worst = max(known, key=lambda one: one.high or 0.0)
    return f"Drying and repair may come to {money_range(worst.low or 0.0, worst.high or 0.0, exposed.currency)}."


def _against(worst: Affected, exposed: Exposed, installation: Installation) -> str:
    """One sentence on what passes a limit of the file; nothing where nothing does."""
    exposure, currency = installation.exposure, exposed.currency
    here = worst.on(HERE)
    limits = []
    if exposure.liability_limit is not None and (worst.high or 0.0) > exposure.liability_limit:
        limits.append(f"the liability limit of {money(exposure.liability_limit, currency)}")
    if exposure.deposit is not None and here is not None and here[1] > exposure.deposit:
        limits.append(f"the deposit of {money(exposure.deposit, currency)}")
    parts = [f"the high end passes {' and '.join(limits)}"] if limits else []
    if exposure.contents_limit is not None and (exposure.contents or 0.0) > exposure.contents_limit:
        parts.append(
            f"what stands there is worth more than the contents limit of {money(exposure.contents_limit, currency)}"
        )
    return f" {capital('; '.join(parts))}." if parts else ""


def exposure_rows(exposed: Exposed, system: System) -> list[list[str]]:
    """One row a wetted floor, then one for the event as a whole, and its bound by depth where there is one."""
    rows = []
    for one in exposed.floods:
        name = EVENTS.get(one.id, one.id)
        rows += [_row(name, floor, exposed, system) for floor in one.floors]
        total = [_amount(one.low, exposed), _amount(one.high, exposed)]
        rows.append([f"{name}, together", "", "", "", *total])
        if one.building_bound is not None:
            bound = _amount(one.building_bound, exposed)
            rows.append([f"{name}, {HERE}: as if flooded (upper bound)", "", "", "", "", bound])
        if one.contents is not None:
            rows.append([f"{name}, contents: all of it", "", "", "", "", _amount(one.contents, exposed)])
        if one.contents_bound is not None:
            bound = _amount(one.contents_bound, exposed)
            rows.append([f"{name}, contents: as if flooded (upper bound)", "", "", "", "", bound])
    return rows


def _row(name: str, floor: WetFloor, exposed: Exposed, system: System) -> list[str]:
    return [
        f"{name}, {floor.room}" + ("" if floor.sure else " (if it comes through)"),
        floor.finish,
        show(floor.area, "area", system),
        "not known" if floor.depth is None else show(floor.depth, "length", system, 2),
        _amount(floor.low, exposed),
        _amount(floor.high, exposed),
    ]


def _amount(value: float | None, exposed: Exposed) -> str:
    return "not assessed" if _finite(value) is None else money(value or 0.0, exposed.currency)


def _finite(value: float | None) -> float | None:
    return value if value is not None and math.isfinite(value) else None


def exposure_json(exposed: Exposed, system: System) -> dict[str, Any]:
    area_unit, area = unit_of("area", system)
    length_unit, length = unit_of("length", system)

    def over(value: float | None, size: float) -> float | None:
        return None if _finite(value) is None else (value or 0.0) / size

    return {
        "currency": exposed.currency,
        "area_unit": area_unit,
        "depth_unit": length_unit,
        "water": exposed.water,
        "category": exposed.category,
        "category_assumed": exposed.assumed,
        "planning_figures": exposed.planned,
        "events": [
            {
                "id": one.id,
                "text": one.text,
                "floors": [
                    {
                        "storey": floor.storey,
                        "room": floor.room,
                        "finish": floor.finish,
                        "area": over(floor.area, area),
                        "depth": over(floor.depth, length),
                        "sure": floor.sure,
                        "low": _finite(floor.low),
                        "high": _finite(floor.high),
                        "not_assessed": floor.why,
                    }
                    for floor in one.floors
                ],
                "low": _finite(one.low),
                "high": _finite(one.high),
                "not_assessed": one.why,
                "dearest_published": _finite(one.dearest),
                "as_if_flooded": _finite(one.building_bound),
                "contents": _finite(one.contents),
                "contents_as_if_flooded": _finite(one.contents_bound),
            }
            for one in exposed.floods
        ],
        "cautions": list(exposed.cautions),
    }
