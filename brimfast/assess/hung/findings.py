"""All that is asked of what hangs: swing, hangers, what holds it."""

from __future__ import annotations

from collections.abc import Mapping

from brimfast.assess.demand.motion import GroundMotion
from brimfast.assess.hung.hangers import hanger_finding
from brimfast.assess.hung.rails import rail_findings, support_finding
from brimfast.assess.hung.swing import swing_finding
from brimfast.assess.parts import Resolved
from brimfast.shared.findings import Finding
from brimfast.shared.installation.model import Installation


def hung_findings(
    installation: Installation,
    resolved: Resolved,
    motion: GroundMotion,
    rack_periods: Mapping[str, float] | None = None,
) -> list[Finding]:
    """Thing by thing, then rail by rail. rack_periods: a rack's longest period (s) by its name, where computed."""
    found: list[Finding] = []
    for thing in installation.hung:
        rack = installation.racks.get(thing.held_by)
        period = (rack_periods or {}).get(thing.held_by, rack.period if rack is not None else None)
        found += [swing_finding(thing, installation.site, motion, period), hanger_finding(thing)]
        support = support_finding(thing)
        if support is not None:
            found.append(support)
    for name, rack in installation.racks.items():
        found += rail_findings(name, rack, resolved.racks[name].rails, installation.hung)
    return found
