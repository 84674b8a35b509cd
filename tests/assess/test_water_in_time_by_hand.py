"""Water in time against numbers worked out by hand: flows of every kind of link, steps, turns, and what a run comes to."""

import math
from dataclasses import replace

import numpy as np
import pytest

from brimfast.assess.network.flows import Flows, gradual
from brimfast.assess.network.integrate import _balanced, integrate
from brimfast.assess.network.lanes import lanes
from brimfast.assess.network.marks import marks
from brimfast.assess.network.model import (
    DRAINED,
    HOUSE,
    MAINS,
    OUTSIDE,
    OVER_RIM,
    OVER_SILL,
    PUMPED,
    RETURNED,
    ROOM,
    RUNS,
    SEWER,
    SUPPLIED,
    Event,
    Link,
    Network,
    Node,
)
from brimfast.assess.network.rosenbrock import step
from brimfast.assess.network.runs import run
from tests.networks import NOTHING_WRONG, floor

near = pytest.approx
HIGH = Node("high", 2.0, 1.8, 0.5, 1.5)  # water at 1.4 m
LOW = Node("low", 1.5, 0.6, 0.0, 0.8)  # water at 0.4 m
WET = Node(ROOM, 20.0, 0.6, is_room=True)  # 30 mm on the floor


def flows_of(links, nodes=(HIGH, LOW, WET), t=0.0, full=()):
    packed = lanes(Network(nodes, tuple(links)), [NOTHING_WRONG])
    over = np.array([[node.name in full for node in nodes]])
    q = Flows(packed, packed.running(), over).rates(np.array([t]), packed.starts)[0]
    return {link.name: float(flow) for link, flow in zip(packed.each[0], q, strict=True)}


def test_from_none_to_all():
    """x² (3 − 2 x): at 0.4 0.16 · 2.2 = 0.352."""
    assert gradual(np.array([-1.0, 0.0, 0.4, 0.5, 1.0, 7.0])) == near([0.0, 0.0, 0.352, 0.5, 1.0, 1.0])


def test_flow_through_pipes():
    """No length, K 3.2, 30 mm (7.06858e-4 m²). Free end at 0.5: 0.9 m of head: √(19.6133 · 0.9/3.2) = 2.348668 m/s: 1.660175e-3 m³/s;
    its end 0.1 up, under the 0.4 m of water there: 1.0 m: 1.749979e-3; through a mouth of 0.2 m and 5e-4 m² with 0.05 m over it: weir
    1.66 · 0.2 · 0.05^1.5 = 3.711873e-3, opening 0.67 · 5e-4 · √(19.6133 · 0.05) = 3.317456e-4. Full from the start it needs no mouth, and
    runs on below it. None without head, none with the mouth above the water."""
    wide = {"bore": 0.03, "losses": 3.2, "rim": 9.0, "opening": 9.0}
    found = flows_of(
        [
            Link("free", RUNS, "high", HOUSE, z_in=0.6, z_out=0.5, **wide),
            Link("under", RUNS, "high", "low", z_in=0.6, z_out=0.1, **wide),
            Link("mouth", RUNS, "high", HOUSE, z_in=1.35, z_out=0.5, bore=0.03, losses=3.2, rim=0.2, opening=5e-4),
            Link("siphon", RUNS, "high", HOUSE, z_in=1.35, z_out=0.5, bore=0.03, losses=3.2, siphon=True),
            Link("no head", RUNS, "low", HOUSE, z_in=0.3, z_out=0.5, **wide),
            Link("dry", RUNS, "high", HOUSE, z_in=1.45, z_out=0.5, **wide),
            Link("hose", SUPPLIED, MAINS, "low", flow=1e-4),
        ]
    )
    assert found == near(
        {
            "free": 1.660175e-3,
            "under": 1.749979e-3,
            "mouth": 3.317456e-4,
            "siphon": 1.660175e-3,
            "no head": 0,
            "dry": 0,
            "hose": 1e-4,
        },
        rel=1e-6,
    )


def test_flow_of_pumps():
    """By flow; 4 mm over the intake of the 10 over which it fades: 0.352 of it. By curve: static 1.4 − 0.4 = 1.0 m, between 0.8 m, 6e-4
    and 2.0 m, 2e-4: 6e-4 − 4e-4/6 = 5.33333e-4; with its end at 1.6 m 1.2 m: 4.66667e-4; torn 1e-3 whatever the curve."""
    table = ((2.0, 2e-4), (0.8, 6e-4))
    found = flows_of(
        [
            Link("plain", PUMPED, "low", "high", z_in=0.1, flow=1e-3),
            Link("fades", PUMPED, "low", "high", z_in=0.396, flow=1e-3),
            Link("drowned", PUMPED, "low", "high", z_in=0.1, z_out=0.5, flow=1e-3, table=table),
            Link("high", PUMPED, "low", "high", z_in=0.1, z_out=1.6, flow=1e-3, table=table),
            Link("torn", PUMPED, "low", ROOM, z_in=0.1, flow=1e-3, table=table, bare=True),
            Link("dry", PUMPED, "low", "high", z_in=0.41, flow=1e-3),
        ]
    )
    expected = {"plain": 1e-3, "fades": 3.52e-4, "drowned": 5.333333e-4, "high": 4.666667e-4, "torn": 1e-3, "dry": 0}
    assert found == near(expected, rel=1e-6)


@pytest.mark.parametrize(("t", "runs"), [(99.0, 1), (100.0, 0), (101.0, 0)])
def test_flow_of_supplies(t, runs):
    """Until 100 s. A float valve 10 mm below its level of the 25 over which it opens: 0.352 of it; at its level none."""
    found = flows_of(
        [
            Link("hose", SUPPLIED, MAINS, "low", z_in=0.3, flow=1e-4, until=100.0),
            Link("valve", SUPPLIED, MAINS, "low", z_in=0.41, flow=1e-4, until=100.0, float_valve=True),
            Link("shut", SUPPLIED, MAINS, "low", z_in=0.4, flow=1e-4, until=1e9, float_valve=True),
        ],
        t=t,
    )
    assert found == near({"hose": 1e-4 * runs, "valve": 3.52e-5 * runs, "shut": 0.0})


def test_flow_of_drains_and_doors():
    """Under 30 mm: weir 1.66 · 0.1 · 0.03^1.5 = 8.625613e-4; opening 0.67 · 1e-3 · √(19.6133 · 0.03) = 5.139380e-4; pipe 4e-4. 10 mm lower
    the opening has 40 mm over it, and all the floor is wet: 5.934445e-4. Sill at 10 mm, 0.8 m wide: 1.45 · 0.8 · 0.02^1.5 = 3.280975e-3;
    with 15 mm on the other side 1.16 · √0.02 · 0.015 = 2.460732e-3, and nothing comes back."""
    hall = Node("hall", 10.0, 0.15, is_room=True)
    drain = {"rim": 9.0, "opening": 9.0}
    found = flows_of(
        [
            Link("weir", DRAINED, ROOM, SEWER, rim=0.1, opening=9.0),
            Link("opening", DRAINED, ROOM, SEWER, rim=9.0, opening=1e-3),
            Link("pipe", DRAINED, ROOM, SEWER, pipe_flow=4e-4, **drain),
            Link("low", DRAINED, ROOM, SEWER, z_in=-0.01, rim=9.0, opening=1e-3),
            Link("door", OVER_SILL, ROOM, OUTSIDE, z_in=0.01, width=0.8),
            Link("to", OVER_SILL, ROOM, "hall", z_in=0.01, width=0.8),
            Link("from", OVER_SILL, "hall", ROOM, z_in=0.01, width=0.8),
        ],
        (HIGH, LOW, WET, hall),
    )
    assert found == near(
        {
            "weir": 8.625613e-4,
            "opening": 5.139380e-4,
            "pipe": 4e-4,
            "low": 5.934445e-4,
            "door": 3.280975e-3,
            "to": 2.460732e-3,
            "from": 0.0,
        },
        rel=1e-6,
    )


def test_the_last_film_over_a_sunk_drain():
    """0.4 mm of the 1 mm that a mop takes: 0.352 of what runs under 10.4 mm: 0.67 · 1e-3 · √(19.6133 · 0.0104) = 3.025985e-4: 1.065147e-4. A drain that
    does not lie lower takes by its weir what comes to it: 1.66 · 0.1 · 0.0004^1.5 = 1.328e-6."""
    film = Node(ROOM, 20.0, 0.008, is_room=True)
    low = Link("low", DRAINED, ROOM, SEWER, z_in=-0.01, rim=9.0, opening=1e-3)
    level = Link("level", DRAINED, ROOM, SEWER, rim=0.1, opening=9.0)
    found = flows_of([low, level], (film,))
    assert found["low"] == near(1.065147e-4, rel=1e-6)
    assert found["level"] == near(1.328e-6)


def test_what_follows_other_flows():
    """Of 1e-3 that a pump brings all runs back while the water stands at 1.4 m or more; 6 mm below it the share at 1 − 0.6: 0.352; a rim
    passes on what comes less what goes, 1e-3 + 1e-4 − 3.52e-4, once the vessel is full."""
    pump = Link("pump", PUMPED, "low", "high", z_in=0.1, flow=1e-3)
    hose = Link("hose", SUPPLIED, MAINS, "high", flow=1e-4)
    over = Link("over", OVER_RIM, "high", ROOM)
    backs = [Link("back", RETURNED, "high", "low", z_in=z, follows="pump") for z in (1.4, 1.406, 1.41)]
    found = [flows_of([pump, hose, back, over], full=("high",)) for back in backs]
    assert [one["back"] for one in found] == near([1e-3, 3.52e-4, 0.0])
    assert [one["over"] for one in found] == near([1e-4, 7.48e-4, 1.1e-3])
    assert flows_of([pump, hose, backs[0], over])["over"] == 0.0
    shut = flows_of([pump, hose, replace(backs[0], on=False), over], full=("high",))
    assert (shut["back"], shut["over"]) == (0.0, near(1.1e-3))
    leak = Link("leak", RUNS, "high", HOUSE, z_in=0.6, z_out=0.5, bore=0.1, rim=9.0, opening=9.0)
    assert flows_of([hose, leak, over], full=("high",))["over"] == 0.0


EVERY = (
    Link("pipe", RUNS, "high", "low", z_in=0.6, z_out=0.1, bore=0.03, length=2.0, losses=3.2, rim=9.0, opening=9.0),
    Link("hole", RUNS, "low", ROOM, z_in=0.0, z_out=0.0, bore=0.02, losses=2.6, rim=9.0, opening=9.0),
    Link("pump", PUMPED, "low", "high", z_in=0.395, z_out=0.5, flow=1e-3, table=((2.0, 2e-4), (0.8, 6e-4))),
    Link("other", PUMPED, "low", "full", z_in=0.1, flow=7e-4),
    Link("back", RETURNED, "high", "low", z_in=1.405, follows="pump"),
    Link("valve", SUPPLIED, MAINS, "low", z_in=0.41, flow=1e-4, float_valve=True),
    Link("drain", DRAINED, ROOM, SEWER, rim=0.1, opening=9.0),
    Link("to", OVER_SILL, ROOM, "hall", z_in=0.01, width=0.8),
    Link("out", RUNS, "full", HOUSE, z_in=0.2, z_out=0.1, bore=0.01, losses=2.6, rim=9.0, opening=9.0),
    Link("over", OVER_RIM, "full", ROOM),
)


def test_slopes_are_those_of_the_flows():
    """∂q/∂V of every link by every vessel: from the flows themselves, a little more and a little less water in one after the other.

    In the pores of a fill (porosity 0.4) a level rises 2.5 times as fast. By hand: a weir's slope is 1.5 q/d over the floor's area:
    1.5 · 8.625613e-4/0.03/20 = 2.156403e-3.
    """
    porous = Node("high", 2.0, 0.72, 0.5, 1.5, 0.4, 0.95)
    nodes = (porous, LOW, Node("full", 1.0, 0.5, 0.0, 0.5), WET, Node("hall", 10.0, 0.15, is_room=True))
    packed = lanes(Network(nodes, EVERY), [NOTHING_WRONG])
    flows = Flows(packed, packed.running(), np.array([[False, False, True, False, False]]))
    t, V = np.zeros(1), packed.starts
    found = flows.slopes(t, V, flows.rates(t, V))[0]
    for node in range(5):
        more, less = V.copy(), V.copy()
        more[0, node] += 1e-6
        less[0, node] -= 1e-6
        expected = (flows.rates(t, more) - flows.rates(t, less))[0] / 2e-6
        assert found[:, node] == near(expected, rel=2e-3, abs=1e-9), nodes[node].name
    names = [link.name for link in packed.each[0]]
    assert found[names.index("drain"), 3] == near(2.156403e-3, rel=1e-4)


def emptying():
    """2 m of water in 1 m², C 0.62, 0.01 m²: √z falls by 0.0062 √(9.80665/2) = 0.01372894 a second."""
    link = Link("hole", RUNS, "tank", HOUSE, bore=math.sqrt(0.04 / math.pi), losses=1 / 0.62**2, rim=1e3, opening=1e3)
    packed = lanes(Network((Node("tank", 1.0, 2.0, 0.0, 9.0), floor()), (link,)), [NOTHING_WRONG])
    return packed, Flows(packed, packed.running(), np.zeros((1, 2), dtype=bool))


@pytest.mark.parametrize(("h", "gone", "off"), [(10.0, 0.369465, 1e-5), (40.0, 1.251678, 2e-3)])
def test_one_step_of_an_emptying_tank(h, gone, off):
    """2 − (√2 − 0.01372894 t)²: 0.369465 m³ after 10 s, 1.251678 after 40; half way 0.189444 and 0.701233. It knows how far it is off."""
    packed, flows = emptying()
    X = np.zeros((1, len(packed.each[0])))
    q = flows.rates(np.zeros(1), packed.starts)
    made = step(flows, np.zeros(1), X, np.array([h]), q)
    assert made.change[0, 0] == near(gone, abs=off)
    assert abs(made.change[0, 0] - gone) <= made.error[0] <= 50 * off
    half = {10.0: 0.189444, 40.0: 0.701233}[h]
    assert made.at(np.array([0]), np.array([0.5]))[0, 0] == near(half, abs=0.3 * off)
    assert made.at(np.array([0]), np.array([1.0]))[0, 0] == near(gone, abs=off)
    for value, expected in ((0, 2.0 - half), (2, half)):  # the tank's height; what has gone through the hole
        of = made.values(packed, np.array([0]), np.array([value]))
        assert of(np.array([0.5]))[0] == near(expected, abs=0.3 * off)
        assert of(np.array([0.0]))[0] == near((2.0, 0.0)[value // 2])


def test_steps_get_four_orders_better():
    """A step half as long is off by a 32nd (order 4: h⁵)."""
    off = []
    for h in (20.0, 10.0):
        packed, flows = emptying()
        made = step(flows, np.zeros(1), np.zeros((1, 1)), np.array([h]), flows.rates(np.zeros(1), packed.starts))
        off.append(abs(made.change[0, 0] - (2.0 - (math.sqrt(2.0) - 0.62 * 0.01 * math.sqrt(9.80665 / 2) * h) ** 2)))
    assert 16 < off[0] / off[1] < 64


def test_heights_within_a_step_over_a_fill():
    """0.09 m³ in 90 s at 1 L/s, evenly, into 1.5 m² of gravel (0.4) up to 0.25 m on a base at 0.7: from 0.12 m³, 0.9 m, after a third of it to
    0.15 m³, 0.95, and at last to 0.21, 0.99."""
    bed = Node("bed", 1.5, 0.12, 0.7, 1.0, 0.4, 0.25)
    links = (Link("hose", SUPPLIED, MAINS, "bed", flow=1e-3),)
    packed = lanes(Network((bed, floor()), links), [NOTHING_WRONG])
    flows = Flows(packed, packed.running(), np.zeros((1, 2), dtype=bool))
    q = flows.rates(np.zeros(1), packed.starts)
    made = step(flows, np.zeros(1), np.zeros((1, 1)), np.array([90.0]), q)
    level = made.values(packed, np.array([0]), np.array([0]))
    assert [float(level(np.array([share]))[0]) for share in (0.0, 1 / 3, 1.0)] == near([0.9, 0.95, 0.99])


def test_slopes_of_a_rim_over_a_rim():
    """A leak of the upper vessel, weir-like, lets less run over into the lower, and so from there onto the floor: all three slopes are one, by
    the flows themselves."""
    nodes = (Node("up", 1.0, 1.0, 1.0, 2.0), Node("down", 0.5, 0.25, 0.0, 0.5), floor())
    links = (
        Link("hose", SUPPLIED, MAINS, "up", flow=1e-3),
        Link("leak", RUNS, "up", HOUSE, z_in=1.2, z_out=0.2, bore=0.01, losses=2.6, rim=9.0, opening=9.0),
        Link("over up", OVER_RIM, "up", "down"),
        Link("over down", OVER_RIM, "down", ROOM),
    )
    packed = lanes(Network(nodes, links), [NOTHING_WRONG])
    flows = Flows(packed, packed.running(), np.array([[True, True, False]]))
    t, V = np.zeros(1), packed.starts
    names = [link.name for link in packed.each[0]]
    found = dict(zip(names, flows.slopes(t, V, flows.rates(t, V))[0, :, 0], strict=True))
    # q = A √(2 g H/K): its slope is q/(2 H) over 1 m², H 1.8 m: 7.853982e-5 · √(19.6133 · 1.8/2.6) = 2.894108e-4, over 3.6
    assert found["leak"] == near(2.894108e-4 / 3.6, rel=1e-4)
    assert (found["over up"], found["over down"]) == near((-found["leak"], -found["leak"]))
    below = Flows(
        packed, packed.running(), np.zeros((1, 3), dtype=bool)
    )  # below its rim nothing runs over, more or less
    slopes = below.slopes(t, V, below.rates(t, V))[0]
    assert not slopes[[names.index("over up"), names.index("over down")]].any()


LOOP = np.array([[-1.0, 1.0, 0.0], [0.0, -1.0, 1.0], [1.0, 0.0, -1.0]])  # a to b, b to c, c to a


@pytest.mark.parametrize("size", [1.0, 1e-9, 1e6])
def test_a_mean_turn_is_mended_so_that_no_vessel_gains(size):
    """2.0, 1.9 and 2.2 round a loop must be one x: the least Σ (x − q)²/q² has x = Σ 1/q ÷ Σ 1/q² = 1.480861/0.733620 = 2.018567.

    1.0 and 1.4 would be 1.714286/1.510204 = 1.135135, 19 % less than 1.4: too much. What a supply gives by time stays: with 2.0 given all are 2.0.
    A link through which nothing went stays so; a supply of 0.1 with nowhere to go cannot be mended.
    """
    none = np.zeros(3, dtype=bool)
    assert _balanced(size * np.array([2.0, 1.9, 2.2]), LOOP, none) / size == near([2.018567] * 3, rel=1e-6)
    given = np.array([True, False, False])
    assert _balanced(size * np.array([2.0, 1.9, 2.2]), LOOP, given) / size == near([2.0] * 3, rel=1e-9)
    there_and_back = np.array([[-1.0, 1.0], [1.0, -1.0]])
    assert _balanced(size * np.array([1.0, 1.4]), there_and_back, none[:2]) is None
    idle = np.vstack([there_and_back, [0.0, 1.0]])
    mended = _balanced(size * np.array([1.0, 1.02, 0.0]), idle, none)
    assert mended / size == near([1.009802, 1.009802, 0.0], rel=1e-6)
    assert _balanced(size * np.array([1.0, 1.0, 0.1]), idle, np.array([False, False, True])) is None


def through(links, nodes, hours=200.0):
    packed = lanes(Network(nodes, tuple(links)), [NOTHING_WRONG])
    trace = integrate(packed, marks(packed, ()), np.array([hours * 3600]))
    return {link.name: trace.X[0, at] for at, link in enumerate(packed.each[0])}, trace


BED = Node("bed", 1.0, 0.1, 1.0, 1.5)
BELL = Link("bell", RUNS, "bed", HOUSE, False, 1.05, 0.2, 0.03, losses=3.0, siphon=True, starts=1.3)


def test_turns_before_a_supply_ends_say_nothing_of_those_after_it():
    """A siphon empties 0.25 m³ again and again. 0.1 L/s for 5 h are 1.8 m³, 0.02 L/s for 100 h 7.2 m³, however many turns are taken at once."""
    supplies = [
        Link("a", SUPPLIED, MAINS, "bed", flow=1e-4, until=5 * 3600.0),
        Link("b", SUPPLIED, MAINS, "bed", flow=2e-5, until=100 * 3600.0),
    ]
    gone, trace = through([BELL, *supplies], (BED, floor()))
    assert (gone["a"], gone["b"]) == near((1.8, 7.2), rel=1e-9)
    assert trace.steps < 500
    # 9.0 came onto 0.1: what has left is whole turns and 0.1 less what stands at the end
    assert 0.05 <= 9.1 - gone["bell"] <= 0.3 + 1e-6


def test_turns_go_on_until_a_drain_backs_up():
    """Each turn puts 0.25 m³ on the floor. The drain takes 2.5 m³ of them and not a drop more; 7.2 m³ came."""
    onto = Link("bell", RUNS, "bed", ROOM, False, 1.05, 0.2, 0.03, losses=3.0, siphon=True, starts=1.3)
    links = [
        onto,
        Link("b", SUPPLIED, MAINS, "bed", flow=2e-5, until=100 * 3600.0),
        Link("drain", DRAINED, ROOM, SEWER, rim=0.3, opening=9.0, takes=2.5),
    ]
    gone, trace = through(links, (BED, floor()))
    assert (gone["b"], gone["drain"]) == near((7.2, 2.5), rel=1e-6)
    assert trace.V[0, 1] == near(gone["bell"] - 2.5, rel=1e-9)


POND = Node("pond", 40.0, 23.6, 0.0, 0.6)
ROUND = (
    Link("pump", PUMPED, "pond", "bed", z_in=0.05, flow=2.5e-4),
    Link("bell", RUNS, "bed", "pond", False, 1.05, 0.59, 0.04, losses=3.0, siphon=True, starts=1.3),
    Link("over", OVER_RIM, "pond", ROOM),
)


def test_a_slow_supply_into_a_round_is_not_left_out(monkeypatch):
    """2 L/h for 60 days are 2.88 m³; 40 m² of pond have room for 0.4. A turn brings half a litre: that is not next to nothing for ever,
    so it goes on, or is said to be given up. Without a supply, or once it has ended, the round is left soon."""
    monkeypatch.setattr("brimfast.assess.network.integrate.MOST_STEPS", 300)
    tap = Link("tap", SUPPLIED, MAINS, "pond", flow=2e-3 / 3600, until=60 * 86400.0)
    network = Network((POND, BED, floor()), (*ROUND, tap))
    slow, without, ended = run(
        network,
        [
            NOTHING_WRONG,
            Event("without", "k", "s", "t", {"tap": {"on": False}}),
            Event("ended", "k", "s", "t", {"tap": {"until": 7200.0}}),
        ],
    )
    assert not slow.finished
    for one in (without, ended):
        assert one.finished
        assert one.ended_at < 86400.0
        assert one.reached == 0


def test_two_siphons_that_never_come_round_together():
    """0.02 L/s for 1000 h, 72 m³, in turns of 0.25 m³, and 0.031, 111.6 m³, in turns of 0.175: whole, within a turn, in steps that are few."""
    other = Node("other", 0.7, 0.1, 1.0, 1.5)
    links = (
        BELL,
        Link("second", RUNS, "other", HOUSE, False, 1.05, 0.2, 0.03, losses=3.0, siphon=True, starts=1.3),
        Link("a", SUPPLIED, MAINS, "bed", flow=2e-5, until=3.6e6),
        Link("b", SUPPLIED, MAINS, "other", flow=3.1e-5, until=3.6e6),
    )
    gone, trace = through(links, (BED, other, floor()), 1200.0)
    assert trace.finished.all()
    assert (gone["a"], gone["b"]) == near((72.0, 111.6), rel=1e-9)
    assert 0.05 - 1e-6 <= 72.1 - gone["bell"] <= 0.3 + 1e-6
    assert 0.035 - 1e-6 <= 111.7 - gone["second"] <= 0.21 + 1e-6
    assert trace.steps < 2000


def test_what_a_filling_floor_comes_to():
    """1 L/s for 600 s onto 20 m²: 1 cm after 200 s, a socket at 22 mm after 440 s, 30 mm deep at 600 s, and there it stays."""
    hose = Link("hose", SUPPLIED, MAINS, ROOM, flow=1e-3, until=600.0)
    one = run(Network((floor(),), (hose,)), [NOTHING_WRONG], (("socket", 0.022), ("high", 0.031)))[0]
    assert (one.reached, one.at_once, one.rate, one.lies, one.need) == near((0.6, 0.0, 1e-3, 0.6, 0.6), rel=1e-9)
    assert (one.depth, one.deepest_at, one.cm_at) == near((0.03, 600.0, 200.0), rel=1e-6)
    assert dict(one.wets) == near({"socket": 440.0}, rel=1e-6)
    assert math.isnan(one.dry_at)
    assert not one.all_at_once
    assert (one.leaves, one.outside, one.drained) == (0, 0, 0)
    assert abs(one.lost) < 1e-12
    assert 594.0 - 1e-3 <= one.about_deepest_at <= 600.0


def test_what_a_burst_comes_to():
    """0.5 of 0.54 m³ at once on 20 m²: 25 mm. A drain of 0.5 L/s that nothing else limits: 1 mm is left after (0.5 − 0.02)/5e-4 = 960 s."""
    vessel = Node("tank", 1.08, 0.54, 0.0, 1.0)
    drain = Link("drain", DRAINED, ROOM, SEWER, rim=100.0, opening=100.0, pipe_flow=5e-4)
    burst = Event("e", "k", "s", "t", at_once={"tank": 0.5})
    marked = (("low", 0.024), ("high", 0.026))
    one, other = run(Network((vessel, floor()), (drain,)), [burst, NOTHING_WRONG], marked)
    assert (one.reached, one.at_once, one.depth, one.cm_at, one.dry_at) == near((0.5, 0.5, 0.025, 0.0, 960.0), rel=1e-3)
    assert one.held == (("tank", near(0.04), near(0.04)),)
    assert dict(one.wets) == {"low": 0.0}
    assert one.all_at_once
    assert one.drained + one.lies == near(0.5)
    assert one.lies < 0.02
    assert abs(one.lost) < 1e-12
    assert (one.paths, one.need, one.need_drained) == ((("at once", 0.5),), 0.5, 0.0)
    assert (other.reached, other.depth, other.dry_at) == (0, 0, 0)
    assert other.held == (("tank", near(0.54), near(0.54)),)
    t, depth = one.course  # its own alone
    assert (np.diff(t) >= 0).all()
    assert (depth[0], depth[-1]) == near((0.025, one.lies / 20.0))
    assert dict(other.highest) == near({"tank": 0.5})


def test_what_just_wets_the_floor():
    """On 20 m² 0.2 m³ stand 10 mm, which is 1 cm at once; 0.02 m³ 1 mm, the film that counts as dry at once; 0.03 m³, 1.5 mm, never dry."""
    network = Network((Node("tank", 1.0, 0.5, 0.0, 1.0), floor()), ())
    cm, film, puddle = run(
        network, [Event(str(V), "k", "s", "t", at_once={"tank": V}) for V in (0.2, 0.02, 0.03)], (("socket", 0.01),)
    )
    assert (cm.cm_at, dict(cm.wets)) == (0.0, {"socket": 0.0})
    assert math.isnan(cm.dry_at)
    assert film.dry_at == 0
    assert math.isnan(puddle.dry_at)
    two = Network((Node("a", 1.0, 0.5, 0.0, 1.0), Node("b", 1.0, 0.5, 0.0, 1.0), floor()), ())
    both = run(two, [Event("e", "k", "s", "t", at_once={"a": 0.1, "b": 0.15})])[0]
    assert (both.depth, both.lies) == near((0.0125, 0.25))
    # where a drain of 1e-5 m³/s takes it, 1 mm is left of the puddle after 1000 s
    drain = Link("drain", DRAINED, ROOM, SEWER, rim=100.0, opening=100.0, pipe_flow=1e-5)
    one = run(replace(network, links=(drain,)), [Event("e", "k", "s", "t", at_once={"tank": 0.03})])[0]
    assert one.dry_at == near(1000.0, rel=1e-4)


def test_what_had_to_be_held_counts_what_has_left():
    """0.6 m³ in 600 s behind a sill of 10 mm: 0.2 stay, 0.4 leave; the room would have had to hold all 0.6."""
    links = (
        Link("hose", SUPPLIED, MAINS, ROOM, flow=1e-3, until=600.0),
        Link("door", OVER_SILL, ROOM, OUTSIDE, z_in=0.01, width=0.9),
    )
    one = run(Network((floor(),), links), [NOTHING_WRONG])[0]
    assert one.need == near(0.6, rel=1e-6)
    assert (one.lies, one.leaves, one.outside) == near((0.2, 0.4, 0.4), abs=0.01)


def test_what_leaves_by_two_doors():
    """2 m³ at once on 20 m², 0.1 m: over a sill of 20 mm to the outside and one of 40 mm into a hall of 10 m². In the end 0.4 m³ lie here.

    The hall stays below its threshold, so what came into it stays; the rest of 1.6 m³ is outside.
    """
    vessel, hall = Node("tank", 2.0, 2.0, 0.0, 2.0), Node("hall", 10.0, 0.0, is_room=True)
    ways = (
        Link("door", OVER_SILL, ROOM, OUTSIDE, z_in=0.02, width=0.9),
        Link("to", OVER_SILL, ROOM, "hall", z_in=0.04, width=0.5),
        Link("from", OVER_SILL, "hall", ROOM, z_in=0.04, width=0.5),
    )
    one = run(Network((vessel, floor(), hall), ways), [Event("e", "k", "s", "t", at_once={"tank": 2.0})])[0]
    assert (one.reached, one.depth, one.need) == near((2.0, 0.1, 2.0), rel=1e-6)
    assert one.lies == near(0.4, abs=0.01)
    assert (one.rate, one.drained) == (0, 0)  # doors are no way onto the floor, and no drain
    deep = dict(one.next_rooms)["hall"]
    assert 0.0 < deep < 0.04
    assert one.outside + 10.0 * deep + one.lies == near(2.0, rel=1e-6)
    assert one.leaves == near(2.0 - one.lies, rel=1e-6)


def test_the_highest_water_between_two_steps():
    """A tank as in `emptying` over a floor of 20 m², 10 mm under water, whose drain takes 0.02 m³/s: highest where 2 · 0.01372894 √z has come down to that,
    √z = 0.7283883, z = 0.5305497, after (√2 − 0.7283883)/0.01372894 = 49.95471 s: 2 − 0.5305497 − 0.02 · 49.95471 = 0.4703563 m³ more: 33.5178 mm."""
    tank = Node("tank", 1.0, 2.0, 5.0, 9.0)
    hole = Link(
        "hole",
        RUNS,
        "tank",
        ROOM,
        z_in=5.0,
        z_out=5.0,
        bore=math.sqrt(0.04 / math.pi),
        losses=1 / 0.62**2,
        rim=1e3,
        opening=1e3,
    )
    drain = Link("drain", DRAINED, ROOM, SEWER, rim=100.0, opening=100.0, pipe_flow=0.02)
    one = run(Network((tank, Node(ROOM, 20.0, 0.2, is_room=True)), (hole, drain)), [NOTHING_WRONG])[0]
    assert one.depth == near(0.03351781, rel=1e-4)
    assert one.deepest_at == near(49.9547, abs=0.01)


def test_a_vessel_that_falls_below_its_rim_has_to_fill_again():
    """1.2e-3 m³/s come, 3e-4 are pumped on: 0.09 m³ of room are full at 100 s, 9e-4 run over until 300 s: 0.18 m³. Then 2e-4 come and it falls,
    until the pump's switch stops it at 0.18 m in the other, at 600 s: 0.03 lower. From 750 s on it is full again, until 1000 s: 0.05 m³ more."""
    nodes = (Node("first", 1.0, 0.91, 0.0, 1.0), Node("other", 1.0, 0.0, 0.0, 2.0), floor())
    links = (
        Link("a", SUPPLIED, MAINS, "first", flow=1e-3, until=300.0),
        Link("b", SUPPLIED, MAINS, "first", flow=2e-4, until=1000.0),
        Link("pump", PUMPED, "first", "other", z_in=0.0, flow=3e-4, stops_at=0.18, again_at=0.1),
        Link("over", OVER_RIM, "first", ROOM),
        Link("over other", OVER_RIM, "other", ROOM),
    )
    one = run(Network(nodes, links), [NOTHING_WRONG])[0]
    assert dict(one.paths) == near({"over": 0.23}, rel=1e-6)
    assert one.rate == near(9e-4, rel=1e-9)
    assert [name for name, _ in one.overflows] == ["first"]
    assert {name: after for name, _, after in one.held} == near({"first": 1.0, "other": 0.18}, rel=1e-6)


def test_a_vessel_that_is_full_from_the_start():
    """1 L/s for 100 s into a tank at its rim: 0.1 m³ over it."""
    links = (Link("hose", SUPPLIED, MAINS, "tank", flow=1e-3, until=100.0), Link("over", OVER_RIM, "tank", ROOM))
    one = run(Network((Node("tank", 1.0, 0.5, 0.0, 0.5), floor()), links), [NOTHING_WRONG])[0]
    assert one.reached == near(0.1, rel=1e-9)


def test_a_siphon_after_a_pump_only_where_the_event_says_so():
    """Beside an event in which the pump's pipe may siphon back, one in which it does not: no such stop there."""
    links = (
        Link("pump, back", RUNS, "high", "low", False, 1.2, 0.1, siphon=True),
        Link("pump", PUMPED, "low", "high", z_in=0.1),
    )
    after = Event("e", "k", "s", "t", {"pump, back": {"after": "pump"}})
    asked = marks(lanes(Network((HIGH, LOW, WET), links), [after, NOTHING_WRONG]), ())
    at = [index for index, name in enumerate(asked.names) if name == "pump" and asked.what[index] == 1]
    assert asked.at[0, at].tolist() == near([0.101])
    assert np.isnan(asked.at[1, at]).all()


def test_which_vessels_run_over_and_when():
    """1e-3 m³/s into 0.1 m³ of room: from 100 s; over into one with 0.05 of room: from 150 s; then onto the floor: 450 of 600 s, 0.45 m³."""
    nodes = (Node("first", 1.0, 0.9, 0.0, 1.0), Node("second", 0.5, 0.2, 0.0, 0.5), floor())
    links = (
        Link("hose", SUPPLIED, MAINS, "first", flow=1e-3, until=600.0),
        Link("over first", OVER_RIM, "first", "second"),
        Link("over second", OVER_RIM, "second", ROOM),
    )
    one = run(Network(nodes, links), [NOTHING_WRONG])[0]
    assert [name for name, _ in one.overflows] == ["first", "second"]
    assert [at for _, at in one.overflows] == near([100.0, 150.0], rel=1e-6)
    assert one.paths == (("over second", near(0.45, rel=1e-6)),)
    assert {name: after for name, _, after in one.held} == near({"first": 1.0, "second": 0.25}, rel=1e-9)


def test_where_the_integration_stops():
    """Heights of mouths; a pump's intake and 10 mm above it, its switch; a siphon's start and its mouth; one that begins where a pump is down to
    a tenth of those 10 mm; a float valve's level and 25 mm below; rims. A drain (0.1 m, 1e-3 m², 4e-4 m³/s, 10 mm low) where
    weir and opening meet, 0.67e-3 · √19.6133/0.166 = 17.8749 mm, weir and pipe, (4e-4/0.166)^(2/3) = 17.9736, opening and pipe,
    (4e-4/2.967223e-3)² = 18.1727; and when it has taken 0.3 m³."""
    links = (
        Link("pipe", RUNS, "high", "low", z_in=0.6),
        Link("bell", RUNS, "high", "low", False, 1.05, 0.2, siphon=True, starts=1.3),
        Link("pump, back", RUNS, "high", "low", False, 1.2, 0.1, siphon=True, after="pump"),
        Link("pump", PUMPED, "low", "high", z_in=0.1, stops_at=1.45, again_at=1.42),
        Link("hose", SUPPLIED, MAINS, "low", z_in=0.33),
        Link("valve", SUPPLIED, MAINS, "low", z_in=0.45, float_valve=True),
        Link("drain", DRAINED, ROOM, SEWER, z_in=-0.01, rim=0.1, opening=1e-3, pipe_flow=4e-4, takes=0.3),
        Link("door", OVER_SILL, ROOM, OUTSIDE, z_in=0.02),
    )
    packed = lanes(Network((HIGH, LOW, WET), links), [NOTHING_WRONG])
    asked = marks(packed, (("socket", 0.15),))
    names = [link.name for link in packed.each[0]]
    places = ["high", "low", ROOM]
    found = []
    for at in range(asked.at.shape[1]):
        value, what = int(asked.value[0, at]), ("bend", "stop", "start", "full")[asked.what[at]]
        of = places[value] if value < 3 else f"through {names[value - 3]}"
        found.append((asked.names[at], what, int(asked.way[at]), of, float(asked.at[0, at])))
    expected = [
        ("pipe", "bend", 0, "high", 0.6),
        ("bell", "stop", -1, "high", 1.05),
        ("bell", "start", 1, "high", 1.3),
        ("pump, back", "stop", -1, "high", 1.2),
        ("pump, back", "start", -1, "low", 0.101),
        ("pump", "stop", -1, "low", 0.101),
        ("pump", "bend", 0, "low", 0.1),
        ("pump", "bend", 0, "low", 0.11),
        ("pump", "stop", 1, "high", 1.45),
        ("pump", "start", -1, "high", 1.42),
        ("valve", "bend", 0, "low", 0.45),
        ("valve", "bend", 0, "low", 0.425),
        ("drain", "bend", 0, ROOM, -0.01),
        ("drain", "stop", 1, "through drain", 0.3),
        ("drain", "bend", 0, ROOM, 0.0078749),
        ("drain", "bend", 0, ROOM, 0.0079736),
        ("drain", "bend", 0, ROOM, 0.0081727),
        ("door", "bend", 0, ROOM, 0.02),
        ("high", "full", 1, "high", 1.5),
        ("low", "full", 1, "low", 0.8),
        ("socket", "bend", 0, ROOM, 0.15),
    ]
    assert [one[:4] for one in sorted(found)] == [one[:4] for one in sorted(expected)]
    assert [one[4] for one in sorted(found)] == near([one[4] for one in sorted(expected)], abs=1e-7)
    # what stops or starts is that very link
    for at in range(asked.at.shape[1]):
        if asked.what[at] in (1, 2):
            assert names[asked.place[at]] == asked.names[at]


def test_what_runs_at_first():
    """Water at 1.4 m above, 0.4 below. A siphon only with its mouth under water, one that starts at 1.4 and not at 1.41; a pump not where its
    switch is up, at 1.4, but at 1.41; what is off is off."""
    links = (
        Link("wet", RUNS, "high", "low", True, 1.39, 0.2, siphon=True),
        Link("dry", RUNS, "high", "low", True, 1.4, 0.2, siphon=True),
        Link("pipe", RUNS, "high", "low", True, 1.45, 0.2),
        Link("starts", RUNS, "high", "low", False, 1.05, 0.2, siphon=True, starts=1.4),
        Link("waits", RUNS, "high", "low", False, 1.05, 0.2, siphon=True, starts=1.41),
        Link("up", PUMPED, "low", "high", stops_at=1.4),
        Link("runs", PUMPED, "low", "high", stops_at=1.41),
        Link("off", PUMPED, "low", "high", False),
        Link("plain", PUMPED, "low", "high"),
    )
    packed = lanes(Network((HIGH, LOW, WET), links), [NOTHING_WRONG])
    on = {link.name for link, runs in zip(packed.each[0], packed.running()[0], strict=True) if runs}
    assert on == {"wet", "pipe", "starts", "runs", "plain"}
    above, below = packed.ends(packed.starts)
    assert (above[0, 0], below[0, 0]) == near((1.4, 0.4))


def test_levels_of_fills_and_what_moved():
    """1.5 m² with 0.4 of pores up to 0.25 m on a base at 0.7: 0.12 m³ stand at 0.9, with 0.09 more, 0.21, at 0.99. A burst puts 0.05 m³ of it on
    the floor before anything runs."""
    bed = Node("bed", 1.5, 0.12, 0.7, 1.0, 0.4, 0.25)
    links = (Link("hose", SUPPLIED, MAINS, "bed"), Link("pipe", RUNS, "bed", ROOM))
    events = [NOTHING_WRONG, Event("b", "k", "s", "t", at_once={"bed": 0.05})]
    packed = lanes(Network((bed, floor()), links), events)
    names = [link.name for link in packed.each[0]]
    X = np.zeros((2, 2))
    assert packed.levels(packed.volumes(X)).tolist() == [near([0.9, 0.0]), near([0.7 + 0.07 / 0.6, 0.0025])]
    X[0, names.index("hose")], X[0, names.index("pipe")] = 0.11, 0.02
    assert packed.volumes(X)[0] == near([0.21, 0.02])
    assert packed.levels(packed.volumes(X))[0] == near([0.99, 0.001])
    assert (packed.in_pores[0, 0], packed.porous_area[0, 0], packed.rim_volume[0, 0]) == near((0.15, 0.6, 0.225))
    assert packed.rim_volume[0, 1] == np.inf


def test_what_never_comes_back():
    """Onto a floor from a vessel, into the network and out of it; not between vessels nor between floors."""
    hall = Node("hall", 10.0, 0.0, is_room=True)
    links = (
        Link("pipe", RUNS, "high", "low"),
        Link("leak", RUNS, "high", ROOM),
        Link("gone", RUNS, "high", HOUSE),
        Link("hose", SUPPLIED, MAINS, "low"),
        Link("out", OVER_SILL, ROOM, OUTSIDE),
        Link("to", OVER_SILL, ROOM, "hall"),
    )
    packed = lanes(Network((HIGH, LOW, WET, hall), links), [NOTHING_WRONG])
    once = {link.name for link, only in zip(packed.each[0], packed.one_way[0], strict=True) if only}
    assert once == {"leak", "gone", "hose", "out"}
    moves = {link.name: packed.moves[0, at].tolist() for at, link in enumerate(packed.each[0])}
    assert moves == {
        "pipe": [-1, 1, 0, 0],
        "leak": [-1, 0, 1, 0],
        "gone": [-1, 0, 0, 0],
        "hose": [0, 1, 0, 0],
        "out": [0, 0, -1, 0],
        "to": [0, 0, -1, 1],
    }
