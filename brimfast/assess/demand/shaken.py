"""The same earthquake, stronger or weaker: spectrum and forces by one factor, the spectrum's shape kept.

Every standard's force on a part is in proportion to its ground motion; the caps that some put on it are kept as they
stand at the design earthquake.
"""

from __future__ import annotations

from dataclasses import replace

from brimfast.assess.demand.force import Force
from brimfast.assess.demand.motion import GroundMotion


def shaken_motion(motion: GroundMotion, times: float) -> GroundMotion:
    """The ground motion by the factor `times` (−, above 0)."""
    if times == 1:
        return motion
    vertical = replace(motion.vertical, value=times * motion.vertical.value)
    return replace(motion, plateau=times * motion.plateau, peak=times * motion.peak, vertical=vertical)


def shaken_force(force: Force, times: float) -> Force:
    """The force on a body by the factor `times` (−, above 0)."""
    if times == 1:
        return force
    return replace(force, horizontal=times * force.horizontal, vertical=times * force.vertical)
