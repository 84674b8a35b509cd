"""What may a timber member be stressed to: reference values and their adjustment."""

from __future__ import annotations

from dataclasses import dataclass

from brimfast.assess.timber.service import Service
from brimfast.data_tables.loader import factor_si, factor_used, size_factor
from brimfast.data_tables.rows import LumberValues, StrengthClass
from brimfast.shared.constants import INCH, PSI
from brimfast.shared.findings import Step, Value, step


@dataclass(frozen=True)
class Strength:
    """Reference values (Pa) and size factors of one member; european marks EN 338 characteristic values."""

    F_b: float
    F_t: float
    F_v: float
    F_cperp: float
    F_c: float
    E: float
    E_min: float
    C_F_b: float
    C_F_t: float
    C_F_c: float
    size_class: str  # dimension, timbers, european


def strength_of_lumber(row: LumberValues, thickness: float, width: float) -> Strength:
    """NDS Supplement reference values; C_F by Table 4A, in the values already for southern pine (Table 4B)."""
    C_F_b = C_F_t = C_F_c = 1.0
    if row.size_class == "dimension" and row.species != "southern pine":
        factors = size_factor(row.grade, width / INCH)
        C_F_b = factors.C_F_b_4_thick if thickness > 3 * INCH else factors.C_F_b
        C_F_t, C_F_c = factors.C_F_t, factors.C_F_c
    return Strength(
        row.F_b * PSI,
        row.F_t * PSI,
        row.F_v * PSI,
        row.F_cperp * PSI,
        row.F_c * PSI,
        row.E * PSI,
        row.E_min * PSI,
        C_F_b,
        C_F_t,
        C_F_c,
        row.size_class,
    )


def strength_of_class(row: StrengthClass) -> Strength:
    """EN 338 characteristic values; E_min is E_05 over 1.66, the margin that the NDS keeps for buckling."""
    mega = 1e6
    return Strength(
        row.f_m_k * mega,
        row.f_t_k * mega,
        row.f_v_k * mega,
        row.f_cperp_k * mega,
        row.f_c_k * mega,
        row.E_mean * mega,
        row.E_05 * mega / 1.66,
        1.0,
        1.0,
        1.0,
        "european",
    )


@dataclass(frozen=True)
class Adjusted:
    """Adjusted design values (Pa); F_c_star is without the column stability factor."""

    F_b: float
    F_t: float
    F_v: float
    F_cperp: float
    F_c_star: float
    E: float
    E_min: float
    factors: dict[str, float]
    values: tuple[Value, ...]

    def step_of(self, symbol: str, reference: float, result: float, names: tuple[str, ...]) -> Step:
        """The adjustment of one value as a line of calculation, in psi."""
        inputs: dict[str, float | tuple[float, str]] = {"F": (reference / PSI, "psi")}
        inputs |= {name: self.factors[name] for name in names}
        expression = "*".join(("F", *names))
        source = "NDS 2018 Table 4.3.1" if "k_mod" not in names else "EN 1995-1-1 (2.14), at allowable level by gamma_G"
        if "k_mod" in names:
            more = "".join(f"*{name}" for name in names if name in ("C_i", "k_cr"))
            expression = f"F*k_mod/(gamma_M*gamma_G){more}"
        return step(symbol, expression, inputs, (result / PSI, "psi"), source, any_units=False)


def adjusted(strength: Strength, duration: str, service: Service, incised: bool, repetitive: bool = False) -> Adjusted:
    """Reference values times C_D, C_M, C_t, C_F, C_i, C_r (NDS), or f_k k_mod/(γ_M γ_G) (EN 1995-1-1).

    duration: permanent or earthquake. C_M of F_b and F_c is 1 where
    F_b C_F ≤ 1150 psi and F_c C_F ≤ 750 psi. The European values are set against allowable-level loads by
    dividing by γ_G as well: the safe side. Source: NDS 2018 section 4.3; EN 1995-1-1 section 2.4.
    """
    if strength.size_class == "european":
        return _european(strength, duration, service.wet, incised)
    C_D = factor_si(f"C_D_{duration}")
    C_i, C_i_E = (factor_si("C_i_strength"), factor_si("C_i_E")) if incised else (1.0, 1.0)
    C_r = factor_si("C_r") if repetitive else 1.0
    M = dict.fromkeys(("C_M_b", "C_M_t", "C_M_v", "C_M_c", "C_M_cp", "C_M_E"), 1.0)
    C_t, C_t_E, warm = service.temperature(joint=False)
    used = [factor_used(f"C_D_{duration}"), *warm]
    if service.wet:
        M["C_M_cp"] = factor_si("C_M_cperp")
        used.append(factor_used("C_M_cperp"))
        if strength.size_class == "timbers":
            M["C_M_c"] = factor_si("C_M_c_timbers")
            used.append(factor_used("C_M_c_timbers"))
        else:
            if strength.F_b * strength.C_F_b > 1150 * PSI:
                M["C_M_b"] = factor_si("C_M_b")
            if strength.F_c * strength.C_F_c > 750 * PSI:
                M["C_M_c"] = factor_si("C_M_c")
            M["C_M_t"], M["C_M_v"], M["C_M_E"] = factor_si("C_M_t"), factor_si("C_M_v"), factor_si("C_M_E")
            used += [factor_used(key) for key in ("C_M_b", "C_M_t", "C_M_v", "C_M_c", "C_M_E") if M[key] != 1.0]
    if incised:
        used += [factor_used("C_i_strength"), factor_used("C_i_E")]
    if repetitive:
        used.append(factor_used("C_r"))
    factors = {
        "C_D": C_D,
        "C_i": C_i,
        "C_t": C_t,
        "C_t_t": C_t_E,
        "C_r": C_r,
        "C_F_b": strength.C_F_b,
        "C_F_t": strength.C_F_t,
        "C_F_c": strength.C_F_c,
        **M,
    }
    return Adjusted(
        strength.F_b * C_D * M["C_M_b"] * C_t * strength.C_F_b * C_i * C_r,
        strength.F_t * C_D * M["C_M_t"] * C_t_E * strength.C_F_t * C_i,
        strength.F_v * C_D * M["C_M_v"] * C_t * C_i,
        strength.F_cperp * M["C_M_cp"] * C_t,
        strength.F_c * C_D * M["C_M_c"] * C_t * strength.C_F_c * C_i,
        strength.E * M["C_M_E"] * C_t_E * C_i_E,
        strength.E_min * M["C_M_E"] * C_t_E * C_i_E,
        factors,
        tuple(used),
    )


def _european(strength: Strength, duration: str, wet: bool, incised: bool) -> Adjusted:
    key = f"k_mod_{'permanent' if duration == 'permanent' else 'instant'}_{'wet' if wet else 'dry'}"
    k_mod, gamma_M, gamma_G = factor_si(key), factor_si("gamma_M_timber"), factor_si("gamma_G")
    C_i, C_i_E = (factor_si("C_i_strength"), factor_si("C_i_E")) if incised else (1.0, 1.0)
    k_cr = factor_si("k_cr")
    share = k_mod / (gamma_M * gamma_G)
    used = [factor_used(key), factor_used("gamma_M_timber"), factor_used("gamma_G"), factor_used("k_cr")]
    if incised:
        used += [factor_used("C_i_strength"), factor_used("C_i_E")]
    return Adjusted(
        strength.F_b * share * C_i,
        strength.F_t * share * C_i,
        strength.F_v * share * k_cr * C_i,
        strength.F_cperp * share,
        strength.F_c * share * C_i,
        strength.E * C_i_E,
        strength.E_min * C_i_E,
        {"k_mod": k_mod, "gamma_M": gamma_M, "gamma_G": gamma_G, "C_i": C_i, "k_cr": k_cr},
        tuple(used),
    )


STEP_FACTORS = {
    "F_b": ("C_D", "C_M_b", "C_t", "C_F_b", "C_i", "C_r"),
    "F_t": ("C_D", "C_M_t", "C_t_t", "C_F_t", "C_i"),
    "F_v": ("C_D", "C_M_v", "C_t", "C_i"),
    "F_cperp": ("C_M_cp", "C_t"),
    "F_c": ("C_D", "C_M_c", "C_t", "C_F_c", "C_i"),
}


def adjusted_step(which: str, strength: Strength, values: Adjusted) -> Step:
    """The line of calculation for one adjusted value: F_b, F_t, F_v, F_cperp or F_c (without C_P)."""
    reference = float(getattr(strength, which))
    result = values.F_c_star if which == "F_c" else float(getattr(values, which))
    names = STEP_FACTORS[which]
    if "k_mod" in values.factors:
        more = {"F_v": ("C_i", "k_cr"), "F_cperp": ()}.get(which, ("C_i",))
        names = ("k_mod", "gamma_M", "gamma_G", *more)
    symbol = "F_cstar" if which == "F_c" else f"{which}_adj"
    return values.step_of(symbol, reference, result, names)
