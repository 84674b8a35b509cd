"""Lines of pumps and outflows of vessels at numbers where each term counts: what mutants found, by hand."""

import math
from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest

from brimfast.assess.network.friction import head_loss
from brimfast.assess.practice.findings import practice_cautions, practice_findings
from brimfast.assess.practice.lines import (
    _cross_check,
    _curve_steps,
    curve_head,
    line_findings,
    operating_flow,
    pump_line,
)
from brimfast.assess.practice.parts import both, friction_steps, full_flow, loss_steps, speed_step
from brimfast.assess.practice.returns import arriving, outflow, return_findings
from brimfast.shared.constants import FOOT, GALLON, GRAVITY, INCH
from tests.builders import read
from tests.printed import again

TEXT = """
installation: pipes
units: si
site: {standard: asce7-16, S_DS: 1.0}
room: {length: 8 m, width: 6 m, sill: 80 mm, drains: [{bore: 50 mm}]}
vessels:
  - {name: low, kind: tank, diameter: 1 m, depth: 800 mm, water: 600 mm}
  - {name: high, kind: tank, diameter: 1 m, depth: 500 mm, water: 300 mm, stand: {height: 1 m}}
  - {name: heavy, kind: tank, mass: 90 kg, centre_of_mass: 200 mm, footprint: 300 mm x 300 mm}
"""
PUMP = "pumps: [{name: p, from: low, to: high, flow: 20 L/min, outlet: 450 mm, pipe: 20 mm, length: 5 m}]\n"
CURVE = "curve: [0 L/min at 3 m, 60 L/min at 2 m]"
DRAIN = "pipes: [{name: d, from: high, to: low, bore: 40 mm, intake: 400 mm, outlet: 900 mm, length: 1 m, bends: 0}]\n"
AREA = math.pi / 4 * 0.02**2  # m², of 20 mm
WATER = {"low": SimpleNamespace(water_volume=0.5), "high": SimpleNamespace(water_volume=0.2)}


def pumped(old="", new=""):
    """The pump's line, with something else in its text."""
    assert old in PUMP
    installation = read(TEXT + PUMP.replace(old, new)).installation
    return pump_line(installation, installation.pumps[0])


def pipe(old="", new="", text=TEXT):
    """The outflow with something else in its text."""
    assert old in DRAIN
    installation = read(text + DRAIN.replace(old, new)).installation
    return outflow(installation, installation.pipes[0], 3)


def smooth(**changes):
    """A run of pipe without friction, K 5."""
    return replace(pumped().run, **({"D": 0.02, "L": 0.0, "K": 5.0, "roughness": 0.0} | changes))


def of(findings, ending):
    return next(one for one in findings if one.id.endswith(ending))


def head(line):
    return of(line_findings(line, WATER), "/head")


def numbers(steps):
    return {line.symbol: line.result.value for line in steps}


def work_out(steps):
    for line in steps:
        assert again(line) == pytest.approx(line.result.value, rel=1e-9), line.symbol


# The flow of a line


def test_a_curve_is_straight_between_its_points_and_nothing_beyond():
    """Points in any order: half way from 3 to 0 m between 1 and 3 L/s."""
    curve = [(3e-3, 0.0), (0.0, 4.0), (1e-3, 3.0)]
    assert curve_head(curve, 2e-3) == pytest.approx(1.5)
    assert curve_head(curve, 0.0) == 4.0
    assert math.isnan(curve_head(curve, 3.1e-3)) and math.isnan(curve_head(curve, -1e-4))


def test_the_flow_without_friction_is_a_root_of_a_quadratic():
    """3 − 2000 Q = lift + 5 Q²/(2 g A²), solved by numpy."""
    for lift in (0.5, 2.5):
        wanted = max(np.roots([5 / (2 * GRAVITY * AREA**2), 2000.0, lift - 3]))
        assert operating_flow([(1e-3, 1.0), (0.0, 3.0)], lift, smooth()) == pytest.approx(wanted, rel=1e-12)


def test_a_pump_that_just_reaches_the_lift_moves_nothing():
    assert operating_flow([(0.0, 3.0), (1e-3, 1.0)], 3.0, smooth()) == 0.0


def test_a_pump_that_has_head_left_at_the_end_of_its_curve_moves_its_most():
    """A wide run loses next to nothing: 9 m are left of 10."""
    assert operating_flow([(0.0, 12.0), (1e-3, 10.0)], 1.0, smooth(D=0.2)) == 1e-3


def test_levels_of_a_line():
    """Open end 1 + 0.45, water there 1 + 0.3, water below 0.6 m: up 0.85 to the end, 0.7 to water that covers it."""
    line = pumped()
    assert (line.end, line.source_level, line.lift) == pytest.approx((1.45, 0.6, 0.85))
    assert line.flow == pytest.approx(0.02 / 60) and line.system == "si"
    covered, unsaid = pumped("450 mm", "100 mm"), pumped(", outlet: 450 mm", "")
    assert (covered.end, covered.lift) == pytest.approx((1.1, 0.7))
    assert (unsaid.end, unsaid.lift) == pytest.approx((1.0, 0.7))
    work_out([line.lift_step, covered.lift_step])
    down = pumped("from: low, to: high", "from: high, to: low")
    assert (down.end, down.source_level, down.lift) == pytest.approx((0.45, 1.3, 0.6 - 1.3))


@pytest.mark.parametrize("ends", ["from: low, to: heavy", "from: heavy, to: low"])
def test_without_one_level_there_is_no_lift_and_the_curve_gives_its_most(ends):
    line = pumped("from: low, to: high, flow: 20 L/min", f"{ends}, {CURVE}")
    assert line.lift is None and line.end is None and line.run is not None
    assert line.flow == pytest.approx(1e-3)
    found = line_findings(line, {line.pump.source: WATER["low"]})
    assert "levels" in of(found, "/head").reason
    assert of(found, "/speed").details["flow"] == "60 L/min (16 gal/min), the most of its curve"


def test_curve_and_line_without_a_length():
    line = pumped(", length: 5 m", "")
    assert line.run is None and line.lift == pytest.approx(0.85)
    assert "length" in head(line).reason
    curved = pumped("flow: 20 L/min, outlet: 450 mm, pipe: 20 mm, length: 5 m", f"{CURVE}, pipe: 20 mm")
    assert curved.flow == pytest.approx(1e-3)
    words = of(line_findings(curved, WATER), "/speed").details["flow"]
    assert words == "60 L/min (16 gal/min), the most of its curve"


def test_words_for_the_flow():
    """With 2 m left at 60 L/min the line of 20 mm can't take it; one of 50 mm takes more than the curve has."""
    given, met = pumped(), pumped("flow: 20 L/min", CURVE)
    assert of(line_findings(given, WATER), "/speed").details["flow"] == "20 L/min (5.3 gal/min), as in the file"
    words = of(line_findings(met, WATER), "/speed").details["flow"]
    assert words.endswith("where curve and line meet") and 0 < met.flow < 1e-3
    beyond = replace(pumped("flow: 20 L/min", CURVE), flow=1e-3)
    assert "or more" in of(line_findings(beyond, WATER), "/speed").details["flow"]


# What is asked of a line


def test_turnover():
    """0.5 m³ at 1 L/s: 500 s, 8.3 min; of a pump that moves nothing none."""
    line = replace(pumped(), flow=1e-3)
    speed = of(line_findings(line, WATER), "/speed")
    assert speed.details["turn-over"] == "the water of low in 8.3 min"
    assert speed.demand == pytest.approx(1e-3 / AREA) and speed.capacity == pytest.approx(5 * FOOT)
    still = line_findings(replace(line, flow=0.0), WATER)
    assert "moves nothing" in of(still, "/speed").details["turn-over"]
    bare = line_findings(replace(line, pump=line.pump.model_copy(update={"pipe": None}), run=None), WATER)
    assert [one.id for one in bare] == ["pipes/p/speed"] and "bore" in bare[0].reason


@pytest.mark.parametrize("bore, sold", [(0.699, False), (0.7, True), (0.75, True), (0.9, True), (0.901, False)])
def test_which_bores_are_sold_as_three_quarters(bore, sold):
    ids = [one.id for one in line_findings(pumped("pipe: 20 mm", f"pipe: {bore} in"), WATER)]
    assert ("pipes/p/three-quarter" in ids) == sold


def test_head_of_a_line_with_flow():
    """20 L/min in 20 mm: V = 1.061 m/s, Re = 21,137; smooth f about 0.0255 (Moody); K = 0.5 + 1 + 2 x 0.9: 3.3 + 6.4 of
    V²/2g = 0.0574 m: 0.556 m. The pipe holds 1.571 L and runs back under 0.85 m, at √(2 g 0.85/(3.3 + f 250))."""
    found = head(pumped())
    assert [line.symbol for line in found.steps] == [
        *("H_0", "V", "Re", "A", "B", "f", "K", "h_L", "H", "h_HW"),
        *("Re", "A", "B", "f", "V", "t_b", "V_b"),
    ]
    first = numbers(found.steps[:10])
    assert first["V"] == pytest.approx(1.061, abs=5e-4) and first["Re"] == pytest.approx(21137, abs=5)
    assert first["f"] == pytest.approx(0.0255, abs=3e-4) and first["K"] == pytest.approx(3.3)
    assert first["h_L"] == pytest.approx(0.556, abs=0.005)
    assert found.demand == pytest.approx(0.85 + first["h_L"], rel=1e-12)
    assert found.details["head lost in the pipe"] == "0.56 m (1 ft 10 in) at 20 L/min (5.3 gal/min)"
    last = numbers(found.steps)
    assert last["V_b"] == pytest.approx(1.5708e-3, rel=1e-4)
    assert last["V"] == pytest.approx(math.sqrt(2 * GRAVITY * 0.85 / (3.3 + last["f"] * 250)), rel=1e-6)
    assert last["t_b"] == pytest.approx(5 / last["V"])
    work_out(found.steps)
    assert found.details["drains back"].startswith("1.6 L (0.41 gal) of the pipe in 3.7 s or more")


def test_head_of_a_pump_with_a_curve():
    """At 30 L/min half way from 3 to 2 m: 2.5 m."""
    line = replace(pumped("flow: 20 L/min", CURVE), flow=0.5e-3)
    found = head(line)
    assert [line.symbol for line in found.steps[:4]] == ["H_0", "H_max", "H_p", "V"]
    assert numbers(found.steps)["H_p"] == pytest.approx(2.5)
    assert (found.demand, found.capacity, found.reason) == (line.lift, 3.0, "")
    none = head(replace(line, flow=0.0))
    assert "nothing flows" in none.reason
    assert not {"h_L", "H", "h_HW"} & {line.symbol for line in none.steps}
    assert "head lost in the pipe" not in none.details


def test_the_piece_of_the_curve_that_a_flow_lies_on():
    """From 2.5 to 0.5 m between 1 and 3 L/s: 2.0 at 1.5; a point ends its own piece; by trial only between the ends."""
    pump = SimpleNamespace(curve=[(3e-3, 0.5), (0.0, 3.0), (1e-3, 2.5)], flow=3e-3)
    for Q, wanted, second in [(1.5e-3, 2.0, 1e-3), (1e-3, 2.5, 0.0), (3e-3, 0.5, 1e-3), (0.0, 3.0, 0.0)]:
        top, at = _curve_steps(pump, Q)
        assert top.result.value == 3.0
        assert at.result.value == pytest.approx(wanted) == again(at)
        assert at.inputs["Q_1"].value == second
        assert bool(at.note) == (0 < Q < 3e-3)


def test_laminar_flow_beside_hazen_williams():
    """0.05 m/s in 10 mm, Re = 498: Hagen-Poiseuille 32 ν L V/(g D²) = 1.6381 mm a metre; by Hazen-Williams with C = 150
    10.67 (3.927e-6)^1.852/(150^1.852 x 0.01^4.87) = 0.475 mm: 71 % less. With C 50 it is 3^1.852 = 7.65 times that: 122 % more."""
    slow = smooth(D=0.01, L=7.0, C=150.0, roughness=1e-4)
    Q = 0.05 * math.pi / 4 * 0.01**2
    less = _cross_check(Q, slow)
    poiseuille = 32 * 1.004e-6 * 7 * 0.05 / (GRAVITY * 0.01**2)
    share = again(less) / poiseuille
    assert less.result.value == pytest.approx(again(less))
    assert f" {1 - share:.0%} less" in less.note
    assert f" {share * 3**1.852 - 1:.0%} more" in _cross_check(Q, replace(slow, C=50.0)).note


# What drains back


def test_what_drains_back_into_an_empty_vessel():
    """The end is 1.45 m up, the source is empty: under 1.45 m."""
    installation = read(TEXT.replace("depth: 800 mm, water: 600 mm", "depth: 800 mm, water: 0 mm") + PUMP).installation
    found = head(pump_line(installation, installation.pumps[0]))
    assert next(line for line in found.steps if line.symbol == "t_b").inputs["L"].value == 5.0
    assert [line for line in found.steps if line.symbol == "V"][-1].inputs["H"].value == pytest.approx(1.45)


@pytest.mark.parametrize("outlet, drains", [("", False), (", outlet: 600 mm", False), (", outlet: 601 mm", True)])
def test_an_end_no_higher_than_the_water_drains_nothing_back(outlet, drains):
    """On the floor beside a vessel with 0.6 m of water, the end at 0, just as high, and 1 mm above."""
    text = TEXT.replace(", stand: {height: 1 m}", "") + PUMP.replace(", outlet: 450 mm", outlet)
    installation = read(text).installation
    found = head(pump_line(installation, installation.pumps[0]))
    assert ("t_b" in numbers(found.steps)) == drains
    assert ("lies below" in found.details["drains back"]) != drains


@pytest.mark.parametrize(
    "outlet, more, siphons",
    [
        ("450 mm", "", False),
        ("100 mm", "", True),
        ("100 mm", ", anti_siphon: yes", False),
        ("450 mm", ", anti_siphon: yes", False),
    ],
)
def test_only_an_end_under_water_siphons(outlet, more, siphons):
    found = head(pumped("450 mm", outlet + more))
    assert ("siphons" in found.details["drains back"]) == siphons
    assert found.details["drains back"].startswith("1.6 L")


def test_a_check_valve_keeps_the_line_full():
    found = head(pumped("length: 5 m", "length: 5 m, check_valve: yes"))
    assert found.details["drains back"].startswith("nothing")
    assert "t_b" not in numbers(found.steps)


# Rules of the trade


@pytest.mark.parametrize("bore, advice", [("0.49 in", "line clogs"), ("0.5 in", ""), ("0.51 in", "")])
def test_a_line_clogs_below_half_an_inch(bore, advice):
    found = of(line_findings(pumped("20 mm", bore), WATER), "/clogs")
    assert found.advice_key == advice
    work_out(found.steps)


def test_three_quarter_line():
    """0.4418 in² = 2.850e-4 m²; at 5 ft/s 4.344e-4 m³/s = 26 L/min; 1,500 gal/h = 1.5773e-3
    m³/s = 5.534 m/s, 3.6 times the limit."""
    line = pumped("20 mm", "0.75 in")
    rule, by_speed = 1500 * GALLON / 3600, math.pi / 4 * (0.75 * INCH) ** 2 * 5 * FOOT

    def asked(flow):
        return of(line_findings(replace(line, flow=flow), WATER), "/three-quarter")

    words = asked(2e-4).details["equations"]
    assert "at 1,500 gal/h the water would run 5.5 m/s (18 ft/s), 3.6 times" in words
    assert "reached at 26 L/min (6.9 gal/min)" in words
    work_out(asked(2e-4).steps)
    assert asked(2e-4).ratio == pytest.approx(2e-4 / rule)
    for flow, place in [
        (by_speed * 0.999, "below both"),
        (by_speed * 1.001, "between the two"),
        (rule * 0.999, "between the two"),
        (rule * 1.001, "above both"),
    ]:
        assert asked(flow).details["equations"].endswith(place)
    found = numbers(asked(1e-4).steps)
    assert asked(found["Q_V"]).details["equations"].endswith("below both")
    assert asked(found["Q_max"]).details["equations"].endswith("between the two")


# Runs of pipe


def test_a_run_and_its_coefficients():
    """Steel: 0.15 mm, C 120; 0.5 + 1 + 3 x 0.9 + 2 = 6.2."""
    line = pumped("length: 5 m", "length: 5 m, bends: 3, material: steel, check_valve: yes").run
    assert (line.D, line.L, line.roughness, line.C, line.K) == pytest.approx((0.02, 5.0, 1.5e-4, 120.0, 6.2))
    assert again(line.K_step) == pytest.approx(6.2)
    assert len(line.values) == len(pumped().run.values) + 1
    assert pumped("pipe: 20 mm, ", "").run is None


def test_a_full_run_without_friction_is_torricelli():
    """A √(2 g H/K)."""
    assert full_flow(0.3, smooth()) == pytest.approx(AREA * math.sqrt(2 * GRAVITY * 0.3 / 5), rel=1e-9)
    rough = smooth(L=4.0, roughness=1e-4)
    assert float(head_loss(full_flow(0.3, rough), 0.02, 4.0, 5.0, 1e-4)) == pytest.approx(0.3, rel=1e-9)


def test_lines_of_friction_by_hand():
    """1 m/s in 20 mm with walls of 0.2 mm: Re = 19,920, k/D = 0.01: f about 0.0409 by Moody's chart."""
    found = friction_steps(1.0, smooth(roughness=2e-4))
    work_out(found)
    assert found[0].result.value == pytest.approx(19920, abs=1)
    assert found[-1].result.value == pytest.approx(0.0409, abs=5e-4)
    lines = loss_steps(AREA, smooth(roughness=2e-4, L=3.0))
    work_out(line for line in lines if line.symbol != "K")
    assert lines[-1].result.value == pytest.approx((5 + found[-1].result.value * 150) / (2 * GRAVITY), rel=1e-9)
    assert again(speed_step(2e-3, 0.05)) == pytest.approx(2e-3 / (math.pi / 4 * 0.05**2))


def test_the_readers_own_system_stands_first():
    assert both(FOOT, "distance", "us") == "1 ft (0.3 m)"
    assert both(FOOT, "distance", "si") == "0.3 m (1 ft)"


# Outflows


def test_each_way_into_a_pipe_can_be_the_narrowest():
    """40 mm: A = 1.2566e-3 m², rim 0.12566 m. With the water 100 mm above the intake weir 1.66 x 0.12566 x 0.1^1.5 =
    6.597e-3, opening 0.67 A √(2 g 0.1) = 1.1792e-3, pipe √(2 g 0.6/(1.5 + f L/D)); 10 mm above: 2.086e-4 against 3.729e-4."""
    found = pipe()
    shown = numbers(found.steps)
    assert shown["Q_weir_3"] == pytest.approx(6.597e-3, rel=1e-3)
    assert shown["Q_open_3"] == pytest.approx(1.1792e-3, rel=1e-3)
    assert found.flow == pytest.approx(1.1792e-3, rel=1e-3)
    assert shown["V"] == pytest.approx(math.sqrt(2 * GRAVITY * 0.6 / (1.5 + shown["f"] * 25)), rel=1e-6)
    work_out(found.steps)
    shallow = pipe("intake: 400 mm", "intake: 490 mm")
    assert shallow.flow == pytest.approx(2.086e-4, rel=1e-3)
    long = pipe("length: 1 m", "length: 60 m")
    assert long.flow == pytest.approx(numbers(long.steps)["Q_pipe_3"]) and long.flow < 1.1e-3
    half = pipe("bends: 0", "bends: 0, blocked: 25 %")
    assert half.flow == pytest.approx(0.75 * found.flow)
    work_out(half.steps)


@pytest.mark.parametrize(
    "receiver, outlet, wanted",
    [("low", 900, 0.6), ("low", 100, 0.9), ("heavy", 100, 1.4), ("heavy", 0, 1.5), ("house drain", 0, 1.5)],
)
def test_how_far_an_outflow_falls(receiver, outlet, wanted):
    """From the rim at 1.5 m to its end, to water at 0.6 m above it; of a weighed vessel no water is known."""
    found = pipe(
        "to: low, bore: 40 mm, intake: 400 mm, outlet: 900",
        f"to: {receiver}, bore: 40 mm, intake: 400 mm, outlet: {outlet}",
    )
    assert next(line for line in found.steps if line.symbol == "V").inputs["H"].value == pytest.approx(wanted)


def test_an_outflow_up_to_the_height_of_the_rim_carries_nothing():
    """Both on the floor, the rim at 0.5 m: water there just as high, and 1 mm lower, where it runs."""
    flat = TEXT.replace(", stand: {height: 1 m}", "")
    level = pipe("outlet: 900 mm", "outlet: 0 mm", flat.replace("water: 600 mm", "water: 500 mm"))
    assert level.flow == 0.0
    assert [line.symbol for line in level.steps] == ["Q_weir_3", "Q_open_3", "Q_pipe_3", "Q_3"]
    work_out(level.steps)
    lower = pipe("outlet: 900 mm", "outlet: 0 mm", flat.replace("water: 600 mm", "water: 499 mm"))
    assert lower.flow > 0.0 and len(lower.steps) == 10


def test_a_vessel_that_is_only_weighed_has_unknown_outflows():
    found = pipe(
        "from: high, to: low, bore: 40 mm, intake: 400 mm, outlet: 900",
        "from: heavy, to: low, bore: 40 mm, intake: 400 mm, outlet: 0",
    )
    assert math.isnan(found.flow) and found.steps == ()


NET = """
pumps:
  - {name: p, from: low, to: high, flow: 20 L/min}
  - {name: q, from: c, to: high, flow: 30 L/min}
supplies: [{name: tap, to: high, flow: 10 L/min, unattended: 1 h}]
pipes:
  - {name: one, from: high, to: low, bore: 40 mm, intake: 400 mm, length: 1 m}
  - {name: two, from: high, to: c, bore: 40 mm, intake: 400 mm, length: 1 m}
  - {name: back, from: c, to: high, bore: 40 mm, intake: 100 mm, length: 1 m}
"""
NETTED = (
    TEXT.replace(", stand: {height: 1 m}", "")
    + "  - {name: c, kind: sump, diameter: 1 m, depth: 500 mm, water: 300 mm}\n"
)
L_MIN = 1e-3 / 60


def comes(vessel, carries, old="", new=""):
    installation = read(NETTED + NET.replace(old, new)).installation
    total, parts = arriving(
        installation, {"p": 20 * L_MIN, "q": 30 * L_MIN}, {name: flow * L_MIN for name, flow in carries.items()}, vessel
    )
    return pytest.approx(total / L_MIN), {name: flow / L_MIN for name, flow in parts}


CARRIES = {"one": 10.0, "two": 30.0, "back": 5.0}


def test_what_arrives_is_shared_by_what_pipes_carry():
    """Into `high` 20 + 30 by pumps and 10 by the tap, and none by `back`, whose sump has what comes only from `high`. Into
    `low`, without its own pump, 30 + 10: a quarter of it, by 10 of 40: 10. Into `c`, without its own: 20 + 10 times 3/4."""
    assert comes("high", CARRIES) == (60.0, pytest.approx({"p": 20.0, "q": 30.0, "tap": 10.0}))
    assert comes("low", CARRIES) == (10.0, pytest.approx({"one": 10.0}))
    assert comes("c", CARRIES) == (22.5, pytest.approx({"two": 22.5}))
    assert comes("heavy", CARRIES) == (0.0, {})


def test_pipes_that_carry_nothing_or_nobody_knows_what_bring_all():
    """40 into `high` without the pump of `low`: all of it by either pipe where what they carry is 0 or not known."""
    assert comes("low", {"one": 0.0, "two": 0.0, "back": 0.0}) == (40.0, pytest.approx({"one": 40.0}))
    assert comes("low", {"one": math.nan, "two": 1.0, "back": 1.0}) == (40.0, pytest.approx({"one": 40.0}))


def test_a_pipe_that_starts_by_itself_brings_what_it_carries():
    """90 rather than its share of the 40, 90/120; of 12, its share of 12/42 of 40 is 11.4, so 12; where nobody knows, all."""
    bell = (
        "name: one, from: high, to: low, bore: 40 mm",
        "name: one, from: high, to: low, starts_at: 450 mm, bore: 40 mm",
    )
    assert comes("low", CARRIES | {"one": 90.0}, *bell) == (90.0, {"one": pytest.approx(90.0)})
    assert comes("low", CARRIES | {"one": 12.0}, *bell) == (12.0, {"one": pytest.approx(12.0)})
    assert comes("low", CARRIES | {"one": 2.0}, *bell) == (2.5, {"one": pytest.approx(2.5)})
    assert comes("low", CARRIES | {"one": math.nan}, *bell) == (40.0, {"one": pytest.approx(40.0)})


def test_a_ring_is_followed_once_round():
    """What `back` returns came from `high`, so `high` does not get it twice; with water of its own from a tap, it does."""
    total, parts = comes(
        "high", CARRIES, "supplies: [", "supplies: [{name: hose, to: c, flow: 8 L/min, unattended: 1 h}, "
    )
    assert total == 68.0 and parts["back"] == pytest.approx(8.0)


def test_returns_of_vessels():
    """`low` is neither pumped into nor has a pipe out: nothing is asked of it. `high` gets 60 and has two pipes."""
    installation = read(NETTED + NET).installation
    flows = {"p": 20 * L_MIN, "q": 30 * L_MIN}
    found = {one.id: one for one in return_findings(installation, flows)}
    assert list(found) == ["pipes/high/return", "pipes/one/bore", "pipes/two/bore", "pipes/c/return", "pipes/back/bore"]
    high = found["pipes/high/return"]
    assert high.demand == pytest.approx(60 * L_MIN) and high.reason == ""
    shown = numbers(high.steps)
    assert high.capacity == pytest.approx(shown["Q_1"] + shown["Q_2"]) == pytest.approx(shown["Q"])
    last = {line.symbol: line for line in high.steps}
    assert again(last["q"]) == pytest.approx(60 * L_MIN) and again(last["Q"]) == pytest.approx(high.capacity)
    assert list(last["q"].inputs) == ["q_1", "q_2", "q_3"] and list(last["Q"].inputs) == ["Q_1", "Q_2"]
    assert high.details["runs in"] == "p, q, tap"
    assert "Q_1" in numbers(found["pipes/c/return"].steps)
    dry = read(TEXT + DRAIN).installation
    assert [one.id for one in return_findings(dry, {})] == ["pipes/d/bore"]


def test_a_vessel_with_pipes_that_only_a_tap_fills_is_asked_and_one_without_is_not():
    tap = "supplies: [{name: tap, to: high, flow: 10 L/min, unattended: 1 h}]\n"
    ids = [one.id for one in return_findings(read(TEXT + tap + DRAIN).installation, {})]
    assert ids == ["pipes/high/return", "pipes/d/bore"]
    assert return_findings(read(TEXT + tap).installation, {}) == []


def test_who_brings_is_named_up_to_four():
    def brought(count):
        pumps = "".join(f"  - {{name: p{n}, from: low, to: high, flow: 1 L/min}}\n" for n in range(count))
        installation = read(TEXT + "pumps:\n" + pumps).installation
        return of(return_findings(installation, {f"p{n}": L_MIN for n in range(count)}), "/return")

    assert brought(4).details["runs in"] == "p0, p1, p2, p3"
    assert brought(5).details["runs in"] == "p0, p1, p2, p3 and others"
    assert "no pipe" in brought(4).reason and brought(4).demand == pytest.approx(4 * L_MIN)


def test_pipes_at_the_rim_are_short_and_it_is_said_why():
    found = read(TEXT + PUMP + DRAIN.replace("intake: 400 mm", "intake: 500 mm")).installation
    rim = of(return_findings(found, {"p": L_MIN}), "/return")
    assert rim.capacity == 0.0 and "nothing runs" in rim.reason


@pytest.mark.parametrize("bore, advice", [("1.99 in", "outflow"), ("2 in", ""), ("2.01 in", "")])
def test_an_outflow_is_two_inches_wide(bore, advice):
    found = of(return_findings(read(TEXT + DRAIN.replace("40 mm", bore)).installation, {}), "/bore")
    assert found.advice_key == advice
    work_out(found.steps)


# All together, and what no equation says


def test_findings_of_lines_stand_before_those_of_returns():
    ids = [one.id for one in practice_findings(read(TEXT + PUMP + DRAIN).installation, WATER)]
    assert ids == [
        "pipes/p/speed",
        "pipes/p/head",
        "pipes/p/clogs",
        "pipes/p/three-quarter",
        "pipes/high/return",
        "pipes/d/bore",
    ]


def said(text):
    return {caution.title: caution.text for caution in practice_cautions(read(text).installation)}


def fed(count):
    vessels = "".join(
        f"  - {{name: t{n}, kind: tank, diameter: 1 m, depth: 500 mm, water: 300 mm}}\n" for n in range(count)
    )
    pumps = "".join(f"  - {{name: p{n}, from: low, to: t{n}, flow: 9 L/min}}\n" for n in range(count))
    return TEXT + vessels + "pumps:\n" + pumps


def test_vessels_that_one_pump_feeds_are_named_up_to_six():
    six, seven = said(fed(6))["Pumps stop"], said(fed(7))["Pumps stop"]
    assert six.startswith("Only one pump feeds t0, t1, t2, t3, t4, t5: ")
    assert seven.startswith("Only one pump feeds t0, t1, t2, t3, t4, t5 and others: ")
    twice = said(fed(1) + "  - {name: again, from: low, to: t0, flow: 9 L/min}\n")["Pumps stop"]
    assert twice.startswith("A pump's filter wants cleaning every day or, at the longest, every 2 days")


@pytest.mark.parametrize("text", [PUMP, DRAIN, "supplies: [{name: tap, to: high, flow: 10 L/min, unattended: 1 h}]\n"])
def test_whatever_moves_water_can_overfill_a_vessel(text):
    assert "keep the floor drain clean" in said(TEXT + text)["Vessels overfill"]
    without = TEXT.replace(", drains: [{bore: 50 mm}]", "")
    assert "this one has none" in said(without + text)["Vessels overfill"]
    assert said(TEXT) == {}
