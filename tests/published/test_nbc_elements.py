"""National Building Code of Canada 4.1.8.18: lateral force on elements.

O: the text of the Ontario code (buildingcode.online/711): V_p = 0.3 F_a S_a(0.2) I_E S_p W_p, S_p = C_p A_r A_x/R_p, at
   least 0.7 and at most 4.0, A_x = 1 + 2 h_x/h_n; not asked under I_E F_a S_a(0.2) = 0.35.
C: rows 19, 20, 21 and 23 of Table 4.1.8.18 as they stand in an open transcription; rows 11 and 18 are from memory.
No worked example with numbers could be read.
"""

import numpy as np
import pytest

from brimfast.assess.demand.nbc_part import ComponentRow, component_factor, height_factor
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
