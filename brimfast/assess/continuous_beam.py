"""How does a beam in one piece over several posts share its load? The three-moment equation."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Load = tuple[float, float, float]  # start, end (m from the left end of the beam), load (N)


def within(loads: Sequence[Load], low: float, high: float) -> list[Load]:
    """The parts of the loads between two places, measured from the first (m)."""
    return [
        (max(start, low) - low, min(end, high) - low, load * (min(end, high) - max(start, low)) / (end - start))
        for start, end, load in loads
        if min(end, high) > max(start, low)
    ]


def continuous_reactions(span: float, spans: int, loads: Sequence[Load]) -> tuple[Array, Array]:
    """Reactions of a straight beam over equally spaced posts (N), left to right.

    Clapeyron's three-moment equation for equal spans and uniform stiffness on posts that do not give:
    M_{i-1} + 4 M_i + M_{i+1} = −(6/L²)(A x̄ of the left span from its far end + that of the right span),
    M zero at both ends. A uniform load w from a to b in a span of length L, x from the far end, gives
    6 A x̄ / L² = w [2 L² (b² − a²) − (b⁴ − a⁴)] / (4 L²).

    Returns the reactions of simple spans and what continuity adds to each; their sum is the reaction.
    Source: Clapeyron's theorem, any text on strength of materials; checked against beam tables in the tests.
    """
    simple = np.zeros(spans + 1)
    term_left, term_right = np.zeros(spans), np.zeros(spans)  # from the left end of a span, from its right end
    for bay in range(spans):
        for a, b, part in within(loads, bay * span, (bay + 1) * span):
            simple[bay + 1] += part * (a + b) / (2 * span)
            simple[bay] += part * (1 - (a + b) / (2 * span))
            w = part / (b - a)
            term_left[bay] += _term(w, a, b, span)
            term_right[bay] += _term(w, span - b, span - a, span)
    moments = _support_moments(term_left, term_right)
    slope = np.diff(moments) / span  # shear that the end moments put on each span
    added = np.zeros(spans + 1)
    added[:-1] += slope
    added[1:] -= slope
    return simple, added


def _support_moments(term_left: Array, term_right: Array) -> Array:
    spans = term_left.size
    moments = np.zeros(spans + 1)
    if spans > 1:
        inner = spans - 1
        matrix = 4 * np.eye(inner) + np.eye(inner, k=1) + np.eye(inner, k=-1)
        moments[1:-1] = np.linalg.solve(matrix, -(term_left[:-1] + term_right[1:]))
    return moments


def bending_moment(span: float, spans: int, loads: Sequence[Load], places: Array, continuous: bool) -> Array:
    """Bending moment at places along the beam (N·m), sagging positive: from the reactions and the loads. Statics."""
    if continuous:
        simple, added = continuous_reactions(span, spans, loads)
        reactions = simple + added
        supports = np.arange(spans + 1) * span
        arms = np.maximum(places[:, None] - supports, 0.0)
        total = arms @ reactions
        for start, end, load in loads:
            w = load / (end - start)
            total -= w / 2 * (np.maximum(places - start, 0) ** 2 - np.maximum(places - end, 0) ** 2)
        return np.asarray(total)
    total = np.zeros_like(places)
    for bay in range(spans):
        low, high = bay * span, (bay + 1) * span
        inside = (places >= low - 1e-12) & (places <= high + 1e-12)
        part = bending_moment(span, 1, within(loads, low, high), places[inside] - low, continuous=True)
        total[inside] = np.maximum(total[inside], part)
    return total


def _term(w: float, a: float, b: float, span: float) -> float:
    return w * (2 * span**2 * (b**2 - a**2) - (b**4 - a**4)) / (4 * span**2)
