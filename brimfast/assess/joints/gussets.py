"""Do the gussets carry what the frame puts on them: the worst nail of their legs, and the plywood in its middle?"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from brimfast.assess.frame import lines as frame_lines
from brimfast.assess.frame.actions import Acting, RackActions
from brimfast.assess.frame.cases import ALLOWABLE
from brimfast.assess.joints.capacity import FastenerCapacity, Sides, lateral
from brimfast.assess.joints.case import TOPIC, RackCase
from brimfast.assess.joints.group_lines import group_lines
from brimfast.assess.timber.fastener import NotAssessableError
from brimfast.assess.timber.group import group_forces
from brimfast.assess.timber.gusset import (
    gusset_centre,
    gusset_places,
    throat,
    throat_actions,
    throat_shear,
    throat_stress,
)
from brimfast.data_tables.loader import factor_si, factor_used
from brimfast.shared.findings import Finding, Step, always, finding, not_assessed, severity, step
from brimfast.shared.installation.joint import Fasteners
from brimfast.shared.installation.rack import Gusset

Array = NDArray[np.float64]
LEGS = ("post", "beam")
FILLER = "on a filler as thick as the beam, screwed to the post with as many structural screws as the leg has nails"
PLATE = "beam theory across the throat, from the corner to the middle of the long edge"
PLATE_KEYS = {"sigma": "gusset_stress", "tau": "gusset_shear"}


def gussets(case: RackCase) -> list[Finding]:
    """Nails under the earthquake and under the weight, the plywood under the earthquake: the worst gusset of each."""
    if not case.rack.gussets:
        return []
    acts = case.acts("along")
    if acts is None:
        reason = f"a gusset needs the frame: {case.without_frame('along')}"
        question = "Do the gussets carry the earthquake along the rack?"
        return [not_assessed(_id(case, "earthquake"), TOPIC, _subject(case), question, "force", reason)]
    return [_nails(case, acts, "earthquake"), always(_nails(case, acts, "permanent")), _plate(case, acts)]


def _id(case: RackCase, what: str) -> str:
    return f"joint/{case.name}/gusset/{what}"


def _subject(case: RackCase) -> str:
    return case.subject("gussets")


def _of(case: RackCase, row: int) -> Gusset:
    """Each gusset of the file has two plates."""
    return case.rack.gussets[row // 2]


def _places(case: RackCase, gusset: Gusset, leg: str) -> Array:
    post, beam = case.parts.post.width, case.parts.beam.width
    own, other = (post, beam) if leg == "post" else (beam, post)
    return gusset_places(gusset.leg, gusset.nails, own, other / 2, upright=leg == "post")


def _centre(case: RackCase, gusset: Gusset) -> float:
    return gusset_centre(gusset.leg, case.parts.beam.width / 2)


def _capacity(case: RackCase, gusset: Gusset, leg: str, duration: str) -> FastenerCapacity:
    """One nail through the plywood into beam, post or filler."""
    beam, post = case.parts.beam, case.parts.post
    main = post if leg == "post" and case.rack.beam_seat == "on top" else beam
    nails = Fasteners.model_construct(kind="nail", count=gusset.nails, nail=gusset.nail)
    sides = Sides(gusset.thickness, factor_si("gusset_gravity"), main.thickness, main.G)
    return lateral(nails, sides, duration, case.service())


def _nails(case: RackCase, acts: RackActions, duration: str) -> Finding:
    """Of all legs the one whose worst nail is nearest its limit."""
    weight = duration == "permanent"
    what = "gravity" if weight else "earthquake"
    question = (
        "Do the nails of the gussets carry their part of the weight, day and night?"
        if weight
        else "Do the nails of the gussets carry the earthquake?"
    )
    found = []
    for leg in LEGS:
        nails = acts.gusset_nails(leg)
        for row in range(len(nails.where)):
            try:
                capacity = _capacity(case, _of(case, row), leg, duration)
            except NotAssessableError as error:
                return not_assessed(_id(case, what), TOPIC, _subject(case), question, "force", str(error))
            found.append(_leg(case, acts, nails, row, leg, capacity, question, what))
    return min(found, key=severity)


def _leg(
    case: RackCase,
    acts: RackActions,
    nails: Acting,
    row: int,
    leg: str,
    capacity: FastenerCapacity,
    question: str,
    what: str,
) -> Finding:
    gusset, weight = _of(case, row), what == "gravity"
    places = _places(case, gusset, leg)
    picks = acts.pick(None, *ALLOWABLE)
    each = {name: nails.by_weight[name][row, None] if weight else nails.total[name][row, picks] for name in "HVM"}
    forces = group_forces(each["H"], each["V"], each["M"], places)
    sizes = np.hypot(forces[..., 0], forces[..., 1])
    column, worst = (int(at) for at in np.unravel_index(int(np.argmax(sizes)), sizes.shape))
    lines: tuple[Step, ...]
    if weight:
        units = {"H": "N", "V": "N", "M": "N·m"}
        lines = tuple(
            step(
                name,
                f"{name}_D",
                {f"{name}_D": (float(each[name][0]), unit)},
                (float(each[name][0]), unit),
                frame_lines.SOURCE,
                f"{nails.where[row]}, weight alone",
            )
            for name, unit in units.items()
        )
    else:
        number = int(picks[column])
        lines = tuple(
            frame_lines.total(name, nails, acts, row, number, unit)
            for name, unit in (("H", "N"), ("V", "N"), ("M", "N·m"))
        )
    H, V, M = (float(each[name][column]) for name in "HVM")
    R = float(sizes[column, worst])
    note = f"nail {worst + 1} of {gusset.nails}, in two rows half the {leg}'s width apart"
    lines += group_lines(places, (H, V, M), forces[column, worst], worst, note)
    mode, steps = capacity.steps(0.0, 0.0)
    before = () if weight else case.force.steps
    details = {"governs": mode, "worst": nails.where[row]}
    if leg == "post" and case.rack.beam_seat == "on the side":
        details["built"] = FILLER
    return finding(
        _id(case, what),
        TOPIC,
        _subject(case),
        question,
        R,
        float(capacity.each(0.0, 0.0)),
        "force",
        f"{'' if weight else case.force.basis + '; '}{frame_lines.SOURCE}; {capacity.basis}",
        advice_key="gusset",
        steps=(*before, *lines, *steps),
        values=(*(() if weight else case.force.values), *capacity.values, factor_used("gusset_gravity")),
        details=details,
    )


def _hvm(nails: Acting, row: int, cases: Any) -> tuple[Array, Array, Array]:
    H, V, M = (nails.total[name][row, cases] for name in "HVM")
    return H, V, M


def _plate(case: RackCase, acts: RackActions) -> Finding:
    """Stress across the throat and shear in it, whichever is nearer its limit."""
    C_D = factor_si("C_D_earthquake")
    limits = {name: factor_si(key) * C_D for name, key in PLATE_KEYS.items()}
    name, row, number = _worst_of_plate(case, acts, limits)
    nails = acts.gusset_nails("post")
    totals = tuple(
        frame_lines.total(letter, nails, acts, row, number, unit)
        for letter, unit in (("H", "N"), ("V", "N"), ("M", "N·m"))
    )
    demand, lines = _throat_lines(case, _of(case, row), _hvm(nails, row, number), name)
    key, allowed = PLATE_KEYS[name], limits[name]
    limit = step(
        "F_g",
        "F*C_D",
        {"F": (factor_si(key), "N/m²"), "C_D": C_D},
        (allowed, "N/m²"),
        "APA plywood design specification",
        "the weakest group of plywood, wet; along the throat half of its plies",
    )
    return finding(
        f"member/{case.name}/gusset/earthquake",
        "members",
        _subject(case),
        "Does the plywood of the gussets carry the earthquake?",
        demand,
        allowed,
        "stress",
        f"{case.force.basis}; {frame_lines.SOURCE}; {PLATE}",
        advice_key="gusset",
        steps=(*case.force.steps, *totals, *lines, limit),
        values=(*case.force.values, factor_used(key), factor_used("C_D_earthquake")),
        details={"governs": "stress" if name == "sigma" else "shear", "worst": nails.where[row]},
    )


def _worst_of_plate(case: RackCase, acts: RackActions, limits: dict[str, float]) -> tuple[str, int, int]:
    """Which stress is nearest its limit, in which gusset and which case."""
    nails, picks = acts.gusset_nails("post"), acts.pick(None, *ALLOWABLE)
    worst: tuple[float, str, int, int] = (-1.0, "", 0, 0)
    for row in range(len(nails.where)):
        gusset = _of(case, row)
        h = float(throat(gusset.leg))
        across, along, turn = throat_actions(*_hvm(nails, row, picks), gusset.leg, _centre(case, gusset))
        stresses = {
            "sigma": throat_stress(across, turn, gusset.thickness, h),
            "tau": throat_shear(along, gusset.thickness, h),
        }
        for name, values in stresses.items():
            column = int(np.argmax(values))
            worst = max(worst, (float(values[column]) / limits[name], name, row, int(picks[column])))
    return worst[1:]


def _throat_lines(
    case: RackCase, gusset: Gusset, forces: tuple[Array, Array, Array], name: str
) -> tuple[float, tuple[Step, ...]]:
    """One of the throat's stresses (Pa) under H, V and M of the post's nails, line by line."""
    h, t, a, c = float(throat(gusset.leg)), gusset.thickness, gusset.leg, _centre(case, gusset)
    H, V, M = (float(part) for part in forces)
    N, S, M_t = (float(part) for part in throat_actions(H, V, M, a, c))
    first = step("h", "a/sqrt(2)", {"a": (a, "m")}, (h, "m"), "geometry", "the throat")
    size: dict[str, float | tuple[float, str]] = {"t": (t, "m"), "h": (h, "m")}
    push: dict[str, float | tuple[float, str]] = {"H": (H, "N"), "V": (V, "N")}
    if name == "tau":
        tau = float(throat_shear(S, t, h))
        return tau, (
            first,
            step("S", "(H - V)/sqrt(2)", push, (S, "N"), "equilibrium"),
            step("tau", "1.5*abs(S)/(t*h)", {"S": (S, "N"), **size}, (tau, "N/m²"), PLATE),
        )
    sigma = float(throat_stress(N, M_t, t, h))
    return sigma, (
        first,
        step("N", "(H + V)/sqrt(2)", push, (N, "N"), "equilibrium"),
        step(
            "M_t",
            "M + (c - a/4)*H - a/4*V",
            {"M": (M, "N·m"), "a": (a, "m"), "c": (c, "m"), **push},
            (M_t, "N·m"),
            "equilibrium",
        ),
        step(
            "sigma",
            "abs(N)/(t*h) + 6*abs(M_t)/(t*h**2)",
            {"N": (N, "N"), "M_t": (M_t, "N·m"), **size},
            (sigma, "N/m²"),
            PLATE,
        ),
    )
