"""How soon does an edit on the page show its result? Printed, not asserted.

The full demo, asked over the loopback as a browser does: the time until the first answer (file written and read back,
drawing, and what is known by then), and until all figures are those of the new file. Edits that change a rack's frame, that
only move water, and that change neither; each value is new, so that nothing of it is remembered.
"""

import os
import statistics
import time

import httpx2 as httpx
import pytest

from tests.browsers import Served
from tests.pages import hidden, nursery

pytestmark = pytest.mark.timeout(600)

EDITS = {
    "water of a bed on the rack": ("vessels", "/vessels/0/water", [f"{9 - 0.1 * n:.1f} in" for n in range(1, 13)]),
    "deck height": ("racks", "/racks/north/deck_height", [f"{26 + 0.25 * n:.2f} in" for n in range(1, 13)]),
    "screws in a joint": ("joints", "/joints/0/fasteners/length", [f"{4 - 0.05 * n:.2f} in" for n in range(1, 13)]),
    "S_DS": ("place", "/site/S_DS", [f"{0.9 + 0.01 * n:.2f}" for n in range(1, 13)]),
    "height of the sill": ("room", "/room/sill", [f"{3 - 0.1 * n:.1f} in" for n in range(1, 13)]),
    "a pump's flow": ("flow", "/pumps/1/flow", [f"{600 - 5 * n} gal/h" for n in range(1, 13)]),
    "place of a tank": ("vessels", "/vessels/2/at", [f"3 ft x {7 + 0.05 * n:.2f} ft" for n in range(1, 13)]),
    "a name": ("place", "/installation", [f"name {n}" for n in range(1, 13)]),
    "a mistake": ("vessels", "/vessels/0/water", [f"{n} inn" for n in range(1, 13)]),
}


def test_time_until_an_edit_shows(capsys, tmp_path):
    nursery(tmp_path)
    first, all_of_it = [], []
    begun = Served(tmp_path)
    with begun, httpx.Client(base_url=begun.base, headers={"origin": begun.base}, timeout=60) as client:
        client.get(begun.address)
        client.get("/file/n.yaml/fix")  # once whole, as after the page was looked at
        for name, (step, pointer, values) in EDITS.items():
            carried = hidden(client, step)
            mine = [edit(client, step, {**carried, pointer: value}, carried) for value in values]
            first += [one for one, _ in mine]
            all_of_it += [one for _, one in mine]
            report(capsys, name, mine)
    report(capsys, "all edits", list(zip(first, all_of_it, strict=True)))
    assert len(first) == sum(len(values) for _, _, values in EDITS.values())


def edit(client, step, data, carried):
    """Seconds until the first answer, and until there is no later stage."""
    start = time.perf_counter()
    answer = client.post(f"/file/n.yaml/{step}", data=data, headers={"accept": "application/json"}).json()
    first = time.perf_counter() - start
    carried["revision"] = answer["revision"]
    follow = answer["follow"]
    while follow:
        follow = client.get(follow).json()["follow"]
    return first, time.perf_counter() - start


def report(capsys, name, found):
    with capsys.disabled():
        parts = []
        for what, times in zip(("first answer", "all figures"), zip(*found, strict=True), strict=True):
            ordered = sorted(times)
            parts.append(
                f"{what} median {1000 * statistics.median(ordered):.0f} ms, 9 in 10 within "
                f"{1000 * ordered[int(0.9 * (len(ordered) - 1))]:.0f} ms, worst {1000 * ordered[-1]:.0f} ms"
            )
        print(f"\n{name}: {'; '.join(parts)} (load {os.getloadavg()[0]:.1f})", end="")
