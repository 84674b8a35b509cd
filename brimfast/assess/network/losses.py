"""What flow does a pump's curve leave at which static head, after the losses of its pipe?"""

from __future__ import annotations

import math

import numpy as np

from brimfast.assess.network.pipe_flow import VISCOSITY
from brimfast.data_tables.loader import factor_si
from brimfast.shared.constants import GRAVITY

POINTS = 25  # between the curve's ends


def friction_head(Q: float, D: float, L: float, K: float, roughness: float) -> float:
    """Head lost in a pipe (m) at a flow Q (m³/s): (1 + ΣK + f L/D) V²/(2 g), f by Colebrook and White in ten passes."""
    V = 4 * Q / (math.pi * D**2)
    if V <= 0:
        return 0.0
    f = 0.025
    for _ in range(10):
        f = (-2 * math.log10(roughness / (3.7 * D) + 2.51 * VISCOSITY / (V * D * math.sqrt(f)))) ** -2
    return (1 + K + f * L / D) * V**2 / (2 * GRAVITY)


def pipe_losses(
    curve: list[tuple[float, float]], bore: float, length: float, bends: int
) -> tuple[tuple[float, float], ...]:
    """Pairs of static head (m) and flow (m³/s), by straight lines between the curve's points (flow, head)."""
    flows, heads = np.array(curve).T
    K = factor_si("entrance_loss") + bends * factor_si("bend_loss")
    found = []
    for Q in np.unique(np.concatenate([np.linspace(0.0, flows[-1], POINTS), flows])):
        head = float(np.interp(Q, flows, heads))
        found.append((head - friction_head(float(Q), bore, length, K, factor_si("pipe_roughness")), float(Q)))
    return tuple(found)
