"""Earthquake demand against public permit calculations and printed examples.

W1, W4, W5, W6: calculations by practising engineers in public permit files (Santa Ana CA doc 375308 page 106;
Everett WA doc 1550732 pages 64 and 60; Santa Ana doc 375324 page 10), ASCE 7-16 (13.3-1) to (13.3-3).
W3: Everett WA doc 1614580 page 69, ASCE 7-10, same equations; its z/h of 1.17 is beyond 1 and refused here, so
only the value for z/h = 1 (89.4 lb, our own) would remain: not used.
W8: Everett WA doc 1852116 page 76, chapter 15 coefficient R = 1.25.
S1: a connector maker's structural engineering journal, 13 May 2026, "ASCE 7-22 shakes things up": example of
ASCE 7-22 (13.3-1) to (13.3-6).
Tolerances: half a unit of the last printed figure.
"""

import math

import pytest

from brimfast.assess.demand import asce7_16, asce7_22, asce7_nonbuilding
from brimfast.assess.demand.asce7_motion import design_acceleration, ground_motion, seismic_design_category
from brimfast.shared.installation.site import Site


@pytest.mark.parametrize(
    ("S_DS", "a_p", "R_p", "z_h", "W", "printed", "half_unit"),
    [
        (1.70, 2.5, 6.0, 1.0, 0.60, 0.51, 0.005),  # W1, kip
        (1.083, 2.5, 6.0, 1.0, 770.0, 416.0, 1.0),  # W4, lb: prints 416 from 416.95 (cut, not rounded)
        (1.083, 2.5, 6.0, 1.0, 520.0, 281.0, 1.0),  # W5, lb: 281.6 cut
        (1.027, 1.0, 2.5, 11.458 / 20, 2.7, 0.95, 0.005),  # W6, psf
    ],
)
def test_component_force_7_16(S_DS, a_p, R_p, z_h, W, printed, half_unit):
    force = asce7_16.component_force(S_DS, W, a_p, R_p, 1.0, z_h)
    assert float(force) == pytest.approx(printed, abs=half_unit)


def test_limits_7_16():
    # W6 prints its limits: 4.44 and 0.83 psf; W1: 2.72 W and 0.51 W.
    most = asce7_16.component_force(1.027, 2.7, 2.5, 1.0, 1.0, 1.0)
    assert float(most) == pytest.approx(4.44, abs=0.005)
    low = asce7_16.component_force(1.027, 2.7, 1.0, 12.0, 1.0, 0.0)
    assert float(low) == pytest.approx(0.83, abs=0.005)
    high = asce7_16.component_force(1.70, 1.0, 2.5, 1.0, 1.0, 1.0)
    assert float(high) == pytest.approx(2.72, abs=0.005)


def test_vertical_force():
    # W4 and W5 print 167 lb and 113 lb for 770 lb and 520 lb at S_DS 1.083 (166.8, 112.6).
    vertical = ground_motion(Site.model_validate({"standard": "asce7-16", "S_DS": 1.083})).vertical
    assert [vertical.share * W for W in (770.0, 520.0)] == pytest.approx([167, 113], abs=0.5)


def test_component_force_7_22_printed_example():
    """S1: S_DS 0.80, W_p 2,000 lb, I_p 1.5, T_a 0.65 s, z/h 12/60, R 8, Omega_0 2.5, I_e 1.5, C_AR 1, R_po 1.5.

    Printed: the minimum controls; with Omega_0p = 2 the force is 1,440 lb, so F_p is 720 lb.
    """
    H_f = asce7_22.height_factor(12 / 60, 0.65)
    R_mu = asce7_22.ductility_reduction(8.0, 2.5, 1.5)
    force = asce7_22.component_force(0.80, 2000.0, 1.5, H_f, R_mu, 1.0, 1.5)
    assert 2 * float(force) == pytest.approx(1440, abs=0.5)


def test_height_factor_7_22_printed_value():
    # S1 prints H_f = 1.5 at z/h = 0.2 where the period is unknown, equation (13.3-5).
    assert float(asce7_22.height_factor(0.2)) == pytest.approx(1.5, abs=0.005)


def test_height_factor_is_undefined_outside_the_building():
    assert math.isnan(float(asce7_22.height_factor(1.17)))
    assert math.isnan(float(asce7_16.component_force(1.0, 1.0, 1.0, 2.5, 1.0, 1.17)))


def test_flexible_nonbuilding_force():
    # W8: S_DS 1.110, R 1.25, I_e 1, W 1426.16 lb: C_s .888; times redundancy 1.3 it prints 1646.4 lb.
    force = asce7_nonbuilding.flexible_force(1.110, 1426.16, 1.25, 1.0)
    assert 1.3 * float(force) == pytest.approx(1646.4, abs=0.1)


@pytest.mark.parametrize(
    ("S_S", "F_a", "printed"),
    [
        (1.277, 1.2, 1.022),  # W10, Santa Ana doc 380941 page 26
        (1.325, 1.2, 1.060),  # W11, Santa Ana doc 540545 page 31
    ],
)
def test_design_acceleration(S_S, F_a, printed):
    assert float(design_acceleration(S_S, F_a)) == pytest.approx(printed, abs=0.0006)


@pytest.mark.parametrize("S_DS", [0.985, 0.719, 0.605])
def test_seismic_design_category(S_DS):
    # W17: U.S. Geological Survey reports in Santa Ana doc 110043 and San Joaquin County doc 704053: all D.
    assert seismic_design_category(S_DS) == "D"
