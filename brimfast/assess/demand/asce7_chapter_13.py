"""ASCE 7, chapter 13: what its editions have in common."""

from __future__ import annotations

from collections.abc import Callable

from brimfast.assess.demand import asce7_nonbuilding
from brimfast.assess.demand.asce7_attachment import FREEBOARD, IN_THE_OPEN, NO_FREEBOARD, attachment
from brimfast.assess.demand.asce7_motion import ASSUMPTIONS, EXAMPLE, NEEDS, OFFICIAL, Inputs, ground_motion
from brimfast.assess.demand.standard import Method, Standard
from brimfast.shared.findings import Step
from brimfast.shared.installation.fields import Part
from brimfast.shared.installation.site import Site


def chapter_13(
    edition: str,
    factors: type[Part],
    force: Method,
    height: Callable[[Site, float], tuple[float, Step]],
    *last_assumptions: str,
) -> Standard:
    """One edition, such as 7-22."""
    return Standard(
        name=f"asce{edition}",
        title=f"ASCE {edition}, chapter 13",
        where="United States; as the building department has adopted it",
        inputs=Inputs,
        factors=factors,
        needs=NEEDS,
        example=EXAMPLE,
        official=OFFICIAL,
        motion=ground_motion,
        force=force,
        in_the_open=asce7_nonbuilding.force,
        height=height,
        attachment=attachment,
        in_the_open_attachment=IN_THE_OPEN,
        in_the_open_basis="ASCE 7 chapter 15",
        freeboard=NO_FREEBOARD,
        building=("period", "R", "Omega_0", "I_e"),
        freeboard_values=(FREEBOARD,),
        assumptions=ASSUMPTIONS,
        last_assumptions=last_assumptions,
    )
