"""The parts of the HTML report for those who live with the installation: owner, renter, the two cards."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from markupsafe import Markup

from brimfast.assess.pipeline import Assessment
from brimfast.reports import card_words, choice, html_tables, renter_words, summary_words, words
from brimfast.reports import owner_content as content
from brimfast.reports.equations import GROUND_MOTION
from brimfast.reports.html_style import symbols
from brimfast.reports.html_tables import CLASSES, HtmlTable
from brimfast.shared.units import System

if TYPE_CHECKING:
    from brimfast.assess.plan.improve import Improvement, Plan


@dataclass(frozen=True)
class Count:
    mark: str
    number: int
    name: str
    look: str


@dataclass(frozen=True)
class Owner:
    """The answer, the worst, what to do first, when to stop."""

    headline: str
    look: str
    counts: tuple[Count, ...]
    facts: tuple[tuple[str, Markup], ...]
    code: str
    worst_title: str
    worst: tuple[content.Bad, ...]
    steps_title: str
    steps: tuple[tuple[str, str], ...]
    stop_title: str
    stop: tuple[str, ...]
    last: str


@dataclass(frozen=True)
class Renter:
    """How much water, where it goes, what is cheap to do, whom to ask what."""

    title: str
    total: str
    rows: HtmlTable
    cost_note: str
    where_title: str
    where: str
    lists: tuple[tuple[str, tuple[str, ...], str], ...]  # heading, lines, what stands below them


@dataclass(frozen=True)
class Cards:
    """What to look at, in which order after shaking; levels and shut-offs for the wall."""

    words: object
    name: str
    monthly: HtmlTable
    after: tuple[str, ...]
    loaded: str
    levels: HtmlTable
    shut_off: HtmlTable
    call: HtmlTable


def owner(assessment: Assessment, system: System) -> Owner:
    number = choice.counts(assessment)
    return Owner(
        headline=summary_words.headline(assessment),
        look=CLASSES[content.overall(assessment)],
        counts=tuple(
            Count(words.MARKS[key], number[key], content.COUNT_NAMES[key], CLASSES[key]) for key in content.COUNT_ORDER
        ),
        facts=tuple(
            (lead, symbols(text, GROUND_MOTION)) for lead, text in content.page_facts(assessment, system, named=True)
        ),
        code=summary_words.what_the_code_asks(assessment),
        worst_title=content.WORST,
        worst=tuple(content.worst(assessment, system)),
        steps_title=content.FIRST,
        steps=tuple(
            (words.capital(one.measure), content.step_text(one)) for one in summary_words.first_steps(assessment)
        ),
        stop_title=content.STOP,
        stop=tuple(summary_words.when_to_stop(assessment)),
        last=content.last_words(assessment),
    )


def renter(assessment: Assessment, improvement: Improvement | None, system: System) -> Renter:
    lines, tail = renter_words.cheap_lines(assessment, improvement, renter_words.MOST_CHEAP)
    return Renter(
        title=renter_words.TITLE,
        total=renter_words.total(assessment, system),
        rows=html_tables.renter(assessment, system),
        cost_note=renter_words.cost_note(assessment),
        where_title=renter_words.WHERE,
        where=renter_words.where_it_goes(assessment, system),
        lists=(
            (renter_words.CHEAP, tuple(lines), tail),
            (renter_words.LANDLORD, tuple(renter_words.ask_landlord(assessment, system)), ""),
            (renter_words.INSURER, tuple(renter_words.ask_insurer(assessment)), ""),
        ),
    )


def cards(assessment: Assessment, plan: Plan | None, system: System) -> Cards:
    """With a plan the cards are those of the installation as it will be."""
    after = plan.assessment if plan is not None else assessment
    installation = after.installation
    return Cards(
        words=card_words,
        name=installation.installation,
        monthly=html_tables.monthly(installation),
        after=tuple(card_words.after_shaking(installation)),
        loaded=card_words.loaded_text(after, plan is not None, system),
        levels=html_tables.levels(installation, after, system),
        shut_off=html_tables.shut_off(installation),
        call=html_tables.call(),
    )
