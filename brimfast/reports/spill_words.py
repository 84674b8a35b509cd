"""What spilled water does, in words and rows: the same for terminal, PDF and JSON."""

from __future__ import annotations

import math
from typing import Any

from brimfast.assess.network.model import Event
from brimfast.assess.network.runs import AT_ONCE, NOTHING, Run
from brimfast.assess.pipeline import Assessment
from brimfast.assess.spill.assess import FILM, Spill
from brimfast.assess.spill.contain import HIGHEST, Contained
from brimfast.assess.spill.room import pond_pressure
from brimfast.shared.constants import INCH
from brimfast.shared.units import System, duration, show, unit_of

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
    text = f"Worst single mishap: {single.event.text} ({much}). "
    if single.leaves > NOTHING:
        text += f"Up to {show(single.leaves, 'volume', system)} leaves the room"
        if single.next_rooms and single.leaves - single.outside > NOTHING:
            text += f", {show(single.leaves - single.outside, 'volume', system)} of it into the next rooms"
        text += f". {keeps_it_in(spill.contained['single'], system)}"
    else:
        text += f"It stays in the room, at most {show(single.depth, 'length', system, 2)} deep."
        if assessment.installation.exposure.below != "none":
            text += " Part of it can go through the floor to the room below."
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
        names = ", ".join(spill.splashing[:4]) + (" and others" if len(spill.splashing) > 4 else "")
        text += f" What stands can still splash, at most {show(spill.splash_volume, 'volume', system)} ({names})."
    return text


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
        kept = keeps_it_in(spill.contained["earthquake"], system)
        text += f" After the earthquake: {kept[0].lower()}{kept[1:]}"
    if spill.failing:
        text += (
            f" By these checks the design earthquake can upset, shift or drop: {', '.join(spill.failing[:8])} "
            f"({show(spill.failing_volume, 'volume', system)} of water)."
        )
    if spill.splashing:
        text += (
            f" What stands by these checks can still splash: {', '.join(spill.splashing[:8])} (at most "
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
    beside = [f"{name} {show(depth, 'length', system, 2)} deep" for name, depth in run.next_rooms if depth > FILM]
    also = "".join(f"; {part}" for part in (*over[:2], *beside[:3]))
    ways = (
        f"So it comes: {', '.join(shown)}{f' and {more} more ways' if more > 0 else ''}" if len(run.paths) > 1 else ""
    )
    return f"{ways}{also}".lstrip("; ")


def row(spill: Spill, run: Run, system: System) -> list[str]:
    clogged = spill.clogged(run)
    what, ways = mishap(run.event), by_which_way(run, system)
    return [
        what[:1].upper() + what[1:] + (f". {ways[:1].upper()}{ways[1:]}" if ways else ""),
        ("" if run.finished else "at least ") + show(run.reached, "volume", system),
        "at once" if run.all_at_once or run.rate <= 0 else show(run.rate, "flow", system),
        NEVER if not math.isfinite(run.cm_at) else "at once" if run.cm_at <= 0 else duration(run.cm_at),
        show(run.depth, "length", system, 2),
        "at once" if run.about_deepest_at <= 0 else duration(run.about_deepest_at),
        show(run.leaves if run.leaves > NOTHING else 0.0, "volume", system),
        NEVER if clogged is None else show(clogged.leaves if clogged.leaves > NOTHING else 0.0, "volume", system),
        duration(run.dry_at) if math.isfinite(run.dry_at) else NEVER,
    ]


def as_object(assessment: Assessment, system: System) -> dict[str, Any]:
    spill = assessment.spill

    def figure(value: float | None, quantity: str) -> float | None:
        if value is None or not math.isfinite(value):
            return None
        return float(f"{value / unit_of(quantity, system)[1]:.6g}")

    return {
        "unit": unit_of("volume", system)[0],
        "flow_unit": unit_of("flow", system)[0],
        "depth_unit": unit_of("length", system)[0],
        "pressure_unit": unit_of("pressure", system)[0],
        "time_unit": "s",
        "free_floor": figure(spill.room.area, "area"),
        "area_unit": unit_of("area", system)[0],
        "sill": figure(spill.room.sill, "length"),
        "room_holds": figure(spill.room.held, "volume"),
        "drains_at_sill": figure(spill.room.at_sill.flow, "flow"),
        "faults_tried": spill.tried,
        "worst_single": spill.worst.event.id if spill.worst else None,
        "failing_vessels": list(spill.failing),
        "failing_volume": figure(spill.failing_volume, "volume"),
        "splashing_vessels": list(spill.splashing),
        "splash_volume": figure(spill.splash_volume, "volume"),
        "keeps_it_in": [
            {
                "events": "all single mishaps" if name == "single" else name,
                "already": kept.already,
                "sill": figure(kept.sill, "length"),
                "drain": figure(kept.drain, "length"),
            }
            for name, kept in spill.contained.items()
        ],
        "events": [
            {
                "id": run.event.id,
                "kind": run.event.kind,
                "subject": run.event.subject,
                "text": run.event.text,
                "note": run.event.note,
                "pair": run.event.pair,
                "finished": run.finished,
                "followed_for": figure(run.ended_at, "period"),
                "volume": figure(run.reached, "volume"),
                "at_once": figure(run.at_once, "volume"),
                "rate": None if run.all_at_once or run.rate <= 0 else figure(run.rate, "flow"),
                "depth": figure(run.depth, "length"),
                "deepest_after": figure(run.about_deepest_at, "period"),
                "one_cm_after": figure(run.cm_at, "period"),
                "dry_after": figure(run.dry_at, "period"),
                "pressure": figure(float(pond_pressure(run.depth)), "pressure"),
                "leaves": figure(max(run.leaves, 0.0), "volume"),
                "to_hold": figure(run.need, "volume"),
                "drained": figure(run.drained, "volume"),
                "still_there": figure(max(run.lies, 0.0), "volume"),
                "paths": [{"path": name, "volume": figure(volume, "volume")} for name, volume in run.paths],
                "next_rooms": [{"room": name, "depth": figure(depth, "length")} for name, depth in run.next_rooms],
            }
            for run in spill.runs
        ],
    }
