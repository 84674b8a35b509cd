"""Where the water of one event comes to lie: what the computation of spills hands on."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Wet:
    """A floor that gets wet: its free area (m²), the deepest water on it (m), and what it is covered with."""

    room: str
    area: float
    depth: float
    flooring: str
    here: bool  # the installation's own room


@dataclass(frozen=True)
class Flood:
    """One event: what reaches the floor, what leaves the room over its sill (m³), which floors get wet."""

    id: str
    text: str
    volume: float
    leaves: float
    wet: tuple[Wet, ...]
