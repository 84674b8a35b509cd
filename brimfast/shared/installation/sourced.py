"""Values that a maker publishes, and where."""

from __future__ import annotations

from typing import Any, ClassVar, Self

from pydantic import model_validator

from brimfast.shared.installation.fields import Part, refuse

REQUIRED = "required: "  # begins the source of a value that is asked of a piece and not yet found in a maker's table


class Sourced(Part):
    """Has `source` for the keys that are named in SOURCED; declares no keys, so that theirs keep their order."""

    SOURCED: ClassVar[tuple[str, ...]] = ()

    @property
    def _source(self) -> Any:
        return getattr(self, "source", None)

    @model_validator(mode="after")
    def _value_needs_source(self) -> Self:
        if any(getattr(self, key) is not None for key in self.SOURCED) and self._source is None:
            raise refuse("E-KEY-003", "found an allowable value without source; expected where it was published")
        return self

    @property
    def required(self) -> bool:
        """Whether the values are a requirement that no maker's table has confirmed yet."""
        return is_required(self._source)


def is_required(source: str | None) -> bool:
    return source is not None and source.casefold().startswith(REQUIRED.strip())
