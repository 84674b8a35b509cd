"""The upper end of a brace on its post, its fasteners on the brace's axis."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from brimfast.assess.joints.layout import QUARTER
from brimfast.assess.parts import Member
from brimfast.assess.timber import geometry
from brimfast.assess.timber.geometry import Distances
from brimfast.reports.drawings.joint_parts import HIGH, TABLE, Distance, distances_table, fastener, heading
from brimfast.reports.drawings.scale_bar import scale_bar
from brimfast.reports.drawings.sheet import SMALL, TEXT, Sheet
from brimfast.reports.pdf_style import INK, QUIET, WOOD
from brimfast.shared.installation.joint import Fasteners
from brimfast.shared.units import System, show

# isort: split
from reportlab.graphics.shapes import Drawing

Point = tuple[float, float]
At = Callable[[float, float], Point]  # from along the brace and aside of its axis (m) to the sheet
WANTED = " wanted"
SMALL_KINDS = geometry.SMALL_END, Distances(5.0, 5.0), geometry.SMALL_EDGE, geometry.SMALL_EDGE
KINDS = geometry.END_TENSION, geometry.SPACING_ROW, geometry.EDGE_ALONG, geometry.EDGE_LOADED


@dataclass(frozen=True)
class _Sizes:
    """Of the brace's fasteners (m); end, step: None where the file is silent, and then drawn at what full value asks."""

    rows: int
    end: float | None
    step: float | None
    drawn_end: float
    drawn_step: float
    checks: tuple[Distance, ...]

    @property
    def run(self) -> float:
        """From the first to the last along the brace."""
        return (self.rows - 1) * self.drawn_step

    @property
    def silent(self) -> bool:
        return self.end is None or (self.rows > 1 and self.step is None)


def brace_end(
    post: Member, brace: Member, fasteners: Fasteners, diameter: float, slope: float, system: System, width: float
) -> Drawing:
    small = diameter < QUARTER
    sizes = _sizes(post, brace, fasteners, diameter, SMALL_KINDS if small else KINDS)
    sheet = Sheet(width, HIGH)
    tall = max(post.width * 2.6, (sizes.run + sizes.drawn_end) * 2.2, brace.width * 2.2)
    scale = min(170 / (post.width + tall), (HIGH - 60) / tall)
    x0, y0 = 200.0, 28.0
    sheet.box(x0, y0, post.width * scale, tall * scale, WOOD)
    cx, cy = x0 + post.width * scale / 2, y0 + tall * scale * 0.56
    ux, uy = math.cos(slope), math.sin(slope)
    tail = max(tall * 0.75, sizes.run / 2 + sizes.drawn_end)
    tail = min(tail, (cx - 20) / scale / max(ux, 1e-6), (cy - 10) / scale / max(uy, 1e-6))

    def at(along: float, aside: float) -> Point:
        return cx + (along * ux - aside * uy) * scale, cy + (along * uy + aside * ux) * scale

    _brace(sheet, at, tail, sizes, brace.width / 2)
    _fasteners(sheet, at, fasteners, sizes, max(diameter * scale / 2, 1.3))
    _dimensions(sheet, at, sizes, brace.width / 2, system)
    sheet.across(x0, x0 + post.width * scale, y0 - 9, show(post.width, "length", system), SMALL)
    sheet.put(heading(fasteners, diameter, system, "each end"), [(8, HIGH - 12, "start")], TEXT, INK, True)
    notes = ["? where the file does not say: drawn at what full value asks"] if sizes.silent else []
    notes.append(f"brace {brace.size}, {math.degrees(slope):.0f}° from level")
    if small:
        notes.append("under 1/4 in: recommended distances without predrilling")
    distances_table(sheet, width - TABLE, HIGH - 32, sizes.checks, system, notes)
    scale_bar(sheet, 8, 13, scale, system)
    return sheet.drawing()


def _sizes(
    post: Member,
    brace: Member,
    fasteners: Fasteners,
    diameter: float,
    kinds: tuple[Distances, Distances, Distances, Distances],
) -> _Sizes:
    """kinds: least and full distances from the end, in a row, from the brace's edge, from the post's."""
    of_end, of_row, of_edge, of_post = kinds
    end, rows = fasteners.end_distance, -(-fasteners.count // fasteners.columns)
    gauge = (fasteners.gauge or 0.0) * (fasteners.columns - 1)
    step = fasteners.spread / (rows - 1) if fasteners.spread is not None and rows > 1 else None

    def distance(what: str, there: float | None, kind: Distances) -> Distance:
        return Distance(what, there, kind.least * diameter, kind.full * diameter)

    return _Sizes(
        rows,
        end,
        step,
        end if end is not None else of_end.full * diameter,
        step if step is not None else of_row.full * diameter,
        (
            distance("from the brace's end", end, of_end),
            *([distance("between fasteners", step, of_row)] if rows > 1 else []),
            distance("from the brace's edge", (brace.width - gauge) / 2, of_edge),
            distance("from the post's edge", post.width / 2, of_post),
        ),
    )


def _brace(sheet: Sheet, at: At, tail: float, sizes: _Sizes, half: float) -> None:
    tip = sizes.drawn_end + sizes.run / 2
    sheet.polygon([at(-tail, -half), at(tip, -half), at(tip, half), at(-tail, half)], WOOD, INK, 0.8, opacity=0.92)
    sheet.line(*at(-tail, 0.0), *at(tip, 0.0), QUIET, 0.4, (6, 2, 1, 2))


def _fasteners(sheet: Sheet, at: At, fasteners: Fasteners, sizes: _Sizes, radius: float) -> None:
    """Row by row; the last column may have fewer."""
    for column in range(fasteners.columns):
        aside = (column - (fasteners.columns - 1) / 2) * (fasteners.gauge or 0.0)
        for row in range(sizes.rows):
            if column * sizes.rows + row < fasteners.count:
                fastener(sheet, *at(-sizes.run / 2 + row * sizes.drawn_step, aside), radius)


def _dimensions(sheet: Sheet, at: At, sizes: _Sizes, half: float, system: System) -> None:
    first, last = -sizes.run / 2, sizes.run / 2
    end = show(sizes.drawn_end, "length", system) + ("" if sizes.end is not None else WANTED)
    _slanted(sheet, at, last, last + sizes.drawn_end, half, end)
    if sizes.rows > 1:
        step = show(sizes.drawn_step, "length", system) + ("" if sizes.step is not None else WANTED)
        _slanted(sheet, at, first, first + sizes.drawn_step, half, step)


def _slanted(sheet: Sheet, at: At, first: float, last: float, half: float, text: str) -> None:
    """A dimension line beside the brace, along it."""
    off = half * 1.35
    (x1, y1), (x2, y2) = at(first, off), at(last, off)
    for along in (first, last):
        near, far = at(along, half * 1.05), at(along, off * 1.1)
        sheet.line(*near, *far, QUIET, 0.5)
    sheet.line(x1, y1, x2, y2, QUIET, 0.6)
    sheet.near(text, (x1 + x2) / 2, (y1 + y2) / 2, SMALL, start=7.0)
