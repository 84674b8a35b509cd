"""How fast is the frame solver? Printed, not asserted; that all ways agree is asserted.

A rack of six bays, about 110 members and 500 unknowns, by a general-purpose frame library (model built beforehand,
its fastest options), by `solve`, by `solve_many` for 2,000 variants of it in which the stiffness and end springs of
every member and all loads differ (their coefficients worked out on the way), and the bare factorisation of the same
matrices by LAPACK: banded, in the best order of two, and dense. Every time is the best of several.
"""

import time
import warnings

import numpy as np
import pytest
from scipy.linalg.lapack import dpbtrf, dpbtrs
from scipy.sparse import csr_matrix
from scipy.sparse.csgraph import reverse_cuthill_mckee

from brimfast.assess.frame.elements import basis, link_coefficients, member_coefficients
from brimfast.assess.frame.solve import solve, solve_many
from tests.frames import RIGID, rack
from tests.published.test_frame_reference import Reference

V = 2000
SAMPLE = 8  # variants whose matrices LAPACK factorises
ROUNDS = 3  # all ways take turns, so that what else the machine does hits none alone


def best(run, times):
    """Seconds: the best of so many runs."""
    taken = []
    for _ in range(times):
        start = time.perf_counter()
        run()
        taken.append(time.perf_counter() - start)
    return min(taken)


class Variants:
    """Every member's four stiffnesses and four springs, every link and every load times a factor of its own."""

    def __init__(self, model, count):
        rng = np.random.default_rng(0)
        members = model.members
        sections = [(m.section.EA, m.section.GJ, m.section.EI_y, m.section.EI_z) for m in members]
        self.sections = np.array(sections).T[:, :, None] * rng.uniform(0.5, 2, (4, len(members), count))
        springs = np.array([(*m.k_y, *m.k_z) for m in members]).T[:, :, None]
        springs = np.where(springs == RIGID, 1e6, springs)
        self.springs = springs * rng.uniform(0.5, 2, (4, len(members), count))
        self.lengths = np.array([m.L for m in members])[:, None]
        links = np.array([link.stiffness for link in model.links])
        self.links = links[:, None] * rng.uniform(0.5, 2, (len(links), count, 6))
        self.loads = model.forces * rng.uniform(0.5, 2, (6 * len(model.points), count))

    def __call__(self, which):
        springs = self.springs[:, :, which]
        members = member_coefficients(*self.sections[:, :, which], self.lengths, springs[:2], springs[2:])
        links = link_coefficients(self.links[:, which]).swapaxes(1, 2)
        return np.concatenate([members, links]), self.loads[:, which]


def matrices(topology, coefficients):
    """K of the free movements of each variant."""
    each = np.einsum("ekv,ekab->veab", coefficients, basis(topology.compatibility))
    size, free = 6 * len(topology.points) + 1, np.flatnonzero(~topology.fixed.ravel())
    K = np.zeros((len(each), size, size))
    for element, rows in enumerate(topology.movements):
        K[:, rows[:, None], rows[None, :]] += each[:, element]
    return K[:, free[:, None], free], free


def banded(K, order):
    K = K[np.ix_(order, order)]
    rows, columns = np.nonzero(K)
    width = int((rows - columns).max())
    out = np.zeros((width + 1, len(K)), order="F")
    for offset in range(width + 1):
        out[offset, : len(K) - offset] = np.diagonal(K, -offset)
    return out


def narrowest(K):
    """The order of least band: as it is, or by reverse Cuthill and McKee."""
    orders = (np.arange(len(K)), reverse_cuthill_mckee(csr_matrix(K), symmetric_mode=True))
    return min(orders, key=lambda order: len(banded(K, order)))


def factorised(band, times):
    """Seconds of the bare factorisation; it works in its own copy each time."""
    taken = []
    for _ in range(times):
        copy = band.copy(order="F")
        start = time.perf_counter()
        dpbtrf(copy, lower=1, overwrite_ab=1)
        taken.append(time.perf_counter() - start)
    return min(taken)


def same(ours, theirs):
    assert np.abs(ours - theirs).max() < 1e-6 * np.abs(theirs).max()


def lapack_solution(band, order, loads):
    factor, _ = dpbtrf(band, lower=1)
    out = np.empty(len(order))
    out[order] = dpbtrs(factor, loads[order], lower=1)[0]
    return out


@pytest.mark.timeout(900)
def test_speed(capsys):
    model, varied, small = rack(6, k=RIGID), rack(6), rack(3)
    topology, c, f = model.topology, model.coefficients, model.forces
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # not ours
        reference = Reference(model)
    theirs = np.array([reference.u(point) for point in range(len(model.points))]).ravel()
    alone = solve(topology, c, f).movements[:, 0]
    same(alone, theirs)
    (K,), free = matrices(topology, c)
    order = narrowest(K)
    band = banded(K, order)
    same(alone[free], lapack_solution(band, order, f[free, 0]))

    make, u, stable = Variants(varied, V), np.empty((len(f), V)), np.zeros(V, dtype=bool)

    def take(which, solution):
        u[:, which], stable[which] = solution.movements, solution.stable

    many, twenty = varied.topology, Variants(small, 20)
    few = small.topology
    solve_many(many, V, make, take)
    assert stable.all()
    coefficients, loads = make(slice(0, SAMPLE))
    Ks, _ = matrices(many, coefficients)
    bands = [banded(one, order) for one in Ks]
    for v, one in enumerate(bands):
        same(u[free, v], lapack_solution(one, order, loads[free, v]))

    options = [{"sparse": sparse, "check_stability": check} for sparse in (True, False) for check in (True, False)]
    runs = {str(one): lambda one=one: best(lambda: reference.other.analyze_linear(**one), 5) for one in options}
    runs |= {
        "one": lambda: best(lambda: solve(topology, c, f), 200),
        "many": lambda: best(lambda: solve_many(many, V, make, take), 3) / V,
        "twenty": lambda: best(lambda: solve(few, *twenty(slice(None))), 100),
        "band of one": lambda: factorised(band, 200),
        "band of many": lambda: np.mean([factorised(one, 100) for one in bands]),
        "dense": lambda: best(lambda: np.linalg.cholesky(K), 30),
    }
    taken = {
        name: min(times)
        for name, times in zip(
            runs, zip(*([run() for run in runs.values()] for _ in range(ROUNDS)), strict=False), strict=False
        )
    }

    library = min(taken[str(one)] for one in options)
    ratios = [
        ("one solve, times faster than the library", library / taken["one"], ">=", 50),
        ("a variant, times faster than the library", library / taken["many"], ">=", 300),
        ("one solve, in banded factorisations", taken["one"] / taken["band of one"], "<=", 2),
        ("a variant, in banded factorisations", taken["many"] / taken["band of many"], "<=", 2),
    ]
    lines = [
        *((f"library, {one}", taken[str(one)]) for one in options),
        ("solve, one", taken["one"]),
        (f"solve_many, a variant of {V:,}", taken["many"]),
        (f"LAPACK, {len(band) - 1} beside the diagonal", taken["band of one"]),
        (f"LAPACK, likewise, mean of {SAMPLE} variants", taken["band of many"]),
        ("LAPACK, dense Cholesky", taken["dense"]),
        (f"solve, 20 variants of three bays, {few.unknowns} unknowns", taken["twenty"]),
    ]
    with capsys.disabled():
        print(
            f"\n{len(model.members)} members, {len(model.links)} links, {topology.unknowns} unknowns; each the best run"
        )
        for name, seconds in lines:
            print(f"  {name:64} {seconds * 1e6:9.0f} µs")
        for name, ratio, sign, target in ratios:
            met = ratio >= target if sign == ">=" else ratio <= target
            print(f"  {name:64} {ratio:9.1f}    {sign} {target}: {'met' if met else 'missed'}")
