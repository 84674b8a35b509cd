"""Withdrawal, pull-through and group action against tables and examples.

Tables 12.2A to 12.2F and 11.3.6A, C of NDS 2018 as read and cross-checked by an open calculation project
(rohreng/anderson-rohr-calcs, nds-crosscheck.md, commit 9ade05a). AWC E2.1a, E2.3: inputs of the American Wood
Council's design examples; results as encoded in an open library's regression tests.
"""

import pytest

from brimfast.assess.timber.group import group_action
from brimfast.assess.timber.withdrawal import (
    PER_INCH,
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
