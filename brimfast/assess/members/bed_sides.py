"""Do the sides of a bed hold the pressure of its fill and water?"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.assess.members.common import TOPIC, bending, shear, strongest_claim, without_values
from brimfast.assess.parts import Resolved
from brimfast.assess.timber.beam import section_modulus
from brimfast.assess.timber.service import Service, service_of
from brimfast.assess.timber.strength import adjusted
from brimfast.shared.constants import GRAVITY, POUND_FORCE, WATER_DENSITY
from brimfast.shared.findings import Finding, Step, Value, always, not_assessed, step
from brimfast.shared.installation.model import Installation
from brimfast.shared.installation.vessel import Vessel

Array = NDArray[np.float64]
K_0 = 0.5  # earth pressure at rest of loose fill


def side_thrust(h_w: ArrayLike, h_f: ArrayLike, grain_weight: ArrayLike, K: ArrayLike = K_0) -> Array:
    """Sideways thrust on a metre of wall (N/m): water γ_w h_w²/2, and fill K γ' h_f²/2 on top of it.

    h_w and h_f depth of water and fill (m), γ' weight of the grains in the fill (N/m³), buoyancy not taken
    off: the safe side. K earth pressure at rest. Source: hydrostatics; Jaky's K_0 of about 0.5.
    """
    h_w, h_f = np.asarray(h_w, float), np.asarray(h_f, float)
    water = WATER_DENSITY * GRAVITY * h_w**2 / 2
    return np.asarray(water + np.asarray(K, float) * np.asarray(grain_weight, float) * h_f**2 / 2)


def lowest_share(board: ArrayLike, depth: ArrayLike) -> Array:
    """Part of a thrust that grows evenly with depth which falls on the lowest board: 1 − ((h − w)/h)². Statics."""
    return np.asarray(1 - ((np.asarray(depth, float) - np.asarray(board, float)) / np.asarray(depth, float)) ** 2)


def bed_findings(installation: Installation, resolved: Resolved) -> list[Finding]:
    """Each bed's long side as a flat plank between its ends and ties, under the mean pressure over its depth."""
    beds = [vessel for vessel in installation.vessels if vessel.kind == "bed"]
    return [
        always(_side(vessel, resolved, _service(installation, vessel)))
        for vessel in beds
        if not vessel.weighed and not vessel.round
    ]


def _service(installation: Installation, vessel: Vessel) -> Service:
    """Wet, and as warm as the rack that the bed stands on."""
    rack = installation.racks.get(vessel.on)
    return Service(True) if rack is None else replace(service_of(rack), wet=True)


def _side(vessel: Vessel, resolved: Resolved, service: Service) -> Finding:
    id, question = f"member/{vessel.name}/side", "Do the bed's long sides hold fill and water?"
    subject = f"{vessel.name}, sides"
    parts = resolved.vessels[vessel.name]
    assert (
        vessel.depth is not None and vessel.water is not None and vessel.length is not None and vessel.width is not None
    )
    fill_depth = min(vessel.filled, vessel.depth)
    grains = (1 - parts.porosity) * parts.grain_density * GRAVITY
    # Water to the rim: a clogged return fills the bed.
    thrust = float(side_thrust(vessel.depth, fill_depth, grains))
    long = max(vessel.length, vessel.width)
    span = long / (vessel.ties + 1)
    line = step(
        "q",
        "rho_g*h**2/2 + K_0*gamma*h_f**2/2",
        {
            "rho_g": (WATER_DENSITY * GRAVITY, "N/m³"),
            "h": (vessel.depth, "m"),
            "K_0": K_0,
            "gamma": (grains, "N/m³"),
            "h_f": (fill_depth, "m"),
        },
        (thrust, "N/m"),
        "hydrostatics and earth pressure at rest; water to the rim",
    )
    value = Value(
        "earth pressure at rest of the fill",
        "0.5",
        "Jaky's K_0 of loose gravel",
        "common practice, no source",
        "any soil text",
    )
    member = parts.sides
    if member is None:
        reason = "the sides' timber is not in the file: add sides, such as 2x12 hem-fir No.2, and ties, how many cross the bed"
        return not_assessed(
            id, TOPIC, subject, question, "stress", reason, advice_key="describe timber", steps=(line,), values=(value,)
        )
    if member.strength is None:
        return without_values(id, subject, question, member)
    values = adjusted(member.strength, "permanent", service, member.incised)
    board = min(member.width, vessel.depth)
    q_board, M, lowest = _lowest_board(thrust, vessel.depth, board, span)
    lying = replace(member, width=board)
    S = float(section_modulus(lying.width, lying.thickness))  # bent about its weak axis
    stresses = [bending(lying, values, M, S), shear(lying, values, q_board * span / 2)]
    tie = thrust * span
    found = strongest_claim(
        id,
        subject,
        question,
        stresses,
        "D",
        (*member.values, *values.values, value),
        "bed sides",
        (line, *lowest),
    )
    more = {"pull of a tie, or of the corner fastenings twice": f"{tie / POUND_FORCE:,.0f} lb ({tie / 1000:.2f} kN)"}
    return replace(found, details={**found.details, **more})


def _lowest_board(thrust: float, h: float, w: float, s: float) -> tuple[float, float, tuple[Step, Step]]:
    """Load (N/m) and moment (N·m) of the lowest board, which has the most pressure; boards above take theirs.

    thrust on the whole side (N/m), h its depth, w the board's width, s between end and tie (m).
    """
    q_board = thrust * float(lowest_share(w, h))
    M = q_board * s**2 / 8
    lowest = step(
        "q_1",
        "q*(1 - ((h - w)/h)**2)",
        {"q": (thrust, "N/m"), "h": (h, "m"), "w": (w, "m")},
        (q_board, "N/m"),
        "the lowest board's part of a pressure that grows with depth",
    )
    moment = step("M", "q_1*s**2/8", {"q_1": (q_board, "N/m"), "s": (s, "m")}, (M, "N·m"), "plank between end and tie")
    return q_board, M, (lowest, moment)
