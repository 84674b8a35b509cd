"""Assesses sets of measures: the file is changed as the measure says, and goes through the whole pipeline."""

from __future__ import annotations

import contextlib
import os
import signal
import threading
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor
from multiprocessing import active_children, get_context, parent_process
from multiprocessing.connection import wait
from typing import Any

from pydantic import ValidationError

from brimfast.assess.measures.measure import Measure
from brimfast.assess.memo import Memo, Waters, asked
from brimfast.assess.network.runs import Run
from brimfast.assess.pipeline import Assessment, Dry, Pushed, dry, pushed, spilling, with_water
from brimfast.assess.plan.fronts import Chosen
from brimfast.assess.plan.score import Outcome, outcome_of
from brimfast.assess.spill.assess import Question
from brimfast.shared.edits import edited
from brimfast.shared.errors import InputError
from brimfast.shared.installation.model import Installation, disagreements

BESIDE = 96  # sets whose water runs beside each other: water of few takes nearly as long as that of many
ONE_THREAD = "OPENBLAS_NUM_THREADS"  # of numpy's small products, where there are processes beside each other
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
        self._pool: ProcessPoolExecutor | None = None
        self._processes = processes

    def __enter__(self) -> Bench:
        if self._processes > 1:
            with contextlib.suppress(OSError, ImportError):  # where no processes can be had one does
                self._pool = ProcessPoolExecutor(self._processes - 1, get_context("spawn"), _begin)
                with _deaf(), _one_thread():
                    for _ in range(self._processes - 1):  # they begin while this process goes on
                        self._pool.submit(_ready)
        return self

    def __exit__(self, kind: object, *_: object) -> None:
        if self._pool is None:
            return
        if kind is not None:  # stopped: what runs is not waited for
            for process in active_children():
                process.terminate()
        self._pool.shutdown(cancel_futures=True)

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
        waiting = _Waiting(memo, [one.question for one in each if one is not None], self._pool, self._processes - 1)
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
        there = len(asked) * (self._processes - 1) // self._processes if self._pool is not None else 0
        with _deaf(), _one_thread():
            waiting = [self._pool.submit(question.answer) for question in asked[:there]] if self._pool else []
        here = [question.answer() for question in asked[there:]]
        answers = iter([*(future.result() for future in waiting), *here])
        found: list[Assessment | None] = []
        for one in each:
            found.append(None if one is None else with_water(dry(one, self.memo), next(answers)))
            step()
        return found


class _Waiting:
    """Runs of water, the largest first: other processes take them as they become free, the last ones this process itself."""

    def __init__(self, memo: Memo, questions: list[Question], pool: ProcessPoolExecutor | None, workers: int) -> None:
        self.memo, self.asked = memo, [asked(question) for question in questions]
        self._rest = sorted(memo.missing(self.asked), key=lambda one: len(one.cases))
        self._pool, self._workers = pool, workers
        self._there: list[tuple[Waters, Future[tuple[Run, ...]]]] = []
        self.go_on()

    def go_on(self) -> None:
        """Gives what waits to processes that are free."""
        if self._pool is None:
            return
        busy = sum(1 for _, future in self._there if not future.done())
        while self._rest and busy < self._workers:
            waters = self._rest.pop()
            with _deaf(), _one_thread():
                self._there.append((waters, self._pool.submit(waters.run)))
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


@contextlib.contextmanager
def _deaf() -> Iterator[None]:
    """Processes that begin here take no interrupt: who began them stops them."""
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    # they inherit it; here an interrupt waits until it is let through
    before = signal.pthread_sigmask(signal.SIG_BLOCK, [signal.SIGINT])
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


@contextlib.contextmanager
def _one_thread() -> Iterator[None]:
    """Processes that begin here leave the other cores to each other."""
    if ONE_THREAD in os.environ:
        yield
        return
    os.environ[ONE_THREAD] = "1"
    try:
        yield
    finally:
        del os.environ[ONE_THREAD]


def _begin() -> None:
    threading.Thread(target=_end_with_parent, daemon=True).start()


def _ready() -> None:
    """Nothing; but with it a process has begun, and read what it needs."""


def _end_with_parent() -> None:
    """However it ended: by a signal that it could not answer, too."""
    parent = parent_process()
    if parent is not None:
        wait([parent.sentinel])
        os._exit(1)
