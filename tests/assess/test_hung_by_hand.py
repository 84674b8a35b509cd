"""Things on chains and rails against arithmetic by hand, where other tests would not notice a changed number."""

import math

import pytest

from brimfast.assess.hung.findings import hung_findings
from brimfast.assess.hung.swing import swing
from brimfast.shared.constants import INCH, POUND_FORCE
from tests.assess.test_hung import HUNG, RAILED, SOIL, hung, with_period
from tests.builders import dry, found
from tests.printed import again

PSI = 6894.757


def test_shear_of_a_rail():
    """A 2x4 (G 0.50, 30 % wet) over 5 ft with 22 lb beside a post; NDS 2018 (3.4-2), NDS Supplement 3.1.3.

    62.4·0.5/(1 + 0.5·0.009·30)·1.3 = 35.736 lb/ft³, times 5.25/144 ft²: 1.3029 lb/ft; V = 22 + 1.3029·5/2 = 25.257 lb;
    1.5·25.257/5.25 = 7.216 psi. Against 180·0.9·0.97 = 157.14 psi: 0.0459.
    """
    rest = found(hung(), "member/r/rail 1")
    sheared = next(line for line in rest.steps if line.symbol == "f_v")
    assert sheared.result.value / PSI == pytest.approx(7.216, abs=0.001)
    assert rest.details["shear"] == "0.05"
    V = next(line for line in rest.steps if line.symbol == "V")
    assert V.result.value / POUND_FORCE == pytest.approx(25.257, abs=0.001)
    for line in rest.steps:
        assert again(line) == pytest.approx(line.result.value)


def test_a_rail_that_is_refused_has_no_stability_factor():
    """A 30x235 mm over 18 ft: l_e = 2.06·5.4864 = 11.302 m; √(11.302·0.235)/0.03 = 54.3, over 50 of NDS 2018 3.3.3.7."""
    far = RAILED.replace("bay_length: 5 ft", "bay_length: 18 ft").replace("length: 24 ft", "length: 60 ft")
    case = hung(rack=far.replace("member: 2x4", "member: 30x235 mm C24"))
    for id in ("member/r/rail 1", "member/r/rail 1/earthquake"):
        lines = {line.symbol: line.result.value for line in found(case, id).steps}
        assert lines["R_B"] == pytest.approx(54.3, abs=0.05)
        assert not {"C_L", "F_bE"} & lines.keys()
    rest, shaken = (found(case, f"member/r/rail 1{when}") for when in ("", "/earthquake"))
    assert (rest.verdict, rest.capacity, shaken.verdict, shaken.demand) == ("short", 0.0, "short", math.inf)


GENTLE = "S_S: 0.6, S_1: 0.2, site_class: C"  # S_D1 = 2/3·1.5·0.2 = 0.2 g, S_DS = 2/3·1.25·0.6 = 0.5 g: T_S 0.4 s


def last(finding):
    return finding.steps[-1]


def test_linear_up_to_45_degrees():
    """S_a of π/4 itself is still S_a L."""
    assert float(swing(math.pi / 4, 2.0)) == pytest.approx(math.pi / 2)


def test_swing_with_importance():
    """30 in, 1.7514 s: 0.2/1.7514 = 0.11419 g; chains 1.4, a rack of 0.4 s 1.05503, importance 1.5: 0.25300 g, 7.590 in."""
    site = f"{GENTLE}, importance: 1.5"
    one = found(dry(with_period(0.4, site) + HUNG), "hung/light/swing")
    assert one.demand / INCH == pytest.approx(7.590, abs=0.002)
    assert (last(one).expression, set(last(one).inputs), one.reason) == ("S_a*L", {"S_a", "L"}, "")
    assert one.basis.endswith("light damping")
    assert not any(value.name.startswith("height of the ceiling") for value in one.values)


def test_swing_from_a_rack_whose_period_is_not_known():
    """Two thirds of the pendulum's: 1/(1 − 1/2.25) = 1.8; 1.4·1.8·0.11419 = 0.28776 g of 30 in: 8.633 in."""
    one = found(dry(with_period(None, GENTLE) + HUNG), "hung/light/swing")
    assert one.demand / INCH == pytest.approx(8.633, abs=0.002)


def test_swing_over_45_degrees_is_the_chains_length():
    """1.4·1.05503·0.50639·1.5 = 1.122 g, over π/4: 30 in, which are just as free."""
    case = with_period(0.4, f"{SOIL}, importance: 1.5") + HUNG
    one = found(dry(case.replace("clearance: 20 in", "clearance: 30 in")), "hung/light/swing")
    assert (one.demand / INCH, one.reason) == (pytest.approx(30), "")
    assert (last(one).expression, set(last(one).inputs)) == ("L", {"L"})
    assert "over 45°" in one.basis
    assert "hits" in found(dry(case), "hung/light/swing").reason


def test_what_one_hanger_carries():
    """22 lb on four: √((30.8/2)² + 30.8²) = 34.44 lb; shared evenly √2·30.8/4 = 10.89 lb = 48.4 N. On one: 3·22 = 66 lb."""
    four, one = (
        found(dry(RAILED + HUNG.replace("allowable", f"hangers: {n}\n    allowable")), "hung/light/hangers")
        for n in (4, 1)
    )
    assert four.demand / POUND_FORCE == pytest.approx(34.44, abs=0.005)
    assert one.demand / POUND_FORCE == pytest.approx(66)
    assert four.details["if all hangers shared evenly"] == "11 lb (48 N) each"
    assert (four.values[-1].text, four.values[-1].source) == ("60 lb", "its maker")
    assert (four.reason, "single" in one.reason) == ("", True)


def test_each_rail_carries_its_own():
    """2x4 over 60 in, 0.10857 lb/in itself: 48.86 lb in; with 22 lb 330 more, 378.86/3.0625 = 123.7 psi; with 10 lb 64.93."""
    rails = "".join(
        f"\n      - {{height: {80 + 2 * at} in, member: {what}}}"
        for at, what in enumerate(("2x4 redwood", *["2x4"] * 3))
    )
    rack = RAILED.replace("rails: [{height: 80 in, member: 2x4}]", f"rails:{rails}")
    things = ((1, 22), (3, 22), (4, 10))
    hangs = "".join(
        f"  - {{name: t{rail}, from: r, rail: {rail}, mass: {mass} lb, drop: 20 in}}\n" for rail, mass in things
    )
    ids = [one for one in dry(rack + "\nhung:\n" + hangs).findings if one.id.startswith("member/r/rail")]
    assert [one.id.removeprefix("member/r/rail ") for one in ids] == ["1", "3", "3/earthquake", "4", "4/earthquake"]
    assert ids[0].verdict == "not assessed"
    assert [ids[at].demand / PSI for at in (1, 3)] == pytest.approx([123.7, 64.93], rel=1e-3)


def test_each_thing_hangs_on_its_own():
    """0.11419 g at 30 in. From a rack of 0.4 s a quarter up: 1.4·(1 + 2·0.25)·1.05503 of it, 0.25300 g of 30 in, 7.590 in.

    From a ceiling half way up 1.4·(1 + 2·0.5) of it, 0.31973 g, 9.592 in; it has no rack and no rail.
    """
    fan = "  - {name: fan, from: ceiling, mass: 4 kg, drop: 30 in, height_ratio: 0.5, clearance: 20 in}\n"
    case = dry(with_period(None, f"{GENTLE}, height_ratio: 0.25") + HUNG + fan)
    asked = hung_findings(case.installation, case.resolved, case.motion, {"r": 0.4})
    light, ceiling, rail = ("hung/light", "hung/fan", "member/r/rail 1")
    assert [one.id for one in asked] == [
        *(f"{light}/swing", f"{light}/hangers"),
        *(f"{ceiling}/swing", f"{ceiling}/hangers", f"{ceiling}/support"),
        *(rail, f"{rail}/earthquake"),
    ]
    assert [asked[at].demand / INCH for at in (0, 2)] == pytest.approx([7.590, 9.592], abs=0.002)
