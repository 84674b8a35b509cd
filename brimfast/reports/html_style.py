"""The one door for text into the HTML report, and how equations are written there."""

from __future__ import annotations

import re
from collections.abc import Iterable
from importlib.resources import files

from jinja2 import DictLoader, Environment, StrictUndefined
from markupsafe import Markup, escape

from brimfast.reports.equations import Marks, with_symbols


def visible(text: str) -> str:
    """The text with each character that is invisible, or turns the direction of reading, shown as a box."""
    return "".join(character if character.isprintable() else "□" for character in text)


def escaped(text: str) -> str:
    return str(escape(visible(text)))


HTML = Marks(escaped, ("<sub>", "</sub>"), ("<sup>", "</sup>"), ("<strong>", "</strong>"))


def symbols(text: str, which: re.Pattern[str] | None = None) -> Markup:
    """Text of ours in which symbols such as S_DS get their subscripts."""
    return Markup(with_symbols(text, face=HTML) if which is None else with_symbols(text, which, HTML))


def finalized(value: object) -> object:
    """What every expression of a template goes through before it is escaped."""
    return visible(value) if isinstance(value, str) and not isinstance(value, Markup) else value


def environment(package: str, templates: Iterable[str]) -> Environment:
    """The templates of a package's folder `templates`, by these names, with the door for text before each."""
    folder = files(package).joinpath("templates")
    return Environment(
        loader=DictLoader({name: folder.joinpath(name).read_text(encoding="utf-8") for name in templates}),
        autoescape=True,
        undefined=StrictUndefined,
        finalize=finalized,
        trim_blocks=True,
        lstrip_blocks=True,
    )
