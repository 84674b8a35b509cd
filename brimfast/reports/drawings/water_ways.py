"""Which way does the water of the worst mishap go: from which vessel to the floor, to drains, out?"""

from __future__ import annotations

from dataclasses import dataclass

from brimfast.assess.network.runs import AT_ONCE, Run
from brimfast.assess.pipeline import Assessment


@dataclass(frozen=True)
class Ways:
    """The worst single mishap: the vessel most of it comes from ('' where none), and volumes (m³)."""

    run: Run
    source: str
    reached: float
    drained: float
    leaves: float


def water_ways(assessment: Assessment) -> Ways | None:
    """None where no mishap by itself puts water on the floor."""
    worst = assessment.spill.worst
    if worst is None:
        return None
    return Ways(worst, _source(assessment, worst), worst.reached, worst.drained, worst.leaves)


def _source(assessment: Assessment, run: Run) -> str:
    """Of the largest path to the floor: the vessel it begins in, or that a supply was to fill."""
    vessels = {vessel.name for vessel in assessment.installation.vessels}
    for path, _ in run.paths:
        if path == AT_ONCE:
            return max(run.event.at_once, key=lambda name: run.event.at_once[name])
        link = next((one for one in run.event.links(assessment.spill.network) if one.name == path), None)
        if link is not None and link.source in vessels:
            return link.source
    filled = next((one.receiver for one in assessment.installation.supplies if one.name in run.event.subject), "")
    return filled if filled in vessels else run.event.subject if run.event.subject in vessels else ""
