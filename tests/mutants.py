"""Do the tests notice a changed formula? Mutants of some folders or files of brimfast/assess, by mutmut.

python -m tests.mutants [FOLDER or FILE ...]     (needs `pip install '.[deep]'`; without names: the formulas)

Changed are numbers, signs, operators, comparisons and which way a condition goes, not the words of a report. Of each mutant
those tests run that call its function, as many as fit into 2 s, and for what they leave into 10 s; the slow ones not at all.
Printed are mutants that none of them notices, each with its line, but for those that mutants_left.csv knows with a reason;
exit code 1 where there are any.
"""

import csv
import json
import os
import re
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

TOP = Path(__file__).parent.parent
FOLDERS = "timber demand members joints frame sway hung slosh exposure spill network beyond doubt practice"
FILES = (
    "tipping sliding continuous_beam gravity weight anchors floor wall_support combinations bodies stability "
    "as_one required resolve parts weight_lines buildable cautions"
)
FORMULAS = (*FOLDERS.split(), *(f"{name}.py" for name in FILES.split()))
TESTS = ("published/test_*", "assess/test_*", "reports/test_steps")
SLOW = [
    "test_any_installation",
    "test_doubt",
    "test_laws",
    "test_measures",
    "test_plan",
    "test_processes",
    "test_refine",
]
IN_FORKS = ("no:unraisableexception", "no:threadexception")  # what the fork leaves open is no fault of a test
PROGRAM = Path(__file__).parent / "mutants_session.py"
DIFFS = """
import json, sys
from mutmut.mutation.diff_apply import get_diff_for_mutant
print(json.dumps([get_diff_for_mutant(name) for name in sys.stdin.read().splitlines()]))
"""


def settings(sources):
    tests = [
        str(path.relative_to(TOP))
        for name in TESTS
        for path in sorted((TOP / "tests").glob(f"{name}.py"))
        if path.stem not in SLOW
    ]
    lists = {
        "source_paths": sources,
        "also_copy": ["brimfast", "tests", "pyproject.toml", "README.md", "docs"],
        "pytest_add_cli_args": [f"-p{name}" for name in ("no:cacheprovider", "no:xdist", *IN_FORKS)],
        "pytest_add_cli_args_test_selection": tests,
    }
    others = 'process_isolation = "forkserver"\ntimeout_multiplier = 8.0\n'
    return "\n[tool.mutmut]\n" + "".join(f"{key} = {value!r}\n" for key, value in lists.items()) + others


def main():
    names = sys.argv[1:] or [f"brimfast/assess/{name}" for name in FORMULAS]
    work = Path(tempfile.mkdtemp(prefix="mutants-"))
    copied = subprocess.run(["git", "ls-files", "-z"], cwd=TOP, check=True, capture_output=True, text=True).stdout
    for name in copied.split("\0"):
        if name and (TOP / name).is_file():
            (work / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy(TOP / name, work / name)
    with (work / "pyproject.toml").open("a", encoding="utf-8") as stream:
        stream.write(settings(names))
    run(work, 2)
    if again := [name for name, *_ in unknown(work)]:
        run(work, 10, *again)
    return report(work)


def run(work, seconds, *mutants):
    """Those of all mutants, or again some, that tests of so many seconds notice."""
    with (work / "mutants.txt").open("a") as out:
        subprocess.run(
            [sys.executable, "-P", str(PROGRAM), "run", *mutants],
            cwd=work,
            env={**os.environ, "SECONDS": str(seconds)},
            stdout=out,
            stderr=out,
            check=False,
        )


def results(work):
    said = subprocess.run(
        [sys.executable, "-m", "mutmut", "results", "--all", "true"],
        cwd=work,
        capture_output=True,
        text=True,
        check=False,
    )
    return re.findall(r"^\s+(\S+): (survived|no tests|killed|timeout|suspicious)$", said.stdout, re.M)


def changes(work, names):
    """Of each mutant the lines that differ, before → after."""
    said = subprocess.run(
        [sys.executable, "-P", "-c", DIFFS],
        cwd=work,
        input="\n".join(names),
        capture_output=True,
        text=True,
        check=True,
    )
    for diff in json.loads(said.stdout):
        yield " → ".join(line[1:].strip() for line in diff.splitlines() if re.match(r"[+-](?![+-])", line))


def unknown(work):
    """Mutants that no test notices, what became of each, its function and its change, but for those that have a reason."""
    with (TOP / "tests" / "mutants_left.csv").open(encoding="utf-8") as stream:
        left = {(row["function"], row["changed"]) for row in csv.DictReader(stream)}
    unnoticed = [(name, what) for name, what in results(work) if what in ("survived", "no tests")]
    for (name, what), changed in zip(unnoticed, changes(work, [name for name, _ in unnoticed]), strict=True):
        function = re.sub(r"\.x_|__mutmut_\d+$", lambda match: "." if match[0] == ".x_" else "", name)
        if (function, changed) not in left:
            yield name, what, function, changed


def report(work):
    found = results(work)
    if not found:
        print((work / "mutants.txt").read_text()[-3000:])
        return 1
    count = {what: sum(one == what for _, one in found) for what in ("killed", "survived", "no tests", "timeout")}
    print(", ".join(f"{number} {what}" for what, number in count.items()))
    open_ones = list(unknown(work))
    for _, what, function, changed in open_ones:
        print(f"{what}: {function}: {changed}")
    print(f"{len(open_ones)} without a reason; the copy is {work}")
    return int(bool(open_ones))


if __name__ == "__main__":
    sys.exit(main())
