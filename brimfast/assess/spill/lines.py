"""The calculation of one spill, line by line: what came by which way, at which rate, and what the room had to hold."""

from __future__ import annotations

import math

from brimfast.assess.network.lanes import coefficients
from brimfast.assess.network.model import OVER_RIM, PUMPED, RUNS, SUPPLIED, Link, Network, Node
from brimfast.assess.network.pipe_flow import mouth_flow, pipe_velocity
from brimfast.assess.network.runs import Run
from brimfast.assess.spill.room import RoomBasin
from brimfast.shared.constants import GRAVITY
from brimfast.shared.findings import Step, step

IN_TIME = "balance of volumes in time by Rodas (Hairer and Wanner), stopping where something changes"
PATHS = 6


def run_lines(run: Run, network: Network, room: RoomBasin) -> tuple[Step, ...]:
    """Volumes by path, what the drains took meanwhile, what was left to hold; the rate of the largest path at first."""
    lines = list(run.event.steps)
    lines += _at_once(run, network)
    paths = run.need_paths
    inputs: dict[str, float | tuple[float, str]] = {
        f"V_{number}": (volume, "m³") for number, (_, volume) in enumerate(paths[:PATHS], start=1)
    }
    rest = math.fsum(volume for _, volume in paths[PATHS:])
    if rest > 0:
        inputs["V_more"] = (rest, "m³")
    names = "; ".join(f"V_{number}: {name}" for number, (name, _) in enumerate(paths[:PATHS], start=1))
    if inputs:
        lines.append(step("V_came", " + ".join(inputs), inputs, (run.need_arrived, "m³"), IN_TIME, names))
    lines.append(
        step(
            "V_need",
            "V_came - V_drained",
            {"V_came": (run.need_arrived, "m³"), "V_drained": (run.need_drained, "m³")},
            (run.need_arrived - run.need_drained, "m³"),
            IN_TIME,
            "when most has come that the drains have not taken yet, whether it lies there or has left",
        )
    )
    lines += _first_rate(run, network)
    lines.append(
        step(
            "V_hold",
            "A*h_s",
            {"A": (room.area, "m²"), "h_s": (room.sill, "m")},
            (room.held, "m³"),
            "geometry: free floor times the lowest sill's height",
        )
    )
    return tuple(lines)


def _at_once(run: Run, network: Network) -> list[Step]:
    """Of one vessel that bursts, its free water by geometry."""
    if run.event.steps or len(run.event.at_once) != 1:
        return []
    node = network.node(next(iter(run.event.at_once)))
    h_w = node.level(node.start) - node.base
    return [
        step(
            "V",
            "A*(n*min(h_w, h_f) + max(h_w - h_f, 0))",
            {"A": (node.area, "m²"), "n": node.porosity, "h_w": (h_w, "m"), "h_f": (node.fill, "m")},
            (node.start, "m³"),
            "geometry; n porosity of the fill, h_f its depth",
        )
    ]


def _first_rate(run: Run, network: Network) -> list[Step]:
    """The largest path that is no burst, as it runs at first."""
    links = {link.name: link for link in run.event.links(network)}
    for name, _ in run.need_paths:
        link = links.get(name)
        if link is None or link.kind == OVER_RIM:
            continue
        if link.kind == SUPPLIED or (link.kind == PUMPED and not link.table):
            return [step("Q_0", "Q", {"Q": (link.flow, "m³/s")}, (link.flow, "m³/s"), "the installation file", name)]
        if link.kind == RUNS:
            return _gravity(link, network.node(link.source))
        return []
    return []


def _gravity(link: Link, source: Node) -> list[Step]:
    """A pipe or hole under the head that stands over it, if the floor is still dry."""
    z = source.level(source.start)
    H, d = z - link.z_out, z - link.z_in
    if H <= 0 or d <= 0:
        return []
    A = math.pi / 4 * link.bore**2
    V = float(pipe_velocity(H, link.bore, link.length, link.losses, link.roughness))
    of = coefficients()
    mouth = math.inf if link.siphon else float(mouth_flow(of.mouth_weir, link.rim, of.mouth_hole, link.opening, d))
    f = (2 * GRAVITY * H / V**2 - link.losses) * link.bore / link.length if link.length > 0 else 0.0
    sizes: dict[str, float | tuple[float, str]] = {
        "A": (A, "m²"),
        "g": (GRAVITY, "m/s²"),
        "H": (H, "m"),
        "K": link.losses,
    }
    formula = "A*sqrt(2*g*H/K)"
    if link.length > 0:
        formula = "A*sqrt(2*g*H/(K + f*L/D))"
        sizes |= {"f": f, "L": (link.length, "m"), "D": (link.bore, "m")}
    source_text = "Darcy-Weisbach; f by Churchill 1977" if link.length > 0 else "Torricelli; K = 1/C²"
    lines = [step("Q_pipe", formula, sizes, (A * V, "m³/s"), source_text, f"{link.name}, at first")]
    if mouth < A * V:
        note = "the mouth lets in less: FHWA HEC-22, as for a grate"
        lines.append(
            step(
                "Q_mouth",
                "min(C_w*P*d**1.5, C_o*A_m*sqrt(2*g*d))",
                {
                    "C_w": (of.mouth_weir, "m^0.5/s"),
                    "P": (link.rim, "m"),
                    "d": (d, "m"),
                    "C_o": of.mouth_hole,
                    "A_m": (link.opening, "m²"),
                    "g": (GRAVITY, "m/s²"),
                },
                (mouth, "m³/s"),
                "FHWA HEC-22 chapter 7",
                note,
                any_units=False,
            )
        )
    return lines
