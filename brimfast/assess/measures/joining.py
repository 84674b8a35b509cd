"""Two racks pushed together, back beams against front beams, and bolted: they lean on each other."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator

from brimfast.assess.measures.asked import rack_asks
from brimfast.assess.measures.measure import Measure, Need
from brimfast.assess.measures.reach import called, joined
from brimfast.assess.measures.stock import Bolt, written
from brimfast.assess.pipeline import Assessment
from brimfast.shared.edits import Edit
from brimfast.shared.installation.rack import Rack

NEAR = 0.6  # m that a rack is pulled at most
COUNTS = (1, 2)  # bolts beside each post
ASKS = ("tipping/rack {}/across", "sway/{}/")


def joining_measures(assessment: Assessment) -> Iterator[Measure]:
    installation = assessment.installation
    for front, back in itertools.permutations(installation.racks, 2):
        one, other = installation.racks[front], installation.racks[back]
        if any(joined(installation, name) for name in (front, back)):
            continue
        if one.unlike(other) is not None or not one.beams_face(other):  # what the file's rules refuse is not offered
            continue
        if any(rack_asks(assessment, name, *ASKS) for name in (front, back)) and _stands_behind(
            one, other, front < back
        ):
            yield from _joined(assessment, front, back)


def _stands_behind(one: Rack, other: Rack, first: bool) -> bool:
    """By their places; where the file has none, the first named counts as the one in front."""
    if one.behind is None or other.at is None:
        return one.at is None and other.at is None and first
    return math.dist(one.behind, other.at) <= NEAR


def _joined(assessment: Assessment, front: str, back: str) -> Iterator[Measure]:
    installation = assessment.installation
    one, system = installation.racks[front], installation.system
    bolt = Bolt(1, system)
    beams = [assessment.resolved.racks[name].beam for name in (front, back)]
    length = bolt.length(sum(beam.thickness for beam in beams))
    if length is None:
        return
    size = written(length, system, 2, 5.0, up=True)
    moved: tuple[Edit, ...] = ()
    if one.behind is not None:
        place = " x ".join(written(value, system, 8) for value in one.behind)
        moved = (Edit(("racks", back, "at"), place),)
    group = f"{front} and {back}/joined"
    for count in COUNTS:
        bolts = count * (one.bays + 1) * len(one.decks)
        fasteners = {"kind": "through-bolt", "diameter": bolt.text, "length": size, "count": count}
        yield Measure(
            f"{group}/{count}",
            group,
            (f"rack {front}", f"rack {back}"),
            f"racks {front} and {back}",
            f"pushed together and bolted beam to beam, {count} beside every post",
            (*moved, Edit(("racks", back, "joined_to"), {"rack": front, "fasteners": fasteners})),
            (
                Need("set racks together", 1, f"{called(back)} against the back of {called(front)}"),
                Need(bolt.item, bolts, f"{bolt.text} x {size}, with nut and two washers, through both beams"),
            ),
            (
                f"let all water out and take the wet fill out of {called(back)}, loosen its pipes, push it up to {called(front)} so that "
                "posts stand beside posts",
                f"hole {bolt.hole()}, in the middle of the beams' depth, beside every post where both beams lie against each other; "
                "pack what gaps there are with hardwood",
                "the sides that now face each other can no longer be reached: what is to be mended there comes first",
            ),
        )
