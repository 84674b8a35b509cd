"""The rack's frame from its file: laws (balance, symmetry, monotony), closed forms by hand, words of mechanisms."""

import math

import numpy as np
import pytest

from brimfast.assess.frame.lines import worst
from brimfast.assess.frame.period import natural_periods
from brimfast.assess.frame.solve import solve
from brimfast.assess.frame.tier import hats
from brimfast.assess.frame.topology import Topology
from brimfast.shared.constants import GRAVITY
from tests.builders import GUSSETED, JOINED, RACK, TIERS, dry, found

FOOT = 0.3048
HINGED = RACK.replace("count: 2, spread: 4 in", "count: 1")
BRACES = """    beam_runs: each bay
    braces:
      - {face: front, bay: 1, kind: x, member: 2x4}
      - {face: back, bay: 1, kind: x, member: 2x4}
      - {face: left, kind: x, member: 2x4}
      - {face: right, kind: x, member: 2x4}"""
BRACE_JOINT = (
    "  - {rack: r, where: brace to post, fasteners: {kind: lag screw, diameter: 0.5 in, length: 4 in}}\npumps:"
)
BRACED = RACK.replace("    beam_runs: each bay", BRACES).replace("pumps:", BRACE_JOINT)
EVEN = BRACED.replace("length: 9 ft, width: 30 in", "length: 10 ft, width: 30 in")
ANCHORED = "    feet: {anchored: yes, tension: 900 lb, shear: 700 lb, source: a sheet}\n"
HELD = EVEN.replace("    braces:\n", ANCHORED + "    braces:\n")
CORNER = BRACED.replace("  r:\n", "  r:\n    at: 10 ft x 6.5 ft\n").replace(
    "vessels:\n",
    """  s:
    bays: 2
    bay_length: 3 ft
    width: 32 in
    deck_height: 26 in
    post: 4x4 douglas fir-larch No.2
    beam: 2x8 douglas fir-larch No.2
    joist: {size: 2x6, spacing: 12 in, seat: between beams}
    deck: 23/32 in plywood
    turns_from: {rack: r, end: right, side: SIDE}
    along: width
    braces: [{face: right, kind: x, member: 2x4}]
vessels:
  - {name: corner bed, kind: bed, on: s, length: 5.5 ft, width: 30 in, depth: 10 in, water: 8 in, fill: gravel}
""",
)


def acts_of(text, rack="r"):
    assessment = dry(text)
    return assessment, assessment.frames[rack]


@pytest.mark.parametrize(
    "text",
    [RACK, BRACED, TIERS, HELD, GUSSETED, JOINED, CORNER.replace("SIDE", "front"), CORNER.replace("SIDE", "back")],
)
def test_frame_weighs_what_the_bodies_weigh_at_their_heights(text):
    """Weight, and the moment of the push about the floor, are those of the free body."""
    assessment = dry(text)
    for name, acts in assessment.frames.items():
        frame = acts.frame
        body = next(body for body in assessment.bodies if body.name == f"rack {name}")
        mine = frame.masses.racks == name
        assert frame.masses.weights[mine].sum() == pytest.approx(body.weight, rel=1e-12)
        push, (x, y, z) = frame.pushed(name), frame.topology.points.T
        about_y = (z * push[0::6, 0] - x * push[2::6, 0]).sum() + push[4::6, 0].sum()
        about_x = (y * push[2::6, 1] - z * push[1::6, 1]).sum() + push[3::6, 1].sum()
        assert push[0::6, 0].sum() == pytest.approx(body.weight, rel=1e-12)
        assert about_y / body.weight == pytest.approx(body.height, rel=1e-9)
        assert -about_x / body.weight == pytest.approx(body.height, rel=1e-9)


@pytest.mark.parametrize("text", [BRACED, TIERS, HELD, CORNER.replace("SIDE", "front")])
def test_every_case_balances(text):
    """Feet and ties together hold the push sideways, the weight's share upright, and the moment about the floor."""
    assessment = dry(text)
    acts = next(iter(assessment.frames.values()))
    frame, result = acts.frame, acts.result
    feet, ties = frame.of("foot"), frame.of("tie", "tie along")
    W = frame.masses.weights.sum()
    pushed = sum(frame.pushed(name) * assessment.forces[f"rack {name}"].coefficient for name in frame.places)
    assert len(acts.pick(None)) > 20
    assert result.residual[result.stable].max() <= 1e-9
    points = frame.topology.points[frame.topology.ends[feet, 0]]
    for number, case in enumerate(acts.cases):
        if case.level == "anchors" or not result.stable[number]:
            continue
        R = result.forces[np.concatenate([feet, ties]), :3, number].sum(axis=0)
        load = result.part[number] * case.sign * case.earthquake * pushed[:, case.way]
        assert R[case.way] == pytest.approx(-load[case.way :: 6].sum(), rel=1e-6)
        assert R[2] == pytest.approx(case.weight * W - load[2::6].sum(), rel=1e-6)
        x = frame.topology.points
        moment = (x[:, 1] * (load[2::6] + case.weight * frame.weight[2::6]) - x[:, 2] * load[1::6]).sum() + load[
            3::6
        ].sum()
        held = (points[:, 1] * result.forces[feet, 2, number]).sum()
        assert held == pytest.approx(-moment, abs=1e-6 * W)


def test_what_is_only_pulled_is_never_pushed_and_loose_feet_never_pull():
    for text in (BRACED, TIERS):
        for acts in dry(text).frames.values():
            result = acts.result
            bars = np.flatnonzero(acts.frame.one_way)
            assert len(bars)
            by_push = result.forces[bars, 0] - result.by_weight[bars, 0, None] * np.array(
                [c.weight for c in acts.cases]
            )
            assert (np.where(result.pulls[bars], by_push, 0.0)[:, result.stable] >= -1e-6).all()
            loose = result.stable & np.array([case.feet in ("loose", "kept from slipping") for case in acts.cases])
            assert (acts.feet.total["N"][:, loose] >= -1e-3 * acts.frame.masses.weights.sum()).all()


def feet_pushed(acts, way, posts, sides):
    """What stands on the feet (N) in that order, pushed one way and the other."""
    order = [acts.feet.where.index(f"{side} post {post}") for post in posts for side in sides]
    return [acts.feet.total["N"][order, pick] for pick in acts.pick(way, "down")[:2]]


def test_symmetric_rack_under_a_symmetric_load():
    """Front as back: a push to the front gives the front's feet what a push to the back gives those behind."""
    _, acts = acts_of(HELD)
    one, _ = feet_pushed(acts, "across", (1, 2, 3), ("front", "back"))
    _, other = feet_pushed(acts, "across", (1, 2, 3), ("back", "front"))
    assert one == pytest.approx(other, rel=1e-6)


@pytest.mark.parametrize("way", ["along", "across"])
def test_rack_turned_about_its_middle(way):
    """Braced in the first bay in front and in the last behind: half a turn brings it upon itself, and exchanges the pushes."""
    _, acts = acts_of(
        HELD.replace("bay: 1, kind: x", "bay: 2, kind: x").replace("{face: front, bay: 2", "{face: front, bay: 1")
    )
    one, back = feet_pushed(acts, way, (1, 2, 3), ("front", "back"))
    _, other = feet_pushed(acts, way, (3, 2, 1), ("back", "front"))
    assert one == pytest.approx(other, rel=1e-6)
    assert one != pytest.approx(back, rel=0.01)


def test_stiffness_decides_who_takes_the_push():
    """A brace in one bay of a face takes more than two that share it; both faces sum to the push less what posts hold."""
    one = dry(HELD)
    two = dry(
        HELD.replace(
            "      - {face: front, bay: 1, kind: x, member: 2x4}\n",
            "      - {face: front, bay: 1, kind: x, member: 2x4}\n      - {face: front, bay: 2, kind: x, member: 2x4}\n",
        )
    )
    alone = np.abs(one.frames["r"].bars("brace")[0]).max()
    shared = np.abs(two.frames["r"].bars("brace")[0]).max()
    assert shared < 0.8 * alone


def test_one_braced_face_twists_the_rack():
    """Front braced, back held by its joints alone: the front takes most, the back sways more, the ends hold the twist."""
    text = HELD.replace("      - {face: back, bay: 1, kind: x, member: 2x4}\n", "")
    assessment, acts = acts_of(text)
    assert acts.balances("along")
    picks = acts.pick("along", "strength down")
    moved = np.abs(acts.moved(1)[:, 0][:, picks]).max(axis=1).reshape(-1, 2)  # stations, front and back
    assert moved[:, 1].mean() > 1.05 * moved[:, 0].mean()  # the bolted joints hold the back
    F = 0.7 * assessment.forces["rack r"].horizontal
    brace = np.abs(acts.bars("brace")[0][:, acts.pick("along", "down")]).max() * acts.slope("brace", 0)
    assert brace > 0.5 * F
    across = np.abs(acts.bars("brace")[1][:, acts.pick("along", "down")]).max()
    assert across > 0.02 * F  # the end braces work against the twist


def test_hinged_rack_without_braces_is_named_not_a_singular_matrix():
    assessment = dry(HINGED)
    along, across = (found(assessment, f"leaning/r/{way}") for way in ("along", "across"))
    assert "long sides have nothing that stops them from leaning along" in along.reason
    assert "short ends have nothing that stops them from leaning across" in across.reason
    assert assessment.frames["r"].periods == (math.inf, math.inf)
    front_only = HINGED.replace(
        "    beam_runs: each bay", BRACES.replace("      - {face: back, bay: 1, kind: x, member: 2x4}\n", "")
    )
    one_end = HINGED.replace(
        "    beam_runs: each bay",
        "    beam_runs: each bay\n    braces: [{face: left, kind: x, member: 2x4}, {face: front, kind: x, member: 2x4}]",
    )
    assert not [finding for finding in dry(front_only).findings if finding.id == "leaning/r/along"]  # the ends help
    reason = found(dry(one_end), "leaning/r/across").reason
    assert "right end has nothing that stops it" in reason


def test_deck_decides_whether_middle_posts_are_held():
    """Hinged middle posts across: a plywood deck carries them to the braced ends, loose glass lets them go."""
    text = HELD.replace("count: 2, spread: 4 in", "count: 1")
    plywood, glass = dry(text), dry(text.replace("23/32 in plywood", "1/2 in glass"))
    stiff = found(plywood, "sway/r/across")
    assert stiff.verdict != "not assessed"
    loose = [finding for finding in glass.findings if finding.id == "leaning/r/across"]
    assert loose or found(glass, "sway/r/across").demand > 3 * stiff.demand


def test_semi_rigid_portal_by_closed_form():
    """One bay, hinged feet, a push H at the beams of one side and the same at the other.

    A portal with hinged feet: sway = V h³/(6 E I_c) + V h² L/(12 E I_b) + V h²/(2 k) + V/(2 K), V on one side; the
    two joints' turns (k) and slips (K) in it. Statics of the antisymmetric portal, any text on frames.
    """
    text = RACK.replace("bays: 2", "bays: 1").replace("length: 9 ft", "length: 4.9 ft")
    assessment, acts = acts_of(text)
    frame = acts.frame
    beams = frame.decks["r", 1]
    load = np.zeros(len(frame.weight))
    V = 1000.0
    for front, back in (beams[0], beams[-1]):
        load[6 * front] = load[6 * back] = V / 2
    moved = solve(frame.topology, frame.coefficients[:, :, None], load[:, None])
    assert moved.stable.all()
    posts = frame.of("post")
    h, L = frame.lengths[posts[0]], 5 * FOOT
    parts = assessment.resolved.racks["r"]
    E_c, E_b = 1.6e6 * 0.9 * 6894.757, 1.6e6 * 0.9 * 6894.757  # No.2 douglas fir-larch, wet (NDS Supplement Table 4A)
    I_c, I_b = (t * w**3 / 12 for t, w in ((m.thickness, m.width) for m in (parts.post, parts.beam)))
    joint = frame.of("joint")[0]
    K = frame.coefficients[joint, 0]
    rho = 62.4 * (0.5 / (1 + 0.5 * 0.009 * 12)) * 1.12 * 16.018463
    k = rho**1.5 * 12.7 / 23 * 1000 * 2 * (2 * 0.0254) ** 2  # EN 1995-1-1 Table 7.1; two bolts 4 in apart
    sway = V * h**3 / (6 * E_c * I_c) + V * h**2 * L / (12 * E_b * I_b) + V * h**2 / (2 * k) + V / (2 * K)
    got = moved.movements[[6 * beams[0][0], 6 * beams[-1][0]], 0].mean()
    assert got == pytest.approx(sway + V / 2 / 1e8, rel=0.01)  # and the feet's own give


def test_period_of_one_mass_by_hand():
    """Nearly all the weight sways as one: T = 2π sqrt(W δ/(g F)), δ by the push F of the frame's own weight; in 3 %."""
    _, acts = acts_of(HELD)
    frame = acts.frame
    push = frame.pushed("r")
    coefficients = frame.coefficients.copy()
    coefficients[frame.one_way] /= 2
    for way in (0, 1):
        moved = solve(frame.topology, coefficients[:, :, None], push[:, way : way + 1]).movements[:, 0]
        W = frame.masses.weights.sum()
        T = 2 * math.pi * math.sqrt(float(push[:, way] @ moved) / W / GRAVITY)
        assert natural_periods(frame)[way] == pytest.approx(T, rel=0.1)
        assert natural_periods(frame)[way] >= T * 0.98


def test_stiffer_joints_sway_less_and_swing_faster():
    soft, hard = acts_of(RACK)[1], acts_of(RACK.replace("spread: 4 in", "spread: 5 in"))[1]
    assert hard.periods[0] < soft.periods[0]
    demands = [found(dry(text), "sway/r/along").demand for text in (RACK, RACK.replace("spread: 4 in", "spread: 5 in"))]
    assert demands[1] < demands[0]


def test_period_decides_rigid_or_flexible():
    """Flexible by its period of a quarter second; where the file says 0.05 s it counts as rigid, and the two are named."""
    flexible = dry(RACK)
    note = flexible.forces["rack r"].steps[0].note
    assert "flexible" in flexible.forces["rack r"].row
    assert "as a rigid component its force would be" in note
    rigid = dry(RACK.replace("    beam_runs: each bay", "    beam_runs: each bay\n    period: 0.05 s"))
    assert "rigid" in rigid.forces["rack r"].row
    assert "on the other side of 0.06 s" in rigid.forces["rack r"].steps[0].note
    assert rigid.forces["rack r"].horizontal < flexible.forces["rack r"].horizontal


def test_knees_bend_posts_and_hold_along():
    knees = HINGED.replace(
        "    beam_runs: each bay",
        """    beam_runs: whole length
    braces:
      - {face: front, bay: 1, kind: knee, leg: 12 in, member: 2x4}
      - {face: back, bay: 1, kind: knee, leg: 12 in, member: 2x4}
      - {face: left, kind: x, member: 2x4}
      - {face: right, kind: x, member: 2x4}""",
    )
    assessment, acts = acts_of(knees)
    assert acts.balances("along")
    assert math.isfinite(acts.periods[0])
    assert acts.posts.total["M_along"].max() > 50.0
    assert found(assessment, "member/r/knee/along/tension").demand > 0
    assert (
        found(assessment, "joint/r/brace to post/knee along").verdict == "not assessed"
    )  # its fasteners are not in the file


def test_anchored_feet_by_the_frame_and_plain_statics():
    assessment, acts = acts_of(HELD)
    tension = found(assessment, "anchors/rack r/tension across")
    plain = next(step.result.value for step in tension.steps if step.symbol == "T")
    assert tension.demand >= plain * 0.8
    assert {case.feet for case in acts.cases} == {"anchored"}
    pull = -acts.feet.total["N"][:, acts.pick("across", "anchors")].min()
    assert tension.demand == pytest.approx(pull, rel=1e-9)


@pytest.mark.parametrize("side", ["front", "back"])
def test_run_that_turns_a_corner_shares_the_push(side):
    assessment = dry(CORNER.replace("SIDE", side))
    straight, turned = assessment.frames["r"], assessment.frames["s"]
    assert straight.frame is turned.frame
    assert turned.balances("along")
    assert turned.periods == (straight.periods[1], straight.periods[0])
    corner = found(assessment, "sway/s/corner")
    assert corner.verdict == "not assessed"
    assert corner.demand > 0
    y = straight.frame.topology.points[
        [chain[0] for (rack, *_), chain in straight.frame.posts.items() if rack == "s"], 1
    ]
    assert (y.max() <= 0.0) == (side == "front")


def test_runs_whose_beams_lie_apart_have_no_frame_and_say_why():
    text = CORNER.replace("SIDE", "front").replace(
        "    beam: 2x8 douglas fir-larch No.2\n    joist: {size: 2x6, spacing: 12 in, seat: between beams}\n    deck: 23/32 in plywood\n    turns",
        "    beam: 2x12 douglas fir-larch No.2\n    joist: {size: 2x6, spacing: 12 in, seat: on beams}\n    deck: 23/32 in plywood\n    turns",
    )
    assessment = dry(text)
    assert not assessment.frames
    assert "another height" in found(assessment, "sway/r/along").reason


def test_two_tiers_sway_more_above():
    _, acts = acts_of(TIERS)
    picks = acts.pick("across", "strength down")
    lower, upper = (np.abs(acts.moved(tier)[:, 1][:, picks]).max() for tier in (1, 2))
    assert upper > lower


def test_pipe_against_its_slack():
    text = HELD.replace("outlet: 3 in}", "outlet: 3 in, slack: 2 in}")
    pipe = found(dry(text), "sway/pipe/pump")
    assert pipe.capacity == pytest.approx(2 * 0.0254)
    assert pipe.demand == pytest.approx(max(found(dry(text), f"sway/r/{way}").demand for way in ("along", "across")))
    unknown = found(dry(HELD), "sway/pipe/pump")
    assert unknown.verdict == "not assessed"
    assert unknown.demand == pytest.approx(pipe.demand)
    loose = found(dry(BRACED), "sway/pipe/pump")
    assert loose.demand is None
    assert "slides or tips as a whole" in loose.reason


def test_wall_gap():
    near = HELD.replace("    braces:\n", "    wall_gap: 0.05 in\n    braces:\n")
    assert found(dry(near), "sway/r/wall").verdict == "short"
    assert not [finding for finding in dry(BRACED).findings if finding.id == "sway/r/wall"]


def test_species_without_stiffness_has_no_frame_and_says_why():
    text = BRACED.replace("post: 4x4 douglas fir-larch No.2", "post: 4x4 redwood")
    assessment = dry(text)
    assert not assessment.frames
    assert "no stiffness" in found(assessment, "sway/r/along").reason
    assert found(assessment, "joint/r/beam to post/across").demand > 0  # plain statics stands in


def test_hats_keep_sum_and_centre():
    stations = [0.0, 0.4, 1.0, 1.7]
    for start, end in ((0.0, 1.7), (0.1, 0.3), (0.35, 1.2), (1.0, 1.7)):
        share = hats(stations, start, end)
        assert share.sum() == pytest.approx(1)
        assert share @ stations == pytest.approx((start + end) / 2)


def test_a_point_that_touches_nothing_is_no_singular_matrix():
    """A fifth post's two points beside the frame: stable while nothing pushes them, unstable when something does."""
    _, acts = acts_of(HELD)
    old = acts.frame.topology
    n = len(old.points)
    more = Topology(
        np.vstack([old.points, [[9, 9, 0], [9, 9, 1]]]),
        old.ends,
        old.compatibility,
        np.vstack([old.fixed, np.zeros((2, 6), dtype=bool)]),
        np.append(old.first, [0, 0]),
        None,
    )
    load = np.zeros(((n + 2) * 6, 2))
    load[: n * 6, 0] = acts.frame.weight
    load[-4, 1] = -100.0
    coefficients = np.repeat(acts.frame.coefficients[:, :, None], 2, axis=2)
    solution = solve(more, coefficients, load)
    assert solution.stable.tolist() == [True, False]


DEMANDS = (
    "beam to post/earthquake",
    "beam to post/across",
    "brace to post/along",
    "brace to post/across",
    "post/earthquake",
)


def shaken(text, S_DS):
    return text.replace("S_DS: 1.0", f"S_DS: {S_DS:.15g}")


def test_a_greater_earthquake_never_asks_less():
    """Feet that slide or tip as a whole must not let the demand fall: over a range that passes through both."""
    for text in (
        BRACED,
        BRACED.replace("spread: 4 in", "spread: 5 in"),
        TIERS,
    ):
        before: dict[str, float] = {}
        for S_DS in (0.4, 0.8, 1.0, 1.1, 1.2, 1.4, 2.0):
            assessment = dry(shaken(text, S_DS))
            for finding in assessment.findings:
                if finding.demand is not None and finding.id.endswith(DEMANDS):
                    # a fiftieth: what a rack stands before it tips is found to a hundredth of the push, and a stronger
                    # vertical part takes weight off, so that it tips under a little less
                    assert finding.demand >= before.get(finding.id, 0.0) * 0.98, (finding.id, S_DS)
                    before[finding.id] = max(finding.demand, before.get(finding.id, 0.0))


@pytest.mark.parametrize("text", [BRACED, BRACED.replace("spread: 4 in", "spread: 5 in"), TIERS])
def test_rounding_decides_nothing(text):
    """Thirteen digits on: the same states of feet and braces, so the same demands, on every processor."""
    for S_DS in (0.4, 0.8, 1.0, 1.2, 2.0):
        one, other = (dry(shaken(text, x)) for x in (S_DS, S_DS * (1 + 3e-13)))
        assert other.motion != one.motion
        for a, b in zip(one.findings, other.findings, strict=True):
            if a.demand is not None and a.topic == "joints":
                assert b.demand == pytest.approx(a.demand, rel=1e-6, abs=1e-6), (a.id, S_DS)


LEANING = """
installation: leaning
site: {standard: asce7-16, S_DS: 1.0}
room: {length: 25 ft, width: 25 ft, sill: 2 in}
racks:
  r:
    bays: 3
    bay_length: 3 ft
    width: 43 in
    deck_height: 29.25 in
    upper_tiers: [{deck_height: 92 in}]
    post: 4x6 spruce-pine-fir Stud
    beam: 45x145 mm C24
    joist: {size: 2x6 douglas fir-larch No.1, spacing: 9.5 in}
    deck: 23/32 in plywood
vessels: [{name: box, kind: tank, mass: 20 lb, centre_of_mass: 4 in, footprint: 8 in x 8 in}]
joints: [{rack: r, where: beam to post, fasteners: {kind: through-bolt, diameter: 5/8 in, length: 4.5 in, count: 6}}]
"""


def test_nor_where_a_rack_leans_far():
    """A few decimetres along, held by its bolts alone, and by nothing across: it grows with the shaking and balances."""
    leans = []
    for S_DS in (0.5, 1.0, 1.3, 1.4, 1.8, 2.0):
        _, acts = acts_of(shaken(LEANING, S_DS))
        assert acts.balances("along") and not acts.balances("across"), S_DS
        held = [case for case in acts.pick("along", "down", feet=("held down",)) if not acts.cases[case].variant]
        leans.append(np.abs(acts.result.movements[:, held].reshape(-1, 6, len(held))[:, 0]).max() / S_DS)
    assert leans == pytest.approx([leans[0]] * len(leans), rel=1e-6)


def test_bolts_play_in_their_holes():
    """RACK along: two bolts 4 in apart hold it, each with 1/16 in of play: 2 x 1/16 / 4 x the beam's height, by hand."""
    assessment = dry(RACK)
    sway = next(step for step in found(assessment, "sway/r/along").steps if step.symbol == "Delta")
    height = assessment.racks["r"].beam_centre
    assert sway.inputs["play"].value == pytest.approx(2 * 0.0625 / 4 * height)


def test_ties_count_from_stiff_to_soft():
    """What a tie may hold and what it may leave to the panels: both ends are in the envelope."""
    tied = HELD.replace(
        "    braces:\n",
        "    wall_ties: [{height: 24 in, count: 3, into: stud, diameter: 0.375 in, length: 5 in}]\n    braces:\n",
    )
    _, acts = acts_of(tied)
    names = {case.variant for case in acts.cases}
    assert names == {"", "ties soft", "joints turning freely"}
    plain, soft = (
        np.abs(
            acts.bars("brace")[2][:, [i for i in acts.pick("across", "down") if acts.cases[i].variant == variant]]
        ).max()
        for variant in ("", "ties soft")
    )
    assert soft > plain


def test_deck_fastening_is_asked_for():
    deck = found(dry(HELD), "sway/r/deck")
    assert deck.verdict == "not assessed"
    assert deck.demand > 0


def test_rounding_is_no_force():
    """What the frame's own rounding leaves (1e-9 of the weight) is zero, in the forces and in what is made of them."""
    assessment, acts = acts_of(RACK)
    size = np.abs(acts.result.forces)
    assert size[size > 0].min() > 1e-9 * acts.frame.masses.weights.sum()
    deck = found(assessment, "sway/r/deck")
    assert deck.demand == 0.0
    assert "both sides give alike" in deck.reason


def test_of_places_alike_but_for_rounding_the_first_is_named():
    picks = np.array([7, 9])
    for values in ([[1.0, 3.0], [2.0, 3.0 + 1e-14]], [[1.0, 3.0 + 1e-14], [2.0, 3.0]]):
        largest = worst(np.array(values), picks)
        assert (largest.place, largest.column, largest.number) == (0, 1, 9)
    assert worst(np.array([[1.0, 3.0], [2.0, 3.001]]), picks).place == 1


def test_a_knee_beside_a_brace_in_a_direction_that_gives_way():
    text = HINGED.replace(
        "    beam_runs: each bay",
        "    beam_runs: each bay\n    braces: [{face: front, kind: knee, leg: 10 in, member: 2x4}, {face: left, member: 2x4}]",
    )
    assert found(dry(text), "leaning/r/across").verdict == "short"


def test_endless_racks_are_not_a_frame():
    text = RACK.replace("bays: 2", "bays: 31").replace("room: {length: 24 ft", "room: {length: 180 ft")
    assert "it has 31 bays" in found(dry(text), "sway/r/along").reason


def test_joists_farther_apart_than_two_bays():
    text = (
        RACK.replace("spacing: 12 in", "spacing: 48 in")
        .replace("bay_length: 5 ft", "bay_length: 20 in")
        .replace("length: 9 ft", "length: 3 ft")
    )
    assert found(dry(text), "leaning/r/across").verdict == "short"


def test_anchors_of_a_rack_that_gives_way_fall_back_to_plain_statics():
    text = HINGED.replace("    beam_runs: each bay", "    beam_runs: each bay\n" + ANCHORED)
    assessment = dry(text)
    assert found(assessment, "anchors/rack r/tension along").demand >= 0
    assert found(assessment, "anchors/rack r/shear").demand > 0


def test_corner_of_runs_that_give_way():
    text = CORNER.replace("SIDE", "front").replace("count: 2, spread: 4 in", "count: 1")
    assessment = dry(text.replace("{face: left, kind: x, member: 2x4}", "{face: back, bay: 2, kind: x, member: 2x4}"))
    assert found(assessment, "sway/s/corner").verdict == "not assessed"


def test_rack_seen_in_a_mirror():
    """Front and back exchanged: the same answers."""
    one = BRACED.replace("      - {face: back, bay: 1, kind: x, member: 2x4}\n", "")
    mirrored = dry(one.replace("face: front", "face: back"))
    for finding in dry(one).findings:
        if finding.id.startswith(("joint/r", "member/r", "sway/r")):
            twin = next(item for item in mirrored.findings if item.id == finding.id)
            assert twin.verdict == finding.verdict, finding.id
            if finding.ratio is not None:
                assert twin.ratio == pytest.approx(finding.ratio, rel=0.02), finding.id


@pytest.mark.parametrize(
    ("bays", "count", "posts"), [(2, 3, [0, 1, 2]), (3, 3, [0, 2, 3]), (3, 4, [0, 1, 2, 3]), (2, 1, [1])]
)
def test_ties_are_spread_over_the_posts(bays, count, posts):
    text = (
        HELD.replace("bays: 2", f"bays: {bays}")
        .replace("room: {length: 24 ft", "room: {length: 40 ft")
        .replace(
            "    braces:\n",
            f"    wall_ties: [{{height: 24 in, count: {count}, into: stud, diameter: 0.375 in, length: 5 in}}]\n    braces:\n",
        )
    )
    frame = acts_of(text)[1].frame
    assert [frame.elements[index].number for index in frame.of("tie")] == posts


def test_ties_that_do_not_reach_the_stud_are_no_support():
    """A 2 in screw through a rail of 1.5 in and 0.5 in of board ends at the stud's face."""
    text = RACK.replace(
        "    beam_runs: each bay",
        "    beam_runs: each bay\n"
        "    wall_ties: [{height: 24 in, count: 3, into: stud, kind: wood screw, diameter: 0.19 in, length: 2 in}]",
    )
    assessment = dry(text)
    assert "do not reach" in found(assessment, "joint/r/wall ties").reason
    assert found(assessment, "leaning/r/across").verdict == "short"
