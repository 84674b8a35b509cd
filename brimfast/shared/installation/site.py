"""Where the installation stands: ground motion, room and floor."""

from __future__ import annotations

from typing import Annotated, Any, Self

from pydantic import AfterValidator, BeforeValidator, ConfigDict, Field, GetJsonSchemaHandler, model_validator
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema

from brimfast.shared.installation.fields import (
    Bore,
    Height,
    Money,
    MoneyPerArea,
    Name,
    Part,
    Place,
    Quantity,
    RoomLength,
    Share,
    Volume,
    Words,
    money_amount,
    refuse,
)
from brimfast.shared.installation.timber import TimberText
from brimfast.shared.units import CURRENCIES

SETTINGS = ("in a building", "in the open", "light greenhouse")
FLOORINGS = ("sealed concrete", "bare concrete", "tile", "vinyl", "laminate", "wood", "carpet")
WATERS = ("clean", "used", "foul")  # restoration categories 1, 2 and 3
DOOR = 0.9144  # m: 36 in
FLOOR_KINDS = ("slab on grade", "timber floor", "concrete floor")

DoorWidth = Annotated[float, Quantity("distance", "6 in", "40 ft")]


class Building(Part):
    """The building above the installation, where its structure is known."""

    period: Annotated[float, Quantity("period", "0.05 s", "10 s")] | None = None
    R: Annotated[float, Quantity("number", "1", "8")] | None = None
    Omega_0: Annotated[float, Quantity("number", "1", "3")] | None = None
    I_e: Annotated[float, Quantity("number", "1", "1.5")] = 1.0


class Site(Part):
    """Where it stands: the standard and the keys that every standard knows. `own` are the standard's own keys.

    What they must be is for the standard to say (see assess/demand). `also` has those of other standards, by name.
    """

    model_config = ConfigDict(extra="allow")

    standard: Annotated[Name, AfterValidator(str.casefold)] = "asce7-22"
    height_ratio: Annotated[float, Quantity("number", "0", "1")] = 0.0
    setting: Annotated[str, Words(SETTINGS)] = "in a building"
    building: Building | None = None
    also: dict[Name, dict[str, Any]] = Field(default_factory=dict)

    @property
    def own(self) -> dict[str, Any]:
        """The keys that are not common to all standards, as they stand in the file."""
        return dict(self.model_extra or {})


class Drain(Part):
    """A floor drain."""

    bore: Bore
    grate: Bore | None = None
    open_share: Share = 0.5
    blocked: Share = 0.5
    slope: Annotated[float, Quantity("share", "0.1 %", "50 %")] = 1 / 48
    at: Place | None = None
    height: Annotated[float, Quantity("length", "-12 in", "12 in")] = 0.0  # of its grate above the floor; sunk below 0
    backs_up_after: Volume | None = None  # what the pit or line behind it takes before it takes nothing more

    @property
    def across(self) -> float:
        """Diameter of its opening in the floor (m)."""
        return self.grate if self.grate is not None else self.bore

    @property
    def free(self) -> float:
        return 1.0 - self.blocked


class Floor(Part):
    kind: Annotated[str, Words(FLOOR_KINDS)] = "slab on grade"
    live_load: Annotated[float, Quantity("pressure", "5 psf", "2000 psf")] | None = None
    live_load_source: Name | None = None
    slab_thickness: Annotated[float, Quantity("length", "2 in", "24 in")] | None = None
    joist_size: TimberText | None = None
    joist_span: Annotated[float, Quantity("distance", "3 ft", "30 ft")] | None = None


class NextRoom(Part):
    """A neighbouring room that water reaches over the threshold of its own doorway; no water leaves it but by drains."""

    name: Name
    length: RoomLength
    width: RoomLength
    door: DoorWidth = DOOR
    sill: Height = 0.0
    flooring: Annotated[str, Words(FLOORINGS)] | None = None
    drains: Annotated[list[Drain], Field(max_length=20)] = Field(default_factory=list)


class Socket(Part):
    """A socket or power strip: the height of its lowest live part above the floor."""

    name: Name
    height: Height


class Room(Part):
    """sill: the height at which water leaves by the door; next: doorways into neighbouring rooms in its place.

    With `next` the door itself leads out only where its width is given as well.
    """

    length: RoomLength
    width: RoomLength
    sill: Height = 0.0
    door: DoorWidth | None = None
    next: Annotated[list[NextRoom], Field(max_length=8)] = Field(default_factory=list)
    sockets: Annotated[list[Socket], Field(max_length=50)] = Field(default_factory=list)
    use: Name | None = None
    floor: Floor = Field(default_factory=Floor)
    drains: Annotated[list[Drain], Field(max_length=20)] = Field(default_factory=list)


class _LowAndHigh(Part):
    low: float
    high: float

    @model_validator(mode="after")
    def _in_order(self) -> Self:
        if self.high < self.low:
            raise refuse("E-FIT-001", "found high below low; expected it the same or above")
        return self


class UnitCosts(_LowAndHigh):
    """What repair and drying cost for each unit of wetted area, in place of the planning figures."""

    low: MoneyPerArea
    high: MoneyPerArea


class Price(_LowAndHigh):
    """What one piece costs, in place of the planning figure."""

    low: Money
    high: Money


def _one_amount(value: Any) -> Any:
    return value if isinstance(value, dict) else dict.fromkeys(("low", "high"), money_amount(value))


class _OrAmount:
    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        return {"anyOf": [{"type": ["string", "number"]}, handler(schema)]}


PriceOrAmount = Annotated[Price, BeforeValidator(_one_amount), _OrAmount()]


class Exposure(Part):
    """What the water can reach, and whose money it is."""

    below: Annotated[str, Words(("none", "own room", "other people's room", "shop or office"))] = "none"
    flooring: Annotated[str, Words(FLOORINGS)] = "sealed concrete"
    water: Annotated[str, Words(WATERS)] | None = None
    currency: Annotated[str, Words(CURRENCIES)] = "USD"
    costs: UnitCosts | None = None  # of this room
    costs_below: UnitCosts | None = None
    building: Money | None = None  # what the flooded storey would cost to build anew
    storey_area: Annotated[float, Quantity("area", "20 ft2", "100000 ft2")] | None = None
    contents: Money | None = None  # worth of what stands on the floors that get wet
    deposit: Money | None = None
    liability_limit: Money | None = None
    contents_limit: Money | None = None
