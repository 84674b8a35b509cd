"""What every event comes to: a run of the network in time."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from brimfast.assess.network.integrate import ATOL, RTOL, integrate
from brimfast.assess.network.lanes import MOPPED, Lanes, lanes_of
from brimfast.assess.network.marks import Marks, marks
from brimfast.assess.network.model import DRAINED, HOUSE, MAINS, OUTSIDE, OVER_SILL, SEWER, Event, Link, Network
from brimfast.assess.network.trace import Trace

Array = NDArray[np.float64]
WEEK = 7 * 86400.0
ONE_CM = 0.01
NOTHING = 1e-6  # m³
AT_ONCE = "at once"


@dataclass(frozen=True)
class Run:
    """One event: volumes (m³), heights of water on the room's floor (m), times (s; NaN: never)."""

    event: Event
    reached: float  # the floor of the room in all
    at_once: float  # of that, at the very start
    rate: float  # fastest flow onto the floor
    depth: float  # deepest
    deepest_at: float
    leaves: float  # over a sill, out of the room, at most at one time
    outside: float  # of that, not into a neighbouring room
    drained: float
    need: float  # most that the room would have had to hold
    need_arrived: float
    need_drained: float
    need_paths: tuple[tuple[str, float], ...]  # how it had come until then, most first
    cm_at: float  # when it first stands 1 cm deep
    dry_at: float  # when less than a film is left
    lies: float  # what still lies there at the end
    ended_at: float
    paths: tuple[tuple[str, float], ...]  # how it got to the floor, most first
    wets: tuple[tuple[str, float], ...]  # sockets and such, by name, and when they get wet
    next_rooms: tuple[tuple[str, float], ...]  # deepest water in each
    highest: tuple[tuple[str, float], ...]  # water of each vessel above the room's floor
    overflows: tuple[tuple[str, float], ...]  # vessels that run over, and from when
    held: tuple[tuple[str, float, float], ...]  # of each vessel what it held before and after
    finished: bool  # False where it was given up before it was over: all is at least so much
    lost: float  # water that the balance does not account for
    course: tuple[Array, Array]  # times, depths on the room's floor

    def of(self, event: Event) -> Run:
        """The same run of another event; dataclasses.replace looks at every field, and there are thousands of runs."""
        found = object.__new__(Run)
        found.__dict__.update(self.__dict__)
        found.__dict__["event"] = event
        return found

    @property
    def about_deepest_at(self) -> float:
        """When the water first stands within a hundredth of its deepest: the rest may creep up for days."""
        t, depth = self.course
        close = np.flatnonzero(depth >= 0.99 * self.depth)
        return float(min(t[close[0]], self.deepest_at)) if len(close) else self.deepest_at

    @property
    def all_at_once(self) -> bool:
        """Whether next to nothing comes after the very start."""
        return self.at_once > 0.99 * self.reached


def run(
    network: Network,
    events: Sequence[Event],
    heights: tuple[tuple[str, float], ...] = (),
    *,
    rtol: float = RTOL,
    atol: float = ATOL,
) -> tuple[Run, ...]:
    """All events at once. heights: of sockets and such above the room's floor. rtol, atol (m³) of what goes each way."""
    return run_alike([(network, event) for event in events], heights, rtol=rtol, atol=atol)


def run_alike(
    cases: Sequence[tuple[Network, Event]],
    heights: tuple[tuple[str, float], ...] = (),
    *,
    rtol: float = RTOL,
    atol: float = ATOL,
) -> tuple[Run, ...]:
    """Events of networks that are alike (see lanes), all at once."""
    if not cases:
        return ()
    packed, stops, horizon, asked = _set_out(cases, heights)
    trace = integrate(packed, stops, horizon, rtol=rtol, atol=atol)
    return tuple(_run(packed, case, lane, trace, stops.names, asked) for lane, case in enumerate(cases))


def anything_leaves(network: Network, events: Sequence[Event]) -> bool:
    """Whether water leaves the room in one of the events; stops at the first that does."""
    packed, stops, horizon, _ = _set_out([(network, event) for event in events], ())
    trace = integrate(packed, stops, horizon, record=False, until_left=NOTHING)
    return bool(trace.left.max(initial=0.0) > NOTHING)


def _set_out(
    cases: Sequence[tuple[Network, Event]], heights: tuple[tuple[str, float], ...]
) -> tuple[Lanes, Marks, Array, tuple[tuple[str, float], ...]]:
    packed = lanes_of(cases)
    asked = (("1 cm", ONE_CM), ("dry", MOPPED), *heights)
    until = [
        max([link.until for link in links if math.isfinite(link.until) and link.on], default=0.0)
        for links in packed.each
    ]
    return packed, marks(packed, asked), np.array(until) + WEEK, asked


def _run(
    packed: Lanes,
    case: tuple[Network, Event],
    lane: int,
    trace: Trace,
    names: tuple[str, ...],
    asked: tuple[tuple[str, float], ...],
) -> Run:
    network, event = case
    nodes, links = network.nodes, packed.each[lane]
    rooms = [index for index, node in enumerate(nodes) if node.is_room]
    room, name = rooms[0], nodes[rooms[0]].name
    X, V = trace.X[lane], trace.V[lane]
    at_once = event.volume
    area = nodes[room].area

    mark = {one: trace.first[lane, names.index(one)] for one, _ in asked}
    last_dry = trace.last[lane, names.index("dry")]
    lies = float(V[room])
    starts_wet = at_once / area
    ways, need_ways = (_paths(links, name, values, at_once) for values in (X, trace.need_X[lane]))
    cm_at = 0.0 if starts_wet >= ONE_CM else mark["1 cm"]
    held = tuple(
        (node.name, node.start - event.at_once.get(node.name, 0.0), float(V[index]))
        for index, node in enumerate(nodes)
        if not node.is_room
    )
    return Run(
        event,
        math.fsum(volume for _, volume in ways),
        at_once,
        float(trace.inflow[lane]),
        float(trace.peak[lane, room]),
        float(trace.peak_at[lane, room]),
        float(trace.left[lane]),
        float(sum(X[i] for i, link in enumerate(links) if link.target == OUTSIDE)),
        _drained(links, name, X),
        float(trace.need[lane]),
        math.fsum(volume for _, volume in need_ways),
        _drained(links, name, trace.need_X[lane]),
        need_ways,
        float(cm_at),
        _dry_at(float(last_dry), lies / area, float(trace.peak[lane, room])),
        lies,
        float(trace.t[lane]),
        ways,
        tuple(
            (one, 0.0 if starts_wet >= height else float(mark[one]))
            for one, height in asked[2:]
            if starts_wet >= height or not np.isnan(mark[one])
        ),
        tuple((nodes[index].name, float(trace.peak[lane, index])) for index in rooms[1:]),
        tuple((node.name, float(trace.peak[lane, i])) for i, node in enumerate(nodes) if not node.is_room),
        _overflows(network, lane, trace, names),
        held,
        bool(trace.finished[lane]),
        _lost(network, links, X, V),
        trace.course(lane, room),
    )


def _paths(links: Sequence[Link], room: str, values: Array, at_once: float) -> tuple[tuple[str, float], ...]:
    """The ways by which water came onto a room's floor, doors left out, and how much by each (m³), the most first."""
    found = [
        (link.name, float(amount))
        for link, amount in zip(links, values, strict=True)
        if link.target == room and link.kind != OVER_SILL and amount > 0
    ]
    if at_once > 0:
        found.append((AT_ONCE, at_once))
    return tuple(sorted(found, key=lambda item: -item[1]))


def _drained(links: Sequence[Link], room: str, values: Array) -> float:
    """What the drains of a room took (m³)."""
    return float(values[[link.source == room and link.kind == DRAINED for link in links]].sum())


def _lost(network: Network, links: Sequence[Link], X: Array, V: Array) -> float:
    """What there was and came, less what went and is there (m³): 0 but for rounding."""
    supplied = float(sum(amount for link, amount in zip(links, X, strict=True) if link.source == MAINS))
    gone = float(sum(X[i] for i, link in enumerate(links) if link.target in (OUTSIDE, SEWER, HOUSE)))
    before = math.fsum(node.start for node in network.nodes)
    return before + supplied - gone - float(V.sum())


def _overflows(network: Network, lane: int, trace: Trace, names: tuple[str, ...]) -> tuple[tuple[str, float], ...]:
    """Vessels that come to their rim, in the order in which they do."""
    times = [(node.name, float(trace.first[lane, names.index(node.name)])) for node in network.vessels]
    return tuple(sorted(((name, at) for name, at in times if not math.isnan(at)), key=lambda item: item[1]))


def _dry_at(last: float, lies: float, deepest: float) -> float:
    """When no more than a film is left; at once where there never was more."""
    if lies > MOPPED * (1 + 1e-6):
        return math.nan
    return 0.0 if deepest <= MOPPED * (1 + 1e-6) else last
