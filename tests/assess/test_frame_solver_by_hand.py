"""The solver by hand: springs, a cantilever, small graphs; its steps against a dense matrix and numpy's own solver."""

from dataclasses import replace

import numpy as np
import pytest

from brimfast.assess.frame.solve import (
    BALANCES,
    CLOSES,
    FEW,
    SWEPT,
    _attempt,
    _different,
    _shared,
    assemble,
    factorise,
    root,
    solve,
    solve_many,
    substitute,
)
from brimfast.assess.frame.topology import GROUND, Topology, _eliminate
from tests.frames import FIX, HINGE, PLAIN, RX, RY, RZ, Model, X, Y, Z

ALONG = (Y, Z, RX, RY, RZ)  # held, so that only x is left
ODD = (3.0, 5.0, 7.0, 11.0, 13.0, 17.0)


def springs(*pairs, points):
    """Points that move along x only, springs between pairs of them, or from one to the ground; 1 N/m each."""
    model = Model()
    for at in range(points):
        model.point(at, 0, 0, ALONG)
    for i, j in pairs:
        model.link(i, (1, 0, 0, 0, 0, 0), j)
    return model.topology


def stiff(*rows):
    """Coefficients of such springs: a row for each, a column for each variant (N/m)."""
    k = np.array(rows, float)
    out = np.zeros((len(k), 8, k.shape[1]))
    out[:, 0] = k
    return out


def pushed(*rows):
    """Loads (N) along x: a row for each point, a column for each variant."""
    f = np.array(rows, float)
    out = np.zeros((len(f), 6, f.shape[1]))
    out[:, X] = f
    return out.reshape(6 * len(f), -1)


def frame(V):
    """Nine points in a bent grid with members and a link, two feet, and V variants of all stiffnesses and loads."""
    rng = np.random.default_rng(V)
    model = Model()
    for row in range(3):
        for column in range(3):
            model.point(column, row, 0.1 * row * column, FIX if row == 0 and column != 1 else ())
    for i in range(9):
        for j in (i + 1, i + 3, i + 4):
            if j < 9 and not (i % 3 == 2 and j != i + 3):
                model.member(i, j)
    model.link(1, ODD)
    c = model.coefficients * rng.uniform(0.5, 2, (len(model.members) + 1, 1, V))
    return model.topology, c, rng.normal(size=(54, V)) * ~model.topology.fixed.reshape(54, 1)


def dense(topology, coefficients, soft):
    """K (V, 6 n, 6 n), one element after another, and the springs: of all that stands beside a shift (a turn) the most."""
    n, V = len(topology.points), coefficients.shape[2]
    K, free = np.zeros((V, 6 * n, 6 * n)), ~topology.fixed.ravel()
    for v in range(V):
        most = np.zeros(2)
        for A, ends, c in zip(topology.compatibility, topology.ends, coefficients[:, :, v], strict=True):
            places = np.concatenate([6 * end + np.arange(6) for end in ends if end != GROUND])
            A = A[:, : len(places)] * free[places]
            S = np.diag(c[[0, 1, 2, 4, 5, 7]])
            S[2, 3], S[3, 2], S[4, 5], S[5, 4] = c[3], c[3], c[6], c[6]
            K[v][np.ix_(places, places)] += A.T @ S @ A
            for a, b, k in zip((0, 1, 2, 2, 3, 4, 4, 5), (0, 1, 2, 3, 3, 4, 5, 5), c, strict=True):
                own = (k * A[a] * A[b] * (1 if a == b else 2)).reshape(-1, 2, 3)
                most = np.maximum(most, own.max(axis=(0, 2)))
        K[v] += np.diag(np.where(free, 0.0, 1.0) + soft * np.tile(np.repeat(most, 3), n))
    return K


def unfolded(plan, store):
    """The blocks of the plan as a whole K, in the order of the points."""
    n, V = len(plan.order), store.shape[1]
    K = np.zeros((V, n, 6, n, 6))
    for point in range(n):
        K[:, plan.order[point], :, plan.order[point]] += store[point]
    for each in plan.rounds:
        for block, point, near in zip(store[each.blocks], each.point + each.own.start, each.near, strict=True):
            K[:, plan.order[point], :, plan.order[near]] += block
            K[:, plan.order[near], :, plan.order[point]] += block.swapaxes(1, 2)
    return K.reshape(V, 6 * n, 6 * n)


def close(ours, theirs, rel=1e-10):
    return np.abs(ours - theirs).max() <= rel * np.abs(theirs).max()


class TestRoot:
    @pytest.mark.parametrize("shape", [(4,), (3, 5), (SWEPT - 1,), (SWEPT,), (2, SWEPT)])
    def test_is_that_of_numpy(self, shape):
        """The inverse of Cholesky's upper factor, of few and of many matrices."""
        B = np.random.default_rng(1).normal(size=(*shape, 6, 9))
        A = B @ np.moveaxis(B, -1, -2)
        upper = np.moveaxis(np.linalg.cholesky(A), -1, -2)
        assert close(root(A), np.linalg.inv(upper), 1e-9)

    @pytest.mark.parametrize("shape", [(4,), (1, 4), (SWEPT,)])
    def test_of_a_diagonal(self, shape):
        A = np.tile(np.diag([1.0, 4, 9, 16, 25, 100]), (*shape, 1, 1))
        assert close(root(A), np.tile(np.diag([1, 1 / 2, 1 / 3, 1 / 4, 1 / 5, 1 / 10]), (*shape, 1, 1)))

    @pytest.mark.parametrize("N", [3, SWEPT])
    def test_of_one_that_is_not_positive_definite(self, N):
        """It has none; those beside it have theirs."""
        A = np.tile(4 * np.eye(6), (N, 1, 1))
        A[1, 2, 2] = -4
        with np.errstate(divide="ignore", invalid="ignore"):
            out = root(A)
        assert not np.isfinite(out[1]).all()
        assert close(np.delete(out, 1, axis=0), np.tile(np.eye(6) / 2, (N - 1, 1, 1)))


class TestAssembled:
    @pytest.mark.parametrize("V", [1, 3])
    @pytest.mark.parametrize("soft", [0.0, 0.5])
    def test_is_the_dense_matrix(self, V, soft):
        topology, c, _ = frame(V)
        assert close(unfolded(topology.plan, assemble(topology.plan, c, soft)), dense(topology, c, soft))

    def test_soft_springs(self):
        """Half of the stiffest shift (7 and 14) and of the stiffest turn (17 and 34) of the variant."""
        model = Model()
        model.point(0, 0, 0)
        model.link(0, ODD)
        c = model.coefficients * np.array([1.0, 2.0])
        (block,) = assemble(model.topology.plan, c, 0.5)
        one = np.diag(ODD) + np.diag([3.5] * 3 + [8.5] * 3)
        assert block == pytest.approx(np.array([one, 2 * one]))


class TestEliminated:
    @pytest.mark.parametrize("V", [1, 3, FEW - 1, FEW, FEW + 3])
    @pytest.mark.parametrize("together", [0, 1, 2, 4, 12])
    def test_is_numpys_solution(self, V, together):
        topology, c, f = frame(V)
        plan = topology.plan
        rounds, tail = plan.cut(together)
        assert tail.points <= together
        u = substitute(plan, factorise(rounds, tail, assemble(plan, c, 0.01)), f)
        wanted = np.linalg.solve(dense(topology, c, 0.01), f.T[..., None])[..., 0].T
        assert close(u, wanted)

    def test_what_is_left_for_the_tail(self):
        """Springs 2, 3 and 6 N/m in a row, hung up at the first: before any elimination K itself, after two 1/(1/2 + 1/3 + 1/6)."""
        row = springs((0, GROUND), (0, 1), (1, 2), points=3)
        plan, c = replace(row, first=np.array([1, 2, 3])).plan, stiff([2], [3], [6])
        whole = factorise(*plan.cut(3), assemble(plan, c, 0.0)).last[0]
        assert whole[::6, ::6] == pytest.approx(np.array([[5, -3, 0], [-3, 9, -6], [0, -6, 6]]))
        last = factorise(*plan.cut(1), assemble(plan, c, 0.0)).last[0]
        assert last[0, 0] == pytest.approx(1)


class TestKinds:
    @pytest.mark.parametrize(
        ("row", "own", "of"),
        [
            ([5], None, []),
            ([5, 5], [0], [0, 0]),
            ([5, 6], None, [0, 1]),
            ([5, 6, 7], None, [0, 1, 2]),
            ([5, 6, 5, 7, 6], [0, 1, 3], [0, 1, 0, 2, 1]),
        ],
    )
    def test_first_of_every_kind(self, row, own, of):
        assert _different(stiff(row, [1] * len(row))) == (own, of)

    def test_factors_of_a_kind_serve_all_its_variants(self):
        topology, c, f = frame(4)
        plan, of = topology.plan, [1, 0, 0, 1]
        c = c[:, :, [2, 3]]
        factors = _shared(factorise(*plan.cut(2), assemble(plan, c, 0.01)), of)
        wanted = np.linalg.solve(dense(topology, c[:, :, of], 0.01), f.T[..., None])[..., 0].T
        assert close(substitute(plan, factors, f), wanted)

    @pytest.mark.parametrize("V", [1, 5])
    def test_each_has_its_own(self, V):
        """On 2, 2, 5 N/m (and again) 10 N give 5, 5, 2 m; at once, not only when what does not balance is solved anew."""
        topology, c, f = springs((0, GROUND), points=1), stiff([2, 2, 5] * V), pushed([10] * 3 * V)
        for out in (_attempt(topology, c, f, 1e-16, 0, 0), solve(topology, c, f)):
            assert out.stable.all()
            assert out.movements[X] == pytest.approx([5, 5, 2] * V, rel=1e-12)


class TestSolved:
    @pytest.mark.parametrize("V", [1, 3, 20])
    def test_springs_in_series(self, V):
        """2, 4 and 8 N/m under 8 N at the end: 4, then 2, then 1 m more, and 8 N in each."""
        topology = springs((0, GROUND), (0, 1), (1, 2), points=3)
        size = np.arange(1.0, V + 1)
        out = solve(topology, stiff([2] * V, [4] * V, [8] * V), pushed([0] * V, [0] * V, 8 * size))
        assert out.stable.all()
        assert out.movements[::6] == pytest.approx(np.outer([4, 6, 7], size), rel=1e-12)
        assert np.abs(out.forces[:, 0]) == pytest.approx(np.outer([8, 8, 8], size), rel=1e-12)

    @pytest.mark.parametrize("V", [1, 3, 20])
    def test_cantilever(self, V):
        """P L³/(3 EI) and P L²/(2 EI), H L/EA: of two halves as of one."""
        model = Model()
        model.point(0, 0, 0, FIX)
        model.chain([0, model.point(1, 0, 0), model.point(2, 0, 0)])
        load = np.zeros((18, V))
        load[12 + X], load[12 + Z] = 70.0, 30.0 * np.arange(1, V + 1)
        out = solve(model.topology, model.coefficients, load)
        assert out.stable.all()
        u, share = out.movements[12:], np.arange(1, V + 1)
        assert u[X] == pytest.approx(np.full(V, 70 * 2 / PLAIN.EA), rel=1e-9)
        assert u[Z] == pytest.approx(30 * share * 8 / (3 * PLAIN.EI_y), rel=1e-9)
        assert u[RY] == pytest.approx(-30 * share * 4 / (2 * PLAIN.EI_y), rel=1e-9)

    def test_beam_on_two_hinges(self):
        """P L³/(48 EI) in the middle."""
        model = Model()
        a, b, c = (model.point(x, 0, 0, FIX if x != 1 else (Y, RX, RZ)) for x in (0, 1, 2))
        model.member(a, b, k_y=(HINGE, np.inf))
        model.member(b, c, k_y=(np.inf, HINGE))
        model.load(b, Z, -1000.0)
        assert model.solved().u(b)[Z] == pytest.approx(-1000 * 8 / (48 * PLAIN.EI_y), rel=1e-9)

    def test_in_chunks(self):
        """300 variants of one spring, the v-th of v + 1 N/m under 6 N."""
        topology, V = springs((0, GROUND), points=1), 300
        found, sizes = np.full(V, np.nan), []

        def make(which):
            sizes.append(which.stop - which.start)
            k = np.arange(which.start, which.stop) + 1.0
            return stiff(k), pushed(np.full(len(k), 6.0))

        def take(which, solution):
            found[which] = solution.movements[X]

        solve_many(topology, V, make, take)
        assert found == pytest.approx(6 / (np.arange(V) + 1.0), rel=1e-12)
        assert sorted(sizes) == [44, 128, 128]


ONE = springs((0, GROUND), points=1)


class TestMended:
    """One spring k beside a soft one s k: of a push s/(1 + s) = r is left, of what is left again r, ...."""

    @pytest.mark.parametrize(
        ("r", "mends", "times"),
        [
            (0.4, 0, 1),
            (0.4, 1, 2),
            (0.4, 3, 4),
            (0.01, 2, 3),
            (0.6, 3, 2),  # 0.36 is more than half of 0.6: no more
            (3e-9, 3, 2),  # 9e-18 is close
            (9.5e-11, 3, 1),  # a tenth of 1e-9 is close
            (1.1e-10, 3, 2),
        ],
    )
    @pytest.mark.parametrize("load", [1e-6, 1.0, 1e6])
    def test_until_it_is_close_or_no_nearer(self, r, mends, times, load):
        out = _attempt(ONE, stiff([5]), pushed([load]), r / (1 - r), 0, mends)
        assert out.residual == pytest.approx([r**times], rel=1e-4, abs=1e-15)
        assert out.movements[X] == pytest.approx([load / 5 * (1 - r**times)], rel=1e-13)
        assert out.forces[0, 0] == pytest.approx([-load * (1 - r**times)], rel=1e-13)
        assert out.stable == (r**times <= BALANCES)

    def test_nothing_to_carry(self):
        """Stands, beside what is pushed."""
        out = solve(ONE, stiff([5, 5]), pushed([0, 10]))
        assert out.stable.all()
        assert out.residual[0] == 0
        assert out.movements[X] == pytest.approx([0, 2])

    @pytest.mark.parametrize("V", [1, 6, 20])
    def test_what_hangs_all_but_loose_beside_what_is_firm(self, V):
        """1 N/m beside 1e9: 1e-16 of 1e9 leaves 1e-7 of the push, too much; 1e-12, mended three times, leaves 1e-12."""
        topology = springs((0, GROUND), (1, GROUND), points=2)
        loose = np.arange(V) % 2 == 0
        out = solve(topology, stiff([1e9] * V, np.where(loose, 1.0, 1e9)), pushed([0] * V, [3] * V))
        assert out.stable.all()
        assert out.residual.max() < CLOSES
        assert out.movements[6] == pytest.approx(np.where(loose, 3.0, 3e-9), rel=1e-10)

    @pytest.mark.parametrize("V", [2, 6, 20])
    def test_what_gives_way_beside_what_stands(self, V):
        """Without its spring it gives way under a push, and none but it."""
        topology = springs((0, GROUND), (0, 1), points=2)
        tied = np.arange(V) != 1
        out = solve(topology, stiff([4] * V, np.where(tied, 2.0, 0.0)), pushed([0] * V, [8] * V))
        assert out.stable.tolist() == tied.tolist()
        assert out.movements[6, tied] == pytest.approx(np.full(V - 1, 8 / 4 + 8 / 2), rel=1e-12)
        assert out.residual[1] == pytest.approx(1.0, rel=1e-3)

    def test_only_a_pair_that_floats(self):
        """Singular to the last bit: told apart by what pushes it."""
        topology = springs((0, 1), points=2)
        out = solve(topology, stiff([2, 2]), pushed([-6, 6], [6, 6]))
        assert out.stable.tolist() == [True, False]
        assert out.movements[6, 0] - out.movements[0, 0] == pytest.approx(3, rel=1e-9)


def graph(n, *pairs, **hints):
    ends = np.array(pairs, dtype=np.int64).reshape(-1, 2)
    hints = {name: np.array(numbers) for name, numbers in hints.items()}
    return Topology(np.zeros((n, 3)), ends, np.zeros((len(pairs), 6, 12)), np.zeros((n, 6), bool), **hints)


def all_pairs(points):
    return [(i, j) for i in points for j in points if i < j]


CHAIN = ((0, 1), (1, 2), (2, 3), (3, 4))


class TestOrderOfElimination:
    """Rounds of points, each with those it still meets; those that meet most stand first."""

    def test_chain(self):
        """Both ends and the middle; then one of the two between, which meet by now."""
        assert _eliminate(graph(5, *CHAIN)) == [[(2, [1, 3]), (0, [1]), (4, [3])], [(1, [3])], [(3, [])]]

    def test_star(self):
        assert _eliminate(graph(5, (0, 1), (2, 0), (0, 3), (0, 4))) == [
            [(1, [0]), (2, [0]), (3, [0]), (4, [0])],
            [(0, [])],
        ]

    def test_ground_and_elements_on_one_point_join_nothing(self):
        assert _eliminate(graph(2, (0, GROUND), (GROUND, 1), (0, 0))) == [[(0, []), (1, [])]]

    def test_two_more_neighbours_than_the_fewest_are_taken_and_three_are_not(self):
        """A pair (1 each) beside four that all meet (3 each); beside five (4 each)."""
        rounds = _eliminate(graph(6, (0, 1), *all_pairs(range(2, 6))))
        assert rounds[0] == [(2, [3, 4, 5]), (0, [1])]
        rounds = _eliminate(graph(7, (0, 1), *all_pairs(range(2, 7))))
        assert rounds[0] == [(0, [1])]

    def test_first_goes_before_the_others(self):
        """1, then 2, then those that have no number."""
        rounds = _eliminate(graph(5, *CHAIN, first=[0, 2, 1, 2, 0]))
        assert rounds == [[(2, [1, 3])], [(1, [0, 3])], [(3, [0, 4])], [(0, [4])], [(4, [])]]

    def test_first_may_number_as_many_as_there_are(self):
        assert _eliminate(graph(5, *CHAIN, first=[0, 0, 5, 0, 0]))[0] == [(2, [1, 3])]

    def test_levels(self):
        """Of a ring of four those of odd levels; without levels the first and the one across."""
        ring = ((0, 1), (1, 2), (2, 3), (3, 0))
        assert [point for point, _ in _eliminate(graph(4, *ring))[0]] == [0, 2]
        assert [point for point, _ in _eliminate(graph(4, *ring, level=[0, 1, 2, 1]))[0]] == [1, 3]
        assert [point for point, _ in _eliminate(graph(4, *ring, level=[2, 3, 4, 3]))[0]] == [1, 3]

    def test_grid(self):
        """Three by three: the corners (2 each) and the middle (4); two of the sides, no longer met; the last two in turn."""
        lines = [(i, i + 1) for i in range(9) if i % 3 < 2] + [(i, i + 3) for i in range(6)]
        rounds = _eliminate(graph(9, *lines))
        assert [[point for point, _ in each] for each in rounds] == [[4, 0, 2, 6, 8], [1], [3], [5], [7]]
        assert [[len(near) for _, near in each] for each in rounds] == [[4, 2, 2, 2, 2], [3], [2], [1], [0]]

    @pytest.mark.parametrize("V", [2, 20])
    def test_changes_no_result(self, V):
        topology, c, f = frame(V)
        plain = solve(topology, c, f).movements
        for hints in ({"first": np.arange(9)}, {"first": 9 - np.arange(9)}, {"level": np.arange(9) // 3}):
            assert close(solve(replace(topology, **hints), c, f).movements, plain, 1e-8)
