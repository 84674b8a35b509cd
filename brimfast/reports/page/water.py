"""The pond on the floor in time: which mishaps can be looked at, and what there is to see at each moment."""

from __future__ import annotations

import json
import math
from bisect import bisect_left
from dataclasses import dataclass

import numpy as np
from markupsafe import Markup

from brimfast.assess.network.runs import NOTHING, Run
from brimfast.assess.pipeline import Assessment
from brimfast.assess.spill.assess import DRY_UNDER, socket_mark
from brimfast.reports import spill_words
from brimfast.reports.drawings.pond import LEFT, RIGHT, depth_in_time, shown_until
from brimfast.reports.html_drawings import inline_svg
from brimfast.reports.page import page_words
from brimfast.reports.page.pictures import WIDTH, Picture, wet_room
from brimfast.reports.words import begun, capital, listed
from brimfast.shared.units import System, duration, show

MOST_CHOICES, MOMENTS, CHART = 24, 96, 190.0
SHADES = 10


@dataclass(frozen=True)
class Moment:
    """So long after it began: what can be seen then."""

    at: float
    shade: int  # 0 dry, up to SHADES at its deepest
    along: float  # where the time stands in the chart, points from its left edge
    text: str


@dataclass(frozen=True)
class Water:
    """One mishap. choices: all that can be looked at, by id; moment: the number of the one that is shown."""

    choices: tuple[tuple[str, str], ...]
    chosen: str
    said: str
    moments: tuple[Moment, ...]
    moment: int
    room: Picture
    chart: Picture

    @property
    def data(self) -> str:
        """For the slider."""
        return json.dumps([[one.shade, round(one.along, 2), one.text] for one in self.moments], ensure_ascii=False)

    @property
    def now(self) -> Moment:
        return self.moments[self.moment]


def water(assessment: Assessment, chosen: str, moment: int | None, system: System) -> Water | None:
    """None where no mishap puts water on the floor. moment: by number; when the water is deepest where none is chosen."""
    runs = _runs(assessment)
    if not runs:
        return None
    run = next((one for one in runs if one.event.id == chosen), runs[0])
    moments = _moments(run, assessment, system)
    deepest = bisect_left([one.at for one in moments], run.about_deepest_at - 1e-9)
    at = min(deepest if moment is None else max(moment, 0), len(moments) - 1)
    installation = assessment.installation
    return Water(
        tuple((one.event.id, _choice(one, assessment, system)) for one in runs),
        run.event.id,
        begun(_said(run, system), installation),
        moments,
        at,
        wet_room(assessment, system, Markup('id="water-on-floor" class="shade-{}"').format(moments[at].shade)),
        _chart(run, assessment, moments[at].along, system),
    )


def _said(run: Run, system: System) -> str:
    ways = spill_words.by_which_way(run, system)
    return f"{spill_words.mishap(run.event)}.{f' {capital(ways)}.' if ways else ''}"


def _runs(assessment: Assessment) -> list[Run]:
    """Single mishaps first, the worst of them ahead; then the earthquake and the worst two at once."""
    spill = assessment.spill
    singles = [one for one in spill.singles if one.reached > NOTHING]
    singles.sort(key=lambda one: (one is not spill.worst, -one.leaves, -one.depth))
    besides = [one for one in (spill.earthquake, spill.pair) if one is not None and one.reached > NOTHING]
    return [*singles[: MOST_CHOICES - len(besides)], *besides]


def _choice(run: Run, assessment: Assessment, system: System) -> str:
    deep = show(run.depth, "length", system, 2)
    return f"{begun(spill_words.mishap(run.event), assessment.installation)}: up to {deep} deep"


def _moments(run: Run, assessment: Assessment, system: System) -> tuple[Moment, ...]:
    end = shown_until([run])
    t, depth = run.course
    even = np.linspace(0.0, end, MOMENTS)
    marks = [run.about_deepest_at, run.cm_at, run.dry_at, *(at for _, at in run.wets)]
    times = sorted({float(one) for one in (*even, *marks) if math.isfinite(one) and 0 <= one <= end})
    inner = WIDTH - LEFT - RIGHT
    found = []
    for at in times:
        deep = max(float(np.interp(at, t, depth)), 0.0)
        shade = 0 if deep <= DRY_UNDER else max(1, math.ceil(SHADES * min(deep / max(run.depth, DRY_UNDER), 1.0)))
        found.append(Moment(at, shade, LEFT + inner * at / end, _told(run, assessment, at, deep, system)))
    return tuple(found)


def _told(run: Run, assessment: Assessment, at: float, deep: float, system: System) -> str:
    when = "At once" if at <= 0 else f"After {duration(at)}"
    if deep <= DRY_UNDER:
        return f"{when}: {page_words.DRY_FLOOR[0].lower()}{page_words.DRY_FLOOR[1:]}"
    text = f"{when}: {show(deep, 'length', system, 2)} deep"
    sill = assessment.spill.room.sill
    if run.leaves > NOTHING and deep > sill + 1e-6:
        text += ", water runs over the sill"
    sockets = {socket_mark(index): one.name for index, one in enumerate(assessment.installation.room.sockets)}
    wet = [sockets.get(name, name) for name, first in run.wets if first <= at]
    return f"{text}{f'; wet: {listed(wet, 4)}' if wet else ''}."


def _chart(run: Run, assessment: Assessment, along: float, system: System) -> Picture:
    drawing = depth_in_time(assessment, [(run, run.event.text, True)], system, WIDTH, CHART)
    mark = Markup('<rect id="water-time" x="{:.2f}" y="8" width="3" height="{:.2f}"/>').format(along - 1.5, CHART - 30)
    title = "Depth of the water on the floor as time goes on"
    return Picture(
        "picture-depth", title, inline_svg(drawing, "picture-depth", title, run.event.text, mark, styled=False), ()
    )
