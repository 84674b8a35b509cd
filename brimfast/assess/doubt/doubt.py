"""The whole question of doubt, in one straight order: unknowns → runs → ratios learned → chances → a year."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from brimfast.assess.doubt.chances import Chances, Drivers, chances, drivers, sample
from brimfast.assess.doubt.ends import must_fit
from brimfast.assess.doubt.hazard import Curve, curve, times_a_year, yearly_chance
from brimfast.assess.doubt.outcome import (
    PLAY_VALUE,
    PUDDLE_VALUE,
    WET,
    Drawn,
    LossCurve,
    Outcomes,
    draw,
    is_joint,
    is_tipping,
    loss_curve,
    outcomes,
)
from brimfast.assess.doubt.response import (
    SHAKING,
    Axis,
    Response,
    Setting,
    axis_of,
    learn,
    misfit,
    settings,
    together,
)
from brimfast.assess.doubt.runs import Limit, limits, run_all
from brimfast.assess.doubt.unknowns import Unknown, unknowns
from brimfast.assess.pipeline import Dry, before_water
from brimfast.assess.spill.room import basin
from brimfast.shared.findings import Value
from brimfast.shared.installation.model import Installation

Array = NDArray[np.float64]
SAMPLES = 100_000
CHECKS = 16  # runs in which everything differs at once
LEVELS = 29  # of the shaking, in a year
AT_A_LEVEL = 4096  # samples
WEAKEST = 0.05  # of the design shaking: weaker is not counted
Report = Callable[[str, int, int], None]
LEARNING = "runs of the whole computation"


@dataclass(frozen=True)
class Chance:
    """One limit at the design earthquake: ratio with everything at its middle, chance to pass it, one standard error,

    what the learned ratio is off by (standard deviation of ln), shares of its variance by unknown (total Sobol index).
    """

    limit: Limit
    ratio: float
    chance: float
    error: float
    misfit: float
    shares: tuple[float, ...]


@dataclass(frozen=True)
class Year:
    """Of one outcome: chance in the design earthquake, and at least once in a year.

    already: limits of this kind that are passed without an earthquake, and are not counted; None where no other is left.
    """

    design: float | None
    yearly: float | None
    already: tuple[Limit, ...] = ()


@dataclass(frozen=True)
class Runs:
    """Of the pipeline: from which ratios were learned, on which they were checked, and of these what fitted nowhere."""

    learned: int
    checked: int
    unfit: int


@dataclass(frozen=True)
class Doubt:
    """limits: most likely first; litres: of water on the floor in the design earthquake; losses: mean (money)."""

    installation: Installation
    unknowns: tuple[Unknown, ...]
    limits: tuple[Chance, ...]
    not_assessed: int
    tips: Year | None
    joints: Year | None
    water: Year
    litres: tuple[float, float, float]  # 5, 50, 95 in 100, at the design earthquake
    yearly_loss: float | None
    design_loss: float | None
    loss_why: str
    currency: str
    curve: Curve
    before: tuple[Limit, ...]  # passed without an earthquake
    running: tuple[tuple[int, float], ...]  # samples, largest difference of a chance from the last
    samples: int
    runs: Runs
    seed: int
    values: tuple[Value, ...]

    @property
    def measure_first(self) -> tuple[tuple[Unknown, float], ...]:
        """Unknowns that can be measured, by their share in the limits of which the chance is neither small nor sure."""
        open_ones = [one for one in self.limits if 0.01 < one.chance < 0.99]
        if not open_ones:
            return ()
        weight = [one.chance * (1 - one.chance) for one in open_ones]
        shares = np.average([one.shares for one in open_ones], axis=0, weights=weight)
        pairs = [(one, float(share)) for one, share in zip(self.unknowns, shares, strict=True)]
        return tuple(sorted((pair for pair in pairs if pair[0].role != "shaking"), key=lambda pair: -pair[1]))


def loses(axes: tuple[Axis, ...], names: list[str]) -> dict[int, frozenset[str]]:
    """Which ratios fall where joints or timber are stronger than their design values."""
    starts = {"joints": ("joint/", "leaning/", "anchors/"), "timber": ("member/",)}
    return {
        number: frozenset(
            name for name in names if name.startswith(starts[axis.unknown.role]) and not name.endswith("/sag")
        )
        for number, axis in enumerate(axes)
        if axis.unknown.role in starts
    }


def doubt(
    installation: Installation,
    raw: Any,
    *,
    count: int = SAMPLES,
    seed: int = 1,
    processes: int = 1,
    report: Report | None = None,
) -> Doubt:
    """raw: the plain values of the file that the installation was read from. Raises InputError as the pipeline does."""
    dry = before_water(installation)
    must_fit(raw)
    found = unknowns(installation, raw, dry.resolved)
    axes = tuple(axis_of(one) for one in found)
    response, off, ran, asked = _learned(dry, raw, axes, seed, processes, report)
    chance = chances(response, off, count, seed)
    driven = drivers(response, seed)
    known = outcomes(dry, response, asked)
    hazard = curve(installation)
    losses = loss_curve(
        installation,
        basin(installation, dry.question.network),
        sum(weight.water_volume + weight.headroom for weight in dry.vessels.values()),
    )
    drawn = _outcomes(known, response, off, count, seed)
    rates = _rates(known, response, off, hazard, losses, seed)
    before = tuple(asked[name] for name in known.before)
    low, middle, high = (float(one) for one in np.quantile(drawn.water, (0.05, 0.5, 0.95)))
    design_loss, yearly_loss = float(losses.mean(drawn.water / 1000).mean()), rates[3]
    listed = _listed(response, asked, chance, driven, off)
    return Doubt(
        installation,
        found,
        listed,
        sum(1 for one in dry.findings if one.verdict == "not assessed" and not one.practice),
        _year(known.tips, drawn.tips, rates[0], tuple(one for one in before if is_tipping(one))),
        _year(known.joints, drawn.joints, rates[1], tuple(one for one in before if is_joint(one))),
        Year(float((drawn.water > WET).mean()), float(yearly_chance(rates[2]))),
        (low, middle, high),
        None if losses.why else yearly_loss,
        None if losses.why else design_loss,
        losses.why,
        losses.currency,
        hazard,
        before,
        tuple((n, float(np.abs(part - chance.chance).max(initial=0.0))) for n, part in chance.running[:-1]),
        chance.count,
        ran,
        seed,
        (*(one.value for one in found), *hazard.values, PLAY_VALUE, PUDDLE_VALUE),
    )


def _learned(
    dry: Dry, raw: Any, axes: tuple[Axis, ...], seed: int, processes: int, report: Report | None
) -> tuple[Response, Array, Runs, dict[str, Limit]]:
    """The response, its misfit by output, how many runs there were, and what was asked."""
    x = sample(axes, CHECKS, seed + 1_000_003)
    wanted = [*settings(axes), *together(axes, x)]
    told = (lambda done, of: report(LEARNING, done, of)) if report is not None else None
    runs = run_all(raw, axes, wanted, processes, told)
    middle = runs[Setting()]
    response = learn(axes, runs, loses(axes, list(middle)))
    answers = [runs[one] for one in together(axes, x)]
    apart = misfit(response, x, answers)
    with np.errstate(invalid="ignore"):
        known = ~np.isnan(apart)
        off = np.sqrt(np.where(known, apart**2, 0.0).sum(axis=0) / np.maximum(known.sum(axis=0), 1))
    unfit = sum(1 for answer in runs.values() if not answer)
    return response, off, Runs(len(runs) - len(answers), len(answers), unfit), limits(dry)


def _year(counted: tuple[int, ...], happens: NDArray[np.bool_], rate: float, already: tuple[Limit, ...]) -> Year | None:
    """Nothing where there is nothing of its kind."""
    if not counted:
        return None if not already else Year(None, None, already)
    return Year(float(happens.mean()), float(yearly_chance(rate)), already)


def _listed(
    response: Response, asked: dict[str, Limit], chance: Chances, driven: Drivers, off: Array
) -> tuple[Chance, ...]:
    found, middle = [], response.at_middle()
    for number, name in enumerate(response.names):
        limit = asked.get(name)
        if limit is None:
            continue
        found.append(
            Chance(
                limit,
                float(np.exp(middle[number])),
                float(chance.chance[number]),
                float(chance.error[number]),
                float(off[number]),
                tuple(float(one) for one in driven.total[number]),
            )
        )
    return tuple(sorted(found, key=lambda one: (-round(one.chance, 6), -one.ratio)))


def _outcomes(known: Outcomes, response: Response, off: Array, count: int, seed: int) -> Drawn:
    """In the design earthquake."""
    x = sample(response.axes, 1 << (count - 1).bit_length(), seed + 29)
    rng = np.random.default_rng(seed + 31)
    parts = [draw(known, response, off, x[start : start + 8192], rng) for start in range(0, len(x), 8192)]
    tips, joints = (np.concatenate([getattr(part, name) for part in parts]) for name in ("tips", "joints"))
    return Drawn(tips, joints, np.concatenate([part.water for part in parts]))


def _rates(
    known: Outcomes, response: Response, off: Array, hazard: Curve, losses: LossCurve, seed: int
) -> tuple[float, float, float, float]:
    """Times a year that something comes down, a joint passes its limit, water gets onto the floor; mean yearly cost."""
    levels = np.geomspace(WEAKEST, SHAKING[-1], LEVELS)
    points = sample(response.axes, AT_A_LEVEL, seed + 17)
    felt = points[:, response.shaking].copy()
    at_level = []
    for number, level in enumerate(levels):
        x = points.copy()
        x[:, response.shaking] = felt * level
        drawn = draw(known, response, off, x, np.random.default_rng(seed + 37 + number))
        cost = losses.mean(drawn.water / 1000).mean()
        at_level.append([drawn.tips.mean(), drawn.joints.mean(), (drawn.water > WET).mean(), cost])
    tips, joints, water, loss = (float(one) for one in times_a_year(hazard.times(levels), np.array(at_level)))
    return tips, joints, water, loss
