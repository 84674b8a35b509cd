"""Earthquake forces at numbers where each of their terms counts: what mutants found that no other quick test notices; by hand."""

import math

import pytest

from brimfast.assess.demand import asce7_16, asce7_22, asce7_nonbuilding, eurocode8, nbc_part, nzs1170_5
from brimfast.assess.demand.asce7_attachment import attachment_asked
from brimfast.assess.demand.asce7_motion import one_second_acceleration, seismic_design_category
from brimfast.assess.demand.choose import method
from brimfast.assess.demand.force import Body, which_governs
from brimfast.assess.demand.height import building_keeps_time, support_amplification
from brimfast.assess.demand.inputs import file_problems
from brimfast.assess.demand.on_rack import moves_with_rack
from brimfast.assess.demand.period import Swing, swing
from brimfast.assess.demand.places import distance
from brimfast.assess.demand.shaken import shaken_force, shaken_motion
from brimfast.assess.demand.spectrum import damping_coefficient, damping_correction, design_spectrum, light_damping
from brimfast.assess.demand.standard import standard_named
from brimfast.assess.demand.vertical import Vertical
from brimfast.shared.installation.rack import ComponentFactors
from brimfast.shared.installation.site import Site
from tests.printed import again

A_G = {"a_g": 0.25, "ground": "C", "spectrum": "type 1"}
Z = {"Z": 0.4, "soil": "C", "near_fault": False}


def site(name, **keys):
    return Site(standard=name, **keys)


def motion(name, **keys):
    return standard_named(name).motion(site(name, **keys))


def force(name, kind="vessel", swings=None, chosen=None, where="force", **keys):
    """On 1000 N."""
    standard, place = standard_named(name), site(name, **keys)
    factors = ComponentFactors(reason="t", **chosen) if chosen else None
    return getattr(standard, where)(Body("b", kind, 1000.0, factors, swings), place, standard.motion(place))


def line(steps, symbol):
    """The step of a symbol, whose printed expression gives its result."""
    found = next(one for one in steps if one.symbol == symbol)
    assert again(found) == pytest.approx(found.result.value)
    return found


# ASCE 7


@pytest.mark.parametrize(
    ("z_h", "T_a", "H_f"),
    [(0.9, None, 3.25), (0.9, 0.8, 2.386509), (0.5, 0.2, 2.25), (1.0, 0.8, 3.0), (0.0, 0.8, 1.0)],
)
def test_height_factor_7_22(z_h, T_a, H_f):
    """ASCE 7-22 (13.3-4), (13.3-5): 1 + 2.5·0.9; 0.8 s: a_1 1.25, a_2 1 − 0.5² = 0.75, 0.9^10 0.348678: 1 + 1.125 + 0.261509.

    0.2 s: a_1 2.5 and not 5, a_2 0 and not −3: 1 + 2.5·0.5.
    """
    assert float(asce7_22.height_factor(z_h, T_a)) == pytest.approx(H_f, rel=1e-6)
    steps = asce7_22.height(site("asce7-22", S_DS=1.0, building={"period": f"{T_a} s"} if T_a else None), z_h)
    assert steps[0] == pytest.approx(H_f, rel=1e-6)
    assert line(steps[1:], "H_f").result.value == pytest.approx(H_f, rel=1e-6)


def test_heights_outside_the_building():
    for factor in (asce7_16.height_factor, asce7_22.height_factor, nbc_part.height_factor, eurocode8.height_term):
        assert math.isnan(float(factor(-0.01))) and math.isnan(float(factor(1.01)))


def test_ductility_of_the_building():
    """ASCE 7-22 (13.3-6): √(1.1·8/(1.25·3)) = √2.346667; √(1.1·3/3) = 1.049 is raised to 1.3."""
    assert float(asce7_22.ductility_reduction(8.0, 3.0, 1.25)) == pytest.approx(1.531883, rel=1e-6)
    assert float(asce7_22.ductility_reduction(3.0, 3.0, 1.0)) == 1.3


def test_force_7_22():
    """Of a tank: 0.4·0.9·1.5·(2.386509/1.531883)·(1/1.5) = 0.560841; up and down 0.2·0.9. On the ground
    0.4·1.35/1.5 = 0.36 is raised to 0.3·1.35 = 0.405."""
    building = {"period": "0.8 s", "R": 8.0, "Omega_0": 3.0, "I_e": 1.25}
    found = force("asce7-22", S_DS=0.9, importance=1.5, height_ratio=0.9, building=building)
    assert found.horizontal == pytest.approx(560.841, rel=1e-5)
    assert found.vertical == pytest.approx(180.0)
    assert (found.overstrength, found.sways, found.governs) == (2.0, pytest.approx(1.5), "the formula")
    for symbol in ("H_f", "R_mu", "F_p", "E_v"):
        line(found.steps, symbol)
    ground = force("asce7-22", S_DS=0.9, importance=1.5, building=building)
    assert ground.horizontal == pytest.approx(405.0)
    assert ground.governs == "the lower limit"
    assert [one.symbol for one in ground.steps] == ["F_p", "E_v"]
    unknown = force("asce7-22", S_DS=0.9, importance=1.5, height_ratio=0.9, building={"period": "0.8 s", "R": 8.0})
    assert unknown.horizontal == pytest.approx(0.36 * 2.386509 / 1.3 * 1000, rel=1e-6)
    assert line(unknown.steps, "R_mu").result.value == 1.3


def test_upper_limit_and_sway():
    """Unbraced racks at the roof: 7-22: 0.4·(3.5/1.3)·2.8/1.5 = 2.0103, cut to 1.6; R_po out: 3.015385/1.6 = 1.884615 times as far.

    7-16: 0.4·2.5·3/1.5 = 2, cut to 1.6; R_p out: 3/1.6 = 1.875 times.
    """
    new, old = (force(name, "unbraced rack", S_DS=1.0, height_ratio=1.0) for name in ("asce7-22", "asce7-16"))
    for one, sways in ((new, 1.884615), (old, 1.875)):
        assert one.horizontal == pytest.approx(1600.0)
        assert one.governs == "the upper limit"
        assert one.sways == pytest.approx(sways, rel=1e-6)


def test_force_7_16():
    """ASCE 7-16 (13.3-1) to (13.3-3), braced rack: 0.4·2.5·0.9·(1 + 2·0.7)/(2.5/1.5) = 1.296; upright 0.18; R_p 2.5 times as far."""
    found = force("asce7-16", "braced rack", S_DS=0.9, importance=1.5, height_ratio=0.7)
    assert found.horizontal == pytest.approx(1296.0)
    assert (found.vertical, found.overstrength, found.sways) == (pytest.approx(180.0), 2.5, pytest.approx(2.5))
    assert found.governs == "the formula"
    line(found.steps, "F_p"), line(found.steps, "E_v")
    limits = asce7_16.component_force(0.9, 1000.0, 1.0, [12.0, 1.0], 1.5, [0.0, 1.0])
    assert limits == pytest.approx([405.0, 1620.0])  # 0.3·1.35; 0.4·0.9·3·1.5
    assert float(asce7_16.component_force(0.9, 1000.0, 2.5, 1.0, 1.5, 1.0)) == pytest.approx(2160.0)  # 1.6·1.35 of 4.05


@pytest.mark.parametrize(
    ("name", "chosen", "coefficient", "overstrength"),
    [
        ("asce7-16", {"a_p": 2.5}, 0.4, 2.0),  # 0.4·2.5/2.5
        ("asce7-16", {"R_p": 1.0}, 0.4, 2.0),
        ("asce7-16", {"Omega_0": 2.5}, 0.3, 2.5),
        ("asce7-22", {"C_AR": 2.0}, 0.533333, 2.0),  # 0.4·2/1.5
        ("asce7-22", {"R_po": 1.2}, 0.333333, 2.0),  # 0.4/1.2
        ("asce7-22", {"Omega_0p": 2.5}, 0.3, 2.5),
    ],
)
def test_one_factor_chosen_leaves_the_others(name, chosen, coefficient, overstrength):
    found = force(name, chosen=chosen, S_DS=1.0)
    assert found.coefficient == pytest.approx(coefficient, rel=1e-5)
    assert found.overstrength == overstrength


@pytest.mark.parametrize(
    ("name", "keys", "foreign"),
    [
        ("asce7-16", {"S_DS": 1.0}, {"q_a": 1.0}),
        ("asce7-22", {"S_DS": 1.0}, {"q_a": 1.0}),
        ("eurocode8", A_G, {"R_p": 1.0}),
        ("nbc2020", {"S_02": 0.8}, {"q_a": 1.0}),
        ("nzs1170.5", Z, {"q_a": 1.0}),
    ],
)
def test_factors_of_another_standard_change_nothing(name, keys, foreign):
    assert force(name, chosen=foreign, **keys) == force(name, **keys)


@pytest.mark.parametrize(
    ("name", "keys", "ratio", "C_rigid", "times", "back"),
    [
        ("asce7-16", {"S_DS": 1.0}, 1.0, 0.48, "2.50", "0.40"),  # 0.4·1·3/2.5 and 0.4·2.5·3/2.5
        ("asce7-22", {"S_DS": 1.0}, 1.0, 0.717949, "2.20", "0.45"),  # 0.4·(3.5/1.3)/1.5, C_AR 2.2
        ("asce7-22", {"S_DS": 1.0}, 0.0, 0.3, "1.60", "0.62"),  # 0.4/1.5 raised; 0.4·1.8/1.5 = 0.48
        ("nbc2020", {"S_02": 1.0}, 1.0, 0.36, "2.50", "0.40"),  # S_p 3/2.5 and 2.5·3/2.5
    ],
)
def test_a_rigid_rack_beside_a_flexible_one(name, keys, ratio, C_rigid, times, back):
    """0.06 s still counts as rigid (ASCE 7-16 section 11.2)."""
    rigid, flexible = (
        force(name, "braced rack", swings=Swing(T, "x"), height_ratio=ratio, **keys) for T in (0.06, 0.061)
    )
    assert rigid.coefficient == pytest.approx(C_rigid, rel=1e-5)
    assert flexible.coefficient == pytest.approx(C_rigid * float(times), rel=1e-5)
    said = [one.note for found in (rigid, flexible) for one in found.steps if "period x" in one.note]
    assert f"rigid: period x; as a flexible component its force would be {times} times this" in said[0]
    assert f"flexible: period x; as a rigid component its force would be {back} times this" in said[1]


def test_rows_of_what_is_no_rack_and_of_periods_not_known():
    """A tank stays a tank however stiff; a rack of unknown period is flexible."""
    stiff = Swing(0.05, "x")
    assert force("asce7-16", swings=stiff, S_DS=1.0).row == force("asce7-16", S_DS=1.0).row
    assert force("asce7-16", "braced rack", S_DS=1.0).row.startswith("Other flexible")
    assert force("asce7-16", "braced rack", swings=stiff, S_DS=1.0).row.startswith("Other rigid")


def test_in_the_open():
    """ASCE 7-16 (15.4-5): 0.30·0.8·1000·1.5 = 360; (12.8-2): 0.8/(1.25/1.5) = 0.96; (15.4-1): 0.044·0.8·1.5 = 0.0528 over
    0.8/20 = 0.04; 0.03 over 0.044·0.1·1.5 = 0.0066; (15.4-2) from 0.6 g on: 0.8·0.6/2 = 0.24 over 0.4/2."""
    assert float(asce7_nonbuilding.rigid_force(0.8, 1000.0, 1.5)) == pytest.approx(360.0)
    flexible = asce7_nonbuilding.flexible_force
    assert float(flexible(0.8, 1000.0, 1.25, 1.5)) == pytest.approx(960.0)
    assert float(flexible(0.8, 1000.0, 30.0, 1.5)) == pytest.approx(52.8)
    assert float(flexible(0.1, 1000.0, 30.0, 1.5)) == pytest.approx(30.0)
    assert flexible(0.4, 1000.0, 3.0, 1.5, [0.59, 0.6]) == pytest.approx([200.0, 240.0])


@pytest.mark.parametrize(
    ("T", "S_1", "V"),
    [(0.059, 0.7, 0.09), (0.06, 0.6, 0.576), (None, 0.6, 0.576), (None, 0.59, 0.24), (1.0, None, 0.24)],
)
def test_bodies_in_the_open(T, S_1, V):
    """S_DS 0.2, I_e 1.5, R 1.25: rigid only under 0.06 s: 0.3·0.2·1.5; else 0.2·1.2 = 0.24, and 0.8·0.6·1.2 = 0.576 from 0.6 g on."""
    swings = Swing(T, "by the file") if T else None
    keys = {"S_DS": 0.2, "importance": 1.5, **({"S_1": S_1} if S_1 else {})}
    found = force("asce7-16", swings=swings, where="in_the_open", setting="in the open", **keys)
    assert found.horizontal == pytest.approx(1000 * V)
    assert line(found.steps, "V").result.value == pytest.approx(1000 * V)
    assert ("S_1" in found.steps[0].inputs) == (V == 0.576)
    assert (found.vertical, found.overstrength, found.sways) == (pytest.approx(40.0), 2.0, 2.5)


def test_elastic_in_the_open():
    """EN 1998-1 on ground C: 2.5·0.25·1.15 = 0.71875; upright 0.3·3·0.9·0.25 = 0.2025; nothing reduced."""
    found = force("eurocode8", where="in_the_open", **A_G)
    assert found.horizontal == pytest.approx(718.75)
    assert (found.vertical, found.overstrength, found.sways) == (pytest.approx(202.5), 1.0, 1.0)


@pytest.mark.parametrize(
    ("keys", "plateau", "T_S"),
    [
        ({"S_S": 1.2, "site_class": "C", "S_1": 0.4}, 0.96, 0.416667),  # 2/3·1.2·1.2; 2/3·1.5·0.4/0.96
        ({"S_DS": 0.8, "S_1": 0.2}, 0.8, 0.55),  # class D: 2/3·1.5·2.2·0.2/0.8
        ({"S_DS": 0.8, "S_1": 0.19}, 0.8, 0.3515),  # 2/3·2.22·0.19/0.8
        ({"S_DS": 0.8}, 0.8, 1.7),
        ({"S_S": 0.5, "site_class": "D", "S_1": 0.25}, 0.466667, 1.125),  # 2/3·1.4·0.5; 2/3·1.5·2.1·0.25 = 0.525
        ({"S_S": 0.5, "site_class": "C", "S_1": 0.25}, 0.433333, 0.576923),  # no increase: 2/3·1.5·0.25 = 0.25
        ({"S_S": 0.5, "site_class": "E", "S_1": 0.3}, 0.566667, math.nan),  # 1.7; a study
        ({"residential_category": "D1"}, 0.83, 1.7),
    ],
)
def test_ground_motion(keys, plateau, T_S):
    """ASCE 7-16 (11.4-1) to (11.4-4), section 11.4.8: 1.5 times S_D1 on site class D from S_1 = 0.2 on; the ground 0.4 S_DS."""
    found = motion("asce7-16", **keys)
    assert found.plateau == pytest.approx(plateau, rel=1e-5)
    assert found.peak == pytest.approx(0.4 * plateau, rel=1e-5)
    assert found.vertical.share == pytest.approx(0.2 * plateau, rel=1e-5)
    assert pytest.approx(T_S, rel=1e-5, nan_ok=True) == found.corner.T_S


def test_one_second():
    """2/3·1.9·0.3 = 0.38; with 1.5: 0.57."""
    assert float(one_second_acceleration(0.3, 1.9)) == pytest.approx(0.38)
    assert float(one_second_acceleration(0.3, 1.9, 1.5)) == pytest.approx(0.57)


@pytest.mark.parametrize(
    ("S_DS", "S_1", "category"),
    [
        (0.166, None, "A"),
        (0.167, None, "B"),
        (0.329, None, "B"),
        (0.33, None, "C"),
        (0.499, None, "C"),
        (0.5, 0.749, "D"),
        (0.5, 0.75, "E"),
        (0.1, 0.75, "E"),
        (0.1, 0.74, "A"),
    ],
)
def test_categories(S_DS, S_1, category):
    """ASCE 7-16 Table 11.6-1 and section 11.6: each bound belongs to the higher category."""
    assert seismic_design_category(S_DS, S_1) == category


@pytest.mark.parametrize(
    ("component", "importance", "asked"),
    [("vessel", 1.0, "DE"), ("vessel", 1.5, "CDE"), ("braced rack", 1.0, "CDE"), ("unbraced rack", 1.5, "BCDE")],
)
def test_who_is_exempt(component, importance, asked):
    """ASCE 7-16 section 13.1.4."""
    assert "".join(one for one in "ABCDE" if attachment_asked(component, one, importance)) == asked


def test_limits_that_govern():
    """Unit force 100: 30 and 160 themselves count as limits."""
    found = [which_governs(one, 100.0) for one in (30.0, 30.1, 159.9, 160.0)]
    assert found == ["the lower limit", "the formula", "the formula", "the upper limit"]


# Eurocode 8


@pytest.mark.parametrize(
    ("spectrum", "S", "k_v", "T_C"), [("type 1", 1.15, 0.2025, 0.6), ("type 2", 1.5, 0.10125, 0.25)]
)
def test_motion_by_eurocode_8(spectrum, S, k_v, T_C):
    """EN 1998-1:2004 (3.3), (3.9), Tables 3.2 to 3.4, a_g 0.25: 2.5·0.25·S; upright 0.3·3·0.25 times 0.9 or 0.45; the ground 0.25·S."""
    found = motion("eurocode8", **{**A_G, "spectrum": spectrum})
    assert found.plateau == pytest.approx(0.625 * S)
    assert found.peak == pytest.approx(0.25 * S)
    assert found.vertical.share == pytest.approx(k_v)
    assert found.corner.T_S == T_C
    assert [line(found.steps, one.symbol).symbol for one in found.steps] == ["S_e", "k_v"]


@pytest.mark.parametrize(("gamma_I", "a_g", "times"), [(1.4, 0.35, 0.714286), (None, 0.25, 1.0), (0.8, 0.2, 1.25)])
def test_importance_in_eurocode_8(gamma_I, a_g, times):
    """EN 1998-1:2004 3.2.1(3), 2.1(1): a_g = gamma_I·0.25; the map's shaking, of once in 475 years, is 1/gamma_I of it."""
    keys = {"a_gR": 0.25, "ground": "C", "spectrum": "type 1", **({"gamma_I": gamma_I} if gamma_I else {})}
    found = motion("eurocode8", **keys)
    assert line(found.steps, "a_g").result.value == pytest.approx(a_g)
    assert found.plateau == pytest.approx(2.5 * 1.15 * a_g)
    assert f"gamma_I = {gamma_I or 1:g}" in found.how
    point = standard_named("eurocode8").hazard(site("eurocode8", **keys))
    assert (point.times, point.years) == (pytest.approx(times, rel=1e-5), 475.0)


def test_soil_values_that_are_taken_are_named():
    """Where the Annex's S alone is given, T_C is still the recommended one, and said to be; not where both are."""

    def names(**more):
        return [one.name for one in motion("eurocode8", **A_G, **more).corner.values]

    recommended = "recommended soil values, ground type C, spectrum type 1"
    assert names() == [recommended]
    assert names(S=1.3) == [recommended, "S of the National Annex"]
    assert names(T_C="0.7 s") == [recommended, "T_C of the National Annex"]
    assert names(S=1.3, T_C="0.7 s") == ["S of the National Annex", "T_C of the National Annex"]


def test_element_force():
    """EN 1998-1:2004 (4.24), (4.25): 3·1.4/(1 + 0.5²) − 0.5 = 2.86; 0.25·1.15·2.86·1000·1.5/2 = 616.69; at three times T_1
    4.2/5 − 0.5 = 0.34 counts as 1."""
    assert eurocode8.height_term(0.4, [0.5, 3.0]) == pytest.approx([2.86, 1.0])
    assert float(eurocode8.element_force(0.25, 1.15, 1000.0, 1.5, 2.0, 0.4, 0.5)) == pytest.approx(616.6875)
    assert float(eurocode8.element_force(0.25, 1.15, 1000.0, 1.0, 1.0, 0.4)) == pytest.approx(
        1063.75
    )  # 3·1.4 − 0.5 = 3.7


@pytest.mark.parametrize(
    ("T_1", "between", "term", "governs"),
    [
        (0.35, (0.2, 0.5), 3.7, "the formula"),  # between the two: in resonance
        (0.6, (0.2, 0.5), 3.586486, "the formula"),  # 0.5 s: 4.2/(1 + (1/6)²) − 0.5
        (0.1, (0.2, 0.5), 1.6, "the formula"),  # 0.2 s: 4.2/2 − 0.5
        (0.1, (0.2, math.inf), 1.6, "the formula"),
        (0.1, (0.5, 0.7), 1.0, "the lower limit"),  # 0.5 s: 4.2/17 − 0.5
        (None, (0.2, 0.5), 3.7, "resonance"),
        (0.6, None, 3.7, "resonance"),
        (0.6, (math.inf, math.inf), 3.7, "resonance"),
    ],
)
def test_periods_of_element_and_building(T_1, between, term, governs):
    """EN 1998-1:2004 (4.24), (4.25) at 0.4 of the height, braced rack, q_a 2: 0.25·1.15·term/2."""
    swings = Swing(between[1], "x", between[0]) if between else None
    building = {"building": {"period": f"{T_1} s"}} if T_1 else {}
    found = force("eurocode8", "braced rack", swings, height_ratio=0.4, **A_G, **building)
    assert found.horizontal == pytest.approx(143.75 * term, rel=1e-6)
    assert found.governs == governs
    assert (found.overstrength, found.sways, found.vertical) == (2.0, 2.0, pytest.approx(202.5))
    line(found.steps, "S_a"), line(found.steps, "F_a"), line(found.steps, "E_v")


def test_factors_chosen_by_eurocode_8():
    """0.25·1.15·2.5 = 0.71875: over q_a 1.6, times gamma_a 1.3 over 2; T_a 0.3 s, T_1 0.6 s: 3/1.25 − 0.5 = 1.9."""
    assert force("eurocode8", chosen={"q_a": 1.6}, **A_G).horizontal == pytest.approx(449.21875)
    assert force("eurocode8", chosen={"gamma_a": 1.3}, **A_G).horizontal == pytest.approx(467.1875)
    found = force("eurocode8", "unbraced rack", None, {"T_a": "0.3 s"}, building={"period": "0.6 s"}, **A_G)
    assert found.horizontal == pytest.approx(546.25)
    assert eurocode8.height(site("eurocode8", **A_G), 0.4)[0] == pytest.approx(1.6)


# Canada


def test_factor_of_a_component():
    """NBC 4.1.8.18.(1): A_x = 1 + 2·0.6; 1.2·2.5·2.2/1.5 = 4.4 cut to 4, 1.2·2·2.2/1.6 = 3.3, 0.5·1·2.2/5 = 0.22 raised to 0.7."""
    assert nbc_part.height_factor([0.0, 0.6, 1.0]) == pytest.approx([1.0, 2.2, 3.0])
    assert nbc_part.component_factor([1.2, 1.2, 0.5], [2.5, 2.0, 1.0], 2.2, [1.5, 1.6, 5.0]) == pytest.approx(
        [4.0, 3.3, 0.7]
    )
    assert float(nbc_part.component_force(0.8, 1.3, 2.2, 1000.0)) == pytest.approx(686.4)  # 0.3·0.8·1.3·2.2


@pytest.mark.parametrize(
    ("kind", "chosen", "S_p", "overstrength", "sways", "governs"),
    [
        ("braced rack", {}, 2.2, 1.818182, 2.5, "the formula"),  # 2.5·2.2/2.5; R_p 1: 5.5, cut to 4
        ("unbraced rack", {}, 4.0, 1.0, 1.375, "the upper limit of S_p"),  # 5.5/4 as far
        ("vessel", {"C_p": 2.0}, 4.0, 1.0, 2.75, "the upper limit of S_p"),  # 4.4, cut to 4; 11/4
        ("vessel", {"C_p": 0.5}, 1.1, 2.5, 2.5, "the formula"),  # 2.75/1.1
        ("vessel", {"A_r": 1.0, "R_p": 4.0}, 0.7, 3.142857, 4.0, "the lower limit of S_p"),  # 2.2/4; 2.2/0.7
    ],
)
def test_force_by_the_canadian_code(kind, chosen, S_p, overstrength, sways, governs):
    """NBC 2015 4.1.8.18.(1): S(0.2) = 1.25·0.8, I_E 1.3: 0.3·1.0·1.3·S_p; upright 0.2·1.3."""
    found = force("nbc2015", kind, None, chosen, S_a_02=0.8, F_a=1.25, I_E=1.3, height_ratio=0.6)
    assert found.horizontal == pytest.approx(390 * S_p)
    assert (found.overstrength, found.sways) == (pytest.approx(overstrength, rel=1e-6), pytest.approx(sways))
    assert (found.vertical, found.governs) == (pytest.approx(260.0), governs)
    for symbol in ("A_x", "S_p", "V_p", "E_v"):
        line(found.steps, symbol)
    H_f, printed = nbc_part.height(site("nbc2015"), 0.6)
    assert H_f == pytest.approx(2.2) == line([printed], "H_f").result.value


def test_most_of_T_times_S():
    """S = 1.2 − 0.5 T from 1 to 2 s: at 1.2 s 0.72; even: at its end; rising 0.5 + 0.5 T: at its end; falling at once: at its start."""
    assert float(nbc_part.longest([1.0, 2.0], [0.7, 0.2])) == pytest.approx(0.72)
    assert float(nbc_part.longest([1.0, 2.0], [1.0, 1.0])) == pytest.approx(2.0)
    assert float(nbc_part.longest([1.0, 2.0], [1.0, 1.5])) == pytest.approx(3.0)
    assert float(nbc_part.longest([1.0, 1.5], [1.0, 0.2])) == pytest.approx(
        1.0
    )  # 2.6 − 1.6 T would have it at 0.8125 s
    assert float(nbc_part.longest([0.2, 0.5, 1.0, 2.0], [0.8, 0.9, 0.7, 0.2])) == pytest.approx(0.72)


@pytest.mark.parametrize(
    ("S_20", "T_S"),
    [(0.2, 0.8), (0.4, 1.088889)],  # 0.72/0.9; 2.45·0.4/0.9
)
def test_canadian_motion(S_20, T_S):
    """NBC 2015 4.1.8.4.(9): the top is at 0.5 s: 1.3·0.9 = 1.17; upright 0.2 of it, the ground 0.4 of it."""
    found = motion("nbc2020", S_02=0.8, S_05=0.9, S_10=0.7, S_20=S_20, I_E=1.3)
    assert found.plateau == pytest.approx(1.17)
    assert (found.vertical.share, found.peak) == (pytest.approx(0.234), pytest.approx(0.468))
    assert pytest.approx(T_S, rel=1e-6) == found.corner.T_S
    line(found.steps, "S_max"), line(found.steps, "k_v"), line(found.corner.steps, "T_S")
    alone = motion("nbc2020", S_02=0.5)
    assert (alone.plateau, alone.corner.T_S) == (0.5, 2.5)
    # 1.5333 − 2.6667 T from 0.2 to 0.5 s: 1.5333²/(4·2.6667) at 0.2875 s
    early = motion("nbc2020", S_02=1.0, S_05=0.2, S_10=0.1, S_20=0.05)
    assert pytest.approx(0.220417, rel=1e-5) == early.corner.T_S
    point = standard_named("nbc2020").hazard(site("nbc2020", S_02=0.8, I_E=1.3))
    assert (point.times, point.years) == (pytest.approx(0.769231, rel=1e-5), 2475.0)


@pytest.mark.parametrize("key", ["S_02", "S_05", "S_10", "S_20"])
def test_top_of_the_canadian_spectrum_wherever_it_is(key):
    spectrum = {"S_02": 0.5, "S_05": 0.5, "S_10": 0.5, "S_20": 0.5, key: 0.9}
    assert motion("nbc2020", **spectrum).plateau == pytest.approx(0.9)


@pytest.mark.parametrize(
    ("keys", "asked"),
    [
        ({"S_02": 0.35, "S_10": 0.1}, True),  # from 0.35 on
        ({"S_02": 0.34, "S_10": 0.1}, False),
        ({"S_02": 0.25, "S_10": 0.16, "I_E": 1.3}, True),  # 0.325, but 0.208
        ({"S_02": 0.25, "S_10": 0.15, "I_E": 1.3}, False),  # 0.195
        ({"S_02": 0.28, "S_10": 0.1, "I_E": 1.3}, True),  # 0.364
        ({"S_02": 0.34, "S_10": 0.2}, True),
        ({"S_02": 0.1, "S_10": 0.05, "I_E": 1.5}, True),
    ],
)
def test_attachment_in_canada(keys, asked):
    """NBC 4.1.8.18.(2): under 0.35 of I_E S(0.2); of 2020 also I_E S(1.0) under 0.2; not after a disaster."""
    place = site("nbc2020", S_05=0.2, S_20=0.03, **keys)
    standard = standard_named("nbc2020")
    assert standard.attachment("vessel", place, standard.motion(place)).asked == asked


def test_attachment_by_the_older_canadian_code():
    """I_E S(0.2) = 1.25·0.28 = 0.35 asks; 1.25·0.27 does not, whatever S(1.0)."""
    standard = standard_named("nbc2015")
    for S, asked in ((0.28, True), (0.27, False)):
        place = site("nbc2015", S_a_02=S, F_a=1.25)
        assert standard.attachment("vessel", place, standard.motion(place)).asked == asked


# New Zealand


def test_spectrum_of_new_zealand():
    """NZS 1170.5:2004 3.1(1): 1.12·0.4·1.2·1.72 = 0.924672; Z R no more than 0.7: 1.12·0.7·1.72 = 1.34848."""
    assert float(nzs1170_5.hazard(0.4, 1.2, 1.12, 1.72)) == pytest.approx(0.924672)
    assert float(nzs1170_5.hazard(0.5, 1.5, 1.12, 1.72)) == pytest.approx(1.34848)


@pytest.mark.parametrize(
    ("R_u", "near_fault", "N"),
    [(0.75, True, 1.0), (0.76, True, 1.72), (1.0, None, 1.72), (1.0, False, 1.0), (0.5, None, 1.0)],
)
def test_near_faults(R_u, near_fault, N):
    """NZS 1170.5:2004 section 3.1.6, Table 3.7: none up to R 0.75; soil D: T_S = 2.14·N/3.0; plateau 3.0·0.4·R_u; upright 0.21 of it."""
    found = motion("nzs1170.5", Z=0.4, soil="D", R_u=R_u, near_fault=near_fault)
    assert pytest.approx(0.713333 * N, rel=1e-5) == found.corner.T_S
    assert found.plateau == pytest.approx(1.2 * R_u)
    assert found.vertical.share == pytest.approx(0.252 * R_u)
    assert found.peak == pytest.approx(0.448 * R_u)
    line(found.corner.steps, "T_S")
    for one in found.steps:
        line(found.steps, one.symbol)


@pytest.mark.parametrize(
    ("Z_", "R_u", "times"),
    [(0.4, 1.3, 0.769231), (0.4, 0.75, 1.333333), (0.6, 1.8, 0.857143)],
)
def test_hazard_of_new_zealand(Z_, R_u, times):
    """NZS 1170.5:2004 Table 3.5 and section 3.1.1: once in 500 years 1/R_u of the design shaking; where Z R_u is cut to
    0.7: 0.6/0.7 of it."""
    point = standard_named("nzs1170.5").hazard(site("nzs1170.5", Z=Z_, soil="C", R_u=R_u))
    assert (point.times, point.years) == (pytest.approx(times, rel=1e-5), 500.0)


@pytest.mark.parametrize(
    ("z_h", "h_i", "C_Hi"),
    [
        (0.1, None, 2.0),
        (0.1, 0.5, 1.083333),
        (0.1, 9.0, 2.0),
        (0.1, 0.0, 2.0),
        (0.5, None, 3.0),
        (0.5, 12.5, 3.0),
        (0.5, 9.0, 2.5),
        (0.0, 20.0, 3.0),
        (0.0, 12.0, 3.0),
        (0.0, 4.5, 1.75),
        (0.0, None, 1.0),
        (0.0, 0.0, 1.0),
    ],
)
def test_height_of_the_floor(z_h, h_i, C_Hi):
    """NZS 1170.5:2004 8.3(1) to 8.3(3): the least of 1 + h_i/6 under 12 m, 1 + 10 h_i/h_n under 0.2, and 3; where the two
    disagree (one on the ground), the higher counts."""
    keys = {**Z, "height_ratio": z_h, **({"height": f"{h_i} m"} if h_i is not None else {})}
    found = force("nzs1170.5", **keys)
    assert line(found.steps, "C_Hi").result.value == pytest.approx(C_Hi, rel=1e-6)
    assert found.horizontal == pytest.approx(min(1064 * C_Hi, 3600), rel=1e-6)  # 1.33·0.4·2


def test_height_of_other_floors():
    """The file's 3 m (1 + 3/6) are those of its own floor, at 0.5; at 0.1 1 + 10·0.1."""
    place = site("nzs1170.5", height_ratio=0.5, height="3 m", **Z)
    assert nzs1170_5.height(place, 0.5)[0] == pytest.approx(1.5)
    assert nzs1170_5.height(place, 0.1)[0] == pytest.approx(2.0)


@pytest.mark.parametrize(
    ("kind", "chosen", "coefficient", "overstrength", "sways"),
    [
        ("vessel", {}, 1.064, 1.0, 1.0),  # 1.33·0.4·2
        ("braced rack", {}, 0.9044, 1.176471, 1.25),  # C_ph 0.85
        ("braced rack", {"C_ph": 0.9}, 0.9576, 1.111111, 1.111111),
        ("braced rack", {"mu_p": 2.0}, 0.5852, 1.818182, 2.0),  # C_ph 0.55
        ("braced rack", {"R_p": 2.0}, 1.8088, 1.176471, 1.25),
    ],
)
def test_force_in_new_zealand(kind, chosen, coefficient, overstrength, sways):
    """NZS 1170.5:2004 8.5(1); anchors by C_ph 1; displacements by the ductility, or by what C_ph stands for."""
    found = force("nzs1170.5", kind, None, chosen, **Z)
    assert found.coefficient == pytest.approx(coefficient)
    assert found.overstrength == pytest.approx(overstrength, rel=1e-6)
    assert found.sways == pytest.approx(sways, rel=1e-6)
    assert found.governs == "the formula"
    assert found.vertical == pytest.approx(246.12)  # 0.21·2.93·0.4
    for symbol in ("C_Hi", "C_i", "F_ph", "E_v"):
        line(found.steps, symbol)


def test_upper_limit_in_new_zealand():
    """1.33·0.7·3·2 = 5.586, cut to 3.6: 5.586/3.6 = 1.551667 times as far; with C_ph 0.65, 3.6309, its anchors no more; 0.6: 3.3516."""
    keys = {**Z, "Z": 0.5, "R_u": 1.5, "height_ratio": 0.5}
    found = force("nzs1170.5", **keys)
    assert (found.horizontal, found.overstrength, found.governs) == (pytest.approx(3600.0), 1.0, "the upper limit")
    assert found.sways == pytest.approx(1.551667, rel=1e-6)
    cut = force("nzs1170.5", chosen={"C_ph": 0.65}, **keys)
    assert (cut.coefficient, cut.overstrength, cut.governs) == (
        pytest.approx(3.6),
        pytest.approx(1.0),
        "the upper limit",
    )
    under = force("nzs1170.5", chosen={"C_ph": 0.6}, **keys)
    assert (under.coefficient, under.governs) == (pytest.approx(3.3516), "the formula")
    assert under.overstrength == pytest.approx(1.074114, rel=1e-6)  # 3.6/3.3516


@pytest.mark.parametrize(
    ("between", "chosen", "C_i"),
    [
        ((1.2, 1.4), {}, 1.1),  # 2·(1.75 − 1.2)
        ((1.2, math.inf), {}, 1.1),
        ((math.inf, math.inf), {}, 2.0),
        (None, {}, 2.0),
        ((1.2, 1.4), {"T_p": "1.5 s"}, 0.5),
        (None, {"T_p": "1 s"}, 1.5),
        ((0.05, 1.4), {}, 2.0),
    ],
)
def test_periods_of_parts(between, chosen, C_i):
    """NZS 1170.5:2004 section 8.4: 2·(1.75 − T_p) within 0.5 and 2; of the frame's two periods the shorter."""
    swings = Swing(between[1], "x", between[0]) if between else None
    found = force("nzs1170.5", "unbraced rack", swings, chosen, **Z)
    assert line(found.steps, "C_i").result.value == pytest.approx(C_i)
    assert found.coefficient == pytest.approx(0.532 * C_i)  # 1.33·0.4


def test_category_of_the_parts_is_the_files():
    found = force("nzs1170.5", part="P.2", **Z)
    assert "category P.2" in line(found.steps, "F_ph").note


# What all have in common


def test_design_earthquake_of_asce_7():
    """ASCE 7-16 section 11.4.6: 1.5 times it is passed with 2 % in 50 years: −50/ln 0.98 = 2475 years."""
    point = standard_named("asce7-16").hazard(site("asce7-16", S_DS=1.0))
    assert (point.times, point.years) == (1.5, pytest.approx(2475.0, abs=0.5))


def test_who_moves_with_the_rack():
    """Rack 0.9·W·1.296/0.9; the tank on it by itself 0.4·0.9·2.4·1.5/2.5 = 0.5184: moves with 1.296; not the other way round."""
    keys = {"S_DS": 0.9, "importance": 1.5, "height_ratio": 0.7}
    tank, rack = (force("asce7-16", kind, **keys) for kind in ("vessel", "braced rack"))
    assert tank.horizontal == pytest.approx(518.4)
    moved = moves_with_rack(tank, rack)
    assert (moved.horizontal, moved.weight, moved.overstrength) == (pytest.approx(1296.0), 1000.0, 2.5)
    line(moved.steps[-2:], "F_p"), line(moved.steps, "E_v")
    assert [one.symbol for one in moved.steps] == ["F_p", "F_p", "E_v"]
    assert moves_with_rack(rack, tank) is rack
    assert moves_with_rack(tank, tank) is tank
    low = force("asce7-16", chosen={"Omega_0": 3.0}, **keys)
    assert moves_with_rack(low, rack).overstrength == 3.0
    tank, rack = (force("asce7-22", kind, **keys) for kind in ("vessel", "braced rack"))
    assert [one.symbol for one in moves_with_rack(tank, rack).steps] == ["H_f", "R_mu", "F_p", "F_p", "E_v"]


def test_which_method_answers():
    """Chapter 15 only for what stands by itself outside a building."""
    standard = standard_named("asce7-16")
    inside, outside = site("asce7-16", S_DS=1.0), site("asce7-16", S_DS=1.0, setting="light greenhouse")
    assert method(outside, True) is standard.in_the_open
    assert [method(*one) for one in ((outside, False), (inside, True), (inside, False))] == [standard.force] * 3


def test_the_same_earthquake_twice_as_strong():
    """S_DS 0.9: plateau, ground (0.36) and upright (0.18) twice, forces too; T_S as it was."""
    once, pushed = motion("asce7-16", S_DS=0.9), force("asce7-16", S_DS=0.9)
    twice, harder = shaken_motion(once, 2.0), shaken_force(pushed, 2.0)
    assert (twice.plateau, twice.peak, twice.vertical.share) == pytest.approx((1.8, 0.72, 0.36))
    assert twice.corner == once.corner
    assert (harder.horizontal, harder.vertical, harder.weight) == pytest.approx((540.0, 360.0, 1000.0))
    assert shaken_motion(once, 1.0) == once and shaken_force(pushed, 1.0) == pushed


def test_spectrum_and_damping():
    """ASCE 7-16 (11.4-6): 0.8 up to 0.5 s, 0.8·0.5/1.25 = 0.32; EN 1998-1 (3.6): √(10/5.5) = 1.3484, √(10/35) = 0.5345 raised to
    0.55; ASCE 41-17 (2-3): 4/(5.6 − ln 20) = 1.53594; of 0.5 %: (5.6 + 0.693147)/4 = 1.573287; of 5 % 1 and not 0.99764."""
    assert design_spectrum([0.3, 0.5, 1.25, 0.0, -1.0], 0.8, 0.5) == pytest.approx(
        [0.8, 0.8, 0.32, math.nan, math.nan], nan_ok=True
    )
    assert damping_correction([0.5, 30.0, 0.0, -0.1]) == pytest.approx(
        [1.3484, 0.55, 1.414214, math.nan], 1e-5, nan_ok=True
    )
    assert damping_coefficient([20.0, 0.0, 100.0, 0.5]) == pytest.approx(
        [1.53594, math.nan, math.nan, 0.635612], 1e-5, nan_ok=True
    )
    assert math.isfinite(float(damping_coefficient(99.0)))
    assert light_damping([0.5, 5.0, 20.0]) == pytest.approx([1.573287, 1.0, 0.651067], 1e-5)


def test_category_of_the_residential_code():
    """D1 is D: who must be fastened goes by the letter."""
    for category, letter in (("D1", "D"), ("C", "C")):
        assert motion("asce7-16", residential_category=category).category == letter


def test_vertical_step_names_its_units():
    units = [
        line(force(name, **keys).steps, "E_v").inputs[symbol].unit
        for name, keys, symbol in (("asce7-16", {"S_DS": 1.0}, "S_DS"), ("eurocode8", A_G, "k_v"))
    ]
    assert units == ["g", ""]


def test_vertical_share_in_words():
    asce, own = Vertical(0.2, "S_DS", 0.9, "", ""), Vertical(1.0, "k_v", 0.3, "", "")
    assert (asce.share, own.share) == (pytest.approx(0.18), 0.3)
    assert (asce.times(), asce.times(0.7), asce.words(0.7)) == ("0.2*S_DS", "0.14*S_DS", "0.14 S_DS")
    assert (own.times(), own.times(0.7), own.words()) == ("k_v", "0.7*k_v", "k_v")


def test_what_swings_on_a_support():
    """1/(1 − (0.3/0.9)²) = 1.125; at 1.5 times 1/(1 − 4/9) = 1.8; nearer no number."""
    assert support_amplification([0.9, 0.45, 0.44], 0.3) == pytest.approx([1.125, 1.8, math.nan], nan_ok=True)


@pytest.mark.parametrize(
    ("T", "z_h", "period", "keeps"),
    [
        (0.5, 0.1, 0.6, True),
        (0.8, 0.1, 0.6, True),
        (0.39, 0.1, 0.6, False),
        (0.41, 0.1, 0.6, True),
        (0.89, 0.1, 0.6, True),
        (0.91, 0.1, 0.6, False),
        (1.5, 0.1, 1.0, False),
        (1.0, 0.1, 1.5, False),
        (0.6, 0.0, 0.6, False),
        (0.6, 0.1, None, False),
    ],
)
def test_building_that_keeps_time(T, z_h, period, keeps):
    """Within 1.5 times of 0.6 s: 0.4 to 0.9 s; 1.5 times is far enough."""
    place = site("asce7-16", S_DS=1.0, building={"period": f"{period} s"} if period else {})
    assert building_keeps_time(place, z_h, T) == keeps
    assert not building_keeps_time(site("asce7-16", S_DS=1.0), z_h, T)


def test_which_period_decides():
    """The file's; else the frame's longer one, the shorter beside it."""
    by_frame, by_file = swing(None, (0.05, 0.2)), swing(0.06, (0.05, 0.2))
    assert by_frame.between == (0.05, 0.2) and not by_frame.rigid
    assert by_file.between == (0.06, 0.06) and by_file.rigid
    assert "which is on the other side of 0.06 s" in by_file.said
    assert swing(0.061, (0.05, 0.2)).said.endswith("to compare")
    assert swing(0.06, (0.05, 0.06)).said.endswith("to compare")
    assert "endless along, 0.2 s across" in swing(None, (math.inf, 0.2)).said
    assert swing(None, None) is None


def test_distance_on_the_globe():
    """From 60° N to 30° N, 90° apart: cos c = sin 60°·sin 30° = 0.433013: c = 1.122965, times 6371 = 7154.4 km."""
    assert float(distance(60.0, 0.0, 30.0, 90.0)) == pytest.approx(7154.4, abs=0.3)


def test_every_wrong_key_is_named():
    """Of the site, of other standards, of the building, and of each rack and vessel."""
    component = {"R_q": 2.0, "R_p": 0.2, "reason": "t"}
    others = {"nbc2015": {"S_a_02": 9, "F_a": 1.0}, "nbc1995": {}, "nbc2020": {}, "asce7-16": {"S_DS": 9}}
    raw = {
        "site": {"standard": "nbc2020", "S_02": 9, "also": others, "building": {"R": 5, "period": "1 s", "I_e": 1.0}},
        "racks": {name: {"component": component} for name in "rs"},
        "vessels": [{"component": component}] * 2,
    }
    names = [
        "S_02",
        *("also nbc2015 S_a_02", "also nbc1995", "also nbc2020", "also asce7-16 S_DS"),
        *("building R", "building I_e"),
    ]
    places = [f"{place} component" for place in ("racks r", "racks s", "vessels 0", "vessels 1")]
    expected = [f"site {name}" for name in names] + [f"{place} {key}" for place in places for key in ("R_q", "R_p")]
    assert [" ".join(map(str, one.path)) for one in file_problems(raw)] == expected
