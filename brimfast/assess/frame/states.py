"""Which braces pull, which feet stand, which hold by friction? Found for all load cases at once, by trial.

Weight first: braces and panels are fitted to a rack that already stands, so none of the weight goes through
them. Then each case's push on top of its share of the weight: an X or a slender diagonal is there only where it
is pulled, a foot without anchors only where it is pressed, and it holds sideways only up to its friction. Where
no such state balances, the rack slides or tips as a whole: other cases keep its feet from slipping, or hold them down.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from brimfast.assess.frame.model import Frame
from brimfast.assess.frame.solve import Solution, solve

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]
Indices = NDArray[np.int64]
TRIALS = 24
BOLD = 4  # trials in which all feet may change at once
PATIENCE = 5  # trials after which a case that does not balance is given up
NONE = 1e-6  # of the weight: a reaction smaller than this is none
ROUNDING = 1e-9  # of the weight: to this the forces balance; what is smaller is zero
RUNS_AWAY = 0.5  # m: what moves farther has nothing that holds it
ENDLESS = 1e9  # friction of feet that are kept from slipping, as by a rim around them, even when they lift
HALVINGS = 7  # of the push, to find how much of it a rack stands


@dataclass(frozen=True)
class Cases:
    """Load cases: share of the weight, push on every movement, stiffness of every element, what the feet may do."""

    weight: Array  # (C,)
    push: Array  # (6 n, C)
    coefficients: Array  # (e, 8, C)
    friction: Array  # (feet, C)
    kept_down: Flags  # (feet, C) feet that neither lift nor slip

    def pick(self, which: Indices) -> Cases:
        return Cases(
            self.weight[which],
            self.push[:, which],
            self.coefficients[:, :, which],
            self.friction[:, which],
            self.kept_down[:, which],
        )


@dataclass(frozen=True)
class Result:
    """What every case does: totals of weight and push."""

    movements: Array  # (6 n, C) by the push alone
    forces: Array  # (e, 6, C)
    by_weight: Array  # (e, 6) of the whole weight
    stable: Flags  # (C,)
    part: Array  # (C,) share of the push at which the rack still stands
    weight: Array  # (C,) share of the weight
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


def run(frame: Frame, weight: Solution, cases: Cases, lessened: Flags, at_least: float) -> Result:
    """All cases. Those of `lessened` that do not balance are tried again with as much of their push as still does.

    A rack that tips as a whole holds what it holds just before: a greater earthquake asks not less than that. So that it
    does not fall with the vertical part either, at least a share `at_least` of the weight is on it then.
    """
    found = _try(frame, weight, cases)
    which = np.flatnonzero(lessened & ~found.stable)
    part = cases.pick(which)
    part = replace(part, weight=np.maximum(part.weight, at_least))
    low, high = np.zeros(len(which)), np.ones(len(which))
    for _ in range(HALVINGS if len(which) else 0):
        middle = (low + high) / 2
        result = _try(frame, weight, replace(part, push=part.push * middle))
        good = np.flatnonzero(result.stable)
        for name in SOLVED:
            getattr(found, name)[..., which[good]] = getattr(result, name)[..., good]
        found.part[which[good]], found.weight[which[good]] = middle[good], part.weight[good]
        low, high = np.where(result.stable, middle, low), np.where(result.stable, high, middle)
    return found


SOLVED = ("movements", "forces", "stable", "pulls", "stands", "slips", "residual")


class _State:
    """What takes part in each case, and how a solution changes that."""

    def __init__(self, frame: Frame, weight: Solution, cases: Cases) -> None:
        self.frame, self.cases = frame, cases
        self.feet, self.bars = frame.of("foot"), np.flatnonzero(frame.one_way)
        self.rows = frame.topology.ends[self.feet, 0][:, None] * 6 + np.arange(3)  # (F, 3)
        self.nothing = NONE * max(float(frame.masses.weights.sum()), 1.0)
        self.by_weight = weight.forces[self.feet, :3, 0]  # (F, 3) of the whole weight
        self.sunk = weight.movements[self.rows[:, 2], 0]
        C, F = cases.push.shape[1], len(self.feet)
        self.pulls = np.ones((len(frame.elements), C), dtype=np.bool_)
        self.guided = cases.friction >= ENDLESS  # held sideways, pressed or not
        self.stands, self.sticks = np.ones((F, C), dtype=np.bool_), np.ones((F, C), dtype=np.bool_)
        self.grip = np.zeros((F, 2, C))  # friction on feet that slip

    def coefficients(self, which: Indices) -> Array:
        out = self.cases.coefficients[:, :, which] * self.pulls[:, None, which]
        sideways = ((self.stands & self.sticks) | self.guided)[:, which]
        out[self.feet, 0] *= sideways
        out[self.feet, 1] *= sideways
        out[self.feet, 2] *= self.stands[:, which]
        return out

    def loads(self, which: Indices) -> Array:
        """The push, less what a foot that has let go held of the weight, and the friction on feet that slip."""
        out = self.cases.push[:, which].copy()
        stands, slips = self.stands[:, which], (self.stands & ~self.sticks)[:, which]
        for axis in (0, 1, 2):
            gone = (~stands | slips) & ~self.guided[:, which] if axis < 2 else ~stands
            out[self.rows[:, axis]] -= np.where(gone, self.by_weight[:, axis, None] * self.cases.weight[which], 0.0)
            if axis < 2:
                out[self.rows[:, axis]] += np.where(slips, self.grip[:, axis, which], 0.0)
        return out

    def follow(self, which: Indices, movements: Array, forces: Array, bold: bool) -> Flags:
        """Takes over what a solution asks for; True where a case asks for no change.

        Braces first; then the feet that pull or sink; when all of them are at rest, those that slip. bold: all that ask
        at once, else only the one that asks most, so that feet do not flutter.
        """
        stands, sticks, grip = self.stands[:, which], self.sticks[:, which], self.grip[:, :, which]
        pulls: Flags = self.pulls[np.ix_(self.bars, which)]
        share = self.cases.weight[which]
        friction, kept = self.cases.friction[:, which], self.cases.kept_down[:, which]
        R = self.by_weight[:, :, None] * share + forces[self.feet, :3]  # (F, 3, C)
        now_pulls = _stretch(self.frame, self.bars, movements) > 0
        rest = (pulls == now_pulls).all(axis=0)
        sinks = -(share * self.sunk[:, None] + movements[self.rows[:, 2]]) * self.frame.coefficients[self.feet, 2, None]
        turn = np.where(stands, -R[:, 2], sinks)  # (N): how strongly it asks to lift, or to stand again
        turns = _asking(np.where(kept, 0.0, turn), self.nothing, bold) & rest
        now_stands = stands ^ turns
        rest &= ~turns.any(axis=0)
        N, H = np.maximum(R[:, 2], 0.0), np.hypot(R[:, 0], R[:, 1])
        excess = np.where(now_stands & sticks & ~kept & ~self.guided[:, which], H - friction * N, 0.0)
        over = _asking(excess, self.nothing, bold) & rest
        now_sticks = (sticks & ~over) | ~now_stands
        before = np.hypot(grip[:, 0], grip[:, 1])
        way = np.where(
            over[:, None],
            R[:, :2] / np.where(H > 0, H, 1.0)[:, None],
            grip / np.where(before > 0, before, 1.0)[:, None],
        )
        now_grip = way * np.where(now_stands & ~now_sticks, friction * N, 0.0)[:, None]
        rest &= ~over.any(axis=0)
        rest &= np.abs(now_grip - grip).max(axis=(0, 1), initial=0.0) <= self.nothing
        self.stands[:, which], self.sticks[:, which], self.grip[:, :, which] = now_stands, now_sticks, now_grip
        self.pulls[np.ix_(self.bars, which)] = now_pulls
        return np.asarray(rest)


def _asking(values: Array, least: float, all_of_them: bool) -> Flags:
    """Values (rows, C) over the least: all of them, or only the largest of each column."""
    if all_of_them:
        return np.asarray(values > least)
    out = np.zeros(values.shape, dtype=np.bool_)
    if len(values):
        rows = np.argmax(values, axis=0)
        columns = np.arange(values.shape[1])
        out[rows, columns] = values[rows, columns] > least
    return out


def _try(frame: Frame, weight: Solution, cases: Cases) -> Result:
    C = cases.push.shape[1]
    state = _State(frame, weight, cases)
    movements, forces = np.zeros((len(frame.weight), C)), np.zeros((len(frame.elements), 6, C))
    residual, balanced, settled = np.zeros(C), np.zeros(C, dtype=np.bool_), np.zeros(C, dtype=np.bool_)
    applied = np.zeros_like(state.grip)
    which = np.arange(C)
    for trial in range(TRIALS):
        solution = solve(frame.topology, state.coefficients(which), state.loads(which))
        movements[:, which], forces[:, :, which] = solution.movements, solution.forces
        residual[which], balanced[which] = solution.residual, solution.stable
        applied[:, :, which] = state.grip[:, :, which]
        settled[which] = state.follow(which, solution.movements, solution.forces, trial < BOLD)
        given_up = ~balanced & (trial >= PATIENCE)
        which = np.flatnonzero(~settled & ~given_up)
        if not len(which):
            break
    by_weight = weight.forces[:, :, 0]
    total = by_weight[:, :, None] * cases.weight + forces
    total[state.feet, 2] *= state.stands
    total[state.feet, :2] *= (state.stands | state.guided)[:, None]
    slips = state.stands & ~state.sticks
    total[state.feet, :2] = np.where(slips[:, None], applied, total[state.feet, :2])
    total[np.abs(total) < ROUNDING * frame.masses.weights.sum()] = 0.0
    within = np.abs(movements[_translations(frame)]).max(axis=0) < RUNS_AWAY
    return Result(
        movements,
        total,
        by_weight,
        balanced & settled & within,
        np.ones(C),
        cases.weight.copy(),
        state.pulls,
        state.stands,
        slips,
        residual,
    )


def _translations(frame: Frame) -> NDArray[np.int64]:
    return (np.arange(len(frame.topology.points))[:, None] * 6 + np.arange(3)).ravel()


def _stretch(frame: Frame, which: NDArray[np.int64], movements: Array) -> Array:
    """Lengthening (m) of bars, whether they take part or not: (bars, C)."""
    A = frame.topology.compatibility[which, 0]
    return np.asarray(np.einsum("ei,eic->ec", A, movements[frame.topology.movements[which]]))
