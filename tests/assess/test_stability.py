"""Tipping, sliding and anchors: hand arithmetic and laws."""

import numpy as np
import pytest

from brimfast.assess import combinations
from brimfast.assess.anchors import anchor_tension
from brimfast.assess.demand.vertical import Vertical
from brimfast.assess.sliding import sliding_resistance
from brimfast.assess.tipping import overturning_moment, resisting_moment, tipping_acceleration
from brimfast.shared.constants import FOOT, POUND_FORCE
from tests.builders import RACK, WEIGHED, assessed, dry, found

LB, LBFT = POUND_FORCE, POUND_FORCE * FOOT


def test_weighed_tank_by_hand():
    """500 lb, centre 30 in up, 18 in wide, S_DS 1.0, ASCE 7-16: the lower limit 0.3 governs, F_p = 150 lb.

    Allowable level: 0.7 x 150 x 2.5 = 262.5 lb ft against (0.6 - 0.14) 500 x 0.75 = 172.5: ratio 1.522.
    Strength level: 375 against 0.7 x 500 x 0.75 = 262.5: 1.429. The allowable level governs.
    """
    assessment = dry(WEIGHED)
    tipping = found(assessment, "tipping/tank/across")
    assert tipping.demand / LBFT == pytest.approx(262.5, rel=1e-6)
    assert tipping.capacity / LBFT == pytest.approx(172.5, rel=1e-6)
    assert tipping.ratio == pytest.approx(262.5 / 172.5, rel=1e-9)
    assert tipping.verdict == "short"
    assert tipping.details["starts to tip at"] == "0.30 g"  # 9 in over 30 in


def test_sliding_by_hand():
    """Plastic on concrete, low friction 0.20: 0.7 x 150 = 105 lb against 0.2 x 0.46 x 500 = 46 lb."""
    sliding = found(dry(WEIGHED), "sliding/tank")
    assert sliding.demand / LB == pytest.approx(105)
    assert sliding.capacity / LB == pytest.approx(46)
    assert sliding.details["starts to slide at"] == "0.20 to 0.40 g"


def test_code_position_stands_beside_the_physical_estimate():
    position = found(dry(WEIGHED), "attachment/tank")
    assert position.code_position
    assert position.verdict == "short"
    assert position.ratio is None
    quiet = dry(WEIGHED.replace("S_DS: 1.0", "S_DS: 0.3"))
    assert not [finding for finding in quiet.findings if finding.code_position]


def test_anchors_by_hand():
    """Four anchors, two a side, Omega_0 = 2: 0.7 x 2 x 150 x 2.5 = 525 less 172.5, over 1.5 ft and 2: 117.5 lb each.

    Shear: 0.7 x 2 x 150 / 4 = 52.5 lb.
    """
    text = WEIGHED.replace(
        "holds: 50 gal", "holds: 50 gal, anchors: {count: 4, tension: 235 lb, shear: 50 lb, source: table}"
    )
    assessment = dry(text)
    tension = found(assessment, "anchors/tank/tension across")
    assert tension.demand / LB == pytest.approx(117.5)
    assert tension.ratio == pytest.approx(0.5)
    assert tension.verdict == "holds"
    shear = found(assessment, "anchors/tank/shear")
    assert shear.demand / LB == pytest.approx(52.5)
    assert shear.verdict == "short"
    assert not [
        finding for finding in assessment.findings if finding.id.startswith(("tipping", "sliding", "attachment"))
    ]


def test_anchor_without_published_value_is_not_assessed_but_shown():
    text = WEIGHED.replace("holds: 50 gal", "holds: 50 gal, anchors: {count: 4}")
    tension = found(dry(text), "anchors/tank/tension across")
    assert tension.verdict == "not assessed"
    assert tension.demand / LB == pytest.approx(117.5)
    assert "published" in tension.reason


def test_tension_and_shear_together():
    """Ratios 117.5/235 = 0.5 and 52.5/70 = 0.75: 1.25 against 1.2 (ACI 318-19 17.8.3, from memory)."""
    text = WEIGHED.replace("holds: 50 gal", "anchors: {count: 4, tension: 235 lb, shear: 70 lb, source: table}")
    together = found(dry(text), "anchors/tank/together")
    assert together.demand == pytest.approx(1.25)
    assert together.verdict == "short"


def test_anchors_of_a_round_tank():
    """Four on a circle, worst way round: one far, two in the middle: T D + 2 (T/2)(D/2) = 1.5 T D = 0.375 N T D."""
    tall = RACK.replace("diameter: 4 ft, depth: 30 in, water: 27 in", "diameter: 2 ft, depth: 60 in, water: 56 in")
    text = tall.replace(
        "water: 56 in}", "water: 56 in, anchors: {count: 4, tension: 500 lb, shear: 500 lb, source: t}}"
    )
    assessment = dry(text)
    body = next(body for body in assessment.bodies if body.name == "tank")
    force = assessment.forces["tank"]
    D = body.directions[0].base
    net = 0.7 * 2.0 * force.horizontal * body.height - 0.46 * body.weight * D / 2
    assert net > 0
    tension = found(assessment, "anchors/tank/tension")
    assert tension.demand == pytest.approx(net / (1.5 * D))


def test_category_c_asks_of_racks_but_not_of_tanks():
    """ASCE 7-16 13.1.4 (from memory): components of 13.6 are exempt in C with I_p = 1.0, those of 13.5 are not."""
    assessment = assessed(RACK.replace("S_DS: 1.0", "residential_category: C"))
    asked = {finding.subject for finding in assessment.findings if finding.code_position}
    assert asked == {"rack r"}
    assert any("category C" in text and "tank" in text for text in assessment.assumptions)


def test_few_anchors_are_no_couple():
    anchors = "anchors: {count: 3, tension: 900 lb, shear: 900 lb, source: t}"
    text = WEIGHED.replace("holds: 50 gal", f"holds: 50 gal, {anchors}")
    assert found(dry(text), "anchors/tank/tension across").verdict == "not assessed"


def test_combinations():
    # ASCE 7-16 2.3.6 and 2.4.5 with E_v = 0.2 S_DS D: (0.9 - 0.2 S_DS), (0.6 - 0.14 S_DS), (1.0 + 0.14 S_DS)
    vertical = Vertical(0.2, "S_DS", 1.0, "", "")
    assert float(combinations.strength_resisting(vertical)) == pytest.approx(0.7)
    assert float(combinations.allowable_resisting(vertical)) == pytest.approx(0.46)
    assert float(combinations.allowable_down(vertical)) == pytest.approx(1.14)
    assert combinations.strength(vertical) == "(0.9 - 0.2 S_DS) D + 1.0 E_h"
    assert combinations.allowable(vertical, "Omega_0 ") == "(0.6 - 0.14 S_DS) D + 0.7 Omega_0 E_h"
    own = Vertical(1.0, "k_v", 0.2, "", "")
    assert combinations.allowable_down_words(own) == "(1.0 + 0.7 k_v) D + 0.7 E_h"


def test_no_resistance_under_extreme_shaking_is_short_not_negative():
    assert float(resisting_moment(100.0, 1.0, -0.1)) == 0.0
    assert float(sliding_resistance(0.5, 100.0, -0.1)) == 0.0
    extreme = found(dry(WEIGHED.replace("S_DS: 1.0", "S_DS: 4")), "tipping/tank/across")
    assert extreme.verdict == "short"


@pytest.mark.parametrize("key", ["mass", "centre_of_mass"])
def test_higher_or_shakier_is_never_better(key):
    base = found(dry(WEIGHED), "tipping/tank/across").ratio
    if key == "centre_of_mass":
        assert found(dry(WEIGHED.replace("30 in", "33 in")), "tipping/tank/across").ratio > base
    else:  # heavier in the same place: the same ratio
        assert found(dry(WEIGHED.replace("500 lb", "900 lb")), "tipping/tank/across").ratio == pytest.approx(base)
    assert found(dry(WEIGHED.replace("S_DS: 1.0", "S_DS: 1.1")), "tipping/tank/across").ratio > base


def test_functions_broadcast():
    F = np.array([100.0, 200.0, 300.0])
    M = overturning_moment(F, 2.0)
    assert M.tolist() == [200.0, 400.0, 600.0]
    T = anchor_tension(M, resisting_moment(100.0, [1.0, 3.0, 9.0], 1.0), 1.0, 2)
    assert T.tolist() == [50.0, 50.0, 0.0]
    assert tipping_acceleration(0.5, [1.0, 2.0]).tolist() == [0.5, 0.25]
