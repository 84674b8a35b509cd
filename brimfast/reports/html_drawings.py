"""The drawings as SVG that stands inside an HTML page: no sizes, no names of its own, labels as wide as they were drawn."""

from __future__ import annotations

import re
from dataclasses import dataclass
from xml.etree import ElementTree

from markupsafe import Markup
from reportlab.graphics import renderSVG
from reportlab.graphics.shapes import Drawing
from reportlab.pdfbase.pdfmetrics import stringWidth

from brimfast.reports.figures import Figure
from brimfast.reports.html_style import symbols
from brimfast.reports.pdf_style import BOLD, REGULAR

SPACE = "{http://www.w3.org/2000/svg}"
SHAPES = {"g", "path", "rect", "line", "polyline", "polygon", "circle", "ellipse", "text", "tspan"}
KEPT = {"d", "x", "y", "x1", "x2", "y1", "y2", "cx", "cy", "r", "rx", "ry", "width", "height", "points", "transform"}
LEGIBLE = 1.35  # pixels to a unit: the smallest labels, 7.5 units, are 10 pixels high
FONT = re.compile(r"font-family: *([\w-]+); *font-size: *([\d.]+)px")


@dataclass(frozen=True)
class Picture:
    """A drawing, what its numbers mean, and what is said below it."""

    id: str
    title: str
    subtitle: str
    drawing: Markup
    key: tuple[tuple[str, str], ...]
    case: Markup
    after: str


def picture_of(one: Figure, name: str, title: str) -> Picture:
    """name: of its ids; title: what it is called where it has no heading of its own."""
    told = "; ".join(f"{number}: {text}" for number, text in (*one.key, *one.bodies))
    drawing = inline_svg(one.drawing, name, title, f"Drawn to scale. {told}." if told else one.note or title)
    case = symbols(one.case) if one.case else Markup("")
    return Picture(name, title, one.subtitle, drawing, (*one.key, *one.bodies), case, one.after)


def inline_svg(drawing: Drawing, name: str, title: str, description: str) -> Markup:
    """`name` makes the ids of title and description; nothing but shapes and their looks is taken over."""
    drawn = ElementTree.fromstring(renderSVG.drawToString(drawing).partition("?>")[2])
    width, height = float(drawing.width), float(drawing.height)
    image = ElementTree.Element("svg")
    image.set("viewBox", f"0 0 {width:.2f} {height:.2f}")
    image.set("role", "img")
    image.set("aria-labelledby", f"{name}-title {name}-text")
    image.set("style", f"min-width: {LEGIBLE * width:.0f}px")
    for tag, text in (("title", title), ("desc", description)):
        ElementTree.SubElement(image, tag, {"id": f"{name}-{'title' if tag == 'title' else 'text'}"}).text = text
    turned = ElementTree.SubElement(image, "g", {"transform": f"translate(0,{height:.2f}) scale(1,-1)"})
    for group in drawn.iterfind(f"{SPACE}g"):
        for child in group:
            _take_over(child, turned)
    return Markup(ElementTree.tostring(image, encoding="unicode"))


def _take_over(found: ElementTree.Element, to: ElementTree.Element) -> None:
    tag = found.tag.removeprefix(SPACE)
    if tag not in SHAPES:
        return
    made = ElementTree.SubElement(to, tag, {key: value for key, value in found.attrib.items() if key in KEPT and value})
    style = found.get("style", "")
    if tag == "text":
        made.text = found.text
        if found.get("transform", "").startswith("translate(0,"):  # which is rounded to whole points
            made.set("transform", f"translate(0,{2 * float(found.get('y', '0')):.3f}) scale(1,-1)")
        style = _label(made, style)
    if style:
        made.set("style", style)
    for child in found:
        _take_over(child, made)


def _label(made: ElementTree.Element, style: str) -> str:
    """The reader's font in place of the report's, as wide as that is."""
    font = FONT.search(style)
    if font is None:
        return style
    if made.text:
        made.set("textLength", f"{stringWidth(made.text, font[1], float(font[2])):.2f}")
        made.set("lengthAdjust", "spacingAndGlyphs")
    weight = "font-weight: 700; " if font[1] == BOLD else ""
    return FONT.sub(f"{weight}font-size: {font[2]}px", style) if font[1] in (REGULAR, BOLD) else style
