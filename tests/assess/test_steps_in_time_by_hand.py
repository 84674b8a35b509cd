"""What one step of the network in time does at marks, peaks and its end, by hand."""

import math
from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest

from brimfast.assess.network.integrate import _Run, _values, integrate
from brimfast.assess.network.lanes import alike, lanes
from brimfast.assess.network.marks import marks
from brimfast.assess.network.model import (
    HOUSE,
    MAINS,
    OUTSIDE,
    OVER_RIM,
    OVER_SILL,
    PUMPED,
    RETURNED,
    ROOM,
    RUNS,
    SUPPLIED,
    Event,
    Link,
    Network,
    Node,
)
from brimfast.assess.network.rosenbrock import Step
from brimfast.assess.network.runs import _dry_at, anything_leaves
from tests.networks import NOTHING_WRONG, floor

near = pytest.approx
HOSE = (Link("hose", SUPPLIED, MAINS, ROOM, flow=1e-3, until=1e5),)


def running(heights=(), horizon=1e5, links=HOSE, area=20.0):
    packed = lanes(Network((floor(area),), links), [NOTHING_WRONG])
    return _Run(packed, marks(packed, heights), np.array([horizon]), 1e-5, 1e-6, True)


def test_so_many_steps_and_no_more(monkeypatch):
    """A hose that runs for a day is not done in three steps: half a second, and 6 times as long each time."""
    monkeypatch.setattr("brimfast.assess.network.integrate.MOST_STEPS", 3)
    packed = lanes(Network((floor(),), HOSE), [NOTHING_WRONG])
    trace = integrate(packed, marks(packed, ()), np.array([1e5]))
    assert trace.steps == 3
    assert trace.t[0] == near(0.5 + 3.0 + 18.0)
    assert not trace.finished[0]


@pytest.mark.parametrize(
    ("before", "after", "passed"),
    [
        (-1.0, 1.0, True),
        (-1.0, 0.0, True),
        (-1.0, -5e-10, True),
        (-1.0, -2e-9, False),
        (-5e-10, 1.0, False),
        (1.0, -1.0, True),
        (1.0, 5e-10, True),
        (1.0, 2e-9, False),
        (5e-10, -1.0, False),
        (np.nan, 1.0, False),
    ],
)
def test_when_a_mark_is_passed(before, after, passed):
    """A billionth short of it counts, or the next step would start there and not pass it; what started there does not pass."""
    run = running((("socket", 0.02),))
    assert run._passed(np.array([[before]]), np.array([[after]])) == [[passed]]


def peak_of(change, first, second, share=1.0, good=True):
    """Of a step of 10 s that starts at 100 s on a dry floor of 2 m²; volumes in m³."""
    run = running(area=2.0)
    run.t[:] = 100.0
    made = Step(np.zeros((1, 1)), np.array([[change]]), np.array([[[first]], [[second]]]), np.zeros(1))
    run._peaks(np.array([good]), np.array([share]), made, np.array([10.0]))
    return float(run.trace.peak[0, 0]), float(run.trace.peak_at[0, 0])


@pytest.mark.parametrize("share", [1.0, 0.7])
def test_the_highest_point_within_a_step(share):
    """V = θ c + θ (1 − θ) (f + θ s); c −0.01, f 0.55, s 1: V' = 0.54 + 0.9 θ − 3 θ² = 3 (θ + 0.3) (0.6 − θ), so highest at 0.6: −0.006 +
    0.24 · 1.15 = 0.27 m³, 0.135 m, after 6 s. c −1/15, f 13/15, s −1/3: V' = (θ − 0.4) (θ − 2): at 0.4: 0.0213333 − 0.192 + 0.32 = 0.1493333."""
    assert peak_of(-0.01, 0.55, 1.0, share) == near((0.135, 106.0))
    assert peak_of(-1 / 15, 13 / 15, -1 / 3, share) == near((0.0746667, 104.0), rel=1e-6)


def test_no_highest_point_where_a_step_has_none():
    """Cut short before it, not taken at all, or rising or falling throughout."""
    assert peak_of(-0.01, 0.55, 1.0, 0.5) == (0.0, 0.0)
    assert peak_of(-0.01, 0.55, 1.0, good=False) == (0.0, 0.0)
    assert peak_of(-1.0, 0.0, 0.0) == (0.0, 0.0)
    assert peak_of(3.0, 0.5, 0.5)[0] in (0.0, near(1.5))  # its end counts anyhow


def test_lanes_end_each_at_its_own_time():
    """1 L/s until 100 s in one lane and until 1000 s in the other."""
    packed = lanes(Network((floor(),), HOSE), [NOTHING_WRONG] * 2)
    trace = integrate(packed, marks(packed, ()), np.array([100.0, 1000.0]))
    assert trace.X[:, 0] == near([0.1, 1.0])
    assert trace.t.tolist() == [100.0, 1000.0]
    assert trace.finished.all()


def test_a_lane_that_only_repeats_itself_is_left_at_once():
    run = running()
    run.repeats[:] = True
    run.step()
    assert len(run.index) == 0
    assert run.finish().finished[0]


@pytest.mark.parametrize(
    ("area", "rises", "depth", "comes", "left"),
    [
        (0.1, 0.9e-6, 0.1, 0.0, True),
        (0.1, 1.1e-6, 0.1, 0.0, False),
        (5.0, -4.9e-5, 0.1, 0.0, True),
        (5.0, -5.1e-5, 0.1, 0.0, False),
        (5.0, -5.1e-5, 0.0009, 0.0, True),
        (5.0, -5.1e-5, 0.0011, 0.0, False),
        (5.0, 0.0, 0.1, 0.9e-6, True),
        (5.0, 0.0, 0.1, 1.1e-6, False),
    ],
)
def test_when_a_lane_is_left(area, rises, depth, comes, left):
    """100 s are left. A level may change by 1 mm in them, 1e-6 m³/s on 0.1 m², 5e-5 on 5, but for what is no more than a film of 1 mm; a floor may
    get 0.1 L, 1e-6 m³/s."""
    run = running(horizon=300.0, area=area)
    run.t[:], run.V[:], run.change[:], run.q[:] = 200.0, area * depth, rises, comes
    run._quiet()
    assert len(run.index) == (0 if left else 1)


def test_whether_anything_leaves():
    """0.9 m³ on 20 m² stay behind 50 mm, 1.1 do not; it is enough that they do in one of two events."""
    door = Link("door", OVER_SILL, ROOM, OUTSIDE, z_in=0.05, width=0.9)
    network = Network((Node("tank", 2.0, 2.0, 0.0, 1.0), floor()), (door,))
    less, more = (Event(str(V), "k", "s", "t", at_once={"tank": V}) for V in (0.9, 1.1))
    assert not anything_leaves(network, [less, less])
    assert anything_leaves(network, [less, more])


def test_turns_are_forgotten_where_a_supply_ends():
    """In the first lane at 100 s, to the second; not yet in the other, whose hose runs until 1000 s."""
    hose = (Link("hose", SUPPLIED, MAINS, ROOM, flow=1e-3, until=100.0),)
    packed = lanes(Network((floor(),), hose), [NOTHING_WRONG, Event("e", "k", "s", "t", {"hose": {"until": 1000.0}})])
    run = _Run(packed, marks(packed, ()), np.array([1e5, 1e5]), 1e-5, 1e-6, True)
    turn = (0.0, np.zeros(1), np.zeros(1))
    run.began = {(0, 1): [turn], (1, 0): [turn]}
    times = []
    while run.t[0] < 100.0:
        assert set(run.began) == {(0, 1), (1, 0)}
        run.step()
        times.append(float(run.t[0]))
    assert times[-1] == 100.0
    assert run.X[0, 0] == near(0.1)
    assert set(run.began) == {(1, 0)}


def test_how_far_each_lane_is_past_its_marks():
    """Three lanes with 1, 2 and 3 m³ on 20 m², marks at 20 mm and at 0.5 m³ from the hose, of which 0.1, 0.2 and 0.3 have come."""
    hose = (Link("hose", SUPPLIED, MAINS, ROOM, flow=1e-3),)
    packed = lanes(Network((floor(),), hose), [NOTHING_WRONG] * 3)
    asked = SimpleNamespace(value=np.array([[0, 1]] * 3), at=np.array([[0.02, 0.5]] * 3))
    V, X = np.array([[1.0], [2.0], [3.0]]), np.array([[0.1], [0.2], [0.3]])
    assert _values(packed, asked, V, X) == near(np.array([[0.03, -0.4], [0.08, -0.3], [0.13, -0.2]]))


def test_a_siphon_starts_when_the_water_reaches_its_top():
    """1 L/s into 0.1 m³ on 1 m²: 1.3 m is reached after 200 s; then it takes all down to its mouth, 0.05 m³: 0.25 m³ and what comes meanwhile."""
    bed = Node("bed", 1.0, 0.1, 1.0, 1.5)
    links = (
        Link("bell", RUNS, "bed", HOUSE, False, 1.05, 0.2, 0.05, losses=3.0, siphon=True, starts=1.3),
        Link("hose", SUPPLIED, MAINS, "bed", flow=1e-3, until=210.0),
    )
    packed = lanes(Network((bed, floor()), links), [NOTHING_WRONG])
    trace = integrate(packed, marks(packed, ()), np.array([1000.0]))
    assert trace.X[0].tolist() == near([0.26, 0.21])
    assert trace.V[0, 0] == near(0.05)
    dry = lanes(
        Network((replace(bed, base=0.0, start=1.0, rim=2.0), floor()), (replace(links[0], z_in=1.4),)), [NOTHING_WRONG]
    )
    run = _Run(dry, marks(dry, ()), np.array([1000.0]), 1e-5, 1e-6, True)
    assert not run.on.any()


def test_which_links_have_a_column():
    """Those through which no water can run by themselves have none if they are pipes or holes; a pump that stands still keeps its own, for what
    follows it, and a siphon that something else may start."""
    links = (
        Link("over", OVER_RIM, "tank", ROOM),
        Link("back", RETURNED, "tank", "tank", follows="pump"),
        Link("pump", PUMPED, "tank", "tank", False),
        Link("off", RUNS, "tank", ROOM, False),
        Link("on", RUNS, "tank", ROOM),
        Link("bell", RUNS, "tank", ROOM, False, siphon=True, starts=0.5),
        Link("later", RUNS, "tank", ROOM, False, siphon=True, after="pump"),
        Link("hose", SUPPLIED, MAINS, "tank", False),
    )
    network = Network((Node("tank", 1.0, 0.1, 0.0, 1.0), floor()), links)
    packed = lanes(network, [NOTHING_WRONG])
    assert [one.name for one in packed.each[0]] == ["on", "bell", "later", "pump", "back", "hose", "over"]
    # beside it may run what differs in pipes and supplies, not in pumps, ways back and rims
    assert alike(network) == alike(replace(network, links=(*links[:4], *links[5:7])))
    for gone in (0, 1, 2):
        assert alike(network) != alike(replace(network, links=(*links[:gone], *links[gone + 1 :])))


@pytest.mark.parametrize(
    ("lies", "deepest", "dry_at"),
    [(0.0, 0.02, 70.0), (0.001, 0.02, 70.0), (0.0, 0.001, 0.0), (0.0011, 0.02, math.nan), (0.0019, 0.02, math.nan)],
)
def test_when_a_floor_is_dry_again(lies, deepest, dry_at):
    """A film of 1 mm counts as dry: when it was last passed on the way down, at once where it never was, and never where more lies there."""
    assert _dry_at(70.0, lies, deepest) == near(dry_at, nan_ok=True)
