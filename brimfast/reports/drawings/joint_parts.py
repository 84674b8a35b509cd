"""What the details of joints share: their size, heading and fasteners, and distances as they are beside the least that count."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from brimfast.reports.drawings.sheet import SMALL, TEXT, Sheet, wrapped
from brimfast.reports.pdf_style import INK, LINE, VERDICT_COLOURS
from brimfast.shared.installation.joint import Fasteners
from brimfast.shared.units import System, show

# isort: split
from reportlab.lib.colors import white

HIGH = 210.0  # points
ROW = 12.0
TABLE = 212.0


@dataclass(frozen=True)
class Distance:
    """One distance (m): what is there (None: the file does not say), the least that counts, what full value asks."""

    what: str
    there: float | None
    least: float
    full: float

    @property
    def short(self) -> bool:
        return self.there is not None and self.there < self.least * (1 - 1e-9)


def distances_table(
    sheet: Sheet, x: float, top: float, rows: Sequence[Distance], system: System, notes: Sequence[str]
) -> None:
    """There, least and full value, row by row; ✗ where there is less than the least."""
    columns = (x + 128, x + 168, x + 208)
    for at, head in zip(columns, ("there", "least", "full value"), strict=True):
        sheet.put(head, [(at, top, "end")], SMALL)
    y = top
    for row in rows:
        y -= ROW
        there = "?" if row.there is None else show(row.there, "length", system)
        mark = "✗ " if row.short else ""
        first, *more = wrapped(row.what, 92, TEXT)
        sheet.put(first, [(x, y, "start")], TEXT, INK)
        colour = VERDICT_COLOURS["short"] if row.short else INK
        sheet.put(mark + there, [(columns[0], y, "end")], TEXT, colour, True)
        sheet.put(show(row.least, "length", system), [(columns[1], y, "end")], TEXT, INK)
        sheet.put(show(row.full, "length", system), [(columns[2], y, "end")], TEXT)
        for line in more:
            y -= TEXT + 1.5
            sheet.put(line, [(x, y, "start")], TEXT, INK)
        sheet.line(x, y - 3, columns[2], y - 3, LINE, 0.4)
    y -= 6
    for note in notes:
        for line in wrapped(note, 206, SMALL):
            y -= 9
            sheet.put(line, [(x, y, "start")], SMALL)


def heading(fasteners: Fasteners, diameter: float, system: System, each: str) -> str:
    length = fasteners.length or (fasteners.nail[1] if fasteners.nail else None)
    long = f" × {show(length, 'length', system)}" if length else ""
    plural = "" if fasteners.count == 1 else "s"
    return f"{fasteners.count} {fasteners.kind}{plural}, {show(diameter, 'length', system)}{long}, {each}"


def fastener(sheet: Sheet, x: float, y: float, radius: float) -> None:
    sheet.disc(x, y, radius, white, INK, 0.9)
    arm = radius + 2
    sheet.line(x - arm, y, x + arm, y, INK, 0.4)
    sheet.line(x, y - arm, x, y + arm, INK, 0.4)
    sheet.take(x - radius, y - radius, x + radius, y + radius)
