"""Each rack from its front and its end with marks where it is too weak; floor vessels in rows beside each other."""

from __future__ import annotations

import math
from collections.abc import Sequence

from brimfast.assess.pipeline import Seen
from brimfast.reports import choice, words
from brimfast.reports.drawings.keyed import Keyed, numbers
from brimfast.reports.drawings.marks import SIZE, mark, marked
from brimfast.reports.drawings.places import END, FRONT, place_of, post_spacing
from brimfast.reports.drawings.rack_views import View, draw_end, draw_front, end_width, rack_height
from brimfast.reports.drawings.scale_bar import scale_bar
from brimfast.reports.drawings.sheet import SMALL, Sheet
from brimfast.reports.drawings.vessel_side import foot_width, vessel_height, vessel_side, water_level
from brimfast.reports.pdf_style import INK, QUIET
from brimfast.shared.findings import Finding, severity
from brimfast.shared.installation.vessel import Vessel
from brimfast.shared.units import System, show

MOST_RACKS, MOST_VESSELS, MOST_KEY = 4, 14, 16
LEFT, BETWEEN, RIGHT, BELOW, ABOVE = 60.0, 84.0, 50.0, 58.0, 30.0
START, GAP, UNDER = 50.0, 54.0, 28.0  # points before and between vessels, and under a row
Marked = list[tuple[float, float, list[Finding]]]


def drawn_racks(assessment: Seen) -> list[str]:
    """The racks that get a drawing: all, or the heaviest where there are many."""
    bodies = sorted((body for body in assessment.bodies if body.kind == "rack"), key=lambda body: -body.mass)
    return [body.name.removeprefix("rack ") for body in bodies[:MOST_RACKS]]


def drawn_vessels(assessment: Seen) -> list[Vessel]:
    """The floor vessels that get a drawing: all, or the heaviest where there are many."""
    floor = assessment.installation.on_floor()
    if len(floor) <= MOST_VESSELS:
        return floor
    heaviest = sorted(floor, key=lambda vessel: -assessment.vessels[vessel.name].mass)[:MOST_VESSELS]
    return [vessel for vessel in floor if vessel in heaviest]


def not_drawn(assessment: Seen) -> int:
    """How many racks and floor vessels are left out."""
    racks = len(assessment.installation.racks) - len(drawn_racks(assessment))
    return racks + len(assessment.installation.on_floor()) - len(drawn_vessels(assessment))


def rack_elevation(assessment: Seen, name: str, system: System, width: float, most_height: float = 250.0) -> Keyed:
    """One rack from its front and from its right end, at one scale. The key: its findings that do not hold, by number."""
    rack = assessment.installation.racks[name]
    aside = end_width(assessment, name)
    high = rack_height(assessment, name)
    scale = min((width - LEFT - BETWEEN - RIGHT) / (rack.length + aside), max(most_height - BELOW - ABOVE, 60.0) / high)
    sheet = Sheet(width, BELOW + ABOVE + high * scale)
    front = View(sheet, assessment, name, LEFT, BELOW, scale)
    across = post_spacing(assessment, name)
    slack = width - LEFT - BETWEEN - RIGHT - (rack.length + aside) * scale
    end_x = LEFT + (rack.length + (aside - across) / 2) * scale + BETWEEN + slack / 2
    end = View(sheet, assessment, name, end_x, BELOW, scale)
    margin = (aside - across) / 2 * scale
    sheet.ground(BELOW, LEFT - 16, LEFT + rack.length * scale + 16)
    sheet.ground(BELOW, end_x - margin - 16, end_x + across * scale + margin + 16)
    spots, found = _spots(assessment, name, {FRONT: front, END: end})
    for x, y, _ in spots:
        sheet.take(x - SIZE, y - SIZE, x + SIZE, y + SIZE)
    _dimensions(sheet, assessment, name, front, end, system)
    draw_front(front, system)
    draw_end(end, system)
    beam_foot = assessment.racks[name].beam_top - assessment.resolved.racks[name].beam.width
    sheet.badge(*front.at((rack.bays // 2 + 0.5) * rack.bay_length, beam_foot / 2), numbers(assessment)[f"rack {name}"])
    tags = choice.finding_numbers(assessment)
    for x, y, here in spots:
        mark(sheet, x, y, here, tags)
    scale_bar(sheet, LEFT, 6, scale, system)
    return Keyed(sheet.drawing(), _key(found, tags))


def _key(found: list[Finding], tags: dict[str, str]) -> tuple[tuple[str, str], ...]:
    """Worst first, and how many more there are."""
    worst = sorted(found, key=severity)
    rows = [(tags[one.id], key_words(one)) for one in worst[:MOST_KEY]]
    if len(worst) > MOST_KEY:
        rows.append(("…", f"{len(worst) - MOST_KEY} more, none worse; they are in the tables of findings"))
    return tuple(rows)


def key_words(finding: Finding) -> str:
    """Mark, ratio and question of a finding, for the key beneath a drawing."""
    return f"{words.MARKS[finding.verdict]} {words.ratio_text(finding)} · {finding.subject}: {finding.question}"


def _spots(assessment: Seen, name: str, views: dict[str, View]) -> tuple[Marked, list[Finding]]:
    """Marks (points) with their findings; those that would touch are one."""
    spots: Marked = []
    found = []
    for finding in marked(assessment.findings):
        place = place_of(assessment, name, finding)
        if place is None:
            continue
        found.append(finding)
        x, y = views[place.view].at(place.aside, place.height)
        near = next((spot for spot in spots if math.hypot(spot[0] - x, spot[1] - y) < 2 * SIZE + 1), None)
        if near is not None:
            near[2].append(finding)
        else:
            spots.append((x, y, [finding]))
    return spots, found


def _dimensions(sheet: Sheet, assessment: Seen, name: str, front: View, end: View, system: System) -> None:
    rack, parts = assessment.installation.racks[name], assessment.resolved.racks[name]
    across, scale, ground = post_spacing(assessment, name), front.scale, front.ground
    bay, length = rack.bay_length * scale, rack.length * scale
    sheet.put("from the front", [(front.x, 17, "start")], bold=True, colour=INK)
    sheet.put("from the right end", [(end.x - 10, 17, "start")], bold=True, colour=INK)
    sheet.across(front.x, front.x + bay, ground - 15, show(rack.bay_length, "distance", system))
    if rack.bays > 1:
        sheet.across(front.x, front.x + length, ground - 29, show(rack.length, "distance", system))
    sheet.across(end.x, end.x + across * scale, ground - 15, show(across, "distance", system))
    rails = sorted((rail.height for rail in rack.rails), reverse=True)
    _heights(sheet, front.x - parts.post.width * scale / 2 - 9, ground, scale, (*rack.decks, *rails), system)
    top = assessment.racks[name].beam_top
    right = end.x + max(across, (across + end_width(assessment, name)) / 2) * scale + 14
    beam = show(parts.beam.width, "length", system)
    foot, head = (ground + height * scale for height in (top - parts.beam.width, top))
    sheet.upright(right, foot, head, beam, SMALL, True)


def _heights(sheet: Sheet, x: float, ground: float, scale: float, heights: Sequence[float], system: System) -> None:
    """Heights above the floor beside one line, a tick at each; those that come first keep their text where it is tight."""
    sheet.line(x, ground, x, ground + max(heights) * scale, QUIET, 0.6)
    sheet.take(x - 3, ground, x + 3, ground + max(heights) * scale)
    for height in (0.0, *heights):
        y = ground + height * scale
        sheet.line(x - 3, y, x + 3, y, QUIET, 0.6)
        if height > 0:
            sheet.put(show(height, "length", system), [(x - 5, y - 2.5, "end")])


def floor_vessels(assessment: Seen, system: System, width: float, most_height: float = 250.0) -> Keyed | None:
    """The vessels on the floor from their long sides, at one scale, in as many rows as they need, with their marks."""
    vessels = drawn_vessels(assessment)
    if not vessels:
        return None
    room = width - START - 8
    lengths = {one.name: assessment.vessels[one.name].length for one in vessels}
    heights = {one.name: vessel_height(assessment, one) for one in vessels}
    scale = min(min((room - 60) / length for length in lengths.values()), 120 / max(heights.values()))
    rows = _rows(vessels, lengths, scale, room)
    while _rows_height(rows, heights, scale) > most_height and scale > 2.0:
        scale *= 0.93
        rows = _rows(vessels, lengths, scale, room)
    sheet = Sheet(width, _rows_height(rows, heights, scale))
    tags, own = choice.finding_numbers(assessment), numbers(assessment)
    found: list[Finding] = []
    ground = sheet.height
    for row in rows:
        ground -= ABOVE + max(heights[one.name] for one in row) * scale
        sheet.ground(ground, 8, width - 8)
        x = START
        for one in row:
            wide, high = lengths[one.name] * scale, heights[one.name] * scale
            here = [item for item in marked(assessment.findings) if _of_vessel(item, one)]
            found += here
            foot = foot_width(assessment, one) * scale
            slots = _slots(here, x, wide, foot, ground, high)
            for sx, sy, _ in slots:
                sheet.take(sx - SIZE, sy - SIZE, sx + SIZE, sy + SIZE)
            length = show(lengths[one.name], "distance", system)
            sheet.across(x, x + wide, ground - 15, length)
            level = vessel_side(sheet, assessment, one, x, ground, scale)
            if not one.weighed:
                sheet.upright(x - 13, ground, ground + high, show(heights[one.name], "length", system), SMALL)
            water_level(sheet, one, x, x + wide, level, system)
            sheet.badge(x + wide / 2, ground + high / 2 if one.weighed else (ground + level) / 2, own[one.name])
            for sx, sy, items in slots:
                mark(sheet, sx, sy, items, tags)
            x += max(wide, 30.0) + GAP
        ground -= UNDER
    scale_bar(sheet, START, 6, scale, system)
    return Keyed(sheet.drawing(), _key(found, tags))


def _of_vessel(finding: Finding, vessel: Vessel) -> bool:
    kind = finding.id.partition("/")[0]
    asked = kind in ("tipping", "sliding", "attachment", "falls", "slosh", "floor", "member")
    return asked and finding.subject in (vessel.name, f"{vessel.name}, sides")


def _slots(found: list[Finding], x: float, wide: float, foot: float, ground: float, high: float) -> Marked:
    """Tipping at the edge it turns about, waves at the rim, the rest at the base; foot: how wide it stands, in its middle."""
    left, right = x + (wide - foot) / 2, x + (wide + foot) / 2
    slots: dict[str, tuple[float, float, list[Finding]]] = {}
    for finding in found:
        kind = finding.id.partition("/")[0]
        where = {"tipping": "edge", "falls": "edge", "slosh": "rim"}.get(kind, "base")
        at = {"edge": (right, ground), "rim": (x + wide, ground + high), "base": (left, ground)}[where]
        slots.setdefault(where, (*at, []))[2].append(finding)
    found_slots = list(slots.values())
    if foot < 2 * SIZE + 1 and {"edge", "base"} <= set(slots):
        base = slots["base"]
        slots["edge"][2].extend(base[2])
        found_slots.remove(base)
    return found_slots


def _rows(vessels: list[Vessel], lengths: dict[str, float], scale: float, room: float) -> list[list[Vessel]]:
    """Each row as full as it gets."""
    rows: list[list[Vessel]] = []
    used = 0.0
    for one in vessels:
        needs = max(lengths[one.name] * scale, 30.0)
        if not rows or used + needs > room - 20:
            rows.append([])
            used = 0.0
        rows[-1].append(one)
        used += needs + GAP
    return rows


def _rows_height(rows: list[list[Vessel]], heights: dict[str, float], scale: float) -> float:
    return 20 + sum(UNDER + ABOVE + max(heights[one.name] for one in row) * scale for row in rows)
