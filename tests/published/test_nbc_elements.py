"""National Building Code of Canada 4.1.8.18: lateral force on elements.

O: the text of the Ontario code (buildingcode.online/711): V_p = 0.3 F_a S_a(0.2) I_E S_p W_p, S_p = C_p A_r A_x/R_p, at
   least 0.7 and at most 4.0, A_x = 1 + 2 h_x/h_n; not asked under I_E F_a S_a(0.2) = 0.35.
C: rows 19, 20, 21 and 23 of Table 4.1.8.18 as they stand in an open transcription; rows 11 and 18 are from memory.
No worked example with numbers could be read: the arithmetic below is by hand from O.
"""

import numpy as np
import pytest

from brimfast.assess.demand.nbc2015 import short_period
from brimfast.assess.demand.nbc_part import ComponentRow, component_factor, component_force, height_factor, longest
from brimfast.data_tables.loader import table_named


def test_rows_of_the_table():
    rows = {row.body: (row.C_p, row.A_r, row.R_p) for row in table_named(ComponentRow, "nbc_components")}
    assert rows["rigid unbraced rack"] == (1.0, 1.0, 1.0)  # C, 19
    assert rows["braced rack"] == (1.0, 2.5, 2.5)  # C, 20; the same as pallet racks, 23
    assert rows["unbraced rack"] == (1.0, 2.5, 1.0)  # C, 21


def test_limits_and_height():
    assert height_factor([0.0, 0.5, 1.0]) == pytest.approx([1.0, 2.0, 3.0])  # O
    assert np.isnan(height_factor([-0.1, 1.1])).all()
    # O: 0.4 at grade is raised to 0.7, 2.5 · 3/1.0 = 7.5 is cut to 4.0
    assert component_factor([1.0, 1.0, 1.0], [1.0, 2.5, 2.5], [1.0, 3.0, 3.0], [2.5, 1.0, 2.5]) == pytest.approx(
        [0.7, 4.0, 3.0]
    )


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
