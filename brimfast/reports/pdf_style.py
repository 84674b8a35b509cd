"""Fonts, colours, paragraph and table styles of the PDF; the one door for text into it."""

from __future__ import annotations

from functools import cache
from importlib.resources import as_file, files
from typing import Any
from xml.sax.saxutils import escape

from reportlab import rl_config
from reportlab.graphics.shapes import STATE_DEFAULTS
from reportlab.lib.colors import Color, HexColor
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

REGULAR, BOLD = "BrimText", "BrimText-Bold"
MOST_MEASURED = 50_000  # texts whose widths are kept
INK = HexColor("#1b2733")
QUIET = HexColor("#5c6b78")
LINE = HexColor("#c4ced6")
PAPER = HexColor("#f3f6f8")
WATER = HexColor("#bcd9e8")
WOOD = HexColor("#e6d5b8")
FILL = HexColor("#cfcabf")
VERDICT_COLOURS: dict[str, Color] = {
    "short": HexColor("#a3261d"),
    "close": HexColor("#8a6100"),
    "holds": HexColor("#22663a"),
    "not assessed": HexColor("#5c6b78"),
}


class Font(TTFont):
    """A font that measures each text once: lines are broken word by word, and most words come again."""

    def __init__(self, name: str, filename: str) -> None:
        super().__init__(name, filename)
        self._measured: dict[tuple[str, float], float] = {}

    def stringWidth(self, text: Any, size: Any, encoding: str = "utf8") -> float:  # noqa: N802
        key = text, size
        width = self._measured.get(key)
        if width is None:
            if len(self._measured) >= MOST_MEASURED:
                self._measured.clear()
            width = self._measured[key] = float(super().stringWidth(text, size, encoding))
        return width


@cache
def register_fonts() -> None:
    folder = files("brimfast.reports").joinpath("fonts")
    for name, file in ((REGULAR, "DejaVuSansCondensed.ttf"), (BOLD, "DejaVuSansCondensed-Bold.ttf")):
        with as_file(folder.joinpath(file)) as path:
            pdfmetrics.registerFont(Font(name, str(path)))
    pdfmetrics.registerFontFamily(REGULAR, normal=REGULAR, bold=BOLD, italic=REGULAR, boldItalic=BOLD)
    rl_config.canvas_basefontname = REGULAR
    rl_config.useA85 = 0  # bytes as they are, not as letters: a fifth less to write
    STATE_DEFAULTS["fontName"] = REGULAR  # else every drawing names a font that is not in the file


@cache
def _glyphs() -> frozenset[str]:
    register_fonts()
    font: Any = pdfmetrics.getFont(REGULAR)
    return frozenset(one for one in map(chr, font.face.charToGlyph) if one.isprintable())


def drawable(text: str) -> str:
    """The text with each character that the font lacks, or that is invisible, shown as a box."""
    if _glyphs().issuperset(text):
        return text
    return "".join(character if character in _glyphs() else "□" for character in text)


def safe(text: str) -> str:
    """Any text for a Paragraph: nothing in it is markup."""
    return escape(drawable(text))


register_fonts()
