"""A vessel on a rack moves with the rack: the larger of its own force and its share of the rack's."""

from __future__ import annotations

from dataclasses import replace

from brimfast.assess.demand.force import Force
from brimfast.shared.findings import step


def moves_with_rack(own: Force, rack: Force) -> Force:
    """The vessel's force by the rack's coefficient where that is the larger: the safe side."""
    if rack.coefficient <= own.coefficient:
        return own
    F = rack.coefficient * own.weight
    line = step(
        "F_p",
        "F_rack/W_rack*W_p",
        {"F_rack": (rack.horizontal, "N"), "W_rack": (rack.weight, "N"), "W_p": (own.weight, "N")},
        (F, "N"),
        rack.basis,
        f"moves with {rack.subject}, whose share is larger than its own {own.coefficient:.3f}",
    )
    most = max(own, rack, key=lambda one: one.overstrength)
    return replace(
        own,
        horizontal=F,
        overstrength=most.overstrength,
        overstrength_source=most.overstrength_source,
        row=f"{rack.row} (moves with {rack.subject})",
        governs="the rack's share",
        basis=rack.basis,
        steps=(*rack.steps[:-1], line, own.steps[-1]),
        values=(*rack.values, *own.values),
    )
