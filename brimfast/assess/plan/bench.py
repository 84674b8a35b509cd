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
from brimfast.assess.pipeline import Assessment, Dry, Pushed, before_water, dry, pushed, spilling, with_water
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
        waiting = _Waiting(memo, [one.question for one in each if one is not None], self._pool)
        found = []
        for known in each:
            found.append(None if known is None else dry(known, memo))
            step()
        answers = iter(waiting.answers())
        return [None if one is None else _outcome(one, next(answers)) for one in found]

    def _pushed(self, chosen: Chosen) -> Pushed | None:
        installation = changed(self.raw, [self.measures[number] for number in sorted(chosen)])
        try:
            return None if installation is None else pushed(installation, self.memo)
        except InputError:
            return None

    def assessment(self, chosen: Chosen) -> Assessment | None:
        """The whole answer, as `check` would give it for the changed file: its water runs by itself."""
        installation = changed(self.raw, [self.measures[number] for number in sorted(chosen)])
        if installation is None:
            return None
        try:
            known = before_water(installation, self.memo)
            return with_water(known, known.question.answer())
        except InputError:
            return None


class _Waiting:
    """Runs of water that others work out; what none of them has begun, this process does when it has time."""

    def __init__(self, memo: Memo, questions: list[Question], pool: ProcessPoolExecutor | None) -> None:
        self.memo, self.asked = memo, [asked(question) for question in questions]
        missing = memo.missing(self.asked)
        self._here = [] if pool is not None else missing
        self._there: list[tuple[Waters, Future[tuple[Run, ...]]]] = []
        if pool is not None:
            with _deaf(), _one_thread():
                self._there = [(waters, pool.submit(waters.run)) for waters in missing]

    def answers(self) -> list[tuple[Run, ...]]:
        # the last that are not begun yet first
        self._here += [waters for waters, future in reversed(self._there) if future.cancel()]
        for waters in self._here:
            self.memo.learn(waters, waters.run())
        for waters, future in self._there:
            if not future.cancelled():
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


def _end_with_parent() -> None:
    """However it ended: by a signal that it could not answer, too."""
    parent = parent_process()
    if parent is not None:
        wait([parent.sentinel])
        os._exit(1)
