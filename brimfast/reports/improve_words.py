"""What the plan of measures says in words: the same for terminal and JSON."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence

from brimfast.assess.measures.measure import Measure, Need, Takes, given_prices, takes
from brimfast.assess.pipeline import Assessment
from brimfast.assess.plan.improve import TOGETHER, Improvement, Plan, Ranked
from brimfast.assess.plan.score import PAIR, RUN, SINGLE, Answer, Change, Outcome
from brimfast.data_tables.loader import work_item
from brimfast.data_tables.rows import PLANNING_CURRENCY
from brimfast.reports import words
from brimfast.shared.constants import FOOT
from brimfast.shared.findings import Finding
from brimfast.shared.installation.model import Installation
from brimfast.shared.units import money_range, number_text, show

MEANING = {
    "cheap": "takes away half of the overload that the search found a way to take away, and all of it that is there day and night",
    "balanced": "takes away all overload that the search found a way to take away",
    "thorough": "brings everything to `holds`, or as near as the search came",
}
CAUTIONS = (
    "Switch the power off and unplug before you work near water; no one beneath while something is propped or hangs.",
    "Let the water out before you drill or unscrew; prop a beam before you take a screw out of it.",
    "Dust of treated wood harms: wear a mask, work outside, do not burn the scraps.",
    "In a rented room ask before you screw to wall, floor or door.",
    "Show the plan to a licensed structural engineer before you build it: figures are by calculation, prices and hours are "
    "planning figures, and what the file does not say was not looked at.",
)


NOT_ASKED_ANY_MORE = "not asked"


def answer_figure(answer: Answer) -> str:
    """'2.31', or words where there is no ratio."""
    if answer.ratio is None:
        return {"short": "no capacity", "not assessed": "not assessed"}.get(answer.verdict, "")
    return f"{answer.ratio:.2f}" if answer.ratio < 100 else number_text(answer.ratio, 3)


def answer_text(answer: Answer | None) -> str:
    """'2.31 ✗' or words where there is no ratio."""
    if answer is None:
        return NOT_ASKED_ANY_MORE
    return f"{answer_figure(answer)} {words.MARKS[answer.verdict]}".strip()


def answer_said(answer: Answer | None) -> str:
    """For the ear: 'short 2.31', 'short, no capacity', 'not assessed'."""
    if answer is None:
        return NOT_ASKED_ANY_MORE
    if answer.ratio is None:
        return f"{answer.verdict}, no capacity" if answer.verdict == "short" else answer.verdict
    return f"{answer.verdict} {answer_figure(answer)}"


def step_text(change: Change) -> str:
    return f"{answer_text(change.before)} → {answer_text(change.after)}"


def step_said(change: Change) -> str:
    return f"{answer_said(change.before)} before, {answer_said(change.after)} after"


def about(change: Change) -> str:
    """What a change is about, and its kind of check in a word or two."""
    asked, parts = change.asked, change.id.split("/")
    head, comma, rest = asked.subject.partition(", ")
    return f"{words.plain_name(head)}{comma}{rest} ({parts[0] if parts[0] in ('tipping', 'sliding', 'attachment', 'anchors') else parts[-1]})"


def worse_text(change: Change) -> str:
    return f"{_how(change)} {step_text(change)}"


def worse_said(change: Change) -> str:
    return f"{_how(change)} {step_said(change)}"


def _how(change: Change) -> str:
    how = "now found" if change.newly_known else "worse"
    return f"{how}: {words.plain_name(change.asked.subject)}. {change.asked.question}"


def money_text(one: Takes, installation: Installation) -> str:
    if one.low is None or one.high is None:
        if one.known[1] <= 0:
            return "price not known"
        return f"at least {money_range(*one.known, installation.exposure.currency)} (some prices are not known)"
    if one.high == 0:
        return "nothing"
    return money_range(one.low, one.high, installation.exposure.currency)


def other_currency(installation: Installation) -> str:
    return (
        f"Planning figures exist in {PLANNING_CURRENCY} only, and are not turned into {installation.exposure.currency}: prices that "
        "the file does not give count as not known, sums with one of them as at least so much, and plans spare hours."
    )


def wages_text(one: Takes, installation: Installation) -> str:
    """What the hours cost where the file gives a price for one."""
    low, high = one.wages
    return f", wages {money_range(low, high, installation.exposure.currency)}" if high > 0 else ""


def hours_text(one: Takes) -> str:
    low, high = (number_text(max(value, 0.0), 2) for value in (one.low_hours, one.high_hours))
    return f"{low} h" if low == high else f"{low} to {high} h"


def tried_text(improvement: Improvement) -> str:
    """How far the search went."""
    tried = sum(part.tried for part in improvement.parts)
    text = (
        f"{len(improvement.ranked)} measures that can be built were tried one by one, and sets of them part by part "
        f"({tried:,} sets, which stand for {improvement.combinations:,} combinations); {improvement.assessed:,} changed "
        "installations went through the whole calculation."
    )
    if improvement.thinned:
        text += (
            " Put together, the best sets of the parts were too many to keep them all: some were passed over, and what a plan "
            "could save stands beside it."
        )
    open_parts = [part for part in improvement.parts if part.tried < part.of]
    if not open_parts:
        return f"{text} That is every combination within each part."
    listed = words.listed([f"{part.name} {part.tried:,} of {part.of:,}" for part in open_parts], 4)
    return f"{text} Not all were tried: {listed}."


def gap_text(plan: Plan, improvement: Improvement) -> str:
    """How much less a set that was not tried could take."""
    unit = "h" if improvement.by == "effort" else improvement.assessment.installation.exposure.currency
    if plan.gap <= 0.01:
        weighed = "tried, part by part" if improvement.thinned else "tried"
        return f"No cheaper set does as much: all cheaper ones were {weighed}."
    return f"Of the sets that were tried none does as much for less; one that was not could save at most {number_text(plan.gap, 2)} {unit}."


def unproven_text(plan: Plan) -> str:
    """Whether some measure may be needless."""
    if not plan.unproven:
        return "Each of its measures was left out in turn and is missed."
    return (
        f"{plan.unproven} of its {len(plan.measures)} measures could not be tried left out within the tries: one of them may be "
        "needless (--tries)."
    )


def spares_text(improvement: Improvement) -> str:
    """What plans spare, where that is not what was asked for."""
    if improvement.by == improvement.asked:
        return ""
    return (
        f"Of {improvement.unpriced} measures a price is not known, and what is not known cannot be weighed: plans spare hours, "
        "not money. Give the prices under prices:."
    )


def apart_text(plan: Plan) -> str:
    if abs(plan.apart) <= TOGETHER:
        return ""
    how = "less" if plan.apart > 0 else "more"
    return f"Together these measures do {how} than the parts added up; the figures are those of the whole."


def left_short(assessment: Assessment) -> list[Finding]:
    return [one for one in assessment.findings if one.verdict == "short" and not one.practice]


def short_count(assessment: Assessment) -> int:
    return len(left_short(assessment))


def subject_text(measure: Measure, installation: Installation) -> str:
    """'long rack, feet' where the rack's own name says that it is one; names are spelt as the file spells them."""
    head, comma, rest = measure.subject.partition(", ")
    return words.begun(words.plain_name(head), installation) + comma + rest


def plan_title(plan: Plan) -> str:
    return " and ".join(plan.names).capitalize() + " plan"


def takes_text(improvement: Improvement, plan: Plan) -> str:
    """What a plan costs, and how much is short without it and with it."""
    installation = improvement.assessment.installation
    return (
        f"{money_text(plan.takes, installation)} for parts, {hours_text(plan.takes)} of work"
        f"{wages_text(plan.takes, installation)}. Short: {short_count(improvement.assessment)} before, "
        f"{short_count(plan.assessment)} after."
    )


def first_works(plan: Plan) -> tuple[str, ...]:
    """What comes before all measures, each once."""
    return tuple(f"First, {text}." for text in dict.fromkeys(text for one in plan.measures for text in one.first))


def work_title(number: int, measure: Measure, installation: Installation) -> str:
    return f"{number}. {subject_text(measure, installation)}: {measure.title}."


def left_text(finding: Finding) -> str:
    return f"{words.plain_name(finding.subject)}. {finding.question} {words.ratio_text(finding)}"


def the_plan(improvement: Improvement, name: str) -> Plan | None:
    return next((plan for plan in improvement.plans if name in plan.names), None)


def pieces(need: Need, installation: Installation) -> str:
    """How many; of what comes by length or area, how much."""
    unit = work_item(need.item).unit
    if unit == "ft2":
        return show(need.count * FOOT**2, "area", installation.system)
    if unit == "ft":
        return (
            show(need.count * FOOT, "distance", "si") if installation.units == "si" else f"{math.ceil(need.count)} ft"
        )
    return number_text(need.count, 3)


SIZE = re.compile(r" (?:\d/\d|\dx\d)$")  # of an item of the table: what is bought says its own


def need_rows(needs: Sequence[Need], installation: Installation) -> list[tuple[str, str, str]]:
    """Shopping list: how many, what, what it costs together."""
    rows = []
    for need in needs:
        one = takes((need,), installation)
        count = pieces(need, installation)
        rows.append((count, f"{SIZE.sub('', need.item)}: {need.what}", money_text(one, installation)))
    return rows


def prices_text(needs: Sequence[Need], installation: Installation) -> str:
    """Where the prices of a shopping list are from."""
    own = given_prices(installation)
    given = {need.item in own for need in needs if need.item in own or work_item(need.item).high_usd > 0}
    if given == {True}:
        return "Prices are those of the file."
    if installation.exposure.currency != PLANNING_CURRENCY:
        return other_currency(installation)
    if True in given:
        return "Prices are those of the file where it gives them, else planning figures."
    return "Prices are planning figures."


def worth_showing(ranked: Sequence[Ranked]) -> list[Ranked]:
    """Those that help; of a group the one that helps most for least."""
    best: dict[str, Ranked] = {}
    for one in ranked:
        if one.better and one.gain.shortfall > 0:
            best.setdefault(one.measure.group, one)
    return list(best.values())


def harmful(ranked: Sequence[Ranked]) -> list[Ranked]:
    """Those that by themselves make more worse than better."""
    return [one for one in ranked if one.gain.shortfall < 0 and any(not change.newly_known for change in one.worse)]


def _alike(one: Answer | None, other: Answer | None) -> bool:
    return one is other or (one is not None and other is not None and one.ratio == other.ratio)


NOT_ASKED = (
    "'not asked': the question falls away. Of a body that is anchored, the anchors are asked about in place of tipping and "
    "sliding; a rack that is braced no longer leans."
)


def rows_that_matter(columns: Sequence[Outcome]) -> list[tuple[Answer, list[Answer | None]]]:
    """Of every finding that is short or close in one of the outcomes, or asked in some only, its answers side by side."""
    found = []
    for id in dict.fromkeys(id for one in columns for id in one):
        answers = [one.get(id) for one in columns]
        verdicts = {answer.verdict for answer in answers if answer is not None}
        if id.startswith(RUN) or not verdicts & {"short", "close"}:
            continue
        if id == PAIR and all(_alike(one.get(PAIR), one.get(SINGLE)) for one in columns):
            continue  # asked nowhere: two mishaps are no worse than one
        asked = next(answer for answer in answers if answer is not None)
        found.append((asked, answers))
    return found
