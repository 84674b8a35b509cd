"""Triangles of plywood over the corners of posts and beams, front and back."""

from __future__ import annotations

import math
from collections.abc import Iterator

from brimfast.assess.buildable import NAILS_APART
from brimfast.assess.measures.faces import ITEM, THICK, timber
from brimfast.assess.measures.measure import Measure, Need
from brimfast.assess.measures.reach import pulled_out
from brimfast.assess.measures.stock import SCREWS, SHEET, feet, long, written
from brimfast.assess.pipeline import Assessment
from brimfast.assess.timber.gusset import END, INNER, gusset_run
from brimfast.shared.constants import INCH
from brimfast.shared.edits import Edit
from brimfast.shared.installation.rack import FACES

NAIL = {"us": ("0.131 in x 2.5 in", 0.131 * INCH), "si": ("3.4 mm x 65 mm", 0.0034)}
SHEETS = {"us": ("15/32 in", "23/32 in"), "si": ("12 mm", "18 mm")}
LEAST_LEG, LEAST_NAILS = 8 * INCH, 4
PLAY = 0.004  # m: a filler as thick as the beam can be had


def gussets(assessment: Assessment, name: str, group: str) -> Iterator[Measure]:
    """At every post of both long faces, in the plywood of either thickness; where a board is as thick as the beam."""
    rack, system = assessment.installation.racks[name], assessment.installation.system
    parts = assessment.resolved.racks[name]
    leg = min(0.5 * rack.deck_height, 0.35 * rack.bay_length)
    filled = rack.beam_seat == "on the side"
    if leg < LEAST_LEG or rack.paired or (filled and abs(parts.beam.thickness - THICK[system]) > PLAY):
        return
    text, (nail, D) = written(leg, system, 1, 10.0), NAIL[system]
    leg = round(leg / INCH) * INCH if system == "us" else round(leg, 2)
    run = gusset_run(leg, max(parts.beam.width, parts.post.width) / 2)
    count = 2 * (int(run / (NAILS_APART * D) + 1e-6) + 1)
    if run <= 0 or count < LEAST_NAILS:
        return
    places = [(face, bay) for face in FACES["along"] for bay in range(1, rack.bays + 1)]
    plates = 2 * len(places)
    side = leg + max(parts.post.width, parts.beam.width)
    of_one = 2 * int(SHEET[0] / side) * int(SHEET[1] / side)
    board, width = timber(rack, system), long(side, system)
    for sheet in SHEETS[system]:
        gusset = {"leg": text, "thickness": sheet, "nail": nail, "nails": count}
        filler = (
            (
                Need(ITEM, plates * feet(leg), f"{board}, fillers on the posts below the beams, {plates} of {text}"),
                Need("structural screw", plates * count, f"{SCREWS[system]}, fillers to posts, {count} each"),
            )
            if filled
            else ()
        )
        yield Measure(
            f"{group}/gussets {sheet}",
            group,
            (f"rack {name}",),
            f"rack {name}, along",
            f"plywood gussets of {sheet} at every post, front and back",
            tuple(
                Edit(("racks", name, "gussets"), {"face": face, "bay": bay, **gusset}, "add") for face, bay in places
            ),
            (
                Need(
                    "plywood panel",
                    math.ceil(plates / of_one),
                    f"sheets of {sheet}, {plates} triangles of {width} a side",
                ),
                Need("nail", 2 * plates * count, f"{nail}, {count} for each leg of a gusset"),
                *filler,
            ),
            (
                "the right angle over the corner of post and beam, the grain of the face along one leg",
                f"legs of {text} from the middle of the beam and of the post; {count} nails into the post below the beam and {count} into "
                f"the beam beside the post, in two rows half the timber's width apart, {written(INNER, system, 4)} from the other "
                f"timber, {written(END, system, 2)} from the ends, evenly spaced",
                *(
                    (f"below the beam a filler as thick as the beam, {text} long, held to the post by {count} screws",)
                    if filled
                    else ("the beam flush with the outside of its posts",)
                ),
                "exterior plywood, its edges sealed: it stands beside water",
            ),
            pulled_out(assessment.installation, name, FACES["along"], system),
        )
