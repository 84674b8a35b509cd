"""What was typed, put into the file as far as the file stays right with it; the rest comes back with what is wrong."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from brimfast.assess.demand.inputs import COMMON, file_problems
from brimfast.assess.demand.standard import standard_of
from brimfast.assess.resolve import resolve
from brimfast.reports.page.fields import Key, keys_of, site_keys
from brimfast.reports.page.form import RENAME, shown
from brimfast.reports.page.pieces import renamed_in
from brimfast.reports.page.pointer import at, path_of
from brimfast.shared.edits import Edit, edited
from brimfast.shared.errors import InputError, KeyPath, Problem
from brimfast.shared.installation.model import Installation
from brimfast.shared.reading import path_text, wrong_in

NUMBER = re.compile(r"-?(0|[1-9]\d{0,11})(\.\d{1,12})?")


@dataclass(frozen=True)
class Solved:
    """tree: the file's plain values with what could be put in; left: what could not, by pointer; errors: why not."""

    tree: Any
    edits: tuple[Edit, ...]
    left: dict[str, str]
    errors: dict[str, tuple[str, ...]]


def current(raw: Mapping[str, Any], name: str) -> str | None:
    """What the file says where a field stands; None where no field can stand."""
    if name.startswith(RENAME):
        path = path_of(name.removeprefix(RENAME), raw)
        return str(path[1]) if len(path) == 2 and path[0] == "racks" and at(raw, path) is not None else None
    path = path_of(name, raw)
    return shown(at(raw, path)) if path and key_at(path, raw) is not None else None


def solved(raw: Mapping[str, Any], typed: Mapping[str, str]) -> Solved:
    """All of it where that is right; else as much as is right, one after the other."""
    whole = _trial(raw, typed)
    problems = wrong(whole.tree)
    if not problems:
        return whole
    good: dict[str, str] = {}
    tried = True
    while tried:
        tried = False
        for name, text in typed.items():
            if name not in good and not wrong(_trial(raw, {**good, name: text}).tree):
                good[name] = text
                tried = True
    best = _trial(raw, good)
    left = {name: text for name, text in typed.items() if name not in good}
    errors = {name: _told(best.tree, {name: text}, raw) for name, text in left.items()}
    return Solved(best.tree, best.edits, left, errors)


def _told(tree: Any, typed: dict[str, str], raw: Mapping[str, Any]) -> tuple[str, ...]:
    """What is wrong with one value beside all that is right, in the words of the command line."""
    (name,) = typed
    changed = _trial(tree, typed).tree
    own = path_of(name, raw)
    found = []
    for problem in wrong(changed):
        where = "" if problem.path == own else path_text(problem.path, changed)
        found.append(f"{where}: {problem.message} [{problem.code}]" if where else f"{problem.message} [{problem.code}]")
    return tuple(dict.fromkeys(found))


def wrong(tree: Any) -> list[Problem]:
    """All that `check` would refuse before it computes."""
    installation, problems = wrong_in(tree, file_problems)
    if problems or installation is None:
        return problems
    return not_in_tables(installation)


def not_in_tables(installation: Installation) -> list[Problem]:
    try:
        resolve(installation)
        standard_of(installation.site).motion(installation.site)
    except InputError as error:
        return error.problems
    return []


def _trial(raw: Mapping[str, Any], typed: Mapping[str, str]) -> Solved:
    edits = [edit for name, text in typed.items() for edit in edits_of(raw, name, text)]
    edits = _without_empty_groups(raw, edits)
    return Solved(edited(raw, edits), tuple(edits), {}, {})


def edits_of(raw: Mapping[str, Any], name: str, text: str) -> list[Edit]:
    """One field's text as edits; none where nothing changes."""
    text = text.strip() if "\n" not in text.strip() else text
    if name.startswith(RENAME):
        return _renamed_rack(raw, path_of(name.removeprefix(RENAME), raw), text)
    path = path_of(name, raw)
    key = key_at(path, raw) if path else None
    if key is None or shown(at(raw, path)) == text:
        return []
    if not text and not (key.required and path[-1] != "at"):
        return [Edit(path, None, "remove")]
    if key.how == "lines":
        lines = [line.strip() for line in text.splitlines() if line.strip()]
        return [Edit(path, lines)] if lines else [Edit(path, None, "remove")]
    edits = [Edit(path, written(text, key))]
    if path[0] == "vessels" and len(path) == 3 and path[2] == "name":
        edits += renamed_in(raw, shown(at(raw, path)), text, "vessel")
    if path == ("site", "standard"):
        known = site_keys(text.casefold())
        site = raw.get("site")
        old = (
            [one for one in site if one not in COMMON and one not in known] if known and isinstance(site, dict) else []
        )
        edits += [Edit(("site", one), None, "remove") for one in old]
    return edits


def written(text: str, key: Key) -> Any:
    """As it stands in the file: plain numbers as numbers, all else as text."""
    if key.number and NUMBER.fullmatch(text):
        return float(text) if "." in text else int(text)
    return text


def _renamed_rack(raw: Mapping[str, Any], path: KeyPath, new: str) -> list[Edit]:
    if len(path) != 2 or str(path[1]).strip() == new or at(raw, path) is None:
        return []
    return [*renamed_in(raw, str(path[1]), new, "rack"), Edit(path, new, "rename")]


def _without_empty_groups(raw: Mapping[str, Any], edits: list[Edit]) -> list[Edit]:
    """Where all keys of a group go and none comes, the group goes."""
    found = list(edits)
    for holder in dict.fromkeys(edit.path[:-1] for edit in edits if edit.how == "remove" and len(edit.path) > 1):
        there = at(raw, holder)
        gone = {edit.path[-1] for edit in edits if edit.how == "remove" and edit.path[:-1] == holder}
        comes = any(edit.how != "remove" and edit.path[: len(holder)] == holder for edit in edits)
        key = key_at(holder, raw)
        if (
            isinstance(there, dict)
            and there
            and set(there) <= gone
            and not comes
            and key is not None
            and not key.required
        ):
            found = [edit for edit in found if edit.path[:-1] != holder] + [Edit(holder, None, "remove")]
    return [
        edit for edit in found if edit.how != "remove" or at(raw, edit.path) is not None or _is_there(raw, edit.path)
    ]


def _is_there(raw: Mapping[str, Any], path: KeyPath) -> bool:
    holder = at(raw, path[:-1])
    return isinstance(holder, dict) and path[-1] in holder


def key_at(path: KeyPath, raw: Mapping[str, Any]) -> Key | None:
    """The key of the model at a path of the file; None where no key of a form can stand."""
    key = Key("", "group", True, part=Installation)
    for index, step in enumerate(path):
        if key.how == "list":
            if not isinstance(step, int) or at(raw, path[: index + 1]) is None:
                return None
            key = Key(str(step), "group", True, part=key.part)
        elif key.how == "named":
            key = Key(str(step), "group", False, part=key.part, or_text=path[0] == "prices", number=path[0] == "prices")
        elif key.part is not None and isinstance(step, str):
            known = dict(keys_of(key.part))
            if step not in known and path[:index] == ("site",):
                standard = shown(at(raw, ("site", "standard"))) or "asce7-22"
                known |= _any_site_key(step, standard)
            if step not in known:
                return None
            key = known[step]
        else:
            return None
    return None if key.how in ("list", "named", "plain") else key


def _any_site_key(step: str, standard: str) -> dict[str, Key]:
    """A key of the file's standard, or of whichever has it: the standard may be about to change."""
    from brimfast.assess.demand.standard import standards

    for name in (standard.casefold(), *standards()):
        found = site_keys(name)
        if step in found:
            return {step: found[step]}
    return {step: Key(step, "text", False)}
