"""The sheets to work by as text and rows: the same for PDF and HTML."""

from __future__ import annotations

from dataclasses import dataclass

from brimfast.assess.measures.measure import used
from brimfast.assess.plan.improve import Improvement, Plan
from brimfast.assess.plan.score import Answer, outcome
from brimfast.reports import bolting, words
from brimfast.reports import improve_words as say
from brimfast.shared.installation.model import Installation

MOST_BARS = 8
BEFORE_AND_AFTER = "Before and after"
BEFORE_HEAD = ("what", "question", "before", "after")
BEFORE_NOTE = "Ratio of what acts to what may be: above 1 it is short. Computed anew with all measures."
BARS = "The same as bars"
SHOPPING = "What to buy"
SHOPPING_HEAD = ("pieces", "what", "about")
SHOPPING_NOTE = "Hot-dip galvanised or stainless where wood is treated or wet. Prices and hours used:"
TOGETHER = "together"
MIND = "Before you begin"
BOLTING = "Drilling and bolting"
HOW = "How it is done"
LEFT = "What still comes out short"
LEFT_NOTE = "The search found no set of these measures that brings them further: an engineer, or another layout, may."


@dataclass(frozen=True)
class Planned:
    """What was searched for the report, and the plan that it shows."""

    improvement: Improvement
    plan: Plan


@dataclass(frozen=True)
class Compared:
    """One question before the plan and after it; None where it is not asked."""

    what: str
    question: str
    before: Answer | None
    after: Answer | None

    @property
    def drawn(self) -> bool:
        return all(one is not None and one.verdict != "not assessed" for one in (self.before, self.after))


@dataclass(frozen=True)
class Work:
    """One measure of the plan, and its steps."""

    title: str
    steps: tuple[str, ...]


@dataclass(frozen=True)
class Sheets:
    """All that the sheets say, in their order."""

    title: str
    meanings: tuple[str, ...]
    takes: str
    proven: str
    rows: tuple[Compared, ...]
    lost: bool
    bars: tuple[tuple[str, float | None, float | None], ...]
    worse: tuple[str, ...]
    shopping: tuple[tuple[str, str, str], ...]
    together: str
    currency: str
    prices: str
    places: tuple[tuple[str, ...], ...]
    first: tuple[str, ...]
    works: tuple[Work, ...]
    left: tuple[str, ...]


def sheets(planned: Planned) -> Sheets:
    improvement, plan = planned.improvement, planned.plan
    before, after = improvement.assessment.installation, plan.assessment.installation
    title = say.plan_title(plan)
    rows = _compared(improvement, plan)
    proven = (
        say.gap_text(plan, improvement),
        say.unproven_text(plan),
        say.apart_text(plan),
        say.spares_text(improvement),
    )
    prices = [f"{value.name}: {value.text} ({value.provenance})" for value in used(plan.needs, before)]
    return Sheets(
        title=f"Do it: the {title[:1].lower()}{title[1:]}",
        meanings=tuple(f"{words.capital(name)}: {say.MEANING[name].replace('`', '')}." for name in plan.names),
        takes=words.capital(say.takes_text(improvement, plan)),
        proven=" ".join(text for text in proven if text),
        rows=rows,
        lost=any(one.before is None or one.after is None for one in rows),
        bars=_bars(rows),
        worse=tuple(words.capital(say.worse_text(change)) for change in plan.worse),
        shopping=tuple(say.need_rows(plan.needs, before)),
        together=say.money_text(plan.takes, before),
        currency=say.other_currency(before) if plan.takes.low is None else "",
        prices="; ".join(prices) + "." if prices else "",
        places=tuple(place.cells for place in bolting.places(before, after)),
        first=say.first_works(plan),
        works=tuple(_work(number, plan, before) for number in range(1, len(plan.measures) + 1)),
        left=tuple(words.begun(say.left_text(one), before) for one in say.left_short(plan.assessment)),
    )


def _compared(improvement: Improvement, plan: Plan) -> tuple[Compared, ...]:
    found = say.rows_that_matter([improvement.before, outcome(plan.assessment)])
    return tuple(
        Compared(words.plain_name(asked.subject), asked.question, before, after) for asked, (before, after) in found
    )


def _bars(rows: tuple[Compared, ...]) -> tuple[tuple[str, float | None, float | None], ...]:
    found = [
        (f"{one.what}: {one.question}", one.before.ratio, one.after.ratio)
        for one in rows
        if one.drawn and one.before is not None and one.after is not None
    ]
    return tuple(found[:MOST_BARS])


def _work(number: int, plan: Plan, installation: Installation) -> Work:
    measure = plan.measures[number - 1]
    title = say.work_title(number, measure, installation)
    return Work(title, tuple(words.capital(text) + "." for text in measure.steps))
