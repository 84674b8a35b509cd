"""Which method of its standard answers for which body?"""

from __future__ import annotations

from brimfast.assess.demand.standard import Method, standard_of
from brimfast.shared.installation.site import Site


def method(site: Site, stands_alone: bool) -> Method:
    """The method for what stands by itself in the open; the one for parts of a building for everything else."""
    standard = standard_of(site)
    if stands_alone and site.setting != "in a building":
        return standard.in_the_open
    return standard.force
