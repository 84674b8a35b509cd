"""What a standard says of one body: the form in which all standards answer."""

from __future__ import annotations

from dataclasses import dataclass

from brimfast.assess.demand.period import Swing
from brimfast.shared.findings import Step, Value
from brimfast.shared.installation.rack import ComponentFactors


@dataclass(frozen=True)
class Body:
    """What a standard needs to know of a body."""

    name: str
    kind: str  # vessel, braced rack, unbraced rack
    weight: float  # N
    factors: ComponentFactors | None
    swing: Swing | None = None


@dataclass(frozen=True)
class Force:
    """Sideways and vertical earthquake force on a body, strength level."""

    subject: str
    weight: float  # N
    horizontal: float  # N
    vertical: float  # N, up and down
    overstrength: float
    row: str
    governs: str
    basis: str
    steps: tuple[Step, ...]
    values: tuple[Value, ...]
    overstrength_source: str = "ASCE 7 section 13.4.2"
    sways: float = 1.0  # real over elastic displacement under this force

    @property
    def coefficient(self) -> float:
        """Sideways force over weight."""
        return self.horizontal / self.weight


def amplification(R: float, elastic: float, force: float) -> float:
    """Real over elastic displacement (equal displacements): the unreduced, uncapped force over the one that counts; R at least."""
    return max(R, elastic / force)


def which_governs(force: float, unit_force: float) -> str:
    """The formula or one of its limits 0.3 and 1.6 times S_DS I_p W_p (the unit force)."""
    if force <= 0.3 * unit_force * (1 + 1e-12):
        return "the lower limit"
    return "the upper limit" if force >= 1.6 * unit_force * (1 - 1e-12) else "the formula"
