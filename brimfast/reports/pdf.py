"""The report as a PDF: the owner's page, drawings, tables, calculation, and what to confirm."""

from __future__ import annotations

import io
from collections.abc import Iterable, Sequence
from datetime import date
from typing import Any

from brimfast.reports.pdf_style import (  # first: it sets the base font before platypus is read
    BOLD,
    INK,
    LINE,
    PAPER,
    QUIET,
    REGULAR,
    VERDICT_COLOURS,
    drawable,
    safe,
)

# isort: split
from reportlab.graphics.shapes import Drawing
from reportlab.lib.pagesizes import A4, letter
from reportlab.lib.styles import ParagraphStyle
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import (
    BaseDocTemplate,
    CondPageBreak,
    Flowable,
    Frame,
    KeepTogether,
    PageBreak,
    PageTemplate,
    Paragraph,
    Spacer,
    Table,
    TableStyle,
)

from brimfast import __version__
from brimfast.assess.pipeline import Assessment
from brimfast.reports import drawings, words
from brimfast.reports.equations import step_markup
from brimfast.shared.findings import Finding, Step
from brimfast.shared.units import System, show

MARGIN = 50.0
BODY = ParagraphStyle("body", fontName=REGULAR, fontSize=9.5, leading=13, textColor=INK, spaceAfter=4)
SMALL = ParagraphStyle("small", parent=BODY, fontSize=8, leading=10.5, spaceAfter=2)
QUIET_SMALL = ParagraphStyle("quiet", parent=SMALL, textColor=QUIET)
CELL = ParagraphStyle("cell", parent=BODY, fontSize=8, leading=10, spaceAfter=0)
CELL_RIGHT = ParagraphStyle("cell right", parent=CELL, alignment=2)
HEAD = ParagraphStyle("head", parent=CELL, fontName=BOLD)
HEAD_RIGHT = ParagraphStyle("head right", parent=HEAD, alignment=2)
TITLE = ParagraphStyle("title", parent=BODY, fontName=BOLD, fontSize=20, leading=25, spaceAfter=2)
H1 = ParagraphStyle("h1", parent=BODY, fontName=BOLD, fontSize=13.5, leading=17, spaceBefore=12, spaceAfter=5)
H2 = ParagraphStyle("h2", parent=BODY, fontName=BOLD, fontSize=10, leading=13, spaceBefore=8, spaceAfter=2)
BIG = ParagraphStyle("big", parent=BODY, fontName=BOLD, fontSize=13, leading=17, spaceAfter=0)
COUNT = ParagraphStyle("count", parent=BODY, fontName=BOLD, fontSize=17, leading=20, alignment=1, spaceAfter=0)
COUNT_WORD = ParagraphStyle("count word", parent=SMALL, alignment=1, spaceAfter=0)
EQUATION = ParagraphStyle("equation", parent=BODY, fontSize=8.5, leading=12, leftIndent=10, spaceAfter=0)
WITH = ParagraphStyle("with", parent=QUIET_SMALL, fontSize=7.5, leading=9.5, leftIndent=22, spaceAfter=3)


def report_bytes(assessment: Assessment, sha256: str, system: System, day: date) -> bytes:
    """The whole PDF. The same assessment, hash, system and day give the same bytes."""
    buffer = io.BytesIO()
    name = assessment.installation.installation
    page = letter if system == "us" else A4
    document = _Document(buffer, page, _footer(name, sha256, day), f"brimfast report: {drawable(name)}")
    document.build(_story(assessment, sha256, system, day, page[0] - 2 * MARGIN), canvasmaker=_PagesOfPages)
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
        frame = Frame(MARGIN, 48, page[0] - 2 * MARGIN, page[1] - 48 - 44, 0, 0, 0, 0)
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
        level = {"h1": 0, "h2": 1}.get(getattr(getattr(flowable, "style", None), "name", ""))
        if level is None or not isinstance(flowable, Paragraph):
            return
        text = flowable.getPlainText()
        key = f"part-{self.page}-{abs(hash_of(text))}"
        self.canv.bookmarkPage(key)
        if level == 0:
            self.canv.addOutlineEntry(text, key, 0, closed=True)


def hash_of(text: str) -> int:
    """A hash that is the same in every run."""
    import zlib

    return zlib.crc32(text.encode())


def _footer(name: str, sha256: str, day: date) -> str:
    shown = drawable(name)
    shown = shown if len(shown) <= 44 else shown[:43] + "…"
    return f"{shown}  ·  {day.isoformat()}  ·  brimfast {__version__}  ·  file {sha256[:12]}"


def _story(assessment: Assessment, sha256: str, system: System, day: date, width: float) -> list[Flowable]:
    return [
        *_owner_page(assessment, system, day, width),
        PageBreak(),
        *_drawings(assessment, system, width),
        PageBreak(),
        *_weights(assessment, system, width),
        *_demand(assessment, system, width),
        *_topics(assessment, system, width),
        *_advice(assessment, width),
        *_cautions(assessment),
        *_assumptions(assessment),
        *_calculation(assessment, system),
        *_confirm(assessment, width),
        *_closing(assessment, sha256, width),
    ]


def _p(text: str, style: ParagraphStyle = BODY) -> Paragraph:
    """A paragraph of text that is not markup."""
    return Paragraph(safe(text), style)


def _owner_page(assessment: Assessment, system: System, day: date, width: float) -> list[Flowable]:
    installation = assessment.installation
    note = "An invented installation, to show the report. " if installation.invented else ""
    number = words.counts(assessment)
    story: list[Flowable] = [
        _p(installation.installation, TITLE),
        _p(f"{note}Weight, earthquake, joints and spilled water, checked on {day.isoformat()}.", QUIET_SMALL),
        Spacer(0, 8),
        _band(words.headline(assessment), number, width),
        Spacer(0, 8),
        _counts(number, width),
        Spacer(0, 10),
    ]
    facts = (
        ("Weight.", words.what_it_weighs(assessment, system)),
        ("Earthquake.", words.what_the_earthquake_does(assessment)),
        ("Water.", words.what_water_does(assessment, system)),
    )
    story += [Paragraph(f"<b>{lead}</b> {safe(text)}", BODY) for lead, text in facts]
    worst = words.worst(assessment)
    if worst:
        story += [_p("Worst first", H1), _worst_table(worst, system, width)]
    steps = words.first_steps(assessment)
    if steps:
        story.append(_p("What to do first", H1))
        for index, advice in enumerate(steps, start=1):
            text = f"<b>{index}. {safe(advice.subject)}: {safe(advice.measure)}.</b> Why: {safe(advice.reason)}."
            story.append(Paragraph(text, BODY))
    story += [Spacer(0, 6), _box(_engineer_words(assessment), width)]
    return story


def _engineer_words(assessment: Assessment) -> str:
    text = "Drain and prop before you loosen anything, and let no one stand beneath. " if assessment.racks else ""
    if words.counts(assessment)["short"]:
        text += (
            "Call a licensed structural engineer before you build on any number here that is short or not assessed. "
        )
    return text + words.DEFER


def _band(text: str, number: dict[str, int], width: float) -> Table:
    colour = VERDICT_COLOURS["short" if number["short"] else "close" if number["close"] else "holds"]
    table = Table([["", _p(text, BIG)]], colWidths=[6, width - 6])
    table.setStyle(
        TableStyle(
            [
                ("BACKGROUND", (0, 0), (0, 0), colour),
                ("BACKGROUND", (1, 0), (1, 0), PAPER),
                ("VALIGN", (0, 0), (-1, -1), "MIDDLE"),
                ("LEFTPADDING", (1, 0), (1, 0), 10),
                ("TOPPADDING", (0, 0), (-1, -1), 9),
                ("BOTTOMPADDING", (0, 0), (-1, -1), 10),
            ]
        )
    )
    return table


def _counts(number: dict[str, int], width: float) -> Table:
    order = ("short", "close", "holds", "not assessed")
    top = [
        Paragraph(f'<font color="{VERDICT_COLOURS[key].hexval()}">{words.MARKS[key]} {number[key]}</font>', COUNT)
        for key in order
    ]
    names = {"short": "short", "close": "close: little to spare", "holds": "hold", "not assessed": "not assessed"}
    table = Table([top, [_p(names[key], COUNT_WORD) for key in order]], colWidths=[width / 4] * 4)
    table.setStyle(
        TableStyle(
            [
                ("BOX", (0, 0), (-1, -1), 0.6, LINE),
                ("LINEAFTER", (0, 0), (-2, -1), 0.6, LINE),
                ("TOPPADDING", (0, 0), (-1, 0), 6),
                ("BOTTOMPADDING", (0, 0), (-1, 0), 2),
                ("TOPPADDING", (0, 1), (-1, 1), 0),
                ("BOTTOMPADDING", (0, 1), (-1, 1), 7),
            ]
        )
    )
    return table


def _worst_table(worst: Sequence[Finding], system: System, width: float) -> Table:
    rows = []
    for finding in worst:
        colour = VERDICT_COLOURS[finding.verdict].hexval()
        mark = Paragraph(f'<font color="{colour}">{words.MARKS[finding.verdict]} {finding.verdict}</font>', HEAD)
        what = Paragraph(
            f"<b>{safe(finding.subject)}.</b> {safe(finding.question)}<br/>{safe(_capital(words.sentence(finding, system)))}",
            ParagraphStyle("worst", parent=BODY, fontSize=9, leading=12, spaceAfter=0),
        )
        rows.append([mark, what, Paragraph(safe(words.ratio_text(finding)), HEAD_RIGHT)])
    table = Table(rows, colWidths=[56, width - 56 - 64, 64])
    table.setStyle(
        TableStyle(
            [
                ("VALIGN", (0, 0), (-1, -1), "TOP"),
                ("LINEABOVE", (0, 0), (-1, -1), 0.5, LINE),
                ("LINEBELOW", (0, -1), (-1, -1), 0.5, LINE),
                ("LEFTPADDING", (0, 0), (0, -1), 0),
                ("RIGHTPADDING", (-1, 0), (-1, -1), 0),
                ("TOPPADDING", (0, 0), (-1, -1), 5),
                ("BOTTOMPADDING", (0, 0), (-1, -1), 6),
            ]
        )
    )
    return table


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _box(text: str, width: float) -> Table:
    table = Table([[_p(text, BODY)]], colWidths=[width])
    table.setStyle(
        TableStyle(
            [
                ("BOX", (0, 0), (-1, -1), 1, INK),
                ("LEFTPADDING", (0, 0), (-1, -1), 9),
                ("RIGHTPADDING", (0, 0), (-1, -1), 9),
                ("TOPPADDING", (0, 0), (-1, -1), 6),
                ("BOTTOMPADDING", (0, 0), (-1, -1), 5),
            ]
        )
    )
    return table


def _drawings(assessment: Assessment, system: System, width: float) -> list[Flowable]:
    front = drawings.elevation(assessment, system, width, 260)
    above = drawings.plan(assessment, system, width, 290)
    story: list[Flowable] = [
        _p("From the front", H1),
        _p("Drawn to scale, side by side; where each stands is in the plan. Water is shaded.", QUIET_SMALL),
        _centred(front.drawing),
        _p("From above", H1),
        _p("Drawn to scale. Dashed: the file does not say where it stands. Hatched circle: floor drain.", QUIET_SMALL),
        _centred(above.drawing),
        Spacer(0, 4),
    ]
    key = [[_p(number, HEAD), _p(text, CELL)] for number, text in front.key]
    half = (len(key) + 1) // 2
    rows = [[*key[index], *(key[index + half] if index + half < len(key) else ["", ""])] for index in range(half)]
    table = Table(rows, colWidths=[18, width / 2 - 18, 18, width / 2 - 18])
    table.setStyle(
        TableStyle(
            [
                ("VALIGN", (0, 0), (-1, -1), "TOP"),
                ("TOPPADDING", (0, 0), (-1, -1), 1),
                ("BOTTOMPADDING", (0, 0), (-1, -1), 2),
            ]
        )
    )
    short = any(finding.topic == "joints" and finding.verdict == "short" for finding in assessment.findings)
    story.append(table)
    if short and assessment.racks:
        story.append(_p("✗ in a diamond: the joint that carries most and comes out short.", QUIET_SMALL))
    return story


def _centred(drawing: Drawing) -> Drawing:
    drawing.hAlign = "CENTER"
    return drawing


def _table(head: Sequence[str], rows: Iterable[Sequence[Any]], widths: Sequence[float], right: set[int]) -> Table:
    """A table whose head repeats; columns in `right` are set to the right."""

    def cell(item: Any, column: int) -> Any:
        return item if not isinstance(item, str) else _p(item, CELL_RIGHT if column in right else CELL)

    top = [_p(text, HEAD_RIGHT if column in right else HEAD) for column, text in enumerate(head)]
    body = [[cell(item, column) for column, item in enumerate(row)] for row in rows]
    table = Table([top, *body], colWidths=list(widths), repeatRows=1)
    table.setStyle(
        TableStyle(
            [
                ("VALIGN", (0, 0), (-1, -1), "TOP"),
                ("LINEBELOW", (0, 0), (-1, 0), 0.9, INK),
                ("LINEBELOW", (0, 1), (-1, -1), 0.35, LINE),
                ("LEFTPADDING", (0, 0), (-1, -1), 3),
                ("RIGHTPADDING", (0, 0), (-1, -1), 3),
                ("TOPPADDING", (0, 0), (-1, -1), 2.5),
                ("BOTTOMPADDING", (0, 0), (-1, -1), 3),
            ]
        )
    )
    return table


def _weights(assessment: Assessment, system: System, width: float) -> list[Flowable]:
    rows: list[list[str]] = []
    weighings = [(f"rack {name}", item.weighing) for name, item in assessment.racks.items()]
    weighings += [(name, item.weighing) for name, item in assessment.vessels.items()]
    for name, weighing in weighings:
        for index, part in enumerate(weighing.parts):
            rows.append(
                [
                    name if index == 0 else "",
                    part.part,
                    show(part.mass, "mass", system),
                    show(part.height, "length", system),
                ]
            )
        rows.append(["", "together", show(weighing.mass, "mass", system), show(weighing.height, "length", system)])
    total = show(assessment.total_mass, "mass", system)
    other = show(assessment.total_mass, "mass", "si" if system == "us" else "us")
    head = ("body", "part", "weight", "height of its centre above the body's base")
    return [
        _p("What it weighs", H1),
        _p(f"Everything together, loaded: {total} ({other}).", BODY),
        _table(head, rows, (width * 0.28, width * 0.3, width * 0.17, width * 0.25), {2, 3}),
    ]


def _demand(assessment: Assessment, system: System, width: float) -> list[Flowable]:
    rows = [
        [
            force.subject,
            show(force.weight, "force", system),
            show(force.horizontal, "force", system),
            f"{force.coefficient:.3f}",
            show(force.vertical, "force", system),
            f"{force.row}; {force.governs} governs",
        ]
        for force in assessment.forces.values()
    ]
    head = ("body", "weight", "sideways", "share of weight", "up and down", "table row, and what governs")
    bases = dict.fromkeys(force.basis for force in assessment.forces.values())
    return [
        _p("What the design earthquake does", H1),
        _p(
            f"S_DS = {assessment.motion.S_DS:.3g} g ({assessment.motion.how}). Strength level. {'; '.join(bases)}.",
            BODY,
        ),
        _table(
            head,
            rows,
            (width * 0.17, width * 0.12, width * 0.12, width * 0.11, width * 0.12, width * 0.36),
            {1, 2, 3, 4},
        ),
    ]


def _verdict(finding: Finding) -> Paragraph:
    colour = VERDICT_COLOURS[finding.verdict].hexval()
    return Paragraph(f'<font color="{colour}">{words.verdict_text(finding)}</font>', HEAD)


def _topics(assessment: Assessment, system: System, width: float) -> list[Flowable]:
    story: list[Flowable] = []
    tags = finding_numbers(assessment)
    head = ("no.", "what", "question", "acts", "may carry", "ratio", "verdict")
    widths = (width * 0.06, width * 0.17, width * 0.3, width * 0.12, width * 0.12, width * 0.08, width * 0.15)
    for topic, title in words.TOPICS.items():
        found = [finding for finding in assessment.findings if finding.topic == topic]
        if not found:
            continue
        rows: list[list[Any]] = []
        for finding in found:
            question = safe(finding.question)
            extra = finding.reason if finding.verdict in ("short", "not assessed") else ""
            if finding.details.get("event"):
                extra = "; ".join(part for part in (finding.details["event"], extra) if part)
            small = f'<br/><font size="7" color="{QUIET.hexval()}">{safe(extra)}</font>' if extra else ""
            basis = (
                f'<br/><font size="7" color="{QUIET.hexval()}">{safe(finding.basis)}</font>' if finding.basis else ""
            )
            rows.append(
                [
                    tags[finding.id],
                    finding.subject,
                    Paragraph(question + small + basis, CELL),
                    words.amount(finding.demand, finding, system),
                    words.amount(finding.capacity, finding, system),
                    f"{finding.ratio:.2f}" if finding.ratio is not None else "–",
                    _verdict(finding),
                ]
            )
        story += [CondPageBreak(110), _p(title, H1), _table(head, rows, widths, {3, 4, 5})]
        if topic == "stability":
            story += _starts(assessment, width)
        if topic == "spill":
            story += _events(assessment, system, width)
    return story


def _starts(assessment: Assessment, width: float) -> list[Flowable]:
    rows = []
    for body in assessment.bodies:
        tips = [
            f"{finding.details['direction']} {finding.details['starts to tip at']}"
            for finding in assessment.findings
            if finding.id.startswith(f"tipping/{body.name}/") and "starts to tip at" in finding.details
        ]
        slides = [
            finding.details["starts to slide at"]
            for finding in assessment.findings
            if finding.id == f"sliding/{body.name}"
        ]
        if tips:
            rows.append([body.name, ", ".join(tips), ", ".join(slides)])
    if not rows:
        return []
    ground = 0.4 * assessment.motion.S_DS
    return [
        _p("When it starts to move", H2),
        _p(
            "Steady sideways acceleration of the floor, physical estimate without any margin. The design earthquake's "
            f"ground peaks near {ground:.2f} g (0.4 S_DS); upper floors shake more.",
            SMALL,
        ),
        _table(("body", "starts to tip", "starts to slide"), rows, (width * 0.24, width * 0.5, width * 0.26), set()),
    ]


def _events(assessment: Assessment, system: System, width: float) -> list[Flowable]:
    spill = assessment.spill
    room = spill.room
    rows = []
    for item in [*spill.outcomes, *([spill.earthquake] if spill.earthquake else [])]:
        text = item.event.text + (f" ({item.event.note})" if item.event.note else "")
        rows.append(
            [
                _capital(text),
                show(item.event.volume, "volume", system),
                show(item.event.rate, "flow", system) if item.event.rate is not None else "at once",
                show(item.depth, "length", system, 2),
                show(item.pressure, "pressure", system, 2),
                show(item.leaves, "volume", system),
            ]
        )
    head = ("mishap", "water", "rate", "depth on the floor", "its weight", "leaves the room, at most")
    text = (
        f"Free floor {show(room.area, 'area', system)}, sill {show(room.sill, 'length', system)}: the room holds "
        f"{show(room.held, 'volume', system)} below the sill. At that depth its drains take "
        f"{show(room.at_sill.flow, 'flow', system)}."
    )
    if spill.failing:
        text += (
            f" By the checks above, the design earthquake can upset, shift or drop {', '.join(spill.failing)}: "
            f"{show(spill.failing_volume, 'volume', system)} of water."
        )
    widths = (width * 0.41, width * 0.11, width * 0.13, width * 0.11, width * 0.1, width * 0.14)
    return [_p("Every mishap, largest first", H2), _p(text, SMALL), _table(head, rows, widths, {1, 2, 3, 4, 5})]


def finding_numbers(assessment: Assessment) -> dict[str, str]:
    """F1, F2, … in the order of the report; the calculation sheet uses the same."""
    ordered = [finding for topic in words.TOPICS for finding in assessment.findings if finding.topic == topic]
    return {finding.id: f"F{index}" for index, finding in enumerate(ordered, start=1)}


def _advice(assessment: Assessment, width: float) -> list[Flowable]:
    if not assessment.advice:
        return []
    tags = finding_numbers(assessment)
    grouped: dict[tuple[str, str], list[str]] = {}
    for advice in assessment.advice:
        numbers = ", ".join(tags[id] for id in advice.for_findings)
        grouped.setdefault((advice.measure, advice.reason), []).append(f"{advice.subject} ({numbers})")
    rows = [
        [_capital(measure), _capital(reason), "; ".join(subjects)] for (measure, reason), subjects in grouped.items()
    ]
    head = ("measure", "why it helps", "where, and for which finding")
    return [
        CondPageBreak(110),
        _p("What kind of measure would help", H1),
        _p("Not yet ranked by effect or cost. Numbers point to the findings above.", SMALL),
        _table(head, rows, (width * 0.28, width * 0.36, width * 0.36), set()),
    ]


def _cautions(assessment: Assessment) -> list[Flowable]:
    items = [Paragraph(f"<b>{safe(item.title)}.</b> {safe(item.text)}", BODY) for item in assessment.cautions]
    return [CondPageBreak(120), _p("Cautions", H1), *items]


def _assumptions(assessment: Assessment) -> list[Flowable]:
    return [
        CondPageBreak(90),
        _p("Taken for granted", H1),
        *(_p(f"·  {text}", BODY) for text in assessment.assumptions),
    ]


def _steps(steps: Iterable[Step], system: System) -> list[Flowable]:
    story: list[Flowable] = []
    for step in steps:
        first, second = step_markup(step, system)
        story.append(KeepTogether([Paragraph(first, EQUATION), Paragraph(second or " ", WITH)]))
    return story


def _calculation(assessment: Assessment, system: System) -> list[Flowable]:
    """Each finding's steps; those of a body's force stand once, before the findings that use them."""
    tags = finding_numbers(assessment)
    story: list[Flowable] = [
        PageBreak(),
        _p("Calculation", H1),
        _p(
            "For whoever checks. Each line: symbol = equation = result; below it the numbers put in, and the source. "
            "Verdicts: holds up to a ratio of 0.8, close up to 1.0, short above.",
            SMALL,
        ),
    ]
    if assessment.motion.steps:
        story += [_p("Ground motion", H2), *_steps(assessment.motion.steps, system)]
    shown: set[int] = set()
    for force in assessment.forces.values():
        story += [_p(f"Force on {force.subject}", H2), *_steps(force.steps, system)]
        shown.update(id(step) for step in force.steps)
    for topic in words.TOPICS:
        for finding in assessment.findings:
            if finding.topic != topic:
                continue
            rest = [step for step in finding.steps if id(step) not in shown]
            if not rest:
                continue
            heading = _p(f"{tags[finding.id]}  {finding.subject}: {finding.question}", H2)
            result = " ".join(
                (
                    f"{words.amount(finding.demand, finding, system)} against",
                    f"{words.amount(finding.capacity, finding, system)}: ratio",
                    f"{finding.ratio:.3f}," if finding.ratio is not None else "none,",
                    finding.verdict,
                )
            )
            lines = _steps(rest, system)
            story += [KeepTogether([heading, lines[0]]), *lines[1:], _p(_capital(result) + ".", EQUATION)]
    return story


def _confirm(assessment: Assessment, width: float) -> list[Flowable]:
    values = assessment.values_to_confirm()
    story: list[Flowable] = [CondPageBreak(120), _p("Confirm before relying on it", H1)]
    if not values:
        return [*story, _p("Every value used is published or given in the file.")]
    rows = [[value.name, value.text, value.provenance, value.source, value.confirm_in] for value in values]
    head = ("value used", "figure", "provenance", "after", "find it in")
    return [
        *story,
        _p(
            "Values that come from memory or common practice. An engineer looks them up before relying on a result.",
            SMALL,
        ),
        _table(head, rows, (width * 0.24, width * 0.18, width * 0.13, width * 0.25, width * 0.2), set()),
    ]


def _closing(assessment: Assessment, sha256: str, width: float) -> list[Flowable]:
    text = f"{words.DEFER} The report rests on the installation file alone (SHA-256 {sha256}); what the file does not say was not seen."
    return [Spacer(0, 10), KeepTogether([_box(text, width)])]
