"""What braces and panels share: bays that are free, their words and sizes, the board that they are made of."""

from __future__ import annotations

from brimfast.assess.measures.reach import filled
from brimfast.data_tables.loader import strength_class
from brimfast.shared.constants import INCH
from brimfast.shared.installation.model import Installation
from brimfast.shared.installation.rack import Rack
from brimfast.shared.units import System

THICK = {"us": 1.5 * INCH, "si": 0.045}
BOARD = {"us": "2x4", "si": "45x95 mm"}
ITEM = "brace timber 2x4"
ACCESS = "a braced bay can no longer be reached into from that side: choose the bay that you need least"

Places = list[tuple[str, int]]  # face and bay


def timber(rack: Rack, system: System) -> str:
    """The board as the file writes it, of the wood of the beams and treated as the posts are."""
    species = rack.beam.species or ("C24" if system == "si" else "hem-fir")
    return wood(BOARD[system], species, rack.beam.grade, rack.post.treated)


def wood(size: str, species: str | None, grade: str | None, treated: bool) -> str:
    """'2x4 hem-fir No.2 treated', '45x95 mm C24'."""
    species = species.upper() if species is not None and strength_class(species) is not None else species
    return " ".join(filter(None, (size, species, grade, "treated" if treated else "")))


def free_bays(installation: Installation, name: str, face: str) -> list[int]:
    """Bays of a face that nothing stiffens in any storey and no other rack fills."""
    rack = installation.racks[name]
    taken = {(at, bay) for at, bay, _ in rack.stiffened} | {
        (brace.face, brace.bay) for brace in rack.braces if brace.kind == "knee"
    }
    taken |= {(gusset.face, gusset.bay) for gusset in rack.gussets}
    taken |= filled(installation, name)
    return [bay for bay in range(1, rack.bays_of(face) + 1) if (face, bay) not in taken]


def ends_first(bays: list[int]) -> list[int]:
    return [bays[0], *reversed(bays[1:])]


def rises(rack: Rack) -> list[float]:
    """Height of each storey, floor or deck to deck (m)."""
    return [high - low for low, high in zip((0.0, *rack.decks), rack.decks, strict=False)]


def place_words(places: Places, rack: Rack) -> str:
    faces: dict[str, list[int]] = {}
    for face, bay in places:
        faces.setdefault(face, []).append(bay)
    parts = [
        f"{face} (bay {' and '.join(map(str, bays))})" if rack.bays_of(face) > 1 else face
        for face, bays in faces.items()
    ]
    return " and ".join(parts)
