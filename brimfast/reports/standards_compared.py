"""The same installation under the file's own standard and under another one."""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import Any

from brimfast import __version__
from brimfast.assess.demand.force import Force
from brimfast.assess.demand.inputs import COMMON, input_problems
from brimfast.assess.demand.standard import Standard, standard_named, standard_of, standards
from brimfast.assess.pipeline import Assessment, assess
from brimfast.reports.run import assess_source
from brimfast.reports.summary_words import RANGES
from brimfast.shared.errors import InputError, Problem
from brimfast.shared.findings import Finding
from brimfast.shared.installation.model import Installation
from brimfast.shared.installation.rack import ComponentFactors
from brimfast.shared.installation.site import Building, Site
from brimfast.shared.reading import Source
from brimfast.shared.units import System, unit_of


@dataclass(frozen=True)
class Comparison:
    """Both assessments; notes: what was done with the inputs of the file."""

    own: Assessment
    other: Assessment
    names: tuple[str, str]
    notes: tuple[str, ...]

    def pairs(self) -> list[tuple[Finding, Finding]]:
        """Findings of either that ask the same, in the order of the report; practice and money aside."""
        others = {finding.id: finding for finding in self.other.findings}
        return [
            (finding, others[finding.id])
            for finding in self.own.findings
            if finding.id in others and not finding.practice and finding.topic not in ("exposure", "spill")
        ]

    def changed(self) -> list[tuple[Finding, Finding]]:
        """Those whose verdict differs."""
        return [(one, other) for one, other in self.pairs() if one.verdict != other.verdict]

    def worst(self, count: int = 8) -> list[tuple[Finding, Finding]]:
        """Those of the largest ratio under either that depend on the earthquake."""
        found = [
            (one, other)
            for one, other in self.pairs()
            if one.ratio is not None and other.ratio is not None and abs(one.ratio - other.ratio) > 1e-9
        ]
        return sorted(found, key=lambda pair: -max(pair[0].ratio or 0.0, pair[1].ratio or 0.0))[:count]


def compared(source: Source, name: str, given: list[str]) -> Comparison:
    """Raises InputError with one line where the other standard's inputs are not there, or are wrong."""
    installation = source.installation
    own = standard_of(installation.site)
    other = standard_named(name, ())
    if other is own:
        message = f"--standard: the file's own standard is {own.name} already; expected another one"
        raise InputError([Problem("E-KEY-003", message)])
    inputs, notes = _inputs_of(source, own, other, given)
    left = {key: getattr(installation.site, key) for key in COMMON if key not in ("standard", "also")}
    building = installation.site.building
    if building is not None and other.building != own.building:
        left["building"] = Building.model_construct(period=building.period)
    beside = installation.model_copy(update={"site": Site.model_construct(**left, **inputs, standard=other.name)})
    changed, dropped = _without_shared_factors(beside, own, other)
    if dropped:
        notes.append(
            f"Factors chosen in the file that {other.name} calls by the same name ({', '.join(dropped)}) stand for {own.name} "
            f"only; {other.name} takes its table rows."
        )
    first = assess_source(source)
    if any(caution.title == RANGES for caution in first.cautions):
        notes.append(
            "The file gives ranges: both stand at their middle. What is worse at their ends, brimfast check tells."
        )
    try:
        second = assess(changed)
    except InputError as error:
        lines = [Problem(one.code, f"{other.name}: {one.message}", file=source.file) for one in error.problems]
        raise InputError(lines) from None
    return Comparison(first, second, (own.name, other.name), tuple(notes))


def _inputs_of(source: Source, own: Standard, other: Standard, given: list[str]) -> tuple[dict[str, Any], list[str]]:
    """The other standard's inputs: from `also`, else of a standard that asks for the same ones; options over them."""
    site, known, notes = source.installation.site, standards(), []
    also = {name.casefold(): group for name, group in site.also.items()}
    inputs = dict(also.get(other.name, {}))
    if not inputs:
        alike = {own.name: site.own, **also}
        giver = next((key for key in alike if key in known and known[key].inputs is other.inputs), None)
        if giver is not None:
            inputs = dict(alike[giver])
            notes.append(f"{other.name} is given the same inputs as {giver}; its own map may have other values.")
    set_here: set[str] = set()
    for text in given:
        key, sign, value = text.partition("=")
        if not sign or not key.strip() or not value.strip():
            message = f"--with: found {text[:40]!r}; expected KEY=VALUE, such as {_options(other)}"
            raise InputError([Problem("E-KEY-003", message)])
        if key.strip() in set_here:
            raise InputError(
                [Problem("E-KEY-003", f"--with: found {key.strip()[:40]!r} twice; expected each key once")]
            )
        set_here.add(key.strip())
        inputs[key.strip()] = value.strip()
    problems = input_problems(other, inputs)
    if problems:
        hint = f"; give them in the file, 'also: {{{other.name}: {{{other.example}}}}}' under site, or as {_options(other)}"
        if not inputs:
            message = f"the inputs of {other.name} are not in the file: it needs {other.needs}{hint}"
            raise InputError([Problem("E-KEY-002", message, file=source.file)])
        raise InputError([Problem(one.code, f"{other.name}: {_where(one)}{one.message}") for one in problems])
    return inputs, notes


def _where(problem: Problem) -> str:
    return f"{'.'.join(map(str, problem.path))}: " if problem.path else ""


def _options(standard: Standard) -> str:
    pairs = [part.split(":") for part in standard.example.split(",")]
    quoted = [f"{key.strip()}={value.strip()}" for key, value in pairs]
    return " ".join(f"--with '{one}'" if " " in one else f"--with {one}" for one in quoted)


def _without_shared_factors(
    installation: Installation, own: Standard, other: Standard
) -> tuple[Installation, tuple[str, ...]]:
    """Component factors whose name means another thing in the other standard are left out; and which these were."""
    shared = (
        set(own.factors.model_fields) & set(other.factors.model_fields) if own.factors is not other.factors else set()
    )
    dropped: dict[str, None] = {}

    def kept(component: ComponentFactors | None) -> ComponentFactors | None:
        if component is None:
            return None
        dropped.update(dict.fromkeys(key for key in component.own if key in shared))
        left = {key: value for key, value in component.own.items() if key not in shared}
        return ComponentFactors.model_construct(reason=component.reason, **left)

    racks = {
        name: rack.model_copy(update={"component": kept(rack.component)}) for name, rack in installation.racks.items()
    }
    vessels = [vessel.model_copy(update={"component": kept(vessel.component)}) for vessel in installation.vessels]
    return installation.model_copy(update={"racks": racks, "vessels": vessels}), tuple(dropped)


def comparison_json(found: Comparison, system: System, utf8: bool) -> str:
    both = dict(zip(found.names, (found.own, found.other), strict=True))
    result = {
        "brimfast": __version__,
        "installation": found.own.installation.installation,
        "standards": list(found.names),
        "motion": {name: _motion(one) for name, one in both.items()},
        "force_unit": unit_of("force", system)[0],
        "forces": [
            {"subject": subject, **{name: _force(one.forces[subject], system) for name, one in both.items()}}
            for subject in found.own.forces
        ],
        "findings": [
            {
                "id": one.id,
                "subject": one.subject,
                "question": one.question,
                **{
                    name: {"ratio": finding.ratio, "verdict": finding.verdict}
                    for name, finding in zip(found.names, (one, other), strict=True)
                },
            }
            for one, other in found.pairs()
        ],
        "changed_verdicts": [one.id for one, _ in found.changed()],
        "notes": list(found.notes),
    }
    return json.dumps(result, indent=2, ensure_ascii=not utf8, allow_nan=False)


def _motion(one: Assessment) -> dict[str, Any]:
    return {
        "plateau": one.motion.plateau,
        "plateau_symbol": one.motion.symbol,
        "vertical_share": one.motion.vertical.share,
        "from": one.motion.how,
    }


def _force(force: Force, system: System) -> dict[str, Any]:
    size = unit_of("force", system)[1]
    return {
        "horizontal": force.horizontal / size,
        "vertical": force.vertical / size,
        "coefficient": force.coefficient,
        "basis": force.basis,
    }
