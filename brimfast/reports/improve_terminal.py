"""The terminal face of the plan: each measure by itself, the plans, before and after, what to buy and how to do it."""

from __future__ import annotations

from rich.console import Console
from rich.text import Text

from brimfast import __version__
from brimfast.assess.measures.measure import used
from brimfast.assess.plan.improve import Improvement, Plan
from brimfast.assess.plan.score import Answer, outcome
from brimfast.reports import improve_words as say
from brimfast.reports import words
from brimfast.reports.terminal_parts import STYLES, heading, row, table, wrapped

MOST_RANKED = 12
MOST_CHANGES = 2
MOST_HARMFUL = 4


def answer_cell(answer: Answer | None) -> Text:
    return Text(say.answer_text(answer), style=STYLES[answer.verdict] if answer is not None else "dim")


def print_improvement(improvement: Improvement, name: str, out: Console) -> None:
    installation = improvement.assessment.installation
    title = installation.installation + (" (invented)" if installation.invented else "")
    out.print(Text(title, style="bold"))
    wrapped(f"brimfast {__version__} · {words.DEFER}", out, style="dim")
    out.print()
    wrapped(f"As it stands: {words.headline(improvement.assessment)}", out, style="bold")
    if not improvement.ranked:
        wrapped(
            "Nothing is short or close that a measure of this list could help. What is not assessed stays so: "
            "brimfast check says what to add to the file.",
            out,
        )
        return
    wrapped(say.tried_text(improvement), out)
    if improvement.by != improvement.asked:
        wrapped(say.spares_text(improvement), out, style="yellow")
    _ranked(improvement, out)
    _plans(improvement, out)
    plan = say.the_plan(improvement, name)
    if plan is None:
        wrapped("No plan: no measure makes anything better.", out)
        return
    _before_and_after(improvement, out)
    _detail(improvement, plan, out)
    heading("Mind", out)
    for text in say.CAUTIONS:
        wrapped(f"! {text}", out, 2)
    out.print()
    wrapped(words.DEFER, out, style="bold")


def _ranked(improvement: Improvement, out: Console) -> None:
    """Of sizes of one measure the best is shown."""
    shown = say.worth_showing(improvement.ranked)
    heading("Each measure by itself, most gain first", out)
    wrapped(
        "Gain is what it takes off the shortfall, the sum of ln(ratio/0.8) over all that is not `holds`: 0.7 is one overload "
        "halved. No capacity at all counts as ratio 10.",
        out,
        style="dim",
    )
    installation = improvement.assessment.installation
    for number, one in enumerate(shown[:MOST_RANKED], start=1):
        out.print()
        wrapped(f"{number}. {say.subject_text(one.measure, installation)}: {one.measure.title}", out, 2, "bold")
        wrapped(
            f"gain {one.gain.shortfall:.2f} · {say.money_text(one.takes, installation)} · {say.hours_text(one.takes)}",
            out,
            5,
        )
        for change in one.better[:MOST_CHANGES]:
            wrapped(f"{say.about(change)}: {say.step_text(change)}", out, 5)
        if len(one.better) > MOST_CHANGES:
            wrapped(f"and {len(one.better) - MOST_CHANGES} more better", out, 5, "dim")
        for change in one.worse[:MOST_CHANGES]:
            wrapped(say.worse_text(change), out, 5, "yellow")
    if len(shown) > MOST_RANKED:
        out.print()
        wrapped(f"{len(shown) - MOST_RANKED} more with less gain: --json lists all.", out, style="dim")
    bad = say.harmful(improvement.ranked)
    if bad:
        heading("By themselves these make things worse", out)
        for one in bad[:MOST_HARMFUL]:
            texts = [say.worse_text(change) for change in one.worse[:2]]
            wrapped(
                f"· {say.subject_text(one.measure, installation)}: {one.measure.title}. {'; '.join(texts)}.", out, 2
            )
        if len(bad) > MOST_HARMFUL:
            wrapped(f"and {len(bad) - MOST_HARMFUL} more (--json lists all).", out, 2, "dim")
        wrapped("Beside other measures they can still be right.", out, 2, "dim")


def _plans(improvement: Improvement, out: Console) -> None:
    heading("Plans", out)
    installation = improvement.assessment.installation
    for plan in improvement.plans:
        out.print()
        out.print(Text(say.plan_title(plan), style="bold"))
        for name in plan.names:
            wrapped(f"{name}: {say.MEANING[name]}.", out, 2, "dim")
        wrapped(
            f"{say.takes_text(improvement, plan)} Shortfall {improvement.now.shortfall:.2f} before, "
            f"{plan.left.shortfall:.2f} after.",
            out,
            2,
        )
        for number, measure in enumerate(plan.measures, start=1):
            wrapped(f"{number}. {say.subject_text(measure, installation)}: {measure.title}.", out, 2)
        for change in plan.worse:
            wrapped(say.worse_text(change), out, 2, "yellow")
        for text in (say.gap_text(plan, improvement), say.unproven_text(plan), say.apart_text(plan)):
            if text:
                wrapped(text, out, 2, "dim")


def _before_and_after(improvement: Improvement, out: Console) -> None:
    """Every finding that is not `holds` somewhere, side by side."""
    plans = improvement.plans
    heading("Before and after", out)
    found = table(
        (("what", False), ("question", False), ("before", True), *((_short_title(plan), True) for plan in plans))
    )
    columns = [improvement.before, *(outcome(plan.assessment) for plan in plans)]
    lost = False
    for asked, answers in say.rows_that_matter(columns):
        cells = [answer_cell(one) for one in answers]
        lost = lost or None in answers
        row(found, words.plain_name(asked.subject), asked.question, *cells)
    out.print(found)
    if lost:
        wrapped(say.NOT_ASKED, out, style="dim")


def _short_title(plan: Plan) -> str:
    return "\n".join(plan.names)


def _detail(improvement: Improvement, plan: Plan, out: Console) -> None:
    installation = improvement.assessment.installation
    heading(f"What to buy for the {' and '.join(plan.names)} plan", out)
    found = table((("pieces", True), ("what", False), ("about", True)))
    for cells in say.need_rows(plan.needs, installation):
        row(found, *cells)
    row(found, "", Text("together", style="bold"), Text(say.money_text(plan.takes, installation), style="bold"))
    out.print(found)
    heading("How it is done", out)
    for text in dict.fromkeys(text for measure in plan.measures for text in measure.first):
        wrapped(f"First, {text}.", out, 2)
    for number, measure in enumerate(plan.measures, start=1):
        wrapped(f"{number}. {say.subject_text(measure, installation)}: {measure.title}.", out, 2)
        for text in measure.steps:
            wrapped(f"· {text}", out, 5)
    left = say.left_short(plan.assessment)
    if left:
        heading("What still comes out short", out)
        for finding in left:
            wrapped(
                f"✗ {words.plain_name(finding.subject)}. {finding.question} {words.ratio_text(finding)}",
                out,
                2,
                STYLES["short"],
            )
        wrapped(
            "The search found no set of these measures that brings them further. An engineer, or another layout, may.",
            out,
            2,
        )
    heading("Prices and hours used (give your own under prices:)", out)
    if plan.takes.low is None:
        wrapped(say.other_currency(installation), out, 2)
    for value in used(plan.needs, installation):
        wrapped(f"· {value.name}: {value.text} ({value.provenance})", out, 2, "dim")
