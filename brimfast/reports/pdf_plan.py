"""The sheets to work by: before and after, what to buy, what to drill and bolt, and how, with what can hurt said first."""

from __future__ import annotations

from typing import Any

from brimfast.reports import bolting, words
from brimfast.reports import improve_words as say
from brimfast.reports.drawings.ratios import before_and_after
from brimfast.reports.pdf_flow import (
    BODY,
    CELL,
    H2,
    HEAD,
    QUIET_SMALL,
    SMALL,
    box_of,
    bullets,
    part,
    plain,
    section,
    table,
)
from brimfast.reports.pdf_style import VERDICT_COLOURS, safe

# isort: split
from reportlab.platypus import CondPageBreak, Flowable, KeepTogether, PageBreak, Paragraph

from brimfast.assess.measures.measure import used
from brimfast.assess.plan.improve import Improvement, Plan
from brimfast.assess.plan.score import Answer, outcome
from brimfast.shared.units import System

ROOM = 120
MOST_BARS = 8


def plan_pages(improvement: Improvement, plan: Plan, system: System, width: float) -> list[Flowable]:
    return [
        PageBreak(),
        *_before_and_after(improvement, plan, width),
        *_shopping(improvement, plan, width),
        PageBreak(),
        *_work(improvement, plan, width),
        *_left(improvement, plan),
    ]


def _answer(one: Answer | None) -> Paragraph:
    text = safe(say.answer_text(one))
    if one is None:
        return Paragraph(text, CELL)
    return Paragraph(f'<font color="{VERDICT_COLOURS[one.verdict].hexval()}">{text}</font>', HEAD)


def _before_and_after(improvement: Improvement, plan: Plan, width: float) -> list[Flowable]:
    installation = improvement.assessment.installation
    title = say.plan_title(plan)
    story: list[Flowable] = [part(f"Do it: the {title[:1].lower()}{title[1:]}", "Do it: the plan")]
    story += [plain(f"{words.capital(name)}: {say.MEANING[name].replace('`', '')}.", SMALL) for name in plan.names]
    story.append(
        plain(
            f"{say.money_text(plan.takes, installation)} for parts, {say.hours_text(plan.takes)} of work"
            f"{say.wages_text(plan.takes, installation)}. Short: {say.short_count(improvement.assessment)} before, "
            f"{say.short_count(plan.assessment)} after.",
            BODY,
        )
    )
    proven = (
        say.gap_text(plan, improvement),
        say.unproven_text(plan),
        say.apart_text(plan),
        say.spares_text(improvement),
    )
    story += [plain(" ".join(text for text in proven if text), QUIET_SMALL)]
    rows: list[list[Any]] = []
    lost = False
    bars: list[tuple[str, float | None, float | None]] = []
    for asked, (before, after) in say.rows_that_matter([improvement.before, outcome(plan.assessment)]):
        if before is not None and after is not None and "not assessed" not in (before.verdict, after.verdict):
            bars.append((f"{words.plain_name(asked.subject)}: {asked.question}", before.ratio, after.ratio))
        rows.append([words.plain_name(asked.subject), asked.question, _answer(before), _answer(after)])
        lost = lost or after is None or before is None
    if rows:
        story += [
            section("Before and after"),
            plain("Ratio of what acts to what may be: above 1 it is short. Computed anew with all measures.", SMALL),
            table(
                ("what", "question", "before", "after"),
                rows,
                tuple(width * share for share in (0.22, 0.48, 0.15, 0.15)),
                set(),
            ),
        ]
        if lost:
            story.append(plain(say.NOT_ASKED, QUIET_SMALL))
    drawing = before_and_after(bars[:MOST_BARS], width)
    if drawing is not None:
        story += [CondPageBreak(ROOM), KeepTogether([plain("The same as bars", H2), drawing])]
    story += [plain(words.capital(say.worse_text(change)), SMALL) for change in plan.worse]
    return story


def _shopping(improvement: Improvement, plan: Plan, width: float) -> list[Flowable]:
    installation = improvement.assessment.installation
    rows: list[list[Any]] = [["☐", *cells] for cells in say.need_rows(plan.needs, installation)]
    rows.append(["", "", plain("together", HEAD), plain(say.money_text(plan.takes, installation), HEAD)])
    story: list[Flowable] = [
        CondPageBreak(ROOM),
        section("What to buy"),
        table(
            ("", "pieces", "what", "about"),
            rows,
            tuple(width * share for share in (0.04, 0.11, 0.63, 0.22)),
            set(),
        ),
    ]
    story.append(plain("Hot-dip galvanised or stainless where wood is treated or wet. Prices and hours used:", SMALL))
    if plan.takes.low is None:
        story.append(plain(say.other_currency(installation), SMALL))
    figures = [f"{value.name}: {value.text} ({value.provenance})" for value in used(plan.needs, installation)]
    return [*story, plain("; ".join(figures) + ".", QUIET_SMALL)]


def _work(improvement: Improvement, plan: Plan, width: float) -> list[Flowable]:
    before, after = improvement.assessment.installation, plan.assessment.installation
    story: list[Flowable] = [
        section("Before you begin"),
        box_of(bullets(say.CAUTIONS, BODY, "!"), width),
    ]
    places = bolting.places(before, after)
    if places:
        story += [
            CondPageBreak(ROOM),
            section("Drilling and bolting"),
            table(
                bolting.HEAD,
                [list(place.cells) for place in places],
                tuple(width * share for share in (0.2, 0.25, 0.15, 0.16, 0.24)),
                set(),
            ),
        ]
    story += [CondPageBreak(ROOM), section("How it is done")]
    first = list(dict.fromkeys(text for measure in plan.measures for text in measure.first))
    story += [plain(f"First, {text}.", BODY) for text in first]
    for number, measure in enumerate(plan.measures, start=1):
        head = plain(f"☐ {number}. {say.subject_text(measure, before)}: {measure.title}.", H2)
        steps = bullets([words.capital(text) + "." for text in measure.steps], SMALL)
        story += [KeepTogether([head, *steps[:1]]), *steps[1:]]
    return story


def _left(improvement: Improvement, plan: Plan) -> list[Flowable]:
    left = say.left_short(plan.assessment)
    if not left:
        return []
    lines = [f"{words.capital(words.plain_name(one.subject))}. {one.question} {words.ratio_text(one)}" for one in left]
    return [
        CondPageBreak(ROOM),
        section("What still comes out short"),
        *bullets(lines, BODY, "✗"),
        plain(
            "The search found no set of these measures that brings them further: an engineer, or another layout, may.",
            SMALL,
        ),
    ]
