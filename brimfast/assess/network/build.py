"""The water network of an installation, from its file: vessels, floors, and every way between them, broken ones too."""

from __future__ import annotations

import math

from brimfast.assess.network.losses import pipe_losses
from brimfast.assess.network.model import (
    DRAINED,
    HOUSE,
    MAINS,
    NEVER,
    OUTSIDE,
    OVER_RIM,
    OVER_SILL,
    PUMPED,
    RETURNED,
    ROOM,
    RUNS,
    SEWER,
    SUPPLIED,
    Catch,
    Link,
    Network,
    Node,
    back_to_the_floor,
    over_rim,
    siphon_back,
    siphon_on,
    torn,
    way_back,
)
from brimfast.assess.network.pans import catches, pan_nodes
from brimfast.assess.network.pipe_flow import full_pipe_flow
from brimfast.assess.parts import VesselParts
from brimfast.assess.weight import VesselWeight
from brimfast.data_tables.loader import factor_si, pipe_material
from brimfast.shared.installation.flow import HOUSE_DRAIN, Pipe, Pump, Supply
from brimfast.shared.installation.model import Installation
from brimfast.shared.installation.site import DOOR, Drain
from brimfast.shared.installation.vessel import Vessel

ADDED_DRAIN = "a drain that could be added"
OTHER_WAYS, OTHER_WAY = "other ways out", 0.3048  # m: deeper than 1 ft water does not stay, whatever the file says
LEAST_FREE = 1e-6  # of a pipe that is blocked altogether, so that its bore is still a number
SWITCH_BELOW = 0.01  # m below the rim a float switch stops its pump
SWITCH_AGAIN = 0.03  # m lower it starts again


def network(installation: Installation, parts: dict[str, VesselParts], weights: dict[str, VesselWeight]) -> Network:
    """Links that only an event opens are there from the start, and off."""
    vessels = {vessel.name: _vessel(installation, vessel, parts, weights) for vessel in installation.vessels}
    links: list[Link] = []
    notes: list[str] = []
    for pump in installation.pumps:
        links += _pump(pump, vessels)
        if pump.pipe is None:
            notes.append(f"the bore of {pump.name}'s pipe is not in the file: taken as 1 in")
    for pipe in installation.pipes:
        links += _pipe(pipe, vessels)
    returned, said = _returned(installation, vessels)
    links += returned
    notes += said
    for supply in installation.supplies:
        links += _supply(supply, vessels[supply.receiver])
    under = pan_nodes(installation, weights)
    pans = [node for node, _, _ in under.values()]
    caught = catches(under, vessels, links)
    links += [_seam(node, caught.get(node.name)) for node in vessels.values()]
    floors, ways, said = _floors(installation, free_floor(installation, weights, pans))
    links += ways
    notes += said
    for name in vessels:
        pan = caught.get(name)
        into = pan.pan if pan is not None and pan.overflow else ROOM
        links.append(Link(over_rim(name), OVER_RIM, name, into))
    links += [Link(over_rim(node.name), OVER_RIM, node.name, ROOM) for node in pans]
    return Network((*vessels.values(), *pans, *floors), tuple(links), tuple(notes), caught)


def _returned(installation: Installation, vessels: dict[str, Node]) -> tuple[list[Link], list[str]]:
    """Where the file does not say how water runs back, all that a pump brings does; and notes of that."""
    links, notes = [], []
    for pump in installation.pumps:
        if not _runs_back(installation, pump):
            notes.append(
                f"how the water of {pump.receiver} runs back is not in the file: all that {pump.name} brings is taken to run "
                f"back to {pump.source}"
            )
            level = vessels[pump.receiver].level(vessels[pump.receiver].start)
            links.append(Link(way_back(pump.name), RETURNED, pump.receiver, pump.source, z_in=level, follows=pump.name))
    return links, notes


def _supply(supply: Supply, node: Node) -> list[Link]:
    """Into its vessel, and torn onto the floor."""
    level = node.level(node.start)
    ways = ((supply.name, supply.receiver, supply.float_valve), (torn(supply.name), ROOM, False))
    return [
        Link(
            name,
            SUPPLIED,
            MAINS,
            target,
            on,
            z_in=level,
            flow=supply.flow,
            until=supply.unattended,
            float_valve=on,
        )
        for name, target, on in ways
    ]


def _seam(node: Node, pan: Catch | None) -> Link:
    """The lowest seam, once it is torn."""
    hole, C = factor_si("tear_opening"), factor_si("tear_discharge")
    bore = math.sqrt(4 * hole / math.pi)
    target = pan.pan if pan is not None and pan.torn_seam else ROOM
    return Link(
        f"{node.name}, torn seam",
        RUNS,
        node.name,
        target,
        False,
        node.base,
        node.base,
        bore,
        0.0,
        1 / C**2,
        0.0,
        math.pi * bore,
        hole,
    )


def _floors(installation: Installation, area: float) -> tuple[list[Node], list[Link], list[str]]:
    """The room with so much free floor (m²) and the rooms next to it, their drains, doors and other ways out; and notes."""
    room = installation.room
    floors = [Node(ROOM, area, 0.0, is_room=True)]
    links = [*_drains(room.drains, ROOM), Link(ADDED_DRAIN, DRAINED, ROOM, SEWER, False)]
    notes = []
    if not room.next or room.door is not None:
        width = room.door if room.door is not None else DOOR
        links.append(Link("the door", OVER_SILL, ROOM, OUTSIDE, z_in=room.sill, width=width))
    else:
        links.append(Link(OTHER_WAYS, OVER_SILL, ROOM, OUTSIDE, z_in=OTHER_WAY, width=DOOR))
        notes.append("no door leads out: water over 1 ft deep is taken to find other ways out, and counts as leaving")
    for one in room.next:
        other = f"{OTHER_WAYS} of {one.name}"
        links.append(Link(other, OVER_SILL, one.name, OUTSIDE, z_in=OTHER_WAY, width=DOOR))
        floors.append(Node(one.name, one.length * one.width, 0.0, is_room=True))
        links.append(Link(f"door to {one.name}", OVER_SILL, ROOM, one.name, z_in=one.sill, width=one.door))
        links.append(Link(f"door from {one.name}", OVER_SILL, one.name, ROOM, z_in=one.sill, width=one.door))
        links += _drains(one.drains, one.name)
    return floors, links, notes


def _runs_back(installation: Installation, pump: Pump) -> bool:
    """Whether the file says how water leaves its receiver: by a pipe, or by pumps that lead back to its source."""
    if any(pipe.source == pump.receiver for pipe in installation.pipes):
        return True
    reached, ahead = {pump.receiver}, [pump.receiver]
    while ahead:
        here = ahead.pop()
        for other in installation.pumps:
            if other.source == here and other.receiver not in reached:
                reached.add(other.receiver)
                ahead.append(other.receiver)
    return pump.source in reached


def free_floor(installation: Installation, weights: dict[str, VesselWeight], pans: list[Node]) -> float:
    """The room less what stands on it and what pans cover (the file is refused where that leaves less than a twentieth)."""
    gross = installation.room.length * installation.room.width
    taken = math.fsum(weights[vessel.name].base_area for vessel in installation.on_floor())
    taken += math.fsum(pan.area for pan in pans)
    return max(gross - taken, gross / 100)


def _vessel(
    installation: Installation, vessel: Vessel, parts: dict[str, VesselParts], weights: dict[str, VesselWeight]
) -> Node:
    """One that is only weighed counts as a column of water over its footprint, full to the rim."""
    weight, base = weights[vessel.name], installation.base_of(vessel)
    start = weight.water_volume
    if vessel.water is None or vessel.depth is None:
        area = weight.base_area
        return Node(vessel.name, area, start, base, base + start / area)
    porosity, filled = parts[vessel.name].porosity, min(vessel.filled, vessel.depth)
    return Node(vessel.name, weight.area, start, base, base + vessel.depth, porosity, filled)


def _runs(
    name: str,
    source: str,
    target: str,
    on: bool,
    z_in: float,
    z_out: float,
    bore: float,
    length: float,
    bends: int,
    material: str,
    free: float = 1.0,
    siphon: bool = False,
    starts: float = NEVER,
    check_valve: bool = False,
) -> Link:
    return Link(
        name,
        RUNS,
        source,
        target,
        on,
        z_in,
        z_out,
        bore * math.sqrt(max(free, LEAST_FREE)),
        length,
        pipe_coefficient(bends, check_valve=check_valve),
        pipe_material(material).roughness_mm / 1000,
        math.pi * bore * free,
        math.pi / 4 * bore**2 * free,
        siphon,
        starts=starts,
    )


def pipe_coefficient(bends: int, *, check_valve: bool) -> float:
    """Sum of a pipe's loss coefficients: entrance, exit, bends, check valve."""
    K = factor_si("K_entrance") + factor_si("K_exit") + bends * factor_si("K_bend")
    return K + factor_si("K_check_valve") if check_valve else K


def _pump(pump: Pump, vessels: dict[str, Node]) -> list[Link]:
    """The pump, its line broken at either end, and its pipe as a siphon both ways where nothing stops that."""
    source, receiver = vessels[pump.source], vessels[pump.receiver]
    intake, outlet = source.base + pump.intake, receiver.base + (pump.outlet or 0.0)
    bore = pump.pipe if pump.pipe is not None else factor_si("pump_pipe_assumed")
    length = pump.length if pump.length is not None else factor_si("pump_pipe_length_assumed")
    table = _table(pump, bore, length) if pump.curve else ()
    stop = again = NEVER
    if pump.float_switch:
        room = receiver.rim - receiver.level(receiver.start)
        stop = receiver.rim - (min(SWITCH_BELOW, room / 2) if room > 0 else SWITCH_BELOW)
        again = stop - SWITCH_AGAIN
    links = [
        Link(
            pump.name,
            PUMPED,
            pump.source,
            pump.receiver,
            z_in=intake,
            z_out=outlet,
            flow=pump.flow,
            table=table,
            stops_at=stop,
            again_at=again,
        )
    ]

    def siphon(name: str, start: str, end: str, z_in: float, z_out: float) -> Link:
        return _runs(name, start, end, False, z_in, z_out, bore, length, pump.bends, pump.material, siphon=True)

    return [
        *links,
        siphon(siphon_back(pump.name), pump.receiver, pump.source, outlet, intake),
        siphon(siphon_on(pump.name), pump.source, pump.receiver, intake, outlet),
        siphon(back_to_the_floor(pump.name), pump.receiver, ROOM, outlet, 0.0),
    ]


def _table(pump: Pump, bore: float, length: float) -> tuple[tuple[float, float], ...]:
    """Static head and the flow that the curve leaves after the pipe's losses, at the curve's own flows and between."""
    K = pipe_coefficient(pump.bends, check_valve=pump.check_valve)
    return pipe_losses(sorted(pump.curve), bore, length, K, pipe_material(pump.material).roughness_mm / 1000)


def _pipe(pipe: Pipe, vessels: dict[str, Node]) -> list[Link]:
    source = vessels[pipe.source]
    z_in = source.base + pipe.intake
    to_house = pipe.receiver == HOUSE_DRAIN
    z_out = pipe.outlet if to_house else vessels[pipe.receiver].base + pipe.outlet
    starts = NEVER if pipe.starts_at is None else source.base + pipe.starts_at
    running = pipe.starts_at is None
    given = (pipe.bore, pipe.length, pipe.bends, pipe.material, 1.0 - pipe.blocked)
    end = HOUSE if to_house else pipe.receiver
    lowest = source.base if pipe.passes == "bottom" else z_in
    links = [
        _runs(
            pipe.name,
            pipe.source,
            end,
            running,
            z_in,
            z_out,
            *given,
            siphon=not running,
            starts=starts,
            check_valve=pipe.check_valve,
        ),
        _runs(f"{pipe.name}, broken above", pipe.source, ROOM, False, lowest, lowest, *given),
        _runs(f"{pipe.name}, broken below", pipe.source, ROOM, False, z_in, min(z_out, z_in), *given),
    ]
    if not to_house and not pipe.check_valve and running:
        links.append(_runs(f"{pipe.name}, back", pipe.receiver, pipe.source, True, max(z_out, z_in), z_in, *given))
    return links


def _drains(drains: list[Drain], room: str) -> list[Link]:
    return [
        Link(
            f"drain {number} of {room}",
            DRAINED,
            room,
            SEWER,
            z_in=drain.height,
            takes=drain.backs_up_after if drain.backs_up_after is not None else math.inf,
            **drain_sizes(drain.bore, drain.across, drain.open_share, drain.free, drain.slope),  # type: ignore[arg-type]
        )
        for number, drain in enumerate(drains, start=1)
    ]


def drain_sizes(bore: float, across: float, open_share: float, free: float, slope: float) -> dict[str, float]:
    """What of a link a drain's size decides; bore and grate across (m), shares open and free of dirt, slope of its pipe."""
    return {
        "rim": math.pi * across * free,
        "opening": math.pi / 4 * across**2 * open_share * free,
        "pipe_flow": float(full_pipe_flow(factor_si("manning_n_plastic"), bore, slope)),
    }
