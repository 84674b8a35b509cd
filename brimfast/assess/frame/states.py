"""Which braces pull, which feet stand, which hold by friction? Found for all load cases at once, by trial.

Weight first: braces and panels are fitted to a rack that already stands, so none of the weight goes through
them. Then each case's push on top of its share of the weight: an X or a slender diagonal is there only where it
is pulled, a foot without anchors only where it is pressed, and it holds sideways only up to its friction. Where
no such state balances, the feet are held as if anchored, and the case says so.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from brimfast.assess.frame.build import Frame
from brimfast.assess.frame.solve import Solution, solve

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]
TRIALS = 16
PATIENCE = 3  # trials after which a case that does not balance is given up
GOOD = 1e-6  # of the weight: a reaction smaller than this is none


@dataclass(frozen=True)
class Cases:
    """Load cases: share of the weight, and the push on every movement (6 n, C)."""

    weight: Array  # (C,)
    push: Array
    without: Flags  # (e, C) elements that a case leaves out


@dataclass(frozen=True)
class Result:
    """What every case does: totals of weight and push."""

    movements: Array  # (6 n, C) by the push alone
    forces: Array  # (e, 6, C)
    by_weight: Array  # (e, 6) of the whole weight
    stable: Flags  # (C,)
    held: Flags  # (C,) feet were held down or in place, since the case does not balance otherwise
    pulls: Flags  # (e, C) elements that take part
    stands: Flags  # (feet, C)
    slips: Flags  # (feet, C)
    residual: Array  # (C,)


def weight_alone(frame: Frame) -> Solution:
    """Under its weight; braces and panels only where it does not stand without them."""
    for left_out in (frame.of("brace", "panel"), np.array([], dtype=np.int64)):
        coefficients = frame.coefficients.copy()
        coefficients[left_out] = 0.0
        solution = solve(frame.topology, coefficients[:, :, None], frame.weight[:, None])
        if solution.stable.all():
            break
    return solution


def run(frame: Frame, weight: Solution, cases: Cases, friction: Array | None, anchored: Flags) -> Result:
    """All cases. friction of each foot (None: feet are held); anchored feet neither lift nor slip."""
    C = cases.push.shape[1]
    if friction is not None and not anchored.all():
        free = _try(frame, weight, cases, friction, anchored, np.arange(C))
    else:
        free = _try(frame, weight, cases, None, np.ones_like(anchored), np.arange(C))
        return free
    again = np.flatnonzero(~free.stable)
    if not len(again):
        return free
    part = Cases(cases.weight[again], cases.push[:, again], cases.without[:, again])
    held = _try(frame, weight, part, None, np.ones_like(anchored), again)
    names = ("movements", "forces", "stable", "pulls", "stands", "slips", "residual")
    merged = {name: np.array(getattr(free, name)) for name in names}
    for name in names:
        merged[name][..., again] = getattr(held, name)
    is_held = np.zeros(C, dtype=np.bool_)
    is_held[again] = True
    return Result(by_weight=free.by_weight, held=is_held, **merged)


def _try(
    frame: Frame, weight: Solution, cases: Cases, friction: Array | None, anchored: Flags, numbers: NDArray[np.int64]
) -> Result:
    C = len(numbers)
    feet, one_way = frame.of("foot"), np.flatnonzero(frame.one_way)
    foot_points = frame.topology.ends[feet, 0]
    rows = foot_points[:, None] * 6 + np.arange(3)  # (F, 3)
    W = max(float(-frame.weight[2::6].sum()), 1.0)
    by_weight = weight.forces[:, :, 0]
    R_weight = by_weight[feet, :3]  # (F, 3) of the whole weight
    u_weight = weight.movements[rows, 0]
    pulls = np.ones((len(frame.elements), C), dtype=np.bool_)
    stands, sticks = np.ones((len(feet), C), dtype=np.bool_), np.ones((len(feet), C), dtype=np.bool_)
    grip = np.zeros((len(feet), 2, C))  # friction on slipping feet
    flips = np.zeros((len(feet) + len(one_way), C), dtype=np.int64)
    settled = np.zeros(C, dtype=np.bool_)
    for trial in range(TRIALS):
        coefficients = np.repeat(frame.coefficients[:, :, None], C, axis=2)
        coefficients *= (pulls & ~cases.without)[:, None, :]
        coefficients[feet, 0] *= stands & sticks
        coefficients[feet, 1] *= stands & sticks
        coefficients[feet, 2] *= stands
        load = cases.push.copy()
        share = cases.weight[None, :]
        slipping = stands & ~sticks
        for axis in (0, 1, 2):
            gone = ~stands | (slipping if axis < 2 else False)
            change = np.where(gone, -R_weight[:, axis, None] * share, 0.0)
            if axis < 2:
                change = change + np.where(slipping, grip[:, axis], 0.0)
            np.add.at(load, rows[:, axis], change)
        solution = solve(frame.topology, coefficients, load)
        R = R_weight[:, :, None] * share[None] + solution.forces[feet, :3]  # (F, 3, C)
        before = (pulls[one_way].copy(), stands.copy(), sticks.copy())
        stretch = _stretch(frame, one_way, solution.movements)
        pulls[one_way] = stretch > 0
        if friction is not None:
            down = share * u_weight[:, 2, None] + solution.movements[rows[:, 2]] < 0
            lifted = stands & (R[:, 2] < -GOOD * W)
            stands = np.where(anchored[:, None], True, np.where(stands, ~lifted, down))
            N = np.maximum(R[:, 2], 0.0)
            H = np.hypot(R[:, 0], R[:, 1])
            over = stands & sticks & (friction[:, None] * N + GOOD * W < H) & ~anchored[:, None]
            size = np.where(H > 0, H, 1.0)
            way = R[:, :2] / size[:, None]
            fresh = np.where(over[:, None], way, 0.0)
            sticks &= ~over
            held = np.hypot(grip[:, 0], grip[:, 1])
            direction = np.where(over[:, None], fresh, grip / np.where(held > 0, held, 1.0)[:, None])
            wanted = np.where(stands & ~sticks, friction[:, None] * N, 0.0)
            new_grip = direction * wanted[:, None]
            moved = np.abs(new_grip - grip).max(axis=(0, 1), initial=0.0) > GOOD * W
            grip = new_grip
        else:
            moved = np.zeros(C, dtype=np.bool_)
        now = (pulls[one_way], stands, sticks)
        same = [np.all(a == b, axis=0) for a, b in zip(before, now, strict=True)]
        settled = same[0] & same[1] & same[2] & ~moved
        if (settled | (~solution.stable & (trial >= PATIENCE))).all():
            break
        changed = np.concatenate([before[1] != stands, before[0] != pulls[one_way]])
        flips += changed
        # what flutters stays where resistance is least: a foot up, a brace out
        stands &= ~((flips[: len(feet)] > 6) & ~anchored[:, None])
        pulls[one_way] &= ~(flips[len(feet) :] > 6)
    forces = by_weight[:, :, None] * cases.weight + solution.forces
    stable = solution.stable & settled & (np.abs(solution.movements[_translations(frame)]).max(axis=0) < 10.0)
    held_none = np.zeros(C, dtype=np.bool_)
    return Result(
        solution.movements, forces, by_weight, stable, held_none, pulls, stands, stands & ~sticks, solution.residual
    )


def _translations(frame: Frame) -> NDArray[np.int64]:
    return (np.arange(len(frame.topology.points))[:, None] * 6 + np.arange(3)).ravel()


def _stretch(frame: Frame, which: NDArray[np.int64], movements: Array) -> Array:
    """Lengthening (m) of bars, whether they take part or not: (bars, C)."""
    A = frame.topology.compatibility[which, 0]
    return np.asarray(np.einsum("ei,eic->ec", A, movements[frame.topology.movements[which]]))
