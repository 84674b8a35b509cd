"""The first screen: the answer, the worst, what to do first, where the rest is."""

from __future__ import annotations

import io
from collections.abc import Sequence

from brimfast.assess.pipeline import Assessment
from brimfast.reports import choice, spill_words, summary_words, words
from brimfast.reports.blocks import Block, Command, Counts, Gap, Heading, Line, Worst
from brimfast.reports.terminal import print_blocks
from brimfast.reports.terminal_blocks import named
from brimfast.reports.terminal_parts import console
from brimfast.shared.units import System

SCREEN = 30  # lines that the summary keeps to where names are not too long
MOST, LEAST = 5, 3  # of the worst


def summary(assessment: Assessment, system: System, rest: Sequence[Command], width: int) -> list[Block]:
    """Five of the worst, or as many as leave it on one screen of that width, but three."""
    for count in range(MOST, LEAST, -1):
        found = _summary(assessment, system, rest, count)
        if _lines(found, system, width) <= SCREEN:
            return found
    return _summary(assessment, system, rest, LEAST)


def rest_of(file: str, assessment: Assessment) -> list[Command]:
    """How to see more of a file."""
    topics = [finding.topic for finding in assessment.findings]
    topic = "joints" if "joints" in topics else topics[0]
    return [
        Command(f"brimfast check {file} --all", "every table, reason and caution"),
        Command(f"brimfast check {file} --topic {topic}", "one topic (--help names them)"),
        Command(f"brimfast report {file} -o report.html", "the whole report (or .pdf)"),
        Command(f"brimfast improve {file}", "what to fix first, with proof"),
    ]


def _summary(assessment: Assessment, system: System, rest: Sequence[Command], count: int) -> list[Block]:
    found: list[Block] = [
        named(assessment),
        Gap(),
        Line(summary_words.headline(assessment), style="bold"),
        Counts(choice.counts(assessment)),
        Line(spill_words.weight_and_water(assessment, system)),
    ]
    if assessment.short_at_ends:
        found.append(Line("At the ends of the file's ranges more is short: see the cautions.", style="bold"))
    worst = choice.worst(assessment, count)
    if worst:
        found += [Heading("Worst first"), *(Worst(finding, brief=True) for finding in worst)]
    steps = summary_words.first_steps(assessment)
    if steps:
        found.append(Heading("Do first"))
        for index, first in enumerate(steps, start=1):
            found.append(Line(f"{index}. {words.capital(first.measure)} ({words.listed(first.subjects, 2)})", 2))
    return [*found, Heading("For more"), *rest, Line(words.DEFER, style="dim")]


def _lines(blocks: list[Block], system: System, width: int) -> int:
    """How many lines that takes."""
    out = io.StringIO()
    screen = console(out)
    screen.width = width
    print_blocks(blocks, system, screen)
    return out.getvalue().count("\n")
