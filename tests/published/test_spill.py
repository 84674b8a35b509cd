"""Drain flows against handbook forms, worked examples and the open library `fluids`.

HEC-22: FHWA Hydraulic Engineering Circular 22, chapter 7, examples 7.6 and 7.7 (weir flow into an inlet in a
low place), as in an open transcription (samuel-kreimeyer/hec22, commit 3f99dfc5).
"""

import fluids
import numpy as np
import pytest

from brimfast.assess.network.pipe_flow import full_pipe_flow, orifice_flow, weir_flow
from brimfast.data_tables.loader import factor_si
from brimfast.shared.constants import FOOT, GALLON, INCH

CFS = FOOT**3
GPM = GALLON / 60


def test_manning_against_fluids():
    # fluids.V_Manning is the same published equation by other hands: agreement to rounding.
    for inches, n in [(2, 0.009), (3, 0.011), (4, 0.013)]:
        D = inches * INCH
        V = fluids.V_Manning(Rh=D / 4, S=1 / 48, n=n)
        assert float(full_pipe_flow(n, D, 1 / 48)) == pytest.approx(V * np.pi / 4 * D**2, rel=1e-9)


def test_weir_hec22_example_7_7():
    """Q 4.9 ft3/s at a depth of 3.6 in over a weir with C 0.31 sqrt(2g) needs 12 ft of length (printed)."""
    C_w = 0.31 * np.sqrt(2 * 9.80665)
    assert float(weir_flow(C_w, 12 * FOOT, 3.6 * INCH)) / CFS == pytest.approx(4.9, abs=0.05)


def test_grate_weir_coefficient():
    """HEC-22 gives C_w as 0.37 sqrt(2g), 3.0 in ft and s; TxDOT Hydraulic Design Manual 10-6 prints 1.66 in SI."""
    assert factor_si("grate_weir_coefficient") == pytest.approx(1.66, abs=0.005)
    assert factor_si("grate_weir_coefficient") == pytest.approx(0.37 * np.sqrt(2 * 9.80665), abs=0.025)
    in_feet = float(weir_flow(factor_si("grate_weir_coefficient"), FOOT, FOOT)) / CFS
    assert in_feet == pytest.approx(3.0, abs=0.05)


def test_orifice_against_fluids():
    """fluids.flow_meter_discharge with a hole in a very large tank is the bare orifice.

    Its approach factor 1/sqrt(1 - beta^4) is 1 + 5e-9 for beta = 0.01.
    """
    hole, head, rho = 0.0254, 0.5, 998.2
    mass = fluids.flow_meter.flow_meter_discharge(D=2.54, Do=hole, P1=rho * 9.80665 * head, P2=0.0, rho=rho, C=0.67)
    ours = float(orifice_flow(0.67, np.pi / 4 * hole**2, head))
    assert ours == pytest.approx(mass / rho, rel=1e-6)


def test_orifice_published_emptying_flow():
    """Tank of 1 m2 with a hole of 0.01 m2, C 0.62, 2 m of water: 103.0 s to empty (calculatorlib.com).

    A tank with upright walls empties in twice the time that its first flow would take: Q_0 = 2 A h / t.
    """
    first = float(orifice_flow(0.62, 0.01, 2.0))
    assert 2 * 1.0 * 2.0 / first == pytest.approx(103.0, abs=0.05)
