"""A bar on long work: what is being done, and how far; gone when it is done."""

from __future__ import annotations

import sys
from collections.abc import Callable
from contextlib import AbstractContextManager, nullcontext
from typing import Any

Report = Callable[[str, int, int], None]


def bar(before: str, quiet: bool = False) -> AbstractContextManager[Report | None]:
    """On a terminal; nothing in a pipe, or for those who would hear it all. before: what goes on until the first report."""
    if quiet or not sys.stderr.isatty():
        return nullcontext()
    return _Bar(before)


class _Bar:
    def __init__(self, before: str) -> None:
        self.before = before

    def __enter__(self) -> Report:
        from rich.console import Console
        from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeElapsedColumn

        columns: list[Any] = [TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn(), TimeElapsedColumn()]
        self.progress = Progress(*columns, console=Console(stderr=True), transient=True)
        self.progress.start()
        self.task = self.progress.add_task(self.before, total=None)
        return self.report

    def report(self, what: str, done: int, of: int) -> None:
        self.progress.update(self.task, description=what, completed=done, total=of)

    def __exit__(self, *_: object) -> None:
        self.progress.stop()
