"""How the fasteners of a joint stand: distances as they are, and the least that count beside them."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from brimfast.assess.joints.layout import QUARTER, Layout, beam_to_post_layout
from brimfast.assess.pipeline import Assessment
from brimfast.assess.resolve import Member
from brimfast.assess.timber import geometry
from brimfast.assess.timber.geometry import Distances
from brimfast.reports.drawings.places import diagonal
from brimfast.reports.drawings.scale_bar import scale_bar
from brimfast.reports.drawings.sheet import SMALL, TEXT, Sheet, wrapped
from brimfast.reports.pdf_style import INK, LINE, QUIET, VERDICT_COLOURS, WOOD
from brimfast.shared.installation.joint import Fasteners
from brimfast.shared.installation.rack import Rack
from brimfast.shared.units import System, show

# isort: split
from reportlab.graphics.shapes import Drawing
from reportlab.lib.colors import white

BEAM, BRACE = "beam to post", "brace to post"
HIGH = 210.0  # points
ROW = 12.0
TABLE = 212.0
Point = tuple[float, float]


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


def joint_detail(assessment: Assessment, rack: str, where: str, system: System, width: float) -> Drawing | None:
    """Beam to post, or a brace's end; None where the file does not say how it is fastened, or by a maker's tie."""
    joint = next((one for one in assessment.installation.joints if one.rack == rack and one.where == where), None)
    if joint is None:
        return None
    fasteners = joint.fasteners
    diameter = fasteners.diameter or (fasteners.nail[0] if fasteners.nail else 0.0)
    if not diameter or fasteners.kind == "framing tie":
        return None
    found, parts = assessment.installation.racks[rack], assessment.resolved.racks[rack]
    if where == BEAM:
        if found.beam_seat == "on top":
            return None
        layout = beam_to_post_layout(found, parts, fasteners, leans=not found.braced("along"))
        return _beam_to_post(found, parts.post, parts.beam, fasteners, layout, system, width)
    if where == BRACE and found.braces:
        (x1, z1), (x2, z2) = diagonal(assessment, rack, found.braces[0])
        slope = math.atan2(z2 - z1, x2 - x1)
        return _brace_end(parts.post, parts.braces[0], fasteners, diameter, slope, system, width)
    return None


def _table(sheet: Sheet, x: float, top: float, rows: Sequence[Distance], system: System, notes: Sequence[str]) -> None:
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


def _heading(fasteners: Fasteners, diameter: float, system: System, each: str) -> str:
    length = fasteners.length or (fasteners.nail[1] if fasteners.nail else None)
    long = f" × {show(length, 'length', system)}" if length else ""
    plural = "" if fasteners.count == 1 else "s"
    return f"{fasteners.count} {fasteners.kind}{plural}, {show(diameter, 'length', system)}{long}, {each}"


def _beam_to_post(
    rack: Rack, post: Member, beam: Member, fasteners: Fasteners, layout: Layout, system: System, width: float
) -> Drawing:
    diameter, w, d = layout.diameter, post.width, beam.width
    meets = rack.beam_runs == "each bay" and rack.bays > 1
    end = next((check.actual for check in layout.checks if check.what == "from the beam's end"), None)
    sheet = Sheet(width, HIGH)
    reach = w * 0.9
    wide, high = w + 2 * reach, d * 1.5
    scale = min(136 / wide, (HIGH - 74) / high)
    x0, y0 = 44.0, 30.0
    post_x = x0 + (reach if meets else reach * 0.35) * scale
    beam_y = y0 + d * 0.25 * scale
    sheet.box(post_x, y0, w * scale, high * scale, WOOD)
    centre = post_x + w * scale / 2
    group = float(layout.places[:, 0].max() - layout.places[:, 0].min())
    right = post_x + (w + reach) * scale
    beam_end = _beam_end(meets, rack.beam_runs == "whole length", end, group, w, post_x, scale)
    sheet.box(beam_end, beam_y, right - beam_end, d * scale, WOOD, INK, 0.8, opacity=0.9)
    if meets:
        sheet.box(x0, beam_y, beam_end - x0, d * scale, WOOD, INK, 0.8, opacity=0.9)
    middle_x = beam_end + (end + group / 2) * scale if end is not None and end > 0 else centre
    middle_y = beam_y + d * scale / 2
    radius = max(diameter * scale / 2, 1.3)
    sides = [(middle_x, 1)] + ([(2 * beam_end - middle_x, -1)] if meets else [])
    spots = []
    for at, hand in sides:
        for dx, dy in layout.places:
            px, py = at + hand * float(dx) * scale, middle_y + float(dy) * scale
            _fastener(sheet, px, py, radius)
            if hand > 0:
                spots.append((px, py))
    checked = [check.actual for check in layout.checks]
    _beam_dimensions(
        sheet, spots, beam_end if end is not None else None, beam_y, d * scale, right, scale, checked, system
    )
    sheet.put(_heading(fasteners, diameter, system, "each joint"), [(8, HIGH - 12, "start")], TEXT, INK, True)
    sheet.put("from the front", [(8, 14, "start")], SMALL)
    section_x = right + 56
    _section(
        sheet,
        section_x,
        beam_y,
        post,
        beam,
        fasteners,
        [y for _, y in spots],
        radius,
        scale,
        (y0, high * scale),
        system,
    )
    rows = [
        Distance(check.what, check.actual, check.distances.least * diameter, check.distances.full * diameter)
        for check in layout.checks
    ]
    notes = [layout.note]
    if not rows:
        notes.append("distances: as the maker of the fastener asks")
    _table(sheet, width - TABLE, HIGH - 32, rows, system, notes)
    scale_bar(sheet, 70, 13, scale, system)
    return sheet.drawing()


def _beam_end(
    meets: bool, through: bool, end: float | None, group: float, w: float, post_x: float, scale: float
) -> float:
    """Where the beam ends (points): in the post's middle where two meet, else by its end distance, or beyond its post."""
    if meets:
        return post_x + w * scale / 2
    if end is not None:
        return post_x + (w / 2 - group / 2 - end) * scale
    return post_x - (0.0 if not through else 0.1 * w * scale)


def _fastener(sheet: Sheet, x: float, y: float, radius: float) -> None:
    sheet.disc(x, y, radius, white, INK, 0.9)
    arm = radius + 2
    sheet.line(x - arm, y, x + arm, y, INK, 0.4)
    sheet.line(x, y - arm, x, y + arm, INK, 0.4)
    sheet.take(x - radius, y - radius, x + radius, y + radius)


def _beam_dimensions(
    sheet: Sheet,
    spots: Sequence[tuple[float, float]],
    beam_end: float | None,
    beam_y: float,
    depth: float,
    right: float,
    scale: float,
    checked: Sequence[float],
    system: System,
) -> None:
    """Edge distances and spacing to the right of the beam, end distance and gauge above it."""

    def said(points: float) -> str:
        size = points / scale
        exact = next((one for one in checked if abs(one - size) < 1e-5), size)
        return show(exact, "length", system)

    heights = sorted({round(y, 3) for _, y in spots})
    columns = sorted({round(x, 3) for x, _ in spots})
    x = right + 8
    for low, high in zip((beam_y, *heights), (*heights, beam_y + depth), strict=True):
        sheet.upright(x, low, high, said(high - low), SMALL, right=True)
    for y in heights:
        sheet.line(columns[-1], y, x, y, LINE, 0.4)
    y = beam_y + depth + 9
    if beam_end is not None:
        sheet.across(beam_end, columns[0], y, said(columns[0] - beam_end), SMALL)
        sheet.line(columns[0], heights[-1], columns[0], y + 3, LINE, 0.4)
    for left, after in pairwise(columns):
        sheet.across(left, after, y + 12, said(after - left), SMALL)


def _section(
    sheet: Sheet,
    x: float,
    beam_y: float,
    post: Member,
    beam: Member,
    fasteners: Fasteners,
    heights: Sequence[float],
    radius: float,
    scale: float,
    upright: tuple[float, float],
    system: System,
) -> None:
    """The joint cut across: beam on the left, post on the right, fasteners by their length."""
    thick, deep = beam.thickness * scale, post.thickness * scale
    y0, high = upright
    sheet.box(x + thick, y0, deep, high, WOOD)
    sheet.box(x, beam_y, thick, beam.width * scale, WOOD)
    length = fasteners.length or (fasteners.nail[1] if fasteners.nail else 0.0)
    for y in sorted(set(heights)):
        if length:
            end = min(x + length * scale, sheet.width - TABLE - 4)  # what sticks out far is cut
            sheet.line(x - 2, y, end, y, INK, max(radius, 1.0))
            sheet.line(x - 2, y - radius - 2, x - 2, y + radius + 2, INK, 1.4)
            if fasteners.kind == "through-bolt":
                far = x + thick + deep + 2
                sheet.line(far, y - radius - 2, far, y + radius + 2, INK, 1.4)
    low = y0 - 9
    for left, right, size in ((x, x + thick, beam.thickness), (x + thick, x + thick + deep, post.thickness)):
        for at in (left, right):
            sheet.line(at, low - 3, at, low + 3, QUIET, 0.6)
        sheet.line(left, low, right, low, QUIET, 0.6)
        words = show(size, "length", system)
        anchor_left = left == x
        sheet.put(
            words,
            [
                ((left + right) / 2, low - 9, "middle"),
                (left - 3, low - 2, "end") if anchor_left else (right + 3, low - 2, "start"),
            ],
            SMALL,
        )
    sheet.put("cut across", [(x + thick + deep / 2, y0 + high + 4, "middle")], SMALL)


def _brace_end(
    post: Member, brace: Member, fasteners: Fasteners, diameter: float, slope: float, system: System, width: float
) -> Drawing:
    """The upper end of a brace on its post, its fasteners on the brace's axis; at full-value distances where the file is silent."""
    small = diameter < QUARTER
    kinds = (
        (geometry.SMALL_END, Distances(5.0, 5.0), geometry.SMALL_EDGE, geometry.SMALL_EDGE)
        if small
        else (geometry.END_TENSION, geometry.SPACING_ROW, geometry.EDGE_ALONG, geometry.EDGE_LOADED)
    )
    end_kind, row_kind, edge_kind, post_kind = kinds
    end = fasteners.end_distance
    rows_of = -(-fasteners.count // fasteners.columns)
    gauge = (fasteners.gauge or 0.0) * (fasteners.columns - 1)
    between = fasteners.spread / (rows_of - 1) if fasteners.spread is not None and rows_of > 1 else None
    checks = [
        Distance("from the brace's end", end, end_kind.least * diameter, end_kind.full * diameter),
        Distance(
            "from the brace's edge", (brace.width - gauge) / 2, edge_kind.least * diameter, edge_kind.full * diameter
        ),
        Distance("from the post's edge", post.width / 2, post_kind.least * diameter, post_kind.full * diameter),
    ]
    if rows_of > 1:
        checks.insert(1, Distance("between fasteners", between, row_kind.least * diameter, row_kind.full * diameter))
    sheet = Sheet(width, HIGH)
    drawn_end = end if end is not None else end_kind.full * diameter
    drawn_step = between if between is not None else row_kind.full * diameter
    run = (rows_of - 1) * drawn_step
    tall = max(post.width * 2.6, (run + drawn_end) * 2.2, brace.width * 2.2)
    scale = min(170 / (post.width + tall), (HIGH - 60) / tall)
    x0, y0 = 200.0, 28.0
    sheet.box(x0, y0, post.width * scale, tall * scale, WOOD)
    cx, cy = x0 + post.width * scale / 2, y0 + tall * scale * 0.56
    ux, uy = math.cos(slope), math.sin(slope)
    tip = drawn_end + run / 2
    tail = max(tall * 0.75, run / 2 + drawn_end)
    tail = min(tail, (cx - 20) / scale / max(ux, 1e-6), (cy - 10) / scale / max(uy, 1e-6))
    half = brace.width / 2

    def at(along: float, aside: float) -> tuple[float, float]:
        return cx + (along * ux - aside * uy) * scale, cy + (along * uy + aside * ux) * scale

    sheet.polygon([at(-tail, -half), at(tip, -half), at(tip, half), at(-tail, half)], WOOD, INK, 0.8, opacity=0.92)
    sheet.line(*at(-tail, 0.0), *at(tip, 0.0), QUIET, 0.4, (6, 2, 1, 2))
    radius = max(diameter * scale / 2, 1.3)
    for column in range(fasteners.columns):
        aside = (column - (fasteners.columns - 1) / 2) * (fasteners.gauge or 0.0)
        for row in range(rows_of):
            if column * rows_of + row < fasteners.count:
                _fastener(sheet, *at(-run / 2 + row * drawn_step, aside), radius)
    _slanted(sheet, at, run / 2, tip, half, show(drawn_end, "length", system) + ("" if end is not None else " wanted"))
    if rows_of > 1:
        _slanted(
            sheet,
            at,
            -run / 2,
            -run / 2 + drawn_step,
            half,
            show(drawn_step, "length", system) + ("" if between is not None else " wanted"),
        )
    low = y0 - 9
    sheet.across(x0, x0 + post.width * scale, low, show(post.width, "length", system), SMALL)
    sheet.put(_heading(fasteners, diameter, system, "each end"), [(8, HIGH - 12, "start")], TEXT, INK, True)
    notes = []
    if end is None or (rows_of > 1 and between is None):
        notes.append("? where the file does not say: drawn at what full value asks")
    notes.append(f"brace {brace.size}, {math.degrees(slope):.0f}° from level")
    if small:
        notes.append("under 1/4 in: recommended distances without predrilling")
    _table(sheet, width - TABLE, HIGH - 32, checks, system, notes)
    scale_bar(sheet, 8, 13, scale, system)
    return sheet.drawing()


def _slanted(
    sheet: Sheet, at: Callable[[float, float], Point], first: float, last: float, half: float, text: str
) -> None:
    """A dimension line beside the brace, along it."""
    off = half * 1.35
    (x1, y1), (x2, y2) = at(first, off), at(last, off)
    for along in (first, last):
        near, far = at(along, half * 1.05), at(along, off * 1.1)
        sheet.line(*near, *far, QUIET, 0.5)
    sheet.line(x1, y1, x2, y2, QUIET, 0.6)
    sheet.near(text, (x1 + x2) / 2, (y1 + y2) / 2, SMALL, start=7.0)
