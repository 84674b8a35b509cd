"""Is the rack held by a wall: by ties that the file describes well enough to be checked?"""

from __future__ import annotations

from brimfast.data_tables.loader import screw_root
from brimfast.shared.installation.rack import Rack, WallTie


def counted_tie(rack: Rack) -> WallTie | None:
    """The highest row of ties into studs whose screws the tables know; None where no row counts as a support."""
    rows = [tie for tie in rack.wall_ties if tie.into == "stud" and screw_root(tie.kind, tie.diameter) is not None]
    return max(rows, key=lambda tie: tie.height, default=None)
