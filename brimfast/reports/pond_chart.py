"""How deep the water stands on the floor as time goes on, drawn."""

from __future__ import annotations

import math
from typing import Literal

import numpy as np
from reportlab.graphics.shapes import Drawing, Line, PolyLine, String
from reportlab.lib.colors import Color

from brimfast.assess.network.runs import Run
from brimfast.assess.pipeline import Assessment
from brimfast.reports.pdf_style import INK, LINE, QUIET, REGULAR, WATER, drawable
from brimfast.shared.units import System, number_text, unit_of

Anchor = Literal["start", "middle", "end"]
LEFT, RIGHT, BOTTOM, TOP = 44.0, 12.0, 26.0, 14.0
NICE = (1.0, 2.0, 5.0, 10.0)
TEXT = 7.5
TIMES = (60.0, 120.0, 300.0, 600.0, 1200.0, 1800.0, 3600.0, 7200.0, 10800.0, 21600.0, 43200.0, 86400.0)
DAYS = 86400.0


def chart(assessment: Assessment, system: System, width: float, height: float) -> Drawing | None:
    """The worst single mishap and, dashed, the earthquake; the lowest sill as a line of its own."""
    spill = assessment.spill
    shown = [one for one in (spill.worst, spill.earthquake) if one is not None]
    if not shown:
        return None
    unit, size = unit_of("length", system)
    end = max(_interesting(one) for one in shown)
    top = 1.15 * max([one.depth for one in shown] + ([spill.room.sill] if _near(spill.room.sill, shown) else []))
    drawing = Drawing(width, height)
    inner_width, inner_height = width - LEFT - RIGHT, height - BOTTOM - TOP

    def x(t: float) -> float:
        return LEFT + inner_width * t / end

    def y(depth: float) -> float:
        return BOTTOM + inner_height * depth / top

    def text(at_x: float, at_y: float, words: str, anchor: Anchor, colour: Color = QUIET) -> None:
        label = String(
            at_x, at_y, drawable(words), fontName=REGULAR, fontSize=TEXT, textAnchor=anchor, fillColor=colour
        )
        drawing.add(label)

    for depth in _ticks(top / size):
        drawing.add(Line(LEFT, y(depth * size), width - RIGHT, y(depth * size), strokeColor=LINE, strokeWidth=0.4))
        text(LEFT - 4, y(depth * size) - 2.6, f"{number_text(depth)} {unit}", "end")
    for t in _times(end):
        drawing.add(Line(x(t), BOTTOM, x(t), BOTTOM - 3, strokeColor=QUIET, strokeWidth=0.5))
        text(x(t), BOTTOM - 12, _time(t), "middle")
    drawing.add(Line(LEFT, BOTTOM, width - RIGHT, BOTTOM, strokeColor=QUIET, strokeWidth=0.6))
    if _near(spill.room.sill, shown) and spill.room.sill > 0:
        level = y(spill.room.sill)
        drawing.add(Line(LEFT, level, width - RIGHT, level, strokeColor=INK, strokeWidth=0.8, strokeDashArray=[5, 3]))
        text(width - RIGHT, level + 3, "lowest sill", "end", INK)
    styles = ((WATER_LINE, 1.6, None), (INK, 1.0, [2, 2]))
    for one, (colour, weight, dash) in zip(shown, styles, strict=False):
        times, depths = _curve(one, end)
        points = [value for a, b in zip(times, depths, strict=True) for value in (x(a), y(b))]
        line = PolyLine(points, strokeColor=colour, strokeWidth=weight)
        if dash is not None:
            line.strokeDashArray = dash
        drawing.add(line)
    return drawing


WATER_LINE = Color(WATER.red * 0.55, WATER.green * 0.6, WATER.blue * 0.75)


def _near(sill: float, shown: list[Run]) -> bool:
    """Whether the sill is worth the height it takes in the drawing."""
    return sill <= 3 * max(one.depth for one in shown)


def _interesting(one: Run) -> float:
    """A while after it is deepest: how it rises and begins to fall is what matters."""
    return max(2 * one.about_deepest_at, min(one.dry_at if math.isfinite(one.dry_at) else 1800.0, 3600.0), 600.0)


def _curve(one: Run, end: float) -> tuple[list[float], list[float]]:
    t, depth = one.course
    inside = t <= end
    times, depths = list(t[inside]), list(np.maximum(depth[inside], 0.0))
    if times[-1] < end:
        times.append(end)
        later = float(np.interp(end, t, depth))
        depths.append(max(later, 0.0))
    return [float(one) for one in times], [float(one) for one in depths]


def _ticks(top: float) -> list[float]:
    power = 10.0 ** math.floor(math.log10(top / 3))
    step = max(nice * power for nice in NICE if nice * power <= top / 3)
    return [step * number for number in range(1, int(top / step) + 1)]


def _times(end: float) -> list[float]:
    step = next((one for one in TIMES if end / one <= 8), None)
    if step is None:
        step = DAYS * math.ceil(end / DAYS / 8)
    return [step * number for number in range(int(end / step) + 1)]


def _time(t: float) -> str:
    if t == 0:
        return "0"
    if t % DAYS == 0:
        return f"{t / DAYS:.0f} d"
    if t % 3600 == 0:
        return f"{t / 3600:.0f} h"
    return f"{t / 60:.0f} min"
