"""What flow does a pump's curve leave at which static head, after the losses of its pipe?"""

from __future__ import annotations

import numpy as np

from brimfast.assess.network.friction import head_loss

POINTS = 25  # between the curve's ends


def pipe_losses(
    curve: list[tuple[float, float]], bore: float, length: float, losses: float, roughness: float
) -> tuple[tuple[float, float], ...]:
    """Pairs of static head (m) and flow (m³/s), by straight lines between the curve's points (flow, head)."""
    flows, heads = np.array(curve).T
    Q = np.unique(np.concatenate([np.linspace(0.0, flows[-1], POINTS), flows]))
    left = np.interp(Q, flows, heads) - head_loss(Q, bore, length, losses, roughness)
    return tuple((float(head), float(flow)) for head, flow in zip(left, Q, strict=True))
