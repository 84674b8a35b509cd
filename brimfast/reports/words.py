"""Plain words for findings: what an owner reads first. All faces take their sentences from here."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from brimfast.assess.pipeline import Assessment
from brimfast.shared.findings import Finding
from brimfast.shared.units import System, number_text, show

TOPICS = {
    "floor": "Floor",
    "members": "Timber",
    "stability": "Tipping and sliding",
    "joints": "Joints",
    "spill": "Water on the floor",
}
MARKS = {"holds": "✓", "close": "~", "short": "✗", "not assessed": "–"}
DEFER = (
    "This is advice by calculation, not an approval. A licensed structural engineer and the local building code decide."
)
STANDARD_NAMES = {"asce7-16": "ASCE 7-16", "asce7-22": "ASCE 7-22"}


def ratio_text(finding: Finding) -> str:
    if finding.ratio is None:
        return "no capacity" if finding.verdict == "short" else "–"
    return f"{finding.ratio:.2f}" if finding.ratio < 100 else number_text(finding.ratio, 3)


def verdict_text(finding: Finding) -> str:
    return f"{MARKS[finding.verdict]} {finding.verdict}"


def amount(value: float | None, finding: Finding, system: System) -> str:
    return "–" if value is None else show(value, finding.quantity, system)


def severity(finding: Finding) -> tuple[int, float]:
    """Orders findings worst first: physical shortfalls, then code positions, close ones, the rest."""
    rank = {"short": 0, "close": 2, "not assessed": 3, "holds": 4}[finding.verdict]
    if finding.code_position:
        rank = 1 if finding.verdict == "short" else rank
    ratio = finding.ratio if finding.ratio is not None else float("inf")
    return rank, -ratio


def worst(assessment: Assessment, count: int = 3) -> list[Finding]:
    """The worst short or close findings, one a subject."""
    chosen: list[Finding] = []
    for finding in sorted(assessment.findings, key=severity):
        if finding.verdict not in ("short", "close") or finding.code_position:
            continue
        if all(finding.subject != one.subject for one in chosen):
            chosen.append(finding)
        if len(chosen) == count:
            break
    return chosen


def sentence(finding: Finding, system: System) -> str:
    """One finding in one plain sentence."""
    demand, capacity = amount(finding.demand, finding, system), amount(finding.capacity, finding, system)
    if finding.verdict == "not assessed":
        return f"not assessed: {finding.reason}."
    if finding.ratio is None:
        return f"it would have to resist {demand}, and counts on nothing: {finding.reason}."
    times = number_text(finding.ratio, 2)
    if finding.verdict == "short":
        return f"{demand} acts, {capacity} can be counted on: {times} times what it may carry."
    if finding.verdict == "close":
        return f"{demand} acts, {capacity} can be counted on: {round(finding.ratio * 100)} % used, little to spare."
    return f"{demand} acts, {capacity} can be counted on: {round(finding.ratio * 100)} % used."


def counts(assessment: Assessment) -> dict[str, int]:
    found = dict.fromkeys(("short", "close", "holds", "not assessed"), 0)
    for finding in assessment.findings:
        found[finding.verdict] += 1
    return found


def headline(assessment: Assessment) -> str:
    """The answer in one sentence."""
    number = counts(assessment)
    physical = sum(1 for item in assessment.findings if item.verdict == "short" and not item.code_position)
    total = sum(number.values())
    lacking = number["short"] - physical
    if physical:
        also = f", and {_times(lacking, 'body lacks', 'bodies lack')} the attachment a code asks for" if lacking else ""
        return f"{physical} of {total} checks come out short{also}. Mend these before you trust the rest."
    if number["short"]:
        bodies = _times(lacking, "body lacks", "bodies lack")
        return f"Nothing comes out short by physics, but {bodies} the attachment a code asks for."
    if number["close"]:
        return f"Nothing comes out short, but {_times(number['close'], 'check has', 'checks have')} little to spare."
    if number["not assessed"]:
        questions = _times(number["not assessed"], "question", "questions")
        return f"What could be checked holds; {questions} could not be assessed."
    return "Everything that was checked holds."


def _times(number: int, one: str, many: str) -> str:
    return f"{number} {one if number == 1 else many}"


def what_it_weighs(assessment: Assessment, system: System) -> str:
    mass = show(assessment.total_mass, "mass", system)
    other = show(assessment.total_mass, "mass", "si" if system == "us" else "us")
    water = sum(item.water_volume for item in assessment.vessels.values())
    return (
        f"Loaded, it weighs about {mass} ({other}) and holds {show(water, 'volume', system)} of water that can leave."
    )


def what_the_earthquake_does(assessment: Assessment) -> str:
    biggest = max(assessment.forces.values(), key=lambda force: force.horizontal)
    return (
        f"The design earthquake (S_DS {number_text(assessment.motion.S_DS)} g, {assessment.motion.how}; "
        f"{biggest.basis.split(',')[0].split(' section')[0]}) pushes {biggest.subject} sideways with "
        f"{round(100 * biggest.coefficient)} % of its weight."
    )


def what_water_does(assessment: Assessment, system: System) -> str:
    spill = assessment.spill
    if spill.worst is None:
        return "No water can reach the floor."
    single = spill.worst
    text = f"Worst single mishap: {single.event.text} ({show(single.event.volume, 'volume', system)}); "
    if single.leaves > 0:
        text += f"up to {show(single.leaves, 'volume', system)} leaves the room."
    else:
        text += f"it stays in the room, about {show(single.depth, 'length', system, 2)} deep."
    if spill.earthquake is not None:
        quake = spill.earthquake
        text += f" The worst one earthquake can do is {show(quake.event.volume, 'volume', system)}"
        out = show(quake.leaves, "volume", system)
        text += f", of which up to {out} leaves the room." if quake.leaves > 0 else ", and the room holds it."
    return text


def listed(names: Iterable[str], most: int = 8) -> str:
    """Names parted by commas, the rest counted."""
    shown = list(names)
    rest = len(shown) - most
    return ", ".join(shown[:most]) + (f" and {rest} more" if rest > 0 else "")


@dataclass(frozen=True)
class FirstStep:
    """One measure, and all the worst subjects that it is for."""

    measure: str
    reason: str
    subjects: tuple[str, ...]


def first_steps(assessment: Assessment, count: int = 3) -> list[FirstStep]:
    """The first measure for each of the worst findings, subjects of the same measure together."""
    subjects: dict[tuple[str, str], list[str]] = {}
    for finding in worst(assessment, count=8):
        advice = next((one for one in assessment.advice if finding.id in one.for_findings), None)
        if advice is not None:
            subjects.setdefault((advice.measure, advice.reason), []).append(advice.subject)
    steps = [FirstStep(measure, reason, tuple(names)) for (measure, reason), names in subjects.items()]
    return steps[:count]


def finding_numbers(assessment: Assessment) -> dict[str, str]:
    """F1, F2, … in the order of the report; the calculation sheet uses the same."""
    ordered = [finding for topic in TOPICS for finding in assessment.findings if finding.topic == topic]
    return {finding.id: f"F{index}" for index, finding in enumerate(ordered, start=1)}
