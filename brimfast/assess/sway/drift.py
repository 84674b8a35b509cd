"""Does the frame stand its own sway: by drift, and by the weight that leans with it?"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.assess import combinations
from brimfast.assess.frame import lines as frame_lines
from brimfast.assess.frame.actions import RackActions
from brimfast.assess.frame.cases import IN_PLACE, STRENGTH
from brimfast.assess.frame.tier import SHEETS
from brimfast.assess.joints.case import RackCase
from brimfast.assess.sway.amount import TOPIC, Sway, storey_drift, sway
from brimfast.data_tables.loader import factor_si, factor_used
from brimfast.shared.findings import Finding, Step, Value, finding, not_assessed, step

Array = NDArray[np.float64]


def stability_coefficient(P: ArrayLike, delta: ArrayLike, V: ArrayLike, h: ArrayLike) -> Array:
    """Share by which the weight on a leaning rack adds to the push: θ = P Δ/(V h).

    P weight (N), Δ elastic sway (m) under the push V (N), h height (m). Up to 0.10 it may be left out.
    Source: ASCE 7-16 (12.8-16), section 12.8.7, with the elastic sway.
    """
    P, delta, V, h = (np.asarray(item, float) for item in (P, delta, V, h))
    return np.asarray(P * delta / (V * h))


def drift(case: RackCase, direction: str) -> list[Finding]:
    id, subject = f"sway/{case.name}/{direction}", f"rack {case.name}"
    question = f"How far does it sway {direction}, against what a timber frame stands?"
    acts = case.acts(direction)
    if acts is None:
        reason = case.without_frame(direction)
        return [not_assessed(id, TOPIC, subject, question, "length", reason)]
    if not acts.stays_upright(direction):
        reason = "the loose rack tips as a whole before: see tipping; how far it rocks is not computed"
        return [not_assessed(id, TOPIC, subject, question, "length", reason)]
    storeys = [_storey(case, acts, direction, tier) for tier in range(1, len(case.rack.decks) + 1)]
    worst, height, _ = max(storeys, key=lambda item: item[0].real / item[1])
    limit = factor_si("drift_limit")
    drift = worst.real
    lines = (
        *worst.lines,
        step(
            "Delta_a", "k*h_sx", {"k": limit, "h_sx": (height, "m")}, (limit * height, "m"), "ASCE 7-16 Table 12.12-1"
        ),
    )
    if direction == "across":
        lines = (*lines, *_deck(case, acts))
    T = acts.periods[0 if direction == "along" else 1]
    details = {"natural period": f"{T:.2f} s"} if math.isfinite(T) else {}
    first = finding(
        id,
        TOPIC,
        subject,
        question,
        drift,
        limit * height,
        "length",
        f"{case.force.basis}; {frame_lines.SOURCE}; ASCE 7-16 Table 12.12-1",
        advice_key="sway",
        steps=(*case.force.steps, *lines),
        values=(*case.force.values, factor_used("drift_limit"), *worst.values, *_stiffnesses(case)),
        details=details,
    )
    return [first, _p_delta(case, direction, storeys)]


def _stiffnesses(case: RackCase) -> tuple[Value, ...]:
    """The stiffnesses of the frame that are no table row of a member."""
    keys = ["wood_shear_share", "foot_stiffness"]
    if case.parts.deck_material in SHEETS:
        keys.append(f"sheet_shear_{case.parts.deck_material}")
    if case.rack.panels and "sheet_shear_plywood" not in keys:
        keys.append("sheet_shear_plywood")
    if case.frame is not None and case.frame.ties.where:
        keys += ["tie_stiffness", "tie_stiffness_least"]
    slip = Value("slip of fasteners", "K_ser", "EN 1995-1-1:2004 Table 7.1", "from memory", "EN 1995-1-1 Table 7.1")
    return (*(factor_used(key) for key in keys), slip)


def _deck(case: RackCase, acts: RackActions) -> tuple[Step, ...]:
    """Whether the main deck carries the push to the ends as a stiff sheet or bows between them."""
    if case.rack.bays < 2:
        return ()
    picks = acts.pick("across", *STRENGTH, feet=IN_PLACE)
    pairs = len(acts.frame.decks[acts.name, 1])
    y = acts.moved(1)[:, 1][:, picks].reshape(pairs, 2, -1).mean(axis=1)
    places = np.linalg.norm(_stations(acts) - _stations(acts)[0], axis=1)
    share = (places / places[-1])[:, None]
    straight = (1 - share) * y[0] + share * y[-1]
    bow, ends = np.abs(y - straight).max(axis=0), (np.abs(y[0]) + np.abs(y[-1])) / 2
    worst = int(np.argmax(bow / np.maximum(ends, 1e-12)))
    ratio = float(bow[worst] / max(float(ends[worst]), 1e-12))
    said = "flexible: over 2" if ratio > 2 else "not flexible: up to 2"
    inputs: dict[str, float | tuple[float, str]] = {
        "bow": (float(bow[worst]), "m"),
        "ends": (max(float(ends[worst]), 1e-12), "m"),
    }
    note = f"the deck's bow between the ends over the ends' sway; {said}"
    return (step("lambda_d", "bow/ends", inputs, ratio, "ASCE 7-16 section 12.3.1.3", note),)


def _stations(acts: RackActions) -> Array:
    return np.asarray(acts.frame.topology.points[[front for front, _ in acts.frame.decks[acts.name, 1]]])


def _storey(case: RackCase, acts: RackActions, direction: str, tier: int) -> tuple[Sway, float, int]:
    """The drift of a storey, its height (m) and its number; the lowest one drifts as its deck sways."""
    foot, top = case.weight.storey(tier)
    of_storey = sway if tier == 1 else storey_drift
    return of_storey(case, acts, direction, tier), top - foot, tier


def _p_delta(case: RackCase, direction: str, storeys: list[tuple[Sway, float, int]]) -> Finding:
    """P-delta: whether the leaning weight may be left out of the frame's forces; weight and push above go together."""
    worst, h, tier = max(storeys, key=lambda item: item[0].elastic / item[1])
    F, W = case.force.horizontal, case.body.weight
    theta = float(stability_coefficient(W * float(combinations.strength_down(case.vertical)), worst.elastic, F, h))
    limit = 0.10
    inputs: dict[str, float | tuple[float, str]] = {
        **case.vertical.inputs,
        "W": (W, "N"),
        "delta": (worst.elastic, "m"),
        "F": (F, "N"),
        "h": (h, "m"),
    }
    line = step(
        "theta",
        f"(1.2 + {case.vertical.times()})*W*delta/(F*h)",
        inputs,
        theta,
        "ASCE 7-16 (12.8-16), with the elastic sway",
        f"storey {tier}; over 0.10 the weight on the leaning rack adds so much that the forces here are too small by about "
        "1/(1 - theta)",
    )
    return finding(
        f"sway/{case.name}/{direction}/lean",
        TOPIC,
        f"rack {case.name}",
        f"Is its lean {direction} so small that its weight does not push it farther?",
        theta,
        limit,
        "number",
        "ASCE 7-16 section 12.8.7",
        advice_key="sway",
        steps=(*case.force.steps, *worst.lines, line),
        values=case.vertical.values,
    )
