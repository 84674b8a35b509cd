"""Does the floor carry it?"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.assess.bodies import FreeBody
from brimfast.assess.gravity import Gravity
from brimfast.assess.resolve import FloorParts, RackParts
from brimfast.data_tables.loader import factor_si, factor_used
from brimfast.shared.findings import Finding, Step, Value, finding, not_assessed, step

Array = NDArray[np.float64]
TOPIC = "floor"
SLAB = (
    "a slab on the ground has no tabulated live load: its thickness and the soil decide; measure the slab's "
    "thickness, or type in live_load with its source"
)


def mean_pressure(W: ArrayLike, A: ArrayLike) -> Array:
    """Pressure over a footprint (Pa): p = W / A; W weight (N), A area (m²)."""
    return np.asarray(np.asarray(W, float) / np.asarray(A, float))


def body_pressure(body: FreeBody, floor: FloorParts) -> Finding:
    """Mean pressure over the footprint against the floor's live load."""
    p = float(mean_pressure(body.weight, body.base_area))
    line = step("p", "W/A", {"W": (body.weight, "N"), "A": (body.base_area, "m²")}, (p, "N/m²"), "statics")
    id, question = f"floor/{body.name}/mean", "Does the floor carry it? (mean over the footprint)"
    return _against(id, body.name, question, p, floor, (line,), ())


def post_pressure(name: str, gravity: Gravity, parts: RackParts, plate: float | None, floor: FloorParts) -> Finding:
    """The heaviest post's load spread over the standard patch against the floor's live load."""
    patch = factor_si("floor_patch")
    p = float(mean_pressure(gravity.post_worst, patch**2))
    foot = (plate or parts.post.width) * (plate or parts.post.thickness)
    under = float(mean_pressure(gravity.post_worst, foot))
    lines = (
        step("p", "P/a**2", {"P": (gravity.post_worst, "N"), "a": (patch, "m")}, (p, "N/m²"), "ASCE 7 section 4.4"),
        step(
            "p_foot",
            "P/A_foot",
            {"P": (gravity.post_worst, "N"), "A_foot": (foot, "m²")},
            (under, "N/m²"),
            "statics",
            "under the foot itself: what tile, screed or an old board feels",
        ),
    )
    question = "Does the floor carry one post? (spread over a square of 2 ft 6 in)"
    return _against(f"floor/{name}/post", f"rack {name}", question, p, floor, lines, (factor_used("floor_patch"),))


def _against(
    id: str,
    subject: str,
    question: str,
    p: float,
    floor: FloorParts,
    lines: tuple[Step, ...],
    values: tuple[Value, ...],
) -> Finding:
    if floor.live_load is None or floor.value is None:
        return not_assessed(
            id,
            TOPIC,
            subject,
            question,
            "pressure",
            SLAB,
            demand=p,
            advice_key="floor slab",
            steps=lines,
            values=values,
        )
    return finding(
        id,
        TOPIC,
        subject,
        question,
        p,
        floor.live_load,
        "pressure",
        f"live load: {floor.value.source}",
        advice_key="floor",
        steps=lines,
        values=(*values, floor.value),
    )
