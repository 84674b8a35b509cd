"""What tips or slides as one? Each rack with all it carries, each vessel by itself."""

from __future__ import annotations

import math
from dataclasses import dataclass

from brimfast.assess.parts import FrictionUsed, RackParts, Resolved
from brimfast.assess.wall_support import counted_tie
from brimfast.assess.weight import RackWeight, VesselWeight
from brimfast.shared.constants import GRAVITY
from brimfast.shared.findings import Step, Value
from brimfast.shared.installation.model import Installation, plan_size
from brimfast.shared.installation.rack import Rack
from brimfast.shared.installation.vessel import Vessel


@dataclass(frozen=True)
class Sloshing:
    """What the body's force (N) and moment about its base (N·m) are where its free water sloshes; strength level."""

    force: float
    moment: float
    index: bool  # some waves are steeper than linear theory covers
    steps: tuple[Step, ...]
    values: tuple[Value, ...]

    @property
    def words(self) -> str:
        """For the basis of a finding that it governs."""
        steep = ", an index: waves steeper than linear" if self.index else ""
        return f"water sloshes (ACI 350.3, ASCE 7 section 15.7.6{steep})"


@dataclass(frozen=True)
class Direction:
    """One plan direction: lengths in m between the edges about which the body would tip."""

    name: str
    base: float  # from edge to edge (posts: centre to centre)
    arm: float  # from the centre of mass to the nearer edge
    anchors_effective: float = 0.0  # Σ (d/base)² of the anchors, d from the tipping edge; 0: not known
    sloshing: Sloshing | None = None  # where it holds free water


@dataclass(frozen=True)
class Anchoring:
    count: int
    tension: float | None
    shear: float | None
    source: str
    into: str


@dataclass(frozen=True)
class FreeBody:
    name: str
    kind: str  # rack, floor vessel, vessel on rack
    on: str
    component: str  # which row of the standard's table
    mass: float
    height: float  # of the centre of mass above its base, m
    directions: tuple[Direction, ...]
    friction: FrictionUsed
    anchoring: Anchoring | None
    base_area: float  # m², of what it stands on
    tied: bool = False  # across, to a wall that the file describes

    @property
    def weight(self) -> float:
        return self.mass * GRAVITY

    @property
    def hardest(self) -> Sloshing | None:
        """Of the direction in which sloshing pushes most."""
        found = [direction.sloshing for direction in self.directions if direction.sloshing is not None]
        return max(found, key=lambda one: one.force, default=None)


def inner_length(vessel: Vessel) -> float:
    """Length along the rack as the file gives it (m), without wall thickness."""
    return plan_size(vessel)[0]


def rack_offsets(installation: Installation, name: str) -> dict[str, float]:
    """Where each vessel on a rack begins, from the rack's left end (m): given, or one after the other on its tier."""
    offsets: dict[str, float] = {}
    used: dict[int, float] = {}
    for vessel in installation.on_rack(name):
        after = used.get(vessel.tier, 0.0)
        offsets[vessel.name] = vessel.offset if vessel.offset is not None else after
        used[vessel.tier] = max(after, offsets[vessel.name] + inner_length(vessel))
    return offsets


def bearing(vessel: Vessel, offset: float) -> tuple[float, float]:
    """From where to where (m along the rack) a vessel that begins at an offset weighs on it.

    A round one bears on the middle π/4 of its diameter: as heavy a metre as the circle is in its middle.
    """
    length = inner_length(vessel)
    trim = (1 - math.pi / 4) / 2 * length if vessel.round else 0.0
    return offset + trim, offset + length - trim


def between_posts(rack: Rack, parts: RackParts) -> float:
    """Across, between the centres of front and back posts at most (m): the safe side."""
    return rack.width - parts.post.width


def rack_mass_and_centre(
    installation: Installation,
    name: str,
    racks: dict[str, RackWeight],
    vessels: dict[str, VesselWeight],
) -> tuple[float, float, float]:
    """Mass (kg) of a rack with its vessels, height of the centre above the floor, place along it (m)."""
    rack, weight = installation.racks[name], racks[name]
    offsets = rack_offsets(installation, name)
    masses, heights, places = [weight.mass], [weight.weighing.height], [rack.length / 2]
    for vessel in installation.on_rack(name):
        found = vessels[vessel.name]
        masses.append(found.mass)
        heights.append(rack.decks[vessel.tier - 1] + found.height)
        places.append(offsets[vessel.name] + inner_length(vessel) / 2)
    total = math.fsum(masses)
    height = math.fsum(m * h for m, h in zip(masses, heights, strict=True)) / total
    place = math.fsum(m * x for m, x in zip(masses, places, strict=True)) / total
    return total, height, place


def free_bodies(
    installation: Installation,
    resolved: Resolved,
    racks: dict[str, RackWeight],
    vessels: dict[str, VesselWeight],
) -> tuple[FreeBody, ...]:
    bodies = [_rack_body(installation, name, resolved, racks, vessels) for name in installation.racks]
    for vessel in installation.vessels:
        found = vessels[vessel.name]
        anchors = vessel.anchors
        count = anchors.count if anchors else 0
        stand = footing(vessel)
        if found.round and stand is None:
            base = found.length
            directions: tuple[Direction, ...] = (
                Direction("in any direction", base, base / 2, 0.375 * count if count >= 4 else 0.0),
            )
        else:
            corners = 2.0 if count >= 4 else 0.0  # more than four may stand anywhere: not counted
            length, width = stand or (found.length, found.width)
            along, across = ("stand", "stand") if found.round else ("length", "width")
            directions = (
                Direction(f"along its {along}", length, length / 2, corners),
                Direction(f"across its {across}", width, width / 2, corners),
            )
        anchoring = None
        if anchors:
            into = "the deck" if vessel.on != "floor" else "the floor"
            anchoring = Anchoring(anchors.count, anchors.tension, anchors.shear, anchors.source or "", into)
        bodies.append(
            FreeBody(
                vessel.name,
                "floor vessel" if vessel.on == "floor" else "vessel on rack",
                vessel.on,
                "vessel",
                found.mass,
                found.height,
                directions,
                resolved.vessels[vessel.name].friction,
                anchoring,
                standing_area(vessel, found),
            )
        )
    return tuple(bodies)


def footing(vessel: Vessel) -> tuple[float, float] | None:
    """Its stand's footprint (m) where that is given; else it stands on all of its own outside size."""
    return vessel.stand.footprint if vessel.stand is not None else None


def standing_area(vessel: Vessel, weight: VesselWeight) -> float:
    """What presses on the floor or the deck below it (m²)."""
    stand = footing(vessel)
    return math.prod(stand) if stand is not None else weight.base_area


def _rack_body(
    installation: Installation,
    name: str,
    resolved: Resolved,
    racks: dict[str, RackWeight],
    vessels: dict[str, VesselWeight],
) -> FreeBody:
    rack, parts = installation.racks[name], resolved.racks[name]
    mass, height, place = rack_mass_and_centre(installation, name, racks, vessels)
    across = between_posts(rack, parts)
    feet = rack.feet
    anchoring = None
    if feet.anchored:
        count = rack.posts * feet.anchors_per_post
        anchoring = Anchoring(count, feet.tension, feet.shear, feet.source or "", "the floor")
    directions = (
        Direction("along the rack", rack.length, min(place, rack.length - place), 2.0 * feet.anchors_per_post),
        Direction("across the rack", across, across / 2, float((rack.bays + 1) * feet.anchors_per_post)),
    )
    both = rack.braced("along") and rack.braced("across")
    return FreeBody(
        f"rack {name}",
        "rack",
        "floor",
        "braced rack" if both else "unbraced rack",
        mass,
        height,
        directions,
        parts.friction,
        anchoring,
        rack.length * rack.width,
        counted_tie(rack) is not None,
    )
