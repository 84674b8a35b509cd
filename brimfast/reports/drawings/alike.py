"""What of a rack is built the same is drawn once: of each kind one, and where they all are."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable
from typing import TypeVar

from brimfast.shared.installation.rack import Gusset, Rack, SheathedPanel

OfBay = TypeVar("OfBay", Gusset, SheathedPanel)


def kinds_of(
    rack: Rack, parts: Iterable[OfBay], kind: Callable[[OfBay], Hashable]
) -> list[tuple[OfBay, tuple[str, ...]]]:
    """In the order of the file."""
    kinds: dict[Hashable, list[OfBay]] = {}
    for one in parts:
        kinds.setdefault(kind(one), []).append(one)
    storeys = len(rack.decks) > 1
    return [
        (found[0], tuple(f"{one.face} bay {one.bay}{f', storey {one.storey}' if storeys else ''}" for one in found))
        for found in kinds.values()
    ]
