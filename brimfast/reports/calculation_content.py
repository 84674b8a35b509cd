"""The calculation sheet as headings and steps: each step once, before the findings that use it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from brimfast.assess.pipeline import Assessment
from brimfast.reports import words
from brimfast.shared.findings import Finding, Step
from brimfast.shared.units import System

INTRODUCTION = (
    "For whoever checks. Each line: symbol = equation = result; below it the numbers put in, and the source. "
    "Verdicts: holds up to a ratio of 0.8, close up to 1.0, short above."
)


@dataclass(frozen=True)
class Sheet:
    """A heading, its steps, and of a finding what comes out."""

    heading: str
    steps: tuple[Step, ...]
    number: str = ""  # F1, F2, … where it is a finding's
    result: str = ""


def sheets(assessment: Assessment, system: System) -> Iterator[Sheet]:
    """The ground, then each body's force and sloshing, then each finding in the order of the tables."""
    tags = words.finding_numbers(assessment)
    if assessment.motion.steps:
        yield Sheet("Ground motion", tuple(assessment.motion.steps))
    shown: set[int] = set()
    for force in assessment.forces.values():
        yield Sheet(f"Force on {force.subject}", tuple(one for one in force.steps if id(one) not in shown))
        shown.update(id(step) for step in force.steps)
    for body in assessment.bodies:
        for direction in body.directions:
            lines = [one for one in direction.sloshing.steps if id(one) not in shown] if direction.sloshing else []
            if lines:
                yield Sheet(f"Sloshing: {words.plain_name(body.name)}, {direction.name}", tuple(lines))
                shown.update(id(step) for step in lines)
    for topic in words.TOPICS:
        for finding in assessment.findings:
            rest = tuple(step for step in finding.steps if id(step) not in shown) if finding.topic == topic else ()
            if rest:
                heading = f"{finding.subject}: {finding.question}"
                yield Sheet(heading, rest, tags[finding.id], _result(finding, system))


def _result(finding: Finding, system: System) -> str:
    told = " ".join(
        (
            f"{words.amount(finding.demand, finding, system)} against",
            f"{words.amount(finding.capacity, finding, system)}: ratio",
            f"{finding.ratio:.3f}," if finding.ratio is not None else "none, so",
            finding.verdict,
        )
    )
    return words.capital(told) + "."
