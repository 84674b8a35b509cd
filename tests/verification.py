"""Writes down every comparison of tests/published as it is made: `pytest tests/published -p tests.verification --manual FILE`.

What the outside source says stands in the tests' own docstrings; the figures are those that the tests compare. A check that
fails is in the document as one that fails.
"""

from __future__ import annotations

import inspect
import re
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np
import pytest

FOLDER = Path(__file__).parent / "published"
MOST_ROWS = 8  # that one line of a test compares: of more only the farthest apart
REAL_APPROX = pytest.approx


@dataclass
class Comparison:
    line: int
    published: np.ndarray
    ours: np.ndarray
    tolerance: str
    agrees: bool


@dataclass
class Check:
    """One test of tests/published, with what it compared."""

    file: str
    name: str
    said: str
    outcome: str = "not run"
    comparisons: list[Comparison] = field(default_factory=list)


@dataclass
class Manual:
    checks: dict[str, Check] = field(default_factory=dict)
    files: dict[str, str] = field(default_factory=dict)
    now: Check | None = None


class Noted:
    """Compares as pytest.approx does, and keeps what was compared."""

    __array_ufunc__ = None
    __array_priority__ = 1000
    __hash__ = None

    def __init__(self, manual, expected, tolerance, approx, line):
        self.manual, self.expected, self.tolerance, self.approx, self.line = manual, expected, tolerance, approx, line

    def __eq__(self, actual):
        agrees = bool(actual == self.approx)
        published, ours = figures(self.expected), figures(actual)
        if self.manual.now is not None and published is not None and ours is not None and published.shape == ours.shape:
            self.manual.now.comparisons.append(Comparison(self.line, published, ours, self.tolerance, agrees))
        return agrees

    def __ne__(self, actual):
        return not self == actual

    def __repr__(self):
        return repr(self.approx)


def figures(value):
    """A row of numbers; None of what is none."""
    if isinstance(value, dict):
        value = list(value.values())
    try:
        return np.atleast_1d(np.asarray(value, dtype=float)).ravel()
    except (TypeError, ValueError):
        return None


def pytest_addoption(parser):
    parser.addoption("--manual", metavar="FILE", help="write the verification manual to FILE")


def pytest_configure(config):
    if config.getoption("--manual"):
        config.pluginmanager.register(Recorder(Path(config.getoption("--manual"))), "verification manual")


class Recorder:
    def __init__(self, path: Path) -> None:
        self.path, self.manual = path, Manual()

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_call(self, item):
        if Path(item.path).parent != FOLDER:
            return (yield)
        self.manual.files.setdefault(item.path.name, inspect.getdoc(item.module) or "")
        check = Check(item.path.name, item.name, inspect.getdoc(item.function) or "")
        self.manual.checks[item.nodeid] = self.manual.now = check

        def approx(expected, rel=None, abs=None, nan_ok=False):
            tolerance = ", ".join(
                f"{word} {value:g}" for word, value in (("rel", rel), ("abs", abs)) if value is not None
            )
            line = inspect.currentframe().f_back.f_lineno
            return Noted(
                self.manual,
                expected,
                tolerance or "rel 1e-06",
                REAL_APPROX(expected, rel=rel, abs=abs, nan_ok=nan_ok),
                line,
            )

        pytest.approx = approx
        try:
            return (yield)
        finally:
            pytest.approx = REAL_APPROX
            self.manual.now = None

    def pytest_runtest_logreport(self, report):
        check = self.manual.checks.get(report.nodeid)
        if check is not None and (report.when == "call" or report.outcome != "passed"):
            check.outcome = report.outcome

    def pytest_sessionfinish(self):
        beside = self.path.with_name(f".{self.path.name}.part")
        beside.write_text(document(self.manual), encoding="utf-8")
        beside.replace(self.path)


def document(manual: Manual) -> str:
    """By file and test, in their own order."""
    checks = list(manual.checks.values())
    compared = sum(each.published.size for check in checks for each in check.comparisons)
    failed = [check for check in checks if check.outcome != "passed"]
    lines = [
        "# Verification manual",
        "",
        "Made by `pytest tests/published -p tests.verification --manual docs/verification.md` from the tests as they run; do not "
        "edit it. Each table sets what somebody else published, or what a general-purpose library computes, beside what brimfast "
        "computes. The source stands above the table, in the words of the test; `from memory` means that it was not looked up and "
        "proves nothing by itself.",
        "",
        f"{len(checks)} checks in {len(manual.files)} files, {compared} figures. "
        + (f"**{len(failed)} do not pass**: " + ", ".join(check.name for check in failed) if failed else "All pass."),
        "",
    ]
    for file, doc in sorted(manual.files.items()):
        lines += [f"## {heading(file)}", "", *quoted(doc), f"Source of the checks: `tests/published/{file}`", ""]
        for name, group in grouped([check for check in checks if check.file == file]):
            lines += [f"### {heading(name)}", ""]
            if group[0].said:
                lines += quoted(group[0].said)
            rows = [row for check in group for row in rows_of(check)]
            plain = [check for check in group if not check.comparisons]
            if rows:
                lines += [
                    "| case | published | brimfast | difference | allowed | |",
                    "|---|---:|---:|---:|---|---|",
                    *rows,
                    "",
                ]
            if plain:
                bad = [check.name for check in plain if check.outcome != "passed"]
                said = f"**fails: {', '.join(bad)}**" if bad else "passes"
                lines += [f"{len(plain)} without a figure to print (an inequality or a refusal): {said}.", ""]
    return "\n".join(lines).rstrip() + "\n"


def grouped(checks):
    """By the name of the test without its case."""
    found: dict[str, list[Check]] = {}
    for check in checks:
        found.setdefault(check.name.partition("[")[0], []).append(check)
    return found.items()


def rows_of(check: Check):
    """Every figure, or of many that one line of the test compares the farthest apart."""
    case = (check.name.partition("[")[2].removesuffix("]") or "–").replace("|", "/")
    by_line: dict[int, list[Comparison]] = {}
    for each in check.comparisons:
        by_line.setdefault(each.line, []).append(each)
    for group in by_line.values():
        published, ours = (np.concatenate([getattr(each, name) for each in group]) for name in ("published", "ours"))
        agrees, tolerance = all(each.agrees for each in group), group[0].tolerance
        shown, said = range(published.size), case
        if published.size > MOST_ROWS:
            apart = np.abs(ours - published) / np.maximum(np.abs(published), 1e-300)
            far = int(np.nanargmax(np.where(published == 0, 0.0, apart))) if np.isfinite(apart).any() else 0
            shown, said = [far], f"{case}, farthest of {published.size}"
        for at in shown:
            yield (
                f"| {said} | {number(published[at])} | {number(ours[at])} | {difference(published[at], ours[at])} "
                f"| {tolerance} | {'' if agrees else '**✗**'} |"
            )
    if check.comparisons and check.outcome != "passed" and all(each.agrees for each in check.comparisons):
        yield f"| {case} | | | | | **✗ {check.outcome}** |"


def number(value: float) -> str:
    return f"{value:.5g}"


def difference(published: float, ours: float) -> str:
    """In percent of what is published; nothing below what rounding on another machine may change."""
    if not np.isfinite(published) or not np.isfinite(ours):
        return "" if str(published) == str(ours) else "–"
    apart = ours - published
    if published == 0:
        return "0" if abs(apart) < 1e-6 else f"{apart:.1e}"
    share = 100 * apart / abs(published)
    return "0" if abs(share) < 5e-3 else f"{share:+.2f} %"


def heading(name: str) -> str:
    text = re.sub(r"^test_|\.py$", "", name).replace("_", " ")
    return text[:1].upper() + text[1:]


def quoted(doc: str) -> list[str]:
    return [*(f"> {line}".rstrip() for line in doc.strip().splitlines()), ""] if doc.strip() else []
