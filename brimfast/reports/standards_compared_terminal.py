"""Two standards side by side on the terminal."""

from __future__ import annotations

from rich.console import Console
from rich.text import Text

from brimfast.reports import choice, words
from brimfast.reports.standards_compared import Comparison
from brimfast.reports.terminal_parts import STYLES, heading, row, table, wrapped
from brimfast.shared.findings import Finding
from brimfast.shared.units import System, show

MOST = 20


def print_comparison(found: Comparison, system: System, out: Console) -> None:
    own, other = found.names
    installation = found.own.installation
    name = installation.installation + (" (invented)" if installation.invented else "")
    out.print(Text(f"{name}: {own} beside {other}", style="bold"))
    wrapped(words.DEFER, out, style="dim")
    out.print()
    for one, assessment in zip(found.names, (found.own, found.other), strict=True):
        motion, number = assessment.motion, choice.counts(assessment)
        wrapped(
            f"{one}: {motion.symbol} {motion.plateau:.3g} g ({motion.how}). ✗ {number['short']} short   ~ {number['close']} "
            f"close   ✓ {number['holds']} hold   – {number['not assessed']} not assessed",
            out,
        )
    for note in found.notes:
        wrapped(f"– {note}", out, style="dim")
    _forces(found, system, out)
    _worst(found, out)
    _changed(found, out)


def _forces(found: Comparison, system: System, out: Console) -> None:
    own, other = found.names
    heading("Sideways force of the design earthquake (strength level)", out)
    forces = table((("body", False), (own, True), ("share", True), (other, True), ("share", True), ("times", True)))
    for name, one in found.own.forces.items():
        second = found.other.forces[name]
        row(
            forces,
            name,
            show(one.horizontal, "force", system),
            f"{one.coefficient:.2f}",
            show(second.horizontal, "force", system),
            f"{second.coefficient:.2f}",
            f"{second.horizontal / one.horizontal:.2f}",
        )
    out.print(forces)


def _ratio(finding: Finding) -> Text:
    return Text(words.ratio_text(finding), style=STYLES[finding.verdict])


def _worst(found: Comparison, out: Console) -> None:
    pairs = found.worst()
    if not pairs:
        return
    own, other = found.names
    heading("The largest ratios that depend on the earthquake", out)
    ratios = table((("what", False), ("question", False), (own, True), (other, True)))
    for one, second in pairs:
        row(ratios, one.subject, one.question, _ratio(one), _ratio(second))
    out.print(ratios)


def _changed(found: Comparison, out: Console) -> None:
    pairs = found.changed()
    if not pairs:
        out.print()
        wrapped("No verdict differs between the two.", out, style="bold")
        return
    own, other = found.names
    heading("Verdicts that differ", out)
    verdicts = table((("what", False), ("question", False), (own, False), (other, False)))
    for one, second in pairs[:MOST]:
        cells = [Text(words.verdict_text(item), style=STYLES[item.verdict]) for item in (one, second)]
        row(verdicts, one.subject, one.question, *cells)
    out.print(verdicts)
    if len(pairs) > MOST:
        wrapped(f"{len(pairs) - MOST} more are in the output of --json.", out, style="dim")
