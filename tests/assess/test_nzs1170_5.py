"""NZS 1170.5:2004 section 8: arithmetic by hand and laws; figures of others are in tests/published."""

import numpy as np
import pytest

from brimfast.assess.demand.nzs1170_5 import hazard, height_coefficient, part_force, part_response


def test_by_hand():
    """Wellington, Z 0.4, soil D, T_p 0.2 s, W 10 kN: C(0) 0.448, C_p 0.896; mu 1.25: 7.616 kN, mu 2: 4.928 kN.

    Christchurch, Z 0.3, D, h_i 3 m, T_p 1.0 s, mu 1.5, W 5 kN: 0.336 · 1.5 · 1.5 · 0.75 · 5 = 2.835 kN.
    Z R_u 0.6 · 1.8 counts as 0.7: C(0) on D 0.784; at the roof 0.784 · 3 · 2 = 4.704, cut to 3.6.
    """
    C_0 = float(hazard(0.4, 1.0, 1.12))
    assert pytest.approx(0.448) == C_0
    assert part_force(C_0, 1.0, 2.0, part_response([1.25, 2.0]), 1.0, 10.0) == pytest.approx([7.616, 4.928])
    low = float(height_coefficient(0.5, 3.0))
    assert float(part_force(hazard(0.3, 1.0, 1.12), low, 1.5, 0.75, 1.0, 5.0)) == pytest.approx(2.835)
    assert float(hazard(0.6, 1.8, 1.12)) == pytest.approx(0.784)
    assert float(part_force(0.784, 3.0, 2.0, 1.0, 1.0, 1.0)) == 3.6


def test_scalar_equals_array_and_scales():
    W = np.array([1.0, 2.0, 5.0])
    together = part_force(0.3, 1.5, 2.0, 0.85, 1.0, W)
    assert list(together) == pytest.approx([float(part_force(0.3, 1.5, 2.0, 0.85, 1.0, one)) for one in W])
    assert together / W == pytest.approx(float(together[0]))
