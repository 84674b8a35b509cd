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
CLOSES = 1e-9  # residual over load that is worked for
BALANCES = 1e-7  # and that is taken: beside decimetres rounding leaves 1e-8; a mechanism more, or it moves by metres
SOFTEST, SOFT = 1e-16, 1e-12  # of the stiffest movement of their kind
TINY = 1e-30
MENDS = 3
FEW = 8  # variants up to which calls cost more than work
CHUNK = 128
CACHED = 500  # blocks that the processor has at hand
SWEPT = 200  # matrices from which one elimination over all of them at once is the faster way to their roots
ABOVE = np.triu_indices(6, 1)
# The C library gives freed memory back to the system page by page until so much has been freed at once.
np.empty(31 << 17)


@dataclass(frozen=True)
class Factors:
    """The eliminated system."""

    rounds: list[tuple[Round, Array, Array]]  # of the points' own blocks the roots R, of each coupling C of theirs Rᵀ C
    last: Array  # (V, 6 t, 6 t): what is left of the tail


@dataclass(frozen=True)
class Solution:
    movements: Array  # (6 n, V): u and θ of each point
    forces: Array  # (e, 6, V) basic forces
    residual: Array  # (V,) largest unbalanced force over the largest load
    stable: NDArray[np.bool_]  # (V,)


def assemble(plan: Plan, coefficients: Array, soft: float) -> Array:
    """All blocks of K: (blocks, V, 6, 6)."""
    each = np.ascontiguousarray(coefficients.swapaxes(1, 2))
    n, V = len(plan.order), each.shape[1]
    store = np.empty((plan.size, V, 36))
    store[plan.parts.targets] = plan.parts.of(each.take(plan.element, axis=0) @ plan.basis)
    store[plan.empty] = 0.0
    # Shifts and turns are of unlike units: each kind has its own soft spring.
    springs = soft * np.array([(coefficients * weight).max(axis=(0, 1), initial=TINY) for weight in plan.weights])
    diagonal = store[:n, :, ::7].reshape(n, V, 2, 3)
    diagonal += plan.held + springs.T[..., None]
    return store.reshape(plan.size, V, 6, 6)


def root(A: Array) -> Array:
    """R of A⁻¹ = R Rᵀ, upper triangular, of symmetric positive definite matrices (..., 6, 6); NaN where one is not.

    A⁻¹ itself would blur what is stiff where something else is all but loose; R does not.
    """
    N = A[..., 0, 0].size
    if N < SWEPT:
        try:
            return np.asarray(np.linalg.inv(np.linalg.cholesky(A).swapaxes(-1, -2)), dtype=np.float64)
        except np.linalg.LinAlgError:  # the steps below leave the others alone
            pass
    W = np.ascontiguousarray(A.reshape(N, 36).T).reshape(6, 6, N)
    pivots = np.empty((6, 1, N))
    for k in range(6):  # Gauss on all of them at once; below the diagonal grows what was done to the rows
        pivots[k] = W[k, k]
        share = W[k + 1 :, k] / W[k, k]
        W[k, k], W[k + 1 :, k] = 1.0, 0.0
        W[k + 1 :] -= share[:, None] * W[k]
    W /= np.sqrt(pivots)
    W[ABOVE] = 0.0
    return np.ascontiguousarray(W.T).reshape(A.shape)


def factorise(rounds: tuple[Round, ...], tail: Tail, store: Array) -> Factors:
    """Eliminates round by round; works in the store."""
    each_round, V, t = [], store.shape[1], tail.points
    for each in rounds:
        R = root(store[each.own])
        W = R.take(each.point, axis=0).swapaxes(2, 3) @ store[each.blocks]
        if V < FEW:
            product = W.take(each.left, axis=0).swapaxes(2, 3) @ W.take(each.right, axis=0)
            store[each.onto.targets] -= each.onto.of(product)
        else:
            for which, targets in each.onto.pieces(max(1, CACHED // V)):
                left, right = W.take(each.left[which], axis=0), W.take(each.right[which], axis=0)
                store[targets] -= left.swapaxes(2, 3) @ right
        each_round.append((each, R, W))
    last, blocks = np.zeros((V, t, 6, t, 6)), store.take(tail.blocks, axis=0)
    last[:, tail.row, :, tail.column] = blocks
    last[:, tail.column, :, tail.row] = blocks.swapaxes(2, 3)
    return Factors(each_round, last.reshape(V, 6 * t, 6 * t))


def substitute(plan: Plan, factors: Factors, loads: Array) -> Array:
    """Movements (6 n, V) under loads (6 n, V)."""
    n, V, t = len(plan.order), loads.shape[1], factors.last.shape[1] // 6
    x = np.ascontiguousarray(loads.reshape(n, 6, V).take(plan.order, axis=0).swapaxes(1, 2)).reshape(n, V, 1, 6)
    for each, R, W in factors.rounds:
        x[each.own] = own = x[each.own] @ R
        moved = own.take(each.point, axis=0) @ W
        x[each.loads.targets] -= each.loads.of(moved.take(each.loads.order, axis=0))
    x = x.reshape(n, V, 6, 1)
    if t:
        left = x[n - t :, :, :, 0].swapaxes(0, 1).reshape(V, 6 * t, 1)
        x[n - t :, :, :, 0] = np.linalg.solve(factors.last, left).reshape(V, t, 6).swapaxes(0, 1)
    for each, R, W in reversed(factors.rounds):
        own = x[each.own]
        own[: len(each.back.targets)] -= each.back.of(W @ x.take(each.near, axis=0))
        x[each.own] = R @ own
    out = np.empty((n, 6, V))
    out[plan.order] = x[..., 0].swapaxes(1, 2)
    return out.reshape(6 * n, V)


def strains(frame: Topology, movements: Array) -> Array:
    """Basic strains (e, 6, V) of every element."""
    n, V = len(frame.points), movements.shape[1]
    padded = np.zeros((n + 1, 6, V))  # the last one is the ground
    padded[:-1] = movements.reshape(n, 6, V)
    return np.asarray(frame.compatibility @ padded[frame.ends].reshape(len(frame.ends), 12, V))


def resultants(frame: Topology, forces: Array) -> Array:
    """What the elements' forces add up to at every movement (6 n, V)."""
    plan, n, V = frame.plan, len(frame.points), forces.shape[2]
    ends = (plan.turned @ forces).reshape(2 * len(frame.ends), 6, V)
    out = np.zeros((n, 6, V))
    out[plan.forces.targets] = plan.forces.of(ends.take(plan.ends, axis=0))
    return out.reshape(6 * n, V)


def _different(coefficients: Array) -> tuple[list[int] | None, list[int]]:
    """The first of every kind of variant, and of which kind each is; None where all differ: loads alone need no other factors."""
    V = coefficients.shape[2]
    if V < 2:
        return None, []
    kinds: dict[bytes, int] = {}
    columns = np.ascontiguousarray(coefficients.reshape(-1, V).T)
    of = [kinds.setdefault(columns[variant].tobytes(), len(kinds)) for variant in range(V)]
    return (None, of) if len(kinds) == V else ([of.index(kind) for kind in range(len(kinds))], of)


def _shared(factors: Factors, of: list[int]) -> Factors:
    return Factors([(each, R[:, of], W[:, of]) for each, R, W in factors.rounds], factors.last[of])


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
    before = np.full(len(scale), np.inf)
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):  # of a mechanism; NaN is not stable
        own, of = _different(coefficients)
        factors = factorise(
            rounds, tail, assemble(plan, coefficients if own is None else coefficients[:, :, own], soft)
        )
        if own is not None:
            factors = _shared(factors, of)
        movements = substitute(plan, factors, wanted)
        for mend in range(mends + 1):
            forces = elements.basic_forces(coefficients, strains(frame, movements))
            unbalanced = (wanted - resultants(frame, forces)) * plan.free
            residual = np.abs(unbalanced).max(axis=0) / scale
            if mend == mends or not ((residual > CLOSES / 10) & (residual < before / 2)).any():
                break  # all close, or no mending brings them nearer
            before, movements = residual, movements + substitute(plan, factors, unbalanced)
    return Solution(movements, forces, residual, residual <= BALANCES)


def solve(frame: Topology, coefficients: Array, loads: Array) -> Solution:
    """Movements and forces of every variant; unstable where the forces do not balance the loads to 1e-7.

    One variant of coefficients serves all loads.
    """
    try:
        out = _attempt(frame, coefficients, loads, SOFTEST, 12 if loads.shape[1] < FEW else 4, 0)
    except np.linalg.LinAlgError:
        return _attempt(frame, coefficients, loads, SOFT, 0, MENDS)
    poor = ~(out.residual <= CLOSES)
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
