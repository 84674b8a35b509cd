"""The terminal face of doubt: chances in the design earthquake and in a year, what drives them, what to measure."""

from __future__ import annotations

from rich.console import Console
from rich.text import Text

from brimfast import __version__
from brimfast.assess.doubt.doubt import Chance, Doubt
from brimfast.assess.plan.improve import Improvement
from brimfast.reports import doubt_words as say
from brimfast.reports import words
from brimfast.reports.doubting import PlanDoubt
from brimfast.reports.terminal_parts import heading, row, table, wrapped
from brimfast.shared.units import System

MOST_LIMITS = 14
LIKELY, OPEN = 0.5, 0.005  # chances from which a line stands out, and from which it is shown at all


def print_doubt(
    found: Doubt,
    other: Doubt | None,
    system: System,
    out: Console,
    improvement: Improvement | None = None,
    plans: tuple[PlanDoubt, ...] = (),
) -> None:
    """other: the same installation changed, beside it; plans: those of the improvement."""
    installation = found.installation
    out.print(Text(installation.installation + (" (invented)" if installation.invented else ""), style="bold"))
    wrapped(f"brimfast {__version__} · {words.DEFER}", out, style="dim")
    out.print()
    wrapped(say.headline(found), out, style="bold")
    _outcomes(found, other, system, out)
    if improvement is not None:
        _plans(found, improvement, plans, out)
    _limits(found, other, out)
    _measure(found, out)
    _already(found, out)
    if other is not None and other.before:
        wrapped(f"Of the changed file: {len(other.before)}.", out, 2)
    heading("How sure these figures are", out)
    wrapped(say.accuracy_text(found), out, 2)
    if found.runs.unfit:
        wrapped(say.unfit_text(found), out, 2, "yellow")
    wrapped(say.convergence_text(found), out, 2)
    heading("What was taken as not known", out)
    shown = table((("number", False), ("spread", False), ("from", False)))
    for one in found.unknowns:
        row(shown, one.name, one.value.text, one.value.provenance)
    out.print(shown)
    for value in found.curve.values:
        wrapped(f"{value.name}: {value.text} ({value.provenance}: {value.source}).", out, 2)
    heading("Not in it", out)
    for text in (*say.NOT_IN, say.CODE):
        wrapped(f"· {text}", out, 2)
    out.print()
    wrapped(words.DEFER, out, style="bold")


def _plans(found: Doubt, improvement: Improvement, plans: tuple[PlanDoubt, ...], out: Console) -> None:
    """What each plan takes off a year."""
    heading("What each plan takes off", out)
    if not plans:
        wrapped("There is no plan: no measure makes anything better.", out, 2)
        return
    shown = table(
        (("", False), ("tips, in a year", True), ("a joint", True), ("water", True), ("mean cost of water", True))
    )
    rows = [("as it stands", found), *((" = ".join(one.plan.names), one.doubt) for one in plans)]
    for name, side in rows:
        cells = [say.year_text(year) for year in (side.tips, side.joints, side.water)]
        row(shown, name, *cells, say.loss_text(side.yearly_loss, side))
    out.print(shown)
    for one in plans:
        wrapped(say.plan_text(found, one, improvement), out, 2)
    wrapped("What each plan is, and how it is done, tells brimfast improve.", out, 2, "dim")


def _outcomes(found: Doubt, other: Doubt | None, system: System, out: Console) -> None:
    heading("What may happen", out)
    sides = [("", found)] if other is None else [("as it stands", found), ("changed", other)]
    for title, side in sides:
        if title:
            wrapped(title, out, style="bold")
        shown = table([("", False), ("design earthquake", True), ("in a year", True), ("once in", True)])
        for text, year in ((say.TIPS, side.tips), (say.JOINTS, side.joints), (say.WATER, side.water)):
            if year is None:
                continue
            once = say.once_text(year.yearly) if year.yearly is not None else ""
            first = Text("see below") if year.design is None else _chance(year.design)
            row(shown, text, first, say.year_text(year), once)
        row(shown, "cost, mean", say.loss_text(side.design_loss, side), say.loss_text(side.yearly_loss, side), "")
        out.print(shown)
        wrapped(f"Water in the design earthquake: {say.litres_text(side, system)}.", out, 2)
        if side.loss_why:
            wrapped(f"Cost is not assessed: {side.loss_why}.", out, 2, "dim")
        for text, year in ((say.TIPS, side.tips), (say.JOINTS, side.joints)):
            already = say.already_text(year)
            if already:
                wrapped(f"! {text}: {already}.", out, 2, "yellow")
    if other is not None:
        unlike = say.unlike_text(found, other)
        if unlike:
            wrapped(f"! {unlike}.", out, style="yellow")
        wrapped(say.change_text(found, other), out, style="bold")


def _chance(p: float) -> Text:
    return Text(say.chance_text(p), style="bold red" if p >= LIKELY else "yellow" if p >= OPEN else "green")


def _limits(found: Doubt, other: Doubt | None, out: Console) -> None:
    heading("Which limits are passed in the design earthquake", out)
    changed = {one.limit.id: one for one in other.limits} if other is not None else {}
    mine = {one.limit.id for one in found.limits}
    new = [one for id, one in changed.items() if id not in mine]
    listed = sorted(
        (one for one in (*found.limits, *new) if max(one.chance, _then(changed, one)) >= OPEN),
        key=lambda one: (-round(one.chance, 3), -one.ratio),
    )
    columns = [("limit", False), ("ratio", True), ("chance", True)]
    columns += [("changed", True)] if other is not None else []
    shown = table([*columns, ("driven by", False)])
    most = MOST_LIMITS if other is None else 2 * MOST_LIMITS
    for one in listed[:most]:
        then = changed.get(one.limit.id)
        asked = one.limit.id in mine
        cells = [
            Text(say.limit_text(one.limit)),
            Text(say.ratio_text(one) if asked else ""),
            _chance(one.chance) if asked else Text("not asked"),
        ]
        if other is not None:
            cells.append(Text("not asked") if then is None else _chance(then.chance))
        row(shown, *cells, say.drivers_text(one, found.unknowns) if asked else "")
    out.print(shown)
    rest = len(found.limits) + len(new) - len(listed[:most])
    if rest:
        wrapped(
            f"{rest} more are less likely (--json lists all); {found.not_assessed} are not assessed.", out, 2, "dim"
        )
    wrapped("Ratio: with every number at its middle. Chance: that it passes 1.", out, 2, "dim")


def _then(changed: dict[str, Chance], one: Chance) -> float:
    then = changed.get(one.limit.id)
    return then.chance if then is not None else 0.0


def _measure(found: Doubt, out: Console) -> None:
    heading("What to measure first", out)
    pairs = [(one, share) for one, share in found.measure_first if share >= say.MATTERS / 5]
    if not pairs:
        wrapped(say.NOTHING_TO_MEASURE, out, 2)
    wrapped("The rest is the shaking itself, which nobody can measure beforehand.", out, 2, "dim")


def _already(found: Doubt, out: Console) -> None:
    if not found.before:
        return
    heading("Passed without any earthquake", out)
    wrapped("These are over their limit already, day and night, or in the weakest shaking: mend them first.", out, 2)
    for one in found.before:
        wrapped(f"✗ {say.limit_text(one)}", out, 2, "bold red")
