"""Whether everything stands where it can: on its rack, in the room, in its pan."""

from __future__ import annotations

import math

from brimfast.shared.errors import KeyPath, Problem
from brimfast.shared.installation.model import Installation, plan_area, plan_size, standing_size
from brimfast.shared.installation.pan import Pan
from brimfast.shared.installation.vessel import Vessel
from brimfast.shared.units import show


def _overlap(one: Vessel, other: Vessel) -> bool:
    """Whether two floor vessels with places share floor (two round ones by their circles)."""
    assert one.at is not None and other.at is not None
    size, other_size = plan_size(one), plan_size(other)
    if one.round and other.round:
        apart = math.dist(
            (one.at[0] + size[0] / 2, one.at[1] + size[0] / 2),
            (other.at[0] + other_size[0] / 2, other.at[1] + other_size[0] / 2),
        )
        return apart < (size[0] + other_size[0]) / 2 - 1e-6
    return all(
        one.at[axis] < other.at[axis] + other_size[axis] - 1e-6 and other.at[axis] < one.at[axis] + size[axis] - 1e-6
        for axis in (0, 1)
    )


def on_racks(installation: Installation) -> list[Problem]:
    problems: list[Problem] = []

    def length_text(value: float) -> str:
        return show(value, "distance", installation.system)

    for name, rack in installation.racks.items():
        used: dict[int, float] = {}
        taken: list[tuple[str, int, float, float]] = []
        for index, vessel in enumerate(installation.vessels):
            if vessel.on != name:
                continue
            length, width = plan_size(vessel)
            start = vessel.offset if vessel.offset is not None else used.get(vessel.tier, 0.0)
            beside = [
                other
                for other, tier, low, high in taken
                if tier == vessel.tier and start < high - 1e-6 and start + length > low + 1e-6
            ]
            taken.append((vessel.name, vessel.tier, start, start + length))
            if beside:
                problems.append(
                    Problem(
                        "E-FIT-001",
                        f"found {vessel.name!r} in the same stretch of the rack as {beside[0]!r}; expected one behind the "
                        "other along it (enter vessels that stand side by side as one)",
                        ("vessels", index),
                    )
                )
            used[vessel.tier] = max(used.get(vessel.tier, 0.0), start + length)
            slack = 1e-6
            if start + length > rack.length + slack or width > rack.width + slack:
                problems.append(
                    Problem(
                        "E-FIT-001",
                        f"found {vessel.name!r} reaching {length_text(start + length)} along and {length_text(width)} "
                        f"across; the deck of rack {name!r} is {length_text(rack.length)} by "
                        f"{length_text(rack.width)}; expected it to stand within",
                        ("vessels", index),
                    )
                )
            if vessel.at is not None:
                problems.append(
                    Problem(
                        "E-KEY-003",
                        "found at for a vessel on a rack; expected offset, its place along the rack",
                        ("vessels", index, "at"),
                    )
                )
    for index, vessel in enumerate(installation.vessels):
        if vessel.on == "floor" and vessel.offset is not None:
            problems.append(
                Problem(
                    "E-KEY-003",
                    "found offset for a vessel on the floor; expected at, its place in the room",
                    ("vessels", index, "offset"),
                )
            )
    return problems


def in_room(installation: Installation) -> list[Problem]:
    room = installation.room
    problems: list[Problem] = []

    def lengths(x: float, y: float) -> str:
        return f"{show(x, 'distance', installation.system)} by {show(y, 'distance', installation.system)}"

    def inside(what: str, place: tuple[float, float] | None, size: tuple[float, float], *path: str | int) -> None:
        x, y = place or (0.0, 0.0)
        if x + size[0] > room.length + 1e-6 or y + size[1] > room.width + 1e-6:
            problems.append(
                Problem(
                    "E-FIT-001",
                    f"found {what} reaching {lengths(x + size[0], y + size[1])}; the room is "
                    f"{lengths(room.length, room.width)}; expected it to stand within",
                    path,
                )
            )

    for name, rack in installation.racks.items():
        at = rack.at or rack.place_beside(installation.racks)
        inside(f"rack {name!r}", at, rack.plan_size, "racks", name)
    for index, vessel in enumerate(installation.vessels):
        if vessel.on == "floor":
            inside(repr(vessel.name), vessel.at, plan_size(vessel), "vessels", index)
    placed = [
        (index, vessel) for index, vessel in enumerate(installation.vessels) if vessel.on == "floor" and vessel.at
    ]
    for number, (index, vessel) in enumerate(placed):
        for _, other in placed[:number]:
            if _overlap(vessel, other):
                message = f"found {vessel.name!r} standing in {other.name!r}; expected each to have its own place"
                problems.append(Problem("E-FIT-001", message, ("vessels", index, "at")))
    covered = sum(plan_area(vessel) for vessel in installation.on_floor())
    if covered > 0.95 * room.length * room.width:
        share = 100 * covered / (room.length * room.width)
        problems.append(
            Problem(
                "E-FIT-001",
                f"found vessels on the floor that cover {share:.0f} % of the room; expected at most 95 %",
                ("vessels",),
            )
        )
    for index, drain in enumerate(room.drains):
        inside("the drain", drain.at, (0.0, 0.0), "room", "drains", index)
    return problems


def pans(installation: Installation) -> list[Problem]:
    """A pan lies on the floor, takes what stands in it, and the room takes the pan."""
    problems: list[Problem] = []
    system, room = installation.system, installation.room
    under: list[tuple[KeyPath, str, Pan, tuple[float, float]]] = [
        (("racks", name, "pan"), f"rack {name}", rack.pan, (rack.length, rack.width))
        for name, rack in installation.racks.items()
        if rack.pan is not None
    ]
    for index, vessel in enumerate(installation.vessels):
        path: KeyPath = ("vessels", index, "pan")
        if vessel.pan is None:
            continue
        if vessel.on != "floor":
            message = "found a pan under a vessel on a rack; expected it under the rack, or the vessel on the floor"
            problems.append(Problem("E-FIT-001", message, path))
            continue
        under.append((path, vessel.name, vessel.pan, standing_size(vessel)))
    for path, what, pan, size in under:
        if pan.length < size[0] - 1e-6 or pan.width < size[1] - 1e-6:
            needed = " x ".join(show(value, "distance", system) for value in size)
            problems.append(Problem("E-FIT-001", f"found a pan smaller than {what}; expected at least {needed}", path))
        elif max(pan.length, pan.width) > max(room.length, room.width) + 1e-6 or min(pan.length, pan.width) > (
            min(room.length, room.width) + 1e-6
        ):
            problems.append(Problem("E-FIT-001", "found a pan larger than the room; expected it within", path))
    return problems
