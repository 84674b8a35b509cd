"""One file that is open: what it says now, what was typed beside it, what it comes to; changed only from where one knows it."""

from __future__ import annotations

import codecs
import threading
from collections import OrderedDict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from hashlib import sha256
from typing import Any

from brimfast.assess.demand.inputs import file_problems
from brimfast.reports.page import page_words
from brimfast.reports.page.calculation import Calculation, Engine
from brimfast.reports.page.changes import Solved, current, not_in_tables, solved, wrong
from brimfast.reports.page.draft import LONGEST_VALUE, Draft, draft_of, is_under
from brimfast.reports.page.folder import Folder
from brimfast.reports.page.form import Form
from brimfast.reports.page.pieces import added, removed, reshaped
from brimfast.reports.page.pointer import at, path_of, pointer
from brimfast.shared.edits import Edit, edited
from brimfast.shared.errors import BrimfastError, InputError, KeyPath, Problem
from brimfast.shared.installation.model import Installation
from brimfast.shared.reading import Source, located, path_text, read_bytes
from brimfast.shared.rewriting import rewritten
from brimfast.shared.units import show

MOST_UNDONE, MOST_KEPT = 50, 6


class ChangedElsewhereError(Exception):
    """The file is no longer what it was where the change comes from."""


@dataclass(frozen=True)
class State:
    """The file as it lies there. source: None where it is wrong; problems: then, in the words of the command line."""

    name: str
    revision: str
    data: bytes
    source: Source | None
    problems: tuple[Problem, ...]
    draft: Draft
    undo: bool = False

    def form(self, errors: Mapping[str, Sequence[str]] | None = None) -> Form:
        """errors: of what is typed and not in the file, where they are known."""
        assert self.source is not None
        raw = self.source.raw
        if errors is None:
            errors = solved(raw, self.draft.values).errors if self.draft.values else {}
        return Form(raw, self.draft.values, errors)


@dataclass(frozen=True)
class Changed:
    """What came of a change. said: to the reader; refused: nothing was done, and why."""

    state: State
    said: str = ""
    refused: tuple[str, ...] = ()
    errors: Mapping[str, Sequence[str]] | None = None


class Opened:
    """One file of the folder, for all tabs that show it."""

    def __init__(self, folder: Folder, name: str, engine: Engine) -> None:
        self.folder, self.name, self.engine = folder, name, engine
        self._lock = threading.RLock()
        self._source: tuple[str, Source | None, tuple[Problem, ...]] = ("", None, ())
        self._undo: list[tuple[bytes, str]] = []  # what the file said before a change, and its revision after that
        self._calculations: OrderedDict[tuple[str, ...], Calculation] = OrderedDict()
        self._main: Calculation | None = None
        self._trial: Calculation | None = None

    # what there is

    def now(self) -> State:
        """Read anew each time: others may have changed it. Raises InputError where it can't be read."""
        with self._lock:
            data = self.folder.read(self.name)
            revision = sha256(data).hexdigest()
            if self._source[0] != revision:
                self._source = (revision, *_read(data, self.name))
            _, source, problems = self._source
            draft = self._draft(revision, source)
            return State(self.name, revision, data, source, problems, draft, self._can_undo(revision))

    def _draft(self, revision: str, source: Source | None) -> Draft:
        kept = draft_of(self.folder.read_beside(self.name))
        if kept and revision not in kept.of.split():
            return kept.strayed()
        if source is not None and kept.values:
            kept = kept.values_strayed([name for name in kept.values if current(source.raw, name) is None])
        return kept

    def _can_undo(self, revision: str) -> bool:
        """What others did to the file since is not taken back."""
        return bool(self._undo) and self._undo[-1][1] == revision

    def calculation(self, state: State) -> Calculation:
        """Of the file in a state that is right; the newest supersedes what was worked out of it before."""
        assert state.source is not None
        with self._lock:
            found = self.other((state.revision,), state.source.installation, state.source.raw)
            if state.revision != self._source[0]:  # a request that began before the file changed
                return found
            if self._main is not None and self._main is not found:
                self._main.supersede()
            self._main = found
            return found

    def trial(self, key: tuple[str, ...], installation: Installation, raw: Any) -> Calculation:
        """Of measures on trial; those that were tried before are given up."""
        with self._lock:
            found = self.other(key, installation, raw)
            if self._trial is not None and self._trial is not found:
                self._trial.supersede()
            self._trial = found
            return found

    def other(self, key: tuple[str, ...], installation: Installation, raw: Any) -> Calculation:
        """Of an installation that is known by a key of its own."""
        with self._lock:
            found = self._calculations.get(key)
            if found is None or found.superseded:
                found = Calculation(self.engine, installation, raw)
                self._calculations[key] = found
                while len(self._calculations) > MOST_KEPT:
                    self._calculations.popitem(last=False)
            self._calculations.move_to_end(key)
            return found

    # changes

    def typed(self, revision: str, values: Mapping[str, str]) -> Changed:
        """Fields of the form: what is right goes into the file, the rest is kept beside it."""
        with self._lock:
            state = self._from(revision)
            assert state.source is not None
            raw = state.source.raw
            there = {name: current(raw, name) for name in values}
            unknown = [name for name, text in there.items() if text is None]
            new = {k: v[:LONGEST_VALUE] for k, v in values.items() if there[k] is not None and v.strip() != there[k]}
            kept = {name: text for name, text in state.draft.values.items() if name not in values}
            found = solved(raw, {**kept, **new})
            state = self._keep(state, found)
            said = "Saved." if found.edits else ""
            if unknown:
                said = f"{said} {len(unknown)} answers have no place in this file any more.".strip()
            return Changed(state, said, errors=found.errors)

    def _keep(self, state: State, found: Solved) -> State:
        data = self._rewritten(state, found.edits) if found.edits else state.data
        return self._write(state, data, replace(state.draft, values=found.left))

    def act(self, revision: str, what: str) -> Changed:
        """A button: a piece added, taken out, or described in another way."""
        with self._lock:
            state = self._from(revision)
            assert state.source is not None
            raw = state.source.raw
            do, _, rest = what.partition(":")
            name, _, kind = rest.partition(":") if do == "add" else (rest, "", "")
            path = path_of(name, raw)
            draft, also = state.draft, list[str]()
            if do == "add" and path:
                edits = _first_right(added(path, kind, raw), raw)
                said = f"Added {self._called(raw, edits)}."
            elif do == "remove" and path and at(raw, path) is not None:
                edits, also = removed(path, raw)
                draft = _without(draft, path, also)
                said = f"Removed {path_text(path, raw)}{' and with it ' + ', '.join(also) if also else ''}."
            else:
                edits = reshaped(do, path, raw, self._weighed(state, path)) if path else []
                draft = draft.values_strayed([one for one in draft.values if is_under(one, name)])
                said = "It is described in another way now."
            if not edits:
                return Changed(state, refused=("There is nothing to do for that button any more.",))
            problems = wrong(edited(raw, edits))
            if problems:
                tree = edited(raw, edits)
                return Changed(
                    state, refused=tuple(f"{path_text(one.path, tree)}: {one.message} [{one.code}]" for one in problems)
                )
            return Changed(self._write(state, self._rewritten(state, edits), draft), said)

    def put_text(self, revision: str, text: str) -> Changed:
        """The whole file as text; where it is wrong it is kept beside the file, which stays as it was."""
        with self._lock:
            state = self._from(revision, any_file=True)
            text = text.replace("\r\n", "\n").replace("\r", "\n")
            data = self._like(state.data, text)
            source, problems = _read(data, self.name)
            if source is None:
                self._write_draft(replace(state.draft, of=state.revision, text=text))
                return Changed(self.now(), refused=tuple(one.text() for one in problems))
            draft = replace(state.draft, text=None)
            if data == state.data:
                self._write_draft(replace(draft, of=state.revision))
                return Changed(self.now(), "Nothing is different.")
            return Changed(self._write(state, data, draft.strayed()), "Saved.")

    def put_edits(self, revision: str, edits: Iterable[Edit], said: str) -> Changed:
        """Edits that were tried before, such as a measure's."""
        with self._lock:
            state = self._from(revision)
            return Changed(self._write(state, self._rewritten(state, tuple(edits)), state.draft), said)

    def undo(self, revision: str) -> Changed:
        with self._lock:
            state = self._from(revision, any_file=True)
            if not self._can_undo(revision):
                return Changed(state, refused=(page_words.CHANGED_SINCE if self._undo else page_words.NOTHING_BACK,))
            before, _ = self._undo[-1]
            self.folder.write(self.name, before)
            self._undo.pop()
            self._write_draft(replace(state.draft.strayed(), of=sha256(before).hexdigest()))
            return Changed(self.now(), "Took the last change back.")

    def forget(self, revision: str) -> Changed:
        """What was typed into an older file goes; what stands in a field with its error stays there."""
        with self._lock:
            state = self._from(revision, any_file=True)
            self._write_draft(replace(state.draft, of=state.revision, stray=()))
            return Changed(self.now(), "Forgotten.")

    def _from(self, revision: str, any_file: bool = False) -> State:
        """The file, if it is still what the change was made from. Raises ChangedElsewhereError."""
        state = self.now()
        if state.revision != revision or (state.source is None and not any_file):
            raise ChangedElsewhereError
        return state

    def _rewritten(self, state: State, edits: Sequence[Edit]) -> bytes:
        """The file's bytes after the edits, which must be what the edits say."""
        assert state.source is not None
        raw = state.source.raw
        text, own = state.data.decode("utf-8-sig"), state.source
        root = own.root if text == own.text else None  # else it has line ends of another kind
        data = _marked(state.data, rewritten(text, edits, raw, root))
        source, problems = _read(data, self.name, ours=True)
        if source is None:
            raise InputError(list(problems))
        if source.raw != edited(raw, edits):
            raise RuntimeError("the file that would be written does not say what was typed")
        self._source = (source.sha256, source, ())
        return data

    def _like(self, before: bytes, text: str) -> bytes:
        """With the line ends and the mark that the file had."""
        newline = "\r\n" if b"\r\n" in before else "\n"
        return _marked(before, text.replace("\n", newline))

    def _write(self, state: State, data: bytes, draft: Draft) -> State:
        """The draft first: it is good for the file before and after, so nothing is lost in between."""
        revision = sha256(data).hexdigest()
        of = state.revision if revision == state.revision else f"{state.revision} {revision}"
        if data == state.data:
            self._write_draft(replace(draft, of=of))
        else:
            self._write_draft(replace(draft.text_strayed(), of=of))
            self.folder.write(self.name, data)
            self._undo = [*self._undo, (state.data, revision)][-MOST_UNDONE:]
        return self.now()

    def _write_draft(self, draft: Draft) -> None:
        self.folder.write_beside(self.name, draft.data())

    def _called(self, raw: Any, edits: Sequence[Edit]) -> str:
        if not edits:
            return "nothing"
        value = edits[0].value
        if isinstance(value, dict) and "name" in value:
            return str(value["name"])
        return str(edits[0].path[-1]) if edits[0].how == "put" else f"one of {path_text(edits[0].path, raw)}"

    def _weighed(self, state: State, path: KeyPath) -> dict[str, str]:
        """What the computation says of a vessel that is measured, to describe it by its weight."""
        assert state.source is not None
        given: Any = at(state.source.raw, path)
        name = given.get("name") if isinstance(given, dict) else None
        found = self.calculation(state).sketch.vessels.get(str(name))
        if found is None:
            return {}
        system = state.source.installation.system
        length, width = (show(value, "length", system) for value in (found.length, found.width))
        return {
            "mass": show(found.mass, "mass", system).replace(",", ""),
            "centre_of_mass": show(found.height, "length", system).replace(",", ""),
            "footprint": f"{length} x {width}".replace(",", ""),
            "holds": show(found.water_volume, "volume", system).replace(",", ""),
        }


def _first_right(ways: Iterable[list[Edit]], raw: Any) -> list[Edit]:
    """The first that the file takes; where it takes none the first at all, so that it can be said why."""
    first: list[Edit] = []
    for edits in ways:
        first = first or edits
        if not wrong(edited(raw, edits)):
            return edits
    return first


def _read(data: bytes, name: str, ours: bool = False) -> tuple[Source | None, tuple[Problem, ...]]:
    try:
        source = read_bytes(data, name, file_problems, ours)
        problems = not_in_tables(source.installation)
        if problems:
            raise InputError(located(problems, source))
    except BrimfastError as error:
        return None, tuple(error.problems)
    return source, ()


def _marked(before: bytes, text: str) -> bytes:
    mark = codecs.BOM_UTF8 if before.startswith(codecs.BOM_UTF8) else b""
    return mark + text.encode("utf-8", "surrogatepass")


def _without(draft: Draft, path: KeyPath, also: Sequence[str]) -> Draft:
    """What was typed into a piece that went; where other pieces went with it, places of all have moved."""
    if also:
        return draft.values_strayed(draft.values)
    last = path[-1]
    return (
        draft.without_piece(pointer(path[:-1]), last) if isinstance(last, int) else draft.without_under(pointer(path))
    )
