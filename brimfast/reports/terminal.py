"""The terminal face for those who see: blocks as wrapped lines, tables and colours."""

from __future__ import annotations

from collections.abc import Iterable

from rich.console import Console
from rich.text import Text

from brimfast.assess.pipeline import Assessment
from brimfast.reports import choice, parts_content, words
from brimfast.reports.blocks import Block, Cell, Command, Counts, Findings, Gap, Grid, Heading, Line, Reasons, Worst
from brimfast.reports.plain_terminal import plain_text
from brimfast.reports.terminal_blocks import everything
from brimfast.reports.terminal_parts import STYLES, console, heading, row, table, wrapped
from brimfast.shared.findings import Finding
from brimfast.shared.units import System

FINDING_COLUMNS = (
    ("what", False),
    ("question", False),
    ("acts", True),
    ("may", True),
    ("ratio", True),
    ("verdict", False),
)
TYPED = 40  # columns for what to type, before what it shows


def print_assessment(assessment: Assessment, system: System, out: Console) -> None:
    """All there is."""
    print_blocks(everything(assessment, system), system, out)


def show(blocks: Iterable[Block], system: System, plain: bool) -> None:
    """On the terminal, for the eye or (plain) for the ear."""
    if plain:
        print(plain_text(blocks, system))
    else:
        print_blocks(blocks, system, console())


def print_blocks(blocks: Iterable[Block], system: System, out: Console) -> None:
    for block in blocks:
        match block:
            case Heading(text):
                heading(text, out)
            case Line():
                text = f"{block.mark} {block.text}" if block.mark else block.text
                wrapped(text, out, block.indent, block.style)
            case Gap():
                out.print()
            case Counts(number):
                out.print(Text(_counted(number)))
            case Grid():
                _grid(block, out)
            case Findings(findings):
                _findings(findings, system, out)
            case Reasons(findings, title):
                if title:
                    heading(title, out)
                _reasons(findings, out)
            case Worst():
                _worst(block, system, out)
            case Command(command, shows):
                wrapped(f"{command:<{TYPED}} {shows}", out, 2)


def _counted(number: dict[str, int]) -> str:
    return (
        f"✗ {number['short']} short   ~ {number['close']} close   ✓ {number['holds']} hold   "
        f"– {number['not assessed']} not assessed"
    )


def _grid(block: Grid, out: Console) -> None:
    grid = table(block.columns)
    for index, cells in enumerate(block.rows):
        strong = "bold" if block.total and index == len(block.rows) - 1 else ""
        row(grid, *(_cell(cell, strong) for cell in cells))
    out.print(grid)


def _cell(cell: str | Cell, strong: str) -> Text:
    return Text(cell, style=strong) if isinstance(cell, str) else Text(cell.text, style=cell.style or strong)


def _findings(findings: Iterable[Finding], system: System, out: Console) -> None:
    grid = table(FINDING_COLUMNS)
    for finding in findings:
        row(
            grid,
            finding.subject,
            finding.question,
            words.amount(finding.demand, finding, system),
            words.amount(finding.capacity, finding, system),
            parts_content.plain_ratio(finding),
            Text(words.verdict_text(finding), style=STYLES[finding.verdict]),
        )
    out.print(grid)


def _reasons(findings: Iterable[Finding], out: Console) -> None:
    reasons: dict[str, list[str]] = {}
    for finding in findings:
        reasons.setdefault(finding.reason, []).append(f"{finding.subject}: {finding.question}")
    for reason, subjects in reasons.items():
        for subject in subjects:
            wrapped(f"– {subject}", out, 2)
        wrapped(reason + ".", out, 4, "dim")


def _worst(block: Worst, system: System, out: Console) -> None:
    finding = block.finding
    much = f", {words.how_much(finding)}" if block.brief else ""
    lead = f"{words.MARKS[finding.verdict]} {choice.DANGERS[choice.danger(finding)]}{much}: "
    wrapped(f"{lead}{finding.subject}. {finding.question}", out, 2, STYLES[finding.verdict])
    if not block.brief:
        wrapped(words.sentence(finding, system), out, 4)
