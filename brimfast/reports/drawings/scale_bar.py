"""A bar of a round length."""

from __future__ import annotations

from brimfast.reports.drawings.sheet import Sheet
from brimfast.reports.pdf_style import INK, PAPER
from brimfast.shared.constants import FOOT, INCH
from brimfast.shared.units import System

BARS: dict[System, tuple[tuple[float, str], ...]] = {
    "us": (
        (INCH, "1 in"),
        (2 * INCH, "2 in"),
        (6 * INCH, "6 in"),
        (FOOT, "1 ft"),
        (2 * FOOT, "2 ft"),
        (5 * FOOT, "5 ft"),
        (10 * FOOT, "10 ft"),
        (50 * FOOT, "50 ft"),
        (100 * FOOT, "100 ft"),
    ),
    "si": (
        (0.02, "20 mm"),
        (0.05, "50 mm"),
        (0.1, "100 mm"),
        (0.2, "200 mm"),
        (0.5, "0.5 m"),
        (1.0, "1 m"),
        (2.0, "2 m"),
        (5.0, "5 m"),
        (10.0, "10 m"),
        (20.0, "20 m"),
    ),
}
LEAST = 26.0  # points


def scale_bar(sheet: Sheet, x: float, y: float, scale: float, system: System) -> None:
    """The shortest round length that is long enough to measure with. scale: points for a metre."""
    length, text = next((bar for bar in BARS[system] if bar[0] * scale >= LEAST), BARS[system][-1])
    half = length * scale / 2
    sheet.box(x, y, half, 3, fill=INK, weight=0.5)
    sheet.box(x + half, y, half, 3, fill=PAPER, weight=0.5)
    sheet.put(text, [(x + 2 * half + 4, y - 1, "start")])
