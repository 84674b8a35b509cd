"""How strong is the design earthquake here?"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.data_tables.loader import NotInTableError, residential_category, site_coefficient
from brimfast.shared.errors import InputError, Problem
from brimfast.shared.findings import Caution, Step, Value, step
from brimfast.shared.installation.site import Site

Array = NDArray[np.float64]


def design_acceleration(S_S: ArrayLike, F_a: ArrayLike) -> Array:
    """Design spectral acceleration at short periods (g): S_DS = 2/3 F_a S_S.

    S_S: mapped acceleration (g). F_a: site coefficient. Source: ASCE 7-16 (11.4-1) and (11.4-3).
    """
    return np.asarray(2.0 / 3.0 * np.asarray(F_a, float) * np.asarray(S_S, float))


def seismic_design_category(S_DS: float, S_1: float | None = None) -> str:
    """Category for risk category I to III by S_DS, and E where S_1 is given and 0.75 g or more.

    S_D1 is not asked for, so Table 11.6-2 could ask for more. Source: ASCE 7-16 Table 11.6-1, section 11.6.
    """
    if S_1 is not None and S_1 >= 0.75:
        return "E"
    return "A" if S_DS < 0.167 else "B" if S_DS < 0.33 else "C" if S_DS < 0.50 else "D"


@dataclass(frozen=True)
class GroundMotion:
    S_DS: float
    S_1: float | None
    category: str
    how: str
    steps: tuple[Step, ...]
    values: tuple[Value, ...]
    cautions: tuple[Caution, ...]


def ground_motion(site: Site) -> GroundMotion:
    """S_DS by the way that the file gives it. Raises InputError where the way ends (category E, site class E)."""
    if site.S_DS is not None:
        value = Value("S_DS", f"{site.S_DS:g}", "the installation file", "given in the file")
        category = seismic_design_category(site.S_DS, site.S_1)
        return GroundMotion(site.S_DS, site.S_1, category, "given in the file", (), (value,), ())
    if site.residential_category is not None:
        try:
            row = residential_category(site.residential_category)
        except NotInTableError:
            message = (
                "category E has no top of its range; give S_DS instead (a design professional or the national "
                "geological survey's design-value service has it for the address)"
            )
            raise InputError([Problem("E-DATA-001", message, ("site", "residential_category"))]) from None
        how = f"top of the range of residential category {row.category}"
        value = row.used(f"S_DS, {how}", f"{row.S_DS_top:g}")
        caution = Caution(
            "Ground motion from the category",
            f"S_DS is taken as {row.S_DS_top:g}, the {how}: the safe side. The value for the address is often lower.",
        )
        return GroundMotion(row.S_DS_top, site.S_1, row.category[0], how, (), (value,), (caution,))
    assert site.S_S is not None and site.site_class is not None
    try:
        F_a, used = site_coefficient(site.site_class, site.S_S)
    except NotInTableError as error:
        raise InputError([Problem("E-DATA-001", str(error), ("site", "site_class"))]) from None
    S_DS = float(design_acceleration(site.S_S, F_a))
    cautions = []
    if site.standard == "asce7-22":
        cautions.append(
            Caution(
                "Ground motion by the older site coefficient",
                "ASCE 7-22 has no site coefficient F_a: it takes S_MS for the site class straight from the national "
                "data base. S_DS here is an estimate by the coefficient of ASCE 7-16; replace it by the official S_DS.",
            )
        )
    steps = (
        step(
            "S_DS",
            "2/3*F_a*S_S",
            {"F_a": F_a, "S_S": (site.S_S, "g")},
            (S_DS, "g"),
            "ASCE 7-16 (11.4-1), (11.4-3)",
        ),
    )
    values = (used.used(f"site coefficient F_a, site class {site.site_class}", f"{F_a:.3f}"),)
    how = f"S_S = {site.S_S:g} on site class {site.site_class}"
    category = seismic_design_category(S_DS, site.S_1)
    return GroundMotion(S_DS, site.S_1, category, how, steps, values, tuple(cautions))
