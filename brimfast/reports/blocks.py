"""What the terminal says, as blocks without a look: one builder for those who see and those who listen."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from brimfast.shared.findings import Finding


@dataclass(frozen=True)
class Heading:
    text: str


@dataclass(frozen=True)
class Line:
    """A paragraph; its mark is for the eye. said: the same for the ear, where that needs other words."""

    text: str
    indent: int = 0
    style: str = ""
    mark: str = ""
    said: str = ""


@dataclass(frozen=True)
class Gap:
    """An empty line."""


@dataclass(frozen=True)
class Counts:
    """How many checks come out how."""

    number: dict[str, int]


@dataclass(frozen=True)
class Cell:
    """A cell with a look of its own, or with other words for the ear."""

    text: str
    style: str = ""
    said: str = ""


@dataclass(frozen=True)
class Grid:
    """Columns with their titles, and whether they are set to the right; the first cells say what a row is about."""

    columns: tuple[tuple[str, bool], ...]
    rows: Sequence[Sequence[str | Cell]]
    total: bool = False  # whether the last row sums up
    names: int = 1  # how many cells say what a row is about


@dataclass(frozen=True)
class Findings:
    """Every finding of one topic."""

    findings: Sequence[Finding]


@dataclass(frozen=True)
class Reasons:
    """Why those findings are not assessed, each reason once; whoever listens hears it with each finding."""

    findings: Sequence[Finding]
    title: str = ""


@dataclass(frozen=True)
class Worst:
    """One of the worst; brief: without its figures."""

    finding: Finding
    brief: bool = False


@dataclass(frozen=True)
class Command:
    """What to type, and what that shows."""

    command: str
    shows: str


Block = Heading | Line | Gap | Counts | Grid | Findings | Reasons | Worst | Command
