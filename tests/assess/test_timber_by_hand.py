"""Timber formulas at numbers where each of their terms counts, worked out by hand."""

import math

import numpy as np
import pytest

from brimfast.assess.timber.beam import (
    beam_slenderness,
    beam_stability,
    bearing_area_factor,
    biaxial_bending,
    centred_deflection,
    centred_moment,
    second_moment,
    section_modulus,
    shear_at_connection,
    shear_stress,
)
from brimfast.assess.timber.bearing import bearing, bearing_parallel, bearing_perpendicular, bearing_small, hankinson
from brimfast.assess.timber.column import bending_and_compression, column_stability, column_step
from brimfast.assess.timber.density import timber_density
from brimfast.assess.timber.dowel import double_shear, k_2, reduction_terms, single_shear
from brimfast.assess.timber.eurocode import single_shear_modes
from brimfast.assess.timber.fastener import (
    NotAssessableError,
    calculation,
    dowel,
    plated,
    reach_text,
)
from brimfast.assess.timber.gap import single_shear_with_gap
from brimfast.assess.timber.geometry import Distances, geometry_factor
from brimfast.assess.timber.group import grid, group_action, group_forces, rotational_stiffness, slip_modulus
from brimfast.assess.timber.panel import (
    allowable_unit_shear,
    aspect_factor,
    deck_bending_load,
    deck_deflection,
    deck_shear_load,
)
from brimfast.assess.timber.racking import diagonal_for_panel, diagonal_for_shear, panel_stiffness
from brimfast.assess.timber.service import Service, service_of
from brimfast.assess.timber.strength import Strength, adjusted, adjusted_step, strength_of_class, strength_of_lumber
from brimfast.assess.timber.withdrawal import (
    PER_INCH,
    combined_nail,
    combined_screw,
    pull_through,
    reference_withdrawal,
    thread_length,
    withdrawal_lag,
    withdrawal_nail,
    withdrawal_screw,
)
from brimfast.data_tables.loader import lumber_values, strength_class
from brimfast.shared.constants import FOOT, INCH, POUND_FORCE, PSF, PSI
from brimfast.shared.installation.joint import Fasteners
from tests.builders import RACK, read

# Bearing on dowels


def test_bearing_strengths_are_rounded_to_50_psi():
    """NDS 2018 Table 12.3.3, footnote 2, just under a half of 50 psi, which one more in 11200, 6100 or 16600 would reach.

    11200·0.3549 = 3974.9 → 3950; 6100·0.3554^1.45/√0.5 = 1924.8 → 1900; 16600·0.3632^1.84 = 2574.995 → 2550.
    """
    assert float(bearing_parallel(0.3549)) / PSI == pytest.approx(3950)
    assert float(bearing_perpendicular(0.3554, 0.5 * INCH)) / PSI == pytest.approx(1900)
    assert float(bearing_small(0.3632)) / PSI == pytest.approx(2550)


def test_bearing_at_an_angle():
    """NDS 2018 (12.3-11) at 30°: 5600·3150/(5600·0.25 + 3150·0.75) = 17,640,000/3762.5 = 4688.37 psi."""
    assert float(hankinson(5600.0, 3150.0, math.radians(30))) == pytest.approx(4688.372)


def test_a_quarter_inch_is_a_large_dowel():
    """NDS 2018 Table 12.3.3: G 0.5, 1/4 in along the grain 5600 psi; under it 16600·0.5^1.84 = 4637 → 4650 psi."""
    assert float(bearing(0.5, 0.25 * INCH, 0.0)) / PSI == pytest.approx(5600)
    assert float(bearing(0.5, 0.249 * INCH, 0.0)) / PSI == pytest.approx(4650)


# Dowels


def test_each_of_some_bending_strengths_has_its_own_least():
    """NDS 2018 (12.3-7) to (12.3-10): D 0.5, l 1.5 in, F_e 5600 psi: I_m 0.5·1.5·5600/4 = 1050 lb for any F_yb.

    Mode III_s with F_yb 4.5 ksi: k_3 = −1 + √(4 + 2·3·4500·0.25/(3·5600·2.25)) = 1.04414;
    2·1.04414·0.5·1.5·5600/(3·3.2) = 913.6 lb; mode IV 2·0.25/3.2·√(2·5600·4500/6) = 452.9 lb.
    """
    both = np.array([45_000.0, 4500.0]) * PSI
    sizes = (0.5 * INCH, 1.5 * INCH, 1.5 * INCH, 5600 * PSI, 5600 * PSI)
    modes = double_shear(*sizes, both, reduction_terms(0.5 * INCH, 0.5 * INCH, 0.0))
    assert modes.least() / POUND_FORCE == pytest.approx([1050, 452.9], rel=1e-4)
    assert modes.III_s[1] / POUND_FORCE == pytest.approx(913.6, rel=1e-4)


def test_modes_across_a_gap():
    """AWC Technical Report 12, D 0.5, l_m 3.5, l_s 1.5, g 0.125 in, F_e 5600 and 3150 psi, F_yb 45 ksi.

    q_m = 2800, q_s = 1575 lb/in, M = 45000·0.125/6 = 937.5; q_s l_s²/4 = 885.94, q_m l_m²/4 = 8575.
    II: 2.4802e-4 P² + 2.625 P = 9460.94, P 2841.37, over 3.6: 789.27 lb; III_m: 4.0675e-4 P² + 1.875 P = 9512.5, P 3052.29;
    III_s: 3.3730e-4 P² + 0.875 P = 1823.44, P 1365.33; IV: 4.9603e-4 P² + 0.125 P = 1875, P 1822.30; these over 3.2.
    """
    modes = single_shear_with_gap(
        0.5 * INCH,
        3.5 * INCH,
        1.5 * INCH,
        5600 * PSI,
        3150 * PSI,
        45_000 * PSI,
        0.125 * INCH,
        reduction_terms(0.5 * INCH, 0.5 * INCH, 0.0),
    )
    by_hand = [2450, 590.625, 789.270, 953.842, 426.666, 569.469]
    assert [float(mode) / POUND_FORCE for mode in modes] == pytest.approx(by_hand, rel=1e-5)


def test_eurocode_modes_of_unlike_woods():
    """EN 1995-1-1 (8.6): f_h 20 and 30, t 40 and 60, d 12, M_y 70,000: β 1.5, t_2/t_1 1.5, f_h1 t_1 d 9600.

    a 9600; b 21,600; c 9600/2.5·(√(1.5 + 4.5·4.75 + 3.375·2.25) − 3.75) = 3840·1.76985 = 6796.23;
    d 1.05·9600/3.5·(√(7.5 + 21·0.182292) − 1.5) = 2880·1.86573 = 5373.30;
    e 1.05·14,400/4·(√(11.25 + 24·0.0810185) − 1.5) = 3780·2.13242 = 8060.53; f 1.15·√1.2·√33,600,000 = 7302.27.
    """
    modes = single_shear_modes(20, 30, 40, 60, 12, 70_000)
    by_hand = {"a": 9600, "b": 21_600, "c": 6796.226, "d": 5373.297, "e": 8060.532, "f": 7302.274}
    assert {mode: float(value) for mode, value in modes.items()} == pytest.approx(by_hand, rel=1e-6)


# Withdrawal


def test_withdrawal_to_more_figures_than_the_tables_print():
    """NDS 2018 (12.2-1) to (12.2-3), G 0.42: 1800·0.272191·0.375^0.75 = 234.785; 2850·0.1764·0.19 = 95.5206;

    1380·0.114320·0.131 = 20.6668 lb/in.
    """
    assert float(withdrawal_lag(0.42, 0.375 * INCH)) / PER_INCH == pytest.approx(234.785, rel=1e-5)
    assert float(withdrawal_screw(0.42, 0.19 * INCH)) / PER_INCH == pytest.approx(95.5206, rel=1e-5)
    assert float(withdrawal_nail(0.42, 0.131 * INCH)) / PER_INCH == pytest.approx(20.6668, rel=1e-5)


def test_the_printed_withdrawal_is_that_in_inches():
    """NDS 2018 (12.2-2), G 0.42, #10: 95.5206 lb/in = 16,728.2 N/m."""
    W, line = reference_withdrawal("structural screw", 0.42, 0.19 * INCH)
    assert pytest.approx(16_728.2, rel=1e-5) == W
    assert (line.inputs["D"].value, line.result.value) == pytest.approx((0.19, 95.5206), rel=1e-5)


def test_thread_of_a_long_lag_screw():
    """NDS 2018 Appendix L: 5 in of 3/8 in: 2.5 + 0.5 = 3 in, where a wood screw had 2/3 of 5 = 3.33 in."""
    thread, (said,) = thread_length("lag screw", 0.375 * INCH, 5 * INCH, None)
    assert thread == pytest.approx(3 * INCH)
    assert said.text == "3.00 in"


# Groups


FIVE = [(-1.2, -1.6), (-1.2, 0.4), (-1.2, 2.4), (1.8, -1.6), (1.8, 0.4)]


def test_five_fasteners_in_two_columns():
    """Three at −2, 0, 2 and x −1.5, two at −2, 0 and x 1.5; their middle is at −1.5/5 = −0.3 and −2/5 = −0.4."""
    assert grid(5, 2, 4.0, 3.0) == pytest.approx(np.array(FIVE))
    assert grid(3, 2, 4.0, 3.0) == pytest.approx(np.array([(-1, -4 / 3), (-1, 8 / 3), (2, -4 / 3)]))
    assert grid(2, 2, 4.0, 3.0) == pytest.approx(np.array([(-1.5, 0.0), (1.5, 0.0)]))


def test_moment_and_forces_on_a_group():
    """Σx² 3·1.44 + 2·3.24 = 10.8, Σy² 2·2.56 + 2·0.16 + 5.76 = 11.2, Σr² 22: M 44 gives 2 N per m of radius.

    500/5 = 100 and 1000/5 = 200 N of the forces; (−1.2, 2.4): 100 − 4.8, 200 − 2.4; (1.8, −1.6): 100 + 3.2, 200 + 3.6.
    """
    each = group_forces(500.0, 1000.0, 44.0, np.array(FIVE))
    assert each[2] == pytest.approx([95.2, 197.6])
    assert each[3] == pytest.approx([103.2, 203.6])
    assert float(rotational_stiffness(1000.0, np.array(FIVE))) == pytest.approx(22_000)
    small = np.array(FIVE) / 100  # 4.4 of Σr² 0.0022: 2000 N per m of radius
    assert group_forces(500.0, 1000.0, 4.4, small)[2] == pytest.approx([52, 176])
    both = group_forces(np.array([500.0, 0.0]), 1000.0, 44.0, np.array(FIVE))
    assert both.shape == (2, 5, 2)
    assert both[1, 2] == pytest.approx([-4.8, 197.6])
    one = np.zeros((1, 2))
    assert group_forces(500.0, 1000.0, 0.0, one)[0] == pytest.approx([500, 1000])
    assert group_forces(500.0, 1000.0, -0.5, one)[0] == pytest.approx([math.inf, 1000])


def test_group_action_by_hand():
    """NDS 2018 (11.3-1): D 0.75, s 4 in, n 3, EA 26.95e6 and 9.9e6 lb (R_EA 0.367347): γ 180,000·0.649519 = 116,913 lb/in,

    u 1.0322952, m 0.7761051, C_g 0.94998692; steel 270,000: u 1.0484428, m 0.7334312, C_g 0.92855286.
    1/4 in, two: γ 22,500, u 1.0062152, m 0.8945503, C_g 0.99715021.
    """
    main, side = 26.95e6 * POUND_FORCE, 9.9e6 * POUND_FORCE
    D, s = 0.75 * INCH, 4 * INCH
    assert float(group_action(D, 3, s, main, side)) == pytest.approx(0.94998692, abs=1e-8)
    assert float(group_action(D, 3, s, side, main)) == pytest.approx(0.94998692, abs=1e-8)
    assert float(group_action(D, 3, s, main, side, steel_side=True)) == pytest.approx(0.92855286, abs=1e-8)
    assert float(group_action(0.25 * INCH, 2, s, main, side)) == pytest.approx(0.99715021, abs=1e-8)
    for diameter, n, apart in ((0.249 * INCH, 3, s), (D, 1, s), (D, 3, 0.0)):
        assert float(group_action(diameter, n, apart, main, side)) == 1.0


def test_slip_of_fasteners():
    """EN 1995-1-1 Table 7.1, 420 kg/m³ (420^1.5 = 8607.44): 12 mm: 8607.44·12/23 = 4490.84 N/mm;

    a nail of 4 mm, not predrilled: 8607.44·3.03143/30 = 869.762 N/mm.
    """
    assert float(slip_modulus(420.0, 0.012)) == pytest.approx(4_490_838, rel=1e-6)
    assert float(slip_modulus(420.0, 0.004, predrilled=False)) == pytest.approx(869_762, rel=1e-6)


def test_distances_between_least_and_full():
    """NDS 2018 section 12.5.1, D 0.5 in, 3.5 D to 7 D: 2.45/3.5 = 0.7; 1.75/3.5 = 0.5 still counts; 4 in in full."""
    ends = Distances(3.5, 7.0)
    factor = geometry_factor(np.array([2.45, 1.75, 3.5, 4.0, 1.74]) * INCH, 0.5 * INCH, ends)
    assert factor[:4] == pytest.approx([0.7, 0.5, 1.0, 1.0])
    assert math.isnan(factor[4])


# Members


def test_moment_and_sag_under_a_part_of_the_span():
    """P 1000, L 3, b 1.2, EI 50,000: 1000·(6 − 1.2)/8 = 600; 1000·(216 − 17.28 + 1.728)/(384·50,000) = 0.01044."""
    assert float(centred_moment(1000.0, 3.0, 1.2)) == pytest.approx(600)
    assert float(centred_deflection(1000.0, 3.0, 1.2, 50_000.0)) == pytest.approx(0.01044)


def test_section_of_a_board():
    """2 by 9: 2·81/6 = 27, 2·729/12 = 121.5; 3·120/(2·18) = 10."""
    assert float(section_modulus(2.0, 9.0)) == pytest.approx(27)
    assert float(second_moment(2.0, 9.0)) == pytest.approx(121.5)
    assert float(shear_stress(120.0, 2.0, 9.0)) == pytest.approx(10)


def test_shear_beside_fasteners():
    """NDS 2018 (3.4-6): F_v 162 psi, 1.5 in, d 7.25, d_e 5 in: 2/3·162·1.5·5·(5/7.25)² = 810·0.475624 = 385.256 lb."""
    V = shear_at_connection(162 * PSI, 1.5 * INCH, 7.25 * INCH, 5 * INCH)
    assert float(V) / POUND_FORCE == pytest.approx(385.256, rel=1e-5)


def test_bearings_shorter_than_six_inches():
    """NDS 2018 (3.10-2): 3.5 in: 3.875/3.5 = 1.107143; from 6 in on 1."""
    found = bearing_area_factor(np.array([3.5, 5.9, 6.0]) * INCH)
    assert found == pytest.approx([1.107143, 6.275 / 5.9, 1.0], rel=1e-6)
    assert found[2] == 1.0


def test_stability_of_a_beam():
    """NDS 2018 (3.3-5), (3.3-6): l_e 123.6, d 7.25, b 1.5 in: √398.267 = 19.9566; at 20: F_bE 1.2·580,000/400 = 1740 psi,

    r 1.74 of 1000 psi: 2.74/1.9 = 1.442105; 1.442105 − √(2.079668 − 1.831579) = 0.944020.
    """
    assert float(beam_slenderness(123.6, 7.25, 1.5)) == pytest.approx(19.95662)
    assert float(beam_stability(1000.0, 580_000.0, 20.0)) == pytest.approx(0.944020, abs=1e-6)
    assert float(beam_stability(1000.0, 580_000.0, 0.0)) == 1.0
    assert 0 < float(beam_stability(1000.0, 580_000.0, 50.0)) < 1
    assert math.isnan(float(beam_stability(1000.0, 580_000.0, 50.01)))


def test_bending_both_ways():
    """NDS 2018 (3.9-3) without compression: 600/1000 + 200/(800·(1 − 0.4²)) = 0.6 + 200/672 = 0.897619."""
    assert float(biaxial_bending(600.0, 1000.0, 200.0, 800.0, 1500.0)) == pytest.approx(0.897619, abs=1e-6)
    assert math.isinf(float(biaxial_bending(1500.0, 1000.0, 200.0, 800.0, 1500.0)))
    assert math.isinf(float(biaxial_bending(1500.0, 1000.0, 0.0, 800.0, 1500.0)))


def test_stability_of_a_stocky_post():
    """NDS 2018 (3.7-1): l_e/d 1, r 0.822·580 = 476.76: 298.6 − √(89161.96 − 595.95) = 0.99958; of no length 1."""
    assert float(column_stability(1000.0, 580_000.0, 1.0)) == pytest.approx(0.999580, abs=1e-6)
    assert float(column_stability(1000.0, 580_000.0, 0.0)) == 1.0


def test_the_printed_stability_of_a_post():
    """NDS 2018 (3.7-1): l_e/d 15, 0.822·580,000/225/1350 = 1.569580; 1.605988 − √(2.579197 − 1.961975) = 0.820353."""
    C_P, line = column_step(1350.0, 580_000.0, 15.0, "")
    assert pytest.approx(0.820353, abs=1e-6) == C_P
    assert line.inputs["r"].value == pytest.approx(1.569580, abs=1e-6)


def test_a_post_under_an_eccentric_load():
    """NDS 2018 (15.4-1): (200/800)² + (300 + 1.5·200·(1 + 0.234·0.2))/(1200·0.8) = 0.0625 + 614.04/960 = 0.702125."""
    assert float(bending_and_compression(200.0, 800.0, 1000.0, 300.0, 1200.0, 0.25)) == pytest.approx(0.702125)
    assert math.isinf(float(bending_and_compression(1000.0, 2000.0, 1000.0, 300.0, 1200.0)))
    assert math.isinf(float(bending_and_compression(1000.0, 2000.0, 1000.0, 0.0, 1200.0)))
    assert float(bending_and_compression(999.0, 2000.0, 1000.0, 0.0, 1200.0)) == pytest.approx(0.4995**2)


def test_weight_of_moist_wood():
    """NDS Supplement 2018 section 3.1.3: G 0.5, 19 %: 62.4·0.5/1.0855·1.19 = 34.2036 lb/ft³ = 547.889 kg/m³."""
    assert float(timber_density(0.5, 0.19)) == pytest.approx(547.889, rel=1e-6)


# Sheets


def test_deck_of_one_two_and_three_spans():
    """APA D510, F_b S 370, F_s(Ib/Q) 165, EI 115,000, 16 in, 200 psf.

    96·370/256 = 138.75, twice, and 120·370/256 = 173.4375 psf; 24, 19.2 and 20·165/14.5 = 273.103, 218.483, 227.586 psf;
    200·14.75⁴/(921.6, 2220, 1743·115,000) = 0.0893219, 0.0370806, 0.0472284 in.
    """
    spans = (1, 2, 3)
    strong = [float(deck_bending_load(370.0, 16 * INCH, n)) / PSF for n in spans]
    shear = [float(deck_shear_load(165.0, 16 * INCH, n)) / PSF for n in spans]
    sag = [float(deck_deflection(200 * PSF, 115_000.0, 16 * INCH, n)) / INCH for n in spans]
    assert strong == pytest.approx([138.75, 138.75, 173.4375])
    assert shear == pytest.approx([273.103, 218.483, 227.586], rel=1e-5)
    assert sag == pytest.approx([0.0893219, 0.0370806, 0.0472284], rel=1e-5)


def test_panels_on_heavier_framing_and_slim_ones():
    """SDPWS 2015: G 0.55 counts as 0.5: 620/2 = 310 lb/ft; 2 b/h: 8 by 3: 0.75, at most 1, 3.5 to 1 the last."""
    assert float(allowable_unit_shear(620.0, 0.55)) / POUND_FORCE * FOOT == pytest.approx(310)
    factor = aspect_factor(np.array([8.0, 6.0, 4.5, 10.5, 10.51]), 3.0)
    assert factor[:4] == pytest.approx([0.75, 1.0, 1.0, 0.5714286])
    assert math.isnan(factor[4])


def test_stiffness_of_sheets():
    """Gt 4e6 N/m, 1.2 by 0.8 m, K 8e5 N/m each 0.15 m: 1/Gt 2.5e-7, slip 0.3·2.083333/8e5 = 7.8125e-7;

    1.2/(0.8·1.03125e-6) = 1,454,545 N/m. Diagonals, d² 2.08: 1e6·2.08/2.88 = 722,222; 4e6·2.08/1.92 = 4,333,333.
    """
    assert float(panel_stiffness(4e6, 1.2, 0.8, 8e5, 0.15)) == pytest.approx(1_454_545, rel=1e-6)
    assert float(diagonal_for_panel(1e6, 1.2, 0.8)) == pytest.approx(722_222, rel=1e-6)
    assert float(diagonal_for_shear(4e6, 1.2, 0.8)) == pytest.approx(4_333_333, rel=1e-6)


# Strengths


@pytest.mark.parametrize(
    ("wet", "heat", "joint", "timber"),
    [
        (True, "100", 1.0, (1.0, 1.0)),
        (False, "125", 0.8, (0.8, 0.9)),
        (True, "125", 0.7, (0.7, 0.9)),
        (False, "150", 0.7, (0.7, 0.9)),
        (True, "150", 0.5, (0.5, 0.9)),
    ],
)
def test_temperature(wet, heat, joint, timber):
    """NDS 2018 Tables 11.3.4 and 2.3.3."""
    service = Service(wet, heat)
    assert service.temperature(joint=True)[:2] == (joint, 1.0)
    assert service.temperature(joint=False)[:2] == timber
    for of_joint, start in ((True, "temperature factor of joints"), (False, "temperature factor of timber")):
        values = service.temperature(joint=of_joint)[2]
        assert len(values) == (0 if heat == "100" else 1 if of_joint else 2)
        assert all(value.name.startswith(start) for value in values[:1])


def test_service_is_that_of_the_file():
    def text(more):
        return read(RACK.replace("    beam_runs: each bay", f"    beam_runs: each bay\n{more}"))

    assert service_of(text("    wet: no\n    heat: up to 125 F").installation.racks["r"]) == Service(False, "125")
    assert service_of(text("").installation.racks["r"]) == Service(True, "100")


def psi(one):
    names = ("F_b", "F_t", "F_v", "F_cperp", "F_c", "E", "E_min")
    return [getattr(one, name if hasattr(one, name) else "F_c_star") / PSI for name in names]


def test_size_factors_of_thick_members():
    """NDS Supplement 2018 Table 4A, No.2 of 7.25 in: C_F of bending 1.2, and 1.3 from 4 in nominal (3.5 in) on.

    Douglas fir-larch No.2: 900, 575, 180, 625, 1350 psi, E 1.6e6, E_min 580,000. Table 4B has C_F in its values.
    """
    row = lumber_values("douglas fir-larch", "No.2", 1.5, 7.25)
    two, three, four = (strength_of_lumber(row, t * INCH, 7.25 * INCH) for t in (1.5, 2.5, 3.5))
    assert (two.C_F_b, three.C_F_b, four.C_F_b) == (1.2, 1.2, 1.3)
    assert (two.C_F_t, two.C_F_c) == (1.2, 1.05)
    assert psi(two) == pytest.approx([900, 575, 180, 625, 1350, 1_600_000, 580_000])
    southern = strength_of_lumber(lumber_values("southern pine", "No.2", 1.5, 7.25), 1.5 * INCH, 7.25 * INCH)
    assert (southern.C_F_b, southern.C_F_t, southern.C_F_c) == (1.0, 1.0, 1.0)
    thick = strength_of_lumber(lumber_values("douglas fir-larch", "No.2", 5.5, 5.5), 5.5 * INCH, 5.5 * INCH)
    assert (thick.C_F_b, thick.C_F_t, thick.C_F_c) == (1.0, 1.0, 1.0)


def test_adjusted_values_of_wet_warm_incised_joists():
    """NDS 2018 Table 4.3.1, 2x8 Douglas fir-larch No.2 for ever, wet, up to 125 °F (C_t 0.7 and 0.9), incised, repetitive.

    F_b C_F 1080 ≤ 1150 psi: C_M 1: 900·0.9·0.7·1.2·0.8·1.15 = 625.968; F_t 575·0.9·1·0.9·1.2·0.8 = 447.12;
    F_v 180·0.9·0.97·0.7·0.8 = 87.9984; F_c⊥ 625·0.67·0.7 = 293.125; F_c 1350·0.9·0.8·0.7·1.05·0.8 = 571.536;
    E 1.6e6·0.9·0.9·0.95 = 1,231,200; E_min 580,000·0.7695 = 446,310 psi.
    """
    row = lumber_values("douglas fir-larch", "No.2", 1.5, 7.25)
    strength = strength_of_lumber(row, 1.5 * INCH, 7.25 * INCH)
    found = adjusted(strength, "permanent", Service(True, "125"), incised=True, repetitive=True)
    by_hand = [625.968, 447.12, 87.9984, 293.125, 571.536, 1_231_200, 446_310]
    assert psi(found) == pytest.approx(by_hand)


def test_adjusted_values_in_an_earthquake():
    """As above, dry, cool, plain: 900·1.6·1.2 = 1728; 575·1.6·1.2 = 1104; 180·1.6 = 288; 625; 1350·1.6·1.05 = 2268."""
    row = lumber_values("douglas fir-larch", "No.2", 1.5, 7.25)
    found = adjusted(
        strength_of_lumber(row, 1.5 * INCH, 7.25 * INCH), "earthquake", Service(False, "100"), incised=False
    )
    assert psi(found) == pytest.approx([1728, 1104, 288, 625, 2268, 1_600_000, 580_000])


def weak(F_b, F_c, size_class="dimension"):
    """C_F 1.25 of bending, 0.8 of compression."""
    return Strength(
        F_b * PSI, 500 * PSI, 150 * PSI, 400 * PSI, F_c * PSI, 1e6 * PSI, 4e5 * PSI, 1.25, 1.0, 0.8, size_class
    )


@pytest.mark.parametrize(
    ("strength", "b", "c", "cp", "v", "E"),
    [
        (weak(916, 930), 1.0, 1.0, 0.67, 0.97, 0.9),  # 1145 and 744 psi
        (weak(925, 945), 0.85, 0.8, 0.67, 0.97, 0.9),  # 1156.25 and 756 psi
        (weak(920.4, 938.125), 0.85, 0.8, 0.67, 0.97, 0.9),  # 1150.5 and 750.5 psi
        (weak(925, 945, "timbers"), 1.0, 0.91, 0.67, 1.0, 1.0),
    ],
)
def test_wet_service_by_strength_and_size(strength, b, c, cp, v, E):
    """NDS Supplement 2018 Tables 4A and 4D: C_M 0.85 over F_b C_F 1150 psi, 0.8 over F_c C_F 750 psi; timbers 0.91."""
    wet = adjusted(strength, "permanent", Service(True), incised=False)
    dry = adjusted(strength, "permanent", Service(False), incised=False)
    share = [one / other for one, other in zip(psi(wet), psi(dry), strict=True)]
    assert share == pytest.approx([b, 1.0, v, cp, c, E, E])


def test_wet_service_at_the_limits_themselves():
    """F_b C_F of just 1150 psi and F_c C_F of just 750 psi keep C_M 1."""
    at = Strength(
        1150 * PSI, 500 * PSI, 150 * PSI, 400 * PSI, 750 * PSI, 1e6 * PSI, 4e5 * PSI, 1.0, 1.0, 1.0, "dimension"
    )
    factors = adjusted(at, "permanent", Service(True), incised=False).factors
    assert (factors["C_M_b"], factors["C_M_c"]) == (1.0, 1.0)


def test_factors_that_are_used_are_listed():
    """A wet, warm, incised joist in the values below its finding; those that are 1 are left out."""
    row = lumber_values("douglas fir-larch", "No.2", 1.5, 5.5)
    strength = strength_of_lumber(row, 1.5 * INCH, 5.5 * INCH)
    found = adjusted(strength, "permanent", Service(True, "125"), incised=True, repetitive=True)
    names = " ".join(value.name for value in found.values)
    for word in ("load duration", "temperature factor of timber", "temperature factor of tension", "incising factor, strengths",
                 "incising factor, stiffness", "repetitive", "bending of dimension", "compression of dimension"):  # fmt: skip
        assert word in names
    assert "tension of dimension" not in names  # C_M 1


def test_values_of_a_european_class():
    """EN 338 C24 in N/mm²: 24, 14.5, 4.0, 2.5, 21, E 11,000, E_05 7400/1.66 = 4457.83."""
    row = strength_class("C24")
    found = strength_of_class(row)
    names = ("F_b", "F_t", "F_v", "F_cperp", "F_c", "E", "E_min")
    by_hand = [24e6, 14.5e6, 4.0e6, 2.5e6, 21e6, 11_000e6, 4457.8313e6]
    assert [getattr(found, name) for name in names] == pytest.approx(by_hand)
    assert (found.C_F_b, found.C_F_t, found.C_F_c) == (1.0, 1.0, 1.0)


@pytest.mark.parametrize(
    ("duration", "wet", "k_mod"),
    [("permanent", True, 0.5), ("permanent", False, 0.6), ("earthquake", True, 0.9), ("earthquake", False, 1.1)],
)
@pytest.mark.parametrize(("incised", "C_i", "C_i_E"), [(True, 0.8, 0.95), (False, 1.0, 1.0)])
def test_a_european_class_by_duration_moisture_and_cuts(duration, wet, k_mod, incised, C_i, C_i_E):
    """EN 1995-1-1 (2.14), Table 3.1: C24 k_mod/(1.3·1.35), shear times 0.67; not incised, permanent, wet:

    24·0.5/1.755 = 6.8376; k_cr in shear 4·0.5/1.755·0.67 = 0.763533; bearing 2.5·0.5/1.755 = 0.712251, never incised.
    """
    found = adjusted(strength_of_class(strength_class("C24")), duration, Service(wet), incised)
    share = k_mod / 0.5
    by_hand = [6.837607 * C_i, 4.131054 * C_i, 0.7635328 * C_i, 0.7122507, 5.982906 * C_i]
    stresses = (found.F_b, found.F_t, found.F_v, found.F_cperp, found.F_c_star)
    assert stresses == pytest.approx([1e6 * share * one for one in by_hand])
    assert (found.E, found.E_min) == pytest.approx((11_000e6 * C_i_E, 4457.8313e6 * C_i_E))
    assert len(found.values) == (6 if incised else 4)
    assert ("incis" in found.values[-1].name) == incised


# One fastener of the file


def fasteners(**given):
    return Fasteners(**given)


def inches(one):
    return [one.D / INCH, one.D_r / INCH, one.F_yb / PSI, one.l_m / INCH, one.l_s / INCH]


def test_a_lag_screw_in_two_woods():
    """3/8 x 4 in through 1.5 in: root 0.265, F_yb 45 ksi, reaches 2.5 in, tip 7/32 in: l_m 2.5 − 0.109375 = 2.390625 in."""
    one = dowel(fasteners(kind="lag screw", diameter="0.375 in", length="4 in"), 1.5 * INCH, 0.42, 3.5 * INCH, 0.5)
    assert inches(one) == pytest.approx([0.375, 0.265, 45_000, 2.390625, 1.5])
    assert (one.G_m, one.G_s) == (0.5, 0.42)
    names = ("root diameter of a 3/8 in lag screw", "bending yield strength of a lag screw of 0.375 in")
    assert tuple(value.name for value in one.values) == names
    thin = dowel(fasteners(kind="lag screw", diameter="0.375 in", length="4 in"), 1.5 * INCH, 0.42, 2 * INCH, 0.5)
    assert thin.l_m == pytest.approx(2 * INCH)


@pytest.mark.parametrize(
    ("kind", "diameter", "least", "said"),
    [
        ("lag screw", 0.375, 3.21875, "4 diameters, 1.50 in"),
        ("wood screw", 0.19, 2.64, "6 diameters, 1.14 in"),
        ("nail", 0.148, 2.388, "6 diameters, 0.89 in"),
    ],
)
def test_least_penetration(kind, diameter, least, said):
    """NDS 2018 sections 12.1.4 to 12.1.6: lag screws 4 D without the tip: 1.5 + 7/32; screws and nails 6 D: 1.14, 0.888 in."""
    one = dowel(fasteners(kind=kind, diameter=f"{diameter} in", length=f"{least} in"), 1.5 * INCH, 0.5, 3.5 * INCH, 0.5)
    tip = 0.21875 if kind == "lag screw" else 2 * diameter
    assert one.l_m / INCH == pytest.approx(least - 1.5 - tip / 2)
    with pytest.raises(NotAssessableError, match=f"the standard asks for at least {said}"):
        dowel(
            fasteners(kind=kind, diameter=f"{diameter} in", length=f"{least - 0.01} in"),
            1.5 * INCH,
            0.5,
            3.5 * INCH,
            0.5,
        )


def test_a_lag_screw_that_no_table_has():
    """0.2 x 4 in, root 0.15 in and 60 ksi given: a tip as long as it is thick, 2.5 − 0.1 = 2.4 in."""
    given = {"diameter": "0.2 in", "length": "4 in", "root_diameter": "0.15 in", "bending_yield": "60 ksi"}
    one = dowel(fasteners(kind="lag screw", **given), 1.5 * INCH, 0.5, 3.5 * INCH, 0.5)
    assert inches(one) == pytest.approx([0.2, 0.15, 60_000, 2.4, 1.5])


def test_a_bolt_must_pass_both_members():
    """1.5 and 3.5 in: 5 in do, 4.99 in do not."""
    one = dowel(fasteners(kind="through-bolt", diameter="0.5 in", length="5 in"), 1.5 * INCH, 0.42, 3.5 * INCH, 0.5)
    assert inches(one) == pytest.approx([0.5, 0.5, 45_000, 3.5, 1.5])
    with pytest.raises(NotAssessableError, match="shorter than the two"):
        dowel(fasteners(kind="through-bolt", diameter="0.5 in", length="4.99 in"), 1.5 * INCH, 0.42, 3.5 * INCH, 0.5)


def test_a_toe_nail():
    """NDS 2018 section 12.1.6: 3.5 in: side 1.166667, reaches 3.5·0.866025 − 1.166667 = 1.864422; half the tip 0.148 in off."""
    one = dowel(fasteners(kind="nail", nail="0.148 in x 3.5 in", toe_nailed="yes"), 1.5 * INCH, 0.5, 3.5 * INCH, 0.5)
    assert (one.l_s / INCH, one.l_m / INCH) == pytest.approx((1.166667, 1.716422), rel=1e-6)


def test_a_nail_of_a_framing_tie():
    """0.148 x 1.5 in through 0.048 in of steel: 1.5 − 0.048 − 0.148 = 1.304 in of the lighter wood; in 1.25 in all of it.

    Steel of the file, 0.06 in: 1.292 in.
    """
    tie = {"kind": "framing tie", "nails": "4 + 4", "nail": "0.148 in x 1.5 in"}
    one = dowel(fasteners(**tie), 1.5 * INCH, 0.42, 3.5 * INCH, 0.5)
    assert inches(one)[3:] == pytest.approx([1.304, 0.048])
    assert (one.D_r / INCH, one.G_m, one.G_s) == (pytest.approx(0.148), 0.42, None)
    assert one.F_e_steel / PSI == pytest.approx(61_850)
    assert dowel(fasteners(**tie), 1.25 * INCH, 0.42, 3.5 * INCH, 0.5).l_m / INCH == pytest.approx(1.25)
    assert dowel(fasteners(**tie, steel="0.06 in"), 3.5 * INCH, 0.5, 1.5 * INCH, 0.5).l_m / INCH == pytest.approx(1.292)
    with pytest.raises(NotAssessableError, match="the nails of the framing tie"):
        dowel(fasteners(kind="framing tie", nails="4 + 4", allowable="300 lb", source="t"), INCH, 0.5, INCH, 0.5)


def test_a_structural_screw_without_its_makers_values():
    """0.25 x 4 in: root 0.65·0.25 = 0.1625 in, 70 ksi; reaches 2.5 in, half the tip 0.25 in off. Given in the file: those."""
    plain = {"kind": "structural screw", "diameter": "0.25 in", "length": "4 in"}
    assert inches(dowel(fasteners(**plain), 1.5 * INCH, 0.5, 3.5 * INCH, 0.5)) == pytest.approx(
        [0.25, 0.1625, 70_000, 2.25, 1.5]
    )
    given = dowel(
        fasteners(**plain, root_diameter="0.17 in", bending_yield="150 ksi"), 1.5 * INCH, 0.5, 3.5 * INCH, 0.5
    )
    assert inches(given) == pytest.approx([0.25, 0.17, 150_000, 2.25, 1.5])
    assert [value.text for value in given.values] == ["0.170 in", "150,000 psi"]


def test_plates_of_sheet_and_of_hot_rolled_steel():
    """F_e 87,000 psi from 1/4 in on, 61,850 psi below. A lag screw of 3 in through 1/4 in: 2.75 − 0.109375 = 2.640625 in;

    a bolt through 3.5 in and 1/4 in needs 3.75 in.
    """
    lag = {"kind": "lag screw", "diameter": "0.375 in", "length": "3 in"}
    thick = plated(fasteners(**lag, plate="0.25 in"), 3.5 * INCH, 0.5)
    assert inches(thick)[3:] == pytest.approx([2.640625, 0.25])
    assert (thick.F_e_steel / PSI, thick.G_s) == (pytest.approx(87_000), None)
    thin = plated(fasteners(**lag, plate="0.24 in"), 3.5 * INCH, 0.5)
    assert thin.F_e_steel / PSI == pytest.approx(61_850)
    bolt = plated(fasteners(kind="through-bolt", diameter="0.5 in", length="3.75 in", plate="0.25 in"), 3.5 * INCH, 0.5)
    assert inches(bolt) == pytest.approx([0.5, 0.5, 45_000, 3.5, 0.25])
    just = fasteners(kind="through-bolt", diameter="0.5 in", length="2 in", plate="0.5 in")
    assert plated(just, 1.5 * INCH, 0.5).l_m / INCH == pytest.approx(1.5)
    with pytest.raises(NotAssessableError, match="shorter than plate"):
        plated(fasteners(kind="through-bolt", diameter="0.5 in", length="3.6 in", plate="0.25 in"), 3.5 * INCH, 0.5)


@pytest.mark.parametrize(
    "given",
    [
        {"kind": "lag screw", "diameter": "0.375 in", "length": "3 in"},
        {"kind": "wood screw", "diameter": "0.19 in", "length": "3 in", "plate": "0.25 in"},
        {"kind": "lag screw", "diameter": "0.375 in", "plate": "0.25 in", "allowable": "300 lb", "source": "t"},
        {"kind": "lag screw", "length": "3 in", "plate": "0.25 in", "allowable": "300 lb", "source": "t"},
    ],
)
def test_plates_that_cannot_be_assessed(given):
    """No plate, the wrong kind, no length, no diameter."""
    with pytest.raises(NotAssessableError, match="of known size"):
        plated(fasteners(**given), 3.5 * INCH, 0.5)


def test_fasteners_of_unknown_size_and_screws_too_thin():
    """No length; a wood screw of 0.12 in is under the table's #6, 0.138 in."""
    known = {"diameter": "0.25 in", "allowable": "300 lb", "source": "t"}
    with pytest.raises(NotAssessableError, match="not in the file"):
        dowel(fasteners(kind="lag screw", **known), 1.5 * INCH, 0.5, 3.5 * INCH, 0.5)
    with pytest.raises(NotAssessableError, match=r"wood screw of 0\.120 in is thinner"):
        dowel(fasteners(kind="wood screw", diameter="0.12 in", length="3 in"), 1.5 * INCH, 0.5, 3.5 * INCH, 0.5)


def test_reach():
    assert reach_text(0.75 * INCH, "the post") == "it reaches 0.75 in into the post"
    assert reach_text(0.0, "the post") == "it does not reach the post"


def test_one_bolt_at_angles_to_both_grains():
    """NDS 2018 (12.3-5), (12.3-11): 1/2 in, 1.5 in and 3.5 in, G 0.5, θ 30° main, 60° side: F_e∥ 5600, F_e⊥ 3158 → 3150.

    F_em 4688.37, F_es 17,640,000/(5600·0.75 + 3150·0.25) = 3536.84 psi; K_θ 1 + 0.25·60/90 = 1.166667 by the larger angle.
    III_s: R_e 1.325581; k_3 = −1 + √(2·2.325581/1.325581 + 2·45,000·3.325581·0.25/(3·4688.37·2.25)) = −1 + √5.873190 = 1.423467;
    1.423467·0.5·1.5·4688.37/(3.325581·3.2·1.166667) = 403.150 lb, the least.
    """
    bolt = dowel(fasteners(kind="through-bolt", diameter="0.5 in", length="5 in"), 1.5 * INCH, 0.5, 3.5 * INCH, 0.5)
    Z, mode, _ = calculation(bolt, math.radians(30), math.radians(60))
    assert (pytest.approx(403.150, rel=1e-5), "III_s") == (Z / POUND_FORCE, mode)
    strengths = [float(one) / PSI for one in bolt.bearing_strengths(math.radians(30), math.radians(60))]
    assert strengths == pytest.approx([4688.372, 3536.842], rel=1e-6)


def test_one_bolt_through_a_plate_and_one_in_two_planes():
    """As above, plate 1/4 in of 87,000 psi: K_θ by the wood's 30° alone, 1.083333: R_e 4688.372/87,000 = 0.0538893.

    III_s: k_3 = −1 + √(2·1.0538893/0.0538893 + 2·45,000·2.0538893·0.25/(3·4688.372·0.0625)) = −1 + √91.68288 = 8.575118;
    8.575118·0.5·0.25·4688.372/(2.0538893·3.2·1.083333) = 705.802 lb; mode IV 0.25/3.466667·√(2·4688.372·45,000/3.161668)
    = 833.1 lb. In two planes of wood, θ as above: III_s 806.299, I_m 0.5·3.5·4688.372/(4·1.166667) = 1758.1, I_s 1136.8 lb.
    """
    bolt = {"kind": "through-bolt", "diameter": "0.5 in", "length": "5 in"}
    plate = plated(fasteners(**bolt, plate="0.25 in"), 3.5 * INCH, 0.5)
    thirty, sixty = math.radians(30), math.radians(60)
    assert [float(one) / PSI for one in plate.bearing_strengths(thirty, sixty)] == pytest.approx([4688.372, 87_000])
    assert float(plate.modes(thirty, sixty).least()) / POUND_FORCE == pytest.approx(705.802, rel=1e-5)
    wood = dowel(fasteners(**bolt), 1.5 * INCH, 0.5, 3.5 * INCH, 0.5)
    assert calculation(wood, thirty, sixty, double=True)[0] / POUND_FORCE == pytest.approx(806.299, rel=1e-5)


@pytest.mark.parametrize(
    ("D", "side", "main", "double", "mode", "Z", "R_d", "k"),
    [
        (0.5, 3.5, 1.5, False, "III_m", 614.841, 3.2, ("k_2", 1.405351)),
        (0.5, 1.5, 1.5, False, "II", 483.249, 3.6, ("k_1", 0.414214)),
        (0.5, 1.5, 3.5, False, "III_s", 614.841, 3.2, ("k_3", 1.405351)),
        (1.0, 0.5, 1.5, False, "I_s", 700.0, 4.0, None),
        (0.5, 3.5, 3.5, False, "IV", 716.027, 3.2, None),
        (0.5, 1.5, 1.5, True, "I_m", 1050.0, 4.0, None),
        (0.5, 1.5, 3.5, True, "III_s", 1229.682, 3.2, ("k_3", 1.405351)),
    ],
)
def test_the_printed_line_of_each_mode(D, side, main, double, mode, Z, R_d, k):
    """NDS 2018 Table 12.3.1A, F_e 5600 psi along the grain, F_yb 45 ksi: R_d 4, 3.6 and 3.2.

    I_s 1·0.5·5600/4 = 700; II k_1 √8 − 2 over 2: 0.414214·0.5·1.5·5600/3.6 = 483.249; III k −1 + √(4 + 2·3·45,000·0.25/
    (3·5600·2.25)) = 1.405351: 1.405351·0.5·1.5·5600/(3·3.2) = 614.841; IV 0.25/3.2·√(2·5600·45,000/6) = 716.027 lb;
    in two planes 2·614.841 lb, but I_m 0.5·1.5·5600/4 = 1050 lb once.
    """
    bolt = fasteners(kind="through-bolt", diameter=f"{D} in", length=f"{side + main} in")
    found, governs, lines = calculation(dowel(bolt, side * INCH, 0.5, main * INCH, 0.5), 0.0, 0.0, double)
    last = lines[-1]
    assert (found / POUND_FORCE, governs) == (pytest.approx(Z, rel=1e-6), mode)
    assert (last.result.value, last.inputs["R_d"].value) == pytest.approx((Z, R_d), rel=1e-6)
    assert last.expression.startswith("2*") == (double and mode != "I_m")
    if "l_m" in last.inputs:
        assert last.inputs["l_m"].value == pytest.approx(main)
    printed = [(line.symbol, line.result.value) for line in lines if line.symbol.startswith("k_")]
    assert printed == ([] if k is None else [(k[0], pytest.approx(k[1], abs=1e-6))])
    lesser = last.note.split("in lb: ")[1].split(";")[0].split(", ")
    assert f"{mode} {Z:.0f}" in lesser and len(lesser) == (4 if double else 6)
    assert last.note.startswith("double shear, ") == double


@pytest.mark.parametrize(
    ("main", "side", "symbols"),
    [
        (0.0, 90.0, ["F_em", "F_es"]),
        (90.0, 0.0, ["F_em", "F_es"]),
        (0.5, 89.5, ["F_epar", "F_eperp", "F_em", "F_epar", "F_eperp", "F_es"]),
    ],
)
def test_the_printed_bearing_at_an_angle(main, side, symbols):
    """Along and across the grain one line each; at any other angle both, and between them NDS 2018 (12.3-11)."""
    bolt = dowel(fasteners(kind="through-bolt", diameter="0.25 in", length="5 in"), 1.5 * INCH, 0.5, 3.5 * INCH, 0.5)
    lines = calculation(bolt, math.radians(main), math.radians(side))[2]
    assert [line.symbol for line in lines if line.symbol.startswith("F_e")] == symbols
    assert all("16600" not in line.expression for line in lines)


def test_the_printed_bearing_of_thin_nails_and_of_steel():
    """Under 1/4 in 16600 G^1.84 in any direction; steel has no line."""
    nail = dowel(fasteners(kind="nail", nail="0.148 in x 3 in"), 1.5 * INCH, 0.42, 3.5 * INCH, 0.5)
    lines = [line for line in calculation(nail, 0.3, 1.0)[2] if line.symbol.startswith("F_e")]
    assert [line.symbol for line in lines] == ["F_em", "F_es"]
    assert all("16600" in line.expression for line in lines)
    bolt = fasteners(kind="through-bolt", diameter="0.5 in", length="5 in", plate="0.25 in")
    lines = calculation(plated(bolt, 3.5 * INCH, 0.5), 0.0, 0.0)[2]
    assert [line.symbol for line in lines if line.symbol.startswith("F_e")] == ["F_em"]


def test_the_printed_adjustment_names_its_standard():
    """F_c of a wet European class by EN 1995-1-1 (2.14), of lumber by NDS 2018 Table 4.3.1."""
    row = lumber_values("douglas fir-larch", "No.2", 1.5, 7.25)
    for strength, source in (
        (strength_of_lumber(row, 1.5 * INCH, 7.25 * INCH), "NDS 2018 Table 4.3.1"),
        (strength_of_class(strength_class("C24")), "EN 1995-1-1 (2.14)"),
    ):
        values = adjusted(strength, "permanent", Service(True), incised=False)
        lines = {which: adjusted_step(which, strength, values) for which in ("F_b", "F_c")}
        assert all(line.source.startswith(source) for line in lines.values())
        assert [line.symbol for line in lines.values()] == ["F_b_adj", "F_cstar"]


def test_k_2_where_the_woods_differ():
    """R_e 2, F_yb 45 ksi, D 1/2 in, F_em 5600 psi, l_m 1.5 in: 2·45000·5·0.25/(3·5600·2.25) = 2.9762; √(6 + 2.9762) − 1."""
    found = k_2(2.0, 45_000 * PSI, 0.5 * INCH, 5600 * PSI, 1.5 * INCH)
    assert float(found) == pytest.approx(1.99603, rel=1e-5)


def test_two_shear_planes_are_twice_one_but_in_the_main_member():
    """NDS 2018 (12.3-7) to (12.3-10): Z = 2 D l_s F_es/R_d and so on; only D l_m F_em/R_d is there once."""
    given = (
        0.5 * INCH,
        1.5 * INCH,
        1.5 * INCH,
        5600 * PSI,
        2800 * PSI,
        45_000 * PSI,
        reduction_terms(0.5 * INCH, 0.5 * INCH, 0.0),
    )
    one, two = single_shear(*given), double_shear(*given)
    assert float(two.I_m) == pytest.approx(float(one.I_m))
    for mode in ("I_s", "III_s", "IV"):
        assert float(getattr(two, mode)) == pytest.approx(2 * float(getattr(one, mode)))
    assert math.isnan(float(two.II)) and math.isnan(float(two.III_m))


@pytest.mark.parametrize(("alpha", "screw", "nail"), [(0, 200, 200), (90, 100, 100), (45, 133.333, 94.281)])
def test_pull_and_push_together(alpha, screw, nail):
    """Z 200, W 100: along the surface Z, out of it W; at 45°: 20000/150, and 20000/(300·0.70711)."""
    assert float(combined_screw(200.0, 100.0, math.radians(alpha))) == pytest.approx(screw, rel=1e-5)
    assert float(combined_nail(200.0, 100.0, math.radians(alpha))) == pytest.approx(nail, rel=1e-5)


def test_heads_pulled_through_thin_and_thick_members():
    """G 0.5, head 0.4 in: at 3/4 in 690·π·0.4·0.25·0.75 = 162.58 lb; at 1-1/2 in 1725·π·0.16·0.25 = 216.77 lb."""
    thin, thick = (float(pull_through(0.5, 0.4 * INCH, t * INCH)) / POUND_FORCE for t in (0.75, 1.5))
    assert (thin, thick) == pytest.approx((162.58, 216.77), rel=1e-4)


def test_reduction_terms_of_thin_and_stout_fasteners():
    """NDS 2018 Table 12.3.1B: D 0.2 in: K_D = 10·0.2 + 0.5 at any angle; a root of 0.2 in of 3/8 in, and 1/2 in: times K_θ."""
    across = math.pi / 2
    assert [float(one) for one in reduction_terms(0.2 * INCH, 0.2 * INCH, across)] == pytest.approx([2.5] * 3)
    assert [float(one) for one in reduction_terms(0.375 * INCH, 0.2 * INCH, across)] == pytest.approx([3.125] * 3)
    assert [float(one) for one in reduction_terms(0.5 * INCH, 0.5 * INCH, across)] == pytest.approx([5.0, 4.5, 4.0])


def test_threads_that_are_not_given():
    """3 in: of a 0.2 in wood screw 2 in, of a thick one 4 D; of a lag screw 1.5 + 0.5 in; else what is given."""
    assert thread_length("wood screw", 0.2 * INCH, 3 * INCH, None)[0] == pytest.approx(2 * INCH)
    assert thread_length("wood screw", 0.6 * INCH, 3 * INCH, None)[0] == pytest.approx(2.4 * INCH)
    assert thread_length("lag screw", 0.2 * INCH, 3 * INCH, None)[0] == pytest.approx(2 * INCH)
    assert thread_length("lag screw", 0.2 * INCH, 3 * INCH, 1 * INCH) == (1 * INCH, ())
