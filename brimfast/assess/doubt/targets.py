"""Where in the file a number that is not known stands: the changes that put one value of it there."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

from brimfast.shared.constants import WATER_DENSITY
from brimfast.shared.edits import Edit
from brimfast.shared.errors import KeyPath
from brimfast.shared.uncertain import Exact

LEAST_GRAINS = 10.0  # kg/m³: flooded fill is never lighter than the water in its pores


class Target(Protocol):
    def edits(self, x: float) -> tuple[Edit, ...]: ...


@dataclass(frozen=True)
class Nowhere:
    """Not in the file: it acts on what is computed."""

    def edits(self, x: float) -> tuple[Edit, ...]:
        return ()


@dataclass(frozen=True)
class There:
    """One number of the file, in SI units."""

    path: KeyPath

    def edits(self, x: float) -> tuple[Edit, ...]:
        return (Edit(self.path, Exact(x)),)


@dataclass(frozen=True)
class FrictionUnder:
    """The coefficient of friction (−) under several bodies."""

    bodies: tuple[KeyPath, ...]

    def edits(self, x: float) -> tuple[Edit, ...]:
        return tuple(Edit((*body, "friction"), {"low": Exact(x), "high": Exact(x)}) for body in self.bodies)


@dataclass(frozen=True)
class FillWeight:
    """How heavy the flooded fill is against the table's (−): porosity stays, the grains weigh more or less."""

    vessels: tuple[int, ...]
    name: str | None
    porosity: float
    grain_density: float  # kg/m³

    def edits(self, x: float) -> tuple[Edit, ...]:
        n = self.porosity
        flooded = n * WATER_DENSITY + (1 - n) * self.grain_density
        grains = max((x * flooded - n * WATER_DENSITY) / (1 - n), LEAST_GRAINS)
        fill = {"porosity": Exact(n), "grain_density": Exact(grains)}
        named = {} if self.name is None else {"name": self.name}
        return tuple(Edit(("vessels", index, "fill"), {**named, **fill}) for index in self.vessels)


@dataclass(frozen=True)
class Levels:
    """By how much all levels differ from the file's (m), within each vessel: (index, depth of water, depth of vessel)."""

    vessels: tuple[tuple[int, float, float], ...]

    def edits(self, x: float) -> tuple[Edit, ...]:
        return tuple(
            Edit(("vessels", index, "water"), Exact(min(max(water + x, 0.0), depth)))
            for index, water, depth in self.vessels
        )


@dataclass(frozen=True)
class Masses:
    """What weighed vessels weigh against the file's figure (−); `holds` with them."""

    vessels: tuple[tuple[int, float, float | None], ...]  # index, mass (kg), what it holds (m³)

    def edits(self, x: float) -> tuple[Edit, ...]:
        found = []
        for index, mass, holds in self.vessels:
            found.append(Edit(("vessels", index, "mass"), Exact(x * mass)))
            if holds is not None:
                found.append(Edit(("vessels", index, "holds"), Exact(x * holds)))
        return tuple(found)


@dataclass(frozen=True)
class Centres:
    """How high centres of mass are against the file's figure (−), as far as the file may have it."""

    vessels: tuple[tuple[int, float], ...]  # index, height (m)

    def edits(self, x: float) -> tuple[Edit, ...]:
        return tuple(Edit(("vessels", index, "centre_of_mass"), Exact(x * height)) for index, height in self.vessels)
