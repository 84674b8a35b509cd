"""Frames for the tests: written point by point, solved, and read point by point again."""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import pairwise

import numpy as np

from brimfast.assess.frame import elements
from brimfast.assess.frame.solve import Solution, resultants, solve
from brimfast.assess.frame.topology import GROUND, Topology

X, Y, Z, RX, RY, RZ = range(6)
PIN, FIX = (X, Y, Z), (X, Y, Z, RX, RY, RZ)
FLAT = (Y, RX, RZ)  # held, so that only the x-z plane is left
RIGID, HINGE = np.inf, 0.0


@dataclass(frozen=True)
class Section:
    EA: float
    GJ: float
    EI_y: float
    EI_z: float


PLAIN = Section(EA=4e7, GJ=3e3, EI_y=2e4, EI_z=5e3)


@dataclass
class Member:
    i: int
    j: int
    section: Section
    up: tuple[float, float, float]
    k_y: tuple[float, float]
    k_z: tuple[float, float]
    L: float
    axes: np.ndarray  # local x, y, z as rows
    coefficients: np.ndarray


@dataclass
class Link:
    i: int
    j: int
    stiffness: tuple[float, ...]


@dataclass
class Model:
    points: list[tuple[float, float, float]] = field(default_factory=list)
    held: list[tuple[int, ...]] = field(default_factory=list)
    members: list[Member] = field(default_factory=list)
    links: list[Link] = field(default_factory=list)  # numbered after the members
    loads: list[tuple[int, int, float]] = field(default_factory=list)

    def point(self, x, y, z, held=()):
        self.points.append((float(x), float(y), float(z)))
        self.held.append(tuple(held))
        return len(self.points) - 1

    def member(self, i, j, section=PLAIN, up=None, k_y=(RIGID, RIGID), k_z=(RIGID, RIGID)):
        start, end = np.array(self.points[i]), np.array(self.points[j])
        if up is None:
            upright = np.hypot(*(end - start)[:2]) < 1e-9
            up = (1.0, 0.0, 0.0) if upright else (0.0, 0.0, 1.0)
        L, axes = elements.local_axes(start, end, up)
        s = section
        parts = ([s.EA], [s.GJ], [s.EI_y], [s.EI_z], [float(L)])
        springs = [tuple([k] for k in pair) for pair in (k_y, k_z)]
        coefficients = elements.member_coefficients(*parts, *springs)[0]
        self.members.append(Member(i, j, s, up, k_y, k_z, float(L), axes, coefficients))
        return len(self.members) - 1

    def chain(self, points, section=PLAIN, **kw):
        return [self.member(i, j, section, **kw) for i, j in pairwise(points)]

    def bar(self, i, j, EA=PLAIN.EA):
        """Only stretched: what a truss is made of."""
        return self.member(i, j, Section(EA, 0.0, 1.0, 1.0), k_y=(HINGE, HINGE), k_z=(HINGE, HINGE))

    def link(self, i, stiffness, j=GROUND):
        self.links.append(Link(i, j, tuple(map(float, stiffness))))

    def load(self, point, movement, value):
        self.loads.append((point, movement, value))

    @property
    def topology(self):
        joined = [*self.members, *self.links]
        fixed = np.zeros((len(self.points), 6), dtype=bool)
        for point, held in enumerate(self.held):
            fixed[point, list(held)] = True
        compatibility = [elements.member_compatibility(member.L, member.axes) for member in self.members]
        compatibility += [elements.link_compatibility() for _ in self.links]
        ends = np.array([(one.i, one.j) for one in joined], dtype=np.int64)
        return Topology(np.array(self.points), ends, np.array(compatibility), fixed)

    @property
    def coefficients(self):
        links = [elements.link_coefficients(link.stiffness) for link in self.links]
        return np.array([*(member.coefficients for member in self.members), *links])[:, :, None]

    @property
    def forces(self):
        """All loads in one column."""
        out = np.zeros((6 * len(self.points), 1))
        for point, movement, value in self.loads:
            out[6 * point + movement] += value
        return out

    def solved(self):
        topology, coefficients, loads = self.topology, self.coefficients, self.forces
        return Solved(self, topology, coefficients, loads, solve(topology, coefficients, loads))


@dataclass
class Solved:
    model: Model
    topology: Topology
    coefficients: np.ndarray
    loads: np.ndarray
    solution: Solution

    def u(self, point):
        return self.solution.movements[6 * point : 6 * point + 6, 0]

    def ends(self, element):
        """Forces and moments on both ends, global axes: 12 numbers."""
        return self.topology.compatibility[element].T @ self.solution.forces[element, :, 0]

    def local_ends(self, member):
        axes = self.model.members[member].axes
        return (self.ends(member).reshape(4, 3) @ axes.T).ravel()

    def reaction(self, point):
        """What the support adds: the elements' forces less the loads."""
        rows = slice(6 * point, 6 * point + 6)
        return (resultants(self.topology, self.solution.forces) - self.loads)[rows, 0]


# The parts of a rack of plain timber, N and m.
POST = Section(EA=7e7, GJ=8e3, EI_y=5.6e4, EI_z=5.6e4)
BEAM = Section(EA=6e7, GJ=5e3, EI_y=1.8e5, EI_z=1.2e4)
JOIST = Section(EA=5e7, GJ=4e3, EI_y=7e4, EI_z=6e3)
BRACE = Section(EA=3e6, GJ=1e3, EI_y=6e3, EI_z=1e3)


def rack(bays, inner=3, feet="links", uneven=0.0, bay=1.6, width=0.9, height=0.7, k=4e4):
    """Posts with a point at mid height, beams in two faces, joists on them, X-braces in the end bays and end frames.

    feet: `links` to the ground or `pins`. uneven: how much lower each foot line stands than the one before (m).
    k: rotational springs (N·m/rad) of the beams at the posts.
    """
    model = Model()
    foot, top, lines = {}, {}, range(bays + 1)
    for line in lines:
        for side in (0, 1):
            at = (line * bay, side * width)
            foot[line, side] = model.point(*at, -uneven * line, PIN if feet == "pins" else ())
            middle = model.point(*at, height / 2)
            top[line, side] = model.point(*at, height)
            model.chain([foot[line, side], middle, top[line, side]], POST)
    for b in range(bays):
        rows = []
        for side in (0, 1):
            inside = [model.point((b + (n + 1) / (inner + 1)) * bay, side * width, height) for n in range(inner)]
            row = [top[b, side], *inside, top[b + 1, side]]
            for n, (i, j) in enumerate(pairwise(row)):
                springs = (k if n == 0 else RIGID, k if n == inner else RIGID)
                model.member(i, j, BEAM, k_y=springs, k_z=springs)
            rows.append(inside)
            for point in inside:
                model.load(point, Z, -600.0)
        for i, j in zip(*rows, strict=True):
            model.member(i, j, JOIST, k_y=(HINGE, HINGE), k_z=(HINGE, HINGE))
    for line in lines:
        model.member(top[line, 0], top[line, 1], JOIST, k_y=(HINGE, HINGE), k_z=(HINGE, HINGE))
    crosses = [((b, side), (b + 1, side)) for b in sorted({0, bays - 1}) for side in (0, 1)]
    crosses += [((line, 0), (line, 1)) for line in (0, bays)]
    for here, there in crosses:
        for i, j in ((foot[here], top[there]), (foot[there], top[here])):
            model.member(i, j, BRACE, k_y=(HINGE, HINGE), k_z=(HINGE, HINGE))
    if feet == "links":
        for point in foot.values():
            model.link(point, (3e7, 3e7, 1e8, 2e4, 2e4, 1e3))
    for (line, side), point in top.items():
        model.load(point, X, 400.0 + 10 * line)
        model.load(point, Y, 150.0 - 20 * side)
        model.load(point, Z, -3000.0)
    return model
