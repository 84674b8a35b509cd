"""The water network as nodes that hold water and links that move it."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from brimfast.shared.findings import Step

ROOM = "the room"
OUTSIDE = "outside"  # over the sill
SEWER = "floor drains"
HOUSE = "house drain"
MAINS = "mains"
NEVER = math.nan
RUNS, PUMPED, RETURNED, SUPPLIED, DRAINED, OVER_SILL, OVER_RIM = range(7)


def over_rim(vessel: str) -> str:
    return f"{vessel}, over its rim"


def way_back(pump: str) -> str:
    return f"{pump}, way back"


def siphon_back(pump: str) -> str:
    return f"{pump}, back"


def siphon_on(pump: str) -> str:
    return f"{pump}, on"


def back_to_the_floor(pump: str) -> str:
    return f"{pump}, back to the floor"


def torn(supply: str) -> str:
    return f"{supply}, torn"


@dataclass(frozen=True)
class Node:
    """A vessel or the floor of a room: area (m²), porosity up to the fill's height, base and rim above the floor (m)."""

    name: str
    area: float
    start: float  # m³
    base: float = 0.0
    rim: float = math.inf
    porosity: float = 1.0
    fill: float = 0.0  # m
    is_room: bool = False

    def volume(self, level: float) -> float:
        """Water (m³) when it stands at a height above the floor (m)."""
        h = max(level - self.base, 0.0)
        return self.area * (self.porosity * min(h, self.fill) + max(h - self.fill, 0.0))

    def level(self, volume: float) -> float:
        """The height above the floor (m) at which so much water (m³) stands."""
        in_pores = self.area * self.porosity * self.fill
        if volume <= in_pores:
            return self.base + volume / (self.area * self.porosity)
        return self.base + self.fill + (volume - in_pores) / self.area


@dataclass(frozen=True)
class Link:
    """One way that water can take. Heights above the floor (m); which fields count hangs on its kind.

    RUNS: by gravity, from z_in of the source to z_out; siphon: full from the start, until air gets in at z_in.
    PUMPED: flow (m³/s), or by table of static head and flow, down to z_in. RETURNED: as much as `follows` brings, as long as the source
    stands at z_in.
    SUPPLIED: flow until a time (s); with a float valve only up to z_in. DRAINED: a floor drain. OVER_SILL: a doorway.
    """

    name: str
    kind: int
    source: str
    target: str
    on: bool = True
    z_in: float = 0.0
    z_out: float = 0.0
    bore: float = 0.025
    length: float = 0.0
    losses: float = 1.5  # all of them, the exit too
    roughness: float = 1.5e-6
    rim: float = 0.0  # m, of the mouth, less what is blocked
    opening: float = 0.0  # m², less what is blocked
    siphon: bool = False
    after: str = ""  # a siphon that begins when this pump has drawn its source down
    starts: float = NEVER  # height of its source at which it begins
    flow: float = 0.0
    table: tuple[tuple[float, float], ...] = ()
    bare: bool = False  # by flow though it has a table
    follows: str = ""
    until: float = math.inf
    float_valve: bool = False
    stops_at: float = NEVER  # height in its target at which a switch stops it
    again_at: float = NEVER  # and starts it again
    pipe_flow: float = math.inf  # of a floor drain, by its pipe
    takes: float = math.inf  # m³, before it backs up
    width: float = 0.0


@dataclass(frozen=True)
class Catch:
    """What a pan does for one vessel: whether it catches what runs over its rim, and what a torn seam lets out."""

    pan: str
    margin: float  # m, how far the pan reaches beyond it
    fastest: float  # m³/s, the most that can run into the vessel
    over_rim: float  # m, how far what runs over flies
    seam: float  # m, how far a jet can fly

    @property
    def overflow(self) -> bool:
        return self.margin >= self.over_rim

    @property
    def torn_seam(self) -> bool:
        return self.margin >= self.seam


@dataclass(frozen=True)
class Network:
    nodes: tuple[Node, ...]
    links: tuple[Link, ...]
    notes: tuple[str, ...] = ()
    catches: Mapping[str, Catch] = field(default_factory=dict)  # by vessel

    def node(self, name: str) -> Node:
        return next(node for node in self.nodes if node.name == name)

    def has(self, name: str) -> bool:
        return any(link.name == name for link in self.links)

    @property
    def vessels(self) -> tuple[Node, ...]:
        return tuple(node for node in self.nodes if not node.is_room)


@dataclass(frozen=True)
class Event:
    """What goes wrong: links that change, and water that is on the floor at once (m³ of each vessel)."""

    id: str
    kind: str
    subject: str
    text: str
    changes: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)
    at_once: Mapping[str, float] = field(default_factory=dict)
    note: str = ""
    pair: bool = False
    steps: tuple[Step, ...] = ()  # how much is on the floor at once

    @property
    def volume(self) -> float:
        """What is on the floor at once (m³)."""
        return math.fsum(self.at_once.values())

    def links(self, network: Network) -> tuple[Link, ...]:
        return tuple(
            replace(link, **self.changes[link.name]) if link.name in self.changes else link for link in network.links
        )
