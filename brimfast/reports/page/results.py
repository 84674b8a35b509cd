"""What stands beside the form: the answer so far, and plainly what is not known yet."""

from __future__ import annotations

from dataclasses import dataclass

from brimfast.reports import choice, owner_content, spill_words, summary_words, words
from brimfast.reports.exposure_faces import cost_in_short
from brimfast.reports.page import page_words
from brimfast.reports.page.calculation import DRAWN, DRY, WHOLE, Known
from brimfast.shared.findings import Finding, severity
from brimfast.shared.units import System

MOST_WORST = 5


@dataclass(frozen=True)
class Bad:
    """One finding in plain words. tag: its number in drawings and report."""

    tag: str
    verdict: str
    mark: str
    ratio: str
    subject: str
    question: str
    sentence: str
    danger: str


@dataclass(frozen=True)
class Results:
    """stage: how far it is. Empty texts: not known yet, or nothing to say."""

    stage: int
    state: str
    headline: str
    overall: str
    counts: tuple[tuple[str, str, int], ...]  # verdict, its name, how many
    weight: str
    joint: Bad | None
    no_joint: str
    worst: tuple[Bad, ...]
    water: str
    cost: str
    code: str
    first: tuple[tuple[str, str], ...]

    @property
    def whole(self) -> bool:
        return self.stage == WHOLE

    @property
    def said(self) -> str:
        """For those who cannot see it change."""
        joint = f" Worst joint: {self.joint.subject}, ratio {self.joint.ratio}." if self.joint is not None else ""
        return f"{self.headline}{joint}" if self.whole else ""


def results(known: Known, system: System) -> Results:
    sketch, whole = known.sketch, known.whole
    number = choice.counts(sketch)
    shown = known.stage >= DRY
    joints = sorted((one for one in sketch.findings if one.topic == "joints"), key=severity)
    total = sum(number.values())
    headline = ""
    if whole is not None:
        headline = summary_words.headline(whole)
    elif shown:
        headline = page_words.PARTLY_SHORT.format(short=number["short"], total=total)
    state = {DRAWN: page_words.BEING_DRAWN, DRY: page_words.BEING_RUN, WHOLE: page_words.CURRENT}[known.stage]
    tags = choice.finding_numbers(sketch)
    answered = [one for one in joints if one.verdict != "not assessed"] or joints
    no_joint = page_words.NO_JOINT if shown and not joints and sketch.racks else ""
    return Results(
        known.stage,
        state,
        headline,
        owner_content.overall(whole) if whole is not None else "open",
        tuple((verdict, owner_content.COUNT_NAMES[verdict], number[verdict]) for verdict in owner_content.COUNT_ORDER)
        if shown
        else (),
        words.both(sketch.total_mass, "mass", system),
        _bad(answered[0], tags, system) if answered else None,
        no_joint,
        tuple(_bad(one, tags, system) for one in choice.worst(sketch, MOST_WORST)),
        spill_words.in_short(whole, system) if whole is not None else "",
        cost_in_short(whole.exposed) if whole is not None else "",
        summary_words.what_the_code_asks(whole) if whole is not None else "",
        tuple((words.capital(one.measure), owner_content.step_text(one)) for one in summary_words.first_steps(whole))
        if whole is not None
        else (),
    )


def _bad(finding: Finding, tags: dict[str, str], system: System) -> Bad:
    return Bad(
        tags.get(finding.id, ""),
        finding.verdict,
        words.MARKS[finding.verdict],
        words.ratio_text(finding),
        finding.subject,
        finding.question,
        words.capital(words.sentence(finding, system)),
        choice.DANGERS[choice.danger(finding)] if finding.verdict in ("short", "close") else "",
    )
