"""Runs the pipeline where unknowns stand at given values, in several processes, and keeps what chances are taken of."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from pydantic import ValidationError

from brimfast.assess.doubt.response import Axis, Outputs, Setting
from brimfast.assess.measures.asked import JUST_KEPT
from brimfast.assess.memo import Memo
from brimfast.assess.pipeline import Dry, before_water
from brimfast.assess.processes import workers
from brimfast.assess.slosh.lid import under_lid
from brimfast.shared.edits import Edit, edited
from brimfast.shared.errors import InputError
from brimfast.shared.findings import Finding
from brimfast.shared.installation.model import Installation

Progress = Callable[[int, int], None]
FALLS, HOLDS, SPLASHES = "rocks/", "holds/", "splashes/"  # before a body's name
FLOOR_ACCELERATION, FLOOR_VELOCITY, FLOOR_VERTICAL = "floor/acceleration", "floor/velocity", "floor/vertical"
NO_CAPACITY = 1e3  # ratio
LEAST_FREEBOARD = 1e-3  # m
LEAST_RATIO = 1e-3  # of a lid that the wave does not reach


@dataclass(frozen=True)
class Limit:
    """A question of which the chance is asked that its limit is passed."""

    id: str
    topic: str
    subject: str
    question: str


def counted(finding: Finding) -> bool:
    """Questions of physics and strength; not the code's position, not practice, not what a drawing settles."""
    settled = finding.practice or finding.code_position or finding.id.endswith(JUST_KEPT)
    return not settled and finding.verdict != "not assessed"


def limits(dry: Dry) -> dict[str, Limit]:
    found = {
        one.id: Limit(one.id, one.topic, one.subject, one.question)
        for one in dry.findings
        if counted(one) and not one.id.startswith("falls/")
    }
    for name, moving in dry.beyond.items():
        if not math.isnan(moving.falls):
            id = f"{FALLS}{name}"
            found[id] = Limit(id, "stability", name, "Does it rock and fall over? (physical estimate)")
    return found


def outputs(dry: Dry) -> dict[str, float]:
    """Ratios by finding; index of what may fall; motion of the floor (g, m/s); volumes (L) that vessels hold, waves throw."""
    found = {}
    for one in dry.findings:
        if counted(one) and not one.id.startswith(("falls/", "slosh/")):
            found[one.id] = NO_CAPACITY if one.ratio is None else one.ratio
    for name, moving in dry.beyond.items():
        if not math.isnan(moving.falls):
            found[f"{FALLS}{name}"] = moving.falls
        found[FLOOR_ACCELERATION] = moving.acceleration
        found[FLOOR_VELOCITY] = moving.velocity
        found[FLOOR_VERTICAL] = dry.motion.vertical.share
    for name, weight in dry.vessels.items():
        found[f"{HOLDS}{name}"] = 1000 * weight.water_volume
    splashed = {event.subject: 1000 * event.volume for event in dry.question.splashes}
    for wave in dry.waves:
        if wave.assessed and wave.lid is not None:
            lidded = under_lid(wave)
            if lidded.allowable is not None:
                found[f"slosh/{wave.vessel}/{wave.way}"] = max(lidded.each / lidded.allowable, LEAST_RATIO)
        elif wave.assessed:  # by the theory, also where steep waves may run up higher than it says
            found[f"slosh/{wave.vessel}/{wave.way}"] = wave.wave / max(wave.water.freeboard, LEAST_FREEBOARD)
        found[f"{SPLASHES}{wave.vessel}"] = splashed.get(wave.vessel, 0.0)
    return found


def changed(raw: Any, axes: Sequence[Axis], setting: Setting) -> tuple[Installation, float]:
    """The installation with each unknown at its middle or where the setting has it, and how strong the shaking is."""
    at = dict(setting.at)
    shaking = 1.0
    edits: list[Edit] = []
    for number, axis in enumerate(axes):
        x = at.get(number, axis.nodes[axis.middle])
        if axis.unknown.role == "shaking":
            shaking = x
        else:
            edits += axis.unknown.target.edits(x)
    return Installation.model_validate(edited(raw, edits)), shaking


def run(raw: Any, axes: Sequence[Axis], memo: Memo, setting: Setting) -> Outputs:
    """Nothing is assessed where the values do not make an installation."""
    try:
        installation, shaking = changed(raw, axes, setting)
        return outputs(before_water(installation, memo, shaking))
    except (ValidationError, InputError):
        return {}


def run_all(
    raw: Any,
    axes: Sequence[Axis],
    wanted: Sequence[Setting],
    processes: int = 1,
    progress: Progress | None = None,
) -> dict[Setting, Outputs]:
    """Of every setting once."""
    missing = list(dict.fromkeys(wanted))
    found: dict[Setting, Outputs] = {}

    def keep(setting: Setting, answer: Outputs) -> None:
        found[setting] = answer
        if progress is not None:
            progress(len(found), len(missing))

    others = workers(processes, _begin, raw, tuple(axes)) if processes > 1 and len(missing) > processes else None
    if others is None:
        memo = Memo()
        for setting in missing:
            keep(setting, run(raw, axes, memo, setting))
        return found
    stopped = True
    try:
        waiting = [others.submit(_run, setting) for setting in missing]
        for setting, future in zip(missing, waiting, strict=True):
            keep(setting, future.result())
        stopped = False
    finally:
        others.end(stopped)
    return found


_given: dict[str, Any] = {}


def _begin(raw: Any, axes: tuple[Axis, ...]) -> None:
    _given.update(raw=raw, axes=axes, memo=Memo())


def _run(setting: Setting) -> Outputs:
    return run(_given["raw"], _given["axes"], _given["memo"], setting)
