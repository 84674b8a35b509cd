"""How does a frame move under its loads, and what does each element carry? Many variants at once.

Direct stiffness: K u = f, K = Σ Aᵀ s A. Arrays carry the variants last: coefficients (elements, 8, variants), loads
and movements (6 n, variants). A very soft spring on every movement keeps a mechanism solvable. The elements' own
forces are then held against the loads: where they do not balance, the springs are made firmer and the movements mended
until they do. Where they cannot, the frame is a mechanism.
"""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from brimfast.assess.frame import elements
from brimfast.assess.frame.topology import Plan, Round, Tail, Topology

Array = NDArray[np.float64]
CLOSES = 1e-9  # residual over load
SOFTEST, SOFT = 1e-16, 1e-12  # of the stiffest movement
TINY = 1e-30
MENDS = 3
FEW = 8  # variants up to which calls cost more than work
CHUNK = 96
SWEPT = 200  # matrices from which sweeps are the faster way to invert them
ROW, COLUMN = np.tril_indices(6)
LINE = np.empty((6, 6), dtype=np.int64)  # where the lower half of a symmetric matrix has each of its entries
LINE[ROW, COLUMN] = LINE[COLUMN, ROW] = np.arange(21)
# The C library gives freed memory back to the system page by page until so much has been freed at once.
np.empty(31 << 17)


@dataclass(frozen=True)
class Solution:
    movements: Array  # (6 n, V): u and θ of each point
    forces: Array  # (e, 6, V) basic forces
    residual: Array  # (V,) largest unbalanced force over the largest load
    stable: NDArray[np.bool_]  # (V,)


def assemble(plan: Plan, coefficients: Array, soft: float) -> Array:
    """All blocks of K: (blocks, V, 6, 6)."""
    each = np.ascontiguousarray(coefficients.swapaxes(1, 2))
    V = each.shape[1]
    store = np.zeros((plan.size, V, 36))
    store[plan.parts.targets] = plan.parts.of(each.take(plan.element, axis=0) @ plan.basis)
    diagonal = store[: len(plan.order), :, ::7]
    springs = soft * diagonal.max(axis=(0, 2), initial=TINY)
    diagonal += plan.held + springs[:, None]
    return store.reshape(plan.size, V, 6, 6)


def inverse(A: Array) -> Array:
    """Inverses of symmetric positive definite matrices (..., 6, 6): of many by sweeps over all of them at once."""
    N = A[..., 0, 0].size
    if N < SWEPT:
        try:
            return np.asarray(np.linalg.inv(A), dtype=np.float64)
        except np.linalg.LinAlgError:  # one of them is singular: sweeps leave the others alone
            pass
    W = A.reshape(N, 36).T.take(6 * ROW + COLUMN, axis=0)
    for k, line in enumerate(LINE):
        pivots = W.take(line, axis=0)
        scaled = pivots / pivots[k]
        product = pivots.take(ROW, axis=0)
        product *= scaled.take(COLUMN, axis=0)
        W -= product
        W[line] = scaled
        W[line[k]] = -1 / pivots[k]
    return np.negative(W.take(LINE.ravel(), axis=0).T, order="C").reshape(A.shape)


def factorise(rounds: tuple[Round, ...], tail: Tail, store: Array) -> Array:
    """Eliminates round by round, in the store: a point's own block D becomes D⁻¹, each of its couplings C (D⁻¹ C)ᵀ.

    Returns what is left of the tail: (V, 6 t, 6 t).
    """
    for each in rounds:
        D, C = inverse(store[each.own]), store[each.blocks]
        CD = C.swapaxes(2, 3) @ D.take(each.point, axis=0)
        if each.left.size:
            store[each.onto.targets] -= each.onto.of(CD.take(each.left, axis=0) @ C.take(each.right, axis=0))
        store[each.own], store[each.blocks] = D, CD
    V, t = store.shape[1], tail.points
    out, blocks = np.zeros((V, t, 6, t, 6)), store.take(tail.blocks, axis=0)
    out[:, tail.row, :, tail.column] = blocks
    out[:, tail.column, :, tail.row] = blocks.swapaxes(2, 3)
    return out.reshape(V, 6 * t, 6 * t)


def substitute(plan: Plan, rounds: tuple[Round, ...], store: Array, last: Array, loads: Array) -> Array:
    """Movements (6 n, V) under loads (6 n, V)."""
    n, V = len(plan.order), loads.shape[1]
    inner = n - last.shape[1] // 6
    x = loads.reshape(n, 6, V).take(plan.order, axis=0).swapaxes(1, 2)[..., None]
    for each in rounds:
        moved = store[each.blocks] @ x[each.own].take(each.point, axis=0)
        x[each.loads.targets] -= each.loads.of(moved.take(each.loads.order, axis=0))
    if inner < n:
        left = x[inner:, :, :, 0].swapaxes(0, 1).reshape(V, -1, 1)
        x[inner:, :, :, 0] = np.linalg.solve(last, left).reshape(V, -1, 6).swapaxes(0, 1)
    x[:inner] = store[:inner] @ x[:inner]
    x = x.swapaxes(2, 3)
    for each in reversed(rounds):
        moved = x.take(each.near, axis=0) @ store[each.blocks]
        x[each.own][: len(each.back.targets)] -= each.back.of(moved)
    out = np.empty((n, 6, V))
    out[plan.order] = x[:, :, 0].swapaxes(1, 2)
    return out.reshape(-1, V)


def strains(frame: Topology, movements: Array) -> Array:
    """Basic strains (e, 6, V) of every element."""
    V = movements.shape[1]
    padded = np.zeros((frame.points.shape[0] + 1, 6, V))  # the last one is the ground
    padded[:-1] = movements.reshape(-1, 6, V)
    return np.asarray(frame.compatibility @ padded[frame.ends].reshape(-1, 12, V))


def resultants(frame: Topology, forces: Array) -> Array:
    """What the elements' forces add up to at every movement (6 n, V)."""
    plan, V = frame.plan, forces.shape[2]
    ends = (plan.turned @ forces).reshape(-1, 6, V)
    out = np.zeros((len(plan.order), 6, V))
    out[plan.forces.targets] = plan.forces.of(ends.take(plan.ends, axis=0))
    return out.reshape(-1, V)


def _attempt(
    frame: Topology,
    coefficients: Array,
    loads: Array,
    soft: float,
    together: int,
    mends: int,
) -> Solution:
    plan = frame.plan
    wanted = loads * plan.free
    scale = np.abs(wanted).max(axis=0)
    scale[scale == 0] = 1.0
    rounds, tail = plan.cut(together)
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):  # of a mechanism; NaN is not stable
        store = assemble(plan, coefficients, soft)
        last = factorise(rounds, tail, store)
        movements = substitute(plan, rounds, store, last, wanted)
        for mend in range(mends + 1):
            forces = elements.basic_forces(coefficients, strains(frame, movements))
            unbalanced = (wanted - resultants(frame, forces)) * plan.free
            residual = np.abs(unbalanced).max(axis=0) / scale
            if mend == mends or (residual <= CLOSES / 10).all():
                break
            movements = movements + substitute(plan, rounds, store, last, unbalanced)
    return Solution(movements, forces, residual, residual <= CLOSES)


def solve(frame: Topology, coefficients: Array, loads: Array) -> Solution:
    """Movements and forces of every variant; unstable where the forces do not balance the loads to 1e-9.

    One variant of coefficients serves all loads.
    """
    try:
        out = _attempt(frame, coefficients, loads, SOFTEST, 12 if loads.shape[1] < FEW else 4, 0)
    except np.linalg.LinAlgError:
        return _attempt(frame, coefficients, loads, SOFT, 0, MENDS)
    poor = ~out.stable
    if poor.any():
        own = coefficients if coefficients.shape[2] == 1 else coefficients[:, :, poor]
        firm = _attempt(frame, own, loads[:, poor], SOFT, 0, MENDS)
        out.movements[:, poor], out.forces[:, :, poor] = firm.movements, firm.forces
        out.residual[poor], out.stable[poor] = firm.residual, firm.stable
    return out


def solve_many(
    frame: Topology,
    variants: int,
    make: Callable[[slice], tuple[Array, Array]],
    take: Callable[[slice, Solution], object],
    workers: int = 2,
) -> None:
    """Solves any number of variants in chunks that fit the processor's cache.

    make gives coefficients and loads of a slice of variants, take keeps of its solution what is wanted.
    """
    pieces = [slice(first, min(first + CHUNK, variants)) for first in range(0, variants, CHUNK)]

    def one(piece: slice) -> object:
        return take(piece, solve(frame, *make(piece)))

    with ThreadPoolExecutor(workers) as pool:
        for _ in pool.map(one, pieces):
            pass
