"""An installation file changed and written anew, its comments and order kept."""

from __future__ import annotations

import io
import re
from collections.abc import Iterable
from typing import Any

from brimfast.shared.edits import Edit, apply

LONGEST_LINE = 4096  # so that no line of the file is broken anew
INDENTED = re.compile(r"^[^\s#-][^\n]*:[ \t]*(?:#[^\n]*)?\n(?:[ \t]*(?:#[^\n]*)?\n)*( *)- ", re.MULTILINE)


def rewritten(text: str, edits: Iterable[Edit]) -> str:
    """The file's text after the edits; text is what `decode` gives."""
    from ruamel.yaml import YAML

    yaml = YAML(typ="rt", pure=True)
    yaml.preserve_quotes = True
    yaml.width = LONGEST_LINE
    found = INDENTED.search(text)
    offset = len(found[1]) if found else 2
    yaml.indent(mapping=2, sequence=offset + 2, offset=offset)
    tree = yaml.load(io.StringIO(text))
    apply(tree, edits, _made)
    out = io.StringIO()
    yaml.dump(tree, out)
    return out.getvalue()


def _made(value: Any) -> Any:
    """New groups stand in one line; new lists one item a line."""
    from ruamel.yaml.comments import CommentedMap, CommentedSeq

    if isinstance(value, dict):
        group = CommentedMap({key: _made(item) for key, item in value.items()})
        if value:
            group.fa.set_flow_style()
        return group
    if isinstance(value, list):
        return CommentedSeq([_made(item) for item in value])
    return value
