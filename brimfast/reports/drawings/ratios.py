"""How full each thing is: a bar for each finding, cut off where it would leave the sheet, with lines at 0.8 and 1.0."""

from __future__ import annotations

from collections.abc import Sequence

from brimfast.assess.pipeline import Assessment
from brimfast.reports import choice, words
from brimfast.reports.drawings.sheet import TEXT, Sheet, width_of, wrapped
from brimfast.reports.pdf_style import INK, LINE, PAPER, QUIET, VERDICT_COLOURS
from brimfast.shared.findings import CLOSE_UP_TO, HOLDS_UP_TO, Finding, Verdict, severity, verdict_of

# isort: split
from reportlab.graphics.shapes import Drawing
from reportlab.lib.colors import white

ROW, TOP, FOOT = 13.0, 26.0, 6.0
NEXT_LINE = 9.0  # points from one line of a label to the next
CUT = 2.0  # ratio at which bars are cut off
TAG, VALUE = 26.0, 74.0  # points for the number of a finding and for what stands at the end of its bar
MOST = 15


def worst_findings(assessment: Assessment, most: int = MOST) -> list[Finding]:
    """The worst of those with an answer; practice and what a code asks without a number are not among them."""
    answered = [
        one for one in assessment.findings if one.verdict != "not assessed" and not (one.practice or one.code_position)
    ]
    return sorted(answered, key=severity)[:most]


def ratio_bars(assessment: Assessment, findings: Sequence[Finding], width: float) -> Drawing | None:
    """One bar for each finding that has an answer, in the given order; None where none has."""
    shown = [one for one in findings if one.verdict != "not assessed"]
    if not shown:
        return None
    tags = choice.finding_numbers(assessment)
    left = TAG + 0.47 * width
    most = left - TAG - 8
    named = [wrapped(f"{one.subject}: {one.question}", most) for one in shown]
    sheet = Sheet(width, TOP + FOOT + ROW * len(shown) + NEXT_LINE * sum(len(lines) - 1 for lines in named))
    bars = _Scale(sheet, left=left, right=width - VALUE)
    bars.grid(TOP, FOOT)
    low = sheet.height - TOP
    for one, lines in zip(shown, named, strict=True):
        low -= ROW
        sheet.put(tags[one.id], [(2, low + 3.5, "start")], TEXT, INK, True)
        bars.bar(one.ratio, one.verdict, low + 2.5, ROW - 5)
        for number, line in enumerate(lines):
            sheet.put(line, [(TAG + 2, low + 3.5 - NEXT_LINE * number, "start")], TEXT, INK)
        ratio = "no capacity" if one.ratio is None else words.ratio_text(one)
        end = f"{words.MARKS[one.verdict]} {ratio}"
        sheet.put(end, [(bars.right + 10, low + 3.5, "start")], TEXT, VERDICT_COLOURS[one.verdict], True)
        low -= NEXT_LINE * (len(lines) - 1)
    return sheet.drawing()


def before_and_after(rows: Sequence[tuple[str, float | None, float | None]], width: float) -> Drawing | None:
    """Two bars for each: before a plan, and after it. A ratio that is None stands for no capacity at all."""
    if not rows:
        return None
    left, wide = 0.4 * width, width_of("before", TEXT) + 8
    named = [wrapped(label, left - wide - 8) for label, _, _ in rows]
    highs = [max(2 * ROW, NEXT_LINE * len(lines) + 4) + 3 for lines in named]
    sheet = Sheet(width, TOP + FOOT + sum(highs))
    bars = _Scale(sheet, left=left, right=width - VALUE)
    bars.grid(TOP, FOOT)
    top = sheet.height - TOP
    for index, ((_, before, after), lines, high) in enumerate(zip(rows, named, highs, strict=True)):
        if index:
            sheet.line(2, top, width - 2, top, LINE, 0.4)
        middle = top - high / 2
        first = middle + NEXT_LINE * (len(lines) - 1) / 2 - 2.5
        for number, line in enumerate(lines):
            sheet.put(line, [(2, first - NEXT_LINE * number, "start")], TEXT, INK)
        for name, ratio, y in (("before", before, middle - 0.5), ("after", after, middle - 0.5 - ROW + 1)):
            verdict: Verdict = "short" if ratio is None else verdict_of(ratio)
            sheet.put(name, [(bars.left - 5, y + 2.5, "end")])
            bars.bar(ratio, verdict, y + 1.5, ROW - 5)
            said = "no capacity" if ratio is None else f"{ratio:.2f}" if ratio < 100 else f"{ratio:,.0f}"
            end = f"{words.MARKS[verdict]} {said}"
            sheet.put(end, [(bars.right + 10, y + 2.5, "start")], TEXT, VERDICT_COLOURS[verdict], True)
        top -= high
    return sheet.drawing()


class _Scale:
    """Bars between two lines of a sheet, ratio 0 at the left and CUT at the right."""

    def __init__(self, sheet: Sheet, left: float, right: float) -> None:
        self.sheet, self.left, self.right = sheet, left, right

    def x(self, ratio: float) -> float:
        return self.left + (self.right - self.left) * min(ratio, CUT) / CUT

    def grid(self, top: float, foot: float) -> None:
        high = self.sheet.height - top + 3
        for ratio, dash in ((0.0, None), (HOLDS_UP_TO, (2.0, 2.0)), (CLOSE_UP_TO, None)):
            strong = ratio == CLOSE_UP_TO
            self.sheet.line(
                self.x(ratio), foot, self.x(ratio), high, INK if strong else QUIET, 1.0 if strong else 0.6, dash
            )
        self.sheet.put("0", [(self.x(0.0), high + 3, "middle")])
        self.sheet.put("1.0", [(self.x(CLOSE_UP_TO) + 1, high + 3, "start")], TEXT, INK, True)
        self.sheet.put("0.8", [(self.x(HOLDS_UP_TO) - 1, high + 3, "end")])
        self.sheet.put(f"cut off at {CUT:g}", [(self.right, high + 3, "end")])

    def bar(self, ratio: float | None, verdict: str, low: float, high: float) -> None:
        """Dark for short, hatched for close, light for holds; with a broken end where it is cut off."""
        colour, sheet = VERDICT_COLOURS[verdict], self.sheet
        end = self.x(CUT if ratio is None else ratio)
        wide = max(end - self.left, 0.8)
        if ratio is None:
            sheet.box(self.left, low, wide, high, None, colour, 0.9, (3, 2))
            return
        fill = colour if verdict == "short" else white if verdict == "close" else PAPER
        sheet.box(self.left, low, wide, high, fill, colour, 0.8)
        if verdict == "close":
            sheet.hatched(self.left, low, wide, high, 3.0, colour)
        if ratio > CUT:
            at = end - 12
            sheet.polygon(
                [(at, low - 1), (at + 3, low - 1), (at + 6, low + high + 1), (at + 3, low + high + 1)], white, None
            )
            sheet.polygon([(end, low - 1.2), (end + 6, low + high / 2), (end, low + high + 1.2)], colour, colour, 0.5)
