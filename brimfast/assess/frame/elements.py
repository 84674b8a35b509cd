"""What does one member of a frame do: which movements of its ends strain it, and how stiff is it against them?

Every element has six basic strains, in this order: stretch (m), twist (rad), and its end rotations (rad) from
the chord about the local y axis (ends i, j) and about the local z axis (ends i, j). A link between two points
in one place has six relative movements instead, along and about the global axes.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]
COEFFICIENTS = 8
# Which pair of basic strains each coefficient couples: stretch, twist, y: ii, ij, jj, z: ii, ij, jj.
PAIRS = ((0, 0), (1, 1), (2, 2), (2, 3), (3, 3), (4, 4), (4, 5), (5, 5))


def fixity(k: ArrayLike, EI: ArrayLike, L: ArrayLike) -> Array:
    """Fixity factor of a semi-rigid end: r = 1/(1 + 3 EI/(k L)); 0 hinged (k = 0), 1 rigid (k = ∞).

    k rotational spring (N·m/rad), EI (N·m²), L (m). Source: Monforton and Wu, 1963.
    """
    k, EI, L = (np.asarray(item, float) for item in (k, EI, L))
    with np.errstate(invalid="ignore"):
        r = k * L / (k * L + 3 * EI)
    return np.where(np.isinf(k), 1.0, r)


def bending(EI: ArrayLike, L: ArrayLike, k_i: ArrayLike, k_j: ArrayLike) -> tuple[Array, Array, Array]:
    """Moment at either end per rotation from the chord (N·m/rad): s_ii, s_ij, s_jj of a beam with end springs.

    s_ii = 12 r_i/(4 − r_i r_j) EI/L, s_ij = 6 r_i r_j/(4 − r_i r_j) EI/L, r the fixity factors: 4, 2, 4 EI/L
    where both are rigid, 3 EI/L where the far end is hinged. No shear deformation. Source: Monforton and Wu, 1963.
    """
    r_i, r_j = fixity(k_i, EI, L), fixity(k_j, EI, L)
    unit = np.asarray(EI, float) / np.asarray(L, float) / (4 - r_i * r_j)
    return 12 * r_i * unit, 6 * r_i * r_j * unit, 12 * r_j * unit


def member_coefficients(
    EA: ArrayLike,
    GJ: ArrayLike,
    EI_y: ArrayLike,
    EI_z: ArrayLike,
    L: ArrayLike,
    k_y: tuple[ArrayLike, ArrayLike] = (np.inf, np.inf),
    k_z: tuple[ArrayLike, ArrayLike] = (np.inf, np.inf),
) -> Array:
    """The eight coefficients of members: shape (members, 8, variants), or (members, 8) for scalars per member.

    EA (N), GJ, EI_y, EI_z (N·m²), L (m), k_y and k_z: springs (N·m/rad) at ends i and j about the local axes.
    """
    L = np.asarray(L, float)
    stretch, twist = np.asarray(EA, float) / L, np.asarray(GJ, float) / L
    parts = (stretch, twist, *bending(EI_y, L, *k_y), *bending(EI_z, L, *k_z))
    return np.stack(np.broadcast_arrays(*parts), axis=1)


def local_axes(start: ArrayLike, end: ArrayLike, up: ArrayLike) -> tuple[Array, Array]:
    """Length (m) and the local axes as rows: x from start to end, z in the plane of x and `up`, y = z × x."""
    along = np.asarray(end, float) - np.asarray(start, float)
    L = float(np.linalg.norm(along))
    x = along / L
    z = np.asarray(up, float) - x * float(np.dot(up, x))
    z = z / np.linalg.norm(z)
    return np.asarray(L), np.array([x, _cross(z, x), z])


def _cross(a: Array, b: Array) -> Array:
    """a × b of two single vectors: numpy's own takes many times as long for so few."""
    (a0, a1, a2), (b0, b1, b2) = a.tolist(), b.tolist()
    return np.array([a1 * b2 - a2 * b1, a2 * b0 - a0 * b2, a0 * b1 - a1 * b0])


def member_compatibility(L: float, axes: Array) -> Array:
    """Basic strains per global end movement, 6 × 12: d = A u, u = (u_i, θ_i, u_j, θ_j)."""
    x, y, z = axes
    A = np.zeros((6, 12))
    A[0, 0:3], A[0, 6:9] = -x, x
    A[1, 3:6], A[1, 9:12] = -x, x
    for row, end in ((2, 3), (3, 9)):  # about y: the chord turns by −Δw/L
        A[row, end : end + 3] = y
        A[row, 0:3], A[row, 6:9] = -z / L, z / L
    for row, end in ((4, 3), (5, 9)):  # about z: the chord turns by Δv/L
        A[row, end : end + 3] = z
        A[row, 0:3], A[row, 6:9] = y / L, -y / L
    return A


def link_compatibility() -> Array:
    """Relative movements of j against i, global axes; a link to the ground has only an end i."""
    A = np.zeros((6, 12))
    A[:, 0:6], A[:, 6:12] = -np.eye(6), np.eye(6)
    return A


def link_coefficients(stiffness: ArrayLike) -> Array:
    """Coefficients of links from six stiffnesses each, along and about the global axes: (..., 6) to (..., 8)."""
    k = np.asarray(stiffness, float)
    out = np.zeros((*k.shape[:-1], COEFFICIENTS))
    out[..., (0, 1, 2, 4, 5, 7)] = k
    return out


def basis(compatibility: Array) -> Array:
    """Element stiffness per unit of each coefficient, global: (elements, 8, 12, 12), K = Σ c_k B_k."""
    return np.stack(
        [
            np.einsum("ei,ej->eij", compatibility[:, a], compatibility[:, b])
            + (np.einsum("ei,ej->eij", compatibility[:, b], compatibility[:, a]) if a != b else 0.0)
            for a, b in PAIRS
        ],
        axis=1,
    )


def basic_forces(coefficients: Array, strains: Array) -> Array:
    """Normal force, torque and end moments from basic strains: both (elements, 6 or 8, variants)."""
    c, d = coefficients, strains
    out = c[:, (0, 1, 2, 4, 5, 7)] * d
    out[:, 2:] += c[:, (3, 3, 6, 6)] * d[:, (3, 2, 5, 4)]
    return np.asarray(out)
