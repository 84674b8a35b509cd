"""The drawings beside the form: the room from above, each rack, the vessels on the floor."""

from __future__ import annotations

from dataclasses import dataclass
from urllib.parse import quote

from markupsafe import Markup

from brimfast.assess.pipeline import Assessment, Seen
from brimfast.reports.drawings.elevation import drawn_racks, floor_vessels, not_drawn, rack_elevation
from brimfast.reports.drawings.keyed import Keyed, body_key
from brimfast.reports.drawings.plan import plan
from brimfast.reports.html_drawings import NOTHING, inline_svg
from brimfast.reports.layout import arrange
from brimfast.reports.page.calculation import sketch_of
from brimfast.shared.units import System

WIDTH, PLAN_HEIGHT, RACK_HEIGHT = 430.0, 290.0, 230.0


@dataclass(frozen=True)
class Picture:
    """key: what its marks mean, by their numbers."""

    id: str
    title: str
    drawing: Markup
    key: tuple[tuple[str, str], ...]


def pictures(known: Seen, system: System) -> list[Picture]:
    """To scale. Marks of what does not hold stand in them as far as it is known."""
    found = [room(known, system)]
    for name in drawn_racks(known):
        keyed = rack_elevation(known, name, system, WIDTH, RACK_HEIGHT)
        found.append(_picture(f"rack-{quote(name, safe='')}", f"Rack {name}, from the front and from its end", keyed))
    floor = floor_vessels(known, system, WIDTH, RACK_HEIGHT)
    if floor is not None:
        found.append(_picture("floor-vessels", "Vessels on the floor", floor))
    return found


def room(known: Seen, system: System, name: str = "plan", under: Markup = NOTHING) -> Picture:
    """From above. under: what is put into the rectangle of the floor itself."""
    keyed = plan(known, arrange(known), system, WIDTH, PLAN_HEIGHT)
    bodies = tuple(body_key(known, system))
    return _picture(name, "The room from above", Keyed(keyed.drawing, (*keyed.key, *bodies), keyed.floor), under)


def left_out(known: Seen) -> int:
    return not_drawn(known)


def wet_room(known: Assessment, system: System, looks: Markup) -> Picture:
    """The room without the worst mishap's arrows: another's water lies in it, with these attributes."""
    return room(sketch_of(known), system, "water-plan", looks)


def _picture(name: str, title: str, keyed: Keyed, under: Markup = NOTHING) -> Picture:
    told = "; ".join(f"{number}: {text}" for number, text in keyed.key)
    floor = NOTHING
    if under and keyed.floor is not None:
        area = keyed.floor
        floor = Markup('<rect {} x="{:.2f}" y="{:.2f}" width="{:.2f}" height="{:.2f}"/>').format(
            under, area.left, keyed.drawing.height - area.high, area.right - area.left, area.high - area.low
        )
    drawing = inline_svg(keyed.drawing, f"picture-{name}", title, f"Drawn to scale. {told}.", floor, styled=False)
    return Picture(f"picture-{name}", title, drawing, keyed.key)
