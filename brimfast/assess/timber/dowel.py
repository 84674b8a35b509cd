"""How much does one dowel-type fastener carry sideways? The yield-limit equations."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.shared.constants import INCH

Array = NDArray[np.float64]
MODES = ("I_m", "I_s", "II", "III_m", "III_s", "IV")
SOURCE = "NDS 2018 Table 12.3.1A, equations (12.3-1) to (12.3-10)"


class ReductionTerms(NamedTuple):
    """R_d for modes I, for mode II, for modes III and IV."""

    I: Array  # noqa: E741
    II: Array
    III_IV: Array


class YieldModes(NamedTuple):
    """Reference lateral value by mode (N for one fastener); NaN for a mode that does not exist."""

    I_m: Array
    I_s: Array
    II: Array
    III_m: Array
    III_s: Array
    IV: Array

    def least(self) -> Array:
        """Z: the least over the modes that exist; NaN where an input was NaN."""
        stacked = np.stack(np.broadcast_arrays(self.I_m, self.I_s, self.III_s, self.IV))
        single = np.stack(np.broadcast_arrays(self.II, self.III_m))
        shape = np.broadcast_shapes(stacked.shape[1:], single.shape[1:])
        stacked = np.broadcast_to(stacked, (4, *shape))
        single = np.broadcast_to(single, (2, *shape))
        return np.asarray(np.minimum(stacked.min(axis=0), np.where(np.isnan(single), np.inf, single).min(axis=0)))

    def governing(self) -> str:
        """The name of the least mode (for scalars)."""
        values = [float(value) for value in self]
        return MODES[int(np.nanargmin(values))]


def reduction_terms(D: ArrayLike, D_r: ArrayLike, theta: ArrayLike) -> ReductionTerms:
    """R_d by nominal diameter D, diameter used in the equations D_r (m), largest angle to grain θ (rad).

    D < 1/4 in: K_D, that is 2.2 up to 0.17 in and 10 D_r + 0.5 above. D ≥ 1/4 in: 4, 3.6 and 3.2 times
    K_θ = 1 + 0.25 (θ/90°); where D ≥ 1/4 in but D_r < 1/4 in: K_D K_θ. Source: NDS 2018 Table 12.3.1B.
    """
    nominal, used = np.asarray(D, float) / INCH, np.asarray(D_r, float) / INCH
    K_theta = 1 + 0.25 * np.asarray(theta, float) / (np.pi / 2)
    K_D = np.where(used <= 0.17 + 1e-12, 2.2, 10 * used + 0.5)
    small_nominal = nominal < 0.25 - 1e-9
    small_root = used < 0.25 - 1e-9
    small = np.where(small_nominal, K_D, K_D * K_theta)

    def term(large: float) -> Array:
        return np.asarray(np.where(small_nominal | small_root, small, large * K_theta))

    return ReductionTerms(term(4.0), term(3.6), term(3.2))


def k_1(R_e: ArrayLike, R_t: ArrayLike) -> Array:
    """Coefficient of mode II. NDS 2018 Table 12.3.1A notes."""
    R_e, R_t = np.asarray(R_e, float), np.asarray(R_t, float)
    root = np.sqrt(R_e + 2 * R_e**2 * (1 + R_t + R_t**2) + R_t**2 * R_e**3)
    return np.asarray((root - R_e * (1 + R_t)) / (1 + R_e))


def k_2(R_e: ArrayLike, F_yb: ArrayLike, D: ArrayLike, F_em: ArrayLike, l_m: ArrayLike) -> Array:
    """Coefficient of mode III_m. NDS 2018 Table 12.3.1A notes."""
    R_e = np.asarray(R_e, float)
    bending = (
        np.asarray(F_yb, float) * np.asarray(D, float) ** 2 / (np.asarray(F_em, float) * np.asarray(l_m, float) ** 2)
    )
    return np.asarray(-1 + np.sqrt(2 * (1 + R_e) + 2 / 3 * (1 + 2 * R_e) * bending))


def k_3(R_e: ArrayLike, F_yb: ArrayLike, D: ArrayLike, F_em: ArrayLike, l_s: ArrayLike) -> Array:
    """Coefficient of mode III_s. NDS 2018 Table 12.3.1A notes."""
    R_e = np.asarray(R_e, float)
    bending = (
        np.asarray(F_yb, float) * np.asarray(D, float) ** 2 / (np.asarray(F_em, float) * np.asarray(l_s, float) ** 2)
    )
    return np.asarray(-1 + np.sqrt(2 * (1 + R_e) / R_e + 2 / 3 * (2 + R_e) * bending))


def single_shear(
    D: ArrayLike,
    l_m: ArrayLike,
    l_s: ArrayLike,
    F_em: ArrayLike,
    F_es: ArrayLike,
    F_yb: ArrayLike,
    R_d: ReductionTerms,
) -> YieldModes:
    """The six modes of a fastener across one shear plane (N).

    D diameter in the equations (root where threads are in the shear plane), l_m and l_s bearing lengths in
    main and side member (m), F_em and F_es dowel bearing strengths, F_yb bending yield strength (Pa).
    Valid for D from about 0.1 to 1 in, faces in contact, penetration as the standard asks.
    Source: NDS 2018 (12.3-1) to (12.3-6), Table 12.3.1A.
    """
    D, l_m, l_s = (np.asarray(item, float) for item in (D, l_m, l_s))
    F_em, F_es, F_yb = (np.asarray(item, float) for item in (F_em, F_es, F_yb))
    R_e, R_t = F_em / F_es, l_m / l_s
    return YieldModes(
        I_m=np.asarray(D * l_m * F_em / R_d.I),
        I_s=np.asarray(D * l_s * F_es / R_d.I),
        II=np.asarray(k_1(R_e, R_t) * D * l_s * F_es / R_d.II),
        III_m=np.asarray(k_2(R_e, F_yb, D, F_em, l_m) * D * l_m * F_em / ((1 + 2 * R_e) * R_d.III_IV)),
        III_s=np.asarray(k_3(R_e, F_yb, D, F_em, l_s) * D * l_s * F_em / ((2 + R_e) * R_d.III_IV)),
        IV=np.asarray(D**2 / R_d.III_IV * np.sqrt(2 * F_em * F_yb / (3 * (1 + R_e)))),
    )


def double_shear(
    D: ArrayLike,
    l_m: ArrayLike,
    l_s: ArrayLike,
    F_em: ArrayLike,
    F_es: ArrayLike,
    F_yb: ArrayLike,
    R_d: ReductionTerms,
) -> YieldModes:
    """The four modes of a fastener through two equal side members (N); modes II and III_m do not exist.

    Arguments as single_shear; l_s is the thinner side member. Source: NDS 2018 (12.3-7) to (12.3-10).
    """
    single = single_shear(D, l_m, l_s, F_em, F_es, F_yb, R_d)
    none = np.full_like(single.II, np.nan)
    return YieldModes(single.I_m, 2 * single.I_s, none, none, 2 * single.III_s, 2 * single.IV)
