"""What every table and text on the terminal is made of."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable
from typing import IO

from rich import box
from rich.console import Console
from rich.table import Table
from rich.text import Text

STYLES = {"short": "bold red", "close": "yellow", "holds": "green", "not assessed": "dim"}


class _Console(Console):
    def on_broken_pipe(self) -> None:
        """Whoever began the command decides what that means."""
        raise BrokenPipeError


def console(file: IO[str] | None = None) -> Console:
    return _Console(file=file, highlight=False, markup=False, emoji=False, soft_wrap=False)


def heading(title: str, out: Console) -> None:
    out.print()
    out.print(Text(title, style="bold"))


def wrapped(text: str, out: Console, indent: int = 0, style: str = "") -> None:
    for line in textwrap.wrap(text, max(out.width - indent, 8), break_on_hyphens=False):
        out.print(Text(" " * indent + line, style=style))


def table(columns: Iterable[tuple[str, bool]]) -> Table:
    found = Table(box=box.SIMPLE_HEAD, pad_edge=False, padding=(0, 1, 0, 0), header_style="bold")
    for title, right in columns:
        found.add_column(title, justify="right" if right else "left", overflow="fold")
    return found


def row(to: Table, *cells: str | Text) -> None:
    to.add_row(*(cell if isinstance(cell, Text) else Text(cell) for cell in cells))
