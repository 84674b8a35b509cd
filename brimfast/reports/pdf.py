"""The report as a PDF: pages, footer, outline, and the order of its parts."""

from __future__ import annotations

import io
import zlib
from datetime import date
from typing import Any

from brimfast.reports.owner_content import identity
from brimfast.reports.pdf_calculation import calculation
from brimfast.reports.pdf_drawings import drawn
from brimfast.reports.pdf_owner import owner_page
from brimfast.reports.pdf_parts import (
    advice_table,
    assumptions,
    cautions,
    closing,
    confirm,
    demand,
    topics,
    weights,
)
from brimfast.reports.pdf_style import LINE, QUIET, REGULAR, drawable

# isort: split
from reportlab.lib.pagesizes import A4, letter
from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Flowable, Frame, PageBreak, PageTemplate, Paragraph

from brimfast import __version__
from brimfast.assess.pipeline import Assessment
from brimfast.shared.units import System

MARGIN = 50.0

BELOW, ABOVE = 48.0, 44.0  # points of a page under and over what is written


def report_bytes(assessment: Assessment, sha256: str, system: System, day: date) -> bytes:
    """The whole PDF. The same assessment, hash, system and day give the same bytes."""
    buffer = io.BytesIO()
    name = assessment.installation.installation
    page = letter if system == "us" else A4
    document = _Document(buffer, page, _footer(name, sha256, day), f"brimfast report: {drawable(name)}")
    document.build(_story(assessment, sha256, system, day, page[0] - 2 * MARGIN, page[1]), canvasmaker=_PagesOfPages)
    return buffer.getvalue()


class _PagesOfPages(Canvas):
    """A canvas that knows the number of pages before it writes the first."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self._waiting: list[dict[str, Any]] = []

    def showPage(self) -> None:  # noqa: N802
        self._waiting.append(dict(self.__dict__))
        self._startPage()  # type: ignore[attr-defined]

    def save(self) -> None:
        total = len(self._waiting)
        for number, state in enumerate(self._waiting, start=1):
            self.__dict__.update(state)
            self.setFont(REGULAR, 7.5)
            self.setFillColor(QUIET)
            self.drawRightString(self._pagesize[0] - MARGIN, 30, f"page {number} of {total}")  # type: ignore[attr-defined]
            super().showPage()
        super().save()


class _Document(BaseDocTemplate):
    def __init__(self, buffer: io.BytesIO, page: tuple[float, float], footer: str, title: str) -> None:
        super().__init__(
            buffer,
            pagesize=page,
            title=title,
            author=f"brimfast {__version__}",
            subject="Weight, earthquake, joint and spill check",
            creator=f"brimfast {__version__}",
            invariant=1,
            lang="en",
        )
        frame = Frame(MARGIN, BELOW, page[0] - 2 * MARGIN, page[1] - BELOW - ABOVE, 0, 0, 0, 0)
        self._footer = footer
        self.addPageTemplates([PageTemplate("page", [frame], onPage=self._paint)])

    def _paint(self, canvas: Canvas, _: Any) -> None:
        width = canvas._pagesize[0]  # type: ignore[attr-defined]
        canvas.saveState()
        canvas.setStrokeColor(LINE)
        canvas.setLineWidth(0.6)
        canvas.line(MARGIN, 41, width - MARGIN, 41)
        canvas.setFont(REGULAR, 7.5)
        canvas.setFillColor(QUIET)
        canvas.drawString(MARGIN, 30, self._footer)
        canvas.restoreState()

    def afterFlowable(self, flowable: Flowable) -> None:  # noqa: N802
        """Main headings go into the outline."""
        if isinstance(flowable, Paragraph) and flowable.style.name == "h1":
            text = flowable.getPlainText()
            key = f"part-{self.page}-{zlib.crc32(text.encode())}"
            self.canv.bookmarkPage(key)
            self.canv.addOutlineEntry(text, key, 0, closed=True)


def _footer(name: str, sha256: str, day: date) -> str:
    shown = drawable(name)
    while stringWidth(shown, REGULAR, 7.5) > 190:
        shown = shown.removesuffix("…")[:-1] + "…"
    return f"{shown}  ·  {identity(sha256, day)}"


def _story(
    assessment: Assessment, sha256: str, system: System, day: date, width: float, height: float
) -> list[Flowable]:
    return [
        *owner_page(assessment, system, day, width, height - BELOW - ABOVE),
        PageBreak(),
        *drawn(assessment, system, width, height),
        PageBreak(),
        *weights(assessment, system, width),
        *demand(assessment, system, width),
        *topics(assessment, system, width),
        *advice_table(assessment, width),
        *cautions(assessment),
        *assumptions(assessment),
        *calculation(assessment, system),
        *confirm(assessment, width),
        *closing(assessment, sha256, width),
    ]
