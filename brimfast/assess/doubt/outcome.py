"""What comes of it in one earthquake: what falls, which joints pass their limit, how much water, what it may cost."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.assess.beyond.slide import slide_in_a_pulse, slide_in_records
from brimfast.assess.doubt.response import SHAKING, Axis, Response
from brimfast.assess.doubt.runs import (
    FALLS,
    FLOOR_ACCELERATION,
    FLOOR_VELOCITY,
    FLOOR_VERTICAL,
    HOLDS,
    SPLASHES,
    Limit,
)
from brimfast.assess.doubt.targets import FrictionUnder
from brimfast.assess.exposure.assess import assess_exposure
from brimfast.assess.pipeline import Dry
from brimfast.assess.spill.flood import Flood, Wet
from brimfast.assess.spill.room import RoomBasin
from brimfast.shared.constants import LITRE
from brimfast.shared.findings import Value
from brimfast.shared.installation.model import Installation
from brimfast.shared.installation.vessel import Vessel

Array = NDArray[np.float64]
WET = 10.0  # L: a bucket; less is wiped up
LEAST_SPLASH = 0.1  # L
PUDDLE = 3e-3  # m
PUDDLE_VALUE = Value(
    "how thin water spreads on a floor before it stops",
    "3 mm",
    "a puddle on a smooth level floor stands a few millimetres high; planning figure",
    "common practice, no source",
    "pour out a bucket, and measure the puddle",
)
PLAY = 0.05  # m
PLAY_VALUE = Value(
    "how far a vessel may slide before its pipes tear",
    "50 mm; then all its water counts",
    "hoses and unions have some play; planning figure",
    "common practice, no source",
    "the play of your own pipes",
)
GRID = 40  # volumes at which the cost is computed


@dataclass(frozen=True)
class Slider:
    """What friction holds, with pipes at it; axis: of the friction, where that is not known."""

    name: str
    friction: float
    axis: int | None


def way(acceleration: ArrayLike, velocity: ArrayLike, vertical: ArrayLike, friction: ArrayLike) -> Array:
    """How far it slides (m), the larger of both estimates: of a pulse, and of records with their scatter.

    acceleration (g) and velocity (m/s; NaN: not known) of the floor, vertical earthquake over the weight, friction (−).
    """
    A, mu = np.asarray(acceleration, float), np.asarray(friction, float)
    N = mu * np.maximum(1 - np.asarray(vertical, float), 0.05)
    return np.asarray(np.fmax(slide_in_records(A, N, 1.0), slide_in_a_pulse(velocity, A, N)))


@dataclass(frozen=True)
class LossCurve:
    """What water on the floor may cost: volumes (m³), low and high (money); `why` where it is not assessed."""

    volumes: Array
    low: Array
    high: Array
    currency: str
    why: str = ""

    def mean(self, volume: ArrayLike) -> Array:
        """Mean cost of a volume (m³) where the logarithm lies evenly from low to high; half the high one from 0."""
        at = np.asarray(volume, float)
        low, high = np.interp(at, self.volumes, self.low), np.interp(at, self.volumes, self.high)
        return mean_between(low, high)


def mean_between(low: ArrayLike, high: ArrayLike) -> Array:
    """Mean of what lies evenly in its logarithm from low to high: (high − low)/ln(high/low); of 0 to high: high/2."""
    low, high = np.asarray(low, float), np.asarray(high, float)
    ratio = np.where(low > 0, high / np.where(low > 0, low, 1.0), np.nan)
    with np.errstate(invalid="ignore", divide="ignore"):
        mean = np.where(ratio > 1 + 1e-9, (high - low) / np.log(ratio), low)
    return np.asarray(np.where(np.isnan(ratio), high / 2, mean))


def loss_curve(installation: Installation, room: RoomBasin, most: float) -> LossCurve:
    """Of water that comes at once, drains counting nothing (safe side); little water wets a puddle only.

    most: the largest volume (m³).
    """
    volumes = np.concatenate([[0.0], np.geomspace(LITRE, max(most, 2 * LITRE), GRID)])
    floods = {}
    free = room.area if room.area > 0 else installation.room.length * installation.room.width
    for number, volume in enumerate(volumes[1:], start=1):
        held = min(float(volume), room.held)
        leaves = float(volume) - held
        area = min(free, float(volume) / PUDDLE)
        wet = [Wet("the room", area, max(held, PUDDLE * area) / free, installation.exposure.flooring, True)]
        if leaves > 0 and installation.room.next:
            beyond = math.fsum(one.length * one.width for one in installation.room.next)
            for one in installation.room.next:
                flooring = one.flooring or installation.exposure.flooring
                wet.append(Wet(one.name, one.length * one.width, leaves / beyond, flooring, False))
        floods[str(number)] = Flood(str(number), "", float(volume), leaves, tuple(wet))
    exposed = assess_exposure(installation, floods)
    by_name = {one.id: one for one in exposed.floods}
    low, high = [0.0], [0.0]
    for name in floods:
        touched = by_name[name]
        if touched.low is None or touched.high is None:
            return LossCurve(volumes, volumes * 0, volumes * 0, exposed.currency, touched.why)
        low.append(touched.low)
        high.append(touched.high)
    return LossCurve(volumes, np.array(low), np.array(high), exposed.currency)


@dataclass(frozen=True)
class Ways:
    """How a vessel loses its water, by numbers of outputs: any of these over 1, or sliding too far; and how much it holds."""

    vessel: str
    limits: tuple[int, ...]
    slider: Slider | None
    holds: int
    splashes: int | None


@dataclass(frozen=True)
class Outcomes:
    """What counts as what, by numbers of outputs. before: limits that are passed without an earthquake, not counted."""

    tips: tuple[int, ...]
    joints: tuple[int, ...]
    vessels: tuple[Ways, ...]
    before: tuple[str, ...]


def is_joint(limit: Limit) -> bool:
    return limit.topic == "joints" or limit.id.startswith("anchors/")


def is_tipping(limit: Limit) -> bool:
    return limit.id.startswith("tipping/")


def _comes_down(limit: Limit | None, assessed: set[str]) -> bool:
    """Falls over; where that is not assessed, begins to tip."""
    if limit is None:
        return False
    return limit.id.startswith(FALLS) or (is_tipping(limit) and limit.subject not in assessed)


def outcomes(dry: Dry, response: Response, limits: dict[str, Limit]) -> Outcomes:
    names = response.names
    number = {name: n for n, name in enumerate(names)}
    moves = np.ptp(response.tables[response.shaking], axis=0) > 1e-6
    weakest = response.at_middle(SHAKING[0])
    counts = {name for name in names if moves[number[name]] and weakest[number[name]] <= 0}
    before = tuple(name for name in names if name in limits and weakest[number[name]] > 0)
    assessed = {name.removeprefix(FALLS) for name in names if name.startswith(FALLS)}
    tips = [name for name in names if name in counts and _comes_down(limits.get(name), assessed)]
    joints = [name for name in names if name in counts and name in limits and is_joint(limits[name])]
    vessels = []
    for vessel in dry.installation.vessels:
        vessels.append(_ways(dry, response, limits, vessel, counts, number))
    return Outcomes(
        tuple(number[name] for name in dict.fromkeys(tips)),
        tuple(number[name] for name in dict.fromkeys(joints)),
        tuple(vessels),
        before,
    )


def _ways(
    dry: Dry,
    response: Response,
    limits: dict[str, Limit],
    vessel: Vessel,
    counts: set[str],
    number: dict[str, int],
) -> Ways:
    name, on = vessel.name, vessel.on
    own = []
    if f"{FALLS}{name}" in number:
        own.append(f"{FALLS}{name}")
    else:
        own += [one for one in counts if one.startswith("tipping/") and limits[one].subject == name]
    own += [one for one in counts if one.startswith("anchors/") and limits[one].subject == name]
    if on != "floor":
        own += [one for one in counts if one == f"sliding/{name}"]
        rack = f"rack {on}"
        for one in counts:
            limit = limits.get(one)
            if limit is None or not (limit.subject == rack or limit.subject.startswith(f"{rack},")):
                continue
            if is_joint(limit) or is_tipping(limit):
                own.append(one)
    splash = f"{SPLASHES}{name}"
    return Ways(
        name,
        tuple(sorted(number[one] for one in own if one in counts)),
        _slider(dry, response.axes, vessel),
        number[f"{HOLDS}{name}"],
        number.get(splash),
    )


def _slider(dry: Dry, axes: Sequence[Axis], vessel: Vessel) -> Slider | None:
    """Of what the vessel slides with: itself, or the rack that it stands on."""
    installation = dry.installation
    name = vessel.name if vessel.on == "floor" else f"rack {vessel.on}"
    ends = {end for pump in installation.pumps for end in (pump.source, pump.receiver)}
    ends |= {end for pipe in installation.pipes for end in (pipe.source, pipe.receiver)}
    if name not in dry.beyond or vessel.name not in ends:
        return None
    body = next(one for one in dry.bodies if one.name == name)
    index = next(n for n, one in enumerate(installation.vessels) if one is vessel)
    path = ("vessels", index) if vessel.on == "floor" else ("racks", vessel.on)
    axis = next(
        (
            n
            for n, one in enumerate(axes)
            if isinstance(one.unknown.target, FrictionUnder) and path in one.unknown.target.bodies
        ),
        None,
    )
    return Slider(name, body.friction.low, axis)


@dataclass(frozen=True)
class Drawn:
    """Of each sample: whether something falls or tips, a joint passes its limit; litres on the floor."""

    tips: NDArray[np.bool_]
    joints: NDArray[np.bool_]
    water: Array


def draw(known: Outcomes, response: Response, off: Array, x: Array, rng: np.random.Generator) -> Drawn:
    """x: unknowns (samples × axes); off: what each learned ln is off by (standard deviation), drawn with the rest."""
    ln = response.ln(x)
    over = ln + off * rng.standard_normal(ln.shape) > 0
    number = {name: n for n, name in enumerate(response.names)}
    acceleration, velocity, vertical = (
        np.exp(ln[:, number[name]]) if name in number else np.full(len(x), np.nan)
        for name in (FLOOR_ACCELERATION, FLOOR_VELOCITY, FLOOR_VERTICAL)
    )
    water = np.zeros(len(x))
    for one in known.vessels:
        goes = over[:, list(one.limits)].any(axis=1)
        if one.slider is not None:
            friction = x[:, one.slider.axis] if one.slider.axis is not None else one.slider.friction
            goes = goes | (way(acceleration, velocity, vertical, friction) > PLAY)
        holds = np.exp(ln[:, one.holds])
        thrown = np.exp(ln[:, one.splashes]) if one.splashes is not None else np.zeros(len(x))
        water += np.where(goes, holds, np.minimum(np.where(thrown > LEAST_SPLASH, thrown, 0.0), holds))
    tips, joints = (np.asarray(over[:, list(some)].any(axis=1)) for some in (known.tips, known.joints))
    return Drawn(tips, joints, water)
