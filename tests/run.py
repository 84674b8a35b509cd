"""All tests: first those that ask the computation, with its coverage, then the others without, which take twice as long with it."""

import subprocess
import sys
from pathlib import Path

COUNTED = ("tests/assess", "tests/published", "tests/data_tables", "tests/reports/test_bad_files.py")
OTHERS = ("tests", *(f"--ignore={name}" for name in COUNTED))
COVERAGE = ("--cov", "--cov-report=")  # the floor stands in pyproject.toml


def main():
    """Options of pytest may be given; else in as many processes as there are cores."""
    options = sys.argv[1:] or ["-n", "auto"]
    parts = [[*COUNTED, *COVERAGE], OTHERS]
    top = Path(__file__).parents[1]
    return max(
        subprocess.run([sys.executable, "-m", "pytest", *part, *options], cwd=top, check=False).returncode
        for part in parts
    )


if __name__ == "__main__":
    sys.exit(main())
