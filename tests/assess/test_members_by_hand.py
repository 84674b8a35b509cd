"""Members of a rack at numbers where each term counts, worked out by hand."""

import math
from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest

from brimfast.assess.members.bed_sides import lowest_share, side_thrust
from brimfast.assess.members.common import (
    Stress,
    across_the_grain,
    bending,
    is_european,
    named,
    on_posts,
    sag,
    shear,
    strongest_claim,
    unbraced,
    with_stability,
)
from brimfast.assess.members.post import _by_frame
from brimfast.assess.members.swayed import swayed_beams
from brimfast.assess.parts import Member
from brimfast.assess.timber.service import Service
from brimfast.assess.timber.strength import Adjusted, Strength
from tests.builders import RACK, dry, found

# A weighed box of 900 kg (8825.985 N) on 2 by 0.6 m: 4412.993 N/m. Tier: beams 24.0974, joists 26.8119, deck 25.2813 kg.
BOX = """
installation: hand
site: {standard: asce7-16, S_DS: 1.0}
room: {length: 8 m, width: 5 m, sill: 3 in, floor: {kind: timber floor}, use: dwelling}
racks:
  r:
    bays: 2
    bay_length: 1.5 m
    width: 0.8 m
    deck_height: 0.7 m
    post: 4x4 douglas fir-larch No.2
    beam: 2x8 douglas fir-larch No.2
    joist: {size: 2x6, spacing: 0.3 m, seat: between beams}
    deck: 23/32 in plywood
    beam_runs: each bay
vessels:
  - {name: box, kind: tank, on: r, mass: 900 kg, centre_of_mass: 0.3 m, footprint: 2 m x 0.6 m, holds: 500 L}
joints:
  - rack: r
    where: beam to post
    fasteners: {kind: through-bolt, diameter: 0.5 in, length: 6 in, count: 2, spread: 4 in}
  - {rack: r, where: joist to beam, fasteners: {kind: framing tie, nails: 4 + 4, nail: 0.148 in x 1.5 in}}
"""
PAIRED = BOX.replace("each bay", "each bay\n    beam_pairs: shared")
WHOLE = BOX.replace("each bay", "whole length")
MIDDLE = WHOLE.replace("on: r, mass", "on: r, offset: 1 m, mass").replace("footprint: 2 m", "footprint: 1 m")
ON_TOP = WHOLE.replace("whole length", "whole length\n    beam_seat: on top").replace(
    "through-bolt, diameter: 0.5 in, length: 6 in", "lag screw, diameter: 0.375 in, length: 12 in"
)
ALL_BRACED = """each bay
    braces:
      - {face: front, bay: 1, kind: x, member: 2x4 hem-fir No.2}
      - {face: front, bay: 2, kind: x, member: 2x4 hem-fir No.2}
      - {face: back, bay: 1, kind: x, member: 2x4 hem-fir No.2}
      - {face: back, bay: 2, kind: x, member: 2x4 hem-fir No.2}
      - {face: left, kind: x, member: 2x4 hem-fir No.2}
      - {face: right, kind: x, member: 2x4 hem-fir No.2}"""
TWO = BOX.replace("each bay", "each bay\n    upper_tiers: [{deck_height: 1.4 m}]").replace(
    "joints:",
    "  - {name: tray, kind: tank, on: r, tier: 2, mass: 60 kg, centre_of_mass: 0.1 m, footprint: 1 m x 0.5 m, holds: 50 L}\njoints:",
)
# No table has the stiffness of redwood: no frame, so plain statics.
STATICS = BOX.replace("beam: 2x8 douglas fir-larch No.2", "beam: 2x8 redwood")


def results(finding, symbol):
    return [line.result.value for line in finding.steps if line.symbol == symbol]


def result(finding, symbol):
    (one,) = results(finding, symbol)
    return one


# How a stress is written down

TIMBER = Strength(20e6, 10e6, 2e6, 5e6, 15e6, 1e10, 5e9, 1.0, 1.0, 1.0, "dimension")
PLANK = Member("50x200", "wood", "plain", 0.05, 0.2, 0.5, 600.0, False, False, TIMBER, ())
ONES = dict.fromkeys(
    ("C_D", "C_i", "C_t", "C_t_t", "C_r", "C_F_b", "C_F_t", "C_F_c", "C_M_b", "C_M_t", "C_M_v", "C_M_c", "C_M_cp"), 1.0
)
MAY = Adjusted(10e6, 6e6, 1e6, 4e6, 8e6, 1e10, 5e9, ONES, ())


def test_stresses_of_a_plank():
    """50 by 200 mm: 500 N·m over 2e-4 m³ 2.5 MPa; 1.5·1000/0.01 = 0.15 MPa; 5000 N on 0.004 m² 1.25 of 4·1.25 = 5 MPa."""
    bent, sheared, pressed = (
        bending(PLANK, MAY, 500.0, 2e-4),
        shear(PLANK, MAY, 1000.0),
        across_the_grain(PLANK, MAY, 5000.0, 0.004, 1.25),
    )
    assert (bent.stress, bent.allowed) == (pytest.approx(2.5e6), 10e6)
    assert (sheared.stress, sheared.allowed) == (pytest.approx(0.15e6), 1e6)
    assert (pressed.stress, pressed.allowed) == (pytest.approx(1.25e6), pytest.approx(5e6))


@pytest.mark.parametrize(
    ("loads", "stress", "allowed"),
    [
        ((900.0, 3000.0, 1000.0), 0.75e6, 4.381e6),  # 3000/1.09525 = 2739 N over the inner post
        ((2800.0, 3000.0, 900.0), 0.70e6, 4e6),
        ((900.0, 2000.0, 3000.0, 2800.0), 0.70e6, 4e6),
        ((500.0, 700.0), 0.175e6, 4e6),
    ],
)
def test_bearing_on_a_row_of_posts(loads, stress, allowed):
    """NDS 2018 (3.10-2): posts of 0.1 m on 0.004 m²: C_b 1.09525 on the inner ones only."""
    one = on_posts(PLANK, MAY, loads, 0.004, 0.1)
    assert (one.stress, one.allowed) == (pytest.approx(stress), pytest.approx(allowed))


def test_a_plank_on_edge_that_nothing_holds():
    """NDS 2018 (3.3-5), (3.3-6), 2 m: l_e 4.12, R_B² 4.12·0.2/0.0025 = 329.6, F_bE 1.2·5e9/329.6 = 18.20388 MPa, of 10 MPa:

    2.820388/1.9 = 1.484415; 1.484415 − √(2.203488 − 1.916198) = 0.948421; 10 mm thick, R_B 90.8, is refused.
    """
    free = unbraced(PLANK, MAY, 2.0)
    assert (free.l_e, free.R_B) == pytest.approx((4.12, 18.15489))
    assert free.F_bE == pytest.approx(18.20388e6)
    assert pytest.approx(0.948421, abs=1e-6) == free.C_L
    assert with_stability(MAY, free.C_L)[0] == pytest.approx(9.48421e6)
    thin = Member("10x200", "wood", "plain", 0.01, 0.2, 0.5, 600.0, False, False, TIMBER, ())
    assert unbraced(thin, MAY, 2.0).C_L == 0.0


@pytest.mark.parametrize(
    ("wet", "european", "total"), [(True, False, 2.0), (False, False, 1.5), (True, True, 3.0), (False, True, 1.8)]
)
def test_sag_over_the_years(wet, european, total):
    """NDS 2018 section 3.5.2: 2.0 wet, 1.5 dry; EN 1995-1-1 Table 3.2: 1 + 2.0, 1 + 0.8; 2.4 m over 240 is 10 mm."""
    one = sag("i", "s", 0.001, 2.4, wet, (), (), european)
    assert (one.demand, one.capacity) == (pytest.approx(total / 1000), pytest.approx(0.01))
    assert one.values[0].name.startswith("creep")


def test_european_members_are_known_by_their_class():
    spruce = replace(PLANK, strength=replace(TIMBER, size_class="european"))
    assert [is_european(one) for one in (PLANK, spruce, replace(PLANK, strength=None))] == [False, True, False]


def test_the_claim_is_the_stress_with_the_highest_ratio():
    """0.5, 0.75 and 0.6; what may carry nothing comes first, and has no ratio to print."""
    stresses = [Stress("bending", 5.0, 10.0, ()), Stress("shear", 3.0, 4.0, ()), Stress("bearing", 6.0, 10.0, ())]
    one = strongest_claim("i", "s", "Does it?", stresses, "D", (), "beams")
    assert (one.demand, one.capacity, one.question) == (3.0, 4.0, "Does it? (shear)")
    assert dict(one.details) == {"bending": "0.50", "shear": "0.75", "bearing": "0.60"}
    refused = strongest_claim("i", "s", "Does it?", [*stresses, Stress("none", 1.0, 0.0, ())], "D", (), "beams")
    assert (refused.verdict, refused.ratio, "none" in refused.details) == ("short", None, False)


@pytest.mark.parametrize(
    ("tiers", "said"),
    [([], ("member/r/joist", "rack r, joists")), ([1], ("member/r/tier 2/joist", "rack r, tier 2, joists"))],
)
def test_members_say_their_tier_where_there_are_some(tiers, said):
    case = SimpleNamespace(name="r", rack=SimpleNamespace(upper_tiers=tiers))
    assert named(case, 2, "joist", "joists") == said


# Deck


def test_deck_under_a_box():
    """APA D510, 48/24, 11.811 in: own 25.2813·9.80665/2.4 = 103.30, box 8825.985/1.2 = 7354.99 Pa; shear governs:

    20·250/10.311·0.9·0.75 = 327.32 psf = 15,672 Pa. Sag: 155.770 psf·10.561024⁴/(1743·400,000·0.85) = 0.00326987 in,
    twice that over the years 0.166109 mm; 300/240 = 1.25 mm.
    """
    one = dry(BOX)
    deck, bent = found(one, "member/r/deck"), found(one, "member/r/deck/sag")
    assert (deck.demand, deck.capacity) == pytest.approx((7458.29, 15_672.15), rel=1e-5)
    assert "(shear)" in deck.question
    printed = {line.symbol: line for line in (*deck.steps, *bent.steps)}
    assert (printed["w_b"].result.value, printed["w_s"].result.value) == pytest.approx((490.644, 327.320), rel=1e-5)
    inputs = (printed["w_b"].inputs["l"], printed["w_s"].inputs["l"], printed["delta"].inputs["l"])
    assert [one.value for one in inputs] == pytest.approx([11.811024] * 3)
    assert printed["delta"].inputs["w"].value == pytest.approx(155.770, rel=1e-5)
    assert printed["delta"].result.value == pytest.approx(0.00326987, rel=1e-5)
    assert printed["w_b"].note == "span rating 48/24, 3 spans or more"
    assert len(deck.values) == 4  # the panel's row, C_D, wet strength and stiffness
    assert (bent.demand, bent.capacity) == pytest.approx((1.66109e-4, 1.25e-3), rel=1e-5)


def test_a_dry_deck_with_joists_far_apart():
    """23.622 in, dry: bending 120·845/558.00·0.9 = 163.548 psf = 7830.72 Pa, below shear 20·250/22.122·0.9 = 203.417 psf.

    Sag: w·22.372047⁴/(1743·400,000) is not softened, K_cr 1.5.
    """
    text = BOX.replace("spacing: 0.3 m", "spacing: 0.6 m").replace("each bay", "each bay\n    wet: no")
    one = dry(text)
    deck, bent = found(one, "member/r/deck"), found(one, "member/r/deck/sag")
    assert deck.capacity == pytest.approx(7830.72, rel=1e-5)
    assert "(bending)" in deck.question
    psf = deck.demand / 47.880259
    assert bent.demand == pytest.approx(1.5 * psf * 22.372047**4 / 697_200_000 * 0.0254, rel=1e-5)
    assert result(deck, "w_s") == pytest.approx(203.417, rel=1e-5)


def test_the_vessels_of_a_tier_press_its_deck():
    """Tier 1 has the box alone, 7354.99 Pa, tier 2 the tray alone: 60·9.80665/0.5 = 1176.80 Pa; each with its own 103.30 Pa."""
    first, second = (found(dry(TWO), f"member/r/tier {tier}/deck").demand for tier in (1, 2))
    assert (first, second) == pytest.approx((7458.29, 1280.10), rel=1e-5)


def test_a_rack_with_nothing_on_it():
    """The deck's own 103.30 Pa; the beams' sag under half of the tier's 249.058 N/m."""
    one = dry(BOX.replace("on: r, mass", "mass"))
    assert found(one, "member/r/deck").demand == pytest.approx(103.302, rel=1e-5)
    line = next(line for line in found(one, "member/r/beam/sag").steps if line.symbol == "delta")
    assert line.inputs["w"].value == pytest.approx(124.529, rel=1e-5)


def test_the_heavier_of_two_vessels_presses_the_deck():
    """200 kg on 0.2 by 0.2 m: 49,033 Pa, more than 7355 Pa."""
    small = "  - {name: pot, kind: tank, on: r, offset: 2.2 m, mass: 200 kg, centre_of_mass: 0.3 m, footprint: 20 cm x 20 cm, holds: 50 L}\n"
    text = BOX.replace("joints:", small + "joints:")
    assert found(dry(text), "member/r/deck").demand == pytest.approx(103.30 + 49_033.25, rel=1e-5)


@pytest.mark.parametrize(
    ("sheet", "reason"), [("2 in plywood", "span rating"), ("1 in wood", "plywood and OSB"), ("23/32 in osb", "")]
)
def test_decks_that_no_table_has(sheet, reason):
    """Boards are no panels; neither is a sheet of 2 in. The load is said all the same."""
    deck = found(dry(BOX.replace("23/32 in plywood", sheet)), "member/r/deck")
    assert (deck.verdict == "not assessed") == bool(reason)
    assert reason in deck.reason and deck.demand > 7354.99


@pytest.mark.parametrize(
    ("length", "capacity", "bent"),
    [
        ("0.42 m", 15_045.26, 2.327907e-3),  # 1.4: one span sags more, two have the higher shear
        ("0.6 m", 15_045.26, 0.966391e-3),
        ("0.69 m", 15_045.26, 1.230870e-3),  # 2.3: three sag more
        ("0.9 m", 15_672.15, 1.230870e-3),
    ],
)
def test_a_deck_whose_last_span_is_short(length, capacity, bent):
    """Joists 11.811 in apart on 1.4, 2, 2.3 and 3 spacings. By statics a short second span of 0.4 l leaves 0.595 w l at its joist.

    APA D510: shear 24 (one span, 0.5 w l), 19.2 (two, 0.625 w l), 20·250/10.311·0.675 = 392.78, 314.23, 327.32 psf; bending 96
    and 120·845/139.5·0.675 = 392.52 and 490.64 psf. Sag of 55,265.7 Pa by 921.6, 2220, 1743: 2·1154.248·12,440.1/(k·340,000) in.
    """
    text = BOX.replace("bays: 2", "bays: 1").replace("bay_length: 1.5 m", f"bay_length: {length}")
    one = dry(text.replace("2 m x 0.6 m", "0.4 m x 0.4 m"))
    assert found(one, "member/r/deck").capacity == pytest.approx(capacity, rel=1e-5)
    assert found(one, "member/r/deck/sag").demand == pytest.approx(bent, rel=1e-5)


# Joists


def test_a_joist_under_a_box():
    """0.3·(4412.993 + 170.286) = 1374.984 N over 0.6 of 0.8 m: M 1374.984·(1.6 − 0.6)/8 = 171.873 N·m, S 123,927 mm³:

    1.386887 MPa of 900·0.9·0.85·1.3·1.15 = 1029.3075 psi; shear 1.5·687.492/0.00532257 = 193,748 Pa of 157.14 psi.
    Sag: 1374.984·(4.096 − 1.152 + 0.216)/(384·85,943.8) = 0.131655 mm, twice that of 800/240 mm.
    """
    one = dry(BOX)
    joist, bent = found(one, "member/r/joist"), found(one, "member/r/joist/sag")
    assert result(joist, "P") == pytest.approx(1374.984, rel=1e-5)
    assert (joist.demand, joist.capacity) == pytest.approx((1_386_887, 7_096_825), rel=1e-5)
    assert result(joist, "f_v") == pytest.approx(193_748, rel=1e-5)
    assert dict(joist.details) == {"bending": "0.20", "shear": "0.18"}
    assert (bent.demand, bent.capacity) == pytest.approx((2.63311e-4, 3.33333e-3), rel=1e-5)


@pytest.mark.parametrize(
    ("spacing", "bay", "capacity"),
    [
        ("24 in", "1.5 m", 7_096_825),
        ("24.1 in", "1.5 m", 6_171_152),
        ("0.6 m", "0.3 m", 6_171_152),
        ("0.6 m", "0.6 m", 7_096_825),
    ],
)
def test_repetitive_joists(spacing, bay, capacity):
    """NDS 2018 section 4.3.9: C_r 1.15 for three and more at most 24 in apart; 895.05 psi without: two, or farther apart."""
    text = BOX.replace("spacing: 0.3 m", f"spacing: {spacing}").replace("bay_length: 1.5 m", f"bay_length: {bay}")
    text = text.replace("2 m x 0.6 m", "0.5 m x 0.6 m")
    joist = found(dry(text), "member/r/joist")
    assert result(joist, "F_b_adj") * 6894.757 == pytest.approx(capacity, rel=1e-5)


def test_a_joist_on_softer_beams():
    """1374.984/2 on 38.1 by 38.1 mm: 473,606 Pa of Douglas fir-larch's 625·0.67 = 418.75 psi (0.16), of hem-fir's 271.35 (0.25).

    The beams of hem-fir and the joists of what the file says weigh other than those above: the load within 1 %.
    """
    text = BOX.replace("between beams", "on beams").replace("size: 2x6,", "size: 2x6 douglas fir-larch No.2,")
    joist = found(dry(text.replace("beam: 2x8 douglas fir-larch", "beam: 2x8 hem-fir")), "member/r/joist")
    assert joist.demand == pytest.approx(473_606, rel=0.01)
    assert joist.capacity == pytest.approx(1_870_892, rel=1e-5)
    assert (joist.details["bearing"], joist.details["bearing on the beam"]) == ("0.16", "0.25")


# Beams


def test_a_beam_under_a_box():
    """Tier 76.1906 kg over 3 m and box: 249.058 + 4412.993 = 4662.051 N/m, half of it on a side: 2331.025·1.5²/8 = 655.601 N·m,

    V 1748.269 N; S 215,336 mm³: 3.04454 MPa of 900·0.9·1.2 = 972 psi. Bolts 4 in apart: d_e (184.15 + 101.6)/2 = 142.875 mm:
    2/3·1.083442e6·0.0381·0.142875·(142.875/184.15)² = 2366.82 N (NDS 2018 (3.4-6)): 0.73866.
    Sag: 5·2331.025·1.5⁴/(384·E·I) with E 1.44e6 psi, I 19,827,086 mm⁴: 0.780567 mm, twice that of 6.25 mm.
    """
    one = dry(BOX)
    beam, bent = found(one, "member/r/beam"), found(one, "member/r/beam/sag")
    assert (result(beam, "M_1"), result(beam, "V_1")) == pytest.approx((655.601, 1748.269), rel=1e-5)
    assert result(beam, "f_b") == pytest.approx(3_044_545, rel=1e-5)
    assert result(beam, "F_b_adj") == pytest.approx(972)
    assert beam.ratio == pytest.approx(0.738658, rel=1e-5)
    assert (bent.demand, bent.capacity) == pytest.approx((1.561135e-3, 6.25e-3), rel=1e-5)


def test_a_beam_whose_fasteners_are_unknown():
    """Half of the depth counts: 2/3·1.083442e6·0.0381·0.092075·0.25 = 633.46 N: 1748.269 is 2.75986 of it."""
    text = BOX[: BOX.index("  - rack: r\n")] + BOX[BOX.index("  - {rack: r, where: joist") :]
    assert found(dry(text), "member/r/beam").ratio == pytest.approx(2.759860, rel=1e-5)


def test_beams_in_pairs_share():
    """Beams 48.1949, joists and deck as before: 327.830 + 4412.993 N/m: 666.678 N·m on two: 333.339; V 888.904; 0.37557.

    Sag: a quarter of 4740.823 N/m each, 1185.206.
    """
    one = dry(PAIRED)
    beam, bent = found(one, "member/r/beam"), found(one, "member/r/beam/sag")
    assert (result(beam, "M_1"), result(beam, "V_1")) == pytest.approx((333.339, 888.904), rel=1e-5)
    assert beam.ratio == pytest.approx(0.375569, rel=1e-5)
    line = next(line for line in bent.steps if line.symbol == "delta")
    assert line.inputs["w"].value == pytest.approx(1185.206, rel=1e-5)
    assert bent.demand == pytest.approx(7.93757e-4, rel=1e-5)  # 1185.206/2331.025 of 1.561135 mm


def test_beams_and_joists_of_an_upper_tier():
    """The tray's 588.399 N on the first metre: R (392.266 + 186.794) = 579.060 N, 579.060²/(2·837.457)/2 = 100.10 N·m;

    a joist 0.3·(588.399 + 170.286) = 227.605 N. Below the box as before. The posts by the upper storey, 0.7 m: 2.4·700/88.9 = 18.9.
    """
    one = dry(TWO)
    note = next(line for line in found(one, "member/r/post/weight").steps if line.symbol == "C_P").note
    assert "slenderness 18.9, over the tallest storey, 28 in, K_e 2.4" in note
    moments = [result(found(one, f"member/r/tier {tier}/beam"), "M_1") for tier in (1, 2)]
    assert moments == pytest.approx([655.601, 100.10], rel=1e-3)
    loads = [result(found(one, f"member/r/tier {tier}/joist"), "P") for tier in (1, 2)]
    assert loads == pytest.approx([1374.984, 227.605], rel=1e-5)


@pytest.mark.parametrize(
    ("text", "symbol", "stresses"),
    [
        (PAIRED.replace("each bay", "whole length"), "f_b", [1_547_993, 1_547_993]),
        (PAIRED.replace("each bay", "whole length"), "f_hung", [126_695, 169_658]),
        (ON_TOP.replace("whole length", "whole length\n    beam_pairs: shared"), "f_v", [254_488]),
        (ON_TOP.replace("whole length", "whole length\n    beam_pairs: shared"), "f_cperp", [505_301]),
        (ON_TOP.replace("whole length", "each bay\n    beam_pairs: shared"), "f_v", [190_042]),
        (ON_TOP.replace("whole length", "each bay\n    beam_pairs: shared"), "f_cperp", [524_878]),
    ],
)
def test_all_stresses_of_a_pair_are_shared(text, symbol, stresses):
    """4740.823 N/m: ends 3555.617 N, a quarter of it 888.904 on 7016.115 mm²: 126,695 Pa; three moments (553.213 + 3723.463 +

    1149.217)/6 = 904.316 N·m add 602.877 N: (3555.617 + 2·602.877)/4 = 1190.343 N: 169,658 Pa; times 1.5: 254,488 Pa. Middle post
    (3555.617 + 245.873 + 1838.747)/2 + 602.877 = 3422.995 N, half of it on 3387.09 mm²; each bay 888.904 N on 1693.545 mm².
    333.339 N·m on 215,336 mm³ top and bottom.
    """
    assert results(found(dry(text), "member/r/beam"), symbol) == pytest.approx(stresses, rel=1e-5)


def test_a_beam_in_one_piece_bends_over_its_middle_post():
    """Box of 1 m over the middle post, 8825.985 N/m on 0.5 m of either bay: by three moments (2·8825.985·0.25·2.5²/6)/6 = 766.145

    and the tier 249.058·1.5²/8 = 70.048, half of both 418.096 N·m; more than a simple span's 3864.29²/(2·9075.04)/2 = 411.37.
    Bottom edge: R_B² 3.09·0.18415/0.0381² = 391.995, F_bE 1.2·522,000/391.995 = 1597.98 psi, r 1.644013, C_L 0.937745: 0.308950.
    At the ends (735.499 + 186.794)/2 = 461.146 N, (3.4-6): 0.19484; at the middle post (3864.29 + 2·557.46)/2 = 2489.6 N (all that
    continuity adds on either side of it, the safe side) of 2/3·1.083442e6·0.0381·0.142875 = 3931.84 N (3.4-7): 0.63319.
    """
    one = dry(MIDDLE)
    beam = found(one, "member/r/beam")
    sags = next(line for line in found(one, "member/r/beam/sag").steps if line.symbol == "delta")
    assert sags.inputs["w"].value == pytest.approx(4537.52, rel=1e-5)  # (249.058 + 8825.985)/2
    assert result(beam, "M_1") == pytest.approx(418.096, rel=1e-5)
    assert result(beam, "C_L") == pytest.approx(0.937745, abs=1e-6)
    assert next(line for line in beam.steps if line.symbol == "C_L").inputs["r"].value == pytest.approx(1.644013)
    assert result(beam, "F_bL") == pytest.approx(0.937745 * 972 * 6894.757, rel=1e-5)
    assert results(beam, "V_allow") == pytest.approx([2366.817, 3931.839], rel=1e-5)
    assert results(beam, "f_hung") == pytest.approx([461.146 / 0.007016115, 2489.605 / 0.007016115], rel=1e-5)
    assert beam.ratio == pytest.approx(0.633191, rel=1e-5)
    allowed = [line for line in beam.steps if line.symbol == "V_allow"]
    assert [line.expression for line in allowed] == ["2/3*F_v*t*d_e*(d_e/d)**2", "2/3*F_v*t*d_e"]
    assert [line.source for line in allowed] == ["NDS 2018 (3.4-6)", "NDS 2018 (3.4-7)"]
    assert [line.note.split("; ")[1][:10] for line in allowed] == ["within 5 d", "5 d and mo"]
    assert results(beam, "F_hung") == pytest.approx([2366.817 / 0.007016115, 3931.839 / 0.007016115], rel=1e-5)
    shares = {"bending": "0.29", "bending, bottom edge free": "0.31", "shear at the fasteners": "0.19"}
    assert dict(beam.details) == {**shares, "shear at the middle posts' fasteners": "0.63"}


@pytest.mark.parametrize(
    ("bay", "beam", "checks"),
    [("0.92 m", "2x8", 1), ("0.93 m", "2x8", 2), ("1 m", "38x200 mm", 2), ("0.99 m", "38x200 mm", 1)],
)
def test_shear_farther_than_five_depths_from_the_end(bay, beam, checks):
    """NDS 2018 (3.4-7): 5·184.15 = 920.75 mm; 5·200 mm = 1 m is far enough."""
    text = WHOLE.replace("bay_length: 1.5 m", f"bay_length: {bay}").replace("2 m x 0.6 m", "1 m x 0.6 m")
    text = text.replace("beam: 2x8", f"beam: {beam}")
    assert len(results(found(dry(text), "member/r/beam"), "V_allow")) == checks


def test_a_beam_that_the_standard_refuses():
    """NDS 2018 section 3.3.3.7, 36 by 300 mm over 5.4 m: R_B √(2.06·5.4·0.3/0.036²) = 50.744: over 50, bending may be nothing."""
    text = WHOLE.replace("beam: 2x8", "beam: 36x300 mm").replace("bay_length: 1.5 m", "bay_length: 5.4 m")
    beam = found(dry(text.replace("length: 8 m", "length: 14 m")), "member/r/beam")
    assert result(beam, "R_B") == pytest.approx(50.744, abs=1e-3)
    assert (beam.capacity, beam.verdict, beam.ratio) == (0.0, "short", None)
    assert beam.demand == pytest.approx(result(beam, "M_1") / 540e-6)  # S 36·300²/6 = 540,000 mm³


def test_beams_on_top_of_their_posts():
    """One piece: V (3496.54 + 2·588.11)/2 = 2336.38 N, 1.5 V/A 499,502 Pa of 157.14 psi; on the middle post 3349.146 N (2761.04 and

    588.11) on 38.1 by 88.9 mm: 988,798 Pa of 418.75·(3.5 + 0.375)/3.5 psi. Each bay: 1748.27 N: 373,769 Pa; on half of the post:
    1,032,313 Pa of 418.75 psi; a single bay has all of it.
    """
    whole = found(dry(ON_TOP), "member/r/beam")
    assert result(whole, "M_1") == pytest.approx(
        655.601, rel=1e-5
    )  # the simple span has more than the middle post's 441.08
    assert (result(whole, "f_v"), result(whole, "f_cperp")) == pytest.approx((499_502, 988_798), rel=1e-5)
    assert result(whole, "F_bearing") == pytest.approx(418.75 * 6894.757 * 1.1071429, rel=1e-5)
    each = found(dry(ON_TOP.replace("whole length", "each bay")), "member/r/beam")
    assert (result(each, "f_v"), result(each, "f_cperp")) == pytest.approx((373_769, 1_032_313), rel=1e-5)
    assert result(each, "F_bearing") == pytest.approx(418.75 * 6894.757, rel=1e-5)
    short = (
        ON_TOP.replace("bays: 2", "bays: 1").replace("2 m x 0.6 m", "1 m x 0.6 m").replace("whole length", "each bay")
    )
    one = next(line for line in found(dry(short), "member/r/beam").steps if line.symbol == "f_cperp")
    assert one.inputs["A_b"].value == pytest.approx(0.0381 * 0.0889)


BRACED_ON_TOP = ON_TOP.replace("whole length", ALL_BRACED.replace("each bay", "whole length"))
TALL = (
    RACK.replace("S_DS: 1.0", "S_DS: 2.0")
    .replace("bay_length: 5 ft", "bay_length: 3 ft")
    .replace("length: 9 ft", "length: 5.5 ft")
    .replace("26 in", "40 in")
    .replace("spread: 4 in", "spread: 2 in")
)


@pytest.mark.parametrize(
    ("text", "stress"),
    [
        (BOX, 599_715.8),
        (MIDDLE, 599_715.8),  # the ends have the most
        (MIDDLE.replace("S_DS: 1.0", "S_DS: 0.1"), 996_268.7),  # the middle post has
        (BRACED_ON_TOP, 1_926_119),
        (TALL, 333_359.7),
    ],
)
def test_hung_beams_in_an_earthquake_have_the_depth_beyond_their_fasteners(text, stress):
    """F_v' 180·1.6·0.97 = 279.36 psi = 1.926119 MPa: near an end 2/3·1.926119e6·0.0381·0.142875·(142.875/184.15)² = 4207.675 N (3.4-6)

    on 7016.115 mm²; away from it 6989.94 N (3.4-7); on top of the posts all of the section. Bolts 2 in apart, d_e 117.475 mm:
    2338.89 N: the frame's 3400 N are short, though they are 0.38 of the whole section.
    """
    shear = found(dry(text), "beam/earthquake/shear")
    assert shear.capacity == pytest.approx(stress, rel=1e-5)
    assert shear.verdict == ("short" if text == TALL else "holds")
    if text != BRACED_ON_TOP:
        assert shear.ratio == pytest.approx(result(shear, "V_1") / 0.007016115 / stress, rel=1e-5)


@pytest.mark.parametrize("text", [BOX, BRACED_ON_TOP])
def test_shares_of_a_beam_in_an_earthquake(text):
    """A 7016.115 mm², S_1 215,336 and S_2 44,552 mm³: N of 1104 psi 53,405.3 N (F_t 575·1.6·1.2, less than F_c* 1814.4 psi),

    M of 900·1.6·1.2 = 1728 psi: 2565.546 N·m upright, 530.803 N·m sideways; the frame's N and M over these, added.
    """
    beam = found(dry(text), "member/r/beam/earthquake")
    put = {name: one.value for line in beam.steps if line.symbol == "I" for name, one in line.inputs.items()}
    by_hand = put["N"] / 53_405.35 + put["M_1"] / 2565.546 + put["M_2"] / 530.803
    assert (beam.demand, beam.capacity) == (pytest.approx(by_hand, rel=1e-5), 1.0)
    assert put["N"] > 0 and put["M_1"] > 600 and put["M_2"] > 0


def beams_of(frame, paired, seat="on top", one_piece=False):
    """swayed_beams of the plank above: F_b 20, F_t 10, F_c 15, F_v 2 MPa times 1.6, dry."""
    rack = SimpleNamespace(paired=paired, beam_seat=seat, one_piece=one_piece, bay_length=1.0)
    force = SimpleNamespace(steps=())
    return swayed_beams(
        SimpleNamespace(
            name="r",
            rack=rack,
            parts=SimpleNamespace(beam=PLANK),
            frame=frame,
            joints={},
            force=force,
            service=lambda: Service(False),
            without_frame=lambda way: f"none {way}",
        )
    )


def pushed(picks):
    """Two places and three cases, of which some count; in the last the most, in the first no more than half of it."""
    total = {
        "N": np.array([[100.0, -3200.0, 9e9], [50.0, 1600.0, 9e9]]),
        "M_up": np.array([[100.0, 640.0, 9e9], [200.0, -960.0, 9e9]]),
        "M_side": np.array([[10.0, 32.0, 9e9], [20.0, 16.0, 9e9]]),
        "V": np.array([[500.0, -4000.0, 9e9], [900.0, 3000.0, 9e9]]),
    }
    return SimpleNamespace(
        beams=SimpleNamespace(total=total, where=("one", "two")),
        beams_from_ends=np.array([0.999, 1.0]),
        cases=[SimpleNamespace(words=f"case {number}") for number in range(3)],
        push_words=lambda number: f"push {number}",
        pick_balanced=lambda *levels: np.array(picks, dtype=np.int64),
    )


@pytest.mark.parametrize(("paired", "share"), [(False, 1.0), (True, 0.5)])
def test_the_worst_place_of_a_beam_in_those_cases_that_balance(paired, share):
    """A 0.01 m², F_a 16 MPa (F_t; F_c 24), S_1 0.05·0.04/6 = 333.333e-6, S_2 0.2·0.0025/6 = 83.3333e-6 m³ of 32 MPa:

    3200/160,000 + 640/10,666.67 + 32/2666.667 = 0.092; 1600/160,000 + 960/10,666.67 + 16/2666.667 = 0.106, halved in a pair;
    shear 1.5·4000/0.01 = 0.6 of 3.2 MPa.
    """
    bent, sheared = beams_of(pushed([0, 1]), paired)
    assert (bent.demand, bent.capacity) == (pytest.approx(0.106 * share), 1.0)
    line = next(line for line in bent.steps if line.symbol == "I")
    assert (line.inputs["N"].value, line.note) == (pytest.approx(1600 * share), "two, push 1; case 1")
    assert (sheared.demand, sheared.capacity) == (pytest.approx(0.6e6 * share), pytest.approx(3.2e6))
    assert sheared.steps[-1].note == "one, push 1; case 1"


@pytest.mark.parametrize(
    ("one_piece", "paired", "end", "middle", "V", "may", "where"),
    [
        (True, False, 700.0, 3000.0, 3000.0, 10_666.67, "two"),
        (True, True, 800.0, -3000.0, 800.0, 2666.667, "one"),
        (False, False, 700.0, 3000.0, 3000.0, 2666.667, "two"),
    ],
)
def test_the_worst_place_of_a_hung_beam(one_piece, paired, end, middle, V, may, where):
    """Fasteners not known: d_e half of 0.2 m. 2/3·3.2e6·0.05·0.1 = 10,666.67 N (3.4-7) from 5 d = 1 m on, a quarter of it before (3.4-6).

    700/2666.67 = 0.2625 and 3000/10,666.67 = 0.28125; 800/2666.67 = 0.3 is more. Beams of each bay end everywhere.
    """
    frame = pushed([0, 1])
    frame.beams.total["V"] = np.array([[500.0, end, 9e9], [900.0, middle, 9e9]])
    shear = beams_of(frame, paired, "on the side", one_piece)[1]
    line = next(line for line in shear.steps if line.symbol == "V_1")
    n = 2.0 if paired else 1.0
    assert (line.inputs["V"].value, line.result.value) == pytest.approx((V, V / n))
    assert line.note.startswith(where)
    assert (shear.demand, shear.capacity) == pytest.approx((V / n / 0.01, may / 0.01), rel=1e-6)


def test_beams_of_a_frame_in_which_nothing_balances():
    for frame in (pushed([]), None):
        (one,) = beams_of(frame, False)
        assert (one.verdict, one.reason) == ("not assessed", "none along")


def test_pairs_share_the_earthquake():
    """By the frame 2517 N in one beam, and half of it in each of a pair (which weighs a little more)."""
    one, two = (found(dry(text), "beam/earthquake/shear") for text in (BOX, PAIRED))
    assert result(two, "V_1") / result(one, "V_1") == pytest.approx(0.5, abs=0.01)
    one, two = (found(dry(text), "member/r/beam/earthquake") for text in (BOX, PAIRED))
    assert two.ratio / one.ratio == pytest.approx(0.5, abs=0.01)


# Posts


def test_a_post_under_its_weight():
    """Half of 5522.078 N and 18.5054/6 kg of its own: 2791.285 N on 88.9 by 88.9 mm: 51.2250 psi. F_c* 1350·0.9·0.8·1.15 = 1117.8;

    it sways: 2.4·681.744/88.9 = 18.4047, F_cE 0.822·522,000/338.732 = 1266.72 psi, C_P 0.732379; F_b 900·0.9·0.85·1.5 = 1032.75.
    The beam hangs (88.9 + 38.1)/2 off: 6 e/d 4.285714: (51.225/818.65)² + 219.536·1.009463/(1032.75·0.959561) = 0.227544.
    """
    post = found(dry(BOX), "member/r/post/weight")
    assert result(post, "P") == pytest.approx(2791.285, rel=1e-5)
    assert result(post, "C_P") == pytest.approx(0.732379, abs=1e-6)
    assert post.demand == pytest.approx(0.227544, rel=1e-5)
    assert next(line for line in post.steps if line.symbol == "I").inputs["f_b"].value == 0.0


@pytest.mark.parametrize(
    ("text", "e_d"), [(PAIRED, 0.0), (ON_TOP, 0.0), (BOX.replace("post: 4x4", "post: 4x6"), 0.7142857)]
)
def test_a_post_between_two_beams_or_under_one_has_no_eccentric_load(text, e_d):
    """e_d 0; on top 0 as well; a 4x6 post turns its thickness of 3.5 in to the beam: (88.9 + 38.1)/2/88.9 = 0.714286."""
    line = next(line for line in found(dry(text), "member/r/post/weight").steps if line.symbol == "I")
    assert line.inputs["e_d"].value == pytest.approx(e_d)


def test_a_post_by_plain_statics():
    """F 6424.413 N at 0.963864 m, 3 m along: couple 6192.262/6·0.7 = 722.431, P 1.14·2761.781 + 722.431 = 3870.862 N;

    bent by 0.7·6424.413/6·0.589669 = 441.966 N·m: 3.774282 MPa. F_c* 1987.2, C_P 0.522853, F_cE 1266.72, F_b 1836 psi:
    f_c 71.0371: (71.0371/1039.01)² + (547.413 + 4.285714·71.0371·1.013123)/(1836·0.943920) = 0.498520.
    Across 1.14·2761.781 + 0.7·6192.262/0.7111·0.366682 = 5383.58 N, not bent: less.
    """
    post = found(dry(STATICS), "member/r/post/earthquake")
    assert result(post, "P") == pytest.approx(3870.862, rel=1e-5)
    line = next(line for line in post.steps if line.symbol == "I")
    assert line.inputs["f_b"].value == pytest.approx(3_774_282, rel=1e-5)
    assert post.demand == pytest.approx(0.498520, rel=1e-5)


def test_a_post_by_the_frame():
    """F_c' 1987.2·0.522853 = 1039.01, F_cE 1266.72, F_b 1836 psi as by statics, on 7903.21 mm² and 117,099 mm³: 56,616.4, 69,024.5 N

    and 1482.333 N·m: (P/56,616.4)² + (M + 6·0.714286·P·117,099/7903.21 mm·(1 + 0.234·P/69,024.5))/(1482.333·(1 − P/69,024.5)).
    Shear 1.5 V/7903.21 mm² of 180·1.6·0.97 psi.
    """
    post, sheared = (found(dry(BOX), f"member/r/post/{name}") for name in ("earthquake", "shear"))
    P = result(post, "P")
    bent = next(line for line in post.steps if line.symbol == "f_b").inputs
    M = bent["M_1"].value + bent["M_2"].value
    more = 4.285714 * P * 0.01481667 * (1 + 0.234 * P / 69_024.5)
    by_hand = (P / 56_616.4) ** 2 + (M + more) / (1482.333 * (1 - P / 69_024.5))
    assert P > 2900 and M > 500
    assert (post.demand, post.capacity) == (pytest.approx(by_hand, rel=1e-5), 1.0)
    V = next(line for line in sheared.steps if line.symbol == "f_v").inputs["V"].value
    assert V > 1000
    assert (sheared.demand, sheared.capacity) == pytest.approx((V / 0.005268807, 1_926_119), rel=1e-5)


BRACED = STATICS.replace("each bay", ALL_BRACED)
SQUAT = (
    BRACED.replace("bay_length: 1.5 m", "bay_length: 0.6 m")
    .replace("width: 0.8 m", "width: 1.6 m")
    .replace("2 m x 0.6 m", "1 m x 0.6 m")
)


@pytest.mark.parametrize(("text", "P"), [(BRACED, 4861.740), (SQUAT, 4135.855)])
def test_braces_push_on_posts(text, P):
    """F 3966.854 N; above the beams 0.944940 − 0.589669 = 0.355271 m: 1409.309 N·m; slenderness 681.744/88.9 = 7.6687.

    Across: 0.7·1409.309/0.7111·0.366682 = 508.70, brace 0.7·0.5·3966.854·0.589669/0.7111 = 1151.31, with 1.14·2808.534: 4861.74 N;
    along 0.7·1409.309/6 + 0.7·0.5·3966.854/2·0.589669/1.5 = 164.42 + 272.90: less.
    Squat, 1.2 by 1.6 m: F 3874.338, 0.364875 m: along 0.7·1413.648/2.4 = 412.314, brace 678.009·0.589669/0.6 = 666.335, with
    1.14·2681.760: 4135.855 N; across 194.86 + 529.16: less.
    """
    post = found(dry(text), "member/r/post/earthquake")
    assert result(post, "P") == pytest.approx(P, rel=1e-5)
    assert "slenderness 7.7" in next(line for line in post.steps if line.symbol == "C_P").note
    assert next(line for line in post.steps if line.symbol == "I").inputs["f_b"].value == 0.0


ALONG = "\n".join(line for line in ALL_BRACED.splitlines() if "left" not in line and "right" not in line)
ACROSS = "\n".join(line for line in ALL_BRACED.splitlines() if "front" not in line and "back" not in line)
TIED = "wall_ties: [{height: 26 in, count: 3, into: stud, diameter: 0.375 in, length: 5 in, strap: 0.036 in x 1.25 in}]"


@pytest.mark.parametrize(
    ("runs", "slender"),
    [
        (ALONG, "18.4"),
        (ACROSS, "18.4"),
        (ALL_BRACED, "7.7"),
        (f"{ALONG}\n    {TIED}", "7.7"),
        (f"each bay\n    {TIED}", "18.4"),
    ],
)
def test_a_rack_braced_one_way_sways(runs, slender):
    """K_e 2.4 unless both ways are braced, or a wall tie holds it across."""
    post = found(dry(STATICS.replace("each bay", runs)), "member/r/post/weight")
    note = next(line for line in post.steps if line.symbol == "C_P").note
    assert f"slenderness {slender}" in note and ("K_e 2.4" in note) == (slender == "18.4")
    assert any("effective length" in value.name for value in post.values) == (slender == "18.4")


def test_feet_on_a_sill():
    """Posts 1804.646, 2817.416 and 333.648 N: the middle one 356,490 Pa of hem-fir's 405·0.67·1.107143 = 300.42 psi: 0.172106.

    Without a sill 2791.285/0.00790321 = 353,184 Pa of F_c* 1117.8 psi: 0.0458266.
    """
    sill = "each bay\n    feet: {anchored: yes, sill: 2x6 hem-fir No.2, bolt: 0.5 in x 7.5 in, tension: 700 lb, shear: 600 lb, source: t}"
    foot = found(dry(BOX.replace("each bay", sill)), "member/r/post/foot")
    assert foot.ratio == pytest.approx(0.172106, rel=1e-5)
    assert found(dry(BOX), "member/r/post/foot").ratio == pytest.approx(0.0458266, rel=1e-5)


def test_a_post_that_is_refused_carries_nothing():
    """2x2, 2.4·1.7817 m over 38.1 mm is far over 50: its push 2761.039 N and 8.883/6 kg of its own stands against 0."""
    text = BOX.replace("post: 4x4", "post: 2x2").replace("deck_height: 0.7 m", "deck_height: 1.8 m")
    weight, earthquake = (found(dry(text), f"member/r/post/{name}") for name in ("weight", "earthquake"))
    assert (weight.capacity, weight.verdict, weight.ratio) == (0.0, "short", None)
    assert weight.demand == pytest.approx(2775.558, rel=1e-5)
    assert earthquake.demand > 1.14 * weight.demand


def test_a_refused_post_has_its_push_by_the_frame_too():
    """2x2 braced both ways, 2.382 m over 38.1 mm: 62.5. Its weight 2868.025 N stays that of statics; the earthquake's is the frame's."""
    text = BOX.replace("post: 4x4", "post: 2x2").replace("deck_height: 0.7 m", "deck_height: 2.4 m")
    one = dry(text.replace("each bay", ALL_BRACED))
    weight, earthquake = (found(one, f"member/r/post/{name}") for name in ("weight", "earthquake"))
    assert "slenderness of 63" in weight.reason
    assert weight.demand == pytest.approx(2868.025, rel=1e-5)
    assert (earthquake.capacity, earthquake.demand > 2 * weight.demand) == (0.0, True)


def test_a_post_past_its_buckling_stress():
    """2x2 of 0.781744 m: 2767.409 N/1451.61 mm² = 276.5 psi; slenderness 2.4·781.744/38.1 = 49.24, 0.822·522,000/49.24² = 176.9 psi."""
    post = found(dry(BOX.replace("post: 4x4", "post: 2x2").replace("0.7 m", "0.8 m")), "member/r/post/weight")
    assert "its stress of 277 psi is past the stress at which it buckles, 177 psi" in post.reason
    assert (post.capacity, post.demand) == (0.0, pytest.approx(2767.409, rel=1e-5))


def test_bending_of_a_post_both_ways_is_added():
    """Plank as above: 100/333.333e-6 + 50/83.3333e-6 = 0.9 MPa is more than 250/333.333e-6 = 0.75 MPa; a pull is no push."""
    total = {
        "P": np.array([[1.0, -50.0, 9e9], [1.0, -60.0, 9e9]]),
        "M_along": np.array([[1.0, 100.0, 9e9], [1.0, 250.0, 9e9]]),
        "M_across": np.array([[1.0, 50.0, 9e9], [1.0, 0.0, 9e9]]),
    }
    frame = pushed([0, 1])
    frame.posts = SimpleNamespace(total=total, by_weight={"P": np.array([10.0, 10.0])}, where=("one", "two"))
    frame.cases = [SimpleNamespace(words="case", weight=1.0)] * 3
    case = SimpleNamespace(frame=frame, parts=SimpleNamespace(post=PLANK))
    (load,) = _by_frame(case, lambda P, f_b: f_b + 1e9 * np.maximum(P - 1.0, 0.0))
    assert (load.P, load.f_b) == (0.0, pytest.approx(0.9e6))


# Sides of beds

SIDED = """
  - {name: sided, kind: bed, length: 2.4 m, width: 0.9 m, depth: 0.3 m, water: 0.15 m, fill: gravel, fill_depth: 0.2 m, sides: 2x6 hem-fir No.2, ties: 1}
"""


def test_thrust_of_water_and_fill():
    """0.3 m of water 441.299, 0.2 m of fill, K 0.4, 15,000 N/m³: 0.4·15,000·0.04/2 = 120 N/m; board of 0.1397 m 0.714488."""
    assert float(side_thrust(0.3, 0.2, 15_000.0, 0.4)) == pytest.approx(561.299, rel=1e-5)
    assert float(lowest_share(0.1397, 0.3)) == pytest.approx(0.714488, rel=1e-5)


@pytest.mark.parametrize(("length", "width"), [("2.4 m", "0.9 m"), ("0.9 m", "2.4 m")])
def test_the_long_sides_of_a_bed(length, width):
    """Water to the rim 441.299, gravel 0.5·15,592.57·0.04/2 = 155.926 N/m: 597.225; the lowest 2x6 has 426.710 N/m over 1.2 m:

    M 76.8078 N·m, flat S 139.7·38.1²/6 = 33,798 mm³: 2.272533 MPa of wet hem-fir's 850·0.9·1.3 = 994.5 psi: 0.331426.
    Shear 256.026 N: 0.08 of 130.95 psi; a tie takes 597.225·1.2 = 716.67 N = 161 lb.
    """
    text = BOX.replace("joints:", f"{SIDED.strip(chr(10))}\njoints:")
    text = text.replace("length: 2.4 m, width: 0.9 m", f"length: {length}, width: {width}")
    side = found(dry(text), "member/sided/side")
    assert side.ratio == pytest.approx(0.331426, rel=1e-5)
    assert (side.details["bending"], side.details["shear"]) == ("0.33", "0.08")
    assert side.details["pull of a tie, or of the corner fastenings twice"] == "161 lb (0.72 kN)"
    assert next(line for line in side.steps if line.symbol == "q").inputs["rho_g"].value == pytest.approx(9806.65)


def test_only_beds_that_are_measured_and_straight_have_sides():
    """A tank, a weighed bed and a round one have none in the answer."""
    more = """  - {name: heavy, kind: bed, mass: 90 kg, centre_of_mass: 0.2 m, footprint: 1 m x 0.5 m, holds: 50 L}
  - {name: ring, kind: bed, diameter: 0.8 m, depth: 0.3 m, water: 0.15 m, fill: gravel, fill_depth: 0.2 m}
"""
    text = BOX.replace("joints:", SIDED.lstrip() + more + "joints:").replace("- {name: sided", "  - {name: sided")
    ids = [finding.id for finding in dry(text.replace("    - {name: sided", "  - {name: sided")).findings]
    assert [id for id in ids if id.endswith("/side")] == ["member/sided/side"]


@pytest.mark.parametrize(("heat", "wet", "C_t"), [("100", "no", 1.0), ("125", "yes", 0.7), ("150", "no", 0.5)])
def test_sides_of_a_bed_are_wet_and_as_warm_as_its_rack(heat, wet, C_t):
    """NDS 2018 Table 2.3.3, wet: 850·0.9·1.3 = 994.5 psi times 1, 0.7 and 0.5; also where the rack is dry."""
    bed = SIDED.strip("\n").replace("kind: bed", "kind: bed, on: r").replace("width: 0.9 m", "width: 0.7 m")
    lines = [bed if line.startswith("  - {name: box") else line for line in BOX.splitlines()]
    text = "\n".join(lines).replace("each bay", f"each bay\n    heat: up to {heat} F\n    wet: {wet}")
    side = found(dry(text), "member/sided/side")
    assert (side.demand, side.capacity) == pytest.approx((2_272_533, C_t * 6_856_836), rel=1e-5)


def test_a_side_of_one_board():
    """A 2x12 (11.25 in) on a bed of 0.2 m: of the board 0.2 m count, it takes all; S 200·38.1²/6 = 48,387 mm³.

    Water 196.133, fill to 0.2 m 155.926: 352.059 N/m over 1.2 m: 63.3706 N·m: 1.309662 MPa.
    """
    bed = SIDED.strip("\n").replace("depth: 0.3 m", "depth: 0.2 m").replace("2x6", "2x12")
    side = found(dry(BOX.replace("joints:", f"{bed}\njoints:")), "member/sided/side")
    assert side.demand == pytest.approx(1_309_662, rel=1e-5)
    assert math.isclose(result(side, "q_1"), 352.059, rel_tol=1e-5)
