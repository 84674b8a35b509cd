"""How a force from the frame is written down, and set against plain statics."""

from __future__ import annotations

from dataclasses import replace

from brimfast.assess.frame.actions import LoadCase
from brimfast.shared.findings import Step, step

SOURCE = "three-dimensional frame by direct stiffness; its forces balance the loads to 1e-9"
WORDS = {
    "down": "(1.0 + 0.14 S_DS) D + 0.7 E_h",
    "up": "(0.6 - 0.14 S_DS) D + 0.7 E_h",
    "strength down": "(1.2 + 0.2 S_DS) D + 1.0 E_h",
    "strength up": "(0.9 - 0.2 S_DS) D + 1.0 E_h",
    "anchors": "(0.6 - 0.14 S_DS) D + 0.7 Omega_0 E_h",
}
UNEXPLAINED = "more than stiffness explains"
ROUND = 1.01  # the shares of the masses that plain statics sets at one height


def total(letter: str, case: LoadCase, by_weight: float, value: float, unit: str, note: str = "") -> Step:
    """One force as its part by the weight, times the case's share of it, and its part by the push."""
    inputs: dict[str, float | tuple[float, str]] = {
        "v": case.weight,
        f"{letter}_D": (by_weight, unit),
        f"{letter}_E": (value - case.weight * by_weight, unit),
    }
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
