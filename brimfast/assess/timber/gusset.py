"""A triangle of plywood over the corner of post and beam: where its nails stand, and what its middle carries."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.shared.constants import INCH

Array = NDArray[np.float64]
END = 1.5 * INCH  # from the end of a leg to its first nails: common practice, no source


def gusset_spacing(leg: float, nails: int) -> float:
    """From nail to nail along a leg (m), which has them in two rows."""
    return (leg - 2 * END) / max(math.ceil(nails / 2) - 1, 1)


def gusset_places(leg: float, nails: int, width: float, *, upright: bool) -> Array:
    """Places (x, y) of the nails of one leg (m) about their middle: two rows half the member's width apart."""
    rows = math.ceil(nails / 2)
    along = np.linspace(-(leg / 2 - END), leg / 2 - END, rows)
    places = np.array([(a, b) for a in along for b in (-width / 4, width / 4)])[:nails]
    places = places - places.mean(axis=0)
    return np.asarray(places[:, ::-1] if upright else places)


def throat(leg: ArrayLike) -> Array:
    """Length of the section from the corner to the middle of the long edge (m): h = a/√2."""
    return np.asarray(np.asarray(leg, float) / math.sqrt(2))


def throat_actions(H: ArrayLike, V: ArrayLike, M: ArrayLike, leg: ArrayLike) -> tuple[Array, Array, Array]:
    """Push N and shear S (N) across the throat, and the moment M_t (N·m) in it, by what the post's nails give the plate.

    H toward the beam and V upward (N), M counter-clockwise where the beam lies to the right (N·m), at the middle of the leg
    on the post, a/2 below the corner; a leg (m). The throat runs along (1, −1)/√2: N = (H + V)/√2, S = (H − V)/√2; its
    middle lies a/4 beside and below the corner: M_t = M + a/4 (H − V). Equilibrium.
    """
    H, V, M, a = (np.asarray(item, float) for item in (H, V, M, leg))
    return (H + V) / math.sqrt(2), (H - V) / math.sqrt(2), M + a / 4 * (H - V)


def throat_stress(N: ArrayLike, M: ArrayLike, t: ArrayLike, h: ArrayLike) -> Array:
    """Largest stress along the plate's middle (Pa): σ = |N|/(t h) + 6 |M|/(t h²); t thickness, h throat (m). Beam theory."""
    N, M, t, h = (np.asarray(item, float) for item in (N, M, t, h))
    return np.asarray(np.abs(N) / (t * h) + 6 * np.abs(M) / (t * h**2))


def throat_shear(S: ArrayLike, t: ArrayLike, h: ArrayLike) -> Array:
    """Largest shear stress (Pa): τ = 1.5 |S|/(t h). Beam theory."""
    S, t, h = (np.asarray(item, float) for item in (S, t, h))
    return np.asarray(1.5 * np.abs(S) / (t * h))
