"""Whether stiffening, tiers and rails fit their rack, and racks each other where they meet."""

from __future__ import annotations

import itertools
import math

from brimfast.shared.errors import Problem
from brimfast.shared.installation.model import Installation
from brimfast.shared.installation.rack import FACES, Rack
from brimfast.shared.units import show

LEAST_BETWEEN_RAILS = 0.0254  # m
NEAR_CORNER = 0.3  # m
LEAST_STOREY = 0.2  # m: decks nearer than this leave no room for joists and beams


def braces(installation: Installation) -> list[Problem]:
    """Each bay of a face is stiffened once a storey, by a brace or a panel; ties reach no higher than the rack."""
    problems: list[Problem] = []
    for name, rack in installation.racks.items():
        seen: set[tuple[str, int, int]] = set()
        stiff = [("braces", index, brace.face, brace.bay, brace.storey) for index, brace in enumerate(rack.braces)]
        stiff += [("panels", index, panel.face, panel.bay, panel.storey) for index, panel in enumerate(rack.panels)]
        for group, index, face, bay, storey in stiff:
            path = ("racks", name, group, index)
            bays, storeys = rack.bays_of(face), len(rack.decks)
            if bay > bays:
                message = f"found bay {bay} on the {face} face, which has {bays}; expected 1 to {bays}"
                problems.append(Problem("E-FIT-001", message, (*path, "bay")))
            elif storey > storeys:
                message = (
                    f"found storey {storey} of a rack with {storeys}; expected 1 to {storeys}, counted from the floor"
                )
                problems.append(Problem("E-FIT-001", message, (*path, "storey")))
            elif group == "braces" and rack.braces[index].kind == "knee" and face in FACES["across"]:
                message = "found a knee on a short end, where no beam lies; expected the front or the back"
                problems.append(Problem("E-FIT-001", message, (*path, "face")))
            elif (face, bay, storey) in seen:
                message = f"found bay {bay} of the {face} face braced or panelled a second time; expected it once"
                problems.append(Problem("E-FIT-001", message, path))
            seen.add((face, bay, storey))
        problems.extend(_gussets(name, rack))
        for index, tie in enumerate(rack.wall_ties):
            if tie.height > rack.top + 1e-6:
                shown = show(rack.top, "length", installation.system)
                message = f"found a tie above the rack; expected it at the rack's top, {shown}, or below"
                problems.append(Problem("E-FIT-001", message, ("racks", name, "wall_ties", index, "height")))
    return problems


def _gussets(name: str, rack: Rack) -> list[Problem]:
    """In bays and storeys that are there, once each, and in none that a panel or a knee fills."""
    problems: list[Problem] = []
    taken = {(panel.face, panel.bay, panel.storey): "a panel" for panel in rack.panels}
    taken |= {(brace.face, brace.bay, brace.storey): "a knee" for brace in rack.braces if brace.kind == "knee"}
    for index, gusset in enumerate(rack.gussets):
        path, place = ("racks", name, "gussets", index), (gusset.face, gusset.bay, gusset.storey)
        if gusset.bay > rack.bays:
            message = f"found bay {gusset.bay} of a rack with {rack.bays}; expected 1 to {rack.bays}"
            problems.append(Problem("E-FIT-001", message, (*path, "bay")))
        elif gusset.storey > len(rack.decks):
            message = f"found storey {gusset.storey} of a rack with {len(rack.decks)}; expected 1 to {len(rack.decks)}, counted from the floor"
            problems.append(Problem("E-FIT-001", message, (*path, "storey")))
        elif place in taken:
            message = f"found a gusset where {taken[place]} is; expected a bay of the {gusset.face} without"
            problems.append(Problem("E-FIT-001", message, path))
        elif rack.paired:
            message = "found gussets beside shared beam pairs; expected beams on one side of the posts"
            problems.append(Problem("E-FIT-001", message, path))
        taken.setdefault(place, "another one")
    return problems


def tiers(installation: Installation) -> list[Problem]:
    """Decks stand one above the other with room for what stands between them; a rail is no double of a beam."""
    problems: list[Problem] = []
    for name, rack in installation.racks.items():
        for index, (below, above) in enumerate(itertools.pairwise(rack.decks)):
            if above < below + LEAST_STOREY:
                shown = show(below + LEAST_STOREY, "length", installation.system)
                message = f"found a tier less than 8 in above the deck below it; expected {shown} or more"
                problems.append(Problem("E-FIT-001", message, ("racks", name, "upper_tiers", index, "deck_height")))
        problems.extend(_doubled_rails(name, rack))
        problems.extend(_turn(installation, name, rack))
        problems.extend(_joined(installation, name, rack))
    for index, vessel in enumerate(installation.vessels):
        on = installation.racks.get(vessel.on)
        if on is None:
            if vessel.tier != 1:
                message = "found tier for a vessel that stands on no rack; expected it only on a rack"
                problems.append(Problem("E-KEY-003", message, ("vessels", index, "tier")))
            continue
        if vessel.tier > len(on.decks):
            message = f"found tier {vessel.tier} of a rack with {len(on.decks)}; expected 1 to {len(on.decks)}, counted from the floor"
            problems.append(Problem("E-FIT-001", message, ("vessels", index, "tier")))
        elif vessel.depth is not None and vessel.tier < len(on.decks):
            room = on.decks[vessel.tier] - on.decks[vessel.tier - 1]
            if vessel.depth + vessel.raised >= room:
                shown = show(room, "length", installation.system)
                message = f"found {vessel.name!r} as high as the space to the deck above, {shown}; expected it lower"
                problems.append(Problem("E-FIT-001", message, ("vessels", index, "depth")))
    return problems


def _doubled_rails(name: str, rack: Rack) -> list[Problem]:
    """Two rails in one place."""
    problems = []
    for index, rail in enumerate(rack.rails):
        for other in rack.rails[:index]:
            share = not set(rail.faces).isdisjoint(other.faces)
            if share and abs(rail.height - other.height) < LEAST_BETWEEN_RAILS:
                message = "found a rail where another one is; expected it 1 in or more above or below"
                problems.append(Problem("E-FIT-001", message, ("racks", name, "rails", index, "height")))
    return problems


def _turn(installation: Installation, name: str, rack: Rack) -> list[Problem]:
    """A run that turns a corner joins a straight one at the same height."""
    turn = rack.turns_from
    if turn is None:
        return []
    path, other = ("racks", name, "turns_from", "rack"), installation.racks.get(turn.rack)
    others = tuple(one for one in installation.racks if one != name)
    if other is None or turn.rack == name:
        listed = ", ".join(repr(one) for one in others[:8]) or "there is none"
        return [Problem("E-NAME-001", f"found {turn.rack!r}; expected the name of another rack: {listed}", path)]
    if other.turns_from is not None:
        return [
            Problem("E-FIT-001", f"found {turn.rack!r}, which turns from a rack itself; expected a straight one", path)
        ]
    if abs(other.deck_height - rack.deck_height) > 1e-3:
        shown = show(other.deck_height, "length", installation.system)
        message = f"found a deck at another height than that of {turn.rack!r}, {shown}; expected the same"
        return [Problem("E-FIT-001", message, ("racks", name, "deck_height"))]
    if rack.width > other.length + 1e-6:
        return [Problem("E-FIT-001", f"found a rack wider than {turn.rack!r} is long; expected it narrower", path)]
    if rack.along == other.along:
        wanted = "width" if other.along == "length" else "length"
        message = f"found a rack that turns from {turn.rack!r} and lies along the same side of the room; expected along: {wanted}"
        return [
            Problem(
                "E-FIT-001", message, ("racks", name, "along" if "along" in rack.model_fields_set else "turns_from")
            )
        ]
    place = rack.turned_at(other)
    if place is not None and min(place) < -1e-6:
        return [Problem("E-FIT-001", "found a corner that reaches out of the room; expected it to stand within", path)]
    if place is not None and rack.at is not None and math.dist(place, rack.at) > NEAR_CORNER:
        shown = " x ".join(show(value, "distance", installation.system) for value in place)
        message = f"found at away from the corner with {turn.rack!r}; expected {shown}, or no at"
        return [Problem("E-FIT-001", message, ("racks", name, "at"))]
    return []


def _joined(installation: Installation, name: str, rack: Rack) -> list[Problem]:
    """Two straight racks of the same bays and heights, back beams to front beams; each joined to one other at most."""
    if rack.joined_to is None:
        return []
    path, main = ("racks", name, "joined_to"), rack.joined_to.rack
    other = installation.racks.get(main)
    if other is None or main == name:
        listed = ", ".join(repr(one) for one in tuple(installation.racks)[:8] if one != name) or "there is none"
        message = f"found {main!r}; expected the name of another rack: {listed}"
        return [Problem("E-NAME-001", message, (*path, "rack"))]
    turns = [one.turns_from.rack for one in installation.racks.values() if one.turns_from is not None]
    if rack.turns_from is not None or other.turns_from is not None or name in turns or main in turns:
        return [Problem("E-FIT-001", "found a joined rack that also turns a corner; expected one of both", path)]
    same = [one.joined_to.rack for one in installation.racks.values() if one.joined_to is not None]
    if other.joined_to is not None or same.count(main) > 1 or name in same:
        message = f"found more than two racks joined with {main!r}; expected two that are joined to no third"
        return [Problem("E-FIT-001", message, (*path, "rack"))]
    if not rack.beams_face(other):
        message = "found a joined rack whose beams are on top of its posts; expected beam_seat: on the side, beam against beam"
        return [Problem("E-FIT-001", message, path)]
    key = rack.unlike(other)
    if key is not None:
        message = (
            f"found another {key} than that of {main!r}, to which it is joined; expected the same, post beside post"
        )
        return [Problem("E-FIT-001", message, ("racks", name, key if key in rack.model_fields_set else "joined_to"))]
    place = rack.place_beside(installation.racks)
    if place is not None and rack.at is not None and math.dist(place, rack.at) > NEAR_CORNER:
        shown = " x ".join(show(value, "distance", installation.system) for value in place)
        message = f"found at away from the back of {main!r}; expected {shown}, or no at"
        return [Problem("E-FIT-001", message, ("racks", name, "at"))]
    return []
