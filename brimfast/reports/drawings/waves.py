"""The water of open vessels at rest, and its wave by theory against the rim."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from brimfast.assess.pipeline import Assessment
from brimfast.assess.slosh.case import Slosh
from brimfast.reports import choice
from brimfast.reports.drawings.keyed import Keyed, numbers
from brimfast.reports.drawings.marks import SIZE, mark, marked
from brimfast.reports.drawings.scale_bar import scale_bar
from brimfast.reports.drawings.sheet import SMALL, Sheet
from brimfast.reports.pdf_style import FILL, INK, PAPER, QUIET, WATER
from brimfast.shared.findings import Finding
from brimfast.shared.units import System, show

MOST = 12
FOOT, HEAD, SIDE, GAP, LABELS = 30.0, 22.0, 12.0, 16.0, 74.0
TALLEST = 120.0  # points
POINTS = 24


@dataclass(frozen=True)
class _Shown:
    wave: Slosh
    length: float
    base: float  # of the fill, under the free water (m)
    rim: float
    crest: float

    @property
    def high(self) -> float:
        return max(self.rim, self.crest)


def worst_waves(assessment: Assessment) -> list[Slosh]:
    """Of each vessel the direction in which its wave is highest, where it is assessed; heaviest water first where many."""
    found: dict[str, Slosh] = {}
    for wave in assessment.waves:
        if wave.assessed and (wave.vessel not in found or wave.wave > found[wave.vessel].wave):
            found[wave.vessel] = wave
    heaviest = sorted(found.values(), key=lambda wave: -wave.water.weight)[:MOST]
    return [wave for wave in found.values() if wave in heaviest]


def waves(assessment: Assessment, system: System, width: float, most_height: float = 300.0) -> Keyed | None:
    """Cuts through the vessels at one scale. The key: which vessel each number is, and its findings."""
    shown = [_shown(assessment, wave) for wave in worst_waves(assessment)]
    if not shown:
        return None
    room = width - 2 * SIDE
    scale = min((room - LABELS) / max(one.length for one in shown), TALLEST / max(one.high for one in shown))
    rows = _rows(shown, scale, room)
    while _height(rows, scale) > most_height and scale > 5.0:
        scale *= 0.93
        rows = _rows(shown, scale, room)
    sheet = Sheet(width, _height(rows, scale))
    tags, own = choice.finding_numbers(assessment), numbers(assessment)
    key: list[tuple[str, str]] = []
    ground = sheet.height
    for row in rows:
        ground -= HEAD + max(one.high for one in row) * scale
        x = SIDE
        for one in row:
            here = [
                item for item in marked(assessment.findings) if item.id == f"slosh/{one.wave.vessel}/{one.wave.way}"
            ]
            _cut(sheet, one, x, ground, scale, system)
            sheet.badge(x + one.length * scale / 2, ground - 15, own[one.wave.vessel])
            if here:
                mx, my = x + one.length * scale, ground + one.rim * scale
                sheet.take(mx - SIZE, my - SIZE, mx + SIZE, my + SIZE)
                mark(sheet, mx, my, here, tags)
            key.append((own[one.wave.vessel], _words(one, here, tags, system)))
            x += one.length * scale + LABELS + GAP
        ground -= FOOT
    scale_bar(sheet, SIDE, 5, scale, system)
    return Keyed(sheet.drawing(), tuple(key))


def _shown(assessment: Assessment, wave: Slosh) -> _Shown:
    vessel = assessment.installation.vessel(wave.vessel)
    assert vessel.depth is not None and vessel.water is not None
    return _Shown(wave, wave.length, vessel.water - wave.water.depth, vessel.depth, vessel.water + wave.wave)


def _words(one: _Shown, here: Sequence[Finding], tags: dict[str, str], system: System) -> str:
    number = f" ({tags[here[0].id]})" if here else ""
    steep = "; steeper than the theory covers" if one.wave.index else ""
    if one.wave.lid is not None:
        steep += "; as it would rise without its lid"
    return (
        f"{one.wave.vessel}: wave {show(one.wave.wave, 'length', system)}, freeboard "
        f"{show(one.wave.water.freeboard, 'length', system)}, one to and fro {one.wave.period:.2f} s{steep}{number}"
    )


def _cut(sheet: Sheet, one: _Shown, x: float, ground: float, scale: float, system: System) -> None:
    """Shell, fill, water at rest, wave as half a sine either way, and what each height is."""
    wide, rim = one.length * scale, ground + one.rim * scale
    rest = ground + (one.base + one.wave.water.depth) * scale
    rise = one.wave.wave * scale
    if one.base > 0:
        sheet.box(x, ground, wide, one.base * scale, FILL, None)
    low = ground + one.base * scale
    profile = [
        (x + wide * index / POINTS, max(rest - rise * math.cos(math.pi * index / POINTS), low))
        for index in range(POINTS + 1)
    ]
    sheet.polygon([(x, low), *profile, (x + wide, low)], WATER, None, 0.0, opacity=0.7)
    sheet.lines(profile, INK, 1.3)
    sheet.line(x, rest, x + wide, rest, QUIET, 0.8, (4, 2))
    for side in (x, x + wide):
        sheet.line(side, ground, side, rim, INK, 2.0)
    sheet.line(x, ground, x + wide, ground, INK, 2.0)
    sheet.line(x - 6, rim, x + wide + 30, rim, INK, 0.5, (1, 2))
    if one.wave.lid is not None:
        sheet.box(x - 2, rim, wide + 4, 3.0, PAPER, INK, 0.8)
    crest = rest + rise
    aside = x + wide + 16
    for y in (rest, crest):
        sheet.line(x + wide + 2, y, aside + 3, y, QUIET, 0.5)
    sheet.arrow(aside, rest, aside, crest, INK, 1.0, 4.0)
    wave, free = (show(value, "length", system) for value in (one.wave.wave, one.wave.water.freeboard))
    sheet.near(f"wave {wave}", aside + 4, max(crest, rim) + 4, SMALL, INK, True, start=5.0, halo=False)
    beside = aside + 16
    sheet.line(beside, rest, beside, rim, QUIET, 0.6)
    for y in (rest, rim):
        sheet.line(beside - 3, y, beside + 3, y, QUIET, 0.6)
    free_y = (rest + rim) / 2 - 2.3
    sheet.put(f"free {free}", [(beside + 5, free_y - step, "start") for step in (0, 5, 10, 15, -5)], SMALL)
    sheet.put("at rest", [(x + 4, rest + 2, "start"), (x + wide / 2, rest + 2, "middle")], SMALL, halo=False)


def _rows(shown: list[_Shown], scale: float, room: float) -> list[list[_Shown]]:
    rows: list[list[_Shown]] = []
    used = 0.0
    for one in shown:
        needs = one.length * scale + LABELS
        if not rows or used + needs > room + 1:
            rows.append([])
            used = 0.0
        rows[-1].append(one)
        used += needs + GAP
    return rows


def _height(rows: list[list[_Shown]], scale: float) -> float:
    return 16 + sum(FOOT + HEAD + max(one.high for one in row) * scale for row in rows)
