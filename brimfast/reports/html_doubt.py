"""The chances as a part of the HTML report."""

from __future__ import annotations

from dataclasses import dataclass

from brimfast.assess.doubt.doubt import Doubt
from brimfast.reports import doubt_content as content
from brimfast.reports import doubt_words as say
from brimfast.reports.doubt_content import Chances
from brimfast.reports.drawings.chances import chance_bars
from brimfast.reports.figures import Figure
from brimfast.reports.html_drawings import Picture, picture_of
from brimfast.reports.html_tables import HtmlTable, made
from brimfast.shared.units import System


@dataclass(frozen=True)
class ChancesPart:
    """What the page says, with its tables and its drawing; words: headings and notes."""

    words: object
    say: object
    chances: Chances
    outcomes: HtmlTable
    limits: HtmlTable
    bars: Picture | None


def chances_part(found: Doubt, system: System, width: float) -> ChancesPart:
    said = content.chances(found, system, content.MOST_LIMITS)
    outcomes = made("table-outcomes", content.OUTCOMES, content.OUTCOME_HEAD, said.outcomes, {1, 2, 3}, sentences=True)
    limits = made(
        "table-limits", "Limits, the most likely first", content.LIMIT_HEAD, said.limits, {1, 2}, sentences=True
    )
    return ChancesPart(content, say, said, outcomes, limits, _bars(said, width))


def _bars(said: Chances, width: float) -> Picture | None:
    drawing = chance_bars(said.bars, width)
    if drawing is None:
        return None
    told = "; ".join(f"{name}: {chance}" for name, _, chance in said.bars)
    return picture_of(Figure(drawing, note=f"{content.BARS_NOTE} {told}."), "chance-bars", content.BARS)
