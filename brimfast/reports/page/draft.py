"""What was typed and is not in the file, because the file would then be wrong: kept beside it until it is mended."""

from __future__ import annotations

import json
from collections.abc import Collection
from dataclasses import dataclass, field, replace
from typing import Any

THE_TEXT = "the file as text"
MOST_VALUES, LONGEST_VALUE, LONGEST_TEXT = 400, 4000, 400_000
MOST_BYTES = 8 * 1024 * 1024


@dataclass(frozen=True)
class Draft:
    """of: what the file hashed to, before and after the last change; values: by pointer, as typed; text: of the whole file,

    where that was typed. stray: where and what was typed into a file that others have changed since.
    """

    of: str = ""
    values: dict[str, str] = field(default_factory=dict)
    text: str | None = None
    stray: tuple[tuple[str, str], ...] = ()

    def __bool__(self) -> bool:
        return bool(self.values) or self.text is not None or bool(self.stray)

    def strayed(self) -> Draft:
        """The same for a file that is another one now."""
        return replace(self.values_strayed(self.values).text_strayed(), of="")

    def values_strayed(self, names: Collection[str]) -> Draft:
        """What was typed under these names has no field any more."""
        rows = tuple((where(name), text) for name, text in self.values.items() if name in names)
        values = {name: text for name, text in self.values.items() if name not in names}
        return replace(self, values=values, stray=(*self.stray, *rows)[-MOST_VALUES:])

    def text_strayed(self) -> Draft:
        """The whole text was one of another file: saved now it would take back what came since."""
        if self.text is None:
            return self
        return replace(self, text=None, stray=(*self.stray, (THE_TEXT, self.text))[-MOST_VALUES:])

    def data(self) -> bytes | None:
        """No more than is read again: the oldest that strayed goes first."""
        if not self:
            return None
        data = json.dumps(vars(self), ensure_ascii=False, indent=1).encode()
        return replace(self, stray=self.stray[1:]).data() if len(data) > MOST_BYTES and self.stray else data

    def without_piece(self, under: str, index: int) -> Draft:
        """After an item of a list went: what was typed into those behind it moves up with them."""
        values = {}
        for key, value in self.values.items():
            rest = key.removeprefix(f"{under}/") if key.startswith(f"{under}/") else ""
            number, slash, more = rest.partition("/")
            if not number.isdigit() or int(number) < index:
                values[key] = value
            elif int(number) > index:
                values[f"{under}/{int(number) - 1}{slash}{more}"] = value
        return replace(self, values=values)

    def without_under(self, under: str) -> Draft:
        return replace(self, values={key: value for key, value in self.values.items() if not is_under(key, under)})


def draft_of(data: bytes | None) -> Draft:
    """What is no draft of ours counts as none."""
    try:
        found: Any = json.loads(data or b"")
    except (ValueError, RecursionError):
        return Draft()
    if not isinstance(found, dict) or not isinstance(found.get("values"), dict):
        return Draft()
    values = {
        key: value
        for key, value in list(found["values"].items())[:MOST_VALUES]
        if isinstance(value, str) and len(value) <= LONGEST_VALUE
    }
    text = found.get("text")
    kept = text if isinstance(text, str) and len(text) <= LONGEST_TEXT else None
    stray = found.get("stray")
    rows = tuple(
        (str(row[0])[:LONGEST_VALUE], str(row[1])[:LONGEST_TEXT])
        for row in (stray if isinstance(stray, list) else [])[:MOST_VALUES]
        if isinstance(row, list) and len(row) == 2
    )
    return Draft(str(found.get("of", "")), values, kept, rows)


def is_under(name: str, piece: str) -> bool:
    return name == piece or name.startswith(f"{piece}/")


def where(name: str) -> str:
    return name.removeprefix("rename:").lstrip("/").replace("/", ", ").replace("~1", "/").replace("~0", "~")
