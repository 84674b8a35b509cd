"""From a read file to what follows from doubt, with a bar on the way."""

from __future__ import annotations

import os

from brimfast.assess.doubt.doubt import Doubt, doubt
from brimfast.reports.progress import bar
from brimfast.shared.errors import InputError
from brimfast.shared.reading import Source, located


def doubted(source: Source, samples: int, seed: int, jobs: int) -> Doubt:
    """Problems found in the tables get their place in the file. jobs 0: as many processes as there are cores."""
    processes = jobs or os.cpu_count() or 1
    with bar("as it stands") as report:
        try:
            return doubt(source.installation, source.raw, count=samples, seed=seed, processes=processes, report=report)
        except InputError as error:
            raise InputError(located(error.problems, source)) from None
