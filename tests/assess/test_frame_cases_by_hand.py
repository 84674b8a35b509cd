"""What goes into the cases of a rack's frame before any is solved, by hand."""

from types import SimpleNamespace

import numpy as np
import pytest

from brimfast.assess.demand.vertical import Vertical
from brimfast.assess.frame import analyse
from brimfast.assess.frame.cases import LoadCase
from brimfast.assess.frame.states import ENDLESS
from brimfast.assess.pipeline import in_frames, standing
from tests.builders import JOINED, ONE_BAY, read, with_lines

V = Vertical(0.2, "S_DS", 1.0, "", "")
ANCHORS = "    feet: {anchored: yes, tension: 900 lb, shear: 700 lb, source: a sheet}\n"
BRACES = """    braces:
      - {face: front, bay: 1, kind: x, member: 2x4}
      - {face: back, bay: 1, kind: x, member: 2x4}
      - {face: left, kind: x, member: 2x4}
      - {face: right, kind: x, member: 2x4}
"""
TIE = "    wall_ties: [{height: 24 in, count: 2, into: stud, diameter: 0.375 in, length: 5 in}]\n"


def asked(monkeypatch, text, forces=None, standing_on=None):
    """The cases with what was asked of the solver; standing_on: what the feet carry, in place of the frame's own weight."""
    (group,) = in_frames(standing(read(text).installation))
    held, seen = analyse.framed(group), {}

    def run(frame, weight, cases, lessened, at_least):
        seen.update(held=held, frame=frame, of=cases, lessened=lessened, at_least=at_least)
        return SimpleNamespace(weight=cases.weight)

    def weight_alone(frame):
        forces = np.zeros((len(frame.elements), 6, 1))
        forces[frame.of("foot"), 2, 0] = standing_on
        return SimpleNamespace(stable=np.array([True]), forces=forces)

    monkeypatch.setattr(analyse, "run", run)
    if standing_on is not None:
        monkeypatch.setattr(analyse, "weight_alone", weight_alone)
    forces = forces or {f"rack {one.name}": force(0.5) for one in group}
    acts = analyse.actions(held, forces, V)
    assert set(acts) == {one.name for one in group}
    return SimpleNamespace(cases=next(iter(acts.values())).cases, **seen)


def force(coefficient, overstrength=2.0):
    return SimpleNamespace(coefficient=coefficient, overstrength=overstrength)


def in_plan(found):
    """What the push of each case comes to along X and Y."""
    return found.of.push.reshape(-1, 6, len(found.cases))[:, :2].sum(axis=0)


def weight(found, rack="r"):
    return found.frame.masses.weights[found.frame.masses.racks == rack].sum()


SHARES = {"down": 0.7, "up": 0.7, "strength down": 1.0, "strength up": 1.0, "anchors": 1.4}  # last: 0.7 · 2


@pytest.mark.parametrize("feet", ["", ANCHORS])
def test_the_push_of_a_case(monkeypatch, feet):
    """Its share of the earthquake · 0.5 W, in its own direction only; twice that, the overstrength, for the anchors alone."""
    found = asked(monkeypatch, with_lines(ONE_BAY, BRACES, feet))
    by_hand = np.zeros((2, len(found.cases)))
    for index, case in enumerate(found.cases):
        by_hand[case.way, index] = case.sign * SHARES[case.level] * 0.5 * weight(found)
    assert in_plan(found) == pytest.approx(by_hand, abs=1e-9 * weight(found))
    assert {case.level for case in found.cases} == set(SHARES) - (set() if feet else {"anchors"})


def test_racks_in_one_frame_are_pushed_together(monkeypatch):
    """0.5 of one's weight and 0.2 of the other's, and each with an overstrength of its own: 2 and 3."""
    text = with_lines(JOINED, ANCHORS)
    found = asked(monkeypatch, text, {"rack r": force(0.5, 2.0), "rack s": force(0.2, 3.0)})
    r, s = 0.5 * weight(found, "r"), 0.2 * weight(found, "s")
    by_level = {"down": 0.7 * (r + s), "strength up": r + s, "anchors": 0.7 * (2 * r + 3 * s)}
    for index, case in enumerate(found.cases):
        if case.level in by_level:
            assert in_plan(found)[case.way, index] == pytest.approx(case.sign * by_level[case.level])


def test_feet_that_are_anchored_are_not_looked_at_loose(monkeypatch):
    anchored = asked(monkeypatch, with_lines(ONE_BAY, BRACES, ANCHORS))
    assert {case.feet for case in anchored.cases} == {"anchored"}
    assert (anchored.of.friction == ENDLESS).all()
    assert anchored.of.kept_down.all()
    loose = asked(monkeypatch, with_lines(ONE_BAY, BRACES))
    assert {case.feet for case in loose.cases} == {"loose", "kept from slipping", "held down"}


def test_loose_feet_hold_by_friction_alone_and_may_lift(monkeypatch):
    """Friction at its lowest where they are loose, without end where they are kept from slipping; held down: no lifting."""
    found = asked(monkeypatch, with_lines(ONE_BAY, BRACES))
    low = found.held.racks[0].parts.friction.low
    assert 0 < low < 1
    assert found.of.friction.shape == (4, len(found.cases))
    for index, case in enumerate(found.cases):
        assert (found.of.friction[:, index] == (low if case.feet == "loose" else ENDLESS)).all()
        assert (found.of.kept_down[:, index] == (case.feet == "held down")).all()


def test_of_two_racks_only_one_anchored(monkeypatch):
    """The anchored one's feet never lift; the other's do unless they are held down."""
    front_row = JOINED.replace("    at: 2 ft x 2 ft\n", "    at: 2 ft x 2 ft\n" + ANCHORS)
    found = asked(monkeypatch, front_row)
    mine = np.array([found.frame.elements[index].rack == "r" for index in found.frame.of("foot")])
    assert mine.sum() == 6
    assert found.of.kept_down[mine].all()
    for index, case in enumerate(found.cases):
        assert (found.of.kept_down[~mine, index] == (case.feet == "held down")).all()
    assert np.isinf(found.of.passed).all()  # what is anchored does not slide


def test_what_loose_feet_pass_on(monkeypatch):
    """Friction at its highest · (1000 + 200 + 0.5) N: the foot that hangs at −300 N holds nothing. All others: no end."""
    found = asked(monkeypatch, with_lines(ONE_BAY, BRACES), standing_on=[1000.0, 200.0, 0.5, -300.0])
    high = found.held.racks[0].parts.friction.high
    for case, passed in zip(found.cases, found.of.passed, strict=True):
        assert passed == (pytest.approx(high * 1200.5, rel=1e-12) if case.feet == "loose" else np.inf)


def test_by_the_frames_own_weight_feet_pass_on_friction_of_all_of_it(monkeypatch):
    found = asked(monkeypatch, with_lines(ONE_BAY, BRACES))
    loose = [passed for case, passed in zip(found.cases, found.of.passed, strict=True) if case.feet == "loose"]
    assert loose == pytest.approx(np.full(len(loose), found.held.racks[0].parts.friction.high * weight(found)))


def test_what_is_tied_to_the_wall_does_not_slide_that_way(monkeypatch):
    """Ties hold across. Along they hold by their screws, unless those count for nothing: ties soft, joints turning freely."""
    found = asked(monkeypatch, with_lines(ONE_BAY, BRACES, TIE))
    friction = found.held.racks[0].parts.friction.high
    seen = set()
    for case, passed in zip(found.cases, found.of.passed, strict=True):
        slides = case.feet == "loose" and case.way == 0 and case.variant in ("ties soft", "joints turning freely")
        assert passed == (pytest.approx(friction * weight(found)) if slides else np.inf)
        seen.add(slides)
    assert seen == {True, False}


LESSENED = [
    ("loose", ""),
    ("kept from slipping", ""),
    ("kept from slipping", "joints turning freely"),
    ("kept from slipping", "joints soft"),
]


def test_which_cases_are_lessened(monkeypatch):
    """Loose feet with the stiffness as given, and feet kept from slipping; never at strength level, never held down."""
    found = asked(monkeypatch, with_lines(ONE_BAY, BRACES))
    are = [case.level in ("down", "up") and (case.feet, case.variant) in LESSENED for case in found.cases]
    assert list(found.lessened) == are
    assert {case.variant for case in found.cases} == {variant for _, variant in LESSENED}
    assert found.at_least == 0.6


def test_the_weight_that_a_case_was_solved_with_is_its_weight(monkeypatch):
    """S_DS 1.0: 1 + 0.7 · 0.2 down, 0.6 − 0.7 · 0.2 up; at strength level 1.2 + 0.2 and 0.9 − 0.2."""
    found = asked(monkeypatch, with_lines(ONE_BAY, BRACES))
    shares = {"down": 1.14, "up": 0.46, "strength down": 1.4, "strength up": 0.7}
    assert [case.weight for case in found.cases] == pytest.approx([shares[case.level] for case in found.cases])
    assert all(isinstance(case, LoadCase) for case in found.cases)
