"""Which sill, or which floor drain, would keep an event in the room? Tried in time, all at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from brimfast.assess.network.build import ADDED_DRAIN, drain_sizes
from brimfast.assess.network.model import OVER_SILL, ROOM, Network
from brimfast.assess.network.runs import NOTHING, Run, run
from brimfast.shared.constants import INCH

STEP = 0.5 * INCH
HIGHEST = 18 * INCH
BORES = (2.0, 3.0, 4.0, 6.0)  # in
OPEN, FREE, SLOPE = 0.5, 0.5, 1 / 48  # of a drain that is added, as the file's own unless it says otherwise


@dataclass(frozen=True)
class Contained:
    """The lowest sill (m) and the smallest further drain (m bore) that keep all of it in; None where none that was tried does."""

    id: str
    sill: float | None
    drain: float | None
    already: bool = False


def contained(network: Network, runs: Sequence[Run]) -> dict[str, Contained]:
    """For each run by its event. A sill is one for all doorways; a drain half blocked, with a grate of its bore."""
    found = {one.event.id: Contained(one.event.id, None, None, one.leaves <= NOTHING) for one in runs}
    open_ones = [one for one in runs if one.leaves > NOTHING]
    doors = [link for link in network.links if link.kind == OVER_SILL and ROOM in (link.source, link.target)]
    area = network.node(ROOM).area
    trials: list[tuple[Run, str, float, dict[str, dict[str, Any]]]] = []
    for one in open_ones:
        least = min(door.z_in for door in doors)
        # no sill lower than what would have been left to lie can do, if drains took no more than they did
        first = max(int((least + 1e-9) / STEP) + 1, int(0.5 * one.need / area / STEP))
        for number in range(first, int(HIGHEST / STEP) + 1):
            height = number * STEP
            changes: dict[str, dict[str, Any]] = {door.name: {"z_in": max(height, door.z_in)} for door in doors}
            trials.append((one, "sill", height, changes))
        for inches in BORES:
            bore = inches * INCH
            sizes = drain_sizes(bore, bore, OPEN, FREE, SLOPE)
            trials.append((one, "drain", bore, {ADDED_DRAIN: {"on": True, **sizes}}))
    events = [replace(one.event, changes={**one.event.changes, **changes}) for one, _, _, changes in trials]
    outcomes = run(network, events)
    for (one, kind, size, _), outcome in zip(trials, outcomes, strict=True):
        before = found[one.event.id]
        best = before.sill if kind == "sill" else before.drain
        if outcome.leaves <= NOTHING and (best is None or size < best):
            found[one.event.id] = replace(before, sill=size) if kind == "sill" else replace(before, drain=size)
    return found
