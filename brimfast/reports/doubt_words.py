"""Plain words for chances: all faces take theirs from here."""

from __future__ import annotations

import math

from brimfast.assess.doubt.doubt import Chance, Doubt, Year
from brimfast.assess.doubt.runs import Limit
from brimfast.assess.doubt.unknowns import Unknown
from brimfast.assess.plan.improve import Improvement
from brimfast.reports.doubting import PlanDoubt
from brimfast.reports.improve_words import hours_text, money_text
from brimfast.reports.words import capital
from brimfast.shared.constants import LITRE
from brimfast.shared.units import System, money, number_text, show

NOTHING_TO_MEASURE = (
    "Measuring anything would change these chances little: the earthquake itself decides. What would help, tells brimfast "
    "improve."
)
NOT_ASKED = "not asked"
LIMITS_NOTE = "Ratio: with every number at its middle. Chance: that it passes 1."
MOST_TO_MEASURE = 4
NO_RATIO = 900.0  # no capacity stands as 1000
NOTICED = 0.02  # of the cost: less is within what sampling adds
MATTERS = 0.05  # share of an unknown in what is open
TIPS = "something falls, or a rack begins to tip"
JOINTS = "a joint passes its limit"
WATER = "more than a bucket of water gets onto the floor"
NOT_IN = (
    "Mishaps of pumps, hoses and drains: how often they happen is not known. `check` tells how far each would go.",
    "Limits are those of `check`, with the margins and the reductions (R) of its standard: to pass one is not yet to break, "
    "and a force that was reduced can be passed by a real one. Falling and sliding ways are physical estimates without "
    "either. Give the median strength of joints and timber in the file (doubt: fasteners, timber) where tests are known.",
    "A vessel counts as emptied when it falls, when its rack tips or a joint of the rack or an anchor passes its limit, when it "
    "slides on its deck, or when it or its rack slides further than its pipes have play (50 mm): a bound. Drains count "
    "nothing. What leaves by a door to where the file names no room is not in the cost.",
    "One strength for all joints, one for all timber, one level for all water: what fails, fails together.",
    "The spread of the shaking (as felt by what sways) makes rare what is nearly sure and likely what is rare; what is rigid "
    "feels less of it (half, by the same source). Aftershocks, faults close by, and buildings that fail themselves.",
    "What hangs, and members of a rack that give way: they do not count as fallen or as emptied.",
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
    """Without the remark that `check` adds in brackets, which does not hold here (low friction, and such)."""
    return f"{limit.subject}: {limit.question.partition(' (')[0]}"


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
    known = [(TIPS, found.tips), (JOINTS, found.joints), (WATER, found.water)]
    said = [
        f"{chance_text(year.design)} that {text}"
        for text, year in known
        if year is not None and year.design is not None
    ]
    already = sum(len(year.already) for year in (found.tips, found.joints) if year is not None)
    more = f" {_count(already)} passed without any earthquake." if already else ""
    return f"In the design earthquake, which is passed once in about {years_text(found.curve.design_years)}: {', '.join(said)}.{more}"


def _count(already: int) -> str:
    return f"{already} {'limit is' if already == 1 else 'limits are'}"


def years_text(value: float) -> str:
    return "a million years or more" if value > 1e6 else f"{number_text(value, 2)} years"


def already_text(year: Year | None) -> str:
    """What is not in the chance since it needs no earthquake."""
    if year is None or not year.already:
        return ""
    return f"{_count(len(year.already))} passed without any earthquake, and not counted"


def already_texts(found: Doubt) -> list[str]:
    """The same of every kind of outcome that has some."""
    pairs = [(text, already_text(year)) for text, year in ((TIPS, found.tips), (JOINTS, found.joints))]
    return [f"{text}: {already}." for text, already in pairs if already]


def water_text(found: Doubt, system: System) -> str:
    return f"Water in the design earthquake: {litres_text(found, system)}."


def no_cost_text(found: Doubt) -> str:
    return f"Cost is not assessed: {found.loss_why}."


def measure_texts(found: Doubt) -> list[str]:
    """What to measure, most worth it first."""
    pairs = [(one, share) for one, share in found.measure_first if share >= MATTERS / 5][:MOST_TO_MEASURE]
    return [f"{one.name} ({100 * share:.0f} % of what is open): {one.measure}" for one, share in pairs]


def outcome_rows(found: Doubt) -> list[tuple[str, str, str, str]]:
    """What may happen: in the design earthquake, in a year, once in how many years."""
    rows = []
    for text, year in ((TIPS, found.tips), (JOINTS, found.joints), (WATER, found.water)):
        if year is not None:
            once = once_text(year.yearly) if year.yearly is not None else ""
            rows.append((text, design_text(year), year_text(year), once))
    return rows


def design_text(year: Year) -> str:
    return "see below" if year.design is None else chance_text(year.design)


def year_text(year: Year | None) -> str:
    if year is None:
        return "none to pass"
    return "see below" if year.yearly is None else yearly_text(year.yearly)


def litres_text(found: Doubt, system: System) -> str:
    low, middle, high = (show(one * LITRE, "volume", system, 2) for one in found.litres)
    if found.litres[2] < 1:
        return "none"
    return f"{middle} as a rule, {low} to {high} in 90 of 100"


def change_text(found: Doubt, other: Doubt) -> str:
    """What a change takes off a year."""
    parts = [f"{WATER}: {year_text(found.water)} a year before, {year_text(other.water)} after"]
    if found.yearly_loss is not None and other.yearly_loss is not None and found.currency == other.currency:
        less = _less(found.yearly_loss, other.yearly_loss)
        if less == 0:
            parts.append("its mean yearly cost hardly changes")
        else:
            word = "less" if less > 0 else "more"
            parts.append(f"mean yearly cost of that water: {loss_text(abs(less), found)} {word}")
    return f"What the change does. {capital('; '.join(parts))}."


def _less(before: float, after: float) -> float:
    """By how much a cost falls; 0 where that is within what sampling adds."""
    less = before - after
    return less if abs(less) > NOTICED * max(before, after) else 0.0


def unlike_text(found: Doubt, other: Doubt) -> str:
    """Where the two files are not the same installation changed."""
    said = []
    if found.installation.installation != other.installation.installation:
        said.append(f"the other file is called {other.installation.installation!r}")
    if found.installation.site != other.installation.site or found.curve.points != other.curve.points:
        said.append("its site or hazard is another: chances at two design earthquakes do not compare")
    if found.currency != other.currency:
        said.append("its currency is another: costs do not compare")
    return "; ".join(said)


def loss_text(amount: float | None, found: Doubt) -> str:
    if amount is None:
        return "not assessed"
    if amount < 0.5:
        return f"under 1 {found.currency}"
    return money(amount, found.currency, 2)


def plan_text(found: Doubt, one: PlanDoubt, improvement: Improvement) -> str:
    """Its price beside what it takes off the yearly cost, or adds to it."""
    name = " = ".join(one.plan.names)
    price = f"{money_text(one.plan.takes, improvement.assessment.installation)} for parts, {hours_text(one.plan.takes)} of work"
    if found.yearly_loss is None or one.doubt.yearly_loss is None:
        return f"{name}: {price}."
    less = _less(found.yearly_loss, one.doubt.yearly_loss)
    if less < 0:
        return f"{name}: {price}; adds {loss_text(-less, found)} to the mean yearly cost of water."
    takes = loss_text(less, found) if less else "nothing"
    return f"{name}: {price}; takes {takes} off the mean yearly cost of water."


def accuracy_text(found: Doubt) -> str:
    """How far samples and learned ratios are from what they stand for."""
    near = [one for one in found.limits if 0.001 < one.chance < 0.999]
    error = max((one.error for one in found.limits), default=0.0)
    worst = max(near, key=lambda one: one.misfit, default=None)
    text = (
        f"{found.samples:,} samples (scrambled Sobol points, seed {found.seed}) add about {100 * max(error, 1e-5):.2g} in a "
        f"hundred (standard error of the least sure chance) to what follows from the assumptions below, which matter far more. The ratios come from "
        f"{found.runs.learned} runs of the whole computation, between which they are taken as straight; "
        f"{found.runs.checked} more with everything different at once"
    )
    if worst is None:
        return f"{text} agree."
    typical = sorted(one.misfit for one in near)[len(near) // 2]
    return (
        f"{text} differ from that by {_percent(typical)} as a rule and {_percent(worst.misfit)} at most "
        f"({limit_text(worst.limit)}): its chance can be off by about {min(max(round(100 * worst.misfit), 1), 50)} in a hundred. "
        "These differences are drawn with the rest."
    )


def rest_text(rest: int, not_assessed: int, where: str = "") -> str:
    """Of limits that are not listed; where: the others are told."""
    others = f"{rest} more {'is' if rest == 1 else 'are'} less likely{where}; " if rest else ""
    return f"{others}{_count(not_assessed)} not assessed."


def _percent(ln: float) -> str:
    return f"{100 * math.expm1(ln):.1f} %" if ln < 0.1 else f"{100 * math.expm1(ln):.0f} %"


def unfit_text(found: Doubt) -> str:
    """Of runs whose numbers together made no installation."""
    count = found.runs.unfit
    if not count:
        return ""
    return (
        f"In {count} of these runs the numbers did not go together (such as water above a rim): there ratios are taken as at "
        "the nearest values that do."
    )


def convergence_text(found: Doubt) -> str:
    steps = ", ".join(f"{count:,} samples {100 * apart:.2g}" for count, apart in found.running)
    return f"Largest change of any chance on the way to {found.samples:,} samples, in percent points: {steps}."
