"""Two racks that are joined tip across as one: their weights and pushes together, about the outer posts."""

from __future__ import annotations

import math
from dataclasses import replace

from brimfast.assess.bodies import Direction, FreeBody, Sloshing
from brimfast.assess.demand.force import Force
from brimfast.assess.tipping import overturning
from brimfast.shared.findings import step


def across(body: FreeBody) -> Direction:
    return next(one for one in body.directions if one.name.startswith("across"))


def as_one(front: FreeBody, back: FreeBody, forces: dict[str, Force]) -> tuple[FreeBody, Direction, Force]:
    """The pair under the name of the one in front, its direction across, and its force.

    The inner rows of posts count as one, the beams between them as nothing: the safe side. Height by the pushes, so that
    F h is the sum of both. No arm reaches beyond the nearer of the two outer rows.
    """
    first, second = across(front), across(back)
    F_1, F_2 = forces[front.name], forces[back.name]
    F, W_1, W_2 = F_1.horizontal + F_2.horizontal, front.weight, back.weight
    h = (F_1.horizontal * front.height + F_2.horizontal * back.height) / F
    base = first.base + second.base
    place = (W_1 * first.base / 2 + W_2 * (first.base + second.base / 2)) / (W_1 + W_2)
    arm = min(place, base - place)
    pushes: dict[str, float | tuple[float, str]] = {"F_1": (F_1.horizontal, "N"), "F_2": (F_2.horizontal, "N")}
    weights: dict[str, float | tuple[float, str]] = {"W_1": (W_1, "N"), "W_2": (W_2, "N")}
    bases: dict[str, float | tuple[float, str]] = {"b_1": (first.base, "m"), "b_2": (second.base, "m")}
    heights: dict[str, float | tuple[float, str]] = {"h_1": (front.height, "m"), "h_2": (back.height, "m")}
    said = f"1: {front.name}, 2: {back.name}, joined to it"
    lines = (
        step("F", "F_1 + F_2", pushes, (F, "N"), "", said),
        step("h", "(F_1*h_1 + F_2*h_2)/(F_1 + F_2)", {**pushes, **heights}, (h, "m")),
        step("W", "W_1 + W_2", weights, (W_1 + W_2, "N")),
        step(
            "x",
            "(W_1*b_1/2 + W_2*(b_1 + b_2/2))/(W_1 + W_2)",
            {**weights, **bases},
            (place, "m"),
            "",
            "from the outer row of 1",
        ),
        step(
            "arm",
            "min(x, b_1 + b_2 - x)",
            {"x": (place, "m"), **bases},
            (arm, "m"),
            "geometry",
            "to the nearer outer row",
        ),
    )
    force = replace(F_1, horizontal=F, steps=(*F_1.steps, *F_2.steps, *lines), values=(*F_1.values, *F_2.values))
    sloshing = _sloshing(front, back, forces, F)
    direction = replace(first, base=base, arm=arm, sloshing=sloshing)
    mass = front.mass + back.mass
    return replace(front, mass=mass, height=h, directions=(direction,)), direction, force


def _sloshing(front: FreeBody, back: FreeBody, forces: dict[str, Force], F: float) -> Sloshing | None:
    """Overturning of both together under the push F (N), where the water of one of them sloshes."""
    slosh = [one for one in (across(front).sloshing, across(back).sloshing) if one is not None]
    if not slosh:
        return None
    moments = [overturning(body, across(body), forces[body.name]) for body in (front, back)]
    total = math.fsum(one.moment for one in moments)
    parts: dict[str, float | tuple[float, str]] = {f"M_{n}": (one.moment, "N·m") for n, one in enumerate(moments, 1)}
    own = tuple(line for one in moments for line in one.steps)
    said = "of either rack the larger of all water rigid and sloshing"
    line = step("M_slosh", "M_1 + M_2", parts, (total, "N·m"), "", said)
    values = tuple(value for one in slosh for value in one.values)
    return Sloshing(F, total, any(one.index for one in slosh), (*own, line), values)
