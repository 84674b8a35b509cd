"""What can be taken along: the report, the file, the shopping list."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from brimfast.assess.pipeline import Assessment
from brimfast.assess.plan.improve import Improvement, Plan
from brimfast.reports import words
from brimfast.shared.installation.model import Installation
from brimfast.shared.units import System


@dataclass(frozen=True)
class Taken:
    """One file for the browser to keep."""

    name: str
    kind: str
    data: bytes


def report(
    assessment: Assessment,
    sha256: str,
    system: System,
    day: date,
    name: str,
    found: Improvement | None,
    plan: Plan | None,
) -> Taken:
    """plan: with the sheets to work by."""
    from brimfast.reports.pdf import report_bytes
    from brimfast.reports.plan_content import Planned

    planned = Planned(found, plan) if found is not None and plan is not None else None
    data = report_bytes(assessment, sha256, system, day, planned)
    return Taken(f"{_stem(name)}.pdf", "application/pdf", data)


def page(assessment: Assessment, sha256: str, system: System, day: date, name: str) -> Taken:
    from brimfast.reports.html_report import html_bytes

    return Taken(f"{_stem(name)}.html", "text/html; charset=utf-8", html_bytes(assessment, sha256, system, day))


def shopping(installation: Installation, heading: str, rows: Sequence[tuple[str, str, str]], name: str) -> Taken:
    """A list to tick off."""
    lines = [f"{heading}: {installation.installation}", ""]
    lines += [f"[ ] {count} x {what} ({money})" for count, what, money in rows]
    lines += ["", "Prices are planning figures.", words.DEFER, ""]
    return Taken(f"{_stem(name)}-shopping.txt", "text/plain; charset=utf-8", "\n".join(lines).encode())


def _stem(name: str) -> str:
    return name.rpartition(".")[0]
