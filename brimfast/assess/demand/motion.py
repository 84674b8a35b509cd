"""How strong is the design earthquake here? The form in which all standards answer."""

from __future__ import annotations

from dataclasses import dataclass

from brimfast.assess.demand.vertical import Vertical
from brimfast.shared.findings import Caution, Step, Value


@dataclass(frozen=True)
class Corner:
    """Where the spectrum's plateau ends (s); NaN where the standard asks for a site-specific study."""

    T_S: float
    steps: tuple[Step, ...]
    values: tuple[Value, ...]
    why_not: str = ""


@dataclass(frozen=True)
class GroundMotion:
    """The design spectrum at 5 % damping, bounded by its plateau up to T_S and plateau · T_S/T beyond; and its names.

    importance: what still multiplies the spectrum. convective_R: what the standard lets the force of sloshing be divided by.
    """

    plateau: float  # g
    symbol: str  # of the plateau, such as S_DS
    how: str
    peak: float  # g, of the ground
    peak_words: str
    vertical: Vertical
    corner: Corner
    spectrum: str  # where it is in the standard
    equations: str
    sloshing_values: tuple[Value, ...]
    sloshing: str  # where the spectrum at the light damping of sloshing is from
    tail: str  # what falls more steeply at long periods, and is not used
    steps: tuple[Step, ...] = ()
    values: tuple[Value, ...] = ()
    cautions: tuple[Caution, ...] = ()
    importance: float = 1.0
    convective_R: float = 1.0
    convective_values: tuple[Value, ...] = ()
    category: str = ""  # seismic design category, where the standard has them
    S_1: float | None = None  # g
