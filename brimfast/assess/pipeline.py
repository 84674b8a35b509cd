"""All questions in one straight order: installation → weights → demand → checks → findings."""

from __future__ import annotations

import math
from dataclasses import dataclass, fields
from typing import Protocol

from brimfast.assess.advice import advise
from brimfast.assess.beyond.assess import Beyond, beyond, beyond_findings
from brimfast.assess.bodies import FreeBody, free_bodies
from brimfast.assess.cautions import assumptions, beyond_stiffness, cautions
from brimfast.assess.demand.choose import method
from brimfast.assess.demand.force import Body, Force
from brimfast.assess.demand.inputs import check_inputs
from brimfast.assess.demand.motion import GroundMotion
from brimfast.assess.demand.on_rack import moves_with_rack
from brimfast.assess.demand.period import swing
from brimfast.assess.demand.shaken import shaken_force, shaken_motion
from brimfast.assess.demand.standard import standard_of
from brimfast.assess.exposure.assess import Exposed, assess_exposure
from brimfast.assess.exposure.findings import exposure_findings
from brimfast.assess.floor import body_pressure, post_on_joist, post_on_slab, post_pressure, strip_pressure
from brimfast.assess.frame.actions import RackActions
from brimfast.assess.frame.analyse import Framed, groups
from brimfast.assess.frame.rack_input import RackInput, rack_input
from brimfast.assess.gravity import Gravity, rack_gravity
from brimfast.assess.hung.findings import hung_findings
from brimfast.assess.joints.case import RackCase
from brimfast.assess.members.bed_sides import bed_findings
from brimfast.assess.memo import Memo
from brimfast.assess.network.runs import Run
from brimfast.assess.parts import Resolved
from brimfast.assess.practice.findings import practice_cautions, practice_findings
from brimfast.assess.resolve import resolve
from brimfast.assess.slosh.case import Slosh
from brimfast.assess.slosh.findings import only_weighed, slosh_cautions
from brimfast.assess.slosh.overturning import with_sloshing
from brimfast.assess.slosh.shaken import Shaken
from brimfast.assess.spill.assess import Question, Spill, ask, assess_spill, floods
from brimfast.assess.spill.findings import spill_findings
from brimfast.assess.stability import exempt_bodies, stability_findings
from brimfast.assess.sway.findings import sway_findings
from brimfast.assess.weight import RackWeight, VesselWeight, hung_masses, weigh_rack, weigh_vessel
from brimfast.shared.findings import Advice, Caution, Finding, Value, always
from brimfast.shared.installation.model import Installation


class Seen(Protocol):
    """What stands where and weighs how much, with what is found of it so far: all that a drawing needs."""

    @property
    def installation(self) -> Installation: ...
    @property
    def resolved(self) -> Resolved: ...
    @property
    def vessels(self) -> dict[str, VesselWeight]: ...
    @property
    def racks(self) -> dict[str, RackWeight]: ...
    @property
    def gravity(self) -> dict[str, Gravity]: ...
    @property
    def bodies(self) -> tuple[FreeBody, ...]: ...
    @property
    def findings(self) -> tuple[Finding, ...]: ...
    @property
    def total_mass(self) -> float: ...


@dataclass(frozen=True)
class Standing:
    """What weighs, and where it stands."""

    installation: Installation
    resolved: Resolved
    vessels: dict[str, VesselWeight]
    racks: dict[str, RackWeight]
    gravity: dict[str, Gravity]
    bodies: tuple[FreeBody, ...]

    @property
    def total_mass(self) -> float:
        return sum(item.mass for item in self.vessels.values()) + sum(item.mass for item in self.racks.values())


@dataclass(frozen=True)
class Loaded(Standing):
    """What weighs, and what pushes it."""

    motion: GroundMotion
    forces: dict[str, Force]


@dataclass(frozen=True)
class Pushed(Loaded):
    """All that the water hangs on, and nothing yet of timber and joints."""

    held: list[Framed]
    periods: dict[str, tuple[float, float] | None]
    shaken: list[Shaken]
    question: Question


@dataclass(frozen=True)
class Dry(Loaded):
    """All that is known before any water has run: what the faces show of it, and what is asked of the water."""

    frames: dict[str, RackActions]
    waves: tuple[Slosh, ...]
    beyond: dict[str, Beyond]
    findings: tuple[Finding, ...]
    question: Question


@dataclass(frozen=True)
class Assessment(Dry):
    """Everything that the faces may show."""

    spill: Spill
    exposed: Exposed
    advice: tuple[Advice, ...]
    cautions: tuple[Caution, ...]
    assumptions: tuple[str, ...]
    short_at_ends: bool = False  # of ranges in the file

    @property
    def anything_short(self) -> bool:
        short = any(finding.verdict == "short" and not finding.practice for finding in self.findings)
        return short or self.short_at_ends

    def values_to_confirm(self) -> tuple[Value, ...]:
        """Each value used that is from memory, common practice or only required, once, in order of use."""
        seen: dict[tuple[str, str], Value] = {}
        for value in self._values():
            if value.provenance not in ("published", "given in the file"):
                seen.setdefault((value.name, value.text), value)
        return tuple(seen.values())

    def _values(self) -> list[Value]:
        found = list(self.motion.values)
        found += [value for parts in self.resolved.racks.values() for value in parts.values]
        found += [value for parts in self.resolved.vessels.values() for value in parts.values]
        found += [value for finding in self.findings for value in finding.values]
        return found


def assess(installation: Installation, memo: Memo | None = None) -> Assessment:
    """The whole computation. Raises InputError where a word of the file is in no table."""
    known = before_water(installation, memo)
    return with_water(known, memo.answers(known.question) if memo is not None else known.question.answer())


def before_water(installation: Installation, memo: Memo | None = None, shaking: float = 1.0) -> Dry:
    """Weights, earthquake, timber, joints, waves; what may go wrong with the water is asked, not yet answered.

    shaking: how strong the earthquake is against the design earthquake.
    """
    memo = memo or Memo()
    return dry(pushed(installation, memo, shaking), memo)


def standing(installation: Installation) -> Standing:
    """Weights and places; nothing shakes yet."""
    check_inputs(installation)
    resolved = resolve(installation)
    vessels = {vessel.name: weigh_vessel(vessel, resolved.vessels[vessel.name]) for vessel in installation.vessels}
    racks = {
        name: weigh_rack(name, rack, resolved.racks[name], hung_masses(name, rack, installation.hung))
        for name, rack in installation.racks.items()
    }
    gravity = {name: rack_gravity(installation, name, racks[name], vessels) for name in installation.racks}
    bodies = free_bodies(installation, resolved, racks, vessels)
    return Standing(installation, resolved, vessels, racks, gravity, bodies)


def in_frames(stands: Standing) -> list[tuple[RackInput, ...]]:
    """What goes into each frame: racks that turn into each other, or are joined, stand in one."""
    racks = stands.racks
    return groups(
        [
            rack_input(stands.installation, name, stands.resolved.racks[name], racks[name], stands.vessels)
            for name in racks
        ]
    )


def pushed(installation: Installation, memo: Memo, shaking: float = 1.0) -> Pushed:
    """Weights, earthquake, waves, and what is asked of the water."""
    return pushed_from(standing(installation), memo, shaking)


def pushed_from(stands: Standing, memo: Memo, shaking: float = 1.0) -> Pushed:
    installation, resolved, vessels, bodies = stands.installation, stands.resolved, stands.vessels, stands.bodies
    design = standard_of(installation.site).motion(installation.site)
    motion = shaken_motion(design, shaking)
    held = [memo.framed(group) for group in in_frames(stands)]
    periods = {one.name: each.periods_of(one.name) for each in held for one in each.racks}
    forces = _forces(installation, bodies, design, periods)
    forces = {name: shaken_force(force, shaking) for name, force in forces.items()}
    each_shaken = memo.shaken(installation, vessels, motion, periods)
    waves = tuple(wave for one in each_shaken for wave in one.waves)
    splashes = tuple(event for one in each_shaken for event in one.events)
    return Pushed(
        installation,
        resolved,
        vessels,
        stands.racks,
        stands.gravity,
        with_sloshing(bodies, forces, waves, _bases(installation)),
        motion,
        forces,
        held,
        periods,
        each_shaken,
        ask(installation, resolved.vessels, vessels, splashes),
    )


def dry(known: Pushed, memo: Memo) -> Dry:
    """Timber, joints, what tips, slides and sways."""
    installation, resolved, bodies = known.installation, known.resolved, known.bodies
    forces, motion = known.forces, known.motion
    acting: dict[str, RackActions] = {}
    for each in known.held:
        acting |= memo.actions(each, forces, motion.vertical)
    findings = [*map(always, _floor_findings(installation, resolved, bodies, known.gravity))]
    findings += stability_findings(bodies, forces, installation.site, motion, acting, _joined(installation))
    moving = beyond(bodies, installation.site, motion)
    findings += beyond_findings(moving, findings)
    cases = _cases(known, acting)
    for case in cases:
        findings += memo.case_findings(case, installation, known.vessels)
    findings += sway_findings(cases, installation)
    findings += bed_findings(installation, resolved)
    findings += hung_findings(installation, resolved, motion, rack_periods=_longest(known.periods))
    findings += [finding for one in known.shaken for finding in one.findings]
    findings += only_weighed(installation)
    return Dry(
        installation,
        resolved,
        known.vessels,
        known.racks,
        known.gravity,
        bodies,
        motion,
        forces,
        acting,
        tuple(wave for one in known.shaken for wave in one.waves),
        moving,
        tuple(findings),
        known.question,
    )


def spilling(dry: Dry, answers: tuple[Run, ...]) -> tuple[Spill, list[Finding]]:
    """What the runs come to, and what is found of it."""
    failing = _failing(dry.installation, list(dry.findings))
    spill = assess_spill(dry.installation, dry.vessels, dry.question, answers, failing)
    return spill, spill_findings(spill, dry.installation, dry.resolved.floor)


def with_water(dry: Dry, answers: tuple[Run, ...]) -> Assessment:
    """What the water does beside all that was known, and what follows from both."""
    installation, resolved, motion = dry.installation, dry.resolved, dry.motion
    spill, spilt = spilling(dry, answers)
    findings = [*dry.findings, *spilt]
    exposed = assess_exposure(installation, floods(spill, installation))
    findings += exposure_findings(exposed, installation)
    findings += practice_findings(installation, dry.vessels)
    known = {one.name: getattr(dry, one.name) for one in fields(dry)} | {"findings": tuple(findings)}
    return Assessment(
        **known,
        spill=spill,
        exposed=exposed,
        advice=advise(findings, installation),
        cautions=(
            *motion.cautions,
            *slosh_cautions(dry.waves, dry.bodies, dry.forces),
            *beyond_stiffness(findings),
            *cautions(installation, resolved),
            *practice_cautions(installation),
        ),
        assumptions=assumptions(installation, exempt_bodies(dry.bodies, installation.site, motion)),
    )


def _joined(installation: Installation) -> tuple[tuple[str, str], ...]:
    """Racks that stand beam against beam, the one in front first."""
    racks = installation.racks.items()
    return tuple((rack.joined_to.rack, name) for name, rack in racks if rack.joined_to is not None)


def _bases(installation: Installation) -> dict[str, dict[str, float]]:
    """Of each body's vessels the height of their base above the body's own (m)."""
    found = {vessel.name: {vessel.name: 0.0} for vessel in installation.vessels}
    for name, rack in installation.racks.items():
        found[f"rack {name}"] = {vessel.name: rack.decks[vessel.tier - 1] for vessel in installation.on_rack(name)}
    return found


def _cases(known: Pushed, acting: dict[str, RackActions]) -> list[RackCase]:
    by_name = {body.name: body for body in known.bodies if body.kind == "rack"}
    cases = []
    whys = {one.name: each.why or "its weight alone does not balance" for each in known.held for one in each.racks}
    for name, rack in known.installation.racks.items():
        body = by_name[f"rack {name}"]
        joints = known.installation.joints_of(name)
        parts, weight, force = known.resolved.racks[name], known.racks[name], known.forces[body.name]
        v, frame, gravity = known.motion.vertical, acting.get(name), known.gravity[name]
        cases.append(RackCase(name, rack, parts, weight, gravity, body, force, v, joints, frame, whys[name]))
    return cases


def _longest(periods: dict[str, tuple[float, float] | None]) -> dict[str, float]:
    """The longer period of each rack that has a finite one."""
    return {name: max(pair) for name, pair in periods.items() if pair is not None and math.isfinite(max(pair))}


def _forces(
    installation: Installation,
    bodies: tuple[FreeBody, ...],
    motion: GroundMotion,
    periods: dict[str, tuple[float, float] | None],
) -> dict[str, Force]:
    site = installation.site
    forces: dict[str, Force] = {}
    for body in bodies:
        period, factors = None, None
        if body.kind == "rack":
            name = body.name.removeprefix("rack ")
            rack = installation.racks[name]
            period, factors = swing(rack.period, periods[name]), rack.component
        else:
            factors = installation.vessel(body.name).component
        question = Body(body.name, body.component, body.weight, factors, period)
        answer = method(site, stands_alone=body.kind != "vessel on rack")(question, site, motion)
        if body.kind == "vessel on rack":
            answer = moves_with_rack(answer, forces[f"rack {body.on}"])
        forces[body.name] = answer
    return forces


def _floor_findings(
    installation: Installation, resolved: Resolved, bodies: tuple[FreeBody, ...], gravity: dict[str, Gravity]
) -> list[Finding]:
    found: list[Finding] = []
    for body in bodies:
        if body.on != "floor":
            continue
        found.append(body_pressure(body, resolved.floor))
        if body.kind == "rack":
            name = body.name.removeprefix("rack ")
            plate = installation.racks[name].feet.plate
            rack, parts = installation.racks[name], resolved.racks[name]
            found.append(strip_pressure(name, gravity[name], rack.length, resolved.floor))
            found.append(post_pressure(name, gravity[name], parts, plate, resolved.floor))
            floor = installation.room.floor
            if floor.kind == "slab on grade":
                found.append(post_on_slab(name, gravity[name], parts, plate, floor.slab_thickness))
            elif floor.kind == "timber floor":
                found.append(
                    post_on_joist(
                        name,
                        gravity[name],
                        resolved.floor.joist,
                        floor.joist_span,
                        ((rack.bays + 1, rack.bay_length), (2, body.directions[1].base)),
                    )
                )
    return found


def _failing(installation: Installation, findings: list[Finding]) -> tuple[str, ...]:
    """Vessels that these checks let go: short by physics themselves, or standing on a rack that is."""
    short = {
        finding.subject
        for finding in findings
        if finding.verdict == "short"
        and not finding.code_position
        and finding.topic in ("stability", "joints", "members")
        and finding.advice_key not in ("member sag", "rails")
    }
    found = []
    for vessel in installation.vessels:
        rack = f"rack {vessel.on}"
        on_short_rack = vessel.on != "floor" and any(
            subject == rack or subject.startswith(rack + ",") for subject in short
        )
        if vessel.name in short or f"{vessel.name}, sides" in short or on_short_rack:
            found.append(vessel.name)
    return tuple(found)
