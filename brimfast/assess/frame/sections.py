"""How stiff are a rack's timbers as members of its frame?"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from brimfast.assess.frame import elements
from brimfast.assess.frame.model import NoFrameError
from brimfast.assess.parts import Member
from brimfast.assess.timber.beam import second_moment
from brimfast.assess.timber.service import service_of
from brimfast.assess.timber.strength import adjusted
from brimfast.data_tables.loader import factor_si
from brimfast.shared.installation.rack import Rack

Array = NDArray[np.float64]
RIGID = (np.inf, np.inf)


def modulus(member: Member, rack: Rack) -> float:
    """Modulus of elasticity in service (N/m²). Raises NoFrameError where the tables have none."""
    if member.strength is None:
        raise NoFrameError(f"the tables have no stiffness for {member.species}")
    return adjusted(member.strength, "permanent", service_of(rack), member.incised).E


def section(
    member: Member,
    E: float,
    L: float,
    plies: int = 1,
    k_y: tuple[float, float] = RIGID,
    k_z: tuple[float, float] = RIGID,
) -> Array:
    """Coefficients of a stretch (m) whose width stands in the local z direction; springs (N·m/rad) at ends i and j."""
    I_y = float(second_moment(member.thickness, member.width))
    I_z = float(second_moment(member.width, member.thickness))
    long, short = max(member.width, member.thickness), min(member.width, member.thickness)
    J = long * short**3 / 3 * (1 - 0.63 * short / long)
    G = E * factor_si("wood_shear_share")
    EA, GJ, EI_y, EI_z = (np.array([plies * value]) for value in (E * member.area, G * J, E * I_y, E * I_z))
    return np.asarray(elements.member_coefficients(EA, GJ, EI_y, EI_z, np.array([L]), k_y, k_z)[0])


def hinged_member(member: Member, E: float, L: float) -> Array:
    """A member that turns freely at both ends but does not spin: normal force and torque."""
    out = np.zeros(elements.COEFFICIENTS)
    out[0] = E * member.area / L
    out[1] = section(member, E, L)[1]
    return out
