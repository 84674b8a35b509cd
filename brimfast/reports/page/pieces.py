"""New pieces of an installation, with numbers to be changed, and other ways to describe a piece that is there."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import permutations
from typing import Any

from brimfast.reports.page.pointer import at, dict_of, list_of, pointer
from brimfast.shared.edits import Edit
from brimfast.shared.errors import KeyPath
from brimfast.shared.installation.joint import PLACES
from brimfast.shared.installation.vessel import MEASURED_KEYS
from brimfast.shared.units import UnitError, parse

US: dict[str, Any] = {
    "drains": {"bore": "2 in", "grate": "4 in", "blocked": "50 %"},
    "sockets": {"name": "socket", "height": "12 in"},
    "next": {"name": "next room", "length": "10 ft", "width": "8 ft", "door": "32 in", "sill": "0 in"},
    "rack": {
        "bays": 2, "bay_length": "4 ft", "width": "30 in", "deck_height": "26 in", "post": "4x4 hem-fir No.2 treated",
        "beam": "2x8 douglas fir-larch No.2", "joist": {"size": "2x6", "spacing": "16 in", "seat": "on beams"},
        "deck": "23/32 in plywood", "beam_seat": "on the side", "beam_runs": "whole length", "braces": "none",
        "feet": {"anchored": "no"},
    },
    "braces": {"face": "back", "kind": "single", "member": "2x4 hem-fir No.2"},
    "panels": {"face": "back", "thickness": "15/32 in", "nail": "0.131 in", "edge_spacing": "6 in"},
    "gussets": {"leg": "14 in", "thickness": "15/32 in", "nail": "0.131 in x 2.5 in", "nails": 8},
    "wall_ties": {"height": "26 in", "count": 2, "into": "unknown", "diameter": "1/4 in", "length": "3 in"},
    "upper_tiers": "16 in",
    "rails": "20 in",
    "bed": {"length": "4 ft", "width": "2 ft", "depth": "10 in", "water": "8 in", "fill": "gravel"},
    "tank": {"length": "36 in", "width": "18 in", "depth": "18 in", "water": "16 in", "wall": "3/8 in glass"},
    "sump": {"length": "3 ft", "width": "18 in", "depth": "16 in", "water": "10 in"},
    "barrel": {"diameter": "22 in", "depth": "33 in", "water": "30 in"},
    "weighed": {"mass": "480 lb", "centre_of_mass": "28 in", "footprint": "48 in x 18 in", "holds": "48 gal"},
    "beam to post": {"kind": "structural screw", "diameter": "0.25 in", "length": "4 in", "count": 3, "spread": "5 in"},
    "joist to beam": {"kind": "framing tie", "nails": "5 + 5", "nail": "0.131 in x 1.5 in"},
    "brace to post": {"kind": "lag screw", "diameter": "3/8 in", "length": "4 in", "count": 1},
    "pumps": {"flow": "400 gal/h", "intake": "2 in", "outlet": "8 in", "pipe": "3/4 in", "length": "6 ft"},
    "pipes": {"bore": "1.5 in", "intake": "8 in", "outlet": "20 in", "length": "4 ft"},
    "supplies": {"flow": "4 gal/min", "unattended": "1 h"},
    "hung": {"mass": "12 lb", "drop": "24 in"},
}  # fmt: skip
SI: dict[str, Any] = {
    "drains": {"bore": "50 mm", "grate": "100 mm", "blocked": "50 %"},
    "sockets": {"name": "socket", "height": "300 mm"},
    "next": {"name": "next room", "length": "3 m", "width": "2.4 m", "door": "800 mm", "sill": "0 mm"},
    "rack": {
        "bays": 2, "bay_length": "1.2 m", "width": "750 mm", "deck_height": "650 mm", "post": "95x95 mm C24",
        "beam": "45x195 mm C24", "joist": {"size": "45x145 mm C24", "spacing": "400 mm", "seat": "on beams"},
        "deck": "18 mm plywood", "beam_seat": "on the side", "beam_runs": "whole length", "braces": "none",
        "feet": {"anchored": "no"},
    },
    "braces": {"face": "back", "kind": "single", "member": "45x95 mm C24"},
    "panels": {"face": "back", "thickness": "12 mm", "nail": "3.3 mm", "edge_spacing": "150 mm"},
    "gussets": {"leg": "350 mm", "thickness": "12 mm", "nail": "3.3 mm x 65 mm", "nails": 8},
    "wall_ties": {"height": "650 mm", "count": 2, "into": "unknown", "diameter": "6 mm", "length": "80 mm"},
    "upper_tiers": "400 mm",
    "rails": "500 mm",
    "bed": {"length": "1.2 m", "width": "600 mm", "depth": "250 mm", "water": "200 mm", "fill": "gravel"},
    "tank": {"length": "900 mm", "width": "450 mm", "depth": "450 mm", "water": "400 mm", "wall": "10 mm glass"},
    "sump": {"length": "900 mm", "width": "450 mm", "depth": "400 mm", "water": "250 mm"},
    "barrel": {"diameter": "560 mm", "depth": "850 mm", "water": "780 mm"},
    "weighed": {"mass": "220 kg", "centre_of_mass": "700 mm", "footprint": "1200 mm x 450 mm", "holds": "180 L"},
    "beam to post": {"kind": "structural screw", "diameter": "6.5 mm", "length": "100 mm", "count": 3, "spread": "120 mm"},
    "joist to beam": {"kind": "framing tie", "nails": "5 + 5", "nail": "3.3 mm x 38 mm"},
    "brace to post": {"kind": "lag screw", "diameter": "10 mm", "length": "100 mm", "count": 1},
    "pumps": {"flow": "1500 L/h", "intake": "50 mm", "outlet": "200 mm", "pipe": "20 mm", "length": "2 m"},
    "pipes": {"bore": "40 mm", "intake": "200 mm", "outlet": "500 mm", "length": "1.2 m"},
    "supplies": {"flow": "15 L/min", "unattended": "1 h"},
    "hung": {"mass": "5 kg", "drop": "600 mm"},
}  # fmt: skip
VESSELS = {
    "bed": "Add a bed on the floor",
    "tank": "Add a tank",
    "sump": "Add a sump",
    "barrel": "Add a barrel",
    "weighed": "Add something that you weigh",
}
LABELS = {
    "pumps": "Add a pump",
    "pipes": "Add a pipe",
    "supplies": "Add a tap or hose",
    "drains": "Add a floor drain",
    "sockets": "Add a socket",
    "next": "Add a neighbouring room",
    "braces": "Add a brace",
    "panels": "Add a panel",
    "gussets": "Add a pair of gussets",
    "wall_ties": "Add ties to the wall",
    "upper_tiers": "Add an upper deck",
    "rails": "Add a rail",
}
NAMES = {
    "pumps": "pump",
    "pipes": "return",
    "supplies": "hose",
    "sockets": "socket",
    "next": "next room",
    "hung": "light",
}
MOST_ENDS = 8  # vessels among which a new pump or pipe looks for its ends
MEASURED = (*MEASURED_KEYS, "sides", "ties", "kit")
WEIGHED = ("mass", "centre_of_mass", "footprint", "holds")


def adds(path: KeyPath, raw: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    """What may be added to a list: what to do, and its words."""
    here, kind = pointer(path), path[-1]
    racks = list(dict_of(raw.get("racks")))
    vessels = [one for one in list_of(raw.get("vessels")) if isinstance(one, dict)]
    if kind == "racks":
        yield f"add:{here}:rack", "Add a rack"
    elif kind == "vessels":
        yield from ((f"add:{here}:{name}", label) for name, label in VESSELS.items())
        yield from ((f"add:{here}:on {rack}", f"Add a bed on rack {rack}") for rack in racks)
    elif kind == "joints":
        taken = {(one.get("rack"), one.get("where")) for one in list_of(raw.get("joints")) if isinstance(one, dict)}
        for rack in racks:
            braces = isinstance(dict_of(dict_of(raw.get("racks")).get(rack)).get("braces"), list)
            for where in PLACES:
                if (rack, where) not in taken and (where != "brace to post" or braces):
                    yield f"add:{here}:{where} {rack}", f"Add {where} of rack {rack}"
    elif kind in ("pumps", "pipes"):
        if len(vessels) > 1:
            yield f"add:{here}:", LABELS[kind]
    elif kind == "hung":
        yield f"add:{here}:ceiling", "Add a thing on the ceiling"
        yield from ((f"add:{here}:{rack}", f"Add a thing on rack {rack}") for rack in racks)
    elif kind in LABELS:
        yield f"add:{here}:", LABELS[str(kind)]


def added(path: KeyPath, kind: str, raw: Mapping[str, Any]) -> Iterator[list[Edit]]:
    """A new piece with a name of its own, in the ways in which it could stand there: the first that the file takes is meant."""
    table = SI if raw.get("units") == "si" else US
    last = str(path[-1])
    if last == "racks":
        taken = list(dict_of(raw.get("racks")))
        free = next((name for name in ("north", "south", "east", "west") if name not in taken), "north")
        yield [Edit(("racks", _new(free, taken)), table["rack"])]
    elif last == "joints":
        where = next((one for one in PLACES if kind.startswith(f"{one} ")), "")
        if where:
            yield [
                Edit(path, {"rack": kind.removeprefix(f"{where} "), "where": where, "fasteners": table[where]}, "add")
            ]
    elif last in ("upper_tiers", "rails"):
        yield from ([Edit(path, _above(path, table[last], times, raw, table), "add")] for times in (1, 2, 3, 4))
    elif last in ("braces", "panels", "gussets"):
        yield from ([Edit(path, {**table[last], **place}, "add")] for place in _stiffened(path, raw))
    else:
        values = _vessel(kind, raw, table) if last == "vessels" else _piece(last, kind, raw, table)
        yield from ([Edit(path, value, "add")] for value in values)


def _piece(last: str, kind: str, raw: Mapping[str, Any], table: dict[str, Any]) -> Iterator[dict[str, Any]]:
    if last not in table:
        return
    value, vessels = dict(table[last]), _names(raw)
    if last in NAMES:
        value = {"name": _new(NAMES[last], _names_of(raw)), **value}
    name = value.pop("name", None)
    named = {} if name is None else {"name": name}
    if last == "supplies":
        yield from ({**named, "to": vessel, **value} for vessel in vessels[:1])
    elif last == "hung":
        yield {**named, "from": kind or "ceiling", **value}
    elif last in ("pumps", "pipes"):
        low = "0 mm" if table is SI else "0 in"
        for source, receiver in permutations(vessels[:MOST_ENDS], 2):
            for heights in ({}, {"outlet": low}, {"intake": low, "outlet": low}):
                yield {**named, "from": source, "to": receiver, **value, **heights}
    else:
        yield {**named, **value}


def _vessel(kind: str, raw: Mapping[str, Any], table: dict[str, Any]) -> Iterator[dict[str, Any]]:
    """On a rack as long as one bay, or shorter where that does not fit."""
    on = kind.removeprefix("on ") if kind.startswith("on ") else ""
    what = "bed" if on else "tank" if kind == "weighed" else kind
    if not on and kind not in VESSELS:
        return
    value = {"name": _new(what, _names_of(raw)), "kind": what}
    if not on:
        yield value | table[kind]
        return
    rack = dict_of(dict_of(raw.get("racks")).get(on))
    width = {"width": rack["width"]} if "width" in rack else {}
    for length in (
        rack.get("bay_length"),
        *(("1.2 m", "600 mm", "300 mm") if table is SI else ("4 ft", "2 ft", "1 ft")),
    ):
        yield {**value, "on": on, **table["bed"], **width, "length": length}


def _stiffened(path: KeyPath, raw: Mapping[str, Any]) -> Iterator[dict[str, Any]]:
    """Bays of the long sides first; gussets have no others."""
    bays = dict_of(at(raw, path[:-1])).get("bays")
    count = bays if isinstance(bays, int) else 1
    for face in ("back", "front"):
        yield from ({"face": face, **({} if bay == 1 else {"bay": bay})} for bay in range(1, min(count, 20) + 1))
    if path[-1] != "gussets":
        yield from ({"face": face} for face in ("left", "right"))


def _above(path: KeyPath, step: str, times: int, raw: Mapping[str, Any], table: dict[str, Any]) -> dict[str, Any]:
    """A deck or rail above the highest of the rack, as far as its heights can be read."""
    rack = dict_of(at(raw, path[:-1]))
    tiers = [
        rack,
        *list_of(rack.get("upper_tiers")),
        *({"deck_height": one.get("height")} for one in list_of(rack.get("rails"))),
    ]
    highest = 0.0
    for one in tiers:
        try:
            highest = max(highest, parse(str(dict_of(one).get("deck_height")), "length"))
        except UnitError:
            continue
    height = highest + times * parse(step, "length")
    text = f"{height * 1000:.0f} mm" if table is SI else f"{height / 0.0254:.0f} in"
    if path[-1] == "upper_tiers":
        return {"deck_height": text}
    return {"height": text, "member": "45x95 mm C24" if table is SI else "2x4 hem-fir No.2"}


def reshaped(how: str, path: KeyPath, raw: Mapping[str, Any], known: Mapping[str, str]) -> list[Edit]:
    """A vessel described in another way; known: what the computation says of it, as texts."""
    table = SI if raw.get("units") == "si" else US
    given = dict_of(at(raw, path))
    if how == "weighed":
        new = {**table["weighed"], **{key: text for key, text in known.items() if key in WEIGHED}}
        old: Sequence[str] = MEASURED
    elif how == "measured":
        length, _, width = str(given.get("footprint", "")).partition(" x ")
        sizes = {"length": length, "width": width} if width else {}
        new, old = {**{key: table["tank"][key] for key in ("length", "width", "depth", "water")}, **sizes}, WEIGHED
    elif how == "round":
        new, old = {"diameter": given.get("width", table["barrel"]["diameter"])}, ("length", "width")
    elif how == "square":
        side = given.get("diameter", table["tank"]["width"])
        new, old = {"length": side, "width": side}, ("diameter",)
    else:
        return []
    puts = [Edit((*path, key), value) for key, value in new.items()]
    return puts + [Edit((*path, key), None, "remove") for key in old if key in given]


def removed(path: KeyPath, raw: Mapping[str, Any]) -> tuple[list[Edit], list[str]]:
    """A piece taken out with all that cannot be without it; the names of what goes along."""
    gone: list[KeyPath] = [path]
    if path[0] == "racks" and len(path) == 2:
        gone += _that_name(raw, "joints", ("rack",), {str(path[1])})
        gone += _that_name(raw, "hung", ("from",), {str(path[1])})
        standing = _that_name(raw, "vessels", ("on",), {str(path[1])})
        gone += standing
        gone += _around(raw, {str(dict_of(at(raw, one)).get("name")) for one in standing})
    elif path[0] == "vessels" and len(path) == 2:
        gone += _around(raw, {str(dict_of(at(raw, path)).get("name"))})
    also = [_told(at(raw, one)) for one in gone[1:]]
    edits: list[Edit] = []
    for holder in dict.fromkeys(one[:-1] for one in gone):
        mine = [one for one in gone if one[:-1] == holder]
        found = at(raw, holder)
        if isinstance(found, (list, dict)) and len(mine) == len(found) and holder != ("vessels",):
            edits.append(Edit(holder, None, "remove"))
        else:
            edits += [
                Edit(one, None, "remove") for one in sorted(mine, key=lambda one: str(one[-1]).zfill(6), reverse=True)
            ]
    return edits, also


def _around(raw: Mapping[str, Any], vessels: set[str]) -> list[KeyPath]:
    return [
        *_that_name(raw, "pumps", ("from", "to"), vessels),
        *_that_name(raw, "pipes", ("from", "to"), vessels),
        *_that_name(raw, "supplies", ("to",), vessels),
        *_that_name(raw, "hung", ("over",), vessels),
    ]


def _that_name(raw: Mapping[str, Any], group: str, keys: tuple[str, ...], names: set[str]) -> list[KeyPath]:
    """Items of a list that point at one of these names."""
    return [
        (group, index)
        for index, item in enumerate(list_of(raw.get(group)))
        if any(str(dict_of(item).get(key)) in names for key in keys)
    ]


def renamed_in(raw: Mapping[str, Any], old: str, new: str, what: str) -> list[Edit]:
    """Every other place of the file that points at a rack or vessel."""
    keys = {"joints": ("rack",), "vessels": ("on",), "hung": ("from",)} if what == "rack" else {
        "pumps": ("from", "to"), "pipes": ("from", "to"), "supplies": ("to",), "hung": ("over",)
    }  # fmt: skip
    edits = []
    for group, names in keys.items():
        for index, item in enumerate(list_of(raw.get(group))):
            edits += [Edit((group, index, key), new) for key in names if str(dict_of(item).get(key, "")) == old]
    if what == "rack":
        for name, rack in dict_of(raw.get("racks")).items():
            edits += [
                Edit(("racks", name, key, "rack"), new)
                for key in ("turns_from", "joined_to")
                if str(dict_of(dict_of(rack).get(key)).get("rack", "")) == old
            ]
    return edits


def _told(item: object) -> str:
    given = dict_of(item)
    return str(given.get("name") or f"{given.get('where', 'a piece')} of {given.get('rack', 'it')}")


def _names(raw: Mapping[str, Any]) -> list[str]:
    return [str(dict_of(one).get("name")) for one in list_of(raw.get("vessels"))]


def _names_of(raw: Mapping[str, Any]) -> list[str]:
    """All names of the file."""
    room = dict_of(raw.get("room"))
    groups = [raw.get(key) for key in ("vessels", "pumps", "pipes", "supplies", "hung")]
    groups += [room.get("next"), room.get("sockets")]
    return [str(dict_of(one).get("name")) for group in groups for one in list_of(group)]


def _new(name: str, taken: Sequence[str]) -> str:
    if name not in taken:
        return name
    return next(f"{name} {number}" for number in range(2, 1000) if f"{name} {number}" not in taken)
