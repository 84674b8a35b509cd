"""The drawings as pages of the report, each with its heading and the key to its numbers."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from brimfast.reports.equations import with_symbols
from brimfast.reports.figures import PLAN_HEIGHT, Figure, figures, pond_figure, wave_figure
from brimfast.reports.pdf_flow import CELL, H2, HEAD, QUIET_SMALL, ROOM, Paragraph, part, plain, section

# isort: split
from reportlab.graphics.shapes import Drawing
from reportlab.platypus import CondPageBreak, Flowable, KeepTogether, PageBreak, Spacer, Table, TableStyle

from brimfast.assess.pipeline import Assessment
from brimfast.shared.units import System


def drawn(assessment: Assessment, system: System, width: float, page_height: float) -> list[Flowable]:
    """Racks, floor vessels, plan, joints, forces, and the worst findings as bars."""
    story: list[Flowable] = [PageBreak(), part("Drawings")]
    for one in figures(assessment, system, width, min(PLAN_HEIGHT, page_height * 0.42)):
        story += set_figure(one, width)
    return story


def set_figure(one: Figure, width: float) -> list[Flowable]:
    """Heading and drawing stay together; the key may run on."""
    head: list[Flowable] = []
    if one.title:
        head.append(section(one.title))
    if one.note:
        head.append(plain(one.note, QUIET_SMALL))
    if one.subtitle:
        head.append(plain(one.subtitle, H2))
    case = [Paragraph(with_symbols(one.case), CELL)] if one.case else []
    story: list[Flowable] = [CondPageBreak(ROOM), KeepTogether([*head, centred(one.drawing), *case])]
    if one.key:
        story += [Spacer(0, 4), key_table(one.key, width, one.columns)]
    if one.bodies:
        story.append(key_table(one.bodies, width, 2))
    if one.after:
        story.append(plain(one.after, QUIET_SMALL))
    return story


def key_table(key: Sequence[tuple[str, str]], width: float, columns: int = 2) -> Table:
    """Numbers and their meanings, row by row, as text that is taken out of the page is read as well."""
    cells: list[list[Any]] = [[plain(number, HEAD), plain(text, CELL)] for number, text in key]
    cells += [["", ""]] * (-len(cells) % columns)
    rows = [[part for cell in cells[at : at + columns] for part in cell] for at in range(0, len(cells), columns)]
    table = Table(rows, colWidths=[32, width / columns - 32] * columns)
    table.setStyle(
        TableStyle(
            [
                ("VALIGN", (0, 0), (-1, -1), "TOP"),
                ("TOPPADDING", (0, 0), (-1, -1), 1),
                ("BOTTOMPADDING", (0, 0), (-1, -1), 2),
            ]
        )
    )
    return table


def centred(drawing: Drawing) -> Drawing:
    drawing.hAlign = "CENTER"
    return drawing


def wave_drawing(assessment: Assessment, system: System, width: float) -> list[Flowable]:
    """For the part on sloshing, all on one page."""
    found = wave_figure(assessment, system, width)
    return [] if found is None else set_figure(found, width)


def pond_drawing(assessment: Assessment, system: System, width: float) -> list[Flowable]:
    """For the part on spilled water."""
    found = pond_figure(assessment, system, width)
    return [] if found is None else set_figure(found, width)
