"""Spilled water: hand arithmetic, mass balance, laws."""

import numpy as np
import pytest

from brimfast.assess.spill.drains import depth_at_flow, drains_flow
from brimfast.assess.spill.room import leaves_at_once, leaves_slowly
from brimfast.shared.constants import FOOT, GALLON, INCH
from brimfast.shared.installation.site import Drain
from tests.builders import RACK, WEIGHED, assessed, found

GAL, GPM = GALLON, GALLON / 60


def events(text):
    return {item.event.id: item for item in assessed(text).spill.outcomes}


def test_rupture_by_hand():
    # 4 ft round, 27 in deep: pi/4 x 16 x 2.25 ft3 = 28.27 ft3 = 211.5 gal.
    # Bed: 22.5 ft2 x 8 in x 0.4 = 6 ft3 = 44.88 gal.
    found_events = events(RACK)
    assert found_events["rupture/tank"].event.volume / GAL == pytest.approx(211.5, abs=0.05)
    assert found_events["rupture/bed"].event.volume / GAL == pytest.approx(44.88, abs=0.01)


def test_pump_moves_water_down_to_its_intake_and_the_bed_overflows():
    """Above the 4 in intake: 12.566 ft2 x 23 in = 24.09 ft3.

    Room in the bed: 22.5 ft2 x (0.4 x 1 in + 1 in) = 2.625 ft3.
    """
    found_events = events(RACK)
    assert found_events["line off/pump"].event.volume / FOOT**3 == pytest.approx(24.086, abs=0.001)
    assert found_events["return clogged/pump"].event.volume / FOOT**3 == pytest.approx(24.086 - 2.625, abs=0.001)
    assert "return clogged/pump" not in events(RACK.replace("outlet: 3 in}", "outlet: 3 in, float_switch: yes}"))


def test_siphon_to_the_pipes_end():
    """The bed's pipe ends 3 in up; 5 in above it in gravel: 22.5 x 5/12 x 0.4 = 3.75 ft3; the tank has 3 in of room:
    12.566 x 0.25 = 3.142 ft3; 0.608 ft3 over the rim."""
    found_events = events(RACK)
    assert found_events["siphon/pump"].event.volume / FOOT**3 == pytest.approx(3.75 - 3.1416, abs=1e-3)
    assert "siphon/pump" not in events(RACK.replace("outlet: 3 in}", "outlet: 3 in, anti_siphon: yes}"))
    assert "siphon/pump" not in events(RACK.replace("outlet: 3 in", "outlet: 9 in"))


def test_hose_left_on():
    text = RACK + "supplies: [{name: hose, to: tank, flow: 5 gal/min, unattended: 2 h}]\n"
    # 600 gal less 3 in of room: 3.142 ft3 = 23.50 gal
    assert events(text)["supply/hose"].event.volume / GAL == pytest.approx(576.5, abs=0.05)


def test_weighed_vessel_that_does_not_say_counts_as_all_water():
    text = WEIGHED.replace(", holds: 50 gal", "")
    event = events(text)["rupture/tank"].event
    assert event.volume / GAL == pytest.approx(500 / 8.3454, rel=1e-4)
    assert "taken as water" in event.note


def test_earthquake_is_everything():
    assessment = assessed(RACK)
    vessels = sum(item.water_volume for item in assessment.vessels.values())
    assert assessment.spill.earthquake.event.volume == pytest.approx(vessels)


def test_room_by_hand():
    """24 x 16 ft less a 4 ft round tank with 3/8 in wall: 384 - pi/4 4.0625^2 = 371.04 ft2; 3 in sill: 92.76 ft3."""
    room = assessed(RACK).spill.room
    assert room.area / FOOT**2 == pytest.approx(371.04, abs=0.01)
    assert room.held / FOOT**3 == pytest.approx(92.76, abs=0.01)


def test_nothing_is_lost():
    """What arrives at once is in the room or has left it."""
    for text in (RACK, WEIGHED):
        spill = assessed(text).spill
        for item in [*spill.outcomes, spill.earthquake]:
            if item.event.rate is None:
                assert item.depth * spill.room.area + item.leaves == pytest.approx(item.event.volume, rel=1e-12)


def test_slow_overflow_bounds_a_time_integration():
    """Stepped balance: water rises, drains take their flow by depth, the rest leaves over the sill."""
    drain = [Drain(bore="2 in", grate="4 in", blocked="50 %")]
    area, sill, rate, volume = 20.0, 0.05, 0.004, 4.0
    depth, left, arrived, dt = 0.0, 0.0, 0.0, 0.5
    while arrived < volume:
        arrived += rate * dt
        depth += (rate - float(drains_flow(drain, depth))) * dt / area
        if depth > sill:
            left += (depth - sill) * area
            depth = sill
    bound = float(leaves_slowly(volume, rate, area * sill, float(drains_flow(drain, sill))))
    assert left <= bound
    assert bound <= float(leaves_at_once(volume, area * sill))
    assert left == pytest.approx(bound, rel=0.35)  # a bound, not far off


def test_drains():
    drain = [Drain(bore="2 in", grate="4 in", blocked="0 %")]
    depths = np.linspace(0.0, 0.2, 60)
    flows = drains_flow(drain, depths)
    assert np.all(np.diff(flows) >= 0)
    assert np.all(drains_flow([*drain, *drain], depths) == pytest.approx(2 * flows))
    depth = depth_at_flow(drain, 1e-3, 0.2)
    assert float(drains_flow(drain, depth)) == pytest.approx(1e-3, rel=1e-9)
    assert depth_at_flow(drain, 1.0, 0.2) is None
    # Manning, 2 in, 1/4 in a foot, n 0.011: 22.95 gal/min full (worked by hand: R = 1/24 ft, V = 2.34 ft/s)
    assert float(flows[-1]) / GPM == pytest.approx(22.95, abs=0.02)
    blocked = drains_flow([Drain(bore="2 in", grate="4 in", blocked="50 %")], 0.5 * INCH)
    assert float(blocked) == pytest.approx(0.5 * float(drains_flow(drain, 0.5 * INCH)))


def test_more_curb_or_drain_is_never_worse():
    base = assessed(RACK).spill.worst.leaves
    higher = assessed(RACK.replace("sill: 3 in", "sill: 4 in")).spill.worst.leaves
    drained = assessed(RACK.replace("sill: 3 in,", "sill: 3 in, drains: [{bore: 3 in}],")).spill.worst.leaves
    assert higher <= base
    assert drained <= base


def test_drain_finding_says_when_there_is_none():
    finding = found(assessed(RACK), "spill/drains")
    assert finding.verdict == "not assessed"
    assert "no floor drain" in finding.reason


def test_siphon_forward_from_a_higher_vessel():
    """The bed stands 26 in up; its pump line ends 1 in above the tank's bottom, so the bed drains on to its intake."""
    text = RACK.replace(
        "from: tank, to: bed, flow: 600 gal/h, intake: 4 in, outlet: 3 in",
        "from: bed, to: tank, flow: 600 gal/h, intake: 2 in, outlet: 1 in, pipe: 1 in",
    )
    event = events(text)["siphon on/pump"].event
    # 6 in of gravel water: 22.5 x 0.5 x 0.4 = 4.5 ft3, less 3 in of room in the tank, 3.142 ft3
    assert event.volume / FOOT**3 == pytest.approx(4.5 - 3.1416, abs=1e-3)
    # bed level 34 in, pipe's end 1 in: sqrt(2 g 33 in) through 1 in
    assert event.rate == pytest.approx(np.pi / 4 * INCH**2 * np.sqrt(2 * 9.80665 * 33 * INCH))
