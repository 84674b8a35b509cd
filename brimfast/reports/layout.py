"""Where does everything stand in the room, for the drawings?"""

from __future__ import annotations

from dataclasses import dataclass

from brimfast.assess.pipeline import Seen
from brimfast.shared.installation.model import Installation

Spot = tuple[float, float, float, float]  # corner, length and width (m)


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
    taken: list[Spot] = []
    for name, kind, length, width, is_round, at in sorted(wanted, key=lambda item: item[5] is None):
        pan = pan_size(installation, name, kind) or (0.0, 0.0)
        long, wide = max(length, pan[0]), max(width, pan[1])
        aside = (long - length) / 2, (wide - width) / 2
        place = at
        if place is None and long <= room.length and wide <= room.width:
            corner = _free_place(taken, long, wide, room.length, room.width)
            place = None if corner is None else (corner[0] + aside[0], corner[1] + aside[1])
        if place is None:  # its pan drawn over what is there
            place = _free_place(taken, length, width, room.length, room.width)
        if place is not None:
            placed.append(Placed(name, kind, *place, length, width, is_round, at is not None))
            taken.append((place[0] - aside[0], place[1] - aside[1], long, wide))
    order = [item[0] for item in wanted]
    return sorted(placed, key=lambda item: order.index(item.name))


def pan_size(installation: Installation, name: str, kind: str) -> tuple[float, float] | None:
    """Length and width in plan (m) of the pan in whose middle a body stands."""
    if kind == "rack":
        rack = installation.racks[name.removeprefix("rack ")]
        pan, turned = rack.pan, rack.along == "width"
    else:
        pan, turned = installation.vessel(name).pan, False
    if pan is None:
        return None
    return (pan.width, pan.length) if turned else (pan.length, pan.width)


def _free_place(
    taken: list[Spot], length: float, width: float, room_length: float, room_width: float
) -> tuple[float, float] | None:
    gap, step = 0.15, 0.1
    rows = int(max(room_width - width, 0) / step) + 1
    columns = int(max(room_length - length, 0) / step) + 1
    for row in range(rows):
        for column in range(columns):
            x, y = min(column * step + gap, room_length - length), min(row * step + gap, room_width - width)
            if all(
                x + length + gap <= left or left + long + gap <= x or y + width + gap <= low or low + wide + gap <= y
                for left, low, long, wide in taken
            ):
                return max(x, 0.0), max(y, 0.0)
    return None
