"""The machine-readable result: one object, SI units unless asked otherwise."""

from __future__ import annotations

import json
import math
from functools import partial
from typing import Any

from brimfast import __version__
from brimfast.assess.demand.inputs import read_inputs
from brimfast.assess.demand.standard import standard_of
from brimfast.assess.frame.envelope import envelope
from brimfast.assess.network.runs import Run
from brimfast.assess.pipeline import Assessment
from brimfast.assess.slosh.splash import splash
from brimfast.assess.slosh.water import WAYS
from brimfast.assess.spill.room import pond_pressure
from brimfast.reports.exposure_faces import exposure_json
from brimfast.shared.findings import Finding, Step, Value
from brimfast.shared.units import System, unit_of


def as_json(assessment: Assessment, system: System, utf8: bool = True) -> str:
    return json.dumps(as_object(assessment, system), indent=2, ensure_ascii=not utf8, allow_nan=False)


def _in(value: float | None, quantity: str, system: System) -> float | None:
    if value is None or not math.isfinite(value):
        return None
    return value / unit_of(quantity, system)[1]


def as_object(assessment: Assessment, system: System) -> dict[str, Any]:
    installation, site = assessment.installation, assessment.installation.site
    return {
        "brimfast": __version__,
        "installation": {"name": installation.installation, "invented": installation.invented, "units": system},
        "site": {
            "standard": site.standard,
            **_motion(assessment),
            "height_ratio": site.height_ratio,
            "setting": site.setting,
        },
        "weights": _weights(assessment, system),
        "demand": [
            {
                "subject": force.subject,
                "weight": _in(force.weight, "force", system),
                "horizontal": _in(force.horizontal, "force", system),
                "vertical": _in(force.vertical, "force", system),
                "unit": unit_of("force", system)[0],
                "coefficient": force.coefficient,
                "overstrength": force.overstrength,
                "row": force.row,
                "governs": force.governs,
                "basis": force.basis,
                "steps": [_step(step) for step in force.steps],
            }
            for force in assessment.forces.values()
        ],
        "frames": _frames(assessment, system),
        "sloshing": _sloshing(assessment, system),
        "findings": [_finding(finding, system) for finding in assessment.findings],
        "spill": _spill(assessment, system),
        "exposure": exposure_json(assessment.exposed, system),
        "fixes": [
            {
                "measure": advice.measure,
                "subject": advice.subject,
                "reason": advice.reason,
                "for": list(advice.for_findings),
            }
            for advice in assessment.advice
        ],
        "cautions": [{"title": caution.title, "text": caution.text} for caution in assessment.cautions],
        "assumptions": list(assessment.assumptions),
        "confirm": [_value(value) for value in assessment.values_to_confirm()],
    }


def _motion(assessment: Assessment) -> dict[str, Any]:
    """The design spectrum: its plateau by its own name where that is S_DS, else with its name beside it."""
    motion, site = assessment.motion, assessment.installation.site
    if motion.symbol == "S_DS":
        return {"S_DS": motion.plateau, "from": motion.how, "importance": motion.importance}
    return {
        "inputs": read_inputs(standard_of(site).inputs, site).model_dump(exclude_none=True),
        "plateau": motion.plateau,
        "plateau_symbol": motion.symbol,
        "peak_ground": motion.peak,
        "from": motion.how,
        "vertical_share": motion.vertical.share,
    }


def _weights(assessment: Assessment, system: System) -> dict[str, Any]:
    bodies = {}
    weighings = [item.weighing for item in assessment.racks.values()]
    weighings += [item.weighing for item in assessment.vessels.values()]
    for weighing in weighings:
        bodies[weighing.name] = {
            "mass": _in(weighing.mass, "mass", system),
            "centre_of_mass": _in(weighing.height, "length", system),
            "parts": [
                {
                    "part": part.part,
                    "mass": _in(part.mass, "mass", system),
                    "height": _in(part.height, "length", system),
                }
                for part in weighing.parts
            ],
        }
    return {
        "total": _in(assessment.total_mass, "mass", system),
        "unit": unit_of("mass", system)[0],
        "length_unit": unit_of("length", system)[0],
        "bodies": bodies,
        "free_bodies": {
            body.name: {
                "kind": body.kind,
                "mass": _in(body.mass, "mass", system),
                "centre_of_mass": _in(body.height, "length", system),
                "footprint": _in(body.base_area, "area", system),
                "area_unit": unit_of("area", system)[0],
            }
            for body in assessment.bodies
        },
    }


def _frames(assessment: Assessment, system: System) -> dict[str, Any]:
    """Each rack as a frame: periods, how each direction balances or gives way, the largest forces."""
    found: dict[str, Any] = {}
    for name in assessment.racks:
        acts = assessment.frames.get(name)
        if acts is None:
            found[name] = None
            continue
        along, across = (period if math.isfinite(period) else None for period in acts.periods)
        found[name] = {
            "period": {"along": along, "across": across, "unit": "s"},
            "gives_way": {way: acts.gives_way(way) for way in ("along", "across")},
            "feet": {way: acts.feet_words(way) for way in ("along", "across")},
            "largest": [
                {
                    "what": item.what,
                    "value": _in(item.value, item.quantity, system),
                    "unit": unit_of(item.quantity, system)[0],
                    "where": item.where,
                    "case": item.case,
                }
                for item in envelope(acts)
            ],
        }
    return found


def _finding(finding: Finding, system: System) -> dict[str, Any]:
    return {
        "id": finding.id,
        "topic": finding.topic,
        "subject": finding.subject,
        "question": finding.question,
        "demand": _in(finding.demand, finding.quantity, system),
        "capacity": _in(finding.capacity, finding.quantity, system),
        "unit": unit_of(finding.quantity, system)[0],
        "ratio": finding.ratio,
        "verdict": finding.verdict,
        "basis": finding.basis,
        "reason": finding.reason,
        "code_position": finding.code_position,
        "practice": finding.practice,
        "details": dict(finding.details),
        "steps": [_step(step) for step in finding.steps],
        "values": [_value(value) for value in finding.values],
    }


def _step(step: Step) -> dict[str, Any]:
    return {
        "symbol": step.symbol,
        "expression": step.expression,
        "inputs": {name: {"value": number.value, "unit": number.unit} for name, number in step.inputs.items()},
        "result": {"value": step.result.value, "unit": step.result.unit},
        "source": step.source,
        "note": step.note,
    }


def _value(value: Value) -> dict[str, str]:
    return {
        "name": value.name,
        "value": value.text,
        "source": value.source,
        "provenance": value.provenance,
        "confirm_in": value.confirm_in,
    }


def _sloshing(assessment: Assessment, system: System) -> dict[str, Any]:
    """Each vessel's waves by direction, and what they do to each body beside all water rigid; null: not assessed."""

    def number(value: float) -> float | None:
        return value if math.isfinite(value) else None

    return {
        "length_unit": unit_of("length", system)[0],
        "force_unit": unit_of("force", system)[0],
        "moment_unit": unit_of("moment", system)[0],
        "volume_unit": unit_of("volume", system)[0],
        "waves": [
            {
                "vessel": wave.vessel,
                "shaken": WAYS[wave.way],
                "not_assessed": wave.why,
                "period": number(wave.period),
                "acceleration": number(wave.acceleration),
                "force_over_weight": number(wave.coefficient),
                "wave": _in(wave.wave, "length", system),
                "index": wave.index,
                "freeboard": _in(wave.water.freeboard, "length", system),
                "free_water": _in(wave.water.weight, "force", system),
                "moves_along": _in(wave.rigid, "force", system),
                "moves_along_at": _in(wave.rigid_height, "length", system),
                "sloshes": _in(wave.sloshing, "force", system),
                "sloshes_at": _in(wave.sloshing_height, "length", system),
                "thrown_over": _in(splash(wave)[0], "volume", system) if wave.assessed else None,
                "near_rack_period": wave.near,
            }
            for wave in assessment.waves
        ],
        "bodies": [
            {
                "body": body.name,
                "direction": direction.name,
                "force": _in(direction.sloshing.force, "force", system),
                "force_all_rigid": _in(assessment.forces[body.name].horizontal, "force", system),
                "moment": _in(direction.sloshing.moment, "moment", system),
                "moment_all_rigid": _in(assessment.forces[body.name].horizontal * body.height, "moment", system),
            }
            for body in assessment.bodies
            for direction in body.directions
            if direction.sloshing is not None
        ],
    }


def _spill(assessment: Assessment, system: System) -> dict[str, Any]:
    spill, figure = assessment.spill, partial(_figure, system)
    return {
        "unit": unit_of("volume", system)[0],
        "flow_unit": unit_of("flow", system)[0],
        "depth_unit": unit_of("length", system)[0],
        "pressure_unit": unit_of("pressure", system)[0],
        "time_unit": "s",
        "free_floor": figure(spill.room.area, "area"),
        "area_unit": unit_of("area", system)[0],
        "sill": figure(spill.room.sill, "length"),
        "room_holds": figure(spill.room.held, "volume"),
        "drains_at_sill": figure(spill.room.at_sill.flow, "flow"),
        "faults_tried": spill.tried,
        "worst_single": spill.worst.event.id if spill.worst else None,
        "failing_vessels": list(spill.failing),
        "failing_volume": figure(spill.failing_volume, "volume"),
        "splashing_vessels": list(spill.splashing),
        "splash_volume": figure(spill.splash_volume, "volume"),
        "keeps_it_in": [
            {
                "events": "all single mishaps" if name == "single" else name,
                "already": kept.already,
                "sill": figure(kept.sill, "length"),
                "drain": figure(kept.drain, "length"),
            }
            for name, kept in spill.contained(system).items()
        ],
        "events": [_event(run, system) for run in spill.runs],
    }


def _event(run: Run, system: System) -> dict[str, Any]:
    figure = partial(_figure, system)
    return {
        "id": run.event.id,
        "kind": run.event.kind,
        "subject": run.event.subject,
        "text": run.event.text,
        "note": run.event.note,
        "pair": run.event.pair,
        "finished": run.finished,
        "followed_for": figure(run.ended_at, "period"),
        "volume": figure(run.reached, "volume"),
        "at_once": figure(run.at_once, "volume"),
        "rate": None if run.all_at_once or run.rate <= 0 else figure(run.rate, "flow"),
        "depth": figure(run.depth, "length"),
        "deepest_after": figure(run.about_deepest_at, "period"),
        "one_cm_after": figure(run.cm_at, "period"),
        "dry_after": figure(run.dry_at, "period"),
        "pressure": figure(float(pond_pressure(run.depth)), "pressure"),
        "leaves": figure(max(run.leaves, 0.0), "volume"),
        "to_hold": figure(run.need, "volume"),
        "drained": figure(run.drained, "volume"),
        "still_there": figure(max(run.lies, 0.0), "volume"),
        "paths": [{"path": name, "volume": figure(volume, "volume")} for name, volume in run.paths],
        "next_rooms": [{"room": name, "depth": figure(depth, "length")} for name, depth in run.next_rooms],
    }


def _figure(system: System, value: float | None, quantity: str) -> float | None:
    """As far as the integration is to be trusted."""
    shown = _in(value, quantity, system)
    return None if shown is None else float(f"{shown:.6g}")
