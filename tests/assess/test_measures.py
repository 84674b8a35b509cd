"""Measures: only such as can be built, priced by the table or the file."""

import math
import re
from fractions import Fraction

import pytest

from brimfast.assess.joints.layout import beam_to_post_layout
from brimfast.assess.measures.measure import Need, shopping, takes
from brimfast.assess.measures.propose import propose
from brimfast.assess.measures.stock import Bolt, written
from brimfast.assess.pipeline import assess
from brimfast.assess.plan.bench import changed
from brimfast.data_tables.loader import table, work_item
from brimfast.data_tables.rows import WorkItem
from brimfast.shared.constants import INCH
from brimfast.shared.demo import demo
from brimfast.shared.reading import read_bytes
from tests.builders import RACK, TIERS, WEIGHED, assessed

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
TEXTS = {"screws": SCREWS, "metric": METRIC, "tiers": TIERS, "weighed": WEIGHED}


def read(text):
    return read_bytes(text.encode(), "t")


def measures_of(text):
    source = read(text)
    assessment = assess(source.installation)
    return source, assessment, propose(assessment)


@pytest.fixture(scope="module")
def proposed():
    return {name: measures_of(text) for name, text in TEXTS.items()}


@pytest.mark.parametrize("name", TEXTS)
def test_every_measure_makes_a_file_that_is_read_or_does_not_fit_its_sizes(name, proposed):
    source, _, measures = proposed[name]
    assert measures
    refused = [measure.id for measure in measures if changed(source.raw, [measure]) is None]
    # a file's own rules may refuse a few: a deck too low for its timber, a pipe that would run uphill
    assert len(refused) <= len(measures) // 5, refused
    assert len({measure.id for measure in measures}) == len(measures)


@pytest.mark.parametrize("name", TEXTS)
def test_every_measure_changes_something_and_says_what_it_takes(name, proposed):
    source, _, measures = proposed[name]
    for measure in measures:
        installation = changed(source.raw, [measure])
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

    Without the bolts 8 ends are new, as those that are there: 8 screws.
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
    assert bought(crossed) == {"structural screw": 8}
    assert bought(ends) == {"through-bolt 1/2": 8}


def test_every_item_of_work_is_one_that_a_measure_needs_or_the_hour():
    names = {row.item for row in table(WorkItem)}
    used = {"hour of work"}
    texts = [*TEXTS.values(), demo("nursery").text, *FURTHER]
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


def test_a_table_row_is_found_by_its_name_and_a_wrong_one_is_refused_at_its_place(capsys):
    from brimfast.shared.errors import InputError

    assert work_item("Door curb").item == "door curb"
    text = WEIGHED + "prices: {dor curb: 12}\n"
    with pytest.raises(InputError) as error:
        assess(read(text).installation)
    assert re.search(r"did you mean 'door curb'", error.value.problems[0].message)
    assert error.value.problems[0].path == ("prices", "dor curb")
