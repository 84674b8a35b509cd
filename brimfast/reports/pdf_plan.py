"""The sheets to work by: before and after, what to buy, what to drill and bolt, and how, with what can hurt said first."""

from __future__ import annotations

from typing import Any

from brimfast.reports import bolting
from brimfast.reports import improve_words as say
from brimfast.reports import plan_content as content
from brimfast.reports.drawings.ratios import before_and_after
from brimfast.reports.pdf_flow import (
    BODY,
    CELL,
    H2,
    HEAD,
    QUIET_SMALL,
    ROOM,
    SMALL,
    Paragraph,
    box_of,
    bullets,
    part,
    plain,
    section,
    table,
)
from brimfast.reports.pdf_style import VERDICT_COLOURS, safe
from brimfast.reports.plan_content import Planned, Sheets

# isort: split
from reportlab.platypus import CondPageBreak, Flowable, KeepTogether, PageBreak

from brimfast.assess.plan.score import Answer


def plan_pages(planned: Planned, width: float) -> list[Flowable]:
    found = content.sheets(planned)
    return [
        PageBreak(),
        *_before_and_after(found, width),
        *_shopping(found, width),
        PageBreak(),
        *_work(found, width),
        *_left(found),
    ]


def _answer(one: Answer | None) -> Paragraph:
    text = safe(say.answer_text(one))
    if one is None:
        return Paragraph(text, CELL)
    return Paragraph(f'<font color="{VERDICT_COLOURS[one.verdict].hexval()}">{text}</font>', HEAD)


def _before_and_after(found: Sheets, width: float) -> list[Flowable]:
    story: list[Flowable] = [part(found.title, "Do it: the plan")]
    story += [plain(text, SMALL) for text in found.meanings]
    story += [plain(found.takes, BODY), plain(found.proven, QUIET_SMALL)]
    if found.rows:
        rows = [[one.what, one.question, _answer(one.before), _answer(one.after)] for one in found.rows]
        story += [
            section(content.BEFORE_AND_AFTER),
            plain(content.BEFORE_NOTE, SMALL),
            table(content.BEFORE_HEAD, rows, tuple(width * share for share in (0.22, 0.48, 0.15, 0.15)), set()),
        ]
        if found.lost:
            story.append(plain(say.NOT_ASKED, QUIET_SMALL))
    drawing = before_and_after(found.bars, width)
    if drawing is not None:
        story += [CondPageBreak(ROOM), KeepTogether([plain(content.BARS, H2), drawing])]
    story += [plain(text, SMALL) for text in found.worse]
    return story


def _shopping(found: Sheets, width: float) -> list[Flowable]:
    rows: list[list[Any]] = [["☐", *cells] for cells in found.shopping]
    rows.append(["", "", plain(content.TOGETHER, HEAD), plain(found.together, HEAD)])
    story: list[Flowable] = [
        CondPageBreak(ROOM),
        section(content.SHOPPING),
        table(
            ("", *content.SHOPPING_HEAD),
            rows,
            tuple(width * share for share in (0.04, 0.11, 0.63, 0.22)),
            set(),
        ),
    ]
    story.append(plain(content.SHOPPING_NOTE, SMALL))
    if found.currency:
        story.append(plain(found.currency, SMALL))
    return [*story, plain(found.prices, QUIET_SMALL)]


def _work(found: Sheets, width: float) -> list[Flowable]:
    story: list[Flowable] = [
        section(content.MIND),
        box_of(bullets(say.CAUTIONS, BODY, "!"), width),
    ]
    if found.places:
        story += [
            CondPageBreak(ROOM),
            section(content.BOLTING),
            table(
                bolting.HEAD,
                [list(cells) for cells in found.places],
                tuple(width * share for share in (0.2, 0.25, 0.15, 0.16, 0.24)),
                set(),
            ),
        ]
    story += [CondPageBreak(ROOM), section(content.HOW)]
    story += [plain(text, BODY) for text in found.first]
    for work in found.works:
        steps = bullets(work.steps, SMALL)
        story += [KeepTogether([plain(f"☐ {work.title}", H2), *steps[:1]]), *steps[1:]]
    return story


def _left(found: Sheets) -> list[Flowable]:
    if not found.left:
        return []
    return [
        CondPageBreak(ROOM),
        section(content.LEFT),
        *bullets(found.left, BODY, "✗"),
        plain(content.LEFT_NOTE, SMALL),
    ]
