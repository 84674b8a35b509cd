"""Where a joist meets its beam: how it sits, and the tie, nails or screws that hold it."""

from __future__ import annotations

import math
from dataclasses import dataclass

from brimfast.assess.parts import Member
from brimfast.assess.pipeline import Assessment
from brimfast.data_tables.loader import factor_si
from brimfast.reports.drawings.facts import facts
from brimfast.reports.drawings.joint_parts import HIGH, TABLE
from brimfast.reports.drawings.scale_bar import scale_bar
from brimfast.reports.drawings.sheet import SMALL, TEXT, Sheet
from brimfast.reports.pdf_style import INK, LINE, PAPER, QUIET, WOOD
from brimfast.shared.installation.joint import Fasteners
from brimfast.shared.units import System, show

# isort: split
from reportlab.graphics.shapes import Drawing
from reportlab.lib.colors import white

JOIST = "joist to beam"
ROWS = 6  # nails in one row of a tie's leg, before there is another
BETWEEN_ROWS = 3.5  # nail diameters
TOE = (
    math.radians(30),
    1 / 3,
)  # to the joist's axis, and of the nail's length from its end: NDS 2018 12.1.5.7, from memory
Point = tuple[float, float]


@dataclass(frozen=True)
class _Seat:
    """Sizes (m) with the beam's lower edge at 0, from the beam's outer face inward."""

    beam: Member
    joist: Member
    deck: float
    on_top: bool

    @property
    def joist_low(self) -> float:
        return self.beam.width if self.on_top else self.beam.width - self.joist.width

    @property
    def joist_top(self) -> float:
        return self.joist_low + self.joist.width

    @property
    def joist_end(self) -> float:
        return 0.0 if self.on_top else self.beam.thickness

    @property
    def lowest(self) -> float:
        return min(0.0, self.joist_low)


@dataclass(frozen=True)
class _View:
    """Where a view stands on the sheet, and its scale (points for a metre)."""

    sheet: Sheet
    x: float
    y: float
    scale: float

    def at(self, x: float, y: float) -> Point:
        return self.x + x * self.scale, self.y + y * self.scale

    def wood(self, x: float, y: float, across: float, up: float) -> None:
        self.sheet.box(*self.at(x, y), across * self.scale, up * self.scale, WOOD)

    def steel(self, x: float, y: float, across: float, up: float) -> None:
        """A leg of a tie, seen flat or from its edge."""
        wide, high = (max(side * self.scale, 1.4) for side in (across, up))
        self.sheet.box(*self.at(x, y), wide, high, PAPER if min(wide, high) > 2 else INK, INK, 0.9)

    def head(self, x: float, y: float, diameter: float) -> None:
        """A nail or screw seen from its head."""
        cx, cy = self.at(x, y)
        self.sheet.disc(cx, cy, max(diameter * self.scale / 2, 1.2), white, INK, 0.8)
        self.sheet.take(cx - 2, cy - 2, cx + 2, cy + 2)

    def shank(self, x1: float, y1: float, x2: float, y2: float, diameter: float) -> None:
        self.sheet.line(*self.at(x1, y1), *self.at(x2, y2), INK, max(diameter * self.scale, 0.9))


def joist_detail(assessment: Assessment, rack: str, system: System, width: float) -> Drawing:
    """Two views: along the beam, and along the joist from the rack's inside."""
    found, parts = assessment.installation.racks[rack], assessment.resolved.racks[rack]
    joint = assessment.installation.joints_of(rack).get(JOIST)
    held = joint.fasteners if joint is not None else None
    seat = _Seat(parts.beam, parts.joist, parts.deck_thickness, found.joist.seat == "on beams")
    sheet = Sheet(width, HIGH)
    tall = seat.joist_top + seat.deck - seat.lowest
    stub = 1.5 * parts.joist.width + parts.beam.thickness  # of the joist, in the first view
    face = max(6 * parts.joist.thickness, parts.joist.width)  # of the beam, in the second
    room = width - TABLE - 96
    scale = min((HIGH - 66) / tall, room / (stub + face))
    y = 36.0 - seat.lowest * scale
    first = _View(sheet, 42.0, y, scale)
    second = _View(sheet, 42.0 + stub * scale + 44, y, scale)
    _along_beam(first, seat, stub)
    _along_joist(second, seat, face)
    if held is not None and held.kind == "framing tie" and held.nails is not None and held.nail is not None:
        _tie(first, second, seat, face, held, held.nails, held.nail)
    elif held is not None:
        _direct(first, second, seat, face, held)
    _sizes(first, seat, system)
    low = 36.0 - 12
    sheet.put("seen along the beam", [(first.x, low, "start")], SMALL)
    sheet.put("seen along the joist, from inside", [(second.x, low, "start")], SMALL)
    sheet.put(_heading(held, system), [(8, HIGH - 12, "start")], TEXT, INK, True)
    facts(sheet, width - TABLE, HIGH - 26, _rows(seat, found.joist.spacing, held, system), _notes(seat, held))
    scale_bar(sheet, 8, 8, scale, system)
    return sheet.drawing()


def _along_beam(view: _View, seat: _Seat, stub: float) -> None:
    """The beam cut across, the joist from its side; the joist's far end goes on."""
    view.wood(0.0, 0.0, seat.beam.thickness, seat.beam.width)
    view.wood(seat.joist_end, seat.joist_low, stub - seat.joist_end, seat.joist.width)
    _deck(view, 0.0, seat, stub)
    x, low = view.at(stub, seat.joist_low)
    high = seat.joist.width * view.scale
    view.sheet.lines(
        [
            (x, low - 3),
            (x, low + 0.4 * high),
            (x - 3, low + 0.5 * high),
            (x + 3, low + 0.5 * high),
            (x, low + 0.6 * high),
            (x, low + high + 3),
        ],
        QUIET,
        0.7,
    )


def _along_joist(view: _View, seat: _Seat, face: float) -> None:
    """The beam's inner face, the joist cut across in front of it."""
    view.wood(0.0, 0.0, face, seat.beam.width)
    x, t = face / 2 - seat.joist.thickness / 2, seat.joist.thickness
    view.wood(x, seat.joist_low, t, seat.joist.width)
    view.sheet.hatched(*view.at(x, seat.joist_low), t * view.scale, seat.joist.width * view.scale, 5.0, QUIET)
    _deck(view, 0.0, seat, face)


def _deck(view: _View, x: float, seat: _Seat, across: float) -> None:
    view.sheet.box(*view.at(x, seat.joist_top), across * view.scale, seat.deck * view.scale, PAPER, QUIET, 0.6)


def _legs(seat: _Seat) -> tuple[tuple[float, float], tuple[float, float]]:
    """Lower and upper end of a tie's leg on the joist and of that on the beam (m)."""
    if seat.on_top:
        top = seat.beam.width
        return (top, top + 0.75 * seat.joist.width), (top - min(0.6 * top, 0.75 * seat.joist.width), top)
    leg = max(seat.joist_low, 0.0) + 0.08 * seat.joist.width, seat.joist_top - 0.12 * seat.joist.width
    return leg, leg


def _spread(count: int, leg: tuple[float, float], side: float, diameter: float) -> tuple[list[Point], float]:
    """Nails over a leg that begins at x = 0: their places, and how wide the leg is."""
    rows = -(-count // ROWS)
    apart = BETWEEN_ROWS * diameter
    wide = max(side, (rows + 1) * apart)
    places = []
    for row in range(rows):
        mine = count // rows + (row < count % rows)
        x = wide / 2 + (row - (rows - 1) / 2) * apart
        step = (leg[1] - leg[0]) / mine
        places += [(x, leg[0] + (number + 0.5) * step) for number in range(mine)]
    return places, wide


def _tie(
    first: _View,
    second: _View,
    seat: _Seat,
    face: float,
    held: Fasteners,
    nails: tuple[int, int],
    nail: tuple[float, float],
) -> None:
    """One leg on the joist's side, the other on the beam's inner face; a second tie on the joist's other side."""
    diameter, length = nail
    steel, side = held.steel or factor_si("tie_steel_thickness"), held.steel_width or factor_si("tie_steel_width")
    on_joist, on_beam = _legs(seat)
    inner, t = seat.beam.thickness, seat.joist.thickness
    mine, wide = _spread(nails[0], on_joist, side, diameter)
    first.steel(inner, on_joist[0], wide, on_joist[1] - on_joist[0])
    for x, y in mine:
        first.head(inner + x, y, diameter)
    first.steel(inner, on_beam[0], steel, on_beam[1] - on_beam[0])
    theirs, broad = _spread(nails[1], on_beam, side, diameter)
    for _, y in theirs:
        first.shank(inner + steel, y, inner + steel - length, y, diameter)
    for hand in (1, -1)[: min(held.count, 2)]:
        edge = face / 2 + hand * t / 2
        second.steel(edge if hand > 0 else edge - steel, on_joist[0], steel, on_joist[1] - on_joist[0])
        for _, y in mine:
            second.shank(edge + hand * steel, y, edge + hand * (steel - length), y, diameter)
        start = edge if hand > 0 else edge - broad
        second.steel(start, on_beam[0], broad, on_beam[1] - on_beam[0])
        for x, y in theirs:
            second.head(start + x, y, diameter)


def _direct(first: _View, second: _View, seat: _Seat, face: float, held: Fasteners) -> None:
    """Nails or screws through one wood into the other, spread evenly; nothing where only a maker's value is given."""
    diameter, length = held.nail if held.nail is not None else (held.diameter, held.length)
    if diameter is None or length is None:
        return
    count, t, middle = held.count, seat.joist.thickness, face / 2
    across = [middle - t / 2 + t * (number + 0.5) / count for number in range(count)]
    if held.toe_nailed:
        angle, share = TOE
        x, y = seat.joist_end + (0.0 if not seat.on_top else seat.beam.thickness / 2), seat.joist_low
        run, fall = length * math.cos(angle), length * math.sin(angle)
        if seat.on_top:
            first.shank(x, y + share * length, x, y - (1 - share) * length, diameter)
            for hand in (1, -1)[: min(count, 2)]:
                edge = middle + hand * t / 2
                second.shank(edge, y + share * run, edge - hand * fall, y + share * run - run, diameter)
        else:
            low = y + 0.3 * seat.joist.width
            first.shank(x + share * length, low, x + share * length - run, low, diameter)
            for hand in (1, -1)[: min(count, 2)]:
                second.head(middle + hand * t / 2, low, diameter)
    elif seat.on_top:
        x = seat.beam.thickness / 2
        first.shank(x, seat.joist_top, x, seat.joist_top - length, diameter)
        for at in across:
            second.shank(at, seat.joist_top, at, seat.joist_top - length, diameter)
    else:
        step = seat.joist.width / count
        for number in range(count):
            y = seat.joist_low + (number + 0.5) * step
            first.shank(0.0, y, length, y, diameter)
            second.head(middle, y, diameter)


def _sizes(view: _View, seat: _Seat, system: System) -> None:
    """Depths of beam and joist to the left, the beam's thickness below it."""
    sheet, left = view.sheet, view.x - 8
    (_, low), (right, high) = view.at(0.0, 0.0), view.at(seat.beam.thickness, seat.beam.width)
    sheet.upright(left, low, high, show(seat.beam.width, "length", system), SMALL)
    if seat.on_top:
        top = view.at(0.0, seat.joist_top)[1]
        sheet.upright(left, high, top, show(seat.joist.width, "length", system), SMALL)
    sheet.line(right, low, right, low - 3, LINE, 0.4)


def _heading(held: Fasteners | None, system: System) -> str:
    if held is None:
        return "held by what the file does not say"
    plural = "" if held.count == 1 else "s"
    if held.nails is not None:
        return f"{held.count} framing tie{plural} at each end, {held.nails[0]} + {held.nails[1]} nails"
    diameter, length = held.nail if held.nail is not None else (held.diameter, held.length)
    if diameter is None or length is None:
        return f"{held.count} {held.kind}{plural} at each end, by its maker's value"
    size = f"{show(diameter, 'length', system)} × {show(length, 'length', system)}"
    toe = ", toe-nailed" if held.toe_nailed else ""
    return f"{held.count} {held.kind}{plural}, {size}, at each end{toe}"


def _rows(seat: _Seat, spacing: float, held: Fasteners | None, system: System) -> list[tuple[str, str]]:
    def said(size: float) -> str:
        return show(size, "length", system)

    rows = [
        (f"joist {seat.joist.size}", f"{said(seat.joist.thickness)} × {said(seat.joist.width)}"),
        (f"beam {seat.beam.size}", f"{said(seat.beam.thickness)} × {said(seat.beam.width)}"),
        ("joists, middle to middle", said(spacing)),
        ("seat", f"{said(seat.beam.thickness)} on the beam" if seat.on_top else "none: it hangs"),
    ]
    if held is None or held.nails is None or held.nail is None:
        return rows
    steel = held.steel or factor_si("tie_steel_thickness")
    return [
        *rows,
        ("nails of each tie into the joist", str(held.nails[0])),
        ("nails of each tie into the beam", str(held.nails[1])),
        ("each nail", " × ".join(said(size) for size in held.nail)),
        (f"steel{'' if held.steel else ' (taken: not in the file)'}", said(steel)),
    ]


def _notes(seat: _Seat, held: Fasteners | None) -> list[str]:
    notes = []
    if held is None:
        notes.append(
            "Nothing is drawn that would hold it: find out, and write it into the file (joints: joist to beam)."
        )
    elif held.nails is not None:
        notes.append(
            "Nails to scale, evenly over their legs: the holes are where the tie's maker has them. Every hole gets its nail."
        )
    elif held.diameter is not None or held.nail is not None:
        notes.append("Spread evenly: the file does not say where each stands.")
        if held.toe_nailed:
            notes.append(
                f"Toe-nails: {math.degrees(TOE[0]):.0f}° to the wood, begun a third of their length from its end."
            )
    if not seat.on_top:
        notes.append("Between the beams a joist bears on nothing: what holds it carries all.")
    return notes
