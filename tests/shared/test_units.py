"""Text with units into SI floats, and back."""

import math

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from brimfast.shared.units import QUANTITIES, UnitError, feet_and_inches, number_text, parse, parse_pair, show

ORACLE = pint.UnitRegistry()  # the default registry: a test oracle only


@pytest.mark.parametrize(
    ("text", "kind", "same_as"),
    [
        ("8 ft", "length", "8 foot"),
        ("23/32 in", "length", "0.71875 inch"),
        ("1-1/2 in", "length", "1.5 inch"),
        ("1 1/2 in", "length", "1.5 inch"),
        ("250mm", "length", "250 millimeter"),
        ("1500 gal/h", "flow", "1500 gallon/hour"),
        ("6 gpm", "flow", "6 gallon/minute"),
        ("300 L/h", "flow", "300 liter/hour"),
        ("40 psf", "pressure", "40 force_pound/foot**2"),
        ("40 lb/ft2", "pressure", "40 force_pound/foot**2"),
        ("1.9 kPa", "pressure", "1.9 kilopascal"),
        ("45 ksi", "stress", "45000 psi"),
        ("125 lb/ft^3", "density", "125 pound/foot**3"),
        ("950 kg/m³", "density", "950 kilogram/meter**3"),
        ("480 lb", "mass", "480 pound"),
        ("0.2 t", "mass", "200 kilogram"),
        ("350 lb", "force", "350 force_pound"),
        ("2 kip", "force", "2000 force_pound"),
        ("8 h", "time", "8 hour"),
        ("2 d", "time", "48 hour"),
        ("50 %", "share", "0.5"),
        ("75 gal", "volume", "75 gallon"),
    ],
)
def test_against_the_default_registry(text, kind, same_as):
    expected = ORACLE.Quantity(same_as).to_base_units().magnitude
    assert parse(text, kind) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize(
    "text", ["8 ft 6 in", "8' 6\"", "8'-6\"", "8ft6in", "8 ft 6.0 in", "8′ 6″", "102 in", "8.5 ft"]
)
def test_feet_and_inches_are_one_length(text):
    assert parse(text, "length") == pytest.approx(8.5 * 0.3048, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "kind", "code"),
    [
        ("5 Nm", "moment", "E-UNIT-004"),  # a textile unit elsewhere
        ("5 M", "length", "E-UNIT-004"),  # molar elsewhere
        ("5 us gal", "volume", "E-UNIT-001"),  # microseconds times gallons elsewhere
        ("2 ton", "mass", "E-UNIT-004"),  # which ton?
        ("nan m", "length", "E-UNIT-001"),
        ("inf m", "length", "E-UNIT-001"),
        ("1,200 mm", "length", "E-UNIT-001"),
        ("2,6 m", "length", "E-UNIT-001"),
        ("9**9**9 m", "length", "E-UNIT-001"),
        ("3 gal", "length", "E-UNIT-002"),
        ("12", "length", "E-UNIT-003"),
        ("3/0 in", "length", "E-UNIT-001"),
        ("__import__('os')", "length", "E-UNIT-001"),
        ("1 m" + " " * 80 + "x", "length", "E-UNIT-001"),
        ("", "length", "E-UNIT-001"),
        ("6 in 2 ft", "length", "E-UNIT-001"),
    ],
)
def test_refused(text, kind, code):
    with pytest.raises(UnitError) as caught:
        parse(text, kind)
    assert caught.value.code == code


@given(st.text(max_size=70))
@settings(max_examples=300, derandomize=True)
def test_any_text_ends_in_a_number_or_a_clear_refusal(text):
    try:
        value = parse(text, "length")
    except UnitError as error:
        assert error.code.startswith("E-UNIT-")
        assert error.message.isprintable()
    else:
        assert math.isfinite(value)


@given(st.floats(1e-3, 1e5))
@settings(derandomize=True)
def test_both_systems_show_the_same_quantity(value):
    for kind in ("length", "mass", "force", "volume", "flow", "pressure", "density"):
        for system in ("us", "si"):
            unit, size = QUANTITIES[kind].us if system == "us" else QUANTITIES[kind].si
            shown = show(value, kind, system, 6).removesuffix(unit).replace(",", "")
            assert float(shown) * size == pytest.approx(value, rel=2e-5)


def test_pair():
    assert parse_pair("24 in x 30 in", "length") == pytest.approx((0.6096, 0.762))
    assert parse_pair("0.131in×1.5in", "length") == pytest.approx((0.0033274, 0.0381))
    with pytest.raises(UnitError, match="two lengths"):
        parse_pair("24 in", "length")


def test_what_is_left_of_a_force_that_should_be_zero_reads_zero():
    for system in ("us", "si"):
        assert show(8e-4, "force", system).startswith("0 ")
        assert show(-2e-4, "moment", system).startswith("0 ")
    assert show(0.02, "force", "si") == "0.02 N"


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (0.0, "0 in"),
        (0.3048 * 2.5, "2 ft 6 in"),
        (0.0254 / 8, "1/8 in"),
        (0.3048, "1 ft"),
        (0.3048 * 2 - 0.0001, "2 ft"),
        (-0.3048, "-1 ft"),
    ],
)
def test_feet_and_inches(value, text):
    assert feet_and_inches(value) == text


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (999.6, "1,000"),
        (0.0999, "0.0999"),
        (12345, "12,300"),
        (float("nan"), "?"),
        (0.0, "0"),
        (1.0, "1"),
        (3.9e-13, "0"),
        (-2e-11, "0"),
        (2.1e-6, "0.0000021"),
    ],
)
def test_number_text(value, text):
    assert number_text(value) == text
