"""How are values named that are asked of an anchor or a lid, and that no maker's table has confirmed yet?"""

from __future__ import annotations

from brimfast.shared.constants import POUND_FORCE
from brimfast.shared.findings import Value
from brimfast.shared.installation.sourced import is_required

UNCONFIRMED = "not yet confirmed by a maker's table"


def required_value(name: str, allowable: float, source: str, table: str) -> tuple[Value, ...]:
    """To be confirmed where the source says that it is only required; nothing else."""
    if not is_required(source):
        return ()
    return (Value(name, both_units(allowable), source, "required, not confirmed", table),)


def value_of(what: str, allowable: float, source: str) -> tuple[str, tuple[Value, ...]]:
    """How a basis names an anchor's allowable value; one that is only required is to be confirmed as well."""
    name, table = f"{what} that an anchor must have", "the anchor maker's published table"
    values = required_value(name, allowable, source, table)
    return f"allowable value is a requirement, {UNCONFIRMED}" if values else f"allowable value: {source}", values


def both_units(force: float) -> str:
    """A force as it is looked for in a maker's table of either kind."""
    return f"{force / POUND_FORCE:.0f} lb ({force / 1000:.2g} kN)"
