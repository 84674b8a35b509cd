"""How much do plywood and OSB carry: as a deck by published capacities, as a wall by unit shears?"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.shared.constants import FOOT, INCH, POUND_FORCE, PSF

Array = NDArray[np.float64]
SUPPORT = 1.5 * INCH
SOURCE = "APA D510 / TECO uniform load formulas"


class Coefficients(NamedTuple):
    """Of the load formulas: bending, rolling shear, deflection."""

    k_b: float
    k_s: float
    k_d: float


def coefficients(spans: int) -> Coefficients:
    """For one, two, and three or more spans. Source: APA D510 / TECO load formulas."""
    known = {1: Coefficients(96.0, 24.0, 921.6), 2: Coefficients(96.0, 19.2, 2220.0)}
    return known.get(spans, Coefficients(120.0, 20.0, 1743.0))


def deck_bending_load(F_b_S: ArrayLike, span: ArrayLike, spans: int = 3) -> Array:
    """Uniform load by bending (Pa): 120 F_b S / l² psf for three or more spans, 96 F_b S / l² for one or two.

    F_b S (lb·in/ft), span centre to centre (m; inches in the formula). Source: APA D510 / TECO load formulas.
    """
    return np.asarray(coefficients(spans).k_b * np.asarray(F_b_S, float) / (np.asarray(span, float) / INCH) ** 2 * PSF)


def deck_shear_load(F_s_IbQ: ArrayLike, span: ArrayLike, spans: int = 3) -> Array:
    """Uniform load by rolling shear (Pa): 20 (19.2, 24) F_s(Ib/Q) / l_clear psf for three (two, one) spans.

    F_s(Ib/Q) (lb/ft), clear span = span − 1.5 in. Source: APA D510 / TECO load formulas.
    """
    clear = (np.asarray(span, float) - SUPPORT) / INCH
    return np.asarray(coefficients(spans).k_s * np.asarray(F_s_IbQ, float) / clear * PSF)


def deck_deflection(w: ArrayLike, E_I: ArrayLike, span: ArrayLike, spans: int = 3) -> Array:
    """Deflection (m): w l⁴ / (1743, 2220, 921.6 · EI) for three, two, one spans, l = clear span + 0.25 in.

    w (Pa; psf in the formula), EI (lb·in²/ft). Source: APA D510 / TECO load formulas.
    """
    l_3 = (np.asarray(span, float) - SUPPORT) / INCH + 0.25
    return np.asarray(np.asarray(w, float) / PSF * l_3**4 / (coefficients(spans).k_d * np.asarray(E_I, float)) * INCH)


def allowable_unit_shear(nominal_plf: ArrayLike, G: ArrayLike, reduction: float = 2.0) -> Array:
    """Allowable unit shear of a sheathed panel (N/m): v = nominal/2.0 · [1 − (0.5 − G)], the bracket at most 1.

    nominal in lb/ft for Douglas fir-larch framing, G of the actual framing. The seismic duration is in it.
    Source: SDPWS 2008 and 2015, section 4.3.3 and Table 4.3A note 3.
    """
    share = np.minimum(1 - (0.5 - np.asarray(G, float)), 1.0)
    return np.asarray(np.asarray(nominal_plf, float) / reduction * share * POUND_FORCE / FOOT)


def aspect_factor(height: ArrayLike, length: ArrayLike) -> Array:
    """2 b/h for panels taller than twice their length, at most 1; NaN beyond 3.5 to 1. SDPWS 2015 section 4.3.4."""
    ratio = np.asarray(height, float) / np.asarray(length, float)
    return np.asarray(np.where(ratio > 3.5 + 1e-9, np.nan, np.minimum(2 / ratio, 1.0)))
