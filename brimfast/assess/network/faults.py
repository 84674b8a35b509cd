"""What can go wrong in a water network: every single fault, and pairs that are likely to meet."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from brimfast.assess.network.model import (
    DRAINED,
    NEVER,
    PUMPED,
    ROOM,
    RUNS,
    SUPPLIED,
    Event,
    Network,
    Node,
    back_to_the_floor,
    siphon_back,
    siphon_on,
    torn,
    way_back,
)
from brimfast.shared.installation.flow import HOUSE_DRAIN, Pipe, Pump, Supply
from brimfast.shared.installation.model import Installation

ALL_WATER = "holds is not given: all its weight is taken as water"
NO_SWITCH = {"stops_at": NEVER, "again_at": NEVER}
Changes = dict[str, dict[str, Any]]
QUAKE = "earthquake"
AS_DESCRIBED = Event("as described", "as described", "the installation", "everything runs as the file says")


def faults(installation: Installation, network: Network) -> tuple[Event, ...]:
    """Single faults, then pairs."""
    return (*_singles(installation, network), *_pairs(installation, network))


def _singles(installation: Installation, network: Network) -> list[Event]:
    found = [AS_DESCRIBED]
    for node in network.vessels:
        if node.start > 0:
            found += _of_vessel(installation, network, node)
    for pump in installation.pumps:
        found += _of_pump(installation, network, pump)
    if installation.pumps:
        text = "the power fails: all pumps stop, and what stands higher runs and siphons back"
        found.append(Event("power cut", "power cut", "all pumps", text, _all_stopped(installation, network)))
    for pipe in installation.pipes:
        found += _of_pipe(installation, network, pipe)
    for supply in installation.supplies:
        found += _of_supply(supply)
    for name in installation.racks:
        found += _of_rack(installation, network, name)
    found.append(everything(installation, network))
    return found


def _of_vessel(installation: Installation, network: Network, node: Node) -> list[Event]:
    vessel = installation.vessel(node.name)
    note = ALL_WATER if vessel.weighed and vessel.holds is None else ""
    feeds = [pump.name for pump in installation.pumps if pump.receiver == node.name]
    feeds += [one.name for one in installation.supplies if one.receiver == node.name and one.float_valve]
    follows = f", and what {' and '.join(feeds)} bring{'s' if len(feeds) == 1 else ''} follows" if feeds else ""
    return [
        Event(
            f"rupture/{node.name}",
            "rupture",
            node.name,
            f"{node.name} bursts: all its free water is on the floor at once{follows}",
            _without(installation, network, {node.name}),
            {node.name: node.start},
            note,
        ),
        Event(
            f"tear/{node.name}",
            "tear",
            node.name,
            f"the lowest seam of {node.name} tears: it runs out through a hole",
            {f"{node.name}, torn seam": {"on": True}} | _runs_dry(installation, node.name),
            note=note,
        ),
    ]


def _of_pump(installation: Installation, network: Network, pump: Pump) -> list[Event]:
    siphons = "" if pump.anti_siphon else f", and {pump.receiver} siphons back through what is left"
    changes = _to_the_floor(network, pump.name, bare=True)
    if not pump.anti_siphon:
        changes[back_to_the_floor(pump.name)] = {"on": True}
    text = f"the line of {pump.name} tears at the pump: it pumps {pump.source} onto the floor{siphons}"
    found = [
        Event(
            f"line off/{pump.name}",
            "line off",
            pump.name,
            f"the line of {pump.name} comes off at {pump.receiver}: it pumps {pump.source} onto the floor, down to its "
            "intake",
            _to_the_floor(network, pump.name),
        ),
        Event(f"line torn/{pump.name}", "line torn", pump.name, text, changes),
    ]
    clogged = _clogged(network, pump.name, pump.receiver, installation)
    if clogged and not pump.float_switch:
        text = (
            f"all that runs out of {pump.receiver} clogs while {pump.name} runs: it overflows until {pump.source} is "
            "down to the intake"
        )
        found.append(Event(f"return clogged/{pump.name}", "return clogged", pump.name, text, clogged))
    if len(installation.pumps) > 1:
        text = f"{pump.name} stops while the others run on"
        found.append(Event(f"stops/{pump.name}", "pump stops", pump.name, text, _stopped(network, pump)))
    return found


def _of_pipe(installation: Installation, network: Network, pipe: Pipe) -> list[Event]:
    found = [Event(f"clogged/{pipe.name}", "clogged", pipe.name, f"{pipe.name} clogs", _shut(pipe.name))]
    for end, where in (("above", f"at {pipe.source}"), ("below", f"at {_end(pipe.receiver)}")):
        changes = {**_shut(pipe.name), f"{pipe.name}, broken {end}": {"on": True}}
        if end == "above":
            changes |= _runs_dry(installation, pipe.source)
        if end == "below" and pipe.starts_at is not None:
            starts = network.node(pipe.source).base + pipe.starts_at
            changes[f"{pipe.name}, broken below"] = {"on": False, "siphon": True, "starts": starts}
        text = f"{pipe.name} shears off {where}: what it carries runs onto the floor"
        found.append(Event(f"sheared {end}/{pipe.name}", "sheared", pipe.name, text, changes))
    return found


def _of_supply(supply: Supply) -> list[Event]:
    how = "its float valve sticks open" if supply.float_valve else "it is left on"
    on = f"{supply.name} fills {supply.receiver} and {how} for the stated time"
    off = f"{supply.name} slips out of {supply.receiver} or tears: it runs onto the floor for the stated time"
    return [
        Event(f"supply/{supply.name}", "supply", supply.name, on, _left_on(supply.name)),
        Event(f"supply off/{supply.name}", "supply off", supply.name, off, _torn_off(supply.name)),
    ]


def _of_rack(installation: Installation, network: Network, name: str) -> list[Event]:
    """It comes down, where anything with water stands on it."""
    on_it = {vessel.name for vessel in installation.on_rack(name)}
    at_once = {node.name: node.start for node in network.vessels if node.name in on_it and node.start > 0}
    if not at_once:
        return []
    text = f"rack {name} comes down: all that stands on it is on the floor at once, and its lines are torn"
    changes = _without(installation, network, on_it)
    return [Event(f"collapse/{name}", "collapse", f"rack {name}", text, changes, at_once)]


def everything(installation: Installation, network: Network) -> Event:
    """The most that one earthquake can do: every vessel at once, every supply's line torn for its stated time."""
    names = {node.name for node in network.vessels}
    changes = _without(installation, network, names)
    changes |= {pump.name: {"on": False, **NO_SWITCH} for pump in installation.pumps}
    for supply in installation.supplies:
        changes |= _torn_off(supply.name)
    at_once = {node.name: node.start for node in network.vessels}
    text = "one earthquake breaks every vessel and every supply line: taken as the most that can come"
    return Event(QUAKE, QUAKE, "the whole installation", text, changes, at_once)


def _pairs(installation: Installation, network: Network) -> list[Event]:
    found = []
    for pump in installation.pumps:
        clogged = _clogged(network, pump.name, pump.receiver, installation)
        if pump.float_switch and clogged:
            text = (
                f"all that runs out of {pump.receiver} clogs, and the float switch of {pump.name} fails: it runs on until "
                f"{pump.source} is down to the intake"
            )
            changes = {**clogged, pump.name: dict(NO_SWITCH)}
            found.append(Event(f"runs on/{pump.name}", "runs on", pump.name, text, changes, pair=True))
    guarded = [pump for pump in installation.pumps if pump.anti_siphon or pump.check_valve]
    for pump in guarded:
        guard = "anti-siphon hole" if pump.anti_siphon else "check valve"
        text = f"the power fails, and the {guard} of {pump.name} is clogged or stuck: its pipe siphons"
        changes = {**_all_stopped(installation, network), **_stopped(network, pump, unguarded=True)}
        found.append(Event(f"power cut, unguarded/{pump.name}", "power cut", pump.name, text, changes, pair=True))
    for supply in installation.supplies:
        clogged = _clogged(network, "", supply.receiver, installation)
        if clogged:
            text = f"{supply.name} runs on for the stated time, and all that runs out of {supply.receiver} is clogged"
            changes = {**clogged, **_left_on(supply.name)}
            found.append(Event(f"supply clogged/{supply.name}", "supply", supply.name, text, changes, pair=True))
    return found


def clogged_id(event: str) -> str:
    return f"{event}, drains clogged"


def with_drains_clogged(network: Network, events: Iterable[Event]) -> tuple[Event, ...]:
    """The same events with every floor drain clogged besides."""
    shut = {link.name: {"on": False} for link in network.links if link.kind == DRAINED and link.on}
    if not shut:
        return ()
    return tuple(
        replace(
            event,
            id=clogged_id(event.id),
            text=f"{event.text}; and the floor drains are clogged",
            changes={**event.changes, **shut},
            pair=True,
        )
        for event in events
    )


def _end(receiver: str) -> str:
    return "its lower end" if receiver == HOUSE_DRAIN else receiver


def _left_on(supply: str) -> Changes:
    return {supply: {"on": True, "float_valve": False}}


def _shut(pipe: str) -> Changes:
    return {pipe: {"on": False, "starts": NEVER}}


def _torn_off(supply: str) -> Changes:
    return {supply: {"on": False}, torn(supply): {"on": True}}


def _to_the_floor(network: Network, pump: str, *, bare: bool = False) -> Changes:
    """Its water reaches the floor, at no head, and nothing of it runs back. bare: without the losses of its line."""
    changes: Changes = {pump: {"target": ROOM, "z_out": 0.0, **NO_SWITCH, "bare": bare}}
    return changes | _no_way_back(network, pump)


def _no_way_back(network: Network, pump: str) -> Changes:
    back = way_back(pump)
    return {back: {"on": False}} if network.has(back) else {}


def _stopped(network: Network, pump: Pump, *, unguarded: bool = False) -> Changes:
    """It stands still, and its pipe siphons unless a hole or a valve stops that (unguarded: as if there were neither)."""
    changes: Changes = {pump.name: {"on": False, **NO_SWITCH}} | _no_way_back(network, pump.name)
    if unguarded or not pump.anti_siphon:
        changes[siphon_on(pump.name)] = {"on": True}
        if unguarded or not pump.check_valve:
            changes[siphon_back(pump.name)] = {"on": True}
    return changes


def _all_stopped(installation: Installation, network: Network) -> Changes:
    changes: Changes = {}
    for pump in installation.pumps:
        changes |= _stopped(network, pump)
    return changes


def _runs_dry(installation: Installation, vessel: str) -> Changes:
    """Pumps out of a vessel that runs out draw air in the end, and their pipes siphon back into it."""
    free = [pump for pump in installation.pumps if not (pump.anti_siphon or pump.check_valve)]
    return {siphon_back(pump.name): {"after": pump.name} for pump in free if pump.source == vessel}


def _clogged(network: Network, pump: str, receiver: str, installation: Installation) -> Changes:
    """Nothing runs out of a vessel by itself."""
    changes: Changes = {}
    for pipe in installation.pipes:
        if pipe.source == receiver:
            changes |= _shut(pipe.name)
    if pump:
        changes |= _no_way_back(network, pump)
    return changes


def _without(installation: Installation, network: Network, gone: set[str]) -> Changes:
    """Vessels that no longer hold water: what runs into them reaches the floor; pumps out of them draw nothing.

    The line of such a pump, now full of air at its lower end, lets the receiver siphon back onto the floor.
    """
    changes: Changes = {}
    for link in network.links:
        if link.target not in gone:
            continue
        if link.kind == PUMPED:
            changes |= _to_the_floor(network, link.name)
        elif link.kind == RUNS:
            changes[link.name] = {"target": ROOM}
        elif link.kind == SUPPLIED and link.on:
            changes |= _torn_off(link.name)
    for pump in installation.pumps:
        if pump.source in gone and pump.receiver not in gone and not (pump.anti_siphon or pump.check_valve):
            changes[pump.name] = {"on": False, **NO_SWITCH}
            changes |= _no_way_back(network, pump.name)
            changes[siphon_back(pump.name)] = {"target": ROOM, "on": True, "z_out": 0.0}
    return changes
