"""A calculation step as a person reads it: symbols with subscripts, numbers put in, units of the reader's system."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, replace

from brimfast.reports.pdf_style import safe
from brimfast.shared.constants import FOOT, POUND_FORCE
from brimfast.shared.findings import Number, Step
from brimfast.shared.units import CURRENCIES, System, number_text, quiet

# Coherent units: an equation that is right in N and m is right in lb and ft.
_US: dict[str, tuple[str, float]] = {
    "N": ("lb", POUND_FORCE),
    "m": ("ft", FOOT),
    "N·m": ("lb·ft", POUND_FORCE * FOOT),
    "m²": ("ft²", FOOT**2),
    "m³": ("ft³", FOOT**3),
    "m⁴": ("ft⁴", FOOT**4),
    "N/m": ("lb/ft", POUND_FORCE / FOOT),
    "N/m²": ("lb/ft²", POUND_FORCE / FOOT**2),
    "N/m³": ("lb/ft³", POUND_FORCE / FOOT**3),
    "m³/s": ("ft³/s", FOOT**3),
    "m/s²": ("ft/s²", FOOT),
    **{f"{currency}/m²": (f"{currency}/ft²", 1 / FOOT**2) for currency in CURRENCIES},
    "m/s": ("ft/s", FOOT),
    "m²/s": ("ft²/s", FOOT**2),
}
_GREEK = {
    "mu": "μ",
    "theta": "θ",
    "Omega": "Ω",
    "pi": "π",
    "rho": "ρ",
    "gamma": "γ",
    "alpha": "α",
    "beta": "β",
    "Delta": "Δ",
    "delta": "δ",
    "phi": "φ",
    "lambda": "λ",
    "sigma": "σ",
    "tau": "τ",
    "omega": "ω",
    "eta": "η",
    "xi": "ξ",
    "nu": "ν",
}
_FUNCTIONS = {"min", "max", "sqrt", "floor", "sin", "cos", "tanh", "ln"}


@dataclass(frozen=True)
class Marks:
    """How a face writes an equation: the door for text, what stands before and after what is lowered, raised, strong."""

    text: Callable[[str], str]
    lowered: tuple[str, str]
    raised: tuple[str, str]
    strong: tuple[str, str]


PDF = Marks(safe, ('<sub rise="1.5" size="6">', "</sub>"), ("<super>", "</super>"), ("<b>", "</b>"))


def _within(pair: tuple[str, str], text: str) -> str:
    return f"{pair[0]}{text}{pair[1]}"


def in_system(number: Number, step: Step, system: System) -> tuple[float, str]:
    if system == "us" and step.any_units and number.unit in _US:
        unit, size = _US[number.unit]
        return number.value / size, unit
    return number.value, number.unit


def number_and_unit(number: Number, step: Step, system: System) -> str:
    value, unit = in_system(replace(number, value=quiet(number.value, number.unit)), step, system)
    return f"{number_text(value, 4)} {unit}".rstrip()


def symbol_markup(name: str, face: Marks = PDF) -> str:
    """S_DS as S with subscript DS; Greek names as letters."""
    head, _, tail = name.partition("_")
    head = _GREEK.get(head, head)
    if not tail:
        return face.text(head)
    tail = ",".join(_GREEK.get(part, part) for part in tail.split("_"))
    return face.text(head) + _within(face.lowered, face.text(tail))


_ANY_SYMBOL = re.compile(r"\b([A-Za-zΩ]{1,5}_[A-Za-z0-9]+)\b")
GROUND_MOTION = re.compile(r"\b(S_DS|S_D1|S_S|S_1|S_e|S_max|C_max|a_gR|a_g|gamma_I|R_u|F_a|I_E|S_a)\b")


def with_symbols(text: str, which: re.Pattern[str] = _ANY_SYMBOL, face: Marks = PDF) -> str:
    """Text of ours in which symbols such as S_DS stand: those get their subscripts.

    Text that holds the owner's names, in which an underscore is one, names the few symbols that it may hold.
    """
    parts = which.split(text)
    return "".join(symbol_markup(part, face) if index % 2 else face.text(part) for index, part in enumerate(parts))


def expression_markup(expression: str, face: Marks = PDF) -> str:
    """The right-hand side: · for times, raised powers, √ for sqrt."""
    out: list[str] = []
    tokens = re.findall(r"[A-Za-z][A-Za-z0-9_]*|\d+\.?\d*|\*\*|[-+*/(),]|\s+", expression)
    index = 0
    while index < len(tokens):
        token = tokens[index]
        if token == "**" and index + 1 < len(tokens) and re.fullmatch(r"\d+\.?\d*", tokens[index + 1]):
            out.append(_within(face.raised, tokens[index + 1]))
            index += 2
            continue
        if token == "**" and index + 1 < len(tokens) and tokens[index + 1] == "(":
            end = tokens.index(")", index)
            out.append(_within(face.raised, "".join(tokens[index + 2 : end])))
            index = end + 1
            continue
        if token == "*":
            out.append("·")
        elif token == "-":
            out.append("−")
        elif token == "sqrt":
            out.append("√")
        elif token in _FUNCTIONS:
            out.append(token)
        elif re.fullmatch(r"[A-Za-z].*", token):
            out.append(symbol_markup(token, face))
        else:
            out.append(token)
        index += 1
    return "".join(out)


def step_markup(step: Step, system: System, face: Marks = PDF) -> tuple[str, str]:
    """First line: symbol = expression = result, in the other system's units too. Second: numbers put in, note, source."""
    shown = number_and_unit(step.result, step, system)
    other = number_and_unit(step.result, step, "si" if system == "us" else "us")
    result = _within(face.strong, face.text(shown)) + (f" ({face.text(other)})" if other != shown else "")
    first = f"{symbol_markup(step.symbol, face)} = {expression_markup(step.expression, face)} = {result}"
    with_numbers = ", ".join(
        f"{symbol_markup(name, face)} = {face.text(number_and_unit(number, step, system))}"
        for name, number in step.inputs.items()
    )
    rest = [
        part for part in (with_numbers, *(with_symbols(one, face=face) for one in (step.note, step.source))) if part
    ]
    return first, "; ".join(rest)
