"""What the terminal says of a plan: each measure by itself, the plans, before and after, what to buy and how to do it."""

from __future__ import annotations

from collections.abc import Iterator

from brimfast import __version__
from brimfast.assess.measures.measure import used
from brimfast.assess.plan.improve import Improvement, Plan
from brimfast.assess.plan.score import Answer, Change, outcome
from brimfast.reports import improve_words as say
from brimfast.reports import plan_content as content
from brimfast.reports import summary_words, words
from brimfast.reports.blocks import Block, Cell, Gap, Grid, Heading, Line
from brimfast.reports.terminal_blocks import named
from brimfast.reports.terminal_parts import STYLES

MOST_RANKED = 12
MOST_CHANGES = 2
MOST_HARMFUL = 4


def answer_cell(answer: Answer | None) -> Cell:
    style = STYLES[answer.verdict] if answer is not None else "dim"
    return Cell(say.answer_text(answer), style, say.answer_said(answer))


def body_cell(subject: str) -> Cell:
    """What a row is about, ahead of its question."""
    name = words.plain_name(subject)
    return Cell(name, said=f"{name}.")


def improvement_blocks(improvement: Improvement, name: str) -> Iterator[Block]:
    """name: of the plan that is shown in full."""
    yield named(improvement.assessment)
    yield Line(f"brimfast {__version__} · {words.DEFER}", style="dim")
    yield Gap()
    yield Line(f"As it stands: {summary_words.headline(improvement.assessment)}", style="bold")
    if not improvement.ranked:
        yield Line(
            "Nothing is short or close that a measure of this list could help. What is not assessed stays so: "
            "brimfast check says what to add to the file."
        )
        return
    yield Line(say.tried_text(improvement))
    if improvement.by != improvement.asked:
        yield Line(say.spares_text(improvement), style="yellow")
    yield from _ranked(improvement)
    yield from _plans(improvement)
    plan = say.the_plan(improvement, name)
    if plan is None:
        yield Line("No plan: no measure makes anything better.")
        return
    yield from _before_and_after(improvement)
    yield from _detail(improvement, plan)
    yield Heading("Mind")
    yield from (Line(text, 2, mark="!") for text in say.CAUTIONS)
    yield Gap()
    yield Line(words.DEFER, style="bold")


def _worse(change: Change, indent: int) -> Line:
    return Line(say.worse_text(change), indent, "yellow", said=say.worse_said(change))


def _ranked(improvement: Improvement) -> Iterator[Block]:
    """Of sizes of one measure the best is shown."""
    shown = say.worth_showing(improvement.ranked)
    yield Heading("Each measure by itself, most gain first")
    yield Line(
        "Gain is what it takes off the shortfall, the sum of ln(ratio/0.8) over all that is not `holds`: 0.7 is one overload "
        "halved. No capacity at all counts as ratio 10.",
        style="dim",
    )
    installation = improvement.assessment.installation
    for number, one in enumerate(shown[:MOST_RANKED], start=1):
        yield Gap()
        yield Line(say.work_title(number, one.measure, installation).removesuffix("."), 2, "bold")
        yield Line(
            f"gain {one.gain.shortfall:.2f} · {say.money_text(one.takes, installation)} · {say.hours_text(one.takes)}",
            5,
        )
        for change in one.better[:MOST_CHANGES]:
            about = say.about(change)
            yield Line(f"{about}: {say.step_text(change)}", 5, said=f"{about}: {say.step_said(change)}")
        if len(one.better) > MOST_CHANGES:
            yield Line(f"and {len(one.better) - MOST_CHANGES} more better", 5, "dim")
        yield from (_worse(change, 5) for change in one.worse[:MOST_CHANGES])
    if len(shown) > MOST_RANKED:
        yield Gap()
        yield Line(f"{len(shown) - MOST_RANKED} more with less gain: --json lists all.", style="dim")
    yield from _harmful(improvement)


def _harmful(improvement: Improvement) -> Iterator[Block]:
    bad = say.harmful(improvement.ranked)
    if not bad:
        return
    yield Heading("By themselves these make things worse")
    installation = improvement.assessment.installation
    for one in bad[:MOST_HARMFUL]:
        lead = f"{say.subject_text(one.measure, installation)}: {one.measure.title}."
        shown, said = (
            "; ".join(to_text(change) for change in one.worse[:2]) for to_text in (say.worse_text, say.worse_said)
        )
        yield Line(f"{lead} {shown}.", 2, mark="·", said=f"{lead} {said}.")
    if len(bad) > MOST_HARMFUL:
        yield Line(f"and {len(bad) - MOST_HARMFUL} more (--json lists all).", 2, "dim")
    yield Line("Beside other measures they can still be right.", 2, "dim")


def _plans(improvement: Improvement) -> Iterator[Block]:
    yield Heading("Plans")
    installation = improvement.assessment.installation
    for plan in improvement.plans:
        yield Gap()
        yield Line(say.plan_title(plan), style="bold")
        yield from (Line(f"{name}: {say.MEANING[name]}.", 2, "dim") for name in plan.names)
        yield Line(
            f"{say.takes_text(improvement, plan)} Shortfall {improvement.now.shortfall:.2f} before, "
            f"{plan.left.shortfall:.2f} after.",
            2,
        )
        for number, measure in enumerate(plan.measures, start=1):
            yield Line(say.work_title(number, measure, installation), 2)
        yield from (_worse(change, 2) for change in plan.worse)
        for text in (say.gap_text(plan, improvement), say.unproven_text(plan), say.apart_text(plan)):
            if text:
                yield Line(text, 2, "dim")


def _before_and_after(improvement: Improvement) -> Iterator[Block]:
    """Every finding that is not `holds` somewhere, side by side."""
    yield Heading(content.BEFORE_AND_AFTER)
    titles = ("before", *("\n".join(plan.names) for plan in improvement.plans))
    columns = [improvement.before, *(outcome(plan.assessment) for plan in improvement.plans)]
    found = say.rows_that_matter(columns)
    rows: list[tuple[str | Cell, ...]] = [
        (body_cell(asked.subject), asked.question, *map(answer_cell, answers)) for asked, answers in found
    ]
    yield Grid((("what", False), ("question", False), *((title, True) for title in titles)), rows, names=2)
    if any(None in answers for _, answers in found):
        yield Line(say.NOT_ASKED, style="dim")


def _detail(improvement: Improvement, plan: Plan) -> Iterator[Block]:
    installation = improvement.assessment.installation
    yield Heading(f"{content.SHOPPING} for the {' and '.join(plan.names)} plan")
    rows = [*say.need_rows(plan.needs, installation), ("", content.TOGETHER, say.money_text(plan.takes, installation))]
    yield Grid((("pieces", True), ("what", False), ("about", True)), rows, total=True, names=2)
    yield Heading(content.HOW)
    yield from (Line(text, 2) for text in say.first_works(plan))
    for number, measure in enumerate(plan.measures, start=1):
        yield Line(say.work_title(number, measure, installation), 2)
        yield from (Line(text, 5, mark="·", said=words.capital(text)) for text in measure.steps)
    left = say.left_short(plan.assessment)
    if left:
        yield Heading(content.LEFT)
        yield from (Line(say.left_text(finding), 2, STYLES["short"], mark="✗") for finding in left)
        yield Line(content.LEFT_NOTE, 2)
    yield Heading("Prices and hours used (give your own under prices:)")
    if plan.takes.low is None:
        yield Line(say.other_currency(installation), 2)
    for value in used(plan.needs, installation):
        yield Line(f"{value.name}: {value.text} ({value.provenance})", 2, "dim", mark="·")
