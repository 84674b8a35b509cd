"""No process is left behind, however the one that began them ends."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from brimfast.assess.processes import ONE_THREAD, _one_thread
from brimfast.shared.demo import demo_bytes

PROC = Path("/proc")
pytestmark = [
    pytest.mark.skipif(not (PROC / "self" / "stat").exists(), reason="reads the table of processes"),
    pytest.mark.timeout(120),
]


def state_and_parent(pid):
    """Of a process that runs; None of one that has ended."""
    try:
        state, parent = (PROC / str(pid) / "stat").read_text().rpartition(")")[2].split()[:2]
    except OSError:
        return None
    return None if state in "ZX" else (state, int(parent))


def children(pid):
    found = []
    for one in PROC.iterdir():
        if one.name.isdigit():
            known = state_and_parent(one.name)
            if known is not None and known[1] == pid:
                found.append(int(one.name))
    return found


def until(question, seconds=60.0):
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        answer = question()
        if answer:
            return answer
        time.sleep(0.05)
    return question()


def workers(pid):
    """Children that were begun to take sets: two or more, beside the one that keeps track of what they share."""
    found = []
    for child in children(pid):
        try:
            line = (PROC / str(child) / "cmdline").read_bytes()
        except OSError:
            continue
        if b"spawn_main" in line:
            found.append(child)
    return found


def listening():
    """Tests that run behind nohup or & are deaf to these, and what they begin would be as well."""
    for one in (signal.SIGHUP, signal.SIGINT):
        signal.signal(one, signal.SIG_DFL)


@pytest.mark.parametrize(
    ("work", "how"),
    [
        ("improve", signal.SIGTERM),
        ("improve", signal.SIGHUP),
        ("improve", signal.SIGINT),
        ("improve", signal.SIGKILL),
        ("doubt", signal.SIGKILL),
    ],
    ids=lambda one: getattr(one, "name", one),
)
def test_workers_end_with_their_parent(tmp_path, work, how):
    """Both commands have the same workers: of one of them, the end that no process can answer."""
    file = tmp_path / "nursery.yaml"
    file.write_bytes(demo_bytes("nursery"))
    command = [sys.executable, "-m", "brimfast", work, str(file), "--jobs", "3", "--json"]
    parent = subprocess.Popen(
        command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, start_new_session=True, preexec_fn=listening
    )
    begun = []
    try:
        begun = until(lambda: len(workers(parent.pid)) >= 2 and workers(parent.pid))
        assert begun, "no worker processes began"
        os.kill(parent.pid, how)
        assert parent.wait(60) != 0
        assert until(lambda: not any(state_and_parent(one) for one in begun)), "worker processes were left behind"
    finally:
        if parent.poll() is None:
            parent.kill()
        for one in begun or []:
            if state_and_parent(one):
                os.kill(one, signal.SIGKILL)


def test_two_threads_that_begin_processes_do_not_trip_over_each_other():
    with _one_thread():
        os.environ.pop(ONE_THREAD, None)  # as another one does that has ended meanwhile
    assert ONE_THREAD not in os.environ
