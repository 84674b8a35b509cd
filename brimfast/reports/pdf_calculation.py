"""The calculation sheet: inputs and assumptions first, then every equation in the order of the load path."""

from __future__ import annotations

from collections.abc import Iterable

from brimfast.reports import choice
from brimfast.reports import parts_content as content
from brimfast.reports.equations import step_markup, symbol_markup, with_symbols
from brimfast.reports.inputs_table import input_rows
from brimfast.reports.pdf_flow import (
    BODY,
    EQUATION,
    ROOM,
    SMALL,
    WITH,
    Equation,
    Paragraph,
    lemma,
    part,
    plain,
    section,
    table,
)
from brimfast.reports.pdf_parts import PLACE, TABLE, assumptions, confirm, frame_tables
from brimfast.reports.pdf_style import QUIET
from brimfast.reports.sheet import FRAME, INTRODUCTION, MOTION, Block, Line, Section, Sheet, motion_text, outcome

# isort: split
from reportlab.platypus import CondPageBreak, Flowable, KeepTogether, PageBreak

from brimfast.assess.pipeline import Assessment
from brimfast.shared.units import System


def engineer(assessment: Assessment, numbered: Sheet, system: System, width: float) -> list[Flowable]:
    """All of the engineer's part."""
    return [
        PageBreak(),
        part("For the engineer", "For the engineer: inputs, assumptions, calculation"),
        plain(
            "What the calculation rests on stands first: what the file gives, what is taken for granted, and the values that are "
            "not confirmed. The calculation follows the load from the weights to the floor, and then the water. Equations are "
            "numbered (1), (2) and so on, findings F1, F2 and so on; either part names the page of the other.",
            BODY,
        ),
        *_inputs(assessment, system, width),
        *assumptions(assessment),
        *confirm(assessment, width),
        *calculation(assessment, numbered, system, width),
    ]


def _inputs(assessment: Assessment, system: System, width: float) -> list[Flowable]:
    rows = input_rows(assessment.installation, system)
    return [
        CondPageBreak(ROOM),
        section(content.INPUTS),
        plain("Keys as in the file; what it does not give is in the two lists that follow.", SMALL),
        table(("what", "keys and values"), rows, (width * 0.2, width * 0.8), set()),
    ]


def calculation(assessment: Assessment, numbered: Sheet, system: System, width: float) -> list[Flowable]:
    story: list[Flowable] = [
        CondPageBreak(ROOM),
        section(content.CALCULATION),
        plain(INTRODUCTION, SMALL),
    ]
    for one in numbered.sections:
        story += _section(one, assessment, system, width)
    return story


def _section(one: Section, assessment: Assessment, system: System, width: float) -> list[Flowable]:
    story: list[Flowable] = [CondPageBreak(ROOM), section(one.title)]
    if one.key == MOTION:
        story.append(Paragraph(with_symbols(motion_text(assessment)), SMALL))
    if one.key == FRAME:
        story += frame_tables(assessment, system, width)
    tags = choice.finding_numbers(assessment)
    for block in one.blocks:
        story += _block(block, tags, system)
    return story


def _line(line: Line, system: System) -> Equation:
    first, second = step_markup(line.step, system)
    put_in = f'<br/><font size="7.5" color="{QUIET.hexval()}">{second}</font>' if second else ""
    equation = Equation(first + put_in, EQUATION)
    equation.number = line.number
    return equation


def _block(block: Block, tags: dict[str, str], system: System) -> list[Flowable]:
    """A heading that stays with its first line."""
    tag = tags[block.finding.id] if block.finding is not None else ""
    key, back = (PLACE.format(tag), TABLE.format(tag)) if tag else (f"calculation: {block.title}", "")
    lines: list[Flowable] = []
    if block.earlier:
        lines.append(Paragraph(f"With {earlier_markup(block.earlier)} from above.", WITH))
    lines += [_line(line, system) for line in block.lines]
    if block.finding is not None:
        lines.append(Paragraph(with_symbols(outcome(block.finding, system)), EQUATION))
    if not lines:
        return []
    bound = 2 if block.earlier else 1
    return [KeepTogether([lemma(block.title, key, back), *lines[:bound]]), *lines[bound:]]


def earlier_markup(lines: Iterable[Line]) -> str:
    """Symbols and numbers of lines that stand further up; neighbours of one run are written as a range."""
    runs: list[list[Line]] = []
    for line in sorted(lines, key=lambda one: one.number):
        if runs and runs[-1][-1].number == line.number - 1:
            runs[-1].append(line)
        else:
            runs.append([line])
    return ", ".join(_run(run) for run in runs)


def _run(run: list[Line]) -> str:
    first, last = run[0], run[-1]
    if len(run) < 3:
        return ", ".join(f"{symbol_markup(line.step.symbol)} ({line.number})" for line in run)
    return f"{symbol_markup(first.step.symbol)} to {symbol_markup(last.step.symbol)} ({first.number}–{last.number})"
