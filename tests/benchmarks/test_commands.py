"""How long do commands take, as people run them? Printed, not asserted: start-up, the report, a folder of a thousand files."""

import os
import subprocess
import sys
import time

import pytest

from brimfast.reports.batch import checked, files_of
from brimfast.shared.demo import demo
from tests.builders import RACK, WEIGHED

pytestmark = pytest.mark.timeout(900)
FILES = 1000
BEST_OF = 5


def best(command, cwd):
    """The shortest of a few runs: what else the machine does only adds."""
    taken = []
    for _ in range(BEST_OF):
        start = time.perf_counter()
        done = subprocess.run([sys.executable, "-m", "brimfast", *command], cwd=cwd, capture_output=True)
        taken.append(time.perf_counter() - start)
        assert done.returncode in (0, 1), done.stderr
    return min(taken)


@pytest.mark.parametrize(
    "command",
    [
        ["--help"],
        ["check", "full.yaml"],
        ["report", "full.yaml", "-o", "r.pdf"],
        ["report", "full.yaml", "-o", "r.html"],
    ],
)
def test_one_command(command, tmp_path, capsys):
    (tmp_path / "full.yaml").write_text(demo("nursery").text, encoding="utf-8")
    taken = best(command, tmp_path)
    with capsys.disabled():
        print(f"\nbrimfast {' '.join(command)}: {taken:.2f} s, the shortest of {BEST_OF}")


def test_a_folder_of_a_thousand_files(tmp_path, capsys):
    """Weighed tanks, racks with a tank, and one in ten that is wrong."""
    for number in range(FILES):
        text = (RACK if number % 3 == 0 else WEIGHED).replace("S_DS: 1.0", f"S_DS: {0.5 + number / FILES:.4f}")
        if number % 10 == 9:
            text = text.replace("sill:", "sil:")
        (tmp_path / f"{number:04}.yaml").write_text(text, encoding="utf-8")
    for processes in (os.cpu_count() or 1, 1):
        part = files_of(tmp_path) if processes > 1 else files_of(tmp_path)[: FILES // 5]
        start = time.perf_counter()
        rows = list(checked(part, processes))
        taken = time.perf_counter() - start
        assert sum(row.code == 2 for row in rows) == len(part) // 10
        with capsys.disabled():
            print(f"\n{len(part)} files in {processes} process(es): {taken:.1f} s, {len(part) / taken:.0f} files/s")
