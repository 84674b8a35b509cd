"""Lids: hand arithmetic, laws of the load and of the leak, what the spill makes of them."""

import math

import numpy as np
import pytest
from scipy.integrate import quad

from brimfast.assess.measures.propose import propose
from brimfast.assess.pipeline import assess
from brimfast.assess.plan.bench import changed
from brimfast.assess.slosh.lid import through, under_lid, uplift
from brimfast.assess.slosh.splash import splash
from brimfast.shared.constants import GRAVITY, POUND_FORCE
from brimfast.shared.reading import read_bytes
from tests.builders import LIDDED, RACK, assessed, found

SMALL = LIDDED.replace("S_DS: 1.0}", "S_DS: 0.12, S_1: 0.04}")  # a wave that linear theory covers


def wave_of(assessment, vessel="tank"):
    return next(wave for wave in assessment.waves if wave.vessel == vessel)


def test_uplift_by_hand():
    """A head of 0.2 m over half of 2 m²: 1000 kg/m³ · 9.80665 m/s² · 0.2 m · 1 m² = 1961 N."""
    assert uplift(2.0, 0.5, 0.3) == pytest.approx(1961.33, rel=1e-9)
    assert uplift(2.0, 0.3, 0.3) == 0.0
    assert uplift(2.0, 0.1, 0.3) == 0.0


def test_uplift_is_never_less_than_the_pressure_of_the_first_mode():
    """Head of d sin(πx/L) above the lid, integrated by scipy, over a rectangular surface."""
    L, B = 1.7, 0.6
    for d, f in [(0.5, 0.0), (0.5, 0.2), (0.3, 0.29)]:
        exact = quad(lambda x, d=d, f=f: max(d * math.sin(math.pi * x / L) - f, 0.0), 0, L / 2, limit=200)[0]
        assert uplift(L * B, d, f) >= 1000 * GRAVITY * B * exact


def test_through_by_hand_and_laws():
    """0.67 · 0.01 m² · √(2 · 9.80665 · 0.2) m/s · 15 s = 0.199 m³."""
    assert through(0.01, 0.5, 0.3, 30.0) == pytest.approx(0.199, abs=5e-4)
    assert through(0.01, 0.2, 0.3, 30.0) == 0.0
    many = through(np.array([0.01, 0.02]), 0.5, np.array([[0.1], [0.3]]), 30.0)
    assert many.shape == (2, 2)
    assert (np.diff(many, axis=1) > 0).all() and (np.diff(many, axis=0) < 0).all()


def test_force_on_a_fastening_by_hand():
    """A round tank of 4 ft, steep waves: as high as the water is deep, 27 in; 3 in of it free. A = π/4 · 1.2192² = 1.1675 m².

    F = 9806.65 · (0.6858 − 0.0762) · 1.1675/2 = 3490 N; six of the twelve fastenings carry it: 581.6 N (130.8 lb).
    """
    assessment = assessed(LIDDED)
    finding = found(assessment, "slosh/tank/any")
    assert wave_of(assessment).index
    assert finding.quantity == "force"
    assert finding.demand == pytest.approx(581.6, rel=2e-3)
    assert finding.capacity == pytest.approx(400 * POUND_FORCE, rel=1e-9)
    assert finding.verdict == "holds"


def test_where_the_theory_holds_the_wave_itself_counts():
    wave = wave_of(assessed(SMALL))
    assert not wave.index
    assert under_lid(wave).rises == wave.wave


def test_a_lid_that_stays_lets_out_only_what_its_openings_let_through():
    closed = LIDDED.replace("opening: 4 in x 4 in, ", "")
    bare, held, tight = (splash(wave_of(assessed(text)))[0] for text in (RACK, LIDDED, closed))
    assert 0 < held < bare
    assert tight == 0.0
    wide = LIDDED.replace("opening: 4 in x 4 in", "opening: 20 in x 20 in")
    assert splash(wave_of(assessed(wide)))[0] == pytest.approx(bare, rel=1e-12)
    assert "out of the openings in the lid" in next(
        event.text for event in assessed(LIDDED).question.splashes if event.subject == "tank"
    )


def test_a_lid_that_is_lifted_splashes_as_none():
    weak = assessed(LIDDED.replace("400 lb", "20 lb"))
    assert found(weak, "slosh/tank/any").verdict == "short"
    assert splash(wave_of(weak))[0] == pytest.approx(splash(wave_of(assessed(RACK)))[0], rel=1e-12)


def test_a_lid_of_unknown_strength_is_not_assessed_and_splashes_as_none():
    unknown = assessed(LIDDED.replace("allowable: 400 lb, source: t, ", ""))
    finding = found(unknown, "slosh/tank/any")
    assert finding.verdict == "not assessed"
    assert "not in the file" in finding.reason
    assert splash(wave_of(unknown))[0] == pytest.approx(splash(wave_of(assessed(RACK)))[0], rel=1e-12)


def test_a_lid_weighs_at_the_rim():
    with_lid, without = (assessed(text).vessels["tank"] for text in (LIDDED, RACK))
    assert with_lid.mass - without.mass == pytest.approx(20 * 0.45359237, rel=1e-9)
    assert with_lid.height > without.height


def test_more_fastenings_and_stronger_ones_are_never_worse():
    ratios = [
        found(assessed(LIDDED.replace("fastenings: 12", f"fastenings: {count}")), "slosh/tank/any").ratio
        for count in (6, 8, 12, 20)
    ]
    assert ratios == sorted(ratios, reverse=True)


def test_a_required_value_is_said_as_unconfirmed():
    text = LIDDED.replace("source: t,", "'source': 'required: as much',")
    assessment = assessed(text)
    assert any("the lid of tank" in caution.text for caution in assessment.cautions)
    assert any("fastening of a lid" in value.name for value in assessment.values_to_confirm())


def test_the_measure_takes_the_weakest_fastening_that_holds():
    source = read_bytes(RACK.encode(), "t")
    measure = next(one for one in propose(assess(source.installation)) if one.id == "tank/rim/lid")
    installation = changed(source.raw, [measure])
    finding = found(assess(installation), "slosh/tank/any")
    assert finding.verdict == "holds"
    assert finding.ratio > 0.3  # the next weaker one, half as strong or less, would be more than 0.6
    assert len([one for one in propose(assess(source.installation)) if "/lid" in one.id]) == 1
    assert not [one for one in propose(assess(installation)) if one.id == "tank/rim/lid"]
