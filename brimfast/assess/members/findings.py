"""All timber members of one rack, in the order of the load path."""

from __future__ import annotations

from brimfast.assess.joints.case import RackCase
from brimfast.assess.members.beam import beams
from brimfast.assess.members.deck import deck
from brimfast.assess.members.joist import joists
from brimfast.assess.members.post import posts
from brimfast.assess.members.swayed import swayed_beams
from brimfast.assess.weight import VesselWeight
from brimfast.shared.findings import Finding, always
from brimfast.shared.installation.model import Installation


def member_findings(case: RackCase, installation: Installation, vessels: dict[str, VesselWeight]) -> list[Finding]:
    """Deck, joists and beams of each tier from below, then what the earthquake does to the beams, then the posts. (Braces are with their joints, bed sides with the beds.)"""
    found: list[Finding] = []
    for tier in range(1, len(case.rack.decks) + 1):
        found += deck(case, tier, installation, vessels)
        found += joists(case, tier, installation, vessels)
        found += beams(case, tier)
    return [*map(always, found), *swayed_beams(case), *posts(case)]
