"""What spilled water does, in words and rows: the same for terminal and PDF."""

from __future__ import annotations

import math

from brimfast.assess.network.model import Event
from brimfast.assess.network.runs import AT_ONCE, NOTHING, Run
from brimfast.assess.pipeline import Assessment
from brimfast.assess.spill.assess import DRY_UNDER, Spill
from brimfast.assess.spill.contain import HIGHEST, Contained
from brimfast.reports.words import begun, both, listed
from brimfast.shared.constants import INCH
from brimfast.shared.installation.model import Installation
from brimfast.shared.units import System, duration, show

HEAD = (
    "what goes wrong",
    "water",
    "fastest",
    "1 cm after",
    "deepest",
    "after",
    "leaves the room",
    "with drains clogged",
    "dry after",
)
NEVER = "–"
MOST_PATHS = 4


def mishap(event: Event) -> str:
    return event.text + (f" ({event.note})" if event.note else "")


def what_water_does(assessment: Assessment, system: System) -> str:
    spill = assessment.spill
    if spill.worst is None:
        return "No water can reach the floor."
    single = spill.worst
    much = show(single.reached, "volume", system)
    if 0 < single.at_once < 0.99 * single.reached:
        much = f"{show(single.at_once, 'volume', system)} at once, {much} in all"
    text = _worst(single, much)
    if single.leaves > NOTHING:
        text += _leaves(show(single.leaves, "volume", system))
        if single.next_rooms and single.leaves - single.outside > NOTHING:
            text += f", {show(single.leaves - single.outside, 'volume', system)} of it into the next rooms"
        text += f". {keeps_it_in(spill.contained(system)['single'], system)}"
    else:
        text += _stays(assessment, show(single.depth, "length", system, 2))
    if not math.isfinite(single.dry_at):
        drains = assessment.installation.room.drains
        text += " A week later some of it still lies there." if drains else " It does not drain by itself."
    if spill.pair is not None and spill.pair.leaves > max(single.leaves, NOTHING):
        text += f" Two at once are worse: {spill.pair.event.text} ({show(spill.pair.leaves, 'volume', system)} leaves)."
    if spill.earthquake is not None:
        quake = spill.earthquake
        text += f" An earthquake could at worst set free {show(quake.reached, 'volume', system)}"
        out = show(quake.leaves, "volume", system)
        text += f", of which up to {out} leaves the room." if quake.leaves > NOTHING else ", and the room holds it."
    if spill.splashing:
        names = listed(spill.splashing, 4)
        text += f" What stands can still splash, at most {show(spill.splash_volume, 'volume', system)} ({names})."
    return text


def in_short(assessment: Assessment, system: System) -> str:
    """The worst single mishap in one sentence or two."""
    single = assessment.spill.worst
    if single is None:
        return "No water can reach the floor."
    text = _worst(single, both(single.reached, "volume", system))
    if single.leaves > NOTHING:
        return f"{text}{_leaves(both(single.leaves, 'volume', system))}."
    return text + _stays(assessment, both(single.depth, "length", system, 2))


def _worst(single: Run, much: str) -> str:
    return f"Worst single mishap: {single.event.text} ({much}). "


def _leaves(much: str) -> str:
    return f"Up to {much} leaves the room"


def _stays(assessment: Assessment, deep: str) -> str:
    below = assessment.installation.exposure.below != "none"
    through = " Part of it can go through the floor to the room below." if below else ""
    return f"It stays in the room, at most {deep} deep.{through}"


def weight_and_water(assessment: Assessment, system: System) -> str:
    """Weight and water in one line."""
    mass = both(assessment.total_mass, "mass", system)
    worst = assessment.spill.worst
    if worst is None:
        return f"{mass} loaded; no water can reach the floor."
    much = show(worst.leaves, "volume", system) if worst.leaves > NOTHING else "none"
    reached = show(worst.reached, "volume", system)
    return f"{mass} loaded. Worst mishap: {reached} spilled, {much} leaves the room."


def keeps_it_in(kept: Contained, system: System) -> str:
    """What would keep everything in the room, in one sentence."""
    far = "" if kept.sure else " (as far as all could be followed)"
    if kept.already:
        return f"The room holds it all{far}."
    ways = []
    if kept.sill is not None:
        ways.append(f"a curb or sill of {show(kept.sill, 'length', system)} at every door")
    if kept.drain is not None:
        ways.append(f"a further floor drain of {show(kept.drain, 'length', system, 2)}, even half blocked")
    if not ways:
        most, bore = show(HIGHEST, "length", system), show(6 * INCH, "length", system)
        return f"No curb up to {most} and no further drain up to {bore} would keep all of it in{far}."
    return f"To keep all of it in takes {', or '.join(ways)}{far}."


def room_text(assessment: Assessment, system: System) -> str:
    spill = assessment.spill
    room = spill.room
    text = (
        f"Free floor {show(room.area, 'area', system)}, lowest sill {show(room.sill, 'length', system)}: the room holds "
        f"{show(room.held, 'volume', system)} below it. At that depth its drains take "
        f"{show(room.at_sill.flow, 'flow', system)}. {spill.tried} faults and pairs were run in time; "
        f"{sum(one.reached > NOTHING for one in spill.runs)} put water on the floor."
    )
    if spill.earthquake is not None and spill.earthquake.leaves > NOTHING:
        kept = keeps_it_in(spill.contained(system)["earthquake"], system)
        text += f" After the earthquake: {kept[0].lower()}{kept[1:]}"
    if spill.failing:
        text += (
            f" By these checks the design earthquake can upset, shift or drop: {listed(spill.failing)} "
            f"({show(spill.failing_volume, 'volume', system)} of water)."
        )
    if spill.splashing:
        text += (
            f" What stands by these checks can still splash: {listed(spill.splashing)} (at most "
            f"{show(spill.splash_volume, 'volume', system)})."
        )
    return text


def notes(assessment: Assessment) -> tuple[str, ...]:
    """What the network takes for granted where the file says nothing."""
    return assessment.spill.network.notes


def by_which_way(run: Run, system: System) -> str:
    """How the water got to the floor, most first; when a rim is reached; what stands in neighbouring rooms."""
    shown = [
        f"{show(volume, 'volume', system)} {name if name == AT_ONCE else f'by {name}'}"
        for name, volume in run.paths[:MOST_PATHS]
    ]
    more = len(run.paths) - MOST_PATHS
    over = [
        f"{name} runs over {'at once' if at <= 0 else f'after {duration(at)}'}"
        for name, at in run.overflows
        if any(path.startswith(f"{name}, over") for path, _ in run.paths)
    ]
    beside = [f"{name} {show(depth, 'length', system, 2)} deep" for name, depth in run.next_rooms if depth > DRY_UNDER]
    also = "".join(f"; {part}" for part in (*over[:2], *beside[:3]))
    ways = (
        f"So it comes: {', '.join(shown)}{f' and {more} more ways' if more > 0 else ''}" if len(run.paths) > 1 else ""
    )
    return f"{ways}{also}".lstrip("; ")


def row(installation: Installation, spill: Spill, run: Run, system: System) -> list[str]:
    clogged = spill.clogged(run)
    what, ways = mishap(run.event), by_which_way(run, system)
    return [
        begun(what, installation) + (f". {begun(ways, installation)}" if ways else ""),
        ("" if run.finished else "at least ") + show(run.reached, "volume", system),
        "at once" if run.all_at_once or run.rate <= 0 else show(run.rate, "flow", system),
        NEVER if not math.isfinite(run.cm_at) else "at once" if run.cm_at <= 0 else duration(run.cm_at),
        show(run.depth, "length", system, 2),
        "at once" if run.about_deepest_at <= 0 else duration(run.about_deepest_at),
        show(run.leaves if run.leaves > NOTHING else 0.0, "volume", system),
        NEVER if clogged is None else show(clogged.leaves if clogged.leaves > NOTHING else 0.0, "volume", system),
        duration(run.dry_at) if math.isfinite(run.dry_at) else NEVER,
    ]
