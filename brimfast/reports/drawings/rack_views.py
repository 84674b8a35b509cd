"""A rack from its front and from its right end: timber, stiffening, vessels."""

from __future__ import annotations

from dataclasses import dataclass

from brimfast.assess.bodies import rack_offsets
from brimfast.assess.pipeline import Seen
from brimfast.reports.drawings.keyed import numbers
from brimfast.reports.drawings.places import diagonal, post_spacing
from brimfast.reports.drawings.sheet import Area, Sheet
from brimfast.reports.drawings.vessel_side import vessel_height, vessel_side, water_level
from brimfast.reports.pdf_style import INK, QUIET, WOOD
from brimfast.shared.installation.rack import FACES
from brimfast.shared.units import System

BEHIND = (5.0, 3.0)


@dataclass(frozen=True)
class View:
    """One view of a rack on a sheet: where its first post stands (points), and points for a metre."""

    sheet: Sheet
    assessment: Seen
    name: str
    x: float
    ground: float
    scale: float

    def at(self, aside: float, height: float) -> tuple[float, float]:
        return self.x + aside * self.scale, self.ground + height * self.scale

    def box(self, aside: float, height: float, width: float, depth: float, hidden: bool = False) -> None:
        """A timber by its lower left corner and size (m); only outlined where it stands behind."""
        x, y = self.at(aside, height)
        if hidden:
            self.sheet.box(x, y, width * self.scale, depth * self.scale, None, QUIET, 0.8, BEHIND)
        else:
            self.sheet.box(x, y, max(width * self.scale, 2.0), max(depth * self.scale, 1.2), WOOD)


def rack_height(assessment: Seen, name: str) -> float:
    """To the highest of its posts, decks, rails and vessels (m)."""
    rack = assessment.installation.racks[name]
    vessels = assessment.installation.on_rack(name)
    on_it = [rack.decks[vessel.tier - 1] + vessel_height(assessment, vessel) for vessel in vessels]
    return max([rack.top, *on_it])


def end_width(assessment: Seen, name: str) -> float:
    """What the view of its end takes (m): posts, or the widest vessel."""
    rack = assessment.installation.racks[name]
    vessels = (assessment.vessels[vessel.name] for vessel in assessment.installation.on_rack(name))
    return max([rack.width, post_spacing(assessment, name), *(vessel.width for vessel in vessels)])


def _stiffening(view: View, direction: str) -> None:
    """Panels, then braces, of both faces of a view; those of the far face dashed."""
    rack, weight = view.assessment.installation.racks[view.name], view.assessment.racks[view.name]
    parts = view.assessment.resolved.racks[view.name]
    near = "front" if direction == "along" else "right"
    run = rack.bay_length if direction == "along" else post_spacing(view.assessment, view.name)
    for panel in rack.panels:
        if panel.face in FACES[direction]:
            foot, top = weight.face(panel.storey)
            x, y = view.at((panel.bay - 1) * run if direction == "along" else 0.0, foot)
            wide, high = run * view.scale, (top - foot) * view.scale
            if panel.face == near:
                view.sheet.box(x, y, wide, high, WOOD, INK, 0.8, opacity=0.6)
            else:
                view.sheet.box(x, y, wide, high, None, QUIET, 0.8, BEHIND)
            view.sheet.hatched(x, y, wide, high, 9.0, QUIET)
    for gusset in rack.gussets if direction == "along" else ():
        _, top = weight.storey(gusset.storey)
        for post, inward in ((gusset.bay - 1, 1), (gusset.bay, -1)):
            aside = post * run
            corners = [(aside, top), (aside + inward * gusset.leg, top), (aside, top - gusset.leg)]
            shape = [view.at(*corner) for corner in corners]
            if gusset.face == near:
                view.sheet.polygon(shape, WOOD, INK, 0.8)
            else:
                view.sheet.lines([*shape[1:], shape[0], shape[1]], QUIET, 0.8, BEHIND)
    for brace, timber in zip(rack.braces, parts.braces, strict=True):
        if brace.face not in FACES[direction]:
            continue
        thick, behind = max(timber.width * view.scale * 0.6, 1.5), brace.face != near
        (x1, z1), (x2, z2) = diagonal(view.assessment, view.name, brace)
        ends = [(x1, z1, x2, z2)]
        start = (brace.bay - 1) * run if direction == "along" else 0.0
        if brace.kind == "x":
            ends.append((x1, z2, x2, z1))
        elif brace.leg is not None:
            ends.append((start + run, z1, start + run - brace.leg, z2))
        for a, b, c, d in ends:
            view.sheet.timber(*view.at(a, b), *view.at(c, d), thick, behind)


def draw_front(view: View, system: System, words: bool = True) -> None:
    """Posts, beams, decks, joists, rails, vessels; what stands at the back is dashed."""
    assessment, sheet, scale = view.assessment, view.sheet, view.scale
    rack, weight = assessment.installation.racks[view.name], assessment.racks[view.name]
    parts = assessment.resolved.racks[view.name]
    _stiffening(view, "along")
    for rail, timber in zip(rack.rails, parts.rails, strict=True):
        low = rail.height - timber.width
        if "front" in rail.faces or rail.face == "back":
            view.box(0.0, low, rack.length, timber.width, hidden=rail.face == "back")
        else:
            view.box(
                0.0 if rail.face == "left" else rack.length - timber.thickness, low, timber.thickness, timber.width
            )
    for post in range(rack.bays + 1):
        at = post * rack.bay_length
        view.box(at - parts.post.width / 2, 0.0, parts.post.width, weight.post_top)
        if rack.feet.anchored:
            _anchor(view, at)
    for tier, deck in enumerate(rack.decks):
        bays = range(rack.bays) if rack.beam_runs == "each bay" else range(1)
        run = rack.bay_length if rack.beam_runs == "each bay" else rack.length
        for index in bays:
            view.box(index * run, weight.beam_tops[tier] - parts.beam.width, run, parts.beam.width)
        if rack.joist.seat == "on beams":
            for index in range(weight.joist_count):
                aside = min(index * rack.joist.spacing, rack.length) - parts.joist.thickness / 2
                view.box(aside, weight.beam_tops[tier], parts.joist.thickness, parts.joist.width)
        view.box(0.0, deck - parts.deck_thickness, rack.length, parts.deck_thickness)
    offsets, tags = rack_offsets(assessment.installation, view.name), numbers(assessment)
    for vessel in assessment.installation.on_rack(view.name):
        shift = assessment.resolved.vessels[vessel.name].wall_thickness if not vessel.weighed else 0.0
        x, y = view.at(offsets[vessel.name] - shift, rack.decks[vessel.tier - 1])
        level = vessel_side(sheet, assessment, vessel, x, y, scale)
        wide = assessment.vessels[vessel.name].length * scale
        if words:
            top = y + vessel_height(assessment, vessel) * scale
            _number(sheet, tags[vessel.name], x + wide / 2, top, (level + y) / 2)
            water_level(sheet, vessel, x, x + wide, level, system)


def _number(sheet: Sheet, number: str, x: float, top: float, inside: float) -> None:
    """Over a vessel where that is free, else on it."""
    low, half = top + 3, 8.0
    over = low + half
    sheet.badge(x, over if sheet.free(Area(x - half, low, x + half, over + half), 0.0) else inside, number)


def draw_end(view: View, system: System) -> None:
    """From the right: the front is on the left. What stands at the left end is dashed."""
    assessment, sheet, scale = view.assessment, view.sheet, view.scale
    rack, weight = assessment.installation.racks[view.name], assessment.racks[view.name]
    parts, across = assessment.resolved.racks[view.name], post_spacing(assessment, view.name)
    post = parts.post.thickness
    _stiffening(view, "across")
    for rail, timber in zip(rack.rails, parts.rails, strict=True):
        low = rail.height - timber.width
        if "right" in rail.faces or rail.face == "left":
            view.box(0.0, low, across, timber.width, hidden=rail.face == "left")
        else:
            aside = -post / 2 - timber.thickness if rail.face == "front" else across + post / 2
            view.box(aside, low, timber.thickness, timber.width)
    for at in (0.0, across):
        view.box(at - post / 2, 0.0, post, weight.post_top)
        if rack.feet.anchored:
            _anchor(view, at)
    for tier, deck in enumerate(rack.decks):
        top = weight.beam_tops[tier]
        low = top if rack.joist.seat == "on beams" else top - parts.joist.width
        view.box(-post / 2, low, across + post, parts.joist.width)
        for aside in _beams(rack.beam_seat == "on top", rack.paired, across, post, parts.beam.thickness):
            view.box(aside, top - parts.beam.width, parts.beam.thickness, parts.beam.width)
        view.box(-post / 2, deck - parts.deck_thickness, across + post, parts.deck_thickness)
    for tie in rack.wall_ties:
        x, y = view.at(across + post / 2, tie.height)
        sheet.line(x, y, x + 14, y, INK, 1.4)
        sheet.line(x + 14, y - 6, x + 14, y + 6, INK, 1.4)
    drawn: set[int] = set()
    for vessel in reversed(assessment.installation.on_rack(view.name)):
        if vessel.tier in drawn:
            continue
        drawn.add(vessel.tier)
        found = assessment.vessels[vessel.name]
        wide = found.length if found.round else found.width
        x, y = view.at(across / 2 - wide / 2, rack.decks[vessel.tier - 1])
        level = vessel_side(sheet, assessment, vessel, x, y, scale, along=False)
        water_level(sheet, vessel, x, x + wide * scale, level, system)


def _beams(on_top: bool, paired: bool, across: float, post: float, beam: float) -> list[float]:
    """Left edges of the beams in the view of the end (m): outside the posts, on both sides of them, or on top."""
    if on_top:
        return [-beam / 2, across - beam / 2]
    outside = [-post / 2 - beam, across + post / 2]
    return [*outside, post / 2, across - post / 2 - beam] if paired else outside


def _anchor(view: View, aside: float) -> None:
    x, y = view.at(aside, 0.0)
    view.sheet.polygon([(x - 5, y), (x + 5, y), (x, y - 6)], INK)
