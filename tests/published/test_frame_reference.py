"""Frames against PyNiteFEA, a general-purpose frame library: movements, support forces and member end forces.

Both solve the same equations (no shear deformation, first order), so they agree to rounding. The figures are held
against the largest of their kind: movements, rotations, forces and moments each on their own. 1e-6 leaves room for the
conditioning of the stiffest frames here.
"""

import warnings

import numpy as np
import pytest

from tests.frames import (
    FIX,
    FLAT,
    HINGE,
    PIN,
    PLAIN,
    RIGID,
    RX,
    RY,
    RZ,
    Model,
    Section,
    X,
    Y,
    Z,
    rack,
)

with warnings.catch_warnings():
    warnings.simplefilter("ignore")  # not ours
    from Pynite import FEModel3D

TOLERANCE = 1e-6
MOVEMENTS = ("DX", "DY", "DZ", "RX", "RY", "RZ")
FORCES = ("FX", "FY", "FZ", "MX", "MY", "MZ")
CASE = "Combo 1"
SKEW = Section(EA=4e7, GJ=3e3, EI_y=6e4, EI_z=8e3)


class Reference:
    """The same frame in the other library."""

    def __init__(self, model):
        self.model, self.other = model, FEModel3D()
        other = self.other
        other.add_material("one", 1.0, 1.0, 0.0, 0.0)  # so that a section's numbers are its stiffnesses
        for number, place in enumerate(model.points):
            other.add_node(f"n{number}", *place)
            if model.held[number]:
                other.def_support(f"n{number}", *(movement in model.held[number] for movement in range(6)))
        for number, member in enumerate(model.members):
            s = member.section
            other.add_section(f"s{number}", s.EA, s.EI_y, s.EI_z, s.GJ)
            other.add_member(f"m{number}", f"n{member.i}", f"n{member.j}", "one", f"s{number}")
            self.turn(other.members[f"m{number}"], member)
            release = [k == HINGE for k in (member.k_y[0], member.k_z[0], member.k_y[1], member.k_z[1])]
            assert all(k in (HINGE, RIGID) for k in (*member.k_y, *member.k_z))
            names = ("Ryi", "Rzi", "Ryj", "Rzj")
            other.def_releases(f"m{number}", **dict(zip(names, release, strict=True)))
        for link in model.links:
            for name, k in zip(MOVEMENTS, link.stiffness, strict=True):
                if k:
                    other.def_support_spring(f"n{link.i}", name, k)
        for point, movement, value in model.loads:
            other.add_node_load(f"n{point}", FORCES[movement], value)
        other.analyze_linear()

    @staticmethod
    def turn(theirs, ours):
        """Its local axes follow a rule of its own: turned about the member until they are ours."""
        x, y, z = theirs.T()[:3, :3]
        assert x == pytest.approx(ours.axes[0], abs=1e-12)
        theirs.rotation = np.degrees(np.arctan2(ours.axes[1] @ z, ours.axes[1] @ y))
        assert theirs.T()[:3, :3] == pytest.approx(ours.axes, abs=1e-12)

    def u(self, point):
        node = self.other.nodes[f"n{point}"]
        return np.array([getattr(node, name)[CASE] for name in MOVEMENTS])

    def reaction(self, point):
        node = self.other.nodes[f"n{point}"]
        return np.array([getattr(node, f"Rxn{name}")[CASE] for name in FORCES])

    def local_ends(self, member):
        (only,) = self.other.members[f"m{member}"].sub_members.values()
        return only.f(CASE).ravel()


def close(ours, theirs, what):
    """Triples of like numbers: the odd ones are of another kind than the even ones."""
    ours, theirs = (np.array(rows).reshape(len(rows), -1, 2, 3) for rows in (ours, theirs))
    for kind in (0, 1):
        a, b = ours[:, :, kind], theirs[:, :, kind]
        scale = max(np.abs(b).max(), 1e-6 * np.abs(theirs).max())  # a kind that does not occur is rounding
        worst = np.abs(a - b).max() / scale
        assert worst < TOLERANCE, f"{what}: {worst:.1e} of {scale:.3g}"


def cantilever():
    model = Model()
    model.chain([model.point(0, 0, 0, FIX), model.point(1.2, 0, 0), model.point(2.0, 0, 0)])
    for movement, value in enumerate((500, 200, -900, 40, 25, -30)):
        model.load(2, movement, value)
    return model


def portal(feet=FIX, braces=0, storeys=1):
    """Plane, 3 m wide, storeys of 2.5 m, in the x-z plane."""
    model = Model()
    held = tuple(set(feet) | set(FLAT))
    floors = [(model.point(0, 0, 0, held), model.point(3, 0, 0, held))]
    for storey in range(storeys):
        level = 2.5 * (storey + 1)
        below, floor = floors[-1], (model.point(0, 0, level, FLAT), model.point(3, 0, level, FLAT))
        model.member(below[0], floor[0])
        model.member(below[1], floor[1], Section(5e7, 3e3, 3e4, 5e3))
        model.member(*floor, Section(6e7, 4e3, 8e4, 9e3))
        for i, j in [(below[0], floor[1]), (below[1], floor[0])][:braces]:
            model.bar(i, j, 5e6)
        model.load(floor[0], X, 1000.0 * (storey + 1))
        model.load(floor[1], Z, -4000.0)
        model.load(floor[1], RY, 300.0)
        floors.append(floor)
    return model


def space_truss():
    """A tripod with a ring: bars only, rotations held."""
    model, turns = Model(), (RX, RY, RZ)
    feet = [model.point(np.cos(a), np.sin(a), 0.1 * a, FIX) for a in (0.0, 2.2, 4.1)]
    ring = [model.point(0.6 * np.cos(a), 0.6 * np.sin(a), 1.0, turns) for a in (0.3, 2.4, 4.4)]
    tip = model.point(0.1, 0.05, 1.9, turns)
    for n in range(3):
        model.bar(feet[n], ring[n])
        model.bar(feet[n], ring[(n + 1) % 3], 1e7)
        model.bar(ring[n], ring[(n + 1) % 3], 2e7)
        model.bar(ring[n], tip)
    model.load(tip, X, 800)
    model.load(tip, Y, -300)
    model.load(ring[1], Z, -2000)
    return model


def table():
    model = Model()
    corners = ((0, 0), (1.5, 0), (1.5, 0.8), (0, 0.8))
    feet = [model.point(x, y, 0, PIN) for x, y in corners]
    tops = [model.point(x, y, 0.75) for x, y in corners]
    for foot, top in zip(feet, tops, strict=True):
        model.member(foot, top, SKEW)
    model.chain([*tops, tops[0]], SKEW)
    for n, top in enumerate(tops):
        model.load(top, Z, -1000.0 - 200 * n)
    model.load(tops[0], X, 300)
    model.load(tops[1], Y, 120)
    return model


def rack_of(bays, feet, uneven=0.0):
    return rack(bays, inner=3, feet=feet, uneven=uneven, k=RIGID)


def hinges():
    """A gable of two storeys with a hinge at the ridge, one in a beam, and a post of one hinged foot."""
    model = Model()
    a, b = model.point(0, 0, 0, (*PIN, RX, RZ)), model.point(4, 0, 0, FIX)
    c, d = model.point(0, 0, 2.5, FLAT), model.point(4, 0, 2.5, FLAT)
    ridge = model.point(2, 0, 3.6, FLAT)
    middle = model.point(2, 0, 2.5, FLAT)
    model.member(a, c)
    model.member(b, d)
    model.member(c, ridge, k_y=(RIGID, HINGE))
    model.member(ridge, d)
    model.member(c, middle, k_y=(HINGE, RIGID))
    model.member(middle, d)
    model.load(ridge, Z, -3000)
    model.load(middle, Z, -700)
    model.load(c, X, 500)
    return model


def springs():
    """Four posts with a frame on top, on springs of all six kinds, each foot another; unlike EI_y and EI_z."""
    model = table()
    model.held = [() for _ in model.points]
    for n in range(4):
        model.link(n, (2e5 + 1e4 * n, 3e5, 4e6 * (n + 1), 2e3, 3e3 + 100 * n, 500))
    return model


def skew():
    """A chain through space, each member turned about itself."""
    model = Model()
    places = ((0, 0, 0), (0.9, 0.4, 0.3), (1.1, 1.2, 1.4), (0.2, 1.9, 1.0), (-0.3, 1.1, 2.2))
    points = [model.point(*place, FIX if n in (0, 4) else ()) for n, place in enumerate(places)]
    ups = ((0, 0, 1), (1, 0.3, 0), (0.2, -1, 0.5), (1, 1, 1))
    for n, up in enumerate(ups):
        model.member(points[n], points[n + 1], Section(4e7 / (n + 1), 3e3, 6e4, 8e3 * (n + 1)), up=up)
    free = model.point(1.8, 2.0, 1.7)
    model.member(points[2], free, SKEW, up=(0, 1, 1), k_y=(RIGID, HINGE))
    model.member(free, points[3], SKEW, up=(1, 0, 1))
    for movement, value in enumerate((300, -500, -900, 60, -40, 80)):
        model.load(points[2], movement, value)
    model.load(free, Z, -400)
    return model


def continuous_beam():
    model = Model()
    points = [model.point(1.3 * n, 0, 0, (X, Y, RX, RZ) if n == 0 else (Y, RX, RZ)) for n in range(8)]
    model.chain(points)
    for n in (0, 2, 5, 7):
        model.link(points[n], (0, 0, 4e5 + 5e4 * n, 0, 0, 0))
    for n, point in enumerate(points):
        model.load(point, Z, -300.0 * (n + 1))
    model.load(points[7], RY, 250)
    model.load(points[7], X, 150)
    return model


FRAMES = {
    "cantilever": cantilever,
    "fixed portal": portal,
    "pinned portal": lambda: portal(PIN),
    "braced portal": lambda: portal(PIN, braces=1),
    "x-braced portal": lambda: portal(PIN, braces=2),
    "portal of two storeys": lambda: portal(storeys=2),
    "braced portal of three storeys": lambda: portal(braces=2, storeys=3),
    "space truss": space_truss,
    "table": table,
    "rack of two bays": lambda: rack_of(2, "pins"),
    "rack of four bays on springs": lambda: rack_of(4, "links"),
    "rack with uneven feet": lambda: rack_of(3, "pins", uneven=0.06),
    "hinges": hinges,
    "spring supports": springs,
    "skew members": skew,
    "continuous beam on springs": continuous_beam,
}


@pytest.mark.parametrize("name", FRAMES)
def test_same_as_reference(name):
    model = FRAMES[name]()
    ours, theirs = model.solved(), Reference(model)
    assert ours.solution.stable.all()
    points = range(len(model.points))
    close([ours.u(point) for point in points], [theirs.u(point) for point in points], "movements")
    members = range(len(model.members))
    close([ours.local_ends(n) for n in members], [theirs.local_ends(n) for n in members], "end forces")
    held = [point for point in points if model.held[point]]
    if held:
        # The other library also counts the spring of a point as its reaction: only held movements are compared.
        masks = [np.isin(range(6), model.held[point]) for point in held]
        mine = [mask * ours.reaction(point) for mask, point in zip(masks, held, strict=True)]
        other = [mask * theirs.reaction(point) for mask, point in zip(masks, held, strict=True)]
        close(mine, other, "supports")
    if model.links:
        first = len(model.members)
        links = [ours.ends(first + n)[:6] for n in range(len(model.links))]
        close(links, [np.multiply(link.stiffness, theirs.u(link.i)) for link in model.links], "springs")


STUB = 1e-3  # m


@pytest.mark.parametrize("k", [2e3, 2e4, 4e5])
def test_semi_rigid_portal(k):
    """The other library has no rotational end springs: a stub of length s with EI = k s stands in for each.

    The stub takes s of the beam's 3 m away, so the two frames differ by a few times s over 3 m: 0.4 % is allowed.
    """
    ours, other = Model(), Model()
    held = tuple(set(PIN) | set(FLAT))
    for model in (ours, other):
        a, b = model.point(0, 0, 0, held), model.point(3, 0, 0, held)
        c, d = model.point(0, 0, 2.5, FLAT), model.point(3, 0, 2.5, FLAT)
        model.member(a, c)
        model.member(b, d)
        model.load(c, X, 1000)
        model.load(d, Z, -500)
    ours.member(c, d, k_y=(k, k / 2), k_z=(k, k / 2))
    e, f = other.point(STUB, 0, 2.5, FLAT), other.point(3 - STUB, 0, 2.5, FLAT)
    for i, j, spring in ((c, e, k), (f, d, k / 2)):
        other.member(i, j, Section(PLAIN.EA, PLAIN.GJ, spring * STUB, spring * STUB))
    other.member(e, f)
    mine, theirs = ours.solved(), Reference(other)
    for point in (c, d):
        for movement in (X, RY):
            assert mine.u(point)[movement] == pytest.approx(theirs.u(point)[movement], rel=0.004)
    for member in (0, 1):
        assert mine.local_ends(member)[10] == pytest.approx(theirs.local_ends(member)[10], rel=0.004)
    for point in (a, b):
        assert mine.reaction(point)[[X, Z]] == pytest.approx(theirs.reaction(point)[[X, Z]], rel=0.004)
    rigid = portal(PIN)
    rigid.loads = list(ours.loads)
    assert abs(mine.u(c)[X]) > abs(rigid.solved().u(c)[X])
