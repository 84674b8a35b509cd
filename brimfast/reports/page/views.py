"""Templates into pages and fragments."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache
from importlib.resources import files
from itertools import groupby
from typing import Any
from urllib.parse import quote

from jinja2 import Environment
from markupsafe import Markup, escape

from brimfast import __version__
from brimfast.reports import words
from brimfast.reports.html_style import environment
from brimfast.reports.page import form_words, page_words
from brimfast.reports.page.form import Item

TEMPLATES = (
    "base.html", "index.html", "step.html", "text.html", "water.html", "fix.html", "take.html", "message.html",
    "aside.html", "form.html", "pond.html", "tried.html", "search.html", "notices.html", "steps.html", "keys.html",
)  # fmt: skip
STATIC = {"page.css": "text/css", "page.js": "text/javascript", "icon.svg": "image/svg+xml"}


@cache
def _environment() -> Environment:
    found = environment("brimfast.reports.page", TEMPLATES)
    found.filters["groupby_runs"] = _runs
    found.filters["exact"] = lambda text: Markup(escape(str(text)))  # as it is: it comes back when a form is sent
    found.filters["quoted"] = lambda text: quote(str(text), safe="")
    found.globals.update(
        words=words,
        told=form_words,
        said=page_words,
        version=__version__,
        form_steps=form_words.FORM_STEPS,
        answer_steps=form_words.ANSWER_STEPS,
    )
    return found


def _runs(items: Iterable[Item]) -> list[tuple[str, list[Item]]]:
    """Items of one kind that follow each other."""
    return [(kind, list(run)) for kind, run in groupby(items, key=lambda item: item.kind)]


def rendered(template: str, **given: Any) -> str:
    return _environment().get_template(template).render(**given)


@cache
def static(name: str) -> bytes:
    return files("brimfast.reports.page").joinpath("static", name).read_bytes()
