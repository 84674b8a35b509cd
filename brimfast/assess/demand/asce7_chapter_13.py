"""ASCE 7, chapter 13: what its editions have in common."""

from __future__ import annotations

from collections.abc import Callable

from brimfast.assess.demand import asce7_nonbuilding
from brimfast.assess.demand.asce7_attachment import FREEBOARD, IN_THE_OPEN, NO_FREEBOARD, attachment
from brimfast.assess.demand.asce7_motion import ASSUMPTIONS, EXAMPLE, NEEDS, OFFICIAL, Inputs, ground_motion
from brimfast.assess.demand.standard import HazardPoint, Method, Standard
from brimfast.shared.findings import Step, Value
from brimfast.shared.installation.fields import Part
from brimfast.shared.installation.site import Site


def hazard(site: Site) -> HazardPoint:
    """The design earthquake is two thirds of the strongest considered, which is taken as 2 % in 50 years."""
    value = Value(
        "how often one and a half times the design shaking is passed",
        "2 % in 50 years, once in 2475 years",
        "ASCE 7-16 section 11.4.6 (MCE_R is 1.5 times the design spectrum); 2 % in 50 years as in open code of the "
        "risk-targeted maps. Where the maps aim at risk, or at a known fault, it is only near that",
        "published",
        "a hazard curve of the address, from the national geological survey",
    )
    return HazardPoint(1.5, 2475.0, value)


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
        hazard=hazard,
        freeboard=NO_FREEBOARD,
        building=("period", "R", "Omega_0", "I_e"),
        freeboard_values=(FREEBOARD,),
        assumptions=ASSUMPTIONS,
        last_assumptions=last_assumptions,
    )
