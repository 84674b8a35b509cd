"""Formulas at numbers where each of their terms counts: what mutants found that no other quick test notices; by hand."""

import math

import pytest

from brimfast.assess.network.pipe_flow import sill_flow
from brimfast.assess.timber.dowel import double_shear, k_2, reduction_terms, single_shear
from brimfast.assess.timber.withdrawal import combined_nail, combined_screw, pull_through, thread_length
from brimfast.assess.tipping import overturning_moment, resisting_moment, tipping_acceleration
from brimfast.shared.constants import INCH, POUND_FORCE, PSI


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


def test_tipping():
    """1000 N at 1.2 m; 0.9 of 2000 N at 0.4 m, none where it is lifted off; 0.4 m over 1.2 m."""
    assert float(overturning_moment(1000.0, 1.2)) == 1200.0
    assert float(resisting_moment(2000.0, 0.4, 0.9)) == pytest.approx(720.0)
    assert float(resisting_moment(2000.0, 0.4, -0.1)) == 0.0
    assert float(tipping_acceleration(0.4, 1.2)) == pytest.approx(1 / 3)


def test_a_sill_with_water_on_both_sides():
    """1.7·2·√0.09·(0.09 − 0.05) = 0.0408; none where both stand alike."""
    assert float(sill_flow(1.7, 2.0, 0.09, 0.05)) == pytest.approx(0.0408)
    assert float(sill_flow(1.7, 2.0, 0.09, 0.09)) == 0.0


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
