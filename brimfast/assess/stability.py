"""Tipping, sliding and anchors of every free body."""

from __future__ import annotations

from brimfast.assess.anchors import anchor_findings
from brimfast.assess.bodies import FreeBody
from brimfast.assess.demand.force import Force
from brimfast.assess.demand.ground_motion import GroundMotion
from brimfast.assess.frame.actions import RackActions
from brimfast.assess.sliding import attachment_asked, attachment_finding, sliding_finding
from brimfast.assess.tipping import tipping_finding
from brimfast.shared.findings import Finding
from brimfast.shared.installation.site import Site


def stability_findings(
    bodies: tuple[FreeBody, ...],
    forces: dict[str, Force],
    site: Site,
    motion: GroundMotion,
    acting: dict[str, RackActions] | None = None,
) -> list[Finding]:
    """For an anchored body its anchors are checked; for one that stands free, its weight and friction.

    Across a rack that is tied to a wall, the ties answer (see the joints).
    """
    found: list[Finding] = []
    for body in bodies:
        force = forces[body.name]
        if body.anchoring is not None:
            frame = (acting or {}).get(body.name.removeprefix("rack ")) if body.kind == "rack" else None
            found.extend(anchor_findings(body, force, motion.S_DS, frame))
            continue
        free = [direction for direction in body.directions if not (body.tied and direction.name.startswith("across"))]
        found.extend(tipping_finding(body, direction, force, motion.S_DS) for direction in free)
        found.append(sliding_finding(body, force, motion.S_DS))
        position = attachment_finding(body, force, site, motion.category)
        if position is not None:
            found.append(position)
    return found


def exempt_bodies(bodies: tuple[FreeBody, ...], site: Site, category: str) -> tuple[str, ...]:
    """Unanchored bodies of which chapter 13 asks no attachment."""
    if site.setting != "in a building":
        return ()
    return tuple(body.name for body in bodies if body.anchoring is None and not attachment_asked(body, site, category))
