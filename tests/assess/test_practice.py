"""Pipe practice: hand arithmetic, laws, and that practice counts neither as danger nor in the exit code."""

import json
import math

import numpy as np
import pytest

from brimfast.assess.network.friction import friction_factor, hazen_williams, head_loss, velocity
from brimfast.assess.network.pipe_flow import pipe_velocity
from brimfast.assess.practice.lines import curve_head, operating_flow, pump_line
from brimfast.data_tables.loader import pipe_material
from brimfast.reports import choice, summary_words
from brimfast.reports.json_face import as_json
from brimfast.reports.terminal import print_assessment
from brimfast.reports.terminal_parts import console
from brimfast.shared.constants import FOOT, GALLON, GRAVITY, INCH
from brimfast.shared.installation.flow import PIPE_MATERIALS
from tests.builders import RACK, WEIGHED, assessed, found

GPM = GALLON / 60
PIPED = RACK.replace("outlet: 3 in}", "outlet: 11 in, pipe: 0.824 in, length: 10 ft, bends: 4}")
CURVED = PIPED.replace("flow: 600 gal/h", "curve: [0 gal/h at 12 ft, 600 gal/h at 9 ft, 1200 gal/h at 2 ft]")
PIPES = """
pipes:
  - {name: return, from: bed, to: tank, bore: 1.5 in, intake: 8 in, outlet: 28 in, length: 3 ft, bends: 1}
"""


def number(finding, symbol):
    return [line.result.value for line in finding.steps if line.symbol == symbol][-1]


def test_velocity_by_hand():
    """600 gal/h = 10 gpm in 0.824 in: 0.4085 x 10/0.824² = 6.016 ft/s against 5."""
    speed = found(assessed(PIPED), "pipes/pump/speed")
    assert speed.demand / FOOT == pytest.approx(6.016, abs=0.002)
    assert speed.ratio == pytest.approx(6.016 / 5, abs=0.001)
    assert speed.verdict == "short"


def test_head_by_hand():
    """Lift: the bed's pipe ends 26 + 11 in up, the tank's water at 27 in: 10 in. At 6.016 ft/s V²/2g = 0.5625 ft; with
    f = 0.0222 (Moody, Re 38,200, smooth) f L/D = 0.0222 x 120/0.824 = 3.23, K = 0.5 + 1 + 4 x 0.9 = 5.1: 4.69 ft."""
    head = found(assessed(PIPED), "pipes/pump/head")
    assert head.verdict == "not assessed"
    assert "curve" in head.reason
    assert number(head, "H_0") == pytest.approx(10 * INCH)
    assert number(head, "K") == pytest.approx(5.1)
    assert number(head, "h_L") / FOOT == pytest.approx(4.69, abs=0.03)
    assert head.demand == pytest.approx(number(head, "H_0") + number(head, "h_L"))
    assert number(head, "h_HW") < number(head, "h_L")


def test_submerged_outlet_is_lifted_to_the_water():
    """An end at 3 in under water 8 in deep: 26 + 8 - 27 = 7 in."""
    head = found(assessed(PIPED.replace("outlet: 11 in", "outlet: 3 in")), "pipes/pump/head")
    assert number(head, "H_0") == pytest.approx(7 * INCH)


def test_operating_point_lies_on_curve_and_line():
    assessment = assessed(CURVED)
    head = found(assessment, "pipes/pump/head")
    assert head.verdict == "holds"
    assert head.capacity == pytest.approx(12 * FOOT)
    assert number(head, "H_p") == pytest.approx(number(head, "H"), rel=1e-9)
    line = pump_line(assessment.installation, assessment.installation.pumps[0])
    assert curve_head(line.pump.curve, line.flow) == pytest.approx(number(head, "H"), rel=1e-9)
    assert 600 * GALLON / 3600 < line.flow < 1200 * GALLON / 3600
    assert found(assessment, "pipes/pump/speed").demand == pytest.approx(float(velocity(line.flow, 0.824 * INCH)))


def test_a_pump_that_does_not_reach_moves_nothing():
    low = CURVED.replace(
        "0 gal/h at 12 ft, 600 gal/h at 9 ft, 1200 gal/h at 2 ft", "0 gal/h at 9 in, 600 gal/h at 4 in"
    )
    assessment = assessed(low)
    head = found(assessment, "pipes/pump/head")
    assert head.verdict == "short"
    assert "nothing flows" in head.reason
    assert found(assessment, "pipes/pump/speed").demand == 0
    assert any("lifts higher" in advice.measure for advice in assessment.advice)


def test_a_curve_that_ends_before_the_line_needs_it_is_said():
    strong = CURVED.replace("600 gal/h at 9 ft, 1200 gal/h at 2 ft", "300 gal/h at 11 ft")
    assert "or more" in found(assessed(strong), "pipes/pump/speed").details["flow"]


def test_operating_flow_rises_with_the_pump_and_falls_with_the_lift():
    line = pump_line(assessed(CURVED).installation, assessed(CURVED).installation.pumps[0])
    curve = line.pump.curve
    flows = [operating_flow(curve, lift, line.run) for lift in (0.0, 0.5, 1.0, 2.0, 3.0, 4.0)]
    assert flows == sorted(flows, reverse=True)
    assert flows[-1] == 0.0
    assert operating_flow([(Q, H + 1) for Q, H in curve], 0.5, line.run) > flows[1]


def test_drains_back_by_hand():
    """Content: pi/4 x 0.824² in² x 120 in = 63.99 in³. Drop 10 in; V² (5.1 + f L/D) = 2 g x 10 in; L/V."""
    head = found(assessed(PIPED), "pipes/pump/head")
    assert number(head, "V_b") / INCH**3 == pytest.approx(63.99, abs=0.02)
    V = 120 * INCH / number(head, "t_b")
    f = float(friction_factor(V * 0.824 * INCH / 1.004e-6, 1.5e-6 / (0.824 * INCH)))
    assert V**2 * (5.1 + f * 120 / 0.824) == pytest.approx(2 * GRAVITY * 10 * INCH, rel=1e-6)
    valve = found(assessed(PIPED.replace("bends: 4", "bends: 4, check_valve: yes")), "pipes/pump/head")
    assert number(valve, "K") == pytest.approx(7.1)
    assert "check valve" in valve.details["drains back"]


def test_turnover_by_hand():
    """The tank's 211.5 gal at 600 gal/h: 21.15 min."""
    assert found(assessed(PIPED), "pipes/pump/speed").details["turn-over"].endswith("in 21 min")


def test_three_quarter_line_shows_rule_and_equation():
    rule = found(assessed(PIPED), "pipes/pump/three-quarter")
    assert rule.ratio == pytest.approx(600 / 1500)
    assert "3.0 times" in rule.details["equations"]
    assert "between the two" in rule.details["equations"]
    assert not [
        one for one in assessed(PIPED.replace("0.824 in", "1.05 in")).findings if one.id.endswith("three-quarter")
    ]


def test_narrow_lines_clog():
    assert found(assessed(PIPED.replace("0.824 in", "3/8 in")), "pipes/pump/clogs").verdict == "short"
    assert found(assessed(PIPED), "pipes/pump/clogs").verdict == "holds"


def test_return_by_hand():
    """1.5 in, intake 2 in below the rim: the opening carries 0.67 A sqrt(2 g 2 in).

    A = 1.1401e-3 m², sqrt(2 g 0.0508) = 0.99818 m/s: 7.625e-4 m³/s = 12.09 gpm, less than the weir
    (1.66 x 0.1197 x 0.0508^1.5 = 2.275e-3) and the pipe; 600 gal/h is 10 gpm."""
    back = found(assessed(PIPED + PIPES), "pipes/bed/return")
    assert back.capacity / GPM == pytest.approx(12.09, abs=0.01)
    assert back.demand / GPM == pytest.approx(10.0)
    assert number(back, "Q_weir_1") == pytest.approx(2.275e-3, rel=0.001)
    half = found(assessed(PIPED + PIPES.replace("bends: 1", "bends: 1, blocked: 50 %")), "pipes/bed/return")
    assert half.capacity == pytest.approx(back.capacity / 2)
    assert half.verdict == "short"


def test_two_outflows_add_and_a_pipe_at_the_rim_adds_nothing():
    one = found(assessed(PIPED + PIPES), "pipes/bed/return").capacity
    second = PIPES + PIPES.strip().splitlines()[1].replace("return", "spare") + "\n"
    assert found(assessed(PIPED + second), "pipes/bed/return").capacity == pytest.approx(2 * one)
    rim = found(assessed(PIPED + PIPES.replace("intake: 8 in", "intake: 10 in")), "pipes/bed/return")
    assert rim.verdict == "short"
    assert rim.ratio is None


OVERFLOW = (
    PIPED
    + PIPES
    + "  - {name: overflow, from: tank, to: house drain, bore: 2 in, intake: 27 in, length: 6 ft}\n"
    + "supplies: [{name: hose, to: tank, flow: 3 gal/min, unattended: 1 h}]\n"
)
SUMP = "  - {name: sump, kind: sump, length: 3 ft, width: 2 ft, depth: 20 in, water: 12 in}\njoints:"
FROM_SUMP = OVERFLOW.replace("joints:", SUMP).replace("from: tank, to: bed, flow", "from: sump, to: bed, flow")


def test_what_one_vessel_sheds_the_next_must_take():
    """The sump's pump brings 10 gpm into the bed, its return those into the tank, a hose 3 more: 13 gpm to overflow."""
    assert found(assessed(FROM_SUMP), "pipes/tank/return").demand / GPM == pytest.approx(13.0)
    bell = FROM_SUMP.replace("intake: 8 in, outlet", "intake: 2 in, starts_at: 8 in, outlet")
    surge = found(assessed(bell), "pipes/bed/return").capacity
    assert surge > 10 * GPM
    assert found(assessed(bell), "pipes/tank/return").demand == pytest.approx(surge + 3 * GPM)


def test_what_goes_round_does_not_fill_the_vessel_that_it_is_taken_from():
    """The tank's own pump takes the 10 gpm that come back: only the hose's 3 have to overflow."""
    assert found(assessed(OVERFLOW), "pipes/tank/return").demand / GPM == pytest.approx(3.0)
    assert found(assessed(OVERFLOW), "pipes/bed/return").demand / GPM == pytest.approx(10.0)


def test_outflows_of_two_inches():
    assert found(assessed(PIPED + PIPES), "pipes/return/bore").verdict == "short"
    assert found(assessed(PIPED + PIPES.replace("1.5 in", "2.5 in")), "pipes/return/bore").verdict == "holds"


def test_what_is_not_in_the_file_is_not_assessed_and_why():
    plain = assessed(RACK)
    assert "bore" in found(plain, "pipes/pump/speed").reason
    assert "no pipe" in found(plain, "pipes/bed/return").reason
    no_length = assessed(PIPED.replace(", length: 10 ft", ""))
    assert "length" in found(no_length, "pipes/pump/head").reason
    weighed = WEIGHED + (
        "  - {name: other, kind: tank, mass: 90 lb, centre_of_mass: 9 in, footprint: 9 in x 9 in}\n"
        "pumps: [{name: p, from: tank, to: other, flow: 90 gal/h, pipe: 1/2 in, length: 4 ft}]\n"
        "pipes: [{name: back, from: other, to: tank, bore: 1 in, intake: 8 in, length: 3 ft}]\n"
    )
    assert "levels" in found(assessed(weighed), "pipes/p/head").reason
    assert "only its weight" in found(assessed(weighed), "pipes/other/return").reason


def test_practice_is_no_danger_and_sets_no_exit_code():
    quiet = WEIGHED.replace("S_DS: 1.0", "S_DS: 0.02").replace("centre_of_mass: 30 in", "centre_of_mass: 9 in")
    text = quiet.replace("sill: 1 in", "sill: 20 in") + (
        "  - {name: other, kind: tank, mass: 90 lb, centre_of_mass: 9 in, footprint: 20 in x 20 in, holds: 9 gal}\n"
        "pumps: [{name: p, from: tank, to: other, flow: 900 gal/h, pipe: 3/8 in, float_switch: yes}]\n"
    )
    assessment = assessed(text)
    short = [one for one in assessment.findings if one.verdict == "short"]
    assert {one.id for one in short if one.practice} == {"pipes/p/speed", "pipes/p/clogs"}
    assert assessment.anything_short == any(not one.practice for one in short)
    assert not [one for one in choice.worst(assessment, 50) if one.practice]
    assert choice.counts(assessment)["short"] == sum(1 for one in short if not one.practice)
    assert not [one for one in short if not one.practice], short
    assert not assessment.anything_short
    assert "short" not in summary_words.headline(assessment).replace("comes out short", "")


def test_faces_show_practice_in_its_own_table(capsys):
    assessment = assessed(CURVED + PIPES)
    print_assessment(assessment, "us", console())
    out = " ".join(capsys.readouterr().out.split())
    assert choice.TOPICS["pipes"] in out
    assert "not danger" in out
    assert "rule and equations do not agree" in out
    listed = json.loads(as_json(assessment, "si"))["findings"]
    assert {one["practice"] for one in listed if one["topic"] == "pipes"} == {True}
    assert {one["practice"] for one in listed if one["topic"] not in ("pipes", "exposure")} == {False}


def test_cautions_of_practice():
    titles = {caution.title: caution.text for caution in assessed(RACK).cautions}
    assert "Only one pump feeds bed" in titles["Pumps stop"]
    assert "this one has none" in titles["Vessels overfill"]
    twice = RACK + "  - {name: second, from: tank, to: bed, flow: 300 gal/h}\n"
    assert "Only one pump" not in {one.title: one.text for one in assessed(twice).cautions}["Pumps stop"]
    assert "Pumps stop" not in {one.title for one in assessed(WEIGHED).cautions}


# Laws


def test_every_word_for_a_pipe_has_its_row():
    assert [pipe_material(word).material for word in PIPE_MATERIALS] == list(PIPE_MATERIALS)


def test_friction_falls_with_reynolds_and_rises_with_roughness():
    Re = np.logspace(3.7, 8, 80)
    assert np.all(np.diff(friction_factor(Re, 1e-4)) < 0)
    assert np.all(np.diff(friction_factor(1e5, np.array([0.0, 1e-5, 1e-4, 1e-3, 1e-2]))) > 0)
    assert np.isnan(friction_factor(0.0, 1e-4))
    assert float(friction_factor(999.999, 1e-4)) == pytest.approx(float(friction_factor(1000.0, 1e-4)), rel=2e-6)


def test_head_loss_laws():
    flows = np.linspace(0.0, 2e-3, 400)
    loss = head_loss(flows, 0.02, 3.0, 1.5, 1.5e-6)
    assert loss[0] == 0.0
    assert np.all(np.diff(loss) > 0)
    assert float(loss[7]) == float(head_loss(flows[7], 0.02, 3.0, 1.5, 1.5e-6))
    straight = head_loss(1e-3, 0.02, np.array([1.0, 2.0]), 0.0, 1.5e-6)
    assert straight[1] == pytest.approx(2 * straight[0])
    assert float(hazen_williams(2e-3, 0.05, 1.0, 150) / hazen_williams(1e-3, 0.05, 1.0, 150)) == pytest.approx(2**1.852)


@pytest.mark.parametrize("drop", [0.01, 0.3, 3.0])
def test_a_full_pipe_loses_just_the_drop_and_runs_no_faster_than_torricelli(drop):
    V = float(pipe_velocity(drop, 0.05, 4.0, 1.5, 1.5e-4, passes=40))
    assert float(head_loss(V * math.pi / 4 * 0.05**2, 0.05, 4.0, 1.5, 1.5e-4)) == pytest.approx(drop, rel=1e-9)
    assert math.sqrt(2 * GRAVITY * drop) > V
    assert float(pipe_velocity(drop, 0.05, 4.0, 1.5, 1.5e-4)) == pytest.approx(V, rel=1e-3)  # two passes, as in time
    assert float(pipe_velocity(-drop, 0.05, 4.0, 1.5, 1.5e-4)) == 0.0
    assert float(pipe_velocity(drop, 0.05, 1e-9, 1.0, 0.0)) == pytest.approx(math.sqrt(2 * GRAVITY * drop), rel=1e-6)
