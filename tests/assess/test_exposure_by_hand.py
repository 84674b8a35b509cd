"""Costs of wet floors at numbers where each term counts, and on both sides of each limit; by hand."""

import math

import pytest

from brimfast.assess.exposure.assess import assess_exposure
from brimfast.assess.exposure.damage import bound, damage_bound
from brimfast.assess.exposure.findings import exposure_findings
from brimfast.assess.exposure.wetted import BELOW, HERE, wetted
from tests.assess.test_exposure import FT2, answers, exposed, flood, installed

FOOT = 0.3048


def lines(steps):
    return {line.symbol: line.result.value for line in steps}


# --- damage as in a flood


@pytest.mark.parametrize(
    ("d", "building", "contents", "p_0", "p_1", "d_0"),
    [
        (1.5, 6925, 3900, 0.233, 0.321, 1),
        (1.0, 5825, 3325, 0.134, 0.233, 0),
        (0.0, 3350, 2025, 0.025, 0.134, -1),
        (12.0, 19300, 9925, 0.754, 0.772, 11),
    ],
)
def test_stretch_between_printed_depths(d, building, contents, p_0, p_1, d_0):
    """USACE EGM 01-03, a quarter (30 of 120 m²) of 100,000 at 1.5 ft: (23.3 + 32.1)/2 = 27.7 %; contents (13.3 + 17.9)/2 = 15.6 %.

    At a printed depth the stretch that ends there: at 1 ft 23.3 %, 13.3 %; at 0 ft 13.4 %, 8.1 %; at 12 ft 77.2 %, 39.7 %.
    """
    found = bound(100_000.0, 120.0, 30.0, d * FOOT, "USD")
    assert (found.building, found.contents) == pytest.approx((building, contents))
    assert lines(found.steps) == pytest.approx({"D": building, "K": contents})
    inputs = {name: number.value for name, number in found.steps[0].inputs.items()}
    assert (inputs["p_0"], inputs["p_1"]) == pytest.approx((p_0, p_1))
    assert (inputs["d_0"], inputs["d_1"]) == pytest.approx((d_0 * FOOT, (d_0 + 1) * FOOT))
    assert f"{100 * p_0:g} % of the structure's value at {d_0} ft" in found.values[0].text


def test_deeper_than_the_table():
    """Over 12 ft no number and no line; the last stretch, from 11 ft, is named."""
    found = bound(100_000.0, 120.0, 30.0, 12.01 * FOOT, "USD")
    assert math.isnan(found.building) and math.isnan(found.contents)
    assert found.steps == ()
    assert "75.4 % of the structure's value at 11 ft" in found.values[0].text


def test_part_of_the_storey():
    """1000 · 0.3 · 40/50 = 240; more wet than the storey has: 300."""
    assert float(damage_bound(1000.0, 0.3, 40.0, 50.0)) == pytest.approx(240)
    assert float(damage_bound(1000.0, 0.3, 60.0, 50.0)) == pytest.approx(300)


def test_bound_of_all_rooms_at_the_deepest_water():
    """Here 100 ft² under 3 in, next door 50 ft² under 6 in, of 300 ft² worth 90,000: 13.4 + 9.9/2 = 18.35 %, half: 8257.50.

    Contents 8.1 + 5.2/2 = 10.7 %: 4815. What is below does not count.
    """
    more = (("hall", 50, 6, "tile", False),)
    found, _ = exposed("below: own room, building: 90000, storey_area: 300 ft2", "timber floor", depth=3, more=more)
    (one,) = found.floods
    assert one.building_bound == pytest.approx(8257.5)
    assert one.contents_bound == pytest.approx(4815)
    assert lines(one.bound_steps) == pytest.approx({"D": 8257.5, "K": 4815})
    assert any(value.name == "damage by depth of flood water" for value in one.values)
    assert not any("Take the higher" in text for text in found.cautions)
    assert any("leaves the storey below out" in text for text in found.cautions)


def test_no_bound_without_worth_and_area():
    for settings in ("building: 90000", "storey_area: 300 ft2", "contents: 500"):
        (one,) = exposed(settings)[0].floods
        assert (one.building_bound, one.contents_bound, one.bound_steps) == (None, None, ())


def test_contents_are_lost_no_more_than_once():
    """Bound 100,000 · (8.1 + 5.2/12) % · 1/2 = 4266.67; worth 5000: 4266.67, worth 4000: 4000."""
    plain = "building: 100000, storey_area: 200 ft2"
    for worth, lost in ((5000, 4266.67), (4000, 4000)):
        (one,) = exposed(f"{plain}, contents: {worth}")[0].floods
        assert one.contents_bound == pytest.approx(lost)
        assert one.contents == worth


# --- costs


def test_given_costs_below_a_floor_that_may_hold():
    """Tile may hold: 0 to 100 · 2; laminate does not: 100 · 1 to 100 · 2; here 100 · 3 to 100 · 20."""
    costs = "below: own room, costs: {low: 3 / ft2, high: 20 / ft2}, costs_below: {low: 1 / ft2, high: 2 / ft2}"
    (one,) = exposed(costs, "timber floor", flooring="tile")[0].floods
    assert one.on(BELOW) == pytest.approx((0, 200, 200))
    assert one.on(HERE) == pytest.approx((300, 2000, 2000))
    assert (one.low, one.high, one.dearest) == pytest.approx((300, 2200, 2200))
    (one,) = exposed(costs, "timber floor")[0].floods
    assert one.on(BELOW) == pytest.approx((100, 200, 200))
    assert (one.low, one.high) == pytest.approx((400, 2200))


def test_planned_costs_below_a_floor_that_may_hold():
    """Tile, used water, 80 ft²: here 80 (4.50 + 0) = 360 to 80 (8 + 10) = 1440; below 0 to 80 (8 + 6.31 + 15) = 2344.80.

    Dearest 80 · 45 = 3600 on each floor.
    """
    (one,) = exposed("below: shop or office", "timber floor", area=80, flooring="tile")[0].floods
    assert one.on(HERE) == pytest.approx((360, 1440, 3600))
    assert one.on(BELOW) == pytest.approx((0, 2344.8, 3600))
    assert (one.low, one.high, one.dearest) == pytest.approx((360, 3784.8, 7200))
    assert lines(one.steps) == pytest.approx(
        {"C_low_1": 360, "C_high_1": 1440, "C_high_2": 2344.8, "C_low": 360, "C_high": 3784.8}
    )
    here, below = (next(line.note for line in one.steps if line.symbol == f"C_high_{n}") for n in (1, 2))
    assert "if it comes through" in below and "c_k ceiling" in below
    assert "if it comes through" not in here and "c_k ceiling" not in here
    rows = [value.name for value in one.values if value.name.startswith("cost of")]
    assert rows == [
        *("cost of cleaning, used", "cost of floor finish, tile"),
        *("cost of ceiling, drywall", "cost of floor finish, not known"),
    ]


def test_clean_water_is_used_water_below():
    """100 ft² of laminate: here 100 (3.75 + 2) = 575, below 100 (4.50 + 1.50) = 600."""
    (one,) = exposed("water: clean, below: own room", "timber floor")[0].floods
    assert (one.on(HERE)[0], one.on(BELOW)[0]) == pytest.approx((575, 600))


def test_costs_of_nothing():
    (one,) = exposed("costs: {low: 0 / ft2, high: 0 / ft2}")[0].floods
    assert one.on(HERE) == (0, 0, 0)


def test_foul_water_stays_foul_below():
    """100 ft² of carpet: here 100 (7 + 3) to 100 (10.82 + 11); below 100 (7 + 1.50) to 100 (10.82 + 6.31 + 15)."""
    found, _ = exposed("water: foul, below: own room", "timber floor", flooring="carpet")
    assert found.floods[0].on(HERE)[:2] == pytest.approx((1000, 2182))
    assert found.floods[0].on(BELOW)[:2] == pytest.approx((850, 3213))
    assert (found.category, found.assumed) == (3, False)


@pytest.mark.parametrize(("water", "category"), [("clean", 1), ("used", 2), ("foul", 3)])
def test_categories(water, category):
    """ANSI/IICRC S500: 1 clean, 2 used, 3 foul."""
    found, _ = exposed(f"water: {water}")
    assert (found.category, found.assumed) == (category, False)
    assert not any(value.name == "category of the water" for value in found.floods[0].values)
    said = " ".join(found.cautions)
    assert [text in said for text in ("48 hours", "category 2", "category 3")] == [n == category for n in (1, 2, 3)]


def test_the_assumed_category_is_a_value_where_it_counts():
    def named(settings):
        return any(value.name == "category of the water" for value in exposed(settings)[0].floods[0].values)

    assert named("below: none")
    assert exposed("below: none")[0].floods[0].values[0].name == "category of the water"
    assert not named("costs: {low: 3 / ft2, high: 20 / ft2}")


def test_planning_figures_are_said_where_one_floor_has_them():
    """Here from the file, below by the plan; both from the file; here by the plan, below from the file."""
    costs, below = "costs: {low: 3 / ft2, high: 20 / ft2}", "costs_below: {low: 1 / ft2, high: 2 / ft2}"
    for settings, planned in ((costs, True), (f"{costs}, {below}", False), (below, True)):
        found, installation = exposed(f"below: own room, {settings}, liability_limit: 1", "timber floor")
        assert found.planned is planned
        assert any("planning figures" in text for text in found.cautions) is planned
        assert ("planning figures" in exposure_findings(found, installation)[0].basis) is planned
    found, _ = exposed(costs)
    assert not found.planned
    assert not any("Published figures differ" in text for text in found.cautions)


def test_the_dearest_of_several_events():
    """100 ft² and 234 ft² at 45 USD: 10 530 USD, said in two figures."""
    installation = installed("below: none")
    found = assess_exposure(installation, {"single": flood(), "earthquake": flood(area=234)})
    assert [one.dearest for one in found.floods] == pytest.approx([4500, 10_530])
    assert any(
        "(45 USD per ft² for everything) the costliest event would come to USD 11,000" in text
        for text in found.cautions
    )


def test_a_floor_without_costs_leaves_no_sum():
    """CHF, costs of this room only: nothing below, no sums, no lines of sums; the deposit is judged by this storey."""
    found, installation = exposed(
        "currency: CHF, below: own room, costs: {low: 1 / ft2, high: 2 / ft2}, deposit: 150, liability_limit: 9",
        "timber floor",
    )
    (one,) = found.floods
    assert (one.low, one.high, one.dearest, one.on(BELOW)) == (None, None, None, None)
    assert one.on(HERE) == pytest.approx((100, 200, 200))
    assert set(lines(one.steps)) == {"C_low_1", "C_high_1"}
    liability, deposit = exposure_findings(found, installation)
    assert liability.verdict == "not assessed"
    assert "give costs_below" in liability.reason
    assert (deposit.verdict, deposit.demand) == ("short", pytest.approx(200))
    assert lines(deposit.steps) == pytest.approx({"C_high_1": 200, "C_high_rooms": 200})


def test_no_costs_at_all():
    """CHF: neither sum nor line, whatever is asked."""
    found, installation = exposed(
        "currency: CHF, deposit: 150, liability_limit: 9, building: 2000, storey_area: 200 ft2"
    )
    for one in exposure_findings(found, installation):
        assert (one.verdict, one.demand) == ("not assessed", None)
        assert not [line for line in one.steps if line.symbol.startswith("C_")]
        assert "give costs (" in one.reason
    assert not any("Take the higher" in text for text in found.cautions)


# --- which floors


def test_which_floors_get_wet():
    """Dry ones (no area, no depth) do not; below each wet one as much, of unknown finish and depth."""
    installation = installed("below: own room, flooring: wood", "concrete floor")
    more = (("bath", 0, 1, "tile", False), ("hall", 50, 0, "tile", False), ("den", 30, 0.5, "vinyl", False))
    floors = wetted(flood(area=100, more=more, flooring=None), installation)
    assert [(floor.storey, floor.finish, floor.sure) for floor in floors] == [
        (HERE, "wood", True),
        (HERE, "vinyl", True),
        (BELOW, "not known", True),
        (BELOW, "not known", False),
    ]
    assert [floor.area / FT2 for floor in floors] == pytest.approx([100, 30, 100, 30])
    assert [floor.depth for floor in floors][2:] == [None, None]
    assert [floor.room for floor in floors] == ["this room", "den", "below this room", "below den"]


def test_what_comes_through_depends_on_the_kind_of_floor():
    """A slab on the ground that the file names has nothing below; a floor of unknown kind lets water through."""
    for floor, through in (("slab on grade", False), ("", True), ("timber floor", True), ("concrete floor", True)):
        (one,) = exposed("below: own room", floor)[0].floods
        assert (one.area(BELOW) > 0) is through
    assert exposed("below: none", "timber floor")[0].floods[0].area(BELOW) == 0


def test_all_of_a_storey():
    more = (("den", 30, 0.5, "vinyl", False),)
    (one,) = exposed("below: own room", "timber floor", more=more)[0].floods
    assert (one.area(HERE) / FT2, one.area(BELOW) / FT2) == pytest.approx((130, 130))


# --- against the limits


@pytest.mark.parametrize(
    ("limit", "verdict", "assessed"),
    [(1599, "short", True), (1600, "not assessed", False), (4499, "not assessed", False), (4500, "holds", True)],
)
def test_limits_at_the_published_figures(limit, verdict, assessed):
    """High 1600 USD, dearest 4500 USD: a limit from the one up to just under the other is not judged."""
    for key, name in (("liability_limit", "liability"), ("deposit", "deposit")):
        one = answers(f"{key}: {limit}")[name]
        assert one.verdict == verdict
        assert one.capacity == (limit if assessed else None)
        assert one.demand == pytest.approx(1600)
    assert bool(answers(f"liability_limit: {limit}")["liability"].reason) is (limit < 4500)


def test_which_questions_are_asked():
    assert set(answers()) == {"liability"}
    assert set(answers("deposit: 100")) == {"liability", "deposit"}
    assert set(answers("contents: 100")) == {"liability", "contents"}
    assert set(answers("contents_limit: 100")) == {"liability", "contents"}


def test_contents_against_their_limit():
    """900 of 600: short; by itself it is no planning figure, so nothing between is left out."""
    one = answers("contents: 900, contents_limit: 600")["contents"]
    assert (one.demand, one.capacity, one.ratio, one.verdict) == (900, 600, pytest.approx(1.5), "short")
    level = answers("contents: 900, contents_limit: 900")["contents"]
    assert (level.verdict, level.reason) == ("close", "")
    assert answers()["liability"].reason.startswith("no liability_limit")


def test_costs_by_storey_in_the_details():
    details = answers("below: own room", "timber floor")["liability"].details
    assert details[HERE] == "USD 650 to 1,600"
    assert details[BELOW] == "USD 600 to 2,900"
    assert BELOW not in answers()["liability"].details
    assert answers(area=5)["liability"].details[HERE] == "USD 32 to 80"  # 5 · 6.50, 5 · 16; half a square metre counts


def test_cautions_count_what_they_warn_of():
    def cautions(settings="", **sizes):
        return " ".join(exposed(settings, **sizes)[0].cautions)

    assert "What leaves" in cautions(leaves=0.1)
    assert "What leaves" not in cautions(leaves=0.0)
    assert "USACE" not in cautions()
    both = "building: 23000, storey_area: 200 ft2"
    assert "Take the higher" not in cautions(both)  # 23,000 · 14.225 % / 2 = 1635.88, 1600 by the plan
    assert "Take the higher" in cautions("building: 22000, storey_area: 200 ft2")  # 1564.75
    assert "both building and storey_area" not in cautions(both)
    assert "both building and storey_area" in cautions("storey_area: 200 ft2")
    assert "both building and storey_area" not in cautions()
