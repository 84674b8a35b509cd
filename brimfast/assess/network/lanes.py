"""Events as arrays: one lane an event, one column a link. And the flow of every link at a given state."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, fields, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from brimfast.assess.network.model import (
    DRAINED,
    OVER_RIM,
    OVER_SILL,
    PUMPED,
    RETURNED,
    RUNS,
    SUPPLIED,
    Event,
    Link,
    Network,
)
from brimfast.assess.network.pipe_flow import mouth_flow, pipe_velocity, sill_flow
from brimfast.data_tables.loader import factor_si

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]
Indices = NDArray[np.int64]
DRY = 1e-9  # m
FILM = 1e-3  # m: what a mop takes
NUDGE = 1e-6  # m
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
        z = np.concatenate([self.levels(V), np.full((len(V), 1), NOWHERE)], axis=1)
        return np.take_along_axis(z, self.source, axis=1), np.take_along_axis(z, self.target, axis=1)

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
    most = {kind: max(sum(link.kind == kind for link in links) for links in each) for kind in kinds}
    found = []
    for links in each:
        parts = {kind: [link for link in links if link.kind == kind] for kind in kinds}
        rows = (part + [replace(IDLE, kind=kind)] * (most[kind] - len(part)) for kind, part in parts.items())
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


def rates(lanes: Lanes, t: Array, V: Array, on: Flags, full: Flags) -> Array:
    """Flow through every link (B, L), m³/s. t (B,), V (B, N), on (B, L), full (B, N) vessels that run over."""
    above, below = lanes.ends(V)
    return _followed(lanes, _direct(lanes, t, above, below, on), above, on, full)


def slopes(lanes: Lanes, t: Array, V: Array, q: Array, on: Flags, full: Flags) -> Array:
    """∂q/∂V (B, L, N), 1/s, by differences of the levels at either end; q the flows there."""
    above, below = lanes.ends(V)
    per_level = np.where(lanes.in_pores > V, lanes.porous_area, lanes.area)[:, None]
    by_above = (_direct(lanes, t, above + NUDGE, below, on) - q) / NUDGE
    by_below = (_direct(lanes, t, above, below + NUDGE, on) - q) / NUDGE
    G = (by_above[:, :, None] * (lanes.moves < 0) + by_below[:, :, None] * (lanes.moves > 0)) / per_level
    if RETURNED in lanes.groups:
        at = lanes.groups[RETURNED]
        share, steeper = _runs_back(lanes, above, on), _runs_back(lanes, above + NUDGE, on)
        by_level = q[:, lanes.follows] * (steeper - share) / NUDGE
        G[:, at] = G[:, lanes.follows] * share[:, :, None] + by_level[:, :, None] * (lanes.moves[:, at] < 0) / per_level
    if OVER_RIM in lanes.groups:
        at = lanes.groups[OVER_RIM]
        vessel = lanes.source[0, at]
        net = np.matmul(lanes.moves[:, : at.start].swapaxes(1, 2), G[:, : at.start])
        G[:, at] = np.where((q[:, at] > 0)[:, :, None], net[:, vessel], 0.0)
    return np.asarray(G)


def gradual(x: Array) -> Array:
    """From 0 at 0 to 1 at 1 without a bend: x² (3 − 2 x)."""
    part = np.clip(x, 0.0, 1.0)
    return np.asarray(part * part * (3 - 2 * part))


def _direct(lanes: Lanes, t: Array, above: Array, below: Array, on: Flags) -> Array:
    """Flows that hang on the levels at their own ends alone; 0 for the others."""
    n, of = lanes.numbers, lanes.of
    q = np.zeros(on.shape)
    if RUNS in lanes.groups:
        which = np.nonzero(on[:, lanes.groups[RUNS]])  # they come first, so that a column is a link
        part = {
            name: n[name][which]
            for name in ("z_in", "z_out", "bore", "length", "losses", "roughness", "rim", "opening")
        }
        head = above[which] - np.maximum(part["z_out"], below[which])
        V_pipe = pipe_velocity(head, part["bore"], part["length"], part["losses"], part["roughness"])
        mouth = mouth_flow(of.mouth_weir, part["rim"], of.mouth_hole, part["opening"], above[which] - part["z_in"])
        mouth = np.where(lanes.siphon[which], np.inf, mouth)  # until it is stopped: see marks
        q[which] = np.minimum(np.pi / 4 * part["bore"] ** 2 * V_pipe, mouth)
    if PUMPED in lanes.groups:
        at = lanes.groups[PUMPED]
        Q = n["flow"][:, at].copy()
        static = np.maximum(n["z_out"][:, at], below[:, at]) - above[:, at]
        for column, (heads, flows) in lanes.tables.items():
            by_curve = np.interp(static[:, column - at.start], heads, flows)
            Q[:, column - at.start] = np.where(lanes.bare[:, column], Q[:, column - at.start], by_curve)
        q[:, at] = Q * gradual((above[:, at] - n["z_in"][:, at]) / of.fades)
    if SUPPLIED in lanes.groups:
        at = lanes.groups[SUPPLIED]
        valve = gradual((n["z_in"][:, at] - below[:, at]) / of.valve)
        runs = t[:, None] < n["until"][:, at]
        q[:, at] = n["flow"][:, at] * runs * np.where(lanes.float_valve[:, at], valve, 1.0)
    if DRAINED in lanes.groups:
        at = lanes.groups[DRAINED]
        d = above[:, at] - n["z_in"][:, at]
        grate = mouth_flow(of.mouth_weir, n["rim"][:, at], of.mouth_hole, n["opening"][:, at], d)
        # a drain in a low place takes no more than lies on the floor
        film = np.where(n["z_in"][:, at] < 0, gradual(above[:, at] / FILM), 1.0)
        q[:, at] = np.minimum(grate, n["pipe_flow"][:, at]) * film
    if OVER_SILL in lanes.groups:
        at = lanes.groups[OVER_SILL]
        sill = n["z_in"][:, at]
        q[:, at] = sill_flow(of.sill, n["width"][:, at], above[:, at] - sill, below[:, at] - sill)
    return np.asarray(q * on)


def _runs_back(lanes: Lanes, above: Array, on: Flags) -> Array:
    """Of what a pump brings the share that runs back (B, returns): all, until the level has fallen below its own."""
    at = lanes.groups[RETURNED]
    fall = (above[:, at] - lanes.numbers["z_in"][:, at]) / lanes.of.fades
    return np.asarray(gradual(1 + fall) * on[:, at])


def _followed(lanes: Lanes, q: Array, above: Array, on: Flags, full: Flags) -> Array:
    """With what follows other flows: ways back of pumps, and what runs over rims."""
    if RETURNED in lanes.groups:
        at = lanes.groups[RETURNED]
        q[:, at] = q[:, lanes.follows] * _runs_back(lanes, above, on)
    if OVER_RIM in lanes.groups:
        at = lanes.groups[OVER_RIM]
        net = np.matmul(q[:, None, : at.start], lanes.moves[:, : at.start])[:, 0]
        vessel = lanes.source[0, at]
        q[:, at] = np.where(full[:, vessel], np.maximum(net[:, vessel], 0.0), 0.0)
    return q
