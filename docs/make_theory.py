"""Writes docs/theory.md from the docstrings of the formula functions, so that it says what they do: `python docs/make_theory.py`."""

from __future__ import annotations

import importlib
import inspect
import pkgutil
import sys
from collections.abc import Iterator
from pathlib import Path
from types import FunctionType, ModuleType

import brimfast.assess

TARGET = Path(__file__).with_name("theory.md")
# In the order of the load, then the water, then chances.
CHAPTERS = (
    ("Weights", ("weight", "gravity", "continuous_beam")),
    ("The earthquake", ("demand.", "combinations")),
    ("The rack as a frame", ("frame.",)),
    ("Timber", ("timber.", "members.")),
    ("Joints", ("joints.", "wall_support")),
    ("The floor", ("floor",)),
    ("Tipping, sliding, anchors", ("tipping", "sliding", "anchors", "as_one", "beyond.")),
    ("Sway", ("sway.",)),
    ("What hangs", ("hung.",)),
    ("Waves", ("slosh.",)),
    ("Water", ("network.", "spill.", "practice.")),
    ("What it touches", ("exposure.",)),
    ("What to fix first", ("plan.",)),
    ("How likely", ("doubt.",)),
)


def modules() -> Iterator[ModuleType]:
    for found in pkgutil.walk_packages(brimfast.assess.__path__, "brimfast.assess."):
        yield importlib.import_module(found.name)


def is_formula(function: FunctionType) -> bool:
    """Numbers in, numbers out: it takes arrays, and says what it computes."""
    taken = inspect.signature(function).parameters.values()
    return bool(inspect.getdoc(function)) and any("ArrayLike" in str(one.annotation) for one in taken)


def formulas(module: ModuleType) -> list[FunctionType]:
    mine = [one for _, one in inspect.getmembers(module, inspect.isfunction) if one.__module__ == module.__name__]
    public = [one for one in mine if not one.__name__.startswith("_") and is_formula(one)]
    return sorted(public, key=lambda one: one.__code__.co_firstlineno)


def document() -> str:
    lines = [
        "# Theory",
        "",
        "Every formula of brimfast as the code says it: what it computes, its symbols with units, where it ends, where it was read. "
        "Made by `python docs/make_theory.py` from the functions themselves; do not edit it. How far each is from what others "
        "published stands in [verification.md](verification.md); figures of tables and their sources in `brimfast/data_tables/`.",
        "",
    ]
    every = {module.__name__.removeprefix("brimfast.assess."): module for module in modules()}
    told: set[str] = set()
    for title, prefixes in CHAPTERS:
        mine = [
            name
            for prefix in prefixes
            for name in sorted(every)
            if (name == prefix or (prefix.endswith(".") and name.startswith(prefix))) and formulas(every[name])
        ]
        told |= set(mine)
        if mine:
            lines += [f"## {title}", ""]
        for name in mine:
            lines += [f"### `{name}`", "", _text(inspect.getdoc(every[name]) or ""), ""]
            for function in formulas(every[name]):
                symbols = ", ".join(inspect.signature(function).parameters)
                lines += [f"- **`{function.__name__}({symbols})`**  ", *_indented(inspect.getdoc(function) or ""), ""]
    left = sorted(name for name, module in every.items() if formulas(module) and name not in told)
    if left:
        raise SystemExit(f"docs/make_theory.py: no chapter for {', '.join(left)}")
    return "\n".join(lines).rstrip() + "\n"


def _text(doc: str) -> str:
    return "\n".join(line.strip() for line in doc.splitlines())


def _indented(doc: str) -> list[str]:
    return [f"  {line.strip()}".rstrip() for line in doc.splitlines()]


if __name__ == "__main__":
    TARGET.write_text(document(), encoding="utf-8")
    sys.stdout.write(f"wrote {TARGET.name}\n")
