"""How long does one swing of the rack take, in each direction?"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from brimfast.assess.frame.model import Frame
from brimfast.assess.frame.solve import solve
from brimfast.assess.frame.ties import tie_softness
from brimfast.shared.constants import GRAVITY

Array = NDArray[np.float64]
ROUNDS = 4


def natural_periods(frame: Frame) -> tuple[float, float]:
    """Fundamental period (s) along X and along Y; infinite where nothing holds the rack in that direction.

    T = 2π √(Σ W δ₁² / (g Σ W δ₀ δ₁)): Rayleigh's quotient on the shape after four rounds of inverse iteration,
    each mass W moving by δ in that direction at its own height. Feet held; of what is only pulled (an X, a slender
    diagonal) half counts. Where joints are not known and
    at wall ties the softer end of what they may be: the longer period. Source: Rayleigh; any text on structural dynamics.
    """
    coefficients = (frame.soft if frame.joints_unknown else frame.coefficients).copy()
    coefficients[frame.of("tie along")] = 0.0
    coefficients[frame.of("tie")] *= tie_softness()
    coefficients[frame.one_way] /= 2
    W = frame.masses.weights[:, None]
    before = np.ones((len(frame.masses.weights), 2))
    after, stable = before, np.ones(2, dtype=np.bool_)
    for _ in range(ROUNDS):
        before = after / np.maximum(np.abs(after).max(axis=0), 1e-300)
        solution = solve(frame.topology, coefficients[:, :, None], frame.masses.onto(len(frame.weight), before))
        after, stable = frame.masses.moved(solution.movements), stable & solution.stable
    work = (W * before * after).sum(axis=0)
    squares = (W * after**2).sum(axis=0)
    found = []
    for way in (0, 1):
        rests = bool(stable[way]) and work[way] > 0
        found.append(2 * math.pi * math.sqrt(squares[way] / (GRAVITY * work[way])) if rests else math.inf)
    return found[0], found[1]
