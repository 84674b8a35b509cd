"""The middle of the report: tables by topic, advice, cautions, what to confirm."""

from __future__ import annotations

from typing import Any

from brimfast.reports import parts_content as content
from brimfast.reports import spill_words, words
from brimfast.reports.equations import GROUND_MOTION, with_symbols
from brimfast.reports.exposure_faces import EXPOSURE_HEAD, exposure_rows
from brimfast.reports.owner_content import closing_words
from brimfast.reports.pdf_drawings import pond_drawing, wave_drawing
from brimfast.reports.pdf_flow import BODY, CELL, H1, H2, HEAD, QUIET_SMALL, SMALL, box, plain, table
from brimfast.reports.pdf_style import QUIET, VERDICT_COLOURS, safe

# isort: split
from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import CondPageBreak, Flowable, KeepTogether, Paragraph, Spacer

from brimfast.assess.frame.envelope import envelope
from brimfast.assess.pipeline import Assessment
from brimfast.shared.findings import Finding
from brimfast.shared.units import System, show

ROOM = 120  # points: a heading with less below it goes to the next page


def weights(assessment: Assessment, system: System, width: float) -> list[Flowable]:
    return [
        CondPageBreak(ROOM),
        plain("What it weighs", H1),
        plain(content.weight_text(assessment, system), BODY),
        table(
            content.WEIGHT_HEAD,
            content.weight_rows(assessment, system),
            (width * 0.28, width * 0.3, width * 0.17, width * 0.25),
            {2, 3},
        ),
    ]


def demand(assessment: Assessment, system: System, width: float) -> list[Flowable]:
    return [
        CondPageBreak(ROOM),
        plain("What the design earthquake does", H1),
        symbols(content.demand_text(assessment)),
        table(
            content.DEMAND_HEAD,
            content.demand_rows(assessment, system),
            (width * 0.17, width * 0.12, width * 0.12, width * 0.11, width * 0.12, width * 0.36),
            {1, 2, 3, 4},
        ),
    ]


def symbols(text: str, style: ParagraphStyle = BODY) -> Paragraph:
    """A paragraph of ours in which symbols such as S_DS get their subscripts."""
    return Paragraph(with_symbols(text), style)


def _verdict(finding: Finding) -> Paragraph:
    colour = VERDICT_COLOURS[finding.verdict].hexval()
    return Paragraph(f'<font color="{colour}">{words.verdict_text(finding)}</font>', HEAD)


def topics(assessment: Assessment, system: System, width: float) -> list[Flowable]:
    story: list[Flowable] = []
    tags = words.finding_numbers(assessment)
    widths = (width * 0.06, width * 0.16, width * 0.36, width * 0.11, width * 0.11, width * 0.07, width * 0.13)
    for topic, title in words.TOPICS.items():
        found = [finding for finding in assessment.findings if finding.topic == topic]
        if not found:
            continue
        rows: list[list[Any]] = []
        for finding in found:
            question = safe(finding.question)
            extra = content.said_beside(finding)
            small = f'<br/><font size="7" color="{QUIET.hexval()}">{safe(extra)}</font>' if extra else ""
            basis = (
                f'<br/><font size="7" color="{QUIET.hexval()}">{with_symbols(finding.basis)}</font>'
                if finding.basis
                else ""
            )
            rows.append(
                [
                    tags[finding.id],
                    finding.subject,
                    Paragraph(question + small + basis, CELL),
                    words.amount(finding.demand, finding, system),
                    words.amount(finding.capacity, finding, system),
                    content.plain_ratio(finding),
                    _verdict(finding),
                ]
            )
        story += [CondPageBreak(110), plain(title, H1), table(content.FINDING_HEAD, rows, widths, {3, 4, 5})]
        if topic == "stability":
            story += _starts(assessment, system, width)
        if topic == "sway":
            story += _frames(assessment, system, width)
        if topic == "slosh":
            story += _waves(assessment, system, width)
        if topic == "spill":
            story += _events(assessment, system, width)
        if topic == "exposure":
            story += _exposure(assessment, system, width)
        if topic == "pipes":
            story += [plain(text, SMALL) for text in (words.PRACTICE, *words.pipe_notes(assessment))]
    return story


def _starts(assessment: Assessment, system: System, width: float) -> list[Flowable]:
    rows = content.start_rows(assessment, system)
    if not rows:
        return []
    return [
        CondPageBreak(ROOM),
        plain(content.START_TITLE, H2),
        symbols(content.start_text(assessment), SMALL),
        table(
            content.START_HEAD,
            rows,
            (width * 0.22, width * 0.4, width * 0.18, width * 0.2),
            set(),
        ),
        plain(words.HOW_FAR, SMALL),
    ]


def _frames(assessment: Assessment, system: System, width: float) -> list[Flowable]:
    """Each rack as a frame: how it swings and balances, and its largest forces."""
    story: list[Flowable] = []
    for name, acts in assessment.frames.items():
        rows = content.frame_rows(acts)
        story += [
            CondPageBreak(ROOM),
            plain(f"Rack {name} as a frame", H2),
            table(content.FRAME_HEAD, rows, (width * 0.12, width * 0.18, width * 0.7), set()),
        ]
        forces = [
            [item.what, show(item.value, item.quantity, system), item.where, Paragraph(with_symbols(item.case), CELL)]
            for item in envelope(acts)
        ]
        if forces:
            widths = (width * 0.27, width * 0.14, width * 0.24, width * 0.35)
            story.append(table(content.LARGEST_HEAD, forces, widths, {1}))
    return story


def _waves(assessment: Assessment, system: System, width: float) -> list[Flowable]:
    """What the water of each vessel does, and what that does to its vessel."""
    rows = words.wave_rows(assessment, system)
    if not rows:
        return []
    widths = tuple(width * share for share in (0.3, 0.13, 0.17, 0.13, 0.12, 0.15))
    head = table(words.WAVE_HEAD, rows, widths, {1, 2, 3, 4, 5})
    return [
        CondPageBreak(ROOM),
        plain("Waves", H2),
        head,
        *wave_drawing(assessment, system, width),
        *(plain(text, SMALL) for text in words.sloshing_compared(assessment, system)),
    ]


def _events(assessment: Assessment, system: System, width: float) -> list[Flowable]:
    spill = assessment.spill
    rows = [spill_words.row(assessment.installation, spill, run, system) for run in spill.with_open_drains]
    widths = tuple(width * part for part in (0.31, 0.085, 0.11, 0.075, 0.085, 0.08, 0.085, 0.09, 0.08))
    return [
        CondPageBreak(ROOM),
        plain(content.EVENTS_TITLE, H2),
        plain(spill_words.room_text(assessment, system), SMALL),
        table(spill_words.HEAD, rows, widths, set(range(1, 9))),
        *(plain(f"– {note}.", QUIET_SMALL) for note in spill_words.notes(assessment)),
        *pond_drawing(assessment, system, width),
    ]


def _exposure(assessment: Assessment, system: System, width: float) -> list[Flowable]:
    rows = exposure_rows(assessment.exposed, system)
    if not rows:
        return []
    widths = (width * 0.37, width * 0.17, width * 0.12, width * 0.1, width * 0.12, width * 0.12)
    return [
        CondPageBreak(90),
        plain(content.EXPOSURE_TITLE, H2),
        table(EXPOSURE_HEAD, rows, widths, set(range(2, 6))),
        *(plain(f"– {text}", QUIET_SMALL) for text in assessment.exposed.cautions),
    ]


def advice_table(assessment: Assessment, width: float) -> list[Flowable]:
    if not assessment.advice:
        return []
    rows = content.advice_rows(assessment)
    return [
        CondPageBreak(110),
        plain("What kind of measure would help", H1),
        plain(content.ADVICE_NOTE, SMALL),
        table(content.ADVICE_HEAD, rows, (width * 0.28, width * 0.36, width * 0.36), set()),
    ]


def cautions(assessment: Assessment) -> list[Flowable]:
    items = [Paragraph(f"<b>{safe(item.title)}.</b> {safe(item.text)}", BODY) for item in assessment.cautions]
    return [CondPageBreak(120), plain("Cautions", H1), *items]


def assumptions(assessment: Assessment) -> list[Flowable]:
    return [
        CondPageBreak(90),
        plain("Taken for granted", H1),
        *(Paragraph(with_symbols(f"·  {text}", GROUND_MOTION), BODY) for text in assessment.assumptions),
    ]


def confirm(assessment: Assessment, width: float) -> list[Flowable]:
    values = assessment.values_to_confirm()
    story: list[Flowable] = [CondPageBreak(120), plain("Confirm before relying on it", H1)]
    if not values:
        return [*story, plain(content.NOTHING_TO_CONFIRM)]
    rows = [
        [
            Paragraph(with_symbols(value.name), CELL),
            Paragraph(with_symbols(value.text), CELL),
            value.provenance,
            value.source,
            value.confirm_in,
        ]
        for value in values
    ]
    return [
        *story,
        plain(content.CONFIRM_NOTE, SMALL),
        table(content.CONFIRM_HEAD, rows, (width * 0.24, width * 0.18, width * 0.13, width * 0.25, width * 0.2), set()),
    ]


def closing(assessment: Assessment, sha256: str, width: float) -> list[Flowable]:
    return [Spacer(0, 10), KeepTogether([box(closing_words(sha256), width)])]
