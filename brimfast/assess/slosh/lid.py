"""Does a lid stay on when the wave beats against it, and what comes through its openings?"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.assess.required import UNCONFIRMED, required_value
from brimfast.assess.slosh.case import Slosh
from brimfast.assess.slosh.water import WAYS
from brimfast.data_tables.loader import factor_si, factor_used
from brimfast.shared.constants import GRAVITY, WATER_DENSITY
from brimfast.shared.findings import Finding, Step, Value, finding, not_assessed, step

Array = NDArray[np.float64]
TOPIC = "slosh"
HEAD = "ASCE 7-16 section 15.7.6.1.2"
METHOD = Value(
    "load of a wave on a lid",
    "a head as high as the wave would rise above it",
    f"{HEAD}; Malhotra, Earthquake Spectra 21(4), 2005",
    "from memory",
    HEAD,
)
REQUIRED = "what one fastening of a lid must carry"


def uplift(A: ArrayLike, d: ArrayLike, f: ArrayLike) -> Array:
    """Push of the wave on a lid from below (N): F = ρ g max(d − f, 0) A/2.

    A plan area (m²), d rise of the wave at the wall were there no lid, f from the water at rest to the lid (m). The head over
    the whole half that the crest is in: the safe side, as it is less away from the wall. Source: ASCE 7-16 15.7.6.1.2.
    """
    head = np.maximum(np.asarray(d, float) - np.asarray(f, float), 0.0)
    return np.asarray(WATER_DENSITY * GRAVITY * head * np.asarray(A, float) / 2)


def through(a: ArrayLike, d: ArrayLike, f: ArrayLike, t: ArrayLike) -> Array:
    """Water through openings (m³): V = C a √(2 g max(d − f, 0)) t/2.

    a their area (m²), d and f as above (m), t strong shaking (s), half of it with the full crest under them: in the other
    half the trough is there. C of an opening with sharp edges.
    """
    head = np.maximum(np.asarray(d, float) - np.asarray(f, float), 0.0)
    speed = np.sqrt(2 * GRAVITY * head)
    return np.asarray(factor_si("grate_orifice_coefficient") * np.asarray(a, float) * speed * np.asarray(t, float) / 2)


@dataclass(frozen=True)
class Lidded:
    """The wave under a lid (m), its push on one fastening (N), what that may carry, and how that comes about."""

    rises: float
    each: float
    allowable: float | None
    steps: tuple[Step, ...]

    @property
    def stays(self) -> bool:
        return self.allowable is not None and self.each <= self.allowable


def under_lid(wave: Slosh) -> Lidded:
    """Where a wave is steeper than its theory covers it counts as high as the water is deep."""
    lid, water = wave.lid, wave.water
    assert lid is not None
    d, f, n = (water.depth if wave.index else wave.wave), water.freeboard, lid.fastenings // 2
    note = "steeper than the theory covers: taken as high as the water is deep" if wave.index else ""
    first = step("d_l", "h" if wave.index else "d", {"h" if wave.index else "d": (d, "m")}, (d, "m"), "", note)
    F = float(uplift(water.area, d, f))
    each = F / n
    weight = (WATER_DENSITY * GRAVITY, "N/m³")
    sizes: dict[str, float | tuple[float, str]] = {
        "rho_g": weight,
        "d_l": (d, "m"),
        "f": (f, "m"),
        "A": (water.area, "m²"),
    }
    lines = (
        first,
        step("F", "rho_g*max(d_l - f, 0)*A/2", sizes, (F, "N"), HEAD, "over the half that the crest is in"),
        step(
            "P_1", "F/n", {"F": (F, "N"), "n": float(n)}, (each, "N"), "", "n: the fastenings of one half carry it all"
        ),
    )
    return Lidded(d, each, lid.allowable, lines)


def comes_through(wave: Slosh, most: float) -> tuple[float, tuple[Step, ...]]:
    """Out of the openings of a lid that stays on (m³); most: what a wave over the rim would throw without it, if it did."""
    lid, water = wave.lid, wave.water
    assert lid is not None
    d, f, a, t = under_lid(wave).rises, water.freeboard, lid.open_area, factor_si("shaking_duration")
    V = float(through(a, d, f, t))
    if V <= 0:
        return 0.0, ()
    C = factor_si("grate_orifice_coefficient")
    sizes: dict[str, float | tuple[float, str]] = {
        "C": C,
        "a": (a, "m²"),
        "g": (GRAVITY, "m/s²"),
        "d_l": (d, "m"),
        "f": (f, "m"),
        "t": (t, "s"),
    }
    note = "out of the lid's openings, the crest under them half of the time"
    line = step("V_over", "C*a*sqrt(2*g*(d_l - f))*t/2", sizes, (V, "m³"), "orifice", note)
    if not 0 < most < V:
        return V, (line,)
    inputs: dict[str, float | tuple[float, str]] = {"V_over": (V, "m³"), "V_open": (most, "m³")}
    return most, (line, step("V_over", "min(V_over, V_open)", inputs, (most, "m³"), "", "no more than without the lid"))


def lid_finding(
    wave: Slosh, before: tuple[Step, ...], thrown: tuple[Step, ...], basis: str, details: dict[str, str]
) -> Finding:
    """The force on one fastening of the half that the crest is in, against what it may carry.

    before, thrown: the lines of the wave, and of what comes out.
    """
    lid, found = wave.lid, under_lid(wave)
    assert lid is not None
    id, question = f"slosh/{wave.vessel}/{wave.way}", f"Does its lid stay on, shaken {WAYS[wave.way]}?"
    steps, values = (*before, *found.steps, *thrown), (*wave.values, METHOD, factor_used("shaking_duration"))
    if found.allowable is None:
        return not_assessed(
            id,
            TOPIC,
            wave.vessel,
            question,
            "force",
            "what one fastening of its lid may carry is not in the file",
            basis,
            demand=found.each,
            advice_key="slosh",
            steps=steps,
            values=values,
            details=details,
        )
    asked = required_value(f"{REQUIRED} ({wave.vessel})", found.allowable, lid.source or "", "the maker's table")
    unconfirmed = {"allowable value": f"required, {UNCONFIRMED}"} if asked else {}
    reason = "" if found.stays else "the wave lifts it, and splashes as if there were none"
    return finding(
        id,
        TOPIC,
        wave.vessel,
        question,
        found.each,
        found.allowable,
        "force",
        basis,
        reason=reason,
        advice_key="slosh",
        steps=steps,
        values=(*values, *asked),
        details={
            **details,
            **unconfirmed,
            "not assessed": "whether the lid itself bends or breaks, and the rim that it is fastened to",
        },
    )
