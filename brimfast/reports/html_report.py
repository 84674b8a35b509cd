"""The report as one HTML page that needs nothing else: what goes into the template, in the order of the PDF."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from functools import cache
from typing import TYPE_CHECKING, Any

from jinja2 import Environment
from markupsafe import Markup

from brimfast import __version__
from brimfast.assess.pipeline import Assessment
from brimfast.reports import choice, html_people, html_tables, owner_content, spill_words, summary_words, words
from brimfast.reports import parts_content as content
from brimfast.reports.equations import GROUND_MOTION, step_markup
from brimfast.reports.figures import figures, pond_figure, wave_figure
from brimfast.reports.html_drawings import Picture, picture_of
from brimfast.reports.html_style import HTML, environment, symbols
from brimfast.reports.html_tables import CLASSES, HtmlTable
from brimfast.reports.sheet import FRAME, INTRODUCTION, MOTION, Sheet, motion_text, outcome, sheet
from brimfast.shared.units import System

if TYPE_CHECKING:
    from brimfast.assess.doubt.doubt import Doubt
    from brimfast.reports.plan_content import Planned

WIDTH, ABOVE, POND = 560.0, 330.0, 170.0  # of the drawings, in their own units
FRAMES_ABOVE = "Periods and largest forces of each frame stand in tables of its own, above."
TEMPLATES = ("report.html", "people.html", "plan.html", "chances.html", "cards.html", "parts.html", "report.css")


@dataclass(frozen=True)
class Drawn:
    """Drawings under one heading."""

    id: str
    title: str
    note: str
    pictures: list[Picture]


@dataclass(frozen=True)
class Part:
    """What follows a topic's findings under a heading of its own: notes before and after, tables, a drawing."""

    id: str
    title: str
    tables: tuple[HtmlTable, ...] = ()
    before: tuple[str, ...] = ()
    after: tuple[str, ...] = ()
    picture: Picture | None = None


@dataclass(frozen=True)
class Topic:
    id: str
    title: str
    findings: HtmlTable
    parts: tuple[Part, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True)
class Lines:
    """A heading of the calculation, its steps as two lines each, and what comes out."""

    heading: str
    number: str
    steps: tuple[tuple[int, Markup, Markup], ...]
    result: Markup
    earlier: str  # numbers of lines that stand further up


@dataclass(frozen=True)
class Calculated:
    """A section of the calculation."""

    title: str
    note: Markup
    blocks: list[Lines]


@cache
def _environment() -> Environment:
    return environment("brimfast.reports", TEMPLATES)


def html_bytes(
    assessment: Assessment,
    sha256: str,
    system: System,
    day: date,
    planned: Planned | None = None,
    doubted: Doubt | None = None,
) -> bytes:
    """The whole page. The same of all of these gives the same bytes."""
    numbered = sheet(assessment)
    tags = choice.finding_numbers(assessment)
    calculated = {tags[id] for id in numbered.of_findings}
    page = _environment().get_template("report.html")
    told = page.render(
        version=__version__,
        style=Markup(_environment().get_template("report.css").render()),
        words=words,
        content=content,
        classes=CLASSES,
        name=assessment.installation.installation,
        checked_on=owner_content.checked_on(assessment, day),
        identity=owner_content.identity(sha256, day),
        owner=html_people.owner(assessment, system),
        renter=html_people.renter(assessment, planned.improvement if planned is not None else None, system),
        cards=html_people.cards(assessment, planned.plan if planned is not None else None, system),
        **_asked_for(planned, doubted, system),
        drawn=_drawn(assessment, system),
        weight_text=content.weight_text(assessment, system),
        weights=html_tables.weights(assessment, system),
        demand_text=symbols(content.demand_text(assessment)),
        demand=html_tables.demand(assessment, system),
        topics=_topics(assessment, calculated, system),
        advice=html_tables.advice(assessment),
        cautions=assessment.cautions,
        assumptions=[symbols(text, GROUND_MOTION) for text in assessment.assumptions],
        introduction=INTRODUCTION,
        inputs=html_tables.inputs(assessment, system),
        calculation=_calculation(numbered, assessment, system),
        confirm=html_tables.confirm(assessment),
        closing=owner_content.closing_words(sha256),
    )
    return told.encode()


def _asked_for(planned: Planned | None, doubted: Doubt | None, system: System) -> dict[str, Any]:
    """Sheets to work by, and chances; what they need is loaded only for them."""
    found: dict[str, Any] = {"plan": None, "chances": None}
    if planned is not None:
        from brimfast.reports.html_plan import plan_part

        found["plan"] = plan_part(planned, WIDTH)
    if doubted is not None:
        from brimfast.reports.html_doubt import chances_part

        found["chances"] = chances_part(doubted, system, WIDTH)
    return found


def _drawn(assessment: Assessment, system: System) -> list[Drawn]:
    """Figures of one title together."""
    found: list[Drawn] = []
    for number, one in enumerate(figures(assessment, system, WIDTH, ABOVE), start=1):
        if one.title or not found:
            found.append(Drawn(f"drawn-{number}", one.title, one.note, []))
        found[-1].pictures.append(picture_of(one, f"drawing-{number}", one.subtitle or one.title))
    return found


def _topics(assessment: Assessment, calculated: set[str], system: System) -> list[Topic]:
    tags = choice.finding_numbers(assessment)
    found = []
    for topic, title in choice.TOPICS.items():
        findings = [finding for finding in assessment.findings if finding.topic == topic]
        if findings:
            rows = html_tables.findings(topic, title, findings, calculated, system, tags)
            notes = (words.PRACTICE, *summary_words.pipe_notes(assessment)) if topic == "pipes" else ()
            found.append(Topic(topic, title, rows, tuple(_parts(topic, assessment, system)), notes))
    return found


def _parts(topic: str, assessment: Assessment, system: System) -> list[Part]:
    if topic == "stability":
        starts = html_tables.starts(assessment, system)
        notes = (symbols(content.start_text(assessment)),)
        return [Part("starts", content.START_TITLE, (starts,), notes, (words.HOW_FAR,))] if starts.rows else []
    if topic == "sway":
        frames = html_tables.frames(assessment, system)
        return [Part(f"frame-{index}", title, tables) for index, (title, tables) in enumerate(frames, start=1)]
    if topic == "slosh":
        waves = html_tables.waves(assessment, system)
        after = tuple(summary_words.sloshing_compared(assessment, system))
        found = wave_figure(assessment, system, WIDTH)
        picture = None if found is None else picture_of(found, "wave-heights", "Waves against the rim")
        return [Part("waves", "Waves", (waves,), (), after, picture)] if waves.rows else []
    if topic == "spill":
        return _water(assessment, system)
    if topic == "exposure":
        cost = html_tables.exposure(assessment, system)
        cautions = tuple(f"– {text}" for text in assessment.exposed.cautions)
        return [Part("cost", content.EXPOSURE_TITLE, (cost,), (), cautions)] if cost.rows else []
    return []


def _water(assessment: Assessment, system: System) -> list[Part]:
    events = html_tables.events(assessment, system)
    before = (spill_words.room_text(assessment, system),)
    after = tuple(f"– {note}." for note in spill_words.notes(assessment))
    parts = [Part("mishaps", content.EVENTS_TITLE, (events,), before, after)]
    depth = pond_figure(assessment, system, WIDTH, POND)
    if depth is not None:
        water = spill_words.what_water_does(assessment, system)
        picture = picture_of(replace(depth, note=water, subtitle=""), "pond", content.POND_TITLE)
        parts.append(Part("depth", content.POND_TITLE, picture=picture))
    return parts


def _calculation(numbered: Sheet, assessment: Assessment, system: System) -> list[Calculated]:
    """Sections along the load path; what a line of an earlier block said is cited by its number."""
    tags = choice.finding_numbers(assessment)
    found = []
    for section in numbered.sections:
        blocks = []
        for block in section.blocks:
            tag = tags[block.finding.id] if block.finding is not None else ""
            heading = block.title.removeprefix(tag).strip()
            lines = [(line.number, step_markup(line.step, system, HTML)) for line in block.lines]
            steps = tuple((number, Markup(first), Markup(second)) for number, (first, second) in lines)
            earlier = ", ".join(f"({line.number})" for line in block.earlier)
            result = outcome(block.finding, system) if block.finding is not None else ""
            blocks.append(Lines(heading, tag, steps, symbols(result) if result else Markup(""), earlier))
        notes = {MOTION: motion_text(assessment), FRAME: FRAMES_ABOVE if assessment.frames else ""}
        note = symbols(notes.get(section.key, ""))
        if blocks or note:
            found.append(Calculated(" ".join(section.title.split()), note, blocks))
    return found
