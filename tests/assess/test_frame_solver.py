"""Laws of the frame solver: balance, reciprocity, scaling, no matter of order, of company or of direction."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from brimfast.assess.frame.elements import basic_forces, basis, link_compatibility, local_axes, member_compatibility
from brimfast.assess.frame.solve import resultants, root, solve, solve_many, strains
from brimfast.assess.frame.topology import GROUND
from tests.frames import FIX, FLAT, HINGE, RIGID, RX, RY, RZ, Model, Section, X, Y, Z, rack

SIZES = st.floats(1, 10)
SEEDS = st.integers(0, 2**32 - 1)


def random_frame(seed, up=None, turn=None):
    """A tree of members through space, some of them doubled, on one to three feet; springs at half of the ends."""
    rng = np.random.default_rng(seed)
    Q = np.eye(3) if turn is None else turn
    model, n = Model(), int(rng.integers(2, 14))
    places, feet = rng.permutation(64)[:n], int(rng.integers(1, min(4, n)))
    for number, place in enumerate(places):
        at = np.array([place % 4, place // 4 % 4, place // 16]) * 0.9 + rng.uniform(-0.2, 0.2, 3)
        model.point(*(Q @ at), FIX if number < feet else ())
    joined = [(int(rng.integers(0, j)), j) for j in range(1, n)]
    joined += [tuple(sorted(rng.choice(n, 2, replace=False).tolist())) for _ in range(int(rng.integers(0, n)))]
    for i, j in joined:
        section = Section(*(10 ** rng.uniform((6, 3, 3, 3), (8, 4, 5, 5))))
        springs = np.where(rng.random(4) < 0.5, RIGID, 10 ** rng.uniform(3, 6, 4))
        x = np.subtract(model.points[j], model.points[i])
        across = np.cross(Q.T @ x, rng.normal(size=3))
        model.member(i, j, section, up=tuple(Q @ across), k_y=tuple(springs[:2]), k_z=tuple(springs[2:]))
    for point in range(n):
        for start in (X, RX):
            for movement, value in enumerate(Q @ rng.normal(scale=500, size=3)):
                model.load(point, start + movement, value)
    return model


def dense(model):
    """K of the free movements, put together one element at a time."""
    topology, coefficients = model.topology, model.coefficients
    each = np.einsum("ek,ekab->eab", coefficients[:, :, 0], basis(topology.compatibility))
    K = np.zeros((topology.movements.max() + 1,) * 2)
    for rows, k in zip(topology.movements, each, strict=True):
        K[np.ix_(rows, rows)] += k
    free = np.flatnonzero(~topology.fixed.ravel())
    return K[np.ix_(free, free)], free


def variants(model, V, seed=0):
    """Coefficients and loads of V variants, each stiffness and load another."""
    rng = np.random.default_rng(seed)
    c, f = model.coefficients, model.forces
    return c * rng.uniform(0.5, 2, (len(c), 1, V)), f * rng.uniform(0.5, 2, (len(f), V))


def columns(solution, which):
    return solution.movements[:, which], solution.forces[:, :, which]


def same(ours, theirs, rel=1e-8):
    """Held against the largest, because what should be nothing is rounding."""
    for a, b in zip(ours, theirs, strict=True):
        assert np.abs(a - b).max() <= rel * np.abs(b).max()


class TestBalance:
    @settings(max_examples=60, deadline=None)
    @given(SEEDS)
    def test_random_frames(self, seed):
        model = random_frame(seed)
        out = model.solved()
        assert out.solution.stable.all()
        assert out.solution.residual.max() <= 1e-9
        added = resultants(out.topology, out.solution.forces) - out.loads
        assert np.abs(added[~out.topology.fixed.ravel()]).max() <= 1e-9 * np.abs(out.loads).max()

    @settings(max_examples=60, deadline=None)
    @given(SEEDS)
    def test_support_forces_balance_the_loads(self, seed):
        """As a whole, forces and moments about the origin."""
        out = random_frame(seed).solved()
        added = (resultants(out.topology, out.solution.forces) - out.loads).reshape(-1, 6) * out.topology.fixed
        forces, moments = np.split(added + out.loads.reshape(-1, 6), 2, axis=1)
        whole = [forces.sum(0), (moments + np.cross(out.topology.points, forces)).sum(0)]
        assert np.abs(whole).max() <= 1e-8 * np.abs(added).max()

    @settings(max_examples=60, deadline=None)
    @given(SEEDS)
    def test_stiffness_is_symmetric_positive_and_what_is_solved(self, seed):
        model = random_frame(seed)
        K, free = dense(model)
        assert np.abs(K - K.T).max() <= 1e-12 * np.abs(K).max()
        assert np.linalg.eigvalsh(K).min() > 0
        out = model.solved()
        u = np.linalg.solve(K, out.loads[free])
        assert out.loads[free, 0] @ u[:, 0] >= 0
        assert out.solution.movements[free] == pytest.approx(u, rel=1e-6, abs=1e-7 * np.abs(u).max())
        assert np.all(out.solution.movements[out.topology.fixed.ravel()] == 0)


class TestLaws:
    @settings(max_examples=40, deadline=None)
    @given(SEEDS, SEEDS)
    def test_reciprocity(self, seed, other):
        """Maxwell and Betti: the work of one set of loads over the other's movements is the same both ways."""
        model = random_frame(seed)
        f = np.random.default_rng(other).normal(size=(6 * len(model.points), 2))
        u = solve(model.topology, model.coefficients, f).movements
        work = f.T @ u
        assert abs(work[0, 1] - work[1, 0]) <= 1e-9 * np.sqrt(abs(work[0, 0] * work[1, 1])) + 1e-300

    @settings(max_examples=20, deadline=None)
    @given(SEEDS, SIZES)
    def test_loads_and_stiffness_scale(self, seed, size):
        model = random_frame(seed)
        topology, c, f = model.topology, model.coefficients, model.forces
        once, twice = solve(topology, c, f), solve(topology, size * c, size**2 * f)
        same((twice.movements, twice.forces), (size * once.movements, size**2 * once.forces))

    def test_loads_add_up(self):
        model = rack(2)
        f = np.random.default_rng(1).normal(size=(6 * len(model.points), 2))
        both = solve(model.topology, model.coefficients, np.column_stack([f, f.sum(1)]))
        same(columns(both, 2), (both.movements[:, :2].sum(1), both.forces[:, :, :2].sum(2)))

    @settings(max_examples=25, deadline=None)
    @given(SEEDS, st.tuples(*[st.floats(-3, 3)] * 3))
    def test_direction_in_space_is_of_no_matter(self, seed, angles):
        Q = np.eye(3)
        for axis, angle in enumerate(angles):
            c, s = np.cos(angle), np.sin(angle)
            turn = np.roll(np.roll([[1, 0, 0], [0, c, -s], [0, s, c]], axis, 0), axis, 1)
            Q = turn @ Q
        here, there = random_frame(seed).solved(), random_frame(seed, turn=Q).solved()
        turned = here.solution.movements.reshape(-1, 3) @ Q.T
        same((there.solution.forces, there.solution.movements.reshape(-1, 3)), (here.solution.forces, turned), rel=1e-7)

    @settings(max_examples=25, deadline=None)
    @given(SEEDS)
    def test_units(self, seed):
        """kN and mm instead of N and m."""
        model, other = random_frame(seed), Model()
        for place, held in zip(model.points, model.held, strict=True):
            other.point(*(1000 * np.array(place)), held)
        for m in model.members:
            EA, *rest = np.array([m.section.EA, m.section.GJ, m.section.EI_y, m.section.EI_z]) / (1, 1e-6, 1e-6, 1e-6)
            section = Section(EA / 1e3, *(np.array(rest) / 1e3))
            other.member(m.i, m.j, section, up=m.up, k_y=m.k_y, k_z=m.k_z)  # N·m/rad is kN·mm/rad
        for point, movement, value in model.loads:
            other.load(point, movement, value / 1000 if movement < RX else value)
        here, there = model.solved(), other.solved()
        u, v = here.solution.movements.reshape(-1, 2, 3), there.solution.movements.reshape(-1, 2, 3)
        q, r = here.solution.forces, there.solution.forces
        same((v[:, 0], v[:, 1], r[:, 0], r[:, 1:]), (1000 * u[:, 0], u[:, 1], q[:, 0] / 1000, q[:, 1:]), rel=1e-6)


class TestOrder:
    """In which order the points are numbered or eliminated changes nothing."""

    @pytest.mark.parametrize("V", [1, 30])
    def test_hints(self, V):
        model = rack(4)
        c, f = variants(model, V)
        plain = solve(model.topology, c, f)
        n = len(model.points)
        rng = np.random.default_rng(2)
        level = np.round(np.array(model.points)[:, 0] / 1.6).astype(int)
        hints = [
            {"first": np.zeros(n, int)},
            {"level": level},
            {"first": rng.integers(0, 4, n)},
            {"first": rng.integers(0, 2, n), "level": level},
            {"first": np.arange(1, n + 1)},
        ]
        for hint in hints:
            out = solve(replace(model.topology, **hint), c, f)
            assert out.stable.all()
            same((out.movements, out.forces), (plain.movements, plain.forces))

    @settings(max_examples=15, deadline=None)
    @given(SEEDS)
    def test_numbers_of_points_and_elements(self, seed):
        model, rng = random_frame(seed), np.random.default_rng(seed)
        topology, c, f = model.topology, model.coefficients, model.forces
        n, e = len(model.points), len(model.members)
        points, members = rng.permutation(n), rng.permutation(e)
        place = np.argsort(points)
        other = replace(
            topology,
            points=topology.points[points],
            ends=place[topology.ends[members]],
            compatibility=topology.compatibility[members],
            fixed=topology.fixed[points],
        )
        here = solve(topology, c, f)
        there = solve(other, c[members], f.reshape(n, 6, -1)[points].reshape(6 * n, -1))
        moved = there.movements.reshape(n, 6)[place].ravel()
        same((moved, there.forces[np.argsort(members)]), (here.movements[:, 0], here.forces))


class TestMany:
    """A variant has the same answer alone and in any company."""

    @pytest.mark.parametrize("V", [2, 7, 8, 20, 97, 260])
    def test_batch_is_as_each_alone(self, V):
        model = rack(3)
        topology, (c, f) = model.topology, variants(model, V)
        all_of_them = solve(topology, c, f)
        assert all_of_them.stable.all()
        for v in {0, 1, V // 2, V - 1}:
            one = solve(topology, c[:, :, [v]], f[:, [v]])
            same(columns(all_of_them, v), columns(one, 0))

    @pytest.mark.parametrize(("V", "workers"), [(1, 2), (97, 1), (250, 2), (250, 3)])
    def test_solve_many(self, V, workers):
        model = rack(2)
        topology, (c, f) = model.topology, variants(model, V)
        u, q = np.full((len(f), V), np.nan), np.full((len(c), 6, V), np.nan)

        def take(which, solution):
            u[:, which], q[:, :, which] = solution.movements, solution.forces

        solve_many(topology, V, lambda which: (c[:, :, which], f[:, which]), take, workers)
        out = solve(topology, c, f)
        same((u, q), (out.movements, out.forces))

    def test_errors_come_through(self):
        def make(which):
            raise ValueError("of the maker")

        with pytest.raises(ValueError, match="of the maker"):
            solve_many(rack(1).topology, 3, make, lambda *_: None)

    def test_no_variants(self):
        model = rack(1)
        solve_many(model.topology, 0, lambda _: 1 / 0, lambda *_: None)
        assert solve(model.topology, model.coefficients[:, :, :0], model.forces[:, :0]).stable.shape == (0,)

    @pytest.mark.parametrize("V", [3, 40])
    def test_one_stiffness_serves_all_loads(self, V):
        model = rack(2)
        c, (_, f) = model.coefficients, variants(model, V)
        one, each = solve(model.topology, c, f), solve(model.topology, np.repeat(c, V, axis=2), f)
        same((one.movements, one.forces), (each.movements, each.forces))

    @pytest.mark.parametrize("V", [3, 40])
    def test_variants_that_are_alike_come_out_as_each_by_itself(self, V):
        """Every third has the stiffness of another, loads are all their own, and the kinds are mixed."""
        model = rack(2)
        c, f = variants(model, V)
        c = c[:, :, np.random.default_rng(1).integers(0, max(V // 3, 1), V)]
        together = solve(model.topology, c, f)
        for which in range(V):
            alone = solve(model.topology, c[:, :, which : which + 1], f[:, which : which + 1])
            same(columns(together, [which]), columns(alone, [0]))

    def test_inputs_stay_as_they_are(self):
        model = rack(2)
        c, f = variants(model, 12)
        before = c.copy(), f.copy()
        solve(model.topology, c, f)
        assert np.array_equal(c, before[0])
        assert np.array_equal(f, before[1])


def four_bar(k=HINGE):
    """A plane portal with hinges (or springs k) at both ends of both posts."""
    model = Model()
    a, b = (model.point(x, 0, 0, (*FIX,)) for x in (0, 2))
    c, d = (model.point(x, 0, 1.5, FLAT) for x in (0, 2))
    for i, j in ((a, c), (b, d)):
        model.member(i, j, k_y=(k, k))
    model.member(c, d)
    return model, c, d


class TestMechanisms:
    @pytest.mark.parametrize("V", [1, 5, 12, 300])
    def test_sway_on_hinges(self, V):
        """Pushed it moves; pressed it stands, and each post carries what stands on it."""
        model, c, d = four_bar()
        topology, coefficients = model.topology, np.repeat(model.coefficients, V, axis=2)
        push, press = np.zeros((24, V)), np.zeros((24, V))
        push[6 * c + X] = 100
        press[6 * c + Z], press[6 * d + Z] = -100, -300
        assert not solve(topology, coefficients, push).stable.any()
        standing = solve(topology, coefficients, press)
        assert standing.stable.all()
        assert standing.forces[:2, 0] == pytest.approx(np.repeat([[-100.0], [-300.0]], V, axis=1), rel=1e-9)

    def test_springs_hold_it(self):
        """Both posts turn as rigid bodies where they are stiff: Δ = H h²/(4 k) with four springs k."""
        model, c, _ = four_bar(k=10.0)
        model.load(c, X, 1.0)
        out = model.solved()
        assert out.solution.stable.all()
        assert out.u(c)[X] == pytest.approx(1.5**2 / (4 * 10.0), rel=2e-3)  # the posts' bending: 3 EI/(k L) is 4e3

    @settings(max_examples=20, deadline=None)
    @given(SEEDS)
    def test_anyhow_turned_in_space(self, seed):
        """A square of hinged bars on two fixed points: out of its plane and in shear it moves, along its bars not."""
        Q, _ = np.linalg.qr(np.random.default_rng(seed).normal(size=(3, 3)))
        model = Model()
        square = (((0, 0, 0), FIX), ((1, 0, 0), FIX), ((1, 1, 0), ()), ((0, 1, 0), ()))
        a, b, c, d = (model.point(*(Q @ at), held) for at, held in square)
        for i, j in ((a, d), (b, c), (c, d)):
            model.member(i, j, up=tuple(Q[:, 2]), k_y=(HINGE, HINGE), k_z=(HINGE, HINGE))
        for load, stable in (((0, -1, 0), True), ((1, 0, 0), False), ((0, 0, 1), False)):
            model.loads = [(c, movement, value) for movement, value in enumerate(100 * (Q @ load))]
            assert model.solved().solution.stable.all() == stable

    @pytest.mark.parametrize("V", [1, 12, 300])
    def test_free_rotation(self, V):
        """The hinged point of a truss: no moment, no matter; a moment turns it without end."""
        model = Model()
        foot, tip = model.point(0, 0, 0, FIX), model.point(1, 0, 0.2, (Y,))
        model.bar(foot, tip)
        model.bar(model.point(0, 0, 1, FIX), tip)
        f = np.zeros((18, V))
        f[6 * tip + Z] = -100
        c = np.repeat(model.coefficients, V, axis=2)
        out = solve(model.topology, c, f)
        assert out.stable.all()
        assert np.all(out.forces[1, 0] > 0)
        f[6 * tip + RY] = 1e-3
        assert not solve(model.topology, c, f).stable.any()

    def test_point_that_nothing_holds(self):
        model = rack(2)
        lost = model.point(9, 9, 9)
        assert model.solved().solution.stable.all()
        model.load(lost, X, 1.0)
        assert not model.solved().solution.stable.any()

    @pytest.mark.parametrize("V", [1, 12, 300])
    def test_pair_on_a_spring(self, V):
        """Held together but not held: singular to the last bit. A pair of opposite forces stretches the spring."""
        model, k = Model(), 8.0
        i, j = (model.point(x, 0, 0, (Y, Z, RX, RY, RZ)) for x in (0, 1))
        model.link(i, (k, 0, 0, 0, 0, 0), j)
        c, f = np.repeat(model.coefficients, V, axis=2), np.zeros((12, V))
        f[X], f[6 + X] = -4.0, 4.0
        apart = solve(model.topology, c, f)
        assert apart.stable.all()
        assert apart.movements[6] - apart.movements[0] == pytest.approx(np.full(V, 4 / k), rel=1e-9)
        f[X] = 4.0
        assert not solve(model.topology, c, f).stable.any()

    @pytest.mark.parametrize("V", [6, 40, 300])
    def test_one_among_many(self, V):
        """The others are as if it were not there."""
        springs, hinges = four_bar(k=2e3)[0], four_bar()[0]
        c, f = variants(springs, V)[0], np.zeros((24, V))
        f[12 + X] = np.linspace(50, 500, V)
        bad = [1, V - 2]
        c[:, :, bad] = hinges.coefficients
        out = solve(springs.topology, c, f)
        assert np.flatnonzero(~out.stable).tolist() == bad
        good = np.flatnonzero(out.stable)
        alone = solve(springs.topology, c[:, :, good], f[:, good])
        same(columns(out, good), (alone.movements, alone.forces))

    @pytest.mark.parametrize("V", [2, 40, 300])
    def test_not_a_number_is_not_stable(self, V):
        model = rack(1)
        c, f = variants(model, V)
        c[3, 2, 1] = np.nan
        out = solve(model.topology, c, f)
        assert np.flatnonzero(~out.stable).tolist() == [1]

    def test_nothing_is_stiff(self):
        model = four_bar()[0]
        model.load(2, X, 1.0)
        assert not solve(model.topology, 0 * model.coefficients, model.forces).stable.any()

    def test_nothing_is_loaded(self):
        model = rack(1)
        model.loads = []
        solution = model.solved().solution
        assert solution.stable.all()
        assert not solution.movements.any()


class TestElements:
    @settings(max_examples=40, deadline=None)
    @given(SEEDS)
    def test_rigid_movements_strain_nothing(self, seed):
        rng = np.random.default_rng(seed)
        start, end, up, shift, turn = rng.normal(size=(5, 3))
        L, axes = local_axes(start, end, up)
        assert axes @ axes.T == pytest.approx(np.eye(3), abs=1e-12)
        assert np.linalg.det(axes) == pytest.approx(1)
        assert axes[2] @ up > 0
        u = np.concatenate([shift + np.cross(turn, start), turn, shift + np.cross(turn, end), turn])
        assert np.abs(member_compatibility(float(L), axes) @ u).max() < 1e-12 * (1 + np.abs(u).max() / float(L))

    def test_link_between_points(self):
        """What pulls at one end of a link pulls at the other; each of its six stiffnesses acts alone."""
        k = np.array([3.0, 5, 7, 11, 13, 17])
        model = Model()
        a, b = model.point(0, 0, 0, FIX), model.point(0, 0, 0)
        model.link(b, k, a)
        for movement in range(6):
            model.loads = [(b, movement, 2.0)]
            out = model.solved()
            expected = np.zeros(6)
            expected[movement] = 2 / k[movement]
            assert out.u(b) == pytest.approx(expected, abs=1e-12)
            assert out.reaction(a)[movement] == pytest.approx(-2.0)
        assert link_compatibility() @ np.tile(k, 2) == pytest.approx(np.zeros(6))

    def test_forces_are_gradients_of_energy(self):
        rng = np.random.default_rng(5)
        c, d = rng.uniform(1, 2, (3, 8, 4)), rng.normal(size=(3, 6, 4))
        q = basic_forces(c, d)
        assert q[:, 0] == pytest.approx(c[:, 0] * d[:, 0])
        assert q[:, 2] == pytest.approx(c[:, 2] * d[:, 2] + c[:, 3] * d[:, 3])
        assert q[:, 5] == pytest.approx(c[:, 6] * d[:, 4] + c[:, 7] * d[:, 5])

    def test_element_on_the_ground_alone_strains_as_its_end(self):
        model = Model()
        point = model.point(1, 2, 3)
        model.link(point, (1, 2, 3, 4, 5, 6))
        assert model.topology.ends.tolist() == [[0, GROUND]]
        u = np.arange(1.0, 7)[:, None]
        assert strains(model.topology, u)[0] == pytest.approx(-u)

    @pytest.mark.parametrize("N", [1, 30, 199, 200, 1000])
    def test_root(self, N):
        rng = np.random.default_rng(N)
        A = rng.normal(size=(N, 6, 9))
        A = A @ A.swapaxes(1, 2) * 10 ** rng.uniform(-3, 3, (N, 1, 1))
        R = root(A)
        assert np.array_equal(R, np.triu(R))
        assert R @ R.swapaxes(1, 2) @ A == pytest.approx(np.tile(np.eye(6), (N, 1, 1)), abs=1e-9)

    @pytest.mark.parametrize("N", [5, 500])
    def test_one_singular_matrix_leaves_the_others_alone(self, N):
        A = np.tile(4 * np.eye(6), (N, 1, 1))
        A[2] = 0
        with np.errstate(divide="ignore", invalid="ignore"):
            out = root(A)
        assert np.delete(out, 2, axis=0) == pytest.approx(np.tile(np.eye(6) / 2, (N - 1, 1, 1)))
        assert not np.isfinite(out[2]).all()
