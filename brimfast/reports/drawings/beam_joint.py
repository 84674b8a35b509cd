"""A beam on its post: from the front and cut across, its fasteners with their distances."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from brimfast.assess.joints.layout import Layout
from brimfast.assess.parts import Member
from brimfast.reports.drawings.joint_parts import HIGH, TABLE, Distance, distances_table, fastener, heading
from brimfast.reports.drawings.scale_bar import scale_bar
from brimfast.reports.drawings.sheet import SMALL, TEXT, Sheet
from brimfast.reports.pdf_style import INK, LINE, QUIET, WOOD
from brimfast.shared.installation.joint import Fasteners
from brimfast.shared.installation.rack import Rack
from brimfast.shared.units import System, show

# isort: split
from reportlab.graphics.shapes import Drawing

Spots = list[tuple[float, float]]  # points on the sheet


def beam_joint(
    rack: Rack, post: Member, beam: Member, fasteners: Fasteners, layout: Layout, system: System, width: float
) -> Drawing:
    diameter, w, d = layout.diameter, post.width, beam.width
    meets = rack.ends_meet
    end = next((check.actual for check in layout.checks if check.what == "from the beam's end"), None)
    sheet = Sheet(width, HIGH)
    reach = w * 0.9
    wide, high = w + 2 * reach, d * 1.5
    scale = min(136 / wide, (HIGH - 74) / high)
    x0, y0 = 44.0, 30.0
    post_x = x0 + (reach if meets else reach * 0.35) * scale
    beam_y = y0 + d * 0.25 * scale
    sheet.box(post_x, y0, w * scale, high * scale, WOOD)
    group = float(layout.places[:, 0].max() - layout.places[:, 0].min())
    right = post_x + (w + reach) * scale
    beam_end = _beam_end(meets, rack.beam_runs == "whole length", end, group, w, post_x, scale)
    sheet.box(beam_end, beam_y, right - beam_end, d * scale, WOOD, INK, 0.8, opacity=0.9)
    if meets:
        sheet.box(x0, beam_y, beam_end - x0, d * scale, WOOD, INK, 0.8, opacity=0.9)
    middle_x = beam_end + (end + group / 2) * scale if end is not None and end > 0 else post_x + w * scale / 2
    middle = middle_x, beam_y + d * scale / 2
    radius = max(diameter * scale / 2, 1.3)
    spots = _fasteners(sheet, layout, middle, beam_end if meets else None, scale, radius)
    checked = [check.actual for check in layout.checks]
    from_end = beam_end if end is not None else None
    _beam_dimensions(sheet, spots, from_end, beam_y, d * scale, right, scale, checked, system)
    sheet.put(heading(fasteners, diameter, system, "each joint"), [(8, HIGH - 12, "start")], TEXT, INK, True)
    sheet.put("from the front", [(8, 14, "start")], SMALL)
    heights, upright = [y for _, y in spots], (y0, high * scale)
    _section(sheet, right + 56, beam_y, post, beam, fasteners, heights, radius, scale, upright, system)
    _distances(sheet, width - TABLE, layout, system)
    scale_bar(sheet, 70, 13, scale, system)
    return sheet.drawing()


def _fasteners(
    sheet: Sheet, layout: Layout, middle: tuple[float, float], mirror: float | None, scale: float, radius: float
) -> Spots:
    """Those of the right beam are given back; mirror: where another beam meets it, with the same on its side."""
    sides = [(middle[0], 1), *([(2 * mirror - middle[0], -1)] if mirror is not None else [])]
    spots = []
    for at, hand in sides:
        for dx, dy in layout.places:
            px, py = at + hand * float(dx) * scale, middle[1] + float(dy) * scale
            fastener(sheet, px, py, radius)
            if hand > 0:
                spots.append((px, py))
    return spots


def _distances(sheet: Sheet, x: float, layout: Layout, system: System) -> None:
    rows = [
        Distance(
            check.what, check.actual, check.distances.least * layout.diameter, check.distances.full * layout.diameter
        )
        for check in layout.checks
    ]
    notes = [layout.note, *([] if rows else ["distances: as the maker of the fastener asks"])]
    distances_table(sheet, x, HIGH - 32, rows, system, notes)


def _beam_end(
    meets: bool, through: bool, end: float | None, group: float, w: float, post_x: float, scale: float
) -> float:
    """Where the beam ends (points): in the post's middle where two meet, else by its end distance, or beyond its post."""
    if meets:
        return post_x + w * scale / 2
    if end is not None:
        return post_x + (w / 2 - group / 2 - end) * scale
    return post_x - (0.0 if not through else 0.1 * w * scale)


def _beam_dimensions(
    sheet: Sheet,
    spots: Spots,
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
