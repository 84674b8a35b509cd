"""The machine-readable plan: every measure, every set on the way, every plan with before and after."""

from __future__ import annotations

import json
import math
from typing import Any

from brimfast import __version__
from brimfast.assess.measures.measure import Measure, Takes
from brimfast.assess.plan.improve import Improvement, Part, Plan, Ranked
from brimfast.assess.plan.score import Answer, Change
from brimfast.reports import improve_words as say


def improvement_json(improvement: Improvement, utf8: bool = True) -> str:
    installation = improvement.assessment.installation
    whole = {
        "brimfast": __version__,
        "installation": {"name": installation.installation, "invented": installation.invented},
        "spares": improvement.by,
        "asked_to_spare": improvement.asked,
        "measures_without_a_price": improvement.unpriced,
        "currency": installation.exposure.currency,
        "before": {
            "short": say.short_count(improvement.assessment),
            "shortfall": improvement.now.shortfall,
            "overload": improvement.now.overload,
        },
        "search": {
            "combinations": improvement.combinations,
            "assessed": improvement.assessed,
            "parts": [_part(part) for part in improvement.parts],
            "thinned": improvement.thinned,
        },
        "measures": [_ranked(one) for one in improvement.ranked],
        "cannot_be_built": [_measure(one) for one in improvement.unfit],
        "plans": [_plan(plan) for plan in improvement.plans],
        "cautions": list(say.CAUTIONS),
    }
    return json.dumps(whole, indent=2, ensure_ascii=not utf8, allow_nan=False)


def _measure(one: Measure) -> dict[str, Any]:
    return {
        "id": one.id,
        "subject": one.subject,
        "title": one.title,
        "changes": [{"path": list(edit.path), "how": edit.how, "value": edit.value} for edit in one.edits],
        "needs": [{"item": need.item, "count": need.count, "what": need.what} for need in one.needs],
        "first": list(one.first),
        "steps": list(one.steps),
    }


def _part(part: Part) -> dict[str, Any]:
    untried = None if part.tried >= part.of else part.untried
    return {"part": part.name, "tried": part.tried, "of": part.of, "cheapest_untried": untried}


def _takes(one: Takes) -> dict[str, Any]:
    least = {} if one.low is not None else {"at_least": one.known[0]}
    return {"low": one.low, "high": one.high, **least, "hours": [one.low_hours, one.high_hours]}


def _answer(one: Answer | None) -> dict[str, Any] | None:
    return None if one is None else {"verdict": one.verdict, "ratio": one.ratio}


def _change(one: Change) -> dict[str, Any]:
    return {"finding": one.id, "before": _answer(one.before), "after": _answer(one.after)}


def _ranked(one: Ranked) -> dict[str, Any]:
    return {
        **_measure(one.measure),
        "takes": _takes(one.takes),
        "gain": {"shortfall": one.gain.shortfall, "overload": one.gain.overload},
        "better": [_change(change) for change in one.better],
        "worse": [_change(change) for change in one.worse],
    }


def _plan(plan: Plan) -> dict[str, Any]:
    return {
        "names": list(plan.names),
        "measures": [measure.id for measure in plan.measures],
        "takes": _takes(plan.takes),
        "short": say.short_count(plan.assessment),
        "shortfall": plan.left.shortfall,
        "overload": plan.left.overload,
        "could_save": plan.gap if math.isfinite(plan.gap) else None,
        "not_tried_without": plan.unproven,
        "better": [_change(change) for change in plan.better],
        "worse": [_change(change) for change in plan.worse],
        "findings": {
            one.id: {"verdict": one.verdict, "ratio": one.ratio} for one in plan.assessment.findings if not one.practice
        },
        "needs": [{"count": need.count, "item": need.item, "what": need.what} for need in plan.needs],
    }
