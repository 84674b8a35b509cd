"""The drawings as pages of the report, each with its heading and the key to its numbers."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from brimfast.reports.drawings.elevation import drawn_racks, floor_vessels, not_drawn, rack_elevation
from brimfast.reports.drawings.forces import frame_forces
from brimfast.reports.drawings.joint_details import BEAM, BRACE, joint_detail
from brimfast.reports.drawings.keyed import Keyed, body_key
from brimfast.reports.drawings.plan import plan
from brimfast.reports.drawings.pond import pond_depth
from brimfast.reports.drawings.ratios import MOST, ratio_bars, worst_findings
from brimfast.reports.drawings.waves import waves
from brimfast.reports.equations import with_symbols
from brimfast.reports.layout import arrange
from brimfast.reports.pdf_flow import CELL, H1, H2, HEAD, QUIET_SMALL, plain

# isort: split
from reportlab.graphics.shapes import Drawing
from reportlab.platypus import CondPageBreak, Flowable, KeepTogether, Paragraph, Spacer, Table, TableStyle

from brimfast.assess.pipeline import Assessment
from brimfast.shared.units import System

MARKS = "A crossed diamond marks the place of what is short, a circle with a bar what is close; the numbers are those of the findings below."
ROOM = 330


def drawn(assessment: Assessment, system: System, width: float, page_height: float) -> list[Flowable]:
    """Racks, floor vessels, plan, joints, forces, and the worst findings as bars."""
    return [
        *_bars(assessment, width),
        *_racks(assessment, system, width),
        *_vessels(assessment, system, width),
        *_plan(assessment, system, width, page_height),
        *_joints(assessment, system, width),
        *_forces(assessment, system, width),
    ]


def key_table(key: Sequence[tuple[str, str]], width: float, columns: int = 2) -> Table:
    """Numbers and their meanings, read down one column and then the next."""
    cells: list[list[Any]] = [[plain(number, HEAD), plain(text, CELL)] for number, text in key]
    lines = -(-len(cells) // columns)
    cells += [["", ""]] * (lines * columns - len(cells))
    rows = [[part for column in range(columns) for part in cells[row + column * lines]] for row in range(lines)]
    table = Table(rows, colWidths=[32, width / columns - 32] * columns)
    table.setStyle(
        TableStyle(
            [
                ("VALIGN", (0, 0), (-1, -1), "TOP"),
                ("TOPPADDING", (0, 0), (-1, -1), 1),
                ("BOTTOMPADDING", (0, 0), (-1, -1), 2),
            ]
        )
    )
    return table


def centred(drawing: Drawing) -> Drawing:
    drawing.hAlign = "CENTER"
    return drawing


def _with_key(
    head: list[Flowable], keyed: Keyed, width: float, columns: int = 1, after: Sequence[Flowable] = ()
) -> list[Flowable]:
    """Heading and drawing stay together; the key may run on."""
    story: list[Flowable] = [CondPageBreak(90), KeepTogether([*head, centred(keyed.drawing)])]
    if keyed.key:
        story += [Spacer(0, 4), key_table(keyed.key, width, columns)]
    return [*story, *after]


def _racks(assessment: Assessment, system: System, width: float) -> list[Flowable]:
    story: list[Flowable] = []
    left_out = not_drawn(assessment)
    many = f" The heaviest are drawn; {left_out} more are not." if left_out else ""
    for index, name in enumerate(drawn_racks(assessment)):
        note = (
            f"To scale. Dashed: at the back, or at the left end. Heights on the left are above the floor. {MARKS}{many}"
        )
        head: list[Flowable] = [plain(f"Rack {name}, from the front and from its end", H1)]
        if index == 0:
            head.append(plain(note, QUIET_SMALL))
        story += _with_key(head, rack_elevation(assessment, name, system, width), width)
    return story


def _vessels(assessment: Assessment, system: System, width: float) -> list[Flowable]:
    found = floor_vessels(assessment, system, width)
    if found is None:
        return []
    note = (
        "To scale, side by side. Water is shaded, its surface dashed; dots: fill. A dashed outline was only weighed: "
        f"its shape is not known, the crossed circle is its centre of mass. {MARKS}"
    )
    return _with_key([plain("Vessels on the floor", H1), plain(note, QUIET_SMALL)], found, width)


def _plan(assessment: Assessment, system: System, width: float, page_height: float) -> list[Flowable]:
    racks = assessment.installation.racks.values()
    placed = arrange(assessment)
    tiers = " Dotted outline: on an upper tier." if any(rack.upper_tiers for rack in racks) else ""
    tiers += " Thin double line: rail." if any(rack.rails for rack in racks) else ""
    note = (
        "To scale; at: counts from the lower left corner. Dashed: the file does not say where it stands. Striped circle: "
        f"floor drain. Heavy line beside a rack: braced or panelled there. Ripples: water in the worst mishap, arrows its way.{tiers}"
    )
    unplaced = len(assessment.racks) + len(assessment.installation.on_floor()) - len(placed)
    after: list[Flowable] = [key_table(body_key(assessment, system), width, 2)]
    if unplaced:
        after.append(plain(f"Not in the plan for want of room: {unplaced} without a given place.", QUIET_SMALL))
    found = plan(assessment, placed, system, width, min(330, page_height * 0.42))
    return _with_key([plain("From above", H1), plain(note, QUIET_SMALL)], found, width, 1, after)


def _joints(assessment: Assessment, system: System, width: float) -> list[Flowable]:
    found = [
        (name, where, drawing)
        for name in drawn_racks(assessment)
        for where in (BEAM, BRACE)
        if (drawing := joint_detail(assessment, name, where, system, width)) is not None
    ]
    if not found:
        return []
    note = (
        "To scale. Least: below it the standard lets nothing count; full value: from it on nothing is taken off "
        "(NDS 2018 section 12.5.1). A hole in the wrong place splits the wood."
    )
    story: list[Flowable] = []
    for index, (name, where, drawing) in enumerate(found):
        head: list[Flowable] = [plain("Joints in detail", H1), plain(note, QUIET_SMALL)] if index == 0 else []
        story += [CondPageBreak(90), KeepTogether([*head, plain(f"Rack {name}, {where}", H2), centred(drawing)])]
    return story


def _forces(assessment: Assessment, system: System, width: float) -> list[Flowable]:
    note = (
        "The push that presses a post most, in the frame as computed, at allowable level. Solid: pressed (compression); "
        "dashed: pulled (tension); the heavier, the more. Below each foot: what the floor gives in this case, and the "
        "least of all cases; uplift asks for an anchor, whose own check adds overstrength."
    )
    head: list[Flowable] = [plain("Forces in the frame", H1), plain(note, QUIET_SMALL)]
    story: list[Flowable] = []
    missing = []
    for name in drawn_racks(assessment):
        for direction in ("along", "across"):
            keyed = frame_forces(assessment, name, direction, system, width)
            if keyed is None:
                missing.append(f"rack {name} {direction}")
                continue
            said = ". ".join([keyed.key[0][1], *(f"{what.capitalize()}: {text}" for what, text in keyed.key[1:])])
            case = Paragraph(with_symbols(f"Case: {said}."), CELL)
            story += [
                CondPageBreak(90),
                KeepTogether([*head, plain(f"Rack {name}, pushed {direction}", H2), centred(keyed.drawing), case]),
            ]
            head = []
    if missing and story:
        story.append(plain(f"Not drawn, as there the frame does not balance: {', '.join(missing)}.", QUIET_SMALL))
    return story


def _bars(assessment: Assessment, width: float) -> list[Flowable]:
    drawing = ratio_bars(assessment, worst_findings(assessment), width)
    if drawing is None:
        return []
    note = "Demand over capacity. Dark: short, above 1.0; hatched: close; light: holds. Dashed outline: nothing there that resists. What the code asks without a number is in the tables."
    title = plain(f"The worst {MOST} at a glance", H1)
    return [CondPageBreak(90), KeepTogether([title, plain(note, QUIET_SMALL), centred(drawing)])]


def wave_drawing(assessment: Assessment, system: System, width: float) -> list[Flowable]:
    """For the part on sloshing: rest, wave and rim of each vessel."""
    keyed = waves(assessment, system, width)
    if keyed is None:
        return []
    note = "To scale, shaken the way that is worse. Dashed: at rest; heavy: the wave at its highest, by theory; dotted: the rim."
    return [KeepTogether([plain(note, QUIET_SMALL), centred(keyed.drawing), key_table(keyed.key, width, 2)])]


def pond_drawing(assessment: Assessment, system: System, width: float) -> list[Flowable]:
    """For the part on spilled water."""
    drawing = pond_depth(assessment, system, width, 170)
    if drawing is None:
        return []
    return [KeepTogether([plain("Depth of the water on the floor", H2), drawing])]
