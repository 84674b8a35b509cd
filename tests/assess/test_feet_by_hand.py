"""Which braces pull, which feet stand and what slipping feet hold: small frames, worked by hand.

A table is a point with the mass, from which rigid arms go down to feet on springs. Pushes are in newtons at the mass.
"""

from dataclasses import replace

import numpy as np
import pytest

from brimfast.assess.frame import elements, states
from brimfast.assess.frame.model import Element, Frame, Masses
from brimfast.assess.frame.solve import solve
from brimfast.assess.frame.states import ENDLESS, Cases, _as_friction_lets, _asking, run, weight_alone
from brimfast.assess.frame.topology import GROUND, Topology

RIGID = 1e10  # N/m
FLOOR = (1e6, 1e6, 1e7)  # N/m: what a foot stands on, in X, Y and Z
STEADY = 1.0  # N/m
FIRM = (1e9, 1e9, 1e9)
EVERY_WAY = [(1, 0), (-1, 0), (0, 1), (0, -1)]


def arm(start, end):
    """Strains of a rigid arm: movements of its end less those that the start carries it along by, u + θ × r."""
    x, y, z = np.subtract(end, start)
    carried = np.eye(6)
    carried[:3, 3:] = [[0, z, -y], [-z, 0, x], [y, -x, 0]]
    return np.hstack([-carried, np.eye(6)])


def frame_of(points, parts, weights, fixed=()):
    """parts: kind, ends, six stiffnesses of a foot or an arm, or EA of a bar. weights (N) by point."""
    points = np.array(points, float)
    A, k, one_way = [], [], []
    for kind, i, j, stiffness in parts:
        if kind == "foot":
            A.append(elements.link_compatibility())
            k.append(elements.link_coefficients([*stiffness, 0, 0, 0]))
        elif kind == "arm":
            A.append(arm(points[i], points[j]))
            k.append(elements.link_coefficients([stiffness] * 6))
        else:
            r = points[j] - points[i]
            L = np.linalg.norm(r)
            A.append(np.zeros((6, 12)))
            A[-1][0, :3], A[-1][0, 6:9] = -r / L, r / L
            A[-1][1, 3:6], A[-1][1, 9:12] = -r / L, r / L
            across = np.linalg.svd(r[None])[2][1:]  # so that no bar hangs loose from a foot that has lifted
            A[-1][2:4, :3], A[-1][2:4, 6:9] = -across, across
            steady = STEADY if kind == "leg" else 0.0
            k.append(np.array([stiffness / L, 0, steady, 0, steady, 0, 0, 0]))
        one_way.append(kind in ("brace", "slender"))
    held = np.zeros((len(points), 6), dtype=bool)
    held[:, list(fixed)] = True
    topology = Topology(points, np.array([part[1:3] for part in parts]), np.array(A), held)
    heavy = np.array(list(weights))
    W = np.array(list(weights.values()), float)
    pushed = np.zeros((len(W), 6, 2))
    pushed[:, 0, 0] = pushed[:, 1, 1] = W
    down = np.zeros(6 * len(points))
    down[6 * heavy + 2] = -W
    k, e = np.array(k), len(parts)
    return Frame(
        topology,
        coefficients=k,
        hinged=k,
        soft=k,
        joints_unknown=False,
        lengths=np.ones(e),
        elements=tuple(Element(part[0], "r") for part in parts),
        places={},
        posts={},
        decks={},
        anchored={},
        one_piece={},
        joist_counts=np.zeros(e, np.int64),
        one_way=np.array(one_way),
        weight=down,
        masses=Masses(np.array(["r"] * len(W)), heavy, W, pushed),
    )


def table(feet, W=1000.0, floor=FLOOR, mass=(0, 0, 0.6), rigid=RIGID):
    """Feet (x, y) or (x, y, z); the mass is point 0."""
    points = [mass, *[(*foot, 0.0)[:3] for foot in feet]]
    count = range(1, len(points))
    parts = [("arm", 0, point, rigid) for point in count] + [("foot", point, GROUND, floor) for point in count]
    return frame_of(points, parts, {0: W})


def corners(b=1.0, d=0.8):
    """Left front, right front, left back, right back."""
    return [(x * b / 2, y * d / 2) for y in (-1, 1) for x in (-1, 1)]


def cases_of(frame, pushes, share=1.0, friction=5.0, passed=np.inf, kept=False, at=(0,)):
    """pushes: (X, Y) for each case, shared among the points `at`; friction: one, or rows of feet, or (feet, cases)."""
    C, F = len(pushes), len(frame.of("foot"))
    push = np.zeros((len(frame.weight), C))
    for point in at:
        push[6 * point : 6 * point + 2] = np.array(pushes, float).T / len(at)
    mu = np.asarray(friction, float)
    mu = mu[:, None] if mu.ndim == 1 else mu
    return Cases(
        np.broadcast_to(np.asarray(share, float), (C,)).copy(),
        push,
        np.repeat(frame.coefficients[:, :, None], C, axis=2),
        np.broadcast_to(mu, (F, C)).copy(),
        np.broadcast_to(np.asarray(passed, float), (C,)).copy(),
        np.broadcast_to(np.asarray(kept), (F, C)).copy(),
    )


def tried(frame, pushes, lessened=False, at_least=0.6, **may):
    cases = cases_of(frame, pushes, **may)
    which = np.broadcast_to(np.asarray(lessened), (len(pushes),))
    return run(frame, weight_alone(frame), cases, which, at_least)


def feet(frame, result):
    """What the floor gives each foot in X, Y and Z: (3, cases, feet)."""
    return result.forces[frame.of("foot"), :3].transpose(1, 2, 0)


def near(values, **how):
    return pytest.approx(np.array(values, float), **{"rel": 1e-6, "abs": 1e-5, **how})


SIDES = np.array([(-1, 1, -1, 1), (-1, -1, 1, 1)])  # of the four corners, seen along X and along Y


def test_four_feet_that_stand():
    """N = w W/4 ± X h/(2 b) ± Y h/(2 d), sideways a quarter each: 1000 N, 0.6 m up, on 1.0 m by 0.8 m.

    200 N along X: ±60 N; 200 N along Y: ±75 N; 120 and 80 N: ±36 ± 30 N.
    """
    frame = table(corners())
    pushes = [(200, 0), (-200, 0), (0, 200), (0, -200), (120, -80), (-200, 0)]
    share = np.array([1, 1, 1, 1, 0.9, 0.6])
    found = tried(frame, pushes, share=share, friction=0.6)
    in_x, in_y, up = feet(frame, found)
    x, y = SIDES
    by_hand = [250 + 60 * x, 250 - 60 * x, 250 + 75 * y, 250 - 75 * y, 225 + 36 * x - 30 * y, 150 - 60 * x]
    assert up == near(by_hand)
    assert in_x == near([[-push / 4] * 4 for push, _ in pushes])
    assert in_y == near([[-push / 4] * 4 for _, push in pushes])
    assert found.stands.all()
    assert found.stable.all()
    assert not found.slides.any()
    assert found.pulls.all()
    assert found.part.tolist() == [1] * 6
    assert found.weight == pytest.approx(share)
    assert (found.residual <= 1e-7).all()
    assert found.by_weight[frame.of("foot"), 2] == near([250] * 4)
    # what the push alone moves: a quarter of 200 N on 1e6 N/m, and its turn, 60 N on 1e7 N/m over half of 1.0 m, 0.6 m up
    assert found.movements[0, 0] == pytest.approx(50e-6 + 6e-6 / 0.5 * 0.6, rel=1e-3)


def diagonally(b, d, size):
    return [(x * b * size, y * d * size) for y in (-1, 1) for x in (-1, 1)]


def test_the_foot_that_lifts_carries_nothing():
    """Pushed towards one corner by X = s b, Y = s d the opposite foot lifts from s h = w W/4 on; the others by their moments:

    beside it w W/2 − s h, opposite 2 s h. The push goes through the middle of the three that stand: a third each.
    s h = 0.35 W with all of it, 0.3 W with 0.8 of it.
    """
    b, d, h, W = 1.0, 0.8, 0.6, 1000.0
    frame = table(corners(b, d), W)
    pushes = diagonally(b, d, 0.35 * W / h) + diagonally(b, d, 0.3 * W / h)
    found = tried(frame, pushes, share=[1] * 4 + [0.8] * 4)
    in_x, in_y, up = feet(frame, found)
    opposite = np.fliplr(np.eye(4))
    whole, less = 150 + 550 * np.eye(4) - 150 * opposite, 100 + 500 * np.eye(4) - 100 * opposite
    assert up == near([*whole, *less])
    lifted = np.vstack([opposite, opposite]) > 0
    assert (found.stands.T ^ lifted).all()
    assert in_x == near([[0 if up else -x / 3 for up in row] for row, (x, _) in zip(lifted, pushes, strict=True)])
    assert in_y == near([[0 if up else -y / 3 for up in row] for row, (_, y) in zip(lifted, pushes, strict=True)])
    assert not in_x[lifted].any()
    assert not up[lifted].any()
    assert found.stable.all()


def test_a_foot_behind_a_rim_holds_sideways_even_lifted():
    """As before, with endless friction: a quarter each."""
    b, d, h, W = 1.0, 0.8, 0.6, 1000.0
    frame = table(corners(b, d), W)
    pushes = diagonally(b, d, 0.35 * W / h)
    found = tried(frame, pushes, friction=ENDLESS)
    in_x, in_y, up = feet(frame, found)
    assert up == near(150 + 550 * np.eye(4) - 150 * np.fliplr(np.eye(4)))
    assert in_x == near([[-x / 4] * 4 for x, _ in pushes])
    assert in_y == near([[-y / 4] * 4 for _, y in pushes])
    assert found.stands.sum() == 12
    assert found.stable.all()


def test_feet_that_are_kept_down_pull():
    """N = W/4 ± H h/(2 b): 1000 N push at 0.6 m: 250 ± 300 N, over 0.8 m 250 ± 375 N. Loose feet let it tip."""
    frame = table(corners())
    pushes = [(1000 * x, 1000 * y) for x, y in EVERY_WAY]
    kept = tried(frame, pushes, kept=True)
    _, _, up = feet(frame, kept)
    x, y = SIDES
    assert up == near([250 + 300 * x, 250 - 300 * x, 250 + 375 * y, 250 - 375 * y])
    assert kept.stable.all()
    assert kept.stands.all()
    loose = tried(frame, pushes)
    assert not loose.stable.any()
    assert loose.part.tolist() == [1] * 4


def test_a_foot_that_lifted_stands_again_when_pressed():
    """Two feet pull at first; once they have let go one of them is pressed, and another lifts. In the end three stand.

    Weight and push meet the floor at (2.5, 0): moments about Y and X give the feet at (−2, −1), (3, 0) and (−1, 1) a W/18,
    16/18 and 1/18. Turned by quarters for the other ways.
    """
    places = np.array([(-2, -1), (-2, 0), (-3, 3), (3, 0), (-1, 1)])
    for turns in range(4):
        turn = np.linalg.matrix_power(np.array([(0, -1), (1, 0)]), turns)
        frame = table(places @ turn.T, W=1800.0, mass=(0, 0, 5))
        found = tried(frame, [turn @ (900, 0), turn @ (0, 0)], friction=ENDLESS)
        assert feet(frame, found)[2][0] == near([100, 0, 0, 1600, 100])
        assert found.stands[:, 0].tolist() == [True, False, False, True, True]
        assert found.stable.all()


def test_feet_that_lift_and_stand_by_turns_are_taken_one_by_one():
    """All at once would lift too many again and again: after four trials only the foot that asks most.

    Weight and push meet the floor at (1.75, 1.75), in the triangle of the feet at (−1, 0), (2, 2) and (1, 0): W/16, 14/16, 1/16.
    """
    places = np.array([(-1, 0), (2, 2), (-2, -3), (1, 0), (3, -3)])
    frame = table(places, W=1600.0, mass=(0, 0, 5))
    found = tried(frame, [(560, 560)], friction=ENDLESS)
    assert feet(frame, found)[2] == near([[100, 1400, 0, 100, 0]])
    assert found.stable.all()


def test_a_table_that_tips_is_given_up_after_six_trials(monkeypatch):
    """It slips while it tips, so the loads of its feet never settle. The case beside it settles with the first trial."""
    frame, tries = table(corners()), []
    weight = weight_alone(frame)

    def counted(topology, coefficients, loads):
        tries.append(loads.shape[1])
        return solve(topology, coefficients, loads)

    monkeypatch.setattr(states, "solve", counted)
    found = run(frame, weight, cases_of(frame, [(200, 0), (2000, 100)], friction=0.3), np.zeros(2, dtype=bool), 0.6)
    assert found.stable.tolist() == [True, False]
    assert tries == [2, 1, 1, 1, 1, 1]


def test_what_pulls_less_than_a_millionth_of_the_weight_does_not_lift():
    """Its far feet pull by half of that: they are said to stand; by one and a half of it: it tips."""
    for W in (1000.0, 1.0):
        frame = table(corners(), W)
        pushes = [((W / 2 + 2 * part * W) / 0.6 * sign, 0) for part in (0.5e-6, 1.5e-6) for sign in (1, -1)]
        found = tried(frame, pushes, friction=ENDLESS)
        assert found.stable.tolist() == [True, True, False, False], W
        assert found.stands[:, :2].all()


GIVES = 0.1  # m that feet give beyond their friction under a push as great as their load


def test_feet_that_slip_hold_in_the_measure_of_their_load():
    """Friction 0.2 on the side that the push comes from and 0.6 on the other, which bear 250 ∓ 0.3 H N each.

    H 700 N: 40 and 460 N: 2·8 + 2·276 = 568 N is their friction, so 132 N are left, 0.132 of every load: the table slides.
    H 400 N: 130 and 370 N: 2·26 + 2·148 = 348 N, since the grip of the rough ones is no more than 0.4; 52 N are left. All
    friction together is 496 N, so it does not slide. H 120 N: no foot needs more than 0.2: a quarter each.
    """
    frame = table(corners(1.0, 1.0))
    sizes = (700, 400, 120)
    pushes = [(size * x, size * y) for size in sizes for x, y in EVERY_WAY]
    towards = np.array([SIDES[0], -SIDES[0], SIDES[1], -SIDES[1]])  # the sides, seen along the push
    friction = np.tile(np.where(towards > 0, 0.6, 0.2), (3, 1)).T
    found = tried(frame, pushes, friction=friction)
    in_x, in_y, up = feet(frame, found)
    by_hand = [(40, 8 + 40 * 0.132, 460, 276 + 460 * 0.132), (130, 26 + 6.76, 370, 148 + 19.24), (214, 30, 286, 30)]
    for row, (little, from_there, much, over_there) in enumerate(by_hand):
        for way, (x, y) in enumerate(EVERY_WAY):
            case = 4 * row + way
            assert up[case] == near(np.where(towards[way] > 0, much, little))
            held = np.where(towards[way] > 0, over_there, from_there)
            assert in_x[case] == near(-x * held), case
            assert in_y[case] == near(-y * held), case
    assert found.stable.all()
    assert found.stands.all()
    assert found.slides.tolist() == [True] * 4 + [False] * 8
    # beyond their grip they give 0.1 m · 132/1000 and 0.1 m · 52/1000
    foot = found.movements[6:8]
    assert foot[:, :8] == near(
        [
            [13.2e-3 * x for x, _ in EVERY_WAY] + [5.2e-3 * x for x, _ in EVERY_WAY],
            [13.2e-3 * y for _, y in EVERY_WAY] + [5.2e-3 * y for _, y in EVERY_WAY],
        ],
        rel=1e-3,
        abs=1e-7,
    )


def test_feet_that_slip_under_a_share_of_the_weight():
    """0.8 of 1000 N, pushed by 360 N: 200 ∓ 108 N; 0.2·184 + 0.45·616 = 314 N of grip, since push over weight is 0.45."""
    frame = table(corners(1.0, 1.0))
    friction = np.where(SIDES[0] > 0, 0.6, 0.2)
    found = tried(frame, [(360, 0)], share=0.8, friction=friction)
    in_x, _, up = feet(frame, found)
    assert up[0] == near([92, 308, 92, 308])
    left = (360 - 314) / 800
    assert -in_x[0] == near([0.2 * 92 + left * 92, 0.45 * 308 + left * 308] * 2)


def test_light_feet_slip_alike():
    """2 N on four feet, half a newton each; friction 0.5, pushed by 1.2 N: 0.3 N each, more than there is: 1.0 N. By 0.9 N less."""
    frame = table(corners(), W=2.0, mass=(0, 0, 0))
    found = tried(frame, [(1.2, 0), (0, -1.2), (0.9, 0)], friction=0.5)
    in_x, in_y, up = feet(frame, found)
    assert up == near([[0.5] * 4] * 3)
    assert in_x == near([[-0.3] * 4, [0] * 4, [-0.225] * 4])
    assert in_y == near([[0] * 4, [0.3] * 4, [0] * 4])
    assert found.slides.tolist() == [True, True, False]
    assert found.movements[6, 0] == pytest.approx(GIVES * 0.2 / 2, rel=1e-3)
    assert found.movements[6, 2] == pytest.approx(0.225 / 1e6, rel=1e-3)


def test_a_push_of_just_their_friction_does_not_make_feet_slip():
    """0.4 of 250 N each: they go 100 N/(1e6 N/m) and do not let go; with 1 N more they do, and bear 0.4 N beyond it."""
    frame = table(corners(), mass=(0, 0, 0), floor=(1e6, 1e6, 1e6))
    found = tried(frame, [(400, 0), (0, -400), (404, 0)], friction=0.4)
    assert found.movements[6, 0] == pytest.approx(1e-4, rel=1e-3)
    assert found.movements[7, 1] == pytest.approx(-1e-4, rel=1e-3)
    assert found.movements[6, 2] == pytest.approx(GIVES * 4 / 1000, rel=1e-2)


def test_feet_at_different_heights_that_slip():
    """What they hold hangs on their loads, and their loads on what they hold: found to a millionth of the weight.

    Two pairs 1.0 m apart, the right ones 0.3 m higher; the mass half-way, 0.3 m up, where the right ones stand. Friction
    0.3 all over, push p W: each holds p N. Moments about the right pair at its feet: N_left (1 + 0.3 p) = W/2, pushed to the right,
    N_left (1 − 0.3 p) = W/2 to the left.
    """
    W, p = 10000.0, 0.6
    frame = table([(-0.5, -0.5, 0), (0.5, -0.5, 0.3), (-0.5, 0.5, 0), (0.5, 0.5, 0.3)], W, FIRM, (0, 0, 0.3))
    found = tried(frame, [(p * W, 0), (-p * W, 0)], friction=0.3)
    in_x, _, up = feet(frame, found)
    left = np.array([W / 2 / (1 + 0.3 * p), W / 2 / (1 - 0.3 * p)])
    assert found.stable.all()
    by_hand = np.array([[N / 2, (W - N) / 2] * 2 for N in left])
    assert up == near(by_hand, abs=1e-6 * W, rel=1e-9)
    assert in_x == near([-p * by_hand[0], p * by_hand[1]], abs=1e-6 * W, rel=1e-9)
    assert found.slides.all()


def test_a_push_that_comes_in_at_the_feet():
    """300 N, a fifth at the mass and at every foot: the feet hold the same, 75 N each, slipping or not."""
    frame = table(corners(), mass=(0, 0, 0))
    for friction in (0.2, 0.5):
        in_x, in_y, _ = feet(frame, tried(frame, [(300, 0), (0, -300)], friction=friction, at=range(5)))
        assert in_x == near([[-75] * 4, [0] * 4])
        assert in_y == near([[0] * 4, [75] * 4])


def test_feet_that_slip_beside_feet_behind_a_rim():
    """2 N on four feet, two behind a rim on 10 N/m, pushed by 1.5 N; friction 0.5: the others grip with 0.25 N each and give

    0.1 m per load, so 5 N/m. All go (1.5 − 0.5)/(2·10 + 2·5) = 1/30 m: the rim holds 1/3 N, the others 0.25 + 5/30 N each.
    """
    frame = table(corners(1.0, 1.0), W=2.0, floor=(10, 10, 1e4), mass=(0, 0, 0))
    found = tried(frame, [(1.5, 0), (-1.5, 0)], friction=np.where(SIDES[0] > 0, ENDLESS, 0.5))
    held = np.where(SIDES[0] > 0, 1 / 3, 0.25 + 1 / 6)
    assert feet(frame, found)[0] == near([-held, held])
    assert found.movements[0] == near([1 / 30, -1 / 30])
    assert found.slides.all()


def pyramid(W=1000.0, b=1.0, d=0.8, h=0.6):
    """Four bars from the corners up to the weight."""
    points = [(0, 0, h), *[(*foot, 0.0) for foot in corners(b, d)]]
    parts = [("leg", 0, foot, 1e8) for foot in range(1, 5)] + [("foot", foot, GROUND, FIRM) for foot in range(1, 5)]
    return frame_of(points, parts, {0: W}, (3, 4, 5))


def test_legs_that_lean_push_their_feet_apart_as_much_as_they_bear():
    """Whatever a foot bears goes along its leg: sideways N times its distance over the height. N as of tables.

    The weight alone spreads the feet of the lifted leg too: that goes with the weight.
    """
    b, d, h, W = 1.0, 0.8, 0.6, 1000.0
    frame = pyramid()
    pushes = [(200, 0), (0, -160), *diagonally(b, d, 0.35 * W / h), *diagonally(b, d, 0.3 * W / h)]
    found = tried(frame, pushes, share=[1] * 6 + [0.8] * 4, friction=ENDLESS)
    x, y = SIDES
    opposite = np.fliplr(np.eye(4))
    whole, less = 150 + 550 * np.eye(4) - 150 * opposite, 100 + 500 * np.eye(4) - 100 * opposite
    N = np.array([250 + 60 * x, 250 - 60 * y, *whole, *less])
    assert feet(frame, found) == near([-N * x * b / 2 / h, -N * y * d / 2 / h, N], abs=1e-4)
    assert found.stable.all()
    assert found.stands.T.tolist() == (N > 0).tolist()


def test_a_foot_that_neither_holds_nor_lets_go_is_no_state_that_stands():
    """Without a rim the far leg pulls while its foot holds sideways; let go, the foot slides in under the mass and is pressed."""
    frame = pyramid()
    found = tried(frame, [(350 / 0.6, 280 / 0.6), (200, 0)])
    assert (found.residual < 1e-7).all()
    assert (np.abs(found.movements[:3]) < 1e-3).all()
    assert found.stable.tolist() == [False, True]


def sloping(frame, G):
    """The floor slopes: the weight (N) pulls the mass sideways by G (N) in X and Y besides."""
    weight = frame.weight.copy()
    weight[:2] += G
    return replace(frame, weight=weight)


def test_on_a_floor_that_slopes_feet_that_lift_leave_the_others_what_they_held():
    """Slope and push together are S = (s b, s d) in four ways, s h = 0.35 w W: one lifts, a third of S on each of the others."""
    b, d, h, W, G = 1.0, 0.8, 0.6, 1000.0, np.array([90.0, -60.0])
    frame = sloping(table(corners(b, d), W), G)
    share = np.array([1.0, 0.8])
    both = np.concatenate([diagonally(b, d, 0.35 * w * W / h) for w in share])
    share = np.repeat(share, 4)
    found = tried(frame, both - share[:, None] * G, share=share)
    in_x, in_y, up = feet(frame, found)
    opposite = np.fliplr(np.eye(4))
    one = 150 + 550 * np.eye(4) - 150 * opposite
    assert up == near(share[:, None] * np.vstack([one, one]))
    lifted = np.vstack([opposite, opposite])
    assert in_x == near(-both[:, :1] / 3 * (1 - lifted))
    assert in_y == near(-both[:, 1:] / 3 * (1 - lifted))
    assert found.stable.all()


def test_on_a_floor_that_slopes_feet_slip_under_push_and_slope():
    """0.8 of 1000 N slopes down by 40 N, pushed by 320 N: 200 ∓ 90 N for a square of 1.0 m with its mass 0.5 m up.

    Friction 0.3: 33 and 87 N, together 240 N; 120 N more are shared as 110 to 290.
    """
    frame = table(corners(1.0, 1.0), mass=(0, 0, 0.5))
    for way in (0, 1):
        G = 50 * np.eye(2)[way]
        found = tried(sloping(frame, G), [320 * np.eye(2)[way]], share=0.8, friction=0.3)
        held = feet(frame, found)
        assert held[2, 0] == near(200 + 90 * SIDES[way])
        assert held[way, 0] == near(np.where(SIDES[way] > 0, -87 - 43.5, -33 - 16.5))
        assert held[1 - way, 0] == near([0] * 4)


def portal(way, kinds=("brace", "brace"), W=1000.0, b=1.2, h=0.9):
    """Two hinged posts, a beam, diagonals up from the first foot and from the second; in a plane along X or along Y."""
    points = np.zeros((4, 3))
    points[(1, 3), way], points[2:, 2] = b, h
    parts = [("post", 0, 2, 1e9), ("post", 1, 3, 1e9), ("beam", 2, 3, 1e9)]
    parts += [(kind, *ends, 1e8) for kind, ends in zip(kinds, [(0, 3), (1, 2)], strict=False)]
    parts += [("foot", 0, GROUND, FIRM), ("foot", 1, GROUND, FIRM)]
    return frame_of(points, parts, {2: W / 2, 3: W / 2}, (1 - way, 3, 4, 5))


@pytest.mark.parametrize("way", [0, 1])
def test_of_an_x_the_diagonal_that_is_stretched_pulls(way):
    """H 200 N on 1.2 m by 0.9 m: 200·1.5/1.2 = 250 N in it, all of H at its foot; 0.8·500 ∓ 200·0.9/1.2 = 400 ∓ 150 N.

    A push of nothing leaves both as they were.
    """
    frame = portal(way)
    push = [200.0 * np.eye(2)[way], -200.0 * np.eye(2)[way], (0, 0)]
    found = tried(frame, push, share=[0.8, 0.8, 1], at=(2, 3))
    assert found.forces[3:5, 0] == near([[250, 0, 0], [0, 250, 0]])
    assert found.forces[4, 0, 0] == 0
    assert found.pulls[3:5].tolist() == [[True, False, True], [False, True, True]]
    floor = feet(frame, found)
    assert floor[way] == near([[-200, 0], [0, 200], [0, 0]])
    assert floor[2] == near([[250, 550], [550, 250], [500, 500]])
    assert found.stable.all()
    assert found.part.tolist() == [1, 1, 1]


@pytest.mark.parametrize("way", [0, 1])
def test_a_slender_diagonal_does_not_push(way):
    """Stretched it holds 250 N; pushed it is not there, and nothing holds the portal, whether its push may be lessened or not."""
    frame = portal(way, ("slender",))
    push = [200.0 * np.eye(2)[way], -200.0 * np.eye(2)[way], -200.0 * np.eye(2)[way]]
    found = tried(frame, push, [True, True, False], at=(2, 3))
    assert found.stable.tolist() == [True, False, False]
    assert found.forces[3, 0, 0] == near(250)
    assert found.pulls[3].tolist() == [True, False, False]
    assert found.part.tolist() == [1, 1, 1]


def test_braces_carry_none_of_the_weight():
    frame = portal(0)
    weight = weight_alone(frame)
    assert weight.stable.all()
    assert not weight.forces[3:5].any()
    assert weight.forces[:2, 0, 0] == near([-500, -500])


def test_braces_carry_weight_where_nothing_stands_without():
    """A post that leans by 1.0 m over an upright brace: all 600 N go down the brace."""
    points = [(0, 0, 0), (1, 0, 0), (1, 0, 1)]
    parts = [("post", 0, 2, 1e8), ("brace", 1, 2, 1e8), ("foot", 0, GROUND, FIRM), ("foot", 1, GROUND, FIRM)]
    weight = weight_alone(frame_of(points, parts, {2: 600.0}, (1, 3, 4, 5)))
    assert weight.stable.all()
    assert weight.forces[:2, 0, 0] == near([0, -600])


def test_a_push_that_tips_the_table_is_lessened_to_what_it_stands():
    """It tips at w W b/(2 h), found by seven halvings of the push: within 2⁻⁷ of it, on the side of what stands.

    No less than 0.6 of the weight is on it then; a case that stands, or may not be lessened, stays as it is.
    """
    b, d, h, W = 1.0, 0.8, 0.6, 1000.0
    frame = table(corners(b, d), W)
    pushes = [(1100, 0), (-1300, 0), (0, 900), (0, -5000), (-300, 0), (1100, 0), (0, 700)]
    share = np.array([1, 0.8, 0.3, 1, 0.4, 1, 1])
    lessened = np.array([True, True, True, True, True, False, True])
    found = tried(frame, pushes, lessened, share=share, friction=ENDLESS)
    assert found.weight == pytest.approx([1, 0.8, 0.6, 1, 0.4, 1, 1])
    assert found.stable.tolist() == [True] * 5 + [False, True]
    assert found.part[[4, 5]].tolist() == [1, 1]
    size, over = np.abs(pushes).sum(axis=1), np.where(np.array(pushes)[:, 0] != 0, b, d) / 2 / h
    tips = found.weight * W * over / size
    for case in (0, 1, 2, 3, 6):
        assert tips[case] - 2**-7 < found.part[case] <= tips[case]
    x, y = SIDES
    up = feet(frame, found)[2]
    for case in (0, 1, 2, 3, 4, 6):
        X, Y = found.part[case] * np.array(pushes[case])
        assert up[case] == near(found.weight[case] * 250 + X * h / 2 / b * x + Y * h / 2 / d * y)
    assert np.hypot(*feet(frame, found)[:2]).sum(axis=1)[3] == near(found.part[3] * 5000)


def test_a_push_beyond_what_friction_passes_on_may_still_tip_the_table():
    """4000 N, of which feet pass on 2000 N for the whole weight; of these it stands w·833.3 N, to 2⁻⁷ of 2000 N w."""
    found = tried(
        table(corners()), [(4000, 0), (-4000, 0)], [True, True], share=[1, 0.5], friction=ENDLESS, passed=2000
    )
    assert found.weight == pytest.approx([1, 0.6])
    stands = np.array([1, 0.6]) * 1000 * 0.5 / 0.6 / 4000
    assert (found.part <= stands).all()
    assert (found.part > stands - np.array([2000, 1200]) / 4000 / 128).all()


def test_what_friction_passes_on_at_the_edges():
    """500 N that friction of 1000 N under half the weight just holds: nothing slides, so the weight stays 0.5.

    Under 0.1 of the weight 600 N slide, and under 0.6 of it, which is the least then, all 500 N are held and no more;
    half a newton against 0.4·0.6 N: 0.48 of it.
    """
    push = np.zeros((12, 3))
    push[0], push[7] = [300, 300, 0.3], [400, 400, 0.4]
    weight, passed = np.array([0.5, 0.1, 0.5]), np.array([1000, 1000, 0.4])
    given = Cases(weight, push, np.zeros((1, 8, 3)), np.zeros((1, 3)), passed, np.zeros((1, 3), dtype=bool))
    cases, part = _as_friction_lets(given, 0.6)
    assert cases.weight.tolist() == [0.5, 0.6, 0.6]
    assert part == pytest.approx([1, 1, 0.48])
    assert cases.push[0] == pytest.approx([300, 300, 0.144])


def test_of_places_that_ask_alike_the_first():
    """Alike to a millionth of the largest."""
    values = np.array([[999.9995, 999.9], [1000, 1000]])
    assert _asking(values, 1.0, False).tolist() == [[True, False], [False, True]]


def test_what_is_less_than_a_billionth_of_the_weight_is_nothing():
    frame = table(corners(), mass=(0, 0, 0))
    in_x, in_y, _ = feet(frame, tried(frame, [(2e-6, 0), (0, -2e-6), (8e-6, 0), (0, -8e-6)]))
    assert not in_x[[0, 1, 3]].any()
    assert not in_y[[0, 1, 2]].any()
    assert in_x[2] == near([-2e-6] * 4, abs=0, rel=1e-3)
    assert in_y[3] == near([2e-6] * 4, abs=0, rel=1e-3)


def test_what_moves_farther_than_half_a_metre_is_not_held():
    """240 N on 4·100 N/m: 0.6 m; 160 N: 0.4 m."""
    frame = table(corners(), floor=(100, 100, 1e6), mass=(0, 0, 0), rigid=1e6)
    pushes = [(size * x, size * y) for size in (240, 160) for x, y in EVERY_WAY]
    assert tried(frame, pushes, friction=ENDLESS).stable.tolist() == [False] * 4 + [True] * 4


def test_a_turn_is_no_distance():
    """25 N, 0.1 m up, turn a table of 0.1 m by 2.5 N·m/(4·k·0.05²) = 0.6: k 416.7 N/m. Its feet go 3 cm, its mass 6 cm."""
    frame = table(corners(0.1, 0.1), W=100.0, floor=(1e6, 1e6, 2.5 / 0.006), mass=(0, 0, 0.1), rigid=1e7)
    found = tried(frame, [(25 * x, 25 * y) for x, y in EVERY_WAY], friction=ENDLESS)
    assert found.movements[[4, 4, 3, 3], range(4)] == pytest.approx([0.6, -0.6, -0.6, 0.6], rel=1e-3)
    assert found.stable.all()
