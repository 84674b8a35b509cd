"""A disk that is full, a run that is ended midway, two runs at once: an old result stays, or the new one is whole."""

import signal
import subprocess
import sys
import time

import pytest

resource = pytest.importorskip("resource")

COMMAND = [sys.executable, "-m", "brimfast"]
LARGEST = 4096  # bytes that a file may have while the disk is as good as full


def full():
    resource.setrlimit(resource.RLIMIT_FSIZE, (LARGEST, LARGEST))


@pytest.fixture(scope="module")
def small(tmp_path_factory):
    path = tmp_path_factory.mktemp("cut") / "small.yaml"
    made = [*COMMAND, "start", str(path), "--shape", "weighed", "--s-ds", "1.0", "--no-ask"]
    subprocess.run(made, check=True, capture_output=True, timeout=60)
    return path


@pytest.mark.parametrize(("name", "old"), [("a.pdf", b"old"), ("a.html", None)])
def test_a_full_disk(small, tmp_path, name, old):
    target = tmp_path / name
    if old is not None:
        target.write_bytes(old)
    done = subprocess.run(
        [*COMMAND, "report", str(small), "-o", str(target)],
        capture_output=True, text=True, timeout=60, check=False, preexec_fn=full,
    )  # fmt: skip
    assert done.returncode == 2
    assert done.stderr.splitlines() == [f"brimfast: {target}: can't be written: file too large [E-FILE-003]"]
    assert [(one.name, one.read_bytes()) for one in tmp_path.iterdir()] == ([(name, old)] if old else [])


def test_a_folder_that_takes_no_file(small):
    """Such as one that may only be read; this one takes none of an administrator either."""
    done = subprocess.run(
        [*COMMAND, "report", str(small), "-o", "/proc/a.pdf"], capture_output=True, text=True, timeout=60, check=False
    )
    assert done.returncode == 2
    assert len(done.stderr.splitlines()) == 1 and "/proc/a.pdf: can't be written: " in done.stderr


@pytest.mark.parametrize("how", [signal.SIGTERM, signal.SIGINT, signal.SIGKILL], ids=lambda one: one.name)
def test_a_run_that_is_ended(small, tmp_path, how):
    """At several times, from before it has begun to about when it writes."""
    target = tmp_path / "a.pdf"
    for after in (0.4, 1.1, 1.5):
        target.write_bytes(b"old")
        run = subprocess.Popen(
            [*COMMAND, "report", str(small), "-o", str(target)],
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
        )
        time.sleep(after)
        run.send_signal(how)
        _, said = run.communicate(timeout=60)
        data = target.read_bytes()
        whole = data.startswith(b"%PDF-") and data.rstrip().endswith(b"%%EOF")
        assert data == b"old" or whole
        assert run.returncode in ({signal.SIGTERM: {0, 143}, signal.SIGINT: {0, 130}}.get(how, {0}) | {-how})
        if run.returncode >= 0:
            assert "Traceback" not in said
        if how != signal.SIGKILL:
            assert [one.name for one in tmp_path.iterdir()] == ["a.pdf"]


def test_two_runs_on_one_output(small, tmp_path):
    target, apart = tmp_path / "a.pdf", {}
    for units in ("us", "si"):
        alone = tmp_path / f"{units}.pdf"
        subprocess.run([*COMMAND, *of(small, alone, units)], check=True, capture_output=True, timeout=60)
        apart[units] = alone.read_bytes()
    assert apart["us"] != apart["si"]
    runs = [subprocess.Popen([*COMMAND, *of(small, target, one)], stdout=subprocess.DEVNULL) for one in ("us", "si")]
    assert [run.wait(timeout=60) for run in runs] == [0, 0]
    assert target.read_bytes() in apart.values()
    assert {one.name for one in tmp_path.iterdir()} == {"a.pdf", "us.pdf", "si.pdf"}


def of(source, target, units):
    return ["report", str(source), "-o", str(target), "--units", units, "--date", "2026-01-01"]
