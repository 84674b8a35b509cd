"""What of a file goes into the frame of its rack, and at which place, by hand; and which mishaps a room has."""

import numpy as np
import pytest

from brimfast.assess.frame.rack_input import rack_input
from brimfast.assess.network.faults import faults
from tests.assess.test_frame_rack import BRACED, CORNER
from tests.builders import JOINED, RACK, TIERS, dry, with_lines

near = pytest.approx
INCH, FOOT, POUND = 0.0254, 0.3048, 0.45359237 * 9.80665


def frame_of(text, rack="r"):
    return dry(text).frames[rack].frame


def ends(frame, kind, **what):
    """Ends of the elements of a kind, along the rack (m)."""
    chosen = [i for i in frame.of(kind) if all(getattr(frame.elements[i], key) == one for key, one in what.items())]
    points = np.vstack([frame.topology.points, np.full(3, np.nan)])
    return [sorted(points[frame.topology.ends[i], 0]) for i in chosen]


def test_loads_of_decks_and_of_what_stands_on_them():
    """Kit of 60 lb on the main deck along the whole rack; a weighed box of 90 lb, 7 in up, on the deck 60 in high."""
    box = "  - {name: box, kind: tank, on: r, tier: 2, mass: 90 lb, centre_of_mass: 7 in, footprint: 12 in x 12 in}\n"
    text = TIERS.replace("    width: 32 in\n", "    width: 32 in\n    kit: 60 lb\n").replace(
        "joints:\n", box + "joints:\n"
    )
    known = dry(text)
    one = rack_input(known.installation, "r", known.resolved.racks["r"], known.racks["r"], known.vessels)
    assert any(load == near((60 * POUND, 26 * INCH, 1, 0.0, 10 * FOOT)) for load in one.loads)
    assert any(load[:3] == near((90 * POUND, 67 * INCH, 2)) for load in one.loads)


def test_a_panel_stands_in_its_bay():
    panel = "    panels: [{face: back, bay: 2, thickness: 15/32 in, nail: 0.131 in, edge_spacing: 6 in}]\n"
    frame = frame_of(with_lines(RACK, panel))
    assert ends(frame, "panel") == [near([5 * FOOT, 10 * FOOT])] * 2


def test_a_tie_alone_is_in_the_middle():
    tie = "    wall_ties: [{height: 24 in, count: 1, into: stud, diameter: 0.375 in, length: 5 in}]\n"
    text = RACK.replace("bays: 2", "bays: 4").replace("bay_length: 5 ft", "bay_length: 2.5 ft")
    frame = frame_of(with_lines(text, tie))
    assert [frame.elements[i].number for i in frame.of("tie")] == [2]
    assert ends(frame, "tie")[0][0] == near(5 * FOOT)


def test_a_stretch_of_post_is_as_stiff_as_it_is_short():
    """E A/L: of two stretches of a post the stiffnesses are as their lengths turned about."""
    frame = frame_of(TIERS)
    (low, middle), (upper, top) = (
        [frame.topology.points[frame.topology.ends[i]][:, 2] for i in frame.of("post") if _is(frame, i, number)]
        for number in (0, 1)
    )
    (first, second), _ = ([frame.coefficients[i, 0] for i in frame.of("post") if _is(frame, i, n)] for n in (0, 1))
    assert first * (low[1] - low[0]) == near(second * (middle[1] - middle[0]))
    assert upper[1] == near(top[0])


def _is(frame, index, number):
    element = frame.elements[index]
    return element.face == "back" and element.number == number and element.tier < 2


def test_a_beam_that_runs_through_is_not_hinged_at_its_posts():
    each, through = (frame_of(RACK.replace("each bay", runs)) for runs in ("each bay", "whole length"))
    beams = through.of("beam")
    assert np.array_equal(through.hinged[beams], through.coefficients[beams])
    beams = each.of("beam")
    assert not np.array_equal(each.hinged[beams], each.coefficients[beams])


def test_racks_of_two_tiers_are_joined_on_both():
    tier = "    upper_tiers: [{deck_height: 60 in}]\n"
    frame = frame_of(with_lines(JOINED, tier))
    assert sorted({frame.elements[i].tier for i in frame.of("join")}) == [1, 2]


def test_two_runs_turn_from_one_side():
    """The beam has a point where each run's inner post is bolted to it: one more for every run."""
    run = CORNER[CORNER.index("  s:\n") : CORNER.index("vessels:")].replace("SIDE", "back")
    other = run.replace("  s:", "  w:").replace("end: right", "end: left").replace("face: right", "face: left")
    counts = [
        len(frame_of(text).decks["r", 1])
        for text in (
            BRACED,
            BRACED.replace("vessels:\n", run + "vessels:\n"),
            CORNER.replace("SIDE", "back").replace("vessels:\n", other + "vessels:\n"),
        )
    ]
    assert counts == [counts[0], counts[0] + 1, counts[0] + 2]


def test_a_post_of_two_tiers_names_the_tier():
    assert any(where.endswith("tier 2") for where in dry(TIERS).frames["r"].joints.where)
    assert not any("tier" in where for where in dry(RACK).frames["r"].joints.where)


def test_every_rack_with_water_on_it_may_come_down():
    """A bed of less than a cubic metre on each of two racks."""
    known = dry(JOINED)
    found = [event.id for event in faults(known.installation, known.question.network)]
    assert {"collapse/r", "collapse/s"} <= set(found)
    assert found[0] == faults(dry(RACK).installation, dry(RACK).question.network)[0].id
