"""The machine-readable face of doubt."""

from __future__ import annotations

import json
from typing import Any

from brimfast import __version__
from brimfast.assess.doubt.doubt import Chance, Doubt, Year
from brimfast.reports import doubt_words as say
from brimfast.reports.doubting import PlanDoubt


def doubt_json(found: Doubt, other: Doubt | None, plans: tuple[PlanDoubt, ...] = (), utf8: bool = True) -> str:
    whole = _side(found)
    if other is not None:
        whole["changed"] = _side(other)
    if plans:
        whole["plans"] = [{"names": list(one.plan.names), **_side(one.doubt)} for one in plans]
    return json.dumps(whole, indent=2, ensure_ascii=not utf8, allow_nan=False)


def _side(found: Doubt) -> dict[str, Any]:
    low, middle, high = found.litres
    return {
        "brimfast": __version__,
        "installation": {"name": found.installation.installation, "invented": found.installation.invented},
        "samples": found.samples,
        "seed": found.seed,
        "runs": {"learned": found.runs.learned, "checked": found.runs.checked, "unfit": found.runs.unfit},
        "convergence": [{"samples": count, "largest_change": apart} for count, apart in found.running],
        "design_earthquake": {"once_in_years": found.curve.design_years, "hazard_given": found.curve.given},
        "unknowns": [
            {
                "name": one.name,
                "spread": {"shape": one.spread.shape, "low": one.spread.low, "high": one.spread.high},
                "text": one.value.text,
                "provenance": one.value.provenance,
                "source": one.value.source,
                "measure": one.measure,
            }
            for one in found.unknowns
        ],
        "outcomes": {
            "tips": _year(found.tips),
            "joints": _year(found.joints),
            "water": _year(found.water),
            "litres": {"p05": low, "p50": middle, "p95": high},
            "cost": {
                "currency": found.currency,
                "design_mean": found.design_loss,
                "yearly_mean": found.yearly_loss,
                "why_not": found.loss_why,
            },
        },
        "limits": [_chance(one, found) for one in found.limits],
        "measure_first": [{"name": one.name, "share": share} for one, share in found.measure_first],
        "passed_without_an_earthquake": [one.id for one in found.before],
        "hazard": [
            {"name": value.name, "text": value.text, "provenance": value.provenance, "source": value.source}
            for value in found.curve.values
        ],
        "not_in_it": [*say.NOT_IN, say.CODE],
    }


def _year(year: Year | None) -> dict[str, Any] | None:
    """Nothing where there is nothing of its kind; null where all of it is passed without an earthquake."""
    if year is None:
        return None
    return {
        "design": year.design,
        "yearly": year.yearly,
        "in_ten_years": None if year.yearly is None else say.in_years(year.yearly, 10),
        "passed_without_an_earthquake": [one.id for one in year.already],
    }


def _chance(one: Chance, found: Doubt) -> dict[str, Any]:
    return {
        "id": one.limit.id,
        "topic": one.limit.topic,
        "subject": one.limit.subject,
        "question": one.limit.question,
        "ratio": None if one.ratio > say.NO_RATIO else one.ratio,
        "chance": one.chance,
        "standard_error": one.error,
        "misfit": one.misfit,
        "shares": {unknown.name: share for unknown, share in zip(found.unknowns, one.shares, strict=True)},
    }
