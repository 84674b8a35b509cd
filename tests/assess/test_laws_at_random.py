"""Laws over installations at random: worse is never better, better never worse, but where a rule with a name says why."""

import copy
import re

from hypothesis import Phase, given, settings

from brimfast.assess.pipeline import assess, before_water
from brimfast.shared.errors import InputError
from tests.assess.test_any_installation import STEADY, read
from tests.installations import installations

# A smaller example is no clearer here, and takes minutes to find.
LAWS = settings(STEADY, max_examples=40, phases=[Phase.generate])


def add(piece, key, amount, factor=1.0):
    number, unit = piece[key].split(" ", 1)
    piece[key] = f"{float(number) * factor + amount:g} {unit}"


def shakier(raw):
    for key in {"S_DS", "a_g"} & raw["site"].keys():
        raw["site"][key] *= 1.3


def add_to_vessels(raw, key, amount, factor=1.0):
    for vessel in raw["vessels"]:
        if key in vessel:
            add(vessel, key, amount, factor)


def heavier(raw):
    """Vessels whose weight is given: more of it, as high as before."""
    add_to_vessels(raw, "mass", 0, 1.25)


def with_kit(raw):
    for piece in (*raw["vessels"], *raw["racks"].values()):
        if "centre_of_mass" not in piece:
            piece["kit"] = "80 lb"


def higher(raw):
    add_to_vessels(raw, "centre_of_mass", 0, 1.25)


def on_longer_posts(raw):
    for rack in raw["racks"].values():
        for tier in (rack, *rack.get("upper_tiers", ())):
            add(tier, "deck_height", 6)


def wetter(raw):
    add_to_vessels(raw, "water", 1.5)


def pumped_faster(raw):
    for pump in raw.get("pumps", ()):
        add(pump, "flow", 0, 1.5)


def more_fasteners(raw):
    for joint in raw["joints"]:
        joint["fasteners"]["count"] *= 2


def braced(raw):
    for rack in raw["racks"].values():
        faces = {brace["face"] for brace in rack.get("braces", ())}
        new = [{"face": face, "member": "2x4", "kind": "x"} for face in ("front", "back", "left", "right")]
        rack["braces"] = [*rack.get("braces", ()), *(brace for brace in new if brace["face"] not in faces)]


def curbed(raw):
    add(raw["room"], "sill", 2)


def drained(raw):
    raw["room"]["drains"] = [*raw["room"].get("drains", ()), {"bore": "3 in"}]


# What a law leaves out, by the first words of a finding's id, each with the rule that says why.
SLIPS = {
    "joint/|member/|sway/|leaning/|anchors/rack": "loose feet that slip or lift pass on no more push than they hold, and "
    "a frame that leans without end is told by plain statics",
}
LOW = "weight low down, far from the edge, or that does not slosh holds down more than it pushes"
BALLAST = {"tipping/|sliding/|anchors/|falls/": LOW}
RACK_BALLAST = {"tipping/rack|sliding/rack|anchors/rack": LOW}
LONGER = {"sliding/": "the longer posts weigh, and do not slosh"}
CROWDED = {"joint/.*distances": "more fasteners in the same timber stand closer together"}
STIFF = {"member/|sway/|leaning/|anchors/": "what is stiffer takes more of the push and passes it to fewer feet"}
BRACED = {"joint/": STIFF["member/|sway/|leaning/|anchors/"], "floor/|sliding/": "braces weigh"}
WORSE = {
    shakier: SLIPS,
    heavier: SLIPS | RACK_BALLAST,
    with_kit: SLIPS | BALLAST,
    higher: SLIPS,
    on_longer_posts: SLIPS | LONGER,
    wetter: SLIPS | BALLAST,
    pumped_faster: {},
}
BETTER = {more_fasteners: STIFF | CROWDED, braced: STIFF | BRACED, curbed: {}, drained: {}}


def answers(raw, with_water):
    return {finding.id: finding for finding in (assess if with_water else before_water)(read(raw)).findings}


def holds(raw, changes, sign, with_water=False):
    """sign: 1 where what changes is worse. A finding that comes or goes is not compared."""
    try:
        before = answers(raw, with_water)
    except InputError:
        return
    for change, left_out in changes.items():
        other = copy.deepcopy(raw)
        change(other)
        if other == raw:
            continue
        try:
            after = answers(other, with_water)
        except InputError:
            continue
        for id, one in before.items():
            two = after.get(id)
            if two is None or one.ratio is None or two.ratio is None or any(re.match(rule, id) for rule in left_out):
                continue
            if "not assessed" not in (one.verdict, two.verdict):
                better = sign * (one.ratio - two.ratio) > 1e-3 * one.ratio + 1e-6
                assert not better, f"{change.__name__}: {id} {one.ratio:.4g} to {two.ratio:.4g}"


@LAWS
@given(installations())
def test_worse_is_never_better(raw):
    holds(raw, WORSE, 1)


@LAWS
@given(installations())
def test_better_is_never_worse(raw):
    holds(raw, BETTER, -1)


@settings(LAWS, max_examples=12)
@given(installations())
def test_nor_for_the_water(raw):
    holds(raw, {change: WORSE[change] for change in (shakier, wetter, pumped_faster)}, 1, with_water=True)
    holds(raw, {change: {} for change in (curbed, drained)}, -1, with_water=True)
