"""What a flood of the whole storey would do at the same depth: a published relation, used as an upper bound only."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.data_tables.loader import depth_damage
from brimfast.shared.constants import FOOT
from brimfast.shared.findings import Step, Value, step

Array = NDArray[np.float64]
SOURCE = "USACE EGM 01-03 (contents: EGM 04-01), one storey without basement, straight lines between its depths"


def damage_share(d: ArrayLike, depths: ArrayLike, shares: ArrayLike) -> Array:
    """Damage over the structure's value at a depth, by straight lines between printed points; NaN outside them.

    d depth of water over the floor (m), depths the printed ones (m, rising), shares the printed damage (1).
    """
    d, depths = np.asarray(d, float), np.asarray(depths, float)
    found = np.interp(d, depths, np.asarray(shares, float))
    return np.asarray(np.where((d < depths[0]) | (d > depths[-1]), np.nan, found))


def damage_bound(V: ArrayLike, p: ArrayLike, A: ArrayLike, A_s: ArrayLike) -> Array:
    """Damage as in a flood of the whole storey, by the part of it that is wet: D = V p min(A/A_s, 1).

    V value of the storey anew (money), p damage over value at the depth (1), A wetted floor and A_s storey (m²).
    For slow dirty floods of one-storey houses, so an upper bound for a short spill of the same depth.
    """
    part = np.minimum(np.asarray(A, float) / np.asarray(A_s, float), 1.0)
    return np.asarray(np.asarray(V, float) * np.asarray(p, float) * part)


@dataclass(frozen=True)
class Bound:
    """The building's and the contents' damage as in a flood of the whole storey (money)."""

    building: float
    contents: float
    steps: tuple[Step, ...]
    values: tuple[Value, ...]


def bound(V: float, A_s: float, A: float, d: float, currency: str) -> Bound:
    """Both bounds for a wetted area A (m²) of a storey of A_s (m²) that is worth V, under water of depth d (m)."""
    rows = depth_damage()
    depths = [row.depth_ft * FOOT for row in rows]
    structure = [row.structure_percent / 100 for row in rows]
    contents = [row.contents_percent / 100 for row in rows]
    found = [float(damage_bound(V, damage_share(d, depths, shares), A, A_s)) for shares in (structure, contents)]
    steps = tuple(
        _step(symbol, amount, (V, A_s, A, d), (depths, shares), what, currency)
        for symbol, amount, shares, what in (
            ("D", found[0], structure, "building"),
            ("K", found[1], contents, "contents"),
        )
        if not math.isnan(amount)
    )
    low = rows[_above(d, depths) - 1]
    text = f"{low.structure_percent:g} % of the structure's value at {low.depth_ft:g} ft, and on to the next depth"
    return Bound(found[0], found[1], steps, (low.used("damage by depth of flood water", text),))


def _above(d: float, depths: Sequence[float]) -> int:
    """The printed depth at which the stretch of d ends; of deeper water the last."""
    return next((index for index in range(1, len(depths)) if d <= depths[index]), len(depths) - 1)


def _step(
    symbol: str,
    amount: float,
    sizes: tuple[float, float, float, float],
    printed: tuple[list[float], list[float]],
    what: str,
    currency: str,
) -> Step:
    V, A_s, A, d = sizes
    depths, shares = printed
    at = _above(d, depths)
    return step(
        symbol,
        "V*(p_0 + (p_1 - p_0)*(d - d_0)/(d_1 - d_0))*min(A/A_s, 1)",
        {
            "V": (V, currency),
            "p_0": shares[at - 1],
            "p_1": shares[at],
            "d": (d, "m"),
            "d_0": (depths[at - 1], "m"),
            "d_1": (depths[at], "m"),
            "A": (A, "m²"),
            "A_s": (A_s, "m²"),
        },
        (amount, currency),
        SOURCE,
        f"{what}, upper bound: made for slow dirty floods of a whole storey; here by the part that is wet",
    )
