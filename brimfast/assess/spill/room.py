"""What does the room do with the water: how deep, how much leaves, what does it weigh?"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.assess.spill.drains import DrainCapacity, depth_at_flow, drain_capacity
from brimfast.assess.spill.losses import Event
from brimfast.assess.weight import VesselWeight
from brimfast.shared.constants import GRAVITY, WATER_DENSITY
from brimfast.shared.installation.model import Installation
from brimfast.shared.installation.site import Drain

Array = NDArray[np.float64]


def leaves_at_once(volume: ArrayLike, held: ArrayLike) -> Array:
    """Volume that leaves the room when all arrives at once (m³): max(V − V_hold, 0); drains not counted."""
    return np.asarray(np.maximum(np.asarray(volume, float) - np.asarray(held, float), 0.0))


def leaves_slowly(volume: ArrayLike, rate: ArrayLike, held: ArrayLike, drained: ArrayLike) -> Array:
    """Most that leaves the room when V arrives at rate Q (m³).

    V_out ≤ max(Q − Q_d, 0) (V/Q − V_hold/Q), at least 0: nothing is counted as drained while the room fills
    to the sill, Q_d the drains' flow at the sill from then on. Upper bound from the balance of volumes.
    """
    V, Q, hold = np.asarray(volume, float), np.asarray(rate, float), np.asarray(held, float)
    over = np.maximum(Q - np.asarray(drained, float), 0.0)
    return np.asarray(over * np.maximum(V - hold, 0.0) / Q)


def pond_pressure(depth: ArrayLike) -> Array:
    """Weight of water on the floor (Pa): p = ρ g d; d depth (m)."""
    return np.asarray(WATER_DENSITY * GRAVITY * np.asarray(depth, float))


@dataclass(frozen=True)
class RoomBasin:
    """The room as a basin: free floor (m²), sill (m), what it holds below the sill (m³), its drains."""

    area: float
    sill: float
    held: float
    drains: list[Drain]
    at_sill: DrainCapacity


@dataclass(frozen=True)
class Outcome:
    """What one event does: depth (m), volume out of the room (m³), pressure on the floor (Pa)."""

    event: Event
    depth: float
    leaves: float
    pressure: float


def basin(installation: Installation, weights: dict[str, VesselWeight]) -> RoomBasin:
    """Free floor: the room less what stands on it (the file is refused where that leaves less than a twentieth)."""
    room = installation.room
    gross = room.length * room.width
    taken = math.fsum(weights[vessel.name].base_area for vessel in installation.on_floor())
    area = max(gross - taken, gross / 100)
    return RoomBasin(area, room.sill, area * room.sill, room.drains, drain_capacity(room.drains, room.sill))


def outcome(event: Event, room: RoomBasin) -> Outcome:
    """Depth and overflow of one event, on the safe side."""
    spread = event.volume / room.area
    if event.rate is None:
        leaves = float(leaves_at_once(event.volume, room.held))
        depth = min(spread, room.sill)
    else:
        leaves = float(leaves_slowly(event.volume, event.rate, room.held, room.at_sill.flow))
        steady = depth_at_flow(room.drains, event.rate, room.sill) if room.drains and room.sill > 0 else None
        depth = min(spread, room.sill, steady if steady is not None else math.inf)
    return Outcome(event, depth, leaves, float(pond_pressure(depth)))
