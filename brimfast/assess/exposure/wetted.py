"""Which floors does one event wet, and what may come through to the storey below?"""

from __future__ import annotations

from dataclasses import dataclass

from brimfast.assess.spill.flood import Flood
from brimfast.data_tables.loader import floor_covering
from brimfast.shared.findings import Value
from brimfast.shared.installation.model import Installation

HERE = "this storey"
BELOW = "the storey below"
UNKNOWN = "not known"  # the finish of a floor that the file does not describe
SLAB_WITH_ROOM_BELOW = (
    "The file says slab on grade and a room below: a slab on the ground has none, so nothing is counted below. If there "
    "is a room, give the floor as timber floor or concrete floor."
)
FLOOR_NOT_GIVEN = "The file names a room below but not the kind of floor: water is taken to come through."


@dataclass(frozen=True)
class Floor:
    """A floor that gets wet. depth (m): None where it is not known; sure: False where the flooring above may hold."""

    storey: str
    room: str
    finish: str
    area: float
    depth: float | None
    sure: bool
    values: tuple[Value, ...] = ()

    @property
    def below(self) -> bool:
        return self.storey == BELOW


def comes_through(installation: Installation) -> tuple[bool, str]:
    """Whether what lies on the floor may reach a room below, and what to say of a file that leaves it open.

    Any floor but a slab on the ground has gaps: along walls, at pipes, in cracks. Common practice, no source.
    """
    if installation.exposure.below == "none":
        return False, ""
    floor = installation.room.floor
    if floor.kind != "slab on grade":
        return True, ""
    if "kind" in floor.model_fields_set:
        return False, SLAB_WITH_ROOM_BELOW
    return True, FLOOR_NOT_GIVEN


def wetted(flood: Flood, installation: Installation) -> tuple[Floor, ...]:
    """The floors that get wet, then what is below each: as large, since water falls where it finds a gap (a bound)."""
    above = []
    for wet in flood.wet:
        if wet.area <= 0 or wet.depth <= 0:
            continue
        finish = wet.flooring or installation.exposure.flooring
        above.append(Floor(HERE, "this room" if wet.here else wet.room, finish, wet.area, wet.depth, True))
    through, _ = comes_through(installation)
    if not through:
        return tuple(above)
    below = []
    for floor in above:
        row = floor_covering(floor.finish)
        value = row.used(f"whether {floor.finish} holds water back", f"for a while: {row.holds}")
        below.append(Floor(BELOW, f"below {floor.room}", UNKNOWN, floor.area, None, row.holds != "yes", (value,)))
    return (*above, *below)
