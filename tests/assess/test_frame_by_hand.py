"""What is read off a frame and put into it, by hand; where that is enough the frame is a stand-in."""

from types import SimpleNamespace

import numpy as np
import pytest

from brimfast.assess.demand.vertical import Vertical
from brimfast.assess.frame import elements
from brimfast.assess.frame.actions import Acting, RackActions
from brimfast.assess.frame.analyse import Framed, _stiffness, _variants
from brimfast.assess.frame.build import build
from brimfast.assess.frame.builder import Builder
from brimfast.assess.frame.cases import LoadCase, load_cases
from brimfast.assess.frame.envelope import envelope
from brimfast.assess.frame.feet import foot_by_frame
from brimfast.assess.frame.gussets import gusset_ends, gusset_height
from brimfast.assess.frame.lines import compared, said, to_compare, total, worst
from brimfast.assess.frame.mechanism import mechanism
from brimfast.assess.frame.model import Element, Masses, NoFrameError
from brimfast.assess.frame.period import natural_periods
from brimfast.assess.frame.places import merged
from brimfast.assess.frame.states import Cases, _as_friction_lets, _asking
from brimfast.assess.frame.tier import hats, spread_mass
from brimfast.assess.frame.topology import GROUND, Topology
from brimfast.assess.pipeline import in_frames, standing
from brimfast.shared.constants import INCH, POUND_FORCE
from brimfast.shared.findings import step
from tests.assess.test_frame_rack import CORNER
from tests.builders import GUSSETED, JOINED, RACK, TIERS, read

STRAIGHT = np.eye(3)
TURNED = np.array([[0.0, 1, 0], [1, 0, 0], [0, 0, 1]])  # a run that turns a corner: along is Y, across X
ABOUT = np.diag([-1.0, -1, 1])  # half a turn


def framed(text):
    """The frame alone, not solved."""
    (group,) = in_frames(standing(read(text).installation))
    return build(list(group))


def acting(axes=STRAIGHT, cases=(), result=None, **frame):
    frame = SimpleNamespace(places={"r": SimpleNamespace(axes=axes)}, **frame)
    return RackActions("r", frame, tuple(cases), result, (0.1, 0.2))


def case(level="down", way=0, sign=1, variant="", feet="loose"):
    return LoadCase(level, 0.9, 0.7, way, sign, variant, feet, "a combination")


@pytest.mark.parametrize(
    ("axes", "way", "sign", "said"),
    [
        (STRAIGHT, 0, 1, ("along", 1)),
        (STRAIGHT, 1, -1, ("across", -1)),
        (TURNED, 0, 1, ("across", 1)),
        (TURNED, 1, -1, ("along", -1)),
        (ABOUT, 0, 1, ("along", -1)),
        (ABOUT, 1, -1, ("across", 1)),
    ],
)
def test_the_rooms_push_in_the_racks_own_directions(axes, way, sign, said):
    assert acting(axes).direction(case(way=way, sign=sign)) == said


def stands(*feet_that_stand, part=1.0, stable=True, slides=False, level="down", variant=""):
    """A rack pushed along both ways: with these feet it stands, with the others as said."""
    cases = [
        case(level, 0, sign, variant, feet) for feet in ("loose", "kept from slipping", "held down") for sign in (1, -1)
    ]
    well = np.array([one.feet in feet_that_stand or one.sign == 1 for one in cases])
    result = SimpleNamespace(
        part=np.where(well, 1.0, part), stable=well | stable, slides=~well & slides, movements=np.zeros((6, 6))
    )
    return acting(cases=cases, result=result, anchored={"r": False})


@pytest.mark.parametrize("why", [{"part": 0.99}, {"stable": False}, {"slides": True}])
def test_what_the_feet_have_to_be(why):
    """Pushed to the right it stands anyhow; to the left it stands in part, gives way or slides with all other feet."""
    assert stands("loose", **why).feet_words("along") == "loose"
    assert stands("kept from slipping", **why).feet_words("along") == "kept from slipping"
    assert stands("held down", **why).feet_words("along") == "held down"
    assert stands("held down", **why).balances("along")
    assert not stands(**why).balances("along")


def test_only_the_stiffness_as_given_says_whether_it_stands():
    assert stands(variant="joints soft", part=0.5).balances("along")
    assert not stands(part=0.5).balances("along")


def test_nails_of_gussets():
    """Nails give the plate what is the opposite of their link's forces: H toward the bay's middle, M from along to up.

    Left plate: (−30, 5, 40) N and 7 N·m about Y: 30 inward, 40 down; −7 about Y turns x to z: +7. Right plate: (10, 0, 20),
    3 about Y: −10 is inward there; −3 about Y turns x to z by 3, seen in a mirror −3.
    """
    forces = np.array([[-30.0, 5, 40, 1, 7, 2], [10, 0, 20, 0, 3, 0], [-30, 5, 40, 1, 7, 2], [10, 0, 20, 0, 3, 0]])
    elements = [Element("gusset post", "r", "front", 1, number) for number in (0, 0, 2, 2)]
    result = SimpleNamespace(by_weight=forces, forces=forces[:, :, None])
    nails = acting(result=result, elements=elements, of=lambda kind, rack: np.arange(4)).gusset_nails("post")
    assert nails.by_weight["H"] == pytest.approx([30, 10, 30, 10])
    assert nails.total["V"][:, 0] == pytest.approx([-40, -20, -40, -20])
    assert nails.total["M"][:, 0] == pytest.approx([7, -3, 7, -3])
    assert nails.where == (
        "gusset 1 of the file, left one, nails on the post",
        "gusset 1 of the file, right one, nails on the post",
        "gusset 3 of the file, left one, nails on the post",
        "gusset 3 of the file, right one, nails on the post",
    )


def test_nails_of_gussets_in_a_run_that_turns():
    """Along is Y there, and Y turns to Z about +X: what nails give, 30 N along and −7 N·m about X, is H 30 and M −7."""
    forces = np.array([[5.0, -30, 40, 7, 1, 2]])
    elements = [Element("gusset post", "r", "front", 1, 0)]
    result = SimpleNamespace(by_weight=forces, forces=forces[:, :, None])
    nails = acting(TURNED, result=result, elements=elements, of=lambda kind, rack: np.arange(1)).gusset_nails("post")
    assert [float(nails.total[name][0, 0]) for name in "HVM"] == pytest.approx([30, -40, -7])


def test_a_storey_drifts_by_the_difference_of_its_ends():
    """Two posts of a run that turns, points at 0, 0.7 and 1.6 m: from 0.6 to 1.5 m the nearest are the upper two.

    Along is Y: 11 − 4 = 7 and 12 − 6 = 6 mm; across X: 1 − 3 = −2 and 2 − 5 = −3 mm.
    """
    points = np.array([[0.0, 0, z] for z in (0, 0.7, 1.6)] + [[0.0, 2, z] for z in (0, 0.7, 1.6)])
    u = np.full((6, 6), 50.0)
    u[[1, 2, 4, 5], 0], u[[1, 2, 4, 5], 1] = (3, 1, 5, 2), (4, 11, 6, 12)
    acts = acting(
        TURNED,
        result=SimpleNamespace(movements=u.reshape(36, 1)),
        topology=SimpleNamespace(points=points),
        posts={("r", 0, "front"): (0, 1, 2), ("r", 1, "front"): (3, 4, 5), ("s", 0, "front"): (0, 2)},
    )
    drift = acts.between(0.6, 1.5)
    assert drift[:, 0, 0] == pytest.approx([7, 6])
    assert drift[:, 1, 0] == pytest.approx([-2, -3])
    assert drift[:, 2, 0] == pytest.approx([0, 0])


def kinds(**places):
    """Actions of kinds of places: two cases, of which the first does not balance and is beyond all."""
    named = {
        name: Acting(
            {}, {letter: np.array([[1e9, value] for value in values]) for letter, values in parts.items()}, where
        )
        for name, (where, parts) in places.items()
    }
    return SimpleNamespace(
        pick_balanced=lambda *levels: np.array([1]),
        push_words=lambda number: f"case {number}",
        cases=(case(), case()),
        gusset_nails=lambda leg: named["nails"],
        bars=lambda kind: {
            "brace": {1: np.array([[1e9, -0.5], [1e9, 0.3]])},
            "panel": {0: np.array([[1e9, 4.0], [1e9, -6]])},
        }.get(kind, {}),
        **named,
    )


def test_the_largest_of_each_kind():
    """Of two places the worse; a brace's pull and push alike; a foot's pull is what its push is below nothing; 0 is not said."""
    post, none = (
        ("left post", "right post"),
        (("nowhere",), {key: [0.0] for key in "HVPMRN"} | {"across": [0.0], "along": [0.0]}),
    )
    acts = kinds(
        posts=(post, {"P": [300, 500], "M_along": [-8, 7], "M_across": [0, 0]}),
        beams=(post, {"M_up": [2, -3], "M_side": [0, 0], "N": [-20, 10]}),
        feet=(post, {"N": [900, -250], "H": [30, 40]}),
        nails=(("plate",), {"H": [-30], "V": [40], "M": [-6]}),
        joints=none,
        joists=none,
        ties=none,
        join=none,
        corner=none,
    )
    assert {one.what: (round(one.value, 9), one.quantity, one.where) for one in envelope(acts)} == {
        "post, push": (500, "force", "right post"),
        "post, bending along the rack": (8, "moment", "left post"),
        "beam, upright bending": (3, "moment", "right post"),
        "beam, pull or push": (20, "force", "left post"),
        "brace, pull or push": (0.5, "force", "brace 2 of the file"),
        "panel, in each of its two diagonals": (6, "force", "panel 1 of the file"),
        "gusset, force on the nails of its post": (50, "force", "plate"),
        "gusset, turning of the nails of its post": (6, "moment", "plate"),
        "gusset, force on the nails of its beam": (50, "force", "plate"),
        "gusset, turning of the nails of its beam": (6, "moment", "plate"),
        "foot, down": (900, "force", "left post"),
        "foot, pull on its anchors": (250, "force", "right post"),
        "foot, sideways": (40, "force", "right post"),
    }


def ends(frame, kind):
    """Both ends of the elements of a kind (in), and those elements."""
    rows = frame.of(kind)
    return frame.topology.points[frame.topology.ends[rows]] / INCH, [frame.elements[row] for row in rows]


BEAMS = 21.65625  # in: below 26 in the deck's 23/32 and half of 7.25


def test_where_the_nails_of_a_gusset_are():
    """Leg 14 in, half a post 1.75, half a beam 3.625 in: the nails' middles 1.75 + 0.75 + 10/2 = 7.5 in beside the post, and

    3.625 + 0.75 + 8.125/2 = 8.4375 in below the beam. In bay 2 of 60 in: 67.5 and 112.5 in along.
    """
    gusset = SimpleNamespace(leg=14 * INCH, bay=2, storey=1)
    parts = SimpleNamespace(post=SimpleNamespace(width=3.5 * INCH), beam=SimpleNamespace(width=7.25 * INCH))
    one = SimpleNamespace(parts=parts, weight=SimpleNamespace(storey=lambda storey: (0.0, 22 * INCH)))
    (left, x), (right, y) = gusset_ends(one, [0.0, 60 * INCH, 120 * INCH], gusset)
    assert (left, right) == (1, 2)
    assert [x / INCH, y / INCH] == pytest.approx([67.5, 112.5])
    assert gusset_height(one, gusset) / INCH == pytest.approx(22 - 8.4375)


def test_stiffness_of_a_gussets_nails():
    """EN 1995-1-1 Table 7.1, not predrilled: ρ^1.5 d^0.8/30; ρ = 62.4·0.5/(1 + 0.5·0.108)·1.12 = 33.154 lb/ft³ = 531.1 kg/m³,

    d 3.327 mm: 12238·2.6163/30 = 1067 N/mm a nail, 10.67 kN/mm for ten; on the post's filler half of it. Turning on the
    beam 10·1.8125² + 4·(5² + 2.5²) = 157.85 in²: 1067·0.10184 m² = 108.7 kN·m/rad; on the post 90.18 in² and half: 31.05.
    Near the strength two thirds. Out of the plane 1 kN/m and 1 kN·m/rad. The plate's 1e8 N over √(7.5² + 8.4375²) = 11.29 in.
    """
    frame = framed(GUSSETED)
    nearly = {"rel": 2e-3}
    for kind, slip, turn in (("gusset post", 5.337e6, 31.05e3), ("gusset beam", 10.673e6, 108.70e3)):
        rows = frame.of(kind)
        assert len(rows) == 8
        for row in rows:
            by_hand = np.array([slip, 1e3, slip, 0, 1e3, turn, 0, 1e3])[[0, 1, 2, 4, 5, 7]]
            assert frame.coefficients[row][[0, 1, 2, 4, 5, 7]] == pytest.approx(by_hand, **nearly)
            assert frame.soft[row][[0, 1, 2, 4, 5, 7]] == pytest.approx(by_hand * 2 / 3, **nearly)
    for row in frame.of("gusset"):
        assert 1e8 / frame.coefficients[row][0] / INCH == pytest.approx(11.29, abs=1.2)  # a joist's station within 3 cm


def test_knees_lean_by_half_a_right_angle():
    """A leg of 12 in from either corner: 12·√2 = 16.97 in long, up as much as along, toward the bay's middle."""
    frame = framed(TIERS)
    assert frame.lengths[frame.of("knee")] / INCH == pytest.approx([16.97] * 2, abs=0.01)
    found, _ = ends(frame, "knee")
    wanted = [[[0, 0, BEAMS - 12], [12, 0, BEAMS]], [[60, 0, BEAMS - 12], [48, 0, BEAMS]]]
    assert found == pytest.approx(np.array(wanted))


def test_knees_of_a_run_that_turns():
    """Behind the right end its back is at 120 in, its first post at 28.5, its second 36 in on: 28.5 + 10 and 64.5 − 10."""
    knee = "braces: [{face: back, bay: 1, kind: knee, leg: 10 in, member: 2x4}, {face: right"
    frame = framed(CORNER.replace("SIDE", "back").replace("braces: [{face: right", knee))
    found, who = ends(frame, "knee")
    assert {one.rack for one in who} == {"s"}
    wanted = [[[120, 28.5, BEAMS - 10], [120, 38.5, BEAMS]], [[120, 64.5, BEAMS - 10], [120, 54.5, BEAMS]]]
    assert found == pytest.approx(np.array(wanted))


def stiffness(frame, kind, place=0, face=None, tier=None, which="coefficients"):
    rows = [
        row
        for row in frame.of(kind)
        if face in (None, frame.elements[row].face) and tier in (None, frame.elements[row].tier)
    ]
    return getattr(frame, which)[rows[place]]


def test_stiffness_of_posts_and_rails():
    """E 1.6e6·0.9 psi, G E/16. A 4x4 over the 9.6563 in to a knee: EA 78.47e6 N, EI 1.44e6·12.505 lb in² = 51.68 kN·m²;

    over 0.24527 m 319.9e6, 4 EI/L 842.8e3, 2 EI/L 421.4e3; J 3.5⁴/3·0.37 = 18.508 in⁴: GJ/L = 4780/0.24527 = 19.49e3.
    A 2x4 rail of 60 in: EA/L 33.63e6/1.524 = 22.07e6; J 3.5·1.5³/3·(1 − 0.63·1.5/3.5) = 2.8744 in⁴: 742.4/1.524 = 487.1; its ends turn.
    """
    frame = framed(TIERS)
    assert frame.lengths[frame.of("post")[0]] == pytest.approx(0.24527, rel=1e-4)
    post = [319.9e6, 19.49e3, 842.8e3, 421.4e3, 842.8e3, 842.8e3, 421.4e3, 842.8e3]
    assert stiffness(frame, "post") == pytest.approx(post, rel=1e-3)
    assert stiffness(frame, "rail") == pytest.approx([22.07e6, 487.1, 0, 0, 0, 0, 0, 0], rel=1e-3)
    assert stiffness(frame, "foot") == pytest.approx([1e8, 1e8, 1e8, 0, 0, 0, 0, 0])


def test_stiffness_of_a_beam_that_ends_at_two_bolts():
    """A 2x8, 12 in from its post: EI 196.85, flat 8.427 kN·m², GJ 1832 N·m². Two bolts of 1/2 in, 4 in apart:

    K_ser 12238·12.7/23 = 6757 N/mm (EN 1995-1-1 Table 7.1), k = 2·6.757e6·0.0508² = 34.88 kN·m/rad. r = k L/(k L + 3 EI) =
    10631/601190 = 0.017683; 12 r/(4 − r) = 0.053284, 6 r/(4 − r), 12/(4 − r) = 3.01332, times EI/L 645.8e3; flat 3 EI/L.
    Turning freely 3 EI/L; near the strength k·2/3: r 0.011860, 12 r/(4 − r) = 0.035687, 3.00892. In its span 4 and 2 EI/L.
    """
    frame = framed(TIERS)
    own = [228.5e6, 6011.0]
    flat = [0, 0, 82.94e3]
    assert stiffness(frame, "beam") == pytest.approx([*own, 34.41e3, 17.21e3, 1946.1e3, *flat], rel=1e-3)
    assert stiffness(frame, "beam", which="hinged") == pytest.approx([*own, 0, 0, 1937.5e3, *flat], rel=1e-3)
    assert stiffness(frame, "beam", which="soft") == pytest.approx([*own, 23.05e3, 11.52e3, 1943.3e3, *flat], rel=1e-3)
    span = [*own, 2583.4e3, 1291.7e3, 2583.4e3, 110.6e3, 55.29e3, 110.6e3]
    assert stiffness(frame, "beam", 1, "front") == pytest.approx(span, rel=1e-3)
    last = stiffness(frame, "beam", 4, "front")  # ends at the middle post
    assert last == pytest.approx([*own, 1946.1e3, 17.21e3, 34.41e3, 82.94e3, 0, 0], rel=1e-3)


def test_stiffness_of_joints_of_beams_to_posts():
    """Two bolts of 6757 N/mm slip 13.51 kN/mm in every direction, at a middle post those of both beams; two thirds when soft.

    Beams of one bay turn at their own ends, so the joint holds 10 MN·m/rad (none when soft it stays so); a beam in one piece
    turns there: 34.88 kN·m/rad, two thirds, or freely.
    """
    each, whole = framed(TIERS), framed(GUSSETED)
    near = {"rel": 1e-3}
    for place, slip in ((0, 13.515e6), (1, 27.03e6), (2, 13.515e6)):
        assert stiffness(each, "joint", place, "front", 1) == pytest.approx([slip] * 3 + [0, 0, 1e7, 0, 0], **near)
        soft = stiffness(each, "joint", place, "front", 1, "soft")
        assert soft == pytest.approx([slip * 2 / 3] * 3 + [0, 0, 1e7, 0, 0], **near)
        hinged = stiffness(each, "joint", place, "front", 1, "hinged")
        assert hinged == pytest.approx([slip] * 3 + [0, 0, 1e7, 0, 0], **near)
        for which, share, turn in (("coefficients", 1, 34.88e3), ("soft", 2 / 3, 23.25e3), ("hinged", 1, 0)):
            found = stiffness(whole, "joint", place, "front", 1, which)
            assert found == pytest.approx([13.515e6 * share] * 3 + [0, 0, turn, 0, 0], **near)


def test_stiffness_of_joists_and_deck():
    """A 2x6 over 28.5 in: 1.44e6·8.25 lb = 52.84e6 N over 0.7239 m: 73.0e6. 23/32 in of plywood, 50 ksi: 6.294e6 N/m, a field

    of 12 by 28.5 in: (144 + 812.25)/(2·12·28.5) = 1.3980 of it in each diagonal: 8.799e6.
    """
    frame = framed(TIERS)
    assert stiffness(frame, "joist") == pytest.approx([73.0e6] + [0] * 7, rel=1e-3)
    assert stiffness(frame, "deck") == pytest.approx([8.799e6] + [0] * 7, rel=1e-3)
    (i, j), (k, m) = frame.topology.points[frame.topology.ends[frame.of("deck")[:2]]] / INCH
    beams = 26 - 0.71875 - 3.625  # below the deck's top
    assert np.array([i, j, k, m]) == pytest.approx(
        np.array([[0, 0, beams], [12, 28.5, beams], [0, 28.5, beams], [12, 0, beams]]), abs=1e-9
    )


def test_stiffness_of_braces():
    """A 2x4, EA 33.63e6 N, a 3/8 in lag screw at either end of K_ser 12238·9.525/23 = 5068 N/mm: L/EA + 2/K.

    60 by 21.656 in: 63.79 in, 48.18e-9 + 394.6e-9 m/N: 2.258e6 N/m, with two thirds of K 1.563e6. 60 by 34 in: 68.96 in,
    2.239e6. A knee of 16.97 in: 2.454e6. 28.5 in across by 21.656 or 34: 35.79 in 2.3716e6, 44.37 in 2.3358e6. In TIERS' order: knee, single, single above, X, X above, left, left above.
    """
    frame = framed(TIERS)
    rows = {(frame.elements[row].number, at): row for at, row in enumerate(frame.of("brace", "knee"))}
    ks = {number: float(frame.coefficients[row, 0]) for (number, _), row in rows.items()}
    assert ks == pytest.approx(
        {0: 2.454e6, 1: 2.258e6, 2: 2.239e6, 3: 2.258e6, 4: 2.239e6, 5: 2.3716e6, 6: 2.3358e6}, rel=1e-3
    )
    soft = {number: list(frame.soft[row]) for (number, _), row in rows.items()}
    assert soft[1] == pytest.approx([1.5630e6] + [0] * 7, rel=1e-3)
    assert {number: bool(frame.one_way[row]) for (number, _), row in rows.items()} == {
        number: number in (3, 4) for number in range(7)
    }
    z_1, z_2 = 21.65625, 55.65625
    ends = [frame.topology.points[frame.topology.ends[row]] / INCH for (number, _), row in rows.items() if number > 0]
    wanted = [
        [[60, 0, 0], [120, 0, z_1]],
        [[60, 0, z_1], [120, 0, z_2]],
        [[0, 28.5, 0], [60, 28.5, z_1]],
        [[60, 28.5, 0], [0, 28.5, z_1]],
        [[0, 28.5, z_1], [60, 28.5, z_2]],
        [[60, 28.5, z_1], [0, 28.5, z_2]],
        [[0, 0, 0], [0, 28.5, z_1]],
        [[0, 0, z_1], [0, 28.5, z_2]],
    ]
    assert np.array(ends) == pytest.approx(np.array(wanted), abs=1e-9)


def test_stiffness_of_panels():
    """SDPWS 2015 (C4.3.2-1) as in panel_stiffness: Gt 50 ksi · 15/32 in = 4.1046e6 N/m, nails of 1067.3 N/mm, 6 in apart.

    0.7239 by 0.55007 m: 1/Gt + 2·0.1524·(1/0.7239 + 1/0.55007)/K = 0.24363e-6 + 0.91367e-6; 1.31601/1.15730e-6 = 1.1371e6;
    a diagonal (0.52403 + 0.30258)/(2·0.52403) = 0.78870 of it: 896.9e3. Above, 0.8636 m high: 865.2e3·1.21160 = 1048.3e3.
    """
    frame = framed(TIERS)
    near = {"rel": 1e-3}
    assert stiffness(frame, "panel") == pytest.approx([896.9e3] + [0] * 7, **near)
    assert stiffness(frame, "panel", 1) == pytest.approx([896.9e3] + [0] * 7, **near)
    assert stiffness(frame, "panel", 2) == pytest.approx([1048.3e3] + [0] * 7, **near)
    ends = frame.topology.points[frame.topology.ends[frame.of("panel")]] / INCH
    z_1, z_2 = 21.65625, 55.65625
    wanted = [[[120, y, low], [120, 28.5 - y, high]] for low, high in ((0, z_1), (z_1, z_2)) for y in (0, 28.5)]
    assert ends == pytest.approx(np.array(wanted), abs=1e-9)


def test_a_slender_single_brace_is_only_pulled_and_without_fasteners_gives_only_itself():
    """Bays of 84 in: a diagonal of 86.75 in over 1.5 in is 57.8, over the 50 of NDS 2018 3.7.1.4; 33.63e6/2.2033 m = 15.26e6,

    near the strength 1/(65.52e-9 + 2/2e6) = 938.5e3.
    """
    text = RACK.replace("bay_length: 5 ft", "bay_length: 7 ft").replace(
        "    beam_runs: each bay",
        "    beam_runs: each bay\n    braces: [{face: back, bay: 2, member: 2x4}, {face: right, member: 2x4}]",
    )
    frame = framed(text)
    long, short = frame.of("brace")
    assert list(frame.one_way[[long, short]]) == [True, False]
    assert frame.coefficients[long][0] == pytest.approx(15.26e6, rel=1e-3)
    assert frame.soft[long][0] == pytest.approx(938.5e3, rel=1e-3)


def test_a_run_that_turns_a_corner():
    """The main rack 120 in long and 28.5 across; the run 72 long, 28.5 across, its two near posts beside the main one's beam.

    From the right end it starts at 120 − 28.5 = 91.5 in, behind at 28.5 in, in front at −72; its far posts 72 in away.
    """
    for end, side, x, y in (
        ("right", "back", 91.5, 28.5),
        ("right", "front", 91.5, 0),
        ("left", "back", 0, 28.5),
        ("left", "front", 0, 0),
    ):
        frame = framed(CORNER.replace("SIDE", side).replace("end: right", f"end: {end}"))
        away = 28.5 if side == "back" else -72
        assert frame.places["s"].origin / INCH == pytest.approx([x, away, 0])
        assert frame.places["s"].axes.tolist() == TURNED.tolist()
        pairs, who = ends(frame, "corner")
        assert who == [Element("corner", "s", face, 1, 0) for face in ("front", "back")]
        assert pairs[:, 0] == pytest.approx(np.array([[x, y, BEAMS], [x + 28.5, y, BEAMS]]))
        assert pairs[:, 1] == pytest.approx(pairs[:, 0], abs=1e-9)
        for row in frame.of("corner"):
            assert frame.coefficients[row].tolist() == [1e7, 1e7, 1e7, 0, 0, 0, 0, 0]


def test_runs_meet_where_their_beams_lie_nearly_alike():
    """A 2x12 lies 5.625 − 3.625 = 2 in = 51 mm lower, a 2x6 under joists of 3.5 in 3.5 + 2.75 − 3.625 = 2.625 in = 67 mm:

    more than twice the 30 mm within which points are one.
    """
    main, run = CORNER.replace("SIDE", "back").split("  s:\n")
    lower = run.replace("beam: 2x8", "beam: 2x12")
    lowest = run.replace("beam: 2x8", "beam: 2x6").replace(
        "2x6, spacing: 12 in, seat: between", "2x4, spacing: 12 in, seat: on"
    )
    assert framed(f"{main}  s:\n{lower}")
    with pytest.raises(NoFrameError, match="another height"):
        framed(f"{main}  s:\n{lowest}")


def test_heights_that_are_one_point():
    """Within 30 mm of a height that is there; those that are fixed stay as they are."""
    assert merged([0.31, 0.1, 0.131], [0.0, 0.285]) == [0.0, 0.1, 0.131, 0.285]
    assert merged([0.12, 0.1], []) == [0.1]


def test_heights_of_the_points_of_posts():
    """TIERS: beams at 21.656 and 55.656 in, rails at 80 and 84, a knee of 12 in in front: 9.656; 34 in above it a tier."""
    frame = framed(TIERS)
    heights = {side: frame.topology.points[list(frame.posts["r", 2, side]), 2] / INCH for side in ("front", "back")}
    assert heights["front"] == pytest.approx([0, BEAMS - 12, BEAMS, BEAMS + 34, 80, 84])
    assert heights["back"] == pytest.approx([0, BEAMS, BEAMS + 34, 80, 84])


def test_a_knee_as_long_as_its_storey():
    """21.656 in: a leg of 20 in leaves 42 mm below it, one of 21 in 17 mm, less than the 30 mm within which points are one."""
    text = RACK.replace(
        "    beam_runs", "    braces: [{face: front, bay: 1, kind: knee, leg: LEG in, member: 2x4}]\n    beam_runs"
    )
    assert framed(text.replace("LEG", "20"))
    with pytest.raises(NoFrameError, match="as long as its storey"):
        framed(text.replace("LEG", "21"))


def test_how_many_bays_are_one_frame():
    """15 bays on two decks are 30; 16 on two are 32."""
    with pytest.raises(NoFrameError, match="32 bays"):
        build([SimpleNamespace(rack=SimpleNamespace(bays=16, decks=(0.6, 1.2)))])
    text = RACK.replace("bays: 2", "bays: 15").replace(
        "    beam_runs", "    upper_tiers: [{deck_height: 60 in}]\n    beam_runs"
    )
    assert framed(text.replace("length: 24 ft", "length: 90 ft"))


def test_stiffness_of_wall_ties():
    """Four screws over two bays stand at 0, 2/3, 4/3 and 2 bays: one, two and one a post. Across 1000 kN/m each; along

    K_ser of 3/8 in in spruce-pine-fir: 62.4·0.42/(1 + 0.42·0.108)·1.12 = 28.08 lb/ft³ = 449.8 kg/m³: 9539·9.525/23 = 3950 N/mm.
    """
    tie = "    wall_ties: [{height: 24 in, count: 4, into: stud, diameter: 0.375 in, length: 5 in}]\n    beam_runs"
    frame = framed(RACK.replace("    beam_runs", tie))
    for kind, way, k in (("tie", 1, 1e6), ("tie along", 0, 3.950e6)):
        rows = frame.of(kind)
        assert [(frame.elements[row].number, frame.elements[row].tier) for row in rows] == [(0, 1), (1, 2), (2, 1)]
        for row, count in zip(rows, (1, 2, 1), strict=True):
            wanted = np.zeros(8)
            wanted[way] = k * count
            assert frame.coefficients[row] == pytest.approx(wanted, rel=1e-3)
            i, j = frame.topology.ends[row]
            assert frame.topology.points[i] / INCH == pytest.approx([60 * frame.elements[row].number, 28.5, 24])
            assert j == GROUND


def test_stiffness_between_joined_racks():
    """Two bolts of 1/2 in, 6757 N/mm each, beside every post of both: 13.515 kN/mm in every direction, no turn; two thirds soft."""
    frame = framed(JOINED)
    pairs, who = ends(frame, "join")
    assert [one.number for one in who] == [0, 1, 2]
    assert pairs == pytest.approx(np.array([[[60 * line, 28.5, BEAMS]] * 2 for line in range(3)]))
    for row in frame.of("join"):
        assert frame.coefficients[row] == pytest.approx([13.515e6] * 3 + [0] * 5, rel=1e-3)
        assert frame.soft[row] == pytest.approx([9.010e6] * 3 + [0] * 5, rel=1e-3)
    assert frame.places["s"].origin / INCH == pytest.approx([0, 28.5, 0])


def test_many_joists_are_taken_two_by_two():
    """25 joists 6 in apart on bays of 72 in: twelve a bay, over eight; stations at 6, 18, ... and at the posts, all 25 on them."""
    text = RACK.replace("bay_length: 5 ft", "bay_length: 6 ft").replace("spacing: 12 in", "spacing: 6 in")
    frame = framed(text)
    x = frame.topology.points[[front for front, _ in frame.decks["r", 1]], 0] / INCH
    assert x == pytest.approx([0, *range(6, 67, 12), 72, *range(78, 139, 12), 144])
    counts = frame.joist_counts[frame.of("joist")]
    assert counts.sum() == 25
    k = frame.coefficients[frame.of("joist"), 0]
    assert k == pytest.approx(counts * 73.0e6, rel=1e-3)  # of a 2x6, by hand above


def test_eight_joists_a_bay_are_modelled_one_by_one():
    """96 in at 12 in; at 10.7 in they are nine, and two share a place."""
    text = RACK.replace("bay_length: 5 ft", "bay_length: 8 ft")
    eight = framed(text)
    assert list(eight.joist_counts[eight.of("joist")]) == [1] * 17
    nine = framed(text.replace("spacing: 12 in", "spacing: 10.7 in"))
    assert nine.joist_counts[nine.of("joist")].max() > 1


def swaying(one_way=(), kinds=("a", "b", "a", "b"), k=8e5, W=900.0, joints_unknown=False):
    """Two masses W one on the other, each on a link: k to the sides along X, 4 k along Y; the soft ones half of that."""
    points = np.array([[0.0, 0, 1], [0, 0, 2]])
    links = [np.array([k, 4 * k, 1e9, 1e9, 1e9, 1e9])] * len(kinds)
    coefficients = elements.link_coefficients(np.array(links) / (len(kinds) // 2))
    link_ends = np.array([(0, GROUND), (1, 0)] * (len(kinds) // 2))
    compatibility = np.array([elements.link_compatibility()] * len(kinds))
    pushed = np.zeros((2, 6, 2))
    pushed[:, 0, 0] = pushed[:, 1, 1] = W
    return SimpleNamespace(
        topology=Topology(points, link_ends, compatibility, np.zeros((2, 6), dtype=bool)),
        coefficients=coefficients,
        soft=coefficients / 2,
        joints_unknown=joints_unknown,
        of=lambda kind: np.array([at for at, one in enumerate(kinds) if one == kind], dtype=int),
        one_way=np.array([at in one_way for at in range(len(kinds))]),
        masses=Masses(np.array(["r", "r"]), np.array([0, 1]), np.array([W, W]), pushed),
        weight=np.zeros(12),
    )


def test_period_of_two_masses():
    """Equal masses on equal springs: ω² = (3 − √5)/2 k g/W = 0.381966·8e5·9.80665/900 = 3329.6: T = 2π/57.703 = 0.10889 s;

    along Y, four times as stiff, half of it. Half as stiff (only pulled, or joints not known) √2 times as long.
    """
    assert natural_periods(swaying()) == pytest.approx((0.10889, 0.054445), rel=1e-4)
    assert natural_periods(swaying(joints_unknown=True)) == pytest.approx((0.15399, 0.076997), rel=1e-4)
    assert natural_periods(swaying(one_way=(0, 1, 2, 3))) == pytest.approx((0.15399, 0.076997), rel=1e-4)


def test_ties_in_the_period():
    """Of a tie across a twentieth counts, one along not at all: (1 + 0.05)/2 of the stiffness, and 1/2."""
    assert natural_periods(swaying(kinds=("a", "b", "tie", "tie")))[0] == pytest.approx(
        0.10889 * (2 / 1.05) ** 0.5, rel=1e-4
    )
    assert natural_periods(swaying(kinds=("a", "b", "tie along", "tie along")))[0] == pytest.approx(0.15399, rel=1e-4)
    assert natural_periods(swaying(kinds=("tie along", "tie along"))) == (float("inf"), float("inf"))


def test_nothing_that_holds_has_no_period():
    free = swaying()
    free.coefficients[:, 0] = 0.0
    along, across = natural_periods(free)
    assert along == float("inf")
    assert across == pytest.approx(0.054445, rel=1e-4)


def test_periods_of_a_run_that_turns_change_places():
    frame = SimpleNamespace(places={"r": SimpleNamespace(axes=STRAIGHT), "s": SimpleNamespace(axes=TURNED)})
    held = Framed((), frame, (0.3, 0.2))
    assert (held.periods_of("r"), held.periods_of("s")) == ((0.3, 0.2), (0.2, 0.3))


def test_load_cases():
    """ASCE 7-16 2.4.5 and 2.3.6 with 12.4.2, S_DS 0.8: 1 + 0.7·0.16 = 1.112, 0.6 − 0.112 = 0.488, 1.2 + 0.16, 0.9 − 0.16.

    As given 4 levels for either of two feet and 2 where feet are held down, 4 pushes each; soft joints 2 levels for all feet.
    """
    v = Vertical(0.2, "S_DS", 0.8, "", "")
    cases = load_cases(v, ("", "joints soft"), ("loose", "kept from slipping", "held down"), False)
    assert len(cases) == 4 * (4 + 4 + 2) + 4 * (2 + 2 + 2)
    assert {one.level: (round(one.weight, 9), one.earthquake) for one in cases} == {
        "down": (1.112, 0.7),
        "up": (0.488, 0.7),
        "strength down": (1.36, 1.0),
        "strength up": (0.74, 1.0),
    }
    assert {(one.way, one.sign) for one in cases} == {(0, 1), (0, -1), (1, 1), (1, -1)}
    assert not any(one.level.startswith("strength") and (one.variant or one.feet == "held down") for one in cases)
    ties = load_cases(v, ("ties soft", "joints turning freely"), ("anchored",), True)
    assert len(ties) == 4 * 5 + 4 * 3
    assert {(round(one.weight, 9), one.earthquake) for one in ties if one.level == "anchors"} == {(0.488, 0.7)}


def test_no_weight_resists_below_nothing():
    """S_DS 6: 0.6 − 0.84 and 0.9 − 1.2 are below nothing."""
    cases = load_cases(Vertical(0.2, "S_DS", 6.0, "", ""), ("",), ("loose",), False)
    assert {one.level: one.weight for one in cases if "up" in one.level} == {"up": 0.0, "strength up": 0.0}


def test_masses_pushed_and_moved():
    """3 N and 5 N at a point, 2 N at another; pushed by half along X and a quarter along Y; how far each went."""
    pushed = np.zeros((3, 6, 2))
    pushed[:, 0, 0] = pushed[:, 1, 1] = (3, 5, 2)
    pushed[1, 4, 0] = 10.0  # its height above the point as a moment: 2 m
    masses = Masses(np.array(["r"] * 3), np.array([0, 0, 1]), np.array([3.0, 5, 2]), pushed)
    loads = masses.onto(12, np.tile([0.5, 0.25], (3, 1)))
    assert loads[:, 0] == pytest.approx([4, 0, 0, 0, 5, 0, 1, 0, 0, 0, 0, 0])
    assert loads[:, 1] == pytest.approx([0, 2, 0, 0, 0, 0, 0, 0.5, 0, 0, 0, 0])
    movements = np.zeros((12, 2))
    movements[[0, 4, 6], 0], movements[[1, 7], 1] = (0.1, 0.01, 0.3), (0.2, 0.4)
    assert masses.moved(movements) == pytest.approx(np.array([[0.1, 0.2], [0.12, 0.2], [0.3, 0.4]]))


def beside_a_post(one_piece):
    """Joints of the second post's front: a beam 0.5 m long ends there from the left, one of 0.8 m from the right."""
    points = np.array([[1.5, 0, 0.6], [1.0, 0, 0.6], [1.5, 0, 0.6], [2.3, 0, 0.6], [5.0, 0, 0.6]])
    ends = np.array([[0, 2], [1, 2], [2, 3], [3, 4]])
    up = np.array([0.0, 0, 1])
    compatibility = [elements.link_compatibility()]
    for i, j in ends[1:]:
        L, axes = elements.local_axes(points[i], points[j], up)
        compatibility.append(elements.member_compatibility(float(L), axes))
    forces = np.array([[-170.0, 14, -31, 3, 9, 2], [100, 0, 0, 20, 0, 5], [-60, 0, 8, 4, 0, 0], [9e9] * 6])
    kinds = {"joint": [0], "beam": [1, 2, 3]}
    return acting(
        result=SimpleNamespace(by_weight=forces / 2, forces=forces[:, :, None]),
        topology=Topology(points, ends, np.array(compatibility), np.zeros((5, 6), dtype=bool)),
        elements=[Element("joint", "r", "front", 1, 1), *[Element("beam", "r", "front", 1, at) for at in (0, 1, 1)]],
        of=lambda kind, rack: np.array(kinds[kind]),
        one_piece={"r": one_piece},
        decks={("r", 1): (), ("s", 1): ()},
    ).joints


def test_what_a_joint_gives_each_of_two_beams():
    """Left beam's end: 100 along, −5/0.5 = −10 across, 20/0.5 = 40 up, −20 N·m. Right beam's: 60, 0, −12/0.8 = −15, −8 N·m.

    The link gives 170, −14, 31; the rest, 10, −4, 6, is fastened there besides: half of it to either.
    """
    found = beside_a_post(one_piece=False)
    assert found.where == ("front post 2, beam from the left", "front post 2, beam from the right")
    wanted = {"H": [105, 65], "P": [-12, -2], "V": [43, -12], "M": [-20, -8]}
    for name, values in wanted.items():
        assert found.total[name][:, 0] == pytest.approx(values)
        assert found.by_weight[name] == pytest.approx(np.array(values) / 2)


def test_what_a_joint_gives_a_beam_in_one_piece():
    """All of the link's: 170, −14, 31; −9 N·m about Y, which is 9 counter-clockwise seen from the front."""
    found = beside_a_post(one_piece=True)
    assert found.where == ("front post 2",)
    assert [found.total[name][0, 0] for name in "HPVM"] == pytest.approx([170, -14, 31, 9])


def parts(kind, forces, axes=STRAIGHT, number=1, **frame):
    """Actions of one element of a kind, 0.5 m long."""
    forces = np.array([forces], dtype=float)
    return acting(
        axes,
        result=SimpleNamespace(by_weight=forces, forces=forces[:, :, None]),
        elements=[Element(kind, "r", "back", 3, number)],
        of=lambda *kinds, rack: np.arange(1),
        lengths=np.array([0.5]),
        **frame,
    )


def test_what_is_read_off_members():
    """Pull −900 N; end moments 30 and −10 along, −6 and 18 across: shear √(20² + 12²)/0.5 = 46.65 N; upright 20/0.5 = 40 N."""
    forces = [-900, 1, 30, -10, -6, 18]
    posts, beams = parts("post", forces).posts, parts("beam", forces).beams
    assert {name: float(value[0, 0]) for name, value in posts.total.items()} == pytest.approx(
        {"P": 900, "M_along": 30, "M_across": 18, "V": 46.648}, rel=1e-4
    )
    assert {name: float(value[0, 0]) for name, value in beams.total.items()} == pytest.approx(
        {"N": -900, "M_up": 30, "M_side": 18, "V": 40}
    )
    assert (posts.where, beams.where) == (("back post 2",), ("back beam, bay 2",))
    joists = parts("joist", forces, joist_counts=np.array([3])).joists
    assert (float(joists.total["N"][0, 0]), joists.where) == (-300, ("joist at place 2",))


def test_what_is_read_off_feet_ties_and_corners():
    """30 and 40 N sideways are 50; of a row of ties that stand for three each takes a third."""
    feet = parts("foot", [30, 40, 700, 0, 0, 0]).feet
    assert {name: float(value[0, 0]) for name, value in feet.total.items()} == {"N": 700, "H": 50}
    ties = parts("tie", [2, -3, 6, 0, 0, 0]).ties  # √(4 + 9 + 36) = 7
    assert ties.total["across"][0, 0] == pytest.approx(7 / 3)
    assert ties.total["along"][0, 0] == pytest.approx(7 / 3)
    assert parts("corner", [2, -3, 6, 0, 0, 0]).corner.total["R"][0, 0] == pytest.approx(7)
    join = parts("join", [2, -3, 6, 0, 0, 0], TURNED, decks={("r", 1): (), ("r", 2): ()}).join
    assert [float(join.total[name][0, 0]) for name in "HPV"] == [-3, 2, 6]
    assert join.where == ("post 2, tier 3",)


def test_slope_of_a_bar():
    """3 m along, 2 m across and 6 m up: √13/7."""
    topology = SimpleNamespace(ends=np.array([[0, 1], [1, 2]]), points=np.array([[1.0, 1, 1], [4, 3, 7], [4, 3, 9]]))
    bars = [Element("brace", "r", "front", 1, 0), Element("brace", "r", "front", 1, 4)]
    acts = acting(topology=topology, elements=bars, of=lambda kind, rack: np.arange(2))
    assert acts.slope("brace", 0) == pytest.approx(13**0.5 / 7)
    assert acts.slope("brace", 4) == 0


def test_how_a_tiers_beams_move():
    """In a run that turns along is Y, across X."""
    u = np.arange(24.0).reshape(24, 1)
    acts = acting(TURNED, result=SimpleNamespace(movements=u), decks={("r", 1): ((0, 2), (3, 1))})
    assert acts.moved(1)[:, :, 0].tolist() == [[1, 0, 2], [13, 12, 14], [19, 18, 20], [7, 6, 8]]


def test_which_cases_are_picked():
    cases = [
        case("down", 0, 1),
        case("down", 1, 1),
        case("up", 0, -1, feet="held down"),
        case("strength down", 0, 1, feet="kept from slipping"),
        case("down", 0, -1),
    ]
    whole = np.ones(5)
    result = SimpleNamespace(
        stable=np.array([1, 1, 1, 1, 0], dtype=bool), part=whole, slides=whole < 0, movements=np.zeros((6, 5))
    )
    acts = acting(cases=cases, result=result)
    assert acts.pick(None).tolist() == [0, 1, 2, 3]
    assert acts.pick("along").tolist() == [0, 2, 3]
    assert acts.pick("along", "down", "up").tolist() == [0, 2]
    assert acts.pick(None, feet=("held down", "kept from slipping")).tolist() == [2, 3]
    assert acts.pick(None, "down", feet=("loose",)).tolist() == [0, 1]
    assert acts.pick_balanced("down").tolist() == [1]  # along, the push to the left gives way
    assert acts.stays_upright("along")
    assert acting(result=result).pick_balanced("down").tolist() == []


def test_a_foots_share_for_its_anchors():
    """Uplift of 300 N at the second foot, on two anchors 150 each; sideways 80/2; where no foot lifts none."""
    feet = SimpleNamespace(
        total={"N": np.array([[-9e9, 500, 20], [0, -300, 90]]), "H": np.array([[9e9, 40, 80], [0, 10, 15]])},
        where=("first", "second"),
    )
    acts = SimpleNamespace(
        pick=lambda way, *levels: np.array([1, 2]),
        feet=feet,
        push_words=lambda number: f"case {number}",
        cases=(case(),) * 3,
    )
    pull, line = foot_by_frame(acts, "N", "along", 2)
    assert (pull, line.result.value, line.inputs["N_foot"].value) == (150, 150, -300)
    assert line.note.startswith("second, case 1")
    assert (line.symbol, line.expression) == ("T_frame", "-N_foot/n_a")
    hold, line = foot_by_frame(acts, "H", "along", 2)
    assert (hold, line.symbol, line.expression, line.inputs["H_foot"].value) == (40, "V_frame", "H_foot/n_a", 80)
    feet.total["N"] = -feet.total["N"]
    feet.total["N"][1] = feet.total["N"][0] = 7.0
    none, line = foot_by_frame(acts, "N", "along", 2)
    assert (none, line.inputs["N_foot"].value) == (0, 0)


def test_a_force_by_its_parts():
    """0.9 of 200 N by the weight; 230 in all: 50 by the push."""
    acting_there = Acting({"N": np.array([1.0, 200])}, {"N": np.array([[0.0, 0], [0, 230]])}, ("here", "there"))
    acts = SimpleNamespace(cases=(case(), case()), push_words=lambda number: f"case {number}")
    line = total("N", acting_there, acts, 1, 1)
    assert {name: one.value for name, one in line.inputs.items()} == pytest.approx({"v": 0.9, "N_D": 200, "N_E": 50})
    assert line.result.value == 230


def test_the_frame_beside_plain_statics():
    """150 N to 100; all of the push 148 N there: 150 is more than 1.01 times that (149.48), 149 is not."""
    assert compared(149.0, 100.0, 148.0) == {"by the frame": "1.49 times plain statics"}
    more = compared(150.0, 100.0, 148.0)["by the frame"]
    assert more == "1.50 times plain statics; more than stiffness explains: an engineer should look"
    assert compared(101.0, 100.0, 100.0) == {"by the frame": "1.01 times plain statics"}
    assert compared(0.6, 0.5, 1.0) == {"by the frame": "1.20 times plain statics"}
    assert compared(150.0, 0.0, 148.0) == {}


def test_what_posts_weigh_at_their_points():
    """TIERS: six 4x4 of 84 in, 62.4·0.5/(1 + 0.5·0.27)·1.3 = 35.74 lb/ft³: 21.28 lb a post, each stretch half at either end.

    In front 9.656 of 84 in below the knee: 1.223 lb at the foot, 21.28·(9.656 + 12)/168 = 2.743 lb above it; nothing turns.
    """
    frame = framed(TIERS)
    masses = frame.masses
    for point, pounds in zip(frame.posts["r", 1, "front"], (1.223, 2.743), strict=False):
        (at,) = np.flatnonzero(masses.points == point)
        assert masses.weights[at] / POUND_FORCE == pytest.approx(pounds, rel=1e-3)
        assert masses.pushed[at, :3, :2] == pytest.approx(masses.weights[at] * np.eye(3)[:, :2])
        assert masses.pushed[at, 3:] == pytest.approx(0.0, abs=1e-9)


def test_what_posts_weigh_above_their_points():
    """RACK: 25.281 in long, points at 0 and 21.656 in: half of 6.405 lb at either; its middle 1.8125 in above theirs turns."""
    frame = framed(RACK)
    (at,) = np.flatnonzero(frame.masses.points == frame.posts["r", 1, "back"][0])
    weight = frame.masses.weights[at]
    assert weight / POUND_FORCE == pytest.approx(3.2024, rel=1e-3)
    turn = weight * 1.8125 * INCH
    assert frame.masses.pushed[at, 3:, 0] == pytest.approx([0, turn, 0], abs=1e-9)
    assert frame.masses.pushed[at, 3:, 1] == pytest.approx([-turn, 0, 0], abs=1e-9)


def loads_on(stations, share):
    builder, points = Builder(), [(2 * at, 2 * at + 1) for at in range(len(stations))]
    spread_mass(builder, SimpleNamespace(name="r", across=0.8), STRAIGHT, stations, points, 100.0, 0.2, np.array(share))
    return {point: (weight, moved) for _, point, weight, moved in builder.loads}


def test_a_mass_spread_over_a_deck():
    """100 N 0.2 m above beams 0.8 m apart, 40 and 60 N at 1.0 and 2.0 m: their middle at 1.6 m, Σ share x² = 0.4·0.36 + 0.6·0.16 =

    0.24. Along, 20 N·0.2·0.6/0.24 = 10 N up on either beam at the left, 30·0.2·0.4/0.24 = 10 down at the right: 20 N·m. Across
    40·0.2/0.8 = 10 N up in front and down behind, 15 at the right: 20 N·m.
    """
    found = loads_on([1.0, 1.5, 2.0], [0.4, 0.0, 0.6])
    assert set(found) == {0, 1, 4, 5}
    for point, weight, along, across in ((0, 20, 10, 10), (1, 20, 10, -10), (4, 30, -10, 15), (5, 30, -10, -15)):
        assert found[point][0] == pytest.approx(weight)
        assert found[point][1][:, 0] == pytest.approx([weight, 0, along, 0, 0, 0])
        assert found[point][1][:, 1] == pytest.approx([0, weight, across, 0, 0, 0])


def test_a_mass_at_one_place_of_a_deck():
    """Nothing to spread over: 50 N·0.2 m turn either beam."""
    found = loads_on([1.0, 2.0], [1.0, 0.0])
    assert set(found) == {0, 1}
    assert found[0][1][:, 0] == pytest.approx([50, 0, 0, 0, 10, 0])
    assert found[1][1][:, 1] == pytest.approx([0, 50, -12.5 * 2, 0, 0, 0])


def test_an_even_load_on_stations():
    """From 0.2 to 1.1 m over 0, 0.4, 1.0, 1.6: 0.2 m about 0.3 (3/4 to the right), 0.6 about 0.7, 0.1 about 1.05 (1/12), of 0.9 m."""
    wanted = np.array([0.05, 0.15 + 0.3, 0.3 + 0.1 * 11 / 12, 0.1 / 12]) / 0.9
    assert hats([0.0, 0.4, 1.0, 1.6], 0.2, 1.1) == pytest.approx(wanted)


def moves(along=((0, 0, 0), (0, 0, 0)), across=(0, 0, 0), feet=0.0, lift=0.0, inside=0.0, rise=0.0):
    """Six posts' tops (front and back, lines 0 to 2), the feet, and a point inside; the middle of a post stays where it is."""
    sides = [("r", line, side) for line in range(3) for side in ("front", "back")]
    posts = {side: (3 * at, 3 * at + 1, 3 * at + 2) for at, side in enumerate(sides)}
    n = 3 * len(posts) + 1
    u = np.zeros((n, 6))
    for (_, line, side), (foot, _, top) in posts.items():
        u[top, :3] = along[side == "back"][line], across[line], rise
        u[foot, 1], u[foot, 2] = feet, lift
    u[n - 1, 2] = inside
    posts["s", 0, "front"] = (n - 1, n - 1)
    return SimpleNamespace(places={"r": SimpleNamespace(axes=STRAIGHT)}, posts=posts), u.ravel()


@pytest.mark.parametrize(
    ("movement", "said"),
    [
        ({}, "no part of it moves"),
        ({"across": (2, 2, 2), "feet": 1.1}, "nothing stops its feet from sliding"),
        ({"across": (2, 2, 2), "feet": 0.9}, "its short ends have nothing"),
        ({"across": (1, 1, 1), "feet": 0.6, "rise": 2}, "nothing stops its feet from sliding"),
        ({"across": (1, 1, 1), "feet": 0.6, "inside": 2}, "nothing stops its feet from sliding"),
        ({"across": (2, 2, 2), "lift": 0.42}, "it tips over the feet"),
        ({"across": (2, 2, 2), "lift": 1.1}, "it tips over the feet"),
        ({"across": (2, 2, 2), "lift": 0.38}, "its short ends have nothing"),
        ({"inside": 2, "across": (0.19,) * 3, "along": ((0.19,) * 3,) * 2}, "a point inside it is held by nothing"),
        ({"inside": 2, "across": (0.21,) * 3}, "its short ends have nothing"),
        ({"inside": 2, "along": ((0.21,) * 3,) * 2}, "its long sides have nothing"),
        ({"along": ((2, 2, 2), (0.62, 0.62, 0.62))}, "its long sides have nothing"),
        ({"along": ((2, 2, 2), (0.58, 0.58, 0.58)), "across": (1.9,) * 3}, "its front has nothing"),
        ({"along": ((-0.1,) * 3, (-1, -3, -2)), "across": (1.9,) * 3}, "its back has nothing"),
        ({"across": (0.62, 0, 2)}, "its short ends have nothing"),
        ({"across": (0.58, 0, 2)}, "its right end has nothing"),
        ({"across": (-2, 0, 0.58)}, "its left end has nothing"),
        ({"across": (2, 0, 0.62)}, "its short ends have nothing"),
        ({"across": (2, 0, -0.62)}, "it turns in plan"),
        ({"across": (0.58, 2, 0.4)}, "its middle posts lean"),
        ({"across": (0.4, 2, 0.62)}, "its right end has nothing"),
        ({"across": (0.2, 1, 0.8), "inside": 2}, "its right end has nothing"),
    ],
)
def test_how_a_rack_gives_way(movement, said):
    """Shares of the largest movement, 2: feet half of the tops, lifted a fifth, inside a tenth, one end or side three tenths."""
    frame, u = moves(**movement)
    assert mechanism(frame, "r", u).startswith(said)


def test_variants_of_the_stiffness():
    """Only those that the frame has a use for."""

    def variants(kinds, unknown=False):
        of = lambda *wanted: [kind for kind in kinds if kind in wanted]  # noqa: E731
        return _variants(SimpleNamespace(of=of, joints_unknown=unknown))

    assert variants(()) == ("",)
    assert variants(("tie",)) == ("", "ties soft")
    assert variants(("panel",)) == variants(("brace",)) == ("", "joints turning freely")
    assert variants((), unknown=True) == ("", "joints soft")


def test_stiffness_of_every_case():
    """Element 0 a joint (as given 6, hinged 1, soft 4), 1 a tie across, 2 one along (6 each): soft ties 6/20 and nothing."""
    given, hinged, soft = (np.full((3, 8), float(k)) for k in (6, 1, 4))
    hinged[1:] = soft[1:] = 6.0
    kinds = {"tie": 1, "tie along": 2}
    frame = SimpleNamespace(coefficients=given, hinged=hinged, soft=soft, of=lambda kind: np.array([kinds[kind]]))
    cases = [
        case(),
        case("strength down"),
        case(variant="joints soft"),
        case(variant="joints turning freely"),
        case(variant="ties soft"),
        case("strength up", variant="ties soft"),
    ]
    found = _stiffness(frame, tuple(cases))
    assert found[:, 0] == pytest.approx(np.array([[6, 4, 4, 1, 6, 4], [6, 6, 6, 0.3, 0.3, 0.3], [6, 6, 6, 0, 0, 0]]))


def test_what_friction_passes_on():
    """Pushed by 300 and 400 N on two points: 500 in all, of 400 N for the whole weight: with 0.5 of it 200, at least 0.6 of it 240.

    Under 0.9 of it 360, under 1.5 of it all; where something else holds the rack all of it.
    """
    push = np.zeros((12, 4))
    push[0], push[7], push[2] = 300, 400, 9e9
    weight, passed = np.array([0.5, 0.9, 1.5, 0.5]), np.array([400, 400, 400, np.inf])
    coefficients, feet = np.zeros((1, 8, 4)), np.zeros((1, 4))
    cases, part = _as_friction_lets(Cases(weight, push, coefficients, feet, passed, feet > 0), 0.6)
    assert part == pytest.approx([0.48, 0.72, 1, 1])
    assert cases.weight == pytest.approx([0.6, 0.9, 1.5, 0.5])
    assert cases.push[0] == pytest.approx([144, 216, 300, 300])


def test_which_feet_ask_to_change():
    """All over the least at once, or only the largest; of those alike the first."""
    values = np.array([[3.0, 1, 0.5], [5, 2, 2], [4, 2, -9]])
    assert _asking(values, 2.0, True).tolist() == [[True, False, False], [True, False, False], [True, False, False]]
    assert _asking(values, 0.6, False).tolist() == [[False, False, False], [True, True, True], [False, False, False]]
    assert not _asking(values, 2.0, False)[:, 1:].any()


def test_stiffness_of_sills():
    """A 2x6 along the floor from post to post, 60 in: 1.44e6·8.25 lb = 52.84e6 N over 1.524 m: 34.68e6."""
    feet = "    feet: {anchored: yes, sill: 2x6 douglas fir-larch, bolt: 0.5 in x 7.5 in}\n    beam_runs"
    frame = framed(RACK.replace("    beam_runs", feet))
    found, who = ends(frame, "sill")
    assert [(one.face, one.number) for one in who] == [("front", 0), ("front", 1), ("back", 0), ("back", 1)]
    wanted = [[[x, y, 0], [x + 60, y, 0]] for y in (0, 28.5) for x in (0, 60)]
    assert found == pytest.approx(np.array(wanted))
    for row in frame.of("sill"):
        assert frame.coefficients[row] == pytest.approx([34.68e6] + [0] * 7, rel=1e-3)
    assert frame.anchored == {"r": True}
    # two of 120 in weigh 2·120·8.25/1728·35.74 = 40.95 lb, a sixth at every foot, beside 3.202 lb of its post
    feet = frame.topology.ends[frame.of("foot"), 0]
    at_feet = [frame.masses.weights[frame.masses.points == foot].sum() / POUND_FORCE for foot in feet]
    assert at_feet == pytest.approx([40.95 / 6 + 3.202] * 6, rel=1e-3)


def test_a_beam_of_two_plies_on_both_sides_of_its_post():
    """Twice as stiff as one; the bolts have two shear planes, so they slip and turn half as much: k 69.76 kN·m/rad.

    k L 21262, 3 EI 2·590559: r = 21262/1202380 = 0.017683 as before: everything twice.
    """
    one, two = framed(TIERS), framed(TIERS.replace("    beam_runs", "    beam_pairs: shared\n    beam_runs"))
    assert stiffness(two, "beam") == pytest.approx(2 * stiffness(one, "beam"), rel=1e-6)
    assert stiffness(two, "joint")[:3] == pytest.approx([27.03e6] * 3, rel=1e-3)


def test_the_first_of_places_alike():
    """5 less a ten-billionth is 5; endless is no number to take a part of."""
    first = worst(np.array([[1.0, 5 - 5e-10], [5, 2]]), np.array([3, 8]))
    assert (first.place, first.column, first.number, first.value) == (0, 1, 8, 5 - 5e-10)
    endless = worst(np.array([[1e300, 2], [3, np.inf]]), np.array([3, 8]))
    assert (endless.place, endless.number, endless.value) == (1, 8, np.inf)


def test_how_a_case_is_said():
    acts = acting(
        cases=[case(), case(feet="held down", variant="ties soft", sign=-1)], result=SimpleNamespace(part=[1.0, 0.75])
    )
    assert said(acts, 0) == "pushed to the right; a combination"
    assert said(acts, 0, "here") == "here, pushed to the right; a combination"
    share = "by 75% of the push, all it stands without sliding or tipping, at least 0.6 D"
    assert acts.push_words(1) == f"pushed to the left {share}, feet held down, ties soft"
    lines = to_compare((step("T", "a", {"a": 1.0}, 1.0), step("V", "a", {"a": 1.0}, 1.0, "", "why")))
    assert [(line.symbol, line.note) for line in lines] == [("T_s", "to compare only"), ("V_s", "to compare only; why")]


def test_the_case_that_says_how_it_gives_way():
    """The first along that gives way with its feet held, the stiffness as given, at allowable level: there its long sides lean."""
    frame, leans = moves(along=((2, 2, 2), (2, 2, 2)))
    _, tips = moves(across=(2, 2, 2), lift=1)
    cases = [
        case(sign=-1),
        case(sign=-1, feet="held down", variant="joints soft"),
        case("strength down", sign=-1, feet="held down"),
        case(way=1, feet="held down"),
        case(feet="held down"),
        case(sign=-1, feet="held down"),
    ]
    result = SimpleNamespace(
        stable=np.array([0, 0, 0, 0, 1, 0], dtype=bool),
        part=np.ones(6),
        slides=np.zeros(6, dtype=bool),
        movements=np.stack([tips] * 5 + [leans], axis=1),
    )
    acts = RackActions("r", frame, tuple(cases), result, (0.1, 0.2))
    assert acts.gives_way("along").startswith("its long sides")
    result.stable[5] = True
    assert acts.gives_way("along") == ""


def test_the_push_on_one_of_two_racks():
    """All that the rack behind weighs pushes it, and nothing on the posts of the one in front."""
    frame = framed(JOINED)
    push = frame.pushed("s")
    assert push[0::6, 0].sum() == pytest.approx(frame.masses.weights[frame.masses.racks == "s"].sum())
    assert not push[6 * np.array(frame.posts["r", 1, "front"])].any()


def test_a_single_tie_is_in_the_middle():
    tie = "    wall_ties: [{height: 24 in, count: 1, into: stud, diameter: 0.375 in, length: 5 in}]\n    beam_runs"
    frame = framed(RACK.replace("    beam_runs", tie))
    assert [(frame.elements[row].number, frame.elements[row].tier) for row in frame.of("tie")] == [(1, 1)]
    pair = framed(RACK.replace("    beam_runs", tie.replace("count: 1", "count: 2")))
    assert [(pair.elements[row].number, pair.elements[row].tier) for row in pair.of("tie")] == [(0, 1), (2, 1)]


def test_weight_hangs_down_at_its_points():
    frame = framed(RACK)
    wanted = np.zeros((len(frame.topology.points), 6))
    for point, weight in zip(frame.masses.points, frame.masses.weights, strict=True):
        wanted[point, 2] -= weight
    assert frame.weight == pytest.approx(wanted.ravel())
    assert frame.one_piece == {"r": False}


def test_a_posts_width_lies_along_the_rack():
    """A 4x6 is 5.5 in wide: 3.5·5.5³/12 = 48.526 in⁴ along, 5.5·3.5³/12 = 19.651 across: 2.4694 times as stiff."""
    frame = framed(RACK.replace("post: 4x4", "post: 4x6"))
    (post, *_), A = frame.of("post"), frame.topology.compatibility
    assert frame.coefficients[post][2] / frame.coefficients[post][5] == pytest.approx(2.4694, rel=1e-4)
    assert A[post][2, 3:6] == pytest.approx([0, -1, 0])  # its first turn is about Y: it bends along


def test_every_tier_has_its_own_fields_bays_and_joints():
    """Ten fields of 12 in, each as stiff; five stretches of a beam in either bay; joints at their own tier's height. Glass is no deck."""
    frame = framed(TIERS)
    assert frame.coefficients[frame.of("deck"), 0] == pytest.approx([8.799e6] * 40, rel=1e-3)
    upper = [frame.elements[row].number for row in frame.of("beam") if frame.elements[row].tier == 2]
    assert upper == [0] * 10 + [1] * 10
    found, who = ends(frame, "joint")
    assert found[:, 0, 2] == pytest.approx([BEAMS if one.tier == 1 else BEAMS + 34 for one in who])
    assert found[:, 1] == pytest.approx(found[:, 0])
    assert not len(framed(RACK.replace("23/32 in plywood", "1/2 in glass")).of("deck"))
