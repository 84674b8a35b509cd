"""Two racks beam against beam: one frame, tipping as one, the bolts between."""

import numpy as np
import pytest

from brimfast.assess.frame.cases import ALLOWABLE
from brimfast.assess.measures.propose import propose
from brimfast.assess.pipeline import assess
from brimfast.assess.plan.bench import changed
from brimfast.shared.errors import InputError
from brimfast.shared.reading import read_bytes
from tests.builders import APART, JOIN, JOINED, dry, found


def test_two_alike_tip_across_at_half_the_ratio():
    """Twice the push, twice the weight, twice the arm: by hand half the ratio; along nothing changes."""
    apart, joined = dry(APART), dry(JOINED)
    for rack in ("r", "s"):
        alone, both = (found(one, f"tipping/rack {rack}/across") for one in (apart, joined))
        assert both.ratio == pytest.approx(alone.ratio / 2, rel=1e-9)
        assert both.demand == pytest.approx(2 * alone.demand, rel=1e-9)
        assert found(joined, f"tipping/rack {rack}/along").ratio == pytest.approx(
            found(apart, f"tipping/rack {rack}/along").ratio, rel=1e-9
        )
    assert found(joined, "tipping/rack s/across").details["as one with"] == "rack r"


def test_an_empty_neighbour_still_helps_and_the_arm_reaches_to_the_nearer_row():
    """The rack behind carries a bed of half the water: the common centre lies nearer the front rack's outer row."""
    light = JOINED.replace(
        "name: other, kind: bed, on: s, length: 9 ft, width: 30 in, depth: 10 in, water: 8 in, fill: gravel, fill_depth: 9 in",
        "name: other, kind: bed, on: s, length: 9 ft, width: 30 in, depth: 10 in, water: 2 in, fill: perlite, fill_depth: 3 in",
    )
    assessment = dry(light)
    bodies = {body.name: body for body in assessment.bodies}
    one, other = bodies["rack r"], bodies["rack s"]
    b = one.directions[1].base
    x = (one.weight * b / 2 + other.weight * 1.5 * b) / (one.weight + other.weight)
    steps = {step.symbol: step.result.value for step in found(assessment, "tipping/rack r/across").steps}
    assert x < b
    assert steps["arm"] == pytest.approx(min(x, 2 * b - x), rel=1e-9)
    assert steps["W"] == pytest.approx(one.weight + other.weight, rel=1e-9)


def test_they_stand_in_one_frame_and_the_bolts_balance():
    """The rack behind as a free body: push, weight and feet leave what the bolts take, sideways, upright and about the floor."""
    assessment = dry(JOINED)
    one, other = assessment.frames["r"], assessment.frames["s"]
    assert one.frame is other.frame
    finding = found(assessment, "joint/s/joined")
    frame, result, x = other.frame, other.result, other.frame.topology.points
    ends = [frame.topology.ends[n] for n, one in enumerate(frame.elements) if one.rack == "s" and one.kind != "join"]
    mine = np.unique([end for pair in ends for end in pair if end >= 0])
    feet, bolts = frame.of("foot", rack="s"), frame.of("join", rack="s")
    foot, bolt = x[frame.topology.ends[feet, 0]].T, x[frame.topology.ends[bolts, 1]].T
    pushed = sum(frame.pushed(name) * assessment.forces[f"rack {name}"].coefficient for name in frame.places)
    W, most = frame.masses.weights.sum(), 0.0
    for n in other.pick(None, *ALLOWABLE):
        case = other.cases[n]
        load = (result.part[n] * case.sign * case.earthquake * pushed[:, case.way]).reshape(-1, 6)[mine]
        load[:, 2] += case.weight * frame.weight.reshape(-1, 6)[mine, 2]
        stands, held = result.forces[feet, :3, n], result.forces[bolts, :3, n]
        assert load[:, :3].sum(axis=0) + stands.sum(axis=0) == pytest.approx(held.sum(axis=0), abs=1e-6 * W)
        about = (x[mine, 1] * load[:, 2] - x[mine, 2] * load[:, 1] + load[:, 3]).sum() + foot[1] @ stands[:, 2]
        assert about == pytest.approx(bolt[1] @ held[:, 2] - bolt[2] @ held[:, 1], abs=1e-6 * W)
        most = max(most, abs(held.sum(axis=0)).max())
    assert most > 0.01 * W
    across = other.pick("across", *ALLOWABLE)
    V, P, H = (other.join.total[part][:, across] for part in "VPH")
    assert finding.demand >= abs(V).max() > 0
    assert finding.demand <= np.sqrt(V**2 + P**2 + H**2).max() * (1 + 1e-9)


def test_more_bolts_are_never_worse():
    ratios = [
        found(dry(JOINED.replace(JOIN, JOIN.replace("count: 2", f"count: {count}"))), "joint/s/joined").ratio
        for count in (1, 2, 4)
    ]
    assert ratios == sorted(ratios, reverse=True)


def test_without_strengths_each_tips_by_itself():
    """No frame, so nothing says that they hold together."""
    text = JOINED.replace("2x8 douglas fir-larch No.2", "2x8 redwood")
    apart = APART.replace("2x8 douglas fir-larch No.2", "2x8 redwood")
    joined = dry(text)
    assert found(joined, "joint/s/joined").verdict == "not assessed"
    assert found(joined, "tipping/rack r/across").ratio == pytest.approx(
        found(dry(apart), "tipping/rack r/across").ratio, rel=1e-9
    )


def test_the_sides_that_face_each_other_are_out_of_reach():
    from brimfast.assess.measures.reach import filled, joined

    installation = dry(JOINED).installation
    assert filled(installation, "r") == {("back", 1), ("back", 2)}
    assert filled(installation, "s") == {("front", 1), ("front", 2)}
    assert joined(installation, "r") == ["s"] and joined(installation, "s") == ["r"]


@pytest.mark.parametrize(
    "old, new, words",
    [
        ("    bay_length: 5 ft", "    bay_length: 4 ft", "another bay_length"),
        ("    bays: 2", "    bays: 3", "another bays"),
        ("    deck_height: 26 in", "    deck_height: 30 in", "another deck_height"),
        (
            f"    joined_to: {{rack: r, fasteners: {JOIN}}}",
            f"    joined_to: {{rack: s, fasteners: {JOIN}}}",
            "another rack",
        ),
        (f"fasteners: {JOIN}}}", f"fasteners: {JOIN}}}\n    at: 2 ft x 8 ft", "away from the back"),
        (f"fasteners: {JOIN}}}", f"fasteners: {JOIN}}}\n    beam_seat: on top", "beam against beam"),
    ],
)
def test_what_cannot_be_joined_is_refused(old, new, words):
    head, tail = JOINED.split("  s:\n")
    with pytest.raises(InputError) as caught:
        dry(head + "  s:\n" + tail.replace(old, new, 1))
    assert any(words in problem.message for problem in caught.value.problems)


def test_the_measure_does_what_it_says():
    """Proposed where one stands within reach behind the other; its file tips at half the ratio."""
    source = read_bytes(APART.encode(), "t")
    before = assess(source.installation)
    measure = next(one for one in propose(before) if "/joined/" in one.id)
    installation = changed(source.raw, [measure])
    assert installation is not None
    assert found(assess(installation), "tipping/rack r/across").ratio == pytest.approx(
        found(before, "tipping/rack r/across").ratio / 2, rel=1e-6
    )
    far = read_bytes(APART.replace("at: 2 ft x 6 ft", "at: 2 ft x 9 ft").encode(), "t")
    assert not any("/joined/" in one.id for one in propose(assess(far.installation)))
