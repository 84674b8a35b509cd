"""What can be taken along: the report, the file, the shopping list."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from brimfast.assess.measures.measure import Need
from brimfast.assess.pipeline import Assessment
from brimfast.reports import words
from brimfast.reports.improve_words import need_rows, prices_text
from brimfast.reports.page import page_words
from brimfast.reports.plan_content import Planned
from brimfast.shared.installation.model import Installation
from brimfast.shared.units import System


@dataclass(frozen=True)
class Taken:
    """One file for the browser to keep."""

    name: str
    kind: str
    data: bytes


def report(assessment: Assessment, sha256: str, system: System, day: date, name: str, planned: Planned | None) -> Taken:
    """planned: with the sheets to work by."""
    from brimfast.reports.pdf import report_bytes

    data = report_bytes(assessment, sha256, system, day, planned)
    return Taken(f"{_stem(name)}.pdf", "application/pdf", data)


def page(assessment: Assessment, sha256: str, system: System, day: date, name: str) -> Taken:
    from brimfast.reports.html_report import html_bytes

    return Taken(f"{_stem(name)}.html", "text/html; charset=utf-8", html_bytes(assessment, sha256, system, day))


def shopping(installation: Installation, needs: Sequence[Need], name: str) -> Taken:
    """A list to tick off."""
    lines = [f"{page_words.SHOPPING}: {installation.installation}", ""]
    lines += [f"[ ] {count} x {what} ({money})" for count, what, money in need_rows(needs, installation)]
    lines += ["", prices_text(needs, installation), words.DEFER, ""]
    return Taken(f"{_stem(name)}-shopping.txt", "text/plain; charset=utf-8", "\n".join(lines).encode())


def _stem(name: str) -> str:
    return name.rpartition(".")[0]
