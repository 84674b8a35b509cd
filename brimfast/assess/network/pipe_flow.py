"""How fast does water run through a pipe, a mouth, a grate, a hole or over a sill? The laws, for arrays."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.assess.network.friction import friction_factor, reynolds
from brimfast.shared.constants import GRAVITY

Array = NDArray[np.float64]
PASSES = 2
SMOOTHED = 0.002  # m: below this head the flow falls with the head itself, as trickles do
FIRST_FRICTION = 0.025
NO_FLOW = 1e-9  # m/s


def pipe_velocity(
    H: ArrayLike, D: ArrayLike, L: ArrayLike, K: ArrayLike, roughness: ArrayLike, passes: int = PASSES
) -> Array:
    """Mean velocity (m/s) in a pipe that runs full under a head: V = √(2 g H / (K + f L/D)), f = friction_factor(V).

    H head between the two water levels, or to the free end (m), none below 0; D bore, L length (m); K sum of all loss
    coefficients, 1 for the exit among them; roughness of the wall (m). f and V by trial: two passes are within 0.1 %.
    A head under 2 mm counts as less, down to none in a straight line. Darcy-Weisbach; Churchill 1977.
    """
    head, bore = np.asarray(H, dtype=np.float64), np.asarray(D, dtype=np.float64)
    part = np.clip(head / SMOOTHED, 0.0, 1.0)
    pressure = 2 * GRAVITY * np.where(part < 1, SMOOTHED * (part * (1.5 - 0.5 * part)) ** 2, head)
    slender, lost = np.asarray(L, dtype=np.float64) / bore, np.asarray(K, dtype=np.float64)
    V = np.sqrt(pressure / (lost + FIRST_FRICTION * slender))
    for _ in range(passes):
        f = friction_factor(reynolds(np.maximum(V, NO_FLOW), bore), np.asarray(roughness, dtype=np.float64) / bore)
        V = np.sqrt(pressure / (lost + f * slender))
    return np.asarray(V)


def weir_flow(C_w: ArrayLike, P: ArrayLike, d: ArrayLike) -> Array:
    """Flow over the rim of a grate in a low place (m³/s): Q = C_w P d^1.5.

    C_w 1.66 m^0.5/s, P free perimeter (m), d depth of water (m). Source: FHWA HEC-22 (TxDOT 10-30).
    """
    return np.asarray(np.asarray(C_w, float) * np.asarray(P, float) * np.maximum(np.asarray(d, float), 0.0) ** 1.5)


def orifice_flow(C_o: ArrayLike, A: ArrayLike, d: ArrayLike) -> Array:
    """Flow through a submerged opening (m³/s): Q = C_o A √(2 g d).

    C_o 0.67 for a grate, A clear opening (m²), d depth of water (m). Source: FHWA HEC-22 (TxDOT 10-31).
    """
    head = np.maximum(np.asarray(d, float), 0.0)
    return np.asarray(np.asarray(C_o, float) * np.asarray(A, float) * np.sqrt(2 * GRAVITY * head))


def full_pipe_flow(n: ArrayLike, D: ArrayLike, S: ArrayLike) -> Array:
    """Flow of a round pipe running full by its slope (m³/s): Q = (π D²/4) (1/n) (D/4)^(2/3) √S.

    n Manning roughness, D bore (m), S slope (m/m). Source: Manning's equation (FHWA HEC-22).
    """
    D = np.asarray(D, float)
    velocity = (D / 4) ** (2 / 3) * np.sqrt(np.asarray(S, float)) / np.asarray(n, float)
    return np.asarray(np.pi / 4 * D**2 * velocity)


def mouth_flow(C_w: ArrayLike, P: ArrayLike, C_o: ArrayLike, A: ArrayLike, d: ArrayLike) -> Array:
    """Most that runs into a mouth with water d above it (m³/s): the lesser of its weir and its opening, as of a grate.

    P rim (m), A opening (m²), C_w (m^0.5/s) and C_o coefficients; see weir_flow and orifice_flow.
    """
    return np.asarray(np.minimum(weir_flow(C_w, P, d), orifice_flow(C_o, A, d)))


def sill_flow(C_s: ArrayLike, b: ArrayLike, d: ArrayLike, tail: ArrayLike) -> Array:
    """Flow over a doorway's sill (m³/s): Q = C_s b √d (d − tail), d and tail the water on either side above it (m).

    Without tail the broad-crested weir C_s b d^1.5; b clear width (m), C_s (m^0.5/s). With a tail a straight line down
    to none where both sides stand alike.
    """
    here: Array = np.maximum(np.asarray(d, dtype=np.float64), 0.0)
    there: Array = np.maximum(np.asarray(tail, dtype=np.float64), 0.0)
    width = np.asarray(C_s, dtype=np.float64) * np.asarray(b, dtype=np.float64)
    return np.asarray(width * np.sqrt(here) * np.maximum(here - there, 0.0))
