"""Plywood panels over bays: the sheets, the rails and uprights that their edges are nailed to, and what holds these."""

from __future__ import annotations

import math
from dataclasses import dataclass

from brimfast.assess.measures.faces import ACCESS, ITEM, Places, place_words, rises, timber
from brimfast.assess.measures.measure import Measure, Need
from brimfast.assess.measures.reach import pulled_out
from brimfast.assess.measures.stock import SCREWS, SHEET, feet, long, written
from brimfast.shared.constants import INCH
from brimfast.shared.edits import Edit
from brimfast.shared.installation.model import Installation
from brimfast.shared.units import System

PANEL = {
    "us": {"thickness": "15/32 in", "nail": "0.131 in", "edge_spacing": "4 in"},
    "si": {"thickness": "12 mm", "nail": "3.4 mm", "edge_spacing": "100 mm"},
}
FIELD_APART: dict[System, float] = {
    "us": 12 * INCH,
    "si": 0.3,
}  # m, nails between the edges: SDPWS 2015 Table 4.3A, from memory
FIELD = {system: written(apart, system) for system, apart in FIELD_APART.items()}  # the same, as it is said
APART = {"us": "1/8 in", "si": "3 mm"}  # between sheets, as they swell when wet: common practice, no source
STUDS = 24 * INCH  # most between uprights behind a panel: SDPWS 2015 section 4.3.7.1, from memory
SCREWED = 12 * INCH  # most between the screws of a top rail
WHOLE = 1 + 1e-9


@dataclass(frozen=True)
class Sheathing:
    """How one panel of a length and height (m) is put together from sheets.

    across, up: how many pieces; uprights stand behind every joint between pieces and between them, blocks lie behind
    the level joints.
    """

    length: float
    height: float
    across: int
    up: int

    @property
    def piece(self) -> tuple[float, float]:
        return self.length / self.across, self.height / self.up

    @property
    def joints(self) -> int:
        return self.across * self.up - 1

    @property
    def uprights(self) -> int:
        return self.across * math.ceil(self.piece[0] / (STUDS * WHOLE)) - 1

    @property
    def blocks(self) -> int:
        """One behind each level joint in each field between posts and uprights."""
        return (self.up - 1) * (self.uprights + 1)

    @property
    def boards(self) -> dict[float, int]:
        """Of timber how many of which length (m): two rails, the uprights, the blocks."""
        found = {self.length: 2}
        fields = self.uprights + 1
        for length, count in ((self.height, self.uprights), (self.length / fields, self.blocks)):
            if count:
                found[length] = found.get(length, 0) + count
        return found

    @property
    def ends(self) -> int:
        """Of its timbers, each held by an angle."""
        return 4 + 2 * self.uprights + 2 * self.blocks

    @property
    def of_one_sheet(self) -> int:
        """How many of its pieces can be cut from a sheet, all the same way round."""
        a, b = self.piece
        long_side, short_side = (side * WHOLE for side in SHEET)
        return max(int(long_side / a) * int(short_side / b), int(short_side / a) * int(long_side / b))


def sheathing(length: float, height: float) -> Sheathing:
    """Sheets lying or upright, whichever has fewer joints."""
    ways = [
        Sheathing(length, height, math.ceil(length / (wide * WHOLE)), math.ceil(height / (high * WHOLE)))
        for wide, high in (SHEET, SHEET[::-1])
    ]
    return min(ways, key=lambda way: (way.joints, way.blocks))


def panelled(installation: Installation, name: str, direction: str, group: str, places: Places) -> Measure:
    rack, system = installation.racks[name], installation.system
    panel, on_timber = PANEL[system], installation.room.floor.kind == "timber floor"
    edits = tuple(
        Edit(("racks", name, "panels"), {"face": face, "bay": bay, "storey": storey, **panel}, "add")
        for face, bay in places
        for storey in range(1, len(rack.decks) + 1)
    )
    made = [sheathing(rack.run(face), rise) for face, _ in places for rise in rises(rack)]
    pieces: dict[int, int] = {}
    for one in made:
        pieces[one.of_one_sheet] = pieces.get(one.of_one_sheet, 0) + one.across * one.up
    sheets = sum(math.ceil(count / of_one) for of_one, count in pieces.items())
    screws = sum(math.ceil(one.length / (SCREWED * WHOLE)) + 1 for one in made)
    board = timber(rack, system)
    most = max(made, key=lambda one: one.joints)
    steps = [
        "between the posts, flush with their faces, a bottom rail on the floor or deck and a top rail under the beam (at a short end "
        "under the joist), an angle at each end of each; the top rail is screwed up into beam or joist as well",
    ]
    if any(one.uprights for one in made):
        each = sorted({one.uprights for one in made if one.uprights})
        steps.append(
            f"from rail to rail {' or '.join(map(str, each))} upright{'s' if each != [1] else ''} of the same board in each bay, evenly "
            f"spaced, {written(STUDS, system)} apart at most"
        )
    if most.joints:
        steps.append(_joints(most, system))
    steps += [
        f"nails every {panel['edge_spacing']} along all edges of every sheet, into posts, rails, and whatever lies behind a joint; "
        f"every {FIELD[system]} into the uprights between",
        "it wants to lift its end posts: "
        + ("an engineer must say what holds them to a timber floor" if on_timber else "see the anchors"),
        *((ACCESS,) if direction == "along" else ()),
    ]
    sizes = ", ".join(dict.fromkeys(f"{long(one.length, system)} x {long(one.height, system)}" for one in made))
    joints = f", in {most.joints + 1} pieces" if most.joints else ""
    return Measure(
        f"{group}/panel in {'; '.join(f'{face} {bay}' for face, bay in places)}",
        group,
        (f"rack {name}",),
        f"rack {name}, {direction}",
        f"a plywood panel over {place_words(places, rack)}",
        edits,
        (
            Need(
                "plywood panel",
                sheets,
                f"sheets of {panel['thickness']}, for panels of {sizes}{joints}; nails {panel['nail']}",
            ),
            _boards(made, board, system),
            Need(
                "framing tie",
                sum(one.ends for one in made),
                f"angle with its nails, for the ends of rails{_besides(made)}",
            ),
            Need("structural screw", screws, f"{SCREWS[system]}, top rails to beam or joist"),
        ),
        tuple(steps),
        pulled_out(installation, name, dict.fromkeys(face for face, _ in places), system),
    )


def _boards(made: list[Sheathing], board: str, system: System) -> Need:
    pieces: dict[str, int] = {}
    for one in made:
        for length, count in one.boards.items():
            pieces[long(length, system)] = pieces.get(long(length, system), 0) + count
    total = math.fsum(length * count for one in made for length, count in one.boards.items())
    cut = ", ".join(f"{count} of {length}" for length, count in pieces.items())
    return Need(ITEM, feet(total), f"{board}, rails{_besides(made)} of panels: {cut}")


def _besides(made: list[Sheathing]) -> str:
    uprights, blocks = any(one.uprights for one in made), any(one.blocks for one in made)
    return (", uprights" if uprights and blocks else " and uprights" if uprights else "") + (
        " and blocks" if blocks else ""
    )


def _joints(one: Sheathing, system: System) -> str:
    upright = "on the middle of an upright" if one.across > 1 else ""
    level = "on blocks set between posts and uprights" if one.up > 1 else ""
    where = "; level ones ".join(part for part in (upright, level) if part)
    return f"a panel is larger than a sheet: sheets meet {where}, {APART[system]} apart, and both are nailed there"
