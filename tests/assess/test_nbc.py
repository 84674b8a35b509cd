"""National Building Code of Canada 4.1.8.18: arithmetic by hand and laws; figures of others are in tests/published."""

import numpy as np
import pytest

from brimfast.assess.demand.nbc2015 import short_period
from brimfast.assess.demand.nbc_part import component_factor, component_force, height_factor, longest


def test_by_hand():
    """S_a(0.2) 0.95, F_a 1, W 10 kN at grade: S_p 1.0 gives 2.85 kN, S_p 0.4 → 0.7 gives 1.995 kN.

    F_a 1.1, S_a(0.2) 0.6, at the roof, flexible: A_x 3, S_p 3.0, V_p = 0.3 · 0.66 · 3 · 10 = 5.94 kN.
    """
    S_02 = float(short_period(0.95, 1.0))
    assert float(component_force(S_02, 1.0, component_factor(1.0, 2.5, 1.0, 2.5), 10.0)) == pytest.approx(2.85)
    assert float(component_force(S_02, 1.0, component_factor(1.0, 1.0, 1.0, 2.5), 10.0)) == pytest.approx(1.995)
    roof = component_factor(1.0, 2.5, height_factor(1.0), 2.5)
    assert float(component_force(short_period(0.6, 1.1), 1.0, roof, 10.0)) == pytest.approx(5.94)


def test_bound_of_the_spectrum():
    """The most of T S(T) with S straight between points, against a fine search; by hand: S from 1 at 1 s to 0 at 3 s.

    S = 1.5 − T/2: T S is most at 1.5 s, 1.125.
    """
    assert float(longest([1.0, 3.0], [1.0, 0.0])) == pytest.approx(1.125)
    T, S = np.array([0.2, 0.5, 1.0, 2.0]), np.array([0.848, 0.751, 0.425, 0.257])
    fine = np.linspace(0.2, 2.0, 20001)
    assert float(longest(T, S)) == pytest.approx(float((fine * np.interp(fine, T, S)).max()), rel=1e-6)
    assert (longest(T, S) / fine >= np.interp(fine, T, S) - 1e-9).all()
    assert float(longest([0.2, 0.5], [1.0, 1.0])) == pytest.approx(0.5)  # level: at its end


def test_scalar_equals_array():
    W = np.array([1.0, 4.0])
    found = component_force(0.8, 1.5, 1.2, W)
    assert list(found) == pytest.approx([float(component_force(0.8, 1.5, 1.2, one)) for one in W])
