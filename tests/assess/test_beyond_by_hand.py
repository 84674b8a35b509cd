"""Past the point where a body begins to move: way and fall at numbers where each term counts; by hand."""

import math
from dataclasses import replace

import pytest

from brimfast.assess.beyond.assess import beyond, beyond_findings, floor_motion
from brimfast.assess.beyond.slide import slide_in_a_pulse, slide_in_records
from brimfast.assess.beyond.topple import energy_velocity, falling_velocity, least_falling_index
from brimfast.assess.beyond.velocity import peak_velocity
from brimfast.assess.bodies import Anchoring, Direction, FreeBody
from brimfast.assess.demand.motion import Corner
from brimfast.assess.demand.standard import standard_of
from brimfast.assess.parts import FrictionUsed
from brimfast.shared.findings import Value, finding
from brimfast.shared.installation.site import Site

SITE = Site(standard="asce7-16", S_DS="0.8", height_ratio="0.25")
NO_CORNER = Corner(math.nan, (), (), "not known")


def motion(T_S=0.5, share=0.16):
    """S_DS 0.8 g; E_v 0.2 · 0.8 = 0.16 of the weight, or another share."""
    found = standard_of(SITE).motion(SITE)
    corner = NO_CORNER if T_S is None else Corner(T_S, (), ())
    return replace(found, corner=corner, vertical=replace(found.vertical, factor=share, value=1.0))


def body(name="tank", low=0.3, high=0.4, arms=(0.4, 0.25), **other):
    friction = FrictionUsed("foot", "floor", low, high, Value("friction", "", "", "from memory"))
    ways = tuple(Direction(way, 2 * arm, arm) for way, arm in zip(("along", "across"), arms, strict=True))
    plain = FreeBody(name, "floor vessel", "floor", "vessel", 500.0, 0.9, ways, friction, None, 0.4)
    return replace(plain, **other)


def only(**other):
    chosen = {key: other.pop(key) for key in ("T_S", "share") if key in other}
    (one,) = beyond((body(**other),), SITE, motion(**chosen)).values()
    return one


# --- formulas


def test_records_of_both_signs_of_the_scatter():
    """Jibson 2007, equation 6, A 0.6 g, N 0.12 g, r 0.2: log D = 0.215 + 2.341·(−0.09691) + 1.438·0.69897 = 0.99325.

    9.846 cm; one of its 0.510 more 10^1.50325 = 31.86 cm.
    """
    assert float(slide_in_records(0.6, 0.12)) == pytest.approx(0.09846, rel=1e-3)
    assert float(slide_in_records(0.6, 0.12, 1.0)) == pytest.approx(0.3186, rel=1e-3)


def test_pulse():
    """Newmark 1965: V 0.5 m/s, A 0.6 g, N 0.12 g: 0.25/(2 · 9.80665 · 0.12) · (1 − 0.2) = 0.10622 · 0.8 = 0.08498 m."""
    assert float(slide_in_a_pulse(0.5, 0.6, 0.12)) == pytest.approx(0.08498, rel=1e-4)


@pytest.mark.parametrize("A", [0.0, -0.2])
def test_a_floor_that_does_not_move_has_no_way(A):
    """r = N/A has no value there."""
    assert math.isnan(float(slide_in_records(A, 0.3)))
    assert math.isnan(float(slide_in_a_pulse(0.5, A, 0.3)))


@pytest.mark.parametrize("N", [0.0, -0.1])
def test_what_nothing_holds_has_no_number(N):
    assert math.isnan(float(slide_in_records(0.3, N)))
    assert math.isnan(float(slide_in_a_pulse(0.5, 0.3, N)))


@pytest.mark.parametrize(("A", "N"), [(0.3, 0.3), (0.2, 0.3)])
def test_no_way_from_the_threshold_on(A, N):
    """0 where A ≤ N, however fast the floor."""
    assert float(slide_in_records(A, N, 1.0)) == 0.0
    assert float(slide_in_a_pulse(2.0, A, N)) == 0.0
    assert float(slide_in_a_pulse(math.nan, A, N)) == 0.0


def test_small_resistances_are_not_bounded_away():
    """r 0.002: 1 − r to 2.341 is 0.99533, 0.002^−1.438 is 10^(1.438 · 2.69897) = 7605: 10^0.215 · 7570 = 12419 cm."""
    assert float(slide_in_records(1.0, 0.002)) == pytest.approx(124.19, rel=1e-4)


def test_velocity_that_fells():
    """b 0.4 m, h 0.9 m: R = √0.97 = 0.984886, R − h = 0.084886; √(8 · 9.80665 · 0.084886/3) = √2.21985 = 1.48992.

    0.4 of it 0.59597 m/s. Ishiyama 1982.
    """
    assert float(energy_velocity(0.4, 0.9)) == pytest.approx(1.48992, rel=1e-5)
    assert float(falling_velocity(0.4, 0.9)) == pytest.approx(0.59597, rel=1e-5)


def test_both_must_be_passed():
    """0.5/0.25 = 2 and 0.6/0.4 = 1.5; 0.3/0.25 = 1.2 and 1.5."""
    assert float(least_falling_index(0.5, 0.25, 0.6, 0.4)) == pytest.approx(1.5)
    assert float(least_falling_index(0.3, 0.25, 0.6, 0.4)) == pytest.approx(1.2)


def test_velocity_of_the_ground():
    """FEMA P-58-1 section 5.3, 0.25 g at 1 s: 0.25 · 9.80665/(2π · 1.65) = 2.45166/10.36726 = 0.23648 m/s."""
    assert float(peak_velocity(0.25)) == pytest.approx(0.23648, rel=1e-4)


# --- of a body


def test_floor_of_an_upper_storey():
    """H_f = 1 + 2 · 0.25 = 1.5 (ASCE 7-16 (13.3-1)); a = 1.5 · 0.4 · 0.8 = 0.48 g.

    S_1s = 0.8 · 0.5 = 0.4 g: 0.4 · 9.80665/(2π · 1.65) = 0.37837 m/s, 1.5 times 0.56756 m/s.
    With T_S 2 s one second is on the plateau: 0.8 g, twice as fast.
    """
    floor = floor_motion(SITE, motion())
    assert floor.acceleration == pytest.approx(0.48)
    assert floor.velocity == pytest.approx(0.56756, rel=1e-4)
    assert floor_motion(SITE, motion(T_S=2.0)).velocity == pytest.approx(1.13511, rel=1e-4)
    assert math.isnan(floor_motion(SITE, motion(T_S=None)).velocity)


def test_least_and_most_way_by_hand():
    """Low friction 0.3 · (1 − 0.16) = 0.252 g, r = 0.252/0.48 = 0.525; high friction 0.4 g whole, r = 0.83333.

    Most: by records 10^0.725 · 0.475^2.341 · 0.525^−1.438/100 = 5.3088 · 0.17504 · 2.5259/100 = 0.02347 m,
    by the pulse 0.56756²/(2 · 9.80665 · 0.252) · 0.475 = 0.06517 · 0.475 = 0.03096 m: the larger.
    Least: by records 10^0.215 · 0.16667^2.341 · 0.83333^−1.438/100 = 1.6406 · 0.015078 · 1.29976/100 = 0.0003215 m: the smaller,
    by the pulse 0.56756²/(2 · 9.80665 · 0.4)/6 = 0.006843 m.
    """
    one = only()
    assert one.most == pytest.approx(0.03096, rel=1e-3)
    assert one.least == pytest.approx(0.0003215, rel=1e-3)
    ways = {line.symbol: line.result.value for line in one.slide_steps}
    assert ways["N_low"] == pytest.approx(0.252)
    assert ways["D_records"] == pytest.approx(0.02347, rel=1e-3)
    assert ways["D_pulse"] == pytest.approx(0.03096, rel=1e-3)
    assert (one.acceleration, one.velocity) == pytest.approx((0.48, 0.56756), rel=1e-4)


def test_least_and_most_where_the_floor_is_slow():
    """T_S 0.05 s: a tenth of the velocity, a hundredth of the pulse's way: least 0.0000684 m; most by the records."""
    one = only(T_S=0.05)
    assert one.least == pytest.approx(0.00006843, rel=1e-3)
    assert one.most == pytest.approx(0.02347, rel=1e-3)


def test_where_the_velocity_is_not_known_the_records_count():
    one = only(T_S=None)
    assert (one.least, one.most) == pytest.approx((0.0003215, 0.02347), rel=1e-3)
    assert not [line for line in one.slide_steps if line.symbol == "D_pulse"]
    assert math.isnan(one.velocity)


def test_a_floor_that_throws_the_body_up_leaves_a_twentieth():
    """E_v 0.97 of the weight: 0.3 · 0.05 = 0.015 g is left, not 0.3 · 0.03; r = 0.03125.

    Records: 10^0.725 · 0.96875^2.341 · 0.03125^−1.438/100 = 5.3088 · 0.92837 · 146.02/100 = 7.197 m.
    """
    one = only(share=0.97)
    assert one.most == pytest.approx(7.197, rel=1e-3)
    assert next(line.result.value for line in one.slide_steps if line.symbol == "N_low") == pytest.approx(0.015)


def test_what_its_friction_holds_has_no_way():
    """0.48 g of 0.48 g: it just holds. No vertical part."""
    A = floor_motion(SITE, motion()).acceleration
    one = only(low=A, high=0.9, share=0.0)
    assert (one.least, one.most) == (0.0, 0.0)
    assert not [line for line in one.slide_steps if line.symbol.startswith("D_")]


def test_only_what_stands_free_on_the_floor():
    held = Anchoring(4, None, None, "", "the floor")
    bodies = (
        body("free"),
        body("upon", on="r", kind="vessel on rack"),
        body("anchored", anchoring=held),
        body("tied", tied=True),
    )
    assert list(beyond(bodies, SITE, motion())) == ["free"]


@pytest.mark.parametrize("arms", [(0.4, 0.25), (0.25, 0.4)])
def test_it_falls_in_its_worst_direction(arms):
    """Arm 0.25 m, h 0.9 m: a_0 = 0.27778 g, 0.48/0.27778 = 1.728; R = √0.8725 = 0.934077, v_0 = 0.4 √(8 · 9.80665 · 0.034077/3)
    = 0.4 · 0.94401 = 0.37760 m/s, 0.56756/0.37760 = 1.5031: the smaller. Arm 0.4 m: 1.08 and 0.56756/0.59597 = 0.9523.
    """
    one = only(arms=arms)
    assert one.falls == pytest.approx(1.5031, rel=1e-4)
    assert one.needed == pytest.approx(0.37760, rel=1e-4)
    assert one.direction == ("along" if arms[0] == 0.25 else "across")
    steps = {line.symbol: line.result.value for line in one.fall_steps}
    assert steps["a_0"] == pytest.approx(0.27778, rel=1e-4)
    assert steps["I_fall"] == pytest.approx(1.5031, rel=1e-4)


def test_racks_and_unknown_velocities_are_not_assessed():
    assert math.isnan(only(kind="rack").falls)
    assert math.isnan(only(T_S=None).falls)
    assert math.isnan(only(T_S=None).needed)


def test_falling_is_asked_of_what_tips():
    """A body of which the check of tipping is short: index 1.5031 against 1; a rack is not assessed; others are not asked."""

    def tips(name, ratio, kind="tipping"):
        return finding(f"{kind}/{name}/across", "stability", name, "?", ratio, 1.0, "moment", "")

    known = beyond(
        (body("steady"), body("rack r", kind="rack"), body("slides"), body()),
        SITE,
        motion(),
    )
    tipping = [tips("tank", 1.2), tips("rack r", 1.01), tips("steady", 1.0), tips("slides", 1.5, "sliding")]
    second, first = beyond_findings(known, tipping)
    assert (first.id, first.verdict) == ("falls/tank", "short")
    assert (first.demand, first.capacity) == (pytest.approx(1.5031, rel=1e-4), 1.0)
    assert first.details["floor moves at"] == "0.57 m/s"
    assert first.details["may fall from"] == "0.38 m/s"
    assert (second.id, second.verdict) == ("falls/rack r", "not assessed")
    assert "posts" in second.reason
    (unknown,) = beyond_findings(beyond((body(),), SITE, motion(T_S=None)), tipping)
    assert (unknown.verdict, unknown.reason) == ("not assessed", "the spectrum at 1 s is not known")
