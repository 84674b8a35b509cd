"""From a read file to its plans, with a bar on the way; and the file with a plan."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable
from contextlib import AbstractContextManager, nullcontext
from typing import Any

from brimfast.assess.plan.improve import By, Improvement, Plan, improve
from brimfast.shared.errors import InputError
from brimfast.shared.reading import Source, located, read_bytes
from brimfast.shared.rewriting import rewritten

WORTH_PROCESSES = 1  # racks from which it pays to begin processes


def improved(source: Source, by: By, tries: int, jobs: int) -> Improvement:
    """Problems found in the tables get their place in the file. jobs 0: as many processes as there are cores."""
    cores = jobs or os.cpu_count() or 1
    processes = cores if len(source.installation.racks) >= WORTH_PROCESSES or jobs else 1
    with _bar() as report:
        try:
            return improve(source.installation, source.raw, by=by, tries=tries, processes=processes, report=report)
        except InputError as error:
            raise InputError(located(error.problems, source)) from None


def _bar() -> AbstractContextManager[Callable[[str, int, int], None] | None]:
    """A bar on a terminal, nothing in a pipe."""
    if not sys.stderr.isatty():
        return nullcontext()
    return _Bar()


class _Bar:
    """What is being tried, and how far; gone when it is done."""

    def __enter__(self) -> Callable[[str, int, int], None]:
        from rich.console import Console
        from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeElapsedColumn

        columns: list[Any] = [TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn(), TimeElapsedColumn()]
        self.progress = Progress(*columns, console=Console(stderr=True), transient=True)
        self.progress.start()
        self.task = self.progress.add_task("as it stands", total=None)
        return self.report

    def report(self, what: str, done: int, of: int) -> None:
        self.progress.update(self.task, description=f"trying: {what}", completed=done, total=of)

    def __exit__(self, *_: object) -> None:
        self.progress.stop()


def plan_bytes(source: Source, plan: Plan) -> bytes:
    """The file with the plan's changes, comments kept; read back, it is the installation that was assessed."""
    data = rewritten(source.text, plan.edits).encode("utf-8")
    again = read_bytes(data, source.file)
    if again.installation != plan.assessment.installation:
        raise RuntimeError("the file that would be written is not the installation that was assessed")
    return data
