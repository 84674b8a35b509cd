"""Which braces pull, which feet stand, and what do feet hold that slip? Found for all load cases at once, by trial.

Weight first: braces and panels are fitted to a rack that already stands, so none of the weight goes through
them. Then each case's push on top of its share of the weight: an X or a slender diagonal is there only where it
is pulled, a foot without anchors only where it is pressed. Where one foot would have to hold more than its friction
at its lowest, what feet hold sideways lies between two ends, and each is a case of its own: none slips (as stiff as
it stands), or all of them do, each against the push with its friction and in the measure of its load. Where no such state balances, the rack tips as a whole: other cases hold its feet down.
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
NONE = 1e-6  # of the weight: a force smaller than this is none
ROUNDING = 1e-9  # of the weight: to this the forces balance; what is smaller is zero
RUNS_AWAY = 0.5  # m: what moves farther has nothing that holds it
ENDLESS = 1e9  # friction of feet that are kept from slipping, as by a rim around them, even when they lift
GIVES = (
    0.1  # m: feet that slip give so much under a push as great as their load, beyond friction; a rack bends far less
)
SETTLED = 1e-6  # of the weight: to this the loads are found in whose measure feet hold that slip
UNSTRETCHED = 1e-9  # of the largest movement: a bar that stretches less is as it was
HALVINGS = 7  # of the push, to find how much of it a rack stands before it tips


@dataclass(frozen=True)
class Cases:
    """Load cases: share of the weight, push on every movement, stiffness of every element, what the feet may do."""

    weight: Array  # (C,)
    push: Array  # (6 n, C)
    coefficients: Array  # (e, 8, C)
    friction: Array  # (feet, C) at its lowest
    passed: Array  # (C,) N of push for the whole weight: the most that feet pass on where nothing else holds the rack
    kept_down: Flags  # (feet, C) feet that neither lift nor slip

    def pick(self, which: Indices) -> Cases:
        return Cases(
            self.weight[which],
            self.push[:, which],
            self.coefficients[:, :, which],
            self.friction[:, which],
            self.passed[which],
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
    slides: Flags  # (C,) the friction of all feet together is less than they would have to hold
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
    """All cases, with as much of their push as feet that slip pass on.

    Those of `lessened` that do not balance are tried again with as much of their push as still does. A rack that slides
    or tips as a whole holds what it holds just before: a greater earthquake asks not less than that. So that it does not
    fall with the vertical part either, at least a share `at_least` of the weight is on it then.
    """
    cases, part = _as_friction_lets(cases, at_least)
    found = _try(frame, weight, cases)
    which = np.flatnonzero(lessened & ~found.stable)
    left = cases.pick(which)
    left = replace(left, weight=np.maximum(left.weight, at_least))
    low, high = np.zeros(len(which)), np.ones(len(which))
    for _ in range(HALVINGS if len(which) else 0):
        middle = (low + high) / 2
        result = _try(frame, weight, replace(left, push=left.push * middle))
        good = np.flatnonzero(result.stable)
        for name in SOLVED:
            getattr(found, name)[..., which[good]] = getattr(result, name)[..., good]
        found.part[which[good]], found.weight[which[good]] = middle[good], left.weight[good]
        low, high = np.where(result.stable, middle, low), np.where(result.stable, high, middle)
    return replace(found, part=found.part * part)


def _as_friction_lets(cases: Cases, at_least: float) -> tuple[Cases, Array]:
    """Cases with the push and weight of what slides, and which part of the push that is."""
    Q = np.hypot(*_sideways(cases.push))
    most = np.where(
        np.isfinite(cases.passed), cases.passed, 0.0
    )  # endless where nothing slides: no product with no weight
    slides = np.isfinite(cases.passed) & (most * cases.weight < Q)
    weight = np.where(slides, np.maximum(cases.weight, at_least), cases.weight)
    part = np.where(slides, np.minimum(1.0, most * weight / np.maximum(Q, 1e-30)), 1.0)
    return replace(cases, push=cases.push * part, weight=weight), part


def _sideways(push: Array) -> Array:
    """What a push adds up to in plan (2, C)."""
    return np.asarray(push.reshape(-1, 6, push.shape[1])[:, :2].sum(axis=0))


SOLVED = ("movements", "forces", "stable", "pulls", "stands", "slides", "residual")


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
        self.rough = cases.friction >= ENDLESS  # held sideways, pressed or not
        self.slips = np.zeros(C, dtype=np.bool_)  # all feet that are not rough, once one of them has to
        self.stands = np.ones((F, C), dtype=np.bool_)
        Q = _sideways(cases.push)  # (2, C)
        most = np.hypot(*Q) / np.maximum(frame.masses.weights.sum() * cases.weight, self.nothing)
        self.against = -Q / np.maximum(np.hypot(*Q), self.nothing)
        self.mu = np.minimum(cases.friction, most)  # (F, C): friction of all feet together is no more than the push
        self.load = np.zeros((F, C))  # known from the first solution on

    def coefficients(self, which: Indices) -> Array:
        out = self.cases.coefficients[:, :, which] * self.pulls[:, None, which]
        stands, slips = self.stands[:, which], self.slipping[:, which]
        for axis in (0, 1):
            sideways = np.where(stands | self.rough[:, which], out[self.feet, axis], 0.0)
            out[self.feet, axis] = np.where(slips, stands * self.load[:, which] / GIVES, sideways)
        out[self.feet, 2] *= stands
        return out

    @property
    def slipping(self) -> Flags:
        return np.asarray(self.slips & ~self.rough)

    def loads(self, which: Indices) -> Array:
        """The push, less what feet that have let go or slip held of the weight, and the friction of those that slip."""
        out = self.cases.push[:, which].copy()
        sideways = self.slipping | ~(self.stands | self.rough)
        for axis, gone in enumerate((sideways, sideways, ~self.stands)):
            held = self.by_weight[:, axis, None] * self.cases.weight[which]
            out[self.rows[:, axis]] -= np.where(gone[:, which], held, 0.0)
        out[self.rows[:, :2]] += self.grip(which)
        return out

    def grip(self, which: Indices) -> Array:
        """Friction on the feet that slip (F, 2, C)."""
        size = np.where(self.slipping & self.stands, self.mu * self.load, 0.0)[:, None, which]
        return np.asarray(size * self.against[:, which])

    def follow(self, which: Indices, movements: Array, forces: Array, bold: bool) -> Flags:
        """Takes over what a solution asks for; True where a case asks for no change.

        Braces first; then the feet that pull or sink; then whether they slip, and the loads in whose measure they hold.
        bold: all feet that ask at once, else only the one that asks most, so that feet do not flutter.
        """
        stands, share = self.stands[:, which], self.cases.weight[which]
        pulls: Flags = self.pulls[np.ix_(self.bars, which)]
        stretch = _stretch(self.frame, self.bars, movements)
        unstretched = np.abs(stretch) <= UNSTRETCHED * np.abs(movements[_translations(self.frame)]).max(axis=0)
        now_pulls = np.where(unstretched, pulls, stretch > 0)
        rest = (pulls == now_pulls).all(axis=0)
        R = self.by_weight[:, :, None] * share + forces[self.feet, :3]  # (F, 3, C)
        N, H = R[:, 2], np.hypot(R[:, 0], R[:, 1])
        sinks = -(share * self.sunk[:, None] + movements[self.rows[:, 2]]) * self.frame.coefficients[self.feet, 2, None]
        turn = np.where(stands, -N, sinks)  # how strongly it asks to lift, or to stand again
        turns = _asking(np.where(self.cases.kept_down[:, which], 0.0, turn), self.nothing, bold) & rest
        rest &= ~turns.any(axis=0)
        now_load = np.where(stands ^ turns, np.maximum(N, 0.0), 0.0)
        slipped, rough = self.slips[which], self.rough[:, which]
        over = self.cases.friction[:, which] * now_load + self.nothing < H
        now_slips = slipped | (rest & (over & stands & ~rough).any(axis=0))
        rest &= now_slips == slipped
        shifts = np.where(self.slipping[:, which], np.abs(now_load - self.load[:, which]), 0.0)
        rest &= shifts.max(axis=0, initial=0.0) <= SETTLED * self.frame.masses.weights.sum()
        self.stands[:, which], self.load[:, which], self.slips[which] = stands ^ turns, now_load, now_slips
        self.pulls[np.ix_(self.bars, which)] = now_pulls
        return np.asarray(rest)


def _asking(values: Array, least: float, all_of_them: bool) -> Flags:
    """Values (rows, C) over the least: all of them, or only the largest of each column, the first of those alike."""
    if all_of_them:
        return np.asarray(values > least)
    out = np.zeros(values.shape, dtype=np.bool_)
    if len(values):
        rows = np.argmax(values >= values.max(axis=0) - NONE * np.abs(values).max(axis=0), axis=0)
        columns = np.arange(values.shape[1])
        out[rows, columns] = values[rows, columns] > least
    return out


def _try(frame: Frame, weight: Solution, cases: Cases) -> Result:
    C = cases.push.shape[1]
    state = _State(frame, weight, cases)
    movements, forces = np.zeros((len(frame.weight), C)), np.zeros((len(frame.elements), 6, C))
    residual, balanced, settled = np.zeros(C), np.zeros(C, dtype=np.bool_), np.zeros(C, dtype=np.bool_)
    which = np.arange(C)
    for trial in range(TRIALS):
        solution = solve(frame.topology, state.coefficients(which), state.loads(which))
        movements[:, which], forces[:, :, which] = solution.movements, solution.forces
        residual[which], balanced[which] = solution.residual, solution.stable
        settled[which] = state.follow(which, solution.movements, solution.forces, trial < BOLD)
        given_up = ~balanced & (trial >= PATIENCE)
        which = np.flatnonzero(~settled & ~given_up)
        if not len(which):
            break
    by_weight = weight.forces[:, :, 0]
    total = by_weight[:, :, None] * cases.weight + forces
    total[state.feet, 2] *= state.stands
    slipping = state.slipping
    total[state.feet, :2] *= (state.stands | state.rough)[:, None]
    by_grip = forces[state.feet, :2] + state.grip(np.arange(C))
    total[state.feet, :2] = np.where(slipping[:, None], by_grip, total[state.feet, :2])
    total[np.abs(total) < ROUNDING * frame.masses.weights.sum()] = 0.0
    together = np.hypot(*np.where(slipping[:, None], total[state.feet, :2], 0.0).sum(axis=0))
    held = (np.where(slipping, cases.friction * np.maximum(total[state.feet, 2], 0.0), 0.0)).sum(axis=0)
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
        together > held + state.nothing,
        residual,
    )


def _translations(frame: Frame) -> NDArray[np.int64]:
    return (np.arange(len(frame.topology.points))[:, None] * 6 + np.arange(3)).ravel()


def _stretch(frame: Frame, which: NDArray[np.int64], movements: Array) -> Array:
    """Lengthening (m) of bars, whether they take part or not: (bars, C)."""
    A = frame.topology.compatibility[which, 0]
    return np.asarray(np.einsum("ei,eic->ec", A, movements[frame.topology.movements[which]]))
