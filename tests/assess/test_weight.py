"""Weights and centres of mass: hand arithmetic and laws."""

import math

import numpy as np
import pytest

from brimfast.assess.weight import grain_mass, water_in_fill
from brimfast.shared.constants import FOOT, INCH, POUND_MASS, POUND_PER_CUBIC_FOOT, WATER_DENSITY
from tests.builders import RACK, assessed


def test_round_tank_by_hand():
    """4 ft round, 27 in of water: pi/4 16 ft2 x 2.25 ft x 62.43 lb/ft3 = 1,765 lb of water."""
    tank = assessed(RACK).vessels["tank"]
    water = next(part for part in tank.weighing.parts if part.part == "water")
    assert water.mass / POUND_MASS == pytest.approx(math.pi / 4 * 16 * 2.25 * 62.428, rel=1e-4)
    assert water.height == pytest.approx((13.5 + 0.375) * INCH)  # on a bottom of 3/8 in
    assert tank.water_volume == pytest.approx(math.pi / 4 * 16 * 2.25 * FOOT**3, rel=1e-9)


def test_gravel_bed_by_hand():
    """9 ft x 30 in, 9 in of gravel with 40 % voids, 8 in of water.

    Grains: 22.5 ft2 x 0.75 ft x 0.6 x 165.43 lb/ft3 = 1,675 lb. Water: 22.5 x 0.6667 x 0.4 x 62.43 = 374.6 lb.
    """
    parts = {part.part: part.mass / POUND_MASS for part in assessed(RACK).vessels["bed"].weighing.parts}
    assert parts["fill (gravel)"] == pytest.approx(1675, rel=1e-3)
    assert parts["water in the fill"] == pytest.approx(374.6, rel=1e-3)


def test_rack_take_off_by_hand():
    """Posts: 6 of 3.5 x 3.5 in, 25.28 in long, Douglas fir-larch at 30 % moisture.

    62.4 x 0.5 / (1 + 0.5 x 0.009 x 30) x 1.3 = 35.74 lb/ft3; volume 6 x 12.25 x 25.28 / 1728 = 1.0753 ft3; 38.4 lb.
    """
    parts = {part.part: part.mass / POUND_MASS for part in assessed(RACK).racks["r"].weighing.parts}
    assert parts["posts"] == pytest.approx(38.4, abs=0.1)
    # Beams: 2 x 10 ft of 1.5 x 7.25 in: 20 x 10.875/144 x 35.74 = 53.98 lb.
    assert parts["beams"] == pytest.approx(53.98, abs=0.05)
    # Joists: 11 of 32 in of 1.5 x 5.5 in: 11 x 2.6667 x 8.25/144 x 35.74 = 60.06 lb.
    assert parts["joists"] == pytest.approx(60.06, abs=0.05)


def test_water_never_falls_with_level_and_equals_scalar():
    levels = np.linspace(0.0, 0.5, 51)
    volumes = water_in_fill(2.0, levels, 0.3, 0.4)
    assert np.all(np.diff(volumes) > 0)
    assert volumes[30] == pytest.approx(2.0 * 0.3 * 0.4)
    assert volumes[-1] == pytest.approx(2.0 * (0.3 * 0.4 + 0.2))
    for level, volume in zip(levels, volumes, strict=True):
        assert float(water_in_fill(2.0, level, 0.3, 0.4)) == volume
    assert float(grain_mass(2.0, 0.3, 1.0, 2650.0)) == 0.0


def test_filled_to_the_rim_is_never_lighter():
    assessment = assessed(RACK)
    for vessel in assessment.vessels.values():
        assert vessel.brim_mass >= vessel.mass
    # the tank: 3 in more of water, 12.566 ft2 x 0.25 ft x 62.43 = 196.1 lb
    tank = assessment.vessels["tank"]
    assert (tank.brim_mass - tank.mass) / POUND_MASS == pytest.approx(196.1, abs=0.1)


@pytest.mark.parametrize(
    ("porosity", "dry_pcf", "saturated_pcf"), [(0.35, 107.5, 129.3), (0.40, 99.3, 124.2), (0.45, 91.0, 119.0)]
)
def test_gravel_by_the_phase_relation(porosity, dry_pcf, saturated_pcf):
    """G_s 2.65, by hand: (1 - n) 2.65 62.4 lb/ft3 of grains, and n 62.4 more of water."""
    dry = float(grain_mass(1.0, 1.0, porosity, 2650.0))
    water = float(water_in_fill(1.0, 1.0, 1.0, porosity)) * WATER_DENSITY
    assert dry / POUND_PER_CUBIC_FOOT == pytest.approx(dry_pcf, abs=0.1)
    assert (dry + water) / POUND_PER_CUBIC_FOOT == pytest.approx(saturated_pcf, abs=0.2)
