"""The drawings of the report with their titles, notes and keys, as any face sets them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from reportlab.graphics.shapes import Drawing

from brimfast.assess.pipeline import Assessment
from brimfast.reports.drawings.elevation import drawn_racks, floor_vessels, not_drawn, rack_elevation
from brimfast.reports.drawings.forces import frame_forces
from brimfast.reports.drawings.gusset_detail import MOST as MOST_GUSSETS
from brimfast.reports.drawings.gusset_detail import gusset_detail, gussets_alike
from brimfast.reports.drawings.joint_details import BEAM, BRACE, joint_detail
from brimfast.reports.drawings.joist_details import JOIST, joist_detail
from brimfast.reports.drawings.keyed import body_key
from brimfast.reports.drawings.panel_details import MOST as MOST_PANELS
from brimfast.reports.drawings.panel_details import panel_detail, panels_alike
from brimfast.reports.drawings.plan import plan
from brimfast.reports.drawings.pond import pond_depth
from brimfast.reports.drawings.ratios import MOST, ratio_bars, worst_findings
from brimfast.reports.drawings.waves import waves
from brimfast.reports.layout import arrange
from brimfast.reports.words import listed
from brimfast.shared.units import System

MARKS = "A crossed diamond marks the place of what is short, a circle with a bar what is close; the numbers are those of the findings below."
PLAN_HEIGHT = 330.0
POND_HEIGHT = 170.0

Key = tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class Figure:
    """One drawing. title: of its part, where it begins one; subtitle, note: above it; key, bodies, after: below it."""

    drawing: Drawing
    title: str = ""
    note: str = ""
    subtitle: str = ""
    key: Key = ()
    columns: int = 1
    bodies: Key = ()
    case: str = ""  # with symbols of formulas
    after: str = ""


def figures(assessment: Assessment, system: System, width: float, plan_height: float = PLAN_HEIGHT) -> list[Figure]:
    """The worst as bars, racks, floor vessels, plan, joints, forces."""
    return [
        *_bars(assessment, width),
        *_racks(assessment, system, width),
        *_vessels(assessment, system, width),
        _plan(assessment, system, width, plan_height),
        *_joints(assessment, system, width),
        *_forces(assessment, system, width),
    ]


def _bars(assessment: Assessment, width: float) -> list[Figure]:
    shown = worst_findings(assessment)
    drawing = ratio_bars(assessment, shown, width)
    if drawing is None:
        return []
    note = (
        "Demand over capacity. Dark: short, above 1.0; hatched: close; light: holds. Dashed outline: nothing there that "
        "resists. What the code asks without a number is in the tables."
    )
    more = len(worst_findings(assessment, MOST + 1)) > len(shown)
    return [Figure(drawing, f"The worst {MOST} at a glance" if more else "What was found, at a glance", note)]


def _racks(assessment: Assessment, system: System, width: float) -> list[Figure]:
    left_out = not_drawn(assessment)
    many = f" The heaviest are drawn; {left_out} more are not." if left_out else ""
    note = f"To scale. Dashed: at the back, or at the left end. Heights on the left are above the floor. {MARKS}{many}"
    found = []
    for index, name in enumerate(drawn_racks(assessment)):
        keyed = rack_elevation(assessment, name, system, width)
        title = f"Rack {name}, from the front and from its end"
        found.append(Figure(keyed.drawing, title, note if index == 0 else "", key=keyed.key))
    return found


def _vessels(assessment: Assessment, system: System, width: float) -> list[Figure]:
    keyed = floor_vessels(assessment, system, width)
    if keyed is None:
        return []
    note = (
        "To scale, side by side. Water is shaded, its surface dashed; dots: fill. A dashed outline was only weighed: "
        f"its shape is not known, the crossed circle is its centre of mass. {MARKS}"
    )
    return [Figure(keyed.drawing, "Vessels on the floor", note, key=keyed.key)]


def _plan(assessment: Assessment, system: System, width: float, height: float) -> Figure:
    racks = assessment.installation.racks.values()
    placed = arrange(assessment)
    tiers = " Dotted outline: on an upper tier." if any(rack.upper_tiers for rack in racks) else ""
    tiers += " Thin double line: rail." if any(rack.rails for rack in racks) else ""
    note = (
        "To scale; at: counts from the lower left corner. Dashed: the file does not say where it stands. Striped circle: "
        f"floor drain. Heavy line beside a rack: braced or panelled there. Ripples: water in the worst mishap, arrows its way.{tiers}"
    )
    unplaced = len(assessment.racks) + len(assessment.installation.on_floor()) - len(placed)
    after = f"Not in the plan for want of room: {unplaced} without a given place." if unplaced else ""
    keyed = plan(assessment, placed, system, width, height)
    return Figure(
        keyed.drawing, "From above", note, key=keyed.key, bodies=tuple(body_key(assessment, system)), after=after
    )


def _joints(assessment: Assessment, system: System, width: float) -> list[Figure]:
    note = (
        "To scale. Least: below it the standard lets nothing count; full value: from it on nothing is taken off "
        "(NDS 2018 section 12.5.1). A hole in the wrong place splits the wood."
    )
    found: list[Figure] = []
    for name in drawn_racks(assessment):
        for where in (BEAM, BRACE):
            drawing = joint_detail(assessment, name, where, system, width)
            if drawing is not None:
                found.append(Figure(drawing, subtitle=f"Rack {name}, {where}"))
        found.append(Figure(joist_detail(assessment, name, system, width), subtitle=f"Rack {name}, {JOIST}"))
        found += _panels(assessment, name, system, width)
        found += _gussets(assessment, name, system, width)
    return [replace(found[0], title="Joints in detail", note=note), *found[1:]] if found else []


def _panels(assessment: Assessment, rack: str, system: System, width: float) -> list[Figure]:
    kinds = panels_alike(assessment, rack)
    drawn = [(panel_detail(assessment, rack, one, system, width), one.places) for one in kinds[:MOST_PANELS]]
    return _kinds(rack, "panel", drawn, len(kinds))


def _gussets(assessment: Assessment, rack: str, system: System, width: float) -> list[Figure]:
    kinds = gussets_alike(assessment, rack)
    drawn = [(gusset_detail(assessment, rack, one, system, width), one.places) for one in kinds[:MOST_GUSSETS]]
    return _kinds(rack, "gusset", drawn, len(kinds))


def _kinds(rack: str, what: str, drawn: Sequence[tuple[Drawing, Sequence[str]]], count: int) -> list[Figure]:
    """Kinds of one piece; below the last, how many are not drawn."""
    found = [Figure(drawing, subtitle=f"Rack {rack}, {what} {listed(places, 3)}") for drawing, places in drawn]
    more = count - len(found)
    if more <= 0:
        return found
    text = f"{more} more {'kind' if more == 1 else 'kinds'} of {what} {'is' if more == 1 else 'are'} not drawn."
    return [*found[:-1], replace(found[-1], after=text)]


def _forces(assessment: Assessment, system: System, width: float) -> list[Figure]:
    note = (
        "The push that presses a post most, in the frame as computed, at allowable level. Solid: pressed (compression); "
        "dashed: pulled (tension); the heavier, the more. Below each foot: what the floor gives in this case, and the "
        "least of all cases; uplift asks for an anchor, whose own check adds overstrength."
    )
    found: list[Figure] = []
    missing = []
    for name in drawn_racks(assessment):
        for direction in ("along", "across"):
            keyed = frame_forces(assessment, name, direction, system, width)
            if keyed is None:
                missing.append(f"rack {name} {direction}")
                continue
            said = ". ".join([keyed.key[0][1], *(f"{what.capitalize()}: {text}" for what, text in keyed.key[1:])])
            head = ("", "") if found else ("Forces in the frame", note)
            found.append(
                Figure(keyed.drawing, *head, subtitle=f"Rack {name}, pushed {direction}", case=f"Case: {said}.")
            )
    if missing and found:
        text = f"Not drawn, as there the frame does not balance: {', '.join(missing)}."
        found[-1] = Figure(**(vars(found[-1]) | {"after": text}))
    return found


def wave_figure(assessment: Assessment, system: System, width: float) -> Figure | None:
    """Rest, wave and rim of each vessel."""
    keyed = waves(assessment, system, width)
    if keyed is None:
        return None
    note = "To scale, shaken the way that is worse. Dashed: at rest; heavy: the wave at its highest, by theory; dotted: the rim."
    return Figure(keyed.drawing, note=note, key=keyed.key, columns=2)


def pond_figure(assessment: Assessment, system: System, width: float, height: float = POND_HEIGHT) -> Figure | None:
    drawing = pond_depth(assessment, system, width, height)
    return None if drawing is None else Figure(drawing, subtitle="Depth of the water on the floor")
