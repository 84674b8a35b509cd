"""The hint at a place's design values: no computation uses it."""

from __future__ import annotations

import json
import re

from rich.console import Console

from brimfast.assess.demand.places import Near, place_named, place_nearest
from brimfast.assess.demand.standard import standards
from brimfast.data_tables.loader import NotInTableError
from brimfast.reports.terminal_parts import heading, wrapped
from brimfast.shared.errors import InputError, Problem

FAR = 50.0  # km: from there on the hint says that it is far
_COORDINATES = re.compile(r"\s*(-?\d{1,2}(?:\.\d+)?)\s*[, ]\s*(-?\d{1,3}(?:\.\d+)?)\s*")


def place_near(asked: str) -> Near:
    """By a name of the table or by coordinates. Raises InputError."""
    pair = _COORDINATES.fullmatch(asked)
    if pair is not None:
        latitude, longitude = float(pair[1]), float(pair[2])
        if abs(latitude) > 90 or abs(longitude) > 180:
            message = f"--near: found {asked.strip()!r}; expected latitude within 90 and longitude within 180 degrees"
            raise InputError([Problem("E-RANGE-001", message)])
        return place_nearest(latitude, longitude)
    try:
        return place_named(asked)
    except NotInTableError as error:
        known, _, hint = str(error).partition("; expected one of: ")
        near = hint.partition("; did you mean ")[2]
        meant = f"; did you mean {near}" if near else ""
        message = f"--near: {known}; expected a larger city of the list, or coordinates such as '47.6, -122.3'{meant}"
        raise InputError([Problem("E-DATA-001", message)]) from None


def _official(near: Near) -> str:
    return standards()[near.row.standard].official


def near_json(near: Near, utf8: bool) -> str:
    found = {
        "hint_only": True,
        "place": near.row.place,
        "country": near.row.country,
        "distance_km": None if near.distance is None else round(near.distance, 1),
        "standard": near.row.standard,
        "edition": near.row.edition,
        "values": {
            key.strip(): float(value) for key, value in (part.split(":") for part in near.row.values.split(","))
        },
        "source": near.row.source,
        "provenance": near.row.provenance,
        "official_values": _official(near),
    }
    return json.dumps(found, indent=2, ensure_ascii=not utf8)


def print_near(near: Near, out: Console) -> None:
    where = near.row
    heading(f"A hint, not a design value: {where.place}, {where.country}", out)
    wrapped(f"{where.values}   (standard: {where.standard})", out, 2, "bold")
    wrapped(f"By {where.edition}. Source: {where.source}.", out, 2)
    if near.distance is not None:
        far = " That is far: values change much over such a distance." if near.distance > FAR else ""
        wrapped(f"It is the nearest place of the list, {near.distance:.0f} km away.{far}", out, 2)
    out.print()
    wrapped(
        "No computation uses this figure: it is for one point of the place, and ground and edition may differ for yours. Put "
        f"the official value for the address into the file. It comes from: {_official(near)}.",
        out,
    )
