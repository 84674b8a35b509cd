"""The network in time: every lane with steps of its own, stopping exactly where something changes.

State is what has gone through each link; what the nodes hold follows from it, so no water is lost or made.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from brimfast.assess.network.flows import Flows
from brimfast.assess.network.lanes import MOPPED, Lanes
from brimfast.assess.network.marks import FULL, START, STOP, Marks
from brimfast.assess.network.model import OVER_SILL, SUPPLIED
from brimfast.assess.network.rosenbrock import ORDER, Step, step
from brimfast.assess.network.trace import Trace

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]
Indices = NDArray[np.int64]

FIRST_STEP = 0.5  # s
NEAR = 1e-9  # m or m³: so near a mark it has been passed
LANDED = 1e-6  # m or m³: what is so near a mark stands at it
QUIET = 1e-3  # m that a level may still change, and
DROPS = 1e-4  # m³ that may still reach a floor, in a lane that is left
ALIKE = 1e-5  # m: levels that have come round
LITTLE = 1e-3  # m³ that supplies would still bring
MANY_TURNS = 40  # from which their mean stands for the rest
MENDED = 0.15  # of what goes through each link: how much a mean may be mended to close
HALVINGS = 45
MOST_STEPS = 4_000
RTOL, ATOL = 1e-5, 1e-6
TINY = 1e-300
STILL = 1e-12  # m³/s: less is rounding of flows that keep a vessel full


def integrate(
    lanes: Lanes,
    marks: Marks,
    horizon: Array,
    *,
    rtol: float = RTOL,
    atol: float = ATOL,
    record: bool = True,
    until_left: float = np.inf,
) -> Trace:
    """Every lane up to its horizon (B,), s; all of them only until so much (m³) has left the first room in one.

    rtol of all its water, atol in m³: of what goes through a link in one step.
    """
    run = _Run(lanes, marks, horizon, rtol, atol, record)
    while len(run.index) and run.trace.steps < MOST_STEPS and run.trace.left.max(initial=0.0) <= until_left:
        run.step()
    return run.finish()


class _Run:
    """The lanes that are still running, packed together; finished ones are in the trace."""

    def __init__(self, lanes: Lanes, marks: Marks, horizon: Array, rtol: float, atol: float, record: bool) -> None:
        B, L = lanes.on.shape
        N, M = lanes.starts.shape[1], marks.at.shape[1]
        self.lanes, self.marks, self.record = lanes, marks, record
        self.tolerance = atol + rtol * lanes.starts.sum(axis=1)  # (B,)
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
            np.zeros((B, L)),
            np.ones(B, dtype=np.bool_),
            np.zeros(B),
            [(self.index, np.zeros(B), z)],
        )
        self.repeats = np.zeros(B, dtype=np.bool_)
        kinds = np.array([link.kind == OVER_SILL for link in lanes.each[0]])
        here = lanes.moves[:, :, self.rooms[0]]
        self.over = np.where(kinds, -here, 0.0)  # out of the first room over a sill, less what comes in so
        self.onto = np.where(kinds, 0.0, np.maximum(here, 0.0))  # onto its floor in any other way
        self.into = np.maximum(lanes.moves[:, :, self.rooms], 0.0).sum(axis=2)  # onto any floor
        self.began: dict[tuple[int, int], list[tuple[float, Array, Array]]] = {}  # t, X, levels whenever a link started
        self._renew()
        self._keep(self.horizon > 0)

    def _renew(self) -> None:
        """Flows at the present state; vessels whose inflow no longer keeps them full stop running over."""
        self.flows = Flows(self.lanes, self.on, self.full)
        self.q = self.flows.rates(self.t, self.V)
        change = np.matmul(self.q[:, None], self.lanes.moves)[:, 0]
        falls = self.full & (change < -STILL)
        if falls.any():
            self.full &= ~falls
        self.change = change

    def step(self) -> None:
        self.trace.steps += 1
        self._quiet()
        if not len(self.index):
            return
        lanes, ends = self.lanes, self._ends()
        h = np.minimum(self.h, ends - self.t)
        made = step(self.flows, self.t, self.X, h, self.q)
        X, error = self.X + made.change, made.error / self.tolerance
        good = error <= 1.0
        after = _values(lanes, self.marks, lanes.volumes(X), X)
        passed = self._passed(self.values, after) & good[:, None]
        share = np.ones(len(h))
        which = np.flatnonzero(passed.any(axis=1))
        if len(which):
            share[which] = self._first_root(passed, made, which)
            X[which] = made.at(which, share[which])
        self._peaks(good, share, made, h)
        self.h = h * np.clip(0.9 * np.maximum(error, 1e-10) ** (-1 / ORDER), 0.2, 6.0)
        self.h = np.where(share < 1, np.maximum(h * share, FIRST_STEP), self.h)
        at_end = good & (share == 1.0) & (h >= ends - self.t)
        self.t = np.where(at_end, ends, self.t + np.where(good, share * h, 0.0))
        self.X = np.where(good[:, None], X, self.X)
        self.V = lanes.volumes(self.X)
        for row in np.flatnonzero(at_end):
            self._forget(int(self.index[row]))
        self._apply(passed)
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
        """Leaves lanes in which next to nothing more happens, whatever time there still is."""
        left = self.horizon - self.t
        into = (self.into * self.q).sum(axis=1)
        speed = np.abs(self.change) / self.lanes.porous_area
        speed[:, self.rooms] *= self.lanes.levels(self.V)[:, self.rooms] > MOPPED
        quiet = (into * left <= DROPS) & (speed.max(axis=1) * left <= QUIET)
        if quiet.any():
            self._keep(~quiet)

    def _passed(self, before: Array, after: Array) -> Flags:
        """Or come so near that the next step would not count as passing."""
        up = (before < -NEAR) & (after >= -NEAR)
        down = (before > NEAR) & (after <= NEAR)
        return np.asarray((up & (self.marks.way >= 0)) | (down & (self.marks.way <= 0)))

    def _first_root(self, passed: Flags, made: Step, which: Indices) -> Array:
        """The share of the step at which the first mark is passed, by halving; so near after it that it is passed."""
        row, column = np.nonzero(passed[which])
        lane = which[row]
        level = made.values(self.lanes, lane, self.marks.value[lane, column])
        at, sign = self.marks.at[lane, column], np.sign(self.values[lane, column])
        low, high = np.zeros(len(lane)), np.ones(len(lane))
        for _ in range(HALVINGS):
            middle = (low + high) / 2
            beyond = sign * (level(middle) - at) <= 0
            low, high = np.where(beyond, low, middle), np.where(beyond, middle, high)
        first = np.ones(len(which))
        np.minimum.at(first, row, high)
        return first

    def _peaks(self, good: Flags, share: Array, made: Step, h: Array) -> None:
        """Where a floor's level turns within a step, its highest point."""
        moves = self.lanes.moves[:, :, self.rooms]
        change, first, second = (np.matmul(part[:, None], moves)[:, 0] for part in (made.change, *made.bend))
        # how fast the floors' water rises: a parabola over the step
        rises, bends, ends = change + first, 2 * (second - first), change - first - second
        for row, column in np.argwhere((rises > 0) & (ends < 0) & good[:, None]):
            a, b, c = -3 * second[row, column], bends[row, column], rises[row, column]
            low, high = 0.0, 1.0
            for _ in range(HALVINGS):
                middle = (low + high) / 2
                low, high = (low, middle) if (a * middle + b) * middle + c < 0 else (middle, high)
            if high <= share[row]:
                which = np.array([row])
                part = self.lanes.pick(which)
                X = made.at(which, np.array([high]))
                self._highest(which, part.levels(part.volumes(X)), self.t[which] + high * h[which])

    def _highest(self, which: Indices, z: Array, t: Array) -> None:
        lane = self.index[which]
        higher = z > self.trace.peak[lane]
        self.trace.peak[lane] = np.where(higher, z, self.trace.peak[lane])
        self.trace.peak_at[lane] = np.where(higher, t[:, None], self.trace.peak_at[lane])

    def _apply(self, passed: Flags) -> None:
        """What happens at the marks that a lane has come to."""
        values = _values(self.lanes, self.marks, self.V, self.X)
        up, dry = self.values < 0, self.lanes.dry(self.V)
        for row, mark in np.argwhere(passed & (np.abs(values) <= LANDED * (1 + np.abs(self.marks.at)))):
            lane, what, place = self.index[row], self.marks.what[mark], self.marks.place[mark]
            if up[row, mark] and np.isnan(self.trace.first[lane, mark]):
                self.trace.first[lane, mark] = self.t[row]
            if not up[row, mark]:
                self.trace.last[lane, mark] = self.t[row]
            if what == STOP:
                self.on[row, place] = False
                if np.isfinite(self.lanes.numbers["takes"][row, place]):
                    self._forget(int(lane))
            elif what == START and not dry[row, place]:
                self.on[row, place] = True
                self._again(row, (int(lane), int(mark)))
            elif what == FULL:
                self.full[row, place] = True
            values[row, mark] = 0.0
        self.values = values

    def _forget(self, lane: int) -> None:
        """Turns before something ended say nothing of those after it."""
        for key in [key for key in self.began if key[0] == lane]:
            del self.began[key]

    def _again(self, row: int, key: tuple[int, int]) -> None:
        """What repeats itself goes on by many turns at once: exactly, where a link starts as it did the last time, and by
        the mean of many turns, where several links with times of their own never come round together.

        As far as the next end or a drain that backs up lets it; given up where no floor gets water.
        """
        lanes, X, t = self.lanes, self.X[row], float(self.t[row])
        past = self.began.setdefault(key, [])
        past.append((t, X.copy(), lanes.levels(self.V)[row]))
        if len(past) < 2:
            return
        exact = np.abs(past[-1][2] - past[-2][2]).max() <= ALIKE
        if not exact and len(past) < MANY_TURNS:
            return
        before = past[-2] if exact else past[len(past) // 8]
        turn, through = t - before[0], X - before[1]
        if turn <= 0:
            return
        given = np.zeros(len(X), dtype=np.bool_)  # by time alone
        if SUPPLIED in lanes.groups:
            given[lanes.groups[SUPPLIED]] = True
        late = past[-2] if exact else past[len(past) // 2]
        lately, since = X - late[1], t - late[0]
        arrives = (np.maximum(lanes.moves[row][:, self.rooms], 0.0) * lately[:, None]).sum()
        end = float(self._ends()[row])
        left = max(self.horizon[row] - t, since)
        idle = arrives <= DROPS * since / left
        if idle and (end >= self.horizon[row] or lately[given].sum() * left / since <= LITTLE):
            self.repeats[row] = True
            return
        balanced = _balanced(through, lanes.moves[row], given)
        if balanced is None:
            return
        room, filling = lanes.numbers["takes"][row] - X, balanced > TINY
        turns = min((end - t) / turn - 1, *(room[filling] / balanced[filling] - 1))
        if exact:  # whole ones: else the last would come round just where something ends
            turns = np.floor(turns)
        if turns >= 1:
            self.X[row] += turns * balanced
            self.t[row] += turns * turn
            self.V = lanes.volumes(self.X)
            past.clear()

    def _note(self, good: Flags) -> None:
        which = np.flatnonzero(good)
        lane, z = self.index[which], self.lanes.levels(self.V)[which]
        self._highest(which, z, self.t[which])
        if self.record:
            self.trace.history.append((lane, self.t[which].copy(), z))
        room = self.rooms[0]
        left = (self.over[which] * self.X[which]).sum(axis=1)
        self.trace.left[lane] = np.maximum(self.trace.left[lane], left)
        need = self.V[which, room] + left
        more = need > self.trace.need[lane]
        self.trace.need[lane] = np.where(more, need, self.trace.need[lane])
        self.trace.need_X[lane] = np.where(more[:, None], self.X[which], self.trace.need_X[lane])
        inflow = (self.onto[which] * self.q[which]).sum(axis=1)
        self.trace.inflow[lane] = np.maximum(self.trace.inflow[lane], inflow)

    def _keep(self, going: Flags) -> None:
        self._store(~going)
        which = np.flatnonzero(going)
        self.lanes, self.marks = self.lanes.pick(which), self.marks.pick(which)
        for name in (
            "index",
            "horizon",
            "tolerance",
            "t",
            "X",
            "h",
            "on",
            "V",
            "full",
            "values",
            "q",
            "change",
            "repeats",
            "over",
            "onto",
            "into",
        ):
            setattr(self, name, getattr(self, name)[which])
        self.flows = Flows(self.lanes, self.on, self.full)

    def _store(self, ended: Flags) -> None:
        self._note(ended)
        lane = self.index[ended]
        self.trace.X[lane], self.trace.V[lane], self.trace.t[lane] = self.X[ended], self.V[ended], self.t[ended]

    def finish(self) -> Trace:
        self.trace.finished[self.index] = False
        self._store(np.ones(len(self.index), dtype=np.bool_))
        return self.trace


def _values(lanes: Lanes, marks: Marks, V: Array, X: Array) -> Array:
    """How far every mark's value is past it (B, M)."""
    values = np.concatenate([lanes.levels(V), X], axis=1)
    first = np.arange(len(values))[:, None] * values.shape[1]
    return np.asarray(values.take(marks.value + first) - marks.at)


def _balanced(through: Array, moves: Array, given: Flags) -> Array | None:
    """What goes through the links in a turn (L,), mended so that no node gains or loses; None where that takes much.

    The least change, each link's in the measure of the square of what goes through it; what is given stays.
    """
    weight = np.where(given, 0.0, through**2)
    gained = through @ moves
    normal = (moves * weight[:, None]).T @ moves
    mended = np.asarray(through - weight * (moves @ (np.linalg.pinv(normal, rcond=1e-10) @ gained)))
    most = float(np.abs(through).max(initial=0.0))
    close = np.abs(mended @ moves).max(initial=0.0) <= 1e-9 * most
    little = np.abs(mended - through) <= MENDED * np.abs(through) + 1e-9 * most
    return mended if close and bool(little.all()) else None
