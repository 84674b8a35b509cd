"""The water network in time against published emptying laws and general-purpose libraries.

Emptying: h(t) = (√h0 − (C a/A) √(g/2) t)² (novasolver.jp, water tank drain); a tank of 1 m² with a hole of 0.01 m²,
C 0.62, under 2 m of water takes 103.0 s (calculatorlib.com, water flow from tank). Sills: a broad crest without losses has
C = √g (2/3)^1.5 (critical depth, any book of hydraulics). Runs in time: scipy's solve_ivp with equations written down anew;
friction: fluids.friction.Churchill_1977.
"""

import math

import fluids
import numpy as np
import pytest
from fluids.friction import Churchill_1977 as churchill
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from brimfast.assess.network.integrate import integrate
from brimfast.assess.network.lanes import lanes
from brimfast.assess.network.marks import marks
from brimfast.assess.network.model import RUNS, Link, Network
from brimfast.assess.network.pipe_flow import sill_flow, weir_flow
from brimfast.assess.network.runs import run
from brimfast.data_tables.loader import factor_si
from brimfast.shared.constants import GALLON, GRAVITY, INCH
from tests.networks import GRATE, NOTHING_WRONG, drain, floor, hole, tank

HOLE = math.pi / 4 * INCH**2


def emptying(rim=1e3):
    """Levels in time of the published tank, its hole free of what a mouth lets in."""
    bore = math.sqrt(4 * 0.01 / math.pi)
    network = Network((tank(area=1.0, start=2.0, base=5.0, rim=2.5), floor(1e6)), (hole(z=5.0, bore=bore),))
    packed = lanes(network, [NOTHING_WRONG])
    stops = marks(packed, (("1 cm", 0.01),))
    trace = integrate(packed, stops, np.array([102.0]), rtol=1e-8, atol=1e-9)
    t, z = trace.course(0, 0)
    return t, z - 5.0


def test_a_tank_empties_by_the_published_law():
    t, h = emptying()
    law = (math.sqrt(2.0) - 0.62 * 0.01 * math.sqrt(GRAVITY / 2) * t) ** 2
    above = h > 0.002  # below it our law bends into a straight line
    assert above.sum() > 10
    assert h[above] == pytest.approx(law[above], abs=2e-7)


def test_a_tank_empties_in_the_published_time():
    """√h falls in a straight line: carried on to 0 it takes 103.0 s, as printed (to a tenth)."""
    t, h = emptying()
    above = h > 0.01
    slope, start = np.polyfit(t[above], np.sqrt(h[above]), 1)
    assert -start / slope == pytest.approx(103.0, abs=0.05)


def test_a_sill_lets_over_less_than_a_crest_without_losses():
    ideal = math.sqrt(GRAVITY) * (2 / 3) ** 1.5
    assert ideal == pytest.approx(1.705, abs=5e-4)
    assert 0.8 * ideal < factor_si("sill_coefficient") < ideal


def test_weirs_beside_a_sharp_crest_by_fluids():
    """fluids.Q_weir_rectangular_full_Rehbock, deep water before the crest: C = 2/3 · 0.602 √(2g) = 1.78, on 1.25 mm more head.

    A doorway's sill (broad) and a grate's rim (round, clogging in mind) let over less than a sharp crest: 1.45 and 1.66.
    """
    for d in (0.03, 0.1, 0.2):
        sharp = fluids.Q_weir_rectangular_full_Rehbock(h1=d, h2=1e3, b=0.9)
        assert sharp == pytest.approx(2 / 3 * 0.602 * math.sqrt(2 * GRAVITY) * 0.9 * (d + 0.00125) ** 1.5, rel=0.002)
        sill = float(sill_flow(factor_si("sill_coefficient"), 0.9, d, 0.0))
        grate = float(weir_flow(factor_si("grate_weir_coefficient"), 0.9, d))
        assert sill / sharp == pytest.approx(1.45 / 1.78 * (d / (d + 0.00125)) ** 1.5, rel=0.002)
        assert sill < grate < sharp


def by_scipy(pipe_gpm, rtol=1e-9):
    """Tank 1.2 x 0.9 m, 0.5 m of water, 1 in hole, over 20 m² of floor with a 4 in grate half open: our own equations."""

    def out(h):
        if h < 0.002:  # trickles
            x = h / 0.002
            return 0.62 * HOLE * math.sqrt(2 * GRAVITY * 0.002) * x * (1.5 - 0.5 * x)
        return 0.62 * HOLE * math.sqrt(2 * GRAVITY * h)

    def rate(_, y):
        h, d = max(y[0], 0.0), max(y[1], 0.0)
        took = min(
            1.66 * math.pi * 4 * INCH * d**1.5, 0.67 * GRATE * math.sqrt(2 * GRAVITY * d), pipe_gpm * GALLON / 60
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
    trace = integrate(packed, marks(packed, (("1 cm", 0.01),)), np.array([200.0]))
    assert trace.X[0, 0] == pytest.approx(moved, rel=1e-3)  # two passes for the friction against all
