"""What findings of joints say besides their numbers: which value to confirm and where, which assumption was made."""

import pytest

from brimfast.assess.joints.feet import sill_bolts
from brimfast.assess.joints.layout import beam_to_post_layout
from brimfast.assess.joints.panels import panels
from brimfast.assess.joints.statics import sideways_shares
from tests.joint_cases import BOLTS, HAND, case, with_bolts, with_lines

SILL = with_lines("    feet: {anchored: yes, sill: 2x6 douglas fir-larch, bolt: 0.5 in x 7.5 in}")


def layout_of(text):
    given = case(text)
    return beam_to_post_layout(given.rack, given.parts, given.joints["beam to post"].fasteners, False)


@pytest.mark.parametrize(
    ("more", "wet", "factor"), [("", True, 1.0), ("    wet: no", False, 1 / 0.7), ("    heat: up to 125 F", True, 0.7)]
)
def test_sill_bolts_name_the_factor_of_wet_wood_where_it_counts(more, wet, factor):
    """1899.738 N as in test_bracing_by_hand; NDS 2018 Table 11.3.3: 0.7 wet; Table 11.3.4: 0.7 at 125 F."""
    (found,) = sill_bolts(case(with_lines(more, SILL) if more else SILL))
    assert any("wet" in value.name for value in found.values) is wet
    assert found.capacity == pytest.approx(1899.738 * factor, rel=1e-4)


def test_sill_bolts_say_how_deep_they_are():
    """7.5 in less 1.5 in of sill."""
    (found,) = sill_bolts(case(SILL))
    assert "bolt 0.500 in, 6.0 in into the concrete" in found.steps[-1].note


@pytest.mark.parametrize("less", ["sill: 2x6 douglas fir-larch, ", ", bolt: 0.5 in x 7.5 in"])
def test_sill_bolts_need_both_sill_and_bolt(less):
    assert sill_bolts(case(SILL.replace(less, ""))) == []


@pytest.mark.parametrize(
    ("fasteners", "book"),
    [(BOLTS, "NDS section 12.5.1"), ("{kind: nail, nail: 0.148 in x 3 in, count: 4}", "NDS Commentary C12.1")],
)
def test_where_to_look_up_distances(fasteners, book):
    (value,) = layout_of(with_bolts(fasteners)).findings("i", "s")[0].values
    assert value.confirm_in == book


def test_an_unknown_stiffness_is_said_where_a_row_shares():
    """No table has redwood's E; one bolt shares with none, and its C_g is 1."""
    redwood = HAND.replace("beam: 2x8 douglas fir-larch No.2", "beam: 2x8 redwood")
    two, one = layout_of(redwood), layout_of(with_bolts(BOLTS.replace("count: 2, spread: 4 in", "count: 1"), redwood))
    assert two.C_g < 1 and two.note.startswith("spread given in the file; E not in the tables")
    assert one.C_g == 1.0 and "E not in the tables" not in one.note
    assert "E not in the tables" not in layout_of(HAND).note


@pytest.mark.parametrize(
    ("source", "basis"), [("'required: by hand'", "is a requirement"), ("page 3", "value: page 3")]
)
def test_hold_downs_say_where_the_anchors_value_is_from(source, basis):
    """Two anchors of 4000 N a post."""
    panel = "{face: %s, bay: 1, thickness: 15/32 in, nail: 0.131 in, edge_spacing: 6 in}"
    feet = f"    feet: {{anchored: yes, anchors_per_post: 2, tension: 4000 N, shear: 4000 N, source: {source}}}"
    both = "\n".join(f"      - {panel % face}" for face in ("front", "back", "left", "right"))
    found = [one for one in panels(case(with_lines(f"{feet}\n    panels:\n{both}"))) if one.id.endswith("/hold-down")]
    assert [one.id for one in found] == ["joint/r/panel/along/hold-down", "joint/r/panel/across/hold-down"]
    assert all(one.capacity == pytest.approx(8000.0) and basis in one.basis for one in found)


@pytest.mark.parametrize("tiers", [1, 2, 3])
def test_moments_between_tiers_are_explained_where_there_are_tiers(tiers):
    more = ", ".join(f"{{deck_height: {height} in}}" for height in (60, 90)[: tiers - 1])
    *_, second = sideways_shares(case(with_lines(f"    upper_tiers: [{more}]") if more else HAND))[2]
    assert ("between tiers" in second.source) == (tiers > 1)
