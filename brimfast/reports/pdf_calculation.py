"""The calculation sheet: each finding's steps, numbered as in the tables."""

from __future__ import annotations

from collections.abc import Iterable

from brimfast.reports.calculation_content import INTRODUCTION, sheets
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
    story: list[Flowable] = [PageBreak(), plain("Calculation", H1), plain(INTRODUCTION, SMALL)]
    for sheet in sheets(assessment, system):
        heading = f"{sheet.number}  {sheet.heading}" if sheet.number else sheet.heading
        story += _headed(heading, sheet.steps, system)
        if sheet.result:
            story.append(plain(sheet.result, EQUATION))
    return story
