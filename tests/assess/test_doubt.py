"""Chances, what drives them, a year: closed forms, other libraries, and the pipeline by brute force."""

import math

import numpy as np
import pytest
from SALib.analyze import sobol as salib_sobol
from SALib.sample import sobol as salib_sample
from scipy import stats

from brimfast.assess.doubt.chances import chances, drivers, sample, values
from brimfast.assess.doubt.doubt import doubt
from brimfast.assess.doubt.ends import ends
from brimfast.assess.doubt.hazard import curve, generic_shape, power_law, through
from brimfast.assess.doubt.outcome import PUDDLE, LossCurve, loss_curve, mean_between, way
from brimfast.assess.doubt.response import Axis, Response, Setting, axis_of, learn, misfit, settings, together
from brimfast.assess.doubt.runs import run_all
from brimfast.assess.doubt.spread import Spread, around
from brimfast.assess.doubt.targets import Nowhere
from brimfast.assess.doubt.unknowns import Unknown, ranges_of_file, unknowns
from brimfast.assess.pipeline import before_water
from brimfast.assess.resolve import resolve
from brimfast.assess.spill.room import RoomBasin, basin
from brimfast.shared.errors import InputError
from brimfast.shared.findings import Value
from brimfast.shared.reading import read_bytes
from tests.builders import ONE_BAY, RACK, WEIGHED

NO_VALUE = Value("x", "", "test", "from memory")
TWO = """
installation: two tanks
site: {standard: asce7-16, S_DS: 0.6}
room: {length: 12 ft, width: 10 ft, sill: 1 in}
vessels:
  - {name: tall, kind: tank, mass: 300 lb, centre_of_mass: 24 in, footprint: 18 in x 24 in, holds: 25 gal}
  - {name: low, kind: tub, length: 30 in, width: 30 in, depth: 20 in, water: 14 in}
""".replace("tub", "tank")


def source(text):
    return read_bytes(text.encode(), "test.yaml")


def unknown(spread, role="file", name="x"):
    return Unknown(name, spread, Nowhere(), NO_VALUE, "", role)


class TestSpreads:
    def test_against_scipy(self):
        u = np.linspace(0.001, 0.999, 101)
        assert Spread("even", 2, 5).quantile(u) == pytest.approx(stats.uniform(2, 3).ppf(u))
        assert Spread("log-even", 2, 5).quantile(u) == pytest.approx(stats.loguniform(2, 5).ppf(u))
        assert around(3.0, 0.4).quantile(u) == pytest.approx(stats.lognorm(0.4, scale=3.0).ppf(u))
        normal = Spread("normal", 8, 12)
        assert normal.quantile(u) == pytest.approx(stats.norm(10, 2 / stats.norm.ppf(0.975)).ppf(u))

    def test_a_thousandth_is_cut_off(self):
        assert float(around(1.0, 0.4).quantile(0.0)) == pytest.approx(stats.lognorm(0.4).ppf(5e-4))
        assert float(around(1.0, 0.4).quantile(1.0)) == pytest.approx(stats.lognorm(0.4).ppf(1 - 5e-4))


def ratio_of(demand, capacity):
    """Shaking, and a strength: ln r = ln demand(shaking) − ln strength + ln capacity."""
    return (axis_of(unknown(around(1.0, demand), "shaking")), axis_of(unknown(around(1.0, capacity), "joints")))


class TestChances:
    @pytest.mark.parametrize("middle", [0.3, 0.6, 0.9, 1.0, 1.4])
    def test_lognormal_demand_and_capacity(self, middle):
        """P = Φ(ln(D/C)/√(β_D² + β_C²)): the closed form of two lognormal variables."""
        axes = ratio_of(0.4, 0.2)
        table = np.log(np.array(axes[0].nodes))[:, None]
        base = np.array([math.log(middle)])
        response = Response(axes, ("r",), base, {0: table}, {}, {1: np.array([1.0])})
        found = chances(response, np.array([0.0]), 100_000, 1)
        expected = stats.norm.cdf(math.log(middle) / math.hypot(0.4, 0.2))
        assert found.count >= 100_000
        assert float(found.chance[0]) == pytest.approx(expected, abs=1e-3)  # the thousandth that is cut off

    def test_misfit_widens_as_a_third_variable_would(self):
        axes = ratio_of(0.4, 0.2)
        table = np.log(np.array(axes[0].nodes))[:, None]
        response = Response(axes, ("r",), np.array([-0.5]), {0: table}, {}, {1: np.array([1.0])})
        found = chances(response, np.array([0.3]), 100_000, 1)
        expected = stats.norm.cdf(-0.5 / math.sqrt(0.4**2 + 0.2**2 + 0.3**2))
        assert float(found.chance[0]) == pytest.approx(expected, abs=1e-3)

    def test_normal_demand_and_capacity(self):
        """P(D > C) = Φ((μ_D − μ_C)/√(σ_D² + σ_C²)), by the same points and spreads."""
        demand, capacity = Spread("normal", 8, 12), Spread("normal", 10, 16)
        axes = (Axis(unknown(demand), (8, 10, 12), 1), Axis(unknown(capacity), (10, 13, 16), 1))
        x = sample(axes, 1 << 17, 3)
        sd = math.hypot(2, 3) / stats.norm.ppf(0.975)
        assert float((x[:, 0] > x[:, 1]).mean()) == pytest.approx(stats.norm.cdf(-3 / sd), abs=1e-3)

    def test_seed_repeats_and_error_is_honest(self):
        axes = ratio_of(0.4, 0.2)
        table = np.log(np.array(axes[0].nodes))[:, None]
        response = Response(axes, ("r",), np.array([-0.2]), {0: table}, {}, {1: np.array([1.0])})
        none = np.array([0.0])
        first, again, other = (chances(response, none, 4096, seed) for seed in (7, 7, 8))
        assert first.chance[0] == again.chance[0] != other.chance[0]
        many = chances(response, none, 1 << 19, 9).chance[0]
        apart = [abs(chances(response, none, 4096, seed).chance[0] - many) for seed in range(20)]
        errors = [chances(response, none, 4096, seed).error[0] for seed in range(20)]
        assert np.mean(apart) < 2 * np.mean(errors)


class TestDrivers:
    def test_sum_by_its_shares_of_variance(self):
        axes = ratio_of(0.4, 0.3)
        table = np.log(np.array(axes[0].nodes))[:, None]
        response = Response(axes, ("r",), np.array([0.0]), {0: table}, {}, {1: np.array([1.0])})
        found = drivers(response, 1, 8192)
        assert found.first[0] == pytest.approx([0.16 / 0.25, 0.09 / 0.25], abs=0.02)
        assert found.total[0] == pytest.approx([0.16 / 0.25, 0.09 / 0.25], abs=0.02)

    def test_what_acts_together_against_salib(self):
        """SALib's estimators (Saltelli 2010, Jansen 1999) on the same response, by its own points."""
        axes = (axis_of(unknown(around(1.0, 0.4), "shaking")), axis_of(unknown(Spread("even", 0.2, 0.5))))
        tables = {0: np.log(np.array(axes[0].nodes))[:, None], 1: np.linspace(0.8, -0.8, 3)[:, None]}
        pairs = {1: np.array([[[0.3], [-0.5]], [[-0.4], [0.9]]])}
        response = Response(axes, ("r",), np.array([0.0]), tables, pairs)
        found = drivers(response, 1, 16384)
        problem = {"num_vars": 2, "names": ["a", "b"], "bounds": [[0, 1], [0, 1]]}
        points = salib_sample.sample(problem, 16384, calc_second_order=False, seed=5)
        answers = response.ln(values(axes, points))[:, 0]
        other = salib_sobol.analyze(problem, answers, calc_second_order=False, seed=5)
        assert found.first[0] == pytest.approx(other["S1"], abs=0.02)
        assert found.total[0] == pytest.approx(other["ST"], abs=0.02)
        assert found.total[0].sum() > found.first[0].sum() + 0.02

    def test_what_does_not_vary_has_none(self):
        axes = ratio_of(0.4, 0.2)
        response = Response(axes, ("r",), np.array([0.5]), {0: np.zeros((11, 1))})
        assert not drivers(response, 1).total.any()


class TestResponse:
    @staticmethod
    def learned(function):
        spreads = (around(1.0, 0.4), Spread("even", 0.2, 0.5), Spread("even", -0.02, 0.02))
        axes = tuple(
            axis_of(unknown(spread, "shaking" if number == 0 else "file")) for number, spread in enumerate(spreads)
        )

        def answer(setting):
            at = dict(setting.at)
            return {"r": function(*(at.get(n, axis.nodes[axis.middle]) for n, axis in enumerate(axes)))}

        x = sample(axes, 64, 4)
        response = learn(axes, {one: answer(one) for one in settings(axes)}, {})
        return misfit(response, x, [answer(one) for one in together(axes, x)])

    def test_products_of_powers_are_exact(self):
        apart = self.learned(lambda k, mu, d: k**0.7 / mu * math.exp(20 * d))
        assert np.abs(apart).max() < 1e-9

    def test_sums_are_near_and_pairs_help(self):
        apart = self.learned(lambda k, mu, d: (0.2 + k) / mu * (1 + 5 * d) + 0.3 * k * mu)
        assert np.abs(apart).max() < 0.05

    def test_what_is_not_assessed_at_an_end_is_as_its_neighbour(self):
        apart = self.learned(lambda k, mu, d: math.nan if mu > 0.48 else 1 / mu)
        assert (
            np.isnan(apart).any()
            and (np.abs(apart) < 1e-9).sum() > 20
            and np.nanmax(np.abs(apart)) < math.log(0.48 / 0.35) + 1e-9
        )

    def test_beyond_the_ends_as_at_the_ends(self):
        axis = axis_of(unknown(Spread("even", 2, 4)))
        assert axis.weights(np.array([1.0, 9.0])) == pytest.approx(np.eye(3)[[0, 2]])


class TestPipeline:
    def test_chances_of_a_small_file_by_brute_force(self):
        """1,024 full runs of the pipeline, each limit counted, against the learned chances."""
        read = source(TWO)
        found = doubt(read.installation, read.raw, count=20_000, seed=2)
        axes = tuple(axis_of(one) for one in found.unknowns)
        x = sample(axes, 1024, 77)
        answers = run_all(read.raw, axes, together(axes, x))
        runs = [answers[one] for one in together(axes, x)]
        assert found.limits
        for one in found.limits:
            direct = np.mean([run[one.limit.id] > 1 for run in runs])
            spread = 3 * math.sqrt(max(direct * (1 - direct), 0.01) / 1024) + 0.005
            assert one.chance == pytest.approx(direct, abs=spread), one.limit.id

    def test_shaking_is_the_site_value_times_a_factor(self):
        stronger = before_water(source(RACK.replace("S_DS: 1.0", "S_DS: 1.3")).installation)
        shaken = before_water(source(RACK).installation, None, 1.3)
        pairs = [(a.ratio, b.ratio) for a, b in zip(stronger.findings, shaken.findings, strict=True)]
        assert all(a is None if b is None else a == pytest.approx(b, rel=1e-9) for a, b in pairs)

    @pytest.mark.parametrize(
        "site,twice",
        [
            ("{standard: eurocode8, a_g: 0.15, ground: C, spectrum: type 1}", "a_g: 0.30"),
            ("{standard: nzs1170.5, Z: 0.15, soil: C}", "Z: 0.30"),
            ("{standard: nbc2020, S_02: 0.40}", "S_02: 0.80"),
        ],
    )
    def test_in_other_standards_too(self, site, twice):
        key = twice.split(":")[0]
        text = RACK.replace("{standard: asce7-16, S_DS: 1.0}", site)
        old = next(part for part in site.strip("{}").split(", ") if part.startswith(f"{key}:"))
        stronger = before_water(source(text.replace(old, twice)).installation)
        shaken = before_water(source(text).installation, None, 2.0)
        for a, b in zip(stronger.findings, shaken.findings, strict=True):
            assert a.id == b.id and (a.ratio is None) == (b.ratio is None)
            if a.ratio is not None and b.ratio is not None:
                assert a.ratio == pytest.approx(b.ratio, rel=1e-6), a.id

    def test_a_memo_gives_the_same(self):
        read = source(RACK)
        axes = tuple(axis_of(one) for one in unknowns(read.installation, read.raw, resolve(read.installation)))
        some = settings(axes)[::9]
        alone = {one: run_all(read.raw, axes, [one])[one] for one in some}
        assert run_all(read.raw, axes, some) == alone

    def test_processes_give_the_same(self):
        read = source(TWO)
        one, two = (doubt(read.installation, read.raw, count=4000, processes=n) for n in (1, 2))
        assert [each.chance for each in one.limits] == [each.chance for each in two.limits]
        assert one.yearly_loss == two.yearly_loss


class TestUnknowns:
    def names(self, text):
        read = source(text)
        return {one.name: one for one in unknowns(read.installation, read.raw, resolve(read.installation))}

    def test_what_is_uncertain_in_all(self):
        found = self.names(RACK)
        assert {"the shaking itself", "strength of joints", "strength of the timber", "levels of the water"} <= set(
            found
        )
        assert "friction of wood on wood" in found and "weight of the flooded gravel" in found
        assert "weights that were given" not in found
        assert "weights that were given" in self.names(WEIGHED)
        assert all(one.value.source for one in found.values())

    def test_given_friction_is_no_unknown_where_it_is_one_number(self):
        text = WEIGHED.replace("holds: 50 gal", "holds: 50 gal, friction: {low: 0.4, high: 0.4}")
        assert not any("friction" in name for name in self.names(text))

    def test_ranges_of_the_file_and_of_the_standard(self):
        text = RACK.replace("S_DS: 1.0", "S_DS: 0.8 to 1.2").replace("water: 27 in", "water: 26 to 28 in")
        text = text.replace("installation: test rack", "installation: 0.8 to 1.2")
        read = source(text)
        found = {one.name: one.spread for one in ranges_of_file(read.raw)}
        assert found == {
            "site.S_DS": Spread("even", 0.8, 1.2),
            "vessels['tank'].water": Spread("even", pytest.approx(26 * 0.0254), pytest.approx(28 * 0.0254)),
        }

    def test_the_same_text_in_different_keys_is_read_in_each_ones_unit(self):
        text = WEIGHED.replace("mass: 500 lb", "mass: 450 to 550 lb").replace(
            "holds: 50 gal", "holds: 40 gal, anchors: {count: 4, tension: 450 to 550 lb, shear: 600 lb, source: x}"
        )
        found = {one.name: one.spread for one in ranges_of_file(source(text).raw)}
        assert found["vessels['tank'].mass"].low == pytest.approx(450 * 0.45359237)
        assert found["vessels['tank'].anchors.tension"].low == pytest.approx(450 * 4.4482216)

    def test_a_name_that_looks_like_a_range_is_a_name(self):
        text = WEIGHED.replace("S_DS: 1.0", "S_DS: 0.8 to 1.2").replace("name: tank", "name: 0.8 to 1.2")
        assert [one.name for one in ranges_of_file(source(text).raw)] == ["site.S_DS"]

    def test_friction_is_one_number_between_its_ends(self):
        given = "friction: {low: 0.2 to 0.3, high: 0.4 to 0.6}"
        for friction in (given, "friction: 0.2 to 0.6"):
            found = self.names(WEIGHED.replace("holds: 50 gal", f"holds: 50 gal, {friction}"))
            frictions = [one for name, one in found.items() if "friction" in name]
            assert [one.spread for one in frictions] == [Spread("even", 0.2, 0.6)]

    def test_names_of_unknowns_are_their_own(self):
        text = TWO.replace("holds: 25 gal", "holds: 25 gal, friction: 0.3 to 0.4")
        read = source(text)
        found = unknowns(read.installation, read.raw, resolve(read.installation))
        assert len({one.name for one in found}) == len(found)

    def test_too_many_ranges(self):
        vessels = "".join(
            f"  - {{name: t{n}, kind: tank, mass: 90 to 100 lb, centre_of_mass: 9 in, footprint: 9 in x 9 in, holds: 5 gal}}\n"
            for n in range(41)
        )
        with pytest.raises(InputError, match="at most 40"):
            ranges_of_file(source(TWO[: TWO.index("  - {name: tall")] + vessels).raw)

    def test_the_lightest_flooded_fill_is_water(self):
        text = ONE_BAY.replace("fill: gravel", "fill: perlite")
        read = source(text)
        found = doubt(read.installation, read.raw, count=1000)
        assert found.runs.unfit == 0

    def test_a_range_of_the_file_takes_the_place_of_the_usual_doubt(self):
        text = RACK.replace("water: 27 in", "water: 26 to 28 in").replace("water: 8 in", "water: 7 to 8 in")
        assert "levels of the water" not in self.names(text)

    def test_own_spreads(self):
        text = RACK + "doubt: {shaking: 30 %, fasteners: {median: 1.5, spread: 15 %}, water: 2 in}\n"
        found = self.names(text)
        assert found["the shaking itself"].spread == around(1.0, 0.3)
        assert found["strength of joints"].spread == around(1.5, 0.15)
        assert found["levels of the water"].spread == Spread("even", pytest.approx(-0.0508), pytest.approx(0.0508))
        assert found["strength of joints"].value.provenance == "given in the file"


class TestMiddle:
    def test_a_median_strength_counts_in_the_ratio_and_in_what_is_passed_already(self):
        weak = ONE_BAY.replace("count: 2, spread: 4 in", "count: 1")
        plain, strong = (doubt(*_with(weak, more), count=1000) for more in ("", "doubt: {fasteners: {median: 3}}"))
        ratios = [
            next(one.ratio for one in found.limits if one.limit.id.endswith("beam to post/gravity"))
            for found in (plain, strong)
        ]
        assert ratios[0] == pytest.approx(3 * ratios[1], rel=1e-6)
        names = [{one.id for one in found.before} for found in (plain, strong)]
        assert names[1] < names[0]

    def test_what_tips_in_weak_shaking_counts(self):
        slim = TWO.replace(
            "centre_of_mass: 24 in, footprint: 18 in x 24 in", "centre_of_mass: 60 in, footprint: 4 in x 24 in"
        )
        found = doubt(*_with(slim), count=4000)
        assert found.tips.design > 0.9 and found.water.design > 0.9 and not found.before


class TestEnds:
    def test_both_ends_of_each_range(self):
        read = source(TWO.replace("S_DS: 0.6", "S_DS: 0.3 to 0.9"))
        before = before_water(read.installation)
        found = ends(read.raw, before.findings)
        assert [one.upper for one in found] == [False, True]
        assert not found[0].worse and any(one.id.startswith("tipping/tall") for one in found[1].worse)

    def test_an_end_that_does_not_fit(self):
        read = source(TWO.replace("water: 14 in", "water: 14 to 24 in"))
        with pytest.raises(InputError) as caught:
            ends(read.raw, before_water(read.installation).findings)
        assert "upper end of the range: found water deeper" in caught.value.problems[0].message

    def test_nothing_without_ranges(self):
        read = source(TWO)
        assert ends(read.raw, ()) == ()


class TestHazard:
    def test_shape_goes_through_its_own_table(self):
        """NZS 1170.5:2004 Table 3.5: R 0.25 once in 25 years, 1.0 in 500, 1.8 in 2500."""
        found = curve(source(TWO + "doubt: {design_years: 500}\n").installation)
        for times, years in ((0.25, 25), (0.5, 100), (1.0, 500), (1.3, 1000), (1.8, 2500)):
            assert float(found.times(times)) == pytest.approx(1 / years, rel=1e-9)

    def test_design_earthquake_of_each_standard(self):
        def years(site):
            text = TWO.replace("{standard: asce7-16, S_DS: 0.6}", site)
            return curve(source(text).installation)

        assert float(years("{standard: asce7-16, S_DS: 0.6}").times(1.5)) == pytest.approx(1 / 2475)
        assert years("{standard: eurocode8, a_g: 0.2, ground: B, spectrum: type 1}").design_years == pytest.approx(475)
        raised = years("{standard: eurocode8, a_gR: 0.2, gamma_I: 1.4, ground: B, spectrum: type 1}")
        assert float(raised.times(1 / 1.4)) == pytest.approx(1 / 475)
        assert years("{standard: nzs1170.5, Z: 0.3, soil: C}").design_years == pytest.approx(500)
        assert years("{standard: nbc2020, S_02: 0.5}").design_years == pytest.approx(2475)

    def test_own_curve_and_slope(self):
        found = curve(source(TWO + "doubt: {hazard: [0.5 once in 100 years, 1 once in 400 years]}\n").installation)
        assert found.given and float(found.times([0.25, 2.0])[0]) == pytest.approx(1 / 25)
        assert float(found.times([0.25, 2.0])[1]) == pytest.approx(1 / 1600)
        sloped = curve(source(TWO + "doubt: {design_years: 400, slope: 2.5}\n").installation)
        assert float(sloped.times(3.0)) == pytest.approx(float(power_law(3.0, 1.0, 1 / 400, 2.5)))

    def test_stretching_keeps_the_shape(self):
        shape = generic_shape()
        stretched = through(shape, 2.0, 500.0)
        assert [a / b for (a, _), (b, _) in zip(stretched, shape, strict=True)] == pytest.approx([2.0] * len(shape))


class TestOutcomes:
    def test_mean_of_a_range(self):
        draws = stats.loguniform(100, 1000).mean()
        assert float(mean_between(100, 1000)) == pytest.approx(draws)
        assert float(mean_between(0, 1000)) == 500 and float(mean_between(200, 200)) == 200

    def test_sliding_by_hand(self):
        """a 0.6 g, V 0.8 m/s, a fifth up: N = 0.4 (1 − 0.2) = 0.32 g; pulse 0.8²/(2 · 9.80665 · 0.32)(1 − 0.32/0.6)."""
        pulse = 0.64 / (2 * 9.80665 * 0.32) * (1 - 0.32 / 0.6)
        records = 10 ** (0.215 + 0.51) * (1 - 0.32 / 0.6) ** 2.341 * (0.32 / 0.6) ** -1.438 / 100
        assert float(way(0.6, 0.8, 0.2, 0.4)) == pytest.approx(max(pulse, records))
        assert float(way(0.6, math.nan, 0.2, 0.4)) == pytest.approx(records)

    def test_cost_grows_with_the_water(self):
        read = source(TWO + "exposure: {flooring: carpet}\n")
        dry = before_water(read.installation)
        found = loss_curve(read.installation, basin(read.installation, dry.question.network), 0.5)
        assert isinstance(found, LossCurve) and not found.why
        means = found.mean(np.array([0.0, 0.001, 0.01, 0.02, 0.5]))
        assert means[0] == 0 and (np.diff(means) >= 0).all() and means[-1] > 0
        # a puddle: the area, and so the cost, in proportion to the water until the floor is covered
        assert means[3] == pytest.approx(2 * means[2], rel=0.05)
        assert read.installation.room.length * read.installation.room.width > 0.02 / PUDDLE

    def test_a_room_without_a_sill(self):
        read = source(TWO.replace("sill: 1 in", "sill: 0 in"))
        found = loss_curve(read.installation, RoomBasin(8.0, 0.0, 0.0, None), 0.5)
        assert not found.why and found.high[-1] > 0


class TestYear:
    def test_a_tenth_of_the_shaking_is_a_tenth_of_the_loss(self):
        """With one slope, once in 1,000 years for once in 100 makes all that follows a tenth as frequent."""
        often, rare = (
            doubt(*_with(TWO, f"doubt: {{design_years: {years}, slope: 2.5}}"), count=4000) for years in (100, 1000)
        )
        assert often.tips.design == rare.tips.design
        assert often.yearly_loss == pytest.approx(10 * rare.yearly_loss, rel=1e-9)
        for one, other in ((often.tips, rare.tips), (often.water, rare.water)):
            assert math.log1p(-one.yearly) == pytest.approx(10 * math.log1p(-other.yearly), rel=1e-9)

    def test_an_anchored_tank_tips_and_spills_less(self):
        alone = TWO[: TWO.index("  - {name: low")]
        free = doubt(*_with(alone), count=4000)
        anchors = "anchors: {count: 4, tension: 2000 lb, shear: 2000 lb, source: x}"
        anchored = doubt(*_with(alone.replace("holds: 25 gal", f"holds: 25 gal, {anchors}")), count=4000)
        assert anchored.tips is None and free.tips.yearly > 0  # its anchors are asked about instead
        assert anchored.joints.yearly < free.tips.yearly
        assert anchored.water.yearly < free.water.yearly
        assert anchored.yearly_loss < free.yearly_loss

    def test_the_year_is_the_integral_of_its_levels(self):
        """Tall tank alone: chance of tipping at each level by the closed form, over the curve by quadrature."""
        text = TWO[: TWO.index("  - {name: low")]
        found = doubt(*_with(text, "doubt: {design_years: 500, slope: 3, weights: 1 %}"), count=20_000)
        limit = next(one for one in found.limits if one.limit.id.startswith("tipping/tall/along"))
        falls = found.tips
        assert limit.chance > falls.design  # to fall asks for more than to begin to tip
        median = stats.norm.ppf(falls.design) * 0.4  # ln of the index with everything at its middle
        closed = 1 / 500 * math.exp(3 * median + 9 * 0.4**2 / 2)
        assert -math.log1p(-falls.yearly) == pytest.approx(closed, rel=0.15)


def _with(text, more=""):
    read = source(f"{text}{more}\n")
    return read.installation, read.raw


def test_settings_are_each_once():
    read = source(RACK)
    axes = tuple(axis_of(one) for one in unknowns(read.installation, read.raw, resolve(read.installation)))
    some = settings(axes)
    assert len(set(some)) == len(some) and some[0] == Setting()
