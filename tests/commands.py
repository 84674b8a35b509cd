"""Commands as people type them: in a process of their own, or in this one, which is much sooner done."""

import contextlib
import gc
import io
import os
import signal
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path
from unittest import mock

import pytest

from brimfast.reports.cli import main

ROOT = Path(__file__).parents[1]
ENVIRONMENT = {key: value for key, value in os.environ.items() if key not in ("NO_COLOR", "FORCE_COLOR", "COLUMNS")} | {
    "PYTHONPATH": str(ROOT)
}


@dataclass(frozen=True)
class Done:
    returncode: int
    stdout: str
    stderr: str


def process(*arguments, cwd=None, given=None, **environment):
    """What only a process has: a locale, a traceback, an exit code that the shell sees."""
    done = subprocess.run(
        [sys.executable, "-m", "brimfast", *map(str, arguments)],
        input=given,
        capture_output=True,
        text=True,
        encoding="utf-8",
        timeout=60,
        check=False,
        cwd=cwd,
        env=ENVIRONMENT | environment,
    )
    return Done(done.returncode, done.stdout, done.stderr)


def run(*arguments, cwd=None, given="", **environment):
    """What goes past `main` fails the test, so there can be no traceback."""
    stdin, out, err = (io.TextIOWrapper(io.BytesIO(text.encode()), encoding="utf-8") for text in (given, "", ""))
    collects, ends = gc.get_threshold(), signal.getsignal(signal.SIGTERM)
    with (
        mock.patch.dict(os.environ, ENVIRONMENT | environment, clear=True),
        mock.patch.object(sys, "argv", ["brimfast", *map(str, arguments)]),
        mock.patch.multiple(sys, stdin=stdin, stdout=out, stderr=err),
        mock.patch("os.get_terminal_size", side_effect=OSError),
        contextlib.chdir(cwd or Path.cwd()),
        pytest.raises(SystemExit) as left,
    ):
        try:
            main()
        finally:
            gc.set_threshold(*collects)
            signal.signal(signal.SIGTERM, ends)
    told = []
    for stream in (out, err):
        stream.flush()
        told.append(stream.buffer.getvalue().decode())
    return Done(left.value.code, *told)
