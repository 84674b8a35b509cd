"""Tipping, sliding and anchors of every free body."""

from __future__ import annotations

from dataclasses import replace

from brimfast.assess.anchors import anchor_findings
from brimfast.assess.as_one import as_one
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
    joined: tuple[tuple[str, str], ...] = (),
) -> list[Finding]:
    """For an anchored body its anchors are checked; for one that stands free, its weight and friction.

    Across a rack that is tied to a wall, the ties answer (see the joints). joined: racks, front and back, that stand in one
    frame beam against beam; where that frame stands they tip across as one.
    """
    found: list[Finding] = []
    by_name = {body.name: body for body in bodies}
    together: dict[str, tuple[FreeBody, FreeBody]] = {}
    for pair in joined:
        if all(name in (acting or {}) for name in pair):
            both = by_name[f"rack {pair[0]}"], by_name[f"rack {pair[1]}"]
            together |= {body.name: both for body in both}
    for body in bodies:
        force = forces[body.name]
        if body.anchoring is not None:
            frame = (acting or {}).get(body.name.removeprefix("rack ")) if body.kind == "rack" else None
            found.extend(anchor_findings(body, force, motion.vertical, frame))
            continue
        free = [direction for direction in body.directions if not (body.tied and direction.name.startswith("across"))]
        for direction in free:
            if body.name in together and direction.name.startswith("across"):
                found.extend(_tips_as_one(body, together[body.name], forces, motion))
            else:
                found.append(tipping_finding(body, direction, force, motion.vertical))
        found.append(sliding_finding(body, force, motion.vertical))
        position = attachment_finding(body, force, site, motion)
        if position is not None:
            found.append(position)
    return found


def _tips_as_one(
    body: FreeBody, both: tuple[FreeBody, FreeBody], forces: dict[str, Force], motion: GroundMotion
) -> list[Finding]:
    """Said of each of the two under its own name; nothing where the other one is tied to a wall."""
    if any(one.tied for one in both):
        return []
    pair, direction, force = as_one(*both, forces)
    found = tipping_finding(replace(pair, name=body.name), direction, force, motion.vertical)
    other = next(one.name for one in both if one.name != body.name)
    return [replace(found, details={**found.details, "as one with": other})]


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
