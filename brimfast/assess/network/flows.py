"""How fast does water go through every link at a given state?"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from brimfast.assess.network.lanes import MOPPED, Lanes
from brimfast.assess.network.model import DRAINED, OVER_RIM, OVER_SILL, PUMPED, RETURNED, RUNS, SUPPLIED
from brimfast.assess.network.pipe_flow import mouth_flow, pipe_velocity, sill_flow

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]
Indices = NDArray[np.int64]
NUDGE = 1e-6  # m
OF_PIPES = ("z_in", "z_out", "bore", "length", "losses", "roughness", "rim", "opening")


def gradual(x: Array) -> Array:
    """From 0 at 0 to 1 at 1 without a bend: x² (3 − 2 x)."""
    part = np.minimum(np.maximum(x, 0.0), 1.0)
    return np.asarray(part * part * (3 - 2 * part))


class Flows:
    """Of all lanes, while the same links run (on, (B, L)) and the same vessels run over (full, (B, N))."""

    def __init__(self, lanes: Lanes, on: Flags, full: Flags) -> None:
        self.lanes, self.on, self.full = lanes, on, full
        self.pipes = np.empty(0, dtype=np.int64)  # those that run, in all lanes laid out one after another
        if RUNS in lanes.groups:  # they come first, so that a column is a link
            row, column = np.nonzero(on[:, lanes.groups[RUNS]])
            self.pipes = row * on.shape[1] + column
        self.of_pipes = {name: lanes.numbers[name].take(self.pipes) for name in OF_PIPES}
        self.siphon = lanes.siphon.take(self.pipes)
        self.runs = {kind: bool(on[:, at].any()) for kind, at in lanes.groups.items()}

    def rates(self, t: Array, V: Array) -> Array:
        """Flow through every link (B, L), m³/s. t (B,), V (B, N)."""
        above, below = self.lanes.ends(V)
        return self._followed(self._direct(t, above, below), above)

    def slopes(self, t: Array, V: Array, q: Array) -> Array:
        """∂q/∂V (B, L, N), 1/s, by differences of the levels at either end; q the flows there."""
        lanes = self.lanes
        above, below = lanes.ends(V)
        per_level = np.where(lanes.in_pores > V, lanes.porous_area, lanes.area)[:, None]
        by_above = (self._direct(t, above + NUDGE, below) - q) / NUDGE
        by_below = (self._direct(t, above, below + NUDGE) - q) / NUDGE
        G = (by_above[:, :, None] * (lanes.moves < 0) + by_below[:, :, None] * (lanes.moves > 0)) / per_level
        if RETURNED in lanes.groups:
            at = lanes.groups[RETURNED]
            share, steeper = self._runs_back(above), self._runs_back(above + NUDGE)
            by_level = q[:, lanes.follows] * (steeper - share) / NUDGE
            back = by_level[:, :, None] * (lanes.moves[:, at] < 0) / per_level
            G[:, at] = G[:, lanes.follows] * share[:, :, None] + back
        if OVER_RIM in lanes.groups:
            at = lanes.groups[OVER_RIM]
            vessel = lanes.source[0, at]
            net = np.matmul(lanes.moves[:, : at.start].swapaxes(1, 2), G[:, : at.start])[:, vessel]
            over = (q[:, at] > 0)[:, :, None]
            G[:, at] = np.where(over, net, 0.0)
            for into in lanes.rims_over_rims:
                G[:, at] = np.where(over, net + np.matmul(into, G[:, at]), 0.0)
        return np.asarray(G)

    def _direct(self, t: Array, above: Array, below: Array) -> Array:
        """Flows that hang on the levels at their own ends alone; 0 for the others."""
        lanes, n, of = self.lanes, self.lanes.numbers, self.lanes.of
        q = np.zeros(self.on.shape)
        if len(self.pipes):
            self._through_pipes(q, above, below)
        if self.runs.get(PUMPED):
            at = lanes.groups[PUMPED]
            Q = n["flow"][:, at].copy()
            if lanes.tables:
                static = np.maximum(n["z_out"][:, at], below[:, at]) - above[:, at]
            for column, (heads, flows) in lanes.tables.items():
                by_curve = np.interp(static[:, column - at.start], heads, flows)
                Q[:, column - at.start] = np.where(lanes.bare[:, column], Q[:, column - at.start], by_curve)
            q[:, at] = Q * gradual((above[:, at] - n["z_in"][:, at]) / of.fades)
        if self.runs.get(SUPPLIED):
            at = lanes.groups[SUPPLIED]
            valve = gradual((n["z_in"][:, at] - below[:, at]) / of.valve)
            runs = t[:, None] < n["until"][:, at]
            q[:, at] = n["flow"][:, at] * runs * np.where(lanes.float_valve[:, at], valve, 1.0)
        if self.runs.get(DRAINED):
            at = lanes.groups[DRAINED]
            d = above[:, at] - n["z_in"][:, at]
            if (d > 0).any():
                grate = mouth_flow(of.mouth_weir, n["rim"][:, at], of.mouth_hole, n["opening"][:, at], d)
                # a drain in a low place takes no more than lies on the floor
                film = np.where(n["z_in"][:, at] < 0, gradual(above[:, at] / MOPPED), 1.0)
                q[:, at] = np.minimum(grate, n["pipe_flow"][:, at]) * film
        if self.runs.get(OVER_SILL):
            at = lanes.groups[OVER_SILL]
            d = above[:, at] - n["z_in"][:, at]
            if (d > 0).any():
                q[:, at] = sill_flow(of.sill, n["width"][:, at], d, below[:, at] - n["z_in"][:, at])
        q *= self.on
        return q

    def _through_pipes(self, q: Array, above: Array, below: Array) -> None:
        """Only those with a head, and water over their mouth: through the others nothing runs."""
        part, level = self.of_pipes, above.take(self.pipes)
        head = level - np.maximum(part["z_out"], below.take(self.pipes))
        flow = np.flatnonzero((head > 0) & (self.siphon | (level > part["z_in"])))
        if not len(flow):
            return
        z_in, _, bore, length, losses, roughness, rim, opening = (part[name].take(flow) for name in OF_PIPES)
        V = pipe_velocity(head.take(flow), bore, length, losses, roughness)
        of = self.lanes.of
        mouth = mouth_flow(of.mouth_weir, rim, of.mouth_hole, opening, level.take(flow) - z_in)
        mouth[self.siphon.take(flow)] = np.inf  # until it is stopped: see marks
        q.reshape(-1)[self.pipes.take(flow)] = np.minimum(np.pi / 4 * bore**2 * V, mouth)

    def _runs_back(self, above: Array) -> Array:
        """Of what a pump brings the share that runs back (B, returns): all, until the level has fallen below its own."""
        at = self.lanes.groups[RETURNED]
        fall = (above[:, at] - self.lanes.numbers["z_in"][:, at]) / self.lanes.of.fades
        return np.asarray(gradual(1 + fall) * self.on[:, at])

    def _followed(self, q: Array, above: Array) -> Array:
        """With what follows other flows: ways back of pumps, and what runs over rims."""
        lanes = self.lanes
        if RETURNED in lanes.groups:
            q[:, lanes.groups[RETURNED]] = q[:, lanes.follows] * self._runs_back(above)
        if OVER_RIM in lanes.groups:
            at = lanes.groups[OVER_RIM]
            vessel = lanes.source[0, at]
            net = np.matmul(q[:, None, : at.start], lanes.moves[:, : at.start])[:, 0, vessel]
            q[:, at] = np.where(self.full[:, vessel], np.maximum(net, 0.0), 0.0)
            for into in lanes.rims_over_rims:
                more = np.matmul(into, q[:, at, None])[:, :, 0]
                q[:, at] = np.where(self.full[:, vessel], np.maximum(net + more, 0.0), 0.0)
        return q
