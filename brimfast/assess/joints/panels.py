"""Do sheathed panels carry the earthquake, and what do they pull at their ends?"""

from __future__ import annotations

import math

import numpy as np

from brimfast.assess import combinations
from brimfast.assess.frame import lines as frame_lines
from brimfast.assess.frame.actions import RackActions
from brimfast.assess.frame.cases import ALLOWABLE
from brimfast.assess.joints.case import TOPIC, RackCase
from brimfast.assess.joints.statics import face_share
from brimfast.assess.required import value_of
from brimfast.assess.timber.panel import allowable_unit_shear, aspect_factor
from brimfast.data_tables.loader import NotInTableError, factor_si, factor_used, panel_shear
from brimfast.shared.constants import FOOT, POUND_FORCE
from brimfast.shared.findings import Finding, Step, finding, not_assessed, severity, step
from brimfast.shared.installation.rack import FACES

LOW = combinations.EARTHQUAKE_SHARE


def panels(case: RackCase) -> list[Finding]:
    """Per direction the worst panel: unit shear, and the hold-down force at its ends."""
    found: list[Finding] = []
    for direction, pair in FACES.items():
        mine = [index for index, panel in enumerate(case.rack.panels) if panel.face in pair]
        if mine:
            each = [_panel(case, direction, index) for index in mine]
            found += each[min(range(len(each)), key=lambda index: severity(each[index][0]))]
    return found


def _panel(case: RackCase, direction: str, index: int) -> list[Finding]:
    panel = case.rack.panels[index]
    id, subject = f"joint/{case.name}/panel/{direction}", f"rack {case.name}, panels {direction}"
    question = f"Do the panels carry the earthquake {direction} the rack?"
    foot, top = case.weight.face(panel.storey)
    length, height = case.rack.run(panel.face), top - foot
    G = min(case.parts.post.G, case.parts.beam.G)
    v, lines, details = _unit_shear(case, direction, index, length)
    try:
        row = panel_shear(panel.thickness, panel.nail, panel.edge_spacing)
    except NotInTableError as error:
        return [not_assessed(id, TOPIC, subject, question, "force", str(error), demand=v * length, steps=lines)]
    slim = float(aspect_factor(height, length))
    if math.isnan(slim):
        reason = "it is more than 3.5 times as high as long: the standard gives it no value"
        return [not_assessed(id, TOPIC, subject, question, "force", reason, demand=v * length, steps=lines)]
    over = factor_si("sdpws_asd")
    allowed = float(allowable_unit_shear(row.nominal_plf, G, over)) * slim
    more = step(
        "v_allow",
        f"v_n/{over}*min(1 - (0.5 - G), 1)*k_a",
        {"v_n": (row.nominal_plf * POUND_FORCE / FOOT, "N/m"), "G": G, "k_a": slim},
        (allowed, "N/m"),
        "SDPWS 2015 Table 4.3A and section 4.3.3",
        f"{row.nail_name} nails at {row.edge_spacing_in:g} in, panel {row.thickness_in:g} in, all edges nailed to framing; "
        "k_a: 2 b/h for tall panels; the seismic duration is in it",
    )
    Omega_0 = case.force.overstrength
    hold = v * height * Omega_0
    pull = step(
        "T_hold",
        "v*h*Omega_0",
        {"v": (v, "N/m"), "h": (height, "m"), "Omega_0": Omega_0},
        (hold, "N"),
        f"statics; {case.force.overstrength_source} for Omega_0",
        "at either end; by plain statics to be added to the anchor tension, by the frame part of it",
    )
    shear = finding(
        id,
        TOPIC,
        subject,
        question,
        v * length,
        allowed * length,
        "force",
        "SDPWS 2015 Table 4.3A, nominal over 2.0; 0.7 E_h, allowable level",
        advice_key="panel",
        steps=(*case.force.steps, *lines, more),
        values=(
            row.used("nominal unit shear of the panel", f"{row.nominal_plf:g} lb/ft"),
            factor_used("sdpws_asd"),
        ),
        details=details,
    )
    return [shear, _hold_down(case, id, subject, hold, (*case.force.steps, *lines, pull))]


def _unit_shear(
    case: RackCase, direction: str, index: int, length: float
) -> tuple[float, tuple[Step, ...], dict[str, str]]:
    """Of a panel so long (m): v (N/m), by the frame where there is one, its lines, and how it compares to plain statics."""
    k_f, n = face_share(case, direction, case.rack.panels[index].storey)
    v = LOW * k_f * case.force.horizontal / n / length
    line = step(
        "v",
        "0.7*k_f*F/(n_p*b)",
        {"k_f": k_f, "F": (case.force.horizontal, "N"), "n_p": n, "b": (length, "m")},
        (v, "N/m"),
        "plain statics",
        "each face half" if k_f < 1 else "one face alone is stiff: it takes all; twisting is not in it",
    )
    acts = case.acts(direction)
    if acts is None:
        return v, (line,), {}
    by_frame, framed = _by_frame(acts, index, length)
    details = frame_lines.compared(by_frame * length, v * length, LOW * case.force.horizontal)
    return by_frame, (*frame_lines.to_compare((line,)), framed), details


def _by_frame(acts: RackActions, index: int, length: float) -> tuple[float, Step]:
    """Unit shear (N/m) of a panel: what its two diagonals in the frame hold sideways, the worst case."""
    picks = acts.pick(None, *ALLOWABLE)
    forces = acts.bars("panel")[index][:, picks]
    largest = frame_lines.worst(np.abs(forces[:1] - forces[1:]) * acts.slope("panel", index), picks)
    V, note = largest.value, frame_lines.said(acts, largest.number)
    inputs: dict[str, float | tuple[float, str]] = {"V_panel": (V, "N"), "b": (length, "m")}
    return V / length, step("v", "V_panel/b", inputs, (V / length, "N/m"), frame_lines.SOURCE, note)


def _hold_down(case: RackCase, id: str, subject: str, hold: float, steps: tuple[Step, ...]) -> Finding:
    question = "Are the panels' ends held down?"
    if case.rack.feet.anchored:
        anchor = case.rack.feet.tension
        if anchor is not None:
            total = anchor * case.rack.feet.anchors_per_post
            basis, values = value_of(f"tension (rack {case.name})", anchor, case.rack.feet.source or "")
            return finding(
                f"{id}/hold-down",
                TOPIC,
                subject,
                question,
                hold,
                total,
                "force",
                basis,
                advice_key="anchors",
                steps=steps,
                values=values,
            )
    reason = "the pull at the panel's end posts is shown; what holds the posts down is not in the file (weight is not counted)"
    return not_assessed(
        f"{id}/hold-down",
        TOPIC,
        subject,
        question,
        "force",
        reason,
        demand=hold,
        advice_key="anchor value" if case.rack.feet.anchored else "hold-down",
        steps=steps,
    )
