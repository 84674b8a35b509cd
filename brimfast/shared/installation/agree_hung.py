"""Whether what hangs has a rail that is there, and room for its drop."""

from __future__ import annotations

from brimfast.shared.errors import Problem
from brimfast.shared.installation.hung import CEILING
from brimfast.shared.installation.model import Installation
from brimfast.shared.installation.rack import Rack
from brimfast.shared.units import show


def hung(installation: Installation) -> list[Problem]:
    """What hangs has a rail that is there, and room for its drop."""
    problems: list[Problem] = []
    if installation.hung and CEILING in installation.racks:
        message = "found a rack named 'ceiling' beside hung things; expected another name"
        problems.append(Problem("E-NAME-002", message, ("racks", CEILING), at_key=True))
    for index, thing in enumerate(installation.hung):
        rack = installation.racks.get(thing.held_by)
        if thing.from_ceiling or rack is None:
            continue
        if thing.rail is not None and thing.rail > len(rack.rails):
            message = (
                f"found rail {thing.rail} of a rack with {len(rack.rails)}; expected one of its rails, counted from 1"
            )
            problems.append(Problem("E-FIT-001", message, ("hung", index, "rail")))
            continue
        room = room_to_hang(rack, thing.rail)
        if thing.drop > room + 1e-6:
            shown, from_where = (
                show(room, "length", installation.system),
                "its rail" if thing.rail else "the rack's top",
            )
            below = "to the deck or floor below" if thing.rail else "to the floor"
            message = f"found a drop longer than from {from_where} {below}, {shown}; expected at most that"
            problems.append(Problem("E-FIT-001", message, ("hung", index, "drop")))
    return problems


def room_to_hang(rack: Rack, rail: int | None) -> float:
    """From a rail down to the deck below it, or to the floor; without a rail, from the rack's top to the floor (m)."""
    if rail is None:
        return rack.top
    height = rack.rails[rail - 1].height
    return height - max((deck for deck in rack.decks if deck < height), default=0.0)
