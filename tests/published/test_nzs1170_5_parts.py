"""NZS 1170.5:2004 section 8: parts and components, against figures of others.

T: Tables 3.1 (with its bracketed values), 3.5, 3.7, 8.1 and 8.2 as transcribed by New Zealand engineers in public code
   (BVT_Engineering_Methods), Amendment 1.
E: a public series of engineering notes on the standard's coefficients (Agent6-6-6) prints C_ph at 1.5 and 1.75 as well.
V: the hazard factors of the New Zealand government's page on seismic risk (building.govt.nz).
Tolerances: half a unit of the last printed figure. No worked example of section 8 with numbers could be read.
"""

import numpy as np
import pytest

from brimfast.assess.demand.nzs1170_5 import (
    CategoryRow,
    ShapeRow,
    height_coefficient,
    part_response,
    part_shape,
)
from brimfast.data_tables.loader import place, table_named

PERIODS = [0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.0, 1.5, 2.0, 2.5, 3.0]
PRINTED = {  # T, Table 3.1 from 0.1 s on, bracketed values where there are such
    "A": [2.35, 2.35, 2.35, 1.89, 1.60, 1.40, 1.24, 1.12, 1.03, 0.95, 0.70, 0.53, 0.42, 0.35],
    "C": [2.93, 2.93, 2.93, 2.36, 2.00, 1.74, 1.55, 1.41, 1.29, 1.19, 0.88, 0.66, 0.53, 0.44],
    "D": [3.00, 3.00, 3.00, 3.00, 3.00, 2.84, 2.53, 2.29, 2.09, 1.93, 1.43, 1.07, 0.86, 0.71],
    "E": [3.00, 3.00, 3.00, 3.00, 3.00, 3.00, 3.00, 3.00, 3.00, 3.00, 2.21, 1.66, 1.33, 1.11],
}
AT_ZERO = {"A": 1.00, "B": 1.00, "C": 1.33, "D": 1.12, "E": 1.12}


def test_spectral_shape():
    rows = {row.soil: row for row in table_named(ShapeRow, "nzs1170_5_shape")}
    assert {soil: row.C_h_0 for soil, row in rows.items()} == AT_ZERO
    for soil, printed in PRINTED.items():
        row = rows[soil]
        assert row.C_h_max == max(printed)
        bound = np.minimum(row.C_h_max, row.C_h_long / np.array(PERIODS))
        assert (bound >= np.array(printed) - 0.005).all()  # never under what is printed
        assert bound[-4:] == pytest.approx(printed[-4:], abs=0.0051)  # and the same from 1.5 s on
    assert (rows["B"].C_h_max, rows["B"].C_h_long) == (rows["A"].C_h_max, rows["A"].C_h_long)


def test_part_response():
    assert part_response([1.0, 1.25, 2.0, 3.0]) == pytest.approx([1.0, 0.85, 0.55, 0.45])  # T
    assert part_response([1.5, 1.75]) == pytest.approx([0.75, 0.65], abs=0.005)  # E
    assert float(part_response(6.0)) == pytest.approx(0.45)
    assert np.isnan(part_response(0.9))


def test_part_risk_factors():
    rows = {row.part: row.R_p for row in table_named(CategoryRow, "nzs1170_5_categories")}
    assert rows == {"P.1": 1.0, "P.2": 1.0, "P.3": 1.0, "P.4": 1.0}  # T


@pytest.mark.parametrize(
    ("town", "Z"),
    [
        ("Auckland", 0.13),
        ("Tauranga", 0.20),
        ("Hamilton", 0.16),
        ("Rotorua", 0.24),
        ("Whakatane", 0.30),
        ("Taupo", 0.28),
    ],
)
def test_hazard_factors(town, Z):
    assert place(town).values == f"Z: {Z:.2f}"  # V; the transcription T has 0.13 for Hamilton, where V has 0.16


def test_the_shortcut_of_the_services_standard_agrees():
    """NZS 4219:2009 (from memory): C = 2.7 C_H Z C_p R_f, at ground on ordinary soil: 1.33 · 2.0 = 2.66 for 2.7."""
    assert 1.33 * float(part_shape(0.2)) == pytest.approx(2.7, rel=0.02)


def test_floor_height():
    # 8.3(1) to (3): 1 at the ground, 3.0 from a fifth of the height on; low floors 1 + h_i/6.
    assert height_coefficient([0.0, 0.1, 0.19, 0.2, 1.0]) == pytest.approx([1.0, 2.0, 2.9, 3.0, 3.0])
    assert height_coefficient([0.5, 0.5, 0.5], [3.0, 11.9, 12.0]) == pytest.approx([1.5, 1 + 11.9 / 6, 3.0])
    assert float(height_coefficient(0.05, 9.0)) == pytest.approx(1.5)  # of the two that apply the lesser
    assert np.isnan(height_coefficient([-0.1, 1.2])).all()


def test_spectral_shape_of_a_part():
    assert part_shape([0.0, 0.75, 1.0, 1.5, 3.0]) == pytest.approx([2.0, 2.0, 1.5, 0.5, 0.5])  # T, section 8.4
    assert np.isnan(part_shape(-1.0))
