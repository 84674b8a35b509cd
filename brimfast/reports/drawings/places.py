"""Where on a rack is what a finding speaks of?"""

from __future__ import annotations

import re
from dataclasses import dataclass

from brimfast.assess.pipeline import Seen
from brimfast.shared.findings import Finding
from brimfast.shared.installation.rack import FACES, Brace, Rack

FRONT, END = "front", "end"
_POST = re.compile(r"(front|back) post (\d+)(?:, tier (\d+))?")
_BEAM = re.compile(r"(front|back) beam, bay (\d+)")


@dataclass(frozen=True)
class Place:
    """A point of a rack as it is seen from its front, or from its right end: m from its left (front) post, m above the floor."""

    view: str
    aside: float
    height: float


def post_spacing(assessment: Seen, name: str) -> float:
    """From front post to back post, centre to centre (m)."""
    body = next(body for body in assessment.bodies if body.name == f"rack {name}" and body.kind == "rack")
    return body.directions[1].base


def place_of(assessment: Seen, name: str, finding: Finding) -> Place | None:
    """None where the finding is of something else."""
    kind, _, rest = finding.id.partition("/")
    rack = assessment.installation.racks[name]
    if kind in ("tipping", "sliding", "attachment", "falls"):
        mine = rest == f"rack {name}" or rest.startswith(f"rack {name}/")  # a name may have a stroke in it
        return _of_body(assessment, name, kind, rest) if mine else None
    if rest == f"rack {name}/mean":
        return Place(FRONT, rack.length / 2, 0.0)
    if rest != name and not rest.startswith(f"{name}/"):
        return None
    words = [name, *rest.removeprefix(name).split("/")[1:]]
    if kind == "floor":
        return Place(FRONT, rack.bay_length * (1 if rack.bays > 1 else 0), 0.0)
    if kind == "joint":
        return _of_joint(assessment, name, finding, words[1:])
    if kind == "member":
        return _of_member(assessment, name, finding, words[1:])
    if kind in ("leaning", "sway"):
        return _of_sway(assessment, name, finding, words[1:])
    return None


def _of_body(assessment: Seen, name: str, kind: str, rest: str) -> Place:
    rack, across = assessment.installation.racks[name], post_spacing(assessment, name)
    direction = rest.removeprefix(f"rack {name}/")
    if kind == "falls" or (kind == "tipping" and direction.startswith("across")):
        return Place(END, across, 0.0)
    if kind == "tipping":
        return Place(FRONT, rack.length, 0.0)
    return Place(FRONT, 0.0, 0.0)


def _said_post(finding: Finding) -> tuple[str, int, int] | None:
    """Side, post and tier that the finding's own words name, the last in its steps first."""
    texts = [*finding.details.values(), *(step.note for step in reversed(finding.steps))]
    for text in texts:
        match = _POST.search(text)
        if match:
            return match[1], int(match[2]), int(match[3] or 1)
    return None


def _aside(across: float, side: str) -> float:
    return 0.0 if side == "front" else across


def _of_joint(assessment: Seen, name: str, finding: Finding, words: list[str]) -> Place | None:
    rack, weight, gravity = assessment.installation.racks[name], assessment.racks[name], assessment.gravity[name]
    across = post_spacing(assessment, name)
    question = words[1] if len(words) > 1 else ""
    if words[0] == "beam to post":
        side, post, tier = "front", gravity.joint_worst_post, gravity.worst_tier
        said = None if question in ("gravity", "distances", "shrinkage") else _said_post(finding)
        if said is not None:
            side, post, tier = said
        height = weight.beam_centres[min(tier, len(weight.beam_centres)) - 1]
        if "across" in question:
            return Place(END, _aside(across, side), height)
        return Place(FRONT, (min(post, rack.bays + 1) - 1) * rack.bay_length, height)
    if words[0] == "joist to beam":
        parts = assessment.resolved.racks[name]
        top = weight.beam_tops[gravity.worst_tier - 1]
        on_beams = rack.joist.seat == "on beams"
        return Place(END, across * 0.14, top if on_beams else top - parts.joist.width / 2)
    if words[0] == "brace to post":
        return _of_brace(assessment, name, question, at_end=True)
    if words[0] == "gusset":
        return _of_gusset(assessment, name)
    if words[0] == "joined":
        return Place(END, 0.0, weight.beam_centre)
    if words[0] == "panel":
        return _of_panel(assessment, name, question)
    if words[0] == "wall ties" and rack.wall_ties:
        return Place(END, across, rack.wall_ties[0].height)
    if words[0] == "sill bolts":
        return Place(FRONT, 0.0, 0.0)
    return None


def _of_brace(assessment: Seen, name: str, words: str, at_end: bool) -> Place | None:
    """Of the first brace (or knee) of a direction: its upper end, or its middle."""
    rack = assessment.installation.racks[name]
    direction = "across" if "across" in words else "along"
    knees = words.startswith("knee")
    brace = next((one for one in rack.braces if one.face in FACES[direction] and (one.leg is not None) == knees), None)
    if brace is None:
        return None
    (x1, z1), (x2, z2) = diagonal(assessment, name, brace)
    share = 0.93 if at_end else 0.5
    return Place(FRONT if direction == "along" else END, x1 + (x2 - x1) * share, z1 + (z2 - z1) * share)


def diagonal(assessment: Seen, name: str, brace: Brace) -> tuple[tuple[float, float], tuple[float, float]]:
    """Both ends of a brace, or of the left one of two knees, as its view shows them (m)."""
    rack, weight = assessment.installation.racks[name], assessment.racks[name]
    run = rack.bay_length if brace.face in FACES["along"] else post_spacing(assessment, name)
    start = (brace.bay - 1) * run if brace.face in FACES["along"] else 0.0
    foot, top = weight.storey(brace.storey)
    if brace.leg is not None:
        return (start, top - brace.leg), (start + brace.leg, top)
    return (start, foot), (start + run, top)


def _of_gusset(assessment: Seen, name: str) -> Place | None:
    """The left one of the first in the file, in its middle."""
    rack, weight = assessment.installation.racks[name], assessment.racks[name]
    if not rack.gussets:
        return None
    gusset = rack.gussets[0]
    aside, (_, top) = (gusset.bay - 1) * rack.bay_length, weight.storey(gusset.storey)
    return Place(FRONT, aside + gusset.leg / 3, top - gusset.leg / 3)


def _of_panel(assessment: Seen, name: str, words: str) -> Place | None:
    rack, weight = assessment.installation.racks[name], assessment.racks[name]
    direction = "across" if "across" in words else "along"
    panel = next((one for one in rack.panels if one.face in FACES[direction]), None)
    if panel is None:
        return None
    foot, top = weight.face(panel.storey)
    if direction == "across":
        return Place(END, post_spacing(assessment, name) / 2, foot + (top - foot) * 0.3)
    return Place(FRONT, (panel.bay - 0.5) * rack.bay_length, foot + (top - foot) * 0.3)


def _of_member(assessment: Seen, name: str, finding: Finding, words: list[str]) -> Place | None:
    rack, weight = assessment.installation.racks[name], assessment.racks[name]
    tier = assessment.gravity[name].worst_tier
    if words[0].startswith("tier "):
        tier, words = int(words[0].removeprefix("tier ")), words[1:]
    across, bay = post_spacing(assessment, name), rack.bay_length
    if words[0] in ("brace", "knee"):
        return _of_brace(assessment, name, f"{words[0]} {words[1] if len(words) > 1 else ''}", at_end=False)
    if words[0] == "gusset":
        return _of_gusset(assessment, name)
    if words[0] == "post":
        _, post, _ = _said_post(finding) or ("front", 1 if rack.bays < 2 else 2, 1)
        if words[-1] == "foot":
            return Place(FRONT, (post - 1) * bay, 0.0)
        return Place(FRONT, (post - 1) * bay, weight.storey(1)[1] * 0.4)
    if words[0] == "beam":
        match = next((found for step in finding.steps if (found := _BEAM.search(step.note))), None)
        number = min(int(match[2]), rack.bays) if match else 1
        return Place(FRONT, (number - 0.5) * bay, weight.beam_centres[tier - 1])
    if words[0] == "joist":
        return Place(END, across * 0.62, weight.beam_tops[tier - 1] - assessment.resolved.racks[name].joist.width / 2)
    if words[0] == "deck":
        return Place(END, across * 0.4, rack.decks[tier - 1])
    if words[0].startswith("rail "):
        return _of_rail(rack, int(words[0].removeprefix("rail ")))
    return None


def _of_rail(rack: Rack, number: int) -> Place | None:
    if not 1 <= number <= len(rack.rails):
        return None
    return Place(FRONT, rack.bay_length * 0.5, rack.rails[number - 1].height)


def _of_sway(assessment: Seen, name: str, finding: Finding, words: list[str]) -> Place:
    rack, across = assessment.installation.racks[name], post_spacing(assessment, name)
    top = rack.decks[-1]
    low = assessment.racks[name].storey(1)[1]
    question = words[0]
    if question == "feet":
        _, post, _ = _said_post(finding) or ("front", 1, 1)
        return Place(FRONT, (post - 1) * rack.bay_length, 0.0)
    if question == "wall":
        return Place(END, across, top)
    if question == "across":
        return Place(END, 0.0, low * 0.5 if finding.id.startswith("leaning") else top)
    if question == "corner":
        return Place(FRONT, rack.length if rack.turns_from is None or rack.turns_from.side == "front" else 0.0, low)
    if question == "deck":
        return Place(FRONT, rack.length * 0.5, rack.decks[0])
    return Place(FRONT, rack.length, low * 0.5 if finding.id.startswith("leaning") else top)
