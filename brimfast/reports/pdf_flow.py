"""The building blocks of the PDF: paragraph styles, tables, boxes."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from brimfast.reports.pdf_style import BOLD, INK, LINE, QUIET, REGULAR, safe

# isort: split
from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import Paragraph, Table, TableStyle

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
EQUATION = ParagraphStyle("equation", parent=BODY, fontSize=8.5, leading=12.5, leftIndent=10, spaceAfter=0.5)
WITH = ParagraphStyle("with", parent=QUIET_SMALL, fontSize=7.5, leading=9.5, leftIndent=22, spaceAfter=3)


def plain(text: str, style: ParagraphStyle = BODY) -> Paragraph:
    """A paragraph of text that is not markup."""
    return Paragraph(safe(text), style)


def box(text: str, width: float) -> Table:
    table = Table([[plain(text, BODY)]], colWidths=[width])
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
