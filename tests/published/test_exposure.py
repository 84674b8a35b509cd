"""What others published on the cost of wet floors, against our tables and functions."""

import pytest

from brimfast.assess.exposure.assess import assess_exposure
from brimfast.assess.exposure.damage import damage_share
from brimfast.assess.spill.flood import Flood, Wet
from brimfast.data_tables import loader
from brimfast.shared.reading import read_bytes
from tests.builders import WEIGHED

FOOT = 0.3048
# USACE generic depth-damage functions, one storey without basement: EGM 01-03 (structure) and EGM 04-01 (contents, in
# percent of the structure's value), as read in USACE go-consequences: occupancy RES1-1SNB, labelled "EGM damage
# functions" in structures/occtypes.json (commit 2c4ce02a1410bfcac50633348f971cea0c69d6e7) and written out as lists in
# structures/occupancytypes.go of earlier commits. The same means stand in the tests of HEC-FDA.
DEPTHS = (-1, 0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12)
STRUCTURE = (2.5, 13.4, 23.3, 32.1, 40.1, 47.1, 53.2, 58.6, 63.2, 67.2, 70.5, 73.2, 75.4, 77.2)
CONTENTS = (2.4, 8.1, 13.3, 17.9, 22.0, 25.7, 28.8, 31.5, 33.8, 35.7, 37.2, 38.4, 39.2, 39.7)


def test_depth_damage_rows():
    relation = loader.depth_damage()
    assert tuple(row.depth_ft for row in relation) == DEPTHS
    assert tuple(row.structure_percent for row in relation) == STRUCTURE
    assert tuple(row.contents_percent for row in relation) == CONTENTS


def test_one_inch():
    """13.4 + 9.9/12 = 14.2 % of the structure's value at one inch; the printed points have one decimal."""
    depths = [row.depth_ft * FOOT for row in loader.depth_damage()]
    shares = [row.structure_percent for row in loader.depth_damage()]
    assert float(damage_share(FOOT / 12, depths, shares)) == pytest.approx(14.2, abs=0.05)
    assert damage_share([depth * FOOT for depth in DEPTHS], depths, shares) == pytest.approx(STRUCTURE)


def test_one_inch_of_flood_water_by_area():
    """One inch on one storey: 10,819 USD for 1,000 ft², 26,807 USD for 2,500 ft² (the federal flood programme's
    calculator, in insuranceratereporter.com, May 2020): 10.82 and 10.72 a square foot, so cost goes by area within 1 %.
    Our upper figure for cleaning foul water is the dearer of the two, rounded to the cent.
    """
    small, large = 10_819 / 1000, 26_807 / 2500
    assert small == pytest.approx(large, rel=0.01)
    assert loader.unit_cost("cleaning", "foul").high_usd_ft2 == pytest.approx(max(small, large), abs=0.005)


@pytest.mark.parametrize(("water", "mean"), [("clean", 3.75), ("used", 4.50), ("foul", 7.00)])
def test_means_by_category(water, mean):
    """Categories 1, 2, 3: 3.75, 4.50, 7.00 USD/ft² (homeadore.com, 12 July 2021; the same on edu.myflood.com and
    southeastrestoration.com); US range 3 to 8 (repairwaterdamage.net, undated)."""
    row = loader.unit_cost("cleaning", water)
    assert row.low_usd_ft2 == mean
    if water != "foul":
        assert row.high_usd_ft2 == 8


def test_default_category():
    """ANSI/IICRC S500: the water of aquariums is category 2 (as restoration trade pages retell it)."""
    installation = read_bytes(WEIGHED.encode(), "test.yaml").installation
    wet = (Wet("room", 10.0, 0.02, "tile", True),)
    found = assess_exposure(installation, {"single": Flood("rupture/tank", "tank breaks", 0.2, 0.0, wet)})
    assert found.category == 2
    assert any("S500" in value.source for value in found.floods[0].values)
