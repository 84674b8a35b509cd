"""The renter's page: the water, where it goes, what it may cost, what is cheap to do, whom to ask."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from brimfast.reports import renter_words, words
from brimfast.reports.pdf_flow import BODY, H1, SMALL, bullets, on_one_page, part, plain, table
from brimfast.reports.pdf_style import safe

# isort: split
from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import Flowable, PageBreak, Paragraph

from brimfast.assess.pipeline import Assessment
from brimfast.shared.units import System

if TYPE_CHECKING:
    from brimfast.assess.plan.improve import Improvement, Ranked

TIGHT = ParagraphStyle("tight body", parent=BODY, fontSize=8.5, leading=11, spaceAfter=2)
TIGHT_H1 = ParagraphStyle("tight head", parent=H1, fontSize=11, leading=13, spaceBefore=6, spaceAfter=2)
MOST_CHEAP = 6


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
                    (BODY, H1, MOST_CHEAP),
                    (TIGHT, TIGHT_H1, MOST_CHEAP),
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
        part("If you rent the room", "For the renter"),
        plain(
            f"In all {renter_words.total(assessment, system)} of water can leave {assessment.installation.installation}.",
            body,
        ),
    ]
    rows = renter_words.rows(assessment, system)
    if rows:
        shares = (0.31, 0.15, 0.13, 0.14, 0.09, 0.18)
        widths = tuple(width * share for share in shares)
        story.append(table(renter_words.HEAD, rows, widths, {1, 2, 3, 4, 5}))
        by = "US planning figures: get local quotes" if assessment.exposed.planned else "the costs in the file"
        story.append(plain(f"Cost by {by}; walls, wiring, mould, rent and nights elsewhere are not in it.", SMALL))
    story += [plain("Where the water goes", head), plain(renter_words.where_it_goes(assessment, system), body)]
    story += [plain("What is cheap to do", head), *_cheap(assessment, improvement, body, most)]
    story += [
        plain("Ask the landlord, in writing", head),
        *bullets(renter_words.ask_landlord(assessment, system), body),
    ]
    story += [plain("Ask the insurer, in writing", head), *bullets(renter_words.ask_insurer(assessment), body)]
    return [*story, plain(words.DEFER, body)]


def _cheap(assessment: Assessment, improvement: Improvement | None, body: ParagraphStyle, most: int) -> list[Flowable]:
    """With a search, what helps for least, by its price; else kinds of measure, and what costs nothing."""
    if improvement is not None and improvement.ranked:
        from brimfast.reports import improve_words

        installation = improvement.assessment.installation
        found = sorted(improve_words.worth_showing(improvement.ranked), key=_price)[:most]
        return bullets(
            [
                f"{improve_words.subject_text(one.measure, installation)}: {one.measure.title} "
                f"({improve_words.money_text(one.takes, installation)}, {improve_words.hours_text(one.takes)})."
                for one in found
            ],
            body,
        )
    kinds = [f"{words.capital(one.measure)}: {one.reason}." for one in renter_words.cheap(assessment)[: most - 2]]
    story: list[Flowable] = bullets([*kinds, *renter_words.HABITS[: max(most - 1, 2)]], body)
    if kinds:
        tail = "What each costs and does: the report with a plan (--plan cheap) tries and prices them."
        story.append(Paragraph(safe(tail), SMALL))
    return story


def _price(one: Ranked) -> tuple[float, float]:
    """What it costs at most, as far as known; then its hours."""
    return one.takes.high if one.takes.high is not None else one.takes.known[1], one.takes.hours
