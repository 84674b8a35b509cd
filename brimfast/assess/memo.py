"""What need not be computed again: answers of the slow parts, by all that they hang on."""

from __future__ import annotations

import pickle
from collections.abc import Sequence
from dataclasses import replace

from brimfast.assess.demand.force import Force
from brimfast.assess.frame.actions import RackActions
from brimfast.assess.frame.analyse import Framed, actions, framed
from brimfast.assess.frame.rack_input import RackInput
from brimfast.assess.network.lanes import alike
from brimfast.assess.network.runs import Run, run_alike
from brimfast.assess.spill.assess import Question

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
        self._runs: dict[bytes, Run] = {}

    def framed(self, group: tuple[RackInput, ...]) -> Framed:
        plain = tuple(_without_anchor_values(one) for one in group)
        key = pickle.dumps(plain)
        if key not in self._frames:
            self._frames[key] = framed(plain)
        return self._frames[key]

    def actions(self, held: Framed, forces: dict[str, Force], S_DS: float) -> dict[str, RackActions]:
        mine = {name: forces[name] for name in (f"rack {one.name}" for one in held.racks)}
        pushes = [(name, force.coefficient, force.overstrength) for name, force in mine.items()]
        key = pickle.dumps((held.racks, pushes, S_DS))
        if key not in self._actions:
            self._actions[key] = actions(held, mine, S_DS)
        return self._actions[key]

    def answers(self, question: Question) -> tuple[Run, ...]:
        self.learn([question])
        return tuple(self._runs[key] for key in _keys(question))

    def learn(self, questions: Sequence[Question]) -> None:
        """Runs what no earlier question asked, beside each other where networks are alike."""
        missing: dict[bytes, tuple[Question, int]] = {}
        for question in questions:
            for number, key in enumerate(_keys(question)):
                if key not in self._runs:
                    missing.setdefault(key, (question, number))
        beside: dict[bytes, list[bytes]] = {}
        for key, (question, _) in missing.items():
            beside.setdefault(pickle.dumps((alike(question.network), question.heights)), []).append(key)
        for keys in beside.values():
            cases = [(question.network, question.events[number]) for question, number in (missing[key] for key in keys)]
            found = run_alike(cases, missing[keys[0]][0].heights)
            self._runs.update(zip(keys, found, strict=True))


def _without_anchor_values(one: RackInput) -> RackInput:
    feet = one.rack.feet.model_copy(update=ANCHOR_VALUES)
    return replace(one, rack=one.rack.model_copy(update={"feet": feet}))


def _keys(question: Question) -> list[bytes]:
    network = pickle.dumps((question.network.nodes, question.network.links, question.heights))
    return [network + pickle.dumps(event) for event in question.events]
