"""A triangle of plywood over the corner of post and beam: where its nails stand, and what its middle carries."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.shared.constants import INCH

Array = NDArray[np.float64]
END, INNER = (
    1.5 * INCH,
    0.75 * INCH,
)  # from a leg's end, from the other timber, to the nearest nails: common practice, no source


def gusset_run(leg: float, beyond: float) -> float:
    """From the first to the last nail of a leg (m): on its own timber alone, past the other one's edge.

    leg from the middle of the other timber, beyond half of that one's width (m). Nothing is left where it is not above 0.
    """
    return leg - beyond - INNER - END


def gusset_centre(leg: float, beyond: float) -> float:
    """From the middle of the other timber to the middle of the leg's nails (m)."""
    return beyond + INNER + gusset_run(leg, beyond) / 2


def gusset_spacing(leg: float, nails: int, beyond: float) -> float:
    """From nail to nail along a leg (m), which has them in two rows."""
    return gusset_run(leg, beyond) / (nails // 2 - 1)


def gusset_places(leg: float, nails: int, width: float, beyond: float, *, upright: bool) -> Array:
    """Places (x, y) of the nails of one leg (m) about their middle: two rows half the member's width apart."""
    half = gusset_run(leg, beyond) / 2
    along = np.linspace(-half, half, nails // 2)
    places = np.array([(a, b) for a in along for b in (-width / 4, width / 4)])
    return np.asarray(places[:, ::-1] if upright else places)


def throat(leg: ArrayLike) -> Array:
    """Length of the section from the corner to the middle of the long edge (m): h = a/√2."""
    return np.asarray(np.asarray(leg, float) / math.sqrt(2))


def throat_actions(
    H: ArrayLike, V: ArrayLike, M: ArrayLike, leg: ArrayLike, centre: ArrayLike
) -> tuple[Array, Array, Array]:
    """Push N and shear S (N) across the throat, and the moment M_t (N·m) in it, by what the post's nails give the plate.

    H toward the beam and V upward (N), M counter-clockwise where the beam lies to the right (N·m), at the middle of the
    nails on the post, c below the corner; a leg (m). The throat runs along (1, −1)/√2: N = (H + V)/√2, S = (H − V)/√2; its
    middle lies a/4 beside and below the corner: M_t = M + (c − a/4) H − a/4 V. Equilibrium.
    """
    H, V, M, a, c = (np.asarray(item, float) for item in (H, V, M, leg, centre))
    return (H + V) / math.sqrt(2), (H - V) / math.sqrt(2), M + (c - a / 4) * H - a / 4 * V


def throat_stress(N: ArrayLike, M: ArrayLike, t: ArrayLike, h: ArrayLike) -> Array:
    """Largest stress along the plate's middle (Pa): σ = |N|/(t h) + 6 |M|/(t h²); t thickness, h throat (m). Beam theory."""
    N, M, t, h = (np.asarray(item, float) for item in (N, M, t, h))
    return np.asarray(np.abs(N) / (t * h) + 6 * np.abs(M) / (t * h**2))


def throat_shear(S: ArrayLike, t: ArrayLike, h: ArrayLike) -> Array:
    """Largest shear stress (Pa): τ = 1.5 |S|/(t h). Beam theory."""
    S, t, h = (np.asarray(item, float) for item in (S, t, h))
    return np.asarray(1.5 * np.abs(S) / (t * h))
