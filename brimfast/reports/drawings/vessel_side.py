"""A vessel from the side: shell, fill, water, and what was only weighed as a dashed outline."""

from __future__ import annotations

from brimfast.assess.bodies import footing
from brimfast.assess.pipeline import Seen
from brimfast.reports.drawings.sheet import TEXT, Sheet
from brimfast.reports.pdf_style import FILL, INK, PAPER, QUIET, WATER, WOOD
from brimfast.shared.installation.vessel import Vessel
from brimfast.shared.units import System, show


def vessel_height(assessment: Seen, vessel: Vessel) -> float:
    """From what it stands on to its rim (m); where only weighed, as far as it is drawn."""
    if vessel.depth is None:
        return 1.6 * assessment.vessels[vessel.name].height
    return vessel.depth + vessel.raised


def foot_width(assessment: Seen, vessel: Vessel, along: bool = True) -> float:
    """Of what it stands on (m), its own or its stand's, in its middle."""
    weight, stand = assessment.vessels[vessel.name], footing(vessel)
    if stand is not None:
        return stand[0] if along else stand[1]
    return weight.length if along or weight.round else weight.width


def vessel_side(
    sheet: Sheet, assessment: Seen, vessel: Vessel, x: float, y: float, scale: float, along: bool = True
) -> float:
    """With its lower left corner at (x, y), from its long side or its end; gives back the height of its water or middle."""
    weight = assessment.vessels[vessel.name]
    width = (weight.length if along or weight.round else weight.width) * scale
    if vessel.weighed:
        height = vessel_height(assessment, vessel) * scale
        centre = y + weight.height * scale
        sheet.box(x, y, width, height, fill=PAPER, dash=[3, 2])
        sheet.disc(x + width / 2, centre, 3, fill=PAPER)
        sheet.line(x + width / 2 - 5, centre, x + width / 2 + 5, centre, INK, 0.6)
        sheet.line(x + width / 2, centre - 5, x + width / 2, centre + 5, INK, 0.6)
        sheet.take(x + width / 2 - 5, centre - 5, x + width / 2 + 5, centre + 5)
        return centre
    assert vessel.depth is not None and vessel.water is not None
    wall = min(max(assessment.resolved.vessels[vessel.name].wall_thickness * scale, 1.0), width / 4)
    if vessel.stand is not None:
        foot = foot_width(assessment, vessel, along) * scale
        _stand(sheet, x + (width - foot) / 2, y, foot, vessel.raised * scale)
        y += vessel.raised * scale
    height, inside, level = vessel.depth * scale, width - 2 * wall, vessel.water * scale
    if vessel.fill is not None:
        sheet.box(x + wall, y, inside, vessel.filled * scale, fill=FILL, line=None)
    sheet.box(x + wall, y, inside, level, fill=WATER, opacity=0.55, line=None)
    if vessel.fill is not None:
        _stones(sheet, x + wall, y, inside, vessel.filled * scale)
    sheet.line(x + wall, y + level, x + wall + inside, y + level, INK, 0.5, (4, 2))
    shell = WOOD if vessel.kind == "bed" else PAPER
    for left in (x, x + width - wall):
        sheet.box(left, y, wall, height, fill=shell)
    sheet.line(x, y, x + width, y, INK, 1)
    return y + level


def water_level(sheet: Sheet, vessel: Vessel, x1: float, x2: float, level: float, system: System) -> None:
    """A small triangle on the water and how deep it is, where there is room for both."""
    if vessel.water is None or x2 - x1 < 16:
        return
    at = x1 + (x2 - x1) * 0.8
    sheet.polygon([(at - 3, level + 5), (at + 3, level + 5), (at, level)], None, INK, 0.6)
    words = f"water {show(vessel.water, 'length', system)}"
    low = level - TEXT - 0.5
    sheet.put(
        words, [(x2 - 4, low, "end"), (x1 + 4, low, "start"), (x2 - 4, level + 7, "end")], halo=vessel.fill is not None
    )


def _stand(sheet: Sheet, x: float, y: float, width: float, height: float) -> None:
    """Legs and a top, crossed: a stand is not told apart any further."""
    sheet.box(x, y, width, height, fill=WOOD)
    sheet.line(x, y, x + width, y + height, QUIET, 0.5)
    sheet.line(x, y + height, x + width, y, QUIET, 0.5)


def _stones(sheet: Sheet, x: float, y: float, width: float, height: float) -> None:
    """Dots that tell fill from water without colour."""
    step = 6.0
    for row in range(int(height / step)):
        for column in range(int(width / step)):
            shift = step / 2 if row % 2 else 0.0
            px, py = x + step / 2 + column * step + shift, y + step / 2 + row * step
            if px < x + width - 1:
                sheet.disc(px, py, 0.6, fill=QUIET, line=None)
