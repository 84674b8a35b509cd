"""Marks of what does not hold: a shape for each verdict, and the finding's number beside it."""

from __future__ import annotations

from collections.abc import Sequence

from brimfast.reports.drawings.sheet import SMALL, Sheet
from brimfast.reports.pdf_style import INK, VERDICT_COLOURS
from brimfast.shared.findings import Finding, severity

# isort: split
from reportlab.lib.colors import white

SHOWN = ("short", "close")
SIZE = 5.5  # points from a mark's middle to its corners
MOST_TAGS = 3  # numbers beside one mark, each line


def marked(findings: Sequence[Finding]) -> list[Finding]:
    """Those that get a mark, worst first."""
    return sorted((finding for finding in findings if finding.verdict in SHOWN), key=severity)


def shape(sheet: Sheet, x: float, y: float, verdict: str) -> None:
    """A crossed diamond for short, a circle with a bar for close."""
    colour = VERDICT_COLOURS[verdict]
    if verdict == "short":
        sheet.polygon([(x - SIZE, y), (x, y + SIZE), (x + SIZE, y), (x, y - SIZE)], white, colour, 1.4)
        arm = SIZE * 0.36
        sheet.line(x - arm, y - arm, x + arm, y + arm, colour, 1.4)
        sheet.line(x - arm, y + arm, x + arm, y - arm, colour, 1.4)
    else:
        sheet.disc(x, y, SIZE - 1, white, colour, 1.2)
        sheet.line(x - 2.4, y, x + 2.4, y, colour, 1.2)


def mark(sheet: Sheet, x: float, y: float, findings: Sequence[Finding], tags: dict[str, str]) -> None:
    """One mark for all that does not hold at a place, worst first, and their numbers."""
    shape(sheet, x, y, findings[0].verdict)
    sheet.take(x - SIZE, y - SIZE, x + SIZE, y + SIZE)
    named = [tags[finding.id] for finding in findings]
    for first in range(0, len(named), MOST_TAGS):
        sheet.near(" ".join(named[first : first + MOST_TAGS]), x, y, SMALL, INK, True, start=SIZE + 6)
