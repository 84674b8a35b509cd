"""A sheet to draw on: shapes below, words above them, and no word over another or off the sheet."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from brimfast.reports.pdf_style import BOLD, INK, LINE, PAPER, QUIET, REGULAR, WOOD, drawable

# isort: split
from reportlab.graphics.shapes import Circle, Drawing, Line, Polygon, PolyLine, Rect, Shape, String
from reportlab.lib.colors import Color, white
from reportlab.lib.utils import simpleSplit
from reportlab.pdfbase.pdfmetrics import stringWidth

Anchor = Literal["start", "middle", "end"]
Spot = tuple[float, float, Anchor]
SMALL, TEXT = 6.5, 7.5  # points
RISE, FALL = 0.76, 0.24  # of the font size, above and below the line that letters stand on
BADGE = 7.5  # points, radius
EDGE = 1.0  # points kept free along the sheet's edge
RINGS = (9.0, 14.0, 20.0, 28.0, 38.0, 50.0, 64.0, 80.0, 100.0, 125.0, 155.0, 190.0, 240.0, 300.0, 380.0)


@dataclass(frozen=True)
class Area:
    left: float
    low: float
    right: float
    high: float

    def meets(self, other: Area, gap: float = 0.0) -> bool:
        return (
            min(self.right, other.right) - max(self.left, other.left) > -gap
            and min(self.high, other.high) - max(self.low, other.low) > -gap
        )

    @property
    def middle(self) -> tuple[float, float]:
        return (self.left + self.right) / 2, (self.low + self.high) / 2

    def nearest(self, x: float, y: float) -> tuple[float, float]:
        """The point of it that is nearest to (x, y)."""
        return min(max(x, self.left), self.right), min(max(y, self.low), self.high)


def width_of(words: str, size: float = TEXT, bold: bool = False) -> float:
    return float(stringWidth(drawable(words), BOLD if bold else REGULAR, size))


def area_of(words: str, x: float, y: float, anchor: Anchor, size: float, bold: bool = False) -> Area:
    """What one line of text covers when it stands at (x, y)."""
    wide = width_of(words, size, bold)
    left = x - {"start": 0.0, "middle": wide / 2, "end": wide}[anchor]
    return Area(left, y - FALL * size, left + wide, y + RISE * size)


def fitted(words: str, most: float, size: float = TEXT, bold: bool = False) -> str:
    """The words, cut with … where they are wider than most (points)."""
    if width_of(words, size, bold) <= most:
        return words
    cut = len(words)
    while cut > 0 and width_of(words[:cut].rstrip() + "…", size, bold) > most:
        cut -= 1
    return words[:cut].rstrip() + "…"


def wrapped(words: str, most: float, size: float = TEXT) -> list[str]:
    """The words on as many lines as they take; a word that is wider by itself is cut."""
    return [fitted(line, most, size) for line in simpleSplit(drawable(words), REGULAR, size, most)]


def _paint(
    fill: Color | None, line: Color | None, weight: float, dash: Sequence[float] | None, opacity: float = 1.0
) -> dict[str, Any]:
    found: dict[str, Any] = {"fillColor": fill, "strokeColor": line, "strokeWidth": weight}
    if dash is not None:
        found["strokeDashArray"] = list(dash)
    if opacity < 1:
        found["fillOpacity"] = opacity
    return found


class Sheet:
    """Points, from the lower left corner. Words are kept apart from each other and from what was taken for marks."""

    def __init__(self, width: float, height: float) -> None:
        self.width, self.height = width, height
        self._shapes: list[Shape] = []
        self._words: list[Shape] = []
        self._taken: list[Area] = []

    def drawing(self) -> Drawing:
        found = Drawing(self.width, self.height)
        for shape in (*self._shapes, *self._words):
            found.add(shape)
        return found

    # shapes

    def line(
        self,
        x1: float,
        y1: float,
        x2: float,
        y2: float,
        colour: Color = INK,
        weight: float = 0.8,
        dash: Sequence[float] | None = None,
    ) -> None:
        found = Line(x1, y1, x2, y2, strokeColor=colour, strokeWidth=weight)
        if dash is not None:
            found.strokeDashArray = list(dash)
        self._shapes.append(found)

    def lines(
        self,
        points: Sequence[tuple[float, float]],
        colour: Color = INK,
        weight: float = 0.8,
        dash: Sequence[float] | None = None,
    ) -> None:
        flat = [value for point in points for value in point]
        found = PolyLine(flat, strokeColor=colour, strokeWidth=weight)
        if dash is not None:
            found.strokeDashArray = list(dash)
        self._shapes.append(found)

    def box(
        self,
        x: float,
        y: float,
        width: float,
        height: float,
        fill: Color | None = None,
        line: Color | None = INK,
        weight: float = 0.8,
        dash: Sequence[float] | None = None,
        opacity: float = 1.0,
    ) -> None:
        self._shapes.append(Rect(x, y, width, height, **_paint(fill, line, weight, dash, opacity)))

    def disc(
        self,
        x: float,
        y: float,
        radius: float,
        fill: Color | None = None,
        line: Color | None = INK,
        weight: float = 0.8,
        dash: Sequence[float] | None = None,
    ) -> None:
        self._shapes.append(Circle(x, y, radius, **_paint(fill, line, weight, dash)))

    def polygon(
        self,
        points: Sequence[tuple[float, float]],
        fill: Color | None = None,
        line: Color | None = INK,
        weight: float = 0.8,
        dash: Sequence[float] | None = None,
        opacity: float = 1.0,
    ) -> None:
        flat = [value for point in points for value in point]
        self._shapes.append(Polygon(flat, **_paint(fill, line, weight, dash, opacity)))

    def timber(self, x1: float, y1: float, x2: float, y2: float, weight: float, behind: bool = False) -> None:
        """A stick of wood with a thin outline; dashed where it stands behind."""
        if behind:
            self.line(x1, y1, x2, y2, QUIET, 1.0, (5, 3))
        else:
            self.line(x1, y1, x2, y2, INK, weight + 1.2)
            self.line(x1, y1, x2, y2, WOOD, weight)

    def hatched(self, x: float, y: float, width: float, height: float, step: float = 4.0, colour: Color = INK) -> None:
        """Thin lines rising to the right, cut at the edges of a rectangle."""
        if width <= 0 or height <= 0:
            return
        start = x - height
        while start < x + width:
            low, high = max(start, x), min(start + height, x + width)
            if high > low:
                self.line(low, y + low - start, high, y + high - start, colour, 0.5)
            start += step

    def arrow(
        self,
        x1: float,
        y1: float,
        x2: float,
        y2: float,
        colour: Color = INK,
        weight: float = 1.2,
        head: float = 5.0,
        hollow: bool = False,
    ) -> None:
        """A line with a head at its second end; hollow: the head is only outlined."""
        length = math.hypot(x2 - x1, y2 - y1)
        if length < 1e-6:
            return
        ux, uy = (x2 - x1) / length, (y2 - y1) / length
        head = min(head, length)
        bx, by = x2 - ux * head, y2 - uy * head
        self.line(x1, y1, bx, by, colour, weight)
        side = head * 0.45
        self.polygon(
            [(x2, y2), (bx - uy * side, by + ux * side), (bx + uy * side, by - ux * side)],
            white if hollow else colour,
            colour,
            0.8,
        )

    def ground(self, y: float, x1: float, x2: float) -> None:
        """The floor: a heavy line, hatched below."""
        self.line(x1, y, x2, y, INK, 1.2)
        for index in range(int((x2 - x1) / 12)):
            at = x1 + 6 + 12 * index
            self.line(at, y, at - 5, y - 5, LINE, 0.6)

    # words

    def take(self, left: float, low: float, right: float, high: float) -> None:
        """Keep words away from here."""
        self._taken.append(Area(left, low, right, high))

    def free(self, area: Area, gap: float = 0.6) -> bool:
        inside = (
            area.left >= EDGE
            and area.low >= EDGE
            and area.right <= self.width - EDGE
            and area.high <= self.height - EDGE
        )
        return inside and not any(area.meets(other, gap) for other in self._taken)

    def put(
        self,
        words: str,
        spots: Iterable[Spot],
        size: float = TEXT,
        colour: Color = QUIET,
        bold: bool = False,
        halo: bool = False,
    ) -> Area | None:
        """Words at the first spot where they are free; None where there is none."""
        shown = drawable(words)
        for x, y, anchor in spots:
            area = area_of(shown, x, y, anchor, size, bold)
            if self.free(area):
                self._write(shown, area, y, size, colour, bold, halo)
                return area
        return None

    def _write(self, shown: str, area: Area, y: float, size: float, colour: Color, bold: bool, halo: bool) -> None:
        self._taken.append(area)
        if halo:
            wide, high = area.right - area.left + 2, area.high - area.low
            self._words.append(Rect(area.left - 1, area.low, wide, high, **_paint(white, None, 0.0, None)))
        font = BOLD if bold else REGULAR
        self._words.append(String(area.left, y, shown, fontName=font, fontSize=size, fillColor=colour))

    def near(
        self,
        words: str,
        x: float,
        y: float,
        size: float = TEXT,
        colour: Color = QUIET,
        bold: bool = False,
        start: float = 9.0,
        halo: bool = True,
        upward: bool = True,
    ) -> Area | None:
        """Words as near to (x, y) as they are free, with a thin line to it where they had to go further."""
        shown = drawable(words)
        half = width_of(shown, size, bold) / 2
        first = 90 if upward else -90
        for ring in (start, *(ring for ring in RINGS if ring > start)):
            for turn in (0, 30, -30, 60, -60, 90, -90, 120, -120, 150, -150, 180):
                angle = math.radians(first + turn)
                across = math.cos(angle)
                centre = x + ring * across + half * round(across, 1)
                base = y + ring * math.sin(angle) - (RISE - FALL) / 2 * size
                area = area_of(shown, centre, base, "middle", size, bold)
                if self.free(area):
                    if ring > start:
                        self._leader(x, y, area, start)
                    self._write(shown, area, base, size, colour, bold, halo)
                    return area
        return None

    def _leader(self, x: float, y: float, area: Area, start: float) -> None:
        ex, ey = area.nearest(x, y)
        length = math.hypot(ex - x, ey - y)
        share = min(start * 0.75 / length, 1.0) if length else 1.0
        self._words.append(Line(x + (ex - x) * share, y + (ey - y) * share, ex, ey, strokeColor=QUIET, strokeWidth=0.5))

    def badge(self, x: float, y: float, text: str) -> None:
        """A number in a circle, at (x, y) or as near as it is free."""
        for dx, dy in _around():
            at = Area(x + dx - BADGE, y + dy - BADGE, x + dx + BADGE, y + dy + BADGE)
            if self.free(at, 0.0):
                break
        else:
            return
        if (dx, dy) != (0.0, 0.0):
            self._words.append(Line(x, y, x + dx, y + dy, strokeColor=QUIET, strokeWidth=0.5))
        cx, cy = at.middle
        self._taken.append(at)
        self._words.append(Circle(cx, cy, BADGE, **_paint(PAPER, INK, 0.8, None)))
        size = 8.0 if len(text) < 3 else 6.5
        left = cx - width_of(text, size, True) / 2
        self._words.append(String(left, cy - 0.36 * size, text, fontName=BOLD, fontSize=size, fillColor=INK))

    # dimensions

    def across(self, x1: float, x2: float, y: float, text: str, size: float = TEXT) -> None:
        """A level dimension line with end ticks, its text above its middle, or beside it where that is too narrow."""
        for x in (x1, x2):
            self.line(x, y - 3, x, y + 3, QUIET, 0.6)
        self.line(x1, y, x2, y, QUIET, 0.6)
        self.take(x1, y - 1, x2, y)
        middle, low = (x1 + x2) / 2, y + 2.5
        spots: tuple[Spot, ...] = (
            (middle, low, "middle"),
            (x2 + 5, y - 2.5, "start"),
            (x1 - 5, y - 2.5, "end"),
            (middle, y - 9, "middle"),
        )
        self.put(text, spots, size)

    def upright(self, x: float, y1: float, y2: float, text: str, size: float = TEXT, right: bool = False) -> None:
        """An upright dimension line, its text to the left, or to the right."""
        for y in (y1, y2):
            self.line(x - 3, y, x + 3, y, QUIET, 0.6)
        self.line(x, y1, x, y2, QUIET, 0.6)
        self.take(x - 1, min(y1, y2), x + 1, max(y1, y2))
        base = (y1 + y2) / 2 - 2.5
        left_spot: Spot = (x - 5, base, "end")
        right_spot: Spot = (x + 5, base, "start")
        above: Spot = (x, max(y1, y2) + 4, "middle")
        self.put(text, (right_spot, left_spot, above) if right else (left_spot, right_spot, above), size)


def _around() -> list[tuple[float, float]]:
    step = 2 * BADGE + 1
    ways = [(across * step, up * step) for across in range(-6, 7) for up in range(-6, 7)]
    return sorted(ways, key=lambda way: math.hypot(*way))
