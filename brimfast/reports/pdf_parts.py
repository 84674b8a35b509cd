"""The middle of the report: drawings, tables by topic, advice, cautions, what to confirm."""

from __future__ import annotations

from typing import Any

from brimfast.reports import choice, spill_words, summary_words, words
from brimfast.reports import parts_content as content
from brimfast.reports.equations import GROUND_MOTION, with_symbols
from brimfast.reports.exposure_faces import EXPOSURE_HEAD, exposure_rows
from brimfast.reports.owner_content import closing_words
from brimfast.reports.pdf_drawings import pond_drawing, wave_drawing
from brimfast.reports.pdf_flow import (
    BODY,
    CELL,
    CELL_RIGHT,
    H2,
    HEAD,
    HEAD_RIGHT,
    QUIET_SMALL,
    ROOM,
    SMALL,
    Mark,
    PageOf,
    Paragraph,
    box,
    part,
    plain,
    section,
    table,
)
from brimfast.reports.pdf_style import QUIET, VERDICT_COLOURS, safe
from brimfast.reports.sheet import Sheet

# isort: split
from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import CondPageBreak, Flowable, KeepTogether, PageBreak, Spacer

from brimfast.assess.frame.envelope import envelope
from brimfast.assess.pipeline import Assessment
from brimfast.shared.findings import Finding
from brimfast.shared.units import System, show

REPEATED = ParagraphStyle("repeated", parent=CELL, textColor=QUIET)
PLACE = "calculation of {}"  # key of a finding's calculation, by its number
TABLE = "table of {}"  # and of its row in the tables
LAST = 4  # flowables that stay with the last words


def findings(assessment: Assessment, numbered: Sheet, system: System, width: float) -> list[Flowable]:
    """All tables of the owner's and the engineer's common ground, advice and cautions after them."""
    return [
        PageBreak(),
        part("What was found", "What was found: tables, advice, cautions"),
        plain(
            "Each question has its number; under it stands the page of its calculation. Short: more acts than may; close: little to "
            "spare; not assessed: no method here answers it, which is no good news.",
            SMALL,
        ),
        *weights(assessment, system, width),
        *demand(assessment, system, width),
        *topics(assessment, numbered, system, width),
        *advice_table(assessment, width),
        *cautions(assessment),
    ]


def weights(assessment: Assessment, system: System, width: float) -> list[Flowable]:
    rows = [_summed(one) if one[1] == content.TOGETHER else one for one in content.weight_rows(assessment, system)]
    return [
        CondPageBreak(ROOM),
        section(content.WEIGHTS),
        plain(content.weight_text(assessment, system), BODY),
        table(content.WEIGHT_HEAD, rows, (width * 0.24, width * 0.3, width * 0.23, width * 0.23), {2, 3}),
    ]


def _summed(cells: list[str]) -> list[Any]:
    return [cells[0], plain(cells[1], HEAD), *(plain(one, HEAD_RIGHT) for one in cells[2:])]


def _stacked(text: str) -> Paragraph:
    """Both systems, one above the other."""
    first, _, second = text.partition(" (")
    return Paragraph(safe(first) + (f"<br/>({safe(second)}" if second else ""), CELL_RIGHT)


def demand(assessment: Assessment, system: System, width: float) -> list[Flowable]:
    rows = [
        [name, _stacked(weight), _stacked(sideways), share, _stacked(vertical), row]
        for name, weight, sideways, share, vertical, row in content.demand_rows(assessment, system)
    ]
    return [
        CondPageBreak(ROOM),
        section(content.EARTHQUAKE),
        symbols(content.demand_text(assessment)),
        table(
            content.DEMAND_HEAD,
            rows,
            (width * 0.16, width * 0.14, width * 0.13, width * 0.1, width * 0.13, width * 0.34),
            {1, 2, 3, 4},
        ),
    ]


def symbols(text: str, style: ParagraphStyle = BODY) -> Paragraph:
    """A paragraph of ours in which symbols such as S_DS get their subscripts."""
    return Paragraph(with_symbols(text), style)


def _verdict(finding: Finding) -> Paragraph:
    colour = VERDICT_COLOURS[finding.verdict].hexval()
    return Paragraph(f'<font color="{colour}">{words.verdict_text(finding)}</font>', HEAD)


def _number(tag: str, calculated: bool) -> list[Flowable]:
    """A finding's number, and on which page its calculation stands."""
    found: list[Flowable] = [Mark(TABLE.format(tag)), plain(tag, HEAD)]
    return [*found, PageOf(PLACE.format(tag))] if calculated else found


def topics(assessment: Assessment, numbered: Sheet, system: System, width: float) -> list[Flowable]:
    story: list[Flowable] = []
    blocks = numbered.of_findings
    tags = choice.finding_numbers(assessment)
    widths = tuple(width * share for share in (0.06, 0.15, 0.4, 0.1, 0.1, 0.06, 0.13))
    for topic, title in choice.TOPICS.items():
        found = [finding for finding in assessment.findings if finding.topic == topic]
        if not found:
            continue
        rows: list[list[Any]] = []
        before = ""
        for finding in found:
            question = safe(finding.question)
            extra = content.said_beside(finding)
            small = f'<br/><font size="7" color="{QUIET.hexval()}">{safe(extra)}</font>' if extra else ""
            basis = (
                f'<br/><font size="7" color="{QUIET.hexval()}">{with_symbols(finding.basis)}</font>'
                if finding.basis
                else ""
            )
            subject = plain(finding.subject, CELL if finding.subject != before else REPEATED)
            before = finding.subject
            rows.append(
                [
                    _number(tags[finding.id], finding.id in blocks),
                    subject,
                    Paragraph(question + small + basis, CELL),
                    words.amount(finding.demand, finding, system),
                    words.amount(finding.capacity, finding, system),
                    content.plain_ratio(finding),
                    _verdict(finding),
                ]
            )
        story += [CondPageBreak(160), section(title), table(content.FINDING_HEAD, rows, widths, {3, 4, 5})]
        if topic == "stability":
            story += _starts(assessment, system, width)
        if topic == "slosh":
            story += _waves(assessment, system, width)
        if topic == "spill":
            story += _events(assessment, system, width)
        if topic == "exposure":
            story += _exposure(assessment, system, width)
        if topic == "pipes":
            story += [plain(text, SMALL) for text in (words.PRACTICE, *summary_words.pipe_notes(assessment))]
    return story


def _starts(assessment: Assessment, system: System, width: float) -> list[Flowable]:
    rows = content.start_rows(assessment, system)
    if not rows:
        return []
    return [
        CondPageBreak(ROOM),
        plain(content.START_TITLE, H2),
        symbols(content.start_text(assessment), SMALL),
        table(content.START_HEAD, rows, (width * 0.22, width * 0.4, width * 0.18, width * 0.2), set()),
        plain(words.HOW_FAR, SMALL),
    ]


def frame_tables(assessment: Assessment, system: System, width: float) -> list[Flowable]:
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
    rows = summary_words.wave_rows(assessment, system)
    if not rows:
        return []
    widths = tuple(width * share for share in (0.3, 0.13, 0.17, 0.13, 0.12, 0.15))
    head = table(summary_words.WAVE_HEAD, rows, widths, {1, 2, 3, 4, 5})
    return [
        CondPageBreak(ROOM),
        plain("Waves", H2),
        head,
        *wave_drawing(assessment, system, width),
        *(plain(text, SMALL) for text in summary_words.sloshing_compared(assessment, system)),
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
        section(content.MEASURES),
        plain(content.ADVICE_NOTE, SMALL),
        table(content.ADVICE_HEAD, rows, (width * 0.28, width * 0.36, width * 0.36), set()),
    ]


def cautions(assessment: Assessment) -> list[Flowable]:
    items = [Paragraph(f"<b>{safe(item.title)}.</b> {safe(item.text)}", BODY) for item in assessment.cautions]
    return [CondPageBreak(120), section(content.CAUTIONS), *items]


def assumptions(assessment: Assessment) -> list[Flowable]:
    return [
        CondPageBreak(90),
        section(content.GRANTED),
        *(Paragraph(with_symbols(f"·  {text}", GROUND_MOTION), BODY) for text in assessment.assumptions),
    ]


def confirm(assessment: Assessment, width: float) -> list[Flowable]:
    values = assessment.values_to_confirm()
    story: list[Flowable] = [CondPageBreak(120), section(content.CONFIRM)]
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
        table(
            content.CONFIRM_HEAD, rows, (width * 0.24, width * 0.14, width * 0.19, width * 0.25, width * 0.18), set()
        ),
    ]


def closed(story: list[Flowable], sha256: str, width: float) -> list[Flowable]:
    """The story with its last words, which never stand on a page alone."""
    last: list[Flowable] = []
    for one in story[-LAST:]:  # one kept together within another would always begin a page
        last += getattr(one, "_content", [one])
    return [*story[:-LAST], KeepTogether([*last, Spacer(0, 10), box(closing_words(sha256), width)])]
