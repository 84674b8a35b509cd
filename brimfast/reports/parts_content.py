"""Notes and rows of the long report's middle: the same for PDF and HTML."""

from __future__ import annotations

from brimfast.assess.demand.period import period_text
from brimfast.assess.frame.actions import RackActions
from brimfast.assess.pipeline import Assessment
from brimfast.reports import choice, words
from brimfast.shared.findings import Finding
from brimfast.shared.units import System

# Headings of sections, in the order of the report.
WEIGHTS = "What it weighs"
EARTHQUAKE = "What the design earthquake does"
MEASURES = "What kind of measure would help"
CAUTIONS = "Cautions"
INPUTS = "Inputs: what the file gives"
GRANTED = "Taken for granted"
CONFIRM = "Confirm before relying on it"
CALCULATION = "Calculation"
FINDING_HEAD = ("no.", "what", "question", "acts", "may carry", "ratio", "verdict")
WEIGHT_HEAD = ("body", "part", "weight", "height of its centre above the body's base")
DEMAND_HEAD = ("body", "weight", "sideways", "share of weight", "up and down", "table row, and what governs")
START_HEAD = ("body", "starts to tip", "starts to slide", "may slide")
FRAME_HEAD = ("pushed", "natural period", "what happens")
LARGEST_HEAD = ("largest, allowable level", "value", "where", "case")
ADVICE_HEAD = ("measure", "why it helps", "where, and for which finding")
ADVICE_NOTE = "brimfast improve ranks them by effect and proves them. Numbers point to the findings above."
CONFIRM_HEAD = ("value used", "figure", "provenance", "after", "find it in")
CONFIRM_NOTE = (
    "Values that come from memory or common practice, or are asked of something not yet bought. An engineer looks them up "
    "before relying on a result."
)
NOTHING_TO_CONFIRM = "Every value used is published or given in the file."
START_TITLE = "When it starts to move"
EVENTS_TITLE = "Every mishap, most water first"
TOGETHER = "together"
EXPOSURE_TITLE = "Floors that get wet, and what drying and repair may cost"
POND_TITLE = "Depth of the water on the floor: the worst single mishap, and dashed what an earthquake could do at worst"


def weight_text(assessment: Assessment, system: System) -> str:
    return f"Everything together, loaded: {words.both(assessment.total_mass, 'mass', system)}."


def weight_rows(assessment: Assessment, system: System) -> list[list[str]]:
    """Of each body its parts, and the sum of several; TOGETHER in the second column marks those."""
    rows: list[list[str]] = []
    weighings = [(f"rack {name}", item.weighing) for name, item in assessment.racks.items()]
    weighings += [(name, item.weighing) for name, item in assessment.vessels.items()]

    def row(name: str, part: str, mass: float, height: float) -> None:
        rows.append([name, part, words.both(mass, "mass", system), words.both(height, "length", system)])

    for name, weighing in weighings:
        for index, part in enumerate(weighing.parts):
            row(name if index == 0 else "", part.part, part.mass, part.height)
        if len(weighing.parts) > 1:
            row("", TOGETHER, weighing.mass, weighing.height)
    for body in assessment.bodies:
        if body.kind == "rack":
            row(body.name, "with all on it, as one body", body.mass, body.height)
    return rows


def demand_text(assessment: Assessment) -> str:
    bases = dict.fromkeys(force.basis for force in assessment.forces.values())
    motion = assessment.motion
    return f"{motion.symbol} = {motion.plateau:.3g} g ({motion.how}). Strength level. {'; '.join(bases)}."


def demand_rows(assessment: Assessment, system: System) -> list[list[str]]:
    return [
        [
            force.subject,
            words.both(force.weight, "force", system),
            words.both(force.horizontal, "force", system),
            f"{force.coefficient:.3f}",
            words.both(force.vertical, "force", system),
            f"{force.row}; {force.governs} governs",
        ]
        for force in assessment.forces.values()
    ]


def said_beside(finding: Finding) -> str:
    """What stands under a finding's question: the event, the reason, what the frame says."""
    extra = finding.reason if finding.verdict in ("short", "not assessed") else ""
    if finding.details.get("by the frame"):
        extra = "; ".join(part for part in (extra, f"by the frame {finding.details['by the frame']}") if part)
    if finding.details.get("event"):
        extra = "; ".join(part for part in (finding.details["event"], extra) if part)
    return extra


def plain_ratio(finding: Finding) -> str:
    return f"{finding.ratio:.2f}" if finding.ratio is not None else "–"


def start_text(assessment: Assessment) -> str:
    motion = assessment.motion
    return (
        "Steady sideways acceleration of the floor, physical estimate without any margin. The design earthquake's "
        f"ground peaks near {motion.peak:.2f} g ({motion.peak_words}); upper floors shake more."
    )


def start_rows(assessment: Assessment, system: System) -> list[list[str]]:
    """Of each body that can tip: at what acceleration it tips and slides, and how far."""
    rows = []
    for body in assessment.bodies:
        tips = [
            f"{finding.details['direction']} {finding.details['starts to tip at']}"
            for finding in assessment.findings
            if finding.id.startswith(f"tipping/{body.name}/") and "starts to tip at" in finding.details
        ]
        slides = [
            finding.details["starts to slide at"]
            for finding in assessment.findings
            if finding.id == f"sliding/{body.name}"
        ]
        moving = assessment.beyond.get(body.name)
        if tips:
            rows.append([body.name, ", ".join(tips), ", ".join(slides), words.may_slide(moving, system)])
    return rows


def frame_rows(acts: RackActions) -> list[list[str]]:
    """How a rack swings and balances, pushed along and across."""
    rows = []
    for way, period in zip(("along", "across"), acts.periods, strict=True):
        gives = acts.gives_way(way)
        text = f"gives way: {gives}" if gives else f"balances with its feet {acts.feet_words(way)}"
        rows.append([way, period_text(period), text])
    return rows


def advice_rows(assessment: Assessment) -> list[list[str]]:
    tags = choice.finding_numbers(assessment)
    grouped: dict[tuple[str, str], list[str]] = {}
    for advice in assessment.advice:
        numbers = ", ".join(tags[id] for id in advice.for_findings)
        grouped.setdefault((advice.measure, advice.reason), []).append(f"{advice.subject} ({numbers})")
    return [
        [words.capital(measure), words.capital(reason), words.listed(subjects, 6)]
        for (measure, reason), subjects in grouped.items()
    ]
