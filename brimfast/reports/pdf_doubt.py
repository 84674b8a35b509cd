"""The page of chances: what may happen, which limits are passed, what to measure first."""

from __future__ import annotations

from functools import partial

from brimfast.reports import doubt_words as say
from brimfast.reports import words
from brimfast.reports.pdf_flow import BODY, H2, QUIET_SMALL, SMALL, bullets, on_one_page, part, plain, table

# isort: split
from reportlab.platypus import Flowable, PageBreak

from brimfast.assess.doubt.doubt import Doubt
from brimfast.shared.units import System

OPEN = 0.005  # chance from which a limit is listed


def doubt_page(found: Doubt, system: System, width: float, height: float) -> list[Flowable]:
    """On one page: as many limits as fit."""
    ways = [partial(_page, found, system, width, most) for most in (14, 11, 8, 6, 4)]
    return [PageBreak(), *on_one_page(ways, width, height)]


def _page(found: Doubt, system: System, width: float, most: int) -> list[Flowable]:
    rows = [[words.capital(one[0]), *one[1:]] for one in say.outcome_rows(found)]
    rows.append(
        [
            "Cost of the water, mean",
            say.loss_text(found.design_loss, found),
            say.loss_text(found.yearly_loss, found),
            "",
        ]
    )
    story: list[Flowable] = [
        part("How likely it is"),
        plain(say.headline(found), BODY),
        table(
            ("what may happen", "in the design earthquake", "in a year", "once in"),
            rows,
            tuple(width * share for share in (0.4, 0.24, 0.18, 0.18)),
            {1, 2, 3},
        ),
        plain(f"Water in the design earthquake: {say.litres_text(found, system)}.", SMALL),
    ]
    for text, year in ((say.TIPS, found.tips), (say.JOINTS, found.joints)):
        already = say.already_text(year)
        if already:
            story.append(plain(f"{words.capital(text)}: {already}.", SMALL))
    if found.loss_why:
        story.append(plain(f"Cost is not assessed: {found.loss_why}.", SMALL))
    story += _limits(found, width, most)
    story += [plain("What to measure first", H2), *_measure(found)]
    story += [plain("How sure these figures are", H2), plain(say.accuracy_text(found), SMALL)]
    if found.runs.unfit:
        story.append(plain(say.unfit_text(found), SMALL))
    story += [
        plain("Not in it", H2),
        *bullets([text.replace("`", "") for text in (*say.NOT_IN, say.CODE)], QUIET_SMALL),
    ]
    return [*story, plain(words.DEFER, BODY)]


def _limits(found: Doubt, width: float, most: int) -> list[Flowable]:
    shown = [one for one in found.limits if one.chance >= OPEN][:most]
    rows = [
        [
            say.limit_text(one.limit),
            say.ratio_text(one),
            say.chance_text(one.chance),
            say.drivers_text(one, found.unknowns),
        ]
        for one in shown
    ]
    if not rows:
        return [plain("No limit of this calculation is likely to be passed in the design earthquake.", BODY)]
    rest = len(found.limits) - len(rows)
    more = f" {rest} more are less likely; {found.not_assessed} are not assessed." if rest else ""
    return [
        plain("Limits most likely passed in the design earthquake", H2),
        table(
            ("limit", "ratio", "chance", "driven by"),
            rows,
            tuple(width * share for share in (0.48, 0.11, 0.11, 0.3)),
            {1, 2},
        ),
        plain(f"Ratio: with every number at its middle. Chance: that it passes 1.{more}", QUIET_SMALL),
    ]


def _measure(found: Doubt) -> list[Flowable]:
    pairs = [(one, share) for one, share in found.measure_first if share >= say.MATTERS / 5][:4]
    if not pairs:
        return [plain(say.NOTHING_TO_MEASURE, SMALL)]
    return [
        plain(f"{number}. {one.name} ({100 * share:.0f} % of what is open): {one.measure}", SMALL)
        for number, (one, share) in enumerate(pairs, start=1)
    ]
