"""What the terminal says of doubt: chances in the design earthquake and in a year, what drives them, what to measure."""

from __future__ import annotations

from collections.abc import Iterator

from brimfast import __version__
from brimfast.assess.doubt.doubt import Chance, Doubt
from brimfast.assess.plan.improve import Improvement
from brimfast.reports import doubt_content as content
from brimfast.reports import doubt_words as say
from brimfast.reports import words
from brimfast.reports.blocks import Block, Cell, Gap, Grid, Heading, Line
from brimfast.reports.doubting import PlanDoubt
from brimfast.reports.terminal_blocks import title_line
from brimfast.shared.units import System

LIKELY = 0.5  # chance from which a line stands out
OUTCOMES = ("design earthquake", "in a year", "once in")


def doubt_blocks(
    found: Doubt,
    other: Doubt | None,
    system: System,
    improvement: Improvement | None = None,
    plans: tuple[PlanDoubt, ...] = (),
) -> Iterator[Block]:
    """other: the same installation changed, beside it; plans: those of the improvement."""
    yield title_line(found.installation)
    yield Line(f"brimfast {__version__} · {words.DEFER}", style="dim")
    yield Gap()
    yield Line(say.headline(found), style="bold")
    yield from _outcomes(found, other, system)
    if improvement is not None:
        yield from _plans(found, improvement, plans)
    yield from _limits(found, other)
    yield from _measure(found)
    yield from _already(found)
    if other is not None and other.before:
        yield Line(f"Of the changed file: {len(other.before)}.", 2)
    yield Heading(content.ACCURACY)
    yield Line(say.accuracy_text(found), 2)
    if found.runs.unfit:
        yield Line(say.unfit_text(found), 2, "yellow")
    yield Line(say.convergence_text(found), 2)
    yield Heading("What was taken as not known")
    rows = [(one.name, one.value.text, _provenance(one.value.provenance)) for one in found.unknowns]
    yield Grid((("number", False), ("spread", False), ("from", False)), rows)
    for value in found.curve.values:
        yield Line(f"{value.name}: {value.text} ({value.provenance}: {value.source}).", 2)
    yield Heading(content.NOT_IN)
    yield from (Line(text, 2, mark="·") for text in (*say.NOT_IN, say.CODE))
    yield Gap()
    yield Line(words.DEFER, style="bold")


def _provenance(text: str) -> Cell:
    return Cell(text, said=text.removeprefix("from "))


def _plans(found: Doubt, improvement: Improvement, plans: tuple[PlanDoubt, ...]) -> Iterator[Block]:
    """What each plan takes off a year."""
    yield Heading("What each plan takes off")
    if not plans:
        yield Line("There is no plan: no measure makes anything better.", 2)
        return
    titles = ("tips, in a year", "a joint", "water", "mean cost of water")
    sides = [("as it stands", found), *((" = ".join(one.plan.names), one.doubt) for one in plans)]
    rows = [
        (name, *map(say.year_text, (side.tips, side.joints, side.water)), say.loss_text(side.yearly_loss, side))
        for name, side in sides
    ]
    yield Grid((("", False), *((title, True) for title in titles)), rows)
    yield from (Line(say.plan_text(found, one, improvement), 2) for one in plans)
    yield Line("What each plan is, and how it is done, tells brimfast improve.", 2, "dim")


def _outcomes(found: Doubt, other: Doubt | None, system: System) -> Iterator[Block]:
    yield Heading(content.OUTCOMES)
    sides = [("", found)] if other is None else [("as it stands", found), ("changed", other)]
    for title, side in sides:
        if title:
            yield Line(title, style="bold")
        yield Grid((("", False), *((head, True) for head in OUTCOMES)), _outcome_rows(side))
        yield Line(say.water_text(side, system), 2)
        if side.loss_why:
            yield Line(say.no_cost_text(side), 2, "dim")
        yield from (Line(text, 2, "yellow", mark="!") for text in say.already_texts(side))
    if other is not None:
        unlike = say.unlike_text(found, other)
        if unlike:
            yield Line(f"{unlike}.", style="yellow", mark="!")
        yield Line(say.change_text(found, other), style="bold")


def _outcome_rows(side: Doubt) -> list[tuple[str | Cell, ...]]:
    designs = [year.design for year in (side.tips, side.joints, side.water) if year is not None]
    rows: list[tuple[str | Cell, ...]] = [
        (text, shown if design is None else _chance(design), yearly, once)
        for (text, shown, yearly, once), design in zip(say.outcome_rows(side), designs, strict=True)
    ]
    costs = (say.loss_text(amount, side) for amount in (side.design_loss, side.yearly_loss))
    return [*rows, ("cost, mean", *costs, "")]


def _chance(p: float) -> Cell:
    return Cell(say.chance_text(p), "bold red" if p >= LIKELY else "yellow" if p >= content.OPEN else "green")


def _limits(found: Doubt, other: Doubt | None) -> Iterator[Block]:
    yield Heading("Which limits are passed in the design earthquake")
    changed = {one.limit.id: one for one in other.limits} if other is not None else {}
    mine = {one.limit.id for one in found.limits}
    new = [one for id, one in changed.items() if id not in mine]
    listed = sorted(
        (one for one in (*found.limits, *new) if max(one.chance, _then(changed, one)) >= content.OPEN),
        key=lambda one: (-round(one.chance, 3), -one.ratio),
    )
    columns = [("limit", False), ("ratio", True), ("chance", True)]
    columns += [("changed", True)] if other is not None else []
    rows: list[list[str | Cell]] = []
    for one in listed[: content.MOST_LIMITS if other is None else 2 * content.MOST_LIMITS]:
        then = changed.get(one.limit.id)
        asked = one.limit.id in mine
        cells = [
            say.limit_text(one.limit),
            say.ratio_text(one) if asked else "",
            _chance(one.chance) if asked else say.NOT_ASKED,
        ]
        if other is not None:
            cells.append(say.NOT_ASKED if then is None else _chance(then.chance))
        rows.append([*cells, say.drivers_text(one, found.unknowns) if asked else ""])
    yield Grid((*columns, ("driven by", False)), rows)
    rest = len(found.limits) + len(new) - len(rows)
    yield Line(say.rest_text(rest, found.not_assessed, " (--json lists all)"), 2, "dim")
    yield Line(say.LIMITS_NOTE, 2, "dim")


def _then(changed: dict[str, Chance], one: Chance) -> float:
    then = changed.get(one.limit.id)
    return then.chance if then is not None else 0.0


def _measure(found: Doubt) -> Iterator[Block]:
    yield Heading(content.MEASURE)
    texts = say.measure_texts(found)
    yield from (Line(f"{number}. {text}", 2) for number, text in enumerate(texts, start=1))
    if not texts:
        yield Line(say.NOTHING_TO_MEASURE, 2)
    yield Line("The rest is the shaking itself, which nobody can measure beforehand.", 2, "dim")


def _already(found: Doubt) -> Iterator[Block]:
    if not found.before:
        return
    yield Heading("Passed without any earthquake")
    yield Line("These are over their limit already, day and night, or in the weakest shaking: mend them first.", 2)
    yield from (Line(say.limit_text(one), 2, "bold red", mark="✗") for one in found.before)
