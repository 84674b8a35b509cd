"""Which findings come first, how many there are of each kind, and their numbers; the same in all faces."""

from __future__ import annotations

import math

from brimfast.assess.pipeline import Assessment, Seen
from brimfast.shared.findings import Finding, severity

TOPICS = {
    "floor": "Floor",
    "members": "Timber",
    "stability": "Tipping and sliding",
    "sway": "How it sways",
    "hung": "What hangs",
    "joints": "Joints",
    "slosh": "Sloshing",
    "spill": "Water on the floor",
    "exposure": "What it may cost",
    "pipes": "Pipes and pumps, by practice",
}

DANGERS = {
    "now": "overloaded now",
    "falls": "falls or folds",
    "slides": "slides",
    "sways": "sways too far",
    "swings": "swings and hits",
    "water": "spills",
    "splashes": "splashes over",
}


def danger(finding: Finding) -> str:
    """What a shortfall would mean: overloaded now, before any earthquake; falls or folds in one; slides; sways; spills."""
    id = finding.id
    if finding.topic == "spill":
        return "water"
    if finding.topic == "slosh":
        return "splashes"
    if finding.topic == "hung":
        return "swings" if id.endswith("/swing") else "falls"
    if finding.always:
        return "now"
    if finding.topic == "sway":
        return "slides" if id.endswith("/feet") else "sways"
    return "slides" if id.startswith(("sliding", "attachment")) else "falls"


def worst(assessment: Seen, count: int = 3) -> list[Finding]:
    """The worst short or close findings: of each danger the worst first, then the next of each."""
    groups: dict[str, list[Finding]] = {name: [] for name in DANGERS}
    for finding in sorted(assessment.findings, key=severity):
        if finding.verdict in ("short", "close") and not (finding.code_position or finding.practice):
            group = groups[danger(finding)]
            if all(finding.subject != one.subject for one in group):
                group.append(finding)
    chosen: list[Finding] = []
    depth = 0
    while len(chosen) < count and any(len(group) > depth for group in groups.values()):
        for group in groups.values():
            if len(group) > depth and len(chosen) < count:
                chosen.append(group[depth])
        depth += 1
    return sorted(chosen, key=lambda finding: list(DANGERS).index(danger(finding)))


def counts(assessment: Seen) -> dict[str, int]:
    """How many checks come out how; what is practice alone stands apart and is not counted."""
    found = dict.fromkeys(("short", "close", "holds", "not assessed"), 0)
    for finding in assessment.findings:
        if not finding.practice:
            found[finding.verdict] += 1
    return found


def most_pressure(assessment: Assessment) -> float | None:
    """Mean pressure under the body that presses the floor most, Pa."""
    means = (one.demand for one in assessment.findings if one.id.startswith("floor/") and one.id.endswith("/mean"))
    return max((one for one in means if one), default=None)


def water_that_can_leave(assessment: Assessment) -> float:
    """m³, of all vessels."""
    return math.fsum(item.water_volume for item in assessment.vessels.values())


def finding_numbers(assessment: Seen) -> dict[str, str]:
    """F1, F2, … in the order of the report; the calculation sheet uses the same."""
    ordered = [finding for topic in TOPICS for finding in assessment.findings if finding.topic == topic]
    return {finding.id: f"F{index}" for index, finding in enumerate(ordered, start=1)}
