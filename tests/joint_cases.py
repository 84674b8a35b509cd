"""A rack under round numbers for its joints, a frame that says what a test lets it say, and lines that must follow.

Two bays of 1.5 m, six posts, 0.7 m from post to post across, the beams' middle 0.5 m and the common centre 0.9 m up. It is pushed with
F = 6000 N, which is 0.75 of 8000 N; 0.2 S_DS = 0.24, so 1 + 0.7 · 0.24 = 1.168 of the weight goes down. The worst joint has 1500 of
its side's 4000 N (k_j 0.375); the deck weighs 2500 N/m on joists 0.4 m apart.
"""

from dataclasses import replace
from functools import cache
from types import SimpleNamespace

import numpy as np
import pytest

from brimfast.assess.demand.force import Force
from brimfast.assess.demand.vertical import Vertical
from brimfast.assess.frame.actions import Acting
from brimfast.assess.frame.cases import LoadCase
from brimfast.assess.joints.case import RackCase
from brimfast.assess.resolve import resolve
from brimfast.shared.constants import POUND_FORCE
from brimfast.shared.findings import Value, step
from tests.builders import RACK, read
from tests.printed import again

BOLTS = "{kind: through-bolt, diameter: 0.5 in, length: 6 in, count: 2, spread: 4 in}"
HAND = (
    RACK.replace("each bay", "whole length")
    .replace("bay_length: 5 ft", "bay_length: 1.5 m")
    .replace("width: 32 in", "width: 0.8 m")
)
HAND = HAND.replace("spacing: 12 in", "spacing: 0.4 m")
TYPED = "kind: structural screw, allowable: 1000 N, source: t"
DOWN, UP = 1.168, 0.432


def with_bolts(fasteners, text=HAND):
    return text.replace(BOLTS, fasteners)


def with_lines(lines, text=HAND):
    return text.replace("    beam_runs: whole length\n", f"    beam_runs: whole length\n{lines}\n")


@cache
def _read(text):
    installation = read(text).installation
    return installation.racks["r"], resolve(installation).racks["r"], installation.joints_of("r")


def case(text=HAND, frame=None, F=6000.0, height=0.9, **changed):
    rack, parts, joints = _read(text)
    weight = SimpleNamespace(
        beam_centre=0.5,
        beam_centres=(0.5, 0.9, 1.1)[: len(rack.decks)],
        storey=lambda number: ((0.0, 0.5), (0.5, 1.1))[number - 1],
        face=lambda number: ((0.0, 0.6), (0.6, 1.2))[number - 1],
    )
    gravity = SimpleNamespace(
        joint_worst=1500.0,
        joint_simple=1300.0,
        joint_added=200.0,
        joint_worst_post=2,
        side_weight=4000.0,
        joist_line_load=2500.0,
        joist_end=500.0,
    )
    body = SimpleNamespace(height=height, directions=(SimpleNamespace(base=3.0), SimpleNamespace(base=0.7)))
    pushed = step("F_p", "c*W_p", {"c": F / 8000, "W_p": (8000.0, "N")}, (F, "N"))
    force = Force(
        "rack r", 8000.0, F, 1920.0, 1.5, "", "", "pushed", (pushed,), (Value("c", "0.75", "t", "published"),)
    )
    vertical = Vertical(0.2, "S_DS", 1.2, "t", "t")
    given = RackCase("r", rack, parts, weight, gravity, body, force, vertical, joints, frame, "no frame")
    return replace(given, **changed)


def line(finding, symbol):
    """The last line of this symbol."""
    return [one for one in finding.steps if one.symbol == symbol][-1]


def follows(finding):
    """The finding, when each of its printed results follows from its printed inputs, and the next from those before."""
    latest = {}
    for line in finding.steps:
        assert again(line) == pytest.approx(line.result.value, rel=1e-9, abs=1e-12), line
        for name, number in line.inputs.items():
            before = latest.get(name, number)
            # a push to the other side turns the sign
            assert before.unit != number.unit or abs(before.value) == pytest.approx(abs(number.value), rel=1e-9), (
                name,
                line,
            )
        latest[line.symbol] = line.result
    each = [line.inputs["Z_each"] for line in finding.steps if "Z_each" in line.inputs]
    for value in (number.value for number in each if "Z_adj" in latest):
        assert value == pytest.approx(latest["Z_adj"].value * POUND_FORCE, rel=1e-9)
    return finding


def one(findings, part):
    (found,) = [finding for finding in findings if part in finding.id]
    return follows(found)


class Frame:
    """What a frame would say: forces (places, cases) in four cases, in a fifth, at strength level, that counts nowhere, and for anchors."""

    name = "r"

    def __init__(self, balances=("along", "across"), gives_way="", **acting):
        self.cases = tuple(
            LoadCase(level, weight, 0.7, way, sign, "", "loose", level)
            for level, weight, way, sign in (
                ("down", DOWN, 0, 1), ("up", UP, 0, -1), ("down", DOWN, 1, 1), ("up", UP, 1, -1),
                ("strength down", 1.44, 0, 1), ("anchors", UP, 0, -1),
            )
        )  # fmt: skip
        self._balances, self._gives_way = balances, gives_way
        self.__dict__.update(acting)

    def pick(self, direction, *levels, feet=()):
        ways = {None: (0, 1), "along": (0,), "across": (1,)}[direction]
        return np.array([n for n, one in enumerate(self.cases) if one.level in levels and one.way in ways], dtype=int)

    def balances(self, direction):
        return direction in self._balances

    def gives_way(self, direction):
        return "" if self.balances(direction) else self._gives_way

    def push_words(self, number):
        return f"push {number}"


HUGE = 1e6


def in_cases(rows):
    return np.array([[*row[:4], HUGE, *(row[4:] or [HUGE])] for row in rows], dtype=float)


def acting(by_weight, **total):
    """Forces of each place: by the weight, and in the four cases; a fifth number is for anchors."""
    totals = {name: in_cases(rows) for name, rows in total.items()}
    weights = {name: np.array(rows, dtype=float) for name, rows in by_weight.items()}
    return Acting(weights, totals, tuple(f"place {n}" for n in range(len(next(iter(total.values()))))))


BRACE = "{face: %s, bay: %d, member: 2x4 douglas fir-larch No.2}"


def braced(*places, more=""):
    return with_lines("    braces:\n" + "\n".join(f"      - {BRACE % place}" for place in places) + more)


BOTH = braced(("front", 1), ("back", 1), ("back", 2), ("left", 1), ("right", 1))
