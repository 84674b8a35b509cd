"""What does the water of each event touch, and what may drying and repair cost?"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from brimfast.assess.exposure.costs import Cost, dearest_row, floor_cost, sum_step
from brimfast.assess.exposure.damage import Bound, bound
from brimfast.assess.exposure.wetted import BELOW, HERE, comes_through, wetted
from brimfast.assess.spill.flood import Flood
from brimfast.data_tables.rows import PLANNING_CURRENCY
from brimfast.shared.findings import Step, Value
from brimfast.shared.installation.model import Installation
from brimfast.shared.installation.site import WATERS
from brimfast.shared.units import money

DEFAULT_WATER = "used"
WATER = Value(
    "category of the water",
    "2, significantly contaminated (used), for the water of any vessel",
    "ANSI/IICRC S500 counts the water of aquariums as category 2 (as restoration trade pages retell it)",
    "published",
    "ANSI/IICRC S500, categories of water",
)


@dataclass(frozen=True)
class WetFloor:
    """A floor that gets wet: area (m²), depth (m; None: not known), cost low and high (money; None: not assessed).

    dearest: by the dearest published figure, or the high cost where the file gives costs (money).
    sure: False where the flooring above may hold, so that the low cost counts nothing.
    """

    storey: str
    room: str
    finish: str
    area: float
    depth: float | None
    sure: bool
    low: float | None
    high: float | None
    dearest: float | None
    why: str

    @property
    def below(self) -> bool:
        return self.storey == BELOW


@dataclass(frozen=True)
class Affected:
    """What one event touches and may cost. low and high are None where a floor is not assessed (why says it).

    building_bound and contents_bound: as in a flood of the whole storey; contents: what stands on the wetted floors is
    worth (all money, None: not assessed).
    """

    id: str
    text: str
    leaves: float
    floors: tuple[WetFloor, ...]
    low: float | None
    high: float | None
    why: str
    building_bound: float | None
    contents_bound: float | None
    contents: float | None
    steps: tuple[Step, ...]
    bound_steps: tuple[Step, ...]
    values: tuple[Value, ...]

    def area(self, storey: str) -> float:
        """Wetted area of a storey (m²)."""
        return math.fsum(floor.area for floor in self.floors if floor.storey == storey)

    def on(self, storey: str) -> tuple[float, float, float] | None:
        """Low, high and dearest cost of one storey (money); None where one of its floors is not assessed."""
        return _sums([floor for floor in self.floors if floor.storey == storey])

    @property
    def dearest(self) -> float | None:
        """All of it by the dearest published figure (money)."""
        sums = _sums(list(self.floors))
        return None if sums is None else sums[2]


def _sums(floors: list[WetFloor]) -> tuple[float, float, float] | None:
    if any(floor.low is None or floor.high is None or floor.dearest is None for floor in floors):
        return None
    return (
        math.fsum(floor.low or 0.0 for floor in floors),
        math.fsum(floor.high or 0.0 for floor in floors),
        math.fsum(floor.dearest or 0.0 for floor in floors),
    )


@dataclass(frozen=True)
class Exposed:
    """Of each event that wets a floor what it touches; category 1 to 3 of the water; what must be said beside it."""

    currency: str
    water: str
    category: int
    assumed: bool  # the category is not from the file
    planned: bool  # planning figures were used
    floods: tuple[Affected, ...]
    cautions: tuple[str, ...]


def assess_exposure(installation: Installation, floods: dict[str, Flood]) -> Exposed:
    """floods: by a short name of the event (single, earthquake); those that wet no floor are left out."""
    exposure = installation.exposure
    water = exposure.water or DEFAULT_WATER
    affected = tuple(
        one for name, flood in floods.items() if (one := _affected(name, flood, installation, water)).floors
    )
    planned = exposure.currency == PLANNING_CURRENCY and any(
        (exposure.costs_below if floor.below else exposure.costs) is None for one in affected for floor in one.floors
    )
    found = Exposed(
        exposure.currency,
        water,
        WATERS.index(water) + 1,
        exposure.water is None,
        planned,
        affected,
        (),
    )
    return replace(found, cautions=_cautions(installation, found))


def _affected(name: str, flood: Flood, installation: Installation, water: str) -> Affected:
    exposure = installation.exposure
    floors = wetted(flood, installation)
    costs = [floor_cost(floor, number, water, exposure) for number, floor in enumerate(floors, start=1)]
    low, high, totals = _total(costs, exposure.currency)
    wet = tuple(
        WetFloor(
            floor.storey,
            floor.room,
            floor.finish,
            floor.area,
            floor.depth,
            floor.sure,
            cost.low,
            cost.high,
            cost.dearest,
            cost.why,
        )
        for floor, cost in zip(floors, costs, strict=True)
    )
    limit = _bound(installation, wet)
    values = [value for cost in costs for value in cost.values]
    if exposure.water is None and any("c_w" in line.inputs for cost in costs for line in cost.steps):
        values.insert(0, WATER)
    values += limit.values if limit is not None else ()
    contents_bound = limit.contents if limit is not None else None
    if contents_bound is not None and exposure.contents is not None:
        contents_bound = min(contents_bound, exposure.contents)
    return Affected(
        name,
        flood.text,
        flood.leaves,
        wet,
        low,
        high,
        "; ".join(dict.fromkeys(cost.why for cost in costs if cost.why)),
        limit.building if limit is not None else None,
        contents_bound,
        exposure.contents,
        tuple(line for cost in costs for line in cost.steps) + totals,
        limit.steps if limit is not None else (),
        tuple(dict.fromkeys(values)),
    )


def _total(costs: list[Cost], currency: str) -> tuple[float | None, float | None, tuple[Step, ...]]:
    """Sums of all floors; nothing where one of them is not assessed, since a part would read as the whole."""
    if any(cost.high is None for cost in costs):
        return None, None, ()
    lines = [line for cost in costs for line in cost.steps]
    totals = []
    sums = []
    for side, note in (("low", "without floors whose covering above may hold"), ("high", "all wetted floors")):
        parts = [line for line in lines if line.symbol.startswith(f"C_{side}_")]
        totals.append(math.fsum(line.result.value for line in parts))
        if parts:
            sums.append(sum_step(f"C_{side}", parts, currency, note))
    return totals[0], totals[1], tuple(sums)


def _bound(installation: Installation, floors: tuple[WetFloor, ...]) -> Bound | None:
    """Of this storey only: what the one below is worth, and how deep its water stands, is not known."""
    exposure = installation.exposure
    here = [floor for floor in floors if not floor.below]
    if exposure.building is None or exposure.storey_area is None or not here:
        return None
    deepest = max(floor.depth for floor in here if floor.depth is not None)
    area = math.fsum(floor.area for floor in here)
    return bound(exposure.building, exposure.storey_area, area, deepest, exposure.currency)


def _cautions(installation: Installation, exposed: Exposed) -> tuple[str, ...]:
    if not exposed.floods:
        return ()
    found = []
    exposure = installation.exposure
    if exposed.planned:
        found.append(
            "Costs are planning figures of US trade pages (prices of 2020 to 2026, not brought to one year): they tell "
            "hundreds from thousands, no more. Small jobs cost more for their size. Get two local quotes and put them "
            "into the file (costs, costs_below)."
        )
        found.append(
            "Walls, doors, cabinets, wiring, mould, rent lost and nights elsewhere are not in the cost; furniture and "
            "goods only as contents."
        )
    dearest = [(one.dearest, one.text) for one in exposed.floods if one.dearest is not None]
    if exposed.planned and dearest:
        amount, text = max(dearest)
        found.append(
            f"Published figures differ tenfold: by the dearest ({dearest_row().high_usd_ft2:g} USD "
            f"per ft² for everything) the costliest event would come to {money(amount, exposed.currency, 2)} ({text})."
        )
    if exposed.water == "clean":
        found.append(
            "Clean water stays clean only if all is dry within about 48 hours (mould begins to grow in 24 to 48 hours, "
            "US Environmental Protection Agency); what has run through a floor counts as used."
        )
    elif exposed.water == "used":
        found.append(
            "Water of tanks and beds counts as used (category 2 of IICRC S500, where aquariums stand): wash what it "
            "touched, and throw out wet carpet pads. Sewage, or water that stood for days, would be foul."
        )
    else:
        found.append(
            "Foul water (category 3 of IICRC S500) makes people ill: leave its cleaning to a trade with protection."
        )
    through, note = comes_through(installation)
    if note:
        found.append(note)
    if through:
        found.append(
            f"How much comes through the floor is not computed. {BELOW.capitalize()} is taken as wet over the same area "
            "as this one, a bound: water falls where it finds a gap. Where tile, vinyl or sealed concrete may hold it, "
            "the low cost counts nothing below."
        )
        found.append("What the floor below is covered with is not known: the widest range of all finishes is used.")
    if any(one.leaves > 0 for one in exposed.floods):
        found.append("What leaves by the doors to where the file names no room is not followed, and not in the cost.")
    if any(one.building_bound is not None for one in exposed.floods):
        found.append(
            "The bound by depth comes from dirty slow floods over whole storeys (USACE EGM 01-03); here it is scaled by "
            f"the part of {HERE} that is wet, at the deepest water, and leaves the storey below out."
        )
    if any(
        one.building_bound is not None and (sums := one.on(HERE)) is not None and sums[1] > one.building_bound
        for one in exposed.floods
    ):
        found.append(
            "The high cost comes out above the bound by depth: the worth of the building in the file may be low, or the "
            "costs high. Take the higher of the two."
        )
    if (exposure.building is None) != (exposure.storey_area is None):
        found.append("The bound by depth needs both building and storey_area: it is not assessed.")
    found.append(
        "Whether any policy pays for water from such an installation is not said here. Ask your insurer, in writing."
    )
    return tuple(found)
