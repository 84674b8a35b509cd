"""How likely each limit is passed: a bar for each, on a scale that parts the nearly sure as well as the rare."""

from __future__ import annotations

import math
from collections.abc import Sequence

from brimfast.reports.drawings.sheet import TEXT, Sheet, wrapped
from brimfast.reports.pdf_style import INK, LINE, PAPER, QUIET, VERDICT_COLOURS

# isort: split
from reportlab.graphics.shapes import Drawing
from reportlab.lib.colors import white

ROW, TOP, FOOT = 12.0, 16.0, 4.0
NEXT_LINE = 9.0  # points from one line of a label to the next
VALUE = 62.0  # points for what stands at the end of a bar
LEAST, MOST = 0.001, 0.999  # chances at the ends of the scale
LIKELY, SELDOM = 0.5, 0.05  # from which a bar is dark, and up to which it is light
TICKS = (
    (0.001, "0.1 %"),
    (0.01, "1 %"),
    (0.1, "10 %"),
    (0.5, "50 %"),
    (0.9, "90 %"),
    (0.99, "99 %"),
    (0.999, "99.9 %"),
)


def _log_odds(chance: float) -> float:
    held = min(max(chance, LEAST), MOST)
    return math.log(held / (1 - held))


def chance_bars(rows: Sequence[tuple[str, float, str]], width: float) -> Drawing | None:
    """Of each row its name, its chance, and how that is said. Log odds: as far from 10 to 50 % as from 50 to 90 %."""
    if not rows:
        return None
    left, right = 0.5 * width, width - VALUE
    named = [wrapped(name, left - 8) for name, _, _ in rows]
    sheet = Sheet(width, TOP + FOOT + ROW * len(rows) + NEXT_LINE * sum(len(lines) - 1 for lines in named))
    first, last = _log_odds(LEAST), _log_odds(MOST)

    def x(chance: float) -> float:
        return left + (right - left) * (_log_odds(chance) - first) / (last - first)

    top = sheet.height - TOP + 2
    for chance, text in TICKS:
        even = chance == LIKELY
        sheet.line(x(chance), FOOT - 2, x(chance), top, INK if even else LINE, 1.0 if even else 0.5)
        sheet.put(text, [(x(chance), top + 3, "middle")], TEXT, INK if even else QUIET, even)
    low = sheet.height - TOP
    for (_, chance, said), lines in zip(rows, named, strict=True):
        low -= ROW
        for number, line in enumerate(lines):
            sheet.put(line, [(2, low + 3.5 - NEXT_LINE * number, "start")], TEXT, INK)
        _bar(sheet, left, max(x(chance) - left, 0.8), low + 2.5, ROW - 5, chance)
        sheet.put(said, [(right + 6, low + 3.5, "start")], TEXT, INK, chance >= LIKELY)
        low -= NEXT_LINE * (len(lines) - 1)
    return sheet.drawing()


def _bar(sheet: Sheet, x: float, wide: float, low: float, high: float, chance: float) -> None:
    """Dark where it is more likely than not, light where it is rare, hatched between."""
    verdict = "short" if chance >= LIKELY else "holds" if chance < SELDOM else "close"
    colour = VERDICT_COLOURS[verdict]
    fill = {"short": colour, "close": white, "holds": PAPER}[verdict]
    sheet.box(x, low, wide, high, fill, colour, 0.8)
    if verdict == "close":
        sheet.hatched(x, low, wide, high, 3.0, colour)
