"""The tables of the HTML report: what stands in their cells, which are headings and which are numbers."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from markupsafe import Markup, escape

from brimfast.assess.frame.envelope import envelope
from brimfast.assess.pipeline import Assessment
from brimfast.reports import card_words, renter_words, spill_words, summary_words, words
from brimfast.reports import parts_content as content
from brimfast.reports.exposure_faces import EXPOSURE_HEAD, exposure_rows
from brimfast.reports.html_style import symbols, visible
from brimfast.reports.inputs_table import input_rows
from brimfast.shared.findings import Finding, Verdict
from brimfast.shared.installation.model import Installation
from brimfast.shared.units import System, show

CLASSES = {"short": "short", "close": "close", "holds": "holds", "not assessed": "open"}
LINK = Markup('<a href="#{0}">{1}</a>')


@dataclass(frozen=True)
class Row:
    """The cells of one row, and the id that others point to."""

    cells: tuple[str, ...]
    id: str = ""
    finding: str = ""


@dataclass(frozen=True)
class HtmlTable:
    """A table; the cells of column `heading` head their rows, those in `right` are numbers."""

    id: str
    caption: str
    head: tuple[str, ...]
    rows: tuple[Row, ...]
    right: frozenset[int] = frozenset()
    heading: int = 0
    classes: str = ""


WIDE = 5  # columns, from which a table needs the whole width


def made(
    id: str,
    caption: str,
    head: Sequence[str],
    rows: Iterable[Sequence[str]],
    right: Iterable[int] = (),
    sentences: bool = False,
    summed: bool = False,
) -> HtmlTable:
    """A table whose first column heads its rows: by names, or by sentences, which are not set bold; summed: by its last."""
    looks = (("wide", len(head) >= WIDE), ("sentences", sentences), ("summed", summed))
    return HtmlTable(
        id,
        caption,
        tuple(head),
        tuple(Row(tuple(cells)) for cells in rows),
        frozenset(right),
        0,
        " ".join(name for name, so in looks if so),
    )


def verdict(found: Verdict, before: str = "") -> Markup:
    """By mark, word and colour; the mark is not read aloud. before: what stands in the same colour ahead of them."""
    lead = f"{before} " if before else ""
    return Markup('<span class="verdict {}">{}<span aria-hidden="true">{}</span> {}</span>').format(
        CLASSES[found], lead, words.MARKS[found], found
    )


def findings(
    topic: str, title: str, found: Sequence[Finding], calculated: set[str], system: System, tags: dict[str, str]
) -> HtmlTable:
    """One topic's findings; the number leads to the calculation where there is one."""
    rows = []
    for finding in found:
        tag = tags[finding.id]
        parts = [Markup(escape(visible(finding.question)))]
        extra = content.said_beside(finding)
        parts += [Markup("<small>{}</small>").format(visible(extra))] if extra else []
        parts += [Markup("<small>{}</small>").format(symbols(finding.basis))] if finding.basis else []
        cells = (
            LINK.format(f"calculation-{tag}", tag) if tag in calculated else tag,
            finding.subject,
            Markup(" ").join(parts),
            words.amount(finding.demand, finding, system),
            words.amount(finding.capacity, finding, system),
            content.plain_ratio(finding),
            verdict(finding.verdict),
        )
        rows.append(Row(cells, tag, finding.id))
    return HtmlTable(
        f"table-{topic}",
        f"{title}: every finding",
        content.FINDING_HEAD,
        tuple(rows),
        frozenset({3, 4, 5}),
        1,
        "wide findings",
    )


def weights(assessment: Assessment, system: System) -> HtmlTable:
    """Each body is named in every row, so that a row makes sense by itself."""
    rows, name = [], ""
    for body, *rest in content.weight_rows(assessment, system):
        name = body or name
        rows.append((name, *rest))
    return made("table-weights", "Weights, part by part", content.WEIGHT_HEAD, rows, {2, 3})


def demand(assessment: Assessment, system: System) -> HtmlTable:
    caption = "Forces of the design earthquake on each body"
    return made("table-demand", caption, content.DEMAND_HEAD, content.demand_rows(assessment, system), {1, 2, 3, 4})


def starts(assessment: Assessment, system: System) -> HtmlTable:
    caption = "At what acceleration each body starts to move"
    return made("table-starts", caption, content.START_HEAD, content.start_rows(assessment, system))


def frames(assessment: Assessment, system: System) -> list[tuple[str, tuple[HtmlTable, ...]]]:
    """Of each rack its heading and tables."""
    found: list[tuple[str, tuple[HtmlTable, ...]]] = []
    for index, (name, acts) in enumerate(assessment.frames.items(), start=1):
        title = f"Rack {name} as a frame"
        tables = [made(f"table-frame-{index}", f"Rack {name}, pushed", content.FRAME_HEAD, content.frame_rows(acts))]
        largest = [
            (item.what, show(item.value, item.quantity, system), item.where, symbols(item.case))
            for item in envelope(acts)
        ]
        if largest:
            head = content.LARGEST_HEAD
            tables.append(made(f"table-largest-{index}", f"Rack {name}, largest forces", head, largest, {1}))
        found.append((title, tuple(tables)))
    return found


def waves(assessment: Assessment, system: System) -> HtmlTable:
    rows = summary_words.wave_rows(assessment, system)
    return made("table-waves", "Waves of each vessel", summary_words.WAVE_HEAD, rows, range(1, 6))


def events(assessment: Assessment, system: System) -> HtmlTable:
    spill = assessment.spill
    rows = [spill_words.row(assessment.installation, spill, run, system) for run in spill.with_open_drains]
    return made("table-events", "Mishaps and their water", spill_words.HEAD, rows, range(1, 9), sentences=True)


def exposure(assessment: Assessment, system: System) -> HtmlTable:
    rows = exposure_rows(assessment.exposed, system)
    return made("table-cost", "Wet floors and what they may cost", EXPOSURE_HEAD, rows, range(2, 6), sentences=True)


def advice(assessment: Assessment) -> HtmlTable:
    caption = "Measures, and the findings that they are for"
    return made("table-measures", caption, content.ADVICE_HEAD, content.advice_rows(assessment))


def renter(assessment: Assessment, system: System) -> HtmlTable:
    return made("table-renter", "Water that may come", renter_words.HEAD, renter_words.rows(assessment, system))


def monthly(installation: Installation) -> HtmlTable:
    return made(
        "table-monthly",
        "What to look at, and what should be so",
        card_words.MONTHLY_HEAD,
        card_words.monthly(installation),
    )


def levels(installation: Installation, assessment: Assessment, system: System) -> HtmlTable:
    rows = card_words.level_rows(installation, assessment, system)
    return made("table-levels", card_words.LEVELS_NOTE, card_words.LEVEL_HEAD, rows)


def shut_off(installation: Installation) -> HtmlTable:
    """The last column is for the owner to write in, on paper."""
    rows = [(*one, "") for one in card_words.shut_off(installation)]
    return made("table-shut-off", "What to turn off, first things first", ("what", "how", "where (to fill in)"), rows)


def call() -> HtmlTable:
    rows = [(who, "") for who in card_words.CALL]
    return made("table-call", "Whom to call", ("who", "number (to fill in)"), rows)


def inputs(assessment: Assessment, system: System) -> HtmlTable:
    rows = input_rows(assessment.installation, system)
    return made("table-inputs", "What the file gives", ("what", "keys and values"), rows)


def confirm(assessment: Assessment) -> HtmlTable:
    rows = [
        (symbols(value.name), symbols(value.text), value.provenance, value.source, value.confirm_in)
        for value in assessment.values_to_confirm()
    ]
    return made("table-confirm", "Values to confirm", content.CONFIRM_HEAD, rows)
