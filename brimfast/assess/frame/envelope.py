"""The largest force of each kind in a rack's frame over all cases at allowable level, and where it is."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from brimfast.assess.frame.actions import Acting, RackActions
from brimfast.assess.frame.cases import ALLOWABLE
from brimfast.assess.frame.lines import said, worst

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Largest:
    what: str
    value: float  # N or N·m
    quantity: str  # force, moment
    where: str
    case: str


def envelope(acts: RackActions) -> tuple[Largest, ...]:
    """Members, joints, braces, feet and ties; only cases that balance count."""
    picks = acts.pick_balanced(*ALLOWABLE)
    if not len(picks):
        return ()
    found: list[Largest] = []

    def add(what: str, values: Array, where: tuple[str, ...], quantity: str = "force") -> None:
        if not values.size:
            return
        largest = worst(values[:, picks], picks)
        if largest.value > 0:
            found.append(Largest(what, largest.value, quantity, where[largest.place], said(acts, largest.number)))

    def of(acting: Acting, name: str) -> Array:
        return np.abs(acting.total[name])

    add("post, push", acts.posts.total["P"], acts.posts.where)
    add("post, bending along the rack", of(acts.posts, "M_along"), acts.posts.where, "moment")
    add("post, bending across the rack", of(acts.posts, "M_across"), acts.posts.where, "moment")
    add("beam, upright bending", of(acts.beams, "M_up"), acts.beams.where, "moment")
    add("beam, sideways bending", of(acts.beams, "M_side"), acts.beams.where, "moment")
    add("beam, pull or push", of(acts.beams, "N"), acts.beams.where)
    add("beam-to-post joint, along", of(acts.joints, "H"), acts.joints.where)
    add("beam-to-post joint, upright", of(acts.joints, "V"), acts.joints.where)
    add("beam-to-post joint, across", of(acts.joints, "P"), acts.joints.where)
    add("beam-to-post joint, turning", of(acts.joints, "M"), acts.joints.where, "moment")
    add("joist, pull or push", of(acts.joists, "N"), acts.joists.where)
    for kind in ("brace", "knee", "panel"):
        for number, forces in acts.bars(kind).items():
            name = "panel, in each of its two diagonals" if kind == "panel" else f"{kind}, pull or push"
            add(name, np.abs(forces).max(axis=0)[None], (f"{kind} {number + 1} of the file",))
    for leg in ("post", "beam"):
        nails = acts.gusset_nails(leg)
        add(f"gusset, force on the nails of its {leg}", np.hypot(nails.total["H"], nails.total["V"]), nails.where)
        add(f"gusset, turning of the nails of its {leg}", of(nails, "M"), nails.where, "moment")
    add("foot, down", acts.feet.total["N"], acts.feet.where)
    add("foot, pull on its anchors", -acts.feet.total["N"], acts.feet.where)
    add("foot, sideways", acts.feet.total["H"], acts.feet.where)
    add("wall tie, across", acts.ties.total["across"], acts.ties.where)
    add("wall tie, along", acts.ties.total["along"], acts.ties.where)
    add(
        "between joined racks, sideways and upright",
        np.hypot(acts.join.total["H"], acts.join.total["V"]),
        acts.join.where,
    )
    add("between joined racks, across", of(acts.join, "P"), acts.join.where)
    add("corner", acts.corner.total["R"], acts.corner.where)
    return tuple(found)
