"""What do building and rack add to the shaking of what swings slowly: a thing on chains, or the water of a tank?"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.assess.demand.standard import standard_of
from brimfast.shared.findings import Step
from brimfast.shared.installation.site import Site

Array = NDArray[np.float64]
FAR_ENOUGH = 1.5  # between the period of what swings and of what carries it


def height_amplification(site: Site, z_h: float) -> tuple[float, Step]:
    """H_f of a floor at a share z_h of the building's height, as for components, by the site's standard."""
    return standard_of(site).height(site, z_h)


def building_keeps_time(site: Site, z_h: float, T: float) -> bool:
    """Whether the building is known to sway in nearly the same time T (s); on the ground it does not count."""
    period = site.building.period if site.building is not None else None
    return period is not None and z_h > 0 and 1 / FAR_ENOUGH < T / period < FAR_ENOUGH


def support_amplification(T: ArrayLike, T_r: ArrayLike) -> Array:
    """How much more than its floor the support sways at the period of what it carries: A = 1/(1 − (T_r/T)²).

    T period of what swings, T_r of the support (s). NaN where T is less than 1.5 T_r: they build each other up.
    Source: steady sway of an undamped support; Chopra, Dynamics of Structures, section 3.2 (from memory).
    """
    T, T_r = np.asarray(T, float), np.asarray(T_r, float)
    T = np.where(FAR_ENOUGH * T_r * (1 - 1e-12) <= T, T, np.nan)
    return np.asarray(1.0 / (1.0 - (T_r / T) ** 2))
