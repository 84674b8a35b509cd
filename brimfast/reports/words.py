"""Plain words for findings: what an owner reads first. All faces take their sentences from here."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from brimfast.assess.beyond.assess import Beyond
from brimfast.assess.pipeline import Assessment, Seen
from brimfast.assess.slosh.splash import splash
from brimfast.assess.slosh.water import WAYS
from brimfast.shared.findings import Caution, Finding, severity
from brimfast.shared.installation.model import Installation
from brimfast.shared.units import System, number_text, show

if TYPE_CHECKING:
    from brimfast.assess.doubt.ends import End

TOPICS = {
    "floor": "Floor",
    "members": "Timber",
    "stability": "Tipping and sliding",
    "sway": "How it sways",
    "hung": "What hangs",
    "joints": "Joints",
    "slosh": "Sloshing",
    "spill": "Water on the floor",
    "exposure": "What it may cost",
    "pipes": "Pipes and pumps, by practice",
}
MARKS = {"holds": "✓", "close": "~", "short": "✗", "not assessed": "–"}
DEFER = (
    "This is advice by calculation, not an approval. A licensed structural engineer and the local building code decide."
)


def ratio_text(finding: Finding) -> str:
    if finding.ratio is None:
        return "no capacity" if finding.verdict == "short" else "–"
    return f"{finding.ratio:.2f}" if finding.ratio < 100 else number_text(finding.ratio, 3)


def verdict_text(finding: Finding) -> str:
    return f"{MARKS[finding.verdict]} {finding.verdict}"


def amount(value: float | None, finding: Finding, system: System) -> str:
    return "–" if value is None else show(value, finding.quantity, system)


DANGERS = {
    "now": "overloaded now",
    "falls": "falls or folds",
    "slides": "slides",
    "sways": "sways too far",
    "swings": "swings and hits",
    "water": "spills",
    "splashes": "splashes over",
}


def danger(finding: Finding) -> str:
    """What a shortfall would mean: overloaded now, before any earthquake; falls or folds in one; slides; sways; spills."""
    id = finding.id
    if finding.topic == "spill":
        return "water"
    if finding.topic == "slosh":
        return "splashes"
    if finding.topic == "hung":
        return "swings" if id.endswith("/swing") else "falls"
    if finding.always:
        return "now"
    if finding.topic == "sway":
        return "slides" if id.endswith("/feet") else "sways"
    return "slides" if id.startswith(("sliding", "attachment")) else "falls"


def worst(assessment: Seen, count: int = 3) -> list[Finding]:
    """The worst short or close findings: of each danger the worst first, then the next of each."""
    groups: dict[str, list[Finding]] = {name: [] for name in DANGERS}
    for finding in sorted(assessment.findings, key=severity):
        if finding.verdict in ("short", "close") and not (finding.code_position or finding.practice):
            group = groups[danger(finding)]
            if all(finding.subject != one.subject for one in group):
                group.append(finding)
    chosen: list[Finding] = []
    depth = 0
    while len(chosen) < count and any(len(group) > depth for group in groups.values()):
        for group in groups.values():
            if len(group) > depth and len(chosen) < count:
                chosen.append(group[depth])
        depth += 1
    return sorted(chosen, key=lambda finding: list(DANGERS).index(danger(finding)))


def sentence(finding: Finding, system: System) -> str:
    """One finding in one plain sentence."""
    demand, capacity = amount(finding.demand, finding, system), amount(finding.capacity, finding, system)
    if finding.verdict == "not assessed":
        return f"not assessed: {finding.reason}."
    if finding.topic == "exposure":
        over = (
            f": {number_text(finding.ratio, 2)} times that" if finding.ratio is not None and finding.ratio > 1 else ""
        )
        return f"{demand} at most by these figures, where the file gives {capacity}{over}. Ask your insurer whether it pays."
    if finding.topic == "slosh" and finding.quantity == "force":
        lifts = ": it lifts the lid and splashes over" if finding.verdict == "short" else ""
        return f"waves could push up with {demand} on each fastening of its lid; {capacity} can be counted on{lifts}."
    if finding.topic == "slosh":
        over = ": it splashes over" if finding.verdict == "short" else ""
        return f"waves could rise {demand} above the water at rest; {capacity} is free up to the rim{over}."
    if finding.ratio is None:
        if finding.topic == "spill":
            return f"{demand} could come, and nothing holds it: {finding.reason}."
        return f"it would have to resist {demand}, and there is nothing to resist it: {finding.reason}."
    times = number_text(finding.ratio, 2)
    if finding.topic == "spill":
        held = f"{demand} could come; {capacity} is held or drained"
        if finding.ratio <= 1:
            return f"{held}."
        return f"{held}: a little more than that." if finding.ratio < 1.1 else f"{held}: {times} times as much."
    if finding.topic == "floor":
        under = f"{demand} under it, where the floor is planned for {capacity} on average: {times} times that"
        spot = "; one heavy spot can still be all right: what carries the floor there decides"
        return under + (spot if finding.ratio > 1 else "") + "."
    if finding.topic == "hung" and finding.id.endswith("/swing"):
        return f"it can swing {demand} to each side; {capacity} is free."
    if finding.id.endswith("/distances"):
        return f"{demand} is the least, {capacity} is there."
    if finding.verdict == "short" and finding.ratio < 1.1:
        return f"{demand} acts, {capacity} can be counted on: a little more than it may carry."
    if finding.verdict == "short":
        return f"{demand} acts, {capacity} can be counted on: {times} times what it may carry."
    if finding.verdict == "close":
        return f"{demand} acts, {capacity} can be counted on: {round(finding.ratio * 100)} % used, little to spare."
    return f"{demand} acts, {capacity} can be counted on: {round(finding.ratio * 100)} % used."


def how_much(finding: Finding) -> str:
    """How far over, or how near, in a word or two."""
    if finding.ratio is None:
        return "nothing resists it" if finding.topic not in ("spill", "slosh") else "nothing holds it"
    if finding.verdict == "short":
        return "a little over" if finding.ratio < 1.1 else f"{number_text(finding.ratio, 2)} times the limit"
    return f"{round(finding.ratio * 100)} % used"


def both(value: float, kind: str, system: System, figures: int = 3) -> str:
    """In the reader's units, and behind them in the other system's: 417 lb (1.86 kN)."""
    other: System = "si" if system == "us" else "us"
    shown, also = show(value, kind, system, figures), show(value, kind, other, figures)
    return shown if shown == also else f"{shown} ({also})"


def counts(assessment: Seen) -> dict[str, int]:
    """How many checks come out how; what is practice alone stands apart and is not counted."""
    found = dict.fromkeys(("short", "close", "holds", "not assessed"), 0)
    for finding in assessment.findings:
        if not finding.practice:
            found[finding.verdict] += 1
    return found


PRACTICE = (
    "Rules of practice beside the equations of pipe flow: short here means unusual or too little flow, not danger, and counts "
    "neither in the summary nor in the exit code. What an overflow or a siphon spills stands above."
)


def pipe_notes(assessment: Assessment) -> list[str]:
    """Of each pump, pipe and vessel in one line: flow, turn-over, head, what drains back, what the rule says."""
    notes: dict[str, list[str]] = {}
    for finding in assessment.findings:
        if finding.topic == "pipes":
            parts = [f"{key}: {text}" for key, text in finding.details.items()]
            notes.setdefault(finding.subject, []).extend(parts)
    return [
        f"{begun(subject, assessment.installation)}. {capital('; '.join(parts))}."
        for subject, parts in notes.items()
        if parts
    ]


def headline(assessment: Assessment) -> str:
    """The answer in one sentence."""
    number = counts(assessment)
    physical = sum(
        1 for item in assessment.findings if item.verdict == "short" and not (item.code_position or item.practice)
    )
    total = sum(number.values())
    lacking = number["short"] - physical
    if physical:
        of = f"{number['short']} of {total} checks come out short"
        if lacking:
            of += f": {physical} by calculation, {lacking} for lack of a fastening that a code asks for"
        return f"{of}. Mend these first."
    if number["short"]:
        bodies = _times(lacking, "body lacks", "bodies lack")
        return f"Nothing comes out short by calculation, but {bodies} the fastening that a code asks for."
    if number["close"]:
        return f"Nothing comes out short, but {_times(number['close'], 'check has', 'checks have')} little to spare."
    if number["not assessed"]:
        questions = _times(number["not assessed"], "question", "questions")
        return f"What could be checked holds; {questions} could not be assessed."
    return "Everything that was checked holds."


def _times(number: int, one: str, many: str) -> str:
    return f"{number} {one if number == 1 else many}"


def what_it_weighs(assessment: Assessment, system: System) -> str:
    mass = both(assessment.total_mass, "mass", system)
    water = show(water_that_can_leave(assessment), "volume", system)
    return f"Loaded, it weighs about {mass} and holds {water} of water that can leave."


def what_the_earthquake_does(assessment: Assessment) -> str:
    biggest = max(assessment.forces.values(), key=lambda force: force.horizontal)
    return (
        f"The design earthquake (acceleration {assessment.motion.symbol} {number_text(assessment.motion.plateau)} g, {assessment.motion.how}; "
        f"{biggest.basis.split(',')[0].split(' section')[0]}) pushes {plain_name(biggest.subject)} sideways with "
        f"{round(100 * biggest.coefficient)} % of its weight."
    )


def what_the_code_asks(assessment: Assessment) -> str:
    """The code's position beside the physical estimate; empty where it asks for nothing more."""
    names = [finding.subject for finding in assessment.findings if finding.code_position]
    if not names:
        return ""
    return (
        f"Besides, a code wants {listed(names, 4)} fastened, without counting on friction, unless it counts as movable "
        "furniture: ask the building department."
    )


def what_was_looked_at(assessment: Assessment, named: bool) -> str:
    """How many questions of each kind hold; named: where no picture shows it, of which bodies."""
    installation = assessment.installation
    bodies = [plain_name(f"rack {name}") for name in installation.racks]
    bodies += [vessel.name for vessel in installation.vessels]
    of = f"{listed(bodies, 6)}: " if named else ""
    parts = []
    for topic, title in TOPICS.items():
        asked = [one for one in assessment.findings if one.topic == topic and not one.practice]
        if asked:
            holds = sum(one.verdict == "holds" for one in asked)
            parts.append(f"{title[:1].lower() + title[1:]} {holds} of {len(asked)}")
    return f"{of}what the file says, nothing else. Of the questions asked hold: {', '.join(parts)}."


def when_to_stop(assessment: Assessment) -> list[str]:
    """Signs and works at which calculation at home ends."""
    found = []
    now = [one.subject for one in assessment.findings if one.verdict == "short" and danger(one) == "now"]
    if now:
        names = listed(dict.fromkeys(plain_name(one) for one in now), 3)
        found.append(f"Now: {names} carries more than it may day and night. Lower the water before anything else.")
    if assessment.racks:
        found.append("A post leans, splits or sinks, a joint opens, a fastener bends, a foot has moved.")
    found += [
        "The floor sags, cracks or shakes under your step, or a door nearby begins to jam.",
        "After any shaking that moved something: power off, water low, no one beneath, until it was looked at.",
        "Before you drill into a slab, cut a joist or a stud, or build on a number here that is short or not assessed.",
    ]
    return found


def most_pressure(assessment: Assessment) -> float | None:
    """Mean pressure under the body that presses the floor most, Pa."""
    means = (one.demand for one in assessment.findings if one.id.startswith("floor/") and one.id.endswith("/mean"))
    return max((one for one in means if one), default=None)


def water_that_can_leave(assessment: Assessment) -> float:
    """m³, of all vessels."""
    return math.fsum(item.water_volume for item in assessment.vessels.values())


def for_the_landlord(assessment: Assessment, system: System) -> str:
    """What a landlord or insurer should hear, in one paragraph."""
    text = f"{show(assessment.total_mass, 'mass', system)} in all"
    pressure = most_pressure(assessment)
    if pressure is not None:
        text += f", at most {show(pressure, 'pressure', system)} under one of them"
    text += f"; {show(water_that_can_leave(assessment), 'volume', system)} of water."
    most = assessment.spill.most
    if most is not None and most.leaves > 0:
        text += f" In the worst case {show(most.leaves, 'volume', system)} leaves the room ({most.event.text})."
    if assessment.installation.exposure.below != "none":
        text += " There are rooms below, and water also goes through a floor."
    return text + " Ask in writing: may it stand here, may it be screwed to wall or floor, and who insures the water?"


def sloshing_compared(assessment: Assessment, system: System) -> list[str]:
    """Of each body with free water: push and tipping with sloshing beside all water rigid, and which is used."""
    found = []
    for body in assessment.bodies:
        for direction in body.directions:
            sloshing = direction.sloshing
            if sloshing is None:
                continue
            rigid = assessment.forces[body.name].horizontal
            pairs = (
                ("push", sloshing.force, rigid, "force"),
                ("tipping moment", sloshing.moment, rigid * body.height, "moment"),
            )
            parts = [
                f"{what} {show(with_waves, quantity, system)} with sloshing, {show(without, quantity, system)} with all water "
                f"rigid ({'the former' if with_waves > without else 'the latter'} is used)"
                for what, with_waves, without, quantity in pairs
            ]
            steep = "; the waves are steeper than linear theory covers, so this is an index" if sloshing.index else ""
            found.append(
                f"{begun(plain_name(body.name), assessment.installation)}, {direction.name}: {'; '.join(parts)}{steep}."
            )
    return found


def wave_rows(assessment: Assessment, system: System) -> list[list[str]]:
    """Of each vessel with free water, in each direction: period, sloshing share and where it acts, wave, rim, splash."""
    rows = []
    for wave in assessment.waves:
        name = f"{wave.vessel}, {WAYS[wave.way]}"
        if not wave.assessed:
            rows.append([name, *("–" for _ in range(5))])
            continue
        water = wave.water
        rows.append(
            [
                name,
                f"{wave.period:.2f} s",
                f"{round(100 * wave.sloshing / water.weight)} % at {show(wave.sloshing_height, 'length', system, 2)}",
                ("about " if wave.index else "") + show(wave.wave, "length", system, 2),
                show(water.freeboard, "length", system, 2),
                show(splash(wave)[0], "volume", system),
            ]
        )
    return rows


WAVE_HEAD = (
    "vessel, shaken",
    "wave to and fro",
    "sloshes, height",
    "wave rises",
    "free to the rim",
    "thrown over, at most",
)


def capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def begun(text: str, installation: Installation) -> str:
    """A sentence of ours begins with a capital; one that begins with a name of the file keeps the owner's spelling."""
    it, room = installation, installation.room
    groups: tuple[list[Any], ...] = (it.vessels, it.pumps, it.pipes, it.supplies, it.hung, room.next, room.sockets)
    names = (*it.racks, *(one.name for group in groups for one in group))
    return text if text.startswith(names) else capital(text)


def plain_name(subject: str) -> str:
    """'rack north', but not 'rack the long rack'."""
    rest = subject.removeprefix("rack ")
    return rest if "rack" in rest.casefold().split() else subject


def listed(names: Iterable[str], most: int = 8) -> str:
    """Names parted by commas (by semicolons where a name has a comma), the rest counted."""
    shown = list(names)
    rest = len(shown) - most
    return ("; " if any(", " in name for name in shown) else ", ").join(shown[:most]) + (
        f" and {rest} more" if rest > 0 else ""
    )


COUNTED = ("more through-bolts", "more or larger anchors", "more ties")  # measures of which there is a number


@dataclass(frozen=True)
class FirstStep:
    """One measure, and all the worst subjects that it is for."""

    measure: str
    reason: str
    subjects: tuple[str, ...]
    needs: str = ""


def first_steps(assessment: Assessment, count: int = 3) -> list[FirstStep]:
    """The first measure for each of the worst findings, subjects of the same measure together."""
    subjects: dict[tuple[str, str], list[str]] = {}
    needs: dict[tuple[str, str], float] = {}
    for finding in worst(assessment, count=8):
        advice = next((one for one in assessment.advice if finding.id in one.for_findings), None)
        if advice is not None:
            key = advice.measure, advice.reason
            subjects.setdefault(key, []).append(plain_name(advice.subject))
            times = 0.0 if danger(finding) == "swings" else finding.ratio or 0.0  # of a swing there is no more to add
            needs[key] = max(needs.get(key, 0.0), times)
    steps = [
        FirstStep(
            measure,
            reason,
            tuple(dict.fromkeys(names)),
            f"about {number_text(needs[measure, reason], 2)} times what is there is needed"
            if needs[measure, reason] >= 1.1 and measure.startswith(COUNTED)
            else "",
        )
        for (measure, reason), names in subjects.items()
    ]
    return steps[:count]


def finding_numbers(assessment: Seen) -> dict[str, str]:
    """F1, F2, … in the order of the report; the calculation sheet uses the same."""
    ordered = [finding for topic in TOPICS for finding in assessment.findings if finding.topic == topic]
    return {finding.id: f"F{index}" for index, finding in enumerate(ordered, start=1)}


HOW_FAR = (
    "May slide: in the design earthquake, from the high friction to the low one with the scatter of records (Newmark 1965, "
    "Jibson 2007); for slopes, so on level ground likely less. What stands against it, and pipes, must take that way."
)
MOST_ENDS = 8
RANGES = "Numbers given as ranges"
LEAST_SLIDE = 0.005  # m: less is as good as nothing


def may_slide(moving: Beyond | None, system: System) -> str:
    """From least to most, in the units shown."""
    if moving is None:
        return "held"
    if moving.most < LEAST_SLIDE:
        return "hardly"
    most = show(moving.most, "length", system, 2)
    return f"up to {most}" if moving.least < LEAST_SLIDE else f"{show(moving.least, 'length', system, 2)} to {most}"


def ranges_caution(found: tuple[End, ...]) -> Caution:
    """What is worse at the ends of the file's ranges."""
    lines = []
    for end in found:
        for one in end.worse:
            ratio = "no capacity" if one.ratio is None else f"ratio {one.ratio:.2f}"
            lines.append(
                f"with {end.unknown.name} at its {'upper' if end.upper else 'lower'} end, {one.subject} is {one.verdict} "
                f"({ratio}): {one.question}"
            )
    told = "; ".join(lines[:MOST_ENDS]) if lines else "at their ends nothing gets a worse verdict, one range at a time"
    more = f"; and {len(lines) - MOST_ENDS} more" if len(lines) > MOST_ENDS else ""
    names = ", ".join(dict.fromkeys(end.unknown.name for end in found))
    return Caution(
        RANGES,
        f"All figures are for the middle of what the file gives as a range ({names}). Worse at the ends: {told}{more}. "
        "What all of them do together, and how likely it is, tells brimfast doubt.",
    )
