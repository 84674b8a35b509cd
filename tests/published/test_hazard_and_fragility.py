"""How often something follows from shaking: against published risk calculations and a closed form."""

import math

import numpy as np
import pytest
from scipy.stats import lognorm, norm

from brimfast.assess.doubt.hazard import Curve, power_law, times_a_year, yearly_chance

# N. Luco (U.S. Geological Survey), RTGM_Calculator.m of 23 February 2012 with its resultsFINAL.txt, in the OpenSHA
# archive (test/org/opensha/sra/rtgm/m): hazard curves of 0.2 s, risk-targeted ground motion and risk coefficient. Its
# fragility: lognormal, beta 0.4, 10 % at the risk-targeted motion; its target: 1 % in 50 years, to 1 %.
SA = (0.005, 0.0075, 0.0113, 0.0169, 0.0253, 0.038, 0.057, 0.0854, 0.128, 0.192, 0.288, 0.432, 0.649, 0.973, 1.46, 2.19,
      3.28, 4.92, 7.38)  # fmt: skip
CITIES = {
    "Los Angeles": (
        (5.855e-1, 5.208e-1, 4.389e-1, 3.515e-1, 2.679e-1, 1.953e-1, 1.376e-1, 9.335e-2, 6.027e-2, 3.659e-2, 2.096e-2,
         1.146e-2, 5.985e-3, 2.934e-3, 1.287e-3, 4.781e-4, 1.411e-4, 3.023e-5, 3.828e-6), 2.346770, 0.9213914),
    "San Francisco": (
        (4.779e-1, 4.320e-1, 3.716e-1, 3.044e-1, 2.374e-1, 1.773e-1, 1.281e-1, 8.981e-2, 6.075e-2, 3.940e-2, 2.412e-2,
         1.348e-2, 6.557e-3, 2.664e-3, 8.558e-4, 2.039e-4, 3.346e-5, 2.733e-6, 4.765e-8), 1.846810, 0.9301329),
    "Seattle": (
        (2.733e-1, 2.488e-1, 2.165e-1, 1.796e-1, 1.410e-1, 1.044e-1, 7.310e-2, 4.842e-2, 3.025e-2, 1.769e-2, 9.578e-3,
         4.728e-3, 2.096e-3, 8.323e-4, 2.873e-4, 8.271e-5, 1.887e-5, 3.030e-6, 2.495e-7), 1.319707, 0.9359150),
    "Salt Lake City": (
        (1.528e-1, 1.283e-1, 1.022e-1, 7.761e-2, 5.611e-2, 3.872e-2, 2.574e-2, 1.658e-2, 1.042e-2, 6.481e-3, 4.064e-3,
         2.596e-3, 1.664e-3, 1.021e-3, 5.555e-4, 2.491e-4, 8.639e-5, 2.140e-5, 3.299e-6), 1.787699, 0.9476725),
    "Boise": (
        (1.004e-1, 8.441e-2, 6.536e-2, 4.653e-2, 3.022e-2, 1.784e-2, 9.680e-3, 4.875e-3, 2.305e-3, 1.033e-3, 4.401e-4,
         1.770e-4, 6.599e-5, 2.246e-5, 6.629e-6, 1.597e-6, 2.808e-7, 2.854e-8, 7.722e-10), 0.3179284, 0.9661038),
}  # fmt: skip
TARGET = -math.log(0.99) / 50
LARGEST = 1.1  # the listed motion over that of the geometric mean; inferred from the listed risk coefficient


@pytest.mark.parametrize("city", CITIES)
def test_risk_targeted_motion_of_a_city(city):
    rates, listed, coefficient = CITIES[city]
    curve = Curve(tuple(zip(SA, rates, strict=True)), (), True)
    inverse = Curve(tuple(reversed(list(zip(rates, SA, strict=True)))), (), True)
    uniform = float(inverse.times(-math.log(0.98) / 50))
    assert listed / LARGEST / uniform == pytest.approx(coefficient, rel=2e-5)
    median = listed / LARGEST / math.exp(norm.ppf(0.1) * 0.4)
    levels = np.geomspace(0.001, SA[-1], 2000)
    risk = times_a_year(curve.times(levels), lognorm.cdf(levels, 0.4, scale=median))
    assert float(risk) == pytest.approx(TARGET, rel=0.01)


def test_three_levels_worked_by_hand():
    """Baker, Bradley and Stafford, Seismic Hazard and Risk Analysis (2021), chapter 9, code risk_metrics.m: rates 0.06,

    0.016, 0.003 of passing 0.1, 0.2, 0.3 g; chances 0.1, 0.4, 0.6 between each and the next: 0.0114 a year. Its levels
    are steps: each is given here by its two edges.
    """
    rates = [0.06, 0.016, 0.016, 0.003, 0.003]
    chances = [0.1, 0.1, 0.4, 0.4, 0.6]
    rate = float(times_a_year(rates, chances))
    assert rate == pytest.approx(0.0044 + 0.0052 + 0.0018, rel=1e-12)
    assert float(yearly_chance(rate)) == pytest.approx(1 - math.exp(-0.0114), rel=1e-12)


@pytest.mark.parametrize("k,beta", [(1.76677717, 0.4), (3.0, 0.4), (3.0, 0.6), (2.0, 0.2)])
def test_closed_form_of_power_law_and_lognormal_fragility(k, beta):
    """λ = k_0 C^−k exp(k² β²/2): Kramer and Stewart, Geotechnical Earthquake Engineering, 2nd edition, (5.31) to (5.36);

    the first slope is that of Tailfingen, spectral acceleration at 0.5 s, in open code of a risk study (k_0 6.614486e-5).
    """
    k_0, C = 6.614486e-5, 0.7
    levels = np.geomspace(1e-4, 1e4, 20_000)
    rate = times_a_year(power_law(levels, 1.0, k_0, k), lognorm.cdf(levels, beta, scale=C))
    assert float(rate) == pytest.approx(k_0 * C**-k * math.exp(k**2 * beta**2 / 2), rel=1e-5)


def test_annual_loss_by_the_printed_inputs():
    """The same chapter 9: mean cost 100 x^1.3 exp(0.4²/2) between levels 0.1 to 1.0, at the middle of each step.

    No sum is printed; the first three terms by hand: 0.0070846 · 9.199, 0.0012971 · 17.87, 0.00041949 · 27.67.
    """
    rates = [0.009200766, 0.0021162, 0.000819076, 0.000399591]
    middles = np.array([0.15, 0.25, 0.35])
    cost = 100 * middles**1.3 * math.exp(0.08)
    edges = np.repeat(cost, 2)
    total = times_a_year([rates[0], rates[1], rates[1], rates[2], rates[2], rates[3], rates[3]], [*edges, 0.0])
    assert float(total) == pytest.approx(0.0070846 * 9.199 + 0.0012971 * 17.87 + 0.00041949 * 27.67, rel=2e-3)
