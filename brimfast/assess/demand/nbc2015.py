"""National Building Code of Canada 2015, article 4.1.8.18: elements of structures, components and equipment."""

from __future__ import annotations

from typing import Annotated

import numpy as np
from numpy.typing import ArrayLike, NDArray
from pydantic import Field

from brimfast.assess.demand import nbc_part
from brimfast.assess.demand.force import Body, Force
from brimfast.assess.demand.inputs import Acceleration, read_inputs
from brimfast.assess.demand.motion import GroundMotion
from brimfast.assess.demand.standard import Attachment
from brimfast.shared.findings import step
from brimfast.shared.installation.fields import Quantity
from brimfast.shared.installation.site import Site

EDITION = "NBC 2015"


class Inputs(nbc_part.Spectrum):
    """Spectral acceleration at 0.2 s for site class C, and the site coefficient."""

    S_a_02: Annotated[Acceleration, Field(description="spectral acceleration S_a(0.2) for site class C, g")]
    F_a: Annotated[
        Annotated[float, Quantity("number", "0.5", "2.5")],
        Field(description="site coefficient at 0.2 s, F(0.2), 1.0 on site class C"),
    ]


def short_period(S_a_02: ArrayLike, F_a: ArrayLike) -> NDArray[np.float64]:
    """Design spectrum at 0.2 s (g): S(0.2) = F_a S_a(0.2). Source: NBC 2015 4.1.8.4.(7), (9)."""
    return np.asarray(np.asarray(F_a, float) * np.asarray(S_a_02, float))


def _S_02(given: Inputs) -> float:
    return float(short_period(given.S_a_02, given.F_a))


def motion(site: Site) -> GroundMotion:
    given = read_inputs(Inputs, site)
    S_02 = _S_02(given)
    inputs: dict[str, float | tuple[float, str]] = {"F_a": given.F_a, "S_a02": (given.S_a_02, "g")}
    line = step("S_02", "F_a*S_a02", inputs, (S_02, "g"), f"{EDITION} 4.1.8.4.(9)")
    how = f"S_a(0.2) = {given.S_a_02:g} g, F_a = {given.F_a:g}, I_E = {given.I_E:g}"
    return nbc_part.motion(given, S_02, how, EDITION, (line,))


def force(body: Body, site: Site, motion: GroundMotion) -> Force:
    given = read_inputs(Inputs, site)
    written: nbc_part.Formula = ("F_a*S_a02", {"F_a": given.F_a, "S_a02": (given.S_a_02, "g")})
    return nbc_part.force(body, site, motion, given, _S_02(given), written, EDITION)


def attachment(component: str, site: Site, motion: GroundMotion) -> Attachment:
    given = read_inputs(Inputs, site)
    source = "NBC 2015 4.1.8.18.(2), as in the text of the Ontario code"
    return nbc_part.attachment(given, _S_02(given), True, EDITION, source, "published")


STANDARD = nbc_part.edition("2015", Inputs, "S_a_02, F_a", "S_a_02: 0.85, F_a: 1.0", motion, force, attachment)
