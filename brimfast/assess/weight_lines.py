"""The take-off of weights as lines of calculation: each body from its parts, each rack with all that stands on it."""

from __future__ import annotations

from collections.abc import Sequence

from brimfast.assess.weight import RackWeight, VesselWeight, Weighing
from brimfast.shared.constants import GRAVITY
from brimfast.shared.findings import Step, step
from brimfast.shared.installation.model import Installation

STATICS = "statics"


def weighing_lines(weighing: Weighing) -> tuple[Step, ...]:
    """W = Σ W_i; h = Σ W_i h_i / W: W_i weight (N) and h_i height (m) of each part's centre above the body's base."""
    return _summed([(one.part, one.mass, one.height) for one in weighing.parts])


def loaded_lines(
    installation: Installation, name: str, racks: dict[str, RackWeight], vessels: dict[str, VesselWeight]
) -> tuple[Step, ...]:
    """A rack with its vessels as one body, heights above the floor; each vessel's centre above its own deck."""
    rack, own = installation.racks[name], racks[name].weighing
    parts = [("the rack itself", own.mass, own.height)]
    for vessel in installation.on_rack(name):
        found = vessels[vessel.name]
        parts.append((vessel.name, found.mass, rack.decks[vessel.tier - 1] + found.height))
    return _summed(parts)


def _summed(parts: Sequence[tuple[str, float, float]]) -> tuple[Step, ...]:
    names = [(f"W_{index}", f"h_{index}") for index in range(1, len(parts) + 1)]
    weights = {symbol: (mass * GRAVITY, "N") for (symbol, _), (_, mass, _) in zip(names, parts, strict=True)}
    heights = {symbol: (height, "m") for (_, symbol), (_, _, height) in zip(names, parts, strict=True)}
    total = sum(value for value, _ in weights.values())
    moment = sum(weights[w][0] * heights[h][0] for w, h in names)
    note = ", ".join(f"{index} {part}" for index, (part, _, _) in enumerate(parts, start=1))
    lines = [step("W", " + ".join(weights), weights, (total, "N"), STATICS, note)]
    if total > 0:
        over = " + ".join(f"{w}*{h}" for w, h in names)
        inputs = {**weights, **heights, "W": (total, "N")}
        lines.append(step("h", f"({over})/W", inputs, (moment / total, "m"), STATICS, "height of the centre of mass"))
    return tuple(lines)
