"""Every printed formula, with its printed inputs, gives the printed result: evaluated by sympy."""

from functools import cache

import pytest
import sympy

from brimfast.assess.spill.lines import run_lines
from brimfast.reports.equations import expression_markup, in_system
from brimfast.reports.sheet import sheet
from brimfast.shared.demo import DEMOS
from tests.builders import GUSSETED, JOIN, JOINED, LIDDED, PANNED, RACK, TIERS, WEIGHED, assessed, assessed_demo

US_SIZES = (4.4482216152605, 4.4482216152605 / 0.0254**2, 4.4482216152605 / 0.3048**2, 0.0254)
OPEN = RACK.replace("S_DS: 1.0}", "S_DS: 1.0, S_1: 0.7, setting: in the open}")
UPSTAIRS = WEIGHED.replace("asce7-16, S_DS: 1.0", "asce7-22, S_DS: 0.8, height_ratio: 0.5, building: {period: 0.6 s}")
ANCHORED = WEIGHED.replace("holds: 50 gal", "anchors: {count: 4, tension: 400 lb, shear: 300 lb, source: t}")
STIFFENED = (
    RACK.replace(
        "    beam_runs: each bay",
        """    beam_runs: whole length
    heat: up to 125 F
    kit: 40 lb
    braces:
      - {face: front, bay: 1, kind: x, member: 2x4 hem-fir No.2, bolted_at_middle: yes}
      - {face: back, bay: 2, member: 2x4 hem-fir No.2}
    panels:
      - {face: left, thickness: 15/32 in, nail: 0.131 in, edge_spacing: 6 in}
      - {face: right, thickness: 15/32 in, nail: 0.131 in, edge_spacing: 6 in}
    wall_ties:
      - {height: 26 in, count: 3, into: stud, diameter: 0.375 in, length: 5 in, strap: 0.036 in x 1.25 in}
    feet: {anchored: yes, sill: 2x6 douglas fir-larch No.2, bolt: 0.5 in x 7.5 in, tension: 700 lb, shear: 600 lb, source: t}""",
    )
    .replace("floor: {kind: timber floor}", "floor: {kind: slab on grade, slab_thickness: 4 in}")
    .replace(
        "joints:",
        "joints:\n  - {rack: r, where: brace to post, fasteners: {kind: lag screw, diameter: 0.375 in, length: 4 in}}",
    )
    .replace("spread: 4 in", "spread: 4 in, plate: 1/4 in")
)
METRIC = (
    RACK.replace("2x8 douglas fir-larch No.2", "45x195 mm C24")
    .replace("4x4 douglas fir-larch No.2", "95x95 mm C16")
    .replace("size: 2x6", "size: 45x145 mm C16")
    .replace("beam_runs: each bay", "beam_runs: whole length\n    beam_seat: on top")
    .replace(
        "kind: through-bolt, diameter: 0.5 in, length: 6 in, count: 2",
        "kind: lag screw, diameter: 0.375 in, length: 12 in, count: 2",
    )
    .replace("fill_depth: 9 in", "fill_depth: 9 in, sides: 45x245 mm C24, ties: 2")
    .replace(
        "floor: {kind: timber floor}",
        "floor: {kind: timber floor, joist_size: 2x10 douglas fir-larch, joist_span: 12 ft}",
    )
)
SCREWED = RACK.replace(
    "{kind: through-bolt, diameter: 0.5 in, length: 6 in, count: 2, spread: 4 in}",
    "{kind: wood screw, diameter: 0.216 in, length: 4 in, count: 4, columns: 2, gauge: 1.5 in, spread: 4 in}",
).replace(
    "nails: 4 + 4, nail: 0.148 in x 1.5 in", "nails: 4 + 4, nail: 0.148 in x 1.5 in, allowable: 300 lb, source: t"
)
HUNG = (
    TIERS.replace("S_DS: 1.0}", "S_S: 1.4, S_1: 0.49, site_class: D default}")
    + """
hung:
  - {name: light, from: r, rail: 1, mass: 22 lb, drop: 20 in, clearance: 20 in, allowable: 60 lb, source: t}
  - {name: fan, from: r, mass: 9 lb, drop: 10 in, hangers: 1}
  - {name: pot, from: ceiling, height_ratio: 0, mass: 9 lb, drop: 5 ft, clearance: 40 in, hangers: 4}
"""
)
HUNG_22 = HUNG.replace(
    "asce7-16, S_S: 1.4, S_1: 0.49, site_class: D default", "asce7-22, S_DS: 0.3, building: {period: 0.3 s}"
)
PONDED = RACK.replace("water: 8 in, fill: gravel, fill_depth: 9 in", "water: 9 in, fill: gravel, fill_depth: 3 in")
ON_RACK = (
    PONDED.replace(
        "  - {name: tank, kind: tank",
        "  - {name: tub, kind: tank, on: r, offset: 7 ft, diameter: 2 ft, depth: 14 in, water: 12 in}\n"
        "  - {name: tank, kind: tank",
    )
    .replace("length: 9 ft, width: 30 in", "length: 6 ft, width: 30 in")
    .replace("S_DS: 1.0}", "S_DS: 0.4, S_1: 0.1, height_ratio: 0.5, importance: 1.5}")
)
PIPED = (
    RACK.replace("outlet: 3 in}", "outlet: 11 in, pipe: 3/4 in, length: 10 ft, check_valve: yes, material: hose}")
    + """  - {name: second, from: tank, to: bed, curve: [0 gal/h at 12 ft, 300 gal/h at 9 ft, 900 gal/h at 2 ft], outlet: 11 in, pipe: 1 in, length: 9 ft}
  - {name: weak, from: tank, to: bed, curve: [0 gal/h at 5 in, 300 gal/h at 2 in], outlet: 11 in, pipe: 1/2 in, length: 9 ft, material: copper}
pipes:
  - {name: return, from: bed, to: tank, bore: 1.5 in, intake: 8 in, outlet: 20 in, length: 3 ft, blocked: 20 %, material: steel}
  - {name: bell, from: bed, to: tank, bore: 1 in, intake: 1 in, starts_at: 8 in, length: 3 ft, check_valve: yes}
  - {name: overflow, from: tank, to: house drain, bore: 2 in, intake: 28 in, length: 6 ft}
"""
)
ELSEWHERE = {
    "eurocode8": "a_gR: 0.2, gamma_I: 1.2, ground: C, spectrum: type 1, height_ratio: 0.4, building: {period: 0.35 s}",
    "nzs1170.5": "Z: 0.3, soil: D, R_u: 1.3, height_ratio: 0.5, height: 4 m",
    "nbc2015": "S_a_02: 0.85, F_a: 1.1, S_05: 0.75, S_10: 0.45, S_20: 0.25, height_ratio: 0.1",
    "nbc2020": "S_02: 0.6, I_E: 1.3",
}
CASES = {
    **{
        f"{name}, {kind}": lambda text=text, site=f"{name}, {keys}": assessed(
            text.replace("asce7-16, S_S: 1.4, S_1: 0.49, site_class: D default", site).replace(
                "asce7-16, S_DS: 1.0", site
            )
        )
        for name, keys in ELSEWHERE.items()
        for kind, text in (("hung", HUNG), ("anchored", ANCHORED), ("stiffened", STIFFENED))
    },
    **{
        f"{name}, in the open": lambda site=f"{name}, {keys}, setting: in the open": assessed(
            RACK.replace("asce7-16, S_DS: 1.0", site)
        )
        for name, keys in ELSEWHERE.items()
    },
    "pipes": lambda: assessed(PIPED),
    "ponded": lambda: assessed(PONDED),
    "on a rack, upstairs": lambda: assessed(ON_RACK),
    "on a rack, 7-22": lambda: assessed(ON_RACK.replace("asce7-16", "asce7-22")),
    **{name: lambda name=name: assessed_demo(name) for name in DEMOS},
    "rack": lambda: assessed(RACK),
    "open": lambda: assessed(OPEN),
    "upstairs": lambda: assessed(UPSTAIRS),
    "stiffened": lambda: assessed(STIFFENED),
    "metric": lambda: assessed(METRIC),
    "screwed": lambda: assessed(SCREWED),
    "anchored": lambda: assessed(ANCHORED),
    "tiers": lambda: assessed(TIERS),
    "lidded": lambda: assessed(LIDDED),
    "lid that a steep wave lifts": lambda: assessed(
        LIDDED.replace("400 lb", "20 lb").replace("S_DS", "S_1: 0.6, S_DS")
    ),
    "lid with a wide opening": lambda: assessed(LIDDED.replace("4 in x 4 in", "20 in x 20 in")),
    "panned": lambda: assessed(PANNED),
    "gusseted": lambda: assessed(GUSSETED),
    "gusseted, beams on top": lambda: assessed(
        GUSSETED.replace("    beam_runs", "    beam_seat: on top\n    beam_runs")
    ),
    "joined": lambda: assessed(JOINED),
    "joined by screws": lambda: assessed(
        JOINED.replace(JOIN, "{kind: lag screw, diameter: 0.375 in, length: 3 in, count: 3}")
    ),
    "hung": lambda: assessed(HUNG),
    "hung, 7-22": lambda: assessed(HUNG_22),
}


def all_steps(assessment):
    for block in sheet(assessment).blocks():
        yield from (line.step for line in block.lines)
    yield from assessment.motion.steps
    for force in assessment.forces.values():
        yield from force.steps
    for finding in assessment.findings:
        yield from finding.steps
    for run in assessment.spill.runs:
        yield from run_lines(run, assessment.spill.network, assessment.spill.room)


FUNCTIONS = {
    "min": sympy.Min,
    "max": sympy.Max,
    "sqrt": sympy.sqrt,
    "floor": sympy.floor,
    "pi": sympy.pi,
    "sin": sympy.sin,
    "cos": sympy.cos,
}


@cache
def parsed(expression, names):
    """The expression as sympy sees it; only the numbers in it differ from step to step."""
    return sympy.sympify(expression, locals={**FUNCTIONS, **{name: sympy.Symbol(name) for name in names}})


def evaluated(step, system):
    """With the inputs in the units of the system."""
    values = {
        sympy.Symbol(name): sympy.Float(in_system(number, step, system)[0]) for name, number in step.inputs.items()
    }
    return float(parsed(step.expression, tuple(step.inputs)).xreplace(values))


def computed(step):
    """All that its result hangs on."""
    return step.symbol, step.expression, tuple(step.inputs.items()), step.result, step.any_units


@pytest.mark.parametrize("case", CASES)
def test_printed_results_follow_from_printed_inputs(case):
    steps = {computed(step): step for step in all_steps(CASES[case]())}.values()
    for step in steps:
        for system in ("si", "us"):
            result, unit = in_system(step.result, step, system)
            context = f"{step.symbol} = {step.expression} [{unit}] in {system}"
            assert evaluated(step, system) == pytest.approx(result, rel=1e-9, abs=1e-12), context
    assert len(steps) > 10


@pytest.mark.parametrize("case", ["nursery", "stiffened", "hung", "pipes", "eurocode8, anchored"])
def test_the_sheet_prints_every_step_once_and_numbers_it(case):
    assessment = CASES[case]()
    printed = sheet(assessment)
    lines = [line for block in printed.blocks() for line in block.lines]
    assert [line.number for line in lines] == list(range(1, len(lines) + 1))
    steps = [line.step for line in lines]
    assert all(step not in steps[:index] for index, step in enumerate(steps))
    wanted = [*assessment.motion.steps, *(step for force in assessment.forces.values() for step in force.steps)]
    wanted += [step for finding in assessment.findings for step in finding.steps]
    assert all(step in steps for step in wanted)
    for finding in assessment.findings:
        if finding.steps:
            block = printed.of_findings[finding.id]
            shown = [line.step for line in (*block.earlier, *block.lines)]
            assert all(step in shown for step in finding.steps)
            first = block.lines[0].number if block.lines else len(lines) + 1
            assert all(line.number < first for line in block.earlier)


def test_the_sheet_follows_the_load():
    keys = [section.key for section in sheet(CASES["stiffened"]()).sections]
    assert keys == ["weights", "motion", "forces", "frame", "members", "joints", "feet", "stability", "water"]
    titles = [section.title for section in sheet(assessed(WEIGHED)).sections]
    assert [title.split()[0] for title in titles] == [str(number) for number in range(1, len(titles) + 1)]


def test_demand_and_capacity_are_results_of_steps():
    """Each finding's demand and capacity stand among its steps' results (allowing for unit and level)."""
    for finding in assessed(RACK).findings:
        if finding.verdict == "not assessed" or not finding.capacity or finding.topic == "spill":
            continue
        results = [step.result.value for step in finding.steps]
        results += [0.7 * value for value in results]
        in_si = [value * size for value in results for size in (1.0, *US_SIZES)]
        for side in (finding.demand, finding.capacity):
            if finding.topic == "floor" and side == finding.capacity:
                continue  # the live load is a value, not a result
            if finding.id.endswith("/along") and "panel" in finding.id:
                continue  # a unit shear times the panel's length
            if finding.id.endswith("/distances") and side == finding.capacity:
                continue  # what is there, from the file
            if finding.id.startswith("sway/") and side == finding.capacity:
                continue  # the gap or slack of the file, or a limit
            if finding.quantity == "number" and side in (1.0, 1.2):
                continue  # the limit itself
            assert any(side == pytest.approx(value, rel=1e-9) for value in in_si), (finding.id, side)


@pytest.mark.parametrize(
    ("expression", "markup"),
    [
        ("F*h", "F·h"),
        ("D**2/R_d", 'D<super>2</super>/R<sub rise="1.5" size="6">d</sub>'),
        ("sqrt(2*g)", "√(2·g)"),
        ("(D/4)**(2/3)", "(D/4)<super>2/3</super>"),
        ("max(0.6 - 0.14*S_DS, 0)", 'max(0.6 − 0.14·S<sub rise="1.5" size="6">DS</sub>, 0)'),
    ],
)
def test_expression_markup(expression, markup):
    assert expression_markup(expression) == markup


def test_no_line_stands_twice_in_a_finding():
    for finding in assessed(RACK.replace("each bay", "whole length")).findings:
        assert all(line not in finding.steps[:index] for index, line in enumerate(finding.steps)), finding.id
