"""Which place with known design values is nearest? A hint for who fills in the file; no computation uses it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.data_tables.loader import place, table
from brimfast.data_tables.rows import Place

EARTH = 6371.0  # km


@dataclass(frozen=True)
class Near:
    """The place; how far it is from where was asked (km), where that was given as coordinates."""

    row: Place
    distance: float | None


def distance(lat_1: ArrayLike, lon_1: ArrayLike, lat_2: ArrayLike, lon_2: ArrayLike) -> NDArray[np.float64]:
    """Along the ground (km), latitudes and longitudes in degrees: the haversine formula on a sphere of 6371 km."""
    a_1, o_1, a_2, o_2 = (np.radians(np.asarray(item, float)) for item in (lat_1, lon_1, lat_2, lon_2))
    half = np.sin((a_2 - a_1) / 2) ** 2 + np.cos(a_1) * np.cos(a_2) * np.sin((o_2 - o_1) / 2) ** 2
    return np.asarray(2 * EARTH * np.arcsin(np.sqrt(half)))


def place_named(name: str) -> Near:
    """Raises NotInTableError for a name that no row has."""
    return Near(place(name), None)


def place_nearest(latitude: float, longitude: float) -> Near:
    rows = table(Place)
    apart = distance(latitude, longitude, [row.latitude for row in rows], [row.longitude for row in rows])
    nearest = int(np.argmin(apart))
    return Near(rows[nearest], float(apart[nearest]))
