"""National Building Code of Canada 2020, article 4.1.8.18: elements of structures, components and equipment."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from brimfast.assess.demand import nbc_part
from brimfast.assess.demand.force import Body, Force
from brimfast.assess.demand.inputs import Acceleration, read_inputs
from brimfast.assess.demand.motion import GroundMotion
from brimfast.assess.demand.standard import Attachment
from brimfast.shared.installation.site import Site

EDITION = "NBC 2020"
EXEMPT_UNDER_10 = 0.2  # I_E S(1.0) of seismic category SC2, from memory


class Inputs(nbc_part.Spectrum):
    """The design spectrum at 0.2 s for the site's own ground: this edition has no site coefficients."""

    S_02: Annotated[Acceleration, Field(description="design spectrum S(0.2) for the site designation, g")]


def motion(site: Site) -> GroundMotion:
    given = read_inputs(Inputs, site)
    how = f"S(0.2) = {given.S_02:g} g, I_E = {given.I_E:g}"
    return nbc_part.motion(given, given.S_02, how, EDITION, ())


def force(body: Body, site: Site, motion: GroundMotion) -> Force:
    given = read_inputs(Inputs, site)
    written: nbc_part.Formula = ("S_02", {"S_02": (given.S_02, "g")})
    return nbc_part.force(body, site, motion, given, given.S_02, written, EDITION)


def attachment(component: str, site: Site, motion: GroundMotion) -> Attachment:
    given = read_inputs(Inputs, site)
    source = "NBC 2020 4.1.8.18.(2), seismic categories SC1 and SC2"
    low = given.S_10 is not None and given.I_E * given.S_10 < EXEMPT_UNDER_10
    return nbc_part.attachment(given, given.S_02, low, EDITION, source, "from memory")


STANDARD = nbc_part.edition("2020", Inputs, "S_02", "S_02: 0.85", motion, force, attachment)
