"""Can it be built, with the dressed sizes of its timber?"""

from __future__ import annotations

import itertools

from brimfast.assess.parts import Member, RackParts
from brimfast.assess.timber.gusset import gusset_run, gusset_spacing
from brimfast.shared.constants import INCH
from brimfast.shared.errors import Problem
from brimfast.shared.installation.model import Installation
from brimfast.shared.installation.rack import Rack

NAILS_APART = 15  # diameters along the grain without predrilling: NDS Commentary Table C12.1.6.6, from memory


def rack_problems(
    name: str, rack: Rack, post: Member, beam: Member, joist: Member, sill: Member | None
) -> list[Problem]:
    """What of one rack cannot be built."""
    stacked = rack.deck.thickness + (joist.width if rack.joist.seat == "on beams" else 0.0) + beam.width
    problems = []
    if stacked > rack.deck_height:
        message = f"deck, joists and beams together are {stacked / INCH:.2f} in high; expected deck_height above that"
        problems.append(Problem("E-FIT-001", f"found a deck too low: {message}", ("racks", name, "deck_height")))
    for index, (below, above) in enumerate(itertools.pairwise(rack.decks)):
        if stacked >= above - below:
            message = (
                f"found a tier whose deck, joists and beams, {stacked / INCH:.2f} in high, fill the space to the deck "
                "below; expected it higher"
            )
            problems.append(Problem("E-FIT-001", message, ("racks", name, "upper_tiers", index, "deck_height")))
    problems.extend(_knee_misfits(name, rack, stacked - beam.width / 2))
    problems.extend(_gusset_misfits(name, rack, post, beam, stacked - beam.width / 2))
    problems.extend(_rail_misfits(name, rack, stacked, beam))
    bolt = rack.feet.bolt
    if bolt is not None and sill is not None and bolt[1] < sill.thickness + 4 * bolt[0]:
        message = "found an anchor bolt that ends less than 4 diameters below the sill; expected a longer one"
        problems.append(Problem("E-FIT-001", message, ("racks", name, "feet", "bolt")))
    if rack.width <= 2 * post.width:
        problems.append(
            Problem("E-FIT-001", "found a rack no wider than two posts; expected it wider", ("racks", name, "width"))
        )
    return problems


def _rail_misfits(name: str, rack: Rack, stacked: float, beam: Member) -> list[Problem]:
    """Rails on a long side where a beam is: two members in one place."""
    problems = []
    for index, rail in enumerate(rack.rails):
        for deck in rack.decks:
            low, high = deck - stacked, deck - stacked + beam.width
            if rail.face not in ("left", "right") and low < rail.height <= high:
                message = (
                    f"found a rail at the height of a beam, {low / INCH:.1f} to {high / INCH:.1f} in above the floor; expected it "
                    "above or below"
                )
                problems.append(Problem("E-FIT-001", message, ("racks", name, "rails", index, "height")))
    return problems


def _knee_misfits(name: str, rack: Rack, from_deck_to_beam: float) -> list[Problem]:
    """Knees that would cross in their bay, or reach the floor or the deck below."""
    problems = []
    decks = (0.0, *rack.decks)
    for index, brace in enumerate(rack.braces):
        if brace.leg is None or brace.storey > len(rack.decks):
            continue
        rise = decks[brace.storey] - from_deck_to_beam - decks[brace.storey - 1]
        most = min(rack.run(brace.face) / 2, rise)
        if brace.leg >= most:
            message = (
                f"found a leg of {brace.leg / INCH:.1f} in; expected less than {most / INCH:.1f} in: half the bay, and "
                "the height from the floor or deck below to the beam's middle"
            )
            problems.append(Problem("E-FIT-001", message, ("racks", name, "braces", index, "leg")))
    return problems


def _gusset_misfits(name: str, rack: Rack, post: Member, beam: Member, from_deck_to_beam: float) -> list[Problem]:
    """Gussets that would meet in their bay or reach the floor or the deck below; nails too near each other."""
    problems = []
    decks = (0.0, *rack.decks)
    for index, gusset in enumerate(rack.gussets):
        if gusset.storey > len(rack.decks):
            continue
        rise = decks[gusset.storey] - from_deck_to_beam - decks[gusset.storey - 1]
        most, beyond = min(rack.bay_length / 2, rise), max(post.width, beam.width) / 2
        apart = gusset_spacing(gusset.leg, gusset.nails, beyond)
        if gusset.leg >= most:
            message = (
                f"found a leg of {gusset.leg / INCH:.1f} in; expected less than {most / INCH:.1f} in: half the bay, and "
                "the height from the floor or deck below to the beam's middle"
            )
            problems.append(Problem("E-FIT-001", message, ("racks", name, "gussets", index, "leg")))
        elif gusset_run(gusset.leg, beyond) <= 0:
            message = (
                f"found a leg of {gusset.leg / INCH:.1f} in; expected a longer one: {beyond / INCH:.2f} in of it lie over the "
                "other timber, and its nails stand past that"
            )
            problems.append(Problem("E-FIT-001", message, ("racks", name, "gussets", index, "leg")))
        elif apart < NAILS_APART * gusset.nail[0] * (1 - 1e-9):
            message = (
                f"found {gusset.nails} nails in a leg of {gusset.leg / INCH:.1f} in, past the other timber's edge: {apart / INCH:.2f} in from "
                "one to the next; "
                f"expected {NAILS_APART} diameters or more, {NAILS_APART * gusset.nail[0] / INCH:.2f} in"
            )
            problems.append(Problem("E-FIT-001", message, ("racks", name, "gussets", index, "nails")))
    return problems


def fitting_problems(installation: Installation, racks: dict[str, RackParts | None]) -> list[Problem]:
    """What does not fit to the racks: fasteners to their members, vessels under the tier above."""
    return [*_spreads(installation, racks), *_headroom(installation, racks)]


def _spreads(installation: Installation, racks: dict[str, RackParts | None]) -> list[Problem]:
    """Fasteners that would stand outside the wood they hold."""
    problems = []
    for index, joint in enumerate(installation.joints):
        parts, spread = racks.get(joint.rack), joint.fasteners.spread
        if parts is None or spread is None:
            continue
        depth = {"beam to post": parts.beam.width, "joist to beam": parts.joist.width}.get(joint.where)
        if depth is not None and spread >= depth:
            message = f"found a spread of {spread / INCH:.1f} in; expected less than the member's depth, {depth / INCH:.2f} in"
            problems.append(Problem("E-FIT-001", message, ("joints", index, "fasteners", "spread")))
    return problems


def _headroom(installation: Installation, racks: dict[str, RackParts | None]) -> list[Problem]:
    """Vessels that would stand in the joists of the tier above."""
    problems = []
    for index, vessel in enumerate(installation.vessels):
        parts = racks.get(vessel.on)
        decks = installation.racks[vessel.on].decks if vessel.on in installation.racks else ()
        if parts is None or vessel.depth is None or vessel.tier >= len(decks):
            continue
        under = decks[vessel.tier] - decks[vessel.tier - 1] - parts.deck_thickness - parts.joist.width
        if vessel.raised + vessel.depth > under + 1e-6:
            message = (
                f"found {vessel.name!r} higher than the space to the joists above, {under / INCH:.1f} in; "
                "expected it lower, or the tier above higher"
            )
            problems.append(Problem("E-FIT-001", message, ("vessels", index, "depth")))
    return problems
