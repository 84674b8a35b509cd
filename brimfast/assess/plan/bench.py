"""Assesses sets of measures: the file is changed as the measure says, and goes through the whole pipeline."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from concurrent.futures import Future
from typing import Any

from pydantic import ValidationError

from brimfast.assess.measures.measure import Measure
from brimfast.assess.memo import Memo, Waters, asked
from brimfast.assess.network.runs import Run
from brimfast.assess.pipeline import Assessment, Dry, Pushed, dry, pushed, spilling, with_water
from brimfast.assess.plan.fronts import Chosen
from brimfast.assess.plan.score import Outcome, outcome_of
from brimfast.assess.processes import Workers, workers
from brimfast.assess.spill.assess import Question
from brimfast.shared.edits import edited
from brimfast.shared.errors import InputError
from brimfast.shared.installation.disagreements import disagreements
from brimfast.shared.installation.model import Installation

BESIDE = 96  # sets whose water runs beside each other: water of few takes nearly as long as that of many
Progress = Callable[[int, int], None]


def changed(raw: Any, measures: Iterable[Measure]) -> Installation | None:
    """The installation with the measures; None where they do not fit each other or the file's own rules."""
    tree = edited(raw, [edit for measure in measures for edit in measure.edits])
    try:
        installation = Installation.model_validate(tree)
    except ValidationError:
        return None
    return None if disagreements(installation) else installation


class Bench:
    """One file and its measures. Every set is assessed once."""

    def __init__(self, raw: Any, measures: Sequence[Measure], memo: Memo | None = None, processes: int = 1) -> None:
        self.raw, self.measures, self.memo = raw, tuple(measures), memo or Memo()
        self.found: dict[Chosen, Outcome | None] = {}
        self.tried = 0
        self._others: Workers | None = None
        self._processes = processes

    def __enter__(self) -> Bench:
        self._others = workers(self._processes - 1)
        return self

    def __exit__(self, kind: object, *_: object) -> None:
        if self._others is not None:
            self._others.end(stopped=kind is not None)

    def outcomes(self, sets: Sequence[Chosen], progress: Progress | None = None) -> list[Outcome | None]:
        """Of each set; None where it cannot be built. Progress counts timber and water of each apart."""
        missing = [one for one in dict.fromkeys(sets) if one not in self.found]
        done = 0

        def step(count: int = 1) -> None:
            nonlocal done
            done += count
            if progress is not None:
                progress(done, 2 * len(missing))

        for start in range(0, len(missing), BESIDE):
            part = missing[start : start + BESIDE]
            self.found.update(zip(part, self._evaluated(part, step), strict=True))
            step(len(part))
        self.tried += len(missing)
        return [self.found[one] for one in sets]

    def _evaluated(self, sets: list[Chosen], step: Callable[[], None]) -> list[Outcome | None]:
        """Water of all of them beside each other; in other processes, where there are any, while this one does the rest."""
        memo = self.memo
        each = [self._pushed(chosen) for chosen in sets]
        waiting = _Waiting(memo, [one.question for one in each if one is not None], self._others)
        found = []
        for known in each:
            found.append(None if known is None else dry(known, memo))
            waiting.go_on()
            step()
        answers = iter(waiting.answers())
        return [None if one is None else _outcome(one, next(answers)) for one in found]

    def _pushed(self, chosen: Chosen) -> Pushed | None:
        installation = changed(self.raw, [self.measures[number] for number in sorted(chosen)])
        try:
            return None if installation is None else pushed(installation, self.memo)
        except InputError:
            return None

    def assessments(self, sets: Sequence[Chosen], step: Callable[[], None] = lambda: None) -> list[Assessment | None]:
        """The whole answers, as `check` would give them for the changed files: the water of each runs by itself."""
        each = [self._pushed(chosen) for chosen in sets]
        asked = [one.question for one in each if one is not None]
        others = self._others
        there = len(asked) * others.count // (others.count + 1) if others is not None else 0
        waiting = [others.submit(question.answer) for question in asked[:there]] if others is not None else []
        here = [question.answer() for question in asked[there:]]
        answers = iter([*(future.result() for future in waiting), *here])
        found: list[Assessment | None] = []
        for one in each:
            found.append(None if one is None else with_water(dry(one, self.memo), next(answers)))
            step()
        return found


class _Waiting:
    """Runs of water, the largest first: other processes take them as they become free, the last ones this process itself."""

    def __init__(self, memo: Memo, questions: list[Question], others: Workers | None) -> None:
        self.memo, self.asked = memo, [asked(question) for question in questions]
        self._rest = sorted(memo.missing(self.asked), key=lambda one: len(one.cases))
        self._others = others
        self._there: list[tuple[Waters, Future[tuple[Run, ...]]]] = []
        self.go_on()

    def go_on(self) -> None:
        """Gives what waits to processes that are free."""
        if self._others is None:
            return
        busy = sum(1 for _, future in self._there if not future.done())
        while self._rest and busy < self._others.count:
            waters = self._rest.pop()
            self._there.append((waters, self._others.submit(waters.run)))
            busy += 1

    def answers(self) -> list[tuple[Run, ...]]:
        while self._rest:
            waters = self._rest.pop(0)
            self.memo.learn(waters, waters.run())
            self.go_on()
        for waters, future in self._there:
            self.memo.learn(waters, future.result())
        return self.memo.known_answers(self.asked)


def _outcome(dry: Dry, answers: tuple[Run, ...]) -> Outcome:
    spill, spilt = spilling(dry, answers)
    return outcome_of((*dry.findings, *spilt), spill)
