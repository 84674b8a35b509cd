"""The water's formulas against numbers worked out by hand (g = 9.80665 m/s², ν = 1.004e-6 m²/s)."""

import math

import numpy as np
import pytest

from brimfast.assess.network.build import drain_sizes, pipe_coefficient
from brimfast.assess.network.friction import (
    churchill_terms,
    friction_factor,
    hazen_williams,
    head_loss,
    reynolds,
    velocity,
)
from brimfast.assess.network.losses import pipe_losses
from brimfast.assess.network.pipe_flow import (
    full_pipe_flow,
    mouth_flow,
    orifice_flow,
    pipe_velocity,
    sill_flow,
    weir_flow,
)
from brimfast.assess.spill.drains import drain_capacity
from brimfast.assess.spill.room import pond_pressure
from brimfast.shared.installation.site import Drain

near = pytest.approx


def test_velocity_and_reynolds():
    """0.6 L/s in 20 mm: A = π/4 · 0.02² = 3.1416e-4 m²; V = 1.9099 m/s; Re = 1.9099 · 0.02/1.004e-6 = 38,045."""
    assert velocity(6e-4, 0.02) == near(1.90986, rel=1e-5)
    assert reynolds(1.90986, 0.02) == near(38045, rel=1e-5)


def test_churchill_1977():
    """Re 38,045, k_s/D 0.0075: (7/Re)^0.9 = 4.3483e-4, + 0.27 · 0.0075 = 2.45983e-3; ln(1/…) = 6.00766; A = (2.457 · 6.00766)^16
    = 5.0789e18; B = (37,530/38,045)^16 = 0.80407; A^−1.5 = 8.737e-29; (8/Re)^12 = 7e-45: f = 8 · (8.737e-29)^(1/12) = 0.036717.

    Re 2,500 and 3,000 with k_s/D 0.01, where all three terms count: 0.035446 and 0.047949; at 500 laminar: 64/500.
    """
    first, second = churchill_terms(38045.0, 0.0075)
    assert first == near(5.078917e18, rel=1e-6)
    assert second == near(0.8040733, rel=1e-6)
    assert friction_factor([38045.0, 2500.0, 3000.0, 500.0], [0.0075, 0.01, 0.01, 0.01]) == near(
        [0.0367171, 0.0354459, 0.0479493, 0.128], rel=2e-6
    )
    assert np.isnan(friction_factor([0.0, -5.0], 0.01)).all()


def test_head_loss():
    """h = (K + f L/D) V²/(2 g) (Darcy-Weisbach). 0.6 L/s in 20 mm of steel, 7 m, K 4.3: (4.3 + 0.0367171 · 350) · 1.90986²/19.6133
    = 17.1510 · 0.185974 = 3.1896 m. 5 mL/s flow laminar: V 0.0159155 m/s, Re 317.04, f 0.201862: 70.652 · 1.29147e-5 = 9.1248e-4 m."""
    assert head_loss([6e-4, -6e-4, 0.0], 0.02, 7.0, 4.3, 0.00015) == near([3.18964, 3.18964, 0.0], rel=2e-6)
    assert head_loss(5e-6, 0.02, 7.0, 0.0, 0.00015) == near(9.12475e-4, rel=2e-6)


def test_hazen_williams():
    """10.67 · 7 · 0.0006^1.852/(120^1.852 · 0.02^4.87) = 74.69 · 1.07928e-6/(7,090 · 5.3213e-9) = 2.1367 m."""
    assert hazen_williams(6e-4, 0.02, 7.0, 120.0) == near(2.13668, rel=1e-5)


def test_a_pumps_curve_after_its_pipe():
    """0 L/s at 5 m, 0.63 at 4, 1.2 at 1; 25 mm, 6 m of steel, K 6.2. Where nothing flows nothing is lost: 5 m.

    0.05 L/s (a 24th of 1.2): 5 − 0.05/0.63 = 4.92063 m, V 0.101859, Re 2536.3, f 0.0363345: 14.920 · 5.2899e-4 = 7.8927e-3 lost.
    0.63 L/s: V 1.28343, f 0.0350117: (6.2 + 0.0350117 · 240) · 0.0839825 = 1.22639 lost of 4. 1.2 L/s: f 0.0337805, V 2.44462:
    (6.2 + 8.10732) · 0.304698 = 4.35943 lost of 1.
    """
    table = pipe_losses([(0.0, 5.0), (6.3e-4, 4.0), (1.2e-3, 1.0)], 0.025, 6.0, 6.2, 0.00015)
    heads = {round(flow * 1e6, 6): head for head, flow in table}
    assert len(table) == 26
    assert [flow for _, flow in table] == sorted(flow for _, flow in table)
    assert [heads[at] for at in (0.0, 50.0, 630.0, 1200.0)] == near([5.0, 4.912742, 2.773615, -3.359435], rel=1e-6)


def test_a_pipe_under_a_head():
    """V = √(2 g H/(K + f L/D)). H 0.9 m, 30 mm of steel (k_s/D 0.005), 4 m, K 3.2: with V = 1.52805, Re 45,658, f = 0.0326997:
    3.2 + 0.0326997 · 133.333 = 7.55996; √(17.65197/7.55996) = 1.52805 m/s, itself again. Two passes are within 0.1 %.

    From f = 0.025 the first V is √(17.65197/6.53333) = 1.64373; its f, and that of what that gives, are two passes.
    Half of the 2 mm below which it falls off counts as 0.002 · (0.5 · 1.25)² = 0.00078125 m: without friction, K 2,
    √(2 g · 0.00078125/2) = 0.087530 m/s.
    """
    assert pipe_velocity(0.9, 0.03, 4.0, 3.2, 0.00015, passes=8) == near(1.528047, rel=1e-6)
    assert pipe_velocity(0.9, 0.03, 4.0, 3.2, 0.00015) == near(1.528047, rel=1e-3)
    assert pipe_velocity(0.9, 0.03, 4.0, 3.2, 0.00015, passes=0) == near(1.643725, rel=1e-6)
    assert pipe_velocity([0.001, 0.0, -0.5], 0.03, 0.0, 2.0, 0.00015) == near([0.0875297, 0.0, 0.0], rel=1e-5)


def test_weir_opening_pipe_and_sill():
    """HEC-22: weir 1.66 · 0.2419 · 0.021^1.5 = 1.22201e-3; opening 0.67 · 0.00266093 · √(2 · 9.80665 · 0.021) = 1.144176e-3 m³/s.

    Manning: 50 mm, 1 %: π/4 · 0.05² · 0.0125^(2/3) · 0.1/0.011 = 9.61414e-4. Sill: 1.45 · 0.8 · √0.09 · (0.09 − 0.04) = 0.0174.
    """
    assert weir_flow(1.66, 0.2419026, [0.021, -0.01]) == near([1.222018e-3, 0.0], rel=1e-6)
    assert orifice_flow(0.67, 0.002660929, [0.021, -0.01]) == near([1.144177e-3, 0.0], rel=1e-6)
    assert full_pipe_flow(0.011, 0.05, 0.01) == near(9.614142e-4, rel=1e-6)
    assert mouth_flow(1.66, 0.2419026, 0.67, 0.002660929, [0.003, 0.021]) == near([6.598277e-5, 1.144177e-3], rel=1e-6)
    assert sill_flow(1.45, 0.8, [0.09, 0.09, 0.04, -0.1], [0.04, -0.2, 0.09, 0.0]) == near([0.0174, 0.03132, 0.0, 0.0])


def test_the_sizes_of_a_drain():
    """Grate 110 mm, 40 % open, 70 % of it free: rim π · 0.11 · 0.7 = 0.241903 m; opening π/4 · 0.11² · 0.4 · 0.7 = 0.00266093 m²."""
    sizes = drain_sizes(0.05, 0.11, 0.4, 0.7, 0.01)
    assert sizes == near({"rim": 0.2419026, "opening": 0.002660929, "pipe_flow": 9.614142e-4}, rel=1e-6)


@pytest.mark.parametrize(
    ("depth", "flow", "governs"),
    [(0.007, 6.598277e-5, "weir"), (0.025, 9.614142e-4, "pipe"), (0.204, 9.614142e-4, "pipe")],
)
def test_what_a_drain_takes(depth, flow, governs):
    """As above; the grate lies 4 mm above the floor: under 7 mm it has 3 mm over it, 1.66 · 0.2419 · 0.003^1.5 = 6.598e-5;
    under 25 mm 21 mm."""
    drain = Drain(bore="50 mm", grate="110 mm", open_share="40 %", blocked="30 %", slope="1 %", height="4 mm")
    one = drain_capacity([drain], depth)
    assert one.flow == near(flow, rel=1e-6)
    assert one.governs == governs
    assert [step.inputs["d"].value for step in one.steps[:2]] == near([depth - 0.004] * 2)


def test_the_opening_of_a_drain_governs_between_weir_and_pipe():
    """150 mm pipe, 2 %: π/4 · 0.15² · 0.0375^(2/3) · √0.02/0.011 = 0.02545. Under 50 mm: weir 1.66 · 0.241903 · 0.05^1.5 =
    4.4896e-3, opening 0.67 · 0.00266093 · √(19.6133 · 0.05) = 1.76550e-3 m³/s: the least; two such take twice as much."""
    drain = Drain(bore="150 mm", grate="110 mm", open_share="40 %", blocked="30 %", slope="2 %")
    both = drain_capacity([drain, drain], 0.05)
    assert both.flow == near(2 * 1.765503e-3, rel=1e-6)
    assert both.governs == "opening, opening"
    steps = {one.symbol: one.result.value for one in both.steps}
    assert steps["Q_weir_1"] == near(4.489559e-3, rel=1e-6)
    assert steps["Q_pipe_2"] == near(0.0254534, rel=1e-4)
    assert drain_capacity([], 0.05).flow == 0.0


def test_what_a_pond_weighs():
    """70 mm: 1000 · 9.80665 · 0.07 = 686.47 N/m²."""
    assert pond_pressure(0.07) == near(686.4655)


def test_the_losses_of_a_pipe():
    """Entrance 0.5, exit 1.0, three bends of 0.9: 4.2; a swing check valve 2.0 more."""
    assert pipe_coefficient(3, check_valve=False) == near(4.2)
    assert pipe_coefficient(3, check_valve=True) == near(6.2)
    assert math.isclose(pipe_coefficient(0, check_valve=False), 1.5)


def test_a_sill_with_water_on_both_sides():
    """1.7·2·√0.09·(0.09 − 0.05) = 0.0408; none where both stand alike."""
    assert float(sill_flow(1.7, 2.0, 0.09, 0.05)) == pytest.approx(0.0408)
    assert float(sill_flow(1.7, 2.0, 0.09, 0.09)) == 0.0
