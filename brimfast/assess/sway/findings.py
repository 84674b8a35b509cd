"""What the racks' sway does to themselves, their liners, the wall and the pipes."""

from __future__ import annotations

from brimfast.assess.joints.case import RackCase
from brimfast.assess.sway.corner import corner
from brimfast.assess.sway.deck import deck_shear
from brimfast.assess.sway.drift import drift
from brimfast.assess.sway.feet import loose_feet
from brimfast.assess.sway.liner import liner
from brimfast.assess.sway.pipes import pipes
from brimfast.assess.sway.wall import wall
from brimfast.shared.findings import Finding
from brimfast.shared.installation.model import Installation


def sway_findings(cases: list[RackCase], installation: Installation) -> list[Finding]:
    """Rack by rack; then each pipe between bodies that move differently."""
    found: list[Finding] = []
    for case in cases:
        for direction in ("along", "across"):
            found += drift(case, direction)
        found += [*wall(case), *liner(case, installation), *deck_shear(case), *loose_feet(case), *corner(case)]
    return found + pipes(cases, installation)
