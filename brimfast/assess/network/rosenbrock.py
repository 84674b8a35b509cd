"""One step of the network in time, of every lane with a length of its own.

Rodas, a Rosenbrock method of order 4 with an error estimate and an interpolant of order 3: E. Hairer and G. Wanner, Solving
Ordinary Differential Equations II, 2nd edition 1996, section IV.7 and its program, first set of coefficients. Weirs and
short pipes level out within seconds while ponds take hours: an explicit method would have to follow the seconds throughout.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from brimfast.assess.network.flows import Flows
from brimfast.assess.network.lanes import Lanes

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]
Indices = NDArray[np.int64]

GAMMA = 0.25
A = (
    (1.544,),
    (0.9466785280815826, 0.2557011698983284),
    (3.314825187068521, 2.896124015972201, 0.9986419139977817),
    (1.221224509226641, 6.019134481288629, 12.53708332932087, -0.687886036105895),
    (1.221224509226641, 6.019134481288629, 12.53708332932087, -0.687886036105895, 1.0),
)
C = (
    (-5.6688,),
    (-2.430093356833875, -0.2063599157091915),
    (-0.1073529058151375, -9.594562251023355, -20.47028614809616),
    (7.496443313967647, -10.24680431464352, -33.99990352819905, 11.7089089320616),
    (8.083246795921522, -7.981132988064893, -31.52159432874371, 16.31930543123136, -6.058818238834054),
)
BETWEEN = (
    (10.12623508344586, -7.487995877610167, -34.80091861555747, -7.992771707568823, 1.025137723295662),
    (-0.6762803392801253, 6.087714651680015, 16.43084320892478, 24.76722511418386, -6.594389125716872),
)
ORDER = 4


@dataclass(frozen=True)
class Step:
    """From X to X + change; what lies between; how far the estimate is off (m³): the largest of all nodes and of the links
    that reach a floor or leave the network. What goes to and fro between two nodes counts by what is left of it."""

    X: Array  # (B, L)
    change: Array
    bend: Array  # (2, B, L)
    error: Array  # (B,)

    def at(self, which: Indices, theta: Array) -> Array:
        """X at a share of the step, of some lanes."""
        x = theta[:, None]
        first, second = self.bend[:, which]
        return np.asarray(self.X[which] + x * self.change[which] + x * (1 - x) * (first + x * second))

    def values(self, lanes: Lanes, which: Indices, value: Indices) -> Callable[[Array], Array]:
        """At shares of the step the height of a node, or beyond the nodes what has gone through a link, one of each lane."""
        N = lanes.starts.shape[1]
        is_level, node = value < N, np.minimum(value, N - 1)
        kept, fades = [], (self.X, self.change, self.bend[0], self.bend[1])
        for part in fades:
            of_node = np.einsum("il,il->i", part[which], lanes.moves[which, :, node])
            kept.append(np.where(is_level, of_node, part[which, np.maximum(value - N, 0)]))
        X, change, first, second = kept
        of_nodes = (lanes.starts, lanes.base, lanes.in_pores, lanes.porous_area, lanes.area)
        starts, base, in_pores, porous_area, area = (each[which, node] for each in of_nodes)

        def at(theta: Array) -> Array:
            gone = X + theta * change + theta * (1 - theta) * (first + theta * second)
            V = starts + gone
            level = base + np.minimum(V, in_pores) / porous_area + np.maximum(V - in_pores, 0.0) / area
            return np.asarray(np.where(is_level, level, gone))

        return at


def step(flows: Flows, t: Array, X: Array, h: Array, q: Array) -> Step:
    """q: the flows at the start. In X the Jacobian is G Mᵀ, slopes by moves: only N × N matrices are inverted."""
    lanes, M = flows.lanes, flows.lanes.moves
    G = flows.slopes(t, lanes.volumes(X), q)
    over = 1.0 / (h * GAMMA)
    inverse = np.linalg.inv(over[:, None, None] * np.eye(M.shape[2]) - np.matmul(M.swapaxes(1, 2), G))

    def solve(r: Array) -> Array:
        w = np.matmul(inverse, np.matmul(r[:, None], M)[:, 0, :, None])
        return np.asarray((r + np.matmul(G, w)[:, :, 0]) / over[:, None])

    k = np.empty((6, *X.shape))
    k[0] = solve(q)
    for stage, (a, c) in enumerate(zip(A, C, strict=True), start=1):
        there = X + _mixed(a, k)
        k[stage] = solve(flows.rates(t, lanes.volumes(there)) + _mixed(c, k) / h[:, None])
    change = _mixed(A[-1], k) + k[5]
    bend = np.array([_mixed(weights, k) for weights in BETWEEN])
    nodes = np.abs(np.matmul(k[5][:, None], M)).max(axis=(1, 2), initial=0.0)
    links = (np.abs(k[5]) * lanes.one_way).max(axis=1, initial=0.0)
    return Step(X, change, bend, np.maximum(nodes, links))


def _mixed(weights: tuple[float, ...], k: Array) -> Array:
    """Term by term, so that no lane's rounding hangs on how many there are beside it, as it does in a matrix product."""
    out = weights[0] * k[0]
    for weight, each in zip(weights[1:], k[1:], strict=False):
        out += weight * each
    return np.asarray(out)
