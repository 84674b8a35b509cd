"""Does sloshing push or tip a body more than if all its water were rigid?

Rigid part: everything but the free water, and the water's m_i, under the body's own force coefficient. Sloshing part: each
m_c under its own spectrum. The two are combined as the root of the sum of squares. Pressure on the bottoms is counted.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.assess.bodies import FreeBody, Sloshing
from brimfast.assess.demand.force import Force
from brimfast.assess.slosh.case import Slosh
from brimfast.shared.findings import Step, step

Array = NDArray[np.float64]
SOURCE = "ASCE 7-16 section 15.7.6.1, (15.7-4) to (15.7-6); ACI 350.3-20 section 4.1.2"


def together(rigid: ArrayLike, sloshing: ArrayLike) -> Array:
    """Rigid and sloshing part of a force or moment: √(rigid² + sloshing²). ASCE 7-16 section 15.7.6.1."""
    return np.asarray(np.hypot(np.asarray(rigid, float), np.asarray(sloshing, float)))


def with_sloshing(
    bodies: tuple[FreeBody, ...],
    forces: dict[str, Force],
    waves: tuple[Slosh, ...],
    bases: dict[str, dict[str, float]],
) -> tuple[FreeBody, ...]:
    """The bodies, with what sloshing does in each of their directions.

    bases: of each body's vessels, by name, the height of their base above the body's own (m).
    """
    found = []
    for body in bodies:
        inside = bases.get(body.name, {})
        directions = []
        for direction in body.directions:
            way = direction.name.split()[0]
            part = [one for one in waves if one.vessel in inside and one.assessed and _shakes(one, way)]
            directions.append(
                replace(direction, sloshing=_sloshing(body, forces[body.name], part, inside)) if part else direction
            )
        found.append(replace(body, directions=tuple(directions)))
    return tuple(found)


def _shakes(wave: Slosh, way: str) -> bool:
    return wave.way == "any" or way in ("in", wave.way)


def _sloshing(body: FreeBody, force: Force, waves: list[Slosh], bases: dict[str, float]) -> Sloshing:
    C, W, h = force.coefficient, body.weight, body.height
    shares = [
        _share(number, wave, bases[wave.vessel] + wave.water.bottom) for number, wave in enumerate(waves, start=1)
    ]
    W_r, V_c, M_r, M_c = (sum(line.result.value for line in column) for column in zip(*shares, strict=True))
    V, M = float(together(C * (W - W_r), V_c)), float(together(C * (W * h - M_r), M_c))
    symbols = [" + ".join(line.symbol for line in column) for column in zip(*shares, strict=True)]
    known = {line.symbol: (line.result.value, line.result.unit) for share in shares for line in share}
    forces_in = {name: number for name, number in known.items() if number[1] == "N"}
    moments_in = {name: number for name, number in known.items() if number[1] == "N·m"}
    lines = [line for wave, share in zip(waves, shares, strict=True) for line in (*wave.steps, *wave.masses, *share)]
    lines += [
        step(
            "V_slosh",
            f"sqrt((C*(W - ({symbols[0]})))**2 + ({symbols[1]})**2)",
            {"C": C, "W": (W, "N"), **forces_in},
            (V, "N"),
            SOURCE,
            f"C: the body's own F over W; {_says(V, force.horizontal)}",
        ),
        step(
            "M_slosh",
            f"sqrt((C*(W*h - ({symbols[2]})))**2 + ({symbols[3]})**2)",
            {"C": C, "W": (W, "N"), "h": (h, "m"), **moments_in},
            (M, "N·m"),
            SOURCE,
            _says(M, force.horizontal * h),
        ),
    ]
    index = any(wave.index for wave in waves)
    values = [value for wave in waves for value in wave.values]
    reductions = [value for wave in waves for value in wave.reduction]
    return Sloshing(V, M, index, tuple(lines), tuple(dict.fromkeys((*values, *reductions))))


def _share(number: int, wave: Slosh, z: float) -> tuple[Step, Step, Step, Step]:
    """Of one vessel: weight that does not move along, force of what sloshes, and the moments of both."""
    water = wave.water
    V = wave.coefficient * wave.sloshing
    W_w, W_i = (water.weight, "N"), (wave.rigid, "N")
    lost = water.weight * (z + water.depth / 2) - wave.rigid * (z + wave.rigid_height)
    return (
        step(
            f"W_r{number}",
            "W_w - W_i",
            {"W_w": W_w, "W_i": W_i},
            (water.weight - wave.rigid, "N"),
            "",
            f"{wave.vessel}: water that does not move along",
        ),
        step(
            f"V_{number}",
            "C_c*W_c",
            {"C_c": wave.coefficient, "W_c": (wave.sloshing, "N")},
            (V, "N"),
            "ASCE 7-16 (15.7-6)",
        ),
        step(
            f"M_r{number}",
            "W_w*(z + h/2) - W_i*(z + h_i)",
            {"W_w": W_w, "z": (z, "m"), "h": (water.depth, "m"), "W_i": W_i, "h_i": (wave.rigid_height, "m")},
            (lost, "N·m"),
            "",
            "z: bottom of the water above the body's base",
        ),
        step(
            f"M_c{number}",
            f"V_{number}*(z + h_c)",
            {f"V_{number}": (V, "N"), "z": (z, "m"), "h_c": (wave.sloshing_height, "m")},
            (V * (z + wave.sloshing_height), "N·m"),
        ),
    )


def _says(split: float, rigid: float) -> str:
    if split > rigid:
        return f"{split / rigid:.2f} times what all water rigid gives: used"
    return f"{split / rigid:.2f} times what all water rigid gives; that is used"
