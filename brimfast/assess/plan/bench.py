"""Assesses sets of measures: the file is changed as the measure says, and goes through the whole pipeline."""

from __future__ import annotations

import contextlib
import math
import os
import signal
import threading
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor, as_completed
from multiprocessing import active_children, get_context, parent_process
from multiprocessing.connection import wait
from typing import Any

from pydantic import ValidationError

from brimfast.assess.measures.measure import Measure
from brimfast.assess.memo import Memo
from brimfast.assess.network.runs import Run
from brimfast.assess.pipeline import Assessment, Dry, before_water, spilling, with_water
from brimfast.assess.plan.fronts import Chosen
from brimfast.assess.plan.score import Outcome, outcome_of
from brimfast.shared.edits import edited
from brimfast.shared.errors import InputError
from brimfast.shared.installation.model import Installation, disagreements

BESIDE = 32  # sets whose water runs beside each other
FEWEST = 16  # unless there are so few for each process: water of few takes as long as that of many
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
                self._pool = ProcessPoolExecutor(
                    self._processes, get_context("spawn"), _begin, (self.raw, self.measures, self.memo)
                )
        return self

    def __exit__(self, kind: object, *_: object) -> None:
        if self._pool is None:
            return
        if kind is not None:  # stopped: what runs is not waited for
            for process in active_children():
                process.terminate()
        self._pool.shutdown(cancel_futures=True)

    def outcomes(self, sets: Sequence[Chosen], progress: Progress | None = None) -> list[Outcome | None]:
        """Of each set; None where it cannot be built."""
        missing = [one for one in dict.fromkeys(sets) if one not in self.found]
        done = 0
        for part, outcomes in self._evaluated(missing):
            self.found.update(zip(part, outcomes, strict=True))
            done += len(part)
            if progress is not None:
                progress(done, len(missing))
        self.tried += len(missing)
        return [self.found[one] for one in sets]

    def _evaluated(self, sets: list[Chosen]) -> Iterator[tuple[list[Chosen], list[Outcome | None]]]:
        """Part by part, as they come."""
        pool = self._pool if len(sets) > 1 else None
        share = (
            BESIDE
            if pool is None
            else min(
                BESIDE,
                max(math.ceil(len(sets) / self._processes / 2), min(FEWEST, math.ceil(len(sets) / self._processes))),
            )
        )
        parts = [sets[start : start + share] for start in range(0, len(sets), share)]
        if pool is None:
            for part in parts:
                yield part, evaluate(self.raw, self.measures, self.memo, part)
            return
        with _deaf(), _one_thread():
            waiting = {pool.submit(_evaluate, part): part for part in parts}
        for future in as_completed(waiting):
            yield waiting[future], future.result()

    def assessment(self, chosen: Chosen) -> Assessment | None:
        """The whole answer, as `check` would give it for the changed file: its water runs by itself."""
        installation = changed(self.raw, [self.measures[number] for number in sorted(chosen)])
        if installation is None:
            return None
        try:
            dry = before_water(installation, self.memo)
            return with_water(dry, dry.question.answer())
        except InputError:
            return None


def evaluate(raw: Any, measures: Sequence[Measure], memo: Memo, sets: Sequence[Chosen]) -> list[Outcome | None]:
    """Of each set what it comes to; water of all of them beside each other."""
    dry = []
    for chosen in sets:
        installation = changed(raw, [measures[number] for number in sorted(chosen)])
        try:
            dry.append(None if installation is None else before_water(installation, memo))
        except InputError:
            dry.append(None)
    known = [one for one in dry if one is not None]
    answers = iter(memo.all_answers([one.question for one in known]))
    return [None if one is None else _outcome(one, next(answers)) for one in dry]


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


# Of a worker process: what it was begun with.
_given: dict[str, Any] = {}


def _begin(raw: Any, measures: tuple[Measure, ...], memo: Memo) -> None:
    threading.Thread(target=_end_with_parent, daemon=True).start()
    _given.update(raw=raw, measures=measures, memo=memo)


def _end_with_parent() -> None:
    """However it ended: by a signal that it could not answer, too."""
    parent = parent_process()
    if parent is not None:
        wait([parent.sentinel])
        os._exit(1)


def _evaluate(sets: Sequence[Chosen]) -> list[Outcome | None]:
    return evaluate(_given["raw"], _given["measures"], _given["memo"], sets)
