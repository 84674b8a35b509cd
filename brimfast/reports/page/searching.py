"""The search for plans in the background: how far it is, what it found, and for which state of the file."""

from __future__ import annotations

import threading
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from brimfast.assess.plan.improve import Improvement, Plan, improve
from brimfast.assess.processes import DONE, FAILED, TELLS, Errand
from brimfast.reports import improve_words, words
from brimfast.reports.improve_words import MEANING, hours_text, money_text, plan_title, step_text
from brimfast.reports.page import page_words
from brimfast.reports.plan_content import Planned
from brimfast.shared.installation.model import Installation

MOST_STEPS = 10
Report = Callable[[str, int, int], None]


@dataclass(frozen=True)
class Progress:
    """state: none, runs, done, failed or stopped. done, of: sets tried, of how many in this part of it."""

    state: str = "none"
    said: str = ""
    done: int = 0
    of: int = 0


@dataclass(frozen=True)
class PlanShown:
    """One plan in words."""

    name: str
    title: str
    meaning: str
    takes: str
    measures: tuple[str, ...]
    better: tuple[str, ...]
    more: int  # that get better and are not named
    worse: tuple[str, ...]
    left: str
    shopping: tuple[tuple[str, str, str], ...]


@dataclass(frozen=True)
class Shown:
    """How a search stands. note: why no plans are shown."""

    progress: Progress
    plans: tuple[PlanShown, ...] = ()
    note: str = ""


class Search:
    """Of one file. revision: the state of the file that it was begun for."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._errand: Errand | None = None
        self._progress = Progress()
        self._revision = ""
        self._improvement: Improvement | None = None

    def begin(self, revision: str, installation: Installation, raw: Mapping[str, Any]) -> None:
        """Any other that runs is ended. Where no process can be had it has failed before it began."""
        with self._lock:
            self._end()
            try:
                errand = Errand(_improved, installation, dict(raw))
            except (OSError, ImportError) as error:
                why = (getattr(error, "strerror", None) or "no process can be had").lower()
                self._progress = Progress("failed", page_words.SEARCH_FAILED.format(why=why))
                return
            self._errand, self._revision, self._improvement = errand, revision, None
            self._progress = Progress("runs", page_words.SEARCH_BEGINS)
        threading.Thread(target=self._listen, args=(errand,), daemon=True).start()

    def stop(self) -> None:
        with self._lock:
            if self._progress.state == "runs":
                self._end()
                self._progress = Progress("stopped", page_words.SEARCH_STOPPED)

    def _end(self) -> None:
        if self._errand is not None:
            self._errand.end()
            self._errand = None

    def _listen(self, errand: Errand) -> None:
        for what, told in errand.news():
            with self._lock:
                if errand is not self._errand:
                    return  # another one has begun, or it was stopped
                if what == TELLS:
                    name, done, of = told
                    said = page_words.SEARCHING.format(what=name, done=done, of=of)
                    self._progress = Progress("runs", said, done, of)
                elif what == DONE:
                    self._improvement = told
                    self._progress = Progress("done", improve_words.tried_text(told))
                elif what == FAILED:
                    self._progress = Progress("failed", page_words.SEARCH_FAILED.format(why=told))

    def _now(self) -> tuple[Progress, Improvement | None, str]:
        """What belongs together: another search may begin at any time."""
        with self._lock:
            return self._progress, self._improvement, self._revision

    def plan(self, name: str, revision: str) -> Planned | None:
        """As long as the file is what it was searched for."""
        _, found, of = self._now()
        plan = improve_words.the_plan(found, name) if found is not None and revision == of else None
        return Planned(found, plan) if found is not None and plan is not None else None

    def shown(self, revision: str) -> Shown:
        progress, found, of = self._now()
        if found is None:
            return Shown(progress)
        if revision != of:
            return Shown(progress, note=page_words.SEARCH_OLD)
        plans = tuple(_shown(plan, found) for plan in found.plans)
        return Shown(progress, plans, "" if plans else page_words.NO_PLAN)


def _improved(report: Report, installation: Installation, raw: Mapping[str, Any]) -> Improvement:
    return improve(installation, raw, report=report)


def _shown(plan: Plan, found: Improvement) -> PlanShown:
    installation = found.assessment.installation
    left = improve_words.short_count(plan.assessment)
    return PlanShown(
        plan.names[-1],
        plan_title(plan),
        words.capital("; ".join(MEANING[name] for name in plan.names)) + ".",
        f"{hours_text(plan.takes)} of work, {money_text(plan.takes, installation)} for parts.",
        tuple(f"{improve_words.subject_text(one, installation)}: {one.title}" for one in plan.measures),
        tuple(f"{improve_words.about(one)}: {step_text(one)}" for one in plan.better[:MOST_STEPS]),
        max(len(plan.better) - MOST_STEPS, 0),
        tuple(improve_words.worse_text(one) for one in plan.worse),
        "Nothing stays short." if not left else f"{left} checks stay short.",
        tuple(improve_words.need_rows(plan.needs, installation)),
    )
