"""The renter's page: the water, where it goes, what it may cost, what is cheap to do, whom to ask."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from brimfast.reports import renter_words, words
from brimfast.reports.pdf_flow import BODY, H1, SMALL, TIGHT, TIGHT_H1, bullets, on_one_page, part, plain, table

# isort: split
from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import Flowable, PageBreak

from brimfast.assess.pipeline import Assessment
from brimfast.shared.units import System

if TYPE_CHECKING:
    from brimfast.assess.plan.improve import Improvement


def renter_page(
    assessment: Assessment, improvement: Improvement | None, system: System, width: float, height: float
) -> list[Flowable]:
    """On one page: set tighter, and with fewer measures, where it would not fit."""
    return [
        PageBreak(),
        *on_one_page(
            [
                partial(_page, assessment, improvement, system, width, body, head, most)
                for body, head, most in (
                    (BODY, H1, renter_words.MOST_CHEAP),
                    (TIGHT, TIGHT_H1, renter_words.MOST_CHEAP),
                    (TIGHT, TIGHT_H1, 3),
                )
            ],
            width,
            height,
        ),
    ]


def _page(
    assessment: Assessment,
    improvement: Improvement | None,
    system: System,
    width: float,
    body: ParagraphStyle,
    head: ParagraphStyle,
    most: int,
) -> list[Flowable]:
    story: list[Flowable] = [
        part(renter_words.TITLE, "For the renter"),
        plain(renter_words.total(assessment, system), body),
    ]
    rows = renter_words.rows(assessment, system)
    if rows:
        shares = (0.31, 0.15, 0.13, 0.14, 0.09, 0.18)
        widths = tuple(width * share for share in shares)
        story.append(table(renter_words.HEAD, rows, widths, {1, 2, 3, 4, 5}))
        note = renter_words.cost_note(assessment)
        story += [plain(note, SMALL)] if note else []
    story += [plain(renter_words.WHERE, head), plain(renter_words.where_it_goes(assessment, system), body)]
    story += [plain(renter_words.CHEAP, head), *_cheap(assessment, improvement, body, most)]
    story += [
        plain(renter_words.LANDLORD, head),
        *bullets(renter_words.ask_landlord(assessment, system), body),
    ]
    story += [plain(renter_words.INSURER, head), *bullets(renter_words.ask_insurer(assessment), body)]
    return [*story, plain(words.DEFER, body)]


def _cheap(assessment: Assessment, improvement: Improvement | None, body: ParagraphStyle, most: int) -> list[Flowable]:
    lines, tail = renter_words.cheap_lines(assessment, improvement, most)
    return [*bullets(lines, body), *([plain(tail, SMALL)] if tail else [])]
