"""The sheets of the PDF: a canvas that knows all its pages before it writes the first, footers, numbers of other pages."""

from __future__ import annotations

import io
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from brimfast.reports.pdf_style import LINE, QUIET, REGULAR

# isort: split
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Frame, PageTemplate

from brimfast import __version__

MARGIN = 50.0
BELOW, ABOVE = 48.0, 44.0  # points of a page under and over what is written


@dataclass(frozen=True)
class Later:
    """Text with the number of another page, to be set where it stands once that is known."""

    key: str
    text: str  # with {} for the number
    x: float
    y: float
    size: float
    right: bool  # x is where it ends


class PagesOfPages(Canvas):
    _code: list[Any]

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self._waiting: list[dict[str, Any]] = []
        self._page_of: dict[str, int] = {}
        self.setViewerPreference("DisplayDocTitle", "true")

    def mark(self, key: str) -> None:
        """This page is where links and page numbers to `key` lead."""
        self._page_of[key] = len(self._waiting) + 1
        self.bookmarkPage(key)

    def page_later(self, later: Later) -> None:
        self._code.append(later)

    def showPage(self) -> None:  # noqa: N802
        self._waiting.append(dict(self.__dict__))
        self._startPage()  # type: ignore[attr-defined]
        self._doc.pageCounter += 1  # type: ignore[attr-defined]  # bookmarks go to the page that is being drawn

    def save(self) -> None:
        total = len(self._waiting)
        self._doc.pageCounter = 1  # type: ignore[attr-defined]
        for number, state in enumerate(self._waiting, start=1):
            self.__dict__.update(state)
            self._code = [part for item in self._code for part in self._written(item)]
            self.setFont(REGULAR, 7.5)
            self.setFillColor(QUIET)
            self.drawRightString(self._pagesize[0] - MARGIN, 30, f"page {number} of {total}")  # type: ignore[attr-defined]
            super().showPage()
        super().save()

    def _written(self, item: Any) -> Sequence[Any]:
        """Drawing code as it is; of a number that had to wait, the code that draws it."""
        if not isinstance(item, Later):
            return (item,)
        kept, self._code = self._code, []
        self.saveState()
        self.setFont(REGULAR, item.size)
        self.setFillColor(QUIET)
        draw = self.drawRightString if item.right else self.drawString
        draw(item.x, item.y, item.text.format(self._page_of[item.key]))
        self.restoreState()
        code, self._code = self._code, kept
        return code


class Document(BaseDocTemplate):
    def __init__(
        self, buffer: io.BytesIO, page: tuple[float, float], footer: str, title: str, keywords: Sequence[str]
    ) -> None:
        super().__init__(
            buffer,
            pagesize=page,
            title=title,
            author=f"brimfast {__version__}",
            subject="Weight, earthquake, timber, joints and spilled water, by calculation; an engineer decides",
            keywords=list(keywords),
            creator=f"brimfast {__version__}",
            producer=f"brimfast {__version__}",
            invariant=1,
            lang="en",
        )
        frame = Frame(MARGIN, BELOW, page[0] - 2 * MARGIN, page[1] - BELOW - ABOVE, 0, 0, 0, 0)
        self._footer = footer
        self.addPageTemplates([PageTemplate("page", [frame], onPageEnd=self._paint)])

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
