"""How much softer than its screw may a wall tie be, with its rail and stud?"""

from __future__ import annotations

from brimfast.data_tables.loader import factor_si


def tie_softness() -> float:
    """The least stiffness of a wall tie over the most."""
    return factor_si("tie_stiffness_least") / factor_si("tie_stiffness")
