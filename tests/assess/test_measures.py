"""Measures: only such as can be built, priced by the table or the file."""

import math
import re
from fractions import Fraction
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from brimfast.assess.joints.layout import beam_to_post_layout
from brimfast.assess.measures.bracing import studs_behind
from brimfast.assess.measures.fasteners import joints_of_one_kind
from brimfast.assess.measures.measure import Need, shopping, takes, used
from brimfast.assess.measures.panels import sheathing
from brimfast.assess.measures.propose import propose
from brimfast.assess.measures.reach import filled, gaps
from brimfast.assess.measures.stock import Bolt, written
from brimfast.assess.pipeline import assess, before_water
from brimfast.assess.plan.bench import changed
from brimfast.data_tables.loader import table, work_item
from brimfast.data_tables.rows import WorkItem
from brimfast.shared.constants import FOOT, INCH
from brimfast.shared.demo import DEMOS, demo
from brimfast.shared.edits import edited
from brimfast.shared.rewriting import rewritten
from brimfast.shared.units import feet_and_inches
from brimfast.shared.yaml_text import load
from tests.builders import APART, RACK, TIERS, WEIGHED, assessed, assessed_demo, read, wet

SCREWS = RACK.replace(
    "{kind: through-bolt, diameter: 0.5 in, length: 6 in, count: 2, spread: 4 in}",
    "{kind: structural screw, diameter: 0.25 in, length: 4 in, count: 2, spread: 4 in}",
)
METRIC = (
    SCREWS.replace("4x4 douglas fir-larch No.2", "95x95 mm C24")
    .replace("2x8 douglas fir-larch No.2", "45x195 mm C24")
    .replace("size: 2x6", "size: 45x145 mm C24")
    .replace("installation: test rack", "installation: test rack\nunits: si")
)
TEXTS = {"screws": SCREWS, "metric": METRIC, "tiers": TIERS, "weighed": WEIGHED, "two racks": APART}


@cache
def measures_of(text):
    source = read(text)
    assessment = assessed(text)
    return source, assessment, propose(assessment)


@pytest.fixture(scope="module")
def proposed():
    return {name: measures_of(text) for name, text in TEXTS.items()}


@cache
def built(name, id):
    """The installation with that measure, or None."""
    source, _, measures = measures_of(TEXTS[name])
    return changed(source.raw, [one for one in measures if one.id == id])


@pytest.mark.parametrize("name", TEXTS)
def test_every_measure_makes_a_file_that_is_read_or_does_not_fit_its_sizes(name, proposed):
    _, _, measures = proposed[name]
    assert measures
    refused = [measure.id for measure in measures if built(name, measure.id) is None]
    # a file's own rules may refuse a few: a deck too low for its timber, a pipe that would run uphill
    assert len(refused) <= len(measures) // 5, refused
    assert len({measure.id for measure in measures}) == len(measures)


@pytest.mark.parametrize("name", TEXTS)
def test_every_measure_changes_something_and_says_what_it_takes(name, proposed):
    source, _, measures = proposed[name]
    for measure in measures:
        installation = built(name, measure.id)
        assert installation is None or installation != source.installation, measure.id
        assert measure.title and measure.steps and measure.needs and measure.parts, measure.id
        one = takes(measure.needs, source.installation)
        assert 0 <= one.low <= one.high and 0 < one.low_hours <= one.high_hours, measure.id


def length(text):
    """'1 1/2 in' or '45 mm' in metres, apart from the code under test."""
    number, unit = text.rsplit(" ", 1)
    return float(sum(Fraction(part) for part in number.split())) * {"in": 0.0254, "mm": 0.001}[unit]


@pytest.mark.parametrize("name", ["screws", "metric"])
def test_bolts_pass_through_what_is_there_and_keep_their_distances(name, proposed):
    source, assessment, measures = proposed[name]
    rack, parts = source.installation.racks["r"], assessment.resolved.racks["r"]
    bolted = [one for one in measures if one.group == "r/beam to post" and "through-bolt" in one.title]
    assert bolted
    for measure in bolted:
        fasteners = next(edit.value for edit in measure.edits if edit.path[-1] == "fasteners")
        D, long = length(fasteners["diameter"]), length(fasteners["length"])
        grip = parts.post.thickness + parts.beam.thickness
        assert grip + D < long < grip + 2 * D + 2 * INCH  # a nut and two washers beyond the wood, and no walking stick
        spread, gauge = (length(fasteners.get(key, "0 in")) for key in ("spread", "gauge"))
        rows = fasteners["count"] // fasteners.get("columns", 1)
        # NDS 2018 Tables 12.5.1A and C: 4 D to the loaded edge, 4 D in a row, 1.5 D to the post's edges; 12.5.1.3: 5 in
        assert (parts.beam.width - spread) / 2 >= 4 * D * 0.999
        assert rows == 1 or spread / (rows - 1) >= 4 * D * 0.999
        assert spread <= 5 * INCH and (parts.post.width - gauge) / 2 >= 1.5 * D * 0.999
        whole = rack.model_copy(update={"beam_runs": "whole length"})
        installation = changed(source.raw, [measure])
        layout = beam_to_post_layout(
            whole if "whole" in measure.id else rack, parts, installation.joints[0].fasteners, leans=False
        )
        assert all(one.ratio <= 1 for one in layout.findings("", ""))
        assert not math.isnan(layout.C_Delta)


@pytest.mark.parametrize("system", ["us", "si"])
@pytest.mark.parametrize("size", [0, 1, 2])
def test_holes_for_bolts_are_as_much_larger_as_the_standard_lets_them(system, size):
    """NDS 2018 section 12.1.3.2: 1/32 in to 1/16 in larger than the bolt."""
    bolt = Bolt(size, system)
    low, high = (length(text) for text in bolt.hole().split(" to "))
    assert low - bolt.diameter >= INCH / 32 - 1e-4 and high - bolt.diameter <= INCH / 16 + 1e-4


@pytest.mark.parametrize("value", [0.0127, 0.1, 0.2477, 1.3])
@pytest.mark.parametrize("system", ["us", "si"])
def test_lengths_are_written_as_they_are(value, system):
    step = INCH / 4 if system == "us" else 0.001
    assert abs(length(written(value, system)) - value) <= step / 2 + 1e-9
    assert length(written(value, system, up=True)) >= value - 1e-6


def test_a_brace_has_both_ends_in_the_rack_and_a_joint():
    source, _, measures = measures_of(SCREWS)
    braced = [one for one in measures if one.group.startswith("r/al") and "diagonal" in one.title]
    assert braced
    for measure in braced:
        installation = changed(source.raw, [measure])
        rack = installation.racks["r"]
        assert {brace.face for brace in rack.braces} == {"front", "back"}
        assert all(1 <= brace.bay <= rack.bays for brace in rack.braces)
        assert installation.joints_of("r")["brace to post"].fasteners.kind == "through-bolt"


def test_a_bay_that_is_stiffened_is_not_braced_again():
    _, assessment, measures = measures_of(TIERS)
    taken = {(face, bay) for face, bay, _ in assessment.installation.racks["r"].stiffened}
    for measure in measures:
        for edit in measure.edits:
            if edit.path[-1] in ("braces", "panels"):
                assert (edit.value["face"], edit.value["bay"]) not in taken


def test_nothing_is_proposed_where_nothing_is_short_or_close():
    text = WEIGHED.replace("mass: 500 lb, centre_of_mass: 30 in", "mass: 50 lb, centre_of_mass: 3 in")
    text = text.replace("holds: 50 gal", "holds: 1 gal").replace("S_DS: 1.0", "S_DS: 0.02")
    assessment = assessed(text)
    assert not any(one.verdict in ("short", "close") for one in assessment.findings if not one.practice)
    assert propose(assessment) == ()


def test_pieces_cost_what_the_table_says():
    """By hand: 4 points at 8 to 25 USD and 0.4 to 1.0 h, 3 ft of curb at 5 to 20 USD and 0.25 to 0.5 h."""
    needs = (Need("strap and curb point", 4, ""), Need("door curb", 3, ""))
    one = takes(needs, read(WEIGHED).installation)
    assert (one.low, one.high) == (4 * 8 + 3 * 5, 4 * 25 + 3 * 20)
    assert (one.low_hours, one.high_hours) == pytest.approx((4 * 0.4 + 3 * 0.25, 4 * 1.0 + 3 * 0.5))


def test_prices_of_the_file_come_before_the_tables():
    """By hand: 4 points at 9 to 11; 1.6 to 4 h at 50 an hour are 80 to 200 of wages; in the middle 40 + 140."""
    text = WEIGHED + "prices: {strap and curb point: {low: 9, high: 11}, hour of work: 50}\n"
    one = takes((Need("strap and curb point", 4, ""),), read(text).installation)
    assert (one.low, one.high, one.wages) == (36, 44, pytest.approx((80, 200)))
    assert one.money == pytest.approx(180)


def test_in_another_currency_only_what_is_given_has_a_price():
    text = WEIGHED + "exposure: {currency: EUR}\nprices: {door curb: 12}\n"
    installation = read(text).installation
    assert takes((Need("strap and curb point", 4, ""),), installation).low is None
    assert takes((Need("door curb", 3, ""),), installation).high == 36
    assert takes((Need("siphon hole", 1, ""),), installation).high == 0  # costs nothing anywhere


def test_the_shopping_list_adds_up_what_is_alike():
    source, _, measures = measures_of(WEIGHED)
    listed = shopping((measures[0], measures[0]), source.installation, source.installation)
    assert [need.count for need in listed] == [2 * need.count for need in measures[0].needs]


BRACED = SCREWS.replace(
    "    beam_runs: each bay",
    "    beam_runs: each bay\n    braces: [{face: left, member: 2x4}, {face: right, member: 2x4}]",
).replace(
    "pumps:",
    "  - {rack: r, where: brace to post, fasteners: {kind: lag screw, diameter: 0.25 in, length: 3 in}}\npumps:",
)


def test_bolts_at_the_ends_of_braces_are_those_of_all_braces_of_the_plan():
    """By hand: 2 singles there, an X in one bay of front and back each: 2 + 4 bars, 12 ends; 2 bolts at each end: 24.

    Without the bolts 8 ends are new, as those that are there: 8 lag screws.
    """
    source, _, measures = measures_of(BRACED)
    crossed = next(one for one in measures if one.id.startswith("r/along/x in front 1; back"))
    ends = next(one for one in measures if one.id == "r/brace ends/2 x 1/2 in")

    def bought(*chosen):
        after = changed(source.raw, chosen)
        return {
            need.item: need.count
            for need in shopping(chosen, source.installation, after)
            if "for the ends" in need.what
        }

    assert bought(crossed, ends) == {"through-bolt 1/2": 24}
    assert bought(crossed) == {"lag screw": 8}
    assert bought(ends) == {"through-bolt 1/2": 8}


KINDS = {
    "lag screw": "kind: lag screw, diameter: 0.25 in, length: 3 in",
    "wood screw": "kind: wood screw, diameter: 0.19 in, length: 3 in",
    "structural screw": "kind: structural screw, diameter: 0.25 in, length: 3 in",
    "nail": "kind: nail, nail: 0.148 in x 3 in",
    "through-bolt 3/8": "kind: through-bolt, diameter: 0.375 in, length: 6 in",
    "through-bolt 5/8": "kind: through-bolt, diameter: 0.625 in, length: 6 in",
}


@pytest.mark.parametrize("item", KINDS)
def test_ends_of_braces_and_further_screws_are_bought_by_their_kind(item):
    """By hand: an X in one bay of front and back each has 8 ends, two fasteners at each: 16."""
    braced = BRACED.replace("kind: lag screw, diameter: 0.25 in, length: 3 in", f"{KINDS[item]}, count: 2")
    crossed = next(one for one in measures_of(braced)[2] if one.id.startswith("r/along/x in front 1; back"))
    ends = [need for need in crossed.needs if need.ends_of]
    assert [(need.item, need.count) for need in ends] == [(item, 16)]
    if "bolt" in item or item == "nail":
        return
    screws = SCREWS.replace("kind: structural screw", f"kind: {item}")
    more = next(one for one in measures_of(screws)[2] if one.id.startswith("r/beam to post/") and item in one.id)
    assert more.needs[0].item == item


ONE_BAY = SCREWS.replace("bays: 2", "bays: 1").replace("bay_length: 5 ft", "bay_length: 10 ft").replace("4x4", "6x6")


@pytest.mark.parametrize(("given", "centre"), [("", 2.75), (", end_distance: 4 in", 4.0)])
def test_bolts_in_beams_that_stay_have_the_end_distance_that_is_there(given, centre):
    """By hand: a beam that ends flush with a 6x6 (5.5 in) has 2.75 in beyond its middle; columns stand half their gauge off."""
    text = ONE_BAY.replace("count: 2, spread: 4 in", f"count: 2, spread: 4 in{given}")
    source, _, measures = measures_of(text)
    bolted = [one for one in measures if one.group == "r/beam to post" and "through-bolt" in one.title]
    assert any(edit.value.get("columns") for one in bolted for edit in one.edits)
    for measure in bolted:
        fasteners = changed(source.raw, [measure]).joints[0].fasteners
        expected = centre * INCH - (fasteners.gauge or 0.0) / 2
        assert expected - INCH / 8 < fasteners.end_distance <= expected + 1e-9
        assert any("beam's end" in step and "measure it" in step for step in measure.steps)


def test_two_columns_near_the_end_of_a_beam_are_not_proposed():
    """By hand: flush with a 4x4 two columns 2 in apart leave 0.75 in, two diameters of a 3/8 in bolt: under 3.5."""
    measures = measures_of(ONE_BAY.replace("6x6", "4x4"))[2]
    assert not any(edit.value.get("columns") for one in measures for edit in one.edits if edit.path[-1] == "fasteners")
    long_ends = ONE_BAY.replace("6x6", "4x4").replace("spread: 4 in}", "spread: 4 in, end_distance: 6 in}", 1)
    assert any(
        edit.value.get("columns")
        for one in measures_of(long_ends)[2]
        for edit in one.edits
        if edit.path[-1] == "fasteners"
    )


def whole_beams(text):
    source, _, measures = measures_of(text)
    return source, [one for one in measures if one.id.endswith("/whole")]


def test_new_beams_are_as_long_as_posts_bolts_and_ends_ask():
    """By hand: 10 ft between outer posts, two columns, and seven diameters beyond the outermost bolt at either end."""
    source, found = whole_beams(SCREWS)
    assert found
    for measure in found:
        fasteners = changed(source.raw, [measure]).joints[0].fasteners
        beams = next(need for need in measure.needs if need.item == "beam timber")
        long = 10 * FOOT + (fasteners.gauge or 0.0) + 2 * fasteners.end_distance
        assert beams.count == pytest.approx(2 * long / FOOT)
        assert fasteners.end_distance == pytest.approx(7 * fasteners.diameter)
        assert f"2 pieces {feet_and_inches(long)} long" in beams.what


def test_new_beams_stay_within_the_room_and_on_the_shelf():
    corner = SCREWS.replace("    beam_runs: each bay", "    beam_runs: each bay\n    at: 2 in x 0 in")
    source, found = whole_beams(corner)
    for measure in found:
        fasteners = changed(source.raw, [measure]).joints[0].fasteners
        # the outer posts' middles stand 2 in from the wall
        assert fasteners.end_distance + (fasteners.gauge or 0.0) / 2 <= 2 * INCH + 1e-9
    assert whole_beams(SCREWS.replace("bay_length: 5 ft", "bay_length: 9 ft"))[1]
    # 19 ft 8 in between the outer posts and 3.5 in at either end are more than 20 ft
    assert not whole_beams(SCREWS.replace("bay_length: 5 ft", "bay_length: 9 ft 10 in"))[1]


def test_where_two_beams_end_on_a_post_each_has_its_bolts():
    """By hand: two bays, front and back, two ends each: 8 joints; in one piece three posts a side: 6."""
    rack = read(SCREWS).installation.racks["r"]
    assert joints_of_one_kind(rack) == 8
    assert joints_of_one_kind(rack.model_copy(update={"beam_runs": "whole length"})) == 6


def test_a_wall_of_8_ft_has_six_studs_16_in_apart():
    """By hand: 96 in are six spaces of 16 in, so wherever the first one stands six are in it; SI: 2.4 m, 600 mm, four."""
    assert studs_behind(8 * FOOT, "us") == 6
    assert studs_behind(7.9 * FOOT, "us") == 5
    assert studs_behind(2.4, "si") == 4


@pytest.mark.parametrize(
    ("length", "height", "pieces", "uprights", "blocks"),
    [
        (8, 4, (1, 1), 3, 0),  # a whole sheet lying: uprights every 2 ft
        (4, 8, (1, 1), 1, 0),  # a whole sheet upright
        (5, 26 / 12, (1, 1), 2, 0),  # 60 in: three fields of 20 in
        (5, 5, (2, 1), 3, 0),  # two upright sheets of 30 in, each with an upright in its middle, one behind their joint
        (10, 26 / 12, (2, 1), 5, 0),  # two lying ones
        (3, 9, (1, 2), 1, 2),  # one above the other: a block in each of two fields
    ],
)
def test_panels_larger_than_a_sheet_have_wood_behind_every_joint(length, height, pieces, uprights, blocks):
    """By hand: sheets of 4 ft by 8 ft, uprights at most 24 in apart."""
    one = sheathing(length * FOOT, height * FOOT)
    assert (one.across, one.up) == pieces
    assert (one.uprights, one.blocks) == (uprights, blocks)


@given(st.floats(0.3, 6), st.floats(0.3, 4))
@settings(derandomize=True)
def test_pieces_fit_a_sheet_and_uprights_stand_near(length, height):
    one = sheathing(length, height)
    assert one.of_one_sheet >= 1
    assert min(one.piece) <= 1.2201 and max(one.piece) <= 2.4401
    assert length / (one.uprights + 1) <= 24 * INCH * 1.0001
    assert (one.uprights + 1) % one.across == 0, "a joint has no upright behind it"


def test_what_holds_a_panel_is_on_the_list():
    """By hand: 5 ft x 26 in on both long sides: 2 rails of 5 ft and 2 uprights of 26 in each."""
    measure = next(one for one in measures_of(SCREWS)[2] if one.id.startswith("r/along/panel"))
    needs = {need.item: need.count for need in measure.needs}
    # 26 in twice are more than a sheet's 48 in, so each panel takes one
    assert needs["plywood panel"] == 2
    assert needs["brace timber 2x4"] == pytest.approx(2 * (2 * 5 + 2 * 26 / 12))
    assert "4 of 5 ft, 4 of 2 ft 2 in" in next(need.what for need in measure.needs if need.item == "brace timber 2x4")
    assert needs["framing tie"] == 2 * (4 + 4)
    assert needs["structural screw"] == 2 * 6  # every 12 in of 5 ft
    assert any("uprights" in step for step in measure.steps)
    large = SCREWS.replace("deck_height: 26 in", "deck_height: 60 in")
    joined = next(one for one in measures_of(large)[2] if one.id.startswith("r/along/panel"))
    assert any("larger than a sheet" in step and "upright" in step for step in joined.steps)


def test_the_rail_of_wall_ties_is_bolted_to_the_posts():
    """By hand: three back posts, two bolts each."""
    text = SCREWS.replace("    beam_runs: each bay", "    beam_runs: each bay\n    wall_gap: 2 in")
    measure = next(one for one in measures_of(text)[2] if one.id == "r/wall/ties")
    assert {need.item: need.count for need in measure.needs}["through-bolt 3/8"] == 6
    assert measure.edits[0].value["count"] == 6  # 10 ft hold seven studs, at most two a post are counted


def near_wall(gap):
    return SCREWS.replace("    beam_runs: each bay", f"    beam_runs: each bay\n    wall_gap: {gap}")


def test_work_behind_a_rack_begins_with_pulling_it_out():
    def out(measure):
        return any("pull it out" in step for step in measure.first)

    measures = measures_of(near_wall("8 in"))[2]
    behind = [one for one in measures if "back" in one.id or one.group == "r/beam to post"]
    assert behind and all(out(one) for one in behind)
    assert not any(out(one) for one in measures if "left" in one.id)
    assert not any(out(one) for one in measures_of(near_wall("3 ft"))[2])


def test_a_brace_goes_inside_where_the_wall_is_near_and_an_x_not_at_all():
    measures = measures_of(near_wall("1 in"))[2]
    assert not any("/x in" in one.id and "back" in one.id for one in measures)
    single = next(one for one in measures if "/single in" in one.id and "back" in one.id)
    assert any("inside of the posts" in step for step in single.steps)


@pytest.mark.parametrize(
    ("along", "expected"),
    [
        # 10 ft by 32 in in a room of 24 ft by 16 ft: what is left beyond, by hand (ft)
        ("length", {"left": 3, "right": 11, "front": 5, "back": 16 - 5 - 32 / 12}),
        ("width", {"left": 5, "right": 1, "front": 3, "back": 24 - 3 - 32 / 12}),
    ],
)
def test_how_far_walls_are(along, expected):
    text = SCREWS.replace(
        "    beam_runs: each bay", f"    beam_runs: each bay\n    at: 3 ft x 5 ft\n    along: {along}"
    )
    found = gaps(read(text).installation, "r")
    assert {face: gap / FOOT for face, gap in found.items()} == pytest.approx(expected)


def corner(end, side):
    return SCREWS.replace(
        "vessels:\n",
        f"""  wing:
    bays: 1
    bay_length: 4 ft
    width: 32 in
    deck_height: 26 in
    post: 4x4 douglas fir-larch No.2
    beam: 2x8 douglas fir-larch No.2
    joist: {{size: 2x6, spacing: 12 in, seat: between beams}}
    deck: 23/32 in plywood
    along: width
    turns_from: {{rack: r, end: {end}, side: {side}}}
vessels:
""",
    )


@pytest.mark.parametrize(
    ("end", "side", "main", "near"),
    [
        ("left", "front", ("front", 1), "right"),
        ("right", "front", ("front", 2), "right"),
        ("left", "back", ("back", 1), "left"),
        ("right", "back", ("back", 2), "left"),
    ],
)
def test_a_bay_that_a_joined_rack_fills_is_not_braced(end, side, main, near):
    text = corner(end, side)
    installation = read(text).installation
    assert filled(installation, "r") == {main}
    assert filled(installation, "wing") == {(near, 1)}
    stiffened = [
        (edit.path[1], edit.value["face"], edit.value["bay"])
        for measure in measures_of(text)[2]
        for edit in measure.edits
        if edit.path[-1] in ("braces", "panels")
    ]
    assert any(rack == "r" for rack, _, _ in stiffened)
    assert ("r", *main) not in stiffened and not any(one[:2] == ("wing", near) for one in stiffened)


def test_a_joined_rack_near_a_wall_is_unbolted_before_it_is_pulled_out():
    text = corner("left", "front").replace("    beam_runs: each bay", "    beam_runs: each bay\n    wall_gap: 4 in")
    measures = [one for one in measures_of(text)[2] if one.parts == ("rack r",) and "back" in one.id]
    assert measures and all("unbolt rack wing from it" in one.first[0] for one in measures)


US, SI = r"\d ?(in|ft|lb|gal|psf|gal/min)\b|inch|feet\b", r"\d ?(mm|cm|m|kg|kN|N|L|L/min)\b|metre"


@pytest.mark.parametrize("name", TEXTS)
def test_texts_have_one_kind_of_units(name, proposed):
    source, _, measures = proposed[name]
    own = source.installation.system
    other = source.installation.model_copy(update={"units": "si" if own == "us" else "us"})
    for system, each in ((own, measures), (other.system, propose(wet(before_water(other))))):
        foreign = SI if system == "us" else US
        for measure in each:
            for said in (measure.title, *measure.first, *measure.steps, *(need.what for need in measure.needs)):
                text = re.sub(r"\b\d+x\d+( mm)? ", "board ", said)  # sizes of wood are names
                assert not re.search(foreign, text), (system, text)


def test_every_item_of_work_is_one_that_a_measure_needs_or_the_hour():
    names = {row.item for row in table(WorkItem)}
    used = {"hour of work"}
    texts = [*TEXTS.values(), demo("nursery").text, *FURTHER, *HARDWARE]
    for text in texts:
        used |= {need.item for measure in measures_of(text)[2] for need in measure.needs}
    assert used == names


# So that each item of the table is needed somewhere: a brace joint by bolts, heavy posts on a floor, a wall close by.
FURTHER = (
    SCREWS.replace("    beam_runs: each bay", "    beam_runs: each bay\n    wall_gap: 2 in")
    .replace("pumps:", "supplies: [{name: hose, to: tank, flow: 6 gal/min, unattended: 8 h}]\npumps:")
    .replace("sill: 3 in", "sill: 0.1 in, sockets: [{name: strip, height: 0.5 in}], drains: [{bore: 1 in}]"),
    TIERS.replace("kind: lag screw, diameter: 0.375 in", "kind: through-bolt, diameter: 0.25 in"),
    SCREWS.replace("deck_height: 26 in", "deck_height: 60 in").replace(
        "count: 2, spread: 4 in", "count: 3, spread: 3 in"
    )
    + """pipes: [{name: return, from: bed, to: tank, bore: 0.5 in, intake: 8 in, outlet: 20 in, length: 5 ft}]
hung:
  - {name: light, from: ceiling, mass: 300 lb, drop: 30 in, over: tank, clearance: 2 in, height_ratio: 1, allowable: 20 lb,
     source: a guess}
""",
    SCREWS.replace(
        "    beam_runs: each bay", "    beam_runs: each bay\n    upper_tiers: [{deck_height: 60 in}]"
    ).replace(
        "vessels:\n",
        "vessels:\n  - {name: high bed, kind: bed, on: r, tier: 2, length: 9 ft, width: 30 in, depth: 18 in, water: 16 in, fill: sand}\n",
    ),
)


HARDWARE = tuple(
    BRACED.replace("kind: lag screw, diameter: 0.25 in, length: 3 in", KINDS[item])
    for item in ("lag screw", "wood screw", "nail")
)


def test_prices_by_length_are_given_in_the_units_that_are_shown():
    """By hand: 5 to 20 USD and 0.25 to 0.5 h a foot are 16.4 to 65.6 USD and 0.82 to 1.64 h a metre."""
    installation = read(WEIGHED).installation
    needs = [Need("door curb", 3, "")]
    assert used(needs, installation)[0].text == "5 to 20 USD and 0.25 to 0.5 h a ft"
    metric = installation.model_copy(update={"units": "si"})
    assert used(needs, metric)[0].text == "16.4 to 65.6 USD and 0.82 to 1.64 h a m"
    given = read(WEIGHED + "prices: {door curb: 12}\n").installation
    assert used(needs, given)[0].text.startswith("12 to 12 USD (from the file)")


def test_what_comes_first_is_one_sentence_a_rack():
    """Whichever faces a measure needs, so that a plan says it once."""
    text = SCREWS.replace("    beam_runs: each bay", "    beam_runs: each bay\n    at: 1 ft x 13 ft")
    first = {one.first for one in measures_of(text)[2] if one.first}
    assert len(first) == 1
    assert "its left 12 in and its back 4 in" in next(iter(first))[0]


def test_a_panel_on_a_timber_floor_does_not_point_to_anchors_that_cannot_be():
    slab = SCREWS.replace("kind: timber floor", "kind: slab on grade")
    for text, said in ((SCREWS, "engineer"), (slab, "see the anchors")):
        panel = next(one for one in measures_of(text)[2] if one.id.startswith("r/along/panel"))
        assert any("lift its end posts" in step and said in step for step in panel.steps)


@pytest.mark.parametrize("name", DEMOS)
def test_measures_stand_in_the_text_as_in_the_values_and_no_comment_goes(name):
    """Each by itself, and the first of every group together."""
    source = demo(name)
    measures, text = propose(assessed_demo(name)), source.data.decode()
    together = {one.group: one for one in reversed(measures)}.values()
    for chosen in (*((one,) for one in measures), tuple(together)):
        edits = [edit for measure in chosen for edit in measure.edits]
        new = rewritten(text, edits)
        assert load(new, "t")[0] == edited(source.raw, edits)
        assert all(line.split("#", 1)[1] in new for line in text.splitlines() if "#" in line)


def test_a_table_row_is_found_by_its_name_and_a_wrong_one_is_refused_at_its_place():
    from brimfast.shared.errors import InputError

    assert work_item("Door curb").item == "door curb"
    text = WEIGHED + "prices: {dor curb: 12}\n"
    with pytest.raises(InputError) as error:
        assess(read(text).installation)
    assert re.search(r"did you mean 'door curb'", error.value.problems[0].message)
    assert error.value.problems[0].path == ("prices", "dor curb")
