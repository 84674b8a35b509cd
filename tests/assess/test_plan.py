"""The plan of measures: search against brute force, the pipeline's own word for every figure, nothing made worse unsaid."""

import itertools
import math
import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from brimfast.assess.measures.propose import propose
from brimfast.assess.memo import Memo
from brimfast.assess.network.runs import run
from brimfast.assess.pipeline import assess, before_water
from brimfast.assess.plan.bench import Bench, changed
from brimfast.assess.plan.fronts import NONE, Point, front_of
from brimfast.assess.plan.improve import improve
from brimfast.assess.plan.score import Answer, Score, changes, outcome, score
from brimfast.assess.plan.search import by_cost, search
from brimfast.shared.constants import POUND_FORCE
from brimfast.shared.demo import demo
from brimfast.shared.edits import Edit, edited
from brimfast.shared.installation.model import Installation
from brimfast.shared.rewriting import rewritten
from tests.builders import RACK, assessed, found, read
from tests.planned import SMALL, improved_small

# ---- the search itself


def brute(groups, cost, outcomes):
    sets = [
        frozenset(one for one in each if one is not None) for each in itertools.product(*[[None, *g] for g in groups])
    ]
    return [
        Point(math.fsum(cost[one] for one in each), left, each)
        for each, left in zip(sets, outcomes(sets), strict=True)
        if left is not None
    ]


@st.composite
def problems(draw):
    sizes = draw(st.lists(st.integers(1, 3), min_size=1, max_size=4))
    numbers = iter(range(sum(sizes)))
    groups = [[next(numbers) for _ in range(size)] for size in sizes]
    cost = [draw(st.integers(1, 9)) / 2 for _ in range(sum(sizes))]
    seed = draw(st.integers(0, 10_000))

    def outcomes(sets):
        # any outcome whatever, some sets not buildable: measures that act on each other
        found = []
        for each in sets:
            dice = random.Random(f"{seed} {sorted(each)}")
            found.append(None if each and dice.random() < 0.1 else Score(dice.randint(0, 6), dice.randint(0, 3)))
        return found

    return groups, cost, outcomes


@given(problems())
@settings(max_examples=60, deadline=None)
def test_the_search_equals_brute_force_where_it_may_try_all(problem):
    groups, cost, outcomes = problem
    everything = brute(groups, cost, outcomes)
    result = search(groups, cost, outcomes, most=len(everything) + 1000)
    assert result.tried == result.of and result.untried == math.inf
    assert {(p.cost, p.left) for p in result.front} == {(p.cost, p.left) for p in front_of(everything)}


@given(problems(), st.integers(1, 20))
@settings(max_examples=60, deadline=None)
def test_what_was_not_tried_costs_at_least_the_bound(problem, most):
    groups, cost, outcomes = problem
    everything = brute(groups, cost, outcomes)
    result = search(groups, cost, outcomes, most)
    assert result.of == math.prod(len(group) + 1 for group in groups)
    for point in front_of(everything):
        # nothing beats the front that was found but for sets as dear as the cheapest that was not tried
        if point.cost < result.untried - 1e-9:
            assert any(
                mine.cost <= point.cost + 1e-9
                and mine.left.shortfall <= point.left.shortfall
                and mine.left.overload <= point.left.overload
                for mine in result.front
            )


@given(problems())
@settings(max_examples=30, deadline=None)
def test_sets_come_once_each_and_the_cheapest_first(problem):
    groups, cost, _ = problem
    listed = list(by_cost(groups, cost))
    assert len({chosen for _, chosen in listed}) == len(listed) == math.prod(len(group) + 1 for group in groups)
    assert all(a[0] <= b[0] + 1e-9 for a, b in itertools.pairwise(listed))
    assert all(price == pytest.approx(sum(cost[one] for one in chosen)) for price, chosen in listed)


# ---- the score


def test_the_score_by_hand():
    """ln(2/0.8) + ln(10/0.8) + ln(0.9/0.8) = 0.9163 + 2.5257 + 0.1178; short: (1 + ln 2) + (1 + ln 10) = 4.9957."""
    before = {
        "a": Answer("short", 2.0),
        "b": Answer("short", None),
        "c": Answer("close", 0.9),
        "d": Answer("holds", 0.3),
        "e": Answer("not assessed", None),
    }
    found = score(before, before)
    assert found.shortfall == pytest.approx(3.5598, abs=2e-4)
    assert found.overload == pytest.approx(4.9957, abs=2e-4)


def test_an_answer_that_is_lost_counts_as_no_capacity_and_is_said():
    before, after = {"a": Answer("holds", 0.5)}, {"a": Answer("not assessed", None)}
    assert score(after, before).shortfall == pytest.approx(math.log(10 / 0.8))
    better, worse = changes(before, after)
    assert not better and [one.id for one in worse] == ["a"]


def test_what_is_newly_found_short_is_said():
    after = {"new": Answer("short", 1.5)}
    assert [one.id for one in changes({}, after)[1]] == ["new"]
    assert changes({}, after)[1][0].newly_known


@pytest.mark.parametrize("ratio", [0.1, 0.79, 0.81, 1.5, 9.0])
def test_a_larger_ratio_never_scores_better(ratio):
    def of(value):
        return score({"a": Answer("holds", value)}, {"a": Answer("holds", value)}).shortfall

    assert of(ratio) <= of(ratio * 1.3)


# ---- through the pipeline


@pytest.fixture(scope="module")
def small():
    return improved_small()


def test_plans_of_a_small_room_are_those_of_brute_force(small):
    """Every set of every measure goes through the whole pipeline, 60 or more of them: none does better for less."""
    source, improvement = small
    measures = [one.measure for one in improvement.ranked]
    groups: dict[str, list[int]] = {}
    for number, measure in enumerate(measures):
        groups.setdefault(measure.group, []).append(number)
    choices = [[None, *numbers] for numbers in groups.values()]
    sets = [frozenset(one for one in each if one is not None) for each in itertools.product(*choices)]
    assert 30 <= len(sets) <= 400
    before = improvement.before
    outcomes = Bench(source.raw, measures).outcomes(sets)
    lefts = {each: score(one, before) for each, one in zip(sets, outcomes, strict=True) if one is not None}
    least = min(left.shortfall for left in lefts.values())
    hours = {each: math.fsum(improvement.ranked[one].takes.hours for one in each) for each in lefts}
    thorough = next(plan for plan in improvement.plans if "thorough" in plan.names)
    assert thorough.left.shortfall == pytest.approx(least, abs=1e-6)
    cheapest = min(hours[each] for each, left in lefts.items() if left.shortfall <= least + 1e-6)
    assert thorough.takes.hours == pytest.approx(cheapest, abs=0.02)
    assert thorough.gap == 0 and all(part.tried == part.of for part in improvement.parts)


def figures(assessment):
    return {one.id: (one.demand, one.capacity, one.ratio, one.verdict) for one in assessment.findings}


def test_the_file_of_each_plan_gives_the_very_figures_that_the_plan_promised(small):
    source, improvement = small
    assert improvement.plans
    for plan in improvement.plans:
        again = assess(read(rewritten(source.text, plan.edits)).installation)
        assert figures(again) == figures(plan.assessment)
        assert score(outcome(again), improvement.before) == plan.left


def test_a_plan_says_all_that_it_makes_worse(small):
    _, improvement = small
    for plan in improvement.plans:
        after = outcome(plan.assessment)
        said = {change.id for change in plan.worse}
        for id, answer in after.items():
            before = improvement.before.get(id)
            if answer.verdict == "short" and (before is None or before.verdict != "short"):
                assert id in said, id


def test_more_measures_never_leave_more_unless_said(small):
    """Along the front a dearer set leaves less; and a measure that by itself leaves more says what is worse."""
    _, improvement = small
    for one in improvement.ranked:
        assert one.gain.shortfall >= -1e-9 or one.worse, one.measure.id
    front = improvement.front
    assert all(a.cost <= b.cost for a, b in itertools.pairwise(front))
    for a, b in itertools.combinations(front, 2):
        assert not (
            b.left.shortfall >= a.left.shortfall
            and b.left.overload >= a.left.overload
            and b.left.always >= a.left.always
        )


def test_a_curb_that_drowns_a_socket_says_so():
    """The curb keeps the water in, and so it stands over the power strip."""
    text = SMALL + "supplies: [{name: hose, to: tank, flow: 6 gal/min, unattended: 8 h}]\n"
    source = read(text)
    before = outcome(assess(source.installation))
    curbed = edited(source.raw, [Edit(("room", "sill"), "6 in")])
    after = outcome(assess(Installation.model_validate(curbed)))
    worse = [change.id for change in changes(before, after)[1]]
    assert after["spill/socket/strip"].ratio > before["spill/socket/strip"].ratio
    assert "spill/socket/strip" in worse


def test_remembering_changes_no_result():
    """Assessed one after the other with one memory, and each by itself."""
    source = read(RACK)
    measures = propose(assess(source.installation))
    memo = Memo()
    picked = [NONE, *(frozenset({number}) for number in range(0, len(measures), 5))]
    for chosen, remembered in zip(picked, Bench(source.raw, measures, memo).outcomes(picked), strict=True):
        installation = changed(source.raw, [measures[number] for number in chosen])
        if installation is None:
            assert remembered is None
            continue
        plain = outcome(assess(installation))
        assert plain.keys() == remembered.keys()
        for id, answer in plain.items():
            assert answer.verdict == remembered[id].verdict, id
            assert (answer.ratio is None) == (remembered[id].ratio is None), id
            if answer.ratio is not None:
                assert remembered[id].ratio == pytest.approx(answer.ratio, rel=1e-6, abs=1e-9), id


def test_networks_beside_each_other_run_as_each_by_itself():
    """Other levels, rims, bores, drains and sills, in lanes of one run."""
    base = demo("nursery").raw
    variants = [
        [],
        [Edit(("vessels", 2, "water"), "25 in"), Edit(("vessels", 2, "depth"), "40 in")],
        [Edit(("pipes", 0, "bore"), "3 in"), Edit(("room", "sill"), "1 in")],
        [Edit(("room", "drains"), {"bore": "3 in"}, "add"), Edit(("supplies", 0, "flow"), "2 gal/min")],
        [Edit(("vessels", 0, "fill_depth"), "9.5 in")],
    ]
    questions = [before_water(Installation.model_validate(edited(base, edits))).question for edits in variants]
    for question, answers in zip(questions, Memo().all_answers(questions), strict=True):
        alone = run(question.network, question.events, question.heights)
        for one, other in zip(alone, answers, strict=True):
            assert one.event == other.event
            for name in ("reached", "depth", "leaves", "need", "drained"):
                assert getattr(other, name) == pytest.approx(getattr(one, name), rel=2e-4, abs=2e-6), (
                    one.event.id,
                    name,
                )


def test_more_processes_find_the_same():
    source = read(SMALL)
    measures = propose(assess(source.installation))
    sets = [frozenset({number}) for number in range(len(measures))]
    with Bench(source.raw, measures) as alone, Bench(source.raw, measures, processes=2) as shared:
        one, other = alone.outcomes(sets), shared.outcomes(sets)
    assert [[(id, a.verdict) for id, a in (each or {}).items()] for each in one] == [
        [(id, a.verdict) for id, a in (each or {}).items()] for each in other
    ]


def test_progress_ends_where_it_should():
    source, seen = read(SMALL), []
    improve(source.installation, source.raw, tries=20, report=lambda what, done, of: seen.append((what, done, of)))
    assert seen and all(0 <= done <= of for _, done, of in seen)
    assert any(done == of for _, done, of in seen)


# ---- by hand: bolts and a brace

BOLTED = "{kind: through-bolt, diameter: 0.5 in, length: 6 in, count: 2, spread: 3 in}"
TWO_COLUMNS = "{kind: through-bolt, diameter: 0.5 in, length: 6 in, count: 4, spread: 3 in, columns: 2, gauge: 2 in}"


def test_twice_the_bolts_by_hand():
    """A 1/2 in bolt through a 2x8 on the side of a 4x4, Douglas fir-larch (G 0.50), wet, weight alone.

    NDS 2018 Table 12A, single shear, t_m 3-1/2 in, t_s 1-1/2 in: Z_s⊥ = 370 lb (the beam is loaded across its grain,
    the post along; as printed, so to 10 lb). C_D 0.9 (permanent), C_M 0.7 (wet in service, Table 11.3.3):
    370 · 0.9 · 0.7 = 233 lb a bolt. Two: 466 lb; four in two columns: 932 lb. So the ratio halves.
    """
    whole = RACK.replace("    beam_runs: each bay\n", "").replace(
        "{kind: through-bolt, diameter: 0.5 in, length: 6 in, count: 2, spread: 4 in}", BOLTED
    )
    two = found(assessed(whole), "joint/r/beam to post/gravity")
    four = found(assessed(whole.replace(BOLTED, TWO_COLUMNS)), "joint/r/beam to post/gravity")
    printing = 5 / 370 + 0.001
    assert two.capacity / POUND_FORCE == pytest.approx(466, rel=printing + 0.02)  # C_g of two in a row: at most 2 %
    assert four.capacity / POUND_FORCE == pytest.approx(932, rel=printing + 0.02)
    assert four.demand == pytest.approx(two.demand, rel=1e-3)
    assert four.ratio == pytest.approx(two.ratio / 2, rel=0.01)  # C_g: the columns spread the load over more wood


def test_a_brace_by_hand():
    """One diagonal in one bay of front and back each, 5 ft run; plain statics takes the whole push to the two braces.

    Bay 60 in, from the floor to the beam's middle: deck 26 in − panel 0.719 − half of the 7.25 in beam (the joists are
    between the beams) = 21.66 in. Half of 0.7 F goes to each face: N = 0.35 F √(60² + 21.66²)/60 = 0.35 F · 1.0631.
    The handbook's P = H/cos θ (Handbook of Civil Engineering Calculations, bracing against wind drift).
    """
    text = (
        RACK.replace(
            "    beam_runs: each bay",
            "    beam_runs: each bay\n    braces: [{face: front, bay: 1, member: 2x4}, {face: back, bay: 1, member: 2x4}]",
        )
        + "  - {rack: r, where: brace to post, fasteners: {kind: through-bolt, diameter: 0.5 in, length: 6 in}}\n"
    )
    text = text.replace("pumps:\n", "").replace(
        "  - {name: pump, from: tank, to: bed, flow: 600 gal/h, intake: 4 in, outlet: 3 in}\n", ""
    )
    before, after = assessed(RACK), assessed(text)
    F = after.forces["rack r"].horizontal
    rise = 26 - 23 / 32 - 7.25 / 2
    by_hand = 0.35 * F * math.hypot(60, rise) / 60
    steps = [step for step in found(after, "joint/r/brace to post/along").steps if step.symbol.startswith("N_b")]
    assert steps and steps[0].result.value == pytest.approx(by_hand, rel=2e-3)
    # and what it is for: the fasteners of beam and post no longer hold the sway by their turning
    sway = [found(one, "sway/r/along") for one in (before, after)]
    assert sway[1].demand < 0.5 * sway[0].demand
