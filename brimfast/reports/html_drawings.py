"""The drawings as SVG that stands inside an HTML page: no sizes and no names of its own, labels as wide as drawn."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from markupsafe import Markup
from reportlab.graphics.shapes import Circle, Drawing, Group, Line, Polygon, PolyLine, Rect, String
from reportlab.lib.colors import Color
from reportlab.pdfbase.pdfmetrics import stringWidth

from brimfast.reports.figures import Figure
from brimfast.reports.html_style import escaped, symbols
from brimfast.reports.pdf_style import BOLD

LEGIBLE = 1.35  # pixels to a unit: the smallest labels, 7.5 units, are 10 pixels high
Attributes = Iterable[tuple[str, object]]


NOTHING = Markup("")


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


def inline_svg(
    drawing: Drawing, name: str, title: str, description: str, under: Markup = NOTHING, styled: bool = True
) -> Markup:
    """`name` makes the ids of title and description. under: what lies beneath the shapes, counted from the top left corner.

    styled: kept legible by a style of its own, where the page allows that.
    """
    width, height = float(drawing.width), float(drawing.height)
    shapes = "".join(_shape(shape, height) for shape in _flat(drawing))
    least = f' style="min-width: {LEGIBLE * width:.0f}px"' if styled else ""
    return Markup(
        f'<svg viewBox="0 0 {width:.2f} {height:.2f}"{least} role="img" aria-labelledby="{name}-title {name}-text">'
        f'<title id="{name}-title">{escaped(title)}</title><desc id="{name}-text">{escaped(description)}</desc>'
        f"{under}<g>{shapes}</g></svg>"
    )


def _flat(group: Any) -> Iterator[Any]:
    for shape in group.contents:
        if isinstance(shape, Group):
            yield from _flat(shape)
        else:
            yield shape


def _shape(shape: Any, height: float) -> str:
    """Upright: the page counts from the top, a drawing from its foot."""
    if isinstance(shape, Line):
        ends = (("x1", shape.x1), ("y1", height - shape.y1), ("x2", shape.x2), ("y2", height - shape.y2))
        return _element("line", (*ends, *_look(shape)))
    if isinstance(shape, Rect):
        corner = (("x", shape.x), ("y", height - shape.y - shape.height))
        return _element("rect", (*corner, ("width", shape.width), ("height", shape.height), *_look(shape)))
    if isinstance(shape, Circle):
        return _element("circle", (("cx", shape.cx), ("cy", height - shape.cy), ("r", shape.r), *_look(shape)))
    if isinstance(shape, Polygon):
        return _element("polygon", (("points", _points(shape.points, height)), *_look(shape)))
    if isinstance(shape, PolyLine):
        return _element("polyline", (("points", _points(shape.points, height)), ("fill", "none"), *_look(shape)))
    if isinstance(shape, String):
        return _label(shape, height)
    raise TypeError(f"no way yet to draw a {type(shape).__name__}")


def _points(flat: list[float], height: float) -> str:
    return " ".join(f"{_figure(x)},{_figure(height - y)}" for x, y in zip(flat[::2], flat[1::2], strict=True))


def _look(shape: Any) -> Attributes:
    """Fill, line and dashes as attributes: a page may forbid styles."""
    if not isinstance(shape, (Line, PolyLine)) or isinstance(shape, Polygon):
        yield "fill", _colour(shape.fillColor)
        if shape.fillOpacity is not None and shape.fillOpacity < 1:
            yield "fill-opacity", shape.fillOpacity
    if shape.strokeColor is None:
        return
    yield "stroke", _colour(shape.strokeColor)
    yield "stroke-width", shape.strokeWidth
    if shape.strokeDashArray:
        yield "stroke-dasharray", " ".join(_figure(part) for part in shape.strokeDashArray)


def _label(shape: Any, height: float) -> str:
    """In the reader's font, as wide as in the report's."""
    wide = stringWidth(shape.text, shape.fontName, shape.fontSize)
    weight = (("font-weight", 700),) if shape.fontName == BOLD else ()
    looks: Attributes = (
        ("x", shape.x),
        ("y", height - shape.y),
        ("fill", _colour(shape.fillColor)),
        ("font-size", shape.fontSize),
        *weight,
        ("textLength", wide),
        ("lengthAdjust", "spacingAndGlyphs"),
    )
    return _element("text", looks, escaped(shape.text))


def _colour(colour: Color | None) -> str:
    return "none" if colour is None else f"#{colour.hexval()[2:]}"


def _element(tag: str, attributes: Attributes, text: str = "") -> str:
    told = " ".join(f'{key}="{_figure(value) if isinstance(value, float) else value}"' for key, value in attributes)
    return f"<{tag} {told}>{text}</{tag}>" if text else f"<{tag} {told}/>"


def _figure(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".") if value else "0"
