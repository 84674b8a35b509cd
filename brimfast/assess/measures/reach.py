"""Where can a rack be worked at: which bays does a joined rack fill, which faces stand too near a wall?"""

from __future__ import annotations

from collections.abc import Iterable

from brimfast.shared.constants import INCH
from brimfast.shared.installation.model import Installation
from brimfast.shared.installation.rack import ALL_FACES
from brimfast.shared.units import System, show

ELBOW_ROOM = 24 * INCH  # common practice, no source: less, and nobody can drill there
SAME = 1e-6


def joined(installation: Installation, name: str) -> list[str]:
    """The rack from which it turns or to which it is joined, and those that turn from it or are joined to it."""
    mains = {other: rack.stands_with for other, rack in installation.racks.items() if rack.stands_with is not None}
    main = [mains[name]] if name in mains else []
    return main + [other for other, its in mains.items() if its == name]


def filled(installation: Installation, name: str) -> set[tuple[str, int]]:
    """Face and bay of all that a joined rack stands in: of a straight rack the bays that the other one touches, of the

    one that turns its near end; of two that are joined the long sides that lie against each other.
    """
    rack = installation.racks[name]
    found: set[tuple[str, int]] = set()
    if rack.turns_from is not None:
        found.add(("left" if rack.turns_from.side == "back" else "right", 1))
    if rack.joined_to is not None:
        found |= {("front", bay) for bay in range(1, rack.bays + 1)}
    for other in installation.racks.values():
        if other.joined_to is not None and other.joined_to.rack == name:
            found |= {("back", bay) for bay in range(1, rack.bays + 1)}
        turn = other.turns_from
        if turn is None or turn.rack != name:
            continue
        start = rack.length - other.width if turn.end == "right" else 0.0
        for bay in range(1, rack.bays + 1):
            if (bay - 1) * rack.bay_length < start + other.width - SAME and bay * rack.bay_length > start + SAME:
                found.add((turn.side, bay))
    return found


def gaps(installation: Installation, name: str) -> dict[str, float]:
    """From each face to the wall behind it (m), as far as the file says."""
    rack, room = installation.racks[name], installation.room
    found: dict[str, float] = {}
    at = rack.at or rack.place_beside(installation.racks)
    if at is not None:
        (x, y), (along, across) = at, rack.plan_size
        low, high = (x, room.length - x - along), (y, room.width - y - across)
        ends, sides = (low, high) if rack.along == "length" else (high, low)
        found = {"left": ends[0], "right": ends[1], "front": sides[0], "back": sides[1]}
    if rack.wall_gap is not None:
        found["back"] = rack.wall_gap
    return found


def tight(installation: Installation, name: str, faces: Iterable[str] = ALL_FACES) -> dict[str, float]:
    """Of some faces those at which nobody can work where the rack stands, and how far they are from the wall (m)."""
    return {
        face: gap for face, gap in gaps(installation, name).items() if face in set(faces) and gap < ELBOW_ROOM - SAME
    }


def pulled_out(installation: Installation, name: str, faces: Iterable[str], system: System) -> tuple[str, ...]:
    """What must be done before such faces can be worked at: nothing, or one step, the same for whichever faces."""
    if not tight(installation, name, faces):
        return ()
    rack = installation.racks[name]
    held = [what for what, there in (("the wall ties", rack.wall_ties), ("the anchors", rack.feet.anchored)) if there]
    loosen = f", take out {' and '.join(held)}" if held else ""
    others = joined(installation, name)
    if others:
        loosen += f", unbolt {' and '.join(called(other) for other in others)} from it"
    near = [f"its {face} {show(max(gap, 0.0), 'length', system)}" for face, gap in tight(installation, name).items()]
    return (
        f"{called(name)} stands with {' and '.join(near)} from a wall: let all water out, take the wet fill out{loosen}, loosen "
        "the pipes and pull it out to work there",
    )


def called(name: str) -> str:
    """'rack north', but not 'rack the long rack'."""
    return name if "rack" in name.casefold().split() else f"rack {name}"
