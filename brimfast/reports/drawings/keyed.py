"""What the numbers in a drawing mean."""

from __future__ import annotations

from dataclasses import dataclass

from reportlab.graphics.shapes import Drawing

from brimfast.assess.pipeline import Seen
from brimfast.reports.drawings.sheet import Area
from brimfast.shared.units import System, show


@dataclass(frozen=True)
class Keyed:
    """A drawing and what its numbers mean. floor: of a room from above, where its floor lies (points)."""

    drawing: Drawing
    key: tuple[tuple[str, str], ...]
    floor: Area | None = None


def numbers(assessment: Seen) -> dict[str, str]:
    """One number for each rack and vessel, the same in all drawings."""
    names = [f"rack {name}" for name in assessment.installation.racks]
    names += [vessel.name for vessel in assessment.installation.vessels]
    return {name: str(index) for index, name in enumerate(names, start=1)}


def body_key(assessment: Seen, system: System) -> tuple[tuple[str, str], ...]:
    """Each rack and vessel by its number, and what it weighs."""
    rows = []
    for name, number in numbers(assessment).items():
        if name.startswith("rack ") and name.removeprefix("rack ") in assessment.racks:
            body = next(body for body in assessment.bodies if body.name == name and body.kind == "rack")
            rows.append((number, f"{name}, with what it carries {show(body.mass, 'mass', system)}"))
        else:
            tier = assessment.installation.vessel(name).tier
            said = f", tier {tier}" if tier > 1 else ""
            rows.append((number, f"{name}{said}, {show(assessment.vessels[name].mass, 'mass', system)}"))
    return tuple(rows)
