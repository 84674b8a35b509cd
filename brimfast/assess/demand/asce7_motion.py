"""ASCE 7, chapter 11: how strong is the design earthquake here?"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

import numpy as np
from numpy.typing import ArrayLike, NDArray
from pydantic import Field, model_validator

from brimfast.assess import combinations
from brimfast.assess.demand.inputs import Acceleration, read_inputs
from brimfast.assess.demand.motion import Corner, GroundMotion
from brimfast.assess.demand.vertical import Vertical
from brimfast.data_tables.loader import (
    NotInTableError,
    factor_si,
    factor_used,
    long_period_coefficient,
    residential_category,
    site_coefficient,
)
from brimfast.shared.errors import InputError, Problem
from brimfast.shared.findings import Caution, Step, Value, step
from brimfast.shared.installation.fields import Part, Quantity, Words, refuse
from brimfast.shared.installation.site import Site
from brimfast.shared.uncertain import Uncertain, as_written

Array = NDArray[np.float64]
SITE_CLASSES = ("A", "B", "B estimated", "C", "D", "D default", "E")
RESIDENTIAL_CATEGORIES = ("A", "B", "C", "D0", "D1", "D2", "E")
SITE_SPECIFIC_FROM = 0.2  # g, S_1 on site class D
NEEDS = "S_DS; or S_S with site_class; or residential_category"
EXAMPLE = "S_DS: 1.0"
OFFICIAL = "the building department, or the design-value service of the national geological survey, for the address"
ASSUMPTIONS = (
    "Whether the installation weighs so much beside its building (a quarter; in ASCE 7-22 a fifth) that chapter 15 "
    "would take it as a structure of its own is not asked.",
    "The category for the code's position on attachments is by S_DS alone (not S_D1).",
)
VERTICAL = "ASCE 7-16 section 13.3.1.2"
NOT_KNOWN = "D default"  # section 11.4.3: class D where the ground is not known


SiteClass = Annotated[str, Words(SITE_CLASSES)]
Category = Annotated[str, Words(RESIDENTIAL_CATEGORIES)]


class Inputs(Part):
    """The design earthquake by ASCE 7: exactly one way of giving it."""

    S_DS: Annotated[Acceleration | None, Field(description="design spectral acceleration at short periods, g")] = None
    S_S: Annotated[Acceleration | None, Field(description="mapped acceleration at short periods, g")] = None
    S_1: Annotated[Acceleration | None, Field(description="mapped acceleration at 1 s, g")] = None
    site_class: Annotated[SiteClass | None, Field(description="of the ground")] = None
    residential_category: Annotated[Category | None, Field(description="design category of the residential code")] = (
        None
    )
    importance: Annotated[float, Quantity("number", "1", "1.5"), Field(description="1.0 or 1.5")] = 1.0

    @model_validator(mode="after")
    def _one_ground_motion(self) -> Inputs:
        ways = [
            way
            for way, given in (
                ("S_DS", self.S_DS is not None),
                ("S_S with site_class", self.S_S is not None or self.site_class is not None),
                ("residential_category", self.residential_category is not None),
            )
            if given
        ]
        if len(ways) != 1:
            found = " and ".join(ways) if ways else "none"
            raise refuse(
                "E-KEY-003",
                f"found {found}; expected exactly one of: S_DS, S_S with site_class, residential_category",
            )
        if ways == ["S_S with site_class"] and (self.S_S is None or self.site_class is None):
            there, missing = ("S_S", "site_class") if self.S_S is not None else ("site_class", "S_S")
            raise refuse("E-KEY-003", f"found {there} without {missing}; expected both, or S_DS alone")
        if isinstance(self.importance, Uncertain) or self.importance not in (1.0, 1.5):
            raise refuse("E-RANGE-001", f"found importance {as_written(self.importance)}; expected 1.0 or 1.5")
        return self


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


def one_second_acceleration(S_1: ArrayLike, F_v: ArrayLike, increase: ArrayLike = 1.0) -> Array:
    """Design spectral acceleration at 1 s (g): S_D1 = 2/3 F_v S_1, times 1.5 where section 11.4.8 asks for it.

    S_1 mapped acceleration (g), F_v site coefficient. Source: ASCE 7-16 (11.4-2), (11.4-4), section 11.4.8.
    """
    return np.asarray(2.0 / 3.0 * np.asarray(increase, float) * np.asarray(F_v, float) * np.asarray(S_1, float))


@dataclass(frozen=True)
class _Plateau:
    """S_DS, and how it comes about."""

    S_DS: float
    category: str
    how: str
    steps: tuple[Step, ...]
    values: tuple[Value, ...]
    cautions: tuple[Caution, ...]


def ground_motion(site: Site) -> GroundMotion:
    """The design spectrum by the way that the file gives it. Raises InputError where the way ends."""
    given = read_inputs(Inputs, site)
    found = _plateau(given, site.standard)
    S_DS = found.S_DS
    return GroundMotion(
        plateau=S_DS,
        symbol="S_DS",
        how=found.how,
        peak=0.4 * S_DS,
        peak_words="0.4 S_DS",
        vertical=Vertical(
            factor_si("vertical_share"), "S_DS", S_DS, combinations.SOURCE, VERTICAL, (factor_used("vertical_share"),)
        ),
        corner=corner_period(given, site.standard, S_DS),
        spectrum="ASCE 7-16 section 11.4.6",
        equations="ASCE 7-16 (11.4-6), (11.4-7)",
        steps=found.steps,
        values=found.values,
        cautions=found.cautions,
        importance=given.importance,
        convective_R=factor_si("convective_R"),
        convective_values=(factor_used("convective_R"),),
        sloshing_values=(factor_used("sloshing_amplification"),),
        sloshing="ASCE 7-16 (15.7-10), with the cap of ACI 350.3-20 section 9.4.2",
        tail="T_L",
        category=found.category,
        S_1=given.S_1,
    )


def _plateau(given: Inputs, standard: str) -> _Plateau:
    """S_DS. Raises InputError where the way of the file ends (category E, site class E)."""
    if given.S_DS is not None:
        value = Value("S_DS", f"{given.S_DS:g}", "the installation file", "given in the file")
        category = seismic_design_category(given.S_DS, given.S_1)
        return _Plateau(given.S_DS, category, "given in the file", (), (value,), ())
    if given.residential_category is not None:
        try:
            row = residential_category(given.residential_category)
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
        return _Plateau(row.S_DS_top, row.category[0], how, (), (value,), (caution,))
    assert given.S_S is not None and given.site_class is not None
    try:
        F_a, used = site_coefficient(given.site_class, given.S_S)
    except NotInTableError as error:
        raise InputError([Problem("E-DATA-001", str(error), ("site", "site_class"))]) from None
    S_DS = float(design_acceleration(given.S_S, F_a))
    cautions = []
    if standard == "asce7-22":
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
            {"F_a": F_a, "S_S": (given.S_S, "g")},
            (S_DS, "g"),
            "ASCE 7-16 (11.4-1), (11.4-3)",
        ),
    )
    values = (used.used(f"site coefficient F_a, site class {given.site_class}", f"{F_a:.3f}"),)
    how = f"S_S = {given.S_S:g} on site class {given.site_class}"
    category = seismic_design_category(S_DS, given.S_1)
    return _Plateau(S_DS, category, how, steps, values, tuple(cautions))


def corner_period(given: Inputs, standard: str, S_DS: float) -> Corner:
    """T_S = S_D1/S_DS from S_1 and the site class; without S_1 as long as anywhere on default soil: the safe side."""
    if given.S_1 is None:
        T_S = factor_si("corner_period_unknown")
        line = step("T_S", f"{T_S:g}", {}, (T_S, "s"), "", "S_1 is not given: the safe side", any_units=False)
        return Corner(T_S, (line,), (factor_used("corner_period_unknown"),))
    site_class = given.site_class or NOT_KNOWN
    try:
        F_v, row = long_period_coefficient(site_class, given.S_1)
    except NotInTableError as error:
        return Corner(float("nan"), (), (), str(error))
    said = f"site class {site_class}" if given.site_class else "site class not given, taken as D"
    values = [row.used(f"site coefficient F_v, {said}", f"{F_v:.3f}")]
    increase, note = 1.0, ""
    if site_class in ("D", "D default") and given.S_1 >= SITE_SPECIFIC_FROM:
        increase, note = factor_si("long_period_increase"), "k: in place of a site-specific study, section 11.4.8"
        values.append(factor_used("long_period_increase"))
    if standard == "asce7-22":
        note = "; ".join(part for part in (note, "7-22 has no F_v: estimate by 7-16") if part)
    S_D1 = float(one_second_acceleration(given.S_1, F_v, increase))
    T_S = S_D1 / S_DS
    lines = (
        step(
            "S_D1",
            "2/3*k*F_v*S_1",
            {"k": increase, "F_v": F_v, "S_1": (given.S_1, "g")},
            (S_D1, "g"),
            "ASCE 7-16 (11.4-2), (11.4-4)",
            note,
        ),
        step(
            "T_S",
            "S_D1/S_DS",
            {"S_D1": (S_D1, "g"), "S_DS": (S_DS, "g")},
            (T_S, "s"),
            "ASCE 7-16 section 11.4.6",
        ),
    )
    return Corner(T_S, lines, tuple(values))
