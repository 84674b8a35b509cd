"""Joists, braces, panels, gussets, ties, feet under round numbers and forces that a frame could give; by hand (see tests/joint_cases.py)."""

import math
from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest

from brimfast.assess.joints.braces import braces
from brimfast.assess.joints.feet import sill_bolts
from brimfast.assess.joints.gussets import gussets
from brimfast.assess.joints.joined import joined
from brimfast.assess.joints.joist_to_beam import joist_to_beam
from brimfast.assess.joints.panels import panels
from brimfast.assess.joints.wall_ties import wall_ties
from brimfast.shared.constants import POUND_FORCE, PSI
from brimfast.shared.installation.rack import Joined
from tests.builders import GUSSET
from tests.joint_cases import BOTH, HAND, Frame, acting, braced, case, in_cases, line, one, with_lines

LB = POUND_FORCE
LOOK = "an engineer should look"
WEAK = HAND.replace("size: 2x6,", "size: 2x6 hem-fir No.2,")  # joists of G 0.43 on beams of G 0.50
TIE = "{kind: framing tie, nails: 4 + 4, nail: 0.148 in x 1.5 in}"


# Joists


def joist_frame(*pulls):
    return Frame(joists=acting({"N": [0]}, N=[pulls]))


def hung(fasteners=TIE, frame=None, seat="between beams", height=0.9):
    text = WEAK.replace(TIE, fasteners).replace("seat: between beams", f"seat: {seat}")
    return joist_to_beam(case(text, frame=frame or joist_frame(10, -150, 20, 100), height=height))


def test_a_joist_in_ties():
    """Weight 500 N. Earthquake: 0.7 · 0.75 · 2500 · 0.4/2 + 150 = 412.5 N sideways; upright 1.168 · 500 + 0.7 · 0.75 · 1000 · 0.4/0.7 = 884 N.

    √(412.5² + 884²) = 975.5 N. Four nails of 0.148 in through 0.048 in of steel into G 0.43: NDS 2018 (12.3-5) 100.57 lb, · 0.9 · 0.7 and
    · 1.6 · 0.7: 1127.3 and 2004.2 N; the tie's steel 650.16 lb is more.
    """
    weight, earthquake = one(hung(), "/gravity"), one(hung(), "/earthquake")
    assert (weight.demand, weight.capacity) == (500.0, pytest.approx(1127.343, rel=1e-3))
    assert (earthquake.demand, earthquake.capacity) == (
        pytest.approx(975.506, rel=1e-6),
        pytest.approx(2004.165, rel=1e-3),
    )
    assert line(earthquake, "H").result.value == pytest.approx(412.5)
    assert line(earthquake, "V").result.value == pytest.approx(884.0)
    low = one(hung(height=0.45), "/earthquake")  # nothing above the beams turns the joist
    assert line(low, "V").result.value == pytest.approx(584.0)


def test_ties_steel_counts_once_a_tie():
    """Thirty nails into each: two ties of 650.16 lb."""
    many = TIE.replace("4 + 4", "30 + 30").replace("tie,", "tie, count: 2,")
    for part in ("/gravity", "/earthquake"):
        assert one(hung(many), part).capacity == pytest.approx(2 * 650.16 * LB, rel=1e-6)
    typed = one(hung("{kind: framing tie, allowable: 1000 N, source: t, count: 3}"), "/gravity")
    assert typed.capacity == pytest.approx(3 * 630.0)
    assert "T_all" not in [step.symbol for step in typed.steps]


def test_lag_screws_into_a_joists_end():
    """3/8 x 5 in through the beam across its grain into end grain of G 0.43: (12.3-6) 122.82 lb · 0.67 and 0.63 or 1.12."""
    lag = "{kind: lag screw, diameter: 0.375 in, length: 5 in}"
    assert one(hung(lag), "/gravity").capacity == pytest.approx(230.611, rel=1e-4)
    assert one(hung(lag), "/earthquake").capacity == pytest.approx(409.975, rel=1e-4)
    for part in ("/gravity", "/earthquake"):
        assert line(one(hung(lag), part), "R_allow").expression == "n*Z_each"


def test_toe_nails_of_a_joist():
    """0.162 x 3.5 in slanted: 1.167 in in the joist (G 0.43), 1.5 in of the beam at most; (12.3-5) 129.82 lb · 0.63 · 0.83, three."""
    toe = "{kind: nail, nail: 0.162 in x 3.5 in, count: 3, toe_nailed: yes}"
    assert one(hung(toe), "/gravity").capacity == pytest.approx(905.877, rel=2e-3)


def test_typed_in_fasteners_have_no_end_grain():
    typed = one(hung("{kind: nail, allowable: 1000 N, source: t}"), "/earthquake")
    assert typed.capacity == pytest.approx(700.0)


def test_a_joist_on_its_beams():
    """It bears, so 412.5 N sideways alone, along the joist (G 0.43), across the beam: lag 3/8 x 8 in, (12.3-6) 138.46 lb · 1.12."""
    (found,) = hung("{kind: lag screw, diameter: 0.375 in, length: 8 in}", seat="on beams")
    assert (found.demand, found.capacity) == (pytest.approx(412.5), pytest.approx(689.820, rel=1e-4))
    (short,) = hung("{kind: lag screw, diameter: 0.375 in, length: 5 in}", seat="on beams")
    assert (short.verdict, short.demand) == ("not assessed", pytest.approx(412.5))


def test_joists_without_a_frame_or_without_a_word():
    assert [found.verdict for found in joist_to_beam(case(WEAK))] == ["holds", "not assessed"]
    silent = joist_to_beam(case(WEAK[: WEAK.index("joints:")], frame=joist_frame(10, -150, 20, 100)))
    assert [found.demand for found in silent] == [None, pytest.approx(975.506, rel=1e-6)]
    assert [found.advice_key for found in silent] == ["describe joint", "describe joint"]


# Two racks joined


def joined_case(fasteners, **forces):
    given = case(frame=Frame(join=acting({name: [0, 0] for name in "HVP"}, **forces)))
    join = Joined.model_validate({"rack": "other", "fasteners": fasteners})
    return replace(given, rack=given.rack.model_copy(update={"joined_to": join}))


def test_bolts_between_two_racks():
    """1/2 in through two 1.5 in of G 0.50, both at the same angle: NDS 2018 (12.3-3) at 53° 281.15, at 84° 221.75 lb; · 1.12, two.

    300 and 400 N are 500 N of 2801.4; 100 and 900 N are 905.5 of 2209.5 N. Bolts are not pulled out: P counts nothing.
    """
    bolts = {"kind": "through-bolt", "diameter": "0.5 in", "length": "4 in", "count": 2}
    zero = [0, 0, 0, 0]
    forces = {"H": [[0, -300, 0, 0], zero], "V": [[0, 400, 0, 0], zero], "P": [[9e3] * 4, zero]}
    found = one(joined(joined_case(bolts, **forces)), "/joined")
    assert (found.demand, found.capacity) == (pytest.approx(500.0), pytest.approx(2801.392, rel=1e-4))
    assert [step.symbol for step in found.steps][1:5] == ["H", "V", "P", "R"]
    # twice as much at the first, 1000 N, is 0.357 of what it holds there; 905.5 N at the second are 0.410
    forces["H"][0], forces["V"][0] = [0, -600, 0, 0], [0, 800, 0, 0]
    forces["H"][1], forces["V"][1] = [0, 0, 0, 100], [0, 0, 0, -900]
    found = one(joined(joined_case(bolts, **forces)), "/joined")
    assert (found.demand, found.capacity) == (pytest.approx(905.539, rel=1e-6), pytest.approx(2209.550, rel=1e-4))
    assert found.details["worst"] == "place 1"


def test_lag_screws_between_two_racks_are_pulled():
    """3/8 x 3.5 in, three: 500 N in the plane at 53° with 600 N of pull, 781.0 N at 50.2°: (12.3-6) 151.30 lb · 1.12 = 753.77 N, out

    1.5 in · 304.97 lb/in · 1.12 = 512.34 lb = 2279.0 N, (12.4-1): 3 · 1245.8 = 3737.5 N.
    """
    lags = {"kind": "lag screw", "diameter": "0.375 in", "length": "3.5 in", "count": 3}
    found = one(
        joined(joined_case(lags, H=[[300, 0, 0, 0]] * 2, V=[[-400, 0, 0, 0], [0] * 4], P=[[-600, 0, 0, 0], [0] * 4])),
        "/joined",
    )
    assert (found.demand, found.capacity) == (pytest.approx(781.025, rel=1e-6), pytest.approx(3737.519, rel=1e-4))


def test_joined_without_a_frame():
    apart = joined_case({"kind": "through-bolt", "diameter": "0.5 in", "length": "4 in"}, H=[[0] * 4])
    for frame in (None, SimpleNamespace(pick=lambda *_: [], balances=lambda _: False, gives_way=lambda _: "it folds")):
        (found,) = joined(replace(apart, frame=frame))
        assert found.verdict == "not assessed"
    assert joined(case()) == []


# Panels

PANEL = "{face: %s, bay: %d, thickness: 15/32 in, nail: 0.131 in, edge_spacing: 6 in}"


def panelled(*places, text=HAND, more=""):
    return with_lines("    panels:\n" + "\n".join(f"      - {PANEL % place}" for place in places) + more, text)


def with_face(given, foot, top):
    given.weight.face = lambda number: (foot, top)
    return given


def test_panels_by_plain_statics():
    """Half of 0.7 · 6000 N on 1.5 m: 1400 N/m, 2100 N; 520/2 lb/ft (SDPWS 4.3A) · 1.5 m = 5691.6 N; at the ends 1400 · 0.6 · 1.5 = 1260 N.

    On hem-fir posts 1 − (0.5 − 0.43) = 0.93: 5293.2 N. One face alone takes all: 2800 N/m.
    """
    both = panelled(("front", 1), ("back", 2), ("back", 1))
    shear, hold = panels(case(both))[:2]
    assert (shear.demand, shear.capacity) == (pytest.approx(2100.0), pytest.approx(5691.622, rel=1e-6))
    assert (hold.demand, hold.verdict) == (pytest.approx(1260.0), "not assessed")
    one([shear], "along"), one([hold], "hold-down")
    weak = panels(case(both.replace("post: 4x4 douglas fir-larch", "post: 4x4 hem-fir")))[0]
    assert weak.capacity == pytest.approx(5293.209, rel=1e-6)
    weak = panels(case(both.replace("beam: 2x8 douglas fir-larch", "beam: 2x8 hem-fir")))[0]
    assert weak.capacity == pytest.approx(5293.209, rel=1e-6)
    alone = panels(case(panelled(("back", 2))))[0]
    assert alone.demand == pytest.approx(4200.0) and "it takes all" in line(alone, "v").note
    assert line(shear, "v").note == "each face half"
    two = panels(case(panelled(("front", 1), ("front", 2), ("back", 1), ("back", 2), ("left", 1), ("right", 1))))
    assert [found.id for found in two] == [
        f"joint/r/panel/{way}" for way in ("along", "along/hold-down", "across", "across/hold-down")
    ]
    assert two[0].demand == pytest.approx(1050.0)


@pytest.mark.parametrize(("height", "factor"), [(3.0, 1.0), (3.6, 2 / 2.4), (5.25, 2 / 3.5), (5.3, None)])
def test_tall_panels(height, factor):
    """SDPWS 2015 section 4.3.4: up to 2 to 1 in full, then 2 b/h, beyond 3.5 to 1 nothing; 1.5 m long, its foot 0.2 m up."""
    found = panels(with_face(case(panelled(("front", 1), ("back", 1))), 0.2, 0.2 + height))[0]
    if factor is None:
        assert (found.verdict, found.demand) == ("not assessed", pytest.approx(2100.0))
    else:
        assert found.capacity == pytest.approx(5691.622 * factor, rel=1e-6)
        one([found], "along")


def test_a_panel_that_no_table_has():
    thin = panelled(("front", 1), ("back", 1)).replace("15/32 in, nail", "1/4 in, nail")
    found = panels(case(thin))[0]
    assert (found.verdict, found.demand) == ("not assessed", pytest.approx(2100.0))


def test_the_worse_of_two_panels():
    """3/8 in at 6 in has 440 lb/ft: 440/520 of 5691.6 N, whichever stands first."""
    for first, second in (("15/32", "3/8"), ("3/8", "15/32")):
        text = panelled(("front", 1), ("back", 1)).replace("15/32 in, nail", f"{first} in, nail", 1)
        head, tail = text.split("face: back")
        found = panels(case(head + "face: back" + tail.replace("15/32 in, nail", f"{second} in, nail")))[0]
        assert found.capacity == pytest.approx(5691.622 * 440 / 520, rel=1e-6)


def panel_frame(diagonals):
    found = {0: in_cases(diagonals), 1: in_cases([[0] * 4, [0] * 4])}
    return Frame(bars=lambda kind: {"panel": found}[kind], slope=lambda kind, index: 0.8)


@pytest.mark.parametrize(("push", "explained"), [(900, True), (4700, True), (4800, False)])
def test_panels_by_a_frame(push, explained):
    """Diagonals −600 and `push`, 0.8 of their difference sideways: 1200 N of plain statics' 2100; 4240 N is 1 % more than 4200, 4320 N too much.

    Ends: 1200/1.5 · 0.6 · 1.5 = 720 N.
    """
    text = panelled(("front", 1), ("back", 1))
    shear, hold = panels(case(text, frame=panel_frame([[0, 0, -600, 10], [0, 0, push, 10]])))[:2]
    V = 0.8 * (push + 600)
    assert shear.demand == pytest.approx(V) and hold.demand == pytest.approx(V * 0.6)
    assert shear.details["by the frame"].startswith(f"{V / 2100:.2f} times")
    assert (LOOK not in shear.details["by the frame"]) is explained
    one([shear], "along")


def test_panels_held_down_by_anchors():
    """Two anchors of 500 lb a post."""
    feet = "    feet: {anchored: yes, tension: 500 lb, anchors_per_post: 2, source: t}"
    hold = panels(case(with_lines(feet, panelled(("front", 1), ("back", 1)))))[1]
    assert (hold.demand, hold.capacity) == (pytest.approx(1260.0), pytest.approx(1000 * LB))
    unknown = panels(case(with_lines("    feet: {anchored: yes}", panelled(("front", 1), ("back", 1)))))[1]
    assert (unknown.verdict, unknown.advice_key) == ("not assessed", "anchor value")
    loose = panels(case(panelled(("front", 1), ("back", 1))))[1]
    assert loose.advice_key == "hold-down"


# Braces

LAG = "  - {rack: r, where: brace to post, fasteners: {kind: lag screw, diameter: 0.375 in, length: 5 in, count: 2}}"


def lagged(text=BOTH):
    return text.replace("joints:\n", f"joints:\n{LAG}\n")


def test_a_brace_by_plain_statics():
    """0.7 · 6000/2 on one bay of 1.5 m, 0.5 m high: 2100 · √(1.5² + 0.5²)/1.5 = 2213.6 N at 18.4°.

    Two lag screws 3/8 x 5 in at 71.6° to the post's grain: NDS 2018 (12.3-6) 150.64 lb · 1.12. Pull: 575 · 1.5 psi · 1.6 on 1.5 · (3.5 − 7/16)
    in², 28,199 N, with the hole of a screw, 32,227 N with none. Push: 62.25 in long, 41.5 slender, F_c* = 1350 · 1.15 · 1.6 · 0.8 psi,
    E_min 522,000 psi: C_P 0.12199 (3.7-1): 5661.0 N.
    """
    found = braces(case(lagged()))
    ends = one([finding for finding in found if "/along" in finding.id], "joint/r/brace to post/along")
    assert (ends.demand, ends.capacity) == (pytest.approx(2213.594, rel=1e-6), pytest.approx(2 * 750.515, rel=1e-4))
    pull = one(found, "member/r/brace/along/tension")
    assert (pull.demand, pull.capacity) == (ends.demand, pytest.approx(28_198.94, rel=1e-6))
    push = one(found, "member/r/brace/along/compression")
    assert (push.demand, push.capacity) == (ends.demand, pytest.approx(5661.024, rel=1e-6))
    assert push.verdict == "holds" and "522,000 psi" in line(push, "C_P").note
    assert line(pull, "N_b").note == "each face half" and "no bolt" in line(push, "l_d").note
    alone = one(braces(case(lagged(braced(("front", 1))))), "joint/r/brace to post/along")
    assert alone.demand == pytest.approx(2 * 2213.594, rel=1e-6) and "it takes all" in line(alone, "N_b").note
    two = braces(case(lagged(braced(("front", 1), ("front", 2), ("back", 1), ("back", 2)))))
    assert one(two, "joint/r/brace to post/along").demand == pytest.approx(1106.797, rel=1e-6)
    across = one(found, "joint/r/brace to post/across")  # 0.8 m wide: 2100 · √(0.8² + 0.5²)/0.8
    assert across.demand == pytest.approx(2476.420, rel=1e-6)
    bare = braces(case(BOTH))
    assert one(bare, "member/r/brace/along/tension").capacity == pytest.approx(32_227.37, rel=1e-6)
    silent = one(bare, "joint/r/brace to post/along")
    assert (silent.verdict, silent.demand, silent.advice_key) == ("not assessed", ends.demand, "describe joint")
    short = one(
        braces(case(lagged().replace("length: 5 in, count: 2", "length: 2 in, count: 2"))), "brace to post/along"
    )
    assert (short.verdict, short.demand) == ("not assessed", ends.demand)


@pytest.mark.parametrize(("bolted", "capacity", "k_m"), [("no", 5661.024, 1.0), ("yes", 20_171.52, 0.5)])
def test_half_of_an_x_is_pushed(bolted, capacity, k_m):
    """1106.8 N; bolted where they cross half the length counts out of plane: 20.75, C_P 0.43466: 20,172 N (in plane 17.8)."""
    text = lagged().replace(
        "No.2}\n      - {face: back", f"No.2, kind: x, bolted_at_middle: {bolted}}}\n      - {{face: back", 1
    )
    text = text.replace(
        "{face: back, bay: 1, member: 2x4 douglas fir-larch No.2}",
        "{face: back, bay: 1, kind: x, bolted_at_middle: yes, member: 2x4 douglas fir-larch No.2}",
    )
    text = text.replace(
        "{face: back, bay: 2, member: 2x4 douglas fir-larch No.2}",
        "{face: back, bay: 2, kind: x, bolted_at_middle: yes, member: 2x4 douglas fir-larch No.2}",
    )
    found = one(braces(case(text)), "member/r/brace/along/compression")
    assert found.demand == pytest.approx(1106.797, rel=1e-6)
    assert found.capacity == pytest.approx(capacity, rel=1e-6)
    assert line(found, "l_d").inputs["k_m"].value == k_m
    assert ("half the length" in line(found, "l_d").note) is (k_m < 1)
    if k_m < 1:  # 0.05 m thick: 1.5811/2/0.05 = 15.8, but 1.5811 m over 3.5 in = 17.8 in its plane
        given = case(text)
        timbers = tuple(replace(one, thickness=0.05) for one in given.parts.braces)
        found = one(
            braces(replace(given, parts=replace(given.parts, braces=timbers))), "member/r/brace/along/compression"
        )
        assert line(found, "l_d").result.value == pytest.approx(17.78559, rel=1e-6)


def test_an_x_by_a_frame_is_pushed_by_half_its_pull():
    """300 N of pull and 250 N of push: the diagonal that is thought to have buckled would have 150 N."""
    crossed = lagged().replace("member: 2x4", "kind: x, member: 2x4")
    bars = [[100, -200, 300, -50], [20, -250, 0, 0]]
    found = one(braces(case(crossed, frame=brace_frame(*[bars] * 5))), "member/r/brace/along/compression")
    assert found.demand == pytest.approx(150.0)


LONG = lagged().replace("bay_length: 1.5 m", "bay_length: 2.5 m")


def flat(given, thickness):
    """Its braces lie level and are so thick: 2.5 m long."""
    given.weight.storey = lambda number: (0.5, 0.5)
    timbers = tuple(replace(one, thickness=thickness) for one in given.parts.braces)
    return replace(given, parts=replace(given.parts, braces=timbers))


@pytest.mark.parametrize(("thickness", "refused"), [(0.05, False), (0.0499, True)])
def test_a_strut_of_slenderness_50(thickness, refused):
    """2.5/0.05 = 50 is the most that NDS 2018 section 3.7.1.4 lets be."""
    found = one(braces(flat(case(LONG), thickness)), "brace/along/compression")
    assert (found.capacity == 0.0) is refused
    assert found.demand == pytest.approx(2100.0)


def test_too_slender():
    """√(2.5² + 0.5²) m over 1.5 in is 66.9: alone refused; of an X half is shown; in the frame it only pulls."""
    single = one(braces(case(LONG)), "brace/along/compression")
    assert (single.verdict, single.capacity) == ("short", 0.0)
    crossed = LONG.replace("member: 2x4", "kind: x, member: 2x4")
    x = one(braces(case(crossed)), "brace/along/compression")
    assert (x.verdict, x.demand) == ("not assessed", pytest.approx(2100 * math.hypot(2.5, 0.5) / 2.5 / 2))
    assert "would be half" in x.reason
    wide = (
        LONG.replace("bay_length: 2.5 m", "bay_length: 4 m")
        .replace("length: 24 ft", "length: 30 ft")
        .replace("member: 2x4", "kind: x, bolted_at_middle: yes, member: 2x4")
    )
    bolted = one(braces(case(wide)), "brace/along/compression")
    assert "over 50" in bolted.reason and "would be half" not in bolted.reason
    framed = one(braces(case(LONG, frame=brace_frame(*[[[100, -200, 300, -50]]] * 5))), "brace/along/compression")
    assert (framed.verdict, framed.demand) == ("not assessed", None)


def brace_frame(*bars, balances=("along", "across")):
    return Frame(
        bars=lambda kind: {"brace": {number: in_cases(rows) for number, rows in enumerate(bars)}}[kind],
        balances=balances,
    )


def test_a_brace_by_a_frame():
    """Largest pull of its bars in any case 300, push 250 N: of 2213.6 N 0.14; a bar that only pulls has no push."""
    quiet = [[10, -20, 30, 5]]
    frame = brace_frame([[100, -200, 300, -50], [20, -250, 0, 0]], quiet, quiet, quiet, quiet)
    found = braces(case(lagged(), frame=frame))
    ends = one(found, "brace to post/along")
    assert ends.demand == pytest.approx(300.0) and ends.details["by the frame"] == "0.14 times plain statics"
    assert one(found, "brace/along/tension").demand == pytest.approx(300.0)
    assert one(found, "brace/along/compression").demand == pytest.approx(250.0)
    assert (line(ends, "T_b").result.value, line(ends, "C_b").result.value) == (300.0, 250.0)
    assert "push 2" in line(ends, "T_b").note and "push 1" in line(ends, "C_b").note
    pulls = braces(case(lagged(), frame=brace_frame(*[[[100, 200, 300, 50]]] * 5)))
    assert one(pulls, "brace/along/compression").demand == 0.0
    pushed = braces(case(lagged(), frame=brace_frame([[-100, -700, -3, -50]], quiet, quiet, quiet, quiet)))
    assert one(pushed, "brace to post/along").demand == pytest.approx(700.0)


@pytest.mark.parametrize(("N", "explained"), [(4460, True), (4480, False)])
def test_more_than_all_of_the_push_in_one_brace(N, explained):
    """4200 · 1.05409 = 4427.2 N and 1 %: 4471.5 N."""
    quiet = [[0, 0, 0, 0]]
    found = one(
        braces(case(lagged(), frame=brace_frame([[N, 0, 0, 0]], quiet, quiet, quiet, quiet))), "brace to post/along"
    )
    assert (LOOK not in found.details["by the frame"]) is explained


KNEES = braced(
    ("left", 1),
    ("right", 1),
    more="\n      - {face: front, bay: 1, kind: knee, leg: 12 in, member: 2x4 douglas fir-larch No.2}",
)


def knee_frame():
    elements = [SimpleNamespace(number=number) for number in (0, 2, 2)]
    frame = Frame(bars=lambda kind: {"knee": {2: in_cases([[100, -400, 300, -50], [0, 0, 0, 0]])},
                                     "brace": {n: in_cases([[1, 1, 1, 1]]) for n in (0, 1)}}[kind])  # fmt: skip
    frame.frame = SimpleNamespace(of=lambda kind, rack: np.array([0, 1, 2]), elements=elements)
    frame.result = SimpleNamespace(by_weight=np.array([[9e3, 0], [-120.0, 7e3], [60, 0]]))
    return frame


def test_a_knee():
    """12 in legs at 45°: 400 N of push on 16.97 in, 11.3 slender, C_P 0.83583 (3.7-1): 38,789 N.

    Two lag screws at 45° to the post: NDS 2018 (12.3-6) 167.92 lb · 1.12; by the weight alone 120 N, · 0.63.
    """
    found = braces(case(lagged(KNEES), frame=knee_frame()))
    weight = one(found, "knee along/gravity")
    assert (weight.demand, weight.capacity) == (120.0, pytest.approx(941.160, rel=1e-4))
    (push,) = [finding for finding in found if finding.id == "joint/r/brace to post/knee along"]
    assert (push.demand, push.capacity) == (400.0, pytest.approx(1673.173, rel=1e-4))
    strut = one(found, "member/r/knee/along/compression")
    assert (strut.demand, strut.capacity) == (400.0, pytest.approx(38_788.66, rel=1e-5))
    assert one(found, "member/r/knee/along/tension").demand == 300.0
    silent = one(braces(case(KNEES, frame=knee_frame())), "knee along weight")
    assert (silent.verdict, silent.demand) == ("not assessed", 120.0)
    (none,) = [finding for finding in braces(case(KNEES)) if "knee" in finding.id]
    assert none.verdict == "not assessed" and "needs the frame" in none.reason


# Wall ties


def tied(keys="diameter: 0.375 in, length: 5 in, thread: 3 in", height="26 in", more="", into="stud"):
    return with_lines(f"    wall_ties: [{{height: {height}, count: 3, into: {into}, {keys}}}{more}]")


def test_wall_ties_by_plain_statics():
    """0.7 · 6000 · 0.9/0.6604/3 = 1907.9 N each; along half of 4200 N over three: 700 N.

    5 in behind 1.5 and 0.5 in: 3 in of thread less the tip's 7/32 in 235 lb/in (NDS 2018 (12.2-1), G 0.42) · 1.6: 4647.5 N. Along, TR12 with
    a gap of 0.5 in, D_r 0.265, l_m 2.781 + 0.109 in, mode IV 83.65 lb · 1.6: 595.4 N.
    """
    found = wall_ties(case(tied()))
    pull, along = one(found, "/pull"), one(found, "/along")
    assert (pull.demand, pull.capacity) == (pytest.approx(1907.935, rel=1e-6), pytest.approx(4647.467, rel=1e-5))
    assert (along.demand, along.capacity) == (pytest.approx(700.0), pytest.approx(595.356, rel=1e-4))
    assert "gap of 0.50 in" in line(along, "Z_adj").note and "0.50 in of gypsum" in line(pull, "W_allow").note


@pytest.mark.parametrize(
    ("keys", "force"),
    [
        ("diameter: 0.375 in, length: 2.75 in, rail: 0.25 in, gypsum: 0 in", 528.093),
        ("diameter: 0.625 in, length: 5.6 in, gypsum: 1 in", 1631.746),
        ("diameter: 0.75 in, length: 9 in, rail: 4 in, gypsum: 1 in", 2545.865),
        ("diameter: 0.625 in, length: 12 in, rail: 4 in", 2134.712),
        ("diameter: 0.375 in, length: 3.25 in, gypsum: 0 in", 940.561),
        ("diameter: 0.375 in, length: 3.2 in, gypsum: 0 in", None),
    ],
)
def test_lag_screws_across_a_gap(keys, force):
    """AWC Technical Report 12: stud of G 0.42 across its grain, rail of 0.50 along it, R_d 4, 3.6, 3.2 times 1.25; mode by mode by hand.

    I_s 74.20 lb of a thin rail; II 229.27 lb, 2.694 + 0.203 in in the stud; III_m 357.71 lb, 3.0 + 0.25 in; IV 299.94 lb; IV 132.15 lb with
    1.531 in in the stud; 1.481 in are less than 4 D.
    """
    found = one(wall_ties(case(tied(keys))), "/along")
    if force is None:
        assert found.verdict == "not assessed" and "1.48 in" in found.reason and "asks for 1.50 in" in found.reason
    else:
        assert found.capacity == pytest.approx(force, rel=1e-4)


@pytest.mark.parametrize(
    ("keys", "inches"),
    [
        ("diameter: 0.375 in, length: 10 in, thread: 8 in", 3.5),
        ("diameter: 0.375 in, length: 5.5 in, thread: 8 in", 3.5 - 0.21875),
        ("diameter: 0.375 in, length: 10 in, thread: 2 in", 2 - 0.21875),
        ("diameter: 0.375 in, length: 2.21 in, thread: 2 in", 0.0),
        ("diameter: 0.216 in, length: 4 in, thread: 3 in, kind: wood screw", 2.0),
    ],
)
def test_thread_in_a_stud(keys, inches):
    """At most 3.5 in of a 2x4 stud beside the tip, the reach behind 2 in of rail and gypsum, the thread; less 7/32 in; never under nothing."""
    found = one(wall_ties(case(tied(keys))), "/pull")
    assert line(found, "W_allow").inputs["p"].value == pytest.approx(inches)


def tie_frame(across, along):
    frame = Frame(ties=acting({"across": [0, 0], "along": [0, 0]}, across=across, along=along))
    frame.frame = SimpleNamespace(
        of=lambda kind, rack: np.array([1, 2]), elements=[SimpleNamespace(tier=n) for n in (7, 1, 2)]
    )
    return frame


@pytest.mark.parametrize(("across", "along", "explained"), [(950, 480, True), (5750, 4230, True), (5800, 4260, False)])
def test_wall_ties_by_a_frame(across, along, explained):
    """Worst of any case. All ties together have 4200 · 0.9/0.6604 = 5723.8 N across and 4200 N along; 1 % more is too much."""
    found = wall_ties(
        case(tied(), frame=tie_frame([[1, 2, 3, 4], [0, across, 0, 0]], [[along, 0, 0, 0], [5, 6, 7, 8]]))
    )
    pull, beside = one(found, "/pull"), one(found, "/along")
    assert (pull.demand, beside.demand) == (pytest.approx(across), pytest.approx(along))
    assert pull.details["by the frame"].startswith(f"{across / 1907.935:.2f} times")
    assert beside.details["by the frame"].startswith(f"{along / 700:.2f} times")
    for one_of in (pull, beside):
        assert (LOOK not in one_of.details["by the frame"]) is explained
    last = line(pull, "T_tie")
    assert (last.inputs["R"].value, last.inputs["n_post"].value) == (pytest.approx(2 * across), 2.0)


def test_ties_into_what_is_not_known():
    """The highest row's pull is shown: 0.7 · 6000 · 0.9/0.6604/2 = 2861.9 N."""
    more = ", {height: 26 in, count: 2, into: unknown, diameter: 0.375 in, length: 5 in}"
    (found,) = wall_ties(case(tied(into="unknown", height="20 in", more=more)))
    assert (found.verdict, found.demand) == ("not assessed", pytest.approx(2861.902, rel=1e-6))
    assert "what is in the wall" in found.reason
    (framed,) = wall_ties(case(tied(into="unknown"), frame=tie_frame([[1] * 4] * 2, [[1] * 4] * 2)))
    assert framed.demand == pytest.approx(1907.935, rel=1e-6)
    (thin,) = wall_ties(case(tied("diameter: 0.22 in, length: 5 in")))
    assert "lag screw of 0.220 in is thinner" in thin.reason
    (short,) = wall_ties(case(tied("diameter: 0.375 in, length: 2.1 in")))
    assert "2.10 in long, do not reach" in short.reason


def test_a_strap():
    """1.25 x 0.036 in, hole 0.375 in: 22.5 · 0.875 · 0.036 = 708.75 lb; whichever number stands first."""
    for strap in ("0.036 in x 1.25 in", "1.25 in x 0.036 in"):
        found = one(wall_ties(case(tied(f"diameter: 0.375 in, length: 5 in, strap: {strap}"))), "/strap")
        assert (found.demand, found.capacity) == (pytest.approx(1907.935, rel=1e-6), pytest.approx(708.75 * LB))


# Gussets

OTHER = GUSSET.replace("leg: 14 in", "leg: 16 in").replace("nails: 10", "nails: 8")
GUSSETED = with_lines(
    f"    gussets:\n      - {{face: front, bay: 1, {GUSSET}}}\n      - {{face: back, bay: 1, {OTHER}}}"
)
GUSSETED = GUSSETED.replace("beam: 2x8 douglas fir-larch", "beam: 2x8 hem-fir")
ON_TOP = GUSSETED.replace("beam_runs: whole length", "beam_runs: whole length\n    beam_seat: on top")


def gusset_frame(row=0, case_=0, H=100, V=-200, M=60, leg="post", weight=(0, 0, 0)):
    """One plate's nails of one leg in one case, all others next to nothing; and by the weight."""
    legs = {}
    for name in ("post", "beam"):
        totals = {letter: [[0.1, 0, 0, 0] for _ in range(4)] for letter in "HVM"}
        weights = {letter: [0.01] * 4 for letter in "HVM"}
        if name == leg:
            for letter, force, load in zip("HVM", (H, V, M), weight, strict=True):
                totals[letter][row][case_] = force
                weights[letter][row] = load
        legs[name] = acting(weights, **totals)
    return Frame(gusset_nails=legs.__getitem__)


@pytest.mark.parametrize(
    ("row", "leg", "text", "force", "nail", "capacity"),
    [
        (1, "post", GUSSETED, 124.079, 1, 304.643),
        (1, "post", ON_TOP, 124.079, 1, 322.486),
        (1, "beam", GUSSETED, 101.832, 0, 304.643),
        (2, "post", GUSSETED, 119.815, 1, 304.643),
        (2, "beam", ON_TOP, 107.132, 0, 304.643),
    ],
)
def test_nails_of_a_gusset(row, leg, text, force, nail, capacity):
    """H 100, V −200 N, M 60 N·m; ten nails on the post, Σr² 90.176 in² (see test_joint_fasteners_by_hand): the first −0.875, −4.0625 in.

    100/10 + 60 · 0.10319/0.058178 = 116.42 N, −200/10 − 60 · 0.022225/0.058178 = −42.92 N: 124.1 N. Eight on a leg of 16 in: Σr² 120.03
    in²; on the beams 157.85 and 186.28 in². A nail of 0.131 in: NDS 2018 (12.3-5) 61.15 lb in G 0.43 (beam, filler), 64.73 in 0.50 · 1.12.
    """
    found = one(gussets(case(text, frame=gusset_frame(row, 1, leg=leg))), "joint/r/gusset/earthquake")
    assert (found.demand, found.capacity) == (pytest.approx(force, rel=1e-5), pytest.approx(capacity, rel=2e-3))
    assert found.details["worst"] == f"place {row}"
    assert ("built" in found.details) is (leg == "post" and text is GUSSETED)
    if nail:
        assert line(found, "H_1").note.startswith(f"nail {nail} of {10 if row < 2 else 8}")


def test_nails_of_a_gusset_by_the_weight():
    """The same forces by the weight alone, for years: 0.9 · 0.7 in place of 1.12."""
    frame = gusset_frame(1, 0, 1, 1, 1, weight=(100, -200, 60))
    found = one(gussets(case(GUSSETED, frame=frame)), "gusset/gravity")
    assert (found.demand, found.capacity) == (pytest.approx(124.079, rel=1e-5), pytest.approx(171.362, rel=2e-3))
    assert [line(found, name).result.value for name in "HVM"] == [100.0, -200.0, 60.0]
    assert found.always
    symbols = [step.symbol for step in found.steps]
    assert "F_p" not in symbols and "pushed" not in found.basis and "c" not in [value.name for value in found.values]
    pushed = one(gussets(case(GUSSETED, frame=frame)), "joint/r/gusset/earthquake")
    assert "F_p" in [step.symbol for step in pushed.steps] and pushed.basis.startswith("pushed; ")
    assert "c" in [value.name for value in pushed.values]
    assert "earthquake" in pushed.question and "day and night" in found.question


@pytest.mark.parametrize(
    ("row", "H", "V", "M", "governs", "stress"),
    [
        (1, 3000, 1000, 60, "stress", 3_713_199),
        (3, 3000, 1000, 60, "stress", 3_101_252),
        (1, 3000, -3000, -600.0, "shear", 2_125_718.5),
        (1, 3000, -3000, -454.94, "shear", 2_125_718.5),  # with 1.5 MPa across, far from 656 psi
    ],
)
def test_plywood_of_a_gusset(row, H, V, M, governs, stress):
    """Leg 14 in: throat 9.899 in, 15/32 in thick, nails' middle 3.625 + 0.75 + 8.125/2 = 8.4375 in below; beam theory.

    N 4000/√2, M_t = 60 + 0.12541 · 3000 − 0.0889 · 1000 = 347.3 N·m: 3.713 MPa. Leg 16 in: 11.314 in, 9.4375 in, 372.7 N·m: 3.101 MPa.
    S 6000/√2, 1.5 · 4242.6/(t h) = 2.126 MPa, M_t 42.9 N·m. 410 and 100 psi · 1.6.
    """
    found = one(gussets(case(GUSSETED, frame=gusset_frame(row, 2, H, V, M))), "member/r/gusset/earthquake")
    assert found.details["governs"] == governs and found.details["worst"] == f"place {row}"
    assert found.demand == pytest.approx(stress, rel=1e-5)
    assert found.capacity == pytest.approx((410 if governs == "stress" else 100) * 1.6 * PSI)


# Sill bolts

SILL = with_lines("    feet: {anchored: yes, sill: 2x6 douglas fir-larch, bolt: 0.5 in x 7.5 in, anchors_per_post: 2}")


def test_sill_bolts_by_plain_statics():
    """0.7 · 1.5 · 6000 N over twelve bolts: 525 N. 1/2 in, 6 in in concrete of 7500 psi, 1.5 in of G 0.50 across: NDS 2018 (12.3-5)

    381.32 lb · 1.6 · 0.7 = 1899.7 N. Dry: over 0.7.
    """
    found = one(sill_bolts(case(SILL)), "sill bolts")
    assert (found.demand, found.capacity) == (pytest.approx(525.0), pytest.approx(1899.738, rel=1e-4))
    assert "bolt 0.500 in, 6.0 in into the concrete" in line(found, "Z_adj").note
    kept_dry = one(sill_bolts(case(with_lines("    wet: no", SILL))), "sill bolts")
    assert kept_dry.capacity == pytest.approx(1899.738 / 0.7, rel=1e-4)
    warm = one(sill_bolts(case(with_lines("    heat: up to 125 F", SILL))), "sill bolts")
    assert warm.capacity == pytest.approx(1899.738 * 0.7, rel=1e-4)
    for less in ("sill: 2x6 douglas fir-larch, ", "bolt: 0.5 in x 7.5 in, "):
        assert sill_bolts(case(SILL.replace(less, ""))) == []


@pytest.mark.parametrize(
    ("H", "demand", "said"),
    [
        (1500, 750, "1.43 times plain statics"),
        (800, 525, "0.76 times plain statics"),
        (12_700, 6350, "12.10 times plain statics"),
        (12_800, 6400, "12.19 times plain statics; more than stiffness explains: an engineer should look"),
    ],
)
def test_sill_bolts_by_a_frame(H, demand, said):
    """The worst foot's hold over its two bolts, where that is more; 0.7 · 1.5 · 6000 = 6300 N is all of the push, and 1 %."""
    feet = acting({"H": [0, 0]}, H=[[9e9] * 4 + [100], [9e9] * 4 + [H]])
    found = one(sill_bolts(case(SILL, frame=Frame(feet=feet))), "sill bolts")
    assert found.demand == pytest.approx(demand)
    assert found.details["by the frame"] == said
    without = Frame(feet=feet)
    without.cases = without.cases[:5]
    assert one(sill_bolts(case(SILL, frame=without)), "sill bolts").demand == pytest.approx(525.0)
