"""A plywood gusset over the corner of post and beam: its nails, and the filler below the beam."""

from __future__ import annotations

from dataclasses import dataclass

from brimfast.assess.pipeline import Assessment
from brimfast.assess.timber.gusset import END, INNER, gusset_centre, gusset_places, gusset_spacing
from brimfast.reports.drawings.alike import kinds_of
from brimfast.reports.drawings.facts import facts
from brimfast.reports.drawings.joint_parts import HIGH, TABLE
from brimfast.reports.drawings.scale_bar import scale_bar
from brimfast.reports.drawings.sheet import SMALL, TEXT, Sheet
from brimfast.reports.pdf_style import INK, QUIET, WOOD
from brimfast.shared.installation.rack import Gusset
from brimfast.shared.units import System, show

# isort: split
from reportlab.graphics.shapes import Drawing
from reportlab.lib.colors import white

MOST = 2  # kinds that are drawn for a rack
DOT = 1.3  # points
BEYOND = 0.06  # m of post and beam that are shown past the plate


@dataclass(frozen=True)
class Alike:
    """Gussets of a rack that are built the same: one of them, and where they are."""

    gusset: Gusset
    places: tuple[str, ...]


def gussets_alike(assessment: Assessment, rack: str) -> list[Alike]:
    """Of each kind one, in the order of the file."""
    found = assessment.installation.racks[rack]
    kinds = kinds_of(found, found.gussets, lambda one: (one.leg, one.thickness, one.nail, one.nails))
    return [Alike(first, places) for first, places in kinds]


def gusset_detail(assessment: Assessment, rack: str, alike: Alike, system: System, width: float) -> Drawing:
    """The left one of a bay, from the front; its legs from the middle of the beam and of the post."""
    parts, gusset = assessment.resolved.racks[rack], alike.gusset
    on_side = assessment.installation.racks[rack].beam_seat == "on the side"
    post, beam, leg = parts.post.width, parts.beam.width, gusset.leg
    sheet = Sheet(width, HIGH)
    x0, y0, wide, high = 66.0, 34.0, width - TABLE - 90, HIGH - 72
    scale = min(wide / (leg + BEYOND + post / 2), high / (leg + BEYOND + beam / 2))
    left, middle = x0 + post / 2 * scale, y0 + (leg + BEYOND) * scale

    def at(x: float, y: float) -> tuple[float, float]:
        """From the corner of the middles of post and beam."""
        return left + x * scale, middle + y * scale

    top = beam / 2 if on_side else -beam / 2
    sheet.box(*at(-post / 2, -leg - BEYOND), post * scale, (leg + BEYOND + top) * scale, WOOD, INK, 0.8)
    if on_side:
        sheet.box(*at(-post / 2, -leg), post * scale, (leg - beam / 2) * scale, None, QUIET, 0.8, (3, 2))
    sheet.box(*at(-post / 2, -beam / 2), (leg + BEYOND + post / 2) * scale, beam * scale, WOOD, INK, 0.8)
    corners = [(-post / 2, beam / 2), (leg, beam / 2), (leg, -beam / 2), (post / 2, -leg), (-post / 2, -leg)]
    sheet.polygon([at(*corner) for corner in corners], white, INK, 1.1, opacity=0.75)
    for upright, member, other in ((True, post, beam), (False, beam, post)):
        centre = gusset_centre(leg, other / 2)
        mx, my = (0.0, -centre) if upright else (centre, 0.0)
        for x, y in gusset_places(leg, gusset.nails, member, other / 2, upright=upright):
            sheet.disc(*at(mx + x, my + y), DOT, INK, INK, 0.3)
    sheet.line(*at(0.0, -leg), *at(0.0, beam / 2), QUIET, 0.5, (6, 2, 1, 2))
    sheet.line(*at(-post / 2, 0.0), *at(leg, 0.0), QUIET, 0.5, (6, 2, 1, 2))
    said = show(leg, "length", system)
    sheet.across(at(0.0, 0.0)[0], at(leg, 0.0)[0], at(0.0, beam / 2)[1] + 9, said, SMALL)
    sheet.upright(at(-post / 2, 0.0)[0] - 9, at(0.0, -leg)[1], middle, said, SMALL)
    thick, nail = (show(size, "length", system) for size in (gusset.thickness, gusset.nail[0]))
    sheet.put(
        f"plywood {thick} thick, nails {nail} × {show(gusset.nail[1], 'length', system)}",
        [(8, HIGH - 12, "start")],
        TEXT,
        INK,
        True,
    )
    facts(sheet, width - TABLE, HIGH - 26, _rows(gusset, post, beam, system), _notes(on_side))
    scale_bar(sheet, 8, 8, scale, system)
    return sheet.drawing()


def _rows(gusset: Gusset, post: float, beam: float, system: System) -> list[tuple[str, str]]:
    def said(size: float) -> str:
        return show(size, "length", system)

    return [
        ("nails in each leg, in two rows", str(gusset.nails)),
        ("on the post, one to the next", said(gusset_spacing(gusset.leg, gusset.nails, beam / 2))),
        ("on the beam, one to the next", said(gusset_spacing(gusset.leg, gusset.nails, post / 2))),
        ("rows apart, on post and on beam", f"{said(post / 2)}, {said(beam / 2)}"),
        ("from the other timber to the first", said(INNER)),
        ("from the leg's end to the last", said(END)),
    ]


def _notes(on_side: bool) -> list[str]:
    notes = ["Dash-dot: the middles of post and beam, from which the legs are measured."]
    if on_side:
        notes.append(
            "Dashed: on the post, below the beam, a filler as thick as the beam, held by as many structural screws as a leg has nails."
        )
    else:
        notes.append("The beam lies flush with the outside of its post.")
    return notes
