"""A folder of installation files, each checked by itself, in processes beside each other; one that is wrong stops no other."""

from __future__ import annotations

import contextlib
import csv
import io
from collections.abc import Iterator, Sequence
from concurrent.futures import Future
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass
from pathlib import Path

from brimfast.assess.pipeline import Assessment
from brimfast.assess.processes import Workers, workers
from brimfast.reports import choice, words
from brimfast.reports.blocks import Block, Cell, Gap, Grid, Heading, Line
from brimfast.reports.progress import Report
from brimfast.reports.run import assess_source, not_the_input, read_source
from brimfast.shared.constants import LITRE
from brimfast.shared.errors import BrimfastError, InputError, OutputError, Problem, printable
from brimfast.shared.units import number_text
from brimfast.shared.writing import must_be_new

ENDINGS = (".yaml", ".yml")
AT_ONCE = 8  # files that a process takes at a time
HOLDS, SHORT, WRONG, FAULT = 0, 1, 2, 3
SAID = {HOLDS: "nothing short", SHORT: "short", WRONG: "not read", FAULT: "a fault of ours"}
FORMULA = ("=", "+", "-", "@", "\t", "\r")  # what a spreadsheet would take as a formula
COLUMNS = (
    "file",
    "exit code",
    "installation",
    "short",
    "close",
    "holds",
    "not assessed",
    "worst ratio",
    "worst subject",
    "worst question",
    "loaded weight kg",
    "worst mishap L",
    "leaves the room L",
    "problem",
)


@dataclass(frozen=True)
class Row:
    """What one file comes to: the exit code that `check` would have, counts, the worst question; or its first problem."""

    file: str
    code: int
    name: str = ""
    short: int = 0
    close: int = 0
    holds: int = 0
    not_assessed: int = 0
    ratio: float | None = None  # None where nothing is short, or where there is no capacity at all
    subject: str = ""
    question: str = ""
    mass: float = 0.0  # kg
    spilt: float = 0.0  # m³, of the worst single mishap
    leaves: float = 0.0  # m³ of it, out of the room
    problem: str = ""


def files_of(folder: Path) -> list[Path]:
    """In the order of their names. Raises InputError where there are none."""
    try:
        entries = list(folder.iterdir())
    except OSError as error:
        reason = (error.strerror or "unknown reason").lower()
        raise InputError([Problem("E-FILE-001", f"can't be read: {reason}", file=str(folder))]) from None
    found = sorted(one for one in entries if one.suffix.lower() in ENDINGS and not one.name.startswith("."))
    if not found:
        message = f"this folder holds no file that ends in {' or '.join(ENDINGS)}; expected installation files"
        raise InputError([Problem("E-FILE-001", message, file=str(folder))])
    return found


def csv_target(csv: Path, inputs: Sequence[Path]) -> None:
    """Raises OutputError where a table must not go: onto an installation file, or under the name of one."""
    for path in inputs:
        not_the_input(path, csv)
    if csv.suffix.lower() in ENDINGS:
        message = f"a name in {csv.suffix} is that of an installation file; expected one such as all.csv"
        raise OutputError([Problem("E-FILE-003", message, file=str(csv))])
    must_be_new(csv, overwrite=True)


def row_of(path: Path) -> Row:
    """Never raises: what is wrong with a file, or with us, stands in its row."""
    try:
        return _row(path.name, assess_source(read_source(path)))
    except InputError as error:
        more = f" (and {len(error.problems) - 1} more)" if len(error.problems) > 1 else ""
        return Row(path.name, WRONG, problem=f"{error.problems[0].text()}{more}")
    except BrimfastError as error:
        return Row(path.name, WRONG, problem=printable(str(error)))
    except Exception as error:
        return Row(path.name, FAULT, problem=printable(f"{type(error).__name__}: {error}")[:200])


def _row(file: str, assessment: Assessment) -> Row:
    counted = [one for one in assessment.findings if not one.practice]
    number = {
        verdict: sum(one.verdict == verdict for one in counted)
        for verdict in ("short", "close", "holds", "not assessed")
    }
    worst = next(iter(choice.worst(assessment, 1)), None)
    single = assessment.spill.worst
    return Row(
        file,
        SHORT if assessment.anything_short else HOLDS,
        assessment.installation.installation,
        number["short"],
        number["close"],
        number["holds"],
        number["not assessed"],
        worst.ratio if worst is not None else None,
        worst.subject if worst is not None else "",
        worst.question if worst is not None else "",
        assessment.total_mass,
        single.reached if single is not None else 0.0,
        single.leaves if single is not None else 0.0,
    )


def _rows(paths: Sequence[Path]) -> list[Row]:
    return [row_of(path) for path in paths]


def checked(paths: Sequence[Path], processes: int, report: Report | None = None) -> Iterator[Row]:
    """In the order of the files. A file that ends the process it is checked in is said to be a fault of ours, and no other."""
    wanted = min(processes, len(paths)) if processes > 1 and len(paths) > 1 else 0
    for done, row in enumerate(_all(paths, wanted), start=1):
        if report is not None:
            report("files checked", done, len(paths))
        yield row


def _all(paths: Sequence[Path], processes: int) -> Iterator[Row]:
    others = workers(processes)
    if others is None:
        yield from map(row_of, paths)
        return
    stopped = True
    try:
        parts = [paths[start : start + AT_ONCE] for start in range(0, len(paths), AT_ONCE)]
        waiting = [_submitted(others, part) for part in parts]
        for part, future in zip(parts, waiting, strict=True):
            yield from _told(future) or _one_by_one(part)
        stopped = False
    finally:
        others.end(stopped)


def _submitted(others: Workers, part: Sequence[Path]) -> Future[list[Row]] | None:
    with contextlib.suppress(BrokenProcessPool):
        return others.submit(_rows, part)
    return None


def _told(future: Future[list[Row]] | None) -> list[Row] | None:
    """None where a process ended, of this part or of another: all that wait end with it."""
    with contextlib.suppress(BrokenProcessPool):
        return future.result() if future is not None else None
    return None


def _one_by_one(paths: Sequence[Path]) -> Iterator[Row]:
    """Each in a process beside this one, so that what ends it is known, and ends nothing else."""
    other = workers(1)
    try:
        for path in paths:
            if other is None:
                yield row_of(path)
                continue
            rows = _told(_submitted(other, [path]))
            if rows is None:
                other.end(stopped=True)
                other = workers(1)
            yield from rows or [Row(path.name, FAULT, problem="the process that checked it ended")]
    finally:
        if other is not None:
            other.end(stopped=True)


def exit_code(rows: Sequence[Row]) -> int:
    """That of the worst: a fault of ours, a wrong file, something short."""
    return max((row.code for row in rows), default=HOLDS)


def as_csv(rows: Sequence[Row]) -> bytes:
    """One row a file, in SI; a name that a spreadsheet would take as a formula gets an apostrophe before it."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    for row in rows:
        taken = row.code in (HOLDS, SHORT)
        figures = (row.short, row.close, row.holds, row.not_assessed) if taken else ("",) * 4
        ratio = "" if row.ratio is None else f"{row.ratio:.6g}"
        amounts = (f"{row.mass:.6g}", f"{row.spilt / LITRE:.6g}", f"{row.leaves / LITRE:.6g}") if taken else ("",) * 3
        line = (row.file, row.code, row.name, *figures, ratio, row.subject, row.question, *amounts, row.problem)
        writer.writerow([_plain(cell) if isinstance(cell, str) else cell for cell in line])
    return out.getvalue().encode("utf-8")


def _plain(cell: str) -> str:
    numeric = cell.replace(".", "", 1).replace("e-", "", 1).isdigit()
    return f"'{cell}" if cell.startswith(FORMULA) and not numeric else cell


def blocks(rows: Sequence[Row], folder: Path) -> list[Block]:
    """How many come out how; each with its worst question; what is wrong with those that were not read."""
    taken = [row for row in rows if row.code in (HOLDS, SHORT)]
    short = sum(row.code == SHORT for row in rows)
    wrong = [row for row in rows if row.code in (WRONG, FAULT)]
    found: list[Block] = [
        Heading(f"{len(rows)} file{'s' if len(rows) != 1 else ''} in {printable(str(folder))}"),
        Line(f"{short} with something short, {len(taken) - short} without, {len(wrong)} not read."),
        Line(words.DEFER),
        Gap(),
    ]
    if taken:
        columns = (
            ("file", False),
            ("short", True),
            ("close", True),
            ("not assessed", True),
            ("ratio", True),
            ("worst question", False),
        )
        found.append(Grid(columns, [_cells(row) for row in taken]))
    if wrong:
        found += [Gap(), Heading("Not read")]
        found += [
            Line(row.problem if row.code == WRONG else f"{row.file}: {SAID[FAULT]}: {row.problem}", 2) for row in wrong
        ]
    return found


def _cells(row: Row) -> list[str | Cell]:
    worst = "none" if row.ratio is None and row.subject else number_text(row.ratio, 3) if row.ratio is not None else "–"
    said = "no capacity" if worst == "none" else ""
    of = f"{row.subject}: {row.question}" if row.subject else "nothing is short or close"
    return [printable(row.file), str(row.short), str(row.close), str(row.not_assessed), Cell(worst, said=said), of]
