"""How an installation file begins: by a few questions, from a demo, or brought along."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass, fields

from brimfast.assess.demand.standard import standards
from brimfast.reports.page.folder import Folder, is_name
from brimfast.reports.starter import BELOW, SHAPES, Answers, starter_bytes
from brimfast.shared.demo import DEMOS, demo_bytes
from brimfast.shared.errors import BrimfastError, InputError, Problem
from brimfast.shared.yaml_text import decode

UNNAMED = "installation"
PLACES: dict[tuple[str | int, ...], str] = {  # of a problem in the starter file, the question that it belongs to
    ("installation",): "name",
    ("units",): "units",
    ("room", "length"): "room",
    ("room", "width"): "room",
    ("room", "sill"): "sill",
    ("site", "height_ratio"): "storey",
    ("site", "S_DS"): "s_ds",
    ("site", "residential_category"): "category",
    ("site", "standard"): "standard",
    ("exposure", "below"): "below",
}


@dataclass(frozen=True)
class Question:
    """One question before a file begins."""

    key: str
    label: str
    help: str
    example: str = ""
    options: tuple[tuple[str, str], ...] = ()


QUESTIONS = (
    Question("name", "What is it called?", "", "my water room"),
    Question(
        "shape",
        "What do you have?",
        "more can be added later",
        options=tuple((key, f"{key}: {text}") for key, text in SHAPES.items()),
    ),
    Question("units", "Results in", "what you type may be in either", options=(("us", "us"), ("si", "si"))),
    Question("room", "Room, length x width", "between the walls", "14 ft x 10 ft or 4.2 m x 3.0 m"),
    Question("sill", "Height of the door sill", "where water would first run out", "1 in or 25 mm"),
    Question("storey", "Which floor of how many", "the ground floor is 1", "1 of 1, or 2 of 3"),
    Question("below", "What is below", "", options=tuple((word, word) for word in BELOW)),
)
GROUND = (
    Question("category", "Residential seismic design category", "A to E; D2 is taken if you say nothing", "D1"),
    Question("s_ds", "Or S_DS of the address, in g", "better, where it is known", "0.85"),
)


def elsewhere() -> tuple[Question, ...]:
    names = tuple((name, f"{name}: {one.where}") for name, one in standards().items())
    return (
        Question("standard", "Standard", "", options=(("", "asce7-22, unless you choose"), *names)),
        Question("site", "Its values", "from the building department", "a_g: 0.25, ground: C, spectrum: type 1"),
    )


def begun(folder: Folder, given: Mapping[str, str]) -> str:
    """A new file by the answers; its name. Raises BrimfastError."""
    keys = [one.name for one in fields(Answers)]
    answers = Answers(**{key: given[key].strip() for key in keys if given.get(key, "").strip()})
    if answers.shape not in (None, *SHAPES):
        raise InputError([Problem("E-WORD-001", f"expected one of: {', '.join(SHAPES)}", ("shape",))])
    data = starter_bytes(answers)
    return _new(folder, f"{slug(answers.name or UNNAMED)}.yaml", data)


def copied(folder: Folder, name: str) -> str:
    """A demo as a file of one's own."""
    if name not in DEMOS:
        raise InputError([Problem("E-WORD-001", f"expected one of: {', '.join(DEMOS)}")])
    return _new(folder, f"{name}.yaml", demo_bytes(name))


def brought(folder: Folder, name: str, data: bytes) -> str:
    """A file that was chosen in the browser; what is wrong with it is said once it is open. Raises BrimfastError."""
    decode(data, name[:40])
    plain = name.replace("\\", "/").rpartition("/")[2]
    if not is_name(plain):
        plain = f"{slug(plain.rpartition('.')[0] or plain)}.yaml"
    return _new(folder, plain, data)


def errors_of(error: BrimfastError) -> dict[str, tuple[str, ...]]:
    """By question; those of none under an empty key."""
    found: dict[str, list[str]] = {}
    for problem in error.problems:
        key = PLACES.get(problem.path, problem.path[0] if problem.path == ("shape",) else "")
        if not key and problem.path[:1] == ("site",):
            key = "site"
        found.setdefault(str(key), []).append(f"{problem.message} [{problem.code}]")
    return {key: tuple(texts) for key, texts in found.items()}


def slug(text: str) -> str:
    plain = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode().casefold()
    return re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:60] or UNNAMED


def _new(folder: Folder, name: str, data: bytes) -> str:
    stem, dot, ending = name.rpartition(".")
    number = 1
    while not folder.create(name, data):
        number += 1
        name = f"{stem}-{number}{dot}{ending}"
    return name
