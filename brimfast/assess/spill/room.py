"""The room as a basin: how much lies in it before water leaves, and what that weighs."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.assess.network.model import ROOM, Network
from brimfast.assess.spill.drains import DrainCapacity, drain_capacity
from brimfast.shared.constants import GRAVITY, WATER_DENSITY
from brimfast.shared.installation.model import Installation

Array = NDArray[np.float64]


def pond_pressure(depth: ArrayLike) -> Array:
    """Weight of water on the floor (Pa): p = ρ g d; d depth (m)."""
    return np.asarray(WATER_DENSITY * GRAVITY * np.asarray(depth, float))


@dataclass(frozen=True)
class RoomBasin:
    """Free floor (m²), lowest sill (m), what lies below it (m³), the drains at that depth."""

    area: float
    sill: float
    held: float
    at_sill: DrainCapacity


def basin(installation: Installation, network: Network) -> RoomBasin:
    room, area = installation.room, network.node(ROOM).area
    sills = [one.sill for one in room.next]
    if not room.next or room.door is not None:
        sills.append(room.sill)
    sill = min(sills)
    return RoomBasin(area, sill, area * sill, drain_capacity(room.drains, sill))
