"""Densities and sizes against published tables."""

import pytest

from brimfast.assess.timber.density import timber_density
from brimfast.data_tables import rows
from brimfast.data_tables.loader import live_load, lumber_size, table, wood_species
from brimfast.shared.constants import GALLON, POUND_MASS, POUND_PER_CUBIC_FOOT, WATER_DENSITY


@pytest.mark.parametrize(("G_12", "printed"), [(0.48, 34), (0.52, 36), (0.45, 31), (0.39, 26)])
def test_air_dry_weight(G_12, printed):
    """OSU Oregon Wood Innovation Center, weights in lb/ft3 after the FPL Wood Handbook: Douglas-fir, western larch,
    western hemlock, noble fir (and grand fir, the same row).

    Its G is on the volume at 12 % moisture, ours (NDS) on the oven-dry volume, up to 6 % apart at G 0.5; with the
    rounding of the table to 1 lb the tolerance is 8 %. Left out, and disagreeing: Engelmann spruce (27 at 0.35) and
    subalpine fir (28 at 0.32), which weigh 10 and 25 % more than G x 62.4 x 1.12 and so were wetter when weighed.
    """
    assert float(timber_density(G_12, 0.12)) / POUND_PER_CUBIC_FOOT == pytest.approx(printed, rel=0.08)


def test_gallon_of_water():
    # Handbook figure: 8.34 lb a US gallon.
    assert pytest.approx(8.34, abs=0.01) == GALLON * WATER_DENSITY / POUND_MASS


@pytest.mark.parametrize(
    ("size", "area", "section_modulus"),
    [
        ("2x4", 5.25, 3.06),
        ("2x6", 8.25, 7.56),
        ("2x8", 10.88, 13.14),
        ("2x10", 13.88, 21.39),
        ("2x12", 16.88, 31.64),
        ("4x4", 12.25, 7.15),
    ],
)
def test_lumber_sizes(size, area, section_modulus):
    """NDS Supplement 2018 Table 1B: area and section modulus, 4 figures (2x8 also HUD RSDG example 5.1)."""
    row = lumber_size(size)
    assert row.thickness_in * row.width_in == pytest.approx(area, abs=0.006)
    assert row.thickness_in * row.width_in**2 / 6 == pytest.approx(section_modulus, abs=0.006)


@pytest.mark.parametrize(
    ("species", "G"),
    [
        ("DF-L", 0.50),
        ("Hem-Fir", 0.43),
        ("SPF", 0.42),
        ("Southern Pine", 0.55),
        ("redwood", 0.37),
        ("western cedars", 0.36),
    ],
)
def test_specific_gravity(species, G):
    """NDS 2018 Table 12.3.3A."""
    assert wood_species(species).G == G


@pytest.mark.parametrize(
    ("use", "psf"),
    [("dwelling", 40), ("bedroom", 30), ("office", 50), ("garage", 40), ("light storage", 125), ("heavy storage", 250)],
)
def test_live_loads(use, psf):
    """UFC 3-301-01 (11 April 2023), Table E-1."""
    assert live_load(use).live_load_psf == psf


def test_friction_of_wood_on_concrete():
    """Pallett et al., CONCRETE 36(6), June 2002: lowest measured 0.7, factor at least 2; wood on concrete, dry, 0.62

    in the general friction table of mech.subwiki.org.
    """
    pair = next(row for row in table(rows.FrictionPair) if (row.foot, row.on) == ("wood", "concrete"))
    assert pair.low == pytest.approx(0.7 / 2)
    assert pair.high == 0.62
