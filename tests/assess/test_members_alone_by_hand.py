"""Members under round numbers, without an assessment around them; by hand (the rack of tests/joint_cases.py).

2x8 beams (38.1 by 184.15 mm), 4x4 posts (88.9 mm) and 2x6 joists (38.1 by 139.7 mm), all wet Douglas fir-larch No.2; 0.8 m wide.
"""

from dataclasses import replace
from types import SimpleNamespace

import pytest

from brimfast.assess.members import bed_sides, deck
from brimfast.assess.members.beam import _unbraced, beams
from brimfast.assess.members.common import sag
from brimfast.assess.members.joist import joists
from brimfast.assess.members.post import _foot, _interaction, _Load, posts
from brimfast.assess.timber.service import Service
from brimfast.assess.timber.strength import adjusted, adjusted_step, strength_of_class
from brimfast.data_tables.loader import deck_panel, strength_class
from brimfast.shared.findings import not_assessed
from tests.joint_cases import HAND, Frame, acting, case, with_lines
from tests.printed import again

PSI = 6894.757


def loaded(text=HAND, frame=None, joists=3, storey=0.681744, **gravity):
    given = case(text, frame=frame)
    weight = SimpleNamespace(**vars(given.weight), joist_count=joists, tallest_storey=storey)
    return replace(given, weight=weight, gravity=SimpleNamespace(**{**vars(given.gravity), **gravity}))


def results(finding, symbol):
    return [line.result.value for line in finding.steps if line.symbol == symbol]


# Joists


def joists_of(text=HAND, count=3):
    """Tier 1 with 1000 N on a joist, over 0.6 m; what the other tier has must not count."""
    tiers = tuple(SimpleNamespace(joist_end=end, joist_line_load=5 * end) for end in (500.0, 3e6))
    on_rack = [SimpleNamespace(name="low", tier=1), SimpleNamespace(name="high", tier=2)]
    vessels = {"low": SimpleNamespace(width=0.6), "high": SimpleNamespace(width=0.2)}
    return joists(loaded(text, joists=count, tiers=tiers), 1, SimpleNamespace(on_rack=lambda name: on_rack), vessels)


def test_a_joist_under_a_kilonewton():
    """M 1000·(1.6 − 0.6)/8 = 125 N·m on 123,927 mm³; V 500 N: 1.5·500/5322.57 mm²; 1029.3075 and 157.14 psi.

    Sag: 1000·(4.096 − 1.152 + 0.216)/(384·85,943.8) = 0.0957506 mm, twice that of 800/240 mm.
    """
    strong, bent = joists_of()
    assert (strong.demand, strong.capacity) == pytest.approx((125 / 123.927e-6, 1029.3075 * PSI), rel=1e-5)
    assert results(strong, "f_v") == pytest.approx([140_909.4], rel=1e-5)
    assert dict(strong.details) == {"bending": "0.14", "shear": "0.13"}
    assert (bent.demand, bent.capacity) == pytest.approx((1.915012e-4, 3.33333e-3), rel=1e-5)


@pytest.mark.parametrize(
    ("count", "spacing", "repetitive"),
    [(3, "24 in", True), (3, "24.5 in", False), (2, "0.4 m", False), (4, "25 in", False), (3, "0.4 m", True)],
)
def test_joists_that_share(count, spacing, repetitive):
    """NDS 2018 section 4.3.9: C_r 1.15 for three and more, at most 24 in apart; 895.05 psi without."""
    strong, _ = joists_of(HAND.replace("spacing: 0.4 m", f"spacing: {spacing}"), count)
    assert results(strong, "F_b_adj") == pytest.approx([1029.3075 if repetitive else 895.05])


@pytest.mark.parametrize(
    ("beam", "allowed"),
    [("douglas fir-larch No.2", [418.75]), ("hem-fir No.2", [418.75, 271.35]), ("redwood", [418.75])],
)
def test_a_joist_on_a_beam(beam, allowed):
    """500 N on 38.1 by 38.1 mm: 344,445 Pa; C_b 1: 625·0.67 = 418.75 psi in the joist, 405·0.67 = 271.35 psi in hem-fir.

    Equal lines are written once; of redwood no table has a value.
    """
    text = HAND.replace("between beams", "on beams").replace("size: 2x6,", "size: 2x6 douglas fir-larch No.2,")
    strong, _ = joists_of(text.replace("beam: 2x8 douglas fir-larch No.2", f"beam: 2x8 {beam}"))
    assert results(strong, "f_cperp") == pytest.approx([344_445.0], rel=1e-5)
    assert results(strong, "F_bearing") == pytest.approx([psi * PSI for psi in allowed], rel=1e-5)
    assert ("bearing on the beam" in strong.details) == (beam != "redwood")


# Beams


def beams_of(runs):
    """12 kN over 3 m, 2000 N/m on a side: 562.5 N·m; 4000 N at the largest end of both sides."""
    tier = SimpleNamespace(
        loads=((0.0, 3.0, 12_000.0),), largest_end=4000.0, end_of_beam=3000.0, posts=(1.0, 2.0, 1.0), joint_worst=2000.0
    )
    return beams(loaded(HAND.replace("whole length", runs), tiers=(tier,)), 1)


@pytest.mark.parametrize(("runs", "share"), [("each bay", 1.0), ("each bay\n    beam_pairs: shared", 0.5)])
def test_a_beam_under_four_kilonewtons_a_metre(runs, share):
    """Sag 5·2000·1.5⁴/(384·196,852) = 0.669720 mm, twice that (creep) of 6.25 mm; a pair takes half each."""
    strong, bent = beams_of(runs)
    assert (results(strong, "M_1"), results(strong, "V_1")) == ([562.5 * share], [2000.0 * share])
    line = next(line for line in bent.steps if line.symbol == "delta")
    assert line.inputs["w"].value == 2000.0 * share
    assert (bent.demand, bent.capacity) == pytest.approx((1.339440e-3 * share, 6.25e-3), rel=1e-5)


def test_a_pair_on_top_of_its_posts():
    """2000/2 N on 38.1 by 88.9/2 mm = 1693.545 mm², at an end: 418.75 psi without C_b; shear 1.5·1000/7016.115 mm²."""
    strong, _ = beams_of("each bay\n    beam_pairs: shared\n    beam_seat: on top")
    assert results(strong, "f_cperp") == pytest.approx([590_477.4], rel=1e-5)
    assert results(strong, "F_bearing") == pytest.approx([418.75 * PSI], rel=1e-5)
    assert results(strong, "f_v") == pytest.approx([213_793.5], rel=1e-5)


@pytest.mark.parametrize(("bay", "C_L"), [(1.5, 0.937745), (10.0, 0.0)])
def test_the_free_edge_of_a_beam_in_one_piece(bay, C_L):
    """1.5 m: as in test_members_by_hand; 10 m: R_B² 20.6·0.18415/0.0381² = 2613 is over 50²: refused."""
    given = case()
    member = given.parts.beam
    values = adjusted(member.strength, "permanent", given.service(), member.incised)
    one = _unbraced(SimpleNamespace(rack=SimpleNamespace(bay_length=bay)), member, values, 100.0, 2e-4)
    assert (one.stress, one.allowed) == (500_000.0, pytest.approx(C_L * 972 * PSI, rel=1e-5))
    assert one.what.endswith("refused") == (C_L == 0)


# Posts


def framed(P=0.0, V=0.0):
    """Two places, of which the second is the worst; not bent."""
    frame = Frame(
        posts=acting({"P": [0.0, 0.0]}, P=[[P / 2] * 4, [P] * 4], V=[[V / 2] * 4, [V] * 4],
                     M_along=[[0.0] * 4] * 2, M_across=[[0.0] * 4] * 2)
    )  # fmt: skip
    frame.pick_balanced = lambda *levels: frame.pick(None, *levels)
    return frame


def test_a_post_under_weight_and_a_push():
    """Weight as in test_members_by_hand: 0.227544, not bent. Push: 1.168·2791.285 + 0.7·900 = 3890.221 N, 71.3924 psi, and

    350 N·m on 117,099 mm³, 433.506 psi; F_c' 1039.01, F_cE 1266.72, F_b 1836 psi, 6 e/d 4.285714:
    (71.3924/1039.01)² + (433.506 + 305.967·1.013188)/(1836·0.943640) = 0.433865. At the foot 353,184 of 7,706,960 Pa.
    """
    weight, earthquake, foot = posts(loaded(post_worst=2791.285))
    assert (weight.demand, weight.capacity) == (pytest.approx(0.227544, rel=1e-5), 1.0)
    assert next(line for line in weight.steps if line.symbol == "I").inputs["f_b"].value == 0.0
    assert (earthquake.demand, earthquake.capacity) == (pytest.approx(0.433865, rel=1e-4), 1.0)
    assert results(earthquake, "P") == pytest.approx([3890.221], rel=1e-6)
    assert (foot.demand, foot.ratio) == pytest.approx((353_184, 0.0458266), rel=1e-5)


@pytest.mark.parametrize(("storey", "what"), [(0.681744, "P"), (1.9, "slenderness of 51")])
def test_a_post_has_the_frames_push_in_an_earthquake_only(storey, what):
    """1000 N of weight, 5000 N by the frame; 2.4·1.9/0.0889 = 51.3 is over 50 and refused."""
    given = loaded(frame=framed(P=5000.0), storey=storey)
    for duration, P in (("permanent", 1000.0), ("earthquake", 5000.0)):
        found = _interaction(given, "i", "s", "q", duration, [_Load(1000.0, 0.0, ())])
        if what == "P":
            line = next(line for line in found.steps if line.symbol == "f_c")
            assert line.inputs["P"].value == P
        else:
            assert what in found.reason and (found.demand, found.capacity) == (P, 0.0)


def test_a_post_past_its_buckling_stress_carries_nothing():
    """80,000/7903.21 mm² = 10.1225 MPa = 1468 psi; F_cE 0.822·522,000/18.4047² = 1267 psi."""
    found = _interaction(loaded(), "i", "s", "q", "permanent", [_Load(80_000.0, 0.0, ())])
    assert "its stress of 1,468 psi is past the stress at which it buckles, 1,267 psi" in found.reason
    assert (found.demand, found.capacity) == (80_000.0, 0.0)


def test_a_post_says_its_tallest_storey():
    """0.7 m = 28 in; 2.4·700/88.9 = 18.9."""
    given = loaded(with_lines("    upper_tiers: [{deck_height: 60 in}]"), storey=0.7)
    found = _interaction(given, "i", "s", "q", "permanent", [_Load(1000.0, 0.0, ())])
    note = next(line for line in found.steps if line.symbol == "C_P").note
    assert "slenderness 18.9, over the tallest storey, 28 in, K_e 2.4" in note


def test_shear_of_a_post_by_the_frame():
    """1.5·3000/7903.21 mm² = 569,389 Pa of 180·1.6·0.97 = 279.36 psi; without a frame nobody knows it."""
    *_, shear = posts(loaded(frame=framed(P=1000.0, V=3000.0), post_worst=1000.0))
    assert shear.id.endswith("post/shear")
    assert (shear.demand, shear.capacity) == pytest.approx((569_389.0, 279.36 * PSI), rel=1e-5)
    assert len(posts(loaded(post_worst=1000.0))) == 3


@pytest.mark.parametrize(("sill", "ratio"), [("2x6 hem-fir No.2", 0.172186), ("2x6 redwood", 0.0458266)])
def test_a_foot_on_a_sill(sill, ratio):
    """The middle post's 2818.721 N on 7903.21 mm²: 356,655 Pa of hem-fir's 405·0.67·1.107143 = 300.42 psi; redwood is in no table."""
    feet = f"    feet: {{anchored: yes, sill: {sill}, bolt: 0.5 in x 7.5 in}}"
    given = loaded(with_lines(feet), post_worst=2791.285, posts=(1800.0, 2818.721, 300.0))
    assert _foot(given, "i", "s").ratio == pytest.approx(ratio, rel=1e-4)


# Deck and sides of beds

SHEET = deck_panel(23 / 32 * 0.0254)


def test_the_densest_vessel_presses_the_deck(monkeypatch):
    """200 kg on 0.04 m²: 49,033.25 Pa, 900 kg on 1.2 m² 7355 Pa; the deck itself 103.302 Pa; 1e4 kg stand on another tier."""
    masses, areas = {"box": 900.0, "pot": 200.0, "other": 1e4}, {"box": 1.2, "pot": 0.04, "other": 0.01}
    vessels = {name: SimpleNamespace(mass=mass) for name, mass in masses.items()}
    on_rack = [SimpleNamespace(name=name, tier=2 if name == "other" else 1) for name in masses]
    monkeypatch.setattr(deck, "standing_area", lambda vessel, weight: areas[vessel.name])
    installation = SimpleNamespace(on_rack=lambda name: on_rack)
    w, _ = deck.deck_load(case(), 1, installation, vessels)
    assert w == pytest.approx(49_136.55, rel=1e-6)
    strong, bent = deck.deck(case(), 1, installation, vessels)
    names = [value.name for value in strong.values]
    assert (
        len(names) == 4 and names[0].startswith("panel capacities") and names == [one.name for one in bent.values[:4]]
    )


@pytest.mark.parametrize(
    ("span", "spans", "wet", "w_b", "w_s", "governs"),
    [
        (0.3, 3, True, 490.644, 327.320, "shear"),
        (0.3, 2, True, 392.516, 314.228, "shear"),
        (0.6, 3, False, 163.548, 203.417, "bending"),
    ],
)
def test_what_a_sheet_carries(span, spans, wet, w_b, w_s, governs):
    """APA D510, 48/24: 120 (96)·845/l²·0.9 and 20 (19.2)·250/(l − 1.5)·0.9, wet times 0.75; l 11.811 or 23.622 in."""
    allowed, what, lines = deck._strength(SHEET, span, spans, wet)
    assert [line.result.value for line in lines] == pytest.approx([w_b, w_s], rel=1e-5)
    assert [line.inputs["l"].value for line in lines] == pytest.approx([span / 0.0254] * 2)
    assert (allowed, what) == (pytest.approx(min(w_b, w_s) * 47.880259, rel=1e-5), governs)
    assert lines[0].note == f"span rating 48/24, {spans} spans" + (" or more" if spans == 3 else "")


@pytest.mark.parametrize(("wet", "inches"), [(True, 0.00326987), (False, 0.00277939)])
def test_how_far_a_sheet_sags(wet, inches):
    """7458.29 Pa = 155.770 psf·10.561024⁴/(1743·400,000) = 0.00277939 in, wet over 0.85."""
    delta, line = deck._deflection(SHEET, 7458.29, 0.3, 3, wet)
    assert (delta, line.result.value) == pytest.approx((inches * 0.0254, inches), rel=1e-5)
    assert [line.inputs[name].value for name in "wl"] == pytest.approx([155.770, 11.811024], rel=1e-5)


@pytest.mark.parametrize(
    ("length", "spans"), [(0.2, (1,)), (1.4, (1, 2)), (2.0, (2,)), (2.3, (2, 3)), (3.5, (3,)), (7.0, (3,))]
)
def test_spans_of_a_deck(length, spans):
    """The formulas know one, two and three or more."""
    assert deck._spans(length, 1.0) == spans


def test_beds_that_have_straight_sides_of_their_own(monkeypatch):
    monkeypatch.setattr(bed_sides, "_side", lambda vessel, *_: not_assessed(vessel.name, "t", "s", "q", "force", "r"))
    vessels = [
        SimpleNamespace(name=f"{kind} {weighed} {round}", kind=kind, weighed=weighed, round=round, on="")
        for kind in ("bed", "tank")
        for weighed in (False, True)
        for round in (False, True)
    ]
    found = bed_sides.bed_findings(SimpleNamespace(vessels=vessels, racks={}), None)
    assert [one.id for one in found] == ["bed False False"]


# As written down


def test_most_sag_is_written_down():
    """2.4 m over 240: 10 mm."""
    line = sag("i", "s", 0.001, 2.4, True, (), ()).steps[-1]
    assert (line.symbol, line.result.value, again(line)) == ("delta_max", pytest.approx(0.01), pytest.approx(0.01))


@pytest.mark.parametrize("which", ["F_b", "F_t", "F_v", "F_cperp", "F_c"])
@pytest.mark.parametrize("incised", [False, True])
def test_lines_of_european_strengths_follow_from_their_inputs(which, incised):
    strength = strength_of_class(strength_class("C24"))
    line = adjusted_step(which, strength, adjusted(strength, "permanent", Service(True), incised))
    assert again(line) == pytest.approx(line.result.value, rel=1e-9)
