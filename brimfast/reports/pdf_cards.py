"""Two cards to cut out: one to inspect by, one for the wall. Each on a page of its own, in the largest type that fits."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from brimfast.reports import card_words, words
from brimfast.reports.pdf_flow import QUIET_SMALL, SMALL, Paragraph, needs, part, plain, section
from brimfast.reports.pdf_style import BOLD, INK, LINE, QUIET, REGULAR, safe

# isort: split
from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import Flowable, PageBreak, Spacer, Table, TableStyle

from brimfast.assess.pipeline import Assessment
from brimfast.shared.units import System

if TYPE_CHECKING:
    from brimfast.assess.plan.improve import Plan

SIZES = (19.0, 17.0, 15.5, 14.0, 12.5, 11.0, 10.0, 9.0, 8.0, 7.2, 6.5)
PAD = 14.0  # points between the cut line and what is written
CUT = "✂ cut along the dashed line"


def cards(assessment: Assessment, plan: Plan | None, system: System, width: float, height: float) -> list[Flowable]:
    """With a plan the cards are those of the installation as it will be."""
    after = plan.assessment if plan is not None else assessment
    return [
        PageBreak(),
        *_card("Cards", card_words.INSPECTION, width, height, lambda type: _inspection(after, type, width)),
        PageBreak(),
        *_card("", card_words.WALL, width, height, lambda type: _wall(after, plan, system, type, width)),
    ]


class _Type:
    """Styles of one size; shown: how many rows of a list are printed, the rest counted."""

    def __init__(self, size: float, shown: int) -> None:
        self.size, self.shown = size, shown
        text = ParagraphStyle(f"card {size}", fontName=REGULAR, fontSize=size, leading=1.22 * size, textColor=INK)
        self.text = text
        self.bold = ParagraphStyle(f"card bold {size}", parent=text, fontName=BOLD)
        self.big = ParagraphStyle(
            f"card big {size}",
            parent=text,
            fontName=BOLD,
            fontSize=1.35 * size,
            leading=1.65 * size,
            spaceBefore=0.4 * size,
        )
        self.quiet = ParagraphStyle(f"card quiet {size}", parent=text, textColor=QUIET)

    def cut(self, rows: Sequence[Any]) -> tuple[Sequence[Any], int]:
        return rows[: self.shown], max(len(rows) - self.shown, 0)


def _card(first: str, title: str, width: float, height: float, inside: Any) -> list[Flowable]:
    """The card within its cut line. The page is named above it, so that the card itself has no words too many."""
    above: list[Flowable] = [part(first, "Cards to cut out")] if first else []
    above += [section(title), plain(CUT, QUIET_SMALL)]
    room = height - needs(above, width) - 4
    story: list[Flowable] = []
    for size, shown in [*((size, 200) for size in SIZES), (SIZES[-1], 36), (SIZES[-1], 20), (SIZES[-1], 10)]:
        story = inside(_Type(size, shown))
        if needs(story, width - 2 * PAD) <= room - 2 * PAD:
            break
    card = Table([[story]], colWidths=[width], rowHeights=[room])
    card.setStyle(
        TableStyle(
            [
                ("BOX", (0, 0), (-1, -1), 0.9, QUIET, "butt", (5, 4)),
                ("VALIGN", (0, 0), (-1, -1), "TOP"),
                *((f"{side}PADDING", (0, 0), (-1, -1), PAD) for side in ("LEFT", "RIGHT", "TOP", "BOTTOM")),
            ]
        )
    )
    return [*above, card]


def _rows(rows: Sequence[Sequence[Flowable]], widths: Sequence[float], pad: float) -> Table:
    found = Table([list(row) for row in rows], colWidths=list(widths))
    found.setStyle(
        TableStyle(
            [
                ("VALIGN", (0, 0), (-1, -1), "TOP"),
                ("LINEBELOW", (0, 0), (-1, -1), 0.4, LINE),
                ("LEFTPADDING", (0, 0), (-1, -1), 0),
                ("RIGHTPADDING", (0, 0), (-1, -1), 6),
                ("TOPPADDING", (0, 0), (-1, -1), pad),
                ("BOTTOMPADDING", (0, 0), (-1, -1), pad),
            ]
        )
    )
    return found


def _more(count: int, type: _Type) -> list[Flowable]:
    return [plain(f"and {count} more of the kind", type.quiet)] if count else []


def _inspection(assessment: Assessment, type: _Type, width: float) -> list[Flowable]:
    installation = assessment.installation
    inner = width - 2 * PAD
    lines, rest = type.cut(card_words.monthly(installation))
    box = 1.6 * type.size
    rows = [[plain("☐", type.text), plain(what, type.bold), plain(so, type.text)] for what, so in lines]
    after = card_words.after_shaking(installation)
    return [
        plain(installation.installation, type.big),
        plain(card_words.INSPECT, type.text),
        Spacer(0, 0.4 * type.size),
        _rows(rows, (box, 0.36 * inner, 0.64 * inner - box), 0.16 * type.size),
        *_more(rest, type),
        plain(card_words.AFTER, type.big),
        *(Paragraph(f"<b>{number}</b>\u2002{safe(text)}", type.text) for number, text in enumerate(after, start=1)),
        Spacer(0, 0.7 * type.size),
        plain(f"{card_words.SIGNED}  ____________   ____________", type.text),
    ]


def _wall(assessment: Assessment, plan: Plan | None, system: System, type: _Type, width: float) -> list[Flowable]:
    installation = assessment.installation
    inner = width - 2 * PAD
    levels, rest = type.cut(card_words.level_rows(installation, assessment, system))
    off, more = type.cut(card_words.shut_off(installation))
    rows: list[Sequence[Flowable]] = [
        [plain(text, type.quiet) for text in card_words.LEVEL_HEAD],
        *(
            [plain(name, type.bold), plain(level, type.bold), plain(weight, type.text)]
            for name, level, weight in levels
        ),
    ]
    switches = [
        [plain(what, type.bold), plain(how, type.text), plain("where: ____________", type.text)] for what, how in off
    ]
    call = [[plain(who, type.bold), plain("_" * 30, type.text)] for who in card_words.CALL]
    return [
        plain(installation.installation, type.big),
        plain(card_words.loaded_text(assessment, plan is not None, system), type.bold),
        plain(card_words.LEVELS_NOTE, type.quiet),
        _rows(rows, (0.4 * inner, 0.34 * inner, 0.26 * inner), 0.16 * type.size),
        *_more(rest, type),
        plain(card_words.TROUBLE, type.big),
        _rows(switches, (0.36 * inner, 0.38 * inner, 0.26 * inner), 0.16 * type.size),
        *_more(more, type),
        Spacer(0, 0.4 * type.size),
        plain(card_words.BENEATH, type.bold),
        plain(card_words.CALLED, type.big),
        _rows(call, (0.4 * inner, 0.6 * inner), 0.3 * type.size),
        Spacer(0, 0.4 * type.size),
        plain(words.DEFER, SMALL),
    ]
