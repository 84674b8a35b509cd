"""What drying and repair of a wetted floor may cost: from the file, or by published planning figures."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.assess.exposure.wetted import Floor
from brimfast.data_tables.loader import unit_cost
from brimfast.data_tables.rows import PLANNING_CURRENCY, UnitCost
from brimfast.shared.constants import FOOT
from brimfast.shared.findings import Step, Value, step
from brimfast.shared.installation.site import WATERS, Exposure, UnitCosts

Array = NDArray[np.float64]
PLANNING = "planning figures (US trade pages, prices of 2020 to 2026): get local quotes"
GIVEN = "costs per area from the file"


def area_cost(A: ArrayLike, c: ArrayLike) -> Array:
    """Cost of a wetted floor (money): C = A c.

    A wetted area (m²), c cost for each unit of area (money/m²), the sum of all parts of the work. A planning figure:
    real quotes have a least charge, so small areas cost more for their size.
    """
    return np.asarray(np.asarray(A, float) * np.asarray(c, float))


@dataclass(frozen=True)
class Cost:
    """Low and high, and the dearest by any published figure (money), or why they are not assessed."""

    low: float | None
    high: float | None
    dearest: float | None
    why: str
    steps: tuple[Step, ...]
    values: tuple[Value, ...]


def floor_cost(floor: Floor, number: int, water: str, exposure: Exposure) -> Cost:
    """Of one floor. What only may get wet counts as nothing in the low cost, and fully in the high one."""
    given = exposure.costs_below if floor.below else exposure.costs
    if given is not None:
        return _given(floor, number, given, exposure.currency)
    if exposure.currency != PLANNING_CURRENCY:
        key = "costs_below" if floor.below else "costs"
        why = f"planning figures exist only in {PLANNING_CURRENCY}: give {key} (low and high) in {exposure.currency}"
        return Cost(None, None, None, why, (), ())
    return _planned(floor, number, water)


def water_below(water: str) -> str:
    """What has run through a floor is no longer clean: at least used."""
    return max(water, "used", key=WATERS.index)


def _given(floor: Floor, number: int, costs: UnitCosts, currency: str) -> Cost:
    amounts = []
    steps = []
    for side, c in (("low", costs.low), ("high", costs.high)):
        if side == "low" and not floor.sure:
            amounts.append(0.0)
            continue
        amounts.append(float(area_cost(floor.area, c)))
        inputs = {"A": (floor.area, "m²"), "c": (c, f"{currency}/m²")}
        steps.append(step(f"C_{side}_{number}", "A*c", inputs, (amounts[-1], currency), GIVEN, _note(floor)))
    return Cost(amounts[0], amounts[1], amounts[1], "", tuple(steps), floor.values)


def _planned(floor: Floor, number: int, water: str) -> Cost:
    rows: dict[str, UnitCost] = {"c_w": unit_cost("cleaning", water_below(water) if floor.below else water)}
    if floor.below:
        rows["c_k"] = unit_cost("ceiling", "drywall")
    rows["c_f"] = unit_cost("floor finish", floor.finish)
    amounts = []
    steps = []
    for side in ("low", "high"):
        if side == "low" and not floor.sure:
            amounts.append(0.0)
            continue
        c = {symbol: per_area(row.low_usd_ft2 if side == "low" else row.high_usd_ft2) for symbol, row in rows.items()}
        amounts.append(float(area_cost(floor.area, sum(c.values()))))
        steps.append(
            step(
                f"C_{side}_{number}",
                f"A*({' + '.join(c)})",
                {
                    "A": (floor.area, "m²"),
                    **{symbol: (value, f"{PLANNING_CURRENCY}/m²") for symbol, value in c.items()},
                },
                (amounts[-1], PLANNING_CURRENCY),
                PLANNING,
                _note(floor) + "; c_w drying and cleaning, c_f floor finish" + (", c_k ceiling" if floor.below else ""),
            )
        )
    values = tuple(row.used(f"cost of {row.part}, {row.what}", unit_text(row)) for row in rows.values())
    most = dearest_row()
    dearest = max(amounts[1], float(area_cost(floor.area, per_area(most.high_usd_ft2))))
    values += (most.used("the dearest published figure, to compare", unit_text(most)),)
    return Cost(amounts[0], amounts[1], dearest, "", tuple(steps), (*floor.values, *values))


def sum_step(symbol: str, parts: Sequence[Step], currency: str, note: str) -> Step:
    """The sum of the costs of several floors as one line."""
    inputs = {line.symbol: (line.result.value, currency) for line in parts}
    total = math.fsum(line.result.value for line in parts)
    return step(symbol, " + ".join(inputs), inputs, (total, currency), "", note)


def per_area(usd_ft2: float) -> float:
    """USD/ft² as USD/m²."""
    return usd_ft2 / FOOT**2


def dearest_row() -> UnitCost:
    """The dearest published figure, for all of a restoration."""
    return unit_cost("everything", "any")


def unit_text(row: UnitCost) -> str:
    return f"{PLANNING_CURRENCY} {row.low_usd_ft2:g} to {row.high_usd_ft2:g} per ft² ({row.year})"


def _note(floor: Floor) -> str:
    """Without names from the file, in which an underscore is no subscript."""
    wet = "" if floor.sure else ", if it comes through"
    return f"{floor.storey}, finish {floor.finish}{wet}"
