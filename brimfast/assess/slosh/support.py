"""What do floor and rack add to the shaking at the period of the waves?"""

from __future__ import annotations

import math
from dataclasses import dataclass

from brimfast.assess.demand.height import (
    FAR_ENOUGH,
    building_keeps_time,
    height_amplification,
    support_amplification,
)
from brimfast.shared.findings import Step, Value, step
from brimfast.shared.installation.site import Site

NEAR = 0.2  # of the rack's period


@dataclass(frozen=True)
class Support:
    """Factors on the ground's spectrum; A is NaN where rack or building build the waves up."""

    H_f: float
    A: float
    steps: tuple[Step, ...]
    values: tuple[Value, ...]
    why: str = ""  # of a NaN
    near: str = ""  # within 20 % of the rack's period


def support(site: Site, T_c: float, rack: str | None, periods: tuple[float, ...]) -> Support:
    """T_c period of the water (s); periods of its rack that shake it (s), empty where not known.

    A rack sways more at T_c than its floor by 1/(1 − (T_r/T_c)²); from two thirds of T_c on that builds up.
    """
    H_f, lines = _floor(site)
    if building_keeps_time(site, site.height_ratio, T_c):
        return Support(H_f, math.nan, lines, (), "the building sways in nearly the same time: waves build up")
    if rack is None:
        return Support(H_f, 1.0, lines, ())
    near = next((T_r for T_r in periods if math.isfinite(T_r) and abs(T_c - T_r) <= NEAR * T_r), None)
    said = f"{T_c:.2f} s, its rack's {near:.2f} s" if near is not None else ""
    values: tuple[Value, ...] = ()
    T_r, note = max(periods, default=T_c / FAR_ENOUGH), ""
    if not periods:
        note = "the rack's period is not known: the longest that does not build the waves up"
        values = (
            Value(
                "period of the rack under sloshing water",
                f"{T_r:.2f} s",
                "Not known: two thirds of the water's; a slower rack builds the waves up",
                "common practice, no source",
                "push the rack and time it, or have it computed; then period of the rack",
            ),
        )
    A = float(support_amplification(T_c, T_r))
    if math.isnan(A):
        why = (
            f"the rack (period {T_r:.2f} s) sways in nearly the same time, or slower: waves build up"
            if math.isfinite(T_r)
            else "nothing holds the rack in this direction: waves build up"
        )
        return Support(H_f, math.nan, lines, values, why, said)
    inputs = {"T_r": (T_r, "s"), "T_c": (T_c, "s")}
    line = step("A", "1/(1 - (T_r/T_c)**2)", inputs, A, "steady sway of the rack at the period of the waves", note)
    return Support(H_f, A, (*lines, line), values, "", said)


def _floor(site: Site) -> tuple[float, tuple[Step, ...]]:
    if site.height_ratio == 0:
        return 1.0, ()
    H_f, line = height_amplification(site, site.height_ratio)
    return H_f, (line,)
