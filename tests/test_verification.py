"""The verification manual says what the tests of tests/published compare, all of them, and shows what fails."""

import re
import subprocess
import sys
from pathlib import Path

import numpy as np

from tests.verification import FOLDER, Check, Comparison, Manual, document, heading

MANUAL = Path(__file__).parent.parent / "docs" / "verification.md"


def test_every_outside_check_is_in_the_manual():
    text = MANUAL.read_text(encoding="utf-8")
    for file in sorted(FOLDER.glob("test_*.py")):
        section = text.partition(f"\n## {heading(file.name)}\n")[2].partition("\n## ")[0]
        for name in re.findall(r"^def (test_\w+)", file.read_text(encoding="utf-8"), re.M):
            assert f"### {heading(name)}\n" in section, f"{file.name}: {name}; make the manual anew (see DEVELOPERS.md)"


def test_made_anew_it_says_the_same(tmp_path):
    """Of a file whose figures are simple: the whole takes half a minute."""
    out = tmp_path / "manual.md"
    command = [sys.executable, "-m", "pytest", "-q", "-p", "no:xdist", "-p", "tests.verification", "--manual", str(out)]
    root = MANUAL.parent.parent
    ran = subprocess.run([*command, "tests/published/test_beams.py"], cwd=root, capture_output=True, text=True)
    assert ran.returncode == 0, ran.stdout + ran.stderr
    section = out.read_text(encoding="utf-8").partition("\n## ")[2].strip()
    assert len(section) > 500
    assert section in MANUAL.read_text(encoding="utf-8")


def test_what_fails_is_shown():
    good, bad = (Check("test_a.py", f"test_one[{n}]", "Source", "passed") for n in "ab")
    good.comparisons.append(Comparison(3, np.array([100.0]), np.array([100.4]), "abs 0.5", True))
    bad.comparisons.append(Comparison(3, np.array([100.0]), np.array([101.0]), "abs 0.5", False))
    bad.outcome = "failed"
    text = document(Manual({"1": good, "2": bad}, {"test_a.py": "A book, 2nd edition."}))
    assert "**1 do not pass**: test_one[b]" in text
    assert "| a | 100 | 100.4 | +0.40 % | abs 0.5 |  |" in text
    assert "| b | 100 | 101 | +1.00 % | abs 0.5 | **✗** |" in text


def test_of_many_figures_the_farthest_is_shown():
    check = Check("test_a.py", "test_many", "", "passed")
    published = np.linspace(1, 2, 20)
    ours = published.copy()
    ours[7] *= 1.01
    check.comparisons.append(Comparison(3, published, ours, "rel 0.02", True))
    text = document(Manual({"1": check}, {"test_a.py": ""}))
    assert "farthest of 20" in text and "+1.00 %" in text
