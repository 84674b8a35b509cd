"""Where a file gives ranges: what would be worse at their ends than in the middle that all other figures are for?"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from pydantic import ValidationError

from brimfast.assess.doubt.targets import There
from brimfast.assess.doubt.unknowns import Unknown, ranges_of_file
from brimfast.assess.memo import Memo
from brimfast.assess.pipeline import before_water
from brimfast.shared.edits import edited
from brimfast.shared.errors import InputError, Problem
from brimfast.shared.findings import Finding
from brimfast.shared.installation.disagreements import disagreements
from brimfast.shared.installation.model import Installation

RANK = {"holds": 0, "not assessed": 1, "close": 2, "short": 3}


@dataclass(frozen=True)
class End:
    """One end of a range, and the findings that are worse there."""

    unknown: Unknown
    upper: bool
    worse: tuple[Finding, ...]


def ends(raw: Any, findings: tuple[Finding, ...]) -> tuple[End, ...]:
    """Both ends of each range, one range at a time; water that runs is left to the middle.

    Raises InputError where the file with an end in the range's place is no installation.
    """
    before = {one.id: one for one in findings}
    memo = Memo()
    found = []
    for unknown in ranges_of_file(raw):
        for upper in (False, True):
            changed = _at_end(raw, unknown, upper)
            dry = before_water(changed, memo)
            worse = tuple(one for one in dry.findings if _worse(before.get(one.id), one))
            found.append(End(unknown, upper, worse))
    return tuple(found)


def must_fit(raw: Any) -> None:
    """Raises InputError where the file with an end in a range's place is no installation."""
    for unknown in ranges_of_file(raw):
        for upper in (False, True):
            _at_end(raw, unknown, upper)


def _at_end(raw: Any, unknown: Unknown, upper: bool) -> Installation:
    target, spread = unknown.target, unknown.spread
    assert isinstance(target, There)
    try:
        changed = Installation.model_validate(edited(raw, target.edits(spread.high if upper else spread.low)))
    except ValidationError as error:
        raise InputError([_refused(target, upper, str(error.errors()[0]["msg"]))]) from None
    problems = disagreements(changed)
    if problems:
        raise InputError([_refused(target, upper, problems[0].message)])
    return changed


def _refused(target: There, upper: bool, message: str) -> Problem:
    return Problem("E-FIT-001", f"at the {'upper' if upper else 'lower'} end of the range: {message}", target.path)


def _worse(before: Finding | None, now: Finding) -> bool:
    """A worse verdict that matters."""
    if before is None:
        return now.verdict in ("close", "short")
    return RANK[now.verdict] > RANK[before.verdict] and now.verdict in ("close", "short")
