"""Where does everything stand in the room, for the drawings?"""

from __future__ import annotations

from dataclasses import dataclass

from brimfast.assess.pipeline import Seen


@dataclass(frozen=True)
class Placed:
    """A rack or a floor vessel in plan (m): its corner nearest the origin, its size, whether the file says so."""

    name: str
    kind: str  # rack, vessel
    x: float
    y: float
    length: float
    width: float
    round: bool
    given: bool


def arrange(assessment: Seen) -> list[Placed]:
    """Given places first; what has none is set along the walls in the first free place, and left out if there is none."""
    installation = assessment.installation
    room = installation.room
    wanted: list[tuple[str, str, float, float, bool, tuple[float, float] | None]] = []
    for name, rack in installation.racks.items():
        at = rack.at or rack.place_beside(installation.racks)
        wanted.append((f"rack {name}", "rack", *rack.plan_size, False, at))
    for vessel in installation.on_floor():
        found = assessment.vessels[vessel.name]
        wanted.append((vessel.name, "vessel", found.length, found.width, found.round, vessel.at))
    placed: list[Placed] = []
    for name, kind, length, width, is_round, at in sorted(wanted, key=lambda item: item[5] is None):
        place = at if at is not None else _free_place(placed, length, width, room.length, room.width)
        if place is not None:
            placed.append(Placed(name, kind, *place, length, width, is_round, at is not None))
    order = [item[0] for item in wanted]
    return sorted(placed, key=lambda item: order.index(item.name))


def _free_place(
    placed: list[Placed], length: float, width: float, room_length: float, room_width: float
) -> tuple[float, float] | None:
    gap, step = 0.15, 0.1
    rows = int(max(room_width - width, 0) / step) + 1
    columns = int(max(room_length - length, 0) / step) + 1
    for row in range(rows):
        for column in range(columns):
            x, y = min(column * step + gap, room_length - length), min(row * step + gap, room_width - width)
            if all(
                x + length + gap <= other.x
                or other.x + other.length + gap <= x
                or y + width + gap <= other.y
                or other.y + other.width + gap <= y
                for other in placed
            ):
                return max(x, 0.0), max(y, 0.0)
    return None
