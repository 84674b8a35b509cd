"""Through-bolts in place of screws, more screws, stronger framing ties: only where they fit the wood."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import product
from typing import Any

from brimfast.assess.joints.beam_joint import WHERE
from brimfast.assess.joints.joist_to_beam import WHERE as JOISTS
from brimfast.assess.joints.layout import MOST_SPREAD, beam_to_post_layout
from brimfast.assess.measures.asked import rack_asks
from brimfast.assess.measures.measure import Measure, Need
from brimfast.assess.measures.stock import Bolt, feet, written
from brimfast.assess.pipeline import Assessment
from brimfast.assess.resolve import RackParts
from brimfast.shared.constants import INCH
from brimfast.shared.edits import Edit
from brimfast.shared.installation.joint import Fasteners
from brimfast.shared.installation.rack import Rack
from brimfast.shared.units import System

MOST_BOLTS = 3  # alternatives for one joint
LONGEST_BEAM = 6.1  # m: 20 ft, the longest that is on the shelf
FULL_NAIL = {"us": ("0.148 in x 1.5 in", "10 + 10"), "si": ("3.8 mm x 38 mm", "10 + 10")}
PROP = "prop the beam from the floor before you take a screw out, and let the water out first"


def fastener_measures(assessment: Assessment) -> Iterator[Measure]:
    for name in assessment.installation.racks:
        yield from _beam_to_post(assessment, name)
        yield from _joists(assessment, name)


def _index(assessment: Assessment, rack: str, where: str) -> int | None:
    joints = assessment.installation.joints
    return next((i for i, joint in enumerate(joints) if joint.rack == rack and joint.where == where), None)


def joints_of_one_kind(rack: Rack) -> int:
    """Beam-to-post joints of a rack: one at every post and deck, on both sides of it where beams are doubled."""
    return rack.posts * len(rack.decks) * (2 if rack.paired else 1)


def _beam_to_post(assessment: Assessment, name: str) -> Iterator[Measure]:
    rack, parts = assessment.installation.racks[name], assessment.resolved.racks[name]
    index = _index(assessment, name, WHERE)
    if index is None or rack.beam_seat == "on top" or not rack_asks(assessment, name, "joint/{}/beam to post"):
        return
    system, now = assessment.installation.system, assessment.installation.joints[index].fasteners
    group = f"{name}/beam to post"
    if now.kind in ("structural screw", "wood screw", "lag screw") and now.allowable is None:
        yield from _more_screws(assessment, name, index, now)
    meets = rack.beam_runs == "each bay" and rack.bays > 1
    found = _bolts(rack, parts, now, system)
    for bolt, fasteners, text in found:
        yield _bolted(assessment, name, index, group, bolt, fasteners, text, whole=False)
    if meets and rack.length <= LONGEST_BEAM:
        for bolt, fasteners, text in _bolts(_whole(rack), parts, now, system):
            yield _bolted(assessment, name, index, group, bolt, fasteners, text, whole=True)


def _whole(rack: Rack) -> Rack:
    return rack.model_copy(update={"beam_runs": "whole length"})


def _bolted(
    assessment: Assessment,
    name: str,
    index: int,
    group: str,
    bolt: Bolt,
    fasteners: dict[str, Any],
    text: str,
    *,
    whole: bool,
) -> Measure:
    installation = assessment.installation
    rack, system = installation.racks[name], installation.system
    count = fasteners["count"] * joints_of_one_kind(rack)
    edits = [Edit(("joints", index, "fasteners"), fasteners)]
    needs = [Need(bolt.item, count, f"{bolt.text} x {fasteners['length']}, with nut and two washers")]
    spread = f", the outermost {fasteners['spread']} apart up the beam" if "spread" in fasteners else ""
    gauge = " in the middle of the post's width"
    if "gauge" in fasteners:
        gauge = f" in two columns {fasteners['gauge']} apart, alike to either side of the middle of the post's width"
    steps = [
        PROP,
        f"drill through beam and post, hole {bolt.hole()},{gauge}{spread}",
        "a washer under head and nut; retighten after a month, and every year as the wood dries",
        "screws that are left in place are not counted",
        "let the beam's ends run on seven bolt diameters past the last bolt",
    ]
    title = f"{text} at every post in place of the {installation.joints[index].fasteners.kind}s"
    if whole:
        edits.append(Edit(("racks", name, "beam_runs"), "whole length"))
        sides = 4 if rack.paired else 2
        long = rack.length + assessment.resolved.racks[name].post.width + 14 * bolt.diameter  # past the outer posts
        what = f"{rack.beam.size}, {_length(long, system)} long"
        needs.append(Need("beam timber", sides * len(rack.decks) * feet(long), what))
        steps.insert(1, "unload the rack: beams that run over all posts in one piece take the place of the short ones")
        title += ", new beams in one piece"
    return Measure(
        f"{group}/{fasteners['count']} x {bolt.text}{'/whole' if whole else ''}",
        group,
        (f"rack {name}",),
        f"rack {name}, {WHERE}",
        title,
        tuple(edits),
        tuple(needs),
        tuple(steps),
    )


def _length(value: float, system: System) -> str:
    return f"{feet(value):.4g} ft" if system == "us" else f"{value:.3g} m"


def _bolts(rack: Rack, parts: RackParts, now: Fasteners, system: System) -> list[tuple[Bolt, dict[str, Any], str]]:
    """Patterns that keep all distances, each stronger than what is cheaper: by their number times diameter squared."""
    grip = parts.post.thickness + parts.beam.thickness * (2 if rack.paired else 1)
    found: list[tuple[float, Bolt, dict[str, Any], str]] = []
    for size, rows, columns in product(range(3), range(1, 4), (1, 2)):
        bolt = Bolt(size, system)
        length = bolt.length(grip)
        if length is None or bolts_worth(now) >= rows * columns * bolt.diameter**2:
            continue
        pattern = _pattern(rack, parts, bolt, rows, columns, length, system)
        if pattern is not None:
            text = f"{rows * columns} through-bolt{'s' if rows * columns > 1 else ''} {bolt.text}"
            found.append((rows * columns * bolt.diameter**2, bolt, pattern, text))
    found.sort(key=lambda one: (one[2]["count"], -one[0]))
    chosen: list[tuple[Bolt, dict[str, Any], str]] = []
    strongest = 0.0
    for worth, bolt, pattern, text in found:
        if worth > strongest * 1.1 and (pattern["count"] > 1 or len(found) == 1):
            chosen.append((bolt, pattern, text))
            strongest = worth
    return chosen[:MOST_BOLTS]


def bolts_worth(now: Fasteners) -> float:
    """Of bolts that are there already; anything else is weaker."""
    return now.count * (now.diameter or 0.0) ** 2 if now.kind == "through-bolt" else 0.0


def _pattern(
    rack: Rack, parts: RackParts, bolt: Bolt, rows: int, columns: int, length: float, system: System
) -> dict[str, Any] | None:
    """Fasteners as the file writes them, if every distance is kept."""
    D, depth, width = bolt.diameter, parts.beam.width, parts.post.width
    found: dict[str, Any] = {
        "kind": "through-bolt",
        "diameter": bolt.text,
        "length": written(length, system, 2, 5.0, up=True),
        "count": rows * columns,
    }
    if rows > 1:
        room = _room(depth, D)
        quarter = 0.25 * INCH if system == "us" else 0.005
        spread = math.floor(room / quarter + 1e-6) * quarter
        if spread < (rows - 1) * 4 * D:
            return None
        found["spread"] = written(spread, system)
    if columns > 1:
        grid = 0.25 * INCH if system == "us" else 0.005
        gauge = math.floor((width - 3 * D) / grid + 1e-6) * grid
        if gauge < 2.5 * D:
            return None
        found |= {"columns": columns, "gauge": written(gauge, system)}
    return found if _kept(rack, parts, found) else None


def _room(depth: float, D: float) -> float:
    """How far apart the outermost may be in a beam's depth (m): four diameters from its edges, just short of the most."""
    return min(depth - 8 * D, MOST_SPREAD * (1 - 1e-6))


def _kept(rack: Rack, parts: RackParts, found: dict[str, Any]) -> bool:
    """Whether every distance of a pattern is kept, at least in a rack whose posts do not lean (the pipeline says whether

    they do).
    """
    layout = beam_to_post_layout(rack, parts, Fasteners.model_validate(found), leans=False)
    kept = all(one.ratio is not None and one.ratio <= 1.0 for one in layout.findings("", ""))
    return kept and not any(math.isnan(value) for value in (layout.C_Delta, layout.C_Delta_along, layout.C_g))


def _more_screws(assessment: Assessment, name: str, index: int, now: Fasteners) -> Iterator[Measure]:
    """As many more of the same in a row as the wood has room for, and half of that."""
    rack, parts = assessment.installation.racks[name], assessment.resolved.racks[name]
    system = assessment.installation.system
    if now.diameter is None or now.length is None or now.columns > 1:
        return
    D = now.diameter
    room = max(_room(parts.beam.width, D), 0.0)
    apart = 15.0 if D < 0.25 * INCH * 0.999 else 4.0  # diameters along the post's grain, thin ones without a lead hole
    most = int(room / (apart * D) + 1e-6) + 1
    group = f"{name}/beam to post"
    for count in sorted({most, (now.count + most + 1) // 2}):
        if count <= now.count:
            continue
        spread = written(room, system)
        changed = {"count": count, "spread": spread}
        fasteners = now.model_copy(update={"count": count, "spread": room})
        distances = beam_to_post_layout(rack, parts, fasteners, leans=True).findings("", "")
        if any(one.ratio is None or one.ratio > 1.0 for one in distances):
            continue
        added = (count - now.count) * joints_of_one_kind(rack)
        what = f"{now.kind} {written(D, system, 64, 0.1)} x {written(now.length, system)}, as those that are there"
        yield Measure(
            f"{group}/{count} {now.kind}s",
            group,
            (f"rack {name}",),
            f"rack {name}, {WHERE}",
            f"{count} {now.kind}s at every post instead of {now.count}",
            tuple(Edit(("joints", index, "fasteners", key), value) for key, value in changed.items()),
            (Need("structural screw", added, what),),
            (
                f"spread them evenly over {spread} up the beam, in the middle of the post's width",
                "a lead hole where the wood might split",
            ),
        )


def _joists(assessment: Assessment, name: str) -> Iterator[Measure]:
    """A full framing tie at each end of every joist."""
    rack, index = assessment.installation.racks[name], _index(assessment, name, JOISTS)
    if index is None or not rack_asks(assessment, name, "joint/{}/joist to beam"):
        return
    now, system = assessment.installation.joints[index].fasteners, assessment.installation.system
    nail, nails = FULL_NAIL[system]
    if now.kind == "framing tie" and now.nails is not None and min(now.nails) >= 10:
        return
    joists = (math.ceil(rack.length / rack.joist.spacing) + 1) * len(rack.decks)
    group = f"{name}/joist to beam"
    yield Measure(
        f"{group}/full ties",
        group,
        (f"rack {name}",),
        f"rack {name}, {JOISTS}",
        "a framing tie with ten nails into each member at both ends of every joist",
        (Edit(("joints", index, "fasteners"), {"kind": "framing tie", "nails": nails, "nail": nail}),),
        (Need("framing tie", 2 * joists, f"for the joists' depth, {nails} nails {nail}, coated for treated wood"),),
        ("fill every round hole with the maker's nail", "the maker's own published value decides: ask for it"),
    )
