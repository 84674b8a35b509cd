"""A pan under a vessel or a rack, which stands in its middle."""

from __future__ import annotations

from typing import Annotated

from brimfast.shared.installation.fields import Part, PlanLength, Quantity


class Pan(Part):
    length: PlanLength
    width: PlanLength
    height: Annotated[float, Quantity("length", "1/2 in", "12 in")]

    @property
    def area(self) -> float:
        return self.length * self.width

    def margin(self, length: float, width: float) -> float:
        """How far it reaches beyond what stands in it, on the side where that is least (m)."""
        return min(self.length - length, self.width - width) / 2
