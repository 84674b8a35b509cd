"""Ranges and spreads as they stand in a file."""

import copy
import math
import pickle
from typing import Annotated

import pytest
from pydantic import BaseModel, ValidationError

from brimfast.shared.installation.fields import Quantity
from brimfast.shared.uncertain import Exact, Uncertain, looks_ranged, looks_uncertain, read_uncertain, spread_of
from brimfast.shared.units import UnitError

INCH = 0.0254


@pytest.mark.parametrize(
    "text,kind,middle,low,high,shape",
    [
        ("0.25 to 0.45", "number", 0.35, 0.25, 0.45, "even"),
        ("14 to 16 in", "length", 15 * INCH, 14 * INCH, 16 * INCH, "even"),
        ("1 1/2 in – 2 in", "length", 1.75 * INCH, 1.5 * INCH, 2 * INCH, "even"),
        ("8 ft 6 in to 9 ft", "distance", 105 * INCH, 102 * INCH, 108 * INCH, "even"),
        ("14 in ± 1", "length", 14 * INCH, 13 * INCH, 15 * INCH, "normal"),
        ("14 in +/- 1 in", "length", 14 * INCH, 13 * INCH, 15 * INCH, "normal"),
        ("2 kN ± 10 %", "force", 2000, 2000 / 1.1, 2200, "lognormal"),
        ("30 % ± 5 %", "share", 0.3, 0.25, 0.35, "normal"),
        ("0.30 ± 10 %", "share", 0.3, 0.3 / 1.1, 0.33, "lognormal"),
    ],
)
def test_forms(text, kind, middle, low, high, shape):
    found = read_uncertain(text, kind)
    assert found is not None and found.shape == shape
    assert (float(found), found.low, found.high) == pytest.approx((middle, low, high), rel=1e-9)


@pytest.mark.parametrize(
    "text", ["5 + 5", "24 in x 30 in", "beam to post", "2 of 3", "8 ft 6 in", "0.5", "to 3 in", "3 in to"]
)
def test_what_is_none(text):
    assert not looks_uncertain(text) and read_uncertain(text, "length") is None


@pytest.mark.parametrize(
    "text,kind,says",
    [
        ("16 to 14 in", "length", "lower end first"),
        ("2 to 2 in", "length", "lower end first"),
        ("1 to 2 kg", "length", "a weight"),
        ("3 to 4", "length", "no unit"),
        ("5 in ± 300 %", "length", "up to 200 %"),
        ("5 in ± 0 in", "length", "more than nothing"),
    ],
)
def test_refused(text, kind, says):
    with pytest.raises(UnitError, match=says):
        read_uncertain(text, kind)


def test_is_its_middle_and_travels():
    found = read_uncertain("0.25 to 0.45", "number")
    assert found == 0.35 and found * 2 == 0.7 and type(found * 2) is float
    for again in (pickle.loads(pickle.dumps(found)), copy.deepcopy(found)):
        assert isinstance(again, Uncertain) and (again.low, again.high, again.text) == (0.25, 0.45, "0.25 to 0.45")


def test_a_spread_of_the_logarithm():
    assert spread_of(math.exp(-1.959963984540054 * 0.3), math.exp(1.959963984540054 * 0.3)) == pytest.approx(0.3)


class _Part(BaseModel):
    length: Annotated[float, Quantity("length", "1 in", "10 in")]


def test_field_keeps_both_ends_within_its_limits():
    assert isinstance(_Part(length="2 to 9 in").length, Uncertain)
    assert _Part(length=Exact(0.1)).length == 0.1
    for text in ("2 to 11 in", "0.5 to 2 in", "9 in ± 2 in"):
        with pytest.raises(ValidationError, match="from 1 in to 10 in"):
            _Part(length=text)
    with pytest.raises(ValidationError, match="from 1 in to 10 in"):
        _Part(length=Exact(1.0))


def test_names_may_look_so_without_being_numbers():
    assert looks_ranged({"a": [{"name": "1 to 2"}]}) and not looks_ranged({"a": ["beam to post", 3, None]})
