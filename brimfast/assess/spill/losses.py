"""How much water can each mishap put on the floor, and how fast?"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.assess.resolve import VesselParts
from brimfast.assess.weight import VesselWeight, water_in_fill
from brimfast.shared.constants import GRAVITY
from brimfast.shared.findings import Step, step
from brimfast.shared.installation.flow import Pump, Supply
from brimfast.shared.installation.model import Installation
from brimfast.shared.installation.vessel import Vessel

Array = NDArray[np.float64]
ALL_WATER = "holds is not given: all its weight is taken as water"


def overflow(arriving: ArrayLike, headroom: ArrayLike) -> Array:
    """Volume over the rim (m³): max(arriving − headroom, 0)."""
    return np.asarray(np.maximum(np.asarray(arriving, float) - np.asarray(headroom, float), 0.0))


def siphon_flow(D: ArrayLike, drop: ArrayLike) -> Array:
    """Most that a pipe of bore D (m) can siphon between two levels `drop` apart (m³/s): Q = π D²/4 √(2 g drop).

    No friction or entry loss: an upper bound. Torricelli's theorem.
    """
    bore, head = np.asarray(D, float), np.maximum(np.asarray(drop, float), 0.0)
    return np.asarray(np.pi / 4 * bore**2 * np.sqrt(2 * GRAVITY * head))


@dataclass(frozen=True)
class Event:
    """One mishap: what reaches the floor (m³), at which rate (m³/s; None: at once)."""

    id: str
    kind: str  # rupture, line off, return clogged, siphon, supply, slosh
    subject: str
    text: str
    volume: float
    rate: float | None
    steps: tuple[Step, ...]
    note: str = ""


@dataclass(frozen=True)
class _Store:
    """A vessel as a store of water: how much above a height, how much more below the rim."""

    vessel: Vessel
    weight: VesselWeight
    porosity: float
    base: float  # height of its base above the floor

    @property
    def volume(self) -> float:
        return self.weight.water_volume

    def above(self, height: float) -> float:
        """Water above a height over the base (m³); all of it where only weighed."""
        if self.vessel.weighed or self.vessel.water is None:
            return self.volume
        below = water_in_fill(self.weight.area, min(height, self.vessel.water), self.vessel.filled, self.porosity)
        return self.volume - float(below)

    @property
    def headroom(self) -> float:
        return self.weight.headroom

    @property
    def note(self) -> str:
        return ALL_WATER if self.vessel.weighed and self.vessel.holds is None else ""

    @property
    def level(self) -> float | None:
        return None if self.vessel.water is None else self.base + self.vessel.water


def events(
    installation: Installation, parts: dict[str, VesselParts], weights: dict[str, VesselWeight]
) -> tuple[Event, ...]:
    """Every single mishap, largest first."""
    stores = {}
    for vessel in installation.vessels:
        base = vessel.raised + (0.0 if vessel.on == "floor" else installation.racks[vessel.on].decks[vessel.tier - 1])
        stores[vessel.name] = _Store(vessel, weights[vessel.name], parts[vessel.name].porosity, base)
    found = [_rupture(stores[vessel.name]) for vessel in installation.vessels]
    for pump in installation.pumps:
        found.extend(_pump_events(pump, stores, installation.supplies))
    found.extend(_supply(supply, stores[supply.receiver]) for supply in installation.supplies)
    return tuple(sorted((event for event in found if event.volume > 0), key=lambda event: -event.volume))


def _rupture(store: _Store) -> Event:
    vessel, volume = store.vessel, store.volume
    if vessel.weighed:
        lines: tuple[Step, ...] = ()
    else:
        assert vessel.water is not None
        lines = (
            step(
                "V",
                "A*(n*min(h_w, h_f) + max(h_w - h_f, 0))",
                {
                    "A": (store.weight.area, "m²"),
                    "n": store.porosity,
                    "h_w": (vessel.water, "m"),
                    "h_f": (vessel.filled, "m"),
                },
                (volume, "m³"),
                "geometry; n porosity of the fill, h_f its depth",
            ),
        )
    text = f"{vessel.name} breaks or its lowest seam tears: all its free water leaves"
    return Event(f"rupture/{vessel.name}", "rupture", vessel.name, text, volume, None, lines, store.note)


def _pump_events(pump: Pump, stores: dict[str, _Store], supplies: list[Supply]) -> list[Event]:
    source, receiver = stores[pump.source], stores[pump.receiver]
    reachable = source.above(pump.intake)
    note = source.note
    for supply in supplies:
        if supply.receiver == pump.source and supply.float_valve:
            reachable += supply.flow * supply.unattended
            note = f"{supply.name} refills {pump.source} by its float valve all the while"
    found = [
        Event(
            f"line off/{pump.name}",
            "line off",
            pump.name,
            f"the line of {pump.name} comes off: it pumps {pump.source} onto the floor, down to its intake",
            reachable,
            pump.flow,
            (),
            note,
        )
    ]
    if not pump.float_switch:
        over = float(overflow(reachable, receiver.headroom))
        line = step(
            "V",
            "max(V_s - V_h, 0)",
            {"V_s": (reachable, "m³"), "V_h": (receiver.headroom, "m³")},
            (over, "m³"),
            "water above the intake, less the room up to the receiver's rim",
        )
        text = (
            f"the return of {pump.receiver} clogs while {pump.name} runs: it overflows until {pump.source} is down to "
            "the intake"
        )
        found.append(
            Event(f"return clogged/{pump.name}", "return clogged", pump.name, text, over, pump.flow, (line,), note)
        )
    found.extend(_siphon(pump, source, receiver))
    return found


def _siphon(pump: Pump, source: _Store, receiver: _Store) -> list[Event]:
    """With the power off the pipe is a siphon: the higher vessel drains through it, down to the pipe's end.

    Back, where the outlet hangs below the receiver's water; forward, where the source's water stands above
    the outlet. An anti-siphon hole stops both.
    """
    if pump.anti_siphon:
        return []
    outlet = pump.outlet if pump.outlet is not None else 0.0
    assumed = "" if pump.outlet is not None else "outlet is not given: the pipe is taken to end at the vessel's bottom"
    found = []
    level_r, level_s = receiver.level, source.level
    drop = None if level_r is None or level_s is None else level_r - level_s
    submerged = receiver.vessel.water is None or outlet < receiver.vessel.water
    if submerged and (drop is None or drop > 0):
        text = f"the power fails: {pump.receiver} siphons back through the pipe of {pump.name}; {pump.source} overflows"
        found.append(_drained(f"siphon/{pump.name}", pump, text, receiver.above(outlet), source, drop, assumed))
    end = receiver.base + outlet
    if level_s is not None and level_s > end and (level_r is None or level_s > level_r):
        lowest = max(pump.intake, end - source.base)
        text = f"the power fails: {pump.source} siphons on through the pipe of {pump.name}; {pump.receiver} overflows"
        fall = level_s - end
        found.append(_drained(f"siphon on/{pump.name}", pump, text, source.above(lowest), receiver, fall, assumed))
    return found


def _drained(id: str, pump: Pump, text: str, moved: float, into: _Store, drop: float | None, assumed: str) -> Event:
    """What a siphon moves into a vessel and over its rim; its rate by the pipe's bore without friction, if known."""
    over = float(overflow(moved, into.headroom))
    line = step(
        "V",
        "max(V_b - V_h, 0)",
        {"V_b": (moved, "m³"), "V_h": (into.headroom, "m³")},
        (over, "m³"),
        "water above the pipe's end, less the room up to the other vessel's rim",
    )
    if pump.pipe is None or drop is None:
        return Event(id, "siphon", pump.name, text, over, None, (line,), assumed)
    rate = float(siphon_flow(pump.pipe, drop))
    rate_line = step(
        "Q",
        "pi/4*D**2*sqrt(2*g*drop)",
        {"D": (pump.pipe, "m"), "g": (GRAVITY, "m/s²"), "drop": (drop, "m")},
        (rate, "m³/s"),
        "Torricelli, no friction: an upper bound",
    )
    return Event(id, "siphon", pump.name, text, over, rate, (line, rate_line), assumed)


def _supply(supply: Supply, store: _Store) -> Event:
    arriving = supply.flow * supply.unattended
    volume = float(overflow(arriving, store.headroom))
    line = step(
        "V",
        "max(Q*t - V_h, 0)",
        {"Q": (supply.flow, "m³/s"), "t": (supply.unattended, "s"), "V_h": (store.headroom, "m³")},
        (volume, "m³"),
        "flow over the stated time, less the room up to the rim",
    )
    how = "its float valve sticks open" if supply.float_valve else "it is left on"
    text = f"{supply.name} fills {supply.receiver} and {how} for the stated time"
    return Event(f"supply/{supply.name}", "supply", supply.name, text, volume, supply.flow, (line,))
