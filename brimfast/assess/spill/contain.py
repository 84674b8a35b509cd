"""Which sill, or which further floor drain, would keep all of some events in the room? Tried in time."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from brimfast.assess.network.build import ADDED_DRAIN, drain_sizes
from brimfast.assess.network.model import OVER_SILL, ROOM, Network
from brimfast.assess.network.runs import NOTHING, Run, anything_leaves
from brimfast.shared.constants import INCH
from brimfast.shared.units import System

STEPS = {"us": 0.5 * INCH, "si": 0.01}  # m: as sills are made
HIGHEST = 18 * INCH
BORES = (2.0, 3.0, 4.0, 6.0)  # in
OPEN, FREE, SLOPE = 0.5, 0.5, 1 / 48  # of a drain that is added, as the file's own unless it says otherwise
Changes = Mapping[str, Mapping[str, Any]]


@dataclass(frozen=True)
class Contained:
    """The lowest sill (m) and the smallest further drain (m bore) that keep all events in; None where none tried does."""

    sill: float | None
    drain: float | None
    already: bool = False
    sure: bool = True  # False where one of them could not be followed to its end


def contained(network: Network, runs: Sequence[Run], system: System = "us") -> Contained:
    """All runs together. A sill is one for all doorways; a drain is half blocked, with a grate of its bore."""
    sure, step = all(one.finished for one in runs), STEPS[system]
    leaving = [one for one in runs if one.leaves > NOTHING]
    if not leaving:
        return Contained(None, None, already=True, sure=sure)
    doors = [link for link in network.links if link.kind == OVER_SILL and ROOM in (link.source, link.target)]
    least = min(door.z_in for door in doors)
    first, last = int((least + 1e-9) / step) + 1, int(HIGHEST / step + 1e-9)
    # what had to be held, drains running, needs no higher sill than it stands: under deeper water they take no less
    stands = max(one.need for one in leaving) / network.node(ROOM).area
    last = min(last, max(int(stands / step) + 1, first))

    def sill(number: int) -> Changes:
        return {door.name: {"z_in": max(number * step, door.z_in)} for door in doors}

    def drain(number: int) -> Changes:
        bore = BORES[number] * INCH
        return {ADDED_DRAIN: {"on": True, **drain_sizes(bore, bore, OPEN, FREE, SLOPE)}}

    height = _smallest(network, leaving, first, last, sill)
    bore = _smallest(network, leaving, 0, len(BORES) - 1, drain)
    return Contained(None if height is None else height * step, None if bore is None else BORES[bore] * INCH, sure=sure)


def _smallest(
    network: Network, runs: Sequence[Run], low: int, high: int, changes: Callable[[int], Changes]
) -> int | None:
    """The smallest number that keeps all in, by halving; None where not even the largest does."""

    def keeps(number: int) -> bool:
        events = [replace(one.event, changes={**one.event.changes, **changes(number)}) for one in runs]
        return not anything_leaves(network, events)

    if low > high or not keeps(high):
        return None
    while low < high:
        middle = (low + high) // 2
        if keeps(middle):
            high = middle
        else:
            low = middle + 1
    return high
