"""Plain words for the whole: the answer in one sentence, what it weighs, what to do first, when to stop."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from brimfast.assess.pipeline import Assessment
from brimfast.assess.slosh.splash import splash
from brimfast.assess.slosh.water import WAYS
from brimfast.reports.choice import TOPICS, counts, danger, most_pressure, water_that_can_leave, worst
from brimfast.reports.words import begun, both, capital, listed, plain_name
from brimfast.shared.findings import Caution
from brimfast.shared.units import System, number_text, show

if TYPE_CHECKING:
    from brimfast.assess.doubt.ends import End


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


MOST_ENDS = 8

RANGES = "Numbers given as ranges"


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
