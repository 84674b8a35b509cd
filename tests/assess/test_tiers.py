"""Racks of several tiers: the take-off by hand, the load path, and nothing changed where there is one tier."""

import math

import pytest

from brimfast.shared.constants import GRAVITY, INCH, POUND_MASS
from tests.builders import RACK, TIERS, assessed, dry, found

DENSITY = 35.74  # lb/ft3, Douglas fir-larch at 30 % moisture (see test_weight)
AREA_2X4 = 1.5 * 3.5  # in2
DECK = 23 / 32  # in
BEAM_CENTRE = 26 - DECK - 7.25 / 2  # in: joists between the beams
TWO_TIERS = RACK.replace("    beam_runs: each bay", "    beam_runs: each bay\n    upper_tiers: [{deck_height: 60 in}]")


def pounds(assessment):
    return {part.part: part.mass / POUND_MASS for part in assessment.racks["r"].weighing.parts}


def timber(length, area=AREA_2X4):
    return length * area / 1728 * DENSITY


def test_two_tiers_by_hand():
    """Each tier as the only one of test_weight; posts 84 in to the upper rail; rails 2 x 120 + 2 x 32 in, and 120 in."""
    parts = pounds(dry(TIERS))
    for tier in (1, 2):
        assert parts[f"beams, tier {tier}"] == pytest.approx(53.98, abs=0.05)
        assert parts[f"joists, tier {tier}"] == pytest.approx(60.06, abs=0.05)
        assert parts[f"deck, tier {tier}"] == pytest.approx(pounds(dry(RACK))["deck"])
    assert parts["posts"] == pytest.approx(6 * 84 * 12.25 / 1728 * DENSITY, rel=1e-3)  # 127.7 lb
    assert parts["rail 1"] == pytest.approx(timber(304), rel=1e-3)  # 33.0 lb
    assert parts["rail 2"] == pytest.approx(timber(120), rel=1e-3)
    heights = {part.part: part.height / INCH for part in dry(TIERS).racks["r"].weighing.parts}
    assert heights["deck, tier 2"] == pytest.approx(60 - DECK / 2)
    assert heights["beams, tier 2"] == pytest.approx(BEAM_CENTRE + 34)
    assert (heights["rail 1"], heights["rail 2"]) == (pytest.approx(84), pytest.approx(80))


def test_posts_end_under_the_highest_deck_where_no_rail_is_above():
    for text, height in ((TWO_TIERS, 60 - DECK), (RACK, 26 - DECK)):
        parts = pounds(dry(text))
        assert parts["posts"] == pytest.approx(6 * height * 12.25 / 1728 * DENSITY, rel=1e-3)
    low = RACK.replace("    beam_runs: each bay", "    beam_runs: each bay\n    rails: [{height: 12 in, member: 2x4}]")
    assert pounds(dry(low))["posts"] == pytest.approx(pounds(dry(RACK))["posts"])


def test_braces_by_storey_by_hand():
    """Storey 1 rises 21.66 in to the beam's middle, storey 2 the 34 in between the beams; a knee is 12 sqrt 2 long."""
    first, second = math.hypot(60, BEAM_CENTRE), math.hypot(60, 34)
    across = math.hypot(32, BEAM_CENTRE) + math.hypot(32, 34)
    knees = 2 * 12 * math.sqrt(2)
    parts = pounds(dry(TIERS))
    assert parts["braces"] == pytest.approx(timber(3 * first + 3 * second + across + knees), rel=1e-3)
    # panels: 32 in wide, 15/32 in, from the floor to the upper beam's top; plywood by the table's density
    density = dry(TIERS).resolved.racks["r"].deck_density
    volume = 32 * 15 / 32 * (60 - DECK) * INCH**3
    assert parts["panels"] == pytest.approx(volume * density / POUND_MASS)


def test_knees_hang_by_the_beam():
    """Two knees alone: their middle is half a leg below the beam's middle."""
    knee = "{face: front, bay: 1, kind: knee, leg: 12 in, member: 2x4}"
    x = [f"{{face: {face}, kind: x, member: 2x4}}" for face in ("back", "left", "right")]
    both = f"    beam_runs: each bay\n    braces: [{', '.join([*x, '{face: front, bay: 2, member: 2x4}', knee])}]"
    without = both.replace(f", {knee}", "")
    one, other = (
        next(
            part
            for part in dry(RACK.replace("    beam_runs: each bay", text)).racks["r"].weighing.parts
            if part.part == "braces"
        )
        for text in (both, without)
    )
    height = (one.mass * one.height - other.mass * other.height) / (one.mass - other.mass)
    assert (one.mass - other.mass) / POUND_MASS == pytest.approx(timber(24 * math.sqrt(2)), rel=1e-3)
    assert height / INCH == pytest.approx(BEAM_CENTRE - 6)


def test_centre_of_mass_counts_each_vessel_on_its_deck():
    assessment = dry(TIERS)
    rack, bed, trays = assessment.racks["r"].weighing, assessment.vessels["bed"], assessment.vessels["trays"]
    moment = rack.mass * rack.height + bed.mass * (26 * INCH + bed.height) + trays.mass * (60 * INCH + trays.height)
    body = next(body for body in assessment.bodies if body.kind == "rack")
    assert body.mass == pytest.approx(rack.mass + bed.mass + trays.mass)
    assert body.height == pytest.approx(moment / body.mass)


@pytest.mark.parametrize("text", [RACK, TWO_TIERS, TIERS])
def test_posts_carry_all_that_stands_on_them(text):
    """Equilibrium: both rows of posts together carry rack and vessels; each post its tiers and an even share of the rest."""
    assessment = dry(text)
    gravity = assessment.gravity["r"]
    weight = next(body for body in assessment.bodies if body.kind == "rack").mass * GRAVITY
    assert 2 * sum(gravity.posts) == pytest.approx(weight)
    assert gravity.total == pytest.approx(weight)
    own = [post - sum(tier.posts[index] for tier in gravity.tiers) for index, post in enumerate(gravity.posts)]
    assert own == pytest.approx([own[0]] * 3)
    alone = [part.mass for part in assessment.racks["r"].weighing.parts if part.tier == 0]
    assert 6 * own[0] == pytest.approx(sum(alone) * GRAVITY)


def test_a_tier_is_loaded_as_the_only_deck_would_be():
    """What stands below or above changes nothing for a tier's deck, joists and beams."""
    single, double = dry(RACK), dry(TWO_TIERS)
    one, first = single.gravity["r"].tiers[0], double.gravity["r"].tiers[0]
    for load, other in zip(first.loads, one.loads, strict=True):
        assert load == pytest.approx(other)
    assert (first.joint_worst, first.joist_end) == (pytest.approx(one.joint_worst), pytest.approx(one.joist_end))
    for member in ("deck", "joist", "beam"):
        for end in ("", "/sag"):
            single_ratio = found(single, f"member/r/{member}{end}").ratio
            assert found(double, f"member/r/tier 1/{member}{end}").ratio == pytest.approx(single_ratio)
            assert found(double, f"member/r/tier 2/{member}{end}").ratio < single_ratio
    moved = dry(TWO_TIERS.replace("on: r, length", "on: r, tier: 2, length"))
    for load, other in zip(moved.gravity["r"].tiers[1].loads, first.loads, strict=True):
        assert load == pytest.approx(other)
    assert moved.gravity["r"].worst_tier == 2
    assert moved.gravity["r"].joint_worst == pytest.approx(double.gravity["r"].joint_worst)
    assert moved.gravity["r"].posts == pytest.approx(double.gravity["r"].posts)


def test_the_worst_tier_answers_for_the_joints():
    gravity = dry(TIERS).gravity["r"]
    assert gravity.worst_tier == 1
    assert gravity.joint_worst == max(tier.joint_worst for tier in gravity.tiers)
    assert gravity.joist_end == max(tier.joist_end for tier in gravity.tiers)
    assert gravity.side_weight == gravity.tiers[0].side_weight


def test_one_tier_is_not_called_a_tier():
    assessment = dry(RACK)
    assert len(assessment.gravity["r"].tiers) == 1
    assert not any("tier" in finding.id or "tier" in finding.subject for finding in assessment.findings)
    assert {"beams", "joists", "deck", "posts"} <= set(pounds(assessment))
    subjects = {finding.subject for finding in dry(TIERS).findings}
    assert {"rack r, tier 1, beams", "rack r, tier 2, deck", "rack r, posts"} <= subjects


def test_posts_buckle_over_the_tallest_storey():
    """Floor to beam top 25.28 in; between the beams' tops 34 in, or 60 in under a deck at 86 in."""
    assert dry(RACK).racks["r"].tallest_storey / INCH == pytest.approx(26 - DECK)
    assert dry(TWO_TIERS).racks["r"].tallest_storey / INCH == pytest.approx(34)
    higher = TWO_TIERS.replace("deck_height: 60 in", "deck_height: 86 in")
    assert dry(higher).racks["r"].tallest_storey / INCH == pytest.approx(60)
    assert found(dry(higher), "post/weight").ratio > found(dry(TWO_TIERS), "post/weight").ratio


def test_water_of_an_upper_tier_falls_from_there():
    """From the level in the upper bed, 60 + 8 in, down to the tank's 27 in: slower than Torricelli."""
    text = TWO_TIERS.replace("on: r, length", "on: r, tier: 2, length").replace(
        "outlet: 3 in", "outlet: 3 in, pipe: 1 in"
    )
    run = next(one for one in assessed(text).spill.runs if one.event.id == "power cut")
    link = next(one for one in run.event.links(assessed(text).spill.network) if one.name == "pump, back")
    assert link.on
    assert link.z_in == pytest.approx(63 * INCH)
    # 41 in between the levels; the pipe is taken 1 m long with two bends: less than without any loss
    most = math.pi / 4 * INCH**2 * math.sqrt(2 * GRAVITY * 41 * INCH)
    assert 0 < run.rate < most


def test_knees_and_a_half_braced_storey_leave_the_rack_unbraced():
    """Stiff is a direction with a brace or panel on both faces of every storey; knees leave the posts to bend."""
    rack = dry(TIERS).installation.racks["r"]
    assert rack.braced("along")
    assert rack.braced("across")
    first = [brace for brace in rack.braces if brace.storey == 1]
    assert not rack.model_copy(update={"braces": first}).braced("along")
    knees = [brace for brace in rack.braces if brace.kind == "knee"]
    assert rack.model_copy(update={"braces": knees}).stiff_bays("along", 1) == (0, 0)
