"""What a frame's movement comes to, by hand: the frame is a stand-in that moves as the test says."""

from types import SimpleNamespace

import numpy as np
import pytest

from brimfast.assess.sway.drift import _deck

MM = 1e-3


def bowed(*stations, bays=2, places=(1.0, 2.0, 4.0)):
    """The line of the deck's bow where the beams' stations go across by so much (mm): front and back in every case.

    Case 0 is not asked for: it goes wild.
    """
    front_back = np.array(stations) * MM  # stations, front and back, cases
    y = np.concatenate([np.full((*front_back.shape[:2], 1), 9.0) * [[[1]], [[-7]], [[1]]], front_back], axis=2)
    moved = np.zeros((6, 3, y.shape[2]))
    moved[:, 1] = y.reshape(6, -1)
    moved[:, 2] = 0.7
    points = np.array([[x, side, 0.5] for x in places for side in (0.0, 0.8)])
    acts = SimpleNamespace(
        name="r",
        pick=lambda *_, **__: np.arange(1, y.shape[2]),
        moved=lambda tier: moved,
        frame=SimpleNamespace(decks={("r", 1): ((0, 1), (2, 3), (4, 5))}, topology=SimpleNamespace(points=points)),
    )
    return _deck(SimpleNamespace(rack=SimpleNamespace(bays=bays)), acts)


def test_bow_of_a_deck():
    """ASCE 7-16 12.3.1.3. Stations 0, 1 and 3 m from the first one, the mean of front and back in two cases:

    12, 34, 18 mm: straight 12 + 6/3 = 14, bow 20, ends (12 + 18)/2 = 15: 1.33. And −2, 9, 1 mm: straight −2 + 3/3 = −1,
    bow 10, ends (2 + 1)/2 = 1.5: 6.67, the worst.
    """
    (line,) = bowed([[11, -3], [13, -1]], [[33, 8], [35, 10]], [[17, 3], [19, -1]])
    assert line.inputs["bow"].value == pytest.approx(0.010)
    assert line.inputs["ends"].value == pytest.approx(0.0015)
    assert line.result.value == pytest.approx(20 / 3)
    assert "flexible: over 2" in line.note


@pytest.mark.parametrize(("middle", "said"), [(24, "not flexible: up to 2"), (25, "; flexible: over 2")])
def test_a_deck_that_bows_twice_as_much_as_its_ends_is_not_yet_flexible(middle, said):
    """Ends 8 mm each: a bow of 24 − 8 = 16 mm is 2, one of 17 mm 2.125. ASCE 7-16 12.3.1.3: more than two times."""
    (line,) = bowed([[8], [8]], [[middle], [middle]], [[8], [8]])
    assert line.result.value == pytest.approx((middle - 8) / 8)
    assert line.note.endswith(said)


def test_a_deck_of_one_bay_has_no_bow():
    still = [[8], [8]]
    assert bowed(still, still, still, bays=1) == ()
