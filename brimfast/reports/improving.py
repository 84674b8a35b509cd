"""From a read file to its plans, with a bar on the way; and the file with a plan."""

from __future__ import annotations

import codecs
import os
import sys
from collections.abc import Callable
from contextlib import AbstractContextManager, nullcontext
from typing import Any

from brimfast.assess.plan.improve import By, Improvement, Plan, improve
from brimfast.shared.errors import InputError
from brimfast.shared.installation.model import Installation
from brimfast.shared.reading import Source, located, read_bytes
from brimfast.shared.rewriting import rewritten
from brimfast.shared.units import System

WORTH_PROCESSES = 1  # racks from which it pays to begin processes


def improved(source: Source, by: By, tries: int, jobs: int, system: System) -> Improvement:
    """Problems found in the tables get their place in the file. jobs 0: as many processes as there are cores.

    system: what is bought and said is of these units, whatever the file's own are.
    """
    installation = source.installation.model_copy(update={"units": system})
    raw = {**source.raw, "units": system}
    cores = jobs or os.cpu_count() or 1
    processes = cores if len(source.installation.racks) >= WORTH_PROCESSES or jobs else 1
    with _bar() as report:
        try:
            return improve(installation, raw, by=by, tries=tries, processes=processes, report=report)
        except InputError as error:
            raise InputError(located(error.problems, source)) from None


def _in_units_of(installation: Installation, other: Installation) -> Installation:
    return installation.model_copy(update={"units": other.units})


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
    """The file with the plan's changes, all else as it was to the byte; read back, it is the installation that was assessed."""
    mark = codecs.BOM_UTF8 if source.data.startswith(codecs.BOM_UTF8) else b""
    data = mark + rewritten(source.data.decode("utf-8-sig"), plan.edits).encode("utf-8")
    again = read_bytes(data, source.file).installation
    if again != _in_units_of(plan.assessment.installation, source.installation):
        raise RuntimeError("the file that would be written is not the installation that was assessed")
    return data
