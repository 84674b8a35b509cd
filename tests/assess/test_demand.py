"""Demand through the whole chain: rows, overrides, settings, categories."""

import pytest

from brimfast.shared.constants import POUND_FORCE
from tests.builders import RACK, WEIGHED, assessed

LB = POUND_FORCE


@pytest.mark.parametrize(
    ("old", "new", "coefficient"),
    [
        ("asce7-16, S_DS: 1.0", "asce7-16, S_DS: 1.0", 0.30),  # a_p/R_p 1/2.5 at grade: the lower limit
        ("asce7-16, S_DS: 1.0", "asce7-16, S_DS: 1.0, height_ratio: 1", 0.48),  # 0.4 x 1/2.5 x 3
        ("asce7-16, S_DS: 1.0", "asce7-16, S_DS: 1.0, height_ratio: 1, importance: 1.5", 0.72),
        ("asce7-16, S_DS: 1.0", "asce7-22, S_DS: 1.0", 0.30),  # 0.4 x 1/1.5 = 0.267: the lower limit
        ("asce7-16, S_DS: 1.0", "asce7-22, S_DS: 1.0, height_ratio: 1", 0.4 * 3.5 / 1.3 / 1.5),
        ("asce7-16, S_DS: 1.0", "asce7-16, S_DS: 1.0, setting: in the open", 0.80),  # S_DS/1.25
        ("asce7-16, S_DS: 1.0", "asce7-16, residential_category: D1", 0.30 * 0.83),
        ("asce7-16, S_DS: 1.0", "asce7-16, S_S: 1.277, site_class: D default", 0.30 * 1.0216),
    ],
)
def test_weighed_tank(old, new, coefficient):
    force = assessed(WEIGHED.replace(old, new)).forces["tank"]
    assert force.coefficient == pytest.approx(coefficient, rel=1e-4)
    assert force.weight / LB == pytest.approx(500)


@pytest.mark.parametrize(
    ("setting", "coefficient"),
    [
        ("asce7-16, S_DS: 1.0", 0.4 * 2.5 / 1.5),
        ("asce7-22, S_DS: 1.0", 0.4 * 2.2 / 1.5),
        ("asce7-16, S_DS: 1.0, height_ratio: 1", 1.6),
    ],
)
def test_unbraced_rack_takes_the_low_deformability_row(setting, coefficient):
    force = assessed(RACK.replace("asce7-16, S_DS: 1.0", setting)).forces["rack r"]
    assert force.coefficient == pytest.approx(coefficient)
    assert "low-deformability" in force.row


def test_what_stands_on_a_rack_moves_with_it():
    forces = assessed(RACK).forces
    assert forces["bed"].coefficient == pytest.approx(forces["rack r"].coefficient)
    assert forces["tank"].coefficient == pytest.approx(0.30)


def test_factors_can_be_chosen():
    text = WEIGHED.replace(
        "holds: 50 gal", "holds: 50 gal, component: {a_p: 2.5, R_p: 2.5, reason: the engineer of record}"
    )
    force = assessed(text).forces["tank"]
    assert force.coefficient == pytest.approx(0.4)
    assert "the engineer of record" in force.row
    assert any(value.provenance == "given in the file" for value in force.values)


def test_rigid_only_where_the_period_says_so():
    text = RACK.replace("S_DS: 1.0", "S_DS: 1.0, setting: in the open")
    assert assessed(text).forces["rack r"].coefficient == pytest.approx(0.8)
    rigid = text.replace("    beam_runs: each bay", "    beam_runs: each bay\n    period: 0.05 s")
    assert assessed(rigid).forces["rack r"].coefficient == pytest.approx(0.3)


def test_older_site_coefficient_under_the_newer_standard_is_said():
    text = WEIGHED.replace("asce7-16, S_DS: 1.0", "asce7-22, S_S: 1.2, site_class: C")
    assert any("no site coefficient" in caution.text for caution in assessed(text).cautions)


def test_room_below_at_height_ratio_0_is_asked_about():
    text = WEIGHED + "exposure: {below: own room}\n"
    assert any("on the ground" in caution.title for caution in assessed(text).cautions)
