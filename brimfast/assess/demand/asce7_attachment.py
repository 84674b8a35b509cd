"""ASCE 7: which bodies must be fastened, and what it says of freeboard."""

from __future__ import annotations

from brimfast.assess.demand.motion import GroundMotion
from brimfast.assess.demand.standard import Attachment
from brimfast.shared.findings import Value
from brimfast.shared.installation.site import Site

IN_THE_OPEN = "in the open chapter 15 has its own rules for anchoring, which this version does not check"
NO_FREEBOARD = (
    "an estimate of spilling: ASCE 7 Table 15.7-3 asks no freeboard of such vessels in risk categories I and II"
)
FREEBOARD = Value(
    "freeboard that the code asks",
    "none in risk categories I and II",
    "ASCE 7-16 Table 15.7-3",
    "from memory",
    "ASCE 7-16 Table 15.7-3",
)


def attachment_asked(component: str, category: str, importance: float) -> bool:
    """Whether chapter 13 asks for a positive attachment.

    Vessels count as mechanical components: exempt in categories A and B, and in C with I_p = 1.0. Racks
    count as architectural ones: exempt in A, and in B with I_p = 1.0. Source: ASCE 7-16 section 13.1.4.
    """
    if category == "A":
        return False
    if component == "vessel":
        return not (category == "B" or (category == "C" and importance == 1.0))
    return not (category == "B" and importance == 1.0)


def attachment(component: str, site: Site, motion: GroundMotion) -> Attachment:
    """The code's position: friction from gravity is no attachment."""
    value = Value(
        "when an attachment is asked for",
        f"category {motion.category}",
        "ASCE 7-16 section 13.1.4 (who is exempt by category and I_p) and section 13.4",
        "from memory",
        "ASCE 7-16 sections 13.1.4 and 13.4 (7-22: Table 13.1-1)",
    )
    return Attachment(
        attachment_asked(component, motion.category, motion.importance),
        "ASCE 7 section 13.4: fastened without counting friction from gravity",
        "nothing attaches it; a code lets no friction stand in for that, unless it counts as movable furniture",
        value,
        (
            f"In seismic design category {motion.category} chapter 13 asks for no attachment of: ",
            " (ASCE 7-16 section 13.1.4, from memory).",
        ),
    )
