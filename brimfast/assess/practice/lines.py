"""Pressure lines of pumps: how fast the water runs, what head it needs, what the pump gives, how the line drains back."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from brimfast.assess.network.friction import hazen_williams, head_loss, velocity
from brimfast.assess.practice.parts import (
    DARCY,
    PRACTICE,
    TOPIC,
    Run,
    both,
    full_steps,
    loss_steps,
    run,
    speed_step,
)
from brimfast.assess.weight import VesselWeight
from brimfast.data_tables.loader import factor_si, factor_used
from brimfast.shared.constants import GALLON, INCH
from brimfast.shared.findings import Finding, Step, finding, not_assessed, step
from brimfast.shared.installation.flow import Pump
from brimfast.shared.installation.model import Installation
from brimfast.shared.units import System, duration

THREE_QUARTER = (0.70 * INCH, 0.90 * INCH)  # bores that are sold as 3/4 in: hose 0.75, PVC schedule 40 0.824 in
LEVELS = "with the water at rest, as in the file"
BEYOND = "the pump gives more head than the line needs even at the end of its curve: it moves that flow or more"


def curve_head(curve: list[tuple[float, float]], Q: float) -> float:
    """Head of a pump at a flow (m), straight between the points of its curve; NaN beyond its end."""
    flows, heads = zip(*sorted(curve), strict=True)
    return float(np.interp(Q, flows, heads, left=math.nan, right=math.nan))


def operating_flow(curve: list[tuple[float, float]], lift: float, of: Run) -> float:
    """Flow at which the pump's head is what the line needs (m³/s): H_pump(Q) = lift + h_L(Q), by bisection.

    The curve falls and the need rises, so there is one at most: 0 where the pump does not reach the lift, the curve's
    last flow where it gives more than is needed even there.
    """
    low, high = 0.0, max(Q for Q, _ in curve)

    def spare(Q: float) -> float:
        return curve_head(curve, Q) - lift - float(head_loss(Q, of.D, of.L, of.K, of.roughness))

    if spare(low) <= 0:
        return low
    for _ in range(100):  # where all is to spare, high stays at the end
        middle = (low + high) / 2
        low, high = (middle, high) if spare(middle) > 0 else (low, middle)
    return high


@dataclass(frozen=True)
class Line:
    """A pump's line: its run and lift where they are known (lift: from water to water, or to the open end), its flow (m³/s)."""

    pump: Pump
    run: Run | None
    lift: float | None
    lift_step: Step | None
    end: float | None  # height of its open end above the floor (m), where its receiver is measured
    source_level: float | None
    flow: float
    system: System = "us"

    def both(self, value: float, kind: str) -> str:
        return both(value, kind, self.system)


def pump_line(installation: Installation, pump: Pump) -> Line:
    """Levels and flow: by its curve and its line where both are known, else the flow of the file."""
    source, receiver = installation.vessel(pump.source), installation.vessel(pump.receiver)
    of = run(pump)
    flow = pump.flow
    end = installation.base_of(receiver) + (pump.outlet or 0.0)
    if source.water is None or receiver.water is None:
        return Line(pump, of, None, None, None, None, flow, installation.system)
    z_s = installation.base_of(source) + source.water
    z_w = installation.base_of(receiver) + receiver.water
    lift = max(end, z_w) - z_s
    line = step(
        "H_0",
        "max(z_e, z_w) - z_s",
        {"z_e": (end, "m"), "z_w": (z_w, "m"), "z_s": (z_s, "m")},
        (lift, "m"),
        "geometry",
        f"open end, water in the receiver, water in the source, above the floor, {LEVELS}",
    )
    if pump.curve and of is not None:
        flow = operating_flow(pump.curve, lift, of)
    return Line(pump, of, lift, line, end, z_s, flow, installation.system)


def line_findings(line: Line, weights: dict[str, VesselWeight]) -> list[Finding]:
    pump = line.pump
    turn = {"turn-over": _turnover(line, weights[pump.source].water_volume)}
    if pump.pipe is None:
        reason = "the bore of its pipe is not in the file"
        question = "How fast does the water run in its line?"
        return [
            not_assessed(
                f"pipes/{pump.name}/speed", TOPIC, pump.name, question, "speed", reason, details=turn, practice=True
            )
        ]
    found = [_speed(line, pump.pipe, turn), _head(line), _clogs(pump.name, pump.pipe)]
    if THREE_QUARTER[0] <= pump.pipe <= THREE_QUARTER[1]:
        found.append(_three_quarter(line, pump.pipe))
    return found


def _turnover(line: Line, volume: float) -> str:
    if line.flow <= 0:
        return f"it moves nothing out of {line.pump.source}"
    return f"the water of {line.pump.source} in {duration(volume / line.flow)}"


def _speed(line: Line, bore: float, details: dict[str, str]) -> Finding:
    limit = factor_si("pipe_speed")
    first = speed_step(line.flow, bore)
    last = step(
        "V_max", "V_max", {"V_max": (limit, "m/s")}, (limit, "m/s"), "engineeringtoolbox, friction diagrams of PVC pipe"
    )
    return finding(
        f"pipes/{line.pump.name}/speed",
        TOPIC,
        line.pump.name,
        "Does the water run no faster in its line than is usual?",
        first.result.value,
        limit,
        "speed",
        f"{PRACTICE}: usual limit of pressure lines; faster water wears, knocks and costs head",
        advice_key="line speed",
        steps=(first, last),
        values=(factor_used("pipe_speed"),),
        details={**details, "flow": _flow_words(line)},
        practice=True,
    )


def _flow_words(line: Line) -> str:
    pump = line.pump
    if not pump.curve:
        return f"{line.both(line.flow, 'flow')}, as in the file"
    if line.run is None or line.lift is None:
        return f"{line.both(line.flow, 'flow')}, the most of its curve"
    beyond = f"; {BEYOND}" if line.flow >= pump.flow else ""
    return f"{line.both(line.flow, 'flow')}, where curve and line meet{beyond}"


def _head(line: Line) -> Finding:
    """What head the line needs at its flow; where there is a curve, whether the pump reaches so high."""
    pump = line.pump
    id, question = f"pipes/{pump.name}/head", "Does the pump lift the water as high as its line asks?"
    missing = ""
    if line.run is None:
        missing = "the length of its pipe is not in the file"
    elif line.lift is None:
        missing = f"the levels of {pump.source} and {pump.receiver} are not both in the file: measure the vessels"
    if line.run is None or line.lift is None or line.lift_step is None:
        return not_assessed(id, TOPIC, pump.name, question, "distance", missing, PRACTICE, practice=True)
    details = {"drains back": _drains_back_words(line)}
    steps: tuple[Step, ...] = (line.lift_step,)
    need = line.lift
    if line.flow > 0:
        steps += loss_steps(line.flow, line.run)
        need += steps[-1].result.value
        total = step(
            "H", "H_0 + h_L", {"H_0": (line.lift, "m"), "h_L": (steps[-1].result.value, "m")}, (need, "m"), DARCY
        )
        steps += (total, _cross_check(line.flow, line.run))
        details["head lost in the pipe"] = (
            f"{line.both(need - line.lift, 'distance')} at {line.both(line.flow, 'flow')}"
        )
    steps += _drain_back_steps(line)
    basis = f"{PRACTICE}: {DARCY} with the friction factor of Churchill 1977, {LEVELS}"
    if not pump.curve:
        reason = "what head the pump gives is not in the file: give its curve in place of its flow"
        return not_assessed(
            id,
            TOPIC,
            pump.name,
            "Does the pump give the head that its line needs at its flow?",
            "distance",
            reason,
            basis,
            demand=need,
            steps=steps,
            values=line.run.values,
            details=details,
            practice=True,
        )
    top = curve_head(pump.curve, 0.0)
    reason = "" if line.flow > 0 else "it does not reach so high: nothing flows"
    return finding(
        id,
        TOPIC,
        pump.name,
        question,
        line.lift,
        top,
        "distance",
        basis,
        reason=reason,
        advice_key="line head",
        steps=(*steps[:1], *_curve_steps(pump, line.flow), *steps[1:]),
        values=line.run.values,
        details=details,
        practice=True,
    )


def _curve_steps(pump: Pump, Q: float) -> tuple[Step, ...]:
    """The head at no flow, and the straight piece of the curve that the flow lies on."""
    points = sorted(pump.curve)
    top = points[0][1]
    first = step("H_max", "H_max", {"H_max": (top, "m")}, (top, "m"), "the pump's curve", "its head at no flow")
    low, high = next(pair for pair in pairwise(points) if pair[1][0] >= Q)
    inputs: dict[str, float | tuple[float, str]] = {
        "H_1": (low[1], "m"),
        "H_2": (high[1], "m"),
        "Q": (Q, "m³/s"),
        "Q_1": (low[0], "m³/s"),
        "Q_2": (high[0], "m³/s"),
    }
    head = low[1] + (high[1] - low[1]) * (Q - low[0]) / (high[0] - low[0])
    text = "H_1 + (H_2 - H_1)*(Q - Q_1)/(Q_2 - Q_1)"
    note = "Q by trial: H_p is what the line needs there" if 0 < Q < pump.flow else ""
    return first, step("H_p", text, inputs, (head, "m"), "the pump's curve", note)


def _cross_check(Q: float, of: Run) -> Step:
    """Of a line in which something flows."""
    inputs: dict[str, float | tuple[float, str]] = {
        "L": (of.L, "m"),
        "Q": (Q, "m³/s"),
        "C": of.C,
        "D": (of.D, "m"),
    }
    loss = float(hazen_williams(Q, of.D, of.L, of.C))
    darcy = float(head_loss(Q, of.D, of.L, 0.0, of.roughness))
    by = f"{abs(loss / darcy - 1):.0%} {'more' if loss > darcy else 'less'} than f L/D V²/2g"
    note = f"friction alone, to compare: {by}"
    return step(
        "h_HW", "10.67*L*Q**1.852/(C**1.852*D**4.87)", inputs, (loss, "m"), "Hazen-Williams", note, any_units=False
    )


def _back_drop(line: Line) -> float:
    """From the open end down to the water that the line drains into (m)."""
    return (line.end or 0.0) - (line.source_level or 0.0)


def _drain_back_steps(line: Line) -> tuple[Step, ...]:
    """t ≥ L/V with V² = 2 g H/(K + f L/D): the pipe's content over its own siphon velocity under its full head."""
    of, drop = line.run, _back_drop(line)
    if of is None or line.pump.check_valve or drop <= 0:
        return ()
    lines = full_steps(drop, of, "from the open end down to the source's water, less as it empties")
    V = lines[-1].result.value
    time = step(
        "t_b", "L/V", {"L": (of.L, "m"), "V": (V, "m/s")}, (of.L / V, "s"), "content over siphon flow: at least"
    )
    content = math.pi / 4 * of.D**2 * of.L
    volume = step("V_b", "pi/4*D**2*L", {"D": (of.D, "m"), "L": (of.L, "m")}, (content, "m³"), "the pipe's content")
    return (*lines, time, volume)


def _drains_back_words(line: Line) -> str:
    if line.pump.check_valve:
        return "nothing, as long as its check valve holds"
    steps = _drain_back_steps(line)
    if not steps:
        return "nothing: its open end lies below the source's water"
    time, volume = steps[-2].result.value, steps[-1].result.value
    words = f"{line.both(volume, 'volume')} of the pipe in {duration(time)} or more, when the pump stops"
    if not line.pump.anti_siphon and line.lift is not None and line.lift > _back_drop(line) + 1e-9:
        words += f", and then what {line.pump.receiver} siphons: see the spills"
    return words


def _clogs(name: str, bore: float) -> Finding:
    least = factor_si("line_bore_least")
    lines = (
        step("D_min", "D_min", {"D_min": (least, "m")}, (least, "m"), "common practice"),
        step("D", "D", {"D": (bore, "m")}, (bore, "m"), "the installation file"),
    )
    return finding(
        f"pipes/{name}/clogs",
        TOPIC,
        name,
        "Is its line wide enough not to clog?",
        least,
        bore,
        "length",
        f"{PRACTICE}: lines under 1/2 in clog with what grows in such water",
        advice_key="line clogs" if bore < least else "",
        steps=lines,
        values=(factor_used("line_bore_least"),),
        practice=True,
    )


def _three_quarter(line: Line, bore: float) -> Finding:
    """The rule of the trade for 3/4 in beside the equations, which do not agree with it."""
    rule, limit = factor_si("line_flow_three_quarter"), factor_si("pipe_speed")
    at_rule = float(velocity(rule, bore))
    by_speed = math.pi / 4 * bore**2 * limit
    lines = (
        step("Q", "Q", {"Q": (line.flow, "m³/s")}, (line.flow, "m³/s"), "the flow of its line"),
        step("Q_max", "Q_max", {"Q_max": (rule, "m³/s")}, (rule, "m³/s"), "common practice"),
        step("V", "Q_max/(pi/4*D**2)", {"Q_max": (rule, "m³/s"), "D": (bore, "m")}, (at_rule, "m/s"), "continuity"),
        step("Q_V", "pi/4*D**2*V_max", {"D": (bore, "m"), "V_max": (limit, "m/s")}, (by_speed, "m³/s"), "continuity"),
    )
    agree = "below both" if line.flow <= by_speed else "between the two" if line.flow <= rule else "above both"
    text = (
        f"rule and equations do not agree: at {rule / GALLON * 3600:,.0f} gal/h the water would run {line.both(at_rule, 'speed')}, "
        f"{at_rule / limit:.1f} times the usual limit, which is reached at {line.both(by_speed, 'flow')}; this line is {agree}"
    )
    return finding(
        f"pipes/{line.pump.name}/three-quarter",
        TOPIC,
        line.pump.name,
        "Does a 3/4 in line carry so much by the rule of the trade?",
        line.flow,
        rule,
        "flow",
        f"{PRACTICE}: a 3/4 in pressure line is held good to about 1,500 gal/h",
        advice_key="line speed",
        steps=lines,
        values=(factor_used("line_flow_three_quarter"), factor_used("pipe_speed")),
        details={"equations": text},
        practice=True,
    )
