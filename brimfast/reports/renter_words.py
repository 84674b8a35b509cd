"""Plain words for who rents the room: how much water, where it goes, what it may cost, whom to ask what."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from brimfast.assess.exposure.assess import Affected
from brimfast.assess.network.runs import NOTHING, Run
from brimfast.assess.pipeline import Assessment
from brimfast.reports.choice import most_pressure, water_that_can_leave
from brimfast.reports.words import both, capital, listed
from brimfast.shared.findings import Advice
from brimfast.shared.units import System, duration, money, money_range

if TYPE_CHECKING:
    from brimfast.assess.plan.improve import Improvement, Ranked

HEAD = ("what goes wrong", "water on the floor", "deepest", "leaves the room", "gone after", "drying and repair")
WATER_TOPICS = ("spill", "slosh", "exposure")
MOST_MEASURES = 6
MOST_CHEAP = 6


def rows(assessment: Assessment, system: System) -> list[list[str]]:
    """The worst single mishap, the worst two at once, the worst one earthquake can do."""
    spill = assessment.spill
    costs = {one.id: one for one in assessment.exposed.floods}
    found = []
    for id, title, run in (
        ("single", "The worst single mishap", spill.worst),
        ("pair", "The worst two at once", spill.pair),
        ("earthquake", "The most that one earthquake can do", spill.earthquake),
    ):
        if run is not None:
            found.append([f"{title}: {run.event.text}", *_cells(run, system), _cost(costs.get(id), assessment)])
    return found


def _cells(run: Run, system: System) -> list[str]:
    return [
        ("" if run.finished else "at least ") + both(run.reached, "volume", system),
        both(run.depth, "length", system, 2),
        both(run.leaves, "volume", system) if run.leaves > NOTHING else "nothing",
        duration(run.dry_at) if math.isfinite(run.dry_at) else "stays",
    ]


def _cost(one: Affected | None, assessment: Assessment) -> str:
    if one is None:
        return "not worked out"
    if one.low is None or one.high is None:
        return "not assessed"
    return money_range(one.low, one.high, assessment.exposed.currency)


def where_it_goes(assessment: Assessment, system: System) -> str:
    """Drains, doorways, neighbouring rooms, floors below: of the worst single mishap."""
    run = assessment.spill.worst
    if run is None:
        return "By this file no water can get onto the floor."
    room, exposure = assessment.spill.room, assessment.installation.exposure
    text = (
        f"The room holds {both(room.held, 'volume', system)} below its lowest sill, "
        f"{both(room.sill, 'length', system)} high. "
    )
    drains = assessment.installation.room.drains
    drain = ""
    if drains:
        takes = f"{'drains take' if len(drains) > 1 else 'drain takes'} {both(run.drained, 'volume', system)}"
        drain = f"its floor {takes}, and "
    else:
        text += "It has no floor drain. "
    goes = "nothing goes over the sill"
    if run.leaves > NOTHING:
        beside = [f"{name} ({both(depth, 'length', system, 2)} deep)" for name, depth in run.next_rooms]
        goes = f"{both(run.leaves, 'volume', system)} goes out by the door"
        goes += f", and stands in {listed(beside, 3)}" if beside else ""
    text += f"Of the water of the worst single mishap {drain}{goes}. "
    if exposure.below == "none":
        return text + "The file says that there is no room below."
    return text + f"Below is {exposure.below}: water also finds its way through a floor, so count on it there."


def cheap(assessment: Assessment) -> list[Advice]:
    """Kinds of measure against water, the first of each reason; what they cost is not computed here."""
    topic = {finding.id: finding.topic for finding in assessment.findings}
    found: dict[str, Advice] = {}
    for advice in assessment.advice:
        if any(topic.get(id) in WATER_TOPICS for id in advice.for_findings):
            found.setdefault(advice.measure, advice)
    return list(found.values())[:MOST_MEASURES]


TITLE = "If you rent the room"
WHERE, CHEAP = "Where the water goes", "What is cheap to do"
LANDLORD, INSURER = "Ask the landlord, in writing", "Ask the insurer, in writing"
PRICED = "What each costs and does: the report with a plan (--plan cheap) tries and prices them."
HABITS = (
    "Know where the water and the power of the room are turned off, and show everyone who lives there.",
    "Never leave a hose running unseen: a timer that shuts it, or stay beside it.",
    "Plugs and power strips higher than the depth above, cables with a loop that hangs lower than the plug.",
    "Nothing that must not get wet on the floor of this room, of the next ones, or under it.",
    "A photograph of the dry room and floor today, with the date: it shows later what was there before.",
)


def cheap_lines(assessment: Assessment, improvement: Improvement | None, most: int) -> tuple[list[str], str]:
    """With a search, what helps for least, by its price; else kinds of measure, what costs nothing, and a word on prices."""
    if improvement is not None and improvement.ranked:
        from brimfast.reports import improve_words as say

        installation = improvement.assessment.installation
        found = sorted(say.worth_showing(improvement.ranked), key=_price)[:most]
        return [
            f"{say.subject_text(one.measure, installation)}: {one.measure.title} "
            f"({say.money_text(one.takes, installation)}, {say.hours_text(one.takes)})."
            for one in found
        ], ""
    kinds = [f"{capital(one.measure)}: {one.reason}." for one in cheap(assessment)[: most - 2]]
    return [*kinds, *HABITS[: max(most - 1, 2)]], PRICED if kinds else ""


def _price(one: Ranked) -> tuple[float, float]:
    """What it costs at most, as far as known; then its hours."""
    return one.takes.high if one.takes.high is not None else one.takes.known[1], one.takes.hours


def ask_landlord(assessment: Assessment, system: System) -> list[str]:
    installation = assessment.installation
    mass, water, pressure = assessment.total_mass, water_that_can_leave(assessment), most_pressure(assessment)
    made_for = (
        f"It puts at most {both(pressure, 'pressure', system)} on the floor under one of them, on average: what is the floor "
        "made for?"
        if pressure is not None
        else "What is the floor made for?"
    )
    found = [
        f"May {both(mass, 'mass', system)} stand in this room, with {both(water, 'volume', system)} of water in it that can get out? {made_for}",
        "May it be screwed to wall studs or floor, and who mends the holes?",
        "Where are the shut-offs of water and power, and may I use them?",
    ]
    if installation.room.drains:
        found.append("Where does the floor drain lead, and when was it last cleaned?")
    else:
        found.append("Is there a floor drain anywhere near, or could there be one?")
    if installation.exposure.below != "none":
        found.append("Who is below, do they know, and what is under this floor?")
    return found


def ask_insurer(assessment: Assessment) -> list[str]:
    exposure, exposed = assessment.installation.exposure, assessment.exposed
    worst = max((one.high for one in exposed.floods if one.high is not None), default=None)
    found = [
        "Does my policy pay for water from tanks, beds and hoses, in this flat and in others, and for how much at most?",
        "Does it pay when an earthquake spilled it? Often that is a policy of its own.",
    ]
    if worst is not None:
        found.append(
            f"These figures come to {money(worst, exposed.currency, 2)} at the high end: is that within my liability limit?"
        )
    if exposure.contents is None:
        found.append("Are my own things covered, and the plants, fish and gear?")
    found.append("Must you know of the installation in advance, and does anything here end the cover?")
    return found


def total(assessment: Assessment, system: System) -> str:
    """All the water that can leave, in litres and gallons."""
    water = both(water_that_can_leave(assessment), "volume", system)
    return f"In all {water} of water can leave {assessment.installation.installation}."


def cost_note(assessment: Assessment) -> str:
    """Whose figures the costs are; empty where there are none."""
    if all(one.high is None for one in assessment.exposed.floods):
        return ""
    by = "US planning figures: get local quotes" if assessment.exposed.planned else "the costs in the file"
    return f"Cost by {by}; walls, wiring, mould, rent and nights elsewhere are not in it."
