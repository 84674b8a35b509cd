"""What can put water on the floor, and how far do the worst mishap, the worst pair and an earthquake go?"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

from brimfast.assess.network.build import network
from brimfast.assess.network.faults import QUAKE, clogged_id, faults, with_drains_clogged
from brimfast.assess.network.model import Event, Network
from brimfast.assess.network.runs import NOTHING, Run, run
from brimfast.assess.parts import VesselParts
from brimfast.assess.spill.contain import Contained, contained
from brimfast.assess.spill.flood import Flood, Wet
from brimfast.assess.spill.pans import Caught, caught
from brimfast.assess.spill.room import RoomBasin, basin
from brimfast.assess.weight import VesselWeight
from brimfast.shared.installation.model import Installation
from brimfast.shared.units import System

IN_EARTHQUAKES = (QUAKE, "slosh")
DRY_UNDER = 1e-4  # m: a floor with less on it counts as dry


@dataclass(frozen=True)
class Spill:
    """Runs that put water on the floor, most first; how many were tried; what would keep the worst of them in."""

    network: Network
    room: RoomBasin
    runs: tuple[Run, ...]
    tried: int
    worst: Run | None  # of the single mishaps
    pair: Run | None  # the worst of two that meet, a clogged floor drain among them, where it is worse than that
    earthquake: Run | None
    failing: tuple[str, ...]  # vessels that these checks let go in the earthquake
    failing_volume: float
    splashing: tuple[str, ...]  # vessels that stand, and splash
    splash_volume: float
    caught: tuple[Caught, ...] = ()  # by pans, in single mishaps

    def contained(self, system: System) -> dict[str, Contained]:
        """What would keep all single mishaps in, and what the earthquake, in steps of a system; tried when it is asked for."""
        if system not in self._contained:
            kept = {"single": contained(self.network, self.singles, system)}
            if self.earthquake is not None:
                kept[QUAKE] = contained(self.network, [self.earthquake], system)
            self._contained[system] = kept
        return self._contained[system]

    @cached_property
    def _contained(self) -> dict[System, dict[str, Contained]]:
        return {}

    @property
    def singles(self) -> tuple[Run, ...]:
        return tuple(one for one in self.runs if _single(one.event))

    @property
    def with_open_drains(self) -> tuple[Run, ...]:
        """Without those that are the same but for clogged floor drains; most water first."""
        ids = {clogged_id(one.event.id) for one in self.runs}
        return tuple(one for one in self.runs if one.event.id not in ids)

    def clogged(self, one: Run) -> Run | None:
        """The same event with the floor drains clogged."""
        return next((other for other in self.runs if other.event.id == clogged_id(one.event.id)), None)

    @property
    def floods(self) -> dict[str, Run]:
        """The two events that are carried on: the worst single mishap, and the earthquake."""
        pairs = (("single", self.worst), (QUAKE, self.earthquake))
        return {name: one for name, one in pairs if one is not None}

    @property
    def most(self) -> Run | None:
        """The run, of all, of which most leaves the room."""
        return max(self.runs, key=_danger, default=None)


@dataclass(frozen=True)
class Question:
    """All events of a network, and the heights on its floor that are asked about."""

    network: Network
    events: tuple[Event, ...]
    heights: tuple[tuple[str, float], ...]
    splashes: tuple[Event, ...]  # waves over the rim of each vessel, as if it stood

    def answer(self) -> tuple[Run, ...]:
        return run(self.network, self.events, self.heights)


def ask(
    installation: Installation,
    parts: dict[str, VesselParts],
    weights: dict[str, VesselWeight],
    splashes: tuple[Event, ...] = (),
) -> Question:
    """Every fault of the network, and the bound for one earthquake: every vessel and every supply."""
    ways = network(installation, parts, weights)
    heights = tuple((socket_mark(index), one.height) for index, one in enumerate(installation.room.sockets))
    events = (*faults(installation, ways), *splashes)
    return Question(ways, (*events, *with_drains_clogged(ways, events)), heights, splashes)


def assess_spill(
    installation: Installation,
    weights: dict[str, VesselWeight],
    question: Question,
    answers: tuple[Run, ...],
    failing: tuple[str, ...],
) -> Spill:
    """What the runs come to. failing: vessels that do not stand in the earthquake."""
    ways = question.network
    runs = [one for one in answers if one.reached > NOTHING or not one.finished]
    singles = [one for one in runs if _single(one.event)]
    pairs = [one for one in runs if one.event.pair and one.event.kind not in IN_EARTHQUAKES]
    worst, pair = (max(group, key=_danger, default=None) for group in (singles, pairs))
    earthquake = next((one for one in runs if one.event.id == QUAKE), None)
    standing = [event for event in question.splashes if event.subject not in failing]
    return Spill(
        ways,
        basin(installation, ways),
        tuple(sorted(runs, key=lambda one: -one.reached)),
        len(question.events),
        worst,
        pair if pair is not None and (worst is None or _danger(pair) > _danger(worst)) else None,
        earthquake,
        failing,
        math.fsum(weights[name].water_volume for name in failing),
        tuple(event.subject for event in standing),
        math.fsum(event.volume for event in standing),
        caught(ways, [one for one in answers if _single(one.event)]),
    )


def _single(event: Event) -> bool:
    """A mishap by itself; what an earthquake does stands apart."""
    return not event.pair and event.kind not in IN_EARTHQUAKES


def _danger(one: Run) -> tuple[float, float, float]:
    return one.leaves, one.need, one.depth


def socket_mark(index: int) -> str:
    return f"socket {index + 1}"


def floods(spill: Spill, installation: Installation) -> dict[str, Flood]:
    """Which floors get wet in the two events that are carried on."""
    room = installation.room
    found = {}
    for name, one in spill.floods.items():
        wet = [Wet("the room", spill.room.area, one.depth, installation.exposure.flooring, True)]
        for neighbour, (_, depth) in zip(room.next, one.next_rooms, strict=True):
            if depth > DRY_UNDER:
                flooring = neighbour.flooring or installation.exposure.flooring
                wet.append(Wet(neighbour.name, neighbour.length * neighbour.width, depth, flooring, False))
        found[name] = Flood(one.event.id, one.event.text, one.reached, one.outside, tuple(wet))
    return found
