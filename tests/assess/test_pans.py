"""Pans: how far water flies, what lands in them, balance, the floor that they cover."""

import numpy as np
import pytest
from scipy.optimize import minimize_scalar

from brimfast.assess.measures.propose import propose
from brimfast.assess.network.model import ROOM, over_rim
from brimfast.assess.network.pans import over_rim_throw, pan_nodes, seam_throw
from brimfast.assess.pipeline import assess
from brimfast.assess.plan.bench import changed
from brimfast.shared.constants import FOOT, GRAVITY, INCH
from brimfast.shared.reading import read_bytes
from tests.builders import PANNED, RACK, assessed, dry, found

BIG = PANNED.replace("length: 8 ft, width: 8 ft", "length: 12 ft, width: 12 ft")


def test_over_rim_throw_by_hand():
    """1 L/s over 0.1 m: 0.01 m²/s; critical speed ∛(9.80665 · 0.01) = 0.4611 m/s; 0.8 m fall in 0.4039 s: 0.1863 m."""
    assert over_rim_throw(0.001, 0.1, 0.8) == pytest.approx(0.1863, abs=5e-5)
    assert over_rim_throw(0.0, 0.1, 0.8) == 0.0


@pytest.mark.parametrize("H, z", [(0.6, 0.0), (0.6, 0.3), (0.6, 0.6), (0.3, 0.9)])
def test_seam_throw_is_the_farthest_of_all_heights(H, z):
    """Torricelli's jet from every height of the wall, the farthest found by scipy."""

    def reach(y):
        return np.sqrt(2 * GRAVITY * (H - y)) * np.sqrt(2 * (y + z) / GRAVITY)

    best = minimize_scalar(lambda y: -reach(y), bounds=(0.0, H), method="bounded", options={"xatol": 1e-12})
    assert seam_throw(H, z) == pytest.approx(max(-best.fun, reach(0.0)), rel=1e-6)


def test_laws_of_the_throws():
    Q = np.array([1e-4, 1e-3, 1e-2])
    assert (np.diff(over_rim_throw(Q, 0.1, 0.5)) > 0).all()
    assert over_rim_throw(8 * 1e-3, 0.1, 0.5) == pytest.approx(2 * over_rim_throw(1e-3, 0.1, 0.5))
    assert over_rim_throw(1e-3, 0.1, 4 * 0.5) == pytest.approx(2 * over_rim_throw(1e-3, 0.1, 0.5))


def run_of(assessment, event):
    """The run of an event among all, whether or not it wets the floor."""
    question = assessment.question
    return dict(zip([one.id for one in question.events], question.answer(), strict=True))[event]


def test_what_runs_over_lands_in_the_pan_and_no_water_is_lost():
    """The bed's return clogs and the pump runs on: in the pan, and past its rim onto the floor."""
    bare, panned = (run_of(assessed(text), "return clogged/pump") for text in (RACK, PANNED))
    assert bare.reached > 0
    in_pan = next(after for name, _, after in panned.held if name == "pan under rack r")
    assert in_pan > 0
    assert in_pan + panned.reached == pytest.approx(bare.reached, rel=1e-3)
    assert abs(panned.lost) < 1e-6


def test_the_pan_holds_its_area_less_what_stands_in_it():
    """8 ft square less the tank's 4 ft and two walls, 4 in high."""
    assessment = assessed(PANNED)
    finding = found(assessment, "spill/pan under tank")
    outside = assessment.vessels["tank"].base_area
    assert finding.capacity == pytest.approx(((8 * FOOT) ** 2 - outside) * 4 * INCH, rel=1e-9)


def test_a_burst_passes_the_pan():
    assert run_of(assessed(PANNED), "rupture/tank").reached == pytest.approx(
        run_of(assessed(RACK), "rupture/tank").reached, rel=1e-6
    )


def test_a_torn_seam_is_caught_only_where_the_pan_reaches_as_far_as_its_jet():
    """The tank's water is 27 in deep and stands on the floor: a jet flies 27 in; the pan reaches 24 in, or 48, less 3/8 of wall."""
    near, far = (assessed(text) for text in (PANNED, BIG))
    assert near.spill.network.catches["tank"].margin == pytest.approx(23.625 * INCH, abs=1e-9)
    assert not near.spill.network.catches["tank"].torn_seam
    assert far.spill.network.catches["tank"].torn_seam
    seam = next(link for link in far.spill.network.links if link.name == "tank, torn seam")
    assert seam.target == "pan under tank"
    assert "torn seam of tank" in found(near, "spill/pan under tank").details["not counted as caught"]
    assert run_of(far, "tear/tank").reached < run_of(near, "tear/tank").reached


def test_a_pan_that_does_not_reach_far_enough_counts_for_nothing():
    small = PANNED.replace(
        "pan: {length: 13 ft, width: 6 ft, height: 4 in}", "pan: {length: 10 ft, width: 33 in, height: 4 in}"
    )
    assessment = assessed(small)
    link = next(link for link in assessment.spill.network.links if link.name == over_rim("bed"))
    assert link.target == ROOM
    finding = found(assessment, "spill/pan under rack r")
    assert finding.verdict == "not assessed"
    assert "make it larger" in finding.reason


def test_a_pan_takes_floor_from_the_room():
    """The safe side: what it covers holds no pond."""
    bare, panned = (assessed(text).spill.room.area for text in (RACK, PANNED))
    covered = (13 * 6 + 64) * FOOT**2 - assessed(PANNED).vessels["tank"].base_area
    assert bare - panned == pytest.approx(covered, rel=1e-9)


def test_what_stands_in_a_pan_slides_on_a_wet_bottom():
    assert assessed(PANNED).resolved.vessels["tank"].friction.on == "smooth floor"
    assert assessed(PANNED).resolved.racks["r"].friction.on == "smooth floor"


def test_a_higher_pan_is_never_worse():
    ratios = [
        found(assessed(PANNED.replace("height: 4 in", f"height: {high} in")), "spill/pan under rack r").ratio
        for high in (1, 2, 4, 8)
    ]
    assert ratios == sorted(ratios, reverse=True)
    assert ratios[0] == pytest.approx(2 * ratios[1], rel=0.02)


def test_the_measure_reaches_far_enough_and_holds_what_comes():
    """Two gallons a minute for an hour into the bed, its pump aside, in a room without a sill."""
    text = (
        RACK.replace("sill: 3 in", "sill: 0.1 in")
        + "  - {name: trickle, from: tank, to: bed, flow: 20 gal/h, intake: 25 in, outlet: 3 in}\n"
    )
    text = text.replace("flow: 600 gal/h, intake: 4 in", "flow: 60 gal/h, intake: 24 in")
    source = read_bytes(text.encode(), "t")
    measures = [one for one in propose(assess(source.installation)) if one.id.endswith("/pan")]
    assert [one.id for one in measures] == ["rack r/pan"]
    after = assess(changed(source.raw, measures))
    assert after.spill.network.catches["bed"].overflow
    assert found(after, "spill/pan under rack r").verdict == "holds"


RACKED = """
installation: t
units: si
site: {standard: asce7-16, S_DS: 1.0}
room: {length: 6 m, width: 5 m, sill: 60 mm}
racks:
  r:
    bays: 2
    bay_length: 1.5 m
    width: 800 mm
    deck_height: 700 mm
    post: 4x4 douglas fir-larch No.2
    beam: 2x8 douglas fir-larch No.2
    joist: {size: 2x6, spacing: 300 mm, seat: between beams}
    deck: 23/32 in plywood
    beam_runs: each bay
    pan: {length: PAN, height: 60 mm}
vessels:
  - {name: bed, kind: bed, on: r, BED, depth: 250 mm, water: 200 mm, fill: gravel}
"""


def test_a_racks_pan_less_the_walls_that_stand_over():
    """Pan 3.4 · 1.5 m, rack 3 · 0.8 m: 0.2 m at its ends, 0.35 at its sides. The bed's walls are 1 1/2 in: from its left end on they
    stand 38.1 mm over, 0.1619 m are left; from 100 mm on, 2.9 m long, the wall's outside ends at 3.0381 too. 0.76 m wide, 0.8362 with its walls,
    and a pan of 1.1 m: (1.1 − 0.8362)/2 = 0.1319 m. Well inside the pan's own 0.2 m. The pan counts whole: 5.1 m²."""

    def margin(bed, pan="3.4 m, width: 1.5 m"):
        known = dry(RACKED.replace("BED", bed).replace("PAN", pan))
        ((node, reaches, on),) = pan_nodes(known.installation, known.vessels).values()
        assert (node.name, on) == ("pan under rack r", ("bed",))
        assert node.rim == pytest.approx(0.06)
        return reaches, node.area

    assert margin("offset: 0 m, length: 2.5 m, width: 0.6 m") == pytest.approx((0.1619, 5.1))
    assert margin("offset: 100 mm, length: 2.9 m, width: 0.6 m") == pytest.approx((0.1619, 5.1))
    assert margin("offset: 100 mm, length: 2.5 m, width: 0.6 m") == pytest.approx((0.2, 5.1))
    assert margin("offset: 100 mm, length: 2.5 m, width: 0.76 m", "3.4 m, width: 1.1 m") == pytest.approx(
        (0.1319, 3.74)
    )


def test_a_tanks_pan_less_its_walls():
    """1.3 m across, the tank 0.8 and two walls of 3/8 in, 0.81905: (1.3 − 0.81905)/2 = 0.240475 m."""
    pan = "pan: {length: 1.8 m, width: 1.3 m, height: 60 mm}"
    tank = f"  - {{name: sump, kind: tank, length: 1.2 m, width: 0.8 m, depth: 600 mm, water: 450 mm, {pan}}}\n"
    text = RACKED[: RACKED.index("racks:")] + "vessels:\n" + tank
    assert dry(text).question.network.catches["sump"].margin == pytest.approx(0.240475)


@pytest.mark.parametrize("high, past", [(1, 14.961), (2, 8.461)])
def test_what_a_pan_does_not_hold_runs_on_over_the_floor(high, past):
    """The bed's return clogs: 24.086 ft³ are pumped, 2.625 find room in it, 21.461 run over into 13 · 6 ft of pan, which holds 6.5 ft³ an inch."""
    one = run_of(assessed(PANNED.replace("height: 4 in", f"height: {high} in")), "return clogged/pump")
    assert one.reached / FOOT**3 == pytest.approx(past, abs=0.003)
    assert {name: after for name, _, after in one.held}["pan under rack r"] / FOOT**3 == pytest.approx(6.5 * high)
