"""Terminals that lack our characters get others that mean as much; what has none is a question mark."""

from __future__ import annotations

import codecs

NAME = "brimfast"
INSTEAD = {
    "✗": "x",
    "✓": "+",
    "–": "-",
    "—": "-",
    "−": "-",
    "─": "-",
    "·": "*",
    "×": "x",
    "±": "+/-",
    "²": "2",
    "³": "3",
    "°": " deg",
    "√": "sqrt",
    "…": "...",
    "≤": "<=",
    "≥": ">=",
    "≈": "~",
    "→": "->",
    "∞": "inf",
    "μ": "u",
    "Δ": "Delta",
    "Ω": "Omega",
    "θ": "theta",
    "π": "pi",
    "ρ": "rho",
    "⁴": "4",
    "′": "'",
    "″": '"',
    "’": "'",
    **{lowered: str(digit) for digit, lowered in enumerate("₀₁₂₃₄₅₆₇₈₉")},
}


def register() -> None:
    codecs.register_error(NAME, _instead)


def _instead(error: UnicodeError) -> tuple[str, int]:
    if not isinstance(error, UnicodeEncodeError):
        raise error
    found = error.object[error.start : error.end]
    return "".join(INSTEAD.get(character, "?") for character in found), error.end
