"""How fast are chances? Printed, not asserted.

The full demo: a rack with beds, tank, sump, pumps, pipes and a drain, 100,000 samples or a few more; in two processes and in
one. The second line is what the samples alone take, once the ratios are learned.
"""

import time

import numpy as np
import pytest

from brimfast.assess.doubt.chances import chances
from brimfast.assess.doubt.doubt import SAMPLES, doubt
from brimfast.assess.doubt.response import Response, axis_of
from brimfast.assess.doubt.unknowns import unknowns
from brimfast.assess.resolve import resolve
from brimfast.shared.demo import demo

pytestmark = pytest.mark.timeout(600)


@pytest.mark.parametrize("processes", [2, 1])
def test_samples_of_the_full_demo(capsys, processes):
    source = demo("nursery")
    start = time.perf_counter()
    found = doubt(source.installation, source.raw, count=SAMPLES, processes=processes)
    taken = time.perf_counter() - start
    with capsys.disabled():
        print(
            f"\n{processes} process(es): {found.samples:,} samples of {len(found.limits)} limits and {len(found.unknowns)} "
            f"unknowns by {found.runs.learned + found.runs.checked} runs of the pipeline in {taken:.1f} s"
        )
    assert found.samples >= SAMPLES


def test_samples_alone(capsys):
    source = demo("nursery")
    axes = tuple(axis_of(one) for one in unknowns(source.installation, source.raw, resolve(source.installation)))
    rng = np.random.default_rng(1)
    tables = {n: rng.normal(size=(len(axis.nodes), 48)) for n, axis in enumerate(axes)}
    pairs = {n: rng.normal(size=(2, 2, 48)) for n in range(1, len(axes))}
    response = Response(axes, tuple(map(str, range(48))), np.zeros(48), tables, pairs)
    start = time.perf_counter()
    found = chances(response, np.full(48, 0.1), SAMPLES, 1)
    taken = time.perf_counter() - start
    with capsys.disabled():
        print(f"\nsamples alone, 48 outputs: {found.count:,} in {taken:.2f} s, {found.count / taken:,.0f} samples/s")
    assert found.count >= SAMPLES
