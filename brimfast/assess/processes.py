"""Processes that work beside this one, and end with it, however it ends."""

from __future__ import annotations

import contextlib
import os
import signal
import threading
from collections.abc import Callable, Iterator
from concurrent.futures import Future, ProcessPoolExecutor
from multiprocessing import get_context, parent_process
from multiprocessing.connection import Connection, wait
from typing import Any, ParamSpec, TypeVar

P = ParamSpec("P")
T = TypeVar("T")
ONE_THREAD = "OPENBLAS_NUM_THREADS"  # of numpy's small products, where there are processes beside each other


class Workers:
    """So many processes (1 or more); `given` is called with its arguments where each of them begins."""

    def __init__(self, count: int, given: Callable[..., None] | None = None, *arguments: object) -> None:
        self.count = count
        self._pool = ProcessPoolExecutor(count, get_context("spawn"), _begin, (given, arguments))
        for _ in range(count):  # they begin while this process goes on
            self.submit(_ready)

    def submit(self, work: Callable[P, T], *arguments: P.args, **named: P.kwargs) -> Future[T]:
        with _deaf(), _one_thread():
            return self._pool.submit(work, *arguments, **named)

    def end(self, stopped: bool) -> None:
        """stopped: what runs is not waited for."""
        if stopped:
            for process in list((self._pool._processes or {}).values()):
                process.terminate()
        self._pool.shutdown(cancel_futures=True)


Told = tuple[str, Any]  # what it is: TELLS, DONE or FAILED; and what is told
TELLS, DONE, FAILED = "tells", "done", "failed"


class Errand:
    """One long piece of work in a process of its own, which tells on the way how far it is."""

    def __init__(self, work: Callable[..., object], *arguments: object) -> None:
        """work is called with a function to tell with, and the arguments."""
        context = get_context("spawn")
        self._told, telling = context.Pipe(duplex=False)
        self._process = context.Process(target=_run_errand, args=(telling, work, arguments), daemon=True)
        with _deaf(), _one_thread():
            self._process.start()
        telling.close()

    def news(self) -> Iterator[Told]:
        """Until it is done, or ended."""
        while True:
            try:
                what, told = self._told.recv()
            except (EOFError, OSError):
                yield FAILED, "it was ended"
                return
            yield what, told
            if what != TELLS:
                return

    def end(self) -> None:
        """What runs is not waited for."""
        self._process.terminate()


def _run_errand(telling: Connection, work: Callable[..., object], arguments: tuple[object, ...]) -> None:
    threading.Thread(target=_end_with_parent, daemon=True).start()
    try:
        told: Told = (DONE, work(lambda *words: telling.send((TELLS, words)), *arguments))
    except Exception as error:
        told = (FAILED, " ".join(str(error).split())[:200] or type(error).__name__)
    telling.send(told)


def workers(count: int, given: Callable[..., None] | None = None, *arguments: object) -> Workers | None:
    """None where none are wanted, or no processes can be had: one does."""
    if count < 1:
        return None
    with contextlib.suppress(OSError, ImportError):
        return Workers(count, given, *arguments)
    return None


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
        os.environ.pop(ONE_THREAD, None)  # another thread may have been here meanwhile


def _begin(given: Callable[..., None] | None, arguments: tuple[object, ...]) -> None:
    threading.Thread(target=_end_with_parent, daemon=True).start()
    if given is not None:
        given(*arguments)


def _ready() -> None:
    """Nothing; but with it a process has begun, and read what it needs."""


def _end_with_parent() -> None:
    """However it ended: by a signal that it could not answer, too."""
    parent = parent_process()
    if parent is not None:
        wait([parent.sentinel])
        os._exit(1)
