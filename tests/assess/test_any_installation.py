"""Whatever people write: clear lines, or answers that are whole; and laws that hold for all that is taken."""

import json
import math

import pytest
from hypothesis import HealthCheck, given, settings

from brimfast.assess.pipeline import assess, before_water
from brimfast.shared.errors import CODES, InputError
from brimfast.shared.findings import CLOSE_UP_TO, HOLDS_UP_TO
from brimfast.shared.reading import read_bytes
from tests.installations import installations

STEADY = settings(
    derandomize=True,
    deadline=None,
    max_examples=60,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)


def read(raw):
    return read_bytes(json.dumps(raw, ensure_ascii=False).encode(), "random.yaml").installation


def whole(finding):
    """Verdict, ratio and figures fit each other."""
    assert finding.verdict in ("holds", "close", "short", "not assessed"), finding
    if finding.verdict == "not assessed":
        assert finding.reason, finding
        return
    assert math.isfinite(finding.demand) and math.isfinite(finding.capacity), finding
    assert finding.demand >= 0 and finding.capacity >= 0, finding
    if finding.ratio is None:
        assert finding.capacity == 0 and finding.verdict == "short", finding
        return
    assert finding.ratio >= 0
    wanted = "holds" if finding.ratio <= HOLDS_UP_TO else "close" if finding.ratio <= CLOSE_UP_TO else "short"
    assert finding.verdict == wanted, finding
    if finding.capacity > 0:
        assert finding.ratio == pytest.approx(finding.demand / finding.capacity, rel=1e-9), finding


@STEADY
@given(installations())
def test_clear_lines_or_whole_answers(raw):
    try:
        known = before_water(read(raw))
    except InputError as error:
        for problem in error.problems:
            assert problem.code in CODES and problem.text().isprintable()
        return
    ids = [finding.id for finding in known.findings]
    assert len(ids) == len(set(ids))
    for finding in known.findings:
        whole(finding)
    total = sum(body.mass for body in known.bodies if body.on == "floor")
    parts = sum(one.mass for one in (*known.vessels.values(), *known.racks.values()))
    assert total == pytest.approx(parts, rel=1e-9)


@settings(STEADY, max_examples=12)
@given(installations())
def test_water_is_neither_made_nor_lost(raw):
    try:
        assessment = assess(read(raw))
    except InputError:
        return
    for finding in assessment.findings:
        whole(finding)
    for run in assessment.spill.runs:
        assert abs(run.lost) < 1e-6, run.event.id
        assert run.reached >= 0 and run.leaves >= 0 and run.depth >= 0
