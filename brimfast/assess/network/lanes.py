"""Events as arrays: one lane an event, one column a link."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, fields, replace
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import NDArray

from brimfast.assess.network.model import (
    OVER_RIM,
    PUMPED,
    RETURNED,
    RUNS,
    Event,
    Link,
    Network,
)
from brimfast.data_tables.loader import factor_si

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]
Indices = NDArray[np.int64]
DRY = 1e-9  # m
MOPPED = 1e-3  # m: what a mop takes
IDLE = Link("", RUNS, "", "", False)
NOWHERE = -1e6  # level of what has none: a free end, the mains
NUMBERS = (
    "z_in",
    "z_out",
    "bore",
    "length",
    "losses",
    "roughness",
    "rim",
    "opening",
    "flow",
    "until",
    "pipe_flow",
    "takes",
    "width",
    "starts",
    "stops_at",
)
BY_LANE = (
    "on",
    "siphon",
    "float_valve",
    "bare",
    "one_way",
    "source",
    "target",
    "moves",
    "starts",
    "area",
    "base",
    "in_pores",
    "porous_area",
    "rims",
    "rim_volume",
)


@dataclass(frozen=True)
class Coefficients:
    """Of mouths, grates and sills, from the tables."""

    mouth_weir: float
    mouth_hole: float
    sill: float
    fades: float  # m above an intake over which a pump draws less and less
    valve: float  # m below its level over which a float valve opens


def coefficients() -> Coefficients:
    return Coefficients(
        factor_si("grate_weir_coefficient"),
        factor_si("grate_orifice_coefficient"),
        factor_si("sill_coefficient"),
        factor_si("intake_fades"),
        factor_si("float_valve_travel"),
    )


@dataclass(frozen=True)
class Lanes:
    """B lanes, L columns, N nodes."""

    network: Network
    each: tuple[tuple[Link, ...], ...]  # the links of every lane by column, as at first: `pick` leaves them as they are
    groups: dict[int, slice]
    numbers: dict[str, Array]  # each (B, L)
    on: Flags  # (B, L)
    siphon: Flags
    float_valve: Flags
    bare: Flags
    one_way: Flags  # nothing comes back: onto a floor, out of the network, into it
    source: Indices  # (B, L): node, or N for what has no level
    target: Indices
    moves: Array  # (B, L, N): +1 into, −1 out of a node
    starts: Array  # (B, N): volumes
    tables: dict[int, tuple[Array, Array]]
    follows: Indices  # (returns,): columns of their pumps
    area: Array  # (B, N)
    base: Array
    in_pores: Array  # (B, N) volume up to the fill's height
    porous_area: Array
    rims: Array  # (B, N) heights above the floor; infinite of rooms
    rim_volume: Array  # (B, N)
    of: Coefficients

    def pick(self, which: Indices) -> Lanes:
        parts = {one.name: getattr(self, one.name) for one in fields(self)}
        for name in BY_LANE:
            parts[name] = parts[name][which]
        parts["numbers"] = {name: values[which] for name, values in self.numbers.items()}
        return Lanes(**parts)

    def running(self) -> Flags:
        """Links that run at first: a siphon only with its mouth under water, a pump not where its switch is up."""
        above, below = self.ends(self.starts)
        started = above >= self.numbers["starts"] - DRY  # NaN, where nothing starts by itself, is neither
        switched = below >= self.numbers["stops_at"] - DRY
        return np.asarray((self.on & ~self.dry(self.starts) & ~switched) | started)

    def dry(self, V: Array) -> Flags:
        """Siphons (B, L) whose mouth is above the water."""
        return np.asarray(self.siphon & (self.ends(V)[0] <= self.numbers["z_in"] + DRY))

    def ends(self, V: Array) -> tuple[Array, Array]:
        """Levels above and below every link (B, L)."""
        z = np.empty((len(V), V.shape[1] + 1))
        z[:, :-1], z[:, -1] = self.levels(V), NOWHERE
        above, below = self._ends
        return z.take(above), z.take(below)

    @cached_property
    def _ends(self) -> tuple[Indices, Indices]:
        """Where in levels of all lanes, laid out one after another, those of every link's ends stand."""
        first = np.arange(len(self.source))[:, None] * (self.starts.shape[1] + 1)
        return self.source + first, self.target + first

    @cached_property
    def rims_over_rims(self) -> list[Array]:
        """Which rims (B, R, R: 1 from a column to a row) run over into what has a rim itself, as vessels into a pan do; as
        often as water may have to be passed on from one to the next, so never where all runs onto a floor."""
        at = self.groups[OVER_RIM]
        into = (self.target[:, None, at] == self.source[:, at, None]).astype(float)
        found: list[Array] = []
        reached = into
        while reached.any() and len(found) < into.shape[1]:
            found.append(into)
            reached = np.matmul(reached, into)
        return found

    def volumes(self, X: Array) -> Array:
        """Of the nodes (B, N), when so much (B, L) has gone through the links."""
        return np.asarray(self.starts + np.matmul(X[:, None, :], self.moves)[:, 0])

    def levels(self, V: Array) -> Array:
        """Heights above the floor (B, N)."""
        return np.asarray(
            self.base + np.minimum(V, self.in_pores) / self.porous_area + np.maximum(V - self.in_pores, 0.0) / self.area
        )


def _used(links: tuple[Link, ...]) -> tuple[Link, ...]:
    """By kind, without pipes and holes through which no water can run in this event."""
    used = [link for link in links if link.kind != RUNS or link.on or not math.isnan(link.starts) or link.after]
    return tuple(sorted(used, key=lambda link: link.kind))


def alike(network: Network) -> tuple[Any, ...]:
    """What must be the same in networks whose events stand in lanes beside each other."""
    columns = [
        (link.kind, link.name, link.follows, link.table)
        for link in network.links
        if link.kind in (PUMPED, RETURNED, OVER_RIM)
    ]
    return tuple((node.name, node.is_room) for node in network.nodes), tuple(columns)


def _padded(each: Sequence[tuple[Link, ...]]) -> list[tuple[Link, ...]]:
    """As many links of every kind in every lane: what a lane does not have stands still."""
    kinds = sorted({link.kind for links in each for link in links})
    idle = {kind: replace(IDLE, kind=kind) for kind in kinds}
    most = {kind: max(sum(link.kind == kind for link in links) for links in each) for kind in kinds}
    found = []
    for links in each:
        parts = {kind: [link for link in links if link.kind == kind] for kind in kinds}
        rows = (part + [idle[kind]] * (most[kind] - len(part)) for kind, part in parts.items())
        found.append(tuple(link for row in rows for link in row))
    return found


def lanes(network: Network, events: Sequence[Event]) -> Lanes:
    return lanes_of([(network, event) for event in events])


def lanes_of(cases: Sequence[tuple[Network, Event]]) -> Lanes:
    """The networks are alike: they may differ in what runs through pipes, drains, doorways and supplies, and in what vessels and floors hold."""
    network = cases[0][0]
    events = [event for _, event in cases]
    N = len(network.nodes)
    place = {node.name: index for index, node in enumerate(network.nodes)}
    each = _padded([_used(event.links(own)) for own, event in cases])
    order = each[0]
    kinds = [link.kind for link in order]
    groups = {kind: slice(kinds.index(kind), kinds.index(kind) + kinds.count(kind)) for kind in set(kinds)}
    B, L = len(each), len(order)

    def of(name: str, kind: type) -> NDArray[np.generic]:
        return np.array([[getattr(link, name) for link in links] for links in each], dtype=kind).reshape(B, L)

    def where(name: str) -> Indices:
        return np.array([[place.get(getattr(link, name), N) for link in links] for links in each], dtype=np.int64)

    source, target = where("source"), where("target")
    is_room = np.array([*(node.is_room for node in network.nodes), False])
    moves = np.zeros((B, L, N + 1))
    rows, columns = np.indices((B, L))
    np.add.at(moves, (rows, columns, target), 1.0)
    np.add.at(moves, (rows, columns, source), -1.0)
    starts = np.array([[node.start for node in own.nodes] for own, _ in cases])
    for lane, event in enumerate(events):
        for name, volume in event.at_once.items():
            starts[lane, place[name]] -= volume
            starts[lane, is_room.argmax()] += volume
    names = [link.name for link in order]

    def of_nodes(name: str) -> Array:
        return np.array([[getattr(node, name) for node in own.nodes] for own, _ in cases], dtype=np.float64)

    tables = {}
    for column, link in enumerate(order):
        if link.table:
            heads, flows = np.array(sorted(link.table)).T
            tables[column] = (heads, flows)
    return Lanes(
        network,
        tuple(each),
        groups,
        {name: np.asarray(of(name, float), dtype=np.float64) for name in NUMBERS},
        np.asarray(of("on", bool), dtype=np.bool_),
        np.asarray(of("siphon", bool), dtype=np.bool_),
        np.asarray(of("float_valve", bool), dtype=np.bool_),
        np.asarray(of("bare", bool), dtype=np.bool_),
        (source == N) | (target == N) | (is_room[target] & ~is_room[source]),
        source,
        target,
        moves[:, :, :N],
        starts,
        tables,
        np.array([names.index(link.follows) for link in order if link.kind == RETURNED], dtype=np.int64),
        of_nodes("area"),
        of_nodes("base"),
        of_nodes("area") * of_nodes("porosity") * of_nodes("fill"),
        of_nodes("area") * of_nodes("porosity"),
        of_nodes("rim"),
        np.array([[np.inf if node.is_room else node.volume(node.rim) for node in own.nodes] for own, _ in cases]),
        coefficients(),
    )
