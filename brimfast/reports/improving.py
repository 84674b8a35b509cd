"""From a read file to its plans, with a bar on the way; and the file with a plan."""

from __future__ import annotations

import codecs
import os

from brimfast.assess.plan.improve import By, Improvement, Plan, improve
from brimfast.reports.progress import bar
from brimfast.shared.errors import InputError
from brimfast.shared.installation.model import Installation
from brimfast.shared.reading import Source, located, read_bytes
from brimfast.shared.rewriting import rewritten
from brimfast.shared.units import System


def improved(source: Source, by: By, tries: int, jobs: int, system: System, quiet: bool = False) -> Improvement:
    """Problems found in the tables get their place in the file. jobs 0: as many processes as there are cores.

    system: what is bought and said is of these units, whatever the file's own are.
    """
    installation = source.installation.model_copy(update={"units": system})
    raw = {**source.raw, "units": system}
    cores = jobs or os.cpu_count() or 1
    processes = cores if source.installation.racks or jobs else 1  # without racks there is too little to do
    with bar("as it stands", quiet) as tell:
        report = None if tell is None else lambda what, done, of: tell(f"trying: {what}", done, of)
        try:
            return improve(installation, raw, by=by, tries=tries, processes=processes, report=report)
        except InputError as error:
            raise InputError(located(error.problems, source)) from None


def _in_units_of(installation: Installation, other: Installation) -> Installation:
    return installation.model_copy(update={"units": other.units})


def plan_bytes(source: Source, plan: Plan) -> bytes:
    """The file with the plan's changes, all else as it was to the byte; read back, it is the installation that was assessed."""
    mark = codecs.BOM_UTF8 if source.data.startswith(codecs.BOM_UTF8) else b""
    data = mark + rewritten(source.data.decode("utf-8-sig"), plan.edits).encode("utf-8")
    again = read_bytes(data, source.file).installation
    if again != _in_units_of(plan.assessment.installation, source.installation):
        raise RuntimeError("the file that would be written is not the installation that was assessed")
    return data
