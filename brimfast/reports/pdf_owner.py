"""The owner's page: the answer, the worst three, what to do first."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from functools import partial
from typing import Any

from brimfast.reports import choice, summary_words, words
from brimfast.reports.drawings.elevation import drawn_racks, floor_vessels, rack_elevation
from brimfast.reports.drawings.keyed import body_key
from brimfast.reports.equations import GROUND_MOTION, with_symbols
from brimfast.reports.owner_content import (
    COUNT_NAMES,
    COUNT_ORDER,
    FIRST,
    STOP,
    WORST,
    Bad,
    checked_on,
    last_words,
    overall,
    page_facts,
    step_text,
    worst,
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
    TIGHT,
    TIGHT_H1,
    TITLE,
    Paragraph,
    box,
    bullets,
    on_one_page,
    part,
    plain,
)
from brimfast.reports.pdf_style import LINE, PAPER, VERDICT_COLOURS, safe

# isort: split
from reportlab.graphics.shapes import Drawing, Group
from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import Flowable, Spacer, Table, TableStyle

from brimfast.assess.pipeline import Assessment
from brimfast.shared.units import System

LONG_TITLE = ParagraphStyle("long title", parent=TITLE, fontSize=13, leading=17)
BAD = ParagraphStyle("worst", parent=BODY, fontSize=9, leading=12, spaceAfter=0)
KEY = ParagraphStyle("key", parent=QUIET_SMALL, fontSize=7, leading=8.5, spaceAfter=0)
SMALLER, SMALLEST = 0.62, 0.55  # of a picture's size; smaller still, and its marks cannot be read
MOST_KEYS = 8


def owner_page(assessment: Assessment, system: System, day: date, width: float, height: float) -> list[Flowable]:
    """The owner's page: with a picture where it fits, set tighter where it would not fit on one."""
    ways = [
        (BODY, H1, 130.0),
        (TIGHT, TIGHT_H1, 130.0),
        (TIGHT, TIGHT_H1, 112.0),
        (BODY, H1, 0.0),
        (TIGHT, TIGHT_H1, 0.0),
    ]
    return on_one_page(
        [partial(_page, assessment, system, day, width, body, head, picture) for body, head, picture in ways],
        width,
        height,
    )


def _page(
    assessment: Assessment,
    system: System,
    day: date,
    width: float,
    body: ParagraphStyle,
    heading: ParagraphStyle,
    picture: float,
) -> list[Flowable]:
    installation = assessment.installation
    number = choice.counts(assessment)
    title = part(
        installation.installation, "For the owner", TITLE if len(installation.installation) <= 40 else LONG_TITLE
    )
    story: list[Flowable] = [
        title,
        plain(checked_on(assessment, day), QUIET_SMALL),
        Spacer(0, 6),
        _band(summary_words.headline(assessment), overall(assessment), width),
        Spacer(0, 6),
    ]
    shown = _picture(assessment, system, 0.66 * width, picture) if picture else []
    story += [
        _beside(shown, _counts(number, 0.32 * width, 2), width) if shown else _counts(number, width, 4),
        Spacer(0, 6),
    ]
    facts = page_facts(assessment, system, named=not shown)
    story += [Paragraph(f"<b>{lead}</b> {with_symbols(text, GROUND_MOTION)}", body) for lead, text in facts]
    code = summary_words.what_the_code_asks(assessment)
    if code:
        story.append(Paragraph(f"<b>Code.</b> {safe(code)}", body))
    found = worst(assessment, system)
    if found:
        story += [plain(WORST, heading), _worst_table(found, width)]
    steps = summary_words.first_steps(assessment)
    if steps:
        story.append(plain(FIRST, heading))
        for index, first in enumerate(steps, start=1):
            lead = f"<b>{index}. {safe(words.capital(first.measure))}.</b>"
            story.append(Paragraph(f"{lead} {safe(step_text(first))}", body))
    story += [plain(STOP, heading), *bullets(summary_words.when_to_stop(assessment), body)]
    return [*story, Spacer(0, 4), box(last_words(assessment), width)]


def _picture(assessment: Assessment, system: System, width: float, height: float) -> list[Flowable]:
    """The front, small, and what its numbers mean in one line."""
    racks = drawn_racks(assessment)
    size = width / SMALLER, height / SMALLER
    front = rack_elevation(assessment, racks[0], system, *size) if racks else floor_vessels(assessment, system, *size)
    if front is None:
        return []
    by = min(SMALLER, height / front.drawing.height)
    if by < SMALLEST:
        return []
    small = Drawing(by * front.drawing.width, by * front.drawing.height)
    small.add(Group(*front.drawing.contents, transform=(by, 0, 0, by, 0, 0)))
    small.hAlign = "LEFT"
    bodies = body_key(assessment, system)
    key = "  ·  ".join(f"{number} {text}" for number, text in bodies[:MOST_KEYS])
    more = f"  ·  and {len(bodies) - MOST_KEYS} more" if len(bodies) > MOST_KEYS else ""
    marks = "  ·  crossed diamond: short there; barred circle: close" if front.key else ""
    return [small, plain(f"{key}{more}{marks}", KEY)]


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


def _counts(number: dict[str, int], width: float, columns: int) -> Table:
    cells = [
        [
            Paragraph(f'<font color="{VERDICT_COLOURS[key].hexval()}">{words.MARKS[key]} {number[key]}</font>', COUNT),
            plain(COUNT_NAMES[key], COUNT_WORD),
        ]
        for key in COUNT_ORDER
    ]
    rows = [cells[index : index + columns] for index in range(0, len(cells), columns)]
    table = Table(rows, colWidths=[width / columns] * columns)
    table.setStyle(
        TableStyle(
            [
                ("BOX", (0, 0), (-1, -1), 0.6, LINE),
                ("INNERGRID", (0, 0), (-1, -1), 0.6, LINE),
                ("VALIGN", (0, 0), (-1, -1), "MIDDLE"),
                ("TOPPADDING", (0, 0), (-1, -1), 4),
                ("BOTTOMPADDING", (0, 0), (-1, -1), 6),
            ]
        )
    )
    return table


def _beside(left: list[Flowable], right: Flowable, width: float) -> Table:
    table = Table([[left, right]], colWidths=[0.67 * width, 0.33 * width])
    table.setStyle(
        TableStyle(
            [
                ("VALIGN", (0, 0), (-1, -1), "MIDDLE"),
                *((f"{side}PADDING", (0, 0), (-1, -1), 0) for side in ("LEFT", "RIGHT", "TOP", "BOTTOM")),
            ]
        )
    )
    return table


def _worst_table(worst: Sequence[Bad], width: float) -> Table:
    rows: list[list[Any]] = []
    for one in worst:
        colour = VERDICT_COLOURS[one.verdict].hexval()
        mark = Paragraph(f'<font color="{colour}">{one.mark} {one.danger}</font>', HEAD)
        what = Paragraph(f"<b>{safe(one.subject)}.</b> {safe(one.question)}<br/>{safe(one.sentence)}", BAD)
        rows.append([mark, what, Paragraph(safe(one.times), HEAD_RIGHT)])
    table = Table(rows, colWidths=[74, width - 74 - 60, 60])
    table.setStyle(
        TableStyle(
            [
                ("VALIGN", (0, 0), (-1, -1), "TOP"),
                ("LINEABOVE", (0, 0), (-1, -1), 0.5, LINE),
                ("LINEBELOW", (0, -1), (-1, -1), 0.5, LINE),
                ("LEFTPADDING", (0, 0), (0, -1), 0),
                ("RIGHTPADDING", (-1, 0), (-1, -1), 0),
                ("TOPPADDING", (0, 0), (-1, -1), 3),
                ("BOTTOMPADDING", (0, 0), (-1, -1), 4),
            ]
        )
    )
    return table
