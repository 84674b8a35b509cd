"""The calculation sheet: each finding's steps, numbered as in the tables."""

from __future__ import annotations

from collections.abc import Iterable

from brimfast.reports import words
from brimfast.reports.equations import step_markup
from brimfast.reports.pdf_flow import EQUATION, H1, H2, SMALL, WITH, plain

# isort: split
from reportlab.platypus import Flowable, KeepTogether, PageBreak, Paragraph

from brimfast.assess.pipeline import Assessment
from brimfast.shared.findings import Step
from brimfast.shared.units import System


def _line(step: Step, system: System) -> list[Flowable]:
    first, second = step_markup(step, system)
    return [Paragraph(first, EQUATION), *([Paragraph(second, WITH)] if second else [])]


def _headed(heading: str, steps: Iterable[Step], system: System) -> list[Flowable]:
    """A heading that stays with its first line; no line is torn from the numbers put into it."""
    lines = [_line(step, system) for step in steps]
    return [KeepTogether([plain(heading, H2), *lines[0]]), *(KeepTogether(line) for line in lines[1:])]


def calculation(assessment: Assessment, system: System) -> list[Flowable]:
    """Each finding's steps; those of a body's force and of its sloshing stand once, before the findings that use them."""
    tags = words.finding_numbers(assessment)
    story: list[Flowable] = [
        PageBreak(),
        plain("Calculation", H1),
        plain(
            "For whoever checks. Each line: symbol = equation = result; below it the numbers put in, and the source. "
            "Verdicts: holds up to a ratio of 0.8, close up to 1.0, short above.",
            SMALL,
        ),
    ]
    if assessment.motion.steps:
        story += _headed("Ground motion", assessment.motion.steps, system)
    shown: set[int] = set()
    for force in assessment.forces.values():
        story += _headed(f"Force on {force.subject}", [step for step in force.steps if id(step) not in shown], system)
        shown.update(id(step) for step in force.steps)
    for body in assessment.bodies:
        for direction in body.directions:
            lines = [step for step in direction.sloshing.steps if id(step) not in shown] if direction.sloshing else []
            if lines:
                story += _headed(f"Sloshing: {words.plain_name(body.name)}, {direction.name}", lines, system)
                shown.update(id(step) for step in lines)
    for topic in words.TOPICS:
        for finding in assessment.findings:
            if finding.topic != topic:
                continue
            rest = [step for step in finding.steps if id(step) not in shown]
            if not rest:
                continue
            result = " ".join(
                (
                    f"{words.amount(finding.demand, finding, system)} against",
                    f"{words.amount(finding.capacity, finding, system)}: ratio",
                    f"{finding.ratio:.3f}," if finding.ratio is not None else "none, so",
                    finding.verdict,
                )
            )
            heading = f"{tags[finding.id]}  {finding.subject}: {finding.question}"
            story += [*_headed(heading, rest, system), plain(words.capital(result) + ".", EQUATION)]
    return story
