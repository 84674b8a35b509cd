"""What is common to the standards outside the United States: what is taken over from ASCE 7, and said."""

from __future__ import annotations

from dataclasses import replace

from brimfast.assess import combinations
from brimfast.data_tables.loader import factor, factor_used
from brimfast.shared.findings import Value


def combined(rule: str) -> str:
    """Source of the combinations with another standard's vertical earthquake."""
    return f"{combinations.SOURCE}; vertical share: {rule}"


def sloshing(equations: str) -> str:
    """Source of the spectrum for what sloshes."""
    return f"{equations}; times {factor('sloshing_amplification').value:g} for 0.5 % damping, ASCE 7-22 (15.7-10)"


def sloshing_values() -> tuple[Value, ...]:
    """What the spectrum for what sloshes is over the standard's own."""
    return (
        replace(factor_used("sloshing_amplification"), name="spectrum for sloshing (0.5 % damping) over that at 5 %"),
    )


def taken_over(name: str) -> tuple[str, ...]:
    """Said of every assessment by such a standard."""
    return (
        f"The earthquake, its spectrum and the force on each body are those of {name}. Load combinations are those of ASCE 7 "
        "with this standard's vertical earthquake: 0.9 and 1.2 times the weight at strength level, where the standard itself "
        "has 1.0, is the safe side. Timber and fasteners are checked by the NDS at allowable level under 0.7 of the "
        "earthquake; the country's own material standards decide.",
        "Limits of drift and lean, the theory of sloshing, and the pull on chains are those of ASCE 7 and the sources named "
        "there. What sloshes is not reduced for ductility.",
    )


def no_rule(name: str, text: str, said: str, see: str) -> Value:
    """A figure for which the standard has no rule."""
    return Value(name, text, said, "common practice, no source", see)
