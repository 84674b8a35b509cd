"""The vertical part of the earthquake, common to both editions and to chapter 15."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.data_tables.loader import factor_si
from brimfast.shared.findings import Step, step


def vertical_force(S_DS: ArrayLike, W_p: ArrayLike) -> NDArray[np.float64]:
    """Vertical earthquake force up and down (unit of W_p): E_v = 0.2 S_DS W_p.

    Source: ASCE 7-16 section 13.3.1.2 (components) and (12.4-4a) (structures); the same in 7-22.
    """
    return np.asarray(factor_si("vertical_share") * np.asarray(S_DS, float) * np.asarray(W_p, float))


def vertical_step(S_DS: float, W: float, source: str) -> Step:
    return step(
        "E_v",
        "0.2*S_DS*W_p",
        {"S_DS": (S_DS, "g"), "W_p": (W, "N")},
        (float(vertical_force(S_DS, W)), "N"),
        source,
        "up and down, together with the sideways force",
    )
