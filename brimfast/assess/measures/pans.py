"""Pans under vessels and racks that can run over."""

from __future__ import annotations

from collections.abc import Iterator

from brimfast.assess.measures.asked import asks
from brimfast.assess.measures.measure import Measure, Need
from brimfast.assess.measures.stock import CURBS, feet, rounded, written
from brimfast.assess.measures.water import SPILLS, critical
from brimfast.assess.network.model import over_rim
from brimfast.assess.network.pans import fastest, over_rim_throw
from brimfast.assess.network.runs import NOTHING, Run
from brimfast.assess.pipeline import Assessment
from brimfast.data_tables.loader import factor_si
from brimfast.shared.constants import INCH
from brimfast.shared.edits import Edit
from brimfast.shared.findings import HOLDS_UP_TO
from brimfast.shared.installation.model import standing_size

LEAST_MARGIN = 4 * INCH  # to look in and to mop: common practice, no source
ACROSS_WALLS = 0.05  # m: walls stand outside the inside sizes of the file


def pan_measures(assessment: Assessment) -> Iterator[Measure]:
    if not asks(assessment, *SPILLS):
        return
    worst, installation = critical(assessment), assessment.installation
    for name, rack in installation.racks.items():
        over = [vessel.name for vessel in installation.on_rack(name)]
        over = [one for one in over if _runs_over(worst, one) > NOTHING]
        if rack.pan is None and over:
            yield from _pans(assessment, ("racks", name), f"rack {name}", over, (rack.length, rack.width))
    for index, vessel in enumerate(installation.vessels):
        if vessel.on == "floor" and vessel.pan is None and _runs_over(worst, vessel.name) > NOTHING:
            size = standing_size(vessel)
            yield from _pans(assessment, ("vessels", index), vessel.name, [vessel.name], size)


def _runs_over(runs: tuple[Run, ...], *vessels: str) -> float:
    """The most that runs over the rims of some vessels in one single mishap that matters (m³)."""
    rims = {over_rim(vessel) for vessel in vessels}
    single = (run for run in runs if not run.event.pair)
    return max((sum(volume for way, volume in run.paths if way in rims) for run in single), default=0.0)


def _pans(
    assessment: Assessment,
    path: tuple[str | int, ...],
    under: str,
    over: list[str],
    size: tuple[float, float],
) -> Iterator[Measure]:
    """So large that what runs over lands in it, and so high that it holds it; none where that takes more than 6 in."""
    system, network = assessment.installation.system, assessment.spill.network
    vessels = {node.name: node for node in network.vessels}
    throws = [
        float(
            over_rim_throw(
                fastest(vessels[one], vessels, network.links), factor_si("overflow_stretch"), vessels[one].rim
            )
        )
        for one in over
    ]
    margin = max(*throws, LEAST_MARGIN) + ACROSS_WALLS
    length, width = (rounded(value + 2 * margin, system, up=True) for value in size)
    group = f"{under}/pan"
    where = "its middle" if path[0] == "vessels" else "its middle, all its posts in it"
    free = length * width - (size[0] * size[1] if path[0] == "vessels" else 0.0)
    need = _runs_over(critical(assessment), *over)
    for up in [one for one in CURBS[system] if need <= HOLDS_UP_TO * free * one][:1]:
        height = written(up, system)
        sides = [written(value, system) for value in (length, width)]
        pan = {"length": sides[0], "width": sides[1], "height": height}
        yield Measure(
            group,
            group,
            (under, "water"),
            under,
            f"a pan of {sides[0]} x {sides[1]} under it, {height} high",
            (Edit((*path, "pan"), pan),),
            (
                Need(
                    "pan",
                    feet(length) * feet(width),
                    f"{sides[0]} x {sides[1]}, {height} high, tight, in one piece or welded",
                ),
                Need("set on a pan", 1, under),
            ),
            (
                f"{under} stands in {where}: so much room all round that what runs over lands in it",
                "what holds it to floor or wall goes over the pan's rim, or through sleeves that are sealed up to it",
                "feet on wide pads, so that they do not cut the pan; a float alarm in it tells early",
            ),
        )
