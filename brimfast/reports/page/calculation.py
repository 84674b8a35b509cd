"""What an installation comes to, in stages: its drawing at once, then timber and joints, then the water."""

from __future__ import annotations

import threading
from collections.abc import Callable
from concurrent.futures import CancelledError, Future, ThreadPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass, fields
from typing import Any

from brimfast.assess.memo import Memo, asked
from brimfast.assess.network.runs import Run
from brimfast.assess.pipeline import (
    Assessment,
    Dry,
    Pushed,
    Seen,
    Standing,
    dry,
    in_frames,
    pushed_from,
    standing,
    with_water,
)
from brimfast.assess.processes import Workers, workers
from brimfast.assess.spill.assess import Question
from brimfast.reports.run import with_ends
from brimfast.shared.findings import Finding
from brimfast.shared.installation.model import Installation

REMEMBERED = 60  # installations after which a memo begins anew, so that it does not grow for ever
DRAWN, DRY, WHOLE = 1, 2, 3


@dataclass(frozen=True)
class Sketch(Standing):
    """Enough to draw: what stands where and weighs how much, and nothing found of it."""

    findings: tuple[Finding, ...] = ()


def sketch_of(known: Standing) -> Sketch:
    return Sketch(**{one.name: getattr(known, one.name) for one in fields(Standing)})


@dataclass(frozen=True)
class Known:
    """What is known of an installation so far."""

    stage: int
    sketch: Seen

    @property
    def whole(self) -> Assessment | None:
        return self.sketch if isinstance(self.sketch, Assessment) else None


class Calculation:
    """One installation on its way. Stages come in order; what is superseded stops before its next stage.

    What takes long begins when it is first waited for: what draws the sketch has the processor for itself.
    """

    def __init__(self, engine: Engine, installation: Installation, raw: Any) -> None:
        self.installation, self.raw = installation, raw
        self._engine, self.memo = engine, engine.memo()
        self._superseded, self._begun = threading.Event(), threading.Lock()
        self._stands = standing(installation)
        self.sketch = sketch_of(self._stands)
        self._pushed: Pushed | None = None
        self._dry: Future[Dry] = Future()
        self._whole: Future[Assessment] | None = None
        if all(self.memo.knows_frame(group) for group in in_frames(self._stands)):
            known = self._pushed = pushed_from(self._stands, self.memo)
            if all(self.memo.knows(each, known.forces, known.motion.vertical) for each in known.held):
                self._dry.set_result(dry(known, self.memo))

    def begin(self) -> Future[Assessment]:
        """All that is not known yet, in the background."""
        with self._begun:
            if self._whole is None:
                if not self._dry.done():
                    self._dry = self._engine.timber.submit(self._timber)
                self._whole = self._engine.water.submit(self._water)
            return self._whole

    def supersede(self) -> None:
        self._superseded.set()

    @property
    def superseded(self) -> bool:
        """Whether it will never be whole."""
        return self._superseded.is_set() and _result(self._whole) is None

    def now(self) -> Known:
        whole, known = _result(self._whole), _result(self._dry)
        if whole is not None:
            return Known(WHOLE, whole)
        return Known(DRY, known) if known is not None else Known(DRAWN, self.sketch)

    def after(self, stage: int, within: float) -> Known | None:
        """The next stage as soon as it is there, or what there is when the time is over (s); None: it is superseded."""
        whole = self.begin()
        future: Future[Any] = self._dry if stage < DRY else whole
        try:
            future.result(timeout=within)
        except CancelledError:
            return None
        except TimeoutError:
            pass
        return None if self._superseded.is_set() and self.now().stage <= stage else self.now()

    def whole(self) -> Assessment:
        """All of it, as `check` gives it. Raises CancelledError where it is superseded."""
        return self.begin().result()

    def _timber(self) -> Dry:
        self._go_on()
        return dry(self._pushed or pushed_from(self._stands, self.memo), self.memo)

    def _water(self) -> Assessment:
        known = self._dry.result()
        self._go_on()
        answers = self._engine.answers(known.question, self.memo)
        return with_ends(with_water(known, answers), self.raw)

    def _go_on(self) -> None:
        if self._superseded.is_set():
            raise CancelledError


class Engine:
    """Threads and a process that calculations share."""

    def __init__(self, processes: int = 1) -> None:
        self.timber = ThreadPoolExecutor(1, "timber")
        self.water = ThreadPoolExecutor(1, "water")
        self._workers: Workers | None = workers(processes)
        self._memo, self._given = Memo(), 0

    def memo(self) -> Memo:
        self._given += 1
        if self._given > REMEMBERED:
            self._memo, self._given = Memo(), 0
        return self._memo

    def answers(self, question: Question, memo: Memo) -> tuple[Run, ...]:
        """In the process beside this one, so that the page stays quick meanwhile; here, where there is none any more."""
        mine = [asked(question)]
        for waters in memo.missing(mine):
            memo.learn(waters, self._run(waters.run))
        return memo.known_answers(mine)[0]

    def _run(self, run: Callable[[], tuple[Run, ...]]) -> tuple[Run, ...]:
        if self._workers is not None:
            try:
                return self._workers.submit(run).result()
            except BrokenProcessPool:
                self._workers = None
        return run()

    def end(self) -> None:
        self.timber.shutdown(wait=False, cancel_futures=True)
        self.water.shutdown(wait=False, cancel_futures=True)
        if self._workers is not None:
            self._workers.end(stopped=True)


def _result(future: Future[Any] | None) -> Any:
    done = future is not None and future.done() and not future.cancelled() and future.exception() is None
    return future.result() if future is not None and done else None
