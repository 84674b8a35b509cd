"""What makes a plan of what the search found: needless measures out, racks of one frame together, fronts that are thinned."""

import itertools
import math
import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from brimfast.assess import memo as memo_module
from brimfast.assess.measures.propose import propose
from brimfast.assess.memo import Memo
from brimfast.assess.pipeline import assess, before_water
from brimfast.assess.plan import fronts
from brimfast.assess.plan.bench import Bench
from brimfast.assess.plan.fronts import NONE, Enough, Point, front_of, least_cost, merged
from brimfast.assess.plan.improve import Improvement, _Work, improve
from brimfast.assess.plan.refine import LEAST, refining
from brimfast.assess.plan.score import Answer, Score, changes, outcome, score
from brimfast.assess.plan.search import beside_each_other, search, searching
from brimfast.shared.demo import demo
from brimfast.shared.edits import Edit, edited
from brimfast.shared.installation.model import Installation
from tests.assess.test_frame_rack import CORNER
from tests.assess.test_plan import brute, problems
from tests.builders import RACK, assessed, read
from tests.planned import SMALL, improved_small


def by_overload(left, cost):
    return round(left.overload, 3), cost


def refine(start, outcomes, cost, tries, several=()):
    return beside_each_other([refining(start, by_overload, several, cost, tries)], outcomes)[0]


# ---- several searches beside each other


@given(problems(), problems(), st.integers(1, 20))
@settings(max_examples=30, deadline=None)
def test_searches_beside_each_other_find_what_each_finds_alone(one, other, most):
    groups, cost, outcomes = one
    mine, price, answers = other
    shift = len(cost)
    moved = [[number + shift for number in group] for group in mine]

    def both(sets):
        found = []
        for each in sets:
            if any(number >= shift for number in each):
                found += answers([frozenset(number - shift for number in each)])
            else:
                found += outcomes([each])
        return found

    def alone(sets):
        return [answer if each else outcomes([each])[0] for each, answer in zip(sets, both(sets), strict=True)]

    together = beside_each_other([searching(groups, cost, most), searching(moved, [*cost, *price], most)], alone)
    assert together[0] == search(groups, cost, alone, most)
    assert together[1] == search(moved, [*cost, *price], alone, most)


def test_what_several_ask_at_once_is_asked_once():
    asked = []

    def outcomes(sets):
        asked.append(list(sets))
        return [Score(1.0, 0.0) for _ in sets]

    beside_each_other([searching([[0]], [1.0], 10), searching([[0]], [1.0], 10)], outcomes)
    assert asked == [[NONE, frozenset({0})]]


# ---- no measure that is not missed


def test_needless_measures_go_also_where_two_stand_in_for_each_other():
    """0 is needed; 1 does nothing; of 2 and 3 either is enough: the dearer goes, the other stays."""

    def outcomes(sets):
        return [Score(0.0, 2.0 - (0 in each) - bool({2, 3} & each)) for each in sets]

    found = refine(frozenset({0, 1, 2, 3}), outcomes, [1.0, 1.0, 2.0, 3.0], 100)
    assert (found.chosen, found.unproven) == ({0, 2}, 0)


def test_few_tries_are_kept_to_and_said():
    asked = []

    def outcomes(sets):
        asked.extend(sets)
        return [Score(0.0, -float(len(each))) for each in sets]

    found = refine(frozenset(range(10)), outcomes, [1.0] * 10, 4)
    assert found.chosen == set(range(10)) and found.unproven == 6
    assert len(asked) == 1 + 4


def test_of_many_measures_for_several_parts_few_tries_reach_the_first():
    """80 groups, each of whose measures helps alike: no more than the least number of sets beyond those without one."""
    asked = []

    def outcomes(sets):
        asked.extend(sets)
        return [Score(0.0, -float(len(each))) for each in sets]

    several = [[10 + number] for number in range(80)]
    found = refine(frozenset({0}), outcomes, [1.0] * 90, 8, several)
    assert found.chosen == {0, 10} and len(asked) <= 1 + LEAST + 8
    assert {number for each in asked for number in each} == {0, *range(10, 10 + LEAST)}


@given(st.integers(1, 6), st.integers(0, 1000))
@settings(max_examples=60, deadline=None)
def test_every_measure_that_stays_is_missed(count, seed):
    """Outcomes of any kind whatever, some that cannot be built."""

    def outcomes(sets):
        found = []
        for each in sets:
            dice = random.Random(f"{seed} {sorted(each)}")
            buildable = len(each) == count or dice.random() > 0.2
            found.append(Score(0.0, float(dice.randint(0, 3))) if buildable else None)
        return found

    cost = [1.0 + number / 7 for number in range(count)]
    start = frozenset(range(count))
    found = refine(start, outcomes, cost, 1000)
    (left,) = outcomes([found.chosen])
    for number in found.chosen:
        (without,) = outcomes([found.chosen - {number}])
        assert without is None or without.overload > left.overload
    assert left.overload <= outcomes([start])[0].overload and found.unproven == 0


@pytest.fixture(scope="module")
def small():
    return improved_small()


def test_without_any_of_its_measures_a_plan_leaves_more(small):
    """By the whole pipeline, of each plan by what it is for."""
    source, improvement = small
    for plan in improvement.plans:
        assert plan.unproven == 0
        figure = "shortfall" if "thorough" in plan.names else "overload"
        if "cheap" in plan.names and len(plan.names) == 1:
            continue
        with Bench(source.raw, plan.measures) as bench:
            numbers = range(len(plan.measures))
            for out in numbers:
                (without,) = bench.outcomes([frozenset(numbers) - {out}])
                left = score(without, improvement.before)
                assert getattr(left, figure) > getattr(plan.left, figure) + 5e-4, plan.measures[out].id


# ---- racks that turn into each other


def test_racks_of_one_frame_are_one_part():
    source = read(CORNER.replace("SIDE", "front"))
    assessment = assess(source.installation)
    measures = propose(assessment)
    before = outcome(assessment)
    with Bench(source.raw, measures) as bench:
        work = _Work(bench, source.installation, before, [1.0] * len(measures), 8, None)
        work.fits = list(range(len(measures)))
        parts = work._parts()
    assert "rack r" not in parts and "rack s" not in parts
    of_racks = {number for group in parts["rack r and rack s"] for number in group}
    assert of_racks == {n for n, one in enumerate(measures) if set(one.parts) <= {"rack r", "rack s"}}
    assert {one.parts for one in measures if set(one.parts) <= {"rack r", "rack s"}} == {("rack r",), ("rack s",)}


def test_racks_apart_are_parts_apart():
    source = read(RACK)
    assessment = assess(source.installation)
    with Bench(source.raw, propose(assessment)) as bench:
        assert _Work(bench, source.installation, {}, [], 8, None).together == {"rack r": "rack r"}


# ---- fronts of parts put together


def front(seed, count, always=False):
    dice = random.Random(seed)
    points = [
        Point(dice.uniform(0, 10), Score(-dice.uniform(0, 5), -dice.uniform(0, 5), -dice.randint(0, 1) * always), NONE)
        for _ in range(count)
    ]
    return front_of([Point(0.0, Score(0.0, 0.0), NONE), *points])


def every(parts):
    for each in itertools.product(*parts):
        yield sum(one.cost for one in each), sum((one.left for one in each), Score(0.0, 0.0))


@given(st.integers(0, 10_000), st.booleans())
@settings(max_examples=60, deadline=None)
def test_the_bound_is_below_the_least_cost_and_not_far(seed, always):
    """Against every combination. The gap of Lagrange's bound is at most one part's dearest set."""
    parts = [front(f"{seed} {number}", 5, always) for number in range(4)]
    least = min(left.overload for _, left in every(parts))
    most = least * 0.6
    nights = min(left.always for _, left in every(parts))
    best = (
        min(cost for cost, left in every(parts) if left.overload <= most and left.always <= nights)
        if any(left.overload <= most and left.always <= nights for _, left in every(parts))
        else math.inf
    )
    bound = least_cost(parts, Enough("overload", most, nights))
    assert bound <= best + 1e-6
    free = least_cost(parts, Enough("overload", most))
    cheapest = min(cost for cost, left in every(parts) if left.overload <= most)
    assert cheapest - max(max(one.cost for one in each) for each in parts) <= free <= cheapest + 1e-6
    assert least_cost(parts, Enough("overload", least - 1)) == math.inf


def test_a_thinned_front_says_so_and_keeps_what_leaves_least(monkeypatch):
    parts = [front(number, 6) for number in range(4)]
    whole = merged(parts)
    assert not whole.thinned
    monkeypatch.setattr(fronts, "MOST_POINTS", 12)
    fewer = merged(parts)
    assert fewer.thinned and len(fewer.points) <= 15 < len(whole.points)
    for figure in ("shortfall", "overload"):
        ends = [min((getattr(one.left, figure), one.cost) for one in each.points) for each in (whole, fewer)]
        assert ends[0] == pytest.approx(ends[1])


@given(problems())
@settings(max_examples=40, deadline=None)
def test_fronts_of_parts_are_those_of_all_combinations(problem):
    groups, cost, outcomes = problem
    points = brute(groups, cost, outcomes)
    half = len(points) // 2 + 1
    parts = [front_of(points[:half]), front_of(points[half:])]
    if not all(parts):
        return
    found = {(round(one.cost, 6), one.left) for one in merged(parts).points}
    summed = [Point(a.cost + b.cost, a.left + b.left, a.chosen | b.chosen) for a in parts[0] for b in parts[1]]
    assert found == {(round(one.cost, 6), one.left) for one in front_of(summed)}


def test_what_thinning_may_cost_stands_in_the_gap(monkeypatch):
    """Two tanks and more, of which few points are kept: the cheap plan's bound is not 0 where a point was passed over."""
    text = SMALL + "".join(
        f"  - {{name: tank {n}, kind: tank, mass: {400 + 70 * n} lb, centre_of_mass: {24 + 2 * n} in, "
        f"footprint: {40 + 2 * n} in x 18 in, holds: {30 + 5 * n} gal}}\n"
        for n in range(4)
    )
    source = read(text.replace("12 ft, width: 10 ft", "30 ft, width: 20 ft"))
    whole = improve(source.installation, source.raw, tries=8)
    assert not whole.thinned
    monkeypatch.setattr(fronts, "MOST_POINTS", 2)
    fewer = improve(source.installation, source.raw, tries=8)
    assert fewer.thinned

    def cheap(found: Improvement):
        return next(plan for plan in found.plans if "cheap" in plan.names)

    assert cheap(fewer).takes.hours - cheap(fewer).gap <= cheap(whole).takes.hours + 1e-6


# ---- a rim above the wave


def no_pump(text):
    line = "  - {name: pump, from: tank, to: bed, flow: 600 gal/h, intake: 4 in, outlet: 3 in}\n"
    return text.replace("pumps:\n", "").replace(line, "")


def test_a_rim_that_the_wave_does_not_reach_is_better_than_one_that_it_does():
    """The theory does not cover so steep a wave: not assessed, and by the score neither held nor lost."""
    before = outcome(assessed(no_pump(RACK)))
    after = outcome(assessed(no_pump(RACK).replace("depth: 30 in, water: 27 in", "depth: 60 in, water: 27 in")))
    id = "slosh/tank/any"
    assert (before[id].verdict, after[id].verdict) == ("short", "not assessed")
    better, worse = changes(before, after)
    assert id in [one.id for one in better] and id not in [one.id for one in worse]
    alone = score({id: after[id]}, {id: before[id]})
    assert alone.shortfall == pytest.approx(math.log(1 / 0.8)) and alone.overload == 0


def test_an_answer_that_is_lost_without_any_theory_still_counts_as_none():
    before, after = {"slosh/a/any": Answer("short", 2.0)}, {"slosh/a/any": Answer("not assessed", None)}
    assert score(after, before).shortfall == pytest.approx(math.log(10 / 0.8))


# ---- money that is not known


def test_hours_stand_in_for_money_where_a_price_is_not_known():
    source = read(SMALL + "exposure: {currency: EUR}\n")
    found = improve(source.installation, source.raw, by="cost", tries=8)
    assert (found.by, found.asked) == ("effort", "cost") and found.unpriced > 0
    hours = improve(source.installation, source.raw, tries=8)
    assert [one.measures for one in found.plans] == [one.measures for one in hours.plans]


def test_money_is_spared_where_every_price_is_known():
    source = read(SMALL)
    found = improve(source.installation, source.raw, by="cost", tries=8)
    assert (found.by, found.asked, found.unpriced) == ("cost", "cost", 0)


# ---- runs that serve for other rims


@pytest.mark.parametrize("depths", [("34 in", "40 in"), ("40 in", "34 in"), ("40 in", "30 in"), ("30 in", "40 in")])
def test_a_run_serves_for_another_rim_only_where_its_water_comes_to_neither(monkeypatch, depths):
    """The tank of the full demo, lower and higher in either order: with one memory what each comes to without.

    To what the integration lets a step be off, 1e-6 of all its water (m³): in lanes of more links sums round otherwise.
    """
    ran = []
    whole = memo_module.run_alike
    monkeypatch.setattr(memo_module, "run_alike", lambda *given, **how: ran.extend(given[0]) or whole(*given, **how))
    memo, raw = Memo(), demo("nursery").raw
    for depth in depths:
        installation = Installation.model_validate(edited(raw, [Edit(("vessels", 2, "depth"), depth)]))
        question = before_water(installation).question
        before = len(ran)
        found = memo.answers(question)
        for event, one, alone in zip(question.events, found, question.answer(), strict=True):
            assert one.event == event
            assert [name for name, _ in one.overflows] == [name for name, _ in alone.overflows]
            for name in ("reached", "depth", "leaves", "need", "rate"):
                assert getattr(one, name) == pytest.approx(getattr(alone, name), rel=1e-6, abs=3e-6), (
                    event.id,
                    name,
                )
    assert 0 < len(ran) - before < len(question.events), "some runs serve again, and not all"
