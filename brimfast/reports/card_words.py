"""What the two cards say: what to look at and retighten, and what must hang beside the water. All of it from the file."""

from __future__ import annotations

from collections.abc import Iterator

from brimfast.assess.pipeline import Assessment
from brimfast.reports.words import both, capital, listed, plain_name
from brimfast.shared.installation.flow import HOUSE_DRAIN
from brimfast.shared.installation.joint import Joint
from brimfast.shared.installation.model import Installation
from brimfast.shared.installation.rack import Rack
from brimfast.shared.installation.vessel import Vessel
from brimfast.shared.units import System, show

LOOK: dict[str, str] = {
    "through-bolt": "nuts retightened by hand and wrench, washers not sunk into the wood, no rust",
    "lag screw": "heads tight, no gap behind them, no split in line with them",
    "wood screw": "heads flush, none bent or broken, no gap between the timbers",
    "structural screw": "heads flush, none bent or broken, no gap between the timbers",
    "nail": "none backing out, no gap between the timbers",
    "framing tie": "every hole has its nail, the steel not bent, no rust",
}


PAN = "empty and dry, nothing stored in it, its rim whole"


def monthly(installation: Installation) -> list[tuple[str, str]]:
    """What to look at every month, and what should be so."""
    found: list[tuple[str, str]] = []
    for name, rack in installation.racks.items():
        found += _rack(installation, name, rack)
    found += [(vessel.name, _vessel(vessel)) for vessel in installation.vessels]
    found += _lines(installation)
    found += [
        (thing.name, "hooks closed, chain or wire whole, nothing it can swing against; a second wire at each end")
        for thing in installation.hung
    ]
    for number, _ in enumerate(installation.room.drains, start=1):
        name = "floor drain" if len(installation.room.drains) == 1 else f"floor drain {number}"
        found.append((name, "grate clean; a bucket of water runs off at once"))
    found.append(
        ("power", "test button of the ground-fault (residual-current) switch trips; plugs dry, above the floor")
    )
    return found


def _rack(installation: Installation, name: str, rack: Rack) -> Iterator[tuple[str, str]]:
    title = capital(plain_name(f"rack {name}"))
    joints: dict[str, Joint] = installation.joints_of(name)
    if "beam to post" not in joints:
        yield f"{title}, beam to post", "no gap, no split; the file does not say what holds them: find out"
    for where, joint in joints.items():
        count, kind = joint.fasteners.count, joint.fasteners.kind
        yield f"{title}, {where}", f"{count} {kind}{'s' if count > 1 else ''} a joint: {LOOK[kind]}"
    if rack.feet.anchored:
        yield f"{title}, feet", f"anchors at {rack.posts} posts tight, no crack in the floor around them"
    else:
        yield f"{title}, feet", f"{rack.posts} feet stand on their pencil marks, wood sound at the floor"
    if rack.braces:
        bays = listed([f"{brace.face} bay {brace.bay}" for brace in rack.braces], 4)
        yield f"{title}, braces", f"{bays}: straight, tight at both ends"
    if rack.panels:
        bays = listed([f"{panel.face} bay {panel.bay}" for panel in rack.panels], 4)
        yield f"{title}, panels", f"{bays}: no nail standing out, edges not torn or swollen"
    if rack.gussets:
        bays = listed([f"{gusset.face} bay {gusset.bay}" for gusset in rack.gussets], 4)
        yield f"{title}, gussets", f"{bays}: no nail standing out, plywood not split, swollen or soft"
    if rack.joined_to is not None:
        held = rack.joined_to.fasteners
        other = plain_name(f"rack {rack.joined_to.rack}")
        yield (
            f"{title}, joined to {other}",
            f"{held.count} {held.kind}{'s' if held.count > 1 else ''} a post: {LOOK[held.kind]}",
        )
    if rack.pan is not None:
        yield f"{title}, pan", PAN
    for tie in rack.wall_ties:
        yield f"{title}, wall ties", f"{tie.count} screws tight, wall not cracked around them"
    yield f"{title}, as a whole", "posts plumb by a level, beams not sagging more than last month, no soft or dark wood"


def _vessel(vessel: Vessel) -> str:
    text = "seams, liner and fittings dry; water at its mark or below"
    if vessel.lid is not None:
        text += f"; all {vessel.lid.fastenings} fastenings of its lid closed"
    if vessel.pan is not None:
        text += f"; its pan {PAN}"
    if vessel.anchors is not None:
        return f"{text}; its {vessel.anchors.count} anchors or straps tight"
    return f"{text}; on its marks" if vessel.on == "floor" else text


def _lines(installation: Installation) -> Iterator[tuple[str, str]]:
    for pump in installation.pumps:
        also = []
        if pump.anti_siphon:
            also.append("siphon hole open")
        if pump.check_valve:
            also.append("check valve closes")
        if pump.float_switch:
            also.append("float switch stops it")
        if pump.slack:
            also.append("slack of its pipe still there")
        yield pump.name, "; ".join(["intake clean, clamps tight, no drip along its line", *also])
    for pipe in installation.pipes:
        where = "to the house drain" if pipe.receiver == HOUSE_DRAIN else f"to {pipe.receiver}"
        yield pipe.name, f"strainer clean, runs freely {where}, no drip where it passes the wall"
    for supply in installation.supplies:
        valve = "float valve closes" if supply.float_valve else "shuts off fully"
        yield supply.name, f"{valve}, hose sound; never on unseen for more than {_time(supply.unattended)}"


def _time(seconds: float) -> str:
    return show(seconds, "time", "us") if seconds >= 3600 else f"{round(seconds / 60)} min"


def after_shaking(installation: Installation) -> list[str]:
    """In this order, after any shaking that was felt."""
    found = [
        "Wait for aftershocks; enter only if the building itself looks sound. Smell gas: out, and call from outside."
    ]
    found.append("Power of the room off before you step onto a wet floor.")
    if installation.supplies:
        found.append(f"Close {listed([one.name for one in installation.supplies], 4)}.")
    if installation.pumps:
        found.append(f"Leave {listed([one.name for one in installation.pumps], 4)} unplugged until pipes are whole.")
    if installation.racks:
        found.append("From outside the rack: any post out of plumb, foot off its mark, joint open, timber split?")
    found += [
        "Every line of the list above, then levels: lower than before means a leak.",
        "Anything moved, opened or cracked: drain it from the top down, keep everyone out, call the engineer.",
    ]
    return found


def level_rows(installation: Installation, assessment: Assessment, system: System) -> list[tuple[str, str, str]]:
    """Of each vessel: name, the level not to be passed (above its bottom inside), its loaded weight."""
    rows = []
    for vessel in installation.vessels:
        weight = both(assessment.vessels[vessel.name].mass, "mass", system)
        rows.append((vessel.name, _level(vessel, assessment, system), weight))
    return rows


def _level(vessel: Vessel, assessment: Assessment, system: System) -> str:
    if vessel.water is not None:
        return both(vessel.water, "length", system)
    holds = assessment.vessels[vessel.name].water_volume
    return f"{both(holds, 'volume', system)} in all" if holds > 0 else "as weighed: mark it"


def shut_off(installation: Installation) -> list[tuple[str, str]]:
    """What to turn off, first things first; where that is done is for the owner to write in."""
    found = [("Power of this room", "before you step into water")]
    found += [(supply.name, "close it") for supply in installation.supplies]
    found.append(("Main shut-off of the water", "if a line is torn"))
    found += [(pump.name, f"unplug; lifts {pump.source} to {pump.receiver}") for pump in installation.pumps]
    return found


INSPECTION, WALL = "Inspection card", "Card for the wall"
INSPECT = "Every month, and after any shaking. Put right what is not so, or call for help."
MONTHLY_HEAD = ("what", "should be so")
AFTER = "After any shaking, in this order"
SIGNED = "Looked at on, by:"
LEVELS_NOTE = "Levels are above the inside of the vessel's bottom."
LEVEL_HEAD = ("vessel", "do not fill above", "weighs then")
TROUBLE = "Water where it should not be, or shaking"
BENEATH = "No one sleeps, sits or plays beneath or beside this. Nothing more is put on it without a new calculation."
CALLED = "Call"
CALL = ("Engineer", "Landlord or building", "Insurer", "Electrician, plumber", "Emergency")


def loaded_text(assessment: Assessment, planned: bool, system: System) -> str:
    """planned: the card is that of an installation which is not yet built so."""
    loaded = f"Loaded: {both(assessment.total_mass, 'mass', system)}."
    return f"{loaded} Valid once the plan is built." if planned else loaded
