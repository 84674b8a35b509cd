"""What the owner's page says beside the sentences of words.py: the same for PDF and HTML."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from brimfast import __version__
from brimfast.assess.pipeline import Assessment
from brimfast.reports import choice, spill_words, summary_words, words
from brimfast.reports.exposure_faces import cost_in_short, exposure_words
from brimfast.shared.findings import Finding, Verdict
from brimfast.shared.units import System

COUNT_ORDER = ("short", "close", "holds", "not assessed")
COUNT_NAMES = {"short": "short", "close": "close: little to spare", "holds": "hold", "not assessed": "not assessed"}


def checked_on(assessment: Assessment, day: date) -> str:
    note = "An invented installation, to show the report. " if assessment.installation.invented else ""
    return f"{note}Weight, earthquake, joints and spilled water, checked on {day.isoformat()}."


def overall(assessment: Assessment) -> str:
    """The verdict that colours the whole: the worst that there is."""
    number = choice.counts(assessment)
    return "short" if number["short"] else "close" if number["close"] else "holds"


WORST = "What does not hold, worst first"
FIRST = "What to do first"
STOP = "When to stop and call an engineer"


def page_facts(assessment: Assessment, system: System, named: bool) -> list[tuple[str, str]]:
    """What the page says in a sentence or two each, with the word it is about; they hold the ground motion's symbol.

    named: where no picture on the page shows the bodies.
    """
    water = f"{spill_words.in_short(assessment, system)} {cost_in_short(assessment.exposed)} More on the renter's page."
    return [
        ("Looked at.", words.capital(summary_words.what_was_looked_at(assessment, named))),
        ("Weight.", summary_words.what_it_weighs(assessment, system)),
        ("Earthquake.", summary_words.what_the_earthquake_does(assessment)),
        ("Water.", " ".join(water.split())),
    ]


def times_text(finding: Finding) -> str:
    text = words.ratio_text(finding)
    return f"{text} times" if finding.ratio is not None else text


@dataclass(frozen=True)
class Bad:
    """One of the worst findings, as the page tells it."""

    verdict: Verdict
    mark: str
    danger: str
    times: str
    subject: str
    question: str
    sentence: str


def worst(assessment: Assessment, system: System) -> list[Bad]:
    return [
        Bad(
            one.verdict,
            words.MARKS[one.verdict],
            choice.DANGERS[choice.danger(one)],
            times_text(one),
            one.subject,
            one.question,
            words.capital(words.sentence(one, system)),
        )
        for one in choice.worst(assessment)
    ]


def facts(assessment: Assessment, system: System) -> list[tuple[str, str]]:
    """What the terminal says of weight, earthquake, water and money, each with the word it is about."""
    cost = exposure_words(assessment.exposed, assessment.installation)
    return [
        ("Weight.", summary_words.what_it_weighs(assessment, system)),
        ("Earthquake.", summary_words.what_the_earthquake_does(assessment)),
        ("Water.", spill_words.what_water_does(assessment, system)),
        *([("Money.", cost)] if cost else []),
    ]


def step_text(step: summary_words.FirstStep) -> str:
    """What a first step is for, after the step itself."""
    return f"For {words.listed(step.subjects, 4)}: {step.reason}{'; ' + step.needs if step.needs else ''}."


def prop_first(assessment: Assessment) -> str:
    return "Drain and prop before you loosen anything, and let no one stand beneath. " if assessment.racks else ""


def last_words(assessment: Assessment) -> str:
    return prop_first(assessment) + words.DEFER


def closing_words(sha256: str) -> str:
    return (
        f"{words.DEFER} The report rests on the installation file alone (SHA-256 {sha256}); "
        "what the file does not say was not seen."
    )


def identity(sha256: str, day: date) -> str:
    """What tells one report from another, after the installation's name."""
    return f"{day.isoformat()}  ·  brimfast {__version__}  ·  file {sha256[:12]}"
