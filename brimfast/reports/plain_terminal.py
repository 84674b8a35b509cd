"""The terminal face for those who listen: blocks as sentences, one a line, no boxes, no colours, no signs that are not read."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from brimfast.reports import choice, words
from brimfast.reports.blocks import Block, Command, Counts, Findings, Gap, Grid, Heading, Line, Reasons, Worst
from brimfast.shared.findings import Finding
from brimfast.shared.units import System

SIGNS = {
    "×": " by ",
    "±": " plus or minus ",
    "≤": " at most ",
    "≥": " at least ",
    "−": " minus ",
    "°": " degrees",
    "√": " root of ",
    "…": "...",
    "✗": "",
    "✓": "",
    "μ": "mu",
    "θ": "theta",
    "Ω": "Omega",
    "π": "pi",
    "ρ": "rho",
    "≈": " about ",
    "→": " then ",
    "`": "",
    "{": "",
    "}": "",
    "[": "",
    "]": "",
}
RULES = (
    (re.compile(r"\['([^']*)'\]\.?"), r" \1 "),  # where a key stands in the file
    (re.compile(r"\b(k?N|lb|kg)·(k?N|ft|in|m)\b"), r"\1 \2"),
    (re.compile(r"\b(\w+)²"), r"square \1"),
    (re.compile(r"\b(\w+)³"), r"cubic \1"),
    (re.compile(r"\b(gal|L|lb|kg|k?N|m|ft|in|USD|EUR)/(?=(?:square |cubic )?(?:min|h|s|ft|m|in|week)\b)"), r"\1 per "),
    (re.compile(r"\b(S|C|E|F|I|R|T|a|p|q|k|gamma|Omega)_(?=\w)"), r"\1 "),  # symbols of the standards
    (re.compile(r"(?<=\d)–(?=\d)"), " to "),
    (re.compile(r"\s+[·–]\s+"), ", "),
    (re.compile(r"[·–~]"), " "),
    (re.compile("|".join(map(re.escape, SIGNS))), lambda found: SIGNS[found[0]]),
    (re.compile(r"[ \t]{2,}"), " "),
)
LOWERED = str.maketrans("₀₁₂₃₄₅₆₇₈₉", "0123456789")
NONE = {"–", ""}


def plain_text(blocks: Iterable[Block], system: System) -> str:
    return "\n".join(spoken(line) for block in blocks for line in _said(block, system))


def spoken(text: str) -> str:
    """The text with its signs as words."""
    for pattern, to in RULES:
        text = pattern.sub(to, text)
    return text.translate(LOWERED).strip()


def _said(block: Block, system: System) -> Iterator[str]:
    match block:
        case Heading(text):
            yield ""
            yield _ended(text)
        case Line():
            yield _ended(block.said or block.text)
        case Gap():
            yield ""
        case Counts(number):
            yield f"{number['short']} short, {number['close']} close, {number['holds']} hold, {number['not assessed']} not assessed."
        case Grid():
            yield from _rows(block)
        case Findings(findings):
            yield from (finding_sentence(finding, system) for finding in findings)
        case Reasons():
            pass
        case Worst(finding):
            yield f"{words.capital(choice.DANGERS[choice.danger(finding)])}: {finding_sentence(finding, system)}"
        case Command(command, shows):
            yield f"{command} : {_ended(shows)}"


def finding_sentence(finding: Finding, system: System) -> str:
    """What was asked, the verdict, and the figures."""
    told = words.sentence(finding, system)
    lead = "" if finding.verdict == "not assessed" else f"{words.capital(finding.verdict)}: "
    return f"{finding.subject}. {finding.question} {lead}{words.capital(told) if not lead else told}"


def _rows(block: Grid) -> Iterator[str]:
    """Each row by itself: what it is about, then each number after its title."""
    titles = [" and ".join(title.split("\n")) for title, _ in block.columns[block.names :]]
    for cells in block.rows:
        told = [cell if isinstance(cell, str) else cell.said or cell.text for cell in cells]
        name = " ".join(part for part in told[: block.names] if part)
        pairs = zip(titles, told[block.names :], strict=True)
        parts = [f"{title} {cell}" for title, cell in pairs if cell.strip() not in NONE]
        lead = f"{name} " if name.endswith("?") else f"{name.rstrip('.')}: "
        yield _ended(f"{lead}{'; '.join(parts)}" if parts else name)


def _ended(text: str) -> str:
    return text if text.endswith((".", "?", "!", ":")) else f"{text}."
