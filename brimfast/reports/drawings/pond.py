"""How deep the water stands on the floor as time goes on, against sill, sockets and drains."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

import numpy as np

from brimfast.assess.network.runs import Run
from brimfast.assess.pipeline import Assessment
from brimfast.reports.drawings.sheet import SMALL, Sheet, Spot, fitted, wrapped
from brimfast.reports.pdf_style import INK, LINE, QUIET, WATER
from brimfast.shared.units import System, number_text, show, unit_of

# isort: split
from reportlab.graphics.shapes import Drawing
from reportlab.lib.colors import Color

LEFT, RIGHT, BOTTOM, TOP = 48.0, 118.0, 26.0, 34.0
NICE = (1.0, 2.0, 5.0, 10.0)
TIMES = (60.0, 120.0, 300.0, 600.0, 1200.0, 1800.0, 3600.0, 7200.0, 10800.0, 21600.0, 43200.0, 86400.0)
DAYS = 86400.0
MOST_LEVELS = 8
LABEL = 8.5  # points from one label to the next
LEGEND = 11.0  # and from one line of the legend to the next
WATER_LINE = Color(WATER.red * 0.55, WATER.green * 0.6, WATER.blue * 0.75)


def pond_depth(assessment: Assessment, system: System, width: float, height: float) -> Drawing | None:
    """The worst single mishap and, dashed, the earthquake, with the heights that matter marked at the right."""
    spill = assessment.spill
    named = [] if spill.worst is None else [(spill.worst, f"worst mishap: {spill.worst.event.text}", True)]
    named += [] if spill.earthquake is None else [(spill.earthquake, "the earthquake", False)]
    return depth_in_time(assessment, named, system, width, height) if named else None


def shown_until(shown: Sequence[Run]) -> float:
    """To which time (s) runs are drawn."""
    return max(_interesting(one) for one in shown)


def depth_in_time(
    assessment: Assessment, named: Sequence[tuple[Run, str, bool]], system: System, width: float, height: float
) -> Drawing:
    """Runs with their words, each solid or dashed. From LEFT to RIGHT before the edge goes the time up to `shown_until`."""
    shown = [one for one, _, _ in named]
    unit, size = unit_of("length", system)
    end = shown_until(shown)
    levels = [(at, said) for at, said in _levels(assessment) if 0 < at <= 3 * max(one.depth for one in shown)]
    top = 1.12 * max([*(one.depth for one in shown), *(at for at, _ in levels), 1e-4])
    sheet = Sheet(width, height)
    room_for_words = width - 190
    legends = [wrapped(fitted(text, 2.5 * room_for_words), room_for_words) for _, text, _ in named]
    ceiling = height - TOP - LEGEND * sum(len(lines) - 1 for lines in legends)
    inner_width, inner_height = width - LEFT - RIGHT, ceiling - BOTTOM

    def x(t: float) -> float:
        return LEFT + inner_width * t / end

    def y(depth: float) -> float:
        return BOTTOM + inner_height * depth / top

    for depth in _ticks(top / size):
        sheet.line(LEFT, y(depth * size), width - RIGHT, y(depth * size), LINE, 0.4)
        sheet.put(f"{number_text(depth)} {unit}", [(LEFT - 4, y(depth * size) - 2.6, "end")])
    for t in _times(end):
        sheet.line(x(t), BOTTOM, x(t), BOTTOM - 3, QUIET, 0.5)
        sheet.put(_time(t), [(x(t), BOTTOM - 12, "middle")])
    sheet.line(LEFT, BOTTOM, width - RIGHT, BOTTOM, QUIET, 0.8)
    sheet.line(LEFT, BOTTOM, LEFT, ceiling, QUIET, 0.8)
    _draw_levels(sheet, sorted(levels[:MOST_LEVELS]), len(levels) - MOST_LEVELS, y, system)
    for index, words in enumerate(_drain_words(assessment, system)):
        sheet.put(words, [(width - RIGHT + 20, BOTTOM - 2.4 - 8 * index, "start")], SMALL, INK)
    row = 0
    for (one, _, solid), lines in zip(named, legends, strict=True):
        colour, weight, dash = (WATER_LINE, 2.2, None) if solid else (INK, 1.1, (3, 2))
        sheet.lines([(x(a), y(b)) for a, b in zip(*_curve(one, end), strict=True)], colour, weight, dash)
        _legend(sheet, row, lines, colour, weight, dash)
        row += len(lines)
        _deepest(sheet, one, x(min(one.about_deepest_at, end)), y(one.depth), system)
    return sheet.drawing()


def _levels(assessment: Assessment) -> list[tuple[float, str]]:
    """Heights above the floor: the lowest sill, and sockets from the lowest."""
    room = assessment.installation.room
    found = [(assessment.spill.room.sill, "lowest sill")]
    found += sorted((one.height, one.name) for one in room.sockets)
    return found


def _draw_levels(
    sheet: Sheet, levels: list[tuple[float, str]], more: int, y: Callable[[float], float], system: System
) -> None:
    """A line at each height, and its words at the right: moved apart where heights are close, with a line to each."""
    right, after = sheet.width - RIGHT, sheet.width - RIGHT + 20
    places: list[float] = []
    for at, _ in levels:
        places.append(max(y(at), places[-1] + LABEL if places else BOTTOM + 2 * LABEL))
    over = max(places[-1] - (sheet.height - LABEL), 0.0) if places else 0.0
    for (at, said), place in zip(levels, places, strict=True):
        level, middle = y(at), place - over
        sheet.line(LEFT, level, right + 4, level, INK, 0.9, (6, 2) if said.endswith("sill") else (1.5, 1.5))
        sheet.line(right + 4, level, after - 3, middle, QUIET, 0.5)
        words = f"{fitted(said, RIGHT - 56, SMALL)} {show(at, 'length', system)}"
        sheet.put(words, [(after, middle - 2.4, "start")], SMALL, INK)
    if more > 0:
        sheet.put(f"{more} more sockets", [(after, sheet.height - 9, "start")], SMALL)


def _drain_words(assessment: Assessment, system: System) -> list[str]:
    """Where the drains' grates are: never above the floor."""
    heights = sorted({one.height for one in assessment.installation.room.drains}, reverse=True)
    if not heights:
        return ["no drain"]
    level = ["drain, level with floor"] if heights[0] == 0 else []
    sunk = [f"drain {show(-heights[-1], 'length', system)} below"] if heights[-1] < 0 else []
    return [*level, *sunk]


def _legend(
    sheet: Sheet, row: int, lines: list[str], colour: Color, weight: float, dash: tuple[int, int] | None
) -> None:
    y = sheet.height - 9 - LEGEND * row
    sheet.line(LEFT, y + 2.5, LEFT + 22, y + 2.5, colour, weight, dash)
    for index, text in enumerate(lines):
        sheet.put(text, [(LEFT + 27, y - LEGEND * index, "start")], colour=INK)


def _deepest(sheet: Sheet, one: Run, x: float, y: float, system: System) -> None:
    """A dot where it is deepest, and how deep."""
    sheet.disc(x, y, 2.4, INK)
    sheet.take(x - 3, y - 3, x + 3, y + 3)
    spots: list[Spot] = [
        (x + 6, y + 3, "start"),
        (x + 6, y + 10, "start"),
        (x + 6, y - 9, "start"),
        (x + 30, y + 3, "start"),
    ]
    sheet.put(show(one.depth, "length", system), spots, SMALL, INK, True, halo=True)


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
