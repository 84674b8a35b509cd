"""From a read file to what follows from doubt, with a bar on the way."""

from __future__ import annotations

import os
from dataclasses import dataclass, replace

from brimfast.assess.doubt.doubt import Doubt, doubt
from brimfast.assess.plan.improve import TRIES, Improvement, Plan
from brimfast.reports.improving import improved
from brimfast.reports.progress import bar
from brimfast.shared.edits import edited
from brimfast.shared.errors import InputError
from brimfast.shared.reading import Source, located
from brimfast.shared.units import System


@dataclass(frozen=True)
class PlanDoubt:
    """A plan of measures, and the doubt that is left with it."""

    plan: Plan
    doubt: Doubt


def with_plans(
    source: Source, samples: int, seed: int, jobs: int, system: System, quiet: bool = False
) -> tuple[Improvement, tuple[PlanDoubt, ...]]:
    """Every plan of `improve` for the same file, by effort."""
    improvement = improved(source, "effort", TRIES, jobs, system, quiet)
    found = []
    for plan in improvement.plans:
        raw = edited(source.raw, plan.edits)
        changed = replace(source, installation=plan.assessment.installation, raw=raw)
        found.append(PlanDoubt(plan, doubted(changed, samples, seed, jobs, quiet)))
    return improvement, tuple(found)


def doubted(source: Source, samples: int, seed: int, jobs: int, quiet: bool = False) -> Doubt:
    """Problems found in the tables get their place in the file. jobs 0: as many processes as there are cores."""
    processes = jobs or os.cpu_count() or 1
    with bar("as it stands", quiet) as report:
        try:
            return doubt(source.installation, source.raw, count=samples, seed=seed, processes=processes, report=report)
        except InputError as error:
            raise InputError(located(error.problems, source)) from None
