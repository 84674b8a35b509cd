"""Where do the fasteners of a joint stand, and are they far enough from edges, ends and each other?"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product

import numpy as np
from numpy.typing import NDArray

from brimfast.assess.parts import Member, RackParts
from brimfast.assess.timber import geometry
from brimfast.assess.timber.geometry import Distances, geometry_factor
from brimfast.assess.timber.group import grid, group_action
from brimfast.data_tables.loader import factor_si, table
from brimfast.data_tables.rows import LumberValues
from brimfast.shared.constants import INCH, PSI
from brimfast.shared.findings import Finding, Step, Value, finding, step
from brimfast.shared.installation.joint import Fasteners
from brimfast.shared.installation.rack import Rack

Array = NDArray[np.float64]
MOST_SPREAD = 5 * INCH  # across the grain, so that shrinkage does not split the wood (NDS 2018 section 12.5.1.3)
QUARTER = 0.25 * INCH * (1 - 1e-9)


@dataclass(frozen=True)
class _Check:
    """One distance: what it is, how large it is, what it must be, and whether the file gives it."""

    what: str
    actual: float
    distances: Distances
    said: str


@dataclass(frozen=True)
class Layout:
    places: Array  # m, about the group's centroid; x along the beam, y upward
    diameter: float
    C_g: float
    C_Delta: float  # load across the beam's grain: the weight
    C_Delta_along: float  # load along the beam's grain, towards its end: the earthquake
    note: str
    checks: tuple[_Check, ...]

    @property
    def details(self) -> dict[str, str]:
        found = {}
        if self.C_g != 1.0:
            found["group action C_g"] = f"{self.C_g:.3f}"
        for name, factor in (("geometry C_Δ", self.C_Delta), ("geometry C_Δ along the grain", self.C_Delta_along)):
            if factor != 1.0:
                found[name] = "below the least distance" if np.isnan(factor) else f"{factor:.3f}"
        return found

    def findings(self, id: str, subject: str) -> list[Finding]:
        """The tightest distance against the least that the standard lets count."""
        if not self.checks or not self.diameter:
            return []
        D = self.diameter
        worst = max(self.checks, key=lambda check: check.distances.least * D / max(check.actual, 1e-9))
        needed = worst.distances.least * D
        shrinks = self._shrinkage(id, subject)
        small = D < QUARTER
        source = (
            "NDS Commentary Tables C12.1.5.7 and C12.1.6.6, recommended without predrilling"
            if small
            else "NDS 2018 section 12.5.1, Tables 12.5.1A to C"
        )
        value = Value(
            f"least distance, {worst.what}",
            f"{worst.distances.least:g} diameters",
            source,
            "from memory",
            "NDS section 12.5.1" if not small else "NDS Commentary C12.1",
        )
        line: Step = step(
            "a_least",
            "k*D",
            {"k": worst.distances.least, "D": (D / INCH, "in")},
            (needed / INCH, "in"),
            source,
            f"{worst.what}: {worst.actual / INCH:.2f} in there ({worst.said})",
            any_units=False,
        )
        return [
            finding(
                f"{id}/distances",
                "joints",
                subject,
                f"Are the fasteners far enough from edges and ends? ({worst.what})",
                needed,
                max(worst.actual, 0.0),
                "length",
                source,
                advice_key="distances",
                steps=(line,),
                values=(value,),
                details={"said": worst.said},
            ),
            *shrinks,
        ]

    def _shrinkage(self, id: str, subject: str) -> list[Finding]:
        """Fasteners far apart across the grain split the wood as it dries. NDS 2018 section 12.5.1.3."""
        spread = float(np.ptp(self.places[:, 1]))
        if spread <= MOST_SPREAD * 1.001 or self.diameter < QUARTER:
            return []
        value = Value(
            "most spread across the grain", "5 in", "NDS 2018 section 12.5.1.3", "from memory", "NDS section 12.5.1.3"
        )
        return [
            finding(
                f"{id}/shrinkage",
                "joints",
                subject,
                "Can the wood shrink between the outer fasteners?",
                spread,
                MOST_SPREAD,
                "length",
                "NDS 2018 section 12.5.1.3",
                advice_key="distances",
                values=(value,),
            )
        ]


def beam_to_post_layout(rack: Rack, parts: RackParts, fasteners: Fasteners, leans: bool) -> Layout:
    """Columns of fasteners in the beam's depth, in the middle of the post's width.

    Spread: given, or what fits in the beam 4 diameters from its edges, 5 in at most. Where beams meet at a
    post, each has half its width: the end distance is what a fastener 1.5 diameters from the post's edge
    leaves. Other end distances: given, or assumed at the minimum for full value. leans: the load on the post
    is also across its grain.
    """
    D = fasteners.diameter or (fasteners.nail[0] if fasteners.nail else 0.0)
    depth, width = parts.beam.width, parts.post.width
    rows = -(-fasteners.count // fasteners.columns)
    gauge = fasteners.gauge or 0.0
    if fasteners.spread is not None:
        spread, said = fasteners.spread, "spread given in the file"
    else:
        spread = min(max(depth - 8 * D, 0.0), MOST_SPREAD) if rows > 1 else 0.0
        said = f"spread assumed: {spread / INCH:.1f} in"
    places = grid(fasteners.count, fasteners.columns, spread, gauge)
    if not D or fasteners.kind == "framing tie" or fasteners.allowable is not None:
        return Layout(places, D, 1.0, 1.0, 1.0, said, ())
    small = D < QUARTER
    edge_beam = (depth - spread) / 2
    edge_post = (width - gauge * (fasteners.columns - 1)) / 2
    checks = [
        _Check("from the beam's edge", edge_beam, geometry.SMALL_EDGE if small else geometry.EDGE_LOADED, said),
    ]
    across_post = leans and not small
    post_edge = geometry.SMALL_EDGE if small else geometry.EDGE_LOADED if across_post else geometry.EDGE_ALONG
    checks.append(_Check("from the post's edge", edge_post, post_edge, "in the middle of the post's width"))
    factors, along = [1.0], [1.0]
    if fasteners.columns > 1:
        checks.append(_Check("between columns", gauge, _between_columns(D, parts, small), "gauge given in the file"))
    end = fasteners.end_distance
    end_said = "given in the file"
    if end is None and rack.ends_meet:
        end = width / 2 - 1.5 * D - gauge * (fasteners.columns - 1)
        end_said = "what half a post leaves where two beams meet on it"
    if end is not None:
        kind = geometry.SMALL_END if small else geometry.END_ACROSS
        checks.append(_Check("from the beam's end", end, kind, end_said))
        if not small:
            factors.append(float(geometry_factor(end, D, kind)))
            checks.append(_Check("from the beam's end, pulled along", end, geometry.END_TENSION, end_said))
            along.append(float(geometry_factor(end, D, geometry.END_TENSION)))
    between = spread / (rows - 1) if rows > 1 else 0.0
    if rows > 1 and not small:
        checks.append(_Check("between fasteners", between, geometry.SPACING_ROW, said))
        factors.append(float(geometry_factor(between, D, geometry.SPACING_ROW)))
    C_Delta, C_Delta_along = float(np.min(factors)), float(np.min([*factors, *along]))  # NaN stays NaN
    C_g = _group_action(D, rows, between, parts, max(3 * D, gauge), fasteners.plate)
    if C_g != 1.0 and (parts.post.strength is None or parts.beam.strength is None):
        said += "; E not in the tables: C_g for the worse of their softest and stiffest timber"
    if end is None:
        said += "; end distance assumed at the minimum for full value"
    return Layout(places, D, C_g, C_Delta, C_Delta_along, said, tuple(checks))


def _group_action(D: float, rows: int, between: float, parts: RackParts, spacing: float, plate: float | None) -> float:
    """C_g of a column of bolts, the least of what it may be where the E of a timber is not known.

    Loaded across its grain the beam counts with its thickness times the least spacing (NDS 11.3.6.3).
    """
    found = []
    for E_post, E_beam in product(_moduli(parts.post), _moduli(parts.beam)):
        EA_post, EA_beam = E_post * parts.post.area, E_beam * parts.beam.thickness * spacing
        found.append(float(group_action(D, rows, between, EA_post, EA_beam)))
        if plate is not None:
            found += [float(group_action(D, rows, between, EA, _plate(plate, D), True)) for EA in (EA_post, EA_beam)]
    return min(found)


def _moduli(timber: Member) -> tuple[float, ...]:
    """E (Pa); of the tables' softest and stiffest timber where it is not known."""
    if timber.strength is not None:
        return (timber.strength.E,)
    known = [row.E * PSI for row in table(LumberValues)]
    return min(known), max(known)


def _plate(thickness: float, D: float) -> float:
    """EA (N) of a steel plate that is not described further: as wide as the least edge distances ask, 3 diameters."""
    return factor_si("E_steel") * thickness * 3 * D


def _between_columns(D: float, parts: RackParts, small: bool) -> Distances:
    """Spacing of rows for a load across the beam's grain: 2.5 D to 5 D by length in the thinner wood over D."""
    if small:
        return Distances(5.0, 5.0)
    slender = min(parts.beam.thickness, parts.post.thickness) / D
    k = 2.5 if slender <= 2 else 5.0 if slender >= 6 else (5 * slender + 10) / 8
    return Distances(k, k)
