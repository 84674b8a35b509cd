"""Withdrawal, pull-through, group action, gaps, Eurocode modes against tables and examples.

Tables 12.2A to 12.2F and 11.3.6A, C of NDS 2018 as read and cross-checked by an open calculation project
(rohreng/anderson-rohr-calcs, nds-crosscheck.md, commit 9ade05a). AWC E2.1a, E2.3: inputs of the American Wood
Council's design examples; results as encoded in an open library's regression tests.
"""

import math

import pytest

from brimfast.assess.timber.bearing import bearing
from brimfast.assess.timber.dowel import reduction_terms, single_shear
from brimfast.assess.timber.eurocode import embedment, single_shear_modes, yield_moment
from brimfast.assess.timber.gap import single_shear_with_gap
from brimfast.assess.timber.group import group_action
from brimfast.assess.timber.withdrawal import (
    PER_INCH,
    combined_nail,
    combined_screw,
    pull_through,
    withdrawal_lag,
    withdrawal_nail,
    withdrawal_screw,
)
from brimfast.shared.constants import INCH, POUND_FORCE, PSI


@pytest.mark.parametrize(("D", "G", "printed"), [(0.25, 0.50, 225), (0.375, 0.42, 235), (0.5, 0.55, 437)])
def test_lag_withdrawal(D, G, printed):
    # Table 12.2A; the 1/2 in row from AWC E2.3
    assert float(withdrawal_lag(G, D * INCH)) / PER_INCH == pytest.approx(printed, abs=0.6)


@pytest.mark.parametrize(("D", "G", "printed"), [(0.190, 0.50, 135), (0.164, 0.42, 82)])
def test_wood_screw_withdrawal(D, G, printed):
    assert float(withdrawal_screw(G, D * INCH)) / PER_INCH == pytest.approx(printed, abs=0.6)


@pytest.mark.parametrize(("D", "G", "printed"), [(0.131, 0.50, 32), (0.162, 0.42, 26)])
def test_nail_withdrawal(D, G, printed):
    assert float(withdrawal_nail(G, D * INCH)) / PER_INCH == pytest.approx(printed, abs=0.6)


def test_awc_E2_1a_and_E2_3():
    """8d nail in SPF: 20.67 lb/in times 2.395 in = 49.5 lb; 1/2 x 4 lag in southern pine: 437 times 2.1875 = 955 lb."""
    nail = float(withdrawal_nail(0.42, 0.131 * INCH)) / PER_INCH
    assert nail * 2.395 == pytest.approx(49.5, abs=0.06)
    lag = float(withdrawal_lag(0.55, 0.5 * INCH)) / PER_INCH
    assert lag * 2.1875 == pytest.approx(955, abs=1.5)


@pytest.mark.parametrize(
    ("head", "t", "G", "printed"),
    [(0.234, 5 / 16, 0.50, 40), (0.312, 1.0, 0.50, 132), (0.312, 0.75, 0.50, 127), (0.500, 1.5, 0.42, 239)],
)
def test_pull_through(head, t, G, printed):
    # Table 12.2F
    assert float(pull_through(G, head * INCH, t * INCH)) / POUND_FORCE == pytest.approx(printed, abs=0.6)


@pytest.mark.parametrize(
    ("A_ratio", "A_s", "n", "printed"), [(1.0, 12.0, 4, 0.96), (0.5, 5.0, 8, 0.55), (1.0, 64.0, 12, 0.88)]
)
def test_group_action_wood(A_ratio, A_s, n, printed):
    """Table 11.3.6A: D 1 in, s 4 in, E 1.4e6 psi, by A_s/A_m and the area A_s in in²."""
    E = 1.4e6 * PSI
    EA_s = E * A_s * INCH**2
    ours = float(group_action(1.0 * INCH, n, 4 * INCH, EA_s / A_ratio, EA_s))
    assert ours == pytest.approx(printed, abs=0.006)


@pytest.mark.parametrize(("ratio", "A_m", "n", "printed"), [(12, 5, 6, 0.62), (50, 40, 12, 0.51)])
def test_group_action_steel_side_plates(ratio, A_m, n, printed):
    """Table 11.3.6C: D 1 in, s 4 in, E_wood 1.4e6, E_steel 30e6 psi, by A_m/A_s and A_m in in²."""
    EA_m, EA_s = 1.4e6 * PSI * A_m * INCH**2, 30e6 * PSI * A_m / ratio * INCH**2
    assert float(group_action(1.0 * INCH, n, 4 * INCH, EA_m, EA_s, steel_side=True)) == pytest.approx(
        printed, abs=0.006
    )


def test_gap_of_nothing_is_the_printed_equation():
    """TR12's equations with no gap are those of NDS Table 12.3.1A, mode by mode."""
    for D, t_m, t_s, G_m, G_s in [
        (0.5, 3.5, 1.5, 0.5, 0.42),
        (0.75, 1.5, 3.5, 0.43, 0.55),
        (0.25, 2.0, 0.75, 0.5, 0.5),
    ]:
        D *= INCH
        F_m, F_s = bearing(G_m, D, 0.4), bearing(G_s, D, 1.2)
        R_d = reduction_terms(D, D, 1.2)
        plain = single_shear(D, t_m * INCH, t_s * INCH, F_m, F_s, 45_000 * PSI, R_d)
        gap = single_shear_with_gap(D, t_m * INCH, t_s * INCH, F_m, F_s, 45_000 * PSI, 0.0, R_d)
        for one, other in zip(plain, gap, strict=True):
            assert float(one) == pytest.approx(float(other), rel=1e-12)
        wider = [
            float(single_shear_with_gap(D, t_m * INCH, t_s * INCH, F_m, F_s, 45_000 * PSI, g * INCH, R_d).least())
            for g in (0, 0.5, 1)
        ]
        assert wider[0] > wider[1] > wider[2]


def test_combined_loads_end_at_their_parts():
    assert float(combined_screw(500.0, 300.0, 0.0)) == pytest.approx(500)
    assert float(combined_screw(500.0, 300.0, math.pi / 2)) == pytest.approx(300)
    assert float(combined_nail(500.0, 300.0, 0.0)) == pytest.approx(500)
    assert float(combined_nail(500.0, 300.0, math.pi / 2)) == pytest.approx(300)
    # at 45 degrees the screw's value is the harmonic mean (12.4-1)
    assert float(combined_screw(500.0, 300.0, math.pi / 4)) == pytest.approx(2 * 500 * 300 / 800)


def test_eurocode_control_case_from_memory():
    """EN 1995-1-1 (8.6), M12 in C24, 38 on 89 mm. From memory: no published example could be read, so this is a control
    of our own transcription against a second one, not an outside check. Worst mode d, 5.93 kN characteristic.
    """
    f_h, M_y = float(embedment(350, 12)), float(yield_moment(400, 12))
    assert f_h == pytest.approx(25.26, abs=0.01)
    assert M_y == pytest.approx(76_745, abs=2)
    modes = single_shear_modes(f_h, f_h, 38, 89, 12, M_y)
    expected = {"a": 11517, "b": 26973, "c": 9048, "d": 5928, "e": 10325, "f": 7844}
    for mode, value in expected.items():
        assert float(modes[mode]) == pytest.approx(value, rel=3e-4)
