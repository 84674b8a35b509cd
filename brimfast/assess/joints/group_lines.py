"""How the forces on a fastener group come down to one of its fasteners, line by line."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from brimfast.shared.findings import Step, step

Array = NDArray[np.float64]


def group_lines(
    places: Array,
    total: tuple[float, float, float | None],
    force: Array,
    worst: int,
    note: str,
    letters: tuple[str, str, str] = ("H", "V", "M"),
    share: str = "",
) -> tuple[Step, ...]:
    """total: H, V (N) and M (N·m; None: nothing turns it) on the group, under these letters, of H and M the share that

    is written before them; force: what `group_forces` gives the fastener of that number (N).
    """
    (H, V, M), (h, v, m) = total, letters
    x, y, n = float(places[worst, 0]), float(places[worst, 1]), float(len(places))
    polar = float((places**2).sum())
    across, up = f"{share}{h}/n", f"{v}/n"
    inputs: dict[str, float | tuple[float, str]] = {h: (H, "N"), "n": n}
    up_inputs: dict[str, float | tuple[float, str]] = {v: (V, "N"), "n": n}
    if polar > 0 and M is not None:
        extra: dict[str, float | tuple[float, str]] = {m: (M, "N·m"), "I_r": (polar, "m²")}
        across, up = f"{across} - {share}{m}*y/I_r", f"{up} + {share}{m}*x/I_r"
        inputs |= {**extra, "y": (y, "m")}
        up_inputs |= {**extra, "x": (x, "m")}
    H_1, V_1 = float(force[0]), float(force[1])
    return (
        step("H_1", across, inputs, (H_1, "N"), "elastic fastener group", note),
        step("V_1", up, up_inputs, (V_1, "N"), "elastic fastener group"),
        step("R_1", "sqrt(H_1**2 + V_1**2)", {"H_1": (H_1, "N"), "V_1": (V_1, "N")}, (math.hypot(H_1, V_1), "N")),
    )
