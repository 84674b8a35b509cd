"""The frames of an installation, built once, and solved for every case when the forces are known."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from brimfast.assess.demand.force import Force
from brimfast.assess.demand.vertical import Vertical
from brimfast.assess.frame.actions import RackActions
from brimfast.assess.frame.build import build
from brimfast.assess.frame.cases import (
    ALLOWABLE,
    ANCHORED,
    ANCHORS,
    FREE,
    HELD,
    KEPT,
    LOOSE,
    PLAIN,
    SOFT,
    SOFT_TIES,
    STRENGTH,
    WITHOUT_VERTICAL,
    LoadCase,
    load_cases,
)
from brimfast.assess.frame.model import Frame, NoFrameError
from brimfast.assess.frame.period import natural_periods
from brimfast.assess.frame.rack_input import RackInput
from brimfast.assess.frame.states import ENDLESS, Cases, run, weight_alone
from brimfast.assess.frame.ties import tie_softness

Array = NDArray[np.float64]


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


def groups(inputs: list[RackInput]) -> list[tuple[RackInput, ...]]:
    """Racks that turn into each other, or are joined, stand in one frame."""
    found: dict[str, list[RackInput]] = {}
    for one in inputs:
        found.setdefault(one.rack.stands_with or one.name, []).append(one)
    return [tuple(group) for group in found.values()]


def framed(group: tuple[RackInput, ...]) -> Framed:
    try:
        frame = build(list(group))
    except NoFrameError as error:
        return Framed(group, None, (0.0, 0.0), error.why)
    return Framed(group, frame, natural_periods(frame))


def _variants(frame: Frame) -> tuple[str, ...]:
    """Stiffness as given; ties soft, since rail and stud bend; joints that yield; joints that nobody described."""
    found = [PLAIN]
    if len(frame.of("tie")):
        found.append(SOFT_TIES)
    if len(frame.of("brace", "panel")):
        found.append(FREE)
    if frame.joints_unknown:
        found.append(SOFT)
    return tuple(found)


def _stiffness(frame: Frame, cases: tuple[LoadCase, ...]) -> Array:
    """Coefficients of every case (e, 8, C)."""
    out = np.empty((*frame.coefficients.shape, len(cases)))
    across, along = frame.of("tie"), frame.of("tie along")
    for index, case in enumerate(cases):
        soft = case.variant == SOFT or case.level in STRENGTH
        out[:, :, index] = frame.hinged if case.variant == FREE else frame.soft if soft else frame.coefficients
        if case.variant in (SOFT_TIES, FREE):
            out[along, :, index] = 0.0
            out[across, :, index] *= tie_softness()
    return out


def actions(held: Framed, forces: dict[str, Force], v: Vertical) -> dict[str, RackActions]:
    """What every rack of a frame carries; empty where there is no frame or its weight alone does not balance."""
    frame = held.frame
    if frame is None:
        return {}
    weight = weight_alone(frame)
    if not weight.stable.all():
        return {}
    by_feet = [one.rack.feet.anchored for one in held.racks]
    feet_may = (ANCHORED,) if all(by_feet) else (LOOSE, KEPT, HELD)
    cases = load_cases(v, _variants(frame), feet_may, any(by_feet))
    push = np.zeros((len(frame.weight), len(cases)))
    for one in held.racks:
        force = forces[f"rack {one.name}"]
        pushed = frame.pushed(one.name) * force.coefficient
        for index, case in enumerate(cases):
            more = force.overstrength if case.level == ANCHORS else 1.0
            push[:, index] += case.sign * case.earthquake * more * pushed[:, case.way]
    by_name = {one.name: one for one in held.racks}
    feet = [by_name[frame.elements[index].rack] for index in frame.of("foot")]
    friction = np.array([[one.parts.friction.low if case.feet == LOOSE else ENDLESS for case in cases] for one in feet])
    stiffness = _stiffness(frame, cases)
    W = np.maximum(weight.forces[frame.of("foot"), 2, 0], 0.0)
    most = float(sum(one.parts.friction.high * N for one, N in zip(feet, W, strict=True)))
    ties = stiffness[frame.of("tie", "tie along"), :2].sum(axis=0)  # (2, C)
    passed = np.array(
        [
            most if case.feet == LOOSE and not any(by_feet) and not ties[case.way, index] > 0 else np.inf
            for index, case in enumerate(cases)
        ]
    )
    kept = np.array([[one.rack.feet.anchored or case.feet in (HELD, ANCHORED) for case in cases] for one in feet])
    lessened = np.array(
        [
            case.level in ALLOWABLE and (case.feet == KEPT or (case.feet == LOOSE and case.variant == PLAIN))
            for case in cases
        ]
    )
    shares = np.array([case.weight for case in cases])
    result = run(frame, weight, Cases(shares, push, stiffness, friction, passed, kept), lessened, WITHOUT_VERTICAL)
    cases = tuple(replace(case, weight=float(share)) for case, share in zip(cases, result.weight, strict=True))
    found = {}
    for one in held.racks:
        periods = held.periods_of(one.name)
        assert periods is not None
        found[one.name] = RackActions(one.name, frame, cases, result, periods)
    return found
