"""How fast is the search for measures? Printed, not asserted.

The full demo: a rack with beds, tank, sump, pumps, pipes and a drain. First a search of a thousand combinations or more,
then the one that `improve` runs unless told otherwise. Both in two processes and in one.
"""

import time

import pytest

from brimfast.assess.plan.improve import TRIES, improve
from brimfast.shared.demo import demo

pytestmark = [pytest.mark.benchmark, pytest.mark.timeout(600)]


@pytest.mark.parametrize("tries", [8, TRIES])
@pytest.mark.parametrize("processes", [2, 1])
def test_combinations_a_second(capsys, tries, processes):
    source = demo("nursery")
    start = time.perf_counter()
    found = improve(source.installation, source.raw, tries=tries, processes=processes)
    taken = time.perf_counter() - start
    with capsys.disabled():
        print(
            f"\n{tries} sets a part, {processes} process(es): {found.combinations:,} combinations by {found.assessed} installations "
            f"through the pipeline in {taken:.1f} s: {found.combinations / taken:,.0f} combinations/s, "
            f"{found.assessed / taken:.1f} installations/s; shortfall {found.now.shortfall:.2f} to "
            f"{min(plan.left.shortfall for plan in found.plans):.2f}"
        )
    assert found.combinations >= 1000
