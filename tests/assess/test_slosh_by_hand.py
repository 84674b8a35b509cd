"""Sloshing at numbers where each term counts, and on both sides of its thresholds; by hand."""

import math
from dataclasses import replace

import pytest

from brimfast.assess.bodies import Direction, FreeBody, Sloshing
from brimfast.assess.demand.force import Force
from brimfast.assess.demand.motion import Corner
from brimfast.assess.demand.standard import standard_of
from brimfast.assess.parts import FrictionUsed
from brimfast.assess.slosh.case import Slosh, rack_periods, vessel_sloshes
from brimfast.assess.slosh.equivalents import (
    RECTANGULAR,
    ROUND,
    convective_height,
    depth_ratio,
    impulsive_height,
    impulsive_height_with_base,
)
from brimfast.assess.slosh.findings import only_weighed, rim_finding, slosh_cautions
from brimfast.assess.slosh.lid import comes_through, lid_finding, under_lid
from brimfast.assess.slosh.overturning import with_sloshing
from brimfast.assess.slosh.splash import bessel_J1, crest_rectangular, crests, splash, splash_events, thrown
from brimfast.assess.slosh.support import support
from brimfast.assess.slosh.water import FreeWater, free_water
from brimfast.assess.slosh.wave import convective_acceleration, is_index, sloshing_coefficient, wave_height
from brimfast.shared.findings import Value
from brimfast.shared.installation.site import Site
from brimfast.shared.installation.vessel import Lid
from tests.builders import RACK, WEIGHED, dry, read
from tests.reports.test_steps import evaluated

TANK = """
installation: one tank
site: {standard: asce7-16, S_DS: 0.3, importance: 1.5, height_ratio: 0.25}
room: {length: 24 ft, width: 16 ft}
vessels:
  - {name: tank, kind: tank, length: 1.2 m, width: 0.7 m, depth: 0.9 m, water: 0.5 m}
"""
UPSTAIRS = Site(standard="asce7-16", S_DS="0.3", importance="1.5", height_ratio="0.25")
GROUND = Site(standard="asce7-16", S_DS="0.3", importance="1.5")


def sloshes(periods=(), text=TANK, S_DS=0.3, T_S=0.5, **motion):
    """By way, of the first vessel; the corner period is given."""
    case = dry(text)
    ground = replace(case.motion, plateau=S_DS, corner=Corner(T_S, (), (), "not known"), **motion)
    vessel = case.installation.vessels[0].model_copy(update={"on": "r"} if periods else {})
    waves = vessel_sloshes(vessel, case.vessels[vessel.name], case.installation.site, ground, periods)
    return {one.way: one for one in waves}


def wave(vessel="tank", way="along", d=0.2, f=0.05, T=20.0, h=0.5, A=0.84, **other):
    """A wave of given numbers."""
    water = FreeWater(
        vessel, RECTANGULAR, {"along": 1.2, "across": 0.7, "any": 0.8}, h, f, other.pop("bottom", 0.02), A
    )
    plain = Slosh(vessel, "floor", way, water, T, 0.25, 0.25, d, False, 1920.0, 2260.0, 0.47, 0.5, (), (), ())
    return replace(plain, **other)


def lid(fastenings=7, allowable=205.95, opening=(0.05, 0.04)):
    """allowable in N, opening in m."""
    return Lid.model_construct(fastenings=fastenings, allowable=allowable, source="t", opening=opening, mass=0.0)


# --- equivalents


def test_depths_for_which_they_hold():
    """0.1 to 2 of the length, both inside; under and above there is no number."""
    found = depth_ratio([0.099, 0.1, 2.0, 2.01], 1.0)
    assert [math.isnan(one) for one in found] == [True, False, False, True]
    assert float(depth_ratio(0.3, 0.8)) == pytest.approx(0.375)


@pytest.mark.parametrize(("L", "h_i"), [(0.39, 0.1134375), (0.42, 0.1125), (0.27, 0.1246875)])
def test_rigid_part_on_walls(L, h_i):
    """ACI 350.3-20 (9.2.2a, b), h 0.3 m: L/h 1.3: (0.5 − 0.09375 · 1.3) · 0.3; 1.4: 0.375 · 0.3; 0.9: (0.5 − 0.084375) · 0.3."""
    assert float(impulsive_height(0.3, L)) == pytest.approx(h_i)


def test_rigid_part_on_walls_at_its_threshold():
    """L/h = 1.333 itself: 0.375, not 0.5 − 0.09375 · 1.333 = 0.37503."""
    assert 1 / (1 / 1.333) == 1.333
    assert float(impulsive_height(1.0, 1.333)) == pytest.approx(0.375, rel=1e-9)


def test_rigid_part_with_the_bottom_at_its_threshold():
    """ACI 350.3-20 section 9.2.3: under L/h 0.75 0.45 h; at 0.75 x = 0.6495, tanh x = 0.571333: 0.568407 − 0.125 = 0.443407."""
    assert float(impulsive_height_with_base(1.0, 0.7499)) == pytest.approx(0.45)
    assert float(impulsive_height_with_base(1.0, 0.75)) == pytest.approx(0.443407, rel=1e-5)


def test_sloshing_part_on_walls():
    """ACI 350.3-20 (9.2.2c), h 0.3 m, L 0.8 m: x = 1.185, cosh 1.788217, sinh 1.482470: 1 − 0.788217/1.756727 = 0.551315.

    Round (9.3.2c): x = 1.38, cosh 2.113240, sinh 1.861662: 1 − 1.113240/2.569093 = 0.566680.
    """
    assert float(convective_height(0.3, 0.8, RECTANGULAR)) == pytest.approx(0.3 * 0.551315, rel=2e-5)
    assert float(convective_height(0.3, 0.8, ROUND)) == pytest.approx(0.3 * 0.566680, rel=2e-5)


# --- wave


def test_spectrum_at_light_damping():
    """1.5 · min(0.4/T, 0.8): at 0.4 s 1.2 (the cap), at 0.5 s 1.2 (both), at 1.6 s 0.375; none at 0 s."""
    assert convective_acceleration([0.4, 0.5, 1.6], 0.8, 0.4) == pytest.approx([1.2, 1.2, 0.375])
    assert math.isnan(float(convective_acceleration(0.0, 0.8, 0.4)))
    assert math.isnan(float(convective_acceleration(-1.0, 0.8, 0.4)))


def test_wave_with_and_without_importance():
    """ASCE 7-16 (15.7-13): 0.42 · 1.2 · 1.5 · 0.25 = 0.189 m; importance 1 where none is given: 0.126 m."""
    assert float(wave_height(1.2, 0.25, 1.5)) == pytest.approx(0.189)
    assert float(wave_height(1.2, 0.25)) == pytest.approx(0.126)


def test_steep_over_a_fifth_of_the_lesser_of_length_and_depth():
    """0.2 · 0.5 = 0.1 m is not; 0.2 · 0.4 of a short vessel."""
    assert not is_index(0.1, 1.2, 0.5)
    assert is_index(0.1001, 1.2, 0.5)
    assert is_index(0.0801, 0.4, 0.5)
    assert not is_index(0.0799, 0.4, 0.5)


def test_force_coefficient_with_all_its_terms():
    """h/(0.42 L) = 0.2/0.504 = 0.396825. I_e 1.5: S_ac 0.3: 0.3 (R_c 1.5); S_c 0.5 more than the reach: 0.5; R_c 1: 0.75."""
    assert float(sloshing_coefficient(0.3, 0.2, 0.2, 1.2)) == pytest.approx(0.2)
    assert float(sloshing_coefficient(0.3, 0.2, 0.2, 1.2, 1.5)) == pytest.approx(0.3)
    assert float(sloshing_coefficient(0.9, 0.2, 0.2, 1.2, 1.5)) == pytest.approx(0.396825, rel=1e-5)
    assert float(sloshing_coefficient(0.9, 0.5, 0.2, 1.2, 1.5)) == pytest.approx(0.5)
    assert float(sloshing_coefficient(0.9, 0.5, 0.2, 1.2, 1.5, 1.0)) == pytest.approx(0.75)


# --- one vessel


def test_a_tank_upstairs_by_hand():
    """S_DS 0.3 g, T_S 0.5 s, I_e 1.5, z/h 0.25 (H_f 1.5); 1.2 x 0.7 m, 0.5 m of water: 0.42 m³, W = 4118.79 N.

    Along: x = 3.16 · 0.5/1.2 = 1.316667, tanh 0.865953; T_c = 2π √(1.2/(3.16 · 9.80665 · 0.865953)) = 1.32868 s.
    S_c = 1.5 · 0.3 · 0.5/1.32868 = 0.169341; S_ac = 1.5 · 0.169341 = 0.254012; d = 0.42 · 1.2 · 1.5 · 0.254012 = 0.192033 m.
    C_c = 0.254012 · 1.5/1.5, under h/(0.42 L) = 0.992. y = 0.866 · 1.2/0.5 = 2.0784, tanh 0.969168:
    W_i = 0.969168/2.0784 W = 1920.61 N, W_c = 0.264 · 2.4 · 0.865953 W = 2259.85 N,
    h_i = (2.0784/(2 · 0.969168) − 1/8)/2 = 0.473630 m, cosh x 1.999496, sinh x 1.731468:
    h_c = (1 − (1.999496 − 2.01)/(1.316667 · 1.731468))/2 = 0.502304 m.
    ACI 350.3-20 section 9.2; ASCE 7-16 (15.7-6), (15.7-10), (15.7-13).
    """
    one = sloshes()["along"]
    assert one.water.weight == pytest.approx(4118.79, rel=1e-5)
    assert one.period == pytest.approx(1.32868, rel=1e-5)
    assert one.acceleration == pytest.approx(0.254012, rel=1e-5)
    assert one.wave == pytest.approx(0.192033, rel=1e-5)
    assert one.coefficient == pytest.approx(0.254012, rel=1e-5)
    assert (one.rigid, one.sloshing) == pytest.approx((1920.61, 2259.85), rel=1e-5)
    assert (one.rigid_height, one.sloshing_height) == pytest.approx((0.473630, 0.502304), rel=1e-5)
    assert one.index
    assert one.length == 1.2
    assert [line.symbol for line in one.steps] == ["T_c", "H_f", "S_c", "S_ac", "d_1", "d"]
    for line in (*one.steps, *one.masses):
        assert evaluated(line, "si") == pytest.approx(line.result.value, rel=1e-12)
    assert "cap" not in one.steps[2].note
    assert one.masses[-1].expression.startswith("min(S_ac*I_e/1.5, max(S_c*I_e/1.5,")


def test_across_the_tank():
    """x = 3.16 · 0.5/0.7 = 2.257143, tanh 0.978334: T_c 0.954732 s, S_c 0.235668, S_ac 0.353502, d = 0.42 · 0.7 · 1.5 · 0.353502

    = 0.155895 m; y 1.2124, tanh 0.837398: W_i = 0.690694 W = 2844.83 N, W_c = 0.264 · 1.4 · 0.978334 W = 1489.32 N,
    h_i = (0.723909 − 0.125)/2 = 0.299455 m.
    """
    one = sloshes()["across"]
    assert one.period == pytest.approx(0.954732, rel=1e-5)
    assert one.acceleration == pytest.approx(0.353502, rel=1e-5)
    assert one.wave == pytest.approx(0.155895, rel=1e-5)
    assert (one.rigid, one.sloshing) == pytest.approx((2844.83, 1489.32), rel=1e-5)
    assert one.rigid_height == pytest.approx(0.299455, rel=1e-5)


def test_where_the_force_is_not_reduced():
    """R_c 1: 0.254012 · 1.5 = 0.381018. The printed line has no divisor."""
    one = sloshes(convective_R=1.0)["along"]
    assert one.coefficient == pytest.approx(0.381018, rel=1e-5)
    assert one.masses[-1].expression.startswith("min(S_ac*I_e, max(S_c*I_e,")
    note = "what floor and rack add counts only as far as the wave can rise"
    assert one.masses[-1].note == f"{note}; not reduced"
    assert sloshes()["along"].masses[-1].note == note


def test_each_way_has_its_own_period_of_the_rack():
    """Along 0.3 s, across none: A = 1/(1 − (0.3/1.32868)²) = 1.053719 along; across it builds up.

    S_ac = 1.053719 · 0.254012 = 0.267657 along; across max(0.353502, 0.5/(0.42 · 0.7 · 1.5) = 1.133787), the wave 0.5 m,
    C_c = 0.5/(0.42 · 0.7) = 1.700680.
    """
    found = sloshes((0.3, math.inf))
    assert found["along"].acceleration == pytest.approx(0.267657, rel=1e-5)
    assert not found["along"].builds_up
    across = found["across"]
    assert across.acceleration == pytest.approx(1.133787, rel=1e-5)
    assert across.wave == 0.5
    assert across.coefficient == pytest.approx(1.700680, rel=1e-5)
    assert across.index and across.builds_up
    assert [line.symbol for line in across.steps] == ["T_c", "H_f", "S_c", "S_ac", "d"]
    assert across.masses[-1].expression.startswith("max(S_c*I_e/1.5,")


def test_one_period_counts_for_both_ways():
    """0.3 s: A 1.053719 along; across 1/(1 − (0.3/0.954732)²) = 1.109554, S_ac 0.392230."""
    found = sloshes((0.3,))
    assert found["along"].acceleration == pytest.approx(0.267657, rel=1e-5)
    assert found["across"].acceleration == pytest.approx(0.392230, rel=1e-5)


def test_a_round_vessel_is_shaken_by_both_periods_of_its_rack():
    """D 0.8 m, h 0.3 m: x = 1.38, tanh 0.880951, T_c = 2π √(0.8/(3.68 · 9.80665 · 0.880950)) = 0.996700 s; slower 0.4 s:

    A = 1/(1 − 0.161061) = 1.191982. S_c = 0.45 · 0.5/0.996700 = 0.225745, H_f 1.5: S_ac = 0.403625.
    """
    text = TANK.replace("length: 1.2 m, width: 0.7 m", "diameter: 0.8 m").replace("water: 0.5 m", "water: 0.3 m")
    for periods in ((0.3, 0.4), (0.4, 0.3)):
        one = sloshes(periods, text)["any"]
        assert one.period == pytest.approx(0.996700, rel=1e-5)
        assert one.acceleration == pytest.approx(0.403625, rel=1e-5)


def test_a_strong_ground_is_more_than_the_wave_that_the_depth_lets_rise():
    """S_DS 1.2 g with the corner at 3 s, the rack in step: H_f S_c = 1.5 · 1.8 = 2.7 g, more than 0.661; C_c = 1.8 · 1.5/1.5."""
    one = sloshes((1.3,), S_DS=1.2, T_S=3.0)["along"]
    assert one.builds_up and one.near
    assert one.acceleration == pytest.approx(2.7)
    assert "its cap 1.5 S_DS governs" in next(line.note for line in one.steps if line.symbol == "S_c")
    assert one.coefficient == pytest.approx(1.8)


def test_a_wave_is_no_higher_than_the_water_is_deep():
    """S_DS 1.2, T_S 3 s, H_f 1.5: d_1 = 0.42 · 1.2 · 1.5 · 2.7 = 2.04 m, as far as 0.5 m."""
    one = sloshes(S_DS=1.2, T_S=3.0)["along"]
    assert one.wave == 0.5
    assert one.coefficient == pytest.approx(1.8)  # S_c I_e/1.5, more than 0.992


def test_without_a_corner_there_is_no_number():
    for one in sloshes(T_S=math.nan).values():
        assert not one.assessed
        assert all(
            math.isnan(number)
            for number in (one.period, one.wave, one.coefficient, one.rigid, one.sloshing, one.sloshing_height)
        )
        assert one.why == "not known"
        assert not one.index


@pytest.mark.parametrize(
    ("depth", "assessed"),
    [("0.119 m", False), ("0.12 m", True), ("1.4 m", True), ("1.401 m", False)],
)
def test_limits_of_the_equivalents(depth, assessed):
    """0.1 · 1.2 = 0.12 m along, 2 · 0.7 = 1.4 m across: the limits themselves are inside."""
    text = TANK.replace("depth: 0.9 m, water: 0.5 m", f"depth: 2 m, water: {depth}")
    way = "along" if depth.startswith("0") else "across"
    assert sloshes(text=text)[way].assessed is assessed


@pytest.mark.parametrize(
    ("L", "h_i", "printed"), [("0.7499 m", 0.45, "0.45*h"), ("0.75 m", 0.443407, "(0.866*L/h/(2*")]
)
def test_the_printed_height_of_the_rigid_part_is_that_which_counts(L, h_i, printed):
    """1 m deep: under L/h 0.75 0.45 m; at 0.75 itself 0.568407 − 0.125 m, as above."""
    text = (
        TANK.replace("length: 1.2 m, width: 0.7 m", f"length: 1.2 m, width: {L}")
        .replace("0.9 m", "2 m")
        .replace("0.5 m", "1 m")
    )
    one = sloshes(text=text)["across"]
    assert one.rigid_height == pytest.approx(h_i, rel=1e-5)
    line = next(line for line in one.masses if line.symbol == "h_i")
    assert line.expression.startswith(printed)
    assert set(line.inputs) == ({"h"} if h_i == 0.45 else {"L", "h"})


@pytest.mark.parametrize(("width", "water", "h_i"), [(18, 24, 0.270301), (24, 32, 0.360401), (27, 36, 0.405452)])
def test_tanks_of_inches_at_that_threshold(width, water, h_i):
    """L/h is 0.75, however it is rounded: 0.443407 · 24 in, 32 in, 36 in; printed so."""
    sizes = f"width: {width} in, depth: 60 in, water: {water} in"
    one = sloshes(text=TANK.replace("width: 0.7 m, depth: 0.9 m, water: 0.5 m", sizes))["across"]
    assert one.rigid_height == pytest.approx(h_i, rel=1e-5)
    line = next(line for line in one.masses if line.symbol == "h_i")
    assert evaluated(line, "si") == pytest.approx(h_i, rel=1e-5)


# --- water and rack


def test_free_water_of_a_raised_tank():
    """0.62 m of water in a tank 0.9 m deep, fill 0.2 m: 0.42 m free, 0.28 m of freeboard, above 0.2 m of fill, bottom 3/8 in."""
    text = TANK.replace("water: 0.5 m", "water: 0.62 m, fill: gravel, fill_depth: 0.2 m, stand: {height: 0.3 m}")
    case = dry(text)
    water = free_water(case.installation.vessels[0], case.vessels["tank"])
    assert water.depth == pytest.approx(0.42)
    assert water.freeboard == pytest.approx(0.28)
    assert water.bottom == pytest.approx(0.3 + 0.009525 + 0.2)
    assert water.area == pytest.approx(0.84)
    assert water.volume == pytest.approx(0.3528)
    assert water.lengths == pytest.approx({"along": 1.2, "across": 0.7})


def test_rack_periods():
    """Of the frame where it has them, else the file's, else none; the floor has none."""
    installation = read(RACK.replace("beam_runs: each bay", "beam_runs: each bay\n    period: 0.7 s")).installation
    assert rack_periods(installation, "floor", {}) == ()
    assert rack_periods(installation, "r", {"r": (0.2, 0.3)}) == (0.2, 0.3)
    assert rack_periods(installation, "r", {"r": None}) == (0.7,)
    assert rack_periods(read(RACK).installation, "r", {}) == ()


def test_support_by_its_slower_period_and_its_floor():
    """(0.3, 0.4) s at 1 s: 1/(1 − 0.16) = 1.190476; z/h 0.25: H_f 1.5; not known: two thirds, 1/(1 − 4/9) = 1.8."""
    assert (support(UPSTAIRS, 1.0, "r", (0.3, 0.4)).A, support(UPSTAIRS, 1.0, "r", (0.3, 0.4)).H_f) == pytest.approx(
        (1.190476, 1.5), rel=1e-6
    )
    assert support(GROUND, 1.0, "r", (0.4, 0.3)).H_f == 1.0
    assert pytest.approx(1.8) == support(GROUND, 1.0, "r", ()).A
    assert support(GROUND, 1.0, "r", ()).values and not support(GROUND, 1.0, "r", (0.4,)).values
    assert support(UPSTAIRS, 1.0, None, ()).steps[0].symbol == "H_f"
    assert support(GROUND, 1.0, None, ()).steps == ()


@pytest.mark.parametrize(("T_c", "near"), [(6.0, True), (6.01, False), (4.0, True), (3.99, False)])
def test_near_is_a_fifth_of_the_racks_period(T_c, near):
    """T_r 5 s: from 4 to 6 s, both themselves near; a direction that nothing holds has no period to be near to."""
    assert bool(support(GROUND, T_c, "r", (5.0,)).near) is near
    assert bool(support(GROUND, T_c, "r", (math.inf, 5.0)).near) is near


def test_two_thirds_of_the_waters_period():
    """T_r 2 s: at 3 s A = 1/(1 − 4/9) = 1.8, just under it none."""
    assert pytest.approx(1.8) == support(GROUND, 3.0, "r", (2.0,)).A
    assert math.isnan(support(GROUND, 2.99, "r", (2.0,)).A)
    assert "period 2.00 s" in support(GROUND, 2.99, "r", (2.0,)).why
    assert math.isnan(support(GROUND, 3.0, "r", (2.0, math.inf)).A)
    assert "nothing holds" in support(GROUND, 3.0, "r", (2.0, math.inf)).why


# --- over the rim


@pytest.mark.parametrize(("f", "crest"), [(0.05, 0.203310), (0.12, 0.0775476), (0.2, 0.0), (0.3, 0.0)])
def test_crest(f, crest):
    """d 0.2 m: f/d 0.25: cos 0.252680 = 0.968246, /π 0.308202 − 0.25 · 0.419569; f/d 0.6: a = 0.643501,

    0.8/π − 0.6 (0.5 − 0.204833) = 0.254648 − 0.177100.
    """
    assert float(crest_rectangular(0.2, f)) == pytest.approx(crest, rel=1e-5, abs=1e-15)
    assert math.isnan(float(crest_rectangular(0.0, f)))


def test_bessel_at_the_end_of_its_range():
    """Abramowitz and Stegun Table 9.1: J_1(1.5) 0.5579365079, J_1(3) 0.3390589585; nothing beyond."""
    assert float(bessel_J1(1.5)) == pytest.approx(0.5579365079, abs=1e-10)
    assert float(bessel_J1(3.0)) == pytest.approx(0.3390589585, abs=1e-10)
    assert math.isnan(float(bessel_J1(3.0001)))


def test_crests_and_what_they_throw():
    """2 · 30/20 = 3 crests; 3 · 0.034156 = 0.102468 m³, at most 0.84 · (0.2 − 0.05) = 0.126."""
    assert float(crests(20.0, 30.0)) == 3.0
    assert float(thrown(3.0, 0.034156, 0.84, 0.2, 0.05)) == pytest.approx(0.102468)
    assert float(thrown(4.0, 0.034156, 0.84, 0.2, 0.05)) == pytest.approx(0.126)
    assert float(thrown(4.0, 0.034156, 0.84, 0.05, 0.2)) == 0.0


def test_splash_of_one_way():
    """V_1 = 0.203310 · 0.2 · 0.84 = 0.034156 m³, T_c 20 s: 3 of them; T_c 10 s: 6 would be 0.205, so 0.126; none at the rim."""
    assert splash(wave())[0] == pytest.approx(0.102468, rel=1e-5)
    assert splash(wave(T=10.0))[0] == pytest.approx(0.126)
    assert splash(wave(f=0.2)) == (0.0, ())
    assert splash(wave(why="not known")) == (0.0, ())


def test_splash_of_a_round_vessel():
    """Share above f/d 0.6 by quadrature of the shape J_1 (1.8412 r/R) cos θ: 0.043957; · 0.2 · 0.84 · 3 = 0.0221543 m³."""
    one = wave(f=0.12)
    one = replace(one, water=replace(one.water, shape=ROUND), way="any")
    assert splash(one)[0] == pytest.approx(0.0221543, rel=1e-4)


def test_both_ways_together():
    """Along 0.102468 m³. Across d 0.1, f 0.05: 0.866025/π − 0.5/3 = 0.108998, · 0.1 · 0.84 = 0.0091559, T_c 12 s: 5 of them,

    0.045779, at most 0.84 · 0.05 = 0.042. Together 0.144468 m³. A vessel whose waves stay below its rim is no event.
    """
    along, across = wave(), wave(way="across", d=0.1, T=12.0)
    calm = wave("calm", f=0.3)
    (event,) = splash_events((calm, along, across))
    assert event.subject == "tank"
    assert event.volume == pytest.approx(0.144468, rel=1e-5)
    assert "along its length and across its width" in event.text
    assert "index" not in event.note
    (event,) = splash_events((along, replace(across, index=True)))
    assert "index" in event.note
    (event,) = splash_events((along, wave(way="across", d=0.05, index=True)))
    assert "index" not in event.note and "across" not in event.text


def test_never_more_than_the_free_water():
    """d = h = 0.5 m, f 0.05 m, both ways at most 0.84 · 0.45 = 0.378 m³; the water is 0.42 m³. One way alone: 0.378."""
    along = wave(d=0.5, T=1.0)
    (event,) = splash_events((along, replace(along, way="across")))
    assert event.volume == pytest.approx(0.42)
    (event,) = splash_events((along, wave(way="across", why="not known")))
    assert event.volume == pytest.approx(0.378)
    assert "over the rim" in event.text


# --- under a lid


def test_lid_by_hand():
    """9806.65 · (0.2 − 0.05) · 0.84/2 = 617.82 N; half of 7 fastenings, 3 of them: 205.94 N. Steep: 0.5 m deep, 0.45 m: 617.82 N."""
    one = under_lid(wave(lid=lid()))
    assert one.rises == 0.2
    assert (one.steps[0].expression, set(one.steps[0].inputs)) == ("d", {"d"})
    assert one.steps[0].note == ""
    assert one.steps[1].inputs["rho_g"].value == pytest.approx(9806.65)
    assert one.each == pytest.approx(205.94, rel=1e-4)
    assert one.stays
    assert not under_lid(wave(lid=lid(allowable=205.9))).stays
    assert not under_lid(wave(lid=lid(allowable=None))).stays
    steep = under_lid(wave(lid=lid(), index=True))
    assert (steep.steps[0].expression, set(steep.steps[0].inputs)) == ("h", {"h"})
    assert "as high as the water is deep" in steep.steps[0].note
    assert (steep.rises, steep.each) == (0.5, pytest.approx(617.82, rel=1e-4))


def test_a_lid_that_carries_just_what_it_must_stays():
    each = under_lid(wave(lid=lid())).each
    assert under_lid(wave(lid=lid(allowable=each))).stays


def test_through_its_openings():
    """0.67 · 0.002 m² · √(2 · 9.80665 · 0.15) = 1.71522 m/s · 15 s = 0.0344759 m³; no more than goes over an open rim, if any does."""
    one = wave(lid=lid())
    assert comes_through(one, 0.102468)[0] == pytest.approx(0.0344759, rel=1e-5)
    assert comes_through(one, 0.02)[0] == 0.02
    assert comes_through(one, 0.0)[0] == pytest.approx(0.0344759, rel=1e-5)
    assert splash(one)[0] == pytest.approx(0.0344759, rel=1e-5)
    assert comes_through(wave(lid=lid(opening=None)), 0.1) == (0.0, ())
    assert comes_through(wave(lid=lid(), f=0.25), 0.1) == (0.0, ())


def test_a_lid_in_the_finding_and_in_the_event():
    """205.94 N against 205.95 stays; against 200 N it is lifted, and the waves go over the rim as without."""
    held, lifted = wave(lid=lid()), wave(lid=lid(allowable=200.0))
    standard = standard_of(GROUND)
    for one, verdict, reason, says in (
        (held, "close", "", "out of the openings"),
        (lifted, "short", "lifts", "the rim"),
    ):
        found = rim_finding(one, standard)
        assert found.verdict == verdict
        assert found.demand == pytest.approx(205.94, rel=1e-4)
        assert reason in found.reason and bool(reason) is bool(found.reason)
        (event,) = splash_events((one,))
        assert says in event.text
    assert splash(lifted)[0] == pytest.approx(0.102468, rel=1e-5)
    (event,) = splash_events((held, replace(lifted, way="across")))
    assert "the rim" in event.text
    (event,) = splash_events((held, wave(way="across", lid=lid(), why="not known")))
    assert "out of the openings" in event.text


def test_a_required_strength_of_a_lid_is_to_be_confirmed():
    required = lid().model_copy(update={"source": "required: as much"})
    for one, asked in ((lid(), False), (required, True)):
        found = lid_finding(wave(lid=one), (), (), "", {})
        assert ("allowable value" in found.details) is asked
        assert any("fastening of a lid" in value.name for value in found.values) is asked


# --- what is said


def test_wave_against_the_rim():
    """0.2 m against 0.05 m is short; against 0.2 m close, without a reason; steep and not above the rim: not assessed."""
    standard = standard_of(GROUND)
    over = rim_finding(wave(), standard)
    assert (over.demand, over.capacity, over.verdict) == (0.2, 0.05, "short")
    assert over.reason == "it splashes over the rim"
    duration = [value.name for value in over.values]
    level = rim_finding(wave(f=0.2), standard)
    assert (level.verdict, level.reason) == ("close", "")
    assert len(level.values) == len(duration) - 1
    for f in (0.2, 0.3):
        steep = rim_finding(wave(f=f, index=True), standard)
        assert (steep.verdict, steep.demand) == ("not assessed", 0.2)
    assert rim_finding(wave(f=0.19, index=True), standard).verdict == "short"
    assert "an index" in rim_finding(wave(f=0.19, index=True), standard).basis
    assert "an index" not in over.basis
    assert rim_finding(wave(f=0.3, index=True, builds_up="sways"), standard).reason.startswith("sways; ")
    assert rim_finding(wave(f=0.3, index=True), standard).reason.startswith("the wave is steep; ")
    assert "(sways)" in rim_finding(wave(builds_up="sways"), standard).reason


def test_only_weighed_vessels_are_not_assessed():
    assert len(only_weighed(read(WEIGHED).installation)) == 1
    assert len(only_weighed(read(WEIGHED.replace(", holds: 50 gal", "")).installation)) == 1
    assert only_weighed(read(RACK).installation) == []


# --- of a body


def body(kind="rack", **sloshing):
    friction = FrictionUsed("", "", 0.3, 0.4, Value("", "", "", "from memory"))
    names = ("along the rack", "across the rack", "in any direction")
    ways = tuple(Direction(name, 1.0, 0.5, sloshing=sloshing.get(name.split()[0])) for name in names)
    return FreeBody("rack r", kind, "floor", "", 20_000 / 9.80665, 0.8, ways, friction, None, 1.0)


def force(horizontal):
    return {"rack r": Force("rack r", 20_000.0, horizontal, 0.0, 1.0, "", "", "", (), ())}


def test_push_and_tipping_of_two_vessels():
    """W 20 000 N at 0.8 m, C 0.4. First: 0.42 m³, z = 0.6 + 0.02; second: 0.2 m³, z = 0.9 + 0.03.

    W_r 4118.79 − 1920 = 2198.79 and 1961.33 − 1000 = 961.33; V_c 0.25 · 2260 = 565 and 0.3 · 900 = 270;
    M_r 4118.79 · 0.87 − 1920 · 1.09 = 1490.55 and 1961.33 · 1.13 − 1000 · 1.23 = 986.30; M_c 565 · 1.12 = 632.8 and 270 · 1.28 = 345.6.
    Along: V = √((0.4 · 16 839.88)² + 835²) = √(6735.95² + 835²) = 6787.5 N,
    M = √((0.4 · (16 000 − 2476.85))² + 978.4²) = √(5409.26² + 978.4²) = 5497.0 N·m.
    Across the second alone: √((0.4 · 19 038.67)² + 270²) = 7620.25 N, √((0.4 · 15 013.7)² + 345.6²) = 6015.4 N·m.
    In any direction all of them. ASCE 7-16 section 15.7.6.1.
    """
    first = wave("first")
    second = wave(
        "second", "any", h=0.4, A=0.5, bottom=0.03, coefficient=0.3, rigid=1000.0, sloshing=900.0, rigid_height=0.3,
        sloshing_height=0.35,
    )  # fmt: skip
    elsewhere, unknown = wave("elsewhere"), wave("first", "across", why="not known")
    (found,) = with_sloshing(
        (body(),), force(8000.0), (first, elsewhere, second, unknown), {"rack r": {"first": 0.6, "second": 0.9}}
    )
    along, across, any_way = (direction.sloshing for direction in found.directions)
    assert (along.force, along.moment) == pytest.approx((6787.5, 5497.0), rel=2e-5)
    assert (across.force, across.moment) == pytest.approx((7620.25, 6015.4), rel=2e-5)
    assert (any_way.force, any_way.moment) == pytest.approx((6787.5, 5497.0), rel=2e-5)
    assert not along.index
    for line in along.steps:
        assert evaluated(line, "si") == pytest.approx(line.result.value, rel=1e-12)
    push, moment = along.steps[-2:]
    assert (push.result.value, moment.result.value) == (along.force, along.moment)
    assert set(push.inputs) == {"C", "W", "W_r1", "W_r2", "V_1", "V_2"}
    assert set(moment.inputs) == {"C", "W", "h", "M_r1", "M_r2", "M_c1", "M_c2"}
    assert len(along.steps) == 10
    assert "0.85 times" in push.note and "0.86 times" in moment.note
    (dry_body,) = with_sloshing((body(),), force(8000.0), (elsewhere,), {})
    assert [direction.sloshing for direction in dry_body.directions] == [None] * 3


def test_what_is_used_is_said():
    """The first alone, C_c 5: V_c 11 300 N, √(7120.48² + 11 300²) = 13 356 N, 1.67 times 8000; 12 656 N·m, √(5803.78² + 12 656²)

    = 13 923 N·m, 2.18 times 6400.
    """
    (found,) = with_sloshing(
        (body(),), force(8000.0), (wave("first", coefficient=5.0, index=True),), {"rack r": {"first": 0.6}}
    )
    one = found.directions[0].sloshing
    assert (one.force, one.moment) == pytest.approx((13_356, 13_923), rel=1e-4)
    assert "1.67 times what all water rigid gives: used" in one.steps[-2].note
    assert "2.18 times what all water rigid gives: used" in one.steps[-1].note
    assert one.index


def test_a_rack_that_sloshing_pushes_more():
    """Rigid 8000 N at 0.8 m, 6400 N·m: 8800 N is 1.10 times, 7680 N·m 1.20 times, the larger; as much as rigid is no caution."""

    def said(kind="rack", push=8800.0, moment=7680.0):
        more = Sloshing(push, moment, False, (), ())
        less = Sloshing(7000.0, 6000.0, False, (), ())
        cautions = slosh_cautions((), (body(kind, along=less, across=more),), force(8000.0))
        return " ".join(caution.text for caution in cautions)

    assert "rack r (1.20 times)" in said()
    assert "rack r (1.10 times)" in said(moment=6400.0)
    assert said(push=8000.0, moment=6400.0) == ""
    assert said(kind="floor vessel") == ""
    assert (
        slosh_cautions((wave(near="1.00 s, its rack's 1.10 s"),), (body(),), force(8000.0))[0].text.count("1.10 s") == 1
    )
    assert slosh_cautions((wave(),), (body(),), force(8000.0)) == ()
