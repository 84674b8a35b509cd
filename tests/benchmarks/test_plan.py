"""How fast is the search for measures? Printed, not asserted.

The full demo: a rack with beds, tank, sump, pumps, pipes and a drain. First a search of a thousand combinations or more,
then the one that `improve` runs unless told otherwise. Both in two processes and in one. Then what takes long: racks that
turn into each other, and many vessels.
"""

import time

import pytest

from brimfast.assess.plan.improve import TRIES, improve
from brimfast.shared.demo import demo
from brimfast.shared.reading import read_bytes
from tests.assess.test_frame_rack import CORNER

pytestmark = pytest.mark.timeout(600)


TANKS = """installation: thirty tanks
site: {standard: asce7-16, S_DS: 1.0}
room: {length: 60 ft, width: 40 ft, sill: 0.5 in, floor: {kind: slab on grade}}
vessels:
""" + "".join(
    f"  - {{name: t{n}, kind: tank, diameter: {3 + 0.05 * n} ft, depth: 30 in, water: {28 - 0.3 * n} in}}\n"
    for n in range(30)
)
LARGE = {"corner": CORNER.replace("SIDE", "front"), "thirty tanks": TANKS}


def searched(capsys, name, source, tries, processes):
    start = time.perf_counter()
    found = improve(source.installation, source.raw, tries=tries, processes=processes)
    taken = time.perf_counter() - start
    with capsys.disabled():
        print(
            f"\n{name}, {tries} sets a part, {processes} process(es): {found.combinations:,} combinations by {found.assessed} "
            f"installations through the pipeline in {taken:.1f} s: {found.combinations / taken:,.0f} combinations/s, "
            f"{found.assessed / taken:.1f} installations/s; shortfall {found.now.shortfall:.2f} to "
            f"{min(plan.left.shortfall for plan in found.plans):.2f}"
        )
    return found


@pytest.mark.parametrize("tries", [8, TRIES])
@pytest.mark.parametrize("processes", [2, 1])
def test_combinations_a_second(capsys, tries, processes):
    assert searched(capsys, "full demo", demo("nursery"), tries, processes).combinations >= 1000


@pytest.mark.parametrize("name", LARGE)
def test_what_takes_long(capsys, name):
    assert searched(capsys, name, read_bytes(LARGE[name].encode(), name), 8, 2).plans
