"""A table of facts beside a detail: what, and how much; notes below it."""

from __future__ import annotations

from collections.abc import Sequence

from brimfast.reports.drawings.sheet import SMALL, TEXT, Sheet, width_of, wrapped
from brimfast.reports.pdf_style import INK, LINE

WIDE = 206.0  # points
ROW, NEXT = 12.0, 9.0


def facts(sheet: Sheet, x: float, top: float, rows: Sequence[tuple[str, str]], notes: Sequence[str]) -> None:
    """From top down, in a column that begins at x."""
    y = top
    for what, much in rows:
        y -= ROW
        first, *more = wrapped(what, WIDE - width_of(much, TEXT, True) - 8)
        sheet.put(first, [(x, y, "start")], TEXT, INK)
        sheet.put(much, [(x + WIDE, y, "end")], TEXT, INK, True)
        for line in more:
            y -= NEXT
            sheet.put(line, [(x, y, "start")], TEXT, INK)
        sheet.line(x, y - 3, x + WIDE, y - 3, LINE, 0.4)
    y -= 6
    for note in notes:
        for line in wrapped(note, WIDE, SMALL):
            y -= NEXT
            sheet.put(line, [(x, y, "start")], SMALL)
