"""Is the rack held by a wall: by ties that the file describes well enough to be checked?"""

from __future__ import annotations

from brimfast.data_tables.loader import screw_root
from brimfast.shared.installation.rack import Rack, WallTie

LEAST_REACH = 0.005  # m: a screw that ends at the stud's face holds nothing


def counted_tie(rack: Rack) -> WallTie | None:
    """The highest row of ties into studs whose screws the tables know and that reach them; None where no row counts as a support."""
    rows = [
        tie
        for tie in rack.wall_ties
        if tie.into == "stud"
        and screw_root(tie.kind, tie.diameter) is not None
        and tie.length - tie.rail - tie.gypsum > LEAST_REACH
    ]
    return max(rows, key=lambda tie: tie.height, default=None)
