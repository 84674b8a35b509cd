"""The calculation in the order of the load path, each equation with its number. The PDF prints it; tests evaluate it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from brimfast.assess.pipeline import Assessment
from brimfast.assess.weight_lines import loaded_lines, weighing_lines
from brimfast.reports import choice, words
from brimfast.shared.findings import Finding, Step
from brimfast.shared.units import System

INTRODUCTION = (
    "Each line: symbol = equation = result (in the other units); below it the numbers put in, and the source. A line that "
    "several findings use stands once, and they name its number. Verdicts: holds up to a ratio of 0.8, close up to 1.0, "
    "short above."
)
FRAME, MOTION = "frame", "motion"
SECTIONS = {
    "weights": "Weights",
    MOTION: "Ground motion",
    "forces": "Forces on each body, and of the water that sloshes in it",
    FRAME: "Racks as frames, and how they sway",
    "members": "Members, and what hangs from them",
    "joints": "Joints",
    "feet": "Feet, anchors and floor",
    "stability": "Stability",
    "water": "Water",
}
_OF_TOPIC = {
    "sway": FRAME,
    "members": "members",
    "hung": "members",
    "joints": "joints",
    "floor": "feet",
    "stability": "stability",
    "slosh": "water",
    "spill": "water",
    "exposure": "water",
    "pipes": "water",
}
_FEET = ("/feet", "/sill bolts", "/anchors")


@dataclass(frozen=True)
class Line:
    number: int
    step: Step


@dataclass(frozen=True)
class Block:
    """Lines under one heading. earlier: lines of blocks before that it rests on, by their numbers."""

    title: str
    lines: tuple[Line, ...]
    earlier: tuple[Line, ...] = ()
    finding: Finding | None = None


@dataclass(frozen=True)
class Section:
    key: str
    title: str
    blocks: tuple[Block, ...]


@dataclass(frozen=True)
class Sheet:
    sections: tuple[Section, ...]

    def blocks(self) -> Iterator[Block]:
        for section in self.sections:
            yield from section.blocks

    @property
    def of_findings(self) -> Mapping[str, Block]:
        """By the finding's id."""
        return {block.finding.id: block for block in self.blocks() if block.finding is not None}


def section_of(finding: Finding) -> str:
    """Where on the way of the load a question stands."""
    if finding.id.startswith(("anchors/", "attachment/")) or finding.id.endswith(_FEET):
        return "feet"
    return _OF_TOPIC[finding.topic]


class _Numbered:
    """Numbers lines in the order in which they come; what stood before keeps its number."""

    def __init__(self) -> None:
        self.known: dict[tuple[object, ...], Line] = {}

    def block(self, title: str, steps: Iterable[Step], finding: Finding | None = None) -> Block:
        lines: list[Line] = []
        earlier: dict[int, Line] = {}
        for one in steps:
            key = (one.symbol, one.expression, tuple(one.inputs.items()), one.result, one.source, one.note)
            found = self.known.get(key)
            if found is None:
                found = self.known[key] = Line(len(self.known) + 1, one)
                lines.append(found)
            elif found not in lines:
                earlier[found.number] = found
        return Block(title, tuple(lines), tuple(earlier.values()), finding)


def sheet(assessment: Assessment) -> Sheet:
    numbered = _Numbered()
    sections: list[Section] = []
    tags = choice.finding_numbers(assessment)
    for key, title in SECTIONS.items():
        blocks = [numbered.block(head, steps) for head, steps in _before_findings(key, assessment)]
        for topic in choice.TOPICS:
            for finding in assessment.findings:
                if finding.topic == topic and section_of(finding) == key and finding.steps:
                    head = f"{tags[finding.id]}  {finding.subject}: {finding.question}"
                    blocks.append(numbered.block(head, finding.steps, finding))
        shown = tuple(block for block in blocks if block.lines or block.finding is not None)
        if shown or key == MOTION or (key == FRAME and assessment.frames):
            sections.append(Section(key, f"{len(sections) + 1}  {title}", shown))
    return Sheet(tuple(sections))


def _before_findings(key: str, assessment: Assessment) -> Iterator[tuple[str, Iterable[Step]]]:
    """What stands before the questions of a section: weights, motion, forces, how far a body may slide."""
    if key == "weights":
        for name, weight in assessment.vessels.items():
            yield f"Weight of {name}", weighing_lines(weight.weighing)
        for name, rack in assessment.racks.items():
            yield f"Weight of {words.plain_name(f'rack {name}')}", weighing_lines(rack.weighing)
            loaded = loaded_lines(assessment.installation, name, assessment.racks, assessment.vessels)
            yield f"{words.capital(words.plain_name(f'rack {name}'))} with all that stands on it", loaded
    elif key == MOTION:
        yield "Ground motion", assessment.motion.steps
    elif key == "forces":
        for force in assessment.forces.values():
            yield f"Force on {force.subject}", force.steps
        for body in assessment.bodies:
            for direction in body.directions:
                if direction.sloshing is not None:
                    yield f"Sloshing: {words.plain_name(body.name)}, {direction.name}", direction.sloshing.steps
    elif key == "stability":
        for name, moving in assessment.beyond.items():
            yield f"How far {words.plain_name(name)} may slide", moving.slide_steps


def outcome(finding: Finding, system: System) -> str:
    """Demand against capacity in both systems, and the verdict."""
    acts, may = (
        "–" if value is None else words.both(value, finding.quantity, system)
        for value in (finding.demand, finding.capacity)
    )
    if finding.ratio is not None:
        return f"{words.capital(acts)} against {may}: ratio {finding.ratio:.3f}, {finding.verdict}."
    why = f": {finding.reason}" if finding.reason else ""
    return f"{words.capital(acts)} against {may}: no ratio, {finding.verdict}{why}."


def motion_text(assessment: Assessment) -> str:
    motion = assessment.motion
    return f"{motion.symbol} = {motion.plateau:.3g} g, {motion.how}; peak of the ground {motion.peak:.3g} g ({motion.peak_words})."
