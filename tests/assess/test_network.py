"""The water network by itself: balance, exact stops, laws."""

import numpy as np
import pytest

from brimfast.assess.memo import Memo, asked
from brimfast.assess.network.model import OVER_RIM, PUMPED, ROOM, RUNS, Event, Link, Network
from brimfast.assess.network.pipe_flow import mouth_flow, pipe_velocity, sill_flow
from brimfast.assess.network.runs import run, run_alike
from brimfast.assess.pipeline import before_water
from brimfast.shared.constants import INCH
from brimfast.shared.demo import demo_bytes
from brimfast.shared.reading import read_bytes
from tests.networks import NOTHING_WRONG, drain, floor, hole, tank


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
    pump = Link("pump", PUMPED, "source", "tank", z_in=0.05, flow=5e-4, stops_at=0.9, again_at=0.8)
    leak = Link("leak", RUNS, "tank", "source", z_in=0.0, z_out=0.0, bore=0.01, losses=2.6, rim=9.0, opening=9.0)
    over = Link("over", OVER_RIM, "tank", ROOM)
    network = Network(
        (tank("source", 1.0, 0.9, base=-1.5, rim=1.2), tank("tank", 1.0, 0.5), floor()), (pump, leak, over)
    )
    one = run(network, [NOTHING_WRONG])[0]
    assert one.reached == 0
    assert one.ended_at < 86400  # it repeats itself, and is left there


def test_its_own_accuracy_is_enough():
    """Against runs a thousand times as exact: what a room must hold within 0.5 %, what leaves it within a tenth of a litre."""
    question = before_water(read_bytes(demo_bytes("nursery"), "nursery").installation).question
    for waters in Memo().missing([asked(question)]):
        cases = waters.cases[::8]
        usual, exact = run_alike(cases, waters.heights), run_alike(cases, waters.heights, rtol=1e-8, atol=1e-9)
        for one, other in zip(usual, exact, strict=True):
            assert one.need == pytest.approx(other.need, rel=5e-3, abs=1e-4), one.event.id
            assert one.leaves == pytest.approx(other.leaves, rel=5e-3, abs=1e-4), one.event.id
            assert one.depth == pytest.approx(other.depth, rel=5e-3, abs=1e-5), one.event.id
