"""How much does a floor drain take at a given depth of water?"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.assess.network.pipe_flow import full_pipe_flow, orifice_flow, weir_flow
from brimfast.data_tables.loader import factor_si, factor_used
from brimfast.shared.constants import GRAVITY
from brimfast.shared.findings import Step, Value, step
from brimfast.shared.installation.site import Drain

Array = NDArray[np.float64]
GRATE_SOURCE = "TxDOT Hydraulic Design Manual 10-6, equations 10-30 and 10-31; FHWA HEC-22 chapter 7"


@dataclass(frozen=True)
class DrainCapacity:
    flow: float  # m³/s
    governs: str
    steps: tuple[Step, ...]
    values: tuple[Value, ...]


def _parts(drain: Drain, depth: ArrayLike) -> tuple[Array, Array, Array]:
    depth = np.asarray(depth, float) - drain.height
    weir = weir_flow(factor_si("grate_weir_coefficient"), math.pi * drain.across * drain.free, depth)
    clear = math.pi / 4 * drain.across**2 * drain.open_share * drain.free
    orifice = orifice_flow(factor_si("grate_orifice_coefficient"), clear, depth)
    pipe = full_pipe_flow(factor_si("manning_n_plastic"), drain.bore, drain.slope)
    return weir, orifice, pipe


def drain_capacity(drains: list[Drain], depth: float) -> DrainCapacity:
    """All drains together at a depth, with the calculation of each."""
    steps: list[Step] = []
    total = 0.0
    limits: list[str] = []
    for number, drain in enumerate(drains, start=1):
        weir, orifice, pipe = (float(part) for part in _parts(drain, depth))
        flow = min(weir, orifice, pipe)
        limit = {weir: "weir", orifice: "opening", pipe: "pipe"}[flow]
        limits.append(limit)
        total += flow
        steps += [
            step(
                f"Q_weir_{number}",
                "C_w*pi*D_g*free*d**1.5",
                {
                    "C_w": (factor_si("grate_weir_coefficient"), "m^0.5/s"),
                    "D_g": (drain.across, "m"),
                    "free": drain.free,
                    "d": (depth - drain.height, "m"),
                },
                (weir, "m³/s"),
                GRATE_SOURCE,
                "d: water above the grate, at the sill; free: share not blocked",
                any_units=False,
            ),
            step(
                f"Q_open_{number}",
                "C_o*pi/4*D_g**2*open_share*free*sqrt(2*g*d)",
                {
                    "C_o": factor_si("grate_orifice_coefficient"),
                    "D_g": (drain.across, "m"),
                    "open_share": drain.open_share,
                    "free": drain.free,
                    "g": (GRAVITY, "m/s²"),
                    "d": (depth - drain.height, "m"),
                },
                (orifice, "m³/s"),
                GRATE_SOURCE,
                any_units=False,
            ),
            step(
                f"Q_pipe_{number}",
                "pi*D**2/4*(D/4)**(2/3)*sqrt(S)/n",
                {"D": (drain.bore, "m"), "S": drain.slope, "n": factor_si("manning_n_plastic")},
                (pipe, "m³/s"),
                "Manning's equation, pipe running full",
                f"drain {number}: the {limit} governs",
                any_units=False,
            ),
        ]
    values = (
        factor_used("grate_weir_coefficient"),
        factor_used("grate_orifice_coefficient"),
        factor_used("manning_n_plastic"),
    )
    return DrainCapacity(total, ", ".join(limits), tuple(steps), values if drains else ())
