"""What need not be computed again: answers of the slow parts, by all that they hang on."""

from __future__ import annotations

import math
import pickle
from collections.abc import Sequence
from dataclasses import dataclass, replace

from brimfast.assess.demand.force import Force
from brimfast.assess.demand.motion import GroundMotion
from brimfast.assess.demand.vertical import Vertical
from brimfast.assess.frame.actions import RackActions
from brimfast.assess.frame.analyse import Framed, actions, framed
from brimfast.assess.frame.rack_input import RackInput
from brimfast.assess.joints.case import RackCase
from brimfast.assess.network.lanes import alike
from brimfast.assess.network.model import DRAINED, OVER_SILL, ROOM, RUNS, SUPPLIED, Event, Link, Network
from brimfast.assess.network.runs import Run, run_alike
from brimfast.assess.rack import case_findings
from brimfast.assess.slosh.case import Periods, rack_periods
from brimfast.assess.slosh.shaken import Shaken, shaken
from brimfast.assess.spill.assess import Question
from brimfast.assess.weight import VesselWeight
from brimfast.shared.findings import Finding
from brimfast.shared.installation.model import Installation

BELOW = 1e-4  # m: water so far below a sill or rim has not come to it


@dataclass(frozen=True)
class Edges:
    """Heights above the floor (m) that a run hangs on only where its water comes to them."""

    sills: tuple[float, ...]
    rims: tuple[float, ...]  # of the vessels


@dataclass(frozen=True)
class Asked:
    """A question, and what the run of each of its events hangs on."""

    question: Question
    keys: list[tuple[bytes, Edges]]


def asked(question: Question) -> Asked:
    return Asked(question, _keys(question))


@dataclass(frozen=True)
class Waters:
    """Runs of networks that are alike, to be worked out beside each other: by what they are remembered, and what they are."""

    keys: tuple[tuple[bytes, Edges], ...]
    cases: tuple[tuple[Network, Event], ...]
    heights: tuple[tuple[str, float], ...]

    def run(self) -> tuple[Run, ...]:
        return run_alike(self.cases, self.heights)


# Of a rack, what an anchor may carry: its frame does not know it.
ANCHOR_VALUES: dict[str, None] = {"tension": None, "shear": None, "source": None}


class Memo:
    """Frames and runs of water that several assessments of like installations share.

    Same key, same answer: keys hold everything that goes in, so a memo never changes a result (but for rounding where
    runs of several networks were worked out beside each other).
    """

    def __init__(self) -> None:
        self._frames: dict[bytes, Framed] = {}
        self._actions: dict[bytes, dict[str, RackActions]] = {}
        self._cases: dict[bytes, tuple[RackActions | None, list[Finding]]] = {}
        self._shaken: dict[tuple[bytes, bytes], Shaken] = {}
        self._runs: dict[bytes, dict[Edges, Run]] = {}

    def framed(self, group: tuple[RackInput, ...]) -> Framed:
        plain, key = _frame_key(group)
        if key not in self._frames:
            self._frames[key] = framed(plain)
        return self._frames[key]

    def knows_frame(self, group: tuple[RackInput, ...]) -> bool:
        """Whether `framed` need not be worked out."""
        return _frame_key(group)[1] in self._frames

    def knows(self, held: Framed, forces: dict[str, Force], v: Vertical) -> bool:
        """Whether `actions` need not be worked out."""
        return _pushed_key(held, forces, v) in self._actions

    def actions(self, held: Framed, forces: dict[str, Force], v: Vertical) -> dict[str, RackActions]:
        mine = {name: forces[name] for name in (f"rack {one.name}" for one in held.racks)}
        key = _pushed_key(held, forces, v)
        if key not in self._actions:
            self._actions[key] = actions(held, mine, v)
        return self._actions[key]

    def case_findings(
        self, case: RackCase, installation: Installation, vessels: dict[str, VesselWeight]
    ) -> list[Finding]:
        """A frame's actions are told apart by being the very ones that `actions` gave, and are kept so that they stay."""
        on = installation.on_rack(case.name)
        key = pickle.dumps((id(case.frame), replace(case, frame=None), on, [vessels[vessel.name] for vessel in on]))
        if key not in self._cases:
            self._cases[key] = (case.frame, case_findings(case, installation, vessels))
        return self._cases[key][1]

    def shaken(
        self, installation: Installation, vessels: dict[str, VesselWeight], motion: GroundMotion, periods: Periods
    ) -> list[Shaken]:
        """Of every vessel."""
        site, found = installation.site, []
        ground = pickle.dumps((site, motion))
        for vessel in installation.vessels:
            known = rack_periods(installation, vessel.on, periods)
            key = ground, pickle.dumps((vessel, vessels[vessel.name], known))
            if key not in self._shaken:
                self._shaken[key] = shaken(vessel, vessels[vessel.name], site, motion, known)
            found.append(self._shaken[key])
        return found

    def answers(self, question: Question) -> tuple[Run, ...]:
        return self.all_answers([question])[0]

    def all_answers(self, questions: Sequence[Question]) -> list[tuple[Run, ...]]:
        """What no earlier question asked is run, beside each other where networks are alike."""
        mine = [asked(question) for question in questions]
        for waters in self.missing(mine):
            self.learn(waters, waters.run())
        return self.known_answers(mine)

    def missing(self, mine: Sequence[Asked]) -> list[Waters]:
        """What no earlier question asked, those of networks that are alike together."""
        found: dict[tuple[bytes, Edges], tuple[Question, Event]] = {}
        for one in mine:
            question = one.question
            for event, key in zip(question.events, one.keys, strict=True):
                if self._known(*key) is None:
                    found.setdefault(key, (question, event))
        beside: dict[bytes, list[tuple[bytes, Edges]]] = {}
        for key, (question, _) in found.items():
            beside.setdefault(pickle.dumps((alike(question.network), question.heights)), []).append(key)
        return [
            Waters(
                tuple(keys),
                tuple((found[key][0].network, found[key][1]) for key in keys),
                found[keys[0]][0].heights,
            )
            for keys in beside.values()
        ]

    def learn(self, waters: Waters, runs: Sequence[Run]) -> None:
        for (links, edges), run in zip(waters.keys, runs, strict=True):
            self._runs.setdefault(links, {})[edges] = run

    def known_answers(self, mine: Sequence[Asked]) -> list[tuple[Run, ...]]:
        """Of questions of which nothing is missing."""
        return [
            tuple(self._of(event, key) for event, key in zip(one.question.events, one.keys, strict=True))
            for one in mine
        ]

    def _of(self, event: Event, key: tuple[bytes, Edges]) -> Run:
        run = self._known(*key)
        assert run is not None
        return run.of(event)

    def _known(self, key: bytes, edges: Edges) -> Run | None:
        """A run with these edges, or with others wherever its water comes neither to those nor to these."""
        runs = self._runs.get(key, {})
        if edges in runs:
            return runs[edges]
        return next((run for others, run in runs.items() if _below(run, others, edges)), None)


def _below(run: Run, its: Edges, mine: Edges) -> bool:
    """Whether a run is the same with other edges."""
    to_sills = run.leaves > 0 or run.depth >= min((*its.sills, *mine.sills), default=0.0) - BELOW
    return (its.sills == mine.sills or not to_sills) and all(
        one == other or highest < min(one, other) - BELOW
        for one, other, (_, highest) in zip(its.rims, mine.rims, run.highest, strict=True)
    )


def _pushed_key(held: Framed, forces: dict[str, Force], v: Vertical) -> bytes:
    names = [f"rack {one.name}" for one in held.racks]
    pushes = [(name, forces[name].coefficient, forces[name].overstrength) for name in names]
    return pickle.dumps((held.racks, pushes, v))


def _frame_key(group: tuple[RackInput, ...]) -> tuple[tuple[RackInput, ...], bytes]:
    """The group as far as its frame hangs on it, and that as a key."""
    plain = tuple(_without_anchor_values(one) for one in group)
    return plain, pickle.dumps(plain)


def _without_anchor_values(one: RackInput) -> RackInput:
    feet = one.rack.feet.model_copy(update=ANCHOR_VALUES)
    return replace(one, rack=one.rack.model_copy(update={"feet": feet}))


def _keys(question: Question) -> list[tuple[bytes, Edges]]:
    """What the run of each event hangs on: the links that can move water in it, what is on the floor at once; apart from

    it the edges.
    """
    ways = question.network
    nodes = [node if node.is_room else replace(node, rim=0.0) for node in ways.nodes]
    apart = pickle.dumps((nodes, question.heights))
    rims = tuple(node.rim for node in ways.vessels)
    own = {id(link): _link_key(link) for link in ways.links}
    found = []
    for event in question.events:
        links = event.links(ways)
        at_once = pickle.dumps(sorted(event.at_once.items()))
        key = [apart, at_once, *(own.get(id(link)) or _link_key(link) for link in links)]
        sills = tuple(link.z_in for link in links if _is_sill(link))
        found.append((pickle.dumps(key), Edges(sills, rims)))
    return found


def _is_sill(link: Link) -> bool:
    return link.kind == OVER_SILL and ROOM in (link.source, link.target)


def _link_key(link: Link) -> bytes:
    """Nothing of those that cannot move water."""
    if not (link.on or not math.isnan(link.starts) or link.after or link.kind not in (RUNS, SUPPLIED, DRAINED)):
        return b" "
    return pickle.dumps(replace(link, z_in=0.0) if _is_sill(link) else link)
