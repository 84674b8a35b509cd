"""Which standard's method answers for which body?"""

from __future__ import annotations

from collections.abc import Callable

from brimfast.assess.demand import asce7_16, asce7_22, asce7_nonbuilding
from brimfast.assess.demand.force import Body, Force
from brimfast.assess.demand.ground_motion import GroundMotion
from brimfast.shared.installation.site import Site

Method = Callable[[Body, Site, GroundMotion], Force]
METHODS: dict[str, Method] = {"asce7-16": asce7_16.force, "asce7-22": asce7_22.force}


def method(site: Site, stands_alone: bool) -> Method:
    """Chapter 15 for what stands by itself in the open; the component chapter for everything else."""
    if stands_alone and site.setting != "in a building":
        return asce7_nonbuilding.force
    return METHODS[site.standard]
