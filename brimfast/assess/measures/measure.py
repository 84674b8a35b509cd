"""One measure: what it changes in the installation file, what must be bought, how it is done, what it takes."""

from __future__ import annotations

from dataclasses import dataclass

from brimfast.assess.joints.braces import WHERE
from brimfast.assess.measures.stock import written
from brimfast.data_tables.loader import work_item
from brimfast.data_tables.rows import PLANNING_CURRENCY
from brimfast.shared.constants import FOOT, INCH
from brimfast.shared.edits import Edit
from brimfast.shared.findings import Value
from brimfast.shared.installation.joint import Fasteners
from brimfast.shared.installation.model import Installation
from brimfast.shared.installation.rack import Rack
from brimfast.shared.installation.site import Price
from brimfast.shared.units import System, show

LABOUR = "hour of work"
METRIC = {"ft": (FOOT, "m"), "ft2": (FOOT**2, "m²")}


@dataclass(frozen=True)
class Need:
    """So many pieces of an item of the table of work; what exactly, for the shopping list."""

    item: str
    count: float
    what: str
    ends_of: str = ""  # the rack whose braces' ends it is for: counted anew when all braces of a plan are known


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
    first: tuple[str, ...] = ()  # what must be done before, once for all measures that ask for it


@dataclass(frozen=True)
class Takes:
    """Money for parts (None where no price is known in the file's currency) and hours, low and high."""

    low: float | None
    high: float | None
    low_hours: float
    high_hours: float
    rate: tuple[float, float] = (0.0, 0.0)  # of an hour of work, where the file gives one
    known: tuple[float, float] = (0.0, 0.0)  # money for the parts whose price is known: all of it is at least so much

    @property
    def wages(self) -> tuple[float, float]:
        return self.rate[0] * self.low_hours, self.rate[1] * self.high_hours

    @property
    def money(self) -> float | None:
        """Parts and wages, in the middle."""
        return None if self.low is None or self.high is None else (self.low + self.high + sum(self.wages)) / 2

    @property
    def hours(self) -> float:
        return (self.low_hours + self.high_hours) / 2


def takes(needs: tuple[Need, ...], installation: Installation) -> Takes:
    """What the pieces take together: prices of the file before planning figures; hours from the table."""
    low = high = low_hours = high_hours = 0.0
    all_known = True
    for need in needs:
        row = work_item(need.item)
        low_hours += need.count * row.low_hours
        high_hours += need.count * row.high_hours
        price = _price(need.item, installation)
        all_known = all_known and price is not None
        if price is not None:
            low, high = low + need.count * price[0], high + need.count * price[1]
    rate = _price(LABOUR, installation) or (0.0, 0.0)
    least, most = (low, high) if all_known else (None, None)
    return Takes(least, most, low_hours, high_hours, rate, (low, high))


def given_prices(installation: Installation) -> dict[str, Price]:
    """Those of the file, by the item of the table of work."""
    return {work_item(name).item: price for name, price in installation.prices.items()}


def _price(item: str, installation: Installation) -> tuple[float, float] | None:
    """Low and high for one piece; None where only a figure in another currency is known."""
    given = given_prices(installation).get(item)
    if given is not None:
        return given.low, given.high
    row = work_item(item)
    if row.high_usd == 0:
        return 0.0, 0.0
    return (row.low_usd, row.high_usd) if installation.exposure.currency == PLANNING_CURRENCY else None


def shopping(measures: tuple[Measure, ...], before: Installation, after: Installation) -> list[Need]:
    """What all of them need, the same things added up; the ends of braces as the installation has them with all measures."""
    found: dict[tuple[str, str], float] = {}
    ends: dict[str, None] = {}
    for measure in measures:
        for need in measure.needs:
            if need.ends_of:
                ends[need.ends_of] = None
            else:
                found[need.item, need.what] = found.get((need.item, need.what), 0.0) + need.count
    return [Need(item, count, what) for (item, what), count in found.items()] + [
        need for rack in ends for need in _ends(rack, before, after)
    ]


def brace_ends(rack: Rack) -> int:
    return 2 * sum(1 if brace.kind == "single" else 2 for brace in rack.braces)


def _ends(name: str, before: Installation, after: Installation) -> list[Need]:
    """All ends where the file's fasteners change, else those of the braces that are new."""
    now, then = (one.joints_of(name).get(WHERE) for one in (after, before))
    if now is None:
        return []
    fasteners, ends = now.fasteners, brace_ends(after.racks[name])
    if then is not None and then.fasteners == fasteners:
        ends -= brace_ends(before.racks[name])
    if not ends:
        return []
    return [
        Need(
            fastener_item(fasteners),
            ends * fasteners.count,
            f"{fastener_size(fasteners, after)}, for the ends of braces",
        )
    ]


def fastener_item(fasteners: Fasteners) -> str:
    """The row of the table of work: bolts by their thickness, all else by its kind."""
    if fasteners.kind != "through-bolt":
        return fasteners.kind
    D = fasteners.diameter or 0.0
    return "through-bolt 3/8" if D < 0.0111 else "through-bolt 1/2" if D < 0.0143 else "through-bolt 5/8"


def fastener_size(fasteners: Fasteners, installation: Installation) -> str:
    """Thickness and length, as far as they are known; the item beside it says of what kind it is."""
    diameter, length = fasteners.nail if fasteners.nail is not None else (fasteners.diameter, fasteners.length)
    if diameter is None or length is None:
        return "as those that are there"
    washers = ", with nut and two washers" if fasteners.kind == "through-bolt" else ""
    of = "with nails " if fasteners.kind == "framing tie" else ""
    return f"{of}{size(diameter, installation.system, 64)} x {size(length, installation.system)}{washers}"


def size(value: float, system: System, parts: int = 4) -> str:
    """A thickness or length as hardware is sold: a fraction of an inch where it is one, else in decimals; millimetres."""
    fraction = written(value, system, parts, 0.1)
    exact = system == "si" or abs(round(value / INCH * parts) / parts * INCH - value) < 2e-5
    return fraction if exact else show(value, "length", system)


def _figure(value: float) -> str:
    return f"{value:.0f}" if value >= 100 else f"{value:.3g}"


def used(needs: list[Need], installation: Installation) -> tuple[Value, ...]:
    """The planning figures behind a list of needs, once each; a price of the file stands in for its row."""
    given = given_prices(installation)
    found: dict[str, Value] = {}
    for need in needs:
        row, price = work_item(need.item), given.get(need.item)
        each, unit = METRIC[row.unit] if installation.system == "si" and row.unit in METRIC else (1.0, row.unit)
        low, high, currency = row.low_usd, row.high_usd, PLANNING_CURRENCY
        if price is not None:
            low, high, currency = price.low, price.high, f"{installation.exposure.currency} (from the file)"
        money = f"{_figure(low / each)} to {_figure(high / each)} {currency}"
        text = f"{money} and {_figure(row.low_hours / each)} to {_figure(row.high_hours / each)} h a {unit}"
        found.setdefault(row.item, row.used(row.item, text))
    return tuple(found.values())
