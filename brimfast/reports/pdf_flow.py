"""The building blocks of the PDF: paragraph styles, tables, boxes."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from functools import lru_cache
from typing import Any, cast

from brimfast.reports.pdf_pages import Later, PagesOfPages
from brimfast.reports.pdf_style import BOLD, INK, LINE, QUIET, REGULAR, drawable, safe

# isort: split
from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import Flowable, Table, TableStyle
from reportlab.platypus import Paragraph as AnyParagraph
from reportlab.platypus.paragraph import cleanBlockQuotedText
from reportlab.platypus.tables import CellStyle

CellStyle.fontname = REGULAR  # else every table names a font that is not in the file

BODY = ParagraphStyle("body", fontName=REGULAR, fontSize=9.5, leading=13, textColor=INK, spaceAfter=4)
SMALL = ParagraphStyle("small", parent=BODY, fontSize=8, leading=10.5, spaceAfter=2)
QUIET_SMALL = ParagraphStyle("quiet", parent=SMALL, textColor=QUIET)
CELL = ParagraphStyle("cell", parent=BODY, fontSize=8, leading=10, spaceAfter=0)
CELL_RIGHT = ParagraphStyle("cell right", parent=CELL, alignment=2)
HEAD = ParagraphStyle("head", parent=CELL, fontName=BOLD)
HEAD_RIGHT = ParagraphStyle("head right", parent=HEAD, alignment=2)
TITLE = ParagraphStyle("title", parent=BODY, fontName=BOLD, fontSize=20, leading=25, spaceAfter=2)
H1 = ParagraphStyle("h1", parent=BODY, fontName=BOLD, fontSize=13.5, leading=17, spaceBefore=12, spaceAfter=5)
H2 = ParagraphStyle("h2", parent=BODY, fontName=BOLD, fontSize=10, leading=13, spaceBefore=8, spaceAfter=2)
BIG = ParagraphStyle("big", parent=BODY, fontName=BOLD, fontSize=13, leading=17, spaceAfter=0)
COUNT = ParagraphStyle("count", parent=BODY, fontName=BOLD, fontSize=17, leading=20, alignment=1, spaceAfter=0)
COUNT_WORD = ParagraphStyle("count word", parent=SMALL, alignment=1, spaceAfter=0)
EQUATION = ParagraphStyle(
    "equation", parent=BODY, fontSize=8.5, leading=12.5, leftIndent=10, rightIndent=34, spaceAfter=0.5
)
KEYED = ParagraphStyle("keyed", parent=H2, rightIndent=64)
WITH = ParagraphStyle(
    "with", parent=QUIET_SMALL, fontSize=7.5, leading=9.5, leftIndent=22, rightIndent=34, spaceAfter=3
)
PART = ParagraphStyle("part", parent=TITLE, fontSize=18, leading=23, spaceAfter=3)
# Of pages that must stay one page.
TIGHT = ParagraphStyle("tight", parent=BODY, fontSize=8.5, leading=11, spaceAfter=2)
TIGHT_H1 = ParagraphStyle("tight h1", parent=H1, fontSize=11, leading=13, spaceBefore=5, spaceAfter=2)
ROOM = 120  # points: a heading with less below it goes to the next page


class Paragraph(AnyParagraph):
    """One that breaks its lines once for each width: tables and pages that are tried out ask again and again."""

    _broken: tuple[float, float] | None = None

    def wrap(self, availWidth: float, availHeight: float) -> tuple[float, float]:  # noqa: N803
        kept = hasattr(self, "blPara")  # taking a part of it away drops its lines
        if self._broken is None or self._broken[0] != availWidth or not kept:
            _, high = super().wrap(availWidth, availHeight)
            self._broken = availWidth, high
        return self._broken


class Heading(Paragraph):
    """A heading that stands in the outline (level 0: a part of the report, 1: within it), and where links lead to.

    back: another place whose page number stands at the end of its line.
    """

    level: int | None = None
    key = ""
    outline = ""
    back = ""

    def draw(self) -> None:
        canvas = cast("PagesOfPages", self.canv)
        if self.key:
            canvas.mark(self.key)
        if self.level is not None:
            canvas.addOutlineEntry(self.outline, self.key, self.level, closed=self.level == 0)
        super().draw()
        if self.back:
            y = self.height - self.style.fontSize
            canvas.page_later(Later(self.back, "table: page {}", self.width, y, 7, True))


def part(text: str, outline: str = "", style: ParagraphStyle = PART) -> Heading:
    """The heading of a part of the report."""
    return _heading(text, style, 0, f"part {outline or text}", outline)


def section(text: str, style: ParagraphStyle = H1) -> Heading:
    """A heading within a part, in the outline."""
    return _heading(text, style, 1, f"section {text}")


def lemma(text: str, key: str, back: str = "") -> Heading:
    """A heading of the calculation that others refer to by its key."""
    return _heading(text, KEYED, None, key, back=back)


def _heading(
    text: str, style: ParagraphStyle, level: int | None, key: str, outline: str = "", back: str = ""
) -> Heading:
    found = Heading(safe(text), style)
    found.level, found.key, found.outline, found.back = level, key, drawable(outline or text), back
    return found


class Equation(Paragraph):
    """A line of calculation with its number at the end of the line, and below it what was put in; never torn apart."""

    number = 0

    def split(self, width: float, height: float) -> list[Flowable]:
        return []

    def draw(self) -> None:
        super().draw()
        if self.number:
            canvas = cast("PagesOfPages", self.canv)
            canvas.saveState()
            canvas.setFont(REGULAR, 7.5)
            canvas.setFillColor(QUIET)
            canvas.drawRightString(self.width, self.height - self.style.fontSize - 1, f"({self.number})")
            canvas.restoreState()


class Mark(Flowable):
    """Nothing to be seen: where links and page numbers lead."""

    def __init__(self, key: str) -> None:
        super().__init__()
        self.key = key
        self.width = self.height = 0.0

    def draw(self) -> None:
        canvas = cast("PagesOfPages", self.canv)
        canvas.mark(self.key)


class PageOf(Flowable):
    """The number of the page where a key stands, as a link."""

    def __init__(self, key: str) -> None:
        super().__init__()
        self.key = key
        self.width, self.height = 26.0, 8.5

    def draw(self) -> None:
        canvas = cast("PagesOfPages", self.canv)
        canvas.page_later(Later(self.key, "p. {}", 0, 1.5, 6.5, False))
        canvas.linkRect("", self.key, (0, 0, self.width, self.height), relative=1)


def plain(text: str, style: ParagraphStyle = BODY) -> Paragraph:
    """A paragraph of text that is not markup."""
    shown = cleanBlockQuotedText(drawable(text))
    if not shown or any(sign in shown for sign in "<>&"):
        return Paragraph(safe(text), style)
    (like,) = _one_word(style).frags
    return Paragraph(shown, style, frags=[like.clone(text=shown)])


@lru_cache(maxsize=64)
def _one_word(style: ParagraphStyle) -> AnyParagraph:
    """What a parser makes of text without markup, for all such text of a style."""
    return AnyParagraph("x", style)


def bullets(texts: Iterable[str], style: ParagraphStyle = BODY, mark: str = "·") -> list[Flowable]:
    """Lines behind a mark, hanging."""
    hung = ParagraphStyle(f"{style.name} hung", parent=style, leftIndent=11, firstLineIndent=-11, spaceAfter=1.5)
    return [Paragraph(f"{mark}\u2002{safe(text)}", hung) for text in texts]


def needs(story: Sequence[Flowable], width: float) -> float:
    """How high a story stands."""
    return sum(one.wrap(width, 1e6)[1] + one.getSpaceBefore() + one.getSpaceAfter() for one in story)


def on_one_page(ways: Sequence[Callable[[], list[Flowable]]], width: float, height: float) -> list[Flowable]:
    """The first way of setting a page that fits on one; the last where none does."""
    for way in ways[:-1]:
        story = way()
        if needs(story, width) <= height:
            return story
    return ways[-1]()


def box(text: str, width: float) -> Table:
    return box_of([plain(text, BODY)], width)


def box_of(story: Sequence[Flowable], width: float) -> Table:
    table = Table([[list(story)]], colWidths=[width])
    table.setStyle(
        TableStyle(
            [
                ("BOX", (0, 0), (-1, -1), 1, INK),
                ("LEFTPADDING", (0, 0), (-1, -1), 9),
                ("RIGHTPADDING", (0, 0), (-1, -1), 9),
                ("TOPPADDING", (0, 0), (-1, -1), 6),
                ("BOTTOMPADDING", (0, 0), (-1, -1), 5),
            ]
        )
    )
    return table


def table(head: Sequence[str], rows: Iterable[Sequence[Any]], widths: Sequence[float], right: set[int]) -> Table:
    """A table whose head repeats; columns in `right` are set to the right."""

    def cell(item: Any, column: int) -> Any:
        return item if not isinstance(item, str) else plain(item, CELL_RIGHT if column in right else CELL)

    top = [plain(text, HEAD_RIGHT if column in right else HEAD) for column, text in enumerate(head)]
    body = [[cell(item, column) for column, item in enumerate(row)] for row in rows]
    table = Table([top, *body], colWidths=list(widths), repeatRows=1)
    table.setStyle(
        TableStyle(
            [
                ("VALIGN", (0, 0), (-1, -1), "TOP"),
                ("LINEBELOW", (0, 0), (-1, 0), 0.9, INK),
                ("LINEBELOW", (0, 1), (-1, -1), 0.35, LINE),
                ("LEFTPADDING", (0, 0), (-1, -1), 3),
                ("RIGHTPADDING", (0, 0), (-1, -1), 3),
                ("TOPPADDING", (0, 0), (-1, -1), 2.5),
                ("BOTTOMPADDING", (0, 0), (-1, -1), 3),
            ]
        )
    )
    return table
