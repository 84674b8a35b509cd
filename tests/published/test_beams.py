"""Reactions of continuous beams against beam tables.

AISC Steel Construction Manual, Table 3-22c (two and three equal spans, uniform load) and Table 3-23, cases 29
(two spans, one loaded) and 30 (point load in the middle of one span). The same figures stand in any beam table.
"""

import pytest

from brimfast.assess.continuous_beam import continuous_reactions


def reactions(spans, loads):
    simple, added = continuous_reactions(1.0, spans, loads)
    return (simple + added).tolist()


@pytest.mark.parametrize(
    ("spans", "loads", "printed"),
    [
        (2, [(0.0, 2.0, 2.0)], [0.375, 1.25, 0.375]),
        (3, [(0.0, 3.0, 3.0)], [0.4, 1.1, 1.1, 0.4]),
        (2, [(0.0, 1.0, 1.0)], [7 / 16, 5 / 8, -1 / 16]),
        (3, [(0.0, 1.0, 1.0), (2.0, 3.0, 1.0)], [0.45, 0.55, 0.55, 0.45]),
    ],
)
def test_uniform_loads(spans, loads, printed):
    assert reactions(spans, loads) == pytest.approx(printed, abs=1e-12)


def test_point_load():
    # A load over a thousandth of the span stands in for the point: error below 1e-6.
    printed = [13 / 32, 11 / 16, -3 / 32]
    assert reactions(2, [(0.4995, 0.5005, 1.0)]) == pytest.approx(printed, abs=1e-6)
