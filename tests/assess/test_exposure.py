"""What the water touches and may cost: hand arithmetic, laws, whose figures count."""

import itertools
import math
from dataclasses import replace

import numpy as np
import pytest

from brimfast.assess.exposure.assess import assess_exposure
from brimfast.assess.exposure.costs import area_cost
from brimfast.assess.exposure.damage import damage_bound, damage_share
from brimfast.assess.exposure.findings import exposure_findings
from brimfast.assess.exposure.wetted import BELOW, HERE
from brimfast.assess.pipeline import assess
from brimfast.assess.spill.flood import Flood, Wet
from brimfast.data_tables import loader, rows
from brimfast.reports import choice, summary_words, words
from brimfast.reports.exposure_faces import EXPOSURE_HEAD, exposure_json, exposure_rows, exposure_words
from brimfast.shared.findings import finding
from brimfast.shared.installation.site import FLOORINGS, WATERS
from brimfast.shared.reading import read_bytes
from brimfast.shared.units import CURRENCIES, QUANTITIES, money, money_kind, money_range, show
from tests.builders import WEIGHED
from tests.reports.test_steps import evaluated, in_system

FT2 = 0.3048**2
INCH = 0.0254


def installed(exposure="", floor=""):
    text = WEIGHED.replace("sill: 1 in", f"sill: 1 in, floor: {{kind: {floor}}}") if floor else WEIGHED
    text += f"exposure: {{{exposure}}}\n" if exposure else ""
    return read_bytes(text.encode(), "test.yaml").installation


def flood(area=100.0, depth=1.0, flooring="laminate", leaves=0.0, more=()):
    """Areas in ft², depths in inches."""
    wets = [("room", area, depth, flooring, True), *more]
    wet = tuple(Wet(room, a * FT2, d * INCH, finish, here) for room, a, d, finish, here in wets)
    return Flood("rupture/tank", "tank breaks", 0.2, leaves, wet)


def exposed(exposure="", floor="", **sizes):
    installation = installed(exposure, floor)
    return assess_exposure(installation, {"single": flood(**sizes)}), installation


def answers(exposure="", floor="", **sizes):
    found, installation = exposed(exposure, floor, **sizes)
    return {one.id.removeprefix("exposure/single/"): one for one in exposure_findings(found, installation)}


def test_cost_by_hand():
    """100 ft² of laminate under used water: 100 (4.50 + 2) = 650 to 100 (8 + 8) = 1600 USD; slab, nothing below."""
    found, _ = exposed()
    (one,) = found.floods
    assert (one.low, one.high) == pytest.approx((650, 1600))
    assert (found.category, found.assumed) == (2, True)
    assert [floor.storey for floor in one.floors] == [HERE]
    assert area_cost(10.0, [2.0, 3.0]) == pytest.approx([20, 30])


def test_what_comes_through_by_hand():
    """Below 100 ft² of laminate on joists: 100 (4.50 + 1.50 + 0) = 600 to 100 (8 + 6.31 + 15) = 2931 USD more."""
    (one,) = exposed("below: shop or office", "timber floor")[0].floods
    assert one.on(BELOW)[:2] == pytest.approx((600, 2931))
    assert (one.low, one.high) == pytest.approx((650 + 600, 1600 + 2931))
    assert one.area(BELOW) == pytest.approx(one.area(HERE))
    assert one.floors[1].depth is None


@pytest.mark.parametrize("flooring", FLOORINGS)
def test_a_tight_floor_only_changes_the_low_cost_below(flooring):
    (one,) = exposed("below: own room", "concrete floor", flooring=flooring)[0].floods
    holds = flooring in ("sealed concrete", "tile", "vinyl")
    assert one.floors[1].sure is not holds
    assert one.on(BELOW)[:2] == pytest.approx((0 if holds else 600, 2931))


def test_slab_on_the_ground_has_nothing_below():
    (one,) = exposed("below: none", "timber floor")[0].floods
    assert one.area(BELOW) == 0
    contradicting, _ = exposed("below: own room", "slab on grade")
    assert contradicting.floods[0].area(BELOW) == 0
    assert any("slab on the ground has none" in text for text in contradicting.cautions)
    unsaid, _ = exposed("below: own room")
    assert unsaid.floods[0].area(BELOW) > 0
    assert any("not the kind of floor" in text for text in unsaid.cautions)


def test_clean_water_is_used_below():
    (one,) = exposed("water: clean, below: own room", "timber floor")[0].floods
    assert one.on(HERE)[0] == pytest.approx(100 * (3.75 + 2))
    assert one.on(BELOW)[0] == pytest.approx(600)
    assert any("48 hours" in text for text in exposed("water: clean")[0].cautions)


def test_neighbouring_rooms_count_with_their_own_floor():
    """50 ft² of tile next door: 50 × 4.50 = 225 to 50 (8 + 10) = 900 USD more; a dry room not at all."""
    more = (("hall", 50, 0.5, "tile", False), ("bath", 30, 0, "tile", False))
    (one,) = exposed(more=more)[0].floods
    assert [floor.room for floor in one.floors] == ["this room", "hall"]
    assert (one.low, one.high) == pytest.approx((650 + 225, 1600 + 900))
    assert max(floor.depth for floor in one.floors) == pytest.approx(INCH)


def test_the_file_overrides_the_planning_figures():
    (one,) = exposed("costs: {low: 3 / ft2, high: 20 / ft2}")[0].floods
    assert (one.low, one.high, one.dearest) == pytest.approx((300, 2000, 2000))
    (one,) = exposed(
        "below: own room, costs: {low: 10 / m2, high: 100 / m2}, costs_below: {low: 1 / ft2, high: 2 / ft2}",
        "timber floor",
    )[0].floods
    assert one.on(HERE)[:2] == pytest.approx((10 * 100 * FT2, 100 * 100 * FT2))
    assert one.on(BELOW)[:2] == pytest.approx((100, 200))
    (mixed,) = exposed("below: own room, costs: {low: 3 / ft2, high: 20 / ft2}", "timber floor")[0].floods
    assert mixed.on(BELOW)[:2] == pytest.approx((600, 2931))
    assert mixed.dearest == pytest.approx(2000 + 4500)


def test_other_currencies_need_their_own_costs():
    found, installation = exposed("currency: EUR, liability_limit: 10000")
    (one,) = found.floods
    assert (one.low, one.high) == (None, None)
    (liability,) = exposure_findings(found, installation)
    assert liability.verdict == "not assessed"
    assert "only in USD: give costs" in liability.reason
    assert "not assessed" in exposure_words(found, installation)
    assert "not assessed" in exposure_rows(found, "si")[0]
    half, _ = exposed("currency: EUR, below: own room, costs: {low: 30 / m2, high: 100 / m2}", "timber floor")
    assert half.floods[0].high is None
    assert half.floods[0].on(HERE)[1] == pytest.approx(100 * 100 * FT2)
    assert "costs_below" in half.floods[0].why
    whole, installation = exposed("currency: EUR, costs: {low: 30 / m2, high: 100 / m2}, liability_limit: 500")
    (liability,) = exposure_findings(whole, installation)
    assert liability.verdict == "short"
    assert words.amount(liability.demand, liability, "us") == "EUR 929"
    assert not whole.planned


@pytest.mark.parametrize(
    ("limit", "verdict"),
    [(1000, "short"), (1600, "not assessed"), (4400, "not assessed"), (4600, "holds")],
)
def test_a_limit_between_the_published_figures_is_not_judged(limit, verdict):
    """High 1600 USD by the planning figures, 100 × 45 = 4500 USD by the dearest published one."""
    one = answers(f"liability_limit: {limit}")["liability"]
    assert one.verdict == verdict
    assert one.demand == pytest.approx(1600)
    assert one.practice
    assert not one.advice_key


def test_a_renter():
    """This storey against the deposit, all against the limit, contents no more than they are worth."""
    found = answers(
        "below: other people's room, deposit: 1500, liability_limit: 3000, contents: 900, contents_limit: 1000",
        "timber floor",
    )
    assert (found["deposit"].demand, found["deposit"].verdict) == (pytest.approx(1600), "short")
    assert (found["liability"].demand, found["liability"].verdict) == (pytest.approx(4531), "short")
    assert (found["contents"].demand, found["contents"].verdict) == (900, "close")
    for one in found.values():
        assert one.quantity == "money USD"
        assert one.practice
        assert "USD" in words.sentence(one, "us")
    assert "ask your insurer" in found["liability"].basis
    assert answers("contents: 900")["contents"].reason == "no contents_limit is given"
    assert answers("contents_limit: 900")["contents"].reason == "no contents is given"
    assert answers()["liability"].verdict == "not assessed"


def test_bound_by_depth_by_hand():
    """1 in on half of a storey of 200 ft² worth 100,000: (13.4 + 9.9/12) % of it × 1/2; contents (8.1 + 5.2/12) %."""
    (one,) = exposed("building: 100000, storey_area: 200 ft2")[0].floods
    assert one.building_bound == pytest.approx(100_000 * (0.134 + 0.099 / 12) / 2)
    assert one.contents_bound == pytest.approx(100_000 * (0.081 + 0.052 / 12) / 2)
    (one,) = exposed("building: 100000, storey_area: 200 ft2, contents: 500")[0].floods
    assert one.contents_bound == 500
    (one,) = exposed("building: 100000, storey_area: 50 ft2")[0].floods
    assert one.building_bound == pytest.approx(100_000 * (0.134 + 0.099 / 12))
    found, _ = exposed("building: 100000")
    assert found.floods[0].building_bound is None
    assert any("both building and storey_area" in text for text in found.cautions)
    found, _ = exposed("building: 2000, storey_area: 200 ft2")
    assert any("Take the higher" in text for text in found.cautions)


def test_bound_is_not_a_number_beyond_the_table():
    assert np.isnan(damage_share([-1, 20], [0, 10], [0.1, 0.2])).all()
    assert damage_share([0, 5, 10], [0, 10], [0.1, 0.2]) == pytest.approx([0.1, 0.15, 0.2])
    assert damage_bound(100.0, [0.1, 0.2], 3.0, 2.0) == pytest.approx([10, 20])
    found, installation = exposed("building: 100000, storey_area: 200 ft2", depth=200)
    assert math.isnan(found.floods[0].building_bound)
    assert exposure_json(found, "si")["events"][0]["as_if_flooded"] is None
    assert any("not assessed" in row for row in exposure_rows(found, "us"))
    assert exposure_findings(found, installation)


def test_more_water_never_costs_less():
    settings = "below: own room, building: 100000, storey_area: 300 ft2"
    for flooring in FLOORINGS:
        sizes = itertools.product((50, 100, 200, 400), (0.25, 1, 6, 14))
        ones = {
            size: exposed(settings, "timber floor", area=size[0], depth=size[1], flooring=flooring) for size in sizes
        }
        for (area, depth), (found, _) in ones.items():
            for (wider, deeper), (other, _) in ones.items():
                if wider >= area and deeper >= depth:
                    less, more = found.floods[0], other.floods[0]
                    assert more.low >= less.low
                    assert more.high >= less.high
                    assert more.building_bound >= less.building_bound
                    assert more.contents_bound >= less.contents_bound


def test_dirtier_water_never_costs_less():
    for flooring in FLOORINGS:
        costs = [exposed(f"water: {water}", flooring=flooring)[0].floods[0] for water in WATERS]
        for less, more in itertools.pairwise(costs):
            assert more.low >= less.low
            assert more.high >= less.high


def test_tables_are_in_order_and_complete():
    for row in loader.table(rows.UnitCost):
        assert 0 <= row.low_usd_ft2 <= row.high_usd_ft2
        assert row.year
    widest = loader.unit_cost("floor finish", "not known")
    for flooring in FLOORINGS:
        row = loader.unit_cost("floor finish", flooring)
        assert widest.low_usd_ft2 <= row.low_usd_ft2
        assert row.high_usd_ft2 <= widest.high_usd_ft2
        assert loader.floor_covering(flooring).holds in ("yes", "no")
    for water in WATERS:
        assert loader.unit_cost("cleaning", water)
    relation = loader.depth_damage()
    for before, after in itertools.pairwise(relation):
        assert after.depth_ft == before.depth_ft + 1
        assert after.structure_percent > before.structure_percent
        assert after.contents_percent > before.contents_percent


def test_steps_follow_from_their_inputs():
    count = 0
    for settings in (
        "below: own room, building: 150000, storey_area: 300 ft2, deposit: 900, liability_limit: 9000",
        "below: own room, currency: CHF, costs: {low: 30 / m2, high: 90 / m2}, costs_below: {low: 1 / m2, high: 2 / m2}",
    ):
        more = (("hall_way", 50, 0.5, "tile", False),)
        found = answers(settings, "timber floor", more=more)
        for step in (step for one in found.values() for step in one.steps):
            for system in ("si", "us"):
                result, _ = in_system(step.result, step, system)
                assert evaluated(step, system) == pytest.approx(result, rel=1e-9), step
            assert "hall_way" not in step.note
            count += 1
        assert found["liability"].demand == found["liability"].steps[-1 if "CHF" in settings else -3].result.value
    assert count > 20
    assert found["liability"].steps[0].inputs["c"].unit == "CHF/m²"


def test_deposit_is_the_sum_of_this_storey():
    more = (("hall", 50, 0.5, "tile", False),)
    one = answers("below: own room, deposit: 900", "timber floor", more=more)["deposit"]
    assert one.demand == pytest.approx(2500)
    assert one.steps[-1].result.value == pytest.approx(2500)


def test_nothing_wet_nothing_said():
    found, installation = exposed(depth=0)
    assert (found.floods, found.cautions, exposure_findings(found, installation)) == ((), (), [])
    assert exposure_words(found, installation) == ""
    assert exposure_rows(found, "us") == []


def test_a_number_that_is_none_is_not_assessed():
    one = answers("liability_limit: 9000", area=math.nan)["liability"]
    assert one.verdict == "not assessed"


def test_faces():
    settings = "below: other people's room, deposit: 1000, liability_limit: 3000, contents: 900, contents_limit: 500, "
    installation = installed(settings + "building: 100000, storey_area: 200 ft2", "timber floor")
    quake = flood(area=120, leaves=0.1, flooring="tile")
    found = assess_exposure(installation, {"single": flood(), "earthquake": replace(quake, text="it all breaks")})
    text = exposure_words(found, installation)
    assert text.startswith("Drying and repair after the worst one earthquake can do may come to")
    assert "USD 540 to 5,700" in text
    assert "the liability limit of USD 3,000 and the deposit of USD 1,000" in text
    assert "worth more than the contents limit of USD 500" in text
    assert 2 <= text.count(". ") + 1 <= 4
    rows = exposure_rows(found, "si")
    assert all(len(row) == len(EXPOSURE_HEAD) for row in rows)
    assert ["Worst of one earthquake, together", "", "", "", "USD 540", "USD 5,680"] in rows
    assert any("doors" in text for text in found.cautions)
    data = exposure_json(found, "us")
    assert data["events"][0]["floors"][0]["area"] == pytest.approx(100)
    assert data["events"][0]["floors"][0]["depth"] == pytest.approx(1)
    assert (data["currency"], data["category"], data["category_assumed"]) == ("USD", 2, True)
    said = " ".join(
        (text, *found.cautions, *(one.basis + one.reason for one in exposure_findings(found, installation)))
    )
    assert "safe" not in said.lower()
    assert "insur" in said
    assert not any(
        word in said.lower() for word in ("covered by", "insurance covers", "insurer covers", "insurer pays")
    )


def test_money_is_no_danger():
    """A short finding of money sets no exit code, is in no count, and is none of the worst."""
    quiet = assess(read_bytes(WEIGHED.encode(), "test.yaml").installation)
    holding = tuple(one for one in quiet.findings if one.verdict == "holds")
    money_short = finding(
        "exposure/single/liability", "exposure", "s", "q?", 9.0, 1.0, money_kind("USD"), "b", practice=True
    )
    quiet = replace(quiet, findings=(*holding, money_short))
    assert not quiet.anything_short
    assert choice.counts(quiet)["short"] == 0
    assert summary_words.headline(quiet) == "Everything that was checked holds."
    assert choice.worst(quiet) == []
    assert replace(quiet, findings=(*holding, replace(money_short, practice=False, topic="spill"))).anything_short


@pytest.mark.parametrize(
    ("value", "text"),
    [(12345, "USD 12,300"), (0, "USD 0"), (4.5, "USD 4"), (999.6, "USD 1,000"), (3e9, "USD 3,000,000,000")],
)
def test_money(value, text):
    assert money(value, "USD") == text
    assert show(value, "money USD", "us") == text


def test_money_is_not_made_up():
    assert money(math.nan, "USD") == "USD ?"
    assert money_range(1880, 12345, "USD") == "USD 1,900 to 12,000"
    assert money_range(0, 12345, "CHF") == "up to CHF 12,000"
    assert money_range(500, 500, "USD") == "USD 500"
    assert money_range(0, 0, "USD") == "USD 0"
    assert all(money_kind(currency) in QUANTITIES for currency in CURRENCIES)
