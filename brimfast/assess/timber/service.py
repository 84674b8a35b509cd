"""In what does the timber stand: wet or dry, how warm?"""

from __future__ import annotations

from dataclasses import dataclass

from brimfast.data_tables.loader import factor_si, factor_used
from brimfast.shared.findings import Value
from brimfast.shared.installation.rack import Rack


@dataclass(frozen=True)
class Service:
    """Wet (over 19 % moisture in use) or dry; heat up to 100, 125 or 150 °F."""

    wet: bool
    heat: str = "100"

    def temperature(self, joint: bool) -> tuple[float, float, tuple[Value, ...]]:
        """C_t of strength, C_t of tension and stiffness, and the values used; 1 up to 100 °F.

        Source: NDS 2018 Tables 11.3.4 (joints) and 2.3.3 (timber).
        """
        if self.heat == "100":
            return 1.0, 1.0, ()
        key = f"C_t_{'joint_' if joint else ''}{self.heat}_{'wet' if self.wet else 'dry'}"
        if joint:
            return factor_si(key), 1.0, (factor_used(key),)
        return factor_si(key), factor_si("C_t_tension_E"), (factor_used(key), factor_used("C_t_tension_E"))


def service_of(rack: Rack) -> Service:
    """Of all timber of a rack, as its file says."""
    return Service(rack.wet, rack.heat.split()[2])
