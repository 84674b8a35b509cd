"""How does a frame move under its loads, and what does each element carry? Many variants at once.

Direct stiffness: K u = f, K = Σ Aᵀ s A. Arrays carry the variants last: coefficients (elements, 8, variants), loads
and movements (6 n, variants). A very soft spring on every movement keeps a mechanism solvable; the movements are
then mended until the elements' own forces balance the loads. Where they cannot, the frame is a mechanism.
"""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from brimfast.assess.frame import elements
from brimfast.assess.frame.topology import Plan, Topology

Array = NDArray[np.float64]
CLOSES = 1e-9  # residual over load
SOFT = 1e-12  # of the stiffest movement
MENDS = 4
CHUNK = 64


@dataclass(frozen=True)
class Factors:
    """The eliminated system: inverses of the blocks and what couples them."""

    rounds: tuple[tuple[Array, Array], ...]  # B⁻¹ (V, G, m, m) and C B⁻¹ (V, G, b, m) of each round
    levels: Array  # (V, L, p, p) inverses
    onward: Array  # (V, L, p, p): D⁻¹ U


@dataclass(frozen=True)
class Solution:
    movements: Array  # (6 n, V): u and θ of each point
    forces: Array  # (e, 6, V) basic forces
    residual: Array  # (V,) largest unbalanced force over the largest load
    stable: NDArray[np.bool_]  # (V,)


def assemble(plan: Plan, coefficients: Array) -> Array:
    """All blocks of K in one row a variant: (V, size)."""
    V = coefficients.shape[2]
    terms = coefficients.reshape(-1, V)[plan.factors]
    terms *= plan.weights
    values = plan.terms.of(terms)
    store = np.zeros((V, plan.size))
    store[:, plan.terms.places] = values.T
    store[:, plan.loose] += SOFT * values.max(axis=0)[:, None]
    store[:, plan.ones] = 1.0
    return store


def inverse(A: Array) -> Array:
    """Inverses of symmetric positive definite matrices (..., n, n), by halves: small blocks cost least."""
    n = A.shape[-1]
    if n <= 20:
        return np.linalg.inv(A)
    h = n // 2
    P = inverse(A[..., :h, :h])
    B = A[..., :h, h:]
    PB = P @ B
    BT = np.swapaxes(PB, -1, -2)
    S = inverse(A[..., h:, h:] - np.swapaxes(B, -1, -2) @ PB)
    out = np.empty_like(A)
    SBT = S @ BT
    out[..., :h, :h] = P + np.swapaxes(SBT, -1, -2) @ BT
    out[..., h:, :h] = -SBT
    out[..., :h, h:] = -np.swapaxes(SBT, -1, -2)
    out[..., h:, h:] = S
    return out


def factorise(plan: Plan, store: Array) -> Factors:
    """Condenses round by round, then eliminates level by level. Works in the store."""
    V, L, p = store.shape[0], plan.L, plan.p
    rounds = []
    for each in plan.rounds:
        G, m, b = each.G, each.m, each.b
        between = each.at + G * m * m
        B = inverse(store[:, each.at : between].reshape(V, G, m, m))
        C = store[:, between : between + G * b * m].reshape(V, G, b, m)
        CB = C @ B
        condensed = (CB @ np.swapaxes(C, -1, -2)).reshape(V, -1)
        sums = each.condensed
        store[:, sums.places] -= sums.along(condensed)
        rounds.append((B, CB))
    D = store[:, plan.at : plan.at + L * p * p].reshape(V, L, p, p)
    U = store[:, plan.at + L * p * p :].reshape(V, L, p, p)
    levels, onward = np.empty((V, L, p, p)), np.empty((V, L, p, p))
    for level in range(L):
        block = D[:, level]
        if level:
            block = block - np.swapaxes(U[:, level - 1], -1, -2) @ onward[:, level - 1]
        levels[:, level] = inverse(block)
        if level < L - 1:
            onward[:, level] = levels[:, level] @ U[:, level]
    return Factors(tuple(rounds), levels, onward)


def substitute(plan: Plan, factors: Factors, loads: Array) -> Array:
    """Movements (6 n, V) under loads (6 n, V)."""
    V, L, p = loads.shape[1], plan.L, plan.p
    x = np.zeros((V, loads.shape[0] + 1))  # the last one is the ground
    x[:, :-1] = loads.T
    own = []
    for each, (B, CB) in zip(plan.rounds, factors.rounds, strict=True):
        f = x[:, each.inner].reshape(V, each.G, each.m, 1)
        moved = (CB @ f).reshape(V, -1)
        x[:, each.onto.places] -= each.onto.along(moved)
        own.append(B @ f)
    y = x[:, plan.outer].reshape(V, L, p, 1)
    for level in range(1, L):
        y[:, level] -= np.swapaxes(factors.onward[:, level - 1], -1, -2) @ y[:, level - 1]
    z = factors.levels @ y
    for level in range(L - 2, -1, -1):
        z[:, level] -= factors.onward[:, level] @ z[:, level + 1]
    x[:, plan.outer] = z.reshape(V, -1)
    x[:, -1] = 0.0
    for each, (_, CB), f in zip(reversed(plan.rounds), reversed(factors.rounds), reversed(own), strict=True):
        near = x[:, each.near].reshape(V, each.G, each.b, 1)
        x[:, each.inner] = (f - np.swapaxes(CB, -1, -2) @ near).reshape(V, -1)
        x[:, -1] = 0.0
    return x[:, :-1].T


def strains(frame: Topology, movements: Array) -> Array:
    """Basic strains (e, 6, V) of every element."""
    padded = np.concatenate([movements, np.zeros((1, movements.shape[1]))])
    return np.asarray(frame.compatibility @ padded[frame.movements])


def resultants(frame: Topology, forces: Array) -> Array:
    """What the elements' forces add up to at every movement (6 n, V)."""
    ends = np.swapaxes(frame.compatibility, 1, 2) @ forces
    out = np.zeros((frame.points.shape[0] * 6 + 1, forces.shape[2]))
    out[frame.plan.ends.places] = frame.plan.ends.of(ends.reshape(-1, forces.shape[2]))
    return out[:-1]


def solve(frame: Topology, coefficients: Array, loads: Array) -> Solution:
    """Movements and forces of every variant; unstable where the forces do not balance the loads to 1e-9."""
    plan = frame.plan
    factors = factorise(plan, assemble(plan, coefficients))
    free = plan.free[:, None]
    wanted = np.where(free, loads, 0.0)
    scale = np.abs(wanted).max(axis=0)
    scale[scale == 0] = 1.0
    movements = substitute(plan, factors, wanted)
    for attempt in range(MENDS):
        forces = elements.basic_forces(coefficients, strains(frame, movements))
        unbalanced = np.where(free, wanted - resultants(frame, forces), 0.0)
        residual = np.abs(unbalanced).max(axis=0) / scale
        if attempt == MENDS - 1 or not (residual > CLOSES / 10).any():
            break
        movements = movements + substitute(plan, factors, unbalanced)
    return Solution(movements, forces, residual, residual <= CLOSES)


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
