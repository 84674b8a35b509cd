"""Tipping, sliding and anchors of every free body."""

from __future__ import annotations

from brimfast.assess.anchors import anchor_findings
from brimfast.assess.bodies import FreeBody
from brimfast.assess.demand.force import Force
from brimfast.assess.demand.motion import GroundMotion
from brimfast.assess.demand.standard import standard_of
from brimfast.assess.frame.actions import RackActions
from brimfast.assess.sliding import attachment_finding, sliding_finding
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
            found.extend(anchor_findings(body, force, motion.vertical, frame))
            continue
        free = [direction for direction in body.directions if not (body.tied and direction.name.startswith("across"))]
        found.extend(tipping_finding(body, direction, force, motion.vertical) for direction in free)
        found.append(sliding_finding(body, force, motion.vertical))
        position = attachment_finding(body, force, site, motion)
        if position is not None:
            found.append(position)
    return found


def exempt_bodies(bodies: tuple[FreeBody, ...], site: Site, motion: GroundMotion) -> tuple[str, ...]:
    """What is said of the unanchored bodies of which the standard asks no attachment."""
    if site.setting != "in a building":
        return ()
    found = [
        (body.name, asked.exempt)
        for body in bodies
        if body.anchoring is None and not (asked := standard_of(site).attachment(body.component, site, motion)).asked
    ]
    if not found:
        return ()
    names = [name for name, _ in found]
    before, after = found[0][1]
    return (f"{before}{', '.join(names[:8])}{' and others' if len(names) > 8 else ''}{after}",)
