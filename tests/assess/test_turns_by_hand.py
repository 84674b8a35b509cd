"""What is skipped where water comes round again and again, by hand: whole turns, the mean of many, and when it is given up."""

import numpy as np
import pytest

from brimfast.assess.network.integrate import _Run
from brimfast.assess.network.lanes import lanes
from brimfast.assess.network.marks import marks
from brimfast.assess.network.model import DRAINED, HOUSE, MAINS, ROOM, RUNS, SEWER, SUPPLIED, Link, Network, Node
from tests.networks import NOTHING_WRONG, floor

near = pytest.approx
KEY = (0, 0)
ALIKE = np.array([1.1, 0.0])  # levels of bed and floor as they are at first
OTHER = np.array([1.11, 0.0])


def turned(past, horizon=105000.0, until=1e9, takes=np.inf, hose=1.0, leak=1.0):
    """After turns that began at `past`, (s, levels), the last of them now. Until then a hose had brought `hose` litres for every 100 s;
    all of it had gone on, `leak` of it onto the floor and down its drain: figures, or functions of the time."""
    network = Network(
        (Node("bed", 1.0, 0.1, 1.0, 1.5), floor()),
        (
            Link("bell", RUNS, "bed", HOUSE, False, 1.05, 0.2, 0.03, losses=3.0, siphon=True, starts=1.3),
            Link("leak", RUNS, "bed", ROOM, z_in=1.0),
            Link("hose", SUPPLIED, MAINS, "bed", flow=hose * 1e-5, until=until),
            Link("drain", DRAINED, ROOM, SEWER, rim=1.0, opening=1.0, takes=takes),
        ),
    )
    packed = lanes(network, [NOTHING_WRONG])
    run = _Run(packed, marks(packed, ()), np.array([horizon]), 1e-5, 1e-6, False)
    names = [link.name for link in packed.each[0]]

    def X(t):
        came = hose * 1e-5 * t
        onto = leak(t) if callable(leak) else leak * came
        gone = {"hose": came, "bell": came - onto, "leak": onto, "drain": onto}
        return np.array([gone[name] for name in names])

    run.began[KEY] = [(t, X(t), levels) for t, levels in past[:-1]]
    run.t[:], run.X[:] = past[-1][0], X(past[-1][0])
    run.V = packed.volumes(run.X)
    run._again(0, KEY)
    return run, float(run.t[0]), dict(zip(names, run.X[0].tolist(), strict=True))


THREE = [(10000.0, ALIKE), (25000.0, ALIKE), (37500.0, ALIKE)]


def test_whole_turns_of_the_last_one():
    """The last took 12,500 s and 0.125 m³. 67,500 s are left, 5.4 turns: one is kept back, and of 4.4 whole ones are skipped, 4.
    At 37,500 s 0.375 m³ had come; 0.5 more."""
    run, t, gone = turned(THREE)
    assert t == near(87500.0)
    assert gone == near({"hose": 0.875, "leak": 0.875, "bell": 0.0, "drain": 0.875})
    assert run.V[0] == near([0.1, 0.0])
    assert run.began[KEY] == []
    assert not run.repeats[0]


def test_until_a_supply_ends():
    """At 80,000 s: 42,500 s, 3.4 turns: 2 are skipped."""
    assert turned(THREE, until=80000.0)[1] == near(62500.0)


def test_until_a_drain_backs_up():
    """It takes 0.8 m³, 0.425 more than so far: 3.4 turns: 2 are skipped."""
    _, t, gone = turned(THREE, takes=0.8)
    assert (t, gone["drain"]) == near((62500.0, 0.625))


@pytest.mark.parametrize(
    ("horizon", "t"), [(62400.0, 37500.0), (62500.0, 50000.0), (62600.0, 50000.0), (75100.0, 62500.0)]
)
def test_less_than_two_turns_are_run(horizon, t):
    """24,900 s left are 1.99 turns, of which one is kept back; 25,000 s are two; 37,600 just over three."""
    assert turned(THREE, horizon)[1] == near(t)


def test_one_turn_alike_is_enough():
    """However short; but not one that took no time."""
    assert turned([(25000.0, ALIKE), (37500.0, ALIKE)])[1] == near(87500.0)
    assert turned([(37499.2, ALIKE), (37500.0, ALIKE)])[1] == near(105000.0, abs=2.0)
    run, t, _ = turned([(37500.0, ALIKE), (37500.0, ALIKE)])
    assert t == 37500.0
    assert not run.repeats[0]


def test_turns_that_are_not_alike_are_run():
    """Nor does it count that those before the last were: only 40 of them have a mean."""
    for past in (
        [(25000.0, OTHER), (37500.0, ALIKE)],
        [(10000.0, ALIKE), (25000.0, OTHER), (37500.0, ALIKE)],
        [(5000.0, ALIKE), (10000.0, OTHER), (25000.0, OTHER), (37500.0, ALIKE)],
    ):
        run, t, gone = turned(past)
        assert (t, gone["hose"]) == near((37500.0, 0.375))
        assert len(run.began[KEY]) == len(past)
    assert turned([(37500.0, ALIKE)])[1] == 37500.0
    # alike only at last
    assert turned([(5000.0, OTHER), (10000.0, OTHER), (25000.0, ALIKE), (37500.0, ALIKE)])[1] == near(87500.0)


def many(count=40):
    """Turns of 1,000 s, but for one of 3,000 from the fifth to the sixth; the last at 41,000 s where there are 40."""
    times = [1000.0 * number + (2000.0 if number >= 5 else 0.0) for number in range(count)]
    return [(t, OTHER) for t in times[:-1]] + [(times[-1], ALIKE)]


def test_the_mean_of_many_turns():
    """An eighth of them, 5, are left out: from 7,000 to 41,000 s are 34,000. Skipped is all up to that long before the end: 116,000 s, 1.16 m³."""
    run, t, gone = turned(many(), 150000.0)
    assert t == near(116000.0)
    assert gone == near({"hose": 1.16, "leak": 1.16, "bell": 0.0, "drain": 1.16})
    assert not run.repeats[0]
    assert turned(many(39), 150000.0)[1] == near(40000.0)  # too few


@pytest.mark.parametrize(("between", "idle"), [((22000.0, 39000.0), False), ((15000.0, 21000.0), True)])
def test_many_turns_count_as_idle_by_the_later_half_of_them(between, idle):
    """The 21st of 40 began at 22,000 s, the last but one at 40,000: onto the floor came 1 m³ since then, or before."""
    run, _, _ = turned(many(), 150000.0, leak=lambda t: float(np.interp(t, between, (0.0, 1.0))), hose=10.0)
    assert run.repeats[0] == idle


@pytest.mark.parametrize(("onto", "idle"), [(0.0, True), (1.8e-5, True), (1.95e-5, False)])
def test_given_up_where_no_floor_gets_water(onto, idle):
    """0.1 L in all the 67,500 s left are 1.852e-5 m³ in a turn of 12,500."""
    run, t, _ = turned(THREE, leak=lambda t: 0.3 + (onto if t > 25000.0 else 0.0), hose=4.0)
    assert run.repeats[0] == idle
    assert t == near(37500.0 if idle else 87500.0)


@pytest.mark.parametrize(("hose", "idle"), [(0.00147, True), (0.00149, False)])
def test_not_given_up_before_a_supply_ends_that_brings_something(hose, idle):
    """Until 80,000 s. For all the 67,500 s left 1e-5 · 67,500 = 0.675 m³ for every 1.0 of `hose`: 1 L for 0.00148."""
    run, _, _ = turned(THREE, until=80000.0, leak=0.0, hose=hose)
    assert run.repeats[0] == idle
