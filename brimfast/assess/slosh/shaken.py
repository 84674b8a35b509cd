"""All that is said of the sloshing of one vessel, which hangs on nothing but itself, its rack's periods and the ground."""

from __future__ import annotations

from dataclasses import dataclass

from brimfast.assess.demand.motion import GroundMotion
from brimfast.assess.demand.standard import standard_of
from brimfast.assess.network.model import Event
from brimfast.assess.slosh.case import Slosh, vessel_sloshes
from brimfast.assess.slosh.findings import rim_finding
from brimfast.assess.slosh.splash import splash_events
from brimfast.assess.weight import VesselWeight
from brimfast.shared.findings import Finding
from brimfast.shared.installation.site import Site
from brimfast.shared.installation.vessel import Vessel


@dataclass(frozen=True)
class Shaken:
    waves: tuple[Slosh, ...]
    findings: tuple[Finding, ...]
    events: tuple[Event, ...]  # waves over its rim, as if it stood


def shaken(
    vessel: Vessel, weight: VesselWeight, site: Site, motion: GroundMotion, periods: tuple[float, ...]
) -> Shaken:
    waves, standard = tuple(vessel_sloshes(vessel, weight, site, motion, periods)), standard_of(site)
    return Shaken(waves, tuple(rim_finding(wave, standard) for wave in waves), splash_events(waves))
