"""What can be built, which rows are used, joined racks as one, weights as lines, cautions: what mutants found, by hand."""

from types import SimpleNamespace

import pytest

from brimfast.assess.as_one import as_one
from brimfast.assess.bodies import Direction, FreeBody, Sloshing
from brimfast.assess.buildable import fitting_problems, rack_problems
from brimfast.assess.cautions import assumptions, beyond_stiffness, cautions
from brimfast.assess.demand.force import Force
from brimfast.assess.frame.lines import UNEXPLAINED
from brimfast.assess.parts import FrictionUsed
from brimfast.assess.required import both_units, required_value, value_of
from brimfast.assess.resolve import _has_values, _section, member, resolve
from brimfast.assess.weight_lines import _summed, loaded_lines
from brimfast.data_tables.loader import NotInTableError
from brimfast.shared.constants import GRAVITY, INCH, POUND_FORCE, POUND_PER_CUBIC_FOOT, PSF, PSI
from brimfast.shared.errors import InputError
from brimfast.shared.findings import Value, step
from brimfast.shared.installation.rack import Brace, Feet, Gusset, Rail, Tier
from brimfast.shared.installation.timber import Timber
from tests.builders import GUSSETED, JOINED, LIDDED, PANNED, RACK, TIERS, WEIGHED, read
from tests.printed import again

GIVEN = Value("x", "1", "t", "given in the file")


def replaced(text, *pairs):
    for old, new in zip(pairs[::2], pairs[1::2], strict=True):
        assert old in text, old
        text = text.replace(old, new)
    return text


def resolved(*pairs, text=RACK):
    return resolve(read(replaced(text, *pairs)).installation)


def wrong(*pairs, text=RACK):
    """Codes and places of what no table has, or what does not fit."""
    with pytest.raises(InputError) as caught:
        resolved(*pairs, text=text)
    return [(one.code, one.path) for one in caught.value.problems]


# Joined racks as one


def body(name, mass, height, base, slosh=None):
    friction = FrictionUsed("wood", "concrete", 0.3, 0.6, GIVEN)
    sloshing = (
        None if slosh is None else Sloshing(1.0, slosh[0], slosh[1], (step(f"of_{name}", "1", {}, 1.0),), (GIVEN,))
    )
    ways = (Direction("along the rack", 9.0, 4.0), Direction("across the rack", base, base / 2, 3.0, sloshing))
    return FreeBody(name, "rack", "floor", "braced rack", mass, height, ways, friction, None, 1.0)


def force(push):
    return Force("", 1.0, push, 0.0, 1.0, "", "", "", (step("own", "1", {}, push),), (GIVEN,))


def both(front, back):
    return as_one(front, back, {front.name: force(300.0), back.name: force(100.0)})


def test_two_racks_as_one_by_hand():
    """300 N at 1.5 m and 100 N at 2 m: 400 N at 1.625 m. 100 kg at 0.25 m and 50 kg at 0.5 + 0.4: at 0.7/1.5 = 0.4667 of
    1.3 m; with 50 and 100 kg at 1.025/1.5 = 0.6833 m, 0.6167 from the other row."""
    one, direction, pushed = both(body("a", 100.0, 1.5, 0.5), body("b", 50.0, 2.0, 0.8))
    assert (one.name, one.mass, one.height, pushed.horizontal) == ("a", 150.0, 1.625, 400.0)
    assert (direction.base, direction.arm) == pytest.approx((1.3, 0.7 / 1.5))
    assert one.directions == (direction,) and direction.sloshing is None
    lines = pushed.steps[2:]
    assert [line.symbol for line in pushed.steps] == ["own", "own", "F", "h", "W", "x", "arm"]
    assert [line.result.value for line in lines] == pytest.approx([400.0, 1.625, 150 * GRAVITY, 0.7 / 1.5, 0.7 / 1.5])
    for line in lines:
        assert again(line) == pytest.approx(line.result.value)
    assert pushed.values == (GIVEN, GIVEN)
    _, heavy_back, pushed = both(body("a", 50.0, 1.5, 0.5), body("b", 100.0, 2.0, 0.8))
    assert heavy_back.arm == pytest.approx(1.3 - 1.025 / 1.5)
    assert again(pushed.steps[-1]) == pytest.approx(heavy_back.arm)


@pytest.mark.parametrize(
    "front, back, moment, steep",
    [
        ((550.0, False), None, 550.0 + 200.0, False),
        (None, (250.0, True), 450.0 + 250.0, True),
        ((100.0, True), (250.0, False), 450.0 + 250.0, True),
    ],
)
def test_of_either_rack_the_larger_of_rigid_and_sloshing(front, back, moment, steep):
    """All water rigid 300 N at 1.5 m, 100 N at 2 m: 450 and 200 N m."""
    _, direction, _ = both(body("a", 100.0, 1.5, 0.5, front), body("b", 50.0, 2.0, 0.8, back))
    found = direction.sloshing
    assert (found.force, found.moment, found.index) == (400.0, pytest.approx(moment), steep)
    assert again(found.steps[-1]) == pytest.approx(moment)
    assert list(found.steps[-1].inputs) == ["M_1", "M_2"]
    count = (front is not None) + (back is not None)
    assert len(found.steps) == count + 1 and len(found.values) == count


# Weights as lines


def test_a_loaded_rack_by_hand():
    """10 kg at 0.4 m and 30 kg 0.1 m above the second deck at 1.5 m: (4 + 48)/40 = 1.3 m."""
    installation = SimpleNamespace(
        racks={"r": SimpleNamespace(decks=(0.5, 1.5, 2.5))}, on_rack=lambda name: [SimpleNamespace(name="a", tier=2)]
    )
    racks = {"r": SimpleNamespace(weighing=SimpleNamespace(mass=10.0, height=0.4))}
    weight, height = loaded_lines(installation, "r", racks, {"a": SimpleNamespace(mass=30.0, height=0.1)})
    assert again(weight) == weight.result.value == pytest.approx(40 * GRAVITY)
    assert again(height) == pytest.approx(height.result.value) == pytest.approx(1.3)
    assert weight.note == "1 the rack itself, 2 a" and list(weight.inputs) == ["W_1", "W_2"]


def test_what_weighs_nothing_has_no_centre_and_what_weighs_little_has_one():
    assert len(_summed([("air", 0.0, 1.0)])) == 1
    assert [line.result.value for line in _summed([("leaf", 0.01, 2.0)])] == pytest.approx([0.0980665, 2.0])


# Values that are only required


def test_a_required_value_is_named_in_both_units():
    assert both_units(1000 * POUND_FORCE) == "1000 lb (4.4 kN)"
    assert both_units(4551.0) == "1023 lb (4.6 kN)"
    assert required_value("n", 4448.0, "maker's table", "t") == ()
    assert value_of("tension", 4448.0, "maker's table") == ("allowable value: maker's table", ())
    words, (value,) = value_of("tension", 1000 * POUND_FORCE, "required: by brimfast")
    assert "requirement" in words and value.text == "1000 lb (4.4 kN)"


# What can be built: in sixteenths of a metre, where sums are exact


def sized(width, thickness=0.0625):
    return SimpleNamespace(width=width, thickness=thickness)


FLAT = read(RACK).installation.racks["r"]
FLAT = FLAT.model_copy(
    update={
        "deck": FLAT.deck.model_copy(update={"thickness": 0.0625}),
        "deck_height": 1.0,
        "bay_length": 2.0,
        "width": 1.0,
    }
)


def misfits(seat="between beams", sill=None, post=0.125, beam=0.25, **changes):
    """A rack with beams of 0.25 m, deck of 0.0625 and joists of 0.125: 0.3125 m between beams, 0.4375 on them."""
    rack = FLAT.model_copy(update={"joist": FLAT.joist.model_copy(update={"seat": seat}), **changes})
    return rack_problems("r", rack, sized(post), sized(beam), sized(0.125), sill)


def places(problems):
    return ["/".join(str(one) for one in problem.path[2:]) for problem in problems]


@pytest.mark.parametrize("seat, lowest, shown", [("between beams", 0.3125, "12.30"), ("on beams", 0.4375, "17.22")])
def test_a_deck_stands_on_what_carries_it(seat, lowest, shown):
    assert not misfits(seat, deck_height=lowest)
    (problem,) = misfits(seat, deck_height=lowest - 0.001)
    assert problem.path == ("racks", "r", "deck_height") and f"{shown} in high" in problem.message


def tiers(*heights):
    return [Tier.model_construct(deck_height=height) for height in heights]


def test_a_tier_needs_more_space_than_it_fills():
    """Space of 0.5, 0.3125 and 0.25 m over 0.3125 m."""
    found = misfits(upper_tiers=tiers(1.5, 1.8125, 2.0625))
    assert places(found) == ["upper_tiers/1/deck_height", "upper_tiers/2/deck_height"]
    assert "12.30 in high" in found[0].message


def knee(leg, storey=1, face="front"):
    return Brace.model_construct(face=face, bay=1, storey=storey, kind="knee" if leg else "single", leg=leg)


def test_a_knee_reaches_neither_the_floor_nor_the_other_knee():
    """From the floor up to the beam's middle 1 − 0.3125 + 0.125 = 0.8125 m; half a bay is 1 m, half the width 0.5 m; to the
    next deck's beam 0.5 − 0.1875 = 0.3125 m. Those without a leg, or of a storey that is not there, stop nothing."""
    high = tiers(1.5)
    legs = [
        knee(None),
        knee(0.8),
        knee(0.8125),
        knee(9.0, 3),
        knee(0.49, 1, "left"),
        knee(0.5, 1, "left"),
        knee(0.3125, 2),
    ]
    found = misfits(braces=legs, upper_tiers=high)
    assert places(found) == ["braces/2/leg", "braces/5/leg", "braces/6/leg"]
    assert "32.0 in; expected less than 32.0 in" in found[0].message
    assert "less than 19.7 in" in found[1].message and "less than 12.3 in" in found[2].message


def gusset(leg, storey=1, nails=10, nail=0.002):
    return Gusset.model_construct(
        face="front", bay=1, storey=storey, leg=leg, thickness=0.01, nail=(nail, 0.06), nails=nails
    )


def test_a_gusset_reaches_neither_the_floor_nor_the_other_gusset():
    """As the knees, half a bay being 0.5 m here; 1.5 + 0.75 in and half the beam's 0.25 m of a leg have no nails: 0.18215 m."""
    legs = [gusset(9.0, 3), gusset(0.4375), gusset(0.5), gusset(0.3125, 2), gusset(0.182), gusset(0.31, 2)]
    found = misfits(gussets=legs, upper_tiers=tiers(1.5), bay_length=1.0)
    assert places(found) == ["gussets/2/leg", "gussets/3/leg", "gussets/4/leg"]
    assert "found a leg of 19.7 in; expected less than 19.7 in" in found[0].message
    assert "less than 12.3 in" in found[1].message
    assert "found a leg of 7.2 in" in found[2].message and "4.92 in of it" in found[2].message
    (low,) = misfits(gussets=[gusset(0.8125)])
    assert "less than 32.0 in" in low.message
    assert not misfits(gussets=[gusset(0.81)])
    (wide,) = misfits(gussets=[gusset(0.181)], post=0.25, beam=0.125)
    assert "4.92 in" in wide.message


def test_nails_of_a_gusset_stand_15_diameters_apart():
    """10 nails in two rows, four spaces, over 0.4 − 0.125 − 2.25 in = 0.21785 m: 54.4625 mm, 15 diameters of 3.6308 mm."""
    d = (0.4 - 0.125 - 2.25 * INCH) / 4 / 15
    assert not misfits(gussets=[gusset(0.4, nail=d)])
    assert not misfits(gussets=[gusset(0.4, nail=d * (1 - 1e-6))])
    (problem,) = misfits(gussets=[gusset(0.4, nail=d * (1 + 1e-6))])
    assert places([problem]) == ["gussets/0/nails"]
    assert "10 nails in a leg of 15.7 in" in problem.message
    assert "2.14 in from" in problem.message and "15 diameters or more, 2.14 in" in problem.message


def rail(height, face="all"):
    return Rail.model_construct(height=height, face=face)


def test_a_rail_is_not_where_a_beam_is():
    """Beams from 0.6875 up to 0.9375 m and from 1.1875 to 1.4375 m; on the ends there are none."""
    rails = [
        rail(0.6875),
        rail(0.7),
        rail(0.7, "left"),
        rail(0.7, "right"),
        rail(0.9375, "back"),
        rail(0.94),
        rail(1.2, "front"),
    ]
    found = misfits(rails=rails, upper_tiers=tiers(1.5))
    assert places(found) == ["rails/1/height", "rails/4/height", "rails/6/height"]
    assert "27.1 to 36.9 in" in found[0].message and "46.8 to 56.6 in" in found[2].message


@pytest.mark.parametrize("length, short", [(0.125, False), (0.124, True)])
def test_a_bolt_reaches_four_diameters_below_the_sill(length, short):
    """A sill of 62.5 mm and 4 x 15.625 mm: 125 mm."""
    feet = Feet.model_construct(bolt=(0.015625, length))
    assert places(misfits(sill=sized(0.25), feet=feet)) == (["feet/bolt"] if short else [])
    assert not misfits(feet=feet)


@pytest.mark.parametrize("width, narrow", [(0.25, True), (0.2501, False)])
def test_a_rack_is_wider_than_its_two_posts(width, narrow):
    assert places(misfits(width=width)) == (["width"] if narrow else [])


def fitting(joints=(), vessels=(), racks=("r",)):
    parts = SimpleNamespace(beam=sized(0.25), joist=sized(0.125), deck_thickness=0.0625)
    frames = {"r": SimpleNamespace(decks=(1.0, 1.5)), "gone": SimpleNamespace(decks=(1.0, 1.5))}
    installation = SimpleNamespace(joints=joints, vessels=vessels, racks=frames)
    return fitting_problems(installation, {name: parts if name in racks else None for name in ("r", "gone")})


def spread(where, by, rack="r"):
    return SimpleNamespace(rack=rack, where=where, fasteners=SimpleNamespace(spread=by))


def test_fasteners_spread_less_than_their_member_is_deep():
    joints = [
        *(spread("beam to post", by) for by in (None, 0.24, 0.25)),
        spread("beam to post", 0.9, "gone"),
        *(spread("joist to beam", by) for by in (0.12, 0.125)),
        spread("brace to post", 0.9),
    ]
    found = fitting(joints)
    assert [one.path for one in found] == [("joints", n, "fasteners", "spread") for n in (2, 5)]
    assert "9.8 in" in found[0].message and "9.84 in" in found[0].message and "4.92 in" in found[1].message


def standing(depth, on="r", tier=1, raised=0.0625):
    return SimpleNamespace(name="v", on=on, depth=depth, tier=tier, raised=raised)


def test_a_vessel_stands_below_the_joists_of_the_next_tier():
    """0.5 − 0.0625 − 0.125 = 0.3125 m, of which a stand takes 0.0625."""
    vessels = [
        standing(None),
        standing(9.0, "floor"),
        standing(9.0, "gone"),
        standing(9.0, tier=2),
        standing(0.25),
        standing(0.251),
        standing(9.0),
    ]
    found = fitting(vessels=vessels)
    assert [one.path for one in found] == [("vessels", 5, "depth"), ("vessels", 6, "depth")]
    assert "12.3 in" in found[0].message


# Which rows are used


def test_timber_of_a_species():
    """Hem-fir G 0.43 at 30 %: 62.4 (0.43/(1 + 0.43 x 0.27)) x 1.3 = 31.25 lb/ft³; No.2 where no grade is said."""
    found = member(Timber(size="2x8", species="hem-fir"))
    assert (found.thickness, found.width) == pytest.approx((1.5 * INCH, 7.25 * INCH))
    assert found.area == pytest.approx(10.875 * INCH**2)
    assert (found.grade, found.G) == ("No.2", 0.43)
    assert found.density == pytest.approx(31.25 * POUND_PER_CUBIC_FOOT, rel=1e-3)
    assert [value.name for value in found.values][-1] == "grade of the timber"
    graded = member(Timber(size="2x8", species="hem-fir", grade="No.1"))
    assert graded.grade == "No.1" and "grade of the timber" not in [value.name for value in graded.values]


def test_timber_of_a_strength_class():
    """C24: 350 kg/m³ for dowels, 420 at 12 % moisture come to 420 x 1.3/1.12 = 487.5 kg/m³ at 30 %."""
    found = member(Timber(size="45x145 mm", species="c24"))
    assert (found.thickness, found.width, found.G, found.density) == pytest.approx((0.045, 0.145, 0.35, 487.5))
    assert found.strength.size_class == "european"
    with pytest.raises(NotInTableError):
        member(Timber(size="2x4"))


@pytest.mark.parametrize(
    "species, flags, incised",
    [
        ("hem-fir", "", False),
        ("hem-fir", "treated", True),
        ("hem-fir", "incised", True),
        ("southern pine", "treated", False),
        ("southern pine", "treated incised", True),
    ],
)
def test_treated_western_species_are_incised(species, flags, incised):
    found = member(
        Timber(size="2x8", species=species, grade="No.2", treated="treated" in flags, incised="incised" in flags)
    )
    assert found.incised == incised
    assumed = [value for value in found.values if "taken as incised" in value.name]
    assert len(assumed) == (flags == "treated" and incised)


@pytest.mark.parametrize(
    "thickness, width, there",
    [
        (1.4, 3.5, True),
        (1.39, 3.5, False),
        (3.5, 11.25, True),
        (4.89, 12.0, True),
        (4.9, 12.0, False),
        (6.0, 6.0 + 2.01, True),
        (6.0, 8.02, False),
    ],
)
def test_which_sections_have_values(thickness, width, there):
    """From 1.4 in; from 4.9 in on no more than 2 in wider than thick."""
    assert _has_values(thickness, width) == there


def test_values_by_the_size_of_a_section():
    """5.5 in square: timbers. Southern pine by width, up to 4 and up to 10 in. 140 mm by 250 mm: a beam or stringer, none."""
    assert member(Timber(size="6x6", species="douglas fir-larch")).strength.size_class == "timbers"
    assert member(Timber(size="2x6", species="douglas fir-larch")).strength.size_class == "dimension"
    assert member(Timber(size="2x4", species="southern pine")).strength.F_b == pytest.approx(1100 * PSI)
    assert member(Timber(size="2x10", species="southern pine")).strength.F_b == pytest.approx(800 * PSI)
    assert member(Timber(size="140x250 mm", species="hem-fir")).strength is None


def test_without_values_there_is_no_strength():
    assert member(Timber(size="1x4", species="hem-fir", grade="No.2")).strength is None
    assert member(Timber(size="2x4", species="redwood", grade="No.2")).strength is None


@pytest.mark.parametrize(
    "size, sides",
    [
        ("45x145 mm", (0.045, 0.145)),
        ("145 x 45 MM", (0.045, 0.145)),
        ("15x400mm", (0.015, 0.4)),
        ("45x45 mm", (0.045, 0.045)),
        ("14x90 mm", None),
        ("90x401 mm", None),
        ("90 mm", None),
    ],
)
def test_metric_sizes(size, sides):
    if sides is None:
        with pytest.raises(NotInTableError, match="15 to 400 mm"):
            _section(size)
    else:
        assert _section(size) == (*sides, ())


SPECIES = "4x4 douglas fir-larch No.2"
BARE = (
    "    beam_runs: each bay",
    "    beam_runs: each bay\n    braces: [{face: left, member: 2x4}]\n    rails: [{height: 60 in, member: 2x4}]",
)


@pytest.mark.parametrize(
    "old, new, place",
    [
        ("post: 4x4 douglas fir-larch", "post: 4x4 balsa", ("post",)),
        ("beam: 2x8 douglas fir-larch No.2", "beam: 2x9 douglas fir-larch No.2", ("beam",)),
        ("size: 2x6", "size: 2x7", ("joist", "size")),
        ("23/32 in plywood", "23/32 in paper", ("deck",)),
        ("beam_runs: each bay", "beam_runs: each bay\n    feet: {on: moss}", ("feet",)),
        ("left, member: 2x4", "left, member: 2x5", ("braces", 0, "member")),
        ("60 in, member: 2x4", "60 in, member: 2x5", ("rails", 0, "member")),
        ("beam_runs: each bay", "beam_runs: each bay\n    feet: {sill: 2x5 hem-fir}", ("feet", "sill")),
    ],
)
def test_each_word_of_a_rack_that_no_table_has_is_said_alone(old, new, place):
    assert wrong(*BARE, old, new) == [("E-DATA-001", ("racks", "r", *place))]


def test_braces_and_rails_are_in_the_order_of_the_file():
    parts = resolved(*BARE, "60 in, member: 2x4", "60 in, member: 2x6").racks["r"]
    assert [one.size for one in (*parts.braces, *parts.rails)] == ["2x4", "2x6"]


def test_all_that_is_wrong_is_said_at_once():
    """A brace of no size and a deck too low; a vessel's fill and a price that no table has."""
    found = wrong(*BARE, "left, member: 2x4", "left, member: 2x5", "deck_height: 26 in", "deck_height: 7 in")
    assert found == [
        ("E-DATA-001", ("racks", "r", "braces", 0, "member")),
        ("E-FIT-001", ("racks", "r", "deck_height")),
    ]
    words = wrong("fill: gravel", "fill: glitter", "use: dwelling", "use: hangar", text=RACK + "prices: {gold: 3}\n")
    assert [one for _, one in words] == [("vessels", 0, "fill"), ("room", "use"), ("prices", "gold")]


def test_timber_without_a_species_is_the_beams():
    """Species and grade both, but for a grade of its own."""
    parts = resolved("beam: 2x8 douglas fir-larch No.2", "beam: 2x8 hem-fir No.1").racks["r"]
    assert (parts.joist.species, parts.joist.grade) == ("hem-fir", "No.1")
    own = resolved("beam: 2x8 douglas fir-larch No.2", "beam: 2x8 hem-fir No.1", "{size: 2x6,", "{size: 2x6 No.2,")
    assert (own.racks["r"].joist.species, own.racks["r"].joist.grade) == ("hem-fir", "No.2")
    post = resolved("beam: 2x8 douglas fir-larch No.2", "beam: 2x8 hem-fir No.1").racks["r"].post
    assert post.species == "douglas fir-larch"


FLOORED = ("use: dwelling}", "use: dwelling}\nexposure: {flooring: tile}")


def test_what_stands_on_what():
    """Sealed concrete unless the file says tile; a vessel on a rack on wood; in a pan on a smooth bottom."""
    plain = resolved()
    assert (plain.racks["r"].friction.on, plain.vessels["tank"].friction.on) == ("concrete", "concrete")
    assert plain.vessels["bed"].friction.on == "wood"
    tiled = resolved(*FLOORED)
    assert (tiled.racks["r"].friction.on, tiled.vessels["tank"].friction.on) == ("smooth floor", "smooth floor")
    panned = resolved(text=PANNED)
    assert (panned.racks["r"].friction.on, panned.vessels["tank"].friction.on) == ("smooth floor", "smooth floor")
    fed = (
        resolved("beam_runs: each bay", "beam_runs: each bay\n    feet: {on: carpet, foot: rubber}").racks["r"].friction
    )
    assert (fed.foot, fed.on, fed.low, fed.high) == ("rubber", "carpet", 0.3, 0.8)
    own = resolved("beam_runs: each bay", "beam_runs: each bay\n    friction: 0.2 to 0.7").racks["r"].friction
    assert (own.low, own.high, own.value.text) == (0.2, 0.7, "0.2 to 0.7")


def of_vessel(name, *pairs, text=RACK):
    return resolved(*pairs, text=text).vessels[name]


def test_what_a_vessel_is_made_of():
    """A tank of polyethylene 3/8 in; a bed of wood 1 1/2 in with a liner of 1.5 kg/m²; else as the file says."""
    tank, bed = of_vessel("tank"), of_vessel("bed")
    assert (tank.wall_thickness, tank.wall_density, tank.liner) == pytest.approx((0.375 * INCH, 950.0, 0.0))
    assert (tank.porosity, tank.grain_density, tank.friction.foot) == (1.0, 0.0, "plastic")
    assert (bed.wall_thickness, bed.wall_density, bed.liner) == pytest.approx((1.5 * INCH, 641.0, 1.5))
    assert (bed.porosity, bed.grain_density, bed.friction.foot) == (0.4, 2650.0, "wood")
    glass = of_vessel("tank", "water: 27 in}", "water: 27 in, wall: 1/2 in glass, base: rubber}")
    assert (glass.wall_thickness, glass.wall_density) == pytest.approx((0.5 * INCH, 2500.0))
    assert glass.friction.foot == "rubber"
    assert len(tank.values) == 2 and len(glass.values) == 1
    assert of_vessel("tank", "water: 27 in}", "water: 27 in, empty_mass: 40 lb}").values == ()
    weighed = of_vessel("tank", text=WEIGHED)
    assert (weighed.wall_thickness, weighed.wall_density, weighed.liner) == (0.0, 0.0, 0.0)
    assert (weighed.porosity, weighed.grain_density, weighed.friction.foot, weighed.values) == (1.0, 0.0, "plastic", ())
    crate = of_vessel("tank", "kind: tank", "kind: bed", text=WEIGHED)
    assert crate.friction.foot == "wood"
    footed = of_vessel("tank", "kind: tank,", "kind: tank, base: steel,", text=WEIGHED)
    assert footed.friction.foot == "steel"


@pytest.mark.parametrize(
    "fill, porosity, grains",
    [
        ("{name: gravel, porosity: 30 %}", 0.3, 2650.0),
        ("{name: gravel, grain_density: 2000 kg/m3}", 0.4, 2000.0),
        ("{porosity: 30 %, grain_density: 2000 kg/m3}", 0.3, 2000.0),
        ("{name: glitter, porosity: 30 %, grain_density: 2000 kg/m3}", 0.3, 2000.0),
    ],
)
def test_a_fill_by_its_row_and_by_the_file(fill, porosity, grains):
    bed = of_vessel("bed", "fill: gravel", f"fill: {fill}")
    assert (bed.porosity, bed.grain_density) == pytest.approx((porosity, grains))


@pytest.mark.parametrize(
    "key, place",
    [("wall: 1/2 in paper", "wall"), ("fill: glitter", "fill"), ("base: ice", "base"), ("sides: 2x5 hem-fir", "sides")],
)
def test_each_word_of_a_vessel_that_no_table_has(key, place):
    assert wrong(
        "depth: 10 in, water: 8 in, fill: gravel,",
        f"depth: 10 in, water: 8 in, fill: gravel, {key},".replace("fill: gravel, fill: glitter", "fill: glitter"),
    ) == [("E-DATA-001", ("vessels", 0, place))]


def test_sides_of_a_bed_are_timber():
    assert of_vessel("bed", "fill: gravel", "sides: 2x10 hem-fir No.2, fill: gravel").sides.width == pytest.approx(
        9.25 * INCH
    )
    assert of_vessel("bed").sides is None


def test_the_floors_live_load():
    """40 psf in a dwelling; 50 in an office; as the file says; none asked of a slab on grade without a use."""
    assert resolved().floor.live_load == pytest.approx(40 * PSF)
    assert resolved("use: dwelling", "use: office").floor.live_load == pytest.approx(50 * PSF)
    given = resolved("kind: timber floor", "kind: timber floor, live_load: 30 psf").floor
    assert given.live_load == pytest.approx(30 * PSF) and given.value.text == "30 psf"
    assert given.value.source == "the installation file"
    named = resolved("kind: timber floor", "kind: timber floor, live_load: 30 psf, live_load_source: drawing 3").floor
    assert named.value.source == "drawing 3"
    unsaid = resolved(", use: dwelling", "").floor
    assert unsaid.live_load == pytest.approx(40 * PSF) and "assumed" in unsaid.value.name
    slab = resolved("kind: timber floor", "kind: slab on grade", ", use: dwelling", "").floor
    assert slab.live_load is None and slab.value is None
    used = resolved("kind: timber floor", "kind: slab on grade").floor
    assert used.live_load == pytest.approx(40 * PSF)


def test_the_floors_joists():
    joists = "kind: timber floor, joist_size: 2x10 douglas fir-larch No.2, joist_span: 12 ft"
    floor = resolved("kind: timber floor", joists).floor
    assert floor.joist.width == pytest.approx(9.25 * INCH) and floor.live_load == pytest.approx(40 * PSF)
    assert resolved().floor.joist is None
    assert wrong("kind: timber floor", joists.replace("2x10", "2x11")) == [
        ("E-DATA-001", ("room", "floor", "joist_size"))
    ]
    assert wrong("kind: timber floor", joists, "use: dwelling", "use: hangar") == [("E-DATA-001", ("room", "use"))]


# Cautions and what is taken for granted


def titles(*pairs, text=RACK):
    installation = read(replaced(text, *pairs)).installation
    return [one.title for one in cautions(installation, resolve(installation))]


USUAL = ["Electricity and water", "Standing beneath", "Water that feeds people"]


def test_the_usual_cautions():
    assert titles(text=WEIGHED) == ["Who decides", *USUAL]
    assert titles() == ["Who decides", "Crushing", *USUAL]
    treated = ["Who decides", "Treated wood and its fasteners", "Crushing", *USUAL]
    assert titles("post: 4x4 douglas fir-larch No.2", "post: 4x4 douglas fir-larch No.2 treated") == treated
    assert titles("beam: 2x8 douglas fir-larch No.2", "beam: 2x8 douglas fir-larch No.2 treated") == treated


@pytest.mark.parametrize(
    "below, height, wanted",
    [
        ("none", "0", []),
        ("own room", "0", ["Is it really on the ground?"]),
        ("own room", "0.5", []),
        ("shop or office", "0.5", ["People below"]),
        ("other people's room", "0", ["Is it really on the ground?", "People below"]),
    ],
)
def test_cautions_of_a_room_below(below, height, wanted):
    site = ("S_DS: 1.0}", f"S_DS: 1.0, height_ratio: {height}}}\nexposure: {{below: {below}}}")
    assert titles(*site, text=WEIGHED) == ["Who decides", *USUAL, *wanted]


def required(*pairs, text=RACK):
    installation = read(replaced(text, *pairs)).installation
    return next((one.text for one in cautions(installation, resolve(installation)) if "not yet" in one.title), "")


def feet(anchored, source):
    words = f"anchored: {anchored}, tension: 900 lb, shear: 900 lb, source: '{source}'"
    return "beam_runs: each bay", f"beam_runs: each bay\n    feet: {{{words}}}"


def test_anchors_that_are_only_required_are_named():
    anchors = "water: 27 in, anchors: {count: 4, tension: 900 lb, shear: 900 lb, source: 'required: by brimfast'}}"
    assert "What the anchors of rack r may carry" in required(*feet("yes", "required: by brimfast"))
    assert required(*feet("yes", "maker")) == "" == required()
    assert "of tank may" in required("water: 27 in}", anchors)
    assert required("water: 27 in}", anchors.replace("required: by brimfast", "maker")) == ""
    assert required(text=LIDDED) == ""
    assert "of the lid of tank may" in required("source: t", "source: 'required: by brimfast'", text=LIDDED)


def hanging(count, more=", over: bed"):
    lights = "".join(f"  - {{name: l{n}, from: ceiling, mass: 3 lb, drop: 12 in{more}}}\n" for n in range(count))
    installation = read(RACK + "hung:\n" + lights).installation
    return next(one.text for one in cautions(installation, resolve(installation)) if "hangs" in one.title)


def test_what_hangs_over_water_is_named_up_to_four():
    assert hanging(1).startswith("l0 hangs over water")
    assert hanging(1, ", above_water: 9 in").startswith("l0 hangs over water")
    assert hanging(4).startswith("l0, l1, l2, l3 hang over water")
    assert hanging(5).startswith("l0, l1, l2, l3 and others hang over water")
    assert hanging(2, "").startswith("Swinging")


def test_where_frame_and_statics_differ():
    def by_frame(subject, **details):
        return SimpleNamespace(subject=subject, details=details)

    strange = {"by the frame": f"x; {UNEXPLAINED}: an engineer should look"}
    assert beyond_stiffness([by_frame("a"), by_frame("b", **{"by the frame": "x"})]) == ()
    (caution,) = beyond_stiffness([by_frame("a", **strange), by_frame("b", **strange), by_frame("a", **strange)])
    assert caution.text.startswith("For a, b the frame")


def taken(text, *pairs):
    return " ".join(assumptions(read(replaced(text, *pairs)).installation, ("exempt",)))


HANGS = RACK + "hung: [{name: l, from: ceiling, mass: 3 lb, drop: 12 in}]\n"
PAIRED = RACK.replace("beam_runs: each bay", "beam_runs: each bay\n    beam_pairs: shared")


@pytest.mark.parametrize(
    "words, with_it, without",
    [
        ("plain statics: each long side", RACK, WEIGHED),
        ("pushes up on a lid", LIDDED, RACK),
        (
            "A pan catches",
            RACK.replace(
                "beam_runs: each bay", "beam_runs: each bay\n    pan: {length: 13 ft, width: 6 ft, height: 4 in}"
            ),
            RACK,
        ),
        (
            "A pan catches",
            RACK.replace("water: 27 in}", "water: 27 in, pan: {length: 8 ft, width: 8 ft, height: 4 in}}"),
            RACK,
        ),
        ("Gussets are stiff", GUSSETED, RACK),
        ("Joined racks stand", JOINED, RACK),
        ("Upper tiers are", TIERS, RACK),
        ("Paired beams", PAIRED, RACK),
        ("What hangs swings", HANGS, RACK),
        ("without offset stand", RACK, WEIGHED),
        ("without offset stand", RACK, RACK.replace("on: r, length", "on: r, offset: 1 in, length")),
        ("exempt", RACK, None),
    ],
)
def test_what_is_taken_for_granted_where_it_matters(words, with_it, without):
    assert words in taken(with_it)
    assert without is None or words not in taken(without)
