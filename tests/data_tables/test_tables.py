"""Every row has a source, a provenance, and where to confirm it."""

import pytest

from brimfast.data_tables import loader, rows
from brimfast.data_tables.loader import PROVENANCES, TABLES, NotInTableError, table


@pytest.mark.parametrize("row_class", TABLES, ids=list(TABLES.values()))
def test_provenance(row_class):
    found = table(row_class)
    assert found
    for row in found:
        assert row.provenance in PROVENANCES
        assert len(row.source) > 10
        assert row.confirm_in


def test_words_find_their_rows():
    assert loader.wood_species("Douglas Fir-Larch").species == "douglas fir-larch"
    assert loader.wood_species("douglas fir larch").G == 0.50
    assert loader.fill("pea gravel").name == "gravel"
    assert loader.sheet_material("HDPE").material == "polyethylene"
    with pytest.raises(NotInTableError, match="did you mean 'gravel'"):
        loader.fill("gravell")
    with pytest.raises(NotInTableError, match="surface"):
        loader.friction("wood", "ice")


def test_every_default_wall_and_surface_is_in_the_tables():
    for row in table(rows.VesselDefault):
        loader.sheet_material(row.wall_material)
    feet = {row.foot for row in table(rows.FrictionPair)}
    surfaces = {row.on for row in table(rows.FrictionPair)}
    assert {row.surface for row in table(rows.SheetMaterial)} <= feet
    assert all(loader.friction(foot, on).low <= loader.friction(foot, on).high for foot in feet for on in surfaces)


@pytest.mark.parametrize(
    ("kind", "inches", "ksi"),
    [
        ("nail", 0.131, 100),
        ("nail", 0.148, 90),
        ("wood screw", 0.190, 80),
        ("wood screw", 0.242, 70),
        ("lag screw", 0.25, 70),
        ("lag screw", 0.5, 45),
        ("through-bolt", 0.5, 45),
    ],
)
def test_bending_yield(kind, inches, ksi):
    """NDS 2018 Appendix I, Table I1."""
    assert loader.bending_yield(kind, inches * 0.0254).F_yb_ksi == ksi


def test_diameters_outside_the_table_are_refused():
    with pytest.raises(NotInTableError, match="give bending_yield"):
        loader.bending_yield("nail", 0.5 * 0.0254)
    assert loader.screw_root("wood screw", 0.05 * 0.0254) is None
