"""Do pumps, lines and outflows follow the practice of those who build such systems, and do the equations bear it out?"""

from __future__ import annotations

from brimfast.assess.practice.lines import line_findings, pump_line
from brimfast.assess.practice.returns import return_findings
from brimfast.assess.weight import VesselWeight
from brimfast.data_tables.loader import factor
from brimfast.shared.findings import Caution, Finding
from brimfast.shared.installation.model import Installation

UNSOURCED = "common practice, no source"


def practice_findings(installation: Installation, weights: dict[str, VesselWeight]) -> list[Finding]:
    """Each pump's line, then each vessel's outflows; all of them practice, none a danger by itself."""
    lines = [pump_line(installation, pump) for pump in installation.pumps]
    found = [one for line in lines for one in line_findings(line, weights)]
    return found + return_findings(installation, {line.pump.name: line.flow for line in lines})


def practice_cautions(installation: Installation) -> tuple[Caution, ...]:
    """What no equation says: pumps stop, filters clog, vessels overfill."""
    found = []
    if installation.pumps:
        days = factor("filter_cleaning").value
        alone = _fed_by_one(installation)
        text = f"A pump's filter wants cleaning every day or, at the longest, every {days:g} days ({UNSOURCED})."
        if alone:
            wanted = factor("pumps_for_one_vessel").value
            text = (
                f"Only one pump feeds {', '.join(alone[:6])}{' and others' if len(alone) > 6 else ''}: when it stops, no water "
                f"moves there. {wanted:g} smaller ones, better on two circuits, keep some moving ({UNSOURCED}). " + text
            )
        found.append(Caution("Pumps stop", text))
    if installation.pumps or installation.pipes or installation.supplies:
        drain = (
            "keep the floor drain clean and in reach of the water"
            if installation.room.drains
            else "a room with such vessels wants a floor drain, and this one has none in the file"
        )
        found.append(
            Caution(
                "Vessels overfill",
                "Sooner or later a tank is overfilled, and a pump moves the water of one vessel into another: "
                f"{drain} ({UNSOURCED}).",
            )
        )
    return tuple(found)


def _fed_by_one(installation: Installation) -> list[str]:
    feeds = [pump.receiver for pump in installation.pumps]
    return [name for name in dict.fromkeys(feeds) if feeds.count(name) == 1]
