"""How much of an assessment `check` and `demo` show on the terminal, and which options go together."""

from __future__ import annotations

import shlex
from collections.abc import Sequence
from pathlib import Path

from brimfast.assess.pipeline import Assessment
from brimfast.reports.blocks import Command
from brimfast.reports.terminal import show
from brimfast.reports.terminal_blocks import everything, topics_of
from brimfast.reports.terminal_parts import console
from brimfast.reports.terminal_summary import rest_of, summary
from brimfast.shared.errors import InputError, Problem, printable
from brimfast.shared.units import System

LONGEST = 24  # characters of a file's name, for commands that still fit their line


def one_way(whole: bool, topics: Sequence[str], plain: bool, other: str | None) -> None:
    """Raises InputError where options exclude each other; other: the option that shows something else."""
    chosen = [name for name, is_so in (("--all", whole), ("--topic", bool(topics)), ("--plain", plain)) if is_so]
    if other is not None and chosen:
        raise InputError([Problem("E-KEY-003", f"{chosen[0]} does not go with {other}; expected one of the two")])
    if whole and topics:
        raise InputError([Problem("E-KEY-003", "--all shows every topic; expected it or --topic")])


def no_folder(file: Path) -> InputError:
    return InputError([Problem("E-KEY-003", "--csv belongs to a folder of files; expected a folder", file=str(file))])


def not_of_a_folder(option: str) -> InputError:
    return InputError([Problem("E-KEY-003", f"{option} does not go with a folder; expected one file")])


def plain_or_json(plain: bool, json: bool) -> None:
    one_way(False, (), plain, "--json" if json else None)


def show_check(
    assessment: Assessment, file: Path, system: System, whole: bool, topics: Sequence[str], plain: bool
) -> None:
    if whole:
        show(everything(assessment, system), system, plain)
    elif topics:
        show(topics_of(topics, assessment, system), system, plain)
    else:
        show_summary(assessment, system, rest_of(_typed(file), assessment), plain)


def show_summary(assessment: Assessment, system: System, rest: Sequence[Command], plain: bool = False) -> None:
    show(summary(assessment, system, rest, console().width), system, plain)


def _typed(file: Path) -> str:
    """The file as one types it, or a word for it where that is long."""
    typed = shlex.quote(printable(str(file)))
    return typed if len(typed) <= LONGEST else "FILE"
