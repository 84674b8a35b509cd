"""The vertical part of the earthquake, as a share of the weight that stands in every combination."""

from __future__ import annotations

from dataclasses import dataclass

from brimfast.shared.findings import Step, Value, step


@dataclass(frozen=True)
class Vertical:
    """E_v over W = factor · value, written as the standard does: 0.2 S_DS, or a share k_v of its own (factor 1).

    source: of the combinations with it; rule: where the standard has it.
    """

    factor: float
    symbol: str
    value: float
    source: str
    rule: str
    values: tuple[Value, ...] = ()

    @property
    def share(self) -> float:
        return self.factor * self.value

    def times(self, level: float = 1.0) -> str:
        """As it stands in an expression, at a level of the earthquake: 0.2*S_DS, 0.7*k_v."""
        factor = level * self.factor
        return self.symbol if factor == 1 else f"{factor:g}*{self.symbol}"

    def words(self, level: float = 1.0) -> str:
        """The same in a text: 0.2 S_DS."""
        return self.times(level).replace("*", " ")

    @property
    def inputs(self) -> dict[str, float | tuple[float, str]]:
        return {self.symbol: self.value}


def vertical_step(vertical: Vertical, W: float, source: str = "") -> Step:
    # S_DS carries its unit here; elsewhere it stands as a plain share
    value: float | tuple[float, str] = (vertical.value, "g") if vertical.symbol == "S_DS" else vertical.value
    return step(
        "E_v",
        f"{vertical.times()}*W_p",
        {vertical.symbol: value, "W_p": (W, "N")},
        (vertical.share * W, "N"),
        source or vertical.rule,
        "up and down, together with the sideways force",
    )
