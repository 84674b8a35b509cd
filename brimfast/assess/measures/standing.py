"""Anchors for feet and vessels, wider and tied feet, less weight and lower down, more rim."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import replace

from brimfast.assess.measures.asked import asks, rack_asks
from brimfast.assess.measures.measure import Measure, Need
from brimfast.assess.measures.reach import tight
from brimfast.assess.measures.stock import LONGEST_TIMBER, feet, long, rounded, written
from brimfast.assess.pipeline import Assessment
from brimfast.assess.slosh.lid import under_lid
from brimfast.data_tables.loader import sheet_material
from brimfast.shared.constants import FOOT, INCH, POUND_MASS
from brimfast.shared.edits import Edit
from brimfast.shared.findings import HOLDS_UP_TO
from brimfast.shared.installation.model import Installation, plan_area, plan_perimeter, plan_size
from brimfast.shared.installation.sourced import REQUIRED
from brimfast.shared.installation.vessel import Lid, Vessel
from brimfast.shared.units import System, parse

# What an anchor must be good for, tension and shear alike (lb; kN): the buyer finds one whose published value is so high.
CLASSES = {"us": ("400 lb", "800 lb", "1600 lb", "2500 lb"), "si": ("1.8 kN", "3.6 kN", "7.2 kN", "11 kN")}
IN_DECK = {"us": ("150 lb", "300 lb", "600 lb"), "si": ("0.7 kN", "1.4 kN", "2.8 kN")}
SILLS = {"us": ("2x6", "0.5 in x 7 in"), "si": ("45x145 mm", "12 mm x 180 mm")}
POINTS = 4
SLAB = (
    "into sound concrete only; the slab's thickness, edges and cracks decide: ask an engineer where they are not known"
)
LOWER = 3 * INCH
RIMS = (3 * INCH, 6 * INCH)
CLAMPS = {"us": 12 * INCH, "si": 0.3}  # m, most between the fastenings of a lid: common practice, no source
LIDS = {"us": "3/4 in plywood or as stiff", "si": "18 mm plywood or as stiff"}
LID_THICK = 0.01905  # m
LID_HOLES = {"us": "4 in x 4 in", "si": "100 mm x 100 mm"}
SHOWN = f"{REQUIRED}the maker's table must show as much"
LEAST_DECK = 12 * INCH


def standing_measures(assessment: Assessment) -> Iterator[Measure]:
    for name in assessment.installation.racks:
        yield from _feet(assessment, name)
        yield from _lower_deck(assessment, name)
        yield from _swapped(assessment, name)
    for index, vessel in enumerate(assessment.installation.vessels):
        yield from _held(assessment, index, vessel)
        yield from _less_water(assessment, index, vessel)
        yield from _rim(assessment, index, vessel)
        yield from _lid(assessment, index, vessel)


def required(value: str) -> dict[str, str]:
    """Anchor values as a requirement: what the buyer must find in the maker's table."""
    return {"tension": value, "shear": value, "source": SHOWN}


def _feet(assessment: Assessment, name: str) -> Iterator[Measure]:
    rack, system = assessment.installation.racks[name], assessment.installation.system
    floor = assessment.installation.room.floor.kind
    patterns = (
        "tipping/rack {}/",
        "sliding/rack {}$",
        "attachment/rack {}$",
        "sway/{}/feet",
        "anchors/rack {}/",
        "joint/{}/panel",
    )
    if rack_asks(assessment, name, *patterns) and floor != "timber floor":
        group = f"{name}/feet"
        for number, value in enumerate(CLASSES[system]):
            edits = tuple(
                Edit(("racks", name, "feet", key), text) for key, text in {"anchored": "yes", **required(value)}.items()
            )
            yield Measure(
                f"{group}/{value}",
                group,
                (f"rack {name}",),
                f"rack {name}, feet",
                f"an anchor at every foot, each good for {value} of pull and of push",
                edits,
                (
                    Need(
                        "floor anchor" if number < 2 else "heavy floor anchor",
                        rack.posts * rack.feet.anchors_per_post,
                        f"good for {value} tension and shear, with an angle to the post",
                    ),
                ),
                (
                    SLAB,
                    f"the angle is bolted through the post{inner_side(assessment.installation, name)}",
                    "drill with the power of the room off, blow the hole clean",
                ),
            )
        if rack.feet.sill is None:
            yield from _tied(assessment, name, group)
    if rack_asks(assessment, name, "floor/{}/") and rack.feet.plate is None:
        group = f"{name}/plates"
        for plate in ("8 in", "12 in") if system == "us" else ("200 mm", "300 mm"):
            yield Measure(
                f"{group}/{plate}",
                group,
                (f"rack {name}",),
                f"rack {name}, feet",
                f"a plate of {plate} square under every foot",
                (Edit(("racks", name, "feet", "plate"), plate),),
                (Need("foot plate", rack.posts, f"{plate} square, stiff enough not to bend"),),
                ("empty the rack, prop it, one foot after the other",),
            )


def inner_side(installation: Installation, name: str) -> str:
    near = tight(installation, name)
    return f", at the {' and '.join(near)} on its inner side, from under the deck: the wall is near" if near else ""


def _tied(assessment: Assessment, name: str, group: str) -> Iterator[Measure]:
    """A sill under the posts of each long side ties its feet together; bolts through it into the floor at every post."""
    rack, system = assessment.installation.racks[name], assessment.installation.system
    board, bolt = SILLS[system]
    wood = "C24" if system == "si" else "hem-fir No.2"
    sill = f"{board} {wood} treated"
    length = rack.length + assessment.resolved.racks[name].post.width
    if length > LONGEST_TIMBER:
        return
    for value in CLASSES[system][1:3]:
        words = {"anchored": "yes", **required(value), "sill": sill, "bolt": bolt}
        yield Measure(
            f"{group}/sill, {value}",
            group,
            (f"rack {name}",),
            f"rack {name}, feet",
            f"a sill under the posts of each side, bolted to the floor at every post, each bolt good for {value} of pull and of push",
            tuple(Edit(("racks", name, "feet", key), text) for key, text in words.items()),
            (
                Need("sill timber", 2 * feet(length), f"{sill}, 2 pieces {long(length, system)} long"),
                Need(
                    "sill bolt",
                    rack.posts * rack.feet.anchors_per_post,
                    f"{bolt}, good for {value} tension and shear, with a plate washer and an angle to the post",
                ),
            ),
            (
                SLAB,
                "empty the rack, lift one side after the other on jacks and props",
                f"an angle ties every post to the sill{inner_side(assessment.installation, name)}",
            ),
        )


def _lower_deck(assessment: Assessment, name: str) -> Iterator[Measure]:
    rack, system = assessment.installation.racks[name], assessment.installation.system
    if len(rack.decks) > 1 or rack.rails or rack.braces or rack.panels or rack.wall_ties or rack.turns_from is not None:
        return
    if not rack_asks(assessment, name, "tipping/rack {}/", "sway/{}/"):
        return
    height = max(rounded(0.75 * rack.deck_height, system), LEAST_DECK)
    if height > 0.9 * rack.deck_height:
        return
    group, text = f"{name}/deck", written(height, system)
    yield Measure(
        f"{group}/{text}",
        group,
        (f"rack {name}", "water"),
        f"rack {name}, deck",
        f"lowered to {text}",
        (Edit(("racks", name, "deck_height"), text),),
        (Need("lower the deck", 1, f"posts shortened to a deck {text} high"),),
        ("empty the rack first", "water must still run down to where it goes"),
    )


def _swapped(assessment: Assessment, name: str) -> Iterator[Measure]:
    """A heavier vessel above a lighter one of its tier's length: the heavy one goes down."""
    installation = assessment.installation
    on = [(i, vessel) for i, vessel in enumerate(installation.vessels) if vessel.on == name]
    if not rack_asks(assessment, name, "tipping/rack {}/", "sway/{}/", "sliding/rack {}$", "joint/{}/", "member/{}/"):
        return
    for i, upper in on:
        for j, lower in on:
            heavier = assessment.vessels[upper.name].mass > 1.1 * assessment.vessels[lower.name].mass
            if upper.tier <= lower.tier or not heavier:
                continue
            group = f"{name}/places"
            edits = [Edit(("vessels", i, "tier"), lower.tier), Edit(("vessels", j, "tier"), upper.tier)]
            if upper.offset is not None or lower.offset is not None:
                offsets = ((i, lower.offset), (j, upper.offset))
                edits += [
                    Edit(("vessels", k, "offset"), written(value or 0.0, installation.system, 8))
                    for k, value in offsets
                ]
            yield Measure(
                f"{group}/{upper.name} and {lower.name}",
                group,
                (f"rack {name}", "water"),
                f"{upper.name} and {lower.name}",
                f"they change places, {upper.name} down",
                tuple(edits),
                (Need("swap two vessels", 1, f"{upper.name} and {lower.name}"),),
                ("empty both; pumps and pipes follow their vessels",),
            )


def _held(assessment: Assessment, index: int, vessel: Vessel) -> Iterator[Measure]:
    """Held at four places, to the floor or to its deck."""
    name, system, on_deck = vessel.name, assessment.installation.system, vessel.on != "floor"
    patterns = [rf"{what}/{re.escape(name)}(/|$)" for what in ("tipping", "sliding", "attachment", "anchors")]
    if not asks(assessment, *patterns) or (not on_deck and assessment.installation.room.floor.kind == "timber floor"):
        return
    group = f"{name}/held"
    into = "its deck" if on_deck else "the floor"
    item = "deck cleat point" if on_deck else "strap and curb point"
    for number, value in enumerate((IN_DECK if on_deck else CLASSES)[system]):
        yield Measure(
            f"{group}/{value}",
            group,
            (name,),
            name,
            f"held to {into} at four places, each good for {value} of pull and of push",
            (Edit(("vessels", index, "anchors"), {"count": POINTS, **required(value)}),),
            (
                Need(
                    item if number < 2 else f"heavy {item}",
                    POINTS,
                    f"good for {value} tension and shear: a timber curb round it, straps over or round it",
                ),
            ),
            (
                "through-bolts or long screws into joists and beams, not into the deck's panel alone"
                if on_deck
                else SLAB,
                "straps bear on pads, never on a glass edge or a plastic rim",
            ),
        )


def _parts(vessel: Vessel) -> tuple[str, ...]:
    """All that hangs on what a vessel weighs and holds."""
    return (vessel.name, "water") if vessel.on == "floor" else (vessel.name, f"rack {vessel.on}", "water")


def _concerns(assessment: Assessment, vessel: Vessel) -> bool:
    name, rack = re.escape(vessel.name), re.escape(vessel.on)
    own = [rf"{what}/{name}(/|$)" for what in ("slosh", "tipping", "floor")]
    if vessel.on != "floor":
        own += [rf"tipping/rack {rack}/", rf"joint/{rack}/.*gravity", rf"member/{rack}/", rf"floor/(rack )?{rack}/"]
    return asks(assessment, *own)


def _less_water(assessment: Assessment, index: int, vessel: Vessel) -> Iterator[Measure]:
    """Lower by 3 in, standpipes and overflows with it; in a bed the fill as well."""
    system = assessment.installation.system
    if vessel.water is None or not _concerns(assessment, vessel):
        return
    group = f"{vessel.name}/water"
    down = rounded(min(LOWER, 0.3 * vessel.water), system)
    level = vessel.water - down
    if level < 2 * INCH or down <= 0:
        return
    text, lower = written(level, system, 8), written(down, system)
    edits = [Edit(("vessels", index, "water"), text), *_pipes_follow(assessment, vessel, down)]
    yield Measure(
        f"{group}/{text}",
        group,
        _parts(vessel),
        vessel.name,
        f"water {lower} lower, at {text}",
        tuple(edits),
        (Need("lower the water", 1, f"{vessel.name} to {text}"),),
        ("lower the overflow or standpipe as well, so that it stays there", "mark the level on the wall"),
    )
    if vessel.fill is None or vessel.filled - down < level - 1e-9:
        return
    fill = written(vessel.filled - down, system, 8)
    yield Measure(
        f"{group}/{text} and fill",
        group,
        _parts(vessel),
        vessel.name,
        f"water and fill {lower} lower",
        (*edits, Edit(("vessels", index, "fill_depth"), fill)),
        (
            Need("lower the water", 1, f"{vessel.name} to {text}"),
            Need("take out fill", 1, f"{vessel.name} to {fill}"),
        ),
        ("take fill out evenly, from both ends towards the middle",),
    )


def _pipes_follow(assessment: Assessment, vessel: Vessel, down: float) -> list[Edit]:
    """What sets the level: pipes that begin at it."""
    system, found = assessment.installation.system, []
    for number, pipe in enumerate(assessment.installation.pipes):
        if pipe.source == vessel.name and vessel.water is not None and abs(pipe.intake - vessel.water) < 0.5 * INCH:
            found.append(Edit(("pipes", number, "intake"), written(pipe.intake - down, system, 8)))
    return found


def _rim(assessment: Assessment, index: int, vessel: Vessel) -> Iterator[Measure]:
    """A collar all round, where water sloshes over."""
    system = assessment.installation.system
    if vessel.depth is None or vessel.kind == "bed" or not asks(assessment, rf"slosh/{re.escape(vessel.name)}/"):
        return
    around = plan_perimeter(vessel)
    group = f"{vessel.name}/rim"
    for number, raised in enumerate(RIMS, start=1):
        higher = rounded(raised, system)
        depth, more = written(vessel.depth + higher, system), written(higher, system)
        yield Measure(
            f"{group}/{depth}",
            group,
            (vessel.name, "water"),
            vessel.name,
            f"the rim raised by {more}",
            (Edit(("vessels", index, "depth"), depth),),
            (Need("raise the rim", number * feet(around), f"board {more} high, with sealant"),),
            ("joined so that it takes a wave from inside; the level of the water stays as it is",),
        )


def _lid(assessment: Assessment, index: int, vessel: Vessel) -> Iterator[Measure]:
    """A sheet over the rim, held down all round by the weakest fastening that holds; a hole for pipes, food and air."""
    system = assessment.installation.system
    if vessel.depth is None or vessel.lid is not None or not asks(assessment, rf"slosh/{re.escape(vessel.name)}/"):
        return
    around = plan_perimeter(vessel)
    count = max(8, 2 * math.ceil(around / (2 * CLAMPS[system])))
    waves = [wave for wave in assessment.waves if wave.vessel == vessel.name and wave.assessed]
    each = [under_lid(replace(wave, lid=Lid.model_construct(fastenings=count))).each for wave in waves]
    value = next((one for one in IN_DECK[system] if max(each, default=0.0) <= HOLDS_UP_TO * parse(one, "force")), None)
    if value is None:
        return
    sheet, hole = LIDS[system], LID_HOLES[system]
    kilograms = plan_area(vessel) * LID_THICK * sheet_material("plywood").density_kg_m3
    mass = f"{math.ceil(kilograms / POUND_MASS)} lb" if system == "us" else f"{math.ceil(kilograms)} kg"
    group = f"{vessel.name}/rim"
    lid = {"fastenings": count, "allowable": value, "source": SHOWN, "opening": hole, "mass": mass}
    yield Measure(
        f"{group}/lid",
        group,
        _parts(vessel),
        vessel.name,
        f"a lid, held down at {count} places, each good for {value} of pull",
        (Edit(("vessels", index, "lid"), lid),),
        (
            Need(
                "lid", feet(plan_area(vessel)) / FOOT, f"{sheet}, sealed, {_lid_size(vessel, system)}, on a soft strip"
            ),
            Need("lid fastening", count, f"good for {value} of pull: a hook, a clamp or a bolt through rim and lid"),
        ),
        (
            f"one fastening every {written(around / count, system)} all round",
            f"holes for pipes, food and air together no larger than {hole}; fish and roots need air",
            "stiff enough that it cannot bend up between its fastenings: battens across a wide one",
        ),
    )


def _lid_size(vessel: Vessel, system: System) -> str:
    length, width = (long(value, system) for value in plan_size(vessel))
    return f"{length} across" if vessel.round else f"{length} x {width}"
