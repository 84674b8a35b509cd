"""The sheets to work by as a part of the HTML report."""

from __future__ import annotations

from dataclasses import dataclass

from brimfast.assess.plan.score import Answer
from brimfast.reports import bolting
from brimfast.reports import improve_words as say
from brimfast.reports import plan_content as content
from brimfast.reports.drawings.ratios import before_and_after
from brimfast.reports.figures import Figure
from brimfast.reports.html_drawings import Picture, picture_of
from brimfast.reports.html_tables import HtmlTable, made, verdict
from brimfast.reports.plan_content import Planned, Sheets


@dataclass(frozen=True)
class PlanPart:
    """What the sheets say, with their tables and their drawing; words: headings and notes."""

    words: object
    say: object
    sheets: Sheets
    before: HtmlTable
    bars: Picture | None
    shopping: HtmlTable
    bolting: HtmlTable


def plan_part(planned: Planned, width: float) -> PlanPart:
    found = content.sheets(planned)
    return PlanPart(content, say, found, _before(found), _bars(found, width), _shopping(found), _bolting(found))


def _before(found: Sheets) -> HtmlTable:
    rows = [(one.what, one.question, _answer(one.before), _answer(one.after)) for one in found.rows]
    return made("table-before", "Every question that matters, before and after", content.BEFORE_HEAD, rows)


def _answer(one: Answer | None) -> str:
    """Its figure, mark and word, in its colour."""
    if one is None:
        return say.answer_text(None)
    return verdict(one.verdict, "" if one.verdict == "not assessed" else say.answer_figure(one))


def _bars(found: Sheets, width: float) -> Picture | None:
    drawing = before_and_after(found.bars, width)
    if drawing is None:
        return None
    note = "Two bars for each question of the table above, before and after, with a line at ratio 1."
    return picture_of(Figure(drawing, note=note), "before-bars", content.BARS)


def _shopping(found: Sheets) -> HtmlTable:
    rows = [(what, count, about) for count, what, about in found.shopping]
    count, what, about = content.SHOPPING_HEAD
    return made(
        "table-shopping",
        "Shopping list",
        (what, count, about),
        [*rows, (content.TOGETHER, "", found.together)],
        sentences=True,
        summed=True,
    )


def _bolting(found: Sheets) -> HtmlTable:
    return made("table-bolting", "Every place that is fastened otherwise than before", bolting.HEAD, found.places)
