"""The room from above: what stands in it, drains, sill, how far the water lies, and which way it goes."""

from __future__ import annotations

import math

from brimfast.assess.bodies import rack_offsets
from brimfast.assess.network.pans import pan_nodes
from brimfast.assess.pipeline import Assessment, Seen
from brimfast.assess.spill.assess import DRY_UNDER
from brimfast.reports.drawings.keyed import Keyed, numbers
from brimfast.reports.drawings.scale_bar import scale_bar
from brimfast.reports.drawings.sheet import SMALL, TEXT, Area, Sheet, fitted
from brimfast.reports.drawings.water_ways import Ways, water_ways
from brimfast.reports.layout import Placed, pan_size
from brimfast.reports.pdf_style import INK, PAPER, QUIET, WATER, WOOD
from brimfast.shared.installation.rack import ALL_FACES, FACES, Rack
from brimfast.shared.units import System, show

# isort: split
from reportlab.lib.colors import Color, white

LEFT, BELOW, ABOVE, RIGHT = 48.0, 56.0, 12.0, 20.0
POND = Color(0.9, 0.95, 0.98)
TINY = 10.0  # points
Numbers = list[tuple[float, float, str]]


def plan(assessment: Seen, placed: list[Placed], system: System, width: float, most_height: float) -> Keyed:
    """To scale; the key: the steps of the water's way by letter. Without water where none has run yet."""
    room = assessment.installation.room
    scale = min((width - LEFT - RIGHT) / room.length, (most_height - BELOW - ABOVE) / room.width)
    sheet = Sheet(width, BELOW + ABOVE + room.width * scale)
    x0 = max(LEFT, (width - room.length * scale) / 2) if room.length * scale < width / 2 else LEFT
    y0 = BELOW
    long, wide = room.length * scale, room.width * scale
    watered = assessment if isinstance(assessment, Assessment) else None
    ways = water_ways(watered) if watered is not None else None
    depth = ways.run.depth if ways is not None else 0.0
    if depth > DRY_UNDER:
        _pond(sheet, x0, y0, long, wide)
    sheet.box(x0, y0, long, wide, None, INK, 2.2)
    door = _door(sheet, assessment, x0, y0, long, scale)
    tag = numbers(assessment)
    badges: Numbers = []
    outlines: dict[str, tuple[float, float]] = {}
    for item in placed:
        _pan(sheet, assessment, item, (x0, y0), scale)
    for item in placed:
        _in_plan(sheet, assessment, item, (x0, y0), scale, tag, badges, outlines)
    drains = _drains(sheet, assessment, x0, y0, scale)
    for x, y, text in badges:
        sheet.badge(x, y, text)
    key = _arrows(sheet, watered, ways, outlines, drains, door, system) if watered is not None else []
    sheet.across(x0, x0 + long, y0 - 24, show(room.length, "distance", system))
    sheet.upright(x0 - 9, y0, y0 + wide, show(room.width, "distance", system))
    scale_bar(sheet, x0, 8, scale, system)
    floor = Area(x0, y0, x0 + long, y0 + wide)
    return Keyed(sheet.drawing(), (*key, *_notes(assessment, depth, system)), floor)


def _notes(assessment: Seen, depth: float, system: System) -> list[tuple[str, str]]:
    room = assessment.installation.room
    found = []
    if depth > DRY_UNDER:
        found.append(
            (
                "wet",
                f"all of the floor that is free wet in the worst mishap, up to {show(depth, 'length', system)} deep",
            )
        )
    pans = list(pan_nodes(assessment.installation, assessment.vessels))
    if pans:
        found.append(("pan", f"dotted outlines: {', '.join(pans[:4])}{' and others' if len(pans) > 4 else ''}"))
    if room.sockets:
        told = "; ".join(f"{one.name} {show(one.height, 'length', system)}" for one in room.sockets[:4])
        more = f"; {len(room.sockets) - 4} more" if len(room.sockets) > 4 else ""
        found.append(("live", f"sockets stand over the floor, where the file does not say: {told}{more}"))
    return found


def _pond(sheet: Sheet, x: float, y: float, long: float, wide: float) -> None:
    """The floor tinted, with short ripples that also show in black and white."""
    sheet.box(x, y, long, wide, POND, None)
    step = max(26.0, math.sqrt(long * wide / 260))
    for row in range(int(wide / step)):
        for column in range(int(long / step)):
            px = x + step * (column + (0.7 if row % 2 else 0.3))
            py = y + step * (row + 0.5)
            if px + 8 < x + long:
                wave = [(px + k, py + 1.2 * math.sin(k * math.pi / 2)) for k in range(9)]
                sheet.lines(wave, WATER, 0.9)


def _door(sheet: Sheet, assessment: Seen, x0: float, y0: float, long: float, scale: float) -> tuple[float, float]:
    """A gap in the lower wall at its right, dashed as its place is not in the file; gives back where it leads out."""
    room = assessment.installation.room
    across = min((room.door or 0.8) * scale, long * 0.4)
    right = x0 + long - min(12.0, long * 0.1)
    sheet.line(right - across, y0, right, y0, white, 3.4)
    sheet.line(right - across, y0, right, y0, QUIET, 1.0, (3, 2))
    for x in (right - across, right):
        sheet.line(x, y0 - 4, x, y0 + 4, INK, 1.6)
    sheet.take(right - across, y0 - 6, right, y0 + 6)
    return right - across / 2, y0


def _drains(sheet: Sheet, assessment: Seen, x0: float, y0: float, scale: float) -> list[tuple[float, float]]:
    """Striped circles, dashed where the file does not say where they are."""
    room = assessment.installation.room
    unplaced = [drain for drain in room.drains if drain.at is None]
    found = []
    for drain in room.drains:
        step = 0.7 * unplaced.index(drain) if drain.at is None else 0.0
        aside = min(0.5, room.width / 4)
        dx, dy = drain.at or (max(room.length - min(0.5, room.length / 4) - step, 0.1), room.width - aside)
        x, y = x0 + dx * scale, y0 + dy * scale
        sheet.disc(x, y, 6, PAPER, INK, 1.0, None if drain.at else (2, 1.5))
        for offset in (-3, 0, 3):
            sheet.line(x - 4, y + offset, x + 4, y + offset, INK, 0.6)
        sheet.take(x - 7, y - 7, x + 7, y + 7)
        found.append((x, y))
    return found


def _arrows(
    sheet: Sheet,
    assessment: Assessment,
    ways: Ways | None,
    outlines: dict[str, tuple[float, float]],
    drains: list[tuple[float, float]],
    door: tuple[float, float],
    system: System,
) -> list[tuple[str, str]]:
    """A: onto the floor, B: into the drains, C: out. Each arrow with its letter, each letter with its amount."""
    sill = show(assessment.spill.room.sill, "length", system)
    room = assessment.installation.room
    leads = "doorway, its place is not in the file"
    if room.next:
        leads = (
            f"doorways to {', '.join(fitted(one.name, 120) for one in room.next[:3])}; their places are not in the file"
        )
    key = [("sill", f"{leads}; lowest sill {sill}")]
    if ways is None:
        sheet.near(f"sill {sill}", door[0], door[1] - 3, SMALL, INK, start=9.0, upward=False)
        return key
    start = outlines.get(ways.source)
    said = fitted(ways.source, 150) if ways.source else fitted(ways.run.event.subject, 150)
    key.insert(
        0,
        (
            "A",
            f"{fitted(ways.run.event.text, 600)}: {show(ways.reached, 'volume', system)} onto the floor, most of it from {said}",
        ),
    )
    if start is not None:
        sheet.disc(start[0], start[1], 11, None, INK, 1.4)
        sheet.near("A", *start, TEXT + 0.5, INK, True, start=16.0)
        tail = start
    else:
        tail = None
    if tail is not None and ways.drained > 1e-6:
        for x, y in drains:
            _arrow(sheet, tail, (x, y), 12.0, 8.0, "B")
        key.insert(1, ("B", f"{show(ways.drained, 'volume', system)} into the floor drains, as far as they are open"))
    if tail is not None and ways.leaves > 1e-6:
        inside, outside = (door[0], door[1] + 16), (door[0], door[1] - 13)
        _arrow(sheet, tail, inside, 12.0, 0.0, "C", head=False)
        sheet.arrow(*inside, *outside, INK, 1.5, 7.0)
        sheet.take(door[0] - 4, outside[1] - 1, door[0] + 4, door[1])
        key.insert(-1, ("C", f"{show(ways.leaves, 'volume', system)} over the sill at most at one time"))
    sheet.near(f"sill {sill}", door[0], door[1] - 3, SMALL, INK, start=9.0, upward=False)
    return key


def _arrow(
    sheet: Sheet,
    start: tuple[float, float],
    end: tuple[float, float],
    after: float,
    before: float,
    letter: str,
    head: bool = True,
) -> None:
    """From one point toward another, keeping clear of both, the letter beside its middle."""
    length = math.dist(start, end)
    if length < after + before + 8:
        return
    ux, uy = (end[0] - start[0]) / length, (end[1] - start[1]) / length
    first = (start[0] + ux * after, start[1] + uy * after)
    last = (end[0] - ux * before, end[1] - uy * before)
    sheet.line(*first, *last, white, 4.0)
    if head:
        sheet.arrow(*first, *last, INK, 1.5, 7.0)
    else:
        sheet.line(*first, *last, INK, 1.5)
    sheet.near(letter, (first[0] + last[0]) / 2, (first[1] + last[1]) / 2, TEXT + 0.5, INK, True, start=8.0)


def _pan(sheet: Sheet, assessment: Seen, item: Placed, corner: tuple[float, float], scale: float) -> None:
    """What stands in a pan stands in its middle."""
    size = pan_size(assessment.installation, item.name, item.kind)
    if size is None:
        return
    length, width = size
    x, y = item.x + (item.length - length) / 2, item.y + (item.width - width) / 2
    sheet.box(corner[0] + x * scale, corner[1] + y * scale, length * scale, width * scale, None, INK, 0.9, [1, 2])


def _in_plan(
    sheet: Sheet,
    assessment: Seen,
    item: Placed,
    corner: tuple[float, float],
    scale: float,
    tag: dict[str, str],
    badges: Numbers,
    outlines: dict[str, tuple[float, float]],
) -> None:
    x, y = corner[0] + item.x * scale, corner[1] + item.y * scale
    length, width = item.length * scale, item.width * scale
    dash = None if item.given else [3, 2]
    if min(length, width) < TINY:
        sheet.take(x, y, x + length, y + width)  # its number stands beside it
    if item.kind == "rack":
        name = item.name.removeprefix("rack ")
        rack = assessment.installation.racks[name]
        sheet.box(x, y, length, width, WOOD, INK, 1, dash)
        _vessels_on_plan(sheet, assessment, name, x, y, scale, tag, badges, outlines)
        _rails_on_plan(sheet, rack, x, y, length, width)
        post = min(max(assessment.resolved.racks[name].post.width * scale, 3), length, width)
        for index in range(rack.bays + 1):
            for side in (0, 1):
                along = index / rack.bays
                px, py = (along * length, side * width) if rack.along == "length" else (side * length, along * width)
                px = min(max(px - post / 2, 0), length - post)
                py = min(max(py - post / 2, 0), width - post)
                sheet.box(x + px, y + py, post, post, INK)
        _stiff_faces(sheet, rack, x, y, length, width)
        badges.append((x + length + 11, y + width / 2, tag[item.name]))
        return
    if item.round:
        sheet.disc(x + length / 2, y + length / 2, length / 2, WATER, INK, 0.8, dash)
    else:
        sheet.box(x, y, length, width, WATER, INK, 1, dash)
    middle = (x + length / 2, y + width / 2)
    badges.append((*middle, tag[item.name]))
    outlines[item.name] = middle


def _stiff_faces(sheet: Sheet, rack: Rack, x: float, y: float, length: float, width: float) -> None:
    """A heavy line outside each bay of a face that has a brace or a panel."""
    long, wide = (length, width) if rack.along == "length" else (width, length)
    step = long / rack.bays
    for face, bay, _ in rack.stiffened:
        if face in ("front", "back"):
            start, end, aside = (bay - 1) * step + 3, bay * step - 3, -3.0 if face == "front" else wide + 3
            ends = (start, aside, end, aside)
        else:
            ahead = -3.0 if face == "left" else long + 3
            ends = (ahead, 3.0, ahead, wide - 3)
        a, b, c, d = ends if rack.along == "length" else (ends[1], ends[0], ends[3], ends[2])
        sheet.line(x + a, y + b, x + c, y + d, INK, 2.6)


def _rails_on_plan(sheet: Sheet, rack: Rack, x: float, y: float, length: float, width: float) -> None:
    """A thin double line along each face that has a rail, between the posts that are drawn over it."""
    for face in ALL_FACES:
        if not any(face in rail.faces for rail in rack.rails):
            continue
        along = (face in FACES["along"]) == (rack.along == "length")
        far = face in ("back", "right")
        if along:
            sheet.box(x, y + width - 3 if far else y, length, 3, PAPER, INK, 0.5)
        else:
            sheet.box(x + length - 3 if far else x, y, 3, width, PAPER, INK, 0.5)


def _vessels_on_plan(
    sheet: Sheet,
    assessment: Seen,
    name: str,
    x: float,
    y: float,
    scale: float,
    tag: dict[str, str],
    badges: Numbers,
    outlines: dict[str, tuple[float, float]],
) -> None:
    rack = assessment.installation.racks[name]
    offsets = rack_offsets(assessment.installation, name)
    for vessel in sorted(assessment.installation.on_rack(name), key=lambda vessel: vessel.tier):
        weight = assessment.vessels[vessel.name]
        upper, dash = vessel.tier > 1, [1.0, 1.5] if vessel.tier > 1 else None
        shift = (weight.length - (vessel.length or vessel.diameter or weight.length)) / 2
        along = (offsets[vessel.name] - shift) * scale
        long, wide = weight.length * scale, weight.width * scale
        aside = (rack.width * scale - wide) / 2
        px, py, w, h = (
            (x + along, y + aside, long, wide) if rack.along == "length" else (x + aside, y + along, wide, long)
        )
        if weight.round:
            sheet.disc(px + w / 2, py + h / 2, w / 2, None if upper else WATER, INK, 0.8, dash)
        else:
            sheet.box(px, py, w, h, None if upper else WATER, INK, 0.8, dash)
        badges.append((px + w / 2, py + h / 2, tag[vessel.name]))
        outlines[vessel.name] = (px + w / 2, py + h / 2)
