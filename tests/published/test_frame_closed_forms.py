"""Frames against formulas that stand in handbooks and can be derived on a page. Loads act at points only.

Beams: AISC Steel Construction Manual, Table 3-23, by case; the same cases stand in any beam table. Where a formula
leaves out the shortening of members, they are made so stiff lengthwise that the rest lies below the tolerance.
"""

from itertools import pairwise

import numpy as np
import pytest

from brimfast.assess.frame.elements import bending, fixity
from tests.frames import FIX, FLAT, HINGE, PIN, RIGID, RX, RY, RZ, Model, Section, X, Y, Z

EI, GJ, L, P = 2.4e4, 3.1e3, 3.2, 700.0
SHAFT = Section(EA=3e7, GJ=GJ, EI_y=EI, EI_z=0.7e4)
ROLLER = (Z,)


def close(value):
    return pytest.approx(value, rel=1e-9, abs=1e-9 * np.abs(value).max())


def beam(held, ends=(RIGID, RIGID)):
    """In the x-z plane, of length L: share of L and held movements of each point, springs about y at both ends."""
    model = Model()
    points = [model.point(share * L, 0, 0, (*movements, *FLAT)) for share, movements in held.items()]
    for n, (i, j) in enumerate(pairwise(points)):
        springs = (ends[0] if n == 0 else RIGID, ends[1] if n == len(points) - 2 else RIGID)
        model.member(i, j, SHAFT, k_y=springs)
    return model


def loaded(model, *loads):
    for load in loads:
        model.load(*load)
    return model.solved()


class TestBeams:
    def test_force_at_the_end_of_a_cantilever(self):
        """Case 22: Δ = P L³/(3 EI), slope P L²/(2 EI), moment P L."""
        out = loaded(beam({0: FIX, 1: ()}), (1, Z, -P))
        assert out.u(1)[[Z, RY]] == close([-P * L**3 / (3 * EI), P * L**2 / (2 * EI)])
        assert out.reaction(0)[[Z, RY]] == close([P, -P * L])

    def test_moment_at_the_end_of_a_cantilever(self):
        """Δ = M L²/(2 EI), slope M L/EI (Roark, Table 8.1, case 3a, with the moment at the free end)."""
        out = loaded(beam({0: FIX, 1: ()}), (1, RY, P))
        assert out.u(1)[[Z, RY]] == close([-P * L**2 / (2 * EI), P * L / EI])

    def test_about_the_other_axis(self):
        """The same case about z: positive rotation about z lifts y, so the sign of the slope is the other one."""
        model = Model()
        model.member(model.point(0, 0, 0, FIX), model.point(L, 0, 0), SHAFT)
        out = loaded(model, (1, Y, -P))
        assert out.u(1)[[Y, RZ]] == close([-P * L**3 / (3 * SHAFT.EI_z), -P * L**2 / (2 * SHAFT.EI_z)])

    def test_two_equal_forces_on_a_simple_beam(self):
        """Case 9, at a = L/4: Δ in the middle P a (3 L² − 4 a²)/(24 EI), moment P a between the forces."""
        out = loaded(beam({0: PIN, 0.25: (), 0.5: (), 0.75: (), 1: ROLLER}), (1, Z, -P), (3, Z, -P))
        a = L / 4
        assert out.u(2)[Z] == close(-P * a * (3 * L**2 - 4 * a**2) / (24 * EI))
        assert np.abs(out.solution.forces[1, 2:4, 0]) == close(np.array([P * a, P * a]))

    def test_moment_at_the_end_of_a_beam_on_hinges(self):
        """Slopes M L/(3 EI) and −M L/(6 EI)."""
        out = loaded(beam({0: PIN, 1: ROLLER}), (0, RY, P))
        assert [out.u(0)[RY], out.u(1)[RY]] == close([P * L / (3 * EI), -P * L / (6 * EI)])

    def test_beam_of_hinged_ends_between_fixed_points(self):
        """Hinges at the ends make a simple beam of it: case 7, Δ = P L³/(48 EI), moment P L/4; no moment outside."""
        out = loaded(beam({0: FIX, 0.5: (), 1: FIX}, ends=(HINGE, HINGE)), (1, Z, -P))
        assert out.u(1)[Z] == close(-P * L**3 / (48 * EI))
        assert np.abs(out.solution.forces[0, 2:4, 0]) == close(np.array([0, P * L / 4]))

    def test_propped_cantilever(self):
        """Case 13: R = 5 P/16 at the prop, moment 3 P L/16 at the fixed end, Δ under the force 7 P L³/(768 EI)."""
        out = loaded(beam({0: FIX, 0.5: (), 1: ROLLER}), (1, Z, -P))
        assert out.reaction(2)[Z] == close(5 * P / 16)
        assert out.reaction(0)[RY] == close(-3 * P * L / 16)
        assert out.u(1)[Z] == close(-7 * P * L**3 / (768 * EI))

    def test_both_ends_fixed(self):
        """Case 16: moments P L/8, Δ = P L³/(192 EI)."""
        out = loaded(beam({0: FIX, 0.5: (), 1: FIX}), (1, Z, -P))
        assert out.reaction(0)[RY] == close(-P * L / 8)
        assert out.u(1)[Z] == close(-P * L**3 / (192 * EI))

    def test_two_spans_one_loaded(self):
        """Case 30: reactions 13/32 P, 11/16 P and −3/32 P, moment 3/32 P l over the middle, l the span."""
        out = loaded(beam({0: PIN, 0.25: (), 0.5: ROLLER, 1: ROLLER}), (1, Z, -P))
        reactions = [out.reaction(point)[Z] / P for point in (0, 2, 3)]
        assert reactions == close([13 / 32, 11 / 16, -3 / 32])
        assert abs(out.solution.forces[1, 3, 0]) == close(3 / 32 * P * L / 2)

    def test_springs_as_supports(self):
        """At a quarter of a beam on two springs k: they take 3 P/4 and P/4 by statics; the beam bends between them.

        Case 8 at a = L/4: P a² b²/(3 EI L) under the force, below the line of the two supports.
        """
        model, k = beam({0: (X,), 0.25: (), 1: ()}), 2.5e4
        for point in (0, 2):
            model.link(point, (0, 0, k, 0, 0, 0))
        out = loaded(model, (1, Z, -P))
        assert [out.ends(2)[2], out.ends(3)[2]] == close(np.array([-3 * P / 4, -P / 4]))
        line = 3 / 4 * 3 * P / (4 * k) + 1 / 4 * P / (4 * k)
        assert out.u(1)[Z] == close(-(line + P * (L / 4) ** 2 * (3 * L / 4) ** 2 / (3 * EI * L)))


class TestTorsion:
    def test_shaft(self):
        """Twist T L/GJ (Roark, section 10.2)."""
        model = Model()
        model.chain([model.point(0, 0, 0, FIX), model.point(0.3 * L, 0, 0), model.point(L, 0, 0)], SHAFT)
        out = loaded(model, (2, RX, P))
        assert [out.u(1)[RX], out.u(2)[RX]] == close([0.3 * P * L / GJ, P * L / GJ])

    @pytest.mark.parametrize("turn", [0.0, 0.4, 2.0])
    def test_bent_of_two_arms(self, turn):
        """Level right-angle bent, fixed at one end, P down at the other: Δ = P a³/3EI + P b³/3EI + P b² a/GJ.

        By superposition: both arms as cantilevers, and the first twisted by P b over a, which b carries to its end.
        """
        a, b = 1.4, 0.9
        along, across = np.array([np.cos(turn), np.sin(turn), 0]), np.array([-np.sin(turn), np.cos(turn), 0])
        model = Model()
        corner = model.point(*(a * along))
        foot, tip = model.point(0, 0, 0, FIX), model.point(*(a * along + b * across))
        model.member(foot, corner, SHAFT)
        model.member(corner, tip, SHAFT)
        out = loaded(model, (tip, Z, -P))
        assert out.u(tip)[Z] == close(-P * (a**3 / (3 * EI) + b**3 / (3 * EI) + b**2 * a / GJ))
        expected = np.concatenate([[0, 0, P], np.cross(a * along + b * across, [0, 0, P])])
        assert out.reaction(foot) == close(expected)


class TestSemiRigid:
    """Monforton and Wu, 1963 (from memory; each also follows from the simple beam's slopes and the springs)."""

    def test_limits(self):
        rigid, hinge = np.inf, 0.0
        assert np.array(bending(EI, L, rigid, rigid)) * L / EI == close(np.array([4, 2, 4]))
        assert np.array(bending(EI, L, rigid, hinge)) * L / EI == close(np.array([3, 0, 0]))
        assert np.array(bending(EI, L, hinge, rigid)) * L / EI == close(np.array([0, 0, 3]))
        assert np.array(bending(EI, L, hinge, hinge)) == pytest.approx([0, 0, 0])
        assert fixity(3 * EI / L, EI, L) == close(0.5)

    @pytest.mark.parametrize(("k_i", "k_j"), [(1e3, 1e3), (5e3, 8e4), (1e-3, 2e4), (3e7, 1e2)])
    def test_stiffness_is_the_inverse_of_flexibilities(self, k_i, k_j):
        """Slopes of a simple beam under end moments, and of the springs: L/EI (1/3, −1/6) + 1/k."""
        F = L / (6 * EI) * np.array([[2, -1], [-1, 2]]) + np.diag([1 / k_i, 1 / k_j])
        ii, ij, jj = bending(EI, L, k_i, k_j)
        assert np.array([[ii, ij], [ij, jj]]) == close(np.linalg.inv(F))

    @pytest.mark.parametrize("r", [0.02, 0.3, 0.5, 0.9, 0.999])
    def test_force_in_the_middle(self, r):
        """Equal springs of fixity r: end moments P L/8 · 3 r/(2 + r); P L/4 less than that in the middle.

        Δ = P L³/(48 EI) − M L²/(8 EI): the simple beam, less the arc of the end moments.
        """
        k = 3 * EI / L * r / (1 - r)
        out = loaded(beam({0: FIX, 0.5: (), 1: FIX}, ends=(k, k)), (1, Z, -P))
        M = P * L / 8 * 3 * r / (2 + r)
        assert out.reaction(0)[RY] == close(-M)
        assert abs(out.solution.forces[0, 3, 0]) == close(P * L / 4 - M)
        assert out.u(1)[Z] == close(-(P * L**3 / (48 * EI) - M * L**2 / (8 * EI)))

    def test_cantilever_on_a_spring(self):
        """The end goes down by P L³/(3 EI) and the spring turns by P L/k."""
        k = 4e3
        out = loaded(beam({0: FIX, 1: ()}, ends=(k, RIGID)), (1, Z, -P))
        assert out.u(1)[Z] == close(-(P * L**3 / (3 * EI) + P * L**2 / k))


class TestPortals:
    """Kleinlogel, Rigid Frame Formulas, frames of two posts (from memory), k = I_b h/(I_c L).

    They follow from slopes at the corner: half the frame, with the point of no moment in the middle of the beam.
    """

    h, EI_c, EI_b = 2.3, 1.7e4, 5.1e4

    @property
    def k(self):
        return self.EI_b * self.h / (self.EI_c * L)

    def portal(self, feet):
        model = Model()
        a, b = (model.point(x, 0, 0, (*feet, *FLAT)) for x in (0, L))
        c, m, d = (model.point(x, 0, self.h, FLAT) for x in (0, L / 2, L))
        post = Section(1e12, GJ, self.EI_c, self.EI_c)
        model.member(a, c, post)
        model.member(b, d, post)
        model.chain([c, m, d], Section(1e12, GJ, self.EI_b, self.EI_b))
        return model, (a, b, c, m, d)

    def near(self, value):
        return pytest.approx(value, rel=1e-6)  # EI/(EA h²): what is left of shortening is 1e-8

    def test_sway_on_pins(self):
        """Δ = H h³/(12 EI_c) (2 + 1/k); the feet lift and press by H h/L."""
        model, (a, b, c, _, d) = self.portal(PIN)
        out = loaded(model, (c, X, P / 2), (d, X, P / 2))
        assert out.u(c)[X] == self.near(P * self.h**3 / (12 * self.EI_c) * (2 + 1 / self.k))
        assert out.reaction(a)[[X, Z]] == self.near([-P / 2, -P * self.h / L])
        assert out.reaction(b)[[X, Z]] == self.near([-P / 2, P * self.h / L])

    def test_sway_on_fixed_feet(self):
        """Moments P h/2 (3 k + 1)/(6 k + 1) at the feet, P h/2 · 3 k/(6 k + 1) at the corners.

        Δ = P h³/(12 EI_c) (3 k + 2)/(6 k + 1): two clamped posts where the beam is stiff, two cantilevers where it is
        limp.
        """
        model, (a, _, c, _, d) = self.portal(FIX)
        out, k = loaded(model, (c, X, P / 2), (d, X, P / 2)), self.k
        assert out.u(c)[X] == self.near(P * self.h**3 / (12 * self.EI_c) * (3 * k + 2) / (6 * k + 1))
        assert out.reaction(a)[RY] == self.near(-P * self.h / 2 * (3 * k + 1) / (6 * k + 1))
        assert abs(out.local_ends(0)[10]) == self.near(P * self.h / 2 * 3 * k / (6 * k + 1))
        assert out.reaction(a)[Z] == self.near(-P * self.h / L * 3 * k / (6 * k + 1))

    def test_force_on_the_beam(self):
        """In its middle: thrust 3 P L/(8 h (2 k + 3)) on pins, 3 P L/(8 h (k + 2)) on fixed feet.

        On fixed feet the moments are P L/(8 (k + 2)) below and twice that at the corners.
        """
        model, (a, _, _, m, _) = self.portal(PIN)
        assert loaded(model, (m, Z, -P)).reaction(a)[X] == self.near(3 * P * L / (8 * self.h * (2 * self.k + 3)))
        model, (a, _, _, m, _) = self.portal(FIX)
        out = loaded(model, (m, Z, -P))
        assert out.reaction(a)[X] == self.near(3 * P * L / (8 * self.h * (self.k + 2)))
        assert abs(out.reaction(a)[RY]) == self.near(P * L / (8 * (self.k + 2)))
        assert abs(out.local_ends(0)[10]) == self.near(P * L / (4 * (self.k + 2)))


class TestTrusses:
    def test_method_of_joints(self):
        """Three panels of 4 m, 3 m high; 12 down on the first lower joint b, 6 on the second c; the diagonal is b-f.

        Reactions (12 · 8 + 6 · 4)/12 = 10 and 8. Foot a: slope −10 · 5/3, lower bar 10 · 4/3; top e: post 10, upper bar
        −40/3; b: the diagonal lifts 12 − 10 = 2, so 2 · 5/3; c: post 6; foot d: slope −8 · 5/3, lower bars 8 · 4/3.
        The unit load at b, for the deflection there, by the same steps.
        """
        model, EA = Model(), 2e7
        a, b, c, d = (
            model.point(4 * n, 0, 0, (*FIX,) if n == 0 else ((Z, *FLAT, RY) if n == 3 else (*FLAT, RY)))
            for n in range(4)
        )
        e, f = model.point(4, 0, 3, (*FLAT, RY)), model.point(8, 0, 3, (*FLAT, RY))
        bars = [(a, e), (a, b), (b, e), (b, c), (b, f), (e, f), (c, f), (c, d), (f, d)]
        for i, j in bars:
            model.bar(i, j, EA)
        out = loaded(model, (b, Z, -12.0), (c, Z, -6.0))
        N = np.array([-50 / 3, 40 / 3, 10, 32 / 3, 10 / 3, -40 / 3, 6, 32 / 3, -40 / 3])
        assert out.solution.forces[:, 0, 0] == close(N)
        assert [out.reaction(a)[Z], out.reaction(d)[Z]] == close([10, 8])
        n = np.array([-10 / 9, 8 / 9, 2 / 3, 4 / 9, 5 / 9, -8 / 9, 0, 4 / 9, -5 / 9])
        lengths = np.array([5, 4, 3, 4, 5, 4, 3, 4, 5])
        assert out.u(b)[Z] == close(-(N * n * lengths).sum() / EA)  # Σ N n L/EA

    def test_tripod(self):
        """Three equal legs, symmetric, height H over a circle of radius R: each carries −P l/(3 H), Δ = P l³/(3 EA H²)."""
        model, EA, R, H = Model(), 5e6, 0.8, 1.7
        tip = model.point(0, 0, H, (RX, RY, RZ))
        for n in range(3):
            angle = 0.3 + 2 * np.pi * n / 3
            model.bar(model.point(R * np.cos(angle), R * np.sin(angle), 0, FIX), tip, EA)
        out, leg = loaded(model, (tip, Z, -P)), np.hypot(R, H)
        assert out.solution.forces[:, 0, 0] == close(np.full(3, -P * leg / (3 * H)))
        assert out.u(tip)[Z] == close(-P * leg**3 / (3 * EA * H**2))


def test_table_sways_and_turns():
    """Four legs clamped below and in a stiff top: 12 EI/h³ each way and leg; turned by M/(4 (12 EI/h³ r² + GJ/h)).

    The legs stand at the corners of a square at r from its middle.
    """
    model, h, a = Model(), 0.8, 0.6
    leg = Section(1e12, GJ, EI, EI)
    middle = model.point(0, 0, h)
    for x, y in ((a, a), (-a, a), (-a, -a), (a, -a)):
        top = model.point(x, y, h)
        model.member(model.point(x, y, 0, FIX), top, leg)
        model.member(middle, top, Section(1e12, 1e12, 1e12, 1e12))
    k = 12 * EI / h**3
    out = loaded(model, (middle, X, P), (middle, RZ, P))
    assert out.u(middle)[X] == pytest.approx(P / (4 * k), rel=1e-6)
    assert out.u(middle)[RZ] == pytest.approx(P / (4 * (k * 2 * a**2 + GJ / h)), rel=1e-6)
