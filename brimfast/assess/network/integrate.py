"""The network in time: every lane with steps of its own, stopping exactly where something changes.

State is what has gone through each link; what the nodes hold follows from it, so no water is lost or made. Dormand and
Prince's pair of orders 5 and 4 (J. Comput. Appl. Math. 6, 1980) with Shampine's interpolant of order 4 (Math. Comp. 46,
1986), in which marks are found.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from brimfast.assess.network.lanes import Lanes, rates
from brimfast.assess.network.marks import FULL, START, STOP, Marks
from brimfast.assess.network.model import OVER_SILL, SUPPLIED

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]
Indices = NDArray[np.int64]

A = (
    (),
    (1 / 5,),
    (3 / 40, 9 / 40),
    (44 / 45, -56 / 15, 32 / 9),
    (19372 / 6561, -25360 / 2187, 64448 / 6561, -212 / 729),
    (9017 / 3168, -355 / 33, 46732 / 5247, 49 / 176, -5103 / 18656),
    (35 / 384, 0.0, 500 / 1113, 125 / 192, -2187 / 6784, 11 / 84),
)
C = (0.0, 1 / 5, 3 / 10, 4 / 5, 8 / 9, 1.0, 1.0)
E = np.array([-71 / 57600, 0.0, 71 / 16695, -71 / 1920, 17253 / 339200, -22 / 525, 1 / 40])
P = np.array(
    [
        [1, -8048581381 / 2820520608, 8663915743 / 2820520608, -12715105075 / 11282082432],
        [0, 0, 0, 0],
        [0, 131558114200 / 32700410799, -68118460800 / 10900136933, 87487479700 / 32700410799],
        [0, -1754552775 / 470086768, 14199869525 / 1410260304, -10690763975 / 1880347072],
        [0, 127303824393 / 49829197408, -318862633887 / 49829197408, 701980252875 / 199316789632],
        [0, -282668133 / 205662961, 2019193451 / 616988883, -1453857185 / 822651844],
        [0, 40617522 / 29380423, -110615467 / 29380423, 69997945 / 29380423],
    ]
)
FIRST_STEP = 0.5  # s
NEAR = 1e-9  # m or m³: so near a mark it has been passed
STEADY = 1e-10  # m/s: where levels change less, flows go on as they are
QUIET = 1e-7  # m/s, a centimetre a day: where levels change less and no water reaches a floor, it is over
LANDED = 1e-6  # m or m³: what is so near a mark stands at it
HALVINGS = 45
ALIKE = 1e-5  # m, m³
MOST_STEPS = 20_000


@dataclass
class Trace:
    """What every lane came to. B lanes, L links, N nodes, M marks."""

    X: Array  # (B, L) gone through each link, m³
    V: Array  # (B, N) held at the end, m³
    t: Array  # (B,) when it ended, s
    peak: Array  # (B, N) highest level, m above the floor
    peak_at: Array  # (B, N)
    first: Array  # (B, M) when each mark was first passed upward; NaN if never
    last: Array  # (B, M) when it was last passed downward
    inflow: Array  # (B,) fastest flow onto the first room's floor, m³/s
    need: Array  # (B,) most that lay in the first room together with what had left it over a sill, m³
    need_at: Array  # (B,)
    need_X: Array  # (B, L)
    history: list[tuple[Indices, Array, Array]] = field(default_factory=list)  # lanes, times, levels (lanes, N)
    steps: int = 0

    def course(self, lane: int, node: int) -> tuple[Array, Array]:
        """Times and levels of one node in one lane."""
        at = [(t[which == lane], z[which == lane, node]) for which, t, z in self.history]
        return np.concatenate([one for one, _ in at]), np.concatenate([one for _, one in at])


def integrate(
    lanes: Lanes, marks: Marks, horizon: Array, *, rtol: float = 1e-6, atol: float = 1e-7, record: bool = True
) -> Trace:
    """Every lane up to its horizon (B,), s. atol in m³."""
    run = _Run(lanes, marks, horizon, rtol, atol, record)
    while len(run.index) and run.trace.steps < MOST_STEPS:
        run.step()
    return run.finish()


class _Run:
    """The lanes that are still running, packed together; finished ones are in the trace."""

    def __init__(self, lanes: Lanes, marks: Marks, horizon: Array, rtol: float, atol: float, record: bool) -> None:
        B, L = lanes.on.shape
        N, M = lanes.starts.shape[1], marks.at.shape[1]
        self.lanes, self.marks, self.rtol, self.atol, self.record = lanes, marks, rtol, atol, record
        self.rooms = np.flatnonzero([node.is_room for node in lanes.network.nodes])
        self.index, self.horizon = np.arange(B), np.asarray(horizon, float)
        self.t, self.X, self.h = np.zeros(B), np.zeros((B, L)), np.full(B, FIRST_STEP)
        self.on, self.V = lanes.running(), lanes.starts.copy()
        self.full = lanes.rim_volume - NEAR <= self.V
        self.values = _values(lanes, marks, self.V, self.X)
        z = lanes.levels(self.V)
        nothing = np.full((B, M), np.nan)
        self.trace = Trace(
            np.zeros((B, L)),
            self.V.copy(),
            np.zeros(B),
            z.copy(),
            np.zeros((B, N)),
            nothing,
            nothing.copy(),
            np.zeros(B),
            self.V[:, self.rooms[0]].copy(),
            np.zeros(B),
            np.zeros((B, L)),
            [(self.index, np.zeros(B), z)],
        )
        self.repeats = np.zeros(B, dtype=np.bool_)
        self.began: dict[
            tuple[int, int], Array
        ] = {}  # levels when a link last started, and what had reached the floors
        self._renew()
        self._keep(self.horizon > 0)

    def _renew(self) -> None:
        """Flows at the present state; vessels whose inflow no longer keeps them full stop running over."""
        self.q = rates(self.lanes, self.t, self.V, self.on, self.full)
        change = np.matmul(self.q[:, None], self.lanes.moves)[:, 0]
        falls = self.full & (change < 0)
        if falls.any():
            self.full &= ~falls
        self.change = change

    def step(self) -> None:
        self.trace.steps += 1
        self._quiet()
        if not len(self.index):
            return
        self._rest()
        lanes = self.lanes
        ends = self._ends()
        step = np.minimum(self.h, ends - self.t)
        k = np.empty((7, *self.q.shape))
        k[0] = self.q
        for stage in range(1, 7):
            X = self.X + step[:, None] * np.tensordot(np.array(A[stage]), k[:stage], 1)
            k[stage] = rates(lanes, self.t + C[stage] * step * (1 - 1e-12), lanes.volumes(X), self.on, self.full)
        scale = self.atol + self.rtol * np.maximum(np.abs(self.X), np.abs(X))
        error = np.abs(step[:, None] * np.tensordot(E, k, 1) / scale).max(axis=1, initial=0.0)
        good = error <= 1.0
        after = _values(lanes, self.marks, lanes.volumes(X), X)
        passed = self._passed(self.values, after) & good[:, None]
        share = np.ones(len(step))
        which = np.flatnonzero(passed.any(axis=1))
        if len(which):
            share[which] = self._first_root(passed, step, k, which)
            X[which] = self._between(which, share[which], step, k)
        self._peaks(good, share, step, k)
        self.h = step * np.clip(0.9 * np.maximum(error, 1e-10) ** -0.2, 0.2, 6.0)
        self.h = np.where(share < 1, np.maximum(step * share, FIRST_STEP), self.h)
        at_end = good & (share == 1.0) & (step >= ends - self.t)
        self.t = np.where(at_end, ends, self.t + np.where(good, share * step, 0.0))
        self.X = np.where(good[:, None], X, self.X)
        self.V = lanes.volumes(self.X)
        self._apply(passed & good[:, None])
        self._note(good)
        self._renew()
        ended = (self.t >= self.horizon) | self.repeats
        if ended.any():
            self._keep(~ended)

    def _ends(self) -> Array:
        """The next time at which a supply ends, or the horizon."""
        if SUPPLIED not in self.lanes.groups:
            return self.horizon
        until = self.lanes.numbers["until"][:, self.lanes.groups[SUPPLIED]]
        later = np.where(until > self.t[:, None], until, np.inf).min(axis=1, initial=np.inf)
        return np.asarray(np.minimum(self.horizon, later))

    def _quiet(self) -> None:
        into = (np.maximum(self.lanes.moves[:, :, self.rooms], 0.0) * self.q[:, :, None]).sum(axis=(1, 2))
        quiet = (into <= QUIET) & (np.abs(self.change) <= QUIET * self.lanes.area).all(axis=1)
        if quiet.any():
            self._keep(~quiet)

    def _rest(self) -> None:
        """Lanes whose levels no longer change go on at once to the next end, or until a drain is full."""
        still = (np.abs(self.change) <= STEADY * self.lanes.area).all(axis=1)
        if not still.any():
            return
        which = np.flatnonzero(still)
        wait = self._ends()[which] - self.t[which]
        takes = self.lanes.numbers["takes"][which]
        with np.errstate(divide="ignore", invalid="ignore"):
            left = np.where(
                np.isfinite(takes) & (self.q[which] > 0) & (takes > self.X[which]), takes - self.X[which], np.inf
            )
            until_full = (left / np.maximum(self.q[which], 1e-300)).min(axis=1, initial=np.inf)
        wait = np.maximum(np.minimum(wait, until_full * (1 - 1e-9)) - FIRST_STEP, 0.0)
        self.X[which] += wait[:, None] * self.q[which]
        self.t[which] += wait
        self.V = self.lanes.volumes(self.X)
        self.values = _values(self.lanes, self.marks, self.V, self.X)

    def _passed(self, before: Array, after: Array) -> Flags:
        up = (before < -NEAR) & (after >= 0)
        down = (before > NEAR) & (after <= 0)
        return np.asarray((up & (self.marks.way >= 0)) | (down & (self.marks.way <= 0)))

    def _between(self, which: Indices, theta: Array, step: Array, k: Array) -> Array:
        """What has gone through the links (lanes, L) at a share of the step."""
        b = P @ np.stack([theta, theta**2, theta**3, theta**4])  # (7, lanes)
        return np.asarray(self.X[which] + step[which, None] * np.einsum("sb,sbl->bl", b, k[:, which]))

    def _first_root(self, passed: Flags, step: Array, k: Array, which: Indices) -> Array:
        """The share of the step at which the first mark is passed, by halving; so near after it that it is passed."""
        row, column = np.nonzero(passed[which])
        lane = which[row]
        value, at = self.marks.value[lane, column], self.marks.at[lane, column]
        sign = np.sign(self.values[lane, column])
        lanes = self.lanes.pick(lane)
        low, high = np.zeros(len(lane)), np.ones(len(lane))
        for _ in range(HALVINGS):
            middle = (low + high) / 2
            X = self._between(lane, middle, step, k)
            all_values = np.concatenate([lanes.levels(lanes.volumes(X)), X], axis=1)
            beyond = sign * (np.take_along_axis(all_values, value[:, None], axis=1)[:, 0] - at) <= 0
            low, high = np.where(beyond, low, middle), np.where(beyond, middle, high)
        first = np.ones(len(which))
        np.minimum.at(first, row, high)
        return first

    def _peaks(self, good: Flags, share: Array, step: Array, k: Array) -> None:
        """Where a floor's level turns within a step, its highest point."""
        moves = self.lanes.moves[:, :, self.rooms]
        rises = np.matmul(k[0][:, None], moves)[:, 0] > 0
        falls = np.matmul(k[6][:, None], moves)[:, 0] < 0
        for row, column in np.argwhere(rises & falls & good[:, None]):
            slopes = np.einsum("sl,l->s", k[:, row], moves[row, :, column])
            low, high = 0.0, 1.0
            for _ in range(HALVINGS):
                x = (low + high) / 2
                turned = slopes @ (P @ np.array([1, 2 * x, 3 * x**2, 4 * x**3])) < 0
                low, high = (low, x) if turned else (x, high)
            if high <= share[row]:
                which = np.array([row])
                X = self._between(which, np.array([high]), step, k)
                part = self.lanes.pick(which)
                self._highest(which, part.levels(part.volumes(X)), self.t[which] + high * step[which])

    def _highest(self, which: Indices, z: Array, t: Array) -> None:
        lane = self.index[which]
        higher = z > self.trace.peak[lane]
        self.trace.peak[lane] = np.where(higher, z, self.trace.peak[lane])
        self.trace.peak_at[lane] = np.where(higher, t[:, None], self.trace.peak_at[lane])

    def _apply(self, passed: Flags) -> None:
        """What happens at the marks that a lane has come to."""
        values = _values(self.lanes, self.marks, self.V, self.X)
        up = self.values < 0
        for row, mark in np.argwhere(passed & (np.abs(values) <= LANDED * (1 + np.abs(self.marks.at)))):
            lane, what, place = self.index[row], self.marks.what[mark], self.marks.place[mark]
            if up[row, mark] and np.isnan(self.trace.first[lane, mark]):
                self.trace.first[lane, mark] = self.t[row]
            if not up[row, mark]:
                self.trace.last[lane, mark] = self.t[row]
            if what == STOP:
                self.on[row, place] = False
            elif what == START:
                self.on[row, place] = True
                self.repeats[row] |= self._again(row, (int(lane), int(mark)))
            elif what == FULL:
                self.full[row, place] = True
            values[row, mark] = 0.0
        self.values = values

    def _again(self, row: int, key: tuple[int, int]) -> bool:
        """Whether a link starts just as it did the last time, and no water has reached a floor since."""
        arrived = (np.maximum(self.lanes.moves[row][:, self.rooms], 0.0) * self.X[row][:, None]).sum()
        now = np.append(self.lanes.levels(self.V[row]), arrived)
        before, self.began[key] = self.began.get(key), now
        return before is not None and bool(np.abs(now - before).max() < ALIKE)

    def _note(self, good: Flags) -> None:
        which = np.flatnonzero(good)
        lane, z = self.index[which], self.lanes.levels(self.V[which])
        self._highest(which, z, self.t[which])
        if self.record:
            self.trace.history.append((lane, self.t[which].copy(), z))
        room = self.rooms[0]
        kinds = [link.kind == OVER_SILL for link in self.lanes.network.links]
        over = np.where(kinds, -self.lanes.moves[which][:, :, room], 0.0)
        need = self.V[which, room] + (over * self.X[which]).sum(axis=1)
        more = need > self.trace.need[lane]
        self.trace.need[lane] = np.where(more, need, self.trace.need[lane])
        self.trace.need_at[lane] = np.where(more, self.t[which], self.trace.need_at[lane])
        self.trace.need_X[lane] = np.where(more[:, None], self.X[which], self.trace.need_X[lane])
        into = np.where(kinds, 0.0, np.maximum(self.lanes.moves[which][:, :, room], 0.0))
        self.trace.inflow[lane] = np.maximum(self.trace.inflow[lane], (into * self.q[which]).sum(axis=1))

    def _keep(self, going: Flags) -> None:
        self._store(~going)
        which = np.flatnonzero(going)
        self.lanes, self.marks = self.lanes.pick(which), self.marks.pick(which)
        for name in ("index", "horizon", "t", "X", "h", "on", "V", "full", "values", "q", "change", "repeats"):
            setattr(self, name, getattr(self, name)[which])

    def _store(self, ended: Flags) -> None:
        lane = self.index[ended]
        self.trace.X[lane], self.trace.V[lane], self.trace.t[lane] = self.X[ended], self.V[ended], self.t[ended]

    def finish(self) -> Trace:
        self._store(np.ones(len(self.index), dtype=np.bool_))
        return self.trace


def _values(lanes: Lanes, marks: Marks, V: Array, X: Array) -> Array:
    """How far every mark's value is past it (B, M)."""
    values = np.concatenate([lanes.levels(V), X], axis=1)
    return np.asarray(np.take_along_axis(values, marks.value, axis=1) - marks.at)
