"""How much does a dowel carry across a gap, such as a lag screw through gypsum board into a stud?"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.assess.timber.dowel import ReductionTerms, YieldModes

Array = NDArray[np.float64]


def _root(A: Array, B: Array, C: Array) -> Array:
    return np.asarray((-B + np.sqrt(B**2 - 4 * A * C)) / (2 * A))


def single_shear_with_gap(
    D: ArrayLike,
    l_m: ArrayLike,
    l_s: ArrayLike,
    F_em: ArrayLike,
    F_es: ArrayLike,
    F_yb: ArrayLike,
    gap: ArrayLike,
    R_d: ReductionTerms,
) -> YieldModes:
    """The six modes of a fastener across one shear plane with a gap between the members (N).

    With q = F_e D and M = F_yb D³/6 (plastic moment), P solves A P² + B P + C = 0:
      II     A = 1/(4 q_s) + 1/(4 q_m)   B = l_s/2 + g + l_m/2   C = −q_s l_s²/4 − q_m l_m²/4
      III_m  A = 1/(2 q_s) + 1/(4 q_m)   B = g + l_m/2           C = −M − q_m l_m²/4
      III_s  A = 1/(4 q_s) + 1/(2 q_m)   B = l_s/2 + g           C = −q_s l_s²/4 − M
      IV     A = 1/(2 q_s) + 1/(2 q_m)   B = g                   C = −2 M
    I_m = q_m l_m, I_s = q_s l_s; each over its R_d. Arguments as dowel.single_shear, g gap (m). With g = 0
    they are the equations of NDS Table 12.3.1A. Source: AWC Technical Report 12, Table 1-1 (from memory).
    """
    D, l_m, l_s, g = (np.asarray(item, float) for item in (D, l_m, l_s, gap))
    q_m, q_s = np.asarray(F_em, float) * D, np.asarray(F_es, float) * D
    M = np.asarray(F_yb, float) * D**3 / 6
    in_s, in_m = q_s * l_s**2 / 4, q_m * l_m**2 / 4
    return YieldModes(
        I_m=np.asarray(q_m * l_m / R_d.I),
        I_s=np.asarray(q_s * l_s / R_d.I),
        II=_root(1 / (4 * q_s) + 1 / (4 * q_m), l_s / 2 + g + l_m / 2, -in_s - in_m) / R_d.II,
        III_m=_root(1 / (2 * q_s) + 1 / (4 * q_m), g + l_m / 2, -M - in_m) / R_d.III_IV,
        III_s=_root(1 / (4 * q_s) + 1 / (2 * q_m), l_s / 2 + g, -in_s - M) / R_d.III_IV,
        IV=_root(1 / (2 * q_s) + 1 / (2 * q_m), g, -2 * M) / R_d.III_IV,
    )
