"""How fast is the water network? Printed, not asserted; that both ways agree is asserted.

One event (a tank over a floor with a drain) here and by scipy's solve_ivp on the same flows at the same tolerance; then
all faults of a network of ten vessels at once.
"""

import time

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from brimfast.assess.network.build import network
from brimfast.assess.network.faults import faults
from brimfast.assess.network.flows import Flows
from brimfast.assess.network.integrate import integrate
from brimfast.assess.network.lanes import lanes
from brimfast.assess.network.marks import marks
from brimfast.assess.network.model import Network
from brimfast.assess.network.runs import run
from brimfast.assess.resolve import resolve
from brimfast.assess.weight import weigh_vessel
from brimfast.shared.reading import read_bytes
from tests.networks import NOTHING_WRONG, drain, floor, hole, tank

RTOL, ATOL, END = 1e-8, 1e-10, 1000.0  # while the tank still runs: later the last millimetre is left out


def best(work, times=5):
    taken = []
    for _ in range(times):
        start = time.perf_counter()
        result = work()
        taken.append(time.perf_counter() - start)
    return min(taken), result


def test_one_event_beside_scipy(capsys):
    packed = lanes(Network((tank(base=2.0), floor()), (hole(), drain(5.0))), [NOTHING_WRONG])
    stops = marks(packed, (("1 cm", 0.01),))
    on, full = packed.running(), np.zeros((1, 2), dtype=bool)

    def slope(t, X):
        return Flows(packed, on, full).rates(np.array([t]), packed.volumes(X[None]))[0]

    def ours():
        return integrate(packed, stops, np.array([END]), rtol=RTOL, atol=ATOL, record=False).X[0]

    def reference():
        return solve_ivp(slope, (0, END), np.zeros(2), rtol=RTOL, atol=ATOL).y[:, -1]

    mine, X = best(ours)
    theirs, X_scipy = best(reference)
    assert pytest.approx(X_scipy, rel=1e-6) == X
    many = [NOTHING_WRONG] * 200
    packed_many = lanes(packed.network, many)
    stops_many = marks(packed_many, (("1 cm", 0.01),))
    together, _ = best(
        lambda: integrate(packed_many, stops_many, np.full(200, END), rtol=RTOL, atol=ATOL, record=False), 2
    )
    with capsys.disabled():
        print(
            f"\none event: here {mine * 1e3:.1f} ms, scipy on the same flows {theirs * 1e3:.1f} ms, ratio {theirs / mine:.2f}; "
            f"200 at once {together * 1e3:.0f} ms, {theirs * 200 / together:.0f} times as fast an event"
        )


def ten_vessels():
    beds = [
        f"  - {{name: bed {n}, kind: bed, on: r, offset: {4 * n} ft, length: 45 in, width: 30 in, depth: 10 in, water: 8 in, fill: gravel}}"
        for n in range(5)
    ]
    tanks = [
        f"  - {{name: tank {n}, kind: tank, diameter: 3 ft, depth: 30 in, water: 25 in, at: {4 * n} ft x 6 ft}}"
        for n in range(4)
    ]
    pumps = [
        f"  - {{name: pump {n}, from: tank {n % 4}, to: bed {n}, flow: 300 gal/h, intake: 4 in, outlet: 6 in, pipe: 3/4 in}}"
        for n in range(5)
    ]
    pumps.append(
        "  - {name: lift, from: sump, to: tank 0, flow: 900 gal/h, intake: 3 in, outlet: 29 in, check_valve: yes}"
    )
    pipes = [
        f"  - {{name: return {n}, from: bed {n}, to: tank {n % 4}, bore: 2 in, intake: 8 in, outlet: 28 in, length: 4 ft}}"
        for n in range(5)
    ]
    pipes += [
        f"  - {{name: over {n}, from: tank {n}, to: sump, bore: 2 in, intake: 26 in, outlet: 14 in, length: 8 ft}}"
        for n in range(4)
    ]
    text = """
installation: ten vessels
site: {standard: asce7-16, S_DS: 1.0}
room: {length: 30 ft, width: 20 ft, sill: 2 in, drains: [{bore: 2 in, grate: 4 in}]}
racks:
  r:
    bays: 4
    bay_length: 5 ft
    width: 32 in
    deck_height: 40 in
    post: 4x4 douglas fir-larch No.2
    beam: 2x8 douglas fir-larch No.2
    joist: {size: 2x6, spacing: 12 in, seat: between beams}
    deck: 23/32 in plywood
vessels:
"""
    lines = [
        *beds,
        *tanks,
        "  - {name: sump, kind: sump, length: 4 ft, width: 3 ft, depth: 20 in, water: 14 in, at: 20 ft x 6 ft}",
    ]
    text += "\n".join([*lines, "pumps:", *pumps, "pipes:", *pipes])
    return text + "\nsupplies: [{name: hose, to: sump, flow: 5 gal/min, unattended: 8 h, float_valve: yes}]\n"


def test_all_faults_of_ten_vessels(capsys):
    installation = read_bytes(ten_vessels().encode(), "ten.yaml").installation
    resolved = resolve(installation)
    weights = {one.name: weigh_vessel(one, resolved.vessels[one.name]) for one in installation.vessels}
    ways = network(installation, resolved.vessels, weights)
    events = faults(installation, ways)
    taken, runs = best(lambda: run(ways, events), 2)
    assert max(abs(one.lost) for one in runs) <= 1e-9
    with capsys.disabled():
        print(f"\n{len(events)} faults of ten vessels, {len(ways.links)} links: {taken:.2f} s")
