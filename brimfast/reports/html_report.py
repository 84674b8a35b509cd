"""The report as one HTML page that needs nothing else: what goes into the template, in the order of the PDF."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from functools import cache
from importlib.resources import files

from jinja2 import DictLoader, Environment, StrictUndefined
from markupsafe import Markup

from brimfast import __version__
from brimfast.assess.pipeline import Assessment
from brimfast.reports import card_words, html_tables, owner_content, renter_words, spill_words, words
from brimfast.reports import parts_content as content
from brimfast.reports.equations import GROUND_MOTION, step_markup
from brimfast.reports.figures import Figure, figures, pond_figure, wave_figure
from brimfast.reports.html_drawings import inline_svg
from brimfast.reports.html_style import HTML, finalized, symbols
from brimfast.reports.html_tables import CLASSES, HtmlTable
from brimfast.reports.sheet import INTRODUCTION, MOTION, Sheet, motion_text, outcome, sheet
from brimfast.shared.findings import Finding
from brimfast.shared.units import System

WIDTH, ABOVE, POND = 560.0, 330.0, 170.0  # of the drawings, in their own units
MOST_CHEAP = 4
TEMPLATES = ("report.html", "parts.html", "report.css")


@dataclass(frozen=True)
class Renter:
    """How much water, where it goes, what is cheap to do, whom to ask what."""

    total: str
    rows: HtmlTable
    where: str
    cheap: tuple[str, ...]
    landlord: tuple[str, ...]
    insurer: tuple[str, ...]


@dataclass(frozen=True)
class Cards:
    """What to look at, in which order after shaking; levels and shut-offs for the wall."""

    monthly: HtmlTable
    after: tuple[str, ...]
    levels: HtmlTable
    shut_off: HtmlTable


@dataclass(frozen=True)
class Picture:
    """A drawing, what its numbers mean, and what is said below it."""

    id: str
    title: str
    subtitle: str
    drawing: Markup
    key: tuple[tuple[str, str], ...]
    case: Markup
    after: str


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
    folder = files("brimfast.reports").joinpath("templates")
    texts = {name: folder.joinpath(name).read_text(encoding="utf-8") for name in TEMPLATES}
    return Environment(
        loader=DictLoader(texts),
        autoescape=True,
        undefined=StrictUndefined,
        finalize=finalized,
        trim_blocks=True,
        lstrip_blocks=True,
    )


def html_bytes(assessment: Assessment, sha256: str, system: System, day: date) -> bytes:
    """The whole page. The same assessment, hash, system and day give the same bytes."""
    numbered = sheet(assessment)
    tags = words.finding_numbers(assessment)
    calculated = {tags[id] for id in numbered.of_findings}
    page = _environment().get_template("report.html")
    told = page.render(
        version=__version__,
        style=Markup(_environment().get_template("report.css").render()),
        words=words,
        owner=owner_content,
        content=content,
        classes=CLASSES,
        name=assessment.installation.installation,
        checked_on=owner_content.checked_on(assessment, day),
        identity=owner_content.identity(sha256, day),
        headline=words.headline(assessment),
        overall=owner_content.overall(assessment),
        counts=words.counts(assessment),
        facts=[(lead, symbols(text, GROUND_MOTION)) for lead, text in owner_content.facts(assessment, system)],
        code=words.what_the_code_asks(assessment),
        worst=[_bad(finding, system) for finding in words.worst(assessment)],
        steps=[(words.capital(one.measure), owner_content.step_text(one)) for one in words.first_steps(assessment)],
        landlord=words.for_the_landlord(assessment, system),
        engineer=owner_content.engineer_words(assessment),
        renter=_renter(assessment, system),
        cards=_cards(assessment, system),
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


def _bad(finding: Finding, system: System) -> dict[str, str]:
    return {
        "verdict": finding.verdict,
        "danger": words.DANGERS[words.danger(finding)],
        "subject": finding.subject,
        "question": finding.question,
        "sentence": words.capital(words.sentence(finding, system)),
        "ratio": words.ratio_text(finding),
    }


def _renter(assessment: Assessment, system: System) -> Renter:
    kinds = [f"{words.capital(one.measure)}: {one.reason}." for one in renter_words.cheap(assessment)[:MOST_CHEAP]]
    return Renter(
        f"In all {renter_words.total(assessment, system)} of water can leave {assessment.installation.installation}.",
        html_tables.renter(assessment, system),
        renter_words.where_it_goes(assessment, system),
        (*kinds, *renter_words.HABITS),
        tuple(renter_words.ask_landlord(assessment, system)),
        tuple(renter_words.ask_insurer(assessment)),
    )


def _cards(assessment: Assessment, system: System) -> Cards:
    installation = assessment.installation
    return Cards(
        html_tables.monthly(installation),
        tuple(card_words.after_shaking(installation)),
        html_tables.levels(installation, assessment, system),
        html_tables.shut_off(installation),
    )


def _drawn(assessment: Assessment, system: System) -> list[Drawn]:
    """Figures of one title together."""
    found: list[Drawn] = []
    for number, one in enumerate(figures(assessment, system, WIDTH, ABOVE), start=1):
        if one.title or not found:
            found.append(Drawn(f"drawn-{number}", one.title, one.note, []))
        found[-1].pictures.append(_picture(one, f"drawing-{number}", one.subtitle or one.title))
    return found


def _picture(one: Figure, name: str, title: str) -> Picture:
    told = "; ".join(f"{number}: {text}" for number, text in (*one.key, *one.bodies))
    drawing = inline_svg(one.drawing, name, title, f"Drawn to scale. {told}." if told else one.note or title)
    case = symbols(one.case) if one.case else Markup("")
    return Picture(name, title, one.subtitle, drawing, (*one.key, *one.bodies), case, one.after)


def _topics(assessment: Assessment, calculated: set[str], system: System) -> list[Topic]:
    tags = words.finding_numbers(assessment)
    found = []
    for topic, title in words.TOPICS.items():
        findings = [finding for finding in assessment.findings if finding.topic == topic]
        if findings:
            rows = html_tables.findings(topic, title, findings, calculated, system, tags)
            notes = (words.PRACTICE, *words.pipe_notes(assessment)) if topic == "pipes" else ()
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
        after = tuple(words.sloshing_compared(assessment, system))
        found = wave_figure(assessment, system, WIDTH)
        picture = None if found is None else _picture(found, "wave-heights", "Waves against the rim")
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
        picture = _picture(replace(depth, note=water, subtitle=""), "pond", content.POND_TITLE)
        parts.append(Part("depth", content.POND_TITLE, picture=picture))
    return parts


def _calculation(numbered: Sheet, assessment: Assessment, system: System) -> list[Calculated]:
    """Sections along the load path; what a line of an earlier block said is cited by its number."""
    tags = words.finding_numbers(assessment)
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
        note = symbols(motion_text(assessment)) if section.key == MOTION else Markup("")
        if blocks or note:
            found.append(Calculated(" ".join(section.title.split()), note, blocks))
    return found
