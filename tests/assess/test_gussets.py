"""Gussets: where their nails stand, equilibrium of the plate, what they do to the frame, arithmetic by hand."""

import math

import numpy as np
import pytest

from brimfast.assess.frame.cases import ALLOWABLE
from brimfast.assess.measures.propose import propose
from brimfast.assess.pipeline import assess
from brimfast.assess.plan.bench import changed
from brimfast.assess.timber.gusset import (
    gusset_centre,
    gusset_places,
    gusset_spacing,
    throat,
    throat_actions,
    throat_shear,
    throat_stress,
)
from brimfast.shared.constants import INCH, POUND_FORCE
from brimfast.shared.reading import read_bytes
from tests.builders import GUSSET, GUSSETED, RACK, dry, found

BARE = GUSSETED[: GUSSETED.index("    gussets:")] + GUSSETED[GUSSETED.index("    braces:") :]


def test_nails_by_hand():
    """Ten on a leg of 14 in past half a beam of 7.25 in: 14 − 3.625 − 0.75 − 1.5 = 8.125 in, two rows of five 2.03125 in apart.

    Rows 1.75 in apart on a post of 3.5 in; their middle 3.625 + 0.75 + 4.0625 = 8.4375 in below the beam's middle.
    """
    places = gusset_places(14 * INCH, 10, 3.5 * INCH, 3.625 * INCH, upright=True)
    assert gusset_spacing(14 * INCH, 10, 3.625 * INCH) == pytest.approx(2.03125 * INCH)
    assert gusset_centre(14 * INCH, 3.625 * INCH) == pytest.approx(8.4375 * INCH)
    assert np.ptp(places[:, 1]) == pytest.approx(8.125 * INCH)
    assert np.ptp(places[:, 0]) == pytest.approx(1.75 * INCH)
    assert places.mean(axis=0) == pytest.approx([0, 0], abs=1e-15)
    polar = 10 * 0.875**2 + 4 * (4.0625**2 + 2.03125**2)
    assert (places**2).sum() == pytest.approx(polar * INCH**2)
    across = gusset_places(14 * INCH, 10, 3.5 * INCH, 3.625 * INCH, upright=False)
    assert across == pytest.approx(places[:, ::-1])


def test_throat_from_either_leg_is_the_same():
    """What the post's nails give and what the beam's give balance; the throat sees the same from both."""
    generator = np.random.default_rng(3)
    a, c = 0.35, 0.21
    corner_to_post, corner_to_beam = np.array([0, -c]), np.array([0.19, 0])
    middle = np.array([a / 4, -a / 4])
    for H, V, M in generator.normal(size=(20, 3)):
        arm = corner_to_beam - corner_to_post
        M_beam = -(M - (arm[0] * V - arm[1] * H))
        N, S, M_t = throat_actions(H, V, M, a, c)
        to_beam = corner_to_beam - middle
        from_beam = M_beam + to_beam[0] * -V - to_beam[1] * -H
        assert M_t == pytest.approx(-from_beam, abs=1e-12)
        assert pytest.approx(((H + V) / math.sqrt(2), (H - V) / math.sqrt(2))) == (N, S)


def test_a_push_along_the_throats_normal_is_a_strut():
    N, S, M = throat_actions(100.0, 100.0, 0.0, 0.4, 0.2)
    assert pytest.approx((141.421356, 0.0, 0.0)) == (N, S, M)


def test_stresses_by_hand():
    """t 12 mm, h 250 mm: 1000 N is 0.333 MPa, 50 N·m 0.4 MPa more; shear 1.5 · 0.333 = 0.5 MPa."""
    assert throat_stress(-1000.0, 50.0, 0.012, 0.25) == pytest.approx(1000 / 0.003 + 6 * 50 / (0.012 * 0.0625))
    assert throat_shear(-1000.0, 0.012, 0.25) == pytest.approx(0.5e6)
    assert throat(0.25 * math.sqrt(2)) == pytest.approx(0.25)


def test_in_the_frame_the_plate_balances():
    """Post's nails and beam's nails give the plate forces and moments that add up to nothing, in every case."""
    acts = dry(GUSSETED).frames["r"]
    picks = acts.pick(None, *ALLOWABLE)
    post, beam = (acts.gusset_nails(leg).total for leg in ("post", "beam"))
    leg = 14 * INCH
    aside, below = gusset_centre(leg, 1.75 * INCH), gusset_centre(leg, 3.625 * INCH)
    size = np.abs(post["H"][:, picks]).max()
    for name in "HV":
        assert (post[name] + beam[name])[:, picks] == pytest.approx(0.0, abs=1e-6 * size)
    # about the post's nails; the beam's stand beside and above
    turn = post["M"] + beam["M"] + aside * beam["V"] - below * beam["H"]
    assert turn[:, picks] == pytest.approx(0.0, abs=0.02 * size * leg)  # joist stations within 3 cm stand in


def test_gussets_hold_the_rack_along():
    bare, stiff = dry(BARE), dry(GUSSETED)
    for id in ("sway/r/along", "joint/r/beam to post/earthquake"):
        assert found(stiff, id).demand < found(bare, id).demand
    assert stiff.frames["r"].periods[0] < bare.frames["r"].periods[0]
    assert stiff.frames["r"].periods[1] == pytest.approx(bare.frames["r"].periods[1], rel=0.02)


def test_longer_legs_take_more_and_sway_less():
    texts = [GUSSETED.replace("leg: 14 in", f"leg: {leg} in") for leg in (14, 16, 18)]
    sway = [found(dry(text), "sway/r/along").demand for text in texts]
    assert sway == sorted(sway, reverse=True)


def test_weak_nails_are_short():
    gentle = GUSSETED.replace("S_DS: 1.0", "S_DS: 0.4")
    few = gentle.replace(GUSSET, GUSSET.replace("nails: 10", "nails: 4"))
    one, other = (found(dry(text), "joint/r/gusset/earthquake") for text in (gentle, few))
    assert (one.verdict, other.verdict) == ("holds", "short")
    assert other.demand > one.demand  # fewer nails stand nearer each other, so the same turn asks more of each
    assert other.capacity == pytest.approx(one.capacity)


def test_a_nail_by_the_yield_limit():
    """0.131 in through 15/32 in of plywood (G 0.42) into Douglas fir-larch (G 0.50), wet: Z' = Z · 1.6 · 0.7.

    NDS 2018 (12.3-1) to (12.3-6) by hand: F_em 4650 and F_es 3363 psi (16,600 G^1.84), F_yb 100 ksi, R_d 2.2, l_m 1.5 in,
    l_s 0.469 in: R_e 1.379, R_t 3.2; III_s governs: k_3 = −1 + √(2 (1 + R_e)/R_e + 2 F_yb (2 + R_e) D²/(3 F_em l_s²)) = 1.704;
    Z = k_3 D l_s F_em/((2 + R_e) R_d) = 1.704 · 0.131 · 0.469 · 4650/(3.379 · 2.2) = 65.5 lb.
    """
    finding = found(dry(GUSSETED), "joint/r/gusset/earthquake")
    R_e = 0.5**1.84 / 0.42**1.84
    F_em, F_es = 16600 * 0.5**1.84, 16600 * 0.42**1.84
    k_3 = -1 + math.sqrt(2 * (1 + R_e) / R_e + 2 * 100e3 * (2 + R_e) * 0.131**2 / (3 * F_em * 0.46875**2))
    Z = k_3 * 0.131 * 0.46875 * F_em / ((2 + R_e) * 2.2)
    assert F_es == pytest.approx(3363, rel=1e-3)
    assert finding.capacity / POUND_FORCE == pytest.approx(Z * 1.6 * 0.7, rel=0.01)


def test_without_a_frame_nothing_is_said_of_them():
    text = RACK.replace(
        "    beam_runs: each bay", f"    beam_runs: each bay\n    gussets: [{{face: front, bay: 1, {GUSSET}}}]"
    ).replace("2x8 douglas fir-larch No.2", "2x8 redwood")
    finding = found(dry(text), "joint/r/gusset/earthquake")
    assert finding.verdict == "not assessed"
    assert "needs the frame" in finding.reason


def test_a_gusset_weighs():
    """Two triangles of 14 in and a beam's 7.25 in a side, 15/32 in of 577 kg/m³, eight of them, and fillers of 14 in."""
    with_them, without = (dry(text).racks["r"].weighing for text in (GUSSETED, BARE))
    side = 21.25 * INCH
    plates = 8 * side**2 / 2 * 15 / 32 * INCH * 577
    mass = with_them.mass - without.mass
    fillers = mass - plates
    beam = 8 * 14 * INCH * 3.5 * INCH * 1.5 * INCH
    assert 400 < fillers / beam < 900  # kg/m³ of wood beside water


def test_the_measure_builds_what_the_file_may_hold():
    source = read_bytes(BARE.encode(), "t")
    before = assess(source.installation)
    measures = [one for one in propose(before) if "/gussets " in one.id]
    assert len(measures) == 2
    for measure in measures:
        after = assess(changed(source.raw, [measure]))
        assert len(after.installation.racks["r"].gussets) == 4
        assert found(after, "sway/r/along").demand < found(before, "sway/r/along").demand
