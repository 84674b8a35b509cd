"""A plywood panel over its bay: sheets, their nails, and the wood behind every edge."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from brimfast.assess.measures.panels import APART, FIELD_APART, STUDS, Sheathing, sheathing
from brimfast.assess.pipeline import Assessment
from brimfast.reports.drawings.alike import kinds_of
from brimfast.reports.drawings.facts import facts
from brimfast.reports.drawings.joint_parts import HIGH, TABLE
from brimfast.reports.drawings.scale_bar import scale_bar
from brimfast.reports.drawings.sheet import SMALL, TEXT, Sheet
from brimfast.reports.pdf_style import INK, QUIET, WOOD
from brimfast.shared.constants import INCH
from brimfast.shared.installation.rack import FACES, SheathedPanel
from brimfast.shared.units import System, show

# isort: split
from reportlab.graphics.shapes import Drawing
from reportlab.lib.colors import white

MOST = 4  # panels that are drawn for a rack
FROM_EDGE: dict[System, float] = {
    "us": 3 / 8 * INCH,
    "si": 0.01,
}  # m, of a nail to its sheet's edge: SDPWS 2015 section 4.3.7.1, from memory
DOT = 1.1  # points
Point = tuple[float, float]


@dataclass(frozen=True)
class Alike:
    """Panels of a rack that are built the same: one of them, its foot and top (m), and where they are."""

    panel: SheathedPanel
    foot: float
    top: float
    length: float
    places: tuple[str, ...]

    @property
    def on_beam(self) -> bool:
        """Whether its top edge lies on a beam; at a short end it lies on a rail."""
        return self.panel.face in FACES["along"]

    @property
    def sheets(self) -> Sheathing:
        return sheathing(self.length, self.top - self.foot)


def panels_alike(assessment: Assessment, rack: str) -> list[Alike]:
    """Of each kind one, in the order of the file."""
    found, weight = assessment.installation.racks[rack], assessment.racks[rack]

    def kind(panel: SheathedPanel) -> tuple[float, ...]:
        foot, top = weight.face(panel.storey)
        size = round(found.run(panel.face), 6), round(top - foot, 6), float(panel.storey > 1)
        return (*size, panel.thickness, panel.nail, panel.edge_spacing)

    return [
        Alike(first, *weight.face(first.storey), found.run(first.face), places)
        for first, places in kinds_of(found, found.panels, kind)
    ]


def panel_detail(assessment: Assessment, rack: str, alike: Alike, system: System, width: float) -> Drawing:
    parts, sheets = assessment.resolved.racks[rack], alike.sheets
    post, board = parts.post.width, parts.joist.thickness
    beam = parts.beam.width if alike.on_beam else board
    length, height = alike.length, alike.top - alike.foot
    sheet = Sheet(width, HIGH)
    x0, y0, wide, high = 46.0, 34.0, width - TABLE - 76, HIGH - 78
    scale = min(wide / (length + post), high / height)
    left = x0 + post / 2 * scale

    def at(x: float, y: float) -> Point:
        return left + x * scale, y0 + y * scale

    def wood(x: float, y: float, across: float, up: float) -> None:
        sheet.box(*at(x, y), across * scale, up * scale, WOOD, QUIET, 0.6, (3, 2))

    def behind(x: float, y: float, across: float, up: float) -> None:
        sheet.box(*at(x, y), across * scale, up * scale, None, QUIET, 0.6, (3, 2))

    sides = [(-post / 2, 0.0, post, height), (length - post / 2, 0.0, post, height)]
    for one in sides:
        wood(*one)
    piece_wide, piece_high = sheets.piece
    for column in range(sheets.across):
        for row in range(sheets.up):
            sheet.box(
                *at(column * piece_wide, row * piece_high), piece_wide * scale, piece_high * scale, white, INK, 1.1
            )
    fields = sheets.uprights + 1
    uprights = [length * number / fields for number in range(1, fields)]
    for x in uprights:
        behind(x - board / 2, board, board, height - board - beam)
    levels = [piece_high * number for number in range(1, sheets.up)]
    for y in levels:
        behind(0.0, y - board / 2, length, board)
    behind(0.0, 0.0, length, board)
    behind(0.0, height - beam, length, beam)
    for one in sides:
        behind(*one)
    edges, field = _nails(sheets, alike.panel.edge_spacing, system, uprights)
    for x, y in edges:
        sheet.disc(*at(x, y), DOT, INK, INK, 0.3)
    for x, y in field:
        sheet.disc(*at(x, y), DOT, white, INK, 0.5)
    low, top = y0 - 10, y0 + height * scale + 9
    sheet.across(left, left + length * scale, low, show(length, "length", system), SMALL)
    sheet.upright(left - post / 2 * scale - 9, y0, y0 + height * scale, show(height, "length", system), SMALL)
    first, second = sorted({x for x, y in edges if math.isclose(y, height - FROM_EDGE[system])})[:2]
    apart = show(second - first, "length", system)
    sheet.across(left + first * scale, left + second * scale, top, apart, SMALL)
    sheet.put(_heading(alike, system), [(8, HIGH - 12, "start")], TEXT, INK, True)
    facts(
        sheet, width - TABLE, HIGH - 26, _rows(alike, sheets, len(edges) + len(field), system), _notes(sheets, system)
    )
    scale_bar(sheet, 8, 8, scale, system)
    return sheet.drawing()


def _heading(alike: Alike, system: System) -> str:
    panel = alike.panel
    return f"sheet {show(panel.thickness, 'length', system)} thick, nails {show(panel.nail, 'length', system)} thick"


def _rows(alike: Alike, sheets: Sheathing, nails: int, system: System) -> list[tuple[str, str]]:
    def said(size: float) -> str:
        return show(size, "length", system)

    pieces = sheets.across * sheets.up
    piece = " × ".join(said(side) for side in sheets.piece)
    rows = [
        ("nails along all edges, at most every", said(alike.panel.edge_spacing)),
        ("nails", str(nails)),
        ("sheet of" if pieces == 1 else f"{pieces} sheets of", piece),
        ("wood behind the edges", "posts, beam, bottom rail" if alike.on_beam else "posts, top and bottom rail"),
    ]
    if sheets.uprights:
        rows.insert(1, ("nails into uprights between, at most every", said(FIELD_APART[system])))
        apart = said(sheets.length / (sheets.uprights + 1))
        rows.append((f"uprights, {apart} apart (at most {said(STUDS)})", str(sheets.uprights)))
    if sheets.blocks:
        rows.append(("blocks behind level joints", str(sheets.blocks)))
    return rows


def _notes(sheets: Sheathing, system: System) -> list[str]:
    notes = [
        "Filled: nails of edges; open: between them. Dashed: the wood behind. Nails "
        f"{show(FROM_EDGE[system], 'length', system)} or more from a sheet's edge.",
        "Rails, uprights and blocks are drawn as thick as a joist: the file does not say what is there.",
    ]
    if sheets.joints:
        notes.append(f"Sheets {APART[system]} apart; at a joint both are nailed.")
    return notes


def _spaced(first: float, last: float, most: float) -> list[float]:
    """Places from first to last, evenly, no further apart than most."""
    gaps = max(math.ceil((last - first) / most - 1e-9), 1)
    return [first + (last - first) * number / gaps for number in range(gaps + 1)]


def _nails(
    sheets: Sheathing, edge: float, system: System, uprights: Sequence[float]
) -> tuple[list[Point], list[Point]]:
    """Of all sheets those along edges, and those into uprights between them."""
    (wide, high), inset, field = sheets.piece, FROM_EDGE[system], FIELD_APART[system]
    edges: list[Point] = []
    between: list[Point] = []
    for column in range(sheets.across):
        for row in range(sheets.up):
            x, y = column * wide, row * high
            left, right, low, top = x + inset, x + wide - inset, y + inset, y + high - inset
            along, up = _spaced(left, right, edge), _spaced(low, top, edge)
            edges += _unlike(
                [*((at, one) for at in along for one in (low, top)), *((one, at) for at in up for one in (left, right))]
            )
            inner = [one for one in uprights if x + inset < one < x + wide - inset and not math.isclose(one, x + wide)]
            between += [(one, at) for one in inner for at in _spaced(low, top, field)[1:-1]]
    return edges, between


def _unlike(points: Iterable[Point]) -> list[Point]:
    """Each once: corners belong to two edges."""
    return list({(round(x, 9), round(y, 9)): (x, y) for x, y in points}.values())
