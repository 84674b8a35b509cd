"""What the terminal says, part by part: everything, or single topics."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from brimfast import __version__
from brimfast.assess.pipeline import Assessment
from brimfast.reports import choice, parts_content, spill_words, summary_words, words
from brimfast.reports.blocks import Block, Counts, Findings, Gap, Grid, Heading, Line, Reasons, Worst
from brimfast.reports.exposure_faces import EXPOSURE_HEAD, exposure_rows
from brimfast.reports.owner_content import facts, step_text
from brimfast.shared.installation.model import Installation
from brimfast.shared.units import System, show

MOST_EVENTS = 12
COLUMNS = (0, 1, 4, 6, 7)  # of a row of spills; the report has them all
NOTHING = "The file has nothing of that, so nothing was checked."


def named(assessment: Assessment) -> Line:
    return title_line(assessment.installation)


def title_line(installation: Installation) -> Line:
    return Line(installation.installation + (" (invented)" if installation.invented else ""), style="bold")


def everything(assessment: Assessment, system: System) -> list[Block]:
    return list(_everything(assessment, system))


def topics_of(topics: Iterable[str], assessment: Assessment, system: System) -> list[Block]:
    """The answer in one sentence, then those topics, each once."""
    shown = dict.fromkeys(topics)
    parts = [block for topic in shown for block in one_topic(topic, assessment, system)]
    return [named(assessment), Line(summary_words.headline(assessment), style="bold"), *parts]


def _everything(assessment: Assessment, system: System) -> Iterator[Block]:
    yield from _opening(assessment, system)
    yield from weights(assessment, system)
    yield from demand(assessment, system)
    for topic in choice.TOPICS:
        yield from _topic(topic, assessment, system)
    yield from _not_assessed(assessment)
    yield from _advice(assessment)
    yield from cautions(assessment)
    yield Heading("For a landlord or insurer")
    yield Line(summary_words.for_the_landlord(assessment, system), 2)
    yield Gap()
    yield Line(f"{summary_words.headline(assessment)} {words.DEFER}", style="bold")


def one_topic(topic: str, assessment: Assessment, system: System) -> Iterator[Block]:
    """The blocks of one topic, with the reasons and the measures that belong to it."""
    if topic == "weights":
        yield from weights(assessment, system)
    elif topic == "earthquake":
        yield from demand(assessment, system)
    elif topic == "cautions":
        yield from cautions(assessment)
    else:
        found = [finding for finding in assessment.findings if finding.topic == topic]
        if not found:
            yield from (Heading(choice.TOPICS[topic]), Line(NOTHING))
        yield from _topic(topic, assessment, system)
        yield from _not_assessed(assessment, topic)
        yield from _advice(assessment, {finding.id for finding in found})


def _opening(assessment: Assessment, system: System) -> Iterator[Block]:
    yield named(assessment)
    yield Line(f"brimfast {__version__} · {words.DEFER}", style="dim")
    yield Gap()
    yield Line(summary_words.headline(assessment), style="bold")
    yield Counts(choice.counts(assessment))
    yield Gap()
    for _, text in facts(assessment, system):
        yield Line(text)
    code = summary_words.what_the_code_asks(assessment)
    if code:
        yield Line(code)
    worst = choice.worst(assessment)
    if worst:
        yield Heading("Worst first")
        yield from (Worst(finding) for finding in worst)
    steps = summary_words.first_steps(assessment)
    if steps:
        yield Heading("Do first")
        for index, first in enumerate(steps, start=1):
            yield Line(f"{index}. {words.capital(first.measure)}. {step_text(first)}", 2)


def weights(assessment: Assessment, system: System) -> Iterator[Block]:
    rows = []
    for name, rack in assessment.racks.items():
        height = show(rack.weighing.height, "length", system)
        rows.append((f"rack {name}, empty", show(rack.mass, "mass", system), height, ""))
    for body in assessment.bodies:
        if body.kind == "rack":
            name = f"{words.plain_name(body.name)}, with all on it"
            rows.append((name, show(body.mass, "mass", system), show(body.height, "length", system), ""))
    for name, vessel in assessment.vessels.items():
        mass, height = show(vessel.mass, "mass", system), show(vessel.height, "length", system)
        rows.append((name, mass, height, show(vessel.brim_mass, "mass", system)))
    rows.append(("together", show(assessment.total_mass, "mass", system), "", ""))
    yield Heading("Weights")
    head = ("body", "loaded", "centre of mass above its base", "filled to the rim")
    yield Grid(_columns(head, 1), rows, total=True)


def demand(assessment: Assessment, system: System) -> Iterator[Block]:
    yield Heading("Design earthquake, sideways and up-and-down force (strength level)")
    rows = [
        (
            force.subject,
            show(force.weight, "force", system),
            show(force.horizontal, "force", system),
            f"{force.coefficient:.2f}",
            show(force.vertical, "force", system),
        )
        for force in assessment.forces.values()
    ]
    yield Grid(_columns(("body", "weight", "sideways", "share", "up/down"), 1), rows)


def _columns(titles: tuple[str, ...], names: int) -> tuple[tuple[str, bool], ...]:
    """The first columns are names, the others numbers."""
    return tuple((title, index >= names) for index, title in enumerate(titles))


def _topic(topic: str, assessment: Assessment, system: System) -> Iterator[Block]:
    found = [finding for finding in assessment.findings if finding.topic == topic]
    if found:
        yield Heading(choice.TOPICS[topic])
        yield Findings(found)
    if topic == "sway":
        yield from _frames(assessment)
    if topic == "slosh":
        yield from _waves(assessment, system)
    if topic == "spill":
        yield from _events(assessment, system)
    if topic == "exposure":
        yield from _exposure(assessment, system)
    if topic == "pipes" and found:
        yield Line(words.PRACTICE)
        yield from (Line(text, 2, mark="·") for text in summary_words.pipe_notes(assessment))
    # Those of practice stand by their tables, all others in a list of their own.
    yield Reasons([finding for finding in found if finding.verdict == "not assessed" and finding.practice])


def _frames(assessment: Assessment) -> Iterator[Block]:
    for name, acts in assessment.frames.items():
        for way, period, text in parts_content.frame_rows(acts):
            yield Line(f"Rack {name}, pushed {way}: {text}; natural period {period}.")


def _waves(assessment: Assessment, system: System) -> Iterator[Block]:
    rows = summary_words.wave_rows(assessment, system)
    if rows:
        yield Grid(_columns(summary_words.WAVE_HEAD, 1), rows)
        yield from (Line(text) for text in summary_words.sloshing_compared(assessment, system))


def _events(assessment: Assessment, system: System) -> Iterator[Block]:
    spill = assessment.spill
    yield Line(spill_words.room_text(assessment, system))
    runs = [one for one in spill.with_open_drains if one is not spill.earthquake]
    shown = runs[:MOST_EVENTS]
    cells = [
        spill_words.row(assessment.installation, spill, run, system)
        for run in [*shown, *([spill.earthquake] if spill.earthquake else [])]
    ]
    rows = [[row[number] for number in COLUMNS] for row in cells]
    yield Grid(_columns(tuple(spill_words.HEAD[number] for number in COLUMNS), 1), rows)
    if len(runs) > len(shown):
        yield Line(f"{len(runs) - len(shown)} smaller ones are in the report.", style="dim")
    yield from (Line(f"{note}.", style="dim", mark="–") for note in spill_words.notes(assessment))


def _exposure(assessment: Assessment, system: System) -> Iterator[Block]:
    rows = exposure_rows(assessment.exposed, system)
    if rows:
        yield Grid(_columns(EXPOSURE_HEAD, 2), rows)
        yield from (Line(text, style="dim", mark="–") for text in assessment.exposed.cautions)


def _not_assessed(assessment: Assessment, topic: str | None = None) -> Iterator[Block]:
    found = [
        finding
        for finding in assessment.findings
        if finding.verdict == "not assessed" and not finding.practice and topic in (None, finding.topic)
    ]
    if found:
        yield Reasons(found, "Not assessed, and why")


def _advice(assessment: Assessment, only: set[str] | None = None) -> Iterator[Block]:
    """What would help, with all findings or with some."""
    by_measure: dict[tuple[str, str], list[str]] = {}
    for advice in assessment.advice:
        if only is None or only.intersection(advice.for_findings):
            by_measure.setdefault((advice.measure, advice.reason), []).append(advice.subject)
    if by_measure:
        yield Heading(f"{parts_content.MEASURES} (brimfast improve ranks and proves them)")
    for (measure, reason), subjects in by_measure.items():
        yield Line(f"{measure}: {reason} ({words.listed(subjects, 4)})", 2, mark="·")


def cautions(assessment: Assessment) -> Iterator[Block]:
    yield Heading(parts_content.CAUTIONS)
    yield from (Line(f"{caution.title}. {caution.text}", 2, mark="!") for caution in assessment.cautions)
    yield Heading(parts_content.GRANTED)
    yield from (Line(text, 2, mark="·") for text in assessment.assumptions)
    values = assessment.values_to_confirm()
    if values:
        yield Heading(parts_content.CONFIRM)
    for value in values:
        yield Line(f"{value.name}: {value.text} ({value.provenance}; see {value.confirm_in})", 2, mark="·")
