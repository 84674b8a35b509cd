"""Plain words for chances: all faces take theirs from here."""

from __future__ import annotations

import math

from brimfast.assess.doubt.doubt import Chance, Doubt, Year
from brimfast.assess.doubt.runs import Limit
from brimfast.assess.doubt.unknowns import Unknown
from brimfast.assess.plan.improve import Improvement
from brimfast.reports.doubting import PlanDoubt
from brimfast.reports.improve_words import hours_text, money_text
from brimfast.shared.units import System, money, number_text, show

LITRE = 1e-3  # m³
NO_RATIO = 900.0  # no capacity stands as 1000
MATTERS = 0.05  # share of an unknown in what is open
TIPS = "something tips or falls"
JOINTS = "a joint passes its limit"
WATER = "water gets onto the floor"
NOT_IN = (
    "Mishaps of pumps, hoses and drains: how often they happen is not known. `check` tells how far each would go.",
    "Limits are those of `check`, with its margins: to pass one is not yet to break. Give the median strength of joints "
    "and timber in the file (doubt: fasteners, timber) where tests of them are known.",
    "A vessel counts as emptied when it falls, when its rack tips or a joint of the rack passes its limit, when it slides "
    "on its deck, or when it slides further than its pipes have play (50 mm): a bound. Drains count nothing.",
    "Aftershocks, faults close by, and buildings that fail themselves.",
)
CODE = "What a code asks (an attachment, a distance) is not a matter of chance and not listed."


def chance_text(p: float) -> str:
    """Two figures, never 0 or 1 out of a sample."""
    if p < 5e-4:
        return "under 0.1 %"
    if p > 0.9995:
        return "over 99.9 %"
    percent = 100 * p
    return f"{percent:.1f} %" if percent < 10 or percent > 99 else f"{percent:.0f} %"


def yearly_text(p: float) -> str:
    """Of a year: two figures or so."""
    if p < 1e-5:
        return "under 0.001 %"
    percent = 100 * p
    digits = 0 if percent >= 10 else 1 if percent >= 1 else 2 if percent >= 0.1 else 3
    return f"{percent:.{digits}f} %"


def once_text(p: float) -> str:
    """Mean time between."""
    return f"{number_text(years(p), 2)} years" if 1e-6 < p < 0.5 else ""


def years(yearly: float) -> float:
    """Mean time between, from the chance in a year."""
    return -1 / math.log1p(-yearly) if 0 < yearly < 1 else math.inf if yearly <= 0 else 0.0


def in_years(yearly: float, count: int) -> float:
    """Chance at least once in several years."""
    return 1 - (1 - yearly) ** count


def limit_text(limit: Limit) -> str:
    return f"{limit.subject}: {limit.question}"


def ratio_text(one: Chance) -> str:
    return "no capacity" if one.ratio > NO_RATIO else f"{one.ratio:.2f}"


def drivers_text(one: Chance, unknowns: tuple[Unknown, ...], most: int = 2) -> str:
    """The unknowns that make the ratio vary, with their shares."""
    if one.ratio > NO_RATIO:
        return "nothing resists, whatever the numbers"
    pairs = sorted(zip(one.shares, unknowns, strict=True), key=lambda pair: -pair[0])
    said = [f"{unknown.name} {100 * share:.0f} %" for share, unknown in pairs[:most] if share >= MATTERS]
    return ", ".join(said) or "nothing: it hardly varies"


def headline(found: Doubt) -> str:
    once = number_text(found.curve.design_years, 2)
    return (
        f"In the design earthquake, which is passed once in about {once} years: {chance_text(found.tips.design)} that "
        f"{TIPS}, {chance_text(found.water.design)} that {WATER}."
    )


def already_text(year: Year) -> str:
    """What is not in the chance since it needs no earthquake."""
    count = len(year.already)
    if not count:
        return ""
    return (
        f"{count} {'limit is' if count == 1 else 'limits are'} passed already in the weakest shaking, and not counted"
    )


def litres_text(found: Doubt, system: System) -> str:
    low, middle, high = (show(one * LITRE, "volume", system, 2) for one in found.litres)
    if found.litres[2] < 1:
        return "none"
    return f"{middle} as a rule, {low} to {high} in 90 of 100"


def loss_text(amount: float | None, found: Doubt) -> str:
    if amount is None:
        return "not assessed"
    if amount < 0.5:
        return f"under 1 {found.currency}"
    return money(amount, found.currency, 2)


def plan_text(found: Doubt, one: PlanDoubt, improvement: Improvement) -> str:
    """Its price beside what it takes off the yearly cost."""
    name = " = ".join(one.plan.names)
    price = f"{money_text(one.plan.takes, improvement.assessment.installation)} for parts, {hours_text(one.plan.takes)} of work"
    if found.yearly_loss is None or one.doubt.yearly_loss is None:
        return f"{name}: {price}."
    less = found.yearly_loss - one.doubt.yearly_loss
    if less <= 0:
        return f"{name}: {price}; takes nothing off the mean yearly cost of water."
    return f"{name}: {price}; takes {loss_text(less, found)} off the mean yearly cost of water."


def accuracy_text(found: Doubt) -> str:
    """How far samples and learned ratios are from what they stand for."""
    near = [one for one in found.limits if 0.001 < one.chance < 0.999]
    error = max((one.error for one in found.limits), default=0.0)
    worst = max(near, key=lambda one: one.misfit, default=None)
    text = (
        f"{found.samples:,} samples (Sobol, seed {found.seed}): chances are known to {100 * max(error, 1e-5):.2g} in a "
        f"hundred for what was assumed. The ratios come from {found.runs.learned} runs of the whole computation, "
        f"between which they are taken as straight; {found.runs.checked} more with everything different at once"
    )
    if worst is None:
        return f"{text} agree."
    typical = sorted(one.misfit for one in near)[len(near) // 2]
    return (
        f"{text} differ from that by {_percent(typical)} as a rule and {_percent(worst.misfit)} at most "
        f"({limit_text(worst.limit)}). That is counted into the chances."
    )


def _percent(ln: float) -> str:
    return f"{100 * math.expm1(ln):.1f} %" if ln < 0.1 else f"{100 * math.expm1(ln):.0f} %"


def unfit_text(found: Doubt) -> str:
    """Of runs whose numbers together made no installation."""
    count = found.runs.unfit
    if not count:
        return ""
    return (
        f"In {count} of these runs the numbers of the file's ranges did not go together (such as water above a rim): there "
        "ratios are taken as at the nearest values that do."
    )


def convergence_text(found: Doubt) -> str:
    steps = ", ".join(f"{count:,} samples {100 * apart:.2g}" for count, apart in found.running)
    return f"Largest change of any chance on the way to {found.samples:,} samples, in percent points: {steps}."
