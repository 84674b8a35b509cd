"""From a read file to a result: the steps that all commands share."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

from brimfast.assess.pipeline import Assessment, assess
from brimfast.shared.errors import InputError, OutputError, Problem
from brimfast.shared.installation.model import Installation
from brimfast.shared.reading import Source, located
from brimfast.shared.units import System
from brimfast.shared.writing import write_whole


def assess_source(source: Source) -> Assessment:
    """The assessment of a read file; problems found in the tables get their place in the file."""
    try:
        return assess(source.installation)
    except InputError as error:
        raise InputError(located(error.problems, source)) from None


def report_date(text: str | None) -> date:
    if text is None:
        return date.today()
    try:
        return date.fromisoformat(text)
    except ValueError:
        message = f"--date: found {text[:40]!r}; expected a date such as 2026-11-25"
        raise InputError([Problem("E-TYPE-001", message)]) from None


def not_the_input(file: Path, target: Path) -> None:
    """A report must never replace the installation file that it is made from."""
    try:
        same = target.exists() and file.samefile(target)
    except OSError:
        return  # writing will say what is wrong with it
    if same:
        raise OutputError(
            [Problem("E-FILE-003", "this is the installation file; expected another name", file=str(target))]
        )


def write_pdf(assessment: Assessment, source: Source, system: System, day: date, target: Path) -> None:
    from brimfast.reports.pdf import report_bytes

    write_whole(target, report_bytes(assessment, source.sha256, system, day))


def installation_schema() -> dict[str, Any]:
    schema = Installation.model_json_schema(by_alias=True)
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": "brimfast installation", **schema}
