"""How a force from the frame is written down, and set against plain statics."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from brimfast.assess.frame.actions import Acting, RackActions
from brimfast.shared.findings import Step, step

Array = NDArray[np.float64]
Indices = NDArray[np.int64]
SOURCE = "three-dimensional frame by direct stiffness; its forces balance the loads to 1e-7 or better"
ALIKE = 1e-9
UNEXPLAINED = "more than stiffness explains"
ROUND = 1.01  # the shares of the masses that plain statics sets at one height


@dataclass(frozen=True)
class Worst:
    """Where values (places, cases) are largest: the place, the column among the picked cases, the case's number."""

    place: int
    column: int
    number: int
    value: float


def worst(values: Array, picks: Indices) -> Worst:
    """Of places and cases as bad as each other but for rounding, the first; past all measure counts as alike."""
    most = float(values.max())
    least = most - ALIKE * abs(most) if np.isfinite(most) else most
    place, column = (int(at) for at in np.argwhere(values >= least)[0])
    return Worst(place, column, int(picks[column]), float(values[place, column]))


def said(acts: RackActions, number: int, where: str = "") -> str:
    """Place, push and combination of a case, for the note of a line."""
    place = f"{where}, " if where else ""
    return f"{place}{acts.push_words(number)}; {acts.cases[number].words}"


def total(letter: str, acting: Acting, acts: RackActions, place: int, number: int, unit: str = "N") -> Step:
    """One force as its part by the weight, times the case's share of it, and its part by the push."""
    share = acts.cases[number].weight
    by_weight, value = float(acting.by_weight[letter][place]), float(acting.total[letter][place, number])
    inputs: dict[str, float | tuple[float, str]] = {
        "v": share,
        f"{letter}_D": (by_weight, unit),
        f"{letter}_E": (value - share * by_weight, unit),
    }
    note = said(acts, number, acting.where[place])
    return step(letter, f"v*{letter}_D + {letter}_E", inputs, (value, unit), SOURCE, note)


def compared(frame: float, statics: float, most: float) -> dict[str, str]:
    """The frame's demand over that of plain statics. most: the demand if all of the push met this one place.

    Stiffness decides which place takes how much of the push, so it explains anything up to that.
    """
    if statics <= 0:
        return {}
    text = f"{frame / statics:.2f} times plain statics"
    if frame > most * ROUND:
        text += f"; {UNEXPLAINED}: an engineer should look"
    return {"by the frame": text}


def to_compare(lines: tuple[Step, ...]) -> tuple[Step, ...]:
    """Plain statics beside the frame, under symbols of their own."""
    return tuple(
        replace(
            line, symbol=f"{line.symbol}_s", note=f"to compare only; {line.note}" if line.note else "to compare only"
        )
        for line in lines
    )
