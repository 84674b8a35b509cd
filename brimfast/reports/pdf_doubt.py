"""The page of chances: what may happen, which limits are passed, what to measure first."""

from __future__ import annotations

from functools import partial

from brimfast.reports import doubt_content as content
from brimfast.reports import doubt_words as say
from brimfast.reports import words
from brimfast.reports.doubt_content import Chances
from brimfast.reports.drawings.chances import chance_bars
from brimfast.reports.pdf_flow import BODY, H2, QUIET_SMALL, SMALL, bullets, on_one_page, part, plain, table

# isort: split
from reportlab.platypus import Flowable, PageBreak

from brimfast.assess.doubt.doubt import Doubt
from brimfast.shared.units import System

FEWER = (11, 8, 6, 4)


def doubt_page(found: Doubt, system: System, width: float, height: float) -> list[Flowable]:
    """On one page: as many limits as fit, and with a drawing where there is room for it."""
    ways = [
        partial(_page, content.chances(found, system, most), width, drawn)
        for most in (content.MOST_LIMITS, *FEWER)
        for drawn in (True, False)
    ]
    return [PageBreak(), *on_one_page(ways, width, height)]


def _page(said: Chances, width: float, drawn: bool) -> list[Flowable]:
    story: list[Flowable] = [
        part(content.TITLE),
        plain(said.headline, BODY),
        table(
            content.OUTCOME_HEAD, said.outcomes, tuple(width * share for share in (0.4, 0.24, 0.18, 0.18)), {1, 2, 3}
        ),
        *(plain(text, SMALL) for text in said.notes),
        *_limits(said, width, drawn),
        plain(content.MEASURE, H2),
    ]
    story += [plain(f"{number}. {text}", SMALL) for number, text in enumerate(said.measure, start=1)]
    if not said.measure:
        story.append(plain(say.NOTHING_TO_MEASURE, SMALL))
    story += [plain(content.ACCURACY, H2), *(plain(text, SMALL) for text in said.accuracy)]
    story += [plain(content.NOT_IN, H2), *bullets(said.not_in, QUIET_SMALL)]
    return [*story, plain(words.DEFER, BODY)]


def _limits(said: Chances, width: float, drawn: bool) -> list[Flowable]:
    if not said.limits:
        return [plain(content.NO_LIMITS, BODY)]
    drawing = chance_bars(said.bars, width) if drawn else None
    return [
        plain(content.LIMITS, H2),
        table(content.LIMIT_HEAD, said.limits, tuple(width * share for share in (0.48, 0.11, 0.11, 0.3)), {1, 2}),
        plain(said.limits_note, QUIET_SMALL),
        *([plain(content.BARS, H2), plain(content.BARS_NOTE, QUIET_SMALL), drawing] if drawing is not None else []),
    ]
