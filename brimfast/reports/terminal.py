"""The terminal face: the few sentences that matter, then one table a topic."""

from __future__ import annotations

from rich.console import Console
from rich.text import Text

from brimfast import __version__
from brimfast.assess.demand.period import period_text
from brimfast.assess.pipeline import Assessment
from brimfast.reports import spill_words, words
from brimfast.reports.exposure_faces import EXPOSURE_HEAD, exposure_rows, exposure_words
from brimfast.reports.terminal_parts import STYLES, console, heading, row, table, wrapped
from brimfast.shared.findings import Finding
from brimfast.shared.units import System, show

__all__ = ["console", "print_assessment"]
MOST_EVENTS = 12
COLUMNS = (0, 1, 4, 6, 7)  # of a row of spills; the report has them all


def print_assessment(assessment: Assessment, system: System, out: Console) -> None:
    _summary(assessment, system, out)
    _weights(assessment, system, out)
    _demand(assessment, system, out)
    for topic, title in words.TOPICS.items():
        found = [finding for finding in assessment.findings if finding.topic == topic]
        if found:
            _findings(title, found, system, out)
        if topic == "sway":
            _frames(assessment, out)
        if topic == "slosh":
            _waves(assessment, system, out)
        if topic == "spill":
            _events(assessment, system, out)
        if topic == "exposure":
            _exposure(assessment, system, out)
        if topic == "pipes" and found:
            _pipes(assessment, found, out)
    _not_assessed(assessment, out)
    _advice(assessment, out)
    _closing(assessment, system, out)


def _summary(assessment: Assessment, system: System, out: Console) -> None:
    installation = assessment.installation
    name = installation.installation + (" (invented)" if installation.invented else "")
    out.print(Text(name, style="bold"))
    wrapped(f"brimfast {__version__} · {words.DEFER}", out, style="dim")
    out.print()
    wrapped(words.headline(assessment), out, style="bold")
    number = words.counts(assessment)
    out.print(
        Text(
            f"✗ {number['short']} short   ~ {number['close']} close   ✓ {number['holds']} hold   "
            f"– {number['not assessed']} not assessed"
        )
    )
    out.print()
    wrapped(words.what_it_weighs(assessment, system), out)
    wrapped(words.what_the_earthquake_does(assessment), out)
    wrapped(spill_words.what_water_does(assessment, system), out)
    cost = exposure_words(assessment.exposed, assessment.installation)
    if cost:
        wrapped(cost, out)
    code = words.what_the_code_asks(assessment)
    if code:
        wrapped(code, out)
    worst = words.worst(assessment)
    if worst:
        heading("Worst first", out)
        for finding in worst:
            wrapped(
                f"{words.MARKS[finding.verdict]} {words.DANGERS[words.danger(finding)]}: {finding.subject}. {finding.question}",
                out,
                2,
                STYLES[finding.verdict],
            )
            wrapped(words.sentence(finding, system), out, 4)
    steps = words.first_steps(assessment)
    if steps:
        heading("Do first", out)
        for index, first in enumerate(steps, start=1):
            wrapped(
                f"{index}. {words.capital(first.measure)}. For {words.listed(first.subjects, 4)}: {first.reason}{'; ' + first.needs if first.needs else ''}.",
                out,
                2,
            )


def _weights(assessment: Assessment, system: System, out: Console) -> None:
    heading("Weights", out)
    grid = table(
        (("body", False), ("loaded", True), ("centre of mass above its base", True), ("filled to the rim", True))
    )
    for name, rack in assessment.racks.items():
        row(
            grid,
            f"rack {name}, empty",
            show(rack.mass, "mass", system),
            show(rack.weighing.height, "length", system),
            "",
        )
    for body in assessment.bodies:
        if body.kind == "rack":
            name = f"{words.plain_name(body.name)}, with all on it"
            row(grid, name, show(body.mass, "mass", system), show(body.height, "length", system), "")
    for name, vessel in assessment.vessels.items():
        row(
            grid,
            name,
            show(vessel.mass, "mass", system),
            show(vessel.height, "length", system),
            show(vessel.brim_mass, "mass", system),
        )
    row(grid, Text("together", style="bold"), Text(show(assessment.total_mass, "mass", system), style="bold"), "", "")
    out.print(grid)


def _demand(assessment: Assessment, system: System, out: Console) -> None:
    heading("Design earthquake, sideways and up-and-down force (strength level)", out)
    grid = table((("body", False), ("weight", True), ("sideways", True), ("share", True), ("up/down", True)))
    for force in assessment.forces.values():
        row(
            grid,
            force.subject,
            show(force.weight, "force", system),
            show(force.horizontal, "force", system),
            f"{force.coefficient:.2f}",
            show(force.vertical, "force", system),
        )
    out.print(grid)


def _findings(title: str, findings: list[Finding], system: System, out: Console) -> None:
    heading(title, out)
    grid = table(
        (("what", False), ("question", False), ("acts", True), ("may", True), ("ratio", True), ("verdict", False))
    )
    for finding in findings:
        row(
            grid,
            finding.subject,
            finding.question,
            words.amount(finding.demand, finding, system),
            words.amount(finding.capacity, finding, system),
            f"{finding.ratio:.2f}" if finding.ratio is not None else "–",
            Text(words.verdict_text(finding), style=STYLES[finding.verdict]),
        )
    out.print(grid)


def _frames(assessment: Assessment, out: Console) -> None:
    for name, acts in assessment.frames.items():
        for way, period in zip(("along", "across"), acts.periods, strict=True):
            gives = acts.gives_way(way)
            text = f"gives way: {gives}" if gives else f"balances with its feet {acts.feet_words(way)}"
            wrapped(f"Rack {name}, pushed {way}: {text}; natural period {period_text(period)}.", out)


def _waves(assessment: Assessment, system: System, out: Console) -> None:
    rows = words.wave_rows(assessment, system)
    if not rows:
        return
    grid = table((title, index > 0) for index, title in enumerate(words.WAVE_HEAD))
    for cells in rows:
        row(grid, *cells)
    out.print(grid)
    for text in words.sloshing_compared(assessment, system):
        wrapped(text, out)


def _events(assessment: Assessment, system: System, out: Console) -> None:
    spill = assessment.spill
    wrapped(spill_words.room_text(assessment, system), out)
    grid = table(tuple((spill_words.HEAD[number], number > 0) for number in COLUMNS))
    rows = [one for one in spill.with_open_drains if one is not spill.earthquake]
    shown = rows[:MOST_EVENTS]
    for run in [*shown, *([spill.earthquake] if spill.earthquake else [])]:
        cells = spill_words.row(assessment.installation, spill, run, system)
        row(grid, *(cells[number] for number in COLUMNS))
    out.print(grid)
    if len(rows) > len(shown):
        wrapped(f"{len(rows) - len(shown)} smaller ones are in the report.", out, style="dim")
    for note in spill_words.notes(assessment):
        wrapped(f"– {note}.", out, style="dim")


def _pipes(assessment: Assessment, findings: list[Finding], out: Console) -> None:
    wrapped(words.PRACTICE, out)
    for text in words.pipe_notes(assessment):
        wrapped(f"· {text}", out, 2)
    _reasons([finding for finding in findings if finding.verdict == "not assessed"], out)


def _exposure(assessment: Assessment, system: System, out: Console) -> None:
    rows = exposure_rows(assessment.exposed, system)
    if not rows:
        return
    grid = table(tuple((name, number > 1) for number, name in enumerate(EXPOSURE_HEAD)))
    for cells in rows:
        row(grid, *cells)
    out.print(grid)
    for text in assessment.exposed.cautions:
        wrapped(f"– {text}", out, style="dim")


def _not_assessed(assessment: Assessment, out: Console) -> None:
    found = [finding for finding in assessment.findings if finding.verdict == "not assessed" and not finding.practice]
    if not found:
        return
    heading("Not assessed, and why", out)
    _reasons(found, out)


def _reasons(found: list[Finding], out: Console) -> None:
    reasons: dict[str, list[str]] = {}
    for finding in found:
        reasons.setdefault(finding.reason, []).append(f"{finding.subject}: {finding.question}")
    for reason, subjects in reasons.items():
        for subject in subjects:
            wrapped(f"– {subject}", out, 2)
        wrapped(reason + ".", out, 4, "dim")


def _advice(assessment: Assessment, out: Console) -> None:
    if not assessment.advice:
        return
    heading("What kind of measure would help (brimfast improve ranks and proves them)", out)
    by_measure: dict[tuple[str, str], list[str]] = {}
    for advice in assessment.advice:
        by_measure.setdefault((advice.measure, advice.reason), []).append(advice.subject)
    for (measure, reason), subjects in by_measure.items():
        wrapped(f"· {measure}: {reason} ({words.listed(subjects, 4)})", out, 2)


def _closing(assessment: Assessment, system: System, out: Console) -> None:
    heading("Cautions", out)
    for caution in assessment.cautions:
        wrapped(f"! {caution.title}. {caution.text}", out, 2)
    heading("Taken for granted", out)
    for text in assessment.assumptions:
        wrapped(f"· {text}", out, 2)
    values = assessment.values_to_confirm()
    if values:
        heading("Confirm before relying on it", out)
        for value in values:
            wrapped(f"· {value.name}: {value.text} ({value.provenance}; see {value.confirm_in})", out, 2)
    heading("For a landlord or insurer", out)
    wrapped(words.for_the_landlord(assessment, system), out, 2)
    out.print()
    wrapped(f"{words.headline(assessment)} {words.DEFER}", out, style="bold")
