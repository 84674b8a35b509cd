"""The water network by itself: balance, exact stops, and the same run by scipy's solver."""

import math

import numpy as np
import pytest
from fluids.friction import Churchill_1977 as churchill
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from brimfast.assess.network.integrate import integrate
from brimfast.assess.network.lanes import lanes
from brimfast.assess.network.marks import marks
from brimfast.assess.network.model import (
    DRAINED,
    OVER_RIM,
    PUMPED,
    ROOM,
    RUNS,
    SEWER,
    Event,
    Link,
    Network,
    Node,
)
from brimfast.assess.network.pipe_flow import mouth_flow, pipe_velocity, sill_flow
from brimfast.assess.network.runs import run
from brimfast.shared.constants import GALLON, GRAVITY, INCH

NOTHING_WRONG = Event("e", "k", "s", "t")
HOLE = math.pi / 4 * INCH**2


def tank(name="tank", area=1.08, start=0.54, base=0.0, rim=1.0):
    return Node(name, area, start, base, base + rim)


def floor(area=20.0):
    return Node(ROOM, area, 0.0, is_room=True)


def hole(source="tank", target=ROOM, z=2.0):
    """1 in, C 0.62, in the bottom at a height above the floor."""
    return Link("hole", RUNS, source, target, z_in=z, z_out=z, bore=INCH, losses=1 / 0.62**2, rim=10.0, opening=10.0)


def drain(pipe_gpm):
    grate = math.pi / 4 * (4 * INCH) ** 2 * 0.5
    pipe = pipe_gpm * GALLON / 60
    return Link("drain", DRAINED, ROOM, SEWER, rim=math.pi * 4 * INCH, opening=grate, pipe_flow=pipe)


def by_scipy(pipe_gpm, rtol=1e-9):
    """Tank 1.2 x 0.9 m, 0.5 m of water, 1 in hole, over 20 m² of floor with a 4 in grate half open: our own equations."""
    grate = math.pi / 4 * (4 * INCH) ** 2 * 0.5

    def out(h):
        if h < 0.002:  # trickles
            x = h / 0.002
            return 0.62 * HOLE * math.sqrt(2 * GRAVITY * 0.002) * x * (1.5 - 0.5 * x)
        return 0.62 * HOLE * math.sqrt(2 * GRAVITY * h)

    def rate(_, y):
        h, d = max(y[0], 0.0), max(y[1], 0.0)
        took = min(
            1.66 * math.pi * 4 * INCH * d**1.5, 0.67 * grate * math.sqrt(2 * GRAVITY * d), pipe_gpm * GALLON / 60
        )
        return [-out(h) / 1.08, (out(h) - took) / 20.0]

    def turns(t, y):
        return rate(t, y)[1]

    turns.direction = -1
    return solve_ivp(rate, (0, 3000), [0.5, 0.0], rtol=rtol, atol=1e-12, events=turns, max_step=2.0, dense_output=True)


@pytest.mark.parametrize("gpm", [5.0, 23.0, 1e6])
def test_tank_pond_and_drain_as_scipy_has_them(gpm):
    """Same event, same equations written down anew: peak and its time to 1e-6."""
    network = Network((tank(base=2.0), floor()), (hole(), drain(gpm)))
    one = run(network, [NOTHING_WRONG], rtol=1e-9, atol=1e-11)[0]
    reference = by_scipy(gpm)
    at = reference.t_events[0][0]
    assert one.depth == pytest.approx(float(reference.sol(at)[1]), rel=1e-6)
    assert one.deepest_at == pytest.approx(at, rel=1e-4)  # where the level turns its time is soft
    t, depth = one.course
    inside = t < 3000
    assert depth[inside] == pytest.approx(reference.sol(t[inside])[1], abs=1e-7)


def test_two_tanks_level_out_as_by_scipy():
    """A pipe of 2 m between two tanks: friction by Churchill from the library fluids, solved to the end."""
    pipe = Link(
        "pipe",
        RUNS,
        "a",
        "b",
        z_in=0.0,
        z_out=0.0,
        bore=0.025,
        length=2.0,
        losses=2.0,
        roughness=1.5e-6,
        rim=9.0,
        opening=9.0,
    )
    network = Network((tank("a", 0.5, 0.4), tank("b", 0.8, 0.1), floor()), (pipe,))

    def velocity(H):
        return brentq(
            lambda V: (2 + churchill(V * 0.025 / 1.004e-6, 1.5e-6 / 0.025) * 80) * V**2 / (2 * GRAVITY) - H, 1e-9, 20
        )

    def rate(_, y):
        return [math.pi / 4 * 0.025**2 * velocity(max((0.4 - y[0]) / 0.5 - (0.1 + y[0]) / 0.8, 1e-9))]

    moved = solve_ivp(rate, (0, 200), [0.0], rtol=1e-9, atol=1e-12).y[0, -1]
    packed = lanes(network, [NOTHING_WRONG])
    trace = integrate(
        packed, marks(packed, [NOTHING_WRONG.links(packed.network)], (("1 cm", 0.01),)), np.array([200.0])
    )
    assert trace.X[0, 0] == pytest.approx(moved, rel=1e-3)  # two passes for the friction against all


def test_a_rim_is_met_exactly_and_all_that_comes_then_runs_over():
    """10 L/min into 0.2 m³ of room: over the rim after 1,200 s, not a drop before."""
    feed = Link("pump", PUMPED, "source", "tank", z_in=-1.0, flow=1e-2 / 60)
    over = Link("over", OVER_RIM, "tank", ROOM)
    network = Network((tank("source", 1.0, 0.9), tank("tank", 1.0, 0.8), floor()), (feed, over))
    one = run(network, [NOTHING_WRONG])[0]
    t, depth = one.course
    assert t[np.argmax(depth > 0) - 1] == pytest.approx(1200.0, abs=1e-6)
    assert {name: after for name, _, after in one.held}["tank"] == pytest.approx(1.0, rel=1e-12)


def test_water_is_neither_lost_nor_made():
    """Volumes held, drained and lying, each from its own link, for every fault at once; to 1e-9."""
    network = Network((tank(base=2.0), floor()), (hole(), drain(5.0)))
    for one in run(network, [NOTHING_WRONG, Event("b", "k", "s", "t", {}, {"tank": 0.3})]):
        held = {name: after for name, _, after in one.held}["tank"]
        assert held + one.lies + one.drained == pytest.approx(0.54, abs=1e-9)
        assert abs(one.lost) <= 1e-9


def test_an_event_is_the_same_alone_and_among_others():
    network = Network((tank(base=2.0), floor()), (hole(), drain(5.0)))
    events = [Event(str(n), "k", "s", "t", {"hole": {"bore": INCH * n / 4}}) for n in range(1, 9)]
    together = run(network, events)
    for event, one in zip(events, together, strict=True):
        alone = run(network, [event])[0]
        assert alone.depth == pytest.approx(one.depth, rel=1e-9)
        assert alone.reached == pytest.approx(one.reached, rel=1e-9)


def test_a_hundred_thousand_openings_at_once():
    """The law of a pipe broadcasts: one function for one and for many."""
    bore = np.linspace(0.01, 0.1, 100_000)
    V = pipe_velocity(1.0, bore, 2.0, 0.5, 1.5e-6)
    assert V.shape == bore.shape
    assert np.all(np.diff(V) > 0)
    assert float(V[500]) == pytest.approx(float(pipe_velocity(1.0, bore[500], 2.0, 0.5, 1.5e-6)), rel=1e-12)


def test_laws_of_openings():
    d = np.linspace(0, 0.5, 200)
    flow = mouth_flow(1.66, 0.3, 0.67, 0.004, d)
    assert np.all(np.diff(flow) >= 0)
    assert flow[0] == 0
    assert float(mouth_flow(1.66, 0.3, 0.67, 0.004, -0.1)) == 0
    assert float(sill_flow(1.45, 0.9, 0.1, 0.1)) == 0
    assert float(sill_flow(1.45, 0.9, 0.1, 0.2)) == 0
    assert float(sill_flow(1.45, 0.9, 0.1, 0.0)) == pytest.approx(1.45 * 0.9 * 0.1**1.5)
    assert float(pipe_velocity(-1.0, 0.02, 1.0, 0.5, 1e-6)) == 0
    # with head the law meets its own smooth end
    either_side = pipe_velocity(np.array([0.002 * (1 - 1e-9), 0.002 * (1 + 1e-9)]), 0.02, 1.0, 0.5, 1e-6)
    assert either_side[0] == pytest.approx(either_side[1], rel=1e-8)


def test_a_pump_stops_at_its_switch_and_starts_again():
    """A leak of the upper tank: the pump runs between two levels, never over the rim."""
    pump = Link("pump", PUMPED, "source", "tank", z_in=0.05, flow=5e-4, switch=(0.9, 0.8))
    leak = Link("leak", RUNS, "tank", "source", z_in=0.0, z_out=0.0, bore=0.01, losses=2.6, rim=9.0, opening=9.0)
    over = Link("over", OVER_RIM, "tank", ROOM)
    network = Network(
        (tank("source", 1.0, 0.9, base=-1.5, rim=1.2), tank("tank", 1.0, 0.5), floor()), (pump, leak, over)
    )
    one = run(network, [NOTHING_WRONG])[0]
    assert one.reached == 0
    assert one.ended_at < 86400  # it repeats itself, and is left there
