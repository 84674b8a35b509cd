"""From a read file to a result: the steps that all commands share."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any

from brimfast.assess.demand.inputs import file_problems
from brimfast.assess.demand.standard import standards
from brimfast.assess.pipeline import Assessment, assess
from brimfast.reports import summary_words
from brimfast.shared.errors import InputError, OutputError, Problem, printable
from brimfast.shared.installation.fields import Part
from brimfast.shared.installation.model import Installation
from brimfast.shared.reading import Source, located, read_file
from brimfast.shared.uncertain import looks_ranged
from brimfast.shared.units import System
from brimfast.shared.writing import write_whole

KINDS = ("pdf", "html")

if TYPE_CHECKING:
    from brimfast.assess.doubt.doubt import Doubt
    from brimfast.reports.plan_content import Planned


def read_source(file: Path) -> Source:
    """A file read, with what is wrong with its keys, those of its standards among them."""
    return read_file(file, file_problems)


def assess_source(source: Source) -> Assessment:
    """The assessment of a read file; problems found in the tables get their place in the file."""
    try:
        return with_ends(assess(source.installation), source.raw)
    except InputError as error:
        raise InputError(located(error.problems, source)) from None


def with_ends(assessment: Assessment, raw: Any) -> Assessment:
    """Where the file gives ranges, all figures are for their middle; a caution tells what is worse at their ends."""
    if not looks_ranged(raw):
        return assessment
    from brimfast.assess.doubt.ends import ends

    found = ends(raw, assessment.findings)
    if not found:
        return assessment
    short = any(one.verdict == "short" for end in found for one in end.worse)
    return replace(
        assessment, cautions=(*assessment.cautions, summary_words.ranges_caution(found)), short_at_ends=short
    )


def report_date(text: str | None) -> date:
    if text is None:
        return date.today()
    try:
        return date.fromisoformat(text)
    except ValueError:
        message = f"--date: found {text[:40]!r}; expected a date such as 2026-11-25"
        raise InputError([Problem("E-TYPE-001", message)]) from None


def not_the_input(file: Path, target: Path) -> None:
    """A report must never replace the installation file that it is made from."""
    try:
        same = target.exists() and file.samefile(target)
    except OSError:
        return  # writing will say what is wrong with it
    if same:
        raise OutputError(
            [Problem("E-FILE-003", "this is the installation file; expected another name", file=str(target))]
        )


def report_kind(target: Path) -> str:
    """pdf or html, by the ending of the name; anything else is refused."""
    kind = target.suffix.lower().removeprefix(".")
    if kind not in KINDS:
        message = f"--output: found {printable(target.name)[-40:]!r}; expected a name that ends in {' or '.join(f'.{one}' for one in KINDS)}"
        raise InputError([Problem("E-WORD-001", message)])
    return kind


def write_report(
    assessment: Assessment,
    source: Source,
    system: System,
    day: date,
    target: Path,
    planned: Planned | None = None,
    doubted: Doubt | None = None,
) -> None:
    if report_kind(target) == "html":
        from brimfast.reports.html_report import html_bytes

        data = html_bytes(assessment, source.sha256, system, day, planned, doubted)
    else:
        from brimfast.reports.pdf import report_bytes

        data = report_bytes(assessment, source.sha256, system, day, planned, doubted)
    write_whole(target, data)


def installation_schema() -> dict[str, Any]:
    """The JSON Schema of the file; under site and component stand the keys of every standard."""
    schema = Installation.model_json_schema(by_alias=True)
    parts = schema["$defs"]
    site, component = parts["Site"]["properties"], parts["ComponentFactors"]["properties"]
    site["standard"] = {"type": "string", "enum": list(standards()), "default": site["standard"]["default"]}
    also = {}
    for name, standard in standards().items():
        inputs = _own_schema(standard.inputs, parts)
        also[name] = {**inputs, "additionalProperties": False}
        _join(site, inputs["properties"])
        _join(component, _own_schema(standard.factors, parts)["properties"])
    site["also"] = {"type": "object", "properties": also, "additionalProperties": False}
    for part in ("Site", "ComponentFactors"):
        parts[part]["additionalProperties"] = False
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": "brimfast installation", **schema}


def _own_schema(model: type[Part], parts: dict[str, Any]) -> dict[str, Any]:
    schema = model.model_json_schema(by_alias=True)
    parts.update(schema.pop("$defs", {}))
    return schema


def _join(properties: dict[str, Any], more: dict[str, Any]) -> None:
    """Keys of one standard beside those of the others; a key that two write differently may be either."""
    for key, value in more.items():
        known = properties.get(key)
        if known is None:
            properties[key] = value
        elif known != value:
            known_ways = known["anyOf"] if list(known) == ["anyOf"] else [known]
            properties[key] = {"anyOf": [*known_ways, value]}
