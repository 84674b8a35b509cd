"""Pans in the water network: which water lands in them, and how much of what comes they hold.

What runs over a vessel's rim, or out of a torn seam, lands in the pan where that reaches as far as the water can fly. What
bursts, splashes or comes off a line does not count as caught: the safe side.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.assess.bodies import inner_length, rack_offsets
from brimfast.assess.network.model import PUMPED, RUNS, SUPPLIED, Catch, Link, Node
from brimfast.assess.weight import VesselWeight
from brimfast.data_tables.loader import factor_si
from brimfast.shared.constants import GRAVITY
from brimfast.shared.findings import Step, step
from brimfast.shared.installation.model import Installation, standing_size
from brimfast.shared.installation.pan import Pan

Array = NDArray[np.float64]
PAN = "pan under "


def over_rim_throw(Q: ArrayLike, b: ArrayLike, y: ArrayLike) -> Array:
    """How far out water lands that runs over a rim (m): x = (g Q/b)^(1/3) √(2 y/g).

    Q flow (m³/s), b the stretch of rim that it runs over (m), y height of the rim over the pan (m). The critical speed at
    a brink, sideways, and free fall. Source: hydraulics handbooks (critical depth); b is common practice, no source.
    """
    Q, b, y = (np.asarray(item, float) for item in (Q, b, y))
    return np.asarray(np.cbrt(GRAVITY * Q / b) * np.sqrt(2 * y / GRAVITY))


def seam_throw(H: ArrayLike, z: ArrayLike) -> Array:
    """How far out a jet can land from whichever height of a wall it comes (m): x = H + z.

    H water over the vessel's bottom, z bottom over the pan (m). A hole at y over the bottom throws 2 √((y + z)(H − y)),
    which is H + z where it throws farthest, for z ≤ H; and 2 √(z H), from the bottom, beyond. Torricelli, free fall.
    """
    H, z = np.asarray(H, float), np.asarray(z, float)
    return np.asarray(np.where(z <= H, H + z, 2 * np.sqrt(z * H)))


PanNodes = dict[str, tuple[Node, float, tuple[str, ...]]]


def pan_nodes(installation: Installation, weights: dict[str, VesselWeight]) -> PanNodes:
    """By name: the pan, how far it reaches beyond what stands in it (m), walls and all, and the vessels over it."""
    found = {}
    for name, rack in installation.racks.items():
        if rack.pan is not None:
            on = tuple(vessel.name for vessel in installation.on_rack(name))
            node = _node(f"{PAN}rack {name}", rack.pan, rack.pan.area)
            found[node.name] = (node, rack.pan.margin(*_with_vessels(installation, weights, name)), on)
    for vessel in installation.on_floor():
        if vessel.pan is not None:
            outside, stands = weights[vessel.name], standing_size(vessel)
            node = _node(f"{PAN}{vessel.name}", vessel.pan, vessel.pan.area - outside.base_area)
            margin = vessel.pan.margin(max(outside.length, stands[0]), max(outside.width, stands[1]))
            found[node.name] = (node, margin, (vessel.name,))
    return found


def _with_vessels(installation: Installation, weights: dict[str, VesselWeight], name: str) -> tuple[float, float]:
    """A rack's length and width (m), larger where walls of vessels at its ends and sides stand over."""
    rack, offsets = installation.racks[name], rack_offsets(installation, name)
    over, width = 0.0, rack.width
    for vessel in installation.on_rack(name):
        outside, inside = weights[vessel.name], inner_length(vessel)
        wall, start = (outside.length - inside) / 2, offsets[vessel.name]
        over = max(over, wall - start, start + inside + wall - rack.length)
        width = max(width, outside.width)
    return rack.length + 2 * over, width


def _node(name: str, pan: Pan, free: float) -> Node:
    return Node(name, max(free, pan.area / 100), 0.0, 0.0, pan.height)


def catches(pans: PanNodes, vessels: dict[str, Node], links: Sequence[Link]) -> dict[str, Catch]:
    """By vessel."""
    found = {}
    for node, margin, on in pans.values():
        for name in on:
            vessel = vessels[name]
            Q, b = fastest(vessel, vessels, links), factor_si("overflow_stretch")
            level = vessel.level(vessel.start) - vessel.base
            over, seam = float(over_rim_throw(Q, b, vessel.rim)), float(seam_throw(level, vessel.base))
            found[name] = Catch(node.name, margin, Q, over, seam)
    return found


def fastest(vessel: Node, vessels: dict[str, Node], links: Iterable[Link]) -> float:
    """The most that can run into a vessel at once (m³/s): supplies, and pumps with open pipes or every pipe and siphon."""
    supplied = pumped = running = siphons = 0.0
    for link in links:
        if link.target != vessel.name:
            continue
        if link.kind == SUPPLIED:
            supplied += link.flow
        elif link.kind == PUMPED:
            pumped += max([link.flow, *(flow for _, flow in link.table)])
        elif link.kind == RUNS:
            head = max(vessels[link.source].rim - link.z_out, 0.0)
            flow = link.opening * math.sqrt(2 * GRAVITY * head / max(link.losses, 1.0))
            running, siphons = running + (flow if link.on else 0.0), siphons + flow
    return supplied + max(pumped + running, siphons)


def pan_volume(pan: Node) -> tuple[float, Step]:
    """What it holds to its rim (m³), beside what stands in it."""
    V = pan.volume(pan.rim)
    sizes: dict[str, float | tuple[float, str]] = {"A": (pan.area, "m²"), "h": (pan.rim, "m")}
    return V, step("V_pan", "A*h", sizes, (V, "m³"), "geometry", "its area less what stands in it, level to its rim")


def throw_step(vessel: Node, catch: Catch) -> Step:
    """What runs over one vessel's rim against how far its pan reaches."""
    b = factor_si("overflow_stretch")
    sizes: dict[str, float | tuple[float, str]] = {
        "g": (GRAVITY, "m/s²"),
        "Q": (catch.fastest, "m³/s"),
        "b": (b, "m"),
        "y": (vessel.rim, "m"),
    }
    said = "lands in the pan" if catch.overflow else "flies past it: not counted as caught"
    note = f"what runs over {vessel.name}; the pan reaches {catch.margin:.2f} m beyond: it {said}"
    return step(
        "x", "(g*Q/b)**(1/3)*sqrt(2*y/g)", sizes, (catch.over_rim, "m"), "critical speed at a brink, free fall", note
    )
