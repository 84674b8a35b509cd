"""The frames of an installation, built once, and solved for every case when the forces are known."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from brimfast.assess import combinations
from brimfast.assess.demand.force import Force
from brimfast.assess.frame.actions import LoadCase, RackActions
from brimfast.assess.frame.build import build
from brimfast.assess.frame.model import Frame, NoFrameError
from brimfast.assess.frame.period import natural_periods
from brimfast.assess.frame.rack_input import RackInput
from brimfast.assess.frame.states import Cases, run, weight_alone


@dataclass(frozen=True)
class Framed:
    """One frame with its racks and its natural periods in the directions of its main rack; or why there is none."""

    racks: tuple[RackInput, ...]
    frame: Frame | None
    periods: tuple[float, float]
    why: str = ""

    def periods_of(self, rack: str) -> tuple[float, float] | None:
        """Along and across of one rack."""
        if self.frame is None:
            return None
        lies_along = abs(float(self.frame.places[rack].axes[0, 0])) > 0.5
        return self.periods if lies_along else (self.periods[1], self.periods[0])


def frames(inputs: list[RackInput]) -> list[Framed]:
    """Racks that turn into each other stand in one frame."""
    groups: dict[str, list[RackInput]] = {}
    for one in inputs:
        turn = one.rack.turns_from
        groups.setdefault(turn.rack if turn is not None else one.name, []).append(one)
    found = []
    for group in groups.values():
        try:
            frame = build(group)
        except NoFrameError as error:
            found.append(Framed(tuple(group), None, (0.0, 0.0), error.why))
            continue
        found.append(Framed(tuple(group), frame, natural_periods(frame)))
    return found


def load_cases(S_DS: float, tied: bool = False, stiffened: bool = False) -> tuple[LoadCase, ...]:
    """Both plan directions and both signs, with the vertical earthquake down and up, at either level.

    anchors: allowable level, uplift, the earthquake with the overstrength of each rack. Where there are wall ties each
    case stands twice: their hold along the wall, across a gap, may be much or nothing. Where there are braces or panels
    each stands once more with beam-to-post joints that turn freely: what is overloaded yields, and leaves its share to them.
    """
    low = combinations.EARTHQUAKE_SHARE
    levels = (
        ("down", float(combinations.allowable_down(S_DS)), low),
        ("up", max(float(combinations.allowable_resisting(S_DS)), 0.0), low),
        ("strength down", float(combinations.strength_down(S_DS)), 1.0),
        ("strength up", max(float(combinations.strength_resisting(S_DS)), 0.0), 1.0),
        ("anchors", max(float(combinations.allowable_resisting(S_DS)), 0.0), low),
    )
    variants = [(True, False)]
    if tied:
        variants.append((False, False))
    if stiffened:
        variants.append((not tied, True))
    return tuple(
        LoadCase(level, weight, earthquake, way, sign, ties_along, hinged)
        for ties_along, hinged in variants
        for level, weight, earthquake in levels
        if not hinged or level in ("down", "up")
        for way in (0, 1)
        for sign in (1, -1)
    )


def actions(framed: Framed, forces: dict[str, Force], S_DS: float) -> dict[str, RackActions]:
    """What every rack of a frame carries; empty where there is no frame or its weight alone does not balance."""
    frame = framed.frame
    if frame is None:
        return {}
    weight = weight_alone(frame)
    if not weight.stable.all():
        return {}
    beside = frame.of("tie along")
    stiffened = len(frame.of("brace", "panel")) > 0
    cases = load_cases(S_DS, tied=len(beside) > 0, stiffened=stiffened)
    without = np.zeros((len(frame.elements), len(cases)), dtype=np.bool_)
    slack = np.array([not case.ties_along for case in cases])
    without[beside] = slack
    push = np.zeros((len(frame.weight), len(cases)))
    friction, anchored = [], []
    for one in framed.racks:
        force = forces[f"rack {one.name}"]
        pushed = frame.pushed(one.name) * force.coefficient
        for index, case in enumerate(cases):
            more = force.overstrength if case.level == "anchors" else 1.0
            push[:, index] += case.sign * case.earthquake * more * pushed[:, case.way]
    by_name = {one.name: one for one in framed.racks}
    for element in (frame.elements[index] for index in frame.of("foot")):
        one = by_name[element.rack]
        friction.append(one.parts.friction.low)
        anchored.append(one.rack.feet.anchored)
    shares = np.array([case.weight for case in cases])
    result = run(
        frame,
        weight,
        Cases(shares, push, without, np.array([case.hinged for case in cases])),
        np.array(friction),
        np.array(anchored),
    )
    found = {}
    for one in framed.racks:
        periods = framed.periods_of(one.name)
        assert periods is not None
        found[one.name] = RackActions(one.name, frame, cases, result, periods)
    return found
