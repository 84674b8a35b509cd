"""What comes of it in one earthquake: what falls, which joints pass their limit, how much water, what it may cost."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.assess.beyond.slide import slide_in_a_pulse, slide_in_records
from brimfast.assess.doubt.response import Axis, Response
from brimfast.assess.doubt.runs import FALLS, HOLDS, SPLASHES, Limit
from brimfast.assess.doubt.targets import FrictionUnder
from brimfast.assess.exposure.assess import assess_exposure
from brimfast.assess.pipeline import Dry
from brimfast.assess.spill.flood import Flood, Wet
from brimfast.assess.spill.room import RoomBasin
from brimfast.shared.findings import Value
from brimfast.shared.installation.model import Installation

Array = NDArray[np.float64]
LITRE = 1e-3
WET = 1.0  # L: less is wiped up
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
    """A vessel that friction holds, with pipes at it: floor motion at the design earthquake, and its friction."""

    name: str
    acceleration: float  # g
    velocity: float  # m/s; NaN where it is not known
    vertical: float  # share of the weight
    friction: float
    axis: int | None  # of the friction, where that is not known


def way(slider: Slider, shaking: ArrayLike, friction: ArrayLike) -> Array:
    """How far it slides (m), the larger of both estimates; shaking over design shaking, friction (−)."""
    k, mu = np.asarray(shaking, float), np.asarray(friction, float)
    N = mu * np.maximum(1 - k * slider.vertical, 0.05)
    A = k * slider.acceleration
    return np.asarray(np.fmax(slide_in_records(A, N, 1.0), slide_in_a_pulse(k * slider.velocity, A, N)))


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
    """Of water that comes at once, drains counting nothing (safe side). most: the largest volume (m³)."""
    volumes = np.concatenate([[0.0], np.geomspace(LITRE, max(most, 2 * LITRE), GRID)])
    floods = {}
    area = installation.room.length * installation.room.width
    free = room.area if room.area > 0 else area
    for number, volume in enumerate(volumes[1:], start=1):
        held = min(float(volume), room.held)
        leaves = float(volume) - held
        wet = [Wet("the room", free, held / free, installation.exposure.flooring, True)] if held > 0 else []
        if leaves > 0 and installation.room.next:
            beyond = math.fsum(one.length * one.width for one in installation.room.next)
            for one in installation.room.next:
                flooring = one.flooring or installation.exposure.flooring
                wet.append(Wet(one.name, one.length * one.width, leaves / beyond, flooring, False))
        if not wet:  # no sill: all of it runs out over the whole floor
            wet = [Wet("the room", free, 1e-3, installation.exposure.flooring, True)]
        floods[str(number)] = Flood(str(number), "", float(volume), leaves, tuple(wet))
    exposed = assess_exposure(installation, floods)
    by_name = {one.id: one for one in exposed.floods}
    low, high = [0.0], [0.0]
    for name in floods:
        touched = by_name.get(name)
        if touched is None or touched.low is None or touched.high is None:
            why = touched.why if touched is not None else "no floor gets wet"
            return LossCurve(volumes, volumes * 0, volumes * 0, exposed.currency, why)
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
    """What counts as what, by numbers of outputs. before: limits passed in the weakest shaking already, not counted."""

    tips: tuple[int, ...]
    joints: tuple[int, ...]
    vessels: tuple[Ways, ...]
    before: tuple[str, ...]


def is_joint(limit: Limit) -> bool:
    return limit.topic == "joints" or limit.id.startswith("anchors/")


def is_tipping(limit: Limit) -> bool:
    return limit.id.startswith("tipping/")


def outcomes(dry: Dry, response: Response, limits: dict[str, Limit]) -> Outcomes:
    names = response.names
    number = {name: n for n, name in enumerate(names)}
    shaking = next(n for n, axis in enumerate(response.axes) if axis.unknown.role == "shaking")
    table = response.tables[shaking]
    moves = np.ptp(table, axis=0) > 1e-6
    weakest = response.base + table[0]
    counts = {name for name in names if moves[number[name]] and weakest[number[name]] <= 0}
    before = tuple(name for name in names if name in limits and weakest[number[name]] > 0)
    falling = [name for name in names if name.startswith(FALLS)]
    assessed = {name.removeprefix(FALLS) for name in falling}
    tips = [
        name
        for name in names
        if name in counts and name.startswith("tipping/") and limits[name].subject not in assessed
    ] + [name for name in falling if name in counts]
    joints = [name for name in names if name in counts and name in limits and is_joint(limits[name])]
    vessels = []
    for vessel in dry.installation.vessels:
        vessels.append(_ways(dry, response, limits, vessel.name, vessel.on, counts, number))
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
    name: str,
    on: str,
    counts: set[str],
    number: dict[str, int],
) -> Ways:
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
        _slider(dry, response.axes, name),
        number[f"{HOLDS}{name}"],
        number.get(splash),
    )


def _slider(dry: Dry, axes: Sequence[Axis], name: str) -> Slider | None:
    installation = dry.installation
    moving = dry.beyond.get(name)
    ends = {end for pump in installation.pumps for end in (pump.source, pump.receiver)}
    ends |= {end for pipe in installation.pipes for end in (pipe.source, pipe.receiver)}
    if moving is None or name not in ends:
        return None
    body = next(one for one in dry.bodies if one.name == name)
    index = next(n for n, vessel in enumerate(installation.vessels) if vessel.name == name)
    axis = next(
        (
            n
            for n, one in enumerate(axes)
            if isinstance(one.unknown.target, FrictionUnder) and ("vessels", index) in one.unknown.target.bodies
        ),
        None,
    )
    acceleration = next(line.result.value for line in moving.slide_steps if line.symbol == "a_floor")
    return Slider(name, acceleration, moving.velocity, dry.motion.vertical.share, body.friction.low, axis)


@dataclass(frozen=True)
class Drawn:
    """Of each sample: whether something tips, a joint passes its limit; litres on the floor."""

    tips: NDArray[np.bool_]
    joints: NDArray[np.bool_]
    water: Array


def draw(known: Outcomes, response: Response, x: Array, ln: Array) -> Drawn:
    """x: unknowns (samples × axes), ln: outputs at x (samples × outputs)."""
    shaking = next(n for n, axis in enumerate(response.axes) if axis.unknown.role == "shaking")
    over = ln > 0
    water = np.zeros(len(x))
    for one in known.vessels:
        goes = over[:, list(one.limits)].any(axis=1)
        if one.slider is not None:
            friction = x[:, one.slider.axis] if one.slider.axis is not None else one.slider.friction
            goes = goes | (way(one.slider, x[:, shaking], friction) > PLAY)
        holds = np.exp(ln[:, one.holds])
        thrown = np.exp(ln[:, one.splashes]) if one.splashes is not None else np.zeros(len(x))
        water += np.where(goes, holds, np.minimum(np.where(thrown > WET, thrown, 0.0), holds))
    tips, joints = (np.asarray(over[:, list(some)].any(axis=1)) for some in (known.tips, known.joints))
    return Drawn(tips, joints, water)
