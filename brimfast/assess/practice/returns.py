"""Outflows: do a vessel's pipes carry off all that pumps, supplies and other pipes bring into it?"""

from __future__ import annotations

import math
from dataclasses import dataclass

from brimfast.assess.network.pipe_flow import orifice_flow, weir_flow
from brimfast.assess.practice.parts import DARCY, PRACTICE, TOPIC, Run, full_flow, full_steps, run
from brimfast.data_tables.loader import factor_si, factor_used
from brimfast.shared.constants import GRAVITY
from brimfast.shared.findings import Finding, Step, Value, finding, not_assessed, step
from brimfast.shared.installation.flow import HOUSE_DRAIN, Pipe
from brimfast.shared.installation.model import Installation


@dataclass(frozen=True)
class Outflow:
    """What one pipe carries off with the water at the rim (m³/s); NaN where the vessel is only weighed."""

    pipe: Pipe
    flow: float
    steps: tuple[Step, ...]
    values: tuple[Value, ...]


def _end_level(installation: Installation, pipe: Pipe) -> float:
    """Height above the floor of the pipe's open end, or of the water that covers it (m)."""
    if pipe.receiver == HOUSE_DRAIN:
        return pipe.outlet
    receiver = installation.vessel(pipe.receiver)
    base = installation.base_of(receiver)
    return base + max(pipe.outlet, receiver.water or 0.0)


def outflow(installation: Installation, pipe: Pipe, number: int) -> Outflow:
    """The least of weir and opening at its intake and of the full pipe down to its end, less the blocked share."""
    source, of = installation.vessel(pipe.source), run(pipe)
    assert of is not None
    if source.depth is None:
        return Outflow(pipe, math.nan, (), ())
    over = source.depth - pipe.intake
    drop = installation.base_of(source) + source.depth - _end_level(installation, pipe)
    weir = float(weir_flow(factor_si("grate_weir_coefficient"), math.pi * of.D, over))
    opening = float(orifice_flow(factor_si("grate_orifice_coefficient"), math.pi / 4 * of.D**2, over))
    full = full_flow(drop, of)
    free = 1.0 - pipe.blocked
    flow = min(weir, opening, full) * free
    at = f"_{number}"
    inlet = (
        step(
            f"Q_weir{at}",
            "C_w*pi*D*h**1.5",
            {"C_w": (factor_si("grate_weir_coefficient"), "m^0.5/s"), "D": (of.D, "m"), "h": (over, "m")},
            (weir, "m³/s"),
            "weir over the pipe's rim, as of a grate (HEC-22)",
            f"pipe {number}; h: from its intake up to the vessel's rim",
            any_units=False,
        ),
        step(
            f"Q_open{at}",
            "C_o*pi/4*D**2*sqrt(2*g*h)",
            {"C_o": factor_si("grate_orifice_coefficient"), "D": (of.D, "m"), "g": (GRAVITY, "m/s²"), "h": (over, "m")},
            (opening, "m³/s"),
            "opening under water, as of a grate (HEC-22)",
        ),
    )
    pipe_steps = _full_steps(drop, full, of, at)
    last = step(
        f"Q{at}",
        f"min(Q_weir{at}, Q_open{at}, Q_pipe{at})*(1 - b)",
        {
            f"Q_weir{at}": (weir, "m³/s"),
            f"Q_open{at}": (opening, "m³/s"),
            f"Q_pipe{at}": (full, "m³/s"),
            "b": pipe.blocked,
        },
        (flow, "m³/s"),
        note="b: share that is blocked",
    )
    used = (factor_used("grate_weir_coefficient"), factor_used("grate_orifice_coefficient"), *of.values)
    return Outflow(pipe, flow, (*inlet, *pipe_steps, last), used)


def _full_steps(drop: float, Q: float, of: Run, at: str) -> tuple[Step, ...]:
    if drop <= 0:
        return (step(f"Q_pipe{at}", "0", {}, (0.0, "m³/s"), "its end lies under water as high as the rim"),)
    lines = full_steps(drop, of, "from the rim down to its end, or to the water there")
    V = lines[-1].result.value
    full = step(f"Q_pipe{at}", "pi/4*D**2*V", {"D": (of.D, "m"), "V": (V, "m/s")}, (Q, "m³/s"), "continuity")
    return (*lines, full)


def arriving(
    installation: Installation,
    flows: dict[str, float],
    carries: dict[str, float],
    vessel: str,
    way: tuple[str, ...] = (),
) -> tuple[float, list[tuple[str, float]]]:
    """All that runs into a vessel at once (m³/s), and by what.

    A pipe brings its share, by what the pipes beside it carry, of all that arrives where it comes from; one that starts by
    itself at a level brings all that it carries. What a pump takes out of this vessel and sends back by another is left out;
    that other pumps take water away is not counted, as they can stop. A ring of pipes is followed once round.
    """
    root = (*way, vessel)[0]
    found = [
        (pump.name, flows[pump.name]) for pump in installation.pumps if root != pump.source and pump.receiver == vessel
    ]
    found += [(supply.name, supply.flow) for supply in installation.supplies if supply.receiver == vessel]
    for pipe in installation.pipes:
        if pipe.receiver != vessel or pipe.source in (*way, vessel):
            continue
        beside = [one.name for one in installation.pipes if one.source == pipe.source]
        total, _ = arriving(installation, flows, carries, pipe.source, (*way, vessel))
        known = math.fsum(carries[name] for name in beside)
        brought = total * carries[pipe.name] / known if known > 0 else total
        if pipe.starts_at is not None and not math.isnan(carries[pipe.name]):
            brought = max(brought, carries[pipe.name])
        if brought > 0:
            found.append((pipe.name, brought))
    return math.fsum(flow for _, flow in found), found


def return_findings(installation: Installation, flows: dict[str, float]) -> list[Finding]:
    """Each vessel that water is pumped into or that has pipes out of it."""
    outflows: dict[str, Outflow] = {}
    for vessel in installation.vessels:
        of_it = [pipe for pipe in installation.pipes if pipe.source == vessel.name]
        outflows |= {pipe.name: outflow(installation, pipe, number) for number, pipe in enumerate(of_it, start=1)}
    carries = {name: one.flow for name, one in outflows.items()}
    found: list[Finding] = []
    for vessel in installation.vessels:
        out = [one for one in outflows.values() if one.pipe.source == vessel.name]
        total, parts = arriving(installation, flows, carries, vessel.name)
        pumped = any(pump.receiver == vessel.name for pump in installation.pumps)
        if total > 0 and (out or pumped):
            found.append(_returns(vessel.name, total, parts, out))
        found += [_bore(one.pipe) for one in out]
    return found


def _returns(vessel: str, total: float, parts: list[tuple[str, float]], out: list[Outflow]) -> Finding:
    id, question = f"pipes/{vessel}/return", "Do its outflows carry all that runs into it?"
    brings = ", ".join(name for name, _ in parts[:4]) + (" and others" if len(parts) > 4 else "")
    details = {"runs in": brings}
    if not out:
        reason = "no pipe out of it is in the file"
        return not_assessed(
            id, TOPIC, vessel, question, "flow", reason, PRACTICE, demand=total, details=details, practice=True
        )
    capacity = math.fsum(one.flow for one in out)
    if math.isnan(capacity):
        reason = "only its weight is known: give its depth"
        return not_assessed(
            id, TOPIC, vessel, question, "flow", reason, PRACTICE, demand=total, details=details, practice=True
        )
    symbols = [f"q_{number}" for number in range(1, len(parts) + 1)]
    inflow = {symbol: (flow, "m³/s") for symbol, (_, flow) in zip(symbols, parts, strict=True)}
    outs = {f"Q_{number}": (one.flow, "m³/s") for number, one in enumerate(out, start=1)}
    lines = (
        step("q", " + ".join(inflow), inflow, (total, "m³/s"), note=f"from {brings}"),
        *(line for one in out for line in one.steps),
        step("Q", " + ".join(outs), outs, (capacity, "m³/s"), note="all outflows with the water at the rim"),
    )
    values = tuple(dict.fromkeys(value for one in out for value in one.values))
    return finding(
        id,
        TOPIC,
        vessel,
        question,
        total,
        capacity,
        "flow",
        f"{PRACTICE}: weir and opening at the intake, and {DARCY} in the full pipe, with the water at the rim",
        reason="" if capacity > 0 else "with the water at the rim nothing runs into its pipes",
        advice_key="return",
        steps=lines,
        values=values,
        details=details,
        practice=True,
    )


def _bore(pipe: Pipe) -> Finding:
    wanted = factor_si("outflow_bore")
    lines = (
        step("D_min", "D_min", {"D_min": (wanted, "m")}, (wanted, "m"), "common practice"),
        step("D", "D", {"D": (pipe.bore, "m")}, (pipe.bore, "m"), "the installation file"),
    )
    return finding(
        f"pipes/{pipe.name}/bore",
        TOPIC,
        pipe.name,
        "Is the outflow as wide as is usual?",
        wanted,
        pipe.bore,
        "length",
        f"{PRACTICE}: outflows of 2 in, since leaves and roots get into them",
        advice_key="outflow" if pipe.bore < wanted else "",
        steps=lines,
        values=(factor_used("outflow_bore"),),
        practice=True,
    )
