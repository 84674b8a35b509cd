"""Things on chains and rails against arithmetic by hand, where other tests would not notice a changed number."""

import pytest

from tests.assess.test_hung import RAILED, hung
from tests.builders import found

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


def test_a_rail_that_is_refused_has_no_stability_factor():
    """A 30x235 mm over 18 ft: l_e = 2.06·5.4864 = 11.302 m; √(11.302·0.235)/0.03 = 54.3, over 50 of NDS 2018 3.3.3.7."""
    far = RAILED.replace("bay_length: 5 ft", "bay_length: 18 ft").replace("length: 24 ft", "length: 60 ft")
    case = hung(rack=far.replace("member: 2x4", "member: 30x235 mm C24"))
    for id in ("member/r/rail 1", "member/r/rail 1/earthquake"):
        lines = {line.symbol: line.result.value for line in found(case, id).steps}
        assert lines["R_B"] == pytest.approx(54.3, abs=0.05)
        assert not {"C_L", "F_bE"} & lines.keys()
