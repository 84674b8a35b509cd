"""From a read file to its plans, with a bar on the way; and the file with a plan."""

from __future__ import annotations

import os

from brimfast.assess.plan.improve import By, Improvement, Plan, improve
from brimfast.reports.progress import bar
from brimfast.shared.errors import InputError
from brimfast.shared.reading import Source, located, read_bytes
from brimfast.shared.rewriting import rewritten

WORTH_PROCESSES = 1  # racks from which it pays to begin processes


def improved(source: Source, by: By, tries: int, jobs: int) -> Improvement:
    """Problems found in the tables get their place in the file. jobs 0: as many processes as there are cores."""
    cores = jobs or os.cpu_count() or 1
    processes = cores if len(source.installation.racks) >= WORTH_PROCESSES or jobs else 1
    with bar("as it stands") as tell:
        report = None if tell is None else lambda what, done, of: tell(f"trying: {what}", done, of)
        try:
            return improve(source.installation, source.raw, by=by, tries=tries, processes=processes, report=report)
        except InputError as error:
            raise InputError(located(error.problems, source)) from None


def plan_bytes(source: Source, plan: Plan) -> bytes:
    """The file with the plan's changes, comments kept; read back, it is the installation that was assessed."""
    data = rewritten(source.text, plan.edits).encode("utf-8")
    again = read_bytes(data, source.file)
    if again.installation != plan.assessment.installation:
        raise RuntimeError("the file that would be written is not the installation that was assessed")
    return data
