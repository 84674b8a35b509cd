"""What the computation says: steps that can be checked, findings, cautions, advice."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Literal

Verdict = Literal["holds", "close", "short", "not assessed"]
Provenance = Literal[
    "published", "common practice, no source", "from memory", "given in the file", "required, not confirmed"
]

HOLDS_UP_TO = 0.8
CLOSE_UP_TO = 1.0


def verdict_of(ratio: float | None) -> Verdict:
    """holds up to 0.8, close up to 1.0, short above; no ratio or a NaN is not assessed."""
    if ratio is None or math.isnan(ratio):
        return "not assessed"
    if ratio <= HOLDS_UP_TO:
        return "holds"
    if ratio <= CLOSE_UP_TO:
        return "close"
    return "short"


@dataclass(frozen=True)
class Value:
    """A figure that the computation took from a table or an assumption, and where it comes from."""

    name: str
    text: str
    source: str
    provenance: Provenance
    confirm_in: str = ""


@dataclass(frozen=True)
class Number:
    """A value in a stated unit, as it stands in an equation."""

    value: float
    unit: str = ""


@dataclass(frozen=True)
class Step:
    """One line of calculation: symbol = expression, with the numbers put in and the result.

    The expression is arithmetic in the symbols of `inputs`, in their stated units; min, max, sqrt, ln
    and tanh may occur. Whoever checks can put the inputs in and must get the result.
    """

    symbol: str
    expression: str
    inputs: Mapping[str, Number]
    result: Number
    source: str = ""
    note: str = ""
    any_units: bool = True  # False where the equation holds only in the units that are stated


def step(
    symbol: str,
    expression: str,
    inputs: Mapping[str, float | tuple[float, str]],
    result: float | tuple[float, str],
    source: str = "",
    note: str = "",
    any_units: bool = True,
) -> Step:
    """A Step from plain numbers or (number, unit) pairs."""

    def number(item: float | tuple[float, str]) -> Number:
        return Number(float(item[0]), item[1]) if isinstance(item, tuple) else Number(float(item))

    numbers = {name: number(item) for name, item in inputs.items()}
    return Step(symbol, expression, numbers, number(result), source, note, any_units)


@dataclass(frozen=True)
class Finding:
    """One question about one thing, answered by demand against capacity."""

    id: str
    topic: str
    subject: str
    question: str
    demand: float | None
    capacity: float | None
    quantity: str
    ratio: float | None
    verdict: Verdict
    basis: str
    reason: str = ""
    advice_key: str = ""
    steps: tuple[Step, ...] = ()
    values: tuple[Value, ...] = ()
    details: Mapping[str, str] = field(default_factory=dict)
    code_position: bool = False
    practice: bool = False  # not a matter of danger: shown in its own table, no reason for an exit code
    always: bool = False  # about weight alone: day and night, before any earthquake


def _once(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """Without the lines that repeat what their symbol last stood for."""
    latest: dict[str, Step] = {}
    kept = []
    for line in steps:
        if latest.get(line.symbol) != line:
            kept.append(line)
        latest[line.symbol] = line
    return tuple(kept)


def finding(
    id: str,
    topic: str,
    subject: str,
    question: str,
    demand: float,
    capacity: float,
    quantity: str,
    basis: str,
    *,
    reason: str = "",
    advice_key: str = "",
    steps: tuple[Step, ...] = (),
    values: tuple[Value, ...] = (),
    details: Mapping[str, str] | None = None,
    code_position: bool = False,
    practice: bool = False,
) -> Finding:
    """A finding whose ratio and verdict follow from demand and capacity.

    A capacity of zero or less under a demand is short, with no ratio; NaN anywhere is not assessed.
    """
    ratio: float | None
    verdict: Verdict
    if math.isnan(demand) or math.isnan(capacity):
        ratio, verdict = None, "not assessed"
        reason = reason or "a number in the calculation is undefined"
    elif demand <= 0:
        ratio, verdict = 0.0, "holds"
    elif math.isinf(demand):
        ratio, verdict = None, "short"
        reason = reason or "the load passes what any strength could hold: it buckles or hinges"
    elif capacity <= 0:
        ratio, verdict = None, "short"
        reason = reason or "there is nothing that resists"
    else:
        ratio = demand / capacity
        verdict = verdict_of(ratio)
    return Finding(
        id,
        topic,
        subject,
        question,
        demand,
        capacity,
        quantity,
        ratio,
        verdict,
        basis,
        reason,
        advice_key,
        _once(steps),
        values,
        details or {},
        code_position,
        practice,
    )


def always(finding: Finding) -> Finding:
    """One that asks about weight alone."""
    return replace(finding, always=True)


def severity(finding: Finding) -> tuple[int, float]:
    """Orders findings worst first: short before close, no capacity at all before any ratio."""
    rank = {"short": 0, "close": 1, "not assessed": 2, "holds": 3}[finding.verdict]
    return rank, -(finding.ratio if finding.ratio is not None else math.inf)


def not_assessed(
    id: str,
    topic: str,
    subject: str,
    question: str,
    quantity: str,
    reason: str,
    basis: str = "",
    *,
    demand: float | None = None,
    advice_key: str = "",
    steps: tuple[Step, ...] = (),
    values: tuple[Value, ...] = (),
    details: Mapping[str, str] | None = None,
    practice: bool = False,
) -> Finding:
    """A question that the tool does not answer, and why."""
    return Finding(
        id,
        topic,
        subject,
        question,
        demand,
        None,
        quantity,
        None,
        "not assessed",
        basis,
        reason,
        advice_key,
        _once(steps),
        values,
        details or {},
        practice=practice,
    )


@dataclass(frozen=True)
class Advice:
    """A kind of measure that would help, and why."""

    measure: str
    subject: str
    reason: str
    for_findings: tuple[str, ...]


@dataclass(frozen=True)
class Caution:
    title: str
    text: str
