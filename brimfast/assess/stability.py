"""Tipping, sliding and anchors of every free body."""

from __future__ import annotations

from brimfast.assess.anchors import anchor_findings
from brimfast.assess.bodies import FreeBody
from brimfast.assess.demand.force import Force
from brimfast.assess.sliding import attachment_finding, sliding_finding
from brimfast.assess.tipping import tipping_finding
from brimfast.shared.findings import Finding
from brimfast.shared.installation.site import Site


def stability_findings(
    bodies: tuple[FreeBody, ...], forces: dict[str, Force], site: Site, S_DS: float
) -> list[Finding]:
    """For an anchored body its anchors are checked; for one that stands free, its weight and friction."""
    found: list[Finding] = []
    for body in bodies:
        force = forces[body.name]
        if body.anchoring is not None:
            found.extend(anchor_findings(body, force, S_DS))
            continue
        found.extend(tipping_finding(body, direction, force, S_DS) for direction in body.directions)
        found.append(sliding_finding(body, force, S_DS))
        position = attachment_finding(body, force, site, S_DS)
        if position is not None:
            found.append(position)
    return found
