"""A fuzzer on what reads files and quantities: the text goes where coverage leads it.

python -m tests.fuzz.reading [files|quantities] [budget in runs]

Anything but an installation, a finite number or our own error is a fault; so is a line that a terminal would obey. What
was found lies in the folder that is named at the end: put it in tests/bad_files, or in a test of the units.
"""

import math
import sys
import tempfile
from pathlib import Path

import atheris

with atheris.instrument_imports(include=["brimfast.shared", "brimfast.assess.demand.inputs"]):
    from brimfast.assess.demand.inputs import file_problems
    from brimfast.shared.errors import CODES, InputError
    from brimfast.shared.reading import read_bytes
    from brimfast.shared.uncertain import read_uncertain
    from brimfast.shared.units import _SPELLINGS, QUANTITIES, UnitError, parse, parse_pair

BAD_FILES = Path(__file__).parent.parent / "bad_files"
LONGEST = {"files": 4096, "quantities": 80}  # bytes
RUNS = {"files": 20_000, "quantities": 500_000}  # some minutes each
KINDS = tuple(QUANTITIES)
WORDS = (*_SPELLINGS, " to ", "±", " x ", " at ", "1/2", "e9", "8 ft 6 in")


def file(data):
    try:
        assert read_bytes(data, "fuzz.yaml", file_problems).installation.vessels
    except InputError as error:
        assert error.problems
        for problem in error.problems:
            line = problem.text()
            assert problem.code in CODES and line.isprintable() and len(line) < 1000, line


def quantity(data):
    kind, text = KINDS[data[0] % len(KINDS) if data else 0], data[1:].decode("utf-8", "replace")
    for read in (parse, parse_pair, read_uncertain):
        try:
            found = read(text, kind)
        except UnitError as error:
            assert error.code in CODES and error.message.isprintable() and len(error.message) < 400, error.message
        else:
            numbers = found if isinstance(found, tuple) else (found,)
            assert all(one is None or math.isfinite(one) for one in numbers), (text, numbers)


def seeds(what, folder):
    """Where it begins: the bad files; of each kind of quantity its example."""
    if what == "files":
        return BAD_FILES
    for number, kind in enumerate(QUANTITIES.values()):
        for unit, text in enumerate((kind.example, f"1 {kind.us[0]}", f"2 to 3 {kind.si[0]}", f"9 ± 1 {kind.us[0]}")):
            (folder / f"seed-{number}-{unit}").write_bytes(bytes([number]) + text.encode())
    return folder


def main():
    what = sys.argv[1] if len(sys.argv) > 1 else "files"
    runs = int(sys.argv[2]) if len(sys.argv) > 2 else RUNS[what]
    folder = Path(tempfile.mkdtemp(prefix="fuzz-"))
    (folder / "found").mkdir()
    (folder / "seeds").mkdir()
    escaped = ("".join(f"\\x{byte:02x}" for byte in word.encode()) for word in WORDS)
    (folder / "words").write_text("".join(f'"{word}"\n' for word in escaped), encoding="ascii")
    options = [f"-runs={runs}", f"-max_len={LONGEST[what]}", f"-dict={folder / 'words'}", "-timeout=10"]
    options += [f"-artifact_prefix={folder / 'found'}/", "-rss_limit_mb=1024", "-seed=1", "-verbosity=0"]
    atheris.Setup(
        [sys.argv[0], *options, str(folder / "found"), str(seeds(what, folder / "seeds"))],
        {"files": file}.get(what, quantity),
    )
    print(f"{runs} runs on {what}; what is found lies in {folder / 'found'}", flush=True)
    atheris.Fuzz()


if __name__ == "__main__":
    main()
