"""Spilled water on a whole installation: hand arithmetic, laws."""

import math

import numpy as np
import pytest

from brimfast.assess.network import integrate
from brimfast.assess.network.faults import AS_DESCRIBED
from brimfast.assess.network.runs import run
from brimfast.assess.pipeline import assess
from brimfast.assess.spill.drains import drain_capacity
from brimfast.shared.constants import FOOT, GALLON, INCH
from brimfast.shared.installation.site import Drain
from tests.builders import RACK, WEIGHED, assessed, found, read

GAL, GPM = GALLON, GALLON / 60
BARE = RACK.replace("outlet: 3 in}", "outlet: 3 in, anti_siphon: yes}")  # no way back through the pump's pipe
DRAIN = "sill: 3 in, drains: [{bore: 2 in, grate: 4 in, blocked: 50 %}],"


def runs(text):
    return {one.event.id: one for one in assessed(text).spill.runs}


def test_rupture_by_hand():
    # 4 ft round, 27 in deep: pi/4 x 16 x 2.25 ft3 = 28.27 ft3 = 211.5 gal.
    # Bed: 22.5 ft2 x 8 in x 0.4 = 6 ft3 = 44.88 gal.
    found_runs = runs(RACK)
    assert found_runs["rupture/tank"].at_once / GAL == pytest.approx(211.5, abs=0.05)
    assert found_runs["rupture/bed"].at_once / GAL == pytest.approx(44.88, abs=0.01)


def test_a_burst_bed_is_still_pumped_to():
    """44.88 gal of the bed, and the tank down to the pump's intake, 4 in: 12.566 ft2 x 23 in = 24.09 ft3 = 180.2 gal."""
    one = runs(RACK)["rupture/bed"]
    assert one.reached / GAL == pytest.approx(44.88 + 180.17, abs=0.1)
    assert dict(one.paths)["pump"] / GAL == pytest.approx(180.17, abs=0.1)


def test_pump_moves_water_down_to_its_intake_and_the_bed_overflows():
    """Above the 4 in intake: 12.566 ft2 x 23 in = 24.09 ft3.

    Room in the bed: 22.5 ft2 x (0.4 x 1 in + 1 in) = 2.625 ft3.
    """
    found_runs = runs(RACK)
    assert found_runs["line off/pump"].reached / FOOT**3 == pytest.approx(24.086, abs=0.003)
    assert found_runs["return clogged/pump"].reached / FOOT**3 == pytest.approx(24.086 - 2.625, abs=0.003)
    # the overflow begins when the room in the bed is full: 2.625 ft3 at 600 gal/h
    course = found_runs["return clogged/pump"].course
    began = course[0][np.argmax(course[1] > 1e-9) - 1]
    assert began == pytest.approx(2.625 * FOOT**3 / (600 * GAL / 3600), rel=1e-6)
    switched = runs(RACK.replace("outlet: 3 in}", "outlet: 3 in, float_switch: yes}"))
    assert "return clogged/pump" not in switched
    assert switched["runs on/pump"].event.pair  # the switch fails besides
    assert switched["runs on/pump"].reached == pytest.approx(found_runs["return clogged/pump"].reached, rel=1e-4)


HIGH = RACK.replace("deck_height: 26 in", "deck_height: 40 in")


def test_siphon_to_the_pipes_end():
    """The bed's pipe ends 3 in up; 5 in above it in gravel: 22.5 x 5/12 x 0.4 = 3.75 ft3; the tank has 3 in of room:
    12.566 x 0.25 = 3.142 ft3; 0.608 ft3 over the rim."""
    assert runs(HIGH)["power cut"].reached / FOOT**3 == pytest.approx(3.75 - 3.1416, abs=1e-3)
    assert "power cut" not in runs(HIGH.replace("outlet: 3 in}", "outlet: 3 in, anti_siphon: yes}"))
    assert "power cut" not in runs(HIGH.replace("outlet: 3 in}", "outlet: 3 in, check_valve: yes}"))
    assert "power cut" not in runs(HIGH.replace("outlet: 3 in", "outlet: 9 in"))
    # 26 in up the bed's level, 34 in, only sinks to the tank's rim at 30 in: 22.5 x 4/12 x 0.4 = 3 ft3, which it has room for
    assert "power cut" not in runs(RACK)


def test_a_line_torn_at_the_pump_also_lets_the_bed_run_out():
    """24.086 ft3 pumped, and the 3.75 ft3 of the bed above the pipe's end."""
    assert runs(RACK)["line torn/pump"].reached / FOOT**3 == pytest.approx(24.086 + 3.75, abs=0.01)
    assert (
        runs(RACK.replace("outlet: 3 in}", "outlet: 3 in, check_valve: yes}"))["line torn/pump"].reached / FOOT**3 > 27
    )


def test_siphon_forward_from_a_higher_vessel():
    """The bed stands 40 in up; its pump line ends 1 in above the tank's bottom, so the bed drains on to its intake."""
    text = HIGH.replace(
        "from: tank, to: bed, flow: 600 gal/h, intake: 4 in, outlet: 3 in",
        "from: bed, to: tank, flow: 600 gal/h, intake: 2 in, outlet: 1 in, pipe: 1 in",
    )
    # 6 in of gravel water: 22.5 x 0.5 x 0.4 = 4.5 ft3, less 3 in of room in the tank, 3.142 ft3
    assert runs(text)["power cut"].reached / FOOT**3 == pytest.approx(4.5 - 3.1416, abs=1e-3)


def test_hose_left_on():
    text = RACK + "supplies: [{name: hose, to: tank, flow: 5 gal/min, unattended: 2 h}]\n"
    one = runs(text)["supply/hose"]
    # 600 gal less 3 in of room: 3.142 ft3 = 23.50 gal
    assert one.reached / GAL == pytest.approx(576.5, abs=0.05)
    assert one.rate / GPM == pytest.approx(5.0)


def test_weighed_vessel_that_does_not_say_counts_as_all_water():
    one = runs(WEIGHED.replace(", holds: 50 gal", ""))["rupture/tank"]
    assert one.reached / GAL == pytest.approx(500 / 8.3454, rel=1e-4)
    assert "taken as water" in one.event.note


def test_earthquake_is_everything():
    assessment = assessed(RACK)
    vessels = sum(item.water_volume for item in assessment.vessels.values())
    assert assessment.spill.earthquake.reached == pytest.approx(vessels)


def test_room_by_hand():
    """24 x 16 ft less a 4 ft round tank with 3/8 in wall: 384 - pi/4 4.0625^2 = 371.04 ft2; 3 in sill: 92.76 ft3."""
    room = assessed(RACK).spill.room
    assert room.area / FOOT**2 == pytest.approx(371.04, abs=0.01)
    assert room.held / FOOT**3 == pytest.approx(92.76, abs=0.01)


def test_what_is_held_lies_there_and_the_rest_leaves():
    """No drain: what came is in the room or outside; below the sill all stays."""
    for text in (RACK, RACK.replace("sill: 3 in", "sill: 0.5 in"), WEIGHED):
        spill = assessed(text).spill
        for one in spill.runs:
            assert one.lies + one.leaves == pytest.approx(one.reached, rel=1e-9)
            assert abs(one.lost) <= 1e-9
            assert one.need == pytest.approx(one.reached, rel=1e-6)
            if one.reached < spill.room.held:
                assert one.leaves == 0
                assert one.depth == pytest.approx(one.reached / spill.room.area, rel=1e-6)


def test_a_socket_gets_wet_when_the_water_is_there():
    """The line comes off: 600 gal/h over 371.04 ft2; 1/4 in is 7.73 ft3, 57.82 gal, after 346.9 s."""
    text = RACK.replace(
        "sill: 3 in,", "sill: 3 in, sockets: [{name: strip, height: 0.25 in}, {name: high, height: 2 ft}],"
    )
    finding = found(assessed(text), "spill/socket/strip")
    assert finding.verdict == "short"
    assert found(assessed(text), "spill/socket/high").verdict == "holds"
    wet = dict(next(one for one in assessed(text).spill.runs if one.event.id == "line off/pump").wets)["socket 1"]
    assert wet == pytest.approx(371.04 * 0.25 / 12 * FOOT**3 / (600 * GAL / 3600), rel=1e-4)


def test_drains():
    drain = [Drain(bore="2 in", grate="4 in", blocked="0 %")]
    flows = [drain_capacity(drain, depth).flow for depth in np.linspace(0.0, 0.2, 60)]
    assert np.all(np.diff(flows) >= 0)
    assert drain_capacity([*drain, *drain], 0.01).flow == pytest.approx(2 * drain_capacity(drain, 0.01).flow)
    # Manning, 2 in, 1/4 in a foot, n 0.011: 22.95 gal/min full (worked by hand: R = 1/24 ft, V = 2.34 ft/s)
    assert flows[-1] / GPM == pytest.approx(22.95, abs=0.02)
    blocked = drain_capacity([Drain(bore="2 in", grate="4 in", blocked="50 %")], 0.5 * INCH)
    assert blocked.flow == pytest.approx(0.5 * drain_capacity(drain, 0.5 * INCH).flow)


def test_the_pond_rises_until_the_drain_takes_what_comes():
    """A tap of 1 gal/min for 6 h onto the floor: steady where the grate takes just that: d = (Q/(C_w P))^(2/3)."""
    text = (
        RACK.replace("sill: 3 in,", DRAIN) + "supplies: [{name: tap, to: tank, flow: 1 gal/min, unattended: 6 h}]\n"
    ).replace("water: 27 in}", "water: 30 in}")
    one = runs(text)["supply/tap"]
    steady = (GPM / (1.66 * math.pi * 4 * INCH * 0.5)) ** (2 / 3)
    assert one.depth == pytest.approx(steady, rel=1e-3)


def test_more_curb_or_drain_is_never_worse():
    base = assessed(RACK.replace("sill: 3 in", "sill: 0.5 in")).spill.worst
    higher = assessed(RACK.replace("sill: 3 in", "sill: 1 in")).spill.worst
    drained = assessed(RACK.replace("sill: 3 in,", DRAIN.replace("3 in", "0.5 in"))).spill.worst
    assert higher.leaves < base.leaves
    assert drained.leaves < base.leaves


def test_a_drain_that_backs_up_takes_no_more():
    backed = DRAIN.replace("blocked: 50 %", "blocked: 50 %, backs_up_after: 20 gal")
    one = runs(BARE.replace("sill: 3 in,", backed))["rupture/tank"]
    assert one.drained / GAL == pytest.approx(20, rel=1e-6)
    assert one.lies / GAL == pytest.approx(211.5 - 20, abs=0.1)


def test_drain_finding_says_when_there_is_none():
    finding = found(assessed(RACK), "spill/drains")
    assert finding.verdict == "not assessed"
    assert "no floor drain" in finding.reason
    assert "never drains" in finding.reason


@pytest.mark.parametrize("drains", ["", ", drains: [{bore: 2 in, grate: 4 in}]"])
def test_the_curb_that_is_named_keeps_all_in_and_a_lower_one_does_not(drains):
    """For every single mishap, not the worst alone."""
    text = RACK.replace("sill: 3 in", f"sill: 0.25 in{drains}")
    kept = assessed(text).spill.contained("us")["single"]
    high = kept.sill / INCH

    def leaves(sill):
        return max(one.leaves for one in assessed(text.replace("sill: 0.25 in", f"sill: {sill} in")).spill.singles)

    assert leaves(high) <= 1e-6
    assert leaves(high - 0.5) > 1e-6


def test_a_curb_is_named_in_steps_of_the_readers_units():
    """Half inches or whole centimetres: the least of either kind that keeps all in, so less than a step apart."""
    spill = assessed(RACK.replace("sill: 3 in", "sill: 0.25 in")).spill
    inches, metric = (spill.contained(system)["single"].sill for system in ("us", "si"))
    assert metric / 0.01 == pytest.approx(round(metric / 0.01), abs=1e-9)
    assert inches / (INCH / 2) == pytest.approx(round(inches / (INCH / 2)), abs=1e-9)
    assert abs(metric - inches) < INCH / 2 + 1e-9


def test_the_drain_that_is_named_keeps_all_in_and_a_smaller_one_does_not():
    text = (
        RACK.replace("sill: 3 in", "sill: 0.75 in")
        + "supplies: [{name: hose, to: tank, flow: 8 gal/min, unattended: 3 h}]\n"
    ).replace("water: 27 in}", "water: 12 in}")
    kept = assessed(text).spill.contained("us")["single"]
    assert kept.drain is not None

    def leaves(bore):
        drained = text.replace("sill: 0.75 in", f"sill: 0.75 in, drains: [{{bore: {bore} in}}]")
        return max(one.leaves for one in assessed(drained).spill.singles)

    bores = [2, 3, 4, 6]
    at = bores.index(round(kept.drain / INCH))
    assert leaves(bores[at]) <= 1e-6
    assert at == 0 or leaves(bores[at - 1]) > 1e-6


def test_a_neighbouring_room_takes_what_goes_over_its_threshold():
    text = BARE.replace(
        "sill: 3 in,", "sill: 3 in, next: [{name: hall, length: 10 ft, width: 6 ft, door: 32 in, sill: 0.25 in}],"
    )
    one = runs(text)["rupture/tank"]
    hall = dict(one.next_rooms)["hall"]
    # in the end both stand alike: 211.5 gal over 371.04 + 60 ft2 is 0.787 in
    assert one.outside == 0
    assert one.lies / (371.04 * FOOT**2) == pytest.approx(28.274 / 431.04 * FOOT, rel=0.01)
    # at most more was in the hall than in the end
    assert one.leaves >= 60 * FOOT**2 * 28.274 / 431.04 * FOOT * (1 - 1e-3)
    assert one.leaves == pytest.approx(60 * FOOT**2 * hall, rel=0.01)


def test_every_mishap_also_with_clogged_drains_and_the_worst_of_them_counts():
    """A hose that puts 1,500 gal in runs out of a drained room only where the drain is clogged."""
    text = RACK.replace("sill: 3 in,", DRAIN) + "supplies: [{name: hose, to: tank, flow: 5 gal/min, unattended: 5 h}]\n"
    spill = assessed(text).spill
    assert spill.worst.leaves <= 1e-6
    assert spill.pair.event.id.endswith("drains clogged")
    assert spill.pair.leaves / GAL == pytest.approx(1500 - spill.room.held / GAL, rel=0.02)
    assert found(assessed(text), "spill/pair").verdict == "short"
    # without drains none is clogged
    assert not any("clogged" in one.event.id for one in assessed(RACK).spill.runs if "drains" in one.event.id)


def test_two_joined_tanks_run_out_alike_whichever_bursts():
    """A burst vessel keeps nothing: 300 L of its own and, down to the joint at 100 mm, 240 L of the other."""
    text = """
installation: two tanks
units: si
site: {standard: asce7-16, S_DS: 1.0}
room: {length: 5 m, width: 4 m, sill: 100 mm}
vessels:
  - {name: a, kind: tank, length: 1 m, width: 0.6 m, depth: 600 mm, water: 500 mm, at: 0 m x 0 m}
  - {name: b, kind: tank, length: 1 m, width: 0.6 m, depth: 600 mm, water: 500 mm, at: 2 m x 0 m}
pipes:
  - {name: link, from: a, to: b, bore: 50 mm, intake: 100 mm, outlet: 100 mm, length: 0.5 m}
"""
    for name in ("a", "b"):
        assert runs(text)[f"rupture/{name}"].reached == pytest.approx(0.54, abs=2e-3)


def test_what_a_dry_pump_lets_back():
    """The tank tears: in the end the bed has lost its 3.75 ft3 above the pipe's end; 2.25 ft3 stay below it.

    In the torn tank the water stands as on the floor.
    """
    whole = 12.566 * 27 / 12 * FOOT**3
    one = runs(RACK)["tear/tank"]
    held = {name: last for name, _, last in one.held}
    assert held["bed"] / FOOT**3 == pytest.approx(2.25, rel=1e-6)
    assert held["tank"] / (12.566 * FOOT**2) == pytest.approx(one.lies / (371.04 * FOOT**2), abs=3e-4)
    assert one.reached + held["tank"] == pytest.approx(whole + 3.75 * FOOT**3, rel=1e-4)
    assert {name: last for name, _, last in runs(BARE)["tear/tank"].held}["bed"] / FOOT**3 == pytest.approx(
        6.0, rel=0.02
    )
    assert runs(RACK)["rupture/tank"].reached == pytest.approx(whole + 3.75 * FOOT**3, rel=0.005)


def test_a_blocked_anti_siphon_hole_is_a_pair_of_its_own():
    text = HIGH.replace("outlet: 3 in}", "outlet: 3 in, anti_siphon: yes}")
    one = runs(text)["power cut, unguarded/pump"]
    assert one.event.pair
    assert one.reached / FOOT**3 == pytest.approx(3.75 - 3.1416, abs=1e-3)


def test_a_hose_that_slips_out_and_a_slow_one_that_runs_for_weeks():
    text = RACK + "supplies: [{name: hose, to: tank, flow: 0.5 gal/h, unattended: 60 d}]\n"
    found_runs = runs(text)
    assert found_runs["supply off/hose"].reached / GAL == pytest.approx(0.5 * 24 * 60, rel=1e-6)
    assert found_runs["supply/hose"].reached / GAL == pytest.approx(0.5 * 24 * 60 - 23.5, abs=0.1)


def test_a_torn_line_has_no_losses():
    """Torn at the pump it moves what its curve gives without a line; at the far end less."""
    text = RACK.replace(
        "flow: 600 gal/h, intake: 4 in, outlet: 3 in",
        "curve: [0 gal/h at 12 ft, 600 gal/h at 0 ft], intake: 4 in, outlet: 3 in, pipe: 1/2 in, length: 60 ft, anti_siphon: yes",
    )
    found_runs = runs(text)
    assert found_runs["line torn/pump"].rate == pytest.approx(600 * GAL / 3600, rel=1e-6)
    assert found_runs["line off/pump"].rate < 0.9 * found_runs["line torn/pump"].rate


RETURN = """pipes:
  - {name: bed return, from: bed, to: tank, bore: BORE, intake: 8 in, outlet: 28 in, length: 4 ft}
"""


def test_a_return_that_is_wide_enough_keeps_the_bed_below_its_rim():
    assert "as described" not in runs(RACK + RETURN.replace("BORE", "2 in"))
    small = assessed(RACK + RETURN.replace("BORE", "1/2 in"))
    finding = found(small, "spill/as described")
    assert finding.verdict == "short"
    assert "returns and pumps" in finding.reason


def test_a_standpipe_that_shears_at_the_bottom_empties_the_bed():
    """All 44.88 gal of the bed and the 180.2 gal above the pump's intake, which go on being pumped."""
    found_runs = runs(RACK + RETURN.replace("BORE", "2 in"))
    assert found_runs["sheared above/bed return"].reached / GAL == pytest.approx(44.88 + 180.17, abs=0.2)
    # at its lower end only what the pump brings is lost: the bed keeps what stands below the standpipe
    assert found_runs["sheared below/bed return"].reached / GAL == pytest.approx(180.17, abs=0.5)
    assert "clogged/bed return" in found_runs


SIPHON = """pipes:
  - {name: bed siphon, from: bed, to: tank, bore: BORE, intake: 2 in, starts_at: 9 in, outlet: 2 in, length: 3 ft}
"""


def test_a_starting_siphon_runs_in_turns():
    """Starts at 9 in, runs down to 2 in, and again: 22.5 ft2 x 7 in x 0.4 = 5.25 ft3 swing in bed and tank."""
    spill = assessed(RACK + SIPHON.replace("BORE", "1.5 in")).spill
    one = run(spill.network, [AS_DESCRIBED])[0]
    assert one.reached <= 1e-9
    after = {name: last for name, _, last in one.held}["bed"]
    lowest = 22.5 * 2 / 12 * 0.4 * FOOT**3
    assert lowest * (1 - 1e-6) <= after <= lowest + 5.25 * FOOT**3
    # one of 1 in carries less than the pump brings: the bed runs over
    assert "as described" in {one.event.id for one in assessed(RACK + SIPHON.replace("BORE", "1 in")).spill.runs}


def test_every_fault_of_a_larger_network_is_there():
    text = (
        RACK + RETURN.replace("BORE", "2 in") + "supplies: [{name: hose, to: tank, flow: 5 gal/min, unattended: 1 h}]\n"
    )
    ids = set(runs(text))
    for id in (
        "rupture/bed",
        "tear/tank",
        "line off/pump",
        "return clogged/pump",
        "sheared above/bed return",
        "sheared below/bed return",
        "supply/hose",
        "collapse/r",
        "earthquake",
    ):
        assert id in ids, id


HEAD = "installation: t\nsite: {residential_category: D1}\n"
SMALL = "room: {length: 14 ft, width: 9 ft, sill: 1 in}\n"
SUMP = " - {name: sump, kind: tank, length: 4 ft, width: 4 ft, depth: 20 in, water: 18 in}\n"
BED = " - {name: bed, kind: tank, length: 4 ft, width: 2 ft, depth: 12 in, water: WATER, stand: {height: 30 in}}\n"
LIFT = "pumps:\n - {name: lift, from: sump, to: bed, flow: 300 gal/h, outlet: 11 in, anti_siphon: yes}\n"


def test_a_sunk_drain_takes_no_more_than_there_is():
    text = HEAD + SMALL.replace("1 in}", "1 in, drains: [{bore: 2 in, height: -3 in}]}") + "vessels:\n" + SUMP
    one = runs(text)["rupture/sump"]
    assert one.drained + one.leaves <= one.reached * (1 + 1e-9)
    assert one.lies >= 0
    # its grate lies 3 in lower: it takes what one takes under 4 in at a sill of 1 in
    deeper = drain_capacity([Drain(bore="2 in")], 4 * INCH).flow
    assert assessed(text).spill.room.at_sill.flow == pytest.approx(deeper)


def test_pumps_that_lead_back_are_the_way_back():
    """Two pumps between two tanks of 179.5 gal: where one stops, the other fills the rest of its tank, 19.9 gal, and more."""
    text = HEAD + SMALL + "vessels:\n" + SUMP + SUMP.replace("sump", "other")
    text += "pumps:\n - {name: p1, from: sump, to: other, flow: 600 gal/h, outlet: 19 in, anti_siphon: yes}\n"
    text += " - {name: p2, from: other, to: sump, flow: 600 gal/h, outlet: 19 in, anti_siphon: yes}\n"
    assert runs(text)["stops/p1"].reached / GAL == pytest.approx(179.5 - 19.95, abs=0.5)
    assert not any("not in the file" in note and "runs back" in note for note in assessed(text).spill.network.notes)


def test_a_torn_bed_goes_on_being_pumped_to():
    text = HEAD + SMALL.replace("1 in", "6 in") + "vessels:\n" + SUMP + BED.replace("WATER", "6 in") + LIFT
    assert runs(text)["tear/bed"].reached == pytest.approx(runs(text)["rupture/bed"].reached, rel=0.01)


@pytest.mark.parametrize("water", ["9 in", "10 in", "8.9999999 in"])
def test_a_siphon_at_its_starting_height_runs(water):
    text = (
        HEAD + SMALL + "vessels:\n" + SUMP.replace("water: 18 in", "water: 12 in") + BED.replace("WATER", water) + LIFT
    )
    text += "pipes:\n - {name: q, from: bed, to: sump, bore: 1 in, intake: 1 in, starts_at: 9 in, length: 3 ft}\n"
    assert "as described" not in runs(text)


def test_a_float_switch_of_a_full_vessel_is_up():
    text = HEAD + SMALL + "vessels:\n" + SUMP + BED.replace("WATER", "12 in")
    text += LIFT.replace("anti_siphon: yes", "anti_siphon: yes, float_switch: yes")
    text += "pipes:\n - {name: q, from: bed, to: sump, bore: 1 in, intake: 11 in, length: 3 ft}\n"
    found_runs = runs(text)
    assert "as described" not in found_runs
    assert "clogged/q" not in found_runs
    assert found_runs["runs on/lift"].reached / GAL > 150


def test_what_comes_slowly_comes_all_the_same():
    """720 gal in 60 days into a pond with 1 in of room, 124.7 gal; a half-inch drain that takes days."""
    text = HEAD + "room: {length: 40 ft, width: 20 ft, sill: 1 in}\nvessels:\n"
    text += " - {name: pond, kind: tank, length: 20 ft, width: 10 ft, depth: 24 in, water: 23 in}\n"
    text += "supplies:\n - {name: tap, to: pond, flow: 0.5 gal/h, unattended: 60 d}\n"
    assert runs(text)["supply/tap"].reached / GAL == pytest.approx(720 - 124.68, abs=0.2)
    text = HEAD + "room: {length: 40 ft, width: 30 ft, sill: 1 in, drains: [{bore: 0.5 in}]}\nvessels:\n" + SUMP
    one = runs(text)["rupture/sump"]
    assert one.drained > 0.7 * one.reached
    assert 86400 < one.dry_at < 7 * 86400


def test_a_film_is_dry_at_once():
    text = HEAD + SMALL.replace("14 ft", "40 ft").replace("9 ft", "30 ft") + "vessels:\n"
    text += " - {name: pot, kind: tank, length: 6 in, width: 6 in, depth: 6 in, water: 4 in}\n"
    assert runs(text)["rupture/pot"].dry_at == 0


def test_waves_are_no_single_mishap():
    spill = assessed(RACK).spill
    assert any(one.event.kind == "slosh" for one in spill.runs)
    assert not any(one.event.kind == "slosh" for one in spill.singles)


def test_what_cannot_be_followed_is_said(monkeypatch):
    monkeypatch.setattr(integrate, "MOST_STEPS", 8)
    finding = found(assess(read(RACK).installation), "spill/given up")
    assert finding.verdict == "not assessed"
    assert "least" in finding.reason


BELLS = """vessels:
 - {name: bed a, kind: bed, length: 4 ft, width: 2 ft, depth: 12 in, water: 6 in, fill: expanded clay, stand: {height: 30 in}}
 - {name: bed b, kind: bed, length: 4 ft, width: 3 ft, depth: 12 in, water: 4 in, fill: expanded clay, stand: {height: 30 in}}
 - {name: fish, kind: tank, length: 4 ft, width: 3 ft, depth: 24 in, water: 18 in}
pumps:
 - {name: pa, from: fish, to: bed a, flow: 250 gal/h, pipe: 3/4 in, length: 6 ft, intake: 3 in, outlet: 11.5 in}
 - {name: pb, from: fish, to: bed b, flow: 280 gal/h, pipe: 3/4 in, length: 6 ft, intake: 3 in, outlet: 11.5 in}
pipes:
 - {name: qa, from: bed a, to: fish, bore: 1 in, intake: 1 in, outlet: 22 in, length: 2 ft, starts_at: 10 in}
 - {name: qb, from: bed b, to: fish, bore: 1 in, intake: 1 in, outlet: 22 in, length: 2 ft, starts_at: 10 in}
supplies:
 - {name: top-up, to: fish, flow: 2 gal/min, unattended: 7 d}
"""


def test_siphons_that_never_come_round_together_are_followed_to_the_end():
    """A hose of 2 gal/min for a week: 20,160 gal, less what the vessels still take; no water lost on the way."""
    one = runs(HEAD + SMALL + BELLS)["supply/top-up"]
    assert one.finished
    held = sum(after - before for _, before, after in one.held)
    assert one.reached + held == pytest.approx(20160 * GAL, rel=1e-9)
    assert abs(one.lost) <= 1e-9
    assert "as described" not in runs(HEAD + SMALL + BELLS)


def test_a_room_without_a_way_out_does_not_fill_to_its_ceiling():
    text = (
        HEAD + SMALL.replace("1 in}", "1 in, next: [{name: hall, length: 10 ft, width: 4 ft}]}") + "vessels:\n" + SUMP
    )
    text += "supplies:\n - {name: hose, to: sump, flow: 5 gal/min, unattended: 3 d}\n"
    one = runs(text)["supply/hose"]
    assert one.depth < 14 * INCH
    assert one.outside / GAL > 18000
    assert any("other ways out" in note for note in assessed(text).spill.network.notes)
