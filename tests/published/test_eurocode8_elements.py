"""Eurocode 8 part 1: forces on non-structural elements, spectrum and ground types, against figures of others.

N: public engineering code for the Italian NTC 2018, whose (7.2.5) for floors is the bracket of EN 1998-1:2004 (4.25); its
   tests print the amplification at z = 0 and z = H for T_a/T_1 = 0.5, and in resonance at half the height.
L: technical specification ET 11/2020 for lifts (Portugal, with EN 81-77), as written in public engineering code: on a fixed
   base a_d = 1.25 gamma_I a_gR S, which is (4.24) in resonance at grade with gamma_a = 1 and q_a = 2.
R: EN 1998-1:2004 Tables 3.2 and 3.3 in public code (CFCSL Response_Spectrum); S of spectrum type 1 also in a public
   calculation page after the Norwegian annex.
Tolerances: the sources print exact decimals, so only rounding of floats.
No complete worked example with numbers could be read; Table 4.4 (q_a) stays from memory.
"""

import pytest

from brimfast.assess.demand.eurocode8 import (
    GroundRow,
    VerticalRow,
    element_force,
    height_term,
)
from brimfast.data_tables.loader import table_named


@pytest.mark.parametrize(("z_H", "T_ratio", "printed"), [(0.0, 0.5, 1.9), (1.0, 0.5, 4.3), (0.5, 1.0, 4.0)])
def test_amplification_of_the_floor(z_H, T_ratio, printed):
    assert float(height_term(z_H, T_ratio)) == pytest.approx(printed, rel=1e-12)  # N


def test_at_grade_in_resonance():
    # L: 1.25 gamma_I a_gR S
    alpha, S = 0.15, 1.35
    assert float(element_force(alpha, S, 1.0, 1.0, 2.0, 0.0)) == pytest.approx(1.25 * alpha * S, rel=1e-12)


SOIL = {  # R: S, T_B, T_C, T_D
    "type 1": {"A": (1.0, 0.15, 0.4, 2.0), "B": (1.2, 0.15, 0.5, 2.0), "C": (1.15, 0.2, 0.6, 2.0), "D": (1.35, 0.2, 0.8, 2.0), "E": (1.4, 0.15, 0.5, 2.0)},
    "type 2": {"A": (1.0, 0.05, 0.25, 1.2), "B": (1.35, 0.05, 0.25, 1.2), "C": (1.5, 0.1, 0.25, 1.2), "D": (1.8, 0.1, 0.3, 1.2), "E": (1.6, 0.05, 0.25, 1.2)},
}  # fmt: skip


def test_recommended_soil_values():
    rows = table_named(GroundRow, "eurocode8_ground")
    found = {(row.spectrum, row.ground): (row.S, row.T_B, row.T_C, row.T_D) for row in rows}
    assert found == {(kind, ground): values for kind, grounds in SOIL.items() for ground, values in grounds.items()}
    ratios = {row.spectrum: row.a_vg_over_a_g for row in table_named(VerticalRow, "eurocode8_vertical")}
    assert ratios == {"type 1": 0.9, "type 2": 0.45}
