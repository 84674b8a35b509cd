"""One measure: what it changes in the installation file, what must be bought, how it is done, what it takes."""

from __future__ import annotations

from dataclasses import dataclass

from brimfast.data_tables.loader import work_item
from brimfast.shared.edits import Edit
from brimfast.shared.findings import Value
from brimfast.shared.installation.model import Installation

PLANNING_CURRENCY = "USD"
LABOUR = "hour of work"


@dataclass(frozen=True)
class Need:
    """So many pieces of an item of the table of work; what exactly, for the shopping list."""

    item: str
    count: float
    what: str


@dataclass(frozen=True)
class Measure:
    """Of a group only one can be chosen. parts: what of the installation it acts on."""

    id: str
    group: str
    parts: tuple[str, ...]
    subject: str
    title: str
    edits: tuple[Edit, ...]
    needs: tuple[Need, ...]
    steps: tuple[str, ...] = ()  # how it is done: holes, places, what to mind


@dataclass(frozen=True)
class Takes:
    """Money for parts (None where no price is known in the file's currency) and hours, low and high."""

    low: float | None
    high: float | None
    low_hours: float
    high_hours: float

    @property
    def money(self) -> float | None:
        return None if self.low is None or self.high is None else (self.low + self.high) / 2

    @property
    def hours(self) -> float:
        return (self.low_hours + self.high_hours) / 2


def takes(needs: tuple[Need, ...], installation: Installation) -> Takes:
    """What the pieces take together: prices of the file before planning figures; hours from the table."""
    low: float | None = 0.0
    high: float | None = 0.0
    low_hours = high_hours = 0.0
    for need in needs:
        row = work_item(need.item)
        low_hours += need.count * row.low_hours
        high_hours += need.count * row.high_hours
        price = _price(need.item, installation)
        low = None if low is None or price is None else low + need.count * price[0]
        high = None if high is None or price is None else high + need.count * price[1]
    rate = _price(LABOUR, installation)
    if low is not None and high is not None and rate is not None:
        low, high = low + rate[0] * low_hours, high + rate[1] * high_hours
    return Takes(low, high, low_hours, high_hours)


def _price(item: str, installation: Installation) -> tuple[float, float] | None:
    """Low and high for one piece; None where only a figure in another currency is known."""
    given = {work_item(name).item: price for name, price in installation.prices.items()}.get(item)
    if given is not None:
        return given.low, given.high
    row = work_item(item)
    if row.high_usd == 0:
        return 0.0, 0.0
    return (row.low_usd, row.high_usd) if installation.exposure.currency == PLANNING_CURRENCY else None


def together(parts: list[Takes]) -> Takes:
    known = all(one.low is not None for one in parts)
    return Takes(
        sum(one.low or 0.0 for one in parts) if known else None,
        sum(one.high or 0.0 for one in parts) if known else None,
        sum(one.low_hours for one in parts),
        sum(one.high_hours for one in parts),
    )


def shopping(measures: tuple[Measure, ...]) -> list[Need]:
    """What all of them need, the same things added up, in order of the table's first use."""
    found: dict[tuple[str, str], float] = {}
    for measure in measures:
        for need in measure.needs:
            found[need.item, need.what] = found.get((need.item, need.what), 0.0) + need.count
    return [Need(item, count, what) for (item, what), count in found.items()]


def used(needs: list[Need], installation: Installation) -> tuple[Value, ...]:
    """The planning figures behind a list of needs, once each; a price of the file stands in for its row."""
    given = {work_item(name).item: price for name, price in installation.prices.items()}
    found: dict[str, Value] = {}
    for need in needs:
        row, price = work_item(need.item), given.get(need.item)
        hours = f"{row.low_hours:g} to {row.high_hours:g} h"
        text = f"{row.low_usd:g} to {row.high_usd:g} {PLANNING_CURRENCY} and {hours} a {row.unit}"
        if price is not None:
            text = f"{price.low:g} to {price.high:g} {installation.exposure.currency} (from the file) and {hours} a {row.unit}"
        found.setdefault(row.item, row.used(row.item, text))
    return tuple(found.values())
