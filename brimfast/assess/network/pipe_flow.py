"""How fast does water run through a pipe, a mouth, a hole or over a sill? The laws, for arrays."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.shared.constants import GRAVITY

Array = NDArray[np.float64]
VISCOSITY = 1.0e-6  # m²/s, water at 20 °C
PASSES = 2
SMOOTHED = 0.002  # m: below this head the flow falls with the head itself, as trickles do
FIRST_FRICTION = 0.025


def pipe_velocity(H: ArrayLike, D: ArrayLike, L: ArrayLike, K: ArrayLike, roughness: ArrayLike) -> Array:
    """Mean velocity (m/s) in a pipe that runs full under a head: V = √(2 g H / (1 + ΣK + f L/D)).

    1/√f = −2 log₁₀(ε/(3.7 D) + 2.51 ν/(D √(2 g D S))), S = f V²/(2 g D) the slope of friction, found in two passes.
    H head between the two water levels, or to the free end (m); D bore (m); L length (m); ΣK losses besides the
    velocity lost at the end; ε roughness (m); ν 1.0e-6 m²/s. Turbulent flow: what trickles runs slower, so this is the
    most. Darcy-Weisbach; Colebrook and White 1937.
    """
    head, bore = np.asarray(H, dtype=np.float64), np.asarray(D, dtype=np.float64)
    part = np.clip(head / SMOOTHED, 0.0, 1.0)
    pressure = 2 * GRAVITY * np.where(part < 1, SMOOTHED * (part * (1.5 - 0.5 * part)) ** 2, head)
    over, smooth = np.asarray(L, dtype=np.float64) / bore, np.asarray(roughness, dtype=np.float64) / (3.7 * bore)
    lost = 1 + np.asarray(K, dtype=np.float64)
    f: Array = np.full(np.broadcast_shapes(head.shape, bore.shape), FIRST_FRICTION)
    V = np.sqrt(pressure / (lost + f * over))
    for _ in range(PASSES):
        shear = np.sqrt(f) * V  # √(2 g D S)
        f = (-2 * np.log10(smooth + 2.51 * VISCOSITY / (bore * np.maximum(shear, 1e-6)))) ** -2
        V = np.sqrt(pressure / (lost + f * over))
    return np.asarray(V)


def mouth_flow(C_w: ArrayLike, P: ArrayLike, C_o: ArrayLike, A: ArrayLike, d: ArrayLike) -> Array:
    """Most that runs into a mouth with water d above it (m³/s): the lesser of C_w P d^1.5 and C_o A √(2 g d).

    P rim (m), A opening (m²), C_w (m^0.5/s) and C_o coefficients. FHWA HEC-22 chapter 7, as for a grate in a low place.
    """
    depth: Array = np.maximum(np.asarray(d, dtype=np.float64), 0.0)
    root = np.sqrt(depth)
    weir = np.asarray(C_w, dtype=np.float64) * np.asarray(P, dtype=np.float64)
    hole = np.asarray(C_o, dtype=np.float64) * np.asarray(A, dtype=np.float64) * math.sqrt(2 * GRAVITY)
    return np.asarray(np.minimum(weir * depth, hole) * root)


def sill_flow(C_s: ArrayLike, b: ArrayLike, d: ArrayLike, tail: ArrayLike) -> Array:
    """Flow over a doorway's sill (m³/s): Q = C_s b √d (d − tail), d and tail the water on either side above it (m).

    Without tail the broad-crested weir C_s b d^1.5; b clear width (m), C_s (m^0.5/s). With a tail a straight line down
    to none where both sides stand alike.
    """
    here: Array = np.maximum(np.asarray(d, dtype=np.float64), 0.0)
    there: Array = np.maximum(np.asarray(tail, dtype=np.float64), 0.0)
    width = np.asarray(C_s, dtype=np.float64) * np.asarray(b, dtype=np.float64)
    return np.asarray(width * np.sqrt(here) * np.maximum(here - there, 0.0))
