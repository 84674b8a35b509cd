"""Doubt in numbers that a pocket calculator gives: spreads, what is learned, chances, the year, what comes of it."""

import math
from types import SimpleNamespace

import numpy as np
import pytest

from brimfast.assess.doubt import chances as chances_file
from brimfast.assess.doubt import doubt as doubt_file
from brimfast.assess.doubt import ends as ends_file
from brimfast.assess.doubt import outcome as outcome_file
from brimfast.assess.doubt import runs as runs_file
from brimfast.assess.doubt.chances import Chances, Drivers, chances, drivers, passing, sample, values
from brimfast.assess.doubt.doubt import Year
from brimfast.assess.doubt.hazard import Curve, curve, generic_shape, power_law, through, times_a_year
from brimfast.assess.doubt.outcome import (
    Drawn,
    LossCurve,
    Outcomes,
    Slider,
    Ways,
    draw,
    is_joint,
    is_tipping,
    loss_curve,
    mean_between,
    outcomes,
    way,
)
from brimfast.assess.doubt.response import (
    SHAKING,
    Axis,
    Response,
    Setting,
    axis_of,
    learn,
    misfit,
    settings,
    shaking_of,
    together,
)
from brimfast.assess.doubt.runs import (
    FLOOR_ACCELERATION,
    FLOOR_VELOCITY,
    FLOOR_VERTICAL,
    Limit,
    changed,
    counted,
    limits,
    outputs,
    run_all,
)
from brimfast.assess.doubt.spread import Spread, around
from brimfast.assess.doubt.targets import Centres, FillWeight, FrictionUnder, Levels, Masses, Nowhere, There
from brimfast.assess.doubt.unknowns import Unknown, ranges_of_file, unknowns
from brimfast.assess.exposure.assess import assess_exposure
from brimfast.assess.resolve import resolve
from brimfast.assess.spill.room import RoomBasin
from brimfast.shared.errors import InputError
from brimfast.shared.findings import Value
from tests.builders import RACK, WEIGHED, dry, read

NO_VALUE = Value("x", "", "test", "from memory")


def near(expected, rel=1e-6):
    return pytest.approx(expected, rel=rel, abs=1e-9)


def unknown(spread, role="file", target=None):
    return Unknown("x", spread, target or Nowhere(), NO_VALUE, "", role)


class TestSpread:
    """z of 0.9: 1.281552, of 0.975: 1.959964, of 0.0005 (the cut): −3.290527 (tables of the normal distribution)."""

    def test_even(self):
        """2 + 3·0.3."""
        assert float(Spread("even", 2, 5).quantile(0.3)) == near(2.9)

    def test_log_even(self):
        """2·(5/2)^0.25 = 2·1.2574334."""
        assert float(Spread("log-even", 2, 5).quantile(0.25)) == near(2.5148669)

    def test_normal(self):
        """Mean 10.5, deviation 5/3.919928 = 1.2755337: 10.5 + 1.6346621; at the ends 10.5 ∓ 3.290527·1.2755337."""
        found = Spread("normal", 8, 13).quantile([0.9, 0.0, 1.0])
        assert found.tolist() == near([12.1346621, 6.3028225, 14.6971775])

    def test_lognormal(self):
        """Median √1.5 = 1.2247449, deviation ln 6/3.919928 = 0.4570899: 1.2247449·e^0.5857842; e^−1.5040665 at the end."""
        spread = Spread("lognormal", 0.5, 3.0)
        assert spread.quantile([0.9, 0.0]).tolist() == near([2.2001308, 0.2721685])
        assert spread.middle == near(1.2247449)

    def test_around_a_median(self):
        """3·e^∓(1.959964·0.4) = 3·0.4565826 and 3/0.4565826."""
        found = around(3.0, 0.4)
        assert (found.shape, found.low, found.high) == ("lognormal", near(1.3697479), near(6.5705522))


class TestTargets:
    @staticmethod
    def put(target, x):
        return {edit.path: edit.value for edit in target.edits(x)}

    def test_fill(self):
        """Porosity 0.4, grains 2600: flooded 400 + 0.6·2600 = 1960; 1.1 of it 2156: grains (2156 − 400)/0.6 = 2926.67.

        0.2 of it, 392, is less than the water alone: 10 kg/m³ are left.
        """
        found = self.put(FillWeight((1, 3), "gravel", 0.4, 2600.0), 1.1)
        by_hand = {"name": "gravel", "porosity": 0.4, "grain_density": near(2926.66667)}
        assert found == {("vessels", index, "fill"): by_hand for index in (1, 3)}
        assert self.put(FillWeight((1,), None, 0.4, 2600.0), 0.2) == {
            ("vessels", 1, "fill"): {"porosity": 0.4, "grain_density": 10.0}
        }

    def test_levels_stay_in_the_vessel(self):
        """0.5 + 0.05; 0.5 − 0.6 is nothing; 0.5 + 0.2 is over the rim at 0.6."""
        target = Levels(((2, 0.5, 0.6),))
        for x, level in ((0.05, 0.55), (-0.6, 0.0), (0.2, 0.6)):
            assert self.put(target, x) == {("vessels", 2, "water"): near(level)}

    def test_weights_and_what_they_hold(self):
        """1.1·300 kg and 1.1·0.2 m³; a weight that holds nothing stays so."""
        assert self.put(Masses(((0, 300.0, 0.2), (1, 50.0, None))), 1.1) == {
            ("vessels", 0, "mass"): near(330.0),
            ("vessels", 0, "holds"): near(0.22),
            ("vessels", 1, "mass"): near(55.0),
        }

    def test_centres(self):
        assert self.put(Centres(((4, 0.8),)), 1.1) == {("vessels", 4, "centre_of_mass"): near(0.88)}

    def test_a_number_of_the_file_and_friction(self):
        assert self.put(There(("site", "S_DS")), 0.7) == {("site", "S_DS"): 0.7}
        both = {("racks", "r", "friction"): {"low": 0.3, "high": 0.3}}
        assert self.put(FrictionUnder((("racks", "r"),)), 0.3) == both


class TestHazard:
    def test_power_law(self):
        """0.002·(0.6/0.2)^−2.5 = 0.002/15.588457."""
        assert float(power_law(0.6, 0.2, 0.002, 2.5)) == near(1.2830006e-4)

    def test_two_things_that_follow(self):
        """H 0.1, 0.04, 0.01. P 0.2, 0.5, 0.9: 0.06·0.35 + 0.03·0.7 + 0.01·0.9; P 0, 0.1, 0.3: 0.06·0.05 + 0.03·0.2 + 0.003."""
        found = times_a_year([0.1, 0.04, 0.01], [[0.2, 0.0], [0.5, 0.1], [0.9, 0.3]])
        assert found.tolist() == near([0.051, 0.012])

    def test_between_points_and_beyond(self):
        """Slopes ln 5/ln 2 (5 times rarer for each doubling) below 1, ln 4/ln 2 = 2 above."""
        found = Curve(((0.5, 0.05), (1.0, 0.01), (2.0, 0.0025)), (), True)
        assert found.times([0.25, 0.5, 1.0, 1.5, 2.0, 4.0]).tolist() == near(
            [0.25, 0.05, 0.01, 0.01 / 2.25, 0.0025, 0.000625]
        )
        assert found.design_years == near(100.0)

    def test_generic_shape(self):
        """NZS 1170.5:2004 Table 3.5: 0.2 once in 20 years ... 1.8 once in 2500. Beyond, slope ln 5/ln 1.8 = 2.7381327:

        at 3.6 2^−2.7381327/2500 = 5.995148e-5.
        """
        shape = generic_shape()
        assert shape[0] == (0.2, near(0.05)) and shape[5] == (1.0, near(0.002)) and shape[8] == (1.8, near(0.0004))
        assert len(shape) == 10 and shape[-1] == (near(1.8 * math.e), near(2.5876412e-5))
        assert float(Curve(shape, (), False).times(3.6)) == near(5.995148e-5)

    def test_through_a_point(self):
        """Once in 700 years is 1.4^(ln 1.3/ln 2) = 1.1358243 of the shape; 0.8 there stretches all by 0.7043343."""
        found = through(generic_shape(), 0.8, 700)
        assert found[5] == (near(0.7043343), near(0.002)) and found[0] == (near(0.1408669), near(0.05))

    @pytest.mark.parametrize(
        ("own", "times", "rates"),
        [
            # the design shaking once in 250 years, where the shape has 0.75: stretched by 4/3
            ("design_years: 250", [1.0, 4 / 3], [1 / 250, 1 / 500]),
            # 2^−2.5 = 0.1767767
            ("design_years: 400, slope: 2.5", [1.0, 2.0, 0.5], [0.0025, 4.4194174e-4, 0.0141421]),
            # ASCE 7-16: 1.5 times once in 2475 years; 3 times 2^−3 as often, 1 time 1.5^3 = 3.375 as often
            ("slope: 3", [1.5, 3.0, 1.0], [1 / 2475, 1 / 19800, 3.375 / 2475]),
            # the shape has 1.7·1.2375^(ln(1.8/1.7)/ln 1.25) = 1.7953720 once in 2475 years: stretched by 1.5/1.7953720
            ("shaking: 30 %", [1.5, 0.8354814], [1 / 2475, 1 / 500]),
        ],
    )
    def test_curve_of_a_file(self, own, times, rates):
        found = curve(read(WEIGHED + f"doubt: {{{own}}}\n").installation)
        assert found.times(times).tolist() == near(rates, 1e-5) and not found.given

    def test_curve_that_is_given(self):
        """0.5 once in 100, 1 once in 400 years: slope 2; the words say the years."""
        found = curve(read(WEIGHED + "doubt: {hazard: [0.5 once in 100 years, 1 once in 400 years]}\n").installation)
        assert found.given and float(found.times(0.25)) == near(0.04)
        assert found.values[0].text == "0.5 once in 100 years, 1 once in 400 years"


EVEN = Spread("even", 0.2, 0.8)
# a strength, then the shaking, then a friction: each has its own way
AXES = (
    axis_of(unknown(around(1.0, 0.2), "joints")),
    axis_of(unknown(around(1.0, 0.4), "shaking")),
    axis_of(unknown(EVEN)),
)
ALONG = {0.2: 0.6, 0.5: 0.0, 0.8: -0.2}  # ln r along the friction
WITH = {0.2: -0.1, 0.5: 0.0, 0.8: 0.2}  # how much ln k acts more there


def told(setting):
    """ln r = 0.3 + 2 ln k + ALONG + WITH ln k; q = 0.5 k, which is not assessed at a friction of 0.8; n never."""
    at = dict(setting.at)
    k, mu = at.get(1, 1.0), round(at.get(2, 0.5), 6)
    r = math.exp(0.3 + (2 + WITH[mu]) * math.log(k) + ALONG[mu])
    return {"r": r, "n": math.nan, "q": math.nan if mu == 0.8 else 0.5 * k}


class TestAxes:
    def test_weights_in_the_logarithm(self):
        """Nodes 0.25, 0.5, 2: 1 is half way from 0.5 to 2 (ln 2/ln 4), 0.3 is ln 1.2/ln 2 = 0.2630344 of the way to 0.5."""
        axis = Axis(unknown(EVEN), (0.25, 0.5, 2.0), 1)
        found = axis.weights(np.array([1.0, 0.3, 2.0, 0.1, 9.0, 0.5]))
        by_hand = [[0, 0.5, 0.5], [0.7369656, 0.2630344, 0], [0, 0, 1], [1, 0, 0], [0, 0, 1], [0, 1, 0]]
        assert found.tolist() == [near(row) for row in by_hand]

    def test_weights_of_what_may_be_nothing(self):
        """Nodes −2, 0, 4 as they are: −1.5 is a quarter of the way, 1 a quarter of the next."""
        axis = Axis(unknown(Spread("even", -2, 4)), (-2.0, 0.0, 4.0), 1)
        assert axis.weights(np.array([-1.5, 1.0])).tolist() == [near([0.75, 0.25, 0]), near([0, 0.75, 0.25])]

    def test_where_the_pipeline_runs(self):
        friction, shaking = axis_of(unknown(EVEN)), axis_of(unknown(around(1.0, 0.4), "shaking"))
        assert friction.nodes == near((0.2, 0.5, 0.8)) and friction.middle == 1
        assert shaking.nodes == SHAKING and SHAKING[shaking.middle] == 1.0 and shaking_of(AXES) == 1

    def test_settings(self):
        """The middle; 10 of the shaking and 2 of the friction; 0.5 and 2.2 of the shaking with both ends of the friction."""
        found = [tuple((number, round(x, 9)) for number, x in one.at) for one in settings(AXES)]
        along = [((1, s),) for s in SHAKING if s != 1.0] + [((2, 0.2),), ((2, 0.8),)]
        pairs = [((1, s), (2, x)) for s in (0.5, 2.2) for x in (0.2, 0.8)]
        assert found == [(), *along, *pairs]

    def test_all_at_once_but_strengths(self):
        assert together(AXES, np.array([[1.1, 1.5, 0.3]])) == [Setting(((1, 1.5), (2, 0.3)))]


class TestResponse:
    @staticmethod
    def learned():
        return learn(AXES, {one: told(one) for one in settings(AXES)}, {0: frozenset(["r"])})

    def test_what_is_learned(self):
        """The pair at shaking 0.5: −0.1·ln 0.5 and 0.2·ln 0.5; at 2.2 −0.1·ln 2.2 and 0.2·ln 2.2. Of q nothing at 0.8."""
        found = self.learned()
        assert found.names == ("r", "q") and found.base.tolist() == near([0.3, -0.6931472])
        assert sorted(found.tables) == [1, 2] and list(found.pairs) == [2]
        assert found.tables[2][:, 0].tolist() == near([0.6, 0.0, -0.2])
        assert found.tables[2][:, 1].tolist() == near([0.0, 0.0, 0.0])
        assert found.pairs[2][:, :, 0].tolist() == [near([0.0693147, -0.1386294]), near([-0.0788457, 0.1576915])]
        assert found.pairs[2][:, :, 1].tolist() == [near([0.0, 0.0])] * 2
        assert found.shifts[0].tolist() == [1.0, 0.0]

    @pytest.mark.parametrize(
        ("x", "r", "q"),
        [
            # 0.3 + 2 ln 1.5 + 0.6 (1 − ln 1.5/ln 2.5) − ln 1.1 − 0.0788457 (ln 1.5/ln 2.2) (ln 0.6/ln 0.4)
            ((1.1, 1.5, 0.3), 1.3275112, -0.2876821),
            # 0.3 + 2 ln 0.6 − 0.2 (ln 1.4/ln 1.6) − ln 0.8 − 0.1386294 (ln 0.6/ln 0.5) (ln 1.4/ln 1.6)
            ((0.8, 0.6, 0.7), -0.7148251, -1.2039728),
            # beyond the ends as at the ends: 0.3 + 2 ln 4 − 0.2 + 0.1576915
            ((1.0, 5.0, 0.9), 3.0302802, 0.6931472),
            # 0.3 + 2 ln 0.3 + 0.6 + 0.0693147
            ((1.0, 0.3, 0.1), -1.4386309, -1.8971200),
        ],
    )
    def test_between_and_beyond(self, x, r, q):
        """ln 2.5 0.9162907, ln 1.6 0.4700036, ln 2.2 0.7884574: each term as written beside it; q: ln 0.5 + ln k."""
        assert self.learned().ln(np.array([x, x])).tolist() == [near([r, q])] * 2

    def test_at_the_middle(self):
        """0.3; with half the shaking 0.3 + 2 ln 0.5; ln 0.5 and ln 0.25."""
        found = self.learned()
        assert found.at_middle().tolist() == near([0.3, -0.6931472])
        assert found.at_middle(0.5).tolist() == near([-1.0862944, -1.3862944])

    def test_one_output_alone(self):
        x = np.array([[1.1, 1.5, 0.3]])
        assert self.learned().only(slice(0, 1)).ln(x).tolist() == [near([1.3275112])]

    def test_misfit(self):
        """Without the strength, which the pipeline knows nothing of, ln r is 1.3275112 + ln 1.1 = 1.4228214; less ln 2."""
        found = misfit(self.learned(), np.array([[1.1, 1.5, 0.3]]), [{"r": 2.0}])
        assert float(found[0, 0]) == near(0.7296742) and math.isnan(found[0, 1])

    def test_gaps_are_as_their_nearest(self):
        """Friction with both ends missing, shaking from 2.2 on: as at the middle, and as at 1.7."""

        def answer(setting):
            at = dict(setting.at)
            k, mu = at.get(1, 1.0), round(at.get(2, 0.5), 6)
            return {"r": math.nan if k > 2 or k < 0.2 or mu != 0.5 else k}

        found = learn(AXES, {one: answer(one) for one in settings(AXES)}, {})
        assert found.tables[2][:, 0].tolist() == near([0.0, 0.0, 0.0])
        by_hand = [0.25, 0.25, 0.25, 0.5, 0.75, 1.0, 1.3, 1.7, 1.7, 1.7, 1.7]
        assert found.tables[1][:, 0].tolist() == near([math.log(one) for one in by_hand])


LINEAR = np.log(np.array(SHAKING))[:, None]
TWO_AXES = (axis_of(unknown(around(1.0, 0.4), "shaking")), axis_of(unknown(around(1.0, 0.3), "joints")))


class TestChances:
    def test_points(self):
        """Each of 64 Sobol points lies in a 64th of its own; through an even spread from 2 to 5."""
        axes = (axis_of(unknown(Spread("even", 2, 5))), axis_of(unknown(Spread("even", 0, 1))))
        found = sample(axes, 64, 5)
        assert found.shape == (64, 2)
        assert sorted(((found[:, 0] - 2) / 3 * 64).astype(int)) == list(range(64))
        assert values(axes, np.array([[0.5, 0.25]])).tolist() == [[3.5, 0.25]]

    def test_passing(self):
        """Φ(−0.2/0.4) = 0.3085375; what is learned exactly passes or not (0.001 is the least)."""
        assert passing(np.array([-0.2, 0.2, -0.1]), np.array([0.4, 0.4, 0.0])).tolist() == near(
            [0.3085375, 0.6914625, 0]
        )

    def test_parts_and_their_error(self, monkeypatch):
        """0.10, 0.12, … 0.24: mean 0.17, squares 0.0168/7, √0.0024 = 0.0489898, over √8 0.0173205."""
        each = iter(np.arange(0.10, 0.25, 0.02))
        monkeypatch.setattr(chances_file, "_mean", lambda *given: np.array([next(each), 0.5]))
        found = chances(SimpleNamespace(), np.zeros(2), 100, 1)
        assert found.chance.tolist() == near([0.17, 0.5]) and found.error.tolist() == near([0.0173205, 0.0])
        assert [count for count, _ in found.running] == [16, 32, 64, 128] and found.count == 128
        assert [float(part[0]) for _, part in found.running] == near([0.10, 0.11, 0.13, 0.17])

    @pytest.mark.parametrize(
        ("count", "all_of_them"), [(1, 64), (64, 64), (65, 128), (128, 128), (129, 256), (136, 256), (100_000, 131_072)]
    )
    def test_how_many(self, monkeypatch, count, all_of_them):
        """Never fewer than asked for: 8 times a power of two, at least 8."""
        asked = []
        monkeypatch.setattr(chances_file, "_mean", lambda response, off, each, seed: asked.append(each) or np.zeros(1))
        assert chances(SimpleNamespace(), np.zeros(1), count, 1).count == all_of_them
        assert asked == [all_of_them // 8] * 8

    def test_blocks_of_a_part(self):
        """Every ratio 1, by a misfit: Φ(0) = 1/2 of each of 8 · 16,384 samples, in blocks of 8,192."""
        still = Response(TWO_AXES, ("r", "s"), np.zeros(2), {0: np.zeros((11, 2))})
        assert chances(still, np.array([0.2, 0.3]), 131_072, 1).chance.tolist() == near([0.5, 0.5])

    def test_of_shaking_and_strength(self):
        """Φ(ln 0.7/√(0.4² + 0.3²)) = Φ(−0.7133499) = 0.237816; with a misfit of 0.2 Φ(−0.6623279) = 0.253881."""
        response = Response(
            TWO_AXES, ("r", "s"), np.full(2, math.log(0.7)), {0: np.repeat(LINEAR, 2, axis=1)}, {}, {1: np.ones(2)}
        )
        found = chances(response, np.array([0.0, 0.2]), 8192, 3)
        assert found.chance.tolist() == pytest.approx([0.237816, 0.253881], abs=2e-3)
        assert 0 < found.error[0] < 4e-3


class TestDrivers:
    def test_shares_of_variance(self):
        """0.16/0.25 and 0.09/0.25 of the first; the second does not vary; of the third all is the shaking's."""
        table = np.concatenate([LINEAR, 0 * LINEAR, LINEAR], axis=1)
        found = drivers(
            Response(TWO_AXES, ("r", "s", "t"), np.zeros(3), {0: table}, {}, {1: np.array([1.0, 0.0, 0.0])}), 1
        )
        by_hand = [[0.64, 0.36], [0.0, 0.0], [1.0, 0.0]]
        assert found.first == pytest.approx(np.array(by_hand), abs=0.04)
        assert found.total == pytest.approx(np.array(by_hand), abs=0.04)

    def test_in_blocks(self, monkeypatch):
        """One output at a time gives the same as all at once."""
        response = Response(TWO_AXES, ("r", "s"), np.zeros(2), {0: LINEAR * [1, 2]}, {}, {1: np.array([1.0, 0.5])})
        whole = drivers(response, 1, 64)
        monkeypatch.setattr(chances_file, "MOST_NUMBERS", 64 * 4)
        assert drivers(response, 1, 64).total.tolist() == [near(row) for row in whole.total.tolist()]

    def test_one_unknown_does_it_all(self):
        axes = TWO_AXES[:1]
        found = drivers(Response(axes, ("r", "s"), np.zeros(2), {0: LINEAR * [1, 2]}), 1, 64)
        assert found.first.tolist() == found.total.tolist() == [[1.0], [1.0]]

    def test_shares_stay_shares(self, monkeypatch):
        """Estimates may stray below 0 and above 1."""
        stray = np.array([[1.2, -0.1]])
        monkeypatch.setattr(chances_file, "_indices", lambda *given: (stray, stray + 0.05))
        found = drivers(Response(TWO_AXES, ("r",), np.zeros(1), {0: LINEAR}), 1, 64)
        assert found.first.tolist() == [[1.0, 0.0]] and found.total.tolist() == [[1.0, 0.0]]
        monkeypatch.setattr(chances_file, "_indices", lambda *given: (stray - 0.9, stray - 0.7))
        found = drivers(Response(TWO_AXES, ("r",), np.zeros(1), {0: LINEAR}), 1, 64)
        assert found.first.tolist() == [near([0.3, 0.0])] and found.total.tolist() == [near([0.5, 0.0])]


class TestSliding:
    """Newmark 1965: D = V²/(2 g N) (1 − N/A); Jibson 2007 (6): log10 D = 0.215 + 0.510 + log10((1 − r)^2.341 r^−1.438)."""

    def test_a_pulse_takes_it_further(self):
        """N = 0.4·0.8 = 0.32: 0.64/(2·9.80665·0.32)·0.4666667 = 0.0475868 m; 5.308844·0.1679364·2.469311/100 = 0.0220151 m."""
        assert float(way(0.6, 0.8, 0.2, 0.4)) == near(0.0475868, 1e-5)
        assert float(way(0.6, math.nan, 0.2, 0.4)) == near(0.0220151, 1e-4)

    def test_records_take_it_further(self):
        """A 1.2, N 0.3·0.8 = 0.24, r 0.2: 5.308844·0.8^2.341·0.2^−1.438/100 = 5.308844·0.593108·10.118564/100 = 0.318605 m."""
        assert float(way(1.2, 0.8, 0.2, 0.3)) == near(0.318605, 1e-4)

    def test_what_is_thrown_up_keeps_a_twentieth(self):
        """Vertical 1.2 of the weight: N = 0.3·0.05 = 0.015, r 0.0125: 5.308844·0.970982·545.3099/100 = 28.1096 m."""
        assert float(way(1.2, 0.8, 1.2, 0.3)) == near(28.1096, 1e-4)


class TestCost:
    def test_mean_of_what_is_even_in_its_logarithm(self):
        """20 to 80: 60/ln 4 = 43.280851; 100 to 1000: 900/ln 10; 0.5 to 2: 1.5/ln 4; 20 to 30: 10/ln 1.5; 0 to 80: 40; 30: 30."""
        found = mean_between([20, 100, 0.5, 20, 0, 30], [80, 1000, 2, 30, 80, 30])
        assert found.tolist() == near([43.280851, 390.865034, 1.0820213, 24.663035, 40.0, 30.0])

    @pytest.fixture
    def floods(self, monkeypatch):
        """What the costs are asked of, by volume (m³)."""
        asked = {}

        def keep(installation, floods):
            asked.update({one.volume: one for one in floods.values()})
            return assess_exposure(installation, floods)

        monkeypatch.setattr(outcome_file, "assess_exposure", keep)
        return asked

    TEXT = WEIGHED.replace(
        "sill: 1 in}",
        "sill: 1 in, next: [{name: hall, length: 2 m, width: 1.5 m, door: 32 in, flooring: carpet}, "
        "{name: hut, length: 2.5 m, width: 1 m, door: 32 in}]}",
    )
    COSTS = "exposure: {flooring: tile, costs: {low: 10 / m2, high: 40 / m2}}\n"

    def test_of_a_puddle_and_of_what_leaves(self, floods):
        """10 m² free behind a sill of 20 mm. 1 L: a third of a m², 3 mm deep if it stood alone, over 10 m² 0.1 mm.

        500 L: 200 stay, 20 mm deep; 300 go on over 2·1.5 + 2.5·1 = 5.5 m², 54.545 mm. Costs: 15.5 m² of 10 to 40, so
        465/ln 4 = 335.4266; 15 L wet 5 m²: 150/ln 4 = 108.2021.
        """
        found = loss_curve(read(self.TEXT + self.COSTS).installation, RoomBasin(10.0, 0.02, 0.2, None), 0.5)
        assert len(found.volumes) == 41 and (found.volumes[0], found.volumes[-1]) == (0.0, near(0.5))
        assert sorted(floods) == near(found.volumes[1:].tolist())
        first, last = floods[min(floods)], floods[max(floods)]
        assert (first.leaves, len(first.wet)) == (0.0, 1)
        assert (first.wet[0].area, first.wet[0].depth, first.wet[0].flooring) == (near(1 / 3), near(0.0001), "tile")
        assert last.leaves == near(0.3) and [one.room for one in last.wet] == ["the room", "hall", "hut"]
        assert [one.area for one in last.wet] == near([10.0, 3.0, 2.5])
        assert [one.depth for one in last.wet] == near([0.02, 0.0545455, 0.0545455], 1e-5)
        assert [one.flooring for one in last.wet] == ["tile", "carpet", "tile"]
        assert (found.low[-1], found.high[-1], found.low[0], found.high[0]) == (near(155.0), near(620.0), 0.0, 0.0)
        assert found.mean([0.5, 0.015, 0.0]).tolist() == near([335.426597, 108.202128, 0.0])

    def test_no_sill(self, floods):
        """Nothing is held: 3 mm all over 8 m² of 8 m²; all 500 L leave. In 0.8 m² 2 L are 3 mm over 0.6667 of 0.8 m²."""
        installation = read(self.TEXT + self.COSTS).installation
        loss_curve(installation, RoomBasin(8.0, 0.0, 0.0, None), 0.5)
        last = floods[max(floods)]
        assert (last.wet[0].area, last.wet[0].depth, last.leaves) == (8.0, near(0.003), near(0.5))
        floods.clear()
        found = loss_curve(installation, RoomBasin(0.8, 0.0, 0.0, None), 0.0005)
        last = floods[max(floods)]
        assert found.volumes[-1] == near(0.002) and (last.wet[0].area, last.wet[0].depth) == (near(2 / 3), near(0.0025))

    def test_no_free_floor(self, floods):
        """Then all of the room's 12 ft by 10 ft, 11.148365 m², counts."""
        loss_curve(read(self.TEXT + self.COSTS).installation, RoomBasin(0.0, 0.0, 0.0, None), 0.5)
        assert floods[max(floods)].wet[0].area == near(11.148365)

    def test_without_costs_in_its_money(self):
        found = loss_curve(
            read(self.TEXT + "exposure: {currency: EUR}\n").installation, RoomBasin(10, 0.02, 0.2, None), 0.5
        )
        assert "EUR" in found.why and not found.low.any() and not found.high.any()


def limit(id, topic="stability", subject=""):
    return Limit(id, topic, subject, "")


class TestOutcomes:
    TEXT = """
installation: four tanks
site: {standard: asce7-16, S_DS: 0.6}
room: {length: 12 ft, width: 10 ft, sill: 1 in}
vessels:
  - {name: a, kind: tank, mass: 300 lb, centre_of_mass: 24 in, footprint: 18 in x 24 in, holds: 25 gal}
  - {name: b, kind: tank, mass: 300 lb, centre_of_mass: 24 in, footprint: 18 in x 24 in, holds: 25 gal, friction: 0.3 to 0.5}
  - {name: c, kind: tank, mass: 300 lb, centre_of_mass: 24 in, footprint: 18 in x 24 in, holds: 25 gal, anchors: {count: 4, tension: 2000 lb, shear: 2000 lb, source: x}}
  - {name: d, kind: tank, mass: 300 lb, centre_of_mass: 24 in, footprint: 18 in x 24 in, holds: 25 gal, friction: {low: 0.35, high: 0.35}}
pumps:
  - {name: pump, from: a, to: c, flow: 600 gal/h, intake: 4 in, outlet: 3 in}
pipes:
  - {name: pipe, from: b, to: house drain, length: 3 ft, bore: 1 in, intake: 6 in}
"""

    def test_kinds_of_limits(self):
        assert (
            is_joint(limit("leaning/r", "joints")) and is_joint(limit("anchors/a")) and not is_joint(limit("sliding/a"))
        )
        assert is_tipping(limit("tipping/a")) and not is_tipping(limit("rocks/a"))

    @staticmethod
    def asked(axes, rows):
        """rows: name → (topic, subject, ln in the weakest shaking and the next, and in all that is stronger)."""
        names = tuple(rows)
        table = np.array([[row[2]] + [row[3]] * (len(SHAKING) - 1) for row in rows.values()], float).T
        response = Response(axes, names, np.zeros(len(names)), {shaking_of(axes): table})
        return response, {name: limit(name, *row[:2]) for name, row in rows.items() if row[0]}

    def test_on_the_floor(self):
        """a tips until it is known whether it falls; b rocks; c is anchored. What is over 1 in the weakest shaking (ln 0.5)

        is so already; at 1 it still counts; what no shaking changes does not.
        """
        rows = {
            "tipping/a/along": ("stability", "a", -1, 1.0),  # 0
            "tipping/a/across": ("stability", "a", 0.0, 0.5),  # 1
            "tipping/b/along": ("stability", "b", -1, 1),
            "rocks/b": ("stability", "b", -1, 1),  # 3
            "anchors/c/shear": ("stability", "c", -1, 1),  # 4
            "tipping/d/along": ("stability", "d", 0.5, 1),
            "anchors/d/shear": ("stability", "d", -1, -1),
            "sliding/a": ("stability", "a", -1, 1),
            "holds/a": ("", "", 0, 0),
            "holds/b": ("", "", 0, 0),
            "holds/c": ("", "", 0, 0),
            "holds/d": ("", "", 0, 0),
            "splashes/b": ("", "", -1, 1),  # 12
            "floor/acceleration": ("", "", 0.7, 1),
        }
        friction = FrictionUnder((("vessels", 0), ("vessels", 2)))
        axes = (*TWO_AXES, axis_of(unknown(EVEN, target=friction)))
        response, limits = self.asked(axes, rows)
        found = outcomes(dry(self.TEXT), response, limits)
        assert (found.tips, found.joints, found.before) == ((0, 1, 3), (4,), ("tipping/d/along",))
        assert [one.limits for one in found.vessels] == [(0, 1), (3,), (4,), ()]
        assert [(one.holds, one.splashes) for one in found.vessels] == [(8, None), (9, 12), (10, None), (11, None)]
        # a and b have pipes and slide; c is anchored, d has no pipe
        assert [one.slider for one in found.vessels] == [Slider("a", 0.2, 2), Slider("b", 0.3, None), None, None]

    def test_on_a_rack(self):
        """The bed comes down with its rack, by its joints, or off it; it slides with the rack, not the tank."""
        rows = {
            "tipping/rack r/across": ("stability", "rack r", -1, 1),  # 0
            "tipping/bed/across": ("stability", "bed", -1, 1),  # 1
            "sliding/bed": ("stability", "bed", -1, 1),  # 2
            "sliding/rack r": ("stability", "rack r", -1, 1),
            "joint/r/beam": ("joints", "rack r, beam to post", -1, 1),  # 4
            "leaning/r/across": ("joints", "rack r", -1, 1),  # 5
            "member/r/post": ("members", "rack r, posts", -1, 1),
            "joint/rr/beam": ("joints", "rack rr, beam to post", -1, 1),  # 7
            "rocks/tank": ("stability", "tank", -1, 1),  # 8
            "tipping/tank/any": ("stability", "tank", -1, 1),
            "joint/r/distances": ("joints", "rack r, beam to post", 0.5, 0.5),
            "holds/bed": ("", "", 0, 0),
            "holds/tank": ("", "", 0, 0),
        }
        axes = (
            TWO_AXES[0],
            axis_of(unknown(EVEN, target=FrictionUnder((("vessels", 1),)))),
            axis_of(unknown(EVEN, target=FrictionUnder((("racks", "r"),)))),
        )
        response, limits = self.asked(axes, rows)
        found = outcomes(dry(RACK), response, limits)
        assert (found.tips, found.joints, found.before) == ((0, 1, 8), (4, 5, 7), ("joint/r/distances",))
        assert [one.limits for one in found.vessels] == [(0, 1, 2, 4, 5), (8,)]
        assert [one.slider for one in found.vessels] == [Slider("rack r", 0.35, 2), Slider("tank", 0.2, 1)]


class TestDraw:
    NAMES = (
        "tips",
        "joint",
        "holds/a",
        "holds/b",
        "holds/c",
        "splashes/b",
        FLOOR_ACCELERATION,
        FLOOR_VELOCITY,
        FLOOR_VERTICAL,
    )
    KNOWN = Outcomes(
        (0,),
        (1,),
        (
            Ways("a", (0,), None, 2, None),
            Ways("b", (1,), Slider("b", 0.4, 0), 3, 5),
            Ways("c", (), Slider("c", 0.4, None), 4, None),
        ),
        (),
    )

    def drawn(self, rows, frictions, names=NAMES, off=0.0):
        """rows: the outputs of each sample, ln 1 where a limit is just reached."""
        response = SimpleNamespace(names=names, ln=lambda x: np.log(np.array(rows, float)))
        x = np.array(frictions, float)[:, None]
        return draw(self.KNOWN, response, np.full(len(names), off), x, np.random.default_rng(1))

    def test_what_reaches_the_floor(self):
        """a holds 40, b 30, c 20 L; floor 0.3 g (none slides), then 0.6 g with 0.8 m/s: at a friction of 0.3 b slides 82 mm,

        at 0.4 48 mm, less than the 50 mm of play (c always has 0.4); at 1.2 g both slide.
        """
        weak, strong, strongest = (0.3, 0.4, 0.2), (0.6, 0.8, 0.2), (1.2, 0.8, 0.2)
        samples = [
            ((0.9, 0.9, 40, 30, 20, 0.09, *weak), 0.4, 0.0),  # a tenth of a litre is wiped up
            ((1.0, 1.0, 40, 30, 20, 0.11, *weak), 0.4, 0.11),  # just reached is not passed
            ((1.2, 0.9, 40, 30, 20, 5.0, *weak), 0.4, 45.0),
            ((0.9, 1.2, 40, 30, 20, 5.0, *weak), 0.4, 30.0),
            ((0.9, 0.9, 40, 30, 20, 50.0, *weak), 0.4, 30.0),  # no more than it holds
            ((0.9, 0.9, 40, 30, 20, 0.01, *strong), 0.4, 0.0),
            ((0.9, 0.9, 40, 30, 20, 0.01, *strong), 0.3, 30.0),
            ((1.2, 0.9, 40, 30, 20, 0.01, *strongest), 0.3, 90.0),
        ]
        found = self.drawn([one[0] for one in samples], [one[1] for one in samples])
        assert found.water.tolist() == near([one[2] for one in samples])
        assert found.tips.tolist() == [False, False, True, False, False, False, False, True]
        assert found.joints.tolist() == [False, False, False, True, False, False, False, False]

    def test_where_the_floor_is_not_known_nothing_slides(self):
        found = self.drawn([(0.9, 0.9, 40, 30, 20, 5.0)], [0.1], self.NAMES[:6])
        assert found.water.tolist() == near([5.0])

    def test_what_was_learned_is_off(self):
        """ln r −0.5, off by 0.5: Φ(−1) = 0.1587 pass."""
        rows = np.tile([math.exp(-0.5), 0.001, 40, 30, 20, 0.01, 0.01, 0.01, 0.2], (20_000, 1))
        found = self.drawn(rows, np.full(20_000, 0.4), off=0.5)
        assert float(found.tips.mean()) == pytest.approx(0.1587, abs=0.008)


class TestRuns:
    @staticmethod
    def said(id, ratio=0.5, **more):
        given = {"verdict": "holds", "practice": False, "code_position": False, **more}
        return SimpleNamespace(id=id, ratio=ratio, topic="stability", subject="x", question="?", **given)

    def test_what_counts(self):
        said = self.said
        assert counted(said("tipping/a")) and counted(said("joint/r/beam", verdict="short"))
        assert not counted(said("pipe/a", practice=True)) and not counted(said("attachment/a", code_position=True))
        assert not counted(said("joint/r/distances")) and not counted(said("tipping/a", verdict="not assessed"))

    def test_outputs_and_limits(self, monkeypatch):
        """0.25 m³ are 250 L, 0.007 m³ 7 L; a wave of 60 mm under a rim at 100 mm 0.6, at the rim over 1 mm 60;

        300 N on a fastening of 400 N 0.75; no push at all 0.001.
        """
        said = self.said

        def wave(vessel, lid=None, assessed=True, freeboard=0.1):
            water = SimpleNamespace(freeboard=freeboard)
            return SimpleNamespace(vessel=vessel, way="any", lid=lid, assessed=assessed, wave=0.06, water=water)

        monkeypatch.setattr(
            runs_file, "under_lid", lambda wave: SimpleNamespace(each=wave.lid[0], allowable=wave.lid[1])
        )
        moving = {"acceleration": 0.24, "velocity": 0.57}
        known = SimpleNamespace(
            findings=[
                said("tipping/a", 0.7),
                said("leaning/r", None, verdict="short"),
                said("falls/a"),
                said("slosh/a/any", 0.9),
                said("pipe/a", practice=True),
            ],
            beyond={
                "a": SimpleNamespace(falls=0.8, **moving),
                "rack r": SimpleNamespace(falls=math.nan, **moving),
            },
            motion=SimpleNamespace(vertical=SimpleNamespace(share=0.12)),
            vessels={"a": SimpleNamespace(water_volume=0.25)},
            question=SimpleNamespace(splashes=[SimpleNamespace(subject="a", volume=0.007)]),
            waves=[
                wave("a"),
                wave("full", freeboard=0.0),
                wave("lidded", (300.0, 400.0)),
                wave("loose", (300.0, None)),
                wave("still", (0.0, 400.0)),
                wave("steep", (300.0, 400.0), assessed=False),
                wave("odd", assessed=False),
            ],
        )
        assert outputs(known) == {
            "tipping/a": 0.7,
            "leaning/r": 1000.0,
            "rocks/a": 0.8,
            FLOOR_ACCELERATION: 0.24,
            FLOOR_VELOCITY: 0.57,
            FLOOR_VERTICAL: 0.12,
            "holds/a": near(250.0),
            "slosh/a/any": near(0.6),
            "slosh/full/any": near(60.0),
            "slosh/lidded/any": near(0.75),
            "slosh/still/any": near(0.001),
            "splashes/a": near(7.0),
            **{f"splashes/{name}": 0.0 for name in ("full", "lidded", "loose", "still", "steep", "odd")},
        }
        assert sorted(limits(known)) == ["leaning/r", "rocks/a", "slosh/a/any", "tipping/a"]

    def test_values_that_are_put_in(self):
        """500 lb of 550 and 30 in of 33: 1.1 both; the shaking as the setting has it, or as it is."""
        raw = read(WEIGHED).raw
        axes = (
            TWO_AXES[0],
            axis_of(unknown(Spread("even", 0.9, 1.1), target=Masses(((0, 200.0, 0.15),)))),
            axis_of(unknown(Spread("even", 0.9, 1.1), target=Centres(((0, 0.7),)))),
        )
        found, shaking = changed(raw, axes, Setting(((0, 1.3), (1, 1.1))))
        (tank,) = found.vessels
        assert (shaking, tank.mass, tank.holds, tank.centre_of_mass) == (1.3, near(220.0), near(0.165), near(0.7))
        assert changed(raw, (), Setting())[1] == 1.0

    def test_each_setting_once_and_who_does_it(self, monkeypatch):
        """Processes begin only where two or more are wanted, and there are more runs than processes."""
        begun, told = [], []
        monkeypatch.setattr(runs_file, "run", lambda raw, axes, memo, setting: {"r": setting.at[0][1]})

        class Others:
            def submit(self, work, setting):
                return SimpleNamespace(result=lambda: {"r": 10 * setting.at[0][1]})

            def end(self, stopped):
                begun.append(stopped)

        monkeypatch.setattr(runs_file, "workers", lambda *given: Others())
        wanted = [Setting(((0, x),)) for x in (1.0, 2.0, 1.0, 3.0)]
        alone = run_all({}, (), wanted, progress=lambda done, of: told.append((done, of)))
        assert [alone[one]["r"] for one in wanted] == [1.0, 2.0, 1.0, 3.0] and not begun
        assert told == [(1, 3), (2, 3), (3, 3)]
        assert run_all({}, (), wanted, 1)[wanted[0]]["r"] == 1.0 and not begun
        assert run_all({}, (), wanted, 3)[wanted[0]]["r"] == 1.0 and not begun
        assert run_all({}, (), wanted, 2)[wanted[3]]["r"] == 30.0 and begun == [False]


MANY = """
installation: many
site: {standard: asce7-16, S_DS: 1.0}
room: {length: 24 ft, width: 16 ft, sill: 3 in, floor: {kind: slab on grade}}
vessels:
  - {name: d, kind: tank, mass: 300 lb, centre_of_mass: 24 in, footprint: 18 in x 24 in, friction: {low: 0.35, high: 0.35}}
  - {name: a, kind: tank, mass: 200 lb, centre_of_mass: 20 in, footprint: 18 in x 24 in, holds: 20 gal}
  - {name: c, kind: tank, mass: 250 to 270 lb, centre_of_mass: 22 in, footprint: 18 in x 24 in, friction: {low: 0.2 to 0.3, high: 0.4 to 0.6}}
  - {name: b, kind: tank, mass: 280 lb, centre_of_mass: 25 to 27 in, footprint: 18 in x 24 in}
  - {name: e, kind: bed, length: 3 ft, width: 2 ft, depth: 10 in, water: 8 in, fill: gravel, fill_depth: 9 in}
  - {name: f, kind: bed, length: 3 ft, width: 2 ft, depth: 12 in, water: 10 in, fill: {porosity: 0.35, grain_density: 2600 kg/m3}}
  - {name: g, kind: bed, length: 3 ft, width: 2 ft, depth: 10 in, water: 7 to 8 in, fill: gravel}
  - {name: h, kind: bed, length: 3 ft, width: 2 ft, depth: 10 to 11 in, water: 8 in, fill: {porosity: 0.3 to 0.4, grain_density: 2600 kg/m3}}
"""
OWN = "doubt: {shaking: 30 %, fasteners: {median: 1.5, spread: 15 %}, timber: {spread: 10 %}, fill: 20 %, weights: 5 %, water: 2 in}\n"


def vessel_path(*numbers):
    return tuple(("vessels", number) for number in numbers)


class TestUnknowns:
    @staticmethod
    def of(text):
        given = read(text)
        return {one.name: one for one in unknowns(given.installation, given.raw, resolve(given.installation))}

    def test_all_in_order(self):
        """Ranges come last, and those of a friction are in its own."""
        assert list(self.of(MANY)) == [
            "the shaking itself",
            "friction of plastic on concrete (a, b)",
            "friction of plastic on concrete (c)",
            "friction of wood on concrete",
            "weight of the flooded gravel",
            "weight of the flooded fill",
            "levels of the water",
            "weights that were given",
            "heights of centres of mass that were given",
            "vessels['c'].mass",
            "vessels['b'].centre_of_mass",
            "vessels['g'].water",
            "vessels['h'].depth",
            "vessels['h'].fill.porosity",
        ]

    def test_frictions(self):
        """One number is none; of low 0.2 to 0.3 and high 0.4 to 0.6 the outer ends; the table has 0.2 to 0.4."""
        found = self.of(MANY)
        own, table = (found[f"friction of plastic on concrete {names}"] for names in ("(c)", "(a, b)"))
        assert (own.spread, own.target.bodies) == (Spread("even", 0.2, 0.6), vessel_path(2))
        assert (table.spread, table.target.bodies) == (Spread("even", 0.2, 0.4), vessel_path(1, 3))
        assert (own.value.text, table.value.text) == ("0.2 to 0.6", "0.2 to 0.4")
        assert "friction of plastic on concrete" in self.of(WEIGHED)  # alone, without its name
        two = MANY[: MANY.index("  - {name: c")]
        assert "friction of plastic on concrete (a)" in self.of(two)

    def test_fills(self):
        """15 % of the table: 1/1.15 = 0.8695652 to 1.15; what has a range of its own has no other."""
        found = self.of(MANY)
        gravel, fill = found["weight of the flooded gravel"], found["weight of the flooded fill"]
        assert gravel.target.vessels == (4, 6) and fill.target == FillWeight((5,), None, 0.35, near(2600.0))
        for one in (gravel, fill):
            assert (one.spread.shape, one.spread.low, one.spread.high) == ("lognormal", near(0.8695652), 1.15)
        own = self.of(MANY + OWN)["weight of the flooded gravel"]
        assert (own.spread.low, own.spread.high) == (near(0.8333333), 1.2)
        assert (own.value.text, own.value.provenance) == ("give or take 20 %", "given in the file")
        assert (gravel.value.text, gravel.value.provenance) == ("give or take 15 %", "published")

    def test_levels(self):
        """Of e 8 of 10 in and f 10 of 12 in; g and h have ranges, a has no level. 1 in of the table, or 2 in of the file."""
        found = self.of(MANY)["levels of the water"]
        assert found.target.vessels == ((4, near(0.2032), near(0.254)), (5, near(0.254), near(0.3048)))
        assert (found.spread.shape, found.spread.low, found.spread.high) == ("even", near(-0.0254), near(0.0254))
        own = self.of(MANY + OWN)["levels of the water"]
        assert (own.spread.low, own.spread.high) == (near(-0.0508), near(0.0508))
        assert (own.value.text, found.value.text) == ("give or take 0.0508 m", "give or take 1 in")

    def test_weights_and_centres(self):
        """300, 200 and 280 lb (c has a range): 136.077711, 90.718474 and 127.005864 kg; 24, 20, 22 in (not b).

        10 % of the table: 1/1.1 = 0.9090909; 5 % of the file: 1/1.05 = 0.9523810.
        """
        found = self.of(MANY)
        weights, centres = found["weights that were given"], found["heights of centres of mass that were given"]
        by_hand = ((0, near(136.077711), None), (1, near(90.718474), near(0.0757082)), (3, near(127.005864), None))
        assert weights.target.vessels == by_hand
        assert centres.target.vessels == ((0, near(0.6096)), (1, near(0.508)), (2, near(0.5588)))
        for one in (weights, centres):
            assert (one.spread.shape, one.spread.low, one.spread.high) == ("lognormal", near(0.9090909), 1.1)
        own = self.of(MANY + OWN)["weights that were given"]
        assert (own.spread.low, own.spread.high) == (near(0.9523810), 1.05)

    def test_shaking_and_strengths(self):
        """e^(1.959964·0.4) = 2.1901841 times either way, joints 0.2: 1.4799271, timber 0.25: 1.6323015.

        Of the file: e^(1.959964·0.3) = 1.8003646; 1.5·e^±(1.959964·0.15): 1.1179208 and 2.0126650; e^0.1959964 = 1.2165224.
        """
        found = self.of(RACK)
        shaking, joints, timber = (
            found[name] for name in ("the shaking itself", "strength of joints", "strength of the timber")
        )
        for one, role, times in (
            (shaking, "shaking", 2.1901841),
            (joints, "joints", 1.4799271),
            (timber, "timber", 1.6323015),
        ):
            assert (one.role, one.spread.low, one.spread.high) == (role, near(1 / times), near(times))
        assert (shaking.value.text, shaking.value.provenance) == ("40 %: within 2.2 times", "published")
        found = self.of(RACK + OWN)
        assert found["the shaking itself"].spread.high == near(1.8003646)
        joints, timber = found["strength of joints"], found["strength of the timber"]
        assert (joints.spread.low, joints.spread.high) == (near(1.1179208), near(2.0126650))
        assert timber.spread.high == near(1.2165224)
        assert joints.value.text == "1.5 times the design value, 15 %: within 1.3 times"
        assert (timber.value.text, timber.value.provenance) == ("10 %: within 1.2 times", "given in the file")
        median = self.of(RACK + "doubt: {fasteners: {median: 2}}\n")["strength of joints"].value
        assert (median.text, median.provenance) == (
            "2 times the design value, 20 %: within 1.5 times",
            "given in the file",
        )

    def test_joints_are_those_of_racks_and_anchors(self):
        anchored = WEIGHED.replace(
            "holds: 50 gal", "holds: 50 gal, anchors: {count: 4, tension: 500 lb, shear: 600 lb, source: x}"
        )
        for text, there in ((RACK, [True, True]), (anchored, [True, False]), (WEIGHED, [False, False])):
            assert [name in self.of(text) for name in ("strength of joints", "strength of the timber")] == there

    def test_ranges_of_site_racks_and_vessels(self):
        """14 to 16 in: 0.3556 to 0.4064 m."""
        text = RACK.replace("S_DS: 1.0", "S_DS: 0.8 to 1.2").replace(
            "    bays: 2", "    component: {R_p: 1.5 to 2.5, reason: x}\n    bays: 2"
        )
        text = text.replace("water: 27 in", "water: 14 to 16 in, component: {R_p: 2 to 3, reason: x}")
        found = {one.name: one for one in ranges_of_file(read(text).raw)}
        assert {name: (one.spread.low, one.spread.high) for name, one in found.items()} == {
            "site.S_DS": (0.8, 1.2),
            "racks.r.component.R_p": (1.5, 2.5),
            "vessels['tank'].component.R_p": (2.0, 3.0),
            "vessels['tank'].water": (near(0.3556), near(0.4064)),
        }
        assert "official" in found["site.S_DS"].measure and found["vessels['tank'].water"].measure == "measure it"

    def test_forty_ranges_may_be(self):
        line = (
            "  - {{name: t{0}, kind: tank, mass: 90 to 100 lb, centre_of_mass: 9 to 10 in, footprint: 9 in x 9 in}}\n"
        )
        head = MANY[: MANY.index("  - {name: d")]
        assert len(ranges_of_file(read(head + "".join(line.format(n) for n in range(20))).raw)) == 40


class TestEnds:
    def test_at_each_end(self):
        """450 to 550 lb: 204.11657 and 249.47580 kg."""
        raw = read(WEIGHED.replace("mass: 500 lb", "mass: 450 to 550 lb")).raw
        (one,) = ranges_of_file(raw)
        masses = [ends_file._at_end(raw, one, upper).vessels[0].mass for upper in (False, True)]
        assert masses == near([204.11657, 249.47580])

    @pytest.mark.parametrize(
        ("change", "end", "words"),
        [
            (("mass: 500 lb", "mass: 400 to 500 lb"), "lower", "holds with more water"),  # 50 gal are 417 lb
            (("length: 12 ft", "length: 3 to 12 ft"), "lower", "room"),
            (("holds: 50 gal", "holds: 40 to 70 gal"), "upper", "holds with more water"),
        ],
    )
    def test_an_end_that_does_not_fit(self, change, end, words):
        raw = read(WEIGHED.replace(*change)).raw
        with pytest.raises(InputError) as caught:
            ends_file.must_fit(raw)
        message = caught.value.problems[0].message
        assert message.startswith(f"at the {end} end of the range: ") and words in message

    def test_what_is_worse(self):
        """Close or short now, and not as bad before; what was not asked before counts as holding."""

        def worse(before, now):
            return ends_file._worse(before and SimpleNamespace(verdict=before), SimpleNamespace(verdict=now))

        verdicts = ("holds", "not assessed", "close", "short")
        table = {before: [now for now in verdicts if worse(before, now)] for before in (None, *verdicts)}
        assert table == {
            None: ["close", "short"],
            "holds": ["close", "short"],
            "not assessed": ["close", "short"],
            "close": ["short"],
            "short": [],
        }


def losses(why=""):
    """40 L cost 20 to 80: 60/ln 4 = 43.280851 in the mean; less water in proportion."""
    return LossCurve(np.array([0.0, 0.04]), np.array([0.0, 20.0]), np.array([0.0, 80.0]), "EUR", why)


class TestDoubt:
    TEXT = WEIGHED + "  - {name: low, kind: tank, length: 30 in, width: 20 in, depth: 20 in, water: 14 in}\n"
    JOINT, TIPS = limit("joint/r/beam", "joints", "rack r"), limit("tipping/low", "stability", "low")

    def said(self, monkeypatch, why="", tips=(0,), before=(), **more):
        """What the whole makes of numbers that are known; returns it with the volume up to which costs are asked."""
        most = []

        def curve_of(installation, room, volume):
            most.append(volume)
            return losses(why)

        response = SimpleNamespace(names=("tipping/low", "joint/r/beam"), at_middle=lambda: np.log([0.8, 1.2]))
        asked = {"tipping/low": self.TIPS, "joint/r/beam": self.JOINT}
        chance = np.array([0.3, 0.6])
        running = tuple((n, np.array(one)) for n, one in ((16, (0.2, 0.7)), (32, (0.28, 0.58)), (64, (0.3, 0.6))))
        drawn = Drawn(np.arange(5) < 1, np.arange(5) < 3, np.array([0.0, 10.0, 20.0, 30.0, 40.0]))
        for name, answer in {
            "_learned": (response, np.array([0.05, 0.07]), doubt_file.Runs(23, 16, 2), asked),
            "chances": Chances(chance, chance / 100, running, 64),
            "drivers": Drivers(np.zeros((2, 2)), np.array([[0.7, 0.3], [0.9, 0.1]])),
            "outcomes": Outcomes(tips, (1,), (), before),
            "_outcomes": drawn,
            "_rates": (0.1, 0.2, 0.3, 0.4),
        }.items():
            monkeypatch.setattr(doubt_file, name, lambda *given, answer=answer, **named: answer)
        monkeypatch.setattr(doubt_file, "loss_curve", curve_of)
        given = read(self.TEXT)
        return doubt_file.doubt(given.installation, given.raw, **more), most

    def test_of_known_numbers(self, monkeypatch):
        """1 − e^−0.1 = 0.0951626, 1 − e^−0.2 = 0.1812692, 1 − e^−0.3 = 0.2591818. Water 0, 10, 20, 30, 40 L: three of five

        are over 10 L; 5 in 100 at 2 L, 95 in 100 at 38 L; cost 43.280851·(0 + 1/4 + 1/2 + 3/4 + 1)/5 = 21.640426.
        Volumes up to 50 gal of the one tank and 30·20·20 in³ of the other: 189.27059 + 196.64477 L.
        """
        found, most = self.said(monkeypatch)
        assert (found.tips.design, found.tips.yearly) == (near(0.2), near(0.0951626))
        assert (found.joints.design, found.joints.yearly) == (near(0.6), near(0.1812692))
        assert (found.water.design, found.water.yearly) == (near(0.6), near(0.2591818))
        assert found.litres == near((2.0, 20.0, 38.0))
        assert (found.design_loss, found.yearly_loss, found.currency) == (near(21.640426), 0.4, "EUR")
        assert most == near([0.38591536])
        assert found.running == ((16, near(0.1)), (32, near(0.02))) and found.samples == 64 and found.seed == 1
        assert found.not_assessed == 3  # both floors under them, and the waves of the weighed one
        assert [one.limit for one in found.limits] == [self.JOINT, self.TIPS]
        worst = found.limits[0]
        assert (worst.ratio, worst.chance, worst.error, worst.misfit, worst.shares) == (
            near(1.2),
            0.6,
            near(0.006),
            0.07,
            (0.9, 0.1),
        )

    def test_without_costs_or_others(self, monkeypatch):
        """What tips already without an earthquake, and nothing else: no chance."""
        found, _ = self.said(monkeypatch, "no costs", (), ("tipping/low",))
        assert (found.yearly_loss, found.design_loss, found.loss_why) == (None, None, "no costs")
        assert found.tips == Year(None, None, (self.TIPS,)) and found.joints.already == ()
        assert self.said(monkeypatch, "", ())[0].tips is None

    def test_the_most_likely_first(self):
        """Chances that differ by a tenth of a millionth are the same: the larger ratio goes before."""
        names = ("floor/acceleration", "a", "b", "c")
        response = SimpleNamespace(names=names, at_middle=lambda: np.log([1.0, 0.5, 0.9, 0.1]))
        chance = np.array([0.0, 0.3000001, 0.3, 0.6])
        known = Chances(chance, chance, (), 64), Drivers(np.zeros((4, 1)), np.zeros((4, 1)))
        listed = doubt_file._listed(response, {name: limit(name) for name in "abc"}, *known, np.zeros(4))
        assert [one.limit.id for one in listed] == ["c", "b", "a"]

    def test_what_strength_helps(self):
        axes = (TWO_AXES[0], TWO_AXES[1], axis_of(unknown(around(1.0, 0.2), "timber")), axis_of(unknown(EVEN)))
        names = ["joint/r/a", "leaning/r", "anchors/c", "member/r/beam", "member/r/beam/sag", "tipping/a"]
        assert doubt_file.loses(axes, names) == {1: frozenset(names[:3]), 2: frozenset(["member/r/beam"])}

    def test_what_to_measure(self):
        """Weights 0.5·0.5 and 0.2·0.8: a (0.25·0.3 + 0.16·0.1)/0.41 = 0.2219512, b (0.25·0.2 + 0.16·0.7)/0.41 = 0.3951220."""
        shaking, a, b = (unknown(EVEN, role) for role in ("shaking", "file", "file"))
        limits = [
            SimpleNamespace(chance=chance, shares=shares)
            for chance, shares in (
                (0.5, (0.5, 0.3, 0.2)),
                (0.2, (0.2, 0.1, 0.7)),
                (0.995, (0, 1, 0)),
                (0.005, (0, 1, 0)),
            )
        ]
        found = doubt_file.Doubt.measure_first.fget(SimpleNamespace(limits=limits, unknowns=(shaking, a, b)))
        assert [one for one, _ in found] == [b, a] and [share for _, share in found] == near([0.3951220, 0.2219512])

    def test_how_far_off_and_how_many_runs(self, monkeypatch):
        """Of 16 checks four are 0.3 over, six 0.1 under, four not assessed, two no installation:

        √((4·0.09 + 6·0.01)/10) = 0.2049390; s is known once only, 0.3 off; q never. 1 + 10 + 2·2 + 2·4 = 23 runs to learn.
        """
        axes = (TWO_AXES[0], axis_of(unknown(EVEN)), axis_of(unknown(Spread("even", 1, 2))))
        asked = []

        def run_all(raw, axes, wanted, processes, progress):
            asked.append((processes, progress))
            if progress is not None:
                progress(1, len(wanted))
            found = {}
            for setting in wanted:
                at = dict(setting.at)
                exact = at.get(0, 1.0) * at.get(1, 0.5) / at.get(2, 1.5)
                found[setting] = {"r": exact, "s": exact, "q": exact}
                if len(at) == 3:
                    n = sum(1 for one in found if len(one.at) == 3) - 1
                    off = 0.3 if n < 4 else -0.1
                    r = exact * math.exp(off) if n < 10 else math.nan
                    found[setting] = {} if n >= 14 else {"r": r, "s": r if n < 1 else math.nan}
            return found

        monkeypatch.setattr(doubt_file, "run_all", run_all)
        response, off, ran, limits = doubt_file._learned(dry(self.TEXT), {}, axes, 1, 2, None)
        assert response.names == ("r", "s", "q") and off.tolist() == near([0.2049390, 0.3, 0.0])
        assert (ran.learned, ran.checked, ran.unfit) == (23, 16, 2) and "tipping/low/along its length" in limits
        heard = []
        doubt_file._learned(dry(self.TEXT), {}, axes, 1, 2, lambda *words: heard.append(words))
        assert asked[0] == (2, None) and heard == [("runs of the whole computation", 1, 39)]


class TestYear:
    """Shaking that is felt as it is; draws that pass at 1.5 (tips), 0.5 (joints), and 40 L from 2.5, else just a bucket."""

    AXES = (axis_of(unknown(around(1.0, 1e-6), "shaking")), axis_of(unknown(EVEN)))
    RESPONSE = SimpleNamespace(axes=AXES, shaking=0)

    @pytest.fixture(autouse=True)
    def drawn(self, monkeypatch):
        sizes = []

        def draw(known, response, off, x, rng):
            sizes.append(x.shape)
            k = x[:, 0]
            return Drawn(k > 1.5, k > 0.5, np.where(k > 2.5, 40.0, 10.0))

        monkeypatch.setattr(doubt_file, "draw", draw)
        return sizes

    def test_times_a_year(self, drawn):
        """Levels 0.05·80^(n/28), so to say 0.4472 and 0.5230, 1.3375 and 1.5641, 2.1389 and 2.5013; H = 0.002/a³:

        0.02236068, 0.01398243; 8.359254e-4, 5.227151e-4; 2.043902e-4, 1.278078e-4. A step between two counts half of both:
        joints 0.01817155, tips 6.793202e-4, water 1.660990e-4. 10 L cost 10.820213: 16 a year (at 0.05) of it, and
        32.460638 more from 2.5 on: 173.123403 + 0.0053917.
        """
        hazard = Curve(((1.0, 0.002), (2.0, 0.00025)), (), True)
        tips, joints, water, loss = doubt_file._rates(None, self.RESPONSE, None, hazard, losses(), 1)
        assert (tips, joints, water) == (near(6.793202e-4), near(0.01817155), near(1.660990e-4))
        assert loss == near(173.128795)
        assert drawn == [(4096, 2)] * 29

    @pytest.mark.parametrize(("count", "all_of_them"), [(64, 64), (65, 128), (16_384, 16_384)])
    def test_samples_of_the_design_earthquake(self, drawn, count, all_of_them):
        """The next power of two, in blocks of 8,192; at 1 joints pass, nothing tips, and a bucket is spilled each time."""
        found = doubt_file._outcomes(None, self.RESPONSE, None, count, 1)
        assert len(found.water) == len(found.tips) == all_of_them and len(drawn) == max(all_of_them // 8192, 1)
        assert found.joints.all() and not found.tips.any() and set(found.water) == {10.0}
