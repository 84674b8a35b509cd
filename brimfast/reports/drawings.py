"""Elevation and plan to scale, as vector drawings. Numbers in circles point to the key below a drawing."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Literal

from reportlab.graphics.shapes import Circle, Drawing, Line, Polygon, Rect, String
from reportlab.lib.colors import Color

from brimfast.assess.bodies import rack_offsets
from brimfast.assess.pipeline import Assessment
from brimfast.reports.layout import Placed
from brimfast.reports.pdf_style import (
    BOLD,
    FILL,
    INK,
    LINE,
    PAPER,
    QUIET,
    REGULAR,
    VERDICT_COLOURS,
    WATER,
    WOOD,
    drawable,
)
from brimfast.shared.constants import FOOT
from brimfast.shared.installation.rack import ALL_FACES, FACES, Brace, Rack, Rail
from brimfast.shared.installation.vessel import Vessel
from brimfast.shared.units import System, show

GAP = 26.0  # points between things side by side
BADGE = 7.5  # points, radius
LINE_OF_TEXT = 9.0  # points that one label needs above another


@dataclass(frozen=True)
class Keyed:
    """A drawing and what its numbers mean."""

    drawing: Drawing
    key: tuple[tuple[str, str], ...]


def numbers(assessment: Assessment) -> dict[str, str]:
    """One number for each rack and vessel, the same in all drawings."""
    names = [f"rack {name}" for name in assessment.installation.racks]
    names += [vessel.name for vessel in assessment.installation.vessels]
    return {name: str(index) for index, name in enumerate(names, start=1)}


def _paint(
    fill: Color | None, line: Color | None, weight: float, dash: Sequence[float] | None, opacity: float
) -> dict[str, Any]:
    found: dict[str, Any] = {"fillColor": fill, "strokeColor": line, "strokeWidth": weight}
    if dash is not None:
        found["strokeDashArray"] = list(dash)
    if opacity < 1:
        found["fillOpacity"] = opacity
    return found


def _box(
    drawing: Drawing,
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
    drawing.add(Rect(x, y, width, height, **_paint(fill, line, weight, dash, opacity)))


def _disc(
    drawing: Drawing,
    x: float,
    y: float,
    radius: float,
    fill: Color | None = None,
    line: Color | None = INK,
    weight: float = 0.8,
    dash: Sequence[float] | None = None,
) -> None:
    drawing.add(Circle(x, y, radius, **_paint(fill, line, weight, dash, 1.0)))


def _line(
    drawing: Drawing, x1: float, y1: float, x2: float, y2: float, weight: float, dash: Sequence[float] | None
) -> None:
    """A timber on edge: wood with a thin outline; dashed where it stands behind."""
    if dash is None:
        drawing.add(Line(x1, y1, x2, y2, strokeColor=INK, strokeWidth=weight + 1.2))
        drawing.add(Line(x1, y1, x2, y2, strokeColor=WOOD, strokeWidth=weight))
    else:
        drawing.add(Line(x1, y1, x2, y2, strokeColor=QUIET, strokeWidth=1, strokeDashArray=list(dash)))


def _badge(drawing: Drawing, x: float, y: float, text: str, dark: bool = False) -> None:
    _disc(drawing, x, y, BADGE, fill=INK if dark else PAPER)
    colour = PAPER if dark else INK
    drawing.add(String(x, y - 2.9, text, fontName=BOLD, fontSize=8, textAnchor="middle", fillColor=colour))


def _label(
    drawing: Drawing,
    x: float,
    y: float,
    text: str,
    anchor: Literal["start", "middle", "end"] = "middle",
    size: float = 7.5,
) -> None:
    drawing.add(String(x, y, drawable(text), fontName=REGULAR, fontSize=size, textAnchor=anchor, fillColor=QUIET))


def _dimension(drawing: Drawing, x1: float, x2: float, y: float, text: str) -> None:
    """A dimension line with end ticks, its text in the middle above it."""
    for x in (x1, x2):
        drawing.add(Line(x, y - 3, x, y + 3, strokeColor=QUIET, strokeWidth=0.6))
    drawing.add(Line(x1, y, x2, y, strokeColor=QUIET, strokeWidth=0.6))
    _label(drawing, (x1 + x2) / 2, y + 2.5, text)


def _upright(drawing: Drawing, x: float, y1: float, y2: float, text: str) -> None:
    for y in (y1, y2):
        drawing.add(Line(x - 3, y, x + 3, y, strokeColor=QUIET, strokeWidth=0.6))
    drawing.add(Line(x, y1, x, y2, strokeColor=QUIET, strokeWidth=0.6))
    _label(drawing, x - 4, (y1 + y2) / 2 - 2.5, text, "end")


def _heights(drawing: Drawing, x: float, ground: float, scale: float, heights: Sequence[float], system: System) -> None:
    """Heights above the floor beside one line, a tick at each; those that come first keep their text where it is tight."""
    drawing.add(Line(x, ground, x, ground + max(heights) * scale, strokeColor=QUIET, strokeWidth=0.6))
    said = [0.0]
    for height in (0.0, *heights):
        y = height * scale
        drawing.add(Line(x - 3, ground + y, x + 3, ground + y, strokeColor=QUIET, strokeWidth=0.6))
        if all(abs(y - other) >= LINE_OF_TEXT for other in said):
            said.append(y)
            _label(drawing, x - 5, ground + y - 2.5, show(height, "length", system), "end")


def _scale_bar(drawing: Drawing, x: float, y: float, scale: float, system: System) -> None:
    """A bar of a round length."""
    length, text = (2 * FOOT, "2 ft") if system == "us" else (0.5, "0.5 m")
    if length * scale < 20:
        length, text = (10 * FOOT, "10 ft") if system == "us" else (2.0, "2 m")
    _box(drawing, x, y, length * scale / 2, 3, fill=INK, line=INK, weight=0.5)
    _box(drawing, x + length * scale / 2, y, length * scale / 2, 3, fill=PAPER, line=INK, weight=0.5)
    _label(drawing, x + length * scale + 4, y - 1, text, "start")


def _vessel_side(
    drawing: Drawing,
    assessment: Assessment,
    vessel: Vessel,
    x: float,
    y: float,
    scale: float,
    number: str,
    room: float = math.inf,
) -> None:
    """A vessel from the side with its corner at (x, y); room is free above that (points), its number goes in or beneath it."""
    weight = assessment.vessels[vessel.name]
    width = weight.length * scale
    if vessel.weighed:
        height = _vessel_height(assessment, vessel) * scale
        _box(drawing, x, y, width, height, fill=PAPER, line=INK, dash=[3, 2])
        _disc(drawing, x + width / 2, y + weight.height * scale, 2, fill=INK, line=INK)
        _badge(drawing, x + width / 2, _badge_height(y, height, room), number)
        return
    assert vessel.depth is not None and vessel.water is not None
    place = _badge_height(y, (vessel.raised + vessel.depth) * scale, room)
    parts = assessment.resolved.vessels[vessel.name]
    wall = max(parts.wall_thickness * scale, 1.0)
    if vessel.stand is not None:
        lift = vessel.raised * scale
        _box(drawing, x, y, width, lift, fill=WOOD)
        y += lift
    height = vessel.depth * scale
    inside = width - 2 * wall
    if vessel.fill is not None:
        _box(drawing, x + wall, y, inside, vessel.filled * scale, fill=FILL, line=None)
    level = vessel.water * scale
    _box(drawing, x + wall, y, inside, level, fill=WATER, opacity=0.55, line=None)
    drawing.add(
        Line(
            x + wall, y + level, x + wall + inside, y + level, strokeColor=INK, strokeWidth=0.5, strokeDashArray=[4, 2]
        )
    )
    shell = WOOD if vessel.kind == "bed" else PAPER
    for left in (x, x + width - wall):
        _box(drawing, left, y, wall, height, fill=shell, line=INK, weight=0.8)
    drawing.add(Line(x, y, x + width, y, strokeColor=INK, strokeWidth=1))
    _badge(drawing, x + width / 2, place, number)


def _badge_height(y: float, height: float, room: float) -> float:
    """Over a thing that stands at y, or on it where something else is close above."""
    return y + height + 11 if room >= height + 11 + BADGE else y + max(height / 2, min(BADGE, room - BADGE))


@dataclass(frozen=True)
class _Front:
    """What is drawn from the front: a rack with its vessels or a floor vessel, its size in m."""

    name: str
    is_rack: bool
    length: float
    height: float

    def points(self, scale: float) -> float:
        """Room it needs along the row, its labels with it."""
        return max(self.length * scale, 44.0) + (62.0 if self.is_rack else GAP)


LEFT, BELOW, ABOVE = 54.0, 36.0, 26.0


def elevation(assessment: Assessment, system: System, width: float, most_height: float) -> Keyed:
    """Racks, then floor vessels from the front, in as many rows as they need, all at one scale."""
    tag, drawn = numbers(assessment), _drawn_racks(assessment)
    things = [
        _Front(name, True, rack.length, _rack_height(assessment, name))
        for name, rack in assessment.installation.racks.items()
        if name in drawn
    ]
    things += [
        _Front(vessel.name, False, assessment.vessels[vessel.name].length, _vessel_height(assessment, vessel))
        for vessel in _drawn_floor(assessment)
    ]
    room_for = width - LEFT - 16
    scale = min((room_for - 60) / thing.length for thing in things)
    rows = _rows(things, scale, room_for)
    while _height(rows, scale) > most_height and scale > 2.0:
        scale *= 0.93
        rows = _rows(things, scale, room_for)
    drawing = Drawing(width, _height(rows, scale))
    ground = drawing.height
    for row in rows:
        ground -= ABOVE + max(thing.height for thing in row) * scale
        _ground_line(drawing, ground, width)
        x = LEFT
        for thing in row:
            if thing.is_rack:
                _rack_side(drawing, assessment, thing.name, x, ground, scale, tag, system)
            else:
                vessel = assessment.installation.vessel(thing.name)
                _vessel_side(drawing, assessment, vessel, x, ground, scale, tag[thing.name])
                _dimension(drawing, x, x + thing.length * scale, ground - 15, show(thing.length, "distance", system))
            x += thing.points(scale)
        ground -= BELOW
    _scale_bar(drawing, LEFT, 6, scale, system)
    return Keyed(drawing, _key(assessment, tag, system))


MOST_DRAWN, MOST_RACKS = 14, 4


def _drawn_floor(assessment: Assessment) -> list[Vessel]:
    """The floor vessels that the elevation shows: all, or the heaviest where there are many."""
    floor = assessment.installation.on_floor()
    if len(floor) <= MOST_DRAWN:
        return floor
    heaviest = sorted(floor, key=lambda vessel: -assessment.vessels[vessel.name].mass)[:MOST_DRAWN]
    return [vessel for vessel in floor if vessel in heaviest]


def _drawn_racks(assessment: Assessment) -> list[str]:
    """The racks that the elevation shows: all, or the heaviest where there are many."""
    bodies = sorted((body for body in assessment.bodies if body.kind == "rack"), key=lambda body: -body.mass)
    return [body.name.removeprefix("rack ") for body in bodies[:MOST_RACKS]]


def not_drawn(assessment: Assessment) -> int:
    """How many racks and floor vessels the elevation leaves out."""
    racks = len(assessment.installation.racks) - len(_drawn_racks(assessment))
    return racks + len(assessment.installation.on_floor()) - len(_drawn_floor(assessment))


def _rows(things: list[_Front], scale: float, room_for: float) -> list[list[_Front]]:
    """Racks and vessels in rows of their own, each row as full as it gets."""
    rows: list[list[_Front]] = []
    used = 0.0
    for thing in things:
        needs = thing.points(scale)
        if not rows or used + needs - GAP > room_for or rows[-1][-1].is_rack != thing.is_rack:
            rows.append([])
            used = 0.0
        rows[-1].append(thing)
        used += needs
    return rows


def _height(rows: list[list[_Front]], scale: float) -> float:
    return 24 + sum(BELOW + ABOVE + max(thing.height for thing in row) * scale for row in rows)


def _ground_line(drawing: Drawing, ground: float, width: float) -> None:
    drawing.add(Line(8, ground, width - 8, ground, strokeColor=INK, strokeWidth=1.2))
    for hatch in range(12, int(width) - 8, 12):
        drawing.add(Line(hatch, ground, hatch - 5, ground - 5, strokeColor=LINE, strokeWidth=0.6))


def _vessel_height(assessment: Assessment, vessel: Vessel) -> float:
    if vessel.depth is None:
        return 1.6 * assessment.vessels[vessel.name].height
    return vessel.depth + vessel.raised


def _rack_height(assessment: Assessment, name: str) -> float:
    rack = assessment.installation.racks[name]
    on_it = [
        rack.decks[vessel.tier - 1] + _vessel_height(assessment, vessel)
        for vessel in assessment.installation.on_rack(name)
    ]
    return max([rack.top, *on_it])


def _rack_side(
    drawing: Drawing,
    assessment: Assessment,
    name: str,
    x: float,
    ground: float,
    scale: float,
    tag: dict[str, str],
    system: System,
) -> None:
    rack, weight = assessment.installation.racks[name], assessment.racks[name]
    parts = assessment.resolved.racks[name]
    post_width = max(parts.post.width * scale, 2.0)
    bay = rack.bay_length * scale
    length = rack.length * scale
    for panel in rack.panels:
        if panel.face in FACES["along"]:
            at = x + (panel.bay - 1) * bay
            dash = None if panel.face == "front" else [5, 3]
            fill = WOOD if panel.face == "front" else None
            foot, top = weight.face(panel.storey)
            _box(drawing, at, ground + foot * scale, bay, (top - foot) * scale, fill=fill, dash=dash, opacity=0.6)
    for brace, timber in zip(rack.braces, parts.braces, strict=True):
        if brace.face in FACES["along"]:
            foot, top = (ground + height * scale for height in weight.storey(brace.storey))
            _brace_side(drawing, brace, x + (brace.bay - 1) * bay, bay, foot, top, scale, timber.width * scale)
    for rail, timber in zip(rack.rails, parts.rails, strict=True):
        _rail_side(drawing, rail, x, ground + rail.height * scale, length, timber.width * scale)
    for post in range(rack.bays + 1):
        left = x + post * bay - post_width / 2
        _box(drawing, left, ground, post_width, weight.post_top * scale, fill=WOOD, line=INK, weight=0.8)
        if rack.feet.anchored:
            foot = x + post * bay
            drawing.add(Polygon([foot - 5, ground, foot + 5, ground, foot, ground - 6], fillColor=INK, strokeColor=INK))
    for tier in range(1, len(rack.decks) + 1):
        _tier_side(drawing, assessment, name, tier, x, ground, scale)
    for vessel in assessment.installation.on_rack(name):
        _vessel_on_rack(drawing, assessment, vessel, x, ground, scale, tag[vessel.name])
    worst = weight.beam_centres[assessment.gravity[name].worst_tier - 1]
    _joint_marks(drawing, assessment, name, x, bay, ground + worst * scale)
    beam_foot = weight.beam_top - parts.beam.width
    middle = x + (rack.bays // 2 + 0.5) * bay  # of a bay: a middle post may have its mark
    _badge(drawing, middle, ground + beam_foot * scale / 2, tag[f"rack {name}"])
    aside = x - post_width / 2 - 9
    if rack.top == rack.deck_height:
        _upright(drawing, aside, ground, ground + rack.deck_height * scale, show(rack.deck_height, "length", system))
    else:
        rails = sorted((rail.height for rail in rack.rails), reverse=True)
        _heights(drawing, aside, ground, scale, (*rack.decks, *rails), system)
    _dimension(drawing, x, x + bay, ground - 15, show(rack.bay_length, "distance", system))
    if rack.bays > 1:
        _dimension(drawing, x, x + length, ground - 29, show(rack.length, "distance", system))


def _brace_side(
    drawing: Drawing, brace: Brace, x: float, bay: float, foot: float, top: float, scale: float, width: float
) -> None:
    """A diagonal, two crossed, or two knees, in the bay that begins at x and between two heights."""
    dash = None if brace.face == "front" else [5, 3]
    thick = max(width * 0.6, 1.5)
    if brace.leg is not None:
        leg = brace.leg * scale
        _line(drawing, x, top - leg, x + leg, top, thick, dash)
        _line(drawing, x + bay, top - leg, x + bay - leg, top, thick, dash)
        return
    _line(drawing, x, foot, x + bay, top, thick, dash)
    if brace.kind == "x":
        _line(drawing, x, top, x + bay, foot, thick, dash)


def _rail_side(drawing: Drawing, rail: Rail, x: float, top: float, length: float, width: float) -> None:
    """A rail of the front or back in its length, one of an end as a piece beside its post; dashed at the back."""
    if "front" in rail.faces:
        _box(drawing, x, top - width, length, width, fill=WOOD, opacity=0.8, line=INK, weight=0.8)
    elif rail.face == "back":
        _box(drawing, x, top - width, length, width, fill=None, line=QUIET, weight=0.8, dash=[5, 3])
    else:
        at = x if rail.face == "left" else x + length - 4
        _box(drawing, at, top - width, 4, width, fill=WOOD, line=INK, weight=0.8)


def _tier_side(
    drawing: Drawing, assessment: Assessment, name: str, tier: int, x: float, ground: float, scale: float
) -> None:
    """Beams, joists where they lie on the beams, and deck of one tier."""
    rack, weight = assessment.installation.racks[name], assessment.racks[name]
    parts = assessment.resolved.racks[name]
    bay, length = rack.bay_length * scale, rack.length * scale
    deck_top = ground + rack.decks[tier - 1] * scale
    deck = max(parts.deck_thickness * scale, 1.2)
    beam = parts.beam.width * scale
    beam_top = ground + weight.beam_tops[tier - 1] * scale
    ends = [(x + post * bay, bay) for post in range(rack.bays)] if rack.beam_runs == "each bay" else [(x, length)]
    for start, run in ends:
        _box(drawing, start, beam_top - beam, run, beam, fill=WOOD, opacity=0.8, line=INK, weight=0.8)
    if rack.joist.seat == "on beams":
        joist = parts.joist.width * scale
        for index in range(weight.joist_count):
            at = min(index * rack.joist.spacing, rack.length) * scale
            _box(drawing, x + at - 1, deck_top - deck - joist, 2, joist, fill=WOOD, line=INK, weight=0.4)
    _box(drawing, x, deck_top - deck, length, deck, fill=WOOD, line=INK, weight=0.8)


def _vessel_on_rack(
    drawing: Drawing, assessment: Assessment, vessel: Vessel, x: float, ground: float, scale: float, number: str
) -> None:
    name = vessel.on
    rack, weight, parts = assessment.installation.racks[name], assessment.racks[name], assessment.resolved.racks[name]
    shift = assessment.resolved.vessels[vessel.name].wall_thickness if not vessel.weighed else 0.0
    at = x + (rack_offsets(assessment.installation, name)[vessel.name] - shift) * scale
    deck = rack.decks[vessel.tier - 1]
    above = [top - parts.beam.width for top in weight.beam_tops]
    above += [rail.height - timber.width for rail, timber in zip(rack.rails, parts.rails, strict=True)]
    room = min((height - deck for height in above if height > deck), default=math.inf)
    _vessel_side(drawing, assessment, vessel, at, ground + deck * scale, scale, number, room * scale)


def _joint_marks(drawing: Drawing, assessment: Assessment, name: str, x: float, bay: float, y: float) -> None:
    """A cross in a diamond at the beam-to-post joint that is worst, where it is short."""
    subject = f"rack {name}, beam to post"
    if not any(finding.subject == subject and finding.verdict == "short" for finding in assessment.findings):
        return
    at = x + (assessment.gravity[name].joint_worst_post - 1) * bay
    red = VERDICT_COLOURS["short"]
    drawing.add(
        Polygon([at - 8, y, at, y + 8, at + 8, y, at, y - 8], fillColor=PAPER, strokeColor=red, strokeWidth=1.4)
    )
    drawing.add(String(at, y - 3.2, "✗", fontName=BOLD, fontSize=9, textAnchor="middle", fillColor=red))


def _key(assessment: Assessment, tag: dict[str, str], system: System) -> tuple[tuple[str, str], ...]:
    rows = []
    for name, number in tag.items():
        if name.startswith("rack ") and name.removeprefix("rack ") in assessment.racks:
            body = next(body for body in assessment.bodies if body.name == name and body.kind == "rack")
            rows.append((number, f"{name}, with what it carries {show(body.mass, 'mass', system)}"))
        else:
            tier = assessment.installation.vessel(name).tier
            said = f", tier {tier}" if tier > 1 else ""
            rows.append((number, f"{name}{said}, {show(assessment.vessels[name].mass, 'mass', system)}"))
    return tuple(rows)


def plan(assessment: Assessment, placed: list[Placed], system: System, width: float, most_height: float) -> Drawing:
    """The room from above, with what has a place in it and its drains."""
    room = assessment.installation.room
    tag = numbers(assessment)
    left, below, above, right = 46.0, 40.0, 10.0, 20.0
    scale = min((width - left - right) / room.length, (most_height - below - above) / room.width)
    height = below + above + room.width * scale
    drawing = Drawing(width, height)
    x0, y0 = left, below
    _box(drawing, x0, y0, room.length * scale, room.width * scale, fill=None, line=INK, weight=2)
    badges: list[tuple[float, float, str]] = []  # drawn last, over everything
    for item in placed:
        _in_plan(drawing, assessment, item, x0, y0, scale, tag, badges)
    unplaced = [drain for drain in room.drains if drain.at is None]
    for drain in room.drains:
        dx, dy = drain.at or (room.length - 0.5 - 0.7 * unplaced.index(drain), room.width - 0.5)
        x, y = x0 + dx * scale, y0 + dy * scale
        _disc(drawing, x, y, 6, fill=PAPER, weight=1, dash=None if drain.at else [2, 1.5])
        for offset in (-3, 0, 3):
            drawing.add(Line(x - 4, y + offset, x + 4, y + offset, strokeColor=INK, strokeWidth=0.6))
    for x, y, text in _apart(badges, x0 + room.length * scale, y0 + room.width * scale):
        _badge(drawing, x, y, text)
    _dimension(drawing, x0, x0 + room.length * scale, y0 - 13, show(room.length, "distance", system))
    _upright(drawing, x0 - 9, y0, y0 + room.width * scale, show(room.width, "distance", system))
    _scale_bar(drawing, x0, 6, scale, system)
    return drawing


def _apart(badges: list[tuple[float, float, str]], right: float, top: float) -> list[tuple[float, float, str]]:
    """Numbers moved as little as it takes so that none covers another and none leaves the drawing."""
    step = 2 * BADGE + 1
    ways = sorted(
        ((across * step, up * step) for across in range(-4, 5) for up in range(-4, 5)), key=lambda way: math.hypot(*way)
    )
    placed: list[tuple[float, float, str]] = []
    for x, y, text in badges:
        spots = ((x + dx, y + dy) for dx, dy in ways)
        free = (
            spot
            for spot in spots
            if (spot == (x, y) or (BADGE < spot[0] < right and BADGE < spot[1] < top))
            and all(math.dist(spot, other[:2]) >= 2 * BADGE for other in placed)
        )
        placed.append((*next(free, (x, y)), text))
    return placed


def _in_plan(
    drawing: Drawing,
    assessment: Assessment,
    item: Placed,
    x0: float,
    y0: float,
    scale: float,
    tag: dict[str, str],
    badges: list[tuple[float, float, str]],
) -> None:
    x, y = x0 + item.x * scale, y0 + item.y * scale
    length, width = item.length * scale, item.width * scale
    dash = None if item.given else [3, 2]
    if item.kind == "rack":
        name = item.name.removeprefix("rack ")
        rack = assessment.installation.racks[name]
        _box(drawing, x, y, length, width, fill=WOOD, line=INK, weight=1, dash=dash)
        _vessels_on_plan(drawing, assessment, name, x, y, scale, tag, badges)
        _rails_on_plan(drawing, rack, x, y, length, width)
        post = max(assessment.resolved.racks[name].post.width * scale, 3)
        for index in range(rack.bays + 1):
            for side in (0, 1):
                along = index / rack.bays
                px, py = (along * length, side * width) if rack.along == "length" else (side * length, along * width)
                px = min(max(px - post / 2, 0), length - post)
                py = min(max(py - post / 2, 0), width - post)
                _box(drawing, x + px, y + py, post, post, fill=INK, line=INK)
        _stiff_faces(drawing, rack, x, y, length, width)
        badges.append((x + length + 9, y + width + 3, tag[item.name]))
        return
    if item.round:
        _disc(drawing, x + length / 2, y + length / 2, length / 2, fill=WATER, line=INK, dash=dash)
    else:
        _box(drawing, x, y, length, width, fill=WATER, line=INK, weight=1, dash=dash)
    badges.append((x + length / 2, y + width / 2, tag[item.name]))


def _stiff_faces(drawing: Drawing, rack: Rack, x: float, y: float, length: float, width: float) -> None:
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
        drawing.add(Line(x + a, y + b, x + c, y + d, strokeColor=INK, strokeWidth=2.6))


def _rails_on_plan(drawing: Drawing, rack: Rack, x: float, y: float, length: float, width: float) -> None:
    """A thin double line along each face that has a rail, between the posts that are drawn over it."""
    for face in ALL_FACES:
        if not any(face in rail.faces for rail in rack.rails):
            continue
        along = (face in FACES["along"]) == (rack.along == "length")
        far = face in ("back", "right")
        if along:
            at = y + width - 3 if far else y
            _box(drawing, x, at, length, 3, fill=PAPER, line=INK, weight=0.5)
        else:
            at = x + length - 3 if far else x
            _box(drawing, at, y, 3, width, fill=PAPER, line=INK, weight=0.5)


def _vessels_on_plan(
    drawing: Drawing,
    assessment: Assessment,
    name: str,
    x: float,
    y: float,
    scale: float,
    tag: dict[str, str],
    badges: list[tuple[float, float, str]],
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
            _disc(drawing, px + w / 2, py + h / 2, w / 2, fill=None if upper else WATER, line=INK, dash=dash)
        else:
            _box(drawing, px, py, w, h, fill=None if upper else WATER, line=INK, weight=0.8, dash=dash)
        badges.append((px + w / 2, py + h / 2, tag[vessel.name]))
