"""The page of chances as text and rows: the same for PDF and HTML."""

from __future__ import annotations

from dataclasses import dataclass

from brimfast.assess.doubt.doubt import Doubt
from brimfast.reports import doubt_words as say
from brimfast.reports import words
from brimfast.shared.units import System

OPEN = 0.005  # chance from which a limit is listed
MOST_LIMITS = 14
TITLE = "How likely it is"
OUTCOMES = "What may happen"
OUTCOME_HEAD = ("what may happen", "in the design earthquake", "in a year", "once in")
LIMITS = "Limits most likely passed in the design earthquake"
LIMIT_HEAD = ("limit", "ratio", "chance", "driven by")
NO_LIMITS = "No limit of this calculation is likely to be passed in the design earthquake."
BARS = "The same as bars"
BARS_NOTE = "In the design earthquake, on a scale of odds. Dark: 50 % or more; hatched: 5 % or more; light: less."
MEASURE = "What to measure first"
ACCURACY = "How sure these figures are"
NOT_IN = "Not in it"


@dataclass(frozen=True)
class Chances:
    """All that the page says, in its order; notes: below the outcomes."""

    headline: str
    outcomes: tuple[tuple[str, ...], ...]
    notes: tuple[str, ...]
    limits: tuple[tuple[str, ...], ...]
    limits_note: str
    bars: tuple[tuple[str, float, str], ...]  # outcomes and listed limits: name, chance, how that is said
    measure: tuple[str, ...]
    accuracy: tuple[str, ...]
    not_in: tuple[str, ...]


def chances(found: Doubt, system: System, most: int) -> Chances:
    """most: how many limits are listed."""
    shown = tuple(one for one in found.limits if one.chance >= OPEN)[:most]
    rest = len(found.limits) - len(shown)
    return Chances(
        headline=say.headline(found),
        outcomes=_outcomes(found),
        notes=_notes(found, system),
        limits=tuple(
            (
                say.limit_text(one.limit),
                say.ratio_text(one),
                say.chance_text(one.chance),
                say.drivers_text(one, found.unknowns),
            )
            for one in shown
        ),
        limits_note=f"{say.LIMITS_NOTE} {say.rest_text(rest, found.not_assessed)}",
        bars=(*_outcome_bars(found), *((say.limit_text(one.limit), *_chance(one.chance)) for one in shown)),
        measure=tuple(say.measure_texts(found)),
        accuracy=(say.accuracy_text(found), *([say.unfit_text(found)] if found.runs.unfit else [])),
        not_in=tuple(text.replace("`", "") for text in (*say.NOT_IN, say.CODE)),
    )


def _outcomes(found: Doubt) -> tuple[tuple[str, ...], ...]:
    rows = [(words.capital(what), *cells) for what, *cells in say.outcome_rows(found)]
    costs = (say.loss_text(amount, found) for amount in (found.design_loss, found.yearly_loss))
    return (*rows, ("Cost of the water, mean", *costs, ""))


def _chance(chance: float) -> tuple[float, str]:
    return chance, say.chance_text(chance)


def _outcome_bars(found: Doubt) -> list[tuple[str, float, str]]:
    kinds = ((say.TIPS, found.tips), (say.JOINTS, found.joints), (say.WATER, found.water))
    return [
        (words.capital(text), *_chance(year.design))
        for text, year in kinds
        if year is not None and year.design is not None
    ]


def _notes(found: Doubt, system: System) -> tuple[str, ...]:
    notes = [say.water_text(found, system)]
    notes += [words.capital(text) for text in say.already_texts(found)]
    if found.loss_why:
        notes.append(say.no_cost_text(found))
    return tuple(notes)
