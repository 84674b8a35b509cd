"""How much water can each mishap put on the floor, and how fast?"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.assess.resolve import VesselParts
from brimfast.assess.weight import VesselWeight, water_in_fill
from brimfast.shared.constants import WATER_DENSITY
from brimfast.shared.findings import Step, step
from brimfast.shared.installation.flow import Pump, Supply
from brimfast.shared.installation.model import Installation
from brimfast.shared.installation.vessel import Vessel

Array = NDArray[np.float64]


def overflow(arriving: ArrayLike, headroom: ArrayLike) -> Array:
    """Volume over the rim (m³): max(arriving − headroom, 0)."""
    return np.asarray(np.maximum(np.asarray(arriving, float) - np.asarray(headroom, float), 0.0))


@dataclass(frozen=True)
class Event:
    """One mishap: what reaches the floor (m³), at which rate (m³/s; None: at once)."""

    id: str
    kind: str  # rupture, line off, return clogged, siphon, supply
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
    fill_depth: float
    base: float  # height of its base above the floor

    @property
    def volume(self) -> float:
        return self.weight.water_volume

    def above(self, height: float) -> float:
        """Water above a height over the base (m³); all of it where only weighed."""
        if self.vessel.weighed or self.vessel.water is None:
            return self.volume
        below = water_in_fill(self.weight.area, min(height, self.vessel.water), self.fill_depth, self.porosity)
        return self.volume - float(below)

    @property
    def headroom(self) -> float:
        """Room up to the rim (m³); none where only weighed."""
        if self.vessel.weighed or self.vessel.depth is None:
            return 0.0
        full = water_in_fill(self.weight.area, self.vessel.depth, self.fill_depth, self.porosity)
        return float(full) - self.volume

    @property
    def level(self) -> float | None:
        return None if self.vessel.water is None else self.base + self.vessel.water


def water_of(vessel: Vessel, weight: VesselWeight) -> tuple[float, str]:
    """Water that can leave (m³); a weighed vessel that does not say counts as all water."""
    if vessel.weighed and vessel.holds is None:
        return weight.mass / WATER_DENSITY, "holds is not given: all its weight is taken as water"
    return weight.water_volume, ""


def events(
    installation: Installation, parts: dict[str, VesselParts], weights: dict[str, VesselWeight]
) -> tuple[Event, ...]:
    """Every single mishap, largest first."""
    stores = {}
    for vessel in installation.vessels:
        fill_depth = 0.0
        if vessel.fill is not None and vessel.depth is not None:
            fill_depth = vessel.fill_depth if vessel.fill_depth is not None else vessel.depth
        porosity = parts[vessel.name].porosity if vessel.fill is not None else 1.0
        base = 0.0 if vessel.on == "floor" else installation.racks[vessel.on].deck_height
        stores[vessel.name] = _Store(vessel, weights[vessel.name], porosity, fill_depth, base)
    found = [_rupture(vessel, weights[vessel.name], stores[vessel.name]) for vessel in installation.vessels]
    for pump in installation.pumps:
        found.extend(_pump_events(pump, stores, installation.supplies))
    found.extend(_supply(supply, stores[supply.receiver]) for supply in installation.supplies)
    return tuple(sorted((event for event in found if event.volume > 0), key=lambda event: -event.volume))


def _rupture(vessel: Vessel, weight: VesselWeight, store: _Store) -> Event:
    volume, note = water_of(vessel, weight)
    if vessel.weighed:
        lines: tuple[Step, ...] = ()
    else:
        assert vessel.water is not None
        lines = (
            step(
                "V",
                "A*(n*min(h_w, h_f) + max(h_w - h_f, 0))",
                {
                    "A": (weight.area, "m²"),
                    "n": store.porosity,
                    "h_w": (vessel.water, "m"),
                    "h_f": (store.fill_depth, "m"),
                },
                (volume, "m³"),
                "geometry; n porosity of the fill, h_f its depth",
            ),
        )
    text = f"{vessel.name} breaks or its lowest seam tears: all its free water leaves"
    return Event(f"rupture/{vessel.name}", "rupture", vessel.name, text, volume, None, lines, note)


def _pump_events(pump: Pump, stores: dict[str, _Store], supplies: list[Supply]) -> list[Event]:
    source, receiver = stores[pump.source], stores[pump.receiver]
    reachable, note = source.above(pump.intake), ""
    if source.vessel.weighed and source.vessel.holds is None:
        reachable = source.weight.mass / WATER_DENSITY
        note = "holds is not given: all its weight is taken as water"
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
    """With the power off a submerged outlet draws its vessel back down the pipe, to the pipe's end."""
    if pump.anti_siphon:
        return []
    outlet = pump.outlet if pump.outlet is not None else 0.0
    if receiver.vessel.water is not None and outlet >= receiver.vessel.water:
        return []
    if receiver.level is not None and source.level is not None and receiver.level <= source.level:
        return []
    back = receiver.above(outlet)
    over = float(overflow(back, source.headroom))
    line = step(
        "V",
        "max(V_b - V_h, 0)",
        {"V_b": (back, "m³"), "V_h": (source.headroom, "m³")},
        (over, "m³"),
        "water above the pipe's end, less the room up to the source's rim",
    )
    assumed = "" if pump.outlet is not None else "outlet is not given: the pipe is taken to end at the vessel's bottom"
    text = f"the power fails: {pump.receiver} siphons back through the pipe of {pump.name} and {pump.source} overflows"
    return [Event(f"siphon/{pump.name}", "siphon", pump.name, text, over, None, (line,), assumed)]


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
