"""Things on chains: hand arithmetic and laws."""

import math

import numpy as np
import pytest

from brimfast.assess.demand.height import support_amplification
from brimfast.assess.demand.spectrum import design_spectrum, light_damping
from brimfast.assess.hung.hangers import hanger_load
from brimfast.assess.hung.rails import rail_moment
from brimfast.assess.hung.swing import pendulum_period, swing
from brimfast.assess.pipeline import assess
from brimfast.assess.timber.beam import biaxial_bending
from brimfast.shared.constants import GRAVITY, INCH, POUND_FORCE, POUND_MASS
from brimfast.shared.reading import read_bytes
from tests.builders import RACK, assessed, found

RAILED = RACK.replace("    beam_runs: each bay", "    beam_runs: each bay\n    rails: [{height: 80 in, member: 2x4}]")
HUNG = """
hung:
  - name: light
    from: r
    rail: 1
    mass: 22 lb
    drop: 30 in
    clearance: 20 in
    above_water: 10 in
    over: bed
    allowable: 60 lb
    source: its maker
"""
SOIL = "S_S: 1.4, S_1: 0.49, site_class: D default"


def hung(text=HUNG, rack=RAILED):
    return assessed(rack + text)


def with_period(seconds, soil=SOIL):
    rack = RAILED.replace("S_DS: 1.0", soil)
    return rack.replace("    beam_runs", f"    period: {seconds} s\n    beam_runs") if seconds else rack


def test_a_metre_swings_in_two_seconds():
    """The seconds pendulum: 0.994 m, half a swing a second."""
    assert float(pendulum_period(0.994)) == pytest.approx(2.0, abs=1e-3)


@pytest.mark.parametrize("L", [0.05, 0.5, 3.0])
def test_four_times_as_long_takes_twice_the_time(L):
    assert float(pendulum_period(4 * L)) == pytest.approx(2 * float(pendulum_period(L)), rel=1e-12)


def test_swing_is_the_spectral_displacement():
    """S_d = S_a g (T/2π)² by the period is S_a L."""
    L, S_a = 0.8, 0.3
    omega = 2 * math.pi / float(pendulum_period(L))
    assert float(swing(S_a, L)) == pytest.approx(S_a * GRAVITY / omega**2, rel=1e-12)


def test_swing_never_passes_the_chain_and_never_shrinks():
    S_a = np.linspace(0.0, 3.0, 601)
    far = swing(S_a, 0.7)
    assert far.max() == 0.7
    assert np.all(np.diff(far) >= 0)
    assert np.all(far[S_a > math.pi / 4] == 0.7)


def test_arrays_are_scalars():
    T, L = np.array([0.3, 1.1, 2.9]), np.array([0.2, 0.5, 1.4])
    for function, more in (
        (pendulum_period, ()),
        (design_spectrum, (1.2, 0.6)),
        (swing, (0.4,)),
        (support_amplification, (0.15,)),
        (hanger_load, (2,)),
        (light_damping, ()),
        (rail_moment, (30.0, 1.5)),
    ):
        first = T if function in (design_spectrum, support_amplification) else L
        together = function(first, *more)
        assert [float(function(one, *more)) for one in first] == pytest.approx(list(together), rel=1e-14)


def test_a_support_near_the_pendulum_is_refused():
    assert float(support_amplification(1.5, 1.0)) == pytest.approx(1.8)  # 1/(1 - 1/2.25)
    assert float(support_amplification(2.0, 0.0)) == 1.0
    assert math.isnan(float(support_amplification(1.49, 1.0)))
    assert math.isnan(float(support_amplification(0.3, 1.0)))
    assert np.all(np.diff(support_amplification(np.linspace(1.5, 9, 50), 1.0)) < 0)


def test_hanger_load_by_hand():
    """100 N: one hanger 3 W = 300; two: √(70² + 140²) = 156.5; four as two."""
    assert float(hanger_load(100, 1)) == pytest.approx(300)
    assert float(hanger_load(100, 2)) == pytest.approx(math.hypot(70, 140))
    assert float(hanger_load(100, 4)) == float(hanger_load(100, 2))
    assert float(hanger_load(250, 2)) == pytest.approx(2.5 * float(hanger_load(100, 2)))


def test_the_bottom_of_a_swing_from_level():
    """Energy: v² = 2 g L at the bottom, so the chain pulls m g + m v²/L = 3 m g."""
    m, L = 7.0, 0.6
    pull = m * GRAVITY + m * (2 * GRAVITY * L) / L
    assert float(hanger_load(m * GRAVITY, 1)) == pytest.approx(pull)


def test_both_axes():
    assert float(biaxial_bending(4.0, 10.0, 0.0, 8.0, 20.0)) == pytest.approx(0.4)
    assert float(biaxial_bending(0.0, 10.0, 4.0, 8.0, 20.0)) == pytest.approx(0.5)
    assert float(biaxial_bending(4.0, 10.0, 4.0, 8.0, 8.0)) == pytest.approx(0.4 + 0.5 / 0.75)
    assert float(biaxial_bending(20.0, 10.0, 4.0, 8.0, 20.0)) == math.inf


def test_swing_by_hand():
    """30 in: T = 2π √(0.762/9.80665) = 1.7514 s. S_D1 = 2/3 · 1.5 · 1.81 · 0.49 = 0.8869 g, S_DS = 2/3 · 1.2 · 1.4 = 1.12.

    S_a = 0.8869/1.7514 = 0.50639 g; light damping 5.6/4 = 1.4; rack of 0.4 s: 1/(1 - (0.4/1.7514)²) = 1.05503.
    Swing 1.4 · 1.05503 · 0.50639 · 30 in = 22.44 in.
    """
    one = found(hung(rack=with_period(0.4)), "hung/light/swing")
    assert one.demand / INCH == pytest.approx(22.44, abs=0.01)
    assert one.ratio == pytest.approx(22.44 / 20, abs=0.001)
    assert one.verdict == "short"


def test_without_the_racks_period_it_is_taken_slow():
    known, unknown = (found(hung(rack=with_period(T)), "hung/light/swing") for T in (0.4, None))
    assert unknown.demand > known.demand
    assert any(value.name == "period of the rack" for value in unknown.values)


def test_a_rack_in_step_builds_it_up():
    one = found(hung(rack=with_period(1.5)), "hung/light/swing")
    assert one.demand / INCH == pytest.approx(30)
    assert "nearly the same time" in one.basis


def test_without_S_1_the_plateau_is_long():
    short, long = (found(hung(rack=with_period(0.1, soil)), "hung/light/swing") for soil in (SOIL, "S_DS: 1.12"))
    assert long.demand > short.demand
    assert any("S_1 is not given" in value.name for value in long.values)


def test_soft_ground_is_not_assessed():
    soft = with_period(0.1, "S_S: 0.6, S_1: 0.3, site_class: E")
    one = found(hung(rack=soft), "hung/light/swing")
    assert one.verdict == "not assessed"
    assert "site-specific" in one.reason


def test_longer_swings_farther_and_higher_floors_more():
    def far(drop, height):
        rack = with_period(0.1, "S_S: 0.6, S_1: 0.2, site_class: C" + (f", height_ratio: {height}" if height else ""))
        return found(hung(HUNG.replace("30 in", drop), rack), "hung/light/swing").demand

    drops = [far(f"{inches} in", 0) for inches in (10, 20, 30, 40)]
    assert drops == sorted(drops)
    assert far("30 in", 0.5) == pytest.approx(2 * far("30 in", 0))  # 1 + 2 · 0.5


def test_what_is_not_said_is_not_assessed_but_shown():
    bare = hung(
        "\nhung:\n  - {name: light, from: r, mass: 22 lb, drop: 30 in}\n  - {name: fan, from: ceiling, mass: 9 lb, drop: 1 ft}\n"
    )
    for id in ("hung/light/swing", "hung/light/hangers", "hung/fan/swing"):
        one = found(bare, id)
        assert one.verdict == "not assessed"
        assert one.demand > 0
    assert "rail" in found(bare, "hung/light/support").reason
    assert "ceiling" in found(bare, "hung/fan/support").reason
    assert any(value.name.startswith("height of the ceiling") for value in found(bare, "hung/fan/swing").values)
    assert any("measure how far" in advice.measure for advice in bare.advice)


def test_a_ceiling_that_is_on_the_ground_floor_sways_less():
    text = "\nhung:\n  - {name: fan, from: ceiling, mass: 9 lb, drop: 4 ft, clearance: 3 ft}\n"
    roof = found(hung(text), "hung/fan/swing")
    low = found(hung(text.replace("drop", "height_ratio: 0, drop"), with_period(0.1)), "hung/fan/swing")
    assert low.demand < roof.demand
    assert roof.demand == pytest.approx(4 * 12 * INCH)


def test_it_counts_in_the_rack():
    """22 lb at the rail: in the mass, raising the centre; every post carries all of it."""
    with_it, without = hung(), assessed(RAILED)
    body, bare = (next(one for one in case.bodies if one.name == "rack r") for case in (with_it, without))
    assert body.mass - bare.mass == pytest.approx(22 * POUND_MASS)
    assert body.height * body.mass - bare.height * bare.mass == pytest.approx(22 * POUND_MASS * 80 * INCH)
    more = with_it.gravity["r"].post_worst - without.gravity["r"].post_worst
    assert more == pytest.approx(22 * POUND_FORCE)
    assert with_it.gravity["r"].total - without.gravity["r"].total == pytest.approx(22 * POUND_FORCE)


def test_rail_by_hand():
    """A 2x4 over 5 ft: W L/4 = 330 lb in from the light, w L²/8 from its own weight; S = 3.0625 in³, flat 1.3125 in³."""
    case = hung()
    member = case.resolved.racks["r"].rails[0]
    own = member.density * (1.5 * INCH) * (3.5 * INCH) * GRAVITY
    L = 60 * INCH
    M = 22 * POUND_FORCE * L / 4 + own * L**2 / 8
    S = 1.5 * 3.5**2 / 6 * INCH**3
    rest = found(case, "member/r/rail 1")
    assert rest.demand == pytest.approx(M / S)
    edge, flat = 1.4 * M / S, 1.4 * M / (3.5 * 1.5**2 / 6 * INCH**3)
    shaken = found(case, "member/r/rail 1/earthquake")
    values = {line.symbol: line.result.value for line in shaken.steps}
    assert values["f_b1"] == pytest.approx(edge)
    assert values["f_b2"] == pytest.approx(flat)
    psi = values["F_b_adj"] * 6894.757293168361
    by_hand = edge / (psi * values["C_L"]) + flat / (psi * (1 - (edge / values["F_bE"]) ** 2))
    assert shaken.ratio == pytest.approx(by_hand, rel=1e-9)


def test_two_on_one_rail_add_up():
    second = HUNG + "  - {name: second, from: r, rail: 1, mass: 22 lb, drop: 20 in}\n"
    one, two = (found(hung(text), "member/r/rail 1") for text in (HUNG, second))
    assert one.demand < two.demand < 2 * one.demand


def test_a_rail_too_slender_is_short():
    far = RAILED.replace("bay_length: 5 ft", "bay_length: 18 ft").replace("length: 24 ft", "length: 60 ft")
    far = far.replace("member: 2x4", "member: 30x235 mm C24")
    one = found(hung(rack=far), "member/r/rail 1/earthquake")
    assert one.verdict == "short"
    assert one.ratio is None


def test_the_water_beneath_is_a_caution_and_no_number():
    case = hung()
    caution = next(one for one in case.cautions if one.title == "What hangs over water")
    assert "light hangs over water" in caution.text
    assert "independent" in caution.text
    assert "ground-fault" in caution.text
    assert not any("hung" in one.title for one in assessed(RAILED).cautions)


def test_periods_that_are_computed_go_before_the_files():
    from brimfast.assess.hung.findings import hung_findings

    source = read_bytes((with_period(0.4) + HUNG).encode(), "t.yaml").installation
    case = assess(source)
    given = hung_findings(source, case.resolved, case.motion, {"r": 0.1})
    assert given[0].demand < found(case, "hung/light/swing").demand
