"""Gathers points and elements while a frame is built."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from brimfast.assess.frame import elements
from brimfast.assess.frame.model import Element

Array = NDArray[np.float64]
PostPoint = Callable[[int, str, float], int]  # the point of a post (line, side) nearest to a height


@dataclass
class Builder:
    points: list[Array] = field(default_factory=list)
    first: list[int] = field(default_factory=list)
    level: list[int] = field(default_factory=list)
    ends: list[tuple[int, int]] = field(default_factory=list)
    compatibility: list[Array] = field(default_factory=list)
    coefficients: list[Array] = field(default_factory=list)
    hinged: dict[int, Array] = field(default_factory=dict)
    soft: dict[int, Array] = field(default_factory=dict)
    lengths: list[float] = field(default_factory=list)
    elements: list[Element] = field(default_factory=list)
    posts: dict[tuple[str, int, str], tuple[int, ...]] = field(default_factory=dict)
    decks: dict[tuple[str, int], tuple[tuple[int, int], ...]] = field(default_factory=dict)
    one_way: list[bool] = field(default_factory=list)
    stands_for: list[int] = field(default_factory=list)
    loads: list[tuple[str, int, float, Array]] = field(default_factory=list)  # rack, point, weight, pushed moments

    def point(self, place: Array, level: int, first: int = 0) -> int:
        self.points.append(place)
        self.first.append(first)
        self.level.append(level)
        return len(self.points) - 1

    def member(self, what: Element, i: int, j: int, coefficients: Array, up: Array) -> None:
        L, axes = elements.local_axes(self.points[i], self.points[j], up)
        self._add(what, i, j, elements.member_compatibility(float(L), axes), coefficients, float(L))

    def bar(self, what: Element, i: int, j: int, stiffness: float, one_way: bool = False) -> None:
        """A straight element that is only pulled or pushed (N/m)."""
        along = self.points[j] - self.points[i]
        up = np.array([0.0, 0.0, 1.0]) if abs(along[2]) < 0.9 * np.linalg.norm(along) else np.array([1.0, 0.0, 0.0])
        coefficients = np.zeros(elements.COEFFICIENTS)
        coefficients[0] = stiffness
        self.member(what, i, j, coefficients, up)
        self.one_way[-1] = one_way

    def link(self, what: Element, i: int, j: int, stiffness: Iterable[float]) -> None:
        coefficients = elements.link_coefficients(np.array(list(stiffness)))
        self._add(what, i, j, elements.link_compatibility(), coefficients, 0.0)

    def _add(self, what: Element, i: int, j: int, A: Array, coefficients: Array, L: float) -> None:
        self.elements.append(what)
        self.ends.append((i, j))
        self.compatibility.append(A)
        self.coefficients.append(coefficients)
        self.lengths.append(L)
        self.one_way.append(False)
        self.stands_for.append(1)
