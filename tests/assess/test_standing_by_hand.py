"""Weights, bodies, tipping, sliding, anchors and floors at numbers where each term counts: what mutants found, by hand."""

from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest

from brimfast.assess import anchors, combinations, stability
from brimfast.assess.anchors import anchor_findings, anchor_tension
from brimfast.assess.bodies import Anchoring, Direction, FreeBody, Sloshing, bearing, rack_offsets
from brimfast.assess.continuous_beam import bending_moment, continuous_reactions, within
from brimfast.assess.demand.force import Force
from brimfast.assess.demand.standard import standard_named
from brimfast.assess.demand.vertical import Vertical
from brimfast.assess.floor import (
    mean_pressure,
    post_on_joist,
    post_on_slab,
    post_pressure,
    posts_on_joist,
    strip_pressure,
)
from brimfast.assess.gravity import Gravity
from brimfast.assess.parts import FloorParts, FrictionUsed
from brimfast.assess.pipeline import standing
from brimfast.assess.sliding import attachment_finding, sliding_finding, sliding_resistance
from brimfast.assess.stability import exempt_bodies, stability_findings
from brimfast.assess.tipping import overturning_moment, resisting_moment, tipping_acceleration, tipping_finding
from brimfast.assess.wall_support import counted_tie
from brimfast.assess.weight import _gusset_masses, grain_mass, water_in_fill
from brimfast.shared.constants import FOOT, GRAVITY, INCH, POUND_FORCE
from brimfast.shared.findings import Value, step
from brimfast.shared.installation.rack import WallTie
from brimfast.shared.installation.site import Site
from tests.builders import GUSSETED, RACK, TIERS, WEIGHED, dry, found, read
from tests.printed import again

LB = POUND_FORCE
LIVE = FloorParts(2000.0, Value("live load", "2 kPa", "t", "given in the file"))
WAVES = Value("waves", "1", "t", "published")
SHAKES = Vertical(0.2, "S_DS", 0.9, "", "")  # 0.18 of the weight up and down


def stood(text):
    """Weights and bodies of an installation; nothing shakes."""
    return standing(read(text).installation)


def gravity(*posts):
    return Gravity((), posts, sum(posts))


def printed(finding, symbol):
    return next(line.result.value for line in finding.steps if line.symbol == symbol)


# The floor


@pytest.mark.parametrize(
    ("row", "k"),
    [
        ((1, 0.5), 1.0),
        ((2, 2.3), 1.0153125),  # (8 − 2.3)²/32
        ((2, 2.4), 1.0),  # (8 − 2.4)²/32 = 0.98: one alone
        ((2, 2.0), 1.125),
        ((3, 1.5), 1.5),  # 1.5·2 − 1.5
        ((4, 1.0), 2.0625),  # 4·(1 − 0.5/4)/2 = 1.75: 1.75·1.75 − 1
        ((3, 2.5), 1.0),  # two do not come near enough: (8 − 2.5)²/32 = 0.945
        ((5, 1.5), 1.5),  # three of the five
        ((5, 3.0), 1.0),
        ((3, 4.0), 1.0),
    ],
)
def test_posts_anywhere_on_a_joist(row, k):
    """AISC Table 3-23, moving loads, span 4 m, P 1: two a apart P (2 L − a)²/(8 L), else the middle one of an odd row in the middle."""
    assert posts_on_joist(4.0, 1.0, (row,)) == pytest.approx(k)
    assert posts_on_joist(4.0, 1000.0, ((2, 2.4), row)) == pytest.approx(1000 * k)


def test_no_place_of_a_row_is_worse():
    """Four 0.9 m apart pushed along 4 m in steps of 5 mm: by reactions and moments under each."""
    worst = 0.0
    for start in np.arange(-2.7, 4.0, 0.005):
        there = [place for place in start + 0.9 * np.arange(4) if 0 <= place <= 4]
        R = sum(1 - place / 4 for place in there)
        worst = max([worst, *(R * at - sum(max(at - place, 0.0) for place in there) for at in there)])
    assert posts_on_joist(4.0, 1.0, ((4, 0.9),)) == pytest.approx(worst, abs=1e-4)


def test_pressures():
    """3000 N over (2.5 ft)² = 0.5806 m²: 5166.7 Pa; under 0.1 x 0.05 m 600 kPa, under a plate of 0.2 m 75 kPa.

    6000 N over 1.5 x 0.762 m: 5249.3 Pa; a rack shorter than the patch over (0.762 m)²: 10333.4 Pa."""
    assert float(mean_pressure(300.0, 0.25)) == 1200.0
    parts = SimpleNamespace(post=SimpleNamespace(width=0.1, thickness=0.05))
    posts = gravity(1000.0, 3000.0, 2000.0)
    bare, plated = (post_pressure("r", posts, parts, plate, LIVE) for plate in (None, 0.2))
    assert bare.demand == plated.demand == pytest.approx(5166.7, abs=0.1)
    assert bare.ratio == pytest.approx(2.58335, rel=1e-4)
    assert (printed(bare, "p_foot"), printed(plated, "p_foot")) == pytest.approx((600e3, 75e3))
    long, short = (strip_pressure("r", posts, length, LIVE) for length in (1.5, 0.6))
    assert (long.demand, short.demand) == pytest.approx((5249.3, 10333.4), abs=0.1)
    assert long.capacity == 2000.0
    for floor in (FloorParts(None, LIVE.value), FloorParts(2000.0, None)):
        unknown = strip_pressure("r", posts, 1.5, floor)
        assert (unknown.verdict, unknown.demand) == ("not assessed", pytest.approx(5249.3, abs=0.1))


@pytest.mark.parametrize(
    ("plate", "slab", "punches", "bears"),
    [(4.0, 5.0, 4788.0, 14571.4), (None, 5.0, 3078.0, 2049.1), (None, 2.0, 0.0, 2049.1)],
)
def test_slab_under_a_post(plate, slab, punches, bears):
    """ACI 318-19 14.5.5, 14.5.6, 2500 psi: 0.6/1.4·2.66·50 = 57: 57·4·(4 + 3)·3 and 0.6/1.4·0.85·2500·16; of a 2x4 its 1.5 in."""
    parts = SimpleNamespace(post=SimpleNamespace(width=3.5 * INCH, thickness=1.5 * INCH))
    size = plate * INCH if plate else None
    finding = post_on_slab("r", gravity(400.0 * LB, 700.0 * LB), parts, size, slab * INCH)
    assert finding.demand / LB == pytest.approx(700.0)
    assert finding.capacity / LB == pytest.approx(min(punches, bears), abs=0.1)
    assert (printed(finding, "P_punch"), printed(finding, "P_bear")) == pytest.approx((punches, bears), abs=0.1)
    for line in finding.steps:
        assert again(line) == pytest.approx(line.result.value)
    unknown = post_on_slab("r", gravity(400.0, 700.0), parts, size, None)
    assert (unknown.verdict, unknown.demand) == ("not assessed", 700.0)


def test_joist_under_a_post():
    """2x10 Douglas fir-larch No.2 at permanent load: 900·0.9·1.1 = 891 psi times 1.5·9.25²/6 = 21.3906 in³: 19059 lb in; 12 ft
    span, posts 5 ft apart, 3 in a row: P (24 − 5)²/96 = 3.7604 P, all three P·(1.5·6 − 5) = 4 P; 28.5 in apart across: two
    P (24 − 2.375)²/96 = 4.87126 P ft."""
    text = RACK.replace(
        "floor: {kind: timber floor}",
        "floor: {kind: timber floor, joist_size: 2x10 douglas fir-larch No.2, joist_span: 12 ft}",
    )
    assessment = dry(text)
    finding = found(assessment, "floor/r/joist")
    assert finding.capacity / (LB * INCH) == pytest.approx(19059, abs=1)
    assert finding.demand == pytest.approx(4.87126 * FOOT * assessment.gravity["r"].post_worst, rel=1e-5)
    assert finding.steps[0].inputs["k"].value == pytest.approx(0.405938, rel=1e-5)
    assert "(3 posts 60 in apart, 2 posts 28.5 in apart)" in finding.steps[0].source
    joist = assessment.resolved.floor.joist
    spanless = post_on_joist("r", assessment.gravity["r"], joist, None, ())
    weak = post_on_joist("r", assessment.gravity["r"], replace(joist, strength=None), 3.6, ())
    assert (spanless.verdict, weak.verdict) == ("not assessed", "not assessed")


# Weights


def test_what_is_in_a_fill():
    """2 m²: 0.25 m of water in 0.2 m of fill of 40 %: 2·(0.08 + 0.05); 0.15 m in it: 2·0.06. Grains: 2·0.2·0.6·2650."""
    assert water_in_fill(2.0, [0.25, 0.15], 0.2, 0.4) == pytest.approx([0.26, 0.12])
    assert float(grain_mass(2.0, 0.2, 0.4, 2650.0)) == pytest.approx(636.0)


BED = "{name: bed, kind: bed, on: r, length: 2 m, width: 0.8 m, depth: 0.3 m, water: 0.25 m, fill: gravel, fill_depth: 0.2 m, kit: 7 kg}"
TUB = (
    "{name: tank, kind: tank, diameter: 1.2 m, depth: 0.8 m, water: 0.6 m, kit: 5 kg, stand: {height: 0.5 m, mass: 30 kg}, "
    "lid: {fastenings: 12, allowable: 400 lb, source: t, mass: 9 kg}}"
)
ANCHORS = "{count: 4, tension: 400 lb, shear: 300 lb, source: t}"
SUMP = "{name: tank, kind: sump, length: 1 m, width: 0.5 m, depth: 0.8 m, water: 0.6 m, empty_mass: 21 kg, fill: sand, fill_depth: 0.7 m}"


def with_vessels(bed=BED, tank=TUB):
    lines = []
    for line in RACK.splitlines():
        if "name: bed" in line:
            line = f"  - {bed}"
        elif "name: tank" in line:
            line = f"  - {tank}"
        lines.append(line)
    return "\n".join(lines[: lines.index("pumps:")]) + "\n"


def parts_of(text, name):
    vessel = stood(text).vessels[name]
    return vessel, {part.part: (part.mass, part.height) for part in vessel.weighing.parts}


def test_bed_by_hand():
    """1.6 m², 5.6 m round, walls 38.1 mm of 641 kg/m³: (5.6·0.0381 + 4·0.0381²)·0.3·641 = 42.146; liner (1.6 + 1.68)·1.5 = 4.92.

    Grains 1.6·0.2·0.6·2650 = 508.8; water 1.6·0.4·0.2 and 1.6·0.05 above, from 0.2 to 0.25 m; the rim at 1.6·(0.08 + 0.1) = 0.288.
    """
    bed, parts = parts_of(with_vessels(), "bed")
    assert parts["walls"] == pytest.approx((42.1457, 0.15), rel=1e-5)
    assert parts["liner"] == pytest.approx((4.92, 0.1))
    assert parts["fill (gravel)"] == pytest.approx((508.8, 0.1))
    assert parts["water in the fill"] == pytest.approx((128.0, 0.1))
    assert parts["water"] == pytest.approx((80.0, 0.225))
    assert parts["kit"] == pytest.approx((7.0, 0.3))
    assert len(parts) == 6
    assert (bed.area, bed.water_volume, bed.headroom) == pytest.approx((1.6, 0.208, 0.08))
    assert bed.brim_mass - bed.mass == pytest.approx(80.0)
    assert bed.base_area == pytest.approx(2.0762 * 0.8762)
    total = 42.1457 + 4.92 + 508.8 + 128 + 80 + 7
    moment = 42.1457 * 0.15 + (4.92 + 508.8 + 128) * 0.1 + 80 * 0.225 + 7 * 0.3
    assert (bed.mass, bed.height) == pytest.approx((total, moment / total), rel=1e-6)


def test_round_tank_on_a_stand_by_hand():
    """Wall 9.525 mm of 950 kg/m³: π·(1.2·0.009525 + 0.009525²)·0.8·950 = 27.507; bottom π/4·1.21905²·0.009525·950 = 10.561.

    0.5 m up: walls at 0.9 m, bottom at 0.5 + 0.0047625, water π/4·1.44·0.6 = 0.678584 m³ at 0.5 + 0.009525 + 0.3, kit and lid
    at the rim, 1.3 m, the stand at 0.25 m; the rim π/4·1.44·0.2 m³ higher.
    """
    tank, parts = parts_of(with_vessels(), "tank")
    assert parts["walls"] == pytest.approx((27.5068, 0.9), rel=1e-5)
    assert parts["bottom"] == pytest.approx((10.5614, 0.5047625), rel=1e-5)
    assert parts["water"] == pytest.approx((678.584, 0.809525), rel=1e-5)
    assert parts["kit"] == pytest.approx((5.0, 1.3))
    assert parts["lid"] == pytest.approx((9.0, 1.3))
    assert parts["stand"] == pytest.approx((30.0, 0.25))
    assert len(parts) == 6
    assert (tank.area, tank.headroom) == pytest.approx((1.130973, 0.226195), rel=1e-5)
    assert tank.base_area == pytest.approx(1.167168, rel=1e-5)  # π/4·1.21905²


def test_sump_by_its_empty_mass():
    """0.5 m²: sand 0.5·0.7·0.6·2650 = 556.5 kg, water in it 0.5·0.6·0.4 = 0.12 m³ at 0.3 m over the 6.35 mm bottom, none above."""
    sump, parts = parts_of(with_vessels(tank=SUMP), "tank")
    assert parts["empty vessel"] == pytest.approx((21.0, 0.4))
    assert parts["fill (sand)"] == pytest.approx((556.5, 0.35635))
    assert parts["water in the fill"] == pytest.approx((120.0, 0.30635))
    assert len(parts) == 3
    assert sump.headroom == pytest.approx(0.07)  # 0.5·(0.7·0.4 + 0.1) − 0.12


def test_as_weighed():
    """What does not say how much it holds counts as all water; the kit comes on top, and stands at its centre of mass."""
    metric = WEIGHED.replace("mass: 500 lb, centre_of_mass: 30 in", "mass: 200 kg, kit: 10 kg, centre_of_mass: 0.7 m")
    tank, parts = parts_of(metric, "tank")
    assert parts == {"as weighed": (200.0, pytest.approx(0.7)), "kit": (10.0, pytest.approx(0.7))}
    assert (tank.mass, tank.height) == pytest.approx((210.0, 0.7))
    assert tank.water_volume == pytest.approx(50 * 231 * INCH**3)
    assert (tank.headroom, tank.area) == (0.0, 0.0)
    unsaid, _ = parts_of(metric.replace(", holds: 50 gal", ""), "tank")
    assert unsaid.water_volume == pytest.approx(0.2)


def test_gussets_by_hand():
    """Two triangles of 14 + 7.25 in: 21.25²·15/32 = 211.67 in³ of 577 kg/m³: 2.0014 kg; fillers 2·14·3.5·1.5 = 147 in³ of 572.43:
    1.3789; four of them. Their middle is a third of 14 in under the beam's, at 26 − 23/32 − 3.625 = 21.656 in."""
    _, parts = parts_of_rack(GUSSETED)
    assert parts["gussets"] == pytest.approx((4 * 3.3803, 16.98958 * INCH), rel=1e-4)
    rack = SimpleNamespace(gussets=[SimpleNamespace(leg=0.4, thickness=0.012, storey=2)], beam_seat="on top")
    own = SimpleNamespace(
        post=SimpleNamespace(width=0.1), beam=SimpleNamespace(width=0.2, thickness=0.04, density=500.0)
    )
    # 0.6²·0.012·577 = 2.49264; on top of the posts there is nothing to fill
    assert _gusset_masses(rack, own, (0.7, 1.5)) == [pytest.approx((2.49264, 1.5 - 0.4 / 3))]
    own.post.width = 0.25  # the wider of the two: 0.65²·0.012·577; fillers 2·0.4·0.25·0.04·500 = 4
    rack.beam_seat = "on the side"
    assert _gusset_masses(rack, own, (0.7, 1.5)) == [pytest.approx((2.92539 + 4, 1.5 - 0.4 / 3))]


def parts_of_rack(text):
    rack = stood(text).racks["r"]
    return rack, {part.part: (part.mass, part.height) for part in rack.weighing.parts}


def test_heights_of_a_racks_parts():
    """26 in to the deck's top, 23/32 of plywood, joists 5.5 between beams 7.25 deep; the second deck 34 in higher.

    Braces by their lengths: 33.94 at 15.656 (knees), 63.79 + 2·63.79 + 38.64 at 10.828, 68.96 + 2·68.96 + 46.69 at 38.656 in.
    Panels 25.281 in high at 12.641, 34 in at 42.281.
    """
    rack, parts = parts_of_rack(TIERS)
    inches = {name: height / INCH for name, (_, height) in parts.items()}
    assert inches["posts"] == pytest.approx(42.0)
    assert inches["beams, tier 1"] == pytest.approx(21.65625)
    assert inches["joists, tier 1"] == pytest.approx(22.53125)
    assert inches["deck, tier 1"] == pytest.approx(25.640625)
    assert inches["joists, tier 2"] == pytest.approx(56.53125)
    assert inches["braces"] == pytest.approx(24.7801, abs=1e-3)
    assert inches["panels"] == pytest.approx(29.640625)
    assert [rack.storey(2), rack.face(2), rack.storey(1)] == [
        pytest.approx(pair)
        for pair in (
            (21.65625 * INCH, 55.65625 * INCH),
            (25.28125 * INCH, 59.28125 * INCH),
            (0.0, 21.65625 * INCH),
        )
    ]
    assert rack.tallest_storey == pytest.approx(34 * INCH)
    assert [part.tier for part in rack.weighing.parts if part.part.startswith(("beams", "joists", "deck"))] == [
        *[1] * 3,
        *[2] * 3,
    ]


def test_masses_of_a_racks_parts():
    """Timber of 35.74 lb/ft³: posts 6·84·12.25, rails 304·5.25 and 120·5.25, braces 517.53·5.25, beams 240·10.875, joists
    11·32·8.25 in³; plywood of 577 kg/m³: deck 120·32·23/32 = 2760, panels 32·15/32·59.281 = 889.22 in³; beams in pairs twice."""
    _, parts = parts_of_rack(TIERS)
    pounds = {name: mass * GRAVITY / LB for name, (mass, _) in parts.items()}
    timber = {
        "posts": 127.70,
        "rail 1": 33.01,
        "rail 2": 13.03,
        "braces": 56.20,
        "beams, tier 2": 53.98,
        "joists, tier 1": 60.06,
    }
    assert {name: pounds[name] for name in timber} == pytest.approx(timber, rel=1e-3)
    assert (parts["deck, tier 1"][0], parts["panels"][0]) == pytest.approx((26.0967, 8.4080), rel=1e-4)
    _, pairs = parts_of_rack(RACK.replace("    beam_runs", "    beam_pairs: shared\n    beam_runs"))
    assert pairs["beams"][0] * GRAVITY / LB == pytest.approx(107.95, rel=1e-3)


def test_joists_on_beams_sill_and_kit():
    """On the beams: their middle under the joists: 26 − 0.71875 − 5.5 − 3.625 = 16.15625 in. Sills 2·120 in of 1.5 x 5.5, 35.74
    lb/ft³: 1980/1728·35.74 = 40.95 lb at 0.75 in; the kit on the deck. Joists at 13 in over 120: 10 spaces, 11; at 12: 11; at 16: 9.
    """
    text = RACK.replace("seat: between beams", "seat: on beams").replace(
        "    beam_runs: each bay",
        "    beam_runs: each bay\n    kit: 40 lb\n    feet: {anchored: yes, sill: 2x6 douglas fir-larch No.2}",
    )
    rack, parts = parts_of_rack(text)
    assert parts["beams"][1] / INCH == pytest.approx(16.15625)
    assert parts["sills"] == pytest.approx((40.95 * LB / GRAVITY, 0.75 * INCH), rel=1e-3)
    assert parts["kit"] == pytest.approx((40 * LB / GRAVITY, 26 * INCH))
    assert next(part.tier for part in rack.weighing.parts if part.part == "kit") == 1
    counts = [stood(RACK.replace("spacing: 12 in", f"spacing: {s} in")).racks["r"].joist_count for s in (12, 13, 16)]
    assert counts == [11, 11, 9]


def test_what_hangs_pulls_where_it_hangs():
    """From rail 2 at 80 in; without a rail from the top, 84 in; what hangs elsewhere is not the rack's."""
    text = (
        TIERS
        + """
hung:
  - {name: light, from: r, rail: 2, mass: 10 kg, drop: 20 in, clearance: 20 in}
  - {name: fan, from: r, mass: 4 kg, drop: 10 in, hangers: 1}
  - {name: pot, from: ceiling, mass: 9 kg, drop: 5 ft, clearance: 40 in, hangers: 4}
"""
    )
    _, parts = parts_of_rack(text)
    assert parts["hung: light"] == pytest.approx((10.0, 80 * INCH))
    assert parts["hung: fan"] == pytest.approx((4.0, 84 * INCH))
    assert "hung: pot" not in parts
    # the posts share all that hangs on them, but each carries all of what hangs from the rack
    loaded, bare = stood(text).gravity["r"], stood(TIERS).gravity["r"]
    assert [a - b for a, b in zip(loaded.posts, bare.posts, strict=True)] == pytest.approx([14 * GRAVITY] * 3)
    assert loaded.total - bare.total == pytest.approx(14 * GRAVITY)


# Where the weight goes


def weighed(name, mass, size, more=""):
    return f"{{name: {name}, kind: tank, on: r, mass: {mass} kg, centre_of_mass: 0.3 m, footprint: {size}{more}}}"


def loaded_rack(runs="each bay"):
    """10 ft long in two bays; 120 kg from 1 to 4 ft, behind it (4 to 6 ft) 60 kg, 40 kg from 7 ft to 8 ft; 30 kg on the floor."""
    rows = [
        weighed("a", 120, "3 ft x 1 ft", ", offset: 1 ft"),
        weighed("b", 60, "2 ft x 1 ft"),
        weighed("c", 40, "1 ft x 1 ft", ", offset: 7 ft"),
        weighed("d", 30, "1 ft x 1 ft").replace(" on: r,", ""),
    ]
    text = RACK.replace("beam_runs: each bay", f"beam_runs: {runs}")
    return f"{text[: text.index('vessels:')]}vessels:\n" + "".join(f"  - {row}\n" for row in rows)


def spread_mass(assessment, *names):
    return sum(part.mass for part in assessment.racks["r"].weighing.parts if part.part in names)


@pytest.mark.parametrize("runs", ["each bay", "whole length"])
def test_posts_and_joints_by_hand(runs):
    """Left end of a: (5 − 2.5)/5 of 120 = 60; b in bay 1: 30 kg at 4.5 ft, 3 and 27; in bay 2 at 0.5 ft, 27 and 3; c at 2.5 ft: 20, 20.

    Bays carry s/2 each of what is spread: ends 63 + s/4, 87 + s/4, then 47 + s/4, 23 + s/4, half to each side.
    In one piece the middle post has more: a: M L = −(120/3)·[25·(16 − 1)/2 − (256 − 1)/4]/(4·25)·5, and so on.
    """
    assessment = stood(loaded_rack(runs))
    s = spread_mass(assessment, "beams", "joists", "deck")
    own = spread_mass(assessment, "posts") / 6
    found_ = assessment.gravity["r"]
    tier = found_.tiers[0]
    simple = [63 + s / 4, 134 + s / 2, 23 + s / 4]
    if runs == "each bay":
        posts, joint, post = simple, (87 + s / 4) / 2, 2
        added, largest = 0.0, 87 + s / 4
    else:
        # moment over the middle post by w [2 L² (b² − a²) − (b⁴ − a⁴)]/(16 L²) from the outer ends, ft and kg:
        # a 40·(50·15 − 255)/400 = 49.5; b 30·(50·9 − 369)/400 = 6.075, twice; c, from 2 to 3 ft, 40·(50·5 − 65)/400 = 18.5
        M = 49.5 + 2 * 6.075 + 18.5 + s / 10 * 25 / 8
        added = 2 * M / 5
        posts, post = [simple[0], simple[1] + added, simple[2]], 2
        joint, largest = (simple[1] + added) / 2, 87 + s / 4 + added
        assert tier.joint_added == pytest.approx(added / 2 * GRAVITY)
    assert [one / GRAVITY for one in found_.posts] == pytest.approx([one / 2 + own for one in posts])
    assert tier.joint_worst / GRAVITY == found_.joint_worst / GRAVITY == pytest.approx(joint)
    assert tier.joint_worst_post == post
    assert (tier.joint_simple + tier.joint_added) / GRAVITY == pytest.approx(joint)
    assert tier.side_weight / GRAVITY == pytest.approx((220 + s) / 2)
    assert tier.end_of_beam / GRAVITY == pytest.approx(63 + s / 4)
    assert tier.largest_end / GRAVITY == pytest.approx(largest)
    assert found_.total / GRAVITY == pytest.approx(220 + s + 6 * own)
    # a weighs 40 kg a foot, c as much, b 30; and a foot of joists and deck
    line = (40 + spread_mass(assessment, "joists", "deck") / 10) * GRAVITY
    assert tier.joist_line_load == pytest.approx(line / FOOT)
    assert tier.joist_end == pytest.approx(line / 2)


def test_heavy_at_the_other_end():
    """The same from the right end: 87 + s/4 at the right bay's left end, half to a side."""
    text = loaded_rack().replace("offset: 7 ft", "offset: 2 ft").replace("offset: 1 ft", "offset: 6 ft")
    text = text.replace("2 ft x 1 ft}", "2 ft x 1 ft, offset: 4 ft}")
    assessment = stood(text)
    tier, s = assessment.gravity["r"].tiers[0], spread_mass(assessment, "beams", "joists", "deck")
    assert (tier.joint_worst / GRAVITY, tier.joint_worst_post) == (pytest.approx((87 + s / 4) / 2), 2)
    assert tier.largest_end / GRAVITY == pytest.approx(87 + s / 4)
    assert tier.end_of_beam / GRAVITY == pytest.approx(63 + s / 4)
    body, own = assessment.bodies[0], assessment.racks["r"].mass
    place = (120 * 7.5 + 60 * 5 + 40 * 2.5 + own * 5) / (220 + own)
    assert body.directions[0].arm / FOOT == pytest.approx(10 - place)


def test_an_empty_tier():
    """Only its own joists and deck over 10 ft; of each foot half to an end."""
    assessment = stood(RACK.replace("    beam_runs", "    upper_tiers: [{deck_height: 60 in}]\n    beam_runs"))
    empty = assessment.gravity["r"].tiers[1]
    own = spread_mass(assessment, "joists, tier 2", "deck, tier 2") * GRAVITY
    assert empty.joist_line_load == pytest.approx(own / (10 * FOOT))
    assert empty.joist_end == pytest.approx(own / 20)


def test_centre_of_a_rack_of_two_tiers():
    """The bed at 26 in, the trays at 60 in, each with its own centre above that."""
    assessment = stood(TIERS)
    rack, bed, trays = assessment.racks["r"], assessment.vessels["bed"], assessment.vessels["trays"]
    up = (
        bed.mass * (26 * INCH + bed.height) + trays.mass * (60 * INCH + trays.height) + rack.mass * rack.weighing.height
    )
    assert assessment.bodies[0].height == pytest.approx(up / (bed.mass + trays.mass + rack.mass))


def test_worst_of_two_tiers():
    """Each tier by itself: the lower carries the bed, the upper the trays; the posts carry both."""
    found_ = stood(TIERS).gravity["r"]
    low, high = found_.tiers
    assert (low.joint_worst > high.joint_worst, found_.worst_tier) == (True, 1)
    assert found_.loads == low.loads and len(high.loads) == 2
    assert (found_.side_weight, found_.joint_worst_post) == (low.side_weight, low.joint_worst_post)
    for one in ("end_of_beam", "largest_end", "joist_end", "joist_line_load"):
        assert getattr(found_, one) == getattr(low, one) > getattr(high, one)
    swapped = replace(found_, tiers=(high, low))
    assert (swapped.worst_tier, swapped.joint_worst, swapped.end_of_beam) == (2, low.joint_worst, low.end_of_beam)


def test_offsets_and_bearing():
    """b begins where a ends; a round one of 2 m at 1 m bears on its middle π/4: 0.2146 m in from either end."""
    assessment = stood(loaded_rack())
    offsets = rack_offsets(assessment.installation, "r")
    assert [offsets[name] / FOOT for name in "abc"] == pytest.approx([1.0, 4.0, 7.0])
    assert rack_offsets(stood(TIERS).installation, "r") == {"bed": 0.0, "trays": 0.0}
    assert bearing(SimpleNamespace(footprint=None, diameter=2.0, round=True), 1.0) == pytest.approx(
        (1.214602, 2.785398)
    )
    assert bearing(SimpleNamespace(footprint=(2.0, 1.0), round=False), 1.0) == (1.0, 3.0)


def test_rack_as_one_body():
    """Centre along: 120 at 2.5, 60 at 5, 40 at 7.5, the rack at 5 ft; up: the vessels at 26 in + 0.3 m; across 32 − 3.5 in."""
    text = loaded_rack().replace(
        "    beam_runs",
        "    feet: {anchored: yes, anchors_per_post: 2, tension: 700 lb, shear: 600 lb, source: t}\n    beam_runs",
    )
    assessment = stood(text)
    body = next(one for one in assessment.bodies if one.kind == "rack")
    rack = assessment.racks["r"]
    assert body.mass == pytest.approx(220 + rack.mass)
    assert body.weight == pytest.approx((220 + rack.mass) * 9.80665)
    up = (220 * (26 * INCH + 0.3) + rack.mass * rack.weighing.height) / body.mass
    place = (120 * 2.5 + 60 * 5 + 40 * 7.5 + rack.mass * 5) / body.mass
    assert body.height == pytest.approx(up)
    along, across = body.directions
    assert (along.base / FOOT, along.arm / FOOT) == pytest.approx((10, place))
    assert (across.base / INCH, across.arm / INCH) == pytest.approx((28.5, 14.25))
    assert (along.anchors_effective, across.anchors_effective) == (4.0, 6.0)  # two posts at an end, three along a side
    assert (body.anchoring.count, body.anchoring.into, body.anchoring.source) == (12, "the floor", "t")
    assert body.base_area == pytest.approx(10 * FOOT * 32 * INCH)
    assert (body.component, body.tied) == ("unbraced rack", False)
    assert next(one for one in stood(TIERS).bodies if one.kind == "rack").component == "braced rack"
    one_way = RACK.replace(
        "    beam_runs", "    braces: [{face: left, member: 2x4}, {face: right, member: 2x4}]\n    beam_runs"
    )
    assert next(one for one in stood(one_way).bodies if one.kind == "rack").component == "unbraced rack"
    kinds = {one.name: (one.kind, one.on) for one in assessment.bodies}
    assert kinds["a"] == ("vessel on rack", "r") and kinds["d"] == ("floor vessel", "floor")


@pytest.mark.parametrize(
    ("anchored", "square", "circle"),
    [
        ("", 0.0, 0.0),
        (", anchors: {count: 3}", 0.0, 0.0),
        (", anchors: {count: 4}", 2.0, 1.5),
        (", anchors: {count: 6}", 2.0, 2.25),
    ],
)
def test_anchors_that_pull(anchored, square, circle):
    """Two at the edge that lifts, of four at the corners (more are not counted); on a circle Σ (d/D)² = 0.375 N from four on."""
    box = next(one for one in stood(WEIGHED.replace(", holds: 50 gal", anchored)).bodies if one.name == "tank")
    assert [(one.anchors_effective, one.base, one.arm) for one in box.directions] == [
        (square, pytest.approx(4 * FOOT), pytest.approx(2 * FOOT)),
        (square, pytest.approx(1.5 * FOOT), pytest.approx(0.75 * FOOT)),
    ]
    assert (box.anchoring is None) == (anchored == "")
    assert box.anchoring is None or box.anchoring.into == "the floor"
    tub = TUB.replace(", stand: {height: 0.5 m, mass: 30 kg}", anchored)
    ring = next(one for one in stood(with_vessels(tank=tub)).bodies if one.name == "tank")
    (direction,) = ring.directions
    assert (direction.anchors_effective, direction.base, direction.arm) == (
        circle,
        pytest.approx(1.21905),
        pytest.approx(0.609525),
    )


def test_what_stands_on_a_stand_of_its_own_size():
    """0.6 x 0.9 m: half of either to its edges, 0.54 m² to press through; anchors into the deck where it stands on one."""
    tub = TUB.replace("mass: 30 kg}", "mass: 30 kg, footprint: 0.6 m x 0.9 m}")
    bodies = {one.name: one for one in stood(with_vessels(BED.replace("kit: 7 kg", f"anchors: {ANCHORS}"), tub)).bodies}
    tank, bed = bodies["tank"], bodies["bed"]
    assert [(one.name, one.base, one.arm) for one in tank.directions] == [
        ("along its stand", pytest.approx(0.6), pytest.approx(0.3)),
        ("across its stand", pytest.approx(0.9), pytest.approx(0.45)),
    ]
    assert tank.base_area == pytest.approx(0.54)
    assert [one.name for one in bed.directions] == ["along its length", "across its width"]
    assert bed.base_area == pytest.approx(2.0762 * 0.8762)
    held = bed.anchoring
    assert (held.count, held.tension / LB, held.shear / LB) == (4, pytest.approx(400), pytest.approx(300))
    assert (held.source, held.into, bodies["rack r"].anchoring) == ("t", "the deck", None)


# Beams over several posts


def test_parts_of_loads_between_two_places():
    """400 N over 4 m from 0: between 1 and 3 m 200 N; what ends where it begins is not in it."""
    loads = [(0.0, 4.0, 400.0), (2.5, 5.0, 100.0), (0.0, 1.0, 70.0), (3.0, 4.0, 80.0)]
    assert within(loads, 1.0, 3.0) == [(0.0, 2.0, 200.0), (1.5, 2.0, pytest.approx(20.0))]


@pytest.mark.parametrize(
    ("start", "end", "simple", "M", "at", "here"),
    [
        (0.4, 1.2, [480.0, 320.0, 0.0], -128.0, 0.8, 252.8),  # 416·0.8 − 1000·0.4²/2
        (2.4, 3.2, [0.0, 480.0, 320.0], -144.0, 3.4, 148.8),  # 248·0.6
    ],
)
def test_two_spans_with_a_load_on_one(start, end, simple, M, at, here):
    """Spans of 2 m, 1000 N/m over 0.8 m: M over the middle post −∫ w x (L² − x²)/(4 L²) dx, x from the outer end.

    x 0.4 to 1.2: 1000·[4·1.28/2 − 2.048/4]/16 = 128; 0.8 to 1.6: 1000·[4·1.92/2 − 6.144/4]/16 = 144 N m.
    """
    loads = [(start, end, 800.0)]
    plain, added = continuous_reactions(2.0, 2, loads)
    assert plain == pytest.approx(simple)
    assert added == pytest.approx([M / 2, -M, M / 2])
    places = np.array([at, 2.0])
    assert bending_moment(2.0, 2, loads, places, continuous=True) == pytest.approx([here, M])


def test_moments_bay_by_bay():
    """480·0.8 − 1000·0.4²/2 = 304 in the first bay, nothing over the post nor in the second; 200 N over 1 m in the third: 25 at
    its middle (w L²/8, L 1)."""
    places = np.array([0.8, 2.0, 3.0])
    assert bending_moment(2.0, 2, [(0.4, 1.2, 800.0)], places, continuous=False) == pytest.approx([304.0, 0.0, 0.0])
    assert bending_moment(1.0, 3, [(2.0, 3.0, 200.0)], np.array([0.5, 2.5]), continuous=False) == pytest.approx(
        [0.0, 25.0]
    )


def test_three_spans_with_a_load_on_the_first():
    """Beam tables, one end span of three loaded by w: 0.4333, 0.65, −0.1, 0.0167 w L; M −0.0667 and 0.0167 w L²."""
    plain, added = continuous_reactions(1.0, 3, [(0.0, 1.0, 1.0)])
    assert plain + added == pytest.approx([0.433333, 0.65, -0.1, 0.016667], abs=1e-5)
    over = bending_moment(1.0, 3, [(0.0, 1.0, 1.0)], np.array([1.0, 2.0, 3.0]), continuous=True)
    assert over == pytest.approx([-1 / 15, 1 / 60, 0.0], abs=1e-9)


# Tipping, sliding, anchors


def slosh(force, moment, index=False):
    return Sloshing(force, moment, index, (step("M_wave", "1", {}, 1.0),), (WAVES,))


def a_body(directions=None, name="tank", kind="floor vessel", anchoring=None, tied=False, component="vessel"):
    """1000 N, its centre 1.2 m up, 0.8 m wide."""
    own = directions or (Direction("across its width", 0.8, 0.4, 2.0),)
    friction = FrictionUsed("plastic", "concrete", 0.3, 0.5, Value("friction", "", "t", "published"))
    return FreeBody(name, kind, "floor", component, 1000 / GRAVITY, 1.2, own, friction, anchoring, 0.8, tied)


def a_force(name="tank", horizontal=300.0, overstrength=2.0):
    line = step("F_p", "300", {}, horizontal)
    return Force(name, 1000.0, horizontal, 180.0, overstrength, "row", "the formula", "basis", (line,), ())


def test_combinations_where_each_term_counts():
    """0.2·0.9 = 0.18: 0.9 − 0.18, 0.6 − 0.126, 1 + 0.126, 1.2 + 0.18."""
    shares = [
        getattr(combinations, name)(SHAKES)
        for name in ("strength_resisting", "allowable_resisting", "allowable_down", "strength_down")
    ]
    assert [float(one) for one in shares] == pytest.approx([0.72, 0.474, 1.126, 1.38])


@pytest.mark.parametrize(
    ("strength", "allowable", "worse"),
    [
        ((10.0, 5.0), (3.0, 2.0), 0),  # 2 and 1.5
        ((10.0, 5.0), (5.0, 2.0), 1),  # 2 and 2.5
        ((10.0, 5.0), (4.0, 2.0), 1),  # alike: the allowable level
        ((10.0, 5.0), (4.0, 0.0), 1),  # nothing resists
        ((10.0, 0.0), (4.0, 2.0), 0),
    ],
)
def test_the_worse_level(strength, allowable, worse):
    demand, capacity, said = combinations.worse_level(strength, allowable, SHAKES)
    assert (demand, capacity) == (strength, allowable)[worse]
    assert said.endswith(("1.0 E_h", "0.7 E_h")[worse])


@pytest.mark.parametrize(("sloshing", "M"), [(None, 360.0), (slosh(1.0, 450.0), 450.0), (slosh(1.0, 324.0), 360.0)])
def test_tipping_with_and_without_waves(sloshing, M):
    """300 N at 1.2 m, or the waves' moment; against 0.474·1000·0.4 = 189.6 at 0.7 of it, 288 at all of it; lifts from 0.33 g on."""
    finding = tipping_finding(a_body(), Direction("across its width", 0.8, 0.4, 2.0, sloshing), a_force(), SHAKES)
    assert (finding.demand, finding.capacity) == pytest.approx((0.7 * M, 189.6))
    assert finding.ratio == pytest.approx(0.7 * M / 189.6)
    assert (printed(finding, "M_OT_strength"), printed(finding, "M_R_strength")) == pytest.approx((M, 288.0))
    assert printed(finding, "a_tip") == pytest.approx(1 / 3)
    assert finding.details["starts to tip at"] == "0.33 g"
    assert finding.details.get("sloshing over all water rigid") == {450.0: "1.25"}.get(M, "0.90" if sloshing else None)
    assert ("water sloshes" in finding.basis, "all water rigid" in finding.basis) == (
        M == 450.0,
        bool(sloshing) and M == 360.0,
    )
    assert finding.basis.startswith("basis; (0.6 - 0.14 S_DS) D + 0.7 E_h")
    assert finding.values == ((WAVES,) if sloshing else ())


@pytest.mark.parametrize(
    ("waves", "F", "over", "high"),
    [((), 300.0, None, "0.89"), ((330.0, 360.0), 360.0, "1.20", "1.06"), ((240.0, 270.0), 300.0, "0.90", "0.89")],
)
def test_sliding_with_and_without_waves(waves, F, over, high):
    """0.3·0.474·1000 = 142.2 against 0.7 F; 0.3·0.72·1000 = 216 against F; with 0.5 0.7·300/237 = 0.89 or 0.7·360/237 = 1.06."""
    ways = tuple(Direction(f"way {force}", 0.8, 0.4, 2.0, slosh(force, 1.0)) for force in waves)
    finding = sliding_finding(a_body(ways), a_force(), SHAKES)
    assert (finding.demand, finding.capacity) == pytest.approx((0.7 * F, 142.2))
    assert printed(finding, "R_strength") == pytest.approx(216.0)
    assert finding.details["ratio with the high friction"] == high
    assert finding.details.get("sloshing over all water rigid") == over
    assert ("water sloshes" in finding.basis, "all water rigid" in finding.basis) == (over == "1.20", over == "0.90")
    assert (
        finding.basis.startswith("basis; (0.6 - 0.14 S_DS) D + 0.7 E_h")
        and "friction of plastic on concrete" in finding.basis
    )
    assert finding.details["starts to slide at"] == "0.30 to 0.50 g"


def test_sliding_where_nothing_presses_down():
    """0.6 − 0.7 is nothing, and so is friction; 0.3·0.5·200 = 30 else."""
    finding = sliding_finding(a_body(), a_force(), Vertical(1.0, "k_v", 1.0, "", ""))
    assert (finding.verdict, finding.capacity, finding.ratio) == ("short", 0.0, None)
    assert finding.details["ratio with the high friction"] == "no friction counts"
    assert sliding_resistance(0.3, 200.0, [0.5, -0.1]) == pytest.approx([30.0, 0.0])


def the_anchors(count=4, tension=393.0, shear=210.0):
    return Anchoring(count, tension, shear, "table", "the floor")


def test_tension_of_the_anchor_that_pulls_most():
    """(504 − 189.6)/(0.8·2) = 196.5; nothing where the weight holds."""
    assert anchor_tension([504.0, 100.0], 189.6, 0.8, 2.0) == pytest.approx([196.5, 0.0])


@pytest.mark.parametrize(
    ("sloshing", "T", "V"),
    [(None, 196.5, 105.0), (slosh(360.0, 450.0), 275.25, 126.0), (slosh(240.0, 300.0), 196.5, 105.0)],
)
def test_anchors_with_and_without_waves(sloshing, T, V):
    """Ω₀ 2: 0.7·2·360 = 504, of waves 0.7·2·450 = 630; shear 0.7·2·300/4, 0.7·2·360/4. ACI 318-19 17.8.3: the sum of the ratios."""
    body = a_body((Direction("across its width", 0.8, 0.4, 2.0, sloshing),), anchoring=the_anchors())
    tension, shear, together = anchor_findings(body, a_force(), SHAKES)
    assert (tension.demand, tension.capacity) == pytest.approx((T, 393.0))
    assert (shear.demand, shear.capacity) == pytest.approx((V, 210.0))
    pushed = "F_push" if sloshing else "F"
    assert shear.steps[-1].inputs[pushed].value == pytest.approx(V * 4 / 1.4)
    assert (together.demand, together.capacity) == pytest.approx((T / 393 + V / 210, 1.2))


def test_the_worst_direction_counts_with_shear():
    """Along 1.6 m: 504 less 0.474·800 = 379.2 over 3.2: 39; together 196.5/393 + 105/210 = 1.0 of 1.2. Without one value not asked."""
    ways = (Direction("along its length", 1.6, 0.8, 2.0), Direction("across its width", 0.8, 0.4, 2.0))
    found_ = anchor_findings(a_body(ways, anchoring=the_anchors()), a_force(), SHAKES)
    assert [one.demand for one in found_] == pytest.approx([39.0, 196.5, 105.0, 1.0])
    assert found_[-1].ratio == pytest.approx(0.833333, rel=1e-5)
    for missing in ({"tension": None}, {"shear": None}):
        ids = [one.id for one in anchor_findings(a_body(anchoring=the_anchors(**missing)), a_force(), SHAKES)]
        assert not any("together" in one for one in ids)
    unknown = a_body((Direction("across its width", 0.8, 0.4, 0.0),), anchoring=the_anchors())
    assert anchor_findings(unknown, a_force(), SHAKES)[0].verdict == "not assessed"


@pytest.mark.parametrize(
    ("by_frame", "balances", "sloshing", "T", "V"),
    [
        (150.0, True, None, 150.0, 150.0),  # the frame's tension counts, the larger shear
        (90.0, True, None, 90.0, 105.0),
        (150.0, False, None, 196.5, 150.0),
        (150.0, True, slosh(360.0, 450.0), 275.25, 150.0),  # waves beyond all water rigid: the larger
        (150.0, True, slosh(240.0, 300.0), 150.0, 150.0),
    ],
)
def test_anchors_by_the_frame(monkeypatch, by_frame, balances, sloshing, T, V):
    """Of what is known: 12 anchors on 6 feet, 2 each."""
    asked = []

    def foot(frame, what, way, each):
        asked.append((what, way, each))
        return by_frame, step(what, "1", {}, by_frame)

    monkeypatch.setattr(anchors, "foot_by_frame", foot)
    frame = SimpleNamespace(
        balances=lambda way: balances, pick=lambda way, *names: [0], feet=SimpleNamespace(where=[None] * 2)
    )
    way = Direction("across the rack", 0.8, 0.4, 2.0, sloshing)
    body = a_body((way,), "rack r", "rack", the_anchors())
    tension, shear, _ = anchor_findings(body, a_force("rack r"), SHAKES, frame)
    assert (tension.demand, shear.demand) == pytest.approx((T, V))
    assert asked == [("N", "across", 2.0)] * balances + [("H", None, 2.0)]


def test_required_values_are_not_confirmed():
    said = replace(the_anchors(), source="required: t")
    tension, shear, _ = anchor_findings(a_body(anchoring=said), a_force(), SHAKES)
    for one in (tension, shear):
        assert "against a required value" in one.question
        assert "not yet confirmed" in one.details["allowable value"]
    plain = anchor_findings(a_body(anchoring=the_anchors()), a_force(), SHAKES)[0]
    assert "required" not in plain.question and not plain.details


# Which checks a body gets


def asce(**keys):
    site = Site(standard="asce7-16", **{"S_DS": 1.0, **keys})
    return site, standard_named("asce7-16").motion(site)


BOTH_WAYS = (Direction("along the rack", 3.0, 1.5, 2.0), Direction("across the rack", 0.8, 0.4, 3.0))


def ids(bodies, acting=None, joined=(), **keys):
    forces = {body.name: a_force(body.name) for body in bodies}
    return [one.id for one in stability_findings(tuple(bodies), forces, *asce(**keys), acting, joined)]


def test_what_is_asked_of_a_body():
    """Free: tips either way, slides, attachment; tied to a wall not across; anchored only its anchors."""
    free = a_body(BOTH_WAYS, "rack r", "rack", component="braced rack")
    along, across = "tipping/rack r/along the rack", "tipping/rack r/across the rack"
    assert ids([free]) == [along, across, "sliding/rack r", "attachment/rack r"]
    assert ids([free], S_DS=0.2) == [along, across, "sliding/rack r"]  # category B: exempt
    assert ids([replace(free, tied=True)]) == [along, "sliding/rack r", "attachment/rack r"]
    assert all(one.startswith("anchors/") for one in ids([replace(free, anchoring=the_anchors())]))


def test_each_body_gets_its_own(monkeypatch):
    """A rack's anchors know its frame, a vessel of the same name does not; what comes after an anchored body is checked too."""
    frames = []
    monkeypatch.setattr(stability, "anchor_findings", lambda *given: frames.append(given[-1]) or [])
    rack = a_body(BOTH_WAYS, "rack r", "rack", the_anchors())
    vessel = a_body(name="r", anchoring=the_anchors())
    last = a_body(name="last")
    assert ids([rack, vessel, last], acting={"r": "its frame"})[-1] == "attachment/last"
    assert frames == ["its frame", None]


def test_two_racks_tip_as_one_where_their_frame_stands():
    """Each 300 N at 1.2 m, 1000 N, 0.8 m: 600 N, 2000 N and 0.8 m to either edge: 0.7·720 against 0.474·2000·0.8 = 758.4."""
    r, s, other = (a_body(BOTH_WAYS, f"rack {name}", "rack") for name in "rst")
    forces = {body.name: a_force(body.name) for body in (r, s, other)}
    site, shaking = asce(S_DS=0.9)

    def across(bodies, acting, joined):
        found_ = stability_findings(bodies, forces, site, shaking, acting, joined)
        return {one.subject: (one.demand, one.capacity) for one in found_ if "across" in one.id}

    pairs = stability_findings((r, s), forces, site, shaking, {"r": None, "s": None}, (("r", "s"),))
    assert [one.details.get("as one with") for one in pairs if "across" in one.id] == ["rack s", "rack r"]
    both = {"r": None, "s": None}
    alone, pair = (pytest.approx(252.0), pytest.approx(189.6)), (pytest.approx(504.0), pytest.approx(758.4))
    bodies = (r, s, other)
    assert across(bodies, both, (("r", "s"),)) == {"rack r": pair, "rack s": pair, "rack t": alone}
    more = [replace(body, name=f"rack {name}") for body, name in ((r, "u"), (s, "v"))]
    forces |= {body.name: a_force(body.name) for body in more}
    four = across((r, s, *more), dict.fromkeys("rsuv"), (("r", "s"), ("u", "v")))
    assert four == dict.fromkeys(("rack r", "rack s", "rack u", "rack v"), pair)
    assert across(bodies, {"r": None}, (("r", "s"),)) == dict.fromkeys(("rack r", "rack s", "rack t"), alone)
    assert across(bodies, None, (("r", "s"),))["rack r"] == alone
    assert across(bodies, both, ()) == dict.fromkeys(("rack r", "rack s", "rack t"), alone)
    assert across((r, replace(s, tied=True), other), both, (("r", "s"),)) == {"rack t": alone}


def test_of_whom_no_attachment_is_asked():
    """Category B, I_p 1: of nobody; eight are named; in the open and of what is anchored nothing is said."""
    bodies = [a_body(name=f"t{number}") for number in range(9)]
    site, shaking = asce(S_DS=0.2)
    (said,) = exempt_bodies(tuple(bodies), site, shaking)
    assert "t7 and others" in said and "t8" not in said
    (said,) = exempt_bodies(tuple(bodies[:8]), site, shaking)
    assert "t7" in said and "others" not in said
    (said,) = exempt_bodies((bodies[0], replace(bodies[1], anchoring=the_anchors())), site, shaking)
    assert "t0" in said and "t1" not in said
    assert exempt_bodies(tuple(bodies), *asce(S_DS=1.0)) == ()
    assert exempt_bodies(tuple(bodies), *asce(S_DS=0.2, setting="in the open")) == ()


def test_the_codes_position_on_attachment():
    """In a building: short by the code; on a rack in the open as in a building, else not assessed there."""
    body = a_body()
    inside = attachment_finding(body, a_force(), *asce())
    assert (inside.verdict, inside.demand, inside.capacity, inside.code_position) == ("short", 300.0, 0.0, True)
    assert [(one.name, one.text) for one in inside.values] == [("when an attachment is asked for", "category D")]
    outside = attachment_finding(body, a_force(), *asce(setting="in the open"))
    assert (outside.verdict, outside.demand) == ("not assessed", 300.0)
    carried = attachment_finding(replace(body, kind="vessel on rack"), a_force(), *asce(setting="in the open"))
    assert carried.verdict == "short"
    assert attachment_finding(body, a_force(), *asce(S_DS=0.2)) is None


# The wall


def tie(height=0.9, **more):
    return WallTie(
        **{"height": f"{height} m", "count": 3, "into": "stud", "diameter": "0.375 in", "length": "5 in", **more}
    )


@pytest.mark.parametrize(
    ("ties", "height"),
    [
        ([], None),
        ([tie(0.6), tie(0.9), tie(0.7)], 0.9),
        ([tie(0.6), tie(0.9, into="unknown")], 0.6),
        ([tie(0.6), tie(0.9, diameter="0.22 in")], 0.6),
        ([tie(length="54.9 mm", rail="30 mm", gypsum="20 mm")], None),  # 4.9 mm into the stud
        ([tie(length="55.1 mm", rail="30 mm", gypsum="20 mm")], 0.9),
        ([tie(length="45 mm", rail="30 mm", gypsum="20 mm")], None),
    ],
)
def test_ties_that_count(ties, height):
    """Into studs, of a size that the tables know, more than 5 mm in; the highest."""
    found_ = counted_tie(SimpleNamespace(wall_ties=ties))
    assert (found_.height if found_ else None) == height


def test_tipping():
    """1000 N at 1.2 m; 0.9 of 2000 N at 0.4 m, none where it is lifted off; 0.4 m over 1.2 m."""
    assert float(overturning_moment(1000.0, 1.2)) == 1200.0
    assert float(resisting_moment(2000.0, 0.4, 0.9)) == pytest.approx(720.0)
    assert float(resisting_moment(2000.0, 0.4, -0.1)) == 0.0
    assert float(tipping_acceleration(0.4, 1.2)) == pytest.approx(1 / 3)
