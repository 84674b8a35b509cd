"""What a model finds wrong with raw values, in our words."""

from __future__ import annotations

from typing import Any, get_args, get_origin

from pydantic import BaseModel, ValidationError

from brimfast.shared.errors import KeyPath, Problem
from brimfast.shared.installation.fields import kind_of_value, nearest, nearest_word


def details_of(error: ValidationError) -> list[dict[str, Any]]:
    return [dict(detail) for detail in error.errors(include_url=False, include_input=False)]


def problem_of(detail: dict[str, Any], model: type[BaseModel], raw: Any) -> Problem:
    kind = str(detail["type"])
    path = tuple(step for step in detail["loc"] if isinstance(step, int) or step != "[key]")
    if kind.startswith("E-"):
        return Problem(kind, str(detail["msg"]), path)
    if kind == "extra_forbidden":
        known = known_keys(model, path[:-1])
        key = str(path[-1])
        listed = f"; known here: {', '.join(known)}" if not nearest(key, known) and len(known) <= 12 else ""
        return Problem("E-KEY-001", f"unknown key{nearest(key, known)}{listed}", path, at_key=True)
    if kind == "missing":
        return Problem("E-KEY-002", f"missing the key {str(path[-1])!r}", path[:-1])
    found = kind_of_value(_at(raw, path))
    context = detail.get("ctx") or {}
    if kind in {"too_long", "too_short"}:
        bound = (
            f"at most {context.get('max_length')}" if kind == "too_long" else f"at least {context.get('min_length')}"
        )
        return Problem("E-RANGE-001", f"found {context.get('actual_length')} entries; expected {bound}", path)
    wanted = {
        "model_type": "a group of keys",
        "model_attributes_type": "a group of keys",
        "dict_type": "a group of keys",
        "list_type": "a list (lines that begin with '- ')",
        "string_type": "a text",
        "finite_number": "a finite number",
    }.get(kind, str(detail["msg"]))
    return Problem("E-TYPE-001", f"found {found}; expected {wanted}", path)


def without_misspelt(details: list[dict[str, Any]], model: type[BaseModel]) -> list[dict[str, Any]]:
    """A missing key that stands misspelt beside is one problem, not two."""
    meant = set()
    for detail in details:
        if detail["type"] == "extra_forbidden":
            group, key = detail["loc"][:-1], detail["loc"][-1]
            meant.add((*group, nearest_word(key, known_keys(model, group))))
    return [detail for detail in details if detail["type"] != "missing" or detail["loc"] not in meant]


def _at(raw: Any, path: KeyPath) -> Any:
    node = raw
    for step in path:
        try:
            node = node[step]
        except (KeyError, IndexError, TypeError):
            return None
    return node


def known_keys(model: type[BaseModel], path: KeyPath) -> list[str]:
    """The keys that the model knows at a path."""
    annotation: Any = model
    for step in path:
        annotation = _step(annotation, step)
    found = _model_in(annotation)
    if found is None:
        return []
    return [field.alias or name for name, field in found.model_fields.items()]


def _model_in(annotation: Any) -> type[BaseModel] | None:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    return next((model for part in get_args(annotation) if (model := _model_in(part)) is not None), None)


def _step(annotation: Any, step: str | int) -> Any:
    if get_origin(annotation) in (list, dict):
        return get_args(annotation)[-1]
    model = _model_in(annotation)
    if model is None:
        return None
    for name, field in model.model_fields.items():
        if step in (name, field.alias):
            return field.annotation
    return annotation
