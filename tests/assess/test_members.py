"""Timber members and floors: hand arithmetic and laws."""

import json

import numpy as np
import pytest

from brimfast.assess.continuous_beam import bending_moment
from brimfast.assess.floor import posts_on_joist, slab_bearing, slab_punching
from brimfast.assess.members.bed_sides import lowest_share, side_thrust
from brimfast.assess.timber.beam import centred_deflection, centred_moment
from brimfast.assess.timber.column import bending_and_compression, buckling_stress, column_stability
from brimfast.reports.json_face import as_json
from brimfast.shared.constants import FOOT, GRAVITY, INCH, POUND_FORCE, PSI
from tests.builders import RACK, assessed, dry, found

LB = POUND_FORCE


def test_moments_of_simple_and_continuous_spans():
    places = np.linspace(0, 2, 401)
    simple = bending_moment(1.0, 2, [(0.0, 2.0, 2.0)], places, continuous=False)
    both = bending_moment(1.0, 2, [(0.0, 2.0, 2.0)], places, continuous=True)
    assert simple.max() == pytest.approx(1 / 8)
    assert both.min() == pytest.approx(-1 / 8)  # over the middle post
    assert both.max() == pytest.approx(9 / 128, rel=1e-4)  # beam tables: 0.0703 w l²


def test_partly_loaded_span_ends_in_the_known_cases():
    assert float(centred_moment(8.0, 2.0, 2.0)) == pytest.approx(8 * 2 / 8)
    assert float(centred_moment(8.0, 2.0, 0.0)) == pytest.approx(8 * 2 / 4)
    assert float(centred_deflection(8.0, 2.0, 2.0, 1.0)) == pytest.approx(5 * 8 * 2**3 / 384)
    assert float(centred_deflection(8.0, 2.0, 0.0, 1.0)) == pytest.approx(8 * 2**3 / 48)


def test_beam_stress_by_hand():
    """First bay wholly under the bed: w l²/8 of half the rack's line load on a 2x8, S = 13.14 in³."""
    assessment = dry(RACK)
    parts = {part.part: part.mass for part in assessment.racks["r"].weighing.parts}
    line = assessment.vessels["bed"].mass / (9 * FOOT) + (parts["beams"] + parts["joists"] + parts["deck"]) / (
        10 * FOOT
    )
    M = line * GRAVITY / 2 * (5 * FOOT) ** 2 / 8
    beam = next(step for step in found(assessment, "member/r/beam").steps if step.symbol == "f_b")
    assert beam.result.value / PSI == pytest.approx(M / (13.14 * INCH**3) / PSI, rel=1e-3)


def test_posts_of_a_swaying_rack_buckle_sooner():
    braced = RACK.replace(
        "    beam_runs: each bay",
        """    beam_runs: each bay
    braces:
      - {face: front, member: 2x4 hem-fir No.2}
      - {face: back, member: 2x4 hem-fir No.2}
      - {face: left, member: 2x4 hem-fir No.2}
      - {face: right, member: 2x4 hem-fir No.2}""",
    )
    assert found(dry(RACK), "member/r/post/weight").ratio > found(dry(braced), "member/r/post/weight").ratio


def test_side_thrust_by_hand():
    # 0.3 m of water: 9.81 x 0.09/2 = 0.441 kN/m; gravel grains 0.6 x 2650 kg/m³ on it at rest: 0.5 x 15.59 x 0.09/2 = 0.351
    assert float(side_thrust(0.3, 0.0, 0.0)) == pytest.approx(441.3, abs=0.1)
    assert float(side_thrust(0.3, 0.3, 0.6 * 2650 * GRAVITY)) == pytest.approx(441.3 + 350.8, abs=0.2)
    assert float(lowest_share(0.15, 0.30)) == pytest.approx(0.75)
    assert float(lowest_share(0.30, 0.30)) == 1.0


def test_slab_by_hand():
    """2,500 psi, 4 in slab (2 in counts), 3.5 in foot: 0.6/1.4 x 2.66 x 50 x 4 x 5.5 x 2 = 2,508 lb by punching;
    bearing 0.6/1.4 x 0.85 x 2,500 x 12.25 = 11,156 lb."""
    assert float(slab_punching(2500 * PSI, 3.5 * INCH, 4 * INCH)) / LB == pytest.approx(2508, abs=1)
    assert float(slab_bearing(2500 * PSI, 12.25 * INCH**2)) / LB == pytest.approx(11156, abs=1)
    assert float(slab_punching(2500 * PSI, 3.5 * INCH, 2 * INCH)) == 0.0
    text = RACK.replace("floor: {kind: timber floor}", "floor: {kind: slab on grade, slab_thickness: 4 in}")
    finding = found(dry(text), "floor/r/slab")
    assert finding.capacity / LB == pytest.approx(2508, abs=1)


def test_posts_on_one_joist_by_hand():
    """Span 4 m: one post 1.0 P m; two 0.9 m apart P (2·4 - 0.9)²/(8·4) = 1.5753 P m (AISC Table 3-23, two moving loads)."""
    assert posts_on_joist(4.0, 1.0, ()) == pytest.approx(1.0)
    assert posts_on_joist(4.0, 1.0, ((2, 0.9),)) == pytest.approx(1.5753125)
    assert posts_on_joist(4.0, 1.0, ((3, 1.5),)) == pytest.approx(1.5)
    text = RACK.replace(
        "floor: {kind: timber floor}",
        "floor: {kind: timber floor, joist_size: 2x10 douglas fir-larch No.2, joist_span: 12 ft}",
    )
    assert found(dry(text), "floor/r/joist").ratio > 0
    assert "measure" in found(dry(RACK), "floor/r/joist").reason


def test_a_post_that_buckles_at_once_is_short_without_a_ratio():
    """15 x 15 mm posts: the stress passes the buckling stress, so there is no finite ratio; the JSON stays valid."""
    assessment = assessed(RACK.replace("post: 4x4 douglas fir-larch No.2", "post: 15x15 mm C16"))
    post = found(assessment, "member/r/post/weight")
    assert post.verdict == "short"
    assert post.ratio is None
    assert json.loads(as_json(assessment, "si"), parse_constant=pytest.fail)


def test_beam_too_slender_for_its_standard_is_short_not_nothing():
    """NDS 2018 3.3.3.7: R_B over 50 is refused: 36x300 mm over bays of 18 ft, its bottom edge free: √(2.06·5.49·0.3/0.036²) = 51."""
    text = RACK.replace("each bay", "whole length").replace("bay_length: 5 ft", "bay_length: 18 ft")
    text = text.replace("beam: 2x8 douglas fir-larch No.2", "beam: 36x300 mm douglas fir-larch No.2")
    text = (
        text.replace("room: {length: 24 ft", "room: {length: 40 ft").replace("26 in", "36 in").replace("9 ft", "22 ft")
    )
    bending = [f for f in dry(text).findings if f.id.startswith("member/r/beam") and "R_B" in str(f)]
    assert any(finding.verdict == "short" and "over 50" in str(finding) for finding in bending)


@pytest.mark.parametrize(
    ("post", "deck", "weight", "earthquake"),
    [
        ("2x4", "26 in", "", ""),
        ("2x3", "31 in", "", "past the stress at which it buckles"),
        ("2x2", "31 in", "past the stress at which it buckles", "past the stress at which it buckles"),
        ("2x2", "6 ft", "over 50 (NDS 2018 section 3.7.1.4)", "over 50 (NDS 2018 section 3.7.1.4)"),
    ],
)
def test_a_thin_post_is_short_with_a_number_as_far_as_there_is_one(post, deck, weight, earthquake):
    """Up to its buckling stress with one, past it and past the standard's limit with the reason; also where the frame has it."""
    text = RACK.replace("post: 4x4", f"post: {post}").replace("deck_height: 26 in", f"deck_height: {deck}")
    for name, reason in (("weight", weight), ("earthquake", earthquake)):
        finding = found(dry(text), f"member/r/post/{name}")
        assert finding.verdict == "short" and reason in finding.reason
        assert finding.ratio is None if reason else 1 < finding.ratio < 100


def test_a_round_vessel_bears_by_its_circle():
    """Geometry: W over the circle on the deck, and 4 W/(pi D) a metre in its middle, not W over D squared and W over D."""
    barrel = "{name: bed, kind: barrel, on: r, diameter: 24 in, depth: 30 in, water: 28 in}"
    text = "\n".join(f"  - {barrel}" if line.startswith("  - {name: bed") else line for line in RACK.splitlines())
    assessment = dry(text.replace("outlet: 3 in", "outlet: 29 in"))
    vessel = assessment.vessels["bed"]
    W = vessel.mass * GRAVITY
    own = assessment.resolved.racks["r"]
    deck = found(assessment, "member/r/deck").demand - own.deck_thickness * own.deck_density * GRAVITY
    assert deck == pytest.approx(W / (np.pi / 4 * vessel.length**2))
    dead = {part.part: part.mass * GRAVITY for part in assessment.racks["r"].weighing.parts}
    line = assessment.gravity["r"].joist_line_load - (dead["joists"] + dead["deck"]) / (10 * FOOT)
    assert line == pytest.approx(4 * W / (np.pi * 24 * INCH))
    assert assessment.gravity["r"].total == pytest.approx(W + sum(dead.values()))


def test_a_stud_in_compression_and_bending_by_hand():
    """2x6 southern pine No.1, 9 ft, 1,400 lb and 25 psf over 4 ft (inputs of AWC Structural Wood Design Examples E1.7).

    F_c* 1550 · 1.6 = 2480 psi, F_cE 0.822 · 580,000/19.64² = 1236 psi, C_P 0.4326, F_c' 1073; F_b' 1350 · 1.6 · 1.15 = 2484.
    f_c 1400/8.25 = 169.7, f_b 12,150/7.5625 = 1606.6: 0.1582² + 0.6468/(1 − 0.1372) = 0.7747.
    """
    slender = 9 * 12 / 5.5
    F_star, F_cE = 2480 * PSI, buckling_stress(580_000 * PSI, slender)
    F_c = F_star * column_stability(F_star, 580_000 * PSI, slender)
    index = bending_and_compression(1400 / 8.25 * PSI, F_c, F_cE, 12_150 / 7.5625 * PSI, 2484 * PSI)
    assert float(index) == pytest.approx(0.7747, abs=1e-4)
