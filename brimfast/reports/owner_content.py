"""What the owner's page says beside the sentences of words.py: the same for PDF and HTML."""

from __future__ import annotations

from datetime import date

from brimfast import __version__
from brimfast.assess.pipeline import Assessment
from brimfast.reports import spill_words, words
from brimfast.reports.exposure_faces import exposure_words
from brimfast.shared.units import System

COUNT_ORDER = ("short", "close", "holds", "not assessed")
COUNT_NAMES = {"short": "short", "close": "close: little to spare", "holds": "hold", "not assessed": "not assessed"}


def checked_on(assessment: Assessment, day: date) -> str:
    note = "An invented installation, to show the report. " if assessment.installation.invented else ""
    return f"{note}Weight, earthquake, joints and spilled water, checked on {day.isoformat()}."


def overall(assessment: Assessment) -> str:
    """The verdict that colours the whole: the worst that there is."""
    number = words.counts(assessment)
    return "short" if number["short"] else "close" if number["close"] else "holds"


def facts(assessment: Assessment, system: System) -> list[tuple[str, str]]:
    """Sentences of ours, each with the word it is about; they hold the ground motion's symbol."""
    cost = exposure_words(assessment.exposed, assessment.installation)
    return [
        ("Weight.", words.what_it_weighs(assessment, system)),
        ("Earthquake.", words.what_the_earthquake_does(assessment)),
        ("Water.", spill_words.what_water_does(assessment, system)),
        *([("Money.", cost)] if cost else []),
    ]


def step_text(step: words.FirstStep) -> str:
    """What a first step is for, after the step itself."""
    return f"For {words.listed(step.subjects, 4)}: {step.reason}{'; ' + step.needs if step.needs else ''}."


def prop_first(assessment: Assessment) -> str:
    return "Drain and prop before you loosen anything, and let no one stand beneath. " if assessment.racks else ""


def engineer_words(assessment: Assessment) -> str:
    text = prop_first(assessment)
    if words.counts(assessment)["short"]:
        text += (
            "Call a licensed structural engineer before you build on any number here that is short or not assessed. "
        )
    return text + words.DEFER


def closing_words(sha256: str) -> str:
    return (
        f"{words.DEFER} The report rests on the installation file alone (SHA-256 {sha256}); "
        "what the file does not say was not seen."
    )


def identity(sha256: str, day: date) -> str:
    """What tells one report from another, after the installation's name."""
    return f"{day.isoformat()}  ·  brimfast {__version__}  ·  file {sha256[:12]}"
