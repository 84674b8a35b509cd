"""What the integration leaves of every lane."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]
Indices = NDArray[np.int64]


@dataclass
class Trace:
    """What every lane came to. B lanes, L links, N nodes, M marks."""

    X: Array  # (B, L) gone through each link, m³
    V: Array  # (B, N) held at the end, m³
    t: Array  # (B,) when it ended, s
    peak: Array  # (B, N) highest level, m above the floor
    peak_at: Array  # (B, N)
    first: Array  # (B, M) when each mark was first passed upward; NaN if never
    last: Array  # (B, M) when it was last passed downward
    inflow: Array  # (B,) fastest flow onto the first room's floor, m³/s
    need: Array  # (B,) most that lay in the first room together with what had left it over a sill, m³
    need_X: Array  # (B, L)
    finished: Flags  # (B,) False where the steps ran out
    left: Array  # (B,) most that was beyond the first room's sills at any time, m³
    history: list[tuple[Indices, Array, Array]] = field(default_factory=list)  # lanes, times, levels (lanes, N)
    steps: int = 0

    @cached_property
    def _by_lane(self) -> tuple[Indices, Array, Array]:
        """Lanes in their order, and beside them times and levels."""
        which, t, z = (np.concatenate(parts) for parts in zip(*self.history, strict=True))
        order = np.argsort(which, kind="stable")
        return which[order], t[order], z[order]

    def course(self, lane: int, node: int) -> tuple[Array, Array]:
        """Times and levels of one node in one lane, when all has run."""
        which, t, z = self._by_lane
        part = slice(*np.searchsorted(which, (lane, lane + 1)))
        return t[part], z[part, node]
