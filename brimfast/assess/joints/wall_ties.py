"""Do the ties to a wall hold the rack's back across, and along?"""

from __future__ import annotations

from brimfast.assess import combinations
from brimfast.assess.frame import lines as frame_lines
from brimfast.assess.frame.actions import RackActions
from brimfast.assess.frame.cases import ALLOWABLE
from brimfast.assess.joints.case import TOPIC, UPRIGHT, RackCase
from brimfast.assess.joints.sheet_steel import strap_tension
from brimfast.assess.timber.bearing import bearing
from brimfast.assess.timber.dowel import reduction_terms
from brimfast.assess.timber.fastener import LEAST_PENETRATION, reach_text
from brimfast.assess.timber.gap import single_shear_with_gap
from brimfast.assess.timber.withdrawal import PER_INCH, reference_withdrawal, thread_length
from brimfast.assess.wall_support import counted_tie
from brimfast.data_tables.loader import (
    NotInTableError,
    bending_yield,
    factor_si,
    factor_used,
    screw_root,
    wood_species,
)
from brimfast.data_tables.rows import ScrewRoot
from brimfast.shared.constants import INCH, POUND_FORCE
from brimfast.shared.findings import Finding, Step, Value, finding, not_assessed, step
from brimfast.shared.installation.rack import WallTie

LOW = combinations.EARTHQUAKE_SHARE
QUESTION_ALONG = "Do the wall ties hold along the wall? (each)"
CONFIRM = Value(
    "yield modes across a gap",
    "gypsum board between rail and stud",
    "AWC Technical Report 12, Table 1-1",
    "from memory",
    "AWC Technical Report 12",
)


def tie_pull(F: float, h: float, h_t: float) -> float:
    """Pull of the ties at height h_t (N) on a rack hinged at its feet: F h/h_t. Statics about the feet."""
    return F * h / h_t


def wall_ties(case: RackCase) -> list[Finding]:
    """The pull across by moments about the feet, by withdrawal from the studs; along, the ties' lateral value."""
    if not case.rack.wall_ties:
        return []
    counted = counted_tie(case.rack)
    top = counted or max(case.rack.wall_ties, key=lambda tie: tie.height)
    subject = f"rack {case.name}, wall ties"
    demand = tie_pull(LOW * case.force.horizontal, case.body.height, top.height) / top.count
    line = step(
        "T_tie",
        "0.7*F*h/h_t/n",
        {
            "F": (case.force.horizontal, "N"),
            "h": (case.body.height, "m"),
            "h_t": (top.height, "m"),
            "n": float(top.count),
        },
        (demand, "N"),
        "plain statics about the feet; the highest row of ties into studs takes all",
    )
    lines = (*case.force.steps, line)
    details: dict[str, str] = {}
    acts = case.acts("across") if counted is not None else None
    if acts is not None:
        most = tie_pull(LOW * case.force.horizontal, case.body.height, top.height)
        statics, (demand, by_frame) = demand, _by_frame(acts, "across", "T_tie")
        lines = (*case.force.steps, *frame_lines.to_compare((line,)), by_frame)
        details = frame_lines.compared(demand, statics, most)
    question = "Do the wall ties hold the pull across the rack? (each)"
    id = f"joint/{case.name}/wall ties"
    if counted is None:
        reason = (
            "what is in the wall is not known: find the studs (a magnet finds their screws), then say into: stud"
            if top.into == "unknown"
            else f"a {top.kind} of {top.diameter / INCH:.3f} in is thinner than the tables' thinnest"
            if screw_root(top.kind, top.diameter) is None
            else f"its screws, {top.length / INCH:.2f} in long, do not reach through rail and gypsum into the stud"
        )
        reason += "; until then the wall counts as no support"
        return [
            not_assessed(id, TOPIC, subject, question, "force", reason, demand=demand, advice_key="wall", steps=lines)
        ]
    found = [_pull(id, subject, question, top, demand, lines, details), _along(case, id, subject, top, lines)]
    if top.strap is not None:
        found.append(_strap(id, subject, top, top.strap, demand, lines))
    return found


def _strap(
    id: str, subject: str, tie: WallTie, strap: tuple[float, float], demand: float, lines: tuple[Step, ...]
) -> Finding:
    allowed, line, values = strap_tension("T_strap", max(strap), min(strap), tie.diameter)
    return finding(
        f"{id}/strap",
        TOPIC,
        subject,
        "Does the strap's steel hold the pull? (each)",
        demand,
        allowed,
        "force",
        "sheet steel ASTM A653 grade 33; 0.7 E_h, allowable level",
        advice_key="wall",
        steps=(*lines, line),
        values=values,
    )


def _by_frame(acts: RackActions, way: str, symbol: str) -> tuple[float, Step]:
    """The worst tie (N), across or along, in any case: a rack that twists pulls at its ties whichever way it is pushed."""
    picks = acts.pick(None, *ALLOWABLE)
    largest = frame_lines.worst(acts.ties.total[way][:, picks], picks)
    note = frame_lines.said(acts, largest.number, acts.ties.where[largest.place])
    count = float(acts.frame.elements[acts.frame.of("tie", rack=acts.name)[largest.place]].tier)
    inputs: dict[str, float | tuple[float, str]] = {"R": (largest.value * count, "N"), "n_post": count}
    return largest.value, step(symbol, "R/n_post", inputs, (largest.value, "N"), frame_lines.SOURCE, note)


def _screw(tie: WallTie) -> ScrewRoot:
    """Only ties that the table knows are counted."""
    row = screw_root(tie.kind, tie.diameter)
    assert row is not None
    return row


def _thread_in_stud(tie: WallTie) -> tuple[float, tuple[Value, ...]]:
    tip = _screw(tie).tip_in * INCH
    thread, assumed = thread_length(tie.kind, tie.diameter, tie.length, tie.thread)
    inside = min(tie.length - tie.rail - tie.gypsum, factor_si("stud_depth") + tip)
    return max(min(inside, thread) - tip, 0.0), assumed


def _pull(
    id: str,
    subject: str,
    question: str,
    tie: WallTie,
    demand: float,
    lines: tuple[Step, ...],
    details: dict[str, str],
) -> Finding:
    G = wood_species(tie.stud).G
    W, first = reference_withdrawal(tie.kind, G, tie.diameter)
    (p, assumed), C_D = _thread_in_stud(tie), factor_si("C_D_earthquake")
    capacity = W * p * C_D
    second = step(
        "W_allow",
        "W*p*C_D",
        {"W": (W / PER_INCH, "lb/in"), "p": (p / INCH, "in"), "C_D": C_D},
        (capacity / POUND_FORCE, "lb"),
        "NDS 2018 Table 11.3.1",
        f"thread in a stud of 3.5 in behind rail and {tie.gypsum / INCH:.2f} in of gypsum; the wall dry inside; the head in "
        "the rail is not assessed",
        any_units=False,
    )
    return finding(
        f"{id}/pull",
        TOPIC,
        subject,
        question,
        demand,
        capacity,
        "force",
        "NDS 2018 section 12.2; 0.7 E_h, allowable level; the wall itself is not assessed",
        advice_key="wall",
        steps=(*lines, first, second),
        values=(*assumed, factor_used("C_D_earthquake"), factor_used("stud_depth")),
        details=details,
    )


def _along(case: RackCase, id: str, subject: str, tie: WallTie, lines: tuple[Step, ...]) -> Finding:
    """The ties' lateral value across the gypsum: shown against an even share of the force along the rack."""
    G = wood_species(tie.stud).G
    D_r, tip = _screw(tie).root_in * INCH, _screw(tie).tip_in * INCH
    try:
        F_yb = bending_yield(tie.kind, tie.diameter).yield_strength
    except NotInTableError as error:
        return not_assessed(f"{id}/along", TOPIC, subject, QUESTION_ALONG, "force", str(error), steps=lines)
    reaches = min(tie.length - tie.rail - tie.gypsum, factor_si("stud_depth")) - tip
    least = LEAST_PENETRATION[tie.kind] * tie.diameter
    if reaches < least:
        reason = f"{reach_text(reaches, 'the stud')}; the standard asks for {least / INCH:.2f} in"
        return not_assessed(f"{id}/along", TOPIC, subject, QUESTION_ALONG, "force", reason, steps=lines)
    l_m = min(reaches + tip / 2, factor_si("stud_depth"))
    F_em = float(bearing(G, tie.diameter, UPRIGHT))
    F_es = float(bearing(case.parts.beam.G, tie.diameter, 0.0))
    R_d = reduction_terms(tie.diameter, D_r, UPRIGHT)
    modes = single_shear_with_gap(D_r, l_m, tie.rail, F_em, F_es, F_yb, tie.gypsum, R_d)
    Z, mode = float(modes.least()), modes.governing()
    each = Z * factor_si("C_D_earthquake")
    demand = LOW * case.force.horizontal / 2 / tie.count
    share = step(
        "V_tie",
        "0.7*F/2/n",
        {"F": (case.force.horizontal, "N"), "n": float(tie.count)},
        (demand, "N"),
        "plain statics: the back takes half of the force along the rack",
    )
    shares: tuple[Step, ...] = (share,)
    details: dict[str, str] = {}
    acts = case.acts("along")
    if acts is not None:
        statics, (demand, by_frame) = demand, _by_frame(acts, "along", "V_tie")
        shares = (*frame_lines.to_compare((share,)), by_frame)
        details = frame_lines.compared(demand, statics, LOW * case.force.horizontal)
    value = step(
        "Z_adj",
        "Z*C_D",
        {"Z": (Z / POUND_FORCE, "lb"), "C_D": factor_si("C_D_earthquake")},
        (each / POUND_FORCE, "lb"),
        "AWC Technical Report 12, yield modes with a gap",
        f"mode {mode}; gap of {tie.gypsum / INCH:.2f} in",
        any_units=False,
    )
    return finding(
        f"{id}/along",
        TOPIC,
        subject,
        QUESTION_ALONG,
        demand,
        each,
        "force",
        "AWC Technical Report 12 (gap); 0.7 E_h, allowable level; the wall itself is not assessed",
        advice_key="wall",
        steps=(*lines, *shares, value),
        values=(CONFIRM, factor_used("C_D_earthquake")),
        details={"governs": f"mode {mode}", **details},
    )
