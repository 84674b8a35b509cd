"""Site coefficients and design values against the U.S. Geological Survey's open data.

Source: usgs/earthquake-design-ws (CC0), qc/expectations/asce7-16.expectation.json, commit 726019f: for site class
"B estimated" S_MS = S_S; for "D default" S_MS is printed at a nearby rounded point. A row here holds a city whose
rounded point has the same S_S to the figures given (S_MS / S_S is then F_a itself), or states S_S from the set.
W10-W12 are printed in public permit files (Santa Ana doc 380941; sjgov EHD doc 704053 pages 227 and 141).
"""

import pytest

from brimfast.assess.demand.asce7_motion import design_acceleration
from brimfast.data_tables.loader import NotInTableError, site_coefficient


# S_S at the point, printed S_MS on D default at a point with the same S_S: so in San Francisco, San Jose and Riverside
@pytest.mark.parametrize(("S_S", "S_MS"), [(1.5, 1.8)])
def test_default_soil(S_S, S_MS):
    F_a, _ = site_coefficient("D default", S_S)
    assert F_a * S_S == pytest.approx(S_MS, abs=5e-4)
    assert float(design_acceleration(S_S, F_a)) == pytest.approx(2 / 3 * S_MS, abs=5e-4)


@pytest.mark.parametrize(
    ("site_class", "S_S", "printed"),
    [
        ("D", 0.970, 1.112),  # W12: Lathrop CA, interpolated in the 7-10 table, whose D row is the same up to 1.25
        ("D", 0.943, 1.123),  # W12: Stockton CA
        ("D", 0.762, 1.195),  # W12: Eugene OR
        ("D default", 1.277, 1.2),  # W10
        ("D default", 1.325, 1.2),  # W11
    ],
)
def test_interpolation(site_class, S_S, printed):
    assert site_coefficient(site_class, S_S)[0] == pytest.approx(printed, abs=6e-4)


# ASCE 7-16 Table 11.4-1 as in the CC0 data set's site-amplification.json: S_S .25 .5 .75 1.0 1.25 1.5
TABLE = {
    "A": (0.8, 0.8, 0.8, 0.8, 0.8, 0.8),
    "B": (0.9, 0.9, 0.9, 0.9, 0.9, 0.9),
    "B estimated": (1.0, 1.0, 1.0, 1.0, 1.0, 1.0),
    "C": (1.3, 1.3, 1.2, 1.2, 1.2, 1.2),
    "D": (1.6, 1.4, 1.2, 1.1, 1.0, 1.0),
    "D default": (1.6, 1.4, 1.2, 1.2, 1.2, 1.2),
    "E": (2.4, 1.7, 1.3),
}


@pytest.mark.parametrize("site_class", TABLE)
def test_table(site_class):
    for S_S, printed in zip((0.25, 0.5, 0.75, 1.0, 1.25, 1.5), TABLE[site_class], strict=False):
        assert site_coefficient(site_class, S_S)[0] == printed
    assert site_coefficient(site_class, 0.05)[0] == TABLE[site_class][0]


def test_soft_soil_beyond_the_table_is_refused():
    # ASCE 7-16 section 11.4.8: site class E with S_S of 1.0 and more needs a site-specific study.
    with pytest.raises(NotInTableError, match="site-specific study"):
        site_coefficient("E", 1.2)
