"""Sloshing in an installation: hand arithmetic, laws, and what must not be claimed."""

import math

import numpy as np
import pytest

from brimfast.assess.demand.spectrum import design_spectrum
from brimfast.assess.slosh.case import vessel_sloshes
from brimfast.assess.slosh.equivalents import (
    RECTANGULAR,
    ROUND,
    convective_height,
    convective_height_with_base,
    convective_share,
    impulsive_height,
    impulsive_height_with_base,
    impulsive_share,
    sloshing_period,
)
from brimfast.assess.slosh.findings import slosh_cautions
from brimfast.assess.slosh.overturning import together
from brimfast.assess.slosh.splash import crest_rectangular, crest_round, thrown
from brimfast.assess.slosh.support import support
from brimfast.assess.slosh.wave import convective_acceleration, is_index, reaches, sloshing_coefficient, wave_height
from brimfast.shared.constants import FOOT, GRAVITY, INCH
from brimfast.shared.installation.site import Site
from tests.builders import RACK, WEIGHED, assessed, found

SHAPES = pytest.mark.parametrize("shape", [RECTANGULAR, ROUND], ids=["rectangular", "round"])
WEAK = RACK.replace("S_DS: 1.0", "S_S: 0.09, S_1: 0.01, site_class: B")
TUB = RACK.replace("length: 9 ft", "length: 6 ft").replace(
    "  - {name: tank, kind: tank",
    "  - {name: tub, kind: tank, on: r, offset: 7 ft, diameter: 2 ft, depth: 14 in, water: 12 in}\n"
    "  - {name: tank, kind: tank",
)
BRACED = TUB.replace(
    "    beam_runs: each bay",
    """    beam_runs: each bay
    braces:
      - {face: front, bay: 1, member: 2x4}
      - {face: back, bay: 1, kind: x, member: 2x4}
      - {face: left, member: 2x4}
      - {face: right, kind: x, member: 2x4}""",
).replace(
    "joints:",
    "joints:\n  - {rack: r, where: brace to post, fasteners: {kind: lag screw, diameter: 0.375 in, length: 4 in}}",
)
PONDED = RACK.replace("water: 8 in, fill: gravel, fill_depth: 9 in", "water: 9 in, fill: gravel, fill_depth: 3 in")


def wave(assessment, vessel, way):
    return next(one for one in assessment.waves if (one.vessel, one.way) == (vessel, way))


# --- laws of the formulas


@SHAPES
def test_period_grows_with_the_root_of_length(shape):
    h, L = np.array([0.2, 0.5]), np.array([0.6, 0.9])
    once, four = sloshing_period(h, L, shape), sloshing_period(4 * h, 4 * L, shape)
    assert four == pytest.approx(2 * once, rel=1e-12)


@SHAPES
def test_shares_do_not_change_with_size_and_heights_grow_with_it(shape):
    h, L = 0.3, 0.8
    assert float(convective_share(7 * h, 7 * L, shape)) == pytest.approx(float(convective_share(h, L, shape)))
    assert float(impulsive_share(7 * h, 7 * L)) == pytest.approx(float(impulsive_share(h, L)))
    for height in (convective_height, convective_height_with_base):
        assert float(height(7 * h, 7 * L, shape)) == pytest.approx(7 * float(height(h, L, shape)))
    for height in (impulsive_height, impulsive_height_with_base):
        assert float(height(7 * h, 7 * L)) == pytest.approx(7 * float(height(h, L)))


@SHAPES
def test_deeper_water_sloshes_less_of_itself_and_faster(shape):
    h = np.linspace(0.1, 2.0, 60)
    assert np.all(np.diff(convective_share(h, 1.0, shape)) < 0)
    assert np.all(np.diff(impulsive_share(h, 1.0)) > 0)
    assert np.all(np.diff(sloshing_period(h, 1.0, shape)) < 0)
    assert np.all(convective_height(h, 1.0, shape) < h)
    assert np.all(convective_height_with_base(h, 1.0, shape) >= convective_height(h, 1.0, shape))


@SHAPES
def test_the_parts_are_nearly_the_whole(shape):
    h = np.linspace(0.1, 2.0, 60)
    both = impulsive_share(h, 1.0) + convective_share(h, 1.0, shape)
    assert np.all((both > 0.88) & (both < 1.09))


@SHAPES
def test_arrays_are_scalars(shape):
    h, L = np.array([0.15, 0.4, 1.1]), np.array([[0.6], [1.0]])
    for formula in (convective_share, convective_height, convective_height_with_base, sloshing_period):
        table = formula(h, L, shape)
        assert table.shape == (2, 3)
        assert table[1, 2] == pytest.approx(float(formula(1.1, 1.0, shape)), rel=1e-15)
    assert crest_round(np.array([1.0, 2.0]), np.array([[0.5], [0.7]]))[1, 0] == pytest.approx(
        float(crest_round(1.0, 0.7)), rel=1e-12
    )


def test_outside_the_limits_there_is_no_number():
    for h in (0.099, 2.01):
        assert np.isnan(convective_share(h, 1.0, ROUND))
        assert np.isnan(impulsive_share(h, 1.0))
        assert np.isnan(impulsive_height(h, 1.0))
        assert np.isnan(impulsive_height_with_base(h, 1.0))
        assert np.isnan(sloshing_period(h, 1.0, RECTANGULAR))
    assert np.isfinite(sloshing_period(np.array([0.1, 2.0]), 1.0, ROUND)).all()


def test_spectrum_is_half_as_much_again_as_the_five_percent_one():
    T = np.linspace(0.1, 4.0, 40)
    assert convective_acceleration(T, 0.8, 0.8 * 0.6) == pytest.approx(1.5 * design_spectrum(T, 0.8, 0.6))


def test_waves():
    assert float(wave_height(1.2, 0.5, 1.5)) == pytest.approx(0.42 * 1.2 * 0.5 * 1.5)
    assert list(is_index(np.array([0.06, 0.061, 0.061]), 1.0, np.array([0.3, 0.3, 0.4]))) == [False, True, False]
    assert float(reaches(0.5, 0.3)) == 0.3


def test_no_water_over_a_rim_that_the_wave_does_not_reach():
    assert float(crest_rectangular(0.1, 0.1)) == pytest.approx(0, abs=1e-15)
    assert float(crest_round(0.1, 0.2)) == 0
    assert np.isnan(crest_round(0.0, 0.2))
    assert np.isnan(crest_rectangular(0.0, 0.2))
    assert float(thrown(40, 0.1, 1.0, 0.1, 0.2)) == 0


def test_splash_is_capped_by_reach_and_falls_with_freeboard():
    f = np.linspace(0.0, 0.3, 31)
    for crest in (crest_rectangular, crest_round):
        V = thrown(50, crest(0.2, f) * 0.2 * 1.5, 1.5, 0.2, f)
        assert np.all(np.diff(V) <= 1e-15)
        assert np.all(1.5 * np.maximum(0.2 - f, 0) + 1e-15 >= V)


def test_squares():
    assert float(together(3.0, 4.0)) == 5.0


def test_force_of_what_sloshes():
    """S_ac/1.5 on the ground; upstairs no more than of a wave as high as the water is deep, h/(0.42 L) = 0.952."""
    assert float(sloshing_coefficient(0.6, 0.6, 0.4, 1.0)) == pytest.approx(0.4)
    assert float(sloshing_coefficient(1.2, 0.6, 0.4, 1.0)) == pytest.approx(0.8)
    assert float(sloshing_coefficient(3.0, 1.2, 0.4, 1.0)) == pytest.approx(0.4 / 0.42)
    assert float(sloshing_coefficient(3.0, 1.5, 0.4, 1.0, 1.5)) == pytest.approx(
        1.5
    )  # never less than the standard's own
    assert float(sloshing_coefficient(math.inf, 0.6, 0.4, 1.0)) == pytest.approx(0.4 / 0.42)


# --- in an installation


def test_tank_by_hand():
    """4 ft round, 27 in of water, S_DS 1 with the longest corner: T_c = 2π √(1.2192/(3.68 g tanh 2.07)) = 1.174 s.

    S_ac = 1.5 g (cap), d = 0.42 x 48 in x 1.5 = 30.24 in, as far as 27 in; 3 in to the rim.
    """
    case = assessed(RACK)
    one = wave(case, "tank", "any")
    assert one.period == pytest.approx(2 * math.pi * math.sqrt(1.2192 / (3.68 * GRAVITY * math.tanh(3.68 * 27 / 48))))
    assert one.acceleration == pytest.approx(1.5)
    finding = found(case, "slosh/tank/any")
    assert finding.demand == pytest.approx(27 * INCH)
    assert finding.capacity == pytest.approx(3 * INCH)
    assert finding.verdict == "short"
    assert one.index
    assert "index" in finding.basis
    assert "no freeboard" in finding.basis


def test_larger_of_rigid_and_sloshing_by_hand():
    """The tank's push: C (W - W_w + W_i) and S_ac W_c/1.5 as root of squares; tipping about the floor likewise."""
    case = assessed(RACK)
    body = next(one for one in case.bodies if one.name == "tank")
    force = case.forces["tank"]
    D, h, t = 4 * FOOT, 27 * INCH, 0.375 * INCH
    W_w = math.pi / 4 * D**2 * h * 1000 * GRAVITY
    W_i = W_w * math.tanh(0.866 * D / h) / (0.866 * D / h)
    W_c = W_w * 0.230 * D / h * math.tanh(3.68 * h / D)
    h_i = (0.866 * D / h / (2 * math.tanh(0.866 * D / h)) - 0.125) * h
    x = 3.68 * h / D
    h_c = h * (1 - (math.cosh(x) - 2.01) / (x * math.sinh(x)))
    C = force.coefficient
    V = math.hypot(C * (body.weight - W_w + W_i), 1.5 * W_c / 1.5)
    M = math.hypot(C * (body.weight * body.height - W_w * (t + h / 2) + W_i * (t + h_i)), 1.5 * W_c / 1.5 * (t + h_c))
    sloshing = body.directions[0].sloshing
    assert sloshing.force == pytest.approx(V)
    assert sloshing.moment == pytest.approx(M)
    assert force.horizontal < V
    tips = found(case, "tipping/tank")
    assert tips.demand in (pytest.approx(M), pytest.approx(0.7 * M))
    slides = found(case, "sliding/tank")
    assert slides.demand in (pytest.approx(V), pytest.approx(0.7 * V))
    assert slides.details["sloshing over all water rigid"] == f"{V / force.horizontal:.2f}"


def test_demand_is_never_less_than_with_all_water_rigid():
    for text in (RACK, WEAK, TUB, PONDED, RACK.replace("asce7-16", "asce7-22")):
        case = assessed(text)
        for body in case.bodies:
            rigid = case.forces[body.name].horizontal
            for finding in case.findings:
                if finding.id == f"sliding/{body.name}":
                    assert finding.demand >= 0.7 * rigid * (1 - 1e-12)
                if finding.id.startswith(f"tipping/{body.name}/"):
                    assert finding.demand >= 0.7 * rigid * body.height * (1 - 1e-12)


def test_where_rigid_is_more_it_stays():
    """A weak long-period part: the wave pushes little, and all water rigid governs."""
    case = assessed(WEAK)
    sloshing = next(one for one in case.bodies if one.name == "tank").directions[0].sloshing
    assert sloshing.force < case.forces["tank"].horizontal
    finding = found(case, "sliding/tank")
    assert "all water rigid" in finding.basis
    assert finding.demand in (
        pytest.approx(case.forces["tank"].horizontal),
        pytest.approx(0.7 * case.forces["tank"].horizontal),
    )


def test_small_waves_hold():
    finding = found(assessed(WEAK), "slosh/tank/any")
    assert finding.verdict == "holds"
    assert not wave(assessed(WEAK), "tank", "any").index
    assert not [one for one in assessed(WEAK).spill.runs if one.event.kind == "slosh"]


def test_water_in_a_fill_does_not_slosh():
    case = assessed(RACK)
    assert {one.vessel for one in case.waves} == {"tank"}
    assert not [finding for finding in case.findings if finding.id.startswith("slosh/bed")]
    assert next(body for body in case.bodies if body.name == "bed").hardest is None
    level = RACK.replace("fill_depth: 9 in", "fill_depth: 8 in")
    assert {one.vessel for one in assessed(level).waves} == {"tank"}


def test_only_water_above_the_fill_sloshes():
    """9 in of water over 3 in of gravel: 6 in; across 30 in it is assessed, along 9 ft (0.056) it is not."""
    case = assessed(PONDED)
    across = wave(case, "bed", "across")
    assert across.water.depth == pytest.approx(6 * INCH)
    assert across.water.bottom == pytest.approx(3 * INCH)
    assert across.water.freeboard == pytest.approx(1 * INCH)
    along = found(case, "slosh/bed/along")
    assert along.verdict == "not assessed"
    assert "shallower than a tenth" in along.reason
    splash = next(one.event for one in case.spill.runs if one.event.id == "slosh/bed")
    assert splash.volume <= across.water.volume


def test_too_deep_is_not_assessed():
    text = RACK.replace("diameter: 4 ft", "diameter: 13 in")
    finding = found(assessed(text), "slosh/tank/any")
    assert finding.verdict == "not assessed"
    assert "twice" in finding.reason


def test_weighed_vessels_are_not_assessed():
    finding = found(assessed(WEIGHED), "slosh/tank")
    assert finding.verdict == "not assessed"
    assert "inside sizes" in finding.reason


def test_soft_soil_needs_a_study():
    text = RACK.replace("S_DS: 1.0", "S_S: 0.7, S_1: 0.3, site_class: E")
    finding = found(assessed(text), "slosh/tank/any")
    assert finding.verdict == "not assessed"
    assert "site-specific" in finding.reason


def test_a_steep_wave_below_the_rim_does_not_hold():
    """Breaking waves run up higher than the theory says."""
    text = RACK.replace("depth: 30 in, water: 27 in", "depth: 60 in, water: 27 in")
    finding = found(assessed(text), "slosh/tank/any")
    assert finding.verdict == "not assessed"
    assert "run up" in finding.reason


def test_splash_by_hand():
    """4 x 2 ft, 12 in deep, 1 in free, a wave of 12 in both ways: V_1 by the closed form, N = 60/T_c, cap A (d - f)."""
    text = RACK.replace(
        "diameter: 4 ft, depth: 30 in, water: 27 in", "length: 4 ft, width: 2 ft, depth: 13 in, water: 12 in"
    )
    case = assessed(text)
    event = next(one.event for one in case.spill.runs if one.event.id == "slosh/tank")
    A, d, f = 8 * FOOT**2, 12 * INCH, 1 * INCH
    angle = math.asin(f / d)
    V_1 = d * A * (math.cos(angle) / math.pi - f / d * (0.5 - angle / math.pi))
    each = [min(60 / wave(case, "tank", way).period * V_1, A * (d - f)) for way in ("along", "across")]
    assert event.volume == pytest.approx(min(sum(each), A * d))
    assert event.volume <= case.vessels["tank"].water_volume * (1 + 1e-12)
    assert "index" in event.note
    assert "stands" in event.text


def test_what_stands_can_still_splash():
    """An anchored tank does not slide, yet its waves go over the rim: counted beside those that fail."""
    text = RACK.replace(
        "depth: 30 in, water: 27 in",
        "depth: 30 in, water: 27 in, anchors: {count: 6, tension: 20000 lb, shear: 20000 lb, source: t}",
    )
    spill = assessed(text).spill
    assert "tank" not in spill.failing
    assert spill.splashing == ("tank",)
    assert spill.splash_volume == pytest.approx(
        next(one.event.volume for one in spill.runs if one.event.id == "slosh/tank")
    )
    both = assessed(RACK).spill
    assert "tank" in both.failing
    assert both.splashing == ()


def test_anchors_take_the_larger():
    text = RACK.replace(
        "depth: 30 in, water: 27 in",
        "depth: 30 in, water: 27 in, anchors: {count: 6, tension: 20000 lb, shear: 20000 lb, source: t}",
    )
    case = assessed(text)
    body = next(one for one in case.bodies if one.name == "tank")
    shear = found(case, "anchors/tank/shear")
    assert shear.demand == pytest.approx(0.7 * case.forces["tank"].overstrength * body.hardest.force / 6)


def test_more_shaking_and_less_freeboard_are_never_better():
    low, high = (wave(assessed(RACK.replace("S_DS: 1.0", f"S_DS: {S}")), "tank", "any") for S in (0.2, 0.4))
    assert low.wave < high.wave
    assert low.sloshing == pytest.approx(high.sloshing)
    volumes = [
        max(
            (
                one.event.volume
                for one in assessed(RACK.replace("depth: 30 in", f"depth: {rim} in")).spill.runs
                if one.event.kind == "slosh"
            ),
            default=0.0,
        )
        for rim in (27, 29, 31, 45)
    ]
    assert volumes == sorted(volumes, reverse=True)


# --- on a rack


def test_rack_adds_to_the_shaking():
    """Steady sway: 1/(1 - (0.4/1.0)²)."""
    site = Site(standard="asce7-16", S_DS="1.0")
    assert pytest.approx(1 / (1 - 0.16)) == support(site, 1.0, "r", (0.4,)).A
    assert support(site, 1.0, None, ()).A == 1.0
    unknown = support(site, 1.0, "r", ())
    assert pytest.approx(1 / (1 - (1 / 1.5) ** 2)) == unknown.A
    assert unknown.values
    assert math.isnan(support(site, 1.0, "r", (math.inf,)).A)


@pytest.mark.parametrize(("T_r", "near"), [(0.8, False), (0.84, True), (1.0, True), (1.24, True), (1.3, False)])
def test_within_a_fifth_of_the_racks_period(T_r, near):
    held = support(Site(standard="asce7-16", S_DS="1.0"), 1.0, "r", (T_r,))
    assert bool(held.near) == near
    assert math.isnan(held.A)
    assert held.why


def test_floor_adds_to_the_shaking():
    site = Site(standard="asce7-16", S_DS="1.0", height_ratio="0.5")
    assert support(site, 1.0, None, ()).H_f == pytest.approx(2.0)
    up = Site(standard="asce7-22", S_DS="1.0", height_ratio="0.5", building={"period": "0.9 s"})
    assert "building" in support(up, 1.0, None, ()).why


def test_tub_on_a_stiff_rack():
    """Periods of the braced rack are far below the water's: a little more than on the ground, and no caution."""
    case = assessed(BRACED)
    one = wave(case, "tub", "any")
    T_r = max(case.frames["r"].periods)
    assert T_r < 0.3 * one.period
    assert one.acceleration == pytest.approx(1.5 / (1 - (T_r / one.period) ** 2))
    assert not one.near
    assert not one.builds_up


def test_tub_on_a_rack_that_nothing_holds_across():
    """Its wave is taken as high as the water is deep; its spectrum no less than on the floor."""
    case = assessed(TUB)
    one = wave(case, "tub", "any")
    assert math.isinf(case.frames["r"].periods[1])
    assert "nothing holds the rack" in one.builds_up
    assert one.wave == pytest.approx(12 * INCH)
    assert one.acceleration >= 1.5
    assert one.coefficient == pytest.approx(0.5 / 0.42)
    assert one.index


def test_a_rack_carries_the_waves_of_its_vessels():
    """Its push: all but the free water and what of it moves along, with the tub's wave as root of squares."""
    case = assessed(BRACED)
    rack = next(body for body in case.bodies if body.name == "rack r")
    force, one = case.forces["rack r"], wave(case, "tub", "any")
    W_r = one.water.weight - one.rigid
    V = math.hypot(force.coefficient * (rack.weight - W_r), one.acceleration * one.sloshing / 1.5)
    assert rack.directions[0].sloshing.force == pytest.approx(V)
    z = 26 * INCH + one.water.bottom
    lost = one.water.weight * (z + one.water.depth / 2) - one.rigid * (z + one.rigid_height)
    M = math.hypot(
        force.coefficient * (rack.weight * rack.height - lost),
        one.acceleration * one.sloshing / 1.5 * (z + one.sloshing_height),
    )
    assert rack.directions[0].sloshing.moment == pytest.approx(M)
    assert found(case, "tipping/rack r/across").demand >= 0.7 * force.horizontal * rack.height * (1 - 1e-12)


def test_a_caution_where_sloshing_pushes_a_rack_more_than_its_frame_has():
    wet = BRACED.replace(", fill: gravel, fill_depth: 9 in", "")
    case = assessed(wet)
    rack = next(body for body in case.bodies if body.name == "rack r")
    assert rack.hardest.force > case.forces["rack r"].horizontal
    assert any(caution.title.startswith("Sloshing pushes more") for caution in case.cautions)
    calm = assessed(BRACED)
    rack = next(body for body in calm.bodies if body.name == "rack r")
    assert rack.hardest.force < calm.forces["rack r"].horizontal
    assert not any(caution.title.startswith("Sloshing pushes more") for caution in calm.cautions)


def test_a_caution_names_the_vessel_near_its_racks_period():
    case = assessed(BRACED)
    T_c = wave(case, "tub", "any").period
    waves = [
        wave
        for vessel in case.installation.vessels
        if vessel.on == "r"
        for wave in vessel_sloshes(vessel, case.vessels[vessel.name], case.installation.site, case.motion, (0.1, T_c))
    ]
    cautions = slosh_cautions(waves, case.bodies, case.forces)
    assert any("tub" in caution.text and "within 20 %" in caution.text for caution in cautions)
    assert not any("within 20 %" in caution.text for caution in case.cautions)


def test_frame_keeps_all_water_rigid_and_says_so():
    assert any("all water rigid" in text for text in assessed(TUB).assumptions)
