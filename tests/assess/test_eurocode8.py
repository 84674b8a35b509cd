"""Eurocode 8 part 1: laws of its text and arithmetic by hand; figures of others are in tests/published."""

import numpy as np
import pytest

from brimfast.assess.demand.eurocode8 import GroundRow, Inputs, element_force, height_term, plateau, vertical_share
from brimfast.data_tables.loader import table_named


@pytest.mark.parametrize("kind", ["type 1", "type 2"])
@pytest.mark.parametrize("ground", list("ABCDE"))
def test_our_bound_is_never_under_the_elastic_spectrum(kind, ground):
    """EN 1998-1:2004 (3.2) to (3.5), eta = 1, against plateau and plateau · T_C/T."""
    row = next(
        row for row in table_named(GroundRow, "eurocode8_ground") if (row.spectrum, row.ground) == (kind, ground)
    )
    S, T_B, T_C, T_D = row.S, row.T_B, row.T_C, row.T_D
    T = np.linspace(0.01, 4.0, 400)
    spectrum = S * np.select(
        [T < T_B, T < T_C, T < T_D], [1 + T / T_B * 1.5, 2.5 + 0 * T, 2.5 * T_C / T], 2.5 * T_C * T_D / T**2
    )
    bound = np.asarray(plateau(1.0, S)) * np.minimum(1.0, T_C / T)
    assert (bound >= spectrum - 1e-12).all()
    between = (T >= T_B) & (T <= T_D)
    assert bound[between] == pytest.approx(spectrum[between])


def test_laws_of_the_text():
    assert float(height_term(0.0, 0.0)) == pytest.approx(1.0)  # rigid at grade: alpha S
    assert float(height_term(1.0, 1.0)) == pytest.approx(5.5)  # in resonance at the top
    assert float(height_term(0.0, 50.0)) == 1.0  # long periods: never under alpha S
    z = np.array([0.0, 0.4, 1.0])
    together = element_force(0.2, 1.2, 100.0, 1.5, 2.0, z)
    assert list(together) == pytest.approx([float(element_force(0.2, 1.2, 100.0, 1.5, 2.0, one)) for one in z])
    assert np.isnan(height_term([-0.1, 1.1, 0.5], [1.0, 1.0, -1.0])).all()
    # Resonance is the worst: no other period gives more.
    assert (height_term(0.5, np.linspace(0, 4, 401)) <= float(height_term(0.5)) + 1e-12).all()


def test_by_hand():
    """a_g 0.25, ground C, type 1, W 10 kN, q_a 2: resonance at grade 2.5 · 0.2875 · 10/2 = 3.594 kN, rigid 1.4375 kN.

    a_g 0.16, S 1.2, T_a 0.1, T_1 0.4, z/H 0.5, W 5, q_a 1: bracket 4.5/1.5625 − 0.5 = 2.38, F_a = 2.2848 kN.
    Vertical: 0.3 · 3 · 0.9 · 0.25 = 0.2025 of the weight.
    """
    assert float(element_force(0.25, 1.15, 10.0, 1.0, 2.0, 0.0)) == pytest.approx(3.59375)
    assert float(element_force(0.25, 1.15, 10.0, 1.0, 2.0, 0.0, 0.0)) == pytest.approx(1.4375)
    assert float(element_force(0.16, 1.2, 5.0, 1.0, 1.0, 0.5, 0.25)) == pytest.approx(2.2848)
    assert float(vertical_share(0.25, 0.9)) == pytest.approx(0.2025)


def test_importance_of_the_building_is_in_a_g():
    given = Inputs.model_validate({"a_gR": "0.2", "gamma_I": "1.2", "ground": "B", "spectrum": "type 2"})
    assert given.acceleration == pytest.approx(0.24)
