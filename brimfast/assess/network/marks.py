"""At which heights, volumes and times does something change? The integration stops exactly there."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from brimfast.assess.network.lanes import Lanes
from brimfast.assess.network.model import DRAINED, OVER_SILL, PUMPED, RUNS, SUPPLIED, Link
from brimfast.shared.constants import GRAVITY

Array = NDArray[np.float64]
Indices = NDArray[np.int64]
AIR = 0.1  # of the height over which a pump draws more and more air: below it, it holds no more
BEND, STOP, START, FULL = range(4)  # a bend of a law; a link stops, starts; a vessel is full


@dataclass(frozen=True)
class Marks:
    """E marks a lane: when a value passes a height or volume, upward (1), downward (−1) or either way (0)."""

    value: Indices  # (B, E): node, or N + link for the volume that went through it
    at: Array  # (B, E); NaN where the lane has none
    way: Indices  # (E,)
    what: Indices  # (E,)
    place: Indices  # (E,): link or node
    names: tuple[str, ...]

    def pick(self, which: Indices) -> Marks:
        return Marks(self.value[which], self.at[which], self.way, self.what, self.place, self.names)


def marks(lanes: Lanes, heights: tuple[tuple[str, float], ...]) -> Marks:
    """Of every link and vessel, and of what is asked about: heights of water on the floor by name."""
    each = lanes.each
    N, B = len(lanes.network.nodes), len(each)
    found: list[tuple[str, int, int, int, list[int], list[float]]] = []
    none = float("nan")

    def add(name: str, what: int, way: int, place: int, value: list[int], at: list[float | None]) -> None:
        heights = [none if one is None else one for one in at]
        if not np.isnan(heights).all():
            found.append((name, what, way, place, value, heights))

    for column, link in enumerate(each[0]):
        source, target = lanes.source[:, column].tolist(), lanes.target[:, column].tolist()
        links = [links[column] for links in each]
        through = [N + column] * B
        if link.kind in (RUNS, DRAINED, OVER_SILL, PUMPED):
            at: list[float | None] = [None if one.siphon or not one.name else one.z_in for one in links]
            add(link.name, BEND, 0, column, source, at)
            add(link.name, STOP, -1, column, source, [one.z_in if one.siphon else None for one in links])
        if link.kind == PUMPED:
            add(link.name, BEND, 0, column, source, [one.z_in + lanes.of.fades for one in links])
            add(link.name, STOP, 1, column, target, [one.stops_at for one in links])
            add(link.name, START, -1, column, target, [one.again_at for one in links])
        if link.kind == RUNS:
            add(link.name, START, 1, column, source, [one.starts for one in links])
            _after(lanes, column, add)
        if link.kind == SUPPLIED:
            valves: list[float | None] = [one.z_in if one.float_valve else None for one in links]
            add(link.name, BEND, 0, column, target, valves)
            add(link.name, BEND, 0, column, target, [None if z is None else z - lanes.of.valve for z in valves])
        if link.kind == DRAINED:
            limits: list[float | None] = [one.takes if np.isfinite(one.takes) else None for one in links]
            add(link.name, STOP, 1, column, through, limits)
            for number in range(3):
                depths = [one.z_in + _bends(lanes, one)[number] for one in links]  # endless where it stands still
                add(link.name, BEND, 0, column, source, [z if np.isfinite(z) else None for z in depths])
    for index, node in enumerate(lanes.network.nodes):
        if not node.is_room:
            add(node.name, FULL, 1, index, [index] * B, lanes.rims[:, index].tolist())
    rooms = [index for index, node in enumerate(lanes.network.nodes) if node.is_room]
    for name, height in heights:
        add(name, BEND, 0, rooms[0], [rooms[0]] * B, [height] * B)
    return Marks(
        np.array([one[4] for one in found], dtype=np.int64).T.reshape(B, -1),
        np.array([one[5] for one in found]).T.reshape(B, -1),
        np.array([one[2] for one in found], dtype=np.int64),
        np.array([one[1] for one in found], dtype=np.int64),
        np.array([one[3] for one in found], dtype=np.int64),
        tuple(one[0] for one in found),
    )


def _after(
    lanes: Lanes,
    column: int,
    add: Callable[[str, int, int, int, list[int], list[float | None]], None],
) -> None:
    """A siphon that begins where a pump has all but drawn its source down, and lost its water."""
    each = lanes.each
    names = [one.name for one in each[0]]
    for pump in dict.fromkeys(links[column].after for links in each if links[column].after):
        of = names.index(pump)
        at = [links[of].z_in + AIR * lanes.of.fades if links[column].after == pump else None for links in each]
        sources = lanes.source[:, of].tolist()
        add(names[column], START, -1, column, sources, at)
        add(pump, STOP, -1, of, sources, at)


def _bends(lanes: Lanes, drain: Link) -> tuple[float, float, float]:
    """Depths (m) over a grate at which weir and opening, weir and pipe, opening and pipe take alike."""
    weir, hole = lanes.of.mouth_weir * drain.rim, lanes.of.mouth_hole * drain.opening * np.sqrt(2 * GRAVITY)
    if weir <= 0 or hole <= 0:
        return (np.inf, np.inf, np.inf)
    return float(hole / weir), float((drain.pipe_flow / weir) ** (2 / 3)), float((drain.pipe_flow / hole) ** 2)
