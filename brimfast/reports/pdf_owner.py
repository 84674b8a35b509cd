"""The owner's page: the answer, the worst three, what to do first."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any

from brimfast.reports import words
from brimfast.reports.equations import GROUND_MOTION, with_symbols
from brimfast.reports.owner_content import (
    COUNT_NAMES,
    COUNT_ORDER,
    checked_on,
    engineer_words,
    facts,
    overall,
    step_text,
)
from brimfast.reports.pdf_flow import (
    BIG,
    BODY,
    COUNT,
    COUNT_WORD,
    H1,
    HEAD,
    HEAD_RIGHT,
    QUIET_SMALL,
    TITLE,
    box,
    plain,
)
from brimfast.reports.pdf_style import LINE, PAPER, VERDICT_COLOURS, safe

# isort: split
from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import Flowable, Paragraph, Spacer, Table, TableStyle

from brimfast.assess.pipeline import Assessment
from brimfast.shared.findings import Finding
from brimfast.shared.units import System

LONG_TITLE = ParagraphStyle("long title", parent=TITLE, fontSize=13, leading=17)
SMALL_HEAD = ParagraphStyle("small head", parent=QUIET_SMALL, alignment=2, spaceAfter=0)
WORST = ParagraphStyle("worst", parent=BODY, fontSize=9, leading=12, spaceAfter=0)


TIGHT = ParagraphStyle("tight", parent=BODY, fontSize=8.5, leading=11, spaceAfter=3)
TIGHT_H1 = ParagraphStyle("tight h1", parent=H1, fontSize=11, leading=13, spaceBefore=6, spaceAfter=3)


def owner_page(assessment: Assessment, system: System, day: date, width: float, height: float) -> list[Flowable]:
    """The owner's page; set tighter where it would not fit on one."""
    story = _page(assessment, system, day, width, BODY, H1)
    if _needs(story, width) > height:
        story = _page(assessment, system, day, width, TIGHT, TIGHT_H1)
    return story


def _needs(story: list[Flowable], width: float) -> float:
    return sum(one.wrap(width, 1e6)[1] + one.getSpaceBefore() + one.getSpaceAfter() for one in story)


def _page(
    assessment: Assessment, system: System, day: date, width: float, body: ParagraphStyle, heading: ParagraphStyle
) -> list[Flowable]:
    name, number = assessment.installation.installation, words.counts(assessment)
    story: list[Flowable] = [
        plain(name, TITLE if len(name) <= 40 else LONG_TITLE),
        plain(checked_on(assessment, day), QUIET_SMALL),
        Spacer(0, 8),
        _band(words.headline(assessment), overall(assessment), width),
        Spacer(0, 8),
        _counts(number, width),
        Spacer(0, 10),
    ]
    told = facts(assessment, system)
    story += [Paragraph(f"<b>{lead}</b> {with_symbols(text, GROUND_MOTION)}", body) for lead, text in told]
    code = words.what_the_code_asks(assessment)
    if code:
        story.append(Paragraph(f"<b>Code.</b> {safe(code)}", body))
    worst = words.worst(assessment)
    if worst:
        story += [plain("Worst first", heading), _worst_table(worst, system, width)]
    steps = words.first_steps(assessment)
    if steps:
        story.append(plain("What to do first", heading))
        for index, first in enumerate(steps, start=1):
            lead = f"<b>{index}. {safe(words.capital(first.measure))}.</b>"
            story.append(Paragraph(f"{lead} {safe(step_text(first))}", body))
    story += [plain("For a landlord or insurer", heading), plain(words.for_the_landlord(assessment, system), body)]
    story += [Spacer(0, 6), box(engineer_words(assessment), width)]
    return story


def _band(text: str, verdict: str, width: float) -> Table:
    colour = VERDICT_COLOURS[verdict]
    table = Table([["", plain(text, BIG)]], colWidths=[6, width - 6])
    table.setStyle(
        TableStyle(
            [
                ("BACKGROUND", (0, 0), (0, 0), colour),
                ("BACKGROUND", (1, 0), (1, 0), PAPER),
                ("VALIGN", (0, 0), (-1, -1), "MIDDLE"),
                ("LEFTPADDING", (1, 0), (1, 0), 10),
                ("TOPPADDING", (0, 0), (-1, -1), 9),
                ("BOTTOMPADDING", (0, 0), (-1, -1), 10),
            ]
        )
    )
    return table


def _counts(number: dict[str, int], width: float) -> Table:
    top = [
        Paragraph(f'<font color="{VERDICT_COLOURS[key].hexval()}">{words.MARKS[key]} {number[key]}</font>', COUNT)
        for key in COUNT_ORDER
    ]
    table = Table([top, [plain(COUNT_NAMES[key], COUNT_WORD) for key in COUNT_ORDER]], colWidths=[width / 4] * 4)
    table.setStyle(
        TableStyle(
            [
                ("BOX", (0, 0), (-1, -1), 0.6, LINE),
                ("LINEAFTER", (0, 0), (-2, -1), 0.6, LINE),
                ("TOPPADDING", (0, 0), (-1, 0), 6),
                ("BOTTOMPADDING", (0, 0), (-1, 0), 2),
                ("TOPPADDING", (0, 1), (-1, 1), 0),
                ("BOTTOMPADDING", (0, 1), (-1, 1), 7),
            ]
        )
    )
    return table


def _worst_table(worst: Sequence[Finding], system: System, width: float) -> Table:
    rows: list[list[Any]] = [["", "", Paragraph("times over", SMALL_HEAD)]]
    for finding in worst:
        colour = VERDICT_COLOURS[finding.verdict].hexval()
        mark = Paragraph(
            f'<font color="{colour}">{words.MARKS[finding.verdict]} {words.DANGERS[words.danger(finding)]}</font>', HEAD
        )
        what = Paragraph(
            f"<b>{safe(finding.subject)}.</b> {safe(finding.question)}<br/>"
            + safe(words.capital(words.sentence(finding, system))),
            WORST,
        )
        rows.append([mark, what, Paragraph(safe(words.ratio_text(finding)), HEAD_RIGHT)])
    table = Table(rows, colWidths=[74, width - 74 - 60, 60])
    table.setStyle(
        TableStyle(
            [
                ("VALIGN", (0, 0), (-1, -1), "TOP"),
                ("LINEABOVE", (0, 1), (-1, -1), 0.5, LINE),
                ("TOPPADDING", (0, 0), (-1, 0), 0),
                ("LINEBELOW", (0, -1), (-1, -1), 0.5, LINE),
                ("LEFTPADDING", (0, 0), (0, -1), 0),
                ("RIGHTPADDING", (-1, 0), (-1, -1), 0),
                ("TOPPADDING", (0, 1), (-1, -1), 5),
                ("BOTTOMPADDING", (0, 1), (-1, -1), 6),
                ("BOTTOMPADDING", (0, 0), (-1, 0), 0),
            ]
        )
    )
    return table
