"""The timber rack: what carries the vessels."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Annotated, Any, ClassVar, Self

from pydantic import BeforeValidator, ConfigDict, Field, model_validator

from brimfast.shared.constants import INCH
from brimfast.shared.installation.fields import (
    Count,
    Force,
    Name,
    OrText,
    Part,
    Place,
    Quantity,
    QuantityPair,
    Words,
    YesNo,
    kind_of_value,
    refuse,
    whole_number,
)
from brimfast.shared.installation.joint import Fasteners
from brimfast.shared.installation.pan import Pan
from brimfast.shared.installation.sourced import Sourced
from brimfast.shared.installation.timber import PanelText, TimberText

FACES: dict[str, tuple[str, str]] = {"along": ("front", "back"), "across": ("left", "right")}
ALL_FACES = (*FACES["along"], *FACES["across"])


class Joist(Part):
    """Joists; species and grade as the beam's unless the size says otherwise."""

    size: TimberText
    spacing: Annotated[float, Quantity("length", "3 in", "8 ft")]
    seat: Annotated[str, Words(("on beams", "between beams"))] = "on beams"


class Brace(Part):
    """A diagonal in one bay of one face of the rack, from the floor (or the deck below) to the beam of its storey.

    A knee runs from either post to the beam, `leg` below and beside their joint.
    """

    face: Annotated[str, Words(ALL_FACES)]
    bay: Count = 1
    storey: Count = 1
    kind: Annotated[str, Words(("single", "x", "knee"))] = "single"
    member: TimberText
    bolted_at_middle: YesNo = False
    leg: Annotated[float, Quantity("length", "4 in", "6 ft")] | None = None

    @model_validator(mode="after")
    def _knee_has_leg(self) -> Self:
        if (self.kind == "knee") != (self.leg is not None):
            raise refuse(
                "E-KEY-003", "found a knee without leg, or leg without a knee; expected both, such as 'leg: 14 in'"
            )
        return self


class SheathedPanel(Part):
    """A panel nailed over one bay of a face, all its edges on posts, beam and a bottom rail."""

    face: Annotated[str, Words(ALL_FACES)]
    bay: Count = 1
    storey: Count = 1
    thickness: Annotated[float, Quantity("length", "1/4 in", "1.25 in")]
    nail: Annotated[float, Quantity("length", "0.09 in", "0.2 in")]
    edge_spacing: Annotated[float, Quantity("length", "1.5 in", "12 in")]


class Gusset(Part):
    """Two triangles of plywood in a bay of a long face, each nailed to beam and post where they meet, `leg` along either.

    nails: in each of its two legs.
    """

    face: Annotated[str, Words(FACES["along"])]
    bay: Count = 1
    storey: Count = 1
    leg: Annotated[float, Quantity("length", "6 in", "4 ft")]
    thickness: Annotated[float, Quantity("length", "3/8 in", "1.25 in")]
    nail: Annotated[tuple[float, float], QuantityPair("0.09 in", "6 in")]
    nails: Annotated[int, BeforeValidator(whole_number(4, 60))]

    @model_validator(mode="after")
    def _nail_goes_through(self) -> Self:
        if self.nails % 2:
            raise refuse("E-RANGE-001", f"found {self.nails} nails; expected an even number, as they stand in two rows")
        if self.nail[0] > THICKEST_NAIL or self.nail[1] <= self.thickness:
            raise refuse(
                "E-FIT-001",
                "found a nail over 0.2 in thick, or no longer than the plywood; expected diameter x length, such as "
                "'0.131 in x 2.5 in'",
            )
        return self


class Tier(Part):
    """A further deck above the main one, built like it."""

    deck_height: Annotated[float, Quantity("length", "12 in", "14 ft")]


class Rail(Part):
    """A horizontal timber from post to post, such as the one that lights hang from."""

    height: Annotated[float, Quantity("length", "4 in", "14 ft")]
    member: TimberText
    face: Annotated[str, Words((*ALL_FACES, "all"))] = "all"

    @property
    def faces(self) -> tuple[str, ...]:
        return ALL_FACES if self.face == "all" else (self.face,)


class Turn(Part):
    """Where this rack is bolted at a right angle to the side of another rack, flush with one end of it.

    Seen from above with the other rack's front below: this one's left end is the lower one, its front on the left.
    """

    rack: Name
    end: Annotated[str, Words(("left", "right"))]
    side: Annotated[str, Words(("front", "back"))] = "front"


class Joined(Part):
    """The rack that stands before this one: its back beams and this one's front beams lie against each other.

    fasteners: what goes through both beams beside every post; count is for one post.
    """

    rack: Name
    fasteners: Fasteners


class WallTie(Part):
    """Ties from the rack's back to a wall; only what the file says is in the wall counts."""

    height: Annotated[float, Quantity("length", "6 in", "12 ft")]
    count: Count
    into: Annotated[str, Words(("stud", "unknown"))]
    stud: Name = "spruce-pine-fir"
    gypsum: Annotated[float, Quantity("length", "0 in", "2 in")] = 0.5 * INCH
    rail: Annotated[float, Quantity("length", "0.03 in", "4 in")] = 1.5 * INCH
    diameter: Annotated[float, Quantity("length", "0.1 in", "0.75 in")]
    length: Annotated[float, Quantity("length", "1 in", "12 in")]
    thread: Annotated[float, Quantity("length", "0.5 in", "10 in")] | None = None
    kind: Annotated[str, Words(("lag screw", "wood screw"))] = "lag screw"
    strap: Annotated[tuple[float, float], QuantityPair("0.015 in", "6 in")] | None = None


class AnchorValues(Sourced):
    """What each anchor may carry by its published value; or must carry, where the source says that it is required."""

    tension: Force | None = None
    shear: Force | None = None
    source: Name | None = None

    SOURCED: ClassVar[tuple[str, ...]] = ("tension", "shear")


class Anchors(AnchorValues):
    """Anchors to the floor: how many, and what each may carry by its published value."""

    count: Count


class Friction(Part):
    """Friction under a body, where the user knows better than the table: low and high, '0.3 to 0.5', or one number."""

    low: Annotated[float, Quantity("number", "0.01", "2")]
    high: Annotated[float, Quantity("number", "0.01", "2")]

    @model_validator(mode="before")
    @classmethod
    def _from_one(cls, value: Any) -> Any:
        if isinstance(value, bool) or not isinstance(value, (str, int, float)):
            return value
        halves = re.split(r"\s+(?:to|–)\s+", str(value).strip())
        return {"low": halves[0], "high": halves[-1]} if len(halves) <= 2 else value

    @model_validator(mode="after")
    def _low_below_high(self) -> Friction:
        if self.low > self.high:
            raise refuse("E-FIT-001", f"found low {self.low} above high {self.high}; expected low ≤ high")
        return self


SAME_PLACE = 0.03  # m: posts and beams that face each other
THICKEST_NAIL = 0.2 * INCH * 1.0001
LARGEST_BOLT = INCH  # m: beyond it the yield-limit equations are not tabulated


class Feet(AnchorValues):
    on: Name | None = None
    foot: Name = "wood"
    anchored: YesNo = False
    anchors_per_post: Count = 1
    plate: Annotated[float, Quantity("length", "1 in", "3 ft")] | None = None
    sill: TimberText | None = None
    bolt: Annotated[tuple[float, float], QuantityPair("0.2 in", "24 in")] | None = None

    @model_validator(mode="after")
    def _bolt_of_known_size(self) -> Feet:
        if self.bolt is not None and not self.bolt[0] <= LARGEST_BOLT * 1.0001 <= self.bolt[1] * 1.0001:
            raise refuse(
                "E-FIT-001",
                "found a bolt thicker or shorter than 1 in; expected diameter x length, such as '0.5 in x 7 in'",
            )
        return self


class ComponentFactors(Part):
    """The standard's component factors, where the engineer chooses others than the table row: `own`.

    Which they may be is for the standards to say (see assess/demand).
    """

    model_config = ConfigDict(extra="allow")

    reason: Name

    @property
    def own(self) -> dict[str, Any]:
        """The factors as they stand in the file."""
        return dict(self.model_extra or {})


def _braces(value: Any) -> Any:
    if isinstance(value, str) and value.strip().casefold() == "none":
        return []
    if not isinstance(value, list):
        raise refuse(
            "E-TYPE-001",
            f"found {kind_of_value(value)}; expected 'none' or a list such as "
            "[{face: back, bay: 1, kind: x, member: 2x4 hem-fir No.2}]",
        )
    return value


class Rack(Part):
    bays: Count
    bay_length: Annotated[float, Quantity("distance", "6 in", "20 ft")]
    width: Annotated[float, Quantity("distance", "6 in", "12 ft")]
    deck_height: Annotated[float, Quantity("length", "4 in", "10 ft")]
    post: TimberText
    beam: TimberText
    joist: Joist
    deck: PanelText
    beam_seat: Annotated[str, Words(("on the side", "on top"))] = "on the side"
    beam_runs: Annotated[str, Words(("each bay", "whole length"))] = "whole length"
    braces: Annotated[list[Brace], BeforeValidator(_braces), Field(max_length=100), OrText()] = Field(
        default_factory=list
    )
    panels: Annotated[list[SheathedPanel], Field(max_length=50)] = Field(default_factory=list)
    gussets: Annotated[list[Gusset], Field(max_length=60)] = Field(default_factory=list)
    wall_ties: Annotated[list[WallTie], Field(max_length=10)] = Field(default_factory=list)
    wall_gap: Annotated[float, Quantity("length", "0 in", "10 ft")] | None = None
    upper_tiers: Annotated[list[Tier], Field(max_length=4)] = Field(default_factory=list)
    rails: Annotated[list[Rail], Field(max_length=12)] = Field(default_factory=list)
    turns_from: Turn | None = None
    joined_to: Joined | None = None
    beam_pairs: Annotated[str, Words(("none", "shared"))] = "none"
    feet: Feet = Field(default_factory=Feet)
    pan: Pan | None = None
    kit: Annotated[float, Quantity("mass", "0 lb", "5000 lb")] = 0.0
    wet: YesNo = True
    heat: Annotated[str, Words(("up to 100 F", "up to 125 F", "up to 150 F"))] = "up to 100 F"
    along: Annotated[str, Words(("length", "width"))] = "length"
    at: Place | None = None
    friction: Annotated[Friction, OrText()] | None = None
    component: ComponentFactors | None = None
    period: Annotated[float, Quantity("period", "0.01 s", "5 s")] | None = None

    @property
    def decks(self) -> tuple[float, ...]:
        """Heights of its decks above the floor (m), the main one first."""
        return (self.deck_height, *(tier.deck_height for tier in self.upper_tiers))

    @property
    def top(self) -> float:
        """Height of its highest deck or rail (m): so high reach the posts."""
        return max((*self.decks, *(rail.height for rail in self.rails)))

    def turned_at(self, main: Rack) -> tuple[float, float] | None:
        """Its corner in the room where it turns from a rack whose place is known (m)."""
        turn = self.turns_from
        if turn is None or main.at is None:
            return None
        along = main.length - self.width if turn.end == "right" else 0.0
        aside = main.width if turn.side == "back" else -self.length
        x, y = main.at
        return (x + along, y + aside) if main.along == "length" else (x + aside, y + along)

    @property
    def stands_with(self) -> str | None:
        """The rack in whose frame it stands: from which it turns, or to which it is joined."""
        if self.turns_from is not None:
            return self.turns_from.rack
        return self.joined_to.rack if self.joined_to is not None else None

    def place_beside(self, racks: Mapping[str, Rack]) -> tuple[float, float] | None:
        """Its corner in the room (m) where the rack that it turns from, or is joined to, has a place."""
        if self.turns_from is not None and self.turns_from.rack in racks:
            return self.turned_at(racks[self.turns_from.rack])
        main = racks.get(self.joined_to.rack) if self.joined_to is not None else None
        return None if main is None else main.behind

    @property
    def behind(self) -> tuple[float, float] | None:
        """The corner in the room (m) of a rack that stands back to front behind this one, where this one has a place."""
        if self.at is None:
            return None
        x, y = self.at
        return (x, y + self.width) if self.along == "length" else (x + self.width, y)

    def unlike(self, other: Rack) -> str | None:
        """The first key in which it differs from a rack that could be joined to it, post beside post; None: in none."""
        alike = [
            ("bays", self.bays == other.bays),
            ("bay_length", abs(self.bay_length - other.bay_length) < SAME_PLACE),
            ("along", self.along == other.along),
            ("deck_height", len(self.decks) == len(other.decks)),
            *(("deck_height", abs(a - b) < SAME_PLACE) for a, b in zip(self.decks, other.decks, strict=False)),
        ]
        return next((key for key, fits in alike if not fits), None)

    def beams_face(self, other: Rack) -> bool:
        """Whether the beams of both are on the side of their posts, so that they can lie against each other."""
        return self.beam_seat == other.beam_seat == "on the side"

    @property
    def ends_meet(self) -> bool:
        """Whether the beams of two bays end on one post."""
        return self.beam_runs == "each bay" and self.bays > 1

    @property
    def one_piece(self) -> bool:
        """Whether a beam runs through over a post."""
        return self.beam_runs == "whole length" and self.bays > 1

    @property
    def paired(self) -> bool:
        """A beam on either side of the posts, sharing the load evenly: only because the file says so."""
        return self.beam_pairs == "shared"

    @property
    def length(self) -> float:
        return self.bays * self.bay_length

    @property
    def posts(self) -> int:
        return 2 * (self.bays + 1)

    @property
    def plan_size(self) -> tuple[float, float]:
        """Its size along the room's length and along the room's width (m)."""
        return (self.length, self.width) if self.along == "length" else (self.width, self.length)

    def bays_of(self, face: str) -> int:
        return self.bays if face in FACES["along"] else 1

    def run(self, face: str) -> float:
        """Length of one bay of a face (m)."""
        return self.bay_length if face in FACES["along"] else self.width

    @property
    def stiffened(self) -> list[tuple[str, int, int]]:
        """Face, bay and storey of every diagonal brace and panel (knees leave the posts to bend)."""
        braces = [(brace.face, brace.bay, brace.storey) for brace in self.braces if brace.kind != "knee"]
        return braces + [(panel.face, panel.bay, panel.storey) for panel in self.panels]

    def stiff_bays(self, direction: str, storey: int) -> tuple[int, int]:
        """How many bays of the two faces of a direction (along, across) have a brace or a panel in a storey."""
        first, second = FACES[direction]
        faces = [face for face, _, at in self.stiffened if at == storey]
        return faces.count(first), faces.count(second)

    def braced(self, direction: str) -> bool:
        """Both faces of a direction have a brace or a panel in every storey."""
        return all(min(self.stiff_bays(direction, storey + 1)) > 0 for storey in range(len(self.decks)))
