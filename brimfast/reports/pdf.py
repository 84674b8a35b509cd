"""The report as a PDF: the order of its parts."""

from __future__ import annotations

import io
from datetime import date
from typing import TYPE_CHECKING

from brimfast.reports.owner_content import identity
from brimfast.reports.pdf_calculation import engineer
from brimfast.reports.pdf_cards import cards
from brimfast.reports.pdf_drawings import drawn
from brimfast.reports.pdf_owner import owner_page
from brimfast.reports.pdf_pages import ABOVE, BELOW, MARGIN, Document, PagesOfPages
from brimfast.reports.pdf_parts import closed, findings
from brimfast.reports.pdf_renter import renter_page
from brimfast.reports.pdf_style import REGULAR, drawable
from brimfast.reports.sheet import sheet

# isort: split
from reportlab.lib.pagesizes import A4, letter
from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.platypus import Flowable

from brimfast.assess.pipeline import Assessment
from brimfast.shared.units import System

if TYPE_CHECKING:
    from brimfast.assess.doubt.doubt import Doubt
    from brimfast.reports.plan_content import Planned

KEYWORDS = ("weight", "earthquake", "timber rack", "joints", "sloshing", "spilled water", "calculation")


def report_bytes(
    assessment: Assessment,
    sha256: str,
    system: System,
    day: date,
    planned: Planned | None = None,
    doubted: Doubt | None = None,
) -> bytes:
    """The whole PDF. The same of all of these gives the same bytes."""
    buffer = io.BytesIO()
    name = assessment.installation.installation
    page = letter if system == "us" else A4
    keywords = (*KEYWORDS, assessment.installation.site.standard)
    document = Document(buffer, page, _footer(name, sha256, day), f"brimfast report: {drawable(name)}", keywords)
    story = _story(assessment, sha256, system, day, page, planned, doubted)
    document.build(story, canvasmaker=PagesOfPages)
    return buffer.getvalue()


def _footer(name: str, sha256: str, day: date) -> str:
    shown = drawable(name)
    while stringWidth(shown, REGULAR, 7.5) > 190:
        shown = shown.removesuffix("…")[:-1] + "…"
    return f"{shown}  ·  {identity(sha256, day)}"


def _story(
    assessment: Assessment,
    sha256: str,
    system: System,
    day: date,
    page: tuple[float, float],
    planned: Planned | None,
    doubted: Doubt | None,
) -> list[Flowable]:
    width, height = page[0] - 2 * MARGIN, page[1] - BELOW - ABOVE
    numbered = sheet(assessment)
    plan = planned.plan if planned is not None else None
    return [
        *owner_page(assessment, system, day, width, height),
        *renter_page(assessment, planned.improvement if planned is not None else None, system, width, height),
        *_asked_for(planned, doubted, system, width, height),
        *cards(assessment, plan, system, width, height),
        *drawn(assessment, system, width, page[1]),
        *findings(assessment, numbered, system, width),
        *closed(engineer(assessment, numbered, system, width), sha256, width),
    ]


def _asked_for(
    planned: Planned | None, doubted: Doubt | None, system: System, width: float, height: float
) -> list[Flowable]:
    """Sheets to work by, and the page of chances; what they need is loaded only for them."""
    story: list[Flowable] = []
    if planned is not None:
        from brimfast.reports.pdf_plan import plan_pages

        story += plan_pages(planned, width)
    if doubted is not None:
        from brimfast.reports.pdf_doubt import doubt_page

        story += doubt_page(doubted, system, width, height)
    return story
