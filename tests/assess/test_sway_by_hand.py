"""What a frame's movement comes to, by hand: the frame is a stand-in that moves as the test says."""

import math
from types import SimpleNamespace

import numpy as np
import pytest

from brimfast.assess.demand.vertical import Vertical
from brimfast.assess.pipeline import standing
from brimfast.assess.sway.amount import Sway, _largest, farthest, play, storey_drift, sway
from brimfast.assess.sway.corner import corner
from brimfast.assess.sway.deck import deck_shear
from brimfast.assess.sway.drift import _deck, _stiffnesses, drift, stability_coefficient
from brimfast.assess.sway.feet import loose_feet
from brimfast.assess.sway.findings import sway_findings
from brimfast.assess.sway.liner import _skew, liner
from brimfast.assess.sway.pipes import pipes
from brimfast.assess.sway.wall import wall
from brimfast.data_tables.loader import factor_used
from brimfast.shared.constants import INCH
from brimfast.shared.findings import Value
from tests.assess.test_frame_rack import BRACED
from tests.builders import RACK, TIERS, read

MM = 1e-3


def bowed(*stations, bays=2, places=(1.0, 2.0, 4.0)):
    """The line of the deck's bow where the beams' stations go across by so much (mm): front and back in every case.

    Case 0 is not asked for: it goes wild.
    """
    front_back = np.array(stations) * MM  # stations, front and back, cases
    y = np.concatenate([np.full((*front_back.shape[:2], 1), 9.0) * [[[1]], [[-7]], [[1]]], front_back], axis=2)
    moved = np.zeros((6, 3, y.shape[2]))
    moved[:, 1] = y.reshape(6, -1)
    moved[:, 2] = 0.7
    points = np.array([[x, side, 0.5] for x in places for side in (0.0, 0.8)])
    acts = SimpleNamespace(
        name="r",
        pick=lambda *_, **__: np.arange(1, y.shape[2]),
        moved=lambda tier: moved,
        frame=SimpleNamespace(decks={("r", 1): ((0, 1), (2, 3), (4, 5))}, topology=SimpleNamespace(points=points)),
    )
    return _deck(SimpleNamespace(rack=SimpleNamespace(bays=bays)), acts)


def test_bow_of_a_deck():
    """ASCE 7-16 12.3.1.3. Stations 0, 1 and 3 m from the first one, the mean of front and back in two cases:

    12, 34, 18 mm: straight 12 + 6/3 = 14, bow 20, ends (12 + 18)/2 = 15: 1.33. And −2, 9, 1 mm: straight −2 + 3/3 = −1,
    bow 10, ends (2 + 1)/2 = 1.5: 6.67, the worst.
    """
    (line,) = bowed([[11, -3], [13, -1]], [[33, 8], [35, 10]], [[17, 3], [19, -1]])
    assert line.inputs["bow"].value == pytest.approx(0.010)
    assert line.inputs["ends"].value == pytest.approx(0.0015)
    assert line.result.value == pytest.approx(20 / 3)
    assert "flexible: over 2" in line.note


@pytest.mark.parametrize(("middle", "said"), [(24, "not flexible: up to 2"), (25, "; flexible: over 2")])
def test_a_deck_that_bows_twice_as_much_as_its_ends_is_not_yet_flexible(middle, said):
    """Ends 8 mm each: a bow of 24 − 8 = 16 mm is 2, one of 17 mm 2.125. ASCE 7-16 12.3.1.3: more than two times."""
    (line,) = bowed([[8], [8]], [[middle], [middle]], [[8], [8]])
    assert line.result.value == pytest.approx((middle - 8) / 8)
    assert line.note.endswith(said)


def test_a_deck_of_one_bay_has_no_bow():
    still = [[8], [8]]
    assert bowed(still, still, still, bays=1) == ()


def plain(text):
    """A rack of the file, with no frame."""
    stands = standing(read(text).installation)
    across = stands.bodies[0].directions[1].base
    return SimpleNamespace(
        rack=stands.installation.racks["r"],
        parts=stands.resolved.racks["r"],
        weight=stands.racks["r"],
        joints=stands.installation.joints_of("r"),
        across=across,
    )


def plays(text, storey=1):
    """Along and across (in)."""
    case = plain(text)
    return [play(case, direction, storey) / INCH for direction in ("along", "across")]


BOLTED = BRACED.replace(
    "kind: lag screw, diameter: 0.5 in, length: 4 in", "kind: through-bolt, diameter: 0.5 in, length: 6 in"
)


def test_play_of_bolts_in_braces():
    """1/16 in at both ends of a brace: 60 by 21.656 in is 63.789 in: 0.125·63.789/60 = 0.13289; 28.5 by 21.656 in from post

    to post is 35.795: 0.15700. Screws have none; front alone is not braced: the joints'.
    """
    assert plays(BOLTED) == pytest.approx([0.13289, 0.15700], rel=1e-4)
    assert plays(BRACED) == [0, 0]
    without_back = BOLTED.replace("      - {face: back, bay: 1, kind: x, member: 2x4}\n", "")
    assert plays(without_back) == pytest.approx([0.67676, 0.15700], rel=1e-4)


def test_play_of_bolts_in_joints():
    """Two of them 4 in apart: 2/16/4·21.656 = 0.67676 in along, nothing across; one bolt, nails or an unknown joint: nothing."""
    assert plays(RACK) == pytest.approx([0.67676, 0], rel=1e-4)
    assert plays(RACK.replace("count: 2, spread: 4 in", "count: 1")) == [0, 0]
    nails = RACK.replace(
        "kind: through-bolt, diameter: 0.5 in, length: 6 in, count: 2", "kind: nail, nail: 0.162 in x 3.5 in, count: 4"
    )
    assert plays(nails) == [0, 0]
    a, b = RACK.index("  - rack: r\n"), RACK.index("  - {rack: r, where: joist")
    assert plays(RACK[:a] + RACK[b:]) == [0, 0]


def test_play_of_bolts_in_knees():
    """Legs of 12 and 10 in, one bolt at either end, and one bolt alone between beam and post: 2 √2/16/10·21.656 = 0.38284 in."""
    knees = "".join(
        f"      - {{face: {face}, bay: 1, kind: knee, leg: {leg} in, member: 2x4}}\n"
        for face, leg in (("front", 12), ("back", 10))
    )
    a, b = BOLTED.index("      - {face: front"), BOLTED.index("vessels:")
    text = BOLTED[:a] + knees + BOLTED[b:]
    one = text.replace("count: 2, spread: 4 in", "count: 1")
    assert plays(one) == pytest.approx([0.38284, 0], rel=1e-4)
    assert plays(
        one.replace(
            "kind: through-bolt, diameter: 0.5 in, length: 6 in}}", "kind: lag screw, diameter: 0.5 in, length: 4 in}}"
        )
    ) == [0, 0]
    assert plays(text) == pytest.approx([0.67676, 0], rel=1e-4)  # the joints', as if there were no knees


def test_play_adds_up_over_storeys():
    """TIERS without braces, along: bolts 4 in apart let 34 in above lean by 2/16/4·34 = 1.0625 in more: 1.7393 in at the top."""
    a, b = TIERS.index("    braces:"), TIERS.index("    panels:")
    text = TIERS[:a] + TIERS[b:]
    joint = "  - {rack: r, where: brace to post, fasteners: {kind: lag screw, diameter: 0.375 in, length: 4 in}}\n"
    case = plain(text.replace(joint, ""))
    case.force = SimpleNamespace(sways=2.5)
    assert [play(case, "along", storey) / INCH for storey in (1, 2)] == pytest.approx([0.67676, 1.0625], rel=1e-4)
    acts = still(points=3)
    assert sway(case, acts, "along", 1).real / INCH == pytest.approx(0.67676, rel=1e-4)
    assert sway(case, acts, "along", 2).real / INCH == pytest.approx(1.73926, rel=1e-4)
    assert storey_drift(case, acts, "along", 2).real / INCH == pytest.approx(1.0625, rel=1e-4)


def test_play_in_an_upper_storey():
    """34 in high. Bolted braces, 60 in along: 0.125·68.964/60 = 0.14367 in; 28.5 across: 0.125·44.365/28.5 = 0.19458.

    Bolted knees of 10 in below and 8 in above: 2 √2/16/10·21.656 = 0.38284 and 2 √2/16/8·34 = 0.75130.
    """
    bolts = TIERS.replace(
        "kind: lag screw, diameter: 0.375 in, length: 4 in", "kind: through-bolt, diameter: 0.5 in, length: 6 in"
    )
    assert plays(bolts, 2) == pytest.approx([0.14367, 0.19458], rel=1e-4)
    a, b = bolts.index("      - {face: front, bay: 1, kind: knee"), bolts.index("    panels:")
    knees = "".join(
        f"      - {{face: front, bay: 1, storey: {storey}, kind: knee, leg: {leg} in, member: 2x4}}\n"
        for storey, leg in ((1, 10), (2, 8))
    )
    text = (bolts[:a] + knees + bolts[b:]).replace("count: 2, spread: 4 in", "count: 1")
    assert plays(text, 1) == pytest.approx([0.38284, 0], rel=1e-4)
    assert plays(text, 2) == pytest.approx([0.75130, 0], rel=1e-4)


def still(points, **more):
    """Actions of a frame that does not move."""
    zero = np.zeros((points, 3, 1))
    told = {
        "name": "r",
        "cases": (SimpleNamespace(words="a combination"),) * 3,
        "pick": lambda *_, **__: np.array([0]),
        "moved": lambda tier: zero,
        "between": lambda low, high: zero,
        "push_words": lambda number: f"case {number}",
        "periods": (0.3, 0.2),
        "stays": lambda way: True,
        "stays_upright": lambda way: True,
    }
    return SimpleNamespace(**(told | more))


def test_sway_is_the_largest_times_what_the_force_was_lessened_by():
    """R 2.5; −6 mm along and 4 mm across are the largest of the cases asked for: 2.5·6 + 3 = 18 mm; 2.5·4 = 10 mm."""
    moved = np.array([[[90, 5, -6], [80, 4, 1], [70, 0, 0]], [[-95, 2, 3], [-85, -3, 2], [75, 0, 0]]]) * MM
    acts = still(2, pick=lambda *_, **__: np.array([1, 2]))
    case = SimpleNamespace(force=SimpleNamespace(sways=2.5))
    along = _largest(case, acts, "along", moved, "", "", 0.003)
    assert (along.real, along.elastic) == (pytest.approx(0.018), pytest.approx(0.006))
    assert along.lines[0].inputs["play"].value == 0.003
    assert "case 2" in along.lines[0].note
    assert [value.name for value in along.values] and not _largest(case, acts, "across", moved, "", "", 0.0).values
    assert _largest(case, acts, "across", moved, "", "", 0.0).real == pytest.approx(0.010)


def test_stability_coefficient():
    """ASCE 7-16 (12.8-16): 20 kN·12 mm/(3 kN·0.55 m) = 0.1455."""
    assert float(stability_coefficient(20e3, 0.012, 3e3, 0.55)) == pytest.approx(0.14545, rel=1e-4)


def tall(vertical=None, **more):
    """Storeys of 0.4 and 1.2 m. The decks move 8 and 31 mm along, 12 and 26 across, elastic; the upper storey 30 and 25."""
    moves = {1: (8, 12), 2: (31, 26), "upper": (30, 25)}

    def at(tier):
        return np.array([[[moves[tier][0]], [moves[tier][1]], [0.0]]]) * MM

    acts = still(1, moved=at, between=lambda low, high: at("upper") if (low, high) == (0.4, 1.6) else None)
    told = {
        "name": "r",
        "rack": SimpleNamespace(decks=(0.4, 1.6), bays=1, braces=(), panels=(), braced=lambda way: True),
        "weight": SimpleNamespace(storey=lambda number: ((0.0, 0.4), (0.4, 1.6))[number - 1], beam_centre=0.4),
        "parts": SimpleNamespace(deck_material="plywood"),
        "joints": {},
        "force": SimpleNamespace(sways=2.0, horizontal=3e3, steps=(), values=(), basis="", coefficient=0.3),
        "body": SimpleNamespace(weight=20e3),
        "vertical": Vertical(0.2, "S_DS", 0.8, "", ""),
        "frame": None,
        "across": 0.8,
        "bay_length": 1.0,
        "acts": lambda way: acts,
        "without_frame": lambda way: "no frame",
    }
    told["rack"].bay_length = 1.0
    return SimpleNamespace(**(told | more)), acts


def test_drift_of_the_worst_storey():
    """Along 2·8/400 = 0.040 below and 2·30/1200 = 0.050 above: the upper one, 60 mm of 0.020·1200 (ASCE 7-16 Table 12.12-1).

    Across 24/400 = 0.060 and 50/1200 = 0.042: the lower one, 24 mm of 8.
    """
    case, acts = tall()
    along, across = (drift(case, way)[0] for way in ("along", "across"))
    assert (along.demand, along.capacity) == (pytest.approx(0.060), pytest.approx(0.024))
    assert (across.demand, across.capacity) == (pytest.approx(0.024), pytest.approx(0.008))
    assert next(line for line in along.steps if line.symbol == "Delta_a").result.value == pytest.approx(0.024)
    assert along.details["natural period"] == "0.30 s"
    assert across.details["natural period"] == "0.20 s"
    acts.periods = (math.inf, 0.2)
    assert drift(case, "along")[0].details == {}


def test_the_weight_that_leans():
    """(1.2 + 0.16)·20 kN = 27.2 kN; along 27.2·30 mm/(3 kN·1.2 m) = 0.2267, of 0.10; across 27.2·12/(3·400 mm) = 0.272."""
    case, _ = tall()
    along, across = (drift(case, way)[1] for way in ("along", "across"))
    assert (along.demand, along.capacity) == (pytest.approx(0.22667, rel=1e-4), 0.10)
    assert across.demand == pytest.approx(0.272)


def test_the_farthest_of_both_directions():
    """The deck of tier 2 moves 31 mm along and 26 across: 62 mm; that of tier 1 8 and 12: 24 mm. None where one gives way."""
    case, acts = tall()
    assert farthest(case, 2)[0].real == pytest.approx(0.062)
    assert farthest(case, 1)[0].real == pytest.approx(0.024)
    acts.stays = lambda way: way == "along"
    assert farthest(case, 1)[0] is None
    assert "across" in farthest(case, 1)[1]
    case.acts = lambda way: None
    assert farthest(case, 1) == (None, "no frame")


def skewed(front, back):
    """Stations 1.0, 1.5 and 2.5 m along of a deck 0.8 m wide; (along, across) of each in mm, in one case beside one not asked for."""
    points = np.array([[x, y, 0.5] for x in (1.0, 1.5, 2.5) for y in (0.0, 0.8)])
    both = np.stack([np.array(front), np.array(back)], axis=1) * MM  # stations, sides, ways
    moved = np.zeros((6, 3, 2))
    moved[:, :2, 1] = both.reshape(6, 2)
    moved[:, :, 0] = np.arange(18).reshape(6, 3)
    frame = SimpleNamespace(decks={("r", 1): ((0, 1), (2, 3), (4, 5))}, topology=SimpleNamespace(points=points))
    return SimpleNamespace(name="r", frame=frame, moved=lambda tier: moved)


def test_how_skew_a_deck_becomes():
    """First field: across, the mean goes from 2 to 7 mm over 500: 0.010; along, back less front, (3 − 1 + 5 − 1)/2 = 3 over

    800 mm: 0.00375; together 0.01375. Second: from 7 to 3 over 1000: −0.004; (5 − 1 + 9 − 1)/2 = 6 over 800: 0.0075.
    """
    acts = skewed([(1, 1), (1, 6), (1, 4)], [(3, 3), (5, 8), (9, 2)])
    assert _skew(acts, 1, np.array([1])) == pytest.approx(0.01375)


def test_how_skew_its_second_field_becomes():
    """Across from 2 to 8 mm over 1000: 0.006; along (3 − 1 + 11 − 1)/2 = 6 over 800: 0.0075; together 0.0135."""
    acts = skewed([(1, 1), (1, 1), (1, 7)], [(-3, 3), (3, 3), (11, 9)])
    assert _skew(acts, 1, np.array([1])) == pytest.approx(0.0135)


def test_a_deck_that_turns_as_a_whole_is_not_skew():
    """By 0.002 rad: across grows by 2 mm/m along, along falls by 1.6 mm from front to back."""
    acts = skewed([(0, 0), (0, 1), (0, 3)], [(-1.6, 0), (-1.6, 1), (-1.6, 3)])
    assert _skew(acts, 1, np.array([1])) == pytest.approx(0.0, abs=1e-12)


def test_a_liner_follows_the_worst_deck_and_direction():
    """Both decks carry beds; 0.01375 elastic at most, times 2: 0.0275 of 0.010."""
    acts = skewed([(1, 1), (1, 6), (1, 4)], [(3, 3), (5, 8), (9, 2)])
    acts.frame.decks["r", 2] = acts.frame.decks["r", 1]
    moved = acts.moved(1)
    acts.moved = lambda tier: moved * (0.5 if tier == 2 else 1)
    acts.stays_upright = lambda way: True
    acts.pick = lambda way, *_, **__: np.array([1]) if way == "along" else np.array([], dtype=int)
    case, _ = tall(acts=lambda way: acts)
    beds = [SimpleNamespace(kind="bed", tier=tier) for tier in (2, 1)]
    (found,) = liner(case, SimpleNamespace(on_rack=lambda name: beds))
    assert (found.demand, found.capacity) == (pytest.approx(0.0275), pytest.approx(0.010))
    assert found.steps[-1].inputs["gamma_e"].value == pytest.approx(0.01375)
    assert liner(case, SimpleNamespace(on_rack=lambda name: [SimpleNamespace(kind="tank", tier=1)])) == []


def test_shear_of_a_deck():
    """Diagonals of 1.25 m over 0.75 m across: (500 + 300)·0.75/1.25 = 480 N; the other field's 2 m: 1200·0.75/2 = 450 N."""
    forces = np.zeros((5, 6, 3))
    forces[1:, 0] = [[9e9, 500, 0], [0, -300, 1], [9e9, 0, 900], [0, 0, -300]]
    acts = still(1, pick=lambda *_: np.array([1, 2]))
    acts.frame = SimpleNamespace(of=lambda kind, rack: np.arange(1, 5), lengths=np.array([0, 1.25, 1.25, 2.0, 2.0]))
    acts.result = SimpleNamespace(forces=forces)
    case, _ = tall(frame=acts, across=0.75)
    (found,) = deck_shear(case)
    assert found.demand == pytest.approx(480)
    assert "case 1" in found.reason
    forces[1:, 0, 1:] = 700.0
    forces[1, 0, 1:] += 1e-4  # rounding: less than a millionth
    assert deck_shear(case)[0].demand == 0
    acts.pick = lambda *_: np.array([], dtype=int)
    assert deck_shear(case) == []
    acts.pick, acts.frame.of = lambda *_: np.array([1]), lambda kind, rack: np.array([], dtype=int)
    assert deck_shear(case) == []
    case.frame = None
    assert deck_shear(case) == []


def on_feet(N, H, mu=0.3, W=20e3, anchored=False, picks=(1,)):
    """Findings of loose feet: loads and sideways holds (N) of each foot, in one case beside one that does not balance."""
    feet = SimpleNamespace(
        total={"N": np.array([[-9e9, one] for one in N]), "H": np.array([[9e9, one] for one in H])},
        where=tuple(f"foot {at}" for at in range(len(N))),
    )
    acts = still(1, feet=feet, pick_balanced=lambda *_: np.array(picks, dtype=int))
    friction = SimpleNamespace(low=mu, foot="wood", on="stone", value=None)
    case, _ = tall(frame=acts, parts=SimpleNamespace(friction=friction))
    case.rack.feet = SimpleNamespace(anchored=anchored)
    case.body.weight = W
    return loose_feet(case)


def standing_on(N, H):
    (found,) = on_feet(N, H)
    return found


def test_only_loose_feet_are_asked():
    assert on_feet([100], [60], anchored=True) == on_feet([100], [60], picks=()) == []


def test_loose_feet_by_friction():
    """0.3·2000 = 600 N against 300, 0.3·100 = 30 against 60 (the worst), 0.3·900 = 270 against 400."""
    found = standing_on([2000, 100, 900], [300, 60, 400])
    assert (found.demand, found.capacity, found.reason) == (60, pytest.approx(30), "")


def test_feet_that_nothing_holds():
    """Two lift: nothing holds them against 20 and 25 N; the one that is pushed more counts."""
    found = standing_on([2000, -50, 0], [300, 20, 25])
    assert (found.demand, found.capacity) == (25, 0)
    assert found.reason.startswith("2 of 3 feet")
    least = standing_on([2000, 0.02, 0.021], [300, 0, 0])  # a millionth of the weight is none
    assert least.reason.startswith("1 of 3 feet")


def test_a_foot_that_lifts_and_is_not_pushed_is_not_the_worst():
    """0.02 N, a millionth of 20 kN, is no push."""
    found = standing_on([2000, 0, 0], [300, 0.02, 0])
    assert (found.demand, found.capacity) == (300, pytest.approx(600))


def test_feet_that_hardly_stand():
    """0.3·2 = 0.6 N against 0.3 is less than 330 of 600; against 0.4 more. Nothing against half a newton is the worst of all."""
    assert standing_on([2000, 2], [330, 0.3]).demand == 330
    assert standing_on([2000, 2], [330, 0.4]).demand == 0.4
    assert standing_on([2000, -1], [300, 0.5]).demand == 0.5


def test_the_wall_beside():
    """The upper deck moves 62 mm, the wall is 50 mm off."""
    case, _ = tall()
    case.rack.wall_gap = 0.05
    (found,) = wall(case)
    assert (found.demand, found.capacity) == (pytest.approx(0.062), 0.05)
    case.rack.wall_gap = None
    assert wall(case) == []


def test_pipes_between_what_moves():
    """Deck 1 moves 24 mm, deck 2 62 mm. Between both 86 mm; to the floor or a drain that of one; on one deck nothing."""
    case, _ = tall()
    vessels = [
        SimpleNamespace(name=name, on=on, tier=tier)
        for name, on, tier in (
            ("bed", "r", 1),
            ("other", "r", 1),
            ("trays", "r", 2),
            ("tank", "floor", 1),
            ("sump", "floor", 1),
        )
    ]
    links = [
        ("tank", "bed"),
        ("bed", "trays"),
        ("trays", "drain"),
        ("bed", "other"),
        ("tank", "sump"),
        ("tank", "drain"),
    ]
    pumps = [SimpleNamespace(name=f"{a} {b}", source=a, receiver=b, slack=0.05) for a, b in links]
    found = pipes([case], SimpleNamespace(vessels=vessels, pumps=pumps, pipes=()))
    assert {one.id.removeprefix("sway/pipe/"): (round(one.demand, 9), one.capacity) for one in found} == {
        "tank bed": (0.024, 0.05),
        "bed trays": (0.086, 0.05),
        "trays drain": (0.062, 0.05),
    }


def test_a_pipe_says_what_either_end_does():
    case, _ = tall()
    vessels = [SimpleNamespace(name=name, on="r", tier=tier) for name, tier in (("bed", 1), ("trays", 2))]
    pump = SimpleNamespace(name="p", source="bed", receiver="trays", slack=0.05)
    (found,) = pipes([case], SimpleNamespace(vessels=vessels, pumps=[pump], pipes=()))
    said = {line.symbol: line.result.value for line in found.steps if "_" in line.symbol}
    assert said == pytest.approx({"Delta_a": 0.024, "Delta_b": 0.062})
    assert [line.note for line in found.steps if "_" in line.symbol] == ["rack r", "rack r"]


def test_values_behind_both_ends_of_a_pipe(monkeypatch):
    """Each once, though both ends have it."""
    tie, slip, sheet = (Value(name, "1", "t", "published") for name in ("tie", "slip", "sheet"))
    ends = {1: Sway(0.024, 0.01, (), (tie, slip)), 2: Sway(0.062, 0.03, (), (tie, sheet))}
    monkeypatch.setattr("brimfast.assess.sway.pipes.farthest", lambda case, tier: (ends[tier], ""))
    case, _ = tall()
    vessels = [SimpleNamespace(name=name, on="r", tier=tier) for name, tier in (("bed", 1), ("trays", 2))]
    pump = SimpleNamespace(name="p", source="bed", receiver="trays", slack=0.05)
    (found,) = pipes([case], SimpleNamespace(vessels=vessels, pumps=[pump], pipes=()))
    assert found.values == (tie, slip, sheet)


@pytest.mark.parametrize(
    ("deck", "panels", "ties", "more"),
    [
        ("lumber", (), (), []),
        ("osb", (), (), ["sheet_shear_osb"]),
        ("osb", ("one",), (), ["sheet_shear_osb", "sheet_shear_plywood"]),
        ("plywood", ("one",), (), ["sheet_shear_plywood"]),
        ("lumber", ("one",), (), ["sheet_shear_plywood"]),
        ("plywood", (), ("one",), ["sheet_shear_plywood", "tie_stiffness", "tie_stiffness_least"]),
    ],
)
def test_stiffnesses_that_a_frame_takes(deck, panels, ties, more):
    """A deck of sheets its shear, panels that of plywood, ties theirs; wood, feet and fasteners always."""
    case, _ = tall(parts=SimpleNamespace(deck_material=deck), frame=SimpleNamespace(ties=SimpleNamespace(where=ties)))
    case.rack.panels = panels
    always = [factor_used(name) for name in ("wood_shear_share", "foot_stiffness")]
    *given, slip = _stiffnesses(case)
    assert given == [*always, *map(factor_used, more)]
    assert slip.text == "K_ser"


def test_bolts_at_a_corner():
    """The largest of both posts in the cases that balance."""
    acts = still(
        1,
        pick=lambda *_: np.array([1, 2]),
        corner=SimpleNamespace(total={"R": np.array([[9e9, 70, 20], [9e9, 30, 90]])}),
    )
    case, _ = tall(frame=acts)
    case.rack.turns_from = SimpleNamespace(rack="s")
    (found,) = corner(case)
    assert (found.verdict, found.demand) == ("not assessed", 90)
    case.rack.turns_from = None
    assert corner(case) == []


def test_what_is_asked_of_sway():
    case, _ = tall()
    case.rack.wall_gap, case.rack.turns_from = 0.05, None
    nothing = SimpleNamespace(on_rack=lambda name: [], vessels=[], pumps=(), pipes=())
    wanted = ["along", "along/lean", "across", "across/lean", "wall"]
    assert [one.id.removeprefix("sway/r/") for one in sway_findings([case, case], nothing)] == wanted * 2
