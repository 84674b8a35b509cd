"""The connection inventory: where members meet, and by what."""

from __future__ import annotations

import re
from typing import Annotated, Any

from pydantic import BeforeValidator, model_validator

from brimfast.shared.installation.fields import (
    Count,
    Force,
    Name,
    Part,
    Quantity,
    QuantityPair,
    TextOnly,
    Words,
    YesNo,
    refuse,
    shown,
    whole_number,
)

PLACES = ("beam to post", "joist to beam", "brace to post")
FASTENER_KINDS = ("through-bolt", "lag screw", "wood screw", "structural screw", "nail", "framing tie")
_NAILS = re.compile(r"\s*(\d{1,2})\s*\+\s*(\d{1,2})\s*")


def _nails(value: Any) -> tuple[int, int]:
    match = _NAILS.fullmatch(value) if isinstance(value, str) else None
    if match is None or not (1 <= int(match[1]) <= 40 and 1 <= int(match[2]) <= 40):
        raise refuse(
            "E-TYPE-001",
            f"found {shown(value)}; expected the nails into each of the two members such as '5 + 5' (1 to 40 each)",
        )
    return int(match[1]), int(match[2])


class Fasteners(Part):
    """The fasteners of one joint; count is for one joint, not for the rack."""

    kind: Annotated[str, Words(FASTENER_KINDS)]
    count: Count = 1
    diameter: Annotated[float, Quantity("length", "0.05 in", "1 in")] | None = None
    root_diameter: Annotated[float, Quantity("length", "0.05 in", "1 in")] | None = None
    length: Annotated[float, Quantity("length", "0.5 in", "24 in")] | None = None
    bending_yield: Annotated[float, Quantity("stress", "20 ksi", "250 ksi")] | None = None
    spread: Annotated[float, Quantity("length", "0.5 in", "24 in")] | None = None
    nails: Annotated[tuple[int, int], BeforeValidator(_nails), TextOnly()] | None = None
    nail: Annotated[tuple[float, float], QuantityPair("0.05 in", "8 in")] | None = None
    steel: Annotated[float, Quantity("length", "0.4 mm", "6 mm")] | None = None
    plate: Annotated[float, Quantity("length", "0.03 in", "0.5 in")] | None = None
    steel_width: Annotated[float, Quantity("length", "0.4 in", "12 in")] | None = None
    columns: Annotated[int, BeforeValidator(whole_number(1, 3))] = 1
    gauge: Annotated[float, Quantity("length", "0.3 in", "12 in")] | None = None
    end_distance: Annotated[float, Quantity("length", "0.1 in", "24 in")] | None = None
    head: Annotated[float, Quantity("length", "0.1 in", "2 in")] | None = None
    thread: Annotated[float, Quantity("length", "0.2 in", "20 in")] | None = None
    toe_nailed: YesNo = False
    allowable: Force | None = None
    allowable_for: Annotated[str, Words(("permanent", "normal", "earthquake"))] = "normal"
    source: Name | None = None

    @model_validator(mode="after")
    def _complete(self) -> Fasteners:
        if self.allowable is not None:
            if self.source is None:
                raise refuse("E-KEY-003", "found allowable without source; expected where the value was published")
            return self
        if self.kind == "framing tie":
            missing = [key for key in ("nails", "nail") if getattr(self, key) is None]
        elif self.kind == "nail" and self.nail is not None:
            missing = []
        else:
            missing = [key for key in ("diameter", "length") if getattr(self, key) is None]
        if missing:
            raise refuse(
                "E-KEY-002", f"missing {' and '.join(missing)} for a {self.kind}; or give allowable with source"
            )
        if self.columns > 1 and self.gauge is None:
            raise refuse("E-KEY-003", "found columns without gauge; expected the distance between the columns")
        if self.root_diameter is not None and self.diameter is not None and self.root_diameter > self.diameter:
            raise refuse("E-FIT-001", "found root_diameter above diameter; expected it at most as large")
        return self


class Joint(Part):
    rack: Name
    where: Annotated[str, Words(PLACES)]
    fasteners: Fasteners
    wet: YesNo | None = None  # as the rack, where not given
